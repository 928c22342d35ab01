//! The moves of a CNC that cut one handhold, the board standing on edge in a vertical clamp.

use super::passes;
use crate::cut::{Bit, Edge, Finished, Handhold};
use crate::job::Cnc;
use nalgebra::Point3;
use thiserror::Error;

/// One move of the bit's tip centre, in the edge's frame ([`crate::cut::EdgeFrame`]): X along the
/// edge from its first end, Y up from the lower face, Z outward, 0 at the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Move {
    /// As fast as the machine goes; only at or above the safe height, or straight up to it.
    Rapid(Point3<f64>),
    /// In a straight line at a feed, mm a minute.
    Feed(Point3<f64>, f64),
}

impl Move {
    /// Where it ends.
    #[must_use]
    pub const fn to(&self) -> &Point3<f64> {
        match self {
            Self::Rapid(to) | Self::Feed(to, _) => to,
        }
    }
}

/// What a controller is to do for one handhold.
#[derive(Clone, Debug, PartialEq)]
pub struct Program {
    /// The edge, which is up.
    pub edge: Edge,
    /// The bit.
    pub bit: Bit,
    /// Spindle speed, turns a minute.
    pub speed: u32,
    /// Feed along the cut, mm a minute: speed × flutes × chip load.
    pub feed: f64,
    /// Feed while ramping down, mm a minute: half of it.
    pub ramp_feed: f64,
    /// Rapid moves only at or above this height.
    pub safe_height: f64,
    /// Depth after each pass.
    pub depths: Vec<f64>,
    /// The edge's length, the board's thickness, and how high the board stands.
    pub stock: [f64; 3],
    /// The moves; the first goes straight up to the safe height from wherever the bit is.
    pub moves: Vec<Move>,
}

/// Why there is no program.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum NoProgram {
    /// The board on edge, with the safe height above it, doesn't go under the bit.
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
    /// Too short to ramp, and the bit may not be plunged.
    #[error("there is no room to ramp down, and the bit does not cut at its centre")]
    NoRamp,
    /// The stops cross, or there is no depth.
    #[error("there is nothing to cut")]
    Nothing,
}

/// The most legs that one pass may ramp down in.
const MOST_LEGS: f64 = 40.0;

impl Program {
    /// The program for a handhold.
    ///
    /// Each pass ramps down along the cut, back and forth where one leg is too short, then runs
    /// once level; a recess wider than the bit is then cleared line by line, and its walls are run along once round.
    /// The step-down of bits to 1/4 in is a quarter of the diameter, of larger ones
    /// 1/16 in; half the feed on the ramp (common practice for a light machine, no source).
    ///
    /// # Errors
    /// [`NoProgram`] where the machine can't do it.
    pub fn of(hold: &Handhold, board: &Finished, cnc: &Cnc) -> Result<Self, NoProgram> {
        let travel = hold.travel(board);
        if travel < 0.0 || hold.widening() < 0.0 || !hold.depth.is_positive() {
            return Err(NoProgram::Nothing);
        }
        let safe_height = cnc.clamps.iter().map(|c| c.above.mm() + CLEAR_OF_CLAMP).fold(cnc.safe_height.mm(), f64::max);
        check_room(hold, board, cnc, safe_height)?;
        let speed = hold.bit.most_speed.map_or(cnc.speed, |most| most.min(cnc.speed));
        let feed = f64::from(speed) * f64::from(hold.bit.flutes) * cnc.chip_load.mm();
        let mut program = Self {
            edge: hold.edge,
            bit: hold.bit.clone(),
            speed,
            feed,
            ramp_feed: feed / 2.0,
            safe_height,
            depths: passes(hold.depth.mm(), step_down(hold, cnc), LAST_PASS, hold.passes),
            stock: [hold.edge.length(board), board.thickness, hold.edge.stands(board)],
            moves: Vec::new(),
        };
        program.cut(&Lines::of(hold, board), f64::from(cnc.ramp))?;
        Ok(program)
    }

