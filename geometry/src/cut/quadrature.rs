//! Adaptive quadrature, for what has no closed form.

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

/// Between two breaks an interval is halved this often at most, so that no integrand makes it run on: what is then
/// left of the bound is a kink's.
const MOST_HALVINGS: usize = 4000;

/// ∫ f over [first, last] of `breaks` (ascending; a kink of f is best told by a break), each component to within
/// `bound` in all by QUADPACK's estimate: with A = ∫|f − mean| and D the two rules' difference, A·min(1, (200 D/A)^1.5).
///
/// f may have a vertical tangent at either end of an interval: x = middle − half·cos θ makes it smooth.
pub(crate) fn integral<const N: usize>(f: &impl Fn(f64) -> [f64; N], breaks: &[f64], bound: f64) -> [f64; N] {
    let mut sum = [0.0; N];
    let parts = breaks.windows(2).filter(|w| w[1] > w[0]).count().max(1) as f64;
    for w in breaks.windows(2).filter(|w| w[1] > w[0]) {
        let (middle, half) = ((w[0] + w[1]) / 2.0, (w[1] - w[0]) / 2.0);
        let smooth = |theta: f64| f(middle - half * theta.cos()).map(|y| y * half * theta.sin());
        add(&mut sum, &over(&smooth, std::f64::consts::PI, bound / parts));
    }
    sum
}

/// ∫ f over [0, to]: intervals are halved until each has its share of the bound.
fn over<const N: usize>(f: &impl Fn(f64) -> [f64; N], to: f64, bound: f64) -> [f64; N] {
    let mut sum = [0.0; N];
    let (mut waiting, mut halvings) = (vec![[0.0, to]], 0);
    while let Some([a, b]) = waiting.pop() {
        let (fine, off) = rules(f, a, b);
        let share = bound * (b - a) / to;
        if halvings >= MOST_HALVINGS || off.iter().all(|off| *off <= share) {
            add(&mut sum, &fine);
        } else {
            halvings += 1;
            let middle = (a + b) / 2.0;
            waiting.extend([[middle, b], [a, middle]]);
        }
    }
    sum
}

/// The finer rule's integral, and the estimate of its error; rounding counts as none.
fn rules<const N: usize>(f: &impl Fn(f64) -> [f64; N], a: f64, b: f64) -> ([f64; N], [f64; N]) {
    let (middle, half) = ((a + b) / 2.0, (b - a) / 2.0);
    let at: Vec<[[f64; N]; 2]> = NODES.iter().map(|x| [f(middle - half * x), f(middle + half * x)]).collect();
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
}
