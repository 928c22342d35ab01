//! Gluing: the area of every joint, how much glue, how many clamps, in how many goes.
//!
//! No glue face of an end-grain board is end grain: in the panel the faces between blanks, and in
//! the board those between strips, all run along the grain ([`end_grain_share`] is nothing), so that
//! every joint is side grain to side grain and can be almost as strong as the wood (Wood Handbook,
//! FPL-GTR-190, chapter 10). That holds because a strip is turned by a quarter turn, which brings its
//! cut faces up and down and never into a joint.
//!
//! Clamps act in series: each joint in a row under one clamp gets the clamp's whole force, so the
//! **largest** joint sets the force, not the sum. The label of the glue governs over every figure here.

mod stages;

pub use stages::{Stage, at_once, stages};

use crate::board::Board;
use crate::measure::Length;
use crate::stock::Panel;
use crate::wood::WoodData;
use nalgebra::Vector3;

/// A time, minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Minutes(pub f64);

/// A force, newtons.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Newtons(pub f64);

/// A pressure, kilopascals: mN/mm².
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Kilopascals(pub f64);

/// The glue and the clamps, and how fast the maker is. Defaults are common practice, no source.
#[derive(Clone, Debug, PartialEq)]
pub struct Gluing {
    /// How much is spread on one face of a joint, g/m².
    pub spread: f64,
    /// The time from the first glue to the last clamp: the label says it.
    pub working: Minutes,
    /// Joints that are spread and laid in a minute.
    pub joints_a_minute: f64,
    /// What lining up and clamping takes of that time.
    pub line_up: Minutes,
    /// What one clamp presses with.
    pub clamp_force: Newtons,
    /// The farthest that two clamps stand apart.
    pub clamp_spacing: Length,
    /// How long the first and the second glue-up stay in the clamps.
    pub clamped: [Minutes; 2],
    /// How long before anything is planed or sanded.
    pub rest: Minutes,
    /// How far a strip may slip along its neighbour when the clamps go on.
    pub slip: Length,
    /// How far a strip may stand proud of its neighbour.
    pub proud: Length,
}

impl Default for Gluing {
    fn default() -> Self {
        Self {
            spread: 200.0,
            working: Minutes(8.0),
            joints_a_minute: 2.5,
            line_up: Minutes(3.0),
            clamp_force: Newtons(4500.0),
            clamp_spacing: Length::from_inch_fraction(6, 1),
            clamped: [Minutes(60.0), Minutes(120.0)],
            rest: Minutes(24.0 * 60.0),
            slip: Length::from_inch_fraction(1, 32),
            proud: Length::from_inch_fraction(1, 32),
        }
    }
}

impl Gluing {
    /// What is spread on one face of a joint, kg.
    fn spread_on(&self, joint: &Joint) -> f64 {
        joint.area() * self.spread * 1e-9
    }
}

/// One joint: a rectangle of glue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Along the clamped edge, mm.
    pub length: f64,
    /// Across it, mm.
    pub height: f64,
}

impl Joint {
    /// Its area, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.length * self.height
    }
}

/// Clamps across a glue-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamps {
    /// The force that the largest joint wants.
    pub force: Newtons,
    /// How many.
    pub count: usize,
    /// How far apart, mm; the first half of that from the end.
    pub spacing: f64,
}

/// One glue-up: a panel from blanks, or the board from strips.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueUp {
    /// Every joint, in order.
    pub joints: Vec<Joint>,
    /// The goes in which it fits the working time, in order.
    pub stages: Vec<Stage>,
    /// The clamps; `None` where there is nothing to glue.
    pub clamps: Option<Clamps>,
    /// The pressure reckoned with.
    pub pressure: Kilopascals,
    /// Across all its joints, mm: what the clamps must open to, the scrap under their jaws not counted.
    pub across: f64,
    /// What is spread, kg.
    pub glue: f64,
    /// How long in the clamps.
    pub clamped: Minutes,
}

impl GlueUp {
    /// The first glue-up: blanks side by side. A joint is as long as the two blanks run beside each
    /// other, and as high as the thinner of them.
    #[must_use]
    pub fn of_panel(panel: &Panel, gluing: &Gluing) -> Self {
        let joints = panel.blanks.windows(2).map(|pair| {
            let [from, to] = [0, 1].map(|end| {
                pair.iter()
                    .map(|b| if end == 0 { b.start } else { b.start + b.blank.size.length })
                    .map(Length::mm)
                    .collect::<Vec<_>>()
            });
            let length = to[0].min(to[1]) - from[0].max(from[1]);
            let height = pair[0].lying().thickness.min(pair[1].lying().thickness);
            Joint { length: length.max(0.0), height: height.mm() }
        });
        let density = densest(std::iter::once(panel));
        let across = panel.blanks.iter().map(|laid| laid.lying().width.mm()).sum();
        Self::of(joints.collect(), across, density, gluing, gluing.clamped[0])
    }

