//! Light regions (or dark ones, where most is light) of a light map, and their outlines to a part of a cell.
//!
//! Knows the border between light and dark; knows nothing of what shapes are called.

use super::map::{LightMap, Raster};

/// A part of the board that hangs together, of one tone.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// Left, front, right and back ends, mm from the finished board's left front corner.
    pub reach: [f64; 4],
    /// Its area, mm²: the rows' lengths times their height, good to half a row at the front and at the back.
    pub area: f64,
    /// Whether it is cut by the board's left, front, right, back rim.
    pub cut: [bool; 4],
    /// What a line along X meets, row by row from the front: from x to x, mm. Each row by its middle Y.
    pub rows: Vec<Slice>,
    /// What a line along Y meets, column by column from the left.
    pub columns: Vec<Slice>,
}

/// What one straight line across a region meets.
#[derive(Clone, Debug, PartialEq)]
pub struct Slice {
    /// Where the line lies, mm.
    pub at: f64,
    /// From where to where it is in the region, mm, in order.
    pub runs: Vec<[f64; 2]>,
}

impl Slice {
    /// How much of the line is in the region, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.runs.iter().map(|run| run[1] - run[0]).sum()
    }
}

impl Region {
    /// Its length along X, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.reach[2] - self.reach[0]
    }

    /// Its width along Y, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.reach[3] - self.reach[1]
    }

    /// Whether all of it lies within the board.
    #[must_use]
    pub const fn is_closed(&self) -> bool {
        matches!(self.cut, [false, false, false, false])
    }

    /// How nearly left mirrors right and front mirrors back about its own middle: 1 less the part of it whose mirror
    /// image lies outside. 1: exactly.
    #[must_use]
    pub fn symmetry(&self) -> [f64; 2] {
        [mirrored(&self.rows, self.reach[0] + self.reach[2]), mirrored(&self.columns, self.reach[1] + self.reach[3])]
    }
}

/// The share of all runs that their mirror images cover, `twice` being twice the mirror's place.
fn mirrored(slices: &[Slice], twice: f64) -> f64 {
    let (mut all, mut covered) = (0.0, 0.0);
    for slice in slices {
        all += slice.length();
        for a in &slice.runs {
            for b in &slice.runs {
                covered += ((twice - b[0]).min(a[1]) - (twice - b[1]).max(a[0])).max(0.0);
            }
        }
    }
    if all > 0.0 { covered / all } else { 1.0 }
}

/// Smaller regions than this are specks, mm² (our own choice).
const SPECK: f64 = 12.0;

impl LightMap {
    /// The regions of one tone on the `face`-th face that counts, from the front, specks left out; of the dark where
    /// `dark`, else of the light. None where there is no light and dark.
    #[must_use]
    pub fn regions(&self, face: usize, dark: bool) -> Vec<Region> {
        let Some(face) = self.faces.get(face).filter(|_| self.two_tones) else { return Vec::new() };
        let outline = Outline::new(self, face, dark);
        let (labels, count) = outline.labels();
        let mut regions =
            vec![Region { reach: [0.0; 4], area: 0.0, cut: [false; 4], rows: Vec::new(), columns: Vec::new() }; count];
        outline.slice(&labels, false, &mut regions);
        outline.slice(&labels, true, &mut regions);
        for region in &mut regions {
            region.area = region.rows.iter().map(Slice::length).sum::<f64>() * self.row as f64 / 1e3;
            let ends = |slices: &[Slice]| {
                let runs = slices.iter().flat_map(|s| &s.runs);
                runs.fold([f64::INFINITY, f64::NEG_INFINITY], |e, run| [e[0].min(run[0]), e[1].max(run[1])])
            };
            let [[left, right], [front, back]] = [ends(&region.rows), ends(&region.columns)];
            region.reach = [left, front, right, back];
        }
        regions.retain(|region| region.area >= SPECK);
        regions
    }
}

/// No region.
const NONE: usize = usize::MAX;

struct Outline<'a> {
    map: &'a LightMap,
    /// Distance into the tone that is looked for, µm.
    into: Vec<f64>,
    /// Place and blank of each cell.
    pieces: Vec<(usize, u16)>,
    /// X of each column's left edge, and the right end; Y of each row's front edge, and the back.
    edges: [Vec<f64>; 2],
}

