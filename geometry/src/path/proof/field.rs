//! The heights that are left of a stock, on a grid, and the cutting of all its rows: band by band, by several workers.
//!
//! A band is so narrow that its heights stay close at hand while all legs pass over it. What a leg leaves in a band is a
//! [`Stamp`]; the passes of a cut go the same way again and again, each deeper, so that the stamp of one does for all.
//! Must not know of plans or boards.

use super::ready::{Ready, Slopes};
use super::removal::Leg;
use super::stamp::{Rows, Stamp};
use crate::cut::Profile;
use nalgebra::Point2;
use std::collections::HashMap;
use std::panic::resume_unwind;
use std::sync::{Mutex, PoisonError};

/// Heights at the middles of square cells, rows from Y 0, all 0 before anything is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The side of a cell, mm.
    pub cell: f64,
    /// Cells in a row, along X.
    pub columns: usize,
    /// Rows, along Y.
    pub rows: usize,
    /// Row by row.
    pub heights: Vec<f32>,
}

/// The most cells that are taken: 200 MB of heights.
pub(super) const MOST_CELLS: f64 = 5e7;

/// About so many cells in a band: half a megabyte of heights.
const IN_A_BAND: usize = 1 << 17;

/// Stamps of so many cells are kept in a band: sixteen megabytes of them.
const MOST_KEPT: usize = 1 << 21;

/// What is uncut is passed over by so many cells when a band is put in its place.
const RUN: usize = 1024;

impl Field {
    /// A flat stock from (0, 0) to `size`; its cells grow where they would be too many.
    #[must_use]
    pub fn flat(size: [f64; 2], cell: f64) -> Self {
        let cell = cell.max((size[0] * size[1] / MOST_CELLS).sqrt());
        let count = |long: f64| ((long / cell).ceil() as usize).max(1);
        let (columns, rows) = (count(size[0]), count(size[1]));
        Self { cell, columns, rows, heights: vec![0.0; columns * rows] }
    }

    /// The middle of a cell.
    #[must_use]
    pub fn middle(&self, column: usize, row: usize) -> Point2<f64> {
        Point2::new((column as f64 + 0.5) * self.cell, (row as f64 + 0.5) * self.cell)
    }

    /// What was taken, mm³.
    #[must_use]
    pub fn removed(&self) -> f64 {
        let (eights, rest) = self.heights.as_chunks::<8>();
        let mut sums = [0.0f64; 8];
        let mut add = |cells: &[f32]| sums.iter_mut().zip(cells).for_each(|(sum, h)| *sum += f64::from(*h));
        eights.iter().for_each(|cells| add(cells));
        add(rest);
        -sums.iter().sum::<f64>() * self.cell * self.cell
    }

    /// Moves each leg's bit along it through uncut wood, in bands of rows by so many workers; returns how deep each step cut
    /// into what was left before it.
    pub(super) fn cut(&mut self, bits: &[Profile], legs: &[Leg], steps: usize, workers: usize) -> Vec<f64> {
        let (cell, columns) = (self.cell, self.columns);
        let count = (IN_A_BAND / columns).clamp(1, self.rows.div_ceil(workers.max(1)));
        let work = Work { bits, passes: passes(legs), slopes: Slopes::default() };
        let mut taken = vec![0.0f64; steps];
        let bands = Mutex::new(self.heights.chunks_mut(count * columns).enumerate());
        let next = || bands.lock().unwrap_or_else(PoisonError::into_inner).next();
        let one = || {
            let (mut taken, mut band) = (vec![0.0f64; steps], vec![0.0f32; count * columns]);
            while let Some((i, heights)) = next() {
                let (rows, band) = (heights.len() / columns, &mut band[..heights.len()]);
                work.on(&Rows { cell, columns, first: i * count, count: rows }, band, &mut taken);
                put(band, heights);
            }
            taken
        };
        std::thread::scope(|scope| {
            let running: Vec<_> = (0..workers.max(1)).map(|_| scope.spawn(one)).collect();
            // A band that was cut off would count as uncut wood.
            let whole = |b: std::thread::ScopedJoinHandle<'_, Vec<f64>>| b.join().unwrap_or_else(|e| resume_unwind(e));
            for each in running.into_iter().map(whole) {
                taken.iter_mut().zip(each).for_each(|(all, one)| *all = all.max(one));
            }
        });
        taken
    }
}

/// Puts what was cut of a band in its place, and leaves the band uncut for the next.
fn put(band: &mut [f32], heights: &mut [f32]) {
    for (run, heights) in band.chunks_mut(RUN).zip(heights.chunks_mut(RUN)) {
        // Uncut is 0.0, all bits off.
        if run.iter().fold(0, |all, h| all | h.to_bits()) != 0 {
            heights.copy_from_slice(run);
            run.fill(0.0);
        }
    }
}

/// A leg that cuts, and which way it is where others go the same one, higher or lower.
struct Pass<'a> {
    leg: &'a Leg,
    again: Option<usize>,
}

/// All that is to be cut.
struct Work<'a> {
    bits: &'a [Profile],
    passes: Vec<Pass<'a>>,
    slopes: Slopes,
}

impl Work<'_> {
    /// Cuts one band; `taken` grows to how deep each step cut into what was left before it.
    fn on(&self, rows: &Rows, heights: &mut [f32], taken: &mut [f64]) {
        let (mut stamps, mut kept): (HashMap<usize, Stamp>, usize) = (HashMap::new(), 0);
        for Pass { leg, again } in &self.passes {
            let Some(bit) = self.bits.get(leg.bit).filter(|bit| rows.are_under(bit, leg)) else { continue };
            let level = Ready::begins(leg);
            let known = again.and_then(|way| stamps.get(&way));
            let deep = if let Some(stamp) = known {
                stamp.press(heights, level)
            } else {
                let stamp = Stamp::of(&Ready::of(bit, leg, rows.cell, &self.slopes), rows, bit, leg);
                let deep = stamp.press(heights, level);
                if let Some(way) = again.filter(|_| kept + stamp.held() <= MOST_KEPT) {
                    kept += stamp.held();
                    stamps.insert(way, stamp);
                }
                deep
            };
            taken[leg.step] = deep.max(taken[leg.step]);
        }
    }
}

/// Which way a leg goes, wherever it begins in height: its bit, both ends, the middle and the turn of an arc, and how far
/// it goes down, a millionth of a micrometre as near as nothing.
type Course = (usize, [u64; 7], i64);

/// The legs that cut, those that go the same way found.
fn passes(legs: &[Leg]) -> Vec<Pass<'_>> {
    let course = |leg: &Leg| -> Course {
        let (from, to) = (leg.from.xy(), leg.to.xy());
        let arc = leg.arc.as_ref().map_or([0.0; 3], |arc| [arc.centre.x, arc.centre.y, arc.turn]);
        let all = [from.x, from.y, to.x, to.y, arc[0], arc[1], arc[2]];
        (leg.bit, all.map(f64::to_bits), ((leg.to.z - leg.from.z) * 1e9).round() as i64)
    };
    let cuts: Vec<&Leg> = legs.iter().filter(|leg| leg.from.z.min(leg.to.z) < 0.0).collect();
    let mut times: HashMap<Course, (usize, usize)> = HashMap::new();
    for (i, leg) in cuts.iter().enumerate() {
        times.entry(course(leg)).or_insert((i, 0)).1 += 1;
    }
    let again = |leg: &Leg| times.get(&course(leg)).filter(|(_, times)| *times > 1).map(|(first, _)| *first);
    cuts.into_iter().map(|leg| Pass { leg, again: again(leg) }).collect()
}
