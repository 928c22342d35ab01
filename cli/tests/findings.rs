//! Each check has a plan that trips it and only it, and the exit status follows from its kind.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use assert_cmd::Command;
use quarterturn_geometry::check::{CHECKS, Finding, Kind, findings};
use std::path::PathBuf;

fn plan_of(check: &str) -> PathBuf {
    let name = check.replace('\'', "").replace(' ', "-").to_lowercase();
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../tests/plans").join(format!("{name}.toml"))
}

fn findings_of(check: &str) -> Vec<Finding> {
    let text = std::fs::read_to_string(plan_of(check)).unwrap_or_else(|e| panic!("{check}: {e}"));
    let file = plan_of(check).display().to_string();
    let job = quarterturn::plan::read(&text, &file).unwrap_or_else(|p| panic!("{check}: {p}")).job;
    findings(&job, &job.work())
}

#[test]
fn each_check_has_a_plan_that_trips_it_and_only_it() {
    for check in &CHECKS {
        let found = findings_of(check.name);
        let names: Vec<&str> = found.iter().map(|f| f.check).collect();
        assert_eq!(names, [check.name], "{found:#?}");
        assert!(check.kinds.contains(&found[0].kind), "{}: {:?}", check.name, found[0].kind);
        assert!(!found[0].says.is_empty());
        assert_eq!(found[0].mends.is_empty(), check.name == "glue lines crossed", "all else says what mends it");
    }
}

/// The terminal says where: file, line and key; the line has the key, and the key is one of the plan's.
#[test]
fn what_cannot_be_made_says_where_in_the_plan() {
    let mut placed = 0;
    for check in &CHECKS {
        let text = std::fs::read_to_string(plan_of(check.name)).unwrap();
        for finding in findings_of(check.name) {
            let place = quarterturn::plan::place(&text, &finding);
            assert!(place.is_some() || finding.kind != Kind::CantBeMade, "{}: nowhere", check.name);
            let Some(place) = place else { continue };
            let line = text.lines().nth(place.line - 1).unwrap();
            let last = place.key.rsplit('.').next().unwrap();
            assert!(line.contains(last), "{}: {place} is {line:?}", check.name);
            placed += 1;
            if finding.mends.is_empty() {
                continue;
            }
            let said =
                Command::cargo_bin("quarterturn").unwrap().arg("check").arg(plan_of(check.name)).output().unwrap();
            let said = String::from_utf8(said.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(said.contains(&format!(".toml:{place})")), "{said}");
        }
    }
    assert!(placed > 35, "{placed}");
}

#[test]
fn a_plan_without_cause_has_no_finding() {
    let text = std::fs::read_to_string(plan_of("odd count")).unwrap().replace("count = 13", "count = 14");
    let job = quarterturn::plan::read(&text, "even").unwrap().job;
    assert_eq!(findings(&job, &job.work()), []);
}

#[test]
fn check_and_make_end_with_one_exactly_when_it_cannot_be_made() {
    let folder = tempfile::tempdir().unwrap();
    for check in &CHECKS {
        let cannot = findings_of(check.name).iter().any(|f| f.kind == Kind::CantBeMade);
        let out = folder.path().join(check.name.replace(' ', "-"));
        let checked = Command::cargo_bin("quarterturn").unwrap().arg("check").arg(plan_of(check.name)).assert();
        checked.code(i32::from(cannot));
        let mut make = Command::cargo_bin("quarterturn").unwrap();
        make.args(["make", "--dpi", "20", "--out"]).arg(&out).arg(plan_of(check.name)).assert().code(i32::from(cannot));
        assert_eq!(out.exists(), !cannot, "{}: half-written", check.name);
    }
}

/// The starter's remarks on more cuts are a plan too, once the # is taken away.
#[test]
fn the_cuts_that_a_new_plan_offers_can_be_made() {
    let (before, rest) = quarterturn::plan::STARTER.split_once("# More cuts.").unwrap();
    let (offered, after) = rest.split_once("# ----").unwrap();
    let offered: String = offered.lines().skip(1).map(|line| format!("{}\n", line.trim_start_matches("# "))).collect();
    let text = format!("{before}# More cuts.\n{offered}# ----{after}");
    let job = quarterturn::plan::read(&text, "starter").unwrap_or_else(|p| panic!("{p}")).job;
    let cuts = &job.cuts;
    assert!(cuts.grooves.len() == 1 && cuts.spouts.len() == 1 && cuts.finger_recesses.len() == 1);
    assert!(cuts.feet.is_some() && cuts.hanging_hole.is_some() && cuts.corner_radius.is_some());
    let found = findings(&job, &job.work());
    assert!(found.iter().all(|f| f.kind == Kind::Note), "{found:#?}");
}
