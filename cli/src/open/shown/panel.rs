//! The panels: which blanks lie in them, and how they are cut along their length.

use super::super::edits::BlankTurn;
use super::super::pictures::Drawing;
use super::super::reading::Reading;
use quarterturn_geometry::board::StripFace;
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::stock::{HalfTurn, LaidBlank};
use serde::Serialize;

/// A panel.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct PanelShown {
    name: String,
    width: f64,
    thickness: f64,
    /// Along the grain.
    length: f64,
    /// The name of the picture of its far end, as seen standing there: the first blank at the left.
    picture: String,
    blanks: Vec<LaidShown>,
    /// All that are cut, from the near end.
    strips: Vec<CutShown>,
    /// How many come out of it at this width.
    fits: usize,
    /// How many are wanted and don't come out of it.
    lost: usize,
}

/// A blank in its place.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct LaidShown {
    letter: String,
    /// The names of the pictures of its own near and far end, as they are seen lying in the panel.
    ends: [String; 2],
    wood: String,
    turn: BlankTurn,
    /// From and to across the panel, from the first blank's edge.
    x: [f64; 2],
}

/// A strip as it is cut.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct CutShown {
    /// From and to along the panel, from its raw near end.
    z: [f64; 2],
    /// Where it lies in the board, from 0; none where it is left out.
    place: Option<usize>,
}

/// So many strips are drawn at most.
const MOST_DRAWN: i64 = 2000;

/// Whether its own near end lies at the panel's far one.
const fn end_for_end(laid: &LaidBlank) -> bool {
    matches!(laid.turn.half, HalfTurn::EndForEnd | HalfTurn::EndOverEnd)
}

pub(super) fn all(reading: &Reading, name: &impl Fn(Drawing) -> String) -> Vec<PanelShown> {
    let outcome = reading.outcome();
    let shown = |(i, from): (usize, &FromPanel)| {
        let panel = &from.panel;
        let [width, thickness, length] = [panel.width(), panel.thickness(), panel.length()].map(Length::mm);
        let end = StripFace {
            panel: i,
            size: [width, thickness],
            station: length,
            placed: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]],
        };
        let laid = panel.blanks.iter().zip(panel.spans()).enumerate().map(|(blank, (laid, x))| LaidShown {
            letter: laid.blank.letter.clone(),
            ends: [false, true].map(|own| name(Drawing::End { panel: i, blank, far: own != end_for_end(laid) })),
            wood: laid.blank.figure.wood().name.clone(),
            turn: laid.turn.half.into(),
            x,
        });
        let there = from.cut.min(from.gives).clamp(0, MOST_DRAWN);
        let cut = |k: i64| CutShown {
            z: [0.0, outcome.width.mm()].map(|s| from.crosscut.station(k, outcome.width).mm() + s),
            place: outcome.places.iter().position(|p| (p.panel, p.strip) == (i, k)),
        };
        PanelShown {
            name: panel.name.clone(),
            width,
            thickness,
            length,
            picture: name(Drawing::Face(end)),
            blanks: laid.collect(),
            strips: (0..there).map(cut).collect(),
            fits: usize::try_from(from.gives).unwrap_or(0),
            lost: usize::try_from(from.cut - from.gives).unwrap_or(0),
        }
    };
    outcome.panels.iter().enumerate().map(shown).collect()
}
