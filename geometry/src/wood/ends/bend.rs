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
//! far its outline and its pith lie from the straight line between two sections, over all windows
//! of 150, 300 and 450 mm of its **upper half**, all stations between, each over V(t, t). The lower
//! half is what the band is held against (`geometry/tests/log.rs`). See each constant.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn, Point2, Point3};

/// Standard deviation halfway over the blank's length, for wood that doesn't wander, at the outline
/// (the log's upper half; its lower half gives 0.0047 and no share of its wander).
const BOW: f64 = 0.0032;
/// The share of its own wander by which wood leaves the straight line besides (the log's upper half).
const BOW_OF_WANDER: f64 = 0.20;
/// The same over the blank's length at the pith, which wanders more than the outline (the log's
/// upper half; its lower half gives 0.0105).
const BOW_OF_PITH: f64 = 0.0084;
/// From the pith, where it is known, to here the bow passes in a straight line to the outline's,
/// mm: the log's radius. What lies between wasn't measured.
const OUTLINE: f64 = 123.0;
/// α: share of the variance that is common to the section (the log's upper half: correlation of the outline
/// with itself an eighth to half way around, −0.02 to 0.27, 0.16 in the mean).
const COMMON: f64 = 0.16;
/// ℓ, in ring widths, while lines are being numbered and nothing is known of it yet.
const FIRST_REACH: f64 = 2.0;
/// ℓ is sought from one ring width upwards, each try this many times the last, to the longest that
/// a section can tell from the common part.
const REACH_STEP: f64 = std::f64::consts::SQRT_2;
/// Sines along the length; the eighth has a five-hundredth of the first one's variance.
pub(super) const SINES: usize = 8;
/// What a line part-way is good to, in ring widths, waves too short for the sines included.
const TRACED: f64 = 0.05;
/// How many points' worth of evidence the log is about how far wood bends, beside the points of
/// this blank's own lines: half the log, 2 m, holds that many windows of the mean length, 300 mm,
/// side by side. So the band is a Student distribution's, with that many degrees of freedom.
const EXPECTED: f64 = 7.0;
/// Points kept of all lines; the cost goes with the cube. Neighbours on a line say the same.
const MOST_POINTS: usize = 320;

/// The covariance, with its sizes in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wander {
    /// At the outline, or where no pith is known.
    amplitude: f64,
    /// The pith at both ends, where it is known.
    pith: Option<[Point2<f64>; 2]>,
    reach: f64,
    length: f64,
    noise: f64,
}

impl Wander {
    /// `drift`: how far the rings move across the section from end to end, root mean square.
    pub(super) fn new(length: f64, pith: Option<[Point2<f64>; 2]>, drift: f64, ring_width: f64) -> Wander {
        Wander {
            pith,
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

    /// How much each sine counts: the square of it is its share of V halfway.
    fn scales() -> [f64; SINES] {
        let share = |j: usize| ((j + 1) as f64).powi(-3);
        let halfway: f64 = (0..SINES).step_by(2).map(share).sum();
        std::array::from_fn(|j| (share(j) / halfway).sqrt())
    }

    /// Sines of a station, scaled so that their squares sum to V(t, t).
    fn sines(&self, w: f64) -> [f64; SINES] {
        let t = (w / self.length).clamp(0.0, 1.0);
        let scales = Self::scales();
        std::array::from_fn(|j| scales[j] * ((j + 1) as f64 * std::f64::consts::PI * t).sin())
    }

    /// How much two places of a section have in common: α + (1 − α) exp(−d²/2ℓ²).
    fn common(&self, du: f64, dv: f64) -> f64 {
        let near = (-(du * du + dv * dv) / (2.0 * self.reach * self.reach)).exp();
        COMMON + (1.0 - COMMON) * near
    }

    fn between(&self, a: &Known, b: &Known) -> f64 {
        let along: f64 = a.sines.iter().zip(&b.sines).map(|(x, y)| x * y).sum();
        self.common(a.at.x - b.at.x, a.at.y - b.at.y) * along
    }

    /// Standard deviation halfway, at a place.
    pub(super) fn amplitude(&self, at: &Point3<f64>) -> f64 {
        let Some([near, far]) = self.pith else { return self.amplitude };
        let pith = near + (far - near) * (at.z / self.length).clamp(0.0, 1.0);
        let inward = (1.0 - (at.xy() - pith).norm() / OUTLINE).max(0.0);
        let of_pith = (BOW_OF_PITH * self.length).max(self.amplitude);
        self.amplitude + inward * (of_pith - self.amplitude)
    }

    fn known(&self, at: Point3<f64>) -> Known {
        let amplitude = self.amplitude(&at);
        Known { at, sines: self.sines(at.z).map(|sine| amplitude * sine) }
    }
}

#[derive(Debug, Clone)]
struct Known {
    at: Point3<f64>,
    /// Times the amplitude there.
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

    /// The covariance and ℓ, mm; none where no point is known.
    pub(super) fn known(&self) -> Option<(Wander, f64)> {
        (!self.known.is_empty()).then_some((self.wander, self.wander.reach))
    }

    /// F_j at a place of the section: the correction is the amplitude there times Σ_j F_j sin(jπt).
    pub(super) fn layers(&self, place: &Point2<f64>) -> [f64; SINES] {
        let mut sum = [0.0; SINES];
        for (known, weight) in self.known.iter().zip(self.weights.iter()) {
            let common = weight * self.wander.common(known.at.x - place.x, known.at.y - place.y);
            sum.iter_mut().zip(&known.sines).for_each(|(f, sine)| *f += common * sine);
        }
        let scales = Wander::scales();
        std::array::from_fn(|j| sum[j] * scales[j])
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

    /// Half-width of the band that holds 95 % of points, in standard deviations: the quantile of
    /// Student's distribution with as many degrees of freedom as there is evidence, by the expansion
    /// of Abramowitz and Stegun, *Handbook of Mathematical Functions*, 26.7.5 (its first two terms;
    /// 2.357 for 7 degrees, where tables have 2.365).
    pub(super) fn band(&self) -> f64 {
        const Z: f64 = 1.959_964;
        let n = EXPECTED + self.known.len() as f64;
        Z + (Z.powi(3) + Z) / (4.0 * n) + (5.0 * Z.powi(5) + 16.0 * Z.powi(3) + 3.0 * Z) / (96.0 * n * n)
    }

    /// Logarithm of how likely the points are (equation 2.30, without its constant): the greater,
    /// the better the ring numbers given to them, and ℓ, go together.
    pub(super) fn likelihood(&self) -> f64 {
        let logarithms = self.factor.as_ref().map_or(0.0, |f| f.l_dirty().diagonal().iter().map(|x| x.ln()).sum());
        -0.5 * self.misfit - logarithms
    }
}
