//! The board's pieces as solids, cut by the same tools as the whole board: directly, or by a robust boolean.

use super::boolean::{intersect, subtract};
use super::clip::Cutter;
use super::share::share;
use super::tidy::tidy;
use super::{Body, Mesh};
use crate::board::Piece;
use crate::cut::Path;
use nalgebra::{Point2, Point3};

/// One piece after cutting.
#[derive(Clone, Debug)]
pub struct CutPiece {
    /// Which piece it is.
    pub piece: Piece,
    /// What is left of it.
    pub mesh: Mesh,
}

/// A cut as a closed solid, and as a convex cutter if it is one.
struct Cutting {
    solid: Mesh,
    /// The box that it lies in.
    extent: Option<[Point3<f64>; 2]>,
    convex: Option<Cutter>,
    /// Low and high X and Y that a closed path leaves whole.
    spares: Option<[Point2<f64>; 2]>,
}

/// A cut that reaches no farther than this into a piece only touches it, mm. Where its end touches a piece's side from
/// inside (a recess that ends at a glue line), what is left would hang together along a line of no width; there the end
/// stands this far off the side.
const TOUCH: f64 = 1e-6;

impl Cutting {
    fn reaches(&self, low: &Point3<f64>, high: &Point3<f64>) -> bool {
        let Some([from, to]) = self.extent else { return false };
        let beside = (0..3).any(|axis| high[axis] <= from[axis] + TOUCH || to[axis] <= low[axis] + TOUCH);
        if let Some(convex) = &self.convex {
            return !beside && convex.reaches(low, high);
        }
        let spared =
            |[from, to]: &[Point2<f64>; 2]| (0..2).all(|axis| from[axis] <= low[axis] && high[axis] <= to[axis]);
        !beside && !self.spares.as_ref().is_some_and(spared)
    }
}

impl Body {
    /// Every piece, less all cuts; `None` where the boolean fails on one. A piece of which nothing is left isn't among
    /// them.
    ///
    /// Pieces that no cut's box touches stay boxes; one that a single recess touches is built directly, any other, and
    /// what that refuses, by a robust boolean, as are those at the outline where corners or rims are shaped. Points that
    /// two pieces share have the same bits.
    #[must_use]
    pub fn cut_pieces(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let tolerance = self.fine_enough(tolerance);
        let cuttings = self.cuttings(tolerance);
        let uncut = if self.is_plain() { None } else { Some(self.uncut(tolerance).ok()?) };
        let (mut all, mut by_boolean) = (Vec::with_capacity(pieces.len()), false);
        for piece in pieces {
            let shaped = uncut.as_ref().filter(|_| self.is_at_the_outline(&piece.low, &piece.high));
            let (mesh, built) = cut(piece, shaped, &cuttings)?;
            by_boolean |= built == Built::ByBoolean;
            if !mesh.triangles.is_empty() {
                all.push(CutPiece { piece: *piece, mesh });
            }
        }
        // What is built directly has the same points on either side of a plane; what wasn't cut is a box, whose corners
        // are exact.
        if by_boolean {
            share(all.iter_mut().map(|cut| &mut cut.mesh).filter(|mesh| mesh.triangles.len() > 12));
        }
        Some(all)
    }

    /// The same by the boolean alone: the second way, to check the first by.
    #[must_use]
    pub fn cut_pieces_by_boolean(&self, pieces: &[Piece], tolerance: f64) -> Option<Vec<CutPiece>> {
        let tolerance = self.fine_enough(tolerance);
        let cutters = self.cutters(tolerance);
        let uncut = if self.is_plain() { None } else { Some(self.uncut(tolerance).ok()?) };
        let cut = |piece: &Piece| {
            let whole = Mesh::cuboid(&piece.low, &piece.high);
            let whole = if let Some(uncut) = &uncut { intersect(whole, uncut)? } else { whole };
            Some(CutPiece { piece: *piece, mesh: cutters.iter().try_fold(whole, subtract)? })
        };
        pieces.iter().map(cut).collect()
    }

    fn cuttings(&self, tolerance: f64) -> Vec<Cutting> {
        let tools = self.recesses.iter().map(|(.., tool)| tool).chain(self.sweeps.iter().map(|s| &s.tool));
        let cutting = |tool: &super::tool::Tool| {
            let solid = tool.solid(tolerance);
            let spares = match &tool.path {
                Path::Filled(_) | Path::Arch(_) => None,
                Path::Round(path) => {
                    let inner = path.inset(tool.profile.at_surface());
                    // The corner's arc lies (1 − 1/√2) of its radius off the square corner, along each side.
                    let off = inner.radius * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
                    let off = nalgebra::Vector2::new(off, off);
                    Some([inner.low + off, inner.high - off])
                }
            };
            let convex = if spares.is_none() { Cutter::of(&solid) } else { None };
            Cutting { convex, extent: solid.extent(), solid, spares }
        };
        tools.map(cutting).collect()
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

/// Which way a piece was made.
#[derive(PartialEq, Eq)]
enum Built {
    Directly,
    ByBoolean,
}

fn cut(piece: &Piece, shaped: Option<&Mesh>, cuttings: &[Cutting]) -> Option<(Mesh, Built)> {
    let (low, high) = (&piece.low, &piece.high);
    let reaching: Vec<&Cutting> = cuttings.iter().filter(|cutting| cutting.reaches(low, high)).collect();
    let whole = Mesh::cuboid(low, high);
    match (shaped, reaching.as_slice()) {
        (None, []) => return Some((whole, Built::Directly)),
        (None, [alone]) => {
            if let Some(mesh) = alone.convex.as_ref().and_then(|cutter| cutter.cut(low, high)) {
                return Some((mesh, Built::Directly));
            }
        }
        _ => {}
    }
    let whole = if let Some(uncut) = shaped { intersect(whole, uncut)? } else { whole };
    let mut solids = reaching.iter().map(|cutting| off_the_sides(&cutting.solid, low, high));
    let left = solids.try_fold(whole, |left, solid| subtract(left, &solid))?;
    // Closed comes before tidy.
    Some((Some(tidy(&left)).filter(Mesh::is_closed).unwrap_or(left), Built::ByBoolean))
}

/// The cutter, drawn in where it touches a side of the piece from inside along a line; a floor that lies in a side
/// opens it, and stays.
fn off_the_sides(cutter: &Mesh, low: &Point3<f64>, high: &Point3<f64>) -> Mesh {
    let mut drawn_in = cutter.clone();
    let Some([from, to]) = cutter.extent() else { return drawn_in };
    for axis in 0..2 {
        for (end, side, inward) in [(from[axis], low[axis], TOUCH), (to[axis], high[axis], -TOUCH)] {
            let touches = |v: &Point3<f64>| (v[axis] - side).abs() < TOUCH;
            if (end - side).abs() < TOUCH && is_a_line(cutter.vertices.iter().filter(|v| touches(v)), axis) {
                drawn_in.vertices.iter_mut().filter(|v| touches(v)).for_each(|v| v[axis] = side + inward);
            }
        }
    }
    drawn_in
}

/// Whether points in a plane across `axis` lie on a line along one of the other two.
fn is_a_line<'a>(points: impl Iterator<Item = &'a Point3<f64>>, axis: usize) -> bool {
    let points: Vec<&Point3<f64>> = points.collect();
    let level = |k: usize| points.iter().all(|p| (p[k] - points[0][k]).abs() < TOUCH);
    level((axis + 1) % 3) || level((axis + 2) % 3)
}
