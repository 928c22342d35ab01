//! The order is given, and what lies in mirrored places counts too: proven, from both ends inward.
//!
//! Place j and its mirror place N − 1 − j are settled together; what they cost beside the pair outside them, and as a
//! pair, depends on nothing further in. So the dynamic programme has sixteen states for each pair of places, and is
//! linear in strips. The middle glue line, or the middle strip, closes it.

use super::Allowed;
use super::costs::{Found, Joint, Laid};
use super::distinct::{Alike, Few, boards};
use super::fixed::FixedBest;
use super::ranked::{self, Before};

/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: u64 = 1 << 60;

/// The proven best turns of the strips `order`, glue lines and mirror pairs counted alike, the number that are as good,
/// and the `few` best that are different boards.
///
/// `joints` are the glue lines, one fewer than strips; `pairs` the mirror pairs, from the ends inward, half as many as
/// strips: what the strip at place j and the one at its mirror place cost, for each turn of the left and (second
/// index) of the right one. `allowed` are the turns that each strip may lie in.
#[must_use]
pub fn mirrored(
    order: &[usize],
    joints: &[Joint],
    pairs: &[Joint],
    allowed: &Allowed,
    few: usize,
    alike: Alike,
) -> FixedBest {
    let strips = order.len();
    let fits = strips > 0 && joints.len() + 1 == strips && pairs.len() == strips / 2 && allowed.len() == strips;
    if !fits {
        return FixedBest { best: Vec::new(), optima: 0, boards: Some(0) };
    }
    let table = Table::new(joints, pairs, allowed);
    let mut best = Few::new(few, alike);
    table.best(order, &mut best);
    let best = best.kept();
    let Some(optimum) = best.first().map(|f| f.cost) else {
        return FixedBest { best, optima: 0, boards: Some(0) };
    };
    let all = table.optima(optimum);
    let shifts = alike.shifts(strips == 1);
    let count = |turns: &[[bool; 4]]| {
        if turns == allowed { all } else { Table::new(joints, pairs, turns).optima(optimum) }
    };
    FixedBest { best, optima: all, boards: boards(allowed, &shifts, count) }
}

/// How far inward, and the turns at that place and at its mirror place (the same one in the middle).
type State = (usize, usize, usize);

/// All pairs of turns.
fn both() -> impl Iterator<Item = (usize, usize)> {
    (0..16).map(|i| (i / 4, i % 4))
}

struct Table<'a> {
    joints: &'a [Joint],
    pairs: &'a [Joint],
    allowed: &'a Allowed,
    /// By how far inward and the two turns: the least cost to come there, and in how many ways.
    least: Vec<[[(u64, u128); 4]; 4]>,
}

impl<'a> Table<'a> {
    fn new(joints: &'a [Joint], pairs: &'a [Joint], allowed: &'a Allowed) -> Self {
        let levels = allowed.len().div_ceil(2);
        let mut table = Self { joints, pairs, allowed, least: Vec::with_capacity(levels) };
        for level in 0..levels {
            let mut row = [[(NEVER, 0); 4]; 4];
            for (a, b) in both().filter(|(a, b)| table.may(level, *a, *b)) {
                row[a][b] = table.come((level, a, b));
            }
            table.least.push(row);
        }
        table
    }

    fn mirror(&self, level: usize) -> usize {
        self.allowed.len() - 1 - level
    }

    fn may(&self, level: usize, a: usize, b: usize) -> bool {
        let mirror = self.mirror(level);
        self.allowed[level][a] && self.allowed[mirror][b] && (level != mirror || a == b)
    }

    fn pair(&self, (level, a, b): State) -> u64 {
        self.pairs.get(level).map_or(0, |pair| u64::from(pair[a][b]))
    }

    /// What the glue lines between these two and the pair outside them cost.
    fn glue(&self, (level, a, b): State, (outer_a, outer_b): (usize, usize)) -> u64 {
        let left = self.joints[level - 1][outer_a][a];
        u64::from(left) + u64::from(self.joints[self.mirror(level)][b][outer_b])
    }

    fn come(&self, state: State) -> (u64, u128) {
        if state.0 == 0 {
            return (self.pair(state), 1);
        }
        let (mut least, mut ways) = (NEVER, 0_u128);
        for (a, b) in both() {
            let (cost, before) = self.least[state.0 - 1][a][b];
            let cost = cost + self.glue(state, (a, b)) + self.pair(state);
            if before == 0 || cost > least {
                continue;
            }
            ways = if cost < least { before } else { ways.saturating_add(before) };
            least = cost;
        }
        (least, ways)
    }

    /// Every state in the middle that can be come to, and what closes the board there.
    fn ends(&self) -> impl Iterator<Item = (u64, State)> {
        let (level, even) = (self.least.len() - 1, self.allowed.len().is_multiple_of(2));
        let closing = move |a: usize, b: usize| if even { u64::from(self.joints[level][a][b]) } else { 0 };
        both().filter(move |(a, b)| self.least[level][*a][*b].1 > 0).map(move |(a, b)| (closing(a, b), (level, a, b)))
    }

    fn best(&self, order: &[usize], few: &mut Few) {
        let ends = self.ends().map(|(closing, (level, a, b))| (closing, self.least[level][a][b].0, (level, a, b)));
        let before =
            |state: State, ways: &mut Vec<Before<State>>| {
                if state.0 == 0 {
                    return;
                }
                let outer = both().map(|(a, b)| ((a, b), self.least[state.0 - 1][a][b]));
                ways.extend(outer.filter(|(_, (_, ways))| *ways > 0).map(|((a, b), (cost, _))| {
                    (self.glue(state, (a, b)) + self.pair(state), cost, (state.0 - 1, a, b))
                }));
            };
        ranked::cheapest(ends, few.most(), before, |cost, states| {
            let mut laid: Vec<Laid> = order.iter().map(|strip| Laid::of(*strip, 0)).collect();
            for (level, a, b) in states {
                laid[level] = Laid::of(order[level], a);
                laid[self.mirror(level)] = Laid::of(order[self.mirror(level)], b);
            }
            few.take(Found { laid, cost })
        });
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less.
    fn optima(&self, optimum: u64) -> u128 {
        let ends = self.ends().map(|(closing, (level, a, b))| (closing, self.least[level][a][b]));
        ends.filter(|(closing, (cost, _))| closing + cost == optimum)
            .fold(0, |sum, (_, (_, ways))| sum.saturating_add(ways))
    }
}
