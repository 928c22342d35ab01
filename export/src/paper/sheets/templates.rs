//! Templates at 1:1: bars to check the printer, lengths to check stops by, corner radius, foot positions.
//!
//! A length is drawn as it is printed: brought down to the maker's rule.

use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Path, Side, Tone, arc};
use crate::paper::text::{Block, POINT, Style};
use crate::words::Told;
use quarterturn_geometry::measure::Rounding;
use quarterturn_geometry::numbers::Number;

/// How thick a bar's strokes are, and how high its end strokes, mm.
const STROKE: f64 = 0.25;
const END: f64 = 5.0;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("templates-title");
    flow.say("templates-about", &[]);
    for (key, long) in [("templates-bar-mm", 100.0), ("templates-bar-in", 4.0 * 25.4)] {
        let text = shop.words.say(key);
        bar(flow, &text, long);
    }
    lengths(shop, flow);
    corner(shop, flow);
    feet(shop, flow);
}

/// A length from outer edge to outer edge of its end strokes, what it is under it.
pub(super) fn bar(flow: &mut Flow, text: &str, long: f64) {
    let block = Block::of(text, Style::of(9.5), flow.room());
    let top = flow.take(END + 1.0 + block.height());
    let (x, middle) = (MARGIN, top + END / 2.0);
    let page = flow.page();
    for end in [x + STROKE / 2.0, x + long - STROKE / 2.0] {
        page.line([end, top], [end, top + END], STROKE, Tone::Black);
    }
    page.line([x, middle], [x + long, middle], STROKE, Tone::Black);
    block.draw(page, [x, top + END + 1.0], Side::Start);
}

/// Stops: of the saw, and of the router table from the bit's nearer edge.
fn lengths(shop: &Shop, flow: &mut Flow) {
    flow.heading("templates-stops");
    let mut all: Vec<(String, String)> = Vec::new();
    for from in &shop.outcome.panels {
        for tooth in ["near", "far"] {
            let label = format!("templates-stop-{tooth}");
            let name = shop.words.with(&label, &[("panel", Told::Word(&from.panel.name))]);
            all.push((name, format!("panel.{}.stop to {tooth} tooth", from.panel.name)));
        }
    }
    for (i, hold) in shop.job.handholds.iter().enumerate() {
        let edge = shop.words.name("edge", hold.edge.name());
        for side in ["right", "left"] {
            let name = shop.words.with(&format!("templates-{side}-block"), &[("edge", Told::Word(&edge))]);
            all.push((name, format!("handhold.{}.{side}-hand stop from nearer edge", i + 1)));
        }
    }
    // One bar for all that are as long.
    let mut bars: Vec<(Vec<String>, &Number)> = Vec::new();
    for (name, key) in all {
        let Some(number) = shop.given.numbers.get(&key) else { continue };
        match bars.iter_mut().find(|(_, bar)| bar.shown == number.shown) {
            Some((names, _)) => names.push(name),
            None => bars.push((vec![name], number)),
        }
    }
    for (names, number) in bars {
        let long = shop.job.rule.round(number.value, Rounding::Down).mm();
        let name = names.join("; ");
        let text = format!("{name}: {}", shop.words.figure(&number.shown));
        if long > 0.0 && long <= flow.room() {
            bar(flow, &text, long);
        } else {
            flow.paragraph(&shop.words.with("templates-too-long", &[("what", Told::Word(&name))]), Style::small(), 0.0);
        }
    }
    flow.small("templates-stops-say", &[]);
}

fn outline(page: &mut Page, points: Vec<[f64; 2]>) {
    page.path(Path::open(points, STROKE, Tone::Black));
}

/// The corner as it is before and after it is rounded.
fn corner(shop: &Shop, flow: &mut Flow) {
    let Some(radius) = shop.job.cuts.corner_radius.map(|r| r.mm()) else { return };
    let side = radius * 1.6 + 8.0;
    flow.heading("templates-corner");
    let top = flow.take(side);
    let page = flow.page();
    let square = vec![[MARGIN + radius, top], [MARGIN, top], [MARGIN, top + radius]];
    page.path(Path { dashed: true, ..Path::open(square, 0.15, Tone::Grey) });
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut points = vec![[MARGIN, top + side]];
    points.extend(arc([MARGIN + radius, top + radius], radius, [2.0 * quarter, 3.0 * quarter]));
    points.push([MARGIN + side, top]);
    outline(page, points);
    let text = format!("{}: {}", shop.words.say("outline-corners"), shop.words.figure(shop.shown("corners.radius")));
    Block::of(&text, Style::of(9.5), 80.0).draw(page, [MARGIN + radius + 4.0, top + radius], Side::Start);
}

/// One corner of the board with the middle of a foot's hole.
fn feet(shop: &Shop, flow: &mut Flow) {
    let Some(feet) = &shop.job.cuts.feet else { return };
    let [across, down] = feet.from_edges.map(|l| l.mm());
    flow.heading("templates-feet");
    let [wide, high] = foot_size([across, down]);
    let top = flow.take(high);
    let page = flow.page();
    foot(shop, page, [MARGIN, top], [across, down]);
    let says = Block::of(&shop.words.say("templates-feet-say"), Style::of(9.5), 70.0);
    says.draw(page, [MARGIN + wide + 6.0, top + 2.0 * POINT], Side::Start);
}

/// How large a foot's template is drawn: the words along its sides have room.
pub(super) fn foot_size(from_edges: [f64; 2]) -> [f64; 2] {
    from_edges.map(|from| (from + 15.0).max(58.0))
}

/// A corner of the board, which edge goes along which of its sides, and a cross at the middle of a foot's hole.
pub(super) fn foot(shop: &Shop, page: &mut Page, [left, top]: [f64; 2], [across, down]: [f64; 2]) {
    let [wide, high] = foot_size([across, down]);
    outline(page, vec![[left, top + high], [left, top], [left + wide, top]]);
    let [x, y] = [left + across, top + down];
    page.line([x - 5.0, y], [x + 5.0, y], STROKE, Tone::Black);
    page.line([x, y - 5.0], [x, y + 5.0], STROKE, Tone::Black);
    page.circle([x, y], 2.5, 0.15, None);
    let words = 8.0 * POINT;
    page.text(&shop.words.say("templates-feet-long"), [left + wide / 2.0 + 3.0, top + 4.0], words, Side::Middle);
    page.upward(&shop.words.say("templates-feet-short"), [left + 4.0, top + high / 2.0 + 3.0], words);
}
