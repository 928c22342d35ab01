//! The board's faces as pictures.

use super::promised::Promised;
use super::{Board, Spot};
use crate::cut::Face;
use crate::picture::Picture;
use crate::wood::Colour;
use nalgebra::Point3;

/// How a face is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceOptions {
    /// The size of one pixel, mm.
    pub pixel: f64,
    /// Whether glue lines are drawn as hairlines.
    pub glue_lines: bool,
    /// How many threads may draw.
    pub workers: usize,
    /// How much of the figure is drawn.
    pub figure: FigureDrawn,
}

/// How much of the figure is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FigureDrawn {
    /// All of it: what is not known is drawn as the wood could have it.
    #[default]
    Whole,
    /// As far as it is promised: where single rings are not, only their direction, the heartwood
    /// line and zones of colour; where nothing is, the wood's mean colour under pencil lines.
    AsPromised,
}

/// The greatest number of pixels that a face is drawn with: 25 million, 75 MB.
const MOST_PIXELS: f64 = 2.5e7;

impl FaceOptions {
    /// The finest pixel that this board can be drawn with, mm.
    #[must_use]
    pub fn finest_pixel(board: &Board) -> f64 {
        let size = board.finished();
        // A little coarser, so that rounding to whole pixels stays under the limit.
        (size.length * size.width / MOST_PIXELS).sqrt() * 1.001
    }
}

impl Board {
    /// A face, drawn from the wood model at the very stations that it shows; `None` where the
    /// picture would have no pixel or more than 25 million.
    #[must_use]
    pub fn picture(&self, face: Face, options: &FaceOptions) -> Option<Picture> {
        let size = self.finished();
        let pixels = |mm: f64| (mm / options.pixel).round();
        let (across, down) = (pixels(size.length), pixels(size.width));
        if !(across >= 1.0 && down >= 1.0 && across * down <= MOST_PIXELS) {
            return None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (width, height) = (across as usize, down as usize);
        let mut bytes = vec![0; width * height * 3];
        let workers = options.workers.clamp(1, 64);
        let promised = (options.figure == FigureDrawn::AsPromised).then(|| Promised::of(self, face, workers));
        let promised = promised.as_ref();
        let rows_each = height.div_ceil(workers);
        std::thread::scope(|scope| {
            for (i, rows) in bytes.chunks_mut(rows_each * width * 3).enumerate() {
                let first = i * rows_each;
                scope.spawn(move || self.draw_rows(face, options, promised, [width, height], first, rows));
            }
        });
        Some(Picture { width, height, bytes })
    }

    fn draw_rows(
        &self,
        face: Face,
        options: &FaceOptions,
        promised: Option<&Promised>,
        [width, height]: [usize; 2],
        first: usize,
        rows: &mut [u8],
    ) {
        let size = self.finished();
        let (step_x, step_y) = (size.length / width as f64, size.width / height as f64);
        let hairline = (options.pixel / 2.0).max(HAIRLINE / 2.0);
        let z = self.height_of(face);
        let drawn = |spot: &Spot, at: &Point3<f64>| match promised {
            None => self.colour_of(spot, options.pixel),
            Some(promised) => self.colour_shown(spot, options.pixel, promised.at(spot, at)),
        };
        let places = self.places_at(width, step_x);
        for (row, line) in rows.chunks_mut(width * 3).enumerate() {
            let from_top = ((first + row) as f64 + 0.5) * step_y;
            let y = if face == Face::Upper { size.width - from_top } else { from_top };
            for ((column, pixel), place) in line.chunks_exact_mut(3).enumerate().zip(&places) {
                let (x, place) = ((column as f64 + 0.5) * step_x, *place);
                let at = Point3::new(x, y, z);
                let colour = self.spot_in(place, &at).and_then(|spot| drawn(&spot, &at));
                let mut rgb = colour.map_or([0; 3], Colour::to_srgb8);
                if options.glue_lines && self.near_glue_line(place, x, y, hairline) {
                    rgb = rgb.map(|c| c / 2);
                }
                pixel.copy_from_slice(&rgb);
            }
        }
    }

    /// Z of a face in the finished frame.
    pub(super) fn height_of(&self, face: Face) -> f64 {
        if face == Face::Upper { self.finished().thickness } else { 0.0 }
    }

    /// The strip that each column of pixels shows.
    fn places_at(&self, width: usize, step: f64) -> Vec<usize> {
        let mut place = 0;
        let strip = |column: usize| {
            while place + 1 < self.strips().len() && self.span(place)[1] < (column as f64 + 0.5) * step {
                place += 1;
            }
            place
        };
        (0..width).map(strip).collect()
    }

    fn near_glue_line(&self, place: usize, x: f64, y: f64, within: f64) -> bool {
        let size = self.finished();
        let inside = |at: f64, end: f64| at > 0.0 && at < end;
        let near = |line: f64, at: f64| (line - at).abs() < within;
        self.span(place).into_iter().any(|line| inside(line, size.length) && near(line, x))
            || self.blank_spans(place).into_iter().flatten().any(|line| inside(line, size.width) && near(line, y))
    }
}

/// How wide a glue line is drawn where the picture is fine enough, mm (common practice, no source:
/// a good joint shows about a tenth of a millimetre).
const HAIRLINE: f64 = 0.12;
