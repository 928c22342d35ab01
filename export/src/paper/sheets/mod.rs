//! The sheets, each in a file of its own, in the order in which a board is made.

mod care;
mod cnc;
mod cost;
mod ends;
mod face_drawn;
mod faces;
mod finish;
mod flatten;
mod glue_up;
mod handhold;
mod layup;
mod moves;
mod numbers;
mod on_edge;
mod overview;
mod saw;
mod saw_drawn;
mod set_up;
mod side_up;
mod stock;
mod strokes;
mod template_files;
mod templates;
mod thickness;

use super::flow::Flow;
use super::page::Page;
use crate::png;
use crate::words::{Told, Words};
use quarterturn_geometry::board::{Board, Face, FaceOptions, FigureDrawn};
use quarterturn_geometry::check::Finding;
use quarterturn_geometry::cut::Cut;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::measure::{Length, Rest, Rounding, Unit};
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::path::Cutting;
use std::rc::Rc;

/// What the sheets are made from.
#[derive(Clone, Copy)]
pub struct Given<'a> {
    /// The job.
    pub job: &'a Job,
    /// What follows from it.
    pub outcome: &'a Outcome,
    /// Every number.
    pub numbers: &'a Numbers,
    /// Every finding.
    pub findings: &'a [Finding],
    /// Each cut with the name of its program for a CNC, as in the report.
    pub programs: &'a [(Cutting, Option<String>)],
}

/// Pictures of the board, each a PNG.
#[derive(Clone, Debug)]
pub struct Pictures {
    /// The upper face of the strips as they are laid, before anything is trimmed or flattened off.
    pub laid: Rc<[u8]>,
    /// The solid from a corner above.
    pub solid: Rc<[u8]>,
}

impl Pictures {
    /// The solid as it was drawn, and the strips as they are laid, drawn here; nothing where there is too much to draw.
    #[must_use]
    pub fn of(board: &Board, solid: Rc<[u8]>) -> Option<Self> {
        /// On paper it is made smaller, mm.
        const PIXEL: f64 = 0.4;
        let laid = board.untrimmed();
        let pixel = FaceOptions::finest_pixel(&laid).max(PIXEL);
        let options = FaceOptions { pixel, glue_lines: false, workers: 2, figure: FigureDrawn::Whole };
        let picture = laid.picture(Face::Upper, &options)?;
        let mut bytes = Vec::new();
        png::write(&picture, pixel, &mut bytes).ok()?;
        Some(Self { laid: bytes.into(), solid })
    }
}

/// What a sheet is written from.
struct Shop<'a> {
    given: &'a Given<'a>,
    job: &'a Job,
    outcome: &'a Outcome,
    board: &'a Board,
    pictures: &'a Pictures,
    words: &'a Words,
}

impl Shop<'_> {
    /// A number as shown; nothing where there is none.
    fn shown(&self, key: &str) -> &str {
        self.given.numbers.shown(key)
    }

    /// A figure for a table: nothing where there is none.
    fn figure(&self, key: &str) -> String {
        let shown = self.shown(key);
        if shown.is_empty() { String::new() } else { self.words.figure(shown) }
    }

    /// A figure that something is set by, large.
    fn set(&self, key: &str) -> String {
        let shown = self.shown(key);
        if shown.is_empty() { String::new() } else { self.words.setting(shown) }
    }

    /// A length of the plan as the maker reads it.
    fn written(&self, length: Length) -> String {
        self.job.rule.show(length.mm(), Rounding::Nearest, Rest::Told)
    }

    fn value(&self, key: &str) -> f64 {
        self.given.numbers.get(key).map_or(0.0, |n| n.value)
    }

    /// The programs by which the CNC levels faces, each with its sheet; said once where there is none.
    fn levelled_on_the_cnc(&self, is: impl Fn(Cut) -> Option<Face>) -> Vec<String> {
        let given = self.given.programs.iter().filter(|_| self.job.cnc.is_some());
        let says = given.filter_map(|(cutting, program)| {
            let face = self.words.name("face", is(cutting.cut)?.name());
            Some(match program {
                Some(file) => {
                    self.words.with("cnc-levelling", &[("face", Told::Word(&face)), ("file", Told::Word(file))])
                }
                None => self.words.with("cnc-no-levelling", &[("face", Told::Word(&face))]),
            })
        });
        says.collect()
    }

    /// Which program the CNC makes a cut by.
    fn on_the_cnc(&self, cut: Cut) -> Option<String> {
        self.job.cnc.as_ref()?;
        let (_, program) = self.given.programs.iter().find(|(cutting, _)| cutting.cut == cut)?;
        Some(match program {
            Some(name) => self.words.with("cnc-program", &[("file", Told::Word(name))]),
            None => self.words.say("cnc-no-program"),
        })
    }
}

