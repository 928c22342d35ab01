//! What meets at a glue line between two strips.

use super::{Board, Face};

/// Two neighbours at the glue line between them, on one face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// How far apart along the grain the two sections were in the panel, mm.
    pub gap: f64,
    /// Whether one is the other's mirror image across the joint: the same side of the panel meets
    /// itself.
    pub same_side: bool,
    /// Whether x runs the other way in the one than in the other.
    pub reversed: bool,
}

impl Meeting {
    /// A glue line where the figure nearly mirrors itself: the same panel face meets, the same way
    /// round.
    #[must_use]
    pub const fn is_bookmatch(&self) -> bool {
        self.same_side && !self.reversed
    }
}

impl Board {
    /// The station (distance from the raw near end) that strip `place` shows on a face, mm.
    ///
    /// On the upper face as cut and end for end show z_k + s − f, the other two z_k + f; on the
    /// lower face z_k + g and z_k + s − g.
    #[must_use]
    pub fn station(&self, place: usize, face: Face) -> Option<f64> {
        let strip = self.strips().get(place)?;
        let (slab, trims) = (&strip.slab, self.trims());
        let near_the_far_end = strip.place.turn.far_face_up() == (face == Face::Upper);
        let taken = match face {
            Face::Upper => trims.upper,
            Face::Lower => trims.lower,
        };
        Some(slab.station + if near_the_far_end { slab.strip - taken } else { taken })
    }

    /// What meets at the glue line right of strip `place`; `None` at the last, or where the two are
    /// from different panels.
    ///
    /// Strip k as cut beside k + 1 rolled over: stations b + 2f apart on the upper face; k + 1
    /// rolled over beside k + 2 as cut: 2s + b − 2f apart. On the lower face the other way round.
    #[must_use]
    pub fn meeting(&self, place: usize, face: Face) -> Option<Meeting> {
        let (left, right) = (self.strips().get(place)?, self.strips().get(place + 1)?);
        if left.place.panel != right.place.panel {
            return None;
        }
        let (a, b) = (left.place.turn, right.place.turn);
        Some(Meeting {
            gap: (self.station(place + 1, face)? - self.station(place, face)?).abs(),
            same_side: a.upper_face_to_the_right() != b.upper_face_to_the_right(),
            reversed: a.first_blank_in_front() != b.first_blank_in_front(),
        })
    }
}
