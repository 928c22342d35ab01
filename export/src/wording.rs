//! Text in words that may be parted at the end of a line.
//!
//! Must not know what the lines are on.

/// The words of a text; a figure with its fraction, unit and full or bare is one, so that it is not torn.
pub(crate) fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(|c: char| c.is_whitespace() || c.is_control()).filter(|w| !w.is_empty()) {
        match words.last_mut() {
            Some(before) if belongs(before, word) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn belongs(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ';', ':']);
    let figure = before.ends_with(|c: char| c.is_ascii_digit());
    match bare {
        "in" | "mm" => figure,
        "full" | "bare" => before.ends_with(" in") || before.ends_with(" mm"),
        _ => figure && bare.contains('/') && bare.chars().all(|c| c.is_ascii_digit() || c == '/'),
    }
}

/// What a place of the fence is called: A, B and so on.
pub(crate) fn place(k: usize) -> String {
    u8::try_from(k).ok().filter(|k| *k < 26).map_or_else(|| (k + 1).to_string(), |k| char::from(b'A' + k).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_one_word() {
        assert_eq!(words("set 1 1/32 in full, 3 in a row"), ["set", "1 1/32 in full,", "3 in", "a", "row"]);
        assert_eq!(words(" 12.5 mm\tbare.\u{7} come in 1/2"), ["12.5 mm bare.", "come", "in", "1/2"]);
        assert_eq!(words("and/or 7 of 9"), ["and/or", "7", "of", "9"]);
    }
}
