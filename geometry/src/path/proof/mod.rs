//! The proof of a program: the bit is moved through the stock, and what is left is compared with the exact cut.
//!
//! ```text
//! text ─► words ─► read ─► steps ─► removal ─► heights ─┐
//!                                    cutting ─► target ─┴─► Proof
//! ```
//! The frame is the cutting's ([`super::Up`]): the stock's surface at Z 0, wood below. Knows the exact cut and
//! the shop's machine; knows nothing of how our own programs are made, so that it judges anybody's.

mod arc;
mod read;
mod removal;
mod target;
#[cfg(test)]
mod tests;
mod words;

pub use read::{Step, Way, Wrong, read};
pub use removal::Field;

use super::Cutting;
use crate::job::Cnc;
use removal::{Leg, legs, lowest};
use target::Target;

/// How far what is left may lie from the exact cut along the surface's normal, mm: a floor, and a wall. Between them
/// (a rounded corner), each counts by its part of the normal.
pub const TOLERANCE: [f64; 2] = [0.01, 0.05];

/// What the program must not do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// Wood is gone that should be left: the most, mm.
    Gouge(f64),
    /// Wood is left that should be gone: the most, mm.
    Leftover(f64),
    /// A rapid runs through wood: its line, and how deep.
    RapidThroughWood(usize, f64),
    /// A step takes more at once than the plan's passes: its line, what it takes, what is allowed.
    TooMuchAtOnce(usize, f64, f64),
    /// It cuts while the spindle stands: its line.
    SpindleStands(usize),
    /// It turns the bit faster than is printed on it: its line, and turns a minute.
    TooFast(usize, f64),
    /// The bit goes deeper than it cuts, so that its shank rubs: how deep, and its reach.
    ShankRubs(f64, f64),
    /// It travels farther than the machine does: the axis, how far, and the machine's travel.
    OutOfTravel(usize, f64, f64),
    /// It runs sideways before the program has said how high: its line.
    SidewaysUnplaced(usize),
    /// It changes to a second bit, and the plan's cut has one: its line.
    AnotherBit(usize),
}

impl Fault {
    /// What it is called.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Gouge(_) => "gouge",
            Self::Leftover(_) => "leftover",
            Self::RapidThroughWood(..) => "rapid through wood",
            Self::TooMuchAtOnce(..) => "cuts deeper than allowed",
            Self::SpindleStands(_) => "spindle stands",
            Self::TooFast(..) => "bit turns too fast",
            Self::ShankRubs(..) => "shank rubs",
            Self::OutOfTravel(..) => "out of the machine's travel",
            Self::SidewaysUnplaced(_) => "sideways before it is raised",
            Self::AnotherBit(_) => "another bit",
        }
    }
}

/// What came of moving the bit through the stock.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// Everything wrong; none means that it holds.
    pub faults: Vec<Fault>,
    /// The least difference along the normal, mm: negative where wood is gone that should be left.
    pub least: f64,
    /// The greatest: positive where wood is left that should be gone.
    pub greatest: f64,
    /// What was taken, on the grid, mm³.
    pub removed: f64,
    /// What the exact cut takes: closed form, mm³.
    pub exact: f64,
    /// Heights as left.
    pub field: Field,
    /// The difference along the normal in every cell, mm.
    pub off: Vec<f32>,
}

/// Proves a program's steps against what it is to cut, on cells of this size, by so many workers.
///
/// Beside the cells' middles, the cut's rim is looked at just beyond the tolerance of a wall, on either side of it,
/// so that a wall out of its place is found on any grid.
#[must_use]
pub fn prove(steps: &[Step], cutting: &Cutting, cnc: Option<&Cnc>, cell: f64, workers: usize) -> Proof {
    let target = Target::of(cutting);
    let bit = cutting.profile;
    let legs = legs(steps);
    let size = [cutting.stock[0], cutting.stock[1]];
    let mut field = Field::flat(size, cell);
    let taken = field.cut(&bit, &legs, steps.len(), workers);
    let (mut off, mut worst) = (Vec::with_capacity(field.heights.len()), Worst::default());
    for row in 0..field.rows {
        for column in 0..field.columns {
            let (p, z) = (field.middle(column, row), f64::from(field.heights[row * field.columns + column]));
            if z >= 0.0 && target.is_far(&p) {
                off.push(0.0);
                continue;
            }
            let d = target.off(p, z);
            worst.add(d);
            off.push(d.far as f32);
        }
    }
    for p in target.beside_the_rim(TOLERANCE[1] + 0.001, size) {
        let height = legs.iter().filter_map(|leg| lowest(&bit, leg, p)).fold(0.0, f64::min);
        worst.add(target.off(p, height));
    }
    let mut faults = worst.faults();
    faults.extend(on_the_way(steps, &taken, cutting, cnc));
    faults.extend(reach(&legs, cutting));
    faults.extend(travel(steps, &legs, cnc));
    Proof {
        faults,
        least: worst.least,
        greatest: worst.greatest,
        removed: field.removed(),
        exact: cutting.volume(),
        field,
        off,
    }
}

