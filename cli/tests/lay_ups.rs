//! `try`: what it writes, what it leaves alone, and that a lay-up written back is the board on the sheet.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use assert_cmd::Command;
use proptest::prelude::*;
use quarterturn::plan;
use quarterturn_geometry::layup::{Asked, Place, Turn};
use quarterturn_geometry::measure::Length;
use serde_json::Value;
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};

#[path = "lay_ups/slid.rs"]
mod slid;

const SAMPLES: [&str; 3] = ["walnut-diamonds", "ash-chevrons", "brick-bond"];

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples").join(format!("{name}.toml"))
}

fn quarterturn() -> Command {
    let mut command = Command::cargo_bin("quarterturn").unwrap();
    command.env("NO_COLOR", "1");
    command
}

fn try_lay_ups(plan: &Path, out: &Path, more: &[&str]) -> assert_cmd::assert::Assert {
    // Never stopped by the clock, however slow the machine, unless that is what is tried.
    let long: &[&str] = if more.contains(&"--seconds") { &[] } else { &["--seconds", "3600"] };
    quarterturn().arg("try").arg(plan).arg("--out").arg(out).args(long).args(more).assert()
}

fn list(out: &Path) -> Vec<Value> {
    let list: Value = serde_json::from_slice(&fs::read(out.join("lay-ups.json")).unwrap()).unwrap();
    list["lay_ups"].as_array().unwrap().clone()
}

/// A lay-up's places: panel by name, strip from 1, turn by name.
fn places(lay_up: &Value) -> Vec<(String, i64, String)> {
    let text = |v: &Value| v.as_str().unwrap().to_owned();
    let place = |p: &Value| (text(&p["panel"]), p["strip"].as_i64().unwrap(), text(&p["turn"]));
    lay_up["places"].as_array().unwrap().iter().map(place).collect()
}

/// How far each place is slid toward the back.
fn staggers(lay_up: &Value) -> Vec<Length> {
    let stagger = |p: &Value| Length::nearest_to_mm(p["stagger_mm"].as_f64().unwrap());
    lay_up["places"].as_array().unwrap().iter().map(stagger).collect()
}

fn stderr(assert: &assert_cmd::assert::Assert) -> String {
    String::from_utf8(assert.get_output().stderr.clone()).unwrap()
}

fn comments(text: &str) -> Vec<String> {
    text.lines().filter_map(|l| l.split_once('#')).map(|(_, said)| said.trim().to_owned()).collect()
}

#[test]
fn every_sample_has_a_sheet_and_every_lay_up_of_it_makes_that_board() {
    let folder = tempfile::tempdir().unwrap();
    for name in SAMPLES {
        let (out, plan) = (folder.path().join(name), sample(name));
        try_lay_ups(&plan, &out, &[]).code(0);
        let first = fs::read(out.join("lay-ups.svg")).unwrap();
        try_lay_ups(&plan, &out, &[]).code(0);
        assert!(first == fs::read(out.join("lay-ups.svg")).unwrap(), "{name}: the same plan gives the same sheet");
        assert!(out.join("lay-ups.png").metadata().unwrap().len() > 100_000);
        let pdf = fs::read(out.join("lay-ups.pdf")).unwrap();
        assert!(pdf.starts_with(b"%PDF-") && pdf.len() > 100_000, "{name}: {}", pdf.len());
        let all = list(&out);
        assert!((12..=24).contains(&all.len()), "{name}: {}", all.len());
        let different: HashSet<_> = all.iter().map(|lay_up| (places(lay_up), staggers(lay_up))).collect();
        assert_eq!(different.len(), all.len(), "{name}: a lay-up stands twice");
        let text = fs::read_to_string(&plan).unwrap();
        for lay_up in &all {
            let number = lay_up["number"].to_string();
            let copy = folder.path().join(format!("{name}-{number}.toml"));
            let take = quarterturn()
                .args(["try", "--take", &number])
                .arg(&plan)
                .arg("--out")
                .arg(&out)
                .arg("--to")
                .arg(&copy)
                .assert();
            take.code(0);
            same_board(&text, &fs::read_to_string(&copy).unwrap(), lay_up);
        }
        // The real program draws the very same faces from the copy.
        let copy = folder.path().join(format!("{name}-3.toml"));
        let made = folder.path().join(format!("{name}-made"));
        quarterturn().args(["make", "--dpi", "25"]).arg(&copy).arg("--out").arg(&made).assert().code(0);
        let job = with_places(&text, &all[2]);
        for (file, bytes) in quarterturn::make_files(&job, Some(25), false).unwrap().files {
            if file.starts_with("face-") {
                assert!(fs::read(made.join(&file)).unwrap() == bytes, "{name}: {file}");
            }
        }
    }
}

