//! Ring lines found in the two end photographs of the wood cube, held against those traced on it.

use nalgebra::{Point2, Vector2};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::wood::ends::{EndLines, Ends};
use quarterturn_geometry::wood::found::find;
use std::path::Path;

/// Pixels on each side of the photographs.
const SIDE: f64 = 256.0;
/// How near counts as found, pixels.
const NEAR: f64 = 2.0;

/// A figure: its name, its value, its goal, whether it holds.
pub type Figure = (String, f64, String, bool);

/// The figures of the README's goals for photographs.
///
/// # Errors
/// Where a file can't be read or no rings are found.
pub fn figures(folder: &Path) -> Result<Vec<Figure>, String> {
    // Near end B: u = x, v = 255 − w is the row; far end D: w is the row.
    let ends = [("B", true), ("D", false)].map(|(name, upside_down)| end(folder, name, upside_down));
    let [near, far] = ends;
    let ((near, near_traced), (far, far_traced)) = (near?, far?);
    let (mut points, mut reached, mut length, mut off) = (0.0, 0.0, 0.0, 0.0);
    for (lines, traced) in [(&near, &near_traced), (&far, &far_traced)] {
        for p in traced.iter().flatten() {
            points += 1.0;
            reached += f64::from(u8::from(lines.rings.iter().any(|line| distance(&line.points, p) <= NEAR)));
        }
        for p in lines.rings.iter().flat_map(|line| walked(&line.points)) {
            length += 1.0;
            off += f64::from(u8::from(!traced.iter().any(|line| distance(line, &p) <= NEAR)));
        }
    }
    // Which traced ring each found line is, to say what the match should be; not used to find it.
    let number = |lines: &EndLines, traced: &[Vec<Point2<f64>>]| -> Option<i64> {
        let first = lines.rings.first()?;
        let middle = first.points[first.points.len() / 2];
        (0..traced.len() as i64)
            .min_by(|a, b| distance(&traced[*a as usize], &middle).total_cmp(&distance(&traced[*b as usize], &middle)))
    };
    let first = number(&near, &near_traced).zip(number(&far, &far_traced)).ok_or("no lines")?;
    let joined = Ends { size: Vector2::new(SIDE, SIDE), length: SIDE, near, far, ..Ends::default() }.join();
    // The files count inward, B's k-th line being D's k + 3rd; found lines are counted outward.
    let wanted = first.1 - 3 - first.0;
    let matched = joined.as_ref().map(|wood| (*wood.matched(), (wood.matched().shift - wanted).abs() as f64));
    let (found, wrong) = (reached / points, off / length);
    let mut figures = vec![
        figure("traced points with a found ring within 2 pixels", found, ">= 0.9", found >= 0.9),
        figure("length farther than 2 pixels from a traced ring", wrong, "<= 0.05", wrong <= 0.05),
    ];
    match matched {
        Ok((matched, off)) => {
            figures.push(figure("match of the two ends, off by", off, "0", off == 0.0));
            figures.push(figure("margin of the match over the next", matched.margin, ">= 1.5", matched.margin >= 1.5));
        }
        Err(refused) => {
            figures.push(figure(&format!("match of the two ends ({refused})"), f64::NAN, "0", false));
        }
    }
    Ok(figures)
}

fn figure(of: &str, value: f64, goal: &str, holds: bool) -> Figure {
    (format!("wood cube, rings found: {of}"), value, goal.into(), holds)
}

type Traced = Vec<Vec<Point2<f64>>>;

/// What is found on an end, and what was traced on it, in the same (u, v) of whole pixels.
fn end(folder: &Path, name: &str, upside_down: bool) -> Result<(EndLines, Traced), String> {
    let mut picture = png(&folder.join(format!("face-{name}.png")))?;
    if upside_down {
        let rows: Vec<u8> = picture.bytes.chunks_exact(3 * picture.width).rev().flatten().copied().collect();
        picture.bytes = rows;
    }
    let found = find(&picture, 1.0).map_err(|refused| refused.to_string())?;
    let text = std::fs::read_to_string(folder.join("ends.csv")).map_err(|e| e.to_string())?;
    let mut traced: Vec<(i64, Vec<Point2<f64>>)> = Vec::new();
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [end, ring, x, w] = cells[..] else { return Err(format!("a row is short: {line}")) };
        let number = |s: &str| s.trim().parse::<f64>().map_err(|_| format!("no number: {s}"));
        if end == name {
            let (ring, p) = (number(ring)? as i64, Point2::new(number(x)? + 0.5, SIDE - 0.5 - number(w)?));
            match traced.iter_mut().find(|(known, _)| *known == ring) {
                Some((_, points)) => points.push(p),
                None => traced.push((ring, vec![p])),
            }
        }
    }
    traced.sort_by_key(|(ring, _)| *ring);
    Ok((found.lines, traced.into_iter().map(|(_, points)| points).collect()))
}

/// Distance from a line of chords.
fn distance(line: &[Point2<f64>], from: &Point2<f64>) -> f64 {
    let to = |pair: &[Point2<f64>]| {
        let way = pair[1] - pair[0];
        let along = ((from - pair[0]).dot(&way) / way.norm_squared().max(1.0e-12)).clamp(0.0, 1.0);
        (from - (pair[0] + way * along)).norm()
    };
    line.windows(2).map(to).fold(f64::INFINITY, f64::min)
}

/// Points a quarter of a pixel apart.
fn walked(line: &[Point2<f64>]) -> Vec<Point2<f64>> {
    let part = |pair: &[Point2<f64>]| {
        let steps = (4.0 * (pair[1] - pair[0]).norm()).ceil().max(1.0) as usize;
        let (start, way) = (pair[0], pair[1] - pair[0]);
        (0..steps).map(move |n| start + way * (n as f64 / steps as f64)).collect::<Vec<_>>()
    };
    line.windows(2).flat_map(part).collect()
}

fn png(file: &Path) -> Result<Picture, String> {
    let told = |e: &dyn std::fmt::Display| format!("{}: {e}", file.display());
    let read = std::fs::File::open(file).map_err(|e| told(&e))?;
    let mut decoder = png::Decoder::new(std::io::BufReader::new(read));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().map_err(|e| told(&e))?;
    let mut bytes = vec![0; reader.output_buffer_size().ok_or_else(|| told(&"too large"))?];
    let info = reader.next_frame(&mut bytes).map_err(|e| told(&e))?;
    let (width, height) = (info.width as usize, info.height as usize);
    let channels = bytes.len() / (width * height).max(1);
    let bytes =
        bytes.chunks_exact(channels.max(1)).flat_map(|p| if channels < 3 { [p[0]; 3] } else { [p[0], p[1], p[2]] });
    Ok(Picture { width, height, bytes: bytes.collect() })
}
