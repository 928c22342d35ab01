//! Rays: thin lines from the pith outward. Knows rings and a wood's ray sizes, nothing of colours.
//!
//! The turn about the pith is cut into cells, one ray in each. Since rays spread apart outward,
//! every doubling of the radius doubles the cells, 6·2ⁿ in a full turn, so that the space between
//! rays stays between one and two spacings; each ray starts and ends at a radius of its own. Two
//! such sets, half a doubling apart, overlap. Along its way and along the grain a ray comes and
//! goes (noise of `length` by `height` mm). A ray's share of a pixel is the exact overlap of its
//! width with the pixel's.

use super::noise::{Plane, hash, hold, hold32, one, ramp, split};
use super::rings::Place;
use super::species::RayLines;

/// Mean of a ray's relative width along its way: 0.85 (mean size) · 0.53 (mean of coming and going,
/// counted in the test below).
const MEAN_WIDTH: f64 = 0.45;
/// A change of light by less than this share isn't seen: about 0.3 of CIE L*, where 1 is what an eye just tells apart.
const UNSEEN: f32 = 0.008;
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
    let q = a.min(b) / a.max(b);
    let eighth = q * (0.125 + 0.043_45 * (1.0 - q));
    let quarter = if b <= a { eighth } else { 0.25 - eighth };
    let half = if x >= 0.0 { quarter } else { 0.5 - quarter };
    if y >= 0.0 { half } else { 1.0 - half }
}

/// A wood's rays of one kind made ready to draw.
#[derive(Debug, Clone)]
pub(super) struct Fan {
    spacing: f64,
    per_spacing: f64,
    per_length: f64,
    per_height: f64,
    width: f64,
    lightness: f32,
    seeds: [u64; 2],
}

impl Fan {
    pub(super) fn new(rays: &RayLines, seed: u64) -> Fan {
        Fan {
            spacing: rays.spacing,
            per_spacing: 1.0 / rays.spacing,
            per_length: 1.0 / rays.length,
            per_height: 1.0 / rays.height,
            width: rays.width,
            lightness: rays.lightness,
            seeds: [hash(seed, 1, 0, 0), hash(seed, 2, 0, 0)],
        }
    }

    /// How much lighter the rays make the pixel, less their mean.
    #[inline(always)]
    pub(super) fn light(&self, place: &Place, grain: f64) -> f32 {
        let fade = 1.0 - ramp(grain * self.per_spacing, 0.25, 4.0);
        // The widest ray in its pixel.
        let most = self.lightness.abs() * fade * (1.3 * self.width / grain).min(1.0) as f32;
        let seen = most > UNSEEN && place.r >= self.spacing;
        if seen { self.lightness * fade * self.coverage(place, grain) } else { 0.0 }
    }

    /// Share of the pixel taken by rays, less its mean.
    #[inline]
    fn coverage(&self, place: &Place, grain: f64) -> f32 {
        let bend = 0.05 * f64::from(place.close[3]) * place.per_r * hold(0.1 * place.r - 0.5, 0.0, 1.0);
        let turn = turns(place.from_pith.x, place.from_pith.y) + bend;
        let reach = place.r * self.per_spacing;
        let first = self.set(self.seeds[0], place, turn, reach, grain);
        let second = self.set(self.seeds[1], place, turn, reach * std::f64::consts::SQRT_2, grain);
        (first + second) as f32
    }

    /// One of the two sets; `reach` is the radius in spacings, scaled for the set, 1 or more.
    #[inline(always)]
    fn set(&self, seed: u64, place: &Place, turn: f64, reach: f64, grain: f64) -> f64 {
        // reach = 2ⁿ·mantissa, mantissa 1 to 2, read off the number's own bits.
        let bits = reach.to_bits();
        let doublings = (bits >> 52) as i64 - 1023;
        let mantissa = f64::from_bits((bits & (u64::MAX >> 12)) | (1023 << 52));
        let cells = 6.0 * (1_u64 << (doublings & 63)) as f64;
        let (cell, within) = split(turn * cells);
        let here = hash(seed, cell, doublings, 0);
        let per_cell_width = cells * place.per_r * (1.0 / std::f64::consts::TAU);
        let shown = ((mantissa - 1.0).min(2.0 - mantissa) * (1.0 / ENDS)).min(1.0);
        let mean = MEAN_WIDTH * shown * self.width * per_cell_width;
        let away = (within - 0.5 - 0.3 * f64::from(one(here, 0))).abs();
        if away > (0.65 * self.width + 0.5 * grain) * per_cell_width {
            return -mean;
        }
        overlap(away / per_cell_width, 0.5 * self.width_at(here, place, mantissa), grain) - mean
    }

    /// Width of a ray at the place, mm: its own size, its ends, and how it comes and goes, being
    /// there over about two thirds of its way.
    #[inline]
    fn width_at(&self, here: u64, place: &Place, mantissa: f64) -> f64 {
        let part = |from: u32| 0.5 + 0.5 * f64::from(one(here, from));
        let (start, end) = (1.0 + ENDS * part(16), 2.0 - ENDS * part(32));
        let tips = ramp(mantissa, start - 0.02, 25.0) * (1.0 - ramp(mantissa, end - 0.02, 25.0));
        let shown = shown(here, place.r * self.per_length, place.w * self.per_height);
        self.width * (0.4 + 0.9 * part(48)) * f64::from(tips * shown)
    }
}

/// How much of a ray is there, 0 to 1; `x` along its way, `y` along the grain.
#[inline(always)]
fn shown(here: u64, x: f64, y: f64) -> f32 {
    let [noise, ..] = Plane::default().at(here, x, y);
    hold32(0.6 + 3.0 * noise, 0.0, 1.0)
}

/// Share of a pixel `grain` wide taken by a line of half width `half`, `away` from its middle.
#[inline(always)]
fn overlap(away: f64, half: f64, grain: f64) -> f64 {
    ((away + 0.5 * grain).min(half) - (away - 0.5 * grain).max(-half)).max(0.0) / grain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_width_is_as_counted() {
        let count = 200_000_i32;
        let at = |n: i32| shown(u64::from(n.unsigned_abs()) / 500, f64::from(n) * 0.37, f64::from(n) * 0.11);
        let mean = (0..count).map(|n| f64::from(at(n))).sum::<f64>() / f64::from(count);
        approx::assert_relative_eq!(0.85 * mean, MEAN_WIDTH, max_relative = 0.02);
    }

    #[test]
    fn turns_rise_and_are_near_the_angle() {
        let mut last = 0.0;
        for n in 0..10_000 {
            let angle = f64::from(n) / 10_000.0 * std::f64::consts::TAU;
            let turn = turns(angle.cos(), angle.sin());
            assert!((turn * std::f64::consts::TAU - angle).abs() < 0.004, "{angle}: {turn}");
            assert!(n == 0 || turn > last);
            last = turn;
        }
    }
}
