//! The sheet: lay-ups found, ranked and chosen.

use super::bench::{Bench, NoBench};
use super::choose::Choice;
use super::kind::Kind;
use super::pool::{Costed, Pool};
use super::shown::{Described, Shown};
use super::slid;
use super::slides::LaidUp;
use super::ties::{self, Drawn};
use super::tiles::Tiles;
use super::view::Views;
use super::wishes::{Aim, Measured, Wishes};
use super::words;
use crate::check::Finding;
use crate::job::Job;
use crate::layup::{Place, Turn};
use crate::search::whole::{CutFaces, Looks};
use crate::search::{Costs, FacesCounted, Weights};
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
    pub laid: LaidUp,
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

/// What is proven of one sum over glue lines: of all lay-ups asked for, slid in any of the ways asked for.
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
    /// In which ways strips are slid along their neighbours, in words; none where no strip is, in this plan as well.
    pub slides: Option<String>,
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

pub(super) const MEASURED: usize = Measured::ALL.len();
/// The side of the cells that a shown lay-up's looks are taken from, mm.
const CELL: f64 = 1.0;
/// Between two samples along a glue line, mm, and into how many of them it is divided at most.
const SPACING: f64 = 1.0;
const SAMPLES: f64 = 1000.0;

/// One lay-up that was tried.
pub(super) struct Tried {
    pub(super) lay: LaidUp,
    kind: Kind,
    /// Runs on, the difference from its mirror image left to right and front to back, contrast: smaller is better.
    pub(super) values: [u64; 4],
}

impl Tried {
    fn new(lay: LaidUp, views: &Views, costs: &Costed) -> Self {
        let view = views.of(&lay);
        let laid = &lay.laid;
        let sum = |costs: &Costs| ties::per_line(costs.total(laid), laid.len());
        let [runs_on, contrast] = costs.of_set(lay.set).map(sum);
        let values = [runs_on, view.off_mirror(Turn::RolledOver), view.off_mirror(Turn::EndOverEnd), contrast];
        let turns: Vec<Turn> = laid.iter().map(|l| l.turn()).collect();
        Self { kind: Kind::of(&turns), values, lay }
    }

    /// Of which kind it is.
    pub(super) const fn kind(&self) -> &Kind {
        &self.kind
    }
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
        let width = bench.panels.first().map_or(0.0, |p| p.0.width().mm());
        keep_going("reading the edges of the strips");
        let costs = Costed::of(bench, wishes, SPACING.max(width / SAMPLES), workers)?;
        let mut pool = Pool::new(bench, wishes);
        let proofs = pool.search(&costs, keep_going);
        // After what the search found, so that this is shown whenever it is stopped.
        pool.patterns();
        let mut stopped = !keep_going("comparing how they look");
        let views = Views::new(bench, tiles, wishes.faces == FacesCounted::Both);
        let mut seen = HashSet::new();
        let mut tried: Vec<Tried> = Vec::new();
        for lay in pool.lay_ups {
            if !seen.insert(bench.board(&lay)) {
                continue;
            }
            if tried.len() >= 2 * wishes.show && !keep_going("comparing how they look") {
                stopped = true;
                break;
            }
            tried.push(Tried::new(lay, &views, &costs));
        }
        let kinds: Vec<(&Kind, usize)> = tried.iter().map(|t| (t.kind(), t.lay.set)).collect();
        let many = kinds.iter().collect::<HashSet<_>>().len();
        let own = bench.planned.as_ref().map(|own| bench.board(own));
        let own = own.and_then(|own| tried.iter().position(|t| bench.board(&t.lay) == own));
        let aims = if wishes.aims.is_empty() { &Aim::ALL[..] } else { &wishes.aims };
        let by_aim = aims.iter().map(|aim| ordered(&tried, *aim)).collect();
        let view = |i: usize| views.of(&tried[i].lay);
        let taken = Choice { by_aim, kinds, own, view: &view }.take(wishes.show);
        let taken: Vec<&Tried> = taken.into_iter().map(|i| &tried[i]).collect();
        let (shown, cant_be_made) = looked_at(job, bench, wishes, &taken, CELL.max(width / SAMPLES))?;
        let laid: Vec<&LaidUp> = shown.iter().map(|one| &one.tried.lay).collect();
        let drawn = Drawn::of(bench, wishes, &laid, workers, keep_going);
        let draws = drawn.many();
        let candidates = Described::all(job, bench, &views, &proofs, &shown, &drawn);
        Ok(Self {
            candidates,
            blanks: Vec::new(),
            panels: words::panels(bench),
            slides: slid::ways(bench, &job.rule),
            runs_on: wishes.runs_on,
            order: bench.order(),
            tried: tried.len(),
            kinds: many,
            proofs,
            draws,
            stopped: stopped || draws < ties::DRAWS,
            cant_be_made,
        })
    }
}

/// Those that can be made, as they look, in the order given; and what keeps the others from being made.
type LookedAt<'a> = (Vec<Shown<'a>>, Vec<Vec<Finding>>);

/// One set of slides after another: the cut faces of each take much memory.
fn looked_at<'a>(
    job: &Job,
    bench: &Bench,
    wishes: &Wishes,
    taken: &[&'a Tried],
    cell: f64,
) -> Result<LookedAt<'a>, NoBench> {
    let mut shown: Vec<Option<Shown<'a>>> = taken.iter().map(|_| None).collect();
    let mut cant_be_made = Vec::new();
    for set in 0..bench.slides.len() {
        let mut of_set = shown.iter_mut().zip(taken).filter(|(_, one)| one.lay.set == set).peekable();
        if of_set.peek().is_none() {
            continue;
        }
        let faces = CutFaces::sample(&bench.stock(set), wishes.faces, cell)
            .map_err(|error| NoBench::NotCompared(error.to_string()))?;
        for (shown, one) in of_set {
            match Shown::of(job, bench, one, &faces) {
                Ok(looks) => *shown = looks,
                Err(found) => cant_be_made.push(found),
            }
        }
    }
    Ok((shown.into_iter().flatten().collect(), cant_be_made))
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
