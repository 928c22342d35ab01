//! One board as a maker means it, with every default filled in, and everything that follows from it.
//!
//! A [`Job`] goes in; [`Job::work`] gives the [`Outcome`]: panels, strip arithmetic, lay-up and
//! board. What was measured in the shop stands in place of what was planned. Nothing here reads a
//! plan's text, and nothing here judges: findings are made in [`crate::check`].

mod outcome;
mod shop;

pub use outcome::{FromPanel, NoBoard, Outcome};
pub use shop::{
    Clamp, Cnc, FlatClamp, Holds, Limits, Machine, Machines, Milling, PlungeRouter, RouterTable, Saw, Spindle, Written,
};

use crate::board::Board;
use crate::cut::{Bit, CutOut, Cuts, Finished, Handhold, Surfacing, Untrimmed};
use crate::finish::Finish;
use crate::glue::Gluing;
use crate::layup::Asked;
use crate::lumber::{Pace, Rates};
use crate::measure::{Length, Rule};
use crate::movement::Seasons;
use crate::path::{Cutting, Hardness};
use crate::solid::{Body, NoBody};
use crate::stock::{Blank, Corners, LaidBlank};

/// Everything a maker decides about one board.
#[derive(Clone, Debug)]
pub struct Job {
    /// The board's name.
    pub name: String,
    /// The unit and the finest fraction of the maker's rule.
    pub rule: Rule,
    /// The saw and how well it is set.
    pub saw: Saw,
    /// The largest and the smallest that each machine takes.
    pub machines: Machines,
    /// The router table.
    pub router_table: RouterTable,
    /// The plunge router.
    pub plunge_router: PlungeRouter,
    /// The CNC, where there is one.
    pub cnc: Option<Cnc>,
    /// What the findings are judged by.
    pub limits: Limits,
    /// Every blank that there is, laid or not.
    pub blanks: Vec<Blank>,
    /// The panels to be glued.
    pub panels: Vec<PanelAsked>,
    /// How the panels are to be cut.
    pub strips: StripsAsked,
    /// How the strips are to lie.
    pub layup: LayupAsked,
    /// What is taken off the glued board.
    pub finishing: Finishing,
    /// The bits that there are.
    pub bits: Vec<Bit>,
    /// The handholds.
    pub handholds: Vec<Handhold>,
    /// All other cuts, the corners and the eased rims.
    pub cuts: Cuts,
    /// The bits that ease the upper and the lower rim on the CNC.
    pub rim_bits: [Option<Bit>; 2],
    /// Faces that the CNC levels.
    pub surfacing: Option<Surfacing>,
    /// Whether and how the CNC cuts out the board.
    pub cut_out: Option<CutOut>,
    /// The chord tolerance of meshes, mm.
    pub chord_tolerance: f64,
    /// The glue and the clamps.
    pub gluing: Gluing,
    /// Sanding, oil and wax.
    pub finish: Finish,
    /// How fast the maker works.
    pub pace: Pace,
    /// What the maker pays and wants; `None` where nothing is said of money.
    pub rates: Option<Rates>,
    /// The seasons where the board is used.
    pub seasons: Seasons,
    /// What was measured on the way.
    pub measured: Measured,
}

impl Job {
    /// What sanding still takes off the upper and the lower face when handholds and face cuts are made, mm.
    #[must_use]
    pub fn still_to_sand(&self, board: &Board) -> [f64; 2] {
        let trims = board.trims();
        [trims.upper, trims.lower].map(|taken| taken.min(self.finish.left_for_sanding.mm()).max(0.0))
    }

    /// The hardest wood that is laid, where all are known.
    #[must_use]
    pub fn hardest(&self) -> Option<Hardness> {
        Hardness::hardest(&self.panels)
    }

