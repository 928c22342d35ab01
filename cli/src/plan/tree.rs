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
    match unquoted_value(text, start) {
        Some((span, key, "")) => Broken {
            what: format!("nothing stands after {key} ="),
            right: "a colour as #5a3a26 stands in quotes, for # begins a remark".to_owned(),
            span,
        },
        Some((span, key, value)) => {
            Broken { what: format!("{} can't be read", quote(value)), right: mended(key, value), span }
        }
        None => Broken { what: format!("this is not TOML: {}", plain(message)), right: String::new(), span },
    }
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

/// The reader's message without its list of what it expected, where that list is long.
fn plain(message: &str) -> &str {
    match message.split_once(", expected ") {
        Some((what, expected)) if expected.len() > 24 => what,
        _ => message,
    }
}
