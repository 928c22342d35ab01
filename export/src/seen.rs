//! The solid drawn without a viewer: the whole board as seen from a corner above, and pulled apart, as
//! SVG and as a picture.
//!
//! ```text
//!   title
//!            ╱╲
//!          ╱    ╲     wood by the picture, edges and letters as lines over it
//!         ╲     ╱
//!    front  ╲ ╱  right
//!   caption
//! ```
//! Must not know how the wood is drawn or what covers what.

use crate::ink::{self, Anchor};
use crate::{ExportError, face, lettering, marked, png};
use nalgebra::{Point3, Vector3};
use quarterturn_geometry::board::Board;
use quarterturn_geometry::cut::{Edge, Finished};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::solid::{CutPiece, Mesh};
use quarterturn_geometry::surface::{Seen, Thing, View};
use svg::node::element::{Group, Path, Rectangle};

/// One page: as SVG at its size, and the same as a picture.
#[derive(Clone, Debug)]
pub struct Page {
    /// The drawing, its picture embedded.
    pub svg: String,
    /// The same in pixels.
    pub picture: Picture,
    /// Of that, the wood and its edges alone, without a word.
    pub unlettered: Picture,
    /// The size of a pixel, mm.
    pub pixel: f64,
}

/// The corner that the board is seen from: its two edges that show, the one that lies more across
/// the page first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Corner {
    /// Front or back.
    pub broad: Edge,
    /// Left or right.
    pub side: Edge,
    /// Whether the eye is below the board, and sees its lower face.
    pub below: bool,
}

impl Corner {
    /// The corner from which most of these edges show; the front right one among equals.
    #[must_use]
    pub fn showing(edges: &[Edge]) -> Self {
        let most = |one: Edge, other: Edge| {
            let count = |of: Edge| edges.iter().filter(|e| **e == of).count();
            if count(other) > count(one) { other } else { one }
        };
        Self { broad: most(Edge::Front, Edge::Back), side: most(Edge::Right, Edge::Left), below: false }
    }

    /// The same, seen from below.
    #[must_use]
    pub const fn from_below(self) -> Self {
        Self { below: true, ..self }
    }

    fn view(self) -> View {
        let around = match (self.broad, self.side) {
            (Edge::Back, Edge::Left) => 180.0 + AROUND,
            (Edge::Back, _) => 180.0 - AROUND,
            (_, Edge::Left) => -AROUND,
            _ => AROUND,
        };
        View::from(around, if self.below { -ABOVE } else { ABOVE })
    }

    fn name(self) -> String {
        let from = if self.below { "below its " } else { "its " };
        format!("{from}{} {}", self.broad.name(), self.side.name())
    }

    /// The near end of the strips.
    const fn near(self, size: &Finished) -> f64 {
        match self.broad {
            Edge::Back => size.width,
            _ => 0.0,
        }
    }
}

/// How far the eye is turned and raised, degrees.
const AROUND: f64 = 32.0;
const ABOVE: f64 = 36.0;
/// How wide a page's picture is at most, mm and pixels.
const WIDE: f64 = 250.0;
const ACROSS: usize = 1500;

/// The whole board; `caption` stands under it.
///
/// # Errors
/// [`ExportError`] for a board without extent, or where the lettering fails.
pub fn whole(
    board: &Board,
    mesh: &Mesh,
    from: Corner,
    [title, caption]: [&str; 2],
    workers: usize,
) -> Result<Page, ExportError> {
    let things = [Thing { mesh, moved: Vector3::zeros(), strip: None }];
    let title = format!("{}: the whole board, seen from {} corner", lettering::plain(title, 60), from.name());
    let sheet = Sheet::of(board, &things, from, [&title, caption], workers)?;
    let labels = sheet.edge_names(from, &board.finished());
    sheet.page(labels, TEXT * 2.0)
}

/// The strips pulled apart along the board's length, each with its number and its turn.
///
/// # Errors
/// [`ExportError`] for a board without extent, or where the lettering fails.
pub fn pulled_apart(
    board: &Board,
    pieces: &[CutPiece],
    from: Corner,
    [title, caption]: [&str; 2],
    workers: usize,
) -> Result<Page, ExportError> {
    let gap = board.finished().thickness * PULLED;
    let moved = |place: usize| Vector3::new(place as f64 * gap, 0.0, 0.0);
    let thing = |cut: &CutPiece| (cut.piece.place, moved(cut.piece.place));
    let things: Vec<Thing> = pieces
        .iter()
        .map(|cut| (thing(cut), &cut.mesh))
        .map(|((place, moved), mesh)| Thing { mesh, moved, strip: Some(place) })
        .collect();
    let title = format!("{}: pulled apart, seen from {} corner", lettering::plain(title, 60), from.name());
    let sheet = Sheet::of(board, &things, from, [&title, caption], workers)?;
    let (labels, below) = sheet.strip_names(board, from, &moved);
    sheet.page(labels, below)
}

