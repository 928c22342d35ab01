//! Checks of the panels on the saw, the strips and the lay-up.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::{Finding, Look, Subject, found};
use crate::job::{FromPanel, Machine, NoBoard};
use crate::measure::Length;
use crate::stock::Seen;

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    for (i, from) in look.outcome.panels.iter().enumerate() {
        all.extend(fewer_strips(look, i, from));
        all.extend(other_count(look, i));
        all.extend(may_fall_short(look, i, from));
        all.extend(too_short_to_hold(look, i, from));
        all.extend(machines(look, i, from));
        all.extend(moisture(i, from));
        all.extend(guessed(i, from));
    }
    all.extend(layup(look));
    all.extend(odd_count(look));
    all.extend(unequal_width(look));
}

fn fewer_strips(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    if from.cut <= from.gives && from.gives > 0 {
        return None;
    }
    let (cut, width) = (&from.crosscut, look.outcome.width);
    let wanted = from.wanted.unwrap_or(1);
    let says = format!(
        "{wanted} strips of {} and their kerfs need {}; the panel has {} and gives {}",
        look.say(width.mm()),
        look.say(cut.used(wanted, width).mm()),
        look.say(cut.length.mm()),
        from.gives
    );
    let widest = cut.widest(wanted);
    let mends = if widest.is_positive() {
        format!("strips of {} at most, or {} of them", look.at_most(widest.mm()), from.gives)
    } else {
        format!("a panel at least {} long", look.at_least(cut.used(wanted, width).mm()))
    };
    Some(found("fewer strips than wanted", CantBeMade, Subject::Panel(i), says, mends))
}

fn other_count(look: &Look, i: usize) -> Option<Finding> {
    let counted = look.job.measured.strips.get(i).copied().flatten()?;
    let planned = look.job.panels.get(i).and_then(|p| p.count).or(look.job.strips.count)?;
    if counted == planned {
        return None;
    }
    let says =
        format!("{counted} strips came out where {planned} were planned; everything after follows the {counted}");
    let mends = if counted < planned {
        "cut one more where the panel still gives it, and count again".to_owned()
    } else {
        "leave out those that are not wanted".to_owned()
    };
    Some(found("other count than planned", Note, Subject::Panel(i), says, mends))
}

fn may_fall_short(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    // Strips that were counted have been cut: there is nothing left to chance.
    if look.job.measured.strips.get(i).copied().flatten().is_some() {
        return None;
    }
    let chance = from.spread.chance_short();
    if chance <= look.job.limits.short_chance {
        return None;
    }
    let says = format!(
        "strip {} comes out narrow in {:.0} of 100 tries: only {} is left for {} cuts set to ± {}",
        from.cut,
        chance * 100.0,
        look.say(from.spread.slack),
        from.cut,
        look.say(look.job.saw.accuracy.set.mm())
    );
    let mends = match from.safe_stop {
        Some((stop, width)) => {
            format!("the stop at {} (strips of {})", look.at_most(stop.mm()), look.say(width.mm()))
        }
        None => "fewer strips".to_owned(),
    };
    Some(found("may fall short", TakeCare, Subject::Panel(i), says, mends))
}

fn too_short_to_hold(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    if look.job.measured.strips.get(i).copied().flatten().is_some() {
        return None;
    }
    let (cut, width) = (&from.crosscut, look.outcome.width);
    let (safe, needed) = (cut.safe_cuts(width), cut.cuts_for(from.cut));
    if needed <= safe {
        return None;
    }
    let says = format!(
        "when cut {} begins only {} is held, and {} is the least; {safe} of {needed} cuts are safe",
        safe + 1,
        look.at_most(cut.held(safe, width).mm()),
        look.limit(cut.least_piece)
    );
    let block = cut.waste_block_for(from.cut, width);
    let mends = format!("a waste block of {} on the far end, or a clamped hold-down", look.at_least(block.mm()));
    Some(found("piece too short to hold", TakeCare, Subject::Panel(i), says, mends))
}

