//! A leg at one level, made ready to be asked at many points: most of what a program cuts is level.
//!
//! The lowest over a point is then the tip's level and the bit's underside at the point's distance from the way: no root is
//! asked for but one, and that only over the bit's rounded corner.

use super::arc::Arc;
use super::removal::Leg;
use crate::cut::Profile;
use nalgebra::{Point2, Vector2};

/// The way, without what is worked out once.
enum Way {
    Straight { from: Point2<f64>, along: Vector2<f64>, long: f64 },
    Round { arc: Arc, ends: [Point2<f64>; 2], arms: [Vector2<f64>; 2], wide: bool },
}

pub(super) struct Level {
    way: Way,
    level: f64,
    corner: f64,
    flat: f64,
    /// The squares of flat and radius.
    squares: [f64; 2],
}

impl Level {
    /// Of a leg, if it is level.
    pub(super) fn of(bit: &Profile, leg: &Leg) -> Option<Self> {
        if leg.from.z != leg.to.z {
            return None;
        }
        let ends = [leg.from.xy(), leg.to.xy()];
        let way = match &leg.arc {
            None => {
                let way = ends[1] - ends[0];
                let long = way.norm();
                let along = if long > 0.0 { way / long } else { Vector2::zeros() };
                Way::Straight { from: ends[0], along, long }
            }
            Some(arc) => {
                // Anticlockwise from the first arm to the second.
                let [begin, end] = ends.map(|p| p - arc.centre);
                let arms = if arc.turn > 0.0 { [begin, end] } else { [end, begin] };
                Way::Round { arc: *arc, ends, arms, wide: arc.turn.abs() > std::f64::consts::PI }
            }
        };
        let flat = bit.flat();
        let squares = [flat * flat, bit.radius * bit.radius];
        Some(Self { way, level: leg.from.z, corner: bit.corner, flat, squares })
    }

    /// The lowest over a point; `None` where the bit never is over it.
    #[inline]
    pub(super) fn over(&self, p: Point2<f64>) -> Option<f64> {
        let square = match &self.way {
            Way::Straight { from, along, long } => {
                let to = p - from;
                (to - along * to.dot(along).clamp(0.0, *long)).norm_squared()
            }
            Way::Round { arc, ends, arms: [a, b], wide } => {
                let arm = p - arc.centre;
                let (after, before) = (a.perp(&arm) >= 0.0, arm.perp(b) >= 0.0);
                let within = if *wide { after || before } else { after && before };
                if within || arc.turn.abs() >= std::f64::consts::TAU {
                    (arm.norm() - arc.radius).powi(2)
                } else {
                    (p - ends[0]).norm_squared().min((p - ends[1]).norm_squared())
                }
            }
        };
        let [flat, all] = self.squares;
        if square <= flat {
            return Some(self.level);
        }
        if square > all {
            return None;
        }
        let out = (square.sqrt() - self.flat).max(0.0);
        Some(self.level + self.corner - (self.corner * self.corner - out * out).max(0.0).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::super::read::read;
    use super::super::removal::{legs, lowest};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// What is asked quickly is what is asked at length.
        #[test]
        fn a_level_leg_is_the_general_one(
            x in -20.0..20.0f64, y in -20.0..20.0f64, px in -40.0..40.0f64, py in -40.0..40.0f64,
            r in 1.0..8.0f64, share in 0.0..=1.0f64, kind in 0..3u8, cx in -9.0..9.0f64,
        ) {
            prop_assume!(x.hypot(y) > 0.1);
            // An arc's middle lies on the line that halves the stretch.
            let (mx, my) = (x / 2.0 - y * cx / 10.0, y / 2.0 + x * cx / 10.0);
            let word = match kind {
                0 => format!("G1 X{x:.9} Y{y:.9}"),
                k => format!("G{} X{x:.9} Y{y:.9} I{mx:.9} J{my:.9}", k + 1),
            };
            let text = format!("G21 G90\nG0 Z-1\nG0 X0 Y0\nF100\n{word}\nM2");
            let leg = *legs(&read(&text).unwrap()).last().unwrap();
            let bit = Profile { radius: r, corner: r * share, depth: 1.0, rim: None };
            let p = Point2::new(px, py);
            let (quick, slow) = (Level::of(&bit, &leg).unwrap().over(p), lowest(&bit, &leg, p));
            match (quick, slow) {
                (Some(a), Some(b)) => prop_assert!((a - b).abs() < 1e-6 || (a - b).abs() < 0.02 && a > -1.0 + r * share * 0.9, "{a} {b}"),
                (a, b) => {
                    // Only at the very rim may they differ.
                    let near = |by: f64| Level::of(&Profile { radius: r + by, corner: r * share, depth: 1.0, rim: None }, &leg).unwrap().over(p).is_some();
                    prop_assert!(a.is_some() == b.is_some() || near(1e-6) != near(-1e-6), "{a:?} {b:?}");
                }
            }
        }
    }
}
