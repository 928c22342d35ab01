//! Laws of the board: what meets where, pieces that fill it, nothing mirrored.

use super::{Board, BoardError, Face, FaceOptions, FigureDrawn, Trims};
use crate::fixtures::{crosscut, mm};
use crate::layup::{Place, Turn};
use crate::measure::Length;
use crate::stock::{Blank, BlankTurn, Corners, Crosscut, LaidBlank, Panel, Seen, Size};
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::{Point2, Point3};
use proptest::prelude::*;

const STRIP: f64 = 40.0;
const KERF: f64 = 3.0;
const TRIMS: Trims = Trims { left: 4.0, right: 5.0, front: 6.0, back: 7.0, upper: 1.5, lower: 2.5 };

fn blank(letter: &str, width: i64) -> LaidBlank {
    let size = Size { width: mm(width), thickness: mm(24), length: mm(700) };
    let end = |u| EndRings { pith: Point2::new(u, -60.0), heartwood_radius: 80.0 };
    let rings = Rings { near: end(-10.0), far: end(25.0), ring_width: 3.0, seed: 5 };
    let figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 700.0);
    let blank =
        Blank { letter: letter.into(), size, rough: None, figure, seen: Seen::BothEnds, rip: None, moisture: None };
    LaidBlank { blank, turn: BlankTurn::default(), start: Length::ZERO }
}

fn panel() -> (Panel, Crosscut) {
    let panel = Panel {
        name: "P".into(),
        blanks: vec![blank("A", 60), blank("B", 45), blank("C", 70)],
        trued: [mm(1), mm(2)],
        planed: [mm(1), mm(2)],
        measured: None,
    };
    crosscut(panel, 150)
}

fn board(turns: &[(Turn, i64)]) -> Result<Board, BoardError> {
    let places: Vec<Place> = turns
        .iter()
        .zip(0..)
        .map(|((turn, stagger), strip)| Place { panel: 0, strip, turn: *turn, stagger: mm(*stagger) })
        .collect();
    Board::glue(vec![panel()], &places, mm(40), TRIMS, None)
}

pub(crate) fn turned(turns: &[Turn]) -> Board {
    board(&turns.iter().map(|t| (*t, 0)).collect::<Vec<_>>()).unwrap()
}

pub(crate) fn slid(turns: &[(Turn, i64)]) -> Board {
    board(turns).unwrap()
}

#[test]
fn sizes_before_and_after_trimming() {
    let b = turned(&[Turn::AsCut; 10]);
    // T = 24 − 1 − 2 = 21; W = 175 − 3 = 172.
    assert_eq!((b.glued().length, b.glued().width, b.glued().thickness), (210.0, 172.0, 40.0));
    assert_eq!((b.finished().length, b.finished().width, b.finished().thickness), (201.0, 159.0, 36.0));
}

#[test]
fn glue_lines_of_strips_rolled_over_match_every_second_time() {
    let b = turned(&[Turn::AsCut, Turn::RolledOver, Turn::AsCut, Turn::RolledOver]);
    let (f, g) = (TRIMS.upper, TRIMS.lower);
    let gap = |place, face| b.meeting(place, face).unwrap().gap;
    for (place, upper, lower) in [
        (0, KERF + 2.0 * f, 2.0 * STRIP + KERF - 2.0 * g),
        (1, 2.0 * STRIP + KERF - 2.0 * f, KERF + 2.0 * g),
        (2, KERF + 2.0 * f, 2.0 * STRIP + KERF - 2.0 * g),
    ] {
        assert!((gap(place, Face::Upper) - upper).abs() < 1e-9);
        assert!((gap(place, Face::Lower) - lower).abs() < 1e-9);
        assert!(b.meeting(place, Face::Upper).unwrap().is_bookmatch());
    }
    let same = turned(&[Turn::EndForEnd, Turn::EndOverEnd]);
    assert!((same.meeting(0, Face::Upper).unwrap().gap - (KERF + 2.0 * f)).abs() < 1e-9);
    assert!(turned(&[Turn::AsCut, Turn::EndForEnd]).meeting(0, Face::Upper).unwrap().reversed);
}

