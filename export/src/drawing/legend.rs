//! What stands under the plan: each cut on the faces by its letter, with all that the maker sets, the corners and the rims.
//!
//! Must not know where anything lies on the plan.

use super::{Block, Sheet, TEXT, THIN, capital, caption};
use crate::ink::{self, Anchor, HALF_CAPITAL};
use crate::lettering;
use quarterturn_geometry::cut::{Easing, Finished, Which};
use svg::node::element::{Circle, Group};

/// Half of a letter's circle.
pub(super) const HALF: f64 = 2.7;
/// From the left to the words.
const INDENT: f64 = 8.0;

/// The cuts that have a letter, in its order: of four feet the first.
pub(super) fn lettered(sheet: &Sheet, size: &Finished) -> Vec<Which> {
    let all = sheet.job.cuts.sweeps(size).into_iter().map(|(which, _)| which);
    all.filter(|which| !matches!(which, Which::Foot(1..))).collect()
}

/// A cut's letter in a circle.
pub(super) fn letter(place: usize, [x, y]: [f64; 2]) -> Group {
    let letter =
        u8::try_from(place).ok().filter(|n| *n < 26).map_or("*".to_owned(), |n| char::from(b'a' + n).to_string());
    let ring = Circle::new()
        .set("cx", ink::mm(x))
        .set("cy", ink::mm(y))
        .set("r", HALF)
        .set("fill", "white")
        .set("stroke", "black")
        .set("stroke-width", THIN * 1.6);
    Group::new().add(ring).add(ink::word(&letter, [x, y + TEXT * HALF_CAPITAL * 0.9], TEXT * 0.95, Anchor::Middle))
}

/// The list, as wide as the plan; `None` where there is nothing to say.
pub(super) fn draw(sheet: &Sheet, across: f64) -> Option<Block> {
    let size = sheet.board.finished();
    let cuts = lettered(sheet, &size);
    let mut lines: Vec<(Option<usize>, String)> =
        cuts.iter().enumerate().map(|(place, which)| (Some(place), says(sheet, *which))).collect();
    lines.extend(outline(sheet).map(|text| (None, text)));
    if lines.is_empty() {
        return None;
    }
    let (mut group, mut y) = (Group::new(), 0.0);
    for (place, text) in lines {
        let (words, high) = caption(&text, [INDENT, y], across - INDENT);
        group = group.add(words);
        if let Some(place) = place {
            group = group.add(letter(place, [HALF + 0.3, y + TEXT * (1.0 - HALF_CAPITAL)]));
        }
        y += high.max(2.0 * HALF) + 1.2;
    }
    Some(Block { ink: group, width: across, height: y })
}

fn says(sheet: &Sheet, which: Which) -> String {
    let n = |name: &str| sheet.shown(&format!("{}.{name}", which.key())).to_owned();
    let cuts = &sheet.job.cuts;
    let bit = cuts.bit(which).map_or_else(String::new, |bit| lettering::plain(&bit.name, 40));
    let with = format!("bit {bit}, {} wide and {} deep", n("width"), n("depth"));
    let rim = |rim: Option<Easing>| {
        rim.map_or_else(String::new, |rim| format!("; then a {} of {} on its rim", rim.name(), n("rim")))
    };
    let text = match which {
        Which::Groove(i) => format!(
            "{with}; {} from every edge, corners of radius {} where the bit's middle runs{}",
            n("setback"),
            n("corner radius"),
            rim(cuts.grooves.get(i).and_then(|g| g.rim))
        ),
        Which::Spout(i) => {
            let end = cuts.spouts.get(i).map_or("", |s| low_end(s.edge));
            format!("{with}; its middle {} from the {end} end", n("along"))
        }
        Which::FingerRecess(i) => {
            let Some(recess) = cuts.finger_recesses.get(i) else { return String::new() };
            let [first, second] = recess
                .edge
                .ends()
                .map(|end| format!("{} from the {} end", n(&format!("setback {}", end.name())), end.name()));
            let arc = recess.rise.filter(|rise| rise.is_positive()).map_or_else(String::new, |_| {
                format!(" at its ends and {} farther in the middle, along an arc of radius {}", n("rise"), n("arc"))
            });
            format!(
                "{with}; its middle {} from the edge{arc}; it ends {first} and {second}{}",
                n("fence"),
                rim(recess.rim)
            )
        }
        Which::Foot(_) => {
            let [deep, across] = [n("depth"), n("width")];
            let (end, side) = (n("from end"), n("from side"));
            return format!(
                "Four holes for feet in the lower face: bit {bit}, {across} across and {deep} deep; middles {end} from the left and right edges, {side} from the front and back"
            );
        }
        Which::HangingHole => {
            let Some(hole) = &cuts.hanging_hole else { return String::new() };
            let (edge, end) = (hole.edge.name(), low_end(hole.edge));
            format!(
                "{} across, right through; its middle {} from the {edge} edge and {} from the {end} end",
                n("width"),
                n("from edge"),
                n("along")
            )
        }
    };
    format!("{}: {text}", capital(&which.name(cuts)))
}

/// The end that places along an edge are measured from.
const fn low_end(edge: quarterturn_geometry::cut::Edge) -> &'static str {
    use quarterturn_geometry::cut::Edge::{Back, Front, Left, Right};
    match edge {
        Front | Back => "left",
        Left | Right => "front",
    }
}

fn outline(sheet: &Sheet) -> Option<String> {
    let cuts = &sheet.job.cuts;
    let corners = cuts.corner_radius.map(|_| format!("corners of radius {}", sheet.shown("corners.radius")));
    let rim =
        |name: &str, easing: Option<Easing>| easing.map(|e| format!("{name}: a {} of {}", e.name(), sheet.shown(name)));
    let all: Vec<String> =
        [corners, rim("upper rim", cuts.upper_rim), rim("lower rim", cuts.lower_rim)].into_iter().flatten().collect();
    (!all.is_empty()).then(|| capital(&all.join("; ")))
}
