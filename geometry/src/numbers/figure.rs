//! Numbers of the figure: how far traced lines move, how far they miss each other at glue lines,
//! how a blank is ripped to one of them, what a fresh face changed.

use super::Numbers;
use crate::board::{Board, Face, FigureLine, Step};
use crate::job::{FromPanel, Outcome};
use crate::stock::LaidBlank;
use crate::wood::ends::{Between, HEARTWOOD, TracedLine};

/// Lines of one blank that are listed one by one, at most.
const MOST_LINES: usize = 60;

pub(super) fn add(outcome: &Outcome, n: &mut Numbers) {
    for from in &outcome.panels {
        for (i, laid) in from.panel.blanks.iter().enumerate() {
            let start = format!("panel.{}.blank.{}", from.panel.name, i + 1);
            if let Some(between) = laid.blank.figure.between() {
                wander(outcome, from, laid, between, &start, n);
            }
            rip(laid, &start, n);
        }
    }
    if let Ok(board) = &outcome.board {
        steps(board, n);
    }
}

/// The stations at which a panel's strips begin and end, in a blank's own w, mm.
fn cuts(outcome: &Outcome, from: &FromPanel, laid: &LaidBlank) -> Vec<[f64; 2]> {
    let width = outcome.width.mm();
    let in_blank = |station: f64| (station - laid.start.mm()).clamp(0.0, laid.blank.size.length.mm());
    let strip = |k: i64| from.crosscut.station(k, outcome.width).mm();
    // Which end of the blank lies at the near end doesn't matter to how far lines move.
    (0..from.cut).map(|k| [in_blank(strip(k)), in_blank(strip(k) + width)]).collect()
}

fn wander(outcome: &Outcome, from: &FromPanel, laid: &LaidBlank, between: &Between, start: &str, n: &mut Numbers) {
    let length = laid.blank.size.length.mm();
    let turned = laid.turn.own(laid.blank.size, nalgebra::Point3::origin()).z > 0.0;
    let own = |w: f64| if turned { length - w } else { w };
    let cuts = cuts(outcome, from, laid);
    let (mut most, mut most_in_strip) = (0.0_f64, 0.0_f64);
    let mut others = 0;
    for (i, line) in between.traced_lines().into_iter().enumerate().take(MOST_LINES) {
        let moved = |a: f64, b: f64| between.moved(line, a, b).unwrap_or_default();
        let whole = moved(0.0, length);
        let in_strip = cuts.iter().map(|[a, b]| moved(own(*a), own(*b)).abs()).fold(0.0, f64::max);
        let name = match line {
            TracedLine::Ring(..) => format!("ring {}", i + 1),
            TracedLine::Boundary(HEARTWOOD) => HEARTWOOD.to_owned(),
            TracedLine::Boundary(_) => {
                others += 1;
                format!("other {others}")
            }
        };
        n.length(
            format!("{start}.{name}.moves"),
            whole,
            "how far this line moves outward from the blank's near to its far end, in the mean; below 0 inward. Rings are counted from the innermost that is traced on either end",
        );
        n.length(
            format!("{start}.{name}.moves in a strip"),
            in_strip,
            "how far it moves between the two cut faces of one strip, where most",
        );
        (most, most_in_strip) = (most.max(whole.abs()), most_in_strip.max(in_strip));
    }
    n.length(format!("{start}.lines move"), most, "how far the line that moves most does so from end to end");
    n.length(
        format!("{start}.lines move in a strip"),
        most_in_strip,
        "the same between the two cut faces of one strip",
    );
    if let Some((moved, _)) = between.moved_by_fresh_face() {
        n.length(
            format!("{start}.fresh face moved"),
            moved,
            "how far rings lie from where the ends alone put them, where most, by the sections part-way",
        );
    }
}

fn rip(laid: &LaidBlank, start: &str, n: &mut Numbers) {
    let size = laid.blank.size;
    let size = [size.width.mm(), size.thickness.mm(), size.length.mm()];
    let Some(Ok(ripped)) = laid.blank.rip.as_ref().map(|rip| rip.of(&laid.blank.figure, size)) else { return };
    n.length(
        format!("{start}.rip near"),
        ripped.off[0],
        "what to rip off at the near end, so that the line runs out at the new corner",
    );
    n.length(format!("{start}.rip far"), ripped.off[1], "the same at the far end");
    n.length(
        format!("{start}.rip taper"),
        ripped.taper,
        "how much more is ripped off at the far end than at the near one",
    );
    n.at_most(
        format!("{start}.rip leaves"),
        ripped.left,
        "the width that is left once the other side is ripped parallel to the cut",
    );
    n.length(
        format!("{start}.rip off the line"),
        ripped.leaves,
        "how far the line leaves the cut between the ends, where most; above 0 into the wood that stays",
    );
}

fn steps(board: &Board, n: &mut Numbers) {
    let largest = |steps: &[Step]| steps.iter().map(|s| s.step.abs()).reduce(f64::max);
    for (face, name) in [(Face::Upper, "upper"), (Face::Lower, "lower")] {
        let mut worst: Option<(usize, Step)> = None;
        for place in 0..board.strips().len() {
            let steps = board.steps(place, face);
            let key = |what: &str| format!("place.{}.{name} {what}", place + 1);
            if let Some(step) = largest(&steps) {
                n.length(
                    key("step"),
                    step,
                    "how far traced lines miss each other at the glue line to the right where they should meet, where most",
                );
            }
            let heartwood: Vec<Step> =
                steps.iter().copied().filter(|step| step.line == FigureLine::Heartwood).collect();
            if let Some(step) = largest(&heartwood) {
                n.length(key("heartwood step"), step, "the same for the line where heartwood ends");
            }
            let most = steps.into_iter().max_by(|a, b| a.step.abs().total_cmp(&b.step.abs()));
            let more = |step: &Step| worst.is_none_or(|(_, known)| step.step.abs() > known.step.abs());
            if let Some(step) = most.filter(more) {
                worst = Some((place, step));
            }
        }
        if let Some((place, step)) = worst {
            n.length(
                format!("board.{name} largest step"),
                step.step.abs(),
                "the largest step of traced lines at any glue line of this face",
            );
            n.length(
                format!("board.{name} largest step from left"),
                board.span(place)[1],
                "where that is, from the board's left end",
            );
            n.length(format!("board.{name} largest step from front"), step.y, "where that is, from the board's front");
        }
    }
}
