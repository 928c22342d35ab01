//! Pores: the vessels cut across. Knows rings and a wood's vessel sizes, nothing of colours.
//!
//! A grid of cells lies across the grain, moving with the pith line, rows shifted and bent by
//! chance (the bend changes slowly along the grain, so vessels drift). Each cell may hold one
//! vessel at a time; along the grain a vessel starts thin, runs on for 24 mm and ends, then the
//! cell has another one. How large a vessel is follows from where its own centre lies in the ring,
//! so that pores are round and never cut off at a ring's edge.
//!
//! Pixel coverage: a disc of radius ρ seen through a pixel g is drawn as a disc of radius
//! ρ' = max(ρ, 0.55 g) with an edge g wide; its height ρ² / (ρ'² + g²/12) keeps the area.

use super::noise::{four, hold, hold32, mix, one, ramp, split, start};
use super::rings::Place;
use super::species::{Pores, Vessels};
use super::years::{Edges, Years};

/// Run of one vessel along the grain, mm.
const RUN: f64 = 24.0;
/// Mean of (run-out)² over a run: with ramps of 1/6 at both ends, 2/3 + 2·(1/6)/3.
const RUN_MEAN: f32 = 7.0 / 9.0;
/// Mean of (1 + 0.25 h)², h even −1 to 1: 1 + 0.25²/3.
const SIZE_MEAN: f32 = 1.0 + 0.0625 / 3.0;
/// How far a vessel's centre may lie from its cell's, in cells.
const STRAY: f32 = 0.3;

/// Vessels made ready to draw.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pores: Pores,
    cell: f64,
    per_cell: f64,
    /// Up to this pixel vessels are drawn one by one, mm; and how soon they then blur, per mm.
    told_apart: f64,
    per_blur: f64,
    band: f32,
    per_band: f32,
    /// Radius, and how it changes from earlywood to latewood, mm.
    radius: [f32; 2],
    /// Chance that a cell holds a vessel, and how it changes.
    chance: [f32; 2],
    /// Mean share of the area over a ring.
    mean: f32,
}

impl Grid {
    pub(super) fn new(vessels: &Vessels, width: f64) -> Grid {
        let change = |early: f64, late: f64| [early as f32, (late - early) as f32];
        let told_apart = (0.68 * vessels.cell).min(1.1 * vessels.early.max(vessels.late)).max(0.01);
        let mut grid = Grid {
            pores: vessels.pores,
            cell: vessels.cell,
            per_cell: 1.0 / vessels.cell,
            told_apart,
            per_blur: 2.0 / told_apart,
            band: vessels.band as f32,
            per_band: (1.0 / (0.4 * vessels.band)) as f32,
            radius: change(0.5 * vessels.early, 0.5 * vessels.late),
            chance: change(vessels.early_chance, vessels.late_chance),
            mean: 0.0,
        };
        grid.mean = grid.mean_share(width);
        grid
    }

    /// Mean share of the area taken by pores over a ring of this width, from 64 places.
    fn mean_share(&self, width: f64) -> f32 {
        let rise = self.rise(1.0 / width as f32);
        let part = |i: i32| self.expected(((f64::from(i) + 0.5) / 64.0 * width) as f32, rise);
        (0..64).map(part).sum::<f32>() / 64.0
    }

    /// How lateness rises in a ring of this width: from which place (mm beyond the ring's start),
    /// and by how much per mm. Lateness is how far vessels have come from earlywood's (0) to
    /// latewood's (1).
    #[inline(always)]
    fn rise(&self, per_width: f32) -> (f32, f32) {
        match self.pores {
            Pores::None | Pores::Diffuse => (0.0, 0.0),
            Pores::SemiRing => (0.0, per_width),
            // Earlywood of ring-porous woods is about as wide in wide rings as in narrow ones.
            Pores::Ring => (0.8 * self.band, self.per_band),
        }
    }

