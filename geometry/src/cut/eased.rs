//! The board's outline and its eased rims: closed forms.

use super::{Finished, Rounded};
use crate::measure::Length;
use nalgebra::Point2;
use std::f64::consts::{PI, SQRT_2};

/// How a rim is eased, by a bit whose bearing runs along the side.
///
/// i(y) is how far in from the side the wood begins, y above where the easing starts, from 0 to its size: everything
/// that lies i or more inside the outline is left, so that round a sharp corner of the outline the easing's two runs
/// meet in a mitre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Easing {
    /// A quarter circle of this radius: i = R − √(R² − y²).
    RoundOver(Length),
    /// Half a right angle, so far in from the side and from the face: i = y.
    Chamfer(Length),
}

impl Easing {
    /// How far it reaches in from the side, and from the face, mm.
    #[must_use]
    pub fn size(self) -> f64 {
        match self {
            Self::RoundOver(size) | Self::Chamfer(size) => size.mm(),
        }
    }

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RoundOver(_) => "round-over",
            Self::Chamfer(_) => "chamfer",
        }
    }

    /// i(y).
    #[must_use]
    pub fn inset(self, y: f64) -> f64 {
        let size = self.size();
        match self {
            Self::RoundOver(_) => size - (size * size - y * y).max(0.0).sqrt(),
            Self::Chamfer(_) => y,
        }
    }

    /// The y at which i passes `c`, its size where it never does.
    #[must_use]
    pub fn height_of(self, c: f64) -> f64 {
        let size = self.size();
        if c >= size {
            return size;
        }
        match self {
            Self::RoundOver(_) => (size * size - (size - c).powi(2)).max(0.0).sqrt(),
            Self::Chamfer(_) => c,
        }
    }

    /// √(1 + i′²) at y: how much surface a strip of it one high has, for each length of it.
    #[must_use]
    pub fn slope(self, y: f64) -> f64 {
        match self {
            Self::Chamfer(_) => SQRT_2,
            Self::RoundOver(r) => r.mm() / (r.mm() * r.mm() - y * y).max(0.0).sqrt(),
        }
    }

    /// ∫ i dy: R²(1 − π/4), or s²/2.
    pub(super) fn first(self) -> f64 {
        let size = self.size();
        size * size * if matches!(self, Self::RoundOver(_)) { 1.0 - PI / 4.0 } else { 0.5 }
    }

    /// ∫ i² dy: R³(5/3 − π/2), or s³/3.
    pub(super) fn second(self) -> f64 {
        let size = self.size();
        size.powi(3) * if matches!(self, Self::RoundOver(_)) { 5.0 / 3.0 - PI / 2.0 } else { 1.0 / 3.0 }
    }

    /// ∫ (c − i)₊² dy. Up to y₀, where i passes c or the easing ends: for a quarter circle, with k = R − c,
    /// R²y₀ − y₀³/3 − 2kS + k²y₀, S = ∫√(R² − y²) dy = [y₀√(R² − y₀²) + R²·asin(y₀/R)]/2; for a chamfer
    /// [c³ − (c − y₀)³]/3.
    pub(super) fn within(self, c: f64) -> f64 {
        let (size, to) = (self.size(), self.height_of(c));
        match self {
            Self::RoundOver(_) => {
                let k = size - c;
                let root = (size * size - to * to).max(0.0).sqrt();
                let under = (to * root + size * size * (to / size).min(1.0).asin()) / 2.0;
                size * size * to - to.powi(3) / 3.0 - 2.0 * k * under + k * k * to
            }
            Self::Chamfer(_) => (c.powi(3) - (c - to).powi(3)) / 3.0,
        }
    }

    /// The length of its outline: πR/2, or s√2.
    pub(super) fn outline(self) -> f64 {
        self.size() * if matches!(self, Self::RoundOver(_)) { PI / 2.0 } else { SQRT_2 }
    }

    /// ∫ i ds: R²(π/2 − 1), or s²/√2.
    pub(super) fn along(self) -> f64 {
        let size = self.size();
        size * size * if matches!(self, Self::RoundOver(_)) { PI / 2.0 - 1.0 } else { SQRT_2 / 2.0 }
    }

    /// ∫ (c − i)₊ ds: with θ₀ = acos(1 − c/R) or π/2, R[(c − R)θ₀ + R sin θ₀]; or √2·[c² − (c − y₀)²]/2.
    pub(super) fn within_along(self, c: f64) -> f64 {
        let size = self.size();
        match self {
            Self::RoundOver(_) => {
                let theta = (1.0 - c / size).max(0.0).acos();
                size * ((c - size) * theta + size * theta.sin())
            }
            Self::Chamfer(_) => SQRT_2 * (c * c - (c - self.height_of(c)).powi(2)) / 2.0,
        }
    }

    /// What it takes round an outline: ∫ [A(0) − A(i)] dy with A(i) = (l − 2i)(w − 2i) − (4 − π)(c − i)₊².
    #[must_use]
    pub fn volume(self, outline: &Rounded) -> f64 {
        let c = outline.radius;
        2.0 * (outline.length() + outline.width()) * self.first()
            - 4.0 * self.second()
            - (4.0 - PI) * (c * c * self.size() - self.within(c))
    }

    /// Its own surface round an outline: ∫ P(i) ds with P(i) = 2(l + w) − 8i − (8 − 2π)(c − i)₊.
    #[must_use]
    pub fn area(self, outline: &Rounded) -> f64 {
        2.0 * (outline.length() + outline.width()) * self.outline()
            - 8.0 * self.along()
            - (8.0 - 2.0 * PI) * self.within_along(outline.radius)
    }
}

