//! An arc that a bit's centre runs along: what lies within a distance of it.

use super::region::{Loop, NEAR, Piece, Region};
use nalgebra::{Point2, Vector2};
use std::f64::consts::{FRAC_PI_2, PI};

/// An arc of up to half a turn, mm and radians; anti-clockwise.
///
/// Everything within ρ of it, ρ less than its radius, is a ring's part with a half disc at each end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arch {
    /// The centre of its circle.
    pub centre: Point2<f64>,
    /// R: its circle's radius.
    pub radius: f64,
    /// The direction from the centre that it begins in, from X.
    pub from: f64,
    /// τ: how far it turns.
    pub turn: f64,
}

impl Arch {
    /// Between two points, rising over the line between them, on the side of `toward`, by `rise`: with a half the way
    /// between the points, R = (a² + rise²)/(2·rise) and tan(τ/2) = a/(R − rise).
    ///
    /// ```
    /// use nalgebra::{Point2, Vector2};
    /// use quarterturn_geometry::cut::Arch;
    /// let half = Arch::over([Point2::new(-5.0, 0.0), Point2::new(5.0, 0.0)], 5.0, Vector2::y());
    /// assert!((half.radius - 5.0).abs() < 1e-12 && (half.turn - std::f64::consts::PI).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn over(ends: [Point2<f64>; 2], rise: f64, toward: Vector2<f64>) -> Self {
        let half = (ends[1] - ends[0]).norm() / 2.0;
        let radius = (half * half + rise * rise) / (2.0 * rise);
        let turn = 2.0 * half.atan2(radius - rise);
        let middle = nalgebra::center(&ends[0], &ends[1]);
        let up = toward.normalize();
        Self { centre: middle + up * (rise - radius), radius, from: up.y.atan2(up.x) - turn / 2.0, turn }
    }

    /// The unit direction from the centre, at a share of the way.
    #[must_use]
    pub fn direction(&self, share: f64) -> Vector2<f64> {
        let (sin, cos) = (self.from + self.turn * share).sin_cos();
        Vector2::new(cos, sin)
    }

    /// The point at a share of the way, `off` farther from the centre.
    #[must_use]
    pub fn at(&self, share: f64, off: f64) -> Point2<f64> {
        self.centre + self.direction(share) * (self.radius + off)
    }

    /// Its length, Rτ.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.radius * self.turn
    }

    /// How far its middle rises over the line between its ends: R(1 − cos(τ/2)).
    #[must_use]
    pub fn rise(&self) -> f64 {
        self.radius * (1.0 - (self.turn / 2.0).cos())
    }

    /// Whether it is one that a bit of this half width can follow: no tighter than the bit, half a turn at most.
    #[must_use]
    pub fn takes(&self, rho: f64) -> bool {
        self.radius > rho && self.turn > 0.0 && self.turn <= PI + 1e-9 && self.radius.is_finite()
    }

    /// The least and the greatest of its points.
    #[must_use]
    pub fn extent(&self) -> [Point2<f64>; 2] {
        let ends = [self.at(0.0, 0.0), self.at(1.0, 0.0)];
        // Every quarter turn within it is farthest out on one axis.
        let first = (self.from / FRAC_PI_2).ceil();
        let quarters = (0..3).map(|k| (first + f64::from(k)) * FRAC_PI_2).filter(|a| *a <= self.from + self.turn);
        let points = quarters.map(|a| self.centre + Vector2::new(a.cos(), a.sin()) * self.radius).chain(ends);
        points.fold([ends[0]; 2], |[low, high], p| [low.inf(&p), high.sup(&p)])
    }

    /// ∫∫ of the way from the centre along the arc's middle direction, over everything within ρ: from the ring's part
    /// 4R²ρ sin(τ/2) + (4/3)ρ³ sin(τ/2), from the ends' half discs πρ²R cos(τ/2) − (4/3)ρ³ sin(τ/2). Given ∫ρ dh and
    /// ∫ρ² dh it is the solid's.
    #[must_use]
    pub fn moment(&self, first: f64, second: f64) -> Vector2<f64> {
        let (sin, cos) = (self.turn / 2.0).sin_cos();
        self.direction(0.5) * (4.0 * self.radius * self.radius * sin * first + PI * self.radius * cos * second)
    }

    /// How far a point lies from it.
    #[must_use]
    pub fn distance(&self, p: &Point2<f64>) -> f64 {
        let arm = p - self.centre;
        let angle = (arm.y.atan2(arm.x) - self.from).rem_euclid(2.0 * PI);
        if angle <= self.turn {
            return (arm.norm() - self.radius).abs();
        }
        [0.0, 1.0].map(|share| (p - self.at(share, 0.0)).norm()).into_iter().fold(f64::INFINITY, f64::min)
    }

    /// Everything within ρ.
    pub(crate) fn region(&self, rho: f64) -> Region {
        if rho <= NEAR {
            return Region::default();
        }
        let cap = |share: f64, from: f64| Piece::Arc { centre: self.at(share, 0.0), radius: rho, from, turn: PI };
        let ring =
            |off: f64, from: f64, turn: f64| Piece::Arc { centre: self.centre, radius: self.radius + off, from, turn };
        let to = self.from + self.turn;
        Region(vec![Loop(vec![
            ring(rho, self.from, self.turn),
            cap(1.0, to),
            ring(-rho, to, -self.turn),
            cap(0.0, self.from + PI),
        ])])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_passes_both_ends_and_the_rise(x in -50.0..50.0f64, y in -50.0..50.0f64, half in 5.0..80.0f64, share in 0.02..1.0f64, heading in -3.0..3.0f64) {
            let along = Vector2::new(heading.cos(), heading.sin());
            let ends = [Point2::new(x, y), Point2::new(x, y) + along * (2.0 * half)];
            let up = Vector2::new(-along.y, along.x);
            let arch = Arch::over(ends, half * share, up);
            // Anti-clockwise round a centre below: it begins at the second end.
            prop_assert!((arch.at(0.0, 0.0) - ends[1]).norm() < 1e-9 && (arch.at(1.0, 0.0) - ends[0]).norm() < 1e-9);
            let top = nalgebra::center(&ends[0], &ends[1]) + up * (half * share);
            prop_assert!((arch.at(0.5, 0.0) - top).norm() < 1e-9);
            let [low, high] = arch.extent();
            for k in 0..=64 {
                let p = arch.at(f64::from(k) / 64.0, 0.0);
                prop_assert!(p.x >= low.x - 1e-9 && p.y >= low.y - 1e-9 && p.x <= high.x + 1e-9 && p.y <= high.y + 1e-9);
            }
        }

        /// Area and moment against Green's theorem over the outline.
        #[test]
        fn the_moment_is_the_outlines(radius in 20.0..90.0f64, from in -4.0..4.0f64, turn in 0.1..3.1f64, rho in 1.0..19.0f64) {
            let arch = Arch { centre: Point2::new(7.0, -3.0), radius, from, turn };
            let of = arch.region(rho).measures();
            let area = 2.0 * rho * arch.length() + PI * rho * rho;
            assert_relative_eq!(of.area, area, max_relative = 1e-11);
            let moment = arch.moment(rho, rho * rho) + arch.centre.coords * area;
            prop_assert!((of.moment - moment).norm() < 1e-9 * moment.norm().max(area * radius));
        }
    }
}
