//! Which of the lay-ups shown are tied with the leader, since the wood may also be a little otherwise.
//!
//! What is seen of a blank is uncertain by some millimetres. Every lay-up shown is measured again in many draws of that
//! ([`Draw`]); those that the leader of a measure beats in fewer than four fifths of them are tied with it ([`tied`]).
//! Knows the measures and the search's draws; not how lay-ups were found or chosen.

use super::bench::Bench;
use super::shown::value;
use super::slides::LaidUp;
use super::wishes::{Measured, Wishes};
use crate::search::whole::CutFaces;
use crate::search::{Draw, Edges, EdgesError, Weights, in_parts, tied};

/// In how many draws each lay-up is measured again (our own choice: a share of four fifths is then known to some
/// 13 of 100, twice √(0.8 · 0.2/40)).
pub const DRAWS: u64 = 40;

/// Between two samples in a draw, mm: all lay-ups are measured alike, and only which is better counts.
const SPACING: f64 = 5.0;
/// Into how many of them the board's width is divided at most.
const SAMPLES: f64 = 100.0;

/// What each draw gives every lay-up: by measure ([`Measured::ALL`]), then by lay-up, smaller is better.
type OfDraw = [Vec<u64>; Measured::ALL.len()];

/// Every lay-up shown, in every draw that there was time for.
#[derive(Clone, Debug, Default)]
pub(super) struct Drawn {
    draws: Vec<OfDraw>,
}

impl Drawn {
    /// Measures the lay-ups in [`DRAWS`] draws, by so many workers. `keep_going` is asked between them; once it says
    /// no, the draws so far count.
    pub(super) fn of(
        bench: &Bench,
        wishes: &Wishes,
        lay_ups: &[&LaidUp],
        workers: usize,
        keep_going: &mut dyn FnMut(&str) -> bool,
    ) -> Self {
        let seeds: Vec<u64> = (0..DRAWS).collect();
        let mut draws = Vec::new();
        for some in seeds.chunks(workers.clamp(1, 8)) {
            if !keep_going("trying the ranks where the wood is a little otherwise") {
                break;
            }
            let measured = in_parts(some, workers, |seed| one(bench, wishes, lay_ups, *seed));
            draws.extend(measured.into_iter().flatten());
        }
        Self { draws }
    }

    /// How many draws there were.
    pub(super) const fn many(&self) -> u64 {
        self.draws.len() as u64
    }

    /// Which of the lay-ups are tied with the `leader` by the `measure`-th of [`Measured::ALL`]; none where there was
    /// no draw.
    pub(super) fn tied(&self, measure: usize, leader: usize) -> Vec<bool> {
        // As `tied` has it: the leader first, then all.
        let led =
            |draw: &OfDraw| std::iter::once(leader).chain(0..draw[measure].len()).map(|i| draw[measure][i]).collect();
        let costs: Vec<Vec<u64>> = self.draws.iter().map(led).collect();
        tied(&costs).split_off(usize::from(!costs.is_empty()))
    }
}

/// One draw; as any other it can be sampled where the wood as seen could.
fn one(bench: &Bench, wishes: &Wishes, lay_ups: &[&LaidUp], seed: u64) -> Result<OfDraw, EdgesError> {
    let draw = Draw::new(seed);
    let width = bench.panels.first().map_or(0.0, |p| p.0.width().mm());
    let spacing = SPACING.max(width / SAMPLES);
    let mut all: OfDraw = std::array::from_fn(|_| vec![u64::MAX; lay_ups.len()]);
    for set in 0..bench.slides.len() {
        let of_set: Vec<usize> = (0..lay_ups.len()).filter(|i| lay_ups[*i].set == set).collect();
        if of_set.is_empty() {
            continue;
        }
        let stock = bench.stock(set);
        let edges = Edges::drawn(&stock, wishes.faces, spacing, &draw)?;
        let cut = CutFaces::drawn(&stock, wishes.faces, spacing, &draw)?;
        for i in of_set {
            let laid = &lay_ups[i].laid;
            let sums = [wishes.runs_on, Weights::CONTRAST].map(|w| per_line(w.lay_up(&edges, laid), laid.len()));
            let Some(looks) = cut.looks(laid) else { continue };
            for (of, measure) in all.iter_mut().zip(Measured::ALL) {
                of[i] = value(measure, sums, &looks).unwrap_or(u64::MAX);
            }
        }
    }
    Ok(all)
}

/// A sum over glue lines, in thousandths for each line.
pub(super) fn per_line(sum: u64, strips: usize) -> u64 {
    sum * 1000 / strips.saturating_sub(1).max(1) as u64
}
