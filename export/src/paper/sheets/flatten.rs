//! Flattening the glued board, and squaring it up: a sheet each.

use super::{Flow, Shop};
use crate::words::Told;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("flatten-title");
    let say = |key: &str| shop.words.say(key);
    flow.measured(
        &say("measure-length"),
        &shop.words.with("measure-length-hangs", &[("length", Told::Figure(shop.shown("board.glued length")))]),
    );
    flow.step("flatten-check", &[]);
    flow.settings(&[
        (say("flatten-glued"), shop.figure("board.glued thickness")),
        (say("flatten-upper"), shop.set("finishing.upper")),
        (say("flatten-lower"), shop.set("finishing.lower")),
        (say("flatten-thick"), shop.set("board.thickness")),
    ]);
    let told = [
        ("trim", Told::Figure(shop.shown("glue.slip trims"))),
        ("flatten", Told::Figure(shop.shown("glue.proud flattens"))),
    ];
    flow.small("glue-slips", &told);
    flow.caution("end-grain-planer");
    flow.caution("dust");
    flow.measured(
        &say("measure-board"),
        &shop.words.with("measure-board-hangs", &[("thickness", Told::Figure(shop.shown("board.thickness")))]),
    );
    flow.sheet("square-title");
    flow.step("square-first", &[]);
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
}
