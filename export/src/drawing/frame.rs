//! A frame for the plunge router at 1:1: the opening that its guide bush or its base rides in, on the side that is up.
//!
//! ```text
//!   ┌ board ──────────────┐
//!   │  ╭─ opening ──────╮ │   the bit's way dashed; the cut's rim thin
//!   │  ╰────────────────╯ │
//!   └─────────────────────┘
//! ```
//! Frame: the program's X to the right, its Y up the page. Must not work anything out about the set-up.

use super::dimension::Chain;
use super::{Block, Drawing, MARGIN, Sheet, THICK, THIN, TINT, caption, key, title};
use crate::ink;
use quarterturn_geometry::cut::Rounded;
use quarterturn_geometry::path::{Cutting, Frame, Up};
use svg::node::element::{Group, Rectangle};

pub(super) fn sheet(sheet: &Sheet, cutting: &Cutting) -> Option<Drawing> {
    let frame = Frame::of(cutting, &sheet.job.plunge_router)?;
    let block = draw(sheet, cutting, &frame);
    let across = block.width.max(title::NARROWEST);
    let lines = [
        "Heavy line: the opening. Thin: the board and the cut's rim.".to_owned(),
        "Dashed: where the bit's centre goes.".to_owned(),
    ];
    let foot = title::with(sheet, across, &lines);
    let (says, high) = caption(&says(sheet, cutting, &frame), [0.0, 0.0], across);
    let (mut y, mut group) = (MARGIN, ink::lettered());
    for (ink, high) in [(says, high), (block.ink, block.height), (foot.ink, foot.height)] {
        group = group.add(ink.set("transform", format!("translate({} {})", ink::mm(MARGIN), ink::mm(y))));
        y += high + 6.0;
    }
    let (width, height) = (ink::mm(across + 2.0 * MARGIN), ink::mm(y + MARGIN - 6.0));
    let paper = Rectangle::new().set("width", width).set("height", height).set("fill", "white");
    Some(Drawing { svg: format!("{}\n", ink::page(width, height).add(paper).add(group)), width, height })
}

fn says(sheet: &Sheet, cutting: &Cutting, frame: &Frame) -> String {
    let n = |name: &str| sheet.shown(&format!("{}.frame.{name}", key(cutting)));
    let rides = if frame.by_bush { "the guide bush" } else { "the router's round base" };
    let on_edge = matches!(cutting.up, Up::Edge(_));
    let clamped = if on_edge {
        "The board clamped upright between two squared boards, their upper edges level with its own; the frame screwed to them."
    } else {
        "The board clamped flat; the frame clamped or taped on it, level, and held so that it can't creep."
    };
    format!(
        "Frame for a plunge router, {}: {rides} rides in an opening {} long and {} wide, its corner radius {}, {} from the \
         bit's centre all round. {clamped} Move clockwise round inside the opening, so that the bit pulls itself to the frame; \
         light passes; let the bit stop before the router is lifted. First on scrap. The router's manual and people who teach \
         it come first.",
        cutting.name,
        n("length"),
        n("width"),
        n("corner"),
        n("offset")
    )
}

fn draw(sheet: &Sheet, cutting: &Cutting, frame: &Frame) -> Block {
    let [long, wide, _] = cutting.stock;
    let (low, high) = (frame.low.x.min(0.0), frame.high.x.max(long));
    let (down, up) = (frame.low.y.min(0.0), frame.high.y.max(wide));
    let top = 14.0;
    let rectangle = |[x0, y0]: [f64; 2], [x1, y1]: [f64; 2], thick: f64| {
        ink::rectangle([x0 - low, top + up - y1], [x1 - x0, y1 - y0], thick)
    };
    let mut ink = Group::new().add(rectangle([0.0, 0.0], [long, wide], THICK).set("fill", TINT));
    let [from, to] = cutting.extent();
    let radius = frame.corner - frame.offset;
    for (out, thick, dashes) in [(cutting.profile.at_surface(), THIN * 1.5, None), (0.0, THIN * 1.5, Some("2.2 1.2"))] {
        let way = Rounded { low: from, high: to, radius: 0.0 }.inset(-out);
        let mut shape =
            rectangle([way.low.x, way.low.y], [way.high.x, way.high.y], thick).set("rx", ink::mm(radius + out));
        if let Some(dashes) = dashes {
            shape = shape.set("stroke-dasharray", dashes);
        }
        ink = ink.add(shape);
    }
    let opening = rectangle([frame.low.x, frame.low.y], [frame.high.x, frame.high.y], THICK * 1.6);
    ink = ink.add(opening.set("rx", ink::mm(frame.corner)));
    let shown = sheet.shown(&format!("{}.frame.length", key(cutting))).to_owned();
    let chain = Chain {
        at: vec![frame.low.x - low, frame.high.x - low],
        from: vec![top + up - frame.high.y; 2],
        shown: vec![&shown],
    };
    ink = ink.add(chain.across(top - 4.0));
    Block { ink, width: high - low, height: top + up - down }
}
