//! The wood along both edges of every strip, on the faces that count.
//!
//! Whatever the turn, an edge of a strip on a face of the board shows one of four lines of the
//! panel: at y = 0 or y = T (which panel face meets the glue line) and at the station near the
//! near or the far end of the strip, f or g taken off. Each is sampled once, in the panel's x, at
//! points that lie symmetrically about the middle of what every strip covers; a turn then only
//! chooses a line and whether it is read from the front or from the back. So turning the whole
//! board half round, every slide's sign changed with it, changes not one number.
//!
//! Where a strip isn't slid halfway between the least and the largest slide, that
//! middle isn't its own: laid Y = x it reaches another part of the panel than laid Y = W − x, and
//! its lines are sampled for both.

use super::draws::{Draw, moved};
use super::lines::Line;
use super::stock::{Cover, EdgesError, Stock};
use crate::board::Face;
use crate::layup::Turn;
use crate::stock::Panel;
use nalgebra::{Point3, Vector2};

/// Which faces of the board count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum FacesCounted {
    /// The upper one.
    #[default]
    Upper,
    /// Both, alike.
    Both,
}

impl FacesCounted {
    pub(super) const fn faces(self) -> &'static [Face] {
        match self {
            Self::Upper => &[Face::Upper],
            Self::Both => &[Face::Upper, Face::Lower],
        }
    }
}

/// The wood at one sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sample {
    /// The colour over a spot as wide as the spacing, in sRGB bytes.
    pub(super) colour: [u8; 3],
    /// Signed distance outside the heartwood line, µm, held within ± [`Sample::REACH`].
    pub(super) heartwood: i32,
    /// Angle between the ring and the glue line, 0 to 90°, in thousandths of a degree.
    pub(super) angle: i32,
    /// Where between two latewood edges, in thousandths of a ring, 0 to 999; none where single rings aren't promised:
    /// their uncertainty is over a quarter of a ring ([`crate::wood::Figure::promises_rings`]).
    pub(super) phase: Option<i32>,
}

impl Sample {
    /// Farther than this from the heartwood line nothing of it is seen at the joint, µm (our own choice: a border is
    /// some millimetres wide).
    pub(super) const REACH: i32 = 5_000;

    /// How light, in ten-thousandths of a byte (ITU-R BT.709 weights on the sRGB bytes).
    pub(super) fn luma(&self) -> i32 {
        let [r, g, b] = self.colour.map(i32::from);
        2126 * r + 7152 * g + 722 * b
    }
}

/// The edges of every strip, sampled.
#[derive(Clone, Debug)]
pub struct Edges {
    samples: usize,
    faces: usize,
    /// By strip; of each by face, y = 0 or T, near or far cut face: by panel x, and the same from behind. Where a strip
    /// reaches other parts of the panel laid Y = x than laid Y = W − x, the lines of the one, then of the other.
    lines: Vec<Vec<[Line; 2]>>,
}

impl Edges {
    /// The most samples along one glue line.
    pub const MOST_SAMPLES: usize = 10_000;

    /// Samples every strip's edges at `spacing` mm.
    ///
    /// # Errors
    /// [`EdgesError`] where strips and panels don't fit together, or nothing is left to sample.
    pub fn sample(stock: &Stock<'_>, faces: FacesCounted, spacing: f64) -> Result<Self, EdgesError> {
        Self::sampled(stock, faces, spacing, None, 1)
    }

    /// The same by so many workers.
    ///
    /// # Errors
    /// As [`Edges::sample`].
    pub fn sample_by(stock: &Stock<'_>, faces: FacesCounted, spacing: f64, workers: usize) -> Result<Self, EdgesError> {
        Self::sampled(stock, faces, spacing, None, workers)
    }

    /// The same in the wood as it may also be.
    ///
    /// # Errors
    /// As [`Edges::sample`].
    pub fn drawn(stock: &Stock<'_>, faces: FacesCounted, spacing: f64, draw: &Draw) -> Result<Self, EdgesError> {
        Self::sampled(stock, faces, spacing, Some(draw), 1)
    }

