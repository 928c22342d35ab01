//! Checks of the board's size and of what the trims leave.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::{ALIKE, Finding, Look, Subject, found};
use crate::board::Board;
use crate::mend::{flattens, thickness_with_rock};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let Ok(board) = &look.outcome.board else { return };
    all.extend(thickness_asked(look));
    all.extend(thin_or_thick(look, board));
    all.extend(sliver(look, board));
    all.extend(drum_sander(look, board));
    all.extend(fan(look, board));
    all.extend(length_off(look, board));
    all.extend(thicker_than_its_strips(look));
    all.extend(no_such_place(look, board));
    all.extend(rocks(look));
    all.extend(shorter_than_asked(look, board));
}

fn thickness_asked(look: &Look) -> Option<Finding> {
    let asked = look.job.strips.board_thickness?.mm();
    let comes = look.outcome.board_thickness(look.job);
    let measured = look.job.measured.board_thickness.is_some();
    let says =
        |how: &str| format!("the board comes out {}, {how} than the {} asked for", look.say(comes), look.say(asked));
    if comes < asked - ALIKE {
        let kind = if measured { TakeCare } else { CantBeMade };
        let missing = look.at_least(asked - comes);
        let mends = format!("strips {missing} wider, or {missing} less flattened off");
        Some(found("board thinner than asked", kind, Subject::Board, says("thinner"), mends))
    } else if comes > asked + ALIKE {
        let mends = "narrower strips give more of them, or flatten more off".to_owned();
        Some(found("board thicker than asked", Note, Subject::Board, says("thicker"), mends))
    } else {
        None
    }
}

fn thin_or_thick(look: &Look, board: &Board) -> Option<Finding> {
    let (thickness, limits) = (board.finished().thickness, &look.job.limits);
    if thickness < limits.thin.mm() - ALIKE {
        let says = format!(
            "the board comes out {}: under {} it is weak across its joints when dropped, and cups",
            look.say(thickness),
            look.limit(limits.thin)
        );
        Some(found("thin board", TakeCare, Subject::Board, says, "wider strips".to_owned()))
    } else if thickness > limits.thick.mm() + ALIKE {
        let says = format!("the board comes out {}: heavy", look.say(thickness));
        Some(found("thick board", Note, Subject::Board, says, "narrower strips, if the weight matters".to_owned()))
    } else {
        None
    }
}

/// The narrowest that the trims leave of an outer strip or an outer blank, with its name, mm; a
/// strip that is trimmed off whole leaves no sliver, the next is then the outer one.
pub(crate) fn narrowest_outer(board: &Board) -> Option<(f64, String)> {
    let last = board.strips().len().checked_sub(1)?;
    let kept = |place: &usize| board.span(*place)[1] - board.span(*place)[0] > ALIKE;
    let outer_strips = [((0..=last).find(kept)?, "left"), ((0..=last).rev().find(kept)?, "right")];
    let strips = outer_strips.map(|(place, side)| {
        let [from, to] = board.span(place);
        (to - from, format!("the {side} strip"))
    });
    let blanks = (0..=last).flat_map(|place| {
        let spans = board.blank_spans(place);
        let outer = |from_front: bool| {
            let key = |s: &&[f64; 2]| if from_front { -s[0] } else { s[1] };
            spans.iter().filter(|s| s[1] > s[0]).max_by(|a, b| key(a).total_cmp(&key(b))).map(|s| s[1] - s[0])
        };
        [(outer(true), "front"), (outer(false), "back")]
            .into_iter()
            .filter_map(move |(w, side)| Some((w?, format!("the {side} blank of strip {}", place + 1))))
    });
    strips.into_iter().chain(blanks).min_by(|a, b| a.0.total_cmp(&b.0))
}

fn sliver(look: &Look, board: &Board) -> Option<Finding> {
    let limit = look.job.limits.sliver;
    let (left, which) = narrowest_outer(board)?;
    if left >= limit.mm() - ALIKE {
        return None;
    }
    let says =
        format!("the trim leaves {} of {which}; under {} looks like a mistake", look.at_most(left), look.limit(limit));
    let mends = "trim less on that side, or trim the whole strip off".to_owned();
    Some(found("trim leaves a sliver", TakeCare, Subject::Board, says, mends))
}

