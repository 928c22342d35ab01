//! Edits: what a maker does on the page, written into the plan's text, comments kept.
//!
//! ```text
//! Edit ─► layup, panel, stock, key ─► the plan's text changed ─► read again (desk) ─► what it means now
//! ```
//! One file a subject. Whether the new text is a plan is judged by reading it, and by nothing here.

mod key;
mod layup;
mod panel;
mod stock;
#[cfg(test)]
mod tests;

use super::reading::Reading;
use super::told::Told;
use quarterturn_geometry::layup::{self as geometry, Place};
use quarterturn_geometry::stock::HalfTurn;
use serde::{Deserialize, Serialize};
use toml_edit::DocumentMut;

/// One edit. Places, panels and entries are counted from 0.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(tag = "edit", rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Edit {
    /// Strips are turned so.
    Turn { places: Vec<usize>, to: Turn },
    /// Strips are turned by a half turn from how they lie.
    TurnBy { places: Vec<usize>, by: Turn },
    /// Strips change places: taken out and put in again, the first of them at `to`.
    Move { places: Vec<usize>, to: usize },
    /// Strips are left out.
    LeaveOut { places: Vec<usize> },
    /// A strip that was left out is put in again.
    PutBack { panel: usize, strip: usize, at: usize },
    /// Strips are slid so far toward the back.
    Stagger { places: Vec<usize>, by: String },
    /// A key is set, as a maker would write it; or left to its default.
    Set { key: Vec<Step>, to: Option<String> },
    /// A blank is laid in a panel.
    LayBlank { panel: usize, at: usize, letter: String },
    /// A blank is taken out of a panel.
    TakeBlank { panel: usize, at: usize },
    /// A blank changes its place in a panel.
    MoveBlank { panel: usize, from: usize, to: usize },
    /// A blank is turned so.
    TurnBlank { panel: usize, at: usize, turn: BlankTurn },
    /// A blank is turned by a half turn from how it lies.
    TurnBlankBy { panel: usize, at: usize, by: BlankTurn },
    /// There is one more kind of blank.
    AddBlank { letter: String, wood: String, width: String, thickness: String, length: String, count: String },
    /// There is one kind of blank less, in stock and in all panels.
    RemoveBlank { entry: usize },
    /// The whole text is replaced.
    Replace { text: String },
    /// Another board is begun from a sample of this name.
    Begin { with: String },
    /// The plan as it now stands on disk is taken.
    TakeFromDisk,
    /// The last change is undone.
    Undo,
    /// It is done again.
    Redo,
}

/// A step of a key's path: a name, or an entry of a list, from 0.
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq, Eq)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(untagged)]
pub(super) enum Step {
    /// A name.
    Name(String),
    /// An entry.
    Entry(usize),
}

/// How a strip lies.
#[derive(Clone, Copy, Debug, Deserialize, Serialize, PartialEq, Eq)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) enum Turn {
    #[serde(rename = "as cut")]
    AsCut,
    #[serde(rename = "rolled over")]
    RolledOver,
    #[serde(rename = "end for end")]
    EndForEnd,
    #[serde(rename = "end over end")]
    EndOverEnd,
}

impl From<Turn> for geometry::Turn {
    fn from(turn: Turn) -> Self {
        match turn {
            Turn::AsCut => Self::AsCut,
            Turn::RolledOver => Self::RolledOver,
            Turn::EndForEnd => Self::EndForEnd,
            Turn::EndOverEnd => Self::EndOverEnd,
        }
    }
}

impl From<geometry::Turn> for Turn {
    fn from(turn: geometry::Turn) -> Self {
        match turn {
            geometry::Turn::AsCut => Self::AsCut,
            geometry::Turn::RolledOver => Self::RolledOver,
            geometry::Turn::EndForEnd => Self::EndForEnd,
            geometry::Turn::EndOverEnd => Self::EndOverEnd,
        }
    }
}

/// How a blank lies.
#[derive(Clone, Copy, Debug, Deserialize, Serialize, PartialEq, Eq)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) enum BlankTurn {
    #[serde(rename = "as laid")]
    AsLaid,
    #[serde(rename = "rolled over")]
    RolledOver,
    #[serde(rename = "end for end")]
    EndForEnd,
    #[serde(rename = "end over end")]
    EndOverEnd,
}

