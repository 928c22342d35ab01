//! Which line comes after which, walking outward. Knows lines and the direction across; nothing of
//! pictures.
//!
//! From the points of each line a walk goes outward until it meets another: so many votes that the
//! one comes after the other. Lines that end within the picture and are as far from the same
//! neighbour, neither meeting the other, are parts of one ring. Of all ways outward from line to
//! line the one with the most length is taken; a line that isn't on it is dropped, because the
//! rings must follow each other without a gap.

use super::course::Course;
use super::follow::Line;
use nalgebra::Point2;
use std::collections::BTreeMap;

/// A walk starts at every so-manieth point.
const EVERY: usize = 3;
/// A walk ends after so many σ (four rings).
const FARTHEST: f32 = 20.0;
/// Fewer votes are chance.
const LEAST_VOTES: usize = 3;
/// Parts of one ring are as far from their neighbour, within this share, and no farther from each
/// other than so many σ.
const AS_FAR: f32 = 0.4;
const APART: f32 = 25.0;
/// A line is a stray where both rings beside it together are no wider than this many usual ones,
/// and it is shorter than this share of its neighbours.
const STRAY: f32 = 1.35;
const STRAY_LENGTH: f32 = 0.6;

/// How many walks from one line met another, and after which distance in the mean.
#[derive(Debug, Clone, Copy, Default)]
struct Votes {
    count: usize,
    distance: f32,
}

/// Rings from the inside out, as lines of points.
pub(super) fn rings(mut lines: Vec<Line>, course: &Course) -> Vec<Line> {
    let size = (course.across[0].width, course.across[0].height);
    let mut votes = votes(&lines, course, size);
    while let Some((one, other)) = parts_of_one(&lines, &votes, course.scale as f32) {
        let part = lines.remove(other);
        lines[one] = joined(&lines[one], &part);
        votes = self::votes(&lines, course, size);
    }
    let way = without_strays(longest_way(&lines, &votes), &lines, &votes);
    way.into_iter().map(|n| lines[n].clone()).collect()
}

/// Short lines between two longer ones that are neighbours by themselves: no rings of their own.
fn without_strays(mut way: Vec<usize>, lines: &[Line], votes: &BTreeMap<(usize, usize), Votes>) -> Vec<usize> {
    let width = |a: usize, b: usize| votes.get(&(a, b)).map_or(f32::INFINITY, |vote| vote.distance);
    loop {
        let mut widths: Vec<f32> = way.windows(2).map(|pair| width(pair[0], pair[1])).collect();
        let ordered = widths.clone();
        widths.sort_by(f32::total_cmp);
        let Some(usual) = widths.get(2 * widths.len() / 3) else { return way };
        let stray = (1..way.len().saturating_sub(1)).find(|n| {
            let beside = lines[way[n - 1]].length().min(lines[way[n + 1]].length());
            ordered[n - 1] + ordered[*n] < STRAY * usual && lines[way[*n]].length() < STRAY_LENGTH * beside
        });
        match stray {
            Some(n) => _ = way.remove(n),
            None => return way,
        }
        if way.windows(2).any(|pair| !votes.contains_key(&(pair[0], pair[1]))) {
            // The two don't see each other through what was between them: their distance is not known.
            continue;
        }
    }
}

fn votes(lines: &[Line], course: &Course, (width, height): (usize, usize)) -> BTreeMap<(usize, usize), Votes> {
    let mut label = vec![0_usize; width * height];
    for (n, line) in lines.iter().enumerate() {
        for p in &line.points {
            let (x, y) = (p.x as usize, p.y as usize);
            for (i, j) in [(x, y), (x + 1, y), (x, y + 1), (x + 1, y + 1)] {
                if i < width && j < height {
                    label[j * width + i] = n + 1;
                }
            }
        }
    }
    let mut votes: BTreeMap<(usize, usize), Votes> = BTreeMap::new();
    for (n, line) in lines.iter().enumerate() {
        for start in line.points.iter().step_by(EVERY) {
            if let Some((other, distance)) = outward(*start, n, course, &label) {
                let vote = votes.entry((n, other)).or_default();
                vote.count += 1;
                vote.distance += distance;
            }
        }
    }
    votes.retain(|_, vote| vote.count >= LEAST_VOTES);
    votes.values_mut().for_each(|vote| vote.distance /= vote.count as f32);
    votes
}