    /// Share of the area taken by pores at this place of the ring.
    #[inline(always)]
    fn expected(&self, after: f32, rise: (f32, f32)) -> f32 {
        let late = hold32((after - rise.0) * rise.1, 0.0, 1.0);
        let radius = (self.radius[0] + self.radius[1] * late) * self.per_cell as f32;
        let chance = self.chance[0] + self.chance[1] * late;
        chance * radius * radius * (std::f32::consts::PI * SIZE_MEAN * RUN_MEAN)
    }

    /// How far single vessels are told apart through a pixel of `grain` mm: 1 to 0, as the pixel
    /// grows past the cell and past the vessels themselves.
    #[inline(always)]
    fn single(&self, grain: f64) -> f32 {
        1.0 - ramp(grain, self.told_apart, self.per_blur)
    }

    /// The vessels to draw at a place, if they are told apart at all. Nothing in it waits for the
    /// ring that the place lies in, so it can be under way while that is still being found.
    #[inline(always)]
    pub(super) fn near(&self, years: &Years, place: &Place, grain: f64, cells: &mut Cells) -> Option<Near> {
        let seen = self.pores != Pores::None && self.single(grain) > 0.0;
        seen.then(|| self.gather(years.seed ^ 0x71, place, cells))
    }

    /// Share of the pixel taken by pores, less the mean over a ring.
    #[inline(always)]
    pub(super) fn coverage(&self, near: Option<&Near>, years: &Years, place: &Place, edges: &Edges, grain: f64) -> f32 {
        let (after, width, grain32) = ((place.x - edges.start()) as f32, edges.width() as f32, grain as f32);
        let single = self.single(grain);
        let (discs, smeared) = match (near, self.pores) {
            (None, Pores::None | Pores::Diffuse) => return 0.0,
            (None, _) => (0.0, self.smeared(after, width, grain32)),
            (Some(near), Pores::None | Pores::Diffuse) => (self.sum(near, place, after, width, grain32), self.mean),
            (Some(near), _) if single < 1.0 => {
                (self.sum(near, place, after, width, grain32), self.smeared(after, width, grain32))
            }
            (Some(near), _) => (self.sum(near, place, after, width, grain32), 0.0),
        };
        (smeared + (discs - smeared) * single - self.mean) * years.banded(grain)
    }

    /// Expected share, averaged over the pixel at a few places across the rings.
    #[inline]
    fn smeared(&self, after: f32, width: f32, grain: f32) -> f32 {
        let rise = self.rise(1.0 / width);
        let tap = |t: f32| self.expected(in_ring(after + t * grain, width), rise);
        (tap(-0.375) + tap(-0.125) + tap(0.125) + tap(0.375)) * 0.25
    }

    /// The vessels of the four nearest cells.
    #[inline(always)]
    fn gather(&self, seed: u64, place: &Place, cells: &mut Cells) -> Near {
        // Turned by a 3-4-5 triangle and bent, so that no row lies along an edge of the blank.
        let d = place.from_pith;
        let bend = 0.6 * f64::from(place.close[2]);
        let (x, y) = ((0.8 * d.x - 0.6 * d.y + bend) * self.per_cell, (0.6 * d.x + 0.8 * d.y - bend) * self.per_cell);
        // Place along the grain in runs, 32 bits behind the point.
        let along = (hold(place.w * (1.0 / RUN), -1.0e9, 1.0e9) * 4_294_967_296.0) as i64;
        let (row, above) = split(y - 0.5);
        let shift = |j: i64| f64::from(one(start(seed, row + j, 0, 1), 40));
        let [(lower, lower_right), (upper, upper_right)] = [split(x + shift(0)), split(x + shift(1))];
        cells.turn_to(seed, row, [lower, upper], along);
        let (right, above) = ([lower_right as f32, upper_right as f32], above as f32);
        let dx = std::array::from_fn(|n| (n & 1) as f32 - right[n >> 1] + STRAY * cells.stray[0][n]);
        let dy = std::array::from_fn(|n| (n >> 1) as f32 - above + STRAY * cells.stray[1][n]);
        Near { dx, dy, size: cells.size, chance: cells.chance, run: cells.run }
    }

