//! What the figure of a traced blank promises, checked.

use crate::wood::ends::{Course, Disturbed, EndLine, EndLines, Ends, HEARTWOOD, Promise, SeenEnds};
use crate::wood::tests::drawn_apart;
use crate::wood::{Colour, Figure, Shown, Wood};
use nalgebra::{Point2, Point3, Vector2};

const SIZE: Vector2<f64> = Vector2::new(60.0, 40.0);
const LENGTH: f64 = 300.0;
/// Where unevenly wide layers begin, mm.
const LAYERS: [f64; 20] = [
    -39.0, -34.2, -31.0, -28.2, -24.1, -22.0, -17.2, -14.1, -12.0, -7.4, -4.1, 0.2, 3.9, 6.2, 11.0, 13.9, 19.2, 21.8,
    26.4, 31.0,
];

/// The layers in a section, `rise` higher than they stand; lines that lie in it.
fn layers(rise: f64) -> EndLines {
    let line = |v: f64| EndLine {
        points: (0..=12).map(|n| Point2::new(5.0 * f64::from(n), v)).collect(),
        ..EndLine::default()
    };
    let heights = LAYERS.iter().map(|at| at + 20.0 + rise).filter(|v| (0.0..=SIZE.y).contains(v));
    EndLines { rings: heights.map(line).collect(), ..EndLines::default() }
}

fn tilted() -> Ends {
    Ends { size: SIZE, length: LENGTH, near: layers(-3.0), far: layers(5.0), ..Ends::default() }
}

fn layer(distance: f64) -> f64 {
    let k = LAYERS.partition_point(|at| *at <= distance).clamp(1, LAYERS.len() - 1);
    k as f64 - 1.0 + (distance - LAYERS[k - 1]) / (LAYERS[k] - LAYERS[k - 1])
}

fn tilted_ring(at: &Point3<f64>) -> f64 {
    layer(at.y - 20.0 + 3.0 - 8.0 * at.z / LENGTH)
}

fn walnut(ends: Ends) -> Figure {
    Figure::traced(Wood::named("black walnut").unwrap(), ends.join().unwrap(), false, 7)
}

fn grid() -> impl Iterator<Item = Point3<f64>> {
    let part = |n: u32| f64::from(n) / 6.0;
    (0..343_u32).map(move |n| Point3::new(SIZE.x * part(n % 7), SIZE.y * part(n / 7 % 7), LENGTH * part(n / 49)))
}

fn heartwood(near: f64, far: f64) -> Ends {
    let line = |v: f64| EndLine { name: HEARTWOOD.into(), points: vec![Point2::new(0.0, v), Point2::new(60.0, v)] };
    let mut ends = tilted();
    ends.near.boundaries = vec![line(near)];
    ends.far.boundaries = vec![line(far)];
    ends
}

#[test]
fn tilted_layers_are_exact_through_the_figure() {
    let wood = walnut(tilted());
    let first = (tilted_ring(&Point3::new(30.0, 20.0, 150.0)) - wood.ring(&Point3::new(30.0, 20.0, 150.0))).round();
    let mut seen = 0;
    for p in grid() {
        // Years that either end shows.
        let v = p.y - 8.0 * p.z / LENGTH;
        if !(-6.0..36.0).contains(&v) {
            continue;
        }
        seen += 1;
        approx::assert_abs_diff_eq!(wood.ring(&p), tilted_ring(&p) - first, epsilon = 1e-9);
    }
    assert!(seen > 250, "{seen}");
    approx::assert_abs_diff_eq!(wood.wander(), Vector2::new(0.0, 8.0 / LENGTH), epsilon = 1e-9);
}

