//! The wood cube of the reference folder: how well two ends, and lines on its faces, predict the rest.
//!
//! Sample CN03 of: Larsson, Yamaguchi, Pajouheshgar, Shen, Tojo, Chang, Hansson, Broman, Ijiri, Shamir, Jakob,
//! Igarashi: "The Mokume Dataset and Inverse Modeling of Solid Wood Textures", ACM Transactions on Graphics 44(4),
//! 2025, doi 10.1145/3730874. The data are read where they are and never copied. A pixel is taken as a millimetre.

use nalgebra::{Point2, Point3, Vector2};
use quarterturn_geometry::wood::ends::{Between, Course, EndLine, EndLines, Ends, Promise};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The last row and column of the pictures.
const SIDE: f64 = 255.0;
/// The four long faces.
const FACES: &str = "ACEF";

/// Where the reference data are: the folder that QUARTERTURN_REFERENCE names; none where it names none.
#[must_use]
pub fn folder() -> Option<PathBuf> {
    let folder = PathBuf::from(std::env::var_os("QUARTERTURN_REFERENCE")?).join("wood-cube");
    folder.join("lines.csv").is_file().then_some(folder)
}

/// The traced ends and the true lines, in the blank's frame (u = x, v = 255 − w, grain = v of the file).
pub struct Cube {
    near: EndLines,
    far: EndLines,
    /// Number that the file gives to the first line of the near and of the far end; for counting errors only.
    first: [i64; 2],
    /// By face (one letter, or "slant") and line.
    lines: BTreeMap<(String, i64), Vec<Point3<f64>>>,
}

/// One figure: its name, its value, what it is to stay under (none where it is only reported).
pub type Figure = (String, f64, Option<f64>);

impl Cube {
    /// Reads `ends.csv` and `lines.csv`.
    ///
    /// # Errors
    /// Where a file or a line can't be read.
    pub fn read(folder: &Path) -> Result<Cube, String> {
        let mut ends: BTreeMap<(String, i64), Vec<Point2<f64>>> = BTreeMap::new();
        for row in rows(&folder.join("ends.csv"))? {
            let [x, w] = numbers([&row[2], &row[3]])?;
            ends.entry(key(&row)?).or_default().push(Point2::new(x, SIDE - w));
        }
        let mut lines: BTreeMap<(String, i64), Vec<Point3<f64>>> = BTreeMap::new();
        for row in rows(&folder.join("lines.csv"))? {
            let [x, w, v] = numbers([&row[2], &row[3], &row[4]])?;
            lines.entry(key(&row)?).or_default().push(Point3::new(x, SIDE - w, v));
        }
        // The order of the lines is used, their numbers are not.
        let end = |name: &str| -> (EndLines, i64) {
            let of_end: Vec<_> = ends.iter().filter(|((end, _), _)| end == name).collect();
            let rings = of_end.iter().map(|(_, points)| EndLine { points: (*points).clone(), ..EndLine::default() });
            (EndLines { rings: rings.collect(), ..EndLines::default() }, of_end.first().map_or(0, |((_, k), _)| *k))
        };
        let ((near, a), (far, b)) = (end("B"), end("D"));
        Ok(Cube { near, far, first: [a, b], lines })
    }

    /// The match that the file gives.
    #[must_use]
    pub fn true_shift(&self) -> i64 {
        self.first[0] - self.first[1]
    }

    /// Both ends, and the lines of the faces named by `letters`, kept where `keep` says so.
    ///
    /// # Errors
    /// Where the ends can't be joined.
    pub fn given(&self, letters: &str, keep: impl Fn(&Point3<f64>) -> bool) -> Result<Between, String> {
        let of_faces = self.lines.iter().filter(|((face, _), _)| letters.contains(face.as_str()));
        let courses = of_faces.map(|(_, points)| Course {
            points: points.iter().copied().filter(|p| keep(p)).collect(),
            ..Course::default()
        });
        let ends = Ends {
            size: Vector2::new(SIDE, SIDE),
            length: SIDE,
            near: self.near.clone(),
            far: self.far.clone(),
            courses: courses.filter(|course| !course.points.is_empty()).collect(),
            ..Ends::default()
        };
        ends.join().map_err(|refused| refused.to_string())
    }

    /// Mean error on a long face, rings: each line against the whole number nearest its median.
    #[must_use]
    pub fn on_face(&self, wood: &Between, face: &str, keep: impl Fn(&Point3<f64>) -> bool) -> f64 {
        let mut errors = Vec::new();
        for (_, points) in self.lines.iter().filter(|((name, _), _)| name == face) {
            let mut rings: Vec<f64> = points.iter().filter(|p| inner(p) && keep(p)).map(|p| wood.ring(p)).collect();
            rings.sort_by(f64::total_cmp);
            let Some(high) = rings.get(rings.len() / 2) else { continue };
            let number = (0.5 * (high + rings[(rings.len() - 1) / 2])).round();
            errors.extend(rings.iter().map(|ring| (ring - number).abs()));
        }
        mean(&errors)
    }

    /// Mean distance to the nearest whole number on the slanted cut, raw and less the circular mean.
    #[must_use]
    pub fn on_slant(&self, wood: &Between) -> [f64; 2] {
        let points = self.lines.iter().filter(|((name, _), _)| name == "slant").flat_map(|(_, points)| points);
        let rings: Vec<f64> = points.filter(|p| inner(p)).map(|p| wood.ring(p)).collect();
        let turn = 2.0 * std::f64::consts::PI;
        let (sin, cos) = rings.iter().fold((0.0, 0.0), |(s, c), r| (s + (turn * r).sin(), c + (turn * r).cos()));
        let bias = f64::atan2(sin, cos) / turn;
        [0.0, bias].map(|bias| mean(&rings.iter().map(|r| (r - bias - (r - bias).round()).abs()).collect::<Vec<_>>()))
    }

