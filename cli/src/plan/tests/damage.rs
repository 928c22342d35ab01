//! No text makes the reader panic, hang or eat memory; and no plan that reads makes the geometry do so.

use super::super::keys::{Kind, Least, keys};
use super::super::tree;
use super::{STARTER, plan, small, starter_with, told};
use proptest::prelude::*;
use std::time::{Duration, Instant};
use toml::Value;

/// Reads a text; works out what reads; draws what doesn't.
fn survive(text: &str) {
    match plan(text) {
        Ok(plan) => {
            let outcome = plan.job.work();
            assert!(outcome.places.len() <= super::super::table::MOST_STRIPS);
        }
        Err(problems) => {
            assert!(problems.iter().count() > 0);
            assert!(problems.to_string().contains("board.toml:"));
            let drawn = problems.draw(false, 80);
            assert!(!drawn.chars().any(|c| c.is_control() && c != '\n' && c != '\t'), "{drawn:?}");
        }
    }
}

/// One kind of damage.
#[derive(Clone, Debug)]
enum Damage {
    Delete(usize, usize),
    Double(usize, usize),
    Put(usize, char),
    Cut(usize),
    SwapLines(usize, usize),
}

fn damage() -> impl Strategy<Value = Damage> {
    let at = 0..STARTER.len();
    prop_oneof![
        (at.clone(), 1..60usize).prop_map(|(at, n)| Damage::Delete(at, n)),
        (at.clone(), 1..400usize).prop_map(|(at, n)| Damage::Double(at, n)),
        (at.clone(), any::<char>()).prop_map(|(at, c)| Damage::Put(at, c)),
        (at.clone(), "[-0-9=\"'\\[\\]{},.#\n\r]").prop_map(|(at, s)| Damage::Put(at, s.chars().next().unwrap())),
        at.prop_map(Damage::Cut),
        (0..200usize, 0..200usize).prop_map(|(a, b)| Damage::SwapLines(a, b)),
    ]
}

fn apply(text: &str, damage: &Damage) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    let within = |at: usize| at.min(chars.len());
    match damage {
        Damage::Delete(at, n) => drop(chars.drain(within(*at)..within(at + n))),
        Damage::Double(at, n) => {
            let part = chars[within(*at)..within(at + n)].to_vec();
            let at = within(*at);
            chars.splice(at..at, part);
        }
        Damage::Put(at, c) => {
            if let Some(there) = chars.get_mut(*at) {
                *there = *c;
            }
        }
        Damage::Cut(at) => chars.truncate(*at),
        Damage::SwapLines(a, b) => return swap_lines(text, *a, *b),
    }
    chars.into_iter().collect()
}

fn swap_lines(text: &str, a: usize, b: usize) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    if a.max(b) < lines.len() {
        lines.swap(a, b);
    }
    lines.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        survive(&text);
    }

    #[test]
    fn any_characters(chars in proptest::collection::vec(any::<char>(), 0..200)) {
        survive(&chars.into_iter().collect::<String>());
    }

    #[test]
    fn a_damaged_plan(all in proptest::collection::vec(damage(), 1..5)) {
        let text = all.iter().fold(STARTER.to_owned(), |text, one| apply(&text, one));
        survive(&text);
    }

    /// Lengths and numbers at the ends of what they may be, several at once.
    #[test]
    fn a_plan_of_extremes(picks in proptest::collection::vec((0..keys().len(), any::<bool>()), 1..6)) {
        let mut top: toml::Table = toml::from_str(STARTER).unwrap();
        for (i, high) in picks {
            let key = &keys()[i];
            if let Some(value) = extreme(key.kind, high) {
                let one = starter_with(key.path, value);
                let section = key.path.split('.').next().unwrap();
                top.insert(section.to_owned(), one[section].clone());
            }
        }
        survive(&toml::to_string(&top).unwrap());
    }
}

fn extreme(kind: Kind, high: bool) -> Option<Value> {
    let length = |bounds: super::super::Bounds| {
        let low = match bounds.least {
            Least::Any => -1000 * bounds.most,
            Least::Zero => 0,
            Least::AboveZero => 1,
            Least::At(um) => um,
        };
        let um = if high { bounds.most * 1000 } else { low };
        Value::String(format!("{}{}.{:03} mm", if um < 0 { "-" } else { "" }, um.abs() / 1000, um.abs() % 1000))
    };
    match kind {
        Kind::Length(bounds) | Kind::Pair(_, _, bounds) => Some(length(bounds)),
        Kind::Lengths(names, bounds) => Some(Value::Array(names.iter().map(|_| length(bounds)).collect())),
        Kind::Whole(least, most) => Some(Value::Integer(if high { most } else { least })),
        Kind::Switch => Some(Value::Boolean(high)),
        _ => None,
    }
}