/// Rings about a pith that moves, `taper` taken off the radii at the far end.
fn cone() -> (Ends, impl Fn(&Point3<f64>) -> f64) {
    let piths = [Point2::new(25.0, -50.0), Point2::new(37.0, -50.0)];
    let taper = 6.0;
    let end = |n: usize| {
        let arc = |radius: f64| -> Vec<Point2<f64>> {
            (0..=4000)
                .map(|n| std::f64::consts::PI * f64::from(n) / 4000.0)
                .map(|angle| piths[n] + Vector2::new(angle.cos(), angle.sin()) * radius)
                .filter(|p| (0.0..=SIZE.x).contains(&p.x) && (0.0..=SIZE.y).contains(&p.y))
                .collect()
        };
        let arcs = LAYERS.iter().map(|layer| arc(75.0 + layer - taper * n as f64)).filter(|arc| arc.len() > 40);
        let rings = arcs.map(|points| EndLine { points, ..EndLine::default() }).collect();
        EndLines { rings, pith: Some(piths[n]), ..EndLines::default() }
    };
    let ends = Ends { size: SIZE, length: LENGTH, near: end(0), far: end(1), ..Ends::default() };
    let truth = move |p: &Point3<f64>| {
        let t = p.z / LENGTH;
        layer((p.xy() - (piths[0] + (piths[1] - piths[0]) * t)).norm() + taper * t - 75.0)
    };
    (ends, truth)
}

#[test]
fn a_cone_is_drawn_as_exactly_as_it_is_known() {
    let (ends, truth) = cone();
    let between = ends.join().unwrap();
    let wood = Figure::traced(Wood::named("white ash").unwrap(), between.clone(), false, 7);
    let middle = Point3::new(30.0, 20.0, 10.0);
    let first = (truth(&middle) - wood.ring(&middle)).round();
    let known = grid().filter(|p| !between.outside_years(p));
    let worst = known.map(|p| (wood.ring(&p) - truth(&p) + first).abs()).fold(0.0, f64::max);
    assert!(worst < 2e-3, "{worst}");
    assert_eq!(wood.wander(), Vector2::new(12.0 / LENGTH, 0.0));
}

/// Lines on two long faces and a section, which bow the layers by 2 mm.
fn bowed() -> Ends {
    let mut ends = heartwood(12.0, 30.0);
    let v =
        |k: usize, w: f64| LAYERS[k] + 20.0 - 3.0 + 8.0 * w / LENGTH + 2.0 * (std::f64::consts::PI * w / LENGTH).sin();
    let along = |k: usize, u: f64| Course {
        points: (0..=30).map(|n| LENGTH * f64::from(n) / 30.0).map(|w| Point3::new(u, v(k, w), w)).collect(),
        ..Course::default()
    };
    ends.courses = vec![along(9, 0.0), along(11, 60.0)];
    let heart =
        |w: f64| Point3::new(0.0, 12.0 + 18.0 * w / LENGTH + 4.0 * (std::f64::consts::PI * w / LENGTH).sin(), w);
    let points = (0..=30).map(|n| heart(LENGTH * f64::from(n) / 30.0)).collect();
    ends.courses.push(Course { name: HEARTWOOD.into(), points, ..Course::default() });
    ends
}

#[test]
fn what_is_drawn_is_what_the_model_says_bends_included() {
    let between = bowed().join().unwrap();
    assert_eq!(between.numbers().len(), 2, "the heartwood's line is no ring");
    let wood = walnut(bowed());
    // A hundredth of a bend of 2 mm.
    for p in grid().filter(|p| !between.outside_years(p)) {
        let width = 4.0;
        assert!((wood.ring(&p) - between.ring(&p)).abs() < 0.02 * width, "{p}");
        let beyond = between.beyond_boundary(HEARTWOOD, &p).unwrap();
        // Its distance is taken at right angles to the line, which is nearly along v here.
        let drawn = wood.beyond_heartwood(&p);
        assert!((drawn - beyond).abs() < 0.04 + 0.1 * beyond.abs(), "{p} {drawn} {beyond}");
    }
    // The line that was followed along the face is where it was followed.
    for n in 1..10 {
        let w = LENGTH * f64::from(n) / 10.0;
        let v = 12.0 + 18.0 * w / LENGTH + 4.0 * (std::f64::consts::PI * w / LENGTH).sin();
        let off = wood.beyond_heartwood(&Point3::new(0.0, v, w));
        assert!(off.abs() < 0.6, "{w}: {off}");
    }
}

