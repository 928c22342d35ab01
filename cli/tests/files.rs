//! The real program on files: what it writes, what it leaves alone, how it ends.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use assert_cmd::Command;
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};

const SAMPLES: [&str; 6] = [
    "walnut-diamonds.toml",
    "ash-chevrons.toml",
    "brick-bond.toml",
    "traced-walnut.toml",
    "maple-every-cut.toml",
    "cherry-by-cnc.toml",
];

fn quarterturn() -> Command {
    let mut command = Command::cargo_bin("quarterturn").unwrap();
    command.env("NO_COLOR", "1");
    command
}

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples").join(name)
}

fn make(plan: &Path, out: &Path) -> assert_cmd::assert::Assert {
    quarterturn().args(["make", "--dpi", "25"]).arg(plan).arg("--out").arg(out).assert()
}

fn stderr(assert: &assert_cmd::assert::Assert) -> String {
    String::from_utf8(assert.get_output().stderr.clone()).unwrap()
}

#[test]
fn every_sample_is_made_and_made_again() {
    let folder = tempfile::tempdir().unwrap();
    for name in SAMPLES {
        let out = folder.path().join(name);
        make(&sample(name), &out).code(0);
        let first: Vec<Vec<u8>> = names(&out).iter().map(|n| fs::read(out.join(n)).unwrap()).collect();
        make(&sample(name), &out).code(0);
        let second: Vec<Vec<u8>> = names(&out).iter().map(|n| fs::read(out.join(n)).unwrap()).collect();
        assert!(first == second, "{name}: the same plan gives the same bytes");
        for file in [
            "face-upper.png",
            "marked-lower.png",
            "drawing.svg",
            "board.stl",
            "board.3mf",
            "board.glb",
            "solid.png",
            "solid.svg",
            "pulled-apart.png",
            "pulled-apart.svg",
            "cut-list.txt",
            "cut-list.csv",
            "sheets.pdf",
            "sheets.html",
            "numbers.pdf",
            "report.json",
        ] {
            assert!(out.join(file).metadata().unwrap().len() > 100, "{name}: {file}");
        }
        let listed: HashSet<String> =
            report(&out)["files"].as_array().unwrap().iter().map(|f| f.as_str().unwrap().to_owned()).collect();
        let there: HashSet<String> = names(&out).into_iter().filter(|n| !n.starts_with('.')).collect();
        assert_eq!(listed, there);
    }
}

fn names(out: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(out).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

fn report(out: &Path) -> serde_json::Value {
    serde_json::from_slice(&fs::read(out.join("report.json")).unwrap()).unwrap()
}

/// Every length on the cut list and on the drawing stands in the report, as shown.
#[test]
fn every_printed_length_stands_in_the_report() {
    let folder = tempfile::tempdir().unwrap();
    for name in SAMPLES {
        let out = folder.path().join(name);
        make(&sample(name), &out).code(0);
        let report = report(&out);
        let text = fs::read_to_string(out.join("cut-list.txt")).unwrap();
        let in_report = report.to_string();
        let printed = lengths(&text);
        assert!(printed.len() > 20, "{name}: only {printed:?}");
        for length in printed {
            assert!(in_report.contains(&length), "{name}: {length} is printed and not in the report");
        }
    }
}

/// `1 3/8 in`, `38.5 mm` and the like.
fn lengths(text: &str) -> HashSet<String> {
    let words: Vec<&str> = text.split_whitespace().map(|w| w.trim_matches(|c| ",;:().".contains(c))).collect();
    let number = |w: &str| {
        w.chars().all(|c| c.is_ascii_digit() || "./".contains(c)) && w.starts_with(|c: char| c.is_ascii_digit())
    };
    let mut found = HashSet::new();
    for (i, unit) in words.iter().enumerate().filter(|(_, w)| ["in", "mm"].contains(w)) {
        let fraction = i.checked_sub(1).map(|j| words[j]).filter(|w| number(w));
        let whole = i.checked_sub(2).map(|j| words[j]).filter(|w| number(w) && !w.contains(['/', '.']));
        match (whole, fraction) {
            (Some(whole), Some(part)) if part.contains('/') => found.insert(format!("{whole} {part} {unit}")),
            (_, Some(part)) => found.insert(format!("{part} {unit}")),
            _ => false,
        };
    }
    found
}

#[test]
fn the_new_plan_runs_as_it_stands_and_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    quarterturn().arg("new").arg(&plan).assert().code(0);
    make(&plan, &folder.path().join("out")).code(0);
    quarterturn().arg("check").arg(&plan).assert().code(0);
    let again = quarterturn().arg("new").arg(&plan).assert().code(2);
    assert!(stderr(&again).contains("never overwritten"));
}

