//! Blanks, the panel they are glued into, and the saw that cuts it into strips.
//!
//! Knows the wood; knows nothing of how strips are turned or what is cut into the board.
//!
//! ```text
//! panel, seen from above (y toward you)          one strip k: z_k ≤ z ≤ z_k + s
//!
//!   z   far end                                   z_k = q + k·(s + b)
//!   │  ┌────┬────┬────┐ L                         q  lost before the first strip
//!   │  │    │    │    │                           s  strip width
//!   │  │ A  │ B  │ C  │                           b  kerf
//!   │  │    │    │    │
//!   │  └────┴────┴────┘ 0
//!   └──────────────────── x                       station z: distance from the raw near end
//!      0   near end     W
//! ```

pub mod alike;
mod blank;
mod crosscut;
mod panel;
mod rip;
mod sapwood;
mod sawn;
mod short;

pub use blank::{Blank, BlankTurn, HalfTurn, LaidBlank, Seen, Size};
pub use crosscut::{CountRow, Crosscut, LastStrip, StripSide};
pub use panel::{Corners, Panel};
pub use rip::{NoRip, Rip, Ripped};
pub use sapwood::Sapwood;
pub use sawn::{AfterThird, share_short};
pub use short::{Accuracy, Spread};
