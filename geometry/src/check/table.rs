//! The one table of checks. `docs/findings.md` is made from it.

use super::Kind::{self, CantBeMade, Note, TakeCare};

/// One check.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its name.
    pub name: &'static str,
    /// What its findings can be.
    pub kinds: &'static [Kind],
    /// When it speaks.
    pub formula: &'static str,
    /// The default limit, and the plan's key for it.
    pub limit: &'static str,
    /// Where the limit comes from.
    pub source: &'static str,
    /// What mends it.
    pub mends: &'static str,
    /// The checks that it gives way to when they speak of the same thing.
    pub gives_way_to: &'static [&'static str],
}

/// The check of this name.
#[must_use]
pub fn check(name: &str) -> Option<&'static Check> {
    CHECKS.iter().find(|c| c.name == name)
}

const PRACTICE: &str = "common practice, no source";
const ARITHMETIC: &str = "arithmetic";

/// Every check, in the order in which a board is made.
pub static CHECKS: [Check; 27] = [
    Check {
        name: "fewer strips than wanted",
        kinds: &[CantBeMade],
        formula: "N wanted > ⌊(L − q − q_far + b) / (s + b)⌋, or more than came out where that was counted",
        limit: "none",
        source: ARITHMETIC,
        mends: "narrower strips, fewer strips, or a longer panel",
        gives_way_to: &[],
    },
    Check {
        name: "lay-up can't be laid",
        kinds: &[CantBeMade],
        formula: "a place asks for a strip that is not cut or lies elsewhere; staggers or trims leave nothing",
        limit: "none",
        source: ARITHMETIC,
        mends: "place each strip once; smaller staggers or trims",
        gives_way_to: &["fewer strips than wanted"],
    },
    Check {
        name: "other count than planned",
        kinds: &[Note],
        formula: "the strips that came out, as counted, are not as many as were planned",
        limit: "measured.panels.strips",
        source: "what was measured replaces what was planned",
        mends: "the lay-up follows what came out; cut one more where the panel still gives it",
        gives_way_to: &["fewer strips than wanted"],
    },
    Check {
        name: "may fall short",
        kinds: &[TakeCare],
        formula: "Φ(−slack/σ) > limit, σ² = (N·σ_set)² + n_r·σ_repeat² + (n_k·σ_kerf)² + σ_q² + σ_L²",
        limit: "5 % (limits.short_chance)",
        source: PRACTICE,
        mends: "the stop at the safe setting, or one strip fewer",
        gives_way_to: &["fewer strips than wanted"],
    },
    Check {
        name: "piece too short to hold",
        kinds: &[TakeCare],
        formula: "cuts needed > ⌊(L + waste block − q − least) / (s + b)⌋ + 1",
        limit: "6 in held by hand, 3 in under a hold-down (shop.saw.least_piece)",
        source: PRACTICE,
        mends: "a waste block on the far end, a hold-down, or fewer strips",
        gives_way_to: &["fewer strips than wanted"],
    },
    Check {
        name: "odd count",
        kinds: &[TakeCare],
        formula: "the lay-up wants mirror pairs and the number of places is odd",
        limit: "layup.mirror_pairs",
        source: "two strips make one figure",
        mends: "leave one strip out, or cut one more",
        gives_way_to: &["fewer strips than wanted"],
    },
    Check {
        name: "panels of unequal width",
        kinds: &[TakeCare],
        formula: "two panels of the lay-up differ in width",
        limit: "none",
        source: ARITHMETIC,
        mends: "rip the wider panel to the narrower, or trim more",
        gives_way_to: &[],
    },
    Check {
        name: "taper fans the board",
        kinds: &[TakeCare],
        formula: "|(n − m)·δ_x| > trims left and right together: n strips laid with the panel's last edge in front, m with it at the back, δ_x the measured taper across",
        limit: "finishing.trim_left + finishing.trim_right",
        source: ARITHMETIC,
        mends: "turn half of the strips end for end, plane the panel parallel, or trim more",
        gives_way_to: &[],
    },
    Check {
        name: "machine too small",
        kinds: &[TakeCare],
        formula: "panel wider or shorter than the planer takes, blank shorter than the jointer takes or, given rough, wider; board wider than the drum sander takes",
        limit: "planer 12 in wide, 14 in short; jointer 6 in wide, 12 in short; drum sander 16 in wide (shop.planer, shop.jointer, shop.drum_sander)",
        source: PRACTICE,
        mends: "another way to flatten it, or two narrower panels",
        gives_way_to: &[],
    },
    Check {
        name: "moisture",
        kinds: &[TakeCare],
        formula: "a laid blank outside 6 to 9 %, or two more than 2 points apart",
        limit: "6 to 9 %, 2 points",
        source: PRACTICE,
        mends: "let the wood settle in the shop, measure again",
        gives_way_to: &[],
    },
    Check {
        name: "figure is a guess",
        kinds: &[Note],
        formula: "a laid blank shows one end or none in the plan",
        limit: "none",
        source: "the figure between the ends follows from both",
        mends: "describe both ends of the blank",
        gives_way_to: &[],
    },
    Check {
        name: "board thinner than asked",
        kinds: &[CantBeMade, TakeCare],
        formula: "s − f − g < strips.board_thickness; take care where it was measured after flattening",
        limit: "none",
        source: ARITHMETIC,
        mends: "wider strips, or less flattened off",
        gives_way_to: &[],
    },
    Check {
        name: "board thicker than asked",
        kinds: &[Note],
        formula: "s − f − g > strips.board_thickness",
        limit: "none",
        source: ARITHMETIC,
        mends: "narrower strips give more of them, or flatten more off",
        gives_way_to: &[],
    },
    Check {
        name: "thin board",
        kinds: &[TakeCare],
        formula: "finished thickness < limit",
        limit: "1 in (limits.thin)",
        source: PRACTICE,
        mends: "wider strips",
        gives_way_to: &["board thinner than asked"],
    },
    Check {
        name: "thick board",
        kinds: &[Note],
        formula: "finished thickness > limit",
        limit: "2 in (limits.thick)",
        source: PRACTICE,
        mends: "narrower strips, if the weight matters",
        gives_way_to: &["board thicker than asked"],
    },
    Check {
        name: "trim leaves a sliver",
        kinds: &[TakeCare],
        formula: "what the trims leave of an outer strip or outer blank < limit",
        limit: "1/4 in (limits.sliver)",
        source: PRACTICE,
        mends: "trim less, or trim the whole strip off",
        gives_way_to: &[],
    },
    Check {
        name: "bit does not reach",
        kinds: &[CantBeMade],
        formula: "recess depth > the bit's reach",
        limit: "bits.reach",
        source: ARITHMETIC,
        mends: "a shallower recess or a longer bit",
        gives_way_to: &[],
    },
    Check {
        name: "stops cross or leave the edge",
        kinds: &[CantBeMade],
        formula: "ℓ − a − c − 2ρ(d) < 0, or a setback < 0",
        limit: "none",
        source: ARITHMETIC,
        mends: "smaller setbacks, or both stops nearer the other end",
        gives_way_to: &[],
    },
    Check {
        name: "recess wider than the board allows",
        kinds: &[CantBeMade],
        formula: "2ρ(d) + 2·least lip > finished thickness",
        limit: "least lip 1/4 in (limits.lip_least)",
        source: PRACTICE,
        mends: "a smaller bit, a shallower recess with a round one, or a thicker board",
        gives_way_to: &[],
    },
    Check {
        name: "thin lip",
        kinds: &[CantBeMade, TakeCare],
        formula: "least distance from the recess to any face that shares no edge with it: < least lip can't be made; < 5/16 in or < the recess's depth wants care",
        limit: "1/4 in and 5/16 in (limits.lip_least, limits.lip_care)",
        source: PRACTICE,
        mends: "centre the recess, a smaller bit, a shallower recess, or a thicker board",
        gives_way_to: &["recess wider than the board allows", "stops cross or leave the edge", "bit does not reach"],
    },
    Check {
        name: "glue line behind the floor",
        kinds: &[TakeCare],
        formula: "a glue line parallel to the edge lies less than the limit behind the floor, or the floor passes it",
        limit: "1/8 in (limits.behind_floor)",
        source: PRACTICE,
        mends: "a shallower recess, or trim less at this edge",
        gives_way_to: &["stops cross or leave the edge", "bit does not reach"],
    },
    Check {
        name: "glue lines crossed",
        kinds: &[Note],
        formula: "glue lines at right angles to the edge that the recess crosses: sound",
        limit: "none",
        source: PRACTICE,
        mends: "nothing needs mending",
        gives_way_to: &["stops cross or leave the edge"],
    },
    Check {
        name: "recesses too close",
        kinds: &[CantBeMade, TakeCare],
        formula: "least distance between two recesses: 0 can't be made; < limit wants care",
        limit: "1/2 in (limits.between_recesses)",
        source: PRACTICE,
        mends: "larger setbacks where they meet, or shallower recesses",
        gives_way_to: &["stops cross or leave the edge"],
    },
    Check {
        name: "round-over reaches the recess",
        kinds: &[CantBeMade, TakeCare],
        formula: "flat = wood beside the recess − round-over radius: < 0 can't be made; < limit wants care",
        limit: "1/8 in (limits.flat)",
        source: PRACTICE,
        mends: "a smaller round-over, or a narrower recess",
        gives_way_to: &["recess wider than the board allows", "thin lip", "stops cross or leave the edge"],
    },
    Check {
        name: "not to be lowered onto the bit",
        kinds: &[TakeCare],
        formula: "edge shorter, or board lower when stood on it, than the limits",
        limit: "10 in and 4 in (shop.router_table.least_edge, least_height)",
        source: PRACTICE,
        mends: "a plunge router between two squared boards",
        gives_way_to: &["stops cross or leave the edge"],
    },
    Check {
        name: "board stands too high for the CNC",
        kinds: &[TakeCare],
        formula: "board on edge + safe height > clear height; the program is left out",
        limit: "4 in (shop.cnc.clear_height)",
        source: PRACTICE,
        mends: "a vertical clamp at the machine's front, or the router table",
        gives_way_to: &["stops cross or leave the edge"],
    },
    Check {
        name: "CNC can't make this cut",
        kinds: &[TakeCare],
        formula: "travel too short, a clamp in the way, or no room to ramp with a bit that doesn't cut at its centre; the program is left out",
        limit: "shop.cnc.travel, shop.cnc.clamps, bits.cuts_at_centre",
        source: ARITHMETIC,
        mends: "move the clamp, a bit that cuts at its centre, or the router table",
        gives_way_to: &["stops cross or leave the edge", "board stands too high for the CNC"],
    },
];
