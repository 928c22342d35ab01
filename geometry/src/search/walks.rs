//! What no lay-up, and no way to go on with one, can fall below: walks from strip to strip, at a price a visit.
//!
//! # The bound
//! A lay-up of m strips is a walk over m places that comes to no strip twice; the turn in which a strip is come to is
//! the one in which it is left. Let a strip be come to again, only not straight back over one other, and let every
//! visit of strip i cost λ_i more: the cheapest such walk, less Σ λ, is below the cost of every lay-up, for any whole λ
//! of a strip that must be laid and any λ ≥ 0 of one that may be left out, because a lay-up comes to no strip more than
//! once. (N. Christofides, A. Mingozzi and P. Toth, *State-space relaxation procedures for the computation of bounds to
//! routing problems*, Networks 11, 1981.) The prices are raised where a strip is come to too often and lowered where it
//! is not come to (M. Held, P. Wolfe and H. P. Crowder, *Validation of subgradient optimization*, Mathematical
//! Programming 6, 1974).
//!
//! The walks are found from the right, so the same table says for every strip at every place what going on from there
//! costs at least.
//!
//! Numbers are whole and kept as `f64`, which holds them exactly (a thousand glue lines of sixty million stay far
//! below 2⁵³) and has an infinity: what is infinite can't be.

use super::subsets::Pair;
use super::wanted::Rules;
use super::watch::Watch;

/// No strip.
const NONE: u32 = u32::MAX;

/// What going on from a strip costs at least, for each of its turns.
#[derive(Clone, Copy)]
struct Onward {
    /// The least.
    least: [f64; 4],
    /// The strip that comes next then.
    next: [u32; 4],
    /// The least where another comes next.
    other: [f64; 4],
}

impl Onward {
    const NEVER: Self = Self { least: [f64::INFINITY; 4], next: [NONE; 4], other: [f64::INFINITY; 4] };

    /// The least where `strip` doesn't come next.
    #[allow(clippy::cast_possible_truncation)]
    fn without(&self, strip: usize, turn: usize) -> f64 {
        if self.next[turn] == strip as u32 { self.other[turn] } else { self.least[turn] }
    }
}

/// The cheapest walks over one number of places, at some prices.
pub(super) struct Walks<'a> {
    pairs: &'a [Pair],
    rules: &'a Rules,
    price: &'a [f64],
    /// How many places there are.
    count: usize,
    /// By place, then strip.
    onward: Vec<Onward>,
}

impl<'a> Walks<'a> {
    /// Over `count` places; `price` has one for each strip.
    pub(super) fn new(pairs: &'a [Pair], rules: &'a Rules, count: usize, price: &'a [f64]) -> Self {
        let strips = price.len();
        let mut walks = Self { pairs, rules, price, count, onward: vec![Onward::NEVER; count * strips] };
        for place in (0..count).rev() {
            for strip in 0..strips {
                walks.onward[place * strips + strip] = walks.from(place, strip);
            }
        }
        walks
    }

    /// How much work [`Walks::new`] is: ways to lay one strip beside another.
    pub(super) const fn work(strips: usize, count: usize) -> u64 {
        (16 * strips * strips * count) as u64
    }

    /// From this strip at this place, where all places right of it are done.
    #[allow(clippy::cast_possible_truncation)]
    fn from(&self, place: usize, strip: usize) -> Onward {
        let may = |turn: usize| self.rules.may(strip, place, turn);
        let mut here = Onward::NEVER;
        if place + 1 == self.count {
            let ends = self.rules.last.is_none_or(|last| last == strip);
            here.least = std::array::from_fn(|turn| if ends && may(turn) { 0.0 } else { f64::INFINITY });
            here.other = here.least;
            return here;
        }
        let strips = self.price.len();
        let ahead = &self.onward[(place + 1) * strips..][..strips];
        for (next, (onward, price)) in ahead.iter().zip(self.price).enumerate() {
            if next == strip {
                continue;
            }
            let pair = &self.pairs[next * strips + strip];
            let mut least = [f64::INFINITY; 4];
            for (b, costs) in pair.iter().enumerate() {
                let on = price + onward.without(strip, b);
                for (least, cost) in least.iter_mut().zip(costs) {
                    let sum = f64::from(*cost) + on;
                    *least = if sum < *least { sum } else { *least };
                }
            }
            for (a, cost) in least.into_iter().enumerate() {
                if cost < here.least[a] {
                    here.other[a] = here.least[a];
                    (here.least[a], here.next[a]) = (cost, next as u32);
                } else if cost < here.other[a] {
                    here.other[a] = cost;
                }
            }
        }
        for turn in (0..4).filter(|turn| !may(*turn)) {
            (here.least[turn], here.other[turn]) = (f64::INFINITY, f64::INFINITY);
        }
        here
    }

