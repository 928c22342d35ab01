//! A line of RS-274 as words: letters with numbers, comments left out. Knows nothing of what a word means.

use super::Wrong;

/// The longest line (NISTIR 6556, 3.3).
const LONGEST: usize = 256;

/// A letter and its number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Word {
    pub(super) letter: u8,
    pub(super) number: f64,
}

impl Word {
    /// As it would be typed.
    pub(super) fn shown(&self) -> String {
        format!("{}{}", char::from(self.letter), self.number)
    }
}

/// The words of line `at` (from 1); its N word, which must come first, is read and left out.
pub(super) fn words(line: &str, at: usize) -> Result<Vec<Word>, Wrong> {
    let wrong = |word: String, what: &'static str| Wrong { line: at, word, what };
    if line.len() > LONGEST {
        return Err(wrong(String::new(), "the line is longer than 256 characters"));
    }
    let bare = without_comments(line, at)?;
    let mut rest = bare.as_slice();
    let mut words = Vec::new();
    if rest.first() == Some(&b'/') {
        return Err(wrong("/".into(), "a line that may be skipped can't be proved"));
    }
    while let Some((&letter, after)) = rest.split_first() {
        if !letter.is_ascii_uppercase() {
            return Err(wrong(char::from(letter).to_string(), "a word begins with a letter"));
        }
        let length = after.iter().take_while(|c| matches!(c, b'0'..=b'9' | b'.' | b'+' | b'-')).count();
        let (digits, following) = after.split_at(length);
        let text = String::from_utf8_lossy(digits);
        let shown = || format!("{}{text}", char::from(letter));
        let number = number(&text).ok_or_else(|| wrong(shown(), "that is no number"))?;
        rest = following;
        if letter == b'N' {
            if !words.is_empty() || length > 5 || !digits.iter().all(u8::is_ascii_digit) {
                return Err(wrong(shown(), "a line number comes first and has up to five digits"));
            }
            // The word itself is no more needed, but a second one is a mistake.
            if rest.contains(&b'N') {
                return Err(wrong(shown(), "a line has one number"));
            }
            continue;
        }
        words.push(Word { letter, number });
    }
    Ok(words)
}

/// Sign, digits, one point at most, one digit at least; no exponent (NISTIR 6556, 3.3.2.1).
fn number(text: &str) -> Option<f64> {
    let body = text.strip_prefix(['+', '-']).unwrap_or(text);
    let sound = body.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && body.bytes().filter(|b| *b == b'.').count() <= 1
        && body.bytes().any(|b| b.is_ascii_digit());
    sound.then(|| text.parse().ok()).flatten()
}

/// Letters in capitals, without spaces, `( … )` and all after `;`.
fn without_comments(line: &str, at: usize) -> Result<Vec<u8>, Wrong> {
    let wrong = |what| Wrong { line: at, word: "(".into(), what };
    let (mut bare, mut inside) = (Vec::new(), false);
    for c in line.bytes() {
        match (inside, c) {
            (true, b'(') => return Err(wrong("a comment stands in a comment")),
            (true, b')') => inside = false,
            (true, _) => {}
            (false, b'(') => inside = true,
            (false, b')') => return Err(Wrong { line: at, word: ")".into(), what: "no comment was begun" }),
            (false, b';') => return Ok(bare),
            (false, b' ' | b'\t' | b'\r') => {}
            (false, c) => bare.push(c.to_ascii_uppercase()),
        }
    }
    if inside { Err(wrong("the comment isn't closed on its line")) } else { Ok(bare) }
}
