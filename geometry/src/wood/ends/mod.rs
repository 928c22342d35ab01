//! From two ends to every station: the ring number anywhere in a blank, from lines traced on its
//! ends and, where the maker has them, on its long faces or on a section part-way.
//!
//! Must not know of colours, pictures, panels or boards; is given points in the blank's (u, v, w)
//! and answers with ring numbers, and with how far off they may be.
//!
//! # How it is made
//! | file | what it does |
//! |---|---|
//! | `line` | what is given; ring widths between traced lines |
//! | `sequence` | which ring at one end is which at the other, by the sequence of widths |
//! | `calendar` | ring number ↔ distance across the rings, because years are unevenly wide |
//! | `surface` | that distance as a smooth surface over one end |
//! | `bend` | what lines part-way say, and the uncertainty |
//! | `number` | which ring a line part-way is |
//! | `pith` | where the rings have their centre, from how the lines bend |
//! | `field` | the distance across the rings, for millions of points |
//! | `boundary` | a named line that need not follow a ring |
//! | `shift` | how far a line moves between two stations |
//! | `between` | all of it put together at one point |
//!
//! # Formula
//! With t = w / length, s the distance across the rings at an end (or, where both ends have a pith,
//! what it has more than the distance from the pith), and G the calendar,
//!
//! ring(u, v, w) = G⁻¹(|p − pith(t)| + (1 − t)·s_near + t·s_far + bend)
//!
//! The figure **moves**: s is nearly straight in u and v, so its blend moves the rings and keeps
//! their widths, where a blend of ring numbers would smear them.
//!
//! # What it promises
//! - Straight tilted layers, unevenly wide, come out exactly, and so does a straight or tilted cone
//!   whose pith is given at both ends, but for the chords that stand for its traced arcs. Without the pith, a tilted cone is off by the second-order
//!   term of a linear blend, t(1 − t)·δ²/2r, δ the pith's move along the rings.
//! - At the ends the traced lines come back within what tracing is good to.
//! - Where the ring widths don't decide the match it says so and what would: it never takes the
//!   least shift.
//!
//! It doesn't promise that rings run straight between the ends: see [`Between::half_width`]. Given
//! one long face, it puts the faces beside it right and may make another worse than the ends alone
//! did. Its band is wide: on the one real cube it was held against, 99 % of points lay within. **It
//! has not yet been checked against sawn boards.**
//!
//! ```
//! use nalgebra::{Point2, Point3, Vector2};
//! use quarterturn_geometry::wood::ends::{EndLine, EndLines, Ends};
//!
//! // Level layers that rise by 4 mm from end to end; each end shows its own part of them.
//! let layers = [0.0, 2.1, 5.1, 6.3, 8.9, 11.1, 12.2, 15.3, 17.7, 20.2, 22.0, 24.9, 26.1];
//! let line = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() };
//! let end = |rise: f64| EndLines {
//!     rings: layers.iter().map(|v| v + rise).filter(|v| (0.0..24.0).contains(v)).map(line).collect(),
//!     ..EndLines::default()
//! };
//! let ends = Ends { size: Vector2::new(50.0, 24.0), length: 300.0, near: end(-3.0), far: end(1.0), ..Ends::default() };
//! let wood = ends.join().unwrap();
//! // Two more layers have come in from below.
//! assert_eq!(wood.matched().shift, 2);
//! // Halfway, the near end's first layer stands halfway.
//! assert!(wood.ring(&Point3::new(10.0, 5.1 - 1.0, 150.0)).abs() < 1e-9);
//! ```

mod bend;
mod between;
mod boundary;
mod calendar;
mod field;
mod line;
mod number;
mod pith;
mod sequence;
mod shift;
mod surface;
#[cfg(test)]
mod tests;

/// The name of the boundary where heartwood ends and sapwood begins.
pub const HEARTWOOD: &str = "heartwood";

pub use between::{Between, Ends, Promise, SeenEnds, Unjoined};
pub(in crate::wood) use field::{Across, Field};
pub(in crate::wood) use line::width_between;
pub use line::{Course, Disturbed, EndLine, EndLines};
pub use number::Numbered;
pub use pith::{centre, circles};
pub use sequence::{LEAST_MARGIN, LEAST_SHARED, Match, match_widths};
pub use shift::TracedLine;
