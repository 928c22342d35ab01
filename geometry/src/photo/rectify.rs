//! The flat end out of a photograph.
//!
//! Where the photograph is about as coarse as the flat picture or coarser, each pixel is one bilinear sample, mixed in
//! sRGB bytes. Where it is finer, it is first made smaller by a whole number, each of its new pixels the mean, in linear
//! light, of those that it covers; and each pixel of the flat picture is the mean, in linear light, of a grid of bilinear
//! samples, spread evenly over it and nowhere more than [`STEP`] pixels apart. What is too fine for the flat picture then
//! fades to its mean instead of making patterns that are not in the wood.

use super::reduce::by_whole;
use super::sample::{Light, Row, bilinear};
use super::{Corners, End, Photograph, Projective};
use crate::picture::Picture;
use thiserror::Error;

/// The most pixels that a flat end may have: 192 MB.
pub const MOST_PIXELS: usize = 64_000_000;
/// Samples lie no wider apart than this, in pixels of the photograph.
const STEP: f64 = 1.5;

/// A flat end with its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Rectified {
    /// The picture: u to the right, v up; its upper row is at v = V.
    pub picture: Picture,
    /// Which end it is.
    pub end: End,
    /// Width U and thickness V of the end, mm.
    pub size: [f64; 2],
}

/// Why there is no flat end.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum RectifyError {
    /// The end has no size, or the pixels have none.
    #[error("the end's size and the scale must be more than 0")]
    NoSize,
    /// More pixels than can be held.
    #[error("the flat end would be {0} × {1} pixels; {most} million are the most: take a coarser scale", most = MOST_PIXELS / 1_000_000)]
    TooLarge(usize, usize),
    /// Fewer pixels than show anything.
    #[error("the flat end would be {0} × {1} pixels: take a finer scale")]
    TooSmall(usize, usize),
    /// The photograph's bytes don't fill its rows, or there are fewer than two rows or columns.
    #[error("the photograph holds no picture")]
    NoPicture,
}

/// The size of a pixel of the photograph on the end, mm, in the mean over the end: a flat picture with such pixels
/// is as fine as the photograph.
#[must_use]
pub fn finest(corners: &Corners, size: [f64; 2]) -> f64 {
    (size[0] * size[1] / corners.area().abs()).sqrt()
}

/// Rectifies an end of `size` (width U, thickness V, mm) to pixels of about `pixel` mm: as near as whole pixels allow.
///
/// # Errors
/// [`RectifyError`]: no size, too many pixels or too few, a photograph without a picture.
///
/// ```
/// use quarterturn_geometry::photo::{Corners, End, Photograph, Upright, rectify};
/// use quarterturn_geometry::picture::Picture;
/// let stored = Picture { width: 60, height: 40, bytes: vec![120; 60 * 40 * 3] };
/// let photograph = Photograph { stored, upright: Upright::AsStored };
/// let corners = Corners::new([[10.0, 35.0], [50.0, 36.0], [48.0, 5.0], [12.0, 4.0]], [60, 40]).unwrap();
/// let flat = rectify(&photograph, &corners, [40.0, 30.0], 1.0).unwrap();
/// assert_eq!((flat.picture.width, flat.picture.height, flat.end), (40, 30, End::Far));
/// ```
pub fn rectify(
    photograph: &Photograph,
    corners: &Corners,
    size: [f64; 2],
    pixel: f64,
) -> Result<Rectified, RectifyError> {
    let stored = &photograph.stored;
    let filled = stored.width.checked_mul(stored.height).and_then(|n| n.checked_mul(3)) == Some(stored.bytes.len());
    if !filled || stored.width < 2 || stored.height < 2 || stored.width.max(stored.height) > 1 << 24 {
        return Err(RectifyError::NoPicture);
    }
    let [width, height] = pixels(size, pixel)?;
    let map = photograph.map(corners);
    let finer = Finer::of(&map, [width, height]);
    // No more samples than the photograph has pixels, whatever the perspective.
    let by = (finer.least as usize).clamp(1, stored.width.min(stored.height) / 2);
    let each = [0, 1].map(|axis| {
        let most = 2 * stored.width.max(stored.height).div_ceil([width, height][axis]);
        ((finer.most[axis] / by as f64 / STEP).ceil() as usize).clamp(1, most)
    });
    let small = (by > 1).then(|| by_whole(stored, by));
    let grid = Grid { pixels: [width, height], each, map, by: by as f64 };
    Ok(Rectified { picture: grid.picture(small.as_ref().unwrap_or(stored)), end: corners.end(), size })
}

