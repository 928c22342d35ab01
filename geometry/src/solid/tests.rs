//! Laws of the solid: closed, oriented, within the chord bound, pieces add up.

use super::{Body, LeastLip, Lip, Neighbours, NoBody};
use crate::board::Piece;
use crate::cut::{Bit, Cut, Cuts, Edge, Face, Finished, Groove, Handhold, Reach, Which};
use crate::measure::Length;
use nalgebra::Point3;
use proptest::prelude::*;

fn mm(n: f64) -> Length {
    Length::nearest_to_mm(n)
}

pub(super) fn hold(edge: Edge, diameter: f64, corner: f64, depth: f64, setbacks: [f64; 2]) -> Handhold {
    let bit = Bit {
        name: "round".into(),
        diameter: mm(diameter),
        corner_radius: mm(corner),
        reach: mm(40.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    Handhold {
        edge,
        bit,
        depth: mm(depth),
        reach: Reach::Setbacks(setbacks.map(mm)),
        above_lower_face: None,
        passes: None,
        width: None,
        rim: None,
    }
}

pub(super) const BOARD: Finished = Finished { length: 300.3, width: 200.7, thickness: 38.1 };

/// A grid of strips and blanks, as boxes.
pub(super) fn pieces(board: &Finished, strips: usize, blanks: usize) -> Vec<Piece> {
    let cut = |size: f64, n: usize, i: usize| if i == n { size } else { size * i as f64 / n as f64 };
    let piece = |place: usize, blank: usize| Piece {
        place,
        blank,
        low: Point3::new(cut(board.length, strips, place), cut(board.width, blanks, blank), 0.0),
        high: Point3::new(cut(board.length, strips, place + 1), cut(board.width, blanks, blank + 1), board.thickness),
    };
    (0..strips).flat_map(|s| (0..blanks).map(move |b| (s, b))).map(|(s, b)| piece(s, b)).collect()
}

fn check(board: &Finished, holds: &[Handhold], tolerance: f64) {
    let body = Body::of(*board, holds).unwrap();
    let mesh = body.mesh(tolerance).unwrap();
    assert!(mesh.is_closed(), "not closed");
    let [low, high] = mesh.extent().unwrap();
    assert_eq!(low, Point3::origin());
    assert_eq!(high, Point3::new(board.length, board.width, board.thickness));
    let missing = mesh.volume() - body.volume();
    let rounding = 1e-12 * body.volume();
    // Inscribed chords leave wood in the recess, never take more.
    assert!(missing >= -rounding && missing <= body.mesh_bound(tolerance) + rounding, "{missing}");
    for (solid, recess) in body.recess_solids(tolerance).iter().zip(body.recesses()) {
        assert!(solid.is_closed());
        assert!(solid.volume() > 0.0 && solid.volume() <= recess.volume() * (1.0 + 1e-12));
    }
}

#[test]
fn square_ended_bowl_and_ball_bits_make_closed_bodies() {
    for tolerance in [0.1, 0.02, 0.001] {
        for (corner, depth) in [(0.0, 6.0), (3.0, 6.0), (3.0, 2.0), (3.0, 3.0), (9.5, 9.5), (9.5, 4.0), (9.5, 12.0)] {
            let holds = [
                hold(Edge::Left, 19.0, corner, depth, [50.0, 40.0]),
                hold(Edge::Right, 19.0, corner, depth, [50.0, 50.0]),
                hold(Edge::Front, 19.0, corner, depth, [100.0, 90.0]),
                hold(Edge::Back, 19.0, corner, depth, [20.0, 180.0]),
                hold(Edge::Back, 19.0, corner, depth, [180.0, 20.0]),
            ];
            check(&BOARD, &holds, tolerance);
        }
    }
}

#[test]
fn a_hole_without_travel_is_closed_too() {
    let travel_none = 200.7 - 19.0;
    for corner in [0.0, 3.0, 9.5] {
        check(&BOARD, &[hold(Edge::Left, 19.0, corner, 7.0, [travel_none - 60.0, 60.0])], 0.02);
    }
}

fn between(a: &Handhold, b: &Handhold) -> f64 {
    Neighbours::of(&BOARD, &[a.clone(), b.clone()], &Cuts::default()).nearest().unwrap().distance
}

#[test]
fn what_leaves_the_edge_or_meets_is_refused() {
    let wide = hold(Edge::Left, 40.0, 3.0, 6.0, [50.0, 50.0]);
    assert_eq!(Body::of(BOARD, &[wide]).unwrap_err(), NoBody::LeavesTheEdge(0));
    let crossed = hold(Edge::Left, 19.0, 3.0, 6.0, [100.0, 100.0]);
    assert_eq!(Body::of(BOARD, &[crossed]).unwrap_err(), NoBody::LeavesTheEdge(0));
    let corner = [hold(Edge::Left, 19.0, 3.0, 12.0, [50.0, 5.0]), hold(Edge::Front, 19.0, 3.0, 12.0, [5.0, 50.0])];
    assert_eq!(Body::of(BOARD, &corner).unwrap_err(), NoBody::Meet(0, 1));
}

/// Boxes that overlap are not yet recesses that meet: two ball-nosed ends round a corner.
#[test]
fn what_only_seems_to_meet_is_made() {
    let a = hold(Edge::Left, 30.0, 15.0, 14.0, [60.0, 13.0]);
    let b = hold(Edge::Front, 30.0, 15.0, 14.0, [13.0, 60.0]);
    let apart = between(&a, &b);
    assert!(apart > 0.5, "{apart}");
    check(&BOARD, &[a, b], 0.02);
}

#[test]
fn strips_pieces_and_whole_board_have_the_same_volume() {
    let holds = [
        hold(Edge::Left, 19.0, 3.175, 9.0, [50.0, 40.0]),
        hold(Edge::Right, 19.0, 9.5, 7.0, [40.0, 60.0]),
        hold(Edge::Back, 12.7, 0.0, 9.0, [100.0, 90.0]),
    ];
    let body = Body::of(BOARD, &holds).unwrap();
    let whole = body.mesh(0.02).unwrap().volume();
    for (strips, blanks) in [(14, 5), (14, 1), (1, 1), (7, 3)] {
        let cut = body.cut_pieces(&pieces(&BOARD, strips, blanks), 0.02).unwrap();
        assert!(cut.iter().all(|c| c.mesh.is_closed()));
        let sum: f64 = cut.iter().map(|c| c.mesh.volume()).sum();
        assert!((sum - whole).abs() < 1e-9 * whole, "{strips} × {blanks}: {sum} for {whole}");
    }
}

#[test]
fn the_measured_lip_is_the_computed_one() {
    let board = Finished { length: 288.925, width: 228.6, thickness: 34.925 };
    for (edge, corner, depth, setbacks) in [
        (Edge::Left, 3.175, 6.35, [50.8, 50.8]),
        (Edge::Back, 9.525, 6.0, [60.0, 70.0]),
        (Edge::Front, 0.0, 12.0, [3.0, 90.0]),
    ] {
        let hold = hold(edge, 19.05, corner, depth, setbacks);
        let (seen, known) = (Lip::measured(&hold, &board).unwrap(), Lip::computed(&hold, &board));
        assert!((seen.thickness - known.thickness).abs() < 1e-6, "{seen:?} for {known:?}");
    }
}

#[test]
fn the_least_lip_says_to_what() {
    let holds = [hold(Edge::Left, 16.0, 0.0, 12.0, [60.0, 9.0]), hold(Edge::Back, 16.0, 0.0, 12.0, [60.0, 60.0])];
    let of = |cuts: &Cuts, i| LeastLip::of(&Neighbours::of(&BOARD, &holds, cuts), &BOARD, &holds, cuts, i).unwrap();
    let bare = Cuts::default();
    // 9 from the front corner; and half of the thickness less 8 to either face.
    assert_eq!((of(&bare, 0).to.as_str(), of(&bare, 0).thickness), ("front edge", 9.0));
    assert!(of(&bare, 1).to.ends_with("face") && (of(&bare, 1).thickness - 11.05).abs() < 1e-6);
    let bit = Bit { corner_radius: mm(0.0), diameter: mm(6.0), ..holds[0].bit.clone() };
    let [depth, setback, corner_radius] = [6.0, 8.0, 0.0].map(mm);
    let groove = Groove { face: Face::Upper, bit, depth, setback, corner_radius, rim: None };
    let grooved = Cuts { grooves: vec![groove], ..Cuts::default() };
    assert_eq!(of(&grooved, 1).to, "groove on the upper face");
    assert!((of(&grooved, 1).thickness - 5.05).abs() < 1e-6);
    assert_eq!(LeastLip::of(&Neighbours::of(&BOARD, &holds, &bare), &BOARD, &holds, &bare, 2), None);
}

/// A groove above a handhold, both square-ended: the lip between them is the upright distance where the groove lies over
/// the recess, and that of corner to corner where it lies farther in.
#[test]
fn the_lip_to_a_groove_is_as_thick_as_pythagoras_says() {
    let recess = hold(Edge::Left, 16.0, 0.0, 12.0, [60.0, 60.0]);
    for (setback, deep, wanted) in [(8.0, 6.0, 19.05 - 8.0 - 6.0), (16.0, 9.0, 4.0_f64.hypot(2.05))] {
        let bit = Bit { corner_radius: mm(0.0), diameter: mm(6.0), ..recess.bit.clone() };
        let groove =
            Groove { face: Face::Upper, bit, depth: mm(deep), setback: mm(setback), corner_radius: mm(0.0), rim: None };
        let cuts = Cuts { grooves: vec![groove], ..Cuts::default() };
        let all = Neighbours::of(&BOARD, std::slice::from_ref(&recess), &cuts);
        let near = all.nearest_to(Cut::Handhold(0)).unwrap();
        assert!((near.distance - wanted).abs() < 1e-6, "{near:?} for {wanted}");
        assert_eq!(near.cuts, [Cut::Handhold(0), Cut::Face(Which::Groove(0))]);
        assert_eq!(all.within(wanted + 0.01), vec![near]);
        assert!(all.within(wanted - 0.01).is_empty());
    }
}

#[test]
fn two_recesses_round_a_corner_are_as_far_apart_as_pythagoras_says() {
    // Square-ended, at the same height: the corner of one to the corner of the other.
    let a = hold(Edge::Left, 19.0, 0.0, 10.0, [50.0, 30.0]);
    let b = hold(Edge::Front, 19.0, 0.0, 10.0, [30.0, 50.0]);
    let seen = between(&a, &b);
    assert!((seen - 20.0_f64.hypot(20.0)).abs() < 1e-6, "{seen}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn any_recess_that_fits_is_closed_and_within_its_bound(
        diameter in 4.0..30.0f64, share in 0.0..=1.0f64, depth in 0.5..25.0f64, near in 5.0..80.0f64, far in 5.0..80.0f64, edge in 0usize..4, fine in 0.005..0.2f64,
    ) {
        check(&BOARD, &[hold(Edge::ALL[edge], diameter, diameter * share / 2.0, depth, [near, far])], fine);
    }
}
