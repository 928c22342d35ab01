//! The normals that a surface is shaded with: smooth where it is round, sharp at its edges.

use crate::solid::Mesh;
use nalgebra::Vector3;

/// The cosine of the greatest angle between two facets that are shaded as one surface (30°).
const ONE_SURFACE: f64 = 0.866_025_403_784_438_6;

/// A unit normal for each corner of each triangle: the mean, by area, of the facets around it that
/// lie within 30° of its own.
///
/// ```
/// use nalgebra::{Point3, Vector3};
/// use quarterturn_geometry::solid::Mesh;
/// use quarterturn_geometry::surface::smooth_normals;
/// let mesh = Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0));
/// assert_eq!(smooth_normals(&mesh)[0], [-Vector3::z(); 3]);
/// ```
#[must_use]
pub fn smooth_normals(mesh: &Mesh) -> Vec<[Vector3<f64>; 3]> {
    let areas: Vec<Vector3<f64>> = mesh.corners().map(|[a, b, c]| (b - a).cross(&(c - a))).collect();
    let own: Vec<Vector3<f64>> = mesh.normals().collect();
    let around = around(mesh);
    let corner = |i: usize, vertex: u32| {
        let near = around[vertex as usize].iter().map(|t| *t as usize);
        let sum: Vector3<f64> = near.filter(|t| own[*t].dot(&own[i]) >= ONE_SURFACE).map(|t| areas[t]).sum();
        sum.try_normalize(0.0).or_else(|| own[i].try_normalize(0.0)).unwrap_or_else(Vector3::z)
    };
    mesh.triangles.iter().enumerate().map(|(i, triangle)| triangle.map(|vertex| corner(i, vertex))).collect()
}

/// The triangles around each vertex.
fn around(mesh: &Mesh) -> Vec<Vec<u32>> {
    let mut around = vec![Vec::new(); mesh.vertices.len()];
    for (i, triangle) in (0..).zip(&mesh.triangles) {
        for vertex in triangle {
            around[*vertex as usize].push(i);
        }
    }
    around
}
