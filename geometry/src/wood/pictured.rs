//! The figure of a blank from photographs of its ends: the colour anywhere between them.
//!
//! Must not know of files, cameras or corners: is given the wood between the ends ([`Between`]) and
//! one or two pictures that were rectified to cover an end from (0, 0) to (U, V), the first row
//! along v = V, both as seen in the blank's (u, v).
//!
//! # Formula
//! The figure **moves**; it isn't faded. A point (u, v, w) is traced to an end: there it has the
//! same distance s across the rings, and the same place along its ring, for it is moved at right
//! angles to the rings, by Newton's steps p ← p + (s − s_end(p)) ∇s_end / |∇s_end|². With C_n and
//! C_f the two photographs at the places so found, and ⟨ ⟩ the mean over about a ring's width,
//!
//! colour = (1 − t)⟨C_n⟩ + t⟨C_f⟩ + (1 − h)(C_n − ⟨C_n⟩) + h(C_f − ⟨C_f⟩)
//!
//! Near the heartwood line, which need not follow a ring, a point keeps its distance from that line in place of its
//! ring: within 2 mm wholly, from there to 10 mm less and less.
//!
//! t = w / length; h steps from 0 to 1 in the middle twentieth of the length. So broad colour is of
//! both ends in proportion; rings, pores and rays are of the nearer one, as sharp as photographed,
//! and where the step lies the rings of both are at the same place.
//!
//! The way to the ends is smooth: it is worked out on a lattice and taken linearly in between.
//! Photographs are kept in linear light, each beside ever smaller ones (Williams, "Pyramidal
//! Parametrics", SIGGRAPH 1983), so that a pixel of any size is a mean.
//!
//! # What it promises
//! At an end with a photograph, that photograph. Beyond the photographed area it goes on mirrored:
//! an extension, not a prediction; [`Between::promise`] says where. It doesn't promise that pores
//! and rays are where they are in the wood: only rings are followed.

use super::colour::Colour;
use super::ends::{Between, Field, HEARTWOOD};
use super::noise::{ease, hold, ramp};
use crate::picture::Picture;
use nalgebra::{Point2, Point3, Vector2, Vector3};
use std::sync::OnceLock;

/// Cells of the lattice along the longer side, and along the grain.
const CELLS: f64 = 36.0;
const STATIONS: usize = 16;
/// Newton's steps; each leaves about a tenth of what the last one left.
const STEPS: usize = 4;
/// A step goes no farther than this share of the longer side; the slope across rings is about 1.
const FARTHEST_STEP: f64 = 0.25;
const LEAST_SLOPE: f64 = 0.2;
/// Width of a ring where none is known, mm: only to tell detail from broad colour.
const USUAL_RING: f64 = 3.0;
/// So near to the heartwood line the way to the ends follows that line alone, and so far from it rings alone, mm; over
/// how many mm its slope is taken.
const LINE_HOLDS: f64 = 2.0;
const LINE_REACH: f64 = 10.0;
const SMALL: f64 = 0.05;
/// Over which share of the length the detail passes from one end to the other.
const PASSING: f64 = 0.05;

/// Why there is no figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Unpictured {
    /// Neither end has a picture.
    #[error("neither end has a photograph")]
    NoPicture,
    /// A picture's bytes don't fit its size.
    #[error("a photograph's bytes don't fit its size")]
    NotAPicture,
}

