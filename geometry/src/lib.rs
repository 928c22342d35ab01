//! The model of an end-grain board: pure computation.
//!
//! ```text
//! measure ─► wood ─► stock ─► layup ─► board ─► solid ─► check
//!    └─────► cut ──────────────────────┴─► path ──┘
//! ```
//!
//! | module | what it is for | may know |
//! |---|---|---|
//! | [`measure`] | lengths as typed, fractions on a rule, rounding to the safe side | nothing else |
//! | [`picture`] | a picture as bytes | nothing else |
//! | [`photo`] | photographs of ends: four corners, the flat end | `picture`, the colours of `wood` |
//! | [`wood`] | what the wood looks like at a point of a blank, and how its rings run between two ends | `measure` |
//! | [`stock`] | blanks, panels, the saw: frames, stations, strip arithmetic | `wood` |
//! | [`layup`] | the four turns, staggers, which strip lies where | `stock` |
//! | [`cut`] | bits and the recess they leave, exactly | `measure` |
//! | [`board`] | what lies where in the board, its sizes, its faces | all above |
//! | [`movement`] | how wood moves with the seasons | `board`, `wood` |
//! | [`search`] | what each glue line costs, and the lay-ups that cost least | `board`, `layup`, `stock`, `wood` |
//! | [`solid`] | exact volumes, meshes, least distances | `board`, `cut` |
//! | [`surface`] | the wood on the surface of a solid: laid out flat, drawn, seen from a direction | `board`, `solid` |
//! | [`path`] | the router-table set-up and the moves of a CNC | `cut`, the shop in `job` |
//! | [`job`] | one board as a maker means it, and everything that follows from it | all above |
//! | [`check`] | findings: one table of rules over a job | all above |
//! | [`glue`] | joints, glue, clamps, in how many goes | `board`, `stock`, `wood` |
//! | [`finish`] | grits, oil, what is published about finishes | `measure` |
//! | [`thickness`] | what every stage takes and leaves | `job` |
//! | [`lumber`] | wood used and lost, weight, time, cost | `job`, `glue`, `finish`, `thickness` |
//! | [`mend`] | ways out of what went wrong | `job` |
//! | [`candidates`] | lay-ups worth seeing, of a job's own strips | `board`, `job`, `search` |
//! | [`numbers`] | every number that reaches paper, with its unit, rounding and reason | all above |
//!
//! # Units
//! What a maker types is a [`measure::Length`]: exact. What is computed from it is an `f64` in
//! **millimetres** (mm², mm³), everywhere in this crate, without exception; fractions exist only
//! where something is shown.
//!
//! # Frames (all right-handed)
//! ```text
//! blank (u, v, w)                    panel (x, y, z)                board (X, Y, Z)
//! seen from the far end              seen from the far end          seen from above
//!  v                                  y                              Y  back
//!  │ ┌───────┐                        │ ┌────┬────┬────┐             │ ┌─┬─┬─┬─┬─┐
//!  │ │ blank │                        │ │ A  │ B  │ C  │        left │ │1│2│3│4│5│ right
//!  │ └───────┘                        │ └────┴────┴────┘             │ └─┴─┴─┴─┴─┘
//!  └────────── u    w toward you      └───────────── x  z toward     └──────────── X  front
//!                                                        you           Z toward you
//! ```
//! The *finished* frame is the board's, moved so that the trimmed and flattened board's left,
//! front, lower corner is the origin.
//!
//! # What this crate does not do
//! No files, no formats, no terminal, no clock, no randomness that is not seeded, no printing.
//! The same input gives the same output.
#![warn(clippy::print_stdout, clippy::print_stderr)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

pub mod board;
pub mod candidates;
pub mod check;
pub mod cut;
pub mod finish;
#[cfg(test)]
mod fixtures;
pub mod glue;
pub mod job;
pub mod layup;
pub mod lumber;
pub mod measure;
pub mod mend;
pub mod movement;
pub mod numbers;
pub mod path;
pub mod photo;
pub mod picture;
pub mod search;
pub mod solid;
pub mod stock;
pub mod surface;
pub mod thickness;
pub mod wood;
