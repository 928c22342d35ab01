//! The chance of running short: that the last piece comes out narrower than the others were set.
//!
//! Three kinds of error act differently over N cuts: a stop set a little wide is shared by all of
//! them (grows as N), how well each strip repeats is not (grows as √N), and the kerf counts once
//! for each that lies between the squared end and the far end.

use super::{Crosscut, LastStrip, StripSide};
use crate::measure::{Length, Rule};

/// How well things are set and known. "Good to ±a" is read as a standard deviation of a/2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// The stop is set to ± this.
    pub set: Length,
    /// Each strip repeats to ± this.
    pub repeat: Length,
    /// The kerf is known to ± this.
    pub kerf: Length,
    /// The squaring cut takes what was said to ± this.
    pub squaring: Length,
    /// The panel's length is known to ± this.
    pub length: Length,
}

/// The slack of a cut and how it spreads: normal, by the sum of independent errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// L − q − q_far − N·s − (N − 1)·b, mm.
    pub slack: f64,
    /// σ of the slack, mm.
    pub sigma: f64,
}

impl Spread {
    /// Of `count` strips of `width` from this panel.
    ///
    /// σ² = (N·σ_set)² + n_r·σ_repeat² + (n_k·σ_kerf)² + σ_q² + σ_L²; n_r = N − 1 where the last
    /// piece is left, N where a last cut frees it; n_k = N − 1 (N with a full last cut) where the
    /// strip lies between stop and blade, 1 (0 with a full last cut) where it falls off the far
    /// side, because the stop then fixes s + b.
    #[must_use]
    pub fn of(cut: &Crosscut, accuracy: &Accuracy, count: i64, width: Length) -> Self {
        let sigma = |good_to: Length| good_to.mm() / 2.0;
        let n = count as f64;
        let repeats = repeats(cut, count) as f64;
        let kerfs = kerfs(cut, count) as f64;
        let variance = (n * sigma(accuracy.set)).powi(2)
            + repeats * sigma(accuracy.repeat).powi(2)
            + (kerfs * sigma(accuracy.kerf)).powi(2)
            + sigma(accuracy.squaring).powi(2)
            + sigma(accuracy.length).powi(2);
        Self { slack: cut.slack(count, width).mm(), sigma: variance.sqrt() }
    }

    /// Φ(−slack/σ); 0 or 1 by the sign of the slack where σ is 0.
    ///
    /// Φ is the standard normal distribution, ½·erfc(−x/√2).
    ///
    /// ```
    /// use quarterturn_geometry::stock::Spread;
    /// let even = Spread { slack: 0.0, sigma: 1.0 };
    /// assert_eq!(even.chance_short(), 0.5);
    /// // Φ(−1.96) = 0.024 998 (any table of the normal distribution)
    /// assert!((Spread { slack: 1.96, sigma: 1.0 }.chance_short() - 0.024_998).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn chance_short(&self) -> f64 {
        if self.sigma > 0.0 {
            0.5 * libm::erfc(self.slack / self.sigma / std::f64::consts::SQRT_2)
        } else if self.slack < 0.0 {
            1.0
        } else {
            0.0
        }
    }

    /// The largest stop distance on the maker's rule for which the chance of `count` strips
    /// falling short stays at or under `limit`, and the strip's width then; `None` where there is
    /// none above nothing.
    #[must_use]
    pub fn safe_stop(
        cut: &Crosscut,
        accuracy: &Accuracy,
        count: i64,
        limit: f64,
        rule: &Rule,
    ) -> Option<(Length, Length)> {
        let beside = cut.stop_for(Length::ZERO);
        let good = |marks: i64| {
            let width = rule.mark() * marks - beside;
            width.is_positive() && Self::of(cut, accuracy, count, width).chance_short() <= limit
        };
        // The chance never falls as the stop moves out: bisect between the narrowest strip and the widest.
        let low = beside.whole_parts(rule.mark()) + 1;
        let high = (cut.widest(count) + beside).whole_parts(rule.mark()) + 1;
        let stop = rule.mark() * most(low, high, good)?;
        Some((stop, stop - beside))
    }
}