    fn cut(&mut self, lines: &Lines, ramp: f64) -> Result<(), NoProgram> {
        let travel = lines.x[1] - lines.x[0];
        let at = |end: usize, z: f64| Point3::new(lines.x[end], lines.y[0], z);
        self.moves.push(Move::Rapid(at(0, self.safe_height)));
        self.moves.push(Move::Feed(at(0, 0.0), self.ramp_feed));
        let (mut end, mut z) = (0, 0.0);
        for depth in self.depths.clone() {
            let drop = z + depth;
            let legs = (drop * ramp / travel).ceil().max(1.0);
            if legs > MOST_LEGS {
                if !self.bit.cuts_at_centre {
                    return Err(NoProgram::NoRamp);
                }
                self.moves.push(Move::Feed(at(end, -depth), self.ramp_feed));
            } else {
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                for leg in 1..=legs as usize {
                    end = 1 - end;
                    self.moves.push(Move::Feed(at(end, z - drop * leg as f64 / legs), self.ramp_feed));
                }
            }
            z = -depth;
            if travel > 0.0 {
                end = 1 - end;
                self.moves.push(Move::Feed(at(end, z), self.feed));
            }
            self.moves.extend(lines.widen(end, z).into_iter().map(|to| Move::Feed(to, self.feed)));
        }
        self.moves.push(Move::Rapid(at(end, self.safe_height)));
        Ok(())
    }

    /// Least and greatest position of the bit's tip centre in all feed moves below the edge's surface.
    #[must_use]
    pub fn extent(&self) -> Option<[Point3<f64>; 2]> {
        let mut cuts = self.moves.iter().filter(|m| matches!(m, Move::Feed(..))).map(Move::to);
        let first = cuts.next()?;
        Some(cuts.fold([*first, *first], |[low, high], p| [low.inf(p), high.sup(p)]))
    }
}

/// The lines that the bit's centre runs along at each depth.
struct Lines {
    /// Where they begin and end.
    x: [f64; 2],
    /// How high each lies, from the lowest up.
    y: Vec<f64>,
}

/// The ridge that may stand between two lines, mm: half of what a floor may be off by.
const RIDGE: f64 = 0.005;

impl Lines {
    /// No farther apart than 2/5 of the diameter (common practice, no source), nor than leaves a ridge of [`RIDGE`]
    /// between two lines: (R − r) + √(r² − (r − ridge)²) to either side.
    fn of(hold: &Handhold, board: &Finished) -> Self {
        let [low, high] = hold.path(board).extent();
        let bit = hold.before_its_rim().profile();
        let apart = (2.0 * bit.half_width(RIDGE)).min(0.8 * bit.radius);
        let steps = ((high.y - low.y) / apart).ceil().max(0.0) as u32;
        let y = (0..=steps).map(|k| low.y + (high.y - low.y) * f64::from(k) / f64::from(steps.max(1))).collect();
        Self { x: [low.x, high.x], y }
    }

    /// From one end of the lowest line: all the others to and fro, then once round the walls, back to where it began.
    fn widen(&self, end: usize, z: f64) -> Vec<Point3<f64>> {
        let (Some(first), Some(last)) = (self.y.first(), self.y.last()) else { return Vec::new() };
        if self.y.len() < 2 {
            return Vec::new();
        }
        let at = |end: usize, y: f64| Point3::new(self.x[end], y, z);
        let mut side = end;
        let mut moves = Vec::new();
        for y in &self.y[1..] {
            moves.push(at(side, *y));
            side = 1 - side;
            moves.push(at(side, *y));
        }
        moves.extend([at(side, *first), at(1 - side, *first), at(1 - side, *last), at(side, *last), at(side, *first)]);
        if side != end {
            moves.push(at(end, *first));
        }
        moves
    }
}

/// Rapid moves clear a clamp by this (common practice, no source).
const CLEAR_OF_CLAMP: f64 = 5.0;
/// Left for the last pass, mm: 1/64 in (common practice, no source).
const LAST_PASS: f64 = 25.4 / 64.0;

fn step_down(hold: &Handhold, cnc: &Cnc) -> f64 {
    const QUARTER_INCH: f64 = 6.35;
    let diameter = hold.bit.diameter.mm();
    let usual = if diameter <= QUARTER_INCH { diameter / 4.0 } else { QUARTER_INCH / 4.0 };
    cnc.step_down.map_or(usual, crate::measure::Length::mm)
}

/// The most that any pass of a handhold takes, mm.
pub(super) fn most_at_once(hold: &Handhold, cnc: &Cnc) -> f64 {
    let depths = passes(hold.depth.mm(), step_down(hold, cnc), LAST_PASS, hold.passes);
    let before = std::iter::once(0.0).chain(depths.iter().copied());
    depths.iter().zip(before).map(|(depth, before)| depth - before).fold(0.0, f64::max)
}

