//! Light last passes along walls, leads onto them, which way they run, and holes that are cut round and round downward.

use super::tests::{BOARD, cnc, each, hold, text_in, whole, without};
use super::*;
use crate::cut::{Bit, Cuts, Edge, Feet, Handhold, HangingHole};
use crate::fixtures::inch;
use crate::job::Milling::{self, Climb, Conventional};
use crate::path::{Move, NoProgram, Program};

const WAYS: [[Milling; 2]; 4] =
    [[Climb, Climb], [Climb, Conventional], [Conventional, Climb], [Conventional, Conventional]];

fn machine(wall_pass: &str, [widening, last_pass]: [Milling; 2]) -> Cnc {
    Cnc { wall_pass: inch(wall_pass), widening, last_pass, ..cnc() }
}

fn wide(width: &str, corner: &str) -> Cutting {
    let bit = Bit { corner_radius: inch(corner), ..hold().bit };
    Cutting::handhold(0, &Handhold { bit, width: Some(inch(width)), above_lower_face: None, ..hold() }, &BOARD)
}

/// Foot holes and a hanging hole, wider than their bit.
fn holes(corner: &str) -> Vec<Cutting> {
    let bit = Bit { diameter: inch("1/4"), corner_radius: inch(corner), reach: inch("2"), ..hold().bit };
    let cuts = Cuts {
        feet: Some(Feet {
            bit: bit.clone(),
            diameter: Some(inch("3/8")),
            depth: inch("3/8"),
            from_edges: [inch("2"), inch("1 1/2")],
        }),
        hanging_hole: Some(HangingHole {
            bit,
            diameter: Some(inch("5/16")),
            edge: Edge::Left,
            in_from_edge: inch("1 1/2"),
            along: Some(inch("3")),
        }),
        ..Cuts::default()
    };
    Cutting::all(&[], &cuts, &BOARD)
}

fn proof_of(text: &str, cutting: &[Cutting], cnc: &Cnc) -> Proof {
    prove(&read(text).unwrap(), cutting, Some(cnc), 0.3, 2)
}

fn names(text: &str, cutting: &[Cutting], cnc: &Cnc) -> Vec<&'static str> {
    proof_of(text, cutting, cnc).faults.iter().map(Fault::name).collect()
}

/// Twice the area that the last moves go round, once round what the bit's centre goes round, anti-clockwise where positive.
fn turned(program: &Program) -> f64 {
    let [low, high] = program.cutting.extent();
    let round = 2.0 * (high - low).sum();
    let mut at = Vec::new();
    let mut long = 0.0;
    for p in program.moves.iter().rev().skip(1).map(Move::to) {
        long += at.last().map_or(0.0, |before: &nalgebra::Point3<f64>| (p - before).norm());
        if long > round {
            break;
        }
        at.push(*p);
    }
    at.reverse();
    at.windows(2).map(|w| (w[0] - at[0]).xy().perp(&(w[1] - at[0]).xy())).sum()
}

/// Every machine's program leaves the recess; its last moves go round as asked.
#[test]
fn walls_are_run_along_last_and_as_asked() {
    for (width, corner) in [("7/8", "0"), ("1 1/8", "1/8"), ("13/16", "3/8"), ("49/64", "0")] {
        let cutting = wide(width, corner);
        for ways in WAYS {
            for wall_pass in ["0", "1/64", "1/32"] {
                let cnc = machine(wall_pass, ways);
                let program = Program::of(&cutting, &cnc, None).unwrap();
                let proof = proof_of(&text_in(&program, 1.0), std::slice::from_ref(&cutting), &cnc);
                assert_eq!(proof.faults, [], "{width} {corner} {ways:?} {wall_pass}");
                // Inside of walls anti-clockwise is a climb cut.
                let round = turned(&program);
                assert_eq!(round > 0.0, ways[1] == Climb, "{round} {ways:?}");
            }
        }
    }
}

