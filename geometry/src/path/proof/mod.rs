//! The proof of a program: the bit is moved through the stock, and what is left is compared with the exact cut.
//!
//! ```text
//! text ─► words ─► read ─► steps ─► removal ─► heights ─┐
//!                                    cutting ─► target ─┴─► Proof
//! ```
//! The frame is the cutting's ([`super::Up`]): the stock's surface at Z 0, wood below. Knows the exact cut and
//! the shop's machine; knows nothing of how our own programs are made, so that it judges anybody's.

mod arc;
mod field;
mod holders;
mod read;
mod ready;
mod removal;
mod stamp;
mod target;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_flat;
#[cfg(test)]
mod tests_nut;
#[cfg(test)]
mod tests_rims;
#[cfg(test)]
mod tests_spindle;
#[cfg(test)]
mod tests_walls;
mod words;

pub use field::Field;
pub use read::{Step, Way, Wrong, read};

use super::clamps::Zone;
use super::{Cutting, bits};
use crate::cut::{Bit, Profile};
use crate::job::Cnc;
use holders::Holders;
use nalgebra::{Point2, Vector2};
use removal::{DeepestFirst, Leg, legs};
use std::sync::{Mutex, PoisonError};
use target::{Around, Target};

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
    /// The collet's nut comes down into the wood: its line, and how deep.
    NutRubs(usize, f64),
    /// The spindle's body comes down into the wood: its line, and how deep.
    SpindleRubs(usize, f64),
    /// It travels farther than the machine does: the axis, how far, and the machine's travel.
    OutOfTravel(usize, f64, f64),
    /// It runs sideways before the program has said how high: its line.
    SidewaysUnplaced(usize),
    /// It cuts with more bits than the plan's cuts have: its line.
    AnotherBit(usize),
    /// The bit runs into one of the plan's clamps or stops: its line, and which.
    Clamp(usize, usize),
    /// The nut runs into one of them: its line, and which.
    NutOnClamp(usize, usize),
    /// The spindle's body runs into one of them: its line, and which.
    SpindleOnClamp(usize, usize),
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
            Self::NutRubs(..) => "nut rubs on the wood",
            Self::SpindleRubs(..) => "spindle rubs on the wood",
            Self::OutOfTravel(..) => "out of the machine's travel",
            Self::SidewaysUnplaced(_) => "sideways before it is raised",
            Self::AnotherBit(_) => "another bit",
            Self::Clamp(..) => "runs into a clamp",
            Self::NutOnClamp(..) => "nut runs into a clamp",
            Self::SpindleOnClamp(..) => "spindle runs into a clamp",
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

/// Proves a program's steps against what they are to cut, all from one side, on cells of this size, by so many workers.
///
/// Beside the cells' middles, the cuts' rims are looked at just beyond the tolerance of a wall, on either side of it,
/// so that a wall out of its place is found on any grid. Where the cuts have several bits, in the order of
/// [`super::bits`], the next one is taken to be put in at each change (M6) and at each stop with the spindle standing (M0).
#[must_use]
pub fn prove(steps: &[Step], cuttings: &[Cutting], cnc: Option<&Cnc>, cell: f64, workers: usize) -> Proof {
    let target = Target::of(cuttings);
    let (legs, profiles, used) = laid_out(steps, cuttings);
    let mut field = blank(cuttings, cell);
    let size = cuttings.first().map_or([0.0; 2], |c| [c.stock[0], c.stock[1]]);
    let holders = Holders::of(&bits(cuttings), cnc);
    let (moved, shapes) = holders.moved(&legs, &profiles, steps.len());
    let taken = field.cut(&shapes, &moved, 3 * steps.len(), workers);
    let (taken, by_holders) = taken.split_at(steps.len());
    let (off, mut worst) = compared(&field, &target, workers);
    let deepest_first = DeepestFirst::of(&legs, &profiles);
    for p in target.beside_the_rim(TOLERANCE[1] + 0.001, size) {
        worst.add(target.off(p, deepest_first.height(p)));
    }
    let mut faults = worst.faults();
    faults.extend(on_the_way(steps, taken, &used, cuttings, cnc));
    faults.extend(reach(&legs, cuttings));
    faults.extend(Holders::rub(steps, by_holders));
    faults.extend(travel(steps, &legs, cnc));
    faults.extend(clamped(steps, &legs, &profiles, &holders, cuttings, cnc));
    Proof {
        faults,
        least: worst.least,
        greatest: worst.greatest,
        removed: field.removed(),
        exact: Cutting::volume_of(cuttings),
        field,
        off,
    }
}

/// What is left when the bits have gone their way, and nothing judged: the heights of [`prove`].
#[must_use]
pub fn left(steps: &[Step], cuttings: &[Cutting], cell: f64, workers: usize) -> Field {
    let (legs, profiles, _) = laid_out(steps, cuttings);
    let mut field = blank(cuttings, cell);
    field.cut(&profiles, &legs, steps.len(), workers);
    field
}

fn blank(cuttings: &[Cutting], cell: f64) -> Field {
    let stock = cuttings.first().map_or([0.0; 3], |c| c.stock);
    Field::flat([stock[0], stock[1]], cell)
}

