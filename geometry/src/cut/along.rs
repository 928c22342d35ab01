//! Cuts on a face that are measured along an edge: finger recesses, spouts, a hanging hole.

use super::{Arch, Bit, Easing, Edge, EdgeFrame, Face, Finished, Groove, Path, Profile, Sweep};
use crate::measure::Length;
use nalgebra::{Point2, Point3};

/// A point so far along an edge, from the first of its ends, and so far in from it.
fn in_from(edge: Edge, along: f64, inward: f64, board: &Finished) -> Point2<f64> {
    EdgeFrame::of(edge, board).on_board(&Point3::new(along, 0.0, -inward)).xy()
}

/// From the first of an edge's ends to what lies so far from its left or front end; its middle where nothing is said.
fn from_first_end(edge: Edge, along: Option<Length>, board: &Finished) -> f64 {
    let long = edge.length(board);
    let along = along.map_or(long / 2.0, Length::mm);
    if matches!(edge.ends()[0], Edge::Left | Edge::Front) { along } else { long - along }
}

/// A recess under an edge, cut from the lower face: fingers reach under the board.
///
/// With the bit's centre nearer to the edge than half the cut's width it opens at the edge; farther in it is a pocket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FingerRecess {
    /// The edge.
    pub edge: Edge,
    /// The bit: a straight or a bowl bit leaves a flat bottom, a ball nose a cove.
    pub bit: Bit,
    /// How deep, from the lower face.
    pub depth: Length,
    /// From the edge to the bit's centre.
    pub in_from_edge: Length,
    /// From the two corners of the finished board to the ends of the recess, in the order of [`Edge::ends`].
    pub setbacks: [Length; 2],
    /// How much farther in the bit's centre lies in its middle than at its ends: then it follows an arc. `None` is
    /// straight.
    pub rise: Option<Length>,
    /// How its rim is eased, afterwards: setbacks are the bit's.
    pub rim: Option<Easing>,
}

impl FingerRecess {
    /// Half its section.
    #[must_use]
    pub fn profile(&self) -> Profile {
        Profile::of(&self.bit, self.depth.mm()).eased(self.rim)
    }

    /// How far the bit's centre travels along the edge, mm; negative where the setbacks leave no room.
    #[must_use]
    pub fn travel(&self, board: &Finished) -> f64 {
        let [a, c] = self.setbacks.map(Length::mm);
        let travel = self.edge.length(board) - a - c - 2.0 * self.profile().bit_at_surface();
        if travel.abs() < 1e-6 { 0.0 } else { travel }
    }

    /// Where an arc's centre lies: how far outside the edge, and how far along it from its left or front end, mm.
    #[must_use]
    pub fn pivot(&self, arch: &Arch, board: &Finished) -> [f64; 2] {
        let (x, y) = (arch.centre.x, arch.centre.y);
        match self.edge {
            Edge::Front => [-y, x],
            Edge::Back => [y - board.width, x],
            Edge::Left => [-x, y],
            Edge::Right => [x - board.length, y],
        }
    }

    /// The cut.
    #[must_use]
    pub fn sweep(&self, board: &Finished) -> Sweep {
        let (profile, travel) = (self.profile(), self.travel(board).max(0.0));
        let from = self.setbacks[0].mm() + profile.bit_at_surface();
        let at = |along: f64| in_from(self.edge, along, self.in_from_edge.mm(), board);
        let path = match self.rise.filter(|rise| rise.is_positive()) {
            _ if travel <= 0.0 => Path::Filled(vec![at(from)]),
            Some(rise) => Path::Arch(Arch::over([at(from), at(from + travel)], rise.mm(), -self.edge.outward().xy())),
            None => Path::Filled(vec![at(from), at(from + travel)]),
        };
        Sweep { path, profile, face: Face::Lower, through: false }
    }
}

/// A channel from a groove out through an edge, that juice runs off by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spout {
    /// The groove, by its place.
    pub groove: usize,
    /// The edge that it leaves by.
    pub edge: Edge,
    /// The bit.
    pub bit: Bit,
    /// How deep.
    pub depth: Length,
    /// Its middle, from the edge's left or front end; `None` is the middle of the edge.
    pub along: Option<Length>,
}

/// How far the bit runs on past the edge, clear of it, mm.
const CLEAR: f64 = 1.0;

impl Spout {
    /// The bit's profile.
    #[must_use]
    pub fn profile(&self) -> Profile {
        Profile::of(&self.bit, self.depth.mm())
    }

    /// Its middle along the edge, from the first of its ends, mm.
    #[must_use]
    pub fn at(&self, board: &Finished) -> f64 {
        from_first_end(self.edge, self.along, board)
    }

    /// Its middle along the edge, from its left or front end, mm.
    #[must_use]
    pub fn from_low_end(&self, board: &Finished) -> f64 {
        self.along.map_or(self.edge.length(board) / 2.0, Length::mm)
    }

    /// The cut: the bit's centre runs from the groove's middle out past the edge.
    #[must_use]
    pub fn sweep(&self, groove: &Groove, board: &Finished) -> Sweep {
        let profile = self.profile();
        let at = |inward: f64| in_from(self.edge, self.at(board), inward, board);
        let path = vec![at(groove.centre_line()), at(-profile.at_surface() - CLEAR)];
        Sweep { path: Path::Filled(path), profile, face: groove.face, through: false }
    }

    /// How far its rim stays clear of the groove's corners' arcs, mm: negative where it begins at one.
    #[must_use]
    pub fn clear_of_corners(&self, groove: &Groove, board: &Finished) -> f64 {
        let (at, long) = (self.at(board), self.edge.length(board));
        let corner = groove.centre_line() + groove.corner_radius.mm();
        at.min(long - at) - self.profile().at_surface() - corner
    }

    /// From where to where along its edge its middle may lie, so that it stays clear of those corners, mm: the first is
    /// the greater where no place is clear.
    #[must_use]
    pub fn clear(&self, groove: &Groove, board: &Finished) -> [f64; 2] {
        let from = groove.centre_line() + groove.corner_radius.mm() + self.profile().at_surface();
        [from, self.edge.length(board) - from]
    }
}

/// A hole right through, to hang the board up by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HangingHole {
    /// The bit.
    pub bit: Bit,
    /// The hole's diameter; `None` is the bit's.
    pub diameter: Option<Length>,
    /// The edge that it is near.
    pub edge: Edge,
    /// From that edge to its middle.
    pub in_from_edge: Length,
    /// Its middle, from the edge's left or front end; `None` is the middle of the edge.
    pub along: Option<Length>,
}

impl HangingHole {
    /// Its middle along the edge, from its left or front end, mm.
    #[must_use]
    pub fn at(&self, board: &Finished) -> f64 {
        self.along.map_or(self.edge.length(board) / 2.0, Length::mm)
    }

    /// The cut.
    #[must_use]
    pub fn sweep(&self, board: &Finished) -> Sweep {
        let along = from_first_end(self.edge, self.along, board);
        let middle = in_from(self.edge, along, self.in_from_edge.mm(), board);
        let profile = Profile { corner: 0.0, ..self.bit.hole(self.diameter, board.thickness) };
        Sweep { path: Path::Filled(vec![middle]), profile, face: Face::Upper, through: true }
    }
}
