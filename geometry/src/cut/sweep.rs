//! What an upright bit leaves whose centre runs along a path on a face: every such cut, exactly.

use super::quadrature::integral;
use super::region::{Loop, NEAR, Piece, Region};
use super::{Arch, Easing, Edge, EdgeFrame, Face, Finished, Profile, Rounded};
use nalgebra::{Point2, Point3};
use std::f64::consts::PI;

/// Where the bit's centre goes, in the finished board's X and Y.
#[derive(Clone, Debug, PartialEq)]
pub enum Path {
    /// All over a convex polygon, its corners anti-clockwise: one point is a plunge, two are a straight run.
    Filled(Vec<Point2<f64>>),
    /// Along an arc.
    Arch(Arch),
    /// Once round a rounded rectangle.
    Round(Rounded),
}

impl Path {
    /// All over a rectangle with sides along X and Y; a straight run where it has no width.
    #[must_use]
    pub fn over(low: Point2<f64>, high: Point2<f64>) -> Self {
        let flat = low.x == high.x || low.y == high.y;
        let (right, left) = (Point2::new(high.x, low.y), Point2::new(low.x, high.y));
        Self::Filled(if flat { vec![low, high] } else { vec![low, right, high, left] })
    }

    /// The least and the greatest of its points.
    #[must_use]
    pub fn extent(&self) -> [Point2<f64>; 2] {
        match self {
            Self::Filled(corners) => {
                let first = corners.first().copied().unwrap_or_default();
                corners.iter().fold([first, first], |[low, high], p| [low.inf(p), high.sup(p)])
            }
            Self::Arch(arch) => arch.extent(),
            Self::Round(path) => [path.low, path.high],
        }
    }

    /// Turned over about X: y becomes `width` − y.
    #[must_use]
    pub fn turned_over(&self, width: f64) -> Self {
        let over = |p: &Point2<f64>| Point2::new(p.x, width - p.y);
        match self {
            // The other way round, so that it stays anti-clockwise.
            Self::Filled(corners) if corners.len() > 2 => Self::Filled(corners.iter().rev().map(over).collect()),
            Self::Filled(corners) => Self::Filled(corners.iter().map(over).collect()),
            Self::Arch(arch) => Self::Arch(Arch { centre: over(&arch.centre), from: -arch.from - arch.turn, ..*arch }),
            Self::Round(path) => {
                let (low, high) =
                    (Point2::new(path.low.x, width - path.high.y), Point2::new(path.high.x, width - path.low.y));
                Self::Round(Rounded { low, high, ..*path })
            }
        }
    }

    /// Everything within ρ of it.
    pub(crate) fn region(&self, rho: f64) -> Region {
        match self {
            // At the foot of a ball nose a run has no width.
            Self::Filled(corners) if rho <= NEAR && corners.len() < 3 => Region::default(),
            Self::Filled(corners) => Region(vec![Loop::around(corners, rho)]),
            Self::Arch(arch) => arch.region(rho),
            Self::Round(path) => {
                let (outer, inner) = (path.inset(-rho).outline(), path.inset(rho));
                // Where the bit reaches the middle from all round, nothing is left there.
                let stands = inner.length() > NEAR && inner.width() > NEAR;
                Region(if stands { vec![outer, inner.outline().reversed()] } else { vec![outer] })
            }
        }
    }

    /// How far a point lies from it.
    #[must_use]
    pub fn distance(&self, p: &Point2<f64>) -> f64 {
        match self {
            Self::Filled(corners) => from_polygon(corners, p),
            Self::Arch(arch) => arch.distance(p),
            Self::Round(path) => path.distance(p),
        }
    }

    /// The area that it covers by itself, and the length of that area's outline: of a run or an arc, there and back.
    fn covers(&self) -> [f64; 2] {
        match self {
            Self::Filled(corners) => {
                let n = corners.len();
                let next = |i: usize| corners[(i + 1) % n];
                let area = (0..n).map(|i| corners[i].coords.perp(&next(i).coords)).sum::<f64>() / 2.0;
                [area.max(0.0), (0..n).map(|i| (next(i) - corners[i]).norm()).sum()]
            }
            Self::Arch(arch) => [0.0, 2.0 * arch.length()],
            Self::Round(path) => [0.0, 2.0 * path.perimeter()],
        }
    }
}

