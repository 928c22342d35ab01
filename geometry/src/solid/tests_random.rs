//! Laws of boards whose cuts are drawn at random: nothing is open, crossed, mirrored, lost or counted twice.

use super::tests_cuts::{BOARD, bit, handhold, mm, sound};
use super::{Body, Mesh};
use crate::board::Piece;
use crate::cut::{Bit, Cuts, Easing, Edge, Face, Feet, FingerRecess, Groove, HangingHole, Spout};
use crate::cut::{Handhold, Reach};
use nalgebra::{Point3, Vector3};
use proptest::prelude::*;
use std::collections::HashMap;

fn easing() -> impl Strategy<Value = Option<Easing>> {
    prop_oneof![
        Just(None),
        (0.5..9.0f64).prop_map(|s| Some(Easing::RoundOver(mm(s)))),
        (0.5..9.0f64).prop_map(|s| Some(Easing::Chamfer(mm(s)))),
    ]
}

/// A rim that many walls have room for.
fn rim() -> impl Strategy<Value = Option<Easing>> {
    prop_oneof![
        Just(None),
        (0.3..2.5f64).prop_map(|s| Some(Easing::RoundOver(mm(s)))),
        (0.3..2.5f64).prop_map(|s| Some(Easing::Chamfer(mm(s)))),
    ]
}

/// Often wider than its bit, often with an eased rim.
fn any_handhold() -> impl Strategy<Value = Option<Handhold>> {
    let one = (any_bit(), 3.0..14.0f64, prop::option::of(12.0..28.0f64), rim(), 0usize..4);
    prop::option::of(one.prop_map(|(bit, depth, width, rim, edge)| Handhold {
        bit,
        depth: mm(depth),
        width: width.map(mm),
        rim,
        ..handhold(Edge::ALL[edge])
    }))
}

fn any_bit() -> impl Strategy<Value = Bit> {
    (6.0..22.0f64, 0.0..=1.0f64).prop_map(|(d, share)| bit(d, d / 2.0 * share))
}

/// A board's cuts at random; many can't be.
fn any_cuts() -> impl Strategy<Value = Cuts> {
    let grooves = prop::option::of((any_bit(), 2.0..12.0f64, 10.0..30.0f64, 0.0..25.0f64, any::<bool>(), rim()));
    let spout = prop::option::of((60.0..140.0f64, 0usize..4));
    let finger =
        prop::option::of((any_bit(), 2.0..12.0f64, 0.0..30.0f64, 0usize..4, prop::option::of(1.0..40.0f64), rim()));
    let feet = prop::option::of((any_bit(), 3.0..15.0f64, 25.0..60.0f64, 25.0..60.0f64));
    let hole = prop::option::of((6.0..20.0f64, 20.0..60.0f64, 0usize..4));
    (0.0..30.0f64, easing(), easing(), grooves, spout, finger, feet, hole).prop_map(
        |(corner, upper_rim, lower_rim, grooves, spout, finger, feet, hole)| {
            let grooves: Vec<Groove> = grooves
                .into_iter()
                .map(|(bit, depth, setback, radius, up, rim)| Groove {
                    rim,
                    face: if up { Face::Upper } else { Face::Lower },
                    bit,
                    depth: mm(depth),
                    setback: mm(setback),
                    corner_radius: mm(radius),
                })
                .collect();
            let spout = spout.filter(|_| !grooves.is_empty());
            let spouts = spout.into_iter().map(|(along, edge)| Spout {
                groove: 0,
                edge: Edge::ALL[edge],
                bit: grooves[0].bit.clone(),
                depth: grooves[0].depth,
                along: Some(mm(along)),
            });
            Cuts {
                corner_radius: (corner > 3.0).then(|| mm(corner)),
                upper_rim,
                lower_rim,
                spouts: spouts.collect(),
                grooves,
                finger_recesses: finger
                    .into_iter()
                    .map(|(bit, depth, inward, edge, rise, rim)| FingerRecess {
                        rise: rise.map(mm),
                        rim,
                        edge: Edge::ALL[edge],
                        bit,
                        depth: mm(depth),
                        in_from_edge: mm(inward),
                        setbacks: [mm(50.0), mm(45.0)],
                    })
                    .collect(),
                feet: feet.map(|(bit, depth, x, y)| Feet {
                    bit,
                    diameter: None,
                    depth: mm(depth),
                    from_edges: [mm(x), mm(y)],
                }),
                hanging_hole: hole.map(|(d, inward, edge)| HangingHole {
                    bit: bit(d, 0.0),
                    diameter: None,
                    edge: Edge::ALL[edge],
                    in_from_edge: mm(inward),
                    along: None,
                }),
            }
        },
    )
}

