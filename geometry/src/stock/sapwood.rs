//! How far sapwood reaches along the sides of a blank's end: what to look for when wood is bought.
//!
//! Knows blanks and their figure; knows nothing of panels, cuts or paper.

use super::{LaidBlank, Seen};
use nalgebra::Point3;

/// The longest run of sapwood along the wide sides and along the thick sides of an end, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sapwood {
    /// Along its upper or lower side.
    pub wide: f64,
    /// Along its left or right side.
    pub thick: f64,
}

impl LaidBlank {
    /// The sapwood of its two ends, at the panel's near and at its far end, by the heartwood line that the plan gives:
    /// `None` where no end was described, and where that line meets no side of either end, so that there is nothing to
    /// measure. The longest runs along the two sides that face each other: of a light corner, how far it reaches both
    /// ways.
    #[must_use]
    pub fn sapwood(&self) -> Option<[Sapwood; 2]> {
        if self.blank.seen == Seen::Nothing {
            return None;
        }
        let ends = [false, true].map(|far| self.sapwood_at(far));
        let lying = self.lying();
        let whole = Sapwood { wide: lying.width.mm(), thick: lying.thickness.mm() };
        let none = Sapwood { wide: 0.0, thick: 0.0 };
        (ends != [whole; 2] && ends != [none; 2]).then_some(ends)
    }

    fn sapwood_at(&self, far: bool) -> Sapwood {
        let lying = self.lying();
        let [wide, thick] = [lying.width.mm(), lying.thickness.mm()];
        let z = if far { lying.length.mm() } else { 0.0 };
        let beyond = |u: f64, v: f64| {
            let own = self.turn.own(self.blank.size, Point3::new(u, v, z));
            self.blank.figure.beyond_heartwood(&own) > 0.0
        };
        let along_u = [0.0, thick].map(|v| longest_run(wide, |u| beyond(u, v)));
        let along_v = [0.0, wide].map(|u| longest_run(thick, |v| beyond(u, v)));
        Sapwood { wide: along_u[0].max(along_u[1]), thick: along_v[0].max(along_v[1]) }
    }
}

/// The longest run of what holds along a side, mm. One that is shorter than a step may be overlooked.
fn longest_run(length: f64, holds: impl Fn(f64) -> bool) -> f64 {
    /// How far it steps at most, mm.
    const STEP: f64 = 0.5;
    /// A border lies within a step halved so often.
    const HALVINGS: u32 = 6;
    let steps = (length / STEP).ceil().max(1.0);
    let at = |k: f64| length * (k / steps);
    let border = |mut out: f64, mut within: f64| {
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(out, within);
            *(if holds(middle) { &mut within } else { &mut out }) = middle;
        }
        within
    };
    let (mut longest, mut began, mut k) = (0.0_f64, None, 0.0);
    while k <= steps {
        match (holds(at(k)), began) {
            (true, None) => began = Some(if k > 0.0 { border(at(k - 1.0), at(k)) } else { 0.0 }),
            (false, Some(from)) => {
                longest = longest.max(border(at(k), at(k - 1.0)) - from);
                began = None;
            }
            _ => {}
        }
        k += 1.0;
    }
    began.map_or(longest, |from| longest.max(length - from))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::mm;
    use crate::stock::{Blank, BlankTurn, HalfTurn, Size};
    use crate::wood::{EndRings, Figure, Rings, Wood};
    use nalgebra::Point2;

    fn laid(half: HalfTurn, seen: Seen, far: f64) -> LaidBlank {
        let end = |heartwood_radius| EndRings { pith: Point2::new(-20.0, -40.0), heartwood_radius };
        let rings = Rings { near: end(75.0), far: end(far), ring_width: 2.4, seed: 3 };
        let figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 300.0);
        let size = Size { width: mm(40), thickness: mm(25), length: mm(300) };
        let blank = Blank { letter: "A".into(), size, rough: None, figure, seen, rip: None, moisture: None };
        LaidBlank { blank, turn: BlankTurn { quarter_roll: false, half }, start: mm(0) }
    }

    /// By Pythagoras: a circle of 75 about (-20, -40) meets the upper side of 40 × 25 at √(75² - 65²) - 20 = 17.42 and
    /// the right side at √(75² - 60²) - 40 = 5, so 22.58 and 20 of them are sapwood; one of 70 at √(70² - 65²) - 20 =
    /// 5.98 and at √(70² - 60²) - 40 = -3.94: 34.02, and the whole side. The border itself wanders
    /// by some tenths of a millimetre, as in wood.
    #[test]
    fn a_light_corner_reaches_as_far_as_its_circle_says() {
        let far = |half| laid(half, Seen::BothEnds, 70.0).sapwood().unwrap();
        let near = |s: [Sapwood; 2]| [s[0].wide, s[0].thick, s[1].wide, s[1].thick];
        let close = |s: [f64; 4], by: [f64; 4]| s.iter().zip(by).all(|(s, by)| (s - by).abs() < 0.5);
        let by_hand = [22.58, 20.0, 34.02, 25.0];
        for half in [HalfTurn::Rest, HalfTurn::RolledOver] {
            assert!(close(near(far(half)), by_hand), "{half:?}: {:?}", far(half));
        }
        let [a, b, c, d] = by_hand;
        assert!(close(near(far(HalfTurn::EndForEnd)), [c, d, a, b]));
    }

    #[test]
    fn what_is_not_described_or_has_no_border_is_not_told() {
        assert_eq!(laid(HalfTurn::Rest, Seen::Nothing, 70.0).sapwood(), None);
        let all = |radius| {
            let mut laid = laid(HalfTurn::Rest, Seen::BothEnds, radius);
            let end = EndRings { pith: Point2::new(-20.0, -40.0), heartwood_radius: radius };
            let rings = Rings { near: end, far: end, ring_width: 2.4, seed: 3 };
            laid.blank.figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 300.0);
            laid.sapwood()
        };
        assert_eq!((all(0.0), all(500.0)), (None, None));
        assert!(all(75.0).is_some());
    }

    #[test]
    fn runs_are_found_to_a_hundredth() {
        for (from, to) in [(0.0, 12.3), (4.56, 20.0), (7.0, 8.01), (0.0, 20.0)] {
            let run = longest_run(20.0, |s| s >= from && s <= to);
            assert!((run - (to - from)).abs() < 0.02, "{from} to {to}: {run}");
        }
        assert_eq!(longest_run(20.0, |_| false), 0.0);
        let two = longest_run(20.0, |s| !(5.0..=12.0).contains(&s));
        assert!((two - 8.0).abs() < 0.01, "{two}");
    }
}
