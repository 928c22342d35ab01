//! Numbers of thickness, step by step, and of what the length still spares.

use super::Numbers;
use crate::job::{Job, Outcome};
use crate::thickness::{Step, Steps};

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    let steps = Steps::of(job, outcome);
    n.length(
        "rule.mark",
        job.rule.mark().mm(),
        "the distance between two of the finest marks that lengths are shown to",
    );
    for (panel, from) in steps.panels.iter().zip(&outcome.panels) {
        let name = &from.panel.name;
        listed(&format!("panel.{name}.thickness"), &panel.steps, n);
        n.count(
            format!("panel.{name}.strips laid"),
            panel.strips,
            "strips of this panel in the board: what is planed off the panel costs the board's length so many times over",
        );
        let pass = job.machines.planer.pass.mm();
        n.length(
            format!("panel.{name}.length a pass"),
            pass * panel.strips as f64,
            "what one pass of the planer over this panel costs the board's length: pass × strips laid",
        );
        n.length(
            format!("panel.{name}.length a mark"),
            job.rule.mark().mm() * panel.strips as f64,
            "what one mark of the rule in this panel's thickness makes of the board's length: mark × strips laid",
        );
        n.length(
            format!("panel.{name}.share of length"),
            (from.panel.thickness() * panel.strips).mm(),
            "this panel's share of the glued board's length: thickness × strips laid",
        );
        if let Some(spare) = panel.spare {
            n.at_most(
                format!("panel.{name}.may be planed"),
                spare.mm(),
                "how much may still be planed off this panel alone, the board keeping its least length: (length − least) / strips laid; below 0 it is short",
            );
        }
    }
    if outcome.board.is_err() {
        return;
    }
    listed("board.thickness", &steps.board, n);
    if let (Some(least), Some(spare)) = (job.finishing.least_length, steps.spare_length) {
        n.length("board.least length", least.mm(), "the least finished length that the plan asks for");
        n.at_most("board.length to spare", spare.mm(), "the finished length less the least; below 0 it is short");
    }
}

fn listed(start: &str, steps: &[Step], n: &mut Numbers) {
    for (i, step) in steps.iter().enumerate() {
        let key = |name: &str| format!("{start}.step.{}.{name}", i + 1);
        n.fine(key("takes"), step.takes.mm(), "what this step takes off the thickness");
        n.fine(key("leaves"), step.leaves.mm(), "what it leaves");
        if step.passes > 0 {
            n.count(key("passes"), step.passes, "passes of the machine at least, each no deeper than its pass");
        }
    }
}
