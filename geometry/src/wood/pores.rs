//! Pores: the vessels cut across. Knows rings and a wood's vessel sizes, nothing of colours.
//!
//! A grid of cells lies across the grain, moving with the pith line, rows shifted and bent by
//! chance. Each cell may hold one vessel at a time; along the grain a vessel starts thin, runs on
//! drifting a little for some 20 mm and ends, then the cell has another one. How large a vessel is
//! follows from where its own centre lies in the ring, so that pores are round and never cut off
//! at a ring's edge.
//!
//! Pixel coverage: a disc of radius ρ seen through a pixel g is drawn as a disc of radius
//! ρ' = max(ρ, 0.55 g) with an edge g wide; its height (ρ² / (ρ'² + g²/12)) keeps the area.

use super::noise::{four_positive, hash, ramp, split};
use super::rings::{Growth, Place, Ring};
use super::species::{Pores, Vessels};

/// Run of one vessel along the grain, mm.
const RUN: f64 = 24.0;
/// Mean of (run-out)² over a run: with ramps of 1/6 at both ends, 2/3 + 2·(1/6)/3.
const RUN_MEAN: f64 = 7.0 / 9.0;
/// Mean of (0.75 + 0.5 h)², h even 0 to 1: 1 + 0.25/12.
const SIZE_MEAN: f64 = 1.0 + 0.25 / 12.0;
/// How far a vessel's centre may lie from its cell's, in cells.
const STRAY: f64 = 0.3;

/// Radius and chance of a vessel whose centre lies `after` mm beyond the ring's start.
#[inline]
fn vessel(vessels: &Vessels, after: f64, width: f64) -> (f64, f64) {
    let share = match vessels.pores {
        Pores::None => return (0.0, 0.0),
        Pores::Diffuse => 0.5,
        Pores::SemiRing => (after / width).clamp(0.0, 1.0),
        // Earlywood of ring-porous woods is about as wide in wide rings as in narrow ones.
        Pores::Ring => f64::from(ramp(after, 0.8 * vessels.band, 1.2 * vessels.band)),
    };
    let mix = |early: f64, late: f64| early + (late - early) * share;
    (0.5 * mix(vessels.early, vessels.late), mix(vessels.early_chance, vessels.late_chance))
}

/// Mean share of the area taken by pores over a ring of this width.
pub(super) fn mean(vessels: &Vessels, width: f64) -> f64 {
    const PARTS: i32 = 64;
    let part = |i: i32| expected(vessels, (f64::from(i) + 0.5) / f64::from(PARTS) * width, width);
    (0..PARTS).map(part).sum::<f64>() / f64::from(PARTS)
}

/// Share of the area taken by pores at this place of the ring.
#[inline]
fn expected(vessels: &Vessels, after: f64, width: f64) -> f64 {
    let (radius, chance) = vessel(vessels, after, width);
    chance * std::f64::consts::PI * radius * radius * SIZE_MEAN * RUN_MEAN / (vessels.cell * vessels.cell)
}

/// `after` (mm beyond the start of `ring`) carried into the ring it lies in.
#[inline]
fn in_ring(after: f64, width: f64) -> f64 {
    if after < 0.0 {
        (after + width).max(0.0)
    } else if after >= width {
        after - width
    } else {
        after
    }
}

/// Share of the pixel taken by pores, less the mean over a ring.
#[inline]
pub(super) fn coverage(
    vessels: &Vessels,
    growth: &Growth,
    place: &Place,
    ring: &Ring,
    grain: f64,
    ring_mean: f64,
) -> f32 {
    if matches!(vessels.pores, Pores::None) || grain > 2.0 * growth.width {
        return 0.0;
    }
    let single = 1.0 - ramp(grain, 0.55 * vessels.cell, 1.1 * vessels.cell);
    let banded = 1.0 - ramp(grain, growth.width, 2.0 * growth.width);
    let mut share = 0.0;
    if single > 0.0 {
        share += f64::from(single) * discs(vessels, growth, place, ring, grain);
    }
    if single < 1.0 {
        share += f64::from(1.0 - single) * smeared(vessels, place, ring, grain);
    }
    (share - ring_mean) as f32 * banded
}

/// Expected share, averaged over the pixel at a few places across the rings.
#[inline]
fn smeared(vessels: &Vessels, place: &Place, ring: &Ring, grain: f64) -> f64 {
    let after = place.x - ring.start;
    let taps = [-0.375, -0.125, 0.125, 0.375];
    let tap = |t: f64| expected(vessels, in_ring(after + t * grain, ring.width), ring.width);
    taps.into_iter().map(tap).sum::<f64>() * 0.25
}

/// Share of the pixel taken by the vessels of the four nearest cells.
#[inline]
fn discs(vessels: &Vessels, growth: &Growth, place: &Place, ring: &Ring, grain: f64) -> f64 {
    let seed = growth.seed ^ 0x71;
    // Turned by a 3-4-5 triangle and bent, so that no row lies along an edge of the blank.
    let d = place.from_pith;
    let bend = 0.6 * f64::from(place.close[2]);
    let (x, y) = ((0.8 * d.x - 0.6 * d.y + bend) / vessels.cell, (0.6 * d.x + 0.8 * d.y - bend) / vessels.cell);
    let radial = [0.8 * place.outward.x - 0.6 * place.outward.y, 0.6 * place.outward.x + 0.8 * place.outward.y];
    let after = place.x - ring.start;
    let (row, _) = split(y - 0.5);
    let mut total = 0.0;
    for j in [row, row + 1] {
        let shift = (hash(seed, j, 0, 1) as i16 as f64) * (1.0 / 65_536.0);
        let (column, _) = split(x + shift - 0.5);
        for i in [column, column + 1] {
            let here = hash(seed, i, j, 2);
            let (run, t) = split(place.w / RUN + (here as u32) as f64 * (1.0 / 4_294_967_296.0));
            let [a, b, size, chance] = four_positive(hash(here, run, 0, 3)).map(f64::from);
            let drift = 0.12 * (t - 0.5);
            let dx = i as f64 + 0.5 + STRAY * (2.0 * a - 1.0) + drift * (2.0 * size - 1.0) - (x + shift);
            let dy = j as f64 + 0.5 + STRAY * (2.0 * b - 1.0) - drift * (2.0 * chance - 1.0) - y;
            let (dx, dy) = (dx * vessels.cell, dy * vessels.cell);
            let centre = in_ring(after + dx * radial[0] + dy * radial[1], ring.width);
            let (radius, likely) = vessel(vessels, centre, ring.width);
            if chance < likely {
                let run_out = (6.0 * t).min(6.0 * (1.0 - t)).min(1.0);
                total += disc(radius * (0.75 + 0.5 * size) * run_out, dx * dx + dy * dy, grain);
            }
        }
    }
    total.min(1.0)
}

/// Pixel coverage of one disc whose centre lies √`square` away.
#[inline]
fn disc(radius: f64, square: f64, grain: f64) -> f64 {
    let drawn = radius.max(0.55 * grain);
    let reach = drawn + 0.5 * grain;
    if square >= reach * reach {
        return 0.0;
    }
    let edge = ((reach - square.sqrt()) / grain).min(1.0);
    edge * radius * radius / (drawn * drawn + grain * grain / 12.0)
}
