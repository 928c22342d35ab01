//! Turns that repeat, and turns mirrored about the middle: what a maker would try on the bench.

use crate::layup::Turn;
use std::collections::HashSet;

/// The longest repeat that is tried.
const LONGEST: usize = 4;

/// Turns for `count` places, none twice: every repeat of up to four, or of just `repeat`; unless that is asked for also
/// groups of three, of four and of half the board, and singles, pairs and threes that are mirrored about the middle or
/// turned half round about it.
pub(super) fn turns(count: usize, repeat: Option<usize>) -> Vec<Vec<Turn>> {
    let mut all: Vec<Vec<Turn>> = Vec::new();
    for period in repeat.map_or(1..=LONGEST, |repeat| repeat..=repeat) {
        all.extend(repeats(period).map(|pattern| pattern.iter().copied().cycle().take(count).collect()));
    }
    if repeat.is_none() {
        let groups = |size: usize| repeats(2).map(move |pair| grouped(&pair, size, count));
        all.extend([3, 4, count.div_ceil(2).max(1)].into_iter().flat_map(groups));
        for turns in [1, 2, 3].into_iter().flat_map(groups) {
            all.extend([Turn::RolledOver, Turn::EndForEnd].map(|about| mirrored(&turns, about)));
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

/// So many with the one turn, so many with the other, and so on.
fn grouped(pair: &[Turn], size: usize, count: usize) -> Vec<Turn> {
    (0..count).map(|i| pair[i / size % pair.len()]).collect()
}

/// The left half as it is, the right half the left one's mirror image: rolled over (about the middle line), or end for
/// end (about the middle point).
fn mirrored(turns: &[Turn], about: Turn) -> Vec<Turn> {
    let count = turns.len();
    let half = count.div_ceil(2);
    (0..count).map(|i| if i < half { turns[i] } else { turns[count - 1 - i].then(about) }).collect()
}
