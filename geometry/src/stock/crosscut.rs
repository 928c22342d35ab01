//! Strip arithmetic: how many strips come out of a panel, how wide, and which cuts are safe.
//!
//! Exact: every sum here is of lengths as typed. Source of the formulas: the definition of the cut
//! (N strips need N widths and the kerfs between them); worked figures are in the tests.

use crate::measure::Length;

/// How the last strip leaves what remains of the panel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LastStrip {
    /// It is what is left after the last kerf: square and sound, no cut.
    Left,
    /// A last cut frees it; the blade may run partly off the end.
    #[default]
    Freed,
    /// A last cut frees it and must be a full kerf in wood.
    FullCut,
}

/// Which side of the blade the strip lies on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum StripSide {
    /// Between stop and blade: the stop is set to the strip's width.
    #[default]
    StopSide,
    /// It falls off the far side: the stop is set to strip plus kerf.
    FarSide,
}

/// One panel on the saw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crosscut {
    /// L: the panel's sound length.
    pub length: Length,
    /// q: all that is lost before the first strip.
    pub lost_first: Length,
    /// e: what must come off the far end.
    pub far_loss: Length,
    /// b: the kerf.
    pub kerf: Length,
    /// How the last strip is freed.
    pub last: LastStrip,
    /// Which side of the blade the strips lie on.
    pub side: StripSide,
    /// The least piece that may still be cut, strip included.
    pub least_piece: Length,
    /// A waste block glued or clamped to the far end, so that more can be held.
    pub waste_block: Length,
}

/// One row of the table of counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CountRow {
    /// Strips.
    pub count: i64,
    /// The widest strips that so many allow, to a tick.
    pub widest: Length,
    /// What remains at the far end with the planned width; negative where they don't fit.
    pub remains: Length,
    /// How many of the cuts that the widest such strips need are safe.
    pub safe: i64,
}

impl Crosscut {
    /// q_far: 0 where the last piece is simply left, e where a cut frees it, at least a kerf where
    /// that cut must be a full one.
    #[must_use]
    pub fn lost_last(&self) -> Length {
        match self.last {
            LastStrip::Left => Length::ZERO,
            LastStrip::Freed => self.far_loss,
            LastStrip::FullCut => self.far_loss.max(self.kerf),
        }
    }

    /// What `count` strips of `width` use of the panel: q + N·s + (N − 1)·b + q_far.
    #[must_use]
    pub fn used(&self, count: i64, width: Length) -> Length {
        self.lost_first + width * count + self.kerf * (count - 1).max(0) + self.lost_last()
    }

    /// What remains beside them; negative where they don't fit.
    #[must_use]
    pub fn slack(&self, count: i64, width: Length) -> Length {
        self.length - self.used(count, width)
    }

    /// The greatest count of strips of this width: ⌊(L − q − q_far + b) / (s + b)⌋.
    ///
    /// ```
    /// use quarterturn_geometry::measure::{Length, Unit};
    /// use quarterturn_geometry::stock::{Crosscut, LastStrip, StripSide};
    /// let inch = |s| Length::parse(s, Unit::Inch).unwrap();
    /// let cut = Crosscut {
    ///     length: inch("16"), lost_first: inch("1/4"), far_loss: inch("0"), kerf: inch("3/32"),
    ///     last: LastStrip::Left, side: StripSide::StopSide, least_piece: inch("6"), waste_block: inch("0"),
    /// };
    /// assert_eq!(cut.count(inch("1")), 14);
    /// assert_eq!(cut.slack(14, inch("1")), inch("17/32"));
    /// assert_eq!(cut.safe_cuts(inch("1")), 9);
    /// ```
    #[must_use]
    pub fn count(&self, width: Length) -> i64 {
        if !width.is_positive() {
            return 0;
        }
        let room = self.length - self.lost_first - self.lost_last();
        if room < width { 0 } else { (room + self.kerf).whole_parts(width + self.kerf) }
    }

    /// The widest strips that `count` of them allow, to a tick; not positive where there is no room.
    #[must_use]
    pub fn widest(&self, count: i64) -> Length {
        let room = self.length - self.lost_first - self.lost_last() - self.kerf * (count - 1).max(0);
        room.divided_by(count.max(1))
    }

    /// z_k: where strip `k` (from 0) begins.
    #[must_use]
    pub fn station(&self, k: i64, width: Length) -> Length {
        self.lost_first + (width + self.kerf) * k
    }

    /// What is held in the hand when cut `k` (from 0) begins, strip `k` and waste block included.
    #[must_use]
    pub fn held(&self, k: i64, width: Length) -> Length {
        self.length + self.waste_block - self.station(k, width)
    }

    /// How many cuts may be made before the piece is too short to hold:
    /// ⌊(L + waste block − q − least) / (s + b)⌋ + 1.
    #[must_use]
    pub fn safe_cuts(&self, width: Length) -> i64 {
        let spare = self.length + self.waste_block - self.lost_first - self.least_piece;
        if spare.is_negative() { 0 } else { spare.whole_parts(width + self.kerf) + 1 }
    }

