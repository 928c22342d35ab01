//! STL read back: closed, oriented, the volume, unit normals.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use nalgebra::{Point3, Vector3};
use quarterturn_export::stl;
use quarterturn_geometry::solid::Mesh;
use std::collections::HashMap;
use stl_io::IndexedMesh;

fn read_back(mesh: &Mesh) -> IndexedMesh {
    let mut bytes = Vec::new();
    stl::write(mesh, &mut bytes).unwrap();
    let count = u32::from_le_bytes(bytes[80..84].try_into().unwrap());
    assert_eq!(bytes.len(), 84 + 50 * count as usize);
    stl_io::read_stl(&mut std::io::Cursor::new(bytes)).unwrap()
}

fn closed(mesh: &IndexedMesh) -> bool {
    let mut edges: HashMap<(usize, usize), u32> = HashMap::new();
    for face in &mesh.faces {
        let [a, b, c] = face.vertices;
        [(a, b), (b, c), (c, a)].into_iter().for_each(|e| *edges.entry(e).or_default() += 1);
    }
    !edges.is_empty() && edges.iter().all(|((a, b), n)| *n == 1 && edges.get(&(*b, *a)) == Some(&1))
}

fn corners(mesh: &IndexedMesh) -> impl Iterator<Item = ([Vector3<f64>; 3], Vector3<f64>)> + '_ {
    let vector = |v: &[f32; 3]| Vector3::from(v.map(f64::from));
    mesh.faces.iter().map(move |f| (f.vertices.map(|i| vector(&mesh.vertices[i].0)), vector(&f.normal.0)))
}

#[test]
fn a_board_with_handholds_comes_back_whole() {
    let made = Made::of(job());
    let body = made.job.body(made.board().finished()).unwrap();
    let back = read_back(&body.mesh(0.02).unwrap());
    assert!(closed(&back));
    let volume: f64 = corners(&back).map(|([a, b, c], _)| a.dot(&b.cross(&c)) / 6.0).sum();
    let rounding = 2.0 * 3.0 * 300.0 * 300.0 * 2e-5;
    assert!((volume - body.volume()).abs() < body.mesh_bound(0.02) + rounding, "{volume}");
    for ([a, b, c], normal) in corners(&back) {
        assert!((normal.norm() - 1.0).abs() < 1e-6);
        assert!(normal.dot(&(b - a).cross(&(c - a))) > 0.0);
    }
}

#[test]
fn triangles_that_rounding_folds_up_are_left_out() {
    // Two corners a hundred-millionth apart, far from the origin: one f32.
    let mut mesh = Mesh::cuboid(&Point3::origin(), &Point3::new(300.0, 200.0, 35.0));
    let split = u32::try_from(mesh.vertices.len()).unwrap();
    let [a, b, c] = mesh.triangles[3];
    mesh.vertices.push(mesh.vertices[a as usize] + Vector3::new(1e-8, 0.0, 0.0));
    mesh.triangles[3] = [split, b, c];
    mesh.triangles.extend([[a, b, split], [split, c, a]]);
    assert!(mesh.is_closed());
    let back = read_back(&mesh);
    assert_eq!(back.faces.len(), 12);
    assert!(closed(&back));
}

#[test]
fn a_triangle_without_its_vertex_is_refused() {
    let mesh = Mesh { vertices: vec![Point3::origin()], triangles: vec![[0, 1, 2]] };
    assert!(stl::write(&mesh, Vec::new()).is_err());
}
