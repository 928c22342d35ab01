//! The rings of a blank whose ends were traced: the same questions as `rings` answers, from lines.
//! Knows nothing of colours or species.
//!
//! Where the pith was not given, it is put where the lines' bend says (`ends::centre`); rays and
//! pores need only its direction. It moves along the grain as the rings do in the blank's middle.

use super::ends::{Between, Field, HEARTWOOD, centre};
use super::noise::Along;
use super::noise::hash;
use super::rings::{Place, from_year_to_year, held};
use super::slow::{Slow, Smooth};
use super::years::Years;
use nalgebra::{Point2, Point3, Vector2};

/// See the module.
#[derive(Debug, Clone)]
pub(super) struct Traced {
    between: Between,
    field: Field,
    pub(super) years: Years,
    per_width: f64,
    pith: Point2<f64>,
    pub(super) wander: Vector2<f64>,
    /// Whether the pith was given: only then it is drawn.
    pub(super) pith_given: bool,
    /// Where no heartwood line is: far within (all heartwood) or far beyond (all sapwood), mm.
    without_line: Option<f64>,
}

/// Farther from a heartwood line than any blank is wide, mm.
const ALL: f64 = 1.0e5;

impl Traced {
    /// `sapwood`: whether the wood is sapwood where no heartwood line was traced.
    pub(super) fn new(between: Between, sapwood: bool, seed: u64) -> Traced {
        let field = between.field(HEARTWOOD);
        let seed = hash(seed, 1, 0, 0);
        let (first, at, width) = between.years();
        let years = Years::known(first, at, width, reach(&between, &field), seed);
        let wander = wander(&between, &field);
        let ends = between.ends();
        let off = |w: f64| wander * w;
        let seen = [centre(&ends.near.rings), centre(&ends.far.rings).map(|p| p - off(ends.length))];
        let guess = match seen {
            [Some(near), Some(far)] => nalgebra::center(&near, &far),
            [one, other] => one.or(other).unwrap_or_else(Point2::origin),
        };
        let given = between.piths();
        let line = between.beyond_boundary(HEARTWOOD, &Point3::origin()).is_some();
        Traced {
            field,
            per_width: 1.0 / width,
            years,
            pith: given.map_or(guess, |[near, _]| near),
            wander,
            pith_given: given.is_some(),
            without_line: (!line).then_some(if sapwood { ALL } else { -ALL }),
            between,
        }
    }

    #[inline(always)]
    fn off_pith(&self, at: &Point3<f64>) -> Vector2<f64> {
        let pith = self.pith + self.wander * held(at.z);
        Vector2::new(held(at.x) - pith.x, held(at.y) - pith.y)
    }

    /// What changes slowly there: the model between the ends too.
    #[inline]
    pub(super) fn slow(&self, at: &Point3<f64>, smooth: &mut Smooth) -> Slow {
        let at = Point3::new(held(at.x), held(at.y), held(at.z));
        Slow { across: self.field.at(&at), ..smooth.at(self.years.seed, &self.off_pith(&at), at.z) }
    }

    /// Where the point lies among the rings.
    #[inline(always)]
    pub(super) fn place(&self, at: &Point3<f64>, slow: &Slow, noise: &mut Along) -> Place {
        let Slow { broad, close, across } = *slow;
        let (from_pith, w, x) = (self.off_pith(at), held(at.z), held(across.at));
        let r = from_pith.norm();
        let steep = across.slope.norm();
        let outward = if steep > 1.0e-9 { across.slope / steep } else { Vector2::zeros() };
        Place {
            from_pith,
            outward,
            r,
            per_r: 1.0 / r.max(1.0e-9),
            w,
            x,
            broad,
            close,
            years: from_year_to_year(noise, self.years.seed, x, self.per_width),
            beyond_heartwood: self.without_line.unwrap_or(across.beyond),
            any_heart: 1.0,
        }
    }

    /// The model between the ends.
    pub(super) fn between(&self) -> &Between {
        &self.between
    }
}

/// The blank's points that are looked at for what holds on the whole: 7 × 7 in each section.
fn grid(between: &Between, w: f64) -> impl Iterator<Item = Point3<f64>> {
    let size = between.ends().size;
    let part = |n: u32| f64::from(n) / 6.0;
    (0..49_u32).map(move |n| Point3::new(size.x * part(n % 7), size.y * part(n / 7), w))
}

/// The least and the greatest distance across the rings within the blank, and a little more.
fn reach(between: &Between, field: &Field) -> [f64; 2] {
    let length = between.ends().length;
    let stations = [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| t * length);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in stations.into_iter().flat_map(|w| grid(between, w)) {
        let at = field.at(&p).at;
        (low, high) = (low.min(at), high.max(at));
    }
    let room = 0.1 * (high - low);
    [low - room, high + room]
}

/// How the figure moves along the grain, mm for each mm: as the given pith does, else across the
/// rings by as much as they move in the mean.
fn wander(between: &Between, field: &Field) -> Vector2<f64> {
    let length = between.ends().length;
    if let Some([near, far]) = between.piths() {
        return (far - near) / length;
    }
    let mut sum = Vector2::zeros();
    for p in grid(between, 0.0) {
        let [near, far] = [0.0, length].map(|w| field.at(&Point3::new(p.x, p.y, w)));
        let steep = near.slope.norm_squared();
        if steep > 1.0e-9 {
            sum += near.slope * ((near.at - far.at) / steep);
        }
    }
    sum / 49.0 / length
}

#[cfg(test)]
mod tests;