/// The plan's job with a lay-up of the list in it, whatever the plan's text says.
fn with_places(text: &str, lay_up: &Value) -> quarterturn_geometry::job::Job {
    let mut job = plan::read(text, "plan").unwrap().job;
    let place = |((panel, strip, turn), stagger): ((String, i64, String), Length)| Place {
        panel: job.panels.iter().position(|p| p.name == panel).unwrap(),
        strip: strip - 1,
        turn: Turn::ALL.into_iter().find(|t| t.name() == turn).unwrap(),
        stagger,
    };
    let asked = Asked::Places(places(lay_up).into_iter().zip(staggers(lay_up)).map(place).collect());
    job.layup.asked = asked;
    job
}

fn same_board(text: &str, copy: &str, lay_up: &Value) {
    let (wanted, read) = (with_places(text, lay_up).work(), plan::read(copy, "copy").unwrap().job.work());
    assert_eq!(wanted.places, read.places);
    let kept = comments(copy);
    assert!(comments(text).iter().all(|c| kept.contains(c)), "a comment was lost");
}

#[test]
fn the_table_says_how_and_what_is_proven() {
    let folder = tempfile::tempdir().unwrap();
    let done = try_lay_ups(&sample("walnut-diamonds"), &folder.path().join("out"), &[]).code(0);
    let said = String::from_utf8(done.get_output().stdout.clone()).unwrap();
    for words in ["odd strips as cut, even strips rolled over", "the plan's own", "Proven by", "lay-ups.png"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(said.lines().all(|line| line.chars().count() <= 88 || !line.contains(' ')), "{said}");
}

#[test]
fn what_is_asked_for_holds() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let plan = sample("walnut-diamonds");
    let run = |more: &[&str]| {
        try_lay_ups(&plan, &out, more).code(0);
        list(&out)
    };
    for lay_up in run(&["--gone", "9", "--show", "12"]) {
        let strips: Vec<i64> = places(&lay_up).iter().map(|p| p.1).collect();
        assert!(!strips.contains(&9));
        assert!(strips.windows(2).all(|pair| pair[0] < pair[1]), "in the order in which they were cut");
    }
    let without_mate = |l: &Value| places(l).iter().all(|p| p.1 != 10);
    let lost = run(&["--gone", "9"]);
    assert!(lost.iter().any(without_mate) && !lost.iter().all(without_mate), "with and without the mate of strip 9");
    for lay_up in run(&["--repeat", "2"]) {
        let turns: Vec<String> = places(&lay_up).into_iter().map(|p| p.2).collect();
        assert!(turns.iter().zip(&turns[2..]).all(|(a, b)| a == b));
    }
    assert!(run(&["--use", "10", "--show", "12"]).iter().all(|l| places(l).len() == 10));
    assert!(run(&["--gone", "1", "--use", "even", "--show", "12"]).iter().all(|l| places(l).len() == 12));
    let free = run(&["--order", "free", "--both-faces", "--aim", "mirrored both ways"]);
    assert!(free.iter().any(|l| places(l).windows(2).any(|pair| pair[0].1 > pair[1].1)));
    // Weighed as contrast is, what "runs on" best is what has the most contrast.
    for lay_up in run(&["--weigh", "contrast 1", "--show", "12"]) {
        let value = |name: &str| {
            let ranks = lay_up["ranks"].as_array().unwrap();
            ranks.iter().find(|r| r["measure"] == name).unwrap()["value"].as_u64().unwrap()
        };
        assert_eq!(value("runs on"), value("contrast"));
        let measures = lay_up["measures"].as_array().unwrap();
        let teeth = measures.iter().find(|m| m["measure"] == "teeth, from a leaning blade").unwrap();
        assert!(teeth["unit"] == "mm" && teeth["value"].as_f64().is_some(), "{teeth}");
    }
    let two = folder.path().join("two");
    try_lay_ups(&sample("brick-bond"), &two, &["--gone", "Q 3, P 1"]).code(0);
    let gone = |p: &(String, i64, String)| (p.0 == "Q" && p.1 == 3) || (p.0 == "P" && p.1 == 1);
    assert!(list(&two).iter().all(|l| !places(l).iter().any(gone)));
    // From either panel next, each panel's strips in their order.
    try_lay_ups(&sample("brick-bond"), &two, &["--order", "panels-free"]).code(0);
    let all = list(&two);
    let strips =
        |l: &Value, panel: &str| -> Vec<i64> { places(l).iter().filter(|p| p.0 == panel).map(|p| p.1).collect() };
    assert!(all.iter().all(|l| ["P", "Q"].iter().all(|panel| strips(l, panel).is_sorted())));
    assert!(all.iter().any(|l| places(l).windows(2).any(|pair| pair[0].0 == pair[1].0)), "panels take turns");
}