/// The figure of a blank from photographs of its ends.
///
/// ```
/// use nalgebra::{Point2, Point3, Vector2};
/// use quarterturn_geometry::picture::Picture;
/// use quarterturn_geometry::wood::ends::{EndLine, EndLines, Ends};
/// use quarterturn_geometry::wood::Pictured;
///
/// // Level rings that rise by 4 mm from end to end; a dark line at each.
/// let layers = [0.0, 2.1, 5.1, 6.3, 8.9, 11.1, 12.2, 15.3, 17.7, 20.2, 22.0, 24.9, 26.1];
/// let line = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() };
/// let seen = |rise: f64| layers.map(|v| v + rise).into_iter().filter(|v| (0.0..24.0).contains(v)).collect::<Vec<_>>();
/// let end = |rise: f64| EndLines { rings: seen(rise).into_iter().map(line).collect(), ..EndLines::default() };
/// let ends = Ends { size: Vector2::new(50.0, 24.0), length: 300.0, near: end(-3.0), far: end(1.0), ..Ends::default() };
/// let photograph = |rise: f64| {
///     let dark = |row: usize| seen(rise).iter().any(|v| (24.0 - (row as f64 + 0.5) * 0.1 - v).abs() < 0.3);
///     let bytes = (0..240).flat_map(|row| vec![if dark(row) { 60 } else { 200 }; 3 * 500]).collect();
///     Picture { width: 500, height: 240, bytes }
/// };
/// let wood = Pictured::new(&ends.join().unwrap(), Some(&photograph(-3.0)), Some(&photograph(1.0))).unwrap();
/// // Halfway the line stands halfway, and it is no paler.
/// let on = wood.colour(&Point3::new(20.0, 11.1 - 1.0, 150.0), 0.1).to_srgb8();
/// let off = wood.colour(&Point3::new(20.0, 14.0 - 1.0, 150.0), 0.1).to_srgb8();
/// assert!(on[0] < 75 && off[0] > 185, "{on:?} {off:?}");
/// ```
#[derive(Debug, Clone)]
pub struct Pictured {
    size: Vector2<f64>,
    length: f64,
    photographs: [Option<Photograph>; 2],
    /// None where all goes straight.
    ways: Option<Ways>,
    ring_width: f64,
    mean: Colour,
}

impl Pictured {
    /// The figure between the ends of `wood` from the photographs of the near and the far end.
    ///
    /// # Errors
    /// See [`Unpictured`].
    pub fn new(wood: &Between, near: Option<&Picture>, far: Option<&Picture>) -> Result<Pictured, Unpictured> {
        let (size, length) = (wood.ends().size, wood.ends().length);
        let photographs = photographs(size, near, far)?;
        let (_, _, ring_width) = wood.years();
        let line = wood.beyond_boundary(HEARTWOOD, &Point3::origin()).is_some();
        let field = wood.field(if line { HEARTWOOD } else { "" });
        let ways = Some(Ways::new(&field, line, size, length));
        Ok(Pictured { size, length, mean: mean(&photographs), photographs, ways, ring_width })
    }

    /// The same where it isn't known how the rings run between the ends: each end's picture goes straight on, which
    /// is no prediction. `size` is (U, V), mm.
    ///
    /// # Errors
    /// See [`Unpictured`].
    pub fn straight(
        size: Vector2<f64>,
        length: f64,
        near: Option<&Picture>,
        far: Option<&Picture>,
    ) -> Result<Pictured, Unpictured> {
        let photographs = photographs(size, near, far)?;
        Ok(Pictured { size, length, mean: mean(&photographs), photographs, ways: None, ring_width: USUAL_RING })
    }

    /// (U, V) and the length, mm.
    pub fn size(&self) -> (Vector2<f64>, f64) {
        (self.size, self.length)
    }

    /// About how wide rings are, mm.
    pub fn ring_width(&self) -> f64 {
        self.ring_width
    }

    /// The mean colour of all photographs.
    pub fn mean(&self) -> Colour {
        self.mean
    }

    /// Colour at a point, averaged over about `grain` mm across the grain (the size of a pixel).
    pub fn colour(&self, at: &Point3<f64>, grain: f64) -> Colour {
        let grain = hold(grain, 1.0e-3, 1.0e6);
        let at = Point3::new(held(at.x, self.size.x), held(at.y, self.size.y), hold(at.z, 0.0, self.length));
        let ways = self.ways_at(&at);
        let t = (at.z / self.length) as f32;
        let [near, far] = [0, 1].map(|end| {
            self.photographs[end].as_ref().map(|photograph| {
                let place = at.xy() + ways[end];
                (photograph.colour(&place, grain), photograph.colour(&place, grain.max(self.ring_width)))
            })
        });
        let [r, g, b] = match (near, far) {
            (Some(near), Some(far)) => both(near, far, t),
            (Some((fine, _)), None) | (None, Some((fine, _))) => fine,
            (None, None) => [0.0; 3],
        };
        Colour { r, g, b }
    }

