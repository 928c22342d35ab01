//! A box less a convex cutter, built directly: what a recess leaves of a piece.
//!
//! ```text
//!   ┌───────────┐   The cutter's facets are clipped to the box and become the inside of the cut.
//!   │    ╭──────┼─  Where they end on a face of the box they give that face's new border; what is
//!   │    ╰──────┼─  left of the face is filled between it and the corners.
//!   └───────────┘
//! ```
//! A facet is clipped along one axis after another, always in the same order. Where an edge crosses a
//! plane depends on the edge's ends before that axis, taken in lexicographic order, and on the plane
//! alone, and lies exactly on the plane: two boxes that share a face get the same points there, bit by
//! bit.
//!
//! What it can't do it refuses (`None`): a cutter that isn't convex, one that takes a corner of the
//! box, two separate openings in one loop; a boolean must do those.

use super::flat;
use super::mesh::{Builder, Mesh};
use nalgebra::{Point2, Point3, Vector3};
use std::borrow::Cow;
use std::cmp::Ordering;

/// A plane of a box: the axis that it stands across, where, and whether the box lies above.
#[derive(Clone, Copy)]
struct Plane {
    axis: usize,
    at: f64,
    above: bool,
}

/// A convex solid that takes wood away: its facets, turned to face the void, mm.
pub(super) struct Cutter {
    facets: Vec<Facet>,
    low: Point3<f64>,
    high: Point3<f64>,
}

/// A triangle or a quadrilateral, and the box that it lies in.
struct Facet {
    corners: [Point3<f64>; 4],
    count: usize,
    low: Point3<f64>,
    high: Point3<f64>,
}

impl Facet {
    /// Through three or four points.
    fn of(around: impl Iterator<Item = Point3<f64>>) -> Option<Self> {
        let (mut corners, mut count) = ([Point3::origin(); 4], 0);
        for (to, at) in corners.iter_mut().zip(around) {
            (*to, count) = (at, count + 1);
        }
        let filled = corners.get(..count).filter(|filled| filled.len() > 2)?;
        let [low, high] = filled.iter().fold([filled[0]; 2], |[low, high], p| [low.inf(p), high.sup(p)]);
        Some(Self { corners, count, low, high })
    }

    fn around(&self) -> &[Point3<f64>] {
        &self.corners[..self.count]
    }
}

impl Cutter {
    /// A closed mesh as a cutter; `None` where it isn't convex.
    pub(super) fn of(mesh: &Mesh) -> Option<Self> {
        let [low, high] = mesh.extent()?;
        is_convex(mesh, 1e-9 * (high - low).norm()).then_some(())?;
        let mut facets: Vec<Facet> = Vec::with_capacity(mesh.triangles.len());
        let mut triangles = mesh.triangles.iter().peekable();
        while let Some(triangle) = triangles.next() {
            let joined = triangles.peek().and_then(|next| quad(mesh, triangle, next));
            if joined.is_some() {
                triangles.next();
            }
            let around = joined.as_ref().map_or(triangle.as_slice(), |quad| quad.as_slice());
            facets.push(Facet::of(around.iter().rev().map(|i| mesh.vertices[*i as usize]))?);
        }
        Some(Self { facets, low, high })
    }

    /// Whether it reaches into a box.
    pub(super) fn reaches(&self, low: &Point3<f64>, high: &Point3<f64>) -> bool {
        (0..3).all(|axis| low[axis] < self.high[axis] && self.low[axis] < high[axis])
    }

