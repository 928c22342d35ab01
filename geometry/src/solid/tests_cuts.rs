//! Laws of the board with cuts on its faces, corners and eased rims: closed, oriented, within the chord bound, the
//! direct way and the boolean agree, pieces add up.

use super::{Body, Mesh, NoBody};
use crate::board::Piece;
use crate::cut::{
    Bit, Cuts, Easing, Edge, Face, Feet, FingerRecess, Finished, Groove, HangingHole, Spout, Sweep, Which,
};
use crate::cut::{Handhold, Reach};
use crate::measure::Length;
use nalgebra::Point3;

pub(super) fn mm(n: f64) -> Length {
    Length::nearest_to_mm(n)
}

pub(super) fn bit(diameter: f64, corner: f64) -> Bit {
    Bit {
        name: "bit".into(),
        diameter: mm(diameter),
        corner_radius: mm(corner),
        reach: mm(60.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    }
}

pub(super) const BOARD: Finished = Finished { length: 300.3, width: 200.7, thickness: 38.1 };

fn groove(face: Face, diameter: f64, corner: f64, depth: f64, setback: f64, radius: f64) -> Groove {
    Groove {
        face,
        bit: bit(diameter, corner),
        depth: mm(depth),
        setback: mm(setback),
        corner_radius: mm(radius),
        rim: None,
    }
}

pub(super) fn handhold(edge: Edge) -> Handhold {
    Handhold {
        edge,
        bit: bit(14.0, 3.0),
        depth: mm(8.0),
        reach: Reach::Setbacks([mm(60.0); 2]),
        above_lower_face: None,
        passes: None,
        width: None,
        rim: None,
    }
}

/// Corners, both rims, a groove, feet and a hole: all that can be built directly.
fn plain() -> Cuts {
    Cuts {
        corner_radius: Some(mm(12.0)),
        upper_rim: Some(Easing::RoundOver(mm(5.0))),
        lower_rim: Some(Easing::Chamfer(mm(2.0))),
        grooves: vec![groove(Face::Upper, 12.0, 6.0, 5.0, 15.0, 10.0)],
        feet: Some(Feet { bit: bit(15.0, 0.0), diameter: None, depth: mm(9.0), from_edges: [mm(40.0), mm(35.0)] }),
        hanging_hole: Some(HangingHole {
            bit: bit(8.0, 0.0),
            diameter: None,
            edge: Edge::Left,
            in_from_edge: mm(45.0),
            along: None,
        }),
        ..Cuts::default()
    }
}

/// The same with a spout and finger recesses, which run out of the side.
fn crossing() -> Cuts {
    Cuts {
        spouts: vec![Spout { groove: 0, edge: Edge::Back, bit: bit(10.0, 5.0), depth: mm(5.0), along: Some(mm(80.0)) }],
        finger_recesses: [Edge::Front, Edge::Right]
            .map(|edge| FingerRecess {
                edge,
                bit: bit(20.0, 10.0),
                depth: mm(8.0),
                in_from_edge: mm(3.0),
                setbacks: [mm(60.0), mm(50.0)],
                rise: None,
                rim: None,
            })
            .to_vec(),
        ..plain()
    }
}

/// No edge in more than two triangles, none without area, closed.
pub(super) fn sound(mesh: &Mesh) {
    assert!(mesh.is_closed(), "not closed");
    assert!(mesh.thinnest() > 0.0, "a degenerate triangle");
}

fn check(board: Finished, holds: &[Handhold], cuts: &Cuts, tolerance: f64) -> Body {
    let body = Body::cut(board, holds, cuts).unwrap();
    let (mesh, exact) = (body.mesh(tolerance).unwrap(), body.exact());
    sound(&mesh);
    let [low, high] = mesh.extent().unwrap();
    assert_eq!(low, Point3::origin());
    assert_eq!(high, Point3::new(board.length, board.width, board.thickness));
    let off = (mesh.volume() - exact.volume).abs();
    assert!(off <= body.mesh_bound(tolerance) + 1e-12 * exact.volume, "{off} > {}", body.mesh_bound(tolerance));
    let other = body.mesh_by_boolean(tolerance).unwrap();
    let apart = (mesh.volume() - other.volume()).abs();
    assert!(other.is_closed() && apart < 1e-9 * exact.volume, "two ways differ by {apart}");
    body
}

#[test]
fn every_cut_by_itself_is_closed_and_within_its_bound() {
    for tolerance in [0.2, 0.02] {
        for (corner, depth, radius) in [
            (0.0, 5.0, 10.0),
            (3.0, 5.0, 10.0),
            (3.0, 2.0, 0.0),
            (6.0, 6.0, 10.0),
            (6.0, 4.0, 3.0),
            (6.0, 9.0, 0.0),
            (6.0, 9.0, 4.0),
        ] {
            for face in Face::ALL {
                let grooves = vec![groove(face, 12.0, corner, depth, 15.0, radius)];
                check(BOARD, &[handhold(Edge::Left)], &Cuts { grooves, ..Cuts::default() }, tolerance);
            }
        }
        for corner in [0.0, 2.0, 5.0, 30.0] {
            for (upper, lower) in [(0.0, 5.0), (5.0, 0.0), (3.0, 5.0)] {
                for easing in [Easing::RoundOver, Easing::Chamfer] {
                    let rim = |size: f64| (size > 0.0).then(|| easing(mm(size)));
                    let corner_radius = (corner > 0.0).then(|| mm(corner));
                    let cuts = Cuts { corner_radius, upper_rim: rim(upper), lower_rim: rim(lower), ..Cuts::default() };
                    check(BOARD, &[handhold(Edge::Back)], &cuts, tolerance);
                }
            }
        }
    }
}

#[test]
fn all_cuts_together_are_closed_and_the_two_ways_agree() {
    for tolerance in [0.1, 0.02] {
        check(BOARD, &[handhold(Edge::Left)], &plain(), tolerance);
        check(BOARD, &[handhold(Edge::Left)], &crossing(), tolerance);
    }
}

/// What a crossing cut takes is the whole less all else: the mesh comes closer to it as its tolerance does.
#[test]
fn meshes_of_crossing_cuts_shrink_to_the_exact_volume() {
    let body = Body::cut(BOARD, &[], &crossing()).unwrap();
    let exact = body.exact();
    let off: Vec<f64> =
        [0.2, 0.05, 0.0125].iter().map(|t| (body.mesh(*t).unwrap().volume() - exact.volume).abs()).collect();
    assert!(off[1] < off[0] / 2.5 && off[2] < off[1] / 2.5, "{off:?}");
    let mesh = body.mesh(0.002).unwrap();
    assert!((mesh.area() - exact.area).abs() < 2e-4 * exact.area, "{} for {}", mesh.area(), exact.area);
    let middle = centre(&mesh);
    assert!((middle - exact.centre).norm() < 1e-3, "{middle} for {}", exact.centre);
}

/// The centre of a mesh's volume: of each tetrahedron with the origin.
fn centre(mesh: &Mesh) -> Point3<f64> {
    let sum = mesh
        .corners()
        .map(|[a, b, c]| (a.coords + b.coords + c.coords) / 4.0 * a.coords.dot(&b.coords.cross(&c.coords)) / 6.0);
    Point3::from(sum.sum::<nalgebra::Vector3<f64>>() / mesh.volume())
}

#[test]
fn removing_a_cut_adds_exactly_its_volume() {
    let whole = Body::cut(BOARD, &[handhold(Edge::Left)], &plain()).unwrap();
    let volume = whole.volume();
    let less = |cuts: Cuts, which: &dyn Fn(Which) -> bool| {
        let added: f64 = whole.sweeps().filter(|(w, _)| which(*w)).map(|(_, s): (_, &Sweep)| s.volume()).sum();
        let body = Body::cut(BOARD, &[handhold(Edge::Left)], &cuts).unwrap();
        assert!((body.volume() - volume - added).abs() < 1e-9 * added, "{} for {added}", body.volume() - volume);
    };
    less(Cuts { grooves: Vec::new(), ..plain() }, &|w| matches!(w, Which::Groove(_)));
    less(Cuts { feet: None, ..plain() }, &|w| matches!(w, Which::Foot(_)));
    less(Cuts { hanging_hole: None, ..plain() }, &|w| w == Which::HangingHole);
}

/// A pocket far in the board by closed form, and the same by quadrature.
#[test]
fn quadrature_of_what_crosses_nothing_is_the_closed_form() {
    let mut body = Body::cut(BOARD, &[], &plain()).unwrap();
    let closed = body.exact();
    for swept in &mut body.sweeps {
        swept.crosses = true;
    }
    let slices = body.exact();
    assert!((slices.volume - closed.volume).abs() < 1e-10 * closed.removed, "{} {}", slices.volume, closed.volume);
    assert!((slices.area - closed.area).abs() < 1e-8 * closed.area, "{} {}", slices.area, closed.area);
    assert!((slices.centre - closed.centre).norm() < 1e-9);
}

#[test]
fn half_a_pocket_is_cut_where_the_bit_runs_along_the_edge() {
    let recess = FingerRecess {
        edge: Edge::Front,
        bit: bit(20.0, 4.0),
        depth: mm(8.0),
        in_from_edge: mm(0.0),
        setbacks: [mm(60.0), mm(50.0)],
        rise: None,
        rim: None,
    };
    let whole = recess.sweep(&BOARD).volume();
    let body = Body::cut(BOARD, &[], &Cuts { finger_recesses: vec![recess], ..Cuts::default() }).unwrap();
    assert!((body.removed() - whole / 2.0).abs() < 1e-10 * whole, "{} for {}", body.removed(), whole / 2.0);
}

#[test]
fn pieces_add_up() {
    let body = Body::cut(BOARD, &[handhold(Edge::Left)], &crossing()).unwrap();
    let whole = body.mesh(0.05).unwrap().volume();
    let cut = |size: f64, n: usize, i: usize| if i == n { size } else { size * i as f64 / n as f64 };
    let (strips, blanks) = (7, 4);
    let piece = |place: usize, blank: usize| Piece {
        place,
        blank,
        low: Point3::new(cut(BOARD.length, strips, place), cut(BOARD.width, blanks, blank), 0.0),
        high: Point3::new(cut(BOARD.length, strips, place + 1), cut(BOARD.width, blanks, blank + 1), BOARD.thickness),
    };
    let pieces: Vec<Piece> = (0..strips).flat_map(|s| (0..blanks).map(move |b| piece(s, b))).collect();
    let all = body.cut_pieces(&pieces, 0.05).unwrap();
    assert!(all.iter().all(|c| c.mesh.is_closed()));
    let sum: f64 = all.iter().map(|c| c.mesh.volume()).sum();
    assert!((sum - whole).abs() < 1e-9 * whole, "{sum} for {whole}");
}

#[test]
fn what_meets_or_leaves_is_refused() {
    let refused = |cuts: Cuts| Body::cut(BOARD, &[handhold(Edge::Left)], &cuts).unwrap_err();
    let into_a_handhold = Cuts { grooves: vec![groove(Face::Upper, 12.0, 0.0, 13.0, 1.0, 10.0)], ..Cuts::default() };
    assert!(matches!(refused(into_a_handhold), NoBody::CutsMeet(..)));
    let off_the_face = Cuts { upper_rim: Some(Easing::RoundOver(mm(5.0))), ..Cuts::default() };
    let off_the_face = Cuts { grooves: vec![groove(Face::Upper, 12.0, 6.0, 4.0, 4.0, 10.0)], ..off_the_face };
    assert_eq!(refused(off_the_face), NoBody::LeavesTheFace(Which::Groove(0)));
    assert_eq!(refused(Cuts { corner_radius: Some(mm(101.0)), ..Cuts::default() }), NoBody::Outline);
    let through = Feet { bit: bit(15.0, 0.0), diameter: None, depth: mm(38.1), from_edges: [mm(40.0); 2] };
    assert_eq!(refused(Cuts { feet: Some(through), ..Cuts::default() }), NoBody::LeavesTheFace(Which::Foot(0)));
}

/// Every new shape by itself: the mesh nears the exact volume, surface and centre as its chords shrink.
#[test]
fn wide_arched_and_eased_cuts_are_what_their_closed_forms_say() {
    let rims = [None, Some(Easing::RoundOver(mm(2.0))), Some(Easing::Chamfer(mm(1.5)))];
    for rim in rims {
        let wide = Handhold { width: Some(mm(22.0)), depth: mm(9.0), rim, ..handhold(Edge::Back) };
        let arched = FingerRecess {
            edge: Edge::Front,
            bit: bit(16.0, 4.0),
            depth: mm(8.0),
            in_from_edge: mm(24.0),
            setbacks: [mm(60.0), mm(50.0)],
            rise: Some(mm(18.0)),
            rim,
        };
        let round = Groove { rim, depth: mm(8.0), ..groove(Face::Upper, 12.0, 3.0, 5.0, 14.0, 20.0) };
        let of = [
            (vec![wide], Cuts::default()),
            (Vec::new(), Cuts { finger_recesses: vec![arched], ..Cuts::default() }),
            (Vec::new(), Cuts { grooves: vec![round], ..Cuts::default() }),
        ];
        for (holds, cuts) in of {
            let body = Body::cut(BOARD, &holds, &cuts).unwrap();
            let (mesh, exact) = (body.mesh(0.002).unwrap(), body.exact());
            sound(&mesh);
            assert!((mesh.volume() - exact.volume).abs() < body.mesh_bound(0.002), "{rim:?} {cuts:?}");
            assert!((mesh.area() - exact.area).abs() < 1e-3 * (mesh.area() - body.outline().area()).abs().max(100.0));
            assert!((centre(&mesh) - exact.centre).norm() < 1e-4, "{rim:?} {:?}", exact.centre);
            let by_boolean = body.mesh_by_boolean(0.05).unwrap().volume();
            assert!((by_boolean - body.mesh(0.05).unwrap().volume()).abs() < 1e-9 * exact.volume);
        }
    }
}

/// What a boolean gives differs from run to run in its order; the mesh must not.
#[test]
fn the_same_board_gives_the_same_mesh() {
    let mesh = || Body::cut(BOARD, &[handhold(Edge::Left)], &crossing()).unwrap().mesh(0.1).unwrap();
    let first = mesh();
    sound(&first);
    for _ in 0..4 {
        assert!(mesh() == first);
    }
}

/// A cove whose line runs on the edge itself: half a cylinder's section is open at the side. By hand, with R = 7, d = 5,
/// half width w = √(49 − 4) at the face: along each mm of the edge the board loses w of its lower face and d of its side,
/// and gains the arc R·acos(2/7).
#[test]
fn a_cove_along_an_edge_has_a_surface() {
    let cove = FingerRecess {
        edge: Edge::Right,
        bit: bit(14.0, 7.0),
        depth: mm(5.0),
        in_from_edge: mm(0.0),
        setbacks: [mm(60.0), mm(60.0)],
        rise: None,
        rim: None,
    };
    let cuts = |setback: f64| Cuts {
        finger_recesses: vec![FingerRecess { setbacks: [mm(setback), mm(60.0)], ..cove.clone() }],
        ..Cuts::default()
    };
    let area = |setback: f64| Body::cut(BOARD, &[], &cuts(setback)).unwrap().exact().area;
    let (w, arc) = (45.0f64.sqrt(), 7.0 * (2.0f64 / 7.0).acos());
    let longer = area(50.0) - area(60.0);
    assert!((longer - 10.0 * (arc - w - 5.0)).abs() < 1e-4, "{longer}");
}

/// A spout's wall that meets the groove's floor beside one of its corners: the boolean leaves two vertices there, and
/// nothing between them once flat parts are made anew.
#[test]
fn a_spout_as_wide_as_its_groove_leaves_one_vertex_at_a_place() {
    let board = Finished { length: 240.0, width: 160.0, thickness: 36.0 };
    let cuts = Cuts {
        grooves: vec![groove(Face::Upper, 12.0, 6.0, 6.0, 12.0, 12.0)],
        spouts: vec![Spout {
            groove: 0,
            edge: Edge::Right,
            bit: bit(12.0, 3.0),
            depth: mm(6.0),
            along: Some(mm(70.0)),
        }],
        ..Cuts::default()
    };
    let mesh = Body::cut(board, &[], &cuts).unwrap().mesh(0.2).unwrap();
    sound(&mesh);
    let mut places: Vec<_> = mesh.vertices.iter().map(|v| [v.x, v.y, v.z].map(f64::to_bits)).collect();
    places.sort_unstable();
    assert!(places.windows(2).all(|w| w[0] != w[1]), "two vertices at one place");
}

/// Every pair that runs into each other is told, not the first alone.
#[test]
fn all_cuts_that_meet_are_told_at_once() {
    let feet = Feet { bit: bit(12.0, 0.0), diameter: None, depth: mm(6.0), from_edges: [mm(30.0); 2] };
    let grooves = vec![groove(Face::Lower, 12.0, 0.0, 6.0, 24.0, 10.0)];
    let Err(NoBody::CutsMeet(pairs)) = Body::cut(BOARD, &[], &Cuts { grooves, feet: Some(feet), ..Cuts::default() })
    else {
        panic!("they meet");
    };
    assert_eq!(pairs.len(), 4, "{pairs:?}");
}
