//! What is drawn: page sizes, figures as shown, and that no words overlap.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use quarterturn_export::drawing::Drawing;
use quarterturn_export::{face, marked};
use quarterturn_geometry::board::Face;
use quarterturn_geometry::cut::Edge;
use quarterturn_geometry::job::Job;
use quarterturn_geometry::layup::{Asked, Beat, Turn};
use quarterturn_geometry::measure::Rule;
use quarterturn_geometry::picture::Picture;
use resvg::usvg;

fn four_handholds() -> Job {
    let mut job = job();
    job.name = "A very long name of a board for all four edges & <more>, longer than a title block has room".into();
    job.rule = Rule::millimetres(mm("0.5")).unwrap();
    job.handholds =
        [Edge::Left, Edge::Right, Edge::Front, Edge::Back].map(|e| handhold(e, "3/8", ["2", "3 1/16"])).into();
    job.layup.asked = beats(&[Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd]);
    job
}

fn brick_bond() -> Job {
    let mut job = job();
    let cherry = [("A", "black cherry", "2 1/2"), ("B", "hard maple", "2 1/2"), ("A2", "black cherry", "5")];
    let maple = [("C", "hard maple", "3"), ("D", "black cherry", "1 1/2"), ("C2", "hard maple", "5 1/2")];
    job.panels = vec![panel("P", &cherry, "7/16", "14"), panel("Q", &maple, "7/16", "14")];
    job.strips.count = Some(7);
    let beat = |panel, turn, stagger| Beat { panel, turn, stagger: inch(stagger) };
    let beats = vec![beat(0, Turn::AsCut, "0"), beat(1, Turn::EndOverEnd, "1/2")];
    job.layup.asked = Asked::Repeat { beats, left_out: vec![] };
    job.handholds = vec![handhold(Edge::Front, "1/4", ["1 1/2", "3/16"])];
    job.finishing.left = inch("5/16");
    job
}

fn boards() -> [Made; 3] {
    [job(), four_handholds(), brick_bond()].map(Made::of)
}

/// Every word of an SVG with the box that its letters fill.
fn words(svg: &str) -> (Vec<(String, usvg::Rect)>, usvg::Size) {
    let mut options = usvg::Options::default();
    options.fontdb_mut().load_font_data(include_bytes!("../fonts/DejaVuSans.ttf").to_vec());
    options.fontdb_mut().set_sans_serif_family("DejaVu Sans");
    let tree = usvg::Tree::from_str(svg, &options).unwrap();
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    (found, tree.size())
}

fn collect(group: &usvg::Group, found: &mut Vec<(String, usvg::Rect)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => collect(inner, found),
            usvg::Node::Text(text) => {
                let says: String = text.chunks().iter().map(|c| c.text().to_owned()).collect();
                let filled = text.flattened().bounding_box();
                found.push((says, filled.transform(text.abs_transform()).unwrap()));
            }
            _ => {}
        }
    }
}

fn assert_apart(svg: &str) {
    let (words, page) = words(svg);
    assert!(words.len() > 20);
    for (i, (says, a)) in words.iter().enumerate() {
        let on_page = a.left() >= 0.0 && a.top() >= 0.0 && a.right() <= page.width() && a.bottom() <= page.height();
        assert!(on_page, "{says:?} leaves the page: {a:?}");
        for (other, b) in &words[..i] {
            let over = a.left() < b.right() && b.left() < a.right() && a.top() < b.bottom() && b.top() < a.bottom();
            assert!(!over, "{says:?} {a:?} lies over {other:?} {b:?}");
        }
    }
}

/// What stands in an attribute of the element with this id.
fn attribute(svg: &str, id: &str, name: &str) -> f64 {
    let tag = svg.split('<').find(|t| t.contains(&format!("id=\"{id}\""))).unwrap();
    tag.split(&format!(" {name}=\"")).nth(1).unwrap().split('"').next().unwrap().parse().unwrap()
}

#[test]
fn the_drawing_is_at_its_size_and_its_words_keep_apart() {
    for made in boards() {
        let drawing = Drawing::of(&made.job, made.board(), &made.numbers);
        assert!(drawing.svg.contains(&format!("width=\"{}mm\"", drawing.width)));
        assert!(drawing.svg.contains(&format!("height=\"{}mm\"", drawing.height)));
        assert!(drawing.svg.contains(&format!("viewBox=\"0 0 {} {}\"", drawing.width, drawing.height)));
        let size = made.board().finished();
        assert!((attribute(&drawing.svg, "finished-outline", "width") - size.length).abs() < 1e-4);
        assert!((attribute(&drawing.svg, "finished-outline", "height") - size.width).abs() < 1e-4);
        assert_apart(&drawing.svg);
    }
}

