//! The cuts on the faces, the corners and the rims, on the plan: their outlines, each with its letter in the legend.
//!
//! What is cut from above is drawn in full, what from below is dashed. Frame: the board's X to the right, its Y up
//! the page. Must not know of the page.

use super::legend::{self, HALF};
use super::{Sheet, THICK, THIN, places};
use crate::ink;
use nalgebra::{Point2, Vector2};
use quarterturn_geometry::cut::{Arch, Face, Finished, Path as Way, Rounded, Sweep, Which};
use svg::node::element::{ClipPath, Group, Mask, Path, Rectangle};

pub(super) fn draw(sheet: &Sheet, size: &Finished) -> Group {
    let cuts = &sheet.job.cuts;
    let outline = cuts.outline(*size);
    let mut group = Group::new();
    for (inset, below) in outline.eased().into_iter().zip([false, true]) {
        if inset > 0.0 {
            group = group.add(dashed(rounded(&outline.plan().inset(inset), size, THIN), below));
        }
    }
    // What runs out of the side is drawn as far as the board goes.
    let clip = ClipPath::new().set("id", "board").add(board(sheet, size, 0.0));
    let mut shapes = Group::new().set("clip-path", "url(#board)");
    let sweeps = cuts.sweeps(size);
    for (which, sweep) in &sweeps {
        let others: Vec<&Sweep> = sweeps.iter().filter(|(other, _)| which.may_meet(*other)).map(|(_, s)| s).collect();
        for (i, line) in Line::ALL.into_iter().enumerate() {
            let id = format!("{}-{i}", which.key().replace(['.', ' '], "-"));
            shapes = shapes.add(lines(sweep, line, &others, size, &id));
        }
        group = group.add(places::draw(sheet, *which, sweep, size));
    }
    for (place, which) in legend::lettered(sheet, size).into_iter().enumerate() {
        if let Some((_, sweep)) = sweeps.iter().find(|(known, _)| *known == which) {
            group = group.add(legend::letter(place, letter_at(sheet, which, sweep, size)));
        }
    }
    Group::new().add(clip).add(shapes).add(group)
}

/// The board's own outline, its corners rounded.
pub(super) fn board(sheet: &Sheet, size: &Finished, thick: f64) -> Rectangle {
    rounded(&sheet.job.cuts.outline(*size).plan(), size, thick)
}

fn rounded(shape: &Rounded, size: &Finished, thick: f64) -> Rectangle {
    let at = [shape.low.x, size.width - shape.high.y];
    ink::rectangle(at, [shape.length(), shape.width()], thick).set("rx", ink::mm(shape.radius)).set("fill", "none")
}

fn dashed(shape: Rectangle, below: bool) -> Rectangle {
    if below { shape.set("stroke-dasharray", "2.2 1.2") } else { shape }
}

/// The lines that a cut is drawn by.
#[derive(Clone, Copy)]
enum Line {
    /// Where its rim's easing ends on the face.
    Eased,
    /// Its wall.
    Rim,
    /// Where its floor's flat ends.
    Floor,
}

impl Line {
    const ALL: [Self; 3] = [Self::Rim, Self::Eased, Self::Floor];

    /// How far it lies from where the bit's middle goes; `None` where it is no line of its own.
    fn of(self, sweep: &Sweep) -> Option<f64> {
        let (rim, floor) = (sweep.profile.bit_at_surface(), sweep.profile.flat());
        match self {
            Self::Rim => Some(rim),
            Self::Eased => sweep.profile.rim.map(|_| sweep.profile.at_surface()),
            Self::Floor => (!sweep.through && floor > 0.0 && floor < rim).then_some(floor),
        }
    }

    const fn thick(self) -> f64 {
        if let Self::Rim = self { THICK * 0.7 } else { THIN }
    }
}

/// One line of a cut, but for what of it lies within the same line of a cut that it runs into: there is no wood.
fn lines(sweep: &Sweep, line: Line, others: &[&Sweep], size: &Finished, id: &str) -> Group {
    let Some(rho) = line.of(sweep) else { return Group::new() };
    let below = sweep.face == Face::Lower;
    let mut group = Group::new();
    for shape in loops(sweep, rho, size, line.thick()) {
        group = group.add(if below { shape.set("stroke-dasharray", "2.2 1.2") } else { shape });
    }
    // Where the other has no such line its wall bounds it. A hair less round a straight run and more round a groove, as
    // the run's end only touches the groove's far side, which stays.
    let hair = if matches!(sweep.path, Way::Round(_)) { -THICK / 2.0 } else { THICK / 2.0 };
    let reach = |other: &Sweep| line.of(other).or_else(|| Line::Rim.of(other)).unwrap_or_default() + hair;
    // A floor runs on under a shallower cut.
    let deep = |sweep: &Sweep| sweep.profile.depth;
    let hides = |other: &&&Sweep| !matches!(line, Line::Floor) || deep(other) >= deep(sweep) - 1e-6;
    let others: Vec<&Sweep> = others.iter().filter(hides).copied().collect();
    let [wide, high] = [size.length, size.width].map(|long| long + 20.0);
    let hidden = others.iter().fold(
        Mask::new()
            .set("id", id)
            .set("maskUnits", "userSpaceOnUse")
            .set("x", -10)
            .set("y", -10)
            .set("width", wide)
            .set("height", high)
            .add(ink::rectangle([-10.0; 2], [wide, high], 0.0).set("fill", "white").set("stroke", "none")),
        |mask, other| mask.add(filled(other, reach(other), size)),
    );
    if others.is_empty() { group } else { Group::new().add(hidden).add(group.set("mask", format!("url(#{id})"))) }
}

