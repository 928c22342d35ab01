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

/// One way to come to a strip's turn: cost so far, the turn before, the rank of the way there.
#[derive(Clone, Copy)]
struct Way {
    cost: u64,
    turn: u8,
    rank: u32,
}

/// The proven best turns of the strips `order`, the number that are as good, and the `few` best
/// that are different boards.
///
/// `joints` are the glue lines between them, one fewer ([`super::Costs::joints`]); `allowed` the
/// turns that each may lie in, in the same order. Time: strips × 16 × `few`.
#[must_use]
pub fn fixed(order: &[usize], joints: &[Joint], allowed: &Allowed, few: usize, alike: Alike) -> FixedBest {
    if order.is_empty() || joints.len() + 1 != order.len() || allowed.len() != order.len() {
        return FixedBest { best: Vec::new(), optima: 0, boards: Some(0) };
    }
    let shifts = alike.shifts(order.len() == 1);
    let all = ranked(order, joints, allowed, few.max(1).saturating_mul(shifts.len()));
    let mut best = distinct(all, alike);
    best.truncate(few.max(1));
    let Some(optimum) = best.first().map(|f| f.cost) else {
        return FixedBest { best, optima: 0, boards: Some(0) };
    };
    let count = |turns: &[[bool; 4]]| optima(joints, turns, optimum);
    FixedBest { best, optima: count(allowed), boards: boards(allowed, &shifts, count) }
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

/// The `few` cheapest, by cost, then by the turns from the right.
fn ranked(order: &[usize], joints: &[Joint], allowed: &Allowed, few: usize) -> Vec<Found> {
    let start = Way { cost: 0, turn: 0, rank: 0 };
    let first: [Vec<Way>; 4] = allowed[0].map(|may| if may { vec![start] } else { Vec::new() });
    let mut ways = vec![first];
    for (joint, turns) in joints.iter().zip(&allowed[1..]) {
        let before = &ways[ways.len() - 1];
        let next = std::array::from_fn(|b| {
            if turns[b] { merge(before, &std::array::from_fn(|a| joint[a][b]), few) } else { Vec::new() }
        });
        ways.push(next);
    }
    let ends = merge(&ways[ways.len() - 1], &[0; 4], few);
    ends.iter().map(|end| Found { laid: walk(order, &ways, end), cost: end.cost }).collect()
}

/// The `few` cheapest ways on from four lists, each in order.
fn merge(before: &[Vec<Way>; 4], more: &[u32; 4], few: usize) -> Vec<Way> {
    let mut at = [0_usize; 4];
    let room: usize = before.iter().map(Vec::len).sum();
    let mut out = Vec::with_capacity(few.min(room));
    while out.len() < few {
        let next = (0..4).filter_map(|a| before[a].get(at[a]).map(|way| (way.cost + u64::from(more[a]), a))).min();
        let Some((cost, a)) = next else { break };
        out.push(Way { cost, turn: a as u8, rank: at[a] as u32 });
        at[a] += 1;
    }
    out
}

fn walk(order: &[usize], ways: &[[Vec<Way>; 4]], end: &Way) -> Vec<Laid> {
    let mut laid = Vec::with_capacity(order.len());
    let mut step = *end;
    for (strip, lists) in order.iter().zip(ways).rev() {
        laid.push(Laid::of(*strip, usize::from(step.turn)));
        step = lists[usize::from(step.turn)][step.rank as usize];
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
