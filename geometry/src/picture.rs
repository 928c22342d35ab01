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
