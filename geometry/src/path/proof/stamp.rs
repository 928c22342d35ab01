//! What one leg leaves in a band of rows, less the height that it begins at: worked out once, pressed into the wood as
//! often as the bit goes that way.

use super::ready::Ready;
use super::removal::Leg;
use crate::cut::Profile;
use nalgebra::Point2;
use std::ops::Range;

/// Rows of a field that follow one another.
pub(super) struct Rows {
    pub(super) cell: f64,
    pub(super) columns: usize,
    /// The first of them in the field.
    pub(super) first: usize,
    pub(super) count: usize,
}

impl Rows {
    /// Whether the bit can be over any of them on this leg.
    pub(super) fn are_under(&self, bit: &Profile, leg: &Leg) -> bool {
        !self.within(bit, leg).is_empty()
    }

    /// Which of them the bit can be over.
    fn within(&self, bit: &Profile, leg: &Leg) -> Range<usize> {
        let ([low, high], above) = (leg.room(), self.first as f64 * self.cell);
        let at = |y: f64| ((y - above) / self.cell).clamp(0.0, self.count as f64);
        (at(low.y - bit.outer()).floor() as usize)..(at(high.y + bit.outer()).ceil() as usize)
    }

    fn middle(&self, column: usize, row: usize) -> Point2<f64> {
        Point2::new((column as f64 + 0.5) * self.cell, ((self.first + row) as f64 + 0.5) * self.cell)
    }

    /// The cells of a row whose middles lie within a stretch.
    fn middles(&self, [low, high]: [f64; 2]) -> Range<usize> {
        let at = |x: f64| (x / self.cell - 0.5).clamp(-0.5, self.columns as f64);
        let (first, end) = (at(low).ceil() as usize, (at(high).floor() + 1.0) as usize);
        first..end.min(self.columns).max(first)
    }
}

/// What is left in a run of cells, above the height that the leg begins at.
enum Left {
    /// The same in all of them.
    Even(f64),
    /// As from this place on in the stamp's lists.
    From(usize),
}

/// Runs of cells, by their place in the band, and what is left in each.
#[derive(Default)]
pub(super) struct Stamp {
    runs: Vec<(Range<usize>, Left)>,
    /// Heights.
    heights: Vec<f32>,
    /// The same where the bit is well over a cell, infinite elsewhere: what counts as taken.
    well: Vec<f32>,
}

impl Stamp {
    pub(super) fn of(ready: &Ready<'_>, rows: &Rows, bit: &Profile, leg: &Leg) -> Self {
        let mut stamp = Self::default();
        // Level and straight across the rows the same is left in each of them.
        let mut section: Option<(Range<usize>, usize)> = None;
        for row in rows.within(bit, leg) {
            let (y, begin) = (rows.middle(0, row).y, row * rows.columns);
            if ready.across_rows().is_some_and(|[from, to]| y >= from && y <= to) {
                let (cells, at) = section.get_or_insert_with(|| {
                    let cells = ready.reach(y)[0].map_or(0..0, |stretch| rows.middles(stretch));
                    (cells.clone(), stamp.add(ready, rows, row, cells))
                });
                stamp.runs.push((begin + cells.start..begin + cells.end, Left::From(*at)));
                continue;
            }
            for (reach, even) in ready.reach(y).into_iter().zip(ready.even(y)) {
                let Some(reach) = reach else { continue };
                let all = rows.middles(reach);
                let mut flat = all.end..all.end;
                if let Some((stretch, height)) = even {
                    let cells = rows.middles(stretch);
                    flat = cells.start.clamp(all.start, all.end)..cells.end.clamp(all.start, all.end);
                    let run = begin + flat.start..begin + flat.end;
                    stamp.runs.push((run, Left::Even(height - Ready::begins(leg))));
                }
                for cells in [all.start..flat.start, flat.end.max(flat.start)..all.end] {
                    if !cells.is_empty() {
                        let at = stamp.add(ready, rows, row, cells.clone());
                        stamp.runs.push((begin + cells.start..begin + cells.end, Left::From(at)));
                    }
                }
            }
        }
        stamp
    }

    /// Asks at each of these cells; returns where the list of them begins.
    fn add(&mut self, ready: &Ready<'_>, rows: &Rows, row: usize, cells: Range<usize>) -> usize {
        let at = self.heights.len();
        for column in cells {
            let p = rows.middle(column, row);
            let (height, well) = ready.above_begin(p);
            self.heights.push(height as f32);
            self.well.push(if well { height as f32 } else { f32::INFINITY });
        }
        at
    }

    /// How much it holds, in cells: a run takes as much as some of them.
    pub(super) const fn held(&self) -> usize {
        self.heights.len() + 8 * self.runs.len()
    }

    /// Lowers the band's heights where the leg begins at this height; returns how deep that cut.
    pub(super) fn press(&self, band: &mut [f32], begins: f64) -> f64 {
        let mut deepest = 0.0f64;
        for (run, left) in &self.runs {
            let cells = &mut band[run.clone()];
            let deep = match left {
                Left::Even(above) => lower(cells, begins + above),
                Left::From(at) => {
                    let list = *at..at + cells.len();
                    lower_each(cells, &self.heights[list.clone()], &self.well[list], begins as f32)
                }
            };
            deepest = deepest.max(deep);
        }
        deepest
    }
}

/// Lowers each cell to its own height above `begins`; returns how deep that cut where it counts.
fn lower_each(cells: &mut [f32], heights: &[f32], well: &[f32], begins: f32) -> f64 {
    let mut deepest = [0.0f32; 8];
    let mut some = |cells: &mut [f32], heights: &[f32], well: &[f32]| {
        for (((cell, above), counts), deepest) in cells.iter_mut().zip(heights).zip(well).zip(&mut deepest) {
            let (to, deep) = (begins + above, *cell - (begins + counts));
            *deepest = if deep > *deepest { deep } else { *deepest };
            *cell = if *cell < to { *cell } else { to };
        }
    };
    let (eights, rest) = cells.as_chunks_mut::<8>();
    let ((heights, last), (well, last_well)) = (heights.as_chunks::<8>(), well.as_chunks::<8>());
    for ((cells, heights), well) in eights.iter_mut().zip(heights).zip(well) {
        some(cells, heights, well);
    }
    some(rest, last, last_well);
    f64::from(deepest.into_iter().fold(0.0, f32::max))
}

/// Lowers cells to one level; returns how deep that cut.
fn lower(cells: &mut [f32], level: f64) -> f64 {
    let to = level as f32;
    let mut highest = [to; 8];
    let mut some = |cells: &mut [f32]| {
        for (cell, highest) in cells.iter_mut().zip(&mut highest) {
            *highest = if *cell > *highest { *cell } else { *highest };
            *cell = if *cell < to { *cell } else { to };
        }
    };
    let (eights, rest) = cells.as_chunks_mut::<8>();
    eights.iter_mut().for_each(|cells| some(cells));
    some(rest);
    let highest = highest.into_iter().fold(to, f32::max);
    if highest > to { f64::from(highest) - level } else { 0.0 }
}
