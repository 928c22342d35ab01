//! Both ends of a panel lettered, each as seen standing at that end, and the witness triangle on its upper face.

use super::{Flow, Shop};
use crate::lettering;
use crate::paper::flow::MARGIN;
use crate::paper::page::{Item, Page, Side, Tone};
use crate::paper::text::{POINT, Style};
use crate::png;
use crate::words::Told;
use nalgebra::Point3;
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::stock::{HalfTurn, LaidBlank};
use std::rc::Rc;

pub(super) fn sheet(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    flow.sheet_of(shop.words.with("ends-title", &[("panel", Told::Word(&from.panel.name))]));
    flow.say("ends-about", &[]);
    for far in [false, true] {
        flow.heading(if far { "ends-far" } else { "ends-near" });
        end(from, far, flow);
    }
    flow.heading("ends-above");
    triangle(shop, from, flow);
    flow.step("ends-triangle", &[]);
    flow.heading("ends-how");
    how(shop, from, flow);
    flow.say("ends-turns", &[]);
    if from.panel.blanks.iter().any(|laid| laid.turn.quarter_roll) {
        flow.say("ends-quarter-roll", &[]);
    }
}

/// Widths of the blanks as they lie, mm.
fn widths(from: &FromPanel) -> Vec<f64> {
    from.panel.blanks.iter().map(|laid| laid.lying().width.mm()).collect()
}

/// One end: the blanks in a row, letters upright, a dot at the marked corner where it shows here.
fn end(from: &FromPanel, far: bool, flow: &mut Flow) {
    let widths = widths(from);
    let all: f64 = widths.iter().sum();
    let thick = from.panel.blanks.iter().map(|laid| laid.lying().thickness.mm()).fold(0.0, f64::max);
    let scale = ((flow.room() - 20.0) / all).min(26.0 / thick).min(1.0);
    let top = flow.take(thick * scale + 2.0);
    let left = MARGIN + (flow.room() - all * scale) / 2.0;
    let page = flow.page();
    let mut x = 0.0;
    for (laid, wide) in from.panel.blanks.iter().zip(&widths) {
        // Standing at the near end the first blank is at the right hand, at the far end at the left.
        let begin = if far { x } else { all - x - wide };
        let size = [wide * scale, laid.lying().thickness.mm() * scale];
        let corner = [left + begin * scale, top + thick * scale - size[1]];
        if let Some(picture) = wood(laid, far, scale) {
            page.items.push(Item::Picture { picture, at: corner, size });
        }
        page.rectangle(corner, size, 0.35);
        letter(page, &laid.blank.letter, corner, size);
        dot(page, laid, far, corner, size);
        x += wide;
    }
}

/// The wood of a blank's end as the plan says it is, by which its light corner is found.
fn wood(laid: &LaidBlank, far: bool, scale: f64) -> Option<Rc<[u8]>> {
    /// On paper, mm: 127 dots an inch.
    const PIXEL: f64 = 0.2;
    let pixel = PIXEL / scale;
    let picture = laid.end_picture(far, pixel)?;
    let mut bytes = Vec::new();
    png::write(&picture, pixel, &mut bytes).ok()?;
    Some(bytes.into())
}

fn letter(page: &mut Page, letter: &str, [x, y]: [f64; 2], [wide, high]: [f64; 2]) {
    let letter = lettering::plain(letter, 4);
    let size = lettering::fitting(&letter, wide * 0.6, 16.0 * POINT).min(high * 0.7);
    page.on_white(&letter, [x + wide / 2.0, y + high / 2.0 + size * 0.365], size, Side::Middle);
}

/// The marked corner's dot: it is on the blank's own near end alone.
fn dot(page: &mut Page, laid: &LaidBlank, far: bool, [x, y]: [f64; 2], [wide, high]: [f64; 2]) {
    let lying = laid.lying();
    let (w, t) = (lying.width.mm(), lying.thickness.mm());
    let z = if far { lying.length.mm() } else { 0.0 };
    for (u, v) in [(0.0, 0.0), (w, 0.0), (0.0, t), (w, t)] {
        if laid.turn.own(laid.blank.size, Point3::new(u, v, z)).coords.norm() > 1e-6 {
            continue;
        }
        let across = if far { u / w } else { 1.0 - u / w };
        let inset = 1.6_f64.min(wide / 4.0).min(high / 4.0);
        let at = [x + inset + across * (wide - 2.0 * inset), y + high - inset - v / t * (high - 2.0 * inset)];
        page.circle(at, inset * 0.8, 0.1, Some(Tone::White));
        page.circle(at, inset * 0.5, 0.1, Some(Tone::Black));
    }
}

/// The panel from above, its near end at the foot of the picture, the triangle across it.
fn triangle(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    const HIGH: f64 = 40.0;
    let widths = widths(from);
    let all: f64 = widths.iter().sum();
    let scale = ((flow.room() - 60.0) / all).min(0.5);
    let (wide, high) = (all * scale, HIGH.min(flow.left() - 12.0).max(24.0));
    let top = flow.take(high + 9.0) + 4.0;
    let left = MARGIN + (flow.room() - wide) / 2.0;
    let [near, far] = ["near-end", "far-end"].map(|key| shop.words.say(key));
    let page = flow.page();
    page.rectangle([left, top], [wide, high], 0.35);
    let mut x = wide;
    for (laid, own) in from.panel.blanks.iter().zip(&widths) {
        x -= own * scale;
        page.line([left + x, top], [left + x, top + high], 0.15, Tone::Grey);
        letter(page, &laid.blank.letter, [left + x, top + high - 9.0], [own * scale, 8.0]);
    }
    let [a, b, c] =
        [[left + 2.0, top + high - 10.0], [left + wide - 2.0, top + high - 10.0], [left + wide / 2.0, top + 3.0]];
    for (from, to) in [(a, b), (b, c), (c, a)] {
        page.line(from, to, 0.7, Tone::Black);
    }
    page.text(&far, [left + wide / 2.0, top - 1.2], 9.0 * POINT, Side::Middle);
    page.text(&near, [left + wide / 2.0, top + high + 3.8], 9.0 * POINT, Side::Middle);
}

fn how(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let slipped = from.panel.blanks.iter().any(|laid| laid.start.is_positive());
    let mut head = vec!["ends-place", "stock-letter", "ends-lies"];
    if slipped {
        head.push("ends-begins");
    }
    let head: Vec<String> = head.iter().map(|key| shop.words.say(key)).collect();
    let row = |(i, laid): (usize, &LaidBlank)| {
        let mut row = vec![i.to_string(), lettering::plain(&laid.blank.letter, 8), lies(shop, laid)];
        if slipped {
            row.push(shop.figure(&format!("panel.{}.blank.{i}.start", from.panel.name)));
        }
        row
    };
    let rows: Vec<Vec<String>> = (1..).zip(&from.panel.blanks).map(row).collect();
    flow.table(&head, &rows, Style::of(11.0));
}

fn lies(shop: &Shop, laid: &LaidBlank) -> String {
    let half = shop.words.name("turn", laid.turn.half.name());
    match (laid.turn.quarter_roll, laid.turn.half) {
        (false, _) => half,
        (true, HalfTurn::Rest) => shop.words.say("quarter-roll"),
        (true, _) => shop.words.with("quarter-roll-then", &[("turn", Told::Word(&half))]),
    }
}
