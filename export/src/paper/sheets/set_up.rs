//! The router table drawn beside its steps: from above, and across the feed.
//!
//! Figures are numbers of the report, as shown; must not work anything out about the set-up.

use super::strokes::{WORDS, arrow, chain, dashed, hatched, on_white};
use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Path, Side, Tone};
use crate::paper::text::{Block, Style};
use crate::wording::place;
use crate::words::Told;
use quarterturn_geometry::cut::Handhold;
use quarterturn_geometry::path::RouterSetup;

/// How far fence and blocks run on beyond the board, and how deep they are drawn, mm of the bench.
pub(super) const BEYOND: f64 = 30.0;
const DEEP: f64 = 22.0;

/// The figures that the drawing shows: a handhold's numbers by name.
pub(super) type Figure<'a> = &'a dyn Fn(&str) -> String;

/// The table from above, the maker at the foot of the drawing, to scale.
pub(super) fn above(shop: &Shop, hold: &Handhold, setup: &RouterSetup, figure: Figure, flow: &mut Flow) {
    let size = shop.board.finished();
    let long = hold.edge.length(&size);
    let (fences, thick) = as_it_is(shop, setup);
    let (first, last) = ends(&fences);
    let [left, right] = [-setup.left_hand_stop, setup.right_hand_stop];
    let wide = right - left + 2.0 * BEYOND;
    let s = (flow.room() / wide).min(1.0);
    let (behind, before) = ((last + DEEP) * s, (thick - first) * s);
    let chains = 28.5;
    let top = flow.take(behind + before + chains + 2.0);
    let words = ["fence", "starting-stop", "left-block", "hand", "feed", "you"];
    let [fence, start, block, hand, feed, you] = words.map(|key| shop.words.say(&format!("drawn-{key}")));
    let page = flow.page();
    let from = MARGIN + (page.size[0] - 2.0 * MARGIN - wide * s) / 2.0;
    let x = |mm: f64| from + (mm - left + BEYOND) * s;
    let y = |mm: f64| top + behind + mm * s;
    hatched(page, [from, y(-first - DEEP)], [wide * s, DEEP * s]);
    on_white(page, &fence, [x(right) - 2.0, y(-first - DEEP / 2.0) + WORDS * 0.36], Side::End);
    for moved in fences.iter().skip(1) {
        dashed(page, vec![[from, y(-moved)], [from + wide * s, y(-moved)]], false);
    }
    if setup.fences.len() > 1 {
        // One above another: two places lie closer than a letter is high.
        let last = place(setup.fences.len() - 1);
        let name = if setup.fences.len() > 2 { format!("A … {last}") } else { format!("A, {last}") };
        on_white(page, &name, [from + 2.0, y(-first - DEEP / 2.0) + WORDS * 0.36], Side::Start);
    }
    let board = |from: f64| {
        vec![
            [x(from), y(-first)],
            [x(from + long), y(-first)],
            [x(from + long), y(thick - first)],
            [x(from), y(thick - first)],
        ]
    };
    page.path(Path { closed: true, ..Path::open(board(right - long), 0.45, Tone::Black) });
    dashed(page, board(left), true);
    for at in [right, left - DEEP] {
        page.filled([x(at), y(-first)], [DEEP * s, thick * s], Tone::Pale);
        page.rectangle([x(at), y(-first)], [DEEP * s, thick * s], 0.45);
    }
    page.circle([x(0.0), y(0.0)], setup.half_width * s, 0.45, Some(Tone::White));
    let cross = setup.half_width * s + 1.6;
    page.line([x(0.0) - cross, y(0.0)], [x(0.0) + cross, y(0.0)], 0.15, Tone::Black);
    page.line([x(0.0), y(-first)], [x(0.0), y(thick - first)], 0.15, Tone::Black);
    for at in [right - 18.0, right - long + 18.0] {
        on_white(page, &hand, [x(at), y(thick / 2.0 - first) + WORDS * 0.36], Side::Middle);
    }
    // Words first, the lines of the distances below them.
    let under = y(thick - first);
    let below = under + 6.0;
    let rho = setup.half_width;
    chain(
        page,
        &[x(left), x(0.0), x(right)],
        below,
        under + 12.0,
        &[figure("left-hand stop"), figure("right-hand stop")],
    );
    let nearer = [figure("left-hand stop from nearer edge"), String::new(), figure("right-hand stop from nearer edge")];
    chain(page, &[x(left), x(-rho), x(rho), x(right)], below, under + 21.0, &nearer);
    on_white(page, &start, [from + wide * s, under + 4.0], Side::End);
    on_white(page, &block, [from, under + 4.0], Side::Start);
    arrow(page, [x(0.0) + 14.0, under + 3.0], [x(0.0) - 14.0, under + 3.0]);
    page.text(&feed, [x(0.0) - 16.0, under + 4.0], WORDS, Side::End);
    page.text(&you, [x(0.0), under + 27.5], WORDS, Side::Middle);
}

