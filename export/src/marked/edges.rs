//! The two edges beside a face, folded out, with the slanted lines of the panel's edges.
//!
//! Frame: X to the right; Z away from the face that is seen. Must not know how the lines came about.

use super::Sheet;
use crate::ink;
use quarterturn_geometry::board::{EdgeMark, Face};
use quarterturn_geometry::cut::Edge;
use svg::node::element::Group;

/// The edge above the face and the edge below it.
const fn edges(side: Face) -> [Edge; 2] {
    match side {
        Face::Upper => [Edge::Back, Edge::Front],
        Face::Lower => [Edge::Front, Edge::Back],
    }
}

/// What is said over the upper edge and under the lower one.
pub(super) fn captions(side: Face) -> [String; 2] {
    let [above, below] = edges(side).map(Edge::name);
    [
        format!("{above} edge, folded out: turn the sheet round to see it as it looks from that side"),
        match side {
            Face::Upper => format!("{below} edge, seen from the {below}"),
            Face::Lower => format!("{below} edge, seen from the {below}, the board upside down"),
        },
    ]
}

impl Sheet<'_> {
    pub(super) fn edge_above(&self, top: f64) -> Group {
        self.edge(edges(self.side)[0], |out| top + self.glued.thickness - out, top)
    }

    pub(super) fn edge_below(&self, top: f64) -> Group {
        self.edge(edges(self.side)[1], |out| top + out, top)
    }

    /// `down` tells how far down the page lies what is so far away from the face.
    fn edge(&self, edge: Edge, down: impl Fn(f64) -> f64, top: f64) -> Group {
        let (trims, glued) = (self.board.trims(), &self.glued);
        let from_face = |z: f64| match self.side {
            Face::Upper => self.size.thickness + trims.upper - z,
            Face::Lower => z + trims.lower,
        };
        // The lines are given in the finished frame; on the page they lie in the glued outline.
        let corner = [self.left() - trims.left, top];
        let place = |[x, z]: [f64; 2]| [self.left() + x, down(from_face(z))];
        let body = ink::rectangle(corner, [glued.length, glued.thickness], 0.25).set("fill", "#f4e9d4");
        let mut group = Group::new().add(body);
        for strip in 1..self.board.strips().len() {
            let [x, _] = self.span(strip);
            group = group.add(ink::line([x, top], [x, top + glued.thickness], 0.12).set("stroke", "#8a7a60"));
        }
        let upper = place([0.0, 0.0])[1].min(place([0.0, self.size.thickness])[1]);
        let finished = ink::rectangle([self.left(), upper], [self.size.length, self.size.thickness], 0.15);
        group = group.add(finished.set("stroke-dasharray", "1.5 1").set("stroke", "#5a4a38"));
        for mark in self.board.edge_marks(edge) {
            for line in strokes(&mark) {
                let on_page = line.map(|at| {
                    let [x, y] = place(at);
                    [x - corner[0], y - corner[1]]
                });
                if let Some([from, to]) = within(on_page, [glued.length, glued.thickness]) {
                    let [from, to] = [from, to].map(|[x, y]| [x + corner[0], y + corner[1]]);
                    group = group.add(ink::line(from, to, 0.5));
                }
            }
        }
        group
    }
}

/// The line, or the two lines side by side, in (X, Z).
fn strokes(mark: &EdgeMark) -> Vec<[[f64; 2]; 2]> {
    const APART: f64 = 1.6;
    let aside = |by: f64| [mark.from, mark.to].map(|[x, z]| [x + by, z]);
    if mark.double { vec![aside(-APART / 2.0), aside(APART / 2.0)] } else { vec![aside(0.0)] }
}

/// What of a line lies within a box from the origin; `None` where nothing does.
pub(crate) fn within([from, to]: [[f64; 2]; 2], size: [f64; 2]) -> Option<[[f64; 2]; 2]> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let step = to[axis] - from[axis];
        let [a, b] = [-from[axis], size[axis] - from[axis]];
        if step == 0.0 {
            if a > 0.0 || b < 0.0 {
                return None;
            }
            continue;
        }
        enter = enter.max((a / step).min(b / step));
        leave = leave.min((a / step).max(b / step));
    }
    let at = |t: f64| [0, 1].map(|axis| from[axis] + t * (to[axis] - from[axis]));
    (enter < leave).then(|| [at(enter), at(leave)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_off_at_the_box() {
        let cut = within([[-1.0, -1.0], [3.0, 3.0]], [2.0, 5.0]).unwrap();
        assert_eq!(cut, [[0.0, 0.0], [2.0, 2.0]]);
        assert!(within([[3.0, 0.0], [3.0, 1.0]], [2.0, 5.0]).is_none());
        assert_eq!(within([[1.0, -1.0], [1.0, 9.0]], [2.0, 5.0]).unwrap(), [[1.0, 0.0], [1.0, 5.0]]);
    }
}
