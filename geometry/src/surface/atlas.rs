//! A surface laid out on pages, and the pages drawn from the wood.
//!
//! A page's frame: texels, x to the right, y down, the middle of the first at (½, ½).

use super::charts::{Chart, charts, flat, flat_axes};
use super::outline::Outline;
use super::pack::{Spot, pack};
use crate::board::{self, Board};
use crate::picture::{Picture, in_bands};
use crate::solid::Mesh;
use crate::wood::Block;
use nalgebra::{Point3, Vector3};

/// Texels around each chart that are drawn as its edge goes on, so that neighbours on the page don't
/// show when it is drawn small.
const GUTTER: usize = 3;
/// The longest side of a page: what any graphics processor of the last ten years takes.
const LONGEST: usize = 4096;
/// The most texels of a chart and its gutter, and of all charts: beyond it texels are made larger.
const MOST_TEXELS: f64 = 2.5e7;

/// Where each triangle of a mesh lies on which page.
#[derive(Clone, Debug)]
pub struct Atlas<'a> {
    mesh: &'a Mesh,
    /// The size of a texel, mm.
    pixel: f64,
    charts: Vec<Chart>,
    spots: Vec<Spot>,
    of_triangle: Vec<usize>,
    pages: Vec<[usize; 2]>,
}

impl<'a> Atlas<'a> {
    /// Lays a mesh out with texels of about `pixel` mm: larger ones where a page would be longer than
    /// 4096 of them, or all together more than 25 million. `None` for an empty mesh or one whose
    /// coordinates are no numbers.
    #[must_use]
    pub fn of(mesh: &'a Mesh, pixel: f64) -> Option<Self> {
        let (charts, of_triangle) = charts(mesh);
        let finite = charts.iter().all(|c| c.low.iter().chain(&c.high).all(|x| x.is_finite()));
        if charts.is_empty() || !finite || !pixel.is_finite() {
            return None;
        }
        let pixel = held(&charts, pixel);
        let sizes: Vec<[usize; 2]> = charts.iter().map(|chart| texels(chart, pixel)).collect();
        // No higher than needed, so that there are several, and as many threads can compress them.
        let highest = sizes.iter().map(|size| size[1]).max().unwrap_or(0).next_power_of_two();
        let (spots, pages) = pack(&sizes, highest);
        Some(Self { mesh, pixel, charts, spots, of_triangle, pages })
    }

    /// The size of a texel, mm.
    #[must_use]
    pub const fn pixel(&self) -> f64 {
        self.pixel
    }

    /// Width and height of each page, texels.
    #[must_use]
    pub fn pages(&self) -> &[[usize; 2]] {
        &self.pages
    }

    /// The mesh that is laid out.
    #[must_use]
    pub const fn mesh(&self) -> &Mesh {
        self.mesh
    }

    /// The page of a triangle, and its corners there as shares of the page's width and height;
    /// `None` for a triangle that the mesh has not.
    #[must_use]
    pub fn corners(&self, triangle: usize) -> Option<(usize, [[f64; 2]; 3])> {
        let spot = self.spots.get(*self.of_triangle.get(triangle)?)?;
        let [wide, high] = self.pages[spot.page];
        let share = |[x, y]: [f64; 2]| [x / wide as f64, y / high as f64];
        Some((spot.page, self.on_page(triangle).map(share)))
    }

    /// A triangle's corners on its page, in texels.
    fn on_page(&self, triangle: usize) -> [[f64; 2]; 3] {
        let (chart, spot) = (&self.charts[self.of_triangle[triangle]], &self.spots[self.of_triangle[triangle]]);
        self.mesh.triangles[triangle].map(|i| {
            let [u, v] = flat(chart.axis, &self.mesh.vertices[i as usize]);
            let x = (spot.x + GUTTER) as f64 + (u - chart.low[0]) / self.pixel;
            // Up in the board is up on the page.
            [x, (spot.y + GUTTER) as f64 + (chart.high[1] - v) / self.pixel]
        })
    }

