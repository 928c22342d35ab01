//! What a maker may write at each place along the bench, as it is written now; what it is and what holds where nothing
//! is written come from the plan's own table of keys.

use super::super::edits::Step;
use super::super::reading::Reading;
use super::bench::Bench;
use crate::plan::{Fill, Key, Kind, key_at};
use quarterturn_geometry::measure::Unit;
use serde::Serialize;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// One key that may be written.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(in crate::open) struct Field {
    /// Its path.
    key: Vec<Step>,
    /// What it belongs to.
    group: String,
    called: String,
    /// As it is written; empty where it isn't.
    written: String,
    /// What holds where nothing is written.
    usual: String,
    /// What it is.
    about: String,
    /// The words that may be written; empty where it is none of some words.
    words: Vec<&'static str>,
    /// Whether it is what was measured in the shop.
    measured: bool,
}

/// Keys of each entry of a list of sections.
struct Each {
    list: &'static str,
    group: &'static str,
    /// The entry's own key that names it.
    named_by: &'static str,
    keys: &'static [&'static str],
}

const STOCK: [Each; 1] = [Each {
    list: "blanks",
    group: "blank",
    named_by: "letter",
    keys: &["letter", "wood", "width", "thickness", "length", "count", "sizes", "moisture"],
}];
const PANEL: [Each; 1] = [Each {
    list: "panels",
    group: "panel",
    named_by: "name",
    keys: &["each_side", "each_face", "trued", "planed_lower", "planed_upper", "snipe_near", "snipe_far", "far_loss"],
}];
const CUTS: [Each; 3] = [
    Each {
        list: "handholds",
        group: "handhold",
        named_by: "edge",
        keys: &["edge", "bit", "depth", "width", "setback"],
    },
    Each {
        list: "grooves",
        group: "groove",
        named_by: "face",
        keys: &["face", "bit", "depth", "setback", "corner_radius"],
    },
    Each {
        list: "finger_recesses",
        group: "finger recess",
        named_by: "edge",
        keys: &["edge", "bit", "depth", "in_from_edge", "setback"],
    },
];

const STRIPS: [&str; 10] = [
    "strips.count",
    "strips.width",
    "strips.board_thickness",
    "shop.saw.kerf",
    "shop.saw.lost_first",
    "shop.saw.last_strip",
    "shop.saw.strip_lies",
    "shop.saw.set_to",
    "shop.saw.held",
    "shop.saw.waste_block",
];
/// The unit is not among them: every bare number and every default would mean something else.
const BOARD: [&str; 5] = ["name", "finest", "finishing.flatten_upper", "finishing.flatten_lower", "finishing.trim"];
const BOARD_MEASURED: [&str; 3] = ["measured.board_thickness", "measured.board_length", "measured.rock"];
const EDGES: [&str; 3] = ["corners.radius", "round_over.radius", "chamfer.size"];
/// What fields are called together that hold what was measured.
const MEASURED: &str = "measured in the shop";
const MEASURED_IN_PANEL: [&str; 2] = ["thickness", "glued"];

/// What may be written at a place.
pub(super) fn fields(bench: Bench, reading: &Reading) -> Vec<Field> {
    let Ok(document) = reading.text().parse::<DocumentMut>() else { return Vec::new() };
    let unit = reading.job().rule.unit();
    let look = Look { document: &document, unit };
    let names: Vec<&str> = reading.job().panels.iter().map(|panel| panel.name.as_str()).collect();
    match bench {
        Bench::Stock => look.each(&STOCK),
        Bench::Panel => [look.each(&PANEL), look.measured(&names, &MEASURED_IN_PANEL)].concat(),
        Bench::Strips => [look.all(&STRIPS, false), look.measured(&names, &["strips"])].concat(),
        Bench::Board => [look.all(&BOARD, false), look.all(&BOARD_MEASURED, true)].concat(),
        Bench::Cuts => [look.each(&CUTS), look.all(&EDGES, false)].concat(),
        Bench::Paper => Vec::new(),
    }
}

struct Look<'a> {
    document: &'a DocumentMut,
    unit: Unit,
}

