//! How wood moves with the seasons: the moisture that air gives it, the change of every piece, and
//! where two neighbours want different things.
//!
//! ```text
//! Air (temperature, humidity) ─► Moisture ─► Change of a length ─► Moving: pieces, glue lines, board
//! ```
//! Both directions of an end-grain board's face run across the grain, so that each piece moves by
//! its radial and its tangential coefficient as its rings happen to lie; through the thickness,
//! along the grain, it hardly moves.
//!
//! # Limits of the theory
//! First order: a straight line in moisture, no shear across rings that lie aslant, no stress given
//! back by the neighbours, no time that moisture takes to go in (weeks through oil and thickness).
//! Coefficients are means over a species; one piece may be a fifth off. What is shown is what the
//! pieces *would* do were they free: an upper bound on what the joints see.
//!
//! Knows boards and woods; knows nothing of plans or paper.

mod air;
mod change;
mod moving;
#[cfg(test)]
mod tests;

pub use air::{Air, Celsius, Humidity, Moisture, Season, Seasons};
pub use change::{Coefficient, across, change};
pub use moving::{Along, Mismatch, MovedPiece, Moving, Unknown};

/// The moisture content that wood in a heated shop is taken to have where it wasn't measured
/// (common practice, no source).
pub const USUAL: Moisture = Moisture(8.0);

/// What the figures of movement are and are not, for paper.
pub const LIMITS: &str = "First order: what each piece would do were it free. No shear across rings that lie aslant, \
    no stress from the neighbours, and the weeks that moisture takes to go in are left out. Coefficients are means over \
    a species: one piece may be a fifth off.";
