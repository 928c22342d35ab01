//! Numbers of the cuts on the faces: what the bit is set to, what they take, which glue lines they meet.

use super::Numbers;
use super::handhold::{frame, program, starting_hole};
use crate::board::Board;
use crate::check::lines;
use crate::cut::{Cut, Face, Finished, Path, Sweep, Which};
use crate::job::{Job, Outcome};
use crate::measure::Length;
use crate::path::{Cutting, passes};

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    let Ok(board) = &outcome.board else { return };
    let size = board.finished();
    outline(job, n);
    for (which, sweep) in job.cuts.sweeps(&size) {
        let key = |name: &str| format!("{}.{name}", which.key());
        let profile = sweep.profile;
        let diameter = job.cuts.bit(which).map_or(2.0 * profile.radius, |bit| bit.diameter.mm());
        n.fine(key("bit diameter"), diameter, "D: the bit's diameter");
        n.length(
            key("depth"),
            profile.depth,
            "d: from the face to the floor; the board's thickness for a hole through it",
        );
        n.length(
            key("width"),
            2.0 * profile.bit_at_surface(),
            "how wide the cut is at the face: 2ρ(d), of a hole its diameter",
        );
        if let Some(rim) = profile.rim {
            n.length(key("rim"), rim.size(), "how far its own rim is rounded over or chamfered, afterwards");
        }
        if !sweep.through {
            plunged(job, board, which, &sweep, n, key);
        }
        set(job, which, &size, n, key);
        taken(board, &sweep, n, key);
    }
    let all = job.cuttings(board);
    let outline_can = job.cnc.as_ref().is_none_or(|cnc| Cutting::outline_can(&all, cnc, job.hardest()));
    for cutting in all.iter().filter(|c| c.cut.is_of_the_whole() && (outline_can || !c.is_of_the_outline())) {
        let key = |name: &str| format!("{}.{name}", cutting.cut.key());
        n.fine(key("bit diameter"), cutting.bit.diameter.mm(), "D: the bit's diameter");
        n.length(key("depth"), cutting.profile.depth, "from the surface to the bit's lowest place");
        program(job, cutting, &all, n, key);
    }
    for cutting in Cutting::rims(&job.cuts, &job.rim_bits, &size) {
        let key = |name: &str| format!("{}.{name}", cutting.cut.key());
        n.fine(key("bit diameter"), cutting.bit.diameter.mm(), "D: the bit's diameter");
        program(job, &cutting, &all, n, key);
    }
    for cutting in Cutting::all(&[], &job.cuts, &size) {
        if let Cut::Face(which) = cutting.cut {
            program(job, &cutting, &all, n, |name| format!("{}.{name}", which.key()));
            frame(job, &cutting, n, |name| format!("{}.{name}", which.key()));
        }
    }
}

/// What is set on a plunge router while the face is not sanded yet.
fn plunged(job: &Job, board: &Board, which: Which, sweep: &Sweep, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let [upper, lower] = job.still_to_sand(board);
    let more = if sweep.face == Face::Lower { lower } else { upper };
    let depth = sweep.profile.depth + more;
    n.fine(key("depth unsanded"), depth, "the depth while the face is not sanded: what sanding takes off it, deeper");
    if matches!(which, Which::Foot(_)) {
        return;
    }
    n.at_most(key("upright wall"), sweep.profile.upright(), "d − s − r: the upright wall that a bearing runs along");
    let table = &job.router_table;
    let about = "how deep a plunge router is set for this pass, the face not sanded: none takes more than the router table's pass";
    let depths = passes(depth, table.pass.mm(), table.last_pass.mm(), None);
    for (pass, at) in depths.iter().enumerate() {
        let key = key(&format!("plunge {}", pass + 1));
        // The last is the depth, and is said as the depth is.
        if pass + 1 == depths.len() { n.fine(key, *at, about) } else { n.at_most(key, *at, about) }
    }
    if job.cuts.bit(which).is_some_and(|bit| !bit.cuts_at_centre) {
        starting_hole(&sweep.profile.eased(None), sweep.profile.depth + more, n, key);
    }
}

fn outline(job: &Job, n: &mut Numbers) {
    let cuts = &job.cuts;
    if let Some(radius) = cuts.corner_radius {
        n.length("corners.radius", radius.mm(), "the radius of the board's four corners, seen from above");
    }
    for (name, rim) in [("upper rim", cuts.upper_rim), ("lower rim", cuts.lower_rim)] {
        if let Some(easing) = rim {
            n.length(
                name,
                easing.size(),
                "how far its round-over or chamfer reaches in from the side and from the face",
            );
        }
    }
}

