//! Sound programs hold, spoiled ones are caught and named.

use super::super::Program;
use super::removal::lowest;
use super::*;
use crate::cut::{
    Bit, CutOut, Cuts, Easing, Edge, Face, Feet, FingerRecess, Finished, Groove, Handhold, Profile, Reach, Spout,
    Surfacing, Untrimmed,
};
use crate::fixtures::{handhold, inch};
use crate::path::Move;
use nalgebra::Point2;
use proptest::prelude::*;

pub(super) const BOARD: Finished = Finished { length: 288.925, width: 228.6, thickness: 34.925 };

/// Neither in the middle of its edge nor of the thickness: its mirror images are other cuts.
pub(super) fn hold() -> Handhold {
    Handhold { above_lower_face: Some(inch("5/8")), ..handhold(["3", "2"]) }
}

pub(super) fn cnc() -> Cnc {
    crate::fixtures::cnc(16_000)
}

/// A program's text, one word order, as a person may write it; `other` is how many millimetres its unit has.
pub(super) fn text_in(program: &Program, unit: f64) -> String {
    let mut lines = vec![if unit > 1.0 { "G20".to_owned() } else { "G21".to_owned() }, "G17 G90 G94".to_owned()];
    let n = |mm: f64| format!("{:.5}", mm / unit);
    for (i, step) in program.moves.iter().enumerate() {
        let to = step.to();
        match step {
            Move::Rapid(_) if i == 0 => {
                lines.push(format!("G0 Z{}", n(to.z)));
                lines.push(format!("S{} M3", program.feeds.speed));
                lines.push(format!("G0 X{} Y{}", n(to.x), n(to.y)));
            }
            Move::Rapid(_) => {
                lines.push(format!("G0 Z{}", n(to.z)));
                if program.moves[i - 1].to().xy() != to.xy() {
                    lines.push(format!("G0 X{} Y{}", n(to.x), n(to.y)));
                }
            }
            Move::Feed(_, f) => lines.push(format!("G1 X{} Y{} Z{} F{}", n(to.x), n(to.y), n(to.z), n(*f))),
            Move::Arc { centre, clockwise, feed, .. } => {
                let (code, arm) = (if *clockwise { 2 } else { 3 }, centre - program.moves[i - 1].to().xy());
                let end = format!("X{} Y{} Z{}", n(to.x), n(to.y), n(to.z));
                lines.push(format!("G{code} {end} I{} J{} F{}", n(arm.x), n(arm.y), n(*feed)));
            }
        }
    }
    lines.extend(["M5".to_owned(), "M2".to_owned()]);
    lines.join("\n")
}

fn program_of(hold: &Handhold) -> Program {
    Program::of(&Cutting::handhold(0, hold, &BOARD), &cnc(), None).unwrap()
}

fn text_of(hold: &Handhold) -> String {
    text_in(&program_of(hold), 1.0)
}

fn proof_of(text: &str, hold: &Handhold, cell: f64) -> Proof {
    prove(&read(text).unwrap(), &[Cutting::handhold(0, hold, &BOARD)], Some(&cnc()), cell, 2)
}

fn proof(text: &str, cell: f64) -> Proof {
    proof_of(text, &hold(), cell)
}

#[test]
fn a_sound_program_holds_on_any_grid_in_both_units() {
    let program = program_of(&hold());
    for (unit, cell) in [(1.0, 0.1), (25.4, 0.25), (1.0, 1.0)] {
        let proof = proof(&text_in(&program, unit), cell);
        assert_eq!(proof.faults, [], "cells of {cell}");
        assert!(proof.least > -0.0002 && proof.greatest < 0.0002, "{} {}", proof.least, proof.greatest);
        if cell < 0.2 {
            // Upright walls fall on cells: half a cell all round the recess is the most that the grid's sum is off by.
            let recess = hold().recess(&BOARD);
            let round = 2.0 * recess.travel + std::f64::consts::TAU * recess.profile.radius;
            let bound = round * recess.profile.depth * cell / 2.0;
            assert!((proof.removed - proof.exact).abs() < bound, "{} {}", proof.removed, proof.exact);
        }
    }
}

