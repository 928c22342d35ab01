//! A face to lay strips by: strip numbers, letters of the blanks, turns, and the two edges with the
//! slanted lines that were drawn on the panel.
//!
//! ```text
//!            title
//!   back edge, folded out (Z down the page)
//!     1    2    3    4
//!   ┌────┬────┬────┬────┐
//!   │ A  │ A  │    │    │   the face, X to the right
//!   └────┴────┴────┴────┘
//!   as cut, rolled over …
//!   front edge (Z up the page)
//!            legend
//! ```
//! Both edges are drawn as if folded out flat from the face that is seen, so that each is seen from
//! outside. For the lower face the board has been turned over about its length: front and back
//! change places, left stays left. Must not know how the face was drawn.

use crate::ink::{self, Anchor, HALF_CAPITAL};
use crate::{ExportError, face, lettering};
use quarterturn_geometry::board::{Board, EdgeMark, Face, Picture};
use quarterturn_geometry::cut::{Edge, Finished};
use quarterturn_geometry::layup::Turn;
use svg::node::element::{Group, Rectangle};

/// The face with everything marked, as a picture with white margins.
///
/// # Errors
/// [`ExportError`] where the picture holds none, or is too large to letter.
pub fn marked(board: &Board, side: Face, picture: &Picture, name: &str) -> Result<Picture, ExportError> {
    let sheet = Sheet::of(board, side, picture, name)?;
    let page = sheet.blank_page(picture);
    let svg = sheet.page().add(sheet.lettering()).to_string();
    lettering::draw_over(&page, &svg)
}

/// The same as SVG at its physical size, the face embedded.
///
/// # Errors
/// [`ExportError`] where the picture holds none.
pub fn marked_svg(board: &Board, side: Face, picture: &Picture, name: &str) -> Result<String, ExportError> {
    let sheet = Sheet::of(board, side, picture, name)?;
    let [width, height] = sheet.page_size();
    let paper = Rectangle::new().set("width", ink::mm(width)).set("height", ink::mm(height)).set("fill", "white");
    let image = face::embedded(picture, [sheet.left(), sheet.top()], [sheet.size.length, sheet.size.width])?;
    Ok(format!("{}\n", sheet.page().add(paper).add(image).add(sheet.lettering())))
}

const TITLE: f64 = 5.0;
const TEXT: f64 = 3.2;
const LEAD: f64 = 1.35;
const MARGIN: f64 = 6.0;
/// Beside the face, for the words left and right.
const BESIDE: f64 = 12.0;
const GAP: f64 = 2.0;
/// The narrowest page: narrower, and the words would break into too many lines.
const NARROWEST: f64 = 150.0;
/// The least size of a letter that can be read on paper, mm.
const LEAST: f64 = 1.8;

/// Everything's place on the page. Margins are whole pixels, so that the face stays as it was drawn.
struct Sheet<'a> {
    board: &'a Board,
    side: Face,
    size: Finished,
    pixel: f64,
    margin: [usize; 2],
    pixels: [usize; 2],
    title: Vec<String>,
    captions: [Vec<String>; 2],
    legend: Vec<String>,
    turns: Turns,
    number_size: f64,
}

/// How the turns are lettered: side by side in lines, or upright where strips are narrow.
struct Turns {
    upright: bool,
    size: f64,
    high: f64,
}

impl<'a> Sheet<'a> {
    fn of(board: &'a Board, side: Face, picture: &Picture, name: &str) -> Result<Self, ExportError> {
        let Picture { width, height, bytes } = picture;
        let size = board.finished();
        let pixel = size.length / *width as f64;
        if bytes.len() != width * height * 3 || bytes.is_empty() {
            return Err(ExportError::NoPicture { width: *width, height: *height, bytes: bytes.len(), pixel });
        }
        let across = (size.length + 2.0 * (MARGIN + BESIDE)).max(NARROWEST);
        let room = across - 2.0 * MARGIN;
        let [above, below] = edges(side);
        let mut sheet = Self {
            board,
            side,
            size,
            pixel,
            margin: [0; 2],
            pixels: [0; 2],
            title: lettering::lines(
                &format!("{}: {} face, marked", lettering::plain(name, 60), side.name()),
                TITLE,
                room,
            ),
            captions: [
                lettering::lines(&caption(side, above), TEXT, room),
                lettering::lines(&caption(side, below), TEXT, room),
            ],
            legend: lettering::lines(&legend(board, side), TEXT, room),
            turns: Turns::of(board),
            number_size: 0.0,
        };
        sheet.number_size = sheet.numbers_fit();
        let whole = |mm: f64| (mm / pixel).ceil() as usize;
        sheet.margin = [whole((across - size.length) / 2.0), whole(sheet.above())];
        sheet.pixels = [width + 2 * sheet.margin[0], height + sheet.margin[1] + whole(sheet.below())];
        Ok(sheet)
    }

