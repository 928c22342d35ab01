//! A recess wider than its bit: a slot along its middle, rings outward to a little off the walls, and a light pass along them.
//!
//! ```text
//!   ┌──────────── wall ────────────┐      anti-clockwise the wood lies on the right, and the edges of a bit that turns
//!   │  ┌───────── ring ─────────┐  │      clockwise come into it from its side: a climb cut; clockwise a conventional one
//!   │  ═══════════ slot ═════════  │
//!   │  └───────╮ onto ╭ off ────┘  │      onto the wall and off it along quarter circles, where there is room
//!   └──────────╯──────╰────────────┘
//! ```

use super::Cutting;
use super::course::RIDGE;
use crate::cut::region::Piece;
use crate::job::{Cnc, Milling};
use nalgebra::Point2;
use std::f64::consts::{FRAC_PI_2, PI};

/// Under this a quarter circle is a straight line, mm.
const LEAST_ARC: f64 = 0.5;
/// How far along the wall the last pass goes on where it has begun, mm.
const OVERLAP: f64 = 1.0;

/// Where the bit's centre goes: a rectangle, longer or wider.
pub(super) struct Pocket {
    /// The walls' way.
    walls: [Point2<f64>; 2],
    /// How far off the walls the rings stay, along X and along Y.
    off: [f64; 2],
    /// Half widths of the rings, growing; none where the slot is all.
    rings: Vec<f64>,
    widening: Milling,
    last: Milling,
    /// The bit's radius.
    radius: f64,
}

impl Pocket {
    /// No two ways lie farther apart than 2/5 of the diameter (common practice, no source), nor than leaves a ridge of
    /// [`RIDGE`] between them: (R − r) + √(r² − (r − ridge)²) to either side.
    pub(super) fn of(walls: [Point2<f64>; 2], cutting: &Cutting, cnc: &Cnc) -> Self {
        let bit = &cutting.profile;
        let apart = (2.0 * bit.half_width(RIDGE)).min(0.8 * bit.radius);
        let size = walls[1] - walls[0];
        let light = cnc.wall_pass.mm().min(apart);
        // A short slot is not made shorter still.
        let off = [light.min(size.x / 4.0), light.min(size.y / 2.0)];
        let half = size.y / 2.0 - off[1];
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let n = (half / apart - 1e-9).ceil().max(0.0) as u32;
        let rings = (1..=n).map(|k| half * f64::from(k) / f64::from(n)).collect();
        Self { walls, off, rings, widening: cnc.widening, last: cnc.last_pass, radius: bit.radius }
    }

    /// What is left along the two long walls for the last pass, mm.
    pub(super) const fn light(&self) -> f64 {
        self.off[1]
    }

    /// The slot, and what is run after it from its one end and from its other, back to there.
    pub(super) fn ways(&self) -> (Piece, [Vec<Piece>; 2]) {
        let [left, right] = self.ends();
        (Piece::Line(left, right), [0, 1].map(|side| self.from(side)))
    }

    /// The slot's.
    fn ends(&self) -> [Point2<f64>; 2] {
        let [low, high] = self.walls;
        let middle = (low.y + high.y) / 2.0;
        [Point2::new(low.x + self.off[0], middle), Point2::new(high.x - self.off[0], middle)]
    }

    fn from(&self, side: usize) -> Vec<Piece> {
        let (here, there) = (self.ends()[side], self.ends()[1 - side]);
        let mut pieces = Vec::new();
        for half in &self.rings {
            // Anti-clockwise from the left end means down first.
            let first = if (side == 0) == (self.widening == Milling::Climb) { -half } else { *half };
            let at = |x: f64, off: f64| Point2::new(x, here.y + off);
            let ring = [at(here.x, first), at(there.x, first), at(there.x, -first), at(here.x, -first), here];
            lines(&mut pieces, here, &ring);
        }
        self.round_the_walls(&mut pieces, here);
        pieces
    }

    /// From the slot's end onto the middle of the lower wall, once round, off it and back.
    fn round_the_walls(&self, pieces: &mut Vec<Piece>, here: Point2<f64>) {
        let [low, high] = self.walls;
        let size = high - low;
        let ahead = if self.last == Milling::Climb { 1.0 } else { -1.0 };
        let middle = (low.x + high.x) / 2.0;
        let on = |along: f64, up: f64| Point2::new(middle + ahead * along, low.y + up);
        let (round, over) = ((size.y / 2.0).min(self.radius).min(size.x / 4.0), OVERLAP.min(size.x / 8.0));
        let [first, second] = if ahead > 0.0 { [high, low] } else { [low, high] };
        let corners = [(first.x, low.y), (first.x, high.y), (second.x, high.y), (second.x, low.y)];
        let mut way: Vec<Point2<f64>> = corners.iter().map(|(x, y)| Point2::new(*x, *y)).collect();
        way.push(on(over, 0.0));
        if round >= LEAST_ARC {
            let begin = if ahead > 0.0 { PI } else { 0.0 };
            let arc = |along: f64, from: f64| Piece::Arc {
                centre: on(along, round),
                radius: round,
                from,
                turn: ahead * FRAC_PI_2,
            };
            pieces.push(Piece::Line(here, on(-round, round)));
            pieces.push(arc(0.0, begin));
            lines(pieces, on(0.0, 0.0), &way);
            pieces.push(arc(over, -FRAC_PI_2));
            pieces.push(Piece::Line(on(over + round, round), here));
        } else {
            let long = size.x / 4.0;
            lines(pieces, here, &[on(-long, size.y / 2.0), on(0.0, 0.0)]);
            lines(pieces, on(0.0, 0.0), &way);
            lines(pieces, on(over, 0.0), &[on(over + long, size.y / 2.0), here]);
        }
    }
}

/// Straight lines from point to point.
fn lines(pieces: &mut Vec<Piece>, from: Point2<f64>, to: &[Point2<f64>]) {
    let mut at = from;
    for p in to {
        pieces.push(Piece::Line(at, *p));
        at = *p;
    }
}
