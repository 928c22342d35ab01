//! Shapes drawn by their own equations are called by their names, wherever they lie, of any size.

use super::*;
use crate::board::{Face, Trims};
use crate::layup::Turn;
use crate::measure::{Length, Unit};
use crate::search::{Alike, Edges, FacesCounted, Laid, Stock, Weights, fixed};
use crate::stock::{Blank, BlankTurn, Crosscut, HalfTurn, LaidBlank, LastStrip, Panel, Seen, Size, StripSide};
use crate::wood::{EndRings, Rings, Wood};
use nalgebra::Point2;
use proptest::prelude::*;

/// A face of one piece, in cells of 1 mm, whose border is where `into` (mm into the light) is 0.
fn drawn(length: usize, width: usize, into: impl Fn(f64, f64) -> f64) -> LightMap {
    let at = |i: usize| (i % length, i / length);
    let cell = |i: usize| {
        let (x, y) = (at(i).0 as f64 + 0.5, at(i).1 as f64 + 0.5);
        Cell { border: (into(x, y) * 1e3).round() as i32, ..Cell::default() }
    };
    LightMap {
        faces: vec![Raster {
            face: Face::Upper,
            cells: (0..length * width).map(cell).collect(),
            edges: vec![[vec![0; width], vec![0; width]]],
        }],
        columns: vec![1000; length],
        places: vec![0; length],
        rows: width,
        row: 1000,
        blanks: vec![vec![0; width]],
        two_tones: true,
    }
}

/// A shape about the origin, `a` long and `b` wide both ways from it: mm into it, nearly.
fn shape(of: Shape, a: f64, b: f64) -> impl Fn(f64, f64) -> f64 {
    move |x, y| {
        let (u, v) = (x.abs() / a, y.abs() / b);
        match of {
            Shape::Diamond => (1.0 - u - v) * a.min(b) / 1.5,
            Shape::Oval => (1.0 - u.hypot(v)) * a.min(b),
            Shape::Block => (a - x.abs()).min(b - y.abs()),
            // Tip to tip, with no width there: two triangles.
            Shape::BowTie => (a - x.abs()).min((u - v) * b),
            Shape::Triangle => (a - x).min(((x / a + 1.0) / 2.0 - v) * b),
            Shape::Chevron => (a - x.abs()).min(0.3 * b - (y + 0.7 * b - 1.4 * b * u).abs()),
            _ => -1.0,
        }
    }
}

const CLOSED: [Shape; 6] = [Shape::Diamond, Shape::Oval, Shape::Block, Shape::BowTie, Shape::Triangle, Shape::Chevron];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn shapes_are_called_by_their_names(
        which in 0_usize..6,
        half in (10.0..22.0_f64, 0.65..1.55_f64).prop_map(|(a, ratio)| [a, a * ratio]),
        off in [0.0..1.0_f64, 0.0..1.0_f64],
        upright in any::<bool>(),
        back in any::<bool>(),
        dark in any::<bool>(),
    ) {
        let (of, [a, b]) = (CLOSED[which], half);
        let (sign, tone) = (if back { -1.0 } else { 1.0 }, if dark { -1.0 } else { 1.0 });
        let one = shape(of, a, b);
        let middle = [45.0 + off[0], 45.0 + off[1]];
        let map = drawn(91, 92, |x, y| {
            let (x, y) = (sign * (x - middle[0]), sign * (y - middle[1]));
            tone * if upright { one(y, x) } else { one(x, y) }
        });
        let found = map.figures(0).unwrap();
        prop_assert_eq!((found.closed.len(), found.cut_by_rim), (1, 0), "{:?}", &found);
        let figure = &found.closed[0];
        prop_assert_eq!((figure.shape, figure.count, figure.light), (of, 1, !dark), "{:?}", figure);
        let (length, width) = if upright { (figure.width, figure.length) } else { (figure.length, figure.width) };
        // A point narrower than a cell isn't seen.
        let tip = 2.0 * (1.0 + a / b).max(1.0 + b / a) * 0.5 + 0.5;
        // A chevron's sides rise by 1.4 b over a: a cell less at its ends, half a cell less at its point.
        let tip = if of == Shape::Chevron { tip.max(1.5 * 1.4 * b / a + 0.5) } else { tip };
        prop_assert!((length - 2.0 * a).abs() <= tip && (width - 2.0 * b).abs() <= tip, "{:?} of {:?}", figure, half);
        if matches!(of, Shape::Diamond | Shape::Oval | Shape::Block) {
            prop_assert!(figure.symmetry.iter().all(|s| *s > 0.97), "{:?}", figure);
            let area = match of { Shape::Diamond => 2.0, Shape::Block => 4.0, _ => std::f64::consts::PI } * a * b;
            // Half a row more or less at the front and at the back.
            prop_assert!((figure.area - area).abs() <= figure.length, "{} for {}", figure.area, area);
        }
    }
}

