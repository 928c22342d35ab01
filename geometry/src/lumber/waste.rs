//! Where the wood goes.

use crate::board::Board;
use crate::job::{FromPanel, Job, Outcome};
use crate::measure::Length;
use crate::solid::Exact;
use crate::stock::Size;

/// One way in which wood is lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Waste {
    /// Rough blanks jointed, ripped and planed.
    Milling,
    /// The panel's two edges trued.
    Truing,
    /// The panel planed after the first glue-up.
    Planing,
    /// The panel's two ends: squaring, snipe, blanks that end farther out, and what remains.
    Ends,
    /// What the blade takes between strips.
    Kerf,
    /// Strips that are cut and not laid.
    LeftOut,
    /// The glued board flattened and sanded.
    Flattening,
    /// The board trimmed to size, staggers included.
    Trimming,
    /// Handholds, grooves, corners, rims.
    Cuts,
}

impl Waste {
    /// All, in the order of the work.
    pub const ALL: [Self; 9] = [
        Self::Milling,
        Self::Truing,
        Self::Planing,
        Self::Ends,
        Self::Kerf,
        Self::LeftOut,
        Self::Flattening,
        Self::Trimming,
        Self::Cuts,
    ];

    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Milling => "milling",
            Self::Truing => "truing",
            Self::Planing => "planing",
            Self::Ends => "ends",
            Self::Kerf => "kerf",
            Self::LeftOut => "left out",
            Self::Flattening => "flattening",
            Self::Trimming => "trimming",
            Self::Cuts => "cuts",
        }
    }
}

/// What a piece that is left over is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeftOver {
    /// A strip that is cut and not laid: its panel's name, and its number from 1.
    Strip(String, i64),
    /// What remains of a panel beyond its last strip: the panel's name.
    FarEnd(String),
    /// A blank that is in no panel: its letter.
    Blank(String),
}

/// A piece that is left over whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffCut {
    /// What it is of.
    pub of: LeftOver,
    /// Its size.
    pub size: Size,
}

/// The wood of one board.
#[derive(Clone, Debug, PartialEq)]
pub struct Lumber {
    /// Of each wood, by name, what goes into the panels, mm³: rough where the plan gives it rough, else as milled.
    pub woods: Vec<(String, f64)>,
    /// Of each wood, in the same order, what to buy, mm³: rough where the plan gives it rough, else as much wider and
    /// thicker than milled as [`MILLING`].
    pub bought: Vec<(String, f64)>,
    /// What goes into each kind of waste, mm³, in the order of [`Waste::ALL`].
    pub wasted: [f64; 9],
    /// The finished board, all cuts made, mm³.
    pub board: f64,
    /// Pieces left over that are worth keeping.
    pub off_cuts: Vec<OffCut>,
}

/// How much wider and thicker than it is to be milled wood is bought, at least: 1/8 in (common practice, no source).
pub const MILLING: Length = Length::from_micrometres(3_175);

/// The least rough size that a blank is milled from.
fn to_be_milled(size: Size) -> Size {
    Size { width: size.width + MILLING, thickness: size.thickness + MILLING, length: size.length }
}

/// Adds to what there is of a wood.
fn to(woods: &mut Vec<(String, f64)>, name: &str, volume: f64) {
    match woods.iter_mut().find(|(wood, _)| wood == name) {
        Some((_, sum)) => *sum += volume,
        None => woods.push((name.to_owned(), volume)),
    }
}

impl Lumber {
    /// Of a job and its board; `None` where there is no board, or its cuts can't be made.
    #[must_use]
    pub fn of(job: &Job, outcome: &Outcome) -> Option<Self> {
        let board = outcome.board.as_ref().ok()?;
        Self::with(job, outcome, &job.body(board.finished()).ok()?.exact())
    }

    /// The same, where the finished board's figures are worked out already.
    #[must_use]
    pub fn with(job: &Job, outcome: &Outcome, exact: &Exact) -> Option<Self> {
        let board = outcome.board.as_ref().ok()?;
        let mut lumber = Self {
            woods: Vec::new(),
            bought: Vec::new(),
            wasted: [0.0; 9],
            board: exact.volume,
            off_cuts: off_cuts(job, outcome),
        };
        for (i, from) in outcome.panels.iter().enumerate() {
            let laid = outcome.places.iter().filter(|p| p.panel == i).count();
            lumber.panel(from, outcome.width, i64::try_from(laid).unwrap_or(i64::MAX));
        }
        lumber.glued(board, outcome);
        lumber.add(Waste::Cuts, exact.removed);
        Some(lumber)
    }

