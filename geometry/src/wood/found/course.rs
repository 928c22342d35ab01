//! Which way the rings run at each pixel, and how wide they are: the structure tensor. Knows
//! nothing of what a ring looks like but that it is long.
//!
//! # Formula
//! With g the slopes of the picture smoothed by σ, the tensor is ⟨g gᵀ⟩, averaged by ρ = 3σ
//! (Bigün, Granlund 1987; Weickert, *Anisotropic Diffusion in Image Processing*, 1998). Its
//! greater axis points across the rings. How much it is longer than the other, (λ₁ − λ₂)/(λ₁ + λ₂)
//! in the mean, tells rings from noise, which has some 0.2 at any σ; the σ at which it is greatest
//! is about a fifth of the ring width (rings drawn and photographed, 13 to 26 pixels wide).

use super::sheet::Sheet;
use std::collections::BinaryHeap;

/// ρ/σ.
const WINDOW: f64 = 3.0;
/// Where a place has no direction of its own (at the rim, in a smooth patch) that of a wider
/// surrounding decides: its share, and how much wider.
const WIDER_SHARE: f32 = 0.3;
const WIDER: f64 = 3.0;
/// σ and ρ of the closer look, in σ.
const CLOSER: f64 = 0.5;
const CLOSER_WINDOW: f64 = 1.5;
/// σ rises by this from 1 pixel.
const STEP: f64 = std::f64::consts::SQRT_2;
/// σ is at most this share of the shorter side: three rings must fit.
const LARGEST: f64 = 1.0 / 15.0;
/// Cells in which the sign of the direction is carried from neighbour to neighbour, pixels.
const CELL: usize = 4;

/// The direction across the rings at each pixel.
pub(super) struct Course {
    /// The unit vector across the rings, x and y; one sense all over.
    pub(super) across: [Sheet; 2],
    /// σ, pixels: about a fifth of a ring's width.
    pub(super) scale: f64,
}

/// (λ₁ − λ₂)/(λ₁ + λ₂) in the mean, and the σ at which it is greatest.
pub(super) fn scale(sheet: &Sheet) -> (f64, f64) {
    let most = LARGEST * sheet.width.min(sheet.height) as f64;
    let (mut best, mut deviation) = ((0.0, 1.0), 1.0);
    while deviation <= most {
        let share = direction(sheet, deviation, WINDOW * deviation);
        if share > best.0 {
            best = (share, deviation);
        }
        deviation *= STEP;
    }
    best
}

/// (λ₁ − λ₂)/(λ₁ + λ₂) in the mean over a window three times as wide: rings keep their direction
/// over several of their widths, clouds don't.
pub(super) fn far_direction(sheet: &Sheet, deviation: f64) -> f64 {
    direction(sheet, deviation, WIDER * WINDOW * deviation)
}

fn direction(sheet: &Sheet, deviation: f64, window: f64) -> f64 {
    let [a, b, c] = tensor(sheet, deviation, window);
    let longer = a.with(&c, |a, c| a - c).with(&b, |d, b| (d * d + 4.0 * b * b).sqrt());
    longer.with(&a.with(&c, |a, c| a + c), |d, sum| d / (sum + 1.0e-9)).mean()
}

/// ⟨g_x²⟩, ⟨g_x g_y⟩, ⟨g_y²⟩.
fn tensor(sheet: &Sheet, deviation: f64, window: f64) -> [Sheet; 3] {
    let [x, y] = sheet.smooth(deviation).slopes();
    [x.with(&x, |a, b| a * b), x.with(&y, |a, b| a * b), y.with(&y, |a, b| a * b)].map(|s| s.smooth(window))
}

impl Course {
    pub(super) fn new(sheet: &Sheet, scale: f64) -> Course {
        Course::with(sheet, scale, scale, WINDOW)
    }

