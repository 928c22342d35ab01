//! Boards put together from tiles, kinds, and the words for the bench.

use super::bench::Bench;
use super::patterns;
use super::ties::Drawn;
use super::view::Views;
use super::{DRAWS, Kind, LaidUp, Measured, Slides, Sliding, Tiles, Wishes, how_laid, words};
use crate::board::{Board, Face, FaceOptions, FigureDrawn, Trims};
use crate::fixtures::{crosscut, mm};
use crate::layup::Turn::{self, AsCut, EndForEnd, EndOverEnd, RolledOver};
use crate::measure::{Length, Rule};
use crate::search::whole::CutFaces;
use crate::search::{Alike, FacesCounted, Laid, Weights};
use crate::stock::{Blank, BlankTurn, Crosscut, HalfTurn, LaidBlank, Panel, Seen, Size};
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::Point2;

fn blank(width: i64) -> LaidBlank {
    let size = Size { width: mm(width), thickness: mm(24), length: mm(700) };
    let end = |u| EndRings { pith: Point2::new(u, -60.0), heartwood_radius: 80.0 };
    let rings = Rings { near: end(-10.0), far: end(25.0), ring_width: 3.0, seed: 5 };
    let figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 700.0);
    let blank =
        Blank { letter: "A".into(), size, rough: None, figure, seen: Seen::BothEnds, moisture: None, rip: None };
    LaidBlank { blank, turn: BlankTurn::default(), start: Length::ZERO }
}

/// A panel 172 mm wide and 21 mm thick.
fn panel(name: &str) -> (Panel, Crosscut) {
    let panel = Panel {
        name: name.into(),
        blanks: vec![blank(60), blank(45), blank(70)],
        trued: [mm(1), mm(2)],
        planed: [mm(1), mm(2)],
        measured: None,
    };
    crosscut(panel, 150)
}

/// Strips by panel and number, from 0.
pub(super) fn bench(names: &[&str], strips: &[(usize, i64)]) -> Bench {
    Bench {
        slides: vec![set(&vec![0; strips.len()])],
        alike: Alike::HalfRound,
        slid: false,
        panels: names.iter().map(|n| panel(n)).collect(),
        width: mm(40),
        trims: Trims { left: 4.0, right: 5.0, front: 6.0, back: 7.0, upper: 1.5, lower: 2.5 },
        strips: strips.to_vec(),
        in_pairs: Vec::new(),
        count: strips.len(),
        spare: vec![0; names.len()],
        planned: None,
    }
}

/// Slides in mm.
pub(super) fn set(of: &[i64]) -> Slides {
    Slides { asked: Sliding::AsPlanned, of: of.iter().map(|slide| mm(*slide)).collect() }
}

fn flush(laid: &[Laid]) -> LaidUp {
    LaidUp { laid: laid.to_vec(), set: 0 }
}

pub(super) fn rule() -> Rule {
    Rule::millimetres(Length::from_micrometres(500)).unwrap()
}

fn numbered(count: i64) -> Bench {
    bench(&["P"], &(0..count).map(|n| (0, n)).collect::<Vec<_>>())
}

pub(super) fn laid(turns: &[Turn]) -> Vec<Laid> {
    turns.iter().enumerate().map(|(i, t)| Laid::new(i, *t)).collect()
}

#[test]
fn a_board_of_tiles_is_the_board() {
    let mut bench = numbered(6);
    // The lay-up leaves out the strip that is slid farthest.
    bench.slides.extend([set(&[0, 5, 20, 5, 0, 5]), set(&[-3, 0, 9, 0, 4, 1])]);
    let tiles = Tiles::draw(&bench, 1.0, true, 3).unwrap();
    let order = [(4, AsCut), (0, RolledOver), (5, EndForEnd), (1, EndOverEnd), (3, AsCut)];
    let laid: Vec<Laid> = order.iter().map(|(s, t)| Laid::new(*s, *t)).collect();
    for set in 0..bench.slides.len() {
        let lay = LaidUp { laid: laid.clone(), set };
        let board = Board::glue(bench.panels.clone(), &bench.places(&lay), bench.width, bench.trims, None).unwrap();
        let options = FaceOptions { pixel: 1.0, glue_lines: false, figure: FigureDrawn::Whole, workers: 1 };
        for face in [Face::Upper, Face::Lower] {
            let (drawn, put) = (board.picture(face, &options).unwrap(), tiles.picture(&lay, face).unwrap());
            assert_eq!((drawn.width, drawn.height), (put.width, put.height));
            let worst = drawn.bytes.iter().zip(&put.bytes).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
            assert!(worst <= 1, "{set} {face:?}: {worst}");
        }
    }
    let lay = flush(&laid);
    assert_ne!(tiles.picture(&lay, Face::Upper), tiles.picture(&lay, Face::Lower));
    let upper = Tiles::draw(&bench, 1.0, false, 1).unwrap();
    assert_eq!(upper.picture(&lay, Face::Upper), tiles.picture(&lay, Face::Upper));
    assert_eq!(upper.picture(&lay, Face::Lower), None, "the lower face was not drawn");
}

