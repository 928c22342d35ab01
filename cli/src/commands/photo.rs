//! `photo`: the end of a blank in a photograph, made flat, and the outline that was found or given.

use super::bytes;
use crate::args::Photo;
use crate::failure::Failure;
use crate::output::{Made, write_files};
use crate::photo::{PhotoError, read_file};
use crate::{Status, terminal};
use quarterturn_export::{outline, png};
use quarterturn_geometry::photo::{Corners, End, Photograph, balanced, find, finest, rectify};
use quarterturn_geometry::wood::Balance;
use std::path::{Path, PathBuf};

/// The longer side of the photograph with the outline, pixels.
const SHOWN: usize = 1600;
/// The finest scale that is taken unasked, dots an inch.
const FINEST: f64 = 600.0;
/// The coarsest.
const COARSEST: f64 = 10.0;
const INCH: f64 = 25.4;

/// The corners, and how they came to be known.
struct Known {
    corners: Corners,
    found: bool,
    /// The end seems to lie on another side than its size says.
    lies_otherwise: bool,
}

pub(super) fn run(args: &Photo) -> Result<Status, Failure> {
    let photograph = match read_file(&args.picture) {
        Ok(photograph) => photograph,
        Err(PhotoError::Io(source)) => return Err(Failure::Unreadable { path: args.picture.clone(), source }),
        Err(wrong) => {
            terminal::cant(&format!("can't read {} as a photograph: {wrong}", args.picture.display()));
            return Ok(Status::CantBeMade);
        }
    };
    let balance = balance(args, &photograph)?;
    let size = args.size.0.map(|side| side.mm());
    let known = match corners(args, &photograph, size)? {
        Ok(known) => known,
        Err(why) => {
            terminal::cant(&format!(
                "no end was found in {}: {why}. Photograph it whole, on a plain background of another colour, or name \
                 its corners: --corners X,Y X,Y X,Y X,Y",
                args.picture.display()
            ));
            return Ok(Status::CantBeMade);
        }
    };
    let fine = INCH / finest(&known.corners, size);
    let dpi = args.dpi.map_or_else(|| fine.floor().clamp(COARSEST, FINEST), f64::from);
    let flat = rectify(&photograph, &known.corners, size, INCH / dpi).map_err(|e| Failure::Misuse(e.to_string()))?;
    let pixels = [flat.picture.width, flat.picture.height];
    let mut seen = flat.as_seen();
    drop(flat);
    seen = balanced(seen, &balance);
    let files = vec![
        ("end.png".to_owned(), bytes("the flat end", |out| png::write(&seen, INCH / dpi, out))?),
        ("outline.png".to_owned(), shown(args, &photograph, &known.corners)?),
    ];
    let folder = folder(args)?;
    write_files(&folder, &args.picture, &files, args.replace, Made::Photo)?;
    say(args, &photograph, &known, &balance, [dpi, fine], pixels);
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    terminal::wrote(&folder, &names);
    Ok(Status::Made)
}

fn balance(args: &Photo, photograph: &Photograph) -> Result<Balance, Failure> {
    let Some(patch) = args.card else { return Ok(Balance::Assumed) };
    photograph.balance(patch, args.reflectance).map_err(|e| Failure::Misuse(format!("--card: {e}")))
}

/// Corners as given, or as found; the inner `Err` says why none were found.
fn corners(args: &Photo, photograph: &Photograph, size: [f64; 2]) -> Result<Result<Known, find::NotFound>, Failure> {
    let misuse = |e: &dyn std::fmt::Display| Failure::Misuse(format!("--corners: {e}"));
    if let Some(&[a, b, c, d]) = args.corners.as_deref() {
        let corners = Corners::new([a, b, c, d], photograph.size()).map_err(|e| misuse(&e))?;
        let corners = args.end.map_or(Ok(corners), |end| corners.of(end)).map_err(|e| misuse(&e))?;
        return Ok(Ok(Known { corners, found: false, lies_otherwise: false }));
    }
    terminal::working("looking for the end");
    let found = find::find(photograph, args.card).and_then(|outline| {
        let corners = outline.corners(args.end.unwrap_or(End::Near))?;
        Ok(Known { corners, found: true, lies_otherwise: outline.lies_otherwise(size) })
    });
    Ok(found)
}

