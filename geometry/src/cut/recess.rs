//! The recess that a round bit leaves in an edge: closed forms.

use super::{Face, Path, Profile, Sweep};
use nalgebra::Point2;
use std::f64::consts::PI;

/// A recess cut by a bit of radius R with corner radius r, d deep, its centre moved by t in a
/// straight line and, where it is wider than the bit, by m across it. Axis at right angles to the surface; all in mm.
///
/// ```text
///  section across the travel             seen from above
///  ───┐         ┌─── surface              ╭───────────────╮
///     │         │ d                      (  ·───── t ───·  )
///     ╰─────────╯ floor                   ╰───────────────╯
///       h = 0
/// ```
///
/// Derivation: at the height h above the floor the cut is a stadium of travel t and half width
/// ρ(h); its area is 2ρt + πρ²; the volume is the integral over h. The two ends together make one
/// full turn of the bit. Wider by m, fully swept, it is a rectangle t × m with ρ(h) all round: the area is
/// tm + 2ρ(t + m) + πρ².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recess {
    /// R, r, d, and how its rim is eased.
    pub profile: Profile,
    /// t.
    pub travel: f64,
    /// m: how much wider it is than the bit cuts, 0 for one pass.
    pub widening: f64,
}

impl Recess {
    /// ρ(d): half the width that one pass leaves at the surface, the rim's easing included.
    #[must_use]
    pub fn half_width_at_surface(&self) -> f64 {
        self.profile.at_surface()
    }

    /// Length over all that the bit leaves at the surface, t + 2ρ(d), before its rim is eased.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.travel + 2.0 * self.profile.bit_at_surface()
    }

    /// Width that the bit leaves at the surface, m + 2ρ(d), before its rim is eased.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.widening + 2.0 * self.profile.bit_at_surface()
    }

    /// A: the area of one pass's section across the travel, 2·∫₀ᵈ ρ dh.
    #[must_use]
    pub fn section(&self) -> f64 {
        2.0 * self.profile.first()
    }

    /// E: the volume of the two ends together, π·∫₀ᵈ ρ² dh.
    #[must_use]
    pub fn ends(&self) -> f64 {
        PI * self.profile.second()
    }

    /// V = A·(t + m) + E + t·m·d.
    ///
    /// ```
    /// use quarterturn_geometry::cut::{Profile, Recess};
    /// let profile = Profile { radius: 10.0, corner: 4.0, depth: 6.0, rim: None };
    /// let recess = Recess { profile, travel: 60.0, widening: 0.0 };
    /// assert!((recess.volume() - 8_476.454_644).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        let (t, m) = (self.travel, self.widening);
        self.section() * (t + m) + self.ends() + t * m * self.profile.depth
    }

    /// As a sweep from a corner of its path at the origin, t along X and m along Y.
    #[must_use]
    pub fn swept(&self) -> Sweep {
        let path = Path::over(Point2::origin(), Point2::new(self.travel, self.widening));
        Sweep { path, profile: self.profile, face: Face::Upper, through: false }
    }

    /// The area of all its curved surface ([`Sweep::curved`]).
    #[must_use]
    pub fn curved_area(&self) -> f64 {
        self.swept().curved()
    }

    /// The bound of |V_mesh − V| for a mesh whose chords stay within `tolerance` of the surface
    /// ([`Sweep::mesh_bound`]).
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        self.swept().mesh_bound(tolerance)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn one_pass([radius, corner, depth]: [f64; 3], travel: f64) -> Recess {
        Recess { profile: Profile { radius, corner, depth, rim: None }, travel, widening: 0.0 }
    }

    /// A square-ended bit 20 across, 6 deep, swept over 60 × 8: a box 80 × 28 less what four rounded corners lack.
    #[test]
    fn wider_than_the_bit_it_is_a_box_with_round_corners() {
        let wide = Recess { widening: 8.0, ..one_pass([10.0, 0.0, 6.0], 60.0) };
        assert_relative_eq!(wide.volume(), 6.0 * (80.0 * 28.0 - (4.0 - PI) * 100.0), max_relative = 1e-14);
        assert_relative_eq!(wide.width(), 28.0);
    }

    /// Worked by hand from the formulas with R 10, r 4, t 60.
    #[test]
    fn worked_examples() {
        let deep = one_pass([10.0, 4.0, 6.0], 60.0);
        assert_relative_eq!(deep.section(), 113.132_741, epsilon = 1e-6);
        assert_relative_eq!(deep.ends(), 1_688.490_171, epsilon = 1e-6);
        assert_relative_eq!(deep.volume(), 8_476.454_644, epsilon = 1e-6);
        let shallow = one_pass([10.0, 4.0, 3.0], 60.0);
        assert_relative_eq!(shallow.section(), 53.216_874, epsilon = 1e-6);
        assert_relative_eq!(shallow.ends(), 748.645_434, epsilon = 1e-6);
        assert_relative_eq!(shallow.volume(), 3_941.657_862, epsilon = 1e-6);
    }

    /// A ball nose sunk to its radius is half a ball; sunk by h, a cap: πh²(3R − h)/3.
    #[test]
    fn a_ball_leaves_a_cap() {
        let half = one_pass([5.0, 5.0, 5.0], 0.0);
        assert_relative_eq!(half.volume(), 2.0 / 3.0 * PI * 125.0, max_relative = 1e-14);
        let cap = one_pass([5.0, 5.0, 2.0], 0.0);
        assert_relative_eq!(cap.volume(), PI * 4.0 * 13.0 / 3.0, max_relative = 1e-14);
        assert_relative_eq!(half.curved_area(), 2.0 * PI * 25.0, max_relative = 1e-14);
        assert_relative_eq!(cap.curved_area(), 2.0 * PI * 5.0 * 2.0, max_relative = 1e-14);
    }

    proptest! {
        #[test]
        fn the_closed_forms_are_the_integrals(big in 1.0..15.0f64, share in 0.0..=1.0f64, depth in 0.1..20.0f64, travel in 0.0..200.0f64, widening in 0.0..20.0f64) {
            let recess = Recess { widening, ..one_pass([big, big * share, depth], travel) };
            // Simpson's rule, split at the corner; ρ² and ρ in h = r(1 − cos α) so that the root is smooth.
            let simpson = |f: &dyn Fn(f64) -> f64, a: f64, b: f64| {
                let n = 2000;
                let step = (b - a) / n as f64;
                (0..=n).map(|i| f(a + step * i as f64) * if i == 0 || i == n { 1.0 } else if i % 2 == 1 { 4.0 } else { 2.0 }).sum::<f64>() * step / 3.0
            };
            let r = recess.profile.corner;
            let area = |rho: f64| travel * widening + 2.0 * rho * (travel + widening) + PI * rho * rho;
            let corner = simpson(&|alpha: f64| area(big - r + r * alpha.sin()) * r * alpha.sin(), 0.0, recess.profile.arc());
            let upright = area(big) * (depth - r).max(0.0);
            prop_assert!((recess.volume() - corner - upright).abs() < 1e-9 * recess.volume());
            prop_assert!((recess.volume() - recess.swept().volume()).abs() < 1e-12 * recess.volume());
        }

        #[test]
        fn it_is_continuous_where_the_depth_passes_the_corner(big in 1.0..15.0f64, share in 0.05..=1.0f64) {
            let at = |depth| one_pass([big, big * share, depth], 50.0).volume();
            let r = big * share;
            prop_assert!((at(r * (1.0 + 1e-12)) - at(r * (1.0 - 1e-12))).abs() < 1e-6 * at(r));
        }
    }
}