/// What the maker sets.
fn set(job: &Job, which: Which, size: &Finished, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let cuts = &job.cuts;
    match which {
        Which::Groove(i) => {
            let Some(groove) = cuts.grooves.get(i) else { return };
            let path = groove.path(size);
            n.length(
                key("setback"),
                groove.setback.mm(),
                "from each edge of the finished board to the groove's nearer rim",
            );
            n.length(key("fence"), groove.centre_line(), "from each edge to the bit's centre: setback + ρ(d)");
            n.length(key("corner radius"), path.radius, "the radius of the corners that the bit's centre runs round");
            n.length(key("way"), path.perimeter(), "how far the bit's centre runs, once round");
            n.length(
                key("way long"),
                path.length(),
                "how long the rounded rectangle is that the bit's centre runs round",
            );
            n.length(key("way wide"), path.width(), "how wide it is");
        }
        Which::Spout(i) => {
            let Some(spout) = cuts.spouts.get(i) else { return };
            n.length(key("along"), spout.from_low_end(size), "from the edge's left or front end to the spout's middle");
        }
        Which::FingerRecess(i) => {
            let Some(recess) = cuts.finger_recesses.get(i) else { return };
            n.length(key("fence"), recess.in_from_edge.mm(), "from the edge to the bit's centre");
            n.length(key("travel"), recess.travel(size), "how far the bit's centre travels along the edge");
            if let (Some(rise), Path::Arch(arch)) = (recess.rise, recess.sweep(size).path) {
                n.length(
                    key("rise"),
                    rise.mm(),
                    "how much farther in the bit's centre lies in the middle than at the ends",
                );
                n.length(key("arc"), arch.radius, "the radius of the arc that the bit's centre follows");
                let [out, along] = recess.pivot(&arch, size);
                n.length(key("pivot out"), out, "how far outside the edge that arc's centre lies");
                n.length(key("pivot along"), along, "how far along the edge it lies, from the left or front end");
            }
            let rho = recess.profile().bit_at_surface();
            let in_from_edge = recess.in_from_edge.mm();
            n.length(
                key("reach in"),
                in_from_edge + rho,
                "from the edge to the recess's inner side on the face, at its ends",
            );
            if let Some(rise) = recess.rise {
                n.length(key("middle in"), in_from_edge + rise.mm(), "from the edge to the bit's centre in the middle");
                n.length(
                    key("reach in middle"),
                    in_from_edge + rise.mm() + rho,
                    "from the edge to the recess's inner side on the face, in the middle",
                );
            }
            if in_from_edge > rho {
                n.at_most(key("stands"), in_from_edge - rho, "what stands on the face between the edge and the recess");
            }
            for (end, setback) in recess.edge.ends().into_iter().zip(recess.setbacks) {
                n.length(
                    key(&format!("bit from {}", end.name())),
                    setback.mm() + rho,
                    "from this corner of the finished board to where the bit's centre begins or ends: setback + ρ(d)",
                );
                n.length(
                    key(&format!("setback {}", end.name())),
                    setback.mm(),
                    "from this corner of the finished board to the end of the recess",
                );
            }
        }
        Which::Foot(_) => {
            let Some(feet) = &cuts.feet else { return };
            let [x, y] = feet.from_edges.map(Length::mm);
            n.length(key("from end"), x, "from the left or right edge to the hole's middle");
            n.length(key("from side"), y, "from the front or back edge to the hole's middle");
        }
        Which::HangingHole => {
            let Some(hole) = &cuts.hanging_hole else { return };
            n.length(key("from edge"), hole.in_from_edge.mm(), "from its edge to the hole's middle");
            n.length(key("along"), hole.at(size), "from the edge's left or front end to the hole's middle");
        }
    }
}

fn taken(board: &Board, sweep: &Sweep, n: &mut Numbers, key: impl Fn(&str) -> String) {
    n.volume(key("volume"), sweep.volume(), "what its bit would take of solid wood all round it: closed form");
    let lines = lines(board, sweep);
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    n.count(key("lines crossed"), count(lines.across), "glue lines that it crosses; each time counts");
    n.count(key("lines run along"), count(lines.along), "glue lines that lie in it for over twice its width");
}
