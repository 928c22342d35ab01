//! One photograph of an end, in linear light and at every size. Must not know what the wood between the ends does.

use super::Unpictured;
use super::block::Node;
use crate::picture::Picture;
use crate::wood::colour::Colour;
use nalgebra::{Point2, Vector2};
use std::sync::OnceLock;

/// One picture in linear light, and ever smaller ones, each half the last.
#[derive(Debug, Clone)]
pub(super) struct Photograph {
    /// Pixels per mm along u and v, and mm per pixel along the coarser of them.
    pub(super) per: Vector2<f64>,
    pixel: f64,
    pub(super) height: f64,
    pub(super) levels: Vec<Level>,
}

#[derive(Debug, Clone)]
pub(super) struct Level {
    width: usize,
    height: usize,
    /// Linear light, 0 to 65535; the fourth part is none.
    light: Vec<[u16; 4]>,
}

/// The whole range of a level's parts.
pub(super) const FULL: f32 = 65_535.0;

impl Photograph {
    pub(super) fn new(picture: &Picture, size: Vector2<f64>) -> Result<Photograph, Unpictured> {
        let (width, height) = (picture.width, picture.height);
        let bytes = width.checked_mul(height).and_then(|n| n.checked_mul(3));
        if bytes != Some(picture.bytes.len()) || width == 0 || height == 0 {
            return Err(Unpictured::NotAPicture);
        }
        let light = |p: &[u8]| {
            let Colour { r, g, b } = Colour::from_srgb8([p[0], p[1], p[2]]);
            [r, g, b, 0.0].map(|part| (part * FULL + 0.5) as u16)
        };
        let mut levels = vec![Level { width, height, light: picture.bytes.chunks_exact(3).map(light).collect() }];
        while let Some(smaller) = levels.last().and_then(|level| level.halved([width, height], levels.len() - 1)) {
            levels.push(smaller);
        }
        let per = Vector2::new(width as f64 / size.x, height as f64 / size.y);
        Ok(Photograph { per, pixel: 1.0 / per.min(), height: size.y, levels })
    }

    /// The level whose pixels are nearest to `grain` mm in size.
    pub(super) fn nearest_level(&self, grain: f64) -> usize {
        let most = self.levels.len() - 1;
        if grain <= self.pixel { 0 } else { ((grain / self.pixel).log2().round() as usize).min(most) }
    }

    /// Light at a place, averaged over `grain` mm: between the two levels whose pixels are nearest
    /// to it in size.
    #[inline]
    pub(super) fn colour(&self, place: &Point2<f64>, grain: f64) -> [f32; 3] {
        let (x, y) = (place.x * self.per.x, (self.height - place.y) * self.per.y);
        let most = (self.levels.len() - 1) as f64;
        let level = if grain <= self.pixel { 0.0 } else { (grain / self.pixel).log2().min(most) };
        let (low, share) = (level as usize, level.fract() as f32);
        let fine = self.levels[low].between(x, y, low);
        if share < 1.0e-3 {
            return fine;
        }
        let coarse = self.levels[low + 1].between(x, y, low + 1);
        std::array::from_fn(|c| fine[c] + share * (coarse[c] - fine[c]))
    }
}

impl Level {
    /// Half as many pixels each way, at least one, each the mean of what it covers of the picture
    /// of `full` pixels that was halved `halvings` times to make this one; none where this is a
    /// single pixel.
    fn halved(&self, full: [usize; 2], halvings: usize) -> Option<Level> {
        if self.width.max(self.height) == 1 {
            return None;
        }
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        // At the right and lower rim a pixel covers less.
        let covered = |n: usize, full: usize| full.min((n + 1) << halvings).saturating_sub(n << halvings) as f32;
        let part = |x: usize, y: usize| {
            let weight = covered(x, full[0]) * covered(y, full[1]);
            (weight, self.light[y.min(self.height - 1) * self.width + x.min(self.width - 1)])
        };
        let mut light = Vec::with_capacity(width * height);
        for (y, x) in (0..height).flat_map(|y| (0..width).map(move |x| (2 * y, 2 * x))) {
            let four = [part(x, y), part(x + 1, y), part(x, y + 1), part(x + 1, y + 1)];
            let all: f32 = four.iter().map(|(weight, _)| weight).sum();
            let mean = |c: usize| four.iter().map(|(weight, p)| weight * f32::from(p[c])).sum::<f32>() / all;
            light.push(std::array::from_fn(|c| (mean(c) + 0.5) as u16));
        }
        Some(Level { width, height, light })
    }

