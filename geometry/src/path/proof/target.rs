//! The exact cut as seen from a point: how far it lies from the cut's surface, along the normal.

use super::TOLERANCE;
use crate::cut::{Easing, Profile};
use crate::path::Cutting;
use nalgebra::{Point2, Vector2};

/// A difference along the normal: positive where wood is left that should be gone; and how much is allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Off {
    pub(super) far: f64,
    pub(super) allowed: f64,
}

impl Off {
    /// `out` and `up` are the normal's parts.
    fn new(far: f64, out: f64, up: f64) -> Self {
        Self { far, allowed: TOLERANCE[0] * up.abs() + TOLERANCE[1] * out.abs() }
    }
}

/// What the points around one have to do with the cuts.
pub(super) enum Around {
    /// All lie a millimetre and more from every cut.
    Nothing,
    /// All lie over the flat floor of one cut, its walls and all other cuts farther away than [`Floor::NEAR`].
    Floor(Floor),
    /// Walls are near, or several cuts.
    Walls,
}

/// A cut's flat floor.
pub(super) struct Floor {
    z: f64,
}

impl Floor {
    /// So near the floor it is nearer than any wall, mm.
    const NEAR: f64 = 0.5;

    /// Whether the floor is what wood at this height is nearest to.
    pub(super) fn holds(&self, z: f64) -> bool {
        (z - self.z).abs() < Self::NEAR
    }

    /// How far it lies from the floor.
    pub(super) fn off(&self, z: f64) -> Off {
        Off::new(z - self.z, 0.0, 1.0)
    }
}

/// The cuts as their bits leave them: rims are eased afterwards.
pub(super) struct Target<'a> {
    /// Each with a box beyond which nothing of it comes within a millimetre.
    cuttings: Vec<(&'a Cutting, [Point2<f64>; 2])>,
}

impl<'a> Target<'a> {
    pub(super) fn of(cuttings: &'a [Cutting]) -> Self {
        let room = |cutting: &Cutting| {
            let [low, high] = cutting.extent();
            let reach = Vector2::repeat(cutting.profile.at_surface() + 1.0);
            [low - reach, high + reach]
        };
        Self { cuttings: cuttings.iter().map(|c| (c, room(c))).collect() }
    }

    /// What all points within `reach` of this one have to do with the cuts.
    pub(super) fn around(&self, p: &Point2<f64>, reach: f64) -> Around {
        let mut around = Around::Nothing;
        for (cut, [low, high]) in &self.cuttings {
            if p.x + reach < low.x || p.y + reach < low.y || p.x - reach > high.x || p.y - reach > high.y {
                continue;
            }
            let (rho, bit) = (cut.distance(p), &cut.profile);
            if rho - reach > bit.at_surface() + 1.0 {
                continue;
            }
            let over_flat = bit.rim.is_none() && rho + reach + Floor::NEAR <= bit.flat();
            if !over_flat || !matches!(around, Around::Nothing) {
                return Around::Walls;
            }
            around = Around::Floor(Floor { z: -bit.depth });
        }
        around
    }

    /// How far the top of the wood over `p`, which is at `z`, lies from the exact surface.
    ///
    /// Where cuts cross, a point lies as deep in what they leave together as in the one that it lies deepest in.
    pub(super) fn off(&self, p: Point2<f64>, z: f64) -> Off {
        let all = self.cuttings.iter().map(|(cutting, _)| of_one(cutting, p, z));
        let (to_recess, opens) = all
            .reduce(|a, b| (if b.0.far > a.0.far { b.0 } else { a.0 }, a.1 || b.1))
            .unwrap_or((Off::new(f64::NEG_INFINITY, 0.0, 1.0), false));
        if to_recess.far >= 0.0 {
            return if z >= 0.0 && !opens { Off::new(0.0, 0.0, 1.0) } else { to_recess };
        }
        if -z <= -to_recess.far { Off::new(z.min(0.0), 0.0, 1.0) } else { to_recess }
    }

    /// Points all round the rim, `by` inside and outside it, within the stock's surface.
    pub(super) fn beside_the_rim(&self, by: f64, size: [f64; 2]) -> Vec<Point2<f64>> {
        const APART: f64 = 0.5;
        let mut points = Vec::new();
        for (cutting, _) in &self.cuttings {
            let rim = cutting.profile.at_surface();
            for rho in [rim - by, rim + by].into_iter().filter(|r| *r > 0.0) {
                for region in cutting.paths.iter().map(|path| path.region(rho)) {
                    for piece in region.pieces() {
                        let steps = (piece.length() / APART).ceil().max(1.0) as usize;
                        points.extend((0..=steps).map(|k| piece.at(k as f64 / steps as f64)));
                    }
                }
            }
        }
        points.retain(|p| p.x > 0.0 && p.y > 0.0 && p.x < size[0] && p.y < size[1]);
        points
    }
}

/// From the surface of one cut, and whether the cut is open over `p`.
///
/// In the half plane of ρ and the height h above the floor, the recess is bounded by its floor (h = 0), an arc of the
/// bit's corner about (R − r, r), and its wall (ρ = R). Within it the nearest of them counts; outside, the nearest of
/// them.
fn of_one(cutting: &Cutting, p: Point2<f64>, z: f64) -> (Off, bool) {
    let bit = &cutting.profile;
    let (rho, h) = (cutting.distance(&p), z + bit.depth);
    let off = if let Some(rim) = bit.rim {
        eased(bit, rim, rho, h)
    } else if h >= bit.corner && bit.radius - rho < h {
        Off::new(bit.radius - rho, 1.0, 0.0)
    } else if rho <= bit.flat() || bit.corner == 0.0 && rho <= bit.radius {
        Off::new(h, 0.0, 1.0)
    } else {
        let arm = Vector2::new(rho - bit.flat(), h - bit.corner);
        let far = arm.norm();
        let [out, up] = if far > 0.0 { [arm.x / far, arm.y / far] } else { [0.0, 1.0] };
        Off::new(bit.corner - far, out, up)
    };
    (off, rho < bit.at_surface())
}

/// From the surface of an eased rim, which goes on from the flat of the bit that cuts it: within it (over the flat, or beyond
/// the rim's surface) the nearest of floor and rim counts; in the wood the nearest place of the rim.
///
/// A round-over's surface lies r about (R + r, d − r), on the wood's side of it; a chamfer's runs from (R, d − s) to (R + s, d).
fn eased(bit: &Profile, rim: Easing, rho: f64, h: f64) -> Off {
    let size = rim.size();
    let (out, up) = (rho - bit.radius, h - (bit.depth - size));
    let to_rim = match rim {
        Easing::RoundOver(_) => {
            let arm = Vector2::new(out - size, up);
            // The nearest place of the quarter circle.
            let on = if arm.y < 0.0 {
                Vector2::new(-size, 0.0)
            } else if arm.x > 0.0 {
                Vector2::new(0.0, size)
            } else {
                arm.normalize() * size
            };
            let far = (arm - on).norm() * if arm.norm() > size && arm.x <= 0.0 && arm.y >= 0.0 { 1.0 } else { -1.0 };
            Off::new(far, on.x / size, on.y / size)
        }
        Easing::Chamfer(_) => {
            let share = f64::midpoint(out, up).clamp(0.0, size);
            let away = Vector2::new(out - share, up - share);
            let half = std::f64::consts::FRAC_1_SQRT_2;
            Off::new(away.norm() * if up >= out { 1.0 } else { -1.0 }, half, half)
        }
    };
    let floor = Off::new(h, 0.0, 1.0);
    if out <= 0.0 && h.abs() < to_rim.far.abs() { floor } else { to_rim }
}
