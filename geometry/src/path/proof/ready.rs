//! A leg made ready to be asked at many points: what is the same for all of them is worked out once.
//!
//! Level, the lowest over a point is the tip's level and the bit's underside at the point's distance from the way. On a
//! slope the bit stands lowest some way downhill of the point, and how far depends only on how far beside the way the
//! point lies ([`Downhill`]): it is solved for at places beside the way and taken between them, and the height is that of
//! the bit standing just there, so that what is off in the place counts by its square.

use super::arc::Arc;
use super::removal::{Leg, least_on_slope, lowest};
use crate::cut::Profile;
use nalgebra::{Point2, Vector2};
use std::collections::HashMap;
use std::f64::consts::{PI, TAU};
use std::sync::{Arc as Shared, Mutex, PoisonError};

/// The way, without what is worked out once.
enum Way {
    Straight { from: Point2<f64>, to: Point2<f64>, along: Vector2<f64>, long: f64 },
    Round { arc: Arc, ends: [Point2<f64>; 2], arms: [Vector2<f64>; 2], wide: bool },
}

/// What a bit shaves off a wall by no more than this counts as nothing taken, mm: the rounding of a program's numbers
/// moves an arc by so little from one pass to the next, and the wall is as high as all passes before.
pub(super) const HAIR: f64 = 0.01;

/// A way that is no longer goes straight down, mm.
const UPRIGHT: f64 = 1e-9;

/// How the tip goes.
enum Tip {
    Level,
    Slope(Shared<Downhill>),
    /// Down a slope that is asked at so few points that nothing is worth working out beforehand, or round an arc that is
    /// tighter than the bit.
    Each,
}

pub(super) struct Ready<'a> {
    bit: &'a Profile,
    leg: &'a Leg,
    way: Way,
    /// The tip's level where it begins.
    level: f64,
    /// How it goes on: per millimetre of a straight way, per radian of an arc.
    slope: f64,
    tip: Tip,
    flat: f64,
    outer: f64,
    /// The squares of both.
    squares: [f64; 2],
}

impl<'a> Ready<'a> {
    /// To be asked on cells of this size.
    pub(super) fn of(bit: &'a Profile, leg: &'a Leg, cell: f64, slopes: &Slopes) -> Self {
        let ends = [leg.from.xy(), leg.to.xy()];
        let (way, long, turn) = match &leg.arc {
            None => {
                let way = ends[1] - ends[0];
                let long = way.norm();
                let along = if long > 0.0 { way / long } else { Vector2::zeros() };
                (Way::Straight { from: ends[0], to: ends[1], along, long }, long, long)
            }
            Some(arc) => {
                // Anticlockwise from the first arm to the second.
                let [begin, end] = ends.map(|p| p - arc.centre);
                let arms = if arc.turn > 0.0 { [begin, end] } else { [end, begin] };
                let turn = arc.turn.abs();
                (Way::Round { arc: *arc, ends, arms, wide: turn > PI }, arc.radius * turn, turn)
            }
        };
        let upright = long < UPRIGHT;
        let slope = if upright { 0.0 } else { (leg.to.z - leg.from.z) / turn };
        let tight = leg.arc.as_ref().is_some_and(|arc| arc.radius <= bit.radius);
        let asked = (long + bit.radius) * bit.radius / (cell * cell);
        let tip = if slope == 0.0 {
            Tip::Level
        } else if bit.rim.is_some() || tight || asked < (4 * PLACES) as f64 {
            Tip::Each
        } else {
            Tip::Slope(slopes.downhill(bit, slope, leg.arc.as_ref()))
        };
        let level = Self::begins(leg);
        let (flat, outer) = (bit.flat(), bit.outer());
        Self { bit, leg, way, level, slope, tip, flat, outer, squares: [flat * flat, outer * outer] }
    }

