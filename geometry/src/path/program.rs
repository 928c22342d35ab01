//! The moves of a CNC that make one cut, the board standing on edge in a vertical clamp or lying flat.

use super::Cutting;
use super::clamps::Zone;
use super::course::Course;
use super::feeds::{Feeds, Hardness, depths};
use super::holder::Holder;
use crate::cut::{Cut, Which};
use crate::job::Cnc;
use crate::measure::Length;
use nalgebra::{Point2, Point3};
use thiserror::Error;

/// One move of the bit's tip centre, in the frame of the side that is up ([`super::Up`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Move {
    /// As fast as the machine goes; only at or above the safe height, or straight up to it.
    Rapid(Point3<f64>),
    /// In a straight line at a feed, mm a minute.
    Feed(Point3<f64>, f64),
    /// Along an arc about an upright axis, and evenly down, at a feed.
    Arc {
        /// Where it ends.
        to: Point3<f64>,
        /// Its middle.
        centre: Point2<f64>,
        /// Which way it turns, seen from above.
        clockwise: bool,
        /// mm a minute.
        feed: f64,
    },
}

impl Move {
    /// Where it ends.
    #[must_use]
    pub const fn to(&self) -> &Point3<f64> {
        match self {
            Self::Rapid(to) | Self::Feed(to, _) | Self::Arc { to, .. } => to,
        }
    }

    /// How long it is, begun there, seen from above.
    fn length(&self, from: Point3<f64>) -> f64 {
        match self {
            Self::Arc { centre, .. } => (from.xy() - centre).norm() * self.turn(from).abs(),
            _ => (self.to() - from).xy().norm(),
        }
    }

    /// Where it is at a share of its way.
    fn at(&self, from: Point3<f64>, share: f64) -> Point3<f64> {
        let straight = from + (self.to() - from) * share;
        let Self::Arc { centre, .. } = self else { return straight };
        let arm = nalgebra::Rotation2::new(self.turn(from) * share) * (from.xy() - centre);
        Point3::new(centre.x + arm.x, centre.y + arm.y, straight.z)
    }

    /// How far an arc turns, anti-clockwise where positive; nothing for what is straight.
    fn turn(&self, from: Point3<f64>) -> f64 {
        let Self::Arc { to, centre, clockwise, .. } = self else { return 0.0 };
        let (a, b) = (from.xy() - centre, to.xy() - centre);
        let sign = if *clockwise { -1.0 } else { 1.0 };
        let turn = (sign * a.perp(&b)).atan2(a.dot(&b)).rem_euclid(std::f64::consts::TAU);
        sign * if turn <= 0.0 { std::f64::consts::TAU } else { turn }
    }

    /// Both its ends, and where an arc is farthest out on an axis: at every quarter turn that it passes.
    fn farthest(&self, from: Point3<f64>) -> Vec<Point3<f64>> {
        use std::f64::consts::{FRAC_PI_2, TAU};
        let mut points = vec![from, *self.to()];
        let Self::Arc { to, centre, clockwise, .. } = self else { return points };
        let [begin, end] = if *clockwise { [to, &from] } else { [&from, to] };
        let angle = |p: &Point3<f64>| (p.y - centre.y).atan2(p.x - centre.x);
        let (first, turn) = (angle(begin), (angle(end) - angle(begin)).rem_euclid(TAU));
        let turn = if turn <= 0.0 { TAU } else { turn };
        let radius = (from.xy() - centre).norm();
        let quarters = (0..4).map(|k| f64::from(k) * FRAC_PI_2).filter(|a| (a - first).rem_euclid(TAU) < turn);
        points.extend(quarters.map(|a| Point3::new(centre.x + radius * a.cos(), centre.y + radius * a.sin(), to.z)));
        points
    }
}

/// What a controller is to do for one cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Program {
    /// What it cuts, and how the board lies.
    pub cutting: Cutting,
    /// How fast the bit turns and moves.
    pub feeds: Feeds,
    /// Rapid moves only at or above this height.
    pub safe_height: f64,
    /// What the last pass along its walls takes, mm; 0 where there is no such pass.
    pub wall_pass: f64,
    /// Depth after each pass.
    pub depths: Vec<f64>,
    /// The moves; the first goes straight up to the safe height from wherever the bit is.
    pub moves: Vec<Move>,
}

