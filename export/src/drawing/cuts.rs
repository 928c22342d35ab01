//! The cuts on the faces, the corners and the rims, on the plan: outlines and what the maker sets.
//!
//! What is cut from above is drawn in full, what from below is dashed. Frame: the board's X to the right, its Y up
//! the page. Must not know of the page.

use super::dimension::Figure;
use super::{Sheet, TEXT, THICK, THIN, places};
use crate::ink;
use quarterturn_geometry::cut::{Arch, Face, Finished, Path as Way, Rounded, Sweep, Which};
use svg::node::element::{ClipPath, Group, Path, Rectangle};

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
    for (which, sweep) in cuts.sweeps(size) {
        let below = sweep.face == Face::Lower;
        for shape in outlines(&sweep, size) {
            shapes = shapes.add(if below { shape.set("stroke-dasharray", "2.2 1.2") } else { shape });
        }
        group = group.add(places::draw(sheet, which, &sweep, size)).add(figures(sheet, which, &sweep, size));
    }
    group = Group::new().add(clip).add(shapes).add(group);
    if outline.corner > 0.0 {
        let at = outline.corner * (1.0 - std::f64::consts::FRAC_1_SQRT_2) + 6.0;
        group = group.add(says(sheet, "corners.radius", [size.length - at - 4.0, at + 1.0], "radius"));
    }
    group
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

/// The rim of a cut on its face, where its easing ends, and its floor where that is another line.
fn outlines(sweep: &Sweep, size: &Finished) -> Vec<Path> {
    let (rim, floor) = (sweep.profile.bit_at_surface(), sweep.profile.flat());
    let mut all = loops(sweep, rim, size, THICK * 0.7);
    if sweep.profile.rim.is_some() {
        all.extend(loops(sweep, sweep.profile.at_surface(), size, THIN));
    }
    if !sweep.through && floor > 0.0 && floor < rim {
        all.extend(loops(sweep, floor, size, THIN));
    }
    all
}

/// Everything within ρ of the path, as one or two closed outlines.
fn loops(sweep: &Sweep, rho: f64, size: &Finished, thick: f64) -> Vec<Path> {
    let path =
        |d: String| Path::new().set("d", d).set("fill", "none").set("stroke", "black").set("stroke-width", thick);
    match &sweep.path {
        Way::Filled(corners) => vec![path(round(corners.iter().map(|p| [p.x, size.width - p.y]).collect(), rho))],
        Way::Arch(arch) => vec![path(ring(arch, rho, size))],
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
                path(round(centres.to_vec(), c))
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

/// What the maker sets, beside the cut.
fn figures(sheet: &Sheet, which: Which, sweep: &Sweep, size: &Finished) -> Group {
    let key = |name: &str| format!("{}.{name}", which.key());
    let rho = sweep.profile.at_surface();
    let step = Figure::height(TEXT) + 1.0;
    let down = |y: f64| size.width - y;
    match (&sweep.path, which) {
        (Way::Round(way), _) => {
            let (x, y) = (way.low.x + rho, down(way.low.y + rho));
            let quarter = x + (way.length() - 2.0 * rho) / 4.0;
            Group::new()
                .add(says(sheet, &key("setback"), [quarter, y - step * 2.6], "from the edge"))
                .add(says(sheet, &key("width"), [quarter, y - step * 1.7], "groove"))
                .add(says(sheet, &key("depth"), [quarter, y - step * 0.8], "deep"))
        }
        (Way::Filled(corners), Which::Foot(0)) => {
            let at = corners.first().map_or([0.0; 2], |p| [p.x, down(p.y)]);
            Group::new()
                .add(measure(sheet, &key("from end"), [0.0, at[1]], at))
                .add(measure(sheet, &key("from side"), [at[0], size.width], at))
                .add(says(sheet, &key("depth"), [at[0], at[1] - rho - step * 0.8], "deep"))
        }
        (Way::Filled(_), Which::Foot(_)) => Group::new(),
        (Way::Filled(corners), Which::HangingHole) => {
            let at = corners.first().map_or([0.0; 2], |p| [p.x, down(p.y)]);
            says(sheet, &key("width"), [at[0], at[1] + rho + step * 0.8], "hole")
        }
        (way @ (Way::Filled(_) | Way::Arch(_)), _) => {
            let [low, high] = way.extent();
            // On a spout; beside a recess, toward the middle of the board, clear of a spout at the edge's middle.
            let recess = if let Which::FingerRecess(i) = which { sheet.job.cuts.finger_recesses.get(i) } else { None };
            let out = recess.map_or([0.0; 2], |r| [r.edge.outward().x, r.edge.outward().y]);
            let share = |axis: usize| if recess.is_some() && out[axis] == 0.0 { 0.25 } else { 0.5 };
            let [x, y] = [0, 1].map(|axis| low[axis] + (high[axis] - low[axis]) * share(axis));
            let [x, y] = [x - out[0] * (rho + 8.0), y - out[1] * (rho + step)];
            let word = if recess.is_some() { "deep recess" } else { "deep" };
            says(sheet, &key("depth"), [x.clamp(8.0, size.length - 8.0), down(y.clamp(4.0, size.width - 4.0))], word)
        }
    }
}

fn says(sheet: &Sheet, key: &str, at: [f64; 2], word: &str) -> Group {
    Figure::of(sheet.shown(key)).draw_on_wood(at, TEXT * 0.85, word)
}

/// A line from an edge to a middle, its figure on it.
fn measure(sheet: &Sheet, key: &str, from: [f64; 2], to: [f64; 2]) -> Group {
    let middle = [(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0];
    Group::new().add(ink::line(from, to, THIN)).add(says(sheet, key, middle, ""))
}
