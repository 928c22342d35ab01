//! The body's volume, surface and centre, from the exact description: closed forms, and quadrature over exact slices
//! where cuts cross.

use super::Body;
use super::body::Swept;
use crate::cut::quadrature::{integral, integral_by_kind};
use crate::cut::region::Region;
use crate::cut::union::union_within;
use crate::cut::{Face, Outline, Path, Sweep};
use nalgebra::{Point3, Vector3};

/// What quadrature may be off by, relative to what is integrated.
pub const QUADRATURE: f64 = 1e-11;

/// A surface may be off by so much more, in mm² for mm³.
const SURFACE: f64 = 100.0;

/// Exact figures of a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exact {
    /// Its volume, mm³.
    pub volume: f64,
    /// What was taken of the finished box, mm³.
    pub removed: f64,
    /// Its surface, mm².
    pub area: f64,
    /// Its centre of volume, in the finished board's frame.
    pub centre: Point3<f64>,
}

/// A share of volume, of its first moment, and of surface.
#[derive(Clone, Copy, Debug, Default)]
struct Share {
    volume: f64,
    moment: Vector3<f64>,
    area: f64,
}

impl Exact {
    pub(super) fn of(body: &Body) -> Self {
        let outline = &body.outline;
        let whole = of_outline(outline);
        let mut taken = Share::default();
        for (_, recess, tool) in &body.recesses {
            let sweep = Sweep { path: tool.path.clone(), ..recess.swept() };
            let one = of_sweep(&sweep);
            let inward =
                |h: f64| tool.frame.on_board(&Point3::new(one.middle.x, one.middle.y, h - sweep.profile.depth));
            taken.add(one.volume, inward(one.height).coords, one.area);
        }
        for swept in body.sweeps.iter().filter(|s| !s.crosses) {
            let (sweep, one) = (&swept.sweep, of_sweep(&swept.sweep));
            let floor = sweep.floor_level(&outline.size);
            let z = if sweep.face == Face::Upper { floor + one.height } else { floor - one.height };
            taken.add(one.volume, Vector3::new(one.middle.x, one.middle.y, z), one.area);
        }
        let crossing: Vec<&Swept> = body.sweeps.iter().filter(|s| s.crosses).collect();
        for group in groups(&crossing, outline) {
            let share = crossed(&group, outline);
            taken.volume += share.volume;
            taken.moment += share.moment;
            taken.area += share.area;
        }
        let volume = whole.volume - taken.volume;
        let size = &outline.size;
        Self {
            volume,
            removed: size.length * size.width * size.thickness - volume,
            area: whole.area + taken.area,
            centre: Point3::from((whole.moment - taken.moment) / volume),
        }
    }
}

impl Share {
    /// Adds a volume at its centre, and what it changes of the surface.
    fn add(&mut self, volume: f64, centre: Vector3<f64>, area: f64) {
        self.volume += volume;
        self.moment += centre * volume;
        self.area += area;
    }
}

/// A cut by itself: its volume, what it changes of the surface, its centre in plan and above its floor.
struct Alone {
    volume: f64,
    area: f64,
    middle: nalgebra::Point2<f64>,
    height: f64,
}

fn of_sweep(sweep: &Sweep) -> Alone {
    let volume = sweep.volume();
    let middle = match &sweep.path {
        // Points, runs and rectangles are symmetrical.
        Path::Filled(corners) => {
            corners.iter().map(|c| c.coords).sum::<nalgebra::Vector2<f64>>() / corners.len().max(1) as f64
        }
        Path::Arch(arch) => arch.centre.coords + arch.moment(sweep.profile.first(), sweep.profile.second()) / volume,
        Path::Round(path) => (path.low.coords + path.high.coords) / 2.0,
    };
    let openings = sweep.opening() * if sweep.through { 2.0 } else { 1.0 };
    let area = sweep.walls() + sweep.floor() - openings;
    Alone { volume, area, middle: middle.into(), height: sweep.first_moment() / volume }
}

/// The outline's volume, moment and surface; its middle by symmetry in plan, by quadrature over Z.
fn of_outline(outline: &Outline) -> Share {
    let (size, volume) = (&outline.size, outline.volume());
    let ([upper, lower], t) = (outline.eased(), size.thickness);
    let kink = |e: Option<crate::cut::Easing>| e.map_or(0.0, |e| e.size() - e.height_of(outline.corner));
    let area = |z: f64| outline.plan().inset(outline.inset(z)).area();
    let breaks = [0.0, kink(outline.lower), lower, t - upper, t - kink(outline.upper), t];
    let [moment] = integral(&|z| [z * area(z)], &breaks, QUADRATURE * volume * t);
    let moment = Vector3::new(size.length / 2.0 * volume, size.width / 2.0 * volume, moment);
    Share { volume, moment, area: outline.area() }
}

/// Cuts whose boxes touch, one through another, together: groups take nothing of each other.
fn groups<'a>(crossing: &[&'a Swept], outline: &Outline) -> Vec<Vec<&'a Swept>> {
    let mut groups: Vec<Vec<&Swept>> = Vec::new();
    for one in crossing {
        let [low, high] = one.sweep.extent(&outline.size);
        let touches = |other: &&Swept| {
            let [from, to] = other.sweep.extent(&outline.size);
            (0..3).all(|axis| low[axis] <= to[axis] && from[axis] <= high[axis])
        };
        let (with, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| group.iter().any(&touches));
        groups = apart;
        groups.push(with.into_iter().flatten().chain([*one]).collect());
    }
    groups
}