    /// Share of the faces' points that lie within the stated band, counted with the ring numbers that `told` found
    /// when it was given those lines: rounding the prediction would hide an error of a ring.
    #[must_use]
    pub fn within_band(&self, wood: &Between, told: &Between, letters: &str) -> f64 {
        let lines = self.lines.iter().filter(|((face, _), _)| FACES.contains(face.as_str()));
        let mut within = Vec::new();
        for (((face, _), points), numbered) in lines.zip(told.numbers()) {
            let held = |p: &Point3<f64>| (wood.ring(p) - numbered.number as f64).abs() <= wood.half_width(p);
            if letters.contains(face.as_str()) {
                within.extend(points.iter().filter(|p| inner(p)).map(|p| f64::from(u8::from(held(p)))));
            }
        }
        mean(&within)
    }

    /// The figures of the README's table.
    ///
    /// # Errors
    /// Where the ends can't be joined.
    pub fn figures(&self) -> Result<Vec<Figure>, String> {
        let all = |_: &Point3<f64>| true;
        let (ends, four) = (self.given("", all)?, self.given(FACES, all)?);
        let mut table = Table { figures: Vec::new() };
        table.add("ends", "match, off by", (ends.matched().shift - self.true_shift()).abs() as f64, Some(0.0));
        table.add("ends", "slanted cut", self.on_slant(&ends)[0], Some(0.142));
        table.add("ends", "slanted cut less bias", self.on_slant(&ends)[1], None);
        let alone = self.on_face(&ends, "A", all);
        for (face, goal) in [("A", Some(0.123)), ("F", Some(0.296)), ("C", None), ("E", None)] {
            table.add("ends", face, self.on_face(&ends, face, all), goal);
        }
        for (given, goals) in
            [("E", [("C", 0.18), ("F", 0.11), ("A", alone)].as_slice()), ("C", &[("E", 0.17), ("A", alone)])]
        {
            let wood = self.given(given, all)?;
            let band = |letters: &str| letters.chars().filter(|c| !given.contains(*c)).collect::<String>();
            let held = self.within_band(&wood, &four, &band(FACES));
            table.add(&format!("ends, {given}'s lines"), "other faces' points within the stated band", held, None);
            for (face, goal) in goals {
                table.add(&format!("ends, {given}'s lines"), face, self.on_face(&wood, face, all), Some(*goal));
            }
        }
        table.add("ends, all four faces", "slanted cut", self.on_slant(&four)[0], None);
        table.add("ends, all four faces", "slanted cut less bias", self.on_slant(&four)[1], Some(0.08));
        let halfway = self.given("E", |p| (123.0..=131.0).contains(&p.z))?;
        let rest = self.on_face(&halfway, "E", |p| (p.z - 127.0).abs() > 25.0);
        table.add("ends, E halfway", "the rest of E", rest, Some(0.15));
        table.add("ends", "faces' points within the stated band", self.within_band(&ends, &four, FACES), None);
        table.add("ends, all four faces", "share not shown as single rings", 1.0 - shown(&four), Some(0.5));
        table.add("ends", "share shown as single rings", shown(&ends), None);
        Ok(table.figures)
    }
}

struct Table {
    figures: Vec<Figure>,
}

impl Table {
    fn add(&mut self, given: &str, of: &str, value: f64, goal: Option<f64>) {
        self.figures.push((format!("wood cube, given {given}: {of}"), value, goal));
    }
}

/// Share of the volume that is shown as single rings, on a lattice of 15³ points.
fn shown(wood: &Between) -> f64 {
    let place = |n: u32| SIDE * (f64::from(n) + 0.5) / 15.0;
    let points = (0..15_u32.pow(3)).map(|n| Point3::new(place(n % 15), place(n / 15 % 15), place(n / 225)));
    mean(&points.map(|p| f64::from(u8::from(wood.promise(&p) == Promise::Rings))).collect::<Vec<_>>())
}

fn inner(p: &Point3<f64>) -> bool {
    p.z > 0.15 * SIDE && p.z < 0.85 * SIDE
}

fn mean(numbers: &[f64]) -> f64 {
    numbers.iter().sum::<f64>() / numbers.len() as f64
}

fn rows(file: &Path) -> Result<Vec<Vec<String>>, String> {
    let text = std::fs::read_to_string(file).map_err(|e| format!("{}: {e}", file.display()))?;
    let rows: Vec<Vec<String>> = text.lines().skip(1).map(|l| l.split(',').map(str::to_owned).collect()).collect();
    match rows.iter().position(|row| row.len() < 4) {
        Some(n) => Err(format!("{}: row {} is short", file.display(), n + 2)),
        None => Ok(rows),
    }
}

fn key(row: &[String]) -> Result<(String, i64), String> {
    Ok((row[0].clone(), row[1].parse().map_err(|_| format!("no number: {}", row[1]))?))
}

fn numbers<const N: usize>(texts: [&String; N]) -> Result<[f64; N], String> {
    let mut out = [0.0; N];
    for (place, text) in out.iter_mut().zip(texts) {
        *place = text.trim().parse().map_err(|_| format!("no number: {text}"))?;
    }
    Ok(out)
}
