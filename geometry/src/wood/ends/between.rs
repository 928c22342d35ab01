//! The wood between two ends: everything put together at one point.

use super::bend::{Bend, Wander};
use super::boundary::{Along, Around, Boundary};
use super::calendar::Calendar;
use super::field::Field;
use super::line::{Course, Disturbed, EndLine, EndLines, distance_to, width_between};
use super::number::{Numbered, number};
use super::pith::centre;
use super::sequence::{Match, match_names, match_widths, settled};
use super::surface::Surface;
use nalgebra::{Point2, Point3, Vector2};

/// What a line on an end is traced to, in ring widths (1/20 mm in 2.5 mm).
const TRACED: f64 = 0.02;
/// How well the direction of rings is known beside the traced lines: mm across for each mm away.
const ASIDE: f64 = 0.1;
/// No prediction farther than this beyond the traced lines, in ring widths: two years' widths are
/// as far as a guess helps.
const FARTHEST: f64 = 2.0;
/// The distance across the rings changes by about 1 mm per mm; outside these the ends contradict
/// each other there, or a fold was traced.
const SLOPES: [f64; 2] = [0.4, 2.5];
/// Above this half-width (in rings) single rings are not promised.
const SINGLE_RINGS: f64 = 0.25;
/// How far rings may lean against the blank where only one end was seen, mm for each mm along the
/// grain: one degree and a little (common practice, no source).
const LEAN: f64 = 0.02;
/// Points kept of one line.
const MOST_POINTS: usize = 128;

/// What was traced on a blank.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ends {
    /// Width U and thickness V, mm.
    pub size: Vector2<f64>,
    /// From the near to the far end, mm.
    pub length: f64,
    /// The near end, w = 0.
    pub near: EndLines,
    /// The far end, w = length.
    pub far: EndLines,
    /// Lines followed along long faces, edges, or a section part-way.
    pub courses: Vec<Course>,
    /// Knots and checks.
    pub disturbed: Vec<Disturbed>,
    /// Which ends were seen.
    pub seen: SeenEnds,
    /// Which line of the far end is the near end's first, counted from 0, where that is known
    /// otherwise than by names and widths.
    pub shift: Option<i64>,
}

/// Which ends were seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SeenEnds {
    /// Both.
    #[default]
    Both,
    /// The near one; the far one is taken to be the same, which is a guess.
    Near,
    /// The far one; the near one is taken to be the same, which is a guess.
    Far,
}

/// Why two ends can't be joined, and what would help.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Unjoined {
    /// A size or a point is no number, or a size is not above 0.
    #[error("a size or a traced point is not a number that can be")]
    NotANumber,
    /// A line without two points, an end without two rings, or rings that nowhere lie side by side.
    #[error("the {end} end needs two ring lines that lie side by side, each with two points or more")]
    TooFewLines {
        /// "near" or "far".
        end: &'static str,
    },
    /// More than the model is made for.
    #[error("more than {most} lines or points are given")]
    TooMany {
        /// What is allowed.
        most: usize,
    },
    /// The ends don't share enough rings to be told by their widths.
    #[error(
        "only {shared} ring widths can be compared between the ends; name one ring that is the same on both, or trace one long face"
    )]
    TooFewRings {
        /// How many widths can be compared at the most.
        shared: usize,
    },
    /// Two matches fit about as well.
    #[error(
        "the ring widths fit with the near end's first line as the far end's line {best} or {next} (margin {margin:.2}); name one ring that is the same on both ends, or trace one long face"
    )]
    TwoMatches {
        /// The best shift.
        best: i64,
        /// The next.
        next: i64,
        /// How many times worse the next one fits.
        margin: f64,
    },
    /// Two names ask for different matches.
    #[error("the lines named \"{one}\" and \"{other}\" can't both be the same ring on both ends")]
    NamesDisagree {
        /// One name.
        one: String,
        /// The other.
        other: String,
    },
    /// A line part-way has a name that no line on an end has.
    #[error("no line on an end is named \"{name}\"; name it there too, or give the line no name")]
    NoSuchLine {
        /// The name.
        name: String,
    },
}