#[test]
fn every_dimension_stands_in_the_numbers_as_shown() {
    let mut made = Made::of(four_handholds());
    let drawing = Drawing::of(&made.job, made.board(), &made.numbers);
    let titles: Vec<&str> =
        drawing.svg.split("<title>").skip(1).map(|t| t.split("</title>").next().unwrap().trim()).collect();
    assert_eq!(titles.len(), 2 + 4 * (1 + 1 + 3 + 3));
    for title in titles {
        assert!(made.numbers.all().iter().any(|n| n.shown == title), "{title}");
    }
    drawing.add_to(&mut made.numbers);
    assert_eq!(made.numbers.get("drawing.width").unwrap().value, drawing.width);
    assert_eq!(made.numbers.get("drawing.height").unwrap().value, drawing.height);
}

#[test]
fn the_marked_faces_words_keep_apart() {
    for made in boards() {
        for side in [Face::Upper, Face::Lower] {
            let picture = made.picture(side, 1.0);
            let svg = marked::marked_svg(made.board(), side, &picture, &made.job.name).unwrap();
            assert_apart(&svg);
            assert_eq!(svg, marked::marked_svg(made.board(), side, &picture, &made.job.name).unwrap());
        }
    }
}

#[test]
fn every_strip_has_its_number_and_every_turn_its_word() {
    let made = Made::of(four_handholds());
    let svg = marked::marked_svg(made.board(), Face::Upper, &made.picture(Face::Upper, 1.0), "board").unwrap();
    let (words, _) = words(&svg);
    let at = |text: &str| words.iter().filter(|(says, _)| says == text).map(|(_, b)| b.left()).collect::<Vec<_>>();
    let numbers: Vec<f32> = (1..=14).map(|n| at(&n.to_string())[0]).collect();
    assert!(numbers.windows(2).all(|w| w[0] < w[1]), "from the left");
    assert_eq!(at("as cut").len(), 4);
    assert_eq!((at("rolled").len(), at("end for").len(), at("end over").len()), (4, 3, 3));
    assert_eq!(at("A").len() + at("B2").len() + at("C").len(), 3 * 14);
    // The first blank of a strip as cut is at the back: on the page, above the others.
    let high =
        |text: &str| words.iter().filter(|(says, _)| says == text).map(|(_, b)| b.top()).fold(f32::INFINITY, f32::min);
    assert!(high("A") < high("B") && high("B") < high("C"));
}

#[test]
fn the_marked_picture_keeps_the_face_as_it_was_drawn() {
    let made = Made::of(job());
    let face = made.picture(Face::Upper, 0.5);
    let page = marked::marked(made.board(), Face::Upper, &face, "board").unwrap();
    let pixel = |p: &Picture, x: usize, y: usize| [0, 1, 2].map(|c| p.bytes[(y * p.width + x) * 3 + c]);
    let left = (page.width - face.width) / 2;
    // The face's upper left corner: the first row that is not white in the middle of the first strip's back.
    let same = |top: usize| (0..face.width).filter(|x| pixel(&page, left + x, top) == pixel(&face, *x, 0)).count();
    let top = (0..page.height - face.height).find(|top| same(*top) == face.width).expect("the face's first row");
    let all = face.width * face.height;
    let kept = (0..all).filter(|i| {
        let (x, y) = (i % face.width, i / face.width);
        pixel(&page, left + x, top + y) == pixel(&face, x, y)
    });
    let share = kept.count() as f64 / all as f64;
    assert!(share > 0.85 && share < 1.0, "{share} of the face is as it was, the rest is lettered");
}

#[test]
fn the_face_is_at_its_size_and_shows_every_glue_line() {
    let made = Made::of(job());
    let picture = made.picture(Face::Lower, 1.0);
    let mut png = Vec::new();
    quarterturn_export::png::write(&picture, 1.0, &mut png).unwrap();
    let plain = face::svg(made.board(), Face::Lower, &png, false);
    assert!(plain.contains("width=\"282.575mm\"") && plain.contains("height=\"241.3mm\""));
    assert!(plain.contains("data:image/png;base64,iVBORw0KGgo"));
    assert_eq!(plain.matches("<line").count(), 0);
    let lined = face::svg(made.board(), Face::Lower, &png, true);
    // 13 lines between 14 strips, 6 between the 7 blanks of each.
    assert_eq!(lined.matches("<line").count(), 13 + 14 * 6);
}

#[test]
fn what_is_no_picture_is_refused() {
    let made = Made::of(job());
    for picture in [Picture { width: 0, height: 0, bytes: vec![] }, Picture { width: 9, height: 9, bytes: vec![0; 8] }]
    {
        assert!(marked::marked(made.board(), Face::Upper, &picture, "board").is_err());
        assert!(marked::marked_svg(made.board(), Face::Upper, &picture, "board").is_err());
    }
}
