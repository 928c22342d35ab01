//! The measures of a whole lay-up, each defined at its own field of [`Looks`].

use super::super::costs::Laid;
use super::faces::CutFaces;
use super::faults::Faults;
use super::map::{LightMap, Raster};
use super::view::{Blur, View, apart, shares, turned};

/// A lay-up in numbers. Where both faces count, each is the mean over both, unless it says otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looks {
    /// How nearly left mirrors right about the centre line: 1 − D/G, not below 0, with D the mean |ΔL*| between each
    /// cell of the blurred map ([`View`]) and its mirror image, G the same between any two cells of it (Gini's mean
    /// difference). 1: exactly, also where all is one colour; 0: no better than cells picked at random.
    pub left_right: f64,
    /// The same of front and back.
    pub front_back: f64,
    /// The same of the board and itself turned half round.
    pub half_turn: f64,
    /// How nearly the direction of the rings mirrors from left to right: 1 − ½ mean |d − d′|, with d the doubled
    /// direction (cos 2θ, sin 2θ, the mean over a blurred cell) and d′ its mirror image's. 1: exactly; 0: at right
    /// angles everywhere.
    pub rings_left_right: f64,
    /// The same of front and back.
    pub rings_front_back: f64,
    /// The same of the board and itself turned half round.
    pub rings_half_turn: f64,
    /// How evenly light and dark are spread: 1 − √(B/V), with V the variance of L* over the blurred map's cells and B
    /// that of the means over 4 × 4 equal parts of the board. 1: every sixteenth is as light as the whole; 0: each
    /// sixteenth is one even tone.
    pub evenness: f64,
    /// Contrast across glue lines between strips: the mean |ΔL*| of the cells on both sides, 0 to 100.
    pub contrast: f64,
    /// The same across glue lines between blanks; 0 where no panel has two.
    pub contrast_between_blanks: f64,
    /// How much of the board is light, 0 to 1, told apart as [`CutFaces::sample`] says; 0 where nothing is.
    pub light: f64,
    /// How far borders between light and dark miss closing, mm: the mean, over all places where one reaches a glue
    /// line between strips, of the distance along the line to the nearest place on its other side where one goes the
    /// same way (from dark to light or back); 10 mm where none is nearer. `None` where no border reaches one.
    pub misses: Option<f64>,
    /// How many such places there are, both sides of every glue line counted, all faces together.
    pub reach: usize,
    /// How far the figure steps aside at glue lines where it is meant to run on, mm: the mean, over the lines where
    /// the same side of a panel meets itself the same way round, both strips slid alike, of the distance along the
    /// grain between the two stations that meet times the wander along the line (mm for each mm, mean of the two
    /// strips' blanks). Small: the wander is hidden; large: it shows. `None` where there is no such line.
    pub wander_shown: Option<f64>,
    /// What faults of the panels do to it.
    pub faults: Faults,
    /// The finished board's length, mm, the larger of the two trims taken off both ends.
    pub length: f64,
    /// How many strips it takes.
    pub strips: usize,
}

/// One of the measures, for those who list, weigh or rank them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Aspect {
    /// [`Looks::left_right`].
    LeftRight,
    /// [`Looks::front_back`].
    FrontBack,
    /// [`Looks::half_turn`].
    HalfTurn,
    /// [`Looks::rings_left_right`].
    RingsLeftRight,
    /// [`Looks::rings_front_back`].
    RingsFrontBack,
    /// [`Looks::rings_half_turn`].
    RingsHalfTurn,
    /// [`Looks::evenness`].
    Evenness,
    /// [`Looks::contrast`].
    Contrast,
    /// [`Looks::contrast_between_blanks`].
    ContrastBetweenBlanks,
    /// [`Looks::light`].
    Light,
    /// [`Looks::misses`].
    Misses,
    /// [`Looks::wander_shown`].
    WanderShown,
    /// [`Faults::fan`].
    Fan,
    /// [`Faults::arch`].
    Arch,
    /// [`Faults::teeth`].
    Teeth,
    /// [`Looks::length`].
    Length,
    /// [`Looks::strips`].
    Strips,
}

