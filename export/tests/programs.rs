//! Programs: read back word by word and compared with the moves they were made from.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use quarterturn_export::ExportError;
use quarterturn_export::rs274::{self, LONGEST};
use quarterturn_geometry::cut::{Bit, Cuts, Edge, Face};
use quarterturn_geometry::job::{Holds, Written};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Move, Program, prove, read, together};

fn written(program: &Program, unit: Unit, name: &str) -> String {
    let mut out = Vec::new();
    rs274::write(std::slice::from_ref(program), &Written::plain(unit), name, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// The code lines, without comments.
fn code(text: &str) -> Vec<&str> {
    text.lines().filter(|l| !l.starts_with('(')).collect()
}

fn value(line: &str, letter: char) -> Option<f64> {
    line.split(' ').find_map(|w| w.strip_prefix(letter)).map(|n| n.parse().unwrap())
}

/// Follows the words: (rapid, x, y, z, feed) after each motion line.
fn followed(text: &str) -> Vec<(bool, [f64; 3], f64)> {
    let (mut at, mut feed, mut moves) = ([f64::NAN; 3], 0.0, Vec::new());
    for line in code(text).iter().filter(|l| l.starts_with("G0 ") || l.starts_with("G1 ")) {
        for (axis, letter) in ['X', 'Y', 'Z'].into_iter().enumerate() {
            at[axis] = value(line, letter).unwrap_or(at[axis]);
        }
        feed = value(line, 'F').unwrap_or(feed);
        moves.push((line.starts_with("G0 "), at, feed));
    }
    moves
}

#[test]
fn every_line_is_plain() {
    let program = Made::of(job()).program(0);
    for unit in [Unit::Inch, Unit::Millimetre] {
        let text = written(&program, unit, "Walnut (diamonds); 100 % ☃");
        assert!(text.is_ascii() && text.ends_with("M5\nM2\n"));
        for line in text.lines() {
            assert!(line.len() <= LONGEST && !line.is_empty(), "{line}");
            if line.starts_with('(') {
                assert_eq!(line.matches(['(', ')']).count(), 2, "{line}");
                assert!(line.ends_with(')'), "{line}");
                continue;
            }
            for word in line.split(' ') {
                let (letter, number) = word.split_at(1);
                let plain = ["G0", "G1", "G17", "G20", "G21", "G90", "G94", "M3", "M5", "M2"].contains(&word);
                assert!(plain || "FSXYZ".contains(letter), "{line}");
                assert!(number.parse::<f64>().is_ok() && !number.contains(['e', 'E', '+']), "{line}");
                assert!(
                    !number.starts_with("-0.0000") || number.contains(['1', '2', '3', '4', '5', '6', '7', '8', '9'])
                );
                let decimals = number.split_once('.').map_or(0, |(_, d)| d.len());
                let most = match (letter, unit) {
                    ("X" | "Y" | "Z", Unit::Inch) => 5,
                    ("X" | "Y" | "Z", Unit::Millimetre) => 4,
                    ("F", Unit::Inch) => 2,
                    ("F", Unit::Millimetre) => 1,
                    _ => 0,
                };
                assert!(decimals <= most, "{line}");
            }
        }
    }
}

#[test]
fn it_starts_straight_up_and_ends_high() {
    let program = Made::of(job()).program(1);
    let text = written(&program, Unit::Millimetre, "board");
    let code = code(&text);
    assert_eq!(code[0], "G21");
    assert_eq!(code[1], "G17 G90 G94");
    assert_eq!(code[2], format!("G0 Z{:.4}", program.safe_height));
    assert!(code[3].starts_with('S') && code[3].ends_with("M3"), "speed before the spindle, before any cut");
    assert!(code[4].starts_with("G0 X") && !code[4].contains('Z'));
    assert!(code[5].starts_with("G1 "));
    assert_eq!(code[code.len() - 3], format!("G0 Z{:.4}", program.safe_height));
}

#[test]
fn the_words_make_the_moves_of_the_program() {
    let made = Made::of(job());
    for (i, unit, scale, bound) in [(0, Unit::Inch, 25.4, 0.5e-5 * 25.4), (1, Unit::Millimetre, 1.0, 0.5e-4)] {
        let program = made.program(i);
        let moves = followed(&written(&program, unit, "board"));
        // The first rapid is written as two lines.
        assert_eq!(moves.len(), program.moves.len() + 1);
        for ((rapid, at, feed), step) in moves[1..].iter().zip(&program.moves) {
            let to = step.to();
            for (found, wanted) in at.iter().zip([to.x, to.y, to.z]) {
                assert!((found * scale - wanted).abs() <= bound + 1e-9, "{found} against {wanted}");
            }
            match step {
                Move::Rapid(_) => assert!(*rapid),
                Move::Feed(_, wanted) | Move::Arc { feed: wanted, .. } => {
                    assert!(!rapid && (feed * scale - wanted).abs() < 0.13)
                }
            }
        }
        let mut low = f64::INFINITY;
        for pair in moves.windows(2) {
            assert!(!pair[1].0 || pair[1].1[2] >= pair[0].1[2] || pair[0].1[2].is_nan(), "G0 goes down");
            low = low.min(pair[1].1[2]);
        }
        assert!((-low * scale - made.job.handholds[i].depth.mm()).abs() <= bound);
    }
}

#[test]
fn the_header_says_what_is_to_be_clamped_how() {
    let text = written(&Made::of(job()).program(0), Unit::Inch, "Walnut diamonds");
    for says in [
        "(board: Walnut diamonds)",
        "(cut: left handhold, all lengths in inches)",
        "(datum: X0 the back end of this edge, Y0 the lower face)",
        "(stock: 9.50000 along X, 1.37500 along Y)",
        "(stock: it stands 11.12500 high)",
        "(bit: diameter 0.75000, corner radius 0.12500)",
        "(rapids: at Z 0.50000 or above)",
    ] {
        assert!(text.contains(says), "{says}");
    }
}

#[test]
fn what_is_no_number_is_refused() {
    let mut program = Made::of(job()).program(0);
    program.cutting.stock[0] = f64::NAN;
    let refused = rs274::write(&[program], &Written::plain(Unit::Inch), "board", Vec::new());
    assert!(matches!(refused, Err(ExportError::NoNumber(n)) if n.is_nan()));
}

#[test]
fn two_programs_in_one_edge_have_two_names() {
    let holds: Vec<_> = [Edge::Left, Edge::Back, Edge::Left].map(|edge| handhold(edge, "1/4", ["1", "6"])).into();
    let board = Made::of(job()).board().finished();
    assert_eq!(
        rs274::file_names(&together(Cutting::all(&holds, &Cuts::default(), &board), Holds::EachCut), Holds::EachCut),
        ["handhold-left.ngc", "handhold-back.ngc", "handhold-left-2.ngc"]
    );
}

/// A groove and an arched recess from below: arcs are written as arcs, by where their middle lies from their start.
#[test]
fn cuts_on_the_faces_are_written_with_arcs() {
    let mut job = job();
    let groove = quarterturn_geometry::cut::Groove {
        face: Face::Lower,
        bit: job.handholds[0].bit.clone(),
        depth: inch("1/8"),
        setback: inch("3/4"),
        corner_radius: inch("1"),
        rim: None,
    };
    job.cuts.grooves.push(groove);
    let made = Made::of(job);
    let board = made.board().finished();
    let all = Cutting::all(&made.job.handholds, &made.job.cuts, &board);
    let names = rs274::file_names(&together(all.clone(), Holds::EachCut), Holds::EachCut);
    assert_eq!(names.last().unwrap(), "groove-lower.ngc");
    let program = Program::of(all.last().unwrap(), made.job.cnc.as_ref().unwrap(), None).unwrap();
    let text = written(&program, Unit::Millimetre, "board");
    assert!(text.contains("(datum: X0 the left end, Y0 the back edge)"));
    let arcs: Vec<&str> = code(&text).into_iter().filter(|l| l.starts_with("G3 ")).collect();
    // Four corners; the one in which it ramps down comes in three parts, before, along and after the ramp, and the ramp once
    // more, level. The first pass ramps where a corner begins: there is nothing before it.
    assert_eq!(arcs.len(), (3 + 3 + 1) * program.depths.len() - 1);
    for arc in arcs {
        let radius = value(arc, 'I').unwrap().hypot(value(arc, 'J').unwrap());
        assert!((radius - 25.4).abs() < 1e-3, "{arc}");
    }
}

/// However a program is written, it says the same moves: it is proved, and so is one for a side, with its stop.
#[test]
fn however_it_is_written_it_cuts_the_same() {
    let mut job = job();
    let groove = |diameter: &str, setback: &str| quarterturn_geometry::cut::Groove {
        face: Face::Upper,
        bit: Bit { diameter: inch(diameter), name: format!("{diameter} bit"), ..job.handholds[0].bit.clone() },
        depth: inch("1/8"),
        setback: inch(setback),
        corner_radius: inch("1"),
        rim: None,
    };
    job.cuts.grooves = vec![groove("3/8", "3/4"), groove("1/2", "2")];
    let made = Made::of(job);
    let cnc = made.job.cnc.as_ref().unwrap();
    let all = Cutting::all(&[], &made.job.cuts, &made.board().finished());
    let parts: Vec<Program> = all.iter().map(|c| Program::of(c, cnc, None).unwrap()).collect();
    for unit in [Unit::Inch, Unit::Millimetre] {
        for (arcs, line_numbers, longest_line) in [(true, true, 70), (false, true, 90), (false, false, 70)] {
            let written = Written { arcs, line_numbers, longest_line, ..Written::plain(unit) };
            let mut out = Vec::new();
            rs274::write(&parts, &written, "board", &mut out).unwrap();
            let text = String::from_utf8(out).unwrap();
            assert!(text.lines().all(|l| l.len() <= longest_line), "{text}");
            let lines = code(&text);
            assert_eq!(lines.iter().all(|l| l.starts_with('N')), line_numbers);
            assert_eq!(text.contains("G3 "), arcs);
            assert_eq!(text.matches("M0").count(), 1);
            let proof = prove(&read(&text).unwrap(), &all, Some(cnc), 0.5, 2);
            assert_eq!(proof.faults, [], "{written:?}");
        }
    }
    let programs = together(all, Holds::EachBit);
    assert_eq!(rs274::file_names(&programs, Holds::EachBit), ["upper-face-3-8-bit.ngc", "upper-face-1-2-bit.ngc"]);
}