/// Lines no farther apart than the ridge between them allows, and once round the walls; a rim is eased afterwards, and is
/// no part of the program. Without the way round the walls, ridges stand at the ends.
#[test]
fn a_program_wider_than_its_bit_leaves_the_whole_recess() {
    let eased = Some(Easing::RoundOver(inch("1/16")));
    for (corner, width, rim) in [("0", "7/8", None), ("1/8", "1 1/16", eased), ("3/8", "15/16", None)] {
        let bit = Bit { corner_radius: inch(corner), ..hold().bit };
        let wide = Handhold { bit, width: Some(inch(width)), above_lower_face: None, rim, ..hold() };
        let program = program_of(&wide);
        let text = text_in(&program, 25.4);
        let proof = proof_of(&text, &wide, 0.2);
        assert_eq!(proof.faults, [], "corner {corner}, {width} wide");
        let narrow = Handhold { width: None, ..wide.clone() };
        let faults = proof_of(&text, &narrow, 0.2).faults;
        assert!(matches!(faults[..], [Fault::Gouge(_), ..]), "{faults:?}");
    }
}

#[test]
fn a_wide_recess_without_its_way_round_the_walls_is_caught() {
    let wide = Handhold { width: Some(inch("1 1/8")), above_lower_face: None, ..hold() };
    let mut program = program_of(&wide);
    let [low, high] = wide.path(&BOARD).extent();
    // Moves along the two ends, but for those from line to line.
    let along_an_end = |from: &nalgebra::Point3<f64>, to: &nalgebra::Point3<f64>| {
        from.x == to.x && from.z == to.z && (to.y - from.y).abs() > 0.9 * (high.y - low.y)
    };
    let mut at = *program.moves[0].to();
    program.moves.retain(|m| {
        let skip = along_an_end(&at, m.to());
        at = if skip { at } else { *m.to() };
        !skip
    });
    let faults = proof_of(&text_in(&program, 1.0), &wide, 0.2).faults;
    assert!(faults.iter().any(|f| matches!(f, Fault::Leftover(_))), "{faults:?}");
}

/// Cuts of every kind on the faces, not alike under any mirror; their programs hold, and none holds for another's cut.
#[test]
fn programs_of_cuts_on_the_faces_hold() {
    let bit = |corner: &str| Bit { corner_radius: inch(corner), cuts_at_centre: true, ..hold().bit };
    let finger = |edge, inward: &str, rise: Option<&str>| FingerRecess {
        edge,
        bit: bit("1/8"),
        depth: inch("3/8"),
        in_from_edge: inch(inward),
        setbacks: [inch("2"), inch("3")],
        rise: rise.map(inch),
        rim: Some(Easing::RoundOver(inch("1/16"))),
    };
    let groove = Groove {
        face: Face::Upper,
        bit: bit("3/8"),
        depth: inch("1/4"),
        setback: inch("3/4"),
        corner_radius: inch("1"),
        rim: None,
    };
    let tight =
        Groove { face: Face::Lower, bit: bit("0"), depth: inch("1/8"), corner_radius: inch("1/8"), ..groove.clone() };
    let sharp = Groove { corner_radius: inch("0"), ..tight.clone() };
    let cuts = Cuts {
        grooves: vec![groove, tight, sharp],
        spouts: vec![Spout {
            groove: 0,
            edge: Edge::Right,
            bit: bit("3/8"),
            depth: inch("1/4"),
            along: Some(inch("3")),
        }],
        finger_recesses: vec![
            finger(Edge::Front, "1/8", None),
            finger(Edge::Back, "1", Some("1/2")),
            finger(Edge::Left, "1 1/2", Some("1")),
        ],
        feet: Some(Feet { bit: bit("0"), diameter: None, depth: inch("1/2"), from_edges: [inch("2"), inch("1 1/2")] }),
        ..Cuts::default()
    };
    let all = Cutting::all(&[], &cuts, &BOARD);
    assert_eq!(all.len(), 8);
    for (i, cutting) in all.iter().enumerate() {
        let program = Program::of(cutting, &cnc(), None).unwrap();
        for (unit, cell) in [(1.0, 0.5), (25.4, 1.0)] {
            let steps = read(&text_in(&program, unit)).unwrap();
            let proof = prove(&steps, std::slice::from_ref(cutting), Some(&cnc()), cell, 2);
            assert_eq!(proof.faults, [], "{}", cutting.name);
            let other = &all[(i + 1) % all.len()];
            assert!(
                !prove(&steps, std::slice::from_ref(other), Some(&cnc()), cell, 2).faults.is_empty(),
                "{} for {}",
                cutting.name,
                other.name
            );
        }
        let [low, high] = program.extent().unwrap();
        let legs = legs(&read(&text_in(&program, 1.0)).unwrap());
        for p in legs.iter().map(|leg| leg.to.xy()) {
            assert!(p.x >= low.x - 1e-3 && p.y >= low.y - 1e-3 && p.x <= high.x + 1e-3 && p.y <= high.y + 1e-3);
        }
    }
}

