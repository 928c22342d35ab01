//! Four corners that can be those of an end, or why not.
//!
//! A flat rectangle in front of a camera is seen as a convex quadrilateral; which way round its corners run tells
//! the near end from the far one, and so settles the mirror image.

use super::{End, Projective};
use thiserror::Error;

/// The four corners of an end in a photograph, upright, in pixels: those of (0, 0), (U, 0), (U, V) and (0, V), the
/// marked corner first.
///
/// ```
/// use quarterturn_geometry::photo::{Corners, CornersError, End};
/// let clockwise = [[380.0, 290.0], [20.0, 280.0], [30.0, 40.0], [370.0, 30.0]];
/// let corners = Corners::new(clockwise, [400, 300]).unwrap();
/// assert_eq!(corners.end(), End::Near);
/// assert!(corners.of(End::Near).is_ok());
/// assert_eq!(corners.of(End::Far), Err(CornersError::WrongSense(End::Far)));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    points: [[f64; 2]; 4],
}

/// Why four points are not the corners of an end.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CornersError {
    /// A corner is not a number, or not within the photograph.
    #[error("corner {corner} lies outside the photograph, which is {} × {} pixels", .size[0], .size[1])]
    Outside {
        /// Its number, from 1.
        corner: usize,
        /// Width and height of the photograph.
        size: [usize; 2],
    },
    /// Two corners nearly meet.
    #[error("corners {0} and {1} are less than {LEAST_SIDE} pixels apart: the end is too small to be seen")]
    Tiny(usize, usize),
    /// Three corners stand in one line.
    #[error("at corner {0} the outline runs straight on, or back on itself: three corners stand in one line")]
    InLine(usize),
    /// Two sides cross.
    #[error(
        "two sides of the outline cross: two corners have changed places; name them all the way round, \
         the marked corner first"
    )]
    Crossed,
    /// One corner lies within the triangle of the others.
    #[error("the outline is bent inward at corner {0}, as no flat end is seen")]
    BentInward(usize),
    /// The corners run the wrong way round for this end.
    #[error(
        "the corners run {}, which is how they run on the {} end; on the {} end they run {}:\n{}",
        .0.other().sense(), .0.other().name(), .0.name(), .0.sense(), .0.drawing()
    )]
    WrongSense(End),
}

/// A shorter side shows nothing of the wood, pixels.
pub const LEAST_SIDE: f64 = 16.0;
/// Below this sine the sides at a corner count as one line: 3 degrees.
const LEAST_SINE: f64 = 0.052;

impl Corners {
    /// Four points in a photograph of that width and height.
    ///
    /// # Errors
    /// [`CornersError`]: outside the photograph, too close, in one line, crossed, bent inward.
    pub fn new(points: [[f64; 2]; 4], size: [usize; 2]) -> Result<Self, CornersError> {
        for (i, point) in points.iter().enumerate() {
            let inside = |axis: usize| (0.0..=size[axis] as f64).contains(&point[axis]);
            if !(inside(0) && inside(1)) {
                return Err(CornersError::Outside { corner: i + 1, size });
            }
        }
        for i in 0..4 {
            for j in 0..i {
                if length(between(points[j], points[i])) < LEAST_SIDE {
                    return Err(CornersError::Tiny(j + 1, i + 1));
                }
            }
        }
        shape(&points)?;
        Ok(Self { points })
    }

    /// The points in their order.
    #[must_use]
    pub const fn points(&self) -> &[[f64; 2]; 4] {
        &self.points
    }

    /// Which end they are of, by the sense in which they run: with y downward the area is positive clockwise.
    #[must_use]
    pub fn end(&self) -> End {
        if self.area() > 0.0 { End::Near } else { End::Far }
    }

    /// The signed area, square pixels: positive on the near end.
    #[must_use]
    pub fn area(&self) -> f64 {
        let p = &self.points;
        0.5 * (0..4).map(|i| cross(p[i], p[(i + 1) % 4])).sum::<f64>()
    }

    /// The same corners, known to be of this end.
    ///
    /// # Errors
    /// [`CornersError::WrongSense`] where they run as on the other one.
    pub fn of(self, end: End) -> Result<Self, CornersError> {
        if self.end() == end { Ok(self) } else { Err(CornersError::WrongSense(end)) }
    }

    /// Lengths of the four sides, pixels: along u at v = 0, along v at u = U, along u at v = V, along v at u = 0.
    #[must_use]
    pub fn sides(&self) -> [f64; 4] {
        std::array::from_fn(|i| length(between(self.points[i], self.points[(i + 1) % 4])))
    }

