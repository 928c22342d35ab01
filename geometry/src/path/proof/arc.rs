//! What a bit leaves whose centre runs along an arc about Z, level or evenly up or down.

use super::read::{Step, Way};
use super::removal::least;
use crate::cut::Profile;
use nalgebra::{Point2, Vector2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// An arc in X and Y.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    pub(super) centre: Point2<f64>,
    pub(super) radius: f64,
    /// The direction that it begins in, and how far it turns: anticlockwise where positive.
    from: f64,
    pub(super) turn: f64,
    /// The box that it lies in.
    pub(super) room: [Point2<f64>; 2],
}

impl Arc {
    /// A step's, where it is one about Z.
    pub(super) fn of(step: &Step) -> Option<Self> {
        let Way::Arc { centre, axis: 2, turn } = step.way else { return None };
        let arm = step.from.xy() - centre.xy();
        let ends = [step.from.xy(), step.to.xy()];
        (arm.norm() > 0.0).then(|| Self::about(centre.xy(), arm.norm(), [arm.y.atan2(arm.x), turn], ends))
    }

    /// Where it is at a share of its way.
    pub(super) fn at(&self, share: f64) -> Point2<f64> {
        let angle = self.from + self.turn * share;
        self.centre + Vector2::new(angle.cos(), angle.sin()) * self.radius
    }

    /// From a share of its way to another.
    pub(super) fn part(&self, [begin, end]: [f64; 2]) -> Self {
        let angles = [self.from + self.turn * begin, self.turn * (end - begin)];
        Self::about(self.centre, self.radius, angles, [self.at(begin), self.at(end)])
    }

    fn about(centre: Point2<f64>, radius: f64, [from, turn]: [f64; 2], ends: [Point2<f64>; 2]) -> Self {
        let (first, last) = (from.min(from + turn), from.max(from + turn));
        // Every quarter turn on its way is farthest out.
        let quarter = (first / FRAC_PI_2).ceil();
        let quarters = (0..5).map(|k| (quarter + f64::from(k)) * FRAC_PI_2).filter(|a| *a <= last);
        let at = |a: f64| centre + Vector2::new(a.cos(), a.sin()) * radius;
        let room = quarters.map(at).chain(ends).fold([ends[0]; 2], |[low, high], p| [low.inf(&p), high.sup(&p)]);
        Self { centre, radius, from, turn, room }
    }

    /// The lowest that the bit's underside comes to over a point, its tip going evenly from one level to another;
    /// `None` where it never is over it.
    ///
    /// With r the point's distance from the arc's centre and δ the angle between them there, the bit's axis is
    /// √((r − R)² + 4rR sin²(δ/2)) from the point.
    pub(super) fn lowest(&self, bit: &Profile, [begin, end]: [f64; 2], p: Point2<f64>) -> Option<f64> {
        let arm = p - self.centre;
        let r = arm.norm();
        let beside = r - self.radius;
        let chord = (bit.radius * bit.radius - beside * beside).max(0.0).sqrt();
        if beside.abs() > bit.radius {
            return None;
        }
        let span = self.turn.abs();
        let ahead = self.ahead(arm);
        let root = 2.0 * (r * self.radius).sqrt();
        let reach = if chord >= root { PI } else { 2.0 * (chord / root).asin() };
        let slope = (end - begin) / span;
        let away = |off: f64| (beside * beside + (root * (off / 2.0).sin()).powi(2)).sqrt().min(bit.radius);
        // The point may lie before the beginning as well as after the end.
        let lowest = |ahead: f64| {
            let (low, high) = ((ahead - reach).max(0.0), (ahead + reach).min(span));
            // dρ/dδ = rR sin δ / ρ.
            let growing = |at: f64| {
                let (off, rho) = (at - ahead, away(at - ahead));
                slope + if rho > 0.0 { bit.steepness(rho) * r * self.radius * off.sin() / rho } else { 0.0 }
            };
            (low <= high).then(|| {
                let at = if begin == end {
                    ahead.clamp(low, high)
                } else if bit.corner == 0.0 {
                    if slope < 0.0 { high } else { low }
                } else {
                    least(&growing, [low, high])
                };
                begin + slope * at + bit.underside(away(at - ahead))
            })
        };
        [lowest(ahead), lowest(ahead - TAU)].into_iter().flatten().reduce(f64::min)
    }

