//! Half of a cut's section: what a bit leaves down to a depth, and its eased rim. Closed forms.

use super::{Bit, Easing};
use std::f64::consts::PI;

/// The outline of a bit of radius R with corner radius r, sunk to the depth d, from its axis
/// outward; all in mm. A rim of the size s is eased afterwards, by a bit whose bearing runs along the wall.
///
/// ```text
///   axis
///    │          ╭─ h = d: the surface
///    │        │╭╯  h = d − s: the rim begins
///    │        │
///    │       ╭╯ ρ(h)
///    └──────╯── h = 0: the floor
/// ```
///
/// The rim lies on the upright wall: d − s ≥ r ([`Profile::rim_fits`]). Above it begins, ρ = R + i, i the easing's
/// inset ([`Easing::inset`]); every integral is the bit's down to there and the rim's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// R.
    pub radius: f64,
    /// r, from 0 to R.
    pub corner: f64,
    /// d.
    pub depth: f64,
    /// How its rim is eased.
    pub rim: Option<Easing>,
}

impl Profile {
    /// A bit's at a depth.
    #[must_use]
    pub fn of(bit: &Bit, depth: f64) -> Self {
        let radius = bit.diameter.mm() / 2.0;
        Self { radius, corner: bit.corner_radius.mm().min(radius), depth, rim: None }
    }

    /// The same with its rim eased.
    #[must_use]
    pub const fn eased(self, rim: Option<Easing>) -> Self {
        Self { rim, ..self }
    }

    /// s: how far its rim is eased, 0 where it isn't.
    #[must_use]
    pub fn rim_size(&self) -> f64 {
        self.rim.map_or(0.0, Easing::size)
    }

    /// The radius that its rim is rounded by, 0 where it isn't.
    #[must_use]
    pub fn rim_radius(&self) -> f64 {
        match self.rim {
            Some(rim @ Easing::RoundOver(_)) => rim.size(),
            _ => 0.0,
        }
    }

    /// Whether the rim lies on the upright wall.
    #[must_use]
    pub fn rim_fits(&self) -> bool {
        self.rim.is_none() || self.depth - self.rim_size() >= self.corner - 1e-9
    }

    /// What lies below the rim: a bit's profile alone, d − s deep.
    fn below_rim(&self) -> Self {
        Self { depth: self.depth - self.rim_size(), rim: None, ..*self }
    }

    /// R − r: half the width of the flat floor.
    #[must_use]
    pub fn flat(&self) -> f64 {
        self.radius - self.corner
    }

    /// ρ(h): half the width at the height h above the floor:
    /// (R − r) + √(r² − (r − h)²) for h < r, else R; R + i in the rim.
    #[must_use]
    pub fn half_width(&self, h: f64) -> f64 {
        let r = self.corner;
        if let Some(rim) = self.rim.filter(|rim| h > self.depth - rim.size()) {
            return self.radius + rim.inset((h - self.depth + rim.size()).min(rim.size()));
        }
        if h >= r { self.radius } else { self.flat() + (r * r - (r - h).powi(2)).max(0.0).sqrt() }
    }

    /// How high the underside of a bit of this shape is above its tip, ρ from its axis and no farther than [`Self::outer`]: what [`Self::half_width`]
    /// is turned round, r − √(r² − (ρ − (R − r))²) beyond the flat.
    #[must_use]
    pub fn underside(&self, rho: f64) -> f64 {
        let (r, out) = (self.corner, rho - self.flat());
        match self.rim {
            _ if out <= 0.0 => 0.0,
            Some(rim) => self.depth - rim.size() + rim.height_of(out),
            None => r - (r * r - out * out).max(0.0).sqrt(),
        }
    }

    /// How far from its axis it reaches at most: R, or with a rim, which is then the bit's own, as much more.
    #[must_use]
    pub fn outer(&self) -> f64 {
        self.radius + self.rim_size()
    }

    /// dh/dρ of [`Self::underside`]: o / √(r² − o²), o = ρ − (R − r) where that is more than 0; very large at the rim.
    #[must_use]
    pub fn steepness(&self, rho: f64) -> f64 {
        let (r, out) = (self.corner, (rho - self.flat()).max(0.0));
        out / (r * r - out * out).max(1e-18).sqrt()
    }

    /// ρ(d): half the width at the surface.
    #[must_use]
    pub fn at_surface(&self) -> f64 {
        self.half_width(self.depth)
    }

    /// Half the width that the bit leaves at the surface, before the rim is eased: what stops and setbacks go by.
    #[must_use]
    pub fn bit_at_surface(&self) -> f64 {
        self.eased(None).at_surface()
    }

