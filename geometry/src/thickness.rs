//! Thickness, step by step: what each stage takes, what it leaves, and what that does to the board.
//!
//! A panel's thickness times its strips is the board's length, so that whatever is planed off a panel
//! costs length as many times over as strips of it are laid. The strip's width is the board's thickness before
//! it is flattened. Exact: sums of lengths as typed. Knows jobs and what follows from them; judges nothing.

use crate::job::{FromPanel, Job, Machine, Outcome};
use crate::measure::Length;
use crate::stock::LaidBlank;

/// A stage of the work that takes thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stage {
    /// The blank as it is bought or found.
    Rough,
    /// One face jointed, the other planed parallel.
    Milled,
    /// The panel's lower face planed after the first glue-up.
    PlanedLower,
    /// Its upper face.
    PlanedUpper,
    /// The strip's width: the board as glued.
    Glued,
    /// The board's lower face flattened.
    FlattenedLower,
    /// Its upper face.
    FlattenedUpper,
    /// Both faces sanded, of what was left for it.
    Sanded,
}

impl Stage {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Rough => "rough",
            Self::Milled => "one face jointed, the other planed",
            Self::PlanedLower => "panel's lower face planed",
            Self::PlanedUpper => "panel's upper face planed",
            Self::Glued => "strips as cut, glued",
            Self::FlattenedLower => "lower face flattened",
            Self::FlattenedUpper => "upper face flattened",
            Self::Sanded => "both faces sanded",
        }
    }
}

/// One step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub stage: Stage,
    /// What it takes off.
    pub takes: Length,
    /// In how many passes of the machine at least; 0 where nothing is taken or no pass is known.
    pub passes: i64,
    /// What is left.
    pub leaves: Length,
    /// Whether it goes through the machine; `None` where the stage has none.
    pub fits: Option<bool>,
}

/// The thickness of one panel, from its deciding blank to the planed panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelSteps {
    /// The place of the blank that decides: the thinnest as milled.
    pub blank: usize,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// The thickness as measured at the mean of the four corners, where it was.
    pub measured: Option<Length>,
    /// Strips of this panel that are laid: each pass costs the board's length so many times over.
    pub strips: i64,
    /// How much may still be planed off this panel alone and the board keep the length that the plan asks for;
    /// negative where it is short already, `None` where none is asked or no strip is laid.
    pub spare: Option<Length>,
}

/// All steps of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    /// One panel each.
    pub panels: Vec<PanelSteps>,
    /// The board, from the strip's width to the sanded thickness.
    pub board: Vec<Step>,
    /// The finished length: Σ strips × panel thickness, less the trims; as measured where it was.
    pub length: Length,
    /// By how much it is more than the least length that the plan asks for; negative where it is short.
    pub spare_length: Option<Length>,
}

impl Steps {
    /// Of a job and what follows from it.
    ///
    /// A board of 14 strips from a panel of 13/16 in, 1/8 in trimmed off each end, is 11 1/8 in long; where
    /// 11 in is asked for, 1/8 in is spare, and 1/112 in may still be planed off the panel.
    #[must_use]
    pub fn of(job: &Job, outcome: &Outcome) -> Self {
        let laid = |i: usize| outcome.places.iter().filter(|p| p.panel == i).count();
        let laid: Vec<i64> = (0..outcome.panels.len()).map(|i| i64::try_from(laid(i)).unwrap_or(i64::MAX)).collect();
        let together: Length = outcome.panels.iter().zip(&laid).map(|(from, n)| from.panel.thickness() * *n).sum();
        let glued = job.measured.board_length.unwrap_or(together);
        let length = glued - job.finishing.left - job.finishing.right;
        let spare_length = job.finishing.least_length.map(|least| length - least);
        let panels = outcome
            .panels
            .iter()
            .zip(laid)
            .map(|(from, strips)| PanelSteps {
                spare: spare_length.filter(|_| strips > 0).map(|spare| spare.divided_by(strips.max(1))),
                ..panel(job, from, strips)
            })
            .collect();
        Self { panels, board: board(job, outcome), length, spare_length }
    }
}

/// Thickness as the blank lies in the panel, before milling.
fn rough(laid: &LaidBlank) -> Option<Length> {
    Some(laid.turn.lying(laid.blank.rough?).thickness)
}

