//! What stands out from the background.

use crate::picture::Picture;
use nalgebra::{SMatrix, SVector};

/// For each pixel whether it stands out.
pub(super) struct Mask {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) out: Vec<bool>,
}

/// 1, x, y, x², xy, y².
const TERMS: usize = 6;
type Terms = SVector<f64, TERMS>;

/// The border that is looked at first, as a share of the shorter side.
const BORDER: f64 = 0.04;
/// A pixel stands out from this many times the background's own unevenness on.
const LEAST: f32 = 6.0;
/// And from this share on of how far the most of it stands out: a soft shadow does so less.
const SHARE: f32 = 0.25;
/// No background is more even than this, sRGB bytes.
const EVENEST: f64 = 2.0;

/// Marks what stands out; none where too little does, or the picture is too small to tell.
pub(super) fn stands_out(picture: &Picture) -> Option<Mask> {
    let (width, height) = (picture.width, picture.height);
    let band = ((width.min(height) as f64 * BORDER) as usize).max(2);
    if width < 8 * band || height < 8 * band {
        return None;
    }
    let in_border = |i: usize| {
        let (x, y) = (i % width, i / width);
        x < band || y < band || x + band >= width || y + band >= height
    };
    let smooth = smoothed(picture);
    let mut ground: Vec<bool> = (0..width * height).map(in_border).collect();
    let mut mask = Vec::new();
    // Once by the border alone, then by all that was found to be background.
    for _ in 0..2 {
        let far = distances(&smooth, width, height, &ground)?;
        let limit = limit(&far)?;
        mask = far.iter().map(|d| *d > limit).collect();
        let wide = grown(&mask, width, height, band);
        ground = wide.iter().enumerate().map(|(i, out)| !out || (in_border(i) && !mask[i])).collect();
    }
    Some(Mask { width, height, out: mask })
}

/// The mean of each pixel and its eight neighbours, against noise.
fn smoothed(picture: &Picture) -> Vec<[f32; 3]> {
    let (width, height) = (picture.width, picture.height);
    let at = |x: usize, y: usize, c: usize| f32::from(picture.bytes[3 * (y * width + x) + c]);
    let around = |i: usize, side: usize| i.saturating_sub(1)..=(i + 1).min(side - 1);
    let mean = |x: usize, y: usize, c: usize| {
        let mut sum = (0.0, 0.0);
        for j in around(y, height) {
            for i in around(x, width) {
                sum = (sum.0 + at(i, j, c), sum.1 + 1.0);
            }
        }
        sum.0 / sum.1
    };
    (0..width * height).map(|i| std::array::from_fn(|c| mean(i % width, i / width, c))).collect()
}

/// How far each pixel is from the background's surface, in units of the background's own unevenness.
fn distances(smooth: &[[f32; 3]], width: usize, height: usize, ground: &[bool]) -> Option<Vec<f32>> {
    let places: Vec<usize> = (0..smooth.len()).filter(|i| ground[*i]).collect();
    // Some thousand places tell as much as all.
    let every = (places.len() / 6000).max(1);
    let places: Vec<usize> = places.into_iter().step_by(every).collect();
    let mut far = vec![0.0_f32; smooth.len()];
    for c in [0, 1, 2] {
        let value = |i: usize| f64::from(smooth[i][c]);
        let (surface, uneven) = fitted(&places, |i| terms(i, width, height), value)?;
        for (i, sum) in far.iter_mut().enumerate() {
            let off = (value(i) - terms(i, width, height).dot(&surface)) / uneven;
            *sum += (off * off) as f32;
        }
    }
    Some(far.into_iter().map(f32::sqrt).collect())
}

fn terms(i: usize, width: usize, height: usize) -> Terms {
    let x = 2.0 * (i % width) as f64 / width as f64 - 1.0;
    let y = 2.0 * (i / width) as f64 / height as f64 - 1.0;
    Terms::from([1.0, x, y, x * x, x * y, y * y])
}

/// The best of five fits, one to all places and four each without one side of the photograph: what lies across a
/// side then spoils one of them at most. The best has the least median distance.
fn fitted(places: &[usize], terms: impl Fn(usize) -> Terms, value: impl Fn(usize) -> f64) -> Option<(Terms, f64)> {
    let starts: [fn(&Terms) -> bool; 5] = [|_| true, |t| t[1] > -0.8, |t| t[1] < 0.8, |t| t[2] > -0.8, |t| t[2] < 0.8];
    let fits = starts.into_iter().filter_map(|start| {
        let kept = places.iter().copied().filter(|i| start(&terms(*i))).collect();
        trimmed(places, kept, &terms, &value)
    });
    fits.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Least squares, then again without what lies far off, four times; and the spread of what is left.
fn trimmed(
    places: &[usize],
    mut kept: Vec<usize>,
    terms: impl Fn(usize) -> Terms,
    value: impl Fn(usize) -> f64,
) -> Option<(Terms, f64)> {
    let mut fit = (Terms::zeros(), EVENEST);
    for _ in 0..5 {
        let mut normal = SMatrix::<f64, TERMS, TERMS>::zeros();
        let mut right = Terms::zeros();
        for i in &kept {
            let t = terms(*i);
            normal += t * t.transpose();
            right += t * value(*i);
        }
        let surface = normal.cholesky()?.solve(&right);
        let off = |i: usize| (value(i) - terms(i).dot(&surface)).abs();
        let mut all: Vec<f64> = places.iter().map(|i| off(*i)).collect();
        let middle = all.len() / 2;
        let (_, median, _) = all.select_nth_unstable_by(middle, f64::total_cmp);
        // Of a normal distribution the median distance is 0.6745 of the standard deviation.
        let spread = (*median / 0.6745).max(EVENEST);
        fit = (surface, spread);
        kept = places.iter().copied().filter(|i| off(*i) < 3.0 * spread).collect();
    }
    Some(fit)
}

/// From which distance on a pixel stands out; none where fewer than one in two hundred do.
fn limit(far: &[f32]) -> Option<f32> {
    let mut out: Vec<f32> = far.iter().copied().filter(|d| *d > LEAST).collect();
    if out.len() * 200 < far.len() {
        return None;
    }
    let middle = out.len() / 2;
    let (_, median, _) = out.select_nth_unstable_by(middle, f32::total_cmp);
    Some(LEAST.max(SHARE * *median))
}

/// The mask with a margin around it.
fn grown(mask: &[bool], width: usize, height: usize, by: usize) -> Vec<bool> {
    let along = |mask: &[bool], length: usize, step: usize, lines: usize, between: usize| {
        let mut wide = vec![false; mask.len()];
        for line in 0..lines {
            for i in 0..length {
                if mask[line * between + i * step] {
                    for k in i.saturating_sub(by)..=(i + by).min(length - 1) {
                        wide[line * between + k * step] = true;
                    }
                }
            }
        }
        wide
    };
    let across = along(mask, width, 1, height, width);
    along(&across, height, width, width, 1)
}