    /// A row of pixels: nodes stand at the columns `across`.
    pub(super) fn draw_row(&self, nodes: impl Iterator<Item = Node>, across: &[usize], line: &mut [u8]) {
        let srgb = srgb_table();
        let mut nodes = nodes.zip(across);
        let Some((mut left, mut from)) = nodes.next() else { return };
        let (right, bottom) = ((self.width - 1) as f32, (self.height - 1) as f32);
        let draw = |at: &Node, pixel: &mut [u8]| {
            let [x, y] = at.place;
            let light = if x >= 0.0 && y >= 0.0 && x < right && y < bottom {
                let (i, j) = (x as usize, y as usize);
                let start = j * self.width + i;
                let (up, down) =
                    (&self.light[start..start + 2], &self.light[start + self.width..start + self.width + 2]);
                mixed([up[0], up[1], down[0], down[1]], x - i as f32, y - j as f32)
            } else {
                let [r, g, b] = self.between(f64::from(x) + 0.5, f64::from(y) + 0.5, 0);
                [r * FULL, g * FULL, b * FULL, 0.0]
            };
            for c in 0..3 {
                // A cast holds to the range.
                pixel[c] = srgb[usize::from((light[c] + at.broad[c]) as u16)];
            }
        };
        if across.len() == 1 {
            line.chunks_exact_mut(3).for_each(|pixel| draw(&left, pixel));
            return;
        }
        for (node, to) in nodes {
            let count = to - from;
            let per = 1.0 / count.max(1) as f32;
            let step = Node {
                place: std::array::from_fn(|n| (node.place[n] - left.place[n]) * per),
                broad: std::array::from_fn(|n| (node.broad[n] - left.broad[n]) * per),
            };
            let mut at = left;
            for pixel in line[3 * from..3 * to].chunks_exact_mut(3) {
                draw(&at, pixel);
                for n in 0..2 {
                    at.place[n] += step.place[n];
                }
                for n in 0..4 {
                    at.broad[n] += step.broad[n];
                }
            }
            (left, from) = (node, to);
        }
        if let Some(pixel) = line.get_mut(3 * from..3 * from + 3) {
            draw(&left, pixel);
        }
    }

    /// Between the pixels, linearly; (x, y) in pixels of the largest picture from its upper left
    /// corner; beyond the rim mirrored.
    #[inline]
    fn between(&self, x: f64, y: f64, halvings: usize) -> [f32; 3] {
        let share = 1.0 / (1_u64 << halvings) as f64;
        let (i, k, a) = neighbours(x * share - 0.5, self.width);
        let (j, l, b) = neighbours(y * share - 0.5, self.height);
        let (up, down) = (j * self.width, l * self.width);
        let four = [self.light[up + i], self.light[up + k], self.light[down + i], self.light[down + k]];
        let [r, g, b, _] = mixed(four, a, b).map(|part| part * (1.0 / FULL));
        [r, g, b]
    }
}

/// Between four pixels, upper ones first, `a` to the right and `b` downward.
#[inline(always)]
fn mixed(four: [[u16; 4]; 4], a: f32, b: f32) -> [f32; 4] {
    let four = four.map(|pixel| pixel.map(f32::from));
    std::array::from_fn(|c| {
        let (upper, lower) = (four[0][c] + a * (four[1][c] - four[0][c]), four[2][c] + a * (four[3][c] - four[2][c]));
        upper + b * (lower - upper)
    })
}

/// The sRGB byte of each light from 0 to 65535.
fn srgb_table() -> &'static [u8] {
    static TABLE: OnceLock<Vec<u8>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let byte = |light: u16| {
            let part = f32::from(light) / FULL;
            Colour { r: part, g: part, b: part }.to_srgb8()[0]
        };
        (0..=u16::MAX).map(byte).collect()
    })
}

/// The two pixels about a place, mirrored at the rim, and how far it is from the first.
#[inline]
fn neighbours(x: f64, count: usize) -> (usize, usize, f32) {
    let floor = x.floor();
    let (first, share) = (floor as i64, (x - floor) as f32);
    let last = count as i64 - 1;
    if first >= 0 && first < last {
        return (first as usize, first as usize + 1, share);
    }
    let mirrored = |n: i64| {
        let n = n.rem_euclid(2 * count as i64);
        (if n > last { 2 * last + 1 - n } else { n }) as usize
    };
    (mirrored(first), mirrored(first + 1), share)
}