    /// Where a point of the blank is found on the near and on the far end, mm: the same ring, and
    /// the same place along it.
    pub fn on_ends(&self, at: &Point3<f64>) -> [Point2<f64>; 2] {
        let at = Point3::new(held(at.x, self.size.x), held(at.y, self.size.y), hold(at.z, 0.0, self.length));
        self.ways_at(&at).map(|way| at.xy() + way)
    }

    #[inline]
    fn ways_at(&self, at: &Point3<f64>) -> [Vector2<f64>; 2] {
        self.ways.as_ref().map_or([Vector2::zeros(); 2], |ways| ways.at(at))
    }
}

fn photographs(
    size: Vector2<f64>,
    near: Option<&Picture>,
    far: Option<&Picture>,
) -> Result<[Option<Photograph>; 2], Unpictured> {
    let photograph = |picture: Option<&Picture>| picture.map(|p| Photograph::new(p, size)).transpose();
    let photographs = [photograph(near)?, photograph(far)?];
    if photographs.iter().all(Option::is_none) { Err(Unpictured::NoPicture) } else { Ok(photographs) }
}

fn mean(photographs: &[Option<Photograph>; 2]) -> Colour {
    let all: Vec<[f32; 3]> =
        photographs.iter().flatten().map(|p| p.colour(&Point2::new(0.0, 0.0), f64::INFINITY)).collect();
    let part = |c: usize| all.iter().map(|colour| colour[c]).sum::<f32>() / all.len() as f32;
    Colour { r: part(0), g: part(1), b: part(2) }
}

/// Detail and broad colour of both ends put together.
#[inline]
fn both(near: ([f32; 3], [f32; 3]), far: ([f32; 3], [f32; 3]), t: f32) -> [f32; 3] {
    let h = passed(t);
    std::array::from_fn(|c| {
        let broad = (1.0 - t) * near.1[c] + t * far.1[c];
        let detail = (1.0 - h) * (near.0[c] - near.1[c]) + h * (far.0[c] - far.1[c]);
        (broad + detail).clamp(0.0, 1.0)
    })
}

/// Within one size of the blank beyond it: farther off nothing is known.
fn held(x: f64, size: f64) -> f64 {
    hold(x, -size, 2.0 * size)
}

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
        self.from + self.steps[0] * column as f64 + self.steps[1] * row as f64
    }
}

/// What changes slowly over a block, at a node of its lattice.
#[derive(Clone, Copy)]
struct Node {
    /// Place in the pixels of the level.
    place: [f32; 2],
    /// What makes the end's own broad colour that of both, 0 to 65535.
    broad: [f32; 4],
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
            let lower = node_row(bottom);
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
        let at = Point3::new(held(at.x, self.size.x), held(at.y, self.size.y), hold(at.z, 0.0, self.length));
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

/// How far the detail has passed from the near end's to the far end's.
#[inline]
fn passed(t: f32) -> f32 {
    ease(ramp(f64::from(t), 0.5 - 0.5 * PASSING, 1.0 / PASSING))
}

impl Node {
    fn mix(&self, other: &Node, t: f32) -> Node {
        Node {
            place: std::array::from_fn(|n| self.place[n] + t * (other.place[n] - self.place[n])),
            broad: std::array::from_fn(|n| self.broad[n] + t * (other.broad[n] - self.broad[n])),
        }
    }
}

/// The ways from each point of the blank to its two ends, on a lattice.
#[derive(Debug, Clone)]
struct Ways {
    cell: [f64; 3],
    cells: [usize; 3],
    /// At each node, u fastest: to the near and to the far end, mm.
    nodes: Vec<[Vector2<f32>; 2]>,
}

impl Ways {
    fn new(field: &Field, line: bool, size: Vector2<f64>, length: f64) -> Ways {
        let longer = size.x.max(size.y);
        let cells = [size.x, size.y].map(|side| ((CELLS * side / longer).ceil() as usize).max(1));
        let cells = [cells[0], cells[1], STATIONS];
        let cell = [size.x / cells[0] as f64, size.y / cells[1] as f64, length / STATIONS as f64];
        let mut nodes = Vec::new();
        for k in 0..=cells[2] {
            for j in 0..=cells[1] {
                for i in 0..=cells[0] {
                    let at = Point3::new(i as f64 * cell[0], j as f64 * cell[1], k as f64 * cell[2]);
                    let way = |w: f64| way(field, line, &at, w, FARTHEST_STEP * longer).map(|x| x as f32);
                    // At an end the way there is none.
                    let near = if k == 0 { Vector2::zeros() } else { way(0.0) };
                    let far = if k == cells[2] { Vector2::zeros() } else { way(length) };
                    nodes.push([near, far]);
                }
            }
        }
        Ways { cell, cells, nodes }
    }