/// The wood just left and just right of a joint is as far apart along the grain as the meeting
/// says; a bookmatch meets at the same v and u, a reversed pair at the mirrored x.
#[test]
fn the_wood_at_a_joint_is_what_the_meeting_says() {
    for a in Turn::ALL {
        for b in Turn::ALL {
            let board = turned(&[a, b, a]);
            for face in [Face::Upper, Face::Lower] {
                let z = if face == Face::Upper { board.finished().thickness } else { 0.0 };
                for joint in 0..2 {
                    let meeting = board.meeting(joint, face).unwrap();
                    let at = Point3::new(board.span(joint)[1], 20.0, z);
                    let left = board.spot_in(joint, &at).unwrap();
                    let right = board.spot_in(joint + 1, &at).unwrap();
                    assert!(((left.at.z - right.at.z).abs() - meeting.gap).abs() < 1e-9);
                    assert_eq!((left.at.y - right.at.y).abs() < 1e-9, meeting.same_side, "{a:?} {b:?}");
                    assert_eq!(left.blank == right.blank && (left.at.x - right.at.x).abs() < 1e-9, !meeting.reversed);
                }
            }
        }
    }
}

/// A wood whose figure wanders by m per mm of length steps by m times the gap: small where strips
/// bookmatch across the kerf, large at the next joint.
#[test]
fn a_wandering_heartwood_line_steps_by_its_slope_times_the_gap() {
    let b = turned(&[Turn::AsCut, Turn::RolledOver, Turn::AsCut]);
    let slope = 35.0 / 700.0;
    let figure = &b.panels()[0].blanks[0].blank.figure;
    assert!((figure.wander().x - slope).abs() < 1e-12);
    for joint in 0..2 {
        let at = Point3::new(b.span(joint)[1], b.finished().width - 20.0, b.finished().thickness);
        let spots = [joint, joint + 1].map(|place| b.spot_in(place, &at).unwrap().at);
        // The pith is straight: seen from it, the two spots differ by the slope times the gap.
        let from_pith = |p: &Point3<f64>| p.x - (-10.0 + slope * p.z);
        let step = (from_pith(&spots[0]) - from_pith(&spots[1])).abs();
        assert!((step - slope * b.meeting(joint, Face::Upper).unwrap().gap).abs() < 1e-9);
    }
}

#[test]
fn staggers_leave_what_every_strip_covers() {
    let b = board(&[(Turn::AsCut, 0), (Turn::AsCut, 30), (Turn::AsCut, 10)]).unwrap();
    assert_eq!(b.cover(), [30.0, 172.0]);
    assert_eq!(board(&[(Turn::AsCut, 0), (Turn::AsCut, 172)]).unwrap_err(), BoardError::NoCover);
    assert_eq!(board(&[(Turn::AsCut, 0), (Turn::AsCut, 160)]).unwrap_err(), BoardError::TrimmedAway);
}

#[test]
fn a_centre_line_off_by_e_shows_a_step_of_two_e() {
    // Common practice, no source: where Y = x meets Y = W − x. The middle blank's middle lies e off.
    let b = turned(&[Turn::AsCut, Turn::EndForEnd]);
    let spans = b.panels()[0].spans();
    let off = (spans[1][0] + spans[1][1]) / 2.0 - 172.0 / 2.0;
    let middle = |place: usize| b.blank_spans(place)[1].iter().sum::<f64>() / 2.0;
    assert!(((middle(0) - middle(1)).abs() - 2.0 * off.abs()).abs() < 1e-9);
}

/// (n − m)·δ_x, and N·δ_z·s/L where all are alike; one of each kind cancels.
#[test]
fn a_tapered_panel_fans_or_arches_the_board_by_how_it_is_turned() {
    let corners = Corners { near_first: mm(20), near_last: mm(21), far_first: mm(22), far_last: mm(23) };
    let of = |turns: &[Turn]| {
        let mut tapered = panel();
        tapered.0.measured = Some(corners);
        let place = |(strip, turn): (i64, &Turn)| Place { panel: 0, strip, turn: *turn, stagger: Length::ZERO };
        let places: Vec<Place> = (0..).zip(turns).map(place).collect();
        Board::glue(vec![tapered], &places, mm(40), TRIMS, None).unwrap()
    };
    let alike = of(&[Turn::AsCut; 6]);
    assert!((alike.fan() - 6.0).abs() < 1e-12);
    assert!((alike.arch() - 6.0 * 2.0 * 40.0 / 700.0).abs() < 1e-12);
    let mixed = of(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]);
    assert!(mixed.fan().abs() < 1e-12 && mixed.arch().abs() < 1e-12);
    assert!((of(&[Turn::AsCut, Turn::RolledOver, Turn::AsCut]).fan() - 3.0).abs() < 1e-12);
    assert_eq!(turned(&[Turn::AsCut; 3]).fan(), 0.0);
}

