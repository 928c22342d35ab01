//! Ring lines found in a photograph of an end.
//!
//! Must not know of files, cameras or corners: is given a picture that was rectified, its first row
//! along v = V and its first column along u = 0, and answers with lines in the blank's (u, v), mm,
//! as if they had been traced by hand.
//!
//! # How it is made
//! | file | what it does |
//! |---|---|
//! | `sheet` | a picture of one number a pixel, smoothing |
//! | `course` | which way the rings run, and about how wide they are |
//! | `edge` | where a ring begins: lightness and roughness rise abruptly outward |
//! | `follow` | lines followed along the edges |
//! | `order` | which comes after which, from the inside out |
//! | `agree` | two ends' lines without those that only one shows |
//! | `border` | the line between two colours: where heartwood ends |
//!
//! # What it promises
//! - Where there are no rings to be seen (one colour, noise, a picture too small) it says so.
//! - Uneven light, turning and scale change little. Nothing is learned from particular pictures.
//!
//! It does not promise that every year is found: a ring narrower than some 8 pixels of the picture
//! as it is looked at (at most 1024 on its longer side) is not, and a faint one may be passed over,
//! which makes two rings one wide one. That is why [`Found::confidence`] is given, and why lines
//! found should be looked at before the wood is cut.

mod agree;
mod border;
mod course;
mod edge;
mod follow;
mod order;
mod sheet;
#[cfg(test)]
mod tests;

pub use agree::agreeing;

use super::ends::{EndLine, EndLines};
use crate::picture::Picture;
use course::Course;
use edge::Edges;
use follow::Line;
use nalgebra::{Point2, Vector2};
use sheet::Sheet;

/// Pixels of the longer side of the picture as it is looked at.
const MOST: usize = 1024;
/// Fewer pixels on the shorter side show no rings.
const LEAST: usize = 48;
/// σ above which a picture is looked at smaller.
const LARGE: f64 = 8.0;
/// Light is compared with a surrounding of this share of the shorter side.
const SURROUNDING: f64 = 0.125;
/// The same when about how wide rings are is known, in σ: some two rings.
const RING_SURROUNDING: f64 = 8.0;
/// Noise alone has a direction of 0.2 (see `course`); rings begin to be seen from here.
const LEAST_DIRECTION: f64 = 0.35;
const CLEAR_DIRECTION: f64 = 0.6;
/// The size of what is as fine as rings, of the range from black to white: less is what rounding to
/// bytes makes of a smooth picture.
const LEAST_CONTRAST: f64 = 0.003;
/// The share of all lines' length that lies one ring after the other, and how long rings are in
/// the mean, in σ: in cloudy noise lines are many and short.
const LEAST_IN_ORDER: f32 = 0.5;
const LEAST_LONG: f32 = 15.0;
/// The boundary is where the rise begins: the share of the rise at which it is taken, and how far
/// from the steepest place it may lie, in σ.
const FOOT: f32 = 0.3;
const FOOT_REACH: f64 = 1.0;
/// Points are kept this far apart, in σ.
const APART: f64 = 0.7;

/// What was found on an end.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The lines, as if traced: rings from the inside out, and a boundary named "heartwood" where
    /// two colours meet in one clear line.
    pub lines: EndLines,
    /// 0 (there may be nothing) to 1 (rings as clear as they come): how clear the direction of the
    /// rings is, times the share of the lines' length at which an edge is seen.
    pub confidence: f64,
    /// How clearly outward is told from inward; below 0.3 the rings may be in the wrong order.
    pub sense: f64,
}

/// Why no rings were found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoRings {
    /// The picture's bytes don't fit its size, or a pixel's size can't be.
    #[error("the picture or the size of its pixels is not one that can be")]
    NotAPicture,
    /// Too few pixels.
    #[error("the picture is {width} by {height} pixels; rings are looked for from {least} by {least}")]
    TooSmall {
        /// Pixels.
        width: usize,
        /// Pixels.
        height: usize,
        /// What is needed.
        least: usize,
    },
    /// Nothing in the picture runs in a direction of its own.
    #[error(
        "no rings found: nothing in the picture runs in a direction of its own ({seen:.2}; rings have {least:.2} or more). Trace a few, or take the photograph in slanting light, on a freshly cut end"
    )]
    NoDirection {
        /// What was seen.
        seen: f64,
        /// What is needed.
        least: f64,
    },
    /// What there is, is too faint.
    #[error(
        "no rings found: the picture is of one colour, but for {seen:.4} of the range from black to white ({least} is needed)"
    )]
    TooFaint {
        /// What was seen.
        seen: f64,
        /// What is needed.
        least: f64,
    },
    /// Lines were found, and they are short, or don't lie one after the other.
    #[error(
        "no rings found: the lines in the picture don't lie one after the other ({lines} do, with {share:.2} of all length). Trace a few by hand"
    )]
    NoOrder {
        /// How many lie one after the other.
        lines: usize,
        /// Their share of the length of all lines.
        share: f64,
    },
    /// Edges were seen, and fewer than two lines came of them.
    #[error("no rings found: {lines} line could be followed, two are needed. Trace a few by hand")]
    TooFewLines {
        /// How many.
        lines: usize,
    },
}

