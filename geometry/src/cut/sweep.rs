//! What an upright bit leaves whose centre runs along a path on a face: every such cut, exactly.

use super::quadrature::integral;
use super::region::{Loop, NEAR, Region};
use super::{Face, Finished, Profile, Rounded};
use nalgebra::{Point2, Point3};
use std::f64::consts::PI;

/// Where the bit's centre goes, in the finished board's X and Y.
#[derive(Clone, Debug, PartialEq)]
pub enum Path {
    /// All over a convex polygon, its corners anti-clockwise: one point is a plunge, two are a straight run.
    Filled(Vec<Point2<f64>>),
    /// Once round a rounded rectangle.
    Round(Rounded),
}

/// A cut from a face: a path, and the bit's profile at its constant depth.
///
/// At the height h above the floor the cut is everything within ρ(h) of the path. Its volume is the integral of that
/// area over h, its surface the integral of that outline's length along the profile, and its floor's area. For a
/// filled polygon of area A₀ and perimeter P₀ (Steiner): A₀ + P₀ρ + πρ² and P₀ + 2πρ. For a closed path of length P:
/// 2Pρ and 2P — Pappus: the bit's section times the way of its centre — less what an inner corner lacks that is
/// tighter than the bit: (4 − π)(ρ − c)₊² and (8 − 2π)(ρ − c)₊, c the path's corner radius.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// Where the bit's centre goes.
    pub path: Path,
    /// The bit's profile.
    pub profile: Profile,
    /// The face it is cut from.
    pub face: Face,
    /// Whether it goes right through: then there is no floor, and the depth is the board's thickness.
    pub through: bool,
}

