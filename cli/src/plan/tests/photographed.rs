//! Photographs of a blank's ends: what they give, what is told of them.

use super::super::{Kept, Plan, Problems, read_keeping, read_with};
use super::small;
use crate::photo::PhotoError;
use quarterturn_geometry::board::{Face, FaceOptions, FigureDrawn};
use quarterturn_geometry::photo::{Photograph, Upright};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::stock::Seen;
use quarterturn_geometry::wood::ends::Promise;
use quarterturn_geometry::wood::{NotFollowed, RingsSeen};
use std::path::Path;

/// Unevenly wide layers, mm.
const LAYERS: [f64; 14] = [0.6, 1.9, 4.1, 5.2, 8.0, 9.8, 10.8, 13.7, 15.1, 17.6, 18.8, 21.7, 23.2, 26.0];

/// An end 50 x 25 mm at 10 pixels to the mm, its marked corner lower left (far) or lower right (near), on grey with a
/// white card: level layers `rise` mm up, each darker to its upper edge, in wood of that shade.
fn picture(rise: f64, shade: f64) -> Photograph {
    let (width, height) = (700, 450);
    let pixel = |x: usize, y: usize| -> f64 {
        if (20..160).contains(&x) && (20..100).contains(&y) {
            return 240.0;
        }
        if !((100..600).contains(&x) && (150..400).contains(&y)) {
            return 120.0;
        }
        let v = (400 - y) as f64 * 0.1 - 0.05 - rise;
        let from = LAYERS.iter().rfind(|at| **at <= v).copied().unwrap_or(-3.0);
        let to = LAYERS.iter().find(|at| **at > v).copied().unwrap_or(30.0);
        shade - 25.0 * ((v - from) / (to - from))
    };
    let bytes = (0..width * height).flat_map(|n| [pixel(n % width, n / width) as u8; 3]).collect();
    Photograph { stored: Picture { width, height, bytes }, upright: Upright::AsStored }
}

/// The far end of the same blank shows its layers 4 mm higher.
fn fetch(name: &Path) -> Result<Photograph, PhotoError> {
    match name.to_str() {
        Some("near.png") => Ok(picture(0.0, 90.0)),
        Some("far.png") => Ok(picture(4.0, 90.0)),
        Some("paler near.png") => Ok(picture(0.0, 104.0)),
        Some("paler far.png") => Ok(picture(4.0, 104.0)),
        Some("plain.png") => Ok(picture(-90.0, 90.0)),
        Some("empty.png") => {
            let stored = Picture { width: 700, height: 450, bytes: vec![120; 700 * 450 * 3] };
            Ok(Photograph { stored, upright: Upright::AsStored })
        }
        Some("moving.png") => Err(PhotoError::Moving),
        Some("tiny.png") => Err(PhotoError::TooSmall(20, 10)),
        Some("huge.png") => Err(PhotoError::TooLarge(90_000, 90_000)),
        Some("broken.png") => Err(PhotoError::Broken("no end".to_owned())),
        _ => Err(std::io::Error::from(std::io::ErrorKind::NotFound).into()),
    }
}

fn read(shows: &str) -> Result<Plan, Problems> {
    let shows = format!("count = 3\n[blanks.shows]\nseed = 5\n{shows}\n[[panels]]");
    let text = small("units = \"millimetre\"", "").replace("count = 3\n[[panels]]", &shows);
    read_with(&text, "board.toml", &fetch)
}

fn ends(near: &str, far: &str) -> String {
    format!("near = {{ photo = {{ file = \"{near}\" }} }}\nfar = {{ photo = {{ file = \"{far}\" }} }}")
}

fn good(shows: &str) -> Plan {
    read(shows).unwrap_or_else(|problems| panic!("{problems}"))
}

