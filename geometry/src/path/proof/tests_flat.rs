//! Panels that are levelled, clamps and stops on a board that lies flat, and cuts that open at an edge.

use super::tests::{BOARD, cnc, each, hold, text_in, without};
use super::*;
use crate::cut::{Bit, Cuts, Edge, Face, Groove, Spout, Surfacing};
use crate::fixtures::{inch, mm};
use crate::job::{Clamp, FlatClamp};
use crate::layup::Turn;
use crate::measure::Length;
use crate::path::{NoProgram, Program};

fn wide() -> Surfacing {
    let bit = Bit { diameter: inch("1 1/2"), corner_radius: inch("0"), ..hold().bit };
    Surfacing { bit, faces: vec![Face::Upper], panels: true }
}

fn text(cutting: &Cutting) -> String {
    text_in(&Program::of(cutting, &cnc(), None).unwrap(), 1.0)
}

/// By hand: blanks of 26, 24 and 24 mm, 60 + 45 + 70 mm wide, 700 mm long; 1 mm planed off below and 2 mm above, so that
/// 24 − 3 = 21 mm are left: 1 mm off 26 mm, then 2 + 2 mm off 25 mm.
#[test]
fn a_panel_is_levelled_to_its_thickness() {
    let mut panel = crate::board::tests::turned(&[Turn::AsCut; 4]).panels()[0].clone();
    panel.blanks[0].blank.size.thickness = mm(26);
    let [lower, upper] = Cutting::of_panel(0, &panel, None, &wide()).try_into().unwrap();
    assert_eq!((lower.stock, lower.profile.depth), ([700.0, 175.0, 26.0], 1.0));
    assert_eq!((upper.stock, upper.profile.depth), ([700.0, 175.0, 25.0], 4.0));
    assert!((upper.stock[2] - upper.profile.depth - panel.thickness().mm()).abs() < 1e-9);
    let machine = Cnc { travel: [mm(1000), mm(1000), mm(200)], ..cnc() };
    for cutting in [&lower, &upper] {
        let program = Program::of(cutting, &machine, None).unwrap();
        let good = text_in(&program, 1.0);
        let held = |text: &str| prove(&read(text).unwrap(), std::slice::from_ref(cutting), Some(&machine), 1.0, 2);
        assert_eq!(held(&good).faults, [], "{}", cutting.name);
        // Along the grain a pass takes 1 mm at most, the last one 0.2 mm.
        let before = std::iter::once(0.0).chain(program.depths.iter().copied());
        assert!(program.depths.iter().zip(before).all(|(to, from)| to - from < 1.0 + 1e-9));
        let deepest = format!("Z-{:.5}", cutting.profile.depth);
        let spoiled = [
            ("the last pass missing", without(&good, |l| l.contains(&deepest)), "leftover"),
            ("0.02 mm too deep", good.replace(&deepest, &format!("Z-{:.5}", cutting.profile.depth + 0.02)), "gouge"),
            ("30 mm to the front", each(&good, 'Y', |y| y - 30.0), "leftover"),
        ];
        for (what, text, name) in spoiled {
            let found = held(&text);
            assert!(found.faults.iter().any(|f| f.name() == name), "{what}: {:?}", found.faults);
            let changed =
                found.field.heights.iter().zip(&held(&good).field.heights).any(|(a, b)| (a - b).abs() > 0.005);
            assert!(changed, "{what}");
        }
    }
}

/// By hand: 27.5 mm at the thickest where 26 mm were planned: 1 mm, then 27.5 − 1 − 21 = 5.5 mm. 21.4 mm: only 0.4 mm are
/// spare, off the lower face; 20 mm: nothing.
#[test]
fn a_panel_is_levelled_from_what_was_measured() {
    let mut panel = crate::board::tests::turned(&[Turn::AsCut; 4]).panels()[0].clone();
    panel.blanks[0].blank.size.thickness = mm(26);
    let of = |measured: f64| {
        let all = Cutting::of_panel(0, &panel, Some(Length::nearest_to_mm(measured)), &wide());
        all.iter().map(|c| [c.stock[2], c.profile.depth]).collect::<Vec<_>>()
    };
    let near = |found: Vec<[f64; 2]>, hand: &[[f64; 2]]| {
        assert_eq!(found.len(), hand.len(), "{found:?}");
        for (found, hand) in found.iter().flatten().zip(hand.iter().flatten()) {
            assert!((found - hand).abs() < 1e-9, "{found} {hand}");
        }
    };
    near(of(27.5), &[[27.5, 1.0], [26.5, 5.5]]);
    near(of(21.4), &[[21.4, 0.4]]);
    near(of(20.0), &[]);
}

fn groove_and_spout() -> Vec<Cutting> {
    let bit = Bit { corner_radius: inch("1/8"), ..hold().bit };
    let groove = Groove {
        face: Face::Upper,
        bit: bit.clone(),
        depth: inch("1/4"),
        setback: inch("3/4"),
        corner_radius: inch("1"),
        rim: None,
    };
    let spout = Spout { groove: 0, edge: Edge::Right, bit, depth: inch("1/4"), along: Some(inch("3")) };
    Cutting::all(&[], &Cuts { grooves: vec![groove], spouts: vec![spout], ..Cuts::default() }, &BOARD)
}

