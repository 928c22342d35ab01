//! The CNC's set-ups, a block for each program: how the stock lies, the datum and how it is found again, clamps, bits in
//! order, speeds, the depth of each pass, time and cautions; and a drawing of the side that is up.
//!
//! Figures are numbers of the report, as shown; must not know how a program moves.

use super::{Flow, Shop, on_edge, side_up};
use crate::clamps;
use crate::words::Told;
use quarterturn_geometry::cut::{Bit, Cut, Easing, Face};
use quarterturn_geometry::path::{Cutting, Up, bits};

/// A program's file, and what it cuts.
struct Program<'a> {
    file: &'a str,
    cuttings: Vec<&'a Cutting>,
}

/// How many programs there are.
pub(super) fn count(shop: &Shop) -> usize {
    programs(shop).len()
}

/// The sheet of a program, by its place.
pub(super) fn sheet(shop: &Shop, place: usize, flow: &mut Flow) {
    let programs = programs(shop);
    let Some(program) = programs.get(place) else { return };
    flow.sheet_of(shop.words.with("cnc-sheet-title", &[("file", Told::Word(program.file))]));
    if place == 0 {
        flow.say("cnc-sheet-says", &[]);
        flow.caution("cnc-dust");
    }
    one(shop, program, flow);
}

/// Every program once, in the order of the shop.
fn programs<'a>(shop: &'a Shop) -> Vec<Program<'a>> {
    let mut all: Vec<Program<'a>> = Vec::new();
    let given = shop.given.programs.iter().filter(|_| shop.job.cnc.is_some());
    for (cutting, file) in given {
        let Some(file) = file else { continue };
        match all.iter_mut().find(|program| program.file == file) {
            Some(program) => program.cuttings.push(cutting),
            None => all.push(Program { file, cuttings: vec![cutting] }),
        }
    }
    all
}

fn one(shop: &Shop, program: &Program, flow: &mut Flow) {
    let Some(first) = program.cuttings.first().copied() else { return };
    let names: Vec<String> = program.cuttings.iter().map(|cutting| name(shop, cutting.cut)).collect();
    flow.say("cnc-heading", &[("cuts", Told::Word(&names.join(", ")))]);
    let on_the_finished = matches!(first.cut, Cut::Handhold(_) | Cut::Face(_) | Cut::Rim(_));
    if on_the_finished && shop.job.still_to_sand(shop.board).into_iter().any(|left| left > 0.0) {
        flow.say("cnc-sanded", &[]);
    }
    let n = |cutting: &Cutting, name: &str| shop.shown(&number(cutting, name));
    flow.pairs(&[
        (shop.words.say("cnc-stock-x"), shop.figure(&number(first, "stock x"))),
        (shop.words.say("cnc-stock-y"), shop.figure(&number(first, "stock y"))),
        (shop.words.say("cnc-stock-z"), shop.figure(&number(first, "stock z"))),
        (shop.words.say("cnc-safe"), shop.figure(&number(first, "safe height"))),
    ]);
    flow.step_of(&lies(shop, first));
    flow.step_of(&datum(shop, first));
    let told = [("frame", n(first, "frame")), ("free", n(first, "reaches out"))];
    flow.step(held(first), &told.map(|(name, shown)| (name, Told::Figure(shown))));
    if let Some(places) = clamps::places(shop.job, first.up) {
        let told = [("unit", Told::Word(shop.job.rule.unit_name())), ("places", Told::Word(&places))];
        flow.step("cnc-clamps", &told);
    }
    side_up::on_the_cnc(&program.cuttings, shop, flow);
    on_edge::view(first, depths(shop, first).last().map_or("", |(_, shown)| shown), shop, flow);
    let owned: Vec<Cutting> = program.cuttings.iter().map(|cutting| (*cutting).clone()).collect();
    for (place, bit) in bits(&owned).into_iter().enumerate() {
        let with = program.cuttings.iter().copied().filter(|cutting| cutting.bit == *bit);
        let deepest = with.max_by(|a, b| a.profile.depth.total_cmp(&b.profile.depth)).unwrap_or(first);
        put_in(shop, place, bit, deepest, flow);
    }
    for cutting in &program.cuttings {
        let told = [
            ("speed", Told::Figure(n(cutting, "speed"))),
            ("rim", Told::Figure(n(cutting, "rim speed"))),
            ("feed", Told::Figure(n(cutting, "feed"))),
            ("ramp", Told::Figure(n(cutting, "ramp feed"))),
            ("chip", Told::Figure(n(cutting, "chip load"))),
            ("pass", Told::Figure(n(cutting, "step-down"))),
            ("time", Told::Figure(n(cutting, "time"))),
        ];
        flow.together(|flow| {
            if program.cuttings.len() > 1 {
                flow.say("cnc-part", &[("cut", Told::Word(&name(shop, cutting.cut)))]);
            }
            flow.say("cnc-run", &told);
        });
        let wall = n(cutting, "wall pass");
        if !wall.is_empty() {
            flow.small("cnc-wall-pass", &[("takes", Told::Figure(wall))]);
        }
        side_up::passes(shop, &depths(shop, cutting), flow);
    }
    if let Some(caution) = caution(first) {
        flow.caution(caution);
    }
    flow.caution("cnc");
}