    /// What stands above the face, mm.
    fn above(&self) -> f64 {
        MARGIN
            + self.title.len() as f64 * TITLE * LEAD
            + GAP
            + self.captions[0].len() as f64 * TEXT * LEAD
            + GAP
            + self.size.thickness
            + GAP
            + self.number_size
            + GAP
    }

    /// What stands below it.
    fn below(&self) -> f64 {
        GAP + self.turns.high
            + GAP
            + self.size.thickness
            + GAP
            + self.captions[1].len() as f64 * TEXT * LEAD
            + GAP
            + self.legend.len() as f64 * TEXT * LEAD
            + MARGIN
    }

    fn left(&self) -> f64 {
        self.margin[0] as f64 * self.pixel
    }

    fn top(&self) -> f64 {
        self.margin[1] as f64 * self.pixel
    }

    fn page_size(&self) -> [f64; 2] {
        self.pixels.map(|n| n as f64 * self.pixel)
    }

    fn page(&self) -> svg::Document {
        let [width, height] = self.page_size();
        ink::page(width, height)
    }

    /// White, with the face in its place.
    fn blank_page(&self, picture: &Picture) -> Picture {
        let [width, height] = self.pixels;
        let mut bytes = vec![255; width * height * 3];
        for (row, from) in picture.bytes.chunks_exact(picture.width * 3).enumerate() {
            let start = ((row + self.margin[1]) * width + self.margin[0]) * 3;
            bytes[start..start + from.len()].copy_from_slice(from);
        }
        Picture { width, height, bytes }
    }

    fn lettering(&self) -> Group {
        let [above, below] = edges(self.side);
        let bottom = self.top() + self.size.width;
        let edge_above = self.top() - GAP - self.number_size - GAP - self.size.thickness;
        let edge_below = bottom + GAP + self.turns.high + GAP;
        let words_above = edge_above - GAP - self.captions[0].len() as f64 * TEXT * LEAD;
        let words_below = edge_below + self.size.thickness + GAP;
        let legend = words_below + self.captions[1].len() as f64 * TEXT * LEAD + GAP;
        ink::lettered()
            .add(paragraph(&self.title, [MARGIN, MARGIN], TITLE))
            .add(paragraph(&self.captions[0], [MARGIN, words_above], TEXT))
            .add(self.edge(above, edge_above))
            .add(self.strips(bottom))
            .add(self.sides())
            .add(self.letters())
            .add(self.edge(below, edge_below))
            .add(paragraph(&self.captions[1], [MARGIN, words_below], TEXT))
            .add(paragraph(&self.legend, [MARGIN, legend], TEXT))
    }

    /// Number above and turn below every strip that the trims leave something of.
    fn strips(&self, bottom: f64) -> Group {
        let mut group = Group::new();
        for (place, strip) in self.board.strips().iter().enumerate() {
            let [from, to] = self.board.span(place);
            if from >= to {
                continue;
            }
            let middle = self.left() + (from + to) / 2.0;
            let number = number(self.board, place);
            group = group.add(ink::word(&number, [middle, self.top() - GAP], self.number_size, Anchor::Middle));
            group = group.add(self.turns.word(strip.place.turn, [middle, bottom + GAP], to - from));
        }
        group
    }

    /// One size for all numbers: the largest that fits the narrowest strip, within reason.
    fn numbers_fit(&self) -> f64 {
        let fits = |place: usize| {
            let [from, to] = self.board.span(place);
            (to > from).then(|| lettering::fitting(&number(self.board, place), (to - from) * 0.86, 6.0))
        };
        (0..self.board.strips().len()).filter_map(fits).fold(6.0, f64::min).max(LEAST)
    }

