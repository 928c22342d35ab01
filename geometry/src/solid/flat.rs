//! A flat face with holes and islands, triangulated (constrained Delaunay).

use super::mesh::Builder;
use nalgebra::Point2;
use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, Point2 as Spade, Triangulation};

/// A boundary: points in the face's own plane, each with its vertex.
pub(super) type Boundary = Vec<(Point2<f64>, u32)>;

/// Adds what lies within an odd number of the boundaries, which must not touch; the first is convex and holds the
/// others. Triangles run anti-clockwise in the face's own plane, or clockwise where it is `turned`.
///
/// Returns `None`, and adds nothing, where the triangulation refuses a point (not a number, or beyond its range) or
/// boundaries cross.
pub(super) fn add(boundaries: &[Boundary], turned: bool, builder: &mut Builder) -> Option<()> {
    let mut cdt = ConstrainedDelaunayTriangulation::<Spade<f64>>::new();
    // By the handles' own numbers, as they are given one after another.
    let mut vertices: Vec<u32> = Vec::new();
    for boundary in boundaries {
        let mut handles: Vec<FixedVertexHandle> = Vec::with_capacity(boundary.len());
        for (p, vertex) in boundary {
            let handle = cdt.insert(Spade::new(p.x, p.y)).ok()?;
            match vertices.get_mut(handle.index()) {
                Some(known) => *known = *vertex,
                None => vertices.push(*vertex),
            }
            handles.push(handle);
        }
        for (i, from) in handles.iter().enumerate() {
            let to = handles[(i + 1) % handles.len()];
            if *from != to {
                cdt.can_add_constraint(*from, to).then_some(())?;
                cdt.add_constraint(*from, to);
            }
        }
    }
    let mut triangles = Vec::new();
    for face in inside(&cdt) {
        let corners = cdt.face(face).vertices().map(|v| vertices.get(v.fix().index()).copied());
        let [Some(a), Some(b), Some(c)] = corners else { return None };
        triangles.push(if turned { [a, c, b] } else { [a, b, c] });
    }
    triangles.into_iter().for_each(|t| builder.triangle(t));
    Some(())
}

/// The triangles that lie within an odd number of boundaries: from outside in, each boundary passed changes sides.
fn inside(cdt: &ConstrainedDelaunayTriangulation<Spade<f64>>) -> Vec<FixedFaceHandle<InnerTag>> {
    // By the faces' own numbers.
    let mut known: Vec<Option<bool>> = vec![None; cdt.num_all_faces()];
    let mut all: Vec<FixedFaceHandle<InnerTag>> = Vec::with_capacity(known.len());
    let mut next: Vec<(FixedFaceHandle<InnerTag>, bool)> = cdt
        .convex_hull()
        .flat_map(|edge| [edge, edge.rev()])
        .filter_map(|edge| edge.face().as_inner().map(|face| (face.fix(), edge.is_constraint_edge())))
        .collect();
    while let Some((face, is_inside)) = next.pop() {
        if known[face.index()].replace(is_inside).is_some() {
            continue;
        }
        if is_inside {
            all.push(face);
        }
        for edge in cdt.face(face).adjacent_edges() {
            if let Some(beside) = edge.rev().face().as_inner()
                && known[beside.fix().index()].is_none()
            {
                next.push((beside.fix(), is_inside != edge.is_constraint_edge()));
            }
        }
    }
    // In the triangulation's order, so that the same board gives the same bytes.
    all.sort_by_key(|face| face.index());
    all
}