#[test]
fn misuse_and_what_cannot_be_read_end_with_two() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    quarterturn().assert().code(2);
    quarterturn().arg("mill").assert().code(2);
    quarterturn().args(["make", "--dpi", "9", "x.toml"]).assert().code(2);
    quarterturn().arg("--version").assert().code(0);
    make(&at("none.toml"), &at("out")).code(2);
    make(folder.path(), &at("out")).code(2);
    fs::write(at("bytes.toml"), [0xff, 0xfe, 0]).unwrap();
    assert!(stderr(&make(&at("bytes.toml"), &at("out")).code(2)).contains("not text"));
    fs::write(at("long.toml"), "#".repeat(1_100_000)).unwrap();
    assert!(stderr(&make(&at("long.toml"), &at("out")).code(2)).contains("longer than 1 MB"));
    fs::write(at("wrong.toml"), "quarterturn = 1\n[shop.saw]\nkerf = \"3/32nds\"\n").unwrap();
    let wrong = stderr(&make(&at("wrong.toml"), &at("out")).code(2));
    assert!(wrong.contains("wrong.toml:3") && wrong.contains("3/32nds") && wrong.contains("kerf"), "{wrong}");
    fs::write(at("file"), "mine").unwrap();
    make(&sample("walnut-diamonds.toml"), &at("file")).code(2);
    assert_eq!(fs::read_to_string(at("file")).unwrap(), "mine");
    assert!(!at("out").exists());
}

#[test]
fn what_the_maker_changed_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    make(&sample("walnut-diamonds.toml"), &out).code(0);
    fs::write(out.join("cut-list.txt"), "my notes").unwrap();
    let refused = make(&sample("walnut-diamonds.toml"), &out).code(2);
    assert!(stderr(&refused).contains("cut-list.txt"));
    assert_eq!(fs::read_to_string(out.join("cut-list.txt")).unwrap(), "my notes");
    // Another plan does not replace this one's files either.
    make(&sample("ash-chevrons.toml"), &out).code(2);
}

#[test]
fn a_report_replaces_a_report_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let check = |to: &Path| quarterturn().arg("check").arg(sample("brick-bond.toml")).arg("--report").arg(to).assert();
    let to = folder.path().join("report.json");
    check(&to).code(0);
    check(&to).code(0);
    assert!(report(folder.path())["findings"].as_array().unwrap().len() >= 2);
    let plan = folder.path().join("plan.toml");
    fs::copy(sample("brick-bond.toml"), &plan).unwrap();
    check(&plan).code(2);
    assert_eq!(fs::read(&plan).unwrap(), fs::read(sample("brick-bond.toml")).unwrap());
}

/// `make`'s own programs hold; spoiled by hand they don't, and what can't be read is named by its line.
#[test]
fn a_program_is_proved_against_its_plan() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let plan = sample("walnut-diamonds.toml");
    make(&plan, &out).code(0);
    let program = out.join("handhold-front.ngc");
    let prove = |program: &Path| {
        quarterturn().arg("prove").arg(program).arg(&plan).args(["--cut", "handhold-front", "--grid", "0.5"]).assert()
    };
    let text = fs::read_to_string(&program).unwrap();
    let said = String::from_utf8(prove(&program).code(0).get_output().stdout.clone()).unwrap();
    assert!(said.contains("it holds"), "{said}");
    let pictures = folder.path().join("pictures");
    let draw = |more: &[&str]| {
        let mut command = quarterturn();
        command.arg("prove").arg(&program).arg(&plan).args(["--grid", "0.5", "--pictures"]).arg(&pictures);
        command.args(more).assert()
    };
    draw(&[]).code(0);
    for what in ["depths", "differences"] {
        let picture = fs::read(pictures.join(format!("handhold-front-{what}.png"))).unwrap();
        assert!(picture.starts_with(b"\x89PNG") && picture.len() > 5_000);
    }
    draw(&[]).code(2);
    draw(&["--replace"]).code(0);
    let spoiled = folder.path().join("spoiled.ngc");
    fs::write(&spoiled, text.replace("M3", "")).unwrap();
    let said = String::from_utf8(prove(&spoiled).code(1).get_output().stdout.clone()).unwrap();
    assert!(said.contains("spindle stands") && said.contains("don't run it"), "{said}");
    fs::write(&spoiled, text.replace("M5", "G41")).unwrap();
    let said = stderr(&prove(&spoiled).code(1));
    assert!(said.contains("G41") && said.contains("line "), "{said}");
    prove(&folder.path().join("none.ngc")).code(2);
    quarterturn().arg("prove").arg(&spoiled).arg(&plan).args(["--cut", "handhold-9"]).assert().code(2);
}

/// The sample's spindle is proven; one nearer to the nut's end is found in the same programs, and none is made with it.
#[test]
fn a_spindle_that_comes_onto_a_stop_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let plan = sample("cherry-by-cnc.toml");
    make(&plan, &out).code(0);
    let text = fs::read_to_string(&plan).unwrap();
    let other = folder.path().join("other.toml");
    let stop = "above = -12\n";
    assert!(text.contains("nut_height = 24") && text.contains(stop));
    fs::write(&other, text.replace("nut_height = 24", "nut_height = 4").replace(stop, "above = 30\n")).unwrap();
    let prove = |plan: &Path| {
        let program = out.join("groove-upper.ngc");
        quarterturn().arg("prove").arg(program).arg(plan).args(["--cut", "groove-upper", "--grid", "1"]).assert()
    };
    let said = String::from_utf8(prove(&plan).code(0).get_output().stdout.clone()).unwrap();
    assert!(said.contains("it holds"), "{said}");
    let said = String::from_utf8(prove(&other).code(1).get_output().stdout.clone()).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("spindle runs into a clamp: line ") && said.contains("into clamp 1 of the plan"), "{said}");
    let made = folder.path().join("made");
    make(&other, &made).code(0);
    assert!(!made.join("groove-upper.ngc").exists());
    let said = fs::read_to_string(made.join("cut-list.txt")).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("the spindle's body comes down onto clamp 1") && said.contains("bits.stick_out of "),
        "{said}"
    );
}
