//! Numbers of the handholds: the recess, the router table, the program.

use super::Numbers;
use crate::board::Board;
use crate::check::{first_parallel_line, flat_beside, lines_crossed};
use crate::cut::{Edge, Finished, Handhold, Profile};
use crate::glue::Minutes;
use crate::job::{Cnc, Job};
use crate::path::{CLEAR_OF_HOLDER, Cutting, Frame, Program, RouterSetup, Up, passes, pins, seconds};
use crate::solid::{LeastLip, Neighbours};

pub(super) fn add(job: &Job, board: &Board, near: &Neighbours, n: &mut Numbers) {
    let size = board.finished();
    for (i, hold) in job.handholds.iter().enumerate() {
        let key = |name: &str| format!("handhold.{}.{name}", i + 1);
        recess(job, hold, &size, n, key);
        lips(hold, &size, LeastLip::of(near, &size, &job.handholds, &job.cuts, i), n, key);
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
        unsanded(job, hold, board, n, key);
        n.at_most(
            key("upright wall"),
            hold.profile().upright(),
            "d − s − r: the upright wall that a bearing runs along",
        );
        frame(job, &Cutting::handhold(i, hold, &size), n, key);
        program(job, &Cutting::handhold(i, hold, &size), &[], n, key);
    }
}

fn recess(job: &Job, hold: &Handhold, size: &Finished, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let shape = hold.recess(size);
    n.fine(key("bit diameter"), hold.bit.diameter.mm(), "D: the bit's diameter");
    n.fine(key("bit corner radius"), hold.bit.corner_radius.mm(), "r: the bit's corner radius; 0 is a square end");
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
    if let Some(rim) = hold.rim {
        n.length(key("rim"), rim.size(), "how far the recess's own rim is rounded over or chamfered, afterwards");
    }
    if let Some((flat, easing)) = flat_beside(hold, size, &job.cuts) {
        n.length(key("round-over"), easing.size(), "how far the round-over or chamfer nearest to the recess reaches");
        n.at_most(key("flat"), flat, "flat left between the recess's rim and the start of that round-over or chamfer");
    }
    n.volume(key("volume"), shape.volume(), "A·(t + m) + E + t·m·d, closed form");
}