/// How far apart strips are pulled, as a share of the thickness: so far that the whole of a strip's
/// side shows past its neighbour.
const PULLED: f64 = 0.62;

const MARGIN: f64 = 6.0;
const TITLE: f64 = 4.6;
const TEXT: f64 = 3.2;
const LEAD: f64 = 1.35;
const LINE: f64 = 0.18;

/// The picture and its place on the page.
struct Sheet {
    seen: Seen,
    /// Millimetres on the page for one of the board's.
    scale: f64,
    pixel: f64,
    title: Vec<String>,
    caption: Vec<String>,
    /// Left of the picture and above it, in pixels.
    margin: [usize; 2],
}

impl Sheet {
    fn of(
        board: &Board,
        things: &[Thing],
        from: Corner,
        [title, caption]: [&str; 2],
        workers: usize,
    ) -> Result<Self, ExportError> {
        let none = || ExportError::NoPicture { width: 0, height: 0, bytes: 0, pixel: 0.0 };
        let seen = Seen::of(board, things, from.view(), ACROSS, workers).ok_or_else(none)?;
        let wide = seen.picture.width.max(seen.picture.height) as f64 * seen.pixel;
        let scale = (WIDE / wide).min(1.0);
        let pixel = seen.pixel * scale;
        let room = (seen.picture.width as f64 * pixel).max(100.0);
        let title = lettering::lines(title, TITLE, room);
        let caption = lettering::lines(caption, TEXT, room);
        let above = MARGIN + title.len() as f64 * TITLE * LEAD + 2.0;
        let beside = MARGIN + (room - seen.picture.width as f64 * pixel) / 2.0;
        let margin = [beside, above].map(|mm| whole_pixels(mm, pixel));
        Ok(Self { seen, scale, pixel, title, caption, margin })
    }

    /// Where a point of the board lies on the page.
    fn place(&self, at: &Point3<f64>) -> [f64; 2] {
        let [x, y] = self.seen.place(at);
        [x * self.scale + self.left(), y * self.scale + self.top()]
    }

    fn left(&self) -> f64 {
        self.margin[0] as f64 * self.pixel
    }

    fn top(&self) -> f64 {
        self.margin[1] as f64 * self.pixel
    }

    fn size(&self) -> [f64; 2] {
        [self.seen.picture.width, self.seen.picture.height].map(|n| n as f64 * self.pixel)
    }

    /// The names of the two edges that show, beside those of their borders that the page lies beyond.
    fn edge_names(&self, from: Corner, size: &Finished) -> Group {
        let near = from.near(size);
        let end = if from.side == Edge::Left { 0.0 } else { size.length };
        let (border, down) = if from.below { (size.thickness, -TEXT * 0.6) } else { (0.0, TEXT * 1.3) };
        let broad = self.place(&Point3::new(size.length / 2.0, near, border));
        let side = self.place(&Point3::new(end, size.width / 2.0, border));
        let word = |name: &str, [x, y]: [f64; 2], away: f64| {
            let anchor = if away < 0.0 { Anchor::End } else { Anchor::Start };
            ink::word(name, [x + away, y + down], TEXT, anchor)
        };
        // The broad edge falls toward the near corner, the side edge rises from it.
        let away = if broad[0] < side[0] { -1.5 } else { 1.5 };
        Group::new().add(word(from.broad.name(), broad, away)).add(word(from.side.name(), side, -away))
    }

