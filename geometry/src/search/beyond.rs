//! Good lay-ups found without proof: the nearest strip laid next, or the most hopeful beginnings gone on with, then
//! changed while that makes it cheaper, shaken and changed again.

use super::beam;
use super::bound::{self, Near};
use super::changes::{Line, Seeded};
use super::costs::{Costs, Found, Laid};
use super::distinct::Few;
use super::fixed::fixed;
use super::subsets::pairs;
use super::tried::Tried;
use super::wanted::{Rules, Wanted};
use super::watch::Watch;

/// How often the best is shaken and changed again before a proof, all counts together.
const SHAKEN_BEFORE_PROOF: usize = 8;
/// Without a proof to come: so often, and less the more strips there are, for each time takes as their square.
const MOST_SHAKEN: usize = 1000;
const SHAKEN: usize = 400_000;
/// So many beginnings are kept of what is laid strip by strip.
const WIDTH: usize = 300;
/// Up to so many strips every change is turned the best way in the end.
const MOST_TURNED: usize = 50;

/// The best found under these rules, and a bound.
pub(super) fn search(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Option<Tried> {
    let mut few = Few::new(wanted.few, wanted.alike);
    guess(costs, rules, wanted, &mut few, watch);
    let near = Near::new(costs, &rules.turns);
    let times = bound::times(rules);
    let pairs = if times > 0 { pairs(costs) } else { Vec::new() };
    let priced =
        if times > 0 { bound::priced(&pairs, rules, times, few.cheapest().unwrap_or(0), watch) } else { Vec::new() };
    if let Some(best) = few.cheapest() {
        watch.bound(bound::below(&priced).min(best));
    }
    let trials = Trials { costs, rules, wanted };
    let strips = costs.strips().max(1);
    let shaken = (SHAKEN / (strips * strips)).clamp(SHAKEN_BEFORE_PROOF + 1, MOST_SHAKEN);
    for count in rules.counted() {
        let with = priced.iter().find(|priced| priced.count == count && wanted.repeats_every.is_none());
        let laid = with.and_then(|priced| beam::laid(&pairs, rules, priced, WIDTH, &mut few, watch));
        if let Some(found) = laid.or_else(|| trials.grown(&near, count)) {
            let best = trials.changed(found, shaken.div_ceil(rules.counted().count()), &mut few, watch);
            // Every change turned the best way: dear, and worth it where there is no proof to come.
            if let (true, Some(best)) = (count <= MOST_TURNED, best) {
                trials.improve(best, &mut few, watch);
            }
        }
    }
    let best = few.cheapest()?;
    let forest = |count: usize| near.bound(count, best.saturating_sub(rules.left(count))) + rules.left(count);
    let bound = rules.counted().map(forest).min().unwrap_or(0).max(bound::below(&priced)).min(best);
    watch.bound(bound);
    let found = few.found(costs, |laid| rules.allow(laid));
    let tied = found.iter().take_while(|f| f.cost == best).count() as u64;
    let looked_at = watch.progress.looked_at;
    Some(Tried { found, proven: false, bound, equally_good: tied, looked_at })
}

/// A first guess, in any order.
pub(super) fn guess(costs: &Costs, rules: &Rules, wanted: &Wanted, few: &mut Few, watch: &mut Watch<'_>) {
    let near = Near::new(costs, &rules.turns);
    let trials = Trials { costs, rules, wanted };
    let shaken = SHAKEN_BEFORE_PROOF.div_ceil(rules.counted().count().max(1));
    for count in rules.counted() {
        if let Some(found) = trials.grown(&near, count) {
            trials.changed(found, shaken, few, watch);
        }
    }
}

/// Guesses in the order as given, for the least and the greatest count.
pub(super) fn in_order(costs: &Costs, rules: &Rules, wanted: &Wanted, watch: &mut Watch<'_>) -> Vec<Found> {
    let trials = Trials { costs, rules, wanted };
    let ends = rules.first.unwrap_or(0)..=rules.last.unwrap_or(costs.strips().saturating_sub(1));
    let mut all = Vec::new();
    for count in [rules.least(), rules.most()] {
        let room = count.saturating_sub(rules.must.iter().filter(|m| **m).count());
        let mut free = ends.clone().filter(|i| !rules.must[*i]).take(room).collect::<Vec<_>>();
        free.extend((0..costs.strips()).filter(|i| rules.must[*i]));
        free.sort_unstable();
        if free.len() == count && free.iter().all(|i| ends.contains(i)) {
            all.extend(trials.turned(&free));
        }
    }
    if let Some(best) = all.iter().map(|f| f.cost).min() {
        watch.found(best);
    }
    all
}

struct Trials<'a> {
    costs: &'a Costs,
    rules: &'a Rules,
    wanted: &'a Wanted,
}

