//! The two glue-ups, each on a page of its own to hang on the wall, with clock times to fill in.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::glue::{GlueUp, Stage};
use quarterturn_geometry::job::FromPanel;

/// Words that are read from two steps away.
fn wall(flow: &mut Flow, key: &str, told: &[(&str, Told)]) {
    let text = flow.words.with(key, told);
    flow.step_in(&text, Style::of(13.5));
}

pub(super) fn panel(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let name = &from.panel.name;
    flow.sheet_of(shop.words.with("glue-first-title", &[("panel", Told::Word(name))]));
    let glue_up = GlueUp::of_panel(&from.panel, &shop.job.gluing);
    let glue = format!("panel.{name}.glue");
    at_hand(shop, &glue_up, &glue, flow);
    wall(flow, "glue-dry", &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-clamp", &[]);
    goes(shop, &glue_up, &glue, "goes-blanks", flow);
    flow.caution("glue");
    clock(shop, &glue, flow);
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
    let laid = shop.outcome.places.iter().filter(|place| shop.outcome.panels[place.panel].panel.name == *name);
    let strips = laid.count();
    let hangs = if shop.outcome.panels.len() > 1 { "measure-panel-share" } else { "measure-panel-hangs" };
    flow.measured(&shop.words.say("measure-panel"), &shop.words.with(hangs, &[("count", Told::Count(strips))]));
}

pub(super) fn board(shop: &Shop, flow: &mut Flow) {
    flow.sheet("glue-second-title");
    let glue_up = GlueUp::of_board(shop.board, &shop.job.gluing);
    at_hand(shop, &glue_up, "board.glue", flow);
    flow.small("glue-side-grain", &[]);
    wall(flow, "glue-rail", &[]);
    wall(flow, "glue-dry-strips", &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-lay", &[]);
    wall(flow, "glue-clamp", &[]);
    goes(shop, &glue_up, "board.glue", "goes-strips", flow);
    flow.caution("glue");
    clock(shop, "board.glue", flow);
}

/// What must be at hand before the bottle is opened.
fn at_hand(shop: &Shop, glue_up: &GlueUp, start: &str, flow: &mut Flow) {
    let shown = |name: &str| shop.shown(&format!("{start}.{name}"));
    let told = [
        ("count", Told::Count(glue_up.joints.len())),
        ("area", Told::Figure(shown("area"))),
        ("largest", Told::Figure(shown("largest joint"))),
    ];
    flow.say(if glue_up.clamps.is_some() { "glue-lines-area" } else { "glue-lines" }, &told);
    let rows = [
        ("glue-quantity", "spread"),
        ("glue-clamps", "clamps"),
        ("glue-clamp-spacing", "clamp spacing"),
        ("glue-force", "force"),
    ];
    flow.settings(&rows.map(|(label, name)| (shop.words.say(label), shop.set(&format!("{start}.{name}")))));
}

/// The goes, each with its members and two clock times to fill in.
fn goes(shop: &Shop, glue_up: &GlueUp, start: &str, members: &str, flow: &mut Flow) {
    if glue_up.stages.len() > 1 {
        wall(flow, "glue-goes", &[("count", Told::Count(glue_up.stages.len()))]);
    }
    let head = ["goes-go", members, "goes-joints", "goes-takes", "goes-start", "goes-clamped"];
    let head = head.map(|key| shop.words.say(key));
    let row = |(i, stage): (usize, &Stage)| {
        let of = |name: &str| shop.figure(&format!("{start}.go.{i}.{name}"));
        let blank = || "______".to_owned();
        vec![i.to_string(), together(stage), of("joints"), of("takes"), blank(), blank()]
    };
    let rows: Vec<Vec<String>> = (1..).zip(&glue_up.stages).map(row).collect();
    if !rows.is_empty() {
        flow.table(&head, &rows, Style::of(14.0));
    }
}

/// What is glued together in a go: members by their places, or parts that were glued before.
fn together(stage: &Stage) -> String {
    let run = |[from, to]: &[usize; 2]| {
        if from == to { (from + 1).to_string() } else { format!("{}–{}", from + 1, to + 1) }
    };
    match (stage.runs.first(), stage.runs.last()) {
        (Some([first, _]), Some([_, last])) if stage.runs.iter().all(|[from, to]| from == to) => run(&[*first, *last]),
        _ => stage.runs.iter().map(run).collect::<Vec<_>>().join(" + "),
    }
}

fn clock(shop: &Shop, start: &str, flow: &mut Flow) {
    let off = [("clamped", Told::Figure(shop.shown(&format!("{start}.clamped"))))];
    let plane = [("rest", Told::Figure(shop.shown("glue.rest")))];
    for text in [shop.words.with("clock-off", &off), shop.words.with("clock-plane", &plane)] {
        flow.blank(&text);
    }
}
