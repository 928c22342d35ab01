//! What holds the bits is moved with them: it takes nothing of the wood and comes into no clamp. Knows legs; judges nobody's
//! program otherwise.

use super::removal::Leg;
use super::{Fault, ROUNDING, Step};
use crate::cut::{Bit, Profile};
use crate::job::Cnc;
use crate::path::clamps::Zone;
use crate::path::nut::Nut;

/// The nut of each bit of a program, where the plan says enough of it.
pub(super) struct Nuts(Vec<Option<Nut>>);

impl Nuts {
    pub(super) fn of(bits: &[&Bit], cnc: Option<&Cnc>) -> Self {
        Self(bits.iter().map(|bit| cnc.and_then(|cnc| Nut::of(bit, cnc))).collect())
    }

    /// The legs with the nuts' own right after those on which they come below the surface, each as of the step `steps`
    /// farther on; and the profiles with the nuts' after them.
    pub(super) fn moved(&self, legs: &[Leg], bits: &[Profile], steps: usize) -> (Vec<Leg>, Vec<Profile>) {
        let none = Profile { radius: 0.0, corner: 0.0, depth: 0.0, rim: None };
        let discs = self.0.iter().map(|nut| nut.map_or(none, |nut| nut.disc()));
        let profiles = bits.iter().copied().chain(discs).collect();
        let with = |leg: &Leg| {
            let nut = self.0.get(leg.bit).copied().flatten().map(|nut| Leg {
                from: nut.over(leg.from),
                to: nut.over(leg.to),
                step: leg.step + steps,
                bit: leg.bit + bits.len(),
                arc: leg.arc,
            });
            std::iter::once(*leg).chain(nut.filter(|nut| nut.from.z.min(nut.to.z) < 0.0))
        };
        (legs.iter().flat_map(with).collect(), profiles)
    }

    /// The first step on which a nut took wood, by what each step's nut took.
    pub(super) fn rubs(&self, steps: &[Step], taken: &[f64]) -> Option<Fault> {
        let first = steps.iter().zip(taken).find(|(_, taken)| **taken > ROUNDING)?;
        Some(Fault::NutRubs(first.0.line, *first.1))
    }

    /// The first leg on which a nut comes into a clamp.
    pub(super) fn on_clamp(&self, steps: &[Step], legs: &[Leg], i: usize, zone: &Zone) -> Option<Fault> {
        let meets = |leg: &&Leg| {
            let nut = self.0.get(leg.bit).copied().flatten();
            nut.is_some_and(|nut| nut.meets(zone, leg.length(), |share| leg.at(share)))
        };
        legs.iter().find(meets).map(|leg| Fault::NutOnClamp(steps[leg.step].line, i))
    }
}
