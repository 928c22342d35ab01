//! A lay-up changed while that makes it cheaper: strips turned, moved and changed for others, runs turned round.
//!
//! Turning a run half round, its order reversed and every strip end for end, leaves the glue lines within it as they
//! were wherever turning the board does; for tables where it doesn't, the sums of both ways are kept.

use super::costs::{Costs, Found, Laid};
use super::wanted::Rules;
use super::watch::Watch;
use crate::layup::Turn;

/// The longest run that is moved as one.
const LONGEST: usize = 3;

/// A seeded sequence of numbers (SplitMix64, public domain, S. Vigna).
pub(super) struct Seeded(pub(super) u64);

impl Seeded {
    /// One from 0 to below `n`.
    #[allow(clippy::cast_possible_truncation)]
    pub(super) fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % n.max(1) as u64) as usize
    }
}

/// A lay-up that is being changed.
pub(super) struct Line<'a> {
    costs: &'a Costs,
    rules: &'a Rules,
    pub(super) laid: Vec<Laid>,
    /// The sum of the glue lines before each place.
    ahead: Vec<u64>,
    /// The same with every run turned half round.
    round: Vec<u64>,
    /// How many before each place may not be turned end for end.
    stuck: Vec<usize>,
}

/// One change, with what it makes cheaper.
enum Change {
    /// The strip at this place becomes this one.
    For(usize, Laid),
    /// The strip at this place is taken out, becomes this one, and is put in before this place of what is left.
    Put(usize, Laid, usize),
    /// The run from here to here is turned half round.
    Round(usize, usize),
    /// The run from here to here is taken out, turned half round or not, and put in before this place of what is left.
    Move(usize, usize, bool, usize),
}

impl<'a> Line<'a> {
    pub(super) fn new(costs: &'a Costs, rules: &'a Rules, laid: Vec<Laid>) -> Self {
        let mut line = Self { costs, rules, laid, ahead: Vec::new(), round: Vec::new(), stuck: Vec::new() };
        line.sum();
        line
    }

    fn sum(&mut self) {
        let pairs = || self.laid.windows(2);
        let sums = |costs: Vec<u32>| {
            let mut sum = 0;
            let next = |cost: u32| {
                sum += u64::from(cost);
                sum
            };
            std::iter::once(0).chain(costs.into_iter().map(next)).collect::<Vec<u64>>()
        };
        let ahead = sums(pairs().map(|w| self.costs.between(w[0], w[1])).collect());
        let round = sums(pairs().map(|w| self.costs.between(over(w[1]), over(w[0]))).collect());
        (self.ahead, self.round) = (ahead, round);
        let mut stuck = 0;
        let mut next = |l: &Laid| {
            stuck += usize::from(!self.may(over(*l)));
            stuck
        };
        self.stuck = std::iter::once(0).chain(self.laid.iter().map(&mut next)).collect();
    }

    fn may(&self, laid: Laid) -> bool {
        self.rules.turns[laid.strip][laid.turn() as usize]
    }

    /// What it costs, with what is left out.
    pub(super) fn cost(&self) -> u64 {
        self.ahead.last().copied().unwrap_or(0) + self.rules.left(self.laid.len())
    }

    pub(super) fn found(&self) -> Found {
        Found { laid: self.laid.clone(), cost: self.cost() }
    }

    /// The places that may be changed: those held at the ends may not.
    fn places(&self) -> std::ops::Range<usize> {
        let held = |end: Option<usize>| usize::from(end.is_some());
        held(self.rules.first)..self.laid.len().saturating_sub(held(self.rules.last))
    }

    fn glue(&self, left: Option<Laid>, right: Option<Laid>) -> i64 {
        left.zip(right).map_or(0, |(l, r)| i64::from(self.costs.between(l, r)))
    }

    fn at(&self, place: usize) -> Option<Laid> {
        self.laid.get(place).copied()
    }

    fn before(&self, place: usize) -> Option<Laid> {
        place.checked_sub(1).and_then(|place| self.at(place))
    }

    /// What turning the run half round adds within it; `None` where a strip in it may not be turned so.
    #[allow(clippy::cast_possible_wrap)]
    fn within(&self, from: usize, to: usize) -> Option<i64> {
        let sum = |of: &[u64]| (of[to] - of[from]) as i64;
        (self.stuck[to + 1] == self.stuck[from]).then(|| sum(&self.round) - sum(&self.ahead))
    }

    /// Changes it while that makes it cheaper; whether it came to the end.
    pub(super) fn improve(&mut self, watch: &mut Watch<'_>) -> bool {
        let (mut place, mut since) = (0, 0);
        while since < self.places().len() {
            let places = self.places();
            let at = places.start + place % places.len();
            // Some 16 ways for every other place.
            if !watch.go(16 * self.laid.len() as u64) {
                return false;
            }
            since += 1;
            if let Some((less, change)) = self.best_at(at)
                && less < 0
            {
                self.change(&change);
                self.sum();
                since = 0;
            } else {
                place += 1;
            }
        }
        true
    }

