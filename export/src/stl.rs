//! A mesh as binary STL: f32 coordinates in mm, no name, no unit, as the format has neither.
//!
//! Must not know what the mesh is of.

use crate::ExportError;
use quarterturn_geometry::solid::Mesh;
use std::io::Write;
use std::sync::mpsc::{channel, sync_channel};

/// Writes a mesh.
///
/// Coordinates are rounded to f32. A triangle of which that leaves two corners in one place is left
/// out: its two other sides then fall together, so that a closed mesh stays closed. Normals are
/// those of the rounded corners.
///
/// # Errors
/// [`ExportError`] for a triangle without its vertices, more than 2³² − 1 triangles, or where the
/// writer refuses.
///
/// ```
/// use nalgebra::Point3;
/// use quarterturn_export::stl;
/// use quarterturn_geometry::solid::Mesh;
/// let mut bytes = Vec::new();
/// stl::write(&Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0)), &mut bytes).unwrap();
/// assert_eq!(bytes.len(), 84 + 12 * 50);
/// ```
pub fn write(mesh: &Mesh, mut out: impl Write) -> Result<(), ExportError> {
    let wrong = || ExportError::NoMesh(mesh.triangles.len());
    let vertices: Vec<[f32; 3]> = mesh.vertices.iter().map(|v| [v.x, v.y, v.z].map(rounded)).collect();
    let mut count = 0_usize;
    for triangle in &mesh.triangles {
        let [Some(a), Some(b), Some(c)] = triangle.map(|i| vertices.get(i as usize)) else { return Err(wrong()) };
        count += usize::from(is_facet(&[*a, *b, *c]));
    }
    let all_are = count == mesh.triangles.len();
    let corners = |triangle: &[u32; 3]| {
        let corners = triangle.map(|i| vertices[i as usize]);
        (all_are || is_facet(&corners)).then_some(corners)
    };
    out.write_all(&[0; 80])?;
    out.write_all(&u32::try_from(count).map_err(|_| wrong())?.to_le_bytes())?;
    // Threads make the bytes, each every so-manieth block, while this one writes the blocks in turn and gives them back:
    // fresh memory for every block would cost as much as all the rest.
    std::thread::scope(|scope| {
        let makers = [(); MAKERS].map(|()| (sync_channel::<Vec<u8>>(WAITING), channel::<Vec<u8>>()));
        let mut blocks = Vec::new();
        for (first, ((sender, made), (giver, spare))) in makers.into_iter().enumerate() {
            blocks.push((made, giver));
            let corners = &corners;
            scope.spawn(move || {
                for triangles in mesh.triangles.chunks(BLOCK).skip(first).step_by(MAKERS) {
                    let mut block = spare.try_recv().unwrap_or_else(|_| Vec::with_capacity(BLOCK * FACET));
                    block.resize(triangles.len() * FACET, 0);
                    let facets = triangles.iter().filter_map(corners);
                    let made = block.chunks_exact_mut(FACET).zip(facets).map(|(place, of)| facet(place, of)).count();
                    block.truncate(made * FACET);
                    // Nobody takes it where writing has failed.
                    if sender.send(block).is_err() {
                        return;
                    }
                }
            });
        }
        for (made, giver) in blocks.iter().cycle() {
            let Ok(block) = made.recv() else { break };
            out.write_all(&block)?;
            // Nobody takes it once all is made.
            drop(giver.send(block));
        }
        Ok(())
    })
}

/// Whether no two corners lie in one place.
fn is_facet([a, b, c]: &[[f32; 3]; 3]) -> bool {
    a != b && b != c && c != a
}

/// Bytes of a facet; triangles of a block; blocks of each maker that wait to be written, at most.
const FACET: usize = 50;
const BLOCK: usize = 6_000;
const WAITING: usize = 4;
/// Threads that make bytes: writing takes about half as long as making.
const MAKERS: usize = 2;

/// Writes a facet as it stands in the file: normal, three corners, two bytes that mean nothing.
#[inline]
fn facet(place: &mut [u8], [a, b, c]: [[f32; 3]; 3]) {
    let n = normal([a, b, c]);
    let numbers = [n[0], n[1], n[2], a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2]];
    let (of_numbers, rest) = place.split_at_mut(48);
    for (to, number) in of_numbers.chunks_exact_mut(4).zip(numbers) {
        to.copy_from_slice(&number.to_le_bytes());
    }
    rest.fill(0);
}

/// To f32; a negative zero becomes a positive one, so that equal corners have equal bits.
#[allow(clippy::cast_possible_truncation)]
fn rounded(coordinate: f64) -> f32 {
    coordinate as f32 + 0.0
}

/// The unit normal by the right-hand rule; zero where the three lie in a line.
#[allow(clippy::cast_possible_truncation)]
#[inline]
fn normal(corners: [[f32; 3]; 3]) -> [f32; 3] {
    let [a, b, c] = corners.map(|p| p.map(f64::from));
    let (u, v) = ([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    let cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let long = cross.iter().map(|x| x * x).sum::<f64>().sqrt();
    let short = 1.0 / long;
    if short.is_finite() { cross.map(|x| (x * short) as f32 + 0.0) } else { [0.0; 3] }
}
