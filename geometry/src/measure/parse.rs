//! What a maker writes for a length.

use super::Length;
use thiserror::Error;

/// The unit of a plan, or of one length that names its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// 25.4 mm.
    Inch,
    /// Millimetre.
    Millimetre,
}

/// Why a text is not a length.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum LengthError {
    /// Not of any of the forms that [`Length::parse`] lists.
    #[error("this is not a length")]
    NotALength,
    /// A fraction over zero.
    #[error("a fraction can't have a denominator of 0")]
    ZeroDenominator,
    /// Finer than 1/3200 µm, so that it can't be held exactly.
    #[error("this is finer than 1/1024 in, 0.0001 in or 0.001 mm and can't be kept exactly")]
    TooFine,
    /// Longer than [`Length::MOST`].
    #[error("this is longer than 100 m")]
    TooLong,
}

impl Length {
    /// Reads a length as a maker writes it.
    ///
    /// | written | means |
    /// |---|---|
    /// | `1.375`, `12` | in the plan's unit |
    /// | `1 3/8`, `1-3/8`, `13/16`, `⅞`, `1⅞` | inches, in any plan: nobody writes a bare fraction of a millimetre |
    /// | `1 3/8"`, `1.375 in`, `1.375in` | inches |
    /// | `35 mm`, `3.5 cm`, `1/2 mm` | as they say |
    ///
    /// A decimal comma is taken for a decimal point, a leading `-` for a minus.
    ///
    /// # Errors
    /// [`LengthError`] where the text has another form, is finer than a tick or longer than 100 m.
    ///
    /// ```
    /// use quarterturn_geometry::measure::{Length, LengthError, Unit};
    /// let inch = |s| Length::parse(s, Unit::Inch);
    /// let eleven_eighths = Ok(Length::from_inch_fraction(11, 8));
    /// for written in ["1 3/8", "1-3/8", "1 3/8\"", "1⅜", "1.375", "1.375 in", "34.925 mm", "3.4925 cm"] {
    ///     assert_eq!(inch(written), eleven_eighths, "{written}");
    /// }
    /// assert_eq!(Length::parse("1 3/8", Unit::Millimetre), eleven_eighths);
    /// assert_eq!(Length::parse("35", Unit::Millimetre), Length::parse("3.5 cm", Unit::Inch));
    /// assert_eq!(inch("1/3"), Err(LengthError::TooFine));
    /// ```
    pub fn parse(written: &str, unit: Unit) -> Result<Self, LengthError> {
        let text = written.trim();
        let (text, negative) = match text.strip_prefix(['-', '−']) {
            Some(rest) => (rest.trim_start(), true),
            None => (text, false),
        };
        let (number, named) = split_unit(text);
        let amount = Amount::parse(number.trim_end())?;
        let ticks_per_unit = match (named, amount.is_fraction) {
            (Some(ticks), _) => ticks,
            (None, true) => Self::TICKS_PER_INCH,
            (None, false) => ticks_per(unit),
        };
        let length = amount.of(ticks_per_unit)?;
        Ok(if negative { -length } else { length })
    }

    /// As a maker writes it in a plan of this unit, so that [`Length::parse`] reads just this length again: inches as a
    /// fraction, else as a decimal; millimetres as a decimal of up to three digits; what fits neither in the other unit,
    /// which it then names.
    ///
    /// ```
    /// use quarterturn_geometry::measure::{Length, Unit};
    /// let quarter = Length::from_inch_fraction(-5, 4);
    /// assert_eq!(quarter.written(Unit::Inch), "-1 1/4");
    /// assert_eq!(quarter.written(Unit::Millimetre), "-31.75");
    /// assert_eq!(Length::from_micrometres(12_000).written(Unit::Inch), "12 mm");
    /// assert_eq!(Length::from_inch_fraction(3, 32).written(Unit::Millimetre), "3/32");
    /// ```
    #[must_use]
    pub fn written(self, unit: Unit) -> String {
        let ticks = self.ticks().unsigned_abs();
        let sign = if self.is_negative() { "-" } else { "" };
        let number = match unit {
            Unit::Inch => fraction(ticks).or_else(|| in_decimals(ticks, 10_000, Self::TICKS_PER_INCH)),
            Unit::Millimetre => in_decimals(ticks, 1_000, Self::TICKS_PER_MM).or_else(|| fraction(ticks)),
        };
        // A tick is 1/3 200 000 mm, which ten digits hold.
        let named = || in_decimals(ticks, 10_000_000_000, Self::TICKS_PER_MM).map(|number| format!("{number} mm"));
        format!("{sign}{}", number.or_else(named).unwrap_or_default())
    }
}

