//! A picture of one number a pixel, and the smoothing that everything here stands on. Knows
//! nothing of wood. A pixel's centre has whole coordinates, (0, 0) being the upper left one.

use crate::picture::Picture;

/// One number a pixel, row by row from the top.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sheet {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) values: Vec<f32>,
}

/// Below this standard deviation the Gaussian itself is summed, above it three running means.
const SUMMED: f64 = 2.5;

impl Sheet {
    pub(super) fn from_fn(width: usize, height: usize, mut value: impl FnMut(usize, usize) -> f32) -> Sheet {
        let mut values = Vec::with_capacity(width * height);
        for y in 0..height {
            values.extend((0..width).map(|x| value(x, y)));
        }
        Sheet { width, height, values }
    }

    /// The three channels of a picture, each byte as 0 to 1, reduced by the mean of `step`² pixels.
    pub(super) fn channels(picture: &Picture, step: usize) -> [Sheet; 3] {
        let (width, height) = (picture.width / step, picture.height / step);
        let share = 1.0 / (255.0 * (step * step) as f32);
        [0, 1, 2].map(|channel| {
            Sheet::from_fn(width, height, |x, y| {
                let rows =
                    (y * step..(y + 1) * step).map(|row| 3 * (row * picture.width + x * step) + channel).map(|start| {
                        picture.bytes[start..].iter().step_by(3).take(step).map(|b| u32::from(*b)).sum::<u32>()
                    });
                rows.sum::<u32>() as f32 * share
            })
        })
    }

    pub(super) fn at(&self, x: usize, y: usize) -> f32 {
        self.values[y * self.width + x]
    }

    /// Between the pixels, linearly; beyond the rim its nearest pixel.
    pub(super) fn between(&self, x: f32, y: f32) -> f32 {
        let (x, y) = (x.clamp(0.0, (self.width - 1) as f32), y.clamp(0.0, (self.height - 1) as f32));
        let (i, j) = ((x as usize).min(self.width - 2), (y as usize).min(self.height - 2));
        let (a, b) = (x - i as f32, y - j as f32);
        let start = j * self.width + i;
        let (up, down) = (&self.values[start..start + 2], &self.values[start + self.width..start + self.width + 2]);
        (up[0] + a * (up[1] - up[0])) * (1.0 - b) + (down[0] + a * (down[1] - down[0])) * b
    }

    pub(super) fn holds(&self, x: f32, y: f32) -> bool {
        x >= 0.0 && y >= 0.0 && x <= (self.width - 1) as f32 && y <= (self.height - 1) as f32
    }

    pub(super) fn map(&self, with: impl Fn(f32) -> f32) -> Sheet {
        Sheet { values: self.values.iter().map(|v| with(*v)).collect(), ..*self }
    }

    /// Pixel by pixel with another sheet of the same size.
    pub(super) fn with(&self, other: &Sheet, both: impl Fn(f32, f32) -> f32) -> Sheet {
        Sheet { values: self.values.iter().zip(&other.values).map(|(a, b)| both(*a, *b)).collect(), ..*self }
    }

    pub(super) fn mean(&self) -> f64 {
        self.values.iter().map(|v| f64::from(*v)).sum::<f64>() / self.values.len() as f64
    }

    /// Root of the mean square.
    pub(super) fn size(&self) -> f64 {
        self.map(|v| v * v).mean().sqrt()
    }

    /// Third moment over the third power of the size: above 0 where the great values are positive.
    pub(super) fn skew(&self) -> f64 {
        self.map(|v| v * v * v).mean() / self.size().powi(3).max(1.0e-12)
    }

    /// Smoothed by a Gaussian of that standard deviation (pixels); at the rim, the mean of what is
    /// inside.
    pub(super) fn smooth(&self, deviation: f64) -> Sheet {
        let along = |sheet: &Sheet| sheet.rows(|row, out| smooth_row(row, out, deviation)).turned();
        along(&along(self))
    }

    fn rows(&self, with: impl Fn(&[f32], &mut [f32])) -> Sheet {
        let mut out = self.clone();
        for (from, to) in self.values.chunks_exact(self.width).zip(out.values.chunks_exact_mut(self.width)) {
            with(from, to);
        }
        out
    }

    /// Rows and columns exchanged.
    fn turned(&self) -> Sheet {
        Sheet::from_fn(self.height, self.width, |x, y| self.at(y, x))
    }

    /// Slopes along x and y: half the difference of the neighbours, of one at the rim.
    pub(super) fn slopes(&self) -> [Sheet; 2] {
        let (w, h) = (self.width, self.height);
        let slope = |a: f32, b: f32, apart: usize| (b - a) / apart.max(1) as f32;
        let across = |x: usize, y: usize| {
            let (low, high) = (x.saturating_sub(1), (x + 1).min(w - 1));
            slope(self.at(low, y), self.at(high, y), high - low)
        };
        let down = |x: usize, y: usize| {
            let (low, high) = (y.saturating_sub(1), (y + 1).min(h - 1));
            slope(self.at(x, low), self.at(x, high), high - low)
        };
        [Sheet::from_fn(w, h, across), Sheet::from_fn(w, h, down)]
    }
}

fn smooth_row(row: &[f32], out: &mut [f32], deviation: f64) {
    if deviation < SUMMED {
        let reach = (3.5 * deviation).ceil() as usize;
        let weights: Vec<f32> = (0..=reach).map(|k| (-0.5 * (k as f64 / deviation).powi(2)).exp() as f32).collect();
        let whole: Vec<f32> = weights[1..].iter().rev().chain(&weights).copied().collect();
        let all: f32 = whole.iter().fold(0.0, |sum, w| sum + w);
        for (x, out) in out.iter_mut().enumerate() {
            // Away from the rim the same weights hold everywhere.
            if let Some(near) = x.checked_sub(reach).and_then(|low| row.get(low..low + whole.len())) {
                *out = near.iter().zip(&whole).fold(0.0, |sum, (v, w)| sum + v * w) / all;
                continue;
            }
            let (low, high) = (x.saturating_sub(reach), (x + reach).min(row.len() - 1));
            let near = (low..=high).map(|at| (row[at], weights[at.abs_diff(x)]));
            let (sum, weight) = near.fold((0.0, 0.0), |(sum, weight), (v, w)| (sum + v * w, weight + w));
            *out = sum / weight;
        }
        return;
    }
    // Three running means of 2r + 1 pixels have the variance (2r + 1)² / 4 − 1/4.
    let reach = ((4.0 * deviation * deviation + 1.0).sqrt() / 2.0 - 0.5).round().max(1.0) as usize;
    let mut from = row.to_vec();
    let mut sums = vec![0.0_f64; row.len() + 1];
    for _ in 0..3 {
        for (x, v) in from.iter().enumerate() {
            sums[x + 1] = sums[x] + f64::from(*v);
        }
        // Away from the rim all means are over as many pixels.
        let (wide, count) = (2 * reach + 1, row.len());
        let whole = reach..count.saturating_sub(reach).max(reach);
        let per = 1.0 / wide as f64;
        if count >= wide {
            let pairs = sums[wide..].iter().zip(&sums);
            for (v, (high, low)) in from[whole.clone()].iter_mut().zip(pairs) {
                *v = ((high - low) * per) as f32;
            }
        }
        for x in (0..reach.min(count)).chain(if count >= wide { whole.end..count } else { reach.min(count)..count }) {
            let (low, high) = (x.saturating_sub(reach), (x + reach + 1).min(count));
            from[x] = ((sums[high] - sums[low]) / (high - low) as f64) as f32;
        }
    }
    out.copy_from_slice(&from);
}
