//! The rims of the finished board, eased on a CNC by a bit without a bearing: its moves, and what it cuts.
//!
//! ```text
//!           axis
//!            │          ╱│   e: from the board's side out to the bit's axis
//!   ─────╮  ╱│╲        ╱ │   a hollow of radius r: e is half the width of the flat below it, the bit r deep
//!    wood ╲╱ │ ╲      ╱  │   a cone: a little farther out and deeper, so that neither its point nor its flat end cuts
//!         │◄e►  ╲ ══════ │
//! ```
//! The bit goes down beside the board, comes onto its way along a quarter circle, runs once round it and leaves it so.

use super::course::joined;
use super::program::{Move, Program};
use super::{Cutting, Up};
use crate::cut::region::{Loop, Piece};
use crate::cut::{Bit, Cut, Cuts, Easing, Face, Finished, Path, Profile};
use crate::job::{Cnc, Milling};
use crate::measure::Length;
use nalgebra::{Point2, Point3};
use std::f64::consts::{FRAC_PI_2, PI};

/// How much of a cone's end stays outside of the board's side, at most, mm (common practice, no source).
const CLEAR_OF_POINT: f64 = 1.0;
/// Between the bit and the board where it goes down, mm.
const BESIDE: f64 = 2.0;
/// How far it goes on where it has begun, mm.
const OVERLAP: f64 = 2.0;

impl Cutting {
    /// The eased rims that have a bit, the upper one first; the board lies with that face up.
    #[must_use]
    pub fn rims(cuts: &Cuts, bits: &[Option<Bit>; 2], board: &Finished) -> Vec<Self> {
        let faces = [(Face::Upper, cuts.upper_rim), (Face::Lower, cuts.lower_rim)];
        faces
            .into_iter()
            .zip(bits)
            .filter_map(|((face, rim), bit)| rim_of(face, rim?, bit.as_ref()?, cuts, board))
            .collect()
    }
}

fn rim_of(face: Face, rim: Easing, bit: &Bit, cuts: &Cuts, board: &Finished) -> Option<Cutting> {
    let (tip, size) = (bit.tip(), rim.size());
    // How much farther out than its flat end, and as much deeper.
    let more = match (rim, bit.eases?) {
        (Easing::RoundOver(radius), Easing::RoundOver(hollow)) => (radius == hollow).then_some(0.0)?,
        (Easing::Chamfer(_), Easing::Chamfer(cone)) => {
            (size <= cone.mm()).then(|| CLEAR_OF_POINT.min(cone.mm() - size))?
        }
        _ => return None,
    };
    let depth = size + more;
    let shown = match rim {
        Easing::RoundOver(_) => rim,
        Easing::Chamfer(_) => Easing::Chamfer(Length::nearest_to_mm(depth)),
    };
    let name = format!("{} of the {} rim", rim.name(), face.name());
    Some(Cutting {
        cut: Cut::Rim(face),
        label: format!("rim {}", face.name()),
        name,
        up: Up::Face(face),
        paths: vec![Path::Round(cuts.outline(*board).plan().inset(-(tip + more)))],
        beside: 0.0,
        bit: bit.clone(),
        profile: Profile { radius: tip, corner: 0.0, depth: shown.size(), rim: Some(shown) },
        passes: None,
        cleared: 0.0,
        stock: [board.length, board.width, board.thickness],
    })
}

impl Program {
    /// Once round at each depth, the last one a light pass that runs as the last passes do.
    pub(super) fn rim(&mut self, cnc: &Cnc) {
        let Some(Path::Round(way)) = self.cutting.paths.first() else { return };
        let (Loop(pieces), low, high) = (way.outline(), way.low, way.high);
        let middle = Point2::new((low.x + high.x) / 2.0, low.y);
        let out = (self.cutting.bit.shape().outer() + BESIDE).max(1.0);
        let levels = self.depths.clone();
        for (k, depth) in levels.iter().enumerate() {
            let runs = if k + 1 == levels.len() { cnc.last_pass } else { cnc.widening };
            // Clockwise round the board, which is then on the right: along its front toward X minus.
            let ahead = if runs == Milling::Climb { -1.0 } else { 1.0 };
            let round = from_the_middle(&pieces, middle, ahead);
            let arc = |along: f64, from: f64| Piece::Arc {
                centre: Point2::new(middle.x + ahead * along, middle.y - out),
                radius: out,
                from,
                turn: -ahead * FRAC_PI_2,
            };
            let on = |along: f64| Point2::new(middle.x + ahead * along, middle.y);
            let onto = arc(0.0, if ahead > 0.0 { PI } else { 0.0 });
            let off = arc(OVERLAP, FRAC_PI_2);
            let (begin, end) = (onto.at(0.0), off.at(1.0));
            let way = [vec![onto], round, vec![Piece::Line(middle, on(OVERLAP)), off]].concat();
            let at = |p: Point2<f64>, z: f64| Point3::new(p.x, p.y, z);
            self.moves.push(Move::Rapid(at(begin, self.safe_height)));
            self.moves.push(Move::Feed(at(begin, -depth), self.feeds.ramp_feed));
            self.follow(&way, [-depth; 2], self.feeds.feed);
            self.moves.push(Move::Rapid(at(end, self.safe_height)));
        }
    }
}

/// An outline's pieces, anti-clockwise where `ahead` is positive, from the middle of its side at low Y.
fn from_the_middle(pieces: &[Piece], middle: Point2<f64>, ahead: f64) -> Vec<Piece> {
    let front = pieces.iter().position(|p| p.share_of(&middle).is_some_and(|share| share > 0.0 && share < 1.0));
    let Some(front) = front else { return pieces.to_vec() };
    let (side, others) = (pieces[front], [&pieces[front + 1..], &pieces[..front]].concat());
    let [a, b] = [side.at(0.0), side.at(1.0)];
    let all = joined([vec![Piece::Line(middle, b)], others, vec![Piece::Line(a, middle)]].concat());
    if ahead > 0.0 { all } else { all.iter().rev().map(Piece::reversed).collect() }
}
