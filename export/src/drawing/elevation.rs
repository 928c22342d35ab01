//! An edge with its handholds and what other cuts open of it, seen from outside with the show face up.
//!
//! Frame: along the edge to the right, from the first of its ends; up through the thickness. Must
//! not know of the page.

use super::dimension::{Chain, ROW};
use super::{Block, Sheet, TEXT, THICK, THIN, TINT, caption, handholds_in, opening_at, title};
use crate::ink::{self, Anchor};
use crate::lettering;
use nalgebra::Point2;
use quarterturn_geometry::cut::{Edge, Finished, Handhold, Rounded, Sweep, Which};
use svg::node::element::{Group, Polygon};

const OUT: f64 = 7.0;

pub(super) fn draw(sheet: &Sheet, edge: Edge) -> Block {
    let size = sheet.board.finished();
    let long = edge.length(&size);
    let holds: Vec<(usize, &Handhold)> = handholds_in(sheet.job, edge).collect();
    let thickness = Chain::one(size.thickness, 0.0, sheet.shown("board.thickness"));
    let cross: Vec<Chain> = holds.iter().map(|(i, hold)| cross(sheet, *i, hold, &size)).collect();
    let left = thickness.reach().max(8.0) + OUT;
    let (words, words_high) = caption(&says(sheet, edge, &holds), [0.0, 0.0], (long + left).max(title::NARROWEST));
    let chains: Vec<Chain> = holds.iter().map(|(i, hold)| along(sheet, *i, hold, &size)).collect();
    let rows: f64 = chains.iter().map(|spans| spans.rows() * ROW + 2.0).sum();
    let top = words_high + rows + OUT - 2.0;

    let mut view = Group::new()
        .add(ink::rectangle([0.0, 0.0], [long, size.thickness], 0.0).set("fill", TINT).set("stroke", "none"))
        .add(joints(sheet, edge, &size))
        .add(ink::rectangle([0.0, 0.0], [long, size.thickness], THICK))
        .add(thickness.down(-left + 2.0));
    let mut x = long + OUT;
    let mut y = -(OUT - 2.0);
    for (((_, hold), cross), chain) in holds.iter().zip(&cross).zip(&chains) {
        view = view.add(recess(hold, &size)).add(cross.down(x));
        view = view.add(chain.across(y));
        x += cross.reach() + 5.0;
        y -= chain.rows() * ROW + 2.0;
    }
    for (which, sweep) in opening_at(sheet.job, edge, &size) {
        view = view.add(opening(&sweep, edge, &size, which));
    }
    let [first, second] = edge.ends().map(Edge::name);
    let ends = size.thickness + 1.5 + TEXT;
    view = view.add(ink::word(first, [0.0, ends], TEXT, Anchor::Start)).add(ink::word(
        second,
        [long, ends],
        TEXT,
        Anchor::End,
    ));
    let moved = view.set("transform", format!("translate({} {})", ink::mm(left), ink::mm(top)));
    Block { ink: Group::new().add(words).add(moved), width: left + x, height: top + ends + 1.0 }
}

/// In words: which edge, seen how, cut with what.
fn says(sheet: &Sheet, edge: Edge, holds: &[(usize, &Handhold)]) -> String {
    let cut = |(i, hold): &(usize, &Handhold)| {
        let number = |name: &str| sheet.shown(&format!("handhold.{}.{name}", i + 1));
        let shape = if hold.bit.corner_radius.is_positive() {
            format!("corner radius {}", number("bit corner radius"))
        } else {
            "square end".to_owned()
        };
        let bit = lettering::plain(&hold.bit.name, 40);
        let wide = hold.width.map_or(String::new(), |_| format!("{} wide, ", number("width")));
        let rim =
            hold.rim.map_or(String::new(), |rim| format!(", then a {} of {} on its rim", rim.name(), number("rim")));
        let (deep, across) = (number("depth"), number("bit diameter"));
        format!("recess {wide}{deep} deep, bit {bit}: {across} across, {shape}{rim}")
    };
    let mut cuts: Vec<String> = holds.iter().map(cut).collect();
    let size = sheet.board.finished();
    cuts.extend(
        opening_at(sheet.job, edge, &size).map(|(which, _)| format!("{} opens here", which.name(&sheet.job.cuts))),
    );
    let name = edge.name();
    format!("{}{} edge, seen from the {name}, show face up: {}", name[..1].to_uppercase(), &name[1..], cuts.join("; "))
}

