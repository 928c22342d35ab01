//! The strips of each panel keep their order, and which panel the next strip is from is searched: proven.
//!
//! A dynamic programme over (how many strips of each panel are passed, which panel the last one laid is of, how many
//! that were passed were left out, its turn). A panel's strips count as passed once a later one of it is laid, so that
//! no lay-up is met twice. Its size is the product of the panels' strips; where that is too much
//! the order as given is searched, and the bound is that of any order.

use super::beyond;
use super::costs::{Costs, Found, Laid};
use super::distinct::{Few, boards_by};
use super::picked;
use super::ranked::{self, Before};
use super::tried::Tried;
use super::wanted::{Rules, Wanted};
use super::watch::Watch;

/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: u64 = 1 << 60;
/// The most states (128 MB).
const MOST: usize = 1 << 24;

/// The strips of every panel, by their place among those that can be laid.
pub(super) fn by_panel(panels: &[usize]) -> Vec<Vec<usize>> {
    let mut known: Vec<usize> = Vec::new();
    let mut of: Vec<Vec<usize>> = Vec::new();
    for (strip, panel) in panels.iter().enumerate() {
        let at = known.iter().position(|k| k == panel).unwrap_or_else(|| {
            known.push(*panel);
            of.push(Vec::new());
            known.len() - 1
        });
        of[at].push(strip);
    }
    of
}

/// The proven best few under these rules; `panels` says of which panel each strip is.
pub(super) fn search(
    costs: &Costs,
    rules: &Rules,
    panels: &[usize],
    wanted: &Wanted,
    watch: &mut Watch<'_>,
) -> Option<Tried> {
    let of = by_panel(panels);
    if Table::size(&of, rules).is_none() {
        let bound = beyond::search(costs, rules, wanted, watch).map_or(0, |tried| tried.bound);
        let mut tried = picked::search(costs, rules, wanted, watch)?;
        tried.bound = tried.found.first().map_or(bound, |best| bound.min(best.cost));
        tried.proven = false;
        return Some(tried);
    }
    let mut few = Few::new(wanted.few, wanted.alike);
    few.extend(beyond::in_order(costs, rules, wanted, watch));
    let parts = rules.apart(wanted.repeats_every);
    let mut bounds = Vec::with_capacity(parts.len());
    for part in &parts {
        let Some(table) = Table::new(costs, part, &of, false, watch) else { break };
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
    let in_order = |laid: &[Laid]| {
        let rising =
            |strips: &Vec<usize>| laid.iter().filter(|l| strips.contains(&l.strip)).is_sorted_by_key(|l| l.strip);
        of.iter().all(rising) && rules.allow(laid)
    };
    let found = few.found(costs, in_order);
    if ended && watch.go(0) && optimum.is_none() {
        return None;
    }
    let tied = found.iter().take_while(|f| f.cost == found[0].cost).count() as u64;
    let counted = optimum.filter(|_| ended).and_then(|o| count(costs, rules, &of, wanted, o, watch));
    let looked_at = watch.progress.looked_at;
    Some(Tried { found, proven: counted.is_some(), bound, equally_good: counted.unwrap_or(tied), looked_at })
}

/// How many different boards cost just `optimum`, the least of all; `None` where the search was stopped. Only a lay-up
/// of no more than one strip of each panel keeps its order when the board is turned half round.
fn count(
    costs: &Costs,
    rules: &Rules,
    of: &[Vec<usize>],
    wanted: &Wanted,
    optimum: u64,
    watch: &mut Watch<'_>,
) -> Option<u64> {
    let mut boards = 0_u128;
    for once in [true, false] {
        let mut count = |meet: &Rules| {
            let mut sum = 0_u128;
            for part in meet.apart(wanted.repeats_every) {
                let mut optima = |once| Some(Table::new(costs, &part, of, once, watch)?.optima(optimum));
                let each = if once { optima(true)? } else { optima(false)?.saturating_sub(optima(true)?) };
                sum = sum.saturating_add(each);
            }
            Some(sum)
        };
        let ways: Vec<(usize, bool)> = wanted.alike.ways().filter(|(_, reversed)| once || !reversed).collect();
        // Where there are too many to count, that is an answer too.
        boards = boards.saturating_add(boards_by(rules, &ways, &mut count).unwrap_or(u128::MAX));
    }
    watch.go(0).then(|| u64::try_from(boards).unwrap_or(u64::MAX))
}

/// How many of each panel are passed, in one number; the last strip's panel; how many were left out; its turn.
type State = (usize, usize, usize, usize);

struct Table<'a> {
    costs: &'a Costs,
    rules: &'a Rules,
    of: &'a [Vec<usize>],
    /// Whether no more than one strip of each panel is laid.
    once: bool,
    /// By how much the number of those passed rises with one more of each panel.
    strides: Vec<usize>,
    /// The most that may be left out, and one more.
    room: usize,
    /// The least cost to come to each state.
    least: Vec<u64>,
}

impl<'a> Table<'a> {
    /// How many ways to have passed strips there are; none where states would be too many.
    fn size(of: &[Vec<usize>], rules: &Rules) -> Option<usize> {
        let passed = of.iter().try_fold(1_usize, |all, strips| all.checked_mul(strips.len() + 1))?;
        let room = rules.turns.len() - rules.least() + 1;
        passed.checked_mul(of.len() * room * 4).filter(|all| *all <= MOST).map(|_| passed)
    }

