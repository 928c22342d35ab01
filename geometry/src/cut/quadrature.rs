//! Adaptive quadrature, for what has no closed form.

use std::f64::consts::PI;

/// The nodes of the 15-point rule of Kronrod on [0, 1] (they lie on both sides of 0), its weights, and those of
/// the 7-point rule of Gauss within it: Piessens and others, QUADPACK (1983), `qk15`.
const NODES: [f64; 8] = [
    0.991_455_371_120_812_6,
    0.949_107_912_342_758_5,
    0.864_864_423_359_769_1,
    0.741_531_185_599_394_4,
    0.586_087_235_467_691_1,
    0.405_845_151_377_397_2,
    0.207_784_955_007_898_47,
    0.0,
];
const KRONROD: [f64; 8] = [
    0.022_935_322_010_529_224,
    0.063_092_092_629_978_55,
    0.104_790_010_322_250_18,
    0.140_653_259_715_525_92,
    0.169_004_726_639_267_9,
    0.190_350_578_064_785_4,
    0.204_432_940_075_298_9,
    0.209_482_141_084_727_83,
];
const GAUSS: [f64; 4] =
    [0.129_484_966_168_869_7, 0.279_705_391_489_276_64, 0.381_830_050_505_118_9, 0.417_959_183_673_469_4];

/// Intervals are halved this often at most, so that no integrand makes it run on: what is then left of the bound is a
/// kink's.
const MOST_HALVINGS: usize = 4000;

/// Of so many changes of kind each is a break; more are left to halving.
const MOST_SPLITS: usize = 60;

/// ∫ f over [first, last] of `breaks` (ascending; a kink of f is best told by a break), each component to within
/// `bound` in all by QUADPACK's estimate: with A = ∫|f − mean| and D the two rules' difference, A·min(1, (200 D/A)^1.5).
///
/// f may have a vertical tangent at either end of an interval: x = middle − half·cos θ makes it smooth.
pub(crate) fn integral<const N: usize>(f: &impl Fn(f64) -> [f64; N], breaks: &[f64], bound: f64) -> [f64; N] {
    integral_by_kind(&|x| (0, f(x)), breaks, bound)
}

/// The same for an f that tells of which kind it is at x and is smooth where that stays the same: where a rule's
/// nodes are of two kinds, the place of the change is found by halving, and is a break.
pub(crate) fn integral_by_kind<const N: usize>(
    f: &impl Fn(f64) -> (u64, [f64; N]),
    breaks: &[f64],
    bound: f64,
) -> [f64; N] {
    let whole = breaks.last().unwrap_or(&0.0) - breaks.first().unwrap_or(&0.0);
    let mut sum = [0.0; N];
    let mut parts: Vec<[f64; 2]> = breaks.windows(2).filter(|w| w[1] > w[0]).map(|w| [w[0], w[1]]).rev().collect();
    let (mut splits, mut halvings) = (0, 0);
    while let Some([from, to]) = parts.pop() {
        let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
        let smooth = |theta: f64| {
            let (kind, y) = f(middle - half * theta.cos());
            (kind, y.map(|y| y * half * theta.sin()))
        };
        match over(&smooth, PI, bound * (to - from) / whole, splits < MOST_SPLITS, &mut halvings) {
            Over::All(part) => add(&mut sum, &part),
            Over::Changes(a, b) => {
                let at = change(f, [a, b].map(|theta| middle - half * theta.cos()));
                splits += 1;
                // A sliver that digits can't divide stays whole.
                let least = 2e-15 * (from.abs() + to.abs());
                let pieces = [[from, at], [at, to]];
                let slivers = pieces.map(|[a, b]| b - a <= least);
                for ([a, b], sliver) in pieces.into_iter().zip(slivers).rev() {
                    if !sliver {
                        parts.push([a, b]);
                    }
                }
                if slivers == [true, true] {
                    add(&mut sum, &over(&smooth, PI, bound, false, &mut halvings).sum());
                }
            }
        }
    }
    sum
}

/// What came of an interval.
enum Over<const N: usize> {
    /// Its integral.
    All([f64; N]),
    /// f changes its kind between two points of it.
    Changes(f64, f64),
}

impl<const N: usize> Over<N> {
    fn sum(self) -> [f64; N] {
        if let Self::All(sum) = self { sum } else { [0.0; N] }
    }
}

/// Between two places of different kinds, one where the kind changes.
fn change<const N: usize>(f: &impl Fn(f64) -> (u64, [f64; N]), [mut a, mut b]: [f64; 2]) -> f64 {
    let kind = f(a).0;
    for _ in 0..60 {
        let middle = (a + b) / 2.0;
        if f(middle).0 == kind {
            a = middle;
        } else {
            b = middle;
        }
    }
    b
}

