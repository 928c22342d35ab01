//! Where in the plan's text a finding is to be mended: the line, and the key. Knows which key each check turns on;
//! judges nothing.

use super::tree::tree;
use quarterturn_geometry::check::{Finding, Subject};
use quarterturn_geometry::cut::{Cut, Which};
use std::fmt;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A line of the plan, counted from 1, and the key on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The line.
    pub line: usize,
    /// The key with its section: `handholds.depth`.
    pub key: String,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.line, self.key)
    }
}

type Value<'a> = Spanned<DeValue<'a>>;

/// For each check the keys that it turns on, the likeliest first: within the section of what it is about, or with their
/// own.
const KEYS: [(&str, &[&str]); 43] = [
    ("bit does not reach", &["depth", "bit"]),
    ("stops cross or leave the edge", &["setback", "right_hand_stop", "left_hand_stop"]),
    ("recess narrower than its bit", &["width"]),
    ("recess runs into a rounded corner", &["setback", "right_hand_stop", "left_hand_stop", "corners.radius"]),
    ("rim larger than the wall", &["round_over", "chamfer"]),
    ("recess wider than the board allows", &["width", "above_lower_face"]),
    ("thin lip", &["above_lower_face", "width", "bit"]),
    ("glue line behind the floor", &["depth"]),
    ("glue lines crossed", &["depth"]),
    ("round-over reaches the recess", &["chamfer.size", "round_over.radius"]),
    ("chip too thin", &["bit"]),
    ("chip too thick", &["bit"]),
    ("pass too deep", &["passes"]),
    ("cut has no room", &["rise", "setback", "from_edges"]),
    ("cut goes too deep", &["depth"]),
    ("spout begins at a corner", &["along", "edge"]),
    ("cut leaves its face", &["setback", "in_from_edge", "from_edges"]),
    ("thin wood at the edge", &["setback", "in_from_edge", "from_edges"]),
    ("cuts too close", &["setback", "in_from_edge", "from_edges", "along", "depth"]),
    ("recesses too close", &["setback", "depth"]),
    ("cut runs along a glue line", &["setback", "in_from_edge", "from_edges", "along"]),
    ("corners or rims too large", &["corners.radius", "round_over.radius", "chamfer.size"]),
    ("fewer strips than wanted", &["strips.count", "strips.width"]),
    ("may fall short", &["strips.width", "strips.count"]),
    ("piece too short to hold", &["shop.saw.least_piece"]),
    ("last piece comes out wide", &["strips.width"]),
    ("lay-up can't be laid", &["layup.places", "layup.repeat"]),
    ("blank not laid", &["panels.order"]),
    ("strips left over", &["layup.places", "layup.repeat", "strips.count"]),
    ("odd count", &["strips.count", "layup.places"]),
    ("panels of unequal width", &["panels.order"]),
    ("machine too small", &["shop.planer.widest", "shop.drum_sander.widest", "shop.jointer.widest"]),
    ("board thinner than asked", &["strips.width", "finishing.thickness"]),
    ("board thicker than asked", &["strips.width", "finishing.thickness"]),
    ("board shorter than asked", &["strips.count", "finishing.length"]),
    ("thin board", &["strips.width"]),
    ("thick board", &["strips.width"]),
    ("frame too narrow", &["finishing.trim", "outline.bit"]),
    ("trim leaves a sliver", &["finishing.trim"]),
    ("taper fans the board", &["measured"]),
    ("blanks differ in colour", &["limits.colour"]),
    ("moisture", &["blanks.moisture"]),
    ("neighbours move unlike", &["limits.movement", "seasons.humidity", "panels.order"]),
];

