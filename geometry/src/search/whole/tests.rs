//! Laws of the measures.

use super::*;
use crate::board::{Board, Face, Trims};
use crate::layup::{Place, Turn};
use crate::measure::Length;
use crate::search::{Alike, Draw, Edges, FacesCounted, Laid, Stock, Weights, tied};
use crate::stock::{Blank, BlankTurn, Crosscut, HalfTurn, LaidBlank, LastStrip, Panel, Seen, Size, StripSide};
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::{Point2, Point3};
use proptest::prelude::*;

const TRIMS: Trims = Trims { left: 6.0, right: 4.0, front: 5.0, back: 7.0, upper: 1.5, lower: 1.5 };

fn mm(n: i64) -> Length {
    Length::from_micrometres(n * 1000)
}

fn blank(letter: &str, wood: &str, seed: u64, half: HalfTurn) -> LaidBlank {
    let size = Size { width: mm(40), thickness: mm(24), length: mm(700) };
    let end = |u| EndRings { pith: Point2::new(u, -40.0), heartwood_radius: 75.0 };
    let rings = Rings { near: end(-20.0), far: end(-18.0), ring_width: 2.4, seed };
    let figure = Figure::new(Wood::named(wood).unwrap(), rings, 700.0);
    let blank =
        Blank { letter: letter.into(), size, rough: None, figure, rip: None, seen: Seen::BothEnds, moisture: None };
    LaidBlank { blank, turn: BlankTurn { quarter_roll: false, half }, start: Length::ZERO }
}

/// A panel of walnut with a corner of sapwood in each of two blanks, every second one turned end for end, and one of
/// the same width but thicker with a blank of cherry.
fn panels(kerf: i64) -> Vec<(Panel, Crosscut)> {
    let panel = |blanks: Vec<LaidBlank>, planed: i64| {
        let (name, planed) = (String::from("P"), [mm(planed), mm(planed)]);
        let panel = Panel { name, blanks, trued: [mm(1), mm(1)], planed, measured: None };
        let cut = Crosscut {
            length: panel.length(),
            lost_first: mm(8),
            far_loss: Length::ZERO,
            kerf: mm(kerf),
            last: LastStrip::Left,
            side: StripSide::StopSide,
            least_piece: mm(150),
            waste_block: Length::ZERO,
        };
        (panel, cut)
    };
    let walnut = |seed, half| blank("A", "black walnut", seed, half);
    vec![
        panel(vec![walnut(1, HalfTurn::Rest), walnut(2, HalfTurn::EndForEnd), walnut(3, HalfTurn::Rest)], 2),
        panel(
            vec![
                walnut(4, HalfTurn::Rest),
                blank("C", "black cherry", 5, HalfTurn::EndForEnd),
                walnut(6, HalfTurn::Rest),
            ],
            1,
        ),
    ]
}

const STRIPS: [(usize, i64); 6] = [(0, 0), (0, 1), (0, 2), (0, 3), (1, 0), (1, 1)];

fn cut(kerf: i64, trims: Trims, faces: FacesCounted, pixel: f64) -> CutFaces {
    cut_slid(kerf, trims, faces, pixel, &[])
}

fn cut_slid(kerf: i64, trims: Trims, faces: FacesCounted, pixel: f64, slides: &[Length]) -> CutFaces {
    let panels = panels(kerf);
    CutFaces::sample(&Stock { panels: &panels, strips: &STRIPS, slides, width: mm(40), trims }, faces, pixel).unwrap()
}

fn laid(of: &[(usize, usize)]) -> Vec<Laid> {
    of.iter().map(|(strip, turn)| Laid::new(*strip, Turn::ALL[*turn])).collect()
}

/// The cells are the board's own, asked at its own points; where strips are slid too.
#[test]
fn a_light_map_is_what_the_board_shows() {
    let trims = Trims { left: 4.0, right: 4.0, front: 6.0, back: 6.0, upper: 1.0, lower: 2.0 };
    // All strips that are slid farthest and least are laid: the board is as wide as what all of them cover.
    for slides in [[0; 6], [7, 0, -5, 3, 0, 1], [0, -9, 0, 0, 4, 0]].map(|all| all.map(mm)) {
        let cut = cut_slid(3, trims, FacesCounted::Both, 2.0, &slides);
        let lay = laid(&[(2, 0), (0, 1), (4, 2), (3, 3), (1, 2)]);
        let map = cut.lay(&lay).unwrap();
        shows_what_the_board_does(&map, &lay, &slides, trims);
    }
}