    /// Where the cheapest walk begins, and what it costs with its prices.
    fn begins(&self) -> Option<(f64, usize, usize)> {
        let starts = (0..self.price.len()).filter(|strip| self.rules.first.is_none_or(|first| first == *strip));
        let ways = starts.flat_map(|strip| (0..4).map(move |turn| (strip, turn)));
        let ways = ways.map(|(strip, turn)| (self.price[strip] + self.onward[strip].least[turn], strip, turn));
        ways.filter(|way| way.0.is_finite()).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// No lay-up of so many strips costs less than this, without what is left out; infinite where there is none.
    fn below(&self) -> f64 {
        self.begins().map_or(f64::INFINITY, |way| way.0 - self.price.iter().sum::<f64>())
    }

    /// How often the cheapest walk comes to each strip.
    fn visits(&self) -> Vec<i32> {
        let strips = self.price.len();
        let mut visits = vec![0; strips];
        let Some((_, mut strip, mut turn)) = self.begins() else { return visits };
        visits[strip] += 1;
        let mut before = strips;
        for place in 1..self.count {
            let ahead = &self.onward[place * strips..][..strips];
            let next = (0..strips).filter(|next| *next != strip && *next != before);
            let ways = next.flat_map(|next| (0..4).map(move |b| (next, b)));
            let cost = |(next, b): (usize, usize)| {
                f64::from(self.pairs[next * strips + strip][b][turn]) + self.price[next] + ahead[next].without(strip, b)
            };
            let Some(best) = ways.min_by(|a, b| cost(*a).total_cmp(&cost(*b))) else { break };
            (before, (strip, turn)) = (strip, best);
            visits[strip] += 1;
        }
        visits
    }

    /// What laying more strips after `set`, whose last is `last` in each of its turns, costs at least, with what is
    /// left out.
    pub(super) fn to_come(&self, set: u128, last: usize) -> [f64; 4] {
        let size = set.count_ones() as usize;
        if size > self.count {
            return [f64::INFINITY; 4];
        }
        let left_out = self.rules.left(self.count) as f64;
        let onward = &self.onward[(size - 1) * self.price.len() + last];
        if size == self.count {
            return onward.least.map(|least| least + left_out);
        }
        let rest = (0..self.price.len()).filter(|strip| set >> strip & 1 == 0);
        let given_back: f64 = rest.map(|strip| self.price[strip]).sum();
        std::array::from_fn(|turn| {
            let next = onward.next[turn];
            let laid = next != NONE && set >> next & 1 == 1;
            (if laid { onward.other[turn] } else { onward.least[turn] }) - given_back + left_out
        })
    }
}

/// The best prices that were found for one number of strips laid, and what no lay-up of so many falls below.
pub(super) struct Priced {
    /// How many are laid.
    pub(super) count: usize,
    /// Of each strip.
    pub(super) price: Vec<f64>,
    /// With what is left out; infinite where there is no such lay-up.
    pub(super) below: f64,
}

impl Priced {
    /// The prices after `times` attempts, fewer where `target`, the cost of a lay-up, is reached.
    pub(super) fn new(
        pairs: &[Pair],
        rules: &Rules,
        count: usize,
        times: usize,
        target: u64,
        watch: &mut Watch<'_>,
    ) -> Self {
        /// How much of the way gone before is gone on with at each step (P. M. Camerini, L. Fratta and F. Maffioli, *On
        /// improving relaxation methods by modified gradient techniques*, Mathematical Programming Study 3, 1975).
        const GOES_ON: f64 = 0.7;
        /// After so many steps that bring nothing they become half as long.
        const PATIENCE: usize = 5;
        /// A step aims no higher than this times the best so far: lay-ups found may be far from the best.
        const HOPE: f64 = 1.2;
        let strips = rules.turns.len();
        let left_out = rules.left(count) as f64;
        let target = target as f64 - left_out;
        let held = |strip: usize| count == strips || rules.must[strip];
        let (mut price, mut way) = (vec![0.0; strips], vec![0.0; strips]);
        let mut best = Self { count, price: price.clone(), below: f64::NEG_INFINITY };
        let (mut share, mut since) = (1.0, 0);
        for _ in 0..times.max(1) {
            let walks = Walks::new(pairs, rules, count, &price);
            let (below, visits) = (walks.below(), walks.visits());
            if below > best.below {
                best = Self { count, price: price.clone(), below };
                since = 0;
            } else {
                since += 1;
                if since == PATIENCE {
                    (share, since) = (share / 2.0, 0);
                }
            }
            for (strip, way) in way.iter_mut().enumerate() {
                // What may be left out, and is, has a price of nothing already.
                let settled = visits[strip] == 0 && price[strip] == 0.0 && !held(strip);
                *way = GOES_ON * *way + if settled { 0.0 } else { f64::from(visits[strip] - 1) };
            }
            let long: f64 = way.iter().map(|way| way * way).sum();
            let ends = !below.is_finite() || best.below >= target || long < 1e-9;
            if ends || !watch.go(Walks::work(strips, count)) {
                break;
            }
            let hope = if best.below > 0.0 { target.min(HOPE * best.below) } else { target };
            // Prices stay far below what a sum of them could not hold.
            let step = share * (hope - below).clamp(1.0, 1e9) / long;
            for (strip, price) in price.iter_mut().enumerate() {
                *price = (*price + step * way[strip]).round();
                if !held(strip) {
                    *price = price.max(0.0);
                }
            }
        }
        best.below += left_out;
        best
    }
}
