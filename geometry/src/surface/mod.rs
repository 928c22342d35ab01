//! The surface of a solid board with its own wood on it.
//!
//! ```text
//! mesh ─► charts (connected, looking one way) ─► packed on pages ─► each texel's point ─► wood
//! ```
//! | file | what it does |
//! |---|---|
//! | `charts` | parts the surface into pieces that lie flat along one axis |
//! | `pack` | finds each a place on a page |
//! | `outline` | which pixels a triangle covers |
//! | `atlas` | where each corner of a triangle lies on its page, and the pages drawn |
//! | `smooth` | the normals to shade with |
//! | `refined` | a mesh split until its edges are short, for colours at vertices |
//! | `view` | the surface as seen from a direction, hidden parts hidden |
//!
//! Works on any closed mesh of the finished frame, whatever cuts made it: a texel's colour is asked
//! of the wood at the very point of the surface that it shows, so that seams don't show and the
//! inside of a recess is the wood that was there. Must not know of cuts, nor of files.

mod atlas;
mod charts;
mod outline;
mod pack;
mod refined;
mod smooth;
#[cfg(test)]
mod tests;
mod view;

pub use atlas::Atlas;
pub use refined::refined;
pub use smooth::smooth_normals;
pub use view::{Seen, Thing, View};
