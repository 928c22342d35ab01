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
use super::hatch::arrow;
use super::{Block, Drawing, MARGIN, Sheet, THICK, THIN, TINT, capital, caption, key, title};
use crate::{ink, lettering};
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
    let [long, wide, _] = cutting.stock;
    let outside = frame.low.x < 0.0 || frame.low.y < 0.0 || frame.high.x > long || frame.high.y > wide;
    let clamped = match cutting.up {
        Up::Edge(_) => {
            "The board clamped upright between two squared boards, their upper edges level with its own and wide enough to carry \
             frame and base all round; the frame screwed to them."
        }
        Up::Face(_) if outside => {
            "The board clamped flat; round it scrap just as thick, wide enough to carry the frame, screwed down tight against \
             it; the frame screwed to that, so that it can't creep."
        }
        Up::Face(_) => {
            "The board clamped flat; the frame clamped or taped on it, level, and held so that it can't creep."
        }
    };
    let centre = if cutting.bit.cuts_at_centre {
        ""
    } else {
        " This bit does not cut at its centre: move along the frame as it goes down."
    };
    let depths: Vec<&str> = (1..).map(|k| n(&format!("depth {k}"))).take_while(|shown| !shown.is_empty()).collect();
    format!(
        "Frame for a plunge router, {}; bit {}. {} rides in an opening {} long and {} wide, its corner radius {}, {} from the \
         bit's centre all round. {clamped} Depth of each pass: {}. Both hands on the router's handles: switch on, \
         plunge beside the middle of a long side, move clockwise round inside the opening (arrow), so that the bit pulls itself \
         to the frame, until it is round; raise it, switch off, wait until the bit stands, then lift.{centre} First on scrap. \
         The router's manual and people who teach it come first.",
        cutting.name,
        lettering::plain(&cutting.bit.name, 40),
        capital(rides),
        n("length"),
        n("width"),
        n("corner"),
        n("offset"),
        depths.join(", ")
    )
}

fn draw(sheet: &Sheet, cutting: &Cutting, frame: &Frame) -> Block {
    let [long, wide, _] = cutting.stock;
    let (low, high) = (frame.low.x.min(0.0), frame.high.x.max(long));
    let (down, up) = (frame.low.y.min(0.0), frame.high.y.max(wide));
    let top = 26.0;
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
    let n = |name: &str| sheet.shown(&format!("{}.frame.{name}", key(cutting)));
    let one = |at: [f64; 2], shown| Chain { at: at.to_vec(), from: vec![0.0; 2], shown: vec![shown] };
    // Above: how long it is, and how far its ends lie from the board's; to the right the same across.
    let across = |at: [f64; 2], y: f64, from: f64, shown| {
        let mut at = at.map(|x| x - low);
        at.sort_by(f64::total_cmp);
        Chain { from: vec![from; 2], ..one(at, shown) }.across(y)
    };
    let edge = top + up - frame.high.y.max(wide);
    ink = ink.add(across([frame.low.x, frame.high.x], top - 4.0, edge, n("length")));
    ink = ink.add(across([frame.low.x, 0.0], top - 16.0, edge, n("x")));
    ink = ink.add(across([frame.high.x, long], top - 16.0, edge, n("far x")));
    let side = high - low;
    let upright = |at: [f64; 2], x: f64, shown| {
        let mut at = at.map(|y| top + up - y);
        at.sort_by(f64::total_cmp);
        Chain { from: vec![side; 2], ..one(at, shown) }.down(x)
    };
    ink = ink.add(upright([frame.low.y, frame.high.y], side + 7.0, n("width")));
    ink = ink.add(upright([frame.low.y, 0.0], side + 22.0, n("y")));
    ink = ink.add(upright([frame.high.y, wide], side + 22.0, n("far y")));
    // Clockwise: along the far side to the right.
    let middle = f64::midpoint(frame.low.x, frame.high.x) - low;
    let inside = top + up - frame.high.y + (frame.offset / 2.0).min(8.0);
    ink = ink.add(arrow([middle - 12.0, inside], [middle + 12.0, inside]));
    Block { ink, width: side + 36.0, height: top + up - down }
}
