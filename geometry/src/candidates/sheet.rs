//! The sheet: lay-ups found, ranked and chosen.

use super::bench::{Bench, NoBench};
use super::choose::Choice;
use super::kind::Kind;
use super::patterns;
use super::ties;
use super::ties::{Drawn, per_line};
use super::tiles::Tiles;
use super::view::Views;
use super::wishes::{Aim, Measured, Using, Wishes};
use super::words::{self, how_laid};
use crate::check::{Finding, can_be_made, findings};
use crate::job::{Job, LayupAsked};
use crate::layup::{Asked, Place, Turn};
use crate::measure::{Rest, Rounding};
use crate::search::whole::{CutFaces, Looks};
use crate::search::{Alike, Costs, Count, Edges, FacesCounted, Laid, Order, Progress, Stock, Wanted, Weights, lay_ups};
use std::collections::HashSet;

/// Where a lay-up stands among those on the sheet, by one measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rank {
    /// From 1; those with the same value share it.
    pub place: usize,
    /// How many share it, itself included.
    pub sharing: usize,
    /// Whether it is tied with the leader, itself not the leader: the leader beats it in fewer than four fifths of the
    /// draws of what is uncertain of the wood ([`Sheet::draws`]).
    pub tied: bool,
    /// Whether nothing that was asked for does better: proven.
    pub proven: bool,
    /// The value, smaller is better: of a sum over glue lines thousandths of a millionth a line, of a share what it
    /// lacks of 1, in millionths, of a length millionths of a mm. `None` where there is nothing to measure.
    pub value: Option<u64>,
}

/// One lay-up on the sheet.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// Which strip lies where, and how.
    pub places: Vec<Place>,
    /// The same by the numbers of the strips on the bench.
    pub laid: Vec<Laid>,
    /// Of which kind it is.
    pub kind: Kind,
    /// How it is laid, in words.
    pub how: String,
    /// Where it stands, by [`Measured::ALL`].
    pub ranks: [Rank; MEASURED],
    /// What it looks like as a whole, in numbers.
    pub looks: Looks,
    /// What the borders between light and dark form on the upper face, in words; empty where nothing that has a name.
    pub figures: String,
    /// How far the figure's wander shows, and what faults of the panels do to it, in words; empty where nothing is seen.
    pub faults: String,
    /// Whether it is the plan's own lay-up.
    pub planned: bool,
    /// The finished board's length, mm.
    pub length: f64,
    /// The same as the maker reads it.
    pub length_shown: String,
    /// The final size that puts the figure's mirror line in the middle, where it isn't there.
    pub centred: Option<Centred>,
}

/// How a board is cut so that its figure is centred.
#[derive(Clone, Debug, PartialEq)]
pub struct Centred {
    /// The length that is left, mm.
    pub length: f64,
    /// The same as the maker reads it.
    pub length_shown: String,
    /// What comes off besides the trims, mm.
    pub off: f64,
    /// The same as the maker reads it.
    pub off_shown: String,
    /// Off which end: the left one, else the right one.
    pub off_left: bool,
}

/// What is proven of one sum over glue lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// Which.
    pub measure: Measured,
    /// The least that was found.
    pub best: u64,
    /// No lay-up that was asked for costs less.
    pub bound: u64,
    /// How many different boards cost as little, itself included, where they were counted.
    pub equally_good: Option<u64>,
}

impl Proof {
    /// Whether the best is proven.
    #[must_use]
    pub const fn is_proven(&self) -> bool {
        self.bound >= self.best
    }
}

