//! From a cut to what the shop does: passes, the router-table set-up, the moves of a CNC.
//!
//! Readings of [`crate::cut`]; nothing is described twice. `cutting` says what one program cuts, `course` along which
//! lines and arcs, `pocket` along which in a recess wider than its bit, `feeds` how fast and how deep at once, `program` with
//! which moves, `moving` and `rims` how they follow each other, `clamps` where the bit may not go, `holder` what holds it and must not
//! come down into wood either. `proof` reads a program back, moves the bit through
//! the stock and compares what is left with the exact cut. `together` says which cuts one program
//! holds, `whole` what is cut before the board is trimmed, `time` how long it takes, `frame` what a plunge router rides in, `register` what lies against the stock and by what it is found again. Knows cuts and the shop's
//! machines; knows nothing of wood, strips or file formats.

mod clamps;
mod course;
mod cutting;
pub mod feeds;
mod frame;
mod holder;
mod moving;
mod passes;
mod pocket;
mod program;
mod proof;
mod register;
mod rims;
mod setup;
mod time;
mod together;
mod whole;

pub use cutting::{Cutting, Up};
pub use feeds::{Feeds, Hardness};
pub use frame::Frame;
pub use passes::passes;
pub(crate) use program::CLEAR_OF_HOLDER;
pub use program::{Move, NoProgram, Program};
pub use proof::{Fault, Field, Proof, Step, TOLERANCE, Way, Wrong, left, prove, read};
pub use register::{pins, waste};
pub use setup::RouterSetup;
pub use time::seconds;
pub use together::{bits, together};
