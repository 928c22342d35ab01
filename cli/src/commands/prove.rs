//! `prove`: what a program leaves of the wood, against the plan's cut.

use super::programs::{File as ProgramFile, detail, files, length};
use super::{bytes, read_plan};
use crate::args::Prove;
use crate::failure::Failure;
use crate::output::{OutputError, write_one};
use crate::{Status, terminal};
use quarterturn_export::proved;
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Proof, prove, read};
use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Prove) -> Result<Status, Failure> {
    let text = read_program(&args.program)?;
    let job = read_plan(&args.plan)?.job;
    let outcome = job.work();
    let board = outcome.board.as_ref().map_err(|e| Failure::Writer("the board", e.to_string()))?;
    let file = named(files(&job, board), args)?;
    let what = file.says();
    let drawn = pictures_of(args)?;
    let steps = match read(&text) {
        Ok(steps) => steps,
        Err(wrong) => {
            terminal::cant(&format!("{}: {wrong}", args.program.display()));
            return Ok(Status::CantBeMade);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let proof = prove(&steps, &file.cuttings, job.cnc.as_ref(), args.grid, workers);
    let mut lines = says(&proof, job.cnc.is_some(), job.rule.unit());
    if let Some([depths, differences]) = drawn {
        let unit = job.rule.unit();
        write_one(&depths, &bytes("a picture", |out| proved::depths(&proof, &what, unit, out))?)?;
        write_one(&differences, &bytes("a picture", |out| proved::differences(&proof, &what, unit, out))?)?;
        lines.extend([("picture", depths.display().to_string()), ("picture", differences.display().to_string())]);
    }
    terminal::lines(&format!("{} against the {}", args.program.display(), what), &lines);
    Ok(if proof.faults.is_empty() { Status::Made } else { Status::CantBeMade })
}

/// Where two pictures named after the program go, if they are asked for; their folder is made.
fn pictures_of(args: &Prove) -> Result<Option<[PathBuf; 2]>, Failure> {
    let Some(folder) = &args.pictures else { return Ok(None) };
    let stem = args.program.file_stem().unwrap_or_default().to_string_lossy();
    let paths = ["depths", "differences"].map(|what| folder.join(format!("{stem}-{what}.png")));
    if let Some(path) = paths.iter().find(|path| path.symlink_metadata().is_ok() && !args.replace) {
        let why = "is not replaced unasked; choose another folder or say --replace";
        return Err(Failure::Exists { path: path.clone(), why });
    }
    std::fs::create_dir_all(folder).map_err(|source| OutputError::Io { path: folder.clone(), source })?;
    Ok(Some(paths))
}

/// The longest program that is read, bytes.
const MOST_TEXT: u64 = 16 << 20;

fn read_program(path: &Path) -> Result<String, Failure> {
    let unreadable = |source| Failure::Unreadable { path: path.to_owned(), source };
    let mut bytes = Vec::new();
    File::open(path).map_err(unreadable)?.take(MOST_TEXT + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    let wrong = |what: &str| unreadable(io::Error::new(io::ErrorKind::InvalidData, what));
    if bytes.len() as u64 > MOST_TEXT {
        return Err(wrong("it is longer than 16 MB"));
    }
    String::from_utf8(bytes).map_err(|_| wrong("it is not text (UTF-8)"))
}

/// The cut that is named, else the one whose program has this file's name, else the only one.
fn named(mut all: Vec<ProgramFile>, args: &Prove) -> Result<ProgramFile, Failure> {
    let file = args.program.file_name().unwrap_or_default();
    let place = match &args.cut {
        Some(name) => all.iter().position(|f| f.name.trim_end_matches(".ngc") == name.trim_end_matches(".ngc")),
        None => all.iter().position(|f| *f.name == *file).or((all.len() == 1).then_some(0)),
    };
    if let Some(place) = place {
        return Ok(all.swap_remove(place));
    }
    let names: Vec<&str> = all.iter().map(|f| f.name.trim_end_matches(".ngc")).collect();
    Err(Failure::Misuse(match names.as_slice() {
        [] => "the plan has no cuts to prove a program against".to_owned(),
        names => {
            let what = args
                .cut
                .as_ref()
                .map_or("which cut is it for?".to_owned(), |cut| format!("the plan has no cut {cut};"));
            format!("{what} say --cut with one of: {}", names.join(", "))
        }
    }))
}

fn volume(cubic_mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{:.4} in³", cubic_mm / 25.4f64.powi(3)),
        Unit::Millimetre => format!("{cubic_mm:.0} mm³"),
    }
}

fn says(proof: &Proof, has_machine: bool, unit: Unit) -> Vec<(&'static str, String)> {
    let mut lines = vec![
        (
            "difference",
            format!(
                "from {} to {} along the normal; below 0 is cut too far",
                length(proof.least, unit),
                length(proof.greatest, unit)
            ),
        ),
        (
            "removed",
            format!(
                "{} on cells of {} mm; the exact cut takes {}",
                volume(proof.removed, unit),
                proof.field.cell,
                volume(proof.exact, unit)
            ),
        ),
    ];
    lines.extend(proof.faults.iter().map(|fault| ("fault", format!("{}: {}", fault.name(), detail(fault, unit)))));
    if !has_machine {
        let what = "how much each pass takes and how far the machine travels: the plan has no [shop.cnc]";
        lines.push(("not checked", what.to_owned()));
    }
    let holds = if proof.faults.is_empty() { "it holds" } else { "it does not hold: don't run it" };
    lines.push(("verdict", holds.to_owned()));
    lines
}