/// What may be shown at a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Promise {
    /// Single rings: the band's half-width is at most a quarter of a ring.
    Rings,
    /// Direction of rings, the heartwood line, zones of colour.
    Zones,
    /// Nothing: beside a knot, beyond what was traced, or where the ends contradict each other.
    Nothing,
}

/// The wood between two ends that have been joined. See the module for how.
#[derive(Debug, Clone)]
pub struct Between {
    ends: Ends,
    matched: Match,
    calendar: Calendar,
    near: Surface,
    far: Surface,
    bend: Bend,
    numbers: Vec<Numbered>,
    boundaries: Vec<Boundary>,
    drift: f64,
    moved: Option<(f64, Point3<f64>)>,
}

impl Ends {
    /// Joins the ends.
    ///
    /// # Errors
    /// See [`Unjoined`].
    pub fn join(mut self) -> Result<Between, Unjoined> {
        self.check()?;
        self.thin();
        match self.seen {
            SeenEnds::Both => {}
            SeenEnds::Near => (self.far, self.shift) = (self.near.clone(), Some(0)),
            SeenEnds::Far => (self.near, self.shift) = (self.far.clone(), Some(0)),
        }
        let marks = self.take_marks()?;
        let names = if self.seen == SeenEnds::Far { ["far", "far"] } else { ["near", "far"] };
        let widths = [widths(&self.near, names[0])?, widths(&self.far, names[1])?];
        let matched = match self.shift.map_or_else(|| match_names(&self.near, &self.far), |shift| Ok(Some(shift)))? {
            Some(shift) => settled(&widths[0], &widths[1], shift),
            None => self.by_widths(&widths)?,
        };
        self.number_by_names(matched.shift);
        let calendar = calendar(&widths, matched.shift).ok_or(Unjoined::TooFewLines { end: "near" })?;
        let near = self.surface(&self.near, 0, &calendar).ok_or(Unjoined::TooFewLines { end: "near" })?;
        let far = self.surface(&self.far, -matched.shift, &calendar).ok_or(Unjoined::TooFewLines { end: "far" })?;
        let still = Wander::new(self.length, None, 0.0, calendar.mean);
        let bend = Bend::new(still, &[]);
        let mut between = Between {
            matched,
            calendar,
            near,
            far,
            bend,
            numbers: Vec::new(),
            boundaries: Vec::new(),
            drift: 0.0,
            moved: None,
            ends: self,
        };
        between.drift = between.measure_drift();
        between.learn();
        between.find_boundaries(&marks);
        Ok(between)
    }

    /// Takes the courses of boundaries out, so that those of rings are left.
    fn take_marks(&mut self) -> Result<Vec<Course>, Unjoined> {
        let named = |lines: fn(&EndLines) -> &Vec<EndLine>, name: &str| {
            [&self.near, &self.far].into_iter().any(|end| lines(end).iter().any(|line| line.name == name))
        };
        let mut of_boundaries = Vec::new();
        for course in self.courses.iter().filter(|course| !course.name.is_empty()) {
            let boundary = named(|end| &end.boundaries, &course.name);
            if !boundary && !named(|end| &end.rings, &course.name) {
                return Err(Unjoined::NoSuchLine { name: course.name.clone() });
            }
            of_boundaries.extend(boundary.then(|| course.name.clone()));
        }
        let (marks, rings) =
            std::mem::take(&mut self.courses).into_iter().partition(|course| of_boundaries.contains(&course.name));
        self.courses = rings;
        Ok(marks)
    }

