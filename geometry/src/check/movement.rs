//! The check of how neighbours move over the seasons.

use super::Kind::TakeCare;
use super::{ALIKE, Finding, Look, Subject, found};
use crate::movement::Moving;

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let (Ok(board), limit) = (&look.outcome.board, look.job.limits.movement.mm()) else { return };
    let Some(moving) = Moving::of(board, &look.job.seasons) else { return };
    let Some(worst) = moving.mismatches.first().filter(|worst| worst.wants > limit + ALIKE) else { return };
    let over = moving.mismatches.iter().filter(|m| m.wants > limit + ALIKE).count();
    let joints = if over == 1 { "here alone" } else { &format!("and {over} glue lines are over that") };
    let guessed = worst.pieces.iter().any(|i| moving.pieces[*i].guessed);
    let says = format!(
        "{}, were both free{}; over {} wants care, {joints}",
        moving.reading(worst, &look.hair(worst.wants)),
        if guessed { " (how rings lie there is a guess)" } else { "" },
        look.hair(limit)
    );
    let mends =
        "lay neighbours of one wood or whose rings lie alike, or narrower pieces; or keep the board in steadier air"
            .to_owned();
    all.push(found("neighbours move unlike", TakeCare, Subject::Board, says, mends));
}
