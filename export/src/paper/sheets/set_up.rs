//! A handhold's set-up drawn beside its steps: the router table from above and across, and the edge on the CNC.
//!
//! Figures are numbers of the report, as shown; must not work anything out about the set-up.

use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Path, Side, Tone};
use crate::paper::text::{Block, POINT, Style};
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Handhold};
use quarterturn_geometry::path::{Cutting, RouterSetup};

/// How far fence and blocks run on beyond the board, and how deep they are drawn, mm of the bench.
pub(super) const BEYOND: f64 = 30.0;
const DEEP: f64 = 22.0;
/// Words and figures on a drawing.
const WORDS: f64 = 8.5 * POINT;

/// The figures that the drawing shows: a handhold's numbers by name.
pub(super) type Figure<'a> = &'a dyn Fn(&str) -> String;

/// The table from above, the maker at the foot of the drawing, to scale.
pub(super) fn above(shop: &Shop, hold: &Handhold, setup: &RouterSetup, figure: Figure, flow: &mut Flow) {
    let size = shop.board.finished();
    let (long, thick) = (hold.edge.length(&size), size.thickness);
    let (first, last) = ends(&setup.fences);
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
    for moved in setup.fences.iter().skip(1) {
        dashed(page, vec![[from, y(-moved)], [from + wide * s, y(-moved)]], false);
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

fn ends(all: &[f64]) -> (f64, f64) {
    (all.first().copied().unwrap_or_default(), all.last().copied().unwrap_or_default())
}

/// Fence, board and bit across the feed, at full size, with the bit's height in each pass.
pub(super) fn across(shop: &Shop, hold: &Handhold, setup: &RouterSetup, figure: Figure, flow: &mut Flow) {
    let thick = shop.board.finished().thickness;
    let (fence, _) = ends(&setup.fences);
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
    let top = flow.take(tall + 10.0);
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
    let key = if setup.fences.len() > 1 { "fence 1" } else { "fence" };
    chain(page, &[left, left + fence], foot, foot + 6.0, &[figure(key)]);
    for (k, (label, height)) in labels.iter().zip(&setup.heights).enumerate() {
        let middle = foot - label_high * (k as f64 + 0.5);
        let [x, y] = at(fence + setup.half_width, *height);
        page.line([x, y], [left + thick + 8.0, middle], 0.12, Tone::Grey);
        label.draw(page, [left + thick + 9.0, middle - label.height() / 2.0], Side::Start);
    }
    flow.small("drawn-across", &[]);
}

/// The edge that is up on the CNC, with the recess and the datum.
pub(super) fn on_the_cnc(cutting: &Cutting, shop: &Shop, flow: &mut Flow) {
    let Cut::Handhold(_) = cutting.cut else { return };
    let [long, wide, _] = cutting.stock;
    let s = ((flow.room() - 30.0) / long).min(1.0);
    let top = flow.take(wide * s + 16.0) + 3.0;
    let [datum, clamp] = ["datum", "clamp"].map(|key| shop.words.say(&format!("drawn-{key}")));
    let page = flow.page();
    let left = MARGIN + 20.0;
    let at = |x: f64, y: f64| [left + x * s, top + (wide - y) * s];
    page.rectangle(at(0.0, wide), [long * s, wide * s], 0.45);
    let rho = cutting.profile.at_surface();
    for path in &cutting.paths {
        let [low, high] = path.extent();
        let (radius, y) = (rho * s, [at(0.0, high.y + rho)[1], at(0.0, low.y - rho)[1]]);
        let middle = [at(low.x, low.y)[0], at(high.x, high.y)[0]];
        let quarter = std::f64::consts::FRAC_PI_2;
        let round = |x: f64, y: f64, from: f64| crate::paper::page::arc([x, y], radius, [from, from + quarter]);
        let points = [
            round(middle[1], y[0] + radius, -quarter),
            round(middle[1], y[1] - radius, 0.0),
            round(middle[0], y[1] - radius, quarter),
            round(middle[0], y[0] + radius, 2.0 * quarter),
        ];
        let shape = Path::open(points.concat(), 0.35, Tone::Black);
        page.path(Path { closed: true, fill: Some(Tone::Pale), ..shape });
    }
    for held in shop.job.cnc.iter().flat_map(|cnc| &cnc.clamps) {
        let [x, y] = at(held.from.mm(), wide);
        hatched(page, [x, y - 3.0], [(held.to - held.from).mm() * s, wide * s + 6.0]);
        on_white(page, &clamp, [x + 1.0, y - 4.0], Side::Start);
    }
    let [x, y] = at(0.0, 0.0);
    page.circle([x, y], 1.8, 0.3, None);
    arrow(page, [x, y + 4.0], [x + 14.0, y + 4.0]);
    arrow(page, [x - 4.0, y], [x - 4.0, y - 12.0]);
    page.text("X", [x + 15.0, y + 5.2], WORDS, Side::Start);
    page.text("Y", [x - 7.0, y - 10.0], WORDS, Side::End);
    page.text(&datum, [x - 4.0, y + 6.0], WORDS, Side::End);
    flow.small("drawn-cnc", &[]);
}

/// A rectangle with slanted lines.
fn hatched(page: &mut Page, [x, y]: [f64; 2], [wide, high]: [f64; 2]) {
    page.filled([x, y], [wide, high], Tone::White);
    page.rectangle([x, y], [wide, high], 0.45);
    let mut at = -high + 3.0;
    while at < wide {
        let (from, to) = (at.max(0.0), (at + high).min(wide));
        page.line([x + from, y + high - (from - at)], [x + to, y + high - (to - at)], 0.12, Tone::Grey);
        at += 3.0;
    }
}

fn on_white(page: &mut Page, text: &str, at: [f64; 2], side: Side) {
    page.on_white(text, at, WORDS, side);
}

fn dashed(page: &mut Page, points: Vec<[f64; 2]>, closed: bool) {
    page.path(Path { dashed: true, closed, ..Path::open(points, 0.35, Tone::Black) });
}

fn arrow(page: &mut Page, from: [f64; 2], to: [f64; 2]) {
    let long = (to[0] - from[0]).hypot(to[1] - from[1]).max(1e-9);
    let [u, v] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
    let neck = [to[0] - u * 2.6, to[1] - v * 2.6];
    page.line(from, neck, 0.5, Tone::Black);
    let head = vec![to, [neck[0] - v * 1.2, neck[1] + u * 1.2], [neck[0] + v * 1.2, neck[1] - u * 1.2]];
    page.path(Path { closed: true, fill: Some(Tone::Black), ..Path::open(head, 0.1, Tone::Black) });
}

/// Distances one after another: from each place a line down to the chain, between two of them the figure.
fn chain(page: &mut Page, places: &[f64], from: f64, row: f64, figures: &[String]) {
    for x in places {
        page.line([*x, from + 0.8], [*x, row + 1.2], 0.12, Tone::Black);
    }
    for (pair, figure) in places.windows(2).zip(figures) {
        page.line([pair[0], row], [pair[1], row], 0.2, Tone::Black);
        for (at, other) in [(pair[0], pair[1]), (pair[1], pair[0])] {
            let along = (other - at).signum() * 2.0;
            if (other - at).abs() > 6.0 {
                let head = vec![[at, row], [at + along, row - 0.7], [at + along, row + 0.7]];
                page.path(Path { closed: true, fill: Some(Tone::Black), ..Path::open(head, 0.1, Tone::Black) });
            }
        }
        if figure.is_empty() {
            continue;
        }
        let block = Block::of(figure, Style::of(9.0), 1e3);
        let middle = (pair[0] + pair[1]) / 2.0;
        let [wide, high] = [block.width(), block.height()];
        if wide + 6.0 < pair[1] - pair[0] {
            page.filled([middle - wide / 2.0 - 1.0, row - high / 2.0], [wide + 2.0, high], Tone::White);
            block.draw(page, [middle, row - high / 2.0], Side::Middle);
        } else {
            block.draw(page, [pair[1] + 2.0, row - high / 2.0], Side::Start);
        }
    }
}
