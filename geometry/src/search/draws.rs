//! The wood as it may also be, and which ranks outlive that.
//!
//! Where a line lies in the wood is known to some millimetres only. A [`Draw`] shifts the figure of every blank across
//! the grain by a random amount that changes slowly along it; drawing often shows which of two lay-ups is really
//! better. The figure never changes its shape within a section: that is the model's simplification.

use super::costs::Laid;
use super::edges::Edges;
use super::measures::Weights;
use crate::stock::{Blank, LaidBlank, Panel, Seen};
use crate::wood::Figure;
use nalgebra::{Point3, Vector2};

/// One draw: everything in it follows from the seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draw {
    seed: u64,
}

/// What the leader must win, of all draws, to lead.
pub const FOUR_FIFTHS: f64 = 0.8;

impl Draw {
    /// Distance along the grain over which shifts are independent, mm (our own choice: about three strips).
    pub const ALONG: f64 = 100.0;

    /// The draw of this seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self { seed }
    }

    /// Half-width of the band that holds the figure's true place in 95 of 100, mm, at w of a blank.
    ///
    /// Where its ends were traced it is what the model between them says in the middle of the section
    /// ([`Figure::half_width`]), from rings to mm by how close they lie there. Else it is our own assumption. Both ends
    /// described: 1 mm there, 2 mm halfway. One: 1 mm at the near end and 1 mm more for each 100 mm. Neither: 10 mm.
    #[must_use]
    pub fn half_width(blank: &Blank, w: f64) -> f64 {
        let length = blank.size.length.mm().max(1.0);
        let w = w.clamp(0.0, length);
        let assumed = match blank.seen {
            Seen::BothEnds => 1.0 + 4.0 * (w / length) * (1.0 - w / length),
            Seen::OneEnd => 1.0 + w / 100.0,
            Seen::Nothing => 10.0,
        };
        let middle = Point3::new(blank.size.width.mm() / 2.0, blank.size.thickness.mm() / 2.0, w);
        modelled(&blank.figure, &middle).unwrap_or(assumed)
    }

    /// How far the figure of a blank (by panel and place in it) is shifted at w, mm along u and v: normal, with
    /// 1/1.96 of the half-width as its standard deviation either way.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub fn shift(&self, panel: usize, place: usize, blank: &Blank, w: f64) -> Vector2<f64> {
        let at = (w / Self::ALONG).clamp(-1e6, 1e6);
        let (knot, t) = (at.floor(), at - at.floor());
        let normal = |further: f64, axis: u64| {
            let key = [panel as u64, place as u64, (knot + further) as i64 as u64, axis];
            normal(key.iter().fold(self.seed, |hash, part| mixed(hash ^ part)))
        };
        // Independent at the knots, and as wide between them.
        let per = 1.0 / (t * t + (1.0 - t) * (1.0 - t)).sqrt();
        let wide = Self::half_width(blank, w) / 1.96 * per;
        Vector2::new(0, 1).map(|axis| ((1.0 - t) * normal(0.0, axis) + t * normal(1.0, axis)) * wide)
    }

    /// How far each of a panel's blanks is shifted at station z, in its own u and v.
    pub(super) fn shifts(&self, number: usize, panel: &Panel, z: f64) -> Vec<Vector2<f64>> {
        let shift = |(place, laid): (usize, &LaidBlank)| {
            let own = laid.turn.own(laid.blank.size, Point3::new(0.0, 0.0, z - laid.start.mm()));
            self.shift(number, place, &laid.blank, own.z)
        };
        panel.blanks.iter().enumerate().map(shift).collect()
    }
}

/// The point whose wood is at `at` of blank `place` where the blanks are shifted so; no shifts are none.
pub(super) fn moved(shifts: &[Vector2<f64>], place: usize, at: Point3<f64>) -> Point3<f64> {
    shifts.get(place).map_or(at, |shift| Point3::new(at.x - shift.x, at.y - shift.y, at.z))
}

/// The half-width that the model between traced ends gives, mm; held to half a metre.
fn modelled(figure: &Figure, at: &Point3<f64>) -> Option<f64> {
    /// Between the points that the rings' closeness is taken from, mm.
    const STEP: f64 = 0.5;
    figure.between()?;
    let rise = |dx: f64, dy: f64| {
        let ring = |sign: f64| figure.ring(&Point3::new(at.x + sign * dx, at.y + sign * dy, at.z));
        (ring(1.0) - ring(-1.0)) / (2.0 * STEP)
    };
    let wide = figure.half_width(at) / rise(STEP, 0.0).hypot(rise(0.0, STEP));
    wide.is_finite().then(|| wide.clamp(0.0, 500.0))
}

/// SplitMix64's step and output (Steele, Lea, Flood, *Fast splittable pseudorandom number generators*, OOPSLA 2014).
const fn mixed(state: u64) -> u64 {
    let z = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Twelve uniform numbers less six: of mean 0 and variance 1, nearly normal, and the same on every machine.
fn normal(seed: u64) -> f64 {
    let mut state = seed;
    let mut sum = -6.0;
    for _ in 0..12 {
        state = mixed(state);
        sum += (state >> 11) as f64 / (1_u64 << 53) as f64;
    }
    sum
}

impl Weights {
    /// What one lay-up costs: the sum over its glue lines, as a table of costs would give it.
    #[must_use]
    pub fn lay_up(self, edges: &Edges, laid: &[Laid]) -> u64 {
        laid.windows(2).map(|pair| u64::from(self.cost(edges, pair[0], pair[1]))).sum()
    }
}

/// Which lay-ups are tied with the leader: those that it beats (costs less than) in fewer than four fifths of the
/// draws. `costs` has one list for each draw, a cost for each lay-up, the leader's first. The leader is tied with
/// itself; with no draws, nothing is known and all are tied.
///
/// ```
/// use quarterturn_geometry::search::tied;
/// let draws = [vec![5, 9, 6], vec![5, 9, 4], vec![5, 9, 6], vec![5, 9, 6], vec![7, 8, 6]];
/// assert_eq!(tied(&draws), [true, false, true]);
/// ```
#[must_use]
pub fn tied(costs: &[Vec<u64>]) -> Vec<bool> {
    let lay_ups = costs.iter().map(Vec::len).max().unwrap_or(0);
    let beaten = |i: usize| {
        costs.iter().filter(|draw| matches!((draw.first(), draw.get(i)), (Some(a), Some(b)) if a < b)).count()
    };
    (0..lay_ups).map(|i| (beaten(i) as f64) < FOUR_FIFTHS * costs.len() as f64 || costs.is_empty()).collect()
}
