//! The router-table set-up for one handhold.

use super::passes;
use crate::cut::{Edge, Finished, Handhold};
use crate::job::RouterTable;

/// Where fence, bit and stop blocks stand, mm.
///
/// ```text
///      seen from above; the maker stands at the bottom, the fence beyond the bit
///
///   ══════════════════ fence ══════════════════
///                       · bit's centre
///   ┃ left-hand block         right-hand block ┃
///   ┃ (where the cut ends)   (starting stop)   ┃
///       ◄───── feed from right to left ─────
/// ```
/// The board stands on its edge, lower face against the fence, show face toward the maker.
#[derive(Clone, Debug, PartialEq)]
pub struct RouterSetup {
    /// The edge that is down.
    pub edge: Edge,
    /// Which end of the edge is at the maker's left hand.
    pub left_hand_end: Edge,
    /// The bit's height above the table for each pass; the last is the depth.
    pub heights: Vec<f64>,
    /// From the bit's centre to the fence, in the order of the passes: the recess's middle above the lower face; for a
    /// recess wider than the bit, from m/2 less to m/2 more. Fed from right to left every widening pass must cut the wall
    /// nearer the maker, against the feed: the fence begins at its smallest distance and is moved away. The other order
    /// is a climb cut that pulls the board along.
    pub fences: Vec<f64>,
    /// What is left standing at either end between two of them, since the fence alone is moved: R − √(R² − (step/2)²).
    pub cusp: f64,
    /// The ridge left along the floor between two of them by a bit whose flat end is narrower than the step: r − √(r² −
    /// e²), r the corner radius, e half the step less half of the flat end.
    pub ridge: f64,
    /// From the bit's centre to the right-hand block, the starting stop: ℓ − a − ρ(d), a the
    /// setback at the end at the left hand.
    pub right_hand_stop: f64,
    /// From the bit's centre to the left-hand block: ℓ − c − ρ(d), c at the right hand.
    pub left_hand_stop: f64,
    /// ρ(d): from the bit's centre to its edge at the table's surface.
    pub half_width: f64,
    /// The most by which the recess is over-cut at its start when the board is lowered by pivoting
    /// about its lower right corner.
    pub over_cut: f64,
    /// Whether the board may be lowered onto the bit: its edge is long enough and it stands high enough.
    pub may_be_lowered: bool,
}

impl RouterSetup {
    /// The set-up for a handhold in this board.
    ///
    /// Worked example (common practice for the sizes, the arithmetic by hand): an edge of 12 in,
    /// a 3/4 in straight bit, setbacks of 2 in: both blocks stand 12 − 2 − 3/8 = 9 5/8 in from the
    /// bit's centre, 9 1/4 in from its nearer edge.
    #[must_use]
    pub fn of(hold: &Handhold, board: &Finished, table: &RouterTable) -> Self {
        let length = hold.edge.length(board);
        let [a, c] = hold.setbacks(board);
        let rho = hold.half_width();
        let depth = hold.depth.mm();
        let (fences, step) = fences(hold, board);
        Self {
            edge: hold.edge,
            left_hand_end: hold.edge.ends()[0],
            heights: passes(depth, table.pass.mm(), table.last_pass.mm(), hold.passes),
            cusp: rho - (rho * rho - (step / 2.0).powi(2)).max(0.0).sqrt(),
            ridge: ridge(hold, step),
            fences,
            right_hand_stop: length - a - rho,
            left_hand_stop: length - c - rho,
            half_width: rho,
            over_cut: over_cut(hold, length - a - rho),
            may_be_lowered: length >= table.least_edge.mm() - ROUNDING
                && hold.edge.stands(board) >= table.least_height.mm() - ROUNDING,
        }
    }
}

/// How high the floor is left between two places of the fence.
///
/// By hand: a core box bit of 16 mm moved by 4 mm leaves 8 − √(8² − 2²) = 0.254 mm; a straight one nothing.
fn ridge(hold: &Handhold, step: f64) -> f64 {
    let corner = hold.bit.corner_radius.mm();
    let beyond = (step / 2.0 - (hold.bit.diameter.mm() / 2.0 - corner)).clamp(0.0, corner);
    corner - (corner * corner - beyond * beyond).sqrt()
}

/// The fence's distances and the step between them: none over a quarter of the bit's diameter (common practice, no
/// source).
fn fences(hold: &Handhold, board: &Finished) -> (Vec<f64>, f64) {
    let (middle, more) = (hold.middle(board), hold.widening().max(0.0));
    let steps = (more / (hold.bit.diameter.mm() / 4.0) - 1e-9).ceil().max(0.0) as u32;
    let step = if steps > 0 { more / f64::from(steps) } else { 0.0 };
    ((0..=steps).map(|k| middle - more / 2.0 + step * f64::from(k)).collect(), step)
}