impl Trials<'_> {
    /// The best turns that the rules allow of strips in this order.
    fn turned(&self, order: &[usize]) -> Option<Found> {
        let parts = self.rules.apart(self.wanted.repeats_every);
        let parts = parts.iter().filter(|rules| rules.counts.get(order.len()).copied().unwrap_or(false));
        parts.filter_map(|rules| turned(self.costs, rules, order)).min_by_key(|f| f.cost)
    }

    /// So many strips laid one after another, turned the best way.
    fn grown(&self, near: &Near, count: usize) -> Option<Found> {
        let found = self.turned(&self.grow(near, count))?;
        (found.laid.len() == count && self.rules.allow(&found.laid)).then_some(found)
    }

    /// The same changed while that helps; the best, where it is worth going on from.
    fn changed(&self, found: Found, shaken: usize, few: &mut Few, watch: &mut Watch<'_>) -> Option<Found> {
        watch.found(found.cost);
        if self.wanted.repeats_every.is_some() {
            self.improve(found, few, watch);
            return None;
        }
        Some(self.shaken(found, shaken, few, watch))
    }

    /// `count` strips: those that must be laid, and of the others the nearest next, at either end.
    fn grow(&self, near: &Near, count: usize) -> Vec<usize> {
        let rules = self.rules;
        let ends = [rules.first, rules.last];
        let start = ends[0].or_else(|| (0..rules.must.len()).find(|i| rules.must[*i])).unwrap_or(0);
        let mut order = std::collections::VecDeque::from([start]);
        let mut left: Vec<usize> = (0..rules.must.len()).filter(|i| *i != start && rules.last != Some(*i)).collect();
        let held = usize::from(rules.last.is_some_and(|last| last != start));
        while order.len() + held < count {
            let owed = left.iter().filter(|i| rules.must[**i]).count();
            let only = order.len() + held + owed >= count;
            let (front, back) = (order[0], order[order.len() - 1]);
            let next = left.iter().enumerate().filter(|(_, i)| !only || rules.must[**i]);
            let next = next.flat_map(|(at, i)| {
                let in_front = if rules.first.is_some() { u32::MAX } else { near.d(front, *i) };
                let behind = if rules.last == Some(start) { u32::MAX } else { near.d(back, *i) };
                [(in_front, at, true), (behind, at, false)]
            });
            let Some((_, at, in_front)) = next.min() else { break };
            let strip = left.remove(at);
            if in_front { order.push_front(strip) } else { order.push_back(strip) }
        }
        order.extend(rules.last.filter(|last| *last != start && order.len() < count));
        order.into()
    }

    /// Changed while that helps, then shaken and changed again, so many times, from the best so far.
    fn shaken(&self, found: Found, times: usize, few: &mut Few, watch: &mut Watch<'_>) -> Found {
        let mut seeded = Seeded(found.laid.len() as u64);
        let mut best = found.laid.clone();
        let mut cost = u64::MAX;
        few.take(found);
        for time in 0..=times {
            let mut line = Line::new(self.costs, self.rules, best.clone());
            if time > 0 {
                line.shake(&mut seeded);
            }
            let ended = line.improve(watch);
            let order: Vec<usize> = line.laid.iter().map(|l| l.strip).collect();
            let found = self.turned(&order).filter(|turned| turned.cost < line.cost()).unwrap_or_else(|| line.found());
            watch.found(found.cost);
            if found.cost <= cost {
                (best, cost) = (found.laid.clone(), found.cost);
            }
            few.take(found);
            if !ended {
                break;
            }
        }
        self.turnings(&best, few, watch);
        Found { laid: best, cost }
    }

    /// The best few ways of turning strips that stay in this order.
    fn turnings(&self, laid: &[Laid], few: &mut Few, watch: &mut Watch<'_>) {
        let order: Vec<usize> = laid.iter().map(|l| l.strip).collect();
        let turns: Vec<[bool; 4]> = order.iter().map(|s| self.rules.turns[*s]).collect();
        let best = fixed(&order, &self.costs.joints(&order), &turns, few.most(), self.wanted.alike).best;
        let left = self.rules.left(order.len());
        few.extend(best.into_iter().map(|f| Found { cost: f.cost + left, ..f }));
        watch.go(16 * order.len() as u64);
    }

    /// Moves, changes and reversals while they help, every one turned the best way.
    fn improve(&self, found: Found, few: &mut Few, watch: &mut Watch<'_>) {
        let mut order: Vec<usize> = found.laid.iter().map(|l| l.strip).collect();
        let mut best = found.cost;
        few.take(found);
        let mut at = 0;
        let mut since = 0;
        while since < order.len() {
            let mut better = None;
            for trial in self.changes(&order, at) {
                if !watch.go(16 * order.len() as u64) {
                    return;
                }
                let Some(found) = self.turned(&trial).filter(|f| self.rules.allow(&f.laid)) else { continue };
                if found.cost < better.as_ref().map_or(best, |(cost, _)| *cost) {
                    better = Some((found.cost, trial));
                    watch.found(found.cost);
                }
                few.take(found);
            }
            since += 1;
            if let Some(found) = better {
                (best, order) = found;
                since = 0;
            }
            at = (at + 1) % order.len();
        }
    }

    /// What may be tried at place `i`: the strip moved elsewhere, changed for one left out, a run from it turned round.
    fn changes(&self, order: &[usize], i: usize) -> Vec<Vec<usize>> {
        let mut trials = Vec::new();
        for j in (0..order.len()).filter(|j| *j != i) {
            let mut moved = order.to_vec();
            let strip = moved.remove(i);
            moved.insert(j, strip);
            trials.push(moved);
            if j > i + 1 {
                let mut turned = order.to_vec();
                turned[i..=j].reverse();
                trials.push(turned);
            }
        }
        if !self.rules.must[order[i]] {
            for other in (0..self.rules.must.len()).filter(|s| !order.contains(s)) {
                let mut changed = order.to_vec();
                changed[i] = other;
                trials.push(changed);
            }
        }
        trials
    }
}

