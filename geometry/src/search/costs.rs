//! The table of glue-line costs: every ordered pair of strips, each turned four ways.

use crate::layup::Turn;
use std::borrow::Cow;
use thiserror::Error;

/// One strip in a lay-up that is searched for: which, and how turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Laid {
    /// The strip's number in the table of costs, from 0.
    pub strip: usize,
    /// Its turn's place in [`Turn::ALL`]: what one half turn after another gives is the exclusive or of the two.
    turn: u8,
}

impl Laid {
    /// A strip turned so.
    #[must_use]
    pub const fn new(strip: usize, turn: Turn) -> Self {
        Self { strip, turn: turn as u8 }
    }

    /// How it is turned.
    #[must_use]
    pub const fn turn(self) -> Turn {
        Turn::ALL[(self.turn & 3) as usize]
    }

    /// The same strip after another half turn.
    #[must_use]
    pub const fn then(self, other: Turn) -> Self {
        Self { strip: self.strip, turn: self.turn ^ other as u8 }
    }

    pub(super) const fn of(strip: usize, turn: usize) -> Self {
        Self { strip, turn: (turn & 3) as u8 }
    }

    pub(super) const fn index(self) -> usize {
        self.strip * 4 + self.turn as usize
    }
}

/// A lay-up that was found, from the left, and the sum of its glue lines' costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Its strips, from the left.
    pub laid: Vec<Laid>,
    /// The sum over its glue lines.
    pub cost: u64,
}

/// What one glue line costs for each turn of the left and (second index) of the right strip, in the order of
/// [`Turn::ALL`].
pub type Joint = [[u32; 4]; 4];

/// Why there is no table.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum CostsError {
    /// More strips than a table may hold.
    #[error("{0} strips are more than the {most} that a table of costs holds", most = Costs::MOST_STRIPS)]
    TooMany(usize),
    /// A cost too large to be summed safely.
    #[error("a glue line's cost of {0} is over {most}", most = Costs::MOST)]
    TooLarge(u32),
}

/// What every glue line would cost: whole numbers, so that equal is equal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Costs {
    strips: usize,
    of: Vec<u32>,
}

impl Costs {
    /// The largest cost of one glue line: sixteen of them stay below 2³⁰.
    pub const MOST: u32 = 60_000_000;
    /// The most strips of one table (64 MB).
    pub const MOST_STRIPS: usize = 1000;

    /// A table from what a pair costs, left strip first.
    ///
    /// # Errors
    /// [`CostsError`] where there are too many strips, or a cost is too large.
    pub fn from_fn(strips: usize, mut cost: impl FnMut(Laid, Laid) -> u32) -> Result<Self, CostsError> {
        if strips > Self::MOST_STRIPS {
            return Err(CostsError::TooMany(strips));
        }
        let all = || (0..strips * 4).map(|i| Laid::of(i / 4, i % 4));
        let mut of = Vec::with_capacity(16 * strips * strips);
        for left in all() {
            of.extend(all().map(|right| if left.strip == right.strip { 0 } else { cost(left, right) }));
        }
        match of.iter().find(|c| **c > Self::MOST) {
            Some(cost) => Err(CostsError::TooLarge(*cost)),
            None => Ok(Self { strips, of }),
        }
    }

    /// The table of some of its strips, in this order.
    pub(super) fn of_some(&self, strips: &[usize]) -> Cow<'_, Self> {
        if strips.iter().copied().eq(0..self.strips) {
            return Cow::Borrowed(self);
        }
        let all = || strips.iter().flat_map(|s| (0..4).map(|turn| Laid::of(*s, turn)));
        let of = all().flat_map(|left| all().map(move |right| self.between(left, right))).collect();
        Cow::Owned(Self { strips: strips.len(), of })
    }

    /// How many strips there are.
    #[must_use]
    pub const fn strips(&self) -> usize {
        self.strips
    }

    /// The glue line with `left` left and `right` right of it. A strip beside itself costs nothing and never lies so.
    #[must_use]
    pub fn between(&self, left: Laid, right: Laid) -> u32 {
        self.of.get(left.index() * self.strips * 4 + right.index()).copied().unwrap_or(0)
    }

    /// What a lay-up costs: the sum over its glue lines.
    #[must_use]
    pub fn total(&self, laid: &[Laid]) -> u64 {
        laid.windows(2).map(|pair| u64::from(self.between(pair[0], pair[1]))).sum()
    }

    /// The glue lines of strips in this order.
    #[must_use]
    pub fn joints(&self, order: &[usize]) -> Vec<Joint> {
        let joint = |left: usize, right: usize| {
            std::array::from_fn(|a| std::array::from_fn(|b| self.between(Laid::of(left, a), Laid::of(right, b))))
        };
        order.windows(2).map(|pair| joint(pair[0], pair[1])).collect()
    }
}
