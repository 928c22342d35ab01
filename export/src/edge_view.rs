//! Where board, clamp, bit and what holds it lie to each other while the board stands on edge, as drawings show it: seen along
//! the edge from the datum's end, Y and Z in mm of the machine, Z from what the board stands on. Must not judge it.

use quarterturn_geometry::job::Job;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::{Cutting, Up};

/// A rectangle: its lower right corner on a drawing that has Y to the left, and the one across; Y and Z.
pub(crate) type Span = [[f64; 2]; 2];

/// How high a nut is drawn where the plan doesn't say, how far up the spindle above it, and how wide a jaw, mm of the machine.
const NUT: f64 = 16.0;
const SPINDLE: f64 = 25.0;
const JAW: f64 = 40.0;

/// The bit at its deepest.
pub(crate) struct EdgeView {
    /// The two jaws.
    pub(crate) jaws: [Span; 2],
    /// How far the highest clamp stands above the edge; nothing where the plan gives none: then jaws hold the lower half.
    pub(crate) ends: Option<Length>,
    /// The board.
    pub(crate) board: Span,
    /// What is cut, where it is widest.
    pub(crate) cut: Span,
    /// What of the bit is out of its nut.
    pub(crate) bit: Span,
    /// The nut, as wide as the bit where the plan doesn't say.
    pub(crate) nut: Span,
    /// What is drawn of the spindle, as wide as the nut where the plan doesn't say.
    pub(crate) spindle: Span,
    /// Whether the plan says.
    pub(crate) spindle_known: bool,
    /// How high the tip can be raised.
    pub(crate) clear: f64,
}

impl EdgeView {
    /// Of a cut that has the board on edge, by its numbers; nothing of one that lies flat.
    pub(crate) fn of(job: &Job, cutting: &Cutting, value: impl Fn(&str) -> Option<f64>) -> Option<Self> {
        let (Up::Edge(_), Some(cnc)) = (cutting.up, job.cnc.as_ref()) else { return None };
        let [_, thick, stands] = cutting.stock;
        let depth = cutting.profile.depth;
        let [low, high] = cutting.extent().map(|p| p.y);
        let (rho, middle) = (cutting.profile.at_surface(), f64::midpoint(low, high));
        let about = |half: f64, from: f64, high: f64| [[middle - half, from], [middle + half, from + high]];
        let (tip, radius) = (stands - depth, cutting.bit.diameter.mm() / 2.0);
        let out = value("stick-out set").or_else(|| value("stick-out")).unwrap_or(depth);
        let nut = cnc.nut.map_or(radius, |nut| nut.mm() / 2.0);
        let nut_high = cnc.spindle.map_or(NUT, |spindle| spindle.above_nut.mm());
        let body = cnc.spindle.map_or(nut, |spindle| spindle.diameter.mm() / 2.0);
        let ends = cnc.clamps.iter().map(|clamp| clamp.above).reduce(Length::max);
        let jaw = (stands + ends.map_or(-stands / 2.0, Length::mm)).max(0.0);
        Some(Self {
            jaws: [thick, -JAW].map(|side| [[side, 0.0], [side + JAW, jaw]]),
            ends,
            board: [[0.0, 0.0], [thick, stands]],
            cut: [[low - rho, tip], [high + rho, stands]],
            bit: about(radius, tip, out),
            nut: about(nut, tip + out, nut_high),
            spindle: about(body, tip + out + nut_high, SPINDLE),
            spindle_known: cnc.spindle.is_some(),
            clear: cnc.clear_height.mm(),
        })
    }

    /// Its highest place.
    pub(crate) fn highest(&self) -> f64 {
        self.clear.max(self.spindle[1][1])
    }

    /// The board's middle.
    pub(crate) const fn middle(&self) -> f64 {
        f64::midpoint(self.board[0][0], self.board[1][0])
    }

    /// So much paper to one mm of it, that it is no higher than that and reaches no farther to a side.
    pub(crate) fn scale(&self, high: f64, aside: f64) -> f64 {
        let wide = self.spindle.iter().map(|p| (p[0] - self.middle()).abs()).fold(0.0, f64::max);
        (high / self.highest()).min(aside / wide.max(1e-9)).min(1.0)
    }
}
