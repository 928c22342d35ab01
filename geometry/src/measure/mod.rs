//! Lengths as a maker writes them, and fractions that a rule shows.
//!
//! Knows nothing of wood or boards. [`Length`] is exact; [`Rule`] is the maker's rule (unit and
//! finest mark) and the only place where a number becomes a fraction.

mod length;
mod parse;
mod rule;

pub use length::Length;
pub use parse::{LengthError, Unit};
pub use rule::{Rest, Rounding, Rule, RuleError};