    /// The second glue-up: strips side by side. A joint is as long as the two strips run beside each
    /// other, and as high as a strip is wide.
    #[must_use]
    pub fn of_board(board: &Board, gluing: &Gluing) -> Self {
        let joints = board.strips().windows(2).map(|pair| {
            let to = pair.iter().map(|s| s.y + s.slab.width).fold(f64::INFINITY, f64::min);
            let from = pair.iter().map(|s| s.y).fold(f64::NEG_INFINITY, f64::max);
            Joint { length: (to - from).max(0.0), height: board.glued().thickness }
        });
        let density = densest(board.panels().iter());
        Self::of(joints.collect(), board.glued().length, density, gluing, gluing.clamped[1])
    }

    fn of(joints: Vec<Joint>, across: f64, density: f64, gluing: &Gluing, clamped: Minutes) -> Self {
        let pressure = pressure(density);
        let clamps = clamps(&joints, pressure, gluing);
        let glue = joints.iter().map(|joint| gluing.spread_on(joint)).sum();
        Self { stages: stages(joints.len() + 1, gluing), joints, clamps, pressure, across, glue, clamped }
    }

    /// What is spread in one go, kg: the joints between its runs.
    #[must_use]
    pub fn spread_in(&self, go: &Stage, gluing: &Gluing) -> f64 {
        let joins = go.runs.iter().take(go.joints()).filter_map(|[_, to]| self.joints.get(*to));
        joins.map(|joint| gluing.spread_on(joint)).sum()
    }

    /// The area of all joints, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.joints.iter().map(Joint::area).sum()
    }

    /// The largest joint's area, mm²: it sets the force.
    #[must_use]
    pub fn largest(&self) -> f64 {
        self.joints.iter().map(Joint::area).fold(0.0, f64::max)
    }

    /// How many pairs of cauls lie across the joints: one, and another for every 200 mm of the longest (common practice, no
    /// source).
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub fn cauls(&self) -> usize {
        const APART: f64 = 200.0;
        let long = self.joints.iter().map(|joint| joint.length).fold(0.0, f64::max);
        1 + (long / APART) as usize
    }
}

/// The densest wood at 8 % moisture content, kg/m³; that of hard maple where none is known.
fn densest<'a>(panels: impl Iterator<Item = &'a Panel>) -> f64 {
    const MAPLE: f64 = 679.0;
    let density = |name: &str| WoodData::named(name).and_then(|wood| wood.density(8.0));
    let known = panels.flat_map(|p| &p.blanks).filter_map(|b| density(&b.blank.figure.wood().name));
    known.reduce(f64::max).unwrap_or(MAPLE)
}

/// The pressure that a joint in wood of that density (kg/m³) wants: from 700 kPa (100 lbf/in²) in
/// light woods to 1700 kPa (247 lbf/in²) in the densest (Wood Handbook, chapter 10: the two ends from
/// memory), a straight line from 350 to 800 kg/m³, which is our own choice.
///
/// ```
/// use quarterturn_geometry::glue::{Kilopascals, pressure};
/// assert_eq!(pressure(300.0), Kilopascals(700.0));
/// assert_eq!(pressure(575.0), Kilopascals(1200.0));
/// assert_eq!(pressure(900.0), Kilopascals(1700.0));
/// ```
#[must_use]
pub fn pressure(density: f64) -> Kilopascals {
    let (light, dense) = (350.0, 800.0);
    Kilopascals(700.0 + 1000.0 * ((density - light) / (dense - light)).clamp(0.0, 1.0))
}

/// Clamps for joints in a row: pressure × the largest joint's area, shared by as many clamps as that
/// takes, no farther apart than said, two at least.
///
/// 200 lbf/in² on 12 × 12 in want 28 800 lbf.
#[must_use]
pub fn clamps(joints: &[Joint], pressure: Kilopascals, gluing: &Gluing) -> Option<Clamps> {
    let largest = joints.iter().copied().max_by(|a, b| a.area().total_cmp(&b.area())).filter(|j| j.area() > 0.0)?;
    let force = pressure.0 * 1e-3 * largest.area();
    let longest = joints.iter().map(|j| j.length).fold(0.0, f64::max);
    let by = |need: f64, each: f64| if each > 0.0 { (need / each).ceil() } else { 0.0 };
    let count = by(force, gluing.clamp_force.0).max(by(longest, gluing.clamp_spacing.mm())).max(2.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let whole = count as usize;
    Some(Clamps { force: Newtons(force), count: whole, spacing: longest / count })
}

/// The share of end grain in a glue face: |n·g| of its normal and the grain, both of length 1. 0 is
/// side grain, 1 end grain.
#[must_use]
pub fn end_grain_share(normal: &Vector3<f64>, grain: &Vector3<f64>) -> f64 {
    normal.dot(grain).abs()
}

/// What strips that slip and stand proud cost the board, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misaligned {
    /// The least that must be trimmed off the front and off the back each.
    pub trim: f64,
    /// The least that must be flattened off, both faces together.
    pub flatten: f64,
    /// The step that a centre line shows where two strips slipped opposite ways, or where one is turned end for
    /// end and the panel's centre line is off by the slip: twice as much.
    pub step: f64,
}

