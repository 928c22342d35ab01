//! The patch that is the end, and its rough corners.

use super::NotFound;
use super::ground::Mask;

/// A patch smaller than this share of the photograph is no end.
const LEAST: f64 = 0.004;
/// What is thinner than twice this is cut off before patches are told apart, pixels of the first look.
const THIN: usize = 1;
/// Of the hull, the four-sided figure must hold at least this share.
const FOUR_SIDED: f64 = 0.88;
/// Of the hull, what stands out must fill at least this share.
const FILLED: f64 = 0.6;

/// Corners of the largest four-sided figure in the largest patch, in places of the mask.
pub(super) fn four_sided(mask: &Mask, card: Option<[f64; 2]>) -> Result<[[f64; 2]; 4], NotFound> {
    let thin = eroded(mask);
    let patches = patches(&thin, mask.width);
    let holds_card = |patch: &[usize]| {
        card.is_some_and(|[x, y]| {
            x >= 0.0 && y >= 0.0 && patch.contains(&(y as usize * mask.width + (x as usize).min(mask.width - 1)))
        })
    };
    let least = (LEAST * mask.out.len() as f64) as usize;
    let patch = patches
        .into_iter()
        .filter(|patch| patch.len() > least && !holds_card(patch))
        .max_by_key(Vec::len)
        .ok_or(NotFound::Nothing)?;
    let place = |i: &usize| (i % mask.width, i / mask.width);
    let edge = 1 + THIN;
    if patch.iter().map(place).any(|(x, y)| x < edge || y < edge || x + edge >= mask.width || y + edge >= mask.height) {
        return Err(NotFound::RunsOut);
    }
    let hull = hull(&patch, mask.width);
    let whole = area(&hull);
    if (patch.len() as f64) < FILLED * whole {
        return Err(NotFound::NotFourSided);
    }
    let corners = largest(&hull).ok_or(NotFound::NotFourSided)?;
    if area(&corners) < FOUR_SIDED * whole {
        return Err(NotFound::NotFourSided);
    }
    Ok(corners)
}

/// Without the pixels that touch one that doesn't stand out.
fn eroded(mask: &Mask) -> Vec<bool> {
    let (width, height) = (mask.width, mask.height);
    let inside = |i: usize| {
        let (x, y) = (i % width, i / width);
        let near = |i: usize, side: usize| i.saturating_sub(THIN)..=(i + THIN).min(side - 1);
        near(y, height).all(|y| near(x, width).all(|x| mask.out[y * width + x]))
    };
    (0..mask.out.len()).map(|i| mask.out[i] && inside(i)).collect()
}

/// Pixels that hang together side by side.
fn patches(mask: &[bool], width: usize) -> Vec<Vec<usize>> {
    let mut seen = vec![false; mask.len()];
    let mut patches = Vec::new();
    for start in 0..mask.len() {
        if !mask[start] || seen[start] {
            continue;
        }
        seen[start] = true;
        let mut patch = vec![start];
        let mut next = 0;
        while let Some(&i) = patch.get(next) {
            next += 1;
            let x = i % width;
            let sides = [
                (x > 0).then(|| i - 1),
                (x + 1 < width).then_some(i + 1),
                i.checked_sub(width),
                (i + width < mask.len()).then_some(i + width),
            ];
            for side in sides.into_iter().flatten().filter(|i| mask[*i]) {
                if !std::mem::replace(&mut seen[side], true) {
                    patch.push(side);
                }
            }
        }
        patches.push(patch);
    }
    patches
}

/// The convex hull of the pixels' corners (A. M. Andrew's monotone chain, 1979).
fn hull(patch: &[usize], width: usize) -> Vec<[f64; 2]> {
    let mut ends: std::collections::BTreeMap<usize, (usize, usize)> = std::collections::BTreeMap::new();
    for i in patch {
        let (x, y) = (i % width, i / width);
        let row = ends.entry(y).or_insert((x, x));
        *row = (row.0.min(x), row.1.max(x));
    }
    let mut points: Vec<[f64; 2]> = ends
        .iter()
        .flat_map(|(y, (left, right))| {
            let (y, left, right) = (*y as f64, *left as f64, (*right + 1) as f64);
            [[left, y], [right, y], [left, y + 1.0], [right, y + 1.0]]
        })
        .collect();
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    let chain = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..]
                && turn(a, b, point) <= 0.0
            {
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut hull = chain(&mut points.iter().copied());
    hull.extend(chain(&mut points.iter().rev().copied()));
    hull
}

fn turn(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

fn area(points: &[[f64; 2]]) -> f64 {
    let next = points.iter().cycle().skip(1);
    0.5 * points.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
}

/// The largest four-sided figure whose corners are points of the hull: for each diagonal the farthest point on either
/// side.
fn largest(hull: &[[f64; 2]]) -> Option<[[f64; 2]; 4]> {
    // Few points are enough, and the search grows with their cube.
    let every = hull.len().div_ceil(160).max(1);
    let hull: Vec<[f64; 2]> = hull.iter().copied().step_by(every).collect();
    let count = hull.len();
    let mut best = (0.0, None);
    for i in 0..count {
        for k in i + 2..count {
            let farthest = |mut between: std::ops::Range<usize>| {
                let first = between.next()?;
                let height = |j: usize| turn(hull[i], hull[k], hull[j % count]).abs();
                Some(between.fold(
                    (first, height(first)),
                    |(at, most), j| if height(j) > most { (j, height(j)) } else { (at, most) },
                ))
            };
            if let (Some((one, above)), Some((two, below))) = (farthest(i + 1..k), farthest(k + 1..count + i))
                && above + below > best.0
            {
                best = (above + below, Some([hull[i], hull[one], hull[k], hull[two % count]]));
            }
        }
    }
    best.1
}