    /// How far on the way an arm from the centre is, as an angle from 0 to a whole turn.
    pub(super) fn ahead(&self, arm: Vector2<f64>) -> f64 {
        ((arm.y.atan2(arm.x) - self.from) * self.turn.signum()).rem_euclid(TAU)
    }

    /// How far downhill of a point the bit stands lowest over it, as the part 2√(rR)·sin(δ/2) of the distance that lies
    /// along the way; the point `beside` it, outside where positive, the way wider than the bit and without ends, `slope`
    /// millimetres a radian.
    pub(super) fn downhill(&self, bit: &Profile, slope: f64, beside: f64) -> f64 {
        let r = self.radius + beside;
        let chord = (bit.radius * bit.radius - beside * beside).max(0.0).sqrt();
        let root = 2.0 * (r * self.radius).max(0.0).sqrt();
        if bit.corner == 0.0 || root <= chord {
            return chord;
        }
        let along = |off: f64| root * (off / 2.0).sin();
        // dρ/dδ = rR sin δ / ρ.
        let growing = |off: f64| {
            let rho = (beside * beside + along(off).powi(2)).sqrt().min(bit.radius);
            if rho > 0.0 { bit.steepness(rho) * r * self.radius * off.sin() / rho - slope.abs() } else { -slope.abs() }
        };
        along(least(&growing, [0.0, 2.0 * (chord / root).asin()]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::read;
    use proptest::prelude::*;

    proptest! {
        /// An arc leaves what its chords would, so fine that they are the arc: the least over ten thousand places.
        #[test]
        fn an_arc_leaves_what_its_places_leave(
            r in 2.0..30.0f64, from in 0.0..6.2f64, turn in 0.2..6.2f64, clockwise: bool,
            px in -40.0..40.0f64, py in -40.0..40.0f64, bit in 1.0..8.0f64, share in 0.0..=1.0f64, drop in prop_oneof![Just(0.0), -3.0..3.0f64],
        ) {
            let turn = if clockwise { -turn } else { turn };
            let at = |a: f64| Point2::new(r * a.cos(), r * a.sin());
            let (start, end) = (at(from), at(from + turn));
            let code = if clockwise { 2 } else { 3 };
            let text = format!(
                "G21 G90\nG0 Z0\nG0 X{:.12} Y{:.12}\nG{code} X{:.12} Y{:.12} Z{drop:.12} I{:.12} J{:.12} F100\nM2",
                start.x, start.y, end.x, end.y, -start.x, -start.y
            );
            let step = *read(&text).unwrap().last().unwrap();
            let profile = Profile { radius: bit, corner: bit * share, depth: 1.0, rim: None };
            let p = Point2::new(px, py);
            let found = Arc::of(&step).unwrap().lowest(&profile, [0.0, step.to.z], p);
            let places = (0..=10_000).map(|k| step.at(f64::from(k) / 10_000.0));
            let least = places
                .filter_map(|c| Some((p - c.xy()).norm()).filter(|rho| *rho <= bit).map(|rho| c.z + profile.underside(rho)))
                .reduce(f64::min);
            let near = (0..=10_000).map(|k| (p - step.at(f64::from(k) / 10_000.0).xy()).norm()).fold(f64::INFINITY, f64::min);
            match (found, least) {
                // At its very rim the bit is steep: between two places it may reach a hair farther.
                (Some(found), Some(least)) => {
                    let by = if near > bit - 0.02 { 0.5 } else { 5e-3 };
                    prop_assert!(found <= least + 1e-9 && found >= least - by, "{found} {least}");
                }
                (None, Some(least)) => prop_assert!(false, "nothing for {least}"),
                (Some(_), None) => prop_assert!(near < bit + 1e-3, "{near} for {bit}"),
                (None, None) => {}
            }
        }
    }
}
