//! Earlywood passing into latewood within one ring, averaged exactly over a pixel. Knows rings
//! and nothing of colours.
//!
//! With f from 0 (ring's inner edge) to 1 (latewood edge) the darkness is
//! P(f) = body·(3f² − 2f³) + line·f⁸ + dense·(1 − (1 − f)⁴): a gradual passing, a thin line at the
//! edge, a ring that is dense soon after the porous start. Its integral
//! F(f) = body·(f³ − f⁴/2) + line·f⁹/9 + dense·(f − (1 − (1 − f)⁵)/5) gives the mean over any
//! stretch without sampling, so the abrupt edge never aliases.

use super::noise::hold32;
use super::rings::Place;
use super::species::Latewood;
use super::years::{Edges, Years};

/// A wood's rings made ready to draw.
#[derive(Debug, Clone)]
pub(super) struct Profile {
    body: f32,
    line: f32,
    dense: f32,
    /// Mean of P over a ring.
    mean: f32,
}

impl Profile {
    pub(super) fn new(shape: &Latewood) -> Profile {
        let mut profile =
            Profile { body: shape.body as f32, line: shape.line as f32, dense: shape.dense as f32, mean: 0.0 };
        profile.mean = profile.integral(1.0);
        profile
    }

    /// F, less the mean: the integral of P from 0 to f.
    #[inline(always)]
    fn integral(&self, f: f32) -> f32 {
        let f2 = f * f;
        let f4 = f2 * f2;
        let rest = 1.0 - f;
        let rest2 = rest * rest;
        self.body * (f2 * f - 0.5 * f4)
            + self.line * (f4 * f4 * f) * (1.0 / 9.0)
            + self.dense * (f - 0.2 * (1.0 - rest2 * rest2 * rest))
            - self.mean * f
    }

    /// Darkness at the place, averaged over `grain` mm across the rings, less its mean.
    #[inline(always)]
    pub(super) fn darkness(&self, years: &Years, place: &Place, edges: &Edges, grain: f64) -> f32 {
        // A latewood edge is a few cells wide.
        let span = grain.max(0.04);
        if span < years.narrow {
            // No wider than this, the span stays within the two rings at the nearest edge.
            return self.stretch(edges, place.x, span) * (1.0 / span as f32);
        }
        if span >= 2.0 * years.width {
            return 0.0;
        }
        self.wide(years, place, edges, span)
    }

    /// The same where the span may reach farther: ring by ring, four either way at most.
    #[cold]
    fn wide(&self, years: &Years, place: &Place, edges: &Edges, span: f64) -> f32 {
        let number = edges.number();
        let mut total = 0.0;
        for n in (number.saturating_sub(4)..number + 5).step_by(2) {
            total += self.stretch(&years.edges_at(n, place.x), place.x, span);
        }
        total / span as f32 * years.banded(span)
    }

    /// Integral over the span about `x`, as far as it lies in the two rings, their means taken off.
    #[inline(always)]
    fn stretch(&self, edges: &Edges, x: f64, span: f64) -> f32 {
        let [inner, edge, outer] = edges.at;
        let widths = [(edge - inner) as f32, (outer - edge) as f32];
        let (low, high) = ((x - edge - 0.5 * span) as f32, (x - edge + 0.5 * span) as f32);
        let (per_inner, per_outer) = (1.0 / widths[0], 1.0 / widths[1]);
        let inside = |f: f32| self.integral(hold32(f, 0.0, 1.0));
        let first = inside(high * per_inner + 1.0) - inside(low * per_inner + 1.0);
        let second = inside(high * per_outer) - inside(low * per_outer);
        first * widths[0] * edges.strength[0] + second * widths[1] * edges.strength[1]
    }
}