    /// All that went in, mm³.
    #[must_use]
    pub fn used(&self) -> f64 {
        self.woods.iter().map(|(_, volume)| volume).sum()
    }

    /// What one kind of waste took, mm³.
    #[must_use]
    pub fn lost(&self, waste: Waste) -> f64 {
        self.wasted[waste as usize]
    }

    /// The share of what went in that is in the board.
    #[must_use]
    pub fn kept(&self) -> f64 {
        if self.used() > 0.0 { self.board / self.used() } else { 0.0 }
    }

    fn add(&mut self, waste: Waste, volume: f64) {
        self.wasted[waste as usize] += volume;
    }

    fn panel(&mut self, from: &FromPanel, width: Length, laid: i64) {
        let panel = &from.panel;
        let thick = panel.thickness().mm();
        let last = panel.blanks.len().saturating_sub(1);
        let mut planed = 0.0;
        for (i, blank) in panel.blanks.iter().enumerate() {
            let milled = blank.lying();
            let goes_in = blank.blank.rough.map_or(volume(milled), volume);
            let name = &blank.blank.figure.wood().name;
            let bought = blank.blank.rough.unwrap_or_else(|| to_be_milled(milled));
            to(&mut self.woods, name, goes_in);
            to(&mut self.bought, name, volume(bought));
            self.add(Waste::Milling, goes_in - volume(milled));
            let first = if i == 0 { panel.trued[0] } else { Length::ZERO };
            let other = if i == last { panel.trued[1] } else { Length::ZERO };
            let trued = (first + other).mm();
            let long = milled.length.mm();
            self.add(Waste::Truing, trued * milled.thickness.mm() * long);
            let left = milled.width.mm() - trued;
            self.add(Waste::Planing, left * (milled.thickness.mm() - thick) * long);
            planed += left * thick * long;
        }
        let section = panel.width().mm() * thick;
        let strips = from.cut as f64 * width.mm() * section;
        let kerfs = (from.cut - 1).max(0) as f64 * from.crosscut.kerf.mm() * section;
        self.add(Waste::Kerf, kerfs);
        self.add(Waste::Ends, planed - strips - kerfs);
        self.add(Waste::LeftOut, (from.cut - laid) as f64 * width.mm() * section);
    }

    /// From the laid strips to the finished box.
    fn glued(&mut self, board: &Board, outcome: &Outcome) {
        let (size, glued, trims) = (board.finished(), board.glued(), board.trims());
        let strips: f64 = outcome
            .places
            .iter()
            .filter_map(|place| outcome.panels.get(place.panel))
            .map(|from| from.panel.width().mm() * from.panel.thickness().mm() * outcome.width.mm())
            .sum();
        let footprint: f64 = board.strips().iter().map(|s| s.slab.width * s.slab.thickness).sum();
        let flattened = footprint * (trims.upper + trims.lower).min(glued.thickness);
        self.add(Waste::Flattening, flattened);
        self.add(Waste::Trimming, strips - flattened - size.length * size.width * size.thickness);
    }
}

fn volume(size: Size) -> f64 {
    size.width.mm() * size.thickness.mm() * size.length.mm()
}

/// What remains of each panel where a strip's width and more is left, strips left out, blanks not laid: worth keeping.
#[must_use]
pub fn off_cuts(job: &Job, outcome: &Outcome) -> Vec<OffCut> {
    let mut all = Vec::new();
    for (i, from) in outcome.panels.iter().enumerate() {
        let (panel, name) = (&from.panel, &from.panel.name);
        let section = |length| Size { width: panel.width(), thickness: panel.thickness(), length };
        for strip in (0..from.cut).filter(|k| !outcome.places.iter().any(|p| p.panel == i && p.strip == *k)).take(200) {
            all.push(OffCut { of: LeftOver::Strip(name.clone(), strip + 1), size: section(outcome.width) });
        }
        let remains = from.crosscut.slack(from.cut, outcome.width);
        if remains >= outcome.width && remains.is_positive() {
            all.push(OffCut { of: LeftOver::FarEnd(name.clone()), size: section(remains) });
        }
    }
    let laid: Vec<&str> =
        outcome.panels.iter().flat_map(|f| &f.panel.blanks).map(|b| b.blank.letter.as_str()).collect();
    let left = job.blanks.iter().filter(|b| !laid.contains(&b.letter.as_str()));
    all.extend(
        left.take(200).map(|b| OffCut { of: LeftOver::Blank(b.letter.clone()), size: b.rough.unwrap_or(b.size) }),
    );
    all
}