impl Look<'_> {
    fn all(&self, paths: &[&str], measured: bool) -> Vec<Field> {
        // By the section that it stands in: trim belongs to finishing, kerf to the saw.
        let group = |path: &str| match path.rsplit('.').nth(1) {
            _ if measured => MEASURED.to_owned(),
            Some(section) => section.replace('_', " "),
            None => "board".to_owned(),
        };
        let one = |path: &&str| {
            let steps = path.split('.').map(|name| Step::Name(name.to_owned())).collect();
            self.field(steps, path, &group(path), measured)
        };
        paths.iter().filter_map(one).collect()
    }

    fn each(&self, all: &[Each]) -> Vec<Field> {
        let mut fields = Vec::new();
        for each in all {
            for at in 0..entries(self.document.get(each.list)) {
                let path =
                    |name: &str| vec![Step::Name(each.list.to_owned()), Step::Entry(at), Step::Name(name.to_owned())];
                let name = self.written(&path(each.named_by));
                let name = if name.is_empty() { (at + 1).to_string() } else { name };
                let group = format!("{} {name}", each.group);
                let field = |key: &&str| self.field(path(key), &format!("{}.{key}", each.list), &group, false);
                fields.extend(each.keys.iter().filter_map(field));
            }
        }
        fields
    }

    /// What was measured of panels: of those that have an entry, and of the only one there is.
    fn measured(&self, panels: &[&str], keys: &[&str]) -> Vec<Field> {
        let list = self.document.get("measured").and_then(Item::as_table_like).and_then(|table| table.get("panels"));
        let there = entries(list);
        let count = if panels.len() == 1 { there.max(1) } else { there };
        let mut fields = Vec::new();
        for at in 0..count {
            let path = |name: &str| {
                let start = ["measured", "panels"].map(|name| Step::Name(name.to_owned()));
                [&start[..], &[Step::Entry(at), Step::Name(name.to_owned())]].concat()
            };
            let name = self.written(&path("panel"));
            let of = if panels.len() == 1 { String::new() } else { format!(", panel {name}") };
            let group = format!("{MEASURED}{of}");
            let field = |key: &&str| self.field(path(key), &format!("measured.panels.{key}"), &group, true);
            fields.extend(keys.iter().filter_map(field));
        }
        fields
    }

    fn field(&self, steps: Vec<Step>, path: &str, group: &str, measured: bool) -> Option<Field> {
        let key = key_at(path)?;
        Some(Field {
            written: self.written(&steps),
            key: steps,
            group: group.to_owned(),
            called: key.name().replace('_', " "),
            usual: self.usual(key),
            about: [key.about, &several(key.kind)].concat(),
            words: match key.kind {
                Kind::Choice(words) => words.to_vec(),
                Kind::Switch => vec!["true", "false"],
                _ => Vec::new(),
            },
            measured,
        })
    }

    /// What holds where a key is not written.
    fn usual(&self, key: &Key) -> String {
        match (key.fill, self.unit) {
            (Fill::Required, _) => String::new(),
            (Fill::Nothing(text) | Fill::Value(text) | Fill::Worked(text) | Fill::Lengths(text, _), Unit::Inch)
            | (
                Fill::Nothing(text) | Fill::Value(text) | Fill::Worked(text) | Fill::Lengths(_, text),
                Unit::Millimetre,
            ) => text.replace('`', ""),
        }
    }

    /// A key as it is written; empty where it isn't.
    fn written(&self, path: &[Step]) -> String {
        let mut table: Option<&dyn TableLike> = Some(self.document.as_table());
        let mut list: Option<&Item> = None;
        for step in path {
            match step {
                Step::Name(name) => {
                    let item = table.and_then(|table| table.get(name));
                    (table, list) = (item.and_then(Item::as_table_like), item);
                }
                Step::Entry(at) => table = list.and_then(|list| entry(list, *at)),
            }
        }
        list.and_then(Item::as_value).map(plain).unwrap_or_default()
    }
}

fn entry(list: &Item, at: usize) -> Option<&dyn TableLike> {
    match list {
        Item::ArrayOfTables(all) => all.get(at).map(|table| table as &dyn TableLike),
        Item::Value(Value::Array(all)) => all.get(at)?.as_inline_table().map(|table| table as &dyn TableLike),
        _ => None,
    }
}

/// What is to be written for a key of several values.
fn several(kind: Kind) -> String {
    match kind {
        Kind::Pair(one, two, _) => format!(" One for both, or two with a comma between: {one}, {two}."),
        Kind::Lengths(names, _) | Kind::Numbers(names) => {
            format!(" {} of them, with commas between: {}.", names.len(), names.join(", "))
        }
        _ => String::new(),
    }
}

fn entries(item: Option<&Item>) -> usize {
    match item {
        Some(Item::ArrayOfTables(all)) => all.len(),
        Some(Item::Value(Value::Array(all))) => all.len(),
        _ => 0,
    }
}

/// A value without its quotes; a list with commas.
fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Array(all) => all.iter().map(plain).collect::<Vec<_>>().join(", "),
        other => other.to_string().trim().to_owned(),
    }
}
