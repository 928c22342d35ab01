//! One blank, and the ways it can lie in a panel.

use super::Rip;
use crate::measure::Length;
use crate::picture::Picture;
use crate::wood::Figure;
use nalgebra::Point3;

/// Width, thickness and length along the grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Across the width, u.
    pub width: Length,
    /// Through the thickness, v.
    pub thickness: Length,
    /// Along the grain, w.
    pub length: Length,
}

/// A blank as milled: what goes into the glue-up.
#[derive(Clone, Debug)]
pub struct Blank {
    /// The letter on its end: `A`; the second of two alike is `A2`.
    pub letter: String,
    /// Milled size.
    pub size: Size,
    /// Its size before milling, where it was given rough: it is still to be jointed and planed in
    /// this shop.
    pub rough: Option<Size>,
    /// What the wood shows, in the blank's own (u, v, w) as milled.
    pub figure: Figure,
    /// How much of that was seen, not guessed.
    pub seen: Seen,
    /// The line that it is to be ripped to, if it is.
    pub rip: Option<Rip>,
    /// Moisture content as measured, %.
    pub moisture: Option<f64>,
}

/// Which ends of a blank the maker described.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Both: the figure between them follows from them.
    BothEnds,
    /// One: the figure is taken to run straight, which is a guess.
    OneEnd,
    /// Neither: the whole figure is a guess.
    Nothing,
}

/// A half turn, of a blank about its own axes or of a strip about its centre: with rest, the
/// Klein four-group. No mirror image is among them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HalfTurn {
    /// As it was.
    #[default]
    Rest,
    /// About its long axis.
    RolledOver,
    /// Its ends change places, the same face stays up.
    EndForEnd,
    /// Its ends change places and its faces too.
    EndOverEnd,
}

impl HalfTurn {
    /// In words, of a blank.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Rest => "as laid",
            Self::RolledOver => "rolled over",
            Self::EndForEnd => "end for end",
            Self::EndOverEnd => "end over end",
        }
    }

    /// This one followed by another.
    ///
    /// ```
    /// use quarterturn_geometry::stock::HalfTurn;
    /// assert_eq!(HalfTurn::RolledOver.then(HalfTurn::EndForEnd), HalfTurn::EndOverEnd);
    /// ```
    #[must_use]
    pub const fn then(self, other: Self) -> Self {
        match (self, other) {
            (Self::Rest, any) | (any, Self::Rest) => any,
            (Self::RolledOver, Self::RolledOver)
            | (Self::EndForEnd, Self::EndForEnd)
            | (Self::EndOverEnd, Self::EndOverEnd) => Self::Rest,
            // Any two of the three make the third.
            (Self::RolledOver, Self::EndForEnd) | (Self::EndForEnd, Self::RolledOver) => Self::EndOverEnd,
            (Self::RolledOver, Self::EndOverEnd) | (Self::EndOverEnd, Self::RolledOver) => Self::EndForEnd,
            (Self::EndForEnd, Self::EndOverEnd) | (Self::EndOverEnd, Self::EndForEnd) => Self::RolledOver,
        }
    }
}

/// How a blank lies in its panel: a quarter roll first (where its section is square), then a half turn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct BlankTurn {
    /// Rolled a quarter about its length, anti-clockwise seen from the far end.
    pub quarter_roll: bool,
    /// The half turn after that.
    pub half: HalfTurn,
}

impl BlankTurn {
    /// Width and thickness as it lies.
    #[must_use]
    pub const fn lying(&self, size: Size) -> Size {
        if self.quarter_roll {
            Size { width: size.thickness, thickness: size.width, length: size.length }
        } else {
            size
        }
    }