    /// The tip's height where a leg begins; a plunge leaves what the bit leaves at its lowest.
    pub(super) fn begins(leg: &Leg) -> f64 {
        let upright = leg.arc.is_none() && (leg.to - leg.from).xy().norm() < UPRIGHT;
        if upright { leg.from.z.min(leg.to.z) } else { leg.from.z }
    }

    /// [`Self::over`], above where it begins, and whether the bit is over the point by more than a [`HAIR`].
    #[inline]
    pub(super) fn above_begin(&self, p: Point2<f64>) -> (f64, bool) {
        let within = self.outer - HAIR;
        if matches!(self.tip, Tip::Level) && self.flat <= within {
            let square = self.square(p);
            return (self.underside(square), square <= within * within);
        }
        (self.over(p) - self.level, self.is_within(p, within.max(0.0)))
    }

    /// The lowest over a point; infinite where the bit never is over it.
    #[inline]
    pub(super) fn over(&self, p: Point2<f64>) -> f64 {
        let downhill = match &self.tip {
            Tip::Level => return self.level + self.underside(self.square(p)),
            Tip::Each => return lowest(self.bit, self.leg, p).unwrap_or(f64::INFINITY),
            Tip::Slope(downhill) => downhill,
        };
        match &self.way {
            Way::Straight { from, along, long, .. } => {
                let to = p - from;
                let (at, beside) = (to.dot(along), to.perp(along));
                if beside.abs() > self.bit.radius {
                    return f64::INFINITY;
                }
                let stands = (at - downhill.far(beside.abs()).copysign(self.slope)).clamp(0.0, *long);
                let square = beside * beside + (stands - at) * (stands - at);
                self.level + self.slope * stands + self.underside(square)
            }
            Way::Round { arc, .. } => {
                let arm = p - arc.centre;
                let r = arm.norm();
                let beside = r - arc.radius;
                if beside.abs() > self.bit.radius {
                    return f64::INFINITY;
                }
                let (root, span) = (2.0 * (r * arc.radius).sqrt(), arc.turn.abs());
                let far = downhill.far(beside);
                let off = (2.0 * (far / root).min(1.0).asin()).copysign(-self.slope);
                let ahead = arc.ahead(arm);
                let standing = |ahead: f64| {
                    let stands = (ahead + off).clamp(0.0, span);
                    let apart = if stands == ahead + off { far } else { root * ((stands - ahead) / 2.0).sin() };
                    self.level + self.slope * stands + self.underside(beside * beside + apart * apart)
                };
                // A point may lie before the beginning as well as after the end.
                if ahead > PI { standing(ahead).min(standing(ahead - TAU)) } else { standing(ahead) }
            }
        }
    }

    /// The square of a point's distance from the way.
    #[inline]
    fn square(&self, p: Point2<f64>) -> f64 {
        match &self.way {
            Way::Straight { from, along, long, .. } => {
                let to = p - from;
                (to - along * to.dot(along).clamp(0.0, *long)).norm_squared()
            }
            Way::Round { arc, ends, arms: [a, b], wide } => {
                let arm = p - arc.centre;
                let (after, before) = (a.perp(&arm) >= 0.0, arm.perp(b) >= 0.0);
                let within = if *wide { after || before } else { after && before };
                if within || arc.turn.abs() >= TAU {
                    self.beside(arm.norm_squared(), arc.radius)
                } else {
                    (p - ends[0]).norm_squared().min((p - ends[1]).norm_squared())
                }
            }
        }
    }

    /// The square of how far beside an arc of this radius a point lies, by the square of its distance from the middle: nothing
    /// where the flat of the bit is over it.
    #[inline]
    fn beside(&self, square: f64, radius: f64) -> f64 {
        let (inner, outer) = ((radius - self.flat).max(0.0), radius + self.flat);
        if square >= inner * inner && square <= outer * outer { 0.0 } else { (square.sqrt() - radius).powi(2) }
    }

