//! Numbers of colour: how far the blanks' sapwood and heartwood lie apart, by their photographs.

use super::{In, Numbers};
use crate::job::{Job, Outcome};
use crate::stock::{Blank, alike};

/// Pairs that are listed one by one, at most; beyond that only the farthest.
const MOST_PAIRS: usize = 60;

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    let blanks = outcome.panels.iter().flat_map(|from| &from.panel.blanks).map(|laid| &laid.blank);
    let blanks: Vec<&Blank> = blanks.collect();
    let pairs = alike::pairs(&blanks, job.limits.colour);
    let shown = |pair: &alike::Pair| {
        let reads = pair.difference.reading.sentence_of(pair.part, pair.first, pair.second);
        let light = if pair.assumed { "; the light is assumed" } else { "" };
        format!("{:.1} ({reads}{light})", pair.difference.delta)
    };
    for pair in pairs.iter().take(MOST_PAIRS) {
        n.add(
            format!("colour.{} and {}.{}", pair.first, pair.second, pair.part),
            pair.difference.delta,
            In::ColourDifference,
            shown(pair),
            "how far these two blanks lie apart in this, CIEDE2000, by the photographs of their ends",
        );
    }
    for part in ["sapwood", "heartwood"] {
        let Some(pair) = alike::farthest(&pairs, part) else { continue };
        n.add(
            format!("colour.{part} differs"),
            pair.difference.delta,
            In::ColourDifference,
            shown(&pair),
            "the same for the two blanks that lie farthest apart, to be held against limits.colour",
        );
    }
}