    #[inline]
    fn at(&self, at: &Point3<f64>) -> [Vector2<f64>; 2] {
        let part = |x: f64, axis: usize| {
            let x = (x / self.cell[axis]).clamp(0.0, self.cells[axis] as f64);
            let cell = (x as usize).min(self.cells[axis] - 1);
            (cell, (x - cell as f64) as f32)
        };
        let ((i, a), (j, b), (k, c)) = (part(at.x, 0), part(at.y, 1), part(at.z, 2));
        let (row, layer) = (self.cells[0] + 1, (self.cells[0] + 1) * (self.cells[1] + 1));
        let start = k * layer + j * row + i;
        let mut sum = [Vector2::<f32>::zeros(); 2];
        for (layers, share) in [(0, 1.0 - c), (layer, c)] {
            for (rows, share) in [(0, share * (1.0 - b)), (row, share * b)] {
                let pair = &self.nodes[start + layers + rows..start + layers + rows + 2];
                for end in 0..2 {
                    sum[end] += (pair[0][end] * (1.0 - a) + pair[1][end] * a) * share;
                }
            }
        }
        sum.map(|way| way.map(f64::from))
    }
}

/// The way from a point to where its ring is at the station w, at right angles to the rings; near the heartwood line,
/// where there is one, to where it is as far from that line, at right angles to it.
fn way(field: &Field, line: bool, at: &Point3<f64>, w: f64, farthest: f64) -> Vector2<f64> {
    let wanted = field.at(at);
    let by_rings = newton(farthest, |way| {
        let here = field.at(&Point3::new(at.x + way.x, at.y + way.y, w));
        (wanted.at - here.at, here.slope)
    });
    let share = ease(ramp(LINE_REACH - wanted.beyond.abs(), 0.0, 1.0 / (LINE_REACH - LINE_HOLDS)));
    if !line || share <= 0.0 {
        return by_rings;
    }
    let by_line = newton(farthest, |way| {
        let beyond = |u: f64, v: f64| field.at(&Point3::new(at.x + way.x + u, at.y + way.y + v, w)).beyond;
        let here = beyond(0.0, 0.0);
        (wanted.beyond - here, Vector2::new(beyond(SMALL, 0.0) - here, beyond(0.0, SMALL) - here) / SMALL)
    });
    by_rings + (by_line - by_rings) * f64::from(share)
}

/// Newton's steps along the slope to where nothing is off; `off` gives what is, and its slope.
fn newton(farthest: f64, off: impl Fn(&Vector2<f64>) -> (f64, Vector2<f64>)) -> Vector2<f64> {
    let mut way = Vector2::zeros();
    for _ in 0..STEPS {
        let (off, slope) = off(&way);
        let step = slope * (off / slope.norm_squared().max(LEAST_SLOPE));
        way += step * (farthest / step.norm().max(farthest));
    }
    if way.iter().all(|x| x.is_finite()) { way } else { Vector2::zeros() }
}

/// One picture in linear light, and ever smaller ones, each half the last.
#[derive(Debug, Clone)]
struct Photograph {
    /// Pixels per mm along u and v, and mm per pixel along the coarser of them.
    per: Vector2<f64>,
    pixel: f64,
    height: f64,
    levels: Vec<Level>,
}

#[derive(Debug, Clone)]
struct Level {
    width: usize,
    height: usize,
    /// Linear light, 0 to 65535; the fourth part is none.
    light: Vec<[u16; 4]>,
}

/// The whole range of a level's parts.
const FULL: f32 = 65_535.0;

impl Photograph {
    fn new(picture: &Picture, size: Vector2<f64>) -> Result<Photograph, Unpictured> {
        let (width, height) = (picture.width, picture.height);
        let bytes = width.checked_mul(height).and_then(|n| n.checked_mul(3));
        if bytes != Some(picture.bytes.len()) || width == 0 || height == 0 {
            return Err(Unpictured::NotAPicture);
        }
        let light = |p: &[u8]| {
            let Colour { r, g, b } = Colour::from_srgb8([p[0], p[1], p[2]]);
            [r, g, b, 0.0].map(|part| (part * FULL + 0.5) as u16)
        };
        let mut levels = vec![Level { width, height, light: picture.bytes.chunks_exact(3).map(light).collect() }];
        while let Some(smaller) = levels.last().and_then(|level| level.halved([width, height], levels.len() - 1)) {
            levels.push(smaller);
        }
        let per = Vector2::new(width as f64 / size.x, height as f64 / size.y);
        Ok(Photograph { per, pixel: 1.0 / per.min(), height: size.y, levels })
    }