/// Every figure twelve times over, as the trade would count it.
#[test]
fn a_dozen_is_a_dozen() {
    let one = shape(Shape::Diamond, 17.5, 25.0);
    let map = drawn(160, 168, |x, y| one((x + 0.3) % 40.0 - 20.0, (y + 0.2) % 56.0 - 28.0));
    let found = map.figures(0).unwrap();
    assert_eq!((found.closed.len(), found.cut_by_rim), (1, 0), "{found:?}");
    let figure = &found.closed[0];
    assert_eq!((figure.shape, figure.count), (Shape::Diamond, 12));
    assert!((figure.length - 35.0).abs() < 1.5 && (figure.width - 50.0).abs() < 1.5, "{figure:?}");
}

#[test]
fn bands_from_rim_to_rim() {
    let wave = |x: f64| ((x / 20.0).fract() - 0.5).abs() * 30.0;
    let step = |x: f64| if (x / 20.0) as i64 % 2 == 0 { 8.0 } else { 0.0 };
    for (of, upright) in [Shape::Zigzag, Shape::Steps, Shape::Stripe].into_iter().flat_map(|s| [(s, false), (s, true)])
    {
        let line = |x: f64| match of {
            Shape::Zigzag => wave(x),
            Shape::Steps => step(x),
            _ => 0.02 * x,
        };
        let into = |x: f64, y: f64| 6.0 - (y - 30.0 - line(x)).abs();
        let map = drawn(90, 90, |x, y| if upright { into(y, x) } else { into(x, y) });
        let found = map.figures(0).unwrap();
        assert_eq!((found.closed.len(), found.cut_by_rim), (1, 0), "{of:?} {found:?}");
        assert_eq!((found.closed[0].shape, found.closed[0].count), (of, 1), "{found:?}");
    }
    // Half a zigzag's worth along the rim: its one free side is looked at.
    let found = drawn(90, 60, |x, y| 20.0 + wave(x) - y).figures(0).unwrap();
    assert_eq!(found.closed[0].shape, Shape::Zigzag, "{found:?}");
}

#[test]
fn what_the_rim_cuts_is_counted_and_not_named() {
    let one = shape(Shape::Diamond, 17.5, 25.0);
    let cut_at = |x0: f64| drawn(80, 70, |x, y| one(x - x0, y - 35.0)).figures(0).unwrap();
    let (half, tip, whole) = (cut_at(0.0), cut_at(16.0), cut_at(40.0));
    assert_eq!((half.closed.len(), half.cut_by_rim, half.grazed), (0, 1, 0), "{half:?}");
    assert_eq!((tip.closed.len(), tip.cut_by_rim, tip.grazed), (0, 1, 1), "{tip:?}");
    assert_eq!((whole.closed.len(), whole.cut_by_rim, whole.grazed), (1, 0, 0), "{whole:?}");
    // Nothing to tell apart, nothing to name.
    let mut flat = drawn(80, 70, |_, _| 5.0);
    flat.two_tones = false;
    let none = flat.figures(0).unwrap();
    assert_eq!((none.closed.len(), none.cut_by_rim, none.chequer), (0, 0, 0.0));
    assert!(flat.figures(1).is_none() && flat.regions(7, true).is_empty());
}

#[test]
fn a_chequer_is_one_by_alternation() {
    let squares = |alternate: bool| {
        let light = |x: usize, y: usize| (x / 20 + if alternate { y / 20 } else { 0 }).is_multiple_of(2);
        let mut map = drawn(80, 80, |x, y| if light(x as usize, y as usize) { 900.0 } else { -900.0 });
        map.places = (0..80).map(|x| x / 20).collect();
        map.blanks = vec![(0..80).map(|y| y / 20).collect(); 4];
        map.faces[0].edges = vec![[vec![0; 80], vec![0; 80]]; 4];
        map.figures(0).unwrap()
    };
    assert_eq!(squares(true).chequer, 1.0);
    assert_eq!(squares(false).chequer, 0.0);
    assert_eq!(squares(true).closed.iter().find(|f| f.shape == Shape::Block).unwrap().count, 2, "{:?}", squares(true));
}

