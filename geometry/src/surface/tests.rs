//! Laws of the surface: every texel shows its own point, nothing opens.

use super::{Atlas, Seen, Thing, View, refined, smooth_normals};
use crate::board::tests::turned;
use crate::cut::{Bit, Edge, Finished, Handhold, Reach};
use crate::layup::Turn;
use crate::measure::Length;
use crate::solid::{Body, Mesh};
use nalgebra::{Point3, Vector3};

fn hold(edge: Edge, corner: f64, depth: f64) -> Handhold {
    let mm = Length::nearest_to_mm;
    let bit = Bit {
        name: "round".into(),
        diameter: mm(12.0),
        corner_radius: mm(corner),
        reach: mm(40.0),
        flutes: 2,
        cuts_at_centre: true,
        most_speed: None,
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    let reach = Reach::Setbacks([mm(20.0); 2]);
    Handhold { edge, bit, depth: mm(depth), reach, above_lower_face: None, passes: None, width: None, rim: None }
}

fn mesh(board: &Finished) -> Mesh {
    let holds = [hold(Edge::Front, 3.0, 8.0), hold(Edge::Back, 6.0, 5.0), hold(Edge::Left, 0.0, 6.0)];
    Body::of(*board, &holds).unwrap().mesh(0.05).unwrap()
}

#[test]
fn every_texel_shows_the_wood_at_its_own_point() {
    let board = turned(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]);
    let mesh = mesh(&board.finished());
    let atlas = Atlas::of(&mesh, 0.4).unwrap();
    let pages = atlas.baked(&board, 3);
    let mut seen = 0;
    for (i, corners) in mesh.corners().enumerate() {
        let (page, at) = atlas.corners(i).unwrap();
        let picture = &pages[page];
        let [a, b, c] = at.map(|[x, y]| [x * picture.width as f64, y * picture.height as f64]);
        let area =
            |p: [f64; 2], q: [f64; 2], r: [f64; 2]| (q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]);
        // The texel that holds the middle; where in the triangle its own middle lies.
        let [x, y] = [0, 1].map(|k| ((a[k] + b[k] + c[k]) / 3.0).floor());
        let middle = [x + 0.5, y + 0.5];
        let parts = [area(middle, b, c), area(a, middle, c), area(a, b, middle)].map(|part| part / area(a, b, c));
        if parts.iter().any(|part| *part < 0.01) {
            continue;
        }
        let point = (0..3).map(|k| corners[k].coords * parts[k]).sum::<Vector3<f64>>();
        let size = board.finished();
        let most = Point3::new(size.length, size.width, size.thickness);
        let point = Point3::from(point).sup(&Point3::origin()).inf(&most);
        // On a glue line rounding decides whose wood it is.
        let strips = 0..board.strips().len();
        let blanks = strips.clone().flat_map(|place| board.blank_spans(place)).flatten();
        let on = |line: f64, at: f64| (line - at).abs() < 1e-9;
        if strips.flat_map(|place| board.span(place)).any(|x| on(x, point.x))
            || blanks.into_iter().any(|y| on(y, point.y))
        {
            continue;
        }
        let wanted = board.colour(&point, atlas.pixel()).unwrap().to_srgb8();
        let start = (y as usize * picture.width + x as usize) * 3;
        let found = &picture.bytes[start..start + 3];
        let off = wanted.iter().zip(found).map(|(w, f)| w.abs_diff(*f)).max().unwrap();
        assert!(off <= 1, "triangle {i}: {wanted:?} for {found:?} at {point}");
        seen += 1;
    }
    assert!(seen > mesh.triangles.len() / 4, "only {seen} of {} looked at", mesh.triangles.len());
}

#[test]
fn pages_keep_to_their_limits() {
    let board = Finished { length: 450.0, width: 300.0, thickness: 40.0 };
    let mesh = mesh(&board);
    for pixel in [0.0, 0.001, 0.17, 5.0, 1e9] {
        let atlas = Atlas::of(&mesh, pixel).unwrap();
        assert!(atlas.pixel() >= pixel);
        assert!(atlas.pages().iter().flatten().all(|side| (1..=4096).contains(side)), "{:?}", atlas.pages());
        for i in 0..mesh.triangles.len() {
            let (_, corners) = atlas.corners(i).unwrap();
            assert!(corners.iter().flatten().all(|share| (0.0..=1.0).contains(share)));
        }
    }
    assert!(Atlas::of(&mesh, f64::NAN).is_none());
    assert!(Atlas::of(&Mesh::default(), 0.1).is_none());
}

