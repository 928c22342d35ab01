//! Lines traced on a blank: what they mean, what is told of them.

use super::{plan, small, told};
use proptest::prelude::*;
use quarterturn_geometry::stock::{Blank, Seen};
use quarterturn_geometry::wood::ends::{HEARTWOOD, Promise};
use std::fmt::Write;

fn close(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b}");
}

/// Unevenly wide layers, mm.
const LAYERS: [f64; 12] = [1.0, 3.2, 4.6, 7.9, 9.8, 11.0, 14.1, 15.6, 18.0, 19.3, 22.2, 23.8];

/// Level rings, those of [`LAYERS`] from `from` on, `rise` mm higher.
fn rings(from: usize, rise: f64, named: Option<usize>) -> String {
    let mut all = "[".to_owned();
    for (k, at) in LAYERS.iter().enumerate().skip(from) {
        let v = at + rise;
        if (0.0..25.0).contains(&v) {
            let points = format!("[[0, {v:.3}], [25, {v:.3}], [50, {v:.3}]]");
            let name = format!("{{ name = \"drought\", points = {points} }}");
            write!(all, "{}, ", if named == Some(k) { name } else { points }).unwrap();
        }
    }
    all + "]"
}

fn with(shows: &str) -> String {
    let shows = format!("count = 3\n[blanks.shows]\nseed = 5\n{shows}\n[[panels]]");
    small("units = \"millimetre\"", "").replace("count = 3\n[[panels]]", &shows)
}

fn blank(shows: &str) -> Blank {
    plan(&with(shows)).unwrap_or_else(|problems| panic!("{problems}")).job.blanks.swap_remove(0)
}

fn both(near: &str, far: &str) -> String {
    format!("near = {{ traced = {{ {near} }} }}\nfar = {{ traced = {{ {far} }} }}")
}

fn two_ends() -> String {
    both(
        &format!("rings = {}, heartwood = [[0, 10], [50, 10]]", rings(0, 0.0, None)),
        &format!("rings = {}, heartwood = [[0, 16], [50, 16]]", rings(0, 4.0, None)),
    )
}

#[test]
fn both_ends_are_joined_by_their_widths() {
    let blank = blank(&two_ends());
    assert_eq!(blank.seen, Seen::BothEnds);
    let ring = |v: f64, w: f64| blank.figure.ring(&[20.0, v, w].into());
    close(ring(LAYERS[3], 0.0), 3.0, 1e-9);
    close(ring(LAYERS[3] + 4.0, 600.0), 3.0, 1e-9);
    close(ring(LAYERS[3] + 2.0, 300.0), 3.0, 1e-9);
    for (v, w) in [(10.0, 0.0), (13.0, 300.0), (16.0, 600.0)] {
        close(blank.figure.beyond_heartwood(&[20.0, v, w].into()), 0.0, 1e-6);
    }
    assert_eq!(blank.figure.promise(&[20.0, 10.0, 0.0].into()), Promise::Rings);
}

#[test]
fn lines_given_before_milling_are_moved_by_what_is_taken_off() {
    let shows = two_ends();
    let rough = plan(
        &with(&format!("given = \"rough\"\n{shows}"))
            .replace("[[panels]]", "[[panels]]\neach_side = [\"2 mm\", \"3 mm\"]\neach_face = \"1 mm\""),
    );
    let rough = rough.unwrap_or_else(|p| panic!("{p}")).job.blanks.swap_remove(0);
    let at = |blank: &Blank, v: f64| blank.figure.ring(&[20.0, v, 100.0].into());
    close(at(&rough, 8.0), at(&blank(&shows), 9.0), 1e-9);
}

