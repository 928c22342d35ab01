//! Set-ups drawn beside their steps: the router table from above and across, and the side that is up on the CNC.
//!
//! Figures are numbers of the report, as shown; must not work anything out about the set-up.

use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Path, Side, Tone};
use crate::paper::text::{Block, POINT, Style};
use crate::wording::place;
use crate::words::Told;
use quarterturn_geometry::cut::Handhold;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::{Cutting, RouterSetup, Up};

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

fn ends(all: &[f64]) -> (f64, f64) {
    (all.first().copied().unwrap_or_default(), all.last().copied().unwrap_or_default())
}

/// Fence, board and bit across the feed, at full size, with the bit's height in each pass.
pub(super) fn across(shop: &Shop, hold: &Handhold, setup: &RouterSetup, figure: Figure, flow: &mut Flow) {
    let thick = shop.board.finished().thickness;
    let (fence, farthest) = ends(&setup.fences);
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
    flow.small(if several { "drawn-across-moved" } else { "drawn-across" }, if several { &told } else { &[] });
}

/// How high a side is drawn at most, and what is left free round it for clamps, pins and axes, mm of paper.
const HIGH: f64 = 60.0;
const ROUND: f64 = 14.0;
/// How wide a strip of waste is drawn, and how far it goes on beside the opening, mm.
const STRIP: f64 = 14.0;
const STRIP_MORE: f64 = 12.0;

/// The side that is up on the CNC, with what is cut, clamps, pins, strips of waste and the datum.
pub(super) fn on_the_cnc(cuttings: &[&Cutting], shop: &Shop, flow: &mut Flow) {
    let Some(first) = cuttings.first() else { return };
    let [long, wide, _] = first.stock;
    let s = ((flow.room() - 2.0 * ROUND - 10.0) / long).min(HIGH / wide).min(1.0);
    let above = if matches!(first.up, Up::Edge(_)) { 9.0 } else { ROUND };
    let top = flow.take(wide * s + above + 10.0) + above;
    let left = MARGIN + (flow.room() - long * s) / 2.0;
    let side = SideUp { shop, first, cuttings, left, top, s };
    let page = flow.page();
    match first.up {
        Up::Edge(_) => {
            // What ends below the edge that is up hides nothing of it.
            side.clamps_on_edge(page, false);
            side.stock(page);
            side.clamps_on_edge(page, true);
        }
        Up::Face(_) => {
            side.stock(page);
            side.strips(page);
            side.pins(page);
            side.clamps_flat(page);
        }
    }
    side.axes(page);
    flow.small(if first.cut.levels() { "drawn-cnc-level" } else { "drawn-cnc" }, &[]);
}

/// A side of the stock on paper.
struct SideUp<'a> {
    shop: &'a Shop<'a>,
    first: &'a Cutting,
    cuttings: &'a [&'a Cutting],
    left: f64,
    top: f64,
    s: f64,
}

