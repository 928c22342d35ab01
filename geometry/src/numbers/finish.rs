//! Numbers of sanding and finishing, and of what went wrong.

use super::Numbers;
use crate::finish::Quantity;
use crate::job::{Job, Outcome};
use crate::mend::{Mishap, WayOut, flattens, reglue, thickness_with_rock, ways_out};

/// The oil for both faces; nothing where there is no board.
pub(super) fn oil(job: &Job, outcome: &Outcome) -> Quantity {
    let face = outcome.board.as_ref().map_or(0.0, |board| board.finished().length * board.finished().width);
    job.finish.oil(2.0 * face)
}

pub(super) fn add(job: &Job, outcome: &Outcome, oil: Quantity, n: &mut Numbers) {
    if outcome.board.is_err() {
        return;
    }
    for step in job.finish.sequence() {
        let about = "what this grit must take off a face, so that the scratches of the grit before are gone: a third of that grit's grain (FEPA P grades, ISO 6344; the third is our own choice)";
        n.hair(format!("sanding.{}.removes", step.grit), step.removes, about);
    }
    n.hair("sanding.all", job.finish.sanded(), "what all grits take off a face together");
    n.fine(
        "sanding.left for it",
        job.finish.left_for_sanding.mm(),
        "of what is flattened off each face, so much is left for sanding",
    );
    n.liquid(
        "finish.oil least",
        oil.least,
        "what both faces take in all coats, the least; edges are side grain and take little",
    );
    n.liquid("finish.oil most", oil.most, "the most: have so much at hand");
    n.count("finish.coats", i64::from(job.finish.coats), "coats, a night between");
}

/// What to do now.
pub(super) fn mended(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    if outcome.board.is_err() {
        return;
    }
    n.length("mend.reglue costs", reglue(job).mm(), "what ripping a glue line open and gluing it again takes off the length: the kerf and one jointer pass off each face");
    if let Some(rock) = job.measured.rock {
        n.length("mend.rock", rock.mm(), "the gap under one corner on a flat table, as measured");
        n.at_least(
            "mend.rock flattens",
            flattens(rock).mm(),
            "what must come off each face until it lies flat: half the rock",
        );
        n.at_most("mend.rock leaves", thickness_with_rock(job, outcome, rock).max(0.0), "the finished thickness then");
    }
    for (i, way) in ways_out(job, outcome).into_iter().enumerate() {
        let key = |name: &str| format!("mend.{}.{name}", i + 1);
        let place = match way.mishap {
            Mishap::Chipped(place) | Mishap::Open(place) => place + 1,
            Mishap::Short => 0,
        };
        n.count(
            key("place"),
            i64::try_from(place).unwrap_or(i64::MAX),
            "the place of the chipped strip, or left of the open line; 0 of a board that came out short",
        );
        if let WayOut::Spare(_, strip) | WayOut::MoreStrips(_, strip) = way.way {
            let (name, about) = match way.way {
                WayOut::Spare(..) => ("spare strip", "the number of the strip that takes its place"),
                _ => ("more strips", "how many more strips reach the length"),
            };
            n.count(key(name), strip + i64::from(name == "spare strip"), about);
        }
        n.length(key("costs"), way.costs, "what this way out costs of the board's length; below 0 it gains");
        n.length(key("length"), way.length, "the finished length then");
    }
}
