//! The sheet of lay-ups: every candidate's face, how it is laid, and where it stands.
//!
//! ```text
//!   title
//!   what is proven, what the ranks are
//!  ┌──────────┐ ┌──────────┐ ┌──────────┐
//!  │  face    │ │  face    │ │  face    │
//!  └──────────┘ └──────────┘ └──────────┘
//!  1 what it forms: of which kind
//!  how it is laid
//!  strips, length
//!  how far the wander shows, what faults of the panels do
//!  runs on 1   left/right 2   front/back 3
//!  closes 4    even 5         contrast 6              ranks
//! ```
//! All faces are at one scale. Must not know how they were drawn or found.

use crate::ink::{self, Anchor};
use crate::paper::{self, Item, Side, Tone};
use crate::{ExportError, face, lettering, png};
use quarterturn_geometry::candidates::{Candidate, Measured, PanelArranged, Proof, Rank, Sheet};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::search::Weights;
use quarterturn_geometry::search::whole::{Aspect, Known};
use serde::Serialize;
use std::io::Write;
use svg::Document;
use svg::node::element::{Group, Rectangle};

/// What is on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct LayUps<'a> {
    /// The board's name.
    pub name: &'a str,
    /// What was found.
    pub sheet: &'a Sheet,
    /// Each candidate's upper face; its lower face under it, where both count.
    pub faces: &'a [Vec<Picture>],
    /// The panels, where their blanks are laid otherwise than planned.
    pub arranged: &'a [PanelArranged],
}

/// A page's pixel, mm: 127 to the inch.
const PIXEL: f64 = 0.2;
const MARGIN: f64 = 9.0;
const GAP: f64 = 8.0;
const TITLE: f64 = 6.0;
const TEXT: f64 = 2.9;
const SMALL: f64 = 2.4;
const HEAD: f64 = 3.5;
const LEAD: f64 = 1.32;

impl LayUps<'_> {
    /// How many pixels wide a face may be.
    pub const FACE_ACROSS: usize = 450;
    /// How many pixels high it may be.
    pub const FACE_DOWN: usize = 450;

    /// As a picture, 127 dots to the inch.
    ///
    /// # Errors
    /// [`ExportError`] where a face holds no picture.
    pub fn png(&self, out: impl Write) -> Result<(), ExportError> {
        let page = Page::of(self);
        let [width, height] = page.pixels();
        let mut blank = Picture { width, height, bytes: vec![255; width * height * 3] };
        for (cell, faces) in page.cells.iter().zip(self.faces) {
            let mut top = cell.top;
            for face in faces {
                face.copy_into(&mut blank, [cell.left, top]);
                top += face.height + page.between;
            }
        }
        let svg = page.paper().add(page.lettering()).to_string();
        png::write(&lettering::draw_over(blank, &svg)?, PIXEL, out)
    }

    /// As SVG at its physical size, the faces embedded.
    ///
    /// # Errors
    /// [`ExportError`] where a face holds no picture.
    pub fn svg(&self) -> Result<String, ExportError> {
        let page = Page::of(self);
        let [width, height] = page.pixels().map(|n| n as f64 * PIXEL);
        let white = Rectangle::new().set("width", ink::mm(width)).set("height", ink::mm(height)).set("fill", "white");
        let mut paper = page.paper().add(white);
        for (cell, faces) in page.cells.iter().zip(self.faces) {
            let mut top = cell.top;
            for face in faces {
                let mut bytes = Vec::new();
                png::write(face, PIXEL, &mut bytes)?;
                let size = [face.width as f64 * PIXEL, face.height as f64 * PIXEL];
                paper = paper.add(face::embedded(&bytes, [cell.left as f64 * PIXEL, top as f64 * PIXEL], size));
                top += face.height + page.between;
            }
        }
        Ok(format!("{}\n", paper.add(page.lettering())))
    }

    /// As PDF on one page of its physical size, the words to be selected and searched.
    ///
    /// # Errors
    /// [`ExportError`] where a face holds no picture, the PDF can't be made or the writer refuses.
    pub fn pdf(&self, out: impl Write) -> Result<(), ExportError> {
        let page = Page::of(self);
        let mut sheet = paper::Page::new(page.pixels().map(|n| n as f64 * PIXEL));
        for (cell, faces) in page.cells.iter().zip(self.faces) {
            let mut top = cell.top;
            for face in faces {
                let mut bytes = Vec::new();
                png::write(face, PIXEL, &mut bytes)?;
                let at = [cell.left, top].map(|n| n as f64 * PIXEL);
                let size = [face.width, face.height].map(|n| n as f64 * PIXEL);
                sheet.items.push(Item::Picture { picture: bytes.into(), at, size });
                top += face.height + page.between;
            }
        }
        for word in page.words() {
            let tone = if word.grey { Tone::Grey } else { Tone::Black };
            sheet.toned(&lettering::plain(&word.text, 400), word.at, word.size, Side::Start, tone);
        }
        paper::pdf::write(&[sheet], &page.title, "en", out)
    }

    /// As JSON, for programs to read; `plan_sha256` is the digest of the plan's text.
    ///
    /// # Errors
    /// [`ExportError::Io`] where the writer refuses.
    pub fn json(
        &self,
        unit: Unit,
        plan_sha256: &str,
        panels: &[String],
        mut out: impl Write,
    ) -> Result<(), ExportError> {
        let sheet = self.sheet;
        let report = Report {
            format: 1,
            plan: self.name,
            plan_sha256,
            units: match unit {
                Unit::Inch => "inch",
                Unit::Millimetre => "millimetre",
            },
            tried: sheet.tried,
            kinds: sheet.kinds,
            draws: sheet.draws,
            stopped: sheet.stopped,
            slides: sheet.slides.as_deref(),
            proven: sheet.proofs.iter().map(proven).collect(),
            blanks: &sheet.blanks,
            panels: self.arranged.iter().map(panel_entry).collect(),
            lay_ups: sheet.candidates.iter().enumerate().map(|(i, c)| entry(i, c, panels)).collect(),
        };
        serde_json::to_writer_pretty(&mut out, &report).map_err(std::io::Error::from)?;
        Ok(out.write_all(b"\n")?)
    }
}

