//! report.json: its form, and that no key stands twice.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use quarterturn_export::report::Report;
use quarterturn_geometry::path::Cutting;
use serde_json::Value;
use std::collections::HashSet;

fn written(made: &Made, programs: &[(Cutting, Option<String>)], files: &[String]) -> String {
    let mut out = Vec::new();
    Report::of(&made.job, &made.outcome, &made.numbers, &made.findings, programs, files).write(&mut out).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn it_says_all_that_there_is() {
    let made = Made::of(job());
    let programs = made.programs();
    let text = written(&made, &programs, &["board.stl".to_owned()]);
    assert!(text.ends_with("}\n"));
    assert_eq!(text, written(&made, &programs, &["board.stl".to_owned()]), "the same twice");
    let report: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(report["format"], 1);
    assert_eq!(report["plan"], "Walnut diamonds");
    assert_eq!(report["units"], "inch");
    assert_eq!(report["files"], serde_json::json!(["board.stl"]));
    let cuts = serde_json::json!([
        { "cut": "left handhold", "key": "handhold.1", "program": "handhold-left.ngc" },
        { "cut": "right handhold", "key": "handhold.2", "program": null },
    ]);
    assert_eq!(report["cuts"], cuts);
    let second = serde_json::json!({ "place": 2, "panel": "P", "strip": 2, "turn": "rolled over", "stagger_mm": 0.0 });
    assert_eq!(report["layup"][1], second);
    assert_eq!(report["layup"].as_array().unwrap().len(), 14);
    let findings = report["findings"].as_array().unwrap();
    let finding = findings.iter().find(|f| f["check"] == "piece too short to hold").unwrap();
    assert_eq!(finding["kind"], "take care");
    assert_eq!(finding["subject"], "panel P");
    let numbers = report["numbers"].as_array().unwrap();
    assert_eq!(numbers.len(), made.numbers.all().len());
    for (written, number) in numbers.iter().zip(made.numbers.all()) {
        assert_eq!(written["key"], number.key.as_str());
        // The reader used here may miss the last bit.
        let off = written["value"].as_f64().unwrap() - number.value;
        assert!(off.abs() <= number.value.abs() * f64::EPSILON, "{}: off by {off}", number.key);
        assert_eq!(written["shown"], number.shown.as_str());
        assert_eq!(written["unit"], number.unit.name());
    }
}

#[test]
fn no_key_stands_twice_and_no_value_is_infinite() {
    let mut made = Made::of(job());
    made.numbers.length("board.length", 1.0, "added once more");
    made.numbers.share("odd", f64::NAN, "not a number");
    let report: Value = serde_json::from_str(&written(&made, &[], &[])).unwrap();
    let mut keys = HashSet::new();
    let mut values = report["numbers"].as_array().unwrap().iter();
    assert!(values.clone().all(|n| keys.insert(n["key"].as_str().unwrap().to_owned())));
    assert_eq!(values.clone().find(|n| n["key"] == "board.length").unwrap()["value"], 1.0, "the one that get finds");
    assert_eq!(values.find(|n| n["key"] == "odd").unwrap()["value"], Value::Null);
}