    /// [`Profile::underside`] by the square of the distance; infinite beyond the bit.
    #[inline]
    fn underside(&self, square: f64) -> f64 {
        let [flat, all] = self.squares;
        if square <= flat {
            return 0.0;
        }
        // A bit without a corner stands just as far from a point as it reaches.
        if square > all + 1e-9 {
            return f64::INFINITY;
        }
        if self.bit.rim.is_some() {
            return self.bit.underside(square.min(all).sqrt());
        }
        let out = (square.min(all).sqrt() - self.flat).max(0.0);
        self.bit.corner - (self.bit.corner * self.bit.corner - out * out).max(0.0).sqrt()
    }

    /// Whether a point lies so near the way.
    fn is_within(&self, p: Point2<f64>, near: f64) -> bool {
        match &self.way {
            Way::Straight { .. } => self.square(p) <= near * near,
            Way::Round { arc, .. } => {
                let r = (p - arc.centre).norm_squared();
                let rims = [(arc.radius - near).max(0.0), arc.radius + near];
                let beside = r >= rims[0] * rims[0] && r <= rims[1] * rims[1];
                // Beside the arc the square is that of the distance to it, or none under the flat; else of that to an end.
                beside && self.square(p) <= near * near
            }
        }
    }

    /// From which to which X the bit can be over a point in the row at `y`: one stretch, or one to either side of what an
    /// arc goes round.
    pub(super) fn reach(&self, y: f64) -> [Option<[f64; 2]>; 2] {
        match &self.way {
            Way::Straight { from, to, along, .. } => [across([*from, *to], along, self.outer, y), None],
            Way::Round { arc, .. } => {
                let up = y - arc.centre.y;
                let half = |radius: f64| (radius * radius - up * up).max(0.0).sqrt();
                let ([low, high], outer) = (arc.room, half(arc.radius + self.outer));
                let box_ = [low.x - self.outer, high.x + self.outer];
                let inner = if arc.radius > self.outer { half(arc.radius - self.outer) } else { 0.0 };
                let x = arc.centre.x;
                let within = |[a, b]: [f64; 2]| Some([a.max(box_[0]), b.min(box_[1])]).filter(|[a, b]| a <= b);
                if inner > 0.0 {
                    [within([x - outer, x - inner]), within([x + inner, x + outer])]
                } else {
                    [within([x - outer, x + outer]), None]
                }
            }
        }
    }

    /// Between which Y it goes level and straight across the rows: there it leaves the same in each of them.
    pub(super) fn across_rows(&self) -> Option<[f64; 2]> {
        let Way::Straight { from, to, along, .. } = &self.way else { return None };
        (self.slope == 0.0 && along.x == 0.0 && along.y != 0.0).then(|| [from.y.min(to.y), from.y.max(to.y)])
    }

    /// From which to which X of the row at `y` the same height is left, and the height: under the flat of a bit that goes
    /// straight and level, and all along where it goes along the row; for each stretch of [`Self::reach`].
    pub(super) fn even(&self, y: f64) -> [Option<([f64; 2], f64)>; 2] {
        match &self.way {
            Way::Straight { .. } => [self.even_straight(y), None],
            Way::Round { arc, arms, wide, .. } if self.slope == 0.0 && !wide => {
                self.even_round(arc, arms, y).map(|stretch| stretch.map(|stretch| (stretch, self.level)))
            }
            Way::Round { .. } => [None, None],
        }
    }

