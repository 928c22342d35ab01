//! The board's outside as loops of points, from the lower face up.

use super::mesh::Builder;
use super::tool::{outline, segments};
use crate::cut::{Easing, Edge, Outline};
use nalgebra::Point3;
use std::f64::consts::PI;

/// Loops anti-clockwise seen from above, from the lower face's rim to the upper's; all have their points at the same
/// angles, so that the facets between two are flat.
pub(super) fn loops(board: &Outline, tolerance: f64) -> Vec<Vec<Point3<f64>>> {
    let plan = board.plan();
    let share = if board.corner > 0.0 { tolerance / 2.0 } else { tolerance };
    let steps = if board.corner > 0.0 { segments(board.corner, PI / 2.0, share) } else { 0 };
    let lower = board.lower.map_or_else(|| vec![(0.0, 0.0)], |e| rises(e, board.corner, share));
    let upper = board.upper.map_or_else(|| vec![(0.0, 0.0)], |e| rises(e, board.corner, share));
    let thickness = board.size.thickness;
    let at =
        |z: f64, inset: f64| outline(&plan.inset(inset), steps).into_iter().map(|p| Point3::new(p.x, p.y, z)).collect();
    let below = lower.iter().rev().map(|(from_face, inset)| at(*from_face, *inset));
    let above = upper.iter().map(|(from_face, inset)| at(thickness - from_face, *inset));
    below.chain(above).collect()
}

/// From where the easing begins on the side to the face: distance from the face, and inset. The last lies on the
/// face.
fn rises(easing: Easing, corner: f64, tolerance: f64) -> Vec<(f64, f64)> {
    let size = easing.size();
    let steps = match easing {
        Easing::RoundOver(_) => segments(size, PI / 2.0, tolerance),
        Easing::Chamfer(_) => 1,
    };
    let mut all: Vec<(f64, f64)> = (0..=steps)
        .map(|i| match easing {
            _ if i == steps => (0.0, size),
            _ if i == 0 => (size, 0.0),
            Easing::RoundOver(_) => {
                let theta = PI / 2.0 * i as f64 / steps as f64;
                (size * (1.0 - theta.sin()), size * (1.0 - theta.cos()))
            }
            Easing::Chamfer(_) => (size, 0.0),
        })
        .collect();
    // Where the corner of the outline runs to a point.
    if let Some(i) = all.iter().position(|(_, inset)| *inset > corner).filter(|i| *i > 0 && all[*i - 1].1 < corner) {
        all.insert(i, (size - easing.height_of(corner), corner));
    }
    all
}

/// A flat side: which, and of its four corners the level, the place in the loop and the vertex.
pub(super) type Side = (Edge, [(usize, usize, u32); 4]);

/// Adds all of the outside but the faces and the four flat sides, and gives those sides: each with the level, the
/// place in the loop and the vertex of its four corners, anti-clockwise seen from outside.
pub(super) fn bands(
    board: &Outline,
    loops: &[Vec<Point3<f64>>],
    rings: &[Vec<u32>],
    builder: &mut Builder,
) -> Vec<Side> {
    let upright = loops.windows(2).position(|w| is_upright(board, w[0][0].z, w[1][0].z));
    let mut sides = Vec::new();
    for level in 0..rings.len().saturating_sub(1) {
        let (low, high) = (&rings[level], &rings[level + 1]);
        let (n, corner) = (low.len(), low.len() / 4);
        for i in 0..n {
            let j = (i + 1) % n;
            if Some(level) == upright && i % corner == corner - 1 {
                let edge = [Edge::Front, Edge::Right, Edge::Back, Edge::Left][i / corner];
                let at = [(level, i, low[i]), (level, j, low[j]), (level + 1, j, high[j]), (level + 1, i, high[i])];
                sides.push((edge, at));
            } else {
                builder.quad([low[i], low[j], high[j], high[i]]);
            }
        }
    }
    sides
}

/// Whether the band between two levels is the upright one.
fn is_upright(board: &Outline, low: f64, high: f64) -> bool {
    let [upper, lower] = board.eased();
    low == lower && high == board.size.thickness - upper
}
