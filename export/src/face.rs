//! A face as SVG at its physical size: the picture, and on request its glue lines as thin lines.
//!
//! Must not know how the picture was drawn.

use crate::ink;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use quarterturn_geometry::board::{Board, Face};
use svg::node::element::{Group, Image};

/// How wide a glue line is drawn, mm (common practice, no source: a good joint shows about a tenth
/// of a millimetre).
const GLUE_LINE: f64 = 0.12;

/// The face of a finished board, its picture (a PNG, as [`crate::png::write`] writes it) embedded;
/// glue lines, where asked for, as thin lines over it, sharp at any size.
#[must_use]
pub fn svg(board: &Board, face: Face, png: &[u8], glue_lines: bool) -> String {
    let size = board.finished();
    let image = embedded(png, [0.0, 0.0], [size.length, size.width]);
    let mut page = ink::page(size.length, size.width).add(image);
    if glue_lines {
        page = page.add(lines(board, face));
    }
    format!("{page}\n")
}

/// A picture in a rectangle of the page.
pub(crate) fn embedded(png: &[u8], [x, y]: [f64; 2], size: [f64; 2]) -> Image {
    Image::new()
        .set("x", ink::mm(x))
        .set("y", ink::mm(y))
        .set("width", ink::mm(size[0]))
        .set("height", ink::mm(size[1]))
        .set("preserveAspectRatio", "none")
        .set("href", format!("data:image/png;base64,{}", STANDARD.encode(png)))
}

/// Every glue line that the trims leave, in the face's frame: X to the right, down the page.
pub(crate) fn lines(board: &Board, face: Face) -> Group {
    let size = board.finished();
    let inside = |at: f64, end: f64| at > 0.0 && at < end;
    let mut group = Group::new();
    for place in 0..board.strips().len() {
        let [from, to] = board.span(place);
        if from >= to {
            continue;
        }
        if inside(to, size.length) {
            group = group.add(ink::line([to, 0.0], [to, size.width], GLUE_LINE));
        }
        let mut ends: Vec<f64> = board.blank_spans(place).into_iter().map(|span| span[1]).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup();
        for y in ends.into_iter().filter(|y| inside(*y, size.width)) {
            let y = down(face, y, size.width);
            group = group.add(ink::line([from, y], [to, y], GLUE_LINE));
        }
    }
    group
}

/// How far below the top of the page a Y of the board lies on a face.
pub(crate) fn down(face: Face, y: f64, width: f64) -> f64 {
    match face {
        Face::Upper => width - y,
        Face::Lower => y,
    }
}