/// A cut from a face: a path, and the bit's profile at its constant depth.
///
/// At the height h above the floor the cut is everything within ρ(h) of the path. Its volume is the integral of that
/// area over h, its surface the integral of that outline's length along the profile, and its floor's area. For a
/// filled polygon of area A₀ and perimeter P₀ (Steiner): A₀ + P₀ρ + πρ² and P₀ + 2πρ. For an arc the same, P₀ twice its
/// length (Pappus, and half a disc at either end). For a closed path of length P: 2Pρ and 2P — Pappus: the bit's section
/// times the way of its centre — less what an inner corner lacks that is tighter than the bit: (4 − π)(ρ − c)₊² and
/// (8 − 2π)(ρ − c)₊, c the path's corner radius.
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
    /// Whether it is a cut at all: it goes down, its bit has room on its path, and its rim fits its wall. Not whether it
    /// lies within its face.
    #[must_use]
    pub fn is_one(&self) -> bool {
        let widest = self.profile.at_surface();
        let has_room = match &self.path {
            Path::Round(path) => path.is_one() && path.inset(widest).is_one(),
            Path::Arch(arch) => arch.takes(widest),
            Path::Filled(corners) => !corners.is_empty(),
        };
        has_room && self.profile.depth > 0.0 && self.profile.rim_fits()
    }

    /// Its volume, mm³: closed form.
    ///
    /// ```
    /// use nalgebra::Point2;
    /// use quarterturn_geometry::cut::{Face, Path, Profile, Rounded, Sweep};
    /// // A groove by a ball nose of radius 5, 5 deep: half a disc, along four sides and four corners of radius 20.
    /// let (low, high) = (Point2::new(15.0, 15.0), Point2::new(285.0, 185.0));
    /// let path = Path::Round(Rounded { low, high, radius: 20.0 });
    /// let groove = Sweep { path, profile: Profile { radius: 5.0, corner: 5.0, depth: 5.0, rim: None }, face: Face::Upper, through: false };
    /// let pi = std::f64::consts::PI;
    /// let way = 2.0 * (230.0 + 130.0) + 2.0 * pi * 20.0;
    /// assert!((groove.volume() - pi * 25.0 / 2.0 * way).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        let (p, [area, outline]) = (&self.profile, self.path.covers());
        let round =
            if let Path::Round(path) = &self.path { (4.0 - PI) * p.beyond(path.radius) } else { -PI * p.second() };
        area * p.depth + outline * p.first() - round
    }

    /// ∫ h·(area at h) dh, by quadrature, mm⁴: over the volume it gives the height of the centre above the floor.
    #[must_use]
    pub fn first_moment(&self) -> f64 {
        let p = &self.profile;
        let c = if let Path::Round(path) = &self.path { path.radius } else { 0.0 };
        let corner = p.corner.min(p.depth);
        let rim = p.depth - p.rim_size();
        let breaks = [0.0, p.height_of(c).min(corner), corner, rim, p.height_of(c).max(rim), p.depth];
        let [moment] = integral(&|h| [h * self.area_at(p.half_width(h))], &breaks, 1e-13 * self.volume() * p.depth);
        moment
    }

    /// The area of its walls, without its floor, mm²: closed form.
    #[must_use]
    pub fn walls(&self) -> f64 {
        let (p, [_, outline]) = (&self.profile, self.path.covers());
        let round = match &self.path {
            Path::Round(path) => (8.0 - 2.0 * PI) * p.beyond_along(path.radius),
            _ => -2.0 * PI * p.along(),
        };
        outline * p.outline() - round
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
        let [area, outline] = self.path.covers();
        let round = match &self.path {
            Path::Round(path) => (4.0 - PI) * (rho - path.radius).max(0.0).powi(2),
            _ => -PI * rho * rho,
        };
        area + outline * rho - round
    }

    /// The area of all its curved surface, mm²: everything but the floor, and upright walls and chamfers along straight
    /// lines. A closed path's chamfer counts as curved all round.
    #[must_use]
    pub fn curved(&self) -> f64 {
        let p = &self.profile;
        let chamfer = p.rim.filter(|rim| matches!(rim, Easing::Chamfer(_))).map_or(0.0, Easing::outline);
        let flat = match &self.path {
            Path::Filled(_) => self.path.covers()[1] * (p.upright() + chamfer),
            Path::Arch(_) => 0.0,
            Path::Round(path) => {
                let both = 2.0 * (path.perimeter() - 2.0 * PI * path.radius);
                // Where the inner corner is sharp its sides are shorter.
                (both - 8.0 * (p.radius - path.radius).max(0.0)) * p.upright()
            }
        };
        self.walls() - flat
    }

    /// The least radius of curvature of any curved surface of it; those of inner corners that run to a point count
    /// as 0.
    #[must_use]
    pub fn least_radius(&self) -> f64 {
        let p = &self.profile;
        let rim = if let Some(Easing::RoundOver(r)) = p.rim { r.mm() } else { f64::INFINITY };
        let corner = if p.corner > 0.0 { p.corner.min(rim) } else { rim };
        match &self.path {
            Path::Filled(_) => corner.min(p.radius),
            Path::Arch(arch) => corner.min(p.radius).min(arch.radius - p.at_surface()),
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
        self.path.region(rho)
    }

    /// Everything that it takes of its face, or would.
    pub(crate) fn footprint(&self) -> Region {
        self.region(self.profile.at_surface())
    }

    /// Which parts of a line between two points of its face it takes: from which to which share of the way.
    #[must_use]
    pub fn within(&self, from: Point2<f64>, to: Point2<f64>) -> Vec<[f64; 2]> {
        self.within_at(self.profile.depth, from, to)
    }

    /// What it opens of an edge's side, seen from outside: an outline along the edge from the first of its ends and up from
    /// the lower face, mm; its eased rim is part of it, what the board's own rims take isn't. Empty where it stays within.
    ///
    /// ```
    /// use nalgebra::Point2;
    /// use quarterturn_geometry::cut::{Edge, Face, Finished, Path, Profile, Sweep};
    /// let board = Finished { length: 300.0, width: 200.0, thickness: 40.0 };
    /// // Square-ended, 10 wide and 6 deep, out through the front 50 from the left.
    /// let path = Path::Filled(vec![Point2::new(50.0, 30.0), Point2::new(50.0, -10.0)]);
    /// let profile = Profile { radius: 5.0, corner: 0.0, depth: 6.0, rim: None };
    /// let spout = Sweep { path, profile, face: Face::Upper, through: false };
    /// let notch = spout.notch(Edge::Front, &board);
    /// let (low, high) = notch.iter().fold((Point2::new(1e9, 1e9), Point2::origin()), |(l, h), p| (l.inf(p), h.sup(p)));
    /// assert!((low - Point2::new(45.0, 34.0)).norm() < 1e-9 && (high - Point2::new(55.0, 40.0)).norm() < 1e-9);
    /// assert!(spout.notch(Edge::Back, &board).is_empty());
    /// ```
    #[must_use]
    pub fn notch(&self, edge: Edge, board: &Finished) -> Vec<Point2<f64>> {
        const STEPS: u32 = 48;
        let (long, depth) = (edge.length(board), self.profile.depth);
        let frame = EdgeFrame::of(edge, board);
        let [from, to] = [0.0, long].map(|along| frame.on_board(&Point3::new(along, 0.0, 0.0)).xy());
        let up = |h: f64| if self.face == Face::Upper { board.thickness - depth + h } else { depth - h };
        let level = |i: u32| {
            let h = depth * f64::from(i) / f64::from(STEPS);
            let spans = self.within_at(h, from, to);
            let (first, last) = (spans.first()?, spans.last()?);
            Some([first[0], last[1]].map(|share| Point2::new(share * long, up(h))))
        };
        let levels: Vec<[Point2<f64>; 2]> = (0..=STEPS).filter_map(level).collect();
        levels.iter().rev().map(|[a, _]| *a).chain(levels.iter().map(|[_, b]| *b)).collect()
    }

    /// The same so high above its floor.
    fn within_at(&self, height: f64, from: Point2<f64>, to: Point2<f64>) -> Vec<[f64; 2]> {
        let rho = self.profile.half_width(height);
        if rho <= 0.0 {
            return Vec::new();
        }
        let (foot, line) = (self.region(rho), Piece::Line(from, to));
        let mut places = vec![0.0, 1.0];
        foot.pieces().for_each(|piece| places.extend(line.meetings(piece)));
        places.sort_by(f64::total_cmp);
        let inside = |w: &&[f64]| w[1] > w[0] && foot.contains(&line.at((w[0] + w[1]) / 2.0));
        let mut parts: Vec<[f64; 2]> = Vec::new();
        for w in places.windows(2).filter(inside) {
            match parts.last_mut() {
                Some(last) if last[1] == w[0] => last[1] = w[1],
                _ => parts.push([w[0], w[1]]),
            }
        }
        parts
    }

    /// The box that it lies in.
    #[must_use]
    pub fn extent(&self, board: &Finished) -> [Point3<f64>; 2] {
        let rho = self.profile.at_surface();
        let [low, high] = self.path.extent();
        let [from, to] = self.levels(board);
        [Point3::new(low.x - rho, low.y - rho, from), Point3::new(high.x + rho, high.y + rho, to)]
    }
}

