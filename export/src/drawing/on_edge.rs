//! A board on edge in its vertical clamp, seen along the edge, the bit at its deepest: how high the edge stands, how far it
//! stands out of the clamp, what of the machine comes near it.
//!
//! Seen from the datum's end: Y to the left, Z up, all at one scale. Must not work anything out about the program, nor judge it.

use super::hatch::hatched;
use super::{Sheet, TEXT, THICK, THIN, TINT, caption, key};
use crate::edge_view::{EdgeView, Span};
use crate::ink::{self, Anchor};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::Program;
use svg::node::element::Group;

/// How high it is drawn at most, mm of paper.
const HIGH: f64 = 105.0;
/// Where the board's middle lies from the left, and where words beside it begin, mm of paper.
const MIDDLE: f64 = 58.0;
const WORDS: f64 = 98.0;
/// How far the view reaches to either side of the board's middle at most, mm of paper.
const ASIDE: f64 = 36.0;
/// What the board stands on, mm of paper.
const BED: f64 = 5.0;

/// The first cut of a program that has the board on edge, and where what is drawn below begins; nothing of one that lies flat.
pub(super) fn view(sheet: &Sheet, part: &Program, wide: f64) -> Option<(Group, f64)> {
    let value = |name: &str| sheet.numbers.get(&format!("{}.program.{name}", key(&part.cutting))).map(|n| n.value);
    let view = EdgeView::of(sheet.job, &part.cutting, value)?;
    let n = |name: &str| sheet.shown(&format!("{}.program.{name}", key(&part.cutting)));
    let (scale, highest, top) = (view.scale(HIGH, ASIDE), view.highest(), 8.0);
    // Y to the left of the board's middle, Z over what it stands on.
    let at = |y: f64, z: f64| [MIDDLE + (view.middle() - y) * scale, top + (highest - z) * scale];
    let upright = |[low, high]: Span| {
        let (a, b) = (at(high[0], high[1]), at(low[0], low[1]));
        (a, [b[0] - a[0], b[1] - a[1]])
    };
    let bed = at(0.0, 0.0)[1];
    let mut ink = Group::new().set("id", "on-edge").add(hatched([MIDDLE - ASIDE, bed], [2.0 * ASIDE, BED]));
    for jaw in view.jaws {
        let (corner, size) = upright(jaw);
        ink = ink.add(hatched(corner, size));
    }
    let known = view.spindle_known.then_some((view.spindle, THICK * 0.7, "#e6e6e6"));
    let drawn = [
        (view.board, THICK, TINT),
        (view.cut, THIN * 2.0, "white"),
        (view.bit, THICK * 0.7, "#d9d9d9"),
        (view.nut, THICK * 0.7, "#b9b9b9"),
    ];
    for (span, thick, fill) in drawn.into_iter().chain(known) {
        let (corner, size) = upright(span);
        ink = ink.add(ink::rectangle(corner, size, thick).set("fill", fill));
    }
    if !view.spindle_known {
        // What of the spindle stands above it is not known.
        let [low, high] = view.spindle;
        for y in [low[0], high[0]] {
            ink = ink.add(ink::line(at(y, low[1]), at(y, high[1]), THIN * 2.0).set("stroke-dasharray", "1.5 1.2"));
        }
    }
    let level = at(0.0, view.clear)[1];
    let line = ink::line([MIDDLE - ASIDE, level], [WORDS - 3.0, level], THIN * 2.0);
    ink = ink.add(line.set("stroke-dasharray", "3 1.5"));
    // What is said of the dashed line stands at its end.
    let end = view.middle() - (WORDS - 3.0 - MIDDLE) / scale;
    let says = says(sheet, part, &view, end, &n).map(|(z, y, says)| (z, at(y, 0.0)[0], says));
    ink = ink.add(beside(&says, |z| at(0.0, z)[1]));

    // How high the edge stands.
    let stands = view.board[1][1];
    let x = at(view.jaws[0][1][0], 0.0)[0] - 8.0;
    let [foot, edge] = [0.0, stands].map(|z| at(0.0, z)[1]);
    ink = ink.add(ink::line([x, foot], [x, edge], THIN));
    for y in [foot, edge] {
        ink = ink.add(ink::line([x - 1.2, y + 1.2], [x + 1.2, y - 1.2], THICK));
    }
    ink = ink.add(ink::line([x - 2.0, edge], [at(view.board[1][0], 0.0)[0] - 1.0, edge], THIN));
    ink = ink.add(ink::word(n("stock z"), [x - 2.0, f64::midpoint(foot, edge) + TEXT * 0.35], TEXT, Anchor::End));
    let text = format!(
        "Seen along the edge from the datum's end, the bit at its deepest; to one scale{}: \
         with the spindle standing, move it by hand over the whole cut and look whether anything of it comes near jaws or screws. \
         Checked: the edge and {} above it lie no higher than the tip can be raised; spindle, nut and bit keep out of wood and clamps as far as the plan gives them.",
        if view.spindle_known { "" } else { ", the spindle above the nut (dashed) not known" },
        n("safe height")
    );
    let bottom = bed + BED + 2.0;
    let (words, high) = caption(&text, [0.0, bottom], wide);
    Some((ink.add(words), bottom + high))
}

