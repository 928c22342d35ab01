//! Where the rings of an end have their centre, from how their lines bend. Knows nothing of years.

use super::line::{EndLine, EndLines, median};
use nalgebra::{Matrix2, Point2, Vector2};

/// The centre is never put farther than so many times the lines' own extent: farther off, rings
/// are straight to the eye.
const FARTHEST: f64 = 12.0;
/// Directions that scatter by less (mean square of the sine, 0 to 1/2) cross nowhere well: then the
/// centre follows from how the direction turns along the rings.
const CROSSING: f64 = 0.03;

/// The point that the lines turn about, lines from the inside out.
///
/// Every stretch of a line stands across a way to the centre; the point nearest to all those ways,
/// by least squares, is taken. Where they are nearly parallel, that point would lie too near; then
/// it lies 1/κ inward, κ the slope of the direction against the way along the rings.
#[must_use]
pub fn centre(lines: &[EndLine]) -> Option<Point2<f64>> {
    let stretches: Vec<(Point2<f64>, Vector2<f64>, f64)> = lines.iter().flat_map(stretches).collect();
    let weight: f64 = stretches.iter().map(|(_, _, long)| long).sum();
    if weight.is_nan() || weight <= 0.0 {
        return None;
    }
    let middle = stretches.iter().fold(Vector2::zeros(), |sum, (p, _, long)| sum + p.coords * *long) / weight;
    let outward = outward(lines)?;
    let mean = stretches.iter().fold(Vector2::zeros(), |sum, (_, n, long)| sum + facing(n, &outward) * *long);
    let mean = mean.try_normalize(1.0e-12)?;
    let aside = Vector2::new(-mean.y, mean.x);
    let scatter: f64 = stretches.iter().map(|(_, n, long)| n.dot(&aside).powi(2) * long).sum::<f64>() / weight;
    let points = lines.iter().flat_map(|line| &line.points);
    let extent = points.map(|p| (p.coords - middle).norm()).fold(0.0, f64::max);
    let crossing = if scatter > CROSSING { nearest_to_all(&stretches) } else { None };
    crossing.or_else(|| {
        let (mut along, mut turned) = (0.0, 0.0);
        for (p, n, long) in &stretches {
            let (t, n) = ((p.coords - middle).dot(&aside), facing(n, &mean));
            along += long * t * t;
            turned += long * t * n.dot(&aside).atan2(n.dot(&mean));
        }
        let bend = turned / along.max(f64::MIN_POSITIVE);
        let radius = if bend > 1.0 / (FARTHEST * extent) { 1.0 / bend } else { FARTHEST * extent };
        Some(Point2::from(middle - mean * radius))
    })
}

/// An end of which only the pith and the heartwood's radius are known, as lines: circles about the
/// pith with the radii that `like` shows about its own, so that both ends show the same years.
/// None where `like` has no pith.
#[must_use]
pub fn circles(pith: Point2<f64>, heartwood: Option<f64>, like: &EndLines) -> Option<EndLines> {
    let own = like.pith?;
    let circle = |radius: f64| -> Vec<Point2<f64>> {
        let angle = |n: u32| std::f64::consts::TAU * f64::from(n) / 96.0;
        (0..=96).map(|n| pith + Vector2::new(angle(n).cos(), angle(n).sin()) * radius).collect()
    };
    let about = |line: &EndLine| {
        let radius = median(&mut line.points.iter().map(|p| (p - own).norm()).collect::<Vec<_>>())?;
        Some(EndLine { name: line.name.clone(), points: circle(radius) })
    };
    let rings = like.rings.iter().map(about).collect::<Option<Vec<EndLine>>>()?;
    let boundary = |radius: f64| EndLine { name: super::HEARTWOOD.to_owned(), points: circle(radius) };
    Some(EndLines { rings, pith: Some(pith), boundaries: heartwood.map(boundary).into_iter().collect() })
}

/// Middle, unit vector across, and length of each stretch of a line.
fn stretches(line: &EndLine) -> impl Iterator<Item = (Point2<f64>, Vector2<f64>, f64)> + '_ {
    line.points.windows(2).filter_map(|pair| {
        let way = pair[1] - pair[0];
        let long = way.norm();
        (long > 0.0).then(|| (nalgebra::center(&pair[0], &pair[1]), Vector2::new(-way.y, way.x) / long, long))
    })
}

fn facing(n: &Vector2<f64>, way: &Vector2<f64>) -> Vector2<f64> {
    if n.dot(way) < 0.0 { -n } else { *n }
}

/// From the first lines toward the last, by the points nearest to each other.
fn outward(lines: &[EndLine]) -> Option<Vector2<f64>> {
    let mut sum = Vector2::zeros();
    for pair in lines.windows(2) {
        for p in &pair[0].points {
            let near = pair[1].points.iter().min_by(|a, b| (*a - p).norm_squared().total_cmp(&(*b - p).norm_squared()));
            sum += near.map_or_else(Vector2::zeros, |q| (q - p).try_normalize(1.0e-12).unwrap_or_default());
        }
    }
    sum.try_normalize(1.0e-12)
}

fn nearest_to_all(stretches: &[(Point2<f64>, Vector2<f64>, f64)]) -> Option<Point2<f64>> {
    let (mut square, mut right) = (Matrix2::zeros(), Vector2::zeros());
    for (p, n, long) in stretches {
        let off = (Matrix2::identity() - n * n.transpose()) * *long;
        square += off;
        right += off * p.coords;
    }
    Some(Point2::from(square.try_inverse()? * right)).filter(|p| p.iter().all(|x| x.is_finite()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arcs(centre: Point2<f64>, from: f64, to: f64) -> Vec<EndLine> {
        let arc = |r: f64| -> Vec<Point2<f64>> {
            let angle = |n: i32| from + (to - from) * f64::from(n) / 40.0;
            (0..=40).map(|n| centre + Vector2::new(angle(n).cos(), angle(n).sin()) * r).collect()
        };
        (0..6).map(|k| EndLine { points: arc(60.0 + 4.0 * f64::from(k)), ..EndLine::default() }).collect()
    }

    #[test]
    fn the_centre_of_arcs_is_found_and_that_of_level_lines_lies_inward() {
        let at = Point2::new(10.0, -50.0);
        for (from, to) in [(0.4, 2.5), (1.3, 1.8), (0.0, 6.2)] {
            let found = centre(&arcs(at, from, to)).unwrap();
            assert!((found - at).norm() < 4.0, "{found}");
        }
        let level = |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(40.0, v)], ..EndLine::default() };
        let found = centre(&[level(1.0), level(4.0), level(7.0)]).unwrap();
        assert!(found.y < -100.0 && (found.x - 20.0).abs() < 1.0, "{found}");
        assert_eq!(centre(&[]), None);
    }
}
