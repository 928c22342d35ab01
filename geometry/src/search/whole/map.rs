//! The light map of a lay-up: the faces of the finished board, put together from the strips' cut faces.

use super::super::costs::Laid;
use super::faces::{CutFaces, OfPanel, Part};
use crate::board::Face;

/// The wood at one cell of about the size asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cell {
    /// The mean colour over the cell, in linear light, 0 to 65 535 for each sRGB primary.
    pub light: [u16; 3],
    /// L*, in thousandths: 0 black, 100 000 white.
    pub lightness: i32,
    /// Distance into the light from the border between light and dark (as a rule the heartwood line), µm; below 0 in
    /// the dark. 1 m stands for "nowhere near one".
    pub border: i32,
    /// The direction in which the rings run, as twice its angle θ from the front: thousandths of cos 2θ and sin 2θ,
    /// so that a line has one value whichever way along it one looks. 0 and 0: none.
    pub lean: [i16; 2],
}

/// One face of the board, in cells: of what all strips of the stock cover, whichever are laid.
///
/// Both faces are in the board's own X (to the right) and Y (to the back): the lower is as it lies under the upper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Raster {
    /// Which face.
    pub face: Face,
    /// Rows from the front, in each the cells from the left.
    pub cells: Vec<Cell>,
    /// At each strip's left and right edge, where the border lies at each row, µm as in [`Cell::border`].
    pub edges: Vec<[Vec<i32>; 2]>,
}

/// The faces that count of one lay-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LightMap {
    /// The faces: the upper, then the lower where it counts.
    pub faces: Vec<Raster>,
    /// The width of each column, µm.
    pub columns: Vec<u64>,
    /// The place, from 0 at the left, whose strip each column shows.
    pub places: Vec<usize>,
    /// How many rows.
    pub rows: usize,
    /// The height of each, µm.
    pub row: u64,
    /// The blank, by its place in the panel, at each row of each place: rows from the front.
    pub blanks: Vec<Vec<u16>>,
    /// Whether there is light and dark to tell apart; where not, every border is nowhere near.
    pub two_tones: bool,
}

impl LightMap {
    /// The finished board's length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.columns.iter().sum::<u64>() as f64 / 1e3
    }

    /// The width that is shown, mm: where strips are slid, what all strips of the stock cover.
    #[must_use]
    pub fn width(&self) -> f64 {
        (self.row * self.rows as u64) as f64 / 1e3
    }

    /// The cell of the `face`-th face that counts at this column and row.
    #[must_use]
    pub fn cell(&self, face: usize, column: usize, row: usize) -> Option<&Cell> {
        if column >= self.columns.len() {
            return None;
        }
        self.faces.get(face)?.cells.get(row * self.columns.len() + column)
    }

    /// The column left of each glue line between strips.
    pub(super) fn joints(&self) -> impl Iterator<Item = usize> {
        self.places.windows(2).enumerate().filter(|(_, pair)| pair[0] != pair[1]).map(|(column, _)| column)
    }
}

/// A strip in its place.
#[derive(Clone, Copy)]
struct Placed<'a> {
    laid: Laid,
    part: &'a Part,
    panel: &'a OfPanel,
}

impl CutFaces {
    /// The most cells of one map.
    const MOST_OF_A_MAP: usize = 1 << 24;