fn panel(job: &Job, from: &FromPanel, strips: i64) -> PanelSteps {
    let blanks = &from.panel.blanks;
    let (blank, laid) = match blanks.iter().enumerate().min_by_key(|(_, b)| b.lying().thickness) {
        Some(found) => found,
        None => return PanelSteps { blank: 0, steps: vec![], measured: None, strips, spare: None },
    };
    let milled = laid.lying().thickness;
    let mut steps = Vec::new();
    if let Some(rough) = rough(laid) {
        steps.push(Step { stage: Stage::Rough, takes: Length::ZERO, passes: 0, leaves: rough, fits: None });
    }
    let takes = rough(laid).map_or(Length::ZERO, |rough| rough - milled);
    let size = laid.lying();
    let fits =
        job.machines.jointer.takes(size.width, size.length) && job.machines.planer.takes(size.width, size.length);
    let passes = job.machines.planer.passes(takes);
    steps.push(Step { stage: Stage::Milled, takes, passes, leaves: milled, fits: takes.is_positive().then_some(fits) });
    let planer = &job.machines.planer;
    let through = planer.takes(from.panel.width(), from.panel.length());
    let mut leaves = milled;
    for (stage, takes) in [(Stage::PlanedLower, from.panel.planed[0]), (Stage::PlanedUpper, from.panel.planed[1])] {
        leaves -= takes;
        let fits = takes.is_positive().then_some(through);
        steps.push(Step { stage, takes, passes: planer.passes(takes), leaves, fits });
    }
    PanelSteps { blank, steps, measured: from.panel.measured.map(|c| c.mean()), strips, spare: None }
}

fn board(job: &Job, outcome: &Outcome) -> Vec<Step> {
    let sander = &job.machines.drum_sander;
    let through = outcome.board.as_ref().ok().map(|board| {
        let glued = board.glued();
        let [narrow, long] = [glued.length.min(glued.width), glued.length.max(glued.width)].map(Length::nearest_to_mm);
        sander.takes(narrow, long)
    });
    let glued = Step { stage: Stage::Glued, takes: Length::ZERO, passes: 0, leaves: outcome.width, fits: None };
    let mut steps = vec![glued];
    // Of what is flattened off each face, so much is left for sanding.
    let sanded = |taken: Length| job.finish.left_for_sanding.min(taken);
    let (lower, upper) = (job.finishing.lower, job.finishing.upper);
    let mut leaves = outcome.width;
    for (stage, off) in [(Stage::FlattenedLower, lower), (Stage::FlattenedUpper, upper)] {
        let takes = off - sanded(off);
        leaves -= takes;
        steps.push(Step { stage, takes, passes: sander.passes(takes), leaves, fits: through });
    }
    let takes = sanded(lower) + sanded(upper);
    steps.push(Step { stage: Stage::Sanded, takes, passes: 0, leaves: leaves - takes, fits: None });
    steps
}

impl Machine {
    /// Whether it takes a piece so wide and so long.
    #[must_use]
    pub fn takes(&self, width: Length, length: Length) -> bool {
        width <= self.widest && length >= self.shortest
    }

    /// The least passes that take so much: each no deeper than its pass.
    #[must_use]
    pub fn passes(&self, depth: Length) -> i64 {
        let whole = depth.whole_parts(self.pass);
        whole + i64::from(self.pass.is_positive() && depth.is_positive() && self.pass * whole < depth)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::inch;
    use proptest::prelude::*;

    fn machine(pass: Length) -> Machine {
        Machine { name: "planer", widest: inch("12"), shortest: inch("14"), pass }
    }

    #[test]
    fn passes_by_hand() {
        let planer = machine(inch("1/32"));
        for (depth, passes) in [("0", 0), ("1/32", 1), ("1/16", 2), ("5/64", 3), ("1/64", 1)] {
            assert_eq!(planer.passes(inch(depth)), passes, "{depth}");
        }
        assert_eq!(machine(Length::ZERO).passes(inch("1")), 0);
        assert!(planer.takes(inch("12"), inch("14")) && !planer.takes(inch("12 1/64"), inch("14")));
        assert!(!planer.takes(inch("12"), inch("13 63/64")));
    }

    proptest! {
        #[test]
        fn no_pass_is_deeper_than_said(depth in 0i64..100_000, pass in 1i64..5000) {
            let (depth, pass) = (Length::from_micrometres(depth), Length::from_micrometres(pass));
            let passes = machine(pass).passes(depth);
            prop_assert!(pass * passes >= depth && pass * (passes - 1) <= depth);
        }
    }
}
