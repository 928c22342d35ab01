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
//! change places, left stays left. The face is the finished one; numbers, turns and edges are those
//! of the board as glued, because that is what is laid. Must not know how the face was drawn.

mod edges;
mod strips;

pub(crate) use edges::within;
pub(crate) use strips::{number, two_lines};

use crate::ink::{self, Anchor};
use crate::{ExportError, face, lettering, png};
use quarterturn_geometry::board::{Board, Face};
use quarterturn_geometry::cut::Finished;
use quarterturn_geometry::picture::Picture;
use strips::Turns;
use svg::node::element::{Circle, Group, Rectangle};

/// The face with everything marked, as a picture with white margins; `name` is the board's.
///
/// # Errors
/// [`ExportError`] where the picture holds none, or is too large to letter.
pub fn marked(board: &Board, side: Face, picture: &Picture, name: &str) -> Result<Picture, ExportError> {
    let sheet = Sheet::of(board, side, picture, name)?;
    let svg = sheet.page().add(sheet.lettering()).to_string();
    lettering::draw_over(sheet.blank_page(picture)?, &svg)
}

/// The same as SVG at its physical size, the face embedded.
///
/// # Errors
/// [`ExportError`] where the picture holds none.
pub fn marked_svg(board: &Board, side: Face, picture: &Picture, name: &str) -> Result<String, ExportError> {
    let sheet = Sheet::of(board, side, picture, name)?;
    let [width, height] = sheet.page_size();
    let paper = Rectangle::new().set("width", ink::mm(width)).set("height", ink::mm(height)).set("fill", "white");
    let mut bytes = Vec::new();
    png::write(picture, sheet.size.length / picture.width as f64, &mut bytes)?;
    let image = face::embedded(&bytes, [sheet.left(), sheet.top()], [sheet.size.length, sheet.size.width]);
    Ok(format!("{}\n", sheet.page().add(paper).add(image).add(sheet.lettering())))
}

const TITLE: f64 = 5.0;
const TEXT: f64 = 3.2;
const LEAD: f64 = 1.35;
const MARGIN: f64 = 6.0;
/// Beside the face and what the trims take, for the words left and right.
const BESIDE: f64 = 8.0;
const GAP: f64 = 2.0;
/// Radius of the circle that marks a place, mm.
const WORST: f64 = 5.0;
/// The narrowest page: narrower, and the words would break into too many lines.
const NARROWEST: f64 = 150.0;
/// The least size of a letter that can be read on paper, mm.
const LEAST: f64 = 1.8;

/// Everything's place on the page. Margins are whole pixels, so that the face stays as it was drawn.
struct Sheet<'a> {
    board: &'a Board,
    side: Face,
    size: Finished,
    glued: Finished,
    pixel: f64,
    /// Left of the face and above it, in pixels.
    margin: [usize; 2],
    pixels: [usize; 2],
    title: Vec<String>,
    captions: [Vec<String>; 2],
    legend: Vec<String>,
    turns: Turns,
    number_size: f64,
    /// Where traced lines miss each other most, on the page.
    worst: Option<[f64; 2]>,
}