/// Inches as a fraction of up to 1024 parts, where that is exact; whole inches without one.
fn fraction(ticks: u64) -> Option<String> {
    let inch = Length::TICKS_PER_INCH.unsigned_abs();
    let part = inch / 1024;
    let (whole, parts) = (ticks / inch, ticks % inch / part);
    let even = parts.trailing_zeros().min(10);
    let (over, under) = (parts >> even, 1024_u64 >> even);
    let exact = ticks.is_multiple_of(part);
    exact.then(|| match (whole, parts) {
        (whole, 0) => whole.to_string(),
        (0, _) => format!("{over}/{under}"),
        (whole, _) => format!("{whole} {over}/{under}"),
    })
}

/// So many of `unit` as a decimal, down to one part in `parts` (a power of ten), where that is exact.
fn in_decimals(ticks: u64, parts: u64, unit: i64) -> Option<String> {
    let unit = u128::from(unit.unsigned_abs());
    let all = u128::from(ticks) * u128::from(parts);
    if !all.is_multiple_of(unit) {
        return None;
    }
    let (whole, rest) = (all / unit / u128::from(parts), all / unit % u128::from(parts));
    let digits = parts.ilog10() as usize;
    let decimals = format!("{rest:0digits$}");
    let decimals = decimals.trim_end_matches('0');
    Some(if decimals.is_empty() { whole.to_string() } else { format!("{whole}.{decimals}") })
}

const fn ticks_per(unit: Unit) -> i64 {
    match unit {
        Unit::Inch => Length::TICKS_PER_INCH,
        Unit::Millimetre => Length::TICKS_PER_MM,
    }
}

/// Splits a trailing unit off; `None` where the text names none.
fn split_unit(text: &str) -> (&str, Option<i64>) {
    const UNITS: [(&str, i64); 7] = [
        ("mm", Length::TICKS_PER_MM),
        ("cm", 10 * Length::TICKS_PER_MM),
        ("inches", Length::TICKS_PER_INCH),
        ("inch", Length::TICKS_PER_INCH),
        ("in", Length::TICKS_PER_INCH),
        ("\"", Length::TICKS_PER_INCH),
        ("″", Length::TICKS_PER_INCH),
    ];
    UNITS
        .iter()
        .find_map(|(name, ticks)| text.strip_suffix(name).map(|rest| (rest, Some(*ticks))))
        .unwrap_or((text, None))
}

/// A number as a fraction of whole numbers, before its unit is known.
struct Amount {
    numerator: i128,
    denominator: i128,
    is_fraction: bool,
}

impl Amount {
    fn parse(text: &str) -> Result<Self, LengthError> {
        if let Some(amount) = Self::vulgar(text) {
            return amount;
        }
        if text.contains('/') { Self::fraction(text) } else { Self::decimal(text) }
    }

    /// `⅞` or `1⅞` or `1 ⅞`: one character for the fraction.
    fn vulgar(text: &str) -> Option<Result<Self, LengthError>> {
        let last = text.chars().next_back()?;
        let (n, d) = vulgar_fraction(last)?;
        let before = text.strip_suffix(last)?.trim_end().trim_end_matches('-');
        let whole = if before.is_empty() { Ok(0) } else { whole_number(before) };
        Some(whole.map(|w| Self { numerator: w * d + n, denominator: d, is_fraction: true }))
    }

    /// `13/16`, `1 3/8`, `1-3/8`.
    fn fraction(text: &str) -> Result<Self, LengthError> {
        let (top, bottom) = text.split_once('/').ok_or(LengthError::NotALength)?;
        let (whole, top) = match top.trim_end().rsplit_once([' ', '-']) {
            Some((whole, top)) => (whole_number(whole.trim_end())?, top),
            None => (0, top.trim_end()),
        };
        let (n, d) = (whole_number(top)?, whole_number(bottom.trim_start())?);
        if d == 0 {
            return Err(LengthError::ZeroDenominator);
        }
        Ok(Self { numerator: whole * d + n, denominator: d, is_fraction: true })
    }

