//! A triangle mesh, and what makes it a solid.

use hashbrown::HashTable;
use hashbrown::hash_table::Entry;
use nalgebra::{Point3, Vector3};
use std::collections::HashMap;
use std::hash::{BuildHasher, BuildHasherDefault, Hasher};

/// Triangles over shared vertices, anti-clockwise seen from outside, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// The vertices.
    pub vertices: Vec<Point3<f64>>,
    /// Three vertices each.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// The volume: the sum of v₀·(v₁ × v₂)/6 over the triangles; positive where they face outward.
    ///
    /// Taken about the middle of the mesh, so that a solid far from the origin loses nothing.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let Some([low, high]) = self.extent() else { return 0.0 };
        let middle = nalgebra::center(&low, &high);
        self.corners().map(|[a, b, c]| (a - middle).dot(&(b - middle).cross(&(c - middle)))).sum::<f64>() / 6.0
    }

    /// The surface area.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.corners().map(|[a, b, c]| (b - a).cross(&(c - a)).norm()).sum::<f64>() / 2.0
    }

    /// Least and greatest corner; `None` without vertices.
    #[must_use]
    pub fn extent(&self) -> Option<[Point3<f64>; 2]> {
        let first = self.vertices.first()?;
        Some(self.vertices.iter().fold([*first, *first], |[low, high], v| [low.inf(v), high.sup(v)]))
    }

    /// The corners of each triangle.
    pub fn corners(&self) -> impl Iterator<Item = [Point3<f64>; 3]> + '_ {
        self.triangles.iter().map(|t| t.map(|i| self.vertices[i as usize]))
    }

    /// The unit normal of each triangle, by the right-hand rule; zero for a degenerate one.
    pub fn normals(&self) -> impl Iterator<Item = Vector3<f64>> + '_ {
        self.corners().map(|[a, b, c]| (b - a).cross(&(c - a)).try_normalize(0.0).unwrap_or_default())
    }

    /// Whether it is closed and oriented: every directed edge occurs once, its reverse once, and no
    /// triangle names a vertex twice.
    ///
    /// ```
    /// use nalgebra::Point3;
    /// use quarterturn_geometry::solid::Mesh;
    /// let mut mesh = Mesh::cuboid(&Point3::origin(), &Point3::new(3.0, 2.0, 1.0));
    /// assert!(mesh.is_closed());
    /// assert_eq!(mesh.volume(), 6.0);
    /// mesh.triangles.pop();
    /// assert!(!mesh.is_closed());
    /// ```
    #[must_use]
    pub fn is_closed(&self) -> bool {
        let mut seen: HashMap<(u32, u32), u32> = HashMap::new();
        for [a, b, c] in &self.triangles {
            if a == b || b == c || c == a {
                return false;
            }
            for edge in [(*a, *b), (*b, *c), (*c, *a)] {
                *seen.entry(edge).or_default() += 1;
            }
        }
        !seen.is_empty() && seen.iter().all(|((a, b), n)| *n == 1 && seen.contains_key(&(*b, *a)))
    }

    /// The least height of any triangle over its longest side, mm: 0 where one is degenerate.
    #[must_use]
    pub fn thinnest(&self) -> f64 {
        let height = |[a, b, c]: [Point3<f64>; 3]| {
            let longest = (b - a).norm().max((c - b).norm()).max((a - c).norm());
            if longest > 0.0 { (b - a).cross(&(c - a)).norm() / longest } else { 0.0 }
        };
        self.corners().map(height).fold(f64::INFINITY, f64::min)
    }

    /// A box.
    #[must_use]
    pub fn cuboid(low: &Point3<f64>, high: &Point3<f64>) -> Self {
        let pick = |i: usize, bit: usize, axis: usize| if i & bit == 0 { low[axis] } else { high[axis] };
        let vertices = (0..8).map(|i| Point3::new(pick(i, 1, 0), pick(i, 2, 1), pick(i, 4, 2))).collect();
        let triangles = vec![
            [0, 2, 1],
            [1, 2, 3],
            [4, 5, 6],
            [5, 7, 6],
            [0, 1, 4],
            [1, 5, 4],
            [2, 6, 3],
            [3, 6, 7],
            [0, 4, 2],
            [2, 4, 6],
            [1, 3, 5],
            [3, 7, 5],
        ];
        Self { vertices, triangles }
    }
}

/// A quick hash of coordinates' bits: multiplied and turned, one after another. Nobody gains by making them collide.
#[derive(Default)]
pub(super) struct Mixed(u64);

impl Hasher for Mixed {
    fn finish(&self) -> u64 {
        // Multiplying carries upward alone; a table is addressed by the low bits.
        self.0 ^ (self.0 >> 32)
    }

    fn write(&mut self, bytes: &[u8]) {
        for eight in bytes.chunks(8) {
            let word = eight.iter().rev().fold(0, |word, byte| (word << 8) | u64::from(*byte));
            self.write_u64(word);
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(23) ^ word).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    }

    fn write_usize(&mut self, _: usize) {}
}

/// Hashes so.
pub(super) type Quick = BuildHasherDefault<Mixed>;

/// Builds a mesh from points: equal points (bit by bit) become one vertex.
#[derive(Default)]
pub(super) struct Builder {
    mesh: Mesh,
    known: HashTable<u32>,
}

impl Builder {
    /// The vertex at a point.
    pub(super) fn vertex(&mut self, at: Point3<f64>) -> u32 {
        // Zero is one point, whatever its sign.
        let at = at.map(|c| c + 0.0);
        let vertices = &mut self.mesh.vertices;
        let hash = |p: &Point3<f64>| Quick::default().hash_one([p.x, p.y, p.z].map(f64::to_bits));
        let known = self.known.entry(hash(&at), |i| vertices[*i as usize] == at, |i| hash(&vertices[*i as usize]));
        match known {
            Entry::Occupied(known) => *known.get(),
            Entry::Vacant(place) => {
                let new = u32::try_from(vertices.len()).unwrap_or(u32::MAX);
                place.insert(new);
                vertices.push(at);
                new
            }
        }
    }

    /// The point of a vertex that it gave.
    pub(super) fn at(&self, vertex: u32) -> Point3<f64> {
        self.mesh.vertices[vertex as usize]
    }

    /// Adds a triangle; one with two corners alike is left out.
    pub(super) fn triangle(&mut self, [a, b, c]: [u32; 3]) {
        if a != b && b != c && c != a {
            self.mesh.triangles.push([a, b, c]);
        }
    }

    /// Adds a convex quadrilateral as two triangles.
    pub(super) fn quad(&mut self, [a, b, c, d]: [u32; 4]) {
        self.triangle([a, b, c]);
        self.triangle([a, c, d]);
    }

    pub(super) fn finish(self) -> Mesh {
        self.mesh
    }
}
