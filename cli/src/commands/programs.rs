//! The programs for the CNC: which there are, whether they hold, and what a fault is called.

use quarterturn_export::rs274;
use quarterturn_geometry::board::Board;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Fault, Program, prove, read};

/// Every cut with its program's file name, and the program where there is a CNC that can make it.
pub(super) fn cuttings(job: &Job, board: &Board) -> Vec<(Cutting, String, Option<Program>)> {
    let all = Cutting::all(&job.handholds, &job.cuts, &board.finished());
    let names = rs274::file_names(&all);
    let program = |cutting: &Cutting| Program::of(cutting, job.cnc.as_ref()?).ok();
    all.into_iter()
        .zip(names)
        .map(|(cutting, name)| {
            let program = program(&cutting);
            (cutting, name, program)
        })
        .collect()
}

/// Cells on which `make` proves what it writes, mm. Each cell's height is exact and the recess's rim is looked at by
/// itself, so that the tolerance is the same as on fine ones.
const COARSE: f64 = 1.0;

/// Why one of these files, a program of ours, doesn't hold.
pub(super) fn failing(job: &Job, outcome: &Outcome, files: &[(String, Vec<u8>)]) -> Option<String> {
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

/// A length in the plan's unit, as programs write it: four decimals in mm, five in inches, nothing without a sign.
pub(super) fn length(mm: f64, unit: Unit) -> String {
    let (value, decimals, name) = match unit {
        Unit::Inch => (mm / 25.4, 5, "in"),
        Unit::Millimetre => (mm, 4, "mm"),
    };
    let tick = 10f64.powi(decimals);
    format!("{:.*} {name}", decimals as usize, (value * tick).round() / tick + 0.0)
}

/// A fault with its figures.
pub(super) fn detail(fault: &Fault, unit: Unit) -> String {
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
    use super::super::{bytes, read_plan};
    use super::*;
    use std::path::Path;

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