    /// φ: the angle of the corner's arc that is used, π/2 where d ≥ r.
    #[must_use]
    pub fn arc(&self) -> f64 {
        let r = self.corner;
        if self.rim.is_some() || self.depth >= r {
            if r > 0.0 { PI / 2.0 } else { 0.0 }
        } else {
            ((r - self.depth) / r).acos()
        }
    }

    /// d − s − r where that is more than 0: how high the upright wall is.
    #[must_use]
    pub fn upright(&self) -> f64 {
        (self.depth - self.rim_size() - self.corner).max(0.0)
    }

    /// ∫₀ᵈ ρ dh.
    ///
    /// d ≥ r: (R − r)r + πr²/4 + R(d − r). d < r: (R − r)d + G. A rim: Rs + ∫i dy more.
    #[must_use]
    pub fn first(&self) -> f64 {
        if let Some(rim) = self.rim {
            return self.below_rim().first() + self.radius * rim.size() + rim.first();
        }
        let (r, d) = (self.corner, self.depth);
        if d >= r {
            self.flat() * r + PI * r * r / 4.0 + self.radius * (d - r)
        } else {
            self.flat() * d + self.segment()
        }
    }

    /// ∫₀ᵈ ρ² dh.
    ///
    /// d ≥ r: (R − r)²r + (R − r)πr²/2 + 2r³/3 + R²(d − r). d < r, with a = r − d:
    /// (R − r)²d + 2(R − r)G + r²d − (r³ − a³)/3. A rim: R²s + 2R∫i dy + ∫i² dy more.
    #[must_use]
    pub fn second(&self) -> f64 {
        if let Some(rim) = self.rim {
            let big = self.radius;
            return self.below_rim().second() + big * big * rim.size() + 2.0 * big * rim.first() + rim.second();
        }
        let (flat, r, d) = (self.flat(), self.corner, self.depth);
        if d >= r {
            flat * flat * r + flat * PI * r * r / 2.0 + 2.0 * r.powi(3) / 3.0 + self.radius.powi(2) * (d - r)
        } else {
            let a = r - d;
            flat * flat * d + 2.0 * flat * self.segment() + r * r * d - (r.powi(3) - a.powi(3)) / 3.0
        }
    }

    /// ∫ ρ ds along the outline from the floor's edge to the surface:
    /// (R − r)rφ + r²(1 − cos φ) + R(d − r)₊. A rim of outline u: Ru + ∫i ds more.
    #[must_use]
    pub fn along(&self) -> f64 {
        if let Some(rim) = self.rim {
            return self.below_rim().along() + self.radius * rim.outline() + rim.along();
        }
        let (r, phi) = (self.corner, self.arc());
        self.flat() * r * phi + r * r * (1.0 - phi.cos()) + self.radius * self.upright()
    }

    /// The outline's length from the floor's edge to the surface: rφ + (d − r)₊, and the rim's.
    #[must_use]
    pub fn outline(&self) -> f64 {
        self.corner * self.arc() + self.upright() + self.rim.map_or(0.0, Easing::outline)
    }

    /// √(1 + ρ′²) at the height h: how much surface a strip of the wall one high has, for each length of it. Without
    /// bound at the foot of a rounded corner and at the top of a rounded rim.
    #[must_use]
    pub fn slope(&self, h: f64) -> f64 {
        let r = self.corner;
        if let Some(rim) = self.rim.filter(|rim| h > self.depth - rim.size()) {
            return rim.slope(h - self.depth + rim.size());
        }
        if h >= r { 1.0 } else { r / (r * r - (r - h).powi(2)).max(0.0).sqrt() }
    }

    /// The height at which ρ passes `c`: 0 where it is wider from the floor on, d where it never is.
    #[must_use]
    pub fn height_of(&self, c: f64) -> f64 {
        let r = self.corner;
        if let Some(rim) = self.rim {
            let below = self.below_rim();
            return if c > self.radius { below.depth + rim.height_of(c - self.radius) } else { below.height_of(c) };
        }
        if c >= self.at_surface() {
            self.depth
        } else if c <= self.flat() {
            0.0
        } else {
            r - (r * r - (c - self.flat()).powi(2)).max(0.0).sqrt()
        }
    }

