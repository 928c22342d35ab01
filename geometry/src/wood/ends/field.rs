//! The distance across the rings made ready to be asked at millions of points, with its slope.
//!
//! Both ends' surfaces are bicubic splines on one lattice, so they are taken as they are. What the
//! lines part-way say is a(u, v, w)·Σ_j F_j(u, v)·sin(jπt), a the amplitude there: each F_j is laid out on a lattice of a third of
//! their reach and interpolated by cubics (Catmull, Rom 1974), which for their Gaussian shape is
//! off by at most a hundredth of the bend itself. Must not know more of rings than this distance.

use super::bend::{Bend, SINES, Wander};
use super::boundary::Boundary;
use super::surface::{Lattice, Surface, spline};
use nalgebra::{Point2, Point3, Vector2};

/// Cells of a bend along the longer side, at most.
const MOST_CELLS: f64 = 160.0;

/// Where a boundary runs along what it is told by, its distance can't be told better than so.
const FLATTEST: f64 = 0.2;

/// What is known at a point.
#[derive(Debug, Clone, Copy)]
pub(in crate::wood) struct Across {
    /// Distance across the rings from the first known boundary, mm.
    pub(in crate::wood) at: f64,
    /// Its slope along u and v.
    pub(in crate::wood) slope: Vector2<f64>,
    /// Distance beyond the chosen boundary, mm, at right angles to it; 0 where none was chosen.
    pub(in crate::wood) beyond: f64,
}

/// See the module.
#[derive(Debug, Clone)]
pub(in crate::wood) struct Field {
    length: f64,
    piths: Option<[Point2<f64>; 2]>,
    planes: [[f64; 3]; 2],
    lattice: Lattice,
    /// At each node: near and far.
    heights: Vec<[f64; 2]>,
    bend: Option<Bent>,
    boundary: Option<(Boundary, Option<Bent>)>,
}

impl Field {
    pub(super) fn new(
        size: Vector2<f64>,
        length: f64,
        piths: Option<[Point2<f64>; 2]>,
        ends: [&Surface; 2],
        bend: &Bend,
        boundary: Option<&Boundary>,
    ) -> Field {
        let near = ends[0];
        let node = |n: usize| ends.map(|s| s.height[n]);
        Field {
            length,
            piths,
            planes: ends.map(|s| s.plane),
            lattice: near.lattice.clone(),
            heights: (0..near.height.len()).map(node).collect(),
            bend: Bent::new(size, bend),
            boundary: boundary.map(|boundary| (boundary.clone(), Bent::new(size, &boundary.bend))),
        }
    }

    /// At a point within numbers that mean something.
    #[inline]
    pub(in crate::wood) fn at(&self, at: &Point3<f64>) -> Across {
        let t = (at.z / self.length).clamp(0.0, 1.0);
        let (mut sum, mut slope) = self.ends(&at.xy(), t);
        if let Some([near, far]) = &self.piths {
            let from = at.xy() - (near + (far - near) * t);
            let r = from.norm();
            sum += r;
            slope += from / r.max(1.0e-9);
        }
        let angle = std::f64::consts::PI * t;
        if let Some(bend) = &self.bend {
            let (more, steeper) = bend.at(at, angle);
            sum += more;
            slope += steeper;
        }
        let beyond = match &self.boundary {
            None => 0.0,
            Some((boundary, bend)) => {
                let (place, of_boundary) = boundary.place(&at.xy(), t);
                let (more, steeper) = bend.as_ref().map_or_else(Default::default, |bend| bend.at(at, angle));
                // Across the rings it is the difference; where the boundary lies slanted among them, less.
                (sum - place - more) / (slope - of_boundary - steeper).norm().max(FLATTEST)
            }
        };
        Across { at: sum, slope, beyond }
    }

