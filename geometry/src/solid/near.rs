//! How near the cuts of a board come to one another. Knows cuts and where they lie, not whether that near is too near.

use super::body::{gap, room, tool};
use super::lip::{Lip, Surface, placed_if_one};
use super::tool::Tool;
use crate::cut::{Cut, Cuts, Edge, Finished, Handhold};
use nalgebra::Point3;
use std::cell::OnceCell;

/// The chord tolerance at which it is seen which cuts are near, mm.
const COARSE: f64 = 0.1;

/// Below this two distances are one, mm.
const ALIKE: f64 = 1e-9;

/// The chord tolerance that a distance which is told is measured with, mm.
const FINEST: f64 = 0.005;

/// Two cuts, and how near they come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// The least distance between them, mm; 0 where they meet. Where both are round, what their chords leave out makes
    /// it larger by 0.01 mm at most.
    pub distance: f64,
    /// Which they are, handholds first, then as [`Cuts::sweeps`] has them.
    pub cuts: [Cut; 2],
}

/// Every cut of a board where it lies, but for those that are none: whose stops cross, whose rim doesn't fit.
pub struct Neighbours {
    all: Vec<Placed>,
}

struct Placed {
    cut: Cut,
    tool: Tool,
    room: [Point3<f64>; 2],
    seen: OnceCell<Option<Surface>>,
}

impl Placed {
    fn of(cut: Cut, tool: Tool) -> Self {
        Self { cut, room: room(&tool), tool, seen: OnceCell::new() }
    }

    /// No more than the distance, quickly: that of the boxes they lie in.
    fn at_least(&self, other: &Self) -> f64 {
        gap(&self.room, &other.room)
    }

    /// The distance, too large by twice [`COARSE`] at most.
    fn about(&self, other: &Self) -> Option<f64> {
        let [a, b] =
            [self, other].map(|placed| placed.seen.get_or_init(|| Surface::of(&placed.tool.solid(COARSE))).as_ref());
        a?.distance(b?)
    }

    fn near(&self, other: &Self, about: f64) -> Near {
        // No distance is under that of the boxes: between two floors the chords of their rims make no difference.
        if about <= self.at_least(other) + ALIKE {
            return Near { distance: about, cuts: [self.cut, other.cut] };
        }
        let [a, b] = [self, other].map(|placed| Surface::of(&placed.tool.solid(FINEST)));
        let finer = a.zip(b).and_then(|(a, b)| a.distance(&b));
        Near { distance: finer.unwrap_or(about), cuts: [self.cut, other.cut] }
    }
}

impl Neighbours {
    /// Cuts nearer than this meet: their meshes might, mm.
    pub const MEETS: f64 = 0.02;

    /// The cuts of a board.
    ///
    /// ```
    /// use quarterturn_geometry::cut::{Cuts, Finished};
    /// use quarterturn_geometry::solid::Neighbours;
    /// let bare = Finished { length: 300.0, width: 200.0, thickness: 40.0 };
    /// assert!(Neighbours::of(&bare, &[], &Cuts::default()).nearest().is_none());
    /// ```
    #[must_use]
    pub fn of(board: &Finished, handholds: &[Handhold], cuts: &Cuts) -> Self {
        let recesses = handholds.iter().enumerate();
        let recesses = recesses.filter_map(|(i, hold)| Some(Placed::of(Cut::Handhold(i), placed_if_one(hold, board)?)));
        let sweeps = cuts.sweeps(board).into_iter().filter(|(_, sweep)| sweep.is_one());
        let sweeps = sweeps.map(|(which, sweep)| Placed::of(Cut::Face(which), tool(&sweep, board)));
        Self { all: recesses.chain(sweeps).collect() }
    }

    /// Every two that come nearer than that, the nearest first: those that meet, too.
    #[must_use]
    pub fn within(&self, limit: f64) -> Vec<Near> {
        let mut near: Vec<Near> = self
            .pairs()
            .filter(|(a, b)| a.at_least(b) < limit)
            .filter_map(|(a, b)| Some((a, b, a.about(b)?)))
            .filter(|(.., about)| *about < limit + 2.0 * COARSE)
            .map(|(a, b, about)| a.near(b, about))
            .filter(|near| near.distance < limit)
            .collect();
        near.sort_by(|a, b| a.distance.total_cmp(&b.distance));
        near
    }

    /// The two that come nearest and don't meet; `None` where there are no two.
    #[must_use]
    pub fn nearest(&self) -> Option<Near> {
        nearest(self.pairs())
    }

    /// The cut that comes nearest to one without meeting it.
    #[must_use]
    pub fn nearest_to(&self, cut: Cut) -> Option<Near> {
        nearest(self.pairs().filter(|(a, b)| a.cut == cut || b.cut == cut))
    }

    fn pairs(&self) -> impl Iterator<Item = (&Placed, &Placed)> {
        self.all.iter().enumerate().flat_map(|(i, b)| self.all.iter().take(i).map(move |a| (a, b)))
    }
}

/// The least lip of a handhold, and where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastLip {
    /// How thick, mm.
    pub thickness: f64,
    /// To what: `lower face`, `right edge`, `groove on the upper face`.
    pub to: String,
}

impl LeastLip {
    /// Of the handhold at that place: the least distance to a face of the board that shares no edge with it, or to any
    /// other cut, of which `all` are there; `None` where there is no such handhold.
    #[must_use]
    pub fn of(all: &Neighbours, board: &Finished, handholds: &[Handhold], cuts: &Cuts, place: usize) -> Option<Self> {
        let hold = handholds.get(place)?;
        let lip = Lip::measured(hold, board).unwrap_or_else(|| Lip::computed(hold, board));
        let own = Cut::Handhold(place);
        let near = all.nearest_to(own).filter(|near| near.distance < lip.thickness);
        let Some(near) = near else {
            let edge = if Edge::ALL.iter().any(|edge| edge.name() == lip.face) { " edge" } else { "" };
            return Some(Self { thickness: lip.thickness, to: format!("{}{edge}", lip.face) });
        };
        let to = match near.cuts.into_iter().find(|cut| *cut != own)? {
            Cut::Handhold(i) => format!("{} handhold", handholds.get(i)?.edge.name()),
            Cut::Face(which) => which.name(cuts),
            _ => return None,
        };
        Some(Self { thickness: near.distance, to })
    }
}

fn nearest<'a>(pairs: impl Iterator<Item = (&'a Placed, &'a Placed)>) -> Option<Near> {
    let mut pairs: Vec<_> = pairs.map(|(a, b)| (a.at_least(b), a, b)).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    // What may still be the nearest, as the coarse meshes see it.
    let (mut seen, mut least) = (Vec::new(), f64::INFINITY);
    for (at_least, a, b) in pairs {
        if at_least >= least {
            break;
        }
        if let Some(about) = a.about(b).filter(|about| *about > Neighbours::MEETS) {
            least = least.min(about);
            seen.push((about, a, b));
        }
    }
    let near = seen.into_iter().filter(|(about, ..)| *about <= least + 2.0 * COARSE);
    let near = near.map(|(about, a, b)| a.near(b, about)).filter(|near| near.distance > Neighbours::MEETS);
    near.min_by(|a, b| a.distance.total_cmp(&b.distance))
}
