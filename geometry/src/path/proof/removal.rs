//! What is left of a stock's upper side at single points when a bit has gone its way.
//!
//! A height is exact for its point, on any grid ([`super::field`]): the least, over all steps, of the bit's underside there.
//! Arcs about Z are taken as they are, those in the other planes in chords that stay within half a micrometre. Must not
//! know of plans or boards.

use super::arc::Arc;
use super::read::{Step, Way};
use super::ready::{Ready, Slopes};
use crate::cut::Profile;
use nalgebra::{Point2, Point3, Vector2};

/// A level part of a slope is so much lower than it at most, mm.
const FALL: f64 = 0.002;
/// The most level parts of a slope.
const MOST_PARTS: f64 = 20_000.0;

/// Chords of arcs stay this near, mm.
const CHORD: f64 = 0.0005;

/// A part of a step: straight, or an arc about Z.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leg {
    pub(super) from: Point3<f64>,
    pub(super) to: Point3<f64>,
    /// The step's place in the program.
    pub(super) step: usize,
    /// Which bit, by its place in the program's list.
    pub(super) bit: usize,
    pub(super) arc: Option<Arc>,
}

/// The legs of a program's steps; what isn't placed yet is taken to be where it is first placed.
pub(super) fn legs(steps: &[Step]) -> Vec<Leg> {
    let mut legs = Vec::new();
    for (i, step) in steps.iter().enumerate() {
        let place =
            |p: Point3<f64>| Point3::from(p.coords.zip_map(&step.to.coords, |c, to| if c.is_nan() { to } else { c }));
        if step.to.iter().any(|c| c.is_nan()) {
            continue;
        }
        if !matches!(step.way, Way::Arc { .. }) {
            legs.push(Leg::straight(place(step.from), step.to, i));
            continue;
        }
        if let Some(arc) = Arc::of(step) {
            legs.push(Leg { from: step.from, to: step.to, step: i, bit: 0, arc: Some(arc) });
            continue;
        }
        let parts = chords(step);
        let at = |k: usize| step.at(k as f64 / parts as f64);
        legs.extend((0..parts).map(|k| Leg::straight(at(k), at(k + 1), i)));
    }
    legs
}

/// How many legs a step is: an arc's chords.
pub(super) fn chords(step: &Step) -> usize {
    let Way::Arc { centre, axis, turn } = step.way else { return 1 };
    let mut arm = step.from - centre;
    arm[axis] = 0.0;
    let each = 2.0 * (1.0 - (CHORD / arm.norm()).min(1.0)).acos();
    (turn.abs() / each).ceil().clamp(1.0, 100_000.0) as usize
}

impl Leg {
    /// A straight one.
    pub(super) const fn straight(from: Point3<f64>, to: Point3<f64>, step: usize) -> Self {
        Self { from, to, step, bit: 0, arc: None }
    }

    /// In level parts, for a bit that isn't round where it cuts: each at its lowest, at most [`FALL`] lower than it begins or
    /// ends. Straight down stays as it is.
    pub(super) fn level_parts(self) -> Vec<Self> {
        let (fall, long) = ((self.to.z - self.from.z).abs(), (self.to - self.from).xy().norm());
        if fall == 0.0 || long < 1e-9 && self.arc.is_none() {
            return vec![self];
        }
        let parts = (fall / FALL).ceil().clamp(1.0, MOST_PARTS);
        let at = |k: f64| match &self.arc {
            Some(arc) => arc.at(k / parts),
            None => self.from.xy() + (self.to - self.from).xy() * (k / parts),
        };
        let z = |k: f64| self.from.z + (self.to.z - self.from.z) * (k / parts);
        let part = |k: u32| {
            let (begin, end) = (f64::from(k), f64::from(k + 1));
            let low = z(begin).min(z(end));
            let place = |p: Point2<f64>| Point3::new(p.x, p.y, low);
            let arc = self.arc.as_ref().map(|arc| arc.part([begin / parts, end / parts]));
            Self { from: place(at(begin)), to: place(at(end)), arc, ..self }
        };
        (0..parts as u32).map(part).collect()
    }

    /// How long it is, seen from above.
    pub(super) fn length(&self) -> f64 {
        self.arc.as_ref().map_or_else(|| (self.to - self.from).xy().norm(), |arc| arc.radius * arc.turn.abs())
    }

    /// The bit's tip at a share of its way.
    pub(super) fn at(&self, share: f64) -> Point3<f64> {
        let straight = self.from + (self.to - self.from) * share;
        self.arc.as_ref().map_or(straight, |arc| {
            let p = arc.at(share);
            Point3::new(p.x, p.y, straight.z)
        })
    }

    /// The box that the bit's centre stays in.
    pub(super) fn room(&self) -> [Point2<f64>; 2] {
        self.arc
            .as_ref()
            .map_or_else(|| [self.from.xy().inf(&self.to.xy()), self.from.xy().sup(&self.to.xy())], |arc| arc.room)
    }
}

