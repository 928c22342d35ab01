//! The log of the reference folder: how far pith and outline leave the straight line between two sections, and
//! whether the stated band holds them.
//!
//! Larsson, Ijiri, Yoshida, Huber, Fredriksson, Broman, Igarashi: "Procedural Texturing of Solid Wood with Knots", ACM
//! Transactions on Graphics 41(4), 2022, doi 10.1145/3528223.3530081. The data are read where they are and never copied.
//! Millimetres, and 10 mm from section to section, are inferred by that folder's README.

use nalgebra::{Point2, Point3, Vector2};
use quarterturn_geometry::wood::ends::{Between, EndLine, EndLines, Ends};
use std::path::{Path, PathBuf};

/// From section to section, mm.
const STEP: f64 = 10.0;
/// Lengths of the windows, in steps.
const WINDOWS: [usize; 3] = [15, 30, 45];
/// Sections in the lower half.
const HALF: usize = 200;
/// Every so-manieth window, and angles between the points that are looked at, degrees.
const EVERY: usize = 10;
const ANGLE: usize = 15;
/// The corner of the square that holds the lower half, and its side, mm.
const CORNER: [f64; 2] = [44.0, 36.0];
const SIDE: f64 = 272.0;
/// Width of the rings drawn inside the outline, mm, and how many.
const RING: f64 = 5.0;
const RINGS: usize = 12;

/// Where the log is: in the folder that QUARTERTURN_REFERENCE names; none where it names none.
#[must_use]
pub fn folder() -> Option<PathBuf> {
    let folder = PathBuf::from(std::env::var_os("QUARTERTURN_REFERENCE")?).join("log-4m");
    folder.join("Gran_1_pith.json").is_file().then_some(folder)
}

/// Pith and outline, section by section.
pub struct Log {
    pith: Vec<[f64; 3]>,
    /// About the pith, one a degree.
    radii: Vec<Vec<f64>>,
}

/// How the band did over all windows.
#[derive(Debug, Clone)]
pub struct Held {
    /// "pith" or "outline".
    pub of: &'static str,
    /// Share of the points within the band.
    pub covered: f64,
    /// Mean half-width, mm.
    pub half_width: f64,
    /// Mean error, mm.
    pub error: f64,
    /// 90th percentile of the error, mm.
    pub ninetieth: f64,
}

impl Log {
    /// Reads the log.
    ///
    /// # Errors
    /// Where a file can't be read.
    pub fn read(folder: &Path) -> Result<Log, String> {
        let text = |name: &str| {
            let file = folder.join(name);
            std::fs::read_to_string(&file).map_err(|e| format!("{}: {e}", file.display()))
        };
        let wrong = |e: serde_json::Error| format!("the log: {e}");
        let pith: Vec<[f64; 3]> = serde_json::from_str(&text("Gran_1_pith.json")?).map_err(wrong)?;
        let radii: Vec<Vec<f64>> = serde_json::from_str(&text("Gran_1_radii.json")?).map_err(wrong)?;
        if pith.len() < HALF || radii.len() < HALF || radii.iter().any(|r| r.len() != 360) {
            return Err("the log is shorter than it should be".to_owned());
        }
        Ok(Log { pith, radii })
    }

    /// The band on the lower half: pith, then outline.
    ///
    /// # Errors
    /// Where two sections can't be joined.
    pub fn lower_half(&self) -> Result<[Held; 2], String> {
        let (mut pith, mut outline) = (Vec::new(), Vec::new());
        for steps in WINDOWS {
            for first in (0..HALF - steps).step_by(EVERY) {
                let wood = self.window(first, steps)?;
                for step in 1..steps {
                    let (at, w) = (first + step, step as f64 * STEP);
                    outline.extend((0..360).step_by(ANGLE).map(|angle| self.of_outline(&wood, at, w, angle)));
                    pith.extend(self.of_pith(&wood, [first, at, first + steps], w));
                }
            }
        }
        Ok([held("pith", &mut pith), held("outline", &mut outline)])
    }

    fn middle(&self, section: usize) -> Point2<f64> {
        let [x, y, _] = self.pith[section];
        Point2::new(x - CORNER[0], y - CORNER[1])
    }

    fn place(&self, section: usize, angle: usize, inward: f64) -> Point2<f64> {
        let (sin, cos) = (angle as f64).to_radians().sin_cos();
        self.middle(section) + (self.radii[section][angle] - inward) * Vector2::new(cos, sin)
    }

    fn end(&self, section: usize) -> EndLines {
        // Open, as an arc is: the last point isn't the first one again.
        let ring = |n: usize| EndLine {
            name: format!("{n}"),
            points: (0..360)
                .step_by(3)
                .map(|angle| self.place(section, angle, RING * (RINGS - 1 - n) as f64))
                .collect(),
        };
        EndLines { rings: (0..RINGS).map(ring).collect(), pith: Some(self.middle(section)), boundaries: Vec::new() }
    }

    fn window(&self, first: usize, steps: usize) -> Result<Between, String> {
        let ends = Ends {
            size: Vector2::new(SIDE, SIDE),
            length: steps as f64 * STEP,
            near: self.end(first),
            far: self.end(first + steps),
            ..Ends::default()
        };
        ends.join().map_err(|refused| refused.to_string())
    }

    /// Error across the rings and half-width, mm, at one point of the outline.
    fn of_outline(&self, wood: &Between, section: usize, w: f64, angle: usize) -> [f64; 2] {
        let p = self.place(section, angle, 0.0);
        let at = Point3::new(p.x, p.y, w);
        // Widths of the drawn rings: what they are, whatever the calendar made of them.
        let [inner, outer] = [0.5, 0.0].map(|inward| {
            let p = self.place(section, angle, inward);
            wood.ring(&Point3::new(p.x, p.y, w))
        });
        let width = 0.5 / (outer - inner).abs().max(1.0e-9);
        [(wood.ring(&at) - (RINGS - 1) as f64).abs() * width, wood.half_width(&at) * width]
    }

    /// The pith's error in x and in y, each with the band beside the straight line, mm.
    fn of_pith(&self, wood: &Between, [first, at, last]: [usize; 3], w: f64) -> [[f64; 2]; 2] {
        let t = (at - first) as f64 / (last - first) as f64;
        let straight = self.middle(first) + (self.middle(last) - self.middle(first)) * t;
        let band = wood.bend_half_width(&Point3::new(straight.x, straight.y, w));
        let off = self.middle(at) - straight;
        [off.x, off.y].map(|off| [off.abs(), band])
    }
}

fn held(of: &'static str, points: &mut [[f64; 2]]) -> Held {
    let n = points.len() as f64;
    let covered = points.iter().filter(|[error, band]| error <= band).count() as f64 / n;
    let mean = |part: usize| points.iter().map(|p| p[part]).sum::<f64>() / n;
    let (error, half_width) = (mean(0), mean(1));
    points.sort_by(|a, b| a[0].total_cmp(&b[0]));
    Held { of, covered, half_width, error, ninetieth: points[points.len() * 9 / 10][0] }
}
