//! What holds a bit, as discs above its tip: the collet's nut, or whatever is in its place, and the spindle's body above that.
//! Where they may not come. Knows bits and the machine; nothing of cuts.
//!
//! ```text
//! ┌─────────────┐    spindle's body
//! └──┬───────┬──┘  ─
//!    │       │     │ nut's height
//!    └──┬─┬──┘     ─ nut, as wide as the plan says
//!       │ │        │ stick-out
//!       └─┘        ─ tip
//! ```

use super::clamps::Zone;
use crate::cut::{Bit, Profile};
use crate::job::Cnc;
use crate::measure::Length;
use nalgebra::{Point3, Vector3};

/// One of them, wider than its bit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Holder {
    radius: f64,
    above: f64,
}

impl Holder {
    /// The nut and the spindle's body, each `None` where the plan doesn't say how wide it is or how far the bit stands out of
    /// it, or where it is no wider than the bit, which then has cleared its way.
    pub(super) fn both(bit: &Bit, cnc: &Cnc) -> [Option<Self>; 2] {
        let wide = |diameter: Length, above: f64| {
            let holder = Self { radius: diameter.mm() / 2.0, above };
            (holder.radius > bit.diameter.mm() / 2.0).then_some(holder)
        };
        let Some(out) = bit.stick_out.map(Length::mm) else { return [None; 2] };
        let spindle = cnc.spindle.and_then(|spindle| wide(spindle.diameter, out + spindle.above_nut.mm()));
        [cnc.nut.and_then(|nut| wide(nut, out)), spindle]
    }

    /// How far its lower side lies above the bit's tip, mm.
    pub(super) const fn above(&self) -> f64 {
        self.above
    }

    /// What it would take of wood, moved like a bit.
    pub(super) const fn disc(&self) -> Profile {
        Profile { radius: self.radius, corner: 0.0, depth: self.above, rim: None }
    }

    /// Where it is while the bit's tip is there.
    pub(super) fn over(&self, tip: Point3<f64>) -> Point3<f64> {
        tip + Vector3::z() * self.above
    }

    /// How deep it comes into a zone on a way so long, on which the bit's tip is `at` a share of it; nothing where it
    /// doesn't.
    pub(super) fn depth_in(&self, zone: &Zone, long: f64, at: impl Fn(f64) -> Point3<f64>) -> Option<f64> {
        zone.depth_in(self.radius, long, |share| self.over(at(share)))
    }
}
