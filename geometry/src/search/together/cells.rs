//! The wood of every blank, turned every way, in cells along both edges of every strip.

use super::super::edges::{Sample, sample};
use super::super::stock::{EdgesError, Stock};
use super::{TogetherError, TogetherWanted};
use crate::board::Face;
use crate::layup::Turn;
use crate::stock::{BlankTurn, HalfTurn, LaidBlank, Panel};
use nalgebra::Point3;

/// The most cells that are sampled (some 100 MB).
pub(super) const MOST: usize = 6_000_000;

const HALVES: [HalfTurn; 4] = [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd];

/// A blank's turn by its number: the four half turns, then the same after a quarter roll.
pub(super) const fn turn(number: u8) -> BlankTurn {
    BlankTurn { quarter_roll: number & 4 != 0, half: HALVES[(number & 3) as usize] }
}

/// The number of a blank's turn.
pub(super) fn number(turn: BlankTurn) -> u8 {
    let half = HALVES.iter().position(|half| *half == turn.half).unwrap_or(0);
    u8::try_from(half).unwrap_or(0) + if turn.quarter_roll { 4 } else { 0 }
}

/// A panel as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct OfPanel {
    /// Its blanks.
    pub(super) blanks: Vec<OfBlank>,
    /// Cells that truing takes off the first and the last blank's edge.
    pub(super) trued: [usize; 2],
    /// Whether turning the whole panel over gives the same board again, its strips turned otherwise.
    pub(super) turns_over: bool,
}

/// A blank as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct OfBlank {
    /// Cells across it.
    pub(super) cells: usize,
    /// How it lies as planned.
    pub(super) planned: u8,
    /// Whether it keeps its place.
    pub(super) stays: bool,
    /// The first blank of the panel of the same letter.
    pub(super) copy_of: usize,
    /// By turn, its lines; empty where it can't be turned so.
    lines: Vec<Vec<Sample>>,
}

impl OfBlank {
    /// The turns that it may lie in.
    pub(super) fn turns(&self) -> impl Iterator<Item = u8> + '_ {
        (0..8_u8).filter(|turn| !self.lines[usize::from(*turn)].is_empty())
    }
}

/// All panels, and which strip is of which.
#[derive(Clone, Debug)]
pub(super) struct Cells {
    pub(super) panels: Vec<OfPanel>,
    /// The panel of each strip, and its number among those of that panel.
    pub(super) strips: Vec<(usize, usize)>,
    /// M: cells across every panel.
    pub(super) across: usize,
    /// Cells at either edge that are trimmed off.
    pub(super) trimmed: usize,
    /// How many faces count.
    pub(super) faces: usize,
}

