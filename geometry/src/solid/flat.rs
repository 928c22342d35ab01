//! A flat face with holes and islands, triangulated: directly where it is convex and has at most one convex hole, else
//! by a constrained Delaunay triangulation.

use super::mesh::Builder;
use nalgebra::Point2;
use spade::handles::{FixedFaceHandle, FixedVertexHandle, InnerTag};
use spade::{ConstrainedDelaunayTriangulation, Point2 as Spade, Triangulation};
use std::cmp::Ordering;
use std::f64::consts::TAU;

/// A boundary: points in the face's own plane, each with its vertex.
pub(super) type Boundary = Vec<Corner>;

/// A point with its vertex.
pub(super) type Corner = (Point2<f64>, u32);

/// An edge that is no longer than this has no direction, mm.
const SHORT: f64 = 1e-9;

/// A bend the other way by less than this angle is a straight run, rad.
const STRAIGHT: f64 = 1e-9;

/// Adds what lies within an odd number of the boundaries, which must not touch; the first is convex and holds the
/// others. Triangles run anti-clockwise in the face's own plane, or clockwise where it is `turned`.
///
/// Returns `None`, and adds nothing, where the triangulation refuses a point (not a number, or beyond its range) or
/// boundaries cross.
pub(super) fn add(boundaries: &[Boundary], turned: bool, builder: &mut Builder) -> Option<()> {
    match boundaries {
        [alone] => {
            if let Some([a, b, c, d]) = convex(alone).as_deref() {
                let [a, b, c, d] = [a.1, b.1, c.1, d.1];
                builder.quad(if turned { [a, d, c, b] } else { [a, b, c, d] });
                return Some(());
            }
        }
        [outer, hole] => {
            if let (Some(outer), Some(hole)) = (convex(outer), convex(hole))
                && holds(&outer, &hole)
            {
                between(&from_lowest(hole), &from_lowest(outer), turned, builder);
                return Some(());
            }
        }
        _ => {}
    }
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

/// A boundary anti-clockwise; `None` where it isn't convex, or two points that follow each other are one.
fn convex(boundary: &Boundary) -> Option<Boundary> {
    let n = boundary.len();
    let edge = |i: usize| boundary[(i + 1) % n].0 - boundary[i % n].0;
    let twice_the_area: f64 = (0..n).map(|i| boundary[i].0.coords.perp(&boundary[(i + 1) % n].0.coords)).sum();
    let turn = twice_the_area.signum();
    // It turns one way, by less than half a turn at a point, and once round in all.
    let mut round = 0.0;
    for i in 0..n {
        let (before, after) = (edge(i), edge(i + 1));
        let bend = before.perp(&after) * turn;
        if before.norm_squared() <= SHORT * SHORT || bend < -STRAIGHT * before.norm() * after.norm() {
            return None;
        }
        round += bend.atan2(before.dot(&after));
    }
    let once = n > 2 && (round - TAU).abs() < 1.0;
    let turned = || boundary.iter().rev().copied().collect();
    once.then(|| if turn > 0.0 { boundary.clone() } else { turned() })
}

/// Whether a convex boundary lies within another that it doesn't touch.
fn holds(outer: &Boundary, inner: &Boundary) -> bool {
    let at = inner[0].0;
    (0..outer.len()).all(|i| (outer[(i + 1) % outer.len()].0 - outer[i].0).perp(&(at - outer[i].0)) > 0.0)
}

/// From its lowest point on, the leftmost of these, and back to it.
fn from_lowest(mut boundary: Boundary) -> Boundary {
    let key = |i: &usize| (boundary[*i].0.y, boundary[*i].0.x);
    let lowest = (0..boundary.len()).min_by(|i, j| key(i).partial_cmp(&key(j)).unwrap_or(Ordering::Equal));
    boundary.rotate_left(lowest.unwrap_or(0));
    boundary.extend(boundary.first().copied());
    boundary
}

/// Fills between two convex chains that run anti-clockwise, one within the other: closed ones, each from its lowest
/// point on, or ones that begin and end together. `turned`: the triangles run clockwise.
///
/// An edge is joined to that point of the other chain which lies farthest out as the edge faces. With all edges taken
/// in the order in which they face, as a Minkowski sum of convex polygons takes them (de Berg et al., Computational
/// Geometry, 3rd ed., section 13.3; from memory), each triangle has its edge and that point in common with the next.
/// The farthest point of the outer chain lies beyond any edge of the inner one, and the inner chain's within any edge of
/// the outer: no triangle is turned over, so none covers another.
pub(super) fn between(inner: &[Corner], outer: &[Corner], turned: bool, builder: &mut Builder) {
    let together = inner[0].1 == outer[0].1;
    let edge = |chain: &[Corner], i: usize| chain[i + 1].0 - chain[i].0;
    let (mut i, mut j) = (0, 0);
    while i + 1 < inner.len() || j + 1 < outer.len() {
        let outers_end = j + 1 == outer.len() || (together && j + 2 == outer.len());
        let takes_inner = i + 1 < inner.len()
            && (outers_end || {
                let along = edge(inner, i);
                // Too short an edge faces anywhere, and goes with the point that is there.
                let faces_first = along.norm_squared() <= SHORT * SHORT || along.perp(&edge(outer, j)) >= 0.0;
                faces_first && !(together && j == 0)
            });
        let [p, q, r] = if takes_inner {
            i += 1;
            [inner[i - 1].1, outer[j].1, inner[i].1]
        } else {
            j += 1;
            [inner[i].1, outer[j - 1].1, outer[j].1]
        };
        builder.triangle(if turned { [p, r, q] } else { [p, q, r] });
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Point3;
    use proptest::prelude::*;

    /// Points on an ellipse, anti-clockwise, with vertices of their own.
    fn ellipse(centre: [f64; 2], radii: [f64; 2], n: usize, from: f64, builder: &mut Builder) -> Boundary {
        let at = |i: usize| {
            let (sin, cos) = (from + TAU * i as f64 / n as f64).sin_cos();
            Point2::new(centre[0] + radii[0] * cos, centre[1] + radii[1] * sin)
        };
        (0..n).map(at).map(|p| (p, builder.vertex(Point3::new(p.x, p.y, 0.0)))).collect()
    }

    fn area(boundary: &Boundary) -> f64 {
        let n = boundary.len();
        (0..n).map(|i| boundary[i].0.coords.perp(&boundary[(i + 1) % n].0.coords)).sum::<f64>() / 2.0
    }

    proptest! {
        /// All triangles turn the same way and cover what lies between, and that alone.
        #[test]
        fn what_lies_between_two_convex_boundaries_is_covered_once(
            x in -0.2..0.2f64, y in -0.2..0.2f64, wide in 0.02..0.6f64, high in 0.02..0.6f64,
            inner in 3usize..40, outer in 4usize..40, from in 0.0..6.0f64, other in 0.0..6.0f64,
            turned in any::<bool>(), backwards in any::<bool>(),
        ) {
            let mut builder = Builder::default();
            // A square at least, which holds the hole: its inner circle's radius is 0.9.
            let around = ellipse([0.0, 0.0], [1.3, 1.3], outer, from, &mut builder);
            let mut hole = ellipse([x, y], [wide, high], inner, other, &mut builder);
            let between = area(&around) - area(&hole);
            if backwards {
                hole.reverse();
            }
            add(&[around, hole], turned, &mut builder).unwrap();
            let mesh = builder.finish();
            prop_assert_eq!(mesh.triangles.len(), inner + outer);
            let sign = if turned { -1.0 } else { 1.0 };
            let each: Vec<f64> = mesh.corners().map(|[a, b, c]| sign * (b - a).xy().perp(&(c - a).xy()) / 2.0).collect();
            prop_assert!(each.iter().all(|a| *a > 0.0), "{each:?}");
            prop_assert!((each.iter().sum::<f64>() - between).abs() < 1e-12);
        }
    }
}
