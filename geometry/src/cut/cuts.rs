//! All cuts of a board but its handholds.

use super::{Bit, Easing, Face, Feet, FingerRecess, Finished, Groove, HangingHole, Outline, Spout, Sweep};
use crate::measure::Length;

/// What is cut into the faces, and how the outline and the rims are shaped.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cuts {
    /// The radius of the four corners in plan.
    pub corner_radius: Option<Length>,
    /// How the rim of the upper face is eased.
    pub upper_rim: Option<Easing>,
    /// How the rim of the lower face is eased.
    pub lower_rim: Option<Easing>,
    /// Juice grooves.
    pub grooves: Vec<Groove>,
    /// Spouts out of them.
    pub spouts: Vec<Spout>,
    /// Finger recesses.
    pub finger_recesses: Vec<FingerRecess>,
    /// Holes for feet.
    pub feet: Option<Feet>,
    /// A hole to hang it by.
    pub hanging_hole: Option<HangingHole>,
}

/// Which cut a sweep is, by its place in its list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Which {
    /// A groove.
    Groove(usize),
    /// A spout.
    Spout(usize),
    /// A finger recess.
    FingerRecess(usize),
    /// A foot's hole: left front, right front, right back, left back.
    Foot(usize),
    /// The hanging hole.
    HangingHole,
}

/// `first `, `second ` … where several are alike, in the order of the plan; nothing where it is alone.
fn which_of<'a>(i: usize, all: impl Iterator<Item = &'a str> + Clone) -> String {
    let own = all.clone().nth(i);
    let alike = |(_, other): &(usize, &str)| Some(*other) == own;
    let same = all.enumerate().filter(alike);
    let before = same.clone().filter(|(at, _)| *at < i).count();
    if same.count() < 2 { String::new() } else { format!("{} ", ordinal(before)) }
}

/// `first` for 0; from the eleventh on in figures.
#[must_use]
pub fn ordinal(place: usize) -> String {
    const WORDS: [&str; 10] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    WORDS.get(place).map_or_else(|| format!("no. {}", place + 1), |word| (*word).to_owned())
}

/// One cut of a board, by its place in its list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cut {
    /// A handhold.
    Handhold(usize),
    /// A cut on a face.
    Face(Which),
    /// A face levelled.
    Level(Face),
    /// A face of a panel levelled, by the panel's place, before strips are cut from it.
    Panel(usize, Face),
    /// The outline, down to the tabs.
    Outline,
    /// The outline between the tabs, right through.
    BetweenTabs,
    /// The rim of a face eased.
    Rim(Face),
}

impl Cut {
    /// What its numbers are called by: `handhold.1`, `groove.1`, `outline`.
    #[must_use]
    pub fn key(self) -> String {
        match self {
            Self::Handhold(i) => format!("handhold.{}", i + 1),
            Self::Face(which) => which.key(),
            Self::Level(face) => format!("surfacing.{}", face.name()),
            Self::Panel(i, face) => format!("surfacing.panel {}.{}", i + 1, face.name()),
            Self::Outline => "outline".to_owned(),
            Self::BetweenTabs => "outline between tabs".to_owned(),
            Self::Rim(face) => format!("{} rim", face.name()),
        }
    }

    /// Whether it is cut of the board as glued, before it is trimmed.
    #[must_use]
    pub const fn is_of_the_whole(self) -> bool {
        matches!(self, Self::Level(_) | Self::Panel(..) | Self::Outline | Self::BetweenTabs)
    }

    /// Whether it levels a whole face.
    #[must_use]
    pub const fn levels(self) -> bool {
        matches!(self, Self::Level(_) | Self::Panel(..))
    }
}

