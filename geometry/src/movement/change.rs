//! How far a length changes between two moisture contents.

use super::Moisture;
use crate::wood::{Movement, shrinkage_of};

/// Change of a length per point of moisture content, as a share of it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Coefficient(pub f64);

/// Where the coefficients were fitted: from 6 to 14 % (Wood Handbook, chapter 13).
const FITTED: std::ops::RangeInclusive<f64> = 6.0..=14.0;
/// The fibre saturation point: wood wetter than this no longer swells (Wood Handbook, after equation 13-3).
const SATURATED: f64 = 30.0;

/// The coefficient in a direction whose angle with the ring normal has this squared cosine:
/// C = C_R·cos²θ + C_T·sin²θ.
///
/// θ = 0 runs across the rings and gives C_R, a right angle along them and gives C_T. First order,
/// without the shear of rings that lie aslant: the strain of a plane turned by θ.
///
/// ```
/// use quarterturn_geometry::movement::{Coefficient, across};
/// let maple = [Coefficient(0.00165), Coefficient(0.00353)]; // radial, tangential
/// assert_eq!(across(maple, 1.0), maple[0]);
/// assert_eq!(across(maple, 0.0), maple[1]);
/// assert!((across(maple, 0.5).0 - 0.00259).abs() < 1e-12); // rift-sawn
/// ```
#[must_use]
pub fn across([radial, tangential]: [Coefficient; 2], cosine_squared: f64) -> Coefficient {
    Coefficient(radial.0 * cosine_squared + tangential.0 * (1.0 - cosine_squared))
}

impl Coefficient {
    /// Radial and tangential, of a wood's published movement. Where only one is known it stands for
    /// both; `None` where neither is.
    #[must_use]
    pub fn both(movement: &Movement) -> Option<[Self; 2]> {
        let one = movement.tangential.or(movement.radial)?;
        let value = |known: Option<crate::wood::Published>| Self(known.unwrap_or(one).value);
        Some([value(movement.radial), value(movement.tangential)])
    }
}

/// How far a length (mm) changes from one moisture content to another, mm; above 0 it swells.
///
/// Between 6 and 14 %: ΔD = D·C·(M_F − M_I), the Wood Handbook's equation 13-2. Beyond, its
/// equation 13-3 with the shrinkage that belongs to C: ΔD = D·(M_F − M_I) / (3000/S − 30 + M_I); no
/// more than the 30 % at which swelling ends.
///
/// The Handbook's worked example, chapter 13: white fir, flat-sawn, 232 mm wide (9.15 in), from 8 to
/// 11 %, C_T 0.00245, grows by 1.7 mm (0.067 in) to 233.7 mm:
///
/// ```
/// use quarterturn_geometry::movement::{Coefficient, Moisture, change};
/// let grows = change(232.0, Coefficient(0.00245), Moisture(8.0), Moisture(11.0));
/// assert!((grows - 1.7).abs() < 0.05 && (232.0 + grows - 233.7).abs() < 0.05);
/// let inches = change(9.15 * 25.4, Coefficient(0.00245), Moisture(8.0), Moisture(11.0)) / 25.4;
/// assert!((inches - 0.067).abs() < 0.0005 && (9.15 + inches - 9.217).abs() < 0.0005);
/// ```
#[must_use]
pub fn change(length: f64, coefficient: Coefficient, from: Moisture, to: Moisture) -> f64 {
    let (from, to) = (from.0.clamp(0.0, SATURATED), to.0.clamp(0.0, SATURATED));
    if coefficient.0 <= 0.0 {
        return 0.0;
    }
    if FITTED.contains(&from) && FITTED.contains(&to) {
        return length * coefficient.0 * (to - from);
    }
    let shrinkage = shrinkage_of(coefficient.0);
    length * (to - from) / (3000.0 / shrinkage - SATURATED + from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wood::WoodData;
    use proptest::prelude::*;

    /// Beyond 6 to 14 % the second equation is used; at 10 % both agree to the last digit, and over
    /// the range they differ by little. Worked apart: 300 mm of sugar maple, tangential, 7 to 9 %:
    /// 2.118 by 13-2, 2.143 by 13-3; white oak's own 10.5 %, 8 to 20 %: 13.651.
    #[test]
    fn the_two_equations_agree_where_they_meet() {
        let by_second = |c: f64, from: f64, to: f64| 300.0 * (to - from) / (3000.0 / shrinkage_of(c) - 30.0 + from);
        assert!((by_second(crate::wood::coefficient_of(9.9), 7.0, 9.0) - 2.143).abs() < 1e-3);
        assert!((change(300.0, Coefficient(0.00353), Moisture(7.0), Moisture(9.0)) - 2.118).abs() < 1e-9);
        assert!((by_second(0.00353, 10.0, 11.0) - 300.0 * 0.00353).abs() < 1e-12);
        let oak = Coefficient(crate::wood::coefficient_of(10.5));
        assert!((change(300.0, oak, Moisture(8.0), Moisture(20.0)) - 13.651).abs() < 5e-4);
        // The flooring trade's worked example: 5 in, 0.00129, 6 to 9 %: 0.019 in.
        assert!((change(5.0, Coefficient(0.00129), Moisture(6.0), Moisture(9.0)) - 0.019_35).abs() < 1e-9);
    }

    #[test]
    fn one_known_coefficient_stands_for_both() {
        let both = |name: &str| Coefficient::both(&WoodData::named(name).unwrap().movement());
        assert_eq!(both("hard maple"), Some([Coefficient(0.00165), Coefficient(0.00353)]));
        let movement = WoodData::named("hard maple").unwrap().movement();
        let [radial, tangential] = Coefficient::both(&Movement { radial: None, ..movement }).unwrap();
        assert_eq!((radial, tangential), (Coefficient(0.00353), Coefficient(0.00353)));
        assert_eq!(Coefficient::both(&Movement { radial: None, tangential: None }), None);
    }

    proptest! {
        #[test]
        fn wetter_is_never_smaller(a in 0.0..35.0f64, b in 0.0..35.0f64, c in 0.0005..0.006f64) {
            let grows = change(300.0, Coefficient(c), Moisture(a), Moisture(b));
            let right_way = if b >= a { grows >= 0.0 } else { grows <= 0.0 };
            prop_assert!(right_way);
        }

        #[test]
        fn a_slanted_direction_lies_between_the_two(cosine in 0.0..=1.0f64) {
            let of = across([Coefficient(0.001), Coefficient(0.003)], cosine);
            prop_assert!((0.001..=0.003).contains(&of.0));
        }
    }
}
