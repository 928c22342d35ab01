//! A smooth surface over one end through scattered values: a plane, and on it the smoothing
//! spline of least bending.
//!
//! # Formula
//! Sought is the f that makes Σ (f(p_i) − y_i)² + λ ∫∫ f_uu² + 2 f_uv² + f_vv² least, the
//! thin-plate smoothing spline (Duchon 1977; Wahba, *Spline Models for Observational Data*, 1990),
//! here among bicubic B-splines on a lattice (Eilers, Marx 1996), so that its cost doesn't grow
//! with the number of traced points. λ is the greatest for which the root mean square of what is
//! left over stays under what the tracing is good to (Reinsch 1967).
//!
//! A plane is met exactly, whatever λ: it is taken off before. Beyond the traced points the
//! surface goes on with as little bending as it can; it doesn't promise to be right there.

use nalgebra::{Cholesky, DMatrix, DVector, Matrix3, Point2, Vector2, Vector3};

/// Cells along the longer side: two or three to a ring on a blank that shows a dozen.
const CELLS: usize = 12;
/// The range of λ searched, by tens: from following every point to a plane.
const SMOOTHEST: f64 = 9.0;
const ROUGHEST: f64 = -6.0;
/// Slope of the last trace of stiffness that keeps unseen corners determined (share of bending).
const ANCHOR: f64 = 1.0e-10;

/// Values y at places p, smoothed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Surface {
    pub(super) plane: [f64; 3],
    pub(super) lattice: Lattice,
    pub(super) height: Vec<f64>,
}

/// Square cells over an end, with splines on them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lattice {
    pub(super) cell: f64,
    pub(super) cells: [usize; 2],
}

impl Surface {
    /// A surface over (0, 0)..(size) through `values`, within `accuracy` in the root mean square.
    pub(super) fn new(size: Vector2<f64>, values: &[(Point2<f64>, f64)], accuracy: f64) -> Option<Surface> {
        let plane = plane(values)?;
        let lattice = Lattice::over(size);
        let rest: Vec<(Point2<f64>, f64)> = values.iter().map(|(p, y)| (*p, y - on_plane(&plane, p))).collect();
        let height = lattice.smoothed(&rest, accuracy)?;
        Some(Surface { plane, lattice, height })
    }

    /// The surface at a place; outside the end its plane goes on, with the bending of the rim.
    pub(super) fn at(&self, place: &Point2<f64>) -> f64 {
        let mut sum = on_plane(&self.plane, place);
        self.lattice.weights(place, |n, weight| sum += weight * self.height[n]);
        sum
    }
}

fn on_plane(plane: &[f64; 3], p: &Point2<f64>) -> f64 {
    plane[0] + plane[1] * p.x + plane[2] * p.y
}