#[test]
fn tiles_that_cannot_be_drawn_are_none() {
    let bench = numbered(2);
    for pixel in [0.0, -1.0, f64::NAN, 1e-4] {
        assert!(Tiles::draw(&bench, pixel, false, 1).is_none(), "{pixel}");
    }
    let pixel = Tiles::pixel_for(&bench, 100, 100);
    assert!(2.0 * 21.0 / pixel <= 100.0 + 1e-9 && 172.0 / pixel <= 100.0 + 1e-9, "{pixel}");
    assert!((21.0 / pixel).fract() < 1e-9, "a strip is whole pixels wide");
}

#[test]
fn a_board_turned_or_mirrored_or_slid_looks_the_same() {
    let mut bench = numbered(8);
    let slides = [0, 12, 0, 25, -8, 12, 0, 3];
    bench.slides.extend([set(&slides), set(&slides.map(|slide| -slide))]);
    let tiles = Tiles::draw(&bench, 1.0, true, 1).unwrap();
    let one = laid(&[AsCut, RolledOver, AsCut, EndForEnd, EndForEnd, AsCut, EndOverEnd, AsCut]);
    let round: Vec<Laid> = one.iter().rev().map(|l| l.then(EndForEnd)).collect();
    let other = laid(&[AsCut; 8]);
    for both in [false, true] {
        let views = Views::new(&bench, &tiles, both);
        let view = |laid: &[Laid], set: usize| views.of(&LaidUp { laid: laid.to_vec(), set });
        let (a, b, c) = (view(&one, 0), view(&round, 0), view(&other, 0));
        assert_eq!(a.apart(&b, u64::MAX), 0);
        assert_eq!(a.apart(&a, u64::MAX), 0);
        assert!(a.apart(&c, u64::MAX) > super::EYE);
        assert_eq!(a.apart(&c, u64::MAX), c.apart(&a, u64::MAX));
        // Turned half round it is slid the other way; slid otherwise it looks otherwise.
        let slid = view(&one, 1);
        assert_eq!(slid.apart(&view(&round, 2), u64::MAX), 0);
        assert!(slid.apart(&view(&round, 1), u64::MAX) > super::EYE && slid.apart(&a, u64::MAX) > super::EYE);
    }
}

/// A lay-up as good as the leader is tied with it in every draw; one that is far worse in none; and it matters neither
/// who leads the list nor how many work.
#[test]
fn what_the_leader_does_not_beat_is_tied_with_it() {
    let bench = numbered(6);
    let mirrored = laid(&[AsCut, RolledOver, AsCut, RolledOver, AsCut, RolledOver]);
    let alike = laid(&[AsCut; 6]);
    let (alike, mirrored) = (flush(&alike), flush(&mirrored));
    let all = [&alike, &mirrored, &mirrored];
    let drawn = |workers| Drawn::of(&bench, &Wishes::default(), &all, workers, &mut |_| true);
    let runs_on = Measured::ALL.iter().position(|m| *m == Measured::RunsOn).unwrap();
    for drawn in [drawn(1), drawn(3)] {
        assert_eq!(drawn.many(), DRAWS);
        assert_eq!(drawn.tied(runs_on, 1), [false, true, true]);
    }
    let mut asked = 0;
    let mut twice = |_: &str| {
        asked += 1;
        asked < 3
    };
    let stopped = Drawn::of(&bench, &Wishes::default(), &all, 1, &mut twice);
    assert_eq!(stopped.many(), 2);
    assert_eq!(Drawn::default().tied(runs_on, 0), Vec::<bool>::new(), "nothing is known");
}

#[test]
fn a_figure_off_the_middle_is_centred_at_a_glue_line() {
    let by_turns = |count: usize| (0..count).map(|i| [AsCut, RolledOver][i % 2]).collect::<Vec<_>>();
    for (count, away) in [(8, 0), (9, 1)] {
        let bench = numbered(count);
        let tiles = Tiles::draw(&bench, 1.0, false, 1).unwrap();
        let views = Views::new(&bench, &tiles, false);
        let line = views.of(&flush(&laid(&by_turns(usize::try_from(count).unwrap())))).mirror_line();
        // In half strips: the middle of nine is that of a strip, which mirrors nothing.
        assert_eq!(line.rem_euclid(2), away, "{count} strips mirror themselves at every glue line");
        assert!(line.abs() <= 3);
    }
}