    /// Numbers courses that have the name of a ring on an end.
    fn number_by_names(&mut self, shift: i64) {
        let place = |lines: &[EndLine], name: &str| lines.iter().position(|line| line.name == name).map(|k| k as i64);
        for course in self.courses.iter_mut().filter(|course| !course.name.is_empty() && course.number.is_none()) {
            let far = || Some(place(&self.far.rings, &course.name)? - shift);
            course.number = place(&self.near.rings, &course.name).or_else(far);
        }
    }

    /// By the widths; where they don't decide, by a line that runs from end to end.
    fn by_widths(&self, widths: &[Vec<Option<f64>>; 2]) -> Result<Match, Unjoined> {
        let refused = match match_widths(&widths[0], &widths[1]) {
            Ok(matched) => return Ok(matched),
            Err(refused) => refused,
        };
        match self.shift_along_courses() {
            Some(shift) => Ok(settled(&widths[0], &widths[1], shift)),
            None => Err(refused),
        }
    }

    /// What every course that reaches both ends says the shift is; none where they differ or
    /// where there is none.
    fn shift_along_courses(&self) -> Option<i64> {
        let lines = |end: &EndLines| -> Vec<(Point2<f64>, f64)> {
            let numbered = end.rings.iter().enumerate();
            numbered.flat_map(|(k, line)| line.points.iter().map(move |p| (*p, k as f64))).collect()
        };
        let [near, far] = [&self.near, &self.far].map(|end| Surface::new(self.size, &lines(end), TRACED));
        let (near, far) = (near?, far?);
        let reach = 0.02 * self.length;
        let mut said = self.courses.iter().filter_map(|course| {
            let start = course.points.iter().min_by(|a, b| a.z.total_cmp(&b.z)).filter(|p| p.z <= reach)?;
            let end = course.points.iter().max_by(|a, b| a.z.total_cmp(&b.z)).filter(|p| p.z >= self.length - reach)?;
            let (i, j) = (near.at(&start.xy()), far.at(&end.xy()));
            let clear = (i - i.round()).abs().max((j - j.round()).abs()) < 0.3;
            clear.then_some((j.round() - i.round()) as i64)
        });
        let first = said.next()?;
        said.all(|shift| shift == first).then_some(first)
    }

    /// Refuses what can't be computed with.
    fn check(&self) -> Result<(), Unjoined> {
        const MOST: usize = 1000;
        let sizes = [self.size.x, self.size.y, self.length];
        if !sizes.iter().all(|x| x.is_finite() && *x > 0.0 && *x < 1.0e6) {
            return Err(Unjoined::NotANumber);
        }
        let ends = [&self.near, &self.far];
        let most = ends.map(|e| e.rings.len().max(e.boundaries.len())).into_iter().fold(self.courses.len(), usize::max);
        if most.max(self.disturbed.len()) > MOST {
            return Err(Unjoined::TooMany { most: MOST });
        }
        let flat = ends.into_iter().flat_map(|e| e.rings.iter().chain(&e.boundaries)).flat_map(|l| &l.points);
        let mut all = flat.chain(ends.into_iter().filter_map(|e| e.pith.as_ref())).map(|p| Point3::new(p.x, p.y, 0.0));
        let solid = self.courses.iter().flat_map(|c| &c.points).chain(self.disturbed.iter().map(|d| &d.middle));
        let can_be = |p: &Point3<f64>| p.iter().all(|x| x.is_finite() && x.abs() < 1.0e6);
        if !all.all(|p| can_be(&p)) || !solid.clone().all(can_be) || self.disturbed.iter().any(|d| d.radius.is_nan()) {
            return Err(Unjoined::NotANumber);
        }
        Ok(())
    }

    /// Fewer points on lines of very many.
    fn thin(&mut self) {
        for end in [&mut self.near, &mut self.far] {
            end.rings.iter_mut().chain(&mut end.boundaries).for_each(|line| thin(&mut line.points));
        }
        self.courses.iter_mut().for_each(|course| thin(&mut course.points));
        self.courses.retain(|course| !course.points.is_empty());
    }