/// Why there is no program.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum NoProgram {
    /// The board, with the safe height above it, doesn't go under the bit.
    #[error("the board stands {stands} mm high and the machine clears {clears} mm")]
    TooHigh {
        /// Board and safe height together.
        stands: f64,
        /// What the machine clears.
        clears: f64,
    },
    /// The bit would travel farther than the machine does, along an axis (0 is X).
    #[error("the cut travels {needed} mm along axis {axis}, the machine {has} mm")]
    Travel {
        /// The axis.
        axis: usize,
        /// What the cut needs.
        needed: f64,
        /// What the machine has.
        has: f64,
    },
    /// A clamp (by its place in the plan) stands where the bit goes.
    #[error("clamp {0} stands in the way")]
    Clamp(usize),
    /// The machine can't turn its spindle as slowly as the bit asks.
    #[error("the bit may turn {most} times a minute, the spindle turns {least} at least")]
    Spindle {
        /// What the bit may turn.
        most: u32,
        /// The slowest that the machine turns.
        least: u32,
    },
    /// Too short to ramp, and the bit may not be plunged.
    #[error("there is no room to ramp down, and the bit does not cut at its centre")]
    NoRamp,
    /// The bit's flutes are shorter than the cut is deep.
    #[error("the cut is {deep} mm deep and the bit cuts {reach} mm")]
    Reach {
        /// How deep the cut is.
        deep: f64,
        /// How deep the bit cuts.
        reach: f64,
    },
    /// The bit stands out of its nut so little that the nut would come down onto the wood.
    #[error("the bit stands {has} mm out of its nut and must {needed} mm")]
    StickOut {
        /// What it must.
        needed: f64,
        /// What it does.
        has: f64,
    },
    /// The bit would pass a clamp (by its place in the plan), its nut wouldn't.
    #[error("the nut runs into clamp {0}")]
    NutOnClamp(usize),
    /// The bit stands out so little that the spindle's body would come down onto the wood.
    #[error("the bit stands {has} mm out of its nut and must {needed} mm for the spindle's body")]
    SpindleOnWood {
        /// How far it must stand out of the nut.
        needed: f64,
        /// How far it does.
        has: f64,
    },
    /// Bit and nut would pass a clamp, the spindle's body wouldn't.
    #[error("the spindle's body runs into clamp {clamp}: the bit stands {has} mm out of its nut and must {needed} mm")]
    SpindleOnClamp {
        /// The clamp, by its place in the plan.
        clamp: usize,
        /// How far the bit must stand out of the nut to pass it.
        needed: f64,
        /// How far it does.
        has: f64,
    },
    /// Beside an outline too little is left of what is trimmed to hold the board by its tabs.
    #[error("the frame is {has} mm wide beside the outline and must be {needed} mm")]
    Frame {
        /// What is left at the narrowest side.
        has: f64,
        /// What must be left.
        needed: f64,
    },
    /// An outline by a bit that isn't straight would leave a foot on the board's sides.
    #[error("the bit is not a straight one")]
    NotStraight,
    /// The stops cross, or there is no depth.
    #[error("there is nothing to cut")]
    Nothing,
}