/// Lay-ups worth seeing.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Those shown, in the order of the first aim.
    pub candidates: Vec<Candidate>,
    /// What is said of how the blanks are laid, where they are laid otherwise than planned.
    pub blanks: Vec<String>,
    /// What is said of the panels: strips to spare, blanks that plane against each other.
    pub panels: Vec<String>,
    /// How much each measure of a glue line weighs where the figure is to run on.
    pub runs_on: Weights,
    /// The order in which strips lie unless another is said, in words.
    pub order: String,
    /// How many different boards were drawn and ranked.
    pub tried: usize,
    /// How many kinds are among them.
    pub kinds: usize,
    /// What is proven.
    pub proofs: Vec<Proof>,
    /// In how many draws of what is uncertain of the wood the ranks were tried; 0: it was stopped before.
    pub draws: u64,
    /// Whether it was stopped before all was tried.
    pub stopped: bool,
    /// Findings of those left out because they can't be made.
    pub cant_be_made: Vec<Vec<Finding>>,
}

const MEASURED: usize = Measured::ALL.len();
/// The side of the cells that a shown lay-up's looks are taken from, mm.
const CELL: f64 = 1.0;
/// Between two samples along a glue line, mm, and into how many of them it is divided at most.
const SPACING: f64 = 1.0;
const SAMPLES: f64 = 1000.0;

struct Tried {
    laid: Vec<Laid>,
    kind: Kind,
    values: [u64; 4],
}

impl Sheet {
    /// Tries lay-ups of the strips on the bench. `keep_going` is told what is being done, and asked whether to go on;
    /// once it says no, what was found so far is shown. The same comes of it by however many workers.
    ///
    /// # Errors
    /// [`NoBench::NotCompared`] where panels differ in width, or nothing is left to compare.
    pub fn of(
        job: &Job,
        bench: &Bench,
        wishes: &Wishes,
        tiles: &Tiles,
        workers: usize,
        keep_going: &mut dyn FnMut(&str) -> bool,
    ) -> Result<Self, NoBench> {
        let both = wishes.faces == FacesCounted::Both;
        let alike = if both && (bench.trims.upper - bench.trims.lower).abs() < 1e-9 {
            Alike::HalfRoundAndOver
        } else {
            Alike::HalfRound
        };
        let not = |e: &dyn std::fmt::Display| NoBench::NotCompared(e.to_string());
        keep_going("reading the edges of the strips");
        let stock = Stock { panels: &bench.panels, strips: &bench.strips, width: bench.width, trims: bench.trims };
        let width = bench.panels.first().map_or(0.0, |p| p.0.width().mm());
        let edges =
            Edges::sample_by(&stock, wishes.faces, SPACING.max(width / SAMPLES), workers).map_err(|e| not(&e))?;
        let weights = [(Measured::RunsOn, wishes.runs_on), (Measured::Contrast, Weights::CONTRAST)];
        let costs = [
            weights[0].1.costs_by(&edges, workers).map_err(|e| not(&e))?,
            weights[1].1.costs_by(&edges, workers).map_err(|e| not(&e))?,
        ];
        let mut search = Search { job, bench, wishes, alike, pool: Vec::new(), stopped: false };
        search.pool.extend(bench.planned.clone().filter(|laid| search.fits(laid)));
        let mut proofs = Vec::new();
        for ((measure, _), costs) in weights.iter().zip(&costs) {
            proofs.extend(search.best(*measure, costs, keep_going));
        }
        // After what the search found, so that this is shown whenever it is stopped.
        search.patterns();
        search.stopped |= !keep_going("comparing how they look");
        let cell = CELL.max(width / SAMPLES);
        let faces = CutFaces::sample(&stock, wishes.faces, cell).map_err(|e| not(&e))?;
        let sampled = Sampled { stock: &stock, workers, costs: &costs, faces: &faces };
        Ok(search.finish(tiles, &sampled, proofs, keep_going))
    }
}

/// The strips, and what was sampled of them.
struct Sampled<'a> {
    stock: &'a Stock<'a>,
    workers: usize,
    costs: &'a [Costs; 2],
    faces: &'a CutFaces,
}

struct Search<'a> {
    job: &'a Job,
    bench: &'a Bench,
    wishes: &'a Wishes,
    alike: Alike,
    pool: Vec<Vec<Laid>>,
    stopped: bool,
}