fn clamp(from: [i64; 2], to: [i64; 2], above: i64) -> FlatClamp {
    FlatClamp { from: from.map(mm), to: to.map(mm), above: mm(above) }
}

/// The groove's bit, 19.05 mm across, runs 28.575 mm in from each edge, 19.05 mm of it are the setback.
#[test]
fn programs_keep_out_of_clamps_and_rise_over_them() {
    let [groove, spout] = groove_and_spout().try_into().unwrap();
    let with = |clamp: FlatClamp| Cnc { flat_clamps: vec![clamp], ..cnc() };
    let of = |cutting: &Cutting, cnc: &Cnc| Program::of(cutting, cnc, None);
    // At the front edge, 15 mm and 18.9 mm in, and round a corner of the groove.
    assert!(of(&groove, &with(clamp([60, -20], [90, 15], 20))).is_ok());
    assert_eq!(of(&groove, &with(clamp([60, -20], [90, 20], 20))).unwrap_err(), NoProgram::Clamp(0));
    assert!(of(&groove, &with(clamp([-20, -20], [22, 22], 20))).is_ok());
    assert_eq!(of(&groove, &with(clamp([-20, -20], [30, 30], 20))).unwrap_err(), NoProgram::Clamp(0));
    // Below what is cut, and in the middle of the board, where only the way up and over counts.
    assert!(of(&groove, &with(clamp([60, -20], [90, 60], -7))).is_ok());
    let high = of(&groove, &with(clamp([100, 80], [140, 120], 30))).unwrap();
    assert!((high.safe_height - 35.0).abs() < 1e-9);
    assert_eq!(of(&spout, &with(clamp([280, 60], [330, 90], 5))).unwrap_err(), NoProgram::Clamp(0));
    // Clamps on edge are others.
    let on_edge = Clamp { from: mm(60), to: mm(90), above: mm(20) };
    assert!(of(&groove, &Cnc { clamps: vec![on_edge], ..cnc() }).is_ok());
}

/// A program that was made before the clamp was set is caught, whether it cuts or only passes there.
#[test]
fn a_program_that_runs_into_a_clamp_is_caught() {
    let groove = groove_and_spout().remove(0);
    let held = |text: &str, clamp: FlatClamp| {
        let cnc = Cnc { flat_clamps: vec![clamp], ..cnc() };
        let proof = prove(&read(text).unwrap(), std::slice::from_ref(&groove), Some(&cnc), 1.0, 1);
        proof.faults.iter().map(Fault::name).collect::<Vec<_>>()
    };
    let good = text(&groove);
    assert_eq!(held(&good, clamp([60, -20], [90, 15], 10)), Vec::<&str>::new());
    assert_eq!(held(&good, clamp([60, -20], [90, 20], 10)), ["runs into a clamp"]);
    assert_eq!(held(&good, clamp([-20, -20], [30, 30], 10)), ["runs into a clamp"]);
    let across = good.replacen("\nM5", "\nG0 X140 Y110\nM5", 1);
    assert_eq!(held(&across, clamp([100, 80], [160, 120], 10)), Vec::<&str>::new());
    assert_eq!(held(&across, clamp([100, 80], [160, 120], 20)), ["runs into a clamp"]);
}

#[test]
fn a_spout_opens_at_its_edge_and_a_groove_at_none() {
    let [groove, spout] = groove_and_spout().try_into().unwrap();
    assert_eq!(groove.opens(), [false; 4]);
    assert_eq!(spout.opens(), [false, true, false, false]);
}

/// Looked at run by run, every cell lies as far from the exact cut as when it is looked at alone.
#[test]
fn runs_tell_what_their_cells_tell() {
    let groove = Groove {
        face: Face::Upper,
        bit: Bit { diameter: inch("1"), corner_radius: inch("1/8"), ..hold().bit },
        depth: mm(6),
        setback: mm(30),
        corner_radius: mm(30),
        rim: None,
    };
    let cuts = Cuts { grooves: vec![groove], ..Cuts::default() };
    let groove = Cutting::all(&[], &cuts, &BOARD);
    let panel = crate::board::tests::turned(&[Turn::AsCut; 4]).panels()[0].clone();
    let levelled = Cutting::of_panel(0, &panel, None, &wide());
    for (cuttings, cell) in [(&groove[..], 0.1), (&groove[..], 0.7), (&levelled[..1], 0.5)] {
        let target = Target::of(cuttings);
        let mut field = blank(cuttings, cell);
        let depth = cuttings[0].profile.depth;
        // Floors, walls, leftovers, gouges and uncut wood, by turns.
        let some = [0.0, -depth, -depth + 0.02, -depth - 0.3, -depth / 2.0, -depth - 0.7];
        let height = |i: usize| some[(i / 7 + i / field.columns) % some.len()] as f32;
        let heights = (0..field.heights.len()).map(height).collect();
        field.heights = heights;
        let (off, _) = compared(&field, &target, 2);
        let mut floors = 0;
        for (i, found) in off.iter().enumerate().step_by(3) {
            let (p, z) = (field.middle(i % field.columns, i / field.columns), f64::from(field.heights[i]));
            let alone = target.off(p, z).far;
            assert!((alone as f32 - found).abs() < 1e-6, "{p} at {z}: {alone} and {found}");
            floors += usize::from(alone.abs() < 0.1 && z < 0.0);
        }
        assert!(floors > 1000, "{floors}");
    }
}
