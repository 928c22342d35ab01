//! What a bit leaves as rings of points, from its rim to its floor.

use super::mesh::{Builder, Mesh};
use crate::cut::{Arch, Easing, EdgeFrame, Face, Path, Profile, Rounded};
use nalgebra::{Point2, Point3, Vector2};
use std::f64::consts::PI;

/// The most segments in an arc: beyond them a finer tolerance changes nothing.
const MOST_SEGMENTS: usize = 2000;

/// Where a cut's own frame lies: x and y on its surface, z outward, 0 at the surface.
#[derive(Clone, Copy, Debug)]
pub(super) enum Frame {
    /// On an edge of the board.
    Edge(EdgeFrame),
    /// On a face of a board so thick: x and y are the board's.
    Face(Face, f64),
}

impl Frame {
    pub(super) fn on_board(&self, at: &Point3<f64>) -> Point3<f64> {
        match self {
            Self::Edge(frame) => frame.on_board(at),
            Self::Face(Face::Upper, thickness) => Point3::new(at.x, at.y, thickness + at.z),
            Self::Face(Face::Lower, _) => Point3::new(at.x, at.y, 0.0 - at.z),
        }
    }

    /// Whether anti-clockwise in the frame is clockwise seen from outside.
    pub(super) const fn turned(&self) -> bool {
        matches!(self, Self::Face(Face::Lower, _))
    }
}

/// A cut where it lies.
#[derive(Clone, Debug)]
pub(super) struct Tool {
    pub(super) path: Path,
    pub(super) profile: Profile,
    pub(super) frame: Frame,
    /// Whether it has no floor.
    pub(super) through: bool,
}

/// One ring of points in the cut's frame, anti-clockwise.
pub(super) type Ring = Vec<Point3<f64>>;

/// The rings at one depth: a filled path has one; a closed one has that round it and that within it.
pub(super) struct Level {
    pub(super) outer: Ring,
    pub(super) inner: Option<Ring>,
}

impl Level {
    fn rings(&self) -> impl Iterator<Item = &Ring> {
        std::iter::once(&self.outer).chain(&self.inner)
    }
}

impl Tool {
    /// From the rim (z = 0) to the floor (z = −d). All levels have their points at the same angles, so that the
    /// facets between two levels are flat.
    ///
    /// A chord of the angle δ on radius ρ lies ρ(1 − cos(δ/2)) inside the arc. Where a patch curves both ways, the
    /// bit's turn and its corner share the tolerance as their radii do, and so are cut to one angle.
    pub(super) fn levels(&self, tolerance: f64) -> Vec<Level> {
        let rim = self.profile.at_surface();
        let slack = tolerance / (rim + self.profile.corner.max(self.profile.rim_radius()));
        let (share, depths) = (slack * rim, self.depths(slack));
        match &self.path {
            Path::Filled(corners) => {
                let bows = Bow::around(corners, rim, share);
                let ring = |(rho, z): (f64, f64)| bows.iter().flat_map(|b| b.points(rho)).map(|p| up(p, z)).collect();
                depths.into_iter().map(|at| Level { outer: ring(at), inner: None }).collect()
            }
            Path::Arch(arch) => {
                let steps = [segments(arch.radius + rim, arch.turn, share), segments(rim, PI / 2.0, share)];
                let ring = |(rho, z): (f64, f64)| along(arch, rho, steps).into_iter().map(|p| up(p, z)).collect();
                depths.into_iter().map(|at| Level { outer: ring(at), inner: None }).collect()
            }
            Path::Round(path) => {
                let steps = segments(path.radius + rim, PI / 2.0, share);
                let ring = |by: f64, z: f64| outline(&path.inset(by), steps).into_iter().map(|p| up(p, z)).collect();
                depths.into_iter().map(|(rho, z)| Level { outer: ring(-rho, z), inner: Some(ring(rho, z)) }).collect()
            }
        }
    }

    /// Half width and depth (negative) of each level, from the rim down; an arc's chords lie `slack` of its radius
    /// inside it. Where a closed path's inner corner runs to a point there is a level too.
    fn depths(&self, slack: f64) -> Vec<(f64, f64)> {
        let Profile { radius, corner, depth, .. } = self.profile;
        let below = 0.0 - self.profile.rim_size();
        let mut depths: Vec<(f64, f64)> = self.profile.rim.map_or_else(Vec::new, |rim| rises(rim, radius, slack));
        if self.profile.upright() > 1e-9 {
            depths.push((radius, below));
        }
        if corner > 0.0 {
            let arc = self.profile.arc();
            let steps = segments(corner, arc, slack * corner);
            depths.extend((0..=steps).rev().map(|i| {
                let alpha = arc * i as f64 / steps as f64;
                let is_rim = i == steps && self.profile.upright() <= 1e-9;
                let z = if is_rim { below } else { corner * (1.0 - alpha.cos()) - depth };
                (radius - corner + corner * alpha.sin(), z)
            }));
        } else {
            depths.push((radius, -depth));
        }
        if let Path::Round(Rounded { radius: c, .. }) = self.path {
            let z = self.profile.height_of(c) - depth;
            if let Some(i) = depths.iter().position(|(rho, _)| *rho < c).filter(|i| *i > 0 && depths[*i - 1].0 > c) {
                depths.insert(i, (c, z));
            }
        }
        depths
    }

