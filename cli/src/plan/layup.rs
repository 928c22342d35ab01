//! `[strips]`, `[layup]`, `[finishing]`: from panels to the glued and finished board.

use super::panels::Panels;
use super::reader::Section;
use quarterturn_geometry::job::{Finishing, LayupAsked, StripsAsked};
use quarterturn_geometry::layup::{Asked, Beat, Place, Turn};
use quarterturn_geometry::measure::Length;

pub(super) fn strips(top: &Section<'_>, panels: &Panels<'_>) -> StripsAsked {
    let before = top.reading.count();
    let section = top.table("strips");
    let strips = StripsAsked {
        count: section.whole("count"),
        width: section.maybe_length("width"),
        board_thickness: section.maybe_length("board_thickness"),
    };
    let counted = !panels.asked.is_empty() && panels.sections.iter().all(|panel| panel.has("count"));
    let said = ["count", "width", "board_thickness"].iter().any(|name| section.has(name));
    if !said && !counted && top.reading.count() == before {
        let what = "nothing says how the panels are cut".to_owned();
        top.report("strips", what, "give count, width or board_thickness in [strips]".to_owned());
    }
    strips
}

pub(super) fn layup(top: &Section<'_>, panels: &Panels<'_>) -> LayupAsked {
    let section = top.table("layup");
    let asked = if section.has("places") { places(&section, panels) } else { repeat(&section, panels) };
    let mirror_pairs = section.switch("mirror_pairs").unwrap_or_else(|| makes_pairs(&asked));
    LayupAsked { asked, mirror_pairs }
}

/// A repeat of even length with two or more different turns.
fn makes_pairs(asked: &Asked) -> bool {
    let Asked::Repeat { beats, .. } = asked else { return false };
    beats.len() % 2 == 0 && beats.iter().any(|beat| beat.turn != beats[0].turn)
}

fn places(section: &Section<'_>, panels: &Panels<'_>) -> Asked {
    for other in ["repeat", "left_out"] {
        if section.has(other) {
            let what = format!("{other} and places can't both hold");
            section.report(other, what, "keep places, which names every strip, or the repeat".to_owned());
        }
    }
    let entries = section.list("places");
    if entries.as_ref().is_some_and(Vec::is_empty) {
        section.report("places", "no strip is laid".to_owned(), "name at least one strip".to_owned());
    }
    Asked::Places(entries.unwrap_or_default().iter().filter_map(|entry| place(entry, panels)).collect())
}

fn place(entry: &Section<'_>, panels: &Panels<'_>) -> Option<Place> {
    let (turn, stagger, strip) = (turn(entry), entry.length("stagger"), entry.whole("strip"));
    Some(Place { panel: panels.named_by(entry)?, strip: strip? - 1, turn, stagger })
}

fn repeat(section: &Section<'_>, panels: &Panels<'_>) -> Asked {
    let left_out = section.list("left_out").unwrap_or_default();
    let left_out = left_out.iter().filter_map(|entry| left_out_strip(entry, panels)).collect();
    if !section.has("repeat") {
        let each = |panel| Beat { panel, turn: Turn::AsCut, stagger: Length::ZERO };
        return Asked::Repeat { beats: (0..panels.asked.len()).map(each).collect(), left_out };
    }
    let entries = section.list("repeat");
    if entries.as_ref().is_some_and(Vec::is_empty) {
        section.report("repeat", "the repeat is empty".to_owned(), "write at least [\"as cut\"]".to_owned());
    }
    let beats = entries.unwrap_or_default().iter().filter_map(|entry| beat(entry, panels)).collect();
    Asked::Repeat { beats, left_out }
}

fn beat(entry: &Section<'_>, panels: &Panels<'_>) -> Option<Beat> {
    let (turn, stagger) = (turn(entry), entry.length("stagger"));
    Some(Beat { panel: panels.named_by(entry)?, turn, stagger })
}

fn left_out_strip(entry: &Section<'_>, panels: &Panels<'_>) -> Option<(usize, i64)> {
    let strip = entry.whole("strip");
    Some((panels.named_by(entry)?, strip? - 1))
}

fn turn(entry: &Section<'_>) -> Turn {
    entry.choice("turn", &Turn::ALL)
}

pub(super) fn finishing(top: &Section<'_>) -> Finishing {
    let section = top.table("finishing");
    let trim = section.length("trim");
    let side = |name| section.maybe_length(name).unwrap_or(trim);
    Finishing {
        upper: section.length("flatten_upper"),
        lower: section.length("flatten_lower"),
        left: side("trim_left"),
        right: side("trim_right"),
        front: side("trim_front"),
        back: side("trim_back"),
        least_length: section.maybe_length("least_length"),
    }
}