/// The same round a board that is cut out, where clockwise is a climb cut, and in holes.
#[test]
fn outlines_and_holes_are_cut_as_asked() {
    let outlines: Vec<Cutting> = whole("0", 0.4).into_iter().filter(Cutting::is_of_the_outline).collect();
    for ways in WAYS {
        let cnc = machine("1/64", ways);
        let text = |c: &Cutting| text_in(&Program::of(c, &cnc, None).unwrap(), 1.0);
        let both = format!("{}\n{}", text(&outlines[0]).replace("\nM2", ""), text(&outlines[1]));
        assert_eq!(proof_of(&both, &outlines, &cnc).faults, [], "{ways:?}");
        let program = Program::of(&outlines[0], &cnc, None).unwrap();
        let round = turned(&program);
        assert_eq!(round < 0.0, ways[1] == Climb, "{round} {ways:?}");
        for corner in ["0", "1/32"] {
            for cutting in holes(corner) {
                for wall_pass in ["0", "1/64"] {
                    let cnc = machine(wall_pass, ways);
                    let program = Program::of(&cutting, &cnc, None).unwrap();
                    let proof = proof_of(&text_in(&program, 25.4), std::slice::from_ref(&cutting), &cnc);
                    assert_eq!(proof.faults, [], "{} {ways:?}", cutting.name);
                    // No move but arcs goes down in the wood.
                    for pair in program.moves.windows(2).filter(|m| m[1].to().z < m[0].to().z && m[1].to().z < 0.0) {
                        assert!(matches!(pair[1], Move::Arc { .. }), "{pair:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_hole_as_wide_as_its_bit_is_plunged_only_where_bit_and_maker_allow_it() {
    let as_wide = |cuts_at_centre| {
        let bit = Bit { corner_radius: inch("0"), cuts_at_centre, ..hold().bit };
        let feet = Feet { bit, diameter: None, depth: inch("1/4"), from_edges: [inch("2"); 2] };
        Cutting::all(&[], &Cuts { feet: Some(feet), ..Cuts::default() }, &BOARD).remove(0)
    };
    assert!(Program::of(&as_wide(true), &cnc(), None).is_ok());
    assert_eq!(Program::of(&as_wide(true), &Cnc { plunge: false, ..cnc() }, None).unwrap_err(), NoProgram::NoRamp);
    assert_eq!(Program::of(&as_wide(false), &cnc(), None).unwrap_err(), NoProgram::NoRamp);
}

/// What was done, which cut, the text, what it must be called; each leaves another cut.
#[test]
fn spoiled_walls_and_holes_are_caught() {
    let cnc = machine("1/64", [Conventional, Climb]);
    let pocket = wide("1 1/8", "0");
    let outlines: Vec<Cutting> = whole("0", 0.4).into_iter().filter(Cutting::is_of_the_outline).collect();
    let [feet, hanging] = holes("0").try_into().unwrap();
    let text = |c: &Cutting| text_in(&Program::of(c, &cnc, None).unwrap(), 1.0);
    let good = text(&pocket);
    let lines: Vec<&str> = good.lines().collect();
    // The lowest level's way round the walls, from its first arc on.
    let onto = lines.iter().rposition(|l| l.starts_with("G3")).unwrap() - 6;
    let no_walls = [&lines[..onto], &lines[lines.len() - 3..]].concat().join("\n");
    let too_far = each(&good, 'X', |x| if x == 168.275 { x + 0.1 } else { x });
    let rough = |cutting: &Cutting| {
        let only = Cutting { paths: cutting.paths[cutting.paths.len() / 2..].to_vec(), beside: 0.0, ..cutting.clone() };
        text(&only)
    };
    let outline = |first: String, then: String| format!("{}\n{then}", first.replace("\nM2", ""));
    let no_light = outline(rough(&outlines[0]), rough(&outlines[1]));
    let narrow = outline(
        text(&Cutting { paths: outlines[0].paths[..1].to_vec(), beside: 0.0, ..outlines[0].clone() }),
        text(&outlines[1]),
    );
    let deep = |z: f64| each(&text(&feet), 'Z', |d| if d == -9.525 { d + z } else { d });
    let tight = Cutting {
        paths: vec![crate::cut::Path::Round(crate::cut::Rounded::circle(
            nalgebra::center(&feet.extent()[0], &feet.extent()[1]),
            1.0,
        ))],
        ..feet.clone()
    };
    let feet_text = text(&feet);
    let radial = each(&feet_text, 'I', |i| i * 1.2);
    let cases: Vec<(&str, &[Cutting], String, &str)> = vec![
        ("a recess without its way round the walls", std::slice::from_ref(&pocket), no_walls, "leftover"),
        ("the light pass 0.1 mm too far", std::slice::from_ref(&pocket), too_far, "gouge"),
        ("an outline without its light pass", &outlines, no_light, "leftover"),
        ("an outline without the way beside it", &outlines, narrow, "leftover"),
        ("holes 0.02 mm too deep", std::slice::from_ref(&feet), deep(-0.02), "gouge"),
        ("holes 0.02 mm too shallow", std::slice::from_ref(&feet), deep(0.02), "leftover"),
        ("one hole for four", std::slice::from_ref(&feet), text(&tight), "leftover"),
        (
            "holes without their last way round",
            std::slice::from_ref(&feet),
            without(&feet_text, |l| l.starts_with("G3")),
            "leftover",
        ),
        (
            "a hole not right through",
            std::slice::from_ref(&hanging),
            without(&text(&hanging), |l| l.contains("Z-35.12500")),
            "leftover",
        ),
        (
            "the hanging hole 0.1 mm aside",
            std::slice::from_ref(&hanging),
            each(&text(&hanging), 'X', |x| x + 0.1),
            "gouge",
        ),
    ];
    for (what, cuttings, spoiled, name) in cases {
        let sound = cuttings.iter().map(|c| text(c).replace("\nM2", "")).collect::<Vec<_>>().join("\n") + "\nM2";
        assert_eq!(proof_of(&sound, cuttings, &cnc).faults, [], "{what}: sound");
        assert!(names(&spoiled, cuttings, &cnc).contains(&name), "{what}: {:?}", names(&spoiled, cuttings, &cnc));
        let heights = |text: &str| left(&read(text).unwrap(), cuttings, 0.1, 2).heights;
        let changed = heights(&spoiled).iter().zip(heights(&sound)).any(|(a, b)| (a - b).abs() > 0.005);
        assert!(changed, "{what}: the same cut is left");
    }
    // An arc whose middle has moved isn't one.
    assert!(read(&radial).is_err());
}