fn shows_what_the_board_does(map: &LightMap, lay: &[Laid], slides: &[Length], trims: Trims) {
    let place = |l: &Laid| {
        let (panel, strip) = STRIPS[l.strip];
        Place { panel, strip, turn: l.turn(), stagger: slides[l.strip] }
    };
    let places: Vec<Place> = lay.iter().map(place).collect();
    let board = Board::glue(panels(3), &places, mm(40), trims, None).unwrap();
    let size = board.finished();
    assert!((map.length() - size.length).abs() < 1e-9 && (map.width() - size.width).abs() < 0.05);
    for (face, z) in [(0, size.thickness), (1, 0.0)] {
        assert_eq!(map.faces[face].face, [Face::Upper, Face::Lower][face]);
        let mut x = 0.0;
        for (column, width) in map.columns.iter().enumerate() {
            x += *width as f64 / 1e3;
            for row in 0..map.rows {
                let y = (row as f64 + 0.5) * size.width / map.rows as f64;
                let at = Point3::new(x - *width as f64 / 2e3, y, z);
                let spot = board.spot(&at).unwrap();
                assert_eq!(spot.place, map.places[column]);
                assert_eq!(spot.blank, usize::from(map.blanks[spot.place][row]));
                let cell = map.cell(face, column, row).unwrap();
                let colour = board.colour_of(&spot, 2.0).unwrap();
                for (seen, part) in cell.light.iter().zip([colour.r, colour.g, colour.b]) {
                    assert!((f64::from(*seen) - f64::from(part) * 65_535.0).abs() < 20.0, "{column} {row}");
                }
            }
        }
    }
    assert!(map.cell(0, map.columns.len(), 0).is_none() && map.cell(0, 0, map.rows).is_none());
}