/// The fence's places and how thick the board is, before its faces are sanded.
fn as_it_is(shop: &Shop, setup: &RouterSetup) -> (Vec<f64>, f64) {
    let [upper, lower] = shop.job.still_to_sand(shop.board);
    (setup.fences.iter().map(|fence| fence + lower).collect(), shop.board.finished().thickness + upper + lower)
}

fn ends(all: &[f64]) -> (f64, f64) {
    (all.first().copied().unwrap_or_default(), all.last().copied().unwrap_or_default())
}

/// Fence, board and bit across the feed, at full size, with the bit's height in each pass.
pub(super) fn across(shop: &Shop, hold: &Handhold, setup: &RouterSetup, figure: Figure, flow: &mut Flow) {
    let (fences, thick) = as_it_is(shop, setup);
    let (fence, farthest) = ends(&fences);
    let several = setup.fences.len() > 1;
    let (_, deepest) = ends(&setup.heights);
    let high = (deepest * 2.0).clamp(20.0, 45.0);
    let named: Vec<String> = (1..=setup.heights.len())
        .map(|pass| {
            let name = shop.words.with("drawn-pass", &[("pass", Told::Count(pass))]);
            format!("{name} {}", figure(&format!("height {pass}")))
        })
        .collect();
    let labels: Vec<Block> = named.iter().map(|text| Block::of(text, Style::of(8.5), 60.0)).collect();
    let label_high = labels.iter().map(Block::height).fold(0.0, f64::max);
    let tall = high.max(label_high * labels.len() as f64);
    let top = flow.take(tall + if several { 18.0 } else { 10.0 });
    let page = flow.page();
    let left = MARGIN + 16.0;
    let foot = top + tall;
    let at = |x: f64, up: f64| [left + x, foot - up];
    hatched(page, at(-10.0, high), [10.0, high]);
    page.rectangle(at(0.0, high), [thick, high], 0.45);
    let profile = hold.before_its_rim().profile();
    for (k, height) in setup.heights.iter().enumerate().rev() {
        let side = |sign: f64| (0..=24).map(move |n| (sign, height * f64::from(n) / 24.0));
        let point = |(sign, down): (f64, f64)| at(fence + sign * profile.half_width(down), height - down);
        let mut points: Vec<[f64; 2]> = side(-1.0).map(point).collect();
        points.reverse();
        points.extend(side(1.0).map(point));
        let fill = (k + 1 == setup.heights.len()).then_some(Tone::Pale);
        page.path(Path { closed: true, fill, ..Path::open(points, 0.25, Tone::Black) });
    }
    page.line(at(-14.0, 0.0), at(thick + 14.0, 0.0), 0.7, Tone::Black);
    if several {
        let side = |sign: f64| (0..=24).map(move |n| (sign, deepest * f64::from(n) / 24.0));
        let point = |(sign, down): (f64, f64)| at(farthest + sign * profile.half_width(down), deepest - down);
        let mut points: Vec<[f64; 2]> = side(-1.0).map(point).collect();
        points.reverse();
        points.extend(side(1.0).map(point));
        dashed(page, points, true);
        let last = setup.fences.len();
        let rows = [(fence, 1, 14.0), (farthest, last, 6.0)];
        for (from, k, row) in rows {
            let says = format!("{}: {}", place(k - 1), figure(&format!("fence {k} unsanded")));
            chain(page, &[left, left + from], foot, foot + row, &[says]);
        }
    } else {
        chain(page, &[left, left + fence], foot, foot + 6.0, &[figure("fence unsanded")]);
    }
    for (k, (label, height)) in labels.iter().zip(&setup.heights).enumerate() {
        let middle = foot - label_high * (k as f64 + 0.5);
        let [x, y] = at(fence + setup.half_width, *height);
        page.line([x, y], [left + thick + 8.0, middle], 0.12, Tone::Grey);
        label.draw(page, [left + thick + 9.0, middle - label.height() / 2.0], Side::Start);
    }
    let last = place(setup.fences.len() - 1);
    let told = [("last", Told::Word(last.as_str()))];
    let says = if several { shop.words.with("drawn-across-moved", &told) } else { shop.words.say("drawn-across") };
    let beside = left + thick + 9.0 + labels.iter().map(Block::width).fold(0.0, f64::max) + 6.0;
    let caption = Block::of(&says, Style::small().toned(Tone::Grey), page.size[0] - MARGIN - beside);
    caption.draw(page, [beside, top], Side::Start);
}