/// The board as glued, levelled and cut out.
pub(super) fn whole(corner: &str, wall_pass: f64) -> Vec<Cutting> {
    let bit = |diameter: &str, corner: &str| Bit {
        diameter: inch(diameter),
        corner_radius: inch(corner),
        reach: inch("2"),
        ..hold().bit
    };
    let surfacing = Surfacing { bit: bit("1 1/2", corner), faces: vec![Face::Lower, Face::Upper], panels: false };
    let cut_out = CutOut {
        bit: bit("1/4", "0"),
        tabs: 4,
        tab_length: inch("3/8"),
        tab_height: inch("1/8"),
        below: inch("1/128"),
    };
    let glued = Finished { length: BOARD.length + 21.0, width: BOARD.width + 24.0, thickness: BOARD.thickness + 3.1 };
    let board = Untrimmed { glued, corner: Point2::new(10.4, 10.5), finished: BOARD, levelled: [1.3, 1.8] };
    let cuts = Cuts { corner_radius: Some(inch("3/4")), ..Cuts::default() };
    Cutting::of_whole(Some(&surfacing), Some(&cut_out), &cuts, &board, wall_pass)
}

/// Faces are left as planes and the outline with its tabs; what is taken is the closed form for the faces, the union of both
/// cuts for the outline. Programs that are spoiled are caught and named.
#[test]
fn faces_are_levelled_and_the_board_is_cut_out() {
    for (corner, wall_pass) in [("0", 0.0), ("1/8", 0.4), ("0", 0.15)] {
        let all = whole(corner, wall_pass);
        assert_eq!(all.len(), 4);
        let text = |c: &Cutting| text_in(&Program::of(c, &cnc(), None).unwrap(), 1.0);
        for face in &all[..2] {
            let held = |text: &str| prove(&read(text).unwrap(), std::slice::from_ref(face), Some(&cnc()), 0.5, 2);
            let good = text(face);
            let proof = held(&good);
            assert_eq!(proof.faults, [], "{}", face.name);
            assert!(proof.least > -1e-3 && proof.greatest < 0.006, "{} {}", proof.least, proof.greatest);
            let exact = face.stock[0] * face.stock[1] * face.profile.depth;
            assert!((proof.exact - exact).abs() < 1e-6 * exact, "{} {exact}", proof.exact);
            let named = |text: &str| held(text).faults.iter().map(Fault::name).collect::<Vec<_>>();
            let deepest = format!("Z-{:.5}", face.profile.depth);
            assert!(named(&without(&good, |l| l.contains(&deepest))).contains(&"leftover"));
            assert!(named(&good.replace(&deepest, "Z-2.50000")).contains(&"gouge"));
            assert!(named(&each(&good, 'Y', |y| y - 30.0)).contains(&"leftover"));
        }
        let outline = &all[2..];
        let [rough, through] = [text(&outline[0]).replace("\nM2", ""), text(&outline[1])];
        let held = |text: &str| prove(&read(text).unwrap(), outline, Some(&cnc()), 0.5, 2);
        let good = format!("{rough}\n{through}");
        let proof = held(&good);
        assert_eq!(proof.faults, []);
        // Half a cell along both walls is the most that the grid's sum is off by.
        let removed = left(&read(&good).unwrap(), outline, 0.1, 2).removed();
        assert!((removed - proof.exact).abs() < 0.1 / 6.35 * proof.exact, "{removed} {}", proof.exact);
        let named = |text: &str| held(text).faults.iter().map(Fault::name).collect::<Vec<_>>();
        assert!(named(&format!("{rough}\nM2")).contains(&"leftover"), "not right through");
        assert!(named(&through).contains(&"cuts deeper than allowed"), "right through at once");
        assert!(named(&each(&good, 'X', |x| x + 0.1)).contains(&"gouge"), "shifted");
        let no_tabs = Cutting { paths: outline[0].paths.clone(), ..outline[1].clone() };
        assert!(named(&format!("{rough}\n{}", text(&no_tabs))).contains(&"gouge"), "tabs cut away");
    }
}

