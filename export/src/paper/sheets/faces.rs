//! Cuts on the faces, then corners and rims: what each is set to.

use super::handhold::LEAST_WALL;
use super::{Flow, Shop, face_drawn};
use crate::rs274;
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Edge, Face, Sweep, Which};
use quarterturn_geometry::job::Holds;
use quarterturn_geometry::path::{Cutting, Frame, together};

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    let cuts = &shop.job.cuts;
    let sweeps = cuts.sweeps(&shop.board.finished());
    let shaped = cuts.corner_radius.is_some() || cuts.upper_rim.is_some() || cuts.lower_rim.is_some();
    if sweeps.is_empty() && !shaped {
        return;
    }
    flow.sheet("faces-title");
    if sweeps.iter().any(|(_, sweep)| sweep.face == Face::Lower) {
        flow.say("faces-turned", &[]);
    }
    if !sweeps.is_empty() {
        flow.say("faces-drawn", &[]);
        flow.say("faces-measures", &[]);
    }
    if sweeps.iter().any(|(which, _)| !drilled(*which)) {
        flow.caution("face-cut");
    }
    for (which, sweep) in &sweeps {
        if !matches!(which, Which::Foot(1..)) {
            flow.together(|flow| set(shop, *which, sweep, flow));
            afterwards(shop, *which, sweep, flow);
        }
    }
    if shaped {
        outline(shop, flow);
    }
}

/// Whether a cut is a hole.
const fn drilled(which: Which) -> bool {
    matches!(which, Which::Foot(_) | Which::HangingHole)
}

/// What a cut is called.
pub(super) fn title(shop: &Shop, which: Which) -> String {
    let cuts = &shop.job.cuts;
    let edge = match which {
        Which::Spout(i) => cuts.spouts.get(i).map(|s| s.edge.name()),
        Which::FingerRecess(i) => cuts.finger_recesses.get(i).map(|r| r.edge.name()),
        Which::HangingHole => cuts.hanging_hole.as_ref().map(|h| h.edge.name()),
        Which::Groove(_) | Which::Foot(_) => None,
    };
    let edge = edge.map_or(String::new(), |edge| shop.words.name("edge", edge));
    let face = match which {
        Which::Groove(i) => cuts.grooves.get(i).map_or("", |groove| groove.face.name()),
        _ => "",
    };
    let face = shop.words.name("face", face);
    let kind = match which {
        Which::Groove(_) => "cut-groove",
        Which::Spout(_) => "cut-spout",
        Which::FingerRecess(_) => "cut-finger-recess",
        Which::Foot(_) => "cut-feet",
        Which::HangingHole => "cut-hanging-hole",
    };
    shop.words.with(kind, &[("face", Told::Word(&face)), ("edge", Told::Word(&edge))])
}

/// The end of its edge that a cut's place along it is measured from.
fn low_end(shop: &Shop, which: Which) -> Edge {
    let cuts = &shop.job.cuts;
    let edge = match which {
        Which::Spout(i) => cuts.spouts.get(i).map(|s| s.edge),
        Which::FingerRecess(i) => cuts.finger_recesses.get(i).map(|r| r.edge),
        Which::HangingHole => cuts.hanging_hole.as_ref().map(|h| h.edge),
        Which::Groove(_) | Which::Foot(_) => None,
    };
    match edge {
        Some(Edge::Left | Edge::Right) => Edge::Front,
        _ => Edge::Left,
    }
}

/// The cut drawn, and what it is set by.
fn set(shop: &Shop, which: Which, sweep: &Sweep, flow: &mut Flow) {
    let cuts = &shop.job.cuts;
    let face = shop.words.name("face", sweep.face.name());
    flow.heading_of(&title(shop, which));
    let bit = cuts.bit(which).map_or("", |bit| bit.name.as_str());
    let end = shop.words.name("corner", low_end(shop, which).name());
    let sanding = shop.job.still_to_sand(shop.board)[usize::from(sweep.face == Face::Lower)] > 0.0;
    let name = |key: &str, label: &str| {
        let label = match key {
            "depth unsanded" if !sanding => "cut-depth",
            "fence" if arched(shop, which) => "cut-fence-ends",
            _ => label,
        };
        shop.words.with(label, &[("end", Told::Word(&end))])
    };
    let key = |key: &str| format!("{}.{key}", which.key());
    let across = Told::Figure(shop.shown(&key("width")));
    let told = [("bit", Told::Word(bit)), ("face", Told::Word(&face)), ("across", across)];
    let at_centre = cuts.bit(which).is_some_and(|bit| bit.cuts_at_centre);
    flow.step(
        if drilled(which) && shop.value(&key("bit diameter")) + 0.01 > shop.value(&key("width")) {
            "cut-drill-plunged"
        } else if drilled(which) {
            "cut-drill"
        } else if at_centre {
            "cut-with-centre"
        } else {
            "cut-with"
        },
        &told,
    );
    if !drilled(which) {
        bored(shop, which, flow);
    }
    let cutting = Cutting::all(&[], cuts, &shop.board.finished()).into_iter().find(|c| c.cut == Cut::Face(which));
    if let Some(cutting) = cutting {
        let mut says: Vec<String> = hints(shop, which, sweep).into_iter().map(|key| shop.words.say(key)).collect();
        says.extend(frame(shop, which, &cutting));
        face_drawn::beside(shop, &cutting, &says.join(" "), flow);
    }
    let rows: Vec<_> = ROWS.into_iter().map(|(of, label)| (name(of, label), shop.set(&key(of)))).collect();
    flow.settings(&rows);
    flow.settings(&passes(shop, which));
    let mut known: Vec<_> = KNOWN.into_iter().map(|(of, label)| (name(of, label), shop.figure(&key(of)))).collect();
    if sanding && !sweep.through {
        known.insert(0, (name("", "cut-depth-sanded"), shop.figure(&key("depth"))));
    }
    flow.pairs(&known);
}

