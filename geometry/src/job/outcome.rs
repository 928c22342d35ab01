//! What follows from a job: panels, strip arithmetic, lay-up, board.

use super::{Job, PanelAsked};
use crate::board::{Board, BoardError, Trims};
use crate::layup::{LayupError, Place};
use crate::measure::{Length, Rounding};
use crate::stock::{Crosscut, Panel, Spread};
use thiserror::Error;

/// One panel and what the saw makes of it.
#[derive(Clone, Debug)]
pub struct FromPanel {
    /// The panel, trued and planed.
    pub panel: Panel,
    /// It on the saw.
    pub crosscut: Crosscut,
    /// How many strips are wanted of it, where the plan says so.
    pub wanted: Option<i64>,
    /// How many the panel gives at the width: as measured, else by the arithmetic.
    pub gives: i64,
    /// How many are cut: as many as are wanted, or all that fit.
    pub cut: i64,
    /// The chance that the last of them comes out narrow.
    pub spread: Spread,
    /// The largest safe stop distance for that count, and the strip's width then.
    pub safe_stop: Option<(Length, Length)>,
}

/// Why there is no board.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoBoard {
    /// A panel gives fewer strips than are wanted.
    #[error("panel {0} gives fewer strips than are wanted")]
    FewerStrips(usize),
    /// No strip can be cut.
    #[error("no strip can be cut")]
    NoStrips,
    /// The lay-up can't be laid.
    #[error(transparent)]
    Layup(#[from] LayupError),
    /// Nothing is left of the board.
    #[error(transparent)]
    Board(#[from] BoardError),
}

/// Everything that follows from a job.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// s: the strip's width.
    pub width: Length,
    /// What comes of each panel.
    pub panels: Vec<FromPanel>,
    /// The places of the lay-up, as far as they can be laid.
    pub places: Vec<Place>,
    /// The board, or why there is none.
    pub board: Result<Board, NoBoard>,
}

impl Outcome {
    /// The thickness that the flattened board has: s − f − g, or as measured, mm.
    #[must_use]
    pub fn board_thickness(&self, job: &Job) -> f64 {
        let planned = self.width - job.finishing.upper - job.finishing.lower;
        job.measured.board_thickness.unwrap_or(planned).mm()
    }
}

impl Job {
    /// Works out everything that follows from the job.
    #[must_use]
    pub fn work(&self) -> Outcome {
        let sawn: Vec<(Panel, Crosscut)> =
            self.panels.iter().enumerate().map(|(i, asked)| self.on_the_saw(i, asked)).collect();
        let width = self.strip_width(&sawn);
        let panels: Vec<FromPanel> =
            sawn.into_iter().enumerate().map(|(i, (panel, cut))| self.cut_panel(i, panel, cut, width)).collect();
        let laid = self.lay(&panels);
        let places = laid.clone().unwrap_or_default();
        let board = laid.and_then(|places| self.glue(&panels, &places, width));
        Outcome { width, panels, places, board }
    }

    fn on_the_saw(&self, i: usize, asked: &PanelAsked) -> (Panel, Crosscut) {
        let panel = Panel {
            name: asked.name.clone(),
            blanks: asked.blanks.clone(),
            trued: asked.trued,
            planed: asked.planed,
            measured: self.measured.panels.get(i).copied().flatten(),
        };
        let crosscut = Crosscut {
            length: panel.length(),
            lost_first: self.lost_first(asked, &panel),
            far_loss: asked.far_loss.max(asked.snipe[1].unwrap_or_default()),
            kerf: self.saw.kerf,
            last: self.saw.last,
            side: self.saw.side,
            least_piece: self.saw.least_piece,
            waste_block: self.saw.waste_block,
        };
        (panel, crosscut)
    }

