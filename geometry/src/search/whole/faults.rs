//! What faults of the panel do to a lay-up, and blanks that plane against each other.
//!
//! # Formulas
//! With n strips laid Y = W − x (as cut, rolled over) and m laid Y = x (end for end, end over end), p the strips whose
//! far face is up (as cut, end for end) and r the others: a panel δ_x thicker at one edge makes the board |n − m|·δ_x
//! longer on one side; one δ_z thicker at one end, over its length L, makes one face of the board |p − r|·δ_z·s/L
//! longer than the other; a blade leaning by α leaves a board of one laying flat and gives one of both teeth of
//! T·tan α; a centre line off by e steps by 2e where a strip of the one laying meets one of the other. All by
//! definition of the turns ([`crate::layup::Turn`]).

use super::super::costs::Laid;
use super::faces::CutFaces;
use crate::stock::{HalfTurn, LaidBlank, Panel};
use nalgebra::Vector2;

/// What is known, or assumed, of a panel's faults.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// How much thicker the panel is at one edge than at the other, mm, where it wasn't measured.
    pub taper_across: f64,
    /// How much thicker it is at one end than at the other, mm, where it wasn't measured.
    pub taper_along: f64,
    /// How far the blade leans, in degrees.
    pub blade_leans: f64,
    /// How far the figure's centre line is off the panel's, mm.
    pub centre_off: f64,
}

impl Default for Known {
    /// What a careful shop is good to: 0.1 mm of taper either way, a blade within 0.1°, a centre line within 0.5 mm
    /// (common practice, no source).
    fn default() -> Self {
        Self { taper_across: 0.1, taper_along: 0.1, blade_leans: 0.1, centre_off: 0.5 }
    }
}

/// What faults of the panels do to a lay-up; all 0 or more. See the module for the formulas.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Faults {
    /// How much longer the board is on one side than on the other, mm.
    pub fan: f64,
    /// How much longer it is on one face than on the other, mm.
    pub arch: f64,
    /// How far the strips' tops and bottoms slant, mm: so much thinner the flattened board is.
    pub teeth: f64,
    /// How far the centre line steps where it steps, mm.
    pub step: f64,
    /// At how many glue lines it steps.
    pub steps: usize,
}

/// Of one panel: its tapers as measured (across, along, mm), its length and thickness.
#[derive(Clone, Copy, Debug)]
pub(super) struct PanelFaults {
    measured: Option<[f64; 2]>,
    length: f64,
    thickness: f64,
}

impl PanelFaults {
    pub(super) fn of(panel: &Panel) -> Self {
        Self {
            measured: panel.measured.as_ref().map(|c| [c.taper_across(), c.taper_along()]),
            length: panel.length().mm(),
            thickness: panel.thickness().mm(),
        }
    }
}

impl CutFaces {
    /// What the panels' faults do to this lay-up: as measured, else as [`Known::default`] assumes.
    #[must_use]
    pub fn faults(&self, laid: &[Laid]) -> Faults {
        self.faults_by(laid, &Known::default())
    }

    /// The same with what is known of shop and panels.
    #[must_use]
    pub fn faults_by(&self, laid: &[Laid], known: &Known) -> Faults {
        let width = self.strip_width;
        // By panel, so that equal and opposite cancel exactly.
        let mut counts = vec![[0_i32; 2]; self.panels.len()];
        let (mut ways, mut before, mut steps) = ([false; 2], None, 0);
        let mut thickest = 0.0_f64;
        for l in laid {
            let Some(strip) = self.strips.get(l.strip) else { continue };
            let (turn, first) = (l.turn(), l.turn().first_blank_in_front());
            counts[strip.panel][0] += if first { -1 } else { 1 };
            counts[strip.panel][1] += if turn.far_face_up() { 1 } else { -1 };
            ways[usize::from(first)] = true;
            steps += usize::from(before.is_some_and(|before| before != first));
            before = Some(first);
            thickest = thickest.max(self.panels[strip.panel].faults.thickness);
        }
        let sum = |which: usize, assumed: f64| -> f64 {
            let of = counts.iter().zip(&self.panels).map(|(count, panel)| {
                let taper = panel.faults.measured.map_or(assumed, |measured| measured[which]);
                let share = if which == 0 { 1.0 } else { width / panel.faults.length.max(width) };
                f64::from(count[which]) * taper * share
            });
            of.sum::<f64>().abs()
        };
        Faults {
            fan: sum(0, known.taper_across),
            arch: sum(1, known.taper_along),
            teeth: if ways == [true; 2] { thickest * known.blade_leans.to_radians().tan().abs() } else { 0.0 },
            step: if steps > 0 { 2.0 * known.centre_off.abs() } else { 0.0 },
            steps,
        }
    }
}

/// The slope of a blank's figure as it lies in its panel, dx/dz and dy/dz.
pub(super) fn slope(laid: &LaidBlank) -> Vector2<f64> {
    let own = laid.blank.figure.wander();
    // A quarter roll takes the lying (u, v) to the blank's own (v, V − u).
    let lying = if laid.turn.quarter_roll { Vector2::new(-own.y, own.x) } else { own };
    match laid.turn.half {
        HalfTurn::Rest => lying,
        HalfTurn::RolledOver => -lying,
        HalfTurn::EndForEnd => Vector2::new(lying.x, -lying.y),
        HalfTurn::EndOverEnd => Vector2::new(-lying.x, lying.y),
    }
}

/// How a panel's blanks lie to the planer: the grain of each rises to the panel's face toward the far end, falls, or
/// runs level, and neighbours that differ can't both be planed with the grain.
///
/// The grain is taken to run as the pith does ([`crate::wood::Figure::wander`]); interlocked or wild grain is not in the model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planing {
    /// How many pairs of neighbours plane against each other.
    pub against: usize,
    /// How many pairs of neighbours there are.
    pub pairs: usize,
    /// The steepest grain that is planed against the least, whichever way the panel is fed: mm rise for each mm. Of
    /// all blanks whose grain rises one way the steepest, of those the other way the steepest, the smaller of the two.
    pub steepest: f64,
}

impl Planing {
    /// Below this slope the grain is as good as level, and planes well both ways: 1 in 100 (common practice, no
    /// source).
    pub const LEVEL: f64 = 0.01;

    /// Of one panel.
    #[must_use]
    pub fn of(panel: &Panel) -> Self {
        let rises: Vec<f64> = panel.blanks.iter().map(|laid| slope(laid).y).collect();
        let against = |pair: &&[f64]| pair[0] * pair[1] < 0.0 && pair.iter().all(|rise| rise.abs() >= Self::LEVEL);
        let steepest = |sign: f64| rises.iter().map(|rise| sign * rise).fold(0.0, f64::max);
        Self {
            against: rises.windows(2).filter(against).count(),
            pairs: rises.len().saturating_sub(1),
            steepest: steepest(1.0).min(steepest(-1.0)),
        }
    }
}
