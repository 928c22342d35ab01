//! Numbers of the solid: volume, surface, mass, centre, least distances.

use super::Numbers;
use crate::board::Board;
use crate::cut::Edge;
use crate::job::Job;
use crate::lumber::density;
use crate::solid::{Body, Exact, Neighbours};

/// Adds them, and returns what was worked out of the body: where cuts cross, that takes long.
pub(super) fn add(job: &Job, board: &Board, near: &Neighbours, n: &mut Numbers) -> Option<Exact> {
    let body = job.body(board.finished()).ok()?;
    let exact = body.exact();
    n.volume("solid.volume", exact.volume, "the finished board with its corners, eased rims and all cuts: closed forms; quadrature over exact slices where cuts cross");
    n.volume("solid.removed", exact.removed, "what corners, eased rims and cuts take of the finished box");
    n.area("solid.area", exact.area, "its whole surface, in the same way");
    n.hair("solid.chord tolerance", job.chord_tolerance, "the greatest distance between mesh and surface");
    n.volume(
        "solid.chord bound",
        body.mesh_bound(job.chord_tolerance),
        "the most by which the mesh's volume may differ: ε·A_curved·(1 + ε/r_min) for each cut",
    );
    centre(job, &body, &exact, n);
    if let Some(density) = density(board, None) {
        n.mass(
            "solid.mass",
            exact.volume * density * 1e-9,
            "volume × the mean density of the pieces at their moisture, 8 % where it wasn't measured; a wood varies by a tenth and more",
        );
    }
    if let Some(near) = near.nearest() {
        n.at_most("solid.between cuts", near.distance, "the least distance between any two cuts that don't meet");
    }
    Some(exact)
}

fn centre(job: &Job, body: &Body, exact: &Exact, n: &mut Numbers) {
    let centre = exact.centre;
    n.length("solid.centre from left", centre.x, "the centre of volume, from the left edge");
    n.length("solid.centre from front", centre.y, "from the front edge");
    n.length("solid.centre above", centre.z, "above the lower face");
    // Two handholds in edges across from each other: the board hangs between their middles.
    for (a, b) in [(Edge::Left, Edge::Right), (Edge::Front, Edge::Back)] {
        let held = |edge: Edge| job.handholds.iter().find(|h| h.edge == edge);
        let (Some(first), Some(second)) = (held(a), held(b)) else { continue };
        let middle = |hold: &crate::cut::Handhold| {
            let [from, to] = hold.centres(body.size());
            hold.frame(body.size()).on_board(&nalgebra::center(&from, &to))
        };
        let (p, q) = (middle(first), middle(second));
        let way = (q - p).xy();
        let off = way.perp(&(centre - p).xy()) / way.norm();
        n.length(
            format!("solid.off balance held {} and {}", a.name(), b.name()),
            off.abs(),
            "how far the centre lies beside the line between the two handholds' middles: 0 hangs level",
        );
    }
}
