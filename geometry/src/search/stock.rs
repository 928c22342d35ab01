//! The strips that are searched: what they are cut from, how far each is slid, and what all of them cover.
//!
//! Knows panels and the saw; nothing of turns, of the wood, nor of how lay-ups are found.
//!
//! A slide goes with its strip, wherever that lies and however it is turned: so what a glue line costs hangs on the two
//! strips beside it alone, and a table of ordered pairs holds it all. It is always toward the back of the board, of a
//! strip laid end for end too. So a board turned half round has every slide's sign changed.

use crate::board::Trims;
use crate::measure::Length;
use crate::stock::{Crosscut, Panel};
use thiserror::Error;

/// The strips that there are, and how the board is finished.
#[derive(Clone, Copy, Debug)]
pub struct Stock<'a> {
    /// The panels on the saw.
    pub panels: &'a [(Panel, Crosscut)],
    /// The strips to be laid: panel and number, from 0.
    pub strips: &'a [(usize, i64)],
    /// How far each of them is slid toward the back (+Y); empty: none is.
    pub slides: &'a [Length],
    /// s: the strip's width.
    pub width: Length,
    /// What is taken off; of front and back the larger on both sides, so that a board turned half round counts alike.
    pub trims: Trims,
}

/// Why the strips can't be sampled.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum EdgesError {
    /// A strip is named of a panel that isn't there, or that has no blanks.
    #[error("strip {0} is of no panel")]
    NoPanel(usize),
    /// The panels differ in width: strips of unequal length lie beside one another in more than one way.
    #[error("the panels differ in width")]
    Widths,
    /// Not one slide for each strip.
    #[error("{slides} slides are given for {strips} strips")]
    Slides {
        /// How many slides.
        slides: usize,
        /// How many strips.
        strips: usize,
    },
    /// Strips are slid so far that the trims leave nothing of what all of them cover.
    #[error("the strips are slid so far that nothing is left that all of them cover")]
    NoCover,
    /// No sample lies within the trims, or more than ten thousand would.
    #[error("the spacing leaves no sample, or more than {most}", most = super::Edges::MOST_SAMPLES)]
    Samples,
    /// The flattening takes more than there is.
    #[error("nothing is left after flattening")]
    Flattened,
}

/// The stretch across the board that every strip of a stock covers, whichever of them are laid, within the trims.
///
/// ```text
///  ┌─┐       ─ max y
///  │ │ ┌─┐ ┐
///  │ │ │ │ │ across      its middle lies `off` behind that of a strip laid Y = x,
///  └─┘ │ │ ┘             and `off` in front of that of one laid Y = W − x
///      └─┘   ─ min y
/// ```
#[derive(Clone, Debug)]
pub(super) struct Cover {
    /// W: how long every strip is, mm.
    pub(super) width: f64,
    /// How wide the stretch is, mm: the larger of front and back trim is off on both sides.
    pub(super) across: f64,
    /// For each strip, how far the stretch's middle lies from its own toward the back, mm; 0 exactly where all are slid alike.
    pub(super) off: Vec<f64>,
}

impl Cover {
    /// The middle of the stretch in the panel's x, of a strip that is `off` so far: laid Y = x, then laid Y = W − x; once
    /// where that is the same.
    pub(super) fn middles(&self, off: f64) -> impl ExactSizeIterator<Item = f64> + use<> {
        let half = self.width / 2.0;
        [half + off, half - off].into_iter().take(if off == 0.0 { 1 } else { 2 })
    }
}

impl Stock<'_> {
    /// What all strips cover: from max y to min (y + W), as on the board.
    pub(super) fn cover(&self) -> Result<Cover, EdgesError> {
        let width = self.equally_wide()?;
        let trims = &self.trims;
        let left = self.width.mm() - trims.upper - trims.lower;
        if !(left > 0.0 && trims.upper >= 0.0 && trims.lower >= 0.0) {
            return Err(EdgesError::Flattened);
        }
        let trimmed = width.mm() - 2.0 * trims.front.max(trims.back);
        let (strips, slides) = (self.strips.len(), self.slides.len());
        let (Some(least), Some(most)) = (self.slides.iter().min(), self.slides.iter().max()) else {
            return Ok(Cover { width: width.mm(), across: trimmed, off: vec![0.0; strips] });
        };
        if slides != strips {
            return Err(EdgesError::Slides { slides, strips });
        }
        let across = trimmed - (*most - *least).mm();
        if trimmed > 0.0 && across <= 0.0 {
            return Err(EdgesError::NoCover);
        }
        // Exact, so that a slide with the other sign gives the same with the other sign.
        let off = self.slides.iter().map(|slide| (*most + *least - *slide - *slide).mm() / 2.0).collect();
        Ok(Cover { width: width.mm(), across, off })
    }

    fn equally_wide(&self) -> Result<Length, EdgesError> {
        let mut width = None;
        for (i, (panel, _)) in self.strips.iter().enumerate() {
            let (panel, _) = self.panels.get(*panel).ok_or(EdgesError::NoPanel(i))?;
            if panel.blanks.is_empty() {
                return Err(EdgesError::NoPanel(i));
            }
            if *width.get_or_insert(panel.width()) != panel.width() {
                return Err(EdgesError::Widths);
            }
        }
        width.ok_or(EdgesError::Samples)
    }
}