#[test]
fn a_refined_mesh_is_the_same_solid_with_short_edges() {
    let board = Finished { length: 90.0, width: 70.0, thickness: 20.0 };
    let coarse = mesh(&board);
    let fine = refined(&coarse, 4.0);
    assert!(fine.is_closed());
    assert!((fine.volume() - coarse.volume()).abs() < 1e-9 * coarse.volume());
    let longest = fine.corners().map(|[a, b, c]| (b - a).norm().max((c - b).norm()).max((a - c).norm()));
    assert!(longest.fold(0.0, f64::max) <= 4.0);
}

#[test]
fn flat_faces_keep_their_normals_and_round_ones_turn() {
    let board = Finished { length: 90.0, width: 70.0, thickness: 20.0 };
    let mesh = mesh(&board);
    let normals = smooth_normals(&mesh);
    let mut turning = 0;
    for ((own, corners), points) in mesh.normals().zip(&normals).zip(mesh.corners()) {
        assert!(corners.iter().all(|n| (n.norm() - 1.0).abs() < 1e-12));
        if points.iter().all(|p| p.z == board.thickness) {
            assert_eq!(*corners, [Vector3::z(); 3]);
        }
        turning += usize::from(corners.iter().any(|n| (n - own).norm() > 0.01));
    }
    assert!(turning > 100, "{turning}");
}

fn seen(mesh: &Mesh, around: f64) -> (Seen, crate::board::Board) {
    let board = turned(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]);
    let things = [Thing { mesh, moved: Vector3::zeros(), strip: None }];
    (Seen::of(&board, &things, View::from(around, 35.0), 300, 2).unwrap(), board)
}

#[test]
fn a_box_shows_nine_edges_from_a_corner() {
    let board = turned(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]).finished();
    let high = Point3::new(board.length, board.width, board.thickness);
    let (seen, _) = seen(&Mesh::cuboid(&Point3::origin(), &high), 30.0);
    assert_eq!(seen.lines.len(), 9);
    let long = |[a, b]: &[[f64; 2]; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let wanted = 3.0
        * [Vector3::x() * high.x, Vector3::y() * high.y, Vector3::z() * high.z]
            .map(|side| (View::from(30.0, 35.0).on_page(&Point3::from(side))).coords.xy().norm())
            .iter()
            .sum::<f64>();
    assert!((seen.lines.iter().map(long).sum::<f64>() - wanted).abs() < 1e-9);
}

#[test]
fn what_is_behind_is_hidden() {
    let size = turned(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]).finished();
    let whole = mesh(&size);
    // Front and left have a recess, so has the back: none of its lines may show.
    let (seen, board) = seen(&whole, -30.0);
    let hidden = seen.place(&Point3::new(size.length / 2.0, size.width, size.thickness / 2.0));
    let near = |[a, b]: &[[f64; 2]; 2]| {
        let middle = [(a[0] + b[0]) / 2.0 - hidden[0], (a[1] + b[1]) / 2.0 - hidden[1]];
        middle[0].hypot(middle[1]) < 5.0
    };
    assert!(!seen.lines.iter().any(near));
    // The middle of the upper face shows its wood at full light.
    let top = Point3::new(size.length * 0.4, size.width * 0.45, size.thickness);
    let [x, y] = seen.place(&top).map(|mm| (mm / seen.pixel) as usize);
    let start = (y * seen.picture.width + x) * 3;
    let wanted = board.colour(&top, seen.pixel).unwrap().to_srgb8();
    let off = wanted.iter().zip(&seen.picture.bytes[start..]).map(|(w, f)| w.abs_diff(*f)).max().unwrap();
    assert!(off < 25, "{wanted:?} for {:?}", &seen.picture.bytes[start..start + 3]);
}

#[test]
fn nothing_to_be_seen_is_refused() {
    let board = turned(&[Turn::AsCut]);
    assert!(Seen::of(&board, &[], View::from(0.0, 90.0), 100, 1).is_none());
    let point = Mesh { vertices: vec![Point3::origin()], triangles: Vec::new() };
    let things = [Thing { mesh: &point, moved: Vector3::zeros(), strip: None }];
    assert!(Seen::of(&board, &things, View::from(0.0, 90.0), 100, 1).is_none());
}