/// One candidate's place, in pixels, and what stands under its faces.
struct Cell {
    left: usize,
    top: usize,
    words_top: f64,
    number: usize,
    head: Vec<String>,
    how: Vec<String>,
    size: Vec<String>,
    faults: Vec<String>,
    ranks: [[String; 2]; RANKS],
}

struct Page {
    width: usize,
    height: usize,
    /// Between an upper face and the lower one.
    between: usize,
    title: String,
    notes: Vec<String>,
    cells: Vec<Cell>,
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(mm: f64) -> usize {
    (mm / PIXEL).ceil() as usize
}

/// How many stand side by side.
const fn columns(many: usize) -> usize {
    match many {
        0..=12 => 3,
        13..=28 => 4,
        _ => 6,
    }
}

const RANKS: usize = Measured::ALL.len();
/// Room for a number left of the words.
const INDENT: f64 = 9.0;

impl Page {
    fn of(all: &LayUps<'_>) -> Self {
        let across = columns(all.faces.len());
        let [margin, gap, between] = [MARGIN, GAP, 2.0].map(whole);
        let width = 2 * margin + across * LayUps::FACE_ACROSS + (across - 1) * gap;
        let room = LayUps::FACE_ACROSS as f64 * PIXEL;
        let title = format!("{}: lay-ups to choose from", lettering::plain(all.name, 60));
        let notes: Vec<String> = notes(all.sheet)
            .iter()
            .flat_map(|note| lettering::lines(note, TEXT, width as f64 * PIXEL - 2.0 * MARGIN))
            .collect();
        let mut top = margin + whole(TITLE * LEAD + 1.5 + notes.len() as f64 * TEXT * LEAD) + gap;
        let mut cells = Vec::new();
        let rows = all.sheet.candidates.chunks(across).zip(all.faces.chunks(across)).enumerate();
        for (row, (candidates, faces)) in rows {
            let high = |faces: &Vec<Picture>| faces.iter().map(|f| f.height + between).sum::<usize>();
            let under = top + faces.iter().map(high).max().unwrap_or(0);
            let mut below = 0.0_f64;
            for (column, candidate) in candidates.iter().enumerate() {
                let cell = Cell {
                    left: margin + column * (LayUps::FACE_ACROSS + gap),
                    top,
                    words_top: under as f64 * PIXEL,
                    number: row * across + column + 1,
                    head: lettering::lines(&head(candidate), HEAD, room - INDENT),
                    how: lettering::lines(&candidate.how, TEXT, room - INDENT),
                    size: lettering::lines(&size(candidate), TEXT, room - INDENT),
                    faults: lettering::lines(&candidate.faults, SMALL, room - INDENT),
                    ranks: ranks(candidate),
                };
                below = below.max(cell.high());
                cells.push(cell);
            }
            top = under + whole(below) + gap;
        }
        Self { width, height: top + margin - gap, between, title, notes, cells }
    }

