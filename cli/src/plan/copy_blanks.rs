//! Blanks laid otherwise, written into a copy of a plan's text: only `order` of the panels changes.
//!
//! A comment within an order that changes moves above it, for it may belong to another place then.

use super::copy::{comments_within, say_above};
use quarterturn_geometry::job::{Job, PanelAsked};
use quarterturn_geometry::stock::{BlankTurn, HalfTurn};
use std::fmt::Write as _;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// Of one panel: from its first edge each blank's place in the plan's order, from 0, and how it lies.
pub type Order = Vec<(usize, BlankTurn)>;

/// By panel, the letters that its order names, as they are written.
///
/// # Errors
/// Where an order isn't a list of letters and tables within brackets.
pub fn letters(text: &str) -> Result<Vec<Vec<String>>, String> {
    let mut document: DocumentMut = text.parse().map_err(|e: toml_edit::TomlError| e.to_string())?;
    panels(&mut document)?.into_iter().map(|table| entries(table)?.iter().map(letter).collect()).collect()
}

/// The plan's text with the blanks of each panel in this order; `about` is said in a comment above each.
///
/// # Errors
/// Where the text can't be changed, or wouldn't say what it should: then what is wrong.
pub fn with_blanks(text: &str, job: &Job, orders: &[Order], about: &str) -> Result<String, String> {
    let mut document: DocumentMut = text.parse().map_err(|e: toml_edit::TomlError| e.to_string())?;
    for ((table, order), panel) in panels(&mut document)?.into_iter().zip(orders).zip(&job.panels) {
        let as_planned: Order = panel.blanks.iter().map(|laid| laid.turn).enumerate().collect();
        if *order != as_planned {
            set(table, order, about)?;
        }
    }
    let copy = document.to_string();
    let read = super::read_unseen(&copy, "the copy").map_err(|problems| problems.to_string())?.job;
    if says(&read, job, orders) {
        Ok(copy)
    } else {
        Err("the plan's text can't be changed so that its blanks lie so".to_owned())
    }
}

/// Whether a job has the blanks of another one in these orders.
fn says(read: &Job, job: &Job, orders: &[Order]) -> bool {
    let laid_so = |(panel, (before, order)): (&PanelAsked, (&PanelAsked, &Order))| {
        panel.blanks.len() == order.len()
            && panel.blanks.iter().zip(order).all(|(laid, (place, turn))| {
                before.blanks.get(*place).is_some_and(|b| {
                    (&laid.blank.letter, laid.blank.size, laid.start, laid.turn)
                        == (&b.blank.letter, b.blank.size, b.start, *turn)
                })
            })
    };
    read.panels.len() == orders.len() && read.panels.iter().zip(job.panels.iter().zip(orders)).all(laid_so)
}

/// The panels, as they are written.
pub(crate) fn panels(document: &mut DocumentMut) -> Result<Vec<&mut dyn TableLike>, String> {
    match document.get_mut("panels") {
        Some(Item::ArrayOfTables(tables)) => Ok(tables.iter_mut().map(|t| t as &mut dyn TableLike).collect()),
        Some(Item::Value(Value::Array(list))) => {
            let mut all: Vec<&mut dyn TableLike> = Vec::new();
            for value in list.iter_mut() {
                all.push(value.as_inline_table_mut().ok_or("a panel is no table")?);
            }
            Ok(all)
        }
        _ => Err("the panels are no list".to_owned()),
    }
}

/// The entries of a panel's order.
pub(crate) fn entries(table: &dyn TableLike) -> Result<Vec<Value>, String> {
    match table.get("order") {
        Some(Item::Value(Value::Array(list))) => Ok(list.iter().cloned().collect()),
        _ => Err("a panel's order isn't written within brackets, as order = [\u{2026}]".to_owned()),
    }
}

fn letter(entry: &Value) -> Result<String, String> {
    let text = match entry {
        Value::InlineTable(table) => table.get("blank").and_then(Value::as_str),
        other => other.as_str(),
    };
    text.map(str::to_owned).ok_or_else(|| "an entry of a panel's order names no blank".to_owned())
}

fn set(table: &mut dyn TableLike, order: &Order, about: &str) -> Result<(), String> {
    let old = entries(table)?;
    let mut list = Vec::new();
    for (place, turn) in order {
        list.push(entry(old.get(*place).ok_or("the order has fewer blanks")?, *turn)?);
    }
    let mut value: Value = format!("[{}]", list.join(", ")).parse().map_err(|e: toml_edit::TomlError| e.to_string())?;
    let mut comments = Vec::new();
    if let Some(item) = table.get_mut("order") {
        comments = comments_within(item);
        if let Some(old) = item.as_value() {
            *value.decor_mut() = old.decor().clone();
        }
        *item = Item::Value(value);
    }
    comments.push(format!("# {about}"));
    if let Some(key) = table.key_mut("order") {
        say_above(key, &comments);
    }
    Ok(())
}

/// One entry of a panel's order as it is written, turned so.
pub(crate) fn entry(old: &Value, turn: BlankTurn) -> Result<String, String> {
    let name = Value::from(letter(old)?).to_string();
    let start = old.as_inline_table().and_then(|table| table.get("start"));
    let mut text = format!("{{ blank = {}", name.trim());
    if turn.half != HalfTurn::Rest {
        let _ = write!(text, ", turn = \"{}\"", turn.half.name());
    }
    if turn.quarter_roll {
        text.push_str(", quarter_roll = true");
    }
    if let Some(start) = start {
        let mut start = start.clone();
        start.decor_mut().clear();
        let _ = write!(text, ", start = {start}");
    }
    if turn == BlankTurn::default() && start.is_none() { Ok(name.trim().to_owned()) } else { Ok(text + " }") }
}