/// Its rim, and the program that makes it instead.
fn afterwards(shop: &Shop, which: Which, sweep: &Sweep, flow: &mut Flow) {
    if let Some(rim) = sweep.profile.rim {
        let easing = shop.words.name("easing", rim.name());
        let bears = sweep.profile.upright() >= LEAST_WALL;
        let told = [("easing", Told::Word(&easing)), ("size", Told::Set(shop.shown(&format!("{}.rim", which.key()))))];
        flow.step(if bears { "cut-rim" } else { "cut-rim-by-hand" }, &told);
    }
    if let Some(says) = shop.on_the_cnc(Cut::Face(which)) {
        flow.step_of(&says);
    }
}

/// Whether the bit's centre runs on an arc.
fn arched(shop: &Shop, which: Which) -> bool {
    matches!(which, Which::FingerRecess(i) if shop.job.cuts.finger_recesses.get(i).is_some_and(|r| r.rise.is_some()))
}

/// Which way it is fed, and what holds the router and the wood.
fn hints(shop: &Shop, which: Which, sweep: &Sweep) -> Vec<&'static str> {
    match which {
        Which::Groove(_) => vec!["cut-feed-groove"],
        Which::Spout(_) => vec!["cut-feed-spout"],
        Which::FingerRecess(i) => {
            let recess = shop.job.cuts.finger_recesses.get(i);
            let open = recess.is_some_and(|recess| recess.in_from_edge.mm() < sweep.profile.bit_at_surface());
            match (arched(shop, which), open) {
                (false, true) => vec!["cut-feed-open"],
                (false, false) => vec!["cut-feed-closed"],
                (true, true) => vec!["cut-arched", "cut-arched-open"],
                (true, false) => vec!["cut-arched"],
            }
        }
        Which::Foot(_) => Vec::new(),
        Which::HangingHole => vec!["cut-through"],
    }
}

/// The depths that a plunge router is set to one after another, the last of them the depth itself.
fn passes(shop: &Shop, which: Which) -> Vec<(String, String)> {
    let shown = (1..).map(|pass| shop.set(&format!("{}.plunge {pass}", which.key())));
    let depths: Vec<String> = shown.take_while(|figure| !figure.is_empty()).collect();
    if depths.len() < 2 {
        return Vec::new();
    }
    vec![(shop.words.with("cut-passes", &[("count", Told::Count(depths.len()))]), depths.join("; "))]
}

/// The frame's opening, what carries it, and the file that draws it.
fn frame(shop: &Shop, which: Which, cutting: &Cutting) -> Option<String> {
    let frame = Frame::of(cutting, &shop.job.plunge_router)?;
    let key = |name: &str| format!("{}.frame.{name}", which.key());
    let all = together(Cutting::all(&shop.job.handholds, &shop.job.cuts, &shop.board.finished()), Holds::EachCut);
    let names = rs274::file_names(&all, Holds::EachCut);
    let file = all.iter().flatten().zip(&names).find(|(cutting, _)| cutting.cut == Cut::Face(which));
    let file = file.map_or_else(String::new, |(_, name)| format!("frame-{}.svg", name.trim_end_matches(".ngc")));
    let told = [
        ("long", Told::Figure(shop.shown(&key("length")))),
        ("wide", Told::Figure(shop.shown(&key("width")))),
        ("corner", Told::Figure(shop.shown(&key("corner")))),
        ("offset", Told::Figure(shop.shown(&key("offset")))),
        ("file", Told::Word(&file)),
    ];
    let [long, wide, _] = cutting.stock;
    let outside = frame.low.x < 0.0 || frame.low.y < 0.0 || frame.high.x > long || frame.high.y > wide;
    let across = shop.written(shop.job.plunge_router.guide_bush.unwrap_or(shop.job.plunge_router.base));
    let rides = [("across", Told::Figure(across.as_str()))];
    let rides = shop.words.with(if frame.by_bush { "cut-frame-bush" } else { "cut-frame-base" }, &rides);
    let opening = shop.words.with("cut-frame", &[&told[..], &[("rides", Told::Word(&rides))]].concat());
    let lies = [("from", Told::Figure(shop.shown(&key("x"))))];
    let carried = shop.words.with(if outside { "cut-frame-outside" } else { "cut-frame-inside" }, &lies);
    Some(format!("{opening} {carried}"))
}

