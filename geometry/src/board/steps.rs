//! How far the figure's lines miss each other at a glue line where they should meet.
//!
//! At a bookmatch the same side of the panel meets itself across the joint; a ring that reaches the
//! joint there comes back on the other side, moved by as much as the figure wanders between the two
//! stations: for a line whose trace on the panel's face has the slope m, by m times the gap.

use super::{Board, Face};
use crate::wood::Figure;
use crate::wood::ends::Promise;
use nalgebra::Point3;

/// A line of a blank's figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureLine {
    /// A ring's edge, by the number that [`Figure::ring`] gives it.
    Ring(i64),
    /// Where heartwood ends.
    Heartwood,
}

/// One line at one glue line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The blank's place in its panel.
    pub blank: usize,
    /// Which line.
    pub line: FigureLine,
    /// Where it reaches the joint from the left, Y in the finished frame, mm.
    pub y: f64,
    /// How much farther back it goes on at the right of the joint, mm.
    pub step: f64,
}

/// Distance of the samples along a joint, mm.
const EVERY: f64 = 0.5;
/// How far beside the joint is looked, mm.
const BESIDE: f64 = 1e-3;

/// Where a line crosses the joint.
struct Crossing {
    line: FigureLine,
    y: f64,
    rising: bool,
}

impl Board {
    /// The steps of all traced lines at the glue line right of strip `place`; none where the same
    /// side of the panel doesn't meet itself, and of blanks that nobody traced.
    ///
    /// Lines that reach the joint on one side only are left out, and places of which nothing is
    /// predicted.
    #[must_use]
    pub fn steps(&self, place: usize, face: Face) -> Vec<Step> {
        let meets = self.meeting(place, face).is_some_and(|meeting| meeting.is_bookmatch());
        let x = self.span(place)[1];
        if !meets || x <= BESIDE || x + BESIDE >= self.finished().length {
            return Vec::new();
        }
        let z = self.height_of(face);
        let pairs = self.blank_spans(place).into_iter().zip(self.blank_spans(place + 1));
        let mut steps = Vec::new();
        for (blank, (left, right)) in pairs.enumerate() {
            let (from, to) = (left[0].max(right[0]), left[1].min(right[1]));
            let Some(figure) = self.traced(place, blank).filter(|_| to - from > EVERY) else { continue };
            let side = |place: usize, x: f64| self.crossings(place, blank, Point3::new(x, from, z), to, figure);
            let right = side(place + 1, x + BESIDE);
            for Crossing { line, y, rising } in side(place, x - BESIDE) {
                let alike = right.iter().filter(|other| other.line == line && other.rising == rising);
                if let Some(other) = alike.min_by(|a, b| (a.y - y).abs().total_cmp(&(b.y - y).abs())) {
                    steps.push(Step { blank, line, y, step: other.y - y });
                }
            }
        }
        steps
    }

    /// The glue line with the largest step on a face: its place and the step.
    #[must_use]
    pub fn largest_step(&self, face: Face) -> Option<(usize, Step)> {
        let all =
            (0..self.strips().len()).flat_map(|place| self.steps(place, face).into_iter().map(move |s| (place, s)));
        all.max_by(|(_, a), (_, b)| a.step.abs().total_cmp(&b.step.abs()))
    }

    fn traced(&self, place: usize, blank: usize) -> Option<&Figure> {
        let panel = self.panels().get(self.strips().get(place)?.place.panel)?;
        Some(&panel.blanks.get(blank)?.blank.figure).filter(|figure| figure.between().is_some())
    }

    /// Where lines of a blank cross a line along Y, from a point to Y = `to`.
    fn crossings(&self, place: usize, blank: usize, from: Point3<f64>, to: f64, figure: &Figure) -> Vec<Crossing> {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let samples = ((to - from.y) / EVERY).ceil().max(1.0) as usize;
        let step = (to - from.y - 2.0 * BESIDE) / samples as f64;
        let wood = |y: f64| {
            let spot = self.spot_in(place, &Point3::new(from.x, y, from.z));
            spot.filter(|spot| spot.blank == blank).map(|spot| spot.at)
        };
        let ring = |y: f64, number: f64| wood(y).map_or(f64::NAN, |at| figure.ring(&at) - number);
        let beyond = |y: f64| wood(y).map_or(f64::NAN, |at| figure.beyond_heartwood(&at));
        let mut found = Vec::new();
        let mut before: Option<(Point3<f64>, [f64; 2])> = None;
        for n in 0..=samples {
            let y = from.y + BESIDE + n as f64 * step;
            let here = wood(y).map(|at| (at, [figure.ring(&at), figure.beyond_heartwood(&at)]));
            if let (Some((_, [last, within])), Some((place, [next, farther]))) = (before, here) {
                let first = found.len();
                for number in numbers_between(last, next) {
                    let line = FigureLine::Ring(number);
                    let y = zero([y - step, y], |y| ring(y, number as f64));
                    found.push(Crossing { line, y, rising: next > last });
                }
                if (within < 0.0) != (farther < 0.0) {
                    let y = zero([y - step, y], beyond);
                    found.push(Crossing { line: FigureLine::Heartwood, y, rising: farther > within });
                }
                if found.len() > first && figure.promise(&place) == Promise::Nothing {
                    found.truncate(first);
                }
            }
            before = here;
        }
        found
    }
}

/// Where a value changes its sign between two places, by halving: a ring's edge is a kink of the
/// ring number, so that a straight line between two samples would miss it.
fn zero([mut low, mut high]: [f64; 2], value: impl Fn(f64) -> f64) -> f64 {
    let below = value(low) < 0.0;
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if (value(middle) < 0.0) == below { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The whole numbers that are passed from `a` to `b`; no more than a few in half a millimetre.
fn numbers_between(a: f64, b: f64) -> impl Iterator<Item = i64> {
    let (low, high) = (a.min(b), a.max(b));
    #[allow(clippy::cast_possible_truncation)]
    let first = low.floor() as i64 + 1;
    (first..first + 8).filter(move |number| (*number as f64) <= high)
}
