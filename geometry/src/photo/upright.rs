//! The eight ways in which a camera may have been held: how stored pixels lie in the picture that a person sees.

use super::Corners;
use crate::picture::Picture;

/// How the stored picture must be turned to stand upright: the tag Orientation of TIFF 6.0 and Exif (CIPA DC-008),
/// which says where the stored row 0 and column 0 are in the upright picture.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Upright {
    /// 1: as stored; row 0 at the top, column 0 at the left.
    #[default]
    AsStored,
    /// 2: row 0 at the top, column 0 at the right.
    Mirrored,
    /// 3: row 0 at the bottom, column 0 at the right.
    HalfTurn,
    /// 4: row 0 at the bottom, column 0 at the left.
    Flipped,
    /// 5: row 0 at the left, column 0 at the top.
    Transposed,
    /// 6: row 0 at the right, column 0 at the top: a quarter turn clockwise.
    Clockwise,
    /// 7: row 0 at the right, column 0 at the bottom.
    Transversed,
    /// 8: row 0 at the left, column 0 at the bottom: a quarter turn anticlockwise.
    Anticlockwise,
}

impl Upright {
    /// All of them, in the order of their numbers from 1.
    pub const ALL: [Self; 8] = [
        Self::AsStored,
        Self::Mirrored,
        Self::HalfTurn,
        Self::Flipped,
        Self::Transposed,
        Self::Clockwise,
        Self::Transversed,
        Self::Anticlockwise,
    ];

    /// By the number of the tag; none for a number that isn't one of 1 to 8.
    ///
    /// ```
    /// use quarterturn_geometry::photo::Upright;
    /// assert_eq!(Upright::by_number(6), Some(Upright::Clockwise));
    /// assert_eq!(Upright::by_number(0), None);
    /// ```
    #[must_use]
    pub fn by_number(number: u16) -> Option<Self> {
        Self::ALL.get(usize::from(number).checked_sub(1)?).copied()
    }

    /// Whether width and height change places.
    #[must_use]
    pub const fn on_its_side(self) -> bool {
        matches!(self, Self::Transposed | Self::Clockwise | Self::Transversed | Self::Anticlockwise)
    }

    /// Width and height as seen, of what is stored with these.
    #[must_use]
    pub const fn size(self, [width, height]: [usize; 2]) -> [usize; 2] {
        if self.on_its_side() { [height, width] } else { [width, height] }
    }

    /// Where a place in the upright picture is stored; `size` is the stored picture's.
    #[must_use]
    pub fn stored(self, [x, y]: [f64; 2], size: [usize; 2]) -> [f64; 2] {
        let [width, height] = size.map(|side| side as f64);
        match self {
            Self::AsStored => [x, y],
            Self::Mirrored => [width - x, y],
            Self::HalfTurn => [width - x, height - y],
            Self::Flipped => [x, height - y],
            Self::Transposed => [y, x],
            Self::Clockwise => [y, height - x],
            Self::Transversed => [width - y, height - x],
            Self::Anticlockwise => [width - y, x],
        }
    }

    /// Corners in the upright picture as they lie in the stored one. Their sense may change with it.
    #[must_use]
    pub fn stored_corners(self, corners: &Corners, size: [usize; 2]) -> Corners {
        corners.moved(|point| self.stored(point, size))
    }

    /// The picture set upright.
    #[must_use]
    pub fn turned(self, picture: Picture) -> Picture {
        if self == Self::AsStored {
            return picture;
        }
        let stored = [picture.width, picture.height];
        let [width, height] = self.size(stored);
        let mut bytes = Vec::with_capacity(picture.bytes.len());
        for y in 0..height {
            for x in 0..width {
                let [sx, sy] = self.stored([x as f64 + 0.5, y as f64 + 0.5], stored);
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let at = 3 * (sy as usize * picture.width + sx as usize);
                bytes.extend_from_slice(&picture.bytes[at..at + 3]);
            }
        }
        Picture { width, height, bytes }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where rows 0 and columns 0 of the stored picture are to be seen, as the standard says.
    #[test]
    fn row_0_and_column_0_stand_where_the_standard_says() {
        // 3 wide, 2 high; a pixel is its column and its row.
        let bytes = (0..2u8).flat_map(|y| (0..3u8).flat_map(move |x| [x, y, 0])).collect();
        let picture = Picture { width: 3, height: 2, bytes };
        let said = [
            ("top", "left"),
            ("top", "right"),
            ("bottom", "right"),
            ("bottom", "left"),
            ("left", "top"),
            ("right", "top"),
            ("right", "bottom"),
            ("left", "bottom"),
        ];
        for (number, (row_0, column_0)) in (1..).zip(said) {
            let seen = Upright::by_number(number).unwrap().turned(picture.clone());
            let at = |x: usize, y: usize| &seen.bytes[3 * (y * seen.width + x)..][..3];
            let side = |name: &str| -> Vec<&[u8]> {
                match name {
                    "top" => (0..seen.width).map(|x| at(x, 0)).collect(),
                    "bottom" => (0..seen.width).map(|x| at(x, seen.height - 1)).collect(),
                    "left" => (0..seen.height).map(|y| at(0, y)).collect(),
                    _ => (0..seen.height).map(|y| at(seen.width - 1, y)).collect(),
                }
            };
            assert!(side(row_0).iter().all(|pixel| pixel[1] == 0), "{number}: row 0");
            assert!(side(column_0).iter().all(|pixel| pixel[0] == 0), "{number}: column 0");
        }
    }
}
