//! The finished board at 1:1, as SVG in mm.
//!
//! ```text
//!          back
//!      ┌───┬───┬───┐ ┬
//! left │ 1 │ 2 │ 3 │ │ right      plan: seen from above
//!      └───┴───┴───┘ ┴
//!      ├── length ─┤ front
//!   left edge, seen from the left: one view for each edge that is cut
//!   check bars                     title block
//! ```
//! Every dimension is a number of [`Numbers`], shown as there without its unit; the title block
//! says the unit. Thin lines, one tint. Must not work anything out about the board.

mod cnc;
mod cuts;
mod dimension;
mod elevation;
mod frame;
mod hatch;
mod legend;
mod on_edge;
mod places;
mod plan;
mod router;
mod title;

use crate::{ink, lettering};
use quarterturn_geometry::board::Board;
use quarterturn_geometry::cut::{Edge, Finished, Handhold, Sweep, Which};
use quarterturn_geometry::job::Job;
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::path::{Cutting, Program};
use svg::node::element::{Group, Rectangle};

/// A drawing and the size of its page.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The SVG.
    pub svg: String,
    /// The page's width, mm.
    pub width: f64,
    /// The page's height, mm.
    pub height: f64,
}

impl Drawing {
    /// Draws the finished board of a job.
    #[must_use]
    pub fn of(job: &Job, board: &Board, numbers: &Numbers) -> Self {
        let sheet = Sheet { job, board, numbers };
        let plan = plan::draw(&sheet);
        let views: Vec<Block> =
            edges_that_are_cut(job, &board.finished()).map(|edge| elevation::draw(&sheet, edge)).collect();
        let legend = legend::draw(&sheet, plan.width.max(title::NARROWEST));
        let blocks: Vec<Block> = std::iter::once(plan).chain(legend).chain(views).collect();
        let across = blocks.iter().map(|b| b.width).fold(title::NARROWEST, f64::max);
        let foot = title::draw(&sheet, across);
        let (mut y, mut group) = (MARGIN, ink::lettered());
        for block in blocks.into_iter().chain([foot]) {
            group = group.add(block.ink.set("transform", format!("translate({} {})", ink::mm(MARGIN), ink::mm(y))));
            y += block.height + APART;
        }
        let (width, height) = (ink::mm(across + 2.0 * MARGIN), ink::mm(y - APART + MARGIN));
        let paper = Rectangle::new().set("width", width).set("height", height).set("fill", "white");
        let frame = ink::rectangle([MARGIN / 2.0; 2], [width - MARGIN, height - MARGIN], 0.35);
        let svg = ink::page(width, height).add(paper).add(frame).add(group);
        Self { svg: format!("{svg}\n"), width, height }
    }

    /// The router table set up for a handhold, by its place in the plan, on one sheet; `None` where that edge may not be
    /// lowered onto a bit, or there is no such handhold.
    #[must_use]
    pub fn router_table(job: &Job, board: &Board, numbers: &Numbers, handhold: usize) -> Option<Self> {
        router::sheet(&Sheet { job, board, numbers }, handhold)
    }

    /// The same from above at 1:1, to lay on the table.
    #[must_use]
    pub fn router_table_template(job: &Job, board: &Board, numbers: &Numbers, handhold: usize) -> Option<Self> {
        router::template(&Sheet { job, board, numbers }, handhold)
    }

    /// The set-up sheet beside a program with these parts, written to a file of this name; `None` without a part.
    #[must_use]
    pub fn cnc(job: &Job, board: &Board, numbers: &Numbers, parts: &[Program], file: &str) -> Option<Self> {
        cnc::sheet(&Sheet { job, board, numbers }, parts, file)
    }

    /// The frame for a plunge router that cuts this, at 1:1: a groove, or a handhold in an edge that may not be lowered
    /// onto a bit; `None` for other cuts, and where the guide bush is no wider than the bit.
    #[must_use]
    pub fn plunge_frame(job: &Job, board: &Board, numbers: &Numbers, cutting: &Cutting) -> Option<Self> {
        frame::sheet(&Sheet { job, board, numbers }, cutting)
    }

    /// Adds the page's size to the numbers: `drawing.width` and `drawing.height`.
    pub fn add_to(&self, numbers: &mut Numbers) {
        numbers.length("drawing.width", self.width, "the width of the drawing's page");
        numbers.length("drawing.height", self.height, "the height of the drawing's page");
    }
}

/// Around everything, mm.
const MARGIN: f64 = 10.0;
/// Between two views.
const APART: f64 = 9.0;
/// The size of dimensions and captions.
const TEXT: f64 = 3.6;
/// Wood on paper.
const TINT: &str = "#f8f0e0";
/// An outline, and everything finer.
const THICK: f64 = 0.4;
const THIN: f64 = 0.15;

/// What is drawn.
struct Sheet<'a> {
    job: &'a Job,
    board: &'a Board,
    numbers: &'a Numbers,
}

impl Sheet<'_> {
    fn shown(&self, key: &str) -> &str {
        self.numbers.shown(key)
    }
}

/// A part of the page in its own frame, from its upper left corner.
struct Block {
    ink: Group,
    width: f64,
    height: f64,
}

/// Handholds by their place, with their edges.
fn handholds_in(job: &Job, edge: Edge) -> impl Iterator<Item = (usize, &Handhold)> {
    job.handholds.iter().enumerate().filter(move |(_, hold)| hold.edge == edge)
}

fn edges_that_are_cut(job: &Job, size: &Finished) -> impl Iterator<Item = Edge> {
    let cut = |edge: &Edge| handholds_in(job, *edge).next().is_some() || opening_at(job, *edge, size).next().is_some();
    Edge::ALL.into_iter().filter(cut)
}

/// Cuts on the faces that open an edge.
fn opening_at(job: &Job, edge: Edge, size: &Finished) -> impl Iterator<Item = (Which, Sweep)> {
    job.cuts.sweeps(size).into_iter().filter(move |(_, sweep)| !sweep.notch(edge, size).is_empty())
}

/// What a cut's numbers are called by.
fn key(cutting: &Cutting) -> String {
    cutting.cut.key()
}

/// With its first letter large.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Lines of a caption, one under another.
fn caption(text: &str, [x, top]: [f64; 2], room: f64) -> (Group, f64) {
    let lines = lettering::lines(text, TEXT, room);
    let line = |i: usize| top + TEXT * (1.0 + 1.35 * i as f64);
    let words = lines.iter().enumerate();
    let ink =
        words.fold(Group::new(), |group, (i, text)| group.add(ink::word(text, [x, line(i)], TEXT, ink::Anchor::Start)));
    (ink, lines.len() as f64 * TEXT * 1.35)
}
