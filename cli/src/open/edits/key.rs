//! One key set or left to its default, by its path; written as its kind in the plan's table of keys asks.

use super::super::told::Told;
use super::Step;
use crate::plan::{Key, Kind, key_at};
use quarterturn_geometry::measure::Unit;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, RawString, Table, TableLike, Value};

/// The deepest that a key of a plan lies.
const DEEPEST: usize = 12;

/// Sets the key at a path, or takes it away.
pub(super) fn set(document: &mut DocumentMut, path: &[Step], to: Option<&str>) -> Result<(), Vec<Told>> {
    let key = known(path)?;
    let Some((Step::Name(name), sections)) = path.split_last() else { return Err(no_key(path)) };
    let value = to.map(|text| written(key, text)).transpose()?;
    let table = section(document.as_table_mut(), sections, "", value.is_some())?;
    let Some(table) = table else { return Ok(()) };
    match value {
        Some(value) => put(table, name, value),
        None => take(table, name),
    }
    Ok(())
}

/// The key of the plan at a path.
fn known(path: &[Step]) -> Result<&'static Key, Vec<Told>> {
    if path.len() > DEEPEST {
        return Err(no_key(path));
    }
    let names = path.iter().filter_map(|step| if let Step::Name(name) = step { Some(name.as_str()) } else { None });
    key_at(&names.collect::<Vec<_>>().join(".")).ok_or_else(|| no_key(path))
}

fn no_key(path: &[Step]) -> Vec<Told> {
    let step = |step: &Step| match step {
        Step::Name(name) => name.clone(),
        Step::Entry(at) => at.to_string(),
    };
    let path = path.iter().take(DEEPEST).map(step).collect::<Vec<_>>().join(".");
    Told::plainly(format!("a plan has no key {path}"), "docs/plan.md lists all keys")
}

/// The section at a path. One that isn't there is made if it is to be; else there is none.
pub(super) fn section<'t>(
    table: &'t mut dyn TableLike,
    path: &[Step],
    above: &str,
    make: bool,
) -> Result<Option<&'t mut dyn TableLike>, Vec<Told>> {
    let (name, rest) = match path {
        [] => return Ok(Some(table)),
        [Step::Name(name), rest @ ..] => (name, rest),
        [Step::Entry(_), ..] => return Err(no_key(path)),
    };
    let here = if above.is_empty() { name.clone() } else { format!("{above}.{name}") };
    if table.get(name).is_none() {
        if !make {
            return Ok(None);
        }
        table.insert(name, empty(&here, above.is_empty()));
    }
    let Some(item) = table.get_mut(name) else { return Ok(None) };
    match rest {
        [Step::Entry(at), rest @ ..] => match entry(item, *at, make)? {
            Some(table) => section(table, rest, &here, make),
            None => Ok(None),
        },
        rest => match item.as_table_like_mut() {
            Some(table) => section(table, rest, &here, make),
            None => Err(Told::plainly(format!("{here} is no section"), "change the plan's text")),
        },
    }
}

/// An entry of a list of sections; one more than there are is made if it is to be.
fn entry(item: &mut Item, at: usize, make: bool) -> Result<Option<&mut dyn TableLike>, Vec<Told>> {
    let none = || Told::plainly(format!("there is no entry {}", at.saturating_add(1)), "choose one that is there");
    match item {
        Item::ArrayOfTables(all) => {
            if at == all.len() && make {
                all.push(Table::new());
            }
            all.get_mut(at).map(|table| Some(table as &mut dyn TableLike)).ok_or_else(none)
        }
        Item::Value(Value::Array(all)) => {
            if at == all.len() && make {
                all.push(InlineTable::new());
            }
            let table = all.get_mut(at).and_then(Value::as_inline_table_mut);
            table.map(|table| Some(table as &mut dyn TableLike)).ok_or_else(none)
        }
        _ => Err(none()),
    }
}

/// What a section that is made begins as.
fn empty(path: &str, at_top: bool) -> Item {
    match key_at(path).map(|key| key.kind) {
        Some(Kind::Tables(_)) => Item::ArrayOfTables(ArrayOfTables::new()),
        Some(Kind::List { .. }) => Item::Value(Value::Array(Array::new())),
        Some(Kind::Table) if at_top || path.starts_with("shop.") => {
            let mut table = Table::new();
            // A header of its own only where it says something.
            table.set_implicit(path == "shop");
            Item::Table(table)
        }
        _ => Item::Value(Value::InlineTable(InlineTable::new())),
    }
}