/// All cuts of one side by three bits in one program with stops between them: it holds, and fails where a stop is left out,
/// where a part is left out, where two parts change places, and where there is a stop too many.
#[test]
fn several_bits_in_one_program_are_proved_together() {
    let bit = |name: &str, diameter: &str| Bit {
        name: name.into(),
        diameter: inch(diameter),
        corner_radius: inch("1/8"),
        cuts_at_centre: true,
        ..hold().bit
    };
    let groove = Groove {
        face: Face::Upper,
        bit: bit("dish", "1/2"),
        depth: inch("1/4"),
        setback: inch("3/4"),
        corner_radius: inch("1"),
        rim: None,
    };
    let spout =
        Spout { groove: 0, edge: Edge::Right, bit: bit("small", "3/8"), depth: inch("1/8"), along: Some(inch("3")) };
    let cuts = Cuts { grooves: vec![groove], spouts: vec![spout], ..Cuts::default() };
    let all = Cutting::all(&[], &cuts, &BOARD);
    let parts: Vec<String> =
        all.iter().map(|c| text_in(&Program::of(c, &cnc(), None).unwrap(), 1.0).replace("\nM2", "")).collect();
    let held = |text: &str| {
        let proof = prove(&read(text).unwrap(), &all, Some(&cnc()), 0.5, 2);
        proof.faults.iter().map(Fault::name).collect::<Vec<_>>()
    };
    let [groove, spout] = [&parts[0], &parts[1]];
    let whole = format!("{groove}\nM0\n{spout}\nM2");
    assert_eq!(held(&whole), Vec::<&str>::new());
    assert!(held(&format!("{groove}\n{spout}\nM2")).contains(&"gouge"), "the wide bit in the spout");
    assert!(held(&format!("{groove}\nM2")).contains(&"leftover"));
    assert!(held(&format!("{spout}\nM0\n{groove}\nM2")).contains(&"leftover"), "the small bit in the groove");
    assert!(held(&whole.replace("M2", "M0\nG0 Z5\nG0 X50 Y19.05\nS9000 M3\nG1 Z-1\nM5\nM2")).contains(&"another bit"));
    // Both together take less than each by itself: they cross.
    let apart: f64 = all.iter().map(Cutting::volume).sum();
    let both = Cutting::volume_of(&all);
    assert!(both < apart - 1.0 && both > all[0].volume() + 1.0, "{both} {apart}");
    let proof = prove(&read(&whole).unwrap(), &all, Some(&cnc()), 0.1, 2);
    assert!((proof.removed - both).abs() < 0.002 * both, "{} {both}", proof.removed);
}

