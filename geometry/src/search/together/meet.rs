//! What it costs where stretches of two blanks meet, at every glue line and in all turns of both strips.

use super::super::measures::{Measure, Weights};
use super::cells::Cells;
use crate::layup::Turn;
use std::collections::HashMap;
use std::rc::Rc;

/// For each glue line, the sixteen pairs of turns.
pub(super) type Table = Vec<[u64; 16]>;

/// A stretch of cells of one blank, from one of them on or back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Stretch {
    pub(super) panel: usize,
    pub(super) blank: usize,
    pub(super) turn: u8,
    /// The first cell.
    pub(super) from: usize,
    /// Whether the next ones have lower numbers.
    pub(super) back: bool,
}

impl Stretch {
    const fn cell(&self, i: usize) -> usize {
        if self.back { self.from - i } else { self.from + i }
    }
}

/// The most tables that are remembered: each is of some kilobytes.
const REMEMBERED: usize = 20_000;

/// What meetings cost, each worked out once.
pub(super) struct Meetings<'a> {
    pub(super) cells: &'a Cells,
    weights: Weights,
    known: HashMap<(Stretch, Stretch, usize, bool), Rc<Table>>,
}

impl<'a> Meetings<'a> {
    pub(super) fn new(cells: &'a Cells, weights: Weights) -> Self {
        Self { cells, weights, known: HashMap::new() }
    }

    /// `count` cells of `left` in the left strip met by as many of `right` in the right one, in every glue line between
    /// strips of those panels, for turns that lie the same way round or for the others.
    pub(super) fn table(&mut self, left: Stretch, right: Stretch, count: usize, same: bool) -> Rc<Table> {
        let key = (left, right, count, same);
        if let Some(table) = self.known.get(&key) {
            return Rc::clone(table);
        }
        let table = Rc::new(self.worked_out(left, right, count, same));
        if self.known.len() < REMEMBERED {
            self.known.insert(key, Rc::clone(&table));
        }
        table
    }

    fn worked_out(&self, left: Stretch, right: Stretch, count: usize, same: bool) -> Table {
        let pairs = self.cells.strips.windows(2);
        let joint = |strips: &[(usize, usize)]| {
            let mut all = [0; 16];
            if strips[0].0 != left.panel || strips[1].0 != right.panel {
                return all;
            }
            for (i, cost) in all.iter_mut().enumerate() {
                let [a, b] = [Turn::ALL[i / 4], Turn::ALL[i % 4]];
                if (a.first_blank_in_front() == b.first_blank_in_front()) != same {
                    continue;
                }
                for face in 0..self.cells.faces {
                    let one = self.cells.line(strips[0], (left.blank, left.turn), a, true, face);
                    let two = self.cells.line(strips[1], (right.blank, right.turn), b, false, face);
                    let cell = |i| self.weights.of_samples(&one[left.cell(i)], &two[right.cell(i)]);
                    *cost += (0..count).map(cell).sum::<u64>();
                }
            }
            all
        };
        pairs.map(joint).collect()
    }
}

impl Weights {
    /// The weighted differences at one sample, in millionths of their ranges.
    pub(super) fn of_samples(self, a: &super::super::edges::Sample, b: &super::super::edges::Sample) -> u64 {
        let weighed = Measure::ALL.into_iter().zip(self.0).filter(|(_, weight)| *weight > 0);
        weighed.map(|(measure, weight)| u64::from(weight) * measure.in_millionths(a, b)).sum()
    }
}

/// The least that turning the strips comes to, and the turns.
pub(super) fn least(table: &Table) -> u64 {
    let mut so_far = [0; 4];
    for joint in table {
        so_far = std::array::from_fn(|b| (0..4).map(|a| so_far[a] + joint[4 * a + b]).min().unwrap_or(0));
    }
    so_far.into_iter().min().unwrap_or(0)
}

/// The best turns of the strips, the first of those that are as good.
pub(super) fn best(table: &Table) -> (u64, Vec<Turn>) {
    // From the right, so that the first of the best is followed from the left.
    let mut rest = vec![[0_u64; 4]];
    for joint in table.iter().rev() {
        let after = rest[rest.len() - 1];
        rest.push(std::array::from_fn(|a| (0..4).map(|b| joint[4 * a + b] + after[b]).min().unwrap_or(0)));
    }
    rest.reverse();
    let first = |of: &dyn Fn(usize) -> u64| (0..4).min_by_key(|turn| of(*turn)).unwrap_or(0);
    let mut at = first(&|a| rest[0][a]);
    let cost = rest[0][at];
    let mut turns = vec![Turn::ALL[at]];
    for (joint, after) in table.iter().zip(&rest[1..]) {
        at = first(&|b| joint[4 * at + b] + after[b]);
        turns.push(Turn::ALL[at]);
    }
    (cost, turns)
}