impl Sweep {
    /// Its volume, mm³: closed form.
    ///
    /// ```
    /// use nalgebra::Point2;
    /// use quarterturn_geometry::cut::{Face, Path, Profile, Rounded, Sweep};
    /// // A groove by a ball nose of radius 5, 5 deep: half a disc, along four sides and four corners of radius 20.
    /// let (low, high) = (Point2::new(15.0, 15.0), Point2::new(285.0, 185.0));
    /// let path = Path::Round(Rounded { low, high, radius: 20.0 });
    /// let groove = Sweep { path, profile: Profile { radius: 5.0, corner: 5.0, depth: 5.0 }, face: Face::Upper, through: false };
    /// let pi = std::f64::consts::PI;
    /// let way = 2.0 * (230.0 + 130.0) + 2.0 * pi * 20.0;
    /// assert!((groove.volume() - pi * 25.0 / 2.0 * way).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        let p = &self.profile;
        match &self.path {
            Path::Filled(corners) => {
                let (area, perimeter) = polygon(corners);
                area * p.depth + perimeter * p.first() + PI * p.second()
            }
            Path::Round(path) => 2.0 * path.perimeter() * p.first() - (4.0 - PI) * p.beyond(path.radius),
        }
    }

    /// ∫ h·(area at h) dh, by quadrature, mm⁴: over the volume it gives the height of the centre above the floor.
    #[must_use]
    pub fn first_moment(&self) -> f64 {
        let p = &self.profile;
        let c = if let Path::Round(path) = &self.path { path.radius } else { 0.0 };
        let corner = p.corner.min(p.depth);
        let breaks = [0.0, p.height_of(c).min(corner), corner, p.depth];
        let [moment] = integral(&|h| [h * self.area_at(p.half_width(h))], &breaks, 1e-13 * self.volume() * p.depth);
        moment
    }

    /// The area of its walls, without its floor, mm²: closed form.
    #[must_use]
    pub fn walls(&self) -> f64 {
        let p = &self.profile;
        match &self.path {
            Path::Filled(corners) => polygon(corners).1 * p.outline() + 2.0 * PI * p.along(),
            Path::Round(path) => 2.0 * path.perimeter() * p.outline() - (8.0 - 2.0 * PI) * p.beyond_along(path.radius),
        }
    }

    /// The area of its flat floor, mm².
    #[must_use]
    pub fn floor(&self) -> f64 {
        if self.through { 0.0 } else { self.area_at(self.profile.flat()) }
    }

    /// How much of its face it takes, mm².
    #[must_use]
    pub fn opening(&self) -> f64 {
        self.area_at(self.profile.at_surface())
    }

    /// The area within ρ of the path.
    fn area_at(&self, rho: f64) -> f64 {
        match &self.path {
            Path::Filled(corners) => {
                let (area, perimeter) = polygon(corners);
                area + perimeter * rho + PI * rho * rho
            }
            Path::Round(path) => 2.0 * path.perimeter() * rho - (4.0 - PI) * (rho - path.radius).max(0.0).powi(2),
        }
    }

    /// The area of all its curved surface, mm²: everything but the floor and upright walls along straight lines.
    #[must_use]
    pub fn curved(&self) -> f64 {
        let p = &self.profile;
        let straight = match &self.path {
            Path::Filled(corners) => polygon(corners).1,
            Path::Round(path) => {
                let both = 2.0 * (path.perimeter() - 2.0 * PI * path.radius);
                // Where the inner corner is sharp its sides are shorter.
                both - 8.0 * (p.radius - path.radius).max(0.0)
            }
        };
        self.walls() - straight * p.upright()
    }

    /// The least radius of curvature of any curved surface of it; those of inner corners that run to a point count
    /// as 0.
    #[must_use]
    pub fn least_radius(&self) -> f64 {
        let p = &self.profile;
        let corner = if p.corner > 0.0 { p.corner } else { f64::INFINITY };
        match &self.path {
            Path::Filled(_) => corner.min(p.radius),
            Path::Round(path) if path.radius > p.at_surface() => corner.min(path.radius - p.at_surface()),
            Path::Round(path) if path.radius <= p.flat() => corner.min(path.radius + p.radius),
            Path::Round(_) => 0.0,
        }
    }

    /// The bound of |V_mesh − V| for a mesh whose chords stay within `tolerance`: ε·A_curved·(1 + ε/r_min).
    ///
    /// A radius under ε counts as ε: no chord lies farther from its arc than the arc's radius.
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        tolerance * self.curved() * (1.0 + tolerance / self.least_radius().max(tolerance))
    }

    /// The level of its floor, Z.
    #[must_use]
    pub fn floor_level(&self, board: &Finished) -> f64 {
        match self.face {
            Face::Upper if self.through => 0.0,
            Face::Upper => board.thickness - self.profile.depth,
            Face::Lower => self.profile.depth,
        }
    }

    /// From which to which Z it cuts.
    #[must_use]
    pub fn levels(&self, board: &Finished) -> [f64; 2] {
        match self.face {
            Face::Upper => [self.floor_level(board), board.thickness],
            Face::Lower => [0.0, self.floor_level(board)],
        }
    }

    /// ρ at a level Z.
    pub(crate) fn half_width_at(&self, z: f64, board: &Finished) -> f64 {
        let floor = self.floor_level(board);
        let h = if self.face == Face::Upper { z - floor } else { floor - z };
        self.profile.half_width(h.clamp(0.0, self.profile.depth))
    }

    /// Everything within ρ of the path.
    pub(crate) fn region(&self, rho: f64) -> Region {
        match &self.path {
            // At the foot of a ball nose a run has no width.
            Path::Filled(corners) if rho <= NEAR && corners.len() < 3 => Region::default(),
            Path::Filled(corners) => Region(vec![Loop::around(corners, rho)]),
            Path::Round(path) => Region(vec![path.inset(-rho).outline(), path.inset(rho).outline().reversed()]),
        }
    }

    /// Everything that it takes of its face, or would.
    pub(crate) fn footprint(&self) -> Region {
        self.region(self.profile.at_surface())
    }

    /// The box that it lies in.
    #[must_use]
    pub fn extent(&self, board: &Finished) -> [Point3<f64>; 2] {
        let rho = self.profile.at_surface();
        let ends = match &self.path {
            Path::Filled(corners) => corners.clone(),
            Path::Round(path) => vec![path.low, path.high],
        };
        let first = ends.first().copied().unwrap_or_default();
        let [low, high] = ends.iter().fold([first, first], |[low, high], p| [low.inf(p), high.sup(p)]);
        let [from, to] = self.levels(board);
        [Point3::new(low.x - rho, low.y - rho, from), Point3::new(high.x + rho, high.y + rho, to)]
    }
}

