//! How a board looks as a whole: a few cells a strip, each with its mean colour and the direction of its figure.
//!
//! # Formula
//! With g the gradient of the luma (ITU-R BT.709 weights on sRGB bytes) from pixel to pixel, the
//! direction of a cell's figure is (Σ g_x² − g_y², Σ 2 g_x g_y) / (Σ g_x² + g_y² + ε), the doubled
//! angle of the structure tensor: it knows how lines run whatever their contrast (J. Bigün and
//! G. Granlund, *Optimal orientation detection of linear symmetry*, 1987), and is 0 where there are
//! none. Two cells differ by the sum of |Δ| over red, green, blue (bytes), and over both parts of
//! the direction, 1 counting as [`DIRECTION`] bytes.

use super::bench::Bench;
use super::slides::LaidUp;
use super::tiles::{Tiles, starts, steps};
use crate::layup::Turn;
use crate::search::Laid;

/// What a direction of 1 counts for in bytes (our own choice, by eye).
const DIRECTION: f64 = 48.0;
/// ε for each pixel, squared bytes: under this nothing is seen of a line (our own choice).
const FAINT: f64 = 3.0;
/// Cells across the thickest strip.
const ACROSS: usize = 3;

/// Red, green, blue, and the two parts of the direction.
type Cell = [i16; 5];

/// The cells of every strip's cut faces, as cut.
pub(super) struct Views {
    across: Vec<usize>,
    down: usize,
    /// By strip: near and far cut face of the upper face, then of the lower where it counts.
    of: Vec<Vec<Vec<Cell>>>,
    both: bool,
    /// By set of slides, then strip: how far it is slid toward the back, in cells.
    slides: Vec<Vec<i64>>,
}

/// A board seen so, all faces that count.
pub(super) struct View {
    width: usize,
    height: usize,
    /// By face, the cells row by row: of the upper one from the back, of the lower one from the front.
    faces: Vec<Vec<Cell>>,
    /// Cells across a strip.
    strip: usize,
}

impl Views {
    pub(super) fn new(bench: &Bench, tiles: &Tiles, both: bool) -> Self {
        let most = tiles.across().iter().copied().max().unwrap_or(1).max(1);
        let many = bench.count.max(1);
        // Fewer on very long boards: some 200 across the board are enough.
        let to = (200 / many).clamp(1, ACROSS).min(most);
        let by = |n: usize| (n * to / most).max(1);
        let across: Vec<usize> = tiles.across().iter().map(|n| by(*n)).collect();
        let down = by(tiles.down());
        let of =
            (0..across.len()).map(|s| tiles.faces_of(s, |tile, wide| cells(tile, wide, [across[s], down]))).collect();
        let cell = bench.panels.first().map_or(1.0, |p| p.0.width().mm()) / down as f64;
        let slides = bench.slides.iter().map(|set| steps(&set.of, cell)).collect();
        Self { across, down, of, both, slides }
    }

    /// A lay-up as it looks, untrimmed but for what not all strips cover.
    pub(super) fn of(&self, lay: &LaidUp) -> View {
        let slides: Vec<i64> = lay.laid.iter().map(|l| self.slides[lay.set][l.strip]).collect();
        let spread = starts(&slides, true).into_iter().max().unwrap_or(0);
        // A cell is coarse: what is narrower than one is one.
        let height = self.down.saturating_sub(spread).max(1);
        let face = |upper: bool| {
            let starts = starts(&slides, upper);
            let mut cells = Vec::new();
            for row in 0..height {
                for (l, start) in lay.laid.iter().zip(&starts) {
                    self.row(l, upper, (row + start).min(self.down - 1), &mut cells);
                }
            }
            cells
        };
        let faces = [true, false].into_iter().take(if self.both { 2 } else { 1 }).map(face).collect();
        let width = lay.laid.iter().map(|l| self.across[l.strip]).sum::<usize>().max(1);
        let strip = lay.laid.first().map_or(1, |l| self.across[l.strip]);
        View { width, height, faces, strip }
    }

    /// One row of one strip as it lies, from its own end at the top.
    fn row(&self, l: &Laid, upper: bool, row: usize, cells: &mut Vec<Cell>) {
        let turn = l.turn();
        let far = turn.far_face_up() == upper;
        let across = self.across[l.strip];
        let upside_down = turn.first_blank_in_front() == upper;
        let row = if upside_down { self.down - 1 - row } else { row };
        let backward = !turn.upper_face_to_the_right();
        let Some(tile) = self.of[l.strip].get(usize::from(far) + if upper { 0 } else { 2 }) else { return };
        let line = &tile[row * across..(row + 1) * across];
        let turned = |cell: &Cell| if upside_down != backward { mirrored(*cell) } else { *cell };
        if backward {
            cells.extend(line.iter().rev().map(turned));
        } else {
            cells.extend(line.iter().map(turned));
        }
    }
}

/// Seen in a mirror: a rising line falls.
const fn mirrored([r, g, b, along, rising]: Cell) -> Cell {
    [r, g, b, along, -rising]
}

