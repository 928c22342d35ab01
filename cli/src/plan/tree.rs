//! From text to a tree of TOML values that know where they stand; and what to say where the text
//! is no TOML. Knows no keys.

use super::keys::LENGTH_FORMS;
use super::problem::quote;
use quarterturn_geometry::measure::{Length, Unit};
use std::ops::Range;
use toml::Spanned;
use toml::de::DeTable;

/// A plan that is longer than this is none, bytes.
pub(super) const LONGEST: usize = 1_000_000;

/// Where the text is no TOML: place, what is wrong, what would be right.
pub(super) struct Broken {
    pub(super) span: Range<usize>,
    pub(super) what: String,
    pub(super) right: String,
}

/// The tree of a text.
pub(super) fn tree(text: &str) -> Result<Spanned<DeTable<'_>>, Broken> {
    if text.len() > LONGEST {
        let what = format!("the plan has {} bytes", text.len());
        return Err(Broken { span: 0..0, what, right: format!("a plan has at most {LONGEST}") });
    }
    DeTable::parse(text).map_err(|error| explain(text, error.message(), error.span().unwrap_or(0..0)))
}

/// The reader of TOML speaks of TOML; a maker who left out the quotes wants to hear of them.
fn explain(text: &str, message: &str, span: Range<usize>) -> Broken {
    let start = span.start.min(text.len());
    if message.starts_with("duplicate key") {
        let name = quote(text.get(span.clone()).unwrap_or_default());
        let right = "keep one of the two; a second blank, panel or handhold has double brackets as in [[blanks]]";
        return Broken { span, what: format!("{name} is written twice"), right: right.to_owned() };
    }
    if let Some((span, key, value)) = unquoted_value(text, start).filter(|(_, _, value)| has_a_decimal_comma(value)) {
        let right = format!("decimals stand after a point: {key} = {}", value.replacen(',', ".", 1));
        return Broken { span, what: format!("{} can't be read", quote(value)), right };
    }
    let is_value = ["string values must be", "missing opening", "invalid", "unexpected leading"]
        .iter()
        .any(|m| message.starts_with(m));
    match unquoted_value(text, start).filter(|_| is_value) {
        Some((span, key, "")) => Broken {
            what: format!("nothing stands after {key} ="),
            right: "a colour as #5a3a26 stands in quotes, for # begins a remark".to_owned(),
            span,
        },
        Some((span, key, value)) => {
            Broken { what: format!("{} can't be read", quote(value)), right: mended(key, value), span }
        }
        None => {
            let (what, right) = plain(message);
            Broken { what, right: right.to_owned(), span }
        }
    }
}

/// `0,875`: digits, one comma, digits.
fn has_a_decimal_comma(value: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    value.split_once(',').is_some_and(|(whole, rest)| digits(whole.trim_start_matches('-')) && digits(rest))
}

/// `key = value` on the line at `at`, where the value begins with no quote, bracket or brace and
/// the place is within it.
fn unquoted_value(text: &str, at: usize) -> Option<(Range<usize>, &str, &str)> {
    let start = text.get(..at)?.rfind('\n').map_or(0, |i| i + 1);
    let line = text[start..].lines().next()?;
    let (key, rest) = line.split_once('=')?;
    let value = rest.split('#').next()?.trim();
    let plain_key = key.trim().bytes().all(|b| b.is_ascii_alphanumeric() || b"_-.".contains(&b));
    let begins = value.chars().next().unwrap_or(' ');
    let from =
        start + key.len() + 1 + (rest.len() - rest.trim_start().len()).min(1 + rest.find('#').unwrap_or(rest.len()));
    let within = at + 1 >= from;
    (plain_key && !key.trim().is_empty() && !"\"'[{".contains(begins) && within).then_some((
        from..from + value.len(),
        key.trim(),
        value,
    ))
}

/// How the line would be right.
fn mended(key: &str, value: &str) -> String {
    if matches!(value.to_ascii_lowercase().as_str(), "true" | "false") {
        return format!("write {key} = {}", value.to_ascii_lowercase());
    }
    let value = quote(value);
    if Length::parse(&value, Unit::Inch).is_ok() {
        let around = if value.contains('"') { '\'' } else { '"' };
        return format!("a length that is no plain number stands in quotes: {key} = {around}{value}{around}");
    }
    if value.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '-') {
        return format!("for a length, {LENGTH_FORMS}");
    }
    format!("a text stands in quotes: {key} = \"{}\"", value.replace(['"', '\\'], ""))
}

/// What the reader of TOML found and what would be right, in plain words for what happens most.
fn plain(message: &str) -> (String, &'static str) {
    const KNOWN: [(&str, &str, &str); 9] = [
        (
            "string values must be",
            "this can't be read",
            "texts and fractions stand in quotes, commas between the entries of a list",
        ),
        (
            "invalid basic string",
            "this text can't be read",
            "a text ends with the quote that it begins with, on the same line",
        ),
        (
            "invalid literal string",
            "this text can't be read",
            "a text ends with the quote that it begins with, on the same line",
        ),
        ("unclosed table", "a header is not closed", "write [shop.saw] for a section, [[blanks]] for one of several"),
        ("unclosed array", "a list is not closed", "a list ends with ]"),
        ("unclosed inline table", "a table in braces is not closed", "it ends with }"),
        ("missing comma", "a comma is missing", "commas stand between the entries of a list"),
        ("key with no value", "this is no key with a value", "write key = value; a remark begins with #"),
        (
            "unexpected key or value",
            "something stands after the value",
            "one key and its value on a line; a remark begins with #",
        ),
    ];
    match KNOWN.iter().find(|(begins, _, _)| message.starts_with(begins)) {
        Some((_, what, right)) => ((*what).to_owned(), *right),
        None => (format!("this is not TOML: {message}"), ""),
    }
}