/// Whether the inside of a triangle is passed by a segment, clear of its border and of the segment's ends by a
/// nanometre.
fn passes([a, b, c]: [Point3<f64>; 3], from: Point3<f64>, to: Point3<f64>) -> bool {
    const CLEAR: f64 = 1e-6;
    let Some(normal) = (b - a).cross(&(c - a)).try_normalize(0.0) else { return false };
    let (before, after) = ((from - a).dot(&normal), (to - a).dot(&normal));
    if before * after >= 0.0 || before.abs().min(after.abs()) < CLEAR {
        return false;
    }
    let at = from + (to - from) * (before / (before - after));
    [(a, b), (b, c), (c, a)].iter().all(|(p, q)| {
        let side = q - p;
        side.cross(&(at - p)).dot(&normal) > CLEAR * side.norm()
    })
}

/// How many pairs of triangles that share no vertex cross.
fn crossings(mesh: &Mesh) -> usize {
    let corners: Vec<[Point3<f64>; 3]> = mesh.corners().collect();
    let boxes: Vec<[Point3<f64>; 2]> = corners.iter().map(|[a, b, c]| [a.inf(b).inf(c), a.sup(b).sup(c)]).collect();
    let mut order: Vec<usize> = (0..corners.len()).collect();
    order.sort_by(|i, j| boxes[*i][0].x.total_cmp(&boxes[*j][0].x));
    let mut found = 0;
    for (k, i) in order.iter().enumerate() {
        let [low, high] = boxes[*i];
        for j in order[k + 1..].iter().take_while(|j| boxes[**j][0].x <= high.x) {
            let [from, to] = boxes[*j];
            let apart = low.y > to.y || from.y > high.y || low.z > to.z || from.z > high.z;
            if apart || mesh.triangles[*i].iter().any(|v| mesh.triangles[*j].contains(v)) {
                continue;
            }
            let through = |t: [Point3<f64>; 3], s: [Point3<f64>; 3]| (0..3).any(|n| passes(t, s[n], s[(n + 1) % 3]));
            found += usize::from(through(corners[*i], corners[*j]) || through(corners[*j], corners[*i]));
        }
    }
    found
}

/// Whether a point is inside, by the solid angle that the mesh has from it (van Oosterom and Strackee, IEEE Trans.
/// Biomed. Eng. 30 (1983), 125).
fn contains(mesh: &Mesh, p: Point3<f64>) -> bool {
    let angle = |t: [Point3<f64>; 3]| {
        let [a, b, c] = t.map(|v| v - p);
        let [x, y, z] = [a, b, c].map(|v: Vector3<f64>| v.norm());
        2.0 * a.dot(&b.cross(&c)).atan2(x * y * z + a.dot(&b) * z + b.dot(&c) * x + c.dot(&a) * y)
    };
    mesh.corners().map(angle).sum::<f64>() > 2.0 * std::f64::consts::PI
}