fn any_lay_up() -> impl Strategy<Value = Vec<Laid>> {
    let turns = prop::collection::vec(0_usize..4, STRIPS.len());
    (Just((0..STRIPS.len()).collect::<Vec<_>>()).prop_shuffle(), 1..=STRIPS.len(), turns)
        .prop_map(|(order, count, turns)| laid(&order.into_iter().zip(turns).take(count).collect::<Vec<_>>()))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Turned half round about the upright a board has the same numbers, to the last digit; turned over too, where
    /// both faces count and lose the same.
    #[test]
    fn turning_the_whole_board_changes_no_measure(lay in any_lay_up()) {
        thread_local! {
            static CUT: [(CutFaces, Alike); 3] = [
                (cut(3, Trims { lower: 0.5, ..TRIMS }, FacesCounted::Upper, 2.3), Alike::HalfRound),
                (cut(3, Trims { lower: 0.5, ..TRIMS }, FacesCounted::Both, 2.3), Alike::HalfRound),
                (cut(3, TRIMS, FacesCounted::Both, 2.3), Alike::HalfRoundAndOver),
            ];
        }
        CUT.with(|all| {
            for (cut, alike) in all {
                let (looks, view) = (cut.looks(&lay).unwrap(), cut.lay(&lay).unwrap().view());
                for same in alike.same(&lay) {
                    prop_assert_eq!(cut.looks(&same).unwrap(), looks);
                    prop_assert_eq!(view.difference(&cut.lay(&same).unwrap().view()), 0.0);
                }
                for aspect in Aspect::ALL {
                    let value = aspect.of(&looks);
                    prop_assert!(value.is_none_or(|v| v.is_finite() && v >= 0.0), "{:?} {:?}", aspect, value);
                    prop_assert!(!aspect.unit().is_empty() || value.is_some_and(|v| v <= 1.0), "{:?} {:?}", aspect, value);
                }
            }
            Ok(())
        })?;
    }

    /// Slid strips: turned half round, or over about the length, every slide changes its sign, and no number does; over
    /// about the width slides stay.
    #[test]
    fn turning_a_board_of_slid_strips_changes_no_measure(lay in any_lay_up()) {
        const SLIDES: [i64; 6] = [0, 4, -2, 7, 0, 3];
        thread_local! {
            static CUT: [[CutFaces; 2]; 2] = [FacesCounted::Upper, FacesCounted::Both].map(|faces| {
                [1, -1].map(|sign| cut_slid(3, TRIMS, faces, 2.3, &SLIDES.map(|slide| mm(sign * slide))))
            });
        }
        CUT.with(|[upper, both]| {
            let [_, round, over, width] = <[_; 4]>::try_from(Alike::HalfRoundAndOver.same(&lay)).unwrap();
            for ([cut, other], turned) in [(upper, &round), (both, &round), (both, &over)] {
                prop_assert_eq!(other.looks(turned).unwrap(), cut.looks(&lay).unwrap());
            }
            prop_assert_eq!(both[0].looks(&width).unwrap(), both[0].looks(&lay).unwrap());
            Ok(())
        })?;
    }

    /// Strips of one panel left of the middle, those of its mirror image right of it: exactly symmetric, however the
    /// strips are turned. Wood can't be reflected, so the mirror image is made of the samples.
    #[test]
    fn a_mirrored_pair_of_panels_scores_exactly_1(turns in prop::collection::vec(0_usize..4, 4), back in any::<bool>()) {
        let mut cut = cut(3, TRIMS, FacesCounted::Both, 3.1);
        cut.strips.truncate(4);
        for i in 0..4 {
            let mirrored = mirror_image(&cut.strips[i], cut.panels[0].columns);
            cut.strips.push(mirrored);
        }
        let left: Vec<Laid> = (0..4).map(|i| Laid::new(i, Turn::ALL[turns[i]])).collect();
        if back {
            // Each panel's back half is its front half's image.
            for section in cut.strips.iter_mut().flat_map(sections) {
                let columns = cut.panels[0].columns;
                let rows: Vec<Vec<Cell>> = section.cells.chunks(columns).map(<[Cell]>::to_vec).collect();
                let mirrored = |cell: &Cell| Cell { lean: [cell.lean[0], -cell.lean[1]], ..*cell };
                let image = (0..rows.len()).flat_map(|row| match rows.len() - 1 - row {
                    // The row that is its own image has rings straight along or across.
                    other if other == row => rows[row].iter().map(|c| Cell { lean: [1000, 0], ..*c }).collect(),
                    other if other < row => rows[other].iter().map(mirrored).collect::<Vec<_>>(),
                    _ => rows[row].clone(),
                });
                section.cells = image.collect();
            }
            let looks = cut.looks(&left).unwrap();
            prop_assert_eq!((looks.front_back, looks.rings_front_back), (1.0, 1.0));
            prop_assert_eq!(looks.half_turn, looks.left_right);
        } else {
            let right = left.iter().rev().map(|l| Laid::new(l.strip + 4, l.turn()));
            let looks = cut.looks(&left.iter().copied().chain(right).collect::<Vec<_>>()).unwrap();
            prop_assert_eq!((looks.left_right, looks.rings_left_right), (1.0, 1.0));
            prop_assert!(looks.half_turn < 0.9 && looks.front_back < 0.9);
        }
    }
}

/// All that was sampled of a strip.
fn sections(strip: &mut faces::OfStrip) -> impl Iterator<Item = &mut faces::Section> {
    strip.parts.iter_mut().flat_map(|part| part.sections.iter_mut().flatten())
}

/// The strip as it would be in the panel's mirror image, its thickness reversed.
fn mirror_image(strip: &faces::OfStrip, columns: usize) -> faces::OfStrip {
    let mut image = strip.clone();
    for section in sections(&mut image) {
        section.cells.chunks_mut(columns).for_each(<[Cell]>::reverse);
        section.cells.iter_mut().for_each(|cell| cell.lean[1] = -cell.lean[1]);
        section.edges.reverse();
    }
    image
}