impl<'a> Sheet<'a> {
    fn of(board: &'a Board, side: Face, picture: &Picture, name: &str) -> Result<Self, ExportError> {
        let Picture { width, height, bytes } = picture;
        let size = board.finished();
        let pixel = size.length / *width as f64;
        if width.checked_mul(*height).and_then(|n| n.checked_mul(3)) != Some(bytes.len()) || bytes.is_empty() {
            return Err(ExportError::NoPicture { width: *width, height: *height, bytes: bytes.len(), pixel });
        }
        let trims = board.trims();
        let beside = MARGIN + BESIDE + trims.left.max(trims.right).max(0.0);
        let across = (size.length + 2.0 * beside).max(NARROWEST);
        let words = |text: &str, size: f64| lettering::lines(text, size, across - 2.0 * MARGIN);
        let title = format!("{}: {} face, marked", lettering::plain(name, 60), side.name());
        let worst = board.largest_step(side).map(|(place, step)| [board.span(place)[1], step.y]);
        let mut sheet = Self {
            board,
            side,
            size,
            glued: board.glued(),
            pixel,
            margin: [0; 2],
            pixels: [0; 2],
            title: words(&title, TITLE),
            captions: edges::captions(side).map(|text| words(&text, TEXT)),
            legend: words(&legend(board, side, worst.is_some()), TEXT),
            turns: Turns::of(board),
            number_size: strips::numbers_fit(board),
            worst: None,
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let whole = |mm: f64| (mm / pixel).ceil() as usize;
        sheet.margin = [whole((across - size.length) / 2.0), whole(sheet.above())];
        sheet.worst = worst.map(|[x, y]| [sheet.left() + x, sheet.top() + face::down(side, y, size.width)]);
        sheet.pixels = [width + 2 * sheet.margin[0], height + sheet.margin[1] + whole(sheet.below())];
        Ok(sheet)
    }

    /// What stands above the face, mm.
    fn above(&self) -> f64 {
        MARGIN
            + high(&self.title, TITLE)
            + GAP
            + high(&self.captions[0], TEXT)
            + GAP
            + self.glued.thickness
            + GAP
            + self.number_size
            + GAP
    }

    /// What stands below it.
    fn below(&self) -> f64 {
        GAP + self.turns.high
            + GAP
            + self.glued.thickness
            + GAP
            + high(&self.captions[1], TEXT)
            + GAP
            + high(&self.legend, TEXT)
            + MARGIN
    }

    fn left(&self) -> f64 {
        self.margin[0] as f64 * self.pixel
    }

    fn top(&self) -> f64 {
        self.margin[1] as f64 * self.pixel
    }

    /// Where the face ends.
    fn bottom(&self) -> f64 {
        self.top() + self.size.width
    }

    /// From where to where strip `place` lies on the page before the trims.
    fn span(&self, place: usize) -> [f64; 2] {
        let strip = &self.board.strips()[place];
        let from = self.left() + strip.x - self.board.trims().left;
        [from, from + strip.slab.thickness]
    }

    fn page_size(&self) -> [f64; 2] {
        self.pixels.map(|n| n as f64 * self.pixel)
    }

    fn page(&self) -> svg::Document {
        let [width, height] = self.page_size();
        ink::page(width, height)
    }

    /// White, with the face in its place.
    fn blank_page(&self, picture: &Picture) -> Result<Picture, ExportError> {
        let [width, height] = self.pixels;
        if width as f64 * height as f64 > MOST_PIXELS {
            let bytes = picture.bytes.len();
            return Err(ExportError::NoPicture { width, height, bytes, pixel: self.pixel });
        }
        Ok(framed(picture, self.margin, self.pixels))
    }

    fn lettering(&self) -> Group {
        let edge_above = self.top() - GAP - self.number_size - GAP - self.glued.thickness;
        let edge_below = self.bottom() + GAP + self.turns.high + GAP;
        let words_above = edge_above - GAP - high(&self.captions[0], TEXT);
        let words_below = edge_below + self.glued.thickness + GAP;
        let legend = words_below + high(&self.captions[1], TEXT) + GAP;
        ink::lettered()
            .add(paragraph(&self.title, [MARGIN, MARGIN], TITLE))
            .add(paragraph(&self.captions[0], [MARGIN, words_above], TEXT))
            .add(self.edge_above(edge_above))
            .add(self.strips())
            .add(self.sides())
            .add(self.letters())
            .add(self.worst())
            .add(self.edge_below(edge_below))
            .add(paragraph(&self.captions[1], [MARGIN, words_below], TEXT))
            .add(paragraph(&self.legend, [MARGIN, legend], TEXT))
    }

    /// A circle where traced lines miss each other most.
    fn worst(&self) -> Group {
        let Some(middle) = self.worst else { return Group::new() };
        let ring = |thick: f64, colour: &str| {
            let circle = Circle::new().set("cx", ink::mm(middle[0])).set("cy", ink::mm(middle[1])).set("r", WORST);
            circle.set("fill", "none").set("stroke", colour).set("stroke-width", thick)
        };
        Group::new().add(ring(1.2, "white")).add(ring(0.5, "black"))
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
}

/// A picture on a white one of these pixels, so far from its left and its top.
pub(crate) fn framed(picture: &Picture, [left, top]: [usize; 2], [width, height]: [usize; 2]) -> Picture {
    let mut bytes = vec![255; width * height * 3];
    for (row, from) in picture.bytes.chunks_exact(picture.width * 3).enumerate() {
        let start = ((row + top) * width + left) * 3;
        bytes[start..start + from.len()].copy_from_slice(from);
    }
    Picture { width, height, bytes }
}

/// A page larger than this is refused: 400 MB while it is lettered.
const MOST_PIXELS: f64 = 1e8;

fn legend(board: &Board, side: Face, marked: bool) -> String {
    let seen = match side {
        Face::Upper => "Seen from above, standing at the front.",
        Face::Lower => {
            "The board turned over about its length: left stays left, the front is at the top; lay strips by the \
             upper face."
        }
    };
    let numbers = match board.panels() {
        [_] => "Numbers: strips, counted from the panel's squared end.",
        _ => "Names and numbers: panel, and strip counted from its squared end.",
    };
    let circle = if marked {
        " Circle: where lines that were traced on the blanks miss each other most; the cut list says by how much."
    } else {
        ""
    };
    format!(
        "{seen} {numbers} Words: how each strip is turned. Letters: blanks. Slanted lines: drawn on the panel's edges \
         before the strips were cut, one on the first blank's edge, two on the last blank's. Edges as glued; dashed: \
         the finished board.{circle}"
    )
}

fn high(lines: &[String], size: f64) -> f64 {
    lines.len() as f64 * size * LEAD
}

/// Lines of text, one under another, from an upper left corner.
pub(crate) fn paragraph(lines: &[String], [x, top]: [f64; 2], size: f64) -> Group {
    let line = |i: usize| top + size * (1.0 + LEAD * i as f64);
    let words = lines.iter().enumerate();
    words.fold(Group::new(), |group, (i, text)| group.add(ink::word(text, [x, line(i)], size, Anchor::Start)))
}
