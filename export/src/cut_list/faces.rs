//! The cuts on the faces, corners and rims: what the bit is set to for each.

use super::{Paper, Sheet};
use crate::lettering;
use quarterturn_geometry::cut::{Cut, Face, Which};

pub(super) fn cuts(sheet: &Sheet, paper: &mut Paper) {
    let Ok(board) = &sheet.outcome.board else { return };
    let cuts = &sheet.job.cuts;
    let sweeps = cuts.sweeps(&board.finished());
    if !sweeps.is_empty() {
        paper.title("Cuts on the faces");
    }
    for (which, sweep) in &sweeps {
        if matches!(which, Which::Foot(1..)) {
            continue;
        }
        let name = if matches!(which, Which::Foot(_)) { "four foot holes".to_owned() } else { which.name(cuts) };
        let bit = cuts.bit(*which).map_or(String::new(), |bit| lettering::plain(&bit.name, 40));
        paper.say(0, &format!("{name}, bit {bit}"));
        let mut rows: Vec<(&str, String)> = vec![("cut from", format!("the {} face", sweep.face.name()))];
        if let (Which::HangingHole, Some(hole)) = (which, &cuts.hanging_hole) {
            rows.push(("near", format!("the {} edge", hole.edge.name())));
        }
        let of_the_cut = ROWS.iter().filter_map(|(key, label)| {
            let shown = sheet.shown(&format!("{}.{key}", which.key()));
            (!shown.is_empty()).then(|| (*label, shown.to_owned()))
        });
        rows.extend(of_the_cut);
        if let Some(rim) = sweep.profile.rim {
            let shown = sheet.shown(&format!("{}.rim", which.key()));
            rows.push(("rim, when it is cut", format!("{} of {shown}, the bearing along the wall", rim.name())));
        }
        paper.rows(&rows);
        if let Some(says) = sheet.on_the_cnc(Cut::Face(*which)) {
            paper.say(3, &says);
        }
    }
    if sweeps.iter().any(|(which, _)| !matches!(which, Which::Foot(_) | Which::HangingHole)) {
        paper.caution(
            "A plunge router between stops or in a frame, in several passes, fed against the bit's turn: \
             end grain burns and tears where the bit waits.",
        );
    }
}

/// Corners and rims, last of all: handholds are cut against square corners.
pub(super) fn shaped(sheet: &Sheet, paper: &mut Paper) {
    let cuts = &sheet.job.cuts;
    let rims = [("upper rim", cuts.upper_rim), ("lower rim", cuts.lower_rim)];
    let eased = |(name, rim): (&'static str, Option<quarterturn_geometry::cut::Easing>)| {
        rim.map(|easing| (name, format!("{} of {}", easing.name(), sheet.shown(name))))
    };
    let mut shaped: Vec<(&str, String)> = Vec::new();
    if cuts.corner_radius.is_some() {
        shaped.push(("corners", format!("radius {}", sheet.shown("corners.radius"))));
    }
    shaped.extend(rims.into_iter().filter_map(eased));
    if !shaped.is_empty() {
        paper.title("Corners and rims, last");
        paper.rows(&shaped);
        if !sheet.job.handholds.is_empty() {
            paper.say(3, "After the handholds: their stops are set from square corners.");
        }
        for (face, _) in
            [Face::Upper, Face::Lower].into_iter().zip(&sheet.job.rim_bits).filter(|(_, bit)| bit.is_some())
        {
            if let Some(says) = sheet.on_the_cnc(Cut::Rim(face)) {
                paper.say(3, &says);
            }
        }
    }
}

/// Numbers of a cut, and what they are called on paper.
const ROWS: [(&str, &str); 21] = [
    ("bit diameter", "bit"),
    ("depth", "depth"),
    ("width", "width at the face"),
    ("setback", "from edge to rim"),
    ("fence", "from edge to bit's centre"),
    ("corner radius", "corners of the bit's way"),
    ("along", "its middle, from the edge's left or front end"),
    ("travel", "bit's centre travels, straight across"),
    ("rise", "its middle farther in than its two ends by"),
    ("arc", "radius of the arc of the bit's centre"),
    ("pivot out", "that arc's pivot, outside the edge"),
    ("pivot along", "and along it, from the left or front end"),
    ("setback left", "from the left corner"),
    ("setback right", "from the right corner"),
    ("setback front", "from the front corner"),
    ("setback back", "from the back corner"),
    ("from end", "from left and right edges"),
    ("from side", "from front and back edges"),
    ("from edge", "from edge to middle"),
    ("lines crossed", "glue lines crossed"),
    ("lines run along", "glue lines run along"),
];