/// The line met first, and how far off.
fn outward(start: Point2<f32>, own: usize, course: &Course, label: &[usize]) -> Option<(usize, f32)> {
    let (mut p, mut gone) = (start, 0.0);
    while gone < FARTHEST * course.scale as f32 {
        let (a, b) = course.at(p.x, p.y);
        p += nalgebra::Vector2::new(0.5 * a, 0.5 * b);
        gone += 0.5;
        if !course.across[0].holds(p.x, p.y) {
            return None;
        }
        let met = label[p.y.round() as usize * course.across[0].width + p.x.round() as usize];
        if met != 0 && met != own + 1 {
            return Some((met - 1, gone));
        }
    }
    None
}

/// Two lines that are parts of one ring: beside the same neighbour, on the same side of it.
fn parts_of_one(lines: &[Line], votes: &BTreeMap<(usize, usize), Votes>, scale: f32) -> Option<(usize, usize)> {
    let mut beside: BTreeMap<(usize, bool), Vec<(usize, f32)>> = BTreeMap::new();
    for ((inner, outer), vote) in votes {
        beside.entry((*outer, true)).or_default().push((*inner, vote.distance));
        beside.entry((*inner, false)).or_default().push((*outer, vote.distance));
    }
    let alike = |a: f32, b: f32| (a - b).abs() < AS_FAR * a.min(b);
    let apart = |a: usize, b: usize| !votes.contains_key(&(a, b)) && !votes.contains_key(&(b, a));
    beside.values().find_map(|near| {
        let pairs = near.iter().enumerate().flat_map(|(n, one)| near[n + 1..].iter().map(move |other| (one, other)));
        pairs
            .filter(|(one, other)| alike(one.1, other.1) && apart(one.0, other.0))
            .map(|(one, other)| (one.0.min(other.0), one.0.max(other.0)))
            .find(|(one, other)| gap(&lines[*one], &lines[*other]).0 < APART * scale)
    })
}

/// The distance from the end of one to the start of the other, and whether `one` comes first.
fn gap(one: &Line, other: &Line) -> (f32, bool) {
    let between = |a: &Line, b: &Line| match (a.points.last(), b.points.first()) {
        (Some(end), Some(start)) => (start - end).norm(),
        _ => f32::INFINITY,
    };
    let (after, before) = (between(one, other), between(other, one));
    (after.min(before), after <= before)
}

fn joined(one: &Line, other: &Line) -> Line {
    let (first, second) = if gap(one, other).1 { (one, other) } else { (other, one) };
    let points: Vec<_> = first.points.iter().chain(&second.points).copied().collect();
    let share = first.points.len() as f32 / points.len().max(1) as f32;
    let mean = |a: f32, b: f32| a * share + b * (1.0 - share);
    Line { points, strength: mean(first.strength, second.strength), seen: mean(first.seen, second.seen) }
}

/// The way outward with the most length. A ring is never met again: what would close a circle is
/// left out.
fn longest_way(lines: &[Line], votes: &BTreeMap<(usize, usize), Votes>) -> Vec<usize> {
    // For every line the best way that starts there; worked out from the outermost inward.
    let mut best: Vec<Option<(f32, Option<usize>)>> = vec![None; lines.len()];
    for start in 0..lines.len() {
        let (mut stack, mut on_way) = (vec![start], vec![false; lines.len()]);
        while let Some(&n) = stack.last() {
            if best[n].is_some() {
                stack.pop();
                continue;
            }
            on_way[n] = true;
            let next = votes.range((n, 0)..(n + 1, 0)).map(|((_, m), _)| *m);
            let open = next.clone().find(|m| best[*m].is_none() && !on_way[*m]);
            if let Some(m) = open {
                stack.push(m);
                continue;
            }
            let ahead = next.filter_map(|m| Some((best[m]?.0, m))).max_by(|a, b| a.0.total_cmp(&b.0));
            best[n] = Some((lines[n].length() + ahead.map_or(0.0, |(length, _)| length), ahead.map(|(_, m)| m)));
            stack.pop();
        }
    }
    let length = |n: &usize| best[*n].map_or(0.0, |(length, _)| length);
    let mut at = (0..lines.len()).max_by(|a, b| length(a).total_cmp(&length(b)));
    let mut way = Vec::new();
    while let Some(n) = at.filter(|n| !way.contains(n)) {
        way.push(n);
        at = best[n].and_then(|(_, next)| next);
    }
    way
}
