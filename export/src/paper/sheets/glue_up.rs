//! The two glue-ups, each on a page of its own to hang on the wall, with clock times to fill in.

use super::{Flow, Shop};
use crate::words::Told;
use quarterturn_geometry::cut::Cut;
use quarterturn_geometry::glue::{GlueUp, Stage};
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::stock::{HalfTurn, LaidBlank, Panel};

/// A step in words that are read from two steps away.
fn wall(flow: &mut Flow, key: &str, told: &[(&str, Told)]) {
    let text = flow.words.with(key, told);
    flow.step_in(&text, flow.wall());
}

/// The same of what is no step.
fn wall_says(flow: &mut Flow, text: &str) {
    flow.paragraph(text, flow.wall(), 0.0);
}

pub(super) fn panel(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let name = &from.panel.name;
    flow.sheet_of(shop.words.with("glue-first-title", &[("panel", Told::Word(name))]));
    let glue_up = GlueUp::of_panel(&from.panel, &shop.job.gluing);
    let glue = format!("panel.{name}.glue");
    at_hand(shop, &glue_up, &glue, flow);
    too_wide(shop, from, flow);
    goes(shop, &glue_up, &glue, ["goes-blanks", "clock-plane"], flow);
    let slipped = from.panel.blanks.iter().any(|laid| laid.start.is_positive());
    wall(flow, if slipped { "glue-dry-slipped" } else { "glue-dry" }, &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-clamp", &[]);
    wall(flow, "glue-scrape", &[]);
    flow.caution("glue");
}

/// A panel that doesn't go through the planer, said before it is glued.
fn too_wide(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let planer = &shop.job.machines.planer;
    if from.panel.width() <= planer.widest {
        return;
    }
    let widest = format!("{} {}", shop.job.rule.write(planer.widest), shop.job.rule.unit_name());
    let wide = shop.shown(&format!("panel.{}.width", from.panel.name));
    wall(flow, "glue-too-wide", &[("wide", Told::Figure(wide)), ("widest", Told::Figure(&widest))]);
    flow.small("no-source", &[]);
}

/// What is done to the panel once the glue has cured.
pub(super) fn cured(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let name = &from.panel.name;
    flow.sheet_of(shop.words.with("glue-after", &[("panel", Told::Word(name))]));
    true_up(shop, from, flow);
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
    let several = shop.outcome.panels.len() > 1;
    let told = [
        ("thick", Told::Figure(shop.shown(&key("thickness")))),
        ("long", Told::Figure(shop.shown(&if several { key("share of length") } else { "board.glued length".into() }))),
        ("more", Told::Figure(shop.shown(&key("length a mark")))),
        ("mark", Told::Figure(shop.shown("rule.mark"))),
    ];
    let hangs = if several { "measure-panel-share" } else { "measure-panel-hangs" };
    flow.measured(&shop.words.say("measure-panel"), &shop.words.with(hangs, &told));
}

/// Faces and edges of the cured panel, by what its machines take.
fn true_up(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let machines = &shop.job.machines;
    let (trued, glued) = (from.panel.width(), from.panel.width() + from.panel.trued[0] + from.panel.trued[1]);
    let edges_first = glued >= machines.planer.widest && trued <= machines.planer.widest;
    if edges_first {
        flow.step("glue-edges-first", &[]);
        edges(flow);
    }
    let width = if edges_first { trued } else { glued };
    if width > machines.jointer.widest {
        let widest = shop.written(machines.jointer.widest);
        flow.step("glue-flatten-wide", &[("widest", Told::Figure(&widest))]);
    } else {
        flow.guarded("glue-flatten-face", &[], "jointer");
    }
    if width > machines.planer.widest {
        flow.step("glue-plane-wide", &[]);
        flow.small("thickness-other-way", &[]);
    } else {
        flow.guarded("glue-plane-other", &[], "planer");
        if grain_both_ways(&from.panel) {
            flow.say("glue-against-grain", &[]);
        }
    }
    let place = shop.outcome.panels.iter().position(|panel| panel.panel.name == from.panel.name);
    let of_it = |cut| match cut {
        Cut::Panel(i, face) if Some(i) == place => Some(face),
        _ => None,
    };
    for says in shop.levelled_on_the_cnc(of_it) {
        flow.step_of(&says);
    }
    if edges_first {
        flow.step("glue-edges-check", &[]);
    } else {
        edges(flow);
    }
}

/// Whether the grain of some blanks rises to the panel's near end and of others to its far end, alike as they were picked:
/// rolled over or end for end it rises the other way on the face that is up, both at once are as before.
fn grain_both_ways(panel: &Panel) -> bool {
    let reversed = |laid: &LaidBlank| matches!(laid.turn.half, HalfTurn::RolledOver | HalfTurn::EndForEnd);
    panel.blanks.iter().any(reversed) && !panel.blanks.iter().all(reversed)
}

/// One long edge is jointed, the other ripped parallel to it.
fn edges(flow: &mut Flow) {
    flow.guarded("glue-joint-edge", &[], "jointer");
    flow.guarded("glue-rip-edge", &[], "kickback");
}

pub(super) fn board(shop: &Shop, flow: &mut Flow) {
    flow.sheet("glue-second-title");
    let glue_up = GlueUp::of_board(shop.board, &shop.job.gluing);
    at_hand(shop, &glue_up, "board.glue", flow);
    goes(shop, &glue_up, "board.glue", ["goes-strips", "clock-flatten"], flow);
    wall(flow, "glue-rail", &[]);
    let told = [
        ("pairs", Told::Figure(shop.shown("board.glue.cauls"))),
        ("clamps", Told::Figure(shop.shown("board.glue.caul clamps"))),
        ("long", Told::Figure(shop.shown("board.glued length"))),
    ];
    wall(flow, "glue-cauls", &told);
    if shop.outcome.places.iter().any(|place| place.stagger.is_positive()) {
        wall(flow, "glue-rail-slid", &[]);
    }
    wall(flow, "glue-dry-strips", &[]);
    wall(flow, "glue-spread", &[]);
    wall(flow, "glue-lay", &[]);
    wall(flow, "glue-clamp", &[]);
    wall(flow, "glue-scrape", &[]);
    flow.caution("glue");
    flow.small("glue-side-grain", &[]);
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
        ("glue-force-each", "force a clamp"),
    ];
    let mut rows = rows.map(|(label, name)| (shop.words.say(label), shop.set(&format!("{start}.{name}")))).to_vec();
    if !glue_up.stages.is_empty() {
        rows.push((shop.words.say("glue-working"), shop.set("glue.working")));
    }
    flow.settings(&rows);
}

