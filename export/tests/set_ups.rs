//! The drawn set-ups: their distances at 1:1, their figures, and which cuts have one.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use quarterturn_export::drawing::Drawing;
use quarterturn_geometry::cut::{Bit, Cuts, Edge, Face, Groove, Surfacing};
use quarterturn_geometry::job::{Clamp, FlatClamp, Spindle};
use quarterturn_geometry::path::{Cutting, Program, RouterSetup, Up};

/// An attribute of the element of this id.
fn of(svg: &str, id: &str, attribute: &str) -> f64 {
    let element = svg.split('<').find(|e| e.contains(&format!("id=\"{id}\""))).unwrap();
    let from = element.find(&format!(" {attribute}=\"")).unwrap() + attribute.len() + 3;
    element[from..].split('"').next().unwrap().parse().unwrap()
}

/// On the template the blocks stand from the bit's centre as the set-up says, to a hundredth of a millimetre; the page is as
/// large as it says.
#[test]
fn the_template_is_at_one_to_one() {
    let mut job = job();
    for hold in &mut job.handholds {
        hold.reach = quarterturn_geometry::cut::Reach::Setbacks([inch("2"), inch("2 3/4")]);
    }
    let made = Made::of(job);
    let mut drawn = 0;
    for (i, hold) in made.job.handholds.iter().enumerate() {
        let setup = RouterSetup::of(hold, &made.board().finished(), &made.job.router_table);
        let template = Drawing::router_table_template(&made.job, made.board(), &made.numbers, i);
        assert_eq!(template.is_some(), setup.may_be_lowered);
        let Some(template) = template else { continue };
        drawn += 1;
        let svg = &template.svg;
        let bit = of(svg, "bit", "cx");
        assert!((of(svg, "bit", "r") - setup.half_width).abs() < 0.01);
        assert!((of(svg, "starting-stop", "x") - bit - setup.right_hand_stop).abs() < 0.01);
        let left = of(svg, "left-hand-block", "x") + of(svg, "left-hand-block", "width");
        assert!((bit - left - setup.left_hand_stop).abs() < 0.01);
        assert!((setup.right_hand_stop - setup.left_hand_stop).abs() > 10.0, "they differ");
        assert!(svg.contains(&format!("width=\"{}mm\"", template.width)));
    }
    assert!(drawn > 0);
}

/// A sheet says every figure as the numbers have it, in the order of the passes, and never the climb cut.
#[test]
fn the_router_sheet_says_what_the_numbers_say() {
    let made = Made::of(job());
    let sheet = Drawing::router_table(&made.job, made.board(), &made.numbers, 0).unwrap();
    for pass in 1.. {
        let height = made.numbers.shown(&format!("handhold.1.height {pass}"));
        if height.is_empty() {
            assert!(pass > 2);
            break;
        }
        assert!(sheet.svg.contains(&format!("pass {pass}: {height}")), "{height}");
    }
    for says in ["starting stop", "feather board", "tall auxiliary fence", "right to left, never back", "loose"] {
        assert!(sheet.svg.contains(says), "{says}");
    }
    assert!(Drawing::router_table(&made.job, made.board(), &made.numbers, 99).is_none());
}

