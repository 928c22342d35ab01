//! The four sides, found to a fraction of a pixel in the full photograph.

use super::NotFound;
use crate::photo::Photograph;

/// Names of the sides that begin at the lower right, lower left, upper left and upper right corner.
const NAMES: [&str; 4] = ["lower", "left", "upper", "right"];
/// A side is looked at in at most so many places.
const PLACES: usize = 160;
/// Of these places, this share must lie on one line.
const ON_THE_LINE: f64 = 0.5;
/// Near the corners, this share of the side's length isn't looked at: the other side disturbs there.
const NEAR_CORNERS: f64 = 0.06;
/// So many samples make a profile across the side.
const SAMPLES: usize = 49;
/// A step from wood to background must be this high, sRGB bytes.
const LEAST_STEP: f64 = 8.0;

/// A straight line: a point and a direction of length 1.
#[derive(Clone, Copy)]
struct Line {
    at: [f64; 2],
    along: [f64; 2],
}

/// Rough corners, good to a few times `coarse` pixels, made exact: lines through the steps along the sides, each time
/// within a narrower window, and where they meet.
pub(super) fn refined(photograph: &Photograph, rough: &[[f64; 2]; 4], coarse: f64) -> Result<[[f64; 2]; 4], NotFound> {
    let mut corners = *rough;
    for window in [4.0 * coarse + 4.0, 2.0 * coarse + 4.0, coarse + 5.0] {
        let mut lines = Vec::with_capacity(4);
        for (i, name) in NAMES.into_iter().enumerate() {
            let line = side(photograph, corners[i], corners[(i + 1) % 4], window);
            lines.push(line.ok_or(NotFound::NoStep(name))?);
        }
        for (i, corner) in corners.iter_mut().enumerate() {
            let meet = crossing(lines[(i + 3) % 4], lines[i]).ok_or(NotFound::NotFourSided)?;
            if distance(meet, rough[i]) > 12.0 * coarse + 12.0 {
                return Err(NotFound::NotFourSided);
            }
            *corner = meet;
        }
    }
    Ok(corners)
}

/// The line of one side. Corners run clockwise as seen: the wood is at the right hand of a walk along it.
fn side(photograph: &Photograph, from: [f64; 2], to: [f64; 2], window: f64) -> Option<Line> {
    let length = distance(from, to);
    let along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    let out = [along[1], -along[0]];
    let places = ((length / 3.0) as usize).clamp(12, PLACES);
    let spacing = length * (1.0 - 2.0 * NEAR_CORNERS) / places as f64;
    let steps: Vec<[f64; 2]> = (0..places)
        .filter_map(|k| {
            let middle = length * NEAR_CORNERS + (k as f64 + 0.5) * spacing;
            let at = [from[0] + along[0] * middle, from[1] + along[1] * middle];
            let off = step(&profile(photograph, at, along, out, spacing, window), window)?;
            Some([at[0] + out[0] * off, at[1] + out[1] * off])
        })
        .collect();
    through(&steps, places, window)
}

/// Colours across a side, from the wood outward over twice the window, each the mean of a few samples along the side.
fn profile(
    photograph: &Photograph,
    at: [f64; 2],
    along: [f64; 2],
    out: [f64; 2],
    spacing: f64,
    window: f64,
) -> [[f64; 3]; SAMPLES] {
    let beside = ((spacing / 1.5) as usize).clamp(1, 5);
    std::array::from_fn(|i| {
        let off = window * (2.0 * i as f64 / (SAMPLES - 1) as f64 - 1.0);
        let mut mean = [0.0; 3];
        for k in 0..beside {
            let shift = spacing * ((k as f64 + 0.5) / beside as f64 - 0.5);
            let place = std::array::from_fn(|axis| at[axis] + out[axis] * off + along[axis] * shift);
            let colour = colour(photograph, place);
            for (sum, part) in mean.iter_mut().zip(colour) {
                *sum += part / beside as f64;
            }
        }
        mean
    })
}

/// Bilinear, in sRGB bytes.
fn colour(photograph: &Photograph, upright: [f64; 2]) -> [f64; 3] {
    let picture = &photograph.stored;
    let place = photograph.upright.stored(upright, [picture.width, picture.height]);
    let held = |place: f64, side: usize| {
        let place = (place - 0.5).clamp(0.0, side as f64 - 1.0);
        let whole = (place as usize).min(side.saturating_sub(2));
        (whole, place - whole as f64)
    };
    let ((x, fx), (y, fy)) = (held(place[0], picture.width), held(place[1], picture.height));
    let at = |dx: usize, dy: usize, c: usize| {
        f64::from(picture.bytes.get(3 * ((y + dy) * picture.width + x + dx) + c).copied().unwrap_or(0))
    };
    std::array::from_fn(|c| {
        (1.0 - fy) * ((1.0 - fx) * at(0, 0, c) + fx * at(1, 0, c)) + fy * ((1.0 - fx) * at(0, 1, c) + fx * at(1, 1, c))
    })
}

