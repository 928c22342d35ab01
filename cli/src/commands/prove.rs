//! `prove`: what a program leaves of the wood, against the plan's cut.

use super::make::{Named, bytes, cuttings};
use super::read_plan;
use crate::args::Prove;
use crate::failure::Failure;
use crate::output::{OutputError, write_one};
use crate::{Status, terminal};
use quarterturn_export::proved;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Fault, Program, Proof, prove, read};
use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Prove) -> Result<Status, Failure> {
    let text = read_program(&args.program)?;
    let job = read_plan(&args.plan)?.job;
    let outcome = job.work();
    let board = outcome.board.as_ref().map_err(|e| Failure::Writer("the board", e.to_string()))?;
    let cutting = named(cuttings(&job, board), args)?;
    let drawn = pictures_of(args)?;
    let steps = match read(&text) {
        Ok(steps) => steps,
        Err(wrong) => {
            terminal::cant(&format!("{}: {wrong}", args.program.display()));
            return Ok(Status::CantBeMade);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let proof = prove(&steps, &cutting, job.cnc.as_ref(), args.grid, workers);
    let mut lines = says(&proof, job.cnc.is_some(), job.rule.unit());
    if let Some([depths, differences]) = drawn {
        let unit = job.rule.unit();
        write_one(&depths, &bytes("a picture", |out| proved::depths(&proof, &cutting, unit, out))?)?;
        write_one(&differences, &bytes("a picture", |out| proved::differences(&proof, &cutting, unit, out))?)?;
        lines.extend([("picture", depths.display().to_string()), ("picture", differences.display().to_string())]);
    }
    terminal::lines(&format!("{} against the {}", args.program.display(), cutting.name), &lines);
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

/// Cells on which `make` proves what it writes, mm. Each cell's height is exact and the recess's rim is looked at by
/// itself, so that the tolerance is the same as on fine ones.
const COARSE: f64 = 1.0;

/// Why one of these files, a program of ours, doesn't hold.
pub(super) fn failing(job: &Job, outcome: &Outcome, files: &[Named]) -> Option<String> {
    let board = outcome.board.as_ref().ok()?;
    cuttings(job, board).into_iter().find_map(|(cutting, name, _)| {
        let (name, text) = files.iter().find(|(file, _)| *file == name)?;
        let steps = match read(&String::from_utf8_lossy(text)) {
            Ok(steps) => steps,
            Err(wrong) => return Some(format!("{name}: {wrong}")),
        };
        let proof = prove(&steps, &cutting, job.cnc.as_ref(), COARSE, 1);
        let fault = proof.faults.first()?;
        Some(format!("{name} does not hold: {}: {}", fault.name(), detail(fault, job.rule.unit())))
    })
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
fn named(mut all: Vec<(Cutting, String, Option<Program>)>, args: &Prove) -> Result<Cutting, Failure> {
    let file = args.program.file_name().unwrap_or_default();
    let place = match &args.cut {
        Some(name) => {
            all.iter().position(|(_, known, _)| known.trim_end_matches(".ngc") == name.trim_end_matches(".ngc"))
        }
        None => all.iter().position(|(_, known, _)| **known == *file).or((all.len() == 1).then_some(0)),
    };
    if let Some(place) = place {
        return Ok(all.swap_remove(place).0);
    }
    let names: Vec<&str> = all.iter().map(|(_, name, _)| name.trim_end_matches(".ngc")).collect();
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

/// A length in the plan's unit, as programs write it: four decimals in mm, five in inches, nothing without a sign.
fn length(mm: f64, unit: Unit) -> String {
    let (value, decimals, name) = match unit {
        Unit::Inch => (mm / 25.4, 5, "in"),
        Unit::Millimetre => (mm, 4, "mm"),
    };
    let tick = 10f64.powi(decimals);
    format!("{:.*} {name}", decimals as usize, (value * tick).round() / tick + 0.0)
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

fn detail(fault: &Fault, unit: Unit) -> String {
    let say = |mm: &f64| length(*mm, unit);
    match fault {
        Fault::Gouge(most) => format!("{} is gone that should be left", say(most)),
        Fault::Leftover(most) => format!("{} is left that should be gone", say(most)),
        Fault::RapidThroughWood(line, deep) => format!("line {line}, {} deep", say(deep)),
        Fault::TooMuchAtOnce(line, takes, most) => {
            format!("line {line} takes {} at once, the plan's passes {} at most", say(takes), say(most))
        }
        Fault::SpindleStands(line) => format!("line {line} cuts with the spindle off"),
        Fault::TooFast(line, speed) => {
            format!("line {line} at {speed:.0} turns a minute, more than is printed on the bit")
        }
        Fault::ShankRubs(deep, reach) => format!("{} deep, and the bit cuts {}", say(deep), say(reach)),
        Fault::OutOfTravel(axis, needed, has) => {
            format!("{} along {}, and the machine has {}", say(needed), ["X", "Y", "Z"][(*axis).min(2)], say(has))
        }
        Fault::SidewaysUnplaced(line) => format!("line {line} runs sideways before the bit is sent up"),
        Fault::AnotherBit(line) => format!("line {line} cuts with a second bit"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quarterturn_export::rs274;

    /// `make` writes nothing where this finds something.
    #[test]
    fn a_program_of_ours_that_does_not_hold_is_found() {
        let plan = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples/walnut-diamonds.toml");
        let job = read_plan(&plan).unwrap_or_else(|_| panic!("the sample can't be read")).job;
        let outcome = job.work();
        let (_, name, program) = cuttings(&job, outcome.board.as_ref().unwrap()).swap_remove(0);
        let mut program = program.unwrap();
        let text = |program: &Program| {
            bytes("a program", |out| rs274::write(program, job.rule.unit(), &job.name, out))
                .unwrap_or_else(|_| panic!("it can't be written"))
        };
        assert_eq!(failing(&job, &outcome, &[(name.clone(), text(&program))]), None);
        let half = program.moves.len() / 2;
        program.moves.drain(half..half + 3);
        let why = failing(&job, &outcome, &[(name.clone(), text(&program))]).unwrap();
        assert!(why.starts_with(&format!("{name} does not hold: ")), "{why}");
    }
}