#[test]
fn panels_of_unequal_width_are_spoken_of() {
    let folder = tempfile::tempdir().unwrap();
    let plan = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/plans/panels-of-unequal-width.toml");
    let done = try_lay_ups(&plan, &folder.path().join("out"), &[]).code(2);
    let said = stderr(&done).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("panel P is 10 7/8 in wide and panel Q is 10 5/8 in"), "{said}");
}

#[test]
fn stopped_at_once_it_still_shows_what_it_found() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let done = try_lay_ups(&sample("brick-bond"), &out, &["--seconds", "0.000001"]).code(0);
    assert!(String::from_utf8(done.get_output().stdout.clone()).unwrap().contains("stopped before"));
    assert!(!list(&out).is_empty());
}

#[test]
fn misuse_ends_with_two_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (out, plan) = (folder.path().join("out"), sample("walnut-diamonds"));
    for wrong in [
        &["--aim", "best"][..],
        &["--weigh", "colour"],
        &["--weigh", "colour 13"],
        &["--weigh", "colour -1"],
        &["--weigh", "colour 1, colour 2"],
        &["--weigh", "colour 0"],
        &["--weigh", "beauty 3"],
        &["--weigh", ""],
        &["--show", "11"],
        &["--show", "49"],
        &["--repeat", "5"],
        &["--slide", "far"],
        &["--slide", "1/3"],
        &["--slide", "12"],
        &["--slide", "0", "--take", "1", "--to", "x.toml"],
        &["--order", "any"],
        &["--use", "0"],
        &["--use", "15"],
        &["--gone", "15"],
        &["--gone", "Q 1"],
        &["--gone", "x"],
        &["--seconds", "0"],
        &["--seconds", "NaN"],
        &["--take", "1"],
        &["--to", "x.toml"],
        &["--take", "1", "--to", "x.toml", "--show", "12"],
        &["--take", "1", "--to", "x.toml"],
    ] {
        try_lay_ups(&plan, &out, wrong).code(2);
        assert!(!out.exists(), "{wrong:?}");
    }
    try_lay_ups(&folder.path().join("none.toml"), &out, &[]).code(2);
}

