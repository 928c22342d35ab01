//! Circles, outlines, hatching and arrows of the set-up drawings. Must not know what is drawn.

use super::{THICK, THIN};
use crate::ink;
use svg::node::element::{Circle, Group, Polygon};

/// A circle about a point, its fill left to the caller.
pub(super) fn circle([x, y]: [f64; 2], radius: f64) -> Circle {
    Circle::new()
        .set("cx", ink::mm(x))
        .set("cy", ink::mm(y))
        .set("r", ink::mm(radius))
        .set("stroke", "black")
        .set("stroke-width", THICK)
}

/// A closed outline.
pub(super) fn polygon(points: &[(f64, f64)]) -> Polygon {
    let text: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", ink::mm(*x), ink::mm(*y))).collect();
    Polygon::new().set("points", text.join(" ")).set("stroke", "black").set("stroke-width", THICK)
}

/// A rectangle with slanted lines, as wood across the grain is hatched.
pub(super) fn hatched([x, y]: [f64; 2], [wide, high]: [f64; 2]) -> Group {
    let mut ink = Group::new().add(ink::rectangle([x, y], [wide, high], THICK).set("fill", "#efece6"));
    let mut at = x - high + 4.0;
    while at < x + wide {
        let (from, to) = ((x - at).max(0.0), (x + wide - at).min(high));
        ink = ink.add(ink::line([at + from, y + high - from], [at + to, y + high - to], THIN * 0.8));
        at += 4.0;
    }
    ink
}

/// An arrow from a point to another.
pub(super) fn arrow([x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) -> Group {
    let long = (x1 - x0).hypot(y1 - y0).max(1e-9);
    let [ux, uy] = [(x1 - x0) / long, (y1 - y0) / long];
    let neck = [x1 - ux * 3.0, y1 - uy * 3.0];
    let [a, b] = [1.4, -1.4].map(|out| (neck[0] - uy * out, neck[1] + ux * out));
    let head = polygon(&[(x1, y1), a, b]).set("fill", "black");
    Group::new().add(ink::line([x0, y0], neck, THICK * 1.4)).add(head)
}
