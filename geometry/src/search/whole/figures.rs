//! Named figures, by computation: a diamond is called so because the border forms one, not because a recipe was
//! followed. What each name means, as a shape:
//!
//! | name | the region |
//! |---|---|
//! | diamond | mirrors itself both ways, is widest in the middle both ways, comes to a point at all four ends |
//! | oval | the same, but fuller |
//! | block | fills its rectangle |
//! | bow tie | mirrors itself both ways, with a waist in the middle; or two triangles tip to tip |
//! | triangle | mirrors itself one way, from a straight side to a point |
//! | chevron | mirrors itself one way, two arms that meet; or an open band across the board that turns back and forth |
//! | stepped band | an open band across the board that jumps aside at glue lines, as bricks do |
//! | stripe | a band across the board that runs straight |
//! | patch | none of these |
//!
//! The thresholds are our own choice. Regions that the rim cuts, other than bands from rim to rim, are only counted.

use super::map::LightMap;
use super::regions::{Region, Slice};

/// What a region's outline forms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// See the module.
    Diamond,
    /// See the module.
    Oval,
    /// See the module.
    Block,
    /// See the module.
    BowTie,
    /// See the module.
    Triangle,
    /// Two arms that meet, closed.
    Chevron,
    /// An open band from rim to rim that turns back and forth: chevrons in a row.
    Zigzag,
    /// See the module.
    Steps,
    /// See the module.
    Stripe,
    /// See the module.
    Patch,
}

impl Shape {
    /// Its name, of one or of several.
    #[must_use]
    pub const fn name(self, several: bool) -> &'static str {
        match (self, several) {
            (Self::Diamond, false) => "diamond",
            (Self::Diamond, true) => "diamonds",
            (Self::Oval, false) => "oval",
            (Self::Oval, true) => "ovals",
            (Self::Block, false) => "block",
            (Self::Block, true) => "blocks",
            (Self::BowTie, false) => "bow tie",
            (Self::BowTie, true) => "bow ties",
            (Self::Triangle, false) => "triangle",
            (Self::Triangle, true) => "triangles",
            (Self::Chevron, false) => "chevron",
            (Self::Chevron, true) => "chevrons",
            (Self::Zigzag, false) => "band of chevrons",
            (Self::Zigzag, true) => "bands of chevrons",
            (Self::Steps, false) => "stepped band",
            (Self::Steps, true) => "stepped bands",
            (Self::Stripe, false) => "stripe",
            (Self::Stripe, true) => "stripes",
            (Self::Patch, false) => "patch",
            (Self::Patch, true) => "patches",
        }
    }
}

/// Figures of one shape and about one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The shape.
    pub shape: Shape,
    /// How many.
    pub count: usize,
    /// Whether they are light on dark, or dark on light.
    pub light: bool,
    /// Length along X, mm: the median.
    pub length: f64,
    /// Width along Y, mm: the median.
    pub width: f64,
    /// How nearly they mirror themselves left to right and front to back, 0 to 1: the means.
    pub symmetry: [f64; 2],
    /// Their area together, mm².
    pub area: f64,
}

/// What one face closes.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// What is closed, or runs from rim to rim, the largest area first.
    pub closed: Vec<Figure>,
    /// How many more regions the rim cuts.
    pub cut_by_rim: usize,
    /// How many of these it only grazes: it cuts a tip off, no wider than a sixth of the region.
    pub grazed: usize,
    /// How nearly it is a chequer: of the length of all glue lines between strips, and of those between blanks, the
    /// part where a piece that is mostly light meets one that is mostly dark; the smaller of the two, 0 to 1.
    pub chequer: f64,
    /// Chevrons formed by the rings: at how many pairs of pieces side by side at a glue line between strips the rings
    /// lean one way in the one and the other way in the other (each by 15 to 75° from the board's length, mean over
    /// the piece).
    pub ring_chevrons: usize,
    /// How many such pairs there are.
    pub pairs: usize,
}

/// About one size: neither length nor width differs by more (our own choice).
const ALIKE: f64 = 0.15;

