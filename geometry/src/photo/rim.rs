//! The rim of a flat end: the camera's blur has mixed the background into its outermost pixels.

use crate::picture::Picture;

/// The same picture with so many pixels at its left, right, upper and lower rim replaced by what lies within, as in a
/// mirror. At most a quarter of the picture on each side.
///
/// ```
/// use quarterturn_geometry::photo::without_rim;
/// use quarterturn_geometry::picture::Picture;
/// let bytes = [9, 50, 60, 70, 80, 90].into_iter().flat_map(|shade| [shade; 3]).collect();
/// let mended = without_rim(Picture { width: 6, height: 1, bytes }, [1, 0, 0, 0]);
/// assert_eq!(mended.bytes[..6], [50; 6]);
/// ```
#[must_use]
pub fn without_rim(mut picture: Picture, [left, right, upper, lower]: [usize; 4]) -> Picture {
    let (width, height) = (picture.width, picture.height);
    if picture.bytes.len() != width * height * 3 {
        return picture;
    }
    let within = |count: usize, first: usize, last: usize| {
        let (first, last) = (first.min(count / 4), last.min(count / 4));
        move |n: usize| match n {
            n if n < first => 2 * first - 1 - n,
            n if n + last >= count => 2 * (count - last) - 1 - n,
            n => n,
        }
    };
    let (column, row) = (within(width, left, right), within(height, upper, lower));
    let from = picture.bytes.clone();
    for y in 0..height {
        for x in 0..width {
            let (i, j) = (column(x), row(y));
            if (i, j) != (x, y) {
                let (to, at) = (3 * (y * width + x), 3 * (j * width + i));
                picture.bytes[to..to + 3].copy_from_slice(&from[at..at + 3]);
            }
        }
    }
    picture
}
