//! Numbers of the panels, the saw and the counts.

use super::Numbers;
use crate::job::{FromPanel, Job, Outcome};
use crate::measure::Length;
use crate::stock::AfterThird;

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    n.length(
        "strips.width",
        outcome.width.mm(),
        "s: as asked, else from the board's thickness, else the safe setting for the count",
    );
    n.length("saw.waste block", job.saw.waste_block.mm(), "the waste block that the plan fixes to a panel's far end");
    n.length("strips.kerf", job.saw.kerf.mm(), "b: what the blade takes");
    n.length("saw.least piece", job.saw.least_piece.mm(), "the least piece that may still be cut, strip included");
    for (i, from) in outcome.panels.iter().enumerate() {
        let key = |name: &str| format!("panel.{}.{name}", from.panel.name);
        size(from, n, key);
        glue_up(from, n);
        sawing(outcome, from, n, key);
        if job.measured.strips.get(i).copied().flatten().is_none() {
            chance(from, n, key);
            third(job, from, outcome.width, n, key);
        }
        counts(job, outcome, from, n);
    }
}

fn size(from: &FromPanel, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let panel = &from.panel;
    n.length(key("width"), panel.width().mm(), "W: the blanks' widths less what trues the two outer edges");
    n.length(
        key("thickness"),
        panel.thickness().mm(),
        "T: the thinnest blank less what is planed off after the glue-up; the mean of the four corners where measured",
    );
    n.length(key("length"), panel.length().mm(), "L: from the raw near end to the end of the shortest-reaching blank");
    if let Some(corners) = &panel.measured {
        n.hair(
            key("taper across"),
            corners.taper_across(),
            "how much thicker at the last blank's edge than at the first's",
        );
        n.hair(key("taper along"), corners.taper_along(), "how much thicker at the far end than at the near end");
    }
}

fn sawing(outcome: &Outcome, from: &FromPanel, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let (cut, width) = (&from.crosscut, outcome.width);
    n.length(
        key("lost first"),
        cut.lost_first.mm(),
        "q: lost before the first strip, the squaring cut's kerf included",
    );
    n.length(key("lost last"), cut.lost_last().mm(), "q_far: lost at the far end");
    n.count(
        key("strips wanted"),
        from.wanted.unwrap_or(from.cut),
        "strips that the plan wants of this panel; all that fit where it doesn't say",
    );
    n.count(key("strips that fit"), cut.count(width), "⌊(L − q − q_far + b) / (s + b)⌋");
    n.count(key("strips cut"), from.cut, "strips that are laid or left out; as counted where they were");
    n.length(key("used"), cut.used(from.cut, width).mm(), "q + N·s + (N − 1)·b + q_far");
    n.length(key("remains"), cut.slack(from.cut, width).mm(), "L less what the strips use");
    n.setting(
        key("stop"),
        cut.stop_for(width).mm(),
        "the stop's distance: s where the strip lies between stop and blade, s + b where it falls off the far side",
    );
    n.setting(key("stop to near tooth"), width.mm(), "s: the stop's distance from the blade's tooth nearer to it");
    n.setting(
        key("stop to far tooth"),
        (width + cut.kerf).mm(),
        "s + b: the stop's distance from the blade's tooth farther from it",
    );
    n.count(key("cuts needed"), cut.cuts_for(from.cut), "a last piece that is simply left needs no cut");
    n.count(
        key("safe cuts"),
        cut.safe_cuts(width),
        "⌊(L + waste block − q − least) / (s + b)⌋ + 1: cuts before the piece is too short to hold",
    );
    n.at_least(
        key("waste block needed"),
        cut.waste_block_for(from.cut, width).mm(),
        "how long a waste block makes every cut safe; 0 where none is needed",
    );
    for k in 0..from.cut.min(MOST_STRIPS) {
        n.length(
            format!("panel.{}.strip.{}.starts", from.panel.name, k + 1),
            (cut.station(k, width) - cut.lost_first).mm(),
            "k·(s + b): from the squared end to where the strip begins",
        );
    }
}

fn chance(from: &FromPanel, n: &mut Numbers, key: impl Fn(&str) -> String) {
    n.share(
        key("chance short"),
        from.spread.chance_short(),
        "Φ(−slack/σ): the chance that the last strip comes out narrow",
    );
    n.hair(key("spread"), from.spread.sigma, "σ of what remains: setting (×N), repeats (×√N), kerf, squaring, length");
    if let Some((stop, safe)) = from.safe_stop {
        n.at_most(
            key("safe stop"),
            stop.mm(),
            "the largest stop distance on the rule for which the chance stays under the limit",
        );
        n.at_most(key("safe width"), safe.mm(), "the strip's width at the safe stop");
        n.at_most(key("safe stop to near tooth"), safe.mm(), "the same from the blade's tooth nearer to the stop");
        let far = safe + from.crosscut.kerf;
        n.at_most(key("safe stop to far tooth"), far.mm(), "the same from the blade's tooth farther from the stop");
    }
}

