//! Every number of the report by its key, so that each figure can be looked up and traced: not for the shop.

use super::Flow;
use crate::paper::text::Style;
use quarterturn_geometry::numbers::{Number, Numbers};

pub(super) fn sheet(numbers: &Numbers, flow: &mut Flow) {
    flow.sheet("numbers-title");
    flow.small("numbers-about", &[]);
    let cell = |n: &Number| format!("{}:  {}", n.key, flow.words.figure(&n.shown));
    let cells: Vec<String> = numbers.all().iter().map(cell).collect();
    flow.columns(&cells, Style::of(5.6));
}