/// The photograph, upright and small, with the outline drawn on it.
fn shown(args: &Photo, photograph: &Photograph, corners: &Corners) -> Result<Vec<u8>, Failure> {
    let (small, by) = photograph.small(SHOWN);
    let scale = by as f64;
    let points = corners.points().map(|point| point.map(|place| place / scale));
    let card = args.card.map(|patch| patch.map(|part| part / scale));
    bytes("the outline", |out| png::write(&outline::drawn(small, &points, card)?, INCH / 96.0, out))
}

/// Where to write: as asked, else a folder of the photograph's name.
fn folder(args: &Photo) -> Result<PathBuf, Failure> {
    if let Some(folder) = &args.out {
        return Ok(folder.clone());
    }
    let name = PathBuf::from(args.picture.file_stem().unwrap_or_default());
    if name.is_file() {
        return Err(Failure::Exists { path: name, why: "is a file; name a folder with --out" });
    }
    Ok(name)
}

fn say(
    args: &Photo,
    photograph: &Photograph,
    known: &Known,
    balance: &Balance,
    [dpi, fine]: [f64; 2],
    [width, height]: [usize; 2],
) {
    let end = known.corners.end();
    let [across, down] = photograph.size();
    let how = match (known.found, args.end) {
        (false, _) => format!("as given; they run {}, as on the {} end", end.sense(), end.name()),
        (true, said) => {
            let assumed = if said.is_some() { "" } else { ", which is assumed; for the other say --end far" };
            format!(
                "found; it is taken for the {} end{assumed}, its marked corner at the {}",
                end.name(),
                end.marked_corner()
            )
        }
    };
    let mut lines = vec![
        ("photograph", format!("{across} × {down} pixels")),
        ("corners", how),
        ("flat end", format!("{width} × {height} pixels, {dpi:.0} dots an inch; the photograph has {fine:.0}")),
        ("colours", colours(balance)),
    ];
    if known.lies_otherwise {
        let lies = "the end that was found lies the other way than its size says: is it width x thickness? If it \
                    stands on its edge, name its corners, the marked one first"
            .to_owned();
        lines.push(("take care", lies));
    }
    terminal::lines(&args.picture.display().to_string(), &lines);
    terminal::paste(
        "for the plan, in [blanks.shows] of this blank (the file's name as seen from the plan's folder)",
        &plan_line(args, &known.corners),
    );
}

fn colours(balance: &Balance) -> String {
    match balance {
        Balance::Assumed => {
            "as photographed: light and exposure are assumed to be right; a white card beside the end, \
                             pointed at with --card, would tell"
                .to_owned()
        }
        Balance::Card(gain) => {
            let [r, g, b] = gain.factors();
            format!("by the card: red × {r:.2}, green × {g:.2}, blue × {b:.2}, in linear light")
        }
    }
}

/// The end as a line of a plan.
fn plan_line(args: &Photo, corners: &Corners) -> String {
    let file = toml_text(&args.picture);
    let points = corners.points().map(|[x, y]| format!("[{x:.1}, {y:.1}]")).join(", ");
    let card = args.card.map_or_else(String::new, |[x, y, width, height]| {
        format!(", card = [{x:.0}, {y:.0}, {width:.0}, {height:.0}], reflectance = {}", args.reflectance)
    });
    format!("{} = {{ photo = {{ file = {file}, corners = [{points}]{card} }} }}", corners.end().name())
}

/// A path as TOML writes a text.
fn toml_text(path: &Path) -> String {
    toml::Value::String(path.display().to_string()).to_string()
}