    /// What it leaves of a box; `None` where that can't be built directly.
    pub(super) fn cut(&self, low: &Point3<f64>, high: &Point3<f64>) -> Option<Mesh> {
        let planes = (0..3).flat_map(|axis| {
            [Plane { axis, at: low[axis], above: true }, Plane { axis, at: high[axis], above: false }]
        });
        let planes: Vec<Plane> = planes.collect();
        let mut builder = Builder::default();
        let mut openings: [Vec<(u32, u32)>; 6] = Default::default();
        for facet in &self.facets {
            let beside = |axis: usize| facet.high[axis] <= low[axis] || high[axis] <= facet.low[axis];
            if beside(0) || beside(1) || beside(2) {
                continue;
            }
            let mut clipped = Cow::Borrowed(facet.around());
            for axis in 0..3 {
                if facet.low[axis] < low[axis] || high[axis] < facet.high[axis] {
                    clipped = Cow::Owned(clip(&clipped, axis, [low[axis], high[axis]]));
                }
            }
            let around: Vec<u32> = clipped.iter().map(|p| builder.vertex(*p)).collect();
            fill(&around, &mut builder);
            for (opening, plane) in openings.iter_mut().zip(&planes) {
                if plane.at < self.low[plane.axis] || plane.at > self.high[plane.axis] {
                    continue;
                }
                if facet.high[plane.axis] < plane.at || plane.at < facet.low[plane.axis] {
                    continue;
                }
                for i in 0..clipped.len() {
                    let j = (i + 1) % clipped.len();
                    let on = |p: &Point3<f64>| p[plane.axis].to_bits() == plane.at.to_bits();
                    if on(&clipped[i]) && on(&clipped[j]) && around[i] != around[j] {
                        // Seen from the face's side the border runs the other way.
                        opening.push((around[j], around[i]));
                    }
                }
            }
        }
        for (plane, opening) in planes.iter().zip(&openings) {
            Side { plane: *plane, low, high }.add(opening, &mut builder)?;
        }
        let mesh = builder.finish();
        is_closed(&mesh).then_some(mesh)
    }
}

/// Two triangles that follow each other as one flat quadrilateral, if they are one.
fn quad(mesh: &Mesh, [a, b, c]: &[u32; 3], [d, e, f]: &[u32; 3]) -> Option<[u32; 4]> {
    // As the builder makes them, either way round: a, b, c and a, c, d, or a, c, b and a, d, c.
    let around = if a == d && c == e {
        [*a, *b, *c, *f]
    } else if a == d && b == f {
        [*a, *e, *b, *c]
    } else {
        return None;
    };
    let [p, q, r, s] = around.map(|i| mesh.vertices[i as usize]);
    let normal = (r - p).cross(&(s - q));
    let size = normal.norm();
    (size > 0.0 && normal.dot(&(q - p)).abs() <= 1e-9 * size * (1.0 + (r - p).norm())).then_some(around)
}

/// Clips a convex polygon to what lies between two planes across an axis.
///
/// Both crossings of an edge are taken from its ends as they were, so that neighbours along the axis,
/// which have one of the planes in common, get the same point.
fn clip(around: &[Point3<f64>], axis: usize, [low, high]: [f64; 2]) -> Vec<Point3<f64>> {
    let mut kept = Vec::with_capacity(around.len() + 2);
    for (i, p) in around.iter().enumerate() {
        let q = &around[(i + 1) % around.len()];
        if (low..=high).contains(&p[axis]) {
            kept.push(*p);
        }
        let rising = p[axis] < q[axis];
        for at in if rising { [low, high] } else { [high, low] } {
            if (p[axis] < at && at < q[axis]) || (q[axis] < at && at < p[axis]) {
                kept.push(crossing(p, q, axis, at));
            }
        }
    }
    kept.dedup();
    if kept.len() > 1 && kept.first() == kept.last() {
        kept.pop();
    }
    if kept.len() < 3 { Vec::new() } else { kept }
}

/// Where an edge crosses a plane: the same bits from whichever end it is walked.
fn crossing(p: &Point3<f64>, q: &Point3<f64>, axis: usize, plane: f64) -> Point3<f64> {
    let key = |p: &Point3<f64>| [p.x, p.y, p.z];
    let (a, b) = if key(p) <= key(q) { (p, q) } else { (q, p) };
    let share = (plane - a[axis]) / (b[axis] - a[axis]);
    let mut at = a + (b - a) * share;
    at[axis] = plane;
    at
}

