//! Lay-ups worth seeing, of the strips that a job's own panels give: what stands on one sheet.
//!
//! ```text
//! Job + Outcome + Wishes ─► Bench (strips there are, costs, tiles)
//!                             │
//!        patterns, search ────┴─► pool ─► looks, ranks ─► choose ─► Sheet
//! ```
//! Knows jobs, boards and the search; no files, no clock: whoever calls says when to stop.
//!
//! | file | what it is for |
//! |---|---|
//! | `wishes` | what the maker asks for |
//! | `arranged` | the blanks of the panels laid otherwise, if that is asked for |
//! | `bench` | the strips that there are, in the order in which they were cut |
//! | `slides` | how far those are slid along their neighbours: the sets that are tried |
//! | `patterns` | turns that repeat, and turns mirrored about the middle |
//! | `tiles` | each strip's cut faces drawn once, boards put together from them |
//! | `view` | how a board looks: mirrored or not, like another or not |
//! | `kind` | of which kind a lay-up is |
//! | `words` | how it is laid, in words for the bench |
//! | `slid` | how strips are slid, in such words |
//! | `choose` | the best of each kind |
//! | `ties` | which ranks outlive what is uncertain of the wood |
//! | `pool` | what is tried: what the search finds, and patterns |
//! | `shown` | what stands on the sheet: looked at, ranked and put in words |
//! | `sheet` | all of it together |
//!
//! # What counts as different
//! Two lay-ups are of one *kind* where the half turns from strip to strip repeat alike (wherever the
//! repeat begins, from whichever end it is read) and whose strips are slid alike. Of each kind the best by each aim may stand on the
//! sheet. How far two of them look *apart* is the mean difference of colour and of the figure's
//! direction over a few cells a strip, the board turned half round, seen in a mirror, or slid by a
//! strip or two, as it is least. The best by each aim, the plan's own and the best of each way of sliding stand first;
//! then again and again the one that looks farthest from all that stand already, better and simpler ones preferred; none
//! nearer than [`EYE`].

mod arranged;
mod bench;
mod choose;
mod kind;
mod patterns;
mod pool;
mod sheet;
mod shown;
mod slid;
mod slides;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_slides;
mod ties;
mod tiles;
mod view;
mod wishes;
mod words;

pub use arranged::{Arranged, BlanksWanted, PanelArranged};
pub use bench::{Bench, NoBench};
pub use choose::EYE;
pub use kind::Kind;
pub use sheet::{Candidate, Centred, Proof, Rank, Sheet};
pub use slides::{LaidUp, Slides};
pub use ties::DRAWS;
pub use tiles::Tiles;
pub use wishes::{Aim, Measured, Sliding, Using, Wishes};
pub use words::how_laid;