/// The greatest differences, and the greatest of those that are out of tolerance.
#[derive(Default)]
struct Worst {
    least: f64,
    greatest: f64,
    gouge: f64,
    leftover: f64,
}

impl Worst {
    fn add(&mut self, d: target::Off) {
        self.least = self.least.min(d.far);
        self.greatest = self.greatest.max(d.far);
        if d.far < -d.allowed {
            self.gouge = self.gouge.max(-d.far);
        }
        if d.far > d.allowed {
            self.leftover = self.leftover.max(d.far);
        }
    }

    fn faults(&self) -> Vec<Fault> {
        let gouge = (self.gouge > 0.0).then_some(Fault::Gouge(self.gouge));
        let leftover = (self.leftover > 0.0).then_some(Fault::Leftover(self.leftover));
        gouge.into_iter().chain(leftover).collect()
    }
}

/// What rounding of a program's numbers may add to a depth, mm.
const ROUNDING: f64 = 0.001;

/// What is wrong on the way, each the first time that it happens.
fn on_the_way(steps: &[Step], taken: &[f64], cutting: &Cutting, cnc: Option<&Cnc>) -> Vec<Fault> {
    let allowed = cnc.map(|cnc| super::program::most_at_once(cutting, cnc));
    let most = cutting.bit.most_speed.map(f64::from);
    let all = || steps.iter().zip(taken);
    let cuts = |t: f64| t > ROUNDING;
    let mut faults = Vec::new();
    faults.extend(
        all().find(|(s, t)| s.way == Way::Rapid && cuts(**t)).map(|(s, t)| Fault::RapidThroughWood(s.line, *t)),
    );
    faults.extend(all().find(|(s, t)| s.speed <= 0.0 && cuts(**t)).map(|(s, _)| Fault::SpindleStands(s.line)));
    faults.extend(all().find(|(s, _)| most.is_some_and(|m| s.speed > m)).map(|(s, _)| Fault::TooFast(s.line, s.speed)));
    faults.extend(allowed.and_then(|most| {
        all()
            .find(|(s, t)| s.way != Way::Rapid && **t > most + ROUNDING)
            .map(|(s, t)| Fault::TooMuchAtOnce(s.line, *t, most))
    }));
    let blind = |s: &&Step| s.way == Way::Rapid && s.to.z < 0.0 && s.to.xy().iter().any(|c| c.is_nan());
    faults.extend(steps.iter().find(blind).map(|s| Fault::RapidThroughWood(s.line, -s.to.z)));
    faults.extend(
        steps.iter().find(|s| s.to.z.is_nan() && s.to.xy() != s.from.xy()).map(|s| Fault::SidewaysUnplaced(s.line)),
    );
    let mut bits = all().filter(|(_, t)| cuts(**t)).map(|(s, _)| s);
    if let Some(first) = bits.next() {
        faults.extend(bits.find(|s| s.bit != first.bit).map(|s| Fault::AnotherBit(s.line)));
    }
    faults
}

fn reach(legs: &[Leg], cutting: &Cutting) -> Option<Fault> {
    let deepest = legs.iter().map(|leg| -leg.from.z.min(leg.to.z)).fold(0.0, f64::max);
    let reach = cutting.bit.reach.mm();
    (deepest > reach + ROUNDING).then_some(Fault::ShankRubs(deepest, reach))
}

/// Arcs count with their bulge.
fn travel(steps: &[Step], legs: &[Leg], cnc: Option<&Cnc>) -> Vec<Fault> {
    let Some(cnc) = cnc else { return Vec::new() };
    let extent = |axis: usize| {
        let ends = steps.iter().flat_map(|s| [s.from[axis], s.to[axis]]);
        let rooms = legs.iter().filter(|_| axis < 2).flat_map(|leg| leg.room().map(|p| p[axis]));
        let all = ends.chain(legs.iter().map(|leg| leg.from[axis])).chain(rooms).filter(|c| c.is_finite());
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), c| (l.min(c), h.max(c)));
        high - low
    };
    let out = |axis: usize| {
        let (needed, has) = (extent(axis), cnc.travel[axis].mm());
        (needed > has + ROUNDING).then_some(Fault::OutOfTravel(axis, needed, has))
    };
    (0..3).filter_map(out).collect()
}
