//! A recess as rings of points, from its rim to its floor.

use super::mesh::Builder;
use crate::cut::{EdgeFrame, Recess};
use nalgebra::Point3;
use std::f64::consts::PI;

/// The most segments in half a turn, and the most steps in a corner: beyond them a finer tolerance
/// changes nothing.
const MOST_SEGMENTS: usize = 2000;

/// A recess in its edge: the exact shape and where it lies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    pub(super) recess: Recess,
    pub(super) frame: EdgeFrame,
    /// Where the bit's centre begins and ends along the edge, and the middle's height.
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) middle: f64,
}

/// One ring, at one depth: points anti-clockwise seen from outside the edge. All rings of a recess
/// have their points at the same angles, so that the facets between two rings are flat.
pub(super) type Ring = Vec<Point3<f64>>;

impl Placed {
    /// Rings in the edge's frame, from the rim (c = 0) to the floor (c = −d).
    ///
    /// A chord of the angle δ on radius ρ lies ρ(1 − cos(δ/2)) inside the arc. The ends' corners
    /// curve both ways, so each direction gets half the tolerance; a square-ended bit's curve one way.
    pub(super) fn rings(&self, tolerance: f64) -> Vec<Ring> {
        let corner = self.recess.corner;
        let share = if corner > 0.0 { tolerance / 2.0 } else { tolerance };
        // An even count puts a point at the very end of the recess, where the setback is measured.
        let around = segments(self.recess.half_width_at_surface(), PI, share).next_multiple_of(2);
        self.levels(corner, share).into_iter().map(|(rho, c)| self.ring(rho, c, around)).collect()
    }

    /// Half width and depth (negative) of each ring, from the rim down.
    fn levels(&self, corner: f64, tolerance: f64) -> Vec<(f64, f64)> {
        let Recess { radius, depth, .. } = self.recess;
        let mut levels = Vec::new();
        if depth > corner {
            levels.push((radius, 0.0));
        }
        if corner > 0.0 {
            let arc = self.recess.arc();
            let steps = segments(corner, arc, tolerance);
            levels.extend((0..=steps).rev().map(|i| {
                let alpha = arc * i as f64 / steps as f64;
                let c = if i == steps && depth <= corner { 0.0 } else { corner * (1.0 - alpha.cos()) - depth };
                (radius - corner + corner * alpha.sin(), c)
            }));
        } else {
            levels.push((radius, -depth));
        }
        levels
    }

    fn ring(&self, rho: f64, c: f64, around: usize) -> Ring {
        let half_turn = |centre: f64, start: f64| {
            (0..=around).map(move |i| {
                let angle = start + PI * i as f64 / around as f64;
                let (sin, cos) = if i == around { (-start.sin(), -start.cos()) } else { angle.sin_cos() };
                Point3::new(centre + rho * cos, self.middle + rho * sin, c)
            })
        };
        half_turn(self.to, -PI / 2.0).chain(half_turn(self.from, PI / 2.0)).collect()
    }

    /// Adds the inside of the recess: walls and floor, facing into the void.
    pub(super) fn add_inside(&self, rings: &[Ring], builder: &mut Builder) {
        let indices: Vec<Vec<u32>> = rings.iter().map(|ring| self.vertices(ring, builder)).collect();
        for pair in indices.windows(2) {
            let n = pair[0].len();
            for i in 0..n {
                let j = (i + 1) % n;
                builder.quad([pair[0][i], pair[0][j], pair[1][j], pair[1][i]]);
            }
        }
        if let Some(floor) = indices.last() {
            add_stadium(floor, builder);
        }
    }

    /// The recess as a closed solid of its own.
    pub(super) fn solid(&self, tolerance: f64) -> super::Mesh {
        let rings = self.rings(tolerance);
        let mut builder = Builder::default();
        self.add_inside(&rings, &mut builder);
        let rim = self.vertices(&rings[0], &mut builder);
        let reversed: Vec<u32> = rim.into_iter().rev().collect();
        add_stadium(&reversed, &mut builder);
        let mut mesh = builder.finish();
        // Walls and floor face into the void; the solid's own surface faces the other way.
        for triangle in &mut mesh.triangles {
            triangle.swap(1, 2);
        }
        mesh
    }

    pub(super) fn vertices(&self, ring: &Ring, builder: &mut Builder) -> Vec<u32> {
        ring.iter().map(|p| builder.vertex(self.frame.on_board(p))).collect()
    }
}

/// Fills a stadium with rungs from side to side: point i against point n − 1 − i.
fn add_stadium(ring: &[u32], builder: &mut Builder) {
    let n = ring.len();
    for i in 0..n / 2 - 1 {
        builder.quad([ring[i], ring[i + 1], ring[n - 2 - i], ring[n - 1 - i]]);
    }
}

/// How many equal chords keep an arc of this angle and radius within the tolerance.
fn segments(radius: f64, angle: f64, tolerance: f64) -> usize {
    if !(radius > tolerance && tolerance > 0.0) {
        return 2;
    }
    let half = (1.0 - tolerance / radius).acos();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let n = (angle / (2.0 * half)).ceil() as usize;
    n.clamp(2, MOST_SEGMENTS)
}