    /// Adds the inside of the cut: walls and floor, facing into the void.
    pub(super) fn add_inside(&self, levels: &[Level], builder: &mut Builder) {
        let outer: Vec<Vec<u32>> = levels.iter().map(|level| self.vertices(&level.outer, builder)).collect();
        outer.windows(2).for_each(|pair| self.add_band(&pair[0], &pair[1], false, builder));
        let inner: Vec<Vec<u32>> =
            levels.iter().filter_map(|level| level.inner.as_ref()).map(|ring| self.vertices(ring, builder)).collect();
        inner.windows(2).for_each(|pair| self.add_band(&pair[0], &pair[1], true, builder));
        if let Some(floor) = levels.last().filter(|_| !self.through) {
            self.add_cap(floor, false, builder);
        }
    }

    fn add_band(&self, high: &[u32], low: &[u32], within: bool, builder: &mut Builder) {
        let n = high.len();
        for i in 0..n {
            let j = (i + 1) % n;
            self.quad([high[i], high[j], low[j], low[i]], within, builder);
        }
    }

    /// Fills a level, seen from outside or from within the wood.
    fn add_cap(&self, level: &Level, from_within: bool, builder: &mut Builder) {
        let outer = self.vertices(&level.outer, builder);
        let n = outer.len();
        if let Some(inner) = &level.inner {
            let inner = self.vertices(inner, builder);
            for i in 0..n {
                let j = (i + 1) % n;
                self.quad([outer[i], outer[j], inner[j], inner[i]], from_within, builder);
            }
        } else {
            // Rungs from side to side: point i against point n − 1 − i.
            for i in 0..n / 2 - 1 {
                self.quad([outer[i], outer[i + 1], outer[n - 2 - i], outer[n - 1 - i]], from_within, builder);
            }
        }
    }

    fn quad(&self, [a, b, c, d]: [u32; 4], reversed: bool, builder: &mut Builder) {
        builder.quad(if reversed == self.frame.turned() { [a, b, c, d] } else { [d, c, b, a] });
    }

    /// The cut as a closed solid of its own.
    pub(super) fn solid(&self, tolerance: f64) -> Mesh {
        let levels = self.levels(tolerance);
        let mut builder = Builder::default();
        self.add_inside(&levels, &mut builder);
        if let Some(rim) = levels.first() {
            self.add_cap(rim, true, &mut builder);
        }
        if let Some(end) = levels.last().filter(|_| self.through) {
            self.add_cap(end, false, &mut builder);
        }
        let mut mesh = builder.finish();
        // Walls and floor face into the void; the solid's own surface faces the other way.
        for triangle in &mut mesh.triangles {
            triangle.swap(1, 2);
        }
        mesh
    }

    pub(super) fn vertices(&self, ring: &Ring, builder: &mut Builder) -> Vec<u32> {
        ring.iter().map(|p| builder.vertex(self.frame.on_board(p))).collect()
    }

    /// The boundaries of its opening on its surface, or of where it comes out, in the frame's x and y.
    pub(super) fn boundaries(&self, level: &Level, builder: &mut Builder) -> Vec<super::flat::Boundary> {
        let boundary = |ring: &Ring, b: &mut Builder| ring.iter().map(|p| p.xy()).zip(self.vertices(ring, b)).collect();
        level.rings().map(|ring| boundary(ring, builder)).collect()
    }
}

/// The levels of an eased rim over a wall of this half width, from the surface down; its foot isn't among them.
fn rises(rim: Easing, radius: f64, slack: f64) -> Vec<(f64, f64)> {
    let size = rim.size();
    match rim {
        Easing::Chamfer(_) => vec![(radius + size, 0.0)],
        Easing::RoundOver(_) => {
            let steps = segments(size, PI / 2.0, slack * size);
            let level = |i: usize| {
                let (sin, cos) = (PI / 2.0 * i as f64 / steps as f64).sin_cos();
                if i == 0 { (radius + size, 0.0) } else { (radius + size * (1.0 - sin), size * (cos - 1.0)) }
            };
            (0..steps).map(level).collect()
        }
    }
}

