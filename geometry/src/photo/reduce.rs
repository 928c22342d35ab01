//! A photograph made smaller by a whole number, each pixel the mean of those that it covers.

use super::sample::Light;
use crate::picture::Picture;

/// The picture made smaller by the least whole number at which neither side is longer than `most`, and that
/// number. Means are taken in linear light; what doesn't fill a whole pixel at the right and lower edges is left out.
///
/// ```
/// use quarterturn_geometry::{photo::reduced, picture::Picture};
/// let picture = Picture { width: 5, height: 2, bytes: [[0; 3], [255; 3], [9; 3], [9; 3], [1; 3]].concat().repeat(2) };
/// let (small, by) = reduced(&picture, 3);
/// assert_eq!((small.width, small.height, by), (2, 1, 2));
/// assert_eq!(small.bytes, [188, 188, 188, 9, 9, 9]);
/// ```
#[must_use]
pub fn reduced(picture: &Picture, most: usize) -> (Picture, usize) {
    let most = most.max(1);
    let (longer, shorter) = (picture.width.max(picture.height), picture.width.min(picture.height));
    let by = longer.div_ceil(most).min(shorter.max(1));
    (if by <= 1 { picture.clone() } else { by_whole(picture, by) }, by)
}

/// The picture made smaller by a whole number of which neither side has less.
pub(super) fn by_whole(picture: &Picture, by: usize) -> Picture {
    let light = Light::get();
    let (width, height) = (picture.width / by, picture.height / by);
    let mut bytes = Vec::with_capacity(3 * width * height);
    for band in picture.bytes.chunks_exact(3 * picture.width * by) {
        let mut sums = vec![[0_u64; 3]; width];
        for row in band.chunks_exact(3 * picture.width) {
            for (sum, block) in sums.iter_mut().zip(row.chunks_exact(3 * by)) {
                for pixel in block.chunks_exact(3) {
                    for (part, byte) in sum.iter_mut().zip(pixel) {
                        *part += u64::from(light.of(*byte));
                    }
                }
            }
        }
        let count = (by * by) as u64;
        bytes.extend(sums.iter().flatten().map(|sum| light.byte((sum + count / 2) / count)));
    }
    Picture { width, height, bytes }
}
