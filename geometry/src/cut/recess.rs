//! The recess that a round bit leaves: closed forms.

use super::Profile;
use std::f64::consts::PI;

/// A recess cut by a bit of radius R with corner radius r, d deep, its centre moved by t in a
/// straight line. Axis at right angles to the surface; all in mm.
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
/// full turn of the bit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recess {
    /// R.
    pub radius: f64,
    /// r, from 0 to R.
    pub corner: f64,
    /// d.
    pub depth: f64,
    /// t.
    pub travel: f64,
}

impl Recess {
    /// The bit's profile at this depth.
    #[must_use]
    pub const fn profile(&self) -> Profile {
        Profile { radius: self.radius, corner: self.corner, depth: self.depth }
    }

    /// ρ(h): half the width at the height h above the floor.
    #[must_use]
    pub fn half_width(&self, h: f64) -> f64 {
        self.profile().half_width(h)
    }

    /// ρ(d): half the width at the surface.
    #[must_use]
    pub fn half_width_at_surface(&self) -> f64 {
        self.profile().at_surface()
    }

    /// Length over all at the surface, t + 2ρ(d).
    #[must_use]
    pub fn length(&self) -> f64 {
        self.travel + 2.0 * self.half_width_at_surface()
    }

    /// A: the area of the section across the travel, 2·∫₀ᵈ ρ dh.
    #[must_use]
    pub fn section(&self) -> f64 {
        2.0 * self.profile().first()
    }

    /// E: the volume of the two ends together, π·∫₀ᵈ ρ² dh.
    #[must_use]
    pub fn ends(&self) -> f64 {
        PI * self.profile().second()
    }

    /// V = A·t + E.
    ///
    /// ```
    /// use quarterturn_geometry::cut::Recess;
    /// let recess = Recess { radius: 10.0, corner: 4.0, depth: 6.0, travel: 60.0 };
    /// assert!((recess.volume() - 8_476.454_644).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.section() * self.travel + self.ends()
    }

    /// φ: the angle of the corner's arc that is used, π/2 where d ≥ r.
    #[must_use]
    pub fn arc(&self) -> f64 {
        self.profile().arc()
    }

    /// The area of all curved surface: the rounded corners along both walls and around both ends,
    /// and the upright walls of the ends.
    ///
    /// Along the walls 2·t·rφ. Around the ends, by Pappus, 2π∫ρ ds over the arc
    /// = 2π[(R − r)rφ + r²(1 − cos φ)]. Upright 2πR(d − r) where d > r.
    #[must_use]
    pub fn curved_area(&self) -> f64 {
        let (big, r, phi) = (self.radius, self.corner, self.arc());
        let walls = 2.0 * self.travel * r * phi;
        let ends = 2.0 * PI * ((big - r) * r * phi + r * r * (1.0 - phi.cos()));
        walls + ends + 2.0 * PI * big * (self.depth - r).max(0.0)
    }

    /// The least radius of curvature of any curved surface of it.
    #[must_use]
    pub fn least_radius(&self) -> f64 {
        if self.corner > 0.0 { self.corner } else { self.radius }
    }

    /// The bound of |V_mesh − V| for a mesh whose chords stay within `tolerance` of the surface:
    /// ε·A_curved·(1 + ε/r_min).
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        tolerance * self.curved_area() * (1.0 + tolerance / self.least_radius())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    /// Worked by hand from the formulas with R 10, r 4, t 60.
    #[test]
    fn worked_examples() {
        let deep = Recess { radius: 10.0, corner: 4.0, depth: 6.0, travel: 60.0 };
        assert_relative_eq!(deep.section(), 113.132_741, epsilon = 1e-6);
        assert_relative_eq!(deep.ends(), 1_688.490_171, epsilon = 1e-6);
        assert_relative_eq!(deep.volume(), 8_476.454_644, epsilon = 1e-6);
        let shallow = Recess { depth: 3.0, ..deep };
        assert_relative_eq!(shallow.section(), 53.216_874, epsilon = 1e-6);
        assert_relative_eq!(shallow.ends(), 748.645_434, epsilon = 1e-6);
        assert_relative_eq!(shallow.volume(), 3_941.657_862, epsilon = 1e-6);
    }

    /// A ball nose sunk to its radius is half a ball; sunk by h, a cap: πh²(3R − h)/3.
    #[test]
    fn a_ball_leaves_a_cap() {
        let half = Recess { radius: 5.0, corner: 5.0, depth: 5.0, travel: 0.0 };
        assert_relative_eq!(half.volume(), 2.0 / 3.0 * PI * 125.0, max_relative = 1e-14);
        let cap = Recess { depth: 2.0, ..half };
        assert_relative_eq!(cap.volume(), PI * 4.0 * 13.0 / 3.0, max_relative = 1e-14);
        assert_relative_eq!(half.curved_area(), 2.0 * PI * 25.0, max_relative = 1e-14);
        assert_relative_eq!(cap.curved_area(), 2.0 * PI * 5.0 * 2.0, max_relative = 1e-14);
    }

    proptest! {
        #[test]
        fn the_closed_forms_are_the_integrals(big in 1.0..15.0f64, share in 0.0..=1.0f64, depth in 0.1..20.0f64, travel in 0.0..200.0f64) {
            let recess = Recess { radius: big, corner: big * share, depth, travel };
            // Simpson's rule, split at the corner; ρ² and ρ in h = r(1 − cos α) so that the root is smooth.
            let simpson = |f: &dyn Fn(f64) -> f64, a: f64, b: f64| {
                let n = 2000;
                let step = (b - a) / n as f64;
                (0..=n).map(|i| f(a + step * i as f64) * if i == 0 || i == n { 1.0 } else if i % 2 == 1 { 4.0 } else { 2.0 }).sum::<f64>() * step / 3.0
            };
            let r = recess.corner;
            let area = |rho: f64| 2.0 * rho * travel + PI * rho * rho;
            let corner = simpson(&|alpha: f64| area(big - r + r * alpha.sin()) * r * alpha.sin(), 0.0, recess.arc());
            let upright = area(big) * (depth - r).max(0.0);
            prop_assert!((recess.volume() - corner - upright).abs() < 1e-9 * recess.volume());
        }

        #[test]
        fn it_is_continuous_where_the_depth_passes_the_corner(big in 1.0..15.0f64, share in 0.05..=1.0f64) {
            let at = |depth| Recess { radius: big, corner: big * share, depth, travel: 50.0 }.volume();
            let r = big * share;
            prop_assert!((at(r * (1.0 + 1e-12)) - at(r * (1.0 - 1e-12))).abs() < 1e-6 * at(r));
        }
    }
}
