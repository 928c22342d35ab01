//! Four blind holes in the lower face, for feet.

use super::{Bit, Face, Finished, Path, Sweep};
use crate::measure::Length;
use nalgebra::Point2;

/// One hole near each corner of the lower face, all alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feet {
    /// The bit.
    pub bit: Bit,
    /// The holes' diameter; `None` is the bit's.
    pub diameter: Option<Length>,
    /// How deep.
    pub depth: Length,
    /// From the left and right edges, and from the front and back ones, to the middle of each hole.
    pub from_edges: [Length; 2],
}

impl Feet {
    /// The four middles: left front, right front, right back, left back.
    #[must_use]
    pub fn middles(&self, board: &Finished) -> [Point2<f64>; 4] {
        let [x, y] = self.from_edges.map(Length::mm);
        let (far_x, far_y) = (board.length - x, board.width - y);
        [Point2::new(x, y), Point2::new(far_x, y), Point2::new(far_x, far_y), Point2::new(x, far_y)]
    }

    /// The four cuts.
    #[must_use]
    pub fn sweeps(&self, board: &Finished) -> [Sweep; 4] {
        let profile = self.bit.hole(self.diameter, self.depth.mm());
        self.middles(board).map(|p| Sweep { path: Path::Filled(vec![p]), profile, face: Face::Lower, through: false })
    }
}
