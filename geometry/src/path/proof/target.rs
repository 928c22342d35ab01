//! The exact cut as seen from a point: how far it lies from the cut's surface, along the normal.

use super::TOLERANCE;
use crate::cut::{Easing, Path, Profile};
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
pub(super) enum Around<'a> {
    /// All lie a millimetre and more from every cut.
    Nothing,
    /// All lie over the flat floor of one cut, its walls and all other cuts farther away than [`Floor::NEAR`].
    Floor(Floor),
    /// Walls are near, or several cuts: what of them is.
    Walls(Target<'a>),
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
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Target<'a>(Vec<Aim<'a>>);

/// One cut.
#[derive(Clone, Debug, PartialEq)]
struct Aim<'a> {
    bit: &'a Profile,
    paths: Vec<&'a Path>,
    /// Beyond this box nothing of it comes within a millimetre.
    room: [Point2<f64>; 2],
}

impl Aim<'_> {
    /// How far a point lies from where the bit's centre goes.
    fn distance(&self, p: &Point2<f64>) -> f64 {
        self.paths.iter().map(|path| path.distance(p)).fold(f64::INFINITY, f64::min)
    }
}

impl<'a> Target<'a> {
    pub(super) fn of(cuttings: &'a [Cutting]) -> Self {
        let aim = |cutting: &'a Cutting| {
            let [low, high] = cutting.extent();
            let reach = Vector2::repeat(cutting.profile.at_surface() + 1.0);
            Aim { bit: &cutting.profile, paths: cutting.paths.iter().collect(), room: [low - reach, high + reach] }
        };
        Self(cuttings.iter().map(aim).collect())
    }

    /// The same for points within `reach` of this one: of each cut those paths that one of them can be nearest to. No
    /// distance changes by more than the point moves, so that none of them is nearest to a path that is farther from here than
    /// another by more than twice the reach.
    pub(super) fn near(&self, p: &Point2<f64>, reach: f64) -> Self {
        const ROUNDING: f64 = 1e-9;
        let of = |aim: &Aim<'a>| {
            let far: Vec<f64> = aim.paths.iter().map(|path| path.distance(p)).collect();
            let most = far.iter().copied().fold(f64::INFINITY, f64::min) + 2.0 * reach + ROUNDING;
            let near = aim.paths.iter().zip(far).filter(|(_, far)| *far <= most);
            Aim { paths: near.map(|(path, _)| *path).collect(), ..*aim }
        };
        Self(self.0.iter().map(of).collect())
    }

    /// What all points within `reach` of this one have to do with the cuts.
    pub(super) fn around(&self, p: &Point2<f64>, reach: f64) -> Around<'a> {
        let mut around = Around::Nothing;
        for aim in &self.0 {
            let [low, high] = &aim.room;
            if p.x + reach < low.x || p.y + reach < low.y || p.x - reach > high.x || p.y - reach > high.y {
                continue;
            }
            let (rho, bit) = (aim.distance(p), aim.bit);
            if rho - reach > bit.at_surface() + 1.0 {
                continue;
            }
            let over_flat = bit.rim.is_none() && rho + reach + Floor::NEAR <= bit.flat();
            if !over_flat || !matches!(around, Around::Nothing) {
                return Around::Walls(self.near(p, reach));
            }
            around = Around::Floor(Floor { z: -bit.depth });
        }
        around
    }

    /// How far the top of the wood over `p`, which is at `z`, lies from the exact surface.
    pub(super) fn off(&self, p: Point2<f64>, z: f64) -> Off {
        of_all(self.0.iter().map(|aim| (aim.bit, aim.distance(&p))), z)
    }

    /// Points all round the rim, `by` inside and outside it, within the stock's surface.
    pub(super) fn beside_the_rim(&self, by: f64, size: [f64; 2]) -> Vec<Point2<f64>> {
        const APART: f64 = 0.5;
        let mut points = Vec::new();
        for Aim { bit, paths, .. } in &self.0 {
            let rim = bit.at_surface();
            for rho in [rim - by, rim + by].into_iter().filter(|r| *r > 0.0) {
                for region in paths.iter().map(|path| path.region(rho)) {
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

/// From the surface of several cuts, each so far from a point whose wood's top is at `z`.
///
/// Where cuts cross, a point lies as deep in what they leave together as in the one that it lies deepest in.
fn of_all<'a>(cuts: impl Iterator<Item = (&'a Profile, f64)>, z: f64) -> Off {
    let (to_recess, opens) = cuts
        .map(|(bit, rho)| (of_one(bit, rho, z), rho < bit.at_surface()))
        .reduce(|a, b| (if b.0.far > a.0.far { b.0 } else { a.0 }, a.1 || b.1))
        .unwrap_or((Off::new(f64::NEG_INFINITY, 0.0, 1.0), false));
    if to_recess.far >= 0.0 {
        return if z >= 0.0 && !opens { Off::new(0.0, 0.0, 1.0) } else { to_recess };
    }
    if -z <= -to_recess.far { Off::new(z.min(0.0), 0.0, 1.0) } else { to_recess }
}

/// From the surface of one cut, at ρ from its paths.
///
/// In the half plane of ρ and the height h above the floor, the recess is bounded by its floor (h = 0), an arc of the
/// bit's corner about (R − r, r), and its wall (ρ = R). Within it the nearest of them counts; outside, the nearest of
/// them.
fn of_one(bit: &Profile, rho: f64, z: f64) -> Off {
    let h = z + bit.depth;
    if let Some(rim) = bit.rim {
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
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{CutOut, Cuts, Finished, Untrimmed};
    use crate::fixtures::{handhold, mm};
    use proptest::prelude::*;

    /// An outline, and the same between its tabs: a closed way, arcs and stretches, each with what lies beside it.
    fn cuttings() -> Vec<Cutting> {
        let cut_out =
            CutOut { bit: handhold(["2", "2"]).bit, tabs: 4, tab_length: mm(10), tab_height: mm(3), below: mm(1) };
        let glued = Finished { length: 140.0, width: 120.0, thickness: 30.0 };
        let finished = Finished { length: 90.0, width: 70.0, thickness: 30.0 };
        let board = Untrimmed { glued, corner: Point2::new(25.0, 25.0), finished, levelled: [0.0; 2] };
        let cuts = Cuts { corner_radius: Some(mm(15)), ..Cuts::default() };
        Cutting::of_whole(None, Some(&cut_out), &cuts, &board, 0.5)
    }

    proptest! {
        /// What is asked of all that is near is what is asked of everything, to the bit.
        #[test]
        fn what_is_near_is_enough(
            x in -5.0..145.0f64, y in -5.0..125.0f64, z in -33.0..1.0f64, dx in -1.0..1.0f64, dy in -1.0..1.0f64, reach in 0.01..8.0f64,
        ) {
            let all = cuttings();
            let target = Target::of(&all);
            let (c, p) = (Point2::new(x, y), Point2::new(x, y) + Vector2::new(dx, dy) * (reach / 2f64.sqrt()));
            let near = target.near(&c, reach);
            prop_assert_eq!(near.off(p, z), target.off(p, z));
            prop_assert!(near.0.iter().all(|aim| !aim.paths.is_empty()));
            prop_assert_eq!(near.near(&p, reach / 9.0), target.near(&p, reach / 9.0));
        }
    }
}