fn drum_sander(look: &Look, board: &Board) -> Option<Finding> {
    let (length, machine) = (board.glued().length, &look.job.machines.drum_sander);
    // It is flattened before it is trimmed: the staggers stand out on both sides.
    let back = board.strips().iter().map(|s| s.y + s.slab.width).reduce(f64::max)?;
    let width = back - board.strips().iter().map(|s| s.y).reduce(f64::min)?;
    let (narrow, long) = (length.min(width), length.max(width));
    let says = if narrow > machine.widest.mm() + ALIKE {
        format!("the glued board is {} wide and the drum sander takes {}", look.say(narrow), look.limit(machine.widest))
    } else if long < machine.shortest.mm() - ALIKE {
        let least = look.limit(machine.shortest);
        format!("the glued board is {} long and the drum sander takes nothing under {least}", look.say(long))
    } else {
        return None;
    };
    let mends = "flatten it with a router sled or a CNC, never in a thickness planer".to_owned();
    Some(found("machine too small", TakeCare, Subject::Board, says, mends))
}

fn fan(look: &Look, board: &Board) -> Option<Finding> {
    let (fan, trims) = (board.fan(), board.trims());
    if fan.abs() <= trims.left + trims.right + ALIKE {
        return None;
    }
    let long = if fan > 0.0 { "front" } else { "back" };
    let says = format!(
        "the panel's taper makes the board {} longer along its {long}, more than the trims of its ends take",
        look.say(fan.abs())
    );
    let mends = "turn half of the strips end for end, plane the panel parallel, or trim more".to_owned();
    Some(found("taper fans the board", TakeCare, Subject::Board, says, mends))
}

/// How far a glued board's length may be off for each strip, mm: 1/32 in (common practice, no source).
const OFF_A_STRIP: f64 = 25.4 / 32.0;

fn thicker_than_its_strips(look: &Look) -> Option<Finding> {
    let (measured, width) = (look.job.measured.board_thickness?, look.outcome.width);
    if measured <= width {
        return None;
    }
    let says = format!(
        "the flattened board was measured {} thick, and its strips are {} wide",
        look.say(measured.mm()),
        look.say(width.mm())
    );
    let mends = "measure once more, and look for what was typed wrong".to_owned();
    Some(found("measure again", TakeCare, Subject::Board, says, mends))
}

fn no_such_place(look: &Look, board: &Board) -> Option<Finding> {
    let (measured, strips) = (&look.job.measured, board.strips().len());
    let chipped = measured.chipped.iter().find(|place| **place >= strips).map(|place| ("chipped strip", *place));
    let open =
        measured.open.iter().find(|place| **place + 1 >= strips).map(|place| ("glue line right of strip", *place));
    let (what, place) = chipped.or(open)?;
    let says = format!("there is no {what} {}: the board has {strips} strips", place + 1);
    let mends = "count once more from the left, and look for what was typed wrong".to_owned();
    Some(found("measure again", TakeCare, Subject::Board, says, mends))
}

fn rocks(look: &Look) -> Option<Finding> {
    let rock = look.job.measured.rock?;
    let (needed, planned) = (flattens(rock), look.job.finishing.upper.min(look.job.finishing.lower));
    if needed <= planned {
        return None;
    }
    let says = format!(
        "the glued board rocks by {}: {} must come off each face until it lies flat, and {} is planned",
        look.say(rock.mm()),
        look.at_least(needed.mm()),
        look.say(planned.mm())
    );
    let leaves = thickness_with_rock(look.job, look.outcome, rock);
    let mends = format!("flatten more: {} is left", look.at_most(leaves.max(0.0)));
    Some(found("board rocks", TakeCare, Subject::Board, says, mends))
}

fn shorter_than_asked(look: &Look, board: &Board) -> Option<Finding> {
    let (least, comes) = (look.job.finishing.least_length?.mm(), board.finished().length);
    if comes >= least - ALIKE {
        return None;
    }
    let says = format!("the board comes out {} long, and {} at least is asked for", look.say(comes), look.say(least));
    let mends = format!("more strips, thicker blanks, or less planed off: {} is missing", look.at_least(least - comes));
    Some(found("board shorter than asked", TakeCare, Subject::Board, says, mends))
}

fn length_off(look: &Look, board: &Board) -> Option<Finding> {
    let measured = look.job.measured.board_length?.mm();
    let panel = |place: &crate::layup::Place| look.outcome.panels.get(place.panel).map(|p| p.panel.thickness().mm());
    let planned: f64 = look.outcome.places.iter().filter_map(panel).sum();
    if (measured - planned).abs() <= OFF_A_STRIP * board.strips().len() as f64 {
        return None;
    }
    let says = format!(
        "the glued board was measured {} long, and its strips are {} together",
        look.say(measured),
        look.say(planned)
    );
    let mends = "measure and count once more, and look for what was typed wrong".to_owned();
    Some(found("measure again", TakeCare, Subject::Board, says, mends))
}