/// What a float's rounding adds is not too much, mm.
const ROUNDING: f64 = 1e-6;

fn check_room(hold: &Handhold, board: &Finished, cnc: &Cnc, safe_height: f64) -> Result<(), NoProgram> {
    let (stands, clears) = (hold.edge.stands(board) + safe_height, cnc.clear_height.mm());
    if stands > clears + ROUNDING {
        return Err(NoProgram::TooHigh { stands, clears });
    }
    let needed = [hold.travel(board), hold.widening(), safe_height + hold.depth.mm()];
    for (axis, (needed, has)) in needed.into_iter().zip(cnc.travel.map(crate::measure::Length::mm)).enumerate() {
        if needed > has + ROUNDING {
            return Err(NoProgram::Travel { axis, needed, has });
        }
    }
    let radius = hold.bit.diameter.mm() / 2.0;
    let [from, to] = hold.centres(board).map(|p| p.x);
    let in_the_way = |c: &crate::job::Clamp| {
        c.above.mm() > -hold.depth.mm() && c.from.mm() < to + radius && c.to.mm() > from - radius
    };
    cnc.clamps.iter().position(in_the_way).map_or(Ok(()), |i| Err(NoProgram::Clamp(i)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::Reach;
    use crate::fixtures::{handhold, inch};
    use crate::job::Clamp;
    use crate::measure::Length;
    use approx::assert_relative_eq;

    fn hold() -> Handhold {
        handhold(["2", "3"])
    }

    fn cnc() -> Cnc {
        crate::fixtures::cnc(18_000)
    }

    const BOARD: Finished = Finished { length: 288.925, width: 228.6, thickness: 34.925 };

    #[test]
    fn it_stays_between_the_stops_and_reaches_the_depth() {
        let program = Program::of(&hold(), &BOARD, &cnc()).unwrap();
        let [low, high] = program.extent().unwrap();
        let rho = inch("3/8").mm();
        assert_relative_eq!(low.x, inch("2").mm() + rho, epsilon = 1e-9);
        assert_relative_eq!(high.x, BOARD.width - inch("3").mm() - rho, epsilon = 1e-9);
        assert_relative_eq!(low.y, BOARD.thickness / 2.0, epsilon = 1e-9);
        assert_relative_eq!(low.z, -inch("3/8").mm(), epsilon = 1e-9);
        // The printed maximum wins over the machine's speed: 16 000 × 2 × 0.0508 mm.
        assert_relative_eq!(program.feed, 1625.6, epsilon = 1e-9);
    }

    #[test]
    fn it_never_goes_down_steeper_than_the_ramp_and_rapids_only_high() {
        let program = Program::of(&hold(), &BOARD, &cnc()).unwrap();
        let mut before = *program.moves[0].to();
        for m in &program.moves[1..] {
            let to = *m.to();
            match m {
                Move::Rapid(_) => assert!(to.z >= program.safe_height && to.xy() == before.xy()),
                Move::Feed(..) if to.z < 0.0 && to.z < before.z => {
                    assert!((before.z - to.z) * 10.0 <= (to.x - before.x).abs() + 1e-9);
                }
                Move::Feed(..) => {}
            }
            before = to;
        }
    }

    #[test]
    fn what_the_machine_cannot_do_is_said() {
        let of = |hold: &Handhold, cnc: &Cnc| Program::of(hold, &BOARD, cnc).unwrap_err();
        let low = Cnc { clear_height: inch("4"), ..cnc() };
        assert!(matches!(of(&hold(), &low), NoProgram::TooHigh { .. }));
        let small = Cnc { travel: [inch("2"), inch("24"), inch("4")], ..cnc() };
        assert!(matches!(of(&hold(), &small), NoProgram::Travel { axis: 0, .. }));
        let clamp = Clamp { from: inch("4"), to: inch("5"), above: inch("1/4") };
        assert_eq!(of(&hold(), &Cnc { clamps: vec![clamp], ..cnc() }), NoProgram::Clamp(0));
        let middle = BOARD.width / 2.0 - inch("3/8").mm();
        let hole = Handhold { reach: Reach::Setbacks([Length::nearest_to_mm(middle); 2]), ..hold() };
        assert_eq!(of(&hole, &cnc()), NoProgram::NoRamp);
    }
}
