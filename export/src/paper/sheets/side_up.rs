//! The side of the board that is up, drawn with its cuts: on the CNC with clamps, pins, strips of waste and the datum.
//!
//! Must not work anything out about the set-up.

use super::strokes::{WORDS, arrow, dashed, hatched, on_white};
use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Path, Side, Tone};
use crate::paper::text::{Block, Style};
use crate::words::Told;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::{Cutting, Up, pins, waste};

/// How high a side is drawn at most, and what is left free round it for clamps, pins and axes, mm of paper.
const HIGH: f64 = 60.0;
const ROUND: f64 = 14.0;
/// How wide a strip of waste is drawn, mm.
const STRIP: f64 = 14.0;

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
            side.strips(true, page);
            side.pins(page);
            side.clamps_flat(page);
        }
    }
    side.axes(page);
    flow.small(if first.cut.levels() { "drawn-cnc-level" } else { "drawn-cnc" }, &[]);
}

/// A side of the stock on paper.
pub(super) struct SideUp<'a> {
    shop: &'a Shop<'a>,
    first: &'a Cutting,
    cuttings: &'a [&'a Cutting],
    left: f64,
    top: f64,
    s: f64,
}

impl<'a> SideUp<'a> {
    /// One at a corner of the paper, so many mm of it to one of the board.
    pub(super) const fn at_scale(
        shop: &'a Shop<'a>,
        cuttings: &'a [&'a Cutting],
        first: &'a Cutting,
        [left, top]: [f64; 2],
        s: f64,
    ) -> Self {
        Self { shop, first, cuttings, left, top, s }
    }

    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.s, self.top + (self.first.stock[1] - y) * self.s]
    }

    fn word(&self, key: &str) -> String {
        self.shop.words.say(key)
    }

    /// The stock, what is cut pale, deeper between an outline's tabs.
    pub(super) fn stock(&self, page: &mut Page) {
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
            // Beside the stock there is room for its number alone.
            let beside = high[0] <= 0.0 || low[0] >= stock[0];
            let name = if beside { (i + 1).to_string() } else { self.clamp(i) };
            let middle = [x + size[0] / 2.0, y + size[1] / 2.0 + WORDS * 0.36];
            on_white(page, &name, middle, Side::Middle);
        }
    }

    fn clamp(&self, i: usize) -> String {
        format!("{} {}", self.word("drawn-clamp"), i + 1)
    }

    /// Strips of waste, named or only hatched, along the openings in each side that is opened.
    pub(super) fn strips(&self, named: bool, page: &mut Page) {
        let stock = self.first.stock;
        let deep = STRIP.min((ROUND - 3.0) / self.s);
        for (side, reach) in waste(self.cuttings).into_iter().enumerate() {
            let Some([from, to]) = reach else { continue };
            let (corner, size) = match side {
                0 => (self.at(-deep, to), [deep, to - from]),
                1 => (self.at(stock[0], to), [deep, to - from]),
                2 => (self.at(from, 0.0), [to - from, deep]),
                _ => (self.at(from, stock[1] + deep), [to - from, deep]),
            };
            let size = size.map(|long| long * self.s);
            hatched(page, corner, size);
            let middle = [corner[0] + size[0] / 2.0, corner[1] + size[1] / 2.0 + WORDS * 0.36];
            if named {
                on_white(page, &self.word("drawn-waste"), middle, Side::Middle);
            }
        }
    }

    /// Two stop pins at the edge along X, one at the end along Y.
    fn pins(&self, page: &mut Page) {
        const PIN: f64 = 1.8;
        let all: Vec<Cutting> = self.shop.given.programs.iter().map(|(cutting, _)| cutting.clone()).collect();
        let [left, right, end] = pins(&all, self.first.stock).map(|pin| self.at(pin.x, pin.y));
        for [x, y] in [left, right] {
            page.circle([x, y + PIN], PIN, 0.3, Some(Tone::White));
        }
        page.circle([end[0] - PIN, end[1]], PIN, 0.3, Some(Tone::White));
    }

    fn axes(&self, page: &mut Page) {
        let [x, y] = self.at(0.0, 0.0);
        page.circle([x, y], 1.8, 0.3, None);
        arrow(page, [x, y + 6.5], [x + 14.0, y + 6.5]);
        let out = if matches!(self.first.up, Up::Edge(_)) { 6.5 } else { 12.5 };
        arrow(page, [x - out, y], [x - out, y - 14.0]);
        page.text("X", [x + 15.0, y + 6.5 + WORDS * 0.36], WORDS, Side::Start);
        // Beside its arrow: above it clamps are named.
        page.text("Y", [x - out - 2.0, y - 14.0 + WORDS * 0.72], WORDS, Side::End);
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
