//! The ways from any point of the blank to its two ends, along the rings and the heartwood line. Must not know of
//! pictures.

use crate::wood::ends::Field;
use crate::wood::noise::{ease, ramp};
use nalgebra::{Point3, Vector2};

/// Cells of the lattice along the longer side, and along the grain.
const CELLS: f64 = 36.0;
const STATIONS: usize = 16;
/// Newton's steps; each leaves about a tenth of what the last one left.
const STEPS: usize = 4;
/// A step goes no farther than this share of the longer side; the slope across rings is about 1.
const FARTHEST_STEP: f64 = 0.25;
const LEAST_SLOPE: f64 = 0.2;
/// So near to the heartwood line the way to the ends follows that line alone, and so far from it rings alone, mm; over
/// how many mm its slope is taken.
const LINE_HOLDS: f64 = 2.0;
const LINE_REACH: f64 = 10.0;
const SMALL: f64 = 0.05;
/// The ways from each point of the blank to its two ends, on a lattice.
#[derive(Debug, Clone)]
pub(super) struct Ways {
    cell: [f64; 3],
    cells: [usize; 3],
    /// At each node, u fastest: to the near and to the far end, mm.
    nodes: Vec<[Vector2<f32>; 2]>,
}

impl Ways {
    pub(super) fn new(field: &Field, line: bool, size: Vector2<f64>, length: f64) -> Ways {
        let longer = size.x.max(size.y);
        let cells = [size.x, size.y].map(|side| ((CELLS * side / longer).ceil() as usize).max(1));
        let cells = [cells[0], cells[1], STATIONS];
        let cell = [size.x / cells[0] as f64, size.y / cells[1] as f64, length / STATIONS as f64];
        let mut nodes = Vec::new();
        for k in 0..=cells[2] {
            for j in 0..=cells[1] {
                for i in 0..=cells[0] {
                    let at = Point3::new(i as f64 * cell[0], j as f64 * cell[1], k as f64 * cell[2]);
                    let way = |w: f64| way(field, line, &at, w, FARTHEST_STEP * longer).map(|x| x as f32);
                    // At an end the way there is none.
                    let near = if k == 0 { Vector2::zeros() } else { way(0.0) };
                    let far = if k == cells[2] { Vector2::zeros() } else { way(length) };
                    nodes.push([near, far]);
                }
            }
        }
        Ways { cell, cells, nodes }
    }

    #[inline]
    pub(super) fn at(&self, at: &Point3<f64>) -> [Vector2<f64>; 2] {
        let part = |x: f64, axis: usize| {
            let x = (x / self.cell[axis]).clamp(0.0, self.cells[axis] as f64);
            let cell = (x as usize).min(self.cells[axis] - 1);
            (cell, (x - cell as f64) as f32)
        };
        let ((i, a), (j, b), (k, c)) = (part(at.x, 0), part(at.y, 1), part(at.z, 2));
        let (row, layer) = (self.cells[0] + 1, (self.cells[0] + 1) * (self.cells[1] + 1));
        let start = k * layer + j * row + i;
        let mut sum = [Vector2::<f32>::zeros(); 2];
        for (layers, share) in [(0, 1.0 - c), (layer, c)] {
            for (rows, share) in [(0, share * (1.0 - b)), (row, share * b)] {
                let pair = &self.nodes[start + layers + rows..start + layers + rows + 2];
                for end in 0..2 {
                    sum[end] += (pair[0][end] * (1.0 - a) + pair[1][end] * a) * share;
                }
            }
        }
        sum.map(|way| way.map(f64::from))
    }
}

/// The way from a point to where its ring is at the station w, at right angles to the rings; near the heartwood line,
/// where there is one, to where it is as far from that line, at right angles to it.
fn way(field: &Field, line: bool, at: &Point3<f64>, w: f64, farthest: f64) -> Vector2<f64> {
    let wanted = field.at(at);
    let by_rings = newton(farthest, |way| {
        let here = field.at(&Point3::new(at.x + way.x, at.y + way.y, w));
        (wanted.at - here.at, here.slope)
    });
    let share = ease(ramp(LINE_REACH - wanted.beyond.abs(), 0.0, 1.0 / (LINE_REACH - LINE_HOLDS)));
    if !line || share <= 0.0 {
        return by_rings;
    }
    let by_line = newton(farthest, |way| {
        let beyond = |u: f64, v: f64| field.at(&Point3::new(at.x + way.x + u, at.y + way.y + v, w)).beyond;
        let here = beyond(0.0, 0.0);
        (wanted.beyond - here, Vector2::new(beyond(SMALL, 0.0) - here, beyond(0.0, SMALL) - here) / SMALL)
    });
    by_rings + (by_line - by_rings) * f64::from(share)
}

/// Newton's steps along the slope to where nothing is off; `off` gives what is, and its slope.
fn newton(farthest: f64, off: impl Fn(&Vector2<f64>) -> (f64, Vector2<f64>)) -> Vector2<f64> {
    let mut way = Vector2::zeros();
    for _ in 0..STEPS {
        let (off, slope) = off(&way);
        let step = slope * (off / slope.norm_squared().max(LEAST_SLOPE));
        way += step * (farthest / step.norm().max(farthest));
    }
    if way.iter().all(|x| x.is_finite()) { way } else { Vector2::zeros() }
}
