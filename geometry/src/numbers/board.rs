//! Numbers of the board: sizes, places, glue lines.

use super::Numbers;
use crate::board::{Board, Face};
use crate::check::narrowest_outer;
use crate::job::Outcome;

pub(super) fn add(outcome: &Outcome, n: &mut Numbers) {
    let Ok(board) = &outcome.board else { return };
    sizes(board, n);
    for place in 0..board.strips().len() {
        places(board, place, n);
    }
}

fn sizes(board: &Board, n: &mut Numbers) {
    let (glued, finished) = (board.glued(), board.finished());
    n.count("board.strips", i64::try_from(board.strips().len()).unwrap_or(i64::MAX), "strips in the board");
    n.length("board.glued length", glued.length, "the sum of the strips' thicknesses; as measured where it was");
    n.length("board.glued width", glued.width, "full cover: the width that every strip reaches");
    n.length("board.glued thickness", glued.thickness, "the strip's width s, before flattening");
    n.length("board.length", finished.length, "glued length less the trims left and right");
    n.length("board.width", finished.width, "full cover less the trims front and back");
    n.length("board.thickness", finished.thickness, "s − f − g");
    for (name, size) in [("length", finished.length), ("width", finished.width), ("thickness", finished.thickness)] {
        n.about(format!("care.{name}"), size, "the same as a card that goes with the board says it");
    }
    if board.panels().iter().any(|p| p.measured.is_some()) {
        n.hair(
            "board.fan",
            board.fan(),
            "how much longer the glued board is along its front than along its back: (n − m)·δ_x by the measured taper",
        );
        n.hair(
            "board.arch",
            board.arch(),
            "how much longer it is along its upper face than along its lower: δ_z·s/L a strip, up or down by its turn",
        );
    }
    let t = board.trims();
    for (side, off) in [("upper", t.upper), ("lower", t.lower)] {
        n.length(format!("finishing.{side}"), off, "flattened off this face of the glued board");
    }
    for (side, off) in [("left", t.left), ("right", t.right), ("front", t.front), ("back", t.back)] {
        n.length(format!("finishing.{side}"), off, "trimmed off this side of the glued board");
    }
    if let Some((narrowest, _)) = narrowest_outer(board) {
        n.at_most("board.narrowest outer", narrowest, "the narrowest outer strip or outer blank that the trims leave");
    }
}

fn places(board: &Board, place: usize, n: &mut Numbers) {
    let key = |name: &str| format!("place.{}.{name}", place + 1);
    let [from, to] = board.span(place);
    if let Some(strip) = board.strips().get(place) {
        n.length(key("stagger"), strip.y, "how far the strip is slid toward the back");
    }
    n.length(key("from"), from, "where the strip begins in the finished board, from its left end");
    n.length(key("to"), to, "where it ends");
    for (face, name) in [(Face::Upper, "upper"), (Face::Lower, "lower")] {
        let station = board.station(place, face).unwrap_or_default();
        n.length(
            key(&format!("{name} section")),
            station,
            "distance from the raw near end of the section that shows on this face",
        );
        if let Some(meeting) = board.meeting(place, face) {
            n.length(
                key(&format!("{name} gap")),
                meeting.gap,
                "how far apart in the panel the two sections were that meet at the glue line to the right",
            );
        }
    }
}
