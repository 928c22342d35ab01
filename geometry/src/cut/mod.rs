//! Bits and what they leave: exact shapes, described once.
//!
//! A cut is described here and nowhere else; the solid, the program, the router-table set-up, the
//! drawing and the findings are readings of it. Knows nothing of wood or strips, only the finished
//! board's size.
//!
//! | module | what it describes |
//! |---|---|
//! | `bit`, `profile` | a bit, and half the section that it leaves |
//! | `edge`, `face`, `rounded`, `arch` | edges, faces, rectangles with rounded corners, arcs |
//! | `recess`, `handhold` | a recess in an edge |
//! | `sweep` | whatever an upright bit leaves on a face: path, profile, closed forms |
//! | `eased` | corners in plan, round-overs and chamfers |
//! | `groove`, `feet`, `along` | the cuts on a face, as the maker sets them |
//! | `cuts` | all of them |
//! | `whole` | faces levelled and the outline cut out, before the board is trimmed |
//! | `region`, `quadrature` | exact slices, and integrals over them where cuts cross |

mod along;
mod arch;
mod bit;
mod cuts;
mod eased;
mod edge;
mod face;
mod feet;
mod groove;
mod handhold;
mod profile;
pub(crate) mod quadrature;
mod recess;
pub(crate) mod region;
mod rounded;
mod sweep;
pub(crate) mod union;
mod whole;

pub use along::{FingerRecess, HangingHole, Spout};
pub use arch::Arch;
pub use bit::{Bit, LEAST_ROUND};
pub use cuts::{Cut, Cuts, Which, ordinal};
pub use eased::{Easing, Outline};
pub use edge::{Edge, EdgeFrame, Finished};
pub use face::Face;
pub use feet::Feet;
pub use groove::Groove;
pub use handhold::{Handhold, Reach};
pub use profile::Profile;
pub use recess::Recess;
pub use rounded::Rounded;
pub use sweep::{Path, Sweep};
pub use whole::{CutOut, Surfacing, Untrimmed};