/// What crossing cuts take together of the outline, and what they change of its surface.
///
/// At every level the area, its moments and the lengths of the boundaries are exact ([`union_within`]). A cut's
/// surface is the integral of its own boundary's length times √(1 + ρ′²); where it cuts through the side it takes of
/// that likewise. Flat floors and openings are differences of exact slices at their own level.
fn crossed(crossing: &[&Swept], outline: &Outline) -> Share {
    let size = &outline.size;
    let breaks = breaks(crossing, outline);
    let scale: f64 = crossing.iter().map(|s| s.sweep.volume()).sum();
    let slice = |z: f64| {
        let cut: Vec<&Sweep> = crossing.iter().map(|s| &s.sweep).filter(|s| is_between(z, s.levels(size))).collect();
        let regions: Vec<Region> = cut.iter().map(|s| s.region(s.half_width_at(z, size))).collect();
        let union = union_within(&regions, &room(outline, z));
        let (m, lengths) = (union.whole, union.lengths);
        let own: f64 =
            cut.iter().zip(&lengths).map(|(s, l)| if *l > 0.0 { l * slope(s, z, outline) } else { 0.0 }).sum();
        let side = lengths.last().copied().unwrap_or_default();
        let side = if side > 0.0 { side * outline.slope(z) } else { 0.0 };
        (union.kind, [m.area, m.moment.x, m.moment.y, z * m.area, own - side])
    };
    let long = size.length.max(size.width).max(size.thickness);
    // Each component by its own size: a moment is a volume times a length; a surface needs fewer digits.
    let scaled = |z: f64| {
        let (kind, [v, x, y, w, a]) = slice(z);
        (kind, [v, x / long, y / long, w / long, a / SURFACE])
    };
    let [volume, x, y, z, walls] = integral_by_kind(&scaled, &breaks, QUADRATURE * scale);
    let walls = walls * SURFACE;
    let flats: f64 = flats(crossing, outline);
    Share { volume, moment: Vector3::new(x, y, z) * long, area: walls + flats }
}

fn is_between(z: f64, [from, to]: [f64; 2]) -> bool {
    from < z && z < to
}

fn room(outline: &Outline, z: f64) -> Region {
    outline.plan().inset(outline.inset(z)).region()
}

fn slope(sweep: &Sweep, z: f64, outline: &Outline) -> f64 {
    let floor = sweep.floor_level(&outline.size);
    sweep.profile.slope((z - floor).abs())
}

/// Levels where a slice may change its kind: faces, floors, where walls turn upright, where inner corners run to a
/// point, where rims begin.
fn breaks(crossing: &[&Swept], outline: &Outline) -> Vec<f64> {
    let (size, [upper, lower]) = (&outline.size, outline.eased());
    let mut all = vec![lower, size.thickness - upper];
    for Swept { sweep, .. } in crossing {
        let [from, to] = sweep.levels(size);
        let above = |h: f64| if sweep.face == Face::Upper { from + h } else { to - h };
        let rim = sweep.profile.depth - sweep.profile.rim_size();
        all.extend([from, to, above(sweep.profile.corner.min(sweep.profile.depth)), above(rim)]);
        if let Path::Round(path) = &sweep.path {
            all.push(above(sweep.profile.height_of(path.radius)));
        }
    }
    all.sort_by(f64::total_cmp);
    let least = crossing.iter().map(|s| s.sweep.levels(size)[0]).fold(f64::INFINITY, f64::min);
    let most = crossing.iter().map(|s| s.sweep.levels(size)[1]).fold(f64::NEG_INFINITY, f64::max);
    all.retain(|z| *z >= least && *z <= most);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    all
}

/// Flat floors less openings, within the outline, mm².
///
/// At a level where cuts end, what they and those that run on have in plan, less what those that run on have alone.
fn flats(crossing: &[&Swept], outline: &Outline) -> f64 {
    let size = &outline.size;
    let mut levels: Vec<f64> = crossing.iter().flat_map(|s| s.sweep.levels(size)).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    let area = |cut: &[&Sweep], z: f64| {
        let regions: Vec<Region> = cut.iter().map(|s| s.region(s.half_width_at(z, size))).collect();
        union_within(&regions, &room(outline, z)).whole.area
    };
    let at = |z: f64| {
        let sweeps = || crossing.iter().map(|s| &s.sweep);
        let (on, ends): (Vec<&Sweep>, Vec<&Sweep>) = sweeps()
            .filter(|s| s.levels(size)[0] <= z && z <= s.levels(size)[1])
            .partition(|s| is_between(z, s.levels(size)));
        let all: Vec<&Sweep> = on.iter().chain(&ends).copied().collect();
        let flat = area(&all, z) - area(&on, z);
        let is_face = z <= 0.0 || z >= size.thickness;
        if is_face { -flat } else { flat }
    };
    levels.into_iter().map(at).sum()
}
