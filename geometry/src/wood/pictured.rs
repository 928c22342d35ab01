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
use super::ends::{Between, Field};
use super::noise::{ease, hold, ramp};
use crate::picture::Picture;
use nalgebra::{Point2, Point3, Vector2};

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
        let ways = Some(Ways::new(&wood.field(""), size, length));
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
    let h = ease(ramp(f64::from(t), 0.5 - 0.5 * PASSING, 1.0 / PASSING));
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

/// The ways from each point of the blank to its two ends, on a lattice.
#[derive(Debug, Clone)]
struct Ways {
    cell: [f64; 3],
    cells: [usize; 3],
    /// At each node, u fastest: to the near and to the far end, mm.
    nodes: Vec<[Vector2<f32>; 2]>,
}

impl Ways {
    fn new(field: &Field, size: Vector2<f64>, length: f64) -> Ways {
        let longer = size.x.max(size.y);
        let cells = [size.x, size.y].map(|side| ((CELLS * side / longer).ceil() as usize).max(1));
        let cells = [cells[0], cells[1], STATIONS];
        let cell = [size.x / cells[0] as f64, size.y / cells[1] as f64, length / STATIONS as f64];
        let mut nodes = Vec::new();
        for k in 0..=cells[2] {
            for j in 0..=cells[1] {
                for i in 0..=cells[0] {
                    let at = Point3::new(i as f64 * cell[0], j as f64 * cell[1], k as f64 * cell[2]);
                    let way = |w: f64| way(field, &at, w, FARTHEST_STEP * longer).map(|x| x as f32);
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

/// The way from a point to where its ring is at the station w, at right angles to the rings.
fn way(field: &Field, at: &Point3<f64>, w: f64, farthest: f64) -> Vector2<f64> {
    let wanted = field.at(at).at;
    let mut way = Vector2::zeros();
    for _ in 0..STEPS {
        let here = field.at(&Point3::new(at.x + way.x, at.y + way.y, w));
        let slope = here.slope.norm_squared().max(LEAST_SLOPE);
        let step = here.slope * ((wanted - here.at) / slope);
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
    light: Vec<[f32; 3]>,
}

impl Photograph {
    fn new(picture: &Picture, size: Vector2<f64>) -> Result<Photograph, Unpictured> {
        let (width, height) = (picture.width, picture.height);
        let bytes = width.checked_mul(height).and_then(|n| n.checked_mul(3));
        if bytes != Some(picture.bytes.len()) || width == 0 || height == 0 {
            return Err(Unpictured::NotAPicture);
        }
        let light = |p: &[u8]| {
            let colour = Colour::from_srgb8([p[0], p[1], p[2]]);
            [colour.r, colour.g, colour.b]
        };
        let mut levels = vec![Level { width, height, light: picture.bytes.chunks_exact(3).map(light).collect() }];
        while let Some(smaller) = levels.last().and_then(|level| level.halved([width, height], levels.len() - 1)) {
            levels.push(smaller);
        }
        let per = Vector2::new(width as f64 / size.x, height as f64 / size.y);
        Ok(Photograph { per, pixel: 1.0 / per.min(), height: size.y, levels })
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
            light.push(std::array::from_fn(|c| four.iter().map(|(weight, p)| weight * p[c]).sum::<f32>() / all));
        }
        Some(Level { width, height, light })
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
        std::array::from_fn(|c| {
            let (upper, lower) =
                (four[0][c] + a * (four[1][c] - four[0][c]), four[2][c] + a * (four[3][c] - four[2][c]));
            upper + b * (lower - upper)
        })
    }
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
