//! How well two edges meet at a glue line: each measure a whole number of millionths of its range.

use super::costs::{Costs, CostsError, Joint, Laid};
use super::edges::{Edges, Sample, in_parts};
use crate::layup::Turn;

/// What is measured along a glue line; the mean over all samples, of all faces that count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Colour difference along the line: the mean of |Δ| over the three sRGB primaries at the same place on both
    /// sides. 0: the same colour all along; 1: black against white.
    Colour,
    /// How far apart the heartwood line passes on both sides: the difference of the two distances to it, each held
    /// within ± 5 mm. 0: it runs on, or is nowhere near; 1: 10 mm apart all along.
    Heartwood,
    /// Difference of the angles, 0 to 90°, between ring and glue line. Rings that meet in a point like a mirror image
    /// run on as well as those that run straight across. 0: alike all along; 1: 90°.
    RingAngle,
    /// Difference of ring phase, the shorter way round. 0: latewood meets latewood; 1: half a ring. Where either side's
    /// single rings are uncertain by over a quarter of a ring it is a quarter of a ring, which is what chance gives:
    /// nothing is gained or lost by wood that isn't known so finely.
    RingPhase,
    /// Lack of contrast, for chequers: 1 less the mean |Δ| of lightness (luma of the sRGB bytes, ITU-R BT.709
    /// weights). 0: black against white all along; 1: equally light.
    Sameness,
}

impl Measure {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Colour, Self::Heartwood, Self::RingAngle, Self::RingPhase, Self::Sameness];
    /// What it is called where it is weighed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Colour => "colour",
            Self::Heartwood => "heartwood line",
            Self::RingAngle => "ring direction",
            Self::RingPhase => "single rings",
            Self::Sameness => "contrast",
        }
    }

    /// The range of each, in millionths.
    pub const RANGE: u32 = 1_000_000;

    /// The largest difference at one sample.
    const fn range(self) -> u64 {
        match self {
            Self::Colour => 3 * 255,
            Self::Heartwood => 2 * Sample::REACH as u64,
            Self::RingAngle => 90_000,
            Self::RingPhase => 500,
            Self::Sameness => Self::MOST_LUMA as u64,
        }
    }

    /// White's luma, and so the most that two differ by.
    pub(super) const MOST_LUMA: u32 = 255 * 10_000;
    /// What counts where either side's single rings aren't promised.
    pub(super) const UNKNOWN_PHASE: u32 = 250;

    /// The difference of two samples.
    pub(super) fn difference(self, a: &Sample, b: &Sample) -> u64 {
        let apart = |a: i32, b: i32| u64::from(a.abs_diff(b));
        match self {
            Self::Colour => a.colour.iter().zip(b.colour).map(|(a, b)| u64::from(a.abs_diff(b))).sum(),
            Self::Heartwood => apart(a.heartwood, b.heartwood),
            Self::RingAngle => apart(a.angle, b.angle),
            Self::RingPhase => match (a.phase, b.phase) {
                (Some(a), Some(b)) => apart(a, b).min(1000 - apart(a, b)),
                _ => u64::from(Self::UNKNOWN_PHASE),
            },
            Self::Sameness => self.range() - apart(a.luma(), b.luma()),
        }
    }

    /// The same in millionths of the range.
    pub(super) fn in_millionths(self, a: &Sample, b: &Sample) -> u64 {
        (self.difference(a, b) * u64::from(Self::RANGE) + self.range() / 2) / self.range()
    }

    /// The measure at the glue line between two strips, in millionths.
    #[must_use]
    #[allow(clippy::cast_possible_truncation)]
    pub fn at(self, edges: &Edges, left: Laid, right: Laid) -> u32 {
        let reversed = left.turn().first_blank_in_front() != right.turn().first_blank_in_front();
        let mut sum = 0;
        for face in 0..edges.faces() {
            let a = edges.line(left.strip, left.turn(), true, face, false);
            let b = edges.line(right.strip, right.turn(), false, face, reversed);
            sum += a.differs(b, self);
        }
        let whole = self.range() * (edges.samples() * edges.faces()) as u64;
        ((sum * u64::from(Self::RANGE) + whole / 2) / whole) as u32
    }
}

