//! A lay-up as the eye takes it in as a whole, and how different two look.

use super::map::{LightMap, Raster};
use crate::wood::{Colour, Lab};

/// A light map blurred to cells of some [`View::BLUR`] mm.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// By face that counts; rows from the front.
    pub(super) faces: Vec<Vec<Blur>>,
}

/// One blurred cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Blur {
    /// The mean of the light.
    pub(super) lab: Lab,
    /// How the rings run: the mean of [`super::map::Cell::lean`], −1 to 1.
    pub(super) lean: [f64; 2],
    /// How strongly lines stand out: the standard deviation of L*, [`View::MOST_STROKE`] at most.
    pub(super) stroke: f64,
}

impl Blur {
    /// See [`View::difference`]; `over`: the other's front and back have changed places without left and right.
    fn difference(&self, other: &Self, over: bool) -> f64 {
        let lines = self.stroke.min(other.stroke) * 0.5 * apart(self.lean, turned(other.lean, over));
        self.lab.difference(&other.lab) + lines
    }
}

/// The same direction seen in a mirror, where `mirrored`.
pub(super) fn turned([cos, sin]: [f64; 2], mirrored: bool) -> [f64; 2] {
    [cos, if mirrored { -sin } else { sin }]
}

/// 0 to 2: the distance between two doubled directions.
pub(super) fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    let [x, y] = [a[0] - b[0], a[1] - b[1]];
    (x * x + y * y).sqrt()
}

impl View {
    /// The blur: the eye judges a board from where it takes it in as a whole, and single rings and pores don't tell
    /// patterns apart. Side of the square that is averaged, mm (our own choice).
    pub const BLUR: f64 = 5.0;

    /// The greatest difference in L* for which CIEDE2000 may give 1: its weight of lightness S_L is largest at black
    /// and white, 1 + 0.015·50²/√(20 + 50²) = 1.747.
    const MOST_WEIGHT: f64 = 1.75;

    /// Lines stand out by no more than this, L*: at a border between light and dark it isn't the rings that do (our
    /// own choice).
    pub const MOST_STROKE: f64 = 8.0;

    /// How different two lay-ups look, 0 for the same to some 100: the mean over the board (all faces that count) of
    /// CIEDE2000 between their blurred light maps, and, where the rings run another way, of as much as they stand out:
    /// half the distance of their doubled directions (0 to 1) times the weaker of the two standard deviations of L*
    /// within the blurred cell. The second board is turned so that it is least: half round on the bench, and, where
    /// both faces count, over too.
    ///
    /// Of boards of different length (or width) the middle of the longer is compared: two or more strips more of the
    /// same figure make no other kind.
    #[must_use]
    pub fn difference(&self, other: &Self) -> f64 {
        self.compared(other, f64::INFINITY).unwrap_or(f64::INFINITY)
    }

    /// The same where it is below `limit`; `None` where it isn't, often without working it out.
    #[must_use]
    pub fn compared(&self, other: &Self, limit: f64) -> Option<f64> {
        let both = self.faces.len().min(other.faces.len());
        let over = [false, true].into_iter().take(if both > 1 { 2 } else { 1 });
        let mut least = None;
        for (over, round) in over.flat_map(|o| [(o, false), (o, true)]) {
            for late in [[false, false], [true, false], [false, true], [true, true]] {
                let Some(pairs) = self.pairs(other, over, round, late) else { continue };
                let limit = least.unwrap_or(limit);
                let count = pairs.len() as f64;
                let light: f64 = pairs.iter().map(|[a, b]| (a.lab.l - b.lab.l).abs()).sum();
                if light / count / Self::MOST_WEIGHT >= limit {
                    continue;
                }
                let mean = pairs.iter().map(|[a, b]| a.difference(b, over)).sum::<f64>() / count;
                if mean < limit {
                    least = Some(mean);
                }
            }
        }
        least
    }

    /// The cells that lie on one another; `None` where the middles lie alike with one less `late`.
    fn pairs<'a>(&'a self, other: &'a Self, over: bool, round: bool, late: [bool; 2]) -> Option<Vec<[&'a Blur; 2]>> {
        let columns = common(self.columns, other.columns, late[0])?;
        let rows = common(self.rows, other.rows, late[1])?;
        let both = self.faces.len().min(other.faces.len());
        let mut pairs = Vec::with_capacity(both * columns.2 * rows.2);
        for face in 0..both {
            let (one, two) = (&self.faces[face], &other.faces[if over { 1 - face } else { face }]);
            for row in 0..rows.2 {
                for column in 0..columns.2 {
                    // Half round reverses both; over reverses front and back.
                    let at = |start: usize, i: usize, count: usize, back: bool| {
                        if back { count - 1 - start - i } else { start + i }
                    };
                    let here = (rows.0 + row) * self.columns + columns.0 + column;
                    let there = at(rows.1, row, other.rows, round != over) * other.columns
                        + at(columns.1, column, other.columns, round);
                    pairs.push([&one[here], &two[there]]);
                }
            }
        }
        Some(pairs)
    }
}