impl Cells {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub(super) fn sample(stock: &Stock<'_>, wanted: &TogetherWanted) -> Result<Self, TogetherError> {
        let faces = wanted.faces.faces();
        let mut of_panel = vec![Vec::new(); stock.panels.len()];
        let mut strips = Vec::new();
        for (i, (panel, strip)) in stock.strips.iter().enumerate() {
            let of: &mut Vec<i64> = of_panel.get_mut(*panel).ok_or(EdgesError::NoPanel(i))?;
            strips.push((*panel, of.len()));
            of.push(*strip);
        }
        let widths = stock.panels.iter().flat_map(|(panel, _)| &panel.blanks).map(|laid| laid.lying().width.mm());
        let least = widths.fold(f64::INFINITY, f64::min);
        let parts = (least / wanted.cell).round().max(1.0);
        if !(wanted.cell > 0.0 && parts.is_finite() && least.is_finite() && least > 0.0) {
            return Err(EdgesError::Samples.into());
        }
        let cell = least / parts;
        let whole = |length: f64| (length / cell).round().clamp(0.0, 1e6) as usize;
        let lines = |panel: usize| 4 * faces.len() * of_panel[panel].len();
        let all = |(i, (panel, _)): (usize, &(Panel, _))| {
            panel.blanks.iter().map(|laid| 8 * whole(laid.lying().width.mm()) * lines(i)).sum::<usize>()
        };
        let many = stock.panels.iter().enumerate().map(all).sum();
        if many > MOST {
            return Err(TogetherError::TooMuch(many));
        }
        let mut panels = Vec::new();
        for (i, (panel, crosscut)) in stock.panels.iter().enumerate() {
            let mut at = Vec::new();
            for strip in &of_panel[i] {
                let start = crosscut.station(*strip, stock.width).mm();
                for face in faces {
                    let taken = if *face == Face::Upper { stock.trims.upper } else { stock.trims.lower };
                    for y in [0.0, panel.thickness().mm()] {
                        at.extend([start + taken, start + stock.width.mm() - taken].map(|z| [y, z]));
                    }
                }
            }
            let stays = |blank| wanted.stay.contains(&(i, blank));
            let mut of = OfPanel {
                blanks: Vec::new(),
                trued: panel.trued.map(|trued| whole(trued.mm())),
                turns_over: panel.trued[0] == panel.trued[1]
                    && panel.planed[0] == panel.planed[1]
                    && panel.measured.is_none()
                    && !(0..panel.blanks.len()).any(stays),
            };
            for (place, laid) in panel.blanks.iter().enumerate() {
                let cells = whole(laid.lying().width.mm()).max(1);
                let lines: Vec<Vec<Sample>> = (0..8).map(|turn| lines_of(panel, laid, turn, cells, &at)).collect();
                let copy_of =
                    wanted.copies.get(i).and_then(|of| of.get(place)).map_or(place, |first| *first.min(&place));
                // A copy that differs can't change places with the first in a panel that is turned over.
                of.turns_over &= copy_of == place || of.blanks.get(copy_of).is_some_and(|first| first.lines == lines);
                of.blanks.push(OfBlank { cells, planned: number(laid.turn), stays: stays(place), copy_of, lines });
            }
            panels.push(of);
        }
        let across = |of: &OfPanel| {
            let all = of.blanks.iter().map(|blank| blank.cells).sum::<usize>();
            all.checked_sub(of.trued[0] + of.trued[1]).filter(|across| *across > 0)
        };
        let laid: Vec<usize> = (0..panels.len()).filter(|panel| !of_panel[*panel].is_empty()).collect();
        let first = laid.first().and_then(|panel| across(&panels[*panel])).ok_or(EdgesError::Samples)?;
        if laid.iter().any(|panel| across(&panels[*panel]) != Some(first)) {
            return Err(TogetherError::Cells);
        }
        let trimmed = whole(stock.trims.front.max(stock.trims.back));
        if 2 * trimmed >= first {
            return Err(EdgesError::Samples.into());
        }
        let narrow = |of: &OfPanel| of.blanks.iter().any(|blank| blank.cells <= of.trued[0].max(of.trued[1]));
        if laid.iter().any(|panel| narrow(&panels[*panel])) {
            return Err(TogetherError::Cells);
        }
        Ok(Self { panels, strips, across: first, trimmed, faces: faces.len() })
    }

    /// What a strip in this turn shows at its right or left edge on the `face`-th face, of a blank turned so, by cell.
    pub(super) fn line(
        &self,
        (panel, strip): (usize, usize),
        (blank, turn): (usize, u8),
        laid: Turn,
        right: bool,
        face: usize,
    ) -> &[Sample] {
        let of = &self.panels[panel].blanks[blank];
        let upper = laid.upper_face_to_the_right() == right;
        let far = laid.far_face_up() == (face == 0);
        let line = ((strip * self.faces + face) * 2 + usize::from(upper)) * 2 + usize::from(far);
        &of.lines[usize::from(turn)][line * of.cells..(line + 1) * of.cells]
    }
}

/// All lines of a blank that is turned so; none where it can't be: only a square one is rolled a quarter.
fn lines_of(panel: &Panel, laid: &LaidBlank, number: u8, cells: usize, at: &[[f64; 2]]) -> Vec<Sample> {
    let turn = turn(number);
    let size = laid.blank.size;
    if turn.quarter_roll != laid.turn.quarter_roll && size.width != size.thickness {
        return Vec::new();
    }
    let one = LaidBlank { turn, ..laid.clone() };
    let alone = Panel {
        name: String::new(),
        blanks: vec![one],
        trued: Default::default(),
        planed: panel.planed,
        measured: panel.measured,
    };
    let wide = laid.lying().width.mm() / cells as f64;
    let cell = |x: usize, [y, z]: [f64; 2]| sample(&alone, Point3::new((x as f64 + 0.5) * wide, y, z), wide, &[]);
    at.iter().flat_map(|at| (0..cells).map(move |x| cell(x, *at))).collect()
}