#[test]
fn one_end_is_a_guess_and_a_pith_at_the_other_makes_two() {
    let near = format!("near = {{ traced = {{ rings = {} }} }}", rings(0, 0.0, None));
    assert_eq!(blank(&near).seen, Seen::OneEnd);
    let far = format!("far = {{ traced = {{ rings = {} }} }}", rings(0, 0.0, None));
    assert_eq!(blank(&far).figure.promise(&[20.0, 10.0, 600.0].into()), Promise::Rings);
    let mixed = format!(
        "near = {{ pith = [25, -9000], traced = {{ rings = {} }} }}\nfar = {{ pith = [31, -8998], heartwood = 9010 }}",
        rings(0, 0.0, None)
    );
    let mixed = blank(&mixed);
    assert_eq!(mixed.seen, Seen::BothEnds);
    assert!((mixed.figure.wander().x - 6.0 / 600.0).abs() < 1e-12, "{}", mixed.figure.wander());
    // The ring that stands 9007.9 mm from the pith at the near end does so at the far end.
    let [near, far] = [[25.0, 7.9, 0.0], [31.0, 9.9, 600.0]].map(|at| mixed.figure.ring(&at.into()));
    assert!((near - far).abs() < 0.05 && (near - 3.0).abs() < 0.05, "{near} {far}");
    assert!(mixed.figure.beyond_heartwood(&[31.0, 12.0, 600.0].into()).abs() < 0.05);
    let no_pith = format!("near = {{ traced = {{ rings = {} }} }}\nfar = {{ pith = [31, -398] }}", rings(0, 0.0, None));
    let problems = told(&with(&no_pith));
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert!(problems[0].0 == "blanks.shows.near.pith" && problems[0].1.contains("add pith"), "{problems:?}");
}

#[test]
fn lines_along_a_face_and_a_fresh_face_bend_the_figure() {
    let straight = blank(&two_ends());
    let along = |bow: f64| -> String {
        let v = |t: f64| LAYERS[5] + 4.0 * t + bow * (std::f64::consts::PI * t).sin();
        let points: Vec<String> =
            (0..=12).map(|n| f64::from(n) / 12.0).map(|t| format!("[0, {:.3}, {:.3}]", v(t), 600.0 * t)).collect();
        format!("[{}]", points.join(", "))
    };
    let long = blank(&format!("{}\nlong = [{{ points = {} }}]", two_ends(), along(1.0)));
    let at = |v: f64| [0.0, v, 300.0].into();
    assert!((long.figure.ring(&at(LAYERS[5] + 3.0)) - 5.0).abs() < 0.15, "{}", long.figure.ring(&at(LAYERS[5] + 3.0)));
    assert!((straight.figure.ring(&at(LAYERS[5] + 3.0)) - 5.0).abs() > 0.25);
    // A section halfway, where everything stands 1 mm higher than the ends say.
    let cut = format!(
        "{}\npart_way = [{{ at = 300, rings = {}, heartwood = [[0, 13.5], [50, 13.5]] }}]",
        two_ends(),
        rings(1, 3.0, None)
    );
    let cut = blank(&cut);
    let middle = |v: f64| [25.0, v, 300.0].into();
    assert!((cut.figure.ring(&middle(LAYERS[5] + 3.0)) - 5.0).abs() < 0.1);
    assert!(cut.figure.beyond_heartwood(&middle(13.5)).abs() < 0.2);
    let between = cut.figure.between().unwrap();
    assert!(between.beyond_boundary(HEARTWOOD, &middle(13.5)).unwrap().abs() < 0.2);
    let knot = blank(&format!("{}\ndisturbed = [{{ at = [20, 10, 0], radius = 6 }}]", two_ends()));
    assert_eq!(knot.figure.promise(&[20.0, 10.0, 1.0].into()), Promise::Nothing);
}

