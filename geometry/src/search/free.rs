//! The order is free and strips may be left out: proven, up to 16 strips.
//!
//! A dynamic programme over (set of strips laid, last strip, its turn): least[set][last, turn] is
//! the least cost of laying exactly that set with that strip at the right. The four turns of a
//! strip lie side by side, and so do the four of the next, so that what comes of one strip beside
//! another is four sums of four numbers. 2¹⁶ rows of 64 four-byte numbers are 16 MiB; the count of
//! equally good lay-ups, 16 bytes each, is 64 MiB more.

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

/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: i32 = 1 << 30;
/// Of each strip as the last one, the least cost for each of its turns.
type Row = [[i32; 4]; MOST_PROVEN];
/// What one strip costs beside another: by the turn of the right one, then of the left one.
type Pair = [[i32; 4]; 4];

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
    let pairs = pairs(costs);
    let mut always = |_: &_| true;
    let mut watch = Watch::new(&mut always);
    let table = Table::new(&pairs, &rules, &mut watch)?;
    let mut few = Few::new(1, alike);
    table.best(&mut few, &mut watch);
    let best = few.found(costs, |laid| rules.allow(laid)).into_iter().next()?;
    let all = table.optima(best.cost);
    let mut count = |meet: &Rules| {
        if *meet == rules { Some(all) } else { Some(Table::new(&pairs, meet, &mut watch)?.optima(best.cost)) }
    };
    let boards = boards_by(&rules, &alike.ways().collect::<Vec<_>>(), &mut count);
    Some(FreeBest { best, optima: all, boards })
}