fn number(cutting: &Cutting, name: &str) -> String {
    format!("{}.program.{name}", cutting.cut.key())
}

/// How deep it is after each pass: as a share of the deepest, and as shown.
fn depths<'a>(shop: &'a Shop, cutting: &Cutting) -> Vec<(f64, &'a str)> {
    let key = |pass: usize| number(cutting, &format!("pass {pass}"));
    let passes: Vec<usize> = (1..).take_while(|pass| !shop.shown(&key(*pass)).is_empty()).collect();
    let deepest = passes.last().map_or(1.0, |pass| shop.value(&key(*pass)));
    passes.iter().map(|pass| (shop.value(&key(*pass)) / deepest, shop.shown(&key(*pass)))).collect()
}

/// What a cut is called.
fn name(shop: &Shop, cut: Cut) -> String {
    let face = |face: Face| shop.words.name("face", face.name());
    match cut {
        Cut::Handhold(i) => {
            let edge = shop.job.handholds.get(i).map_or("", |hold| hold.edge.name());
            shop.words.with("handhold-title", &[("edge", Told::Word(&shop.words.name("edge", edge)))])
        }
        Cut::Face(which) => super::faces::title(shop, which),
        Cut::Level(up) => shop.words.with("cnc-level", &[("face", Told::Word(&face(up)))]),
        Cut::Panel(place, up) => {
            let panel = panel(shop, place);
            shop.words.with("cnc-panel", &[("panel", Told::Word(panel)), ("face", Told::Word(&face(up)))])
        }
        Cut::Outline => shop.words.say("cnc-outline"),
        Cut::BetweenTabs => shop.words.say("cnc-between"),
        Cut::Rim(up) => {
            let cuts = &shop.job.cuts;
            let rim = if up == Face::Upper { cuts.upper_rim } else { cuts.lower_rim };
            let easing = shop.words.name("easing", rim.map_or("", Easing::name));
            shop.words.with("cnc-rim", &[("easing", Told::Word(&easing)), ("face", Told::Word(&face(up)))])
        }
    }
}

fn panel<'a>(shop: &'a Shop, place: usize) -> &'a str {
    shop.board.panels().get(place).map_or("", |panel| panel.name.as_str())
}

fn lies(shop: &Shop, cutting: &Cutting) -> String {
    let words = shop.words;
    match cutting.up {
        Up::Edge(edge) => words.with("cnc-lies-edge", &[("edge", Told::Word(&words.name("edge", edge.name())))]),
        Up::Face(face) => {
            let said = words.name("face", face.name());
            if let Cut::Panel(place, _) = cutting.cut {
                let key = if face == Face::Upper { "cnc-lies-panel-upper" } else { "cnc-lies-panel-lower" };
                return words.with(key, &[("panel", Told::Word(panel(shop, place)))]);
            }
            let near = words.name("edge", if face == Face::Upper { "front" } else { "back" });
            words.with("cnc-lies-flat", &[("face", Told::Word(&said)), ("near", Told::Word(&near))])
        }
    }
}

