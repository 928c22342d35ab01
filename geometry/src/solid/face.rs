//! A flat face with holes, triangulated (constrained Delaunay).

use super::mesh::Builder;
use nalgebra::Point2;
use spade::handles::FixedVertexHandle;
use spade::{ConstrainedDelaunayTriangulation, Point2 as Spade, Triangulation};
use std::collections::HashMap;

/// A rectangle from (0, 0) to its far corner, less convex holes that lie inside it and apart.
pub(super) struct HoledFace {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) holes: Vec<Vec<Point2<f64>>>,
}

impl HoledFace {
    /// Adds the face; `place` gives the vertex of a point. Triangles run anti-clockwise in the
    /// face's own plane.
    ///
    /// Returns `None`, and adds nothing, where the triangulation refuses a point (not a number, or
    /// beyond its range).
    pub(super) fn add(&self, builder: &mut Builder, place: impl Fn(&mut Builder, &Point2<f64>) -> u32) -> Option<()> {
        let (w, h) = (self.width, self.height);
        let rectangle = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(|(x, y)| Point2::new(x, y));
        let mut cdt = ConstrainedDelaunayTriangulation::<Spade<f64>>::new();
        let mut points: HashMap<FixedVertexHandle, Point2<f64>> = HashMap::new();
        for ring in std::iter::once(&rectangle[..]).chain(self.holes.iter().map(Vec::as_slice)) {
            let handles: Vec<FixedVertexHandle> =
                ring.iter().map(|p| cdt.insert(Spade::new(p.x, p.y))).collect::<Result<_, _>>().ok()?;
            points.extend(handles.iter().copied().zip(ring.iter().copied()));
            for (i, from) in handles.iter().enumerate() {
                let to = handles[(i + 1) % handles.len()];
                if *from != to && cdt.can_add_constraint(*from, to) {
                    cdt.add_constraint(*from, to);
                }
            }
        }
        for face in cdt.inner_faces() {
            let corners = face.vertices().map(|v| points.get(&v.fix()).copied());
            let [Some(a), Some(b), Some(c)] = corners else { return None };
            let middle = Point2::from((a.coords + b.coords + c.coords) / 3.0);
            if !self.holes.iter().any(|hole| contains(hole, &middle)) {
                let corners = [a, b, c].map(|p| place(builder, &p));
                builder.triangle(corners);
            }
        }
        Some(())
    }
}

/// Whether a convex polygon, anti-clockwise, contains a point.
fn contains(polygon: &[Point2<f64>], at: &Point2<f64>) -> bool {
    (0..polygon.len()).all(|i| {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        (b - a).perp(&(at - a)) >= 0.0
    })
}
