//! An exact length.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length, exact, as a whole number of ticks of 1/3200 µm.
///
/// The tick divides 1/1024 in (79 375 ticks), 0.0001 in (8 128) and 0.001 mm (3 200), so that
/// anything a maker types in either system, and any sum of it, is held without rounding.
/// 1 in = 25.4 mm by definition (international inch, 1959).
///
/// ```
/// use quarterturn_geometry::measure::Length;
/// let strip = Length::from_inch_fraction(13, 16);
/// assert_eq!(strip * 10, Length::from_inch_fraction(130, 16));
/// assert_eq!((strip * 10).mm(), 206.375);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// Ticks in a millimetre.
    pub(crate) const TICKS_PER_MM: i64 = 3_200_000;
    /// Ticks in an inch.
    pub(crate) const TICKS_PER_INCH: i64 = 81_280_000;
    /// The longest length that is taken: 100 m. Sums of a million of these stay exact.
    pub const MOST: Self = Self(100_000 * Self::TICKS_PER_MM);

    pub(crate) const fn from_ticks(ticks: i64) -> Self {
        Self(ticks)
    }

    pub(crate) const fn ticks(self) -> i64 {
        self.0
    }

    /// Whole micrometres.
    #[must_use]
    pub const fn from_micrometres(um: i64) -> Self {
        Self(um * 3200)
    }

    /// `numerator`/`denominator` of an inch; the denominator must divide 1024.
    ///
    /// A denominator that does not is an error of the programmer's: the length is cut down to the
    /// next tick toward zero.
    ///
    /// ```
    /// use quarterturn_geometry::measure::Length;
    /// assert_eq!(Length::from_inch_fraction(3, 32).mm(), 2.38125);
    /// ```
    #[must_use]
    pub const fn from_inch_fraction(numerator: i64, denominator: i64) -> Self {
        Self(numerator * Self::TICKS_PER_INCH / denominator)
    }

    /// The nearest tick to so many millimetres: for lengths that were computed, not typed.
    #[must_use]
    pub fn nearest_to_mm(mm: f64) -> Self {
        #[allow(clippy::cast_possible_truncation)]
        Self((mm * Self::TICKS_PER_MM as f64).round() as i64)
    }

    /// In millimetres, as a float (exact below 2⁵³ ticks, which is 2.8 km).
    #[must_use]
    pub fn mm(self) -> f64 {
        // Multiplying by an inverse would round twice; a division rounds once.
        self.0 as f64 / Self::TICKS_PER_MM as f64
    }

    /// In inches, as a float.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 as f64 / Self::TICKS_PER_INCH as f64
    }

    /// True for a length above zero.
    #[must_use]
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// True for a length below zero.
    #[must_use]
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// How often `part` goes into this length, rounded down; 0 where either is not positive.
    ///
    /// ```
    /// use quarterturn_geometry::measure::Length;
    /// let mm = |n: i64| Length::from_micrometres(n * 1000);
    /// assert_eq!(mm(100).whole_parts(mm(33)), 3);
    /// assert_eq!(mm(100).whole_parts(Length::ZERO), 0);
    /// ```
    #[must_use]
    pub const fn whole_parts(self, part: Self) -> i64 {
        if self.0 <= 0 || part.0 <= 0 { 0 } else { self.0 / part.0 }
    }

    /// One `n`-th of this length, rounded down to a tick (a tick is a third of a nanometre).
    #[must_use]
    pub const fn divided_by(self, n: i64) -> Self {
        Self(self.0.div_euclid(n))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tick_holds_every_grid_a_maker_uses() {
        assert_eq!(Length::TICKS_PER_INCH % 1024, 0);
        assert_eq!(Length::TICKS_PER_INCH % 10_000, 0);
        assert_eq!(Length::TICKS_PER_MM % 1000, 0);
        assert_eq!(Length::TICKS_PER_INCH * 10, Length::TICKS_PER_MM * 254);
    }

    #[test]
    fn common_practice_ten_and_sixteen_strips_of_thirteen_sixteenths() {
        // Common practice, no source: 10 strips of 13/16 make 8 1/8 in, 16 make 13 in, 14 make 11 3/8.
        let strip = Length::from_inch_fraction(13, 16);
        assert_eq!(strip * 10, Length::from_inch_fraction(65, 8));
        assert_eq!(strip * 16, Length::from_inch_fraction(13, 1));
        assert_eq!(strip * 14, Length::from_inch_fraction(91, 8));
    }
}