    /// ∫₀ᵈ (ρ − c)₊² dh: with h₀ where ρ passes c, the integral of ρ² − 2cρ + c² from h₀ to d, each
    /// of its ends by [`Profile::first`] and [`Profile::second`]. In a rim, with k = c − R: ∫i² − 2k∫i + k²s, less
    /// ∫(k − i)₊² where k > 0.
    #[must_use]
    pub fn beyond(&self, c: f64) -> f64 {
        if let Some(rim) = self.rim {
            let k = c - self.radius;
            let all = rim.second() - 2.0 * k * rim.first() + k * k * rim.size();
            return self.below_rim().beyond(c) + all - if k > 0.0 { rim.within(k) } else { 0.0 };
        }
        let to = |depth: f64| {
            let part = Self { depth, ..*self };
            part.second() - 2.0 * c * part.first() + c * c * depth
        };
        let from = self.height_of(c);
        if from >= self.depth { 0.0 } else { to(self.depth) - to(from) }
    }

    /// ∫ (ρ − c)₊ ds along the outline from the floor's edge to the surface, in the same way.
    #[must_use]
    pub fn beyond_along(&self, c: f64) -> f64 {
        if let Some(rim) = self.rim {
            let k = c - self.radius;
            let all = rim.along() - k * rim.outline();
            return self.below_rim().beyond_along(c) + all + if k > 0.0 { rim.within_along(k) } else { 0.0 };
        }
        let to = |depth: f64| {
            let part = Self { depth, ..*self };
            part.along() - c * part.outline()
        };
        let from = self.height_of(c);
        if from >= self.depth { 0.0 } else { to(self.depth) - to(from) }
    }

    /// G: the area under the corner's arc from the floor to d < r,
    /// ∫₀ᵈ √(r² − (r − h)²) dh = (r²·acos(a/r) − a√(r² − a²))/2 with a = r − d.
    fn segment(&self) -> f64 {
        let (r, a) = (self.corner, self.corner - self.depth);
        (r * r * (a / r).acos() - a * (r * r - a * a).max(0.0).sqrt()) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::quadrature::integral;
    use crate::measure::Length;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_closed_forms_are_the_integrals(
            big in 1.0..15.0f64, share in 0.0..=1.0f64, depth in 0.1..20.0f64, c in 0.0..16.0f64,
            rim in 0u8..3, size in 0.0..1.0f64,
        ) {
            let r = big * share;
            // A rim of some size, where there is a wall to ease.
            let size = Length::nearest_to_mm((depth - r) * size);
            let rim = match rim {
                1 if depth > r && size.is_positive() => Some(Easing::RoundOver(size)),
                2 if depth > r && size.is_positive() => Some(Easing::Chamfer(size)),
                _ => None,
            };
            let profile = Profile { radius: big, corner: r, depth, rim };
            prop_assert!(profile.rim_fits());
            // In the angle of the corner, so that the root is smooth; and up the wall.
            let both = |f: &dyn Fn(f64) -> f64, along: bool| {
                let arc = |a: f64| [f(profile.flat() + r * a.sin()) * r * if along { 1.0 } else { a.sin() }];
                let split = profile.arc().min(if c > profile.flat() && r > 0.0 { ((c - profile.flat()) / r).min(1.0).asin() } else { 0.0 });
                let eased = rim.map_or(0.0, |rim| {
                    let kink = rim.height_of((c - big).max(0.0));
                    match rim {
                        Easing::Chamfer(_) => {
                            let long = if along { std::f64::consts::SQRT_2 } else { 1.0 };
                            integral(&|y| [f(big + y) * long], &[0.0, kink, rim.size()], 1e-13)[0]
                        }
                        // y = s sin θ, ds = s dθ.
                        Easing::RoundOver(_) => {
                            let s = rim.size();
                            let at = |t: f64| [f(big + s * (1.0 - t.cos())) * s * if along { 1.0 } else { t.cos() }];
                            integral(&at, &[0.0, (kink / s).min(1.0).asin(), PI / 2.0], 1e-13)[0]
                        }
                    }
                });
                integral(&arc, &[0.0, split, profile.arc()], 1e-13)[0] + f(big) * profile.upright() + eased
            };
            let close = |a: f64, b: f64, of: f64| (a - b).abs() <= 1e-11 * (1.0 + of);
            let scale = big * big * depth;
            prop_assert!(close(profile.first(), both(&|p| p, false), scale));
            prop_assert!(close(profile.second(), both(&|p| p * p, false), scale));
            prop_assert!(close(profile.along(), both(&|p| p, true), scale));
            prop_assert!(close(profile.outline(), both(&|_| 1.0, true), scale));
            prop_assert!(close(profile.beyond(c), both(&|p| (p - c).max(0.0).powi(2), false), scale));
            prop_assert!(close(profile.beyond_along(c), both(&|p| (p - c).max(0.0), true), scale));
        }
    }
}
