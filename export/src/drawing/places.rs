//! Where the cuts on the faces lie, measured on the plan from the edges that the maker measures from.
//!
//! Frame: the plan's, y down the page. Must not know how a cut is drawn.

use super::dimension::{Figure, tick};
use super::{Sheet, TEXT, THIN};
use crate::ink;
use nalgebra::Point2;
use quarterturn_geometry::cut::{Edge, Finished, Spout, Sweep, Which};
use svg::node::element::Group;

/// Lines with figures; empty for other cuts.
pub(super) fn draw(sheet: &Sheet, which: Which, sweep: &Sweep, size: &Finished) -> Group {
    let at = Place { sheet, which, size };
    let cuts = &sheet.job.cuts;
    match which {
        Which::HangingHole => cuts.hanging_hole.as_ref().map(|hole| at.hole(hole.edge, sweep)),
        Which::Spout(i) => cuts.spouts.get(i).map(|spout| at.spout(spout, sweep)),
        Which::FingerRecess(i) => cuts.finger_recesses.get(i).map(|recess| at.recess(recess.edge, sweep)),
        Which::Groove(_) => Some(at.groove(sweep)),
        Which::Foot(0) => Some(at.foot_hole(sweep)),
        Which::Foot(_) => None,
    }
    .unwrap_or_default()
}

/// The middle of a spout between its edge and its groove's nearer rim: where it is measured to.
pub(super) fn spout_at(sheet: &Sheet, spout: &Spout, sweep: &Sweep, size: &Finished) -> Point2<f64> {
    let [low, high] = sweep.extent(size).map(|p| p.xy());
    let middle = nalgebra::center(&low, &high);
    let inward = sheet.job.cuts.grooves.get(spout.groove).map_or(0.0, |groove| groove.setback.mm() / 2.0);
    match spout.edge {
        Edge::Left => Point2::new(inward, middle.y),
        Edge::Right => Point2::new(size.length - inward, middle.y),
        Edge::Front => Point2::new(middle.x, inward),
        Edge::Back => Point2::new(middle.x, size.width - inward),
    }
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
        // From the edge beside the hole, whose own place is too short for a figure.
        let [first, second] = edge.ends();
        let toward =
            if edge.length(self.size) / 2.0 > (middle - self.foot(second, middle)).norm() { first } else { second };
        let beside = middle + toward.outward().xy() * (sweep.profile.at_surface() + 4.5);
        Group::new()
            .add(ink::line(self.page(middle), self.page(beside), THIN))
            .add(self.measure("from edge", self.foot(edge, beside), beside, 0.5))
            .add(self.measure("along", self.low_end(edge, middle), middle, 0.3))
    }

    /// From the left edge to its nearer rim, where no other figure is.
    fn groove(&self, sweep: &Sweep) -> Group {
        let [low, high] = sweep.extent(self.size).map(|p| p.xy());
        let at = Point2::new(low.x + self.rim(), low.y + (high.y - low.y) * 0.2);
        self.measure("setback", self.foot(Edge::Left, at), at, 0.5)
    }

    /// How far the bit's own rim lies within the eased one, mm.
    fn rim(&self) -> f64 {
        let Which::Groove(i) = self.which else { return 0.0 };
        self.sheet.job.cuts.grooves.get(i).and_then(|groove| groove.rim).map_or(0.0, |rim| rim.size())
    }

    fn foot_hole(&self, sweep: &Sweep) -> Group {
        let [low, high] = sweep.extent(self.size).map(|p| p.xy());
        let middle = nalgebra::center(&low, &high);
        let [end, side] = [Edge::Left, Edge::Front].map(|edge| self.foot(edge, middle));
        Group::new().add(self.measure("from end", end, middle, 0.45)).add(self.measure("from side", side, middle, 0.45))
    }

    fn spout(&self, spout: &Spout, sweep: &Sweep) -> Group {
        let at = spout_at(self.sheet, spout, sweep, self.size);
        self.measure("along", self.low_end(spout.edge, at), at, 0.62)
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
            group.add(self.measure(&format!("setback {}", end.name()), corner, reach, 0.72))
        })
    }

    /// A line, and its figure at a share of it; `from` and `to` in the board's frame.
    fn measure(&self, name: &str, from: Point2<f64>, to: Point2<f64>, share: f64) -> Group {
        let key = format!("{}.{name}", self.which.key());
        let at = self.page(from + (to - from) * share);
        let figure = Figure::of(self.sheet.shown(&key)).draw_on_wood(at, TEXT * 0.85, "");
        let [start, end] = [from, to].map(|p| self.page(p));
        Group::new().add(ink::line(start, end, THIN)).add(tick(start)).add(tick(end)).add(figure)
    }

    fn page(&self, p: Point2<f64>) -> [f64; 2] {
        [p.x, self.size.width - p.y]
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