impl Which {
    /// What it is called: by its face or edge, and by which of them it is where several are there.
    #[must_use]
    pub fn name(self, cuts: &Cuts) -> String {
        match self {
            Self::Groove(i) => {
                let faces = cuts.grooves.iter().map(|g| g.face.name());
                format!("{}groove on the {} face", which_of(i, faces.clone()), faces.clone().nth(i).unwrap_or_default())
            }
            Self::Spout(i) => {
                let edges = cuts.spouts.iter().map(|s| s.edge.name());
                format!("{}spout to the {}", which_of(i, edges.clone()), edges.clone().nth(i).unwrap_or_default())
            }
            Self::FingerRecess(i) => {
                let edges = cuts.finger_recesses.iter().map(|f| f.edge.name());
                let edge = edges.clone().nth(i).unwrap_or_default();
                format!("{}finger recess under the {edge} edge", which_of(i, edges))
            }
            Self::Foot(i) => {
                let corner = ["left front", "right front", "right back", "left back"].get(i).copied();
                format!("{} foot hole", corner.unwrap_or_default())
            }
            Self::HangingHole => "hanging hole".to_owned(),
        }
    }

    /// What its numbers are called by: `groove.1`.
    #[must_use]
    pub fn key(self) -> String {
        match self {
            Self::Groove(i) => format!("groove.{}", i + 1),
            Self::Spout(i) => format!("spout.{}", i + 1),
            Self::FingerRecess(i) => format!("finger recess.{}", i + 1),
            Self::Foot(i) => format!("foot.{}", i + 1),
            Self::HangingHole => "hanging hole".to_owned(),
        }
    }

    /// Whether it may run into that other cut.
    #[must_use]
    pub const fn may_meet(self, other: Self) -> bool {
        matches!((self, other), (Self::Groove(_), Self::Spout(_)) | (Self::Spout(_), Self::Groove(_)))
    }

    /// Whether it may run out of its face's flat, through a rim and a side.
    #[must_use]
    pub const fn may_leave(self) -> bool {
        matches!(self, Self::Spout(_) | Self::FingerRecess(_))
    }
}

impl Cuts {
    /// The board's outline.
    #[must_use]
    pub fn outline(&self, size: Finished) -> Outline {
        let corner = self.corner_radius.map_or(0.0, Length::mm);
        Outline { size, corner, upper: self.upper_rim, lower: self.lower_rim }
    }

    /// Every cut that an upright bit makes, with what it is. A spout of a groove that isn't there is none.
    #[must_use]
    pub fn sweeps(&self, board: &Finished) -> Vec<(Which, Sweep)> {
        let numbered = |i: usize, which: fn(usize) -> Which, sweep: Sweep| (which(i), sweep);
        let grooves = self.grooves.iter().enumerate().map(|(i, g)| numbered(i, Which::Groove, g.sweep(board)));
        let spouts = self
            .spouts
            .iter()
            .enumerate()
            .filter_map(|(i, s)| Some(numbered(i, Which::Spout, s.sweep(self.grooves.get(s.groove)?, board))));
        let fingers =
            self.finger_recesses.iter().enumerate().map(|(i, f)| numbered(i, Which::FingerRecess, f.sweep(board)));
        let feet = self.feet.iter().flat_map(|f| f.sweeps(board)).enumerate();
        let feet = feet.map(|(i, sweep)| numbered(i, Which::Foot, sweep));
        let hole = self.hanging_hole.iter().map(|h| (Which::HangingHole, h.sweep(board)));
        grooves.chain(spouts).chain(fingers).chain(feet).chain(hole).collect()
    }

    /// The radius that a hole's bit goes round in, mm; 0 for one as wide as its bit, and for what is no hole.
    #[must_use]
    pub fn round_in(&self, which: Which) -> f64 {
        match which {
            Which::Foot(_) => self.feet.as_ref().map_or(0.0, |f| f.bit.round_in(f.diameter)),
            Which::HangingHole => self.hanging_hole.as_ref().map_or(0.0, |h| h.bit.round_in(h.diameter)),
            _ => 0.0,
        }
    }

    /// The bit of a cut.
    #[must_use]
    pub fn bit(&self, which: Which) -> Option<&Bit> {
        match which {
            Which::Groove(i) => self.grooves.get(i).map(|g| &g.bit),
            Which::Spout(i) => self.spouts.get(i).map(|s| &s.bit),
            Which::FingerRecess(i) => self.finger_recesses.get(i).map(|f| &f.bit),
            Which::Foot(_) => self.feet.as_ref().map(|f| &f.bit),
            Which::HangingHole => self.hanging_hole.as_ref().map(|h| &h.bit),
        }
    }
}
