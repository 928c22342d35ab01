//! A router bit.

use super::{Easing, Profile};
use crate::measure::Length;

/// A bit that turns a flat-bottomed profile with rounded corners.
///
/// ```text
///        │  axis
///   ┌────┴────┐ ─
///   │         │ │ reach: how deep it cuts
///   │         │ │
///   ╰─────────╯ ─  corner radius r: 0 is a straight bit, D/2 a core-box bit (ball nose),
///   ├─── D ───┤    between them a bowl bit
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bit {
    /// Its name in the plan.
    pub name: String,
    /// D.
    pub diameter: Length,
    /// r, from 0 to D/2.
    pub corner_radius: Length,
    /// The cutting length below collet or bearing: no recess is deeper.
    pub reach: Length,
    /// Cutting edges.
    pub flutes: u8,
    /// Whether it cuts at dead centre, so that it may be plunged.
    pub cuts_at_centre: bool,
    /// The maximum speed printed on it, in turns a minute.
    pub most_speed: Option<u32>,
    /// The chip load that its maker gives.
    pub chip_load: Option<Length>,
    /// How far it stands out of the collet's nut when it is put in; `None` where the maker doesn't say.
    pub stick_out: Option<Length>,
    /// What it eases a rim by, a bit without a bearing: hollow to this radius, or a cone of half a right angle to its axis, so
    /// far in; below it is flat. `None` for a bit with upright sides.
    pub eases: Option<Easing>,
}

/// The least radius that a bit goes round in, mm: arcs as small as their rounding are none (common practice, no source).
pub const LEAST_ROUND: f64 = 0.25;

impl Bit {
    /// The section that it leaves, sunk to where it is widest: half of it, its shape alone.
    #[must_use]
    pub fn shape(&self) -> Profile {
        match self.eases {
            None => Profile::of(self, self.reach.mm()),
            Some(eases) => Profile { radius: self.tip(), corner: 0.0, depth: eases.size(), rim: Some(eases) },
        }
    }

    /// Half the width of its flat end below what eases a rim, mm.
    #[must_use]
    pub fn tip(&self) -> f64 {
        self.diameter.mm() / 2.0 - self.eases.map_or(0.0, Easing::size)
    }

    /// What a round hole of this diameter by this bit is: the bit's own corner at its floor; as wide as the bit where nothing
    /// is said.
    #[must_use]
    pub fn hole(&self, diameter: Option<Length>, depth: f64) -> Profile {
        let bit = Profile::of(self, depth);
        Profile { radius: bit.radius + self.round_in(diameter), ..bit }
    }

    /// The radius that its centre goes round in such a hole, mm: (hole − D) / 2, nothing where the hole is as wide as the bit.
    #[must_use]
    pub fn round_in(&self, diameter: Option<Length>) -> f64 {
        diameter.map_or(0.0, |hole| ((hole - self.diameter).mm() / 2.0).max(0.0))
    }

    /// The narrowest hole that it goes round in, its diameter and [`LEAST_ROUND`] twice, and the widest that once round clears:
    /// it goes round in 9/10 of the radius of its flat end at most. Wider, a core would stand.
    #[must_use]
    pub fn holes(&self) -> [Length; 2] {
        let flat = (self.diameter - self.corner_radius * 2).mm();
        [2.0 * LEAST_ROUND, 0.9 * flat].map(|more| self.diameter + Length::nearest_to_mm(more))
    }
}