    /// All that a router bit cuts of this board, in the order of the shop: panels levelled, faces levelled, the outline, then what
    /// [`Cutting::all`] has, and the rims.
    #[must_use]
    pub fn cuttings(&self, board: &Board) -> Vec<Cutting> {
        let wall_pass = self.cnc.as_ref().map_or(0.0, |cnc| cnc.wall_pass.mm());
        let untrimmed = self.untrimmed(board);
        let panels = self.surfacing.iter().filter(|surfacing| surfacing.panels);
        let mut all: Vec<Cutting> = panels
            .flat_map(|s| {
                let glued = |i: usize| self.measured.glued.get(i).copied().flatten();
                board.panels().iter().enumerate().flat_map(move |(i, panel)| Cutting::of_panel(i, panel, glued(i), s))
            })
            .collect();
        all.extend(Cutting::of_whole(
            self.surfacing.as_ref(),
            self.cut_out.as_ref(),
            &self.cuts,
            &untrimmed,
            wall_pass,
        ));
        all.extend(Cutting::all(&self.handholds, &self.cuts, &board.finished()));
        all.extend(Cutting::rims(&self.cuts, &self.rim_bits, &board.finished()));
        all
    }

    fn untrimmed(&self, board: &Board) -> Untrimmed {
        let trims = board.trims();
        let levelled = [trims.upper, trims.lower].map(|taken| (taken - self.finish.left_for_sanding.mm()).max(0.0));
        let corner = nalgebra::Point2::new(trims.left, trims.front);
        Untrimmed { glued: board.glued(), corner, finished: board.finished(), levelled }
    }

    /// The finished board with all its cuts.
    ///
    /// # Errors
    /// [`NoBody`] where a cut doesn't lie on its edge or face, or two meet that mustn't.
    pub fn body(&self, size: Finished) -> Result<Body, NoBody> {
        Body::cut(size, &self.handholds, &self.cuts)
    }
}

/// A panel as it is to be glued.
#[derive(Clone, Debug)]
pub struct PanelAsked {
    /// Its name in the plan.
    pub name: String,
    /// Its blanks, in the order of x.
    pub blanks: Vec<LaidBlank>,
    /// Taken off the first and the last blank's outer edge to true the panel.
    pub trued: [Length; 2],
    /// Planed off the lower and the upper face after the glue-up.
    pub planed: [Length; 2],
    /// Snipe at the near and the far end that must be cut off; `None` where the plan says nothing.
    pub snipe: [Option<Length>; 2],
    /// What squaring the near end must take off, without the kerf; `None` where the plan says nothing.
    pub squaring: Option<Length>,
    /// e: what must come off the far end besides snipe.
    pub far_loss: Length,
    /// How many strips to cut from this panel, where it differs from the others.
    pub count: Option<i64>,
}

/// How the panels are to be cut: one of the three says it; more are checked against each other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct StripsAsked {
    /// Strips from each panel.
    pub count: Option<i64>,
    /// s: the strip's width.
    pub width: Option<Length>,
    /// The finished board's thickness, s − f − g.
    pub board_thickness: Option<Length>,
}

/// How the strips are to lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LayupAsked {
    /// Place by place, or a repeat.
    pub asked: Asked,
    /// Whether two strips make one figure, so that their count should be even.
    pub mirror_pairs: bool,
}

/// What is taken off the glued board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finishing {
    /// f: flattened off the upper face.
    pub upper: Length,
    /// g: flattened off the lower face.
    pub lower: Length,
    /// Trimmed off the left end.
    pub left: Length,
    /// Trimmed off the right end.
    pub right: Length,
    /// Trimmed off the front.
    pub front: Length,
    /// Trimmed off the back.
    pub back: Length,
    /// The least finished length that will do; `None` where any does.
    pub least_length: Option<Length>,
}

/// What was measured on the way; it replaces what was planned.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Measured {
    /// Panel thickness at four corners, by the panel's place in [`Job::panels`].
    pub panels: Vec<Option<Corners>>,
    /// How thick each panel is at its thickest place as glued, by its place.
    pub glued: Vec<Option<Length>>,
    /// Strips that came out, by the panel's place.
    pub strips: Vec<Option<i64>>,
    /// The board's thickness after flattening.
    pub board_thickness: Option<Length>,
    /// The board's length after the second glue-up, before trimming.
    pub board_length: Option<Length>,
    /// How far the glued board rocks on a flat table: the gap under one corner when three touch.
    pub rock: Option<Length>,
    /// Places of chipped strips, from 0.
    pub chipped: Vec<usize>,
    /// Places with an open glue line to their right, from 0.
    pub open: Vec<usize>,
}
