//! The quarter turn that brings the end grain up, and the four ways to lay a strip after it.

use nalgebra::{Isometry3, Matrix3, Point3, Rotation3, Translation3, UnitQuaternion};

/// How a strip lies in the board.
///
/// *As cut*, X = y, Y = W − x, Z = z − z_k: the cut face nearer the far end is up, the panel's
/// upper face looks toward +X, the first blank is at the back. The other three are that, followed
/// by a half turn about the strip's own centre:
///
/// | turn | half turn about | X | Y | Z | section on top |
/// |---|---|---|---|---|---|
/// | as cut | none | y | W − x | z − z_k | z_k + s |
/// | rolled over | its long axis (Y) | T − y | W − x | s − (z − z_k) | z_k |
/// | end for end | the upright (Z) | T − y | x | z − z_k | z_k + s |
/// | end over end | the board's length (X) | y | x | s − (z − z_k) | z_k |
///
/// Any two of the half turns make the third; wood can be turned, not reflected.
///
/// ```
/// use quarterturn_geometry::layup::Turn;
/// assert_eq!(Turn::RolledOver.then(Turn::EndForEnd), Turn::EndOverEnd);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Turn {
    /// Tipped up from the panel and nothing more.
    #[default]
    AsCut,
    /// Turned about its long axis.
    RolledOver,
    /// Turned about the upright, standing on the bench.
    EndForEnd,
    /// Turned about the board's length.
    EndOverEnd,
}

impl Turn {
    /// All four.
    pub const ALL: [Self; 4] = [Self::AsCut, Self::RolledOver, Self::EndForEnd, Self::EndOverEnd];

    /// In the words of the trade.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AsCut => "as cut",
            Self::RolledOver => "rolled over",
            Self::EndForEnd => "end for end",
            Self::EndOverEnd => "end over end",
        }
    }

    /// True where Y = x: the first blank is at the front.
    #[must_use]
    pub const fn first_blank_in_front(self) -> bool {
        matches!(self, Self::EndForEnd | Self::EndOverEnd)
    }

    /// True where X = y: the panel's upper face looks toward +X.
    #[must_use]
    pub const fn upper_face_to_the_right(self) -> bool {
        matches!(self, Self::AsCut | Self::EndOverEnd)
    }

    /// True where the cut face nearer the far end is up.
    #[must_use]
    pub const fn far_face_up(self) -> bool {
        matches!(self, Self::AsCut | Self::EndForEnd)
    }

    /// This turn followed by another half turn.
    #[must_use]
    pub const fn then(self, other: Self) -> Self {
        Self::from_bits(self.bits() ^ other.bits())
    }

    /// Bit 0: about Y reversed X; bit 1: reversed Y.
    const fn bits(self) -> u8 {
        (!self.upper_face_to_the_right()) as u8 | ((self.first_blank_in_front() as u8) << 1)
    }

    const fn from_bits(bits: u8) -> Self {
        match bits {
            0 => Self::AsCut,
            1 => Self::RolledOver,
            3 => Self::EndForEnd,
            _ => Self::EndOverEnd,
        }
    }

    /// The rotation from panel axes (x, y, z) to board axes (X, Y, Z).
    #[must_use]
    pub fn rotation(self) -> Rotation3<f64> {
        let x = if self.upper_face_to_the_right() { 1.0 } else { -1.0 };
        let y = if self.first_blank_in_front() { 1.0 } else { -1.0 };
        let z = if self.far_face_up() { 1.0 } else { -1.0 };
        Rotation3::from_matrix_unchecked(Matrix3::new(0.0, x, 0.0, y, 0.0, 0.0, 0.0, 0.0, z))
    }
}

/// One strip: the slab of the panel that it is, W × T × s at station z_k, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slab {
    /// W: the panel's width.
    pub width: f64,
    /// T: the panel's thickness.
    pub thickness: f64,
    /// s: the strip's width.
    pub strip: f64,
    /// z_k: where it begins in the panel.
    pub station: f64,
}

impl Turn {
    /// The rigid motion from the panel to the strip's own place, its left, front, lower corner at
    /// the origin.
    ///
    /// ```
    /// use nalgebra::Point3;
    /// use quarterturn_geometry::layup::{Slab, Turn};
    /// let slab = Slab { width: 200.0, thickness: 20.0, strip: 35.0, station: 100.0 };
    /// let at = Turn::RolledOver.placement(&slab) * Point3::new(50.0, 4.0, 110.0);
    /// assert!((at - Point3::new(16.0, 150.0, 25.0)).norm() < 1e-12);
    /// ```
    #[must_use]
    pub fn placement(self, slab: &Slab) -> Isometry3<f64> {
        let rotation = UnitQuaternion::from_rotation_matrix(&self.rotation());
        let x = if self.upper_face_to_the_right() { 0.0 } else { slab.thickness };
        let y = if self.first_blank_in_front() { 0.0 } else { slab.width };
        let z = if self.far_face_up() { -slab.station } else { slab.strip + slab.station };
        Isometry3::from_parts(Translation3::new(x, y, z), rotation)
    }

    /// The panel point that lies at a point of the strip's own place: the inverse of
    /// [`Turn::placement`], written out so that it is exact and quick.
    #[must_use]
    pub fn panel_point(self, slab: &Slab, at: &Point3<f64>) -> Point3<f64> {
        Point3::new(
            if self.first_blank_in_front() { at.y } else { slab.width - at.y },
            if self.upper_face_to_the_right() { at.x } else { slab.thickness - at.x },
            slab.station + if self.far_face_up() { at.z } else { slab.strip - at.z },
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SLAB: Slab = Slab { width: 210.0, thickness: 21.0, strip: 38.0, station: 120.0 };

    #[test]
    fn the_four_turns_are_a_group() {
        for a in Turn::ALL {
            assert_eq!(a.then(a), Turn::AsCut, "its own inverse");
            assert_eq!(a.then(Turn::AsCut), a);
            for b in Turn::ALL {
                assert_eq!(a.then(b), b.then(a));
                for c in Turn::ALL {
                    assert_eq!(a.then(b).then(c), a.then(b.then(c)));
                }
            }
        }
    }

    #[test]
    fn the_table_of_the_group_is_that_of_the_rotations() {
        let half = |t: Turn| t.rotation() * Turn::AsCut.rotation().inverse();
        for a in Turn::ALL {
            for b in Turn::ALL {
                let both = half(b) * half(a);
                assert!((both.matrix() - half(a.then(b)).matrix()).norm() < 1e-15);
            }
        }
    }

    #[test]
    fn every_turn_is_a_proper_rotation() {
        for turn in Turn::ALL {
            let m = turn.rotation().into_inner();
            assert_eq!(m.determinant(), 1.0, "{turn:?} mirrors");
            assert_eq!(m * m.transpose(), Matrix3::identity());
        }
    }

    #[test]
    fn the_section_on_top_is_as_the_table_says() {
        for turn in Turn::ALL {
            let top = turn.panel_point(&SLAB, &Point3::new(1.0, 1.0, SLAB.strip)).z;
            let far = SLAB.station + SLAB.strip;
            assert_eq!(top, if turn.far_face_up() { far } else { SLAB.station });
        }
    }

    proptest! {
        #[test]
        fn the_written_out_inverse_is_the_inverse(x in 0.0..21.0f64, y in 0.0..210.0f64, z in 0.0..38.0f64, k in 0usize..4) {
            let turn = Turn::ALL[k];
            let at = Point3::new(x, y, z);
            let back = turn.placement(&SLAB) * turn.panel_point(&SLAB, &at);
            prop_assert!((back - at).norm() < 1e-10);
        }
    }
}