    /// Within the sector of an arc of half a turn at most, where the row passes both rims of what the flat of the bit goes
    /// over: left and right of the middle.
    fn even_round(&self, arc: &Arc, [a, b]: &[Vector2<f64>; 2], y: f64) -> [Option<[f64; 2]>; 2] {
        let (up, flat) = (y - arc.centre.y, self.flat.min(self.outer - HAIR) - 1e-9);
        let half = |radius: f64| (radius * radius - up * up).max(0.0).sqrt();
        if arc.radius <= self.outer || half(arc.radius - self.outer) <= 0.0 || flat <= 0.0 {
            return [None, None];
        }
        // On the left of the first arm and on the right of the second: two half planes, on the row two rays.
        let mut sector = [f64::NEG_INFINITY, f64::INFINITY];
        for [of_x, rest] in [[-a.y, a.x * up], [b.y, -b.x * up]] {
            // of_x · x + rest ≥ 0
            let at = -rest / of_x;
            if of_x > 0.0 {
                sector[0] = sector[0].max(at + 1e-9);
            } else if of_x < 0.0 {
                sector[1] = sector[1].min(at - 1e-9);
            } else if rest < 0.0 {
                return [None, None];
            }
        }
        let (outer, inner, x) = (half(arc.radius + flat), half(arc.radius - flat), arc.centre.x);
        let within = |[low, high]: [f64; 2]| {
            let stretch = [low.max(sector[0]) + x, high.min(sector[1]) + x];
            (stretch[0] <= stretch[1]).then_some(stretch)
        };
        [within([-outer, -inner]), within([inner, outer])]
    }

    fn even_straight(&self, y: f64) -> Option<([f64; 2], f64)> {
        let Way::Straight { from, to, along, .. } = &self.way else { return None };
        if self.slope != 0.0 {
            return None;
        }
        let beside = y - from.y;
        if beside.abs() > self.outer - HAIR {
            return None;
        }
        if along.y == 0.0 && along.x != 0.0 && beside.abs() > self.flat {
            let height = self.level + self.underside(beside * beside);
            return height.is_finite().then(|| ([from.x.min(to.x), from.x.max(to.x)], height));
        }
        across([*from, *to], along, self.flat.min(self.outer - HAIR) - 1e-9, y).map(|stretch| (stretch, self.level))
    }
}

/// From which to which X a disc that goes straight is over the row at `y`: the hull of what the discs at both ends and
/// the stretch between them cover there, as the whole is convex.
fn across([from, to]: [Point2<f64>; 2], along: &Vector2<f64>, radius: f64, y: f64) -> Option<[f64; 2]> {
    let disc = |c: Point2<f64>| {
        let square = radius * radius - (y - c.y).powi(2);
        (radius > 0.0 && square >= 0.0).then(|| [c.x - square.sqrt(), c.x + square.sqrt()])
    };
    // Beside the way by no more than the radius, where the way goes up or down; its ends close that stretch.
    let between = || {
        let (rise, long) = (along.y, (to - from).norm());
        if rise.abs() < 1e-9 || along.x.abs() < 1e-9 {
            let inside = rise.abs() >= 1e-9 && (y - from.y) * (y - to.y) <= 0.0 && radius > 0.0;
            return inside.then(|| [from.x.min(to.x) - radius, from.x.max(to.x) + radius]);
        }
        let up = y - from.y;
        let (s, t) = ((up * along.x - radius) / rise, (up * along.x + radius) / rise);
        let (u, v) = (-up * rise / along.x, (long - up * rise) / along.x);
        let [low, high] = [s.min(t).max(u.min(v)), s.max(t).min(u.max(v))];
        (low <= high && radius > 0.0).then(|| [from.x + low, from.x + high])
    };
    let all = [disc(from), disc(to), between()];
    all.into_iter().flatten().reduce(|[a, b], [c, d]| [a.min(c), b.max(d)])
}

/// How far downhill of a point the bit stands lowest over it, by how far beside the way the point lies.
///
/// The square of that distance (of the chord's, on an arc) changes evenly under the flat of the bit and under its corner,
/// to the very rim, where it is none; so it is tabled, apart for either.
struct Downhill {
    /// The square of the radius of a bit without a corner: it stands as far downhill as it reaches, which needs no table.
    reach: Option<f64>,
    flat: f64,
    /// Places in a millimetre, under the flat and under the corner.
    each: [f64; 2],
    /// Outside of an arc, or on either side of a straight way; inside of an arc.
    sides: [Vec<f64>; 2],
}

