//! Drawing many pixels at once: what changes slowly is worked out on a lattice. Must not know of boards or files.

use super::photograph::FULL;
use super::{Pictured, passed};
use nalgebra::{Point3, Vector3};

/// A rectangle of pixels to be drawn: where the middle of the upper left one lies in the blank, and how far it is from
/// pixel to pixel.
#[derive(Debug, Clone, Copy)]
pub struct Block {
    /// The first pixel's place.
    pub from: Point3<f64>,
    /// To the next one of a row, and to the next row.
    pub steps: [Vector3<f64>; 2],
    /// Columns and rows.
    pub pixels: [usize; 2],
    /// The size of a pixel, mm.
    pub grain: f64,
}

impl Block {
    /// The place of a pixel, by its column and row.
    #[inline]
    pub fn at(&self, column: usize, row: usize) -> Point3<f64> {
        self.from + self.steps[1] * row as f64 + self.steps[0] * column as f64
    }

    /// The bytes of each of its rows, in a picture with `stride` bytes a row.
    pub(in crate::wood) fn lines<'a>(&self, bytes: &'a mut [u8], stride: usize) -> impl Iterator<Item = &'a mut [u8]> {
        let wide = 3 * self.pixels[0];
        bytes.chunks_mut(stride.max(1)).take(self.pixels[1]).filter_map(move |line| line.get_mut(..wide))
    }
}

/// What changes slowly over a block, at a node of its lattice.
#[derive(Clone, Copy)]
pub(super) struct Node {
    /// Place in the pixels of the level.
    pub(super) place: [f32; 2],
    /// What makes the end's own broad colour that of both, 0 to 65535.
    pub(super) broad: [f32; 4],
}

/// Nodes lie no farther apart than this, mm, nor than so many pixels.
const APART: f64 = 1.4;
const MOST_APART: f64 = 16.0;

impl Pictured {
    /// Draws a block as [`Pictured::colour`] does pixel by pixel, into sRGB bytes, `stride` of them from row to row:
    /// what changes slowly is worked out on a lattice, and of the photograph the level is taken whose pixels are
    /// nearest in size.
    ///
    /// `false`, and nothing drawn, where the detail passes from one end to the other within it.
    pub fn draw(&self, block: &Block, bytes: &mut [u8], stride: usize) -> bool {
        let [columns, rows] = block.pixels;
        let corner = |i: usize, j: usize| block.at(i, j);
        let last = [columns.saturating_sub(1), rows.saturating_sub(1)];
        let corners = [corner(0, 0), corner(last[0], 0), corner(0, last[1]), corner(last[0], last[1])];
        let passing = corners.map(|at| passed((at.z / self.length) as f32));
        let end = match &self.photographs {
            [Some(_), Some(_)] if passing == [0.0; 4] => 0,
            [Some(_), Some(_)] if passing == [1.0; 4] => 1,
            [Some(_), None] => 0,
            [None, Some(_)] => 1,
            _ => return false,
        };
        let Some(photograph) = &self.photographs[end] else { return false };
        let level = photograph.nearest_level(block.grain);
        let apart = ((APART / block.grain).floor()).clamp(1.0, MOST_APART) as usize;
        let across: Vec<usize> = (0..last[0]).step_by(apart).chain([last[0]]).collect();
        let node_row = |j: usize| -> Vec<Node> {
            across.iter().map(|i| self.node(&corner(*i, j), end, level, block.grain)).collect()
        };
        let mut upper = node_row(0);
        for top in (0..rows).step_by(apart) {
            let bottom = (top + apart).min(last[1]).max(top);
            let lower = if bottom > top { node_row(bottom) } else { upper.clone() };
            let until = if bottom == last[1] { rows } else { bottom };
            for row in top..until {
                let t = if bottom > top { (row - top) as f32 / (bottom - top) as f32 } else { 0.0 };
                let nodes = upper.iter().zip(&lower).map(|(a, b)| a.mix(b, t));
                let Some(line) = bytes.get_mut(row * stride..row * stride + 3 * columns) else { return false };
                photograph.levels[level].draw_row(nodes, &across, line);
            }
            upper = lower;
            if until == rows {
                break;
            }
        }
        true
    }

    fn node(&self, at: &Point3<f64>, end: usize, level: usize, grain: f64) -> Node {
        let at = self.held(at);
        let ways = self.ways_at(&at);
        let t = (at.z / self.length) as f32;
        let wide = grain.max(self.ring_width);
        let broad = match &self.photographs {
            [Some(near), Some(far)] => {
                let [near, far] =
                    [(near, 0), (far, 1)].map(|(photograph, end)| photograph.colour(&(at.xy() + ways[end]), wide));
                let more = |c: usize| if end == 0 { t * (far[c] - near[c]) } else { (1.0 - t) * (near[c] - far[c]) };
                [more(0) * FULL, more(1) * FULL, more(2) * FULL, 0.0]
            }
            _ => [0.0; 4],
        };
        let place = self.photographs[end].as_ref().map_or([0.0; 2], |photograph| {
            let place = at.xy() + ways[end];
            let share = 1.0 / (1_u64 << level) as f64;
            let x = place.x * photograph.per.x * share - 0.5;
            let y = (photograph.height - place.y) * photograph.per.y * share - 0.5;
            [x as f32, y as f32]
        });
        Node { place, broad }
    }
}

impl Node {
    pub(super) fn mix(&self, other: &Node, t: f32) -> Node {
        Node {
            place: std::array::from_fn(|n| self.place[n] + t * (other.place[n] - self.place[n])),
            broad: std::array::from_fn(|n| self.broad[n] + t * (other.broad[n] - self.broad[n])),
        }
    }
}
