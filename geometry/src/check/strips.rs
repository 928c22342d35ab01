//! Checks of the panels on the saw, the strips and the lay-up.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::{Finding, Look, Subject, found};
use crate::board::BoardError;
use crate::job::{FromPanel, Machine, NoBoard};
use crate::layup::{Asked, LayupError};
use crate::measure::Length;
use crate::stock::{LaidBlank, LastStrip, Seen};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    for (i, from) in look.outcome.panels.iter().enumerate() {
        all.extend(fewer_strips(look, i, from));
        all.extend(other_count(look, i));
        all.extend(last_piece_wide(look, i, from));
        all.extend(too_many_counted(look, i, from));
        all.extend(may_fall_short(look, i, from));
        all.extend(too_short_to_hold(look, i, from));
        all.extend(machines(look, i, from));
        all.extend(guessed(i, from));
    }
    all.extend(moisture(look));
    all.extend(not_laid(look));
    all.extend(layup(look));
    all.extend(left_over(look));
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
        "{wanted} strips of {} need, with the kerfs, {}; the panel has {} and gives {}",
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
    let asked = look.job.panels.get(i).and_then(|p| p.count).or(look.job.strips.count);
    let planned = asked.unwrap_or_else(|| look.outcome.panels[i].crosscut.count(look.outcome.width));
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

fn last_piece_wide(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    let (cut, width) = (&from.crosscut, look.outcome.width);
    let over = cut.slack(from.cut, width);
    if cut.last != LastStrip::Left || over <= look.job.rule.mark() || look.counted(i) {
        return None;
    }
    let says = format!(
        "strip {} is what is left after the last kerf, and that is {} wide, not {}; its end is as the panel's was",
        from.cut,
        look.say((width + over).mm()),
        look.say(width.mm())
    );
    let held = look.at_most((width + over + cut.waste_block).mm());
    let mends = format!("cut it again ({held} is held then), or say that a last cut frees it");
    Some(found("last piece comes out wide", TakeCare, Subject::Panel(i), says, mends))
}

fn too_many_counted(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    let room = from.crosscut.count(look.outcome.width);
    // One more than the plan's losses leave room for may well come out.
    if !look.counted(i) || from.cut <= room + 1 {
        return None;
    }
    let says = format!("{} strips were counted, and the panel has room for {room}", from.cut);
    let mends = "measure and count once more, and look for what was typed wrong".to_owned();
    Some(found("measure again", TakeCare, Subject::Panel(i), says, mends))
}

fn not_laid(look: &Look) -> Option<Finding> {
    let laid = |letter: &str| look.job.panels.iter().flat_map(|p| &p.blanks).any(|laid| laid.blank.letter == letter);
    let left: Vec<&str> = look.job.blanks.iter().map(|b| b.letter.as_str()).filter(|l| !laid(l)).collect();
    if left.is_empty() {
        return None;
    }
    let says = format!("in no panel: {}", left.join(", "));
    Some(found("blank not laid", Note, Subject::Board, says, "lay it, or lower its count".to_owned()))
}