/// A board that is as long as the limit may be: what a float's rounding takes is not missing, mm.
const ROUNDING: f64 = 1e-6;

/// The largest of √((u + ρ(h))² + (d − h)²) − (u + ρ(d)) over 0 ≤ h ≤ d, u from the pivot to the
/// bit's centre: while the board is tilted its edge is nearer the bit's lower parts.
///
/// Sampled at 2 000 heights: the maximum is flat, so that the error is below a nanometre.
fn over_cut(hold: &Handhold, pivot: f64) -> f64 {
    const SAMPLES: u32 = 2000;
    let depth = hold.depth.mm();
    let profile = hold.before_its_rim().profile();
    let reach = |h: f64| (pivot + profile.half_width(h)).hypot(depth - h);
    let greatest = (0..=SAMPLES).map(|i| reach(depth * f64::from(i) / f64::from(SAMPLES))).fold(0.0, f64::max);
    (greatest - pivot - profile.at_surface()).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Bit, Reach};
    use crate::fixtures::{handhold, inch};
    use approx::assert_relative_eq;

    fn hold(corner: &str, reach: Reach) -> Handhold {
        let whole = handhold(["2", "2"]);
        let bit = Bit { corner_radius: inch(corner), ..whole.bit.clone() };
        Handhold { edge: Edge::Front, bit, depth: inch("1/4"), reach, ..whole }
    }

    fn table() -> RouterTable {
        RouterTable { pass: inch("1/8"), last_pass: inch("1/32"), least_edge: inch("10"), least_height: inch("4") }
    }

    const BOARD: Finished = Finished { length: 304.8, width: 228.6, thickness: 34.925 };

    #[test]
    fn unequal_setbacks_put_each_block_by_the_other_end() {
        // Front edge down: the board's left is at the left hand; 2 in there, 3 in at the right.
        let setup = RouterSetup::of(&hold("1/8", Reach::Setbacks([inch("2"), inch("3")])), &BOARD, &table());
        assert_eq!(setup.left_hand_end, Edge::Left);
        assert_relative_eq!(setup.right_hand_stop, inch("9 5/8").mm(), epsilon = 1e-9);
        assert_relative_eq!(setup.left_hand_stop, inch("8 5/8").mm(), epsilon = 1e-9);
        assert_relative_eq!(setup.fences[0], inch("11/16").mm(), epsilon = 1e-9);
        assert_eq!((setup.fences.len(), setup.cusp), (1, 0.0));
        assert!(setup.may_be_lowered);
    }

    /// The board, moved as the set-up says, is cut where the plan wants it: with its lower right
    /// corner at the starting stop the bit's centre lies at a + ρ from the left-hand end; with its
    /// left-hand end at the left block, c + ρ from the right-hand end.
    #[test]
    fn moving_the_board_between_the_blocks_cuts_the_recess_of_the_plan() {
        let hold = hold("1/8", Reach::Setbacks([inch("2"), inch("3")]));
        let setup = RouterSetup::of(&hold, &BOARD, &table());
        let length = BOARD.length;
        // Positions along the table, the bit's centre at 0, the right hand positive.
        let left_end_at_start = setup.right_hand_stop - length;
        let left_end_at_finish = -setup.left_hand_stop;
        let [from, to] = hold.centres(&BOARD);
        assert_relative_eq!(-left_end_at_start, from.x, epsilon = 1e-9);
        assert_relative_eq!(-left_end_at_finish, to.x, epsilon = 1e-9);
        assert!(left_end_at_finish < left_end_at_start, "fed from right to left");
    }

    /// The board moved as the set-up says, pass by pass, lowered level: the bit, moved through it as the board was moved over
    /// the bit, leaves the recess of the plan; a block a tenth of a millimetre off doesn't.
    #[test]
    fn the_set_up_leaves_the_recess_of_the_plan() {
        let hold = hold("1/8", Reach::Setbacks([inch("2"), inch("3")]));
        let setup = RouterSetup::of(&hold, &BOARD, &table());
        let fence = setup.fences[0];
        let cutting = crate::path::Cutting::handhold(0, &hold, &BOARD);
        let proved = |right: f64, left: f64, fence: f64| {
            let mut text = "G21 G90 G94\nG0 Z10\nS16000 M3\n".to_owned();
            for height in &setup.heights {
                text += &format!(
                    "G0 X{:.5} Y{fence:.5}\nG1 Z-{height:.5} F500\nG1 X{left:.5}\nG0 Z10\n",
                    BOARD.length - right
                );
            }
            crate::path::prove(
                &crate::path::read(&(text + "M5\nM2")).unwrap(),
                std::slice::from_ref(&cutting),
                None,
                0.5,
                1,
            )
        };
        let [right, left] = [setup.right_hand_stop, setup.left_hand_stop];
        let proof = proved(right, left, fence);
        assert_eq!(proof.faults, []);
        assert!(proof.least > -0.01 && proof.greatest < 0.01, "{} {}", proof.least, proof.greatest);
        for off in
            [proved(right + 0.1, left, fence), proved(right, left + 0.1, fence), proved(right, left, fence + 0.1)]
        {
            assert!(!off.faults.is_empty());
        }
        // The blocks exchanged.
        assert!(!proved(left, right, fence).faults.is_empty());
    }

    /// Points of the board, swung about its lower right corner onto the bit: how far out the bit takes them at the edge.
    #[test]
    fn swinging_the_board_cuts_as_far_as_the_over_cut_says() {
        for corner in ["0", "1/8", "3/8"] {
            let hold = hold(corner, Reach::Setbacks([inch("1"); 2]));
            let (pivot, depth) = (inch("10 5/8").mm(), hold.depth.mm());
            let profile = hold.before_its_rim().profile();
            // A point of the edge, u from the pivot, tilted by an angle, stands u sin above the table.
            let taken = |u: f64| {
                (0..=20_000).any(|k| {
                    let rise = depth * f64::from(k) / 20_000.0;
                    let out = (u * u - rise * rise).sqrt() - pivot;
                    out <= profile.half_width(depth - rise)
                })
            };
            let rim = pivot + profile.at_surface();
            let over = over_cut(&hold, pivot);
            assert!(taken(rim + over - 0.0005) && !taken(rim + over + 0.0005), "{corner}: {over}");
        }
    }

    /// √(u² + d²) − u for a square-ended bit, d = 1/4 in at u = u_c + R = 11 in: 0.07 mm; for
    /// R = 3/8 and r = 1/8 in 0.02 mm. By hand from the formula.
    #[test]
    fn the_pivot_over_cuts_by_a_hair() {
        let pivot = inch("10 5/8").mm();
        let over = |corner| over_cut(&hold(corner, Reach::Setbacks([inch("1"); 2])), pivot);
        let (u, d) = (inch("11").mm(), inch("1/4").mm());
        assert_relative_eq!(over("0"), u.hypot(d) - u, epsilon = 1e-12);
        assert!((over("0") - 0.07).abs() < 0.005);
        assert!((over("1/8") - 0.02).abs() < 0.005, "{}", over("1/8"));
    }

    /// By hand: 1 1/8 in wide with a 3/4 in bit is 3/8 in more, two steps of a quarter of the bit's diameter: 1/2, 11/16
    /// and 7/8 in in a board 1 3/8 in thick. Between them stand 3/8 − √((3/8)² − (3/32)²) in at the ends.
    #[test]
    fn a_wider_recess_moves_the_fence_away_step_by_step() {
        let wide = Handhold { width: Some(inch("1 1/8")), ..hold("0", Reach::Setbacks([inch("2"); 2])) };
        let setup = RouterSetup::of(&wide, &BOARD, &table());
        for (fence, asked) in setup.fences.iter().zip(["1/2", "11/16", "7/8"]) {
            assert_relative_eq!(*fence, inch(asked).mm(), epsilon = 1e-9);
        }
        assert_eq!(setup.fences.len(), 3);
        assert_relative_eq!(
            setup.cusp,
            25.4 * (0.375 - (0.375f64.powi(2) - 0.09375f64.powi(2)).sqrt()),
            epsilon = 1e-9
        );
    }

    /// By hand: the same recess by a core box bit of 3/4 in, its places 3/16 in apart: a ridge of 3/8 − √((3/8)² − (3/32)²) in
    /// along the floor; with corners of 1/8 in the flat end, 1/2 in wide, leaves none.
    #[test]
    fn a_round_bit_leaves_a_ridge_along_the_floor() {
        let wide = |corner: &str| Handhold {
            width: Some(inch("1 1/8")),
            depth: inch("3/8"),
            ..hold(corner, Reach::Setbacks([inch("2"); 2]))
        };
        let ridge = |corner: &str| RouterSetup::of(&wide(corner), &BOARD, &table()).ridge;
        assert_relative_eq!(
            ridge("3/8"),
            25.4 * (0.375 - (0.375f64.powi(2) - 0.09375f64.powi(2)).sqrt()),
            epsilon = 1e-9
        );
        assert_relative_eq!(ridge("1/8"), 0.0);
    }

    #[test]
    fn a_short_edge_is_not_lowered() {
        let small = Finished { length: 200.0, ..BOARD };
        let setup = RouterSetup::of(&hold("0", Reach::Setbacks([inch("2"); 2])), &small, &table());
        assert!(!setup.may_be_lowered);
    }
}
