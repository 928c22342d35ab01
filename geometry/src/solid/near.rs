//! How near the cuts of a board come to one another. Knows cuts and where they lie, not whether that near is too near.

use super::body::{gap, room, tool};
use super::lip::{Surface, placed_if_one};
use super::tool::Tool;
use crate::cut::{Cut, Cuts, Finished, Handhold};
use nalgebra::Point3;
use std::cell::OnceCell;

/// The chord tolerance at which it is seen which cuts are near, mm.
const FINE: f64 = 0.02;

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

    /// The distance, too large by twice [`FINE`] at most.
    fn about(&self, other: &Self) -> Option<f64> {
        let [a, b] =
            [self, other].map(|placed| placed.seen.get_or_init(|| Surface::of(&placed.tool.solid(FINE))).as_ref());
        a?.distance(b?)
    }

    fn near(&self, other: &Self, about: f64) -> Near {
        if about <= 0.0 {
            return Near { distance: 0.0, cuts: [self.cut, other.cut] };
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
            .filter(|(.., about)| *about < limit + 2.0 * FINE)
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

fn nearest<'a>(pairs: impl Iterator<Item = (&'a Placed, &'a Placed)>) -> Option<Near> {
    let mut pairs: Vec<_> = pairs.map(|(a, b)| (a.at_least(b), a, b)).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut least: Option<(f64, &Placed, &Placed)> = None;
    for (at_least, a, b) in pairs {
        if least.is_some_and(|(about, ..)| about <= at_least) {
            break;
        }
        let Some(about) = a.about(b) else { continue };
        if about > Neighbours::MEETS && least.is_none_or(|(known, ..)| about < known) {
            least = Some((about, a, b));
        }
    }
    least.map(|(about, a, b)| a.near(b, about))
}
