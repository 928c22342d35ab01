//! Which ring a line part-way is: from where it meets an end, from the lines beside it, or, for a
//! section that meets neither, from how all its lines fit together.

use super::bend::{Bend, Wander};
use super::calendar::Calendar;
use super::line::{Course, median};
use nalgebra::Point3;

/// A line this near an end (share of the length) is numbered by it; the wood has no room to bend.
const AT_AN_END: f64 = 0.06;
/// A number is sure where the next whole number is this many standard deviations off.
const SURE: f64 = 2.0;
/// The best common shift of a section must be this much likelier (logarithm; 20 to 1).
const LIKELIER: f64 = 3.0;

/// What is known of a course's ring number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Numbered {
    /// The number taken.
    pub number: i64,
    /// Whether the next whole number can be ruled out. Where not, the maker is to be asked.
    pub sure: bool,
}

/// A line with what the ends say along it.
struct Traced<'a> {
    course: &'a Course,
    /// Distance across the rings as predicted at each point, mm.
    predicted: Vec<f64>,
    number: Option<Numbered>,
}

/// Numbers every course; returns also what they say: places and how far the prediction falls short.
pub(super) fn number(
    courses: &[Course],
    calendar: &Calendar,
    wander: Wander,
    length: f64,
    predicted: impl Fn(&Point3<f64>) -> f64,
) -> (Vec<Numbered>, Vec<(Point3<f64>, f64)>) {
    let traced = |course| -> Traced {
        Traced { course, predicted: course.points.iter().map(&predicted).collect(), number: None }
    };
    let mut lines: Vec<Traced> = courses.iter().map(traced).collect();
    for line in &mut lines {
        line.number = line.given(calendar, length);
    }
    if lines.iter().all(|line| line.number.is_none()) {
        together(&mut lines, calendar, wander);
    } else {
        one_by_one(&mut lines, calendar, wander);
    }
    let numbers = lines.iter().map(|l| l.number.unwrap_or(Numbered { number: 0, sure: false })).collect();
    (numbers, said(&lines, calendar))
}

impl Traced<'_> {
    /// The number typed, or that of the end which the line reaches.
    fn given(&self, calendar: &Calendar, length: f64) -> Option<Numbered> {
        if let Some(number) = self.course.number {
            return Some(Numbered { number, sure: true });
        }
        let pairs = self.course.points.iter().zip(&self.predicted);
        let mut near: Vec<f64> =
            pairs.filter(|(p, _)| p.z.min(length - p.z) < AT_AN_END * length).map(|(_, s)| calendar.ring(*s)).collect();
        let ring = median(&mut near)?;
        Some(Numbered { number: ring.round() as i64, sure: (ring - ring.round()).abs() < 0.3 })
    }

    fn short(&self, calendar: &Calendar, number: i64) -> impl Iterator<Item = (Point3<f64>, f64)> + '_ {
        let at = calendar.distance(number as f64);
        self.course.points.iter().zip(&self.predicted).map(move |(p, s)| (*p, at - s))
    }

    /// Ring number by the ends, with what the field says put right; and its standard deviation.
    fn estimate(&self, calendar: &Calendar, bend: &Bend) -> (f64, f64) {
        let mut seen: Vec<(f64, f64)> = Vec::new();
        for (p, s) in self.course.points.iter().zip(&self.predicted).step_by(self.predicted.len().div_ceil(5).max(1)) {
            let at = s + bend.at(p);
            seen.push((bend.deviation(p) / calendar.width(at), calendar.ring(at)));
        }
        seen.sort_by(|a, b| a.0.total_cmp(&b.0));
        // The point that is known best decides.
        seen.first().map_or((0.0, f64::INFINITY), |(deviation, ring)| (*ring, *deviation))
    }
}

fn said(lines: &[Traced], calendar: &Calendar) -> Vec<(Point3<f64>, f64)> {
    lines.iter().filter_map(|l| Some(l.short(calendar, l.number?.number).collect::<Vec<_>>())).flatten().collect()
}

/// Numbers the line that is known best, learns from it, and goes on to the next.
fn one_by_one(lines: &mut [Traced], calendar: &Calendar, wander: Wander) {
    loop {
        let bend = Bend::new(wander, &said(lines, calendar));
        let open = lines.iter_mut().filter(|line| line.number.is_none());
        let with = open.map(|line| (line.estimate(calendar, &bend), line));
        let Some(((ring, deviation), line)) = with.min_by(|a, b| a.0.1.total_cmp(&b.0.1)) else { return };
        let off = (ring - ring.round()).abs();
        line.number = Some(Numbered { number: ring.round() as i64, sure: (1.0 - 2.0 * off) > SURE * deviation });
    }
}

/// Numbers all lines of a section at once: each common shift gives each line a whole number, and
/// the numbers that go together best are taken. The sequence of ring widths decides, as it does
/// between the ends: under a wrong number wide rings meet narrow ones, and what is left is jagged.
fn together(lines: &mut [Traced], calendar: &Calendar, wander: Wander) {
    let middle = |line: &Traced| median(&mut line.predicted.clone()).map_or(0.0, |s| calendar.ring(s));
    let rings: Vec<f64> = lines.iter().map(middle).collect();
    let mut tried: Vec<(f64, Vec<i64>)> = Vec::new();
    for tenth in -20..=20 {
        let numbers: Vec<i64> = rings.iter().map(|ring| (ring + 0.1 * f64::from(tenth)).round() as i64).collect();
        if tried.iter().any(|(_, known)| *known == numbers) {
            continue;
        }
        let points: Vec<_> = lines.iter().zip(&numbers).flat_map(|(line, k)| line.short(calendar, *k)).collect();
        tried.push((Bend::new(wander, &points).likelihood(), numbers));
    }
    tried.sort_by(|a, b| b.0.total_cmp(&a.0));
    let Some((best, numbers)) = tried.first() else { return };
    let sure = tried.get(1).is_none_or(|(next, _)| best - next > LIKELIER);
    for (line, number) in lines.iter_mut().zip(numbers) {
        line.number = Some(Numbered { number: *number, sure });
    }
}
