//! Where a spout, a finger recess and a hanging hole lie, measured on the plan from the edges that the maker measures from.
//!
//! Frame: the plan's, y down the page. Must not know how a cut is drawn.

use super::dimension::Figure;
use super::{Sheet, TEXT, THIN};
use crate::ink;
use nalgebra::Point2;
use quarterturn_geometry::cut::{Edge, Finished, Sweep, Which};
use svg::node::element::Group;

/// Lines with figures; empty for other cuts.
pub(super) fn draw(sheet: &Sheet, which: Which, sweep: &Sweep, size: &Finished) -> Group {
    let at = Place { sheet, which, size };
    let cuts = &sheet.job.cuts;
    match which {
        Which::HangingHole => cuts.hanging_hole.as_ref().map(|hole| at.hole(hole.edge, sweep)),
        Which::Spout(i) => cuts.spouts.get(i).map(|spout| at.spout(spout.edge, sweep)),
        Which::FingerRecess(i) => cuts.finger_recesses.get(i).map(|recess| at.recess(recess.edge, sweep)),
        Which::Groove(_) | Which::Foot(_) => None,
    }
    .unwrap_or_default()
}

struct Place<'a> {
    sheet: &'a Sheet<'a>,
    which: Which,
    size: &'a Finished,
}

impl Place<'_> {
    fn hole(&self, edge: Edge, sweep: &Sweep) -> Group {
        let [low, high] = sweep.extent(self.size).map(|p| p.xy());
        let middle = nalgebra::center(&low, &high);
        Group::new().add(self.measure("from edge", self.foot(edge, middle), middle, 0.5)).add(self.measure(
            "along",
            self.low_end(edge, middle),
            middle,
            0.3,
        ))
    }

    fn spout(&self, edge: Edge, sweep: &Sweep) -> Group {
        let [low, high] = sweep.extent(self.size).map(|p| p.xy());
        let within = |p: Point2<f64>| Point2::new(p.x.clamp(0.0, self.size.length), p.y.clamp(0.0, self.size.width));
        let middle = nalgebra::center(&within(low), &within(high));
        self.measure("along", self.low_end(edge, middle), middle, 0.3)
    }

    /// From either corner to where it ends, as it is set back.
    fn recess(&self, edge: Edge, sweep: &Sweep) -> Group {
        let [low, high] = sweep.extent(self.size).map(|p| p.xy());
        let middle = nalgebra::center(&low, &high);
        edge.ends().into_iter().fold(Group::new(), |group, end| {
            // On a line through the middle of what lies on the board, from that end of the edge.
            let inside = self.kept(middle);
            let corner = self.foot(end, inside);
            let reach = match end {
                Edge::Left => Point2::new(low.x, inside.y),
                Edge::Right => Point2::new(high.x, inside.y),
                Edge::Front => Point2::new(inside.x, low.y),
                Edge::Back => Point2::new(inside.x, high.y),
            };
            group.add(self.measure(&format!("setback {}", end.name()), corner, reach, 0.5))
        })
    }

    /// A line, and its figure at a share of it; `from` and `to` in the board's frame.
    fn measure(&self, name: &str, from: Point2<f64>, to: Point2<f64>, share: f64) -> Group {
        let key = format!("{}.{name}", self.which.key());
        let page = |p: Point2<f64>| [p.x, self.size.width - p.y];
        let figure = Figure::of(self.sheet.shown(&key)).draw_on_wood(page(from + (to - from) * share), TEXT * 0.85, "");
        Group::new().add(ink::line(page(from), page(to), THIN)).add(figure)
    }

    /// A few millimetres within the board, so that a figure is read.
    fn kept(&self, p: Point2<f64>) -> Point2<f64> {
        const IN: f64 = 5.0;
        let keep = |c: f64, long: f64| c.clamp(IN.min(long / 2.0), (long - IN).max(long / 2.0));
        Point2::new(keep(p.x, self.size.length), keep(p.y, self.size.width))
    }

    /// The point of an edge nearest to a point.
    fn foot(&self, edge: Edge, p: Point2<f64>) -> Point2<f64> {
        match edge {
            Edge::Left => Point2::new(0.0, p.y),
            Edge::Right => Point2::new(self.size.length, p.y),
            Edge::Front => Point2::new(p.x, 0.0),
            Edge::Back => Point2::new(p.x, self.size.width),
        }
    }

    /// The same of the edge at the left or front end of this one.
    fn low_end(&self, edge: Edge, p: Point2<f64>) -> Point2<f64> {
        match edge {
            Edge::Front | Edge::Back => self.foot(Edge::Left, p),
            Edge::Left | Edge::Right => self.foot(Edge::Front, p),
        }
    }
}