#[allow(clippy::cast_possible_truncation)]
fn cells(tile: &[[u8; 3]], wide: usize, [across, down]: [usize; 2]) -> Vec<Cell> {
    let high = tile.len() / wide.max(1);
    let luma = |row: usize, column: usize| {
        let [r, g, b] = tile[row * wide + column].map(f64::from);
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let span = |i: usize, from: usize, to: usize| i * from / to..((i + 1) * from / to).max(i * from / to + 1);
    let cell = |row: usize, column: usize| {
        let (rows, columns) = (span(row, high, down), span(column, wide, across));
        let many = (rows.len() * columns.len()) as f64;
        let (mut light, mut along, mut rising, mut all) = ([0.0; 3], 0.0, 0.0, 0.0);
        for r in rows {
            for c in columns.clone() {
                let rgb = tile[r * wide + c];
                light = std::array::from_fn(|n| light[n] + f64::from(rgb[n]));
                if r + 1 < high && c + 1 < wide {
                    let here = luma(r, c);
                    let (gx, gy) = (luma(r, c + 1) - here, luma(r + 1, c) - here);
                    along += gx * gx - gy * gy;
                    rising += 2.0 * gx * gy;
                    all += gx * gx + gy * gy;
                }
            }
        }
        let direction = DIRECTION / (all + FAINT * many);
        let [r, g, b] = light.map(|sum| (sum / many).round() as i16);
        [r, g, b, (along * direction).round() as i16, (rising * direction).round() as i16]
    };
    (0..down).flat_map(|row| (0..across).map(move |column| (row, column))).map(|(r, c)| cell(r, c)).collect()
}

/// In thousandths of a byte for each of the five parts: how two views differ, seen as they are.
impl View {
    /// The mean difference from its own mirror image about a centre line: left and right changed, or front and back.
    pub(super) fn off_mirror(&self, turn: Turn) -> u64 {
        self.compared(self, turn, 0, u64::MAX)
    }

    /// How far from the middle, in half strips, the face is most nearly its own mirror image, left and right changed: 0
    /// unless another place, at most two strips and a quarter of the board away, is twice as good.
    pub(super) fn mirror_line(&self) -> isize {
        let half = |n: isize| n * isize::try_from(self.strip).unwrap_or(1);
        let most = isize::try_from(self.width / 2 / self.strip.max(1)).unwrap_or(0).min(4);
        let middle = self.compared(self, Turn::RolledOver, 0, u64::MAX);
        let of = |n: isize| (self.compared(self, Turn::RolledOver, half(n), u64::MAX), n.abs(), n);
        let good = (-most..=most).filter(|n| *n != 0).map(of).filter(|(apart, ..)| apart * 2 < middle);
        good.min_by_key(|(apart, away, _)| (*away, *apart)).map_or(0, |(_, _, n)| n)
    }

    /// The least difference from another view, however that is turned half round or mirrored, and slid by up to two
    /// strips: no more than `limit` is worked out.
    pub(super) fn apart(&self, other: &Self, limit: u64) -> u64 {
        let slides = (self.width.min(other.width) / 4).min(2 * self.strip) / self.strip.max(1);
        let slides = isize::try_from(slides).unwrap_or(0);
        let step = isize::try_from(self.strip).unwrap_or(1);
        let mut least = limit;
        for turn in Turn::ALL {
            for slide in -slides..=slides {
                least = least.min(self.compared(other, turn, slide * step, least));
            }
        }
        least
    }

    /// The mean difference from another view: as it is, mirrored left to right (rolled over), turned half round (end
    /// for end) or mirrored front to back (end over end); slid along the length by so many cells from where both
    /// middles meet.
    #[allow(clippy::cast_sign_loss)]
    fn compared(&self, other: &Self, turn: Turn, slide: isize, limit: u64) -> u64 {
        let middle = (self.width as isize - other.width as isize).div_euclid(2) + slide;
        let from = middle.max(0);
        let to = (middle + other.width as isize).min(self.width as isize);
        // What both are wide, their middles on one another.
        let high = self.height.min(other.height);
        let [first, other_first] = [(self.height - high) / 2, (other.height - high) / 2];
        let faces = self.faces.len().min(other.faces.len());
        if to <= from || high * faces == 0 {
            return u64::MAX;
        }
        let backward = matches!(turn, Turn::RolledOver | Turn::EndForEnd);
        let upside_down = matches!(turn, Turn::EndForEnd | Turn::EndOverEnd);
        let many = (to - from) as u64 * (high * faces) as u64 * 5;
        let enough = limit.saturating_mul(many) / 1000;
        let sign = if backward == upside_down { 1 } else { -1 };
        let mut sum = 0_u64;
        for (face, row) in (0..faces).flat_map(|face| (0..high).map(move |row| (face, row))) {
            let other_row = other_first + if upside_down { high - 1 - row } else { row };
            let line = &self.faces[face][(first + row) * self.width..][..self.width];
            let other_line = &other.faces[face][other_row * other.width..][..other.width];
            for x in from..to {
                let at = (x - middle) as usize;
                let b = other_line[if backward { other.width - 1 - at } else { at }];
                let a = line[x as usize];
                sum += (0..4).map(|n| u64::from(a[n].abs_diff(b[n]))).sum::<u64>();
                sum += u64::from(a[4].abs_diff(sign * b[4]));
            }
            if sum > enough {
                return u64::MAX;
            }
        }
        sum * 1000 / many
    }
}
