//! Points that pieces share, made one: what two booleans compute alike differs in its last bits.
//!
//! Knows meshes only.

use super::Mesh;
use super::mesh::Quick;
use nalgebra::Point3;
use std::collections::HashMap;

/// Points nearer than this are one, mm: a hundred times what rounding leaves, a ten-thousandth of what a cut's chords
/// differ by.
const ONE: f64 = 1e-7;

/// Moves points of several meshes that lie nearly at one place to the first of them. A mesh in which two points would
/// fall together keeps its own.
pub(super) fn share<'a>(meshes: impl Iterator<Item = &'a mut Mesh>) {
    let mut known = Places::default();
    for mesh in meshes {
        let moved: Vec<Point3<f64>> = mesh.vertices.iter().map(|v| known.first_near(v)).collect();
        if distinct(&moved) == moved.len() {
            mesh.vertices = moved;
        }
    }
}

fn distinct(points: &[Point3<f64>]) -> usize {
    let mut bits: Vec<[u64; 3]> = points.iter().map(|p| [p.x, p.y, p.z].map(f64::to_bits)).collect();
    bits.sort_unstable();
    bits.dedup();
    bits.len()
}

/// Points by the cell of a grid that they lie in.
#[derive(Default)]
struct Places(HashMap<[i64; 3], Point3<f64>, Quick>);

impl Places {
    /// The first point told that lies as near as that, else this one, which is told from now on.
    fn first_near(&mut self, p: &Point3<f64>) -> Point3<f64> {
        const CELL: f64 = 4.0 * ONE;
        #[allow(clippy::cast_possible_truncation)]
        let cells = |by: f64| [p.x, p.y, p.z].map(|x| ((x + by) / CELL).floor() as i64);
        let (low, high) = (cells(-ONE), cells(ONE));
        // A point near a cell's side may have its first one in the next.
        for corner in 0..8 {
            let far = |axis: usize| corner >> axis & 1 == 1;
            if (0..3).any(|axis| far(axis) && low[axis] == high[axis]) {
                continue;
            }
            let cell = std::array::from_fn(|axis| if far(axis) { high[axis] } else { low[axis] });
            if let Some(first) = self.0.get(&cell).filter(|first| (*first - p).norm() < ONE) {
                return *first;
            }
        }
        self.0.entry(cells(0.0)).or_insert(*p);
        *p
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_nearly_at_one_place_become_one_and_others_stay() {
        let at = |x: f64| Mesh::cuboid(&Point3::new(x, 0.0, 0.0), &Point3::new(x + 1.0, 1.0, 1.0));
        let (mut a, mut b, mut c) = (at(0.0), at(1.0 + 3e-8), at(1.0 + 3e-6));
        let far = c.clone();
        share([&mut a, &mut b, &mut c].into_iter());
        let shared = b.vertices.iter().filter(|v| a.vertices.contains(v)).count();
        assert_eq!(shared, 4);
        assert!(c == far && b.is_closed());
    }
}
