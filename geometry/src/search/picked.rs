//! The order is as given and strips may be left out: proven, however many there are.
//!
//! A dynamic programme over (strip, how many before it were left out, its turn): its place follows from the first two,
//! so that turns that repeat by place are no harder. Where none may be left out it is linear in strips.

use super::beyond;
use super::costs::{Costs, Found, Laid};
use super::distinct::{Few, boards_by};
use super::ranked::{self, Before};
use super::tried::Tried;
use super::wanted::{Rules, Wanted};
use super::watch::Watch;

/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: u64 = 1 << 60;

/// The proven best few under these rules; of what a good guess finds, where the search is stopped before.
pub(super) fn search(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Option<Tried> {
    let mut few = Few::new(wanted.few, wanted.alike);
    few.extend(beyond::in_order(costs, rules, wanted, watch));
    let parts = rules.apart(wanted.repeats_every);
    let mut bounds = Vec::with_capacity(parts.len());
    for part in &parts {
        let Some(table) = Table::new(costs, part, watch) else { break };
        if let Some(optimum) = table.optimum() {
            watch.found(optimum);
        }
        bounds.push(table.optimum());
        if !table.best(&mut few, watch) {
            break;
        }
    }
    let ended = bounds.len() == parts.len();
    let optimum = bounds.iter().flatten().copied().min();
    let bound = if ended { optimum.unwrap_or(0) } else { 0 };
    watch.bound(bound);
    let ordered = |laid: &[Laid]| laid.is_sorted_by_key(|l| l.strip) && rules.allow(laid);
    let found = few.found(costs, ordered);
    if ended && watch.go(0) && optimum.is_none() {
        return None;
    }
    let tied = found.iter().take_while(|f| f.cost == found[0].cost).count() as u64;
    let counted = optimum.filter(|_| ended).and_then(|o| count(costs, rules, wanted, o, watch));
    let looked_at = watch.progress.looked_at;
    Some(Tried { found, proven: counted.is_some(), bound, equally_good: counted.unwrap_or(tied), looked_at })
}

/// How many different boards cost just `optimum`, the least of all; `None` where the search was stopped. A strip by
/// itself is the same board after any turning; of several in order, turning half round makes another order.
fn count(costs: &Costs, rules: &Rules, wanted: &Wanted, optimum: u64, watch: &mut Watch<'_>) -> Option<u64> {
    let mut boards = 0_u128;
    for alone in [true, false] {
        let counts: Vec<bool> = rules.counts.iter().enumerate().map(|(c, may)| *may && (c == 1) == alone).collect();
        if !counts.contains(&true) {
            continue;
        }
        let some = Rules { counts, ..rules.clone() };
        let mut count = |meet: &Rules| {
            let mut sum = 0_u128;
            for part in meet.apart(wanted.repeats_every) {
                sum = sum.saturating_add(Table::new(costs, &part, watch)?.optima(optimum));
            }
            Some(sum)
        };
        let ways: Vec<(usize, bool)> = wanted.alike.ways().filter(|(_, reversed)| alone || !reversed).collect();
        // Where there are too many to count, that is an answer too.
        boards = boards.saturating_add(boards_by(&some, &ways, &mut count).unwrap_or(u128::MAX));
    }
    watch.go(0).then(|| u64::try_from(boards).unwrap_or(u64::MAX))
}

/// One state: strip, left out before it, turn.
type State = (usize, usize, usize);

struct Table<'a> {
    costs: &'a Costs,
    rules: &'a Rules,
    /// The most that may be left out, and one more.
    room: usize,
    /// By strip, left out before it, turn: the least cost to come there.
    least: Vec<u64>,
    /// The last strip before strip i that must be laid: none before that one may be the next to the left.
    reach: Vec<Option<usize>>,
}

