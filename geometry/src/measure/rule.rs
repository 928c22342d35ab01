//! The maker's rule: where a number becomes a fraction.

use super::{Length, Unit};
use thiserror::Error;

/// Which way a length is brought to a mark of the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the nearest mark; a tie goes up.
    Nearest,
    /// To the mark at or below: a stop setting, so that the strips don't run out; a lip, so that
    /// it is never said to be thicker than it is.
    Down,
    /// To the mark at or above: what must be bought, what must be cleared.
    Up,
}

/// Whether what is left beside the mark is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rest {
    /// "full" (a hair over the mark) or "bare" (a hair under), where it is more than a tenth of
    /// the distance between two marks.
    Told,
    /// Nothing: the mark itself is what is set.
    Dropped,
}

/// Why a rule can't be had.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum RuleError {
    /// An inch rule has 1/2 to 1/128 marks.
    #[error("the finest fraction of an inch rule is one of 1/2, 1/4, 1/8, 1/16, 1/32, 1/64, 1/128")]
    NotAnInchMark,
    /// A millimetre rule is read to 1, 0.5, 0.2, 0.1, 0.05, 0.02 or 0.01 mm.
    #[error("the finest step of a millimetre rule is one of 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01 mm")]
    NotAMillimetreStep,
}

/// What a maker reads lengths with: inches to a fraction, or millimetres to a step.
///
/// ```
/// use quarterturn_geometry::measure::{Length, Rest, Rounding, Rule};
/// let rule = Rule::inches(64).unwrap();
/// assert_eq!(rule.show(288.925, Rounding::Nearest, Rest::Told), "11 3/8 in");
/// assert_eq!(rule.show(289.0, Rounding::Nearest, Rest::Told), "11 3/8 in full");
/// assert_eq!(rule.show(25.0, Rounding::Down, Rest::Dropped), "31/32 in");
/// let rule = Rule::millimetres(Length::from_micrometres(500)).unwrap();
/// assert_eq!(rule.show(25.74, Rounding::Up, Rest::Dropped), "26 mm");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rule {
    unit: Unit,
    mark: Length,
}

impl Rule {
    /// An inch rule whose finest mark is 1/`denominator`.
    ///
    /// # Errors
    /// [`RuleError::NotAnInchMark`] unless the denominator is a power of two from 2 to 128.
    pub const fn inches(denominator: i64) -> Result<Self, RuleError> {
        match denominator {
            2 | 4 | 8 | 16 | 32 | 64 | 128 => {
                Ok(Self { unit: Unit::Inch, mark: Length::from_inch_fraction(1, denominator) })
            }
            _ => Err(RuleError::NotAnInchMark),
        }
    }

    /// A millimetre rule with a mark every `step`.
    ///
    /// # Errors
    /// [`RuleError::NotAMillimetreStep`] unless the step is one that rules and calipers have.
    pub fn millimetres(step: Length) -> Result<Self, RuleError> {
        const STEPS: [i64; 7] = [1000, 500, 200, 100, 50, 20, 10];
        if STEPS.iter().any(|um| Length::from_micrometres(*um) == step) {
            Ok(Self { unit: Unit::Millimetre, mark: step })
        } else {
            Err(RuleError::NotAMillimetreStep)
        }
    }

    /// The unit that the rule shows.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// The distance between two of its finest marks.
    #[must_use]
    pub const fn mark(&self) -> Length {
        self.mark
    }

    /// Brings a length to a mark.
    ///
    /// A length that lies within two millionths of a millimetre of a mark (or of the middle between
    /// two) is on it: a computed float must not push a setting to the next mark down.
    #[must_use]
    pub fn round(&self, mm: f64, way: Rounding) -> Length {
        const SAME: f64 = 2e-6;
        let mark = self.mark.mm();
        let steps = match way {
            Rounding::Nearest => ((mm + SAME) / mark + 0.5).floor(),
            Rounding::Down => ((mm + SAME) / mark).floor(),
            Rounding::Up => ((mm - SAME) / mark).ceil(),
        };
        #[allow(clippy::cast_possible_truncation)]
        let steps = steps as i64;
        self.mark * steps
    }

    /// As the maker reads it, with its unit: `1 3/8 in`, `11 3/8 in full`, `206.5 mm`.
    #[must_use]
    pub fn show(&self, mm: f64, way: Rounding, rest: Rest) -> String {
        let at = self.round(mm, way);
        let left = mm - at.mm();
        let told = match rest {
            Rest::Told if left > self.mark.mm() / 10.0 => " full",
            Rest::Told if left < -self.mark.mm() / 10.0 => " bare",
            _ => "",
        };
        format!("{} {}{told}", self.write(at), self.unit_name())
    }

    /// A length too small for any mark, in decimals: thousandths of an inch, hundredths of a millimetre.
    ///
    /// ```
    /// use quarterturn_geometry::measure::Rule;
    /// assert_eq!(Rule::inches(64).unwrap().hair(0.3048), "0.012 in");
    /// ```
    #[must_use]
    pub fn hair(&self, mm: f64) -> String {
        match self.unit {
            Unit::Inch => format!("{:.3} in", mm / 25.4),
            Unit::Millimetre => format!("{mm:.2} mm"),
        }
    }

    /// A length that lies on a mark, without its unit: `1 3/8`, `206.5`.
    ///
    /// Between marks it is brought to the nearest.
    #[must_use]
    pub fn write(&self, length: Length) -> String {
        let on_mark = self.round(length.mm(), Rounding::Nearest);
        match self.unit {
            Unit::Inch => write_fraction(on_mark, self.mark),
            Unit::Millimetre => write_decimal(on_mark, self.mark),
        }
    }