    /// From a point of the blank as it lies to the same wood in the blank's own (u, v, w).
    ///
    /// Half turns: rolled over u → U − u, v → V − v; end for end u → U − u, w → L − w; end over
    /// end v → V − v, w → L − w. Each is its own inverse. A quarter roll takes the lying (u, v) to
    /// (v, V − u) with V the blank's own thickness.
    ///
    /// ```
    /// use nalgebra::Point3;
    /// use quarterturn_geometry::measure::Length;
    /// use quarterturn_geometry::stock::{BlankTurn, HalfTurn, Size};
    /// let mm = |n: i64| Length::from_micrometres(n * 1000);
    /// let size = Size { width: mm(60), thickness: mm(30), length: mm(400) };
    /// let turn = BlankTurn { quarter_roll: false, half: HalfTurn::RolledOver };
    /// assert_eq!(turn.own(size, Point3::new(10.0, 5.0, 7.0)), Point3::new(50.0, 25.0, 7.0));
    /// ```
    #[must_use]
    pub fn own(&self, size: Size, lying: Point3<f64>) -> Point3<f64> {
        let as_it_lies = self.lying(size);
        let (wide, thick, long) = (as_it_lies.width.mm(), as_it_lies.thickness.mm(), as_it_lies.length.mm());
        let p = match self.half {
            HalfTurn::Rest => lying,
            HalfTurn::RolledOver => Point3::new(wide - lying.x, thick - lying.y, lying.z),
            HalfTurn::EndForEnd => Point3::new(wide - lying.x, lying.y, long - lying.z),
            HalfTurn::EndOverEnd => Point3::new(lying.x, thick - lying.y, long - lying.z),
        };
        if self.quarter_roll { Point3::new(p.y, size.thickness.mm() - p.x, p.z) } else { p }
    }
}

/// One blank in its place in the panel.
#[derive(Clone, Debug)]
pub struct LaidBlank {
    /// The blank.
    pub blank: Blank,
    /// How it lies.
    pub turn: BlankTurn,
    /// Where its near end lies along the panel: blanks slip, or are set back.
    pub start: Length,
}

impl LaidBlank {
    /// Width and thickness as it lies.
    #[must_use]
    pub const fn lying(&self) -> Size {
        self.turn.lying(self.blank.size)
    }

    /// The wood of its end at the panel's near or far end, as seen standing there: up is the panel's upper face; the
    /// panel's X runs to the left at the near end and to the right at the far one. Pixels are so wide, mm; `None` where
    /// they have no size or are too many.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub fn end_picture(&self, far: bool, pixel: f64) -> Option<Picture> {
        /// The most pixels along a side.
        const MOST: f64 = 4000.0;
        let lying = self.lying();
        let [wide, thick] = [lying.width.mm(), lying.thickness.mm()];
        let [width, height] = [wide, thick].map(|side| (side / pixel).round().max(1.0));
        if !(pixel > 0.0 && width <= MOST && height <= MOST) {
            return None;
        }
        let (width, height) = (width as usize, height as usize);
        let z = if far { lying.length.mm() } else { 0.0 };
        let mut bytes = Vec::with_capacity(3 * width * height);
        for row in 0..height {
            let v = thick * (1.0 - (row as f64 + 0.5) / height as f64);
            for column in 0..width {
                let across = wide * (column as f64 + 0.5) / width as f64;
                let u = if far { across } else { wide - across };
                let own = self.turn.own(self.blank.size, Point3::new(u, v, z));
                bytes.extend(self.blank.figure.colour(&own, pixel).to_srgb8());
            }
        }
        Some(Picture { width, height, bytes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_half_turn_after_another_is_where_the_wood_comes_to_lie() {
        let mm = |n: i64| Length::from_micrometres(n * 1000);
        let size = Size { width: mm(60), thickness: mm(30), length: mm(400) };
        let all = [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd];
        let own = |half, at| BlankTurn { quarter_roll: false, half }.own(size, at);
        let at = Point3::new(11.0, 7.0, 90.0);
        for first in all {
            for second in all {
                assert_eq!(own(first.then(second), at), own(first, own(second, at)), "{first:?} {second:?}");
            }
        }
    }

    #[test]
    fn four_quarter_rolls_would_be_rest_and_none_is_a_mirror() {
        let side = Length::from_micrometres(40_000);
        let size = Size { width: side, thickness: side, length: Length::from_micrometres(300_000) };
        for half in [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd] {
            for quarter_roll in [false, true] {
                let turn = BlankTurn { quarter_roll, half };
                let at = |x, y, z| turn.own(size, Point3::new(x, y, z));
                let origin = at(3.0, 4.0, 5.0);
                let (x, y, z) = (at(4.0, 4.0, 5.0) - origin, at(3.0, 5.0, 5.0) - origin, at(3.0, 4.0, 6.0) - origin);
                assert!((x.cross(&y).dot(&z) - 1.0).abs() < 1e-12, "{turn:?} is not a proper rotation");
            }
        }
        let roll = BlankTurn { quarter_roll: true, half: HalfTurn::Rest };
        let start = Point3::new(1.0, 2.0, 3.0);
        let round = (0..4).fold(start, |p, _| roll.own(size, p));
        assert!((round - start).norm() < 1e-12);
    }
}
