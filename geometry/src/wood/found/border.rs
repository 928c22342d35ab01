//! The line between two colours: where heartwood ends. Knows colours smoothed over whole rings.
//!
//! The two colours are told by Otsu's threshold (1979) on the picture smoothed over a ring and a
//! half, along the colour that varies most. Uneven light passes gradually, a border in a step: the
//! border is taken as clear where few pixels lie in the middle half between the two colours, and
//! it is one line that leaves little of either colour on the wrong side.

use super::course::Course;
use super::sheet::Sheet;
use nalgebra::{Point2, Vector3};

/// Smoothing, in σ (a ring is about 5).
const SMOOTHED: f64 = 4.0;
/// At most this share of the pixels lies between the two colours.
const MOST_BETWEEN: f64 = 0.2;
/// The two colours differ at least by so much (of the range of a byte).
const LEAST_STEP: f32 = 0.04;
/// Each colour covers at least this share.
const LEAST_PART: f64 = 0.04;
/// The longest line is at least this share of all lines between the colours.
const ONE_LINE: f64 = 0.7;

/// The border, in pixels; none where there is none that is clear.
pub(super) fn heartwood(channels: &[Sheet; 3], course: &Course, scale: f64) -> Option<Vec<Point2<f32>>> {
    let smooth = [0, 1, 2].map(|n| channels[n].smooth(SMOOTHED * scale));
    let along = principal(&smooth)?;
    let [r, g, b] = &smooth;
    let part = r.with(g, |r, g| along.x * r + along.y * g).with(b, |rest, b| rest + along.z * b);
    let (low, high) = two_levels(&part)?;
    let (step, middle) = (high - low, 0.5 * (low + high));
    let between = part.values.iter().filter(|v| (**v - middle).abs() < 0.25 * step).count();
    let above = part.values.iter().filter(|v| **v > middle).count() as f64 / part.values.len() as f64;
    if step < LEAST_STEP
        || between as f64 > MOST_BETWEEN * part.values.len() as f64
        || !(LEAST_PART..=1.0 - LEAST_PART).contains(&above)
    {
        return None;
    }
    let mut lines = contours(&part, middle);
    let all: f64 = lines.iter().map(|line| line.len() as f64).sum();
    lines.sort_by_key(|line| std::cmp::Reverse(line.len()));
    let line = lines.into_iter().next().filter(|line| line.len() as f64 >= ONE_LINE * all)?;
    Some(one_way(line, course))
}

/// The same way as the rings: outward on the right hand.
fn one_way(mut line: Vec<Point2<f32>>, course: &Course) -> Vec<Point2<f32>> {
    let turn = |pair: &[Point2<f32>]| {
        let (way, (a, b)) = (pair[1] - pair[0], course.at(pair[0].x, pair[0].y));
        a * way.y - b * way.x
    };
    if line.windows(2).map(turn).sum::<f32>() < 0.0 {
        line.reverse();
    }
    line
}

/// The direction in which the colours vary most.
fn principal(channels: &[Sheet; 3]) -> Option<Vector3<f32>> {
    let means = [0, 1, 2].map(|n| channels[n].mean() as f32);
    let mut square = nalgebra::Matrix3::<f64>::zeros();
    for n in 0..channels[0].values.len() {
        let v = Vector3::from_fn(|c, _| f64::from(channels[c].values[n] - means[c]));
        square += v * v.transpose();
    }
    let parts = square.symmetric_eigen();
    let largest = parts.eigenvalues.imax();
    let along = parts.eigenvectors.column(largest).map(|x| x as f32);
    (parts.eigenvalues[largest] > 0.0 && along.iter().all(|x| x.is_finite())).then(|| along.into_owned())
}

/// The means below and above Otsu's threshold.
fn two_levels(sheet: &Sheet) -> Option<(f32, f32)> {
    let mut values: Vec<f32> = sheet.values.iter().copied().step_by(1 + sheet.values.len() / 50_000).collect();
    values.sort_by(f32::total_cmp);
    let total: f64 = values.iter().map(|v| f64::from(*v)).sum();
    let (mut below, mut best) = (0.0, None);
    for (n, v) in values.iter().enumerate().take(values.len() - 1) {
        below += f64::from(*v);
        let (a, b) = ((n + 1) as f64, (values.len() - n - 1) as f64);
        let (low, high) = (below / a, (total - below) / b);
        let apart = a * b * (high - low) * (high - low);
        if best.is_none_or(|(most, _, _)| apart > most) {
            best = Some((apart, low as f32, high as f32));
        }
    }
    best.map(|(_, low, high)| (low, high))
}

/// Lines along which the sheet has that level: walked from cell to cell (marching squares).
fn contours(sheet: &Sheet, level: f32) -> Vec<Vec<Point2<f32>>> {
    let (w, h) = (sheet.width - 1, sheet.height - 1);
    let above = |x: usize, y: usize| sheet.at(x, y) > level;
    // The sides of a cell: 0 up, 1 right, 2 down, 3 left. The level lies between their corners.
    let crossed = |x: usize, y: usize| -> Vec<usize> {
        let corners = [above(x, y), above(x + 1, y), above(x + 1, y + 1), above(x, y + 1)];
        (0..4).filter(|side| corners[*side] != corners[(side + 1) % 4]).collect()
    };
    let point = |x: usize, y: usize, side: usize| {
        let (a, b) = match side {
            0 => ((x, y), (x + 1, y)),
            1 => ((x + 1, y), (x + 1, y + 1)),
            2 => ((x, y + 1), (x + 1, y + 1)),
            _ => ((x, y), (x, y + 1)),
        };
        let (va, vb) = (sheet.at(a.0, a.1), sheet.at(b.0, b.1));
        let t = ((level - va) / (vb - va)).clamp(0.0, 1.0);
        Point2::new(a.0 as f32 + t * (b.0 as f32 - a.0 as f32), a.1 as f32 + t * (b.1 as f32 - a.1 as f32))
    };
    let beyond = |x: usize, y: usize, side: usize| match side {
        0 => (y > 0).then(|| (x, y - 1)),
        1 => (x + 1 < w).then_some((x + 1, y)),
        2 => (y + 1 < h).then_some((x, y + 1)),
        _ => (x > 0).then(|| (x - 1, y)),
    };
    let mut done = vec![false; w * h];
    let mut lines = Vec::new();
    for (x, y) in (0..h).flat_map(|y| (0..w).map(move |x| (x, y))) {
        let sides = crossed(x, y);
        if done[y * w + x] || sides.len() < 2 {
            continue;
        }
        done[y * w + x] = true;
        let mut line: Vec<Point2<f32>> = Vec::new();
        for start in [sides[0], sides[1]] {
            line.reverse();
            line.push(point(x, y, start));
            let (mut cell, mut side) = ((x, y), start);
            while let Some((i, j)) = beyond(cell.0, cell.1, side).filter(|(i, j)| !done[j * w + i]) {
                done[j * w + i] = true;
                let entered = (side + 2) % 4;
                let Some(out) = crossed(i, j).into_iter().find(|side| *side != entered) else { break };
                line.push(point(i, j, out));
                (cell, side) = ((i, j), out);
            }
        }
        lines.push(line);
    }
    lines
}