    fn sampled(
        stock: &Stock<'_>,
        faces: FacesCounted,
        spacing: f64,
        draw: Option<&Draw>,
        workers: usize,
    ) -> Result<Self, EdgesError> {
        let cover = stock.cover()?;
        let places = Places::of(&cover, spacing)?;
        let strips: Vec<((usize, i64), f64)> = stock.strips.iter().copied().zip(cover.off.iter().copied()).collect();
        let lines = in_parts(&strips, workers, |((number, strip), off)| {
            let (panel, crosscut) = &stock.panels[*number];
            let start = crosscut.station(*strip, stock.width).mm();
            let line = |middle: f64, y: f64, z: f64| -> [Line; 2] {
                let shifts = draw.map_or_else(Vec::new, |draw| draw.shifts(*number, panel, z));
                let mut promised = None;
                let sampled = |i: usize| {
                    if i.is_multiple_of(promised_for(spacing)) {
                        promised = None;
                    }
                    sample_after(panel, Point3::new(places.x(i, middle), y, z), spacing, &shifts, &mut promised)
                };
                let samples: Vec<Sample> = (0..places.count).map(sampled).collect();
                [Line::new(samples.iter()), Line::new(samples.iter().rev())]
            };
            let mut lines = Vec::with_capacity(8 * faces.faces().len());
            for middle in cover.middles(*off) {
                for face in faces.faces() {
                    let taken = if *face == Face::Upper { stock.trims.upper } else { stock.trims.lower };
                    for y in [0.0, panel.thickness().mm()] {
                        lines.extend([start + taken, start + stock.width.mm() - taken].map(|z| line(middle, y, z)));
                    }
                }
            }
            lines
        });
        Ok(Self { samples: places.count, faces: faces.faces().len(), lines })
    }

    /// How many strips there are.
    #[must_use]
    pub const fn strips(&self) -> usize {
        self.lines.len()
    }

    /// Samples along one glue line on one face.
    #[must_use]
    pub const fn samples(&self) -> usize {
        self.samples
    }

    /// How many faces count.
    #[must_use]
    pub const fn faces(&self) -> usize {
        self.faces
    }

    /// Whether strips are slid unlike: then a glue line turned half round is another one.
    #[must_use]
    pub fn are_slid(&self) -> bool {
        self.lines.iter().any(|lines| self.ways(lines) > 1)
    }

    /// 2 where a strip reaches other parts of the panel laid Y = x than laid Y = W − x.
    const fn ways(&self, lines: &[[Line; 2]]) -> usize {
        lines.len() / (4 * self.faces)
    }

    /// What strip `strip` in this turn shows at its right or left edge, on the `face`-th face that counts, by panel x,
    /// or from behind.
    pub(super) fn line(&self, strip: usize, turn: Turn, right: bool, face: usize, behind: bool) -> &Line {
        let lines = &self.lines[strip];
        let upper = turn.upper_face_to_the_right() == right;
        let far = turn.far_face_up() == (face == 0);
        let way = if turn.first_blank_in_front() { 0 } else { self.ways(lines) - 1 };
        let line = ((way * self.faces + face) * 2 + usize::from(upper)) * 2 + usize::from(far);
        &lines[line][usize::from(behind)]
    }
}

/// What `work` makes of each, in order, by so many workers (1 to 64).
pub(crate) fn in_parts<T: Sync, R: Send>(all: &[T], workers: usize, work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let each = all.len().div_ceil(workers.clamp(1, 64)).max(1);
    if all.len() <= each {
        return all.iter().map(work).collect();
    }
    let work = &work;
    std::thread::scope(|scope| {
        let start = |part| scope.spawn(move || -> Vec<R> { Iterator::map(<[T]>::iter(part), work).collect() });
        let parts: Vec<_> = all.chunks(each).map(start).collect();
        let done = |part: std::thread::ScopedJoinHandle<'_, Vec<R>>| match part.join() {
            Ok(done) => done,
            Err(panic) => std::panic::resume_unwind(panic),
        };
        parts.into_iter().flat_map(done).collect()
    })
}