/// Fills a convex polygon, from side to side.
fn fill(around: &[u32], builder: &mut Builder) {
    let n = around.len();
    if n < 3 {
        return;
    }
    if n == 4 {
        return builder.quad([around[0], around[1], around[2], around[3]]);
    }
    let (mut left, mut right) = (0, n - 1);
    while right - left > 1 {
        builder.triangle([around[left], around[left + 1], around[right]]);
        left += 1;
        if right - left > 1 {
            builder.triangle([around[left], around[right - 1], around[right]]);
            right -= 1;
        }
    }
}

/// One side of a box.
struct Side<'a> {
    plane: Plane,
    low: &'a Point3<f64>,
    high: &'a Point3<f64>,
}

impl Side<'_> {
    /// The two axes along the side, anti-clockwise seen from outside.
    const fn axes(&self) -> [usize; 2] {
        let [a, b] = [(self.plane.axis + 1) % 3, (self.plane.axis + 2) % 3];
        if self.plane.above { [b, a] } else { [a, b] }
    }

    fn flat(&self, p: &Point3<f64>) -> Point2<f64> {
        let [u, v] = self.axes();
        Point2::new(p[u], p[v])
    }

    /// The corners, anti-clockwise.
    fn corners(&self) -> [Point3<f64>; 4] {
        let [u, v] = self.axes();
        [(false, false), (true, false), (true, true), (false, true)].map(|(far_u, far_v)| {
            let mut corner = Point3::origin();
            corner[self.plane.axis] = self.plane.at;
            corner[u] = if far_u { self.high[u] } else { self.low[u] };
            corner[v] = if far_v { self.high[v] } else { self.low[v] };
            corner
        })
    }

    /// How far along the border, anti-clockwise from the first corner, a point of it lies: the side's
    /// number and a share; `None` for a point within.
    fn along(&self, p: &Point3<f64>) -> Option<f64> {
        let (at, corners) = (self.flat(p), self.corners().map(|c| self.flat(&c)));
        let [low, high] = [corners[0], corners[2]];
        let share = (at - low).component_div(&(high - low));
        if at.y == low.y {
            Some(share.x)
        } else if at.x == high.x {
            Some(1.0 + share.y)
        } else if at.y == high.y {
            Some(3.0 - share.x)
        } else if at.x == low.x {
            Some(4.0 - share.y)
        } else {
            None
        }
    }

    /// Adds what the opening's border leaves of the side.
    fn add(&self, opening: &[(u32, u32)], builder: &mut Builder) -> Option<()> {
        let corners = self.corners().map(|corner| builder.vertex(corner));
        if opening.is_empty() {
            builder.quad(corners);
            return Some(());
        }
        for mut chain in chains(opening)? {
            chain.reverse();
            let border = if chain.first() == chain.last() {
                self.turn_to_lowest(&mut chain, builder);
                [corners.as_slice(), &corners[..1]].concat()
            } else {
                self.between(&chain, &corners, builder)?
            };
            let corner = |v: &u32| (self.flat(&builder.at(*v)), *v);
            let [chain, border] = [chain, border].map(|all| all.iter().map(corner).collect::<flat::Boundary>());
            flat::between(&chain, &border, false, builder);
        }
        Some(())
    }

    /// A closed chain from its lowest point on, as the corners begin with theirs.
    fn turn_to_lowest(&self, chain: &mut [u32], builder: &Builder) {
        let n = chain.len() - 1;
        let key = |i: &usize| {
            let at = self.flat(&builder.at(chain[*i]));
            (at.y, at.x)
        };
        let lowest = (0..n).min_by(|i, j| key(i).partial_cmp(&key(j)).unwrap_or(Ordering::Equal));
        chain[..n].rotate_left(lowest.unwrap_or(0));
        chain[n] = chain[0];
    }

    /// The border from a chain's beginning to its end, anti-clockwise.
    fn between(&self, chain: &[u32], corners: &[u32; 4], builder: &Builder) -> Option<Vec<u32>> {
        let (first, last) = (*chain.first()?, *chain.last()?);
        let from = self.along(&builder.at(first))?;
        let mut to = self.along(&builder.at(last))?;
        if to <= from {
            to += 4.0;
        }
        let mut border = vec![first];
        border.extend((0..8).filter(|k| from < f64::from(*k) && f64::from(*k) < to).map(|k| corners[k as usize % 4]));
        border.push(last);
        Some(border)
    }
}