/// All sheets that the plan needs; none where there is no board.
pub(super) fn all(given: &Given, pictures: &Pictures, words: &Words, size: [f64; 2]) -> Vec<Page> {
    let Ok(board) = &given.outcome.board else { return Vec::new() };
    let shop = Shop { given, job: given.job, outcome: given.outcome, board, pictures, words };
    let name = crate::lettering::plain(&given.job.name, 80);
    let mut flow = Flow::new(words, name, size);
    // Some begin a page of their own: what hangs on the wall, what is given away, what is measured by. The others may
    // go on below the one before.
    flow.fitted(false, &|flow| overview::sheet(&shop, flow));
    flow.fitted(false, &|flow| stock::sheet(&shop, flow));
    flow.fitted(true, &|flow| thickness::sheet(&shop, flow));
    for from in &shop.outcome.panels {
        flow.fitted(false, &|flow| ends::sheet(&shop, from, flow));
        flow.on_one_page(&|flow| glue_up::panel(&shop, from, flow));
        flow.fitted(true, &|flow| glue_up::cured(&shop, from, flow));
    }
    for place in 0..shop.outcome.panels.len() {
        flow.fitted(place > 0, &|flow| saw::sheet(&shop, place, flow));
        flow.fitted(true, &|flow| saw::counts(&shop, place, flow));
    }
    flow.fitted(false, &|flow| layup::sheet(&shop, flow));
    flow.on_one_page(&|flow| glue_up::board(&shop, flow));
    flow.fitted(false, &|flow| flatten::sheet(&shop, flow));
    flow.fitted(true, &|flow| flatten::square(&shop, flow));
    for i in 0..shop.job.handholds.len() {
        flow.fitted(true, &|flow| handhold::sheet(&shop, i, flow));
    }
    flow.fitted(true, &|flow| faces::sheet(&shop, flow));
    for place in 0..cnc::count(&shop) {
        flow.fitted(false, &|flow| cnc::sheet(&shop, place, flow));
    }
    flow.fitted(false, &|flow| finish::sheet(&shop, flow));
    flow.fitted(false, &|flow| moves::sheet(&shop, flow));
    flow.fitted(false, &|flow| care::sheet(&shop, flow));
    flow.fitted(false, &|flow| cost::sheet(&shop, flow));
    flow.fitted(false, &|flow| templates::sheet(&shop, flow));
    flow.numbered(&words.say(unit(given.job)))
}

/// The templates as files; none where there is no board.
pub(super) fn template_files(
    given: &Given,
    pictures: &Pictures,
    words: &Words,
    size: [f64; 2],
) -> Vec<super::Template> {
    let Ok(board) = &given.outcome.board else { return Vec::new() };
    let shop = Shop { given, job: given.job, outcome: given.outcome, board, pictures, words };
    template_files::all(&shop, size)
}

/// Every number of the report, on pages of their own; none where there is no board.
pub(super) fn figures(given: &Given, words: &Words, size: [f64; 2]) -> Vec<Page> {
    if given.outcome.board.is_err() {
        return Vec::new();
    }
    let mut flow = Flow::new(words, crate::lettering::plain(&given.job.name, 80), size);
    numbers::sheet(given.numbers, &mut flow);
    flow.numbered(&words.say(unit(given.job)))
}

/// What one unit all lengths of the sheets are in.
fn unit(job: &Job) -> &'static str {
    match job.rule.unit() {
        Unit::Inch => "foot-inches",
        Unit::Millimetre => "foot-millimetres",
    }
}