#[test]
fn every_key_at_its_ends_is_read_or_told() {
    for key in keys() {
        for value in [false, true].into_iter().filter_map(|high| extreme(key.kind, high)) {
            let text = toml::to_string(&starter_with(key.path, value)).unwrap();
            // What stands at the end of what may be written is not "too small" or "too large".
            for (told, what) in told(&text) {
                assert!(told != key.path || !what.contains("too "), "{}: {what}", key.path);
            }
            survive(&text);
        }
    }
}

/// Texts that are built to take time or memory.
#[test]
fn hostile_texts_are_refused_in_time() {
    let began = Instant::now();
    let key_of = |n: usize| "a".repeat(n);
    let hostile = [
        "[".repeat(400_000),
        "a = [".to_owned() + &"[".repeat(400_000),
        format!("x = {}", "{a = ".repeat(100_000)),
        format!("{} = 1", ["a"; 200_000].join(".")),
        format!("{} = 1", key_of(900_000)),
        (0..70_000).map(|i| format!("k{i} = 1\n")).collect(),
        (0..60_000).map(|_| "[[blanks]]\n").collect(),
        format!("name = \"{}\"", key_of(900_000)),
        format!("quarterturn = 1\n[layup]\nleft_out = [{}]", "1,".repeat(300_000)),
        format!("{}\n[layup]\n", STARTER.replace("[layup]", "[finishing2]")),
        "\u{feff}".to_owned() + STARTER,
        STARTER.replace('\n', "\r\n"),
        "quarterturn = 1 #".to_owned() + &"\u{1b}".repeat(1000),
        "\n".repeat(900_000),
    ];
    for text in &hostile {
        survive(text);
    }
    // A generous bound: nothing here grows as the square of the text.
    assert!(began.elapsed() < Duration::from_secs(60), "{:?}", began.elapsed());
}

#[test]
fn a_plan_over_a_megabyte_is_refused() {
    let text = format!("{STARTER}{}", "#".repeat(tree::LONGEST));
    let problems = told(&text);
    assert_eq!(problems.len(), 1);
    assert!(problems[0].1.contains("1000000"), "{problems:?}");
}

/// Without a count, a narrow strip of a long panel would give thousands; many thick panels a board
/// whose picture no memory holds.
#[test]
fn no_plan_makes_more_than_can_be_held() {
    let long = STARTER.replace("length = 24", "length = \"10000 mm\"");
    let narrow = long.replace("count = 14\nwidth = \"1 1/2\"", "width = \"1 mm\"");
    let many = narrow.replace("kerf = \"1/8\"", "kerf = 0");
    let said = |key: &str, what: &str| vec![(key.to_owned(), format!("{what}; cut fewer or wider strips"))];
    assert_eq!(told(&many), said("strips.width", "more than 2000 strips would come out"));
    assert_eq!(
        told(&long.replace("count = 14", "count = 200")),
        said("strips.width", "the strips side by side would be longer than 3 m")
    );
    let thin = "thickness = \"5 mm\"\nsizes = \"milled\"";
    let pieces = small("", "[shop.saw]\nkerf = 0")
        .replace("thickness = \"25 mm\"", thin)
        .replace("count = 3", "count = 60")
        .replace(
            "order = [\"A\", \"A\", \"A\"]",
            &format!("planed_lower = 0\nplaned_upper = \"4 mm\"\norder = [{}]", "\"A\", ".repeat(60)),
        )
        .replace("count = 10", "count = 400");
    assert_eq!(told(&pieces), said("strips.count", "the board would have more than 20000 pieces"));
    let wide = small("", "")
        .replace("width = \"50 mm\"", "width = \"1000 mm\"")
        .replace("[\"A\", \"A\", \"A\"]", "[\"A\", \"A\", \"A\", \"A\"]")
        .replace("count = 3", "count = 4");
    assert_eq!(
        told(&wide),
        [("panels.order".to_owned(), "the panel would be wider than 3 m; lay fewer blanks".to_owned())]
    );
}
