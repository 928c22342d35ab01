//! `[[panels]]`: which blanks are laid in which panel, and what is taken off.

use super::blanks::{Milling, NotTaken, Stack};
use super::reader::Section;
use super::table::MOST_BLANKS;
use quarterturn_geometry::job::PanelAsked;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::stock::{Blank, BlankTurn, HalfTurn, LaidBlank};

/// The panels as read, with what later sections ask of them.
pub(super) struct Panels<'a> {
    pub(super) asked: Vec<PanelAsked>,
    pub(super) sections: Vec<Section<'a>>,
    /// Every blank that there is, laid or not.
    pub(super) blanks: Vec<Blank>,
    /// Whether every panel's name could be read: else a name that isn't there tells nothing.
    complete: bool,
}

impl<'a> Panels<'a> {
    pub(super) fn read(top: &Section<'a>, stack: &mut Stack<'_>) -> Self {
        let sections = top.tables("panels");
        let complete = sections.is_some();
        let mut panels =
            Self { asked: Vec::new(), sections: sections.unwrap_or_default(), blanks: Vec::new(), complete };
        if panels.sections.is_empty() && complete {
            top.report("panels", "there are no panels".to_owned(), "add a section [[panels]]".to_owned());
            panels.complete = false;
        }
        for (i, section) in panels.sections.iter().enumerate() {
            let name = name(section, i);
            panels.complete &= name.is_some();
            let panel = panel(section, name.unwrap_or_default(), stack);
            panels.blanks.extend(panel.blanks.iter().map(|laid| laid.blank.clone()));
            panels.asked.push(panel);
        }
        panels.check_names();
        panels.check_count();
        panels.add_unlaid(top, stack);
        panels
    }

    fn check_names(&self) {
        for (i, (panel, section)) in self.asked.iter().zip(&self.sections).enumerate() {
            let before = &self.asked[..i];
            if !panel.name.is_empty() && before.iter().any(|other| other.name == panel.name) {
                let what = format!("there are two panels {}", panel.name);
                section.report("name", what, "give each its own name".to_owned());
            }
        }
    }

    fn check_count(&self) {
        let mut laid = 0;
        for (panel, section) in self.asked.iter().zip(&self.sections) {
            laid += panel.blanks.len();
            if laid > MOST_BLANKS {
                let what = format!("with these, more than {MOST_BLANKS} blanks are laid");
                section.report("order", what, format!("a plan lays {MOST_BLANKS} at most"));
                return;
            }
        }
    }

    /// Blanks that no panel takes are milled by the defaults.
    fn add_unlaid(&mut self, top: &Section<'_>, stack: &Stack<'_>) {
        let milling = milling(&top.absent("panels"));
        for alike in &stack.alike {
            self.blanks.extend(alike.left().take(MOST_BLANKS).filter_map(|which| alike.milled(which, &milling)));
        }
    }

    /// The place of the panel that an entry names, or of the only one.
    pub(super) fn named_by(&self, entry: &Section<'_>) -> Option<usize> {
        let names = || self.asked.iter().map(|panel| panel.name.as_str()).collect::<Vec<_>>().join(", ");
        if !entry.has("panel") {
            if self.asked.len() > 1 {
                let what = "there are several panels, and none is named".to_owned();
                entry.report("panel", what, format!("add panel = …, one of {}", names()));
                return None;
            }
            return (self.asked.len() == 1).then_some(0);
        }
        let name = entry.text("panel")?;
        let at = self.asked.iter().position(|panel| panel.name == name);
        if at.is_none() && self.complete {
            entry.report("panel", format!("there is no panel {name}"), format!("the panels are {}", names()));
        }
        at
    }
}

fn name(section: &Section<'_>, i: usize) -> Option<String> {
    if section.has("name") { section.text("name") } else { Some((i + 1).to_string()) }
}

fn panel(section: &Section<'_>, name: String, stack: &mut Stack<'_>) -> PanelAsked {
    let before = section.reading.count();
    let milling = milling(section);
    let blanks = order(section, &milling, stack);
    let all_laid = blanks.is_some();
    let panel = PanelAsked {
        name,
        blanks: blanks.unwrap_or_default(),
        trued: section.pair("trued"),
        planed: [section.length("planed_lower"), section.length("planed_upper")],
        snipe: [section.maybe_length("snipe_near"), section.maybe_length("snipe_far")],
        squaring: section.maybe_length("squaring"),
        far_loss: section.length("far_loss"),
        count: section.whole("count"),
    };
    if all_laid && section.reading.count() == before {
        check_what_is_left(section, &panel);
    }
    panel
}

fn milling(section: &Section<'_>) -> Milling {
    Milling { side: section.pair("each_side"), face: section.pair("each_face") }
}

/// `None` where one of them can't be laid.
fn order(section: &Section<'_>, milling: &Milling, stack: &mut Stack<'_>) -> Option<Vec<LaidBlank>> {
    let entries = section.list("order")?;
    if entries.is_empty() {
        section.report("order", "the panel has no blanks".to_owned(), "name at least one letter".to_owned());
    }
    // All of them are tried, so that each that can't be laid is told.
    let all: Vec<Option<LaidBlank>> = entries.iter().map(|entry| laid(entry, milling, stack)).collect();
    all.into_iter().collect()
}

fn laid(entry: &Section<'_>, milling: &Milling, stack: &mut Stack<'_>) -> Option<LaidBlank> {
    let half = entry.choice("turn", &[HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd]);
    let quarter_roll = entry.switch("quarter_roll").unwrap_or_default();
    let start = entry.length("start");
    let letter = entry.text("blank")?;
    let (at, which) = match stack.take(&letter) {
        Ok(taken) => taken,
        Err(NotTaken::Told) => return None,
        Err(NotTaken::Because(what, right)) => {
            entry.report("blank", what, right);
            return None;
        }
    };
    let blank = stack.alike.get(at)?.milled(which, milling)?;
    if quarter_roll && blank.size.width != blank.size.thickness {
        let what = format!("{letter} is not square once it is milled, so that a quarter roll changes the panel");
        entry.report("quarter_roll", what, "roll only blanks as wide as they are thick".to_owned());
    }
    Some(LaidBlank { blank, turn: BlankTurn { quarter_roll, half }, start })
}

fn check_what_is_left(section: &Section<'_>, panel: &PanelAsked) {
    let width: Length = panel.blanks.iter().map(|laid| laid.lying().width).sum();
    let thickness = panel.blanks.iter().map(|laid| laid.lying().thickness).min().unwrap_or_default();
    if !(width - panel.trued[0] - panel.trued[1]).is_positive() {
        let what = "nothing is left of the panel's width once its edges are trued".to_owned();
        section.report("trued", what, "take off less, or lay more blanks".to_owned());
    }
    if !(thickness - panel.planed[0] - panel.planed[1]).is_positive() {
        let name = if section.has("planed_lower") { "planed_lower" } else { "planed_upper" };
        let what = "nothing is left of the panel's thickness once both faces are planed".to_owned();
        section.report(name, what, "take off less, or use thicker blanks".to_owned());
    }
}
