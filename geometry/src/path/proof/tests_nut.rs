//! The collet's nut: into wood, over clamps, and where nothing is said of it.

use super::tests::{BOARD, cnc, each, hold, text_in};
use super::*;
use crate::cut::{Bit, Cuts, Easing, Face, Groove, Handhold, Surfacing};
use crate::fixtures::{inch, mm};
use crate::job::{Clamp, FlatClamp};
use crate::measure::Length;
use crate::path::{NoProgram, Program};

/// A nut of 30 mm over the bit of 19.05 mm; the recess is 9.525 mm deep.
fn with_nut() -> Cnc {
    Cnc { nut: Some(mm(30)), ..cnc() }
}

fn out(stick_out: i64) -> Handhold {
    Handhold { bit: Bit { stick_out: Some(mm(stick_out)), ..hold().bit }, ..hold() }
}

fn cutting(stick_out: i64) -> Cutting {
    Cutting::handhold(0, &out(stick_out), &BOARD)
}

fn faults(text: &str, cutting: &Cutting, cnc: &Cnc) -> Vec<&'static str> {
    let proof = prove(&read(text).unwrap(), std::slice::from_ref(cutting), Some(cnc), 0.5, 2);
    proof.faults.iter().map(Fault::name).collect()
}

/// By hand: 9.525 mm deep and 1/8 in clear, 12.7 mm: 13 mm will do, 12 mm won't. A nut as wide as the bit has room anywhere.
#[test]
fn a_bit_that_stands_out_too_little_has_no_program() {
    assert!(Program::of(&cutting(13), &with_nut(), None).is_ok());
    let why = Program::of(&cutting(12), &with_nut(), None).unwrap_err();
    assert!(matches!(why, NoProgram::StickOut { needed, has } if (needed - 12.7).abs() < 1e-9 && has == 12.0), "{why}");
    assert!(Program::of(&cutting(1), &cnc(), None).is_ok());
    assert!(Program::of(&cutting(1), &Cnc { nut: Some(inch("3/4")), ..cnc() }, None).is_ok());
}

/// The same program with the bit put in shorter, and one that goes deeper than the bit was put in for.
#[test]
fn a_nut_that_comes_down_into_the_wood_is_caught() {
    let good = text_in(&Program::of(&cutting(13), &with_nut(), None).unwrap(), 1.0);
    assert_eq!(faults(&good, &cutting(13), &with_nut()), Vec::<&str>::new());
    assert_eq!(faults(&good, &cutting(10), &with_nut()), Vec::<&str>::new());
    let short = faults(&good, &cutting(8), &with_nut());
    assert_eq!(short, ["gouge", "nut rubs on the wood"]);
    assert_eq!(faults(&good, &cutting(8), &cnc()), Vec::<&str>::new(), "of a nut without a width nothing is known");
    let deeper = each(&good, 'Z', |z| if z < 0.0 { z - 5.0 } else { z });
    assert!(faults(&deeper, &cutting(13), &with_nut()).contains(&"nut rubs on the wood"));
    // What it takes beside the recess: the nut is 10.95 mm wider than the bit, 1.525 mm deep.
    let proof = prove(&read(&good).unwrap(), &[cutting(8)], Some(&with_nut()), 0.5, 2);
    let rubs = proof.faults.iter().find_map(|f| if let Fault::NutRubs(_, deep) = f { Some(*deep) } else { None });
    assert!(rubs.is_some_and(|deep| deep > 0.1 && deep < 1.526), "{rubs:?}");
    assert!((proof.least + 1.525).abs() < 0.01, "{}", proof.least);
}

/// The bit's side keeps 5 mm from the clamp, and the nut reaches 5.475 mm beyond that side.
#[test]
fn a_nut_over_a_clamp_is_caught_where_the_bit_passes_it() {
    let program = Program::of(&cutting(13), &with_nut(), None).unwrap();
    let [low, _] = program.extent().unwrap();
    let near = low.x - inch("3/8").mm() - 5.0;
    let clamp = |above: i64| Clamp { from: mm(-200), to: Length::nearest_to_mm(near), above: mm(above) };
    let with = |above: i64| Cnc { clamps: vec![clamp(above)], ..with_nut() };
    let good = text_in(&program, 1.0);
    // 13 mm out and 9.525 mm deep: the nut comes down to 3.475 mm above the edge.
    assert_eq!(faults(&good, &cutting(13), &with(3)), Vec::<&str>::new());
    assert_eq!(faults(&good, &cutting(13), &with(4)), ["nut runs into a clamp"]);
    assert_eq!(Program::of(&cutting(13), &with(4), None).unwrap_err(), NoProgram::NutOnClamp(0));
    assert!(Program::of(&cutting(15), &with(4), None).is_ok());
    assert!(Program::of(&cutting(13), &Cnc { nut: None, ..with(4) }, None).is_ok());
}

/// Lying flat: along a rim, round a groove and over a levelled face by a bit wider than the nut.
#[test]
fn the_nut_is_judged_where_the_board_lies_flat_too() {
    let bit = |stick_out: i64| Bit { stick_out: Some(mm(stick_out)), ..hold().bit };
    let groove = |stick_out: i64| {
        let groove = Groove {
            face: Face::Upper,
            bit: bit(stick_out),
            depth: mm(6),
            setback: mm(20),
            corner_radius: mm(30),
            rim: None,
        };
        Cutting::all(&[], &Cuts { grooves: vec![groove], ..Cuts::default() }, &BOARD).remove(0)
    };
    let good = text_in(&Program::of(&groove(10), &with_nut(), None).unwrap(), 1.0);
    assert_eq!(faults(&good, &groove(10), &with_nut()), Vec::<&str>::new());
    assert!(faults(&good, &groove(5), &with_nut()).contains(&"nut rubs on the wood"));
    // The groove's bit keeps 20 mm from the edge, the nut 14.525 mm.
    let clamp = FlatClamp { from: [mm(60), mm(-20)], to: [mm(90), mm(18)], above: mm(6) };
    let held = Cnc { flat_clamps: vec![clamp], ..with_nut() };
    assert_eq!(faults(&good, &groove(10), &held), ["nut runs into a clamp"]);
    assert_eq!(faults(&good, &groove(13), &held), Vec::<&str>::new());
    let eases = Easing::RoundOver(mm(6));
    let rim = |stick_out: i64| {
        let bit = Bit { corner_radius: Length::ZERO, eases: Some(eases), ..bit(stick_out) };
        let cuts = Cuts { upper_rim: Some(eases), ..Cuts::default() };
        Cutting::rims(&cuts, &[Some(bit), None], &BOARD).remove(0)
    };
    let round = text_in(&Program::of(&rim(10), &with_nut(), None).unwrap(), 1.0);
    assert_eq!(faults(&round, &rim(10), &with_nut()), Vec::<&str>::new());
    assert!(faults(&round, &rim(4), &with_nut()).contains(&"nut rubs on the wood"));
    let wide = Bit { diameter: mm(38), corner_radius: Length::ZERO, ..bit(1) };
    let surfacing = Surfacing { bit: wide, faces: vec![Face::Upper], panels: true };
    let panel = crate::board::tests::turned(&[crate::layup::Turn::AsCut; 4]).panels()[0].clone();
    let machine = Cnc { travel: [mm(1000), mm(1000), mm(200)], ..with_nut() };
    assert!(Program::of(&Cutting::of_panel(0, &panel, None, &surfacing)[0], &machine, None).is_ok());
}
