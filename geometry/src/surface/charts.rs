//! Parts a surface into charts: connected triangles that look along the same axis, the same way.
//!
//! Seen along that axis a chart lies flat: none of its triangles is shortened to less than 1/√3.

use crate::solid::Mesh;
use nalgebra::{Point3, Vector3};
use std::collections::HashMap;

/// One chart.
#[derive(Clone, Debug)]
pub(super) struct Chart {
    /// The axis that it is seen along.
    pub(super) axis: usize,
    /// Its extent along the two other axes, in their order.
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
}

/// The two axes that a chart spreads along.
pub(super) const fn flat_axes(axis: usize) -> [usize; 2] {
    match axis {
        0 => [1, 2],
        1 => [0, 2],
        _ => [0, 1],
    }
}

/// A point as the chart sees it.
pub(super) fn flat(axis: usize, at: &Point3<f64>) -> [f64; 2] {
    flat_axes(axis).map(|other| at[other])
}

/// The charts of a mesh, and the chart of each triangle.
pub(super) fn charts(mesh: &Mesh) -> (Vec<Chart>, Vec<usize>) {
    let looks: Vec<(usize, bool)> = mesh.normals().map(|n| looks_along(&n)).collect();
    let mut groups = Groups::new(mesh.triangles.len());
    let mut sides: HashMap<(u32, u32), usize> = HashMap::with_capacity(mesh.triangles.len() * 3);
    for (i, [a, b, c]) in mesh.triangles.iter().enumerate() {
        for (from, to) in [(a, b), (b, c), (c, a)] {
            sides.insert((*from, *to), i);
            if let Some(other) = sides.get(&(*to, *from)).copied().filter(|other| looks[*other] == looks[i]) {
                groups.join(i, other);
            }
        }
    }
    let mut charts: Vec<Chart> = Vec::new();
    let mut of_root: HashMap<usize, usize> = HashMap::new();
    let mut of_triangle = Vec::with_capacity(mesh.triangles.len());
    for (i, corners) in mesh.corners().enumerate() {
        let axis = looks[i].0;
        let chart = *of_root.entry(groups.root(i)).or_insert_with(|| {
            charts.push(Chart { axis, low: [f64::INFINITY; 2], high: [f64::NEG_INFINITY; 2] });
            charts.len() - 1
        });
        for corner in corners {
            let at = flat(axis, &corner);
            let Chart { low, high, .. } = &mut charts[chart];
            *low = [low[0].min(at[0]), low[1].min(at[1])];
            *high = [high[0].max(at[0]), high[1].max(at[1])];
        }
        of_triangle.push(chart);
    }
    (charts, of_triangle)
}

/// The axis that a normal is nearest to, and whether it looks along or against it.
fn looks_along(normal: &Vector3<f64>) -> (usize, bool) {
    let size = normal.abs();
    let axis = if size.z >= size.x && size.z >= size.y { 2 } else { usize::from(size.y >= size.x) };
    (axis, normal[axis] >= 0.0)
}

/// Triangles that belong together (union and find, with halved paths).
struct Groups(Vec<usize>);

impl Groups {
    fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    fn root(&mut self, mut of: usize) -> usize {
        while self.0[of] != of {
            self.0[of] = self.0[self.0[of]];
            of = self.0[of];
        }
        of
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a.max(b)] = a.min(b);
    }
}