/// The plane of least squares; level across where the places lie on one line.
fn plane(values: &[(Point2<f64>, f64)]) -> Option<[f64; 3]> {
    let n = values.len() as f64;
    if values.is_empty() {
        return None;
    }
    let middle = values.iter().fold(Vector3::zeros(), |sum, (p, y)| sum + Vector3::new(p.x, p.y, *y)) / n;
    let (mut square, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (p, y) in values {
        let x = Vector3::new(0.0, p.x - middle.x, p.y - middle.y);
        square += x * x.transpose();
        right += x * (y - middle.z);
    }
    square[(0, 0)] = 1.0;
    let trace = square[(1, 1)] + square[(2, 2)];
    // A trace of stiffness decides only what the places leave open; the second round removes it.
    let stiff = square + Matrix3::from_diagonal(&Vector3::new(0.0, 1.0, 1.0)) * (trace * 1.0e-9 + 1.0e-300);
    let inverse = stiff.try_inverse()?;
    let mut slope = inverse * right;
    for _ in 0..2 {
        slope += inverse * (right - square * slope);
    }
    let plane = [middle.z - slope.y * middle.x - slope.z * middle.y, slope.y, slope.z];
    plane.iter().all(|x| x.is_finite()).then_some(plane)
}

impl Lattice {
    fn over(size: Vector2<f64>) -> Lattice {
        let cell = size.x.max(size.y) / CELLS as f64;
        Lattice { cell, cells: [size.x, size.y].map(|side| ((side / cell).ceil() as usize).clamp(1, CELLS)) }
    }

    fn len(&self) -> usize {
        (self.cells[0] + 3) * (self.cells[1] + 3)
    }

    fn weights(&self, place: &Point2<f64>, mut with: impl FnMut(usize, f64)) {
        let (i, a) = self.along(place.x, 0);
        let (j, b) = self.along(place.y, 1);
        for (dj, wb) in b.iter().enumerate() {
            for (di, wa) in a.iter().enumerate() {
                with((j + dj) * (self.cells[0] + 3) + i + di, wa * wb);
            }
        }
    }

    /// The cell along one axis and the four cubic B-splines there.
    fn along(&self, x: f64, axis: usize) -> (usize, [f64; 4]) {
        let (cell, x) = self.cell_at(x, axis);
        (cell, spline(x, 0))
    }

    /// The cell along one axis, and how far in it (0 to 1).
    #[inline(always)]
    pub(super) fn cell_at(&self, x: f64, axis: usize) -> (usize, f64) {
        let most = self.cells[axis] as f64;
        let x = (x / self.cell).clamp(0.0, most);
        let cell = (x as usize).min(self.cells[axis] - 1);
        (cell, x - cell as f64)
    }

    fn smoothed(&self, rest: &[(Point2<f64>, f64)], accuracy: f64) -> Option<Vec<f64>> {
        let n = self.len();
        let (mut square, mut right) = (DMatrix::<f64>::zeros(n, n), DVector::<f64>::zeros(n));
        for (p, y) in rest {
            let mut row = Vec::with_capacity(16);
            self.weights(p, |at, weight| row.push((at, weight)));
            for (a, wa) in &row {
                right[*a] += wa * y;
                for (b, wb) in &row {
                    square[(*a, *b)] += wa * wb;
                }
            }
        }
        let bending = self.bending();
        let solved = |power: f64| -> Option<Vec<f64>> {
            let stiff = &square + &bending * (10.0_f64.powf(power) * self.cell * self.cell);
            Some(Cholesky::new(stiff)?.solve(&right).as_slice().to_vec())
        };
        let left = |height: &[f64]| -> f64 {
            let squares: f64 = rest.iter().map(|(p, y)| (y - self.height_at(height, p)).powi(2)).sum();
            (squares / rest.len() as f64).sqrt()
        };
        let (mut rough, mut smooth) = (ROUGHEST, SMOOTHEST);
        let flat = vec![0.0; n];
        if left(&flat) <= accuracy {
            return Some(flat);
        }
        let mut best = solved(rough)?;
        for _ in 0..12 {
            let middle = 0.5 * (rough + smooth);
            let tried = solved(middle)?;
            if left(&tried) <= accuracy {
                (rough, best) = (middle, tried);
            } else {
                smooth = middle;
            }
        }
        best.iter().all(|x| x.is_finite()).then_some(best)
    }

    fn height_at(&self, height: &[f64], p: &Point2<f64>) -> f64 {
        let mut sum = 0.0;
        self.weights(p, |n, weight| sum += weight * height[n]);
        sum
    }

    /// ∫∫ f_uu² + 2 f_uv² + f_vv² as a matrix, lengths counted in cells, with the anchor.
    fn bending(&self) -> DMatrix<f64> {
        let grams = [0, 1].map(|axis| [0, 1, 2].map(|order| gram(self.cells[axis], order)));
        let across = self.cells[0] + 3;
        DMatrix::from_fn(self.len(), self.len(), |a, b| {
            let (i, j, k, l) = (a % across, a / across, b % across, b / across);
            let pair = |p: usize, q: usize| grams[0][p][(i, k)] * grams[1][q][(j, l)];
            let anchor = if a == b { ANCHOR } else { 0.0 };
            pair(2, 0) + 2.0 * pair(1, 1) + pair(0, 2) + anchor
        })
    }
}

/// The four cubic B-splines of a cell at x (0 to 1), or their first or second derivatives.
#[inline(always)]
pub(super) fn spline(x: f64, order: usize) -> [f64; 4] {
    let y = 1.0 - x;
    match order {
        0 => {
            [y * y * y / 6.0, 2.0 / 3.0 - x * x * (1.0 - 0.5 * x), 2.0 / 3.0 - y * y * (1.0 - 0.5 * y), x * x * x / 6.0]
        }
        1 => [-0.5 * y * y, x * (1.5 * x - 2.0), -y * (1.5 * y - 2.0), 0.5 * x * x],
        _ => [y, 3.0 * x - 2.0, 3.0 * y - 2.0, x],
    }
}

/// ∫ B_a⁽ᵒ⁾ B_b⁽ᵒ⁾ over the cells, by Gauss's rule of four points (exact to degree 7).
fn gram(cells: usize, order: usize) -> DMatrix<f64> {
    const RULE: [(f64, f64); 4] = [
        (0.069_431_844_202_973_71, 0.173_927_422_568_726_92),
        (0.330_009_478_207_571_87, 0.326_072_577_431_273_1),
        (0.669_990_521_792_428_1, 0.326_072_577_431_273_1),
        (0.930_568_155_797_026_3, 0.173_927_422_568_726_92),
    ];
    let mut sum = DMatrix::zeros(cells + 3, cells + 3);
    for cell in 0..cells {
        for (x, weight) in RULE {
            let b = spline(x, order);
            for (i, bi) in b.iter().enumerate() {
                for (j, bj) in b.iter().enumerate() {
                    sum[(cell + i, cell + j)] += weight * bi * bj;
                }
            }
        }
    }
    sum
}
