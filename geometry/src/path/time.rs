//! How long a program takes, with the machine's acceleration.

use super::{Move, Program};
use crate::job::Cnc;
use nalgebra::{Point3, Vector3};

/// Two moves run into each other without a stop where they turn by less than this, radians: 5° (common practice, no source).
const SMOOTH: f64 = 0.087_266;

/// Seconds, from where the bit first stands at the safe height over the work; changes of bits and what the maker does at
/// the machine are not in it.
///
/// Moves that run on smoothly at one speed are one stretch. Each begins and ends at rest: with its length L, speed v and
/// acceleration a it takes L/v + v/a, or 2 √(L/a) where it is too short to reach v (L < v²/a). So it is the most that a
/// controller takes which looks ahead; none that stops at every corner takes longer.
///
/// By hand: 100 mm at 1200 mm a minute (20 mm a second) and 200 mm/s²: 5 + 0.1 = 5.1 s; 1 mm of it: L < 2 mm,
/// 2 √(1/200) = 0.1414 s.
#[must_use]
pub fn seconds(program: &Program, cnc: &Cnc) -> f64 {
    let rapid = cnc.rapid.mm() / 60.0;
    let mut stretches: Vec<Stretch> = Vec::new();
    let Some(first) = program.moves.first() else { return 0.0 };
    let mut from = *first.to();
    for step in &program.moves[1..] {
        let Some(way) = Way::of(from, step) else { continue };
        from = *step.to();
        let speed = match step {
            Move::Rapid(_) => rapid,
            Move::Feed(_, feed) | Move::Arc { feed, .. } => feed / 60.0,
        };
        match stretches.last_mut() {
            Some(last) if last.speed == speed && last.leaves.angle(&way.begins) < SMOOTH => {
                last.long += way.long;
                last.leaves = way.ends;
            }
            _ => stretches.push(Stretch { long: way.long, speed, leaves: way.ends }),
        }
    }
    stretches.iter().map(|s| s.seconds(cnc.acceleration.mm())).sum()
}

struct Stretch {
    long: f64,
    speed: f64,
    leaves: Vector3<f64>,
}

impl Stretch {
    fn seconds(&self, acceleration: f64) -> f64 {
        if self.long < self.speed * self.speed / acceleration {
            return 2.0 * (self.long / acceleration).sqrt();
        }
        self.long / self.speed + self.speed / acceleration
    }
}

/// How long a move is, and which way it begins and ends.
struct Way {
    long: f64,
    begins: Vector3<f64>,
    ends: Vector3<f64>,
}

impl Way {
    /// None for a move to where the bit stands.
    fn of(from: Point3<f64>, step: &Move) -> Option<Self> {
        let to = *step.to();
        let Move::Arc { centre, clockwise, .. } = step else {
            let way = to - from;
            return (way.norm() > 0.0).then_some(Self { long: way.norm(), begins: way, ends: way });
        };
        let (a, b) = (from.xy() - centre, to.xy() - centre);
        let sign = if *clockwise { -1.0 } else { 1.0 };
        let angle = (sign * a.perp(&b)).atan2(a.dot(&b));
        let turn = if angle <= 0.0 { angle + std::f64::consts::TAU } else { angle };
        let (round, rise) = (a.norm() * turn, to.z - from.z);
        let along = |arm: nalgebra::Vector2<f64>| Vector3::new(-arm.y * sign * turn, arm.x * sign * turn, rise);
        Some(Self { long: round.hypot(rise), begins: along(a), ends: along(b) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::Finished;
    use crate::fixtures::{handhold, mm};
    use crate::path::Cutting;
    use approx::assert_relative_eq;
    use nalgebra::Point2;

    fn taking(moves: Vec<Move>) -> f64 {
        let board = Finished { length: 288.925, width: 228.6, thickness: 34.925 };
        let cnc = Cnc { acceleration: mm(200), rapid: mm(6000), ..crate::fixtures::cnc(16_000) };
        let whole = Program::of(&Cutting::handhold(0, &handhold(["2", "2"]), &board), &cnc, None).unwrap();
        seconds(&Program { moves, ..whole }, &cnc)
    }

    fn feed(x: f64, y: f64) -> Move {
        Move::Feed(Point3::new(x, y, 0.0), 1200.0)
    }

    #[test]
    fn the_worked_examples() {
        let start = Move::Rapid(Point3::origin());
        assert_relative_eq!(taking(vec![start, feed(100.0, 0.0)]), 5.1, epsilon = 1e-12);
        assert_relative_eq!(taking(vec![start, feed(1.0, 0.0)]), 0.141_421_356, epsilon = 1e-9);
        // Straight on it doesn't stop; round a corner it does.
        assert_relative_eq!(taking(vec![start, feed(40.0, 0.0), feed(100.0, 0.0)]), 5.1, epsilon = 1e-12);
        assert_relative_eq!(taking(vec![start, feed(50.0, 0.0), feed(50.0, 50.0)]), 5.2, epsilon = 1e-12);
        // Half a circle of 10 mm, and straight on where it ends: 31.416 + 20 mm at 20 mm/s, one stretch.
        let half = Move::Arc {
            to: Point3::new(0.0, 20.0, 0.0),
            centre: Point2::new(0.0, 10.0),
            clockwise: false,
            feed: 1200.0,
        };
        assert_relative_eq!(taking(vec![start, half, feed(-20.0, 20.0)]), 51.415_926_5 / 20.0 + 0.1, epsilon = 1e-8);
        assert_eq!(taking(vec![]), 0.0);
    }
}