/// Puts a value in its place; what stands around the old one stays.
pub(super) fn put(table: &mut dyn TableLike, name: &str, mut value: Value) {
    match table.get_mut(name) {
        Some(item) => {
            if let Some(old) = item.as_value() {
                *value.decor_mut() = old.decor().clone();
            }
            *item = Item::Value(value);
        }
        None => {
            table.insert(name, Item::Value(value));
        }
    }
}

/// Takes a key away; comments above and beside it go above the next one, or stay where the last one was.
fn take(table: &mut dyn TableLike, name: &str) {
    let Some((key, item)) = table.get_key_value(name) else { return };
    let text = |raw: Option<&RawString>| raw.and_then(RawString::as_str).unwrap_or_default().to_owned();
    let above = text(key.leaf_decor().prefix());
    let beside = text(item.as_value().and_then(|value| value.decor().suffix()));
    let names: Vec<String> = table.iter().map(|(name, _)| name.to_owned()).collect();
    let at = names.iter().position(|known| known == name).unwrap_or(0);
    table.remove(name);
    let beside = beside.trim();
    let comments = if beside.is_empty() { above } else { format!("{above}{beside}\n") };
    if !comments.contains('#') {
        return;
    }
    if let Some(mut key) = names.get(at + 1).and_then(|next| table.key_mut(next)) {
        let decor = key.leaf_decor_mut();
        let own = text(decor.prefix());
        decor.set_prefix(comments + &own);
    } else if let Some(value) =
        at.checked_sub(1).and_then(|before| table.get_mut(&names[before])).and_then(Item::as_value_mut)
    {
        let own = text(value.decor().suffix());
        value.decor_mut().set_suffix(format!("{own}\n{}", comments.trim_end()));
    }
}

/// A text as a value of a key's kind.
pub(super) fn written(key: &Key, text: &str) -> Result<Value, Vec<Told>> {
    let text = text.trim();
    let wrong = || {
        vec![Told {
            key: key.path.to_owned(),
            what: format!("{text:?} is not {}", key.kind.called()),
            right: key.kind.right(Unit::Inch),
            line: 0,
        }]
    };
    let parts = || text.split(',').map(str::trim);
    let value = match key.kind {
        Kind::Whole(..) => Some(Value::from(text.parse::<i64>().map_err(|_| wrong())?)),
        Kind::Switch => Some(Value::from(text.parse::<bool>().map_err(|_| wrong())?)),
        Kind::Text(_) | Kind::Name | Kind::Choice(_) | Kind::Colour => Some(Value::from(text)),
        Kind::Choices(_) => Some(one_or_all(parts().map(Value::from))),
        Kind::Length(_) | Kind::Temperature | Kind::Percent | Kind::Share | Kind::Number(..) => {
            Some(number_or_text(text))
        }
        Kind::Pair(..) => Some(one_or_all(parts().map(number_or_text))),
        Kind::Lengths(..) | Kind::Numbers(_) => Some(Value::Array(parts().map(number_or_text).collect())),
        Kind::Table | Kind::Tables(_) | Kind::Inline | Kind::List { .. } | Kind::Places | Kind::Line(..) => None,
    };
    value.ok_or_else(|| Told::plainly(format!("{} can't be set by one value", key.path), "change the plan's text"))
}

/// Bare where it is a number, as a maker would write it.
fn number_or_text(text: &str) -> Value {
    let plain = text.trim_start_matches('-').bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let whole = text.parse::<i64>().map(Value::from).ok();
    // A value as TOML writes it: the digits stay as they were typed.
    whole.or_else(|| text.parse::<Value>().ok().filter(|v| plain && v.is_float())).unwrap_or_else(|| Value::from(text))
}

fn one_or_all(mut values: impl Iterator<Item = Value>) -> Value {
    let all: Vec<Value> = values.by_ref().collect();
    match <[Value; 1]>::try_from(all) {
        Ok([one]) => one,
        Err(all) => Value::Array(all.into_iter().collect()),
    }
}