    /// The level whose pixels are nearest to `grain` mm in size.
    fn nearest_level(&self, grain: f64) -> usize {
        let most = self.levels.len() - 1;
        if grain <= self.pixel { 0 } else { ((grain / self.pixel).log2().round() as usize).min(most) }
    }

    /// Light at a place, averaged over `grain` mm: between the two levels whose pixels are nearest
    /// to it in size.
    #[inline]
    fn colour(&self, place: &Point2<f64>, grain: f64) -> [f32; 3] {
        let (x, y) = (place.x * self.per.x, (self.height - place.y) * self.per.y);
        let most = (self.levels.len() - 1) as f64;
        let level = if grain <= self.pixel { 0.0 } else { (grain / self.pixel).log2().min(most) };
        let (low, share) = (level as usize, level.fract() as f32);
        let fine = self.levels[low].between(x, y, low);
        if share < 1.0e-3 {
            return fine;
        }
        let coarse = self.levels[low + 1].between(x, y, low + 1);
        std::array::from_fn(|c| fine[c] + share * (coarse[c] - fine[c]))
    }
}

impl Level {
    /// Half as many pixels each way, at least one, each the mean of what it covers of the picture
    /// of `full` pixels that was halved `halvings` times to make this one; none where this is a
    /// single pixel.
    fn halved(&self, full: [usize; 2], halvings: usize) -> Option<Level> {
        if self.width.max(self.height) == 1 {
            return None;
        }
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        // At the right and lower rim a pixel covers less.
        let covered = |n: usize, full: usize| full.min((n + 1) << halvings).saturating_sub(n << halvings) as f32;
        let part = |x: usize, y: usize| {
            let weight = covered(x, full[0]) * covered(y, full[1]);
            (weight, self.light[y.min(self.height - 1) * self.width + x.min(self.width - 1)])
        };
        let mut light = Vec::with_capacity(width * height);
        for (y, x) in (0..height).flat_map(|y| (0..width).map(move |x| (2 * y, 2 * x))) {
            let four = [part(x, y), part(x + 1, y), part(x, y + 1), part(x + 1, y + 1)];
            let all: f32 = four.iter().map(|(weight, _)| weight).sum();
            let mean = |c: usize| four.iter().map(|(weight, p)| weight * f32::from(p[c])).sum::<f32>() / all;
            light.push(std::array::from_fn(|c| (mean(c) + 0.5) as u16));
        }
        Some(Level { width, height, light })
    }

