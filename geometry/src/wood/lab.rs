//! CIELAB and CIEDE2000: how different two colours look. Knows nothing of wood or photographs.
//!
//! Equal steps of light are not equal steps for the eye: from black to a very dark brown is a long
//! way, from cream to white a short one. CIELAB bends the axes so that steps come out about even:
//! `l` is lightness, `a` runs from green to red, `b` from blue to yellow. CIEDE2000 then corrects
//! what is still uneven, chiefly for strong colours and for blues, and gives one number, ΔE00.
//! About 1 is what a practised eye can just see between two even patches that touch (common
//! practice, no source).

use super::colour::Colour;

/// Linear sRGB to XYZ under D65, IEC 61966-2-1, with the standard's four decimals.
const TO_XYZ: [[f64; 3]; 3] = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];

/// XYZ of sRGB's white: the row sums of [`TO_XYZ`], so that white has `a` and `b` of nothing.
const WHITE: [f64; 3] = [0.9505, 1.0, 1.089];

/// A colour in CIELAB (CIE 15, ISO 11664-4) under D65, 2° observer, relative to white paper.
///
/// ```
/// use quarterturn_geometry::wood::{Colour, Lab};
/// let walnut = Lab::of(Colour::from_srgb8([93, 64, 46]));
/// assert!((walnut.l - 29.8898).abs() < 1e-3);   // dark,
/// assert!(walnut.a > 0.0 && walnut.b > 0.0);    // reddish and yellowish: brown
/// assert_eq!(walnut.difference(&walnut), 0.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness: 0 black, 100 white.
    pub l: f64,
    /// Green (below 0) to red.
    pub a: f64,
    /// Blue (below 0) to yellow.
    pub b: f64,
}

impl Lab {
    /// From linear light.
    ///
    /// L = 116 f(Y) − 16, a = 500 (f(X) − f(Y)), b = 200 (f(Y) − f(Z)), each of X, Y, Z as a share
    /// of white's; f(t) = ∛t above 216/24389 and the tangent-like line (24389/27 t + 16)/116 below,
    /// so that parts outside 0 to 1 have a value too.
    pub fn of(colour: Colour) -> Lab {
        let light = [colour.r, colour.g, colour.b].map(f64::from);
        let [x, y, z] = std::array::from_fn(|i| {
            let sum: f64 = TO_XYZ[i].iter().zip(light).map(|(m, c)| m * c).sum();
            bent(sum / WHITE[i])
        });
        Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }

    /// ΔE00, the CIEDE2000 difference, with all three weights 1.
    ///
    /// Sharma, Wu, Dalal, *The CIEDE2000 color-difference formula*, Color Res. Appl. 30(1), 21–30
    /// (2005), equations 2 to 22. Either order gives the same.
    ///
    /// ```
    /// use quarterturn_geometry::wood::Lab;
    /// // Pair 1 of the paper's table 1.
    /// let one = Lab { l: 50.0, a: 2.6772, b: -79.7751 };
    /// let two = Lab { l: 50.0, a: 0.0, b: -82.7485 };
    /// assert!((one.difference(&two) - 2.0425).abs() < 1e-4);
    /// ```
    pub fn difference(&self, other: &Lab) -> f64 {
        let mean_chroma = 0.5 * (self.a.hypot(self.b) + other.a.hypot(other.b));
        let stretch = 1.5 - 0.5 * saturation(mean_chroma);
        let (one, two) = (Polar::of(self, stretch), Polar::of(other, stretch));
        let (chroma, hue) = (0.5 * (one.chroma + two.chroma), one.mean_hue(&two));

        let off = (0.5 * (self.l + other.l) - 50.0).powi(2);
        let weight_l = 1.0 + 0.015 * off / (20.0 + off).sqrt();
        let weight_c = 1.0 + 0.045 * chroma;
        let weight_h = 1.0 + 0.015 * chroma * hue_weight(hue);

        let l = (other.l - self.l) / weight_l;
        let c = (two.chroma - one.chroma) / weight_c;
        let h = one.hue_step(&two) / weight_h;
        (l * l + c * c + h * h + turning(chroma, hue) * c * h).max(0.0).sqrt()
    }
}

/// Chroma and hue (degrees, 0 to 360) after `a` was stretched for near greys.
struct Polar {
    chroma: f64,
    hue: f64,
}

impl Polar {
    fn of(lab: &Lab, stretch: f64) -> Polar {
        let a = stretch * lab.a;
        Polar { chroma: a.hypot(lab.b), hue: lab.b.atan2(a).to_degrees().rem_euclid(360.0) }
    }

