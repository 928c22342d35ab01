//! The slanted lines drawn on the panel's two edges, and how they must look on the board.
//!
//! A maker draws one slanted line on the panel's first edge (x = 0) and two side by side on its
//! last (x = W), from the lower face at the near end to the upper face at the far end. Strip by
//! strip these end up on the board's front and back; what they look like there tells order and
//! turns when the letters are gone.

use super::Board;
use crate::cut::Edge;
use nalgebra::Point3;

/// One strip's piece of a mark, seen on the board's front or back, in the finished frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeMark {
    /// The strip's place, from 0 at the left.
    pub place: usize,
    /// Whether it is the double line (the panel's last edge).
    pub double: bool,
    /// From (X, Z); may lie outside the finished board where a trim or the flattening takes it.
    pub from: [f64; 2],
    /// To (X, Z).
    pub to: [f64; 2],
}

impl Board {
    /// The marks on the board's front or back, from the left; none for its ends.
    #[must_use]
    pub fn edge_marks(&self, edge: Edge) -> Vec<EdgeMark> {
        if !matches!(edge, Edge::Front | Edge::Back) {
            return Vec::new();
        }
        (0..self.strips().len()).map(|place| self.edge_mark(place, edge == Edge::Front)).collect()
    }

    fn edge_mark(&self, place: usize, front: bool) -> EdgeMark {
        let strip = &self.strips()[place];
        let (slab, turn) = (&strip.slab, strip.place.turn);
        let double = turn.first_blank_in_front() != front;
        let x = if double { slab.width } else { 0.0 };
        let long = self.panels()[strip.place.panel].length().mm();
        let motion = turn.placement(slab);
        let on_board = |z: f64| {
            let at = motion * Point3::new(x, slab.thickness * z / long, z);
            [at.x + strip.x - self.trims().left, at.z - self.trims().lower]
        };
        EdgeMark { place, double, from: on_board(slab.station), to: on_board(slab.station + slab.strip) }
    }
}
