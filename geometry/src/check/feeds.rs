//! Checks of how fast the CNC's bits turn and move, and how deep they go at once: rubbing and overload.

use super::Kind::TakeCare;
use super::{ALIKE, Finding, Look, Subject, found};
use crate::cut::Cut;
use crate::measure::Unit;
use crate::path::feeds::{Feeds, most_at_once, overloads_above, rubs_below, usual_steps};
use crate::path::{Cutting, Program};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let (Ok(board), Some(cnc)) = (&look.outcome.board, &look.job.cnc) else { return };
    let wood = look.job.hardest();
    for cutting in look.job.cuttings(board) {
        let Ok(Program { feeds, .. }) = Program::of(&cutting, cnc, wood) else { continue };
        let subject = match cutting.cut {
            Cut::Handhold(i) => Subject::Handhold(i),
            Cut::Face(which) => Subject::Cut(which),
            Cut::Level(_) | Cut::Panel(..) | Cut::Outline | Cut::BetweenTabs | Cut::Rim(_) => Subject::Board,
        };
        let mut says = |check, (says, mends)| all.push(found(check, TakeCare, subject, says, mends));
        let (least, most) = (rubs_below(&cutting.bit), overloads_above(&cutting.bit, wood));
        if feeds.chip < least - ALIKE {
            says("chip too thin", too_thin(look, &cutting, &feeds, least));
        }
        if feeds.chip > most + ALIKE {
            says("chip too thick", too_thick(look, &cutting, &feeds, most));
        }
        let (pass, deepest) = (most_at_once(&cutting, cnc), usual_steps(&cutting)[1]);
        if pass > deepest + ALIKE {
            says("pass too deep", too_deep(look, &cutting, pass, deepest));
        }
    }
}

/// What an edge takes is too small for a rule.
fn chip(look: &Look, mm: f64) -> String {
    match look.job.rule.unit() {
        Unit::Inch => format!("{:.4} in", mm / 25.4),
        Unit::Millimetre => format!("{mm:.3} mm"),
    }
}

fn too_thin(look: &Look, cutting: &Cutting, feeds: &Feeds, least: f64) -> (String, String) {
    let says = format!(
        "on the CNC each edge of bit {} takes only {} in one turn; under {} it rubs, burns the wood and dulls",
        cutting.bit.name,
        chip(look, feeds.chip),
        chip(look, least)
    );
    let slower = feeds.feed / (f64::from(cutting.bit.flutes.max(1)) * least);
    (
        says,
        format!(
            "a spindle at {:.0} turns a minute or less, fewer flutes, or a larger chip load and feed",
            slower.floor()
        ),
    )
}

fn too_thick(look: &Look, cutting: &Cutting, feeds: &Feeds, most: f64) -> (String, String) {
    let says = format!(
        "on the CNC each edge of bit {} takes {} in one turn; over {} it is much for a light machine in this wood",
        cutting.bit.name,
        chip(look, feeds.chip),
        chip(look, most)
    );
    (says, format!("a chip load of {} or less", chip(look, most)))
}

fn too_deep(look: &Look, cutting: &Cutting, pass: f64, deepest: f64) -> (String, String) {
    let says = format!(
        "on the CNC bit {} takes {} in one pass; over {} it is much for a light machine here",
        cutting.bit.name,
        look.at_least(pass),
        look.say(deepest)
    );
    (says, format!("passes of {} or less", look.at_most(deepest)))
}
