//! One panel on the saw: marks, squaring, stop, cuts, counts.

use super::{Paper, Sheet};
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::stock::{LastStrip, StripSide};

pub(super) fn panel(sheet: &Sheet, place: usize, paper: &mut Paper) {
    let from = &sheet.outcome.panels[place];
    let on = OnSaw { sheet, from };
    paper.title(&format!("Panel {} on the saw", from.panel.name));
    let size = format!("{} wide, {} thick, {} long", on.shown("width"), on.shown("thickness"), on.shown("length"));
    paper.rows(&[("panel", size), ("kerf", sheet.shown("strips.kerf").to_owned())]);
    if sheet.job.measured.strips.get(place).copied().flatten().is_some() {
        let (cut, width) = (on.shown("strips cut"), sheet.shown("strips.width"));
        paper.say(0, &format!("Cut and counted: {cut} strips, {width} wide."));
    } else {
        on.mark_and_square(paper);
        on.set_the_stop(paper);
        on.cut(paper);
        on.starts(paper);
        on.counts(paper);
    }
}

struct OnSaw<'a> {
    sheet: &'a Sheet<'a>,
    from: &'a FromPanel,
}

impl OnSaw<'_> {
    fn shown(&self, name: &str) -> &str {
        self.sheet.shown(&format!("panel.{}.{name}", self.from.panel.name))
    }

    fn value(&self, name: &str) -> f64 {
        let key = format!("panel.{}.{name}", self.from.panel.name);
        self.sheet.numbers.get(&key).map_or(0.0, |n| n.value)
    }

    fn mark_and_square(&self, paper: &mut Paper) {
        paper.item(
            "1.",
            "Mark: a slanted line on the first blank's edge, two side by side on the last blank's, each from the lower \
             face at the near end to the upper face at the far end.",
        );
        let lost = self.shown("lost first");
        paper.item(
            "2.",
            &format!("Square the near end. Lost there before the first strip, this cut's kerf included: {lost}."),
        );
        if self.sheet.job.saw.waste_block.is_positive() {
            let block = self.sheet.shown("saw.waste block");
            paper.say(
                3,
                &format!("Fix the waste block, {block} long, to the far end: the safe cuts below count on it."),
            );
        }
    }

    fn set_the_stop(&self, paper: &mut Paper) {
        let what = match self.from.crosscut.side {
            StripSide::StopSide => "leans toward it: from the blade to the stop; the strip lies between them",
            StripSide::FarSide => {
                "leans away from it, toward the panel: strip and kerf together; the strip falls off the blade's far side"
            }
        };
        paper.item("3.", &format!("Set the stop from the tooth that {what}."));
        let mut rows = vec![
            ("stop as planned", self.shown("stop").to_owned()),
            ("chance that the last strip is narrow", self.shown("chance short").to_owned()),
        ];
        if self.from.safe_stop.is_some() {
            rows.push(("largest safe stop", self.shown("safe stop").to_owned()));
            rows.push(("strips then", format!("{} wide", self.shown("safe width"))));
        }
        paper.rows(&rows);
        paper.caution("Mitre gauge and rip fence are never used together: the piece binds and is thrown back.");
        paper.caution("A chip against the stop makes the next strip narrow: brush it clean before each cut.");
    }

    fn cut(&self, paper: &mut Paper) {
        let (cut, needed, safe) = (self.shown("strips cut"), self.shown("cuts needed"), self.shown("safe cuts"));
        let width = self.sheet.shown("strips.width");
        paper.item(
            "4.",
            &format!(
                "Cut {cut} strips, {width} wide, in {needed} cuts. Number each as it comes off, on the cut face \
                 toward the panel's far end, the number's foot toward the panel's lower face."
            ),
        );
        let last = match self.from.crosscut.last {
            LastStrip::Left => "the last strip is what is left after the last kerf",
            LastStrip::Freed | LastStrip::FullCut => "a last cut frees the last strip",
        };
        let held = if self.sheet.job.saw.hold_down { "under a clamped hold-down" } else { "by hand on the sled" };
        let least = self.sheet.shown("saw.least piece");
        let mut rows = vec![
            ("the last", last.to_owned()),
            ("held", format!("{held}; nothing shorter than {least} is cut")),
            ("cuts before that", safe.to_owned()),
        ];
        if self.value("cuts needed") > self.value("safe cuts") {
            let block = self.shown("waste block needed");
            rows.push(("waste block", format!("{block} long, on the far end, lets all {needed} be made")));
        }
        rows.push(("to spare", format!("{} beyond what is lost at the far end", self.shown("remains"))));
        paper.rows(&rows);
        if self.value("cuts needed") > self.value("safe cuts") {
            paper.caution(&format!(
                "Stop after cut {safe}: the piece is then too short to hold. Add the waste block or a clamped \
                 hold-down before going on, or lay fewer strips.",
            ));
        }
        paper.caution(
            "Fingers stay off the line of the blade and out of its path; small pieces are moved with a stick, and \
             only with the blade stopped. If the saw's manual says otherwise, the manual holds.",
        );
    }

    fn starts(&self, paper: &mut Paper) {
        paper.say(0, "From the squared end to where each strip begins:");
        let cells: Vec<String> = (1..=self.from.cut)
            .map(|k| (k, self.shown(&format!("strip.{k}.starts"))))
            .take_while(|(_, shown)| !shown.is_empty())
            .map(|(k, shown)| format!("{k:>3}  {shown}"))
            .collect();
        paper.columns(&cells);
    }

    fn counts(&self, paper: &mut Paper) {
        let cell = |count: i64, name: &str| self.shown(&format!("count.{count}.{name}")).to_owned();
        let around = self.from.cut.saturating_sub(MOST_ROWS)..=self.from.cut.saturating_add(MOST_ROWS);
        let rows: Vec<Vec<String>> = around
            .filter(|n| !cell(*n, "length").is_empty())
            .map(|n| {
                let mut row = vec![n.to_string()];
                row.extend(COUNTS.map(|(_, name)| cell(n, name)));
                row
            })
            .collect();
        if rows.is_empty() {
            return;
        }
        paper.say(0, "Other counts from this panel:");
        let head: Vec<&str> = std::iter::once("strips").chain(COUNTS.map(|(head, _)| head)).collect();
        paper.table(&head, &rows);
        paper.say(
            3,
            "Remains at the planned strip width; negative: so many don't fit at it. Waste likewise, there without what \
             remains. Cuts held: of the widest strips, those before the piece is too short.",
        );
    }
}

/// Rows are looked for this far on both sides of the count that is cut.
const MOST_ROWS: i64 = 50;

/// The columns of the table of counts: head, and the number's name.
const COUNTS: [(&str, &str); 6] = [
    ("board", "length"),
    ("widest", "widest strip"),
    ("thick", "thickness"),
    ("remains", "remains"),
    ("waste", "waste"),
    ("cuts held", "safe cuts"),
];