fn datum(shop: &Shop, cutting: &Cutting) -> String {
    let words = shop.words;
    let mut says = match cutting.up {
        Up::Edge(edge) => {
            words.with("cnc-datum-edge", &[("end", Told::Word(&words.name("corner", edge.ends()[0].name())))])
        }
        Up::Face(_) if matches!(cutting.cut, Cut::Panel(..)) => words.say("cnc-datum-panel"),
        Up::Face(_) => words.say("cnc-datum-flat"),
    };
    let more = [
        (cutting.cut.levels(), "cnc-datum-highest"),
        (cutting.cut.is_of_the_whole() && !matches!(cutting.cut, Cut::Panel(..)), "cnc-datum-as-glued"),
        (matches!(cutting.up, Up::Edge(_)), "cnc-datum-again"),
    ];
    for (_, key) in more.iter().filter(|(holds, _)| *holds) {
        says = format!("{says} {}", words.say(key));
    }
    if matches!(cutting.up, Up::Face(_)) {
        let pin = |name: &str| Told::Figure(shop.shown(&number(cutting, name)));
        let told = [("first", pin("pin x 1")), ("second", pin("pin x 2")), ("end", pin("pin y"))];
        says = format!("{says} {}", words.with("cnc-datum-pins", &told));
    }
    says
}

/// How it is clamped.
fn held(cutting: &Cutting) -> &'static str {
    match cutting.cut {
        Cut::Handhold(_) => "cnc-held-edge",
        Cut::Level(_) | Cut::Panel(..) => "cnc-held-level",
        Cut::Outline | Cut::BetweenTabs if cutting.frame_can_be_clamped() => "cnc-held-outline",
        Cut::Outline | Cut::BetweenTabs => "cnc-held-outline-below",
        Cut::Rim(_) => "cnc-held-rim",
        Cut::Face(_) if cutting.opens().contains(&true) => "cnc-held-face-open",
        Cut::Face(_) => "cnc-held-face",
    }
}

fn caution(cutting: &Cutting) -> Option<&'static str> {
    match cutting.cut {
        Cut::Outline | Cut::BetweenTabs => Some("cnc-outline"),
        Cut::Rim(_) => Some("corner-breaks"),
        Cut::Level(_) | Cut::Panel(..) => Some("cnc-level"),
        Cut::Handhold(_) => Some("cnc-edge"),
        Cut::Face(_) => None,
    }
}

/// One bit, in its turn.
fn put_in(shop: &Shop, place: usize, bit: &Bit, cutting: &Cutting, flow: &mut Flow) {
    let words = shop.words;
    let n = |name: &str| shop.shown(&number(cutting, name));
    let kind = match bit.eases {
        Some(Easing::RoundOver(_)) => "cnc-bit-round-over",
        Some(Easing::Chamfer(_)) => "cnc-bit-chamfer",
        None if n("bit corner").is_empty() => "cnc-bit-straight",
        None => "cnc-bit-corner",
    };
    let told = [
        ("size", Told::Figure(if bit.eases.is_some() { n("bit eases") } else { n("bit corner") })),
        ("end", Told::Figure(n("bit end"))),
    ];
    let kind = words.with(kind, &told);
    let across = shop.shown(&format!("{}.bit diameter", cutting.cut.key()));
    let told = [
        ("place", Told::Count(place + 1)),
        ("bit", Told::Word(&bit.name)),
        ("across", Told::Figure(across)),
        ("reach", Told::Figure(n("flutes reach"))),
    ];
    let out = match n("stick-out set") {
        "" => words.with("cnc-bit-out", &[("least", Told::Set(n("stick-out")))]),
        set => words.with("cnc-bit-out-set", &[("out", Told::Set(set)), ("least", Told::Figure(n("stick-out")))]),
    };
    let change = if place > 0 { format!("{} ", words.say("cnc-bit-change")) } else { String::new() };
    flow.step_of(&format!("{change}{} {kind} {out}", words.with("cnc-bit", &told)));
}
