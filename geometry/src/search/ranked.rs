//! The cheapest few ways through a dynamic programme, cheapest first, found from the right.
//!
//! Knows the programme only by two questions: what may stand before a state, and the least that comes to it. As that
//! least is exact, every part that is kept leads to a lay-up of just the cost it promises (P. E. Hart, N. J. Nilsson
//! and B. Raphael, *A formal basis for the heuristic determination of minimum cost paths*, IEEE Transactions on
//! Systems Science and Cybernetics 4, 1968, with an estimate that is never wrong), and no more parts need be kept than
//! lay-ups are wanted.

use std::cmp::Reverse;
use std::collections::BTreeSet;

/// A way on to the left: what it adds, the least that comes to the state there, and that state.
pub(super) type Before<S> = (u64, u64, S);

/// One part of a lay-up: its leftmost state, the part to the right of it, and what it costs without the least.
struct Part<S> {
    state: S,
    after: Option<usize>,
    cost: u64,
}

/// Hands on complete ways, cheapest first, until `found` has enough (says no) or `most` were handed on.
///
/// `ends` are the states at the right with what ending there adds; `before` fills in what may stand before a state,
/// nothing where it is the first.
pub(super) fn cheapest<S: Copy>(
    ends: impl Iterator<Item = Before<S>>,
    most: usize,
    mut before: impl FnMut(S, &mut Vec<Before<S>>),
    mut found: impl FnMut(u64, Vec<S>) -> bool,
) {
    let mut parts: Vec<Part<S>> = Vec::new();
    // By promised cost, then the longest part first, then as they came.
    let mut open: BTreeSet<(u64, Reverse<usize>, usize)> = BTreeSet::new();
    let keep = |parts: &mut Vec<Part<S>>, open: &mut BTreeSet<_>, long: usize, after, cost, (more, least, state)| {
        let promised: u64 = cost + more + least;
        if open.len() >= most && open.last().is_some_and(|last: &(u64, Reverse<usize>, usize)| last.0 <= promised) {
            return;
        }
        open.insert((promised, Reverse(long), parts.len()));
        parts.push(Part { state, after, cost: cost + more });
        if open.len() > most {
            open.pop_last();
        }
    };
    for end in ends {
        keep(&mut parts, &mut open, 1, None, 0, end);
    }
    let mut ways = Vec::new();
    while let Some((promised, Reverse(long), part)) = open.pop_first() {
        ways.clear();
        before(parts[part].state, &mut ways);
        if ways.is_empty() {
            if !found(promised, whole(&parts, part)) {
                return;
            }
            continue;
        }
        let cost = parts[part].cost;
        for way in ways.drain(..) {
            keep(&mut parts, &mut open, long + 1, Some(part), cost, way);
        }
    }
}

/// The states from the left.
fn whole<S: Copy>(parts: &[Part<S>], first: usize) -> Vec<S> {
    std::iter::successors(Some(first), |part| parts[*part].after).map(|part| parts[part].state).collect()
}
