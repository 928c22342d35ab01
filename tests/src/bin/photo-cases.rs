//! `photo-cases FOLDER`: our side for `tests/outside/photographs.py`.
//!
//! Reads FOLDER/cases.json, a list of `{ "picture", "corners", "size", "pixel", "times" }`: a photograph's file, the
//! corners of an end in it (pixels from the upper left corner), its width and thickness in mm, the flat picture's pixel
//! in mm, and how often to do it. Makes each end flat, u to the right and v up, writes PICTURE.flat.png beside it, and
//! FOLDER/found.json: for each the corners as found (lower right, lower left, upper left, upper right; null where none
//! were), why not, and the least seconds that making it flat took.

use quarterturn::photo::read_file;
use quarterturn_export::png;
use quarterturn_geometry::photo::{Corners, End, find, rectify};
use serde_json::{Value, json};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args_os().nth(1).ok_or("photo-cases FOLDER")?);
    let cases: Vec<Value> = serde_json::from_slice(&fs::read(folder.join("cases.json"))?)?;
    let found: Vec<Value> = cases.iter().map(|case| work(&folder, case)).collect::<Result<_, _>>()?;
    fs::write(folder.join("found.json"), serde_json::to_vec(&found)?)?;
    Ok(())
}

fn work(folder: &Path, case: &Value) -> Result<Value, Box<dyn Error>> {
    let name = case["picture"].as_str().ok_or("a case without a picture")?;
    let points: [[f64; 2]; 4] = serde_json::from_value(case["corners"].clone())?;
    let size: [f64; 2] = serde_json::from_value(case["size"].clone())?;
    let pixel = case["pixel"].as_f64().ok_or("a case without a pixel")?;
    let photograph = read_file(&folder.join(name))?;
    let corners = Corners::new(points, photograph.size())?;
    let mut least = f64::INFINITY;
    let mut flat = None;
    for _ in 0..case["times"].as_u64().unwrap_or(1) {
        let began = Instant::now();
        flat = Some(rectify(&photograph, &corners, size, pixel)?);
        least = least.min(began.elapsed().as_secs_f64());
    }
    let flat = flat.ok_or("a case that is done no times")?;
    let mut bytes = Vec::new();
    png::write(&flat.picture, pixel, &mut bytes)?;
    fs::write(folder.join(format!("{name}.flat.png")), bytes)?;
    let outline = find::find(&photograph, None).map_err(|e| e.to_string());
    let seen = outline.and_then(|outline| outline.corners(End::Near).map_err(|e| e.to_string()));
    Ok(match seen {
        Ok(seen) => json!({ "corners": seen.points(), "why": null, "seconds": least }),
        Err(why) => json!({ "corners": null, "why": why, "seconds": least }),
    })
}