    /// The light map of this lay-up; `None` where a strip is named that isn't there, or the trims leave nothing.
    ///
    /// A column that the left or right trim cuts through is there where its middle is. Where panels differ in
    /// thickness their columns differ in width.
    #[must_use]
    pub fn lay(&self, laid: &[Laid]) -> Option<LightMap> {
        let placed: Option<Vec<Placed<'_>>> = laid.iter().map(|l| self.placed(*l)).collect();
        let placed = placed?;
        let all: usize = placed.iter().map(|p| p.panel.columns).sum();
        if all.saturating_mul(self.rows) > Self::MOST_OF_A_MAP {
            return None;
        }
        // Column by column: place, column within the strip from its left, width; the trims off both ends alike.
        let columns = placed.iter().enumerate().flat_map(|(place, p)| {
            let width = p.panel.column;
            (0..p.panel.columns).map(move |column| (place, column, width))
        });
        let columns: Vec<(usize, usize, u64)> = columns.collect();
        let gone = gone(&columns, self.trim);
        let kept = columns.get(gone[0]..columns.len().checked_sub(gone[1])?)?;
        if kept.is_empty() {
            return None;
        }
        Some(LightMap {
            faces: (0..self.faces.len()).map(|face| self.raster(face, &placed, kept)).collect(),
            columns: kept.iter().map(|(_, _, width)| *width).collect(),
            places: kept.iter().map(|(place, _, _)| *place).collect(),
            rows: self.rows,
            row: self.row,
            blanks: placed
                .iter()
                .map(|p| (0..self.rows).map(|row| p.part.blanks[p.x(self.rows, row)]).collect())
                .collect(),
            two_tones: self.two_tones,
        })
    }

    fn placed(&self, laid: Laid) -> Option<Placed<'_>> {
        let strip = self.strips.get(laid.strip)?;
        let part = strip.part(laid.turn().first_blank_in_front());
        Some(Placed { laid, part, panel: self.panels.get(strip.panel)? })
    }

    fn raster(&self, face: usize, placed: &[Placed<'_>], kept: &[(usize, usize, u64)]) -> Raster {
        let mut cells = Vec::with_capacity(self.rows * kept.len());
        let upper = self.faces[face] == Face::Upper;
        for row in 0..self.rows {
            for of_a_strip in kept.chunk_by(|a, b| a.0 == b.0) {
                let (place, first, _) = of_a_strip[0];
                let p = &placed[place];
                p.copy(p.section(face, upper), self.rows, row, first..first + of_a_strip.len(), &mut cells);
            }
        }
        let edges = placed.iter().map(|p| {
            let section = p.section(face, upper);
            let edge = |right: bool| {
                let line = &section.edges[usize::from(p.laid.turn().upper_face_to_the_right() == right)];
                (0..self.rows).map(|row| line[p.x(self.rows, row)]).collect()
            };
            [edge(false), edge(true)]
        });
        Raster { face: self.faces[face], edges: edges.collect(), cells }
    }
}

impl Placed<'_> {
    fn section(&self, face: usize, upper: bool) -> &super::faces::Section {
        let far = self.laid.turn().far_face_up() == upper;
        &self.part.sections[face][usize::from(far)]
    }

    /// The panel's x, in cells, at a row from the front.
    const fn x(&self, rows: usize, row: usize) -> usize {
        if self.laid.turn().first_blank_in_front() { row } else { rows - 1 - row }
    }

    fn copy(
        &self,
        section: &super::faces::Section,
        rows: usize,
        row: usize,
        columns: std::ops::Range<usize>,
        cells: &mut Vec<Cell>,
    ) {
        let (turn, count) = (self.laid.turn(), self.panel.columns);
        let line = &section.cells[self.x(rows, row) * count..][..count];
        // As cut Y falls where x grows: a line that leans one way in the panel leans the other way on the board.
        let sign = if turn.upper_face_to_the_right() == turn.first_blank_in_front() { 1 } else { -1 };
        let turned = |cell: &Cell| Cell { lean: [cell.lean[0], sign * cell.lean[1]], ..*cell };
        if turn.upper_face_to_the_right() {
            cells.extend(line[columns].iter().map(turned));
        } else {
            cells.extend(line[count - columns.end..count - columns.start].iter().rev().map(turned));
        }
    }
}

/// How many columns the trim takes off the left and off the right end.
fn gone(columns: &[(usize, usize, u64)], trim: f64) -> [usize; 2] {
    let taken = |widths: &mut dyn Iterator<Item = u64>| {
        let mut x = 0.0;
        widths
            .take_while(|width| {
                let middle = x + *width as f64 / 2e3;
                x += *width as f64 / 1e3;
                middle < trim
            })
            .count()
    };
    [
        taken(&mut columns.iter().map(|(_, _, width)| *width)),
        taken(&mut columns.iter().rev().map(|(_, _, width)| *width)),
    ]
}
