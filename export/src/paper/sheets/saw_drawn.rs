//! The saw from above: sled, fence, stop, panel, blade, the strip, where the maker stands.
//!
//! Not to scale: the stop's figures stand beside it. Must not work anything out about the cut.

use super::{Flow, Shop};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Side, Tone};
use crate::paper::text::POINT;

/// Words on the drawing.
const WORDS: f64 = 8.5 * POINT;
/// Where things lie, mm of the paper: across from the drawing's left, down from its top.
const STOP: [f64; 2] = [34.0, 42.0];
const BLADE: [f64; 2] = [66.0, 68.5];
const PANEL_ENDS: f64 = 140.0;
const WASTE_ENDS: f64 = 156.0;
const PANEL: [f64; 2] = [18.0, 37.0];
const FENCE: [f64; 2] = [37.0, 43.0];
const SLED: [f64; 2] = [15.0, 165.0];
const HIGH: f64 = 53.0;

/// The fence on the maker's side, the near end and the stop at the left hand.
pub(super) fn above(shop: &Shop, waste: bool, flow: &mut Flow) {
    let words = ["fence", "stop", "strip", "panel", "blade", "waste", "near", "far", "you"];
    let [fence, stop, strip, panel, blade, block, near, far, you] =
        words.map(|key| shop.words.say(&format!("saw-drawn-{key}")));
    let top = flow.take(HIGH);
    let page = flow.page();
    let left = MARGIN + 8.0;
    let at = |x: f64, y: f64| [left + x, top + y];
    let plate = |page: &mut Page, [x0, x1]: [f64; 2], [y0, y1]: [f64; 2], tone: Tone| {
        page.filled(at(x0, y0), [x1 - x0, y1 - y0], tone);
        page.rectangle(at(x0, y0), [x1 - x0, y1 - y0], 0.4);
    };
    let middle = (PANEL[0] + PANEL[1]) / 2.0;
    plate(page, SLED, [PANEL[0] - 3.0, FENCE[1] + 2.0], Tone::White);
    plate(page, SLED, FENCE, Tone::White);
    plate(page, [STOP[1], BLADE[0]], PANEL, Tone::White);
    plate(page, [BLADE[1], PANEL_ENDS], PANEL, Tone::White);
    if waste {
        plate(page, [PANEL_ENDS, WASTE_ENDS], PANEL, Tone::Pale);
        page.text(&block, at((PANEL_ENDS + WASTE_ENDS) / 2.0, middle), WORDS, Side::Middle);
    }
    plate(page, STOP, [FENCE[0] - 9.0, FENCE[0]], Tone::Pale);
    page.filled(at(BLADE[0], PANEL[0] - 6.0), [BLADE[1] - BLADE[0], FENCE[1] - PANEL[0] + 8.0], Tone::Black);
    page.text(&stop, at(STOP[0] - 1.0, FENCE[0] - 3.0), WORDS, Side::End);
    page.text(&strip, at((STOP[1] + BLADE[0]) / 2.0, middle + 1.0), WORDS, Side::Middle);
    page.text(&panel, at((BLADE[1] + PANEL_ENDS) / 2.0, middle + 1.0), WORDS, Side::Middle);
    page.text(&fence, at((BLADE[1] + SLED[1]) / 2.0, FENCE[1] - 2.0), WORDS, Side::Middle);
    page.text(&blade, at(BLADE[1] + 1.5, PANEL[0] - 4.2), WORDS, Side::Start);
    page.text(&you, at(BLADE[1] + 8.0, HIGH - 1.0), WORDS, Side::Start);
    // Both distances of the stop, the words on the right where there is room.
    for (row, to, says) in [(4.0, BLADE[1], &far), (9.0, BLADE[0], &near)] {
        page.line(at(STOP[1], row), at(to, row), 0.25, Tone::Black);
        for x in [STOP[1], to] {
            page.line(at(x, row - 1.2), at(x, row + 1.2), 0.35, Tone::Black);
        }
        page.line(at(to, row), at(to, PANEL[0] - 6.0), 0.12, Tone::Grey);
        page.text(says, at(BLADE[1] + 3.0, row + 1.0), WORDS, Side::Start);
    }
    page.line(at(STOP[1], 4.0), at(STOP[1], PANEL[0]), 0.12, Tone::Grey);
    flow.small("saw-drawn", &[]);
}
