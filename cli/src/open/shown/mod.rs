//! What the page is told: what is drawn at once after an edit, and what follows a moment later.
//!
//! ```text
//! Desk ─► Shown   places, turns, pictures' names: all that a new picture needs
//!      └► After   numbers, findings, what is written: worked out beside the desk (see `after`)
//! ```
//! Plain values for JSON; works nothing out: each is asked of the model. Lengths are mm.

pub(super) mod after;
mod bench;
mod board;
mod fields;
mod panel;

use super::desk::Desk;
use super::file::OnDisk;
use super::pictures::{Pictures, SCALES};
use super::samples;
use board::BoardShown;
use panel::PanelShown;
use quarterturn_geometry::measure::Unit;
use serde::Serialize;

/// What is drawn at once.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) struct Shown {
    /// Which text this is of.
    pub(super) revision: u32,
    /// How much there was to tell so far.
    pub(super) news: u32,
    /// What the board is called.
    pub(super) name: String,
    /// `in` or `mm`.
    pub(super) unit: &'static str,
    /// The name of the plan's file; empty where there is none yet.
    pub(super) file: String,
    pub(super) on_disk: OnDisk,
    pub(super) saved: bool,
    pub(super) can_undo: bool,
    pub(super) can_redo: bool,
    /// Whether it began with what was left unsaved.
    pub(super) restored: bool,
    /// Why the last change is not kept in the journal; empty where it is.
    pub(super) unkept: String,
    pub(super) panels: Vec<PanelShown>,
    pub(super) board: Option<BoardShown>,
    /// Why there is no board; empty where there is one.
    pub(super) no_board: String,
    /// Pixels a millimetre that pictures may be asked in.
    pub(super) scales: [u32; 8],
    /// Boards that may be begun from.
    pub(super) samples: Vec<&'static str>,
}

impl Shown {
    /// What there is to draw now; its pictures are made known.
    pub(super) fn of(desk: &Desk, pictures: &Pictures) -> Self {
        let reading = desk.reading();
        let (job, outcome) = (reading.job(), reading.outcome());
        let name = |drawing| pictures.name(reading, drawing);
        let board = outcome.board.as_ref().ok().map(|board| BoardShown::of(job, board, &name));
        let number = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
        Self {
            revision: number(desk.revision()),
            news: number(desk.news()),
            name: job.name.clone(),
            unit: match job.rule.unit() {
                Unit::Inch => "in",
                Unit::Millimetre => "mm",
            },
            file: desk.file().name().unwrap_or_default().to_owned(),
            on_disk: desk.file().on_disk,
            saved: desk.saved(),
            can_undo: desk.history().can_undo(),
            can_redo: desk.history().can_redo(),
            restored: desk.restored(),
            unkept: desk.unkept().unwrap_or_default().to_owned(),
            panels: panel::all(reading, &name),
            board,
            no_board: outcome.board.as_ref().err().map(ToString::to_string).unwrap_or_default(),
            scales: SCALES,
            samples: samples::ALL.iter().map(|(name, _)| *name).collect(),
        }
    }
}
