//! `[measured]` and `[mesh]`.

use super::panels::Panels;
use super::reader::Section;
use quarterturn_geometry::job::Measured;
use quarterturn_geometry::stock::Corners;

pub(super) fn measured(top: &Section<'_>, panels: &Panels<'_>) -> Measured {
    let section = top.table("measured");
    let mut measured = Measured {
        panels: vec![None; panels.asked.len()],
        glued: vec![None; panels.asked.len()],
        strips: vec![None; panels.asked.len()],
        board_thickness: section.maybe_length("board_thickness"),
        board_length: section.maybe_length("board_length"),
        rock: section.maybe_length("rock"),
        chipped: places(&section, "chipped"),
        open: places(&section, "open_joints"),
    };
    let mut seen = vec![false; panels.asked.len()];
    for entry in section.tables("panels").unwrap_or_default() {
        let corners = entry.lengths("thickness").map(|[near_first, near_last, far_first, far_last]| Corners {
            near_first,
            near_last,
            far_first,
            far_last,
        });
        let (glued, strips) = (entry.maybe_length("glued"), entry.whole("strips"));
        let Some(at) = panels.named_by(&entry) else { continue };
        if std::mem::replace(&mut seen[at], true) {
            let what = "this panel is measured twice".to_owned();
            entry.report("panel", what, "keep one of the two".to_owned());
        }
        measured.panels[at] = corners;
        measured.glued[at] = glued;
        measured.strips[at] = strips;
    }
    measured
}

/// Places of the lay-up, from 0.
fn places(section: &Section<'_>, name: &str) -> Vec<usize> {
    let entries = section.list(name).unwrap_or_default();
    let mut places: Vec<usize> = entries
        .iter()
        .filter_map(|entry| entry.small::<usize>("place"))
        .filter_map(|place| place.checked_sub(1))
        .collect();
    places.sort_unstable();
    places.dedup();
    places
}

/// The chord tolerance, mm.
pub(super) fn chord_tolerance(top: &Section<'_>) -> f64 {
    top.table("mesh").length("chord_tolerance").mm()
}