#[test]
fn the_picture_is_the_same_however_many_threads_draw_it() {
    let b = turned(&[Turn::AsCut, Turn::RolledOver, Turn::AsCut, Turn::RolledOver]);
    let draw = |workers| {
        b.picture(Face::Upper, &FaceOptions { pixel: 1.0, glue_lines: true, workers, figure: FigureDrawn::Whole })
            .unwrap()
    };
    let one = draw(1);
    assert_eq!((one.width, one.height), (75, 159));
    assert_eq!(one, draw(3));
    assert!(
        b.picture(Face::Upper, &FaceOptions { pixel: 1e-4, glue_lines: false, workers: 1, figure: FigureDrawn::Whole })
            .is_none()
    );
    assert!(
        b.picture(
            Face::Upper,
            &FaceOptions { pixel: f64::NAN, glue_lines: false, workers: 1, figure: FigureDrawn::Whole }
        )
        .is_none()
    );
}

/// The slanted line rises from the near end to the far end; as cut, it leans to the right going up.
#[test]
fn edge_marks_tell_the_turns() {
    use crate::cut::Edge;
    let b = turned(&Turn::ALL);
    let [as_cut, rolled, end, over] = <[_; 4]>::try_from(b.edge_marks(Edge::Back)).unwrap();
    assert!(!as_cut.double && !rolled.double && end.double && over.double);
    let leans = |m: super::EdgeMark| (m.to[0] - m.from[0]) * (m.to[1] - m.from[1]) > 0.0;
    assert!(leans(as_cut) && leans(rolled) && !leans(end) && !leans(over));
    assert!(b.edge_marks(Edge::Front).iter().zip(b.edge_marks(Edge::Back)).all(|(f, k)| f.double != k.double));
    assert!(b.edge_marks(Edge::Left).is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn pieces_fill_the_board_and_each_knows_its_blank(turns in prop::collection::vec((0usize..4, 0i64..25), 1..12)) {
        let turns: Vec<_> = turns.into_iter().map(|(t, s)| (Turn::ALL[t], s)).collect();
        let b = board(&turns).unwrap();
        let size = b.finished();
        let pieces = b.pieces();
        let volume: f64 = pieces.iter().map(|p| (p.high - p.low).product()).sum();
        let whole = size.length * size.width * size.thickness;
        prop_assert!((volume - whole).abs() < 1e-9 * whole);
        for p in &pieces {
            let spot = b.spot(&nalgebra::center(&p.low, &p.high)).unwrap();
            prop_assert_eq!((spot.place, spot.blank), (p.place, p.blank));
        }
    }
}

/// A blank of upright layers, unevenly wide, that move `slope` mm toward +u for each mm of length.
fn layered(slope: f64, seen: Seen) -> LaidBlank {
    use crate::wood::ends::{EndLine, EndLines, Ends, HEARTWOOD};
    let laid = blank("A", 60);
    let upright = |u: f64| vec![Point2::new(u, 0.0), Point2::new(u, 12.0), Point2::new(u, 24.0)];
    let end = |moved: f64| {
        let mut at = -30.0;
        let mut rings = Vec::new();
        for n in 0..40 {
            at += 1.6 + 1.7 * f64::from(n * n * 7 % 11) / 11.0;
            let name = format!("{n}");
            rings.extend((0.0..=60.0).contains(&(at + moved)).then(|| EndLine { name, points: upright(at + moved) }));
        }
        let boundaries = vec![EndLine { name: HEARTWOOD.into(), points: upright(22.0 + moved) }];
        EndLines { rings, boundaries, pith: None }
    };
    let (size, length) = (nalgebra::Vector2::new(60.0, 24.0), 700.0);
    let ends = Ends { size, length, near: end(0.0), far: end(slope * length), ..Ends::default() };
    let figure = Figure::traced(Wood::named("black walnut").unwrap(), ends.join().unwrap(), false, 3);
    LaidBlank { blank: Blank { figure, seen, ..laid.blank }, ..laid }
}

fn layered_board(turns: &[Turn], slope: f64, seen: Seen) -> Board {
    let (mut panel, cut) = panel();
    panel.blanks = vec![layered(slope, seen), blank("B", 45), layered(slope, seen)];
    let places: Vec<Place> = turns
        .iter()
        .zip(0..)
        .map(|(turn, strip)| Place { panel: 0, strip, turn: *turn, stagger: Length::ZERO })
        .collect();
    Board::glue(vec![(panel, cut)], &places, mm(40), TRIMS, None).unwrap()
}

#[test]
fn traced_lines_step_by_their_slope_times_the_gap() {
    let slope = 0.02;
    let b = layered_board(&[Turn::AsCut, Turn::RolledOver, Turn::AsCut, Turn::EndForEnd], slope, Seen::BothEnds);
    for face in [Face::Upper, Face::Lower] {
        for joint in 0..2 {
            let gap = b.meeting(joint, face).unwrap().gap;
            let steps = b.steps(joint, face);
            assert!(steps.len() > 20 && steps.iter().all(|s| s.blank != 1), "{}", steps.len());
            assert!(steps.iter().any(|s| s.line == super::FigureLine::Heartwood));
            for step in steps {
                assert!((step.step.abs() - slope * gap).abs() < 1e-6, "{step:?} for a gap of {gap}");
            }
        }
        // As cut beside end for end the lines aren't meant to meet.
        assert!(b.steps(2, face).is_empty());
        let (_, worst) = b.largest_step(face).unwrap();
        assert!(
            (worst.step.abs() - slope * (2.0 * STRIP + KERF - 2.0 * if face == Face::Upper { 1.5 } else { 2.5 })).abs()
                < 1e-6
        );
    }
    let still = layered_board(&[Turn::AsCut, Turn::RolledOver], 0.0, Seen::BothEnds);
    assert!(still.steps(0, Face::Upper).iter().all(|s| s.step.abs() < 1e-6));
    assert!(turned(&[Turn::AsCut, Turn::RolledOver]).steps(0, Face::Upper).is_empty(), "nobody traced these");
}

#[test]
fn a_face_as_promised_shows_less_and_a_blank_that_nobody_saw_shows_nothing() {
    let draw = |b: &Board, figure| {
        b.picture(Face::Upper, &FaceOptions { pixel: 0.5, glue_lines: false, workers: 2, figure }).unwrap()
    };
    let b = layered_board(&[Turn::AsCut, Turn::RolledOver], 0.02, Seen::BothEnds);
    let (whole, promised) = (draw(&b, FigureDrawn::Whole), draw(&b, FigureDrawn::AsPromised));
    let roughness = |p: &crate::picture::Picture| -> f64 {
        let light: Vec<f64> = p.bytes.chunks_exact(3).map(|c| f64::from(c[1])).collect();
        light.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum::<f64>() / light.len() as f64
    };
    assert!(roughness(&promised) < 0.8 * roughness(&whole), "{} {}", roughness(&promised), roughness(&whole));
    let unseen = layered_board(&[Turn::AsCut, Turn::RolledOver], 0.02, Seen::Nothing);
    assert_eq!(draw(&unseen, FigureDrawn::Whole).bytes, whole.bytes);
    assert!(draw(&unseen, FigureDrawn::AsPromised).bytes != promised.bytes);
}

#[test]
fn a_piece_has_the_mean_colour_of_its_wood() {
    let board = turned(&[Turn::AsCut, Turn::RolledOver]);
    for piece in board.pieces() {
        let mean = board.mean_colour(&piece).unwrap();
        let figure = &board.panels()[0].blanks[piece.blank].blank.figure;
        let (heart, sap) = (figure.wood().heartwood.luminance(), figure.wood().sapwood.luminance());
        assert!((0.7 * heart..1.3 * sap).contains(&mean.luminance()), "{mean:?}");
    }
    // The sapwood side is paler.
    let [first, last] = [0, 2].map(|i| board.mean_colour(&board.pieces()[i]).unwrap().luminance());
    assert!((first - last).abs() > 1e-4);
    let elsewhere = super::Piece { place: 9, ..board.pieces()[0] };
    assert_eq!(board.mean_colour(&elsewhere), None);
}

#[test]
fn neighbours_share_their_planes_bit_by_bit() {
    let board =
        board(&[(Turn::AsCut, 0), (Turn::RolledOver, 7), (Turn::EndForEnd, -3), (Turn::EndOverEnd, 1)]).unwrap();
    let (size, pieces) = (board.finished(), board.pieces());
    for place in 0..4 {
        let strip: Vec<_> = pieces.iter().filter(|p| p.place == place).collect();
        let next = pieces.iter().find(|p| p.place == place + 1).map_or(size.length, |p| p.low.x);
        assert!(strip.iter().all(|p| p.high.x == next));
        let mut ends: Vec<[f64; 2]> = strip.iter().map(|p| [p.low.y, p.high.y]).collect();
        ends.sort_by(|a, b| a[0].total_cmp(&b[0]));
        assert_eq!((ends[0][0], ends[ends.len() - 1][1]), (0.0, size.width));
        assert!(ends.windows(2).all(|pair| pair[0][1] == pair[1][0]));
    }
}