impl From<BlankTurn> for HalfTurn {
    fn from(turn: BlankTurn) -> Self {
        match turn {
            BlankTurn::AsLaid => Self::Rest,
            BlankTurn::RolledOver => Self::RolledOver,
            BlankTurn::EndForEnd => Self::EndForEnd,
            BlankTurn::EndOverEnd => Self::EndOverEnd,
        }
    }
}

impl From<HalfTurn> for BlankTurn {
    fn from(turn: HalfTurn) -> Self {
        match turn {
            HalfTurn::Rest => Self::AsLaid,
            HalfTurn::RolledOver => Self::RolledOver,
            HalfTurn::EndForEnd => Self::EndForEnd,
            HalfTurn::EndOverEnd => Self::EndOverEnd,
        }
    }
}

/// A text that an edit made.
#[derive(Debug)]
pub(super) struct Edited {
    /// The text.
    pub(super) text: String,
    /// How the strips must lie by it, where the edit is about that.
    pub(super) laid: Option<Vec<Place>>,
}

/// An end of a blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BlankEnd {
    /// At the near end.
    Near,
    /// At the far end.
    Far,
}

impl BlankEnd {
    /// Its name in the plan.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Near => "near",
            Self::Far => "far",
        }
    }

    /// The end of this name.
    pub(super) fn named(name: &str) -> Option<Self> {
        [Self::Near, Self::Far].into_iter().find(|end| end.name() == name)
    }
}

/// The letter of an entry of the blanks.
pub(super) fn letter(reading: &Reading, entry: usize) -> Option<String> {
    stock::letter(&reading.text().parse().ok()?, entry)
}

/// The text of a plan in which an end of a blank has this photograph.
pub(super) fn photographed(reading: &Reading, entry: usize, end: BlankEnd, file: &str) -> Result<String, Vec<Told>> {
    let mut document = parsed(reading)?;
    stock::photograph(&mut document, entry, end.name(), file)?;
    Ok(document.to_string())
}

fn parsed(reading: &Reading) -> Result<DocumentMut, Vec<Told>> {
    let broken = |e: toml_edit::TomlError| Told::plainly(e.to_string(), "mend the plan's text");
    reading.text().parse().map_err(broken)
}

/// The text of a plan after an edit of it. `None` where the edit is not one of the text alone: undo, say.
pub(super) fn edited(reading: &Reading, edit: &Edit) -> Result<Option<Edited>, Vec<Told>> {
    let mut document = parsed(reading)?;
    let doc = &mut document;
    let laid = match edit {
        Edit::Turn { places, to } => Some(layup::turned(doc, reading, places, |_| (*to).into())?),
        Edit::TurnBy { places, by } => Some(layup::turned(doc, reading, places, |turn| turn.then((*by).into()))?),
        Edit::Move { places, to } => Some(layup::moved(doc, reading, places, *to)?),
        Edit::LeaveOut { places } => Some(layup::left_out(doc, reading, places)?),
        Edit::PutBack { panel, strip, at } => Some(layup::put_back(doc, reading, *panel, *strip, *at)?),
        Edit::Stagger { places, by } => Some(layup::staggered(doc, reading, places, by)?),
        Edit::Set { key, to } => key::set(doc, key, to.as_deref()).map(|()| None)?,
        Edit::LayBlank { panel, at, letter } => panel::lay(doc, *panel, *at, letter).map(|()| None)?,
        Edit::TakeBlank { panel, at } => panel::take(doc, *panel, *at).map(|()| None)?,
        Edit::MoveBlank { panel, from, to } => panel::moved(doc, *panel, *from, *to).map(|()| None)?,
        Edit::TurnBlank { panel, at, turn } => panel::turned(doc, *panel, *at, |_| (*turn).into()).map(|()| None)?,
        Edit::TurnBlankBy { panel, at, by } => {
            panel::turned(doc, *panel, *at, |half| half.then((*by).into())).map(|()| None)?
        }
        Edit::AddBlank { letter, wood, width, thickness, length, count } => {
            stock::add(
                doc,
                &[
                    ("letter", letter),
                    ("wood", wood),
                    ("width", width),
                    ("thickness", thickness),
                    ("length", length),
                    ("count", count),
                ],
            )?;
            None
        }
        Edit::RemoveBlank { entry } => stock::remove(doc, *entry).map(|()| None)?,
        Edit::Replace { text } => return Ok(Some(Edited { text: text.clone(), laid: None })),
        Edit::Begin { .. } | Edit::TakeFromDisk | Edit::Undo | Edit::Redo => return Ok(None),
    };
    Ok(Some(Edited { text: document.to_string(), laid }))
}