    /// q: the greatest of the largest start of a blank, the near end's snipe and what squaring must
    /// take off, plus the squaring cut's kerf; the saw's default where the plan says nothing of these.
    fn lost_first(&self, asked: &PanelAsked, panel: &Panel) -> Length {
        let start = panel.latest_start();
        if start == Length::ZERO && asked.snipe[0].is_none() && asked.squaring.is_none() {
            return self.saw.lost_first;
        }
        start.max(asked.snipe[0].unwrap_or_default()).max(asked.squaring.unwrap_or_default()) + self.saw.kerf
    }

    /// s: as asked; from the board's thickness; else the safe setting for the count (the largest
    /// that every panel allows), on the maker's rule.
    fn strip_width(&self, sawn: &[(Panel, Crosscut)]) -> Length {
        let taken = self.finishing.upper + self.finishing.lower;
        if let Some(width) = self.strips.width {
            return width;
        }
        if let Some(thickness) = self.strips.board_thickness {
            return thickness + taken;
        }
        sawn.iter().enumerate().filter_map(|(i, (_, cut))| self.widest_safe(i, cut)).min().unwrap_or_default()
    }

    fn widest_safe(&self, i: usize, cut: &Crosscut) -> Option<Length> {
        // As planned, not as counted: strips that were cut are as wide as they were.
        let count = self.planned(i)?;
        Spread::safe_stop(cut, &self.saw.accuracy, count, self.limits.short_chance, &self.rule)
            .map(|(_, width)| width)
            .or_else(|| Some(self.rule.round(cut.widest(count).mm(), Rounding::Down)))
    }

    /// How many strips are wanted of a panel: what was cut, where that was counted.
    fn wanted(&self, i: usize) -> Option<i64> {
        let counted = self.measured.strips.get(i).copied().flatten();
        counted.or_else(|| self.planned(i))
    }

    fn planned(&self, i: usize) -> Option<i64> {
        self.panels.get(i).and_then(|p| p.count).or(self.strips.count)
    }

    fn cut_panel(&self, i: usize, panel: Panel, crosscut: Crosscut, width: Length) -> FromPanel {
        let counted = self.measured.strips.get(i).copied().flatten();
        let gives = counted.unwrap_or_else(|| crosscut.count(width));
        let wanted = self.wanted(i);
        let cut = wanted.unwrap_or(gives);
        FromPanel {
            spread: Spread::of(&crosscut, &self.saw.accuracy, cut, width),
            safe_stop: Spread::safe_stop(&crosscut, &self.saw.accuracy, cut, self.limits.short_chance, &self.rule),
            panel,
            crosscut,
            wanted,
            gives,
            cut,
        }
    }

    fn lay(&self, panels: &[FromPanel]) -> Result<Vec<Place>, NoBoard> {
        if let Some(i) = panels.iter().position(|p| p.cut > p.gives) {
            return Err(NoBoard::FewerStrips(i));
        }
        if panels.iter().all(|p| p.cut < 1) {
            return Err(NoBoard::NoStrips);
        }
        let cut: Vec<i64> = panels.iter().map(|p| p.cut).collect();
        Ok(self.layup.asked.places(&cut)?)
    }

    fn glue(&self, panels: &[FromPanel], places: &[Place], width: Length) -> Result<Board, NoBoard> {
        let trims = Trims {
            left: self.finishing.left.mm(),
            right: self.finishing.right.mm(),
            front: self.finishing.front.mm(),
            back: self.finishing.back.mm(),
            upper: self.flattened(width)[0],
            lower: self.flattened(width)[1],
        };
        let panels = panels.iter().map(|p| (p.panel.clone(), p.crosscut)).collect();
        Ok(Board::glue(panels, places, width, trims, self.measured.board_length.map(Length::mm))?)
    }

    /// f and g: as planned, or what was really taken off, shared as it was planned.
    fn flattened(&self, width: Length) -> [f64; 2] {
        let planned = [self.finishing.upper.mm(), self.finishing.lower.mm()];
        let Some(measured) = self.measured.board_thickness else { return planned };
        let taken = (width - measured).mm();
        let all: f64 = planned.iter().sum();
        if all > 0.0 { planned.map(|p| taken * p / all) } else { [taken / 2.0; 2] }
    }
}
