//! Where a ring ends: the edge at which latewood gives way to the next earlywood. Knows what rings
//! look like, in the plainest way; nothing of lines.
//!
//! # Formula
//! Two things are looked at: how light the wood is, and how rough (the size of what is finer than
//! a ring, by which pores are seen). Both are averaged along the rings by a Gaussian of 2.5σ; then
//! E is the mean over b outside the place less the mean over b inside it, along the direction
//! across the rings.
//!
//! A ring begins abruptly and fades into the next one's edge: walking outward, E has few great
//! values and many small ones of the other sign, so its skewness tells the **sense**. Outward is
//! where lightness (latewood is darker, or ends in a dark line) or roughness (earlywood has the
//! pores) rises abruptly; where pores lie in rings, the edge is where they begin. Roughness counts 1.5 times: light or dark pores can turn the lightness
//! about (seen on one ring-porous wood).

use super::course::Course;
use super::sheet::Sheet;

/// Averaging along the rings, standard deviation in σ, and how far it reaches.
const ALONG: f64 = 2.5;
const REACH: f64 = 4.0;
/// b in σ, where lines are looked for, and where the sense is told.
const SPAN: f64 = 0.9;
const SPAN_OF_SENSE: f64 = 0.5;
/// What counts as fine, in σ.
const FINE: f64 = 0.7;
/// Weight of the roughness.
const ROUGH: f64 = 1.5;
/// How much roughness varies from where on pores are taken to lie in rings, and from where they
/// alone show the edge (drawn: cherry and maple 0.17, ash and oak 0.55 to 0.85; photographed, ring-porous: 0.33 to
/// 0.43).
const SOME_PORES: f64 = 0.24;
const MANY_PORES: f64 = 0.32;
/// The surrounding by which E is brought to a common size, in σ, and the share of the whole.
const SURROUNDING: f64 = 10.0;
const OF_WHOLE: f32 = 0.25;

/// The edges of a picture.
pub(super) struct Edges {
    /// Outward across the rings.
    pub(super) course: Course,
    /// How strongly a ring begins here, in sizes of the whole.
    pub(super) strength: Sheet,
    /// What the strength was taken from: averaged along the rings, rising outward at an edge.
    pub(super) seen: Sheet,
    /// How clearly outward is told from inward: the skewness, weighted.
    pub(super) sense: f64,
    /// Of lightness and of roughness.
    weights: [f32; 2],
}

impl Edges {
    /// `light`: flattened lightness, size about 1.
    pub(super) fn new(light: &Sheet, course: Course) -> Edges {
        let scale = course.scale;
        let (fine, rough) = roughness(light, scale);
        let [light, rough, lines] = averaged(&course, [light, &rough, &fine]);
        let pores = pores(&course, &fine.with(&lines, |v, line| (v - line).abs()));
        let skew = |sheet: &Sheet| rise(&course, sheet, SPAN_OF_SENSE * scale).skew();
        let sense = skew(&light) + ROUGH * skew(&rough);
        let course = if sense < 0.0 { course.reversed() } else { course };
        let weight = |share: f64, sheet: &Sheet| (share / rise(&course, sheet, SPAN * scale).size().max(1.0e-6)) as f32;
        let (a, b) = (weight(1.0 - pores, &light), weight(pores, &rough));
        let seen = light.with(&rough, |l, r| a * l + b * r);
        let strength = evened(&rise(&course, &seen, SPAN * scale), SURROUNDING * scale);
        Edges { course, strength, seen, sense: sense.abs(), weights: [a, b] }
    }

    /// The same edges with the direction taken from the edges themselves.
    pub(super) fn closer(&self, light: &Sheet) -> Edges {
        let course = self.course.closer(&self.strength);
        let [a, b] = self.weights;
        let mixed = light.with(&roughness(light, course.scale).1, |l, r| a * l + b * r);
        let [seen] = averaged(&course, [&mixed]);
        let strength = evened(&rise(&course, &seen, SPAN * course.scale), SURROUNDING * course.scale);
        Edges { course, strength, seen, ..*self }
    }
}

/// What is finer than a ring, and its size.
fn roughness(light: &Sheet, scale: f64) -> (Sheet, Sheet) {
    let fine = light.with(&light.smooth(FINE * scale), |a, b| a - b);
    let size = fine.size().max(1.0e-6) as f32;
    let rough = fine.map(|v| (v / size).abs());
    (fine, rough)
}

/// Whether the wood has pores that lie in rings, 0 to 1: how much the roughness that is no line
/// itself rises and falls across the rings, over its mean.
fn pores(course: &Course, rough: &Sheet) -> f64 {
    let [rough] = averaged(course, [rough]);
    let varies = rise(course, &rough, SPAN * course.scale).size() / rough.mean().max(1.0e-6);
    ((varies - SOME_PORES) / (MANY_PORES - SOME_PORES)).clamp(0.0, 1.0)
}

/// Brought to a common size.
fn evened(sheet: &Sheet, surrounding: f64) -> Sheet {
    let whole = (sheet.size() as f32).max(1.0e-9);
    let local = sheet.map(|v| v * v).smooth(surrounding);
    sheet.with(&local, |v, square| v / ((1.0 - OF_WHOLE) * square + OF_WHOLE * whole * whole).sqrt())
}

/// Both sheets averaged along the rings, walking with them.
fn averaged<const N: usize>(course: &Course, sheets: [&Sheet; N]) -> [Sheet; N] {
    let steps = (REACH * course.scale).round() as usize;
    let weights: Vec<f32> =
        (1..=steps).map(|k| (-0.5 * (k as f64 / (ALONG * course.scale)).powi(2)).exp() as f32).collect();
    let mut out = sheets.map(Clone::clone);
    for y in 0..out[0].height {
        for x in 0..out[0].width {
            let (mut sums, mut weight) = (sheets.map(|s| s.at(x, y)), 1.0);
            for sign in [1.0, -1.0] {
                let (mut i, mut j) = (x as f32, y as f32);
                for share in &weights {
                    let (a, b) = course.at(i, j);
                    (i, j) = (i - sign * b, j + sign * a);
                    if !sheets[0].holds(i, j) {
                        break;
                    }
                    weight += share;
                    for (sum, sheet) in sums.iter_mut().zip(sheets) {
                        *sum += share * sheet.between(i, j);
                    }
                }
            }
            for (sheet, sum) in out.iter_mut().zip(sums) {
                sheet.values[y * sheet.width + x] = sum / weight;
            }
        }
    }
    out
}

/// E: the mean over `span` outside less the mean over `span` inside.
fn rise(course: &Course, sheet: &Sheet, span: f64) -> Sheet {
    let steps = span.round().max(1.0) as usize;
    Sheet::from_fn(sheet.width, sheet.height, |x, y| {
        let (a, b) = (course.across[0].at(x, y), course.across[1].at(x, y));
        let at = |d: f32| sheet.between(x as f32 + d * a, y as f32 + d * b);
        let steps_out = (1..=steps).map(|k| k as f32 - 0.5);
        steps_out.map(|d| at(d) - at(-d)).sum::<f32>() / steps as f32
    })
}
