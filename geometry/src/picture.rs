//! A picture as bytes: what a face is drawn into, and what a photograph is after it was read.
//!
//! Knows nothing of wood, boards or files.

use std::sync::Mutex;

/// A picture: rows from the top, three bytes of sRGB a pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Red, green and blue, row by row.
    pub bytes: Vec<u8>,
}

impl Picture {
    /// Copies it into a larger one, its left upper pixel there; rows that don't fit are left out.
    pub fn copy_into(&self, page: &mut Self, [left, top]: [usize; 2]) {
        for (row, line) in self.bytes.chunks_exact(self.width.max(1) * 3).enumerate() {
            let start = ((top + row) * page.width + left) * 3;
            if let Some(to) = page.bytes.get_mut(start..start + line.len()) {
                to.copy_from_slice(line);
            }
        }
    }
}

/// Rows of a band: few enough that threads end at about the same time.
const BAND: usize = 64;

/// Draws a picture's bytes in bands of rows, which threads take as they come free: `draw` is given a band's first row
/// and its bytes. Where bands lie doesn't depend on how many threads there are, and so neither does what is drawn.
pub(crate) fn in_bands(bytes: &mut [u8], width: usize, workers: usize, draw: impl Fn(usize, &mut [u8]) + Sync) {
    let bands = Mutex::new(bytes.chunks_mut((BAND * width * 3).max(1)).enumerate());
    let next = || bands.lock().ok()?.next();
    let work = || {
        while let Some((i, rows)) = next() {
            draw(i * BAND, rows);
        }
    };
    std::thread::scope(|scope| {
        (1..workers.clamp(1, 64)).for_each(|_| drop(scope.spawn(work)));
        work();
    });
}
