//! Checks of how near cuts come to one another: what is left between them is a lip where one of them is a handhold.

use super::Kind::{CantBeMade, TakeCare};
use super::cuts::APART;
use super::{ALIKE, Finding, Look, Subject, found};
use crate::cut::{Cut, Which};
use crate::solid::{Near, Neighbours};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let Ok(board) = &look.outcome.board else { return };
    let (job, limits) = (look.job, &look.job.limits);
    let deepest = job.handholds.iter().map(|hold| hold.depth).max().unwrap_or_default();
    let widest = limits.lip_least.max(limits.lip_care).max(limits.between_recesses).max(deepest);
    let near = Neighbours::of(&board.finished(), &job.handholds, &job.cuts).within(widest.mm());
    let mut told: Vec<[Cut; 2]> = Vec::new();
    for near in near {
        let finding = match near.cuts {
            [Cut::Handhold(i), Cut::Handhold(j)] => recesses(look, &near, Subject::Handholds(i, j)),
            [a, b] if near.distance <= Neighbours::MEETS => meet(a, b),
            [Cut::Handhold(i), cut] | [cut, Cut::Handhold(i)] => lip(look, &near, Subject::Cuts(Cut::Handhold(i), cut)),
            [a, b] => faces(look, &near, Subject::Cuts(a, b)),
        };
        // Of several feet that come near to the same cut the nearest speaks.
        let alike = near.cuts.map(first_foot);
        if let Some(finding) = finding.filter(|_| !told.contains(&alike)) {
            told.push(alike);
            all.push(finding);
        }
    }
}

/// Feet are alike.
pub(super) fn first_foot(cut: Cut) -> Cut {
    if let Cut::Face(Which::Foot(_)) = cut { Cut::Face(Which::Foot(0)) } else { cut }
}

fn meet(a: Cut, b: Cut) -> Option<Finding> {
    if let (Cut::Face(a), Cut::Face(b)) = (a, b)
        && a.may_meet(b)
    {
        return None;
    }
    let says = "they run into each other".to_owned();
    Some(found("cuts too close", CantBeMade, Subject::Cuts(a, b), says, APART.to_owned()))
}

fn recesses(look: &Look, near: &Near, subject: Subject) -> Option<Finding> {
    let limit = look.job.limits.between_recesses;
    let (kind, says) = if near.distance <= ALIKE {
        (CantBeMade, "the two recesses meet".to_owned())
    } else if near.distance < limit.mm() - ALIKE {
        let left = look.at_most(near.distance);
        let wanted = look.limit(limit);
        (TakeCare, format!("only {left} of wood is left between the two recesses; {wanted} at least is wanted"))
    } else {
        return None;
    };
    let mends = "larger setbacks where they come close, or shallower recesses".to_owned();
    Some(found("recesses too close", kind, subject, says, mends))
}

/// What is left between a handhold and a cut in a face is as much a lip as what is left beside a face.
fn lip(look: &Look, near: &Near, subject: Subject) -> Option<Finding> {
    let limits = &look.job.limits;
    let deep = near.cuts.iter().find_map(|cut| match cut {
        Cut::Handhold(i) => look.job.handholds.get(*i).map(|hold| hold.depth.mm()),
        _ => None,
    })?;
    let (kind, why) = if near.distance < limits.lip_least.mm() - ALIKE {
        (CantBeMade, format!("under {} it breaks out", look.limit(limits.lip_least)))
    } else if near.distance < limits.lip_care.mm() - ALIKE {
        (TakeCare, format!("under {} it is weak", look.limit(limits.lip_care)))
    } else if near.distance < deep - ALIKE {
        (TakeCare, format!("it is thinner than the recess is deep ({})", look.say(deep)))
    } else {
        return None;
    };
    let says = format!("the lip between them is {} thick; {why}", look.at_most(near.distance));
    let setting = match near.cuts {
        [Cut::Face(which), _] | [_, Cut::Face(which)] => match which {
            Which::Groove(_) => "setback",
            Which::Spout(_) => "along",
            Which::FingerRecess(_) | Which::HangingHole => "in_from_edge",
            Which::Foot(_) => "from_edges",
        },
        _ => "depth",
    };
    Some(found("thin lip", kind, subject, says, APART.to_owned()).turning_on(setting))
}

fn faces(look: &Look, near: &Near, subject: Subject) -> Option<Finding> {
    let limit = look.job.limits.lip_least;
    if near.distance >= limit.mm() - ALIKE {
        return None;
    }
    let (left, wanted) = (look.at_most(near.distance), look.limit(limit));
    let says = format!("only {left} of wood is left between them; {wanted} at least is wanted");
    Some(found("cuts too close", TakeCare, subject, says, APART.to_owned()))
}
