//! Reads photographs: PNG or JPEG bytes to a [`Photograph`], upright by what the camera noted.
//!
//! | file | what it is for |
//! |---|---|
//! | `jpeg`, `png` | one format each |
//! | `exif` | the one tag that says how the camera was held |
//!
//! # Memory
//! The file is held whole, at most 256 MB of it, and three bytes for each pixel, of which there may be 64 million:
//! 48 million take 144 MB. A PNG needs no more than a few of its rows beside that. A JPEG that comes sharper in
//! several passes (progressive) needs two more bytes for each of its samples while it is read, up to six a pixel.
//!
//! # Colours
//! They are taken as sRGB: a profile in the file, or a gamma, is not applied. 16 bits become 8, grey three times the
//! same, transparent parts white. Pictures in the colours of print (CMYK) are refused: without their profile nobody
//! knows what they look like. So are moving pictures.
//!
//! Must not know what is in the picture.

mod exif;
mod jpeg;
mod png;

use quarterturn_geometry::photo::Photograph;
use std::fs::File;
use std::io::{self, Read as _};
use std::path::Path;
use thiserror::Error;

/// The most pixels that are read: 192 MB.
pub const MOST_PIXELS: usize = 64_000_000;
/// The longest file that is read, bytes.
const MOST_BYTES: u64 = 256_000_000;
/// Fewer pixels on a side show no end of a blank.
const LEAST_SIDE: usize = 32;

/// Why there is no photograph.
#[derive(Debug, Error)]
pub enum PhotoError {
    /// The system says no.
    #[error("{0}")]
    Io(#[from] io::Error),
    /// Longer than any photograph.
    #[error("the file is longer than {} MB", MOST_BYTES / 1_000_000)]
    TooLong,
    /// Another kind of file.
    #[error("{0}; save it as JPEG or PNG")]
    OtherKind(&'static str),
    /// More pixels than are read.
    #[error("it says that it is {0} × {1} pixels; {most} million pixels are the most: save it smaller", most = MOST_PIXELS / 1_000_000)]
    TooLarge(usize, usize),
    /// Too few pixels.
    #[error("it is only {0} × {1} pixels; an end can't be seen in fewer than {LEAST_SIDE} on a side")]
    TooSmall(usize, usize),
    /// Several pictures in one.
    #[error("it is a moving picture; save the one picture that shows the end")]
    Moving,
    /// Colours for print.
    #[error("its colours are those of print (CMYK), which can't be judged on a screen; save it as RGB")]
    Print,
    /// Broken, or not what it says.
    #[error("it is broken or cut off: {0}")]
    Broken(String),
}

/// Reads a photograph's file.
///
/// # Errors
/// [`PhotoError`]: what the system says, or what is wrong with the picture.
pub fn read_file(path: &Path) -> Result<Photograph, PhotoError> {
    if path.is_dir() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is a folder; name the picture in it").into());
    }
    let mut bytes = Vec::new();
    File::open(path)?.take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(PhotoError::TooLong);
    }
    read(&bytes)
}

/// Reads a photograph that a plan names. What is no plain file, a pipe or a device, is not waited for.
///
/// # Errors
/// [`PhotoError`], as [`read_file`].
pub fn read_named(path: &Path) -> Result<Photograph, PhotoError> {
    let plain = std::fs::metadata(path)?;
    if !plain.is_file() && !plain.is_dir() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no plain file").into());
    }
    read_file(path)
}

/// Reads a photograph: which format it is in, its first bytes tell, not its name.
///
/// # Errors
/// [`PhotoError`], for whatever is wrong with it.
pub fn read(bytes: &[u8]) -> Result<Photograph, PhotoError> {
    match bytes {
        [0xff, 0xd8, 0xff, ..] => jpeg::read(bytes),
        [0x89, b'P', b'N', b'G', ..] => png::read(bytes),
        [] => Err(PhotoError::OtherKind("the file is empty")),
        [_, _, _, _, b'f', b't', b'y', b'p', ..] => {
            Err(PhotoError::OtherKind("it is a HEIC or AVIF picture or a film"))
        }
        [b'G', b'I', b'F', ..] => Err(PhotoError::OtherKind("it is a GIF picture")),
        [b'I', b'I', b'*', ..] | [b'M', b'M', 0, b'*', ..] => {
            Err(PhotoError::OtherKind("it is a TIFF picture or a camera's raw one"))
        }
        [b'R', b'I', b'F', b'F', ..] => Err(PhotoError::OtherKind("it is a WebP picture or a film")),
        _ => Err(PhotoError::OtherKind("it is no picture of a kind that is read")),
    }
}

/// The size of a picture as its header says, before anything is set aside for it.
fn sound_size(width: usize, height: usize) -> Result<(), PhotoError> {
    match width.checked_mul(height) {
        Some(pixels) if pixels <= MOST_PIXELS => {}
        _ => return Err(PhotoError::TooLarge(width, height)),
    }
    if width < LEAST_SIDE || height < LEAST_SIDE {
        return Err(PhotoError::TooSmall(width, height));
    }
    Ok(())
}