    /// How many cuts it takes to have `count` strips: a last piece that is simply left needs none.
    #[must_use]
    pub const fn cuts_for(&self, count: i64) -> i64 {
        match self.last {
            LastStrip::Left => count - 1,
            LastStrip::Freed | LastStrip::FullCut => count,
        }
    }

    /// How many strips the safe cuts give.
    #[must_use]
    pub fn safe_count(&self, width: Length) -> i64 {
        let cuts = self.safe_cuts(width);
        let fits = self.count(width);
        if cuts >= self.cuts_for(fits) { fits } else { cuts.min(fits) }
    }

    /// The stop's distance for strips of this width.
    #[must_use]
    pub fn stop_for(&self, width: Length) -> Length {
        match self.side {
            StripSide::StopSide => width,
            StripSide::FarSide => width + self.kerf,
        }
    }

    /// How long a waste block `count` strips need so that every cut is safe; zero where none is needed.
    #[must_use]
    pub fn waste_block_for(&self, count: i64, width: Length) -> Length {
        let last_cut = (self.cuts_for(count) - 1).max(0);
        let bare = Self { waste_block: Length::ZERO, ..*self };
        (self.least_piece - bare.held(last_cut, width)).max(Length::ZERO)
    }

    /// The table of counts, from `from` to `to`.
    #[must_use]
    pub fn table(&self, from: i64, to: i64, width: Length) -> Vec<CountRow> {
        (from.max(1)..=to.min(from.max(1) + 200))
            .map(|count| CountRow {
                count,
                widest: self.widest(count),
                remains: self.slack(count, width),
                safe: self.safe_cuts(self.widest(count).max(Length::ZERO)).min(self.cuts_for(count)),
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;
    use proptest::prelude::*;

    fn inch(s: &str) -> Length {
        Length::parse(s, Unit::Inch).unwrap()
    }

    fn cut(length: &str, last: LastStrip) -> Crosscut {
        Crosscut {
            length: inch(length),
            lost_first: inch("1/4"),
            far_loss: inch("1/16"),
            kerf: inch("3/32"),
            last,
            side: StripSide::StopSide,
            least_piece: inch("6"),
            waste_block: Length::ZERO,
        }
    }

    /// Common practice, no source: with the stop a little over 1 in, 13 strips and a piece too
    /// short come out where 14 were planned.
    #[test]
    fn a_stop_a_little_over_one_inch_loses_the_fourteenth_strip() {
        let panel = cut("15 1/2", LastStrip::Left);
        assert_eq!(panel.count(inch("1")), 14);
        assert_eq!(panel.slack(14, inch("1")), inch("1/32"));
        assert_eq!(panel.count(inch("1 1/64")), 13);
        // What is left after 13 strips and their kerfs is under a strip.
        let left = panel.length - panel.station(13, inch("1 1/64"));
        assert!(left < inch("1 1/64") && left > inch("3/4"), "{left:?}");
    }

    #[test]
    fn the_three_ways_to_free_the_last_strip() {
        assert_eq!(cut("16", LastStrip::Left).lost_last(), Length::ZERO);
        assert_eq!(cut("16", LastStrip::Freed).lost_last(), inch("1/16"));
        assert_eq!(cut("16", LastStrip::FullCut).lost_last(), inch("3/32"));
    }

    #[test]
    fn a_waste_block_wins_the_cuts_that_were_unsafe() {
        let panel = Crosscut { far_loss: Length::ZERO, ..cut("16", LastStrip::Left) };
        assert_eq!(panel.safe_cuts(inch("1")), 9);
        let block = panel.waste_block_for(14, inch("1"));
        let with = Crosscut { waste_block: block, ..panel };
        assert_eq!(with.safe_cuts(inch("1")), 13);
        assert_eq!(with.safe_count(inch("1")), 14);
    }

    proptest! {
        #[test]
        fn the_cut_length_never_exceeds_the_panel(
            length in 1i64..4000, width in 1i64..200, kerf in 0i64..5, q in 0i64..30, e in 0i64..30, last in 0usize..3,
        ) {
            let mm = |n: i64| Length::from_micrometres(n * 1000);
            let panel = Crosscut {
                length: mm(length), lost_first: mm(q), far_loss: mm(e), kerf: mm(kerf),
                last: [LastStrip::Left, LastStrip::Freed, LastStrip::FullCut][last],
                side: StripSide::FarSide, least_piece: mm(150), waste_block: Length::ZERO,
            };
            let n = panel.count(mm(width));
            if n > 0 {
                prop_assert!(!panel.slack(n, mm(width)).is_negative());
                prop_assert!(panel.widest(n) >= mm(width));
            }
            prop_assert!(panel.slack(n + 1, mm(width)).is_negative());
        }
    }
}