/// With no kerf and nothing flattened two neighbours share a cut face: rolled over, the second is the first's exact
/// mirror image, of real wood.
#[test]
fn a_bookmatch_without_a_kerf_scores_exactly_1() {
    let trims = Trims { upper: 0.0, lower: 0.0, ..TRIMS };
    let cut = cut(0, trims, FacesCounted::Upper, 2.0);
    let looks = cut.looks(&laid(&[(0, 0), (1, 1)])).unwrap();
    assert_eq!((looks.left_right, looks.misses, looks.contrast), (1.0, Some(0.0), looks.contrast));
    assert!(looks.front_back < 0.9 && looks.reach > 0, "{looks:?}");
    assert!(looks.wander_shown.unwrap() < 1e-9);
    // Slid along it nothing runs on, nor is it meant to.
    let slid = cut_slid(0, trims, FacesCounted::Upper, 2.0, &[0, 8, 0, 8, 0, 8].map(mm));
    let slid = slid.looks(&laid(&[(0, 0), (1, 1)])).unwrap();
    assert!(slid.left_right < 0.9 && slid.misses.unwrap() > 4.0 && slid.wander_shown.is_none(), "{slid:?}");
    // Alike laid, nothing mirrors.
    let alike = cut.looks(&laid(&[(0, 0), (1, 0)])).unwrap();
    assert!(alike.left_right < 0.5 && alike.misses.unwrap() > 1.0 && alike.wander_shown.is_none(), "{alike:?}");
}

#[test]
fn a_bookmatch_closes_nearly_and_its_neighbour_misses_by_the_wander() {
    let cut = cut(3, TRIMS, FacesCounted::Upper, 1.0);
    let [near, far] = [&[(0, 0), (1, 1)], &[(1, 1), (2, 0)]].map(|lay| cut.looks(&laid(lay)).unwrap());
    // b + 2f = 6 mm and 2s + b − 2f = 80 mm apart, 2 mm of wander in 700.
    assert!((near.wander_shown.unwrap() - 6.0 * 2.0 / 700.0).abs() < 1e-9, "{near:?}");
    assert!((far.wander_shown.unwrap() - 80.0 * 2.0 / 700.0).abs() < 1e-9, "{far:?}");
    assert!(near.misses.unwrap() < 0.3 && far.reach == 0, "{near:?} {far:?}");
}

#[test]
fn evenness_and_contrast_of_known_maps() {
    let mut cut = cut(3, TRIMS, FacesCounted::Upper, 2.0);
    let grey = |of: &mut CutFaces, light: &dyn Fn(usize, usize) -> u16| {
        for (i, strip) in of.strips.iter_mut().enumerate() {
            for section in sections(strip) {
                for (j, cell) in section.cells.iter_mut().enumerate() {
                    let light = light(i, j);
                    let share = f32::from(light) / 65_535.0;
                    let lab = crate::wood::Lab::of(crate::wood::Colour { r: share, g: share, b: share });
                    *cell = Cell { light: [light; 3], lightness: (lab.l * 1e3) as i32, ..*cell };
                }
            }
        }
    };
    let lay = laid(&[(0, 0), (1, 0), (2, 0), (3, 0)]);
    grey(&mut cut, &|_, _| 20_000);
    let even = cut.looks(&lay).unwrap();
    assert_eq!((even.left_right, even.evenness, even.contrast), (1.0, 1.0, 0.0));
    // Black left, white right: each sixteenth is one tone; one glue line of three has all the contrast.
    grey(&mut cut, &|strip, _| if strip < 2 { 0 } else { u16::MAX });
    let halves = cut.looks(&laid(&[(0, 0), (1, 0), (2, 0), (3, 0)])).unwrap();
    assert!(halves.evenness < 0.2 && halves.left_right == 0.0 && halves.front_back == 1.0, "{halves:?}");
    assert!((halves.contrast - 100.0 / 3.0).abs() < 0.01, "{halves:?}");
    let turns = cut.looks(&laid(&[(0, 0), (2, 0), (1, 0), (3, 0)])).unwrap();
    assert!((turns.contrast - 100.0).abs() < 0.01 && turns.evenness > halves.evenness, "{turns:?}");
}

