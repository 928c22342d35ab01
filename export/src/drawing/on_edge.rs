//! A board on edge in its vertical clamp, seen along the edge, the bit at its deepest: how high the edge stands, how far it
//! stands out of the clamp, what of the machine comes near it.
//!
//! Seen from the datum's end: Y to the left, Z up, all at one scale. Must not work anything out about the program, nor judge it.

use super::hatch::hatched;
use super::{Sheet, TEXT, THICK, THIN, TINT, caption, key};
use crate::ink::{self, Anchor};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::{Program, Up};
use svg::node::element::Group;

/// How high it is drawn at most, mm of paper.
const HIGH: f64 = 105.0;
/// Where the board's middle lies from the left, and where words beside it begin, mm of paper.
const MIDDLE: f64 = 58.0;
const WORDS: f64 = 98.0;
/// How high a nut is drawn where the plan doesn't say, how far up the spindle above it, and how wide a jaw, mm of the machine.
const NUT: f64 = 16.0;
const SPINDLE: f64 = 25.0;
const JAW: f64 = 40.0;
/// How far the view reaches to either side of the board's middle at most, mm of paper.
const ASIDE: f64 = 36.0;
/// What the board stands on, mm of paper.
const BED: f64 = 5.0;

/// The first cut of a program that has the board on edge, and where what is drawn below begins; nothing of one that lies flat.
pub(super) fn view(sheet: &Sheet, part: &Program, wide: f64) -> Option<(Group, f64)> {
    let (Up::Edge(_), Some(cnc)) = (part.cutting.up, sheet.job.cnc.as_ref()) else { return None };
    let [_, thick, stands] = part.cutting.stock;
    let n = |name: &str| sheet.shown(&format!("{}.program.{name}", key(&part.cutting)));
    let value = |name: &str| sheet.numbers.get(&format!("{}.program.{name}", key(&part.cutting))).map(|n| n.value);
    let depth = part.cutting.profile.depth;
    let out = value("stick-out set").or_else(|| value("stick-out")).unwrap_or(depth);
    let clear = cnc.clear_height.mm();
    let nut_high = cnc.spindle.map_or(NUT, |spindle| spindle.above_nut.mm());
    let highest = clear.max(stands - depth + out + nut_high + SPINDLE);
    let aside = cnc.spindle.map_or(ASIDE, |spindle| spindle.diameter.mm() / 2.0);
    let scale = (HIGH / highest).min(ASIDE / aside).min(1.0);
    let top = 8.0;
    // Y to the left of the board's middle, Z over what it stands on.
    let at = |y: f64, z: f64| [MIDDLE + (thick / 2.0 - y) * scale, top + (highest - z) * scale];
    let upright = |low: [f64; 2], high: [f64; 2]| {
        let (a, b) = (at(high[0], high[1]), at(low[0], low[1]));
        (a, [b[0] - a[0], b[1] - a[1]])
    };
    let bed = at(thick / 2.0, 0.0)[1];
    let mut ink = Group::new().set("id", "on-edge").add(hatched([MIDDLE - ASIDE, bed], [2.0 * ASIDE, BED]));

    let ends = cnc.clamps.iter().map(|clamp| clamp.above).reduce(Length::max);
    // Where the plan gives no clamp, one is drawn that holds the lower half.
    let jaw = stands + ends.map_or(-stands / 2.0, Length::mm);
    for side in [thick, -JAW] {
        let (corner, size) = upright([side, 0.0], [side + JAW, jaw.max(0.0)]);
        ink = ink.add(hatched(corner, size));
    }
    let (corner, size) = upright([0.0, 0.0], [thick, stands]);
    ink = ink.add(ink::rectangle(corner, size, THICK).set("fill", TINT));

    let [low, high] = part.cutting.extent().map(|p| p.y);
    let (rho, middle) = (part.cutting.profile.at_surface(), f64::midpoint(low, high));
    let (corner, size) = upright([low - rho, stands - depth], [high + rho, stands]);
    ink = ink.add(ink::rectangle(corner, size, THIN * 2.0).set("fill", "white"));

    let tip = stands - depth;
    let mut held = |half: f64, from: f64, high: f64, fill: &str| {
        let (corner, size) = upright([middle - half, from], [middle + half, from + high]);
        let shape = ink::rectangle(corner, size, THICK * 0.7).set("fill", fill);
        ink = std::mem::replace(&mut ink, Group::new()).add(shape);
    };
    let radius = part.cutting.bit.diameter.mm() / 2.0;
    held(radius, tip, out, "#d9d9d9");
    let nut = cnc.nut.map_or(radius, |nut| nut.mm() / 2.0);
    held(nut, tip + out, nut_high, "#b9b9b9");
    let body = tip + out + nut_high;
    if let Some(spindle) = cnc.spindle {
        held(spindle.diameter.mm() / 2.0, body, SPINDLE, "#e6e6e6");
    } else {
        // What of the spindle stands above it is not known.
        for y in [middle - nut, middle + nut] {
            let line = ink::line(at(y, body), at(y, body + SPINDLE), THIN * 2.0);
            ink = ink.add(line.set("stroke-dasharray", "1.5 1.2"));
        }
    }
    let level = at(0.0, clear)[1];
    let line = ink::line([MIDDLE - ASIDE, level], [WORDS - 3.0, level], THIN * 2.0);
    ink = ink.add(line.set("stroke-dasharray", "3 1.5"));

    let unit = sheet.job.rule.unit_name();
    let written = |long: Length| format!("{} {unit}", sheet.job.rule.write(long));
    let nut_says = match n("nut") {
        "" => "nut: no width given, so not checked".to_owned(),
        nut => format!("nut, {nut} wide"),
    };
    let out_says = match n("stick-out set") {
        "" => format!("bit, at least {} out of the nut", n("stick-out")),
        set => format!("bit, {set} out of the nut"),
    };
    let deepest = part.depths.len();
    let jaw_says = match ends {
        Some(above) if above.is_positive() => format!("clamp, up to {} above the edge", written(above)),
        Some(above) => format!("clamp: the edge stands {} out of it", written(-above)),
        None => "vertical clamp: the plan gives no place".to_owned(),
    };
    let (spindle, spindle_says) = match n("spindle") {
        "" => (nut, "spindle: not given, so not checked".to_owned()),
        wide => (
            value("spindle").unwrap_or_default() / 2.0,
            format!("spindle's body, {wide} wide, {} above the nut's end", n("nut height")),
        ),
    };
    let says = [
        (body + SPINDLE / 2.0, at(middle - spindle, 0.0)[0], spindle_says),
        (clear, MIDDLE + ASIDE + 1.0, format!("as high as the tip can be raised: {}", written(cnc.clear_height))),
        (tip + out + nut_high / 2.0, at(middle - nut, 0.0)[0], nut_says),
        (tip + out / 2.0 + depth / 2.0, at(middle - radius, 0.0)[0], out_says),
        (
            stands - depth / 2.0,
            at(low - rho, 0.0)[0],
            format!("deepest: {} below the edge", n(&format!("pass {deepest}"))),
        ),
        (jaw / 2.0, at(-JAW / 2.0, 0.0)[0], jaw_says),
        (0.0, MIDDLE + 30.0, "what its other edge stands on".to_owned()),
    ];
    ink = ink.add(beside(&says, |z| at(0.0, z)[1]));

    // How high the edge stands.
    let x = at(thick + JAW, 0.0)[0] - 8.0;
    let [foot, edge] = [0.0, stands].map(|z| at(0.0, z)[1]);
    ink = ink.add(ink::line([x, foot], [x, edge], THIN));
    for y in [foot, edge] {
        ink = ink.add(ink::line([x - 1.2, y + 1.2], [x + 1.2, y - 1.2], THICK));
    }
    ink = ink.add(ink::line([x - 2.0, edge], [at(thick, 0.0)[0] - 1.0, edge], THIN));
    ink = ink.add(ink::word(n("stock z"), [x - 2.0, f64::midpoint(foot, edge) + TEXT * 0.35], TEXT, Anchor::End));
    let text = format!(
        "Seen along the edge from the datum's end, the bit at its deepest; to one scale{}: \
         with the spindle standing, move it by hand over the whole cut and look whether anything of it comes near jaws or screws. \
         Checked: the edge and {} above it lie no higher than the tip can be raised; spindle, nut and bit keep out of wood and clamps as far as the plan gives them.",
        if cnc.spindle.is_some() { "" } else { ", the spindle above the nut (dashed) not known" },
        n("safe height")
    );
    let bottom = bed + BED + 2.0;
    let (words, high) = caption(&text, [0.0, bottom], wide);
    Some((ink.add(words), bottom + high))
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