impl<'a> Table<'a> {
    fn new(costs: &'a Costs, rules: &'a Rules, watch: &mut Watch<'_>) -> Option<Self> {
        let strips = rules.turns.len();
        let room = strips - rules.least() + 1;
        let mut held = None;
        let step = |i: usize| {
            let before = held;
            held = if rules.must[i] { Some(i) } else { held };
            before
        };
        let reach = (0..strips).map(step).collect();
        let mut table = Self { costs, rules, room, least: vec![NEVER; strips * room * 4], reach };
        for i in 0..strips {
            for skipped in 0..room.min(i + 1) {
                let mut ways = 0;
                for turn in (0..4).filter(|turn| rules.may(i, i - skipped, *turn)) {
                    let mut least = table.alone((i, skipped, turn));
                    table.each_before((i, skipped, turn), |more, at, _| {
                        ways += 1;
                        least = least.min(more + table.least[at]);
                    });
                    let at = table.at((i, skipped, turn));
                    table.least[at] = least;
                }
                if !watch.go(ways + 1) {
                    return None;
                }
            }
        }
        Some(table)
    }

    fn at(&self, (i, skipped, turn): State) -> usize {
        (i * self.room + skipped) * 4 + turn
    }

    /// What it costs to begin here.
    fn alone(&self, (i, skipped, _): State) -> u64 {
        if skipped == i && self.reach[i].is_none() && self.rules.first.is_none_or(|first| first == i) {
            0
        } else {
            NEVER
        }
    }

    /// Every state that may stand before this one: what the glue line costs, and where it is.
    fn each_before(&self, (i, skipped, turn): State, mut with: impl FnMut(u64, usize, State)) {
        if skipped == i {
            return;
        }
        for before in self.reach[i].unwrap_or(0).max(i - 1 - skipped)..i {
            let left = skipped + before + 1 - i;
            for a in 0..4 {
                let state = (before, left, a);
                let at = self.at(state);
                if self.least[at] < NEVER {
                    with(u64::from(self.costs.between(Laid::of(before, a), Laid::of(i, turn))), at, state);
                }
            }
        }
    }

    /// Every state at which a lay-up may end, and what is left out costs.
    fn ends(&self) -> Vec<(u64, State)> {
        let (strips, rules) = (self.rules.turns.len(), self.rules);
        let mut ends = Vec::new();
        for i in (0..strips).rev() {
            for skipped in 0..self.room.min(i + 1) {
                let count = i + 1 - skipped;
                if rules.counts[count] && rules.last.is_none_or(|last| last == i) {
                    let states = (0..4).map(|turn| (i, skipped, turn));
                    let states = states.filter(|state| self.least[self.at(*state)] < NEVER);
                    ends.extend(states.map(|state| (rules.left(count), state)));
                }
            }
            if rules.must[i] {
                break;
            }
        }
        ends
    }

    fn optimum(&self) -> Option<u64> {
        self.ends().into_iter().map(|(left, state)| left + self.least[self.at(state)]).min()
    }

    /// Puts the cheapest lay-ups into `few`; whether it came to the end.
    fn best(&self, few: &mut Few, watch: &mut Watch<'_>) -> bool {
        let ends = self.ends().into_iter().map(|(left, state)| (left, self.least[self.at(state)], state));
        let before = |state: State, ways: &mut Vec<Before<State>>| {
            self.each_before(state, |more, at, before| ways.push((more, self.least[at], before)));
        };
        let mut ended = true;
        ranked::cheapest(ends, few.most(), before, |cost, states| {
            ended = watch.go(16 * states.len() as u64);
            let laid = states.iter().map(|(i, _, turn)| Laid::of(*i, *turn)).collect();
            ended && few.take(Found { laid, cost })
        });
        ended
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less.
    fn optima(&self, optimum: u64) -> u128 {
        let mut ways = vec![0_u128; self.least.len()];
        for i in 0..self.rules.turns.len() {
            for state in (0..self.room.min(i + 1)).flat_map(|skipped| (0..4).map(move |turn| (i, skipped, turn))) {
                let at = self.at(state);
                if self.least[at] == NEVER {
                    continue;
                }
                let mut here = u128::from(self.alone(state) == 0);
                self.each_before(state, |more, before, _| {
                    if more + self.least[before] == self.least[at] {
                        here = here.saturating_add(ways[before]);
                    }
                });
                ways[at] = here;
            }
        }
        let ends = self.ends().into_iter().filter(|(left, state)| left + self.least[self.at(*state)] == optimum);
        ends.fold(0, |sum, (_, state)| sum.saturating_add(ways[self.at(state)]))
    }
}