/// How much each measure weighs, in the order of [`Measure::ALL`]. A glue line costs the weighted sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Weights(pub [u8; 5]);

impl Weights {
    /// The figure runs on: colour first, which shows the heartwood line too, then that line by itself, then the
    /// direction of the rings and, where they are known so finely, single rings (our own choice).
    pub const RUNS_ON: Self = Self([10, 4, 1, 1, 0]);
    /// As much contrast as possible, for chequers.
    pub const CONTRAST: Self = Self([0, 0, 0, 0, 1]);

    /// The most that one may weigh: all of them together stay below [`Costs::MOST`].
    pub const MOST: u8 = 12;

    /// What weighs something, in words: `colour 10, heartwood line 4`.
    #[must_use]
    pub fn in_words(self) -> String {
        let weighed = Measure::ALL.into_iter().zip(self.0).filter(|(_, weight)| *weight > 0);
        weighed.map(|(measure, weight)| format!("{} {weight}", measure.name())).collect::<Vec<_>>().join(", ")
    }

    /// What the glue line between two strips costs.
    #[must_use]
    pub fn cost(self, edges: &Edges, left: Laid, right: Laid) -> u32 {
        let weighed = Measure::ALL.into_iter().zip(self.0).filter(|(_, weight)| *weight > 0);
        weighed.map(|(measure, weight)| u32::from(weight) * measure.at(edges, left, right)).sum()
    }

    /// One glue line, strip `left` left and `right` right of it, for all sixteen pairs of turns.
    #[must_use]
    pub fn joint(self, edges: &Edges, left: usize, right: usize) -> Joint {
        Turn::ALL.map(|a| Turn::ALL.map(|b| self.cost(edges, Laid::new(left, a), Laid::new(right, b))))
    }

    /// Every ordered pair of strips. Where all are slid alike, what a pair costs is worked out once for it and for what it
    /// is after turning the board half round: turning both strips end for end and swapping them is the same glue line.
    /// Where they are slid unlike it isn't, because each slide would change its sign.
    ///
    /// # Errors
    /// [`CostsError`] where there are too many strips, or the weights make a cost too large.
    pub fn costs(self, edges: &Edges) -> Result<Costs, CostsError> {
        self.costs_by(edges, 1)
    }

    /// The same by so many workers.
    ///
    /// # Errors
    /// As [`Weights::costs`].
    pub fn costs_by(self, edges: &Edges, workers: usize) -> Result<Costs, CostsError> {
        let strips = edges.strips();
        if strips > Costs::MOST_STRIPS {
            return Err(CostsError::TooMany(strips));
        }
        let slid = edges.are_slid();
        let rights = |l: usize| (0..strips).filter(move |r| *r > l || (slid && *r < l));
        let pairs: Vec<(usize, usize)> = (0..strips).flat_map(|l| rights(l).map(move |r| (l, r))).collect();
        let joints: Vec<Joint> = in_parts(&pairs, workers, |(l, r)| self.joint(edges, *l, *r));
        let joint = |l: usize, r: usize| match slid {
            true => &joints[l * (strips - 1) + r - usize::from(r > l)],
            false => &joints[l * (2 * strips - l - 1) / 2 + r - l - 1],
        };
        Costs::from_fn(strips, |left, right| {
            if slid || left.strip < right.strip {
                joint(left.strip, right.strip)[left.turn() as usize][right.turn() as usize]
            } else {
                let round = |l: Laid| l.then(Turn::EndForEnd).turn() as usize;
                joint(right.strip, left.strip)[round(right)][round(left)]
            }
        })
    }
}