    fn surface(&self, end: &EndLines, first: i64, calendar: &Calendar) -> Option<Surface> {
        let mut values = Vec::new();
        for (k, line) in end.rings.iter().enumerate() {
            let at = calendar.distance((first + k as i64) as f64);
            values.extend(line.points.iter().map(|p| (*p, at - self.radius_about(end.pith, p))));
        }
        Surface::new(self.size, &values, TRACED * calendar.mean)
    }

    /// Distance from an end's pith, where both ends have one; else 0.
    fn radius_about(&self, pith: Option<Point2<f64>>, p: &Point2<f64>) -> f64 {
        match (self.near.pith.and(self.far.pith), pith) {
            (Some(_), Some(pith)) => (p - pith).norm(),
            _ => 0.0,
        }
    }
}

impl Between {
    /// How the ends were matched.
    pub fn matched(&self) -> &Match {
        &self.matched
    }

    /// The ring number of each course that is a ring, in the order given.
    pub fn numbers(&self) -> &[Numbered] {
        &self.numbers
    }

    /// How far the rings move across the section from end to end, root mean square, mm.
    pub fn drift(&self) -> f64 {
        self.drift
    }

    /// Ring number: real, whole on a ring boundary, counted so that the near end's first line is 0.
    pub fn ring(&self, at: &Point3<f64>) -> f64 {
        self.calendar.ring(self.across(at))
    }

    /// Distance across the rings, mm, from the first known boundary: what is blended and bent.
    pub fn across(&self, at: &Point3<f64>) -> f64 {
        let at = self.held(at);
        self.straight(&at) + self.bend.at(&at)
    }

    /// Half-width of the band that holds 95 % of points, in rings of the width found there.
    ///
    /// It says how far off the *predicted place* of a ring may be; near the ends it is what the
    /// tracing is good to, and it grows toward the middle and away from the traced lines.
    pub fn half_width(&self, at: &Point3<f64>) -> f64 {
        let at = self.held(at);
        let across = self.straight(&at) + self.bend.at(&at);
        self.half_width_where(&at, across, self.outside(&at, across))
    }

    /// The same, of a point of which the distance across the rings and how far outside it lies are known.
    fn half_width_where(&self, at: &Point3<f64>, across: f64, [beyond, aside]: [f64; 2]) -> f64 {
        let unknown_years = self.calendar.scatter * (beyond * self.calendar.mean).sqrt();
        let traced = TRACED * self.calendar.mean;
        let leaning = LEAN * self.off_the_only_end(at.z);
        let parts = [self.bend.deviation(at), unknown_years, ASIDE * aside, traced, leaning];
        let squares: f64 = parts.iter().map(|x| x * x).sum();
        self.bend.band() * squares.sqrt() / self.calendar.width(across)
    }

    /// The part of that band that is the wood's bending between the ends, mm across the rings:
    /// how far off the pith may be, where it is known at both ends.
    pub fn bend_half_width(&self, at: &Point3<f64>) -> f64 {
        self.bend.band() * self.bend.deviation(&self.held(at))
    }

    /// What may be shown at a point.
    pub fn promise(&self, at: &Point3<f64>) -> Promise {
        self.promise_and_half_width(at).0
    }

    /// Both at once, which takes half the time of each alone.
    pub fn promise_and_half_width(&self, at: &Point3<f64>) -> (Promise, f64) {
        let at = self.held(at);
        let across = self.across(&at);
        let [beyond, aside] = self.outside(&at, across);
        let knotty = self.ends.disturbed.iter().any(|d| (at - d.middle).norm() < d.radius);
        let half_width = self.half_width_where(&at, across, [beyond, aside]);
        let promise = if knotty || beyond.max(aside) > FARTHEST * self.calendar.mean || self.folded(&at) {
            Promise::Nothing
        } else if half_width <= SINGLE_RINGS {
            Promise::Rings
        } else {
            Promise::Zones
        };
        (promise, half_width)
    }

