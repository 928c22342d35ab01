//! How lines between the ends bend what the ends predict, and how far off it may be.
//!
//! What two ends can't know is a random field over the blank that is zero at both ends (Gaussian
//! process regression: Rasmussen, Williams, *Gaussian Processes for Machine Learning*, 2006,
//! equations 2.23 and 2.24). Lines part-way are measurements of it; its mean is the correction,
//! its variance the uncertainty. Both follow from one covariance:
//!
//! a²·(α + (1 − α) exp(−d²/2ℓ²))·V(t, t′), V = Σ_j j⁻³ sin(jπt) sin(jπt′) / Σ_j j⁻³ sin²(jπ/2)
//!
//! d: distance in the section; t = w / length. The first part bends the whole section at once
//! (the stem's bow), the second only what is near a line; so a long face helps the faces beside it
//! and moves the one across by no more than the bow that it is evidence for.
//!
//! # Where the constants are from
//! Measured on a real log of 4 m (Larsson, Ijiri, Yoshida, Huber, Fredriksson, Broman, Igarashi:
//! "Procedural Texturing of Solid Wood with Knots", ACM Transactions on Graphics 41(4), 2022): how
//! far its outline lies from the straight line between two sections, over all windows of 150, 300
//! and 450 mm. Halfway that was 0.68, 1.53 and 1.91 mm (standard deviation): in proportion to the
//! length, which decays of j⁻³ give. See each constant.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn, Point3};

/// Standard deviation halfway over the blank's length, for wood that doesn't wander (the log:
/// 0.0039 to 0.0047, in the half of its windows that wander least).
const BOW: f64 = 0.0047;
/// The share of its own wander by which wood leaves the straight line besides (the log: 0.15 to
/// 0.19 between the tenth of its windows that wander most and the rest). Weakly known: the log's
/// lower half by itself shows none of it, its upper half 0.22. And the log's pith leaves the
/// straight line about twice as far as its outline: near the pith the band is too narrow.
const BOW_OF_WANDER: f64 = 0.17;
/// α: share of the variance that is common to the section (the log: correlation of the outline
/// with itself an eighth to half way around, −0.02 to 0.27, 0.14 in the mean).
const COMMON: f64 = 0.14;
/// ℓ, in ring widths, while lines are being numbered and nothing is known of it yet.
const FIRST_REACH: f64 = 2.0;
/// ℓ is sought from one ring width upwards, each try this many times the last, to the longest that
/// a section can tell from the common part.
const REACH_STEP: f64 = std::f64::consts::SQRT_2;
/// Sines along the length; the eighth has a five-hundredth of the first one's variance.
const SINES: usize = 8;
/// What a line part-way is good to, in ring widths, waves too short for the sines included.
const TRACED: f64 = 0.05;
/// How many points' worth of evidence the log is about how far wood bends, beside the points of
/// this blank's own lines: about as much as one line that is followed halfway along a blank.
const EXPECTED: f64 = 20.0;
/// Points kept of all lines; the cost goes with the cube. Neighbours on a line say the same.
const MOST_POINTS: usize = 320;

/// The covariance, with its sizes in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wander {
    amplitude: f64,
    reach: f64,
    length: f64,
    noise: f64,
}

impl Wander {
    /// `drift`: how far the rings move across the section from end to end, root mean square.
    pub(super) fn new(length: f64, drift: f64, ring_width: f64) -> Wander {
        Wander {
            amplitude: (BOW * length).hypot(BOW_OF_WANDER * drift),
            reach: FIRST_REACH * ring_width,
            length,
            noise: TRACED * ring_width,
        }
    }

    /// The same with the ℓ under which `points` are likeliest (equation 2.30), between one ring
    /// width and `widest`. It is found from the lines given and from nothing else, because it is
    /// no constant of wood; on the log it was some 25 mm.
    pub(super) fn suited(self, points: &[(Point3<f64>, f64)], widest: f64) -> Wander {
        let mut best = (f64::NEG_INFINITY, self);
        let mut reach = self.reach / FIRST_REACH;
        while reach <= widest && !points.is_empty() {
            let tried = Wander { reach, ..self };
            let likelihood = Bend::new(tried, points).likelihood();
            if likelihood > best.0 {
                best = (likelihood, tried);
            }
            reach *= REACH_STEP;
        }
        best.1
    }

