//! The pages in `docs` that are made from the code's tables. `BLESS=1 cargo test` rewrites them.

use quarterturn_geometry::check::CHECKS;
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
