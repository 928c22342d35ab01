//! Each strip's cut faces drawn once; any lay-up of them is put together by turning and copying.
//!
//! A strip shows one of two cut faces on a face of the board, as it is or turned half round about the
//! upright: four ways, the four turns. So a face of any board is made of two tiles a strip, each shifted by whole pixels
//! where strips are slid.

use super::bench::Bench;
use super::slides::LaidUp;
use crate::board::Face;
use crate::measure::Length;
use crate::picture::Picture;
use crate::search::Laid;
use nalgebra::Point3;

/// A tile as cut: X = y to the right, x downward.
type Tile = Vec<[u8; 3]>;

/// The tiles of every strip.
#[derive(Clone, Debug)]
pub struct Tiles {
    pixel: f64,
    /// Pixels across a strip, by its number.
    across: Vec<usize>,
    /// Pixels along a strip.
    down: usize,
    /// By strip: near and far cut face of the upper face, then of the lower where it was drawn.
    of: Vec<Vec<Tile>>,
    /// What the trims take, in pixels: left, right, front, back.
    trims: [usize; 4],
    /// By set of slides, then strip: how far it is slid toward the back, in pixels.
    slides: Vec<Vec<i64>>,
}

impl Tiles {
    /// The most pixels that all tiles may have.
    const MOST: f64 = 5e7;

    /// Draws the tiles with pixels of `pixel` mm, of the upper face or of both, on `workers` threads; `None` where they
    /// would have no pixel, or too many.
    #[must_use]
    pub fn draw(bench: &Bench, pixel: f64, both: bool, workers: usize) -> Option<Self> {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let whole = |mm: f64| (mm / pixel).round().clamp(0.0, Self::MOST) as usize;
        let width = bench.panels.first()?.0.width().mm();
        let thick = |strip: &(usize, i64)| bench.panels[strip.0].0.thickness().mm();
        let across: Vec<usize> = bench.strips.iter().map(|s| whole(thick(s)).max(1)).collect();
        let down = whole(width).max(1);
        let pixels = across.iter().sum::<usize>() as f64 * down as f64;
        if !(pixel > 0.0 && pixels * if both { 4.0 } else { 2.0 } <= Self::MOST) {
            return None;
        }
        let t = &bench.trims;
        let trims = [t.left, t.right, t.front, t.back].map(whole);
        let mut of: Vec<Vec<Tile>> = vec![Vec::new(); across.len()];
        let each = across.len().div_ceil(workers.clamp(1, 64));
        std::thread::scope(|scope| {
            for (i, some) in of.chunks_mut(each).enumerate() {
                let across = &across;
                scope.spawn(move || {
                    for (j, tiles) in some.iter_mut().enumerate() {
                        let strip = i * each + j;
                        *tiles = draw_strip(bench, strip, [across[strip], down], both, pixel);
                    }
                });
            }
        });
        let slides = bench.slides.iter().map(|set| steps(&set.of, pixel)).collect();
        Some(Self { pixel, across, down, of, trims, slides })
    }

    /// The size of a pixel, mm, at which the longest board has no more than so many pixels across and down: a whole
    /// number of pixels to the first panel's thickness.
    #[must_use]
    pub fn pixel_for(bench: &Bench, across: usize, down: usize) -> f64 {
        let thick = |panel: usize| bench.panels.get(panel).map_or(1.0, |p| p.0.thickness().mm());
        let mut each: Vec<f64> = bench.strips.iter().map(|s| thick(s.0)).collect();
        each.sort_by(|a, b| b.total_cmp(a));
        let longest: f64 = each.iter().take(bench.count).sum();
        let width = bench.panels.first().map_or(1.0, |p| p.0.width().mm());
        let least = (longest / across.max(1) as f64).max(width / down.max(1) as f64);
        let whole = (thick(0) / least).floor();
        if whole >= 1.0 { thick(0) / whole } else { least }
    }

    /// The size of a pixel, mm.
    #[must_use]
    pub const fn pixel(&self) -> f64 {
        self.pixel
    }

