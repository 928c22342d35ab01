//! The saw at work: many seeded runs of one panel, and what the first three strips tell.
//!
//! The runs cut strip after strip with errors drawn at random; they know nothing of the closed form
//! in [`Spread`], which must agree with them.

use super::short::most;
use super::{Accuracy, Crosscut, LastStrip, Spread, StripSide};
use crate::measure::{Length, Rule};

/// Numbers that follow from a seed: SplitMix64 (Steele, Lea, Flood 2014), and by the polar method
/// (Marsaglia 1964) normal ones.
struct Seeded {
    state: u64,
    spare: Option<f64>,
}

impl Seeded {
    /// From −1 to 1.
    fn even(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let top = (z ^ (z >> 31)) >> 11;
        top as f64 / (1_u64 << 52) as f64 - 1.0
    }

    /// Normal, mean 0, standard deviation 1.
    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (a, b) = (self.even(), self.even());
            let s = a * a + b * b;
            if s > 0.0 && s < 1.0 {
                let by = (-2.0 * s.ln() / s).sqrt();
                self.spare = Some(b * by);
                return a * by;
            }
        }
    }
}

/// The share of `runs` seeded runs in which the last of `count` strips of `width` comes out narrow.
///
/// Each run draws what the stop is really set to, the blade's real kerf, what squaring really took and
/// how long the panel really is; then it cuts, each strip with an error of its own.
///
/// ```
/// use quarterturn_geometry::measure::{Length, Unit};
/// use quarterturn_geometry::stock::{Accuracy, Crosscut, LastStrip, Spread, StripSide, share_short};
/// let inch = |s| Length::parse(s, Unit::Inch).unwrap();
/// let cut = Crosscut {
///     length: inch("15 1/2"), lost_first: inch("1/4"), far_loss: inch("0"), kerf: inch("3/32"),
///     last: LastStrip::Left, side: StripSide::StopSide, least_piece: inch("6"), waste_block: inch("0"),
/// };
/// let accuracy = Accuracy {
///     set: inch("1/64"), repeat: inch("0.004"), kerf: inch("0.002"), squaring: inch("1/64"), length: inch("1/32"),
/// };
/// let closed = Spread::of(&cut, &accuracy, 14, inch("1")).chance_short();
/// let share = share_short(&cut, &accuracy, 14, inch("1"), 20_000, 1);
/// assert!((share - closed).abs() < 4.0 * (closed * (1.0 - closed) / 20_000.0_f64).sqrt());
/// ```
#[must_use]
pub fn share_short(cut: &Crosscut, accuracy: &Accuracy, count: i64, width: Length, runs: u32, seed: u64) -> f64 {
    let mut seeded = Seeded { state: seed, spare: None };
    let short = (0..runs).filter(|_| comes_out_narrow(cut, accuracy, count, width, &mut seeded)).count();
    short as f64 / f64::from(runs.max(1))
}

fn comes_out_narrow(cut: &Crosscut, accuracy: &Accuracy, count: i64, width: Length, seeded: &mut Seeded) -> bool {
    let mut off = |good_to: Length| good_to.mm() / 2.0 * seeded.normal();
    let kerf = cut.kerf.mm() + off(accuracy.kerf);
    // From stop to blade, as it is really set.
    let stop = cut.stop_for(width).mm() + off(accuracy.set);
    let mut left = cut.length.mm() + off(accuracy.length) - cut.lost_first.mm() - off(accuracy.squaring);
    // What one cut takes off the panel, strip and kerf, and the strip that it gives.
    let takes = |error: f64| match cut.side {
        StripSide::StopSide => stop + error + kerf,
        StripSide::FarSide => stop + error,
    };
    for _ in 1..count {
        left -= takes(off(accuracy.repeat));
    }
    match cut.last {
        // What is left is held against the strips as the stop was set.
        LastStrip::Left => left < takes(0.0) - kerf,
        LastStrip::Freed => left - (takes(off(accuracy.repeat)) - kerf) < cut.far_loss.mm(),
        LastStrip::FullCut => left - takes(off(accuracy.repeat)) < (cut.far_loss - cut.kerf).max(Length::ZERO).mm(),
    }
}

