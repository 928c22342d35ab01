//! The programs for the CNC: which there are, whether they hold, and what a fault is called.

use super::bytes;
use crate::failure::Failure;
use quarterturn_export::rs274;
use quarterturn_geometry::board::Board;
use quarterturn_geometry::job::{Job, Outcome, Written};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Fault, Program, prove, read, together};

/// One program: its file, the cuts that it is for, and the parts that the CNC can make.
pub(super) struct File {
    pub(super) name: String,
    pub(super) cuttings: Vec<Cutting>,
    pub(super) parts: Vec<Program>,
}

impl File {
    /// The cuts by name.
    pub(super) fn says(&self) -> String {
        let names: Vec<&str> = self.cuttings.iter().map(|c| c.name.as_str()).collect();
        names.join(", ")
    }
}

/// How programs are written where the plan has no CNC: only their names are asked then.
fn written(job: &Job) -> Written {
    job.cnc.as_ref().map_or(Written::plain(job.rule.unit()), |cnc| cnc.written)
}

/// Every program, and cuts that none can be made for: those stand in files without parts.
pub(super) fn files(job: &Job, board: &Board) -> Vec<File> {
    let holds = written(job).holds;
    let wood = job.hardest();
    let part = |cutting: &Cutting| Program::of(cutting, job.cnc.as_ref()?, wood).ok();
    let all = job.cuttings(board);
    // Without its other part no part of an outline may be cut.
    let outline_can = job.cnc.as_ref().is_none_or(|cnc| Cutting::outline_can(&all, cnc, wood));
    let (can, cant): (Vec<_>, Vec<_>) =
        all.into_iter().partition(|c| part(c).is_some() && (outline_can || !c.is_of_the_outline()));
    let mut groups = together(can, holds);
    groups.extend(cant.into_iter().map(|cutting| vec![cutting]));
    let names = rs274::file_names(&groups, holds);
    let whole = |cuttings: &[Cutting]| outline_can || !cuttings.iter().any(Cutting::is_of_the_outline);
    let file = |(cuttings, name): (Vec<Cutting>, String)| File {
        parts: if whole(&cuttings) { cuttings.iter().filter_map(part).collect() } else { Vec::new() },
        name,
        cuttings,
    };
    groups.into_iter().zip(names).map(file).collect()
}

/// A program's bytes.
pub(super) fn text(file: &File, job: &Job) -> Result<Vec<u8>, Failure> {
    bytes("a program", |out| rs274::write(&file.parts, &written(job), &job.name, out))
}

/// Each cut with the name of its program, `None` where it has none, in the order of the cuts.
pub(super) fn by_cut(files: &[File], job: &Job, board: &Board) -> Vec<(Cutting, Option<String>)> {
    let of = |cutting: &Cutting| files.iter().find(|f| !f.parts.is_empty() && f.cuttings.contains(cutting));
    job.cuttings(board).into_iter().map(|cutting| (cutting.clone(), of(&cutting).map(|f| f.name.clone()))).collect()
}

/// Cells on which `make` proves what it writes, mm. Each cell's height is exact and the recess's rim is looked at by
/// itself, so that the tolerance is the same as on fine ones.
const COARSE: f64 = 1.0;

/// Why one of these files, a program of ours, doesn't hold.
pub(super) fn failing(job: &Job, outcome: &Outcome, made: &[(String, Vec<u8>)]) -> Option<String> {
    let board = outcome.board.as_ref().ok()?;
    files(job, board).into_iter().find_map(|file| {
        let (name, text) = made.iter().find(|(name, _)| *name == file.name)?;
        let steps = match read(&String::from_utf8_lossy(text)) {
            Ok(steps) => steps,
            Err(wrong) => return Some(format!("{name}: {wrong}")),
        };
        let proof = prove(&steps, &file.cuttings, job.cnc.as_ref(), COARSE, 1);
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
        Fault::Clamp(line, i) => format!("line {line} runs into clamp {} of the plan", i + 1),
        Fault::NutRubs(line, deep) => format!("line {line} brings the nut {} into the wood", say(deep)),
        Fault::NutOnClamp(line, i) => format!("line {line} brings the nut into clamp {} of the plan", i + 1),
        Fault::SpindleRubs(line, deep) => {
            format!("line {line} brings the spindle's body {} into the wood", say(deep))
        }
        Fault::SpindleOnClamp(line, i) => {
            format!("line {line} brings the spindle's body into clamp {} of the plan", i + 1)
        }
        Fault::AnotherBit(line) => format!("line {line} cuts with one bit more than the plan has for it"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_plan;
    use super::*;
    use std::path::Path;

    /// `make` writes nothing where this finds something.
    #[test]
    fn a_program_of_ours_that_does_not_hold_is_found() {
        let plan = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples/walnut-diamonds.toml");
        let job = read_plan(&plan).unwrap_or_else(|_| panic!("the sample can't be read")).job;
        let outcome = job.work();
        let mut file = files(&job, outcome.board.as_ref().unwrap()).swap_remove(0);
        let text = |file: &File| text(file, &job).unwrap_or_else(|_| panic!("it can't be written"));
        assert_eq!(failing(&job, &outcome, &[(file.name.clone(), text(&file))]), None);
        let half = file.parts[0].moves.len() / 2;
        file.parts[0].moves.drain(half..half + 3);
        let name = file.name.clone();
        let why = failing(&job, &outcome, &[(name.clone(), text(&file))]).unwrap();
        assert!(why.starts_with(&format!("{name} does not hold: ")), "{why}");
    }
}