/// From a convex polygon, its corners anti-clockwise, or from a run or a point; 0 within.
fn from_polygon(corners: &[Point2<f64>], p: &Point2<f64>) -> f64 {
    let n = corners.len();
    let sides = || (0..n).map(|i| (corners[i], corners[(i + 1) % n]));
    if n > 2 && sides().all(|(a, b)| (b - a).perp(&(p - a)) >= 0.0) {
        return 0.0;
    }
    let from_side = |(a, b): (Point2<f64>, Point2<f64>)| {
        let way = b - a;
        let long = way.norm_squared();
        let share = if long > 0.0 { ((p - a).dot(&way) / long).clamp(0.0, 1.0) } else { 0.0 };
        (p - (a + way * share)).norm()
    };
    sides().map(from_side).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::quadrature::integral;
    use crate::measure::Length;
    use proptest::prelude::*;

    pub(crate) fn sweep() -> impl Strategy<Value = Sweep> {
        let bit = (1.0..12.0f64, 0.0..=1.0f64, 0.5..15.0f64, 0u8..3, 0.05..0.95f64);
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
            (30.0..90.0f64, -4.0..4.0f64, 0.2..3.1f64).prop_map(|(radius, from, turn)| Path::Arch(Arch {
                centre: Point2::new(20.0, 25.0),
                radius,
                from,
                turn
            })),
            (60.0..200.0f64, 60.0..200.0f64, 0.0..30.0f64).prop_map(|(l, w, radius)| Path::Round(Rounded {
                low: Point2::new(20.0, 25.0),
                high: Point2::new(20.0 + l, 25.0 + w),
                radius
            })),
        ];
        (bit, path).prop_map(|((radius, share, depth, rim, size), path)| {
            let corner = radius * share;
            let size = Length::nearest_to_mm((depth - corner) * size);
            let rim = match rim {
                1 if size.is_positive() => Some(Easing::RoundOver(size)),
                2 if size.is_positive() => Some(Easing::Chamfer(size)),
                _ => None,
            };
            Sweep { path, profile: Profile { radius, corner, depth, rim }, face: Face::Upper, through: false }
        })
    }

    proptest! {
        /// A point lies within ρ where the region within ρ holds it.
        #[test]
        fn distances_and_regions_agree(sweep in sweep(), x in -20.0..250.0f64, y in -20.0..250.0f64, rho in 0.5..12.0f64, over: bool) {
            let path = if over { sweep.path.turned_over(180.0) } else { sweep.path };
            let p = Point2::new(x, y);
            let off = path.distance(&p) - rho;
            prop_assume!(off.abs() > 1e-6);
            // Inside a closed path's inner corner that is tighter than ρ the region runs to a point.
            prop_assert_eq!(path.region(rho).contains(&p), off < 0.0, "{}", off);
        }

        /// The closed forms against slices: area and outline of the region at each height, integrated.
        #[test]
        fn volume_and_walls_are_the_integrals_over_the_slices(sweep in sweep()) {
            let p = sweep.profile;
            let slice = |h: f64| sweep.region(p.half_width(h)).measures();
            let c = if let Path::Round(path) = &sweep.path { path.radius } else { 0.0 };
            let foot = p.depth - p.rim_size();
            let breaks = [0.0, p.height_of(c).min(p.corner.min(p.depth)), p.corner.min(p.depth)];
            let upright = slice(foot);
            let at_rim = [foot, p.height_of(c).max(foot), p.depth];
            let rim = if p.rim.is_some() { integral(&|h| [slice(h).area], &at_rim, 1e-12 * sweep.volume())[0] } else { 0.0 };
            let volume = integral(&|h| [slice(h).area], &breaks, 1e-12 * sweep.volume())[0] + upright.area * p.upright() + rim;
            prop_assert!((sweep.volume() - volume).abs() <= 1e-10 * volume, "{} for {volume}", sweep.volume());
            // Along the arc: h = r(1 − cos α), ds = r dα.
            let r = p.corner;
            let turn = |h: f64| if r > 0.0 { (1.0 - h / r).clamp(-1.0, 1.0).acos() } else { 0.0 };
            let arcs = breaks.map(turn);
            // In the rim: y = s sin θ, ds = s dθ; or √2 dy.
            let s = p.rim_size();
            let kink = at_rim[1] - foot;
            let rim = match p.rim {
                Some(Easing::RoundOver(_)) => {
                    integral(&|a: f64| [slice(foot + s * a.sin()).length * s], &[0.0, (kink / s).min(1.0).asin(), PI / 2.0], 1e-11 * sweep.walls())[0]
                }
                Some(Easing::Chamfer(_)) => integral(&|h| [slice(h).length * 2f64.sqrt()], &at_rim, 1e-11 * sweep.walls())[0],
                None => 0.0,
            };
            let walls = integral(&|a| [slice(r * (1.0 - a.cos())).length * r], &arcs, 1e-11 * sweep.walls())[0] + upright.length * p.upright() + rim;
            prop_assert!((sweep.walls() - walls).abs() <= 1e-9 * walls, "{} for {walls}", sweep.walls());
            let opening = slice(p.depth).area;
            prop_assert!((sweep.opening() - opening).abs() <= 1e-10 * opening);
        }
    }
}
