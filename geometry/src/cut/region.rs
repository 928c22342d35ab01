//! Regions of the plane bounded by straight lines and arcs: area, moments, what lies within.
//!
//! Every level slice through cuts whose bits stand upright is such a region, so that the area of a slice is exact
//! and a volume needs quadrature over one variable only. Knows nothing of bits or boards.

use nalgebra::{Point2, Vector2};
use std::f64::consts::{PI, TAU};

/// Points closer than this are one, mm.
pub(crate) const NEAR: f64 = 1e-9;

/// A part of a boundary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Piece {
    /// From a point to a point.
    Line(Point2<f64>, Point2<f64>),
    /// About a centre, from an angle through a turn (positive is anti-clockwise).
    Arc { centre: Point2<f64>, radius: f64, from: f64, turn: f64 },
}

/// Area, first moments ∫x dA and ∫y dA, and length, of what a boundary encloses.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Measures {
    pub(crate) area: f64,
    pub(crate) moment: Vector2<f64>,
    pub(crate) length: f64,
}

impl std::ops::AddAssign for Measures {
    fn add_assign(&mut self, other: Self) {
        self.area += other.area;
        self.moment += other.moment;
        self.length += other.length;
    }
}

impl Piece {
    fn arc_at(centre: &Point2<f64>, radius: f64, angle: f64) -> Point2<f64> {
        centre + Vector2::new(angle.cos(), angle.sin()) * radius
    }

    /// The point at a share of the way, 0 to 1.
    pub(crate) fn at(&self, share: f64) -> Point2<f64> {
        match self {
            // Its end is its end, to the bit.
            Self::Line(_, b) if share == 1.0 => *b,
            Self::Line(a, b) => a + (b - a) * share,
            Self::Arc { centre, radius, from, turn } => Self::arc_at(centre, *radius, from + turn * share),
        }
    }

    /// The unit normal to the left of the way there.
    pub(crate) fn left(&self, share: f64) -> Vector2<f64> {
        match self {
            Self::Line(a, b) => {
                let d = (b - a).normalize();
                Vector2::new(-d.y, d.x)
            }
            Self::Arc { centre, turn, .. } => (centre - self.at(share)).normalize() * turn.signum(),
        }
    }

    pub(crate) fn part(&self, from: f64, to: f64) -> Self {
        match *self {
            Self::Line(..) => Self::Line(self.at(from), self.at(to)),
            Self::Arc { centre, radius, from: start, turn } => {
                Self::Arc { centre, radius, from: start + turn * from, turn: turn * (to - from) }
            }
        }
    }

