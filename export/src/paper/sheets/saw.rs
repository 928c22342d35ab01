//! One panel on the saw that the maker has: marks, stop, cuts; how many other counts would give.

use super::{Flow, Shop, saw_drawn};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::stock::LastStrip;

pub(super) fn sheet(shop: &Shop, place: usize, flow: &mut Flow) {
    let from = &shop.outcome.panels[place];
    let on = OnSaw { shop, from };
    flow.sheet_of(shop.words.with("saw-title", &[("panel", Told::Word(&from.panel.name))]));
    if shop.job.measured.strips.get(place).copied().flatten().is_some() {
        let told =
            [("count", Told::Figure(on.shown("strips cut"))), ("width", Told::Figure(shop.shown("strips.width")))];
        flow.say("saw-counted", &told);
        return;
    }
    on.mark_and_square(flow);
    if place > 0 {
        flow.step("saw-alike", &[]);
    }
    on.stop(flow);
    on.cut(flow);
    on.starts(flow);
}

/// What other counts the panel would give: for looking up, behind its cuts.
pub(super) fn counts(shop: &Shop, place: usize, flow: &mut Flow) {
    if shop.job.measured.strips.get(place).copied().flatten().is_none() {
        OnSaw { shop, from: &shop.outcome.panels[place] }.counts(flow);
    }
}

struct OnSaw<'a> {
    shop: &'a Shop<'a>,
    from: &'a FromPanel,
}