#[test]
fn a_plan_that_cannot_be_made_ends_with_one() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    for name in ["fewer-strips-than-wanted", "thin-lip"] {
        let plan = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../tests/plans/{name}.toml"));
        let made = quarterturn().arg("check").arg(&plan).assert();
        if made.get_output().status.code() == Some(1) {
            try_lay_ups(&plan, &out, &[]).code(1);
            assert!(!out.exists());
        }
    }
}

#[test]
fn nothing_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let (out, plan) = (folder.path().join("out"), folder.path().join("plan.toml"));
    fs::copy(sample("walnut-diamonds"), &plan).unwrap();
    let text = fs::read_to_string(&plan).unwrap();
    // Beside what `make` wrote, each leaving the other's files.
    quarterturn().args(["make", "--dpi", "25"]).arg(&plan).arg("--out").arg(&out).assert().code(0);
    try_lay_ups(&plan, &out, &["--show", "12"]).code(0);
    quarterturn().args(["make", "--dpi", "25"]).arg(&plan).arg("--out").arg(&out).assert().code(0);
    assert!(out.join("lay-ups.svg").exists() && out.join("face-upper.png").exists());
    let take = |to: &Path| {
        quarterturn().args(["try", "--take", "2"]).arg(&plan).arg("--out").arg(&out).arg("--to").arg(to).assert()
    };
    assert!(stderr(&take(&plan).code(2)).contains("never overwritten"));
    assert_eq!(fs::read_to_string(&plan).unwrap(), text);
    take(&folder.path().join("copy.toml")).code(0);
    take(&folder.path().join("copy.toml")).code(2);
    fs::write(out.join("lay-ups.svg"), "mine").unwrap();
    try_lay_ups(&plan, &out, &[]).code(2);
    assert_eq!(fs::read_to_string(out.join("lay-ups.svg")).unwrap(), "mine");
    // A plan that was changed since is not what stands on the sheet.
    fs::write(&plan, text + "\n# Another thought.\n").unwrap();
    assert!(stderr(&take(&folder.path().join("later.toml")).code(2)).contains("changed since"));
    let none = quarterturn().args(["try", "--take", "99", "--to", "y.toml"]).arg(&plan).arg("--out").arg(&out).assert();
    none.code(2);
}

/// Plans that say the lay-up in every way that there is.
const LAYUPS: [&str; 8] = [
    "[layup] # a\nrepeat = [\n  \"as cut\", # b\n  { turn = \"rolled over\", stagger = \"3/16\" }, # c\n] # d\n",
    "[layup] # a\n# b\nrepeat = [\"as cut\", \"rolled over\"] # c\n# d\n",
    "[layup]\n# a\nrepeat = [\n  # b\n  \"as cut\", # c\n  { turn = \"rolled over\" }, # d\n  # e\n] # f\n# g\nleft_out = [1, # h\n 2] # i\nmirror_pairs = true # j\n",
    "[layup]\nmirror_pairs = false # a\n# b\nplaces = [3, { strip = 1, turn = \"end for end\" }] # c\n",
    "# a\n[layup] # b\n# c\n[[layup.places]] # d\nstrip = 2 # e\n# f\n[[layup.places]]\nstrip = 1\n# g\n",
    "# a\nlayup = { repeat = [\"as cut\"], left_out = [1] } # b\n# c\n",
    "# a\nlayup.repeat = [\"as cut\"] # b\n# c\nlayup.left_out = [1] # d\n",
    "# a\n",
];

fn sixteenths(of_an_inch: i64) -> Length {
    Length::from_inch_fraction(of_an_inch, 16)
}