    /// Whether single rings are promised at a point: [`Self::promise`], sooner where they are not.
    pub fn promises_rings(&self, at: &Point3<f64>) -> bool {
        let held = self.held(at);
        // The band is never narrower than it is among the traced lines.
        let least = self.half_width_where(&held, self.across(&held), [0.0, 0.0]);
        least <= SINGLE_RINGS && self.promise(at) == Promise::Rings
    }

    /// Distance outside a named boundary (the heartwood line), mm across the rings, above 0 on the
    /// side of higher ring numbers; none where no end has the name.
    ///
    /// The line keeps its own place among the rings at each end, and passes from one to the other
    /// in a straight line of that place, bent by lines of its name part-way: it moves with the
    /// rings without following one. Where only one end has it, it keeps that place: a guess.
    pub fn beyond_boundary(&self, name: &str, at: &Point3<f64>) -> Option<f64> {
        let boundary = self.boundary(name)?;
        let at = self.held(at);
        let t = at.z / self.ends.length;
        Some(self.across(&at) - boundary.place(&at.xy(), t).0 - boundary.bend.at(&at))
    }

    fn boundary(&self, name: &str) -> Option<&Boundary> {
        self.boundaries.iter().find(|boundary| boundary.name == name)
    }

    /// What was traced, as it is used: an end that was not seen is the other's copy.
    pub fn ends(&self) -> &Ends {
        &self.ends
    }

    /// The known ring boundaries' distances across the rings, mm, the first one's number, and the
    /// mean width.
    pub(in crate::wood) fn years(&self) -> (i64, &[f64], f64) {
        (self.calendar.first, &self.calendar.at, self.calendar.mean)
    }

    /// Both piths, where both are known.
    pub(in crate::wood) fn piths(&self) -> Option<[Point2<f64>; 2]> {
        Some([self.ends.near.pith?, self.ends.far.pith?])
    }

    /// All of it but the promise, for millions of points; with a boundary, if there is one of that
    /// name.
    pub(in crate::wood) fn field(&self, boundary: &str) -> Field {
        let (ends, boundary) = (&self.ends, self.boundary(boundary));
        Field::new(ends.size, ends.length, self.piths(), [&self.near, &self.far], &self.bend, boundary)
    }

    fn off_the_only_end(&self, w: f64) -> f64 {
        match self.ends.seen {
            SeenEnds::Both => 0.0,
            SeenEnds::Near => w,
            SeenEnds::Far => self.ends.length - w,
        }
    }

    /// Whether a point lies among years that neither end shows.
    #[cfg(test)]
    pub(in crate::wood) fn outside_years(&self, at: &Point3<f64>) -> bool {
        self.calendar.beyond(self.across(at)) > 0.0
    }

    /// The place, within the length, and within numbers that mean something.
    fn held(&self, at: &Point3<f64>) -> Point3<f64> {
        let hold = |x: f64, low: f64, high: f64| if x.is_nan() { low } else { x.clamp(low, high) };
        Point3::new(hold(at.x, -1.0e6, 1.0e6), hold(at.y, -1.0e6, 1.0e6), hold(at.z, 0.0, self.ends.length))
    }

    /// s from the ends alone: (1 − t)·near + t·far, the pith moving in a straight line.
    fn straight(&self, at: &Point3<f64>) -> f64 {
        let (t, place) = (at.z / self.ends.length, at.xy());
        let pith = self.ends.near.pith.zip(self.ends.far.pith).map(|(near, far)| near + (far - near) * t);
        self.ends.radius_about(pith, &place) + (1.0 - t) * self.near.at(&place) + t * self.far.at(&place)
    }

