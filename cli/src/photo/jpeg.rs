//! JPEG, baseline and progressive, by `zune-jpeg`.

use super::{PhotoError, exif, sound_size};
use quarterturn_geometry::photo::Photograph;
use quarterturn_geometry::picture::Picture;
use std::io::Cursor;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// The longest side that the format can say.
const LONGEST: usize = 65_535;
/// The marker that ends a picture.
const END: [u8; 2] = [0xff, 0xd9];

pub(super) fn read(bytes: &[u8]) -> Result<Photograph, PhotoError> {
    let broken = |why: String| PhotoError::Broken(why);
    // Strict: what is missing is told, not painted grey.
    let options = DecoderOptions::default()
        .set_max_width(LONGEST)
        .set_max_height(LONGEST)
        .set_strict_mode(true)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(Cursor::new(bytes), options);
    decoder.decode_headers().map_err(|e| broken(e.to_string()))?;
    let (width, height) = decoder.dimensions().ok_or_else(|| broken("it has no size".to_owned()))?;
    sound_size(width, height)?;
    match decoder.input_colorspace() {
        Some(ColorSpace::YCbCr | ColorSpace::RGB | ColorSpace::Luma) => {}
        Some(ColorSpace::CMYK | ColorSpace::YCCK) => return Err(PhotoError::Print),
        other => return Err(broken(format!("its colours are of no known kind ({other:?})"))),
    }
    if !bytes.windows(2).any(|pair| pair == END) {
        return Err(broken("its end is missing".to_owned()));
    }
    let upright = decoder.exif().map_or_else(Default::default, |block| exif::upright(block));
    let mut pixels = vec![0; 3 * width * height];
    if decoder.output_buffer_size() != Some(pixels.len()) {
        return Err(broken("its colours can't be made red, green and blue".to_owned()));
    }
    decoder.decode_into(&mut pixels).map_err(|e| broken(e.to_string()))?;
    Ok(Photograph { stored: Picture { width, height, bytes: pixels }, upright })
}