    /// Pixel coverage of four vessels, all at once: plain loops over four lanes, no branches.
    #[inline(always)]
    #[expect(clippy::needless_range_loop, reason = "one index over six rows of lanes")]
    fn sum(&self, near: &Near, place: &Place, after: f32, width: f32, grain: f32) -> f32 {
        let cell = self.cell as f32;
        let rise = self.rise(1.0 / width);
        // The outward direction in the turned grid, mm per cell.
        let (u, v) = (place.outward.x as f32 * cell, place.outward.y as f32 * cell);
        let (out_x, out_y) = (0.8 * u - 0.6 * v, 0.6 * u + 0.8 * v);
        let per_grain = 1.0 / grain;
        let mut cover = [0.0_f32; 4];
        for n in 0..4 {
            let away = after + near.dx[n] * out_x + near.dy[n] * out_y;
            let away = if away < 0.0 { away + width } else { away };
            let away = if away < width { away } else { away - width };
            let late = hold32((away - rise.0) * rise.1, 0.0, 1.0);
            let likely = self.chance[0] + self.chance[1] * late;
            let t = near.run[n] * (1.0 / 16_777_216.0);
            let run_out = least(least(6.0 * t, 6.0 - 6.0 * t), 1.0);
            let radius = (self.radius[0] + self.radius[1] * late) * (1.0 + 0.25 * near.size[n]) * run_out;
            let radius = if 0.5 + 0.5 * near.chance[n] < likely { radius } else { 0.0 };
            let drawn = hold32(radius, 0.55 * grain, f32::MAX);
            let distance = (near.dx[n] * near.dx[n] + near.dy[n] * near.dy[n]).sqrt() * cell;
            let edge = hold32((drawn - distance) * per_grain + 0.5, 0.0, 1.0);
            cover[n] = edge * radius * radius / (drawn * drawn + grain * grain * (1.0 / 12.0));
        }
        least((cover[0] + cover[1]) + (cover[2] + cover[3]), 1.0)
    }
}

/// What four cells hold, kept for the next pixel of a picture, which mostly has the same four: ask with
/// one seed alone.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Cells {
    /// The lower row, the first column in it and in the one above, and the place along the grain.
    of: Option<(i64, [i64; 2], i64)>,
    stray: [[f32; 4]; 2],
    size: [f32; 4],
    chance: [f32; 4],
    run: [f32; 4],
}

impl Cells {
    #[inline(always)]
    fn turn_to(&mut self, seed: u64, row: i64, columns: [i64; 2], along: i64) {
        if self.of != Some((row, columns, along)) {
            self.fill(seed, row, columns, along);
        }
    }

    /// Needed once for some pixels, so kept out of their loop.
    #[inline(never)]
    fn fill(&mut self, seed: u64, row: i64, columns: [i64; 2], along: i64) {
        self.of = Some((row, columns, along));
        for n in 0..4 {
            let (i, j) = (n & 1, n >> 1);
            let here = start(seed, columns[j] + i as i64, row + j as i64, 2);
            let run = along.wrapping_add((here >> 32) as i64);
            let [a, b, size, chance] = four(mix(start(here, 0, 0, run >> 32)));
            (self.stray[0][n], self.stray[1][n]) = (a, b);
            (self.size[n], self.chance[n]) = (size, chance);
            self.run[n] = ((run as u32) >> 8) as i32 as f32;
        }
    }
}

/// The vessels of the four nearest cells: where they lie (cells), their size and chance (−1 to 1),
/// how far along their run (in 2⁻²⁴).
pub(super) struct Near {
    dx: [f32; 4],
    dy: [f32; 4],
    size: [f32; 4],
    chance: [f32; 4],
    run: [f32; 4],
}

/// The smaller of two numbers, neither of which is NaN.
#[inline(always)]
fn least(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

/// `after` (mm beyond the start of a ring `width` wide) carried into the ring it lies in.
#[inline(always)]
fn in_ring(after: f32, width: f32) -> f32 {
    if after < 0.0 {
        (after + width).max(0.0)
    } else if after >= width {
        after - width
    } else {
        after
    }
}
