//! `check`: the findings only.

use super::{bytes, read_plan};
use crate::args::Check;
use crate::failure::Failure;
use crate::output::write_one;
use crate::{Status, terminal};
use quarterturn_export::report::Report;
use quarterturn_geometry::board::Board;
use quarterturn_geometry::check::{can_be_made, findings};
use quarterturn_geometry::numbers::Numbers;
use std::path::Path;

pub(super) fn run(args: &Check) -> Result<Status, Failure> {
    let plan = read_plan(&args.plan)?;
    let job = &plan.job;
    let outcome = job.work();
    let found = findings(job, &outcome);
    if let Some(path) = &args.report {
        may_write(path, args.replace)?;
        let numbers = Numbers::of(job, &outcome);
        let all = |board: &Board| job.cuttings(board);
        // It writes no program.
        let cuts: Vec<_> =
            outcome.board.as_ref().map(all).unwrap_or_default().into_iter().map(|cutting| (cutting, None)).collect();
        let report = Report::of(job, &outcome, &numbers, &found, &cuts, &[]);
        write_one(path, &bytes("the report", |out| report.write(out))?)?;
    }
    terminal::findings(&plan, &found);
    terminal::verdict(&found);
    Ok(if can_be_made(&found) { Status::Made } else { Status::CantBeMade })
}

/// A report may replace a report, nothing else unasked.
fn may_write(path: &Path, replace: bool) -> Result<(), Failure> {
    let is_report = |bytes: Vec<u8>| {
        serde_json::from_slice::<serde_json::Value>(&bytes)
            .is_ok_and(|v| v.get("findings").is_some() && v.get("format").is_some())
    };
    let free = path.symlink_metadata().is_err() || replace || std::fs::read(path).is_ok_and(is_report);
    if free {
        return Ok(());
    }
    Err(Failure::Exists { path: path.to_owned(), why: "is not a report; choose another name or say --replace" })
}