    /// How far a point lies beyond the known years, and beside the traced lines of both ends, mm.
    fn outside(&self, at: &Point3<f64>, across: f64) -> [f64; 2] {
        let place = at.xy();
        let nearest = |end: &EndLines| {
            end.rings.iter().map(|line| distance_to(&line.points, &place)).fold(f64::INFINITY, f64::min)
        };
        let t = at.z / self.ends.length;
        let gap = (1.0 - t) * nearest(&self.ends.near) + t * nearest(&self.ends.far);
        // Between two lines the nearest is up to half a ring off.
        [self.calendar.beyond(across), (gap - self.calendar.mean).max(0.0)]
    }

    fn folded(&self, at: &Point3<f64>) -> bool {
        let h = 0.25 * self.calendar.mean;
        let rise = |du: f64, dv: f64| {
            let side = |sign: f64| self.across(&Point3::new(at.x + sign * du, at.y + sign * dv, at.z));
            (side(1.0) - side(-1.0)) / (2.0 * h)
        };
        let slope = rise(h, 0.0).hypot(rise(0.0, h));
        !(SLOPES[0]..=SLOPES[1]).contains(&slope)
    }

    fn measure_drift(&self) -> f64 {
        let mut squares = 0.0;
        for n in 0..25_u32 {
            let at = |w| {
                Point3::new(self.ends.size.x * f64::from(n % 5) / 4.0, self.ends.size.y * f64::from(n / 5) / 4.0, w)
            };
            let moved = self.straight(&at(self.ends.length)) - self.straight(&at(0.0));
            squares += moved * moved;
        }
        (squares / 25.0).sqrt()
    }

    /// Numbers the courses and bends the field to them.
    fn learn(&mut self) {
        let wander = Wander::new(self.ends.length, self.piths(), self.drift, self.calendar.mean);
        let predicted = |p: &Point3<f64>| self.straight(&self.held(p));
        let told = |courses: &[Course]| {
            let (numbers, said) = number(courses, &self.calendar, wander, self.ends.length, predicted);
            (numbers, Bend::new(wander.suited(&said, self.ends.size.norm()), &said))
        };
        let (numbers, bend) = told(&self.ends.courses);
        let before: Vec<Course> = self.ends.courses.iter().filter(|course| !course.fresh).cloned().collect();
        let moved = (before.len() < self.ends.courses.len()).then(|| {
            let (_, before) = told(&before);
            let moved = self.places().map(|p| ((bend.at(&p) - before.at(&p)).abs(), p));
            moved.max_by(|a, b| a.0.total_cmp(&b.0))
        });
        self.moved = moved.flatten();
        (self.numbers, self.bend) = (numbers, bend);
    }

    /// 7 × 7 places in each of 13 sections.
    fn places(&self) -> impl Iterator<Item = Point3<f64>> {
        let (size, length) = (self.ends.size, self.ends.length);
        let part = |n: u32, parts: u32| f64::from(n) / f64::from(parts);
        (0..637_u32)
            .map(move |n| Point3::new(size.x * part(n % 7, 6), size.y * part(n / 7 % 7, 6), length * part(n / 49, 12)))
    }

    /// How far the lines seen on fresh faces moved the rings from where the rest put them, mm, where
    /// most, and where that is; none where there are none.
    pub fn moved_by_fresh_face(&self) -> Option<(f64, Point3<f64>)> {
        self.moved
    }

    pub(super) fn boundary_names(&self) -> impl Iterator<Item = &str> {
        self.boundaries.iter().map(|boundary| boundary.name.as_str())
    }

