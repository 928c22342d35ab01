//! A triangle on a grid of pixels: which of them it covers. Knows nothing of surfaces.
//!
//! Frame: x to the right, y down; the middle of the first pixel at (½, ½).

use std::ops::Range;

/// A triangle, whichever way round.
pub(super) struct Outline {
    /// For each side [a, b, c]: a·x + b·y + c is how far inside a pixel lies.
    sides: [[f64; 3]; 3],
    /// Least and greatest corner.
    extent: [[f64; 2]; 2],
}

impl Outline {
    pub(super) fn of(corners: [[f64; 2]; 3]) -> Self {
        let [a, b, c] = corners;
        let turn = if twice_area(corners) < 0.0 { -1.0 } else { 1.0 };
        let side = |p: [f64; 2], q: [f64; 2]| {
            let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
            let long = dx.hypot(dy).max(1e-12) * turn;
            let (a, b) = (-dy / long, dx / long);
            [a, b, -(a * p[0] + b * p[1])]
        };
        let ends = |pick: fn(f64, f64) -> f64| [0, 1].map(|k| pick(pick(a[k], b[k]), c[k]));
        Self { sides: [side(a, b), side(b, c), side(c, a)], extent: [ends(f64::min), ends(f64::max)] }
    }

    /// The rows of `within` that it reaches, with a margin.
    pub(super) fn rows(&self, margin: f64, within: Range<usize>) -> Range<usize> {
        let [first, last] = middles(self.extent[0][1] - margin, self.extent[1][1] + margin);
        first.max(within.start)..last.min(within.end)
    }

    /// The first `wide` pixels of a row that it covers, with a margin.
    pub(super) fn span(&self, row: usize, margin: f64, wide: usize) -> Range<usize> {
        let y = row as f64 + 0.5;
        let (mut from, mut to) = (self.extent[0][0] - margin, self.extent[1][0] + margin);
        for [a, b, c] in self.sides {
            // a·x ≥ −margin − b·y − c
            let least = -margin - b * y - c;
            if a > 0.0 {
                from = from.max(least / a);
            } else if a < 0.0 {
                to = to.min(least / a);
            } else if least > 0.0 {
                return 0..0;
            }
        }
        // Beyond a sharp corner, where the margins of two sides cross, there is nothing between them.
        let [first, beyond] = middles(from, to).map(|column| column.min(wide));
        first..beyond.max(first)
    }
}

/// Twice the signed area.
pub(super) fn twice_area([a, b, c]: [[f64; 2]; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
}

/// The pixels whose middles lie from `from` to `to`: the first, and the first beyond.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn middles(from: f64, to: f64) -> [usize; 2] {
    // A cast holds what is below 0 to 0.
    [(from - 0.5).ceil() as usize, ((to - 0.5).floor() + 1.0) as usize]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Slivers too, with any margin: a span never ends before it begins.
        #[test]
        fn a_span_is_one(
            x in -9.0..30.0f64, y in 0.0..9.0f64, u in -30.0..30.0f64, v in -9.0..9.0f64, sliver in -0.1..0.1f64,
            share in 0.0..1.0f64, margin in 0.0..4.0f64,
        ) {
            let third = [x + u * share - v * sliver, y + v * share + u * sliver];
            let outline = Outline::of([[x, y], [x + u, y + v], third]);
            for row in outline.rows(margin, 0..20) {
                let span = outline.span(row, margin, 24);
                prop_assert!(span.start <= span.end && span.end <= 24, "{span:?}");
            }
        }

        /// Two triangles over one rectangle cover each of its pixels, and none outside.
        #[test]
        fn a_rectangle_is_covered(x in 0.0..9.0f64, y in 0.0..9.0f64, w in 0.1..9.0f64, h in 0.1..9.0f64) {
            let [a, b, c, d] = [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
            let halves = [Outline::of([a, b, c]), Outline::of([a, d, c])];
            for (row, column) in (0..20).flat_map(|r| (0..20).map(move |c| (r, c))) {
                let middle = [column as f64 + 0.5, row as f64 + 0.5];
                let inside = |by: f64| (x - by..=x + w + by).contains(&middle[0]) && (y - by..=y + h + by).contains(&middle[1]);
                let rows = |half: &Outline| half.rows(1e-6, 0..20).contains(&row);
                let covered = halves.iter().any(|half| rows(half) && half.span(row, 1e-6, 20).contains(&column));
                prop_assert!(covered || !inside(-1e-5));
                prop_assert!(!covered || inside(1e-5));
            }
        }
    }
}
