//! Why something can't be written.

use thiserror::Error;

/// Why something can't be written.
#[derive(Debug, Error)]
pub enum ExportError {
    /// The writer refused.
    #[error(transparent)]
    Io(#[from] std::io::Error),
    /// The PNG encoder refused.
    #[error("the picture can't be written: {0}")]
    Png(#[from] ::png::EncodingError),
    /// A picture whose bytes don't fill its rows, or whose pixels have no size.
    #[error("a picture of {width} × {height} pixels with {bytes} bytes, {pixel} mm each, is none")]
    NoPicture {
        /// Pixels in a row.
        width: usize,
        /// Rows.
        height: usize,
        /// Bytes.
        bytes: usize,
        /// The size of a pixel, mm.
        pixel: f64,
    },
    /// A mesh that is empty, larger than the format holds, or names a vertex that it has not.
    #[error("a mesh of {0} triangles can't be written")]
    NoMesh(usize),
    /// A number that is none, or that no machine has room for.
    #[error("{0} is no number that a program can hold")]
    NoNumber(f64),
    /// A program's line is longer than was asked: the line, and the most characters.
    #[error("the line {0} is longer than {1} characters")]
    LongLine(String, usize),
    /// The lettering can't be drawn.
    #[error("the lettering can't be drawn: {0}")]
    Lettering(String),
    /// The PDF can't be made.
    #[error("the PDF can't be made: {0}")]
    Pdf(String),
}
