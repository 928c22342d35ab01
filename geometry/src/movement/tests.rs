//! Boards whose rings are laid by hand: what moves how far follows from the tables alone.

use super::{Along, Moving, Seasons};
use crate::board::{Board, Trims};
use crate::fixtures::{crosscut, mm};
use crate::layup::{Place, Turn};
use crate::measure::Length;
use crate::stock::{Blank, BlankTurn, LaidBlank, Panel, Seen, Size};
use crate::wood::{EndRings, Figure, Rings, Wood};
use approx::assert_relative_eq;
use nalgebra::Point2;

/// Rings waver by some degrees as they are drawn: sin² of 4° is 0.005.
const WAVER: f64 = 5e-3;
const NO_TRIMS: Trims = Trims { left: 0.0, right: 0.0, front: 0.0, back: 0.0, upper: 1.0, lower: 1.0 };

/// A blank 50 × 20 mm whose pith lies so far off that its rings are straight: below it they lie
/// level, beside it upright.
fn blank(wood: Wood, level: bool) -> LaidBlank {
    let pith = if level { Point2::new(25.0, -1e5) } else { Point2::new(-1e5, 10.0) };
    let end = EndRings { pith, heartwood_radius: 2e5 };
    let figure = Figure::new(wood, Rings { near: end, far: end, ring_width: 3.0, seed: 1 }, 400.0);
    let size = Size { width: mm(50), thickness: mm(20), length: mm(400) };
    let blank =
        Blank { letter: "A".into(), size, rough: None, figure, seen: Seen::BothEnds, rip: None, moisture: Some(8.0) };
    LaidBlank { blank, turn: BlankTurn::default(), start: Length::ZERO }
}

fn board(blanks: Vec<LaidBlank>, turns: &[Turn]) -> Board {
    let panel = Panel { name: "P".into(), blanks, trued: [mm(0); 2], planed: [mm(0); 2], measured: None };
    let places: Vec<Place> =
        (0..).zip(turns).map(|(strip, turn)| Place { panel: 0, strip, turn: *turn, stagger: mm(0) }).collect();
    Board::glue(vec![crosscut(panel, 100)], &places, mm(40), NO_TRIMS, None).unwrap()
}

fn named(name: &str) -> Wood {
    Wood::named(name).unwrap()
}

fn moving(board: &Board) -> Moving {
    Moving::of(board, &Seasons::default()).unwrap()
}

/// Level rings: their normal is the panel's y, which is the board's X: radial along the length,
/// tangential across. Two maple blanks of 50 mm, ten strips of 20: 200 × 100 mm, 8 % when made.
#[test]
fn level_rings_move_radially_in_length_and_tangentially_in_width() {
    for turn in Turn::ALL {
        let moving =
            moving(&board(vec![blank(named("hard maple"), true), blank(named("hard maple"), true)], &[turn; 10]));
        let points = moving.moisture[1].0 - moving.moisture[0].0;
        let [length, width] = moving.grows().unwrap();
        assert_relative_eq!(length, 200.0 * 0.00165 * points, max_relative = WAVER);
        assert_relative_eq!(width, 100.0 * 0.00353 * points, max_relative = WAVER);
        assert_eq!((moving.pieces.len(), moving.made.0), (20, 8.0));
        // Nothing disagrees: the rings are those of one wood, and lie alike.
        assert!(moving.mismatches.iter().all(|m| m.wants < WAVER * width), "{:?}", moving.mismatches[0]);
        // Glue lines: 9 between strips with two pieces each side, 10 between blanks.
        assert_eq!(moving.mismatches.len(), 9 * 2 + 10);
    }
}

/// Upright rings beside level ones in the same wood, and walnut beside maple: by hand.
#[test]
fn what_neighbours_want_is_the_difference_of_their_coefficients() {
    let moving = moving(&board(
        vec![blank(named("hard maple"), true), blank(named("black walnut"), false)],
        &[Turn::AsCut, Turn::EndForEnd],
    ));
    let points = moving.moisture[1].0 - moving.moisture[0].0;
    // As cut the walnut is in front, end for end the maple: each glue line between strips joins the
    // two. Along the width: maple tangential 0.00353 against walnut radial 0.00190, over 50 mm.
    let across: Vec<_> = moving.mismatches.iter().filter(|m| m.along == Along::Width).collect();
    assert_eq!(across.len(), 2);
    for m in &across {
        assert_relative_eq!(m.wants, 50.0 * (0.00353 - 0.00190) * points, max_relative = WAVER);
        assert_eq!(moving.pieces[m.pieces[0]].wood, "hard maple");
        assert_relative_eq!(m.shared, 50.0, max_relative = 1e-9);
    }
    // Between the blanks of a strip, along the length: maple radial 0.00165, walnut tangential 0.00274, over 20 mm.
    for m in moving.mismatches.iter().filter(|m| m.along == Along::Length) {
        assert_relative_eq!(m.wants, 20.0 * (0.00274 - 0.00165) * points, max_relative = WAVER);
        assert_eq!(moving.pieces[m.pieces[0]].wood, "black walnut");
    }
    assert!(moving.mismatches.windows(2).all(|w| w[0].wants >= w[1].wants));
    let says = moving.reading(&moving.mismatches[0], "0.40 mm");
    assert!(says.starts_with("this hard maple piece (strip "), "{says}");
    assert!(says.contains("wants 0.40 mm more than its black walnut neighbour (strip "), "{says}");
    assert!(says.ends_with("along the board's width from winter to summer"), "{says}");
}

#[test]
fn a_wood_without_published_coefficients_is_named_and_not_guessed() {
    let plum = Wood::of_colours("plum", named("hard maple").heartwood, named("hard maple").sapwood);
    let moving = moving(&board(vec![blank(plum, true), blank(named("hard maple"), true)], &[Turn::AsCut; 3]));
    assert_eq!(moving.unknown, ["plum"]);
    assert_eq!(moving.board, None);
    assert!(moving.mismatches.iter().all(|m| m.pieces.iter().all(|p| moving.pieces[*p].wood == "hard maple")));
}