#[test]
fn the_heartwood_line_is_where_it_was_traced_and_sapwood_is_beyond() {
    let wood = walnut(heartwood(12.0, 30.0));
    for (w, line) in [(0.0, 12.0), (150.0, 21.0), (300.0, 30.0)] {
        for n in 0..12 {
            let at = |v: f64| Point3::new(5.0 * f64::from(n), v, w);
            approx::assert_abs_diff_eq!(wood.beyond_heartwood(&at(line)), 0.0, epsilon = 1e-6);
            let light = |v: f64| wood.colour(&at(v), 0.5).luminance();
            assert!(light(line + 4.0) > 2.0 * light(line - 4.0), "{w} {n}");
        }
    }
}

#[test]
fn a_line_on_one_end_keeps_its_place_among_the_rings() {
    let mut ends = heartwood(12.0, 30.0);
    ends.far.boundaries.clear();
    let wood = walnut(ends);
    // Rings rise by 8 mm from end to end, and the line with them.
    approx::assert_abs_diff_eq!(wood.beyond_heartwood(&Point3::new(30.0, 20.0, LENGTH)), 0.0, epsilon = 1e-6);
}

#[test]
fn without_a_line_the_wood_is_what_it_is_said_to_be() {
    let of = |sapwood| {
        let wood = Figure::traced(Wood::named("black walnut").unwrap(), tilted().join().unwrap(), sapwood, 7);
        (0..40).map(|n| wood.colour(&Point3::new(f64::from(n), 20.0, 9.0), 1.0).luminance()).sum::<f32>()
    };
    assert!(of(true) > 3.0 * of(false));
}

#[test]
fn changing_either_end_changes_the_wood_between_them() {
    let colours = |ends: Ends| -> Vec<Colour> {
        let wood = walnut(ends);
        (0..60).map(|n| wood.colour(&Point3::new(f64::from(n), 5.0 + 0.5 * f64::from(n), 150.0), 0.2)).collect()
    };
    let shown = colours(tilted());
    assert_eq!(shown, colours(tilted()));
    assert_ne!(shown, colours(Ends { near: layers(-4.0), ..tilted() }));
    assert_ne!(shown, colours(Ends { far: layers(6.0), ..tilted() }));
    let heart = colours(heartwood(12.0, 30.0));
    assert_ne!(heart, colours(heartwood(11.0, 30.0)));
    assert_ne!(heart, colours(heartwood(12.0, 26.0)));
}

#[test]
fn one_end_alone_is_drawn_and_promised_near_it_only() {
    let near = walnut(Ends { far: EndLines::default(), seen: SeenEnds::Near, ..tilted() });
    let far = walnut(Ends { near: EndLines::default(), seen: SeenEnds::Far, ..tilted() });
    let at = |w: f64| Point3::new(30.0, 20.0, w);
    assert!((near.ring(&at(0.0)) - near.ring(&at(LENGTH))).abs() < 1e-9);
    assert_eq!([0.0, 150.0, LENGTH].map(|w| near.promise(&at(w))), [Promise::Rings, Promise::Zones, Promise::Zones]);
    assert_eq!([0.0, 150.0, LENGTH].map(|w| far.promise(&at(w))), [Promise::Zones, Promise::Zones, Promise::Rings]);
    assert!(near.half_width(&at(200.0)) > near.half_width(&at(100.0)));
}

/// Spread of lightness over a patch about a point, of wood drawn as far as shown.
fn spread(wood: &Figure, shown: Shown) -> f32 {
    let at = |n: i32| Point3::new(25.0 + 0.2 * f64::from(n % 50), 14.0 + 0.2 * f64::from(n / 50), 100.0);
    let lights: Vec<f32> = (0..2500).map(|n| wood.colour_shown(&at(n), 0.2, shown).luminance()).collect();
    let mean = lights.iter().sum::<f32>() / 2500.0;
    (lights.iter().map(|l| (l / mean - 1.0).powi(2)).sum::<f32>() / 2500.0).sqrt()
}

