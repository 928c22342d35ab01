//! The board's faces as pictures.

use super::promised::Promised;
use super::{Board, Spot};
use crate::cut::Face;
use crate::picture::{Picture, in_bands};
use crate::wood::{Block, Colour, Figure};
use nalgebra::Point3;
use std::ops::Range;

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
        in_bands(&mut bytes, width, workers, |first, rows| {
            self.draw_rows(face, options, promised, [width, height], first, rows);
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
        let from_top = |row: usize| ((first + row) as f64 + 0.5) * step_y;
        let y = |row: usize| if face == Face::Upper { size.width - from_top(row) } else { from_top(row) };
        let at = |column: usize, row: usize| Point3::new((column as f64 + 0.5) * step_x, y(row), z);
        let count = rows.len() / (width * 3);
        let places = self.places_at(width, step_x);
        for run in places.chunk_by(|a, b| a == b).scan(0, |from, run| {
            *from += run.len();
            Some((*from - run.len()..*from, run[0]))
        }) {
            let (columns, place) = run;
            // Blanks lie across the strip: along it each row shows one.
            let blank = |row: usize| self.spot_in(place, &at(columns.start, row)).map(|spot| spot.blank);
            let mut top = 0;
            while top < count {
                let here = blank(top);
                let bottom = (top + 1..count).find(|row| blank(*row) != here).unwrap_or(count);
                let piece = Window { columns: columns.clone(), rows: top..bottom };
                let block = self.block(place, &piece, &at, options.pixel);
                let at_once = block.as_ref().filter(|_| promised.is_none());
                if let Some((figure, block)) = at_once {
                    figure.draw(block, &mut rows[(top * width + columns.start) * 3..], width * 3);
                }
                if at_once.is_none() || options.glue_lines {
                    for row in top..bottom {
                        for column in columns.clone() {
                            let pixel = &mut rows[(row * width + column) * 3..][..3];
                            let at = at(column, row);
                            if at_once.is_none() {
                                let colour = self.spot_in(place, &at).and_then(|spot| drawn(&spot, &at));
                                pixel.copy_from_slice(&colour.map_or([0; 3], Colour::to_srgb8));
                            }
                            if options.glue_lines && self.near_glue_line(place, at.x, at.y, hairline) {
                                pixel.iter_mut().for_each(|c| *c /= 2);
                            }
                        }
                    }
                }
                top = bottom;
            }
        }
    }

    /// What a part of one strip shows of one blank, as a block of that blank's own.
    fn block(
        &self,
        place: usize,
        piece: &Window,
        at: &impl Fn(usize, usize) -> Point3<f64>,
        grain: f64,
    ) -> Option<(&Figure, Block)> {
        let (first, last) = ([piece.columns.start, piece.rows.start], [piece.columns.end - 1, piece.rows.end - 1]);
        let spot = |column: usize, row: usize| self.spot_in(place, &at(column, row));
        let from = spot(first[0], first[1])?;
        let (right, down) = (spot(last[0], first[1])?, spot(first[0], last[1])?);
        let step = |to: Point3<f64>, count: usize| (to - from.at) / count.max(1) as f64;
        let steps = [step(right.at, last[0] - first[0]), step(down.at, last[1] - first[1])];
        let block = Block { from: from.at, steps, pixels: [piece.columns.len(), piece.rows.len()], grain };
        Some((&self.blank_at(&from)?.figure, block))
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

/// Columns and rows of a picture.
struct Window {
    columns: Range<usize>,
    rows: Range<usize>,
}

/// How wide a glue line is drawn where the picture is fine enough, mm (common practice, no source:
/// a good joint shows about a tenth of a millimetre).
const HAIRLINE: f64 = 0.12;
