//! The board as glued, and what the trims leave of it.

use crate::cut::Finished;
use crate::layup::{Place, Slab};
use crate::measure::Length;
use crate::stock::{Blank, Crosscut, Panel};
use crate::wood::{Colour, Shown};
use nalgebra::Point3;
use thiserror::Error;

/// What is taken off the glued board, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trims {
    /// Off the left end.
    pub left: f64,
    /// Off the right end.
    pub right: f64,
    /// Off the front.
    pub front: f64,
    /// Off the back.
    pub back: f64,
    /// f: off the upper face.
    pub upper: f64,
    /// g: off the lower face.
    pub lower: f64,
}

impl Trims {
    /// Nothing is taken off.
    const NONE: Self = Self { left: 0.0, right: 0.0, front: 0.0, back: 0.0, upper: 0.0, lower: 0.0 };
}

/// One strip in its place.
#[derive(Clone, Copy, Debug)]
pub struct LaidStrip {
    /// Which strip, how turned, how slid.
    pub place: Place,
    /// The slab of its panel that it is; its thickness is the space that it takes along X.
    pub slab: Slab,
    /// X_j: where it begins.
    pub x: f64,
    /// y_j: how far it is slid toward the back.
    pub y: f64,
}

/// The smallest solid of the board: one blank within one strip, as a box in the finished frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The strip's place, from 0 at the left.
    pub place: usize,
    /// The blank's place in its panel, from 0.
    pub blank: usize,
    /// Left, front, lower corner.
    pub low: Point3<f64>,
    /// Right, back, upper corner.
    pub high: Point3<f64>,
}

/// The wood at a point of the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The strip's place, from 0 at the left.
    pub place: usize,
    /// The blank's place in the strip's panel, from 0.
    pub blank: usize,
    /// Where in the blank, (u, v, w).
    pub at: Point3<f64>,
}

/// Why nothing is left of the board.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum BoardError {
    /// The staggers leave no Y that every strip reaches.
    #[error("the staggers leave no width that every strip covers")]
    NoCover,
    /// The trims take all of it.
    #[error("nothing is left after trimming and flattening")]
    TrimmedAway,
}

/// The board.
#[derive(Clone, Debug)]
pub struct Board {
    panels: Vec<Panel>,
    strips: Vec<LaidStrip>,
    trims: Trims,
    strip_width: f64,
    glued_length: f64,
    cover: [f64; 2],
}

impl Board {
    /// Glues the strips: in place j a strip begins at X_j, the sum of the panel thicknesses before
    /// it; a stagger slides it along +Y.
    ///
    /// Where the glued length was measured, every strip's share of it is scaled alike.
    ///
    /// # Errors
    /// [`BoardError`] where no width is covered by every strip, or the trims leave nothing.
    pub fn glue(
        panels: Vec<(Panel, Crosscut)>,
        places: &[Place],
        width: Length,
        trims: Trims,
        measured_length: Option<f64>,
    ) -> Result<Self, BoardError> {
        let planned: f64 = places.iter().map(|p| panels[p.panel].0.thickness().mm()).sum();
        let share = measured_length.map_or(1.0, |m| m / planned);
        let mut x = 0.0;
        let strips: Vec<LaidStrip> = places
            .iter()
            .map(|place| {
                let (panel, crosscut) = &panels[place.panel];
                let slab = Slab {
                    width: panel.width().mm(),
                    thickness: panel.thickness().mm() * share,
                    strip: width.mm(),
                    station: crosscut.station(place.strip, width).mm(),
                };
                let strip = LaidStrip { place: *place, slab, x, y: place.stagger.mm() };
                x += slab.thickness;
                strip
            })
            .collect();
        let cover = cover(&strips)?;
        let panels = panels.into_iter().map(|(panel, _)| panel).collect();
        let board = Self { panels, strips, trims, strip_width: width.mm(), glued_length: x, cover };
        let Finished { length, width, thickness } = board.finished();
        if length > 0.0 && width > 0.0 && thickness > 0.0 { Ok(board) } else { Err(BoardError::TrimmedAway) }
    }

    /// The strips, from the left.
    #[must_use]
    pub fn strips(&self) -> &[LaidStrip] {
        &self.strips
    }

    /// The panels that they are from.
    #[must_use]
    pub fn panels(&self) -> &[Panel] {
        &self.panels
    }

    /// What is taken off.
    #[must_use]
    pub const fn trims(&self) -> &Trims {
        &self.trims
    }

    /// Full cover: the range of Y that every strip reaches, max y_j ≤ Y ≤ min(y_j + W_j).
    #[must_use]
    pub const fn cover(&self) -> [f64; 2] {
        self.cover
    }

    /// The board as glued: length over all, width of full cover, thickness s.
    #[must_use]
    pub fn glued(&self) -> Finished {
        Finished { length: self.glued_length, width: self.cover[1] - self.cover[0], thickness: self.strip_width }
    }

    /// The board as it lies glued, before anything is trimmed or flattened off: its finished frame is that of the glued
    /// board.
    #[must_use]
    pub fn untrimmed(&self) -> Self {
        Self { trims: Trims::NONE, ..self.clone() }
    }

