//! The two glue-ups, each on a page of its own to hang on the wall, with clock times to fill in.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::job::FromPanel;

/// Words that are read from two steps away.
fn wall(flow: &mut Flow, key: &str, told: &[(&str, Told)]) {
    let text = flow.words.with(key, told);
    flow.step_in(&text, Style::of(13.5));
}

pub(super) fn panel(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let name = &from.panel.name;
    flow.sheet_of(shop.words.with("glue-first-title", &[("panel", Told::Word(name))]));
    let lines = from.panel.blanks.len().saturating_sub(1);
    flow.say("glue-lines", &[("count", Told::Count(lines))]);
    wall(flow, "glue-dry", &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-clamp", &[]);
    flow.caution("glue");
    clock(flow);
    wall(flow, "glue-scrape", &[]);
    flow.sheet_of(shop.words.with("glue-after", &[("panel", Told::Word(name))]));
    flow.step("glue-flatten-panel", &[]);
    flow.caution("planer");
    let key = |what: &str| format!("panel.{name}.{what}");
    let rows = [
        ("glue-trued-first", "trued first"),
        ("glue-trued-last", "trued last"),
        ("glue-planed-lower", "planed lower"),
        ("glue-planed-upper", "planed upper"),
        ("glue-panel-thick", "thickness"),
        ("glue-panel-wide", "width"),
    ];
    flow.settings(&rows.map(|(label, what)| (shop.words.say(label), shop.set(&key(what)))));
    let strips = usize::try_from(from.cut).unwrap_or(0);
    flow.measured(
        &shop.words.say("measure-panel"),
        &shop.words.with("measure-panel-hangs", &[("count", Told::Count(strips))]),
    );
}

pub(super) fn board(shop: &Shop, flow: &mut Flow) {
    flow.sheet("glue-second-title");
    let lines = shop.board.strips().len().saturating_sub(1);
    flow.say("glue-lines", &[("count", Told::Count(lines))]);
    flow.say("glue-side-grain", &[]);
    wall(flow, "glue-rail", &[]);
    wall(flow, "glue-dry-strips", &[]);
    wall(flow, "glue-goes", &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-lay", &[]);
    wall(flow, "glue-clamp", &[]);
    flow.caution("glue");
    clock(flow);
    flow.measured(
        &shop.words.say("measure-length"),
        &shop.words.with("measure-length-hangs", &[("length", Told::Figure(shop.shown("board.glued length")))]),
    );
}

fn clock(flow: &mut Flow) {
    for key in ["clock-start", "clock-clamped", "clock-off", "clock-plane"] {
        let text = flow.words.say(key);
        flow.blank(&text);
    }
}