    const fn pixels(&self) -> [usize; 2] {
        [self.width, self.height]
    }

    fn paper(&self) -> Document {
        let [width, height] = self.pixels().map(|n| n as f64 * PIXEL);
        ink::page(width, height)
    }

    /// Every word on it.
    fn words(&self) -> Vec<Word> {
        let top = MARGIN + TITLE * LEAD + 1.5;
        let mut all = vec![Word::black(&self.title, [MARGIN, MARGIN + TITLE], TITLE)];
        for (i, note) in self.notes.iter().enumerate() {
            all.push(Word::black(note, [MARGIN, top + TEXT * (1.0 + LEAD * i as f64)], TEXT));
        }
        all.extend(self.cells.iter().flat_map(Cell::words));
        all
    }

    fn lettering(&self) -> Group {
        let drawn = |word: &Word| {
            let text = ink::word(&word.text, word.at, word.size, Anchor::Start);
            if word.grey { text.set("fill", GREY) } else { text }
        };
        self.words().iter().fold(ink::lettered(), |all, word| all.add(drawn(word)))
    }
}

/// A line of words: its start, on the baseline, mm.
struct Word {
    text: String,
    at: [f64; 2],
    size: f64,
    grey: bool,
}

impl Word {
    fn black(text: &str, at: [f64; 2], size: f64) -> Self {
        Self { text: text.to_owned(), at, size, grey: false }
    }

    fn grey(text: &str, at: [f64; 2], size: f64) -> Self {
        Self { grey: true, ..Self::black(text, at, size) }
    }
}

impl Cell {
    /// How much room the words take, mm.
    fn high(&self) -> f64 {
        (self.head.len() as f64 * HEAD
            + (self.how.len() + self.size.len()) as f64 * TEXT
            + (2.0 + self.faults.len() as f64) * SMALL)
            * LEAD
            + 3.0
    }

