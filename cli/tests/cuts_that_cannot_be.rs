//! Cuts changed one at a time in the sample that has them all: what `check` says, and where it points.

#![allow(clippy::unwrap_used)] // a test that can't go on has failed
use quarterturn::plan;
use quarterturn_geometry::check::{Kind, findings};

const SAMPLE: &str = include_str!("../../samples/maple-every-cut.toml");

/// Each: what is changed, and for each finding that is no note its kind, part of what it says, and its key.
type Told = (&'static [[&'static str; 2]], &'static [(Kind, &'static str, &'static str)]);

const CARE: Kind = Kind::TakeCare;
const CANT: Kind = Kind::CantBeMade;

const ALL: [Told; 22] = [
    (&[], &[]),
    (
        &[["round_over = \"1/16\"\nsetback = \"2 1/2\"", "round_over = \"1/2\"\nsetback = \"2 1/2\""]],
        &[
            (CANT, "a round-over of 1/4 in at most", "handholds.round_over"),
            // 5/8 in and two rims of 1/2 in, and 1/4 in on each side.
            (CANT, "a smaller rim, or a board 2 1/8 in thick", "handholds.width"),
        ],
    ),
    (&[["along = \"1 3/4\"", "along = \"20\""]], &[(CANT, "at the right edge", "hanging_hole.along")]),
    (
        &[["in_from_edge = \"7/16\"", "in_from_edge = \"1/4\""]],
        &[(CANT, "at the back edge", "hanging_hole.in_from_edge")],
    ),
    // Half of 11 3/8 in, less 1 in and 1/4 in to the bit's middle.
    (
        &[["corner_radius = \"5/8\"", "corner_radius = \"9\""]],
        &[(CANT, "a corner radius of 4 7/16 in at most", "grooves.corner_radius")],
    ),
    // Half of 11 3/8 in, less a bit of 1/2 in and a rim of 1/16 in.
    (
        &[["setback = \"1\"\ncorner", "setback = \"6\"\ncorner"]],
        &[(CANT, "a setback under 5 1/8 in", "grooves.setback")],
    ),
    (&[["radius = \"1/2\"", "radius = \"6\""]], &[(CANT, "corners of 5 11/16 in at most", "corners.radius")]),
    (&[["along = \"3 1/2\"", "along = \"30\""]], &[(CANT, "along from 2 1/8 in to 10 1/8 in", "grooves.spouts.along")]),
    (
        &[[
            "[feet]",
            "[[grooves]]\nface = \"upper\"\nbit = \"dish\"\ndepth = \"1/4\"\nsetback = \"1 1/4\"\ncorner_radius = \"5/8\"\n\n[feet]",
        ]],
        &[(CANT, "first groove on the upper face and second groove on the upper face: they run", "grooves.setback")],
    ),
    (
        &[["edge = \"right\"\nbit", "edge = \"left\"\nbit"]],
        &[(CANT, "first left and second left handholds: the two recesses meet", "handholds.setback")],
    ),
    // The bit's middle 1/2 in farther in than 1/4 in, less half of the bit.
    (
        &[["in_from_edge = \"1\"\nrise = \"5/8\"", "in_from_edge = \"1/4\"\nrise = \"1/2\""]],
        &[(CARE, "1/2 in thick in the middle, runs out to nothing", "finger_recesses.in_from_edge")],
    ),
    // A bit of 1/2 in, 3/8 in from the edge to its middle, its rim rounded over by 3/16 in: 1/8 in of wall stands.
    (
        &[[
            "in_from_edge = \"1\"\nrise = \"5/8\"\nround_over = \"1/16\"",
            "in_from_edge = \"3/8\"\nround_over = \"1/8\"",
        ]],
        &[(CARE, "only 1/8 in of wood stands under that", "finger_recesses.in_from_edge")],
    ),
    // Of a cut 5/8 in wide with its rims, over a way of 1 1/4 in: 5/16 in is under half of the way, so that half holds.
    (
        &[[
            "rise = \"5/8\"\nround_over = \"1/16\"\nsetback = \"3\"",
            "rise = \"1\"\nround_over = \"1/16\"\nsetback = \"5 1/4\"",
        ]],
        &[(CANT, "a rise of 19/32 in at most", "finger_recesses.rise")],
    ),
    (
        &[["depth = \"3/8\"\nsetback = \"2 1/2\"", "depth = \"3/8\"\nright_hand_stop = \"4\"\nleft_hand_stop = \"7\""]],
        &[(CANT, "stops that add up to 11 3/8 in at least", "handholds.right_hand_stop")],
    ),
    // The rim of the right recess, 1/16 in, ends within the corner's 1/2 in.
    (
        &[[
            "width = \"5/8\"\nround_over = \"1/16\"\nsetback = \"2 1/2\"",
            "width = \"5/8\"\nround_over = \"1/16\"\nsetback = \"9/16\"",
        ]],
        &[(CANT, "setbacks over 9/16 in", "handholds.setback")],
    ),
    // Open at its edge, so that its ends, less a rim of 1/16 in, must lie where that is straight.
    (
        &[["chamfer = \"1/16\"\nsetback = \"3\"", "chamfer = \"1/16\"\nsetback = \"1/2\""]],
        &[(CANT, "setbacks over 9/16 in", "finger_recesses.setback")],
    ),
    // No way left to rise on: half of 12 1/4 in, less half of the bit.
    (
        &[[
            "round_over = \"1/16\"\nsetback = \"3\"\n\n[[grooves]]",
            "round_over = \"1/16\"\nsetback = \"5 7/8\"\n\n[[grooves]]",
        ]],
        &[(CANT, "leave the bit no way to go", "finger_recesses.setback")],
    ),
    // 1/8 in off the rim and half of the hole.
    (
        &[["in_from_edge = \"7/16\"", "in_from_edge = \"5/16\""]],
        &[(CANT, "just reaches the end of the flat of its face at the back edge", "hanging_hole.in_from_edge")],
    ),
    // Corners of 2 in: √2·(2 − 7/8) = 1.591 in from the corner's middle, half of the hole more, leaves 0.222 in.
    (
        &[
            ["radius = \"1/2\"", "radius = \"2\""],
            ["in_from_edge = \"7/16\"\nalong = \"1 3/4\"", "in_from_edge = \"7/8\"\nalong = \"7/8\""],
            ["setback = \"1\"\ncorner", "setback = \"2\"\ncorner"],
            ["from_edges = \"1 1/4\"", "from_edges = \"2 1/2\""],
            ["in_from_edge = \"1\"\n", "in_from_edge = \"1\"\n"],
        ],
        &[(CARE, "only 7/32 in of wood is left between it and the rounded corner", "hanging_hole.in_from_edge")],
    ),
    (
        &[["radius = \"1/8\"\nrims = \"upper rim\"", "radius = \"1 7/16\"\nrims = \"upper rim\""]],
        &[
            (CANT, "a round-over of 3/8 in at most", "round_over.radius"),
            (CANT, "a round-over of 1/4 in at most", "round_over.radius"),
            (CANT, "rims that take less than 1 1/2 in together", "round_over.radius"),
        ],
    ),
    // Too thin a lip to one side: the setback mends it.
    (
        &[
            ["radius = \"1/2\"", "radius = \"1/8\""],
            [
                "depth = \"3/8\"\nsetback = \"2 1/2\"",
                "depth = \"3/8\"\nsetback_front = \"3/16\"\nsetback_back = \"2 1/2\"",
            ],
        ],
        &[(CANT, "a setback of 3/8 in there", "handholds.setback_front")],
    ),
    // Two lips and a hanging hole, all told at once.
    (
        &[
            ["setback = \"1\"\ncorner", "setback = \"5/16\"\ncorner"],
            ["in_from_edge = \"7/16\"", "in_from_edge = \"5/8\""],
        ],
        &[
            (CANT, "groove on the upper face and hanging hole: they run into each other", "hanging_hole.in_from_edge"),
            (
                CANT,
                "right handhold and groove on the upper face: the lip between them is 7/32 in thick",
                "grooves.setback",
            ),
            (
                CARE,
                "left handhold and groove on the upper face: the lip between them is 9/32 in thick",
                "grooves.setback",
            ),
        ],
    ),
];

#[test]
fn each_is_told_once_with_what_would_be_right_and_where() {
    for (edits, wanted) in ALL {
        let text = edits.iter().fold(SAMPLE.to_owned(), |text, [from, to]| {
            assert!(text.contains(from), "{from}");
            text.replacen(from, to, 1)
        });
        let job = plan::read(&text, "board.toml").unwrap().job;
        let found = findings(&job, &job.work());
        let told: Vec<_> = found.iter().filter(|f| f.kind != Kind::Note).collect();
        assert_eq!(told.len(), wanted.len(), "{edits:?}: {told:#?}");
        for (finding, (kind, says, key)) in told.iter().zip(wanted) {
            let whole = format!("{}: {}; {}", finding.subject.name(&job), finding.says, finding.mends);
            assert!(whole.contains(says), "{whole}");
            assert_eq!(finding.kind, *kind, "{whole}");
            assert_eq!(plan::place(&text, finding).unwrap().key, *key, "{whole}");
        }
    }
}