#[test]
fn rings_are_found_at_both_ends_and_followed() {
    let plan = good(&ends("near.png", "far.png"));
    let blank = &plan.job.blanks[0];
    assert_eq!(blank.seen, Seen::BothEnds);
    let photographs = blank.figure.photographs().unwrap();
    assert_eq!(photographs.not_followed, None);
    assert!(photographs.ends.iter().flatten().all(|end| end.corners_found && end.light_assumed));
    // The edge of a layer is 4 mm higher at the far end, 2 mm halfway.
    let ring = |v: f64, w: f64| blank.figure.ring(&[25.0, v, w].into());
    let first = ring(LAYERS[4], 0.0);
    for w in [300.0, 600.0] {
        assert!((ring(LAYERS[4] + 4.0 * w / 600.0, w) - first).abs() < 0.15, "{w}");
    }
    let dark = |v: f64, w: f64| blank.figure.colour(&[25.0, v, w].into(), 0.1).luminance();
    assert!(dark(LAYERS[4] + 2.0 - 0.2, 300.0) < dark(LAYERS[4] + 2.0 + 0.3, 300.0));
}

#[test]
fn changing_either_end_s_picture_changes_the_face() {
    let face = |near: &str, far: &str| {
        let board = good(&ends(near, far)).job.work().board.unwrap();
        let options = FaceOptions { pixel: 1.0, glue_lines: false, workers: 1, figure: FigureDrawn::Whole };
        board.picture(Face::Upper, &options).unwrap()
    };
    let as_is = face("near.png", "far.png");
    assert_eq!(as_is, face("near.png", "far.png"));
    assert_ne!(as_is, face("paler near.png", "far.png"));
    assert_ne!(as_is, face("near.png", "paler far.png"));
}

#[test]
fn one_end_alone_a_traced_one_or_a_pith_go_with_a_photograph() {
    let one = good("near = { photo = { file = \"near.png\" } }");
    assert_eq!(one.job.blanks[0].seen, Seen::OneEnd);
    assert!(one.job.blanks[0].figure.between().is_some());
    let rings: String = LAYERS[..8].iter().map(|v| format!("[[0, {v}], [50, {v}]], ")).collect();
    let traced = good(&format!(
        "near = {{ traced = {{ rings = [{rings}] }}, photo = {{ file = \"near.png\" }} }}\nfar = {{ photo = {{ file = \
         \"far.png\" }} }}"
    ));
    let photographs = traced.job.blanks[0].figure.photographs().unwrap().clone();
    assert_eq!(photographs.ends[0].as_ref().unwrap().rings, RingsSeen::Traced);
    assert!(matches!(photographs.ends[1].as_ref().unwrap().rings, RingsSeen::Found { .. }));
    let pith = good("near = { pith = [25, -200] }\nfar = { pith = [25, -196], photo = { file = \"far.png\" } }");
    assert_eq!(pith.job.blanks[0].seen, Seen::BothEnds);
    assert!(pith.job.blanks[0].figure.photographs().unwrap().ends[0].is_none());
}

#[test]
fn where_no_rings_are_seen_it_is_said_and_nothing_is_promised() {
    let plan = good(&ends("near.png", "plain.png"));
    let figure = &plan.job.blanks[0].figure;
    assert!(matches!(figure.photographs().unwrap().not_followed, Some(NotFollowed::NoRings("far", _))));
    assert_eq!(figure.promise(&[25.0, 12.0, 300.0].into()), Promise::Nothing);
}

#[test]
fn what_is_wrong_is_told_at_its_key() {
    let told = |shows: &str, key: &str, what: &str| {
        let problems = read(shows).expect_err(shows).to_string();
        assert!(problems.contains(key) && problems.contains(what), "{shows}:\n{problems}");
        assert_eq!(problems.matches("board.toml:").count(), 1, "{problems}");
    };
    let file = "blanks.shows.far.photo.file";
    told(&ends("near.png", "none.png"), file, "none.png\" can't be read");
    told(&ends("near.png", "moving.png"), file, "moving picture");
    told(&ends("near.png", "tiny.png"), file, "only 20 × 10 pixels");
    told(&ends("near.png", "huge.png"), file, "90000 × 90000 pixels");
    told(&ends("near.png", "broken.png"), file, "broken or cut off");
    told(&ends("near.png", "empty.png"), file, "no end is found in it");
    let corners = |corners: &str| format!("near = {{ photo = {{ file = \"near.png\", corners = {corners} }} }}");
    let key = "blanks.shows.near.photo.corners";
    told(&corners("[[600, 400], [100, 400], [600, 150], [100, 150]]"), key, "cross");
    told(&corners("[[600, 400], [350, 400], [100, 400], [100, 150]]"), key, "three corners stand in one line");
    told(&corners("[[100, 400], [600, 400], [600, 150], [100, 150]]"), key, "anticlockwise");
    told(&corners("[[700, 400], [100, 400], [100, 150], [701, 150]]"), key, "outside the photograph");
    told(&corners("[[600, 400], [100, 400]]"), key, "is not a list of four points");
    let card = |card: &str| format!("near = {{ photo = {{ file = \"near.png\", card = {card} }} }}");
    told(&card("[650, 30, 100, 50]"), "blanks.shows.near.photo.card", "reaches out of the photograph");
    told(&card("[1, 2, 3]"), "blanks.shows.near.photo.card", "is not a list");
    let alone = "near = { photo = { file = \"near.png\", reflectance = 0.5 } }";
    told(alone, "blanks.shows.near.photo.reflectance", "no card");
    told("near = { photo = { card = [1, 1, 9, 9] } }", "blanks.shows.near.photo.file", "missing");
}