/// Finds the ring lines of a rectified photograph, `pixel` mm to a pixel.
///
/// # Errors
/// See [`NoRings`].
///
/// ```
/// use quarterturn_geometry::picture::Picture;
/// use quarterturn_geometry::wood::found::find;
///
/// // Latewood darkens toward an edge every 16 pixels, outward being up.
/// let shade = |row: usize| 190 - 5 * ((160 - row) % 16) as u8;
/// let bytes = (0..160).flat_map(|row| vec![shade(row); 3 * 200]).collect();
/// let found = find(&Picture { width: 200, height: 160, bytes }, 0.1).unwrap();
/// assert!(found.lines.rings.len() >= 8);
/// let heights: Vec<f64> = found.lines.rings.iter().map(|line| line.points[3].y).collect();
/// assert!(heights.windows(2).all(|pair| (pair[1] - pair[0] - 1.6).abs() < 0.1), "{heights:?}");
/// ```
pub fn find(picture: &Picture, pixel: f64) -> Result<Found, NoRings> {
    check(picture, pixel)?;
    let mut step = picture.width.max(picture.height).div_ceil(MOST);
    let mut channels = Sheet::channels(picture, step);
    let wide = |channels: &[Sheet; 3]| SURROUNDING * channels[0].width.min(channels[0].height) as f64;
    let (mut direction, mut scale) = course::scale(&flattened(&channels, wide(&channels)));
    while scale > LARGE && channels[0].width.min(channels[0].height) >= 4 * LEAST {
        step *= 2;
        channels = Sheet::channels(picture, step);
        (direction, scale) = course::scale(&flattened(&channels, wide(&channels)));
    }
    let far = course::far_direction(&flattened(&channels, wide(&channels)), scale);
    direction = direction.min(far);
    if direction < LEAST_DIRECTION {
        return Err(NoRings::NoDirection { seen: direction, least: LEAST_DIRECTION });
    }
    let contrast = contrast(&channels, scale);
    if contrast < LEAST_CONTRAST {
        return Err(NoRings::TooFaint { seen: contrast, least: LEAST_CONTRAST });
    }
    let light = flattened(&channels, RING_SURROUNDING * scale);
    let edges = Edges::new(&light, Course::new(&light, scale)).closer(&light);
    let lines = follow::lines(&edges);
    let length = |lines: &[Line]| lines.iter().map(Line::length).sum::<f32>();
    let all = length(&lines);
    let rings = order::rings(lines, &edges.course);
    if rings.len() < 2 {
        return Err(NoRings::TooFewLines { lines: rings.len() });
    }
    let in_order = length(&rings) / all;
    if in_order < LEAST_IN_ORDER || length(&rings) < LEAST_LONG * scale as f32 * rings.len() as f32 {
        return Err(NoRings::NoOrder { lines: rings.len(), share: f64::from(in_order) });
    }
    let seen = mean_by_length(&rings, |line| line.seen);
    let clear = ((direction - 0.2) / (CLEAR_DIRECTION - 0.2)).clamp(0.0, 1.0);
    let foot = foot(&rings, &edges);
    let place = Place { pixel: pixel * step as f64, offset: 0.5, height: pixel * picture.height as f64 };
    let lines = rings.iter().map(|line| place.line(&at_foot(line, &edges.course, foot), scale)).collect();
    let boundaries = border::heartwood(&channels, &edges.course, scale).map(|line| place.line(&line, scale));
    let boundaries = boundaries.map(|line| EndLine { name: "heartwood".into(), ..line }).into_iter().collect();
    let lines = EndLines { rings: lines, pith: None, boundaries };
    Ok(Found { lines, confidence: clear * f64::from(seen), sense: edges.sense })
}

fn check(picture: &Picture, pixel: f64) -> Result<(), NoRings> {
    let (width, height) = (picture.width, picture.height);
    let bytes = width.checked_mul(height).and_then(|n| n.checked_mul(3));
    if bytes != Some(picture.bytes.len()) || !(pixel.is_finite() && pixel > 0.0) {
        return Err(NoRings::NotAPicture);
    }
    // A strip of a hundred to one is no end of a blank, and reduced it would have no pixel.
    if width.min(height) < LEAST || width.min(height) / width.max(height).div_ceil(MOST) < LEAST {
        return Err(NoRings::TooSmall { width, height, least: LEAST });
    }
    Ok(())
}

