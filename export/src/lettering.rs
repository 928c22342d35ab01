//! The one font, how wide words are in it, and SVG lettering as pixels.
//!
//! DejaVu Sans is kept beside the code (`fonts/`, with its licence) and nothing else is loaded, so
//! that every machine draws the same. Must not know what is lettered.

use crate::ExportError;
use crate::wording::words;
use quarterturn_geometry::picture::Picture;
use resvg::{tiny_skia, usvg};
use std::sync::{Arc, LazyLock};
use ttf_parser::Face;

/// The font's family, and what a viewer that lacks it may take.
pub(crate) const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

static FONTS: LazyLock<Arc<usvg::fontdb::Database>> = LazyLock::new(|| {
    let mut fonts = usvg::fontdb::Database::new();
    fonts.load_font_data(FONT.to_vec());
    fonts.set_sans_serif_family("DejaVu Sans");
    Arc::new(fonts)
});

/// The font's file.
pub(crate) const FONT: &[u8] = include_bytes!("../fonts/DejaVuSans.ttf");

static FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(FONT, 0).ok());

/// Glyphs of the characters that words are written in, looked up once: a sheet asks for tens of thousands.
static COMMON: LazyLock<Vec<Option<(u16, f64)>>> =
    LazyLock::new(|| (0..0x250_u32).map(|code| looked_up(char::from_u32(code)?)).collect());

/// The glyph of a character and how far it advances, as a share of the font's size; `None` where the font hasn't got it.
pub(crate) fn glyph(c: char) -> Option<(u16, f64)> {
    COMMON.get(c as usize).copied().unwrap_or_else(|| looked_up(c))
}

fn looked_up(c: char) -> Option<(u16, f64)> {
    let face = FACE.as_ref()?;
    let id = face.glyph_index(c)?;
    Some((id.0, f64::from(face.glyph_hor_advance(id)?) / f64::from(face.units_per_em())))
}

/// What a character that the font hasn't got is taken for: as wide as the font's widest common ones.
const OTHER: f64 = 1.0;

/// How wide a word is at a size; never less than it is drawn (kerning only tightens).
pub(crate) fn width(text: &str, size: f64) -> f64 {
    text.chars().map(|c| glyph(c).map_or(OTHER, |(_, advance)| advance)).sum::<f64>() * size
}

/// The largest size up to `most` at which the word is no wider than `room`.
pub(crate) fn fitting(text: &str, room: f64, most: f64) -> f64 {
    let wide = width(text, 1.0);
    if wide > 0.0 { (room / wide).clamp(0.0, most) } else { most }
}

/// Broken into lines no wider than `room`; a word that is wider alone stands in a line of its own.
pub(crate) fn lines(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words(text) {
        match lines.last_mut() {
            Some(line) if width(line, size) + width(" ", size) + width(&word, size) <= room => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// A name as one may write it into XML: control characters become spaces; cut off after `most`
/// characters.
pub(crate) fn plain(name: &str, most: usize) -> String {
    let clean = |c: char| if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') { ' ' } else { c };
    let mut text: String = name.chars().map(clean).take(most).collect();
    if name.chars().count() > most {
        text.pop();
        text.push('…');
    }
    text
}

/// An SVG document, read, its words in the one font.
fn tree(svg: &str) -> Result<usvg::Tree, ExportError> {
    let options = usvg::Options { fontdb: FONTS.clone(), ..usvg::Options::default() };
    usvg::Tree::from_str(svg, &options).map_err(|e| ExportError::Lettering(e.to_string()))
}

/// Draws an SVG over a picture that is as wide as it.
pub(crate) fn draw_over(picture: Picture, svg: &str) -> Result<Picture, ExportError> {
    let failed = |what: &str| ExportError::Lettering(what.to_owned());
    let tree = tree(svg)?;
    let side = |pixels: usize| u32::try_from(pixels).map_err(|_| failed("the picture is too large"));
    let mut map = tiny_skia::Pixmap::new(side(picture.width)?, side(picture.height)?)
        .ok_or_else(|| failed("the picture has no size"))?;
    for (to, from) in map.data_mut().chunks_exact_mut(4).zip(picture.bytes.chunks_exact(3)) {
        to.copy_from_slice(&[from[0], from[1], from[2], 255]);
    }
    #[allow(clippy::cast_possible_truncation)]
    let scale = (picture.width as f64 / f64::from(tree.size().width())) as f32;
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut map.as_mut());
    let mut drawn = picture;
    for (to, from) in drawn.bytes.chunks_exact_mut(3).zip(map.data().chunks_exact(4)) {
        to.copy_from_slice(&from[..3]);
    }
    Ok(drawn)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_fit_and_lines_break() {
        assert!((width("00", 10.0) - 12.72).abs() < 0.01);
        assert!((width("½", 1.0) - 0.969).abs() < 0.001);
        assert_eq!(width("木", 2.0), 2.0);
        assert!((fitting("00", 6.36, 10.0) - 5.0).abs() < 0.01);
        assert_eq!(fitting("", 1.0, 4.0), 4.0);
        assert_eq!(lines("one two three", 1.0, width("one two", 1.0)), ["one two", "three"]);
        assert_eq!(plain("a\u{7}b", 9), "a b");
        assert_eq!(plain("abcdef", 4), "abc…");
    }

    #[test]
    fn the_font_is_there_and_draws() {
        let white = Picture { width: 40, height: 40, bytes: vec![255; 4800] };
        let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">
            <text x="1" y="9" font-family="DejaVu Sans" font-size="10">W</text></svg>"#;
        let drawn = draw_over(white.clone(), svg).unwrap();
        let dark = drawn.bytes.iter().filter(|b| **b < 64).count();
        assert!(dark > 400, "{dark} dark bytes");
        assert!(draw_over(white, "<svg").is_err());
    }
}
