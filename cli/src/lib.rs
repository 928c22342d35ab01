//! The commands of `quarterturn`: plan text in, files out.
//!
//! ```text
//! plan.toml ─► plan ─► Job ─► (quarterturn-geometry) ─► Outcome, findings, numbers
//!                                                             │
//!              commands ─► output (files) ◄── (quarterturn-export) bytes
//! ```
//! The only crate that opens files and writes to a terminal. It computes nothing: every number it
//! prints comes from [`quarterturn_geometry::numbers`].
//!
//! Exit status, of `make`, `check` and `try` alike: 0 made; 1 exactly when a finding says that the board
//! can't be made; 2 misuse, a plan that can't be read, files that can't be written. Of `photo`: 1 when
//! the picture is none that can be read, or no end is found in it; 2 misuse, corners that can't be
//! those of an end, files that can't be read or written. Of `prove`: 1 when the program can't be read as RS-274 or
//! doesn't hold; 2 misuse, files that can't be read. Of `open`: 0 when it was ended; 2 misuse, a plan that can't be
//! read, an address that can't be served.
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

mod args;
mod commands;
mod failure;
mod open;
mod output;
pub mod photo;
pub mod plan;
mod terminal;

pub use commands::{Made, Named, Tried, make_files, sheet_of};
pub use output::write_all;

use std::ffi::OsString;

/// What a run ended with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Done.
    Made,
    /// A finding says it can't be made.
    CantBeMade,
    /// Misuse, a plan that can't be read, or files that can't be written.
    Failed,
}

impl From<Status> for std::process::ExitCode {
    fn from(status: Status) -> Self {
        match status {
            Status::Made => Self::SUCCESS,
            Status::CantBeMade => Self::from(1),
            Status::Failed => Self::from(2),
        }
    }
}

/// Runs the program with these arguments, the program's own name first.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Status {
    match args::parse(arguments) {
        Ok(command) => commands::run(&command).unwrap_or_else(|failure| {
            terminal::failure(&failure);
            Status::Failed
        }),
        Err(shown) => shown,
    }
}
