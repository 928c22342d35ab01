//! Each strip's cut faces, sampled once: a turn then only chooses which of them is up, and how it lies.
//!
//! Of every strip the stretch that all strips of the stock cover is sampled. Where strips are slid unlike, a strip laid
//! Y = x has another part of the panel in that stretch than laid Y = W − x: then it is sampled for both.

use super::super::draws::{Draw, moved};
use super::super::edges::FacesCounted;
use super::super::stock::{Cover, EdgesError, Stock};
use super::faults::PanelFaults;
use super::map::Cell;
use crate::board::Face;
use crate::stock::Panel;
use crate::wood::{Figure, Lab};
use nalgebra::{Point3, Vector2};

/// A distance that stands for "nowhere near a border", µm.
pub(super) const FAR: i32 = 1_000_000;

/// The cut faces of every strip, in cells.
#[derive(Clone, Debug)]
pub struct CutFaces {
    pub(super) panels: Vec<OfPanel>,
    pub(super) strips: Vec<OfStrip>,
    /// Cells across what all strips cover, front and back trim taken off.
    pub(super) rows: usize,
    /// Their height, µm.
    pub(super) row: u64,
    /// The larger of what left and right lose, mm.
    pub(super) trim: f64,
    /// s, mm.
    pub(super) strip_width: f64,
    pub(super) faces: &'static [Face],
    /// How far apart the two cut faces lie that face `i` of those that count may show, mm: s less twice what it loses.
    pub(super) apart: Vec<f64>,
    /// Whether there is light and dark to tell apart.
    pub(super) two_tones: bool,
}

/// What all strips of a panel have in common.
#[derive(Clone, Debug)]
pub(super) struct OfPanel {
    /// Cells through the thickness.
    pub(super) columns: usize,
    /// Their width, µm.
    pub(super) column: u64,
    /// T, mm.
    pub(super) thickness: f64,
    /// The slope of each blank's figure along panel x, mm for each mm of length.
    pub(super) wander: Vec<f64>,
    pub(super) faults: PanelFaults,
}

/// One strip's cut faces.
#[derive(Clone, Debug)]
pub(super) struct OfStrip {
    pub(super) panel: usize,
    /// The station of the near cut face, each face's flattening taken off, mm, by face that counts.
    pub(super) near: Vec<f64>,
    /// How far the middle of what all strips cover lies from its own, as in [`Cover::off`].
    pub(super) off: f64,
    /// What it shows of the panel laid Y = x, then laid Y = W − x; once where that is the same.
    pub(super) parts: Vec<Part>,
}

/// The part of a strip that lies in what all strips cover.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// The blank that each row shows, by panel x.
    pub(super) blanks: Vec<u16>,
    /// By face that counts, then near or far.
    pub(super) sections: Vec<[Section; 2]>,
}

impl OfStrip {
    /// What it shows laid with the first blank in front (Y = x), or at the back.
    pub(super) fn part(&self, first_blank_in_front: bool) -> &Part {
        &self.parts[if first_blank_in_front { 0 } else { self.parts.len() - 1 }]
    }
}

/// The wood at one station.
#[derive(Clone, Debug, Default)]
pub(super) struct Section {
    /// By panel x, then y.
    pub(super) cells: Vec<Cell>,
    /// The border between light and dark at y = 0 and y = T, by panel x, µm.
    pub(super) edges: [Vec<i32>; 2],
}

impl CutFaces {
    /// The most cells of one cut face.
    pub const MOST_CELLS: usize = 1 << 20;
    /// The most cells of all cut faces together (half a gigabyte).
    pub const MOST_IN_ALL: usize = 1 << 24;

    /// Samples the cut faces in cells of about `pixel` mm, each the colour over a spot of that size.
    ///
    /// Light and dark are told apart halfway between the lightest and the darkest of the woods' heartwood and sapwood
    /// that cover at least a fiftieth of these strips; where the two are fewer than 10 L* apart there is no light and
    /// dark (our own choice).
    ///
    /// # Errors
    /// [`EdgesError`] where strips and panels don't fit together, or nothing is left to sample.
    pub fn sample(stock: &Stock<'_>, faces: FacesCounted, pixel: f64) -> Result<Self, EdgesError> {
        Self::sampled(stock, faces, pixel, None)
    }

