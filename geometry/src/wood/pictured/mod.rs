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

mod block;
mod photograph;
#[cfg(test)]
mod tests;
mod ways;

pub use block::Block;

use super::colour::Colour;
use super::ends::{Between, HEARTWOOD};
use super::noise::{ease, hold, ramp};
use crate::picture::Picture;
use nalgebra::{Point2, Point3, Vector2};
use photograph::Photograph;
use ways::Ways;

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
        let at = self.held(at);
        let ways = self.ways_at(&at);
        let t = (at.z / self.length) as f32;
        let light = |end: usize, grain: f64| {
            let photograph = self.photographs[end].as_ref();
            photograph.map_or([0.0; 3], |photograph| photograph.colour(&(at.xy() + ways[end]), grain))
        };
        let [r, g, b] = match &self.photographs {
            [Some(_), Some(_)] => {
                // Detail that has passed to the other end is not looked at.
                let h = passed(t);
                let seen = |end: usize, share: f32| {
                    let broad = light(end, grain.max(self.ring_width));
                    (if share > 0.0 { light(end, grain) } else { broad }, broad)
                };
                both(seen(0, 1.0 - h), seen(1, h), t)
            }
            [Some(_), None] => light(0, grain),
            _ => light(1, grain),
        };
        Colour { r, g, b }
    }

    /// Where a point of the blank is found on the near and on the far end, mm: the same ring, and
    /// the same place along it.
    pub fn on_ends(&self, at: &Point3<f64>) -> [Point2<f64>; 2] {
        let at = self.held(at);
        self.ways_at(&at).map(|way| at.xy() + way)
    }

    /// Within one size of the blank beyond it: farther off nothing is known.
    fn held(&self, at: &Point3<f64>) -> Point3<f64> {
        let beside = |x: f64, size: f64| hold(x, -size, 2.0 * size);
        Point3::new(beside(at.x, self.size.x), beside(at.y, self.size.y), hold(at.z, 0.0, self.length))
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

/// How far the detail has passed from the near end's to the far end's.
#[inline]
fn passed(t: f32) -> f32 {
    ease(ramp(f64::from(t), 0.5 - 0.5 * PASSING, 1.0 / PASSING))
}