    /// The same so far to the left of the way; an arc that would have no radius left is its centre.
    pub(crate) fn beside(&self, off: f64) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(a + self.left(0.0) * off, b + self.left(0.0) * off),
            Self::Arc { centre, radius, from, turn } => {
                Self::Arc { centre, radius: (radius - off * turn.signum()).max(0.0), from, turn }
            }
        }
    }

    /// The same, the other way.
    pub(crate) fn reversed(&self) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(b, a),
            Self::Arc { centre, radius, from, turn } => Self::Arc { centre, radius, from: from + turn, turn: -turn },
        }
    }

    pub(crate) fn length(&self) -> f64 {
        match self {
            Self::Line(a, b) => (b - a).norm(),
            Self::Arc { radius, turn, .. } => radius * turn.abs(),
        }
    }

    /// By Green's theorem: area ½∮(x dy − y dx), moments ½∮x² dy and −½∮y² dx; about `pole`, for the digits.
    pub(crate) fn measures(&self, pole: &Point2<f64>) -> Measures {
        let (area, moment) = match self {
            Self::Line(a, b) => {
                let (a, b) = (a - pole, b - pole);
                let cross = a.perp(&b) / 2.0;
                (cross, (a + b) * cross / 3.0)
            }
            Self::Arc { centre, radius, from, turn } => arc_measures(&(centre - pole), *radius, *from, *turn),
        };
        Measures { area, moment: moment + pole.coords * area, length: self.length() }
    }

    /// The shares of the way at which it meets another, within it.
    pub(crate) fn meetings(&self, other: &Self) -> Vec<f64> {
        let ([low, high], [from, to]) = (self.extent(), other.extent());
        if (0..2).any(|i| low[i] > to[i] + NEAR || from[i] > high[i] + NEAR) {
            return Vec::new();
        }
        let all: Vec<Point2<f64>> = match (self, other) {
            (Self::Line(a, b), Self::Line(c, d)) => {
                let (u, v) = (b - a, d - c);
                let det = u.perp(&v);
                if det.abs() <= 1e-14 * u.norm() * v.norm() {
                    vec![*c, *d]
                } else {
                    vec![a + u * ((c - a).perp(&v) / det)]
                }
            }
            (Self::Line(a, b), Self::Arc { centre, radius, .. })
            | (Self::Arc { centre, radius, .. }, Self::Line(a, b)) => line_circle(a, b, centre, *radius),
            (Self::Arc { centre: p, radius: r, .. }, Self::Arc { centre: q, radius: s, .. }) => {
                let mut all = circles(p, *r, q, *s);
                all.extend([other.at(0.0), other.at(1.0)]);
                all
            }
        };
        all.iter().filter(|p| other.share_of(p).is_some()).filter_map(|p| self.share_of(p)).collect()
    }

    /// Where on the way a point lies; `None` where it doesn't.
    pub(crate) fn share_of(&self, p: &Point2<f64>) -> Option<f64> {
        let slack = NEAR / self.length().max(NEAR);
        let share = match self {
            Self::Line(a, b) => {
                let u = b - a;
                let share = (p - a).dot(&u) / u.norm_squared();
                (((p - a) - u * share).norm() <= NEAR).then_some(share)?
            }
            Self::Arc { centre, radius, from, turn } => {
                let d = p - centre;
                ((d.norm() - radius).abs() <= NEAR).then_some(())?;
                let mut angle = (d.y.atan2(d.x) - from) * turn.signum();
                angle = angle.rem_euclid(TAU);
                let slack = slack * turn.abs();
                let angle = if angle > turn.abs() + slack && angle >= TAU - slack { 0.0 } else { angle };
                angle / turn.abs()
            }
        };
        (-slack..=1.0 + slack).contains(&share).then(|| share.clamp(0.0, 1.0))
    }

    /// Its parts that run only up or only down.
    pub(crate) fn spans(&self, to: &mut Vec<Span>) {
        match *self {
            Self::Line(a, b) => {
                to.extend(Span::between(a.y, b.y, Track::Line { at: a, slope: (b.x - a.x) / (b.y - a.y) }))
            }
            Self::Arc { centre, radius, from, turn } => {
                let mut shares = vec![0.0, 1.0];
                // Every odd quarter turn is a top or a bottom.
                shares.extend(
                    (-6..=6).map(|k| (PI * (f64::from(k) + 0.5) - from) / turn).filter(|s| *s > 0.0 && *s < 1.0),
                );
                shares.sort_by(f64::total_cmp);
                for w in shares.windows(2) {
                    let right = self.at((w[0] + w[1]) / 2.0).x > centre.x;
                    to.extend(Span::between(self.at(w[0]).y, self.at(w[1]).y, Track::Arc { centre, radius, right }));
                }
            }
        }
    }

    /// The box that it lies in; an arc's is its circle's.
    fn extent(&self) -> [Point2<f64>; 2] {
        match self {
            Self::Line(a, b) => [a.inf(b), a.sup(b)],
            Self::Arc { centre, radius, .. } => {
                let reach = Vector2::new(*radius, *radius);
                [centre - reach, centre + reach]
            }
        }
    }
}

