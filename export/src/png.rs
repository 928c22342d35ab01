//! A picture as PNG: 8-bit RGB in sRGB, with its physical size.
//!
//! Must not know what is in the picture.

use crate::ExportError;
use ::png::{BitDepth, ColorType, Compression, Decoder, Encoder, Filter, PixelDimensions, SrgbRenderingIntent, Unit};
use quarterturn_geometry::picture::Picture;
use std::io::{Cursor, Write};

/// Writes a picture whose pixels are `pixel` mm wide and high.
///
/// Compressed fast and lightly, each byte filtered by the mean of its neighbours: of a million pixels
/// of wood that leaves two fifths in some 20 ms; choosing the filter row by row takes four times as
/// long and saves 3 %, better compression twenty times as long and saves a quarter.
///
/// # Errors
/// [`ExportError`] where the picture's bytes don't fill its rows, its pixels have no size, or the
/// writer refuses.
///
/// ```
/// use quarterturn_export::png;
/// use quarterturn_geometry::picture::Picture;
/// let picture = Picture { width: 2, height: 1, bytes: vec![120, 80, 50, 210, 180, 140] };
/// let mut bytes = Vec::new();
/// png::write(&picture, 0.25, &mut bytes).unwrap();
/// assert_eq!(bytes[1..4], *b"PNG");
/// ```
pub fn write(picture: &Picture, pixel: f64, out: impl Write) -> Result<(), ExportError> {
    let Picture { width, height, bytes } = picture;
    let none = || ExportError::NoPicture { width: *width, height: *height, bytes: bytes.len(), pixel };
    let per_metre = (1000.0 / pixel).round();
    if width.checked_mul(*height).and_then(|n| n.checked_mul(3)) != Some(bytes.len()) || bytes.is_empty() {
        return Err(none());
    }
    if !(1.0..=f64::from(u32::MAX)).contains(&per_metre) {
        return Err(none());
    }
    let side = |pixels: usize| u32::try_from(pixels).map_err(|_| none());
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let per_metre = per_metre as u32;
    let mut encoder = Encoder::new(out, side(*width)?, side(*height)?);
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_compression(Compression::Fast);
    encoder.set_filter(Filter::Avg);
    encoder.set_pixel_dims(Some(PixelDimensions { xppu: per_metre, yppu: per_metre, unit: Unit::Meter }));
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(bytes)?;
    Ok(writer.finish()?)
}

/// Reads a picture as [`write`] writes it; nothing where it is of another kind.
pub(crate) fn read(bytes: &[u8]) -> Option<Picture> {
    let mut reader = Decoder::new(Cursor::new(bytes)).read_info().ok()?;
    let mut all = vec![0; reader.output_buffer_size()?];
    let info = reader.next_frame(&mut all).ok()?;
    let [width, height] = [info.width, info.height].map(|side| side as usize);
    let fits =
        (info.color_type, info.bit_depth) == (ColorType::Rgb, BitDepth::Eight) && all.len() == 3 * width * height;
    fits.then_some(Picture { width, height, bytes: all })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture() -> Picture {
        let bytes = (0..12 * 7 * 3u32).map(|i| (i * i % 251) as u8).collect();
        Picture { width: 12, height: 7, bytes }
    }

    #[test]
    fn it_comes_back_as_it_was_with_its_size() {
        let mut bytes = Vec::new();
        write(&picture(), 0.25, &mut bytes).unwrap();
        let mut reader = Decoder::new(Cursor::new(&bytes)).read_info().unwrap();
        let mut back = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut back).unwrap();
        assert_eq!(back, picture().bytes);
        assert_eq!(read(&bytes), Some(picture()));
        assert_eq!(read(&bytes[..40]), None);
        let info = reader.info();
        assert_eq!((info.width, info.height), (12, 7));
        let size = info.pixel_dims.unwrap();
        assert_eq!((size.xppu, size.yppu, size.unit), (4000, 4000, Unit::Meter));
        assert_eq!(info.srgb, Some(SrgbRenderingIntent::Perceptual));
    }

    #[test]
    fn what_is_no_picture_is_refused() {
        let short = Picture { bytes: vec![0; 5], ..picture() };
        assert!(matches!(write(&short, 0.25, Vec::new()), Err(ExportError::NoPicture { bytes: 5, .. })));
        let empty = Picture { width: 0, height: 0, bytes: vec![] };
        assert!(write(&empty, 0.25, Vec::new()).is_err());
        for pixel in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
            assert!(write(&picture(), pixel, Vec::new()).is_err(), "{pixel}");
        }
    }
}
