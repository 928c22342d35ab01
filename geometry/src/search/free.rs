//! The order is free and strips may be left out: proven, up to 16 strips.
//!
//! A dynamic programme over (set of strips laid, last strip, its turn): least[set][last, turn] is
//! the least cost of laying exactly that set with that strip at the right. A row holds all
//! 16 × 4 last strips side by side, those not in the set at [`NEVER`], so that the least over all
//! that could lie before is a straight run over 64 numbers. 2¹⁶ rows of 64 four-byte numbers are
//! 16 MiB; the count of equally good lay-ups, 16 bytes each, is 64 MiB more.

use super::Allowed;
use super::costs::{Costs, Found, Laid};
use super::distinct::{Alike, boards};

/// The most strips whose best order is proven.
pub const MOST_PROVEN: usize = 16;

/// What was proven for strips in any order, for one number of strips laid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreeBest {
    /// A proven best lay-up; of a board and the same turned half round, the first ([`Alike::first`]) where that
    /// is allowed.
    pub best: Found,
    /// How many lay-ups cost as little.
    pub optima: u128,
    /// How many different boards they are; `None` where there are too many to count.
    pub boards: Option<u128>,
}

const LANES: usize = 4 * MOST_PROVEN;
/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: u32 = 1 << 30;

/// The proven best lay-up of exactly `laid` of the strips; `None` where there is none, or where
/// there are more than [`MOST_PROVEN`] strips. A strip that may lie in no turn is left out.
#[must_use]
pub fn free(costs: &Costs, allowed: &Allowed, laid: usize, alike: Alike) -> Option<FreeBest> {
    let strips = costs.strips();
    if strips > MOST_PROVEN || allowed.len() != strips || laid == 0 || laid > strips {
        return None;
    }
    let columns = columns(costs);
    let table = Table::new(&columns, allowed, laid);
    let optimum = table.optimum()?;
    let walked = table.walk(optimum)?;
    let may = |l: &Laid| allowed[l.strip][l.turn() as usize];
    let same = alike.same(&walked).into_iter().filter(|l| l.iter().all(may) && costs.total(l) == u64::from(optimum));
    let best = Found { laid: same.min()?, cost: u64::from(optimum) };
    let optima = table.optima(optimum);
    let count = |turns: &[[bool; 4]]| {
        if turns == allowed { optima } else { Table::new(&columns, turns, laid).optima(optimum) }
    };
    Some(FreeBest { best, optima, boards: boards(allowed, &alike.shifts(true), count) })
}

/// For each strip and turn at the right, what each strip and turn at its left would cost.
fn columns(costs: &Costs) -> Vec<[u32; LANES]> {
    let all = 4 * costs.strips();
    let column = |right: usize| {
        let right = Laid::of(right / 4, right % 4);
        std::array::from_fn(|left| if left < all { costs.between(Laid::of(left / 4, left % 4), right) } else { NEVER })
    };
    (0..all).map(column).collect()
}

struct Table<'a> {
    columns: &'a [[u32; LANES]],
    laid: usize,
    least: Vec<[u32; LANES]>,
}

fn members(set: usize) -> impl Iterator<Item = usize> {
    (0..MOST_PROVEN).filter(move |strip| set >> strip & 1 == 1)
}

impl<'a> Table<'a> {
    fn new(columns: &'a [[u32; LANES]], allowed: &Allowed, laid: usize) -> Self {
        let mut least = vec![[NEVER; LANES]; 1 << allowed.len()];
        for set in 1..least.len() {
            let size = set.count_ones() as usize;
            if size > laid {
                continue;
            }
            for last in members(set) {
                let before = if size == 1 { None } else { Some(least[set ^ (1 << last)]) };
                for turn in (0..4).filter(|turn| allowed[last][*turn]) {
                    let at = 4 * last + turn;
                    least[set][at] = before.as_ref().map_or(0, |row| cheapest(row, &columns[at]));
                }
            }
        }
        Self { columns, laid, least }
    }

    fn ends(&self) -> impl Iterator<Item = (usize, &[u32; LANES])> {
        self.least.iter().enumerate().filter(|(set, _)| set.count_ones() as usize == self.laid)
    }

    fn optimum(&self) -> Option<u32> {
        self.ends().flat_map(|(_, row)| row.iter().copied()).min().filter(|cost| *cost < NEVER)
    }

    /// One lay-up of that cost, found from the right.
    fn walk(&self, optimum: u32) -> Option<Vec<Laid>> {
        let (mut set, row) = self.ends().find(|(_, row)| row.contains(&optimum))?;
        let mut at = row.iter().position(|cost| *cost == optimum)?;
        let mut laid = vec![Laid::of(at / 4, at % 4)];
        while set.count_ones() > 1 {
            let (here, before) = (self.least[set][at], set ^ (1 << (at / 4)));
            let column = &self.columns[at];
            at = (0..LANES).find(|left| self.least[before][*left] + column[*left] == here)?;
            set = before;
            laid.push(Laid::of(at / 4, at % 4));
        }
        laid.reverse();
        Some(laid)
    }

    /// How many lay-ups cost exactly `optimum`: from the full sets down, each state hands the
    /// number of ways to finish from it to every state that may stand before it. At most
    /// 16!·4¹⁶ ≈ 9·10²², which a `u128` holds.
    fn optima(&self, optimum: u32) -> u128 {
        let mut ways = vec![[0_u128; LANES]; self.least.len()];
        let mut total = 0;
        for set in (1..self.least.len()).rev() {
            let size = set.count_ones() as usize;
            if size > self.laid {
                continue;
            }
            for at in members(set).flat_map(|last| 4 * last..4 * last + 4) {
                let here = self.least[set][at];
                let done = size == self.laid && here == optimum;
                let on = if done { 1 } else { ways[set][at] };
                if on == 0 || here >= NEVER {
                    continue;
                }
                if size == 1 {
                    total += on;
                    continue;
                }
                let before = set ^ (1 << (at / 4));
                let (row, column) = (&self.least[before], &self.columns[at]);
                for ((less, more), way) in row.iter().zip(column).zip(&mut ways[before]) {
                    if less + more == here {
                        *way += on;
                    }
                }
            }
        }
        total
    }
}

/// The least of row + column, lane by lane.
#[inline]
fn cheapest(row: &[u32; LANES], column: &[u32; LANES]) -> u32 {
    let mut least = [NEVER; 8];
    for (row, column) in row.as_chunks::<8>().0.iter().zip(column.as_chunks::<8>().0) {
        for lane in 0..8 {
            least[lane] = least[lane].min(row[lane] + column[lane]);
        }
    }
    least.into_iter().fold(NEVER, u32::min)
}