impl Search<'_> {
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

    fn patterns(&mut self) {
        for order in self.orders() {
            for turns in patterns::turns(order.len(), self.wishes.repeat) {
                self.pool.push(order.iter().zip(turns).map(|(strip, turn)| Laid::new(*strip, turn)).collect());
            }
        }
    }

    /// The best by a sum over glue lines, and those after it: in the order as cut, and in any where that is free.
    fn best(&mut self, measure: Measured, costs: &Costs, keep_going: &mut dyn FnMut(&str) -> bool) -> Option<Proof> {
        let orders: &[Order] = match self.wishes.order {
            Order::AsGiven => &[Order::AsGiven],
            Order::Interleaved => &[Order::AsGiven, Order::Interleaved],
            Order::Free => &[Order::AsGiven, Order::Free],
        };
        let mut proof = None;
        for order in orders {
            let wanted = Wanted {
                count: Count::exactly(self.bench.count),
                repeats_every: self.wishes.repeat,
                alike: self.alike,
                few: self.wishes.show,
                panels: self.bench.strips.iter().map(|(panel, _)| *panel).collect(),
                ..Wanted::all(self.bench.strips.len(), *order)
            };
            let mut going = |progress: &Progress| keep_going(&searching(measure, progress));
            // Nothing asked here can contradict itself; what fits nothing leaves the patterns.
            let Ok(tried) = lay_ups(costs, &wanted, &mut going) else { continue };
            proof = tried.found.first().map(|first| Proof {
                measure,
                best: first.cost,
                bound: tried.bound,
                equally_good: tried.proven.then_some(tried.equally_good),
            });
            self.pool.extend(tried.found.into_iter().map(|f| f.laid));
        }
        proof
    }

    fn finish(
        self,
        tiles: &Tiles,
        sampled: &Sampled<'_>,
        proofs: Vec<Proof>,
        keep_going: &mut dyn FnMut(&str) -> bool,
    ) -> Sheet {
        let views = Views::new(self.bench, tiles, self.wishes.faces == FacesCounted::Both);
        let mut seen = HashSet::new();
        let mut tried: Vec<Tried> = Vec::new();
        let mut stopped = self.stopped;
        for laid in self.pool {
            if !seen.insert(self.alike.first(&laid)) {
                continue;
            }
            if tried.len() >= 2 * self.wishes.show && !keep_going("comparing how they look") {
                stopped = true;
                break;
            }
            let turns: Vec<_> = laid.iter().map(|l| l.turn()).collect();
            tried.push(Tried { kind: Kind::of(&turns), values: values(&laid, &views, sampled.costs), laid });
        }
        let aims = if self.wishes.aims.is_empty() { &Aim::ALL[..] } else { &self.wishes.aims };
        let by_aim = aims.iter().map(|aim| ordered(&tried, *aim)).collect();
        let view = |i: usize| views.of(&tried[i].laid);
        let kinds: Vec<&Kind> = tried.iter().map(|t| &t.kind).collect();
        let many = kinds.iter().collect::<HashSet<_>>().len();
        let first = |laid: &Vec<Laid>| self.alike.first(laid);
        let own = self.bench.planned.as_ref().map(first);
        let own = own.and_then(|own| tried.iter().position(|t| first(&t.laid) == own));
        let choice = Choice { by_aim, kinds, own, view: &view };
        let taken = choice.take(self.wishes.show);
        let mut shown: Vec<Shown<'_>> = Vec::new();
        let mut cant_be_made = Vec::new();
        for one in taken.iter().map(|i| &tried[*i]) {
            match length(self.job, self.bench.places(&one.laid)) {
                Ok(length) => shown.extend(Shown::of(one, length, sampled.faces)),
                Err(found) => cant_be_made.push(found),
            }
        }
        let laid: Vec<&[Laid]> = shown.iter().map(|one| one.tried.laid.as_slice()).collect();
        let drawn = Drawn::of(sampled.stock, self.wishes, &laid, sampled.workers, keep_going);
        let draws = drawn.many();
        stopped |= draws < ties::DRAWS;
        let mut bench = Described {
            job: self.job,
            bench: self.bench,
            alike: self.alike,
            views: &views,
            proofs: &proofs,
            ranks: Vec::new(),
        };
        bench.ranks = bench.ranked(&shown, &drawn);
        let candidates = shown.iter().enumerate().map(|(i, one)| bench.candidate(i, one)).collect();
        let order = self.bench.order();
        Sheet {
            candidates,
            blanks: Vec::new(),
            panels: words::panels(self.bench),
            runs_on: self.wishes.runs_on,
            order,
            tried: tried.len(),
            kinds: many,
            proofs,
            draws,
            stopped,
            cant_be_made,
        }
    }
}