/// The sample without its lay-up; top-level keys stand before the first section.
fn plan_with(layup: &str) -> String {
    let text = fs::read_to_string(sample("walnut-diamonds")).unwrap();
    let text = text.replace("[layup]\nrepeat = [\"as cut\", \"rolled over\"]\n", "");
    if layup.contains("layup =") || layup.contains("layup.repeat =") {
        text.replacen("[shop.saw]\n", &format!("{layup}[shop.saw]\n"), 1)
    } else {
        text.replacen("[finishing]\n", &format!("{layup}[finishing]\n"), 1)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn a_lay_up_written_back_keeps_every_comment_and_every_other_line(
        layup in 0..LAYUPS.len(), order in Just((0_i64..14).collect::<Vec<_>>()).prop_shuffle(), count in 1_usize..15,
        turns in prop::collection::vec(0_usize..4, 14), rising in any::<bool>(), repeats in any::<bool>(),
        slides in prop::collection::vec(prop_oneof![Just(Length::ZERO), (-24_i64..24).prop_map(sixteenths)], 14),
    ) {
        let text = plan_with(LAYUPS[layup]);
        let job = plan::read(&text, "plan").map_err(|p| TestCaseError::fail(p.to_string()))?.job;
        let mut strips = order[..count].to_vec();
        if rising {
            strips.sort_unstable();
        }
        let place = |(i, strip): (usize, &i64)| {
            let i = if repeats { i % 2 } else { i };
            Place { panel: 0, strip: *strip, turn: Turn::ALL[turns[i]], stagger: slides[i] }
        };
        let places: Vec<Place> = strips.iter().enumerate().map(place).collect();
        let copy = plan::with_layup(&text, &job, &places, "taken", None).map_err(TestCaseError::fail)?;
        let laid = plan::read(&copy, "copy").map_err(|p| TestCaseError::fail(p.to_string()))?.job.work().places;
        prop_assert_eq!(laid.len(), places.len());
        let said = |p: &Place| (p.strip, p.turn, p.stagger);
        prop_assert!(laid.iter().zip(&places).all(|(l, p)| (l.strip, l.turn, l.stagger) == said(p)));
        let kept = comments(&copy);
        for comment in comments(&text) {
            prop_assert!(kept.contains(&comment), "{} is lost:\n{}", comment, copy);
        }
        // Every other line that says something stands as it was and in the order in which it was.
        let mut lines = copy.lines();
        let in_layup: HashSet<&str> = LAYUPS[layup].lines().collect();
        for line in text.lines().filter(|l| !l.is_empty() && !in_layup.contains(l)) {
            prop_assert!(lines.any(|l| l == line), "{} is lost:\n{}", line, copy);
        }
    }
}

/// Blanks laid otherwise are proven, stand in the list, and are written back so that the copy's panel lies so.
#[test]
fn blanks_laid_otherwise_are_written_back_with_the_lay_up() {
    let folder = tempfile::tempdir().unwrap();
    let (out, plan) = (folder.path().join("out"), sample("traced-walnut"));
    try_lay_ups(&plan, &out, &["--blanks", "--stay", "C", "--show", "12"]).code(0);
    let whole: Value = serde_json::from_slice(&fs::read(out.join("lay-ups.json")).unwrap()).unwrap();
    let said = whole["blanks"].as_array().unwrap().iter().map(|s| s.as_str().unwrap()).collect::<Vec<_>>().join(" ");
    assert!(said.contains("Proven by") && said.contains("Before the first glue-up"), "{said}");
    assert_eq!(whole["draws"], 40, "ranks were tried in draws");
    let blanks = whole["panels"][0]["blanks"].as_array().unwrap();
    assert_eq!(blanks[2]["planned"], 3, "C stays in the middle");
    let copy = folder.path().join("copy.toml");
    let take = |to: &Path| {
        quarterturn().args(["try", "--take", "1"]).arg(&plan).arg("--out").arg(&out).arg("--to").arg(to).assert()
    };
    take(&copy).code(0);
    let (text, copied) = (fs::read_to_string(&plan).unwrap(), fs::read_to_string(&copy).unwrap());
    let letters = plan::letters(&text).unwrap()[0].clone();
    let job = plan::read(&copied, "copy").unwrap().job;
    for (laid, listed) in job.panels[0].blanks.iter().zip(blanks) {
        let planned = usize::try_from(listed["planned"].as_u64().unwrap()).unwrap();
        assert_eq!(laid.blank.letter, letters[planned - 1]);
        assert_eq!(laid.turn.half.name(), listed["turn"].as_str().unwrap());
        assert_eq!(laid.turn.quarter_roll, listed["quarter_roll"].as_bool().unwrap());
    }
    let laid: Vec<_> = job.work().places.iter().map(|p| (p.strip + 1, p.turn.name().to_owned())).collect();
    let listed: Vec<_> = places(&list(&out)[0]).into_iter().map(|(_, strip, turn)| (strip, turn)).collect();
    assert_eq!(laid, listed);
    let kept = comments(&copied);
    assert!(comments(&text).iter().all(|comment| kept.contains(comment)), "every comment is kept");
    quarterturn().arg("check").arg(&copy).assert().code(0);
    let wrong = try_lay_ups(&plan, &out, &["--blanks", "--stay", "Z"]).code(2);
    assert!(stderr(&wrong).contains("names no blank"));
}

/// Beyond six blanks the search for them goes on until it is stopped: what is left of the time is for the strips.
#[test]
fn a_search_for_many_blanks_leaves_half_of_the_time_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let (plan, out) = (sample("brick-bond"), folder.path().join("out"));
    let start = std::time::Instant::now();
    try_lay_ups(&plan, &out, &["--blanks", "--seconds", "12", "--show", "12"]).code(0);
    let whole: Value = serde_json::from_slice(&fs::read(out.join("lay-ups.json")).unwrap()).unwrap();
    let said = whole["blanks"].as_array().unwrap().iter().map(|s| s.as_str().unwrap()).collect::<Vec<_>>().join(" ");
    assert!(said.contains("half of the time (--seconds) was over") && said.contains("% at most"), "{said}");
    assert!(start.elapsed().as_secs_f64() > 6.0);
    assert!(whole["proven"][0]["best"].as_u64().is_some(), "the strips were searched for: {}", whole["proven"]);
}

