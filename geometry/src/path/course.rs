//! The lines and arcs that a bit's centre follows at one level.

use super::Cutting;
use crate::cut::Path;
use crate::cut::region::{Loop, Piece};
use nalgebra::Point2;

/// One stretch of the way, in a program's X and Y.
#[derive(Clone, Debug)]
pub(super) struct Course {
    /// Piece after piece; none is a plunge.
    pub(super) pieces: Vec<Piece>,
    /// Whether it ends where it begins.
    pub(super) closed: bool,
    /// Points to run to in straight lines at each depth, when the course has been run level, from where it begins and
    /// from where it ends: what widens a recess.
    pub(super) then: [Vec<Point2<f64>>; 2],
    start: Point2<f64>,
}

impl Course {
    pub(super) fn of(path: &Path, cutting: &Cutting) -> Self {
        let open =
            |start: Point2<f64>, pieces: Vec<Piece>| Self { pieces, closed: false, then: Default::default(), start };
        match path {
            Path::Filled(corners) => {
                let [low, high] = path.extent();
                let lines = if corners.len() > 2 { lines(low.y, high.y, cutting) } else { Vec::new() };
                let (start, end) = match corners.as_slice() {
                    [] => (low, low),
                    [only] => (*only, *only),
                    [a, b] => (*a, *b),
                    _ => (low, Point2::new(high.x, low.y)),
                };
                let run = if (end - start).norm() > 0.0 { vec![Piece::Line(start, end)] } else { Vec::new() };
                Self { then: [0, 1].map(|side| widen([low.x, high.x], &lines, side)), ..open(start, run) }
            }
            Path::Arch(arch) => {
                let piece = Piece::Arc { centre: arch.centre, radius: arch.radius, from: arch.from, turn: arch.turn };
                open(piece.at(0.0), vec![piece])
            }
            Path::Round(path) => {
                let Loop(pieces) = path.outline();
                let start = pieces.first().map_or(path.low, |piece| piece.at(0.0));
                Self { closed: true, ..open(start, pieces) }
            }
        }
    }

    pub(super) fn length(&self) -> f64 {
        self.pieces.iter().map(Piece::length).sum()
    }

    /// Where it begins, or, run the other way, ends.
    pub(super) fn end(&self, back: bool) -> Point2<f64> {
        if back && !self.closed { self.pieces.last().map_or(self.start, |piece| piece.at(1.0)) } else { self.start }
    }

    /// Its pieces, there or back.
    pub(super) fn run(&self, back: bool) -> Vec<Piece> {
        if back { self.pieces.iter().rev().map(Piece::reversed).collect() } else { self.pieces.clone() }
    }
}

/// The ridge that may stand between two lines, mm: half of what a floor may be off by.
const RIDGE: f64 = 0.005;

/// The levels in Y of the lines that clear a rectangle.
///
/// No farther apart than 2/5 of the diameter (common practice, no source), nor than leaves a ridge of [`RIDGE`] between
/// two of them: (R − r) + √(r² − (r − ridge)²) to either side.
fn lines(low: f64, high: f64, cutting: &Cutting) -> Vec<f64> {
    let bit = &cutting.profile;
    let apart = (2.0 * bit.half_width(RIDGE)).min(0.8 * bit.radius);
    let steps = ((high - low) / apart).ceil().max(1.0) as u32;
    (0..=steps).map(|k| low + (high - low) * f64::from(k) / f64::from(steps)).collect()
}

/// From one end of the lowest line: all the others to and fro, then once round the walls, back to where it began.
fn widen(x: [f64; 2], lines: &[f64], end: usize) -> Vec<Point2<f64>> {
    let (Some(first), Some(last), true) = (lines.first(), lines.last(), lines.len() > 1) else { return Vec::new() };
    let at = |end: usize, y: f64| Point2::new(x[end], y);
    let mut side = end;
    let mut points = Vec::new();
    for y in &lines[1..] {
        points.extend([at(side, *y), at(1 - side, *y)]);
        side = 1 - side;
    }
    points.extend([at(side, *first), at(1 - side, *first), at(1 - side, *last), at(side, *last), at(side, *first)]);
    if side != end {
        points.push(at(end, *first));
    }
    points
}
