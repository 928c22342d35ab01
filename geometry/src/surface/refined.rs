//! A mesh split until its edges are short.

use crate::solid::Mesh;
use std::collections::HashMap;

/// The most triangles that are made: beyond it edges stay longer than asked.
const MOST: usize = 2_000_000;

/// The same surface with no edge longer than `most` mm: every longer one is halved, on both of its
/// sides alike, so that a closed mesh stays closed. Not finer than two million triangles.
///
/// ```
/// use nalgebra::Point3;
/// use quarterturn_geometry::solid::Mesh;
/// use quarterturn_geometry::surface::refined;
/// let mesh = refined(&Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0)), 0.5);
/// assert!(mesh.is_closed() && (mesh.volume() - 6.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn refined(mesh: &Mesh, most: f64) -> Mesh {
    let mut mesh = mesh.clone();
    // Two thousand kilometres of edge take forty halvings to a millimetre.
    for _ in 0..40 {
        let before = mesh.triangles.len();
        if before > MOST / 4 {
            break;
        }
        halve(&mut mesh, most);
        if mesh.triangles.len() == before {
            break;
        }
    }
    mesh
}

fn halve(mesh: &mut Mesh, most: f64) {
    let mut middles: HashMap<(u32, u32), u32> = HashMap::new();
    let mut triangles = Vec::with_capacity(mesh.triangles.len() * 2);
    for [a, b, c] in std::mem::take(&mut mesh.triangles) {
        let mut middle = |i: u32, j: u32| {
            let [p, q] = [i.min(j), i.max(j)].map(|v| mesh.vertices[v as usize]);
            if (q - p).norm() <= most {
                return None;
            }
            Some(*middles.entry((i.min(j), i.max(j))).or_insert_with(|| {
                mesh.vertices.push(nalgebra::center(&p, &q));
                u32::try_from(mesh.vertices.len() - 1).unwrap_or(u32::MAX)
            }))
        };
        match [middle(a, b), middle(b, c), middle(c, a)] {
            [None, None, None] => triangles.push([a, b, c]),
            [Some(d), None, None] => triangles.extend([[a, d, c], [d, b, c]]),
            [None, Some(e), None] => triangles.extend([[b, e, a], [e, c, a]]),
            [None, None, Some(f)] => triangles.extend([[c, f, b], [f, a, b]]),
            [Some(d), Some(e), None] => triangles.extend([[d, b, e], [a, d, e], [a, e, c]]),
            [None, Some(e), Some(f)] => triangles.extend([[e, c, f], [b, e, f], [b, f, a]]),
            [Some(d), None, Some(f)] => triangles.extend([[f, a, d], [c, f, d], [c, d, b]]),
            [Some(d), Some(e), Some(f)] => triangles.extend([[a, d, f], [d, b, e], [f, e, c], [d, e, f]]),
        }
    }
    mesh.triangles = triangles;
}