/// What is said beside it: of which height, from which Y the line to it begins, and the words.
fn says<'a>(
    sheet: &Sheet,
    part: &Program,
    view: &EdgeView,
    end: f64,
    n: &impl Fn(&str) -> &'a str,
) -> [(f64, f64, String); 7] {
    let unit = sheet.job.rule.unit_name();
    let written = |long: Length| format!("{} {unit}", sheet.job.rule.write(long));
    let half = |span: Span| f64::midpoint(span[0][1], span[1][1]);
    let clear = sheet.job.cnc.as_ref().map_or_else(String::new, |cnc| written(cnc.clear_height));
    let spindle = match n("spindle") {
        "" => "spindle: not given, so not checked".to_owned(),
        wide => format!("spindle's body, {wide} wide"),
    };
    let nut = match [n("nut"), n("nut height")] {
        ["", _] => "nut: no width given, so not checked".to_owned(),
        [wide, ""] => format!("nut, {wide} wide"),
        [wide, high] => format!("nut, {wide} wide, {high} below the spindle"),
    };
    let bit = match n("stick-out set") {
        "" => format!("bit, at least {} out of the nut", n("stick-out")),
        set => format!("bit, {set} out of the nut"),
    };
    let deepest = format!("deepest: {} below the edge", n(&format!("pass {}", part.depths.len())));
    let jaw = match view.ends {
        Some(above) if above.is_positive() => format!("clamp, up to {} above the edge", written(above)),
        Some(above) => format!("clamp: the edge stands {} out of it", written(-above)),
        None => "vertical clamp: the plan gives no place".to_owned(),
    };
    let out = f64::midpoint(view.board[1][1], view.bit[1][1]);
    let aside = f64::midpoint(view.jaws[1][0][0], view.jaws[1][1][0]);
    [
        (view.clear, end, format!("as high as the tip can be raised: {clear}")),
        (half(view.spindle), view.spindle[0][0], spindle),
        (half(view.nut), view.nut[0][0], nut),
        (out, view.bit[0][0], bit),
        (half(view.cut), view.cut[0][0], deepest),
        (half(view.jaws[1]), aside, jaw),
        (0.0, aside, "what its other edge stands on".to_owned()),
    ]
}

/// Words in a column beside what they speak of, each with a line to it, none over another; the highest first.
fn beside(all: &[(f64, f64, String)], at: impl Fn(f64) -> f64) -> Group {
    let mut sorted: Vec<&(f64, f64, String)> = all.iter().collect();
    sorted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut ink, mut free) = (Group::new(), f64::NEG_INFINITY);
    for (z, x, says) in sorted {
        let y = at(*z).max(free);
        free = y + TEXT * 1.3;
        ink = ink.add(ink::line([*x, at(*z)], [WORDS - 1.0, y], THIN));
        ink = ink.add(ink::word(says, [WORDS, y + TEXT * 0.35], TEXT, Anchor::Start));
    }
    ink
}