    /// Sines of a station, scaled so that their squares sum to V(t, t).
    fn sines(&self, w: f64) -> [f64; SINES] {
        let t = (w / self.length).clamp(0.0, 1.0);
        let share = |j: usize| ((j + 1) as f64).powi(-3);
        let halfway: f64 = (0..SINES).step_by(2).map(share).sum();
        std::array::from_fn(|j| (share(j) / halfway).sqrt() * ((j + 1) as f64 * std::f64::consts::PI * t).sin())
    }

    fn between(&self, a: &Known, b: &Known) -> f64 {
        let (du, dv) = (a.at.x - b.at.x, a.at.y - b.at.y);
        let near = (-(du * du + dv * dv) / (2.0 * self.reach * self.reach)).exp();
        let along: f64 = a.sines.iter().zip(&b.sines).map(|(x, y)| x * y).sum();
        self.amplitude * self.amplitude * (COMMON + (1.0 - COMMON) * near) * along
    }

    fn known(&self, at: Point3<f64>) -> Known {
        Known { at, sines: self.sines(at.z) }
    }
}

#[derive(Debug, Clone)]
struct Known {
    at: Point3<f64>,
    sines: [f64; SINES],
}

/// The field, given what is known of it.
#[derive(Debug, Clone)]
pub(super) struct Bend {
    wander: Wander,
    known: Vec<Known>,
    factor: Option<Cholesky<f64, Dyn>>,
    weights: DVector<f64>,
    /// Standard deviation of what was measured over what was expected.
    scale: f64,
    /// yᵀK⁻¹y.
    misfit: f64,
}

impl Bend {
    /// `points`: places and how far (mm across the rings) the ends' prediction falls short there.
    /// Every so-manieth is kept where there are too many.
    pub(super) fn new(wander: Wander, points: &[(Point3<f64>, f64)]) -> Bend {
        let every = points.len().div_ceil(MOST_POINTS).max(1);
        let kept: Vec<&(Point3<f64>, f64)> = points.iter().step_by(every).collect();
        let known: Vec<Known> = kept.iter().map(|(at, _)| wander.known(*at)).collect();
        let short = DVector::from_iterator(kept.len(), kept.iter().map(|(_, short)| *short));
        let square = DMatrix::from_fn(known.len(), known.len(), |i, j| {
            let own = if i == j { wander.noise * wander.noise } else { 0.0 };
            wander.between(&known[i], &known[j]) + own
        });
        match Cholesky::new(square).filter(|_| !known.is_empty()) {
            Some(factor) => {
                let weights = factor.solve(&short);
                let misfit = short.dot(&weights);
                let scale = ((EXPECTED + misfit) / (EXPECTED + known.len() as f64)).sqrt();
                Bend { weights, known, wander, factor: Some(factor), scale, misfit }
            }
            None => {
                Bend { wander, known: Vec::new(), factor: None, weights: DVector::zeros(0), scale: 1.0, misfit: 0.0 }
            }
        }
    }

    /// The correction, mm across the rings.
    pub(super) fn at(&self, place: &Point3<f64>) -> f64 {
        let here = self.wander.known(*place);
        self.known
            .iter()
            .zip(self.weights.iter())
            .map(|(known, weight)| self.wander.between(known, &here) * weight)
            .sum()
    }

    /// Standard deviation of what is left, mm: zero at the ends.
    ///
    /// Its size is what the log says for a blank without lines; lines correct it by how far they
    /// were from what was expected of them, (n₀ + yᵀK⁻¹y)/(n₀ + n), the mean of the posterior
    /// variance under an inverse-gamma prior worth n₀ points.
    pub(super) fn deviation(&self, place: &Point3<f64>) -> f64 {
        let here = self.wander.known(*place);
        let prior = self.wander.between(&here, &here);
        let told = self.factor.as_ref().map_or(0.0, |factor| {
            let cross = DVector::from_iterator(
                self.known.len(),
                self.known.iter().map(|known| self.wander.between(known, &here)),
            );
            factor.l_dirty().solve_lower_triangular(&cross).map_or(0.0, |half| half.norm_squared())
        });
        self.scale * (prior - told).max(0.0).sqrt()
    }

    /// Logarithm of how likely the points are (equation 2.30, without its constant): the greater,
    /// the better the ring numbers given to them, and ℓ, go together.
    pub(super) fn likelihood(&self) -> f64 {
        let logarithms = self.factor.as_ref().map_or(0.0, |f| f.l_dirty().diagonal().iter().map(|x| x.ln()).sum());
        -0.5 * self.misfit - logarithms
    }
}
