//! `prove`: what a program leaves of the wood, against the plan's cut.

use super::make::{Named, bytes, cuttings};
use super::read_plan;
use crate::args::Prove;
use crate::failure::Failure;
use crate::output::{OutputError, write_one};
use crate::{Status, terminal};
use quarterturn_export::proved;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::path::{Cutting, Fault, Program, Proof, prove, read};
use std::fs::File;
use std::io::{self, Read as _};
use std::path::Path;

pub(super) fn run(args: &Prove) -> Result<Status, Failure> {
    let text = read_program(&args.program)?;
    let job = read_plan(&args.plan)?.job;
    let outcome = job.work();
    let board = outcome.board.as_ref().map_err(|e| Failure::Writer("the board", e.to_string()))?;
    let cutting = named(cuttings(&job, board), args)?;
    let steps = match read(&text) {
        Ok(steps) => steps,
        Err(wrong) => {
            terminal::cant(&format!("{}: {wrong}", args.program.display()));
            return Ok(Status::CantBeMade);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let proof = prove(&steps, &cutting, job.cnc.as_ref(), args.grid, workers);
    terminal::lines(
        &format!("{} against the {}", args.program.display(), cutting.name),
        &says(&proof, job.cnc.is_some()),
    );
    if let Some(folder) = &args.pictures {
        pictures(&proof, &cutting, folder, args)?;
    }
    Ok(if proof.faults.is_empty() { Status::Made } else { Status::CantBeMade })
}

/// Two pictures named after the program.
fn pictures(proof: &Proof, cutting: &Cutting, folder: &Path, args: &Prove) -> Result<(), Failure> {
    let stem = args.program.file_stem().unwrap_or_default().to_string_lossy();
    let path = |what: &str| folder.join(format!("{stem}-{what}.png"));
    let made = [
        (path("depths"), bytes("a picture", |out| proved::depths(proof, cutting, out))?),
        (path("differences"), bytes("a picture", |out| proved::differences(proof, cutting, out))?),
    ];
    if let Some((path, _)) = made.iter().find(|(path, _)| path.symlink_metadata().is_ok() && !args.replace) {
        return Err(Failure::Exists {
            path: path.clone(),
            why: "is not replaced unasked; choose another folder or say --replace",
        });
    }
    std::fs::create_dir_all(folder).map_err(|source| OutputError::Io { path: folder.to_owned(), source })?;
    for (path, bytes) in &made {
        write_one(path, bytes)?;
    }
    let names = made.each_ref().map(|(path, _)| path.display().to_string());
    terminal::lines("pictures", &["depths", "differences"].into_iter().zip(names).collect::<Vec<_>>());
    Ok(())
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
        Some(format!("{name} does not hold: {}: {}", fault.name(), detail(fault)))
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
        names => format!("which cut is it for? say --cut with one of: {}", names.join(", ")),
    }))
}

/// To a ten-thousandth of a millimetre, nothing without a sign.
fn rounded(off: f64) -> String {
    format!("{:.4}", (off * 1e4).round() / 1e4 + 0.0)
}

fn says(proof: &Proof, has_machine: bool) -> Vec<(&'static str, String)> {
    let mut lines = vec![
        (
            "difference",
            format!(
                "from {} to {} mm along the normal; below 0 is cut too far",
                rounded(proof.least),
                rounded(proof.greatest)
            ),
        ),
        (
            "removed",
            format!(
                "{:.0} mm³ on cells of {} mm; the exact cut takes {:.0} mm³",
                proof.removed, proof.field.cell, proof.exact
            ),
        ),
    ];
    lines.extend(proof.faults.iter().map(|fault| ("fault", format!("{}: {}", fault.name(), detail(fault)))));
    if !has_machine {
        let what = "how much each pass takes and how far the machine travels: the plan has no [shop.cnc]";
        lines.push(("not checked", what.to_owned()));
    }
    let holds = if proof.faults.is_empty() { "it holds" } else { "it does not hold: don't run it" };
    lines.push(("verdict", holds.to_owned()));
    lines
}

fn detail(fault: &Fault) -> String {
    match fault {
        Fault::Gouge(most) => format!("{most:.3} mm is gone that should be left"),
        Fault::Leftover(most) => format!("{most:.3} mm is left that should be gone"),
        Fault::RapidThroughWood(line, deep) => format!("line {line}, {deep:.3} mm deep"),
        Fault::TooMuchAtOnce(line, takes, most) => {
            format!("line {line} takes {takes:.3} mm at once, the plan's passes {most:.3} mm at most")
        }
        Fault::SpindleStands(line) => format!("line {line} cuts with the spindle off"),
        Fault::TooFast(line, speed) => {
            format!("line {line} at {speed:.0} turns a minute, more than is printed on the bit")
        }
        Fault::ShankRubs(deep, reach) => format!("{deep:.3} mm deep, and the bit cuts {reach:.3} mm"),
        Fault::OutOfTravel(axis, needed, has) => {
            format!("{needed:.1} mm along {}, and the machine has {has:.1} mm", ["X", "Y", "Z"][(*axis).min(2)])
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