    /// `in` or `mm`.
    #[must_use]
    pub const fn unit_name(&self) -> &'static str {
        match self.unit {
            Unit::Inch => "in",
            Unit::Millimetre => "mm",
        }
    }

    /// Whole number and reduced fraction apart, for paper that stacks the fraction:
    /// (negative, whole, numerator, denominator); numerator 0 where it is a whole number.
    #[must_use]
    pub fn stacked(&self, length: Length) -> (bool, i64, i64, i64) {
        let steps = self.round(length.mm(), Rounding::Nearest).ticks() / self.mark.ticks();
        let per_unit = match self.unit {
            Unit::Inch => Length::TICKS_PER_INCH / self.mark.ticks(),
            Unit::Millimetre => 1,
        };
        let (whole, mut top, mut bottom) = (steps.abs() / per_unit, steps.abs() % per_unit, per_unit);
        while top != 0 && top % 2 == 0 {
            top /= 2;
            bottom /= 2;
        }
        (steps < 0, whole, top, bottom)
    }
}

fn write_fraction(on_mark: Length, mark: Length) -> String {
    let (negative, whole, top, bottom) = Rule { unit: Unit::Inch, mark }.stacked(on_mark);
    let sign = if negative { "-" } else { "" };
    match (whole, top) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{top}/{bottom}"),
        _ => format!("{sign}{whole} {top}/{bottom}"),
    }
}

fn write_decimal(on_mark: Length, mark: Length) -> String {
    let decimals = match mark.ticks() {
        t if t % Length::TICKS_PER_MM == 0 => 0,
        t if t % (Length::TICKS_PER_MM / 10) == 0 => 1,
        _ => 2,
    };
    let text = format!("{:.decimals$}", on_mark.mm());
    let text = if decimals > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Section 9 of the project's table of facts: 1 in = 25.4 mm exactly, k = floor(x·d + 1/2), reduced;
    /// ties go up. Computed by hand from the definition.
    #[test]
    fn millimetres_to_the_nearest_fraction() {
        let rows = [
            (2.4, ["1/8", "3/32", "3/32"]),
            (3.2, ["1/8", "1/8", "1/8"]),
            (10.0, ["3/8", "13/32", "25/64"]),
            (18.0, ["11/16", "23/32", "45/64"]),
            (19.05, ["3/4", "3/4", "3/4"]),
            (20.0, ["13/16", "25/32", "25/32"]),
            (25.0, ["1", "31/32", "63/64"]),
            (40.0, ["1 9/16", "1 9/16", "1 37/64"]),
            (45.0, ["1 3/4", "1 25/32", "1 49/64"]),
            (300.0, ["11 13/16", "11 13/16", "11 13/16"]),
            (457.2, ["18", "18", "18"]),
            (0.03125 * 25.4, ["1/16", "1/32", "1/32"]),
            (0.984375 * 25.4, ["1", "1", "63/64"]),
            (1.96875 * 25.4, ["2", "1 31/32", "1 31/32"]),
        ];
        for (mm, shown) in rows {
            for (d, want) in [16, 32, 64].into_iter().zip(shown) {
                let rule = Rule::inches(d).unwrap();
                assert_eq!(rule.write(rule.round(mm, Rounding::Nearest)), want, "{mm} at 1/{d}");
            }
        }
    }

    #[test]
    fn full_and_bare_say_where_the_rest_lies() {
        let rule = Rule::inches(16).unwrap();
        assert_eq!(rule.show(25.4 + 0.5, Rounding::Nearest, Rest::Told), "1 in full");
        assert_eq!(rule.show(25.4 - 0.5, Rounding::Nearest, Rest::Told), "1 in bare");
        assert_eq!(rule.show(25.4 + 0.1, Rounding::Nearest, Rest::Told), "1 in");
        assert_eq!(rule.show(-12.7, Rounding::Nearest, Rest::Told), "-1/2 in");
    }

    #[test]
    fn rules_that_nobody_has_are_refused() {
        assert_eq!(Rule::inches(10), Err(RuleError::NotAnInchMark));
        assert_eq!(Rule::millimetres(Length::from_micrometres(300)), Err(RuleError::NotAMillimetreStep));
    }

    proptest! {
        #[test]
        fn a_length_on_the_grid_survives_printing_and_parsing(steps in -7_000i64..7_000, power in 1u32..8) {
            let rule = Rule::inches(2_i64.pow(power)).unwrap();
            let length = rule.mark() * steps;
            prop_assert_eq!(Length::parse(&rule.write(length), Unit::Inch), Ok(length));
            prop_assert_eq!(Length::parse(&rule.show(length.mm(), Rounding::Down, Rest::Told), Unit::Millimetre), Ok(length));
        }

        #[test]
        fn so_does_one_in_millimetres(steps in -100_000i64..100_000, which in 0usize..7) {
            let rule = Rule::millimetres(Length::from_micrometres([1000, 500, 200, 100, 50, 20, 10][which])).unwrap();
            let length = rule.mark() * steps;
            prop_assert_eq!(Length::parse(&rule.write(length), Unit::Millimetre), Ok(length));
            prop_assert_eq!(Length::parse(&rule.show(length.mm(), Rounding::Up, Rest::Dropped), Unit::Inch), Ok(length));
        }

        #[test]
        fn rounding_never_errs_to_the_unsafe_side(mm in -3000.0..3000.0f64, power in 1u32..8) {
            let rule = Rule::inches(2_i64.pow(power)).unwrap();
            let (down, up) = (rule.round(mm, Rounding::Down).mm(), rule.round(mm, Rounding::Up).mm());
            prop_assert!(down <= mm + 2e-6 && mm - down < rule.mark().mm());
            prop_assert!(up >= mm - 2e-6 && up - mm < rule.mark().mm());
        }
    }
}
