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
        let mut out = self.clone();
        let (width, height) = (self.width, self.height);
        along(&mut out.values, [height, width], [width, 1], deviation);
        along(&mut out.values, [width, height], [1, width], deviation);
        out
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

/// So many lines are smoothed side by side.
const LANES: usize = 16;

/// The same pixel of some lines.
type Lanes = [f32; LANES];

/// Smooths `count` lines of `long` pixels each; the first of one and of the next, and a pixel and the next, lie `apart`
/// and `step` values apart.
fn along(values: &mut [f32], [count, long]: [usize; 2], [apart, step]: [usize; 2], deviation: f64) {
    let mut lines = vec![[0.0; LANES]; long];
    for first in (0..count).step_by(LANES) {
        let lanes = LANES.min(count - first);
        for (n, pixel) in lines.iter_mut().enumerate() {
            (0..lanes).for_each(|k| pixel[k] = values[(first + k) * apart + n * step]);
        }
        let smoothed = if deviation < SUMMED { summed(&lines, deviation) } else { running(lines.clone(), deviation) };
        for (n, pixel) in smoothed.iter().enumerate() {
            (0..lanes).for_each(|k| values[(first + k) * apart + n * step] = pixel[k]);
        }
    }
}

/// By a Gaussian's weights.
fn summed(lines: &[Lanes], deviation: f64) -> Vec<Lanes> {
    let reach = (3.5 * deviation).ceil() as usize;
    let weights: Vec<f32> = (0..=reach).map(|k| (-0.5 * (k as f64 / deviation).powi(2)).exp() as f32).collect();
    let smoothed = |x: usize| {
        let (low, high) = (x.saturating_sub(reach), (x + reach).min(lines.len() - 1));
        let (mut sum, mut all) = ([0.0; LANES], 0.0);
        for (at, pixel) in (low..).zip(&lines[low..=high]) {
            let weight = weights[at.abs_diff(x)];
            (0..LANES).for_each(|k| sum[k] += weight * pixel[k]);
            all += weight;
        }
        sum.map(|sum| sum / all)
    };
    (0..lines.len()).map(smoothed).collect()
}

/// By three running means of 2r + 1 pixels, which have the variance (2r + 1)² / 4 − 1/4.
fn running(mut lines: Vec<Lanes>, deviation: f64) -> Vec<Lanes> {
    let reach = ((4.0 * deviation * deviation + 1.0).sqrt() / 2.0 - 0.5).round().max(1.0) as usize;
    let count = lines.len();
    let mut sums = vec![[0.0_f64; LANES]; count + 1];
    for _ in 0..3 {
        for (x, pixel) in lines.iter().enumerate() {
            let before = sums[x];
            sums[x + 1] = std::array::from_fn(|k| before[k] + f64::from(pixel[k]));
        }
        for (x, pixel) in lines.iter_mut().enumerate() {
            let (low, high) = (x.saturating_sub(reach), (x + reach + 1).min(count));
            let (below, above, per) = (&sums[low], &sums[high], 1.0 / (high - low) as f64);
            *pixel = std::array::from_fn(|k| ((above[k] - below[k]) * per) as f32);
        }
    }
    lines
}