impl Aspect {
    /// All of them.
    pub const ALL: [Self; 17] = [
        Self::LeftRight,
        Self::FrontBack,
        Self::HalfTurn,
        Self::RingsLeftRight,
        Self::RingsFrontBack,
        Self::RingsHalfTurn,
        Self::Evenness,
        Self::Contrast,
        Self::ContrastBetweenBlanks,
        Self::Light,
        Self::Misses,
        Self::WanderShown,
        Self::Fan,
        Self::Arch,
        Self::Teeth,
        Self::Length,
        Self::Strips,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::LeftRight => "left mirrors right",
            Self::FrontBack => "front mirrors back",
            Self::HalfTurn => "same turned half round",
            Self::RingsLeftRight => "rings mirror left to right",
            Self::RingsFrontBack => "rings mirror front to back",
            Self::RingsHalfTurn => "rings same turned half round",
            Self::Evenness => "evenness of light and dark",
            Self::Contrast => "contrast across glue lines between strips",
            Self::ContrastBetweenBlanks => "contrast across glue lines between blanks",
            Self::Light => "share of light wood",
            Self::Misses => "lines miss closing by",
            Self::WanderShown => "wander shown",
            Self::Fan => "one side longer, from taper across",
            Self::Arch => "one face longer, from taper along",
            Self::Teeth => "teeth, from a leaning blade",
            Self::Length => "length",
            Self::Strips => "strips",
        }
    }

    /// The unit: "mm", "L*", "strips", or none for a share from 0 to 1.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Contrast | Self::ContrastBetweenBlanks => "L*",
            Self::Misses | Self::WanderShown | Self::Fan | Self::Arch | Self::Teeth | Self::Length => "mm",
            Self::Strips => "strips",
            _ => "",
        }
    }

    /// Whether more of it is better, less is, or neither.
    #[must_use]
    pub const fn more_is_better(self) -> Option<bool> {
        match self {
            Self::LeftRight | Self::FrontBack | Self::HalfTurn | Self::Evenness => Some(true),
            Self::RingsLeftRight | Self::RingsFrontBack | Self::RingsHalfTurn => Some(true),
            Self::Contrast | Self::ContrastBetweenBlanks => Some(true),
            Self::Misses | Self::WanderShown | Self::Fan | Self::Arch | Self::Teeth => Some(false),
            Self::Light | Self::Length | Self::Strips => None,
        }
    }

    /// Its value.
    #[must_use]
    pub fn of(self, looks: &Looks) -> Option<f64> {
        Some(match self {
            Self::LeftRight => looks.left_right,
            Self::FrontBack => looks.front_back,
            Self::HalfTurn => looks.half_turn,
            Self::RingsLeftRight => looks.rings_left_right,
            Self::RingsFrontBack => looks.rings_front_back,
            Self::RingsHalfTurn => looks.rings_half_turn,
            Self::Evenness => looks.evenness,
            Self::Contrast => looks.contrast,
            Self::ContrastBetweenBlanks => looks.contrast_between_blanks,
            Self::Light => looks.light,
            Self::Misses => return looks.misses,
            Self::WanderShown => return looks.wander_shown,
            Self::Fan => looks.faults.fan,
            Self::Arch => looks.faults.arch,
            Self::Teeth => looks.faults.teeth,
            Self::Length => looks.length,
            Self::Strips => looks.strips as f64,
        })
    }
}

impl CutFaces {
    /// A lay-up in numbers; `None` where [`CutFaces::lay`] gives none.
    #[must_use]
    pub fn looks(&self, laid: &[Laid]) -> Option<Looks> {
        let map = self.lay(laid)?;
        Some(self.looks_of(laid, &map, &map.view()))
    }

    /// The same from the map and the view of it, where they are wanted too.
    #[must_use]
    pub fn looks_of(&self, laid: &[Laid], map: &LightMap, view: &View) -> Looks {
        let tones = Tones::of(view);
        let [between_strips, between_blanks] = contrasts(map);
        let (misses, reach) = missing(map);
        let (light, cells) = map.faces.iter().map(|face| light(map, face)).fold((0, 0), |s, f| (s.0 + f.0, s.1 + f.1));
        Looks {
            left_right: tones.mirrored(true, false),
            front_back: tones.mirrored(false, true),
            half_turn: tones.mirrored(true, true),
            rings_left_right: tones.rings_mirrored(true, false),
            rings_front_back: tones.rings_mirrored(false, true),
            rings_half_turn: tones.rings_mirrored(true, true),
            evenness: tones.evenness(),
            contrast: between_strips,
            contrast_between_blanks: between_blanks,
            light: if cells > 0 { light as f64 / cells as f64 } else { 0.0 },
            misses,
            reach,
            wander_shown: self.wander_shown(laid),
            faults: self.faults(laid),
            length: map.length(),
            strips: laid.len(),
        }
    }

