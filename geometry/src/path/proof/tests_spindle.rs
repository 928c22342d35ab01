//! The spindle's body above the nut: into wood, over clamps, and where nothing is said of it.

use super::tests::{BOARD, cnc, each, hold, text_in};
use super::*;
use crate::cut::{Bit, Face, Handhold, Surfacing};
use crate::fixtures::{inch, mm};
use crate::job::{Clamp, FlatClamp, Spindle};
use crate::measure::Length;
use crate::path::{NoProgram, Program};

/// A body of 60 mm, 10 mm above the nut's end, over the bit of 19.05 mm; the recess is 9.525 mm deep.
fn with_spindle() -> Cnc {
    Cnc { spindle: Some(Spindle { diameter: mm(60), above_nut: mm(10) }), ..cnc() }
}

fn cutting(stick_out: i64) -> Cutting {
    let hold = Handhold { bit: Bit { stick_out: Some(mm(stick_out)), ..hold().bit }, ..hold() };
    Cutting::handhold(0, &hold, &BOARD)
}

fn faults(text: &str, cutting: &Cutting, cnc: &Cnc) -> Vec<&'static str> {
    let proof = prove(&read(text).unwrap(), std::slice::from_ref(cutting), Some(cnc), 0.5, 2);
    proof.faults.iter().map(Fault::name).collect()
}

/// By hand: 9.525 mm deep and 1/8 in clear, less 10 mm: 2.7 mm out of the nut.
#[test]
fn a_bit_that_stands_out_too_little_for_the_spindle_has_no_program() {
    assert!(Program::of(&cutting(3), &with_spindle(), None).is_ok());
    let why = Program::of(&cutting(2), &with_spindle(), None).unwrap_err();
    assert!(
        matches!(why, NoProgram::SpindleOnWood { needed, has } if (needed - 2.7).abs() < 1e-9 && has == 2.0),
        "{why}"
    );
    // Where the nut is known and wider than the bit, it is the nut that has too little room.
    let both = Cnc { nut: Some(mm(30)), ..with_spindle() };
    assert!(matches!(Program::of(&cutting(2), &both, None), Err(NoProgram::StickOut { .. })));
    assert!(Program::of(&cutting(2), &cnc(), None).is_ok());
    let narrow = Spindle { diameter: inch("3/4"), above_nut: mm(10) };
    assert!(Program::of(&cutting(2), &Cnc { spindle: Some(narrow), ..cnc() }, None).is_ok());
}

#[test]
fn a_spindle_that_comes_down_into_the_wood_is_caught() {
    let good = text_in(&Program::of(&cutting(3), &with_spindle(), None).unwrap(), 1.0);
    assert_eq!(faults(&good, &cutting(3), &with_spindle()), Vec::<&str>::new());
    let near = Cnc { spindle: Some(Spindle { diameter: mm(60), above_nut: mm(5) }), ..cnc() };
    assert_eq!(faults(&good, &cutting(3), &near), ["gouge", "spindle rubs on the wood"]);
    assert_eq!(faults(&good, &cutting(3), &cnc()), Vec::<&str>::new(), "of a spindle without sizes nothing is known");
    let deeper = each(&good, 'Z', |z| if z < 0.0 { z - 5.0 } else { z });
    assert!(faults(&deeper, &cutting(3), &with_spindle()).contains(&"spindle rubs on the wood"));
    // Both are named where both come down.
    let both = faults(&good, &cutting(3), &Cnc { nut: Some(mm(30)), ..near });
    assert_eq!(both, ["gouge", "nut rubs on the wood", "spindle rubs on the wood"]);
}

/// The bit's side keeps 10 mm from the clamp, the nut's 4.525 mm; the spindle's body reaches 10.475 mm over it.
#[test]
fn a_spindle_over_a_jaw_is_caught_where_bit_and_nut_pass_it() {
    let machine = Cnc { nut: Some(mm(30)), ..with_spindle() };
    let program = Program::of(&cutting(13), &machine, None).unwrap();
    let [low, _] = program.extent().unwrap();
    let near = low.x - inch("3/8").mm() - 10.0;
    let jaw = |above: i64| Clamp { from: mm(-200), to: Length::nearest_to_mm(near), above: mm(above) };
    let with = |above: i64| Cnc { clamps: vec![jaw(above)], ..machine.clone() };
    let good = text_in(&program, 1.0);
    // 23 mm above the tip, which is 9.525 mm deep: the body comes down to 13.475 mm above the edge.
    assert_eq!(faults(&good, &cutting(13), &with(13)), Vec::<&str>::new());
    assert_eq!(faults(&good, &cutting(13), &with(14)), ["spindle runs into a clamp"]);
    let why = Program::of(&cutting(13), &with(16), None).unwrap_err();
    // 2.525 mm too low, and 1/8 in clear.
    let wanted = 13.0 + 2.525 + 3.175;
    assert!(
        matches!(why, NoProgram::SpindleOnClamp { clamp: 0, needed, has } if (needed - wanted).abs() < 1e-9 && has == 13.0),
        "{why}"
    );
    assert!(Program::of(&cutting(19), &with(16), None).is_ok());
    assert!(Program::of(&cutting(13), &Cnc { spindle: None, ..with(16) }, None).is_ok());
}

/// A levelled face: the bit is wider than the nut, the spindle wider than both and over the stop beside the wood.
#[test]
fn the_spindle_is_judged_where_a_panel_is_levelled() {
    let bit = Bit { diameter: mm(38), corner_radius: Length::ZERO, stick_out: Some(mm(2)), ..hold().bit };
    let surfacing = Surfacing { bit, faces: vec![Face::Upper], panels: true };
    let panel = crate::board::tests::turned(&[crate::layup::Turn::AsCut; 4]).panels()[0].clone();
    let cutting = Cutting::of_panel(0, &panel, None, &surfacing).remove(0);
    let stop = FlatClamp { from: [mm(-30), mm(20)], to: [mm(-25), mm(40)], above: mm(4) };
    let room = Cnc { travel: [mm(1000), mm(1000), mm(200)], flat_clamps: vec![stop], ..cnc() };
    let with = |above: i64| Cnc { spindle: Some(Spindle { diameter: mm(90), above_nut: mm(above) }), ..room.clone() };
    let good = text_in(&Program::of(&cutting, &with(20), None).unwrap(), 1.0);
    assert_eq!(faults(&good, &cutting, &with(20)), Vec::<&str>::new());
    assert_eq!(faults(&good, &cutting, &with(1)), ["spindle runs into a clamp"]);
}