    /// A grey has no hue: beside one, the other colour's hue counts.
    fn beside_grey(&self, other: &Polar) -> bool {
        self.chroma * other.chroma == 0.0
    }

    /// The hue between the two, the short way round (equation 14).
    fn mean_hue(&self, other: &Polar) -> f64 {
        let sum = self.hue + other.hue;
        if self.beside_grey(other) {
            sum
        } else if (self.hue - other.hue).abs() <= 180.0 {
            0.5 * sum
        } else if sum < 360.0 {
            0.5 * (sum + 360.0)
        } else {
            0.5 * (sum - 360.0)
        }
    }

    /// ΔH′: the hue difference as a length (equations 10 and 11).
    fn hue_step(&self, other: &Polar) -> f64 {
        if self.beside_grey(other) {
            return 0.0;
        }
        let step = match other.hue - self.hue {
            far if far > 180.0 => far - 360.0,
            far if far < -180.0 => far + 360.0,
            near => near,
        };
        2.0 * (self.chroma * other.chroma).sqrt() * (0.5 * step).to_radians().sin()
    }
}

fn bent(t: f64) -> f64 {
    if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
}

/// √(C⁷ / (C⁷ + 25⁷)): 0 for greys, near 1 for strong colours.
fn saturation(chroma: f64) -> f64 {
    let seventh = (chroma / 25.0).powi(7);
    if seventh.is_infinite() { 1.0 } else { (seventh / (seventh + 1.0)).sqrt() }
}

/// T: how much a step of hue counts at that hue (equation 15).
fn hue_weight(hue: f64) -> f64 {
    let wave = |times: f64, shift: f64| (times * hue + shift).to_radians().cos();
    1.0 - 0.17 * wave(1.0, -30.0) + 0.24 * wave(2.0, 0.0) + 0.32 * wave(3.0, 6.0) - 0.20 * wave(4.0, -63.0)
}

/// R_T: chroma and hue together, in the blues only (equations 16, 17 and 21).
fn turning(chroma: f64, hue: f64) -> f64 {
    let angle = 30.0 * (-((hue - 275.0) / 25.0).powi(2)).exp();
    -(2.0 * angle).to_radians().sin() * 2.0 * saturation(chroma)
}

#[cfg(test)]
mod tests {
    use super::super::sharma::PAIRS;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_published_pairs_come_out_in_both_orders() {
        for (number, (one, two, published)) in PAIRS.iter().enumerate() {
            for (from, to) in [(one, two), (two, one)] {
                let seen = from.difference(to);
                assert!((seen - published).abs() <= 1e-4, "pair {}: {seen}, published {published}", number + 1);
            }
        }
    }

    /// Written by `tests/outside/lab_reference.py`: sRGB bytes; Lab by colour-science with the same
    /// matrix and white; Lab by scikit-image, whose matrix has more decimals.
    const REFERENCE: &str = include_str!("../../../tests/outside/lab_reference.csv");

    #[test]
    fn lab_is_that_of_two_other_libraries() {
        let mut rows = 0;
        for line in REFERENCE.lines().skip(1) {
            let cells: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
            let lab = Lab::of(Colour::from_srgb8([0, 1, 2].map(|i| cells[i] as u8)));
            for (seen, (colour_science, scikit_image)) in
                [lab.l, lab.a, lab.b].iter().zip(cells[3..6].iter().zip(&cells[6..9]))
            {
                assert!((seen - colour_science).abs() <= 1e-4, "{line}: {lab:?}");
                assert!((seen - scikit_image).abs() <= 0.03, "{line}: {lab:?}");
            }
            rows += 1;
        }
        assert!(rows >= 60, "{rows} rows");
    }

    proptest! {
        #[test]
        fn greys_have_no_colour_and_light_lightens(light in 0.0_f32..1.0, more in 1e-3_f32..1.0) {
            let grey = |light: f32| Lab::of(Colour { r: light, g: light, b: light });
            prop_assert!(grey(light).a.abs() < 1e-9 && grey(light).b.abs() < 1e-9);
            prop_assert!(grey(light + more).l > grey(light).l);
        }

        #[test]
        fn no_order_matters_and_nothing_is_not_a_number(
            one in prop::array::uniform3(-1e6_f64..1e6),
            two in prop::array::uniform3(-200.0_f64..200.0),
        ) {
            let [one, two] = [one, two].map(|[l, a, b]| Lab { l, a, b });
            let (there, back) = (one.difference(&two), two.difference(&one));
            prop_assert!(there.is_finite() && there >= 0.0);
            prop_assert!((there - back).abs() <= 1e-9 * there.max(1.0), "{there} and {back}");
            prop_assert_eq!(two.difference(&two), 0.0);
        }
    }
}