    /// The pages, each texel in the colour of the wood at its point of the surface.
    #[must_use]
    pub fn baked(&self, board: &Board, workers: usize) -> Vec<Picture> {
        let flats: Vec<Flat> = (0..self.mesh.triangles.len()).map(|i| Flat::of(self, i)).collect();
        let ground = self.ground(board);
        let page = |(page, [width, height]): (usize, &[usize; 2])| {
            let mut bytes = vec![0; width * height * 3];
            let flats: Vec<&Flat> = flats.iter().filter(|flat| flat.page == page).collect();
            in_bands(&mut bytes, *width, workers, |first, rows| {
                self.draw_rows(board, &flats, ground, [*width, first], rows);
            });
            Picture { width: *width, height: *height, bytes }
        };
        self.pages.iter().enumerate().map(page).collect()
    }

    /// What lies under the charts: about the colour of the wood, so that it doesn't show from afar.
    fn ground(&self, board: &Board) -> [u8; 3] {
        let size = board.finished();
        let middle = Point3::new(size.length, size.width, size.thickness) / 2.0;
        board.colour(&middle, size.length).map_or([128; 3], crate::wood::Colour::to_srgb8)
    }

    fn draw_rows(&self, board: &Board, flats: &[&Flat], ground: [u8; 3], [width, first]: [usize; 2], rows: &mut [u8]) {
        let count = rows.len() / 3 / width.max(1);
        let mut owners: Vec<u32> = vec![NOBODY; width * count];
        // First what a triangle covers, then around it what nobody does.
        for margin in [1e-6, GUTTER as f64 - 0.5] {
            for (i, flat) in (0..NOBODY).zip(flats) {
                for row in flat.outline.rows(margin, first..first + count) {
                    let line = &mut owners[(row - first) * width..][..width];
                    let span = flat.outline.span(row, margin, width);
                    line[span].iter_mut().filter(|owner| **owner == NOBODY).for_each(|owner| *owner = i);
                }
            }
        }
        for (row, (owners, line)) in owners.chunks(width).zip(rows.chunks_exact_mut(width * 3)).enumerate() {
            let mut from = 0;
            for run in owners.chunk_by(|a, b| a == b) {
                let texels = &mut line[from * 3..(from + run.len()) * 3];
                match flats.get(run[0] as usize) {
                    Some(flat) => {
                        let y = (first + row) as f64 + 0.5;
                        self.draw_run(board, |i| self.point(flat, [(from + i) as f64 + 0.5, y]), texels);
                    }
                    None => texels.chunks_exact_mut(3).for_each(|texel| texel.copy_from_slice(&ground)),
                }
                from += run.len();
            }
        }
    }

    /// Texels in a row of one triangle: as many at once as lie in one piece. Those beside the board, around
    /// its edges, are drawn one by one, each as the point of the board nearest to it.
    fn draw_run(&self, board: &Board, at: impl Fn(usize) -> Point3<f64>, texels: &mut [u8]) {
        let size = board.finished();
        let most = Point3::new(size.length, size.width, size.thickness);
        let held = |i: usize| at(i).sup(&Point3::origin()).inf(&most);
        let (mut from, mut rest) = (0, texels);
        while let (Some(first), false) = (board.spot(&held(from)), rest.is_empty()) {
            let same = |s: &board::Spot| (s.place, s.blank) == (first.place, first.blank);
            let in_one_piece = |i: usize| board.spot(&at(i)).filter(same);
            // A piece is convex: halving finds the last texel in it.
            let (mut last, mut beyond) = (from, from + rest.len() / 3);
            let mut far = first;
            while in_one_piece(from).is_some() && beyond - last > 1 {
                let middle = last.midpoint(beyond);
                match in_one_piece(middle) {
                    Some(spot) => (last, far) = (middle, spot),
                    None => beyond = middle,
                }
            }
            let steps = [(far.at - first.at) / (last - from).max(1) as f64, Vector3::zeros()];
            let block = Block { from: first.at, steps, pixels: [last + 1 - from, 1], grain: self.pixel };
            let (run, after) = rest.split_at_mut(block.pixels[0] * 3);
            if let Some(blank) = board.blank_at(&first) {
                let stride = run.len();
                blank.figure.draw(&block, run, stride);
            }
            (from, rest) = (last + 1, after);
        }
    }

