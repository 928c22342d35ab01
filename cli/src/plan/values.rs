//! Values of a section: lengths, words, numbers, with their defaults from the table of keys.

use super::keys::{Bounds, Fill, Kind, Least, quoted};
use super::reader::{Found, Section, Value};
use super::suggest::nearest;
use quarterturn_geometry::measure::{Length, LengthError, Unit};
use quarterturn_geometry::movement::Celsius;
use quarterturn_geometry::wood::Colour;
use toml::de::DeValue;

/// The most points of one line.
pub(super) const MOST_POINTS: usize = 5000;

impl<'a> Section<'a> {
    /// A length that is always there: written, or the table's default.
    pub(super) fn length(&self, name: &str) -> Length {
        debug_assert!(matches!(self.key(name).fill, Fill::Required | Fill::Value(_) | Fill::Lengths(..)), "{name}");
        self.maybe_length(name).unwrap_or_default()
    }

    /// A length, where there is one.
    pub(super) fn maybe_length(&self, name: &str) -> Option<Length> {
        let Kind::Length(bounds) = self.key(name).kind else { return self.not_so(name) };
        match self.find(name) {
            Found::Value(value) => self.read_length(name, value, bounds),
            Found::Absent => self.default_length(name),
            Found::Broken => None,
        }
    }

    /// One length for two places, or two.
    pub(super) fn pair(&self, name: &str) -> [Length; 2] {
        let Kind::Pair(_, _, bounds) = self.key(name).kind else { return self.not_so(name).unwrap_or_default() };
        let Found::Value(value) = self.find(name) else {
            return [self.default_length(name).unwrap_or_default(); 2];
        };
        match value.get_ref() {
            DeValue::Array(_) => self.read_lengths(name, value, bounds).unwrap_or_default(),
            _ => [self.read_length(name, value, bounds).unwrap_or_default(); 2],
        }
    }

    /// A list of exactly so many lengths.
    pub(super) fn lengths<const N: usize>(&self, name: &str) -> Option<[Length; N]> {
        let Kind::Lengths(_, bounds) = self.key(name).kind else { return self.not_so(name) };
        match self.find(name) {
            Found::Value(value) => self.read_lengths(name, value, bounds),
            Found::Absent => self.default_lengths(name),
            Found::Broken => None,
        }
    }

    /// A line of points, where there is one: at least `least` points.
    pub(super) fn line<const N: usize>(&self, name: &str, least: usize) -> Option<Vec<[Length; N]>> {
        let Kind::Line(names, bounds) = self.key(name).kind else { return self.not_so(name) };
        debug_assert_eq!(names.len(), N);
        let Found::Value(value) = self.find(name) else { return None };
        let DeValue::Array(points) = value.get_ref() else {
            self.report_kind(name, value);
            return None;
        };
        if points.len() < least || points.len() > MOST_POINTS {
            let right = format!("a line has {least} to {MOST_POINTS} points");
            self.report(name, format!("{} points in a line", points.len()), right);
            return None;
        }
        // The first that is wrong is told: where one is, the others often are.
        points.iter().map(|point| self.point(name, point, names, bounds)).collect()
    }

    fn point<const N: usize>(
        &self,
        name: &str,
        point: Value<'a>,
        names: &[&str],
        bounds: Bounds,
    ) -> Option<[Length; N]> {
        match point.get_ref() {
            DeValue::Array(entries) if entries.len() == N => self.read_lengths(name, point, bounds),
            _ => {
                let written = self.reading.quote(point.span());
                let right = format!("write each point as [{}]", names.join(", "));
                self.reading.report(self.key(name).path, point.span(), format!("{written} is no point"), right);
                None
            }
        }
    }

    fn read_lengths<const N: usize>(&self, name: &str, value: Value<'a>, bounds: Bounds) -> Option<[Length; N]> {
        let DeValue::Array(entries) = value.get_ref() else {
            self.report_kind(name, value);
            return None;
        };
        if entries.len() != N {
            self.report(
                name,
                format!("there are {} lengths, not {N}", entries.len()),
                self.key(name).kind.right(self.unit()),
            );
            return None;
        }
        let mut all = [Length::ZERO; N];
        let mut good = true;
        for (length, entry) in all.iter_mut().zip(entries.iter()) {
            match self.read_length(name, entry, bounds) {
                Some(read) => *length = read,
                None => good = false,
            }
        }
        good.then_some(all)
    }

