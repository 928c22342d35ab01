//! Flattening the glued board, and squaring it up: a sheet each, with boxes for what it then measures.

use super::{Flow, Shop};
use crate::words::Told;
use quarterturn_geometry::cut::Cut;
use quarterturn_geometry::thickness::{Stage, Steps};

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("flatten-title");
    let say = |key: &str| shop.words.say(key);
    flow.measured(
        &say("measure-length"),
        &shop.words.with("measure-length-hangs", &[("length", Told::Figure(shop.shown("board.glued length")))]),
    );
    flow.step("flatten-check", &[]);
    for says in shop.levelled_on_the_cnc(|cut| if let Cut::Level(face) = cut { Some(face) } else { None }) {
        flow.step_of(&says);
    }
    flow.settings(&rows(shop));
    let told = [
        ("trim", Told::Figure(shop.shown("glue.slip trims"))),
        ("flatten", Told::Figure(shop.shown("glue.proud flattens"))),
    ];
    flow.small("glue-slips", &told);
    flow.caution("end-grain-planer");
    flow.caution("dust");
    let hangs = if shop.job.handholds.is_empty() { "measure-board-hangs" } else { "measure-board-handholds" };
    flow.measured(
        &say("measure-board"),
        &shop.words.with(
            hangs,
            &[
                ("flattened", Told::Figure(shop.shown(&leaves(shop)))),
                ("thickness", Told::Figure(shop.shown("board.thickness"))),
            ],
        ),
    );
}

/// Squaring it up, and what it then measures, by which the stops of its cuts are set.
pub(super) fn square(shop: &Shop, flow: &mut Flow) {
    let say = |key: &str| shop.words.say(key);
    flow.sheet("square-title");
    flow.step("square-first", &[]);
    if let Some(says) = shop.on_the_cnc(Cut::Outline) {
        flow.step_of(&says);
    }
    flow.settings(&[
        (say("square-glued-length"), shop.figure("board.glued length")),
        (say("square-glued-width"), shop.figure("board.glued width")),
        (say("square-left"), shop.set("finishing.left")),
        (say("square-right"), shop.set("finishing.right")),
        (say("square-front"), shop.set("finishing.front")),
        (say("square-back"), shop.set("finishing.back")),
        (say("square-length"), shop.set("board.length")),
        (say("square-width"), shop.set("board.width")),
    ]);
    flow.caution("trim");
    if !shop.shown("board.narrowest outer").is_empty() {
        flow.say("square-narrowest", &[("narrowest", Told::Figure(shop.shown("board.narrowest outer")))]);
    }
    flow.clocks(&["length", "width"].map(|side| say(&format!("measure-square-{side}"))));
    flow.say("measure-square-hangs", &[]);
}

/// What is taken off before sanding, in the order in which it is, and what that leaves.
fn rows(shop: &Shop) -> Vec<(String, String)> {
    let say = |key: &str| shop.words.say(key);
    let mut rows = vec![(say("flatten-glued"), shop.figure("board.glued thickness"))];
    for (i, step) in (1..).zip(Steps::of(shop.job, shop.outcome).board) {
        let what = match step.stage {
            Stage::FlattenedLower => "flatten-lower",
            Stage::FlattenedUpper => "flatten-upper",
            _ => continue,
        };
        rows.push((say(what), shop.set(&format!("board.thickness.step.{i}.takes"))));
    }
    rows.push((say("flatten-thick"), shop.set(&leaves(shop))));
    rows.push((say("flatten-sanded"), shop.figure("board.thickness")));
    rows
}

/// The number of the thickness that flattening leaves: that of the last step before sanding.
pub(super) fn leaves(shop: &Shop) -> String {
    let steps = Steps::of(shop.job, shop.outcome).board;
    let last = (1..).zip(&steps).filter(|(_, step)| step.stage != Stage::Sanded).last();
    last.map_or_else(|| "board.thickness".to_owned(), |(i, _)| format!("board.thickness.step.{i}.leaves"))
}
