//! How far the colours of blanks lie apart, by the photographs of their ends.

use super::Blank;
use crate::wood::{Comparison, Difference, Threshold, compare};

/// Sapwood or heartwood of two blanks compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair<'a> {
    /// The first blank's letter.
    pub first: &'a str,
    /// The second one's.
    pub second: &'a str,
    /// `sapwood` or `heartwood`.
    pub part: &'static str,
    /// How far they lie apart.
    pub difference: Difference,
    /// A photograph had no card: the difference may be the light's.
    pub assumed: bool,
}

/// Every two photographed blanks of one wood, sapwood with sapwood and heartwood with heartwood. Of blanks alike,
/// which show the same, only the first is looked at.
#[must_use]
pub fn pairs<'a>(blanks: &[&'a Blank], threshold: Threshold) -> Vec<Pair<'a>> {
    let mut seen: Vec<&Blank> = Vec::new();
    for blank in blanks.iter().filter(|blank| blank.figure.photographs().is_some()) {
        let same = |other: &&Blank| {
            other.figure.wood().name == blank.figure.wood().name
                && other.figure.photographs().map(|p| *p.tones()) == blank.figure.photographs().map(|p| *p.tones())
        };
        if !seen.iter().any(same) {
            seen.push(blank);
        }
    }
    let mut all = Vec::new();
    for (i, first) in seen.iter().enumerate() {
        for second in &seen[i + 1..] {
            let (Some(one), Some(two)) = (first.figure.photographs(), second.figure.photographs()) else { continue };
            if first.figure.wood().name != second.figure.wood().name {
                continue;
            }
            let Comparison { sapwood, heartwood, assumed } = compare(one.tones(), two.tones(), threshold);
            for (part, difference) in [("sapwood", sapwood), ("heartwood", heartwood)] {
                let pair =
                    |difference| Pair { first: &first.letter, second: &second.letter, part, difference, assumed };
                all.extend(difference.map(pair));
            }
        }
    }
    all
}

/// The pair of that part that lies farthest apart.
#[must_use]
pub fn farthest<'a>(pairs: &[Pair<'a>], part: &str) -> Option<Pair<'a>> {
    let of_part = pairs.iter().filter(|pair| pair.part == part);
    of_part.max_by(|a, b| a.difference.delta.total_cmp(&b.difference.delta)).copied()
}