    /// The same in the wood as it may also be.
    ///
    /// # Errors
    /// As [`CutFaces::sample`].
    pub fn drawn(stock: &Stock<'_>, faces: FacesCounted, pixel: f64, draw: &Draw) -> Result<Self, EdgesError> {
        Self::sampled(stock, faces, pixel, Some(draw))
    }

    fn sampled(stock: &Stock<'_>, faces: FacesCounted, pixel: f64, draw: Option<&Draw>) -> Result<Self, EdgesError> {
        let cover = stock.cover()?;
        let (rows, height) = rows(&cover, pixel)?;
        let mut panels = Vec::new();
        for (panel, _) in stock.panels {
            panels.push(OfPanel::new(panel, pixel)?);
        }
        let cells = panels.iter().map(|p| p.columns * rows).max().unwrap_or(0);
        let parts: usize = cover.off.iter().map(|off| cover.middles(*off).len()).sum();
        let stations = 2 * faces.faces().len() * parts;
        if cells > Self::MOST_CELLS || cells * stations > Self::MOST_IN_ALL {
            return Err(EdgesError::Samples);
        }
        let sampler = Sampler { stock, rows, height, pixel, draw };
        let strips = sampler.strips(faces.faces(), &cover, &panels);
        let mut all = Self {
            rows,
            row: micrometres(height),
            trim: stock.trims.left.max(stock.trims.right).max(0.0),
            apart: faces.faces().iter().map(|face| stock.width.mm() - 2.0 * sampler.taken(*face)).collect(),
            strip_width: stock.width.mm(),
            faces: faces.faces(),
            two_tones: false,
            panels,
            strips,
        };
        all.tell_light_from_dark(stock);
        Ok(all)
    }

    /// How many strips there are.
    #[must_use]
    pub const fn strips(&self) -> usize {
        self.strips.len()
    }

    /// Turns the distances from the heartwood line into distances from the border between light and dark.
    fn tell_light_from_dark(&mut self, stock: &Stock<'_>) {
        let tones: Vec<Vec<[f64; 2]>> = stock.panels.iter().map(|(panel, _)| tones(panel)).collect();
        let mut counts: Vec<Vec<[usize; 2]>> = tones.iter().map(|t| vec![[0; 2]; t.len()]).collect();
        let mut all = 0;
        for strip in &self.strips {
            let columns = self.panels[strip.panel].columns;
            // Both ways that it may lie count, alike or not.
            for part in [true, false].map(|in_front| strip.part(in_front)) {
                for section in part.sections.iter().flatten() {
                    for (row, blank) in section.cells.chunks_exact(columns).zip(&part.blanks) {
                        let sap = row.iter().filter(|cell| cell.border > 0).count();
                        let count = &mut counts[strip.panel][usize::from(*blank)];
                        *count = [count[0] + columns - sap, count[1] + sap];
                        all += columns;
                    }
                }
            }
        }
        let seen = counts.iter().flatten().flatten().zip(tones.iter().flatten().flatten());
        let there = seen.filter(|(count, _)| **count * 50 >= all).map(|(_, tone)| *tone);
        let (low, high) = there.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), t| (t.min(l), t.max(h)));
        self.two_tones = high - low >= LEAST_CONTRAST;
        let middle = (low + high) / 2.0;
        for strip in &mut self.strips {
            let (columns, tones) = (self.panels[strip.panel].columns, &tones[strip.panel]);
            for Part { blanks, sections } in &mut strip.parts {
                for section in sections.iter_mut().flatten() {
                    for (x, blank) in blanks.iter().enumerate() {
                        let light = tones[usize::from(*blank)].map(|tone| tone > middle);
                        let row = &mut section.cells[x * columns..(x + 1) * columns];
                        row.iter_mut().for_each(|cell| cell.border = border(light, cell.border));
                        section.edges.iter_mut().for_each(|edge| edge[x] = border(light, edge[x]));
                    }
                }
            }
        }
    }
}

