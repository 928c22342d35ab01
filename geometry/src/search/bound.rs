//! More strips than can be proven: the best lay-up found, and a cost that no lay-up falls below.
//!
//! # The bound
//! Let d(k, l) be the least that strips k and l cost side by side, over both orders and all turns.
//! A lay-up of m strips is a set of m − 1 neighbourhoods without a ring, in which no strip has more
//! than two. Letting go of "more than two" at a price λ ≥ 0 for each neighbour a strip has beyond
//! two gives, for any λ, the lower bound min Σ (d + λ_k + λ_l) − 2 Σ λ over the sets of m − 1
//! neighbourhoods without a ring (M. Held and R. M. Karp, *The traveling-salesman problem and
//! minimum spanning trees*, Operations Research 18, 1970, in the form for paths that may leave
//! strips out), and the least such set is what taking the cheapest first gives. The prices are
//! whole numbers, so the bound is exact; they are raised where a strip has too many neighbours.

use super::Allowed;
use super::costs::{Costs, Found, Laid};
use super::distinct::Alike;
use super::fixed::fixed;
use crate::layup::Turn;

/// The best lay-up found, and what no lay-up of as many strips can fall below.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bounded {
    /// The best found.
    pub best: Found,
    /// No lay-up of so many of these strips costs less than this.
    pub bound: u64,
}

impl Bounded {
    /// How far the best found may be from the best there is: 0 is proven.
    #[must_use]
    pub const fn gap(&self) -> u64 {
        self.best.cost.saturating_sub(self.bound)
    }
}

/// A good lay-up of exactly `laid` of the strips, and a bound; `None` where so many can't be laid.
///
/// From every strip (up to 64 of them) the cheapest next one is laid, at either end; then, from the best four of
/// these, strips are moved, changed for ones left out, and runs turned round while that makes it cheaper. No more than
/// `trials` such changes are tried from each, every one turned the best way.
#[must_use]
pub fn beyond(costs: &Costs, allowed: &Allowed, laid: usize, trials: usize) -> Option<Bounded> {
    let may: Vec<usize> = (0..costs.strips().min(allowed.len())).filter(|s| allowed[*s].contains(&true)).collect();
    if laid == 0 || laid > may.len() {
        return None;
    }
    let near = Near::new(costs, allowed, &may);
    let step = may.len().div_ceil(64);
    let mut starts: Vec<Vec<usize>> = (0..may.len()).step_by(step).map(|first| near.grow(first, laid)).collect();
    starts.sort_by_cached_key(|order| near.turned(order).cost);
    starts.truncate(4);
    let best = starts.into_iter().map(|order| near.improve(order, trials)).min_by_key(|found| found.cost)?;
    let bound = near.bound(laid, best.cost);
    Some(Bounded { best, bound })
}

pub(super) struct Near<'a> {
    costs: &'a Costs,
    allowed: &'a Allowed,
    may: &'a [usize],
    /// d, by place in `may`.
    least: Vec<u32>,
}

impl<'a> Near<'a> {
    pub(super) fn new(costs: &'a Costs, allowed: &'a Allowed, may: &'a [usize]) -> Self {
        let turns = |s: usize| Turn::ALL.into_iter().filter(move |t| allowed[s][*t as usize]);
        let one_way = |k: usize, l: usize| {
            turns(k).flat_map(|a| turns(l).map(move |b| costs.between(Laid::new(k, a), Laid::new(l, b)))).min()
        };
        let pair = |k: usize, l: usize| one_way(k, l).into_iter().chain(one_way(l, k)).min().unwrap_or(Costs::MOST);
        let least = may.iter().flat_map(|k| may.iter().map(|l| pair(*k, *l))).collect();
        Self { costs, allowed, may, least }
    }

    pub(super) fn d(&self, k: usize, l: usize) -> u32 {
        self.least[k * self.may.len() + l]
    }

    /// The best turns of an order (places in `may`), proven.
    fn turned(&self, order: &[usize]) -> Found {
        let strips: Vec<usize> = order.iter().map(|i| self.may[*i]).collect();
        let turns: Vec<[bool; 4]> = strips.iter().map(|s| self.allowed[*s]).collect();
        let best = fixed(&strips, &self.costs.joints(&strips), &turns, 1, Alike::HalfRound).best;
        best.into_iter().next().unwrap_or(Found { laid: Vec::new(), cost: u64::MAX })
    }

