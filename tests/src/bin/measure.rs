//! Measures what Rust alone can measure, and prints rows for `tests/figures` as a JSON list.
//!
//! `measure [AREA]`; an area without figures prints an empty list.

use quarterturn_geometry::board::{Face, FaceOptions};
use quarterturn_geometry::solid::{Body, Lip};
use quarterturn_tests::{cube, picture, row};
use serde_json::{Value, json};
use std::error::Error;
use std::path::{Path, PathBuf};

fn main() -> Result<(), Box<dyn Error>> {
    let area = std::env::args().nth(1);
    let rows = match area.as_deref() {
        None => [chain()?, picture::rows(), wood_cube()?].concat(),
        Some("chain") => chain()?,
        Some("picture") => [picture::rows(), wood_cube()?].concat(),
        Some(_) => Vec::new(),
    };
    // The one place where this program speaks.
    serde_json::to_writer_pretty(std::io::stdout().lock(), &rows)?;
    Ok(())
}

fn samples() -> Result<Vec<PathBuf>, Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples");
    let mut plans: Vec<PathBuf> = std::fs::read_dir(folder)?.filter_map(|e| Some(e.ok()?.path())).collect();
    plans.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    plans.sort();
    Ok(plans)
}

fn chain() -> Result<Vec<Value>, Box<dyn Error>> {
    let (mut lip_gap, mut pieces_gap, mut turned) = (0.0_f64, 0.0_f64, 0_u32);
    let plans = samples()?;
    for plan in &plans {
        let text = std::fs::read_to_string(plan)?;
        let job = quarterturn::plan::read(&text, "sample").map_err(|p| p.to_string())?.job;
        let board = job.work().board?;
        let size = board.finished();
        for hold in &job.handholds {
            let seen = Lip::measured(hold, &size).ok_or("no solid")?;
            lip_gap = lip_gap.max((seen.thickness - Lip::computed(hold, &size).thickness).abs());
        }
        let body = Body::of(size, &job.handholds)?;
        let whole = body.mesh(job.chord_tolerance)?.volume();
        let pieces = body.cut_pieces(&board.pieces(), job.chord_tolerance).ok_or("a piece can't be cut")?;
        let sum: f64 = pieces.iter().map(|p| p.mesh.volume()).sum();
        pieces_gap = pieces_gap.max((sum - whole).abs() / whole);
        let options = FaceOptions { pixel: 1.0, glue_lines: false, workers: 1 };
        let faces = [Face::Upper, Face::Lower].map(|f| board.picture(f, &options));
        turned += u32::from(faces[0] != faces[1]);
    }
    let few = if plans.len() < 3 { "fewer than three samples" } else { "samples" };
    Ok(vec![
        row(
            "chain",
            "lip on the solid against its closed form, worst",
            lip_gap,
            "mm",
            "<= 1e-6",
            lip_gap <= 1e-6,
            "parry3d distance queries",
        ),
        row(
            "chain",
            "pieces' volume against the whole board's, worst",
            pieces_gap,
            "share",
            "<= 1e-9",
            pieces_gap <= 1e-9,
            "boolmesh subtraction",
        ),
        row(
            "chain",
            "samples whose two faces differ",
            f64::from(turned),
            few,
            "all, at least 3",
            turned as usize == plans.len() && turned >= 3,
            "the wood at each face's own station",
        ),
    ])
}

/// How well the model between two ends predicts a real cube of wood. Without the reference data the figures are not
/// measured, and so do not hold.
fn wood_cube() -> Result<Vec<Value>, Box<dyn Error>> {
    let source =
        "wood cube of QUARTERTURN_REFERENCE (Larsson and others 2025, CN03), errors counted as its README says";
    let Some(folder) = cube::folder() else {
        let mut none =
            row("picture", "wood cube", 0.0, "", "measured", false, "QUARTERTURN_REFERENCE has no wood-cube");
        none["value"] = json!(null);
        return Ok(vec![none]);
    };
    let figures = cube::Cube::read(&folder)?.figures()?;
    let as_row = |(name, value, goal): &cube::Figure| {
        let (text, holds) = goal.map_or(("reported".into(), true), |goal| (format!("<= {goal:.3}"), *value <= goal));
        let unit = if name.contains("share") || name.contains("within") { "share" } else { "rings" };
        row("picture", name, *value, unit, &text, holds, source)
    };
    Ok(figures.iter().map(as_row).collect())
}
