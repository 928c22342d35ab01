//! The foot of the page: check bars and title block.

use super::{Block, Sheet, TEXT, THIN};
use crate::ink::{self, Anchor};
use crate::lettering;
use quarterturn_geometry::measure::Unit;
use svg::node::element::Group;

/// The narrowest page that bars and block fit side by side on, without its margins.
pub(super) const NARROWEST: f64 = BARS + BLOCK + 8.0;
const BARS: f64 = 112.0;
const BLOCK: f64 = 112.0;
const LEAD: f64 = TEXT * 1.5;

pub(super) fn draw(sheet: &Sheet, across: f64) -> Block {
    with(sheet, across, &words())
}

/// The same with other lines after the board's size and the scale.
pub(super) fn with(sheet: &Sheet, across: f64, says: &[String]) -> Block {
    let lines = lines(sheet, says);
    let title = lettering::plain(&sheet.job.name, 60);
    let size = lettering::fitting(&title, BLOCK - 6.0, 6.0);
    let height = 4.0 + 6.0 + 3.0 + lines.len() as f64 * LEAD + 2.0;
    let x = across - BLOCK;
    let mut group = Group::new()
        .add(ink::rectangle([x, 0.0], [BLOCK, height], 0.3))
        .add(ink::word(&title, [x + 3.0, 9.0], size, Anchor::Start))
        .add(ink::line([x, 12.0], [x + BLOCK, 12.0], THIN));
    for (i, line) in lines.iter().enumerate() {
        group = group.add(ink::word(line, [x + 3.0, 12.0 + LEAD * (i as f64 + 1.0)], TEXT, Anchor::Start));
    }
    Block { ink: group.add(bars()), width: across, height }
}

fn words() -> [String; 3] {
    [
        "In the views of its edges these are drawn before they are eased.".to_owned(),
        "Plan seen from above, grain upright; dashed: recesses seen through it.".to_owned(),
        "Numbers in the plan: strips, counted from the panel's squared end.".to_owned(),
    ]
}

fn lines(sheet: &Sheet, says: &[String]) -> Vec<String> {
    let shown = |key| sheet.shown(key);
    let unit = match sheet.job.rule.unit() {
        Unit::Inch => "inches",
        Unit::Millimetre => "millimetres",
    };
    let size = format!(
        "Size: {} long, {} wide, {} thick.",
        shown("board.length"),
        shown("board.width"),
        shown("board.thickness")
    );
    let room = BLOCK - 6.0;
    [format!("Finished board. {size}"), format!("Scale 1:1. Dimensions in {unit}.")]
        .iter()
        .chain(says)
        .flat_map(|text| lettering::lines(text, TEXT, room))
        .collect()
}

/// Two bars whose outer edges are 100 mm and 4 in apart.
fn bars() -> Group {
    let text = "1:1 only if these bars measure true: print at 100 %, then lay a rule on them.";
    let mut group = Group::new();
    for (i, line) in lettering::lines(text, TEXT, BARS).iter().enumerate() {
        group = group.add(ink::word(line, [0.0, TEXT + LEAD * i as f64], TEXT, Anchor::Start));
    }
    group.add(bar(12.0, 10, 10.0, "100 mm")).add(bar(23.0, 4, 25.4, "4 in"))
}

fn bar(y: f64, parts: u32, part: f64, name: &str) -> Group {
    let mut group = Group::new();
    for i in 0..parts {
        let fill = if i % 2 == 0 { "black" } else { "#b0b0b0" };
        let block = ink::rectangle([f64::from(i) * part, y], [part, 2.0], 0.0);
        group = group.add(block.set("fill", fill).set("stroke", "none"));
    }
    group.add(ink::word(name, [0.0, y + 2.0 + TEXT * 1.1], TEXT, Anchor::Start))
}