/// Where the samples of a line lie.
struct Places {
    count: usize,
    spacing: f64,
}

impl Places {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn of(cover: &Cover, spacing: f64) -> Result<Self, EdgesError> {
        let count = (cover.across / spacing).floor();
        if !(spacing > 0.0 && count >= 1.0 && count <= Edges::MOST_SAMPLES as f64) {
            return Err(EdgesError::Samples);
        }
        Ok(Self { count: count as usize, spacing })
    }

    /// The panel's x of sample `i`: they lie symmetrically about this middle.
    fn x(&self, i: usize, middle: f64) -> f64 {
        middle + (i as f64 - (self.count as f64 - 1.0) / 2.0) * self.spacing
    }
}

/// How many samples one look at what is promised holds for: it changes over some millimetres, and takes long to tell.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn promised_for(spacing: f64) -> usize {
    /// How far apart the looks are, mm (our own choice).
    const APART: f64 = 3.0;
    (APART / spacing).floor().clamp(1.0, 1e6) as usize
}

/// The wood at a point of a panel whose blanks' figures are shifted so, over a spot as wide as the spacing.
pub(super) fn sample(panel: &Panel, at: Point3<f64>, spacing: f64, shifts: &[Vector2<f64>]) -> Sample {
    sample_after(panel, at, spacing, shifts, &mut None)
}

/// The same, where it may be known already in which blank single rings are promised near by, or are not.
#[allow(clippy::cast_possible_truncation)]
fn sample_after(
    panel: &Panel,
    at: Point3<f64>,
    spacing: f64,
    shifts: &[Vector2<f64>],
    promised: &mut Option<(usize, bool)>,
) -> Sample {
    /// Between the points that a ring's direction is taken from, mm.
    const STEP: f64 = 0.2;
    let wood = |dx: f64, dy: f64| {
        let (blank, point) = panel.wood_at(&Point3::new(at.x + dx, at.y + dy, at.z))?;
        Some((blank, moved(shifts, blank, point)))
    };
    let Some((blank, point)) = wood(0.0, 0.0) else {
        return Sample { colour: [0; 3], heartwood: 0, angle: 0, phase: None };
    };
    let laid = &panel.blanks[blank];
    let figure = &laid.blank.figure;
    let lie = figure.lie(&point);
    // Along the glue line, and away from it; the ring runs across its steepest rise.
    let [along, away] = lie.normal.map_or_else(
        || {
            let slope = |to: Option<(usize, Point3<f64>)>, from: Option<(usize, Point3<f64>)>| match (to, from) {
                (Some((a, to)), Some((b, from))) if a == blank && b == blank => figure.ring(&to) - figure.ring(&from),
                (Some((a, to)), _) if a == blank => 2.0 * (figure.ring(&to) - lie.ring),
                (_, Some((b, from))) if b == blank => 2.0 * (lie.ring - figure.ring(&from)),
                _ => 0.0,
            };
            [slope(wood(STEP, 0.0), wood(-STEP, 0.0)), slope(wood(0.0, STEP), wood(0.0, -STEP))]
        },
        // Whichever way round the blank lies: only the angle counts.
        |normal| if laid.turn.quarter_roll { [normal.y, normal.x] } else { [normal.x, normal.y] },
    );
    let rings = match *promised {
        Some((known, rings)) if known == blank => rings,
        _ => figure.promises_rings(&point),
    };
    *promised = Some((blank, rings));
    let reach = f64::from(Sample::REACH);
    Sample {
        colour: figure.colour(&point, spacing).to_srgb8(),
        heartwood: (lie.beyond_heartwood * 1e3).round().clamp(-reach, reach) as i32,
        angle: (along.abs().atan2(away.abs()).to_degrees() * 1e3).round() as i32,
        phase: rings.then(|| ((lie.ring - lie.ring.floor()) * 1e3).floor().clamp(0.0, 999.0) as i32),
    }
}