/// Fewer than so many L* apart, nothing is light or dark (our own choice).
const LEAST_CONTRAST: f64 = 10.0;

/// Distance into the light, from whether heartwood and sapwood are light and the distance out of the heartwood, µm.
const fn border(light: [bool; 2], beyond: i32) -> i32 {
    match light {
        [false, false] => -FAR,
        [false, true] => beyond,
        [true, false] => -beyond,
        [true, true] => FAR,
    }
}

/// L* of each blank's heartwood and sapwood.
fn tones(panel: &Panel) -> Vec<[f64; 2]> {
    let tones = |figure: &Figure| [figure.wood().heartwood, figure.wood().sapwood].map(|colour| Lab::of(colour).l);
    panel.blanks.iter().map(|laid| tones(&laid.blank.figure)).collect()
}

/// How many rows, and their height.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn rows(cover: &Cover, pixel: f64) -> Result<(usize, f64), EdgesError> {
    let across = cover.across;
    let rows = (across / pixel).round().max(1.0);
    if !(pixel > 0.0 && across > 0.0 && rows < CutFaces::MOST_CELLS as f64) {
        return Err(EdgesError::Samples);
    }
    Ok((rows as usize, across / rows))
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn micrometres(length: f64) -> u64 {
    (length * 1e3).round().max(1.0) as u64
}

impl OfPanel {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn new(panel: &Panel, pixel: f64) -> Result<Self, EdgesError> {
        let thickness = panel.thickness().mm();
        let columns = (thickness / pixel).round().max(1.0);
        if panel.blanks.is_empty() || !(thickness > 0.0 && columns < CutFaces::MOST_CELLS as f64) {
            return Err(EdgesError::Samples);
        }
        Ok(Self {
            columns: columns as usize,
            column: micrometres(thickness / columns),
            thickness,
            wander: panel.blanks.iter().map(|laid| super::faults::slope(laid).x).collect(),
            faults: PanelFaults::of(panel),
        })
    }
}

/// The middle of cell `i` of `count`, so that the cells lie symmetrically about `middle`.
fn place(i: usize, count: usize, size: f64, middle: f64) -> f64 {
    middle + (i as f64 - (count as f64 - 1.0) / 2.0) * size
}

/// Samples one stock.
struct Sampler<'a> {
    stock: &'a Stock<'a>,
    rows: usize,
    height: f64,
    pixel: f64,
    draw: Option<&'a Draw>,
}

