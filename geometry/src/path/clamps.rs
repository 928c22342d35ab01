//! Clamps and stops as zones that the bit keeps out of. Knows moves and the machine's clamps; nothing of cuts.
//!
//! A zone is a box with upright sides that reaches from below up to its height. The bit is in it where its tip is lower than
//! that and its axis nearer than its radius.

use super::Up;
use crate::job::Cnc;
use nalgebra::{Point2, Point3};

/// A zone, in the frame of the side that is up, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Zone {
    low: Point2<f64>,
    high: Point2<f64>,
    above: f64,
}

/// Places on a move lie so far apart at most, mm; the bit counts as wider by half of it.
const APART: f64 = 0.5;

impl Zone {
    /// The machine's, for that side, in the plan's order. A clamp on an edge is as wide as the board is thick, and more.
    pub(super) fn all(cnc: &Cnc, up: Up) -> Vec<Self> {
        const WIDE: f64 = 1e4;
        match up {
            Up::Edge(_) => {
                let zone = |c: &crate::job::Clamp| Self {
                    low: Point2::new(c.from.mm(), -WIDE),
                    high: Point2::new(c.to.mm(), WIDE),
                    above: c.above.mm(),
                };
                cnc.clamps.iter().map(zone).collect()
            }
            Up::Face(_) => {
                let at = |[x, y]: [crate::measure::Length; 2]| Point2::new(x.mm(), y.mm());
                let zone = |c: &crate::job::FlatClamp| Self { low: at(c.from), high: at(c.to), above: c.above.mm() };
                cnc.flat_clamps.iter().map(zone).collect()
            }
        }
    }

    /// How high it stands above the surface.
    pub(super) const fn above(&self) -> f64 {
        self.above
    }

    /// Whether a bit of this radius comes into it anywhere on the way: `at` is its tip by the share of a way so long.
    pub(super) fn is_met(&self, radius: f64, long: f64, at: impl Fn(f64) -> Point3<f64>) -> bool {
        self.on_the_way(radius, long, at).any(|z| z < self.above - 1e-6)
    }

    /// How deep such a bit comes into it at most; nothing where it doesn't.
    pub(super) fn depth_in(&self, radius: f64, long: f64, at: impl Fn(f64) -> Point3<f64>) -> Option<f64> {
        let deepest = self.above - self.on_the_way(radius, long, at).fold(f64::INFINITY, f64::min);
        (deepest > 1e-6).then_some(deepest)
    }

    /// How high its tip is at each place of the way over the zone.
    fn on_the_way(&self, radius: f64, long: f64, at: impl Fn(f64) -> Point3<f64>) -> impl Iterator<Item = f64> {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let parts = (long / APART).ceil().clamp(1.0, 1e6) as u32;
        let reach = radius + APART / 2.0;
        let over = move |p: &Point3<f64>| {
            let off = (self.low - p.xy()).sup(&(p.xy() - self.high)).sup(&nalgebra::Vector2::zeros());
            off.norm() < reach
        };
        (0..=parts).map(move |k| at(f64::from(k) / f64::from(parts))).filter(over).map(|p| p.z)
    }
}