    /// The finished board's size.
    #[must_use]
    pub fn finished(&self) -> Finished {
        let (glued, t) = (self.glued(), &self.trims);
        Finished {
            length: glued.length - t.left - t.right,
            width: glued.width - t.front - t.back,
            thickness: glued.thickness - t.upper - t.lower,
        }
    }

    /// Where strip `place` lies in the finished board, from x to x, cut off by the trims; empty
    /// (equal) where the trim takes all of it.
    #[must_use]
    pub fn span(&self, place: usize) -> [f64; 2] {
        let length = self.finished().length;
        let Some(strip) = self.strips.get(place) else { return [length; 2] };
        // It ends where the next begins, bit by bit.
        let end = self.strips.get(place + 1).map_or(strip.x + strip.slab.thickness, |next| next.x);
        [strip.x, end].map(|x| held(x - self.trims.left, length))
    }

    /// The wood at a point of the finished board; `None` outside it.
    #[must_use]
    pub fn spot(&self, at: &Point3<f64>) -> Option<Spot> {
        let size = self.finished();
        let inside = (0.0..=size.length).contains(&at.x)
            && (0.0..=size.width).contains(&at.y)
            && (0.0..=size.thickness).contains(&at.z);
        if !inside {
            return None;
        }
        let x = at.x + self.trims.left;
        let place = self.strips.partition_point(|s| s.x <= x).checked_sub(1)?;
        self.spot_in(place, at)
    }

    /// The wood at a point of the finished board, were it in strip `place`.
    #[must_use]
    pub fn spot_in(&self, place: usize, at: &Point3<f64>) -> Option<Spot> {
        let strip = self.strips.get(place)?;
        let panel = self.panels.get(strip.place.panel)?;
        let in_place = Point3::new(
            at.x + self.trims.left - strip.x,
            at.y + self.cover[0] + self.trims.front - strip.y,
            at.z + self.trims.lower,
        );
        let (blank, at) = panel.wood_at(&strip.place.turn.panel_point(&strip.slab, &in_place))?;
        Some(Spot { place, blank, at })
    }

    /// The colour at a point of the finished board, averaged over about `grain` mm; `None` outside.
    #[must_use]
    pub fn colour(&self, at: &Point3<f64>, grain: f64) -> Option<Colour> {
        self.spot(at).and_then(|spot| self.colour_of(&spot, grain))
    }

    /// The colour of the wood at a spot.
    #[must_use]
    pub fn colour_of(&self, spot: &Spot, grain: f64) -> Option<Colour> {
        Some(self.blank_at(spot)?.figure.colour(&spot.at, grain))
    }

    /// The same, with only so much of the figure shown.
    #[must_use]
    pub fn colour_shown(&self, spot: &Spot, grain: f64, shown: Shown) -> Option<Colour> {
        Some(self.blank_at(spot)?.figure.colour_shown(&spot.at, grain, shown))
    }

    /// The blank that a spot lies in.
    #[must_use]
    pub fn blank_at(&self, spot: &Spot) -> Option<&Blank> {
        let panel = self.panels.get(self.strips.get(spot.place)?.place.panel)?;
        Some(&panel.blanks.get(spot.blank)?.blank)
    }

    /// From y to y in the finished frame for each blank of strip `place`, in the panel's order,
    /// cut off by the trims.
    #[must_use]
    pub fn blank_spans(&self, place: usize) -> Vec<[f64; 2]> {
        let Some(strip) = self.strips.get(place) else { return Vec::new() };
        let base = strip.y - self.cover[0] - self.trims.front;
        let limit = self.finished().width;
        let flip = |[from, to]: [f64; 2]| {
            if strip.place.turn.first_blank_in_front() {
                [base + from, base + to]
            } else {
                [base + strip.slab.width - to, base + strip.slab.width - from]
            }
        };
        self.panels[strip.place.panel].spans().into_iter().map(flip).map(|s| s.map(|y| held(y, limit))).collect()
    }

    /// Every piece that the trims leave something of.
    #[must_use]
    pub fn pieces(&self) -> Vec<Piece> {
        let thickness = self.finished().thickness;
        let mut pieces = Vec::new();
        for place in 0..self.strips.len() {
            let [x0, x1] = self.span(place);
            for (blank, [y0, y1]) in self.blank_spans(place).into_iter().enumerate() {
                if x1 > x0 && y1 > y0 {
                    let (low, high) = (Point3::new(x0, y0, 0.0), Point3::new(x1, y1, thickness));
                    pieces.push(Piece { place, blank, low, high });
                }
            }
        }
        pieces
    }
}

/// Held within the board; what rounding leaves beside its end is its end.
fn held(at: f64, end: f64) -> f64 {
    if (at - end).abs() < 1e-9 { end } else { at.clamp(0.0, end) }
}

fn cover(strips: &[LaidStrip]) -> Result<[f64; 2], BoardError> {
    let from = strips.iter().map(|s| s.y).fold(f64::NEG_INFINITY, f64::max);
    let to = strips.iter().map(|s| s.y + s.slab.width).fold(f64::INFINITY, f64::min);
    if to > from { Ok([from, to]) } else { Err(BoardError::NoCover) }
}
