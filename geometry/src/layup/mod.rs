//! The lay-up: which strips stay, in which order, each turned how, each shifted how far.
//!
//! Knows strips by panel and number; knows nothing of saws, faces or solids.

mod turn;

pub use turn::{Slab, Turn};

use crate::measure::Length;
use thiserror::Error;

/// One place of the lay-up, from the left: which strip lies there, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Which panel the strip is from, counted from 0.
    pub panel: usize,
    /// Which strip of it, counted from 0 at the near end.
    pub strip: i64,
    /// How it is turned.
    pub turn: Turn,
    /// How far it is slid toward the back (+Y).
    pub stagger: Length,
}

/// One entry of a repeat: the next strip of a panel, turned and slid so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beat {
    /// Which panel's next strip, counted from 0.
    pub panel: usize,
    /// How it is turned.
    pub turn: Turn,
    /// How far it is slid toward the back.
    pub stagger: Length,
}

/// What a maker asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Every place by itself.
    Places(Vec<Place>),
    /// A repeat over all strips in the order in which they were cut, but for those left out.
    Repeat {
        /// The entries, one after another, again and again, until an entry's panel has no strip left.
        beats: Vec<Beat>,
        /// Strips that are left out: panel and strip, counted from 0.
        left_out: Vec<(usize, i64)>,
    },
}

/// Why a lay-up can't be laid.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum LayupError {
    /// A strip is laid or left out that isn't cut.
    #[error("strip {} of panel {} is named, but only {cut} are cut", strip + 1, panel + 1)]
    NoSuchStrip {
        /// The panel, from 0.
        panel: usize,
        /// The strip, from 0.
        strip: i64,
        /// How many there are.
        cut: i64,
    },
    /// A strip is laid twice.
    #[error("strip {} of panel {} is laid twice", strip + 1, panel + 1)]
    Twice {
        /// The panel, from 0.
        panel: usize,
        /// The strip, from 0.
        strip: i64,
    },
    /// No strip is left to lay.
    #[error("no strip is left to lay")]
    Empty,
}

impl Asked {
    /// The places, in order, given how many strips each panel yields.
    ///
    /// # Errors
    /// [`LayupError`] where a strip isn't there, is laid twice, or none is left.
    ///
    /// ```
    /// use quarterturn_geometry::layup::{Asked, Beat, Turn};
    /// use quarterturn_geometry::measure::Length;
    /// let beat = |turn| Beat { panel: 0, turn, stagger: Length::ZERO };
    /// let asked = Asked::Repeat { beats: vec![beat(Turn::AsCut), beat(Turn::RolledOver)], left_out: vec![(0, 2)] };
    /// let laid = asked.places(&[6]).unwrap();
    /// let strips: Vec<i64> = laid.iter().map(|p| p.strip).collect();
    /// assert_eq!(strips, [0, 1, 3, 4, 5]);
    /// assert_eq!(laid[2].turn, Turn::AsCut);
    /// ```
    pub fn places(&self, strips_cut: &[i64]) -> Result<Vec<Place>, LayupError> {
        let places = match self {
            Self::Places(places) => places.clone(),
            Self::Repeat { beats, left_out } => {
                left_out.iter().try_for_each(|(panel, strip)| is_cut(*panel, *strip, strips_cut))?;
                repeat(beats, left_out, strips_cut)
            }
        };
        if places.is_empty() {
            return Err(LayupError::Empty);
        }
        let mut seen = std::collections::HashSet::new();
        for place in &places {
            let (panel, strip) = (place.panel, place.strip);
            is_cut(panel, strip, strips_cut)?;
            if !seen.insert((panel, strip)) {
                return Err(LayupError::Twice { panel, strip });
            }
        }
        Ok(places)
    }
}

fn is_cut(panel: usize, strip: i64, strips_cut: &[i64]) -> Result<(), LayupError> {
    let cut = strips_cut.get(panel).copied().unwrap_or(0);
    if (0..cut).contains(&strip) { Ok(()) } else { Err(LayupError::NoSuchStrip { panel, strip, cut }) }
}

fn repeat(beats: &[Beat], left_out: &[(usize, i64)], strips_cut: &[i64]) -> Vec<Place> {
    let mut next = vec![0_i64; strips_cut.len()];
    let mut places = Vec::new();
    for beat in beats.iter().cycle() {
        let Some(strip) = next.get_mut(beat.panel) else { break };
        while left_out.contains(&(beat.panel, *strip)) {
            *strip += 1;
        }
        if *strip >= strips_cut[beat.panel] {
            break;
        }
        places.push(Place { panel: beat.panel, strip: *strip, turn: beat.turn, stagger: beat.stagger });
        *strip += 1;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(panel: usize, strip: i64) -> Place {
        Place { panel, strip, turn: Turn::AsCut, stagger: Length::ZERO }
    }

    #[test]
    fn what_cannot_be_laid_is_said() {
        let asked = |p| Asked::Places(p);
        assert_eq!(asked(vec![]).places(&[3]), Err(LayupError::Empty));
        assert_eq!(asked(vec![place(0, 1), place(0, 1)]).places(&[3]), Err(LayupError::Twice { panel: 0, strip: 1 }));
        let gone = LayupError::NoSuchStrip { panel: 0, strip: 3, cut: 3 };
        assert_eq!(asked(vec![place(0, 3)]).places(&[3]), Err(gone.clone()));
        assert_eq!(gone.to_string(), "strip 4 of panel 1 is named, but only 3 are cut");
    }

    #[test]
    fn two_panels_take_turns_until_one_runs_out() {
        let beat = |panel| Beat { panel, turn: Turn::AsCut, stagger: Length::ZERO };
        let asked = Asked::Repeat { beats: vec![beat(0), beat(1)], left_out: vec![] };
        let laid: Vec<_> = asked.places(&[3, 2]).unwrap().iter().map(|p| (p.panel, p.strip)).collect();
        assert_eq!(laid, [(0, 0), (1, 0), (0, 1), (1, 1), (0, 2)]);
    }
}