impl LightMap {
    /// The figures on the `face`-th face that counts: of the light, or, where more than half is light, of the dark.
    /// Sizes are good to about a cell at a point, a tenth of one elsewhere: 1 mm cells are fine enough.
    #[must_use]
    pub fn figures(&self, face: usize) -> Option<Figures> {
        let raster = self.faces.get(face)?;
        let lit = raster.cells.iter().filter(|cell| cell.border > 0).count();
        let dark = 2 * lit > raster.cells.len();
        let regions = self.regions(face, dark);
        let near = 2.0 * self.columns.iter().max().copied().unwrap_or(0).max(self.row) as f64 / 1e3;
        let (mut seen, mut cut_by_rim, mut grazed) = (Vec::new(), 0, 0);
        for region in &regions {
            match named(region) {
                Some(shape) => seen.push(Seen::of(region, shape)),
                None => {
                    cut_by_rim += 1;
                    grazed += usize::from(is_grazed(region));
                }
            }
        }
        let seen = tied_in_bows(seen, near);
        let pieces = Pieces::of(self, face);
        let (ring_chevrons, pairs) = pieces.ring_chevrons(self);
        let (closed, chequer) = (grouped(seen, !dark), pieces.chequer(self));
        Some(Figures { closed, cut_by_rim, grazed, chequer, ring_chevrons, pairs })
    }
}

/// One region with its name.
#[derive(Clone, Debug)]
struct Seen {
    shape: Shape,
    reach: [f64; 4],
    symmetry: [f64; 2],
    area: f64,
    /// Of a triangle: the tip, and the way it points.
    tip: Option<([f64; 2], [f64; 2])>,
}

impl Seen {
    fn of(region: &Region, shape: Shape) -> Self {
        let tip = if shape == Shape::Triangle { tip(region) } else { None };
        Self { shape, reach: region.reach, symmetry: region.symmetry(), area: region.area, tip }
    }

    fn size(&self) -> [f64; 2] {
        [self.reach[2] - self.reach[0], self.reach[3] - self.reach[1]]
    }
}

/// The shape; `None` for what the rim cuts and is no band.
fn named(region: &Region) -> Option<Shape> {
    let [left, front, right, back] = region.cut;
    if region.is_closed() {
        return Some(closed(region));
    }
    if left && right && !(front && back) {
        return band(&region.columns, front, back);
    }
    if front && back && !(left && right) {
        return band(&region.rows, left, right);
    }
    None
}

/// Whether the rim only takes a tip off.
fn is_grazed(region: &Region) -> bool {
    let [left, front, right, back] = region.cut;
    let narrow = |cut: bool, slice: Option<&Slice>, size: f64| !cut || slice.is_none_or(|s| s.length() <= size / 6.0);
    narrow(left, region.columns.first(), region.width())
        && narrow(right, region.columns.last(), region.width())
        && narrow(front, region.rows.first(), region.length())
        && narrow(back, region.rows.last(), region.length())
}

/// Mirrors itself so far, it does.
const MIRRORED: f64 = 0.85;

fn closed(region: &Region) -> Shape {
    let symmetry = region.symmetry();
    let fill = region.area / (region.length() * region.width()).max(f64::MIN_POSITIVE);
    let (rows, columns) = (Profile::of(&region.rows), Profile::of(&region.columns));
    let both = symmetry.iter().all(|s| *s >= MIRRORED);
    if both && fill > 0.9 {
        return Shape::Block;
    }
    if both && [&rows, &columns].iter().all(|p| p.middle >= 0.85) {
        let pointed = [&rows, &columns].iter().all(|p| p.ends[0] <= 0.45 && p.ends[1] <= 0.45);
        if fill <= 0.68 && pointed {
            return Shape::Diamond;
        }
        return if fill >= 0.6 { Shape::Oval } else { Shape::Patch };
    }
    if both && [&rows, &columns].iter().any(|p| p.middle <= 0.4 && p.ends.iter().all(|end| *end >= 0.5)) {
        return Shape::BowTie;
    }
    // Symmetric left to right, the arms lie above one another in rows.
    if (symmetry[0] >= MIRRORED && rows.twofold >= 0.4) || (symmetry[1] >= MIRRORED && columns.twofold >= 0.4) {
        return Shape::Chevron;
    }
    let one_way = (symmetry[0] >= MIRRORED && rows.is_tapered()) || (symmetry[1] >= MIRRORED && columns.is_tapered());
    if one_way && (0.3..=0.72).contains(&fill) { Shape::Triangle } else { Shape::Patch }
}

/// How wide a region is from slice to slice, as a share of the widest.
struct Profile {
    /// A tenth of the way in from both ends.
    ends: [f64; 2],
    /// Halfway.
    middle: f64,
    /// The share of slices that meet the region twice.
    twofold: f64,
}

impl Profile {
    fn of(slices: &[Slice]) -> Self {
        let widths: Vec<f64> = slices.iter().map(Slice::length).collect();
        let most = widths.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
        let last = widths.len().saturating_sub(1);
        let at = |i: usize| widths.get(i).map_or(0.0, |w| w / most);
        let tenth = widths.len() / 10;
        let twofold = slices.iter().filter(|s| s.runs.len() == 2).count() as f64 / slices.len().max(1) as f64;
        Self {
            ends: [at(tenth), at(last.saturating_sub(tenth))],
            middle: 0.5 * (at(last / 2) + at(last.div_ceil(2))),
            twofold,
        }
    }