/// The outline of everything within ρ of an arc, from the middle of the end that it begins with, and back: that point
/// and the one at the middle of the other end are there twice, so that point i lies across from point n − 1 − i.
fn along(arch: &Arch, rho: f64, [steps, quarter]: [usize; 2]) -> Vec<Point2<f64>> {
    // A point of an end, by its angle from the ring's outside.
    let end = |share: f64, i: usize| {
        let out = arch.direction(share);
        let on = Vector2::new(-out.y, out.x) * if share > 0.5 { 1.0 } else { -1.0 };
        let (sin, cos) = (PI / 2.0 * i as f64 / quarter as f64).sin_cos();
        arch.at(share, 0.0) + (out * if i == quarter { 0.0 } else { cos } + on * sin) * rho
    };
    let within = |share: f64, i: usize| {
        let out = arch.direction(share);
        let across = end(share, i) - arch.at(share, 0.0);
        end(share, i) - out * (2.0 * across.dot(&out))
    };
    let ring = |off: f64, i: usize| arch.at(i as f64 / steps as f64, off);
    let there = (1..=quarter).rev().map(|i| end(0.0, i)).chain((0..=steps).map(|i| ring(rho, i)));
    let there = there.chain((1..=quarter).map(|i| end(1.0, i)));
    let back = std::iter::once(end(1.0, quarter)).chain((1..quarter).rev().map(|i| within(1.0, i)));
    let back = back.chain((0..=steps).rev().map(|i| ring(-rho, i))).chain((1..quarter).map(|i| within(0.0, i)));
    there.chain(back).chain([end(0.0, quarter)]).collect()
}

fn up(p: Point2<f64>, z: f64) -> Point3<f64> {
    Point3::new(p.x, p.y, z)
}

/// An arc about a corner of a filled path: the unit directions of its points.
struct Bow {
    centre: Point2<f64>,
    ways: Vec<Vector2<f64>>,
}

impl Bow {
    /// Round a convex polygon's corners; a single point has two half turns.
    fn around(corners: &[Point2<f64>], radius: f64, tolerance: f64) -> Vec<Self> {
        let corners = if corners.len() == 1 { vec![corners[0]; 2] } else { corners.to_vec() };
        let n = corners.len();
        let normal = |i: usize| {
            let along = (corners[(i + 1) % n] - corners[i % n]).try_normalize(0.0);
            let along = along.unwrap_or_else(|| Vector2::x() * if i.is_multiple_of(2) { 1.0 } else { -1.0 });
            Vector2::new(along.y, -along.x)
        };
        let bow = |i: usize| {
            let ends = [normal(i + n - 1), normal(i)];
            let turn = ends[0].perp(&ends[1]).atan2(ends[0].dot(&ends[1])).rem_euclid(2.0 * PI);
            let from = ends[0].y.atan2(ends[0].x);
            // An even count puts a point at the very end of a straight run, where a setback is measured.
            let steps = segments(radius, turn, tolerance).next_multiple_of(2);
            let between = (1..steps).map(|i| {
                let (sin, cos) = (from + turn * i as f64 / steps as f64).sin_cos();
                Vector2::new(cos, sin)
            });
            // It begins and ends exactly along the path's sides.
            Self { centre: corners[i], ways: std::iter::once(ends[0]).chain(between).chain([ends[1]]).collect() }
        };
        (0..n).map(bow).collect()
    }

    fn points(&self, radius: f64) -> impl Iterator<Item = Point2<f64>> + '_ {
        self.ways.iter().map(move |way| self.centre + way * radius)
    }
}

/// A rounded rectangle's outline, anti-clockwise from the corner at low X and Y; every corner has one more point
/// than steps, alike where it is sharp. Its outermost points have its bounds' own bits.
pub(super) fn outline(shape: &Rounded, steps: usize) -> Vec<Point2<f64>> {
    let quarter = |(centre, quarter): (Point2<f64>, u8)| {
        (0..=steps).map(move |i| {
            let (sin, cos) = (PI / 2.0 * i as f64 / steps.max(1) as f64).sin_cos();
            let (sin, cos) = if i == steps && steps > 0 { (1.0, 0.0) } else { (sin, cos) };
            let way = match quarter {
                0 => Vector2::new(cos, sin),
                1 => Vector2::new(-sin, cos),
                2 => Vector2::new(-cos, -sin),
                _ => Vector2::new(sin, -cos),
            };
            let bound = |axis: usize| match way[axis] {
                _ if shape.radius <= 0.0 => centre[axis],
                1.0 => shape.high[axis],
                -1.0 => shape.low[axis],
                w => centre[axis] + shape.radius * w,
            };
            Point2::new(bound(0), bound(1))
        })
    };
    shape.centres().into_iter().flat_map(quarter).collect()
}

/// How many equal chords keep an arc of this angle and radius within the tolerance.
pub(super) fn segments(radius: f64, angle: f64, tolerance: f64) -> usize {
    if !(radius > tolerance && tolerance > 0.0) {
        return 2;
    }
    let half = (1.0 - tolerance / radius).acos();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let n = (angle / (2.0 * half)).ceil() as usize;
    n.clamp(2, MOST_SEGMENTS)
}