/// Width and height in pixels.
fn pixels(size: [f64; 2], pixel: f64) -> Result<[usize; 2], RectifyError> {
    if !(size.iter().all(|side| *side > 0.0 && side.is_finite()) && pixel > 0.0 && pixel.is_finite()) {
        return Err(RectifyError::NoSize);
    }
    // A cast of too much gives the greatest.
    let [width, height] = size.map(|side| (side / pixel).round() as usize);
    match width.checked_mul(height) {
        Some(0..=3) => Err(RectifyError::TooSmall(width, height)),
        Some(all) if all <= MOST_PIXELS => Ok([width, height]),
        _ => Err(RectifyError::TooLarge(width, height)),
    }
}

/// How many pixels of the photograph one of the flat picture is: the least of both directions and all corners, and the
/// most in each direction. Between the corners it is between these.
struct Finer {
    least: f64,
    most: [f64; 2],
}

impl Finer {
    fn of(map: &Projective, pixels: [usize; 2]) -> Self {
        let mut finer = Self { least: f64::INFINITY, most: [0.0; 2] };
        for corner in [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]] {
            for (axis, stretch) in map.stretch(corner).into_iter().enumerate() {
                let here = stretch / pixels[axis] as f64;
                finer.least = finer.least.min(here);
                finer.most[axis] = finer.most[axis].max(here);
            }
        }
        finer
    }
}

/// Where the samples are taken: `each` across and down in every pixel of the flat picture, of a photograph that was
/// made smaller `by` so much.
struct Grid {
    pixels: [usize; 2],
    each: [usize; 2],
    map: Projective,
    by: f64,
}

impl Grid {
    fn picture(&self, from: &Picture) -> Picture {
        let [width, height] = self.pixels;
        let bytes = if self.each == [1, 1] { self.single(from) } else { self.means(from) };
        Picture { width, height, bytes }
    }

    /// The row of samples of that number: s = (column + ½) / across, t = 1 − (row + ½) / down.
    fn row(&self, number: usize) -> Row {
        let [across, down] = [0, 1].map(|axis| (self.pixels[axis] * self.each[axis]) as f64);
        let t = 1.0 - (number as f64 + 0.5) / down;
        let along = |row: &[f64; 3]| [row[0] / across, row[0] * 0.5 / across + row[1] * t + row[2]];
        let [x, y, divisor] = self.map.rows();
        let divisor = along(divisor);
        // From the photograph's upper left corner to the middle of the first pixel that is sampled.
        let place = |row: &[f64; 3]| {
            let row = along(row);
            [0, 1].map(|i| row[i] / self.by - 0.5 * divisor[i])
        };
        Row { x: place(x), y: place(y), divisor }
    }

    /// One sample a pixel.
    fn single(&self, stored: &Picture) -> Vec<u8> {
        let [width, height] = self.pixels;
        let mut bytes = vec![0; 3 * width * height];
        for (j, out) in bytes.chunks_exact_mut(3 * width).enumerate() {
            bilinear(stored, &self.row(j), out);
        }
        bytes
    }