#[test]
fn what_a_face_forms_is_said() {
    use crate::search::whole::{Figure, Figures, Shape};
    let figure =
        |shape, count, light| Figure { shape, count, light, length: 30.0, width: 30.0, symmetry: [1.0; 2], area: 9e3 };
    let closed = vec![
        figure(Shape::Patch, 3, true),
        figure(Shape::Diamond, 15, true),
        figure(Shape::Stripe, 1, false),
        figure(Shape::Diamond, 6, true),
    ];
    let face = Figures { closed, cut_by_rim: 4, grazed: 3, chequer: 0.9, ring_chevrons: 5, pairs: 10 };
    let said = words::figures;
    assert_eq!(said(&face), "21 light diamonds, 1 dark stripe (3 more at the rim) and a chequer");
    let rings = Figures { closed: Vec::new(), chequer: 0.0, ring_chevrons: 6, ..face.clone() };
    assert_eq!(said(&rings), "chevrons in the rings");
    assert_eq!(said(&Figures { ring_chevrons: 0, ..rings }), "");
}

#[test]
fn kinds_know_no_beginning_and_no_end() {
    let kind = |turns: &[Turn]| Kind::of(turns);
    let [a, r, e, o] = Turn::ALL;
    assert_eq!(kind(&[a, r, a, r, a, r]), kind(&[o, e, o, e, o, e]));
    assert_eq!(kind(&[a, a, r, r, a, a, r, r]), kind(&[a, r, r, a, a, r, r, a]));
    let one = [a, r, o, o, a, r, o, o, a, r];
    let round: Vec<Turn> = one.iter().rev().map(|t| t.then(EndForEnd)).collect();
    assert_eq!(kind(&one), kind(&round));
    assert_ne!(kind(&[a, r, a, r, a, r]), kind(&[a, e, a, e, a, e]));
    let words = |turns: &[Turn]| Kind::of(turns).to_string();
    assert_eq!(words(&[a, a, a, a]), "every strip alike");
    assert_eq!(words(&[a, r, a, r, a, r]), "every strip mirrored");
    assert_eq!(words(&[a, a, e, e, a, a, e, e]), "pairs turned half round");
    assert_eq!(words(&[a, r, o, e, a, r, o, e]), "every strip mirrored and turned half round, by turns");
    assert_eq!(words(&[a, a, a, r, r, r]), "the right half mirrored");
    assert_eq!(words(&[a, e, a, e, o, r, o, r]), "every strip turned half round; the right half mirrored");
    assert_eq!(words(&[a, r, e, e, a, o, r, r]), "no repeat");
}

#[test]
fn words_for_the_bench() {
    let [a, r, e, o] = Turn::ALL;
    let bench = numbered(8);
    let how_laid = |bench: &Bench, laid: &[Laid]| how_laid(bench, &flush(laid), &rule());
    let said = |turns: &[Turn]| how_laid(&bench, &laid(turns));
    assert_eq!(said(&[a; 8]), "all as cut");
    assert_eq!(said(&[a, r, a, r, a, r, a, r]), "odd strips as cut, even strips rolled over");
    assert_eq!(said(&[a, a, r, r, a, a, r, r]), "two as cut, two rolled over, and so on");
    let twelve: Vec<Turn> = (0..12).map(|i| [e, r][i / 3 % 2]).collect();
    assert_eq!(
        how_laid(&numbered(12), &laid(&twelve[..12])),
        "1 to 3 end for end, 4 to 6 rolled over, 7 to 9 end for end, 10 to 12 rolled over"
    );
    let sixteen: Vec<Turn> = (0..16).map(|i| [e, r][i / 3 % 2]).collect();
    assert_eq!(how_laid(&numbered(16), &laid(&sixteen)), "three end for end, three rolled over, and so on");
    assert_eq!(said(&[a, r, e, a, r, e, a, r]), "as cut, rolled over, end for end, and so on");
    assert_eq!(said(&[a, a, a, r, r, r, r, e]), "1 to 3 as cut, 4 to 7 rolled over, 8 end for end");
    assert_eq!(
        said(&[a, r, a, r, o, e, o, e]),
        "1 to 4 by turns as cut, rolled over; 5 to 8 by turns end over end, end for end"
    );
    assert_eq!(
        said(&[a, r, a, a, e, a, r, o]),
        "2 and 7 rolled over; 5 end for end; 8 end over end; the others as cut"
    );
    let order = [(2, a), (0, r), (1, a), (3, e)].map(|(s, t)| Laid::new(s, t));
    assert_eq!(
        how_laid(&bench, &order),
        "from the left 3, 1 rolled over, 2, 4 end for end (those without a word as cut)"
    );
    // Strip 3 is gone from the bench, strip 8 is left out.
    let gone = self::bench(&["P"], &[0, 1, 3, 4, 5, 6, 7].map(|n| (0, n)));
    assert_eq!(how_laid(&gone, &laid(&[a, r, a, r, a, r])), "without 8: by turns as cut and rolled over");
    let two = self::bench(&["P", "Q"], &[(0, 0), (1, 0), (0, 1), (1, 1)]);
    assert_eq!(how_laid(&two, &laid(&[a, a, r, e])), "P 1 to Q 1 as cut, P 2 rolled over, Q 2 end for end");
}

