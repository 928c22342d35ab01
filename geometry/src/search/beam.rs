//! Good lay-ups laid strip by strip from the left, the most hopeful beginnings kept at each place.
//!
//! How hopeful a beginning is: what it costs, and what going on from it costs at least by [`Walks`]. No proof, and where
//! the walks come near to the truth seldom far from the best (a beam search: B. T. Lowerre, *The Harpy speech recognition
//! system*, 1976).

use super::costs::{Found, Laid};
use super::distinct::Few;
use super::subsets::Pair;
use super::walks::{Priced, Walks};
use super::wanted::Rules;
use super::watch::Watch;
use std::collections::HashSet;

/// The most strips of which it keeps count.
pub(super) const MOST: usize = u128::BITS as usize;

/// A beginning: its last strip and turn, where the beginning before it stands, and what was laid.
#[derive(Clone, Copy)]
struct Begun {
    strip: usize,
    turn: usize,
    before: usize,
    set: u128,
    cost: u64,
    /// What it comes to at least.
    hope: f64,
}

struct Beam<'a> {
    pairs: &'a [Pair],
    rules: &'a Rules,
    walks: Walks<'a>,
    count: usize,
    /// By place, the beginnings that are kept.
    kept: Vec<Vec<Begun>>,
}

/// Puts what it finds for one count into `few`; the best of it. `width` beginnings are kept at each place.
pub(super) fn laid(
    pairs: &[Pair],
    rules: &Rules,
    priced: &Priced,
    width: usize,
    few: &mut Few,
    watch: &mut Watch<'_>,
) -> Option<Found> {
    let count = priced.count;
    if rules.turns.len() > MOST {
        return None;
    }
    let walks = Walks::new(pairs, rules, count, &priced.price);
    let mut beam = Beam { pairs, rules, walks, count, kept: Vec::with_capacity(count) };
    for place in 0..count {
        let next = beam.next(place, few.dearest());
        if !watch.go(next.len() as u64) {
            return None;
        }
        beam.kept.push(best(next, width));
    }
    let ends = beam.kept.last()?.iter().map(|end| beam.found(end));
    let ends: Vec<Found> = ends.filter(|found| beam.holds(&found.laid)).collect();
    let best = ends.iter().min_by_key(|found| found.cost).cloned();
    if let Some(best) = &best {
        watch.found(best.cost);
    }
    few.extend(ends);
    best
}

/// The most hopeful of these, no two that differ only in what lies before their last strip.
fn best(mut all: Vec<Begun>, width: usize) -> Vec<Begun> {
    all.sort_by(|a, b| a.hope.total_cmp(&b.hope).then(a.cost.cmp(&b.cost)));
    let mut seen = HashSet::new();
    all.into_iter().filter(|begun| seen.insert((begun.set, begun.strip, begun.turn))).take(width).collect()
}

impl Beam<'_> {
    /// Every way to lay a strip at this place that may still cost no more than `most`.
    fn next(&self, place: usize, most: u64) -> Vec<Begun> {
        let mut next = Vec::new();
        let Some(before) = place.checked_sub(1).map(|before| &self.kept[before]) else {
            self.lay(place, None, &mut |begun| next.push(begun));
            return next;
        };
        for begun in before.iter().enumerate() {
            self.lay(place, Some(begun), &mut |begun| {
                if begun.hope <= most as f64 {
                    next.push(begun);
                }
            });
        }
        next
    }

    fn lay(&self, place: usize, before: Option<(usize, &Begun)>, take: &mut impl FnMut(Begun)) {
        let strips = self.rules.turns.len();
        let set = before.map_or(0, |(_, begun)| begun.set);
        let end = place + 1 == self.count;
        for strip in (0..strips).filter(|strip| set >> strip & 1 == 0) {
            let first = place > 0 || self.rules.first.is_none_or(|first| first == strip);
            if !first || (!end && self.rules.last == Some(strip)) {
                continue;
            }
            let set = set | 1 << strip;
            let to_come = self.walks.to_come(set, strip);
            for (turn, to_come) in to_come.into_iter().enumerate().filter(|(_, to_come)| to_come.is_finite()) {
                let cost = before.map_or(0, |(_, left)| {
                    let glue = self.pairs[strip * strips + left.strip][turn][left.turn];
                    left.cost + u64::from(glue.unsigned_abs())
                });
                let before = before.map_or(0, |(at, _)| at);
                take(Begun { strip, turn, before, set, cost, hope: cost as f64 + to_come });
            }
        }
    }

    fn found(&self, end: &Begun) -> Found {
        let mut laid = vec![Laid::of(end.strip, end.turn)];
        let mut at = end.before;
        for kept in self.kept.iter().rev().skip(1) {
            laid.push(Laid::of(kept[at].strip, kept[at].turn));
            at = kept[at].before;
        }
        laid.reverse();
        Found { laid, cost: end.cost + self.rules.left(self.count) }
    }

    /// Whether all that must be laid is.
    fn holds(&self, laid: &[Laid]) -> bool {
        let is_laid = |strip: usize| laid.iter().any(|l| l.strip == strip);
        (0..self.rules.must.len()).all(|strip| !self.rules.must[strip] || is_laid(strip)) && self.rules.allow(laid)
    }
}
