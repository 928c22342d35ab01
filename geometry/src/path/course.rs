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

    /// The courses of a cutting: paths that follow each other end to end are one. An outline is run clockwise, the board on
    /// the right: the edges of a bit that turns clockwise then enter the board's wood from its side (a climb cut).
    pub(super) fn all(cutting: &Cutting) -> Vec<Self> {
        let mut all: Vec<Self> = Vec::new();
        for path in &cutting.paths {
            let next = Self::of(path, cutting);
            match all.last_mut() {
                Some(last) if !last.closed && !next.closed && (last.end(true) - next.start).norm() < 1e-9 => {
                    last.pieces.extend(next.pieces);
                }
                _ => all.push(next),
            }
        }
        if cutting.cut.is_of_the_whole() {
            all.reverse();
            all.iter_mut().for_each(Self::turn_round);
        }
        all
    }

    /// A closed course of these pieces.
    pub(super) fn closed(pieces: Vec<Piece>) -> Self {
        let start = pieces.first().map(|piece| piece.at(0.0)).unwrap_or_default();
        Self { pieces, closed: true, then: Default::default(), start }
    }

    fn turn_round(&mut self) {
        (self.start, self.pieces) = (self.pieces.last().map_or(self.start, |piece| piece.at(1.0)), self.run(true));
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

/// How far beside the stock a bit goes down, mm.
const BESIDE: f64 = 1.0;

/// Round a face from its rim inward, clockwise, and no turn farther in than leaves a ridge of [`RIDGE`].
///
/// ```text
///   ┌────→────┐    the bit's centre in the outermost turn lies outside the wood: what is still to be cut
///   │ ┌──→──┐ │    always lies on the right, within half of the bit, and the edges of a bit that turns
///   ↑ ↑     ↓ ↓    clockwise come into it from outside, at the rim too. None pushes the rim out.
///   │ └──←──┘ │
///   └────←──────── begins beside the stock
/// ```
/// With e the half width in which the bit's end is flat to [`RIDGE`], and n turns of w = (shorter side) / 2n each, the k-th
/// lies k w − e in from the rim. w is 2/5 of the diameter at most (common practice, no source), and e at most: then each
/// corner is cleared too, where two turns lie w √2 apart (the farthest point from both lies w √2 / (1 + √2) from them).
pub(super) fn inward(cutting: &Cutting) -> Vec<Point2<f64>> {
    let ([long, wide, _], bit) = (cutting.stock, &cutting.profile);
    let clear = bit.half_width(RIDGE.min(bit.depth));
    let turns = (long.min(wide) / 2.0 / clear.min(0.8 * bit.radius)).ceil().max(1.0);
    let each = long.min(wide) / 2.0 / turns;
    let inset = |k: f64| k * each - clear;
    let mut points = vec![Point2::new(long + bit.radius + BESIDE, inset(1.0))];
    let mut k = 1.0;
    while k <= turns {
        let (a, next) = (inset(k), inset((k + 1.0).min(turns)));
        points.extend([[a, a], [a, wide - a], [long - a, wide - a], [long - a, next]].map(|[x, y]| Point2::new(x, y)));
        k += 1.0;
    }
    points
}

/// Pieces up to a length and what is left of them. Neither part of a piece that is divided is shorter than [`SHORTEST`], so
/// that rounding of its ends never turns an arc into a whole turn.
pub(super) fn divided(pieces: &[Piece], at: f64) -> [Vec<Piece>; 2] {
    let [mut head, mut tail] = [Vec::new(), Vec::new()];
    let mut left = at;
    for piece in pieces {
        let long = piece.length();
        let here = if left <= 0.0 { 0.0 } else { left.max(SHORTEST) };
        if here <= 0.0 {
            tail.push(*piece);
        } else if here > long - SHORTEST {
            head.push(*piece);
        } else {
            head.push(piece.part(0.0, here / long));
            tail.push(piece.part(here / long, 1.0));
        }
        left -= long;
    }
    [head, tail]
}

/// The shortest part of a piece, mm.
const SHORTEST: f64 = 0.5;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_is_divided_where_it_is_asked_or_a_little_later() {
        let at = |x: f64| Point2::new(x, 0.0);
        let way = [Piece::Line(at(0.0), at(10.0)), Piece::Line(at(10.0), at(12.0))];
        for (asked, found) in [(4.0, 4.0), (0.1, 0.5), (9.8, 10.0), (10.1, 10.5), (11.9, 12.0), (0.0, 0.0)] {
            let [head, tail] = divided(&way, asked);
            let sum = |pieces: &[Piece]| pieces.iter().map(Piece::length).sum::<f64>();
            assert!((sum(&head) - found).abs() < 1e-12 && (sum(&tail) - 12.0 + found).abs() < 1e-12, "{asked}");
        }
    }
}
