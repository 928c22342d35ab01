//! The lay-up as a picture to lay strips by: each strip numbered and turned as drawn, with how the edge marks must look.

use super::{Flow, Shop};
use crate::lettering;
use crate::marked;
use crate::paper::flow::MARGIN;
use crate::paper::page::{Item, Page, Side, Tone};
use crate::paper::text::{POINT, Style};
use quarterturn_geometry::cut::Edge;
use quarterturn_geometry::measure::Length;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("layup-title");
    flow.say("layup-about", &[]);
    picture(shop, flow);
    flow.step("layup-lay", &[]);
    flow.step("layup-compare", &[]);
    flow.heading("layup-list");
    list(shop, flow);
    flow.small("layup-turns", &[]);
}

/// The face between its two edges, everything at one scale.
fn picture(shop: &Shop, flow: &mut Flow) {
    let (size, glued) = (shop.board.finished(), shop.board.glued());
    let words = 5.0;
    let natural = size.width + 2.0 * glued.thickness;
    let rest = 2.0 * words + 24.0;
    let scale = ((flow.room() - 16.0) / glued.length).min((flow.high() * 0.62 - rest) / natural);
    let high = natural * scale + rest;
    let top = flow.take(high);
    let left = MARGIN + (flow.room() - size.length * scale) / 2.0;
    let face = top + words + glued.thickness * scale + 8.0;
    let sides = ["back", "front", "left", "right"].map(|side| shop.words.name("edge", side));
    let [back, front] = [Edge::Back, Edge::Front].map(|edge| shop.words.name("layup-edge", edge.name()));
    let page = flow.page();
    let picture = Item::Picture {
        picture: shop.pictures.upper.clone(),
        at: [left, face],
        size: [size.length * scale, size.width * scale],
    };
    page.items.push(picture);
    page.rectangle([left, face], [size.length * scale, size.width * scale], 0.2);
    for place in 0..shop.board.strips().len() {
        strip(shop, page, place, [left, face], scale);
    }
    let middle = face + size.width * scale / 2.0;
    page.upward(&sides[2], [left - 2.0, middle], 10.0 * POINT);
    page.upward(&sides[3], [left + size.length * scale + 5.0, middle], 10.0 * POINT);
    page.text(&back, [left, top + 3.6], 9.0 * POINT, Side::Start);
    edge(shop, page, Edge::Back, [left, top + words], scale);
    let below = face + size.width * scale + 12.0;
    edge(shop, page, Edge::Front, [left, below], scale);
    page.text(&front, [left, below + glued.thickness * scale + 4.0], 9.0 * POINT, Side::Start);
}

fn strip(shop: &Shop, page: &mut Page, place: usize, [left, face]: [f64; 2], scale: f64) {
    let [from, to] = shop.board.span(place).map(|x| left + x * scale);
    let (wide, middle) = (to - from, (from + to) / 2.0);
    let number = marked::number(shop.board, place);
    let size = lettering::fitting(&number, wide * 0.85, 14.0 * POINT);
    page.text(&number, [middle, face - 2.0], size, Side::Middle);
    let turn = shop.words.name("turn", shop.board.strips()[place].place.turn.name());
    let high = shop.board.finished().width * scale;
    page.line([to, face], [to, face + high], 0.15, Tone::White);
    // Upward on the wood, as large as the strip allows.
    let size = (wide * 0.72).min(lettering::fitting(&turn, high * 0.9, 20.0 * POINT));
    let at = [middle + size * 0.365, face + high / 2.0];
    page.upward_on_wood(&turn, at, size);
}

/// An edge as it is seen from that side: the back folded out, Z down the page; the front with Z up.
fn edge(shop: &Shop, page: &mut Page, edge: Edge, [left, top]: [f64; 2], scale: f64) {
    let (size, glued, trims) = (shop.board.finished(), shop.board.glued(), shop.board.trims());
    let [wide, high] = [size.length * scale, glued.thickness * scale];
    page.rectangle([left, top], [wide, high], 0.3);
    for place in 0..shop.board.strips().len() {
        let x = left + shop.board.span(place)[1] * scale;
        page.line([x, top], [x, top + high], 0.12, Tone::Grey);
    }
    let down = |z: f64| match edge {
        Edge::Back => z + trims.lower,
        _ => size.thickness + trims.upper - z,
    };
    for mark in shop.board.edge_marks(edge) {
        for aside in if mark.double { &[-0.9, 0.9][..] } else { &[0.0] } {
            let at = |[x, z]: [f64; 2]| [x * scale + aside, down(z) * scale];
            if let Some([a, b]) = marked::within([at(mark.from), at(mark.to)], [wide, high]) {
                page.line([left + a[0], top + a[1]], [left + b[0], top + b[1]], 0.5, Tone::Black);
            }
        }
    }
}

fn list(shop: &Shop, flow: &mut Flow) {
    let staggered = shop.outcome.places.iter().any(|place| place.stagger != Length::ZERO);
    let several = shop.board.panels().len() > 1;
    let cell = |(i, place): (usize, &quarterturn_geometry::layup::Place)| {
        let turn = shop.words.name("turn", place.turn.name());
        let panel = if several { format!("{} ", shop.board.panels()[place.panel].name) } else { String::new() };
        let slid =
            if staggered { format!("  {}", shop.figure(&format!("place.{}.stagger", i + 1))) } else { String::new() };
        format!("{}:  {panel}{}  {turn}{slid}", i + 1, place.strip + 1)
    };
    let cells: Vec<String> = shop.outcome.places.iter().enumerate().map(cell).collect();
    flow.small(if staggered { "layup-list-staggered" } else { "layup-list-says" }, &[]);
    flow.columns(&cells, Style::of(10.0));
}
