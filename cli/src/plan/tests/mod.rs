//! Tests of the reader: table and parser, meaning, messages, damage.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod damage;
mod lengths;
mod meaning;
mod messages;
mod photographed;
mod table;
mod traced;

use super::keys::{self, Fill, Kind};
use super::{Plan, Problems, STARTER, read};
use toml::{Table, Value};

/// Reads the plan of a test.
fn plan(text: &str) -> Result<Plan, Problems> {
    read(text, "board.toml")
}

/// A plan that has no more than it must, and these lines at its end.
fn small(top: &str, end: &str) -> String {
    format!(
        "quarterturn = 1\n{top}\n[[blanks]]\nletter = \"A\"\nwood = \"black walnut\"\nwidth = \"50 mm\"\n\
         thickness = \"25 mm\"\nlength = \"600 mm\"\ncount = 3\n[[panels]]\norder = [\"A\", \"A\", \"A\"]\n\
         [strips]\ncount = 10\n{end}\n"
    )
}

/// All problems of a plan, as key and message.
fn told(text: &str) -> Vec<(String, String)> {
    match plan(text) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(|p| (p.key.clone(), format!("{}; {}", p.what, p.right))).collect(),
    }
}

/// The starter with the value of one key put in its place, and what that key's section needs beside it.
fn starter_with(path: &str, value: Value) -> Table {
    let mut top: Table = toml::from_str(STARTER).unwrap();
    if path.starts_with("layup.places") {
        top["layup"].as_table_mut().unwrap().remove("repeat");
    }
    if path.starts_with("outline") {
        // An outline is cut by a straight bit.
        top["bits"][0]["corner_radius"] = Value::Integer(0);
    }
    let (parents, name) = path.rsplit_once('.').map_or((Vec::new(), path), |(p, n)| (p.split('.').collect(), n));
    let mut at = &mut top;
    let mut so_far = String::new();
    for parent in parents {
        so_far = if so_far.is_empty() { parent.to_owned() } else { format!("{so_far}.{parent}") };
        at = step(at, &so_far, parent);
    }
    at.insert(name.to_owned(), value);
    top
}

/// Into a section or the first entry of a list, made with what it needs where it isn't there.
fn step<'a>(at: &'a mut Table, path: &str, name: &str) -> &'a mut Table {
    let many = matches!(keys::at(path).unwrap().kind, Kind::Tables(_) | Kind::List { .. });
    let empty = if many { Value::Array(vec![Value::Table(Table::new())]) } else { Value::Table(Table::new()) };
    let value = at.entry(name.to_owned()).or_insert(empty);
    if many && value.as_array().unwrap().is_empty() {
        *value = Value::Array(vec![Value::Table(Table::new())]);
    }
    let first = if many { &mut value.as_array_mut().unwrap()[0] } else { value };
    if !first.is_table() {
        let Kind::List { bare, .. } = keys::at(path).unwrap().kind else { panic!("{path}") };
        *first = Value::Table(Table::from_iter([(bare.to_owned(), first.clone())]));
    }
    let table = first.as_table_mut().unwrap();
    for key in keys::children(path).filter(|key| matches!(key.fill, Fill::Required)) {
        table.entry(key.name().to_owned()).or_insert_with(|| something(key.kind));
    }
    let ends: &[&str] = match path {
        "shop.cnc.clamps" => &["to"],
        "shop.cnc.flat_clamps" => &["to_x", "to_y"],
        // Neither goes without the other.
        "shop.cnc" => &["spindle_diameter", "nut_height"],
        _ => &[],
    };
    for end in ends {
        table.insert((*end).to_owned(), Value::String("30 mm".to_owned()));
    }
    table
}

/// A value that a key of this kind takes.
fn something(kind: Kind) -> Value {
    match kind {
        Kind::Text(_) | Kind::Name => Value::String("X1".to_owned()),
        Kind::Choice(words) | Kind::Choices(words) => Value::String(words[0].to_owned()),
        Kind::Whole(least, _) => Value::Integer(least),
        Kind::Switch => Value::Boolean(true),
        Kind::Percent | Kind::Share => Value::Float(0.5),
        Kind::Number(least, _) => Value::Float(least),
        Kind::Temperature => Value::String("20 C".to_owned()),
        Kind::Numbers(names) => Value::Array(names.iter().map(|_| Value::Float(9.0)).collect()),
        Kind::Places => {
            let point = |x: f64, y: f64| Value::Array(vec![Value::Float(x), Value::Float(y)]);
            Value::Array(vec![point(10.0, 90.0), point(90.0, 90.0), point(90.0, 10.0), point(10.0, 10.0)])
        }
        Kind::Colour => Value::String("#102030".to_owned()),
        Kind::Length(bounds) | Kind::Pair(_, _, bounds) => Value::String(a_length(bounds)),
        Kind::Lengths(names, bounds) => Value::Array(names.iter().map(|_| Value::String(a_length(bounds))).collect()),
        Kind::Line(names, _) => {
            let point = |mm: &str| Value::Array(names.iter().map(|_| Value::String(mm.to_owned())).collect());
            Value::Array(vec![point("1 mm"), point("20 mm")])
        }
        Kind::Table | Kind::Inline => Value::Table(Table::new()),
        Kind::Tables(_) | Kind::List { .. } => Value::Array(Vec::new()),
    }
}

fn a_length(bounds: super::Bounds) -> String {
    format!("{} mm", if bounds.most < 20 { bounds.most } else { 20 })
}
