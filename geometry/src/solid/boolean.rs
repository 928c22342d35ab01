//! One solid less another, by boolmesh. Nothing else in the crate knows that library.

use super::Mesh;
use super::tidy::welded;
use boolmesh::prelude::{Manifold, OpType};
use nalgebra::Point3;

/// `mesh` less `cutter`; `None` where the boolean refuses either.
pub(super) fn subtract(mesh: Mesh, cutter: &Mesh) -> Option<Mesh> {
    compute(mesh, cutter, OpType::Subtract)
}

/// What `mesh` and `other` have in common.
pub(super) fn intersect(mesh: Mesh, other: &Mesh) -> Option<Mesh> {
    compute(mesh, other, OpType::Intersect)
}

fn compute(mesh: Mesh, other: &Mesh, operation: OpType) -> Option<Mesh> {
    // Nothing less anything is nothing.
    let Some([low, high]) = mesh.extent() else { return Some(mesh) };
    let [from, to] = other.extent()?;
    if !(0..3).all(|axis| low[axis] < to[axis] && from[axis] < high[axis]) {
        return Some(if matches!(operation, OpType::Subtract) { mesh } else { Mesh::default() });
    }
    let left = boolmesh::compute_boolean(&manifold(&mesh)?, &manifold(other)?, operation).ok()?;
    let vertices: Vec<Point3<f64>> = left.ps.iter().map(|p| Point3::new(p.x, p.y, p.z)).collect();
    let corners: Vec<u32> = left.hs.iter().map(|h| u32::try_from(h.tail)).collect::<Result<_, _>>().ok()?;
    Some(in_order(&vertices, corners.chunks_exact(3).map(|t| [t[0], t[1], t[2]])))
}

/// Vertices from low to high, triangles from their lowest corner on, in order: the boolean's own order differs from
/// run to run.
fn in_order(vertices: &[Point3<f64>], triangles: impl Iterator<Item = [u32; 3]>) -> Mesh {
    let mut order: Vec<usize> = (0..vertices.len()).collect();
    let key = |i: &usize| vertices[*i];
    order.sort_by(|i, j| {
        let (a, b) = (key(i), key(j));
        a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)).then(a.z.total_cmp(&b.z))
    });
    let mut place = vec![0u32; vertices.len()];
    for (new, old) in order.iter().enumerate() {
        place[*old] = u32::try_from(new).unwrap_or(u32::MAX);
    }
    let turned = |t: [u32; 3]| {
        let [a, b, c] = t.map(|i| place[i as usize]);
        if a < b && a < c {
            [a, b, c]
        } else if b < c {
            [b, c, a]
        } else {
            [c, a, b]
        }
    };
    let mut triangles: Vec<[u32; 3]> = triangles.map(turned).collect();
    triangles.sort_unstable();
    let mesh = Mesh { vertices: order.iter().map(|i| vertices[*i]).collect(), triangles };
    Some(welded(&mesh)).filter(Mesh::is_closed).unwrap_or(mesh)
}

fn manifold(mesh: &Mesh) -> Option<Manifold> {
    let positions: Vec<f64> = mesh.vertices.iter().flat_map(|v| [v.x, v.y, v.z]).collect();
    let indices: Vec<usize> = mesh.triangles.iter().flatten().map(|i| *i as usize).collect();
    Manifold::new(&positions, &indices).ok()
}
