//! Blanks and strips together where the strips may lie in any order: the best found, and what none falls below.
//!
//! # What is found
//! Of the best few arrangements of the blanks with the strips in the order given ([`super::together`]) the one whose
//! strips, laid in any order, cost least.
//!
//! # The bound
//! Each glue line is looked at by itself: the least that a strip costs beside another, in these turns, whatever blank
//! lies where. A lay-up at such costs costs no more than the same lay-up in any real arrangement, so what none of these
//! lay-ups falls below ([`super::super::lay_ups`]) none of those falls below.
//!
//! Two strips of one panel that lie the same way round show each blank beside itself, wherever it lies: the least is
//! the sum over blanks of the least of their turns, the two outer ones without what truing and trims hide. Else, where
//! all blanks are equally wide and the panels are trued alike, blank meets blank: the sum over the left strip's blanks
//! of the least that any blank beside it comes to. Else cell meets cell, and the cheapest so many of them count.

use super::super::costs::{Costs, Laid};
use super::super::edges::Sample;
use super::super::measures::{Measure, Weights};
use super::super::stock::Stock;
use super::super::wanted::{Order, Wanted};
use super::super::{Progress, Tried, lay_ups};
use super::branch;
use super::cells::Cells;
use super::{BlankLaid, Together, TogetherError, TogetherTried, TogetherWanted};
use crate::layup::Turn;

/// Blanks and strips that were found together, the strips in any order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Freely {
    /// The blanks of each panel.
    pub panels: Vec<Vec<BlankLaid>>,
    /// The strips, by their place in the order given, and their turns, from the left.
    pub laid: Vec<Laid>,
    /// The sum over its glue lines of the mean over cells, in millionths, rounded up.
    pub cost: u64,
    /// No arrangement of blanks and strips costs less, rounded down.
    pub bound: u64,
}

impl Freely {
    /// How far it may be from the best there is, as a share of it.
    #[must_use]
    pub fn gap(&self) -> f64 {
        self.cost.saturating_sub(self.bound) as f64 / self.cost.max(1) as f64
    }
}

/// The arrangements with the strips in the order given, and the best of those with the strips in any order; none where
/// there is nothing to lay freely. `keep_going` as in [`super::together`]; once it says no, what was found and proven
/// so far is given back.
///
/// # Errors
/// [`TogetherError`] as [`super::together`].
pub fn together_freely(
    stock: &Stock<'_>,
    wanted: &TogetherWanted,
    keep_going: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<(TogetherTried, Option<Freely>), TogetherError> {
    let cells = super::sampled(stock, wanted)?;
    let tried = branch::search(&cells, wanted, keep_going);
    let meeting = Meeting { cells: &cells, weights: wanted.weights };
    let mut best: Option<Freely> = None;
    for found in &tried.found {
        let Some(laid) = meeting.laid(found, tried.looked_at, keep_going) else { continue };
        if best.as_ref().is_none_or(|best| laid.cost < best.cost) {
            best = Some(laid);
        }
    }
    if let Some(best) = &mut best {
        let least = meeting.costs(false, |left, right| meeting.least(left, right));
        best.bound = least
            .and_then(|costs| meeting.searched(&costs, tried.looked_at, keep_going))
            .map_or(0, |tried| tried.bound);
    }
    Ok((tried, best))
}

/// What two strips cost beside each other.
struct Meeting<'a> {
    cells: &'a Cells,
    weights: Weights,
}