/// Every word of a letter, changed.
pub(super) fn each(text: &str, letter: char, change: impl Fn(f64) -> f64) -> String {
    let word = |w: &str| match w.strip_prefix(letter) {
        Some(number) => format!("{letter}{:.5}", change(number.parse().unwrap())),
        None => w.to_owned(),
    };
    let line = |l: &str| l.split(' ').map(word).collect::<Vec<_>>().join(" ");
    text.lines().map(line).collect::<Vec<_>>().join("\n")
}

pub(super) fn without(text: &str, has: impl Fn(&str) -> bool) -> String {
    text.lines().filter(|l| !has(l)).collect::<Vec<_>>().join("\n")
}

/// Put in before the line that stops the spindle.
fn before_the_end(text: &str, lines: &str) -> String {
    text.replace("\nM5", &format!("\n{lines}\nM5"))
}

/// The spoiled programs: what was done to it, the text, what it must be called, and whether the cut that it leaves is
/// another one (else it is only dangerous on the way).
fn spoiled() -> Vec<(&'static str, String, &'static str, bool)> {
    let good = text_of(&hold());
    let made = |change: &dyn Fn(&mut Handhold)| {
        let mut other = hold();
        change(&mut other);
        text_of(&other)
    };
    let [a, b] = hold().centres(&BOARD).map(|p| p.x);
    let deep = |l: &str| l.contains("Z-9.52500");
    let last = |z: f64| each(&good, 'Z', |d| if d == -9.525 { d + z } else { d });
    let second = |l: &str| l.contains(&format!("Z-{:.5}", program_of(&hold()).depths[3]));
    let at_depth = |line: &str| good.replace("\nG0 Z12.70000\nM5", &format!("\n{line}\nG0 Z12.70000\nM5"));
    let shift = |letter, by: f64| each(&good, letter, |c| c + by);
    let ends_early = |by: f64| each(&good, 'X', |x| if (x - b).abs() < 0.001 { x - by } else { x });
    vec![
        ("the last pass missing", without(&good, deep), "leftover", true),
        ("a pass in the middle missing", without(&good, second), "cuts deeper than allowed", false),
        ("the last pass 0.02 mm too deep", last(-0.02), "gouge", true),
        ("the last pass 0.02 mm too shallow", last(0.02), "leftover", true),
        ("shifted along the edge by 0.1 mm", shift('X', 0.1), "gouge", true),
        ("shifted toward the upper face by 0.1 mm", shift('Y', 0.1), "gouge", true),
        ("shifted toward the lower face by 0.1 mm", shift('Y', -0.1), "leftover", true),
        ("the datum 0.05 mm too low", shift('Z', -0.05), "gouge", true),
        ("X from the other end", each(&good, 'X', |x| BOARD.width - x), "gouge", true),
        ("Y from the upper face", each(&good, 'Y', |y| BOARD.thickness - y), "gouge", true),
        ("millimetres read as inches", good.replace("G21", "G20"), "leftover", true),
        (
            "inches read as millimetres",
            ['X', 'Y', 'Z'].iter().fold(good.clone(), |t, l| each(&t, *l, |c| c / 25.4)),
            "leftover",
            true,
        ),
        ("a rapid down into the wood", good.replacen("\nG1 X", "\nG0 Z-3.00000\nG1 X", 1), "rapid through wood", false),
        ("a rapid sideways in the wood", at_depth("G0 X20.00000"), "rapid through wood", true),
        ("an arc the wrong way round", at_depth(&format!("G91 G2 X0 Y0 I-6.00000\nG90 G1 X{a:.5}")), "gouge", true),
        ("an arc by the longer way", at_depth(&format!("G2 X{b:.5} Y15.87500 R-80")), "gouge", true),
        ("an arc in the wrong plane", at_depth("G91 G18 G3 X-10.00000 I-5.00000\nG17 G90"), "gouge", true),
        ("made for a smaller bit", made(&|h| h.bit.diameter = inch("5/8")), "gouge", true),
        ("made for another edge's recess", made(&|h| h.reach = Reach::Setbacks([inch("2"), inch("2")])), "gouge", true),
        ("made for a shallower recess", made(&|h| h.depth = inch("1/4")), "leftover", true),
        ("made for the middle of the thickness", made(&|h| h.above_lower_face = None), "gouge", true),
        ("all in two passes", made(&|h| h.passes = Some(2)), "cuts deeper than allowed", false),
        ("the spindle not started", without(&good, |l| l.contains("M3")), "spindle stands", false),
        ("the spindle stopped halfway", good.replacen("\nG1 X", "\nM5\nG1 X", 3), "spindle stands", false),
        ("faster than the bit may turn", good.replace("S16000", "S24000"), "bit turns too fast", false),
        ("increments for places", good.replacen("\nG1 X", "\nG91\nG1 X", 1), "leftover", true),
        (
            "not raised first",
            without(&good, |l| l == "G0 Z12.70000").replacen("\nG1 X", "\nG0 Z12.7\nG1 X", 1),
            "sideways before it is raised",
            false,
        ),
        ("ends 0.1 mm too early", ends_early(0.1), "leftover", true),
        ("ends 0.1 mm too late", ends_early(-0.1), "gouge", true),
        ("feeds turned into rapids", without(&good, |_| false).replace("G1 ", "G0 "), "rapid through wood", false),
        ("the sign of Z lost", each(&good, 'Z', f64::abs), "leftover", true),
        ("a decimal point moved", good.replace("X85.72500", "X8.57250"), "gouge", true),
        ("X and Y exchanged", good.replace('X', "W").replace('Y', "X").replace('W', "Y"), "leftover", true),
        (
            "another bit halfway",
            good.replacen("\nG1 X", "\nT2 M6\nM3\nG1 X", 4).replacen("\nT2 M6\nM3\nG1 X", "\nT1 M6\nM3\nG1 X", 2),
            "another bit",
            false,
        ),
        ("up through the machine's roof", before_the_end(&good, "G0 Z500"), "out of the machine's travel", false),
        ("a pass that wanders", at_depth("G1 X120 Y16.2\nG1 X150 Y15.875"), "gouge", true),
        ("deeper than the bit cuts", at_depth("G1 Z-26"), "shank rubs", true),
        ("broken off", format!("{}\nM2", good.lines().take(12).collect::<Vec<_>>().join("\n")), "leftover", true),
    ]
}

