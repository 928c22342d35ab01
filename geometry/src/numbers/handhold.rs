//! Numbers of the handholds: the recess, the router table, the program.

use super::Numbers;
use crate::check::{first_parallel_line, flat_beside, lines_crossed};
use crate::cut::{Edge, Finished, Handhold};
use crate::job::{Job, Outcome};
use crate::path::{Cutting, Program, RouterSetup};
use crate::solid::Lip;

pub(super) fn add(job: &Job, outcome: &Outcome, n: &mut Numbers) {
    let Ok(board) = &outcome.board else { return };
    let size = board.finished();
    for (i, hold) in job.handholds.iter().enumerate() {
        let key = |name: &str| format!("handhold.{}.{name}", i + 1);
        recess(job, hold, &size, n, key);
        if let Some(line) = first_parallel_line(board, hold) {
            n.at_most(
                key("behind floor"),
                line - hold.depth.mm(),
                "wood between the floor and the first glue line parallel to the edge; negative: the floor passes it",
            );
        }
        n.count(
            key("lines crossed"),
            i64::try_from(lines_crossed(board, hold)).unwrap_or(i64::MAX),
            "glue lines at right angles to the edge that the recess crosses",
        );
        router_table(job, hold, &size, n, key);
        program(job, &Cutting::handhold(i, hold, &size), n, key);
    }
}

fn recess(job: &Job, hold: &Handhold, size: &Finished, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let shape = hold.recess(size);
    n.length(key("bit diameter"), hold.bit.diameter.mm(), "D: the bit's diameter");
    n.length(key("bit corner radius"), hold.bit.corner_radius.mm(), "r: the bit's corner radius; 0 is a square end");
    n.length(key("edge length"), hold.edge.length(size), "ℓ: how long the finished edge is");
    n.length(key("depth"), shape.profile.depth, "d: from the edge to the floor");
    n.length(key("width"), shape.width(), "2ρ(d), and m more where it is wider than the bit cuts: at the edge");
    n.length(
        key("opening"),
        2.0 * hold.half_opening(),
        "the width at the edge with the recess's eased rim on either side",
    );
    n.length(key("length"), shape.length(), "t + 2ρ(d): how long it is over all at the edge");
    n.length(key("travel"), shape.travel, "t: how far the bit's centre travels");
    for (end, setback) in hold.edge.ends().map(Edge::name).into_iter().zip(hold.setbacks(size)) {
        n.length(
            key(&format!("setback {end}")),
            setback,
            "from this corner of the finished board to the end of the recess",
        );
    }
    let [lower, upper] = hold.lips(size);
    n.at_most(
        key("lip below"),
        lower,
        "wood between the recess and the lower face, at the edge: the middle's height less ρ(d)",
    );
    n.at_most(key("lip above"), upper, "wood between the recess and the upper face, at the edge");
    let lip = Lip::measured(hold, size).unwrap_or_else(|| Lip::computed(hold, size));
    n.at_most(
        key("least lip"),
        lip.thickness,
        "the least distance on the solid from the recess to any face that shares no edge with it",
    );
    if let Some(rim) = hold.rim {
        n.length(key("rim"), rim.size(), "how far the recess's own rim is rounded over or chamfered, afterwards");
    }
    if let Some((flat, easing)) = flat_beside(hold, size, &job.cuts) {
        n.length(key("round-over"), easing.size(), "how far the round-over or chamfer nearest to the recess reaches");
        n.at_most(key("flat"), flat, "flat left between the recess's rim and the start of that round-over or chamfer");
    }
    n.volume(key("volume"), shape.volume(), "A·(t + m) + E + t·m·d, closed form");
}

fn router_table(job: &Job, hold: &Handhold, size: &Finished, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let setup = RouterSetup::of(hold, size, &job.router_table);
    match setup.fences.as_slice() {
        [fence] => n.length(
            key("fence"),
            *fence,
            "from the bit's centre to the fence: the recess's middle above the lower face",
        ),
        fences => {
            for (i, fence) in fences.iter().enumerate() {
                n.length(
                    key(&format!("fence {}", i + 1)),
                    *fence,
                    "from the bit's centre to the fence, moved away from pass to pass",
                );
            }
            n.hair(key("cusp"), setup.cusp, "left standing at both ends of the recess where two passes meet");
        }
    }
    n.length(
        key("right-hand stop"),
        setup.right_hand_stop,
        "the starting stop, from the bit's centre: ℓ − setback at the end at the left hand − ρ(d)",
    );
    n.length(
        key("left-hand stop"),
        setup.left_hand_stop,
        "the stop that ends the cut, from the bit's centre: ℓ − setback at the end at the right hand − ρ(d)",
    );
    for (name, stop) in [("right-hand stop", setup.right_hand_stop), ("left-hand stop", setup.left_hand_stop)] {
        n.length(
            key(&format!("{name} from nearer edge")),
            stop - setup.half_width,
            "the same from the bit's nearer edge at the table's surface, its cutting edge turned toward the block",
        );
        n.length(
            key(&format!("{name} from farther edge")),
            stop + setup.half_width,
            "the same from the bit's farther edge",
        );
    }
    for (pass, height) in setup.heights.iter().enumerate() {
        n.at_most(key(&format!("height {}", pass + 1)), *height, "the bit's height above the table for this pass");
    }
    for (end, setback) in hold.edge.ends().map(Edge::name).into_iter().zip(hold.setbacks(size)) {
        n.length(
            key(&format!("bit from {end}")),
            setback + setup.half_width,
            "from this corner of the finished board to where the bit's centre stops: setback + ρ(d)",
        );
    }
    n.hair(key("over-cut"), setup.over_cut, "the most that the recess is over-cut at its start when the board is lowered by pivoting about its lower right corner");
}

/// The numbers of a cut's program, if there is one.
pub(super) fn program(job: &Job, cutting: &Cutting, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let Some(program) = job.cnc.as_ref().and_then(|cnc| Program::of(cutting, cnc).ok()) else { return };
    let Some([low, high]) = program.extent() else { return };
    let key = |name: &str| key(&format!("program.{name}"));
    n.length(key("least x"), low.x, "least X of the bit's tip centre, from the datum");
    n.length(key("most x"), high.x, "greatest X");
    n.length(key("least y"), low.y, "least Y, from the datum");
    n.length(key("most y"), high.y, "greatest Y");
    n.length(key("depth"), -low.z, "greatest depth below the surface");
    n.length(key("safe height"), program.safe_height, "rapid moves only at or above this height over the surface");
    n.count(key("passes"), i64::try_from(program.depths.len()).unwrap_or(i64::MAX), "passes");
    n.speed(key("speed"), f64::from(program.speed), "spindle speed; the bit's printed maximum wins");
    n.feed(key("feed"), program.feed, "speed × flutes × chip load");
    n.feed(key("ramp feed"), program.ramp_feed, "half the feed while ramping down");
}
