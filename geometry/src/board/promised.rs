//! How far the figure on a face is promised: on a coarse grid over each piece, because the band's
//! width changes slowly and takes long to work out.

use super::{Board, Face, Piece, Spot};
use crate::stock::Seen;
use crate::wood::Shown;
use nalgebra::Point3;
use std::collections::HashMap;

/// Distance between the points of the grid, mm: about a ring.
const APART: f64 = 2.5;
/// The most points on a face: larger boards have a coarser grid.
const MOST_POINTS: f64 = 60_000.0;

/// See the module.
pub(super) struct Promised {
    pieces: HashMap<(usize, usize), Grid>,
}

/// What may be shown on one piece.
struct Grid {
    low: [f64; 2],
    per_cell: [f64; 2],
    across: usize,
    shown: Vec<Shown>,
}

impl Promised {
    pub(super) fn of(board: &Board, face: Face, workers: usize) -> Self {
        let size = board.finished();
        let apart = (size.length * size.width / MOST_POINTS).sqrt().max(APART);
        let pieces = board.pieces();
        let z = board.height_of(face);
        let each = pieces.len().div_ceil(workers).max(1);
        let grids = |pieces: &[Piece]| -> Vec<((usize, usize), Grid)> {
            pieces.iter().map(|piece| ((piece.place, piece.blank), Grid::over(board, piece, z, apart))).collect()
        };
        let all = std::thread::scope(|scope| {
            let parts: Vec<_> = pieces.chunks(each).map(|part| scope.spawn(move || grids(part))).collect();
            parts.into_iter().flat_map(|part| part.join().unwrap_or_default()).collect()
        });
        Self { pieces: all }
    }

    /// What may be shown at a point of the face; nothing where no piece lies.
    pub(super) fn at(&self, spot: &Spot, at: &Point3<f64>) -> Shown {
        self.pieces.get(&(spot.place, spot.blank)).map_or(Shown::NOTHING, |grid| grid.at(at))
    }
}

impl Grid {
    fn over(board: &Board, piece: &Piece, z: f64, apart: f64) -> Self {
        let sides = [piece.high.x - piece.low.x, piece.high.y - piece.low.y];
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let cells = sides.map(|side| (side / apart).ceil().max(1.0) as usize);
        let across = cells[0] + 1;
        let step = [0, 1].map(|i| sides[i] / cells[i] as f64);
        let shown = |n: usize| {
            let (i, j) = (n % across, n / across);
            let at = Point3::new(piece.low.x + i as f64 * step[0], piece.low.y + j as f64 * step[1], z);
            shown(board, piece, &at)
        };
        Self {
            low: [piece.low.x, piece.low.y],
            per_cell: step.map(|step| 1.0 / step),
            across,
            shown: (0..across * (cells[1] + 1)).map(shown).collect(),
        }
    }

    /// Between the four points around.
    fn at(&self, at: &Point3<f64>) -> Shown {
        let down = self.shown.len() / self.across;
        let split = |x: f64, cells: usize| {
            let x = x.clamp(0.0, cells as f64);
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let cell = (x as usize).min(cells - 1);
            #[allow(clippy::cast_possible_truncation)]
            let within = (x - cell as f64) as f32;
            (cell, within)
        };
        let (i, s) = split((at.x - self.low[0]) * self.per_cell[0], self.across - 1);
        let (j, t) = split((at.y - self.low[1]) * self.per_cell[1], down - 1);
        let corner = |di: usize, dj: usize| self.shown[(j + dj) * self.across + i + di];
        let mix = |a: Shown, b: Shown, t: f32| Shown {
            rings: a.rings + (b.rings - a.rings) * t,
            zones: a.zones + (b.zones - a.zones) * t,
        };
        mix(mix(corner(0, 0), corner(1, 0), s), mix(corner(0, 1), corner(1, 1), s), t)
    }
}

/// A blank of which no end was seen promises nothing.
fn shown(board: &Board, piece: &Piece, at: &Point3<f64>) -> Shown {
    // At its very edge a point may fall into the neighbour.
    let inside = |x: f64, low: f64, high: f64| x.clamp(low + 1e-6, (high - 1e-6).max(low + 1e-6));
    let at = Point3::new(inside(at.x, piece.low.x, piece.high.x), inside(at.y, piece.low.y, piece.high.y), at.z);
    let seen = board.spot_in(piece.place, &at).and_then(|spot| Some((spot, board.blank_at(&spot)?)));
    match seen {
        Some((spot, blank)) if blank.seen != Seen::Nothing => blank.figure.shown(&spot.at),
        _ => Shown::NOTHING,
    }
}
