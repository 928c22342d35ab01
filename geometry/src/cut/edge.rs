//! The edges of the finished board, and the frame that a cut in an edge is described in.

use nalgebra::{Matrix3, Point3, Vector3};

/// The finished board: trimmed and flattened, its left, front, lower corner at the origin, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finished {
    /// Along X.
    pub length: f64,
    /// Along Y.
    pub width: f64,
    /// Along Z.
    pub thickness: f64,
}

/// An edge of the board, as drawn with X to the right and Y up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Edge {
    /// Low X.
    Left,
    /// High X.
    Right,
    /// Low Y.
    Front,
    /// High Y.
    Back,
}

impl Edge {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Left, Self::Right, Self::Front, Self::Back];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Front => "front",
            Self::Back => "back",
        }
    }

    /// The two ends of the edge: first the one at the left hand of someone who stands with the
    /// show face toward them and this edge down.
    ///
    /// ```
    /// use quarterturn_geometry::cut::Edge;
    /// assert_eq!(Edge::Front.ends(), [Edge::Left, Edge::Right]);
    /// assert_eq!(Edge::Back.ends(), [Edge::Right, Edge::Left]);
    /// assert_eq!(Edge::Left.ends(), [Edge::Back, Edge::Front]);
    /// assert_eq!(Edge::Right.ends(), [Edge::Front, Edge::Back]);
    /// ```
    #[must_use]
    pub const fn ends(self) -> [Self; 2] {
        match self {
            Self::Front => [Self::Left, Self::Right],
            Self::Back => [Self::Right, Self::Left],
            Self::Left => [Self::Back, Self::Front],
            Self::Right => [Self::Front, Self::Back],
        }
    }

    /// The outward normal.
    #[must_use]
    pub fn outward(self) -> Vector3<f64> {
        match self {
            Self::Left => -Vector3::x(),
            Self::Right => Vector3::x(),
            Self::Front => -Vector3::y(),
            Self::Back => Vector3::y(),
        }
    }

    /// ℓ: how long the edge is.
    #[must_use]
    pub const fn length(self, board: &Finished) -> f64 {
        match self {
            Self::Left | Self::Right => board.width,
            Self::Front | Self::Back => board.length,
        }
    }

    /// How high the board stands with this edge up or down.
    #[must_use]
    pub const fn stands(self, board: &Finished) -> f64 {
        match self {
            Self::Left | Self::Right => board.length,
            Self::Front | Self::Back => board.width,
        }
    }
}

/// The frame of an edge, right-handed: a along the edge, beginning at the first of
/// [`Edge::ends`]; b up through the thickness from the lower face; c outward, 0 at the edge.
///
/// On a CNC with the board on edge these are the program's X, Y and Z; on the router table, a
/// runs from the left hand to the right. The axes are whole numbers, so that a corner has the same
/// bits from whichever edge it is computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeFrame {
    origin: Point3<f64>,
    axes: Matrix3<f64>,
}

impl EdgeFrame {
    /// The frame of an edge of this board.
    #[must_use]
    pub fn of(edge: Edge, board: &Finished) -> Self {
        let outward = edge.outward();
        let up = Vector3::z();
        let origin = match edge {
            Edge::Front => Point3::origin(),
            Edge::Back => Point3::new(board.length, board.width, 0.0),
            Edge::Left => Point3::new(0.0, board.width, 0.0),
            Edge::Right => Point3::new(board.length, 0.0, 0.0),
        };
        Self { origin, axes: Matrix3::from_columns(&[up.cross(&outward), up, outward]) }
    }

    /// A point given in the edge's frame, in the finished board's.
    #[must_use]
    pub fn on_board(&self, at: &Point3<f64>) -> Point3<f64> {
        // Adding zero turns a negative zero into a positive one.
        (self.origin + self.axes * at.coords).map(|c| c + 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOARD: Finished = Finished { length: 300.0, width: 200.0, thickness: 35.0 };

    #[test]
    fn every_frame_begins_at_its_first_end_and_runs_to_its_second() {
        for edge in Edge::ALL {
            let frame = EdgeFrame::of(edge, &BOARD);
            let [first, second] = edge.ends();
            let middle = Point3::new(BOARD.length / 2.0, BOARD.width / 2.0, 0.0);
            let start = frame.on_board(&Point3::origin());
            let end = frame.on_board(&Point3::new(edge.length(&BOARD), 0.0, 0.0));
            assert!((start - middle).dot(&first.outward()) > 0.0, "{edge:?}");
            assert!((end - middle).dot(&second.outward()) > 0.0, "{edge:?}");
            let out = frame.on_board(&Point3::new(0.0, 0.0, 1.0)) - start;
            assert!((out - edge.outward()).norm() < 1e-12);
            assert!((frame.on_board(&Point3::new(0.0, 1.0, 0.0)) - start - Vector3::z()).norm() < 1e-12);
        }
    }
}