    fn grow(&self, first: usize, laid: usize) -> Vec<usize> {
        let mut order = std::collections::VecDeque::from([first]);
        let mut left: Vec<usize> = (0..self.may.len()).filter(|i| *i != first).collect();
        while order.len() < laid {
            let (front, back) = (order[0], order[order.len() - 1]);
            let next = left.iter().enumerate();
            let next = next.flat_map(|(at, i)| [(self.d(front, *i), at, true), (self.d(back, *i), at, false)]).min();
            let Some((_, at, in_front)) = next else { break };
            let strip = left.remove(at);
            if in_front { order.push_front(strip) } else { order.push_back(strip) }
        }
        order.into()
    }

    /// Moves, changes and reversals while they help, at most `most` of them tried.
    fn improve(&self, mut order: Vec<usize>, most: usize) -> Found {
        let (mut best, mut tried) = (self.turned(&order), 0);
        loop {
            let before = best.cost;
            for i in 0..order.len() {
                for trial in self.trials(&order, i) {
                    if tried == most {
                        return best;
                    }
                    tried += 1;
                    let found = self.turned(&trial);
                    if found.cost < best.cost {
                        (order, best) = (trial, found);
                    }
                }
            }
            if best.cost == before {
                return best;
            }
        }
    }

    /// What may be tried at place `i`: the strip moved elsewhere, changed for one left out, a run from it turned round.
    fn trials(&self, order: &[usize], i: usize) -> Vec<Vec<usize>> {
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
        for other in (0..self.may.len()).filter(|s| !order.contains(s)) {
            let mut changed = order.to_vec();
            changed[i] = other;
            trials.push(changed);
        }
        trials
    }

    /// The best of the bounds met while the prices are raised.
    pub(super) fn bound(&self, laid: usize, target: u64) -> u64 {
        let n = self.may.len();
        let mut pairs: Vec<(i64, usize, usize)> =
            (0..n).flat_map(|k| (k + 1..n).map(move |l| (k, l))).map(|(k, l)| (0, k, l)).collect();
        let times = (4_000_000 / pairs.len().max(1)).clamp(1, 400);
        let mut price = vec![0_i64; n];
        let mut best = 0_i64;
        // Where nothing is known yet: far above any sum of costs, and no sum of prices overflows.
        let target = i64::try_from(target).unwrap_or(i64::MAX).min(1 << 38);
        for time in 0..times {
            for (cost, k, l) in &mut pairs {
                *cost = i64::from(self.d(*k, *l)) + price[*k] + price[*l];
            }
            pairs.sort_unstable();
            let (sum, degree) = forest(&pairs, n, laid - 1);
            let value = sum - 2 * price.iter().sum::<i64>();
            best = best.max(value);
            let off: i64 = degree.iter().map(|d| (d - 2) * (d - 2)).filter(|d| *d > 0).sum();
            let share = 2 * (times - time) as i64;
            let step = ((target - value).max(0) / off.max(1) * share / (2 * times as i64)).max(1);
            for (price, degree) in price.iter_mut().zip(&degree) {
                *price = (*price + step * (degree - 2)).max(0);
            }
        }
        u64::try_from(best).unwrap_or(0)
    }
}

/// The cheapest `count` pairs without a ring, cheapest first, and how many neighbours each strip then has.
fn forest(pairs: &[(i64, usize, usize)], n: usize, count: usize) -> (i64, Vec<i64>) {
    let mut root: Vec<usize> = (0..n).collect();
    let find = |root: &mut Vec<usize>, mut i: usize| {
        while root[i] != i {
            root[i] = root[root[i]];
            i = root[i];
        }
        i
    };
    let (mut sum, mut taken, mut degree) = (0, 0, vec![0; n]);
    for (cost, k, l) in pairs {
        if taken == count {
            break;
        }
        let (a, b) = (find(&mut root, *k), find(&mut root, *l));
        if a != b {
            root[a] = b;
            (sum, taken) = (sum + cost, taken + 1);
            degree[*k] += 1;
            degree[*l] += 1;
        }
    }
    (sum, degree)
}
