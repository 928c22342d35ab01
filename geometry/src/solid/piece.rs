//! The board's pieces as solids, cut by the recesses (robust boolean).

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

impl Body {
    /// Every piece, less the recesses; `None` where the boolean fails on one.
    ///
    /// Pieces that no recess's box touches stay boxes.
    #[must_use]
    pub fn cut_pieces(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let cutters = self.recess_solids(tolerance);
        pieces
            .iter()
            .map(|piece| {
                let whole = Mesh::cuboid(&piece.low, &piece.high);
                let mesh = cutters.iter().try_fold(whole, subtract)?;
                Some(CutPiece { piece: *piece, mesh })
            })
            .collect()
    }
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