    /// Number and turn under the near end of each strip; and the room that they take below.
    fn strip_names(&self, board: &Board, from: Corner, moved: &dyn Fn(usize) -> Vector3<f64>) -> (Group, f64) {
        let near = from.near(&board.finished());
        let strips: Vec<usize> = (0..board.strips().len()).filter(|p| board.span(*p)[1] > board.span(*p)[0]).collect();
        let foot = |place: usize| {
            let [x0, x1] = board.span(place);
            self.place(&(Point3::new((x0 + x1) / 2.0, near, 0.0) + moved(place)))
        };
        let feet: Vec<[f64; 2]> = strips.iter().map(|place| foot(*place)).collect();
        let pitch = feet.windows(2).map(|w| (w[1][0] - w[0][0]).abs()).fold(WIDE, f64::min);
        let longest = |words: Vec<&str>| words.iter().map(|w| lettering::width(w, 1.0)).fold(1e-3, f64::max);
        let turns = || strips.iter().map(|place| board.strips()[*place].place.turn);
        let size = (pitch * 0.86 / longest(turns().flat_map(marked::two_lines).collect())).min(TEXT * 0.9);
        let upright = size < 2.0;
        let size = if upright { (pitch * 0.7).min(TEXT * 0.9) } else { size };
        let mut group = Group::new();
        for (place, [x, y]) in strips.iter().zip(feet) {
            let (number, turn) = (marked::number(board, *place), board.strips()[*place].place.turn);
            let big = lettering::fitting(&number, pitch * 0.8, TEXT * 1.4);
            let y = y + LEADER + big;
            group = group.add(ink::line([x, y - big - LEADER + 0.6], [x, y - big - 0.6], LINE));
            group = group.add(ink::word(&number, [x, y], big, Anchor::Middle));
            if upright {
                let (x, y) = (x + size * ink::HALF_CAPITAL, y + 1.2);
                let turned = format!("rotate(-90 {} {})", ink::mm(x), ink::mm(y));
                group = group.add(ink::word(turn.name(), [x, y], size, Anchor::End).set("transform", turned));
            } else {
                for (i, text) in marked::two_lines(turn).into_iter().filter(|text| !text.is_empty()).enumerate() {
                    let y = y + size * (1.25 + 1.15 * i as f64);
                    group = group.add(ink::word(text, [x, y], size, Anchor::Middle));
                }
            }
        }
        let words = if upright { size * longest(turns().map(|t| t.name()).collect()) + 1.2 } else { size * 2.7 };
        (group, LEADER + TEXT * 1.4 + words)
    }

    /// Everything on one page; `below` is the room that labels take under the picture.
    fn page(&self, labels: Group, below: f64) -> Result<Page, ExportError> {
        let [wide, high] = self.size();
        let foot = whole_pixels(below + 2.0 + self.caption.len() as f64 * TEXT * LEAD + MARGIN, self.pixel);
        let Picture { width, height, .. } = self.seen.picture;
        let pixels = [width + 2 * self.margin[0], height + self.margin[1] + foot];
        let page = pixels.map(|n| n as f64 * self.pixel);
        let [from, to] = [MARGIN, self.top() + high + below + 2.0];
        let over = ink::lettered()
            .add(self.lines())
            .add(marked::paragraph(&self.title, [from, from], TITLE))
            .add(labels)
            .add(marked::paragraph(&self.caption, [from, to], TEXT));
        let lettered = ink::page(page[0], page[1]).add(over.clone()).to_string();
        let picture = lettering::draw_over(marked::framed(&self.seen.picture, self.margin, pixels), &lettered)?;
        let edges = ink::page(page[0], page[1]).add(self.lines()).to_string();
        let unlettered = lettering::draw_over(marked::framed(&self.seen.picture, self.margin, pixels), &edges)?;
        let unlettered = cut_out(&unlettered, self.margin, [width, height]);
        let mut bytes = Vec::new();
        png::write(&self.seen.picture, self.pixel, &mut bytes)?;
        let paper =
            Rectangle::new().set("width", ink::mm(page[0])).set("height", ink::mm(page[1])).set("fill", "white");
        let image = face::embedded(&bytes, [self.left(), self.top()], [wide, high]);
        let svg = format!("{}\n", ink::page(page[0], page[1]).add(paper).add(image).add(over));
        Ok(Page { svg, picture, unlettered, pixel: self.pixel })
    }

    /// All edges as one path.
    fn lines(&self) -> Path {
        let on_page = |[x, y]: [f64; 2]| [x * self.scale + self.left(), y * self.scale + self.top()].map(ink::mm);
        let step = |line: &[[f64; 2]; 2]| {
            let [[x1, y1], [x2, y2]] = line.map(on_page);
            format!("M{x1} {y1}L{x2} {y2}")
        };
        let path: String = self.seen.lines.iter().map(step).collect();
        Path::new()
            .set("d", path)
            .set("fill", "none")
            .set("stroke", "black")
            .set("stroke-width", LINE)
            .set("stroke-linecap", "round")
    }
}

/// The part of a picture that begins there and is so large.
fn cut_out(picture: &Picture, [left, top]: [usize; 2], [width, height]: [usize; 2]) -> Picture {
    let rows = picture.bytes.chunks_exact(picture.width * 3).skip(top).take(height);
    let bytes = rows.flat_map(|row| &row[left * 3..(left + width) * 3]).copied().collect();
    Picture { width, height, bytes }
}

/// Between the wood and its label, mm.
const LEADER: f64 = 3.5;

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole_pixels(mm: f64, pixel: f64) -> usize {
    (mm / pixel).ceil() as usize
}