#[test]
fn a_card_takes_the_light_out() {
    let with = |near: &str, far: &str| {
        let card = "card = [40, 40, 100, 40]";
        good(&format!(
            "near = {{ photo = {{ file = \"{near}\", {card} }} }}\nfar = {{ photo = {{ file = \"{far}\", {card}, \
             reflectance = \"45 %\" }} }}"
        ))
    };
    let plan = with("near.png", "far.png");
    let photographs = plan.job.blanks[0].figure.photographs().unwrap();
    assert!(!photographs.tones().assumed);
    let shade = |w: f64| plan.job.blanks[0].figure.colour(&[25.0, 12.0, w].into(), 1.0e4).luminance();
    assert!((shade(0.0) / shade(600.0) - 2.0).abs() < 0.25, "{} {}", shade(0.0), shade(600.0));
}

/// What photographs came to is kept as long as everything stays that it follows from.
#[test]
fn a_photograph_is_looked_at_once() {
    use std::sync::Arc;
    use std::sync::atomic::{AtomicU32, Ordering::SeqCst};
    let (changed, fetched) = (Arc::new(AtomicU32::new(0)), AtomicU32::new(0));
    let stamp = Arc::clone(&changed);
    let kept = Kept::new(move |name| Some(format!("{name:?} {}", stamp.load(SeqCst))));
    let counting = |name: &Path| {
        fetched.fetch_add(1, SeqCst);
        fetch(name)
    };
    let read = |shows: &str, name: &str| {
        let shows = format!("count = 3\n[blanks.shows]\n{shows}\n[[panels]]");
        let text = small("units = \"millimetre\"", "").replace("count = 3\n[[panels]]", &shows);
        let text = format!("name = {name:?}\n{text}");
        read_keeping(&text, "board.toml", &counting, &kept).unwrap_or_else(|problems| panic!("{problems}"))
    };
    let both = ends("near.png", "far.png");
    let face = |plan: &Plan| {
        let options = FaceOptions { pixel: 0.5, glue_lines: false, workers: 1, figure: FigureDrawn::Whole };
        plan.job.work().board.unwrap().picture(Face::Upper, &options).unwrap()
    };
    let first = face(&read(&both, "first"));
    let asked = kept.asked();
    assert_eq!((fetched.load(SeqCst), asked.len()), (2, 1));
    assert_eq!(face(&read(&both, "second")), first);
    assert_eq!((fetched.load(SeqCst), kept.asked()), (2, asked.clone()), "another name is no other photograph");
    read(&ends("near.png", "paler far.png"), "third");
    assert_eq!(fetched.load(SeqCst), 4, "another photograph is");
    assert_ne!(kept.asked(), asked);
    assert_eq!(face(&read(&both, "second")), first);
    assert_eq!((fetched.load(SeqCst), kept.asked()), (4, asked.clone()), "the one before is kept");
    changed.store(1, SeqCst);
    read(&both, "second");
    assert_eq!(fetched.load(SeqCst), 6, "a file that changed is looked at again");
    assert_ne!(kept.asked(), asked);
}
