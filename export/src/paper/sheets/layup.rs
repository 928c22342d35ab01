//! The lay-up as a picture to lay strips by, before anything is trimmed: each strip numbered and turned as drawn, with
//! how the edge marks must look.

use super::{Flow, Shop};
use crate::lettering;
use crate::marked;
use crate::paper::flow::MARGIN;
use crate::paper::page::{Item, Page, Path, Side, Tone};
use crate::paper::text::{POINT, Style};
use crate::words::Told;
use quarterturn_geometry::board::{Board, EdgeMark};
use quarterturn_geometry::cut::Edge;
use quarterturn_geometry::measure::Length;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("layup-title");
    flow.say("layup-about", &[]);
    flow.together(|flow| {
        picture(shop, flow);
        flow.small("layup-drawn", &[]);
    });
    flow.step("layup-lay", &[]);
    flow.step("layup-compare", &[]);
    flow.say("layup-turns", &[]);
    flow.heading("layup-list");
    list(shop, flow);
}

/// The strips as they lie on the bench, before anything is trimmed, where they are drawn on the page.
struct Bench<'a> {
    shop: &'a Shop<'a>,
    board: &'a Board,
    /// The upper left corner of what all strips cover.
    corner: [f64; 2],
    scale: f64,
}

/// The face between its two edges, everything at one scale.
fn picture(shop: &Shop, flow: &mut Flow) {
    let board = shop.board.untrimmed();
    let size = board.finished();
    // A strip that is slid stands out beyond what all of them cover.
    let out = board.strips().iter().map(|strip| strip.y - board.cover()[0]);
    let beyond = board.strips().iter().map(|strip| strip.y + strip.slab.width - board.cover()[1]).fold(0.0, f64::max);
    let before = -out.fold(0.0, f64::min);
    let words = 5.0;
    let natural = size.width + beyond + before + 2.0 * size.thickness;
    let rest = words + 17.0;
    let scale = ((flow.room() - 16.0) / size.length).min((flow.high() * 0.56 - rest) / natural);
    let top = flow.take(natural * scale + rest);
    let left = MARGIN + (flow.room() - size.length * scale) / 2.0;
    let outline = top + words + size.thickness * scale + 8.0;
    let face = outline + beyond * scale;
    let sides = ["left", "right"].map(|side| shop.words.name("side", side));
    let [back, front] = [Edge::Back, Edge::Front].map(|edge| shop.words.name("layup-edge", edge.name()));
    let bench = Bench { shop, board: &board, corner: [left, face], scale };
    let page = flow.page();
    page.items.push(Item::Picture {
        picture: shop.pictures.laid.clone(),
        at: [left, face],
        size: [size.length * scale, size.width * scale],
    });
    for place in 0..board.strips().len() {
        bench.strip(page, place, outline);
    }
    bench.trims(page);
    let middle = face + size.width * scale / 2.0;
    page.upward(&sides[0], [left - 2.0, middle], 10.0 * POINT);
    page.upward(&sides[1], [left + size.length * scale + 5.0, middle], 10.0 * POINT);
    page.text(&back, [left, top + 3.6], 9.0 * POINT, Side::Start);
    bench.edge(page, Edge::Back, [left, top + words]);
    let below = face + (size.width + before) * scale + 4.0;
    bench.edge(page, Edge::Front, [left, below]);
    page.text(&front, [left, below + size.thickness * scale + 4.0], 9.0 * POINT, Side::Start);
}