/// The legs of a program with their bits, those bits' profiles, and which bit each step is made with.
fn laid_out(steps: &[Step], cuttings: &[Cutting]) -> (Vec<Leg>, Vec<Profile>, Vec<usize>) {
    let used = used(steps, bits(cuttings).len());
    // A bit that eases is what it is, however deep its cut.
    let profile = |bit: &&Bit| match bit.eases {
        Some(_) => Some(bit.shape()),
        None => cuttings.iter().find(|c| c.bit == **bit).map(|c| c.profile),
    };
    let profiles: Vec<Profile> = bits(cuttings).iter().filter_map(profile).collect();
    let mut legs = legs(steps);
    legs.iter_mut().for_each(|leg| leg.bit = used[leg.step].min(profiles.len().saturating_sub(1)));
    let eases = |leg: &Leg| profiles.get(leg.bit).is_some_and(|bit| bit.rim.is_some());
    let legs = legs.into_iter().flat_map(|leg| if eases(&leg) { leg.level_parts() } else { vec![leg] }).collect();
    (legs, profiles, used)
}

/// Which bit each step is made with, by its place in the list of so many; a place beyond them is one too many.
///
/// With one bit in the list a stop is only a rest.
fn used(steps: &[Step], count: usize) -> Vec<usize> {
    let key = |step: &Step| (step.bit, if count > 1 { step.stops } else { 0 });
    let (mut place, mut before, mut cuts) = (0, None, false);
    let next = |step: &Step| {
        if before.is_some_and(|b| b != key(step)) && cuts {
            (place, cuts) = (place + 1, false);
        }
        before = Some(key(step));
        cuts |= step.to.z < 0.0;
        place
    };
    steps.iter().map(next).collect()
}

/// How far each cell lies from the exact cut, and the worst, in bands of rows by so many workers.
fn compared(field: &Field, target: &Target<'_>, workers: usize) -> (Vec<f32>, Worst) {
    /// Walls lie close together here and there: whoever is done takes the next band.
    const BAND: usize = 64;
    let mut off = vec![0.0f32; field.heights.len()];
    let bands = Mutex::new(off.chunks_mut(BAND * field.columns).enumerate());
    let next = || bands.lock().unwrap_or_else(PoisonError::into_inner).next();
    let one = || {
        let mut worst = Worst::default();
        while let Some((i, off)) = next() {
            worst.join(&compared_from(field, target, i * BAND, off));
        }
        worst
    };
    let mut worst = Worst::default();
    std::thread::scope(|scope| {
        let running: Vec<_> = (0..workers.max(1)).map(|_| scope.spawn(one)).collect();
        for each in running {
            worst.join(&each.join().unwrap_or_else(|e| std::panic::resume_unwind(e)));
        }
    });
    (off, worst)
}

/// One band of it, from a row on, block by block and in each run by run: what is uncut far from every cut is passed over,
/// over one cut's floor alone a cell needs no look at its walls, and elsewhere none at what is far from its block and run.
fn compared_from(field: &Field, target: &Target<'_>, first: usize, off: &mut [f32]) -> Worst {
    const BLOCK: usize = 256;
    const RUN: usize = 32;
    let mut worst = Worst::default();
    let (cell, rows) = (field.cell, off.len() / field.columns);
    let reach = RUN as f64 / 2.0 * cell;
    for left in (0..field.columns).step_by(BLOCK) {
        let half = Vector2::new(BLOCK.min(field.columns - left) as f64, rows as f64) * (cell / 2.0);
        let middle = Point2::new(left as f64, first as f64) * cell + half;
        let block = target.near(&middle, half.norm());
        for (i, row) in off.chunks_mut(field.columns).enumerate() {
            let heights = &field.heights[(first + i) * field.columns..][..field.columns];
            let cells = left..(left + BLOCK).min(field.columns);
            let runs = row[cells.clone()].chunks_mut(RUN).zip(heights[cells].chunks(RUN));
            for (k, (off, heights)) in runs.enumerate() {
                let at = left + k * RUN;
                let begin = field.middle(at, first + i);
                let middle = Point2::new(begin.x - cell / 2.0 + reach, begin.y);
                let place = |k: usize| field.middle(at + k, first + i);
                worst.join(&compared_run(&block.around(&middle, reach), &block, place, heights, off));
            }
        }
    }
    worst
}

