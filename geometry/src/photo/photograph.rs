//! A photograph as it was read: pixels as stored, and how they stand upright.

use super::{Corners, Projective, Upright};
use crate::picture::Picture;

/// A photograph. The pixels stay as they are stored: to turn 48 million of them would need as much memory again.
/// Places and sizes that go in or come out are always those of the upright picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photograph {
    /// The pixels as stored.
    pub stored: Picture,
    /// How they stand upright.
    pub upright: Upright,
}

impl Photograph {
    /// Width and height as a person sees it, pixels.
    #[must_use]
    pub const fn size(&self) -> [usize; 2] {
        self.upright.size([self.stored.width, self.stored.height])
    }

    /// The map from the flat end into the stored pixels.
    pub(super) fn map(&self, corners: &Corners) -> Projective {
        let size = [self.stored.width, self.stored.height];
        Projective::of(&self.upright.stored_corners(corners, size))
    }

    /// The photograph upright and made smaller, and by what whole number: see [`super::reduced`].
    #[must_use]
    pub fn small(&self, most: usize) -> (Picture, usize) {
        let (picture, by) = super::reduced(&self.stored, most);
        (self.upright.turned(picture), by)
    }
}
