//! The strips that there are, in the order in which they were cut.

use super::slides::{self, LaidUp, Slides};
use super::wishes::{Sliding, Using, Wishes};
use crate::board::Trims;
use crate::job::{Job, NoBoard, Outcome};
use crate::layup::{Asked, Place};
use crate::measure::{Length, Rest, Rounding};
use crate::search::{Alike, FacesCounted, Laid, Stock};
use crate::stock::{Crosscut, Panel};
use thiserror::Error;

/// Why nothing can be tried.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoBench {
    /// The panels give no strips as planned.
    #[error(transparent)]
    NoStrips(#[from] NoBoard),
    /// A strip is called lost that isn't cut.
    #[error("strip {} of panel {panel} is gone, but only {cut} are cut", strip + 1)]
    NotCut {
        /// The panel's name.
        panel: String,
        /// The strip, from 0.
        strip: i64,
        /// How many there are.
        cut: i64,
    },
    /// Fewer strips are there than are to be laid.
    #[error("{wanted} strips can't be laid: {there} are there")]
    TooFew {
        /// How many are to be laid.
        wanted: usize,
        /// How many there are.
        there: usize,
    },
    /// More strips than can be tried.
    #[error("{0} strips are more than the {most} that can be tried", most = Bench::MOST)]
    TooMany(usize),
    /// The board is glued up: its length or thickness was measured.
    #[error("the board is glued already: [measured] gives its length or thickness")]
    Glued,
    /// Two panels differ in width.
    #[error(
        "panel {} is {} wide and panel {} is {}: lay-ups are compared where all are equally \
         wide; rip the wider panel to the narrower",
        .0[0], .0[1], .0[2], .0[3]
    )]
    Widths(Box<[String; 4]>),
    /// Strips are to be slid so far that nothing is left.
    #[error("slid {0}, the strips leave nothing that all of them cover; slide them less, or none")]
    NoCover(String),
    /// Something keeps the glue lines from being compared.
    #[error("the lay-ups can't be compared: {0}")]
    NotCompared(String),
}

/// The strips on the bench, and what they were cut from.
#[derive(Clone, Debug)]
pub struct Bench {
    /// The panels on the saw.
    pub panels: Vec<(Panel, Crosscut)>,
    /// s: the strips' width.
    pub width: Length,
    /// What is taken off the glued board.
    pub trims: Trims,
    /// The strips that there are: panel and number, in the order in which they were cut; several panels by turns.
    pub strips: Vec<(usize, i64)>,
    /// The same without the mates of those lost; as above where none is lost.
    pub in_pairs: Vec<usize>,
    /// How many are laid.
    pub count: usize,
    /// By panel, how many strips it gives beyond those that the plan cuts.
    pub spare: Vec<i64>,
    /// The ways in which they are slid along their neighbours, one or more, each a set with a slide for every strip.
    pub slides: Vec<Slides>,
    /// Which ways of turning a board give the same one, where no strip is slid.
    pub alike: Alike,
    /// Whether the plan slides strips unlike.
    pub slid: bool,
    /// The plan's own lay-up, where all its strips are there and slid as one of the sets has it.
    pub planned: Option<LaidUp>,
}

impl Bench {
    /// The most strips that are tried: more than any board has, and few enough to be tried in seconds.
    pub const MOST: usize = 200;

