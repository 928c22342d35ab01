//! What is told, word for word, and drawn without colour.

use super::{STARTER, plan, small, told};
use std::fmt::Write;

/// What a maker may get wrong: what stands before the end of a small plan, or the whole text.
const CASES: &[(&str, &str)] = &[
    ("a misspelt key", "[shop.saw]\nkerff = \"1/8\""),
    ("a key of another section", "[finishing]\nkerf = \"1/8\""),
    ("a key that nothing comes near", "[mesh]\ncolour = \"red\""),
    ("a length that is none", "[shop.saw]\nkerf = \"1/8 ft\""),
    ("a length too fine", "[shop.saw]\nkerf = \"1/3\""),
    ("a length below 0", "[finishing]\ntrim = \"-1/4\""),
    ("a text in place of a number", "[shop.cnc]\nspeed = \"16000\""),
    ("a word that is misspelt", "[layup]\nrepeat = [\"as cut\", \"roled over\"]"),
    ("a number out of range", "[[bits]]\nname = \"a\"\ndiameter = \"18 mm\"\nflutes = 0"),
    ("something that is missing", "[[bits]]\nname = \"bowl\""),
    (
        "a bit that is not there",
        "[[bits]]\nname = \"bowl\"\ndiameter = \"18 mm\"\n[[handholds]]\nedge = \"left\"\nbit = \"bowl bit\"",
    ),
    (
        "a setback for another edge's end",
        "[[bits]]\nname = \"bowl\"\ndiameter = \"18 mm\"\n[[handholds]]\nedge = \"left\"\nsetback_left = 2",
    ),
    ("single brackets", "[bits]\nname = \"bowl\""),
    ("too few lengths", "[shop.cnc]\ntravel = [24, 24]"),
    ("a spindle without its place", "[shop.cnc]\nspindle_diameter = \"2 1/2\""),
    ("a fraction without quotes", "[shop.saw]\nkerf = 1/8"),
    ("a decimal comma", "[shop.saw]\nkerf = 0,125 # as measured"),
    ("a text without quotes", "[[bits]]\nname = Bowl bit # mine"),
    ("a colour without quotes", "[[woods]]\nname = \"plum\"\nheartwood = #80463a"),
    ("a quote left open", "[[bits]]\nname = \"bowl"),
    ("a key twice", "[shop.saw]\nkerf = 1\nkerf = 2"),
    ("two things at once", "[shop.saw]\nkerff = 1\n[layup]\nplaces = [1]\nleft_out = [2]"),
];

/// `BLESS=1 cargo test -p quarterturn` writes the file anew.
#[test]
fn messages_are_as_kept() {
    let mut all = String::new();
    for (name, end) in CASES {
        let problems = plan(&small("", end)).expect_err(name);
        write!(all, "# {name}\n{problems}\n{}\n", problems.draw(false, 100)).unwrap();
    }
    let kept = concat!(env!("CARGO_MANIFEST_DIR"), "/src/plan/tests/messages.txt");
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(kept, &all).unwrap();
    }
    let kept = std::fs::read_to_string(kept).unwrap().replace("\r\n", "\n");
    assert!(all == kept, "messages differ from tests/messages.txt; they are now:\n{all}");
}

/// One cause, one message.
#[test]
fn every_slip_is_told_once() {
    for (name, end) in CASES {
        let want = if *name == "two things at once" { 2 } else { 1 };
        assert_eq!(told(&small("", end)).len(), want, "{name}: {:?}", told(&small("", end)));
    }
}

#[test]
fn what_hangs_on_something_that_is_wrong_is_silent() {
    let slips = [
        ("letter = \"A\"", "letter = \"A B\""),
        ("wood = \"black walnut\"", "wood = 3"),
        ("width = \"2 1/2\"", "width = \"wide\""),
        ("name = \"P\"", "name = true"),
        ("diameter = \"3/4\"", "diameter = \"3/4 ft\""),
        ("[strips]\ncount = 14\nwidth = \"1 1/2\"", "[strips]\ncount = \"many\""),
        ("units = \"inch\"", "units = \"ell\""),
        ("edge = [\"left\", \"right\"]", "edge = \"top\""),
    ];
    for (right, wrong) in slips {
        let text = STARTER.replacen(right, wrong, 1);
        assert_ne!(text, STARTER, "{right}");
        assert_eq!(told(&text).len(), 1, "{wrong}: {:?}", told(&text));
    }
}

#[test]
fn woods_that_are_near_are_named() {
    let maple = small("", "").replace("black walnut", "maple");
    assert_eq!(
        told(&maple)[0].1,
        "\"maple\" is no wood that is known; write \"hard maple\" or \"soft maple\"; or add it in [[woods]]"
    );
    let walnut = small("", "").replace("black walnut", "blak walnut");
    assert_eq!(
        told(&walnut)[0].1,
        "\"blak walnut\" is no wood that is known; write \"black walnut\"; or add it in [[woods]]"
    );
    let plum = small("", "").replace("black walnut", "plum");
    assert!(told(&plum)[0].1.contains("the woods are black walnut, hard maple"), "{:?}", told(&plum));
}

#[test]
fn a_problem_knows_its_place() {
    let text = "quarterturn = 1\n# é\nname = [\"é\", 7]\n";
    let problems = plan(text).unwrap_err();
    let problem = problems.iter().find(|problem| problem.key == "name").unwrap();
    assert_eq!((problem.line, problem.column, problem.written()), (3, 8, "[\"é\", 7]"));
    assert_eq!(&text[problem.span.clone()], problem.written());
    assert!(problems.to_string().lines().any(|line| line.starts_with("board.toml:3: name: ")));
}

#[test]
fn many_problems_are_cut_short_and_counted() {
    let text: String = (0..30).map(|i| format!("key{i} = 1\n")).collect();
    let problems = plan(&small(&text, "")).unwrap_err();
    assert_eq!((problems.iter().count(), problems.more()), (8, 22));
    assert!(problems.to_string().ends_with("and 22 more problems"));
}

/// A miette report of them shows every line that is told.
#[test]
fn they_are_diagnostics() {
    let (_, end) = CASES.iter().find(|(name, _)| *name == "two things at once").unwrap();
    let problems = plan(&small("", end)).unwrap_err();
    let report = format!("{:?}", miette::Report::new(problems));
    assert!(report.contains("kerff = 1") && report.contains("left_out = [2]"), "{report}");
}
