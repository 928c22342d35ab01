//! The surface as seen from a direction, in parallel projection: what is nearest covers what is behind.
//!
//! Page frame: x to the right, y down, mm at the board's own size, from the picture's upper left corner.

use super::outline::{Outline, twice_area};
use super::smooth::smooth_normals;
use crate::board::Board;
use crate::picture::Picture;
use crate::solid::Mesh;
use crate::wood::Colour;
use nalgebra::{Point3, Vector3};
use std::collections::HashMap;

/// A direction of sight.
#[derive(Clone, Copy, Debug)]
pub struct View {
    right: Vector3<f64>,
    up: Vector3<f64>,
    toward: Vector3<f64>,
}

impl View {
    /// From in front of the board, turned by `around` degrees toward its right and raised by `above`.
    ///
    /// ```
    /// use nalgebra::Point3;
    /// use quarterturn_geometry::surface::View;
    /// // From straight above, the board lies as it is drawn.
    /// assert!((View::from(0.0, 90.0).on_page(&Point3::new(3.0, 2.0, 1.0)) - Point3::new(3.0, -2.0, 1.0)).norm() < 1e-12);
    /// ```
    #[must_use]
    pub fn from(around: f64, above: f64) -> Self {
        let ((sin, cos), (rise, level)) = (around.to_radians().sin_cos(), above.to_radians().sin_cos());
        Self {
            right: Vector3::new(cos, sin, 0.0),
            up: Vector3::new(-sin * rise, cos * rise, level),
            toward: Vector3::new(sin * level, -cos * level, rise),
        }
    }

    /// A point on the page, x to the right and y down, with its nearness to the eye as the third.
    #[must_use]
    pub fn on_page(&self, at: &Point3<f64>) -> Point3<f64> {
        Point3::new(self.right.dot(&at.coords), -self.up.dot(&at.coords), self.toward.dot(&at.coords))
    }
}

/// A solid in the picture.
#[derive(Clone, Copy, Debug)]
pub struct Thing<'a> {
    /// Its mesh, where it lies in the finished board.
    pub mesh: &'a Mesh,
    /// How far it is moved from there.
    pub moved: Vector3<f64>,
    /// The strip whose wood it is, where it is of one alone.
    pub strip: Option<usize>,
}

/// What is seen.
#[derive(Clone, Debug)]
pub struct Seen {
    /// The picture, white where nothing is.
    pub picture: Picture,
    /// The size of its pixels, mm.
    pub pixel: f64,
    /// The visible parts of all sharp edges and of all outlines, page frame.
    pub lines: Vec<[[f64; 2]; 2]>,
    view: View,
    corner: [f64; 2],
}

/// The greatest number of pixels.
const MOST_PIXELS: f64 = 2.5e7;
/// Pixels left white on each side.
const AROUND: f64 = 3.0;

