//! Blanks and strips searched for together: in what order and how turned the blanks lie in each panel, and how the
//! strips cut from it are turned.
//!
//! Knows panels, the wood, and the measures of a glue line; nothing of jobs, files or words.
//!
//! | file | what it is for |
//! |---|---|
//! | `cells` | the wood of every blank, turned every way, along both edges of every strip |
//! | `meet` | what it costs where stretches of two blanks meet, at every glue line and in all turns of both strips |
//! | `branch` | blanks laid from both edges inward: proven, or stopped with a bound |
//! | `freely` | the strips in any order: the best found, with a bound |
//!
//! # What is counted
//! A blank of width U as it lies is divided along the glue line into U/h cells of equal size, about h wide, and so many
//! whole numbers of them make up the panel whatever the order. A glue line between two strips costs the mean over the
//! board's width of the weighted differences in the cells that meet ([`super::Measure`]), in millionths of the range:
//! here the sum over cells, so that it stays a whole number. Cells and samples of [`super::Edges`] lie a fraction of h
//! apart where truing or trims are no whole number of cells.
//!
//! Every strip lies flush: what [`Stock::slides`] says isn't looked at.
//!
//! # Why it is proven
//! With panel cells 0 … M − 1, strips that lie the same way round join cell i to cell i, others cell i to cell
//! M − 1 − i. Blanks are laid from both edges inward, so that the joints of all i below what lies at both edges are
//! known. What is known costs no less once the rest is laid; the least over all turns of the strips of what is known
//! (a dynamic programme) is a bound.

mod branch;
mod cells;
mod freely;
mod meet;
#[cfg(test)]
mod tests;

use super::costs::Laid;
use super::edges::FacesCounted;
use super::measures::Weights;
use super::stock::{EdgesError, Stock};
use crate::layup::Turn;
use crate::stock::BlankTurn;
use cells::Cells;
pub use freely::{Freely, together_freely};
use thiserror::Error;

/// Up to so many blanks in all panels the best is proven, unless it is stopped.
pub const MOST_BLANKS_PROVEN: usize = 6;

/// One blank in a panel: which of the panel's own as planned, from 0, and how it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BlankLaid {
    /// Its place in the panel as planned, from 0.
    pub blank: usize,
    /// Its turn's place in [`turns`].
    turn: u8,
}

impl BlankLaid {
    /// How it lies.
    #[must_use]
    pub fn turn(self) -> BlankTurn {
        cells::turn(self.turn)
    }
}

/// What is asked of blanks and strips together.
#[derive(Clone, Debug)]
pub struct TogetherWanted {
    /// What a glue line costs.
    pub weights: Weights,
    /// Which faces of the board count.
    pub faces: FacesCounted,
    /// About how wide a cell is, mm.
    pub cell: f64,
    /// Blanks that keep their place in the panel, by panel and place as planned.
    pub stay: Vec<(usize, usize)>,
    /// By panel and place as planned, the first blank of the same letter: copies of one letter lie in the order in which
    /// they are mentioned, since a plan can't say another. Empty: every blank has a letter of its own.
    pub copies: Vec<Vec<usize>>,
    /// So many arrangements are given back.
    pub few: usize,
}

/// Blanks and strips that were found together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// For each panel its blanks, from x = 0.
    pub panels: Vec<Vec<BlankLaid>>,
    /// The strips' turns, in the order in which they were given.
    pub turns: Vec<Turn>,
    /// Sum over glue lines and cells, in millionths.
    pub cost: u64,
}

impl Together {
    /// The lay-up of the strips in the order in which they were given.
    #[must_use]
    pub fn laid(&self) -> Vec<Laid> {
        self.turns.iter().enumerate().map(|(strip, turn)| Laid::new(strip, *turn)).collect()
    }
}

/// What came of a search for blanks and strips together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TogetherTried {
    /// The best few arrangements of the blanks, each with the best turns of the strips, cheapest first.
    pub found: Vec<Together>,
    /// What the blanks as planned come to, with the best turns of the strips.
    pub planned: u64,
    /// No arrangement costs less.
    pub bound: u64,
    /// How many arrangements of some of the blanks were looked at.
    pub looked_at: u64,
}

impl TogetherTried {
    /// Whether the first is proven to be the best.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        self.found.first().is_some_and(|best| self.bound >= best.cost)
    }

    /// How far the first may be from the best there is, as a share of it.
    #[must_use]
    pub fn gap(&self) -> f64 {
        self.found.first().map_or(0.0, |best| best.cost.saturating_sub(self.bound) as f64 / best.cost.max(1) as f64)
    }
}

/// Why blanks and strips can't be searched together.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum TogetherError {
    /// The strips can't be sampled.
    #[error(transparent)]
    Edges(#[from] EdgesError),
    /// Fewer than two strips: there is no glue line.
    #[error("there is no glue line between strips")]
    NoGlueLine,
    /// More than can be looked at.
    #[error("there is too much to look at: {0} cells of wood, and {most} is the most", most = cells::MOST)]
    TooMuch(usize),
    /// The blanks of two panels fall on different cells.
    #[error("the panels' blanks don't make up the same width in whole cells")]
    Cells,
}

/// The best arrangements of the blanks of every panel with the best turns of the strips, which lie in the order of
/// `stock.strips`.
///
/// Proven for up to [`MOST_BLANKS_PROVEN`] blanks; beyond that it searches on until it is stopped, and gives the best
/// found with a bound. `keep_going` is told the cheapest so far and how many arrangements, whole or in
/// part, were looked at; once it says no, what was found is given
/// back.
///
/// # Errors
/// [`TogetherError`] where strips and panels don't fit together, or there is too much of it.
pub fn together(
    stock: &Stock<'_>,
    wanted: &TogetherWanted,
    keep_going: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<TogetherTried, TogetherError> {
    Ok(branch::search(&sampled(stock, wanted)?, wanted, keep_going))
}

/// The wood of strips that have a glue line.
fn sampled(stock: &Stock<'_>, wanted: &TogetherWanted) -> Result<Cells, TogetherError> {
    if stock.strips.len() < 2 {
        return Err(TogetherError::NoGlueLine);
    }
    Cells::sample(stock, wanted)
}