/// What was worked out for slopes already: a program goes down the same few again and again.
#[derive(Default)]
pub(super) struct Slopes(Mutex<HashMap<[i64; 4], Shared<Downhill>>>);

/// So many are kept.
const MOST_SLOPES: usize = 4096;

impl Slopes {
    /// Slopes and radii are the same to a millionth of a micrometre.
    fn downhill(&self, bit: &Profile, slope: f64, arc: Option<&Arc>) -> Shared<Downhill> {
        let round = arc.map_or(0.0, |arc| arc.radius);
        let key = [bit.radius, bit.corner, slope, round].map(|x| (x * 1e9).round() as i64);
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(found) = known.get(&key) {
            return Shared::clone(found);
        }
        let found = Shared::new(Downhill::of(bit, slope, arc));
        if known.len() < MOST_SLOPES {
            known.insert(key, Shared::clone(&found));
        }
        found
    }
}

/// So many places in a zone of [`Downhill`].
const PLACES: usize = 160;

impl Downhill {
    fn of(bit: &Profile, slope: f64, arc: Option<&Arc>) -> Self {
        let (flat, corner) = (bit.flat(), bit.corner);
        if corner == 0.0 {
            return Self { reach: Some(flat * flat), flat, each: [0.0; 2], sides: Default::default() };
        }
        let each = [flat, corner].map(|wide| if wide > 0.0 { PLACES as f64 / wide } else { 0.0 });
        let far = |beside: f64| match arc {
            Some(arc) => arc.downhill(bit, slope, beside),
            None => least_on_slope(bit, slope, beside),
        };
        let place = |k: usize| {
            let (zone, k) = (usize::from(k > PLACES), (k % (PLACES + 1)) as f64 / PLACES as f64);
            if zone == 0 { flat * k } else { flat + corner * k }
        };
        let side = |sign: f64| (0..2 * (PLACES + 1)).map(|k| far(sign * place(k)).powi(2)).collect();
        Self { reach: None, flat, each, sides: [side(1.0), if arc.is_some() { side(-1.0) } else { Vec::new() }] }
    }

    /// `beside` is negative only inside of an arc.
    #[inline]
    fn far(&self, beside: f64) -> f64 {
        if let Some(square) = self.reach {
            return (square - beside * beside).max(0.0).sqrt();
        }
        let side = &self.sides[usize::from(beside < 0.0)];
        let out = beside.abs() - self.flat;
        let (zone, at) = if out < 0.0 { (0, beside.abs() * self.each[0]) } else { (1, out * self.each[1]) };
        let k = (at as usize).min(PLACES - 1);
        let first = zone * (PLACES + 1) + k;
        let (low, high) = (side[first], side[first + 1]);
        (low + (high - low) * (at - k as f64)).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::super::field::Field;
    use super::super::read::read;
    use super::super::removal::legs;
    use super::*;
    use proptest::prelude::*;

    /// A leg from (0, 0, −1): straight, or an arc whose middle lies on the line that halves the stretch.
    fn leg_to(x: f64, y: f64, drop: f64, kind: u8, aside: f64) -> Leg {
        let (mx, my) = (x / 2.0 - y * aside / 10.0, y / 2.0 + x * aside / 10.0);
        let word = match kind {
            0 => format!("G1 X{x:.9} Y{y:.9} Z{:.9}", -1.0 - drop),
            k => format!("G{} X{x:.9} Y{y:.9} Z{:.9} I{mx:.9} J{my:.9}", k + 1, -1.0 - drop),
        };
        let text = format!("G21 G90\nG0 Z-1\nG0 X0 Y0\nF100\n{word}\nM2");
        *legs(&read(&text).unwrap()).last().unwrap()
    }

    fn bit(radius: f64, share: f64) -> Profile {
        Profile { radius, corner: radius * share, depth: 1.0, rim: None }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(512))]

