//! Bits and what they leave: exact shapes, described once.
//!
//! A handhold is described here and nowhere else; the solid, the program, the router-table
//! set-up, the drawing and the findings are readings of it. Knows nothing of wood or strips, only
//! the finished board's size.

mod bit;
mod edge;
mod handhold;
mod recess;

pub use bit::Bit;
pub use edge::{Edge, EdgeFrame, Finished};
pub use handhold::{Handhold, Reach};
pub use recess::Recess;
