//! The shop: saw, machines, router table, CNC, and the limits that findings are judged by.

use crate::measure::{Length, Unit};
use crate::stock::{Accuracy, LastStrip, StripSide};
use crate::wood::Threshold;

/// The saw and how well it is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saw {
    /// b: what the blade takes.
    pub kerf: Length,
    /// q where the plan says nothing of starts, snipe or squaring: all that is lost before the
    /// first strip, kerf included.
    pub lost_first: Length,
    /// How the last strip is freed.
    pub last: LastStrip,
    /// Which side of the blade the strips lie on.
    pub side: StripSide,
    /// How well the stop is set and repeats, and how well kerf, squaring and length are known.
    pub accuracy: Accuracy,
    /// Whether the strip is under a clamped hold-down (else it is held by hand on a sled).
    pub hold_down: bool,
    /// The least piece that may still be cut, strip included.
    pub least_piece: Length,
    /// A waste block on the far end.
    pub waste_block: Length,
}

/// The largest width and the shortest piece that one machine takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Machine {
    /// Its name in messages: `planer`.
    pub name: &'static str,
    /// The widest piece.
    pub widest: Length,
    /// The shortest piece along the feed; zero where it doesn't matter.
    pub shortest: Length,
    /// What one pass takes.
    pub pass: Length,
}

/// The machines that a panel, a blank or a board goes through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Machines {
    /// Joints a blank's face and edge.
    pub jointer: Machine,
    /// Planes blanks and panels to thickness.
    pub planer: Machine,
    /// Flattens the board's faces.
    pub drum_sander: Machine,
}

/// The router table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RouterTable {
    /// Taken in one pass.
    pub pass: Length,
    /// Left for the last pass.
    pub last_pass: Length,
    /// The shortest edge that may be lowered onto the bit.
    pub least_edge: Length,
    /// The least height at which a board may be lowered onto the bit.
    pub least_height: Length,
}

/// A plunge router, for frames.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlungeRouter {
    /// The diameter of its round base.
    pub base: Length,
    /// The outer diameter of its guide bush, where one is used.
    pub guide_bush: Option<Length>,
}

/// A clamp beside the cut, in the program's frame of the edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clamp {
    /// Where it begins along the edge.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// How high it stands above the edge; negative below it.
    pub above: Length,
}

/// A clamp beside or on a board that lies flat, in the program's frame: a box with upright sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FlatClamp {
    /// Where it begins along X and along Y.
    pub from: [Length; 2],
    /// Where it ends.
    pub to: [Length; 2],
    /// How high it stands above the face; negative below it.
    pub above: Length,
}

/// The spindle's body: what is wider than the nut and stands above it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spindle {
    /// Its diameter where it is widest.
    pub diameter: Length,
    /// How far the nut stands below it.
    pub above_nut: Length,
}

/// A hobby CNC.
#[derive(Clone, Debug, PartialEq)]
pub struct Cnc {
    /// Travel in X, Y and Z.
    pub travel: [Length; 3],
    /// What fits under the bit.
    pub clear_height: Length,
    /// Clamps that hold the board on edge.
    pub clamps: Vec<Clamp>,
    /// Clamps and stops where the board lies flat.
    pub flat_clamps: Vec<FlatClamp>,
    /// The diameter of what holds the bit, the collet's nut; `None` where the maker doesn't say.
    pub nut: Option<Length>,
    /// The spindle's body above it; `None` where the maker doesn't say.
    pub spindle: Option<Spindle>,
    /// Above the edge: rapid moves only there.
    pub safe_height: Length,
    /// Depth of one pass; `None` takes it from the bit.
    pub step_down: Option<Length>,
    /// Spindle speed, turns a minute.
    pub speed: u32,
    /// The slowest that the spindle turns, turns a minute.
    pub least_speed: Option<u32>,
    /// Chip load: feed per edge and turn; `None` takes it from bit and wood.
    pub chip_load: Option<Length>,
    /// The greatest feed, a minute.
    pub most_feed: Length,
    /// How far it moves in a minute when it doesn't cut.
    pub rapid: Length,
    /// Acceleration, a second each second.
    pub acceleration: Length,
    /// The fastest that a bit's rim may run, metres a second.
    pub most_rim_speed: f64,
    /// Ramp: length along the cut for one of depth.
    pub ramp: u32,
    /// Whether a bit that cuts at its centre may be plunged straight down.
    pub plunge: bool,
    /// Left along a wall for the last pass, where there is room beside it.
    pub wall_pass: Length,
    /// Which way the last pass along a wall runs.
    pub last_pass: Milling,
    /// Which way the passes before it run.
    pub widening: Milling,
    /// How its programs are written.
    pub written: Written,
}

/// Which way a bit that turns clockwise, seen from above, is fed along the wood.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Milling {
    /// The wood on its right: the edges come into it from its side with their thickest chip, and pull the bit along.
    Climb,
    /// The wood on its left: the edges begin with no chip and leave with their thickest, and push against the feed.
    #[default]
    Conventional,
}

/// What one program holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Holds {
    /// One cut.
    #[default]
    EachCut,
    /// All cuts of one side by one bit.
    EachBit,
    /// All cuts of one side; it stops where the bit is changed.
    EachSide,
}

/// How programs are written, for what a controller takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// The unit of their numbers.
    pub unit: Unit,
    /// Arcs as arcs, else in straight lines.
    pub arcs: bool,
    /// How far such lines may lie from the arc.
    pub arc_tolerance: Length,
    /// Whether lines are numbered.
    pub line_numbers: bool,
    /// The longest line, characters.
    pub longest_line: usize,
    /// What one program holds.
    pub holds: Holds,
}

impl Written {
    /// As programs are written where nothing is asked: one for each cut, arcs as arcs, lines of 70 characters at most,
    /// since small controllers hold about 80 (common practice, no source).
    #[must_use]
    pub const fn plain(unit: Unit) -> Self {
        Self {
            unit,
            arcs: true,
            arc_tolerance: Length::from_micrometres(5),
            line_numbers: false,
            longest_line: 70,
            holds: Holds::EachCut,
        }
    }
}

/// What the findings are judged by. The defaults are common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// A lip under this can't be made.
    pub lip_least: Length,
    /// A lip under this, or thinner than the recess is deep, wants care.
    pub lip_care: Length,
    /// The least wood between a recess's floor and a glue line parallel to its edge.
    pub behind_floor: Length,
    /// The least wood under a cut in a face.
    pub floor: Length,
    /// The least flat between a recess's rim and a round-over.
    pub flat: Length,
    /// The least wood between two recesses.
    pub between_recesses: Length,
    /// The narrowest outer strip or blank that the trim may leave.
    pub sliver: Length,
    /// A board thinner than this wants care.
    pub thin: Length,
    /// A board thicker than this is noted.
    pub thick: Length,
    /// The chance of falling short that the maker takes.
    pub short_chance: f64,
    /// How far the colours of two blanks of one wood may lie apart.
    pub colour: Threshold,
    /// How much more one of two neighbours may want of their glue line over the seasons than the other.
    pub movement: Length,
}
