//! A boolean's mesh in a form that depends on the solid alone: its library's order of edges, and with it how flat
//! parts are triangulated, differs from run to run.

use super::flat;
use super::mesh::{Builder, Mesh};
use nalgebra::{Point2, Point3, Vector3};
use std::collections::HashMap;

/// Triangles lie in one plane where their normals differ by less than this.
const FLAT: f64 = 1e-9;

/// The same solid: every flat part triangulated anew from its boundaries, which begin at their lowest vertex. A part
/// that can't be (boundaries that touch) stays as it is.
pub(super) fn tidy(mesh: &Mesh) -> Mesh {
    let normals: Vec<Vector3<f64>> = mesh.normals().collect();
    let neighbours = neighbours(mesh);
    let mut part = vec![usize::MAX; mesh.triangles.len()];
    let mut parts: Vec<Vec<usize>> = Vec::new();
    for first in 0..mesh.triangles.len() {
        if part[first] != usize::MAX {
            continue;
        }
        let mut members = Vec::new();
        let mut waiting = vec![first];
        part[first] = parts.len();
        while let Some(t) = waiting.pop() {
            members.push(t);
            for beside in edges(mesh.triangles[t]).iter().filter_map(|(a, b)| neighbours.get(&(*b, *a))) {
                let alike = (normals[*beside] - normals[first]).norm() < FLAT && normals[first].norm() > 0.5;
                if part[*beside] == usize::MAX && alike {
                    part[*beside] = parts.len();
                    waiting.push(*beside);
                }
            }
        }
        members.sort_unstable();
        parts.push(members);
    }
    let mut triangles = Vec::new();
    for members in &parts {
        triangles.extend(anew(mesh, members, &normals[members[0]]));
    }
    for t in &mut triangles {
        let [a, b, c] = *t;
        *t = if a < b && a < c {
            [a, b, c]
        } else if b < c {
            [b, c, a]
        } else {
            [c, a, b]
        };
    }
    triangles.sort_unstable();
    let all = used(mesh, &triangles);
    // What lay between two vertices at one place may be gone now.
    Some(welded(&all)).filter(Mesh::is_closed).unwrap_or(all)
}

/// Vertices at the same place made one, which the boolean at times leaves as two, and what they flattened left out.
/// Vertices are in order, so that these lie side by side.
pub(super) fn welded(mesh: &Mesh) -> Mesh {
    let mut vertices: Vec<Point3<f64>> = Vec::with_capacity(mesh.vertices.len());
    let mut place = Vec::with_capacity(mesh.vertices.len());
    for vertex in &mesh.vertices {
        if vertices.last() != Some(vertex) {
            vertices.push(*vertex);
        }
        place.push(u32::try_from(vertices.len()).unwrap_or(u32::MAX) - 1);
    }
    let moved = mesh.triangles.iter().map(|t| t.map(|i| place[i as usize]));
    let triangles = moved.filter(|[a, b, c]| a != b && b != c && c != a).collect();
    Mesh { vertices, triangles }
}

fn edges([a, b, c]: [u32; 3]) -> [(u32, u32); 3] {
    [(a, b), (b, c), (c, a)]
}

/// The triangle of every directed edge.
fn neighbours(mesh: &Mesh) -> HashMap<(u32, u32), usize> {
    let of = |(t, corners): (usize, &[u32; 3])| edges(*corners).map(|edge| (edge, t));
    mesh.triangles.iter().enumerate().flat_map(of).collect()
}

/// A flat part's triangles.
fn anew(mesh: &Mesh, members: &[usize], normal: &Vector3<f64>) -> Vec<[u32; 3]> {
    let old: Vec<[u32; 3]> = members.iter().map(|t| mesh.triangles[*t]).collect();
    let new = boundaries(&old).and_then(|boundaries| {
        // Seen along the axis that the plane faces most.
        let axis = normal.iamax();
        let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
        let seen = |i: &u32| (Point2::new(mesh.vertices[*i as usize][u], mesh.vertices[*i as usize][v]), *i);
        let boundaries: Vec<flat::Boundary> = boundaries.iter().map(|b| b.iter().map(seen).collect()).collect();
        let mut builder = Builder::default();
        flat::add(&boundaries, normal[axis] < 0.0, &mut builder)?;
        Some(builder.finish().triangles)
    });
    let area = |all: &[[u32; 3]]| -> f64 {
        let corners = |t: &[u32; 3]| t.map(|i| mesh.vertices[i as usize]);
        all.iter().map(corners).map(|[a, b, c]| (b - a).cross(&(c - a)).norm()).sum()
    };
    // Nothing is won where the area isn't the same to rounding.
    new.filter(|new| (area(new) - area(&old)).abs() <= 1e-9 * area(&old)).unwrap_or(old)
}

/// The closed boundaries of a part, each from its lowest vertex on, in the order of these; `None` where two touch.
fn boundaries(triangles: &[[u32; 3]]) -> Option<Vec<Vec<u32>>> {
    let inner: std::collections::HashSet<(u32, u32)> = triangles.iter().flat_map(|t| edges(*t)).collect();
    let mut next: std::collections::BTreeMap<u32, u32> = std::collections::BTreeMap::new();
    for (a, b) in triangles.iter().flat_map(|t| edges(*t)).filter(|(a, b)| !inner.contains(&(*b, *a))) {
        if next.insert(a, b).is_some() {
            return None;
        }
    }
    let mut all = Vec::new();
    while let Some((first, mut at)) = next.pop_first() {
        let mut boundary = vec![first];
        while at != first {
            boundary.push(at);
            at = next.remove(&at)?;
        }
        all.push(boundary);
    }
    Some(all)
}

/// A mesh with the vertices that are used.
fn used(mesh: &Mesh, triangles: &[[u32; 3]]) -> Mesh {
    let mut is_used = vec![false; mesh.vertices.len()];
    triangles.iter().flatten().for_each(|i| is_used[*i as usize] = true);
    let (mut place, mut vertices) = (vec![0u32; is_used.len()], Vec::new());
    for (i, _) in is_used.iter().enumerate().filter(|(_, used)| **used) {
        place[i] = u32::try_from(vertices.len()).unwrap_or(u32::MAX);
        vertices.push(mesh.vertices[i]);
    }
    Mesh { vertices, triangles: triangles.iter().map(|t| t.map(|i| place[i as usize])).collect() }
}