    /// From wide at one end to a point at the other.
    fn is_tapered(&self) -> bool {
        let [low, high] = self.ends;
        low.min(high) <= 0.35 && low.max(high) >= 0.7 && (0.25..=0.75).contains(&self.middle)
    }
}

/// A triangle's tip, and which way it points.
fn tip(region: &Region) -> Option<([f64; 2], [f64; 2])> {
    let [left, front, right, back] = region.reach;
    let ([rows, columns], middle) =
        ([&region.rows, &region.columns].map(|s| Profile::of(s)), [0.5 * (left + right), 0.5 * (front + back)]);
    if columns.is_tapered() {
        let forward = columns.ends[1] < columns.ends[0];
        return Some(([if forward { right } else { left }, middle[1]], [if forward { 1.0 } else { -1.0 }, 0.0]));
    }
    let forward = rows.ends[1] < rows.ends[0];
    let tip = [middle[0], if forward { back } else { front }];
    rows.is_tapered().then_some((tip, [0.0, if forward { 1.0 } else { -1.0 }]))
}

/// A band from rim to rim, by its slices across: where one of its sides is the rim itself, only the other counts.
fn band(slices: &[Slice], low_rim: bool, high_rim: bool) -> Option<Shape> {
    let single: Vec<[f64; 2]> = slices.iter().filter(|s| s.runs.len() == 1).map(|s| s.runs[0]).collect();
    if (single.len() as f64) < 0.9 * slices.len() as f64 {
        return Some(Shape::Patch);
    }
    let line: Vec<f64> = single
        .iter()
        .map(|[low, high]| match (low_rim, high_rim) {
            (true, _) => *high,
            (_, true) => *low,
            _ => 0.5 * (low + high),
        })
        .collect();
    let (least, most) = line.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(*y), h.max(*y)));
    let mut wide: Vec<f64> = single.iter().map(|[low, high]| high - low).collect();
    wide.sort_by(f64::total_cmp);
    let straight = 2.0_f64.max(0.15 * wide[wide.len() / 2]);
    if most - least <= straight {
        return Some(Shape::Stripe);
    }
    let moves = || line.windows(2).map(|pair| (pair[1] - pair[0]).abs());
    let jumps: f64 = moves().filter(|by| *by > 0.2 * (most - least)).sum();
    if jumps > 0.5 * moves().sum::<f64>() {
        return Some(Shape::Steps);
    }
    Some(if turning_points(&line, 0.4 * (most - least)) >= 2 { Shape::Zigzag } else { Shape::Patch })
}

/// How often a line turns back by at least `by`.
fn turning_points(line: &[f64], by: f64) -> usize {
    let (mut low, mut high, mut rising, mut turns) = (line[0], line[0], None, 0);
    for y in line {
        (low, high) = (low.min(*y), high.max(*y));
        let turned = match rising {
            Some(true) => high - y >= by,
            Some(false) => y - low >= by,
            None => high - y >= by || y - low >= by,
        };
        if turned {
            turns += usize::from(rising.is_some());
            rising = Some(rising.map_or(y - low >= by, |up| !up));
            (low, high) = (*y, *y);
        }
    }
    turns
}

/// Triangles tip to tip are bow ties.
fn tied_in_bows(mut seen: Vec<Seen>, near: f64) -> Vec<Seen> {
    let mut i = 0;
    while i < seen.len() {
        let mate = seen[i].tip.and_then(|(tip, way)| {
            (i + 1..seen.len()).find(|j| {
                seen[*j].tip.is_some_and(|(other, back)| {
                    (tip[0] - other[0]).hypot(tip[1] - other[1]) <= near && way[0] == -back[0] && way[1] == -back[1]
                })
            })
        });
        if let Some(mate) = mate {
            let other = seen.remove(mate);
            let one = &mut seen[i];
            let [a, b] = [one.reach, other.reach];
            one.reach = [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])];
            one.area += other.area;
            one.symmetry = [0, 1].map(|k| 0.5 * (one.symmetry[k] + other.symmetry[k]));
            (one.shape, one.tip) = (Shape::BowTie, None);
        }
        i += 1;
    }
    seen
}

