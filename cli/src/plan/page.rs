//! `docs/plan.md`, made from the table of keys.

use super::keys::{self, Fill, Key, Kind};
use quarterturn_geometry::wood::Wood;

/// A small plan that reads as it stands.
pub(super) const EXAMPLE: &str = r#"quarterturn = 1
name = "Two woods"

[[blanks]]
letter = "A"
wood = "black walnut"
width = "2 3/8"
thickness = "1 1/8"
length = 24
count = 3

[[blanks]]
letter = "B"
wood = "hard maple"
width = 2
thickness = "1 1/8"
length = 24
count = 2

[[panels]]
order = ["A", "B", "A", "B", "A"]

[strips]
count = 14
width = "1 1/2"

[layup]
repeat = ["as cut", "rolled over"]
"#;

const BEFORE: &str = "\
# The plan

A plan is one TOML file for one board: what wood there is, what the saw takes, how the strips are
to lie, what is cut into the edges, and what was measured on the way. `quarterturn new` writes one
to begin with. This page is made from the table that the program reads plans by.

Only the wood, how it is laid, and one of strip count, strip width and board thickness must be
given; everything else has a default. A key that isn't listed here is refused. Text stands in
quotes; what follows a `#` is a remark. No plan is longer than 1 000 000 bytes, and no board larger
than 3 m, 2000 strips and 20 000 pieces.

## Lengths

| written | means |
|---|---|
| `\"1 3/8\"`, `\"1-3/8\"`, `\"13/16\"`, `\"⅞\"`, `\"1⅞\"` | inches, in any plan |
| `'1 3/8\"'`, `\"1 3/8 in\"`, `\"1.375 in\"` | inches |
| `\"35 mm\"`, `\"3.5 cm\"` | as they say |
| `1.375`, `24`, `\"1.375\"` | in the plan's unit |

A length is kept exactly as it is typed: down to 1/1024 in, 0.0001 in and 0.001 mm; anything finer
is refused. The defaults below are common practice, no source; where there are two, the first is
for a plan in inches, the second for one in millimetres.

## A small plan

```toml
";

/// `docs/plan.md` as it should be.
#[must_use]
pub fn keys_page() -> String {
    let mut page = format!("{BEFORE}{EXAMPLE}```\n\n## At the top\n\n{}", rows(""));
    for key in keys::keys() {
        page += &section(key);
    }
    page + &woods()
}

/// The woods that can be named.
fn woods() -> String {
    let names: Vec<&str> = Wood::names().collect();
    format!(
        "\n## Woods\n\nA blank's wood is one of these, or one that `[[woods]]` adds: {}.\n\nHow they are drawn is our own choice.\n",
        names.join(", ")
    )
}

/// Heading, sentence and table of a section or of what stands in braces; nothing for other keys.
fn section(key: &Key) -> String {
    let name = key.name();
    let heading = match key.kind {
        Kind::Table => format!("\n## `[{}]`\n\n{}\n", key.path, key.about),
        Kind::Tables(most) => {
            format!("\n## `[[{}]]`\n\n{} {}\n", key.path, key.about, how_many(key, most))
        }
        Kind::Inline => format!("\n### `{name}` of `[{}]`\n", key.parent()),
        Kind::List { .. } if is_one_of_several(name) => {
            format!("\n### An entry of `{name}` of `[{}]`\n", key.parent())
        }
        Kind::List { .. } => format!("\n### An entry of `{name}`\n"),
        _ => return String::new(),
    };
    let rows = rows(key.path);
    if rows.is_empty() { heading } else { format!("{heading}\n{rows}") }
}

/// Whether more than one list has that name.
fn is_one_of_several(name: &str) -> bool {
    let alike = |key: &&Key| key.name() == name && matches!(key.kind, Kind::List { .. });
    keys::keys().iter().filter(alike).count() > 1
}

fn how_many(key: &Key, most: usize) -> String {
    match key.fill {
        Fill::Nothing(without) => format!("At most {most}; without it: {without}."),
        _ => format!("From 1 to {most}."),
    }
}

/// The table of the keys of a section.
fn rows(parent: &str) -> String {
    let rows: String =
        keys::children(parent).filter(|key| !matches!(key.kind, Kind::Table | Kind::Tables(_))).map(row).collect();
    if rows.is_empty() {
        rows
    } else {
        format!("| key | what it is | written as | default |\n|---|---|---|---|\n{rows}")
    }
}

fn row(key: &Key) -> String {
    format!("| `{}` | {} | {} | {} |\n", key.name(), key.about, key.kind.written(), default(key))
}

fn default(key: &Key) -> String {
    let number = matches!(key.kind, Kind::Whole(..) | Kind::Switch | Kind::Share | Kind::Number(..));
    let code = |text: &str| {
        if matches!(key.kind, Kind::Lengths(..)) {
            format!("`[{}]`", text.split(", ").map(quote).collect::<Vec<_>>().join(", "))
        } else {
            format!("`{}`", if number { text.to_owned() } else { quote(text) })
        }
    };
    match key.fill {
        Fill::Required => "must be given".to_owned(),
        Fill::Nothing(text) | Fill::Worked(text) => text.to_owned(),
        Fill::Value(text) => code(text),
        Fill::Lengths(inch, metric) => format!("{}, {}", code(inch), code(metric)),
    }
}

/// As it would be written: a plain number bare, all else in quotes.
fn quote(text: &str) -> String {
    if text.parse::<f64>().is_ok() { text.to_owned() } else { format!("\"{text}\"") }
}