    /// The mean of several samples a pixel.
    fn means(&self, stored: &Picture) -> Vec<u8> {
        let ([width, height], [across, down]) = (self.pixels, self.each);
        let light = Light::get();
        let count = (across * down) as u64;
        let mut bytes = vec![0; 3 * width * height];
        let mut samples = vec![0; 3 * width * across];
        let mut sums = vec![[0_u64; 3]; width];
        for (j, out) in bytes.chunks_exact_mut(3 * width).enumerate() {
            sums.fill([0; 3]);
            for k in 0..down {
                bilinear(stored, &self.row(j * down + k), &mut samples);
                add(&samples, across, light, &mut sums);
            }
            for (byte, sum) in out.iter_mut().zip(sums.iter().flatten()) {
                *byte = light.byte((sum + count / 2) / count);
            }
        }
        bytes
    }
}

/// Adds a row of samples to the sums of its pixels.
fn add(samples: &[u8], across: usize, light: &Light, sums: &mut [[u64; 3]]) {
    for (sum, pixel) in sums.iter_mut().zip(samples.chunks_exact(3 * across)) {
        for sample in pixel.chunks_exact(3) {
            for (part, byte) in sum.iter_mut().zip(sample) {
                *part += u64::from(light.of(*byte));
            }
        }
    }
}

impl Rectified {
    /// Width and height of a pixel, mm.
    #[must_use]
    pub fn pixel(&self) -> [f64; 2] {
        [self.size[0] / self.picture.width as f64, self.size[1] / self.picture.height as f64]
    }