    fn read_length(&self, name: &str, value: Value<'a>, bounds: Bounds) -> Option<Length> {
        let parsed = match value.get_ref() {
            DeValue::String(text) => Length::parse(text, self.unit()),
            DeValue::Integer(number) if number.radix() == 10 => Length::parse(bare(number.as_str()), self.unit()),
            DeValue::Float(number) => Length::parse(bare(number.as_str()), self.unit()),
            _ => Err(LengthError::NotALength),
        };
        let written = self.reading.quote(value.span());
        let (what, right) = match parsed {
            Ok(length) => match out_of(length, bounds) {
                None => return Some(length),
                Some(how) => (format!("{written} is {how}"), format!("it must be {}", bounds.range(self.unit()))),
            },
            Err(error) => {
                (wrong(&written, error), format!("{}, {}", super::keys::LENGTH_FORMS, bounds.words(self.unit())))
            }
        };
        self.reading.report(self.key(name).path, value.span(), what, right);
        None
    }

    pub(super) const fn unit(&self) -> Unit {
        if self.reading.metric() { Unit::Millimetre } else { Unit::Inch }
    }

    fn default_text(&self, name: &str) -> Option<&'static str> {
        match self.key(name).fill {
            Fill::Value(text) => Some(text),
            Fill::Lengths(_, metric) if self.reading.metric() => Some(metric),
            Fill::Lengths(inch, _) => Some(inch),
            Fill::Required | Fill::Nothing(_) | Fill::Worked(_) => None,
        }
    }

    fn default_length(&self, name: &str) -> Option<Length> {
        self.worked_length(self.default_text(name)?)
    }

    /// A default as the table writes it.
    pub(super) fn worked_length(&self, text: &str) -> Option<Length> {
        let length = Length::parse(text, self.unit());
        debug_assert!(length.is_ok(), "{text}");
        length.ok()
    }

    fn default_lengths<const N: usize>(&self, name: &str) -> Option<[Length; N]> {
        let all: Vec<Length> = self.default_text(name)?.split(", ").filter_map(|t| self.worked_length(t)).collect();
        debug_assert_eq!(all.len(), N);
        all.try_into().ok()
    }

    /// A text, where there is one.
    pub(super) fn text(&self, name: &str) -> Option<String> {
        let most = match self.key(name).kind {
            Kind::Text(most) => most,
            Kind::Name => 40,
            _ => return self.not_so(name),
        };
        let value = match self.find(name) {
            Found::Value(value) => value,
            Found::Absent => return self.default_text(name).map(str::to_owned),
            Found::Broken => return None,
        };
        match value.get_ref() {
            DeValue::String(text) if fits(text, most) => Some(text.trim().to_owned()),
            DeValue::Integer(number) if self.is_name(name) && number.as_str().len() <= most && number.radix() == 10 => {
                Some(bare(number.as_str()).to_owned())
            }
            DeValue::String(_) => {
                self.report(
                    name,
                    format!("{} is empty, too long or has control characters", self.reading.quote(value.span())),
                    self.key(name).kind.right(self.unit()),
                );
                None
            }
            _ => {
                self.report_kind(name, value);
                None
            }
        }
    }

    fn is_name(&self, name: &str) -> bool {
        matches!(self.key(name).kind, Kind::Name)
    }

    /// One of the key's words, as the meaning that stands at its place; the default where there is
    /// nothing or nothing good.
    pub(super) fn choice<T: Copy + Default>(&self, name: &str, meanings: &[T]) -> T {
        self.maybe_choice(name, meanings).unwrap_or_default()
    }

    /// The same, where there is one.
    pub(super) fn maybe_choice<T: Copy>(&self, name: &str, meanings: &[T]) -> Option<T> {
        let Kind::Choice(words) = self.key(name).kind else { return self.not_so(name) };
        debug_assert_eq!(words.len(), meanings.len(), "{name}");
        let at = match self.find(name) {
            Found::Value(value) => self.read_word(name, value, words)?,
            Found::Absent => words.iter().position(|word| Some(*word) == self.default_text(name))?,
            Found::Broken => return None,
        };
        meanings.get(at).copied()
    }

    /// One or several of the key's words.
    pub(super) fn choices<T: Copy>(&self, name: &str, meanings: &[T]) -> Option<Vec<T>> {
        let Kind::Choices(words) = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let one = |value| self.read_word(name, value, words).and_then(|at| meanings.get(at).copied());
        match value.get_ref() {
            DeValue::Array(entries) if entries.is_empty() || entries.len() > words.len() => {
                self.report(
                    name,
                    format!("{} entries in the list", entries.len()),
                    self.key(name).kind.right(self.unit()),
                );
                None
            }
            DeValue::Array(entries) => {
                let all: Vec<Option<T>> = entries.iter().map(one).collect();
                all.into_iter().collect()
            }
            _ => Some(vec![one(value)?]),
        }
    }

    fn read_word(&self, name: &str, value: Value<'a>, words: &[&str]) -> Option<usize> {
        let DeValue::String(text) = value.get_ref() else {
            self.report_kind(name, value);
            return None;
        };
        let at = words.iter().position(|word| word.eq_ignore_ascii_case(text.trim()));
        if at.is_none() {
            let meant = nearest(text, words.iter().copied()).map(|word| format!("did you mean \"{word}\"? "));
            let what = format!("{} is not {}", self.reading.quote(value.span()), self.key(name).kind.called());
            let right = format!("{}write {}", meant.unwrap_or_default(), quoted(words, "or"));
            self.reading.report(self.key(name).path, value.span(), what, right);
        }
        at
    }

    /// True or false, where it is said.
    pub(super) fn switch(&self, name: &str) -> Option<bool> {
        let Kind::Switch = self.key(name).kind else { return self.not_so(name) };
        match self.find(name) {
            Found::Value(value) => match value.get_ref() {
                DeValue::Boolean(on) => Some(*on),
                _ => {
                    self.report_kind(name, value);
                    None
                }
            },
            Found::Absent => self.default_text(name).map(|text| text == "true"),
            Found::Broken => None,
        }
    }

    /// A whole number, where there is one.
    pub(super) fn whole(&self, name: &str) -> Option<i64> {
        let Kind::Whole(least, most) = self.key(name).kind else { return self.not_so(name) };
        let value = match self.find(name) {
            Found::Value(value) => value,
            Found::Absent => return self.default_text(name).and_then(|text| text.parse().ok()),
            Found::Broken => return None,
        };
        let DeValue::Integer(number) = value.get_ref() else {
            self.report_kind(name, value);
            return None;
        };
        let number = i64::from_str_radix(number.as_str(), number.radix()).ok().filter(|n| (least..=most).contains(n));
        if number.is_none() {
            let written = self.reading.quote(value.span());
            let what = if written.starts_with('-') || written == "0" { "too small" } else { "out of range" };
            self.report(name, format!("{written} is {what}"), self.key(name).kind.right(self.unit()));
        }
        number
    }

    /// The same as a smaller kind of number.
    pub(super) fn small<T: TryFrom<i64>>(&self, name: &str) -> Option<T> {
        self.whole(name).and_then(|number| T::try_from(number).ok())
    }

    /// A number in per cent, where there is one.
    pub(super) fn percent(&self, name: &str) -> Option<f64> {
        let Kind::Percent = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let percent = number(value).filter(|n| (0.0..=100.0).contains(n));
        if percent.is_none() {
            self.report_kind(name, value);
        }
        percent
    }

    /// A share from 0 to 1, or in per cent.
    pub(super) fn share(&self, name: &str) -> Option<f64> {
        let Kind::Share = self.key(name).kind else { return self.not_so(name) };
        let value = match self.find(name) {
            Found::Value(value) => value,
            Found::Absent => return self.default_text(name).and_then(|text| text.parse().ok()),
            Found::Broken => return None,
        };
        let share = match value.get_ref() {
            DeValue::String(text) => {
                text.trim().strip_suffix('%').and_then(|t| t.trim().parse::<f64>().ok()).map(|p| p / 100.0)
            }
            _ => number(value),
        };
        let share = share.filter(|share| (0.0..=1.0).contains(share));
        if share.is_none() {
            self.report_kind(name, value);
        }
        share
    }

    /// A number, where there is one.
    pub(super) fn number(&self, name: &str) -> Option<f64> {
        let Kind::Number(least, most) = self.key(name).kind else { return self.not_so(name) };
        let value = match self.find(name) {
            Found::Value(value) => value,
            Found::Absent => return self.default_text(name).and_then(|text| text.parse().ok()),
            Found::Broken => return None,
        };
        let read = number(value).filter(|n| (least..=most).contains(n));
        if read.is_none() {
            self.report_kind(name, value);
        }
        read
    }

    /// A temperature, where there is one.
    pub(super) fn temperature(&self, name: &str) -> Option<Celsius> {
        let Kind::Temperature = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let read = match value.get_ref() {
            DeValue::String(text) => temperature(text, self.reading.metric()),
            _ => number(value).map(|degrees| of_unit(degrees, self.reading.metric())),
        };
        let read = read.filter(|read| (30.0..=140.0).contains(&read.fahrenheit()));
        if read.is_none() {
            self.report_kind(name, value);
        }
        read
    }

    /// A list of exactly so many numbers, where there is one.
    pub(super) fn numbers<const N: usize>(&self, name: &str) -> Option<[f64; N]> {
        let Kind::Numbers(_) = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let read = numbers(value);
        if read.is_none() {
            self.report_kind(name, value);
        }
        read
    }

    /// Four points in a picture, where they are given.
    pub(super) fn places(&self, name: &str) -> Option<[[f64; 2]; 4]> {
        let Kind::Places = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let points = value.get_ref().as_array().map(|points| points.iter().map(numbers).collect());
        let read = points.and_then(|points: Option<Vec<[f64; 2]>>| points?.try_into().ok());
        if read.is_none() {
            self.report_kind(name, value);
        }
        read
    }

    /// A colour, where there is one.
    pub(super) fn colour(&self, name: &str) -> Option<Colour> {
        let Kind::Colour = self.key(name).kind else { return self.not_so(name) };
        let Found::Value(value) = self.find(name) else { return None };
        let colour = value.get_ref().as_str().and_then(hexadecimal);
        if colour.is_none() {
            self.report_kind(name, value);
        }
        colour.map(Colour::from_srgb8)
    }

    /// The table says another kind than the reader asks for: a test build stops there.
    fn not_so<T>(&self, name: &str) -> Option<T> {
        debug_assert!(false, "{}: {name} is of another kind", self.path);
        None
    }
}