    fn words(&self) -> Vec<Word> {
        let left = self.left as f64 * PIXEL;
        let x = left + INDENT;
        let mut y = self.words_top + 1.0;
        let mut all = vec![Word::black(&self.number.to_string(), [left, y + HEAD * 1.25], HEAD * 1.5)];
        let blocks = [
            (&self.head, HEAD, false),
            (&self.how, TEXT, false),
            (&self.size, TEXT, true),
            (&self.faults, SMALL, true),
        ];
        for (lines, size, grey) in blocks {
            for line in lines {
                all.push(Word { grey, ..Word::black(line, [x, y + size], size) });
                y += size * LEAD;
            }
        }
        y += 1.0;
        let step = (LayUps::FACE_ACROSS as f64 * PIXEL - INDENT) / 3.0;
        for (i, [what, rank]) in self.ranks.iter().enumerate() {
            let [row, column] = [i / 3, i % 3];
            let (at, y) = (x + column as f64 * step, y + SMALL * (1.0 + LEAD * row as f64));
            let after = at + lettering::width(what, SMALL) + 1.0;
            all.extend([Word::grey(what, [at, y], SMALL), Word::black(rank, [after, y], SMALL)]);
        }
        all
    }
}

const GREY: &str = "#555";

/// What it forms, of which kind it is, and whether it is the plan's own.
#[must_use]
pub fn head(candidate: &Candidate) -> String {
    let own = if candidate.planned { " (the plan's own)" } else { "" };
    match candidate.figures.as_str() {
        "" => format!("{}{own}", candidate.kind),
        figures => format!("{figures}: {}{own}", candidate.kind),
    }
}

/// Strips and length, and what puts the figure in the middle.
#[must_use]
pub fn size(candidate: &Candidate) -> String {
    let size = format!("{} strips, {} long", candidate.places.len(), candidate.length_shown);
    match &candidate.centred {
        Some(cut) => {
            let end = if cut.off_left { "left" } else { "right" };
            format!("{size}; centred when {} more comes off the {end}: {}", cut.off_shown, cut.length_shown)
        }
        None => size,
    }
}

fn ranks(candidate: &Candidate) -> [[String; 2]; RANKS] {
    std::array::from_fn(|i| [Measured::ALL[i].name().to_owned(), place(&candidate.ranks[i])])
}

/// `1 shared, proven`, `3 tied`.
#[must_use]
pub fn place(rank: &Rank) -> String {
    if rank.value.is_none() {
        return "none".to_owned();
    }
    let tied = match (rank.tied, rank.sharing > 1) {
        (true, _) => " tied",
        (false, true) => " shared",
        (false, false) => "",
    };
    let proven = if rank.proven { ", proven" } else { "" };
    format!("{}{tied}{proven}", rank.place)
}

/// What is proven, and what the ranks are.
#[must_use]
pub fn notes(sheet: &Sheet) -> Vec<String> {
    let many = sheet.candidates.len();
    let mut notes = vec![format!(
        "{many} lay-ups of the plan's own strips, of {} that were tried: the best of {} kinds, as different as can be.",
        sheet.tried, sheet.kinds
    )];
    notes.extend(sheet.blanks.iter().cloned());
    notes.extend(sheet.panels.iter().cloned());
    notes.push(format!("Unless another order is said, the strips lie in {}, from the left.", sheet.order));
    notes.extend(sheet.slides.iter().cloned());
    if sheet.stopped {
        notes.push("It was stopped before all was tried.".to_owned());
    }
    notes.extend(sheet.proofs.iter().map(|p| proof(p, sheet)));
    notes.push(
        "Ranks are among those shown, 1 the best; equal values share a rank; none where there is nothing to measure. Runs on and contrast are sums over \
         the glue lines and can be proven; the others only rank what was tried: left/right and front/back how nearly \
         the face is its own mirror image, closes how nearly borders of light and dark meet at the glue lines, even how \
         evenly light and dark are spread."
            .to_owned(),
    );
    if sheet.runs_on != Weights::RUNS_ON {
        notes.push(format!("Runs on is weighed as asked: {}.", sheet.runs_on.in_words()));
    }
    let known = Known::default();
    notes.push(format!(
        "Wander: how far a line steps aside, on average, where it is meant to run on across a glue line. One side or one face \
         longer, teeth: what the panels do as measured, else with {} mm of taper and a blade that leans {}\u{b0}.",
        known.taper_across, known.blade_leans
    ));
    notes.push(match sheet.draws {
        0 => "Which ranks are tied because the picture of the wood is uncertain was not tried.".to_owned(),
        draws => format!(
            "Tied: the picture of the wood is uncertain by some millimetres; of {draws} draws of that, the first by \
             this measure is better in fewer than four fifths."
        ),
    });
    if !sheet.cant_be_made.is_empty() {
        notes.push(format!("{} more were left out: as planned they can't be made.", sheet.cant_be_made.len()));
    }
    notes
}

fn proof(proof: &Proof, sheet: &Sheet) -> String {
    let what = proof.measure.name();
    let m = Measured::ALL.iter().position(|m| *m == proof.measure).unwrap_or(0);
    let shown = sheet.candidates.iter().position(|c| c.ranks[m].proven);
    let number = shown.map_or(String::new(), |i| format!(", number {} here", i + 1));
    if proof.is_proven() {
        let good = match proof.equally_good {
            Some(1) => ", and no other is as good".to_owned(),
            Some(n) => format!("; {} others are as good", n - 1),
            None => String::new(),
        };
        return format!(
            "Proven by \u{201c}{what}\u{201d}: of all that may be laid, none is better than the best{number}{good}."
        );
    }
    let share = 100.0 * (proof.best - proof.bound) as f64 / (proof.best.max(1)) as f64;
    format!("Not proven by \u{201c}{what}\u{201d}: a better one may be there, by {share:.1} % at most.")
}

#[derive(Debug, Serialize)]
struct Report<'a> {
    format: u32,
    plan: &'a str,
    plan_sha256: &'a str,
    units: &'static str,
    tried: usize,
    kinds: usize,
    draws: u64,
    stopped: bool,
    slides: Option<&'a str>,
    proven: Vec<Proven>,
    blanks: &'a [String],
    panels: Vec<PanelEntry<'a>>,
    lay_ups: Vec<Entry<'a>>,
}

