//! What is tried: what the search finds, and patterns that a maker would try on the bench; each slid in every way that
//! is asked for.
//!
//! A way of sliding is a search of its own, by a table of glue-line costs of its own. Costs are millionths for each glue
//! line of what all strips cover, so that those of all tables compare, and what is proven of each is proven of the best of
//! all.

use super::bench::{Bench, NoBench};
use super::patterns;
use super::sheet::Proof;
use super::slides::{LaidUp, Slides};
use super::wishes::{Measured, Using, Wishes};
use crate::search::{Costs, Count, Edges, Laid, Order, Progress, Wanted, Weights, lay_ups};
use std::collections::HashSet;

/// What glue lines cost by both sums, for every set of slides.
pub(super) struct Costed {
    /// As [`Costed::SUMS`] has them.
    of: Vec<[Costs; 2]>,
}

impl Costed {
    const SUMS: [Measured; 2] = [Measured::RunsOn, Measured::Contrast];

    /// Reads the edges of the strips at points so far from one another, mm.
    pub(super) fn of(bench: &Bench, wishes: &Wishes, spacing: f64, workers: usize) -> Result<Self, NoBench> {
        let not = |e: &dyn std::fmt::Display| NoBench::NotCompared(e.to_string());
        let both = |set: usize| {
            let edges = Edges::sample_by(&bench.stock(set), wishes.faces, spacing, workers).map_err(|e| not(&e))?;
            let costs = |weights: Weights| weights.costs_by(&edges, workers).map_err(|e| not(&e));
            Ok([costs(wishes.runs_on)?, costs(Weights::CONTRAST)?])
        };
        Ok(Self { of: (0..bench.slides.len()).map(both).collect::<Result<_, NoBench>>()? })
    }

    /// Of one set: as the figure runs on, and by contrast.
    pub(super) fn of_set(&self, set: usize) -> [&Costs; 2] {
        self.of[set].each_ref()
    }
}

/// Lay-ups to be compared, the same board perhaps more than once.
pub(super) struct Pool<'a> {
    bench: &'a Bench,
    wishes: &'a Wishes,
    pub(super) lay_ups: Vec<LaidUp>,
}

/// What a search came to.
struct Found {
    /// The least cost.
    best: Option<u64>,
    bound: u64,
    /// How many different boards cost as little, where they were counted.
    equally_good: Option<u64>,
}

impl<'a> Pool<'a> {
    /// With the plan's own, where it is one that was asked for.
    pub(super) fn new(bench: &'a Bench, wishes: &'a Wishes) -> Self {
        let mut pool = Self { bench, wishes, lay_ups: Vec::new() };
        pool.lay_ups.extend(bench.planned.clone().filter(|own| pool.fits(&own.laid)));
        pool
    }

    /// The best by each sum over glue lines, slid in every way, and what is proven of them.
    pub(super) fn search(&mut self, costs: &Costed, keep_going: &mut dyn FnMut(&str) -> bool) -> Vec<Proof> {
        let mut proofs = Vec::new();
        for (i, measure) in Costed::SUMS.into_iter().enumerate() {
            let sets = 0..self.bench.slides.len();
            let found: Vec<Found> =
                sets.filter_map(|set| self.best(measure, set, costs.of_set(set)[i], keep_going)).collect();
            proofs.extend(self.proof(measure, &found));
        }
        proofs
    }

    /// What is proven of the best of all sets.
    fn proof(&self, measure: Measured, found: &[Found]) -> Option<Proof> {
        let best = found.iter().filter_map(|f| f.best).min()?;
        let bound = found.iter().map(|f| f.bound).min()?;
        let as_good = found.iter().filter(|f| f.bound <= best);
        let counted = as_good.map(|f| f.equally_good).try_fold(0_u64, |sum, of| Some(sum.saturating_add(of?)));
        Some(Proof { measure, best, bound, equally_good: counted.filter(|_| self.sets_share_no_board()) })
    }

    /// Whether no board is counted twice. Where strips may be left out, those that are laid may be slid alike though all
    /// are not: such a board is the same turned half round, and the same in another set.
    fn sets_share_no_board(&self) -> bool {
        let all = self.bench.count == self.bench.strips.len();
        all || !self.bench.slides.iter().any(Slides::are_unlike)
    }

