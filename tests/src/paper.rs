//! How long the sheets take: from a board, its numbers and its pictures to the PDF's bytes.

use crate::{layup, row};
use quarterturn_export::paper::{Given, Language, PaperSize, Pictures, Sheets};
use quarterturn_geometry::path::{Cutting, Program};
use serde_json::Value;
use std::error::Error;
use std::path::Path;
use std::rc::Rc;
use std::time::Instant;

/// What the PDF of the slowest sample may take, s.
const GOAL: f64 = 0.5;
/// Runs of which the median counts.
const RUNS: usize = 5;

/// The row of the sample whose sheets take longest.
///
/// # Errors
/// Where a sample can't be read or made.
pub fn rows() -> Result<Vec<Value>, Box<dyn Error>> {
    let mut slowest = (0.0, 0, String::new());
    for path in layup::samples()? {
        let (taken, pages) = sheets(&path)?;
        if taken > slowest.0 {
            let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            slowest = (taken, pages, name);
        }
    }
    let (taken, pages, name) = slowest;
    let source = format!("{name}: {pages} pages laid out and written, its pictures at hand; median of {RUNS}");
    Ok(vec![row("paper", "sheets.pdf, slowest sample", taken, "s", "< 0.5", taken < GOAL, &source)])
}

/// The median time, s, and how many pages there are.
fn sheets(path: &Path) -> Result<(f64, usize), Box<dyn Error>> {
    let text = std::fs::read_to_string(path)?;
    let job = quarterturn::plan::read(&text, &path.to_string_lossy()).map_err(|p| p.to_string())?.job;
    let made = quarterturn::make_files(&job, None, false)?;
    let file = |wanted: &str| -> Result<Rc<[u8]>, String> {
        let found = made.files.iter().find(|(name, _)| name == wanted);
        found.map(|(_, bytes)| bytes.as_slice().into()).ok_or_else(|| format!("no {wanted}"))
    };
    let outcome = job.work();
    let board = outcome.board.clone()?;
    let pictures = Pictures::of(&board, file("solid.png")?).ok_or("the strips can't be drawn")?;
    let name = |cutting: &Cutting| {
        let part = Program::of(cutting, job.cnc.as_ref()?, job.hardest()).ok()?;
        Some(format!("{}.ngc", part.cutting.name.replace(' ', "-")))
    };
    let programs: Vec<_> = job.cuttings(&board).into_iter().map(|cutting| (cutting.clone(), name(&cutting))).collect();
    let given =
        Given { job: &job, outcome: &outcome, numbers: &made.numbers, findings: &made.findings, programs: &programs };
    let mut pages = 0;
    let mut taken = Vec::new();
    for _ in 0..RUNS {
        let start = Instant::now();
        let sheets = Sheets::of(&given, &pictures, Language::English, PaperSize::Letter);
        let mut bytes = Vec::new();
        sheets.pdf(&mut bytes)?;
        taken.push(start.elapsed().as_secs_f64());
        pages = sheets.pages.len();
        std::hint::black_box(bytes);
    }
    taken.sort_by(f64::total_cmp);
    Ok((taken[RUNS / 2], pages))
}