/// A part of a boundary that runs only up or only down, between two levels of y.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Span {
    low: f64,
    high: f64,
    up: bool,
    track: Track,
}

#[derive(Clone, Copy, Debug)]
enum Track {
    Line { at: Point2<f64>, slope: f64 },
    Arc { centre: Point2<f64>, radius: f64, right: bool },
}

impl Span {
    fn between(from: f64, to: f64, track: Track) -> Option<Self> {
        (from != to).then(|| Self { low: from.min(to), high: from.max(to), up: from < to, track })
    }

    /// How often it passes a ray from a point toward +X: upward counts 1, downward −1.
    pub(crate) fn passes(&self, p: &Point2<f64>) -> i32 {
        if p.y < self.low || p.y >= self.high {
            return 0;
        }
        let x = match self.track {
            Track::Line { at, slope } => at.x + (p.y - at.y) * slope,
            Track::Arc { centre, radius, right } => {
                let off = (radius * radius - (p.y - centre.y).powi(2)).max(0.0).sqrt();
                if right { centre.x + off } else { centre.x - off }
            }
        };
        if x <= p.x {
            0
        } else if self.up {
            1
        } else {
            -1
        }
    }
}

/// Area and moments under an arc about the origin, x = cx + R cos θ, y = cy + R sin θ:
/// ½∫(x dy − y dx) = ½[R²τ + R(cx·Δsin − cy·Δcos)], ½∫x² dy and −½∫y² dx with
/// ∫cos² = τ/2 + Δ(sin 2θ)/4, ∫cos³ = Δ(sin θ − sin³θ/3) and the like.
fn arc_measures(c: &Vector2<f64>, radius: f64, from: f64, turn: f64) -> (f64, Vector2<f64>) {
    let (s0, c0) = from.sin_cos();
    let (s1, c1) = (from + turn).sin_cos();
    let (ds, dc) = (s1 - s0, c1 - c0);
    let double = (s1 * c1 - s0 * c0) / 2.0;
    let (cos2, sin2) = (turn / 2.0 + double, turn / 2.0 - double);
    let cos3 = ds - (s1.powi(3) - s0.powi(3)) / 3.0;
    let sin3 = -dc + (c1.powi(3) - c0.powi(3)) / 3.0;
    let area = (radius * radius * turn + radius * (c.x * ds - c.y * dc)) / 2.0;
    let mx = radius / 2.0 * (c.x * c.x * ds + 2.0 * c.x * radius * cos2 + radius * radius * cos3);
    let my = radius / 2.0 * (-c.y * c.y * dc + 2.0 * c.y * radius * sin2 + radius * radius * sin3);
    // Lines give their moments about the pole by triangles; an arc must too: what ½∮x²dy leaves to its chord.
    let (a, b) = (c + Vector2::new(c0, s0) * radius, c + Vector2::new(c1, s1) * radius);
    let chord_x = (b.y - a.y) * (a.x * a.x + a.x * b.x + b.x * b.x) / 6.0;
    let chord_y = -(b.x - a.x) * (a.y * a.y + a.y * b.y + b.y * b.y) / 6.0;
    let triangle = (a + b) * (a.perp(&b) / 6.0);
    (area, Vector2::new(mx - chord_x, my - chord_y) + triangle)
}

fn line_circle(a: &Point2<f64>, b: &Point2<f64>, centre: &Point2<f64>, radius: f64) -> Vec<Point2<f64>> {
    let u = (b - a).normalize();
    let foot = a + u * (centre - a).dot(&u);
    let off = radius * radius - (foot - centre).norm_squared();
    if off < -2.0 * radius * NEAR {
        return Vec::new();
    }
    let half = off.max(0.0).sqrt();
    vec![foot + u * half, foot - u * half]
}