/// Directed edges as chains; a closed one ends where it begins. `None` where two begin in one vertex.
fn chains(edges: &[(u32, u32)]) -> Option<Vec<Vec<u32>>> {
    let mut next: Vec<(u32, u32)> = edges.to_vec();
    next.sort_unstable();
    if next.windows(2).any(|pair| pair[0].0 == pair[1].0) {
        return None;
    }
    let mut ends: Vec<u32> = edges.iter().map(|(_, to)| *to).collect();
    ends.sort_unstable();
    let follow = |from: u32| next.binary_search_by_key(&from, |edge| edge.0).ok();
    let mut used = vec![false; next.len()];
    let mut chains = Vec::new();
    let begins = (0..next.len()).filter(|i| ends.binary_search(&next[*i].0).is_err());
    // Open chains first, from where nothing arrives; what is left runs in circles.
    for start in begins.chain(0..next.len()) {
        if used[start] {
            continue;
        }
        let mut chain = vec![next[start].0];
        let mut at = Some(start);
        while let Some(i) = at.filter(|i| !used[*i]) {
            used[i] = true;
            chain.push(next[i].1);
            at = follow(next[i].1);
        }
        chains.push(chain);
    }
    Some(chains)
}

/// An edge from its lower end: its other end and, as the last bit, whether it runs down to the lower; and the corner
/// across from it.
type Half = (u64, u32);

/// Every edge once, by its lower end, with its two halves; `None` where one has no single partner that runs the other
/// way.
fn paired(mesh: &Mesh) -> Option<Vec<(u32, [Half; 2])>> {
    let edges = |[a, b, c]: &[u32; 3]| [(*a, *b, *c), (*b, *c, *a), (*c, *a, *b)];
    // Those from the lower end v lie from begin[v] to begin[v + 1].
    let mut begin = vec![0_usize; mesh.vertices.len() + 1];
    for (from, to, _) in mesh.triangles.iter().flat_map(edges) {
        begin[from.min(to) as usize + 1] += 1;
    }
    (1..begin.len()).for_each(|v| begin[v] += begin[v - 1]);
    let (mut next, mut halves) = (begin.clone(), vec![(0, 0); mesh.triangles.len() * 3]);
    for (from, to, across) in mesh.triangles.iter().flat_map(edges) {
        let place = &mut next[from.min(to) as usize];
        halves[*place] = (u64::from(from.max(to)) << 1 | u64::from(from > to), across);
        *place += 1;
    }
    let mut pairs = Vec::with_capacity(halves.len() / 2);
    for (low, ends) in (0_u32..).zip(begin.windows(2)) {
        let these = &mut halves[ends[0]..ends[1]];
        these.sort_unstable();
        let (two, odd) = these.as_chunks::<2>();
        let single = two.windows(2).all(|next| next[0][0].0 != next[1][0].0);
        // The direction is the last bit, so that partners lie side by side.
        let partners = two.iter().all(|[up, down]| up.0 + 1 == down.0 && up.0 & 1 == 0);
        (odd.is_empty() && single && partners).then_some(())?;
        pairs.extend(two.iter().map(|both| (low, *both)));
    }
    (!pairs.is_empty()).then_some(pairs)
}

/// Whether a mesh is closed and oriented, as [`Mesh::is_closed`] says, but in less time.
fn is_closed(mesh: &Mesh) -> bool {
    paired(mesh).is_some()
}

/// Whether a closed mesh is convex: across each edge the other facet doesn't rise.
fn is_convex(mesh: &Mesh, within: f64) -> bool {
    let at = |v: u32| mesh.vertices[v as usize];
    let rises = |(low, [(up, across), (_, other)]): &(u32, [Half; 2])| {
        #[allow(clippy::cast_possible_truncation)]
        let [a, b] = [*low, (up >> 1) as u32].map(at);
        let normal: Vector3<f64> = (b - a).cross(&(at(*across) - a));
        normal.dot(&(at(*other) - a)) > within * normal.norm()
    };
    paired(mesh).is_some_and(|pairs| !pairs.iter().any(rises))
}