        /// What is asked quickly is what is asked at length.
        #[test]
        fn a_ready_leg_is_the_general_one(
            x in -40.0..40.0f64, y in -40.0..40.0f64, px in -50.0..50.0f64, py in -50.0..50.0f64,
            r in 1.0..8.0f64, share in prop_oneof![Just(0.0), Just(1.0), 0.01..=1.0f64], kind in 0..3u8, aside in -9.0..9.0f64,
            drop in prop_oneof![Just(0.0), -4.0..4.0f64],
        ) {
            prop_assume!(x.hypot(y) > 0.1);
            let leg = leg_to(x, y, drop, kind, aside);
            let p = Point2::new(px, py);
            let over = |r: f64| Ready::of(&bit(r, share), &leg, 0.1, &Slopes::default()).over(p);
            let (quick, slow) = (over(r), lowest(&bit(r, share), &leg, p).unwrap_or(f64::INFINITY));
            // Only at the very rim, where the bit is steep, may they differ.
            let rim = |z: f64| z > over(r + 1e-6) - 1e-9 && z < over(r - 1e-6) + 1e-9;
            let steep = |z: f64| z > leg.from.z.min(leg.to.z) + r * share * 0.9;
            prop_assert!(
                quick == slow || (quick - slow).abs() < 1e-5 || rim(quick) && rim(slow) || steep(slow) && (quick - slow).abs() < 1e-3,
                "{} {}", quick, slow
            );
        }

        /// Row by row and stretch by stretch, a grid is cut as each of its points would be.
        #[test]
        fn rows_leave_what_their_points_leave(
            x in -12.0..12.0f64, y in -12.0..12.0f64, level in 0..3u8,
            r in 1.0..6.0f64, share in prop_oneof![Just(0.0), Just(1.0), 0.1..=1.0f64], kind in 0..3u8, aside in -9.0..9.0f64,
            drop in prop_oneof![Just(0.0), -2.0..2.0f64], workers in 1..4usize,
        ) {
            let (x, y) = match level { 0 => (x, 0.0), 1 => (0.0, y), _ => (x, y) };
            prop_assume!(x.hypot(y) > 0.1);
            let mut leg = leg_to(x, y, drop, kind, aside);
            let aside = Vector2::new(20.0, 18.0);
            for end in [&mut leg.from, &mut leg.to] {
                end.x += aside.x;
                end.y += aside.y;
            }
            if let Some(arc) = &mut leg.arc {
                arc.centre += aside;
                arc.room = arc.room.map(|p| p + aside);
            }
            leg.step = 0;
            let profile = bit(r, share);
            let mut field = Field::flat([40.0, 36.0], 0.47);
            let taken = field.cut(&[profile], &[leg], 1, workers);
            let mut deepest = 0.0f64;
            for row in 0..field.rows {
                for column in 0..field.columns {
                    let p = field.middle(column, row);
                    let found = f64::from(field.heights[row * field.columns + column]);
                    let z = lowest(&profile, &leg, p).unwrap_or(0.0).min(0.0);
                    let inner = Profile { radius: r - HAIR, corner: (r * share).min(r - HAIR), ..profile };
                    if lowest(&inner, &leg, p).is_some() {
                        deepest = deepest.max(-z);
                    }
                    let near = |by: f64| lowest(&bit(r + by, share), &leg, p).map_or(0.0, |z| z.min(0.0));
                    prop_assert!((found - z).abs() < 1e-5 || near(1e-6) <= found + 1e-6 && near(-1e-6) >= found - 1e-6, "{p} {found} {z}");
                }
            }
            prop_assert!((taken[0] - deepest).abs() < 1e-5, "{} {}", taken[0], deepest);
        }
    }
}
