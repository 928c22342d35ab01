//! Numbers of movement: what wood comes to in each season, how the board and its pieces change, and
//! the glue lines whose sides disagree most.

use super::Numbers;
use crate::job::{Job, Outcome};
use crate::movement::{Along, Moving};

/// Glue lines that are listed, at most: those that disagree most.
const MOST_LISTED: usize = 20;
/// A board of more pieces than this has no list of them.
const MOST_PIECES: usize = 1000;

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    for (i, season) in job.seasons.all.iter().enumerate() {
        let key = |name: &str| format!("season.{}.{name}", i + 1);
        n.temperature(key("temperature"), season.air.temperature, "the air's temperature in this season");
        n.share(key("humidity"), season.air.humidity.0, "the air's relative humidity in this season");
        n.moisture(
            key("moisture"),
            season.air.equilibrium(),
            "what wood comes to in that air: Wood Handbook, FPL-GTR-282, equation 4-5",
        );
    }
    let Ok(board) = &outcome.board else { return };
    let Some(moving) = Moving::of(board, &job.seasons) else { return };
    n.moisture(
        "movement.made",
        moving.made,
        "moisture content when the board is made: as measured, 8 % where it wasn't",
    );
    n.moisture("movement.driest", moving.moisture[0], "in the driest season");
    n.moisture("movement.dampest", moving.moisture[1], "in the dampest season");
    board_changes(&moving, n);
    disagreements(&moving, n);
    if moving.pieces.len() <= MOST_PIECES {
        pieces(&moving, n);
    }
}

fn board_changes(moving: &Moving, n: &mut Numbers) {
    let Some([dry, damp]) = moving.board else { return };
    let parts = ["length", "width"];
    for (i, part) in parts.into_iter().enumerate() {
        n.hair(
            format!("movement.{part} grows"),
            damp[i] - dry[i],
            "from the driest season to the dampest: the mean over the face of C·ΔM of every piece, C by how its rings lie",
        );
        n.hair(
            format!("movement.{part} to driest"),
            dry[i],
            "from when it is made to the driest season; below 0 it shrinks",
        );
        n.hair(format!("movement.{part} to dampest"), damp[i], "from when it is made to the dampest season");
    }
}

fn disagreements(moving: &Moving, n: &mut Numbers) {
    let count = |at: usize| i64::try_from(at + 1).unwrap_or(i64::MAX);
    for (i, m) in moving.mismatches.iter().take(MOST_LISTED).enumerate() {
        let key = |name: &str| format!("movement.mismatch.{}.{name}", i + 1);
        n.hair(
            key("wants"),
            m.wants,
            "how much more one of two neighbours grows along their glue line than the other, driest to dampest season, were they free; ranked, the most first",
        );
        n.length(key("shared"), m.shared, "the stretch of glue line that the two share");
        let [more, less] = m.pieces.map(|p| moving.pieces[p].piece);
        n.count(key("place"), count(more.place), "the place of the strip that the piece which grows more is in");
        n.count(key("blank"), count(more.blank), "that piece's blank, counted in its panel");
        n.count(key("other place"), count(less.place), "the same of the piece which grows less");
        n.count(key("other blank"), count(less.blank), "its blank");
        n.count(
            key("along length"),
            i64::from(m.along == Along::Length),
            "1 where they are compared along the board's length (a glue line between blanks), 0 along its width (between strips)",
        );
    }
}

fn pieces(moving: &Moving, n: &mut Numbers) {
    for moved in &moving.pieces {
        let Some([x, y]) = moved.grows else { continue };
        let key = |name: &str| format!("place.{}.blank.{}.{name}", moved.piece.place + 1, moved.piece.blank + 1);
        n.hair(
            key("grows length"),
            x,
            "how much this piece grows along the board's length, driest to dampest season, were it free",
        );
        n.hair(key("grows width"), y, "the same along the board's width");
    }
}
