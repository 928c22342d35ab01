//! The finished board as one solid: a box and the recesses in its edges.

use super::between;
use super::face::HoledFace;
use super::mesh::{Builder, Mesh};
use super::recess::Placed;
use crate::cut::{Edge, EdgeFrame, Finished, Handhold, Recess};
use nalgebra::{Point2, Point3};
use thiserror::Error;

/// The whole board, exactly: after flattening and trimming, with its handholds, before edges are
/// eased.
#[derive(Clone, Debug)]
pub struct Body {
    board: Finished,
    recesses: Vec<(Edge, Placed)>,
}

/// Why a board can't be described as a body.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoBody {
    /// A recess (by its place in the list) leaves its edge, has no length, or breaks through.
    #[error("recess {0} does not lie within its edge")]
    LeavesTheEdge(usize),
    /// Two recesses meet.
    #[error("recesses {0} and {1} meet")]
    Meet(usize, usize),
    /// The triangulation refused a point: a size that is not a number or out of all range.
    #[error("the board's size can't be meshed")]
    OutOfRange,
}

impl Body {
    /// The body of a board with these handholds.
    ///
    /// # Errors
    /// [`NoBody`] where a recess doesn't lie within its edge's face or two of them meet.
    pub fn of(board: Finished, handholds: &[Handhold]) -> Result<Self, NoBody> {
        let recesses: Vec<(Edge, Placed)> = handholds.iter().map(|h| (h.edge, placed(h, &board))).collect();
        for (i, (edge, placed)) in recesses.iter().enumerate() {
            if !lies_within(*edge, placed, &board) {
                return Err(NoBody::LeavesTheEdge(i));
            }
            let meets = |j: &usize| {
                gap(&room(placed), &room(&recesses[*j].1)) <= 0.0
                    && between(&handholds[*j], &handholds[i], &board).is_none_or(|distance| distance <= 0.0)
            };
            if let Some(j) = (0..i).find(meets) {
                return Err(NoBody::Meet(j, i));
            }
        }
        Ok(Self { board, recesses })
    }

    /// The finished size.
    #[must_use]
    pub const fn size(&self) -> &Finished {
        &self.board
    }

    /// The recesses, exactly.
    pub fn recesses(&self) -> impl Iterator<Item = &Recess> {
        self.recesses.iter().map(|(_, placed)| &placed.recess)
    }

    /// The exact volume: the box less the closed form of every recess, mm³.
    ///
    /// ```
    /// use quarterturn_geometry::cut::Finished;
    /// use quarterturn_geometry::solid::Body;
    /// let body = Body::of(Finished { length: 300.0, width: 200.0, thickness: 40.0 }, &[]).unwrap();
    /// assert_eq!(body.volume(), 2_400_000.0);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        let Finished { length, width, thickness } = self.board;
        length * width * thickness - self.removed()
    }

    /// What the recesses take, mm³.
    #[must_use]
    pub fn removed(&self) -> f64 {
        self.recesses().map(Recess::volume).sum()
    }

    /// The bound of |V_mesh − V| at a chord tolerance, mm³.
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        self.recesses().map(|r| r.mesh_bound(tolerance)).sum()
    }

    /// The whole board as one closed mesh.
    ///
    /// # Errors
    /// [`NoBody::OutOfRange`] for a size that can't be meshed.
    pub fn mesh(&self, tolerance: f64) -> Result<Mesh, NoBody> {
        let Finished { length, width, thickness } = self.board;
        let mut builder = Builder::default();
        let corner = |x: f64, y: f64, z: f64| Point3::new(x * length, y * width, z * thickness);
        for (z, order) in [(0.0, [0, 3, 2, 1]), (1.0, [0, 1, 2, 3])] {
            let corners = [corner(0.0, 0.0, z), corner(1.0, 0.0, z), corner(1.0, 1.0, z), corner(0.0, 1.0, z)];
            let vertices = corners.map(|p| builder.vertex(p));
            builder.quad(order.map(|i: usize| vertices[i]));
        }
        for edge in Edge::ALL {
            self.add_edge(edge, tolerance, &mut builder).ok_or(NoBody::OutOfRange)?;
        }
        Ok(builder.finish())
    }

    fn add_edge(&self, edge: Edge, tolerance: f64, builder: &mut Builder) -> Option<()> {
        let mut holes = Vec::new();
        for (_, placed) in self.recesses.iter().filter(|(e, _)| *e == edge) {
            let rings = placed.rings(tolerance);
            placed.add_inside(&rings, builder);
            holes.push(rings.first()?.iter().map(|p| p.xy()).collect());
        }
        let frame = EdgeFrame::of(edge, &self.board);
        let face = HoledFace { width: edge.length(&self.board), height: self.board.thickness, holes };
        face.add(builder, |b, p: &Point2<f64>| b.vertex(frame.on_board(&Point3::new(p.x, p.y, 0.0))))
    }

    /// Each recess as a closed solid, in the order of the handholds.
    #[must_use]
    pub fn recess_solids(&self, tolerance: f64) -> Vec<Mesh> {
        self.recesses.iter().map(|(_, placed)| placed.solid(tolerance)).collect()
    }
}

pub(super) fn placed(hold: &Handhold, board: &Finished) -> Placed {
    let [from, to] = hold.centres(board);
    Placed { recess: hold.recess(board), frame: hold.frame(board), from: from.x, to: to.x, middle: hold.middle(board) }
}

fn lies_within(edge: Edge, placed: &Placed, board: &Finished) -> bool {
    let Placed { recess, from, to, middle, .. } = placed;
    let rho = recess.half_width_at_surface();
    recess.travel >= 0.0
        && recess.depth > 0.0
        && recess.depth < edge.stands(board)
        && from - rho > 0.0
        && to + rho < edge.length(board)
        && middle - rho > 0.0
        && middle + rho < board.thickness
}

/// The box that a recess lies in.
fn room(placed: &Placed) -> [Point3<f64>; 2] {
    let rho = placed.recess.half_width_at_surface();
    let corner = |along: f64, up: f64, out: f64| placed.frame.on_board(&Point3::new(along, up, out));
    let a = corner(placed.from - rho, placed.middle - rho, -placed.recess.depth);
    let b = corner(placed.to + rho, placed.middle + rho, 0.0);
    [a.inf(&b), a.sup(&b)]
}

/// The least distance between two boxes, 0 where they meet: no more than between what lies in them.
fn gap(a: &[Point3<f64>; 2], b: &[Point3<f64>; 2]) -> f64 {
    let apart = |axis: usize| (a[0][axis] - b[1][axis]).max(b[0][axis] - a[1][axis]).max(0.0);
    (0..3).map(apart).map(|d| d * d).sum::<f64>().sqrt()
}

/// A lower bound of the distance between two recesses, quickly: that of the boxes they lie in, mm.
#[must_use]
pub fn at_least_between(a: &Handhold, b: &Handhold, board: &Finished) -> f64 {
    gap(&room(&placed(a, board)), &room(&placed(b, board)))
}
