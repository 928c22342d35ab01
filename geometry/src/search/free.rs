//! The order is free and strips may be left out: proven, up to 16 strips.
//!
//! A dynamic programme over (set of strips laid, last strip, its turn): least[set][last, turn] is
//! the least cost of laying exactly that set with that strip at the right. A row holds all
//! 16 × 4 last strips side by side, those not in the set at [`NEVER`], so that the least over all
//! that could lie before is a straight run over 64 numbers. 2¹⁶ rows of 64 four-byte numbers are
//! 16 MiB; the count of equally good lay-ups, 16 bytes each, is 64 MiB more.

use super::costs::{Costs, Found, Laid};
use super::distinct::{Alike, Few, boards_by};
use super::ranked::{self, Before};
use super::tried::Tried;
use super::wanted::{Rules, Wanted};
use super::watch::Watch;
use super::{Allowed, beyond};

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
/// One strip beside another, of all its turns and of each: what weighing a row counts.
const ROW: u64 = LANES as u64;

/// The proven best lay-up of exactly `laid` of the strips; `None` where there is none, or where
/// there are more than [`MOST_PROVEN`] strips. A strip that may lie in no turn is left out.
#[must_use]
pub fn free(costs: &Costs, allowed: &Allowed, laid: usize, alike: Alike) -> Option<FreeBest> {
    let strips = costs.strips();
    if strips > MOST_PROVEN || allowed.len() != strips || laid == 0 || laid > strips {
        return None;
    }
    let counts = (0..=strips).map(|count| count == laid).collect();
    let (turns, must) = (allowed.to_vec(), vec![false; strips]);
    let rules = Rules { turns, must, first: None, last: None, counts, left_out: 0, pattern: Vec::new() };
    let columns = columns(costs);
    let mut always = |_: &_| true;
    let mut watch = Watch::new(&mut always);
    let table = Table::new(&columns, &rules, &mut watch)?;
    let mut few = Few::new(1, alike);
    table.best(&mut few, &mut watch);
    let best = few.found(costs, |laid| rules.allow(laid)).into_iter().next()?;
    let all = table.optima(best.cost);
    let mut count = |meet: &Rules| {
        if *meet == rules { Some(all) } else { Some(Table::new(&columns, meet, &mut watch)?.optima(best.cost)) }
    };
    let boards = boards_by(&rules, &alike.ways().collect::<Vec<_>>(), &mut count);
    Some(FreeBest { best, optima: all, boards })
}