/// What to measure after the third strip, to know whether the wanted count comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AfterThird {
    /// The most that the first three strips, laid side by side, may measure; more, and the stop must come in.
    pub stack: Length,
    /// Strips still to come.
    pub left: i64,
    /// What is lost on the rest of the panel: kerfs and the far end. What remains of the panel less this, over the
    /// strips still to come, is the widest that they can be.
    pub still_lost: Length,
}

impl AfterThird {
    /// Of `count` strips; `None` where no more than three are cut, or no width is safe.
    ///
    /// The mean of three strips says how the stop is really set, but for σ_repeat/√3. What is left of the spread:
    /// σ² = ((N − 3)·σ_repeat/√3)² + (n_r − 3)·σ_repeat² + ((N − 1)·σ_kerf)² + σ_q² + σ_L² (N kerfs with a full last
    /// cut); the slack is L − q − q_far − N/3·stack − (N − 1)·b.
    #[must_use]
    pub fn of(cut: &Crosscut, accuracy: &Accuracy, count: i64, limit: f64, rule: &Rule) -> Option<Self> {
        let left = count - 3;
        if left < 1 {
            return None;
        }
        let good = |marks: i64| Self::spread(cut, accuracy, count, rule.mark() * marks).chance_short() <= limit;
        let beyond = (cut.widest(count).max(Length::ZERO) * 3).whole_parts(rule.mark()) + 1;
        let stack = if beyond > 1 { rule.mark() * most(1, beyond, good)? } else { return None };
        Some(Self { stack, left, still_lost: cut.kerf * (left - 1) + cut.lost_last() })
    }

