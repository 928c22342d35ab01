//! Every number of the report by its key, so that each figure can be looked up and traced.

use super::{Flow, Shop};
use crate::paper::text::Style;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("numbers-title");
    flow.small("numbers-about", &[]);
    let cell = |n: &quarterturn_geometry::numbers::Number| format!("{}:  {}", n.key, shop.words.figure(&n.shown));
    let cells: Vec<String> = shop.given.numbers.all().iter().map(cell).collect();
    flow.columns(&cells, Style::of(5.6));
}
