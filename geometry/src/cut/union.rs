//! What several regions of the plane make together within another: area, moments, and whose boundary bounds it.
//!
//! Knows nothing of bits or boards.

use super::region::{Measures, NEAR, Piece, Region, Span};
use nalgebra::Point2;

/// Of a union of regions within a room.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Union {
    /// Its area, moments and whole boundary.
    pub(crate) whole: Measures,
    /// Of each region the length of its own boundary that bounds the whole, in their order; the room's at the end.
    pub(crate) lengths: Vec<f64>,
    /// What it is made of: which parts of which boundaries. Between two unions of one kind every measure changes
    /// smoothly with the regions' radii.
    pub(crate) kind: u64,
}

/// The union of regions within a room.
///
/// Every boundary is split where it meets another. A part of a region's boundary bounds the whole where it lies in the
/// room and in no other region; a part of the room's where it lies in a region. Where boundaries run together with
/// their inside on the same side, the first counts for all; on opposite sides, none does.
pub(crate) fn union_within(regions: &[Region], room: &Region) -> Union {
    let all: Vec<&Region> = regions.iter().chain([room]).collect();
    let spans: Vec<Vec<Span>> = all.iter().map(|r| r.spans()).collect();
    let pole = room.pieces().next().map_or_else(Point2::origin, |p| p.at(0.0));
    let mut union = Union { whole: Measures::default(), lengths: vec![0.0; all.len()], kind: FIRST };
    for i in 0..all.len() {
        for piece in all[i].pieces().filter(|p| p.length() > NEAR) {
            let mut before = None;
            for part in split(piece, i, &all) {
                let bounds = bounds(&part, i, &all, &spans);
                // Where it is split and nothing changes, boundaries only touch.
                if before.replace(bounds) != Some(bounds) {
                    union.kind = mixed(union.kind, u64::from(bounds));
                }
                if bounds {
                    let m = part.measures(&pole);
                    union.lengths[i] += m.length;
                    union.whole += m;
                }
            }
            union.kind = mixed(union.kind, 2);
        }
        union.kind = mixed(union.kind, 3);
    }
    union
}

/// FNV-1a's start and step, so that a kind is the same on every machine.
const FIRST: u64 = 0xcbf2_9ce4_8422_2325;

fn mixed(kind: u64, more: u64) -> u64 {
    (kind ^ more).wrapping_mul(0x0100_0000_01b3)
}

/// Whether a part of region i's boundary that meets no other within it bounds the whole.
fn bounds(part: &Piece, i: usize, all: &[&Region], spans: &[Vec<Span>]) -> bool {
    let (middle, room) = (part.at(0.5), all.len() - 1);
    let mut in_a_region = false;
    for (j, other) in all.iter().enumerate().filter(|(j, _)| *j != i) {
        if let Some(same) = runs_with(part, &middle, other) {
            let counts_already = same && j < i;
            let touches_from_outside = !same && i != room;
            if counts_already || touches_from_outside {
                return false;
            }
            continue;
        }
        let inside = spans[j].iter().map(|span| span.passes(&middle)).sum::<i32>() > 0;
        match (i == room, j == room) {
            (false, false) if inside => return false,
            (false, true) if !inside => return false,
            _ => in_a_region |= inside,
        }
    }
    i != room || in_a_region
}

/// Whether a part runs with another region's boundary from end to end, and then whether both have their inside on the
/// same side.
fn runs_with(part: &Piece, middle: &Point2<f64>, other: &Region) -> Option<bool> {
    let left = part.left(0.5);
    // Near a place where it touches, an arc leaves the other by less than a point's width.
    let ends = [part.at(0.02), part.at(0.98)];
    let all_along = || ends.iter().all(|p| other.pieces().any(|piece| piece.share_of(p).is_some()));
    let found = other.pieces().find_map(|piece| piece.share_of(middle).map(|share| (piece, share)));
    found.filter(|_| all_along()).map(|(piece, share)| piece.left(share).dot(&left) > 0.0)
}

/// A piece cut where any other region's boundary meets it.
fn split(piece: &Piece, i: usize, all: &[&Region]) -> Vec<Piece> {
    let mut shares = vec![0.0, 1.0];
    for (_, other) in all.iter().enumerate().filter(|(j, _)| *j != i) {
        other.pieces().for_each(|p| shares.extend(piece.meetings(p)));
    }
    shares.sort_by(f64::total_cmp);
    let least = NEAR / piece.length();
    shares.dedup_by(|a, b| *a - *b <= least);
    if let Some(last) = shares.last_mut() {
        *last = 1.0;
    }
    shares.windows(2).map(|w| piece.part(w[0], w[1])).collect()
}

#[cfg(test)]
mod tests {
    use super::super::Rounded;
    use super::super::region::Loop;
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    fn run(from: [f64; 2], to: [f64; 2], radius: f64) -> Region {
        Region(vec![Loop::around(&[Point2::new(from[0], from[1]), Point2::new(to[0], to[1])], radius)])
    }

    fn room(low: [f64; 2], high: [f64; 2], radius: f64) -> Region {
        Rounded { low: Point2::new(low[0], low[1]), high: Point2::new(high[0], high[1]), radius }.region()
    }

    #[test]
    fn two_discs_are_their_areas_less_the_lens() {
        let (r, s, d) = (5.0f64, 3.0f64, 4.0f64);
        let regions = [run([10.0, 10.0], [10.0, 10.0], r), run([14.0, 10.0], [14.0, 10.0], s)];
        let union = union_within(&regions, &room([0.0, 0.0], [30.0, 30.0], 0.0));
        // The lens: Weisstein, MathWorld, "Circle-Circle Intersection", eq. 14.
        let first = r * r * ((d * d + r * r - s * s) / (2.0 * d * r)).acos();
        let second = s * s * ((d * d + s * s - r * r) / (2.0 * d * s)).acos();
        let root = ((-d + r + s) * (d + r - s) * (d - r + s) * (d + r + s)).sqrt();
        let area = PI * (r * r + s * s) - (first + second - root / 2.0);
        assert!((union.whole.area - area).abs() < 1e-12 * area, "{} for {area}", union.whole.area);
        assert_eq!(union.lengths[2], 0.0);
    }

    proptest! {
        /// A boundary that runs beside another, however near: the area is off by no more than the way between them.
        #[test]
        fn a_hair_beside_a_side_changes_a_hair(power in 1.0..14.0f64, outside: bool, radius in 1.0..6.0f64, turned: bool) {
            let off = 10f64.powf(-power) * if outside { -1.0 } else { 1.0 };
            let area = |off: f64| {
                let y = radius + off;
                let flip = |p: [f64; 2]| if turned { [p[1], p[0]] } else { p };
                let regions = [
                    run(flip([20.0, y]), flip([60.0, y]), radius),
                    run(flip([40.0, y]), flip([40.0, 30.0]), radius),
                ];
                union_within(&regions, &room([0.0, 0.0], [100.0, 100.0], 3.0)).whole
            };
            let (there, beside) = (area(0.0), area(off));
            let most = there.length * off.abs() + 1e-9;
            prop_assert!((there.area - beside.area).abs() <= most, "{} and {}", there.area, beside.area);
            prop_assert!((there.length - beside.length).abs() <= 8.0 * (radius * off.abs()).sqrt() + 1e-6 + 4.0 * off.abs());
        }
    }
}
