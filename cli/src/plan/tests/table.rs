//! Table, reader and page can't drift apart.

use super::super::keys::{Fill, Kind, keys};
use super::super::{keys_page, page, shop, table};
use super::{STARTER, plan, small, starter_with, told};
use quarterturn_geometry::layup::Turn;
use quarterturn_geometry::measure::{Length, Unit};
use toml::{Table, Value};

/// Values of kinds that the key does not take.
fn wrong_values(kind: Kind) -> Vec<Value> {
    let date: Value = toml::from_str::<Table>("d = 1979-05-27").unwrap().remove("d").unwrap();
    let mut wrong = vec![date];
    if !matches!(kind, Kind::Switch) {
        wrong.push(Value::Boolean(true));
    }
    if !matches!(kind, Kind::Table | Kind::Inline) {
        wrong.push(Value::Table(Table::new()));
    }
    if matches!(kind, Kind::Whole(..) | Kind::Percent | Kind::Switch) {
        wrong.push(Value::String("7".to_owned()));
    }
    if matches!(kind, Kind::Text(_) | Kind::Choice(_) | Kind::Colour | Kind::Switch) {
        wrong.push(Value::Integer(7));
    }
    wrong
}

#[test]
fn every_key_is_read_and_a_wrong_value_is_told_once_by_its_name() {
    for key in keys() {
        for wrong in wrong_values(key.kind) {
            let text = toml::to_string(&starter_with(key.path, wrong.clone())).unwrap();
            let problems = told(&text);
            let named: Vec<&str> = problems.iter().map(|(key, _)| key.as_str()).collect();
            assert_eq!(named, [key.path], "{} = {wrong}: {problems:?}\n{text}", key.path);
        }
    }
}

#[test]
fn every_required_key_that_is_missing_is_told_by_its_name() {
    let required = || keys().iter().filter(|key| matches!(key.fill, Fill::Required));
    for key in required() {
        // A key of a section that the starter lacks gets that section with all that it needs, less the key.
        let mut top = starter_with(key.path, Value::Boolean(true));
        assert!(remove(&mut top, key.path), "{}", key.path);
        let problems = told(&toml::to_string(&top).unwrap());
        let about = |(path, what): &(String, String)| path == key.path && what.starts_with("missing");
        assert!(problems.iter().any(about), "{}: {problems:?}", key.path);
        // What hangs on a section that is missing is silent.
        assert_eq!(problems.len(), 1, "{}: {problems:?}", key.path);
    }
    assert!(required().count() > 10);
}

fn remove(at: &mut Table, path: &str) -> bool {
    let Some((first, rest)) = path.split_once('.') else { return at.remove(path).is_some() };
    match at.get_mut(first) {
        Some(Value::Table(table)) => remove(table, rest),
        Some(Value::Array(entries)) => entries[0].as_table_mut().is_some_and(|table| remove(table, rest)),
        _ => false,
    }
}

#[test]
fn a_key_that_is_not_in_the_table_is_refused_everywhere() {
    for key in keys() {
        if !matches!(key.kind, Kind::Table | Kind::Tables(_) | Kind::Inline | Kind::List { .. }) {
            continue;
        }
        let path = format!("{}.rubbish", key.path);
        let problems = told(&toml::to_string(&starter_with(&path, Value::Integer(1))).unwrap());
        assert_eq!(problems.len(), 1, "{path}: {problems:?}");
        assert_eq!(problems[0].0, path);
    }
}

#[test]
fn paths_are_unique_and_stand_below_their_section() {
    for (i, key) in keys().iter().enumerate() {
        assert!(keys()[..i].iter().all(|before| before.path != key.path), "{} twice", key.path);
        let parent = key.parent();
        assert!(parent.is_empty() || keys()[..i].iter().any(|before| before.path == parent), "{}", key.path);
        assert!(key.about.ends_with('.') || key.about.ends_with("below."), "{}", key.path);
        assert!(!key.about.contains('|') && !key.about.contains('\n'), "{}", key.path);
    }
}