    /// The change at this place that takes off the most.
    fn best_at(&self, at: usize) -> Option<(i64, Change)> {
        let mut best: Option<(i64, Change)> = None;
        let mut try_it = |more: i64, change: Change| {
            if best.as_ref().is_none_or(|(least, _)| more < *least) {
                best = Some((more, change));
            }
        };
        self.others(at, &mut try_it);
        let places = self.places();
        for to in at + 1..places.end {
            let Some(within) = self.within(at, to) else { break };
            let (left, right) = (self.before(at), self.at(to + 1));
            let was = self.glue(left, self.at(at)) + self.glue(self.at(to), right);
            let is = self.glue(left, self.at(to).map(over)) + self.glue(self.at(at).map(over), right);
            try_it(is - was + within, Change::Round(at, to));
        }
        for to in at..places.end.min(at + LONGEST) {
            self.moves(at, to, &mut try_it);
        }
        best
    }

    /// The strip turned otherwise, or changed for one that is left out.
    fn others(&self, at: usize, try_it: &mut impl FnMut(i64, Change)) {
        let (left, here, right) = (self.before(at), self.laid[at], self.at(at + 1));
        let was = self.glue(left, Some(here)) + self.glue(Some(here), right);
        let stays = self.rules.must[here.strip];
        let is_laid = |strip: usize| self.laid.iter().any(|l| l.strip == strip);
        let free = (0..self.rules.turns.len()).filter(|s| *s == here.strip || (!stays && !is_laid(*s)));
        for other in free.flat_map(|s| (0..4).map(move |turn| Laid::of(s, turn))).filter(|l| *l != here && self.may(*l))
        {
            try_it(self.glue(left, Some(other)) + self.glue(Some(other), right) - was, Change::For(at, other));
        }
    }

    /// A run taken out and put in elsewhere.
    fn moves(&self, from: usize, to: usize, try_it: &mut impl FnMut(i64, Change)) {
        let (left, right) = (self.before(from), self.at(to + 1));
        let (first, last) = (self.at(from), self.at(to));
        let out = self.glue(left, right) - self.glue(left, first) - self.glue(last, right);
        let places = self.places();
        let within = self.within(from, to);
        // Between the strips at `next` − 1 and `next`.
        for next in (places.start..=places.end).filter(|next| *next < from || *next > to + 1) {
            let (l, r) = (self.before(next), self.at(next));
            let gone = out - self.glue(l, r);
            let put = if next > to { next - (to + 1 - from) } else { next };
            if from == to {
                let strip = self.laid[from].strip;
                for turned in (0..4).map(|turn| Laid::of(strip, turn)).filter(|l| self.may(*l)) {
                    let put_in = self.glue(l, Some(turned)) + self.glue(Some(turned), r);
                    try_it(gone + put_in, Change::Put(from, turned, put));
                }
                continue;
            }
            let straight = gone + self.glue(l, first) + self.glue(last, r);
            try_it(straight, Change::Move(from, to, false, put));
            if let Some(within) = within {
                let round = gone + within + self.glue(l, last.map(over)) + self.glue(first.map(over), r);
                try_it(round, Change::Move(from, to, true, put));
            }
        }
    }

    fn change(&mut self, change: &Change) {
        match *change {
            Change::For(at, other) => self.laid[at] = other,
            Change::Put(from, turned, put) => {
                self.laid.remove(from);
                self.laid.insert(put, turned);
            }
            Change::Round(from, to) => turn_round(&mut self.laid[from..=to]),
            Change::Move(from, to, round, put) => {
                let mut run: Vec<Laid> = self.laid.drain(from..=to).collect();
                if round {
                    turn_round(&mut run);
                }
                self.laid.splice(put..put, run);
            }
        }
    }

    /// Two runs beside each other change places, and, where strips are left out, one of them comes in: what no single
    /// change above undoes.
    pub(super) fn shake(&mut self, seeded: &mut Seeded) {
        let places = self.places();
        let mut cut = || places.start + seeded.below(places.len() + 1);
        let mut cuts = [cut(), cut(), cut()];
        cuts.sort_unstable();
        let [a, b, c] = cuts;
        self.laid[a..c].rotate_left(b - a);
        let out: Vec<usize> = (0..self.rules.turns.len()).filter(|s| self.laid.iter().all(|l| l.strip != *s)).collect();
        if !out.is_empty() && !places.is_empty() {
            let at = places.start + seeded.below(places.len());
            let strip = out[seeded.below(out.len())];
            let turn = (0..4).find(|turn| self.rules.turns[strip][*turn]);
            if let (false, Some(turn)) = (self.rules.must[self.laid[at].strip], turn) {
                self.laid[at] = Laid::of(strip, turn);
            }
        }
        self.sum();
    }
}

/// End for end.
const fn over(laid: Laid) -> Laid {
    laid.then(Turn::EndForEnd)
}

fn turn_round(run: &mut [Laid]) {
    run.reverse();
    run.iter_mut().for_each(|l| *l = over(*l));
}