impl Meeting<'_> {
    /// How many cells of a strip are seen.
    const fn seen(&self) -> usize {
        self.cells.across - 2 * self.cells.trimmed
    }

    /// A table of means over what is seen of all faces, from sums; rounded up or down.
    #[allow(clippy::cast_possible_truncation)]
    fn costs(&self, up: bool, sum: impl Fn(Laid, Laid) -> u64) -> Option<Costs> {
        let many = (self.seen() * self.cells.faces) as u64;
        let more = if up { many - 1 } else { 0 };
        Costs::from_fn(self.cells.strips.len(), |left, right| ((sum(left, right) + more) / many) as u32).ok()
    }

    /// The best lay-up at these costs, and what none falls below.
    fn searched(&self, costs: &Costs, looked_at: u64, keep_going: &mut dyn FnMut(u64, u64) -> bool) -> Option<Tried> {
        let wanted = Wanted::all(costs.strips(), Order::Free);
        let mut going = |progress: &Progress| keep_going(progress.best.unwrap_or(u64::MAX), looked_at);
        lay_ups(costs, &wanted, &mut going).ok()
    }

    /// The best lay-up of the strips in an arrangement of the blanks.
    fn laid(&self, found: &Together, looked_at: u64, keep_going: &mut dyn FnMut(u64, u64) -> bool) -> Option<Freely> {
        let spots: Vec<Vec<(usize, u8, usize)>> = (0..found.panels.len()).map(|p| self.spots(p, found)).collect();
        let costs = self.costs(true, |left, right| self.sum(&spots, left, right))?;
        let best = self.searched(&costs, looked_at, keep_going)?.found.into_iter().next()?;
        Some(Freely { panels: found.panels.clone(), laid: best.laid, cost: best.cost, bound: 0 })
    }

    /// A panel's cells from x = 0: of which blank, turned how, and which of its cells.
    fn spots(&self, panel: usize, found: &Together) -> Vec<(usize, u8, usize)> {
        let of = &self.cells.panels[panel];
        let laid = found.panels[panel].iter();
        let all = laid.flat_map(|l| (0..of.blanks[l.blank].cells).map(move |cell| (l.blank, l.turn, cell)));
        all.skip(of.trued[0]).take(self.cells.across).collect()
    }

    fn sum(&self, spots: &[Vec<(usize, u8, usize)>], left: Laid, right: Laid) -> u64 {
        let [one, two] = [left, right].map(|l| self.cells.strips[l.strip]);
        let same = lie_alike(left, right);
        let across = self.cells.across;
        let mut sum = 0;
        for i in self.cells.trimmed..across - self.cells.trimmed {
            let (blank, turn, cell) = spots[one.0][i];
            let (other, turned, meets) = spots[two.0][if same { i } else { across - 1 - i }];
            for face in 0..self.cells.faces {
                let a = &self.cells.line(one, (blank, turn), left.turn(), true, face)[cell];
                let b = &self.cells.line(two, (other, turned), right.turn(), false, face)[meets];
                sum += self.weights.of_samples(a, b);
            }
        }
        sum
    }

    /// The least that these two come to, whatever blank lies where.
    fn least(&self, left: Laid, right: Laid) -> u64 {
        let (one, two) = (self.cells.strips[left.strip].0, self.cells.strips[right.strip].0);
        let [p, q] = [one, two].map(|panel| &self.cells.panels[panel]);
        let hidden = p.trued.map(|trued| trued + self.cells.trimmed);
        let narrowest = p.blanks.iter().chain(&q.blanks).map(|b| b.cells).min().unwrap_or(0);
        if hidden.iter().any(|hidden| *hidden >= narrowest) {
            return self.cell_by_cell(left, right);
        }
        if one == two && lie_alike(left, right) {
            return outer(&self.each_beside_itself(left, right, hidden));
        }
        let alike = p.trued[0] == p.trued[1] && p.trued == q.trued;
        let equal = p.blanks.iter().chain(&q.blanks).all(|b| b.cells == narrowest);
        if alike && equal && p.blanks.len() > 1 {
            return outer(&self.blank_by_blank(left, right, hidden));
        }
        self.cell_by_cell(left, right)
    }

    /// Of each blank the least over its turns.
    fn each_beside_itself(&self, left: Laid, right: Laid, hidden: [usize; 2]) -> Vec<Stretches> {
        let of = &self.cells.panels[self.cells.strips[left.strip].0];
        let blank = |blank: usize| {
            let turns = of.blanks[blank].turns();
            let of_turn = |turn| {
                let cell = |i| self.meets(left, (blank, turn, i), right, (blank, turn, i));
                Stretches::of(of.blanks[blank].cells, hidden, cell)
            };
            turns.map(of_turn).reduce(Stretches::least).unwrap_or_default()
        };
        (0..of.blanks.len()).map(blank).collect()
    }

    /// Of each of the left strip's blanks the least beside any of the right one's.
    fn blank_by_blank(&self, left: Laid, right: Laid, hidden: [usize; 2]) -> Vec<Stretches> {
        let [of, other] = [left, right].map(|l| &self.cells.panels[self.cells.strips[l.strip].0].blanks);
        let same = lie_alike(left, right);
        let beside = |blank: usize, turn: u8, met: usize, turned: u8| {
            let cells = of[blank].cells;
            let cell = |i| {
                let meets = if same { i } else { cells - 1 - i };
                self.meets(left, (blank, turn, i), right, (met, turned, meets))
            };
            Stretches::of(cells, hidden, cell)
        };
        let blank = |blank: usize| {
            let mut least: Option<Stretches> = None;
            for turn in of[blank].turns() {
                for (met, of_met) in other.iter().enumerate() {
                    for turned in of_met.turns() {
                        let here = beside(blank, turn, met, turned);
                        least = Some(least.map_or(here, |least| least.least(here)));
                    }
                }
            }
            least.unwrap_or_default()
        };
        (0..of.len()).map(blank).collect()
    }

    /// Of each of the left strip's cells the least beside any cell of the right one, the cheapest that can be seen.
    fn cell_by_cell(&self, left: Laid, right: Laid) -> u64 {
        let [one, two] = [left, right].map(|l| self.cells.strips[l.strip]);
        let [of, other] = [one, two].map(|(panel, _)| &self.cells.panels[panel].blanks);
        let mut all: Vec<u64> = of.iter().flat_map(|blank| vec![0; blank.cells]).collect();
        for face in 0..self.cells.faces {
            let lines = other.iter().enumerate().flat_map(|(met, b)| b.turns().map(move |turned| (met, turned)));
            let met = lines.flat_map(|met| self.cells.line(two, met, right.turn(), false, face));
            let met = ByLuma::new(self.weights, met);
            let mut from = 0;
            for (blank, b) in of.iter().enumerate() {
                for i in 0..b.cells {
                    let sample = |turn| &self.cells.line(one, (blank, turn), left.turn(), true, face)[i];
                    all[from + i] += b.turns().map(|turn| met.least(sample(turn))).min().unwrap_or(0);
                }
                from += b.cells;
            }
        }
        all.sort_unstable();
        all.iter().take(self.seen()).sum()
    }

    /// What two cells come to on all faces.
    fn meets(&self, left: Laid, a: (usize, u8, usize), right: Laid, b: (usize, u8, usize)) -> u64 {
        let [one, two] = [left, right].map(|l| self.cells.strips[l.strip]);
        let on = |face| {
            let a = &self.cells.line(one, (a.0, a.1), left.turn(), true, face)[a.2];
            let b = &self.cells.line(two, (b.0, b.1), right.turn(), false, face)[b.2];
            self.weights.of_samples(a, b)
        };
        (0..self.cells.faces).map(on).sum()
    }
}

