//! Earlywood passing into latewood within one ring, averaged exactly over a pixel. Knows rings
//! and nothing of colours.
//!
//! With f from 0 (ring's inner edge) to 1 (latewood edge) the darkness is
//! P(f) = body·(3f² − 2f³) + line·f⁸ + dense·(1 − (1 − f)⁴): a gradual passing, a thin line at the
//! edge, a ring that is dense soon after the porous start. Its integral
//! F(f) = body·(f³ − f⁴/2) + line·f⁹/9 + dense·(f − (1 − (1 − f)⁵)/5) gives the mean over any
//! stretch without sampling, so the abrupt edge never aliases.

use super::noise::{four, hash, ramp};
use super::rings::{Growth, Place, Ring};
use super::species::Latewood;

/// F, the integral of P from 0 to f.
#[inline]
fn integral(shape: &Latewood, f: f64) -> f64 {
    let f2 = f * f;
    let f4 = f2 * f2;
    let rest = 1.0 - f;
    let rest2 = rest * rest;
    shape.body * (f2 * f - 0.5 * f4)
        + shape.line * (f4 * f4 * f) * (1.0 / 9.0)
        + shape.dense * (f - 0.2 * (1.0 - rest2 * rest2 * rest))
}

/// Mean darkness over a whole ring.
pub(super) fn mean(shape: &Latewood) -> f64 {
    integral(shape, 1.0)
}

/// How strongly ring `number` shows: some years have hardly any latewood. Mean 1.
#[inline]
fn strength(growth: &Growth, number: i64) -> f64 {
    1.0 + 0.35 * f64::from(four(hash(growth.seed ^ 0x61, number, 0, 0))[1])
}

/// Darkness at the place, averaged over `grain` mm across the rings, less its mean.
#[inline]
pub(super) fn darkness(shape: &Latewood, growth: &Growth, place: &Place, ring: &Ring, grain: f64) -> f32 {
    let fade = 1.0 - ramp(grain, growth.width, 2.0 * growth.width);
    if fade <= 0.0 {
        return 0.0;
    }
    // A latewood edge is a few cells wide.
    let span = grain.max(0.04);
    let (low, high) = (place.x - 0.5 * span, place.x + 0.5 * span);
    let mut total = stretch(shape, growth, ring, low, high);
    let mut inner = *ring;
    // A span of two mean widths can reach no more than four rings either way.
    for _ in 0..4 {
        if low >= inner.start || inner.number == 0 {
            break;
        }
        let start = growth.edge(inner.number - 1);
        inner = Ring { number: inner.number - 1, start, width: inner.start - start };
        total += stretch(shape, growth, &inner, low, high);
    }
    let mut outer = *ring;
    for _ in 0..4 {
        let start = outer.start + outer.width;
        if high <= start {
            break;
        }
        outer = Ring { number: outer.number + 1, start, width: growth.edge(outer.number + 2) - start };
        total += stretch(shape, growth, &outer, low, high);
    }
    (total / span) as f32 * fade
}

/// Integral over [low, high] within one ring, its own mean taken off.
#[inline]
fn stretch(shape: &Latewood, growth: &Growth, ring: &Ring, low: f64, high: f64) -> f64 {
    let inside = |x: f64| ((x - ring.start) / ring.width).clamp(0.0, 1.0);
    let (from, to) = (inside(low), inside(high));
    let part = integral(shape, to) - integral(shape, from) - mean(shape) * (to - from);
    part * ring.width * strength(growth, ring.number)
}