#[test]
fn what_faults_of_the_panel_do() {
    let cut = cut(3, TRIMS, FacesCounted::Upper, 4.0);
    let known = Known { taper_across: 0.2, taper_along: 0.7, blade_leans: 1.0, centre_off: 0.5 };
    let alike = cut.faults_by(&laid(&[(0, 0), (1, 1), (2, 0)]), &known);
    assert!((alike.fan - 0.6).abs() < 1e-12 && (alike.arch - 0.7 * 40.0 / 700.0).abs() < 1e-12, "{alike:?}");
    assert_eq!((alike.teeth, alike.steps, alike.step), (0.0, 0, 0.0));
    let mixed = cut.faults_by(&laid(&[(0, 0), (1, 3), (2, 2), (3, 1)]), &known);
    assert_eq!((mixed.fan, mixed.arch, mixed.steps, mixed.step), (0.0, 0.0, 2, 1.0));
    assert!((mixed.teeth - 20.0 * 1.0_f64.to_radians().tan()).abs() < 1e-12);
}

#[test]
fn blanks_that_plane_against_each_other() {
    let steep = |half, quarter_roll| {
        let mut laid = blank("A", "hard maple", 1, half);
        let end = |v| EndRings { pith: Point2::new(-20.0, v), heartwood_radius: 75.0 };
        let rings = Rings { near: end(-60.0), far: end(-40.0), ring_width: 2.4, seed: 1 };
        laid.blank.figure = Figure::new(Wood::named("hard maple").unwrap(), rings, 700.0);
        laid.turn.quarter_roll = quarter_roll;
        laid
    };
    // The same by asking for the wood itself: where the pith lies as the blank lies, at two stations.
    for quarter in [false, true] {
        for half in [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd] {
            let laid = steep(half, quarter);
            let size = laid.blank.size;
            let own = |p| laid.turn.own(size, p);
            let slope = faults::slope(&laid);
            let (from, to) = (own(Point3::new(1.0, 2.0, 3.0)), own(Point3::new(1.0 + slope.x, 2.0 + slope.y, 4.0)));
            let moved = (to - from) / (to.z - from.z);
            assert!((moved.xy() - laid.blank.figure.wander()).norm() < 1e-12, "{half:?} {quarter}");
        }
    }
    let planing = |halves: &[HalfTurn]| {
        let blanks = halves.iter().map(|half| steep(*half, false)).collect();
        let (trued, planed) = ([Length::ZERO; 2], [Length::ZERO; 2]);
        Planing::of(&Panel { name: "P".into(), blanks, trued, planed, measured: None })
    };
    let with = planing(&[HalfTurn::Rest, HalfTurn::EndOverEnd, HalfTurn::Rest]);
    assert_eq!((with.against, with.pairs, with.steepest), (0, 2, 0.0));
    let against = planing(&[HalfTurn::Rest, HalfTurn::EndForEnd, HalfTurn::RolledOver]);
    assert_eq!((against.against, against.pairs), (1, 2));
    assert!((against.steepest - 20.0 / 700.0).abs() < 1e-12);
}

#[test]
fn kinds_are_different_and_each_has_its_best_first() {
    let cut = cut(3, TRIMS, FacesCounted::Upper, 2.0);
    let lays = [[0, 1, 0, 1], [0, 1, 0, 1], [0, 0, 0, 0], [2, 3, 2, 3], [0, 0, 0, 1], [0, 3, 0, 3]];
    let view =
        |turns: &[usize; 4]| cut.lay(&laid(&turns.iter().copied().enumerate().collect::<Vec<_>>())).unwrap().view();
    let views: Vec<View> = lays.iter().map(view).collect();
    let found = kinds(&views, SAME);
    assert_eq!(found[0].members[..2], [0, 1]);
    assert_eq!(found.iter().map(|kind| kind.members.len()).sum::<usize>(), lays.len());
    for (i, one) in found.iter().enumerate() {
        for other in &found[..i] {
            assert!(views[one.members[0]].difference(&views[other.members[0]]) >= SAME);
        }
        assert!(one.members.iter().all(|m| views[*m].difference(&views[one.members[0]]) < SAME));
        assert!(one.members.is_sorted());
    }
    assert!(kinds(&views, 100.0).len() == 1 && kinds(&[], 1.0).is_empty());
    // A quick no is a right no.
    for (a, b) in views.iter().flat_map(|a| views.iter().map(move |b| (a, b))) {
        let full = a.difference(b);
        for limit in [0.5, 3.0, 8.0] {
            assert_eq!(a.compared(b, limit).is_some(), full < limit);
        }
        assert!((full - b.difference(a)).abs() < 1e-9);
    }
}

