//! The order is free and strips may be left out: proven, up to 16 strips.

use super::costs::{Costs, Found};
use super::distinct::{Alike, Few, boards_by};
use super::subsets::{Pair, Table, pairs};
use super::tried::Tried;
use super::walks::Priced;
use super::wanted::{Order, Rules, Wanted};
use super::watch::Watch;
use super::{Allowed, beam, beyond, bound};

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
    let wanted = Wanted { alike, ..Wanted::all(strips, Order::Free) };
    let pairs = pairs(costs);
    let mut always = |_: &_| true;
    let mut watch = Watch::new(&mut always);
    let mut few = Few::new(1, alike);
    let priced = guess(costs, &pairs, &rules, &wanted, &mut few, &mut watch);
    let table = proven(&pairs, &rules, &priced, STEPS, &mut few, &mut watch)?;
    let best = few.found(costs, |laid| rules.allow(laid)).into_iter().next()?;
    let all = table.optima(best.cost);
    let mut count = |meet: &Rules| {
        if *meet == rules {
            Some(all)
        } else {
            Some(Table::new(&pairs, meet, &priced, best.cost, &mut watch)?.optima(best.cost))
        }
    };
    let boards = boards_by(&rules, &alike.ways().collect::<Vec<_>>(), &mut count);
    Some(FreeBest { best, optima: all, boards })
}

/// Puts good lay-ups into `few`, and gives the prices of each count.
fn guess(
    costs: &Costs,
    pairs: &[Pair],
    rules: &Rules,
    wanted: &Wanted,
    few: &mut Few,
    watch: &mut Watch<'_>,
) -> Vec<Priced> {
    /// So often prices are set anew before the proof, all counts together: more take longer than they spare it.
    const TIMES: usize = 60;
    beyond::guess(costs, rules, wanted, few, watch);
    let counts = rules.counted().count();
    let best = few.cheapest();
    let times = if best.is_some() { TIMES.div_ceil(counts.max(1)) } else { 1 };
    let priced = bound::priced(pairs, rules, times, best.unwrap_or(0), watch);
    if wanted.repeats_every.is_none() {
        for priced in &priced {
            beam::laid(pairs, rules, priced, WIDTH, few, watch);
        }
    }
    priced
}

/// So many beginnings are kept of what is laid strip by strip before the proof.
const WIDTH: usize = 40;

/// So often a table is tried for less than what was found costs.
const STEPS: i32 = 5;

/// Puts the cheapest lay-ups into `few`, proven, and gives the table that proves it; `None` where it was stopped.
///
/// What was found is often far from the best, and the bound near it. A table for lay-ups that cost little more than the
/// bound is small; where it doesn't hold as many as are wanted, the next is for twice as much above the bound, and the
/// last, after `steps` of them, for what was found.
fn proven<'a>(
    pairs: &'a [Pair],
    rules: &'a Rules,
    priced: &[Priced],
    steps: i32,
    few: &mut Few,
    watch: &mut Watch<'_>,
) -> Option<Table<'a>> {
    let below = bound::below(priced);
    let above = few.cheapest().unwrap_or(0).saturating_sub(below);
    for step in (0..=steps).rev() {
        let most = if step == 0 { u64::MAX } else { below + (above >> step).max(1) };
        let most = most.min(few.dearest());
        let table = Table::new(pairs, rules, priced, most, watch)?;
        if let Some(optimum) = table.optimum() {
            watch.found(optimum);
            if !table.best(few, watch) {
                return None;
            }
        }
        if few.dearest() <= most {
            return Some(table);
        }
    }
    None
}

/// The proven best few under these rules; of what a good guess finds, where the search is stopped before.
pub(super) fn search(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Option<Tried> {
    let pairs = pairs(costs);
    let parts = rules.apart(wanted.repeats_every);
    let mut few = Few::new(wanted.few, wanted.alike);
    let priced = guess(costs, &pairs, rules, wanted, &mut few, watch);
    let below = bound::below(&priced).min(few.cheapest().unwrap_or(u64::MAX));
    watch.bound(below);
    // Where nothing repeats there is one part, and its table does for the count too.
    let mut kept = None;
    let ended = parts.iter().all(|part| {
        let steps = if parts.len() == 1 { STEPS } else { 0 };
        let table = proven(&pairs, part, &priced, steps, &mut few, watch);
        let ended = table.is_some();
        kept = table.filter(|_| part == rules);
        ended
    });
    let bound = few.cheapest().filter(|_| ended).unwrap_or(below);
    watch.bound(bound);
    let found = few.found(costs, |laid| rules.allow(laid));
    let Some(best) = found.first().map(|f| f.cost) else {
        return if ended { None } else { Some(Tried::nothing_yet(bound, watch)) };
    };
    let counted = if ended { count(&pairs, rules, wanted, &priced, best, kept.as_ref(), watch) } else { None };
    let tied = found.iter().take_while(|f| f.cost == best).count() as u64;
    let equally_good = counted.unwrap_or(tied);
    let looked_at = watch.progress.looked_at;
    Some(Tried { found, proven: counted.is_some(), bound: bound.min(best), equally_good, looked_at })
}

/// How many different boards cost just `optimum`, the least of all; `None` where the search was stopped. `known` is
/// the table of these very rules, where there is one.
fn count(
    pairs: &[Pair],
    rules: &Rules,
    wanted: &Wanted,
    priced: &[Priced],
    optimum: u64,
    known: Option<&Table<'_>>,
    watch: &mut Watch<'_>,
) -> Option<u64> {
    let mut count = |meet: &Rules| {
        if let Some(table) = known.filter(|_| meet == rules) {
            return Some(table.optima(optimum));
        }
        let mut sum = 0_u128;
        for part in meet.apart(wanted.repeats_every) {
            sum = sum.saturating_add(Table::new(pairs, &part, priced, optimum, watch)?.optima(optimum));
        }
        Some(sum)
    };
    let ways: Vec<(usize, bool)> = wanted.alike.ways().collect();
    boards_by(rules, &ways, &mut count).map(|boards| u64::try_from(boards).unwrap_or(u64::MAX))
}