    fn sides(&self) -> Group {
        let middle = self.top() + self.size.width / 2.0;
        let word = |text: &str, x: f64| {
            ink::word(text, [x, middle], TEXT * 1.2, Anchor::Middle)
                .set("transform", format!("rotate(-90 {} {})", ink::mm(x), ink::mm(middle)))
        };
        let right = self.left() + self.size.length + 3.0 + TEXT;
        Group::new().add(word("left", self.left() - 3.0)).add(word("right", right))
    }

    /// The blank's letter on each piece that is large enough.
    fn letters(&self) -> Group {
        let mut group = Group::new();
        for piece in self.board.pieces() {
            let panel = &self.board.panels()[self.board.strips()[piece.place].place.panel];
            let letter = lettering::plain(&panel.blanks[piece.blank].blank.letter, 4);
            let [wide, high] = [piece.high.x - piece.low.x, piece.high.y - piece.low.y];
            let size = lettering::fitting(&letter, wide * 0.7, 6.0).min(high * 0.6);
            if size < LEAST || size < 6.0 * self.pixel {
                continue;
            }
            let x = self.left() + (piece.low.x + piece.high.x) / 2.0;
            let y = self.top() + face::down(self.side, (piece.low.y + piece.high.y) / 2.0, self.size.width);
            group = group.add(ink::word_on_wood(&letter, [x, y + size * HALF_CAPITAL], size));
        }
        group
    }

    /// An edge, seen from outside, its arris with the face that is seen toward that face.
    fn edge(&self, edge: Edge, top: f64) -> Group {
        let Finished { length, thickness, .. } = self.size;
        let face_height = if self.side == Face::Upper { thickness } else { 0.0 };
        let above = top + thickness <= self.top();
        let place = |[x, z]: [f64; 2]| {
            let from_face = (face_height - z).abs();
            [self.left() + x, if above { top + thickness - from_face } else { top + from_face }]
        };
        let body = ink::rectangle([self.left(), top], [length, thickness], 0.25).set("fill", "#f4e9d4");
        let mut group = Group::new().add(body);
        for place_no in 1..self.board.strips().len() {
            let [x, _] = self.board.span(place_no);
            if x > 0.0 && x < length {
                group = group.add(ink::line(place([x, 0.0]), place([x, thickness]), 0.12).set("stroke", "#8a7a60"));
            }
        }
        for mark in self.board.edge_marks(edge) {
            for [from, to] in strokes(&mark) {
                if let Some([from, to]) = within([from, to], [length, thickness]) {
                    group = group.add(ink::line(place(from), place(to), 0.5).set("stroke-linecap", "round"));
                }
            }
        }
        group
    }
}

impl Turns {
    fn of(board: &Board) -> Self {
        let spans = (0..board.strips().len()).map(|place| board.span(place));
        let narrowest = spans.map(|[from, to]| to - from).filter(|w| *w > 0.0).fold(f64::INFINITY, f64::min);
        let longest = |words: &[&str], size| words.iter().map(|w| lettering::width(w, size)).fold(0.0, f64::max);
        let turns: Vec<&str> = board.strips().iter().flat_map(|s| two_lines(s.place.turn)).collect();
        let size = (narrowest * 0.92 / longest(&turns, 1.0)).min(TEXT);
        if size >= 2.2 {
            return Self { upright: false, size, high: 2.0 * size * LEAD };
        }
        let size = (narrowest * 0.7).clamp(LEAST, TEXT);
        let whole: Vec<&str> = board.strips().iter().map(|s| s.place.turn.name()).collect();
        Self { upright: true, size, high: longest(&whole, size) }
    }

    fn word(&self, turn: Turn, [x, top]: [f64; 2], _wide: f64) -> Group {
        let ink_of = if turn == Turn::AsCut { "#707070" } else { "black" };
        let group = Group::new().set("fill", ink_of);
        if self.upright {
            let x = x + self.size * HALF_CAPITAL;
            let turned = format!("rotate(-90 {} {})", ink::mm(x), ink::mm(top));
            return group.add(ink::word(turn.name(), [x, top], self.size, Anchor::End).set("transform", turned));
        }
        let line = |i: usize| top + self.size * (0.8 + LEAD * i as f64);
        let lines = two_lines(turn).into_iter().enumerate();
        lines.fold(group, |group, (i, text)| group.add(ink::word(text, [x, line(i)], self.size, Anchor::Middle)))
    }
}

