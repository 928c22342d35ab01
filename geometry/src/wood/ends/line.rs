//! Traced lines: what is given, and distances between them. Knows nothing of rings' numbers.

use nalgebra::{Point2, Point3};

/// A line traced on an end, in the blank's (u, v), mm, from one end of the arc to the other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EndLine {
    /// The same name on the other end is the same line; empty for a line without a name.
    pub name: String,
    /// At least two points. The arc may be open and may leave the blank.
    pub points: Vec<Point2<f64>>,
}

/// What is traced on one end of a blank.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EndLines {
    /// Ring boundaries, **from the inside out and without a gap**: each line is the boundary of the
    /// ring next to the last one's. Both ends in the same sense.
    pub rings: Vec<EndLine>,
    /// Where the rings have their centre, if it is known; it may lie outside the blank.
    pub pith: Option<Point2<f64>>,
    /// Named lines that need not follow a ring: where heartwood ends, where a colour changes.
    pub boundaries: Vec<EndLine>,
}

/// One ring boundary followed anywhere in the blank: along a long face or an edge, or across a
/// section part-way. In the blank's (u, v, w), mm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Course {
    /// The same name on an end is the same line, a ring or a boundary; empty for a line without a
    /// name, which is a ring.
    pub name: String,
    /// Its ring number, counted as the answer counts (the near end's first line is 0), if the
    /// maker knows it; otherwise it is found.
    pub number: Option<i64>,
    /// Whether it was seen on a fresh face, after the ends: what it changed is said.
    pub fresh: bool,
    /// At least one point.
    pub points: Vec<Point3<f64>>,
}

/// A part of the wood in which nothing is predicted: a knot, a check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disturbed {
    /// Its middle, in the blank's (u, v, w), mm.
    pub middle: Point3<f64>,
    /// How far it disturbs the rings, mm.
    pub radius: f64,
}

/// Distance from `from` to the line, mm; none where the nearest point is one of the line's two
/// ends, because the line might have gone on.
pub(super) fn distance_across(line: &[Point2<f64>], from: &Point2<f64>) -> Option<f64> {
    let last = line.len().checked_sub(2)?;
    let mut best = (f64::INFINITY, false);
    for (at, pair) in line.windows(2).enumerate() {
        let way = pair[1] - pair[0];
        let along = (from - pair[0]).dot(&way) / way.norm_squared().max(f64::MIN_POSITIVE);
        let gap = (from - (pair[0] + way * along.clamp(0.0, 1.0))).norm();
        let inside = (at > 0 || along >= 0.0) && (at < last || along <= 1.0);
        if gap < best.0 {
            best = (gap, inside);
        }
    }
    best.1.then_some(best.0)
}

/// Distance from a place to the nearest point of the line, its two ends included, mm.
pub(super) fn distance_to(line: &[Point2<f64>], place: &Point2<f64>) -> f64 {
    let to_stretch = |pair: &[Point2<f64>]| {
        let way = pair[1] - pair[0];
        let along = (place - pair[0]).dot(&way) / way.norm_squared().max(f64::MIN_POSITIVE);
        (place - (pair[0] + way * along.clamp(0.0, 1.0))).norm_squared()
    };
    line.windows(2).map(to_stretch).fold(f64::INFINITY, f64::min).sqrt()
}

/// Width of the ring between two neighbouring boundaries, mm: the median distance of each one's
/// points to the other. None where no point of one lies across from the other.
pub(in crate::wood) fn width_between(inner: &EndLine, outer: &EndLine) -> Option<f64> {
    let across = |a: &EndLine, b: &EndLine| -> Vec<f64> {
        a.points.iter().filter_map(|p| distance_across(&b.points, p)).collect()
    };
    let mut gaps = across(inner, outer);
    gaps.extend(across(outer, inner));
    median(&mut gaps)
}

/// The middle one of some numbers; none of none.
pub(super) fn median(numbers: &mut [f64]) -> Option<f64> {
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied()
}
