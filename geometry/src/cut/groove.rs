//! A juice groove: once round a face, at a constant distance from the edges.

use super::{Bit, Easing, Face, Finished, Path, Profile, Rounded, Sweep};
use crate::measure::Length;
use nalgebra::Point2;

/// A groove round a face.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Groove {
    /// The face.
    pub face: Face,
    /// The bit.
    pub bit: Bit,
    /// d: how deep.
    pub depth: Length,
    /// From each edge of the finished board to the groove's nearer rim.
    pub setback: Length,
    /// The radius of the corners that the bit's centre runs round.
    pub corner_radius: Length,
    /// How its two rims are eased, afterwards: the setback is the bit's.
    pub rim: Option<Easing>,
}

impl Groove {
    /// Half its section.
    #[must_use]
    pub fn profile(&self) -> Profile {
        Profile::of(&self.bit, self.depth.mm()).eased(self.rim)
    }

    /// From the edge to the bit's centre: setback + ρ(d), mm.
    #[must_use]
    pub fn centre_line(&self) -> f64 {
        self.setback.mm() + self.profile().bit_at_surface()
    }

    /// Where the bit's centre goes.
    #[must_use]
    pub fn path(&self, board: &Finished) -> Rounded {
        let off = self.centre_line();
        Rounded {
            low: Point2::new(off, off),
            high: Point2::new(board.length - off, board.width - off),
            radius: self.corner_radius.mm(),
        }
    }

    /// The cut.
    #[must_use]
    pub fn sweep(&self, board: &Finished) -> Sweep {
        Sweep { path: Path::Round(self.path(board)), profile: self.profile(), face: self.face, through: false }
    }

    /// The widest that fits on a board: how much is left between the two long runs, 0 or less where they meet; and
    /// by how much the corner radius is too large, 0 or less where it isn't.
    #[must_use]
    pub fn room(&self, board: &Finished) -> [f64; 2] {
        let path = self.path(board);
        let least = path.length().min(path.width());
        [least - 2.0 * self.profile().at_surface(), 2.0 * path.radius - least]
    }

    /// The largest setback with which its two long runs don't meet, mm; 0 or less where no groove of this width fits.
    #[must_use]
    pub fn widest_setback(&self, board: &Finished) -> f64 {
        let profile = self.profile();
        board.length.min(board.width) / 2.0 - profile.bit_at_surface() - profile.at_surface()
    }
}