#[derive(Debug, Serialize)]
struct Proven {
    measure: &'static str,
    best: u64,
    bound: u64,
    proven: bool,
    equally_good: Option<String>,
}

#[derive(Debug, Serialize)]
struct Entry<'a> {
    number: usize,
    figures: &'a str,
    kind: String,
    how: &'a str,
    planned: bool,
    strips: usize,
    length_mm: f64,
    length: &'a str,
    centred_length_mm: Option<f64>,
    off_for_it_mm: Option<f64>,
    off_the: Option<&'static str>,
    ranks: Vec<RankEntry>,
    measures: Vec<MeasureEntry>,
    places: Vec<PlaceEntry<'a>>,
}

#[derive(Debug, Serialize)]
struct RankEntry {
    measure: &'static str,
    place: usize,
    sharing: usize,
    tied: bool,
    proven: bool,
    value: Option<u64>,
}

/// One of [`Aspect::ALL`].
#[derive(Debug, Serialize)]
struct MeasureEntry {
    measure: &'static str,
    /// None where there is nothing to measure.
    value: Option<f64>,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct PlaceEntry<'a> {
    panel: &'a str,
    strip: i64,
    turn: &'static str,
    /// How far it is slid toward the back.
    stagger_mm: f64,
}

/// A panel whose blanks are laid otherwise than planned.
#[derive(Debug, Serialize)]
struct PanelEntry<'a> {
    name: &'a str,
    how: &'a str,
    blanks: Vec<BlankEntry>,
}

#[derive(Debug, Serialize)]
struct BlankEntry {
    /// Its place in the plan's order, from 1.
    planned: usize,
    turn: &'static str,
    quarter_roll: bool,
}

fn panel_entry(panel: &PanelArranged) -> PanelEntry<'_> {
    let blank = |(place, turn): &(usize, quarterturn_geometry::stock::BlankTurn)| BlankEntry {
        planned: place + 1,
        turn: turn.half.name(),
        quarter_roll: turn.quarter_roll,
    };
    PanelEntry { name: &panel.name, how: &panel.how, blanks: panel.blanks.iter().map(blank).collect() }
}

fn proven(proof: &Proof) -> Proven {
    Proven {
        measure: proof.measure.name(),
        best: proof.best,
        bound: proof.bound,
        proven: proof.is_proven(),
        equally_good: proof.equally_good.map(|n| n.to_string()),
    }
}

fn entry<'a>(i: usize, candidate: &'a Candidate, panels: &'a [String]) -> Entry<'a> {
    let rank = |(m, rank): (&Measured, &Rank)| RankEntry {
        measure: m.name(),
        place: rank.place,
        sharing: rank.sharing,
        tied: rank.tied,
        proven: rank.proven,
        value: rank.value,
    };
    let measure = |aspect: &Aspect| MeasureEntry {
        measure: aspect.name(),
        value: aspect.of(&candidate.looks),
        unit: aspect.unit(),
    };
    let place = |p: &quarterturn_geometry::layup::Place| PlaceEntry {
        panel: panels.get(p.panel).map_or("", String::as_str),
        strip: p.strip + 1,
        turn: p.turn.name(),
        stagger_mm: p.stagger.mm(),
    };
    Entry {
        number: i + 1,
        figures: &candidate.figures,
        kind: candidate.kind.to_string(),
        how: &candidate.how,
        planned: candidate.planned,
        strips: candidate.places.len(),
        length_mm: candidate.length,
        length: &candidate.length_shown,
        centred_length_mm: candidate.centred.as_ref().map(|c| c.length),
        off_for_it_mm: candidate.centred.as_ref().map(|c| c.off),
        off_the: candidate.centred.as_ref().map(|c| if c.off_left { "left" } else { "right" }),
        ranks: Measured::ALL.iter().zip(&candidate.ranks).map(rank).collect(),
        measures: Aspect::ALL.iter().map(measure).collect(),
        places: candidate.places.iter().map(place).collect(),
    }
}
