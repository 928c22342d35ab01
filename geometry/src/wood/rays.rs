//! Rays: thin lines from the pith outward. Knows rings and a wood's ray sizes, nothing of colours.
//!
//! The turn about the pith is cut into cells, one ray in each. Since rays spread apart outward,
//! every doubling of the radius doubles the cells, 6·2ⁿ in a full turn, so that the space between
//! rays stays between one and two spacings; each ray starts and ends at a radius of its own. Two
//! such sets, half a doubling apart, overlap. Along its way and along the grain a ray comes and
//! goes (noise of `length` by `height` mm). A ray's share of a pixel is the exact overlap of its
//! width with the pixel's.

use super::noise::{four_positive, hash, plane, ramp, split};
use super::rings::{Growth, Place};
use super::species::RayLines;

/// Mean of a ray's relative width along its way: 0.85 (mean size) · 0.59 (mean of [`presence`],
/// counted over many places).
const MEAN_WIDTH: f64 = 0.5;
/// Rays start within this share of a doubling, and end within it.
const ENDS: f64 = 0.4;

/// Angle about the pith in turns, 0 to 1: a rational curve in place of the arc tangent. It is
/// within 0.004 rad and rises all the way, which is all that rays need.
#[inline]
fn turns(x: f64, y: f64) -> f64 {
    let (a, b) = (x.abs(), y.abs());
    if a + b == 0.0 {
        return 0.0;
    }
    let eighth = |q: f64| q * (0.125 + 0.043_45 * (1.0 - q));
    let quarter = if b <= a { eighth(b / a) } else { 0.25 - eighth(a / b) };
    let half = if x >= 0.0 { quarter } else { 0.5 - quarter };
    if y >= 0.0 { half } else { 1.0 - half }
}

/// Share of the pixel taken by rays, less its mean.
#[inline]
pub(super) fn coverage(rays: &RayLines, growth: &Growth, place: &Place, grain: f64) -> f32 {
    let fade = 1.0 - ramp(grain, 0.4 * rays.spacing, 0.8 * rays.spacing);
    if rays.lightness == 0.0 || fade <= 0.0 || place.r < rays.spacing {
        return 0.0;
    }
    let turn = turns(place.from_pith.x, place.from_pith.y) + 0.2 * f64::from(place.close[3]) / (place.r + 20.0);
    let first = set(rays, growth.seed ^ 0x81, place, turn, place.r / rays.spacing, grain);
    let second = set(rays, growth.seed ^ 0x82, place, turn, place.r * std::f64::consts::SQRT_2 / rays.spacing, grain);
    (first + second) as f32 * fade
}

/// One of the two sets; `reach` is the radius in spacings, scaled for the set.
#[inline]
fn set(rays: &RayLines, seed: u64, place: &Place, turn: f64, reach: f64, grain: f64) -> f64 {
    if reach < 1.0 {
        return 0.0;
    }
    // reach = 2ⁿ·mantissa, mantissa 1 to 2, read off the number's own bits.
    let doublings = (reach.to_bits() >> 52) as i64 - 1023;
    let cells = 6.0 * (1_u64 << doublings.clamp(0, 40)) as f64;
    let mantissa = reach / (cells / 6.0);
    let (cell, within) = split(turn * cells);
    let here = hash(seed, cell, doublings, 0);
    let [stray, start, end, size] = four_positive(here).map(f64::from);
    let cell_width = std::f64::consts::TAU * place.r / cells;
    let away = (within - 0.5 - 0.6 * (stray - 0.5)).abs() * cell_width;
    let shown = ((mantissa - 1.0).min(2.0 - mantissa) / ENDS).clamp(0.0, 1.0);
    let mean = MEAN_WIDTH * shown * rays.width / cell_width;
    if away > rays.width + 0.5 * grain {
        return -mean;
    }
    let (start, end) = (1.0 + ENDS * start, 2.0 - ENDS * end);
    let tip = ramp(mantissa, start - 0.03, start + 0.03) * (1.0 - ramp(mantissa, end - 0.03, end + 0.03));
    let width = rays.width * (0.4 + 0.9 * size) * f64::from(tip) * presence(rays, here, place);
    overlap(away, 0.5 * width, grain) - mean
}

/// How much of a ray is there: 0 to 1, over about two thirds of its way.
#[inline]
fn presence(rays: &RayLines, here: u64, place: &Place) -> f64 {
    let shown = plane(here, place.r / rays.length, place.w / rays.height);
    f64::from((0.6 + 3.0 * shown).clamp(0.0, 1.0))
}

/// Share of a pixel `grain` wide taken by a line of half width `half`, `away` from its middle.
#[inline]
fn overlap(away: f64, half: f64, grain: f64) -> f64 {
    let grain = grain.max(1.0e-3);
    ((away + 0.5 * grain).min(half) - (away - 0.5 * grain).max(-half)).max(0.0) / grain
}