/// Every default is what may be written: written out, the plan means the same.
#[test]
fn every_default_written_out_is_the_default() {
    for units in ["inch", "millimetre"] {
        let top = format!("units = \"{units}\"");
        for key in keys() {
            let text = match (key.fill, units) {
                (Fill::Value(text), _) | (Fill::Lengths(text, _), "inch") | (Fill::Lengths(_, text), _) => text,
                _ => continue,
            };
            let mut with = starter_with(key.path, written_out(key.kind, text));
            with.insert("units".to_owned(), Value::String(units.to_owned()));
            with.insert("finest".to_owned(), Value::String(if units == "inch" { "1/64" } else { "0.5 mm" }.to_owned()));
            // A blank can only be ripped to a line that is traced, a card only be in a photograph that is there:
            // `tests/traced.rs` and `tests/photographed.rs` have these.
            if key.path == "units" || key.path.starts_with("blanks.rip.") || key.path.contains(".photo.") {
                continue;
            }
            if key.path == "blanks.count" {
                // One blank A, where the starter has three.
                with["panels"][0]["order"] = Value::Array(vec![Value::String("A".to_owned())]);
            }
            let mut without = with.clone();
            assert!(remove(&mut without, key.path));
            let job = |plan: &Table| match plan_of(plan) {
                Ok(plan) => format!("{:?}", plan.job),
                Err(problems) => panic!("{}: {problems}", key.path),
            };
            assert_eq!(job(&with), job(&without), "{} in {top}", key.path);
        }
    }
}

fn plan_of(table: &Table) -> Result<super::Plan, super::Problems> {
    plan(&toml::to_string(table).unwrap())
}

fn written_out(kind: Kind, text: &str) -> Value {
    match kind {
        Kind::Switch => Value::Boolean(text == "true"),
        Kind::Whole(..) => Value::Integer(text.parse().unwrap()),
        Kind::Share | Kind::Number(..) => Value::Float(text.parse().unwrap()),
        Kind::Lengths(..) => Value::Array(text.split(", ").map(|t| Value::String(t.to_owned())).collect()),
        _ => Value::String(text.to_owned()),
    }
}

#[test]
fn what_the_table_says_of_the_least_piece_is_so() {
    let Fill::Worked(said) = keys().iter().find(|key| key.path == "shop.saw.least_piece").unwrap().fill else {
        panic!()
    };
    for text in shop::BY_HAND.iter().chain(&shop::UNDER_HOLD_DOWN) {
        assert!(said.contains(&format!("`{text}`")), "{text}");
    }
    let least = |units: &str, held: &str| {
        let text = small(&format!("units = \"{units}\""), &format!("[shop.saw]\nheld = \"{held}\""));
        plan(&text).unwrap().job.saw.least_piece
    };
    assert_eq!(least("inch", "by hand"), Length::parse("6", Unit::Inch).unwrap());
    assert_eq!(least("inch", "hold-down"), Length::parse("3", Unit::Inch).unwrap());
    assert_eq!(least("millimetre", "by hand"), Length::parse("150", Unit::Millimetre).unwrap());
    assert_eq!(least("millimetre", "hold-down"), Length::parse("75", Unit::Millimetre).unwrap());
}

#[test]
fn the_words_for_turns_are_those_of_the_geometry() {
    let Kind::Choice(words) = keys().iter().find(|key| key.path == "layup.repeat.turn").unwrap().kind else { panic!() };
    assert_eq!(words, Turn::ALL.map(Turn::name));
    let edges = keys().iter().find(|key| key.path == "handholds.edge").unwrap().kind;
    let Kind::Choices(words) = edges else { panic!() };
    assert_eq!(words, quarterturn_geometry::cut::Edge::ALL.map(quarterturn_geometry::cut::Edge::name));
    assert!(table::KEYS.len() > 120);
}

/// `BLESS=1 cargo test -p quarterturn` writes the page anew.
#[test]
fn the_page_in_docs_is_made_from_the_table() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/plan.md");
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(file, keys_page()).unwrap();
    }
    let there = std::fs::read_to_string(file).unwrap().replace("\r\n", "\n");
    assert!(there == keys_page(), "docs/plan.md is not what the table of keys says: run with BLESS=1");
    for key in keys() {
        assert!(
            there.contains(&format!("`{}`", key.name())) || there.contains(&format!("[{}]", key.path)),
            "{}",
            key.path
        );
    }
}

#[test]
fn the_examples_read_without_a_problem_and_make_a_board() {
    for text in [STARTER, page::EXAMPLE] {
        let plan = plan(text).unwrap_or_else(|problems| panic!("{problems}"));
        let outcome = plan.job.work();
        assert!(outcome.board.is_ok(), "{:?}", outcome.board.err());
    }
}
