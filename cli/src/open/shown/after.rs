//! What follows an edit a moment later: by place along the bench its numbers, its findings and what is written there.

use super::super::reading::Reading;
use super::bench::{Bench, matched};
use super::fields::{Field, fields};
use crate::plan;
use quarterturn_geometry::check::{Finding, can_be_made, findings};
use quarterturn_geometry::numbers::Numbers;
use serde::Serialize;

/// All of it, of one text.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct After {
    /// Which text it is of.
    revision: u32,
    /// Whether no finding stops the board from being made.
    can_be_made: bool,
    places: Vec<BenchShown>,
}

/// One place along the bench.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct BenchShown {
    bench: Bench,
    numbers: Vec<NumberShown>,
    findings: Vec<FindingShown>,
    fields: Vec<Field>,
}

/// A number that matters there.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct NumberShown {
    /// Its key in the report.
    key: String,
    called: String,
    shown: String,
    /// What it is and where it comes from.
    about: &'static str,
}

/// A finding.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct FindingShown {
    /// In words: can't be made, take care, note.
    kind: &'static str,
    subject: String,
    says: String,
    mends: String,
    /// The key of the plan that it turns on; empty where the plan leaves it to a default.
    key: String,
}

impl After {
    /// Works out what there is to tell of a text.
    pub(in crate::open) fn of(revision: u64, reading: &Reading) -> Self {
        let (job, outcome) = (reading.job(), reading.outcome());
        let numbers = Numbers::of(job, outcome);
        let found = findings(job, outcome);
        let mut places: Vec<BenchShown> = Bench::ALL
            .into_iter()
            .map(|bench| BenchShown {
                bench,
                numbers: of_bench(bench, &numbers, job.panels.len()),
                findings: Vec::new(),
                fields: fields(bench, reading),
            })
            .collect();
        for finding in &found {
            let (bench, shown) = shown(finding, reading);
            places.iter_mut().filter(|place| place.bench == bench).for_each(|place| place.findings.push(shown.clone()));
        }
        let revision = u32::try_from(revision).unwrap_or(u32::MAX);
        Self { revision, can_be_made: can_be_made(&found), places }
    }
}

/// The numbers that matter at a place, those of one thing together; the only panel isn't named.
fn of_bench(bench: Bench, numbers: &Numbers, panels: usize) -> Vec<NumberShown> {
    let mut all: Vec<(String, NumberShown)> = Vec::new();
    for (pattern, called) in bench.numbers() {
        for number in numbers.all() {
            let Some(name) = matched(pattern, &number.key) else { continue };
            let (of, bare) = called.split_once(": ").map_or(("", *called), |(of, bare)| (of, bare));
            let of = of.replace('*', name);
            let alone = panels == 1 && pattern.starts_with("panel.");
            let called = if of.is_empty() || alone { bare.to_owned() } else { format!("{of}: {bare}") };
            let (key, shown) = (number.key.clone(), number.shown.clone());
            all.push((of, NumberShown { key, called, shown, about: number.about }));
        }
    }
    let names: Vec<String> = all.iter().map(|(of, _)| of.clone()).collect();
    all.sort_by_key(|(of, _)| names.iter().position(|name| name == of));
    all.into_iter().map(|(_, number)| number).collect()
}

/// Where a finding belongs, and how it is told.
fn shown(finding: &Finding, reading: &Reading) -> (Bench, FindingShown) {
    use quarterturn_geometry::check::Subject;
    let key = plan::place(reading.text(), finding).map(|place| place.key).unwrap_or_default();
    let bench = match finding.subject {
        Subject::Handhold(_) | Subject::Handholds(..) | Subject::Cut(_) | Subject::Cuts(..) => Bench::Cuts,
        Subject::Panel(_) if key.is_empty() => Bench::Strips,
        _ if key.is_empty() => Bench::Board,
        _ => Bench::of_key(&key),
    };
    let shown = FindingShown {
        kind: finding.kind.name(),
        subject: finding.subject.name(reading.job()),
        says: finding.says.clone(),
        mends: finding.mends.clone(),
        key,
    };
    (bench, shown)
}
