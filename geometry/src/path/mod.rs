//! From a cut to what the shop does: passes, the router-table set-up, the moves of a CNC.
//!
//! Readings of [`crate::cut::Handhold`]; nothing is described twice. Knows cuts and the shop's
//! machines; knows nothing of wood, strips or file formats.

mod passes;
mod program;
mod setup;

pub use passes::passes;
pub use program::{Move, NoProgram, Program};
pub use setup::RouterSetup;
