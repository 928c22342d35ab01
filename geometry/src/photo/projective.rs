//! The projective map from the unit square into a photograph, in closed form.

use super::Corners;

/// Maps (s, t), 0 to 1 across the width and through the thickness of an end, to its place in a photograph.
///
/// x = (a s + b t + c) / (g s + h t + 1), y = (d s + e t + f) / (g s + h t + 1): the pinhole camera's map of a
/// plane. The eight numbers follow in closed form from the four corners: P. S. Heckbert, *Fundamentals of Texture
/// Mapping and Image Warping*, master's thesis, UC Berkeley (1989), section 2.2.3.
///
/// ```
/// use quarterturn_geometry::photo::{Corners, Projective};
/// let points = [[380.0, 290.0], [20.0, 280.0], [30.0, 40.0], [370.0, 30.0]];
/// let map = Projective::of(&Corners::new(points, [400, 300]).unwrap());
/// let [x, y] = map.at([1.0, 1.0]);
/// assert!((x - 30.0).abs() < 1e-9 && (y - 40.0).abs() < 1e-9);
/// let [s, t] = map.back(map.at([0.25, 0.75])).unwrap();
/// assert!((s - 0.25).abs() < 1e-9 && (t - 0.75).abs() < 1e-9);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projective {
    /// Rows for x, y and the divisor.
    rows: [[f64; 3]; 3],
}

impl Projective {
    /// The map that takes (0, 0), (1, 0), (1, 1), (0, 1) to the corners.
    #[must_use]
    pub fn of(corners: &Corners) -> Self {
        let [p0, p1, p2, p3] = *corners.points();
        let sum = |axis: usize| p0[axis] - p1[axis] + p2[axis] - p3[axis];
        let (d1, d2) = ([p1[0] - p2[0], p1[1] - p2[1]], [p3[0] - p2[0], p3[1] - p2[1]]);
        // Corners are convex, so that this is not 0.
        let den = d1[0] * d2[1] - d2[0] * d1[1];
        let g = (sum(0) * d2[1] - d2[0] * sum(1)) / den;
        let h = (d1[0] * sum(1) - sum(0) * d1[1]) / den;
        let row = |axis: usize| [p1[axis] - p0[axis] + g * p1[axis], p3[axis] - p0[axis] + h * p3[axis], p0[axis]];
        Self { rows: [row(0), row(1), [g, h, 1.0]] }
    }

    /// The three rows of the matrix that acts on (s, t, 1).
    #[must_use]
    pub const fn rows(&self) -> &[[f64; 3]; 3] {
        &self.rows
    }

    /// The place of (s, t) in the photograph.
    #[must_use]
    pub fn at(&self, [s, t]: [f64; 2]) -> [f64; 2] {
        let [x, y, divisor] = self.rows.map(|row| row[0] * s + row[1] * t + row[2]);
        [x / divisor, y / divisor]
    }

    /// The (s, t) of a place in the photograph; none on the horizon of the end's plane.
    #[must_use]
    pub fn back(&self, [x, y]: [f64; 2]) -> Option<[f64; 2]> {
        let [p, q, r] = &self.rows;
        let m =
            [[p[0] - x * r[0], p[1] - x * r[1], p[2] - x * r[2]], [q[0] - y * r[0], q[1] - y * r[1], q[2] - y * r[2]]];
        let det = m[0][0] * m[1][1] - m[0][1] * m[1][0];
        let s = (m[0][1] * m[1][2] - m[0][2] * m[1][1]) / det;
        let t = (m[0][2] * m[1][0] - m[0][0] * m[1][2]) / det;
        (s.is_finite() && t.is_finite()).then_some([s, t])
    }

    /// How many pixels of the photograph one unit of s and one of t are there.
    #[must_use]
    pub fn stretch(&self, [s, t]: [f64; 2]) -> [f64; 2] {
        let [x, y] = self.at([s, t]);
        let divisor = self.rows[2][0] * s + self.rows[2][1] * t + 1.0;
        let along = |k: usize| {
            let slope = |place: f64, row: &[f64; 3]| (row[k] - place * self.rows[2][k]) / divisor;
            slope(x, &self.rows[0]).hypot(slope(y, &self.rows[1]))
        };
        [along(0), along(1)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn corners_go_to_corners_and_all_comes_back(
            points in prop::array::uniform4(prop::array::uniform2(0.0_f64..4000.0)),
            place in prop::array::uniform2(0.0_f64..=1.0),
        ) {
            let Ok(corners) = Corners::new(points, [4000, 4000]) else { return Ok(()) };
            let map = Projective::of(&corners);
            for (square, point) in [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]].into_iter().zip(points) {
                let seen = map.at(square);
                prop_assert!((seen[0] - point[0]).hypot(seen[1] - point[1]) < 1e-6, "{seen:?} for {point:?}");
            }
            let back = map.back(map.at(place)).unwrap();
            prop_assert!((back[0] - place[0]).hypot(back[1] - place[1]) < 1e-6);
        }

        #[test]
        fn the_stretch_is_the_slope(
            shift in prop::array::uniform8(-60.0_f64..60.0),
            place in prop::array::uniform2(0.1_f64..0.9),
        ) {
            let square = [[900.0, 900.0], [100.0, 900.0], [100.0, 100.0], [900.0, 100.0]];
            let points = std::array::from_fn(|i| [square[i][0] + shift[2 * i], square[i][1] + shift[2 * i + 1]]);
            let map = Projective::of(&Corners::new(points, [1000, 1000]).unwrap());
            let step = 1e-6;
            for (k, seen) in map.stretch(place).into_iter().enumerate() {
                let mut other = place;
                other[k] += step;
                let (from, to) = (map.at(place), map.at(other));
                let slope = (to[0] - from[0]).hypot(to[1] - from[1]) / step;
                prop_assert!((slope - seen).abs() < 1e-3 * seen, "{slope} and {seen}");
            }
        }
    }
}
