//! The board's pieces as solids, cut by the recesses: directly, or by a robust boolean.

use super::clip::Cutter;
use super::{Body, Mesh};
use crate::board::Piece;
use boolmesh::prelude::{Manifold, OpType};

/// One piece after cutting.
#[derive(Clone, Debug)]
pub struct CutPiece {
    /// Which piece it is.
    pub piece: Piece,
    /// What is left of it.
    pub mesh: Mesh,
}

/// A recess as a closed solid, and as a convex cutter if it is one.
struct Tool {
    solid: Mesh,
    convex: Option<Cutter>,
}

impl Body {
    /// Every piece, less the recesses; `None` where the boolean fails on one.
    ///
    /// Pieces that no recess's box touches stay boxes; one that a single recess touches is built
    /// directly, any other, and what that refuses, by a robust boolean. Neighbours that were built
    /// directly have the same points on the face between them, bit by bit.
    #[must_use]
    pub fn cut_pieces(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let tools: Vec<Tool> =
            self.recess_solids(tolerance).into_iter().map(|solid| Tool { convex: Cutter::of(&solid), solid }).collect();
        let cut = |piece: &Piece| Some(CutPiece { piece: *piece, mesh: cut(piece, &tools)? });
        pieces.iter().map(cut).collect()
    }

    /// The same by the boolean alone: the second way, to check the first by.
    #[must_use]
    pub fn cut_pieces_by_boolean(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let cutters = self.recess_solids(tolerance);
        let cut = |piece: &Piece| {
            let whole = Mesh::cuboid(&piece.low, &piece.high);
            Some(CutPiece { piece: *piece, mesh: cutters.iter().try_fold(whole, subtract)? })
        };
        pieces.iter().map(cut).collect()
    }
}

fn cut(piece: &Piece, tools: &[Tool]) -> Option<Mesh> {
    let (low, high) = (&piece.low, &piece.high);
    let reaches = |tool: &&Tool| tool.convex.as_ref().is_none_or(|cutter| cutter.reaches(low, high));
    let mut reaching = tools.iter().filter(reaches);
    let Some(first) = reaching.next() else { return Some(Mesh::cuboid(low, high)) };
    let alone = if reaching.next().is_none() { first.convex.as_ref() } else { None };
    alone
        .and_then(|cutter| cutter.cut(low, high))
        .or_else(|| tools.iter().map(|tool| &tool.solid).try_fold(Mesh::cuboid(low, high), subtract))
}

/// `mesh` less `cutter`; `None` where the boolean refuses either.
fn subtract(mesh: Mesh, cutter: &Mesh) -> Option<Mesh> {
    let ([low, high], [from, to]) = (mesh.extent()?, cutter.extent()?);
    if !(0..3).all(|axis| low[axis] < to[axis] && from[axis] < high[axis]) {
        return Some(mesh);
    }
    let left = boolmesh::compute_boolean(&manifold(&mesh)?, &manifold(cutter)?, OpType::Subtract).ok()?;
    let vertices = left.ps.iter().map(|p| nalgebra::Point3::new(p.x, p.y, p.z)).collect();
    let corners: Vec<u32> = left.hs.iter().map(|h| u32::try_from(h.tail)).collect::<Result<_, _>>().ok()?;
    Some(Mesh { vertices, triangles: corners.chunks_exact(3).map(|t| [t[0], t[1], t[2]]).collect() })
}

fn manifold(mesh: &Mesh) -> Option<Manifold> {
    let positions: Vec<f64> = mesh.vertices.iter().flat_map(|v| [v.x, v.y, v.z]).collect();
    let indices: Vec<usize> = mesh.triangles.iter().flatten().map(|i| *i as usize).collect();
    Manifold::new(&positions, &indices).ok()
}