#[test]
fn what_is_not_promised_is_not_shown() {
    let ash = Figure::traced(Wood::named("white ash").unwrap(), tilted().join().unwrap(), true, 7);
    let (whole, zones) = (spread(&ash, Shown::WHOLE), spread(&ash, Shown { rings: 0.0, zones: 1.0 }));
    assert!(zones < 0.8 * whole && zones > 0.0, "{zones} of {whole}");
    // Where nothing is promised the heartwood line isn't shown either.
    let wood = walnut(heartwood(12.0, 30.0));
    let none = Shown::promised(Promise::Nothing, 0.0);
    let mean = |v: f64| -> f32 {
        (0..50).map(|n| wood.colour_shown(&Point3::new(f64::from(n), v, 150.0), 2.0, none).luminance()).sum()
    };
    assert!((mean(10.0) / mean(32.0) - 1.0).abs() < 0.05);
    assert_eq!(Shown::promised(Promise::Rings, 0.2), Shown::WHOLE);
    assert_eq!(Shown::promised(Promise::Zones, 0.5), Shown { rings: 0.0, zones: 1.0 });
    let mut knotty = tilted();
    knotty.disturbed = vec![Disturbed { middle: Point3::new(30.0, 20.0, 100.0), radius: 9.0 }];
    assert_eq!(walnut(knotty).promise(&Point3::new(30.0, 22.0, 100.0)), Promise::Nothing);
}

#[test]
fn drawn_small_a_patch_has_the_colour_it_has_drawn_large() {
    for name in ["red oak", "white ash", "hard maple"] {
        let wood = Figure::traced(Wood::named(name).unwrap(), tilted().join().unwrap(), false, 3);
        let mean = |grain: f64| {
            let count = (10.0 / grain).round() as i32;
            let at = |n: i32| {
                Point3::new(
                    20.0 + (f64::from(n % count) + 0.5) * grain,
                    10.0 + (f64::from(n / count) + 0.5) * grain,
                    60.0,
                )
            };
            let sum: f64 = (0..count * count).map(|n| f64::from(wood.colour(&at(n), grain).luminance())).sum();
            sum / f64::from(count * count)
        };
        let large = mean(0.1);
        for grain in [0.25, 0.5, 1.0] {
            assert!((mean(grain) / large - 1.0).abs() < 0.03, "{name} at {grain}: {} for {large}", mean(grain));
        }
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]

    #[test]
    fn no_scribble_panics_or_gives_nan(places in proptest::collection::vec((-50.0..90.0, -50.0..90.0, -10.0..310.0), 30..60)) {
        let flat: Vec<Point2<f64>> = places.iter().map(|(u, v, _)| Point2::new(*u, *v)).collect();
        let lines = |points: &[Point2<f64>]| -> Vec<EndLine> {
            points.chunks(3).map(|c| EndLine { points: c.to_vec(), name: String::new() }).filter(|l| l.points.len() > 1).collect()
        };
        let heart = EndLine { name: HEARTWOOD.into(), points: flat[..4].to_vec() };
        let end = EndLines { rings: lines(&flat), boundaries: vec![heart], ..EndLines::default() };
        let course = |name: &str| Course { name: name.into(), points: places.iter().map(|(u, v, w)| Point3::new(*u, *v, *w)).collect(), ..Course::default() };
        let ends = Ends { size: SIZE, length: LENGTH, near: end.clone(), far: end, shift: Some(1), courses: vec![course(""), course(HEARTWOOD)], ..Ends::default() };
        if let Ok(between) = ends.join() {
            let wood = Figure::traced(Wood::named("red oak").unwrap(), between, false, 1);
            let wild = [f64::NAN, f64::INFINITY, -1e300].map(|x| Point3::new(x, 5.0, x));
            for p in grid().step_by(12).chain(wild) {
                for grain in [0.1, 1.0, 30.0] {
                    let c = wood.colour(&p, grain);
                    proptest::prop_assert!([c.r, c.g, c.b].iter().all(|x| (0.0..=1.0).contains(x)), "{p}: {c:?}");
                }
                proptest::prop_assert!(wood.ring(&p).is_finite() && wood.beyond_heartwood(&p).is_finite());
            }
            proptest::prop_assert!(wood.wander().iter().all(|x| x.is_finite()));
        }
    }
}

