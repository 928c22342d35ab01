//! What the photographs of a blank's ends give: colours anywhere in it, and what is known of how well.
//!
//! Knows pictures that are flat and balanced, not how they became so. Which way the rings run is the
//! figure's own affair: here is only whether the photographs follow it.

use super::balance::Tones;
use super::colour::Colour;
use super::ends::Unjoined;
use super::found::NoRings;
use super::pictured::Pictured;
use nalgebra::Point3;
use std::sync::Arc;

/// Below this the rings that were found may be others (see [`super::found::Found::confidence`]): our own choice.
pub const LEAST_CONFIDENCE: f64 = 0.3;
/// Below this they may be in the wrong order (see [`super::found::Found::sense`]).
pub const LEAST_SENSE: f64 = 0.3;

/// The rings of a photographed end.
#[derive(Debug, Clone, PartialEq)]
pub enum RingsSeen {
    /// Lines were traced on the same end: they hold, nothing was looked for.
    Traced,
    /// Found in the photograph.
    Found {
        /// How many.
        rings: usize,
        /// See [`super::found::Found::confidence`].
        confidence: f64,
        /// See [`super::found::Found::sense`].
        sense: f64,
    },
    /// None were found.
    NotFound(NoRings),
}

impl RingsSeen {
    /// Whether they may be others than they were taken for, or in another order.
    #[must_use]
    pub fn unsure(&self) -> bool {
        match self {
            RingsSeen::Found { confidence, sense, .. } => *confidence < LEAST_CONFIDENCE || *sense < LEAST_SENSE,
            RingsSeen::Traced | RingsSeen::NotFound(_) => false,
        }
    }
}

/// One photographed end.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotographedEnd {
    /// Whether its corners were found, not given.
    pub corners_found: bool,
    /// Whether there was no card: its light was taken to be right.
    pub light_assumed: bool,
    /// Its rings.
    pub rings: RingsSeen,
}

/// Why photographs don't follow the rings between the ends.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotFollowed {
    /// In a photograph no rings were found.
    #[error("on the {0} end {1}")]
    NoRings(&'static str, NoRings),
    /// The rings of the two ends can't be told to be the same.
    #[error("the rings of the two ends could not be matched: {0}")]
    Unmatched(Unjoined),
}

/// The photographs of a blank's ends.
#[derive(Debug, Clone)]
pub struct Photographs {
    pub(super) pictured: Arc<Pictured>,
    /// The near and the far end, where photographed.
    pub ends: [Option<PhotographedEnd>; 2],
    /// Why rings are not followed from end to end, where they aren't: colours then go straight.
    pub not_followed: Option<NotFollowed>,
    /// Mean colours of both ends.
    pub(super) tones: Tones,
}

/// Points along the longer side at which colours are looked at.
const LOOKS: usize = 64;
/// Nearer to the heartwood line than this wood counts as neither, mm.
const BORDER: f64 = 1.5;
/// A part with a smaller share of the ends has no mean worth naming.
const LEAST_SHARE: f64 = 0.03;

impl Photographs {
    /// Photographs of these ends; colours come from `pictured`.
    #[must_use]
    pub fn new(pictured: Pictured, ends: [Option<PhotographedEnd>; 2], not_followed: Option<NotFollowed>) -> Self {
        let assumed = ends.iter().flatten().any(|end| end.light_assumed);
        let tones = Tones { sapwood: None, heartwood: None, assumed };
        Photographs { pictured: Arc::new(pictured), ends, not_followed, tones }
    }

    /// Mean colours of heartwood and sapwood on the photographed ends, in the common light.
    #[must_use]
    pub fn tones(&self) -> &Tones {
        &self.tones
    }

    /// Whether the rings may be others than they were taken for.
    #[must_use]
    pub fn unsure(&self) -> bool {
        self.ends.iter().flatten().any(|end| end.rings.unsure())
    }

    /// Looks at the mean colours, where `beyond` is the distance outside the heartwood line, mm.
    pub(super) fn look(&mut self, beyond: impl Fn(&Point3<f64>) -> f64) {
        let (size, length) = self.pictured.size();
        let longer = size.x.max(size.y);
        let step = longer / LOOKS as f64;
        let mut sums = [[0.0_f64; 4]; 2];
        let mut all = 0.0;
        for w in [0.0, length].into_iter().zip(&self.ends).filter_map(|(w, end)| end.as_ref().map(|_| w)) {
            let (mut v, across) = (0.5 * step, 0.5 * step);
            while v < size.y {
                let mut u = across;
                while u < size.x {
                    let at = Point3::new(u, v, w);
                    let (colour, beyond) = (self.pictured.colour(&at, step), beyond(&at));
                    all += 1.0;
                    if beyond.abs() > BORDER {
                        let parts = [colour.r, colour.g, colour.b].map(f64::from);
                        let sum = &mut sums[usize::from(beyond > 0.0)];
                        (0..3).for_each(|i| sum[i] += parts[i]);
                        sum[3] += 1.0;
                    }
                    u += step;
                }
                v += step;
            }
        }
        let mean = |[r, g, b, count]: [f64; 4]| {
            let part = |sum: f64| (sum / count) as f32;
            (count > LEAST_SHARE * all).then(|| Colour { r: part(r), g: part(g), b: part(b) })
        };
        (self.tones.heartwood, self.tones.sapwood) = (mean(sums[0]), mean(sums[1]));
    }
}