impl OnSaw<'_> {
    fn key(&self, name: &str) -> String {
        format!("panel.{}.{name}", self.from.panel.name)
    }

    fn shown(&self, name: &str) -> &str {
        self.shop.shown(&self.key(name))
    }

    fn mark_and_square(&self, flow: &mut Flow) {
        flow.step("saw-which-face", &[]);
        flow.step("saw-mark", &[]);
        flow.step("saw-lay", &[]);
        for caution in ["at-the-saw", "mitre-and-fence", "blade"] {
            flow.caution(caution);
        }
        flow.step("saw-square", &[("lost", Told::Set(self.shown("lost first")))]);
        if self.shop.job.saw.waste_block.is_positive() {
            flow.step("saw-waste-block", &[("block", Told::Set(self.shop.shown("saw.waste block")))]);
            flow.small("no-source", &[]);
        }
    }

    fn stop(&self, flow: &mut Flow) {
        let waste = self.shop.job.saw.waste_block.is_positive();
        flow.caution("loose-strip");
        flow.together(|flow| {
            flow.step("saw-stop", &[]);
            saw_drawn::above(self.shop, waste, flow);
        });
        let say = |key: &str| self.shop.words.say(key);
        let set = |label: &str, name: &str| (say(label), self.shop.set(&self.key(name)));
        let mut rows = vec![
            set("saw-stop-near", "stop to near tooth"),
            set("saw-stop-far", "stop to far tooth"),
            (say("saw-width"), self.shop.figure("strips.width")),
            (say("saw-kerf"), self.shop.figure("strips.kerf")),
        ];
        if self.from.safe_stop.is_some() {
            rows.push(set("saw-safe-stop-near", "safe stop to near tooth"));
            rows.push(set("saw-safe-stop-far", "safe stop to far tooth"));
        }
        rows.push((say("saw-chance"), self.shop.figure(&self.key("chance short"))));
        flow.together(|flow| flow.settings(&rows));
        if self.from.safe_stop.is_some() {
            let limit = format!("{} %", self.shop.job.limits.short_chance * 100.0);
            flow.small("saw-safe-says", &[("limit", Told::Figure(&limit))]);
        }
        flow.step("saw-brush", &[]);
    }

    fn cut(&self, flow: &mut Flow) {
        let held = if self.shop.job.saw.hold_down { "saw-held-down" } else { "saw-held-by-hand" };
        flow.step(held, &[("least", Told::Figure(self.shop.shown("saw.least piece")))]);
        let stack = self.shown("third stack");
        let told = [
            ("count", Told::Figure(self.shown("strips cut"))),
            ("cuts", Told::Figure(self.shown("cuts needed"))),
            ("width", Told::Figure(self.shop.shown("strips.width"))),
            ("left", Told::Figure(self.shown("third left"))),
        ];
        if stack.is_empty() {
            flow.step("saw-cut", &told);
            self.number(flow);
        } else {
            flow.step("saw-cut-three", &told);
            self.number(flow);
            let planned = self.shop.written(self.shop.outcome.width * 3);
            let fits = self.shop.value(&self.key("third mixed up")) <= self.shop.value(&self.key("third stack"));
            let then = self.shop.words.say(if fits { "third-mixed-leave" } else { "third-mixed-anew" });
            let told = [
                ("then", Told::Word(&then)),
                ("planned", Told::Figure(&planned)),
                ("stack", Told::Figure(stack)),
                ("mixed", Told::Figure(self.shown("third mixed up"))),
                ("lost", Told::Figure(self.shown("third still lost"))),
                ("left", Told::Figure(self.shown("third left"))),
            ];
            flow.measured(&self.shop.words.say("measure-third"), &self.shop.words.with("measure-third-hangs", &told));
        }
        let value = |name: &str| self.shop.value(&self.key(name));
        if value("cuts needed") > value("safe cuts") {
            let told = [
                ("safe", Told::Figure(self.shown("safe cuts"))),
                ("block", Told::Figure(self.shown("waste block needed"))),
            ];
            flow.caution_told("short-piece", &told);
        }
        if !stack.is_empty() {
            flow.step("saw-cut-others", &told);
        }
        let last = match self.from.crosscut.last {
            LastStrip::Left => "saw-last-left",
            LastStrip::Freed | LastStrip::FullCut => "saw-last-freed",
        };
        flow.say(last, &[]);
    }

    /// How strips are numbered, with the panel's letter where there are several.
    fn number(&self, flow: &mut Flow) {
        flow.step("saw-number", &[]);
        if self.shop.outcome.panels.len() > 1 {
            flow.step("saw-number-panel", &[("panel", Told::Word(&self.from.panel.name))]);
        }
    }

    fn starts(&self, flow: &mut Flow) {
        let cell = |k: i64| {
            let shown = self.shown(&format!("strip.{k}.starts"));
            (!shown.is_empty()).then(|| format!("{k}:  {}", self.shop.words.figure(shown)))
        };
        let cells: Vec<String> = (1..=self.from.cut).map_while(cell).collect();
        if !cells.is_empty() {
            flow.heading("saw-starts");
            flow.columns(&cells, Style::of(10.0));
        }
    }

    fn counts(&self, flow: &mut Flow) {
        let cell = |count: i64, name: &str| self.shop.figure(&self.key(&format!("count.{count}.{name}")));
        let row = |n: i64| {
            let mut row = vec![n.to_string()];
            row.extend(COUNTS.map(|(_, name)| cell(n, name)));
            row
        };
        let around = self.from.cut.saturating_sub(MOST_ROWS)..=self.from.cut.saturating_add(MOST_ROWS);
        let rows: Vec<Vec<String>> = around.filter(|n| !cell(*n, "length").is_empty()).map(row).collect();
        if rows.is_empty() {
            return;
        }
        let name = &self.from.panel.name;
        flow.sheet_of(self.shop.words.with("saw-counts", &[("panel", Told::Word(name))]));
        let alone = self.shop.outcome.panels.len() > 1;
        let keyed = |key| if alone && key == "saw-count-length" { "saw-count-length-alone" } else { key };
        let head = std::iter::once("saw-count").chain(COUNTS.map(|(key, _)| keyed(key)));
        let head: Vec<String> = head.map(|key| self.shop.words.say(key)).collect();
        flow.table(&head, &rows, Style::of(8.5));
        flow.small("saw-counts-say", &[]);
        if alone {
            flow.small("saw-counts-alone", &[]);
        }
    }
}

/// Rows are looked for this far on both sides of the count that is cut.
const MOST_ROWS: i64 = 4;

/// The columns of the table of counts: head, and the number's name.
const COUNTS: [(&str, &str); 6] = [
    ("saw-count-length", "length"),
    ("saw-count-widest", "widest strip"),
    ("saw-count-thick", "thickness"),
    ("saw-count-remains", "remains"),
    ("saw-count-waste", "waste"),
    ("saw-count-safe", "safe cuts"),
];