impl Seen {
    /// Draws things as seen, the longer side of the picture `across` pixels long; `None` where there is
    /// nothing to be seen.
    #[must_use]
    pub fn of(board: &Board, things: &[Thing], view: View, across: usize, workers: usize) -> Option<Self> {
        let points = || things.iter().flat_map(|t| t.mesh.vertices.iter().map(|v| view.on_page(&(v + t.moved))));
        let first = points().next()?;
        let (low, high) = points().fold((first, first), |(low, high), p| (low.inf(&p), high.sup(&p)));
        let size = high - low;
        let pixel = size.x.max(size.y) / (across as f64 - 2.0 * AROUND).max(1.0);
        let corner = [low.x - AROUND * pixel, low.y - AROUND * pixel];
        let [width, height] = [size.x, size.y].map(|side| (side / pixel + 2.0 * AROUND).ceil());
        if !(pixel > 0.0 && pixel.is_finite() && width * height <= MOST_PIXELS) {
            return None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (width, height) = (width as usize, height as usize);
        let mut seen = Self {
            picture: Picture { width, height, bytes: vec![255; width * height * 3] },
            pixel,
            lines: Vec::new(),
            view,
            corner,
        };
        let facets: Vec<Facet> = things.iter().flat_map(|thing| seen.facets(board, thing)).collect();
        let near = seen.draw(board, &facets, workers);
        seen.lines = things.iter().flat_map(|thing| seen.edges(thing, &near)).collect();
        Some(seen)
    }

    /// Where a point lies on the page.
    #[must_use]
    pub fn place(&self, at: &Point3<f64>) -> [f64; 2] {
        let on_page = self.view.on_page(at);
        [on_page.x - self.corner[0], on_page.y - self.corner[1]]
    }

    /// A point's pixel coordinates and nearness.
    fn pixel_of(&self, at: &Point3<f64>) -> Point3<f64> {
        let on_page = self.view.on_page(at);
        let [x, y] = self.corner;
        Point3::new((on_page.x - x) / self.pixel, (on_page.y - y) / self.pixel, on_page.z)
    }

    /// The triangles of a thing that look toward the eye.
    fn facets<'a>(&self, board: &'a Board, thing: &Thing<'a>) -> Vec<Facet<'a>> {
        let extent = thing.mesh.extent();
        let smooth = smooth_normals(thing.mesh);
        let all = thing.mesh.corners().zip(thing.mesh.normals()).zip(smooth);
        let toward = all.filter(|((_, normal), _)| normal.dot(&self.view.toward) > 0.0);
        let facet = |((points, _), normals): (([Point3<f64>; 3], _), [Vector3<f64>; 3])| {
            let near = |p: &Point3<f64>, k: usize, end: f64| (p[k] - end).abs() < 1e-6;
            let on_side = |k: usize, end: usize| extent.is_some_and(|e| points.iter().all(|p| near(p, k, e[end][k])));
            let pixels = points.map(|p| self.pixel_of(&(p + thing.moved)));
            let flat = pixels.map(|p| [p.x, p.y]);
            Facet {
                board,
                strip: thing.strip,
                inside: !(0..3).any(|k| on_side(k, 0) || on_side(k, 1)),
                outline: Outline::of(flat),
                twice: twice_area(flat),
                pixels,
                points,
                normals,
            }
        };
        toward.map(facet).filter(|facet| facet.twice.abs() > 1e-12).collect()
    }

    /// Draws the facets, and gives how near the nearest is at each pixel.
    fn draw(&mut self, board: &Board, facets: &[Facet], workers: usize) -> Vec<f64> {
        let Picture { width, height, bytes } = &mut self.picture;
        let (width, pixel) = (*width, self.pixel);
        let size = board.finished();
        let most = Point3::new(size.length, size.width, size.thickness);
        let mut near = vec![f64::NEG_INFINITY; width * *height];
        let rows_each = height.div_ceil(workers.clamp(1, 64));
        std::thread::scope(|scope| {
            let chunks = bytes.chunks_mut(rows_each * width * 3).zip(near.chunks_mut(rows_each * width));
            for (i, (rows, near)) in chunks.enumerate() {
                scope.spawn(move || {
                    let first = i * rows_each;
                    let owners = owners(facets, width, first, near);
                    let colour = |i: usize, [dx, dy]: [f64; 2]| {
                        let at = [(i % width) as f64 + dx, (first + i / width) as f64 + dy];
                        facets.get(owners[i] as usize).and_then(|facet| facet.colour(at, pixel, &most))
                    };
                    for (i, to) in rows.chunks_exact_mut(3).enumerate() {
                        to.copy_from_slice(&colour(i, [0.5; 2]).map_or([255; 3], Colour::to_srgb8));
                    }
                    for i in borders(rows, width) {
                        let quarters = [[0.25, 0.25], [0.75, 0.25], [0.25, 0.75], [0.75, 0.75]];
                        if let [Some(a), Some(b), Some(c), Some(d)] = quarters.map(|at| colour(i, at)) {
                            let mean = a.mix(b, 0.5).mix(c.mix(d, 0.5), 0.5).to_srgb8();
                            rows[i * 3..i * 3 + 3].copy_from_slice(&mean);
                        }
                    }
                });
            }
        });
        near
    }

    /// The visible parts of a thing's sharp edges and outline.
    fn edges(&self, thing: &Thing, near: &[f64]) -> Vec<[[f64; 2]; 2]> {
        let normals: Vec<Vector3<f64>> = thing.mesh.normals().collect();
        let mut sides: HashMap<(u32, u32), usize> = HashMap::new();
        let mut drawn = Vec::new();
        for (i, [a, b, c]) in thing.mesh.triangles.iter().enumerate() {
            for (from, to) in [(*a, *b), (*b, *c), (*c, *a)] {
                let Some(other) = sides.remove(&(to, from)) else {
                    sides.insert((from, to), i);
                    continue;
                };
                let faces = [i, other].map(|t| normals[t].dot(&self.view.toward) > 1e-9);
                let sharp = normals[i].dot(&normals[other]) < SHARP;
                if faces[0] != faces[1] || (sharp && faces[0]) {
                    let ends = [from, to].map(|v| self.pixel_of(&(thing.mesh.vertices[v as usize] + thing.moved)));
                    self.visible_parts(ends, near, &mut drawn);
                }
            }
        }
        drawn
    }

    /// Walks along an edge in steps of half a pixel and keeps what nothing covers.
    fn visible_parts(&self, [from, to]: [Point3<f64>; 2], near: &[f64], drawn: &mut Vec<[[f64; 2]; 2]>) {
        let long = (to.xy() - from.xy()).norm();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let steps = ((long * 2.0).ceil() as usize).max(1);
        let at = |step: usize| from + (to - from) * (step as f64 / steps as f64);
        let mut began = None;
        for step in 0..=steps {
            let visible = self.is_visible(&at(step), near);
            if visible && began.is_none() {
                began = Some(step);
            }
            let ended = if visible && step == steps { Some(step) } else { (!visible).then(|| step.saturating_sub(1)) };
            if let (Some(first), Some(last)) = (began, ended) {
                began = None;
                // What shows for less than a pixel of a longer edge is chance.
                if last > first + 1 || (first == 0 && last == steps) {
                    drawn.push([first, last].map(|s| [at(s).x * self.pixel, at(s).y * self.pixel]));
                }
            }
        }
    }

    /// Whether nothing lies nearer than a point at its pixel, or at one beside it: along an outline the
    /// pixel itself may show what is in front or behind.
    fn is_visible(&self, at: &Point3<f64>, near: &[f64]) -> bool {
        let Picture { width, height, .. } = self.picture;
        let within = |x: f64, y: f64| x >= 0.0 && y >= 0.0 && x < width as f64 && y < height as f64;
        let offsets = [0.0, -0.7, 0.7];
        offsets.iter().flat_map(|dx| offsets.map(|dy| (at.x + dx, at.y + dy))).any(|(x, y)| {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let covered = within(x, y) && near[y as usize * width + x as usize] > at.z + 2.0 * self.pixel;
            !covered
        })
    }
}

/// The cosine of the least angle between two faces whose edge is drawn (30°).
const SHARP: f64 = 0.866_025_403_784_438_6;
const NOBODY: u32 = u32::MAX;

/// The pixels of some rows that differ much from the one before or above, and those: one wood ends
/// there and another begins, in steps, unless they are looked at more closely.
fn borders(rows: &[u8], width: usize) -> Vec<usize> {
    let differ = |i: usize, j: usize| (0..3).any(|k| rows[i * 3 + k].abs_diff(rows[j * 3 + k]) > 24);
    let mut found: Vec<usize> = Vec::new();
    for i in 1..rows.len() / 3 {
        for before in [i - 1, i.wrapping_sub(width)] {
            if before < i && differ(i, before) {
                found.extend([before, i]);
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The nearest facet at each pixel of some rows.
fn owners(facets: &[Facet], width: usize, first: usize, near: &mut [f64]) -> Vec<u32> {
    let count = near.len() / width.max(1);
    let mut owners = vec![NOBODY; near.len()];
    for (i, facet) in (0..NOBODY).zip(facets) {
        for row in facet.outline.rows(1e-6, first..first + count) {
            for column in facet.outline.span(row, 1e-6, width) {
                let shares = facet.shares([column as f64 + 0.5, row as f64 + 0.5]);
                let nearness: f64 = (0..3).map(|k| shares[k] * facet.pixels[k].z).sum();
                let place = (row - first) * width + column;
                if nearness > near[place] {
                    near[place] = nearness;
                    owners[place] = i;
                }
            }
        }
    }
    owners
}

/// A triangle in the picture.
struct Facet<'a> {
    board: &'a Board,
    strip: Option<usize>,
    /// Whether it lies within its thing's box: the inside of a recess.
    inside: bool,
    outline: Outline,
    twice: f64,
    pixels: [Point3<f64>; 3],
    points: [Point3<f64>; 3],
    normals: [Vector3<f64>; 3],
}

impl Facet<'_> {
    /// How much of each corner there is at a place of the picture.
    fn shares(&self, at: [f64; 2]) -> [f64; 3] {
        let [a, b, c] = self.pixels.map(|p| [p.x, p.y]);
        [twice_area([at, b, c]), twice_area([a, at, c]), twice_area([a, b, at])].map(|part| part / self.twice)
    }

    /// The wood there, lit.
    fn colour(&self, at: [f64; 2], pixel: f64, most: &Point3<f64>) -> Option<Colour> {
        let shares = self.shares(at);
        let sum = |of: [Vector3<f64>; 3]| of[0] * shares[0] + of[1] * shares[1] + of[2] * shares[2];
        let point = Point3::from(sum(self.points.map(|p| p.coords))).sup(&Point3::origin()).inf(most);
        let spot = self.strip.map_or_else(|| self.board.spot(&point), |place| self.board.spot_in(place, &point))?;
        let Colour { r, g, b } = self.board.colour_of(&spot, pixel)?;
        let deep = if self.inside { point.coords.min().min((most - point).min()) } else { 0.0 };
        #[allow(clippy::cast_possible_truncation)]
        let light = (lit(&sum(self.normals)) / (1.0 + deep / HALF_LIGHT)) as f32;
        Some(Colour { r: r * light, g: g * light, b: b * light })
    }
}

/// How deep in a recess half of the light is left, mm (our own choice, by eye).
const HALF_LIGHT: f64 = 14.0;

/// The light on a surface, 1 on the upper face: from above and somewhat from the front left, and as
/// much again from all around (our own choice, by eye).
fn lit(normal: &Vector3<f64>) -> f64 {
    let light = |n: &Vector3<f64>| 0.55 + 0.45 * n.dot(&LIGHT).max(0.0);
    let normal = normal.try_normalize(0.0).unwrap_or_else(Vector3::z);
    light(&normal) / light(&Vector3::z())
}

/// A unit vector toward the light.
const LIGHT: Vector3<f64> = Vector3::new(-0.36, -0.48, 0.8);