/// Logarithm of lightness less that of the surrounding, over how much it varies there: uneven light
/// and the step from heartwood to sapwood go, edges stay. What stands out most is cut off, so that
/// such a step doesn't drown the rings beside it.
fn flattened(channels: &[Sheet; 3], surrounding: f64) -> Sheet {
    let light = lightness(channels).map(|v| (v + 0.02).ln());
    let rest = light.with(&light.smooth(surrounding), |v, mean| v - mean);
    // A hundredth is about one step of a byte in the middle of the range.
    let most = 4.0 * median(&rest).max(0.005);
    let cut = rest.map(|v| v.clamp(-most, most));
    let varies = cut.map(|v| v * v).smooth(2.0 * surrounding);
    cut.with(&varies, |v, square| v / (square.sqrt() + 1.0e-3))
}

/// The middle one of the sizes of the values.
fn median(sheet: &Sheet) -> f32 {
    let mut sizes: Vec<f32> = sheet.values.iter().step_by(1 + sheet.values.len() / 20_000).map(|v| v.abs()).collect();
    sizes.sort_by(f32::total_cmp);
    sizes[sizes.len() / 2]
}

fn lightness([r, g, b]: &[Sheet; 3]) -> Sheet {
    r.with(g, |r, g| 0.2126 * r + 0.7152 * g).with(b, |rest, b| rest + 0.0722 * b)
}

/// The size of what is as fine as rings, away from the rim.
fn contrast(channels: &[Sheet; 3], scale: f64) -> f64 {
    let light = lightness(channels);
    let fine = light.smooth(0.5 * scale).with(&light.smooth(2.5 * scale), |a, b| a - b);
    let rim = ((5.0 * scale) as usize).min(fine.width.min(fine.height) / 3);
    Sheet::from_fn(fine.width - 2 * rim, fine.height - 2 * rim, |x, y| fine.at(x + rim, y + rim)).size()
}

fn mean_by_length(lines: &[Line], of: impl Fn(&Line) -> f32) -> f32 {
    let (sum, length) = lines.iter().fold((0.0, 0.0), |(sum, all), l| (sum + of(l) * l.length(), all + l.length()));
    sum / length.max(1.0e-6)
}

/// How far outward of the followed lines (the steepest place) the rise begins, pixels: the same
/// for all, from the mean of what is seen across all of them.
fn foot(lines: &[Line], edges: &Edges) -> f32 {
    const FINE: usize = 8;
    let reach = (FOOT_REACH * edges.course.scale * FINE as f64).round() as i64;
    let mut profile = vec![0.0_f32; 2 * reach as usize + 1];
    for p in lines.iter().flat_map(|line| line.points.iter().step_by(2)) {
        let (a, b) = edges.course.at(p.x, p.y);
        for (n, sum) in profile.iter_mut().enumerate() {
            let d = (n as i64 - reach) as f32 / FINE as f32;
            *sum += edges.seen.between(p.x + d * a, p.y + d * b);
        }
    }
    let middle = reach as usize;
    let low = profile[..=middle].iter().copied().fold(f32::INFINITY, f32::min);
    let high = profile[middle..].iter().copied().fold(f32::NEG_INFINITY, f32::max);
    let level = low + FOOT * (high - low);
    let top = (middle..profile.len()).max_by(|a, b| profile[*a].total_cmp(&profile[*b])).unwrap_or(middle);
    let under = (0..top).rev().find(|n| profile[*n] <= level).unwrap_or(middle);
    (under as i64 - reach) as f32 / FINE as f32
}

fn at_foot(line: &Line, course: &Course, foot: f32) -> Vec<Point2<f32>> {
    let moved = |p: &Point2<f32>| {
        let (a, b) = course.at(p.x, p.y);
        p + Vector2::new(foot * a, foot * b)
    };
    line.points.iter().map(moved).collect()
}

/// From pixels, as looked at, to (u, v).
struct Place {
    pixel: f64,
    offset: f64,
    height: f64,
}

impl Place {
    fn line(&self, points: &[Point2<f32>], scale: f64) -> EndLine {
        let every = ((APART * scale) as usize).max(1);
        let to = |p: &Point2<f32>| {
            let (x, y) = (f64::from(p.x) + self.offset, f64::from(p.y) + self.offset);
            Point2::new(x * self.pixel, self.height - y * self.pixel)
        };
        let last = points.last().filter(|_| points.len() % every != 1 || every == 1);
        EndLine { name: String::new(), points: points.iter().step_by(every).chain(last).map(to).collect() }
    }
}