impl SideUp<'_> {
    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.s, self.top + (self.first.stock[1] - y) * self.s]
    }

    fn word(&self, key: &str) -> String {
        self.shop.words.say(key)
    }

    /// The stock, what is cut pale, deeper between an outline's tabs.
    fn stock(&self, page: &mut Page) {
        let [long, wide, _] = self.first.stock;
        let size = [long * self.s, wide * self.s];
        if self.first.cut.levels() {
            // Round and round inward.
            for share in [0.06, 0.2, 0.34] {
                let inset = share * long.min(wide);
                let corner =
                    [[inset, inset], [inset, wide - inset], [long - inset, wide - inset], [long - inset, inset]];
                dashed(page, corner.map(|[x, y]| self.at(x, y)).to_vec(), true);
            }
            let [x, y] = self.at(long / 2.0, wide - 0.06 * long.min(wide));
            arrow(page, [x - 8.0, y], [x + 8.0, y]);
        }
        for cutting in self.cuttings.iter().filter(|cutting| !cutting.cut.levels()) {
            let fill = if cutting.cleared > 0.0 { Tone::Grey } else { Tone::Pale };
            for lines in cutting.openings() {
                for (k, line) in lines.iter().enumerate() {
                    let points = line.iter().map(|p| self.at(p.x, p.y)).collect();
                    let fill = Some(if k == 0 { fill } else { Tone::White });
                    page.path(Path { closed: true, fill, ..Path::open(points, 0.25, Tone::Black) });
                }
            }
        }
        page.rectangle(self.at(0.0, wide), size, 0.45);
    }

    /// Those that stand above the edge, or those that don't.
    fn clamps_on_edge(&self, page: &mut Page, above: bool) {
        let [_, wide, _] = self.first.stock;
        let room = [self.left - ROUND, self.left + self.first.stock[0] * self.s + ROUND];
        let all = self.shop.job.cnc.iter().flat_map(|cnc| &cnc.clamps).enumerate();
        for (i, held) in all.filter(|(_, held)| held.above.is_positive() == above) {
            let [from, to] = [held.from, held.to].map(|x| self.at(x.mm(), 0.0)[0].clamp(room[0], room[1]));
            let y = self.at(0.0, wide)[1];
            hatched(page, [from, y - 4.0], [to - from, wide * self.s + 8.0]);
            on_white(page, &self.clamp(i), [(from + to) / 2.0, y - 5.5], Side::Middle);
        }
    }

    fn clamps_flat(&self, page: &mut Page) {
        let out = (ROUND - 4.0) / self.s;
        let stock = self.first.stock;
        for (i, held) in self.shop.job.cnc.iter().flat_map(|cnc| &cnc.flat_clamps).enumerate() {
            let clip = |k: usize, long: Length| long.mm().clamp(-out, stock[k] + out);
            let [low, high] = [held.from, held.to].map(|p| [clip(0, p[0]), clip(1, p[1])]);
            let [x, y] = self.at(low[0], high[1]);
            let size = [(high[0] - low[0]) * self.s, (high[1] - low[1]) * self.s];
            hatched(page, [x, y], size);
            on_white(page, &self.clamp(i), [x + size[0] / 2.0, y + size[1] / 2.0 + WORDS * 0.36], Side::Middle);
        }
    }

    fn clamp(&self, i: usize) -> String {
        format!("{} {}", self.word("drawn-clamp"), i + 1)
    }

    /// Strips of waste along the openings in each side that is opened.
    fn strips(&self, page: &mut Page) {
        let stock = self.first.stock;
        let deep = STRIP.min((ROUND - 3.0) / self.s);
        for side in 0..4 {
            let axis = usize::from(side < 2);
            let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
            for cutting in self.cuttings.iter().filter(|cutting| cutting.opens()[side]) {
                let ([low, high], out) = (cutting.extent(), cutting.profile.at_surface() + STRIP_MORE);
                reach = [reach[0].min(low[axis] - out), reach[1].max(high[axis] + out)];
            }
            let [from, to] = [reach[0].max(0.0), reach[1].min(stock[axis])];
            if from >= to {
                continue;
            }
            let (corner, size) = match side {
                0 => (self.at(-deep, to), [deep, to - from]),
                1 => (self.at(stock[0], to), [deep, to - from]),
                2 => (self.at(from, 0.0), [to - from, deep]),
                _ => (self.at(from, stock[1] + deep), [to - from, deep]),
            };
            let size = size.map(|long| long * self.s);
            hatched(page, corner, size);
            let middle = [corner[0] + size[0] / 2.0, corner[1] + size[1] / 2.0 + WORDS * 0.36];
            on_white(page, &self.word("drawn-waste"), middle, Side::Middle);
        }
    }

    /// Two stop pins at the edge along X, one at the end along Y.
    fn pins(&self, page: &mut Page) {
        const PIN: f64 = 1.8;
        let [long, wide, _] = self.first.stock;
        for share in [0.15, 0.85] {
            let [x, y] = self.at(long * share, 0.0);
            page.circle([x, y + PIN], PIN, 0.3, Some(Tone::White));
        }
        let [x, y] = self.at(0.0, wide * 0.6);
        page.circle([x - PIN, y], PIN, 0.3, Some(Tone::White));
    }

    fn axes(&self, page: &mut Page) {
        let [x, y] = self.at(0.0, 0.0);
        page.circle([x, y], 1.8, 0.3, None);
        arrow(page, [x, y + 6.5], [x + 14.0, y + 6.5]);
        let out = if matches!(self.first.up, Up::Edge(_)) { 6.5 } else { 12.5 };
        arrow(page, [x - out, y], [x - out, y - 14.0]);
        page.text("X", [x + 15.0, y + 6.5 + WORDS * 0.36], WORDS, Side::Start);
        page.text("Y", [x - out, y - 15.0], WORDS, Side::Middle);
        page.text(&self.word("drawn-datum"), [x - 2.5, y + 6.5 + WORDS * 0.36], WORDS, Side::End);
    }
}

/// How deep each pass goes: a bar for each from the surface down, and the figures beside them.
pub(super) fn passes(shop: &Shop, depths: &[(f64, &str)], flow: &mut Flow) {
    const TALL: f64 = 14.0;
    const WIDE: f64 = 60.0;
    const MOST: usize = 24;
    let count = ("count", Told::Count(depths.len()));
    let text = match depths {
        // Of very many the first and the last are enough to check the machine by.
        [first, second, .., before, last] if depths.len() > MOST => {
            let named = [("first", first), ("second", second), ("before", before), ("last", last)];
            let told: Vec<(&str, Told)> =
                named.into_iter().map(|(name, depth)| (name, Told::Figure(depth.1))).chain([count]).collect();
            shop.words.with("cnc-passes-some", &told)
        }
        all => {
            let list: Vec<String> = all.iter().map(|(_, shown)| shop.words.figure(shown)).collect();
            format!("{} {}.", shop.words.with("cnc-passes", &[count]), list.join(", "))
        }
    };
    let each = (WIDE / depths.len().max(1) as f64).min(5.0);
    let across = each * depths.len() as f64;
    let block = Block::of(&text, Style::body(), flow.room() - across - 8.0);
    let top = flow.take(block.height().max(TALL + 1.0)) + 1.0;
    let page = flow.page();
    for (k, (share, _)) in depths.iter().enumerate() {
        let (at, size) = ([MARGIN + each * k as f64, top], [each, TALL * share]);
        page.filled(at, size, Tone::Pale);
        page.rectangle(at, size, 0.15);
    }
    page.line([MARGIN - 1.0, top], [MARGIN + across + 3.0, top], 0.45, Tone::Black);
    block.draw(page, [MARGIN + across + 6.0, top - 1.0], Side::Start);
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
