//! Numbers of the two glue-ups.

use super::Numbers;
use crate::glue::{GlueUp, Gluing, Newtons, misaligned};
use crate::job::{Job, Outcome};

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    let gluing = &job.gluing;
    let mut glue = 0.0;
    for from in &outcome.panels {
        let glue_up = GlueUp::of_panel(&from.panel, gluing);
        glue += glue_up.glue;
        listed(&format!("panel.{}.glue", from.panel.name), &glue_up, gluing, n);
    }
    let Ok(board) = &outcome.board else { return };
    let glue_up = GlueUp::of_board(board, gluing);
    glue += glue_up.glue;
    listed("board.glue", &glue_up, gluing, n);
    let cauls = i64::try_from(glue_up.cauls()).unwrap_or(i64::MAX / 2);
    n.count(
        "board.glue.cauls",
        cauls,
        "pairs of cauls: one, and another for every 200 mm of the strips' length (common practice, no source)",
    );
    n.count("board.glue.caul clamps", 2 * cauls, "clamps for them: one at each end of a pair");
    n.grams("glue.all", glue, "both glue-ups: area of every joint × what is spread on one face of it");
    n.time("glue.working", gluing.working, "from the first glue to the last clamp: the label says it");
    n.time("glue.rest", gluing.rest, "how long before anything is planed or sanded, or the joints sink later");
    let lost = misaligned(gluing.slip, gluing.proud);
    n.at_least(
        "glue.slip trims",
        lost.trim,
        "what strips that slip so far cost at the front and at the back trim each",
    );
    n.at_least(
        "glue.proud flattens",
        lost.flatten,
        "what strips that stand so proud cost of the flattening, both faces together",
    );
    n.at_least(
        "glue.slip steps",
        lost.step,
        "the step that a centre line shows where two strips slipped opposite ways: twice the slip",
    );
}

fn listed(start: &str, glue_up: &GlueUp, gluing: &Gluing, n: &mut Numbers) {
    let key = |name: &str| format!("{start}.{name}");
    let whole = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    n.count(key("joints"), whole(glue_up.joints.len()), "joints of this glue-up");
    let Some(clamps) = glue_up.clamps else { return };
    n.area(key("area"), glue_up.area(), "all its joints together");
    n.area(
        key("largest joint"),
        glue_up.largest(),
        "clamps act in series: the largest joint sets the force, not the sum",
    );
    n.grams(key("spread"), glue_up.glue, "glue spread on one face of every joint");
    n.pressure(
        key("pressure"),
        glue_up.pressure,
        "what a joint in its densest wood wants: 700 to 1700 kPa by density (Wood Handbook, chapter 10, from memory)",
    );
    n.force(key("force"), clamps.force, "pressure × the largest joint");
    n.count(
        key("clamps"),
        whole(clamps.count),
        "as many as that force takes, no farther apart than said, two at least",
    );
    n.at_least(
        key("clamps open"),
        glue_up.across,
        "what the clamps must open to: across all its joints; the scrap under their jaws comes on top",
    );
    n.force(key("force a clamp"), Newtons(clamps.force.0 / clamps.count as f64), "the force shared by the clamps");
    n.apart(
        key("clamp spacing"),
        clamps.spacing,
        "from clamp to clamp, spread evenly, down to a whole or a half that a clamp is set by; the first half of that from the end",
    );
    n.time(key("clamped"), glue_up.clamped, "how long it stays in the clamps");
    n.count(key("goes"), whole(glue_up.stages.len()), "goes in which it fits the working time");
    for (i, stage) in glue_up.stages.iter().enumerate() {
        let key = |name: &str| format!("{start}.go.{}.{name}", i + 1);
        n.count(key("joints"), whole(stage.joints()), "joints of this go");
        let (from, to) = (stage.runs.first().map_or(0, |r| r[0]), stage.runs.last().map_or(0, |r| r[1]));
        n.count(key("from"), whole(from + 1), "the first blank or strip of it, by its place");
        n.count(key("to"), whole(to + 1), "the last");
        n.grams(key("spread"), glue_up.spread_in(stage, gluing), "glue spread on one face of each of them");
        n.time(key("takes"), stage.takes, "spreading, lining up and clamping: lining up + joints ÷ joints a minute");
    }
}
