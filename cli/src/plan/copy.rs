//! A lay-up written into a plan's text or a copy of it: all comments and the order of keys kept.
//!
//! Only `repeat`, `left_out` and `places` of `[layup]` change. A comment beside a key that goes, or
//! within its value, moves above the key that takes its place.

use quarterturn_geometry::job::Job;
use quarterturn_geometry::layup::Place;
use quarterturn_geometry::measure::Length;
use std::fmt::Write as _;
use std::path::Path;
use toml_edit::{DocumentMut, Item, Key, KeyMut, RawString, Table, TableLike, Value};

/// The keys that say how the strips lie.
const KEYS: [&str; 3] = ["repeat", "left_out", "places"];

/// The plan's text with this lay-up in it; `about` is said in a comment above it. `photographs` is where the folder of
/// the plan lies, seen from that of the copy: their files are named from there. None leaves them as they are.
///
/// # Errors
/// Where the text can't be changed, or wouldn't say what it should: then what is wrong.
pub fn with_layup(
    text: &str,
    job: &Job,
    places: &[Place],
    about: &str,
    photographs: Option<&Path>,
) -> Result<String, String> {
    let mut document: DocumentMut = text.parse().map_err(|e: toml_edit::TomlError| e.to_string())?;
    if let Some(folder) = photographs {
        photographs_from(&mut document, folder);
    }
    lay(&mut document, job, places, Some(about))?;
    let copy = document.to_string();
    let read = super::read_unseen(&copy, "the copy").map_err(|problems| problems.to_string())?;
    let same = read.job.work().places == places;
    if same { Ok(copy) } else { Err("the plan's text can't be changed so that it lays these strips".to_owned()) }
}

/// Changes a plan's text so that it lays these strips; `about` is said in a comment above them.
///
/// # Errors
/// Where the text can't be changed: then what is wrong. Whether it says what it should must be read.
pub(crate) fn lay(document: &mut DocumentMut, job: &Job, places: &[Place], about: Option<&str>) -> Result<(), String> {
    let layup = document.entry("layup").or_insert_with(|| Item::Table(Table::new()));
    let in_braces = layup.is_value();
    let table = layup.as_table_like_mut().ok_or("layup is no table")?;
    let keys = keys(job, places);
    let mut comments = set(table, &keys)?;
    comments.extend(about.map(|about| format!("# {about}")));
    if comments.is_empty() {
        return Ok(());
    }
    // Within braces a comment might not stand: it goes above them.
    let below = if in_braces { document.key_mut("layup") } else { table_of(document)?.key_mut(keys[0].0) };
    say_above(below.ok_or("a key went missing")?, &comments);
    Ok(())
}

/// Names the photographs' files as they are seen from another folder.
fn photographs_from(document: &mut DocumentMut, folder: &Path) {
    let Some(blanks) = document.get_mut("blanks").and_then(Item::as_array_of_tables_mut) else { return };
    for blank in blanks.iter_mut() {
        let Some(shows) = blank.get_mut("shows").and_then(Item::as_table_like_mut) else { continue };
        for end in ["near", "far"] {
            let photo = shows.get_mut(end).and_then(Item::as_table_like_mut).and_then(|end| end.get_mut("photo"));
            let file = photo.and_then(Item::as_table_like_mut).and_then(|photo| photo.get_mut("file"));
            let Some(value) = file.and_then(Item::as_value_mut) else { continue };
            let Some(name) = value.as_str() else { continue };
            let mut named = Value::from(folder.join(name).to_string_lossy().into_owned());
            *named.decor_mut() = value.decor().clone();
            *value = named;
        }
    }
}

/// The keys to be set, with their values: a repeat where that says it, else every place.
fn keys(job: &Job, places: &[Place]) -> Vec<(&'static str, String)> {
    if let Some(keys) = repeat(job, places) {
        return keys;
    }
    let panel = |p: &Place| match job.panels.len() {
        1 => String::new(),
        _ => format!("panel = {}, ", Value::from(job.panels[p.panel].name.as_str())),
    };
    let mut list = String::from("[\n");
    for p in places {
        let (strip, turn, stagger) = (p.strip + 1, p.turn.name(), stagger(job, p));
        let _ = writeln!(list, "    {{ {}strip = {strip}, turn = \"{turn}\"{stagger} }},", panel(p));
    }
    list.push(']');
    vec![("places", list)]
}

/// How far a strip is slid, as the last key of its entry.
fn stagger(job: &Job, place: &Place) -> String {
    match place.stagger {
        Length::ZERO => String::new(),
        slid => format!(", stagger = {}", Value::from(slid.written(job.rule.unit()))),
    }
}

