//! The board's pieces as solids, cut by the same tools as the whole board: directly, or by a robust boolean.

use super::boolean::{intersect, subtract};
use super::clip::Cutter;
use super::{Body, Mesh};
use crate::board::Piece;
use nalgebra::Point3;

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
    /// Every piece, less all cuts; `None` where the boolean fails on one.
    ///
    /// Pieces that no cut's box touches stay boxes; those at the outline are cut to it where corners or rims are
    /// shaped. One that a single recess touches is built directly, any other, and what that refuses, by a robust
    /// boolean. Neighbours that were built directly have the same points on the face between them, bit by bit.
    #[must_use]
    pub fn cut_pieces(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let tools: Vec<Tool> =
            self.cutters(tolerance).into_iter().map(|solid| Tool { convex: Cutter::of(&solid), solid }).collect();
        self.shape_pieces(pieces, tolerance, |low, high| direct(low, high, &tools))
    }

    /// The same by the boolean alone: the second way, to check the first by.
    #[must_use]
    pub fn cut_pieces_by_boolean(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let cutters = self.cutters(tolerance);
        let cut = |low: &_, high: &_| cutters.iter().try_fold(Mesh::cuboid(low, high), subtract);
        self.shape_pieces(pieces, tolerance, cut)
    }

    /// Every piece, cut by `cut` from its lowest to its highest corner, or from what the outline leaves of it.
    fn shape_pieces(
        &self,
        pieces: &[Piece],
        tolerance: f64,
        cut: impl Fn(&Point3<f64>, &Point3<f64>) -> Option<Mesh>,
    ) -> Option<Vec<CutPiece>> {
        let uncut = if self.is_plain() { None } else { Some(self.uncut(tolerance).ok()?) };
        let cutters = if uncut.is_some() { self.cutters(tolerance) } else { Vec::new() };
        let mesh = |piece: &Piece| match &uncut {
            Some(uncut) if self.is_at_the_outline(&piece.low, &piece.high) => {
                let whole = intersect(Mesh::cuboid(&piece.low, &piece.high), uncut)?;
                cutters.iter().try_fold(whole, subtract)
            }
            _ => cut(&piece.low, &piece.high),
        };
        pieces.iter().map(|piece| Some(CutPiece { piece: *piece, mesh: mesh(piece)? })).collect()
    }

    fn is_plain(&self) -> bool {
        self.outline.corner <= 0.0 && self.outline.upper.is_none() && self.outline.lower.is_none()
    }

    /// Whether a piece reaches into what corners or rims take.
    fn is_at_the_outline(&self, low: &Point3<f64>, high: &Point3<f64>) -> bool {
        let [upper, lower] = self.outline.eased();
        let by = upper.max(lower).max(self.outline.corner);
        let size = self.size();
        low.x < by || low.y < by || high.x > size.length - by || high.y > size.width - by
    }
}

/// A piece that keeps all of its outer corners, cut directly where one convex tool reaches it.
fn direct(low: &Point3<f64>, high: &Point3<f64>, tools: &[Tool]) -> Option<Mesh> {
    let reaches = |tool: &&Tool| tool.convex.as_ref().is_none_or(|cutter| cutter.reaches(low, high));
    let mut reaching = tools.iter().filter(reaches);
    let Some(first) = reaching.next() else { return Some(Mesh::cuboid(low, high)) };
    let alone = if reaching.next().is_none() { first.convex.as_ref() } else { None };
    alone
        .and_then(|cutter| cutter.cut(low, high))
        .or_else(|| tools.iter().map(|tool| &tool.solid).try_fold(Mesh::cuboid(low, high), subtract))
}