    /// See [`Looks::wander_shown`].
    fn wander_shown(&self, laid: &[Laid]) -> Option<f64> {
        let mut steps = Vec::new();
        for pair in laid.windows(2) {
            let (Some(a), Some(b)) = (self.strips.get(pair[0].strip), self.strips.get(pair[1].strip)) else { continue };
            let [one, two] = [pair[0].turn(), pair[1].turn()];
            let side = one.upper_face_to_the_right() != two.upper_face_to_the_right();
            let way = one.first_blank_in_front() == two.first_blank_in_front();
            // Computed exactly: equal where they are slid alike.
            if a.panel != b.panel || !side || !way || a.off != b.off {
                continue;
            }
            let wander = &self.panels[a.panel].wander;
            let slope = wander.iter().map(|w| w.abs()).sum::<f64>() / wander.len().max(1) as f64;
            for (face, apart) in self.apart.iter().enumerate() {
                let upper = self.faces[face] == crate::board::Face::Upper;
                let far = |turn: crate::layup::Turn| f64::from(u8::from(turn.far_face_up() == upper)) * apart;
                steps.push((a.near[face] + far(one) - b.near[face] - far(two)).abs() * slope);
            }
        }
        mean(&mut steps)
    }
}

/// The mean in an order of its own, so that the same numbers give the same mean in any order.
pub(super) fn mean(of: &mut [f64]) -> Option<f64> {
    of.sort_by(f64::total_cmp);
    (!of.is_empty()).then(|| of.iter().sum::<f64>() / of.len() as f64)
}

/// The lightness of a view, in thousandths of L*, and how its rings run.
struct Tones<'a> {
    columns: usize,
    rows: usize,
    faces: Vec<Vec<i64>>,
    view: &'a View,
}

impl<'a> Tones<'a> {
    #[allow(clippy::cast_possible_truncation)]
    fn of(view: &'a View) -> Self {
        let tones = |face: &Vec<Blur>| face.iter().map(|blur| (blur.lab.l * 1e3).round() as i64).collect();
        Self { columns: view.columns, rows: view.rows, faces: view.faces.iter().map(tones).collect(), view }
    }

    /// 1 − D/G: see [`Looks::left_right`].
    fn mirrored(&self, columns: bool, rows: bool) -> f64 {
        let mut unlike = 0;
        for face in &self.faces {
            for (row, line) in face.chunks_exact(self.columns).enumerate() {
                let other = if rows { self.rows - 1 - row } else { row };
                let other = &face[other * self.columns..][..self.columns];
                unlike += if columns {
                    line.iter().zip(other.iter().rev()).map(|(a, b)| a.abs_diff(*b)).sum::<u64>()
                } else {
                    line.iter().zip(other).map(|(a, b)| a.abs_diff(*b)).sum()
                };
            }
        }
        let (unlike, any) = (unlike as f64, self.faces.iter().map(|face| any_two(face)).sum::<f64>());
        if unlike == 0.0 || any == 0.0 { 1.0 } else { (1.0 - unlike / any).max(0.0) }
    }

    /// See [`Looks::rings_left_right`].
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn rings_mirrored(&self, columns: bool, rows: bool) -> f64 {
        let (mut unlike, mut count) = (0, 0);
        for face in &self.view.faces {
            for (i, blur) in face.iter().enumerate() {
                let (row, column) = (i / self.columns, i % self.columns);
                let row = if rows { self.rows - 1 - row } else { row };
                let column = if columns { self.columns - 1 - column } else { column };
                let image = turned(face[row * self.columns + column].lean, columns != rows);
                // Whole numbers, whose sum has no order.
                unlike += (apart(blur.lean, image) * 1e6).round() as u64;
                count += 1;
            }
        }
        (1.0 - unlike as f64 / f64::from(count.max(1)) / 2e6).max(0.0)
    }

    /// See [`Looks::evenness`].
    fn evenness(&self) -> f64 {
        const PARTS: usize = 4;
        let (across, down) = (shares(&vec![1; self.columns], PARTS), shares(&vec![1; self.rows], PARTS));
        let part = (self.columns * self.rows) as i128;
        // All in units in which a cell weighs PARTS², a part columns × rows.
        let (mut between, mut all) = (0_i128, 0_i128);
        for face in &self.faces {
            let mut parts = [[0_i128; PARTS]; PARTS];
            for (row, down, height) in &down {
                for (column, across, width) in &across {
                    parts[*down][*across] += i128::from(face[row * self.columns + column]) * i128::from(width * height);
                }
            }
            let sum: i128 = face.iter().map(|l| i128::from(*l)).sum();
            let squares: i128 = face.iter().map(|l| i128::from(*l) * i128::from(*l)).sum();
            let count = (PARTS * PARTS) as i128;
            // Both variances times part² × count; the mean of all is sum / part.
            all += (squares * part - sum * sum) * count;
            between += parts.iter().flatten().map(|p| p * p).sum::<i128>() - sum * sum * count;
        }
        if all <= 0 { 1.0 } else { (1.0 - (between.max(0) as f64 / all as f64).sqrt()).max(0.0) }
    }
}