impl<'a> Outline<'a> {
    fn new(map: &'a LightMap, face: &Raster, dark: bool) -> Self {
        let sums = |widths: &mut dyn Iterator<Item = u64>| {
            let mut sum = 0;
            let edge = |width| {
                sum += width;
                sum as f64 / 1e3
            };
            std::iter::once(0.0).chain(widths.map(edge)).collect()
        };
        let sign = if dark { -1.0 } else { 1.0 };
        // On the border itself a cell is dark, whichever is looked for.
        let into = |cell: &super::map::Cell| {
            let border = if cell.border == 0 { -1 } else { cell.border };
            sign * f64::from(border)
        };
        let piece = |row: usize| map.places.iter().map(move |place| (*place, map.blanks[*place][row]));
        Self {
            map,
            into: face.cells.iter().map(into).collect(),
            pieces: (0..map.rows).flat_map(piece).collect(),
            edges: [sums(&mut map.columns.iter().copied()), sums(&mut std::iter::repeat_n(map.row, map.rows))],
        }
    }

    /// The number of the region that each cell is of, neighbours across an edge being of one.
    fn labels(&self) -> (Vec<usize>, usize) {
        let (width, mut labels, mut count) = (self.map.columns.len(), vec![NONE; self.into.len()], 0);
        let mut open = Vec::new();
        for start in 0..self.into.len() {
            if labels[start] != NONE || self.into[start] <= 0.0 {
                continue;
            }
            labels[start] = count;
            open.push(start);
            while let Some(at) = open.pop() {
                let column = at % width;
                let beside = [
                    (column > 0).then(|| at - 1),
                    (column + 1 < width).then_some(at + 1),
                    at.checked_sub(width),
                    Some(at + width).filter(|at| *at < self.into.len()),
                ];
                for next in beside.into_iter().flatten() {
                    if labels[next] == NONE && self.into[next] > 0.0 {
                        labels[next] = count;
                        open.push(next);
                    }
                }
            }
            count += 1;
        }
        (labels, count)
    }

    /// Cuts every region into rows, or into columns where `down`.
    fn slice(&self, labels: &[usize], down: bool, regions: &mut [Region]) {
        let (width, rows) = (self.map.columns.len(), self.map.rows);
        let (lines, along) = if down { (width, rows) } else { (rows, width) };
        let index = |line: usize, i: usize| if down { i * width + line } else { line * width + i };
        for line in 0..lines {
            let across = &self.edges[usize::from(!down)];
            let at = 0.5 * (across[line] + across[line + 1]);
            let mut i = 0;
            while i < along {
                let label = labels[index(line, i)];
                let first = i;
                while i < along && labels[index(line, i)] == label {
                    i += 1;
                }
                if label == NONE {
                    continue;
                }
                let end = |before: Option<usize>, after: usize| {
                    let before = before.map(|b| index(line, b));
                    self.crossing(before, (after < along).then(|| index(line, after)), after, down)
                };
                let run = [end(first.checked_sub(1), first), end(Some(i - 1), i)];
                let region = &mut regions[label];
                let low = usize::from(down);
                region.cut[low] |= first == 0;
                region.cut[low + 2] |= i == along;
                let slices = if down { &mut region.columns } else { &mut region.rows };
                match slices.last_mut().filter(|slice| slice.at == at) {
                    Some(slice) => slice.runs.push(run),
                    None => slices.push(Slice { at, runs: vec![run] }),
                }
            }
        }
    }

    /// Where between two neighbouring cells (before and after edge `edge`) the outline runs: by the distances to the
    /// border where both are of one piece, else on the edge, which is near a glue line or the rim.
    fn crossing(&self, before: Option<usize>, after: Option<usize>, edge: usize, down: bool) -> f64 {
        let edges = &self.edges[usize::from(down)];
        let (Some(a), Some(b)) = (before, after) else { return edges[edge] };
        if self.pieces[a] != self.pieces[b] {
            return edges[edge];
        }
        let middle = |i: usize| 0.5 * (edges[i] + edges[i + 1]);
        let t = self.into[a] / (self.into[a] - self.into[b]);
        middle(edge - 1) + t * (middle(edge) - middle(edge - 1))
    }
}
