//! Frames for a plunge router: the opening that its guide bush, or its base, rides round in.

use crate::cut::{Cut, Path, Which};
use crate::job::PlungeRouter;
use crate::path::Cutting;
use nalgebra::Point2;

/// An opening in a flat frame, laid on the side that is up.
///
/// ```text
///   ╭───────────────────╮   opening: where the bit's centre goes, and o more on every side
///   │  ╭─────────────╮  │
///   │  │ bit's centre│  │   o: half of the guide bush's diameter, else of the base's
///   │  ╰─────────────╯  │
///   ╰───────────────────╯
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Its lower left corner in the program's X and Y ([`super::Up`]); outside the board it may be below 0.
    pub low: Point2<f64>,
    /// Its upper right corner.
    pub high: Point2<f64>,
    /// The radius of its corners: that of the bit's way and o, for what is round rides in it.
    pub corner: f64,
    /// o: from the bit's centre to what rides in the opening.
    pub offset: f64,
    /// Whether a guide bush rides in it, else the base.
    pub by_bush: bool,
}

impl Frame {
    /// For a handhold or a groove; `None` for other cuts and where the bush is no wider than the bit.
    ///
    /// By hand: a groove whose bit's centre runs 260 × 160 mm with corners of 25 mm, a bush of 16 mm: an opening of 276 ×
    /// 176 mm with corners of 33 mm.
    #[must_use]
    pub fn of(cutting: &Cutting, router: &PlungeRouter) -> Option<Self> {
        let bush = router.guide_bush.filter(|bush| *bush > cutting.bit.diameter);
        if router.guide_bush.is_some() && bush.is_none() {
            return None;
        }
        let offset = bush.unwrap_or(router.base).mm() / 2.0;
        let round = match (cutting.cut, cutting.paths.first()?) {
            (Cut::Handhold(_), Path::Filled(_)) => 0.0,
            (Cut::Face(Which::Groove(_)), Path::Round(round)) => round.radius,
            _ => return None,
        };
        let [low, high] = cutting.extent();
        let out = nalgebra::Vector2::repeat(offset);
        Some(Self { low: low - out, high: high + out, corner: round + offset, offset, by_bush: bush.is_some() })
    }

    /// How long and how wide the opening is.
    #[must_use]
    pub fn opening(&self) -> [f64; 2] {
        [self.high.x - self.low.x, self.high.y - self.low.y]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Bit, Cuts, Face, Finished, Groove};
    use crate::fixtures::{handhold, mm};
    use approx::assert_relative_eq;

    const BOARD: Finished = Finished { length: 300.0, width: 200.0, thickness: 36.0 };

    #[test]
    fn the_worked_groove() {
        let bit = Bit { diameter: mm(12), corner_radius: mm(6), ..handhold(["2", "2"]).bit };
        let groove = Groove { face: Face::Upper, bit, depth: mm(6), setback: mm(14), corner_radius: mm(25), rim: None };
        let all = Cutting::all(&[], &Cuts { grooves: vec![groove], ..Cuts::default() }, &BOARD);
        let frame = Frame::of(&all[0], &PlungeRouter { base: mm(150), guide_bush: Some(mm(16)) }).unwrap();
        assert_relative_eq!(frame.opening()[0], 276.0, epsilon = 1e-9);
        assert_relative_eq!(frame.opening()[1], 176.0, epsilon = 1e-9);
        assert_relative_eq!(frame.corner, 33.0, epsilon = 1e-9);
        assert!(Frame::of(&all[0], &PlungeRouter { base: mm(150), guide_bush: Some(mm(12)) }).is_none());
        let wide = Frame::of(&all[0], &PlungeRouter { base: mm(150), guide_bush: None }).unwrap();
        assert_relative_eq!(wide.opening()[0], 260.0 + 150.0, epsilon = 1e-9);
        assert!(!wide.by_bush);
    }

    /// Wherever the bush touches the opening all round, the bit's edge is on the cut's rim.
    #[test]
    fn the_bush_in_a_handholds_frame_leaves_the_recess() {
        let cutting = Cutting::handhold(0, &handhold(["2", "3"]), &BOARD);
        let frame = Frame::of(&cutting, &PlungeRouter { base: mm(150), guide_bush: Some(mm(30)) }).unwrap();
        let [low, high] = cutting.extent();
        assert_relative_eq!(frame.low.x + 15.0, low.x, epsilon = 1e-9);
        assert_relative_eq!(frame.high.x - 15.0, high.x, epsilon = 1e-9);
        assert_relative_eq!(frame.opening()[1], 30.0, epsilon = 1e-9);
        assert_relative_eq!(frame.corner, 15.0, epsilon = 1e-9);
    }
}