    /// Lays out the strips of a job.
    ///
    /// # Errors
    /// [`NoBench`] where there are none, or not those that are wished for.
    pub fn new(job: &Job, outcome: &Outcome, wishes: &Wishes) -> Result<Self, NoBench> {
        if job.measured.board_length.is_some() || job.measured.board_thickness.is_some() {
            return Err(NoBench::Glued);
        }
        let cut = cut(outcome)?;
        equally_wide(job, outcome)?;
        for (panel, strip) in &wishes.gone {
            let cut = cut.get(*panel).copied().unwrap_or(0);
            if !(0..cut).contains(strip) {
                let panel = job.panels.get(*panel).map_or("", |p| p.name.as_str()).to_owned();
                return Err(NoBench::NotCut { panel, strip: *strip, cut });
            }
        }
        let all = in_turn(&job.layup.asked, &cut);
        if all.len() > Self::MOST {
            return Err(NoBench::TooMany(all.len()));
        }
        let gone = |at: usize| wishes.gone.contains(&all[at]);
        let there: Vec<usize> = (0..all.len()).filter(|at| !gone(*at)).collect();
        // In pairs as they lay in the panel: first and second, third and fourth …
        let paired = |at: &usize| !gone(at ^ 1) && (at ^ 1) < all.len();
        let in_pairs = (0..there.len()).filter(|i| wishes.gone.is_empty() || paired(&there[*i])).collect();
        let count = match wishes.using {
            Using::All => there.len(),
            Using::Even => there.len() - there.len() % 2,
            Using::Exactly(count) => count,
        };
        if count == 0 || count > there.len() {
            return Err(NoBench::TooFew { wanted: count.max(1), there: there.len() });
        }
        let strips: Vec<(usize, i64)> = there.iter().map(|at| all[*at]).collect();
        let (trims, alike) = (trims(job), alike(job, wishes));
        let as_planned = Slides::planned(&outcome.places, &strips);
        let slides = slides::sets(&as_planned, &strips, wishes, alike);
        let panels: Vec<(Panel, Crosscut)> = outcome.panels.iter().map(|p| (p.panel.clone(), p.crosscut)).collect();
        let wide = strips.first().map_or(Length::ZERO, |(panel, _)| panels[*panel].0.width());
        let left = |slides: &Slides| (wide - slides.spread()).mm() - 2.0 * trims.front.max(trims.back);
        if let Some(too_far) = slides.iter().find(|slides| slides.are_unlike() && left(slides) <= 0.0) {
            return Err(NoBench::NoCover(match too_far.asked {
                Sliding::AsPlanned => "as planned".to_owned(),
                Sliding::EverySecond(by) => job.rule.show(by.mm(), Rounding::Nearest, Rest::Told),
            }));
        }
        let planned = planned(&outcome.places, &strips).and_then(|laid| {
            let set = slides.iter().position(|set| set.slide_alike(&as_planned, &laid))?;
            Some(LaidUp { laid, set })
        });
        Ok(Self {
            slid: as_planned.are_unlike(),
            planned,
            slides,
            alike,
            panels,
            width: outcome.width,
            trims,
            strips,
            in_pairs,
            count,
            spare: outcome.panels.iter().map(|p| (p.gives - p.cut).max(0)).collect(),
        })
    }

    /// The strips for the search, slid by one of the sets.
    #[must_use]
    pub fn stock(&self, set: usize) -> Stock<'_> {
        let slides = &self.slides[set].of;
        Stock { panels: &self.panels, strips: &self.strips, slides, width: self.width, trims: self.trims }
    }

    /// Which ways of turning a board leave one that is slid by this set.
    #[must_use]
    pub fn alike_in(&self, set: usize) -> Alike {
        if self.slides[set].are_unlike() { self.alike.slid_unlike() } else { self.alike }
    }

    /// Every strip of a lay-up with how far it is slid toward the back, from the left.
    #[must_use]
    pub fn slid(&self, lay: &LaidUp) -> Vec<(Laid, Length)> {
        lay.laid.iter().map(|l| (*l, self.slides[lay.set].of[l.strip])).collect()
    }

    /// What is the same for lay-ups that are the same board, and for no others.
    #[must_use]
    pub fn board(&self, lay: &LaidUp) -> Vec<(Laid, Length)> {
        self.alike.first_slid(&self.slid(lay))
    }

    /// The places of a lay-up.
    #[must_use]
    pub fn places(&self, lay: &LaidUp) -> Vec<Place> {
        let place = |(l, stagger): (Laid, Length)| {
            let (panel, strip) = self.strips[l.strip];
            Place { panel, strip, turn: l.turn(), stagger }
        };
        self.slid(lay).into_iter().map(place).collect()
    }

    /// The order in which strips lie unless another is said, in words.
    #[must_use]
    pub fn order(&self) -> String {
        if self.panels.len() == 1 {
            return "the order in which they were cut".to_owned();
        }
        let first: Vec<String> = (0..self.strips.len().min(4)).map(|s| self.name(s)).collect();
        format!("the order {} and so on", first.join(", "))
    }

    /// What a strip is called on paper: its number, after its panel's name where there are several.
    #[must_use]
    pub fn name(&self, strip: usize) -> String {
        let (panel, number) = self.strips[strip];
        if self.panels.len() == 1 {
            (number + 1).to_string()
        } else {
            format!("{} {}", self.panels[panel].0.name, number + 1)
        }
    }
}

