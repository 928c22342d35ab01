//! `report.json`: every number and every finding, for programs to read.
//!
//! ```text
//! { "format": 1, "plan", "units": "inch" | "millimetre",
//!   "numbers":   [ { "key", "value", "unit", "shown", "about" } ],
//!   "layup":     [ { "place", "panel", "strip", "turn", "stagger_mm" } ],
//!   "findings":  [ { "check", "kind", "subject", "says", "mends" } ],
//!   "cuts":      [ { "cut", "key" of its numbers, "program": a file's name or null } ],
//!   "files":     [ a file's name ] }
//! ```
//! No key stands twice in `numbers`; a value that is not finite is `null`. Lengths are mm. Must not
//! work anything out.

use crate::ExportError;
use quarterturn_geometry::check::Finding;
use quarterturn_geometry::job::{FromPanel, Job, Outcome};
use quarterturn_geometry::layup::Place;
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::numbers::{Number, Numbers};
use quarterturn_geometry::path::Cutting;
use quarterturn_geometry::stock::LaidBlank;
use serde::Serialize;
use std::io::Write;

/// The format's version.
pub const FORMAT: u32 = 1;

/// The whole report.
#[derive(Debug, Serialize)]
pub struct Report<'a> {
    format: u32,
    plan: &'a str,
    units: &'static str,
    numbers: Vec<Entry<'a>>,
    panels: Vec<Glued<'a>>,
    layup: Vec<Laid<'a>>,
    findings: Vec<Found<'a>>,
    cuts: Vec<Made<'a>>,
    files: &'a [String],
}

#[derive(Debug, Serialize)]
struct Entry<'a> {
    key: &'a str,
    value: f64,
    unit: &'static str,
    shown: &'a str,
    about: &'static str,
}

#[derive(Debug, Serialize)]
struct Laid<'a> {
    place: usize,
    panel: &'a str,
    strip: i64,
    turn: &'static str,
    stagger_mm: f64,
}

#[derive(Debug, Serialize)]
struct Found<'a> {
    check: &'static str,
    kind: &'static str,
    subject: String,
    says: &'a str,
    mends: &'a str,
}

#[derive(Debug, Serialize)]
struct Glued<'a> {
    name: &'a str,
    blanks: Vec<Lying<'a>>,
}

#[derive(Debug, Serialize)]
struct Lying<'a> {
    blank: &'a str,
    quarter_roll: bool,
    turn: &'static str,
    start_mm: f64,
}

#[derive(Debug, Serialize)]
struct Made<'a> {
    cut: &'a str,
    key: String,
    program: Option<&'a str>,
}

impl<'a> Report<'a> {
    /// The report of a job. `programs`: each cut with the name of its program, `None` where it was left out.
    /// `files`: the names of all files made.
    #[must_use]
    pub fn of(
        job: &'a Job,
        outcome: &'a Outcome,
        numbers: &'a Numbers,
        findings: &'a [Finding],
        programs: &'a [(Cutting, Option<String>)],
        files: &'a [String],
    ) -> Self {
        Self {
            format: FORMAT,
            plan: &job.name,
            units: match job.rule.unit() {
                Unit::Inch => "inch",
                Unit::Millimetre => "millimetre",
            },
            numbers: entries(numbers),
            panels: outcome.panels.iter().map(glued).collect(),
            layup: layup(job, outcome),
            findings: findings.iter().map(|f| found(f, job)).collect(),
            cuts: programs.iter().map(made).collect(),
            files,
        }
    }

    /// Writes it, indented, with a newline at its end.
    ///
    /// # Errors
    /// [`ExportError::Io`] where the writer refuses.
    pub fn write(&self, mut out: impl Write) -> Result<(), ExportError> {
        serde_json::to_writer_pretty(&mut out, self).map_err(std::io::Error::from)?;
        Ok(out.write_all(b"\n")?)
    }
}

/// Of two numbers with one key, the one that is found under it.
fn entries(numbers: &Numbers) -> Vec<Entry<'_>> {
    let stands = |n: &&Number| numbers.get(&n.key).is_some_and(|found| std::ptr::eq(found, *n));
    numbers.all().iter().filter(stands).map(entry).collect()
}

fn entry(n: &Number) -> Entry<'_> {
    Entry { key: &n.key, value: n.value, unit: n.unit.name(), shown: &n.shown, about: n.about }
}

fn glued(from: &FromPanel) -> Glued<'_> {
    Glued { name: &from.panel.name, blanks: from.panel.blanks.iter().map(lying).collect() }
}

fn lying(laid: &LaidBlank) -> Lying<'_> {
    Lying {
        blank: &laid.blank.letter,
        quarter_roll: laid.turn.quarter_roll,
        turn: laid.turn.half.name(),
        start_mm: laid.start.mm(),
    }
}

fn layup<'a>(job: &'a Job, outcome: &'a Outcome) -> Vec<Laid<'a>> {
    let laid = |(i, place): (usize, &Place)| Laid {
        place: i + 1,
        panel: job.panels.get(place.panel).map_or("", |p| p.name.as_str()),
        strip: place.strip + 1,
        turn: place.turn.name(),
        stagger_mm: place.stagger.mm(),
    };
    outcome.places.iter().enumerate().map(laid).collect()
}

fn found<'a>(finding: &'a Finding, job: &Job) -> Found<'a> {
    Found {
        check: finding.check,
        kind: finding.kind.name(),
        subject: finding.subject.name(job),
        says: &finding.says,
        mends: &finding.mends,
    }
}

fn made((cutting, program): &(Cutting, Option<String>)) -> Made<'_> {
    Made { cut: &cutting.name, key: cutting.cut.key(), program: program.as_deref() }
}
