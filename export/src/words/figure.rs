//! Figures in a sentence: the marks around them, and the words that a report's figure may hold.

/// Before a figure that something is set by.
pub(crate) const SET: char = '\u{e000}';
/// Before any other figure.
pub(crate) const TOLD: char = '\u{e001}';
/// After a figure.
pub(crate) const END: char = '\u{e002}';

/// Words that stand in a shown figure, with their keys in the catalogue.
pub(super) const WORDS: [(&str, &str); 4] =
    [("figure-inch", "in"), ("figure-full", "full"), ("figure-bare", "bare"), ("figure-pound", "lb")];

/// Whole phrases, looked for first.
pub(super) const PHRASES: [(&str, &str); 6] = [
    ("figure-board-feet", "board feet"),
    ("figure-turns-a-minute", "turns a minute"),
    ("figure-inches-a-minute", "in a minute"),
    ("figure-millimetres-a-minute", "mm a minute"),
    ("figure-under", "under"),
    ("figure-over", "over"),
];

/// A name without control characters and without our marks.
pub(super) fn clean(name: &str) -> String {
    name.chars()
        .map(|c| if c.is_control() || matches!(c, SET | TOLD | END | '\u{fffe}' | '\u{ffff}') { ' ' } else { c })
        .collect()
}
