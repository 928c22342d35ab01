//! Lines and letters in SVG, in mm: what the face, the marked face and the drawing share.
//!
//! Must not know of boards. Page frame: x to the right, y down.

use crate::lettering;
use svg::Document;
use svg::node::element::{Group, Line, Rectangle, Text};

/// A page of this size at its physical size, one user unit to the mm.
pub(crate) fn page(width: f64, height: f64) -> Document {
    Document::new()
        .set("width", format!("{}mm", mm(width)))
        .set("height", format!("{}mm", mm(height)))
        .set("viewBox", (0, 0, mm(width), mm(height)))
}

/// To a ten-thousandth of a mm, without a negative zero: no floating noise on paper.
pub(crate) fn mm(value: f64) -> f64 {
    (value * 1e4).round() / 1e4 + 0.0
}

/// Where a word stands beside its point.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A word at a point (the baseline's) in black.
pub(crate) fn word(text: &str, [x, y]: [f64; 2], size: f64, anchor: Anchor) -> Text {
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    Text::new(lettering::plain(text, 400))
        .set("x", mm(x))
        .set("y", mm(y))
        .set("font-size", mm(size))
        .set("text-anchor", anchor)
}

/// A word with a pale border around its letters, to be read on dark and on pale ground.
pub(crate) fn word_on_wood(text: &str, at: [f64; 2], size: f64) -> Text {
    word(text, at, size, Anchor::Middle)
        .set("stroke", "white")
        .set("stroke-width", mm(size * 0.22))
        .set("stroke-linejoin", "round")
        .set("paint-order", "stroke")
}

/// From the baseline to the middle of capitals and figures, as a share of the size.
pub(crate) const HALF_CAPITAL: f64 = 0.365;

/// A straight line.
pub(crate) fn line([x1, y1]: [f64; 2], [x2, y2]: [f64; 2], thick: f64) -> Line {
    Line::new()
        .set("x1", mm(x1))
        .set("y1", mm(y1))
        .set("x2", mm(x2))
        .set("y2", mm(y2))
        .set("stroke-width", mm(thick))
        .set("stroke", "black")
}

/// A rectangle by its upper left corner and its size, not filled.
pub(crate) fn rectangle([x, y]: [f64; 2], [width, height]: [f64; 2], thick: f64) -> Rectangle {
    Rectangle::new()
        .set("x", mm(x))
        .set("y", mm(y))
        .set("width", mm(width))
        .set("height", mm(height))
        .set("fill", "none")
        .set("stroke", "black")
        .set("stroke-width", mm(thick))
}

/// A group in the one font.
pub(crate) fn lettered() -> Group {
    Group::new().set("font-family", lettering::FAMILY)
}
