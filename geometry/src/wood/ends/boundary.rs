//! A named line that need not follow a ring: where heartwood ends. Knows nothing of colours.
//!
//! At each end it is kept as the distance across the rings, s, at which it lies in each direction
//! from the pith; in between that distance is blended, so that the line moves with the rings and
//! keeps its own way among them. Beyond its ends it goes on as it came for a third of its own length,
//! then along the ring that it has reached.
//! It doesn't promise much of a line that runs along a ray: such a line has no one distance in a
//! direction.

use super::bend::Bend;
use nalgebra::{Point2, Vector2};

/// Cells in which a line's directions are kept.
const CELLS: usize = 256;

/// A boundary made ready.
#[derive(Debug, Clone)]
pub(super) struct Boundary {
    pub(super) name: String,
    pub(super) around: Around,
    pub(super) ends: [Along; 2],
    /// What lines part-way say of it.
    pub(super) bend: Bend,
}

impl Boundary {
    /// s at which the boundary lies in the direction of a point, at the share t of the length, and
    /// its slope along u and v; without what lines part-way say.
    #[inline]
    pub(super) fn place(&self, p: &Point2<f64>, t: f64) -> (f64, Vector2<f64>) {
        let (turn, slope) = self.around.turn(p, t);
        let [(near, near_slope), (far, far_slope)] = [0, 1].map(|end| self.ends[end].at(turn));
        (near + (far - near) * t, slope * (near_slope + (far_slope - near_slope) * t))
    }
}

/// Directions from the pith, wherever it is at a station.
#[derive(Debug, Clone)]
pub(super) struct Around {
    piths: [Point2<f64>; 2],
    /// Toward the blank's middle: the direction 0.
    ahead: Vector2<f64>,
}

impl Around {
    pub(super) fn new(piths: [Point2<f64>; 2], size: Vector2<f64>) -> Around {
        let middle = nalgebra::center(&piths[0], &piths[1]);
        let ahead = (Point2::from(size / 2.0) - middle).try_normalize(1.0e-9).unwrap_or_else(Vector2::x);
        Around { piths, ahead }
    }

    /// The direction of a point, −2 to 2 for a whole turn, and its slope along u and v: y/(|x| + |y|)
    /// ahead, which rises with the angle as it does, at a fraction of the arc tangent's price.
    #[inline]
    pub(super) fn turn(&self, p: &Point2<f64>, t: f64) -> (f64, Vector2<f64>) {
        let from = p - (self.piths[0] + (self.piths[1] - self.piths[0]) * t);
        let (x, y) = (from.dot(&self.ahead), self.ahead.perp(&from));
        let whole = (x.abs() + y.abs()).max(1.0e-9);
        let part = y / whole;
        let turn = if x >= 0.0 { part } else { 2.0_f64.copysign(y) - part };
        // d/dθ is 1/(|cos θ| + |sin θ|)², and a step along the circle turns by 1/r of it.
        (turn, Vector2::new(-from.y, from.x) / (whole * whole))
    }
}

/// s along the directions from the pith, at one end.
#[derive(Debug, Clone)]
pub(super) struct Along {
    from: f64,
    per_cell: f64,
    values: Vec<f64>,
}

impl Along {
    /// Through points (direction, s), in any order; none of none.
    pub(super) fn new(mut points: Vec<(f64, f64)>) -> Option<Along> {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let ends = [false, true].map(|last| gone_on(&points, last));
        points.splice(0..0, ends[0]);
        points.extend(ends[1]);
        let (from, to) = (points.first()?.0, points.last()?.0);
        let cell = ((to - from) / CELLS as f64).max(1.0e-9);
        let between = |turn: f64| {
            let next = points.partition_point(|(at, _)| *at < turn).clamp(1, points.len().max(2) - 1);
            let (Some((a, low)), Some((b, high))) = (points.get(next - 1), points.get(next)) else {
                return points[0].1;
            };
            let share = if b > a { ((turn - a) / (b - a)).clamp(0.0, 1.0) } else { 0.5 };
            low + (high - low) * share
        };
        Some(Along {
            from,
            per_cell: 1.0 / cell,
            values: (0..=CELLS).map(|n| between(from + n as f64 * cell)).collect(),
        })
    }

    /// s in a direction, and how it rises.
    #[inline]
    fn at(&self, turn: f64) -> (f64, f64) {
        let last = self.values.len() - 1;
        let x = (turn - self.from) * self.per_cell;
        if !(0.0..last as f64).contains(&x) {
            return (self.values[if x < 0.0 { 0 } else { last }], 0.0);
        }
        let cell = (x as usize).min(last - 1);
        let rise = self.values[cell + 1] - self.values[cell];
        (self.values[cell] + rise * (x - cell as f64), rise * self.per_cell)
    }
}

/// Where a line comes to that goes on for a third of its own length, sloping as its first or last
/// fifth does; none where it has no length.
fn gone_on(points: &[(f64, f64)], last: bool) -> Option<(f64, f64)> {
    let (low, high) = (points.first()?, points.last()?);
    let range = high.0 - low.0;
    let (end, way) = if last { (high, 1.0) } else { (low, -1.0) };
    let far_enough = |p: &&(f64, f64)| (p.0 - end.0).abs() >= 0.2 * range;
    let inner = if last { points.iter().rev().find(far_enough) } else { points.iter().find(far_enough) }?;
    let slope = (end.1 - inner.1) / (end.0 - inner.0);
    (range > 0.0).then(|| (end.0 + way * range / 3.0, end.1 + way * slope * range / 3.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_rise_all_the_way_round_and_their_slope_is_so() {
        let around = Around::new([Point2::new(3.0, 2.0); 2], Vector2::new(30.0, 20.0));
        let at = |angle: f64| Point2::new(3.0, 2.0) + nalgebra::Rotation2::new(angle) * Vector2::new(12.0, 8.0);
        let mut last = -2.1;
        for n in -99..=99 {
            let angle = std::f64::consts::PI * f64::from(n) / 100.0;
            let (turn, slope) = around.turn(&at(angle), 0.5);
            assert!(turn > last, "{n}");
            last = turn;
            let step = Vector2::new(1e-6, -2e-6);
            let (next, _) = around.turn(&(at(angle) + step), 0.5);
            assert!(n == 50 || n == -50 || n == 0 || (next - turn - slope.dot(&step)).abs() < 1e-10, "{n}");
        }
    }

    #[test]
    fn a_line_is_met_between_its_points_goes_on_a_little_and_then_level() {
        let line = Along::new(vec![(0.5, 4.0), (0.0, 2.0), (1.0, 4.0)]).unwrap();
        for (turn, s) in
            [(-1.0, 2.0 - 4.0 / 3.0), (-0.2, 1.2), (0.0, 2.0), (0.25, 3.0), (0.5, 4.0), (0.9, 4.0), (7.0, 4.0)]
        {
            assert!((line.at(turn).0 - s).abs() < 0.02, "{turn}: {:?}", line.at(turn));
        }
        assert!((line.at(0.2).1 - 4.0).abs() < 1e-9);
        assert!(Along::new(vec![(0.3, 1.0)]).unwrap().at(9.0).0 == 1.0 && Along::new(Vec::new()).is_none());
    }
}