/// A bit that doesn't cut at its centre goes into a hole, or along a ramp.
fn bored(shop: &Shop, which: Which, flow: &mut Flow) {
    let key = |name: &str| format!("{}.{name}", which.key());
    let across = shop.shown(&key("starting hole"));
    if across.is_empty() {
        return;
    }
    let told = [("across", Told::Figure(across)), ("depth", Told::Figure(shop.shown(&key("starting hole depth"))))];
    flow.step("cut-bore", &told);
}

/// Corners and rims, last of all: handholds are cut against square corners.
fn outline(shop: &Shop, flow: &mut Flow) {
    let cuts = &shop.job.cuts;
    let on_the_cnc = |cut: Cut| shop.given.programs.iter().any(|(other, file)| other.cut == cut && file.is_some());
    flow.together(|flow| {
        flow.heading("outline-title");
        if !shop.job.handholds.is_empty() {
            flow.say("outline-after", &[]);
        }
        if shop.given.programs.iter().any(|(_, program)| program.is_some()) {
            flow.say("outline-after-cnc", &[]);
        }
        if cuts.corner_radius.is_some() && on_the_cnc(Cut::Outline) {
            flow.say("outline-corners-cnc", &[]);
        }
        if cuts.corner_radius.is_some() {
            flow.step("outline-do-corners", &[]);
        }
    });
    let mut rows = Vec::new();
    if cuts.corner_radius.is_some() {
        rows.push((shop.words.say("outline-corners"), shop.set("corners.radius")));
    }
    for (key, rim) in [("upper rim", cuts.upper_rim), ("lower rim", cuts.lower_rim)] {
        if let Some(easing) = rim {
            let easing = shop.words.name("easing", easing.name());
            let label = if key == "upper rim" { "outline-upper" } else { "outline-lower" };
            rows.push((shop.words.with(label, &[("easing", Told::Word(&easing))]), shop.set(key)));
        }
    }
    if cuts.upper_rim.is_some() || cuts.lower_rim.is_some() {
        let sanded = shop.job.still_to_sand(shop.board).into_iter().fold(0.0, f64::max) > 0.0;
        flow.step(if sanded { "outline-do-rims-sanded" } else { "outline-do-rims" }, &[]);
        if !(cuts.spouts.is_empty() && cuts.finger_recesses.is_empty() && shop.job.handholds.is_empty()) {
            flow.say("outline-interrupted", &[]);
        }
    }
    flow.settings(&rows);
    for face in [Face::Upper, Face::Lower].into_iter().filter(|face| on_the_cnc(Cut::Rim(*face))) {
        if let Some(says) = shop.on_the_cnc(Cut::Rim(face)) {
            flow.step_of(&says);
        }
    }
    flow.caution("corner-breaks");
}

/// Numbers that a cut is set by, and what they are called on paper.
const ROWS: [(&str, &str); 19] = [
    ("depth unsanded", "cut-depth-now"),
    ("setback", "cut-setback"),
    ("fence", "cut-fence"),
    ("middle in", "cut-middle-in"),
    ("corner radius", "cut-corner-radius"),
    ("along", "cut-along"),
    ("bit from left", "cut-bit-left"),
    ("bit from right", "cut-bit-right"),
    ("bit from front", "cut-bit-front"),
    ("bit from back", "cut-bit-back"),
    ("travel", "cut-travel"),
    ("arc", "cut-arc"),
    ("pivot out", "cut-pivot-out"),
    ("pivot along", "cut-pivot-along"),
    ("way long", "cut-way-long"),
    ("way wide", "cut-way-wide"),
    ("from end", "cut-from-end"),
    ("from side", "cut-from-side"),
    ("from edge", "cut-from-edge"),
];

/// Numbers that are only to be known, or measured when it is done.
const KNOWN: [(&str, &str); 9] = [
    ("bit diameter", "cut-bit-diameter"),
    ("width", "cut-width"),
    ("reach in", "cut-reach-in"),
    ("reach in middle", "cut-reach-in-middle"),
    ("stands", "cut-stands"),
    ("setback left", "cut-setback-left"),
    ("setback right", "cut-setback-right"),
    ("setback front", "cut-setback-front"),
    ("setback back", "cut-setback-back"),
];
