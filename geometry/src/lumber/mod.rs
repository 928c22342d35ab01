//! Wood used and wood lost: what was bought, where it went, what is left to keep; what the board
//! weighs, how long it takes and what it costs.
//!
//! Every cubic millimetre that goes in is found again: in the board, or in one kind of waste.
//! Knows jobs and what follows from them.

mod money;
mod time;
mod waste;
mod weight;

pub use money::{Cost, Rates};
pub use time::{Pace, Spent, Work};
pub use waste::{LeftOver, Lumber, MILLING, OffCut, Waste, off_cuts};
pub use weight::{density, mass};

/// One board foot, mm³: 1 ft × 1 ft × 1 in = 144 in³ = 2 359.737 216 cm³, by definition.
///
/// ```
/// use quarterturn_geometry::lumber::{BOARD_FOOT, board_feet};
/// assert!((BOARD_FOOT - 2_359_737.216).abs() < 1e-9);
/// // A rough plank 8 ft × 6 in × 4/4: 4 board feet.
/// let inch = 25.4;
/// assert!((board_feet(96.0 * inch * 6.0 * inch * 1.0 * inch) - 4.0).abs() < 1e-12);
/// ```
pub const BOARD_FOOT: f64 = 304.8 * 304.8 * 25.4;

/// Board feet of a volume in mm³: its true size, not the nominal size that a yard rounds to.
#[must_use]
pub fn board_feet(volume: f64) -> f64 {
    volume / BOARD_FOOT
}