fn lips(hold: &Handhold, size: &Finished, least: Option<LeastLip>, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let [lower, upper] = hold.lips(size);
    n.at_most(
        key("lip below"),
        lower,
        "wood between the recess and the lower face, at the edge: the middle's height less ρ(d)",
    );
    n.at_most(key("lip above"), upper, "wood between the recess and the upper face, at the edge");
    let Some(least) = least else { return };
    n.at_most(
        key("least lip"),
        least.thickness,
        "the least distance on the solid from the recess to any face of the board, as it is before its rims are eased, that shares no edge with it, or to any other cut; what an eased rim leaves of it is the flat",
    );
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
            if setup.ridge > 1e-6 {
                n.hair(
                    key("ridge"),
                    setup.ridge,
                    "left standing along the recess's floor where two passes of a round bit meet",
                );
            }
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
    n.at_least(
        key("block to block"),
        setup.right_hand_stop + setup.left_hand_stop,
        "from the one block to the other: so long must table and fence be, and the blocks on top",
    );
    n.length(
        key("bit at the table"),
        2.0 * setup.half_width,
        "2ρ(d): how wide the bit is at the table's surface, at full height",
    );
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

/// What is set while the faces are not sanded yet: the lower one, which lies against the fence, still stands out.
fn unsanded(job: &Job, hold: &Handhold, board: &Board, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let size = board.finished();
    let setup = RouterSetup::of(hold, &size, &job.router_table);
    let [upper, lower] = job.still_to_sand(board);
    for (i, fence) in setup.fences.iter().enumerate() {
        let name = if setup.fences.len() == 1 { "fence".to_owned() } else { format!("fence {}", i + 1) };
        n.fine(
            key(&format!("{name} unsanded")),
            fence + lower,
            "the same while the lower face is not sanded: what sanding takes off it, farther",
        );
        n.fine(
            key(&format!("{name} unsanded from nearer edge")),
            fence + lower - setup.half_width,
            "the same from the bit's nearer edge at the table's surface, at its last height",
        );
    }
    let [below, above] = hold.before_its_rim().lips(&size);
    n.fine(
        key("lip below unsanded"),
        below + lower,
        "the lip below the recess before its rim is eased and the lower face sanded",
    );
    n.fine(
        key("lip above unsanded"),
        above + upper,
        "the lip above it before its rim is eased and the upper face sanded",
    );
    n.at_least(
        key("auxiliary fence"),
        hold.edge.stands(&size) / 2.0,
        "how high the auxiliary fence is at least: half as high as the board stands (common practice, no source)",
    );
    if !hold.bit.cuts_at_centre {
        starting_hole(&hold.before_its_rim().profile(), hold.depth.mm(), n, key);
    }
}

/// A hole for a bit that doesn't cut at its centre: as wide as the floor is flat or as half of the bit, whichever is more,
/// and no deeper than the bit leaves the floor so far from its axis.
pub(super) fn starting_hole(profile: &Profile, depth: f64, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let across = (2.0 * profile.flat()).max(profile.radius);
    n.at_most(
        key("starting hole"),
        across,
        "bored where the bit goes in: as wide as the floor is flat, or as half of the bit where that is more (common practice, no source)",
    );
    n.at_most(
        key("starting hole depth"),
        depth - profile.underside(across / 2.0),
        "how deep at most, so that it stays inside the cut",
    );
}

/// The numbers of a cut's program, if there is one; `all` are the cuts that its stop pins keep clear of.
pub(super) fn program(job: &Job, cutting: &Cutting, all: &[Cutting], n: &mut Numbers, key: impl Fn(&str) -> String) {
    let Some(program) = job.cnc.as_ref().and_then(|cnc| Program::of(cutting, cnc, job.hardest()).ok()) else { return };
    let Some([low, high]) = program.extent() else { return };
    let key = |name: &str| key(&format!("program.{name}"));
    for (axis, long) in ["x", "y", "z"].into_iter().zip(cutting.stock) {
        n.fine(key(&format!("stock {axis}")), long, "the stock along this axis; along Z how high it stands");
    }
    let bit = &cutting.bit;
    if let Some(eases) = bit.eases {
        n.length(key("bit eases"), eases.size(), "how far the bit rounds over or chamfers, without a bearing");
        n.length(key("bit end"), 2.0 * bit.tip(), "how wide its flat end is");
    } else if bit.corner_radius.is_positive() {
        n.fine(key("bit corner"), bit.corner_radius.mm(), "the radius of its rounded corner");
    }
    n.length(key("least x"), low.x, "least X of the bit's tip centre, from the datum");
    n.length(key("most x"), high.x, "greatest X");
    n.length(key("least y"), low.y, "least Y, from the datum");
    n.length(key("most y"), high.y, "greatest Y");
    n.fine(key("depth"), -low.z, "greatest depth below the surface");
    n.length(key("safe height"), program.safe_height, "rapid moves only at or above this height over the surface");
    n.count(key("passes"), i64::try_from(program.depths.len()).unwrap_or(i64::MAX), "passes");
    for (pass, depth) in program.depths.iter().enumerate() {
        n.fine(key(&format!("pass {}", pass + 1)), *depth, "how deep the bit is after this pass");
    }
    let [out_x, out_y] = [0, 1].map(|axis| (-low[axis]).max(high[axis] - cutting.stock[axis]));
    let out = out_x.max(out_y) + cutting.bit.diameter.mm() / 2.0;
    if out > 0.0 && matches!(cutting.up, Up::Face(_)) {
        n.at_least(key("reaches out"), out, "how far the bit reaches beyond the stock: so much must be free, or waste");
    }
    if cutting.is_of_the_outline() {
        n.at_most(key("frame"), cutting.frame(), "how wide the frame of waste beside the cut is at its narrowest");
    }
    if matches!(cutting.up, Up::Face(_)) {
        let [first, second, end] = pins(all, cutting.stock);
        n.length(key("pin x 1"), first.x, "where the first stop pin touches the stock's near edge, from the datum");
        n.length(key("pin x 2"), second.x, "where the second does");
        n.length(key("pin y"), end.y, "where the pin at the left end touches it");
    }
    if program.wall_pass > 0.0 {
        n.length(
            key("wall pass"),
            program.wall_pass,
            "what is left along the walls for a light last pass at each depth",
        );
    }
    let cnc = job.cnc.as_ref();
    if let Some(seconds) = cnc.map(|cnc| seconds(&program, cnc)) {
        n.time(
            key("time"),
            Minutes(seconds / 60.0),
            "how long it cuts and moves at most, every move that turns beginning and ending at rest",
        );
    }
    let stand = |cnc: &Cnc| match cutting.up {
        Up::Edge(_) => cnc.clamps.iter().map(|c| c.above.mm()).fold(0.0, f64::max),
        Up::Face(_) => cnc.flat_clamps.iter().map(|c| c.above.mm()).fold(0.0, f64::max),
    };
    let above = cnc.map_or(0.0, stand);
    n.at_least(
        key("stick-out"),
        -low.z + above + CLEAR_OF_HOLDER,
        "how far the bit must stand out of the collet's nut at least: the depth, what the highest clamp stands above the surface, and 1/8 in",
    );
    if let Some(out) = cutting.bit.stick_out {
        n.length(key("stick-out set"), out.mm(), "how far the plan lets it stand out of the nut");
    }
    if let Some(nut) = cnc.and_then(|cnc| cnc.nut) {
        n.length(key("nut"), nut.mm(), "the diameter of the collet's nut");
    }
    if let Some(spindle) = cnc.and_then(|cnc| cnc.spindle) {
        n.length(key("spindle"), spindle.diameter.mm(), "the diameter of the spindle's body above the nut");
        n.length(key("nut height"), spindle.above_nut.mm(), "how far the nut stands below the spindle's body");
    }
    n.length(
        key("flutes reach"),
        cutting.bit.reach.mm(),
        "how deep the bit cuts: its flutes must be no shorter than the cut is deep",
    );
    feeds(&program, n, key);
}

/// The frame for a plunge router, if there is one.
pub(super) fn frame(job: &Job, cutting: &Cutting, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let Some(frame) = Frame::of(cutting, &job.plunge_router) else { return };
    let key = |name: &str| key(&format!("frame.{name}"));
    let [long, wide] = frame.opening();
    n.length(
        key("length"),
        long,
        "how long the opening is that guide bush or base rides in: the bit's way and the offset twice",
    );
    n.length(key("width"), wide, "how wide it is");
    n.length(key("corner"), frame.corner, "the radius of its corners: that of the bit's way and the offset");
    n.length(
        key("offset"),
        frame.offset,
        "from the bit's centre to the opening: half of the guide bush's diameter, else of the base's",
    );
    let [stock_x, stock_y, _] = cutting.stock;
    for (side, from) in
        [("x", frame.low.x), ("far x", stock_x - frame.high.x), ("y", frame.low.y), ("far y", stock_y - frame.high.y)]
    {
        let how = "from this side of the board, at 0 or far, to the opening, in it or outside of it as drawn";
        n.length(key(side), from.abs(), how);
    }
    let table = &job.router_table;
    let asked = passes(cutting.profile.depth, table.pass.mm(), table.last_pass.mm(), cutting.passes);
    for (pass, depth) in asked.iter().enumerate() {
        n.at_most(key(&format!("depth {}", pass + 1)), *depth, "how deep the router is set for this pass");
    }
}

/// How fast it turns and moves, and how deep at once.
fn feeds(program: &Program, n: &mut Numbers, key: impl Fn(&str) -> String) {
    let feeds = &program.feeds;
    n.speed(
        key("speed"),
        f64::from(feeds.speed),
        "spindle speed: the least of the machine's usual one, the most printed on the bit, v / (π D) of the rim's greatest speed, and the greatest feed / (flutes × chip load)",
    );
    n.rim_speed(key("rim speed"), feeds.rim_speed, "π × diameter × speed");
    n.chip(
        key("chip load"),
        feeds.chip,
        "what each edge takes in one turn: the bit's own, else the plan's, else by bit and wood (common practice for a light machine, no source); less in passes over one diameter deep",
    );
    n.feed(key("feed"), feeds.feed, "speed × flutes × chip load, the machine's greatest feed at most");
    n.feed(key("ramp feed"), feeds.ramp_feed, "half the feed while ramping down (common practice, no source)");
    let before = std::iter::once(program.cutting.cleared).chain(program.depths.iter().copied());
    let deepest = program.depths.iter().zip(before).map(|(d, before)| d - before).fold(0.0, f64::max);
    n.hair(
        key("step-down"),
        deepest,
        "the deepest pass: the plan's, else by the bit, half as deep in an end-grain face (common practice for a light machine, no source)",
    );
}
