//! Strips slid along their neighbours: on the sheet, and written back.

use super::*;

/// The sample with every second strip of panel Q slid a quarter inch.
fn brick_bond_slid() -> String {
    let text = fs::read_to_string(sample("brick-bond")).unwrap();
    let slid = text.replacen("{ panel = \"Q\", turn", "{ panel = \"Q\", stagger = \"1/4\", turn", 1);
    assert_ne!(slid, text);
    slid
}

fn stdout(assert: &assert_cmd::assert::Assert) -> String {
    let said = String::from_utf8(assert.get_output().stdout.clone()).unwrap();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn is_slid(lay_up: &Value) -> bool {
    staggers(lay_up).iter().any(|stagger| *stagger != Length::ZERO)
}

/// Writes a lay-up into a copy; the copy's text.
fn take(plan: &Path, out: &Path, lay_up: &Value, copy: &Path) -> String {
    let number = lay_up["number"].to_string();
    let mut taken = quarterturn();
    taken.args(["try", "--take", &number]).arg(plan).arg("--out").arg(out).arg("--to").arg(copy).assert().code(0);
    fs::read_to_string(copy).unwrap()
}

#[test]
fn a_plan_that_slides_strips_is_tried_as_planned_and_flush() {
    let folder = tempfile::tempdir().unwrap();
    let (plan, out) = (folder.path().join("plan.toml"), folder.path().join("out"));
    let text = brick_bond_slid();
    fs::write(&plan, &text).unwrap();
    let said = stdout(&try_lay_ups(&plan, &out, &["--show", "16"]).code(0));
    assert!(said.contains("in 2 ways") && said.contains("as the plan slides them; not at all."), "{said}");
    assert!(said.contains("slid by turns: not, 1/4 in toward the back, not, not, and so on"), "{said}");
    let all = list(&out);
    assert!(all.iter().any(is_slid) && !all.iter().all(is_slid), "some are slid, some are flush");
    let different: HashSet<_> = all.iter().map(|lay_up| (places(lay_up), staggers(lay_up))).collect();
    assert_eq!(different.len(), all.len());
    let own = all.iter().find(|lay_up| lay_up["planned"] == true).unwrap();
    let planned = plan::read(&text, "plan").unwrap().job.work().places;
    assert_eq!(with_places(&text, own).work().places, planned, "the plan's own stands on the sheet, slid as planned");
    for lay_up in &all {
        let copy = folder.path().join(format!("copy-{}.toml", lay_up["number"]));
        same_board(&text, &take(&plan, &out, lay_up, &copy), lay_up);
        quarterturn().arg("check").arg(&copy).assert().code(0);
    }
    // The real program draws the very same faces from the copy of one that is slid.
    let slid = all.iter().find(|lay_up| is_slid(lay_up) && lay_up["planned"] == false).unwrap();
    let copy = folder.path().join(format!("copy-{}.toml", slid["number"]));
    let made = folder.path().join("made");
    quarterturn().args(["make", "--dpi", "25"]).arg(&copy).arg("--out").arg(&made).assert().code(0);
    for (file, bytes) in quarterturn::make_files(&with_places(&text, slid), Some(25), false).unwrap().files {
        if file.starts_with("face-") {
            assert!(fs::read(made.join(&file)).unwrap() == bytes, "{file}");
        }
    }
}

#[test]
fn every_second_strip_is_slid_as_far_as_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let (plan, out) = (sample("walnut-diamonds"), folder.path().join("out"));
    let text = fs::read_to_string(&plan).unwrap();
    let run = |more: &[&str]| {
        let said = stdout(&try_lay_ups(&plan, &out, &[more, &["--show", "12"]].concat()).code(0));
        (said, list(&out))
    };
    // A slide goes with its strip, wherever that lies.
    let (said, all) = run(&["--slide", "-6 mm", "--order", "free"]);
    assert!(said.contains("even strips slid 15/64 in full toward the front"), "{said}");
    let mm = |n: i64| Length::from_micrometres(n * 1000);
    for lay_up in &all {
        let far = |(_, strip, _): &(String, i64, String)| if strip % 2 == 0 { mm(-6) } else { mm(0) };
        assert_eq!(staggers(lay_up), places(lay_up).iter().map(far).collect::<Vec<_>>());
    }
    let copy = take(&plan, &out, &all[0], &folder.path().join("free.toml"));
    assert!(copy.contains("stagger = \"-6 mm\""), "{copy}");
    same_board(&text, &copy, &all[0]);
    // Several ways together; what repeats is written as a repeat.
    let (said, all) = run(&["--slide", "3/8", "--slide", "0", "--slide", "0.375"]);
    assert!(said.contains("in 2 ways") && all.iter().any(is_slid) && !all.iter().all(is_slid), "{said}");
    let repeats = |lay_up: &&Value| {
        let turns: Vec<String> = places(lay_up).into_iter().map(|p| p.2).collect();
        is_slid(lay_up) && turns.iter().zip(&turns[2..]).all(|(a, b)| a == b)
    };
    let repeat = all.iter().find(repeats).unwrap();
    let copy = take(&plan, &out, repeat, &folder.path().join("repeat.toml"));
    assert!(copy.contains("repeat = [") && copy.contains("stagger = \"3/8\" }]") && !copy.contains("places"), "{copy}");
    same_board(&text, &copy, repeat);
}

#[test]
fn what_can_or_cannot_be_slid_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let (plan, out) = (folder.path().join("plan.toml"), folder.path().join("out"));
    fs::write(&plan, brick_bond_slid()).unwrap();
    let said = stdout(&try_lay_ups(&plan, &out, &["--slide", "0", "--show", "12"]).code(0));
    assert!(said.contains("No strip is slid along its neighbours, though the plan slides some."), "{said}");
    assert!(!list(&out).iter().any(is_slid));
    let out = folder.path().join("none");
    let wrong = |more: &[&str]| {
        let said = stderr(&try_lay_ups(&plan, &out, more).code(2));
        assert!(!out.exists(), "{more:?}");
        said.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(wrong(&["--slide", "40"]).contains("slid 40 in, the strips leave nothing that all of them cover"));
    assert!(wrong(&["--slide", "a hair"]).contains("--slide \"a hair\": this is not a length; write a length like"));
    let nine: Vec<&str> = ["--slide", "0"].repeat(9);
    assert!(wrong(&nine).contains("8 times at most"));
    let blanks = ["--blanks", "--slide", "1/8", "--show", "12"];
    let said = stdout(&try_lay_ups(&sample("traced-walnut"), &out, &blanks).code(0));
    assert!(said.contains("The blanks were searched for as if no strip were slid."), "{said}");
}