/// How far outward of the middle of a profile the step from wood to background is, pixels; none where there is none.
///
/// The profile is seen along the line in colour space from its inner to its outer part; the step is where it changes
/// most over a sixth of the profile, between parabola and peak.
fn step(profile: &[[f64; 3]; SAMPLES], window: f64) -> Option<f64> {
    const THIRD: usize = SAMPLES / 3;
    const REACH: usize = 4;
    let mean = |part: &[[f64; 3]]| -> [f64; 3] {
        std::array::from_fn(|c| part.iter().map(|colour| colour[c]).sum::<f64>() / part.len() as f64)
    };
    let (wood, ground) = (mean(&profile[..THIRD]), mean(&profile[SAMPLES - THIRD..]));
    let way: [f64; 3] = std::array::from_fn(|c| ground[c] - wood[c]);
    let height = way.iter().map(|part| part * part).sum::<f64>().sqrt();
    if height < LEAST_STEP {
        return None;
    }
    let seen: [f64; SAMPLES] =
        std::array::from_fn(|i| profile[i].iter().zip(way).map(|(colour, way)| colour * way).sum::<f64>() / height);
    // A smooth derivative: weighted differences of what lies before and behind.
    let slope = |i: usize| -> f64 { (1..=REACH).map(|k| (REACH + 1 - k) as f64 * (seen[i + k] - seen[i - k])).sum() };
    let places = REACH..SAMPLES - REACH;
    let peak = places.clone().max_by(|a, b| slope(*a).total_cmp(&slope(*b)))?;
    if peak == places.start || peak + 1 == places.end {
        return None;
    }
    let (before, at, behind) = (slope(peak - 1), slope(peak), slope(peak + 1));
    let bend = before - 2.0 * at + behind;
    let part = if bend < 0.0 { 0.5 * (before - behind) / bend } else { 0.0 };
    Some(window * (2.0 * (peak as f64 + part) / (SAMPLES - 1) as f64 - 1.0))
}

/// A line through most of the points: the pair of points whose line has the least median distance to all, then least
/// squares with weights that fall to 0 (J. W. Tukey's biweight).
fn through(points: &[[f64; 2]], places: usize, window: f64) -> Option<Line> {
    let enough = (ON_THE_LINE * places as f64).ceil() as usize;
    if points.len() < enough.max(6) {
        return None;
    }
    let mut best: Option<(f64, Line)> = None;
    let every = points.len().div_ceil(40);
    for i in (0..points.len()).step_by(every) {
        for j in (i + points.len() / 4..points.len()).step_by(every) {
            let Some(line) = by_two(points[i], points[j]) else { continue };
            let spread = spread(points, line);
            if best.is_none_or(|(least, _)| spread < least) {
                best = Some((spread, line));
            }
        }
    }
    let (mut spread_now, mut line) = best?;
    for _ in 0..6 {
        line = weighted(points, line, (4.5 * spread_now).max(0.3))?;
        spread_now = spread(points, line);
    }
    let near = (3.0 * spread_now / 0.6745).clamp(0.5, 0.25 * window);
    let on_it = points.iter().filter(|point| off(line, **point).abs() <= near).count();
    (on_it >= enough).then_some(line)
}

fn by_two(a: [f64; 2], b: [f64; 2]) -> Option<Line> {
    let length = distance(a, b);
    (length > 1.0).then(|| Line { at: a, along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length] })
}

/// The distance of a point from a line, with its side.
fn off(line: Line, point: [f64; 2]) -> f64 {
    (point[0] - line.at[0]) * line.along[1] - (point[1] - line.at[1]) * line.along[0]
}

/// The median distance.
fn spread(points: &[[f64; 2]], line: Line) -> f64 {
    let mut all: Vec<f64> = points.iter().map(|point| off(line, *point).abs()).collect();
    let middle = all.len() / 2;
    *all.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// Least squares of the distances, each weighted by (1 − (d / limit)²)².
fn weighted(points: &[[f64; 2]], line: Line, limit: f64) -> Option<Line> {
    let weight = |point: &[f64; 2]| {
        let part = off(line, *point) / limit;
        if part.abs() < 1.0 { (1.0 - part * part).powi(2) } else { 0.0 }
    };
    let (mut sum, mut at) = (0.0, [0.0; 2]);
    for point in points {
        let w = weight(point);
        (sum, at) = (sum + w, [at[0] + w * point[0], at[1] + w * point[1]]);
    }
    let at = [at[0] / sum, at[1] / sum];
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for point in points {
        let (w, x, y) = (weight(point), point[0] - at[0], point[1] - at[1]);
        (xx, xy, yy) = (xx + w * x * x, xy + w * x * y, yy + w * y * y);
    }
    let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
    let found = Line { at, along: [angle.cos(), angle.sin()] };
    (sum > 0.0 && at.iter().chain(&found.along).all(|part| part.is_finite())).then_some(found)
}

fn crossing(a: Line, b: Line) -> Option<[f64; 2]> {
    let sine = a.along[0] * b.along[1] - a.along[1] * b.along[0];
    let (dx, dy) = (b.at[0] - a.at[0], b.at[1] - a.at[1]);
    let far = (dx * b.along[1] - dy * b.along[0]) / sine;
    (sine.abs() > 1e-6).then(|| [a.at[0] + a.along[0] * far, a.at[1] + a.along[1] * far])
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
