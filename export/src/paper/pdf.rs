//! Pages as PDF: fonts embedded, text that can be selected and searched.
//!
//! A stacked fraction is one cluster of glyphs whose text is `3/8`, so that whoever searches or copies finds the figure
//! as it stands in the report. Must not know what is on a page.

use super::page::{Fraction, Item, Page, Path, Text, Tone};
use crate::ExportError;
use crate::lettering;
use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Data, Document};
use quarterturn_geometry::photo::reduced;
use std::collections::HashMap;
use std::io::Write;
use std::rc::Rc;

/// Points of 1/72 in to the millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Writes the pages; `title` and `language` (its ISO 639-1 code) are for the document's properties.
///
/// # Errors
/// [`ExportError::Pdf`] where a picture can't be read or the PDF can't be made, and what the writer refuses.
pub fn write(pages: &[Page], title: &str, language: &str, mut out: impl Write) -> Result<(), ExportError> {
    let failed = |what: &str| ExportError::Pdf(what.to_owned());
    let font = Font::new(Data::from(lettering::FONT.to_vec()), 0).ok_or_else(|| failed("the font can't be read"))?;
    let mut document = Document::new();
    let properties = Metadata::new().title(lettering::plain(title, 200)).language(language.to_owned());
    document.set_metadata(properties);
    let mut pictures = HashMap::new();
    for page in pages {
        let [wide, high] = page.size.map(points);
        let settings = PageSettings::from_wh(wide, high).ok_or_else(|| failed("a page has no size"))?;
        let mut on = document.start_page_with(settings);
        draw(page, on.surface(), &font, &mut pictures)?;
        on.finish();
    }
    let bytes = document.finish().map_err(|e| failed(&format!("{e:?}")))?;
    Ok(out.write_all(&bytes)?)
}

fn draw(
    page: &Page,
    surface: Surface,
    font: &Font,
    pictures: &mut HashMap<*const u8, Image>,
) -> Result<(), ExportError> {
    let mut pen = Pen { surface, font, pictures };
    page.items.iter().try_for_each(|item| pen.draw(item))?;
    pen.surface.finish();
    Ok(())
}

#[allow(clippy::cast_possible_truncation)]
fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

#[allow(clippy::cast_possible_truncation)]
const fn share(value: f64) -> f32 {
    value as f32
}

struct Pen<'a, 'b> {
    surface: Surface<'a>,
    font: &'b Font,
    /// By address, as fine as where it is first placed: one that stands on several pages is embedded once.
    pictures: &'b mut HashMap<*const u8, Image>,
}

impl Pen<'_, '_> {
    fn draw(&mut self, item: &Item) -> Result<(), ExportError> {
        match item {
            Item::Text(text) => self.text(text),
            Item::Fraction(fraction) => self.fraction(fraction),
            Item::Path(path) => self.path(path),
            Item::Picture { picture, at, size } => return self.picture(picture, *at, *size),
        }
        Ok(())
    }

    fn ink(&mut self, fill: Option<Tone>, stroke: Option<(f64, Tone)>, dashed: bool) {
        let paint = |tone: Tone| luma::Color::new(tone.grey()).into();
        self.surface.set_fill(fill.map(|tone| Fill {
            paint: paint(tone),
            opacity: NormalizedF32::ONE,
            rule: Default::default(),
        }));
        self.surface.set_stroke(stroke.map(|(thick, tone)| Stroke {
            paint: paint(tone),
            width: points(thick),
            dash: dashed.then(|| StrokeDash { array: vec![points(1.6), points(1.1)], offset: 0.0 }),
            ..Stroke::default()
        }));
    }

    fn text(&mut self, text: &Text) {
        let Text { text: said, at, size, .. } = text;
        let glyphs: Vec<KrillaGlyph> = said
            .char_indices()
            .map(|(i, c)| {
                let (id, advance) = lettering::glyph(c).unwrap_or((0, 1.0));
                let range = i..i + c.len_utf8();
                KrillaGlyph::new(GlyphId::new(u32::from(id)), share(advance), 0.0, 0.0, 0.0, range, None)
            })
            .collect();
        let start = Point::from_xy(points(at[0]), points(at[1]));
        if text.upward {
            let [x, y] = at.map(points);
            self.surface.push_transform(&Transform::from_row(0.0, -1.0, 1.0, 0.0, x - y, x + y));
        }
        if text.on_wood {
            self.ink(None, Some((size * 0.2, Tone::White)), false);
            self.surface.draw_glyphs(start, &glyphs, self.font.clone(), said, points(*size), true);
        }
        self.ink(Some(text.tone), None, false);
        self.surface.draw_glyphs(start, &glyphs, self.font.clone(), said, points(*size), false);
        if text.upward {
            self.surface.pop();
        }
    }