/// Runs on, the difference from its mirror image left to right and front to back, contrast: smaller is better.
fn values(laid: &[Laid], views: &Views, costs: &[Costs; 2]) -> [u64; 4] {
    let view = views.of(laid);
    let sum = |costs: &Costs| per_line(costs.total(laid), laid.len());
    [sum(&costs[0]), view.off_mirror(Turn::RolledOver), view.off_mirror(Turn::EndOverEnd), sum(&costs[1])]
}

/// All that were tried, the best first.
fn ordered(tried: &[Tried], aim: Aim) -> Vec<usize> {
    let merit = |i: &usize| {
        let [runs_on, across, along, contrast] = tried[*i].values;
        match aim {
            Aim::RunsOn => (runs_on, across + along),
            Aim::MirroredBothWays => (across + along, runs_on),
            Aim::Contrast => (contrast, across + along),
        }
    };
    let mut all: Vec<usize> = (0..tried.len()).collect();
    all.sort_by_key(merit);
    all
}

/// What is being done, for a person who waits.
fn searching(measure: Measured, progress: &Progress) -> String {
    let what = measure.name();
    match progress.best {
        Some(best) => format!("searching by {what}: best so far {best}, none can be under {}", progress.bound),
        None => format!("searching by {what}"),
    }
}

/// The finished board's length; what keeps it from being made.
fn length(job: &Job, places: Vec<Place>) -> Result<f64, Vec<Finding>> {
    let layup = LayupAsked { asked: Asked::Places(places), mirror_pairs: false };
    let job = Job { layup, ..job.clone() };
    let outcome = job.work();
    let found = findings(&job, &outcome);
    match outcome.board {
        Ok(board) if can_be_made(&found) => Ok(board.finished().length),
        _ => Err(found),
    }
}

/// One that stands on the sheet.
struct Shown<'a> {
    tried: &'a Tried,
    length: f64,
    looks: Looks,
    figures: String,
}

impl<'a> Shown<'a> {
    fn of(tried: &'a Tried, length: f64, faces: &CutFaces) -> Option<Self> {
        let map = faces.lay(&tried.laid)?;
        let looks = faces.looks_of(&tried.laid, &map, &map.view());
        let figures = map.figures(0).map(|figures| words::figures(&figures)).unwrap_or_default();
        Some(Self { tried, length, looks, figures })
    }

    fn value(&self, measure: Measured) -> Option<u64> {
        let [runs_on, _, _, contrast] = self.tried.values;
        value(measure, [runs_on, contrast], &self.looks)
    }
}

/// A [`Rank::value`], from how the figure runs on and the contrast, each for each glue line, and the looks.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub(super) fn value(measure: Measured, [runs_on, contrast]: [u64; 2], looks: &Looks) -> Option<u64> {
    let millionths = |value: f64| (value * 1e6).round().max(0.0) as u64;
    let lacks = |share: f64| (share > 0.0).then(|| millionths(1.0 - share));
    match measure {
        Measured::RunsOn => Some(runs_on),
        Measured::LeftToRight => lacks(looks.left_right),
        Measured::FrontToBack => lacks(looks.front_back),
        Measured::Evenness => lacks(looks.evenness),
        Measured::Closes => looks.misses.map(millionths),
        Measured::Contrast => Some(contrast),
    }
}