    /// `12`, `1.375`, `.5`, `1,375`.
    fn decimal(text: &str) -> Result<Self, LengthError> {
        let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
        if whole.is_empty() && part.is_empty() {
            return Err(LengthError::NotALength);
        }
        let part = part.trim_end_matches('0');
        let digits = |s: &str| if s.is_empty() { Ok(0) } else { whole_number(s) };
        let scale = 10_i128.pow(u32::try_from(part.len()).map_err(|_| LengthError::TooFine)?.min(18));
        Ok(Self { numerator: digits(whole)? * scale + digits(part)?, denominator: scale, is_fraction: false })
    }

    /// So many units of `ticks` ticks each, if that is a whole number of ticks.
    fn of(&self, ticks: i64) -> Result<Length, LengthError> {
        let product = self.numerator.checked_mul(i128::from(ticks)).ok_or(LengthError::TooLong)?;
        if product / self.denominator > i128::from(Length::MOST.ticks()) {
            return Err(LengthError::TooLong);
        }
        if product % self.denominator != 0 {
            return Err(LengthError::TooFine);
        }
        i64::try_from(product / self.denominator).map(Length::from_ticks).map_err(|_| LengthError::TooLong)
    }
}

/// Digits only, at most 15 of them.
fn whole_number(text: &str) -> Result<i128, LengthError> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(LengthError::NotALength);
    }
    if text.len() > 15 {
        return Err(LengthError::TooLong);
    }
    text.parse().map_err(|_| LengthError::NotALength)
}

/// The fractions that Unicode has a character for (blocks Latin-1 Supplement and Number Forms).
fn vulgar_fraction(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅒' => (1, 10),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_not_a_length_is_refused() {
        for text in [
            "", " ", "-", "in", "mm", "1/", "/2", "1 / / 2", "1..2", "1e3", "NaN", "inf", "0x10", "1 2", "a",
            "1 3/8 ft", "--1", "⅞⅞", "1.2/3", "1_000",
        ] {
            assert_eq!(Length::parse(text, Unit::Inch), Err(LengthError::NotALength), "{text:?}");
        }
        assert_eq!(Length::parse("1/0", Unit::Inch), Err(LengthError::ZeroDenominator));
        assert_eq!(Length::parse("0.0000001 mm", Unit::Inch), Err(LengthError::TooFine));
        assert_eq!(Length::parse("0.0000000000000000001", Unit::Inch), Err(LengthError::TooLong));
        assert_eq!(Length::parse("100001", Unit::Millimetre), Err(LengthError::TooLong));
        assert_eq!(Length::parse("999999999999999", Unit::Inch), Err(LengthError::TooLong));
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_as_just_that_length(
            ticks in prop_oneof![-400_000_000_i64..400_000_000, -320_000_000_000_i64..320_000_000_000],
            grid in prop::sample::select(vec![1_i64, 3_200, 8_128, 79_375, 3_200_000, 81_280_000 / 64]),
        ) {
            let length = Length::from_ticks(ticks / grid * grid);
            for unit in [Unit::Inch, Unit::Millimetre] {
                let written = length.written(unit);
                prop_assert_eq!(Length::parse(&written, unit), Ok(length), "{}", written);
            }
        }

        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,24}") {
            let _ = Length::parse(&text, Unit::Inch);
        }

        #[test]
        fn what_is_written_is_read_again(ticks in -Length::MOST.ticks()..Length::MOST.ticks(), parts in -100_000i64..100_000) {
            for length in [Length::from_ticks(ticks), Length::from_inch_fraction(parts, 1024), Length::from_micrometres(parts)] {
                for unit in [Unit::Inch, Unit::Millimetre] {
                    prop_assert_eq!(Length::parse(&length.written(unit), unit), Ok(length));
                }
            }
        }

        #[test]
        fn near_lengths_make_no_panic(text in "[-−]?[0-9./⅞ \"inmc,-]{0,40}") {
            let _ = Length::parse(&text, Unit::Millimetre);
        }
    }
}
