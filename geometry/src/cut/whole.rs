//! What is cut of the whole board before it is trimmed: its faces levelled, its outline cut out.

use super::{Bit, Face, Finished};
use crate::measure::Length;
use nalgebra::Point2;

/// The board as glued, and where the finished one lies in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Untrimmed {
    /// As glued: length over all, width of full cover, strip width.
    pub glued: Finished,
    /// The finished board's left front corner in it, mm from its own.
    pub corner: Point2<f64>,
    /// The finished board.
    pub finished: Finished,
    /// What a bit takes off the upper and the lower face, mm: what is flattened less what is left for sanding.
    pub levelled: [f64; 2],
}

impl Untrimmed {
    /// How thick it is once both faces are level, mm.
    #[must_use]
    pub fn level(&self) -> f64 {
        self.glued.thickness - self.levelled[0] - self.levelled[1]
    }
}

/// Faces to be levelled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Surfacing {
    /// The bit.
    pub bit: Bit,
    /// Which, in the order in which they are levelled.
    pub faces: Vec<Face>,
    /// Whether the panels' faces too, before strips are cut from them.
    pub panels: bool,
}

/// The board cut out of what is trimmed off, held by tabs until it is broken out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutOut {
    /// The bit, a straight one.
    pub bit: Bit,
    /// How many tabs: half of them in the front, half in the back.
    pub tabs: u8,
    /// How long each tab is at its narrowest.
    pub tab_length: Length,
    /// How thick it is, from the lower face up.
    pub tab_height: Length,
    /// How far the bit goes below the lower face, into the spoil board.
    pub below: Length,
}
