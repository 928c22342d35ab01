//! Rims that are eased by a bit without a bearing: sound programs hold and take what the solid lacks, spoiled ones are caught.

use super::removal::lowest;
use super::tests::{BOARD, cnc, each, hold, text_in, without};
use super::*;
use crate::cut::{Bit, Cuts, Easing};
use crate::fixtures::{inch, mm};
use crate::path::Program;
use proptest::prelude::*;

fn bit(diameter: &str, eases: Easing) -> Bit {
    Bit { name: "rim".into(), diameter: inch(diameter), corner_radius: inch("0"), eases: Some(eases), ..hold().bit }
}

/// The upper rim rounded over, the lower one chamfered, on a board with such corners.
fn rims(corner: &str) -> Vec<Cutting> {
    let round = Easing::RoundOver(inch("3/16"));
    let cuts = Cuts {
        corner_radius: Some(inch(corner)),
        upper_rim: Some(round),
        lower_rim: Some(Easing::Chamfer(inch("1/8"))),
        ..Cuts::default()
    };
    let bits = [bit("1/2", round), bit("1/2", Easing::Chamfer(inch("1/4")))].map(Some);
    Cutting::rims(&cuts, &bits, &BOARD)
}

fn text(cutting: &Cutting) -> String {
    text_in(&Program::of(cutting, &cnc(), None).unwrap(), 1.0)
}

fn proof(text: &str, cutting: &Cutting) -> Proof {
    prove(&read(text).unwrap(), std::slice::from_ref(cutting), Some(&cnc()), 0.2, 2)
}

/// On a board with square corners what is taken is the closed form of the eased rim, by which the solid is made.
#[test]
fn rims_are_eased_as_the_solid_is() {
    for corner in ["0", "3/4"] {
        let all = rims(corner);
        assert_eq!(all.len(), 2);
        for cutting in &all {
            for unit in [1.0, 25.4] {
                let program = Program::of(cutting, &cnc(), None).unwrap();
                let proof = proof(&text_in(&program, unit), cutting);
                assert_eq!(proof.faults, [], "{} {corner}", cutting.name);
                assert!(proof.least > -0.002 && proof.greatest < 0.002, "{} {}", proof.least, proof.greatest);
                if corner == "0" {
                    let easing = if cutting.name.starts_with("round") {
                        Easing::RoundOver(inch("3/16"))
                    } else {
                        Easing::Chamfer(inch("1/8"))
                    };
                    let closed = easing.volume(&Cuts::default().outline(BOARD).plan());
                    assert!((proof.exact - closed).abs() < 1e-8 * closed, "{} {closed}", proof.exact);
                    // At the side, where the rim is as deep as it is anywhere, the grid's sum is off by half a cell.
                    let bound = 2.0 * (BOARD.length + BOARD.width) * easing.size() * 0.2 / 2.0;
                    assert!((proof.removed - closed).abs() < bound, "{} {closed}", proof.removed);
                }
            }
        }
    }
}

/// What was done, of which rim, the text, what it must be called; each leaves another cut.
#[test]
fn spoiled_rims_are_caught() {
    let all = rims("1/2");
    let [round, chamfer] = [&all[0], &all[1]];
    let other = |eases| {
        let Easing::RoundOver(_) = eases else { unreachable!() };
        let cuts = Cuts { corner_radius: Some(inch("1/2")), upper_rim: Some(eases), ..Cuts::default() };
        text(&Cutting::rims(&cuts, &[Some(bit("1/2", eases)), None], &BOARD)[0])
    };
    let sharp = {
        let mut all = rims("0");
        text(&all.remove(0))
    };
    let deepest = |c: &Cutting| format!("Z-{:.5}", Program::of(c, &cnc(), None).unwrap().depths.last().unwrap());
    let deeper = |c: &Cutting, by: f64| {
        let depth = *Program::of(c, &cnc(), None).unwrap().depths.last().unwrap();
        each(&text(c), 'Z', |z| if (z + depth).abs() < 1e-4 { z - by } else { z })
    };
    let cases = [
        ("the last pass missing", round, without(&text(round), |l| l.contains(&deepest(round))), "leftover"),
        ("0.05 mm too deep", round, deeper(round, 0.05), "gouge"),
        ("0.05 mm too shallow", round, deeper(round, -0.05), "leftover"),
        ("0.1 mm to the right", round, each(&text(round), 'X', |x| x + 0.1), "gouge"),
        ("0.1 mm to the back", chamfer, each(&text(chamfer), 'Y', |y| y + 0.1), "gouge"),
        ("0.1 mm too deep", chamfer, deeper(chamfer, 0.1), "gouge"),
        ("the last pass missing", chamfer, without(&text(chamfer), |l| l.contains(&deepest(chamfer))), "leftover"),
        ("made for a smaller radius", round, other(Easing::RoundOver(inch("1/8"))), "leftover"),
        ("made for square corners", round, sharp, "leftover"),
        ("made for the other rim", chamfer, text(round), "gouge"),
        (
            "straight through the board",
            round,
            text(round).replacen("\nM5", "\nG1 Z-1 F500\nG1 X50 Y50\nG0 Z12\nM5", 1),
            "gouge",
        ),
        (
            "down a slope into the board",
            chamfer,
            text(chamfer).replacen("\nM5", "\nG1 X60 Y40 Z-2 F500\nG0 Z12\nM5", 1),
            "gouge",
        ),
    ];
    for (what, cutting, spoiled, name) in cases {
        let sound = proof(&text(cutting), cutting);
        let found = proof(&spoiled, cutting);
        let names: Vec<&str> = found.faults.iter().map(Fault::name).collect();
        assert!(names.contains(&name), "{what}: {names:?}");
        let changed = found.field.heights.iter().zip(&sound.field.heights).any(|(a, b)| (a - b).abs() > 0.005);
        assert!(changed, "{what}: the same cut is left");
    }
}

