//! The wood along one edge of a strip, kept so that two edges are compared many samples at a time.
//!
//! Knows samples and measures; nothing of strips, turns or panels.

use super::edges::Sample;
use super::measures::Measure;

/// One edge's samples, each property by itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Line {
    /// The three primaries, one sample's after another's.
    colours: Vec<u8>,
    /// [`Sample::luma`].
    luma: Vec<i32>,
    heartwood: Vec<i16>,
    angle: Vec<i32>,
    /// Less than 0: single rings aren't promised.
    phase: Vec<i16>,
}

impl Line {
    /// Of these samples, in order.
    #[allow(clippy::cast_possible_truncation)]
    pub(super) fn new<'a>(samples: impl Iterator<Item = &'a Sample> + Clone) -> Self {
        Self {
            colours: samples.clone().flat_map(|s| s.colour).collect(),
            luma: samples.clone().map(Sample::luma).collect(),
            heartwood: samples.clone().map(|s| s.heartwood as i16).collect(),
            angle: samples.clone().map(|s| s.angle).collect(),
            phase: samples.map(|s| s.phase.map_or(-1, |phase| phase as i16)).collect(),
        }
    }

    /// Its samples again.
    #[cfg(test)]
    pub(super) fn samples(&self) -> Vec<Sample> {
        let sample = |(i, colour): (usize, &[u8])| Sample {
            colour: std::array::from_fn(|n| colour[n]),
            heartwood: i32::from(self.heartwood[i]),
            angle: self.angle[i],
            phase: (self.phase[i] >= 0).then(|| i32::from(self.phase[i])),
        };
        self.colours.chunks(3).enumerate().map(sample).collect()
    }

    /// The sum of [`Measure::difference`] over the samples at the same place of both.
    pub(super) fn differs(&self, other: &Self, measure: Measure) -> u64 {
        match measure {
            Measure::Colour => sum(&self.colours, &other.colours, |a, b| u32::from(a.abs_diff(b))),
            Measure::Heartwood => sum(&self.heartwood, &other.heartwood, |a, b| u32::from(a.abs_diff(b))),
            Measure::RingAngle => sum(&self.angle, &other.angle, i32::abs_diff),
            Measure::RingPhase => sum(&self.phase, &other.phase, |a, b| {
                let apart = u32::from(a.abs_diff(b));
                if a < 0 || b < 0 { Measure::UNKNOWN_PHASE } else { apart.min(1000 - apart) }
            }),
            Measure::Sameness => sum(&self.luma, &other.luma, |a, b| Measure::MOST_LUMA - a.abs_diff(b)),
        }
    }
}

/// The sum over all pairs: in stretches that a 32-bit number holds.
fn sum<T: Copy>(a: &[T], b: &[T], apart: impl Fn(T, T) -> u32) -> u64 {
    /// So many of the largest difference ([`Measure::MOST_LUMA`]) stay below 2³².
    const STRETCH: usize = 1024;
    let stretch = |(a, b): (&[T], &[T])| u64::from(a.iter().zip(b).map(|(a, b)| apart(*a, *b)).sum::<u32>());
    a.chunks(STRETCH).zip(b.chunks(STRETCH)).map(stretch).sum()
}

#[cfg(test)]
mod tests {
    use super::super::edges::Sample;
    use super::super::measures::Measure;
    use super::Line;
    use proptest::prelude::*;

    fn samples() -> impl Strategy<Value = Vec<Sample>> {
        let one = (any::<[u8; 3]>(), -Sample::REACH..=Sample::REACH, 0..=90_000, proptest::option::of(0..1000));
        let one = one.prop_map(|(colour, heartwood, angle, phase)| Sample { colour, heartwood, angle, phase });
        proptest::collection::vec(one, 3000)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn lines_differ_by_what_their_samples_do((a, b) in (samples(), samples())) {
            for measure in Measure::ALL {
                let each: u64 = a.iter().zip(&b).map(|(a, b)| measure.difference(a, b)).sum();
                prop_assert_eq!(Line::new(a.iter()).differs(&Line::new(b.iter()), measure), each);
                let back: u64 = a.iter().zip(b.iter().rev()).map(|(a, b)| measure.difference(a, b)).sum();
                prop_assert_eq!(Line::new(a.iter()).differs(&Line::new(b.iter().rev()), measure), back);
            }
        }
    }
}