    /// How the slack spreads once three strips measure `stack`.
    #[must_use]
    pub fn spread(cut: &Crosscut, accuracy: &Accuracy, count: i64, stack: Length) -> Spread {
        let sigma = |good_to: Length| good_to.mm() / 2.0;
        let (left, repeat) = ((count - 3) as f64, sigma(accuracy.repeat));
        let cuts = cut.cuts_for(count);
        let kerfs = (count - i64::from(cut.last != LastStrip::FullCut)) as f64;
        let variance = (left * repeat).powi(2) / 3.0
            + (cuts - 3).max(0) as f64 * repeat.powi(2)
            + (kerfs * sigma(accuracy.kerf)).powi(2)
            + sigma(accuracy.squaring).powi(2)
            + sigma(accuracy.length).powi(2);
        let strips = stack.mm() * count as f64 / 3.0;
        Spread { slack: cut.slack(count, Length::ZERO).mm() - strips, sigma: variance.sqrt() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::inch;
    use proptest::prelude::*;

    const LASTS: [LastStrip; 3] = [LastStrip::Left, LastStrip::Freed, LastStrip::FullCut];
    const SIDES: [StripSide; 2] = [StripSide::StopSide, StripSide::FarSide];

    fn bench(last: LastStrip, side: StripSide) -> (Crosscut, Accuracy) {
        let cut = Crosscut {
            length: inch("15 5/8"),
            lost_first: inch("1/4"),
            far_loss: inch("1/32"),
            kerf: inch("3/32"),
            last,
            side,
            least_piece: inch("6"),
            waste_block: Length::ZERO,
        };
        let accuracy = Accuracy {
            set: inch("1/64"),
            repeat: inch("1/64"),
            kerf: inch("1/128"),
            squaring: inch("1/64"),
            length: inch("1/32"),
        };
        (cut, accuracy)
    }

    fn agree(last: LastStrip, side: StripSide, runs: u32) {
        let (cut, accuracy) = bench(last, side);
        let closed = Spread::of(&cut, &accuracy, 14, inch("1")).chance_short();
        assert!(closed > 0.02 && closed < 0.98, "{last:?} {side:?}: {closed} tells little");
        let share = share_short(&cut, &accuracy, 14, inch("1"), runs, 8);
        let error = (closed * (1.0 - closed) / f64::from(runs)).sqrt();
        assert!((share - closed).abs() < 4.0 * error, "{last:?} {side:?}: {share} for {closed}");
    }

    #[test]
    fn a_million_runs_agree_with_the_closed_form() {
        agree(LastStrip::Left, StripSide::StopSide, 1_000_000);
    }

    #[test]
    fn so_does_every_way_to_saw() {
        for last in LASTS {
            for side in SIDES {
                agree(last, side, 100_000);
            }
        }
    }

    #[test]
    fn the_same_seed_gives_the_same_share() {
        let (cut, accuracy) = bench(LastStrip::Left, StripSide::StopSide);
        let of = |seed| share_short(&cut, &accuracy, 14, inch("1"), 2000, seed);
        assert!(of(3).to_bits() == of(3).to_bits() && of(3).to_bits() != of(4).to_bits());
    }

    #[test]
    fn nothing_uncertain_leaves_exactly_the_widest() {
        let (cut, _) = bench(LastStrip::Left, StripSide::StopSide);
        let none = Accuracy {
            set: Length::ZERO,
            repeat: Length::ZERO,
            kerf: Length::ZERO,
            squaring: Length::ZERO,
            length: Length::ZERO,
        };
        let rule = Rule::inches(64).unwrap();
        let third = AfterThird::of(&cut, &none, 14, 0.05, &rule).unwrap();
        // (15 5/8 − 1/4 − 13 · 3/32) / 14 · 3 = 3.0335 in: 3 2/64 is the mark below.
        assert_eq!((third.stack, third.left, third.still_lost), (inch("3 1/32"), 11, inch("15/16")));
        assert_eq!(AfterThird::of(&cut, &none, 3, 0.05, &rule), None);
    }

    proptest! {
        /// Strips cut exactly as the stack says leave the count, and a chance under the limit.
        #[test]
        fn the_stack_never_errs_to_the_unsafe_side(
            length in 200i64..1500, count in 4i64..40, last in 0usize..3, side in 0usize..2, power in 3u32..8,
        ) {
            let (bench, accuracy) = bench(LASTS[last], SIDES[side]);
            let cut = Crosscut { length: Length::from_micrometres(length * 1000), ..bench };
            let rule = Rule::inches(2_i64.pow(power)).unwrap();
            if let Some(third) = AfterThird::of(&cut, &accuracy, count, 0.05, &rule) {
                prop_assert!(AfterThird::spread(&cut, &accuracy, count, third.stack).chance_short() <= 0.05);
                let more = third.stack + rule.mark();
                prop_assert!(AfterThird::spread(&cut, &accuracy, count, more).chance_short() > 0.05 || more.mm() > 3.0 * cut.widest(count).mm());
                prop_assert!(!cut.slack(count, third.stack.divided_by(3)).is_negative());
            }
        }

        /// Strips cut exactly to the safe setting as it is printed leave the wanted count.
        #[test]
        fn the_printed_safe_stop_leaves_the_count(
            length in 200i64..1500, count in 1i64..40, last in 0usize..3, side in 0usize..2, power in 3u32..8,
        ) {
            let (bench, accuracy) = bench(LASTS[last], SIDES[side]);
            let cut = Crosscut { length: Length::from_micrometres(length * 1000), ..bench };
            let rule = Rule::inches(2_i64.pow(power)).unwrap();
            if let Some((stop, _)) = Spread::safe_stop(&cut, &accuracy, count, 0.05, &rule) {
                let printed = Length::parse(&rule.show(stop.mm(), crate::measure::Rounding::Down, crate::measure::Rest::Dropped), crate::measure::Unit::Inch).unwrap();
                let width = printed - cut.stop_for(Length::ZERO);
                prop_assert!(cut.count(width) >= count);
            }
        }
    }
}