    /// Both ends' surfaces blended, and the slope.
    #[inline(always)]
    fn ends(&self, p: &Point2<f64>, t: f64) -> (f64, Vector2<f64>) {
        let blend = |a: f64, b: f64| a + (b - a) * t;
        let plane = |i: usize| blend(self.planes[0][i], self.planes[1][i]);
        let mut slope = Vector2::new(plane(1), plane(2));
        let mut sum = plane(0) + slope.x * p.x + slope.y * p.y;
        let ((i, x), (j, y)) = (self.lattice.cell_at(p.x, 0), self.lattice.cell_at(p.y, 1));
        let (a, b) = (spline(x, 0), spline(y, 0));
        let (da, db) = (spline(x, 1), spline(y, 1));
        let per_cell = 1.0 / self.lattice.cell;
        for n in 0..4 {
            let from = (j + n) * (self.lattice.cells[0] + 3) + i;
            let Some(row) = self.heights.get(from..from + 4) else { continue };
            let (mut line, mut tilt) = (0.0, 0.0);
            for (m, [near, far]) in row.iter().enumerate() {
                let height = blend(*near, *far);
                line += a[m] * height;
                tilt += da[m] * height;
            }
            sum += b[n] * line;
            slope += Vector2::new(b[n] * tilt, db[n] * line) * per_cell;
        }
        (sum, slope)
    }
}

/// F_j on a lattice of its own.
#[derive(Debug, Clone)]
struct Bent {
    wander: Wander,
    cell: f64,
    nodes: [usize; 2],
    layers: Vec<[f64; SINES]>,
}

impl Bent {
    /// None where no line part-way says anything.
    fn new(size: Vector2<f64>, bend: &Bend) -> Option<Bent> {
        let (wander, reach) = bend.known()?;
        let cell = (reach / 3.0).max(size.x.max(size.y) / MOST_CELLS);
        // One node more on every side, for the cubics.
        let nodes = [size.x, size.y].map(|side| (side / cell).ceil() as usize + 3);
        let place = |n: usize| Point2::new(n % nodes[0], n / nodes[0]).map(|k| (k as f64 - 1.0) * cell);
        let layers = (0..nodes[0] * nodes[1]).map(|n| bend.layers(&place(n))).collect();
        Some(Bent { wander, cell, nodes, layers })
    }

    /// The bend and its slope; `angle` is πt.
    #[inline]
    fn at(&self, p: &Point3<f64>, angle: f64) -> (f64, Vector2<f64>) {
        let amplitude = self.wander.amplitude(p);
        let sines = multiples(angle);
        let along = |x: f64, axis: usize| {
            let cells = (self.nodes[axis] - 3) as f64;
            let x = (x / self.cell).clamp(0.0, cells);
            let cell = (x as usize).min(self.nodes[axis] - 4);
            (cell, x - cell as f64)
        };
        let ((i, x), (j, y)) = (along(p.x, 0), along(p.y, 1));
        let ((a, da), (b, db)) = (cubic(x), cubic(y));
        let (mut sum, mut slope) = (0.0, Vector2::zeros());
        for n in 0..4 {
            let from = (j + n) * self.nodes[0] + i;
            let Some(row) = self.layers.get(from..from + 4) else { continue };
            let (mut line, mut tilt) = (0.0, 0.0);
            for (m, layers) in row.iter().enumerate() {
                let value: f64 = layers.iter().zip(&sines).map(|(f, s)| f * s).sum();
                line += a[m] * value;
                tilt += da[m] * value;
            }
            sum += b[n] * line;
            slope += Vector2::new(b[n] * tilt, db[n] * line);
        }
        (amplitude * sum, slope * (amplitude / self.cell))
    }
}

/// sin(jθ), j from 1: sin((j + 1)θ) = 2 cos θ sin(jθ) − sin((j − 1)θ).
#[inline(always)]
fn multiples(angle: f64) -> [f64; SINES] {
    let (sine, cosine) = angle.sin_cos();
    let (mut before, mut here) = (0.0, sine);
    std::array::from_fn(|_| {
        let now = here;
        (before, here) = (here, 2.0 * cosine * here - before);
        now
    })
}

/// Weights of four neighbours, and their slopes, x of the way between the middle two.
#[inline(always)]
fn cubic(x: f64) -> ([f64; 4], [f64; 4]) {
    let (x2, x3) = (x * x, x * x * x);
    let weights = [
        0.5 * (2.0 * x2 - x - x3),
        0.5 * (3.0 * x3 - 5.0 * x2 + 2.0),
        0.5 * (x + 4.0 * x2 - 3.0 * x3),
        0.5 * (x3 - x2),
    ];
    let slopes = [
        0.5 * (4.0 * x - 1.0 - 3.0 * x2),
        0.5 * (9.0 * x2 - 10.0 * x),
        0.5 * (1.0 + 8.0 * x - 9.0 * x2),
        0.5 * (3.0 * x2 - 2.0 * x),
    ];
    (weights, slopes)
}
