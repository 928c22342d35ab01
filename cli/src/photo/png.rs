//! PNG, row by row, by `png`.

use super::{PhotoError, exif, sound_size};
use ::png::{ColorType, Decoder, DecodingError, InterlaceInfo, Limits, Transformations, expand_interlaced_row};
use quarterturn_geometry::photo::Photograph;
use quarterturn_geometry::picture::Picture;
use std::io::Cursor;

/// For rows and what stands beside the pixels, bytes.
const BESIDE: usize = 64 << 20;

pub(super) fn read(bytes: &[u8]) -> Result<Photograph, PhotoError> {
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: BESIDE });
    decoder.set_transformations(Transformations::normalize_to_color8());
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    let header = decoder.read_header_info().map_err(broken)?;
    let (width, height) = (header.width as usize, header.height as usize);
    sound_size(width, height)?;
    let mut reader = decoder.read_info().map_err(broken)?;
    if reader.info().animation_control().is_some_and(|moving| moving.num_frames > 1) {
        return Err(PhotoError::Moving);
    }
    let (colours, _) = reader.output_color_type();
    let mut pixels = vec![0; 3 * width * height];
    let mut line = Vec::with_capacity(3 * width);
    let mut at = 0;
    while let Some(row) = reader.next_interlaced_row().map_err(broken)? {
        line.clear();
        three_bytes(row.data(), colours, &mut line)?;
        match row.interlace() {
            InterlaceInfo::Null(_) => {
                let to = pixels.get_mut(at..at + line.len());
                to.ok_or_else(|| PhotoError::Broken("there are more rows than it says".to_owned()))?
                    .copy_from_slice(&line);
                at += line.len();
            }
            InterlaceInfo::Adam7(pass) => expand_interlaced_row(&mut pixels, 3 * width, &line, pass, 24),
        }
    }
    reader.finish().map_err(broken)?;
    let upright = reader.info().exif_metadata.as_deref().map_or_else(Default::default, exif::upright);
    Ok(Photograph { stored: Picture { width, height, bytes: pixels }, upright })
}

#[allow(clippy::needless_pass_by_value)]
fn broken(error: DecodingError) -> PhotoError {
    PhotoError::Broken(error.to_string())
}

/// A row as red, green and blue; what is transparent lies on white.
fn three_bytes(row: &[u8], colours: ColorType, line: &mut Vec<u8>) -> Result<(), PhotoError> {
    let over = |part: u8, opaque: u8| {
        let (part, opaque) = (u32::from(part), u32::from(opaque));
        ((part * opaque + 255 * (255 - opaque) + 127) / 255) as u8
    };
    match colours {
        ColorType::Rgb => line.extend_from_slice(row),
        ColorType::Grayscale => line.extend(row.iter().flat_map(|grey| [*grey; 3])),
        ColorType::GrayscaleAlpha => line.extend(row.chunks_exact(2).flat_map(|p| [over(p[0], p[1]); 3])),
        ColorType::Rgba => line.extend(row.chunks_exact(4).flat_map(|p| [0, 1, 2].map(|i| over(p[i], p[3])))),
        ColorType::Indexed => return Err(PhotoError::Broken("its palette is missing".to_owned())),
    }
    Ok(())
}
