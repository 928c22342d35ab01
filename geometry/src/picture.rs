//! A picture as bytes: what a face is drawn into, and what a photograph is after it was read.
//!
//! Knows nothing of wood, boards or files.

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