#[test]
fn draws_are_seeded_and_as_wide_as_they_say() {
    let laid = blank("A", "black walnut", 1, HalfTurn::Rest);
    let blank = &laid.blank;
    assert_eq!(Draw::new(7).shift(0, 1, blank, 55.0), Draw::new(7).shift(0, 1, blank, 55.0));
    assert_ne!(Draw::new(7).shift(0, 1, blank, 55.0), Draw::new(8).shift(0, 1, blank, 55.0));
    for w in [0.0, 50.0, 350.0, 690.0] {
        let wide = Draw::half_width(blank, w);
        let all: Vec<f64> = (0..4000)
            .flat_map(|seed| {
                let s = Draw::new(seed).shift(0, 0, blank, w);
                [s.x, s.y]
            })
            .collect();
        let within = all.iter().filter(|s| s.abs() <= wide).count() as f64 / all.len() as f64;
        assert!((within - 0.95).abs() < 0.01, "{w}: {within}");
        assert!((all.iter().sum::<f64>() / all.len() as f64).abs() < 0.05 * wide);
    }
    // Neighbours along the grain move together.
    let (a, b) = (Draw::new(3).shift(0, 0, blank, 140.0), Draw::new(3).shift(0, 0, blank, 143.0));
    assert!((a - b).norm() < 0.1);
}

/// A leader by much stays ahead; one by nothing is tied.
#[test]
fn ranks_outlive_the_draws_or_are_tied() {
    let panels = panels(3);
    let stock = Stock { panels: &panels, strips: &STRIPS[..4], slides: &[], width: mm(40), trims: TRIMS };
    let drawn = |seed| Edges::drawn(&stock, FacesCounted::Upper, 4.0, &Draw::new(seed)).unwrap();
    let lays = [[0, 1, 0, 1], [0, 0, 0, 0], [2, 3, 2, 3]].map(|t| laid(&t.into_iter().enumerate().collect::<Vec<_>>()));
    let costs = |seed| {
        let edges = drawn(seed);
        lays.iter().map(|lay| Weights::RUNS_ON.lay_up(&edges, lay)).collect::<Vec<u64>>()
    };
    let all: Vec<Vec<u64>> = (0..25).map(costs).collect();
    assert!(all.windows(2).any(|w| w[0] != w[1]));
    assert_eq!(tied(&all)[..2], [true, false]);
    assert_eq!(tied(&[]), Vec::<bool>::new());
}

#[test]
fn what_does_not_fit_together_is_refused() {
    let panels = panels(3);
    let stock = |trims| Stock { panels: &panels, strips: &STRIPS, slides: &[], width: mm(40), trims };
    for pixel in [f64::NAN, 0.0, -1.0, 1e-9] {
        assert!(CutFaces::sample(&stock(TRIMS), FacesCounted::Upper, pixel).is_err());
    }
    let gone = Trims { front: 80.0, ..TRIMS };
    assert!(CutFaces::sample(&stock(gone), FacesCounted::Upper, 2.0).is_err());
    let cut = cut(3, TRIMS, FacesCounted::Upper, 5.0);
    assert!(cut.lay(&[]).is_none() && cut.looks(&laid(&[(9, 0)])).is_none());
    let trims = Trims { left: 50.0, ..TRIMS };
    let short = CutFaces::sample(&stock(trims), FacesCounted::Upper, 2.0).unwrap();
    assert!(short.looks(&laid(&[(0, 0)])).is_none() && short.looks(&laid(&[(0, 0), (1, 0), (2, 0), (4, 0)])).is_none());
}
