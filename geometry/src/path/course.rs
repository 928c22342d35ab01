//! The lines and arcs that a bit's centre follows at one level.

use super::Cutting;
use super::pocket::Pocket;
use crate::cut::region::{Loop, Piece};
use crate::cut::{Cut, LEAST_ROUND, Path, Which};
use crate::job::{Cnc, Milling};
use nalgebra::Point2;

/// One stretch of the way, in a program's X and Y.
#[derive(Clone, Debug)]
pub(super) struct Course {
    /// Piece after piece; none is a plunge.
    pub(super) pieces: Vec<Piece>,
    /// Whether it ends where it begins.
    pub(super) closed: bool,
    /// What is run at each depth when the course has been run level, from where it begins and back there, and from where it
    /// ends: what widens a recess.
    pub(super) then: [Vec<Piece>; 2],
    /// A wall beside it, that is run along last at each depth.
    pub(super) wall: Option<Wall>,
    /// What the pass along the walls of a recess takes, mm.
    light: f64,
    start: Point2<f64>,
}

/// A wall's way beside a course: all of it lies as far off.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wall {
    /// How far to the left of the course it lies, mm; to the right where negative.
    pub(super) off: f64,
    /// Whether it is run against the course.
    pub(super) backward: bool,
}

impl Course {
    fn of(path: &Path, cutting: &Cutting, cnc: &Cnc) -> Self {
        match path {
            Path::Filled(corners) if corners.len() > 2 => {
                let pocket = Pocket::of(path.extent(), cutting, cnc);
                let (slot, then) = pocket.ways();
                let Piece::Line(start, _) = slot else { return Self::open(path.extent()[0], vec![slot]) };
                Self { then, light: pocket.light(), ..Self::open(start, vec![slot]) }
            }
            Path::Filled(corners) => {
                let start = corners.first().copied().unwrap_or_default();
                let end = corners.last().copied().unwrap_or_default();
                let run = if (end - start).norm() > 0.0 { vec![Piece::Line(start, end)] } else { Vec::new() };
                Self::open(start, run)
            }
            Path::Arch(arch) => {
                let piece = Piece::Arc { centre: arch.centre, radius: arch.radius, from: arch.from, turn: arch.turn };
                Self::open(piece.at(0.0), vec![piece])
            }
            Path::Round(path) => {
                let Loop(pieces) = path.outline();
                let start = pieces.first().map_or(path.low, |piece| piece.at(0.0));
                Self { closed: true, ..Self::open(start, pieces) }
            }
        }
    }

    const fn open(start: Point2<f64>, pieces: Vec<Piece>) -> Self {
        Self { pieces, closed: false, then: [Vec::new(), Vec::new()], wall: None, light: 0.0, start }
    }

    /// The courses of a cutting: paths that follow each other end to end are one. An outline is first cut a little farther out
    /// where the last pass along its wall is a light one, and that pass is its [`Wall`]; clockwise round the board, which is
    /// then on the right, is a climb cut.
    pub(super) fn all(cutting: &Cutting, cnc: &Cnc) -> Vec<Self> {
        let mut all: Vec<Self> = Vec::new();
        for path in cutting.walls() {
            let next = Self::of(path, cutting, cnc);
            match all.last_mut() {
                Some(last) if !last.closed && !next.closed && (last.end(true) - next.start).norm() < 1e-9 => {
                    last.pieces.extend(next.pieces);
                }
                _ => all.push(next),
            }
        }
        if matches!(cutting.cut, Cut::Face(Which::Foot(_) | Which::HangingHole)) {
            all.iter_mut().for_each(|course| course.round_a_hole(cnc));
        }
        if matches!(cutting.cut, Cut::Outline | Cut::BetweenTabs) {
            let [first, last] = if cutting.beside > 0.0 { [cnc.widening, cnc.last_pass] } else { [cnc.last_pass; 2] };
            all.iter_mut().for_each(|course| course.round_the_board(cutting.beside, [first, last]));
            if first == Milling::Climb {
                all.reverse();
            }
        }
        all
    }

    /// From the wall's way anti-clockwise round a board to the way beside it, run so first and so along the wall.
    fn round_the_board(&mut self, beside: f64, [first, last]: [Milling; 2]) {
        let mut off = beside;
        self.pieces = self.pieces.iter().map(|piece| piece.beside(-off)).collect();
        if first == Milling::Climb {
            self.pieces = self.run(true);
            off = -off;
        }
        self.start = self.pieces.first().map_or(self.start, |piece| piece.at(0.0));
        self.wall = (beside > 0.0).then_some(Wall { off, backward: first != last });
    }

    /// What its wall's pass takes, mm; 0 where there is none.
    pub(super) fn light(&self) -> f64 {
        self.wall.map_or(self.light, |wall| wall.off.abs())
    }

    /// From the wall's way anti-clockwise round in a hole to one a little within it.
    fn round_a_hole(&mut self, cnc: &Cnc) {
        let Some(Piece::Arc { radius, .. }) = self.pieces.first().filter(|_| self.closed) else { return };
        let within = cnc.wall_pass.mm().min(radius - LEAST_ROUND).max(0.0);
        let [first, last] = if within > 0.0 { [cnc.widening, cnc.last_pass] } else { [cnc.last_pass; 2] };
        let mut off = -within;
        self.pieces = self.pieces.iter().map(|piece| piece.beside(within)).collect();
        if first == Milling::Conventional {
            self.pieces = self.run(true);
            off = within;
        }
        self.start = self.pieces.first().map_or(self.start, |piece| piece.at(0.0));
        self.wall = (within > 0.0).then_some(Wall { off, backward: first != last });
    }

    /// The same closed course, begun elsewhere: with these pieces.
    pub(super) fn begin_with(&mut self, pieces: Vec<Piece>) {
        self.start = pieces.first().map_or(self.start, |piece| piece.at(0.0));
        self.pieces = joined(pieces);
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

/// Pieces that go straight on, or on round the same middle, as one.
pub(super) fn joined(pieces: Vec<Piece>) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        let one = all.last().and_then(|last| match (*last, piece) {
            (Piece::Line(a, b), Piece::Line(c, d)) => {
                let (u, v) = (b - a, d - c);
                (u.perp(&v).abs() < 1e-12 * u.norm() * v.norm() && u.dot(&v) > 0.0).then_some(Piece::Line(a, d))
            }
            (Piece::Arc { centre, radius, from, turn }, Piece::Arc { centre: c, radius: r, turn: t, .. }) => {
                let on = (c - centre).norm() < 1e-9 && (r - radius).abs() < 1e-9 && turn * t > 0.0;
                on.then_some(Piece::Arc { centre, radius, from, turn: turn + t })
            }
            _ => None,
        });
        match (one, all.last_mut()) {
            (Some(one), Some(last)) => *last = one,
            _ => all.push(piece),
        }
    }
    all
}

/// The ridge that may stand between two ways of the bit, mm: half of what a floor may be off by.
pub(super) const RIDGE: f64 = 0.005;

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
pub(super) const SHORTEST: f64 = 0.5;

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