fn may_fall_short(look: &Look, i: usize, from: &FromPanel) -> Option<Finding> {
    // Strips that were counted have been cut: there is nothing left to chance.
    if look.counted(i) {
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
    if look.counted(i) {
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
    let or = if look.job.saw.hold_down { "fewer strips" } else { "a clamped hold-down" };
    let mends = format!("a waste block of {} on the far end, or {or}", look.at_least(block.mm()));
    Some(found("piece too short to hold", TakeCare, Subject::Panel(i), says, mends))
}

/// Every machine that a panel or its blanks don't fit, each by itself.
fn machines(look: &Look, i: usize, from: &FromPanel) -> Vec<Finding> {
    let (panel, machines) = (&from.panel, &look.job.machines);
    let (planer, jointer) = (&machines.planer, &machines.jointer);
    // The panel is planed before its edges are trued.
    let untrued: Length = panel.blanks.iter().map(|b| b.lying().width).sum();
    let rough = || panel.blanks.iter().filter_map(|b| Some((&b.blank, b.blank.rough?)));
    let mut says = Vec::new();
    if untrued > planer.widest {
        says.push(too_wide(look, "the panel, not yet trued,", untrued, planer));
    }
    if panel.length() < planer.shortest {
        says.push(too_short(look, "the panel", panel.length(), planer));
    }
    if let Some((blank, size)) =
        rough().min_by_key(|(_, size)| size.length).filter(|(_, s)| s.length < jointer.shortest)
    {
        says.push(too_short(look, &format!("rough blank {}", blank.letter), size.length, jointer));
    }
    if let Some((blank, size)) = rough().max_by_key(|(_, size)| size.width).filter(|(_, s)| s.width > jointer.widest) {
        says.push(too_wide(look, &format!("rough blank {}", blank.letter), size.width, jointer));
    }
    let mends = "flatten it another way (drum sander, router sled, hand plane), or work it in narrower parts";
    let finding = |says| found("machine too small", TakeCare, Subject::Panel(i), says, mends.to_owned());
    says.into_iter().map(finding).collect()
}

fn too_wide(look: &Look, what: &str, has: Length, machine: &Machine) -> String {
    format!("{what} is {} wide and the {} takes {}", look.say(has.mm()), machine.name, look.limit(machine.widest))
}

fn too_short(look: &Look, what: &str, has: Length, machine: &Machine) -> String {
    let least = look.limit(machine.shortest);
    format!("{what} is {} long and the {} takes nothing under {least}", look.say(has.mm()), machine.name)
}

fn moisture(look: &Look) -> Option<Finding> {
    const GOOD: std::ops::RangeInclusive<f64> = 6.0..=9.0;
    const APART: f64 = 2.0;
    let laid = look.outcome.panels.iter().flat_map(|p| &p.panel.blanks);
    let measured: Vec<(&str, f64)> = laid.filter_map(|b| Some((b.blank.letter.as_str(), b.blank.moisture?))).collect();
    let wettest = measured.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let driest = measured.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let says = if wettest.1 - driest.1 > APART {
        format!("blank {} is at {} % and blank {} at {} %", wettest.0, wettest.1, driest.0, driest.1)
    } else {
        let (letter, at) = [wettest, driest].into_iter().find(|(_, m)| !GOOD.contains(m))?;
        format!("blank {letter} is at {at} %; 6 to 9 % is good for glue")
    };
    let mends = "let the wood settle in the shop and measure again".to_owned();
    Some(found("moisture", TakeCare, Subject::Board, says, mends))
}

fn guessed(i: usize, from: &FromPanel) -> Option<Finding> {
    let list = |seen: Seen| -> Vec<&str> {
        from.panel.blanks.iter().filter(|b| b.blank.seen == seen).map(|b| b.blank.letter.as_str()).collect()
    };
    let (none, one) = (list(Seen::Nothing), list(Seen::OneEnd));
    let open = unsure(from);
    if none.is_empty() && one.is_empty() {
        let open = open?;
        let says = format!("{open}: what the picture shows of that wood between its ends is a guess");
        let mends = "give the line the name that its ring has on an end".to_owned();
        return Some(found("figure is a guess", Note, Subject::Panel(i), says, mends));
    }
    let mut parts = Vec::new();
    if !none.is_empty() {
        parts.push(format!("nothing is known of the ends of {}", none.join(", ")));
    }
    if !one.is_empty() {
        parts.push(format!("only one end is known of {}", one.join(", ")));
    }
    parts.extend(open);
    let says = format!("{}: what the picture shows of that wood is a guess", parts.join("; "));
    Some(found("figure is a guess", Note, Subject::Panel(i), says, "describe both ends of the blank".to_owned()))
}

/// Blanks with a line part-way that may be one ring as well as the next.
fn unsure(from: &FromPanel) -> Option<String> {
    let open = |laid: &&LaidBlank| {
        laid.blank.figure.between().is_some_and(|between| between.numbers().iter().any(|number| !number.sure))
    };
    let letters: Vec<&str> = from.panel.blanks.iter().filter(open).map(|laid| laid.blank.letter.as_str()).collect();
    let say = || format!("a line part-way of {} may be one ring as well as the next", letters.join(", "));
    (!letters.is_empty()).then(say)
}

fn layup(look: &Look) -> Option<Finding> {
    let why = look.outcome.board.as_ref().err()?;
    let mends = match why {
        NoBoard::FewerStrips(_) | NoBoard::NoStrips => return None,
        NoBoard::Layup(_) => "place each strip once, and only strips that are cut".to_owned(),
        NoBoard::Board(BoardError::NoCover) => {
            let narrowest = look.outcome.panels.iter().map(|p| p.panel.width()).min().unwrap_or_default();
            format!("staggers that differ by less than the narrowest panel is wide, {}", look.say(narrowest.mm()))
        }
        NoBoard::Board(BoardError::TrimmedAway) => {
            let thick = look.say(look.outcome.board_thickness(look.job));
            format!("smaller trims, or wider strips: flattened, the board is {thick} thick")
        }
    };
    let says = says_why(look, why);
    Some(found("lay-up can't be laid", CantBeMade, Subject::Board, says, mends))
}

/// In words, panels by their names.
fn says_why(look: &Look, why: &NoBoard) -> String {
    let name = |panel: usize| look.job.panels.get(panel).map_or("", |p| p.name.as_str());
    match why {
        NoBoard::Layup(LayupError::NoSuchStrip { panel, strip, cut }) => {
            format!("strip {} of panel {} is named, and {cut} are cut", strip + 1, name(*panel))
        }
        NoBoard::Layup(LayupError::Twice { panel, strip }) => {
            format!("strip {} of panel {} is laid twice", strip + 1, name(*panel))
        }
        other => other.to_string(),
    }
}

fn left_over(look: &Look) -> Option<Finding> {
    let cut: i64 = look.outcome.panels.iter().map(|p| p.cut).sum();
    let left_out = match &look.job.layup.asked {
        Asked::Repeat { left_out, .. } => left_out.len(),
        Asked::Places(_) => 0,
    };
    let laid = look.outcome.places.len() + left_out;
    let left = usize::try_from(cut).unwrap_or(0).saturating_sub(laid);
    if look.outcome.board.is_err() || left == 0 {
        return None;
    }
    let says = format!("{left} of the {cut} strips that are cut are not laid");
    let mends = "lay them, leave them out by name, or cut fewer".to_owned();
    Some(found("strips left over", Note, Subject::Board, says, mends))
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
