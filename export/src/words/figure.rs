//! Figures in a sentence: the marks around them, and the words that a report's figure may hold.

/// Before a figure that something is set by.
pub(crate) const SET: char = '\u{e000}';
/// Before any other figure.
pub(crate) const TOLD: char = '\u{e001}';
/// After a figure.
pub(crate) const END: char = '\u{e002}';

/// Words that stand in a shown figure, with their keys in the catalogue.
pub(super) const WORDS: [(&str, &str); 9] = [
    ("figure-inch", "in"),
    ("figure-full", "full"),
    ("figure-bare", "bare"),
    ("figure-pound", "lb"),
    ("figure-ounce", "oz"),
    ("figure-pound-force", "lbf"),
    ("figure-pound-force-an-area", "lbf/in²"),
    ("figure-square-inch", "in²"),
    ("figure-cubic-inch", "in³"),
];

/// Whole phrases, looked for first.
pub(super) const PHRASES: [(&str, &str); 9] = [
    ("figure-fluid-ounces", "fl oz"),
    ("figure-board-feet", "board feet"),
    ("figure-turns-a-minute", "turns a minute"),
    ("figure-inches-a-minute", "in/min"),
    ("figure-millimetres-a-minute", "mm/min"),
    ("figure-feet-a-minute", "ft a minute"),
    ("figure-metres-a-second", "m a second"),
    ("figure-under", "under"),
    ("figure-over", "over"),
];

/// A name without control characters and without our marks.
pub(super) fn clean(name: &str) -> String {
    name.chars()
        .map(|c| if c.is_control() || matches!(c, SET | TOLD | END | '\u{fffe}' | '\u{ffff}') { ' ' } else { c })
        .collect()
}

/// Units that figures in a finding have.
const UNITS: [&str; 6] = ["in", "mm", "%", "lb", "kg", "°"];

/// The figures with a unit in an English sentence, in their order, each once: `1 3/8 in full`, `0.4 mm`, `7.2 %`.
pub(super) fn with_units(says: &str) -> Vec<String> {
    let words: Vec<&str> = says.split_whitespace().collect();
    let bare = |word: &str| word.trim_matches(|c: char| ",;:().".contains(c)).to_owned();
    let number = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_digit()) && word.chars().all(|c| c.is_ascii_digit() || "./".contains(c))
    };
    let mut found: Vec<String> = Vec::new();
    for (i, word) in words.iter().enumerate() {
        let unit = bare(word);
        let Some(before) = i.checked_sub(1).map(|j| bare(words[j])).filter(|w| number(w) && UNITS.contains(&&*unit))
        else {
            continue;
        };
        let whole =
            i.checked_sub(2).map(|j| words[j]).filter(|w| number(w) && before.contains('/') && !w.contains('/'));
        // A unit that ends its sentence has no rest after it.
        let rest = words.get(i + 1).map(|w| bare(w)).filter(|w| *word == unit && ["full", "bare"].contains(&&**w));
        let parts = [whole.map(str::to_owned), Some(before), Some(unit), rest];
        let figure = parts.into_iter().flatten().collect::<Vec<_>>().join(" ");
        if !found.contains(&figure) {
            found.push(figure);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::with_units;

    #[test]
    fn figures_with_units_are_found_and_nothing_else() {
        let says =
            "the trim leaves 1 1/8 in full of strip 3; under 1/4 in, or 0.4 mm, 2 of 9 lines: 7.2 %. Under 1/4 in it";
        assert_eq!(with_units(says), ["1 1/8 in full", "1/4 in", "0.4 mm", "7.2 %"]);
    }
}