/// The glue lines that end at this edge.
fn joints(sheet: &Sheet, edge: Edge, size: &Finished) -> Group {
    let board = sheet.board;
    let last = board.strips().len().saturating_sub(1);
    let lines: Vec<f64> = match edge {
        Edge::Front | Edge::Back => (0..last).map(|place| board.span(place)[1]).collect(),
        Edge::Left => board.blank_spans(0).into_iter().flatten().collect(),
        Edge::Right => board.blank_spans(last).into_iter().flatten().collect(),
    };
    let long = edge.length(size);
    let from_first_end = |at: f64| if matches!(edge, Edge::Left | Edge::Back) { long - at } else { at };
    let inside = lines.into_iter().map(from_first_end).filter(|a| *a > 0.0 && *a < long);
    inside.fold(Group::new().set("opacity", 0.45), |group, a| group.add(ink::line([a, 0.0], [a, size.thickness], THIN)))
}

/// What a cut on a face opens of the edge's side.
fn opening(sweep: &Sweep, edge: Edge, size: &Finished, which: Which) -> Polygon {
    let at = |p: Point2<f64>| format!("{},{}", ink::mm(p.x), ink::mm(size.thickness - p.y));
    let points: Vec<String> = sweep.notch(edge, size).into_iter().map(at).collect();
    let shape = Polygon::new().set("points", points.join(" ")).set("fill", "white").set("stroke", "black");
    shape.set("stroke-width", THICK).set("id", format!("opening-{}", which.key().replace(['.', ' '], "-")))
}

/// Rim and floor, and where the rim's easing ends: everything within a distance of where the bit's centre goes.
fn recess(hold: &Handhold, size: &Finished) -> Group {
    let profile = hold.profile();
    let [low, high] = hold.path(size).extent();
    let within = |rho: f64, thick: f64| {
        let shape = Rounded { low, high, radius: 0.0 }.inset(-rho);
        let at = [shape.low.x, size.thickness - shape.high.y];
        ink::rectangle(at, [shape.length(), shape.width()], thick).set("rx", ink::mm(rho))
    };
    let (eased, rim, floor) = (profile.at_surface(), profile.bit_at_surface(), profile.flat());
    let mut group = Group::new();
    if eased > rim {
        group = group.add(within(eased, THIN).set("fill", "white"));
    }
    group = group.add(within(rim, THICK).set("fill", "white"));
    if floor > 0.0 && floor < rim { group.add(within(floor, THIN).set("fill", "none")) } else { group }
}

/// Setback, length over all, setback.
fn along<'a>(sheet: &'a Sheet, i: usize, hold: &Handhold, size: &Finished) -> Chain<'a> {
    let number = |name: &str| sheet.shown(&format!("handhold.{}.{name}", i + 1));
    let long = hold.edge.length(size);
    let [a, c] = hold.setbacks(size);
    let [first, second] = hold.edge.ends().map(|end| format!("setback {}", end.name()));
    Chain {
        at: vec![0.0, a, long - c, long],
        from: vec![0.0; 4],
        shown: vec![number(&first), number("length"), number(&second)],
    }
}

/// Lip above, width with the eased rim, lip below, from the top; the rim's extension lines come from its far end.
fn cross<'a>(sheet: &'a Sheet, i: usize, hold: &Handhold, size: &Finished) -> Chain<'a> {
    let number = |name: &str| sheet.shown(&format!("handhold.{}.{name}", i + 1));
    let [below, above] = hold.lips(size);
    let (t, long) = (size.thickness, hold.edge.length(size));
    let rim = hold.centres(size)[1].x;
    Chain {
        at: vec![0.0, above, t - below, t],
        from: vec![long, rim, rim, long],
        shown: vec![number("lip above"), number("opening"), number("lip below")],
    }
}
