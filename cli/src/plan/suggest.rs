//! The nearest of the words that are known.

/// Words longer than this are nobody's slip, and comparing them takes time.
const LONGEST: usize = 40;

/// The known word that is meant by a misspelt one, if one is near.
///
/// Near is one slip for a short word, one more for every four letters: letters left out, put in,
/// changed or swapped (optimal string alignment). Capitals, hyphens and spaces don't count.
pub(super) fn nearest<'a>(written: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    if written.len() > LONGEST {
        return None;
    }
    let plain = |word: &str| word.to_lowercase().replace(['-', ' '], "_");
    let written = plain(written);
    known
        .map(|word| (strsim::osa_distance(&written, &plain(word)), word))
        .filter(|(slips, word)| *slips <= word.chars().count().min(written.chars().count()).div_ceil(4))
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_is_mended_and_another_word_is_not() {
        let known = || ["kerf", "last_strip", "held"].into_iter();
        assert_eq!(nearest("kerff", known()), Some("kerf"));
        assert_eq!(nearest("Last-Strip", known()), Some("last_strip"));
        assert_eq!(nearest("lsat_strp", known()), Some("last_strip"));
        assert_eq!(nearest("blade", known()), None);
        assert_eq!(nearest(&"kerf".repeat(1000), known()), None);
        assert_eq!(nearest("", known()), None);
    }
}