impl Program {
    /// The program for a cut.
    ///
    /// Each pass ramps down along the cut, back and forth or round and round where one leg is too short, then runs
    /// level over all of it, the ramp included; a face is levelled from beside the stock, round and round inward. A recess wider
    /// than the bit is then cleared ring by ring, and where there is room beside a wall its last pass is a light one.
    /// A hole as wide as the bit is plunged, the bit drawn up between passes to clear its chips.
    /// Speeds, feeds and step-down are [`super::feeds`]'; `wood` is the hardest in the board.
    ///
    /// # Errors
    /// [`NoProgram`] where the machine can't do it.
    pub fn of(cutting: &Cutting, cnc: &Cnc, wood: Option<Hardness>) -> Result<Self, NoProgram> {
        let depth = cutting.profile.depth;
        if cutting.paths.is_empty() || depth <= 0.0 {
            return Err(NoProgram::Nothing);
        }
        let zones = Zone::all(cnc, cutting.up);
        let safe_height = zones.iter().map(|zone| zone.above() + CLEAR_OF_CLAMP).fold(cnc.safe_height.mm(), f64::max);
        let (stands, clears) = (cutting.stock[2] + safe_height, cnc.clear_height.mm());
        if stands > clears + ROUNDING {
            return Err(NoProgram::TooHigh { stands, clears });
        }
        if matches!(cutting.cut, Cut::Outline | Cut::BetweenTabs) && cutting.profile.corner > 0.0 {
            return Err(NoProgram::NotStraight);
        }
        let frame = cutting.frame();
        if frame < LEAST_FRAME - ROUNDING {
            return Err(NoProgram::Frame { has: frame, needed: LEAST_FRAME });
        }
        let (deep, reach) = (depth, cutting.bit.reach.mm());
        let through = cutting.cut == Cut::Face(Which::HangingHole);
        if (through || cutting.cut.is_of_the_whole()) && deep > reach + ROUNDING {
            return Err(NoProgram::Reach { deep, reach });
        }
        let [nut, spindle] = Holder::both(&cutting.bit, cnc);
        let out = cutting.bit.stick_out.map_or(0.0, Length::mm);
        let short = |holder: Option<Holder>| {
            let low = depth + CLEAR_OF_HOLDER - holder?.above();
            (low > ROUNDING).then_some(out + low)
        };
        if let Some(needed) = short(nut) {
            return Err(NoProgram::StickOut { needed, has: out });
        }
        if let Some(needed) = short(spindle) {
            return Err(NoProgram::SpindleOnWood { needed, has: out });
        }
        let mut program = Self {
            feeds: Feeds::of(cutting, cnc, wood)?,
            safe_height,
            wall_pass: 0.0,
            depths: depths(cutting, cnc),
            moves: Vec::new(),
            cutting: cutting.clone(),
        };
        if cutting.cut.levels() {
            program.level();
        } else if matches!(cutting.cut, Cut::Rim(_)) {
            program.rim(cnc);
        } else {
            for course in Course::all(cutting, cnc) {
                program.wall_pass = program.wall_pass.max(course.light());
                program.cut(course, cnc)?;
            }
        }
        program.check_room(cnc, &zones)?;
        Ok(program)
    }

    /// Least and greatest position of the bit's tip centre in all feed moves, arcs' bulges included.
    #[must_use]
    pub fn extent(&self) -> Option<[Point3<f64>; 2]> {
        let mut found: Option<[Point3<f64>; 2]> = None;
        let mut from = *self.moves.first()?.to();
        for step in &self.moves {
            if !matches!(step, Move::Rapid(_)) {
                for p in step.farthest(from) {
                    found = Some(found.map_or([p; 2], |[low, high]| [low.inf(&p), high.sup(&p)]));
                }
            }
            from = *step.to();
        }
        found
    }

    fn check_room(&self, cnc: &Cnc, zones: &[Zone]) -> Result<(), NoProgram> {
        let (Some([low, high]), depth) = (self.extent(), self.cutting.profile.depth) else { return Ok(()) };
        let needed = [high.x - low.x, high.y - low.y, self.safe_height + depth];
        for (axis, (needed, has)) in needed.into_iter().zip(cnc.travel.map(Length::mm)).enumerate() {
            if needed > has + ROUNDING {
                return Err(NoProgram::Travel { axis, needed, has });
            }
        }
        let radius = self.cutting.bit.diameter.mm() / 2.0;
        let in_the_way = |zone: &Zone| {
            self.moves.windows(2).any(|pair| {
                let (from, step) = (*pair[0].to(), &pair[1]);
                zone.is_met(radius, step.length(from), |share| step.at(from, share))
            })
        };
        if let Some(i) = zones.iter().position(in_the_way) {
            return Err(NoProgram::Clamp(i));
        }
        let [nut, spindle] = Holder::both(&self.cutting.bit, cnc);
        if let Some((i, _)) = nut.and_then(|nut| self.in_a_zone(&nut, zones)) {
            return Err(NoProgram::NutOnClamp(i));
        }
        let has = self.cutting.bit.stick_out.map_or(0.0, Length::mm);
        spindle.and_then(|spindle| self.in_a_zone(&spindle, zones)).map_or(Ok(()), |(clamp, deep)| {
            Err(NoProgram::SpindleOnClamp { clamp, needed: has + deep + CLEAR_OF_HOLDER, has })
        })
    }

    /// The first zone that what holds the bit comes into on the way, and how deep at most.
    fn in_a_zone(&self, holder: &Holder, zones: &[Zone]) -> Option<(usize, f64)> {
        let deepest = |zone: &Zone| {
            let depths = self.moves.windows(2).filter_map(|pair| {
                let (from, step) = (*pair[0].to(), &pair[1]);
                holder.depth_in(zone, step.length(from), |share| step.at(from, share))
            });
            depths.reduce(f64::max)
        };
        zones.iter().enumerate().find_map(|(i, zone)| Some((i, deepest(zone)?)))
    }
}