impl Bench<'_> {
    /// A strip's outline, its turn on it, its number over all strips.
    fn strip(&self, page: &mut Page, place: usize, above: f64) {
        let ([left, face], scale) = (self.corner, self.scale);
        let (size, strip) = (self.board.finished(), &self.board.strips()[place]);
        let [from, to] = self.board.span(place).map(|x| left + x * scale);
        let (wide, middle) = (to - from, (from + to) / 2.0);
        let slid = strip.y - self.board.cover()[0];
        let high = strip.slab.width * scale;
        let top = face + (size.width - slid) * scale - high;
        page.line([to, top], [to, top + high], 0.15, Tone::White);
        page.rectangle([from, top], [wide, high], 0.2);
        let number = marked::number(self.board, place);
        let points = lettering::fitting(&number, wide * 0.85, 14.0 * POINT);
        page.text(&number, [middle, above - 2.0], points, Side::Middle);
        let turn = self.shop.words.name("turn", strip.place.turn.name());
        // Upward on the wood, as large as the strip allows between the trims.
        let trims = self.shop.board.trims();
        let [low, high] = [left + trims.left * scale, left + (trims.left + self.shop.board.finished().length) * scale];
        let (wide, middle) = match [from.max(low), to.min(high)] {
            [from, to] if to > from => (to - from, (from + to) / 2.0),
            _ => (wide, middle),
        };
        let points = (wide * 0.72).min(lettering::fitting(&turn, size.width * scale * 0.9, 20.0 * POINT));
        page.upward_on_wood(&turn, [middle + points * 0.365, face + size.width * scale / 2.0], points);
    }

    /// Where the board is trimmed once it is glued.
    fn trims(&self, page: &mut Page) {
        let ([left, face], trims) = (self.corner, self.shop.board.trims());
        let size = self.shop.board.finished();
        let [x, y] = [left + trims.left * self.scale, face + trims.back * self.scale];
        let [wide, high] = [size.length * self.scale, size.width * self.scale];
        let points = vec![[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]];
        page.path(Path { closed: true, ..Path::open(points.clone(), 0.7, Tone::White) });
        page.path(Path { closed: true, dashed: true, ..Path::open(points, 0.3, Tone::Black) });
    }

    /// An edge as it is seen from that side: the back folded out, Z down the page; the front with Z up.
    fn edge(&self, page: &mut Page, edge: Edge, [left, top]: [f64; 2]) {
        let (size, scale) = (self.board.finished(), self.scale);
        let [wide, high] = [size.length * scale, size.thickness * scale];
        page.rectangle([left, top], [wide, high], 0.3);
        for place in 0..self.board.strips().len() {
            let x = left + self.board.span(place)[1] * scale;
            page.line([x, top], [x, top + high], 0.12, Tone::Grey);
        }
        let down = |z: f64| if edge == Edge::Back { z } else { size.thickness - z };
        for mark in self.board.edge_marks(edge) {
            let within = self.board.span(mark.place).map(|x| x * scale);
            let moved = into(&mark, scale, within);
            for aside in if mark.double { &[-0.9, 0.9][..] } else { &[0.0] } {
                let at = |[x, z]: [f64; 2]| [x * scale + moved + aside, down(z) * scale];
                if let Some([a, b]) = marked::within([at(mark.from), at(mark.to)], [wide, high]) {
                    page.line([left + a[0], top + a[1]], [left + b[0], top + b[1]], 0.5, Tone::Black);
                }
            }
        }
    }
}

/// How far a mark is drawn aside, so that all of it is seen in its own strip.
fn into(mark: &EdgeMark, scale: f64, [low, high]: [f64; 2]) -> f64 {
    let half = if mark.double { 1.5 } else { 0.6 };
    let [a, b] = [mark.from[0] * scale, mark.to[0] * scale];
    let (least, most) = (a.min(b) - half, a.max(b) + half);
    if most - least > high - low { 0.0 } else { (low - least).max(0.0) - (most - high).max(0.0) }
}

fn list(shop: &Shop, flow: &mut Flow) {
    let staggered = shop.outcome.places.iter().any(|place| place.stagger != Length::ZERO);
    let several = shop.board.panels().len() > 1;
    let cell = |(i, place): (usize, &quarterturn_geometry::layup::Place)| {
        let turn = shop.words.name("turn", place.turn.name());
        let panel = if several { format!("{} ", shop.board.panels()[place.panel].name) } else { String::new() };
        let slid =
            if staggered { format!("  {}", shop.figure(&format!("place.{}.stagger", i + 1))) } else { String::new() };
        let strip = format!("{panel}{}", place.strip + 1);
        let told = [("place", Told::Count(i + 1)), ("strip", Told::Word(&strip)), ("turn", Told::Word(&turn))];
        format!("{}{slid}", shop.words.with("layup-cell", &told))
    };
    let cells: Vec<String> = shop.outcome.places.iter().enumerate().map(cell).collect();
    flow.columns(&cells, Style::of(10.0));
    if staggered {
        flow.small("layup-list-staggered", &[]);
    }
}