#[test]
fn a_stock_list_is_shared_out_and_a_wrong_one_refused() {
    let stock = sample("stock/offcuts");
    let boards = |list: &Path| quarterturn().arg("boards").arg(list).args(["--seconds", "3600"]).assert();
    let made = boards(&stock).code(0);
    let said = String::from_utf8(made.get_output().stdout.clone()).unwrap();
    assert!(said.contains("12 blanks") && said.contains("Proven"), "{said}");
    assert!(said.contains("left over") && said.contains("strips"), "{said}");
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(&stock).unwrap();
    let changed = |from: &str, to: &str| {
        let path = folder.path().join("list.toml");
        fs::write(&path, text.replace(from, to)).unwrap();
        boards(&path)
    };
    let many = changed("count = 4", "count = 9").code(0);
    assert!(String::from_utf8(many.get_output().stdout.clone()).unwrap().contains("Not proven"));
    changed("width = [\"7\", \"13\"]", "width = [\"30\", \"31\"]").code(1);
    changed("width = \"2\"", "width = 2").code(0);
    for (from, to, said) in [
        ("hard maple", "hard mapel", "is no wood that is known; known: hard maple"),
        ("\"1 1/8\"", "\"wide\"", "line 23: thickness = wide: "),
        ("count = 4", "count = 999999999999", "more than 60 blanks"),
        ("kerf", "carf", "carf"),
        ("[[blanks]]", "[[blank]]", "blank"),
        ("length = \"26\"", "length = \"-26\"", "every size is to be more than 0"),
        ("finest = \"1/16\"", "finest = \"1/10\"", "line 6: finest: "),
    ] {
        let wrong = stderr(&changed(from, to).code(2));
        assert!(wrong.contains(said), "{to}: {wrong}");
    }
}
