//! Cuts on the faces, then corners and rims: what each is set to.

use super::{Flow, Shop};
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Edge, Face, Sweep, Which};

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
    for (which, sweep) in &sweeps {
        if !matches!(which, Which::Foot(1..)) {
            flow.together(|flow| cut(shop, *which, sweep, flow));
        }
    }
    if sweeps.iter().any(|(which, _)| !matches!(which, Which::Foot(_) | Which::HangingHole)) {
        flow.caution("face-cut");
    }
    if shaped {
        outline(shop, flow);
    }
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

fn cut(shop: &Shop, which: Which, sweep: &Sweep, flow: &mut Flow) {
    let cuts = &shop.job.cuts;
    let face = shop.words.name("face", sweep.face.name());
    flow.heading_of(&title(shop, which));
    let bit = cuts.bit(which).map_or("", |bit| bit.name.as_str());
    flow.step("cut-with", &[("bit", Told::Word(bit)), ("face", Told::Word(&face))]);
    let end = shop.words.name("corner", low_end(shop, which).name());
    let label = |label: &str| shop.words.with(label, &[("end", Told::Word(&end))]);
    let row = |(key, of): (&str, &str)| (label(of), shop.set(&format!("{}.{key}", which.key())));
    let rows: Vec<(String, String)> = ROWS.into_iter().map(row).collect();
    flow.settings(&rows);
    if let Some(rim) = sweep.profile.rim {
        let size = format!("{}.rim", which.key());
        let easing = shop.words.name("easing", rim.name());
        flow.step("cut-rim", &[("easing", Told::Word(&easing)), ("size", Told::Set(shop.shown(&size)))]);
    }
    if let Some(says) = shop.on_the_cnc(Cut::Face(which)) {
        flow.step_of(&says);
    }
}

/// Corners and rims, last of all: handholds are cut against square corners.
fn outline(shop: &Shop, flow: &mut Flow) {
    let cuts = &shop.job.cuts;
    flow.heading("outline-title");
    if !shop.job.handholds.is_empty() {
        flow.say("outline-after", &[]);
    }
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
    if cuts.corner_radius.is_some() {
        flow.step("outline-do-corners", &[]);
    }
    if cuts.upper_rim.is_some() || cuts.lower_rim.is_some() {
        flow.step("outline-do-rims", &[]);
    }
    flow.settings(&rows);
    flow.caution("corner-breaks");
}

/// Numbers of a cut, and what they are called on paper.
const ROWS: [(&str, &str); 19] = [
    ("bit diameter", "cut-bit-diameter"),
    ("depth", "cut-depth"),
    ("width", "cut-width"),
    ("setback", "cut-setback"),
    ("fence", "cut-fence"),
    ("corner radius", "cut-corner-radius"),
    ("along", "cut-along"),
    ("travel", "cut-travel"),
    ("rise", "cut-rise"),
    ("arc", "cut-arc"),
    ("pivot out", "cut-pivot-out"),
    ("pivot along", "cut-pivot-along"),
    ("setback left", "cut-setback-left"),
    ("setback right", "cut-setback-right"),
    ("setback front", "cut-setback-front"),
    ("setback back", "cut-setback-back"),
    ("from end", "cut-from-end"),
    ("from side", "cut-from-side"),
    ("from edge", "cut-from-edge"),
];