/// Where the cells in common begin in the one and in the other, their middles on one another (half a cell later where
/// they can't be and it is `late`), and how many they are.
const fn common(one: usize, other: usize, late: bool) -> Option<(usize, usize, usize)> {
    let (shorter, more) = (if one < other { one } else { other }, one.abs_diff(other));
    if late && more.is_multiple_of(2) {
        return None;
    }
    let start = more / 2 + late as usize;
    Some(if one < other { (0, start, shorter) } else { (start, 0, shorter) })
}

impl LightMap {
    /// This lay-up as the eye takes it in as a whole.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub fn view(&self) -> View {
        let cells = |length: f64| ((length / View::BLUR).round() as usize).max(1);
        let (columns, rows) = (cells(self.length()), cells(self.width()));
        let across = shares(&self.columns, columns);
        let down = shares(&vec![self.row; self.rows], rows);
        let faces = self.faces.iter().map(|face| blurred(face, self.columns.len(), &across, &down, [columns, rows]));
        View { columns, rows, faces: faces.collect() }
    }
}

/// Cell, part of the whole, and how much of the cell lies in it: in µm times the number of parts, whole numbers, so
/// that the same widths reversed give the same shares reversed.
pub(super) type Share = (usize, usize, u64);

/// How widths are shared out among so many equal parts of their sum.
pub(super) fn shares(widths: &[u64], parts: usize) -> Vec<Share> {
    let (all, parts) = (widths.iter().sum::<u64>(), parts.max(1));
    let mut shares = Vec::with_capacity(widths.len() + parts);
    let (mut start, mut part) = (0_u64, 0_usize);
    for (cell, width) in widths.iter().enumerate() {
        let end = start + width * parts as u64;
        while start < end {
            let stop = end.min((part as u64 + 1) * all);
            shares.push((cell, part, stop - start));
            start = stop;
            if start == (part as u64 + 1) * all {
                part += 1;
            }
        }
    }
    shares
}

/// What is summed of each cell: light, L* and its square, lean.
const SUMS: usize = 7;

fn blurred(face: &Raster, width: usize, across: &[Share], down: &[Share], [columns, rows]: [usize; 2]) -> Vec<Blur> {
    let mut sums = vec![[0_i128; SUMS]; columns * rows];
    let mut line = vec![[0_i64; SUMS]; columns];
    for of_a_row in down.chunk_by(|a, b| a.0 == b.0) {
        line.fill([0; SUMS]);
        let cells = &face.cells[of_a_row[0].0 * width..][..width];
        for (cell, column, share) in across {
            let (cell, share) = (&cells[*cell], *share as i64);
            let ([r, g, b], l, [cos, sin]) =
                (cell.light.map(i64::from), i64::from(cell.lightness), cell.lean.map(i64::from));
            for (sum, part) in line[*column].iter_mut().zip([r, g, b, l, l * l, cos, sin]) {
                *sum += part * share;
            }
        }
        for (_, row, share) in of_a_row {
            for (sums, line) in sums[row * columns..][..columns].iter_mut().zip(&line) {
                sums.iter_mut().zip(line).for_each(|(sum, part)| *sum += i128::from(*part) * i128::from(*share));
            }
        }
    }
    let of_one = |shares: &[Share], parts: usize| shares.iter().map(|s| i128::from(s.2)).sum::<i128>() / parts as i128;
    let area = of_one(across, columns) * of_one(down, rows);
    sums.iter().map(|sums| blur(sums, area)).collect()
}

fn blur([r, g, b, l, squares, cos, sin]: &[i128; SUMS], area: i128) -> Blur {
    let mean = |sum: i128| sum as f64 / area as f64;
    let part = |sum: i128| (mean(sum) / 65_535.0) as f32;
    let variance = (squares * area - l * l).max(0) as f64 / (area as f64 * area as f64);
    Blur {
        lab: Lab::of(Colour { r: part(*r), g: part(*g), b: part(*b) }),
        lean: [mean(*cos) / 1e3, mean(*sin) / 1e3],
        stroke: (variance.sqrt() / 1e3).min(View::MOST_STROKE),
    }
}