/// Strips of the one panel in the order in which they were cut, their turns repeating every one to four.
fn repeat(job: &Job, places: &[Place]) -> Option<Vec<(&'static str, String)>> {
    let cut = job.work().panels.first()?.cut;
    let rising = places.windows(2).all(|pair| pair[0].strip < pair[1].strip);
    if job.panels.len() != 1 || !rising {
        return None;
    }
    let repeats = |period: &usize| {
        let alike = |(a, b): (&Place, &Place)| (a.turn, a.stagger) == (b.turn, b.stagger);
        places.len() >= 2 * period && places.iter().zip(&places[*period..]).all(alike)
    };
    let period = (1..=4).find(repeats)?;
    let entry = |p: &Place| match p.stagger {
        Length::ZERO => format!("\"{}\"", p.turn.name()),
        _ => format!("{{ turn = \"{}\"{} }}", p.turn.name(), stagger(job, p)),
    };
    let turns: Vec<String> = places[..period].iter().map(entry).collect();
    let out: Vec<String> =
        (0..cut).filter(|s| places.iter().all(|p| p.strip != *s)).map(|s| (s + 1).to_string()).collect();
    let mut keys = vec![("repeat", format!("[{}]", turns.join(", ")))];
    if !out.is_empty() {
        keys.push(("left_out", format!("[{}]", out.join(", "))));
    }
    Some(keys)
}

fn table_of(document: &mut DocumentMut) -> Result<&mut dyn TableLike, String> {
    document.get_mut("layup").and_then(Item::as_table_like_mut).ok_or_else(|| "layup went missing".to_owned())
}

/// Sets these keys and takes the others of [`KEYS`] away; gives back the comments that lost their place.
fn set(table: &mut dyn TableLike, keys: &[(&'static str, String)]) -> Result<Vec<String>, String> {
    let mut homeless = Vec::new();
    for name in KEYS {
        let Some((key, item)) = table.get_key_value(name) else { continue };
        if keys.iter().any(|(kept, _)| *kept == name) {
            homeless.extend(comments_within(item));
        } else {
            homeless.extend(said_above(key));
            homeless.extend(comments_within(item));
            homeless.extend(item.as_value().and_then(|v| v.decor().suffix()).map(said).unwrap_or_default());
            table.remove(name);
        }
    }
    for (name, text) in keys {
        let mut value: Value = text.parse().map_err(|e: toml_edit::TomlError| e.to_string())?;
        // In its old place where it had one, with what stands above and beside it.
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
    Ok(homeless)
}

/// Puts comments above a key, under what stands there.
pub(super) fn say_above(mut key: KeyMut<'_>, comments: &[String]) {
    let decor = key.leaf_decor_mut();
    let above = decor.prefix().and_then(RawString::as_str).unwrap_or_default().to_owned();
    decor.set_prefix(comments.iter().fold(above, |above, comment| format!("{above}{comment}\n")));
}

fn said(raw: &RawString) -> Vec<String> {
    let text = raw.as_str().unwrap_or_default();
    text.lines().map(str::trim).filter(|l| l.starts_with('#')).map(str::to_owned).collect()
}

fn said_above(key: &Key) -> Vec<String> {
    key.leaf_decor().prefix().map(said).unwrap_or_default()
}

/// Comments between the entries of a list, or in tables that stand for its entries.
pub(super) fn comments_within(item: &Item) -> Vec<String> {
    let mut all = Vec::new();
    match item {
        Item::Value(value) => within(value, &mut all),
        Item::ArrayOfTables(tables) => {
            for table in tables {
                all.extend(table.decor().prefix().map(said).unwrap_or_default());
                all.extend(table.decor().suffix().map(said).unwrap_or_default());
                for (name, item) in table {
                    all.extend(table.key(name).map(said_above).unwrap_or_default());
                    all.extend(item.as_value().and_then(|v| v.decor().suffix()).map(said).unwrap_or_default());
                    all.extend(comments_within(item));
                }
            }
        }
        Item::Table(_) | Item::None => {}
    }
    all
}

/// Comments within a value, not those before and after it.
fn within(value: &Value, all: &mut Vec<String>) {
    let around = |value: &Value, all: &mut Vec<String>| {
        all.extend(value.decor().prefix().map(said).unwrap_or_default());
        within(value, all);
        all.extend(value.decor().suffix().map(said).unwrap_or_default());
    };
    match value {
        Value::Array(array) => {
            array.iter().for_each(|entry| around(entry, all));
            all.extend(said(array.trailing()));
        }
        Value::InlineTable(table) => {
            for (name, entry) in table {
                all.extend(table.key(name).map(said_above).unwrap_or_default());
                around(entry, all);
            }
        }
        _ => {}
    }
}