#[test]
fn each_program_has_a_sheet_and_each_groove_a_frame() {
    let mut job = job();
    let bit = Bit { name: "dish".into(), ..job.handholds[0].bit.clone() };
    let groove = Groove {
        face: Face::Upper,
        bit,
        depth: inch("1/4"),
        setback: inch("3/4"),
        corner_radius: inch("1"),
        rim: None,
    };
    job.cuts = Cuts { grooves: vec![groove], ..Cuts::default() };
    let clamp = Clamp { from: inch("1"), to: inch("2"), above: inch("-1/2") };
    job.cnc.as_mut().unwrap().clamps = vec![clamp];
    let made = Made::of(job);
    let size = made.board().finished();
    let all = Cutting::all(&made.job.handholds, &made.job.cuts, &size);
    for cutting in &all {
        let part = Program::of(cutting, made.job.cnc.as_ref().unwrap(), made.job.hardest()).unwrap();
        let sheet = Drawing::cnc(&made.job, made.board(), &made.numbers, std::slice::from_ref(&part), "a.ngc").unwrap();
        let key = cutting.cut.key();
        let words: String = sheet
            .svg
            .split('<')
            .filter_map(|e| e.strip_prefix("text"))
            .map(|e| e.split_once('>').unwrap().1.trim().to_owned() + " ")
            .collect();
        for name in ["speed", "feed", "chip load", "time", "stick-out", "flutes reach"] {
            let shown = made.numbers.shown(&format!("{key}.program.{name}"));
            assert!(!shown.is_empty() && words.contains(shown), "{name} {shown}: {words}");
        }
        assert!(words.contains("datum") && words.contains("manual"));
        // A board on edge is seen from the side too: how high it stands, the bit out of its nut.
        let on_edge = matches!(cutting.up, Up::Edge(_));
        assert_eq!(sheet.svg.contains("id=\"on-edge\""), on_edge);
        assert!(!on_edge || words.contains(made.numbers.shown(&format!("{key}.program.stock z"))));
        // Where clamps lie is said beside the side that they are for.
        assert_eq!(words.contains("1: X 1 … 2, Z -1/2"), on_edge, "{words}");
    }
    let groove = all.iter().find(|c| c.label == "groove upper").unwrap();
    let frame = Drawing::plunge_frame(&made.job, made.board(), &made.numbers, groove).unwrap();
    assert!(frame.svg.contains("clockwise round inside"));
    assert!(Drawing::cnc(&made.job, made.board(), &made.numbers, &[], "a.ngc").is_none());
    assert_eq!(made.job.handholds[0].edge, Edge::Left);
}

/// The spindle's body is drawn and named where the plan knows it, and said to be unknown where it doesn't.
#[test]
fn the_view_along_the_edge_shows_the_spindle_as_far_as_it_is_known() {
    let drawn = |spindle: Option<Spindle>| {
        let mut job = job();
        job.cnc.as_mut().unwrap().spindle = spindle;
        let made = Made::of(job);
        Drawing::cnc(&made.job, made.board(), &made.numbers, &[made.program(0)], "a.ngc").unwrap().svg
    };
    let known = drawn(Some(Spindle { diameter: inch("2 1/2"), above_nut: inch("1") }));
    assert!(known.contains("spindle's body, 2 1/2 in wide") && !known.contains("not known"), "{known}");
    let unknown = drawn(None);
    assert!(unknown.contains("spindle: not given, so not checked") && unknown.contains("(dashed) not known"));
}

/// A stop at the left end is numbered within what is drawn of it, clear of the axis's letter.
#[test]
fn a_stop_beside_the_stock_is_named_clear_of_the_axis() {
    let mut job = job();
    let stop = FlatClamp { from: [inch("-2"), inch("1/2")], to: [inch("0"), inch("1 1/2")], above: inch("-1") };
    let cnc = job.cnc.as_mut().unwrap();
    (cnc.flat_clamps, cnc.travel) = (vec![stop], [inch("40"); 3]);
    let bit = Bit { corner_radius: inch("0"), ..job.handholds[0].bit.clone() };
    job.surfacing = Some(Surfacing { bit, faces: vec![Face::Upper], panels: true });
    let made = Made::of(job);
    let cutting = made.job.cuttings(made.board()).remove(0);
    let part = Program::of(&cutting, made.job.cnc.as_ref().unwrap(), None).unwrap();
    let svg = Drawing::cnc(&made.job, made.board(), &made.numbers, &[part], "a.ngc").unwrap().svg;
    let word = |text: &str| {
        let at = svg.find(&format!("\n{text}\n")).or_else(|| svg.find(&format!(">{text}<"))).unwrap();
        let element = &svg[svg[..at].rfind("<text").unwrap()..at];
        let x = element.split(" x=\"").nth(1).unwrap().split('"').next().unwrap().parse::<f64>().unwrap();
        (x, element.contains("end"), element.contains("middle"))
    };
    let (letter, ends, _) = word("Y");
    let (name, _, name_middle) = word("1");
    // The stock begins 20 mm in; 8 mm of the stop are drawn.
    assert!(ends && name_middle && letter < name - 2.0 && (12.0..20.0).contains(&name), "{letter} {name}");
}