/// What is wrong with a length.
fn wrong(written: &str, error: LengthError) -> String {
    let error = error.to_string();
    match error.strip_prefix("this ") {
        Some(rest) => format!("{written} {rest}"),
        None => format!("{written}: {error}"),
    }
}

/// `70 F`, `21 °C`; bare as the plan's unit has it.
fn temperature(text: &str, metric: bool) -> Option<Celsius> {
    let text = text.trim();
    let metric = match text.chars().last()? {
        'F' | 'f' => false,
        'C' | 'c' => true,
        _ => metric,
    };
    let degrees = text.trim_end_matches(['F', 'f', 'C', 'c']).trim_end().trim_end_matches('°').trim_end();
    Some(of_unit(degrees.parse().ok()?, metric))
}

fn of_unit(degrees: f64, metric: bool) -> Celsius {
    if metric { Celsius(degrees) } else { Celsius::from_fahrenheit(degrees) }
}

/// A number as TOML gives it, without its plus.
fn bare(number: &str) -> &str {
    number.strip_prefix('+').unwrap_or(number)
}

fn number(value: Value<'_>) -> Option<f64> {
    match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
        DeValue::Float(number) => number.as_str().parse().ok(),
        _ => None,
    }
}

/// Exactly so many numbers in a list.
fn numbers<const N: usize>(value: Value<'_>) -> Option<[f64; N]> {
    let all: Option<Vec<f64>> = value.get_ref().as_array()?.iter().map(number).collect();
    all?.try_into().ok()
}

