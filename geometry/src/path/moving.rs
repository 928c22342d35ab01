//! The moves of a program along its courses, level by level. Knows courses; nothing of machines but their ramp and whether
//! they may plunge.

use super::course::{Course, SHORTEST, divided, inward, joined};
use super::program::{Move, NoProgram, Program};
use crate::cut::region::Piece;
use crate::job::Cnc;
use nalgebra::{Point2, Point3};
use std::f64::consts::PI;

/// A smaller arc is written as a straight line, mm: its numbers' rounding would leave no radius, and a controller refuse it.
/// No part of a quarter of it lies farther from that line than 0.3 of this.
const SMALLEST: f64 = 0.01;

/// The most legs that one pass may ramp down in.
const MOST_LEGS: f64 = 40.0;

/// How long a lead onto a wall and off it is along the wall, mm (common practice, no source).
const LEAD: f64 = 3.0;

impl Program {
    /// Down beside the stock for each pass, then round and round inward.
    pub(super) fn level(&mut self) {
        let way = inward(&self.cutting);
        let (Some(first), Some(last)) = (way.first().copied(), way.last().copied()) else { return };
        let at = |p: Point2<f64>, z: f64| Point3::new(p.x, p.y, z);
        for depth in self.depths.clone() {
            self.moves.push(Move::Rapid(at(first, self.safe_height)));
            self.moves.push(Move::Feed(at(first, -depth), self.feeds.ramp_feed));
            self.moves.extend(way[1..].iter().map(|p| Move::Feed(at(*p, -depth), self.feeds.feed)));
            self.moves.push(Move::Rapid(at(last, self.safe_height)));
        }
    }

    /// Down along a course to each depth; there all over it, over what widens it, and along its wall.
    pub(super) fn cut(&mut self, mut course: Course, cnc: &Cnc) -> Result<(), NoProgram> {
        let at = |course: &Course, back: bool, z: f64| {
            let p = course.end(back);
            Point3::new(p.x, p.y, z)
        };
        let (cleared, ramp) = (self.cutting.cleared, f64::from(cnc.ramp));
        self.moves.push(Move::Rapid(at(&course, false, self.safe_height)));
        self.moves.push(Move::Feed(at(&course, false, -cleared), self.feeds.ramp_feed));
        let (mut back, mut z, long) = (false, -cleared, course.length());
        let is_hole = course.pieces.is_empty();
        for depth in self.depths.clone() {
            let drop = z + depth;
            let legs = (drop * ramp / long).ceil().max(1.0);
            if is_hole || legs > MOST_LEGS {
                if !self.cutting.bit.cuts_at_centre || !cnc.plunge {
                    return Err(NoProgram::NoRamp);
                }
                if is_hole && z < 0.0 {
                    self.moves.push(Move::Feed(at(&course, back, 0.0), self.feeds.feed));
                }
                self.moves.push(Move::Feed(at(&course, back, -depth), self.feeds.ramp_feed));
                if !is_hole {
                    self.follow(&course.run(back), [-depth; 2], self.feeds.feed);
                    back ^= !course.closed;
                }
            } else {
                self.down(&mut course, &mut back, [z, -depth], ramp, legs);
            }
            z = -depth;
            self.follow(&course.then[usize::from(back)].clone(), [z; 2], self.feeds.feed);
            self.along_the_wall(&mut course, &mut back, z);
        }
        self.moves.push(Move::Rapid(at(&course, back, self.safe_height)));
        Ok(())
    }

    /// Down to the next level along the course, in so many legs, then level over all of it: a closed course begins the next
    /// time where the ramp has ended, an open one is run back.
    fn down(&mut self, course: &mut Course, back: &mut bool, [from, to]: [f64; 2], ramp: f64, legs: f64) {
        let (ramp_feed, feed) = (self.feeds.ramp_feed, self.feeds.feed);
        if legs > 1.0 {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            for leg in 0..legs as usize {
                let level = |n: usize| from + (to - from) * n as f64 / legs;
                self.follow(&course.run(*back), [level(leg), level(leg + 1)], ramp_feed);
                *back ^= !course.closed;
            }
            self.follow(&course.run(*back), [to; 2], feed);
            *back ^= !course.closed;
            return;
        }
        let [head, tail] = divided(&course.run(*back), (from - to) * ramp);
        self.follow(&head, [from, to], ramp_feed);
        self.follow(&tail, [to; 2], feed);
        if course.closed {
            self.follow(&head, [to; 2], feed);
            course.begin_with([tail, head].concat());
        } else {
            self.follow(&course.run(!*back), [to; 2], feed);
        }
    }

