//! The board: its outline, and of each strip where it lies and what it would show, however it were turned.

use super::super::edits::Turn;
use super::super::pictures::Drawing;
use quarterturn_geometry::board::{Board, Face};
use quarterturn_geometry::job::Job;
use quarterturn_geometry::layup as geometry;
use serde::Serialize;

/// The finished board.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct BoardShown {
    /// Along X, to the right.
    length: f64,
    /// Along Y.
    width: f64,
    thickness: f64,
    strips: Vec<StripShown>,
}

/// A strip in its place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct StripShown {
    panel: usize,
    panel_name: String,
    /// Counted from 0 at the panel's near end.
    strip: usize,
    turn: Turn,
    /// How far it is slid toward the back, as a maker would write it.
    stagger: String,
    /// From and to along the length.
    x: [f64; 2],
    /// Of each of its blanks from and to across the width, from the front; in the panel's order.
    blanks: Vec<[f64; 2]>,
    /// What it shows of itself in each of the four turns, this one included.
    ways: Vec<Way>,
}

/// A strip turned one way, seen from above.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct Way {
    turn: Turn,
    /// The name of its picture.
    picture: String,
    /// The picture's width and height, mm.
    size: [f64; 2],
    /// From the picture's mm to the board's, from the left upper corner, to the right and down: a, b, c, d, e and f of
    /// x' = a x + c y + e, y' = b x + d y + f.
    placed: [f64; 6],
}

impl BoardShown {
    pub(super) fn of(job: &Job, board: &Board, name: &impl Fn(Drawing) -> String) -> Self {
        let size = board.finished();
        let strips = (0..board.strips().len()).filter_map(|place| strip(job, board, place, name)).collect();
        Self { length: size.length, width: size.width, thickness: size.thickness, strips }
    }
}

fn strip(job: &Job, board: &Board, place: usize, name: &impl Fn(Drawing) -> String) -> Option<StripShown> {
    let laid = board.strips().get(place)?.place;
    let way = |turn: geometry::Turn| {
        let face = board.strip_face(place, turn, Face::Upper)?;
        let [[a, c, e], [b, d, f]] = face.placed;
        Some(Way { turn: turn.into(), picture: name(Drawing::Face(face)), size: face.size, placed: [a, b, c, d, e, f] })
    };
    Some(StripShown {
        panel: laid.panel,
        panel_name: job.panels.get(laid.panel).map(|panel| panel.name.clone()).unwrap_or_default(),
        strip: usize::try_from(laid.strip).ok()?,
        turn: laid.turn.into(),
        stagger: laid.stagger.written(job.rule.unit()),
        x: board.span(place),
        blanks: board.blank_spans(place),
        ways: geometry::Turn::ALL.into_iter().filter_map(way).collect(),
    })
}