fn machines(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    let (panel, machines) = (&from.panel, &look.job.machines);
    let (planer, jointer) = (&machines.planer, &machines.jointer);
    let blanks = || panel.blanks.iter().map(|b| &b.blank);
    let shortest = blanks().min_by_key(|b| b.size.length)?;
    let widest_rough = blanks().filter_map(|b| Some((b, b.rough?.width))).max_by_key(|(_, w)| *w);
    let wide = |what: String, has: Length, machine: &Machine| {
        format!("{what} is {} wide and the {} takes {}", look.say(has.mm()), machine.name, look.limit(machine.widest))
    };
    let short = |what: String, has: Length, machine: &Machine| {
        let least = look.limit(machine.shortest);
        format!("{what} is {} long and the {} takes nothing under {least}", look.say(has.mm()), machine.name)
    };
    let says = if panel.width() > planer.widest {
        wide("the panel".to_owned(), panel.width(), planer)
    } else if panel.length() < planer.shortest {
        short("the panel".to_owned(), panel.length(), planer)
    } else if shortest.size.length < jointer.shortest {
        short(format!("blank {}", shortest.letter), shortest.size.length, jointer)
    } else if let Some((blank, width)) = widest_rough.filter(|(_, w)| *w > jointer.widest) {
        wide(format!("rough blank {}", blank.letter), width, jointer)
    } else {
        return None;
    };
    let mends =
        "flatten it another way (drum sander, router sled, hand plane), or work it in narrower parts".to_owned();
    Some(found("machine too small", TakeCare, Subject::Panel(i), says, mends))
}

fn moisture(i: usize, from: &FromPanel) -> Option<Finding> {
    const GOOD: std::ops::RangeInclusive<f64> = 6.0..=9.0;
    const APART: f64 = 2.0;
    let measured: Vec<(&str, f64)> =
        from.panel.blanks.iter().filter_map(|b| Some((b.blank.letter.as_str(), b.blank.moisture?))).collect();
    let wettest = measured.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let driest = measured.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let says = if wettest.1 - driest.1 > APART {
        format!("blank {} is at {} % and blank {} at {} %", wettest.0, wettest.1, driest.0, driest.1)
    } else {
        let (letter, at) = [wettest, driest].into_iter().find(|(_, m)| !GOOD.contains(m))?;
        format!("blank {letter} is at {at} %; 6 to 9 % is good for glue")
    };
    let mends = "let the wood settle in the shop and measure again".to_owned();
    Some(found("moisture", TakeCare, Subject::Panel(i), says, mends))
}

fn guessed(i: usize, from: &FromPanel) -> Option<Finding> {
    let list = |seen: Seen| -> Vec<&str> {
        from.panel.blanks.iter().filter(|b| b.blank.seen == seen).map(|b| b.blank.letter.as_str()).collect()
    };
    let (none, one) = (list(Seen::Nothing), list(Seen::OneEnd));
    if none.is_empty() && one.is_empty() {
        return None;
    }
    let mut parts = Vec::new();
    if !none.is_empty() {
        parts.push(format!("nothing is known of the ends of {}", none.join(", ")));
    }
    if !one.is_empty() {
        parts.push(format!("only one end is known of {}", one.join(", ")));
    }
    let says = format!("{}: what the picture shows of that wood is a guess", parts.join("; "));
    Some(found("figure is a guess", Note, Subject::Panel(i), says, "describe both ends of the blank".to_owned()))
}

fn layup(look: &Look) -> Option<Finding> {
    let says = match look.outcome.board.as_ref().err()? {
        NoBoard::FewerStrips(_) | NoBoard::NoStrips => return None,
        other => other.to_string(),
    };
    let mends = "place each strip once, and only strips that are cut; smaller staggers or trims".to_owned();
    Some(found("lay-up can't be laid", CantBeMade, Subject::Board, says, mends))
}

fn odd_count(look: &Look) -> Option<Finding> {
    let laid = look.outcome.places.len();
    if !look.job.layup.mirror_pairs || laid.is_multiple_of(2) {
        return None;
    }
    let says = format!("{laid} strips are laid, and two make one figure: the last one is half of one");
    Some(found("odd count", TakeCare, Subject::Board, says, "leave one strip out, or cut one more".to_owned()))
}

fn unequal_width(look: &Look) -> Option<Finding> {
    let used = |i: usize| look.outcome.places.iter().any(|p| p.panel == i);
    let widths: Vec<(&str, Length)> = look
        .outcome
        .panels
        .iter()
        .enumerate()
        .filter(|(i, _)| used(*i))
        .map(|(_, f)| (f.panel.name.as_str(), f.panel.width()))
        .collect();
    let widest = widths.iter().max_by_key(|(_, w)| *w)?;
    let narrowest = widths.iter().min_by_key(|(_, w)| *w)?;
    if widest.1 == narrowest.1 {
        return None;
    }
    let says = format!(
        "panel {} is {} wide and panel {} only {}",
        widest.0,
        look.say(widest.1.mm()),
        narrowest.0,
        look.say(narrowest.1.mm())
    );
    let mends = format!("rip panel {} to {}, or let the trim take it", widest.0, look.at_most(narrowest.1.mm()));
    Some(found("panels of unequal width", TakeCare, Subject::Board, says, mends))
}
