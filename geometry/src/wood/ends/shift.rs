//! How far a line moves between two stations. Knows nothing of panels and strips.

use super::between::Between;
use super::line::EndLine;
use nalgebra::{Point2, Point3};

/// A line that was traced on an end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TracedLine<'a> {
    /// A ring's edge, by its number: the near end's first line is 0.
    Ring(i64, &'a str),
    /// A boundary, by its name.
    Boundary(&'a str),
}

impl Between {
    /// Every line that was traced on either end: rings from the inside out, then boundaries.
    #[must_use]
    pub fn traced_lines(&self) -> Vec<TracedLine<'_>> {
        let (ends, shift) = (self.ends(), self.matched().shift);
        let near = ends.near.rings.len() as i64;
        let last = near.max(ends.far.rings.len() as i64 - shift);
        let line = |lines: &'_ [EndLine], k: i64| usize::try_from(k).ok().is_some_and(|k| k < lines.len());
        let mut all = Vec::new();
        for k in (-shift).min(0)..last {
            if line(&ends.near.rings, k) || line(&ends.far.rings, k + shift) {
                let name = self.line_of(k).map_or("", |line| line.name.as_str());
                all.push(TracedLine::Ring(k, name));
            }
        }
        all.extend(self.boundary_names().map(TracedLine::Boundary));
        all
    }

    /// The ring as it was traced: on the near end, or else on the far one.
    fn line_of(&self, number: i64) -> Option<&EndLine> {
        let at = |lines: &'_ [EndLine], k: i64| usize::try_from(k).ok().filter(|k| *k < lines.len());
        let (near, far) = (&self.ends().near.rings, &self.ends().far.rings);
        match at(near, number) {
            Some(k) => near.get(k),
            None => far.get(at(far, number + self.matched().shift)?),
        }
    }

    /// How far a line moves outward (toward higher ring numbers) from one station to another, mm:
    /// the mean over the points by which it was traced. None for a line that there is not.
    ///
    /// # Formula
    /// A point that lies s across the rings at the one station lies s′ there at the other: the line
    /// through it has moved by s − s′.
    ///
    /// For layers that rise by 8 mm from end to end it is 8 mm.
    #[must_use]
    pub fn moved(&self, line: TracedLine<'_>, from: f64, to: f64) -> Option<f64> {
        let points = match line {
            TracedLine::Ring(number, _) => &self.line_of(number)?.points,
            TracedLine::Boundary(name) => {
                let lines = self.ends().near.boundaries.iter().chain(&self.ends().far.boundaries);
                &lines.into_iter().find(|line| line.name == name)?.points
            }
        };
        let across = |p: &Point2<f64>, w: f64| {
            let at = Point3::new(p.x, p.y, w);
            match line {
                TracedLine::Ring(..) => Some(self.across(&at)),
                TracedLine::Boundary(name) => self.beyond_boundary(name, &at),
            }
        };
        let moved: Option<f64> = points.iter().map(|p| Some(across(p, from)? - across(p, to)?)).sum();
        Some(moved? / points.len().max(1) as f64)
    }
}