/// Whether all panels that strips are cut from are equally wide.
fn equally_wide(job: &Job, outcome: &Outcome) -> Result<(), NoBench> {
    let mut used = outcome.panels.iter().filter(|p| p.cut > 0).map(|p| &p.panel);
    let Some(first) = used.next() else { return Ok(()) };
    let Some(other) = used.find(|panel| panel.width() != first.width()) else { return Ok(()) };
    let wide = |panel: &Panel| job.rule.show(panel.width().mm(), Rounding::Nearest, Rest::Told);
    Err(NoBench::Widths(Box::new([first.name.clone(), wide(first), other.name.clone(), wide(other)])))
}

/// How many strips each panel yields.
fn cut(outcome: &Outcome) -> Result<Vec<i64>, NoBoard> {
    if let Some(i) = outcome.panels.iter().position(|p| p.cut > p.gives) {
        return Err(NoBoard::FewerStrips(i));
    }
    if outcome.panels.iter().all(|p| p.cut < 1) {
        return Err(NoBoard::NoStrips);
    }
    Ok(outcome.panels.iter().map(|p| p.cut.max(0)).collect())
}

/// Every strip, the panels taking turns as in the plan's repeat, else one of each; then what is left of some panels.
fn in_turn(asked: &Asked, cut: &[i64]) -> Vec<(usize, i64)> {
    let turns: Vec<usize> = match asked {
        Asked::Repeat { beats, .. } => beats.iter().map(|b| b.panel).filter(|p| *p < cut.len()).collect(),
        Asked::Places(_) => (0..cut.len()).collect(),
    };
    let mut next = vec![0_i64; cut.len()];
    let mut all = Vec::new();
    let mut lay = |panel: usize| {
        let strip = next[panel];
        next[panel] += 1;
        (strip < cut[panel]).then(|| all.push((panel, strip))).is_some()
    };
    while turns.iter().filter(|panel| lay(**panel)).count() > 0 {}
    for panel in (0..cut.len()).filter(|panel| !turns.contains(panel)) {
        while lay(panel) {}
    }
    all
}

fn planned(places: &[Place], strips: &[(usize, i64)]) -> Option<Vec<Laid>> {
    let laid = |place: &Place| {
        let strip = strips.iter().position(|s| *s == (place.panel, place.strip))?;
        Some(Laid::new(strip, place.turn))
    };
    places.iter().map(laid).collect::<Option<Vec<Laid>>>().filter(|laid| !laid.is_empty())
}

/// Turned half round it is the same board; over too, where both faces count and lose the same.
fn alike(job: &Job, wishes: &Wishes) -> Alike {
    let over = wishes.faces == FacesCounted::Both && job.finishing.upper == job.finishing.lower;
    if over { Alike::HalfRoundAndOver } else { Alike::HalfRound }
}

fn trims(job: &Job) -> Trims {
    let off = &job.finishing;
    Trims {
        left: off.left.mm(),
        right: off.right.mm(),
        front: off.front.mm(),
        back: off.back.mm(),
        upper: off.upper.mm(),
        lower: off.lower.mm(),
    }
}