    /// A face of the board that these strips make, as wide as all of them cover; the lower one only where it was drawn.
    #[must_use]
    pub fn picture(&self, lay: &LaidUp, face: Face) -> Option<Picture> {
        let [left, right, front, back] = self.trims;
        let (top, bottom) = if face == Face::Upper { (back, front) } else { (front, back) };
        let whole: usize = lay.laid.iter().map(|l| self.across[l.strip]).sum();
        let width = whole.checked_sub(left + right).filter(|w| *w > 0)?;
        let slides: Vec<i64> = lay.laid.iter().map(|l| self.slides[lay.set][l.strip]).collect();
        let starts = starts(&slides, face == Face::Upper);
        let spread = starts.iter().max().copied().unwrap_or(0);
        let height = self.down.checked_sub(top + bottom + spread).filter(|h| *h > 0)?;
        let mut bytes = Vec::with_capacity(width * height * 3);
        for row in top..top + height {
            let begun = bytes.len();
            for (l, start) in lay.laid.iter().zip(&starts) {
                self.row(l, face, row + start, &mut bytes)?;
            }
            // What the trims take of this row.
            bytes.truncate(bytes.len() - right * 3);
            bytes.drain(begun..begun + left * 3);
        }
        Some(Picture { width, height, bytes })
    }

    /// One row of one strip as it lies, from its own end at the top.
    fn row(&self, l: &Laid, face: Face, row: usize, bytes: &mut Vec<u8>) -> Option<()> {
        let turn = l.turn();
        let upper = face == Face::Upper;
        let far = turn.far_face_up() == upper;
        let tile = self.of.get(l.strip)?.get(usize::from(far) + if upper { 0 } else { 2 })?;
        let across = self.across[l.strip];
        // The first blank lies at the back; the back is at the top of the upper face and at the bottom of the lower.
        let row = if turn.first_blank_in_front() == upper { (self.down - 1).checked_sub(row)? } else { row };
        let line = tile.get(row * across..(row + 1) * across)?;
        if turn.upper_face_to_the_right() {
            bytes.extend(line.iter().flatten());
        } else {
            bytes.extend(line.iter().rev().flatten());
        }
        Some(())
    }

    /// Pixels across each strip.
    pub(super) fn across(&self) -> &[usize] {
        &self.across
    }

    /// Pixels along every strip.
    pub(super) const fn down(&self) -> usize {
        self.down
    }

    /// What `of` makes of each cut face of a strip, and of its width in pixels.
    pub(super) fn faces_of<T>(&self, strip: usize, of: impl Fn(&[[u8; 3]], usize) -> T) -> Vec<T> {
        self.of[strip].iter().map(|tile| of(tile, self.across[strip])).collect()
    }
}

/// Slides in whole steps.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn steps(slides: &[Length], step: f64) -> Vec<i64> {
    slides.iter().map(|slide| (slide.mm() / step).round() as i64).collect()
}

/// How much of each strip, slid so, stands out beyond what all cover: at the back, or at the front.
pub(super) fn starts(slides: &[i64], at_the_back: bool) -> Vec<usize> {
    let toward = |slide: i64| if at_the_back { slide } else { -slide };
    let least = slides.iter().map(|slide| toward(*slide)).min().unwrap_or(0);
    slides.iter().map(|slide| usize::try_from(toward(*slide) - least).unwrap_or(0)).collect()
}

fn draw_strip(bench: &Bench, strip: usize, [across, down]: [usize; 2], both: bool, pixel: f64) -> Vec<Tile> {
    let (panel, number) = bench.strips[strip];
    let (panel, crosscut) = &bench.panels[panel];
    let near = crosscut.station(number, bench.width).mm();
    let far = near + bench.width.mm();
    let (f, g) = (bench.trims.upper, bench.trims.lower);
    let stations = [near + f, far - f, near + g, far - g];
    let step = [panel.width().mm() / down as f64, panel.thickness().mm() / across as f64];
    let draw = |z: &f64| {
        let mut tile = Tile::with_capacity(across * down);
        for row in 0..down {
            for column in 0..across {
                let at = Point3::new((row as f64 + 0.5) * step[0], (column as f64 + 0.5) * step[1], *z);
                let spot = panel.wood_at(&at);
                let colour = spot.map(|(blank, at)| panel.blanks[blank].blank.figure.colour(&at, pixel));
                tile.push(colour.map_or([0; 3], crate::wood::Colour::to_srgb8));
            }
        }
        tile
    };
    stations.iter().take(if both { 4 } else { 2 }).map(draw).collect()
}
