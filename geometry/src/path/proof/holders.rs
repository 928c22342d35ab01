//! What holds the bits is moved with them: it takes nothing of the wood and comes into no clamp. Knows legs; judges nobody's
//! program otherwise.

use super::removal::Leg;
use super::{Fault, ROUNDING, Step};
use crate::cut::{Bit, Profile};
use crate::job::Cnc;
use crate::path::clamps::Zone;
use crate::path::holder::Holder;

/// The nut and the spindle's body of each bit of a program, where the plan says enough of them.
pub(super) struct Holders(Vec<[Option<Holder>; 2]>);

/// What is said of each where it comes into a clamp.
const ON_CLAMP: [fn(usize, usize) -> Fault; 2] = [Fault::NutOnClamp, Fault::SpindleOnClamp];

impl Holders {
    pub(super) fn of(bits: &[&Bit], cnc: Option<&Cnc>) -> Self {
        Self(bits.iter().map(|bit| cnc.map_or([None; 2], |cnc| Holder::both(bit, cnc))).collect())
    }

    fn of_leg(&self, leg: &Leg) -> [Option<Holder>; 2] {
        self.0.get(leg.bit).copied().unwrap_or_default()
    }

    /// The legs with the holders' own right after those on which they come below the surface, the nut's as of the step `steps`
    /// farther on and the spindle's twice that; and the profiles with all nuts' after them, and then all spindles'.
    pub(super) fn moved(&self, legs: &[Leg], bits: &[Profile], steps: usize) -> (Vec<Leg>, Vec<Profile>) {
        let none = Profile { radius: 0.0, corner: 0.0, depth: 0.0, rim: None };
        let discs = [0, 1].map(|part| self.0.iter().map(move |both| both[part].map_or(none, |holder| holder.disc())));
        let profiles = bits.iter().copied().chain(discs.into_iter().flatten()).collect();
        let with = |leg: &Leg| {
            let leg = *leg;
            let moved = self.of_leg(&leg).into_iter().zip(1..).filter_map(move |(holder, part)| {
                holder.map(|holder| Leg {
                    from: holder.over(leg.from),
                    to: holder.over(leg.to),
                    step: leg.step + part * steps,
                    bit: leg.bit + part * bits.len(),
                    arc: leg.arc,
                })
            });
            std::iter::once(leg).chain(moved.filter(|moved| moved.from.z.min(moved.to.z) < 0.0))
        };
        (legs.iter().flat_map(with).collect(), profiles)
    }

    /// The first step on which a nut took wood, and on which a spindle's body did, by what each step's took.
    pub(super) fn rub(steps: &[Step], taken: &[f64]) -> Vec<Fault> {
        let (nuts, spindles) = taken.split_at(steps.len());
        let first = |taken: &[f64]| {
            let (step, deep) = steps.iter().zip(taken).find(|(_, taken)| **taken > ROUNDING)?;
            Some((step.line, *deep))
        };
        let nut = first(nuts).map(|(line, deep)| Fault::NutRubs(line, deep));
        let spindle = first(spindles).map(|(line, deep)| Fault::SpindleRubs(line, deep));
        nut.into_iter().chain(spindle).collect()
    }

    /// The first leg on which a nut comes into a clamp; where none does, on which a spindle's body does.
    pub(super) fn on_clamp(&self, steps: &[Step], legs: &[Leg], i: usize, zone: &Zone) -> Option<Fault> {
        [0, 1].into_iter().find_map(|part| {
            let meets = |leg: &&Leg| {
                let holder = self.of_leg(leg)[part];
                holder.is_some_and(|holder| holder.depth_in(zone, leg.length(), |share| leg.at(share)).is_some())
            };
            legs.iter().find(meets).map(|leg| ON_CLAMP[part](steps[leg.step].line, i))
        })
    }
}