struct Described<'a> {
    job: &'a Job,
    bench: &'a Bench,
    alike: Alike,
    views: &'a Views,
    proofs: &'a [Proof],
    /// Of every lay-up shown, by [`Measured::ALL`].
    ranks: Vec<[Rank; MEASURED]>,
}

impl Described<'_> {
    fn candidate(&self, i: usize, one: &Shown<'_>) -> Candidate {
        let planned = self.bench.planned.as_ref().map(|laid| self.alike.first(laid));
        let laid = &one.tried.laid;
        Candidate {
            places: self.bench.places(laid),
            laid: laid.clone(),
            kind: one.tried.kind.clone(),
            how: how_laid(self.bench, laid),
            ranks: self.ranks[i],
            looks: one.looks,
            figures: one.figures.clone(),
            faults: words::faults(&one.looks, &self.job.rule),
            planned: planned == Some(self.alike.first(laid)),
            length: one.length,
            length_shown: self.shown(one.length),
            centred: self.centred(laid, one.length),
        }
    }

    fn shown(&self, mm: f64) -> String {
        self.job.rule.show(mm, Rounding::Nearest, Rest::Told)
    }

    /// By the face's own mirror line. Strips of unlike thickness have no half strips to go by: then it isn't said.
    fn centred(&self, laid: &[Laid], length: f64) -> Option<Centred> {
        let thick = |l: &Laid| self.bench.panels[self.bench.strips[l.strip].0].0.thickness();
        let first = laid.first().map(thick)?;
        if laid.iter().any(|l| thick(l) != first) {
            return None;
        }
        let away = self.views.of(laid).mirror_line() as f64 * first.mm() / 2.0;
        // From the middle of the glued board to that of what the trims leave.
        let trims = (self.bench.trims.left - self.bench.trims.right) / 2.0;
        let off = 2.0 * (away - trims).abs();
        (away != 0.0 && off < length / 2.0).then(|| Centred {
            length: length - off,
            length_shown: self.shown(length - off),
            off,
            off_shown: self.shown(off),
            off_left: away > trims,
        })
    }

    /// Where each stands by each measure.
    fn ranked(&self, shown: &[Shown<'_>], drawn: &Drawn) -> Vec<[Rank; MEASURED]> {
        let rank = |one| Measured::ALL.map(|measure| self.rank(one, shown, measure));
        let mut ranks: Vec<[Rank; MEASURED]> = shown.iter().map(rank).collect();
        for measure in 0..MEASURED {
            let leads = |of: &[Rank; MEASURED]| of[measure].place == 1 && of[measure].value.is_some();
            let Some(leader) = ranks.iter().position(leads) else { continue };
            for (i, (of, tied)) in ranks.iter_mut().zip(drawn.tied(measure, leader)).enumerate() {
                of[measure].tied = tied && i != leader && of[measure].value.is_some();
            }
        }
        ranks
    }

    fn rank(&self, one: &Shown<'_>, shown: &[Shown<'_>], measure: Measured) -> Rank {
        let value = one.value(measure);
        let count = one.tried.laid.len();
        let lines = count.saturating_sub(1).max(1) as u64;
        let proof = self.proofs.iter().find(|p| p.measure == measure && p.is_proven());
        let better = |other: &&Shown<'_>| matches!((other.value(measure), value), (Some(a), Some(b)) if a < b);
        Rank {
            place: 1 + shown.iter().filter(better).count(),
            tied: false,
            sharing: shown.iter().filter(|other| other.value(measure) == value).count(),
            proven: proof.is_some_and(|p| count == self.bench.count && value == Some(p.best * 1000 / lines)),
            value,
        }
    }
}
