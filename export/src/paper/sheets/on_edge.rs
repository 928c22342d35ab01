//! A board on edge on the CNC, seen along the edge: clamp, bit, nut and spindle beside it, all at one scale.
//!
//! Figures are numbers of the report, as shown; must not work anything out about the set-up.

use super::strokes::{dashed, hatched};
use super::{Flow, Shop};
use crate::edge_view::{EdgeView, Span};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Side, Tone};
use crate::paper::text::{Block, Style};
use crate::words::Told;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::Cutting;

/// How high it is drawn at most, how far to either side of the board's middle, and what the board stands on, mm of paper.
const HIGH: f64 = 76.0;
const ASIDE: f64 = 28.0;
const BED: f64 = 4.0;
/// How high the edge stands is written at the left.
const FIGURE: f64 = 24.0;

/// The view of a cut that has the board on edge; nothing of one that lies flat.
pub(super) fn view(cutting: &Cutting, deepest: &str, shop: &Shop, flow: &mut Flow) {
    let key = |name: &str| format!("{}.program.{name}", cutting.cut.key());
    let value = |name: &str| shop.given.numbers.get(&key(name)).map(|n| n.value);
    let Some(view) = EdgeView::of(shop.job, cutting, value) else { return };
    let s = view.scale(HIGH, ASIDE);
    let top = flow.take(view.highest() * s + BED + 4.0) + 2.0;
    let middle = MARGIN + FIGURE + ASIDE;
    let column = middle + ASIDE + 6.0;
    // What is said of the dashed line stands at its end.
    let end = view.middle() - (column - 3.0 - middle) / s;
    let says = says(shop, &view, end, &|name| shop.shown(&key(name)), deepest);
    let room = MARGIN + flow.room() - column;
    let page = flow.page();
    let at = |y: f64, z: f64| [middle + (view.middle() - y) * s, top + (view.highest() - z) * s];
    drawn(page, &view, &at, [middle - ASIDE, column - 3.0]);
    let mut free = f64::NEG_INFINITY;
    for (z, y, text) in &says {
        let block = Block::of(text, Style::of(9.5), room);
        let from = at(*y, *z);
        let to = (from[1] - block.height() / 2.0).max(free);
        free = to + block.height();
        page.line(from, [column - 1.0, to + block.height() / 2.0], 0.15, Tone::Black);
        block.draw(page, [column, to], Side::Start);
    }
    // How high the edge stands.
    let [x, foot] = at(view.board[1][0], 0.0);
    let (left, edge) = (middle - ASIDE - 3.0, at(0.0, view.board[1][1])[1]);
    page.line([left, foot], [left, edge], 0.2, Tone::Black);
    for y in [foot, edge] {
        page.line([left - 1.2, y + 1.2], [left + 1.2, y - 1.2], 0.45, Tone::Black);
    }
    page.line([left - 2.0, edge], [x - 1.0, edge], 0.15, Tone::Black);
    let block = Block::of(&shop.figure(&key("stock z")), Style::of(10.0), FIGURE);
    block.draw(page, [left - 2.0, f64::midpoint(foot, edge) - block.height() / 2.0], Side::End);
    flow.small(if view.spindle_known { "drawn-edge" } else { "drawn-edge-no-spindle-known" }, &[]);
}

/// Bed, jaws, board, cut, bit and what holds it.
fn drawn(page: &mut Page, view: &EdgeView, at: &impl Fn(f64, f64) -> [f64; 2], [left, right]: [f64; 2]) {
    let upright = |[low, high]: Span| {
        let (a, b) = (at(high[0], high[1]), at(low[0], low[1]));
        (a, [b[0] - a[0], b[1] - a[1]])
    };
    hatched(page, [left, at(0.0, 0.0)[1]], [2.0 * ASIDE, BED]);
    for jaw in view.jaws {
        let ([x, y], [wide, high]) = upright(jaw);
        let from = x.max(left);
        hatched(page, [from, y], [(x + wide).min(left + 2.0 * ASIDE) - from, high]);
    }
    let known = view.spindle_known.then_some((view.spindle, Tone::White));
    let spans = [(view.board, Tone::White), (view.cut, Tone::Pale), (view.bit, Tone::White), (view.nut, Tone::Pale)];
    for (span, fill) in spans.into_iter().chain(known) {
        let (corner, size) = upright(span);
        page.filled(corner, size, fill);
        page.rectangle(corner, size, 0.35);
    }
    if !view.spindle_known {
        let [low, high] = view.spindle;
        for y in [low[0], high[0]] {
            dashed(page, vec![at(y, low[1]), at(y, high[1])], false);
        }
    }
    let level = at(0.0, view.clear)[1];
    dashed(page, vec![[left, level], [right, level]], false);
}

/// What is said beside it, the highest first: of which height, at which Y the line to it begins, and the words.
fn says<'a>(
    shop: &Shop,
    view: &EdgeView,
    end: f64,
    n: &impl Fn(&str) -> &'a str,
    deepest: &str,
) -> Vec<(f64, f64, String)> {
    let words = shop.words;
    let half = |span: Span| f64::midpoint(span[0][1], span[1][1]);
    let one = |key: &str, name: &str, shown: &str| words.with(key, &[(name, Told::Figure(shown))]);
    let written = |key: &str, long: Length| one(key, "far", &shop.written(long));
    let clear = shop.job.cnc.as_ref().map_or_else(String::new, |cnc| written("drawn-edge-clear", cnc.clear_height));
    let spindle = match n("spindle") {
        "" => words.say("drawn-edge-no-spindle"),
        wide => one("drawn-edge-spindle", "wide", wide),
    };
    let nut = match [n("nut"), n("nut height")] {
        ["", _] => words.say("drawn-edge-no-nut"),
        [wide, ""] => one("drawn-edge-nut", "wide", wide),
        [wide, high] => {
            words.with("drawn-edge-nut-high", &[("wide", Told::Figure(wide)), ("high", Told::Figure(high))])
        }
    };
    let bit = match n("stick-out set") {
        "" => one("drawn-edge-bit-least", "out", n("stick-out")),
        out => one("drawn-edge-bit", "out", out),
    };
    let jaw = match view.ends {
        Some(above) if above.is_positive() => written("drawn-edge-jaw-above", above),
        Some(above) => written("drawn-edge-jaw", -above),
        None => words.say("drawn-edge-no-jaw"),
    };
    let out = f64::midpoint(view.board[1][1], view.bit[1][1]);
    let aside = f64::midpoint(view.jaws[1][0][0], view.jaws[1][1][0]);
    let mut says = vec![
        (view.clear, end, clear),
        (half(view.spindle), view.spindle[0][0], spindle),
        (half(view.nut), view.nut[0][0], nut),
        (out, view.bit[0][0], bit),
        (half(view.cut), view.cut[0][0], one("drawn-edge-deepest", "deep", deepest)),
        (half(view.jaws[1]), aside, jaw),
        (0.0, aside, words.say("drawn-edge-stands")),
    ];
    says.sort_by(|a, b| b.0.total_cmp(&a.0));
    says
}