impl Sampler<'_> {
    fn strips(&self, faces: &[Face], cover: &Cover, panels: &[OfPanel]) -> Vec<OfStrip> {
        let width = self.stock.width;
        let strip = |((number, strip), off): (&(usize, i64), &f64)| {
            let (panel, crosscut) = &self.stock.panels[*number];
            let start = crosscut.station(*strip, width).mm();
            let stations: Vec<[f64; 2]> = faces
                .iter()
                .map(|face| self.taken(*face))
                .map(|taken| [start + taken, start + width.mm() - taken])
                .collect();
            let part = |middle: f64| Part {
                blanks: self.blanks(panel, middle),
                sections: self.sections(*number, &panels[*number], &stations, middle),
            };
            let near = stations.iter().map(|[near, _]| *near).collect();
            OfStrip { panel: *number, near, off: *off, parts: cover.middles(*off).map(part).collect() }
        };
        self.stock.strips.iter().zip(&cover.off).map(strip).collect()
    }

    const fn taken(&self, face: Face) -> f64 {
        match face {
            Face::Upper => self.stock.trims.upper,
            Face::Lower => self.stock.trims.lower,
        }
    }

    /// The panel's x of each row.
    fn rows(&self, middle: f64) -> impl Iterator<Item = f64> + '_ {
        (0..self.rows).map(move |row| place(row, self.rows, self.height, middle))
    }

    #[allow(clippy::cast_possible_truncation)]
    fn blanks(&self, panel: &Panel, middle: f64) -> Vec<u16> {
        let blank = |x: f64| panel.wood_at(&Point3::new(x, 0.0, 0.0)).map_or(0, |(blank, _)| blank as u16);
        self.rows(middle).map(blank).collect()
    }

    /// By face, then near or far.
    fn sections(&self, number: usize, of: &OfPanel, stations: &[[f64; 2]], middle: f64) -> Vec<[Section; 2]> {
        let mut sections = Vec::<[Section; 2]>::new();
        for both in stations {
            // What both faces lose alike shows the same two sections on both.
            let both = match sections.first() {
                Some(first) if *both == stations[0] => first.clone(),
                _ => both.map(|z| self.section(number, of, z, middle)),
            };
            sections.push(both);
        }
        sections
    }

    fn section(&self, number: usize, of: &OfPanel, z: f64, middle: f64) -> Section {
        let panel = &self.stock.panels[number].0;
        let shifts = self.draw.map_or_else(Vec::new, |draw| draw.shifts(number, panel, z));
        let thickness = of.thickness;
        let mut section = Section { cells: Vec::with_capacity(self.rows * of.columns), ..Section::default() };
        for x in self.rows(middle) {
            for column in 0..of.columns {
                let y = place(column, of.columns, thickness / of.columns as f64, thickness / 2.0);
                section.cells.push(self.cell(panel, &shifts, Point3::new(x, y, z)));
            }
            for (edge, y) in section.edges.iter_mut().zip([0.0, thickness]) {
                let wood = wood(panel, &shifts, Point3::new(x, y, z));
                edge.push(wood.map_or(-FAR, |(figure, at)| beyond(figure, &at)));
            }
        }
        section
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn cell(&self, panel: &Panel, shifts: &[Vector2<f64>], at: Point3<f64>) -> Cell {
        /// Between the points that a ring's direction is taken from, mm.
        const STEP: f64 = 0.2;
        let Some((figure, point)) = wood(panel, shifts, at) else { return Cell::default() };
        let colour = figure.colour(&point, self.pixel);
        let light = [colour.r, colour.g, colour.b].map(|c| (c.clamp(0.0, 1.0) * 65_535.0).round() as u16);
        let ring = figure.ring(&point);
        let rise = |dx: f64, dy: f64| {
            let beside = |sign: f64| {
                let there = wood(panel, shifts, Point3::new(at.x + sign * dx, at.y + sign * dy, at.z));
                there.filter(|(other, _)| std::ptr::eq(*other, figure)).map(|(_, point)| figure.ring(&point))
            };
            match (beside(-1.0), beside(1.0)) {
                (Some(low), Some(high)) => high - low,
                (Some(low), None) => 2.0 * (ring - low),
                (None, Some(high)) => 2.0 * (high - ring),
                (None, None) => 0.0,
            }
        };
        let (along, away) = (rise(STEP, 0.0), rise(0.0, STEP));
        let square = along * along + away * away;
        // The ring runs at right angles to its steepest rise; X = y, Y = x.
        let lean =
            [along * along - away * away, -2.0 * along * away].map(|c| if square > 0.0 { c / square } else { 0.0 });
        Cell {
            light,
            lightness: (Lab::of(colour).l * 1e3).round() as i32,
            border: beyond(figure, &point),
            lean: lean.map(|c| (c * 1e3).round() as i16),
        }
    }
}

/// The wood at a point of a panel whose blanks' figures are shifted so.
fn wood<'p>(panel: &'p Panel, shifts: &[Vector2<f64>], at: Point3<f64>) -> Option<(&'p Figure, Point3<f64>)> {
    let (blank, at) = panel.wood_at(&at)?;
    Some((&panel.blanks.get(blank)?.blank.figure, moved(shifts, blank, at)))
}

#[allow(clippy::cast_possible_truncation)]
fn beyond(figure: &Figure, at: &Point3<f64>) -> i32 {
    (figure.beyond_heartwood(at) * 1e3).round().clamp(-f64::from(FAR), f64::from(FAR)) as i32
}