    /// A row of pixels: nodes stand at the columns `across`.
    fn draw_row(&self, nodes: impl Iterator<Item = Node>, across: &[usize], line: &mut [u8]) {
        let srgb = srgb_table();
        let mut nodes = nodes.zip(across);
        let Some((mut left, mut from)) = nodes.next() else { return };
        let (right, bottom) = ((self.width - 1) as f32, (self.height - 1) as f32);
        let draw = |at: &Node, pixel: &mut [u8]| {
            let [x, y] = at.place;
            let light = if x >= 0.0 && y >= 0.0 && x < right && y < bottom {
                let (i, j) = (x as usize, y as usize);
                let start = j * self.width + i;
                let (up, down) =
                    (&self.light[start..start + 2], &self.light[start + self.width..start + self.width + 2]);
                mixed([up[0], up[1], down[0], down[1]], x - i as f32, y - j as f32)
            } else {
                let [r, g, b] = self.between(f64::from(x) + 0.5, f64::from(y) + 0.5, 0);
                [r * FULL, g * FULL, b * FULL, 0.0]
            };
            for c in 0..3 {
                // A cast holds to the range.
                pixel[c] = srgb[usize::from((light[c] + at.broad[c]) as u16)];
            }
        };
        if across.len() == 1 {
            line.chunks_exact_mut(3).for_each(|pixel| draw(&left, pixel));
            return;
        }
        for (node, to) in nodes {
            let count = to - from;
            let per = 1.0 / count.max(1) as f32;
            let step = Node {
                place: std::array::from_fn(|n| (node.place[n] - left.place[n]) * per),
                broad: std::array::from_fn(|n| (node.broad[n] - left.broad[n]) * per),
            };
            let mut at = left;
            for pixel in line[3 * from..3 * to].chunks_exact_mut(3) {
                draw(&at, pixel);
                for n in 0..2 {
                    at.place[n] += step.place[n];
                }
                for n in 0..4 {
                    at.broad[n] += step.broad[n];
                }
            }
            (left, from) = (node, to);
        }
        if let Some(pixel) = line.get_mut(3 * from..3 * from + 3) {
            draw(&left, pixel);
        }
    }

    /// Between the pixels, linearly; (x, y) in pixels of the largest picture from its upper left
    /// corner; beyond the rim mirrored.
    #[inline]
    fn between(&self, x: f64, y: f64, halvings: usize) -> [f32; 3] {
        let share = 1.0 / (1_u64 << halvings) as f64;
        let (i, k, a) = neighbours(x * share - 0.5, self.width);
        let (j, l, b) = neighbours(y * share - 0.5, self.height);
        let (up, down) = (j * self.width, l * self.width);
        let four = [self.light[up + i], self.light[up + k], self.light[down + i], self.light[down + k]];
        let [r, g, b, _] = mixed(four, a, b).map(|part| part * (1.0 / FULL));
        [r, g, b]
    }
}

/// Between four pixels, upper ones first, `a` to the right and `b` downward.
#[inline(always)]
fn mixed(four: [[u16; 4]; 4], a: f32, b: f32) -> [f32; 4] {
    let four = four.map(|pixel| pixel.map(f32::from));
    std::array::from_fn(|c| {
        let (upper, lower) = (four[0][c] + a * (four[1][c] - four[0][c]), four[2][c] + a * (four[3][c] - four[2][c]));
        upper + b * (lower - upper)
    })
}

/// The sRGB byte of each light from 0 to 65535.
fn srgb_table() -> &'static [u8] {
    static TABLE: OnceLock<Vec<u8>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let byte = |light: u16| {
            let part = f32::from(light) / FULL;
            Colour { r: part, g: part, b: part }.to_srgb8()[0]
        };
        (0..=u16::MAX).map(byte).collect()
    })
}

