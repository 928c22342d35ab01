//! The collet's nut, or whatever holds a bit, as a disc above the bit's tip: where it may not come. Knows bits and the
//! machine; nothing of cuts.
//!
//! ```text
//!   ┌───────┐       nut, as wide as the plan says
//!   └──┬─┬──┘  ─
//!      │ │     │ stick-out
//!      └─┘     ─ tip
//! ```

use super::clamps::Zone;
use crate::cut::{Bit, Profile};
use crate::job::Cnc;
use nalgebra::{Point3, Vector3};

/// A nut that is wider than its bit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Nut {
    radius: f64,
    out: f64,
}

impl Nut {
    /// `None` where the plan doesn't say how wide it is or how far the bit stands out of it, or where it is no wider than the
    /// bit, which then has cleared its way.
    pub(super) fn of(bit: &Bit, cnc: &Cnc) -> Option<Self> {
        let nut = Self { radius: cnc.nut?.mm() / 2.0, out: bit.stick_out?.mm() };
        (nut.radius > bit.diameter.mm() / 2.0).then_some(nut)
    }

    /// How far its lower side lies above the bit's tip, mm.
    pub(super) const fn out(&self) -> f64 {
        self.out
    }

    /// What it would take of wood, moved like a bit.
    pub(super) const fn disc(&self) -> Profile {
        Profile { radius: self.radius, corner: 0.0, depth: self.out, rim: None }
    }

    /// Where it is while the bit's tip is there.
    pub(super) fn over(&self, tip: Point3<f64>) -> Point3<f64> {
        tip + Vector3::z() * self.out
    }

    /// Whether it comes into a zone on a way so long, on which the bit's tip is `at` a share of it.
    pub(super) fn meets(&self, zone: &Zone, long: f64, at: impl Fn(f64) -> Point3<f64>) -> bool {
        zone.is_met(self.radius, long, |share| self.over(at(share)))
    }
}