#[test]
fn lines_move_as_far_as_the_layers_rise() {
    use crate::wood::ends::TracedLine;
    let between = heartwood(12.0, 30.0).join().unwrap();
    let lines = between.traced_lines();
    let rings = lines.iter().filter(|line| matches!(line, TracedLine::Ring(..))).count();
    assert!(rings > 10 && lines.len() == rings + 1, "{lines:?}");
    for line in lines {
        let [whole, part] = [[0.0, LENGTH], [30.0, 60.0]].map(|[a, b]| between.moved(line, a, b).unwrap());
        let rise = if line == TracedLine::Boundary(HEARTWOOD) { 18.0 } else { 8.0 };
        approx::assert_abs_diff_eq!(whole, rise, epsilon = 1e-6);
        approx::assert_abs_diff_eq!(part, 0.1 * rise, epsilon = 1e-6);
    }
}

#[test]
fn a_fresh_face_says_how_far_it_moved_the_rings() {
    let mut ends = tilted();
    assert_eq!(ends.clone().join().unwrap().moved_by_fresh_face(), None);
    // Halfway every layer stands 2 mm higher than the ends say.
    let line = |v: f64| Course {
        points: (0..=12).map(|n| Point3::new(5.0 * f64::from(n), v, 150.0)).collect(),
        fresh: true,
        ..Course::default()
    };
    let heights = LAYERS.iter().map(|at| at + 20.0 + 1.0 + 2.0).filter(|v| (0.0..=SIZE.y).contains(v));
    ends.courses = heights.map(line).collect();
    let (moved, at) = ends.join().unwrap().moved_by_fresh_face().unwrap();
    assert!((moved - 2.0).abs() < 0.2 && (at.z - 150.0).abs() < 60.0, "{moved} at {at}");
}

#[test]
fn a_short_bent_line_across_the_rings_is_as_sharp_as_any() {
    let line = |u: f64| EndLine {
        name: HEARTWOOD.into(),
        points: [(26.0, 30.0), (22.3, 25.8), (19.6, 20.9), (18.1, 15.0)].map(|(x, v)| Point2::new(x + u, v)).to_vec(),
    };
    let mut ends = tilted();
    ends.near.boundaries = vec![line(0.0)];
    ends.far.boundaries = vec![line(6.0)];
    let wood = walnut(ends);
    // Halfway, direction by direction, it lies halfway; it has moved along the rings by about 3 mm.
    for (w, u, off) in [(0.0, 0.0, 0.3), (150.0, 3.0, 1.2), (300.0, 6.0, 0.3)] {
        let on = Point3::new(22.3 + u, 25.8, w);
        let across = Vector2::new(26.0 - 19.6, 30.0 - 20.9);
        let across = Vector2::new(across.y, -across.x).normalize();
        let beyond = |mm: f64| wood.beyond_heartwood(&Point3::new(on.x + across.x * mm, on.y + across.y * mm, w));
        assert!(beyond(0.0).abs() < off, "{w}: {}", beyond(0.0));
        let rise = (beyond(1.0) - beyond(-1.0)).abs() / 2.0;
        assert!((0.7..1.4).contains(&rise), "{w}: {rise}");
    }
}

#[test]
fn a_block_is_drawn_as_its_points_are() {
    let (cone, _) = cone();
    for (name, ends) in [("tilted", tilted()), ("cone", cone), ("heartwood", heartwood(20.0, 28.0))] {
        let wood = walnut(ends);
        for grain in [0.085, 0.17, 0.265, 0.42] {
            let apart = drawn_apart(&wood, grain, 0.0);
            assert!(apart <= 0.5, "{name} {grain}: {apart}");
        }
        assert!(drawn_apart(&wood, 0.17, 0.085) > 0.5, "{name}");
    }
}
