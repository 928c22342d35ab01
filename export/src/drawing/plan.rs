//! The plan: the finished board seen from above, its glue lines, strip numbers, the cuts on the
//! faces, and the handholds seen through it.
//!
//! Frame: the board's X to the right, its Y up the page. Must not know of the page.

use super::cuts;
use super::dimension::{Chain, Figure, ROW};
use super::{Block, Sheet, TEXT, THICK, THIN, TINT, handholds_in};
use crate::ink::{self, Anchor};
use crate::{face, lettering, marked};
use nalgebra::Point3;
use quarterturn_geometry::board::Face;
use quarterturn_geometry::cut::{Edge, EdgeFrame, Finished, Handhold};
use svg::node::element::{Group, Polyline};

/// Left of the outline, for the names of the edges.
const NAMES: f64 = 8.0;
/// Above it, for the back's name over the strips' numbers.
const ABOVE: f64 = 12.0;
/// From the outline to a dimension's line.
const OUT: f64 = 8.0;

pub(super) fn draw(sheet: &Sheet) -> Block {
    let size = sheet.board.finished();
    let width = Chain::one(size.width, size.length, sheet.shown("board.width"));
    let length = Chain::one(size.length, size.width, sheet.shown("board.length"));
    let below = OUT + ROW;
    let outline = cuts::board(sheet, &size, THICK);
    let wood = cuts::board(sheet, &size, 0.0).set("fill", TINT).set("stroke", "none");
    let mut group = Group::new()
        .add(wood)
        .add(face::lines(sheet.board, Face::Upper).set("opacity", 0.55))
        .add(outline.set("id", "finished-outline"))
        .add(width.down(size.length + OUT))
        .add(length.across(size.width + below))
        .add(names(&size))
        .add(strip_numbers(sheet, &size))
        .add(cuts::draw(sheet, &size));
    for edge in Edge::ALL {
        for (i, hold) in handholds_in(sheet.job, edge) {
            let shown = sheet.shown(&format!("handhold.{}.depth", i + 1));
            group = group.add(handhold(hold, &size)).add(depth(hold, &size, shown));
        }
    }
    let moved = group.set("transform", format!("translate({NAMES} {ABOVE})"));
    let right = (OUT + width.reach()).max(NAMES + TEXT);
    Block { ink: Group::new().add(moved), width: NAMES + size.length + right, height: ABOVE + size.width + below + 2.0 }
}

fn names(size: &Finished) -> Group {
    let (across, down) = (size.length / 2.0, size.width / 2.0);
    let upright = |text: &str, x: f64| {
        ink::word(text, [x, down], TEXT, Anchor::Middle)
            .set("transform", format!("rotate(-90 {} {})", ink::mm(x), ink::mm(down)))
    };
    Group::new()
        .add(ink::word("back", [across, -7.0], TEXT, Anchor::Middle))
        .add(ink::word("front", [across, size.width + 2.5 + TEXT * 0.73], TEXT, Anchor::Middle))
        .add(upright("left", -2.5))
        .add(upright("right", size.length + 2.5 + TEXT * 0.73))
}

/// In a row above the back edge, clear of all that is cut.
fn strip_numbers(sheet: &Sheet, size: &Finished) -> Group {
    let mut group = Group::new();
    for place in 0..sheet.board.strips().len() {
        let [from, to] = sheet.board.span(place).map(|x| x.clamp(0.0, size.length));
        let number = marked::number(sheet.board, place);
        let fits = lettering::fitting(&number, (to - from) * 0.8, TEXT);
        if fits >= 1.2 {
            group = group.add(ink::word(&number, [(from + to) / 2.0, -1.8], fits, Anchor::Middle));
        }
    }
    group
}

/// From the edge's frame to the plan's, y down the page.
fn on_plan(hold: &Handhold, size: &Finished, along: f64, inward: f64) -> [f64; 2] {
    let at = EdgeFrame::of(hold.edge, size).on_board(&Point3::new(along, 0.0, -inward));
    [at.x, size.width - at.y]
}

/// The recess's outline seen through the board: its silhouette from above, dashed.
fn handhold(hold: &Handhold, size: &Finished) -> Polyline {
    const STEPS: u32 = 12;
    let section = hold.profile();
    let [from, to] = hold.centres(size).map(|p| p.x);
    let rounded = section.corner.min(section.depth);
    // Heights above the floor, from the edge down, closer together where the corner or the rim turns.
    let turn = |i: u32| 1.0 - (f64::from(i) / f64::from(STEPS) * std::f64::consts::FRAC_PI_2).cos();
    let rim = (0..=STEPS).map(|i| section.depth - section.rim_size() * turn(i));
    let corner = (0..=STEPS).rev().map(|i| rounded * turn(i));
    let profile: Vec<[f64; 2]> = rim.chain(corner).map(|h| [section.half_width(h), section.depth - h]).collect();
    let start = profile.iter().map(|[rho, inward]| on_plan(hold, size, from - rho, *inward));
    let end = profile.iter().rev().map(|[rho, inward]| on_plan(hold, size, to + rho, *inward));
    let points: Vec<String> = start.chain(end).map(|[x, y]| format!("{},{}", ink::mm(x), ink::mm(y))).collect();
    Polyline::new()
        .set("points", points.join(" "))
        .set("fill", "none")
        .set("stroke", "black")
        .set("stroke-width", THIN * 1.6)
        .set("stroke-dasharray", "2.2 1.2")
}

/// How deep it is: in it where there is room, else beside its floor; off its middle, where a spout may cross it.
fn depth(hold: &Handhold, size: &Finished, shown: &str) -> Group {
    let [from, to] = hold.centres(size).map(|p| p.x);
    let (deep, high) = (hold.depth.mm(), Figure::height(TEXT));
    let inward = if deep > high + 2.0 { deep / 2.0 } else { deep + 1.2 + high / 2.0 };
    let at = on_plan(hold, size, from + (to - from) * 0.3, inward);
    let figure = Figure::of(shown).draw_on_wood(at, TEXT, "deep");
    match hold.edge {
        Edge::Front | Edge::Back => figure,
        Edge::Left | Edge::Right => {
            figure.set("transform", format!("rotate(-90 {} {})", ink::mm(at[0]), ink::mm(at[1])))
        }
    }
}