/// The goes, each with its members, what it takes, and its own clock times to fill in: the last says what comes then.
fn goes(shop: &Shop, glue_up: &GlueUp, start: &str, [members, then]: [&str; 2], flow: &mut Flow) {
    let several = glue_up.stages.len() > 1;
    if several {
        let told =
            [("count", Told::Count(glue_up.stages.len())), ("working", Told::Figure(shop.shown("glue.working")))];
        wall_says(flow, &shop.words.with("glue-goes", &told));
    }
    let last = glue_up.stages.len();
    for (i, stage) in (1..).zip(&glue_up.stages) {
        let shown = |name: &str| shop.shown(&format!("{start}.go.{i}.{name}"));
        let members = shop.words.with(members, &[("which", Told::Word(&together(stage)))]);
        let told = [
            ("go", Told::Count(i)),
            ("members", Told::Word(&members)),
            ("count", Told::Count(stage.joints())),
            ("takes", Told::Figure(shown("takes"))),
            ("glue", Told::Figure(shown("spread"))),
        ];
        let says = shop.words.with(if several { "go-of-several" } else { "go-alone" }, &told);
        let with = |key: &str, shown: &str| shop.words.with(key, &[("after", Told::Figure(shown))]);
        let mut labels = vec![
            shop.words.say("clock-glue-on"),
            with("clock-clamped", shop.shown("glue.working")),
            with("clock-off", shop.shown(&format!("{start}.clamped"))),
        ];
        if i == last {
            labels.push(with(then, shop.shown("glue.rest")));
        }
        flow.together(|flow| {
            wall_says(flow, &says);
            flow.clocks(&labels);
        });
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