#[test]
fn patterns_are_all_that_repeat_and_none_twice() {
    let all = patterns::turns(12, None);
    let once: std::collections::HashSet<_> = all.iter().collect();
    assert_eq!(once.len(), all.len());
    let repeats = |period: usize| all.iter().filter(|t| t.iter().zip(&t[period..]).all(|(a, b)| a == b)).count();
    assert_eq!([1, 2, 3, 4].map(repeats), [4, 16, 64, 256]);
    assert_eq!(patterns::turns(12, Some(2)).len(), 16);
    assert_eq!(patterns::turns(1, None).len(), 4);
    assert!(all.iter().any(|t| t[..6] == [AsCut; 6] && t[6..] == [RolledOver; 6]), "two halves, one mirrored");
}

#[test]
fn a_spare_strip_and_blanks_that_plane_against_each_other_are_said() {
    let mut bench = numbered(4);
    assert!(words::panels(&bench).is_empty(), "the grain of all blanks rises alike");
    bench.spare = vec![1];
    assert!(words::panels(&bench)[0].contains("gives one strip more"));
    // The pith rises across the thickness once the blanks are rolled a quarter; end for end it falls.
    let quarter = |half| BlankTurn { quarter_roll: true, half };
    let blanks = &mut bench.panels[0].0.blanks;
    for (laid, half) in blanks.iter_mut().zip([HalfTurn::Rest, HalfTurn::EndForEnd, HalfTurn::Rest]) {
        laid.turn = quarter(half);
    }
    let said = words::panels(&bench);
    // 35 mm of wander over 700.
    assert!(said[1].contains("pairs of them: 2 of 2.") && said[1].contains("1 in 20"), "{said:?}");
}

#[test]
fn what_the_wander_and_the_panels_faults_do_is_said_and_nothing_too_small_to_see() {
    let bench = numbered(4);
    let cut = CutFaces::sample(&bench.stock(0), FacesCounted::Upper, 2.0).unwrap();
    let said = |turns: &[Turn], rule: &Rule| words::faults(&cut.looks(&laid(turns)).unwrap(), rule);
    let (mm, inch) = (Rule::millimetres(Length::from_micrometres(500)).unwrap(), Rule::inches(16).unwrap());
    // Four laid alike: 4 tapers of 0.1 mm across; along, 4 · 0.1 mm · 40 mm of the length is under 0.05 mm.
    let alike = said(&[AsCut; 4], &mm);
    assert!(alike.contains("one side 0.4 mm longer") && !alike.contains("teeth"), "{alike}");
    assert!(said(&[AsCut; 4], &inch).contains("one side 1/64 in longer"));
    // By turns end for end: tapers cancel, a blade leaning 0.1° makes teeth of 21 mm · tan 0.1°.
    let turned = said(&[AsCut, EndForEnd, AsCut, EndForEnd], &mm);
    assert!(!turned.contains("longer") && turned.contains("teeth of 0.05 mm"), "{turned}");
}

#[test]
fn what_the_maker_weighs_is_what_the_ranks_go_by() {
    let bench = numbered(6);
    let all: Vec<Vec<Laid>> = [AsCut, RolledOver].map(|t| laid(&[AsCut, t, AsCut, t, AsCut, t])).to_vec();
    let all: Vec<LaidUp> = all.iter().map(|laid| flush(laid)).collect();
    let all: Vec<&LaidUp> = all.iter().collect();
    let ties = |runs_on| {
        let wishes = Wishes { runs_on, ..Wishes::default() };
        let drawn = Drawn::of(&bench, &wishes, &all, 2, &mut |_| true);
        let of = |measure| Measured::ALL.iter().position(|m| *m == measure).unwrap();
        [Measured::RunsOn, Measured::Contrast].map(|measure| drawn.tied(of(measure), 0))
    };
    // Weighed as contrast is, the figure "runs on" just where the contrast is great.
    let [runs_on, contrast] = ties(Weights::CONTRAST);
    assert_eq!(runs_on, contrast);
    assert_ne!(ties(Weights::RUNS_ON)[0], contrast);
}