#[test]
fn every_spoiled_program_is_caught_and_named() {
    let good = proof(&text_of(&hold()), 0.25);
    let all = spoiled();
    assert!(all.len() >= 25);
    let mut missed = Vec::new();
    for (what, text, name, another) in all {
        let proof = proof(&text, 0.25);
        let names: Vec<&str> = proof.faults.iter().map(Fault::name).collect();
        if !names.contains(&name) {
            missed.push(format!("{what}: {name} is not among {names:?}"));
        }
        let changed = proof.field.heights.iter().zip(&good.field.heights).any(|(a, b)| (a - b).abs() > 0.005);
        if changed != another {
            missed.push(format!("{what}: another cut is left: {changed}"));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// Between its ends and its eighths the circle reaches 305 mm to either side.
#[test]
fn an_arc_that_bulges_past_the_travel_is_caught() {
    let (radius, from, turn) = (305.0f64, 0.1f64, 0.9 * std::f64::consts::TAU);
    let at = |angle: f64| nalgebra::Point3::new(radius * angle.cos(), radius * angle.sin(), 10.0);
    let way = Way::Arc { centre: nalgebra::Point3::new(0.0, 0.0, 10.0), axis: 2, turn };
    let arc = Step { line: 1, from: at(from), to: at(from + turn), way, feed: 600.0, speed: 9000.0, bit: 0, stops: 0 };
    let faults = travel(&[arc], &legs(&[arc]), Some(&cnc()));
    let needed = |axis| faults.iter().find_map(|f| matches!(f, Fault::OutOfTravel(a, n, _) if *a == axis).then(|| *f));
    let Some(Fault::OutOfTravel(_, along, has)) = needed(1) else { panic!("{faults:?}") };
    assert!((along - 610.0).abs() < 0.001 && (has - 609.6).abs() < 1e-9, "{along} {has}");
}

/// Thirty kilobytes of large arcs would be gigabytes of chords.
#[test]
fn too_many_chords_are_refused_by_line() {
    let arcs = "G2 X0 Y0 I40000\n".repeat(2000);
    let wrong = read(&format!("G21 G90 G17\nG0 Z5\nG0 X0 Y0\nF600 S9000 M3\n{arcs}M2")).unwrap_err();
    assert!(wrong.what.starts_with("more than a million steps"), "{wrong}");
    assert!(wrong.line > 4 && wrong.line < 200, "{wrong}");
}

#[test]
fn workers_change_nothing() {
    let steps = read(&text_of(&hold())).unwrap();
    let by = |workers| prove(&steps, &[Cutting::handhold(0, &hold(), &BOARD)], Some(&cnc()), 0.3, workers);
    assert_eq!(by(1), by(2));
    assert_eq!(by(1), by(7));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The lowest over a leg is the least of what many places on it give.
    #[test]
    fn a_leg_leaves_what_its_places_leave(x in -20.0..20.0f64, y in -20.0..20.0f64, z in -5.0..5.0f64, px in -25.0..25.0f64, py in -25.0..25.0f64, r in 1.0..8.0f64, share in 0.0..=1.0f64) {
        let bit = Profile { radius: r, corner: r * share, depth: 1.0, rim: None };
        let leg = Leg::straight(nalgebra::Point3::origin(), nalgebra::Point3::new(x, y, z), 0);
        let p = Point2::new(px, py);
        let places = (0..=4000).filter_map(|k| {
            let at = leg.from + (leg.to - leg.from) * (f64::from(k) / 4000.0);
            lowest(&bit, &Leg::straight(at, at, 0), p)
        });
        let sampled = places.fold(f64::INFINITY, f64::min);
        match lowest(&bit, &leg, p) {
            Some(z) => prop_assert!(z <= sampled + 1e-9 && (sampled - z < 0.1 || sampled.is_infinite()), "{z} {sampled}"),
            None => prop_assert!(sampled.is_infinite()),
        }
    }
}

/// An arc's radius, written with five decimals of an inch, differs by a hair from one pass to the next: what that shaves
/// off the wall, as high as all passes before, is nothing taken.
#[test]
fn rounded_arcs_shave_nothing_off_the_wall() {
    let board = Finished { length: 343.0, width: 266.7, thickness: 34.925 };
    for (inward, rise, setback) in
        [("0", "1/2", "3 1/2"), ("3/8", "1/2", "3 1/2"), ("1/4", "7/8", "3 1/2"), ("1", "5/8", "3")]
    {
        let recess = FingerRecess {
            edge: Edge::Back,
            bit: Bit { diameter: inch("1/2"), corner_radius: inch("1/4"), cuts_at_centre: true, ..hold().bit },
            depth: inch("3/8"),
            in_from_edge: inch(inward),
            setbacks: [inch(setback); 2],
            rise: Some(inch(rise)),
            rim: None,
        };
        let all = Cutting::all(&[], &Cuts { finger_recesses: vec![recess], ..Cuts::default() }, &board);
        let program = Program::of(&all[0], &cnc(), None).unwrap();
        let proof = prove(&read(&text_in(&program, 25.4)).unwrap(), &all, Some(&cnc()), 0.1, 2);
        assert_eq!(proof.faults, [], "{inward} {rise} {setback}");
    }
}