/// The proven best few under these rules; of what a good guess finds, where the search is stopped before.
pub(super) fn search(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Option<Tried> {
    let pairs = pairs(costs);
    let guess = beyond::quick(costs, rules, wanted, watch);
    let mut few = Few::new(wanted.few, wanted.alike);
    few.extend(guess.found);
    let parts = rules.apart(wanted.repeats_every);
    let mut bounds = Vec::with_capacity(parts.len());
    for part in &parts {
        let Some(table) = Table::new(&pairs, part, watch) else { break };
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
    let counted = if proven { optimum.and_then(|o| count(&pairs, rules, wanted, o, watch)) } else { None };
    if proven && optimum.is_none() {
        return None;
    }
    let proven = proven && counted.is_some();
    Some(Tried { found, proven, bound, equally_good: counted.unwrap_or(tied), looked_at: watch.progress.looked_at })
}

/// How many different boards cost just `optimum`, the least of all; `None` where the search was stopped.
fn count(pairs: &[Pair], rules: &Rules, wanted: &Wanted, optimum: u64, watch: &mut Watch<'_>) -> Option<u64> {
    let mut count = |meet: &Rules| {
        let mut sum = 0_u128;
        for part in meet.apart(wanted.repeats_every) {
            sum = sum.saturating_add(Table::new(pairs, &part, watch)?.optima(optimum));
        }
        Some(sum)
    };
    let ways: Vec<(usize, bool)> = wanted.alike.ways().collect();
    boards_by(rules, &ways, &mut count).map(|boards| u64::try_from(boards).unwrap_or(u64::MAX))
}

/// What each strip costs left of each: by the right one, then the left one.
#[allow(clippy::cast_possible_wrap)]
fn pairs(costs: &Costs) -> Vec<Pair> {
    let pair = |right: usize, left: usize| {
        let cost = |a: usize, b: usize| costs.between(Laid::of(left, a), Laid::of(right, b)) as i32;
        std::array::from_fn(|b| std::array::from_fn(|a| cost(a, b)))
    };
    (0..costs.strips()).flat_map(|right| (0..costs.strips()).map(move |left| pair(right, left))).collect()
}

struct Table<'a> {
    pairs: &'a [Pair],
    rules: &'a Rules,
    least: Vec<Row>,
}

/// The strips of a set, from the first.
fn members(set: usize) -> impl Iterator<Item = usize> {
    let rest = |set: &usize| Some(set & (set - 1)).filter(|rest| *rest != 0);
    std::iter::successors(Some(set).filter(|set| *set != 0), rest).map(|set| set.trailing_zeros() as usize)
}

impl<'a> Table<'a> {
    /// `None` where it was stopped.
    fn new(pairs: &'a [Pair], rules: &'a Rules, watch: &mut Watch<'_>) -> Option<Self> {
        let (strips, most) = (rules.turns.len(), rules.most());
        let mut least = vec![[[NEVER; 4]; MOST_PROVEN]; 1 << strips];
        // The turns that strips may lie in, by place.
        let may = |last: usize, place: usize| std::array::from_fn(|turn| rules.may(last, place, turn));
        let places: Vec<Vec<[bool; 4]>> =
            (0..strips).map(|place| (0..strips).map(|last| may(last, place)).collect()).collect();
        for set in 1..least.len() {
            let size = set.count_ones() as usize;
            if size > most {
                continue;
            }
            if !watch.go((16 * size * (size - 1)) as u64) {
                return None;
            }
            for last in members(set) {
                let before = set ^ (1 << last);
                let here = if size > 1 {
                    cheapest(&least[before], &pairs[last * strips..][..strips], before)
                } else {
                    [if rules.first.is_none_or(|first| first == last) { 0 } else { NEVER }; 4]
                };
                let may = places[size - 1][last];
                least[set][last] = std::array::from_fn(|turn| if may[turn] { here[turn].min(NEVER) } else { NEVER });
            }
        }
        Some(Self { pairs, rules, least })
    }

    fn pair(&self, left: usize, right: usize) -> &Pair {
        &self.pairs[right * self.rules.turns.len() + left]
    }

    /// Every state at which a lay-up may end: its set, last strip and turn, and what is left out costs.
    fn ends(&self) -> impl Iterator<Item = (State, u64)> {
        let rules = self.rules;
        let must = (0..rules.must.len()).filter(|i| rules.must[*i]).fold(0, |set, i| set | 1 << i);
        let sets = (1..self.least.len()).filter(move |set| set & must == must);
        let sets = sets.map(|set| (set, set.count_ones() as usize)).filter(|(_, size)| rules.counts[*size]);
        sets.flat_map(move |(set, size)| {
            let lasts = members(set).filter(|last| rules.last.is_none_or(|strip| strip == *last));
            lasts.flat_map(move |last| (0..4).map(move |turn| ((set, last, turn), rules.left(size))))
        })
        .filter(|(state, _)| self.at(*state) < NEVER)
    }

    fn at(&self, (set, last, turn): State) -> i32 {
        self.least[set][last][turn]
    }

    fn optimum(&self) -> Option<u64> {
        self.ends().map(|(state, left)| whole(self.at(state)) + left).min()
    }

    /// Every state that may stand before this one, with what the glue line between costs.
    fn before(&self, (set, last, turn): State) -> impl Iterator<Item = (i32, State)> {
        let set = set ^ (1 << last);
        let states = members(set).flat_map(move |left| (0..4).map(move |a| (left, a)));
        states
            .map(move |(left, a)| (self.pair(left, last)[turn][a], (set, left, a)))
            .filter(|(_, s)| self.at(*s) < NEVER)
    }

    /// Puts the cheapest lay-ups into `few`; whether it came to the end.
    fn best(&self, few: &mut Few, watch: &mut Watch<'_>) -> bool {
        let ends = self.ends().map(|(state, left)| (left, whole(self.at(state)), state));
        let before = |state: State, ways: &mut Vec<Before<State>>| {
            ways.extend(self.before(state).map(|(more, state)| (whole(more), whole(self.at(state)), state)));
        };
        let mut ended = true;
        ranked::cheapest(ends, few.most(), before, |cost, states| {
            ended = watch.go(64 * states.len() as u64);
            let laid = states.iter().map(|(_, strip, turn)| Laid::of(*strip, *turn)).collect();
            ended && few.take(Found { laid, cost })
        });
        ended
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less: from the full sets down, each
    /// state hands the number of ways to finish from it to every state that may stand before it. At most
    /// 16!·4¹⁶·e ≈ 2.5·10²³, which a `u128` holds.
    fn optima(&self, optimum: u64) -> u128 {
        let mut ways = vec![[[0_u128; 4]; MOST_PROVEN]; self.least.len()];
        let mut reached = vec![false; self.least.len()];
        for ((set, last, turn), left) in self.ends() {
            if whole(self.at((set, last, turn))) + left == optimum {
                ways[set][last][turn] = 1;
                reached[set] = true;
            }
        }
        let mut total = 0;
        // The larger sets come later than their parts.
        for set in (1..self.least.len()).rev() {
            if !reached[set] {
                continue;
            }
            for (last, turn) in members(set).flat_map(|last| (0..4).map(move |turn| (last, turn))) {
                let on = ways[set][last][turn];
                if on == 0 {
                    continue;
                }
                if set.count_ones() == 1 {
                    total += on;
                    continue;
                }
                for (more, (set, left, a)) in self.before((set, last, turn)) {
                    if self.least[set][left][a] + more == self.at((set | 1 << last, last, turn)) {
                        ways[set][left][a] += on;
                        reached[set] = true;
                    }
                }
            }
        }
        total
    }
}

/// A set of strips laid, the last of them and its turn.
type State = (usize, usize, usize);

#[allow(clippy::cast_sign_loss)]
const fn whole(cost: i32) -> u64 {
    cost as u64
}

/// For each turn of a strip, the least that laying it right of one of `before` comes to.
#[inline]
fn cheapest(row: &Row, pairs: &[Pair], before: usize) -> [i32; 4] {
    // For each turn of the right one, the least over each turn of the left one: the four of a strip stay side by side.
    let mut least = [[NEVER; 4]; 4];
    let mut rest = before;
    while rest != 0 {
        let left = rest.trailing_zeros() as usize;
        rest &= rest - 1;
        let costs = &row[left & (MOST_PROVEN - 1)];
        for (least, more) in least.iter_mut().zip(&pairs[left]) {
            for a in 0..4 {
                least[a] = least[a].min(costs[a] + more[a]);
            }
        }
    }
    least.map(|[a, b, c, d]| a.min(b).min(c.min(d)))
}
