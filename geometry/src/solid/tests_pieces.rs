//! Laws of the pieces: both ways agree, neighbours share their points, nothing overlaps.

use super::tests::{BOARD, hold, pieces};
use super::{Body, CutPiece, Mesh};
use crate::board::Piece;
use crate::cut::{Cuts, Easing, Edge, Finished, Handhold};
use crate::measure::Length;
use nalgebra::Point3;
use proptest::prelude::*;
use std::collections::HashSet;

/// Both ways agree piece by piece; all are closed; their volumes add up. Gives how many of the cut
/// pieces have a volume other than their box's.
fn agree(board: &Finished, holds: &[Handhold], boxes: &[Piece], tolerance: f64) -> usize {
    let body = Body::of(*board, holds).unwrap();
    let direct = body.cut_pieces(boxes, tolerance).unwrap();
    let boolean = body.cut_pieces_by_boolean(boxes, tolerance).unwrap();
    let mut touched = 0;
    for (a, b) in direct.iter().zip(&boolean) {
        assert!(a.mesh.is_closed(), "{:?}", a.piece);
        let size = a.piece.high - a.piece.low;
        let whole = size.x * size.y * size.z;
        let (va, vb) = (a.mesh.volume(), b.mesh.volume());
        assert!((va - vb).abs() <= 1e-9 * whole, "{va} for {vb}: {:?}", a.piece);
        // Triangles that cover one another would leave the volume as it is.
        let (sa, sb) = (a.mesh.area(), b.mesh.area());
        assert!((sa - sb).abs() <= 1e-9 * sa, "{sa} for {sb}: {:?}", a.piece);
        assert_eq!(a.mesh.extent().unwrap(), [a.piece.low, a.piece.high]);
        touched += usize::from((va - whole).abs() > 1e-9 * whole);
    }
    let sum: f64 = direct.iter().map(|cut| cut.mesh.volume()).sum();
    let whole = body.mesh(tolerance).unwrap().volume();
    assert!((sum - whole).abs() < 1e-9 * whole, "{sum} for {whole}");
    share_points(&direct);
    touched
}

/// The points of a mesh on a plane across an axis, strictly within a window of the other two.
fn on_plane(mesh: &Mesh, axis: usize, at: f64, low: &Point3<f64>, high: &Point3<f64>) -> HashSet<[u64; 3]> {
    let within =
        |p: &&Point3<f64>| p[axis] == at && (0..3).filter(|k| *k != axis).all(|k| low[k] < p[k] && p[k] < high[k]);
    mesh.vertices.iter().filter(within).map(|p| [p.x, p.y, p.z].map(f64::to_bits)).collect()
}

/// Every two neighbours have the same points on the face between them.
fn share_points(cut: &[CutPiece]) {
    for axis in [0, 1] {
        for a in cut {
            for b in cut.iter().filter(|b| b.piece.low[axis] == a.piece.high[axis]) {
                let (low, high) = (a.piece.low.sup(&b.piece.low), a.piece.high.inf(&b.piece.high));
                if (0..3).filter(|k| *k != axis).all(|k| low[k] < high[k]) {
                    let at = a.piece.high[axis];
                    let [a, b] = [a, b].map(|cut| on_plane(&cut.mesh, axis, at, &low, &high));
                    assert_eq!(a, b);
                }
            }
        }
    }
}

#[test]
fn both_ways_agree_on_grids() {
    let holds = [
        hold(Edge::Left, 19.0, 3.175, 9.0, [50.0, 40.0]),
        hold(Edge::Right, 19.0, 9.5, 7.0, [40.0, 60.0]),
        hold(Edge::Back, 12.7, 0.0, 9.0, [100.0, 90.0]),
        hold(Edge::Front, 25.0, 12.5, 14.0, [60.0, 90.0]),
    ];
    for (strips, blanks) in [(14, 5), (30, 20), (14, 1), (1, 1), (7, 3), (1, 9)] {
        let touched = agree(&BOARD, &holds, &pieces(&BOARD, strips, blanks), 0.02);
        assert!(touched >= 1, "{strips} × {blanks}");
    }
}

