//! What a whole lay-up looks like, in numbers: symmetry, evenness, contrast, lines that close, what faults of the
//! panel do to it, and which lay-ups look alike.
//!
//! Knows boards, lay-ups, panels and the wood; knows nothing of how lay-ups are found, of files or of words on paper.
//! Pure and repeatable.
//!
//! | file | what it is for |
//! |---|---|
//! | `faces` | each strip's cut faces, sampled once |
//! | `map` | the light map of a lay-up: its faces put together from those |
//! | `view` | the same as the eye takes it in from afar, and how different two look |
//! | `looks` | the measures |
//! | `faults` | what a taper, a leaning blade, a centre line that is off do; blanks that plane against each other |
//! | `regions` | where light and dark lie, outlined to a part of a cell |
//! | `figures` | what those outlines form: diamonds, chevrons, bow ties, stripes |
//! | `kinds` | lay-ups that look alike put together |
//!
//! # How to use it
//! ```text
//! CutFaces::sample(&stock, faces, pixel)        once for a stock of strips
//!    │ .lay(&laid)  ─► LightMap                 some ten microseconds each
//!    │      .figures(0) ─► Figures              what it closes, best in cells of 1 mm
//!    │      .view() ─► View ─► View::difference, kinds(&views, tolerance)
//!    └ .looks(&laid) ─► Looks ─► Aspect::ALL … aspect.of(&looks), .unit(), .name()
//! ```
//!
//! # What it promises
//! - A board turned half round about the upright, every slide's sign changed with it, has the same numbers to the last
//!   digit: cells lie symmetrically about the middle of what all strips cover, left and right (front and back) lose the
//!   larger of their two trims, and sums are sums of whole numbers.
//! - The same holds for a board turned over about its length where both faces count and lose the same.
//! - What is looked at is what all strips of the stock cover as they are slid, whichever of them are laid: a board that
//!   leaves some out may be wider.

mod faces;
mod faults;
mod figures;
mod kinds;
mod looks;
mod map;
mod regions;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_figures;
mod view;

pub use faces::CutFaces;
pub use faults::{Faults, Known, Planing};
pub use figures::{Figure, Figures, Shape};
pub use kinds::{KIND, Kind, SAME, kinds};
pub use looks::{Aspect, Looks};
pub use map::{Cell, LightMap, Raster};
pub use regions::{Region, Slice};
pub use view::View;