/// The best turns under rules that settle what repeats.
fn turned(costs: &Costs, rules: &Rules, order: &[usize]) -> Option<Found> {
    const NEVER: u64 = 1 << 60;
    let mut least: Vec<[(u64, usize); 4]> = Vec::with_capacity(order.len());
    for (place, strip) in order.iter().enumerate() {
        let row = std::array::from_fn(|turn| match least.last() {
            _ if !rules.may(*strip, place, turn) => (NEVER, 0),
            None => (0, 0),
            Some(before) => {
                let come = |a: usize| {
                    let glue = costs.between(Laid::of(order[place - 1], a), Laid::of(*strip, turn));
                    (before[a].0 + u64::from(glue), a)
                };
                (0..4).map(come).min().unwrap_or((NEVER, 0))
            }
        });
        least.push(row);
    }
    let (cost, mut turn) = (0..4).map(|turn| (least.last().map_or(NEVER, |row| row[turn].0), turn)).min()?;
    if cost >= NEVER {
        return None;
    }
    let mut laid: Vec<Laid> = Vec::with_capacity(order.len());
    for (strip, row) in order.iter().zip(&least).rev() {
        laid.push(Laid::of(*strip, turn));
        turn = row[turn].1;
    }
    laid.reverse();
    Some(Found { laid, cost: cost + rules.left(order.len()) })
}