/// What to measure once three strips are cut.
fn third(job: &Job, from: &FromPanel, width: Length, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let third = AfterThird::of(&from.crosscut, &job.saw.accuracy, from.cut, job.limits.short_chance, &job.rule);
    let Some(third) = third else { return };
    n.at_most(
        key("third stack"),
        third.stack.mm(),
        "the most that the first three strips, side by side, may measure for the wanted count to come out; more, and the stop must come in",
    );
    n.length(
        key("third mixed up"),
        ((width + from.crosscut.kerf) * 3).mm(),
        "what three strips measure where the stop was set for the far tooth and measured from the near one: each wider by a kerf",
    );
    n.count(key("third left"), third.left, "strips still to come after the third");
    n.at_least(
        key("third still lost"),
        third.still_lost.mm(),
        "kerfs and far end still lost then: what remains of the panel less this, over the strips still to come, is the widest that they can be",
    );
}

/// The blanks as they go into the glue-up, and what is taken off the panel after it.
fn glue_up(from: &FromPanel, n: &mut Numbers) {
    let panel = &from.panel;
    for (i, laid) in panel.blanks.iter().enumerate() {
        let key = |name: &str| format!("panel.{}.blank.{}.{name}", panel.name, i + 1);
        let size = laid.lying();
        n.length(key("width"), size.width.mm(), "the blank's width as it lies, milled");
        n.length(key("thickness"), size.thickness.mm(), "its thickness as it lies, milled");
        n.length(key("length"), size.length.mm(), "its length");
        if let Some(rough) = laid.blank.rough {
            n.length(key("rough width"), rough.width.mm(), "its width before milling");
            n.length(key("rough thickness"), rough.thickness.mm(), "its thickness before milling");
        }
        for (end, sapwood) in ["near", "far"].into_iter().zip(laid.sapwood().into_iter().flatten()) {
            let of = |side: &str| key(&format!("sapwood {end} {side}"));
            n.roughly(of("wide"), sapwood.wide, "how far sapwood reaches along its wide side at that end of the panel");
            n.roughly(of("thick"), sapwood.thick, "how far sapwood reaches along its thickness there");
        }
        if laid.start.is_positive() {
            n.length(key("start"), laid.start.mm(), "how far from the panel's near end it begins");
        }
    }
    let key = |name: &str| format!("panel.{}.{name}", panel.name);
    n.length(key("trued first"), panel.trued[0].mm(), "taken off the first blank's outer edge to true the panel");
    n.length(key("trued last"), panel.trued[1].mm(), "taken off the last blank's outer edge");
    n.length(key("planed lower"), panel.planed[0].mm(), "planed off the lower face after the glue-up");
    n.length(key("planed upper"), panel.planed[1].mm(), "planed off the upper face after the glue-up");
}

/// The most strips of one panel that are listed one by one.
const MOST_STRIPS: i64 = 2000;

/// How many rows the table of counts has on each side of the count that is cut.
const ROWS: i64 = 4;

fn counts(job: &Job, outcome: &Outcome, from: &FromPanel, n: &mut Numbers) {
    let taken = job.finishing.upper + job.finishing.lower;
    let ends = job.finishing.left + job.finishing.right;
    for row in from.crosscut.table((from.cut - ROWS).max(2), from.cut + ROWS, outcome.width) {
        if !row.widest.is_positive() {
            continue;
        }
        let key = |name: &str| format!("panel.{}.count.{}.{name}", from.panel.name, row.count);
        n.length(
            key("length"),
            (from.panel.thickness() * row.count - ends).mm().max(0.0),
            "finished length of a board of so many strips of this panel",
        );
        n.at_most(
            key("widest strip"),
            row.widest.mm(),
            "the widest strips that so many allow: (L − q − q_far − (N − 1)·b) / N",
        );
        n.at_most(key("thickness"), (row.widest - taken).mm().max(0.0), "finished thickness with those: s − f − g");
        n.at_most(key("remains"), row.remains.mm(), "what remains at the planned width; negative: so many don't fit");
        let kerfs = from.crosscut.kerf * (row.count - 1);
        n.length(
            key("waste"),
            (kerfs + from.crosscut.lost_first + from.crosscut.lost_last() + row.remains.max(Length::ZERO)).mm(),
            "of the panel's length: kerfs, both ends, and what remains at the planned width",
        );
        n.count(key("safe cuts"), row.safe, "how many of those cuts can be made before the piece is too short to hold");
    }
}