/// The proven best few under these rules; of what a good guess finds, where the search is stopped before.
pub(super) fn search(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Option<Tried> {
    let columns = columns(costs);
    let guess = beyond::quick(costs, rules, wanted, watch);
    let mut few = Few::new(wanted.few, wanted.alike);
    few.extend(guess.found);
    let parts = rules.apart(wanted.repeats_every);
    let mut bounds = Vec::with_capacity(parts.len());
    for part in &parts {
        let Some(table) = Table::new(&columns, part, watch) else { break };
        if let Some(optimum) = table.optimum() {
            watch.found(optimum);
        }
        bounds.push(table.optimum());
        if !table.best(&mut few, watch) {
            break;
        }
    }
    let proven = bounds.len() == parts.len() && watch.go(0);
    let found = few.found(costs, |laid| rules.allow(laid));
    let optimum = bounds.iter().flatten().copied().min();
    let bound = if bounds.len() == parts.len() { optimum.unwrap_or(0) } else { guess.bound };
    watch.bound(bound);
    let tied = found.iter().take_while(|f| f.cost == found[0].cost).count() as u64;
    let counted = if proven { optimum.and_then(|o| count(&columns, rules, wanted, o, watch)) } else { None };
    if proven && optimum.is_none() {
        return None;
    }
    let proven = proven && counted.is_some();
    Some(Tried { found, proven, bound, equally_good: counted.unwrap_or(tied), looked_at: watch.progress.looked_at })
}

/// How many different boards cost just `optimum`, the least of all; `None` where the search was stopped.
fn count(columns: &[[u32; LANES]], rules: &Rules, wanted: &Wanted, optimum: u64, watch: &mut Watch<'_>) -> Option<u64> {
    let mut count = |meet: &Rules| {
        let mut sum = 0_u128;
        for part in meet.apart(wanted.repeats_every) {
            sum = sum.saturating_add(Table::new(columns, &part, watch)?.optima(optimum));
        }
        Some(sum)
    };
    boards_by(rules, &wanted.alike.ways().collect::<Vec<_>>(), &mut count)
        .map(|boards| u64::try_from(boards).unwrap_or(u64::MAX))
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
    rules: &'a Rules,
    least: Vec<[u32; LANES]>,
}

fn members(set: usize) -> impl Iterator<Item = usize> {
    (0..MOST_PROVEN).filter(move |strip| set >> strip & 1 == 1)
}

impl<'a> Table<'a> {
    /// `None` where it was stopped.
    fn new(columns: &'a [[u32; LANES]], rules: &'a Rules, watch: &mut Watch<'_>) -> Option<Self> {
        let mut least = vec![[NEVER; LANES]; 1 << rules.turns.len()];
        let most = rules.most();
        for set in 1..least.len() {
            let size = set.count_ones() as usize;
            if size > most {
                continue;
            }
            if !watch.go(4 * ROW * size as u64) {
                return None;
            }
            for last in members(set) {
                let before = if size == 1 { None } else { Some(least[set ^ (1 << last)]) };
                if before.is_none() && rules.first.is_some_and(|first| first != last) {
                    continue;
                }
                for turn in (0..4).filter(|turn| rules.may(last, size - 1, *turn)) {
                    let at = 4 * last + turn;
                    least[set][at] = before.as_ref().map_or(0, |row| cheapest(row, &columns[at]));
                }
            }
        }
        Some(Self { columns, rules, least })
    }

    /// Every state at which a lay-up may end: its set, last strip and turn, and what is left out costs.
    fn ends(&self) -> impl Iterator<Item = (usize, usize, u64)> {
        let rules = self.rules;
        let must = (0..rules.must.len()).filter(|i| rules.must[*i]).fold(0, |set, i| set | 1 << i);
        let sets = (1..self.least.len()).filter(move |set| set & must == must);
        let sets = sets.map(|set| (set, set.count_ones() as usize)).filter(|(_, size)| rules.counts[*size]);
        sets.flat_map(move |(set, size)| {
            let lasts = members(set).filter(|last| rules.last.is_none_or(|strip| strip == *last));
            lasts.flat_map(|last| 4 * last..4 * last + 4).map(move |at| (set, at, rules.left(size)))
        })
        .filter(|(set, at, _)| self.least[*set][*at] < NEVER)
    }

    fn optimum(&self) -> Option<u64> {
        self.ends().map(|(set, at, left)| u64::from(self.least[set][at]) + left).min()
    }

    /// Puts the cheapest lay-ups into `few`; whether it came to the end.
    fn best(&self, few: &mut Few, watch: &mut Watch<'_>) -> bool {
        let ends = self.ends().map(|(set, at, left)| (left, u64::from(self.least[set][at]), (set, at)));
        let before = |(set, at): (usize, usize), ways: &mut Vec<Before<(usize, usize)>>| {
            if set.count_ones() == 1 {
                return;
            }
            let set = set ^ (1 << (at / 4));
            let (row, column) = (&self.least[set], &self.columns[at]);
            let on = (0..LANES).filter(|left| row[*left] < NEVER);
            ways.extend(on.map(|left| (u64::from(column[left]), u64::from(row[left]), (set, left))));
        };
        let mut ended = true;
        ranked::cheapest(ends, few.most(), before, |cost, states| {
            ended = watch.go(ROW * states.len() as u64);
            let laid = states.iter().map(|(_, at)| Laid::of(at / 4, at % 4)).collect();
            ended && few.take(Found { laid, cost })
        });
        ended
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less: from the full sets down, each
    /// state hands the number of ways to finish from it to every state that may stand before it. At most
    /// 16!·4¹⁶·e ≈ 2.5·10²³, which a `u128` holds.
    fn optima(&self, optimum: u64) -> u128 {
        let mut ways = vec![[0_u128; LANES]; self.least.len()];
        for (set, at, left) in self.ends() {
            ways[set][at] = u128::from(u64::from(self.least[set][at]) + left == optimum);
        }
        let mut total = 0;
        for set in (1..self.least.len()).rev() {
            let size = set.count_ones() as usize;
            for at in members(set).flat_map(|last| 4 * last..4 * last + 4) {
                let (here, on) = (self.least[set][at], ways[set][at]);
                if on == 0 {
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
