//! Least distances on the solid, by parry3d. Nothing else in the crate knows that library.

use super::Mesh;
use super::body::placed;
use super::tool::Tool;
use crate::cut::{Edge, Finished, Handhold};
use nalgebra::Point3;
use parry3d::math::{Pose, Vector};
use parry3d::query;
use parry3d::shape::TriMesh;

/// The chord tolerance of the meshes by which it is told whether cuts meet, mm: whatever the plan asks for its files, so
/// that a fine one doesn't make a check slow.
const FINE: f64 = 0.02;

/// That of a lip's, which chords don't change.
const COARSE: f64 = 0.2;

/// The least distance between a recess and a face of the board that shares no edge with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lip {
    /// How thick, mm.
    pub thickness: f64,
    /// The face: `upper face`, `lower face`, or the edge's name.
    pub face: &'static str,
}

impl Lip {
    /// Measured on the meshed solid; `None` for a recess that can't be meshed.
    ///
    /// The rim runs straight along the edge and a point of the mesh lies at each end of the recess, so
    /// that these distances don't depend on how finely it is meshed.
    #[must_use]
    pub fn measured(hold: &Handhold, board: &Finished) -> Option<Self> {
        let recess = Surface::of(&placed_if_one(hold, board)?.solid(COARSE))?;
        faces(hold.edge, board)
            .into_iter()
            .filter_map(|(name, corners)| {
                let quad = Mesh { vertices: corners.to_vec(), triangles: vec![[0, 1, 2], [0, 2, 3]] };
                recess.distance(&Surface::of(&quad)?).map(|thickness| Self { thickness, face: name })
            })
            .min_by(|a, b| a.thickness.total_cmp(&b.thickness))
    }

    /// By the closed form: the least of the wood above and below, the two setbacks, and what is
    /// left behind the floor.
    #[must_use]
    pub fn computed(hold: &Handhold, board: &Finished) -> Self {
        let rim = hold.profile().rim_size();
        let ([lower, upper], [a, c]) = (hold.lips(board), hold.setbacks(board).map(|setback| setback - rim));
        let [first, second] = hold.edge.ends();
        let behind = hold.edge.stands(board) - hold.depth.mm();
        [(lower, "lower face"), (upper, "upper face"), (a, first.name()), (c, second.name()), (behind, "far edge")]
            .map(|(thickness, face)| Self { thickness, face })
            .into_iter()
            .fold(Self { thickness: f64::INFINITY, face: "" }, |least, lip| {
                if lip.thickness < least.thickness { lip } else { least }
            })
    }
}

/// A handhold where it lies, if it is a recess at all.
pub(super) fn placed_if_one(hold: &Handhold, board: &Finished) -> Option<Tool> {
    let shape = hold.recess(board);
    let is_one = shape.travel >= 0.0 && shape.widening >= 0.0 && shape.profile.depth > 0.0 && shape.profile.rim_fits();
    is_one.then(|| placed(hold, board))
}

/// Whether two cuts are farther apart than that; not where one can't be meshed.
pub(super) fn apart(a: &Tool, b: &Tool, by: f64) -> bool {
    let [a, b] = [a, b].map(|tool| Surface::of(&tool.solid(FINE)));
    a.zip(b).and_then(|(a, b)| a.distance(&b)).is_some_and(|distance| distance > by)
}

/// The faces that share no edge with a recess in this edge.
fn faces(edge: Edge, board: &Finished) -> Vec<(&'static str, [Point3<f64>; 4])> {
    let Finished { length, width, thickness } = *board;
    let at = |x: f64, y: f64, z: f64| Point3::new(x * length, y * width, z * thickness);
    let side = |e: Edge| match e {
        Edge::Left => [at(0., 0., 0.), at(0., 1., 0.), at(0., 1., 1.), at(0., 0., 1.)],
        Edge::Right => [at(1., 0., 0.), at(1., 1., 0.), at(1., 1., 1.), at(1., 0., 1.)],
        Edge::Front => [at(0., 0., 0.), at(1., 0., 0.), at(1., 0., 1.), at(0., 0., 1.)],
        Edge::Back => [at(0., 1., 0.), at(1., 1., 0.), at(1., 1., 1.), at(0., 1., 1.)],
    };
    let mut faces = vec![
        ("lower face", [at(0., 0., 0.), at(1., 0., 0.), at(1., 1., 0.), at(0., 1., 0.)]),
        ("upper face", [at(0., 0., 1.), at(1., 0., 1.), at(1., 1., 1.), at(0., 1., 1.)]),
    ];
    faces.extend(Edge::ALL.into_iter().filter(|e| *e != edge).map(|e| (e.name(), side(e))));
    faces
}

/// A mesh made ready to be measured from.
pub(super) struct Surface(TriMesh);

impl Surface {
    /// `None` for what is no mesh.
    pub(super) fn of(mesh: &Mesh) -> Option<Self> {
        let vertices = mesh.vertices.iter().map(|v| Vector::new(v.x, v.y, v.z)).collect();
        TriMesh::new(vertices, mesh.triangles.clone()).ok().map(Self)
    }

    /// The least distance to another, mm; 0 where they meet.
    pub(super) fn distance(&self, other: &Self) -> Option<f64> {
        query::distance(&Pose::IDENTITY, &self.0, &Pose::IDENTITY, &other.0).ok().map(|d| d.distance)
    }
}
