//! The search for a lay-up: what each glue line costs, and the lay-ups that cost least.
//!
//! Knows boards, lay-ups, panels and the wood. No files, no clock, nothing left to chance: the
//! same input gives the same answer, by however many workers.
//!
//! | file | what it is for |
//! |---|---|
//! | `wanted` | what is asked of a lay-up |
//! | `tried` | the one way in for all who search, and what came of it |
//! | `stock` | the strips that there are, how far each is slid, and what all of them cover |
//! | `edges` | the wood along both edges of every strip, on the faces that count |
//! | `lines` | one edge's samples, kept so that two are compared quickly |
//! | `measures` | how well two edges meet, each measure a whole number of millionths |
//! | `costs` | the table of all ordered pairs of strips, each turned four ways |
//! | `fixed` | the order is given: proven best turns, how many are as good, the best few |
//! | `mirrored` | the order is given, mirror pairs count too: proven, from both ends inward |
//! | `picked` | the order is given, strips may be left out: proven |
//! | `interleaved` | each panel's strips keep their order, which panel is next is searched: proven |
//! | `free` | the order is free and strips may be left out: proven up to 16 strips |
//! | `subsets` | the dynamic programme behind it |
//! | `beam` | good lay-ups found without proof, laid strip by strip |
//! | `beyond` | good lay-ups found without proof: laid, then changed |
//! | `changes` | the changes that are tried |
//! | `bound` | what no lay-up can fall below |
//! | `walks` | the same, and what no way to go on with a lay-up can fall below |
//! | `ranked` | the cheapest few ways through a dynamic programme |
//! | `watch` | asks the caller whether to go on |
//! | `distinct` | lay-ups that look the same when the board is turned |
//! | `draws` | the wood as it may also be, and which ranks outlive that |
//! | `together` | the order and turn of the blanks in each panel, together with the turns and the order of the strips |
//! | `boards` | which boards a stock of blanks gives |
//! | [`whole`] | what a whole lay-up looks like, in numbers |

mod beam;
mod beyond;
mod boards;
mod bound;
mod changes;
mod costs;
mod distinct;
mod draws;
mod edges;
mod fixed;
mod free;
mod interleaved;
mod lines;
mod measures;
mod mirrored;
mod picked;
mod ranked;
mod stock;
mod subsets;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_slides;
#[cfg(test)]
mod tests_walks;
#[cfg(test)]
mod tests_wanted;
mod together;
mod tried;
mod walks;
mod wanted;
mod watch;
pub mod whole;

pub use boards::{
    BoardMade, BoardsError, BoardsWanted, Divided, InStock, MOST_STOCK, MOST_STOCK_PROVEN, Proposal, divided,
};
pub use costs::{Costs, CostsError, Found, Joint, Laid};
pub use distinct::{Alike, distinct};
pub use draws::{Draw, FOUR_FIFTHS, tied};
pub(crate) use edges::in_parts;
pub use edges::{Edges, FacesCounted};
pub use fixed::{FixedBest, fixed, repeating};
pub use free::{FreeBest, MOST_PROVEN, free};
pub use measures::{Measure, Weights};
pub use mirrored::mirrored;
pub use stock::{EdgesError, Stock};
pub use together::{
    BlankLaid, Freely, MOST_BLANKS_PROVEN, Together, TogetherError, TogetherTried, TogetherWanted, together,
    together_freely,
};
pub use tried::{Progress, Tried, guessed, lay_ups};
pub use wanted::{Count, Order, StripWanted, Used, Wanted, WantedError};

/// Which turns a strip may lie in, one for each strip.
pub type Allowed = [[bool; 4]];
