//! What the model between two ends promises, checked.

use super::*;
use nalgebra::{Point2, Point3, Vector2};

const SIZE: Vector2<f64> = Vector2::new(60.0, 40.0);
const LENGTH: f64 = 300.0;
/// Where unevenly wide layers begin, mm.
const LAYERS: [f64; 18] =
    [-31.0, -28.2, -24.1, -22.0, -17.2, -14.1, -12.0, -7.4, -4.1, 0.2, 3.9, 6.2, 11.0, 13.9, 19.2, 21.8, 26.4, 31.0];

/// A line of points where `ring` layers stand at the end w: those that lie in the section.
fn layers(angle: f64, rise: f64) -> EndLines {
    let (across, along) = (Vector2::new(angle.sin(), angle.cos()), Vector2::new(angle.cos(), -angle.sin()));
    let mut rings = Vec::new();
    for at in LAYERS {
        let mut points = Vec::new();
        for step in -50..=50 {
            let p = Point2::from(SIZE / 2.0 + across * (at + rise) + along * f64::from(step));
            if (0.0..=SIZE.x).contains(&p.x) && (0.0..=SIZE.y).contains(&p.y) {
                points.push(p);
            }
        }
        if points.len() > 1 {
            rings.push(EndLine { points, ..EndLine::default() });
        }
    }
    EndLines { rings, ..EndLines::default() }
}

/// The number of layers below `LAYERS[k]`, running on between: the true ring number but for a constant.
fn layer(distance: f64) -> f64 {
    let k = LAYERS.partition_point(|at| *at <= distance).clamp(1, LAYERS.len() - 1);
    k as f64 - 1.0 + (distance - LAYERS[k - 1]) / (LAYERS[k] - LAYERS[k - 1])
}

fn grid() -> impl Iterator<Item = Point3<f64>> {
    let part = |n: u32| f64::from(n) / 6.0;
    (0..343_u32).map(move |n| Point3::new(SIZE.x * part(n % 7), SIZE.y * part(n / 7 % 7), LENGTH * part(n / 49)))
}

/// Layers that lean by `angle` and rise by 8 mm.
fn tilted(angle: f64) -> Ends {
    Ends { size: SIZE, length: LENGTH, near: layers(angle, -3.0), far: layers(angle, 5.0), ..Ends::default() }
}

fn tilted_ring(angle: f64, at: &Point3<f64>) -> f64 {
    let across = (at.x - SIZE.x / 2.0) * angle.sin() + (at.y - SIZE.y / 2.0) * angle.cos();
    layer(across + 3.0 - 8.0 * at.z / LENGTH)
}

#[test]
fn tilted_layers_of_uneven_width_are_exact() {
    for angle in [0.0, 0.4, 1.2] {
        let wood = tilted(angle).join().unwrap();
        let middle = Point3::new(30.0, 20.0, 150.0);
        let first = (tilted_ring(angle, &middle) - wood.ring(&middle)).round();
        let inside = |p: &Point3<f64>| tilted_ring(angle, p) - first >= -wood.matched().shift as f64;
        let mut seen = 0;
        for p in grid().filter(inside).filter(|p| wood.promise(p) != Promise::Nothing) {
            let true_ring = tilted_ring(angle, &p) - first;
            if wood.outside_years(&p) {
                continue;
            }
            seen += 1;
            approx::assert_abs_diff_eq!(wood.ring(&p), true_ring, epsilon = 1e-9);
        }
        assert!(seen > 250, "{seen}");
    }
}

/// Rings about a pith, radius measured there; `taper` is taken off the radii.
fn round(pith: Point2<f64>, taper: f64) -> Vec<EndLine> {
    let mut rings = Vec::new();
    for layer in LAYERS {
        let r = 75.0 + layer - taper;
        let points: Vec<Point2<f64>> = (0..=4000)
            .map(|n| std::f64::consts::PI * f64::from(n) / 4000.0)
            .map(|angle| pith + Vector2::new(r * angle.cos(), r * angle.sin()))
            .filter(|p| (0.0..=SIZE.x).contains(&p.x) && (0.0..=SIZE.y).contains(&p.y))
            .collect();
        if points.len() > 40 {
            rings.push(EndLine { points, ..EndLine::default() });
        }
    }
    rings
}

/// The pith from below the blank's left part to below its right part.
fn cone(aside: f64, taper: f64, given: bool) -> ([Point2<f64>; 2], Between) {
    let piths = [Point2::new(25.0, -50.0), Point2::new(25.0 + aside, -50.0)];
    let end = |n: usize| EndLines {
        rings: round(piths[n], taper * n as f64),
        pith: given.then_some(piths[n]),
        ..EndLines::default()
    };
    let ends = Ends { size: SIZE, length: LENGTH, near: end(0), far: end(1), ..Ends::default() };
    (piths, ends.join().unwrap())
}