fn fits(text: &str, most: usize) -> bool {
    !text.trim().is_empty() && text.chars().count() <= most && !text.chars().any(char::is_control)
}

fn hexadecimal(text: &str) -> Option<[u8; 3]> {
    let digits = text.trim().strip_prefix('#').filter(|d| d.len() == 6 && d.bytes().all(|b| b.is_ascii_hexdigit()))?;
    let byte = |i: usize| u8::from_str_radix(digits.get(i..i + 2)?, 16).ok();
    Some([byte(0)?, byte(2)?, byte(4)?])
}

/// How a length lies out of its bounds, if it does.
fn out_of(length: Length, bounds: Bounds) -> Option<&'static str> {
    let most = Length::from_micrometres(bounds.most * 1000);
    let small = match bounds.least {
        Least::Any => length < -most,
        Least::Zero => length.is_negative(),
        Least::AboveZero => !length.is_positive(),
        Least::At(um) => length < Length::from_micrometres(um),
    };
    match (small, length > most) {
        (true, _) => Some("too small"),
        (_, true) => Some("too large"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperatures_are_in_either_unit() {
        for (text, metric, celsius) in [
            ("70 F", true, 190.0 / 9.0),
            ("212°F", false, 100.0),
            ("21 °C", false, 21.0),
            ("21", true, 21.0),
            ("50", false, 10.0),
        ] {
            assert!((temperature(text, metric).unwrap().0 - celsius).abs() < 1e-12, "{text}");
        }
        for wrong in ["", "F", "warm", "2 1 C", "20 K"] {
            assert_eq!(temperature(wrong, true), None, "{wrong}");
        }
    }

    #[test]
    fn colours_are_six_hexadecimal_digits() {
        assert_eq!(hexadecimal("#5a3A26"), Some([0x5a, 0x3a, 0x26]));
        for wrong in ["5a3a26", "#5a3a2", "#5a3a2g", "#+a3a26", "", "#", "#ééé"] {
            assert_eq!(hexadecimal(wrong), None, "{wrong}");
        }
    }
}