    /// Once along the wall beside a course, which is a little off it: onto it and off it slantwise, and round all of it where
    /// the course is closed, a little farther than where it came onto it. An open one begins and ends where it stops.
    ///
    /// ```text
    ///   ─────────◄────────── course ──────┐       the next time the course begins where the lead-out ends
    ///         ╲ off            onto ╲     │
    ///   ───────╲──────── wall ───────╲────┘
    /// ```
    fn along_the_wall(&mut self, course: &mut Course, back: &mut bool, z: f64) {
        let Some(wall) = course.wall else { return };
        let feed = self.feeds.feed;
        let pieces = turned(course.pieces.clone(), wall.backward);
        let off = if wall.backward { -wall.off } else { wall.off };
        let beside = |pieces: &[Piece]| pieces.iter().map(|p| p.beside(off)).collect::<Vec<_>>();
        let line = |a: Point2<f64>, b: Point2<f64>| vec![Piece::Line(a, b)];
        let (start, end) = (from(&pieces), to(&pieces));
        if !course.closed {
            // To the end at which the wall's pass begins.
            if *back != wall.backward {
                self.follow(&course.run(*back), [z; 2], feed);
            }
            let along = beside(&pieces);
            let way = [line(start, from(&along)), along.clone(), line(to(&along), end)].concat();
            self.follow(&way, [z; 2], feed);
            *back = !wall.backward;
            return;
        }
        let [head, tail] = divided(&pieces, lead(&pieces, off));
        let round = joined([tail, head].concat());
        let along = beside(&round);
        let [head, tail] = divided(&round, lead(&round, off));
        let leaves = if head.is_empty() { from(&tail) } else { to(&head) };
        let way = [line(start, from(&along)), along.clone(), line(to(&along), leaves)].concat();
        self.follow(&way, [z; 2], feed);
        course.begin_with(turned([tail, head].concat(), wall.backward));
    }

    /// Along pieces, from one level evenly to another. An arc through more than three quarters of a turn is made of two: rounding
    /// never turns it into none.
    pub(super) fn follow(&mut self, pieces: &[Piece], [from, to]: [f64; 2], feed: f64) {
        let halves = |piece: &Piece| match piece {
            Piece::Arc { turn, .. } if turn.abs() > 1.5 * PI => vec![piece.part(0.0, 0.5), piece.part(0.5, 1.0)],
            _ => vec![*piece],
        };
        let pieces: Vec<Piece> = pieces.iter().flat_map(halves).collect();
        let whole: f64 = pieces.iter().map(Piece::length).sum();
        let mut done = 0.0;
        for (i, piece) in pieces.iter().enumerate() {
            done += piece.length();
            let z = if i + 1 == pieces.len() { to } else { from + (to - from) * done / whole };
            let end = piece.at(1.0);
            let to = Point3::new(end.x, end.y, z);
            self.moves.push(match piece {
                Piece::Line(..) => Move::Feed(to, feed),
                Piece::Arc { radius, .. } if *radius < SMALLEST => Move::Feed(to, feed),
                Piece::Arc { centre, turn, .. } => Move::Arc { to, centre: *centre, clockwise: *turn < 0.0, feed },
            });
        }
    }
}

fn from(pieces: &[Piece]) -> Point2<f64> {
    pieces.first().map(|piece| piece.at(0.0)).unwrap_or_default()
}

fn to(pieces: &[Piece]) -> Point2<f64> {
    pieces.last().map(|piece| piece.at(1.0)).unwrap_or_default()
}

/// Pieces, or the same the other way.
fn turned(pieces: Vec<Piece>, back: bool) -> Vec<Piece> {
    if back { pieces.iter().rev().map(Piece::reversed).collect() } else { pieces }
}

/// How long the lead onto a wall that lies `off` to the left of these pieces may be: within the first of them, and so short
/// that its chord doesn't cut a wall that bulges toward it, nothing where that leaves no room.
///
/// A chord from ρ + a to ρ that turns through φ stays outside of ρ where cos φ ≥ ρ / (ρ + a): φ up to about √(2a/ρ).
fn lead(pieces: &[Piece], off: f64) -> f64 {
    let Some(first) = pieces.first() else { return 0.0 };
    let room = match (first, first.beside(off)) {
        (Piece::Arc { radius, .. }, Piece::Arc { radius: wall, .. }) if wall < *radius => {
            0.9 * (2.0 * off.abs() * wall.max(0.0)).sqrt() - SHORTEST
        }
        (Piece::Arc { .. }, _) => first.length() / 8.0,
        (Piece::Line(..), _) => first.length(),
    };
    if room < SHORTEST { 0.0 } else { room.min(LEAD) }
}