/// A turn's name in two short lines.
const fn two_lines(turn: Turn) -> [&'static str; 2] {
    match turn {
        Turn::AsCut => ["as cut", ""],
        Turn::RolledOver => ["rolled", "over"],
        Turn::EndForEnd => ["end for", "end"],
        Turn::EndOverEnd => ["end over", "end"],
    }
}

/// The strip's number in its panel, after the panel's name where there are several.
pub(crate) fn number(board: &Board, place: usize) -> String {
    let strip = &board.strips()[place].place;
    match board.panels() {
        [_] => format!("{}", strip.strip + 1),
        panels => format!("{} {}", lettering::plain(&panels[strip.panel].name, 8), strip.strip + 1),
    }
}

/// The edge above the face and the edge below it.
const fn edges(side: Face) -> [Edge; 2] {
    match side {
        Face::Upper => [Edge::Back, Edge::Front],
        Face::Lower => [Edge::Front, Edge::Back],
    }
}

fn caption(side: Face, edge: Edge) -> String {
    let name = edge.name();
    let above = edges(side)[0] == edge;
    if above {
        format!("{name} edge, folded out: turn the sheet round to see it as it looks from that side")
    } else {
        format!("{name} edge, as it looks from that side")
    }
}

fn legend(board: &Board, side: Face) -> String {
    let seen = match side {
        Face::Upper => "Seen from above, standing at the front.",
        Face::Lower => {
            "The board turned over about its length: left stays left, the front is at the top. Lay strips by the upper face."
        }
    };
    let numbers = match board.panels() {
        [_] => "Numbers: strips, counted from the panel's squared end.",
        _ => "Names and numbers: panel, and strip counted from its squared end.",
    };
    format!(
        "{seen} {numbers} Words: how each strip is turned. Letters: blanks. Slanted lines: drawn on the panel's \
         edges before the strips were cut, one on the first blank's edge, two on the last blank's."
    )
}

/// The line, or the two lines side by side, in (X, Z).
fn strokes(mark: &EdgeMark) -> Vec<[[f64; 2]; 2]> {
    const APART: f64 = 1.6;
    let aside = |by: f64| [mark.from, mark.to].map(|[x, z]| [x + by, z]);
    if mark.double { vec![aside(-APART / 2.0), aside(APART / 2.0)] } else { vec![aside(0.0)] }
}

/// What of a line lies within a box from the origin; `None` where nothing does.
fn within([from, to]: [[f64; 2]; 2], size: [f64; 2]) -> Option<[[f64; 2]; 2]> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let step = to[axis] - from[axis];
        let [a, b] = [-from[axis], size[axis] - from[axis]];
        if step == 0.0 {
            if a > 0.0 || b < 0.0 {
                return None;
            }
            continue;
        }
        enter = enter.max((a / step).min(b / step));
        leave = leave.min((a / step).max(b / step));
    }
    let at = |t: f64| [0, 1].map(|axis| from[axis] + t * (to[axis] - from[axis]));
    (enter < leave).then(|| [at(enter), at(leave)])
}

/// Lines of text, one under another, from an upper left corner.
fn paragraph(lines: &[String], [x, top]: [f64; 2], size: f64) -> Group {
    let line = |i: usize| top + size * (1.0 + LEAD * i as f64);
    let words = lines.iter().enumerate();
    words.fold(Group::new(), |group, (i, text)| group.add(ink::word(text, [x, line(i)], size, Anchor::Start)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_off_at_the_box() {
        let cut = within([[-1.0, -1.0], [3.0, 3.0]], [2.0, 5.0]).unwrap();
        assert_eq!(cut, [[0.0, 0.0], [2.0, 2.0]]);
        assert!(within([[3.0, 0.0], [3.0, 1.0]], [2.0, 5.0]).is_none());
        assert_eq!(within([[1.0, -1.0], [1.0, 9.0]], [2.0, 5.0]).unwrap(), [[1.0, 0.0], [1.0, 5.0]]);
    }
}