/// Strips and blanks by share of the board.
fn pieces(xs: &[f64], ys: &[f64]) -> Vec<Piece> {
    let cuts = |shares: &[f64], size: f64| {
        let mut all: Vec<f64> = shares.iter().map(|s| s * size).chain([0.0, size]).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let (xs, ys) = (cuts(xs, BOARD.length), cuts(ys, BOARD.width));
    let piece = |place: usize, blank: usize| Piece {
        place,
        blank,
        low: Point3::new(xs[place], ys[blank], 0.0),
        high: Point3::new(xs[place + 1], ys[blank + 1], BOARD.thickness),
    };
    (0..xs.len() - 1).flat_map(|s| (0..ys.len() - 1).map(move |b| (s, b))).map(|(s, b)| piece(s, b)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    /// Closed, oriented, no degenerate triangle, none that cross, within the bound.
    #[test]
    fn any_board_that_can_be_is_closed_and_within_its_bound(cuts in any_cuts(), hold in any_handhold()) {
        let Ok(body) = Body::cut(BOARD, hold.as_slice(), &cuts) else { return Ok(()) };
        let (mesh, exact) = (body.mesh(0.3).unwrap(), body.exact());
        prop_assert!(mesh.is_closed());
        prop_assert!(mesh.thinnest() > 0.0);
        prop_assert_eq!(crossings(&mesh), 0);
        let off = (mesh.volume() - exact.volume).abs();
        prop_assert!(off <= body.mesh_bound(0.3) + 1e-12 * exact.volume, "{off} > {}", body.mesh_bound(0.3));
    }

    /// Pieces add up to the board, are closed, and where two touch their points are the same, bit by bit.
    #[test]
    fn the_pieces_of_any_board_add_up(
        cuts in any_cuts(), hold in any_handhold(),
        xs in prop::collection::vec(0.05..0.95f64, 1..3), ys in prop::collection::vec(0.1..0.9f64, 0..2),
    ) {
        let Ok(body) = Body::cut(BOARD, hold.as_slice(), &cuts) else { return Ok(()) };
        let all = body.cut_pieces(&pieces(&xs, &ys), 0.3).unwrap();
        let whole = body.mesh(0.3).unwrap().volume();
        let sum: f64 = all.iter().map(|c| c.mesh.volume()).sum();
        prop_assert!((sum - whole).abs() < 1e-9 * whole, "{sum} for {whole}");
        let mut known: HashMap<[i64; 3], Point3<f64>> = HashMap::new();
        for cut in &all {
            prop_assert!(cut.mesh.is_closed());
            for v in &cut.mesh.vertices {
                #[allow(clippy::cast_possible_truncation)]
                let place = [v.x, v.y, v.z].map(|c| (c * 1e5).round() as i64);
                let first = known.entry(place).or_insert(*v);
                prop_assert!((*first - v).norm() > 1e-7 || *first == *v, "{first:?} and {v:?}");
            }
        }
    }

    /// Without a cut that crosses nothing the board is larger by exactly that cut.
    #[test]
    fn any_cut_left_out_adds_its_volume(cuts in any_cuts(), hold in any_handhold()) {
        let Ok(body) = Body::cut(BOARD, hold.as_slice(), &cuts) else { return Ok(()) };
        let volume = body.volume();
        for i in (0..body.sweeps.len()).filter(|i| !body.sweeps[*i].crosses) {
            let mut without = body.clone();
            let taken = without.sweeps.remove(i).sweep.volume();
            prop_assert!((without.volume() - volume - taken).abs() < 1e-12 * volume, "{} for {taken}", without.volume() - volume);
        }
        if let Some(recess) = body.recesses().next() {
            let without = Body::cut(BOARD, &[], &cuts).unwrap().volume();
            prop_assert!((without - volume - recess.volume()).abs() < 1e-12 * volume);
        }
    }

    /// Nothing is mirrored: wood is gone where the plan's setbacks, counted by hand from the named corners, put each
    /// cut, and stands at that place's mirror images.
    #[test]
    fn nothing_is_mirrored(edge in 0usize..4, near in 20.0..45.0f64, more in 45.0..60.0f64, low in 7.0..8.0f64) {
        let edge = Edge::ALL[edge];
        let hold = Handhold {
            bit: bit(12.0, 2.0),
            reach: Reach::Setbacks([mm(near), mm(near + more)]),
            above_lower_face: Some(mm(low + 4.0)),
            ..handhold(edge)
        };
        let finger = FingerRecess {
            edge: match edge { Edge::Left => Edge::Right, Edge::Right => Edge::Left, Edge::Front => Edge::Back, Edge::Back => Edge::Front },
            bit: bit(12.0, 2.0),
            depth: mm(5.0),
            in_from_edge: mm(20.0),
            setbacks: [mm(near), mm(near + more)],
            rise: Some(mm(8.0)),
            rim: None,
        };
        let cuts = Cuts { finger_recesses: vec![finger], ..Cuts::default() };
        let mesh = Body::cut(BOARD, &[hold], &cuts).unwrap().mesh(0.2).unwrap();
        sound(&mesh);
        let (l, w) = (BOARD.length, BOARD.width);
        // Standing before the edge with the show face up, the first setback is at the left hand: so far along, so far in.
        let place = |e: Edge, along: f64, inward: f64| match e {
            Edge::Front => [along, inward],
            Edge::Back => [l - along, w - inward],
            Edge::Left => [inward, w - along],
            Edge::Right => [l - inward, along],
        };
        let other = cuts.finger_recesses[0].edge;
        let start = near + 8.0;
        for (e, inward, z) in [(edge, 2.0, low + 4.0), (other, 20.0, 2.0)] {
            let long = e.length(&BOARD);
            let at = |along: f64, z: f64| { let [x, y] = place(e, along, inward); Point3::new(x, y, z) };
            prop_assert!(!contains(&mesh, at(start, z)), "{e:?}: no cut where it should be");
            prop_assert!(contains(&mesh, at(long - start, z)), "{e:?}: mirrored along its edge");
            prop_assert!(contains(&mesh, at(start, BOARD.thickness - z)), "{e:?}: mirrored in the thickness");
            let [x, y] = place(e, start, inward);
            prop_assert!(contains(&mesh, Point3::new(l - x, w - y, z)), "{e:?}: turned half round");
        }
        // The arc's middle lies farther in.
        let middle = near + 6.0 + (other.length(&BOARD) - 2.0 * near - more - 12.0) / 2.0;
        let [x, y] = place(other, middle, 28.0);
        prop_assert!(!contains(&mesh, Point3::new(x, y, 2.0)));
        let [x, y] = place(other, middle, 12.0);
        prop_assert!(contains(&mesh, Point3::new(x, y, 2.0)));
    }
}
