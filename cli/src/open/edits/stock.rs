//! Edits of the stock: a kind of blank more, or one less.

use super::super::told::Told;
use super::Step;
use super::key::{put, section, written};
use crate::plan::{key_at, panels_of};
use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// Adds a blank, or several alike.
pub(super) fn add(document: &mut DocumentMut, keys: &[(&str, &String)]) -> Result<(), Vec<Told>> {
    let mut values = Vec::new();
    for (name, text) in keys {
        let Some(key) = key_at(&format!("blanks.{name}")) else { continue };
        values.push((*name, written(key, text)?));
    }
    let blanks = document.entry("blanks").or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    match blanks {
        Item::ArrayOfTables(all) => {
            let mut table = Table::new();
            values.into_iter().for_each(|(name, value)| drop(table.insert(name, Item::Value(value))));
            table.decor_mut().set_prefix("\n");
            // Behind the last blank and what is said of it.
            all.push(table);
            Ok(())
        }
        Item::Value(Value::Array(all)) => {
            let mut table = InlineTable::new();
            values.into_iter().for_each(|(name, value)| drop(table.insert(name, value)));
            all.push(table);
            Ok(())
        }
        _ => Err(Told::plainly("the blanks are no list", "change the plan's text")),
    }
}

/// Names the photograph of an end; what was said of another photograph goes with that one.
pub(super) fn photograph(document: &mut DocumentMut, entry: usize, end: &str, file: &str) -> Result<(), Vec<Told>> {
    let name = |name: &str| Step::Name(name.to_owned());
    let path = [name("blanks"), Step::Entry(entry), name("shows"), name(end)];
    let none = || Told::plainly("there is no such blank", "choose one that is there");
    letter(document, entry).ok_or_else(none)?;
    let table = section(document.as_table_mut(), &path, "", true)?.ok_or_else(none)?;
    let mut photo = InlineTable::new();
    photo.insert("file", Value::from(file));
    if table.get("photo").is_some_and(Item::is_table) {
        table.remove("photo");
    }
    put(table, "photo", Value::InlineTable(photo));
    Ok(())
}

/// The letter of an entry of the blanks.
pub(super) fn letter(document: &DocumentMut, entry: usize) -> Option<String> {
    let letter = match document.get("blanks")? {
        Item::ArrayOfTables(all) => all.get(entry)?.get("letter")?.as_str()?,
        Item::Value(Value::Array(all)) => all.get(entry)?.as_inline_table()?.get("letter")?.as_str()?,
        _ => return None,
    };
    Some(letter.to_owned())
}

/// Takes an entry of the blanks away, and its letter out of all panels.
pub(super) fn remove(document: &mut DocumentMut, entry: usize) -> Result<(), Vec<Told>> {
    let none = || Told::plainly("there is no such blank", "choose one that is there");
    let letter = match document.get_mut("blanks") {
        Some(Item::ArrayOfTables(all)) if entry < all.len() => {
            let letter = all.get(entry).and_then(|table| table.get("letter")).and_then(Item::as_str).map(str::to_owned);
            all.remove(entry);
            letter
        }
        Some(Item::Value(Value::Array(all))) if entry < all.len() => {
            let table = all.remove(entry);
            table.as_inline_table().and_then(|table| table.get("letter")).and_then(Value::as_str).map(str::to_owned)
        }
        _ => return Err(none()),
    };
    let Some(letter) = letter else { return Ok(()) };
    let is_it = |entry: &Value| match entry {
        Value::InlineTable(table) => table.get("blank").and_then(Value::as_str) == Some(&letter),
        other => other.as_str() == Some(&letter),
    };
    let panels = panels_of(document).map_err(|why| Told::plainly(why, "change the plan's text"))?;
    for panel in panels {
        if let Some(order) = panel.get_mut("order").and_then(Item::as_array_mut) {
            order.retain(|entry| !is_it(entry));
        }
    }
    Ok(())
}