/// What it costs where every strip lies within ± `slip` of its line and stands `proud` of its neighbours at most.
///
/// Strips between −e and +e leave full cover that is 2e narrower: e off each side. What stands proud is flattened off.
#[must_use]
pub fn misaligned(slip: Length, proud: Length) -> Misaligned {
    Misaligned { trim: slip.mm(), flatten: proud.mm(), step: 2.0 * slip.mm() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layup::Turn;
    use approx::assert_relative_eq;

    /// 200 psi on 12 × 12 in: 28 800 lbf.
    #[test]
    fn force_by_hand() {
        let psi = Kilopascals(200.0 * 6.894_757_293_168_36);
        let joints = [Joint { length: 304.8, height: 304.8 }, Joint { length: 304.8, height: 20.0 }];
        let gluing = Gluing::default();
        let both = clamps(&joints, psi, &gluing).unwrap();
        assert_relative_eq!(both.force.0 / 4.448_221_615_260_5, 28_800.0, max_relative = 1e-9);
        // Not the sum: a second joint in the row changes nothing.
        assert_eq!(clamps(&joints[..1], psi, &gluing), Some(both));
        assert_eq!(both.count, (28_800.0 * 4.448_221_615_260_5 / 4500.0_f64).ceil() as usize);
    }

    #[test]
    fn a_long_thin_joint_is_clamped_by_spacing_and_nothing_wants_no_clamp() {
        let gluing = Gluing { clamp_force: Newtons(1e9), ..Gluing::default() };
        let of = |length| clamps(&[Joint { length, height: 20.0 }], Kilopascals(1000.0), &gluing);
        assert_eq!(of(609.6).map(|c| (c.count, c.spacing)), Some((4, 152.4)));
        assert_eq!(of(100.0).map(|c| c.count), Some(2));
        assert_eq!(of(0.0), None);
    }

    /// In the panel joints look along x and the grain along z; in the board, however a strip is
    /// turned, joints look along X and Y and the grain along Z.
    #[test]
    fn no_glue_face_is_end_grain() {
        let (x, y, z) = (Vector3::x(), Vector3::y(), Vector3::z());
        assert_eq!(end_grain_share(&x, &z), 0.0);
        for turn in Turn::ALL {
            let grain = turn.rotation() * z;
            assert!(end_grain_share(&x, &grain) < 1e-15 && end_grain_share(&y, &grain) < 1e-15, "{turn:?}");
            assert!((end_grain_share(&z, &grain) - 1.0).abs() < 1e-15, "the faces are all end grain");
        }
    }

    #[test]
    fn a_board_of_ten_strips_by_hand() {
        let board = crate::board::tests::turned(&[Turn::AsCut; 10]);
        let glue_up = GlueUp::of_board(&board, &Gluing::default());
        // Nine joints of 172 × 40 mm; 200 g/m².
        assert_eq!(glue_up.joints.len(), 9);
        assert_relative_eq!(glue_up.area(), 9.0 * 172.0 * 40.0, max_relative = 1e-12);
        assert_relative_eq!(glue_up.glue, 9.0 * 0.172 * 0.040 * 0.200, max_relative = 1e-12);
        // Ten strips of a panel planed from 24 to 21. Six joints in a go at most; what the goes spread is all that is spread.
        assert_relative_eq!(glue_up.across, 210.0, max_relative = 1e-12);
        let slow = Gluing { working: Minutes(3.0 + 6.0 / 2.5), ..Gluing::default() };
        let in_goes = GlueUp::of_board(&board, &slow);
        let spread: Vec<f64> = in_goes.stages.iter().map(|go| in_goes.spread_in(go, &slow)).collect();
        assert_eq!(spread.len(), 3);
        assert_relative_eq!(spread[0], 4.0 * 0.172 * 0.040 * 0.200, max_relative = 1e-12);
        assert_relative_eq!(spread.iter().sum::<f64>(), in_goes.glue, max_relative = 1e-12);
        let panel = GlueUp::of_panel(&board.panels()[0], &Gluing::default());
        // Three blanks 24 thick and 700 long.
        assert_relative_eq!(panel.area(), 2.0 * 24.0 * 700.0, max_relative = 1e-12);
    }
}