    /// The same, seen more closely in a sheet where the rings' edges are clear lines; in the same sense.
    pub(super) fn closer(&self, edges: &Sheet) -> Course {
        let mut course = Course::with(edges, self.scale, CLOSER * self.scale, CLOSER_WINDOW);
        for n in 0..edges.values.len() {
            let [a, b] = [0, 1].map(|c| course.across[c].values[n] * self.across[c].values[n]);
            if a + b < 0.0 {
                course.across.iter_mut().for_each(|part| part.values[n] *= -1.0);
            }
        }
        course
    }

    fn with(sheet: &Sheet, scale: f64, deviation: f64, window: f64) -> Course {
        let (near, wide) = (tensor(sheet, deviation, window * scale), tensor(sheet, deviation, WIDER * window * scale));
        let part = |n: usize| near[n].with(&wide[n], |near, wide| near + WIDER_SHARE * wide);
        let [a, b, c] = [part(0), part(1), part(2)];
        let difference = a.with(&c, |a, c| a - c);
        let angle = b.with(&difference, |b, d| 0.5 * (2.0 * b).atan2(d));
        let clear = difference
            .with(&b, |d, b| (d * d + 4.0 * b * b).sqrt())
            .with(&a.with(&c, |a, c| a + c), |d, s| d / (s + 1.0e-9));
        let across = [angle.map(f32::cos), angle.map(f32::sin)];
        let across = one_sense(across, &clear);
        Course { across, scale }
    }

    /// The other sense.
    pub(super) fn reversed(self) -> Course {
        Course { across: self.across.map(|s| s.map(|v| -v)), ..self }
    }

    /// The direction across the rings at a place.
    pub(super) fn at(&self, x: f32, y: f32) -> (f32, f32) {
        let (a, b) = (self.across[0].between(x, y), self.across[1].between(x, y));
        let length = (a * a + b * b).sqrt().max(1.0e-6);
        (a / length, b / length)
    }
}

/// One sense all over: carried from the clearest cell to its neighbours, the clearest first, so
/// that it goes around a pith or a knot.
fn one_sense(across: [Sheet; 2], clear: &Sheet) -> [Sheet; 2] {
    let (w, h) = (clear.width.div_ceil(CELL), clear.height.div_ceil(CELL));
    let of = |x: usize, y: usize| {
        let (x, y) = ((x * CELL).min(clear.width - 1), (y * CELL).min(clear.height - 1));
        (across[0].at(x, y), across[1].at(x, y), (1.0e6 * clear.at(x, y)) as i64)
    };
    let mut sense: Vec<Option<(f32, f32)>> = vec![None; w * h];
    let mut waiting = BinaryHeap::new();
    let cells = (0..h).flat_map(|y| (0..w).map(move |x| (x, y)));
    if let Some((x, y)) = cells.max_by_key(|(x, y)| of(*x, *y).2) {
        sense[y * w + x] = Some((of(x, y).0, of(x, y).1));
        waiting.push((of(x, y).2, x, y));
    }
    while let Some((_, x, y)) = waiting.pop() {
        let Some((a, b)) = sense[y * w + x] else { continue };
        let beside = [(x + 1, y), (x, y + 1), (x.wrapping_sub(1), y), (x, y.wrapping_sub(1))];
        for (i, j) in beside.into_iter().filter(|(i, j)| *i < w && *j < h) {
            if sense[j * w + i].is_none() {
                let (c, d, clear) = of(i, j);
                let turn = if a * c + b * d < 0.0 { -1.0 } else { 1.0 };
                sense[j * w + i] = Some((turn * c, turn * d));
                waiting.push((clear, i, j));
            }
        }
    }
    let turn = Sheet::from_fn(clear.width, clear.height, |x, y| {
        let (a, b) = sense[y / CELL * w + x / CELL].unwrap_or((1.0, 0.0));
        if a * across[0].at(x, y) + b * across[1].at(x, y) < 0.0 { -1.0 } else { 1.0 }
    });
    across.map(|part| part.with(&turn, |v, t| v * t))
}