#[test]
fn a_blank_is_ripped_to_its_heartwood_line() {
    let slanted = |u: f64| {
        let points: Vec<String> = (0..=5).map(|n| 5.0 * f64::from(n)).map(|v| format!("[{}, {v}]", u + v)).collect();
        format!("[{}]", points.join(", "))
    };
    let ends = both(
        &format!("rings = {}, heartwood = {}", rings(0, 0.0, Some(4)), slanted(8.0)),
        &format!("rings = {}, heartwood = {}", rings(0, 0.0, Some(4)), slanted(11.0)),
    );
    let text = with(&ends).replace("[blanks.shows]", "rip = {}\n[blanks.shows]");
    let job = plan(&text).unwrap_or_else(|p| panic!("{p}")).job;
    let written = "rip = { line = \"heartwood\", side = \"marked\", face = \"marked\" }\n[blanks.shows]";
    let same = plan(&with(&ends).replace("[blanks.shows]", written)).unwrap().job;
    assert_eq!(format!("{:?}", same.blanks[0].rip), format!("{:?}", job.blanks[0].rip), "the defaults, written out");
    let outcome = job.work();
    let numbers = quarterturn_geometry::numbers::Numbers::of(&job, &outcome);
    let value = |name: &str| numbers.get(&format!("panel.1.blank.1.{name}")).unwrap().value;
    close(value("rip near"), 8.0, 0.3);
    close(value("rip far"), 11.0, 0.3);
    close(value("rip taper"), 3.0, 0.3);
    close(value("rip leaves"), 39.0, 0.3);
    let sheet = quarterturn_export::cut_list::text(&job, &outcome, &numbers, &[], &[]);
    assert!(sheet.contains("before it is milled to width"), "{sheet}");
    for (rip, part) in
        [("{ line = \"bark\" }", "no line of that name"), ("{ side = \"opposite\", face = \"top\" }", "top")]
    {
        let problems = told(&with(&ends).replace("[blanks.shows]", &format!("rip = {rip}\n[blanks.shows]")));
        assert!(problems.len() == 1 && problems[0].1.contains(part), "{problems:?}");
    }
}

/// What is wrong, the key that is named, and a part of what is told.
#[test]
fn what_cannot_be_joined_is_told_at_its_place_once() {
    let even = |rise: f64| {
        let line = |n: i32| format!("[[0, {0:.3}], [50, {0:.3}]]", 2.0 * f64::from(n) + rise);
        format!("rings = [{}]", (0..11).map(line).collect::<Vec<_>>().join(", "))
    };
    let few = |from: usize| format!("rings = {}", rings(from, 0.0, None));
    let good = few(0);
    let cases = [
        (both(&good, "rings = [[[0, 1], [50, 1]]]"), "far.traced", "two neighbouring rings"),
        (both("rings = [[[0, 1], [50, 1]]]", &good), "near.traced", "two neighbouring rings"),
        (both(&good, &few(8)), "far.traced", "give one ring the same name on both ends"),
        (both(&even(0.5), &even(1.5)), "far.traced", "fit nearly as well"),
        (
            both(
                "rings = [{ name = \"a\", points = [[0, 1], [50, 1]] }, { name = \"b\", points = [[0, 3], [50, 3]] }]",
                "rings = [{ name = \"b\", points = [[0, 1], [50, 1]] }, { name = \"a\", points = [[0, 3], [50, 3]] }]",
            ),
            "far.traced",
            "can't both be right",
        ),
        (format!("{}\nlong = [{{ name = \"x\", points = [[0, 1, 0], [0, 1, 9]] }}]", two_ends()), "long", "named x"),
        ("long = [{ points = [[0, 1, 0], [0, 1, 9]] }]".to_owned(), "long", "where an end is traced"),
        (both(&good, "rings = [[[0, 1], [50, 1]], [[0, 3]]]"), "far.traced.rings.points", "1 points"),
        (both(&good, "rings = [[[0, 1], [50]]]"), "far.traced.rings.points", "is no point"),
        (both(&good, "rings = [[[0, 1], [50, 1, 2]]]"), "far.traced.rings.points", "[u, v]"),
        (both(&good, "rings = [3]"), "far.traced.rings.points", "is not a list of points"),
        (
            both(&good, &format!("{good}, other = [{{ name = \"heartwood\", points = [[0, 1], [5, 1]] }}]")),
            "far.traced",
            "",
        ),
        (
            "near = { pith = [1, 1], heartwood = 3, traced = { rings = [[[0, 1], [5, 1]], [[0, 2], [5, 2]]] } }"
                .to_owned(),
            "near.heartwood",
            "don't go together",
        ),
        ("near = { heartwood = 3 }".to_owned(), "near.pith", "add pith"),
    ];
    for (shows, key, part) in cases {
        let problems = told(&with(&shows));
        if key == "far.traced" && part.is_empty() {
            // `other` may not be used for the heartwood line twice over, but once it may.
            assert!(problems.is_empty(), "{problems:?}");
            continue;
        }
        assert_eq!(problems.len(), 1, "{shows}: {problems:?}");
        assert_eq!(problems[0].0, format!("blanks.shows.{key}"), "{problems:?}");
        assert!(problems[0].1.contains(part), "{part}: {problems:?}");
    }
}