    fn fraction(&mut self, fraction: &Fraction) {
        let Fraction { top, bottom, at, size, tone } = fraction;
        let said = format!("{top}/{bottom}");
        let small = size * Fraction::SMALL;
        let wide = Fraction::width(top, bottom, *size);
        let [up, down] = Fraction::baselines(*size);
        let (minus, upper) = Fraction::minus(top, *size);
        let mut glyphs = Vec::new();
        for (figures, raised) in [(upper, up), (bottom, -down)] {
            let mut x = minus + (wide - minus - lettering::width(figures, small)) / 2.0;
            for c in figures.chars() {
                let (id, advance) = lettering::glyph(c).unwrap_or((0, 1.0));
                let (id, over, raised) = (GlyphId::new(u32::from(id)), share(x / small), share(raised / small));
                glyphs.push(KrillaGlyph::new(id, 0.0, over, raised, 0.0, 0..said.len(), None));
                x += advance * small;
            }
        }
        self.ink(Some(*tone), None, false);
        let start = Point::from_xy(points(at[0]), points(at[1]));
        self.surface.draw_glyphs(start, &glyphs, self.font.clone(), &said, points(small), false);
        let bar = at[1] - Fraction::BAR * size;
        let thick = size * Fraction::THICK;
        self.path(&Path::open(vec![[at[0] + minus, bar], [at[0] + wide, bar]], thick, *tone));
        if minus > 0.0 {
            self.path(&Path::open(vec![[at[0], bar], [at[0] + minus * 0.75, bar]], thick, *tone));
        }
    }

    fn path(&mut self, path: &Path) {
        let mut builder = PathBuilder::new();
        for (i, [x, y]) in path.points.iter().enumerate() {
            if i == 0 {
                builder.move_to(points(*x), points(*y));
            } else {
                builder.line_to(points(*x), points(*y));
            }
        }
        if path.closed {
            builder.close();
        }
        if let Some(built) = builder.finish()
            && (path.fill.is_some() || path.stroke.is_some())
        {
            self.ink(path.fill, path.stroke, path.dashed);
            self.surface.draw_path(&built);
        }
    }

    fn picture(&mut self, picture: &Rc<[u8]>, at: [f64; 2], size: [f64; 2]) -> Result<(), ExportError> {
        let failed = || ExportError::Pdf("a picture can't be placed".to_owned());
        let image = match self.pictures.get(&picture.as_ptr()) {
            Some(image) => image.clone(),
            None => {
                let image = opaque(picture, size).ok_or_else(failed)?;
                self.pictures.insert(picture.as_ptr(), image.clone());
                image
            }
        };
        let size = Size::from_wh(points(size[0]), points(size[1])).ok_or_else(failed)?;
        self.moved(at, |surface| surface.draw_image(image, size));
        Ok(())
    }

    fn moved(&mut self, at: [f64; 2], draw: impl FnOnce(&mut Surface)) {
        self.surface.push_transform(&Transform::from_translate(points(at[0]), points(at[1])));
        draw(&mut self.surface);
        self.surface.pop();
    }
}

/// What is printed no finer than this, dots an inch, still looks sharp (common practice, no source).
const DOTS: f64 = 200.0;

/// A picture, made smaller where it is finer than paper shows at its size in mm: to pack it takes the longest of all.
fn opaque(png: &[u8], size: [f64; 2]) -> Option<Image> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let most = (size[0].max(size[1]) / 25.4 * DOTS).ceil() as usize;
    let smaller = crate::png::read(png).map(|picture| reduced(&picture, most)).filter(|(_, by)| *by > 1);
    let mut bytes = Vec::new();
    let packed = smaller.is_some_and(|(picture, _)| crate::png::write(&picture, 25.4 / DOTS, &mut bytes).is_ok());
    Image::from_png(Data::from(if packed { bytes } else { png.to_vec() }), false).ok()
}