    fn find_boundaries(&mut self, marks: &[Course]) {
        let (near, far, size) = (&self.ends.near, &self.ends.far, self.ends.size);
        let guess = match [&near.rings, &far.rings].map(|rings| centre(rings)) {
            [Some(near), Some(far)] => nalgebra::center(&near, &far),
            [one, other] => one.or(other).unwrap_or_else(Point2::origin),
        };
        let around = Around::new(self.piths().unwrap_or([guess; 2]), size);
        let named = |end: &EndLines, name: &str, t: f64| {
            let line = end.boundaries.iter().find(|line| line.name == name)?;
            let point =
                |p: &Point2<f64>| (around.turn(p, t).0, self.straight(&Point3::new(p.x, p.y, t * self.ends.length)));
            Along::new(line.points.iter().map(point).collect())
        };
        let mut found: Vec<Boundary> = Vec::new();
        for EndLine { name, .. } in near.boundaries.iter().chain(&far.boundaries) {
            let known = name.is_empty() || found.iter().any(|boundary| boundary.name == *name);
            let ends = match [named(near, name, 0.0), named(far, name, 1.0)] {
                [Some(near), Some(far)] if !known => [near, far],
                [Some(one), None] | [None, Some(one)] if !known => [one.clone(), one],
                _ => continue,
            };
            let still = Bend::new(Wander::new(self.ends.length, None, 0.0, self.calendar.mean), &[]);
            let boundary = Boundary { name: name.clone(), around: around.clone(), ends, bend: still };
            let bend = self.bend_of(marks, &boundary);
            found.push(Boundary { bend, ..boundary });
        }
        self.boundaries = found;
    }

    /// How lines part-way bend a boundary's place among the rings.
    fn bend_of(&self, marks: &[Course], boundary: &Boundary) -> Bend {
        let own = marks.iter().filter(|course| course.name == boundary.name).flat_map(|course| &course.points);
        let short = |p: &Point3<f64>| {
            let at = self.held(p);
            (at, self.across(&at) - boundary.place(&at.xy(), at.z / self.ends.length).0)
        };
        let said: Vec<(Point3<f64>, f64)> = own.map(short).collect();
        let wander = Wander::new(self.ends.length, self.piths(), self.drift, self.calendar.mean);
        Bend::new(wander.suited(&said, self.ends.size.norm()), &said)
    }
}

fn thin<T: Copy>(points: &mut Vec<T>) {
    let every = points.len().div_ceil(MOST_POINTS).max(1);
    if every > 1 {
        *points = points.iter().copied().step_by(every).chain(points.last().copied()).collect();
    }
}

fn widths(end: &EndLines, name: &'static str) -> Result<Vec<Option<f64>>, Unjoined> {
    let lines = &end.rings;
    let found: Vec<Option<f64>> = lines.windows(2).map(|pair| width_between(&pair[0], &pair[1])).collect();
    if lines.iter().any(|line| line.points.len() < 2) || found.iter().all(Option::is_none) {
        return Err(Unjoined::TooFewLines { end: name });
    }
    Ok(found)
}

/// Widths of all rings that either end shows: the mean of both, or the one that is known, scaled
/// by half of what the ends differ by in the rings they share.
fn calendar(widths: &[Vec<Option<f64>>; 2], shift: i64) -> Option<Calendar> {
    let first = (-shift).min(0);
    let last = (widths[0].len() as i64).max(widths[1].len() as i64 - shift);
    // The ends share no year and a gulf lies between: nothing joins them.
    if last - first > 4000 {
        return None;
    }
    let width = |end: usize, k: i64| widths[end].get(usize::try_from(k).ok()?).copied().flatten();
    let pairs: Vec<_> = (first..last).map(|k| (width(0, k), width(1, k + shift))).collect();
    let ratios: Vec<f64> = pairs.iter().filter_map(|(a, b)| Some(((*a)? / (*b)?).ln())).collect();
    let ratio = (ratios.iter().sum::<f64>() / (ratios.len() as f64).max(1.0)).exp();
    let mean = |pair: &(Option<f64>, Option<f64>)| match pair {
        (Some(a), Some(b)) => Some(0.5 * (a + b)),
        (Some(a), None) => Some(0.5 * (a + a / ratio)),
        (None, Some(b)) => Some(0.5 * (b + b * ratio)),
        (None, None) => None,
    };
    Calendar::new(first, &pairs.iter().map(mean).collect::<Vec<_>>())
}