/// The board before anything is cut into it: its size, its corners in plan, its eased rims.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    /// The finished size.
    pub size: Finished,
    /// The radius of the four corners in plan, mm.
    pub corner: f64,
    /// The rim of the upper face.
    pub upper: Option<Easing>,
    /// The rim of the lower face.
    pub lower: Option<Easing>,
}

impl Outline {
    /// A plain box.
    #[must_use]
    pub const fn plain(size: Finished) -> Self {
        Self { size, corner: 0.0, upper: None, lower: None }
    }

    /// In plan, between the eased rims.
    #[must_use]
    pub fn plan(&self) -> Rounded {
        let Finished { length, width, .. } = self.size;
        Rounded { low: Point2::origin(), high: Point2::new(length, width), radius: self.corner }
    }

    /// How far the upper and the lower rim reach in, mm.
    #[must_use]
    pub fn eased(&self) -> [f64; 2] {
        [self.upper, self.lower].map(|e| e.map_or(0.0, Easing::size))
    }

    /// Whether corners and easings fit on the board: the corners side by side, the rims one over the other and
    /// within half the width.
    #[must_use]
    pub fn fits(&self) -> bool {
        let least = self.size.length.min(self.size.width);
        let [upper, lower] = self.eased();
        let high = upper + lower <= self.size.thickness - 1e-9 || (upper == 0.0 && lower == 0.0);
        self.plan().is_one() && high && 2.0 * upper.max(lower) < least && self.size.thickness > 0.0
    }

    /// How far inside the plan's outline the wood begins at a level Z.
    #[must_use]
    pub fn inset(&self, z: f64) -> f64 {
        let at = |easing: Option<Easing>, to_face: f64| {
            easing.map_or(0.0, |e| if to_face < e.size() { e.inset(e.size() - to_face.max(0.0)) } else { 0.0 })
        };
        at(self.upper, self.size.thickness - z).max(at(self.lower, z))
    }

    /// How much surface a strip of the side one high has there, for each length of it: √(1 + i′²).
    #[must_use]
    pub fn slope(&self, z: f64) -> f64 {
        let of = |easing: Option<Easing>, to_face: f64| match easing {
            Some(e) if to_face < e.size() => e.slope(e.size() - to_face.max(0.0)),
            _ => 1.0,
        };
        of(self.upper, self.size.thickness - z).max(of(self.lower, z))
    }

    /// The flat of the upper and of the lower face.
    #[must_use]
    pub fn faces(&self) -> [Rounded; 2] {
        self.eased().map(|i| self.plan().inset(i))
    }