#[test]
fn very_many_lines_part_way_are_refused() {
    let long = format!("long = [{}]", "{ points = [[0, 3, 0], [0, 3, 600]] }, ".repeat(24));
    let one = with(&format!("{}\n{long}", two_ends()));
    let (before, rest) = one.split_once("[[blanks]]").unwrap();
    let (blank, after) = rest.split_once("[[panels]]").unwrap();
    let more = |letter: &str| format!("[[blanks]]{}", blank.replace("\"A\"", &format!("\"{letter}\"")));
    let all: String = ["B", "C", "D", "E", "F", "G", "H", "I", "J", "K"].map(more).concat();
    let problems = told(&format!("{before}[[blanks]]{blank}{all}[[panels]]{after}"));
    assert!(problems.len() == 1 && problems[0].1.contains("240 at most"), "{problems:?}");
}

#[test]
fn a_line_of_very_many_points_is_read_or_refused() {
    let line = |n: usize| (0..n).map(|i| format!("[{:.2}, 3]", 0.01 * i as f64)).collect::<Vec<_>>().join(",");
    let rings = |n: usize| format!("near = {{ traced = {{ rings = [[{}], [[0, 6], [50, 6]]] }} }}", line(n));
    assert_eq!(blank(&rings(4000)).seen, Seen::OneEnd);
    let problems = told(&with(&rings(6000)));
    assert!(problems.len() == 1 && problems[0].1.contains("6000 points"), "{problems:?}");
}

/// The lines of the sample come back at both ends: rings within what a ruler tells, the heartwood
/// line within half a millimetre.
#[test]
fn the_traced_sample_shows_its_lines_where_they_were_traced() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../samples/traced-walnut.toml");
    let job = plan(&std::fs::read_to_string(file).unwrap()).unwrap_or_else(|p| panic!("{p}")).job;
    let mut lines = 0;
    for blank in &job.blanks {
        let between = blank.figure.between().unwrap();
        let (ends, shift) = (between.ends(), between.matched().shift);
        assert!(shift.abs() <= 6 && between.matched().shared >= 4, "{}: {:?}", blank.letter, between.matched());
        for (end, first, w) in [(&ends.near, 0, 0.0), (&ends.far, shift, ends.length)] {
            for (k, line) in (0..).zip(&end.rings) {
                let off = |p: &[f64; 2]| blank.figure.ring(&[p[0], p[1], w].into()) - (k - first) as f64;
                let squares: f64 = line.points.iter().map(|p| off(&[p.x, p.y]).powi(2)).sum();
                let off = (squares / line.points.len() as f64).sqrt();
                assert!(off < 0.15, "{} {w} ring {k}: {off}", blank.letter);
                lines += 1;
            }
            for p in end.boundaries.iter().flat_map(|line| &line.points) {
                let off = blank.figure.beyond_heartwood(&[p.x, p.y, w].into());
                assert!(off.abs() < 0.5, "{} {w} {p}: {off}", blank.letter);
            }
        }
    }
    assert!(lines > 100, "{lines}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// A traced plan with parts deleted, doubled or exchanged is read or told, and what reads is drawn.
    #[test]
    fn a_damaged_traced_plan(cuts in proptest::collection::vec((0..4000_usize, 1..40_usize, any::<bool>()), 1..4)) {
        let long = "long = [{ name = \"heartwood\", points = [[0, 10, 0], [0, 14, 300]] }]";
        let mut text: Vec<char> = with(&format!("{}\n{long}", two_ends())).chars().collect();
        for (at, n, double) in cuts {
            let (from, to) = (at.min(text.len()), (at + n).min(text.len()));
            let part = text[from..to].to_vec();
            text.splice(from..to, if double { [part.clone(), part].concat() } else { Vec::new() });
        }
        let text: String = text.into_iter().collect();
        match plan(&text) {
            Ok(plan) => for blank in &plan.job.blanks {
                let colour = blank.figure.colour(&[10.0, 10.0, 100.0].into(), 0.2);
                prop_assert!(colour.r.is_finite());
            },
            Err(problems) => prop_assert!(problems.iter().count() > 0),
        }
    }
}