/// The blanks, panel and strips of samples/walnut-diamonds.toml.
fn walnut() -> (Vec<(Panel, Crosscut)>, Length, Trims) {
    let inch = |text: &str| Length::parse(text, Unit::Inch).unwrap();
    let size = Size { width: inch("1 1/2"), thickness: inch("7/8"), length: inch("24 1/2") };
    let end = |u: f64, v: f64| EndRings { pith: Point2::new(u, v) * 25.4, heartwood_radius: 3.04 * 25.4 };
    let blank = |i: u64| {
        let rings =
            Rings { near: end(-0.88, -1.69), far: end(-0.80, -1.64), ring_width: 25.4 * 3.0 / 32.0, seed: 100 + i };
        let figure = crate::wood::Figure::new(Wood::named("black walnut").unwrap(), rings, size.length.mm());
        let (letter, seen) = (String::from("A"), Seen::BothEnds);
        let half = if i.is_multiple_of(2) { HalfTurn::Rest } else { HalfTurn::EndForEnd };
        let blank = Blank { letter, size, rough: None, figure, seen, rip: None, moisture: None };
        LaidBlank { blank, turn: BlankTurn { quarter_roll: false, half }, start: Length::ZERO }
    };
    let (trued, planed) = ([inch("1/16"); 2], [inch("1/32"); 2]);
    let panel = Panel { name: "P".into(), blanks: (0..6).map(blank).collect(), trued, planed, measured: None };
    let cut = Crosscut {
        length: panel.length(),
        lost_first: inch("1/4"),
        far_loss: Length::ZERO,
        kerf: inch("3/32"),
        last: LastStrip::Freed,
        side: StripSide::StopSide,
        least_piece: inch("3"),
        waste_block: inch("2"),
    };
    let (off, flat) = (inch("1/4").mm(), inch("1/16").mm());
    let trims = Trims { left: off, right: off, front: off, back: off, upper: flat, lower: flat };
    (vec![(panel, cut)], inch("1 1/2"), trims)
}

/// Common practice, no source: alternate strips rolled over turn a corner of sapwood into diamonds, an even count gives
/// whole ones, groups of twos give other figures. Found from the wood alone.
#[test]
fn a_corner_of_sapwood_closes_diamonds() {
    let (panels, width, trims) = walnut();
    let strips: Vec<(usize, i64)> = (0..14).map(|strip| (0, strip)).collect();
    let stock = Stock { panels: &panels, strips: &strips, slides: &[], width, trims };
    let cut = CutFaces::sample(&stock, FacesCounted::Upper, 1.0).unwrap();
    let found = |laid: &[Laid]| cut.lay(laid).unwrap().figures(0).unwrap();
    let turned = |count: usize, turns: &[Turn]| {
        found(&(0..count).zip(turns.iter().cycle()).map(|(i, turn)| Laid::new(i, *turn)).collect::<Vec<_>>())
    };
    let count =
        |found: &Figures, shape| found.closed.iter().filter(|f| f.shape == shape).map(|f| f.count).sum::<usize>();
    let (a, r) = (Turn::AsCut, Turn::RolledOver);
    for strips in [8, 9, 12, 13, 14] {
        let ones = turned(strips, &[a, r]);
        assert!(ones.closed.iter().all(|f| f.shape == Shape::Diamond && f.light), "{strips}: {ones:?}");
        assert!(ones.closed.iter().all(|f| f.symmetry.iter().all(|s| *s > 0.95)), "{ones:?}");
        // Three rows, at every second glue line; the trim takes the tips off those at the ends.
        assert_eq!(count(&ones, Shape::Diamond) + ones.grazed, 3 * (strips / 2), "{strips}: {ones:?}");
        // One strip more leaves half diamonds at the right rim.
        assert_eq!(ones.cut_by_rim - ones.grazed, 3 * (strips % 2), "{strips}: {ones:?}");
    }
    let twos = turned(14, &[a, a, r, r]);
    assert_eq!((count(&twos, Shape::Diamond), count(&twos, Shape::Triangle)), (9, 18), "{twos:?}");
    let alike = turned(14, &[a]);
    assert_eq!((count(&alike, Shape::Diamond), count(&alike, Shape::Triangle)), (0, 36), "{alike:?}");
    // The search, which is told nothing of diamonds, finds them.
    let costs = Weights::RUNS_ON.costs(&Edges::sample(&stock, FacesCounted::Upper, 2.0).unwrap()).unwrap();
    let order: Vec<usize> = (0..14).collect();
    let best = fixed(&order, &costs.joints(&order), &[[true; 4]; 14], 1, Alike::HalfRound).best.remove(0);
    let best = found(&best.laid);
    assert!(count(&best, Shape::Diamond) >= 15 && best.closed.iter().all(|f| f.shape == Shape::Diamond), "{best:?}");
}
