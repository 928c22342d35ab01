//! Lines followed along the edges, through the places where pores or dirt hide them. Knows edges,
//! nothing of which ring is which.

use super::edge::Edges;
use nalgebra::Point2;
use std::collections::BTreeMap;

/// A line starts where an edge is this strong, and is seen where it is at least that strong, in
/// sizes of the whole (the edges of rings reach about 2).
const START: f32 = 1.0;
const SEEN: f32 = 0.6;
/// Followed unseen for at most this far, in σ (a ring's width is about 5).
const UNSEEN: f32 = 12.0;
/// A line claims what is this near to it, in σ.
const CLAIM: f32 = 1.3;
/// Shorter lines are dropped, in σ.
const SHORTEST: f32 = 8.0;
/// A line this much fainter than the strong ones is dropped.
const FAINTEST: f32 = 0.45;
/// The longest are kept.
const MOST_LINES: usize = 300;
/// Looked for the edge this far aside at each step, pixels, and how much of it is followed.
const ASIDE: f32 = 1.5;
const FOLLOWED: f32 = 0.5;

/// A line of pixels, a step of one pixel between points, the inner side on its left hand.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) points: Vec<Point2<f32>>,
    /// Strength of the edge, mean.
    pub(super) strength: f32,
    /// Share of the points where it is seen.
    pub(super) seen: f32,
}

impl Line {
    pub(super) fn length(&self) -> f32 {
        self.points.windows(2).map(|pair| (pair[1] - pair[0]).norm()).sum()
    }
}

/// Every line, the strongest first.
pub(super) fn lines(edges: &Edges) -> Vec<Line> {
    let mut ground = Ground { edges, claimed: vec![false; edges.strength.values.len()] };
    let mut found = Vec::new();
    for (x, y) in ground.seeds() {
        if ground.is_claimed(&Point2::new(x, y)) {
            continue;
        }
        let points = ground.both_ways(Point2::new(x, y));
        ground.claim(&points);
        let strengths: Vec<f32> = points.iter().map(|p| edges.strength.between(p.x, p.y)).collect();
        let of = |sum: f32| sum / points.len() as f32;
        let seen = of(strengths.iter().filter(|s| **s >= SEEN).count() as f32);
        let line = Line { strength: of(strengths.iter().sum()), seen, points };
        if line.length() >= SHORTEST * edges.course.scale as f32 {
            found.push(line);
        }
    }
    let strong = strong(&found);
    found.retain(|line| line.strength >= FAINTEST * strong && line.seen > 0.5);
    found.sort_by(|a, b| b.length().total_cmp(&a.length()));
    found.truncate(MOST_LINES);
    found
}

/// The strength that a quarter of all length reaches.
fn strong(lines: &[Line]) -> f32 {
    let mut by_strength: Vec<(f32, f32)> = lines.iter().map(|line| (line.strength, line.length())).collect();
    by_strength.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut left = 0.25 * by_strength.iter().map(|(_, length)| length).sum::<f32>();
    let reached = by_strength.iter().find(|(_, length)| {
        left -= length;
        left <= 0.0
    });
    reached.map_or(0.0, |(strength, _)| *strength)
}

struct Ground<'a> {
    edges: &'a Edges,
    claimed: Vec<bool>,
}

impl Ground<'_> {
    /// Where the strength is greatest along the direction across, the greatest first.
    fn seeds(&self) -> Vec<(f32, f32)> {
        let (strength, course) = (&self.edges.strength, &self.edges.course);
        let mut seeds = Vec::new();
        for y in 1..strength.height - 1 {
            for x in 1..strength.width - 1 {
                let (here, p) = (strength.at(x, y), (x as f32, y as f32));
                let (a, b) = course.at(p.0, p.1);
                let beside = strength.between(p.0 + a, p.1 + b).max(strength.between(p.0 - a, p.1 - b));
                if here >= START && here >= beside {
                    seeds.push((here, p));
                }
            }
        }
        seeds.sort_by(|a, b| b.0.total_cmp(&a.0));
        seeds.into_iter().map(|(_, p)| p).collect()
    }

    fn is_claimed(&self, p: &Point2<f32>) -> bool {
        let width = self.edges.strength.width;
        self.claimed[p.y.round() as usize * width + p.x.round() as usize]
    }

    fn claim(&mut self, points: &[Point2<f32>]) {
        let (width, height) = (self.edges.strength.width, self.edges.strength.height);
        let radius = CLAIM * self.edges.course.scale as f32;
        for p in points {
            let span = |at: f32, most: usize| (at - radius).max(0.0) as usize..=((at + radius) as usize).min(most - 1);
            for y in span(p.y, height) {
                for x in span(p.x, width) {
                    if (x as f32 - p.x).hypot(y as f32 - p.y) <= radius {
                        self.claimed[y * width + x] = true;
                    }
                }
            }
        }
    }

    /// Outward lies on the right hand of the way.
    fn both_ways(&self, start: Point2<f32>) -> Vec<Point2<f32>> {
        let (mut points, closed) = self.one_way(start, -1.0);
        points.reverse();
        points.push(start);
        if !closed {
            points.extend(self.one_way(start, 1.0).0);
        }
        points
    }

    /// The points after the start, and whether the line came back to it.
    fn one_way(&self, start: Point2<f32>, sense: f32) -> (Vec<Point2<f32>>, bool) {
        let strength = &self.edges.strength;
        let most = 8 * (strength.width + strength.height);
        let (mut points, mut unseen, mut p) = (Vec::new(), 0, start);
        let mut passed = BTreeMap::new();
        for step in 0..most {
            let (a, b) = self.edges.course.at(p.x, p.y);
            let ahead = Point2::new(p.x - sense * b, p.y + sense * a);
            if !strength.holds(ahead.x, ahead.y) {
                break;
            }
            p = self.beside(ahead);
            if !strength.holds(p.x, p.y) || self.is_claimed(&p) {
                break;
            }
            // A line that comes back to itself goes around in circles.
            let before = *passed.entry((p.x.round() as usize, p.y.round() as usize)).or_insert(step);
            if step > before + 8 {
                break;
            }
            unseen = if strength.between(p.x, p.y) >= SEEN { 0 } else { unseen + 1 };
            points.push(p);
            if unseen as f32 > UNSEEN * self.edges.course.scale as f32 {
                break;
            }
            if step > 20 && (p - start).norm() < 1.0 {
                points.push(start);
                return (points, true);
            }
        }
        points.truncate(points.len() - unseen);
        (points, false)
    }

    /// Moved toward the edge beside it, where there is one.
    fn beside(&self, p: Point2<f32>) -> Point2<f32> {
        let (a, b) = self.edges.course.at(p.x, p.y);
        let strength = |d: f32| self.edges.strength.between(p.x + d * a, p.y + d * b);
        let steps = (-6..=6).map(|n| n as f32 * ASIDE / 6.0);
        let best = steps.max_by(|c, d| strength(*c).total_cmp(&strength(*d))).unwrap_or(0.0);
        if strength(best) < SEEN {
            return p;
        }
        Point2::new(p.x + FOLLOWED * best * a, p.y + FOLLOWED * best * b)
    }
}
