//! The glued board: what lies where, what meets at each glue line, its sizes before and after
//! flattening and trimming, its faces.
//!
//! Works in two frames: the board's (X, Y, Z) as glued, and the *finished* frame, which is the
//! board's moved so that the trimmed and flattened board's left, front, lower corner is the
//! origin. Knows panels and turns; knows nothing of cuts, meshes or files.

mod face;
mod faults;
mod glued;
mod marks;
mod mean;
mod meeting;
mod promised;
mod steps;
mod strip_face;
#[cfg(test)]
pub(crate) mod tests;

pub use crate::cut::Face;
pub use face::{FaceOptions, FigureDrawn};
pub use glued::{Board, BoardError, LaidStrip, Piece, Spot, Trims};
pub use marks::EdgeMark;
pub use meeting::Meeting;
pub use steps::{FigureLine, Step};
pub use strip_face::StripFace;