    /// The best of one set by a sum over glue lines, and those after it: in the order as cut, and in any where that is
    /// free.
    fn best(
        &mut self,
        measure: Measured,
        set: usize,
        costs: &Costs,
        keep_going: &mut dyn FnMut(&str) -> bool,
    ) -> Option<Found> {
        let orders: &[Order] = match self.wishes.order {
            Order::AsGiven => &[Order::AsGiven],
            Order::Interleaved => &[Order::AsGiven, Order::Interleaved],
            Order::Free => &[Order::AsGiven, Order::Free],
        };
        let mut found = None;
        for order in orders {
            let wanted = Wanted {
                count: Count::exactly(self.bench.count),
                repeats_every: self.wishes.repeat,
                alike: self.bench.alike_in(set),
                few: self.wishes.show,
                panels: self.bench.strips.iter().map(|(panel, _)| *panel).collect(),
                ..Wanted::all(self.bench.strips.len(), *order)
            };
            let mut going = |progress: &Progress| keep_going(&searching(measure, progress));
            // Nothing asked here can contradict itself; what fits nothing leaves the patterns.
            let Ok(tried) = lay_ups(costs, &wanted, &mut going) else { continue };
            found = Some(Found {
                best: tried.found.first().map(|first| first.cost),
                bound: tried.bound,
                equally_good: tried.proven.then_some(tried.equally_good),
            });
            self.lay_ups.extend(tried.found.into_iter().map(|f| LaidUp { laid: f.laid, set }));
        }
        found
    }

    /// Patterns in every order in which they are tried.
    pub(super) fn patterns(&mut self) {
        for order in self.orders() {
            for turns in patterns::turns(order.len(), self.wishes.repeat) {
                let laid: Vec<Laid> = order.iter().zip(turns).map(|(strip, turn)| Laid::new(*strip, turn)).collect();
                let sets = 0..self.bench.slides.len();
                self.lay_ups.extend(sets.map(|set| LaidUp { laid: laid.clone(), set }));
            }
        }
    }

    /// Whether a lay-up is one that was asked for.
    fn fits(&self, laid: &[Laid]) -> bool {
        let repeats = |every: usize| laid.iter().zip(laid.iter().skip(every)).all(|(a, b)| a.turn() == b.turn());
        let rising = laid.is_sorted_by_key(|l| l.strip);
        let each_rising =
            |panel: usize| laid.iter().filter(|l| self.bench.strips[l.strip].0 == panel).is_sorted_by_key(|l| l.strip);
        let in_order = match self.wishes.order {
            Order::AsGiven => rising,
            Order::Interleaved => (0..self.bench.panels.len()).all(each_rising),
            Order::Free => true,
        };
        (self.wishes.using == Using::All || laid.len() == self.bench.count)
            && self.wishes.repeat.is_none_or(repeats)
            && in_order
    }

    /// Orders in which patterns are tried: as cut, a run of them where not all are laid; in pairs where a strip is lost
    /// and every strip may be laid; mirrored pairs where the order is free.
    fn orders(&self) -> Vec<Vec<usize>> {
        let (there, count) = (self.bench.strips.len(), self.bench.count);
        let spare = there - count;
        let starts: HashSet<usize> = [0, spare / 2, spare].into();
        let mut starts: Vec<usize> = starts.into_iter().collect();
        starts.sort_unstable();
        let mut orders: Vec<Vec<usize>> = starts.iter().map(|s| (*s..s + count).collect()).collect();
        let pairs = &self.bench.in_pairs;
        let enough = self.wishes.using == Using::All || pairs.len() >= count;
        if enough && pairs.len() < there && pairs.len() > 1 {
            orders.insert(0, pairs.iter().copied().take(count).collect());
        }
        if self.wishes.order == Order::Free {
            // First and second at the two ends, third and fourth within them: each pair mirrored about the middle.
            let inward = |order: &Vec<usize>| {
                let (odd, even): (Vec<_>, Vec<_>) = order.iter().enumerate().partition(|(i, _)| i % 2 == 0);
                odd.into_iter().chain(even.into_iter().rev()).map(|(_, s)| *s).collect::<Vec<_>>()
            };
            let outward = |order: &Vec<usize>| inward(&order.iter().rev().copied().collect());
            let first = orders[0].clone();
            orders.push(inward(&first));
            orders.push(outward(&first));
        }
        orders
    }
}

/// What is being done, for a person who waits.
fn searching(measure: Measured, progress: &Progress) -> String {
    let what = measure.name();
    match progress.best {
        Some(best) => format!("searching by {what}: best so far {best}, none can be under {}", progress.bound),
        None => format!("searching by {what}"),
    }
}