/// Put together by shape and size, the largest area first.
fn grouped(seen: Vec<Seen>, light: bool) -> Vec<Figure> {
    let mut groups: Vec<Vec<Seen>> = Vec::new();
    for one in seen {
        let size = one.size();
        let alike = |group: &Vec<Seen>| {
            let of = group[0].size();
            let near = |a: f64, b: f64| (a - b).abs() <= ALIKE * a.max(b);
            group[0].shape == one.shape && near(of[0], size[0]) && near(of[1], size[1])
        };
        match groups.iter_mut().find(|group| alike(group)) {
            Some(group) => group.push(one),
            None => groups.push(vec![one]),
        }
    }
    let figure = |group: &Vec<Seen>| {
        let median = |which: usize| {
            let mut all: Vec<f64> = group.iter().map(|s| s.size()[which]).collect();
            all.sort_by(f64::total_cmp);
            all[all.len() / 2]
        };
        let count = group.len();
        let symmetry = [0, 1].map(|k| group.iter().map(|s| s.symmetry[k]).sum::<f64>() / count as f64);
        let area = group.iter().map(|s| s.area).sum();
        Figure { shape: group[0].shape, count, light, length: median(0), width: median(1), symmetry, area }
    };
    let mut figures: Vec<Figure> = groups.iter().map(figure).collect();
    figures.sort_by(|a, b| b.area.total_cmp(&a.area));
    figures
}

/// Each piece's tone and how its rings lean, by place and blank.
struct Pieces {
    blanks: usize,
    /// Cells, light cells, and the sum of their [`super::map::Cell::lean`].
    sums: Vec<(i64, i64, [i64; 2])>,
}

impl Pieces {
    fn of(map: &LightMap, face: usize) -> Self {
        let blanks = map.blanks.iter().flatten().map(|blank| usize::from(*blank) + 1).max().unwrap_or(1);
        let mut sums = vec![(0, 0, [0; 2]); blanks * map.blanks.len()];
        for (row, line) in map.faces[face].cells.chunks_exact(map.columns.len()).enumerate() {
            for (cell, place) in line.iter().zip(&map.places) {
                let sum = &mut sums[place * blanks + usize::from(map.blanks[*place][row])];
                sum.0 += 1;
                sum.1 += i64::from(cell.border > 0);
                sum.2 = [0, 1].map(|i| sum.2[i] + i64::from(cell.lean[i]));
            }
        }
        Self { blanks, sums }
    }

    fn at(&self, map: &LightMap, place: usize, row: usize) -> &(i64, i64, [i64; 2]) {
        &self.sums[place * self.blanks + usize::from(map.blanks[place][row])]
    }

    /// See [`Figures::chequer`].
    fn chequer(&self, map: &LightMap) -> f64 {
        if !map.two_tones {
            return 0.0;
        }
        let lit = |place: usize, row: usize| {
            let (all, light, _) = self.at(map, place, row);
            2 * light > *all
        };
        let (mut unlike, mut all) = ([0_u64; 2], [0_u64; 2]);
        for column in map.joints() {
            let (left, right) = (map.places[column], map.places[column + 1]);
            unlike[0] += (0..map.rows).filter(|row| lit(left, *row) != lit(right, *row)).count() as u64;
            all[0] += map.rows as u64;
        }
        for (place, blanks) in map.blanks.iter().enumerate() {
            let joints = (1..map.rows).filter(|row| blanks[row - 1] != blanks[*row]);
            for row in joints {
                unlike[1] += u64::from(lit(place, row - 1) != lit(place, row));
                all[1] += 1;
            }
        }
        if all.contains(&0) { 0.0 } else { (0..2).map(|i| unlike[i] as f64 / all[i] as f64).fold(1.0, f64::min) }
    }

    /// See [`Figures::ring_chevrons`].
    fn ring_chevrons(&self, map: &LightMap) -> (usize, usize) {
        let (mut chevrons, mut pairs) = (0, 0);
        for column in map.joints() {
            let (left, right) = (map.places[column], map.places[column + 1]);
            let mut before = None;
            for row in 0..map.rows {
                let pair = (map.blanks[left][row], map.blanks[right][row]);
                if before.replace(pair) == Some(pair) {
                    continue;
                }
                pairs += 1;
                let leans = [left, right].map(|place| leaning(self.at(map, place, row).2));
                chevrons += usize::from(leans[0] * leans[1] < 0);
            }
        }
        (chevrons, pairs)
    }
}

/// Which way rings lean, from the sum of their doubled angles: 1 up to the right, −1 down, 0 neither.
fn leaning([cos, sin]: [i64; 2]) -> i64 {
    // 2θ within 30 to 150°: |tan(2θ − 90°)| < tan 60°.
    let steep = (cos.abs() as f64) < 3.0_f64.sqrt() * sin.abs() as f64;
    if steep { sin.signum() } else { 0 }
}