/// What is left of the frame beside an outline, at least, so that its tabs hold, mm: 1/8 in (common practice, no source).
pub(super) const LEAST_FRAME: f64 = 25.4 / 8.0;
/// Rapid moves clear a clamp by this (common practice, no source).
const CLEAR_OF_CLAMP: f64 = 5.0;
/// Between what holds the bit and the wood, mm: 1/8 in (common practice, no source).
pub(crate) const CLEAR_OF_HOLDER: f64 = 25.4 / 8.0;
/// What a float's rounding adds is not too much, mm.
const ROUNDING: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Finished, Handhold, Reach};
    use crate::fixtures::{handhold, inch};
    use crate::job::{Clamp, FlatClamp};
    use approx::assert_relative_eq;

    fn hold() -> Handhold {
        handhold(["2", "3"])
    }

    fn cnc() -> Cnc {
        crate::fixtures::cnc(18_000)
    }

    fn program(hold: &Handhold, cnc: &Cnc) -> Result<Program, NoProgram> {
        Program::of(&Cutting::handhold(0, hold, &BOARD), cnc, None)
    }

    const BOARD: Finished = Finished { length: 288.925, width: 228.6, thickness: 34.925 };

    #[test]
    fn it_stays_between_the_stops_and_reaches_the_depth() {
        let program = program(&hold(), &cnc()).unwrap();
        let [low, high] = program.extent().unwrap();
        let rho = inch("3/8").mm();
        assert_relative_eq!(low.x, inch("2").mm() + rho, epsilon = 1e-9);
        assert_relative_eq!(high.x, BOARD.width - inch("3").mm() - rho, epsilon = 1e-9);
        assert_relative_eq!(low.y, BOARD.thickness / 2.0, epsilon = 1e-9);
        assert_relative_eq!(low.z, -inch("3/8").mm(), epsilon = 1e-9);
        // The printed maximum wins over the machine's speed: 16 000 × 2 × 0.0508 mm.
        assert_relative_eq!(program.feeds.feed, 1625.6, epsilon = 1e-9);
    }

    #[test]
    fn it_never_goes_down_steeper_than_the_ramp_and_rapids_only_high() {
        let program = program(&hold(), &cnc()).unwrap();
        let mut before = *program.moves[0].to();
        for m in &program.moves[1..] {
            let to = *m.to();
            match m {
                Move::Rapid(_) => assert!(to.z >= program.safe_height && to.xy() == before.xy()),
                Move::Feed(..) if to.z < 0.0 && to.z < before.z => {
                    assert!((before.z - to.z) * 10.0 <= (to.x - before.x).abs() + 1e-9);
                }
                Move::Feed(..) | Move::Arc { .. } => {}
            }
            before = to;
        }
    }

    #[test]
    fn what_the_machine_cannot_do_is_said() {
        let of = |hold: &Handhold, cnc: &Cnc| program(hold, cnc).unwrap_err();
        let low = Cnc { clear_height: inch("4"), ..cnc() };
        assert!(matches!(of(&hold(), &low), NoProgram::TooHigh { .. }));
        let small = Cnc { travel: [inch("2"), inch("24"), inch("4")], ..cnc() };
        assert!(matches!(of(&hold(), &small), NoProgram::Travel { axis: 0, .. }));
        let clamp = Clamp { from: inch("4"), to: inch("5"), above: inch("1/4") };
        assert_eq!(of(&hold(), &Cnc { clamps: vec![clamp], ..cnc() }), NoProgram::Clamp(0));
        let on_the_face =
            FlatClamp { from: [inch("4"), inch("1/4")], to: [inch("5"), inch("1/2")], above: inch("1/4") };
        // It stands where a board lies flat: no matter on edge.
        assert!(program(&hold(), &Cnc { flat_clamps: vec![on_the_face], ..cnc() }).is_ok());
        let middle = BOARD.width / 2.0 - inch("3/8").mm();
        let hole = Handhold { reach: Reach::Setbacks([Length::nearest_to_mm(middle); 2]), ..hold() };
        assert_eq!(of(&hole, &cnc()), NoProgram::NoRamp);
    }
}