/// Where the plan says what a finding is about; of two cuts, the one written later. `None` where the plan leaves it to
/// a default.
#[must_use]
pub fn place(text: &str, finding: &Finding) -> Option<Place> {
    let tree = tree(text).ok()?;
    let top = tree.get_ref();
    let keys = KEYS.iter().find(|(check, _)| *check == finding.check).map_or(&[][..], |(_, keys)| *keys);
    let sections = match finding.subject {
        Subject::Board => Vec::new(),
        Subject::Panel(i) => vec![one_of(top, "panels", i)],
        Subject::Handhold(i) => vec![on_edges(top, "handholds", i)],
        Subject::Handholds(i, j) => vec![on_edges(top, "handholds", i), on_edges(top, "handholds", j)],
        Subject::Cut(which) => vec![section(top, which)],
        Subject::Cuts(a, b) => vec![cut(top, a), cut(top, b)],
    };
    let within = sections.into_iter().flatten().max_by_key(|(_, value)| value.span().start);
    let line = |value: &Value<'_>| text.get(..value.span().start).map_or(1, |before| before.matches('\n').count() + 1);
    let in_section = within.as_ref().and_then(|(name, value)| Some((*name, *value, table_of(value)?)));
    // One end's setback may be written for both.
    let own = |table: &'_ DeTable<'_>, key: &str| -> Option<String> {
        let both = key.split('_').next().filter(|both| *both == "setback");
        [Some(key), both].into_iter().flatten().find(|key| table.get(*key).is_some()).map(str::to_owned)
    };
    let written = |key: &&str| match in_section {
        Some((name, _, table)) if !key.contains('.') => {
            let key = own(table, key)?;
            table.get(key.as_str()).map(|value| (format!("{name}.{key}"), value))
        }
        _ => by_path(top, key),
    };
    let (key, value) = finding
        .turns_on
        .iter()
        .chain(keys)
        .find_map(written)
        .or_else(|| within.map(|(name, value)| (name.to_owned(), value)))?;
    Some(Place { line: line(value), key })
}

fn table_of<'t, 'a>(value: &'t Value<'a>) -> Option<&'t DeTable<'a>> {
    if let DeValue::Table(table) = value.get_ref() { Some(table) } else { None }
}

fn entries<'t, 'a>(value: &'t Value<'a>) -> &'t [Value<'a>] {
    if let DeValue::Array(all) = value.get_ref() { all } else { &[] }
}

type Section<'t, 'a> = Option<(&'static str, &'t Value<'a>)>;

fn one_of<'t, 'a>(top: &'t DeTable<'a>, name: &'static str, i: usize) -> Section<'t, 'a> {
    entries(top.get(name)?).get(i).map(|value| (name, value))
}

/// The section that the `i`th cut stands in, where one section may name several edges.
fn on_edges<'t, 'a>(top: &'t DeTable<'a>, name: &'static str, i: usize) -> Section<'t, 'a> {
    let edges = |value: &&Value<'a>| table_of(value).and_then(|t| t.get("edge")).map_or(1, |e| entries(e).len().max(1));
    let all = entries(top.get(name)?).iter();
    all.flat_map(|value| std::iter::repeat_n(value, edges(&value))).nth(i).map(|value| (name, value))
}

fn cut<'t, 'a>(top: &'t DeTable<'a>, cut: Cut) -> Section<'t, 'a> {
    match cut {
        Cut::Handhold(i) => on_edges(top, "handholds", i),
        Cut::Face(which) => section(top, which),
        Cut::Level(_) | Cut::Panel(..) => Some(("surfacing", top.get("surfacing")?)),
        Cut::Outline | Cut::BetweenTabs => Some(("outline", top.get("outline")?)),
        Cut::Rim(_) => None,
    }
}

fn section<'t, 'a>(top: &'t DeTable<'a>, which: Which) -> Section<'t, 'a> {
    match which {
        Which::Groove(i) => one_of(top, "grooves", i),
        Which::Spout(i) => {
            let grooves = entries(top.get("grooves")?).iter();
            let spouts = grooves.filter_map(|groove| table_of(groove)?.get("spouts")).flat_map(entries);
            spouts.map(|value| ("grooves.spouts", value)).nth(i)
        }
        Which::FingerRecess(i) => on_edges(top, "finger_recesses", i),
        Which::Foot(_) => Some(("feet", top.get("feet")?)),
        Which::HangingHole => Some(("hanging_hole", top.get("hanging_hole")?)),
    }
}

/// The value at a path of keys, and the path as it is said; of several sections of a name the first.
fn by_path<'t, 'a>(top: &'t DeTable<'a>, path: &str) -> Option<(String, &'t Value<'a>)> {
    let mut parts = path.split('.');
    let mut value = top.get(parts.next()?)?;
    for part in parts {
        let table = entries(value).first().map_or_else(|| table_of(value), table_of)?;
        value = table.get(part)?;
    }
    Some((path.to_owned(), value))
}
