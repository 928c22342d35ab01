//! A rectangle with rounded corners, and what lies parallel to it.

use super::region::{Loop, Region};
use nalgebra::Point2;
use std::f64::consts::PI;

/// A rectangle in plan whose four corners have the same radius, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rounded {
    /// Its corner at low X and Y, before rounding.
    pub low: Point2<f64>,
    /// Its corner at high X and Y.
    pub high: Point2<f64>,
    /// The radius of its corners, 0 for sharp ones.
    pub radius: f64,
}

impl Rounded {
    /// A circle.
    #[must_use]
    pub fn circle(middle: Point2<f64>, radius: f64) -> Self {
        let off = nalgebra::Vector2::repeat(radius);
        Self { low: middle - off, high: middle + off, radius }
    }

    /// Along X.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.high.x - self.low.x
    }

    /// Along Y.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high.y - self.low.y
    }

    /// l·w − (4 − π)c².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.length() * self.width() - (4.0 - PI) * self.radius * self.radius
    }

    /// 2(l + w) − (8 − 2π)c.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        2.0 * (self.length() + self.width()) - (8.0 - 2.0 * PI) * self.radius
    }

    /// Whether it is one: longer and wider than its corners need.
    #[must_use]
    pub fn is_one(&self) -> bool {
        let least = self.length().min(self.width());
        least > 0.0 && self.radius >= 0.0 && 2.0 * self.radius <= least + 1e-9
    }

    /// All points of it that are `by` or more inside its outline: corners of radius (c − by)₊, sides `by` farther
    /// in. A negative `by` is all points within −by of it.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        let off = nalgebra::Vector2::new(by, by);
        // A sharp corner moved outward turns round; moved inward it stays sharp.
        Self { low: self.low + off, high: self.high - off, radius: (self.radius - by).max(0.0) }
    }

    /// How far a point lies from its outline.
    #[must_use]
    pub fn distance(&self, p: &Point2<f64>) -> f64 {
        self.inside(p).abs()
    }

    /// How far a point lies within its outline; below 0 outside.
    ///
    /// ```
    /// use nalgebra::Point2;
    /// use quarterturn_geometry::cut::Rounded;
    /// let board = Rounded { low: Point2::origin(), high: Point2::new(300.0, 200.0), radius: 20.0 };
    /// assert_eq!(board.inside(&Point2::new(30.0, 100.0)), 30.0);
    /// // Three and four from a corner's centre, outward.
    /// assert!((board.inside(&Point2::new(17.0, 16.0)) - 15.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn inside(&self, p: &Point2<f64>) -> f64 {
        let (middle, c) = (nalgebra::center(&self.low, &self.high), self.radius);
        let half = nalgebra::Vector2::new(self.length() / 2.0 - c, self.width() / 2.0 - c);
        // Beyond the rectangle of the corners' centres, on each axis.
        let beyond = (p - middle).abs() - half;
        let outside = beyond.map(|d| d.max(0.0)).norm() - c;
        let inside = beyond.x.max(beyond.y).min(0.0);
        -(outside + inside)
    }

    /// The centres of the corners' arcs, anti-clockwise from low X and Y, each with the angle its arc begins at in
    /// quarter turns.
    #[must_use]
    pub fn centres(&self) -> [(Point2<f64>, u8); 4] {
        let (l, h, c) = (self.low, self.high, self.radius);
        let at = |x: f64, y: f64| Point2::new(x, y);
        [(at(l.x + c, l.y + c), 2), (at(h.x - c, l.y + c), 3), (at(h.x - c, h.y - c), 0), (at(l.x + c, h.y - c), 1)]
    }

    /// Its outline, anti-clockwise.
    pub(crate) fn outline(&self) -> Loop {
        Loop::around(&self.centres().map(|(centre, _)| centre), self.radius)
    }

    /// As a region.
    pub(crate) fn region(&self) -> Region {
        Region(vec![self.outline()])
    }
}
