//! Edits of a panel: blanks laid, taken out, moved, turned.

use super::super::told::Told;
use crate::plan::{entries_of, panels_of, turned_entry};
use quarterturn_geometry::stock::{BlankTurn, HalfTurn};
use toml_edit::{Array, DocumentMut, Item, Value};

/// Lays a blank in a panel.
pub(super) fn lay(document: &mut DocumentMut, panel: usize, at: usize, letter: &str) -> Result<(), Vec<Told>> {
    let order = order(document, panel)?;
    if at > order.len() {
        return Err(no_place(at, order.len() + 1));
    }
    insert(order, at, Value::from(letter));
    Ok(())
}

/// Takes a blank out of a panel.
pub(super) fn take(document: &mut DocumentMut, panel: usize, at: usize) -> Result<(), Vec<Told>> {
    let order = order(document, panel)?;
    if at >= order.len() {
        return Err(no_place(at, order.len()));
    }
    if order.len() == 1 {
        return Err(Told::plainly("the panel would have no blanks", "lay another one first"));
    }
    order.remove(at);
    Ok(())
}

/// Moves a blank within its panel.
pub(super) fn moved(document: &mut DocumentMut, panel: usize, from: usize, to: usize) -> Result<(), Vec<Told>> {
    let order = order(document, panel)?;
    let count = order.len();
    if from.max(to) >= count {
        return Err(no_place(from.max(to), count));
    }
    let value = order.remove(from);
    insert(order, to, value);
    Ok(())
}

/// Turns a blank in its panel; a quarter roll that it has stays.
pub(super) fn turned(
    document: &mut DocumentMut,
    panel: usize,
    at: usize,
    turn: impl Fn(HalfTurn) -> HalfTurn,
) -> Result<(), Vec<Told>> {
    let order = order(document, panel)?;
    let count = order.len();
    let entry = order.get_mut(at).ok_or_else(|| no_place(at, count))?;
    let rolled = entry.as_inline_table().and_then(|table| table.get("quarter_roll")).and_then(Value::as_bool);
    let halves = [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd];
    let written = entry.as_inline_table().and_then(|table| table.get("turn")).and_then(Value::as_str);
    let half = halves.into_iter().find(|half| Some(half.name()) == written).unwrap_or_default();
    let turn = BlankTurn { quarter_roll: rolled.unwrap_or(false), half: turn(half) };
    let text = turned_entry(entry, turn).map_err(|why| Told::plainly(why, "change the plan's text"))?;
    let mut value: Value =
        text.parse().map_err(|e: toml_edit::TomlError| Told::plainly(e.to_string(), "change the plan's text"))?;
    *value.decor_mut() = entry.decor().clone();
    *entry = value;
    Ok(())
}

/// The order of a panel, as it is written.
fn order(document: &mut DocumentMut, panel: usize) -> Result<&mut Array, Vec<Told>> {
    let cant = |why: String| Told::plainly(why, "change the plan's text");
    let none = || Told::plainly("there is no such panel", "choose one that is there");
    let table = panels_of(document).map_err(cant)?.into_iter().nth(panel).ok_or_else(none)?;
    entries_of(table).map_err(cant)?;
    table
        .get_mut("order")
        .and_then(Item::as_array_mut)
        .ok_or_else(|| cant("the panel's order is not written as a list".to_owned()))
}

/// Inserts a value, set off from its neighbours as they are from each other.
fn insert(order: &mut Array, at: usize, mut value: Value) {
    let like = order.get(at.max(1)).or_else(|| order.get(0)).map(|other| other.decor().clone());
    let has_comment = |value: &Value| value.decor().prefix().and_then(|p| p.as_str()).is_some_and(|p| p.contains('#'));
    if !has_comment(&value) {
        value.decor_mut().clear();
        let breaks = like.and_then(|decor| Some(decor.prefix()?.as_str()?.to_owned()));
        value.decor_mut().set_prefix(match breaks {
            Some(prefix) if !prefix.contains('#') && !prefix.is_empty() => prefix,
            _ if at == 0 => String::new(),
            _ => " ".to_owned(),
        });
    }
    order.insert_formatted(at, value);
    let bare = |next: &Value| next.decor().prefix().and_then(|p| p.as_str()).is_none_or(str::is_empty);
    if let Some(next) = order.get_mut(at + 1).filter(|next| bare(next)) {
        next.decor_mut().set_prefix(" ");
    }
}

fn no_place(at: usize, count: usize) -> Vec<Told> {
    Told::plainly(
        format!("there is no place {} in this panel", at.saturating_add(1)),
        format!("the places are 1 to {count}"),
    )
}