/// The most that is still good, from `low` to below `high`, where nothing beyond one that isn't is; `None` where not
/// even `low` is.
pub(super) fn most(mut low: i64, mut high: i64, good: impl Fn(i64) -> bool) -> Option<i64> {
    if !good(low) {
        return None;
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if good(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// n_r: cuts whose own error moves the last piece.
fn repeats(cut: &Crosscut, count: i64) -> i64 {
    match cut.last {
        LastStrip::Left => (count - 1).max(0),
        LastStrip::Freed | LastStrip::FullCut => count,
    }
}

/// n_k: kerfs whose common error moves the last piece.
fn kerfs(cut: &Crosscut, count: i64) -> i64 {
    match (cut.side, cut.last) {
        (StripSide::StopSide, LastStrip::FullCut) => count,
        (StripSide::StopSide, _) => (count - 1).max(0),
        (StripSide::FarSide, LastStrip::FullCut) => 0,
        (StripSide::FarSide, _) => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    fn inch(s: &str) -> Length {
        Length::parse(s, Unit::Inch).unwrap()
    }

    fn bench() -> (Crosscut, Accuracy) {
        let cut = Crosscut {
            length: inch("15 1/2"),
            lost_first: inch("1/4"),
            far_loss: Length::ZERO,
            kerf: inch("3/32"),
            last: LastStrip::Left,
            side: StripSide::StopSide,
            least_piece: inch("6"),
            waste_block: Length::ZERO,
        };
        let accuracy = Accuracy {
            set: inch("1/64"),
            repeat: inch("0.004"),
            kerf: Length::ZERO,
            squaring: Length::ZERO,
            length: Length::ZERO,
        };
        (cut, accuracy)
    }

    /// How many full strips come out when the saw really takes `strip` each time.
    fn strips_cut(cut: &Crosscut, strip: Length) -> i64 {
        let (mut left, mut n) = (cut.length - cut.lost_first, 0);
        while left >= strip {
            left = left - strip - cut.kerf;
            n += 1;
        }
        n
    }

    /// Common practice, no source: a stop a little over 1 in gives 13 where 14 were planned; the
    /// safe setting, cut with the same error, gives 14.
    #[test]
    fn the_safe_setting_would_have_given_fourteen() {
        let (cut, accuracy) = bench();
        let error = inch("1/64");
        assert_eq!(strips_cut(&cut, inch("1") + error), 13);
        let rule = Rule::inches(64).unwrap();
        let (stop, width) = Spread::safe_stop(&cut, &accuracy, 14, 0.05, &rule).unwrap();
        assert_eq!((stop, width), (inch("63/64"), inch("63/64")));
        assert_eq!(strips_cut(&cut, width + error), 14);
        assert!(Spread::of(&cut, &accuracy, 14, inch("1")).chance_short() > 0.3);
    }

    #[test]
    fn nothing_uncertain_is_yes_or_no() {
        let (cut, _) = bench();
        let none = Accuracy {
            set: Length::ZERO,
            repeat: Length::ZERO,
            kerf: Length::ZERO,
            squaring: Length::ZERO,
            length: Length::ZERO,
        };
        assert_eq!(Spread::of(&cut, &none, 14, inch("1")).chance_short(), 0.0);
        assert_eq!(Spread::of(&cut, &none, 14, inch("1 1/64")).chance_short(), 1.0);
    }

    /// Off the far side the stop fixes strip and kerf together.
    #[test]
    fn the_kerf_counts_by_where_the_strip_lies() {
        let (cut, accuracy) = bench();
        let accuracy = Accuracy { kerf: inch("1/64"), ..accuracy };
        let far = Crosscut { side: StripSide::FarSide, ..cut };
        let (near, far) = (Spread::of(&cut, &accuracy, 14, inch("1")), Spread::of(&far, &accuracy, 14, inch("1")));
        assert!(near.sigma > far.sigma);
    }
}
