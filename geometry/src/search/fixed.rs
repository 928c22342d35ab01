//! The order is given, the turns are searched: a dynamic programme along the board, linear in strips.

use super::Allowed;
use super::costs::{Found, Joint, Laid};
use super::distinct::{Alike, boards, distinct};

/// What was proven for strips in a fixed order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FixedBest {
    /// The best, cheapest first; none where a strip may lie in no turn. The first is proven best.
    pub best: Vec<Found>,
    /// How many lay-ups cost as little as the first; `u128::MAX` stands for so many or more.
    pub optima: u128,
    /// How many different boards they are; `None` where there are too many to count.
    pub boards: Option<u128>,
}

/// The most lay-ups that are given back; asking for more gives these.
const MOST_FEW: usize = 1000;

/// The proven best turns of the strips `order`, the number that are as good, and the `few` best
/// that are different boards.
///
/// `joints` are the glue lines between them, one fewer ([`super::Costs::joints`]); `allowed` the
/// turns that each may lie in, in the same order. Time and memory: strips × 4 × `few` (1 to 1000).
#[must_use]
pub fn fixed(order: &[usize], joints: &[Joint], allowed: &Allowed, few: usize, alike: Alike) -> FixedBest {
    if order.is_empty() || joints.len() + 1 != order.len() || allowed.len() != order.len() {
        return FixedBest { best: Vec::new(), optima: 0, boards: Some(0) };
    }
    let shifts = alike.shifts(order.len() == 1);
    let all = ranked(order, joints, allowed, few.clamp(1, MOST_FEW) * shifts.len());
    // Where no turning keeps the order, no two of them are the same board.
    let mut best = if shifts.len() == 1 { all } else { distinct(all, alike) };
    best.truncate(few.clamp(1, MOST_FEW));
    let Some(optimum) = best.first().map(|f| f.cost) else {
        return FixedBest { best, optima: 0, boards: Some(0) };
    };
    let all = optima(joints, allowed, optimum);
    let count = |turns: &[[bool; 4]]| if turns == allowed { all } else { optima(joints, turns, optimum) };
    FixedBest { best, optima: all, boards: boards(allowed, &shifts, count) }
}

/// The same where turns repeat every `period` places (1 to 4): all 4^period are tried.
#[must_use]
pub fn repeating(
    order: &[usize],
    joints: &[Joint],
    allowed: &Allowed,
    period: usize,
    few: usize,
    alike: Alike,
) -> FixedBest {
    if order.is_empty() || joints.len() + 1 != order.len() || allowed.len() != order.len() {
        return FixedBest { best: Vec::new(), optima: 0, boards: Some(0) };
    }
    let period = period.clamp(1, 4).min(order.len());
    let mut all = Vec::new();
    for pattern in 0_usize..1 << (2 * period) {
        let turn = |place: usize| pattern >> (2 * (place % period)) & 3;
        if (0..order.len()).all(|place| allowed[place][turn(place)]) {
            let cost = joints.iter().enumerate().map(|(i, joint)| u64::from(joint[turn(i)][turn(i + 1)])).sum();
            all.push(Found { laid: order.iter().enumerate().map(|(i, s)| Laid::of(*s, turn(i))).collect(), cost });
        }
    }
    all.sort_by_key(|f| f.cost);
    let tied = |all: &[Found]| all.iter().take_while(|f| f.cost == all[0].cost).count() as u128;
    let optima = tied(&all);
    let mut best = distinct(all, alike);
    let boards = Some(tied(&best));
    best.truncate(few.max(1));
    FixedBest { best, optima, boards }
}

/// The ways to come to one strip so far, by its turn: their costs, cheapest first.
type Ways = [Vec<u64>; 4];

/// Which of four lists each of the cheapest came from: two bits each, sixteen to a word. That is all that must be kept
/// of a merge, for what was taken from a list was taken in order; so memory stays small, which is what keeps thousands
/// of strips as quick, each, as a few.
const TO_A_WORD: usize = 16;