/// One run of cells, each in its place.
fn compared_run(
    around: &Around<'_>,
    target: &Target<'_>,
    place: impl Fn(usize) -> Point2<f64>,
    heights: &[f32],
    off: &mut [f32],
) -> Worst {
    let mut worst = Worst::default();
    let ends = heights.iter().fold([f32::INFINITY, f32::NEG_INFINITY], |[l, h], z| [l.min(*z), h.max(*z)]);
    let ends = ends.map(f64::from);
    match around {
        Around::Nothing if ends[0] >= 0.0 => return worst,
        Around::Floor(floor) if ends.iter().all(|z| floor.holds(*z)) => {
            // What lies between the lowest and the highest is no worse than they are.
            ends.iter().for_each(|z| worst.add(floor.off(*z)));
            off.iter_mut().zip(heights).for_each(|(off, z)| *off = floor.off(f64::from(*z)).far as f32);
            return worst;
        }
        _ => {}
    }
    let target = if let Around::Walls(near) = around { near } else { target };
    for (k, (off, z)) in off.iter_mut().zip(heights).enumerate() {
        let z = f64::from(*z);
        let d = match around {
            Around::Nothing if z >= 0.0 => continue,
            Around::Floor(floor) if floor.holds(z) => floor.off(z),
            _ => target.off(place(k), z),
        };
        worst.add(d);
        *off = d.far as f32;
    }
    worst
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

    const fn join(&mut self, other: &Self) {
        self.least = self.least.min(other.least);
        self.greatest = self.greatest.max(other.greatest);
        self.gouge = self.gouge.max(other.gouge);
        self.leftover = self.leftover.max(other.leftover);
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
fn on_the_way(steps: &[Step], taken: &[f64], used: &[usize], cuttings: &[Cutting], cnc: Option<&Cnc>) -> Vec<Fault> {
    let bits = bits(cuttings);
    let at_once = |cnc: &Cnc| {
        let most = |bit: &Bit| {
            let with = cuttings.iter().filter(|c| c.bit == *bit);
            with.map(|c| super::feeds::most_at_once(c, cnc)).fold(0.0, f64::max)
        };
        bits.iter().map(|bit| most(bit)).collect::<Vec<f64>>()
    };
    let allowed = cnc.map(at_once);
    let of = |i: usize| used[i].min(bits.len().saturating_sub(1));
    let most = |i: usize| bits.get(of(i)).and_then(|bit| bit.most_speed).map(f64::from);
    let all = || steps.iter().zip(taken);
    let cuts = |t: f64| t > ROUNDING;
    let mut faults = Vec::new();
    faults.extend(
        all().find(|(s, t)| s.way == Way::Rapid && cuts(**t)).map(|(s, t)| Fault::RapidThroughWood(s.line, *t)),
    );
    faults.extend(all().find(|(s, t)| s.speed <= 0.0 && cuts(**t)).map(|(s, _)| Fault::SpindleStands(s.line)));
    let fast = steps.iter().enumerate().find(|(i, s)| most(*i).is_some_and(|m| s.speed > m));
    faults.extend(fast.map(|(_, s)| Fault::TooFast(s.line, s.speed)));
    faults.extend(allowed.and_then(|most| {
        let most = |i: usize| most.get(of(i)).copied().unwrap_or(0.0);
        all()
            .enumerate()
            .find(|(i, (s, t))| s.way != Way::Rapid && **t > most(*i) + ROUNDING)
            .map(|(i, (s, t))| Fault::TooMuchAtOnce(s.line, *t, most(i)))
    }));
    let blind = |s: &&Step| s.way == Way::Rapid && s.to.z < 0.0 && s.to.xy().iter().any(|c| c.is_nan());
    faults.extend(steps.iter().find(blind).map(|s| Fault::RapidThroughWood(s.line, -s.to.z)));
    faults.extend(
        steps.iter().find(|s| s.to.z.is_nan() && s.to.xy() != s.from.xy()).map(|s| Fault::SidewaysUnplaced(s.line)),
    );
    let beyond = all().zip(used).find(|((_, t), bit)| cuts(**t) && **bit >= bits.len());
    faults.extend(beyond.map(|((s, _), _)| Fault::AnotherBit(s.line)));
    faults
}

fn reach(legs: &[Leg], cuttings: &[Cutting]) -> Vec<Fault> {
    let too_deep = |(i, bit): (usize, &&Bit)| {
        let mine = legs.iter().filter(|leg| leg.bit == i);
        let deepest = mine.map(|leg| -leg.from.z.min(leg.to.z)).fold(0.0, f64::max);
        let reach = bit.reach.mm();
        (deepest > reach + ROUNDING).then_some(Fault::ShankRubs(deepest, reach))
    };
    bits(cuttings).iter().enumerate().filter_map(too_deep).collect()
}

/// The first leg on which a bit meets each clamp of the side that is up; where none does, the first on which what holds it does.
fn clamped(
    steps: &[Step],
    legs: &[Leg],
    bits: &[Profile],
    holders: &Holders,
    cuttings: &[Cutting],
    cnc: Option<&Cnc>,
) -> Vec<Fault> {
    let (Some(cnc), Some(cutting)) = (cnc, cuttings.first()) else { return Vec::new() };
    let zones = Zone::all(cnc, cutting.up);
    let meets = |(i, zone): (usize, &Zone)| {
        let met = |leg: &&Leg| zone.is_met(bits.get(leg.bit).map_or(0.0, Profile::outer), leg.length(), |s| leg.at(s));
        let bit = legs.iter().find(met).map(|leg| Fault::Clamp(steps[leg.step].line, i));
        bit.or_else(|| holders.on_clamp(steps, legs, i, zone))
    };
    zones.iter().enumerate().filter_map(meets).collect()
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