/// The sum, over as many pairs as there are cells, of the mean |Δ| of any two cells: Gini's mean difference times
/// their number.
fn any_two(tones: &[i64]) -> f64 {
    let mut sorted = tones.to_vec();
    sorted.sort_unstable();
    let count = sorted.len() as i128;
    let weighed = sorted.iter().enumerate().map(|(i, t)| i128::from(*t) * (2 * i as i128 + 1 - count)).sum::<i128>();
    2.0 * weighed as f64 / count.max(1) as f64
}

/// The mean |ΔL*| across glue lines between strips and between blanks.
fn contrasts(map: &LightMap) -> [f64; 2] {
    let width = map.columns.len();
    let (mut sums, mut weights) = ([0_u64; 2], [0_u64; 2]);
    let mut add = |which: usize, a: i32, b: i32, weight: u64| {
        sums[which] += u64::from(a.abs_diff(b)) * weight;
        weights[which] += weight;
    };
    for face in &map.faces {
        for column in map.joints() {
            for line in face.cells.chunks_exact(width) {
                add(0, line[column].lightness, line[column + 1].lightness, 1);
            }
        }
        for row in 1..map.rows {
            for (column, (place, wide)) in map.places.iter().zip(&map.columns).enumerate() {
                if map.blanks[*place][row - 1] != map.blanks[*place][row] {
                    let at = row * width + column;
                    add(1, face.cells[at - width].lightness, face.cells[at].lightness, *wide);
                }
            }
        }
    }
    [0, 1].map(|i| if weights[i] > 0 { sums[i] as f64 / weights[i] as f64 / 1e3 } else { 0.0 })
}

fn light(map: &LightMap, face: &Raster) -> (u64, u64) {
    let lit = |cell: &super::map::Cell| u64::from(cell.border > 0 && map.two_tones);
    face.cells.chunks_exact(map.columns.len()).fold((0, 0), |sums, line| {
        let widths = line.iter().zip(&map.columns);
        widths.fold(sums, |(light, all), (cell, wide)| (light + wide * lit(cell), all + wide))
    })
}

/// Farther apart than this two ends of a border have nothing to do with one another, mm (our own choice).
const APART: f64 = 10.0;

/// See [`Looks::misses`], and [`Looks::reach`].
fn missing(map: &LightMap) -> (Option<f64>, usize) {
    let mut all = Vec::new();
    if !map.two_tones {
        return (None, 0);
    }
    for face in &map.faces {
        for column in map.joints() {
            let (left, right) = (map.places[column], map.places[column + 1]);
            let one = crossings(&face.edges[left][1], &map.blanks[left], map.row);
            let other = crossings(&face.edges[right][0], &map.blanks[right], map.row);
            for (from, to) in [(&one, &other), (&other, &one)] {
                all.extend(from.iter().map(|(place, lighter)| {
                    let like = to.iter().filter(|(_, way)| way == lighter);
                    like.map(|(there, _)| (there - place).abs()).fold(APART, f64::min)
                }));
            }
        }
    }
    let reach = all.len();
    (mean(&mut all), reach)
}

/// Where along an edge the border is crossed, mm from the middle of the board, and whether it gets lighter toward the
/// back. A change at a glue line between blanks is no border.
pub(super) fn crossings(line: &[i32], blanks: &[u16], row: u64) -> Vec<(f64, bool)> {
    let middle = (line.len() as f64 - 1.0) / 2.0;
    let mut found = Vec::new();
    for (i, (pair, of)) in line.windows(2).zip(blanks.windows(2)).enumerate() {
        let lighter = pair[1] > 0;
        if of[0] != of[1] || (pair[0] > 0) == lighter {
            continue;
        }
        // From the middle of the pair, so that the mirror image gives the same with the other sign.
        let (a, b) = (f64::from(pair[0]), f64::from(pair[1]));
        let off = 0.5 * (a + b) / (a - b);
        found.push(((i as f64 + 0.5 - middle + off) * row as f64 / 1e3, lighter));
    }
    found
}