    /// Its volume, mm³: closed form. With all edges and corners rounded at one radius it is that of the box, its
    /// edges' quarter cylinders and its corners' ball.
    ///
    /// ```
    /// use quarterturn_geometry::cut::{Easing, Finished, Outline};
    /// use quarterturn_geometry::measure::Length;
    /// let r = 5.0;
    /// let eased = Some(Easing::RoundOver(Length::nearest_to_mm(r)));
    /// let size = Finished { length: 300.0, width: 200.0, thickness: 40.0 };
    /// let board = Outline { size, corner: r, upper: eased, lower: eased };
    /// let pi = std::f64::consts::PI;
    /// let (a, b, c) = (290.0, 190.0, 30.0);
    /// let known = a * b * c + 2.0 * r * (a * b + b * c + c * a) + pi * r * r * (a + b + c) + 4.0 * pi * r.powi(3) / 3.0;
    /// assert!((board.volume() - known).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        let plan = self.plan();
        let taken: f64 = [self.upper, self.lower].into_iter().flatten().map(|e| e.volume(&plan)).sum();
        plan.area() * self.size.thickness - taken
    }

    /// Its surface, mm²: faces, sides, eased rims.
    #[must_use]
    pub fn area(&self) -> f64 {
        let plan = self.plan();
        let [upper, lower] = self.eased();
        let rims: f64 = [self.upper, self.lower].into_iter().flatten().map(|e| e.area(&plan)).sum();
        let faces: f64 = self.faces().iter().map(Rounded::area).sum();
        faces + plan.perimeter() * (self.size.thickness - upper - lower) + rims
    }

    /// The area of all its curved surface, mm²: the upright corners, the round-overs, and a chamfer's four corners.
    #[must_use]
    pub fn curved(&self) -> f64 {
        let plan = self.plan();
        let [upper, lower] = self.eased();
        let corners = 2.0 * PI * self.corner * (self.size.thickness - upper - lower);
        let rim = |easing: Easing| match easing {
            Easing::RoundOver(_) => easing.area(&plan),
            Easing::Chamfer(_) => 2.0 * PI * easing.within_along(self.corner),
        };
        corners + [self.upper, self.lower].into_iter().flatten().map(rim).sum::<f64>()
    }

    /// The bound of |V_mesh − V| at a chord tolerance: ε·A_curved·(1 + ε/r_min), a radius under ε counting as ε.
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        let round = |e: Easing| match e {
            Easing::RoundOver(r) => r.mm().min(if r.mm() < self.corner { self.corner - r.mm() } else { r.mm() }),
            Easing::Chamfer(_) => (self.corner - e.size()).max(0.0),
        };
        let corner = if self.corner > 0.0 { self.corner } else { f64::INFINITY };
        let least = [self.upper, self.lower].into_iter().flatten().map(round).fold(corner, f64::min);
        let curved = self.curved();
        if curved > 0.0 { tolerance * curved * (1.0 + tolerance / least.max(tolerance)) } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::quadrature::integral;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn volume_and_area_are_the_integrals_over_the_slices(
            l in 60.0..400.0f64, w in 60.0..300.0f64, t in 25.0..60.0f64, c in 0.0..30.0f64,
            upper in 0.3..12.0f64, lower in 0.3..12.0f64, kinds in 0u8..9,
        ) {
            let easing = |kind: u8, size: f64| match kind {
                0 => None,
                1 => Some(Easing::RoundOver(Length::nearest_to_mm(size))),
                _ => Some(Easing::Chamfer(Length::nearest_to_mm(size))),
            };
            let outline = Outline {
                size: Finished { length: l, width: w, thickness: t },
                corner: c,
                upper: easing(kinds % 3, upper),
                lower: easing(kinds / 3, lower),
            };
            prop_assert!(outline.fits());
            let [u, v] = outline.eased();
            let slice = |z: f64| outline.plan().inset(outline.inset(z)).region().measures();
            let at = |e: Option<Easing>| e.map_or(0.0, |e| e.size() - e.height_of(c));
            let breaks = [0.0, at(outline.lower), v, t - u, t - at(outline.upper), t];
            let volume = integral(&|z| [slice(z).area], &breaks, 1e-11 * l * w * t)[0];
            prop_assert!((outline.volume() - volume).abs() < 1e-10 * volume, "{} for {volume}", outline.volume());
            // Along the rims: the slope of i gives the width of a slice's strip.
            let wide = |z: f64| outline.slope(z);
            let inner = |e: Option<Easing>, from: f64, to: f64| e.map_or(0.0, |e| match e {
                Easing::Chamfer(_) => {
                    let kink = e.height_of(c);
                    let kink = if from > 0.0 { from + kink } else { to - kink };
                    integral(&|z| [slice(z).length * wide(z)], &[from, kink, to], 1e-9)[0]
                }
                // z = from the face: y = R sin θ, ds = R dθ.
                Easing::RoundOver(_) => {
                    let r = e.size();
                    let kink = (1.0 - c / r).max(0.0).acos();
                    integral(&|a: f64| [outline.plan().inset(r * (1.0 - a.cos())).region().measures().length * r], &[0.0, kink, PI / 2.0], 1e-10)[0]
                }
            });
            let rims = inner(outline.upper, t - u, t) + inner(outline.lower, 0.0, v);
            let area = slice(0.0).area + slice(t).area + slice(t / 2.0).length * (t - u - v) + rims;
            prop_assert!((outline.area() - area).abs() < 1e-6 * area, "{} for {area}", outline.area());
        }
    }

    #[test]
    fn a_box_has_six_faces() {
        let plain = Outline::plain(Finished { length: 300.0, width: 200.0, thickness: 40.0 });
        assert_relative_eq!(plain.area(), 2.0 * (300.0 * 200.0 + 300.0 * 40.0 + 200.0 * 40.0));
        assert_eq!(plain.mesh_bound(0.1), 0.0);
    }
}
