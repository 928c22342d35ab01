//! What changes slowly from place to place, so that a picture needs it at a few places only and takes it
//! linearly between them. Knows nothing of colours or species.
//!
//! Within [`APART`] the noise over 11 mm bends by at most 0.002 of its range (ease bends by no more than
//! 6 per cell squared: 2·6/11²·APART²/8), that over 35 mm by a tenth of that; rings of radius R are off
//! by APART²/8R.

use super::ends::Across;
use super::noise::{Four, Plane};
use nalgebra::{Vector2, zero};

/// Places lie no farther apart than this, mm, nor than so many pixels.
const APART: f64 = 0.4;
const MOST_APART: f64 = 8.0;

/// How many pixels of `grain` mm lie between two places.
pub(super) fn pixels_apart(grain: f64) -> usize {
    (APART / grain).clamp(1.0, MOST_APART) as usize
}

/// See the module.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slow {
    /// Noise that changes over 35 mm, and over 11 mm.
    pub(super) broad: Four,
    pub(super) close: Four,
    /// What the model between two ends says, where there is one.
    pub(super) across: Across,
}

impl Slow {
    /// What is to be added `count` times to come to `other`.
    #[inline(always)]
    pub(super) fn step_to(&self, other: &Slow, count: usize) -> Slow {
        let (per, per32) = (1.0 / count as f64, 1.0 / count as f32);
        let (a, b) = (&self.across, &other.across);
        Slow {
            broad: std::array::from_fn(|n| (other.broad[n] - self.broad[n]) * per32),
            close: std::array::from_fn(|n| (other.close[n] - self.close[n]) * per32),
            across: Across {
                at: (b.at - a.at) * per,
                slope: (b.slope - a.slope) * per,
                beyond: (b.beyond - a.beyond) * per,
            },
        }
    }

    #[inline(always)]
    pub(super) fn add(&mut self, step: &Slow) {
        (0..4).for_each(|n| self.broad[n] += step.broad[n]);
        (0..4).for_each(|n| self.close[n] += step.close[n]);
        self.across.at += step.across.at;
        self.across.slope += step.across.slope;
        self.across.beyond += step.across.beyond;
    }
}

/// The noise of places, with what it keeps from one to the next.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Smooth {
    broad: Plane,
    close: Plane,
}

impl Smooth {
    /// At a place so far from the pith; it slides along the grain.
    #[inline(always)]
    pub(super) fn at(&mut self, seed: u64, from_pith: &Vector2<f64>, w: f64) -> Slow {
        let noise = |of: &mut Plane, cell: f64, slide: f64, salt: u64| {
            of.at(seed ^ salt, (from_pith.x + slide * w) * (1.0 / cell), (from_pith.y - slide * w) * (1.0 / cell))
        };
        Slow {
            broad: noise(&mut self.broad, 35.0, 0.025, 0x51),
            close: noise(&mut self.close, 11.0, 0.0125, 0x52),
            across: Across { at: 0.0, slope: zero(), beyond: 0.0 },
        }
    }
}