    /// The point of the surface that a texel shows.
    fn point(&self, flat: &Flat, [x, y]: [f64; 2]) -> Point3<f64> {
        let (chart, spot) = (&self.charts[flat.chart], &self.spots[flat.chart]);
        let u = chart.low[0] + (x - (spot.x + GUTTER) as f64) * self.pixel;
        let v = chart.high[1] - (y - (spot.y + GUTTER) as f64) * self.pixel;
        let [a, b] = flat_axes(chart.axis);
        let mut at = Point3::origin();
        (at[a], at[b]) = (u, v);
        let [from, per_u, per_v] = flat.plane;
        at[chart.axis] = from + per_u * u + per_v * v;
        at
    }
}

const NOBODY: u32 = u32::MAX;

/// A texel's size that keeps to the limits.
fn held(charts: &[Chart], pixel: f64) -> f64 {
    let sides = |c: &Chart| [c.high[0] - c.low[0], c.high[1] - c.low[1]];
    let longest = charts.iter().flat_map(sides).fold(0.0, f64::max);
    let mut pixel = pixel.max(longest / (LONGEST - 2 * GUTTER - 2) as f64).max(1e-6);
    // Each round makes the charts a good deal smaller; gutters alone are never too many.
    for _ in 0..60 {
        let all: f64 = charts.iter().map(|c| texels(c, pixel)).map(|[w, h]| w as f64 * h as f64).sum();
        if all <= MOST_TEXELS {
            break;
        }
        pixel *= (all / MOST_TEXELS).sqrt().clamp(1.02, 4.0);
    }
    pixel
}

/// Width and height of a chart with its gutter.
fn texels(chart: &Chart, pixel: f64) -> [usize; 2] {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let side = |k: usize| ((chart.high[k] - chart.low[k]) / pixel).ceil() as usize + 2 * GUTTER;
    [side(0), side(1)]
}

/// A triangle on its page, ready to be drawn.
struct Flat {
    page: usize,
    chart: usize,
    outline: Outline,
    /// The coordinate along the chart's axis: [0] + [1]·u + [2]·v.
    plane: [f64; 3],
}

impl Flat {
    fn of(atlas: &Atlas, triangle: usize) -> Self {
        let chart = atlas.of_triangle[triangle];
        let outline = Outline::of(atlas.on_page(triangle));
        let plane = plane(atlas, triangle, atlas.charts[chart].axis);
        Self { page: atlas.spots[chart].page, chart, outline, plane }
    }
}

/// The plane of a triangle over the chart's flat: level where it stands on end or is none.
fn plane(atlas: &Atlas, triangle: usize, axis: usize) -> [f64; 3] {
    let [a, b, c] = atlas.mesh.triangles[triangle].map(|i| atlas.mesh.vertices[i as usize]);
    let normal = (b - a).cross(&(c - a));
    let [i, j] = flat_axes(axis);
    let middle = (a.coords + b.coords + c.coords) / 3.0;
    if normal[axis].abs() <= 1e-9 * normal.norm() || normal.norm() == 0.0 {
        return [middle[axis], 0.0, 0.0];
    }
    let (per_u, per_v) = (-normal[i] / normal[axis], -normal[j] / normal[axis]);
    [middle[axis] - per_u * middle[i] - per_v * middle[j], per_u, per_v]
}
