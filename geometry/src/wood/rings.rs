//! Growth rings: the pith line, the edges of the rings and the heartwood line. Knows nothing of
//! colours or species.
//!
//! # Formulas
//! With t = w / length, the pith stands at p(w) = p₀ + t (p₁ − p₀), the heartwood radius is
//! R(w) = R₀ + t (R₁ − R₀). A point lies at d = (u, v) − p(w), r = |d| from the pith. Rings are no
//! perfect circles and good years come in runs, so r is first bent to
//!
//! x = r + min(1, r / (12 m + 8))·(0.8 B + a C + 1.7 m S),
//!
//! where m is the mean ring width, a = 0.12·min(m, 3), B and C are smooth noise −1 to 1 of d, with
//! cells of 35 and 11 mm, sliding across d by 1 mm in 40 and in 80 along the grain (slowly enough
//! that neighbouring sections agree), and S of r alone (9 rings). Noise of cell λ changes by at
//! most 3/λ per mm along an axis, √2 times that in all: dx/dr stays above 0.05, so ring numbers
//! rise along every radius. Where the rings' edges lie along x is `years`' affair.

use super::noise::{Along, Four, hash, hold, ramp};
use super::slow::{Slow, Smooth};
use super::years::Years;
use nalgebra::{Point2, Point3, Vector2};

/// What one end of a blank shows, in the blank's (u, v), mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndRings {
    /// Where the rings have their centre; it may lie outside the blank.
    pub pith: Point2<f64>,
    /// Where heartwood ends and sapwood begins, measured from the pith; 0 is all sapwood.
    pub heartwood_radius: f64,
}

/// The growth rings of a blank, given by their pith at both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rings {
    /// At w = 0.
    pub near: EndRings,
    /// At w = length.
    pub far: EndRings,
    /// Mean ring width, mm. Single rings differ from it.
    pub ring_width: f64,
    /// Everything that is left to chance follows from it.
    pub seed: u64,
}

/// Beyond these a length says nothing (mm): input is held within them.
const FARTHEST: f64 = 1.0e6;
const NARROWEST_RING: f64 = 0.02;
const WIDEST_RING: f64 = 1.0e3;

#[inline(always)]
pub(super) fn held(x: f64) -> f64 {
    hold(x, -FARTHEST, FARTHEST)
}

fn held_point(p: &Point2<f64>) -> Point2<f64> {
    Point2::new(held(p.x), held(p.y))
}

/// Rings made ready: input held, slopes taken.
#[derive(Debug, Clone)]
pub(super) struct Growth {
    pith: Point2<f64>,
    pub(super) wander: Vector2<f64>,
    radius: f64,
    radius_slope: f64,
    pub(super) years: Years,
    per_width: f64,
    /// How far rings ripple, how far runs of good years push them out, and over which radius both
    /// set in, mm.
    ripple: f32,
    runs: f32,
    per_taper: f64,
}

/// A point as the rings see it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// From the pith, mm.
    pub(super) from_pith: Vector2<f64>,
    /// Unit vector away from the pith (none at the pith).
    pub(super) outward: Vector2<f64>,
    pub(super) r: f64,
    pub(super) per_r: f64,
    pub(super) w: f64,
    /// Bent radius, mm.
    pub(super) x: f64,
    /// Noise that changes over 35 mm, over 11 mm, and from year to year.
    pub(super) broad: Four,
    pub(super) close: Four,
    pub(super) years: Four,
    /// Signed distance outside the heartwood line, mm: above 0 in sapwood.
    pub(super) beyond_heartwood: f64,
    /// 0 where the heart has no radius, else 1.
    pub(super) any_heart: f32,
}

/// Noise from year to year, one cell to 9 rings; `x` is mm across the rings.
#[inline(always)]
pub(super) fn from_year_to_year(noise: &mut Along, seed: u64, x: f64, per_width: f64) -> Four {
    noise.at(seed ^ 0x53, x * per_width * (1.0 / 9.0))
}

impl Growth {
    pub(super) fn new(rings: &Rings, length: f64) -> Growth {
        let length = hold(length, 1.0, FARTHEST);
        let (near, far) = (held_point(&rings.near.pith), held_point(&rings.far.pith));
        let radius = |end: &EndRings| held(end.heartwood_radius).max(0.0);
        let (first, last) = (radius(&rings.near), radius(&rings.far));
        let width = hold(rings.ring_width, NARROWEST_RING, WIDEST_RING);
        Growth {
            pith: near,
            wander: (far - near) / length,
            radius: first,
            radius_slope: (last - first) / length,
            years: Years::new(width, hash(rings.seed, 1, 0, 0)),
            per_width: 1.0 / width,
            ripple: (0.12 * width.min(3.0)) as f32,
            runs: (1.7 * width) as f32,
            per_taper: 1.0 / (12.0 * width + 8.0),
        }
    }

    #[inline(always)]
    fn off_pith(&self, at: &Point3<f64>) -> Vector2<f64> {
        let pith = self.pith + self.wander * held(at.z);
        Vector2::new(held(at.x) - pith.x, held(at.y) - pith.y)
    }

    /// What changes slowly there.
    #[inline(always)]
    pub(super) fn slow(&self, at: &Point3<f64>, smooth: &mut Smooth) -> Slow {
        smooth.at(self.years.seed, &self.off_pith(at), held(at.z))
    }

    /// Where the point lies among the rings.
    #[inline(always)]
    pub(super) fn place(&self, at: &Point3<f64>, slow: &Slow, noise: &mut Along) -> Place {
        let (from_pith, w) = (self.off_pith(at), held(at.z));
        let r = (from_pith.x * from_pith.x + from_pith.y * from_pith.y).sqrt();
        let per_r = 1.0 / r.max(1.0e-9);
        let outward = from_pith * per_r;
        let seed = self.years.seed;
        let Slow { broad, close, .. } = *slow;
        let years = from_year_to_year(noise, seed, r, self.per_width);
        let wave = 0.8 * broad[0] + self.ripple * close[0] + self.runs * years[0];
        let x = r + f64::from(wave * ramp(r, 0.0, self.per_taper));
        let radius = (self.radius + self.radius_slope * w).max(0.0);
        // The heartwood line wobbles by at most 1 mm (less for a small heart), partly with the rings.
        let wobble = 0.4 * broad[0] + 0.3 * broad[1] + 0.3 * close[1];
        let beyond_heartwood = r - radius + f64::from(wobble) * hold(0.04 * radius, 0.0, 1.0);
        let any_heart = ramp(radius, 0.0, 0.5);
        Place { from_pith, outward, r, per_r, w, x: x.max(0.0), broad, close, years, beyond_heartwood, any_heart }
    }
}
