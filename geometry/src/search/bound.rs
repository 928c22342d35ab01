//! What no lay-up can fall below.
//!
//! # By walks
//! [`super::walks`] has the bound that knows of turns and of places. It is exact enough to spare the proof most of its
//! work, and takes the longer the more strips there are: their number times its square.
//!
//! # By neighbourhoods
//! Where there are too many strips for it: let d(k, l) be the least that strips k and l cost side by side, over both
//! orders and all turns. A lay-up of m strips is a set of m − 1 neighbourhoods without a ring, in which no strip has
//! more than two. Letting go of "more than two" at a price λ ≥ 0 for each neighbour a strip has beyond two gives, for
//! any λ, the lower bound min Σ (d + λ_k + λ_l) − 2 Σ λ over the sets of m − 1 neighbourhoods without a ring (M. Held
//! and R. M. Karp, *The traveling-salesman problem and minimum spanning trees*, Operations Research 18, 1970, in the
//! form for paths that may leave strips out), and the least such set is what taking the cheapest first gives. The
//! prices are whole numbers, so the bound is exact; they are raised where a strip has too many neighbours.

use super::Allowed;
use super::costs::{Costs, Laid};
use super::subsets::Pair;
use super::walks::{Priced, Walks};
use super::wanted::Rules;
use super::watch::Watch;
use crate::layup::Turn;

/// How often prices are set anew at most, all counts together.
const MOST_TIMES: u64 = 400;
/// So many ways to lay one strip beside another may be weighed for it (some tenths of a second).
const MOST_WORK: u64 = 600_000_000;

/// The prices of every count that is asked for, each set anew up to so many `times`, and what no lay-up falls below.
pub(super) fn priced(pairs: &[Pair], rules: &Rules, times: usize, target: u64, watch: &mut Watch<'_>) -> Vec<Priced> {
    rules.counted().map(|count| Priced::new(pairs, rules, count, times, target, watch)).collect()
}

/// What no lay-up falls below at these prices.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub(super) fn below(priced: &[Priced]) -> u64 {
    // What can't be is no lay-up.
    let least = priced.iter().map(|priced| priced.below).fold(f64::INFINITY, f64::min);
    if least.is_finite() { least.max(0.0) as u64 } else { 0 }
}

/// How often prices may be set anew for each count; 0 where it would take too long to be of use.
pub(super) fn times(rules: &Rules) -> usize {
    /// Fewer than so many change little.
    const LEAST_TIMES: u64 = 25;
    let strips = rules.turns.len();
    let work: u64 = rules.counted().map(|count| Walks::work(strips, count)).sum();
    let times = (MOST_WORK / work.max(1)).min(MOST_TIMES);
    if times < LEAST_TIMES { 0 } else { times as usize }
}

/// How near strips are to one another.
pub(super) struct Near {
    strips: usize,
    /// d.
    least: Vec<u32>,
}

impl Near {
    pub(super) fn new(costs: &Costs, allowed: &Allowed) -> Self {
        let turns = |s: usize| Turn::ALL.into_iter().filter(move |t| allowed[s][*t as usize]);
        let one_way = |k: usize, l: usize| {
            turns(k).flat_map(|a| turns(l).map(move |b| costs.between(Laid::new(k, a), Laid::new(l, b)))).min()
        };
        let pair = |k: usize, l: usize| one_way(k, l).into_iter().chain(one_way(l, k)).min().unwrap_or(Costs::MOST);
        let strips = allowed.len();
        let least = (0..strips).flat_map(|k| (0..strips).map(move |l| (k, l))).map(|(k, l)| pair(k, l)).collect();
        Self { strips, least }
    }

    pub(super) fn d(&self, k: usize, l: usize) -> u32 {
        self.least[k * self.strips + l]
    }

    /// The best of the bounds met while the prices are raised.
    pub(super) fn bound(&self, laid: usize, target: u64) -> u64 {
        let n = self.strips;
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
