//! Writers of open formats: values in, bytes out to any writer.
//!
//! ```text
//! Job + Outcome + Numbers + findings ─► png  stl  threemf  glb  face  seen  marked  drawing  rs274  cut_list  report
//! ```
//!
//! | module | what it writes |
//! |---|---|
//! | [`png`] | a picture, with its physical size |
//! | [`stl`] | a mesh, binary |
//! | [`threemf`] | one coloured solid for each piece, in a zip |
//! | [`glb`] | the board with its wood on it, binary glTF |
//! | [`face`] | a face as SVG at its physical size |
//! | [`seen`] | the solid from a corner above, whole and pulled apart, as SVG and picture |
//! | [`marked`] | a face with strip numbers, letters, turns and edge marks |
//! | [`outline`] | a photograph with the outline of an end and its numbered corners |
//! | [`drawing`] | the finished board at 1:1, as SVG |
//! | [`rs274`] | a program for a CNC |
//! | [`proved`] | what a program leaves: its depths, and how far they lie from the plan's cut |
//! | [`cut_list`] | what the maker takes to the saw and the router table, as text and CSV |
//! | [`paper`] | the sheets for the shop, as PDF and as an HTML page that prints the same |
//! | [`lay_ups`] | the sheet of lay-ups to choose from, as SVG, PNG, PDF and JSON |
//! | [`report`] | every number and every finding, as JSON |
//! | [`zipped`] | files together as one zip |
//!
//! Nothing here opens a file, prints, or computes what the model doesn't hold. A printed figure is
//! asked of [`quarterturn_geometry::numbers::Numbers`] by its key, so that it stands in the report
//! as shown. The same input gives the same bytes, on every machine.
#![warn(clippy::print_stdout, clippy::print_stderr)]
#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

mod clamps;
pub mod cut_list;
pub mod drawing;
mod edge_view;
mod error;
pub mod face;
pub mod glb;
mod ink;
pub mod lay_ups;
mod lettering;
pub mod marked;
pub mod outline;
pub mod paper;
pub mod png;
pub mod proved;
pub mod report;
pub mod rs274;
pub mod seen;
pub mod stl;
pub mod threemf;
mod wording;
mod words;
pub mod zipped;

pub use error::ExportError;
