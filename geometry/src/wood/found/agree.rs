//! Lines found on two ends of one blank, without those that only one end shows: in a photograph a faint ring may be
//! passed over, or the border of the heartwood be taken for a ring, and the widths then fit nowhere.
//!
//! # Formula
//! With some lines left out at either end, the widths that are left are laid beside each other at every shift. A way
//! to do so scores the scatter of log(width here / width there), times [`DEARER`] for every line left out. The best is
//! taken where every way that matches no line to the same one scores [`LEAST_MARGIN`] times as much or more.

use crate::wood::ends::{EndLine, EndLines, LEAST_MARGIN, LEAST_SHARED, width_between};

/// What one line left out costs: our own choice.
const DEARER: f64 = 1.25;
/// What a width is good to, as a share: half a pixel of 400 to the inch in 2.5 mm on either side.
const WIDTH_FOUND: f64 = 0.025;

/// The lines of two ends that agree; none where no way to match them is clearly the best.
#[must_use]
pub fn agreeing(near: &EndLines, far: &EndLines) -> Option<[EndLines; 2]> {
    let ends = [Gaps::new(&near.rings), Gaps::new(&far.rings)];
    let longest = near.rings.len().max(far.rings.len());
    let most = match longest {
        0..=24 => 3,
        25..=60 => 2,
        61..=150 => 1,
        _ => return None,
    };
    let ways: [Vec<Way>; 2] = [ends[0].ways(most), ends[1].ways(most)];
    let mut best: Option<Laid> = None;
    every(&ways, most, |laid| {
        if best.as_ref().is_none_or(|known| laid.score < known.score) {
            best = Some(laid);
        }
    });
    let best = best?;
    let pairs = best.pairs(&ways);
    let mut next = f64::INFINITY;
    every(&ways, most, |laid| {
        if laid.score < next && !laid.pairs(&ways).iter().any(|pair| pairs.contains(pair)) {
            next = laid.score;
        }
    });
    if next < LEAST_MARGIN * best.score {
        return None;
    }
    let kept = |lines: &EndLines, way: &Way| EndLines {
        rings: way.kept.iter().map(|i| lines.rings[*i].clone()).collect(),
        ..lines.clone()
    };
    Some([kept(near, &ways[0][best.ways[0]]), kept(far, &ways[1][best.ways[1]])])
}

/// Widths between lines that are up to four apart.
struct Gaps {
    lines: usize,
    /// Of line i and the ones after it.
    wide: Vec<[Option<f64>; 4]>,
}

/// Some lines of an end, and the logarithms of the widths between them.
struct Way {
    kept: Vec<usize>,
    widths: Vec<Option<f64>>,
    left_out: usize,
}

/// One way to lay the widths of both ends beside each other.
#[derive(Clone, Copy)]
struct Laid {
    ways: [usize; 2],
    shift: i64,
    score: f64,
}

impl Gaps {
    fn new(lines: &[EndLine]) -> Self {
        let gap = |i: usize, n: usize| width_between(&lines[i], lines.get(i + n + 1)?).filter(|w| *w > 0.0);
        let wide = (0..lines.len()).map(|i| std::array::from_fn(|n| gap(i, n).map(f64::ln))).collect();
        Self { lines: lines.len(), wide }
    }

    /// All ways to leave out so many lines at most.
    fn ways(&self, most: usize) -> Vec<Way> {
        let mut out = vec![Vec::new()];
        let mut all = Vec::new();
        while let Some(left) = out.pop() {
            if left.len() < most {
                let from = left.last().map_or(0, |i| i + 1);
                out.extend((from..self.lines).map(|i| [left.clone(), vec![i]].concat()));
            }
            let kept: Vec<usize> = (0..self.lines).filter(|i| !left.contains(i)).collect();
            let widths = kept.windows(2).map(|pair| self.wide[pair[0]][pair[1] - pair[0] - 1]).collect();
            all.push(Way { kept, widths, left_out: left.len() });
        }
        all
    }
}

impl Laid {
    /// Which line is which.
    fn pairs(&self, ways: &[Vec<Way>; 2]) -> Vec<(usize, usize)> {
        let [near, far] = [0, 1].map(|end| &ways[end][self.ways[end]].kept);
        let other = |i: usize| far.get(usize::try_from(i as i64 + self.shift).ok()?);
        near.iter().enumerate().filter_map(|(i, line)| Some((*line, *other(i)?))).collect()
    }
}

/// Every way at every shift.
fn every(ways: &[Vec<Way>; 2], most: usize, mut look: impl FnMut(Laid)) {
    for (a, near) in ways[0].iter().enumerate() {
        for (b, far) in ways[1].iter().enumerate().filter(|(_, far)| near.left_out + far.left_out <= most) {
            let least = LEAST_SHARED as i64;
            for shift in least - near.widths.len() as i64..=far.widths.len() as i64 - least {
                let Some(scatter) = scatter(&near.widths, &far.widths, shift) else { continue };
                let score = scatter * DEARER.powi((near.left_out + far.left_out) as i32);
                look(Laid { ways: [a, b], shift, score });
            }
        }
    }
}

/// Scatter of the differences at a shift; none where too few widths lie side by side.
fn scatter(near: &[Option<f64>], far: &[Option<f64>], shift: i64) -> Option<f64> {
    let from = (-shift).max(0) as usize;
    let other = far.get((from as i64 + shift) as usize..)?;
    let (mut count, mut sum, mut squares) = (0, 0.0, 0.0);
    for (a, b) in near.get(from..)?.iter().zip(other) {
        if let (Some(a), Some(b)) = (a, b) {
            let gap = a - b;
            (count, sum, squares) = (count + 1, sum + gap, squares + gap * gap);
        }
    }
    if count < LEAST_SHARED {
        return None;
    }
    let n = count as f64;
    let spread = ((squares - sum * sum / n) / (n - 1.0)).max(0.0);
    Some((spread + WIDTH_FOUND * WIDTH_FOUND).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Point2;

    const LAYERS: [f64; 16] =
        [0.0, 2.1, 5.1, 6.3, 8.9, 11.1, 12.2, 15.3, 17.7, 20.2, 22.0, 24.9, 26.1, 29.0, 30.3, 33.9];

    fn end(lines: &[usize]) -> EndLines {
        let line = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() };
        EndLines { rings: lines.iter().map(|n| line(LAYERS[*n])).collect(), ..EndLines::default() }
    }

    fn heights(lines: &EndLines) -> Vec<f64> {
        lines.rings.iter().map(|line| line.points[0].y).collect()
    }

    #[test]
    fn what_one_end_lacks_is_left_out_at_the_other() {
        let (near, far) = (end(&[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]), end(&[1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12]));
        let [near, far] = agreeing(&near, &far).unwrap();
        assert_eq!(heights(&near)[1..], heights(&far)[..heights(&near).len() - 1]);
        assert!(!heights(&near).contains(&LAYERS[7]));
    }

    #[test]
    fn rings_alike_agree_nowhere() {
        let even = |from: i32| {
            let line = |n: i32| {
                let v = f64::from(from) + 2.0 * f64::from(n);
                EndLine { points: vec![Point2::new(0.0, v), Point2::new(50.0, v)], ..EndLine::default() }
            };
            EndLines { rings: (0..12).map(line).collect(), ..EndLines::default() }
        };
        assert!(agreeing(&even(0), &even(1)).is_none());
        assert!(agreeing(&even(0), &EndLines::default()).is_none());
    }
}