/// Greatest difference in rings between a cone and what is made of it, less the bound at each place.
///
/// Without the pith only where both ends are traced around a place: the corners are extrapolated.
fn worst_on_cone(aside: f64, taper: f64, given: bool, bound: impl Fn(f64, f64) -> f64) -> f64 {
    let (piths, wood) = cone(aside, taper, given);
    let truth = |p: &Point3<f64>| {
        let t = p.z / LENGTH;
        let from = p.xy() - (piths[0] + (piths[1] - piths[0]) * t);
        (layer(from.norm() + taper * t - 75.0), bound(t, from.norm()))
    };
    let middle = Point3::new(30.0, 20.0, 10.0);
    let first = (truth(&middle).0 - wood.ring(&middle)).round();
    let traced = |p: &Point3<f64>| given || ((p.x - 30.0).abs() < 21.0 && (p.y - 20.0).abs() < 14.0);
    let known = grid().filter(|p| traced(p) && !wood.outside_years(p));
    let gaps: Vec<f64> = known.map(|p| (wood.ring(&p) - truth(&p).0 + first).abs() - truth(&p).1).collect();
    assert!(gaps.len() > 150, "{}", gaps.len());
    gaps.into_iter().fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn a_cone_with_its_pith_is_exact_but_for_the_chords_of_its_lines() {
    // 128 points to an arc leave a chord's sag of some thousandths of a millimetre.
    for (aside, taper) in [(0.0, 0.0), (0.0, 6.0), (12.0, 6.0)] {
        let worst = worst_on_cone(aside, taper, true, |_, _| 0.0);
        assert!(worst < 2e-3, "{worst}");
    }
}

#[test]
fn a_cone_without_its_pith_is_off_by_no_more_than_the_second_order_of_a_linear_blend() {
    // Least layer 2.1 mm; the lines are followed within a fiftieth of a ring in the mean.
    let followed = 0.12;
    for (aside, taper) in [(0.0, 6.0), (12.0, 6.0)] {
        let bound = |t: f64, r: f64| followed + t * (1.0 - t) * aside * aside / (2.0 * r) / 2.1;
        let over = worst_on_cone(aside, taper, false, bound);
        assert!(over <= 0.0, "{aside} {over}");
    }
}

/// Ring widths in the middle of two neighbouring rings' lines, in pixels of 1/256 of the cube's
/// side, measured on both end-grain faces of sample CN03 of: Larsson, Yamaguchi, Pajouheshgar,
/// Shen, Tojo, Chang, Hansson, Broman, Ijiri, Shamir, Jakob, Igarashi: "The Mokume Dataset and
/// Inverse Modeling of Solid Wood Textures", ACM Transactions on Graphics 44(4), 2025.
const CUBE_NEAR: [f64; 9] = [28.2, 24.1, 26.2, 30.1, 26.0, 28.2, 25.1, 26.0, 26.8];
const CUBE_FAR: [f64; 10] = [24.5, 20.9, 27.4, 30.0, 24.4, 25.3, 29.1, 23.7, 27.0, 24.3];

#[test]
fn real_wood_is_matched_by_its_widths_and_not_by_least_shift() {
    let found = match_widths(&CUBE_NEAR.map(Some), &CUBE_FAR.map(Some)).unwrap();
    assert_eq!((found.shift, found.shared), (3, 7));
    assert!(found.margin >= LEAST_MARGIN && found.next.is_some(), "{found:?}");
    // With the last shared ring out of sight too few are left, and it says so.
    let short = match_widths(&CUBE_NEAR.map(Some), &CUBE_FAR[..6].iter().copied().map(Some).collect::<Vec<_>>());
    assert!(matches!(short, Err(Unjoined::TooFewRings { .. })), "{short:?}");
}

/// Level layers of 3 mm each, which move by `rise`.
fn even(rise: f64) -> EndLines {
    let heights = (0..60).map(|n| 3.0 * f64::from(n) - 60.5 + rise).filter(|v| (0.0..=SIZE.y).contains(v));
    let line = |v: f64| EndLine {
        points: (0..=12).map(|n| Point2::new(5.0 * f64::from(n), v)).collect(),
        ..EndLine::default()
    };
    EndLines { rings: heights.map(line).collect(), ..EndLines::default() }
}

#[test]
fn even_rings_are_not_matched_until_a_name_or_a_long_face_says_which() {
    let mut ends = Ends { size: SIZE, length: LENGTH, near: even(0.0), far: even(7.0), ..Ends::default() };
    let refused = ends.clone().join();
    assert!(matches!(&refused, Err(Unjoined::TwoMatches { margin, .. }) if *margin < 1.01), "{refused:?}");
    let said = refused.unwrap_err().to_string();
    assert!(said.contains("name one ring") && said.contains("long face"), "{said}");

    let shift = 3;
    let mut named = ends.clone();
    named.near.rings[4].name = "drought".into();
    named.far.rings[4 + shift].name = "drought".into();
    assert_eq!(named.clone().join().unwrap().matched().shift, shift as i64);
    named.near.rings[5].name = "flood".into();
    named.far.rings[5].name = "flood".into();
    assert!(matches!(named.join(), Err(Unjoined::NamesDisagree { .. })));

    let start = ends.near.rings[4].points[0].y;
    let along = |n: u32| Point3::new(0.0, start + 7.0 * f64::from(n) / 30.0, LENGTH * f64::from(n) / 30.0);
    ends.courses.push(Course { number: None, points: (0..=30).map(along).collect(), ..Course::default() });
    assert_eq!(ends.join().unwrap().matched().shift, shift as i64);
}

/// Tilted layers that bow by 2 mm halfway, and the course of one of them along the face u = 0.
fn bowed_course(number: i64, u: f64) -> Course {
    let flat = tilted(0.0).join().unwrap();
    let line = |n: u32| {
        let w = LENGTH * f64::from(n) / 40.0;
        let bow = 2.0 * (std::f64::consts::PI * w / LENGTH).sin();
        // Where the straight wood has the ring, moved by the bow.
        let rings = (0..400).map(|step| 0.1 * f64::from(step));
        let v = rings.min_by(|a, b| {
            let off = |v: f64| (flat.ring(&Point3::new(u, v, w)) - number as f64).abs();
            off(*a).total_cmp(&off(*b))
        });
        Point3::new(u, v.unwrap() + bow, w)
    };
    Course { points: (0..=40).map(line).collect(), ..Course::default() }
}

#[test]
fn a_line_part_way_bends_the_rings_beside_it_and_leaves_the_ends() {
    let straight = tilted(0.0).join().unwrap();
    let mut ends = tilted(0.0);
    ends.courses = vec![bowed_course(4, 0.0)];
    let bent = ends.join().unwrap();
    assert_eq!(bent.numbers(), [Numbered { number: 4, sure: true }]);
    for p in &bowed_course(4, 0.0).points {
        assert!((bent.ring(p) - 4.0).abs() < 0.1, "{p} {}", bent.ring(p));
    }
    // Across the blank it moves the same way, and by less.
    let across = Point3::new(SIZE.x, 20.0, LENGTH / 2.0);
    let moved = straight.across(&across) - bent.across(&across);
    assert!(moved > 0.1 && moved < 2.0, "{moved}");
    for p in grid().filter(|p| p.z == 0.0 || p.z == LENGTH) {
        approx::assert_abs_diff_eq!(bent.ring(&p), straight.ring(&p), epsilon = 1e-9);
    }
}

#[test]
fn the_band_grows_toward_the_middle_and_is_narrow_beside_a_given_line() {
    let mut ends = Ends { size: SIZE, length: LENGTH, near: even(0.0), far: even(7.0), ..Ends::default() };
    ends.near.rings[4].name = "drought".into();
    ends.far.rings[7].name = "drought".into();
    let wood = ends.join().unwrap();
    let widths = [0.0, 0.1, 0.3, 0.5].map(|t| wood.half_width(&Point3::new(30.0, 20.0, LENGTH * t)));
    assert!(widths[0] < 0.1 && widths.is_sorted(), "{widths:?}");
    let mut ends = tilted(0.0);
    let bare = ends.clone().join().unwrap();
    let line = bowed_course(4, 0.0);
    ends.courses = vec![line.clone()];
    let told = ends.join().unwrap();
    let beside = line.points[20];
    assert!(told.half_width(&beside) < 0.3 * bare.half_width(&beside));
    assert_eq!(told.promise(&beside), Promise::Rings);
}

#[test]
fn the_heartwood_line_keeps_its_own_place() {
    // Level, at 12 mm from below at the near end and at 30 mm at the far one, where rings rise by 8.
    let line = |v: f64| EndLine { name: "heartwood".into(), points: vec![Point2::new(0.0, v), Point2::new(60.0, v)] };
    let mut ends = tilted(0.0);
    ends.near.boundaries = vec![line(12.0)];
    ends.far.boundaries = vec![line(30.0)];
    let wood = ends.join().unwrap();
    for (w, v) in [(0.0, 12.0), (150.0, 21.0), (300.0, 30.0)] {
        for u in [0.0, 20.0, 60.0] {
            let off = wood.beyond_boundary("heartwood", &Point3::new(u, v + 1.0, w)).unwrap();
            approx::assert_abs_diff_eq!(off, 1.0, epsilon = 1e-6);
        }
    }
    assert_eq!(wood.beyond_boundary("bark", &Point3::origin()), None);
}

#[test]
fn nothing_is_promised_in_a_knot_or_far_from_what_was_traced() {
    let mut ends = tilted(0.0);
    ends.disturbed = vec![Disturbed { middle: Point3::new(10.0, 10.0, 20.0), radius: 8.0 }];
    let wood = ends.join().unwrap();
    assert_eq!(wood.promise(&Point3::new(12.0, 12.0, 20.0)), Promise::Nothing);
    assert_eq!(wood.promise(&Point3::new(40.0, 12.0, 2.0)), Promise::Rings);
    assert_eq!(wood.promise(&Point3::new(40.0, 500.0, 2.0)), Promise::Nothing);
}

#[test]
fn what_cannot_be_is_refused() {
    assert_eq!(Ends::default().join().unwrap_err(), Unjoined::NotANumber);
    let mut ends = tilted(0.0);
    ends.near.rings[1].points[0].x = f64::NAN;
    assert_eq!(ends.join().unwrap_err(), Unjoined::NotANumber);
    let mut ends = tilted(0.0);
    ends.far.rings.truncate(1);
    assert_eq!(ends.join().unwrap_err(), Unjoined::TooFewLines { end: "far" });
    let mut ends = tilted(0.0);
    ends.near.rings[1].points.clear();
    assert_eq!(ends.join().unwrap_err(), Unjoined::TooFewLines { end: "near" });
    let mut ends = tilted(0.0);
    ends.courses = vec![Course::default(); 1001];
    assert_eq!(ends.join().unwrap_err(), Unjoined::TooMany { most: 1000 });
    let wood = tilted(0.0).join().unwrap();
    for x in [f64::NAN, f64::INFINITY, -1e300] {
        let p = Point3::new(x, x, x);
        assert!(wood.ring(&p).is_finite() && wood.half_width(&p).is_finite(), "{x}");
        assert_eq!(wood.promise(&p), Promise::Nothing);
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]

    #[test]
    fn no_scribble_panics(places in proptest::collection::vec((-50.0..90.0, -50.0..90.0, -10.0..310.0), 30..60)) {
        let flat: Vec<Point2<f64>> = places.iter().map(|(u, v, _)| Point2::new(*u, *v)).collect();
        let lines = |points: &[Point2<f64>]| -> Vec<EndLine> {
            points.chunks(3).map(|c| EndLine { points: c.to_vec(), name: String::new() }).filter(|l| l.points.len() > 1).collect()
        };
        let course = places.iter().map(|(u, v, w)| Point3::new(*u, *v, *w)).collect();
        let mut ends = Ends { size: SIZE, length: LENGTH, ..Ends::default() };
        ends.near.rings = lines(&flat);
        ends.far.rings = lines(&flat);
        ends.near.rings[0].name = "one".into();
        ends.far.rings[0].name = "one".into();
        ends.courses = vec![Course { number: None, points: course, ..Course::default() }];
        if let Ok(wood) = ends.join() {
            for p in grid().step_by(20) {
                proptest::prop_assert!(wood.ring(&p).is_finite() && wood.half_width(&p).is_finite());
                let _ = wood.promise(&p);
            }
        }
    }
}

#[test]
fn no_unit_of_length_is_built_in() {
    // The same wood a tenth and ten times as large has the same rings and the same band.
    let mut ends = tilted(0.4);
    ends.courses = vec![Course { number: Some(4), points: bowed_course(4, 0.0).points, ..Course::default() }];
    let wood = ends.clone().join().unwrap();
    for scale in [0.1, 10.0] {
        let mut other = ends.clone();
        (other.size, other.length) = (ends.size * scale, ends.length * scale);
        for line in other.near.rings.iter_mut().chain(&mut other.far.rings) {
            line.points.iter_mut().for_each(|p| *p *= scale);
        }
        other.courses[0].points.iter_mut().for_each(|p| *p *= scale);
        let other = other.join().unwrap();
        for p in grid().step_by(5) {
            approx::assert_abs_diff_eq!(other.ring(&(p * scale)), wood.ring(&p), epsilon = 1e-6);
            approx::assert_abs_diff_eq!(other.half_width(&(p * scale)), wood.half_width(&p), epsilon = 1e-6);
        }
    }
}