fn circles(p: &Point2<f64>, r: f64, q: &Point2<f64>, s: f64) -> Vec<Point2<f64>> {
    let d = (q - p).norm();
    if d <= NEAR || d > r + s + NEAR || d < (r - s).abs() - NEAR {
        return Vec::new();
    }
    let along = (d * d + r * r - s * s) / (2.0 * d);
    let off = (r * r - along * along).max(0.0).sqrt();
    let u = (q - p) / d;
    let foot = p + u * along;
    let n = Vector2::new(-u.y, u.x) * off;
    vec![foot + n, foot - n]
}

/// A closed boundary; what lies to its left is inside.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Loop(pub(crate) Vec<Piece>);

impl Loop {
    /// Around the convex hull's corners (anti-clockwise; one or two will do), `radius` outside: arcs about each
    /// corner, lines between.
    pub(crate) fn around(corners: &[Point2<f64>], radius: f64) -> Self {
        let mut distinct: Vec<Point2<f64>> = Vec::new();
        for c in corners {
            if distinct.iter().all(|d| (d - c).norm() > NEAR) {
                distinct.push(*c);
            }
        }
        let n = distinct.len();
        let mut pieces = Vec::new();
        if n == 1 {
            if radius > 0.0 {
                pieces.push(Piece::Arc { centre: distinct[0], radius, from: 0.0, turn: TAU });
            }
            return Self(pieces);
        }
        let heading = |i: usize| {
            let d = distinct[(i + 1) % n] - distinct[i % n];
            d.y.atan2(d.x) - PI / 2.0
        };
        for i in 0..n {
            let (before, after) = (heading(i + n - 1), heading(i));
            let turn = (after - before).rem_euclid(TAU);
            if radius > 0.0 && turn > 1e-12 {
                pieces.push(Piece::Arc { centre: distinct[i], radius, from: before, turn });
            }
            let off = Vector2::new(after.cos(), after.sin()) * radius;
            let next = distinct[(i + 1) % n];
            pieces.push(Piece::Line(distinct[i] + off, next + off));
        }
        Self(pieces)
    }

    /// The same, the other way round.
    pub(crate) fn reversed(self) -> Self {
        Self(self.0.into_iter().rev().map(|piece| piece.reversed()).collect())
    }
}

/// A region: outer boundaries run anti-clockwise, those of holes clockwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Region(pub(crate) Vec<Loop>);

impl Region {
    pub(crate) fn pieces(&self) -> impl Iterator<Item = &Piece> {
        self.0.iter().flat_map(|l| &l.0)
    }

    /// Whether it contains a point.
    pub(crate) fn contains(&self, p: &Point2<f64>) -> bool {
        self.spans().iter().map(|span| span.passes(p)).sum::<i32>() > 0
    }

    /// All its boundaries' spans.
    pub(crate) fn spans(&self) -> Vec<Span> {
        let mut spans = Vec::new();
        self.pieces().for_each(|p| p.spans(&mut spans));
        spans
    }

    #[cfg(test)]
    pub(crate) fn measures(&self) -> Measures {
        let pole = self.pieces().next().map_or_else(Point2::origin, |p| p.at(0.0));
        let mut sum = Measures::default();
        self.pieces().for_each(|p| sum += p.measures(&pole));
        sum
    }

    /// Whether two regions have a point in common (or touch).
    pub(crate) fn meets(&self, other: &Self) -> bool {
        let crosses = self.pieces().any(|a| other.pieces().any(|b| !a.meetings(b).is_empty()));
        let first = |region: &Self| region.pieces().next().map(|p| p.at(0.0));
        crosses || first(self).is_some_and(|p| other.contains(&p)) || first(other).is_some_and(|p| self.contains(&p))
    }

    /// Whether another lies wholly inside, without touching.
    pub(crate) fn holds(&self, other: &Self) -> bool {
        let crosses = self.pieces().any(|a| other.pieces().any(|b| !a.meetings(b).is_empty()));
        !crosses && other.0.iter().filter_map(|l| l.0.first()).all(|p| self.contains(&p.at(0.0)))
    }
}