/// Whether both have their first blank on the same side.
fn lie_alike(left: Laid, right: Laid) -> bool {
    let in_front = |turn: Turn| turn.first_blank_in_front();
    in_front(left.turn()) == in_front(right.turn())
}

/// What one blank comes to: all of it, and as the first, the last or the only one, without what is hidden at the edge.
#[derive(Clone, Copy, Debug, Default)]
struct Stretches {
    whole: u64,
    first: u64,
    last: u64,
    only: u64,
}

impl Stretches {
    fn of(cells: usize, [front, back]: [usize; 2], cell: impl Fn(usize) -> u64) -> Self {
        let mut sums = Self::default();
        for i in 0..cells {
            let (here, first, last) = (cell(i), i >= front, i + back < cells);
            sums.whole += here;
            sums.first += if first { here } else { 0 };
            sums.last += if last { here } else { 0 };
            sums.only += if first && last { here } else { 0 };
        }
        sums
    }

    fn least(self, other: Self) -> Self {
        Self {
            whole: self.whole.min(other.whole),
            first: self.first.min(other.first),
            last: self.last.min(other.last),
            only: self.only.min(other.only),
        }
    }
}

/// The least of all blanks together, whichever two lie outermost.
fn outer(blanks: &[Stretches]) -> u64 {
    if let [one] = blanks {
        return one.only;
    }
    let all: u64 = blanks.iter().map(|b| b.whole).sum();
    let both = |first: usize, last: usize| {
        let (a, b) = (&blanks[first], &blanks[last]);
        all - a.whole - b.whole + a.first + b.last
    };
    let places = || 0..blanks.len();
    let pairs = places().flat_map(|a| places().filter(move |b| *b != a).map(move |b| (a, b)));
    pairs.map(|(a, b)| both(a, b)).min().unwrap_or(0)
}

/// Samples by how light they are: how much two differ says at least what they cost.
struct ByLuma<'a> {
    weights: Weights,
    sorted: Vec<(i32, &'a Sample)>,
}

impl<'a> ByLuma<'a> {
    fn new(weights: Weights, samples: impl Iterator<Item = &'a Sample>) -> Self {
        let mut sorted: Vec<(i32, &Sample)> = samples.map(|s| (s.luma(), s)).collect();
        sorted.sort_by_key(|(luma, s)| (*luma, s.colour, s.heartwood, s.angle, s.phase));
        sorted.dedup_by(|a, b| a.1 == b.1);
        Self { weights, sorted }
    }

    /// What samples come to at least whose lumas are so far apart: the three primaries differ by no less together than
    /// their weighted mean does.
    fn at_least(&self, apart: u64) -> u64 {
        let [colour, .., sameness] = self.weights.0.map(u64::from);
        let by_colour = (apart * 100 / (3 * 255)).saturating_sub(1);
        let most = u64::from(Measure::MOST_LUMA);
        colour * by_colour + sameness * ((most - apart.min(most)) * u64::from(Measure::RANGE) / most)
    }

    /// The least that a sample costs beside any of these: the likeliest first, until none can be better.
    fn least(&self, sample: &Sample) -> u64 {
        let luma = sample.luma();
        let [colour, .., sameness] = self.weights.0;
        let apart = |at: usize| u64::from(self.sorted[at].0.abs_diff(luma));
        let cost = |at: usize| self.weights.of_samples(sample, self.sorted[at].1);
        if colour > 0 && sameness > 0 {
            return (0..self.sorted.len()).map(cost).min().unwrap_or(0);
        }
        let (mut best, near) = (u64::MAX, self.sorted.partition_point(|(other, _)| *other < luma));
        // What is alike in lightness from there outward, or what is unlike from both ends inward.
        let up = near..self.sorted.len();
        let mut ways: [Box<dyn Iterator<Item = usize>>; 2] = match sameness > 0 {
            true => [Box::new(up.rev()), Box::new(0..near)],
            false => [Box::new(up), Box::new((0..near).rev())],
        };
        for way in &mut ways {
            for at in way {
                if self.at_least(apart(at)) >= best {
                    break;
                }
                best = best.min(cost(at));
            }
        }
        if best == u64::MAX { 0 } else { best }
    }
}