    fn new(
        costs: &'a Costs,
        rules: &'a Rules,
        of: &'a [Vec<usize>],
        once: bool,
        watch: &mut Watch<'_>,
    ) -> Option<Self> {
        let passed = Self::size(of, rules)?;
        let mut stride = 1;
        let step = |strips: &Vec<usize>| {
            let this = stride;
            stride *= strips.len() + 1;
            this
        };
        let strides = of.iter().map(step).collect();
        let room = rules.turns.len() - rules.least() + 1;
        let mut table =
            Self { costs, rules, of, once, strides, room, least: vec![NEVER; passed * of.len() * room * 4] };
        // What is passed before a state has the lower number.
        for state in table.states(passed) {
            let mut ways = 0;
            let mut least = table.alone(state);
            table.each_before(state, |more, at, _| {
                ways += 1;
                least = least.min(more + table.least[at]);
            });
            let at = table.at(state);
            table.least[at] = least;
            if !watch.go(ways + 1) {
                return None;
            }
        }
        Some(table)
    }

    /// Every state in which a strip may lie so.
    fn states(&self, passed: usize) -> impl Iterator<Item = State> + use<'a> {
        let (rules, of, strides, room) = (self.rules, self.of, self.strides.clone(), self.room);
        (0..passed).flat_map(move |code| {
            let passed: Vec<usize> =
                strides.iter().zip(of).map(|(stride, strips)| code / stride % (strips.len() + 1)).collect();
            let sum: usize = passed.iter().sum();
            let last = (0..of.len()).filter(move |panel| passed[*panel] > 0).collect::<Vec<_>>();
            let strides = strides.clone();
            last.into_iter().flat_map(move |panel| {
                let strip = of[panel][code / strides[panel] % (of[panel].len() + 1) - 1];
                (0..room.min(sum)).flat_map(move |skipped| {
                    let turns = (0..4).filter(move |turn| rules.may(strip, sum - skipped - 1, *turn));
                    turns.map(move |turn| (code, panel, skipped, turn))
                })
            })
        })
    }

    fn at(&self, (code, last, skipped, turn): State) -> usize {
        ((code * self.of.len() + last) * self.room + skipped) * 4 + turn
    }

    fn passed(&self, code: usize, panel: usize) -> usize {
        code / self.strides[panel] % (self.of[panel].len() + 1)
    }

    fn strip(&self, (code, last, ..): State) -> usize {
        self.of[last][self.passed(code, last) - 1]
    }

    /// From how many passed of its panel a strip may be gone on to, none that must be laid between.
    fn from(&self, panel: usize, passed: usize) -> impl Iterator<Item = usize> + '_ {
        let held =
            self.of[panel][..passed - 1].iter().rposition(|strip| self.rules.must[*strip]).map_or(0, |at| at + 1);
        (held..passed).filter(|from| !self.once || *from == 0)
    }

    /// What it costs to begin here.
    fn alone(&self, state: State) -> u64 {
        let (code, last, skipped, _) = state;
        let passed = self.passed(code, last);
        let first = code == passed * self.strides[last]
            && skipped + 1 == passed
            && self.from(last, passed).next() == Some(0)
            && self.rules.first.is_none_or(|first| first == self.strip(state));
        if first { 0 } else { NEVER }
    }

    /// Every state that may stand before this one: what the glue line costs, and where it is.
    fn each_before(&self, state: State, mut with: impl FnMut(u64, usize, State)) {
        let (code, last, skipped, turn) = state;
        let passed = self.passed(code, last);
        let here = Laid::of(self.strip(state), turn);
        for from in self.from(last, passed) {
            let left_out = passed - 1 - from;
            if left_out > skipped {
                continue;
            }
            let before = code - (passed - from) * self.strides[last];
            for panel in (0..self.of.len()).filter(|panel| self.passed(before, *panel) > 0) {
                for a in 0..4 {
                    let state = (before, panel, skipped - left_out, a);
                    let at = self.at(state);
                    if self.least[at] < NEVER {
                        let more = self.costs.between(Laid::of(self.strip(state), a), here);
                        with(u64::from(more), at, state);
                    }
                }
            }
        }
    }

    /// Every state at which a lay-up may end, and what is left out costs.
    fn ends(&self) -> Vec<(u64, State)> {
        let passed = self.least.len() / (self.of.len() * self.room * 4);
        let after = |code: usize| (0..self.of.len()).flat_map(move |p| &self.of[p][self.passed(code, p)..]);
        let mut ends = Vec::new();
        for state in self.states(passed).filter(|state| self.least[self.at(*state)] < NEVER) {
            let (code, _, skipped, _) = state;
            let count = (0..self.of.len()).map(|panel| self.passed(code, panel)).sum::<usize>() - skipped;
            if self.rules.counts[count]
                && self.rules.last.is_none_or(|last| last == self.strip(state))
                && !after(code).any(|strip| self.rules.must[*strip])
            {
                ends.push((self.rules.left(count), state));
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
            let laid = states.iter().map(|state| Laid::of(self.strip(*state), state.3)).collect();
            ended && few.take(Found { laid, cost })
        });
        ended
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less.
    fn optima(&self, optimum: u64) -> u128 {
        let mut ways = vec![0_u128; self.least.len()];
        let passed = self.least.len() / (self.of.len() * self.room * 4);
        for state in self.states(passed).filter(|state| self.least[self.at(*state)] < NEVER) {
            let at = self.at(state);
            let mut here = u128::from(self.alone(state) == 0);
            self.each_before(state, |more, before, _| {
                if more + self.least[before] == self.least[at] {
                    here = here.saturating_add(ways[before]);
                }
            });
            ways[at] = here;
        }
        let ends = self.ends().into_iter().filter(|(left, state)| left + self.least[self.at(*state)] == optimum);
        ends.fold(0, |sum, (_, state)| sum.saturating_add(ways[self.at(state)]))
    }
}
