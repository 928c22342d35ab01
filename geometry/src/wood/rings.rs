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
//! rise along every radius. Ring k reaches from m (k + J_k) to
//! m (k + 1 + J_{k+1}), J_k a seeded value within ±0.15 (J₀ = 0).

use super::noise::{Four, along, hash, hold, one, plane, ramp, split};
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

#[inline(always)]
fn held(x: f64) -> f64 {
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
    pub(super) width: f64,
    per_width: f64,
    /// How far rings ripple, how far runs of good years push them out, and over which radius both
    /// set in, mm.
    ripple: f32,
    runs: f32,
    per_taper: f64,
    pub(super) seed: u64,
}

/// The two growth rings that meet at the edge nearest to a point, in bent radius (mm).
#[derive(Debug, Clone, Copy)]
pub(super) struct Edges {
    /// Number of the ring that starts at the nearest edge.
    number: i64,
    /// The inner ring's start, the edge between, the outer ring's end.
    pub(super) at: [f64; 3],
    /// How strongly the latewood of the two shows; mean 1.
    pub(super) strength: [f32; 2],
    /// Which of the two holds the point: 0 the inner, 1 the outer.
    side: usize,
}

impl Edges {
    /// Number of the ring that holds the point.
    pub(super) fn number(&self) -> i64 {
        self.number - 1 + self.side as i64
    }

    /// Where that ring starts.
    #[inline(always)]
    pub(super) fn start(&self) -> f64 {
        self.at[self.side & 1]
    }

    /// How wide it is.
    #[inline(always)]
    pub(super) fn width(&self) -> f64 {
        self.at[(self.side & 1) + 1] - self.at[self.side & 1]
    }
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
            width,
            per_width: 1.0 / width,
            ripple: (0.12 * width.min(3.0)) as f32,
            runs: (1.7 * width) as f32,
            per_taper: 1.0 / (12.0 * width + 8.0),
            seed: hash(rings.seed, 1, 0, 0),
        }
    }

    /// Where the point lies among the rings.
    #[inline(always)]
    pub(super) fn place(&self, at: &Point3<f64>) -> Place {
        let (u, v, w) = (held(at.x), held(at.y), held(at.z));
        let pith = self.pith + self.wander * w;
        let from_pith = Vector2::new(u - pith.x, v - pith.y);
        let r = (from_pith.x * from_pith.x + from_pith.y * from_pith.y).sqrt();
        let per_r = 1.0 / r.max(1.0e-9);
        let outward = from_pith * per_r;
        let noise = |cell: f64, slide: f64, salt: u64| {
            plane(self.seed ^ salt, (from_pith.x + slide * w) * (1.0 / cell), (from_pith.y - slide * w) * (1.0 / cell))
        };
        let (broad, close) = (noise(35.0, 0.025, 0x51), noise(11.0, 0.0125, 0x52));
        let years = along(self.seed ^ 0x53, r * self.per_width * (1.0 / 9.0));
        let wave = 0.8 * broad[0] + self.ripple * close[0] + self.runs * years[0];
        let x = r + f64::from(wave * ramp(r, 0.0, self.per_taper));
        Place { from_pith, outward, r, per_r, w, x: x.max(0.0), broad, close, years }
    }

    /// Where ring `number` starts, in bent radius, and how strongly its latewood shows (some years
    /// have hardly any).
    #[inline(always)]
    fn edge(&self, number: i64) -> (f64, f32) {
        let chance = hash(self.seed ^ 0x55, number, 0, 0);
        let jitter = if number == 0 { 0 } else { chance as i16 };
        (self.width * (number as f64 + f64::from(jitter) * (JITTER / 32_768.0)), 1.0 + 0.35 * one(chance, 16))
    }

    /// The rings on both sides of edge `number`, for a point at the bent radius `x`.
    #[inline(always)]
    pub(super) fn edges_at(&self, number: i64, x: f64) -> Edges {
        let ((inner, weak), (edge, strong), (outer, _)) =
            (self.edge(number - 1), self.edge(number), self.edge(number + 1));
        Edges { number, at: [inner, edge, outer], strength: [weak, strong], side: usize::from(x >= edge) }
    }

    /// The rings on both sides of the edge nearest to the bent radius `x`. Jitter moves no edge by
    /// more than 0.15 m, so one of the two holds the point. No branch depends on where the point
    /// lies: at each ring's edge a wrong guess of the processor would cost more than the answer.
    #[inline(always)]
    pub(super) fn edges(&self, x: f64) -> Edges {
        let (number, _) = split(x * self.per_width + 0.5);
        self.edges_at(number, x)
    }

    /// How far single rings are still seen through a pixel of `grain` mm: 1 up to a ring's width,
    /// 0 from two.
    #[inline(always)]
    pub(super) fn banded(&self, grain: f64) -> f32 {
        1.0 - ramp(grain, self.width, self.per_width)
    }

    /// Heartwood radius at w, never below 0.
    #[inline]
    pub(super) fn heartwood_radius(&self, w: f64) -> f64 {
        (self.radius + self.radius_slope * w).max(0.0)
    }

    /// Signed distance outside the heartwood line, mm: r − R(w), the line wobbling by at most
    /// 1 mm (less for a small heart), partly with the rings.
    #[inline]
    pub(super) fn beyond_heartwood(&self, place: &Place) -> f64 {
        let radius = self.heartwood_radius(place.w);
        let wobble = 0.4 * place.broad[0] + 0.3 * place.broad[1] + 0.3 * place.close[1];
        place.r - radius + f64::from(wobble) * hold(0.04 * radius, 0.0, 1.0)
    }
}
