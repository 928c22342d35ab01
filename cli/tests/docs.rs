//! The pages in `docs` that are made from the code's tables. `BLESS=1 cargo test` rewrites them.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use quarterturn_geometry::check::CHECKS;
use quarterturn_geometry::numbers::Numbers;
use std::collections::HashSet;
use std::fmt::Write as _;
use std::path::PathBuf;

fn same(page: &str, made: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs").join(page);
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(&path, made).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == made, "docs/{page} is not what the code says; run BLESS=1 cargo test -p quarterturn --test docs");
}

#[test]
fn findings_page() {
    let mut page = String::from(
        "# Findings\n\n\
         What `check` and `make` say of a plan. *Can't be made* ends with exit status 1 and nothing is written; \
         *take care* and *note* don't stop anything. Where one cause would trip several, the nearest speaks and \
         those that give way to it are silent. This page is made from the table in `geometry/src/check/table.rs`; \
         each finding has a plan in `tests/plans` that trips it and nothing else.\n\n\
         N count, L panel length, q lost before the first strip, q_far lost at the far end, b kerf, s strip width, \
         f and g flattened off the upper and lower face, ℓ edge length, a and c setbacks, d recess depth, \
         ρ(d) half its width at the edge, t the bit's travel.\n",
    );
    for check in &CHECKS {
        let kinds: Vec<&str> = check.kinds.iter().map(|k| k.name()).collect();
        let _ = write!(
            page,
            "\n## {}\n\n| | |\n|---|---|\n| kind | {} |\n| when | {} |\n| default limit | {} |\n| where it comes from | {} |\n| what mends it | {} |\n",
            check.name,
            kinds.join(", "),
            check.formula,
            check.limit,
            check.source,
            check.mends
        );
        if !check.gives_way_to.is_empty() {
            let _ = writeln!(page, "| gives way to | {} |", check.gives_way_to.join("; "));
        }
    }
    same("findings.md", &page);
}

/// `panel.P.strip.3.starts` stands for every panel and strip: `panel.NAME.strip.N.starts`.
fn pattern(key: &str) -> String {
    let mut parts: Vec<&str> = key.split('.').collect();
    if parts[0] == "panel" {
        parts[1] = "NAME";
    }
    if parts[0] == "colour" && parts.len() == 3 {
        parts[1] = "LETTER and LETTER";
    }
    let number = |s: &str| s.chars().all(|c| c.is_ascii_digit());
    let named: Vec<String> = parts
        .iter()
        .map(|part| {
            let words: Vec<&str> = part.split(' ').map(|w| if number(w) { "N" } else { w }).collect();
            let end = |w: &str| ["left", "right", "front", "back"].contains(&w);
            let words: Vec<&str> = if words[0] == "setback" || words.starts_with(&["bit", "from"]) {
                words.iter().map(|w| if end(w) { "END" } else { w }).collect()
            } else {
                words
            };
            words.join(" ")
        })
        .collect();
    named.join(".")
}

#[test]
fn report_page() {
    let mut page = String::from(
        "# The report\n\n\
         `report.json` holds every number that `make` works out, each once: `key`, `value` (in `unit`, always \
         millimetres for lengths), `shown` (as the maker reads it, rounded to the safe side) and `about`. Beside \
         them stand `format` (1), `plan`, `units`, `layup` (place by place), `findings`, `cuts` (each with the key \
         of its numbers and its program) and `files`. This page is made from the numbers of the samples. NAME is a panel's name, LETTER a \
         blank's, N a number counted from 1, END an end of the handhold's edge.\n\n| key | unit | what it is |\n|---|---|---|\n",
    );
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut seen = HashSet::new();
    let plans = [
        "samples/walnut-diamonds",
        "samples/brick-bond",
        "samples/traced-walnut",
        "samples/maple-every-cut",
        "samples/cherry-by-cnc",
        "tests/plans/taper-fans-the-board",
        "tests/plans/blanks-differ-in-colour",
    ];
    for plan in plans {
        let path = root.join(format!("{plan}.toml"));
        let text = std::fs::read_to_string(&path).unwrap();
        let job = quarterturn::plan::read(&text, &path.to_string_lossy()).unwrap().job;
        let made = quarterturn::make_files(&job, Some(20), false).unwrap();
        let numbers: &Numbers = &made.numbers;
        for number in numbers.all() {
            let key = pattern(&number.key);
            if seen.insert(key.clone()) {
                let _ = writeln!(page, "| `{key}` | {} | {} |", number.unit.name(), number.about);
            }
        }
    }
    same("report.md", &page);
}