    /// The corners of a part of the end that reaches `from` to `to`, shares of its width and of its thickness: where
    /// milling will take something off all round.
    ///
    /// ```
    /// use quarterturn_geometry::photo::Corners;
    /// let end = Corners::new([[100.0, 300.0], [300.0, 300.0], [300.0, 100.0], [100.0, 100.0]], [400, 400]).unwrap();
    /// let part = end.part([0.25, 0.0], [0.75, 1.0]);
    /// assert!((part.points()[0][0] - 150.0).abs() < 1e-9 && (part.points()[1][0] - 250.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn part(&self, from: [f64; 2], to: [f64; 2]) -> Self {
        let map = Projective::of(self);
        Self { points: [from, [to[0], from[1]], to, [from[0], to[1]]].map(|place| map.at(place)) }
    }

    /// The corners after each point was moved by the same map, where that is known to keep their shape.
    pub(super) fn moved(&self, to: impl Fn([f64; 2]) -> [f64; 2]) -> Self {
        Self { points: self.points.map(to) }
    }
}

fn shape(points: &[[f64; 2]; 4]) -> Result<(), CornersError> {
    let turn = |i: usize| {
        let (before, after) = (between(points[(i + 3) % 4], points[i]), between(points[i], points[(i + 1) % 4]));
        cross(before, after) / (length(before) * length(after))
    };
    let turns: [f64; 4] = std::array::from_fn(turn);
    if let Some(i) = turns.iter().position(|sine| sine.abs() < LEAST_SINE) {
        return Err(CornersError::InLine(i + 1));
    }
    let clockwise = turns.iter().filter(|sine| **sine > 0.0).count();
    match clockwise {
        0 | 4 => Ok(()),
        2 => Err(CornersError::Crossed),
        few => {
            let odd = turns.iter().position(|sine| (*sine > 0.0) == (few == 1)).unwrap_or(0);
            Err(CornersError::BentInward(odd + 1))
        }
    }
}

fn between(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    [to[0] - from[0], to[1] - from[1]]
}

fn length(v: [f64; 2]) -> f64 {
    v[0].hypot(v[1])
}

fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SIZE: [usize; 2] = [400, 300];
    /// As the near end is seen: lower right, lower left, upper left, upper right.
    const NEAR: [[f64; 2]; 4] = [[380.0, 290.0], [20.0, 280.0], [30.0, 40.0], [370.0, 30.0]];

    fn order(indices: [usize; 4]) -> Result<Corners, CornersError> {
        Corners::new(indices.map(|i| NEAR[i]), SIZE)
    }

    #[test]
    fn the_sense_tells_the_end_wherever_the_order_begins() {
        for start in 0..4 {
            let round = |step: usize| order(std::array::from_fn(|i| (start + i * step) % 4)).unwrap();
            assert_eq!(round(1).end(), End::Near, "from {start}");
            assert_eq!(round(3).end(), End::Far, "from {start}");
            assert!(round(1).area() > 0.0 && round(3).area() < 0.0);
        }
        let refused = order([1, 0, 3, 2]).unwrap().of(End::Near).unwrap_err();
        assert!(refused.to_string().contains(End::Near.drawing()), "{refused}");
    }

    #[test]
    fn what_is_no_end_is_refused_and_named() {
        assert_eq!(order([0, 2, 1, 3]), Err(CornersError::Crossed));
        assert_eq!(order([0, 1, 3, 2]), Err(CornersError::Crossed));
        let with = |i: usize, point| {
            let mut points = NEAR;
            points[i] = point;
            Corners::new(points, SIZE)
        };
        assert_eq!(with(2, [300.0, 200.0]), Err(CornersError::BentInward(3)));
        assert_eq!(with(0, [200.0, 155.0]), Err(CornersError::InLine(1)), "on the line of 2 and 4");
        assert_eq!(with(3, [372.0, 280.0]), Err(CornersError::Tiny(1, 4)));
        assert_eq!(with(1, [-1.0, 280.0]), Err(CornersError::Outside { corner: 2, size: SIZE }));
        for none in [f64::NAN, f64::INFINITY, 301.0] {
            assert_eq!(with(3, [370.0, none]), Err(CornersError::Outside { corner: 4, size: SIZE }));
        }
    }

    proptest! {
        #[test]
        fn any_four_points_are_taken_or_refused_and_turning_them_round_changes_the_end(
            points in prop::array::uniform4(prop::array::uniform2(-10.0_f64..410.0)),
        ) {
            if let Ok(corners) = Corners::new(points, [400, 400]) {
                let [a, b, c, d] = points;
                let back = Corners::new([d, c, b, a], [400, 400]).unwrap();
                prop_assert_eq!(back.end(), corners.end().other());
                prop_assert!(corners.sides().iter().all(|side| *side >= LEAST_SIDE));
            }
        }
    }
}