/// A bit that eases something else than the rim has no program.
#[test]
fn a_bit_of_another_radius_eases_nothing() {
    let round = Easing::RoundOver(inch("1/8"));
    let cuts = Cuts { upper_rim: Some(round), lower_rim: Some(Easing::Chamfer(inch("3/8"))), ..Cuts::default() };
    let bits = [bit("1/2", Easing::RoundOver(inch("3/16"))), bit("1/2", Easing::Chamfer(inch("1/4")))].map(Some);
    assert_eq!(Cutting::rims(&cuts, &bits, &BOARD), []);
    assert_eq!(Cutting::rims(&cuts, &[None, None], &BOARD), []);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Along a slope or an arc, such a bit leaves what many of its places leave, or a hair less.
    #[test]
    fn a_slope_leaves_what_its_places_leave(
        x in -20.0..20.0f64, y in -20.0..20.0f64, z in -5.0..5.0f64, px in -25.0..25.0f64, py in -25.0..25.0f64,
        tip in 0.0..4.0f64, round: bool, bow in 0..3u8,
    ) {
        prop_assume!(x.hypot(y) > 0.5);
        let size = mm(4);
        let rim = if round { Easing::RoundOver(size) } else { Easing::Chamfer(size) };
        let shape = Profile { radius: tip, corner: 0.0, depth: 4.0, rim: Some(rim) };
        let line = match bow {
            0 => format!("G1 X{x:.4} Y{y:.4} Z{z:.4} F100"),
            1 => format!("G2 X{x:.4} Y{y:.4} Z{z:.4} R{:.4} F100", x.hypot(y)),
            _ => format!("G3 X{x:.4} Y{y:.4} Z{z:.4} R{:.4} F100", x.hypot(y)),
        };
        let step = *read(&format!("G21 G90\nG0 Z0\nG0 X0 Y0\n{line}\nM2")).unwrap().last().unwrap();
        let p = Point2::new(px, py);
        let parts: Vec<Leg> = legs(&[step]).into_iter().flat_map(Leg::level_parts).collect();
        let found = parts.iter().filter_map(|leg| lowest(&shape, leg, p)).reduce(f64::min);
        let places = (0..=8000).map(|k| step.at(f64::from(k) / 8000.0));
        let least = places
            .filter_map(|c| Some((p - c.xy()).norm()).filter(|rho| *rho <= shape.outer()).map(|rho| c.z + shape.underside(rho)))
            .reduce(f64::min);
        match (found, least) {
            // A hollow is steep beside its flat end: there a place between two may be a little lower.
            (Some(found), Some(least)) => prop_assert!(found <= least + 1e-6 && found > least - 0.25, "{} {}", found, least),
            (None, Some(least)) => prop_assert!(false, "nothing for {}", least),
            _ => {}
        }
    }
}

/// A hollow bit whose flat end is a thousandth of a millimetre wide goes round a square corner: no arc so small that rounding
/// leaves no radius, and the rim holds.
#[test]
fn a_bit_with_hardly_any_flat_end_turns_no_arc_of_nothing() {
    let eases = Easing::RoundOver(mm(6));
    let cuts = Cuts { upper_rim: Some(eases), ..Cuts::default() };
    let bit = Bit {
        diameter: mm(12) + crate::measure::Length::from_micrometres(1),
        corner_radius: crate::measure::Length::ZERO,
        eases: Some(eases),
        ..hold().bit
    };
    let cutting = Cutting::rims(&cuts, &[Some(bit), None], &BOARD).remove(0);
    let program = Program::of(&cutting, &cnc(), None).unwrap();
    let mut at = *program.moves[0].to();
    for step in &program.moves {
        if let crate::path::Move::Arc { centre, .. } = step {
            assert!((at.xy() - centre).norm() > 0.009, "{step:?}");
        }
        at = *step.to();
    }
    for unit in [1.0, 25.4] {
        let steps = read(&text_in(&program, unit)).unwrap();
        assert_eq!(prove(&steps, std::slice::from_ref(&cutting), Some(&cnc()), 0.5, 2).faults, []);
    }
}