/// The `few` cheapest, by cost, then by the turns from the right.
fn ranked(order: &[usize], joints: &[Joint], allowed: &Allowed, few: usize) -> Vec<Found> {
    let words = few.div_ceil(TO_A_WORD);
    // For each strip and turn, the merge of the ways that come to it.
    let mut merges = vec![0_u32; order.len() * 4 * words];
    let mut ways: Ways = allowed[0].map(|may| if may { vec![0] } else { Vec::new() });
    let mut next: Ways = Default::default();
    let steps = joints.iter().zip(&allowed[1..]).zip(merges.chunks_exact_mut(4 * words).skip(1));
    for ((joint, turns), merges) in steps {
        for (b, (here, merged)) in next.iter_mut().zip(merges.chunks_exact_mut(words)).enumerate() {
            here.clear();
            if turns[b] {
                merge(&ways, joint.map(|row| row[b]), few, here, merged);
            }
        }
        std::mem::swap(&mut ways, &mut next);
    }
    let (mut costs, mut ends) = (Vec::new(), vec![0_u32; words]);
    merge(&ways, [0; 4], few, &mut costs, &mut ends);
    let found = |(rank, cost): (usize, &u64)| Found { laid: walk(order, &merges, &ends, rank), cost: *cost };
    costs.iter().enumerate().map(found).collect()
}

/// The cheapest `few` ways on from four lists, each in order.
#[allow(clippy::cast_possible_truncation)]
fn merge(before: &Ways, more: [u32; 4], few: usize, costs: &mut Vec<u64>, merged: &mut [u32]) {
    // Cost and turn in one number, so that the least of four is the next.
    let head =
        |a: usize, rank: usize| before[a].get(rank).map_or(u64::MAX, |cost| (cost + u64::from(more[a])) * 4 + a as u64);
    let mut ranks = [0_usize; 4];
    let mut heads: [u64; 4] = std::array::from_fn(|a| head(a, 0));
    for (word, merged) in merged.iter_mut().enumerate() {
        for place in 0..TO_A_WORD.min(few - word * TO_A_WORD) {
            let next = heads[0].min(heads[1]).min(heads[2].min(heads[3]));
            if next == u64::MAX {
                return;
            }
            let a = (next & 3) as usize;
            costs.push(next >> 2);
            *merged |= (a as u32) << (2 * place);
            ranks[a] += 1;
            heads[a] = head(a, ranks[a]);
        }
    }
}

/// Which list the way of this rank came from, and its rank there: how many before it came from there too.
fn came_from(merged: &[u32], rank: usize) -> (usize, usize) {
    /// The lower bit of every pair.
    const PAIRS: u32 = 0x5555_5555;
    let (word, place) = (rank / TO_A_WORD, rank % TO_A_WORD);
    let from = merged[word] >> (2 * place) & 3;
    // Pairs alike become 00.
    let unlike = |word: u32| (word ^ (from * PAIRS)) | (word ^ (from * PAIRS)) >> 1;
    let among = |word: u32, pairs: u32| (!unlike(word) & PAIRS & pairs).count_ones() as usize;
    let whole: usize = merged[..word].iter().map(|word| among(*word, PAIRS)).sum();
    (from as usize, whole + among(merged[word], (1 << (2 * place)) - 1))
}

fn walk(order: &[usize], merges: &[u32], ends: &[u32], rank: usize) -> Vec<Laid> {
    let words = ends.len();
    let (mut turn, mut rank) = came_from(ends, rank);
    let mut laid: Vec<Laid> = Vec::with_capacity(order.len());
    for (strip, merges) in order.iter().zip(merges.chunks_exact(4 * words)).rev() {
        laid.push(Laid::of(*strip, turn));
        (turn, rank) = came_from(&merges[turn * words..][..words], rank);
    }
    laid.reverse();
    laid
}

/// How many lay-ups cost exactly `optimum`, where none allowed costs less; 0 where the cheapest is dearer.
fn optima(joints: &[Joint], allowed: &Allowed, optimum: u64) -> u128 {
    let mut least: [(u64, u128); 4] = allowed[0].map(|may| if may { (0, 1) } else { (u64::MAX, 0) });
    for (joint, turns) in joints.iter().zip(&allowed[1..]) {
        let before = least;
        least = std::array::from_fn(|b| {
            let mut here = (u64::MAX, 0_u128);
            for (row, (cost, ways)) in joint.iter().zip(&before) {
                if !turns[b] || *ways == 0 {
                    continue;
                }
                let cost = cost + u64::from(row[b]);
                match cost.cmp(&here.0) {
                    std::cmp::Ordering::Less => here = (cost, *ways),
                    std::cmp::Ordering::Equal => here.1 = here.1.saturating_add(*ways),
                    std::cmp::Ordering::Greater => {}
                }
            }
            here
        });
    }
    least.iter().filter(|(cost, _)| *cost == optimum).fold(0, |sum, (_, ways)| sum.saturating_add(*ways))
}