    /// The picture as one sees the end with a wide face down: the near end's u runs to the left.
    #[must_use]
    pub fn as_seen(&self) -> Picture {
        let mut picture = self.picture.clone();
        if self.end == End::Near {
            for row in picture.bytes.chunks_exact_mut(3 * picture.width) {
                let (pixels, _) = row.as_chunks_mut::<3>();
                pixels.reverse();
            }
        }
        picture
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::Upright;

    fn photograph(width: usize, height: usize, colour: impl Fn(usize, usize) -> [u8; 3]) -> Photograph {
        let bytes = (0..width * height).flat_map(|i| colour(i % width, i / width)).collect();
        Photograph { stored: Picture { width, height, bytes }, upright: Upright::AsStored }
    }

    /// The pixels from `left`, `top` to `right`, `bottom`, as the far end's corners.
    fn far([left, top, right, bottom]: [f64; 4], size: [usize; 2]) -> Corners {
        Corners::new([[left, bottom], [right, bottom], [right, top], [left, top]], size).unwrap()
    }

    #[test]
    fn square_on_and_pixel_for_pixel_nothing_changes() {
        let taken = photograph(64, 48, |x, y| [(3 * x) as u8, (5 * y) as u8, (x * y % 251) as u8]);
        let flat = rectify(&taken, &far([8.0, 4.0, 56.0, 40.0], [64, 48]), [48.0, 36.0], 1.0).unwrap();
        assert_eq!((flat.picture.width, flat.picture.height, flat.end), (48, 36, End::Far));
        assert_eq!(flat.pixel(), [1.0, 1.0]);
        for (j, row) in flat.picture.bytes.chunks_exact(3 * 48).enumerate() {
            assert_eq!(row, &taken.stored.bytes[3 * ((j + 4) * 64 + 8)..][..3 * 48], "row {j}");
        }
        assert_eq!(flat.as_seen(), flat.picture);
    }

    #[test]
    fn the_near_end_is_flat_in_the_same_frame_and_seen_mirrored() {
        let taken = photograph(64, 48, |x, y| [(3 * x) as u8, (5 * y) as u8, 7]);
        let seen = [[56.0, 40.0], [8.0, 40.0], [8.0, 4.0], [56.0, 4.0]];
        let flat = rectify(&taken, &Corners::new(seen, [64, 48]).unwrap(), [48.0, 36.0], 1.0).unwrap();
        assert_eq!(flat.end, End::Near);
        // The marked corner, at the lower right of the photograph, is at the lower left of the flat end.
        assert_eq!(flat.picture.bytes[3 * 35 * 48..][..3], taken.stored.bytes[3 * (39 * 64 + 55)..][..3]);
        let other = rectify(&taken, &far([8.0, 4.0, 56.0, 40.0], [64, 48]), [48.0, 36.0], 1.0).unwrap();
        assert_eq!(flat.as_seen(), other.picture);
    }

    #[test]
    fn however_it_is_stored_the_same_end_comes_out() {
        let taken = photograph(64, 48, |x, y| [(3 * x) as u8, (5 * y) as u8, (x * x % 251) as u8]);
        let corners = Corners::new([[52.0, 41.0], [9.0, 38.0], [12.0, 6.0], [55.0, 3.0]], [64, 48]).unwrap();
        let plain = rectify(&taken, &corners, [45.0, 35.0], 1.0).unwrap();
        for upright in Upright::ALL {
            // What must be stored so that this turn sets it upright: the turn undone.
            let undone = match upright {
                Upright::Clockwise => Upright::Anticlockwise,
                Upright::Anticlockwise => Upright::Clockwise,
                own => own,
            };
            let stored = undone.turned(taken.stored.clone());
            let other = Photograph { stored, upright };
            assert_eq!(other.size(), [64, 48]);
            assert_eq!(upright.turned(other.stored.clone()), taken.stored);
            let flat = rectify(&other, &corners, [45.0, 35.0], 1.0).unwrap();
            assert_eq!(flat.end, plain.end);
            let off = flat.picture.bytes.iter().zip(&plain.picture.bytes).map(|(a, b)| a.abs_diff(*b)).max();
            assert!(off <= Some(3), "{upright:?}: {off:?}");
        }
    }

    #[test]
    fn what_is_too_fine_fades_to_its_mean_light_and_leaves_no_pattern() {
        let taken = photograph(1000, 800, |x, y| [if (x + y) % 2 == 0 { 0 } else { 255 }; 3]);
        let corners = Corners::new([[60.0, 730.0], [930.0, 770.0], [900.0, 40.0], [30.0, 25.0]], [1000, 800]).unwrap();
        let flat = rectify(&taken, &corners, [87.0, 73.0], 0.73).unwrap();
        // Half black, half white, in linear light: 188. In bytes it would be 128.
        let (least, most) = (flat.picture.bytes.iter().min().unwrap(), flat.picture.bytes.iter().max().unwrap());
        assert!(*least >= 186 && *most <= 190, "from {least} to {most}");
        // One bilinear sample a pixel does leave one: this test can fail.
        let grid = Grid { pixels: [119, 100], each: [1, 1], map: taken.map(&corners), by: 1.0 };
        let single = grid.picture(&taken.stored).bytes;
        let spread = single.iter().max().unwrap() - single.iter().min().unwrap();
        assert!(spread > 60, "{spread}");
    }

    #[test]
    fn what_has_no_size_is_refused() {
        let taken = photograph(64, 48, |_, _| [9; 3]);
        let corners = far([8.0, 4.0, 56.0, 40.0], [64, 48]);
        for (size, pixel) in [([0.0, 9.0], 1.0), ([9.0, f64::NAN], 1.0), ([9.0, 9.0], 0.0), ([9.0, f64::INFINITY], 1.0)]
        {
            assert_eq!(rectify(&taken, &corners, size, pixel), Err(RectifyError::NoSize));
        }
        assert!(matches!(rectify(&taken, &corners, [1e9, 1e9], 1e-3), Err(RectifyError::TooLarge(..))));
        assert!(matches!(rectify(&taken, &corners, [1.0, 1.0], 1.0), Err(RectifyError::TooSmall(1, 1))));
        for stored in [
            Picture { bytes: vec![0; 5], ..taken.stored.clone() },
            Picture { width: 1, height: 48, bytes: vec![0; 144] },
        ] {
            let none = Photograph { stored, upright: Upright::AsStored };
            assert_eq!(rectify(&none, &corners, [9.0, 9.0], 1.0), Err(RectifyError::NoPicture));
        }
        assert!((finest(&corners, [48.0, 36.0]) - 1.0).abs() < 1e-12);
    }
}
