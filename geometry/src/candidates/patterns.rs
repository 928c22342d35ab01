//! Turns that repeat, and turns mirrored about the middle: what a maker would try on the bench.

use crate::layup::Turn;
use std::collections::HashSet;

/// The longest repeat that is tried.
const LONGEST: usize = 4;

/// Turns for `count` places, none twice: every repeat of up to four, or of just `repeat`; unless that is asked for also
/// groups of three and four, and each repeat mirrored about the middle or turned half round about it.
pub(super) fn turns(count: usize, repeat: Option<usize>) -> Vec<Vec<Turn>> {
    let mut all = Vec::new();
    let periods = repeat.map_or(1..=LONGEST, |repeat| repeat..=repeat);
    for period in periods.clone() {
        all.extend(repeats(period).map(|pattern| again_and_again(&pattern, count)));
    }
    if repeat.is_none() {
        for group in [3, 4, count.div_ceil(2)] {
            all.extend(repeats(2).map(|pair| (0..count).map(|i| pair[i / group.max(1) % 2]).collect()));
        }
        for pattern in periods.flat_map(repeats) {
            for about in [Turn::RolledOver, Turn::EndForEnd] {
                all.push(mirrored(&again_and_again(&pattern, count), about));
            }
        }
    }
    let mut seen = HashSet::new();
    all.retain(|turns| seen.insert(turns.clone()));
    all
}

/// Every sequence of `period` turns.
fn repeats(period: usize) -> impl Iterator<Item = Vec<Turn>> {
    let period = period.clamp(1, LONGEST);
    (0_usize..1 << (2 * period)).map(move |n| (0..period).map(|i| Turn::ALL[n >> (2 * i) & 3]).collect())
}

fn again_and_again(pattern: &[Turn], count: usize) -> Vec<Turn> {
    pattern.iter().copied().cycle().take(count).collect()
}

/// The left half as it is, the right half the left one's mirror image: rolled over (about the middle line), or end for
/// end (about the middle point).
fn mirrored(turns: &[Turn], about: Turn) -> Vec<Turn> {
    let count = turns.len();
    let half = count.div_ceil(2);
    (0..count).map(|i| if i < half { turns[i] } else { turns[count - 1 - i].then(about) }).collect()
}
