//! Growth rings: the pith line, the edges of the rings and the heartwood line. Knows nothing of
//! colours or species.
//!
//! # Formulas
//! With t = w / length, the pith stands at p(w) = p₀ + t (p₁ − p₀), the heartwood radius is
//! R(w) = R₀ + t (R₁ − R₀). A point lies at d = (u, v) − p(w), r = |d| from the pith. Rings are no
//! perfect circles and good years come in runs, so r is first bent to
//!
//! x = r + [r / (r + 20)]·(0.8 B + a C) + m [r / (r + 12 m)]·(2.2 S₁ + 0.45 S₂),
//!
//! where m is the mean ring width, a = 0.12·min(m, 3), B and C are smooth noise −1 to 1 of d and
//! w (35 and 11 mm across, 1200 and 700 mm along the grain), S₁ and S₂ of r alone (17 and 5 rings).
//! Noise of cell λ changes by at most 3/λ per mm: the slope dx/dr stays within 1 ± 0.85, so ring
//! numbers rise along every radius. Ring k reaches from m (k + J_k) to m (k + 1 + J_{k+1}), J_k a
//! seeded value within ±0.15 (J₀ = 0).

use super::noise::{Four, along, four, hash, space, split};
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
const JITTER: f64 = 0.15;

/// `x` held within ±[`FARTHEST`]; NaN is 0.
fn held(x: f64) -> f64 {
    if x.is_nan() { 0.0 } else { x.clamp(-FARTHEST, FARTHEST) }
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
    pub(super) width: f64,
    pub(super) seed: u64,
}

/// One growth ring, in bent radius (mm).
#[derive(Debug, Clone, Copy)]
pub(super) struct Ring {
    pub(super) number: i64,
    pub(super) start: f64,
    pub(super) width: f64,
}

/// A point as the rings see it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// From the pith, mm.
    pub(super) from_pith: Vector2<f64>,
    /// Unit vector away from the pith.
    pub(super) outward: Vector2<f64>,
    pub(super) r: f64,
    pub(super) w: f64,
    /// Bent radius, mm.
    pub(super) x: f64,
    /// Noise that changes over 35 mm, over 11 mm, and from year to year.
    pub(super) broad: Four,
    pub(super) close: Four,
    pub(super) years: [Four; 2],
}

impl Growth {
    pub(super) fn new(rings: &Rings, length: f64) -> Growth {
        let length = if length.is_nan() { 1.0 } else { length.clamp(1.0, FARTHEST) };
        let (near, far) = (held_point(&rings.near.pith), held_point(&rings.far.pith));
        let radius = |end: &EndRings| held(end.heartwood_radius).max(0.0);
        let (first, last) = (radius(&rings.near), radius(&rings.far));
        let width = if rings.ring_width.is_nan() { 1.0 } else { rings.ring_width };
        Growth {
            pith: near,
            wander: (far - near) / length,
            radius: first,
            radius_slope: (last - first) / length,
            width: width.clamp(NARROWEST_RING, WIDEST_RING),
            seed: hash(rings.seed, 1, 0, 0),
        }
    }

    /// Where the point lies among the rings.
    #[inline]
    pub(super) fn place(&self, at: &Point3<f64>) -> Place {
        let (u, v, w) = (held(at.x), held(at.y), held(at.z));
        let pith = self.pith + self.wander * w;
        let from_pith = Vector2::new(u - pith.x, v - pith.y);
        let r = (from_pith.x * from_pith.x + from_pith.y * from_pith.y).sqrt();
        let outward = if r > 0.0 { from_pith / r } else { Vector2::new(1.0, 0.0) };
        let noise = |cell: f64, along: f64, salt: u64| {
            space(self.seed ^ salt, from_pith.x / cell, from_pith.y / cell, w / along)
        };
        let (broad, close) = (noise(35.0, 1200.0, 0x51), noise(11.0, 700.0, 0x52));
        let m = self.width;
        let years = [along(self.seed ^ 0x53, r / (17.0 * m)), along(self.seed ^ 0x54, r / (5.0 * m))];
        let wave = 0.8 * f64::from(broad[0]) + 0.12 * m.min(3.0) * f64::from(close[0]);
        let runs = 2.2 * f64::from(years[0][0]) + 0.45 * f64::from(years[1][0]);
        let x = r + wave * r / (r + 20.0) + m * runs * r / (r + 12.0 * m);
        Place { from_pith, outward, r, w, x: x.max(0.0), broad, close, years }
    }

    /// Where ring `number` starts, in bent radius.
    #[inline]
    pub(super) fn edge(&self, number: i64) -> f64 {
        let jitter = if number == 0 { 0.0 } else { f64::from(four(hash(self.seed ^ 0x55, number, 0, 0))[0]) };
        self.width * (number as f64 + JITTER * jitter)
    }

    /// The ring that holds the bent radius `x`.
    #[inline]
    pub(super) fn ring(&self, x: f64) -> Ring {
        let (mut number, _) = split(x / self.width);
        let (mut start, mut end) = (self.edge(number), self.edge(number + 1));
        if x < start {
            (number, start, end) = (number - 1, self.edge(number - 1), start);
        } else if x >= end {
            (number, start, end) = (number + 1, end, self.edge(number + 2));
        }
        Ring { number, start, width: end - start }
    }

    /// Heartwood radius at w, never below 0.
    #[inline]
    pub(super) fn heartwood_radius(&self, w: f64) -> f64 {
        (self.radius + self.radius_slope * w).max(0.0)
    }

    /// Signed distance outside the heartwood line, mm: r − R(w), the line wobbling by at most
    /// 1 mm (less for a small heart), half of it with the rings.
    #[inline]
    pub(super) fn beyond_heartwood(&self, place: &Place) -> f64 {
        let radius = self.heartwood_radius(place.w);
        let wobble = 0.4 * place.broad[0] + 0.3 * place.broad[1] + 0.3 * place.close[1];
        place.r - radius + f64::from(wobble) * (radius / (radius + 20.0))
    }
}