/// The two pixels about a place, mirrored at the rim, and how far it is from the first.
#[inline]
fn neighbours(x: f64, count: usize) -> (usize, usize, f32) {
    let floor = x.floor();
    let (first, share) = (floor as i64, (x - floor) as f32);
    let last = count as i64 - 1;
    if first >= 0 && first < last {
        return (first as usize, first as usize + 1, share);
    }
    let mirrored = |n: i64| {
        let n = n.rem_euclid(2 * count as i64);
        (if n > last { 2 * last + 1 - n } else { n }) as usize
    };
    (mirrored(first), mirrored(first + 1), share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wood::ends::{EndLine, EndLines, Ends};

    const SIZE: Vector2<f64> = Vector2::new(50.0, 24.0);
    const LENGTH: f64 = 300.0;
    const LAYERS: [f64; 13] = [0.0, 2.1, 5.1, 6.3, 8.9, 11.1, 12.2, 15.3, 17.7, 20.2, 22.0, 24.9, 26.1];

    fn heights(rise: f64) -> impl Iterator<Item = f64> {
        LAYERS.into_iter().map(move |v| v + rise).filter(|v| (0.0..SIZE.y).contains(v))
    }

    fn wood() -> Between {
        let line = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() };
        let end = |rise: f64| EndLines { rings: heights(rise).map(line).collect(), ..EndLines::default() };
        Ends { size: SIZE, length: LENGTH, near: end(-3.0), far: end(1.0), ..Ends::default() }.join().unwrap()
    }

    /// Dark lines where the rings are, on ground of that shade.
    fn photograph(rise: f64, ground: u8) -> Picture {
        let dark = |row: usize| heights(rise).any(|v| (24.0 - (row as f64 + 0.5) * 0.1 - v).abs() < 0.3);
        let bytes = (0..240).flat_map(|row| vec![if dark(row) { 60 } else { ground }; 3 * 500]).collect();
        Picture { width: 500, height: 240, bytes }
    }

    fn column(figure: &Pictured, w: f64) -> Vec<u8> {
        (0..240).map(|n| figure.colour(&Point3::new(20.0, 0.05 + 0.1 * f64::from(n), w), 0.1).to_srgb8()[0]).collect()
    }

    #[test]
    fn at_the_ends_it_is_the_photographs() {
        let (near, far) = (photograph(-3.0, 200), photograph(1.0, 180));
        let figure = Pictured::new(&wood(), Some(&near), Some(&far)).unwrap();
        for (w, picture) in [(0.0, &near), (LENGTH, &far)] {
            let rows = (0..240).rev().map(|row| picture.bytes[3 * (row * 500 + 200)]);
            let off = column(&figure, w).into_iter().zip(rows).map(|(a, b)| a.abs_diff(b)).max();
            assert!(off <= Some(1), "{w} {off:?}");
        }
    }

    #[test]
    fn lines_move_and_stay_as_dark_as_they_were() {
        let figure = Pictured::new(&wood(), Some(&photograph(-3.0, 200)), Some(&photograph(1.0, 200))).unwrap();
        for t in [0.25, 0.49, 0.5, 0.51, 0.75] {
            let seen = column(&figure, t * LENGTH);
            for v in heights(-3.0 + 4.0 * t).filter(|v| (3.0..20.0).contains(v)) {
                assert!(seen[(v * 10.0) as usize] < 75, "{t} {v}");
            }
            assert!(seen.iter().filter(|shade| **shade > 185).count() > 120, "{t}");
        }
    }

    #[test]
    fn changing_either_end_changes_a_face_between() {
        let (near, far) = (photograph(-3.0, 200), photograph(1.0, 200));
        let of =
            |near: &Picture, far: &Picture, w: f64| column(&Pictured::new(&wood(), Some(near), Some(far)).unwrap(), w);
        for w in [60.0, 150.0, 240.0] {
            let as_is = of(&near, &far, w);
            assert_ne!(as_is, of(&photograph(-3.0, 170), &far, w), "{w}");
            assert_ne!(as_is, of(&near, &photograph(1.0, 170), w), "{w}");
        }
    }

    #[test]
    fn a_block_is_drawn_as_its_pixels_are() {
        let shaded = |rise: f64, ground: u8| {
            let mut picture = photograph(rise, ground);
            // Slowly darker to the right, so that broad colour differs between the ends too.
            picture.bytes.iter_mut().enumerate().for_each(|(n, b)| *b -= (n / 3 % 500 / 12) as u8);
            picture
        };
        let figure = Pictured::new(&wood(), Some(&shaded(-3.0, 200)), Some(&shaded(1.0, 160))).unwrap();
        let alone = Pictured::new(&wood(), None, Some(&shaded(1.0, 160))).unwrap();
        for (figure, w, pixels) in
            [(&figure, 60.0, [500, 240]), (&figure, 250.0, [37, 5]), (&alone, 150.0, [1, 9]), (&alone, 10.0, [300, 1])]
        {
            let from = Point3::new(0.05, 23.95, w);
            let steps = [Vector3::new(0.1, 0.0, 0.0), Vector3::new(0.0, -0.1, 0.0)];
            let (stride, block) = (3 * pixels[0] + 6, Block { from, steps, pixels, grain: 0.1 });
            let mut bytes = vec![7; stride * pixels[1]];
            assert!(figure.draw(&block, &mut bytes, stride));
            let mut far = 0;
            for n in 0..pixels[0] * pixels[1] {
                let (x, y) = (n % pixels[0], n / pixels[0]);
                let at = from + steps[0] * x as f64 + steps[1] * y as f64;
                let seen = figure.colour(&at, 0.1).to_srgb8();
                let drawn = &bytes[y * stride + 3 * x..][..3];
                far += usize::from(seen.iter().zip(drawn).any(|(a, b)| a.abs_diff(*b) > 6));
            }
            assert!(far * 50 <= pixels[0] * pixels[1], "{far} of {pixels:?} at {w}");
            assert!(bytes.chunks(stride).all(|row| row[3 * pixels[0]..].iter().all(|b| *b == 7)));
        }
        let middle = Block { from: Point3::new(1.0, 1.0, 150.0), steps: [Vector3::x(); 2], pixels: [3, 3], grain: 0.1 };
        assert!(!figure.draw(&middle, &mut [0; 100], 9), "where the detail passes");
    }

    #[test]
    fn a_large_pixel_is_the_mean_of_small_ones() {
        let figure = Pictured::new(&wood(), Some(&photograph(-3.0, 200)), None).unwrap();
        let at = |v: f64, grain: f64| figure.colour(&Point3::new(25.0, v, 0.0), grain).luminance();
        let mean = (0..240).map(|n| at(0.05 + 0.1 * f64::from(n), 0.1)).sum::<f32>() / 240.0;
        assert!((at(12.0, 1.0e4) - mean).abs() < 0.02 * mean);
    }

    #[test]
    fn beyond_the_picture_it_goes_on_and_nothing_panics() {
        let one = Picture { width: 1, height: 1, bytes: vec![120; 3] };
        let figure = Pictured::new(&wood(), Some(&one), Some(&photograph(1.0, 200))).unwrap();
        for x in [f64::NAN, f64::INFINITY, -1.0e300, -3.0, 70.0] {
            for grain in [0.0, 0.1, f64::NAN, 1.0e9] {
                let seen = figure.colour(&Point3::new(x, x, x), grain);
                assert!(seen.luminance() > 0.01 && seen.luminance() <= 1.0, "{x} {grain}");
            }
        }
        assert_eq!(Pictured::new(&wood(), None, None).unwrap_err(), Unpictured::NoPicture);
        let short = Picture { width: 5, height: 5, bytes: vec![0; 7] };
        assert_eq!(Pictured::new(&wood(), Some(&short), None).unwrap_err(), Unpictured::NotAPicture);
    }
}