/// ∫ f over [0, to]: intervals are halved until each has its share of the bound.
fn over<const N: usize>(
    f: &impl Fn(f64) -> (u64, [f64; N]),
    to: f64,
    bound: f64,
    by_kind: bool,
    halvings: &mut usize,
) -> Over<N> {
    let mut sum = [0.0; N];
    let mut waiting = vec![[0.0, to]];
    while let Some([a, b]) = waiting.pop() {
        let nodes = nodes(f, a, b);
        if let Some([a, b]) = nodes.change.filter(|_| by_kind) {
            return Over::Changes(a, b);
        }
        let (fine, off) = rules(&nodes.at, (b - a) / 2.0);
        let share = bound * (b - a) / to;
        if *halvings >= MOST_HALVINGS || off.iter().all(|off| *off <= share) {
            add(&mut sum, &fine);
        } else {
            *halvings += 1;
            let middle = (a + b) / 2.0;
            waiting.extend([[middle, b], [a, middle]]);
        }
    }
    Over::All(sum)
}

/// f at the nodes of an interval, in pairs about its middle, and two neighbours of different kinds.
struct Nodes<const N: usize> {
    at: [[[f64; N]; 2]; 8],
    change: Option<[f64; 2]>,
}

fn nodes<const N: usize>(f: &impl Fn(f64) -> (u64, [f64; N]), a: f64, b: f64) -> Nodes<N> {
    let (middle, half) = ((a + b) / 2.0, (b - a) / 2.0);
    let mut kinds = [(0.0, 0); 15];
    let at = std::array::from_fn(|i| {
        let places = [middle - half * NODES[i], middle + half * NODES[i]];
        let (before, y) = f(places[0]);
        let (after, z) = if i == 7 { (before, y) } else { f(places[1]) };
        kinds[i] = (places[0], before);
        kinds[14 - i] = (places[1], after);
        [y, z]
    });
    let change = kinds.windows(2).find(|w| w[0].1 != w[1].1).map(|w| [w[0].0, w[1].0]);
    Nodes { at, change }
}

/// The finer rule's integral over twice `half`, and the estimate of its error; rounding counts as none.
fn rules<const N: usize>(at: &[[[f64; N]; 2]; 8], half: f64) -> ([f64; N], [f64; N]) {
    let (mut fine, mut off) = ([0.0; N], [0.0; N]);
    for n in 0..N {
        let pair = |i: usize| if i == 7 { at[i][0][n] } else { at[i][0][n] + at[i][1][n] };
        let kronrod: f64 = (0..8).map(|i| pair(i) * KRONROD[i]).sum();
        let gauss: f64 = (0..4).map(|i| pair(2 * i + 1) * GAUSS[i]).sum();
        let mean = kronrod / 2.0;
        let spread = |i: usize| {
            let far = (at[i][0][n] - mean).abs();
            KRONROD[i] * if i == 7 { far } else { far + (at[i][1][n] - mean).abs() }
        };
        let around: f64 = (0..8).map(spread).sum();
        let difference = (kronrod - gauss).abs();
        fine[n] = kronrod * half;
        let rounding = difference <= 1e-14 * (around + kronrod.abs());
        if around > 0.0 && !rounding {
            off[n] = half * around * (200.0 * difference / around).powf(1.5).min(1.0);
        }
    }
    (fine, off)
}

fn add<const N: usize>(to: &mut [f64; N], more: &[f64; N]) {
    for (t, m) in to.iter_mut().zip(more) {
        *t += m;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_and_kinks_are_within_the_bound() {
        let [quarter] = integral(&|x: f64| [(1.0 - x * x).sqrt()], &[0.0, 1.0], 1e-13);
        assert!((quarter - std::f64::consts::FRAC_PI_4).abs() < 1e-13, "{quarter}");
        let [kink, odd] = integral(&|x: f64| [(x - 0.3).max(0.0).sqrt(), x.powi(3)], &[-1.0, 1.0], 1e-12);
        assert!((kink - 2.0 / 3.0 * 0.7f64.powf(1.5)).abs() < 1e-11 && odd.abs() < 1e-13, "{kink} {odd}");
    }

    #[test]
    fn a_change_of_kind_is_found_and_costs_few_values() {
        let asked = std::cell::Cell::new(0);
        let f = |x: f64| {
            asked.set(asked.get() + 1);
            if x < 0.3 { (1, [1.0]) } else { (2, [2.0 + (x - 0.3).sqrt()]) }
        };
        let [sum] = integral_by_kind(&f, &[-1.0, 1.0], 1e-13);
        assert!((sum - (1.3 + 1.4 + 2.0 / 3.0 * 0.7f64.powf(1.5))).abs() < 1e-13, "{sum}");
        assert!(asked.get() < 200, "{}", asked.get());
    }
}
