//! From a cut to what the shop does: passes, the router-table set-up, the moves of a CNC.
//!
//! Readings of [`crate::cut`]; nothing is described twice. `cutting` says what one program cuts, `course` along which
//! lines and arcs, `program` with which moves. `proof` reads a program back, moves the bit through
//! the stock and compares what is left with the exact cut. Knows cuts and the shop's
//! machines; knows nothing of wood, strips or file formats.

mod course;
mod cutting;
mod passes;
mod program;
mod proof;
mod setup;

pub use cutting::{Cutting, Up};
pub use passes::passes;
pub use program::{Move, NoProgram, Program};
pub use proof::{Fault, Field, Proof, Step, TOLERANCE, Way, Wrong, prove, read};
pub use setup::RouterSetup;