/// The lowest that the bit's underside comes to over a point on a leg; `None` where it never is over it.
///
/// Along the leg the height is convex, so that where it slopes and the corner is round the least is found by halving
/// the slope's interval.
pub(super) fn lowest(bit: &Profile, leg: &Leg, p: Point2<f64>) -> Option<f64> {
    if bit.rim.is_some() {
        return Some(Ready::of(bit, leg, 1.0, &Slopes::default()).over(p)).filter(|z| z.is_finite());
    }
    let ([low, high], reach) = (leg.room(), bit.radius);
    if p.x < low.x - reach || p.x > high.x + reach || p.y < low.y - reach || p.y > high.y + reach {
        return None;
    }
    if let Some(arc) = &leg.arc {
        return arc.lowest(bit, [leg.from.z, leg.to.z], p);
    }
    let way: Vector2<f64> = (leg.to - leg.from).xy();
    let long = way.norm();
    let to_point = p - leg.from.xy();
    if long < 1e-9 {
        let rho = to_point.norm();
        return (rho <= bit.radius).then(|| leg.from.z.min(leg.to.z) + bit.underside(rho));
    }
    let along = to_point.dot(&way) / long;
    let beside = to_point.perp(&way).abs() / long;
    let half = (bit.radius * bit.radius - beside * beside).max(0.0).sqrt();
    let (low, high) = ((along - half).max(0.0), (along + half).min(long));
    if beside > bit.radius || low > high {
        return None;
    }
    let slope = (leg.to.z - leg.from.z) / long;
    // The height is convex along the way: where it ends before its least, it is least at that end.
    let downhill = if slope == 0.0 { 0.0 } else { least_on_slope(bit, slope, beside).copysign(-slope) };
    let at = (along + downhill).clamp(low, high);
    Some(leg.from.z + slope * at + bit.underside(((at - along).powi(2) + beside * beside).sqrt()))
}

/// Legs with their bits, the deepest first: over most points the first few tell what is left.
pub(super) struct DeepestFirst<'a>(Vec<(f64, &'a Profile, &'a Leg)>);

impl<'a> DeepestFirst<'a> {
    pub(super) fn of(legs: &'a [Leg], bits: &'a [Profile]) -> Self {
        let with = |leg: &'a Leg| Some((leg.from.z.min(leg.to.z), bits.get(leg.bit)?, leg));
        let mut all: Vec<_> = legs.iter().filter_map(with).filter(|(low, ..)| *low < 0.0).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self(all)
    }

    /// What is left over a point.
    pub(super) fn height(&self, p: Point2<f64>) -> f64 {
        let mut height = 0.0;
        for (low, bit, leg) in &self.0 {
            if *low >= height {
                break;
            }
            height = lowest(bit, leg, p).map_or(height, |z| z.min(height));
        }
        height
    }
}

/// How far downhill of a point the bit stands lowest over it, on a slope without ends, the point so far beside the way.
///
/// With x how far downhill of the point the bit stands and m the slope's size, the height grows by −m + g there,
/// g = u′(ρ)·x/ρ, ρ² = x² + b²: nothing where x < 0 or the flat is over the point, growing from there on. Where the
/// corner is over the point from the beginning (b beyond the flat) u′(ρ) ≥ u′(b), so that g reaches m by
/// x = b·s/√(1 − s²), s = m/u′(b); else, with x₀ where the flat ends, by the ρ = flat + o of o·x₀/(r·ρ) = m. A bit
/// without a corner stands as far downhill as it reaches.
pub(super) fn least_on_slope(bit: &Profile, slope: f64, beside: f64) -> f64 {
    let (flat, fall) = (bit.flat(), slope.abs());
    let half = (bit.radius * bit.radius - beside * beside).max(0.0).sqrt();
    if bit.corner == 0.0 {
        return half;
    }
    let begin = (flat * flat - beside * beside).max(0.0).sqrt();
    let by = if begin > 0.0 {
        let per = begin / bit.corner - fall;
        let rho = flat + fall * flat / per;
        if per > 0.0 { (rho * rho - beside * beside).sqrt() } else { f64::INFINITY }
    } else {
        let share = fall / bit.steepness(beside);
        if share < 1.0 { beside * share / (1.0 - share * share).sqrt() } else { f64::INFINITY }
    };
    let growing = |x: f64| {
        let rho = (x * x + beside * beside).sqrt();
        if rho > 0.0 { bit.steepness(rho) * x / rho - fall } else { -fall }
    };
    least(&growing, [begin.min(half), by.min(half)])
}

/// How much higher than the least height the one found may be, mm.
const NEAR: f64 = 1e-9;

/// Where a height of such a growing slope is least within a range: where the slope passes 0, by the false position of its
/// two ends (the Illinois rule), every third time halved. A convex height is off by no more than its slope there times
/// the range that is left.
pub(super) fn least(f: &impl Fn(f64) -> f64, [mut low, mut high]: [f64; 2]) -> f64 {
    let (mut below, mut above) = (f(low), f(high));
    if below >= 0.0 || above <= 0.0 {
        return if below >= 0.0 { low } else { high };
    }
    let mut last = 0;
    for k in 0..60 {
        let at = if k % 3 == 2 { (low + high) / 2.0 } else { (low * above - high * below) / (above - below) };
        let found = f(at);
        if found > 0.0 {
            (high, above) = (at, found);
            if last == 1 {
                below /= 2.0;
            }
            last = 1;
        } else {
            (low, below) = (at, found);
            if last == -1 {
                above /= 2.0;
            }
            last = -1;
        }
        if found.abs() * (high - low) < NEAR {
            return at;
        }
    }
    (low + high) / 2.0
}
