//! The cut list for a spreadsheet: one row for each figure, RFC 4180.
//!
//! Columns: kind, panel, strip, place, turn, edge, what, shown, value, unit.

use super::Sheet;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::numbers::Numbers;

const HEAD: [&str; 10] = ["kind", "panel", "strip", "place", "turn", "edge", "what", "shown", "value", "unit"];

/// The cut list as CSV: comma separated, lines ended by CR LF, a header row. `value` is in `unit`
/// (lengths in mm), `shown` as on the sheet.
#[must_use]
pub fn csv(job: &Job, outcome: &Outcome, numbers: &Numbers) -> String {
    let sheet = Sheet { job, outcome, numbers, programs: &[] };
    let mut table = Table { sheet: &sheet, text: String::new() };
    table.row(&HEAD);
    table.panels();
    table.strips();
    table.board();
    table.handholds();
    table.cuts();
    table.text
}

struct Table<'a> {
    sheet: &'a Sheet<'a>,
    text: String,
}

/// What a row is about; what doesn't apply is empty.
#[derive(Default)]
struct About<'a> {
    kind: &'a str,
    panel: &'a str,
    strip: &'a str,
    place: &'a str,
    turn: &'a str,
    edge: &'a str,
}

impl Table<'_> {
    fn row(&mut self, cells: &[&str]) {
        let cells: Vec<String> = cells.iter().map(|c| quoted(c)).collect();
        self.text.push_str(&cells.join(","));
        self.text.push_str("\r\n");
    }

    /// One number, if there is one of this key.
    fn number(&mut self, about: &About, what: &str, key: &str) {
        let Some(n) = self.sheet.numbers.get(key) else { return };
        let value =
            if n.value.is_finite() { format!("{}", (n.value * 1e9).round() / 1e9 + 0.0) } else { String::new() };
        let About { kind, panel, strip, place, turn, edge } = about;
        self.row(&[kind, panel, strip, place, turn, edge, what, &n.shown, &value, n.unit.name()]);
    }

    fn panels(&mut self) {
        for from in &self.sheet.outcome.panels {
            let panel = from.panel.name.as_str();
            let about = About { kind: "panel", panel, ..About::default() };
            for name in PANEL {
                self.number(&about, name, &format!("panel.{panel}.{name}"));
            }
            self.number(&about, "kerf", "strips.kerf");
            self.number(&about, "strip width", "strips.width");
        }
    }

    fn strips(&mut self) {
        for (i, from) in self.sheet.outcome.panels.iter().enumerate() {
            let panel = from.panel.name.as_str();
            for k in 0..from.cut {
                let key = format!("panel.{panel}.strip.{}.starts", k + 1);
                if self.sheet.numbers.get(&key).is_none() {
                    break;
                }
                let laid = self.sheet.outcome.places.iter().position(|p| p.panel == i && p.strip == k);
                let place = laid.map_or(String::new(), |p| (p + 1).to_string());
                let turn = laid.map_or("left out", |p| self.sheet.outcome.places[p].turn.name());
                let strip = (k + 1).to_string();
                let about = About { kind: "strip", panel, strip: &strip, place: &place, turn, ..About::default() };
                self.number(&about, "from the squared end", &key);
                if laid.is_some() {
                    self.number(&about, "toward the back by", &format!("place.{place}.stagger"));
                }
            }
        }
    }

    fn board(&mut self) {
        let about = About { kind: "board", ..About::default() };
        for name in BOARD {
            self.number(&about, name, &format!("board.{name}"));
        }
        for side in ["upper", "lower", "left", "right", "front", "back"] {
            self.number(&about, &format!("off {side}"), &format!("finishing.{side}"));
        }
    }

    fn handholds(&mut self) {
        for (i, hold) in self.sheet.job.handholds.iter().enumerate() {
            let about = About { kind: "handhold", edge: hold.edge.name(), ..About::default() };
            let start = format!("handhold.{}.", i + 1);
            let keys: Vec<&str> =
                self.sheet.numbers.all().iter().map(|n| n.key.as_str()).filter(|k| k.starts_with(&start)).collect();
            for key in keys {
                self.number(&about, &key[start.len()..], key);
            }
        }
    }

    fn cuts(&mut self) {
        let Ok(board) = &self.sheet.outcome.board else { return };
        let cuts = &self.sheet.job.cuts;
        for (which, _) in cuts.sweeps(&board.finished()) {
            let name = which.name(cuts);
            let about = About { kind: &name, ..About::default() };
            let start = format!("{}.", which.key());
            let keys: Vec<&str> =
                self.sheet.numbers.all().iter().map(|n| n.key.as_str()).filter(|k| k.starts_with(&start)).collect();
            for key in keys {
                self.number(&about, &key[start.len()..], key);
            }
        }
        for rim in ["corners.radius", "upper rim", "lower rim"] {
            self.number(&About { kind: "outline", ..About::default() }, rim, rim);
        }
    }
}

const PANEL: [&str; 13] = [
    "width",
    "thickness",
    "length",
    "lost first",
    "lost last",
    "strips cut",
    "stop",
    "safe stop",
    "safe width",
    "chance short",
    "cuts needed",
    "safe cuts",
    "waste block needed",
];

const BOARD: [&str; 7] = ["strips", "glued length", "glued width", "glued thickness", "length", "width", "thickness"];

/// Quoted where it must be; a name that a spreadsheet would take for a formula stands behind an
/// apostrophe.
fn quoted(cell: &str) -> String {
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
    let text = if formula && !figure(cell) { format!("'{cell}") } else { cell.to_owned() };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Whether it is one of our own figures below zero: `-3/8 in`.
fn figure(cell: &str) -> bool {
    cell.starts_with('-') && cell.chars().all(|c| c.is_ascii_digit() || "-/. inmfulbare³%c".contains(c))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_where_they_must_be() {
        assert_eq!(quoted("a,b"), "\"a,b\"");
        assert_eq!(quoted("say \"P\""), "\"say \"\"P\"\"\"");
        assert_eq!(quoted("=1+1"), "'=1+1");
        assert_eq!(quoted("-3/8 in full"), "-3/8 in full");
        assert_eq!(quoted("-12.5"), "-12.5");
        assert_eq!(quoted("plain"), "plain");
    }
}