/// A glue line through the very end of a recess, through its floor, and along its middle.
#[test]
fn planes_that_touch_a_recess_exactly() {
    let holds = [hold(Edge::Front, 19.0, 0.0, 10.0, [100.0, 100.0]), hold(Edge::Left, 12.0, 6.0, 8.0, [60.0, 60.0])];
    let xs = [0.0, 8.0, 100.0, 109.5, 150.0, 190.8, 200.3, BOARD.length];
    let ys = [0.0, 10.0, 60.0, 66.0, 134.7, 140.7, BOARD.width];
    let boxes: Vec<Piece> = xs
        .windows(2)
        .enumerate()
        .flat_map(|(place, x)| {
            ys.windows(2).enumerate().map(move |(blank, y)| Piece {
                place,
                blank,
                low: Point3::new(x[0], y[0], 0.0),
                high: Point3::new(x[1], y[1], BOARD.thickness),
            })
        })
        .collect();
    let body = Body::of(BOARD, &holds).unwrap();
    let cut = body.cut_pieces(&boxes, 0.05).unwrap();
    let sum: f64 = cut.iter().map(|c| c.mesh.volume()).sum();
    let whole = body.mesh(0.05).unwrap().volume();
    assert!(cut.iter().all(|c| c.mesh.is_closed()));
    assert!((sum - whole).abs() < 1e-9 * whole, "{sum} for {whole}");
}

/// The board that is measured: nearly all of its touched pieces are built directly.
#[test]
fn the_boolean_is_seldom_needed() {
    let board = Finished { length: 450.0, width: 300.0, thickness: 40.0 };
    let setback = (300.0 - 80.0 - 12.7) / 2.0;
    let holds = [Edge::Left, Edge::Right].map(|edge| hold(edge, 12.7, 3.175, 12.0, [setback; 2]));
    let boxes = pieces(&board, 30, 20);
    let body = Body::of(board, &holds).unwrap();
    let tools: Vec<_> =
        body.recess_solids(0.02).iter().map(|solid| super::clip::Cutter::of(solid).expect("convex")).collect();
    let touched: Vec<_> =
        boxes.iter().flat_map(|b| tools.iter().filter(|t| t.reaches(&b.low, &b.high)).map(move |t| (b, t))).collect();
    assert_eq!(touched.len(), 16);
    assert!(touched.iter().all(|(b, tool)| tool.cut(&b.low, &b.high).is_some()));
}

#[test]
fn a_cutter_that_is_not_convex_is_refused() {
    let body = Body::of(BOARD, &[hold(Edge::Front, 19.0, 3.0, 10.0, [60.0, 60.0])]).unwrap();
    assert!(super::clip::Cutter::of(&body.mesh(0.05).unwrap()).is_none());
    let mut open = Mesh::cuboid(&Point3::origin(), &Point3::new(1.0, 2.0, 3.0));
    assert!(super::clip::Cutter::of(&open).is_some());
    open.triangles.pop();
    assert!(super::clip::Cutter::of(&open).is_none());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    #[test]
    fn both_ways_agree_on_any_board(
        diameter in 4.0..30.0f64, share in 0.0..=1.0f64, depth in 0.5..25.0f64, near in 5.0..80.0f64, far in 5.0..80.0f64,
        edge in 0usize..4, fine in 0.01..0.2f64, strips in 1usize..12, blanks in 1usize..9,
    ) {
        let hold = hold(Edge::ALL[edge], diameter, diameter * share / 2.0, depth, [near, far]);
        agree(&BOARD, &[hold], &pieces(&BOARD, strips, blanks), fine);
    }
}

/// Where rims are eased the boolean cuts the pieces; one in which a recess ends at the glue line doesn't hang together
/// along a line of no width. The first sample's sizes, in which it once did.
#[test]
fn a_recess_that_ends_at_a_glue_line_leaves_no_two_points_in_one_place() {
    let board = Finished { length: 276.225, width: 212.725, thickness: 34.925 };
    let eased = Easing::RoundOver(Length::nearest_to_mm(1.5875));
    let cuts = Cuts { upper_rim: Some(eased), lower_rim: Some(eased), ..Cuts::default() };
    let body = Body::cut(board, &[hold(Edge::Front, 19.05, 3.175, 6.35, [76.2, 76.2])], &cuts).unwrap();
    let (low, high) = (Point3::new(76.2, 0.0, 0.0), Point3::new(96.8375, 31.75, board.thickness));
    let cut = body.cut_pieces(&[Piece { place: 4, blank: 5, low, high }], 0.02).unwrap();
    let mesh = &cut[0].mesh;
    let places: HashSet<[u64; 3]> = mesh.vertices.iter().map(|p| [p.x, p.y, p.z].map(f64::to_bits)).collect();
    assert!(mesh.is_closed());
    assert_eq!(places.len(), mesh.vertices.len());
}