/// Area and perimeter of a polygon; of two points there and back; of one nothing.
fn polygon(corners: &[Point2<f64>]) -> (f64, f64) {
    let n = corners.len();
    let next = |i: usize| corners[(i + 1) % n];
    let area = (0..n).map(|i| corners[i].coords.perp(&next(i).coords)).sum::<f64>() / 2.0;
    (area.max(0.0), (0..n).map(|i| (next(i) - corners[i]).norm()).sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::quadrature::integral;
    use proptest::prelude::*;

    pub(crate) fn sweep() -> impl Strategy<Value = Sweep> {
        let bit = (1.0..12.0f64, 0.0..=1.0f64, 0.5..15.0f64);
        let path = prop_oneof![
            (10.0..90.0f64, 10.0..90.0f64).prop_map(|(x, y)| Path::Filled(vec![Point2::new(x, y)])),
            (10.0..90.0f64, 10.0..90.0f64, 5.0..90.0f64)
                .prop_map(|(x, y, t)| Path::Filled(vec![Point2::new(x, y), Point2::new(x + t, y + 0.3 * t)])),
            (5.0..90.0f64, 5.0..30.0f64).prop_map(|(t, m)| Path::Filled(vec![
                Point2::new(10.0, 20.0),
                Point2::new(10.0 + t, 20.0),
                Point2::new(10.0 + t, 20.0 + m),
                Point2::new(10.0, 20.0 + m)
            ])),
            (60.0..200.0f64, 60.0..200.0f64, 0.0..30.0f64).prop_map(|(l, w, radius)| Path::Round(Rounded {
                low: Point2::new(20.0, 25.0),
                high: Point2::new(20.0 + l, 25.0 + w),
                radius
            })),
        ];
        (bit, path).prop_map(|((radius, share, depth), path)| Sweep {
            path,
            profile: Profile { radius, corner: radius * share, depth },
            face: Face::Upper,
            through: false,
        })
    }

    proptest! {
        /// The closed forms against slices: area and outline of the region at each height, integrated.
        #[test]
        fn volume_and_walls_are_the_integrals_over_the_slices(sweep in sweep()) {
            let p = sweep.profile;
            let slice = |h: f64| sweep.region(p.half_width(h)).measures();
            let c = if let Path::Round(path) = &sweep.path { path.radius } else { 0.0 };
            let breaks = [0.0, p.height_of(c).min(p.corner.min(p.depth)), p.corner.min(p.depth)];
            let upright = slice(p.depth);
            let volume = integral(&|h| [slice(h).area], &breaks, 1e-12 * sweep.volume())[0] + if p.depth > p.corner { upright.area * p.upright() } else { 0.0 };
            prop_assert!((sweep.volume() - volume).abs() <= 1e-10 * volume, "{} for {volume}", sweep.volume());
            // Along the arc: h = r(1 − cos α), ds = r dα.
            let r = p.corner;
            let turn = |h: f64| if r > 0.0 { (1.0 - h / r).clamp(-1.0, 1.0).acos() } else { 0.0 };
            let arcs = breaks.map(turn);
            let walls = integral(&|a| [slice(r * (1.0 - a.cos())).length * r], &arcs, 1e-11 * sweep.walls())[0] + upright.length * p.upright();
            prop_assert!((sweep.walls() - walls).abs() <= 1e-9 * walls, "{} for {walls}", sweep.walls());
            prop_assert!((sweep.opening() - upright.area).abs() <= 1e-10 * upright.area);
        }
    }
}