/// Everything within ρ of the path, in black.
fn filled(sweep: &Sweep, rho: f64, size: &Finished) -> Path {
    let d: Vec<String> = outlines(sweep, rho, size);
    Path::new().set("d", d.join(" ")).set("fill", "black").set("fill-rule", "evenodd").set("stroke", "none")
}

/// The same as lines.
fn loops(sweep: &Sweep, rho: f64, size: &Finished, thick: f64) -> Vec<Path> {
    let path = |d| Path::new().set("d", d).set("fill", "none").set("stroke", "black").set("stroke-width", thick);
    outlines(sweep, rho, size).into_iter().map(path).collect()
}

/// Everything within ρ of the path, as one or two closed outlines.
fn outlines(sweep: &Sweep, rho: f64, size: &Finished) -> Vec<String> {
    match &sweep.path {
        Way::Filled(corners) => vec![round(corners.iter().map(|p| [p.x, size.width - p.y]).collect(), rho)],
        Way::Arch(arch) => vec![ring(arch, rho, size)],
        Way::Round(way) => [-rho, rho]
            .into_iter()
            .map(|by| {
                let shape = way.inset(by);
                let (c, h) = (shape.radius, size.width);
                let centres = [
                    [shape.low.x + c, h - shape.low.y - c],
                    [shape.high.x - c, h - shape.low.y - c],
                    [shape.high.x - c, h - shape.high.y + c],
                    [shape.low.x + c, h - shape.high.y + c],
                ];
                round(centres.to_vec(), c)
            })
            .collect(),
    }
}

/// A ring's part with round ends, clockwise down the page from the inside of where the arc begins.
fn ring(arch: &Arch, rho: f64, size: &Finished) -> String {
    let at = |share: f64, off: f64| {
        let p = arch.at(share, off);
        [p.x, size.width - p.y].map(ink::mm)
    };
    let [[a, b], [c, d], [e, f], [g, h]] = [at(0.0, -rho), at(0.0, rho), at(1.0, rho), at(1.0, -rho)];
    let [end, outer, inner] = [rho, arch.radius + rho, arch.radius - rho].map(ink::mm);
    format!(
        "M{a} {b} A{end} {end} 0 0 0 {c} {d} A{outer} {outer} 0 0 0 {e} {f} A{end} {end} 0 0 0 {g} {h} \
         A{inner} {inner} 0 0 1 {a} {b} Z"
    )
}

/// Round the corners of a convex polygon (anti-clockwise on the board, so clockwise down the page), ρ outside.
fn round(corners: Vec<[f64; 2]>, rho: f64) -> String {
    let corners = if corners.len() == 1 { vec![corners[0]; 2] } else { corners };
    let n = corners.len();
    let mut d = String::new();
    for i in 0..n {
        let ([a, b], [p, q]) = (corners[i], corners[(i + 1) % n]);
        let long = (p - a).hypot(q - b);
        let (u, v) =
            if long > 0.0 { ((p - a) / long, (q - b) / long) } else { (if i % 2 == 0 { 1.0 } else { -1.0 }, 0.0) };
        // To the right of the way, with y down the page.
        let (x, y) = (-v * rho, u * rho);
        let [x1, y1, x2, y2, r] = [a + x, b + y, p + x, q + y, rho].map(ink::mm);
        let begin = if i == 0 { "M" } else { &format!("A{r} {r} 0 0 0 ") };
        d += &format!("{begin}{x1} {y1} L{x2} {y2} ");
        if i == n - 1 {
            let ([a, b], [p, q]) = (corners[0], corners[1]);
            let long = (p - a).hypot(q - b);
            let (u, v) = if long > 0.0 { ((p - a) / long, (q - b) / long) } else { (1.0, 0.0) };
            let [x, y] = [a - v * rho, b + u * rho].map(ink::mm);
            d += &format!("A{r} {r} 0 0 0 {x} {y} Z");
        }
    }
    d
}

/// Where a cut's letter stands: on it, or beside what is too small for it.
fn letter_at(sheet: &Sheet, which: Which, sweep: &Sweep, size: &Finished) -> [f64; 2] {
    let spout = if let Which::Spout(i) = which { sheet.job.cuts.spouts.get(i) } else { None };
    if let Some(spout) = spout {
        let at = places::spout_at(sheet, spout, sweep, size);
        return [at.x, size.width - at.y];
    }
    let rho = sweep.profile.at_surface();
    let [low, high] = sweep.extent(size).map(|p| p.xy());
    let on_board = [Point2::origin(), Point2::new(size.length, size.width)];
    let middle = nalgebra::center(&low.sup(&on_board[0]), &high.inf(&on_board[1]));
    let at = match &sweep.path {
        Way::Round(way) => Point2::new(way.low.x + way.length() * 0.3, way.low.y),
        Way::Arch(arch) => arch.at(0.3, 0.0),
        Way::Filled(_) => {
            // Off the middle of a recess, where a spout may cross it.
            let long = high - low;
            let off = if matches!(which, Which::FingerRecess(_)) { -0.2 } else { 0.0 };
            let along = Vector2::new(long.x - 2.0 * rho, long.y - 2.0 * rho).sup(&Vector2::zeros()) * off;
            let inward = if middle.x > size.length / 2.0 { -1.0 } else { 1.0 };
            let beside = if rho < HALF + 0.6 { inward * (rho + HALF + 0.6) } else { 0.0 };
            middle + along + Vector2::new(beside, 0.0)
        }
    };
    [at.x, size.width - at.y]
}
