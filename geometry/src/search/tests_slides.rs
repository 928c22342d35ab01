//! Strips slid along their neighbours: against the board itself, brute force, and the laws of turning a board.

use super::tests::{TRIMS, all_turned, orders, panels};
use super::*;
use crate::board::{Board, Face};
use crate::fixtures::mm;
use crate::layup::{Place, Turn};
use crate::measure::Length;
use nalgebra::Point3;
use std::collections::HashSet;

/// Samples of so many strips slid so, every 2 mm.
fn edges(slides: &[Length], faces: FacesCounted) -> Edges {
    let (panels, strips) = (panels(15.0), (0..).take(slides.len()).map(|k| (0, k)).collect::<Vec<_>>());
    let stock = Stock { panels: &panels, strips: &strips, slides, width: mm(40), trims: TRIMS };
    Edges::sample(&stock, faces, 2.0).unwrap()
}

fn by(slides: &[i64]) -> Vec<Length> {
    slides.iter().map(|slide| mm(*slide)).collect()
}

/// Every sign changed.
fn turned(slides: &[Length]) -> Vec<Length> {
    slides.iter().map(|slide| -*slide).collect()
}

fn pairs() -> impl Iterator<Item = (Turn, Turn)> {
    Turn::ALL.into_iter().flat_map(|a| Turn::ALL.map(|b| (a, b)))
}

/// The board, its strips staggered, asked at its own points just at both its glue lines, gives the same colour measure.
#[test]
fn a_glue_line_of_slid_strips_costs_what_the_board_shows_there() {
    let slides = by(&[4, -3, 12]);
    for (faces, shown) in [(FacesCounted::Upper, &[Face::Upper][..]), (FacesCounted::Both, &[Face::Upper, Face::Lower])]
    {
        let edges = edges(&slides, faces);
        // 121 mm less 14 of trims less 15 of slides.
        assert_eq!(edges.samples(), 46);
        for (a, b) in pairs() {
            let laid = [Laid::new(2, a), Laid::new(0, b), Laid::new(1, a)];
            let place = |l: &Laid| Place { panel: 0, strip: l.strip as i64, turn: l.turn(), stagger: slides[l.strip] };
            let places: Vec<Place> = laid.iter().map(place).collect();
            let board = Board::glue(panels(15.0), &places, mm(40), TRIMS, None).unwrap();
            let size = board.finished();
            for joint in 0..2 {
                let line = board.span(joint)[1];
                let mut sum = 0_u32;
                for face in shown {
                    let z = if *face == Face::Upper { size.thickness } else { 0.0 };
                    for i in 0..edges.samples() {
                        let y = size.width / 2.0 + (i as f64 - (edges.samples() - 1) as f64 / 2.0) * 2.0;
                        let bytes = [joint, joint + 1].map(|place| {
                            let spot = board.spot_in(place, &Point3::new(line, y, z)).unwrap();
                            board.colour_of(&spot, 2.0).unwrap().to_srgb8()
                        });
                        sum += bytes[0].iter().zip(bytes[1]).map(|(a, b)| u32::from(a.abs_diff(b))).sum::<u32>();
                    }
                }
                let mean = f64::from(sum) / (765 * edges.samples() * shown.len()) as f64;
                let measured = Measure::Colour.at(&edges, laid[joint], laid[joint + 1]);
                // A byte may round the other way where the two sums of the same length differ in their last digit.
                assert!((mean * 1e6 - f64::from(measured)).abs() < 100.0, "{joint} {a:?} {b:?}: {mean} {measured}");
            }
        }
    }
}

/// Turned half round, every slide changes its sign, and the board has the same numbers; over about the length too, where
/// both faces count; over about the width slides stay as they are.
#[test]
fn a_board_of_slid_strips_turned_half_round_is_slid_the_other_way() {
    let slides = by(&[0, 5, 13]);
    for faces in [FacesCounted::Upper, FacesCounted::Both] {
        let [edges, other] = [&slides, &turned(&slides)].map(|slides| edges(slides, faces));
        assert!(edges.are_slid() && other.are_slid());
        let at = |edges: &Edges, a: Laid, b: Laid| Measure::ALL.map(|measure| measure.at(edges, a, b));
        let mut stays = true;
        for (a, b) in pairs().map(|(a, b)| (Laid::new(0, a), Laid::new(2, b))) {
            let here = at(&edges, a, b);
            assert_eq!(at(&other, b.then(Turn::EndForEnd), a.then(Turn::EndForEnd)), here, "{a:?} {b:?}");
            stays &= at(&edges, b.then(Turn::EndForEnd), a.then(Turn::EndForEnd)) == here;
            if faces == FacesCounted::Both {
                assert_eq!(at(&other, a.then(Turn::EndOverEnd), b.then(Turn::EndOverEnd)), here, "{a:?} {b:?}");
                assert_eq!(at(&edges, b.then(Turn::RolledOver), a.then(Turn::RolledOver)), here, "{a:?} {b:?}");
            }
        }
        assert!(!stays, "slid the same way it is another board");
        // The table is what each pair by itself costs, by however many workers.
        let costs = Weights::RUNS_ON.costs(&edges).unwrap();
        assert_eq!(Weights::RUNS_ON.costs_by(&edges, 3).unwrap(), costs);
        for (k, l) in [(0, 1), (1, 0), (0, 2), (2, 0), (1, 2), (2, 1)] {
            assert_eq!(Weights::RUNS_ON.joint(&edges, k, l), costs.joints(&[k, l])[0]);
        }
    }
}

/// Only how far one strip is slid beyond another counts.
#[test]
fn strips_slid_alike_are_not_slid() {
    let panels = panels(15.0);
    let stock = Stock { panels: &panels, strips: &[(0, 0), (0, 1), (0, 2)], slides: &[], width: mm(40), trims: TRIMS };
    let none = Edges::sample(&stock, FacesCounted::Upper, 2.0).unwrap();
    for alike in [[0; 3], [9; 3]].map(|slides| edges(&by(&slides), FacesCounted::Upper)) {
        assert!(!alike.are_slid());
        assert_eq!(Weights::RUNS_ON.costs(&none), Weights::RUNS_ON.costs(&alike));
    }
    let [slid, further] = [[0, 4, 0], [7, 11, 7]].map(|slides| edges(&by(&slides), FacesCounted::Upper));
    assert_eq!(Weights::RUNS_ON.costs(&slid), Weights::RUNS_ON.costs(&further));
    assert_ne!(Weights::RUNS_ON.costs(&slid), Weights::RUNS_ON.costs(&none));
}

/// Least cost, lay-ups at it, and different boards among them: told apart by where every strip lies, how it is turned
/// and how far it is slid, whichever way the board is held.
fn brute(all: Vec<Vec<Laid>>, edges: &Edges, slides: &[Length], alike: Alike) -> (u64, usize, usize) {
    let cost = |laid: &[Laid]| Weights::RUNS_ON.lay_up(edges, laid);
    let least = all.iter().map(|laid| cost(laid)).min().unwrap();
    let best: Vec<Vec<Laid>> = all.into_iter().filter(|laid| cost(laid) == least).collect();
    let board = |laid: &Vec<Laid>| {
        let slid: Vec<(Laid, Length)> = laid.iter().map(|l| (*l, slides[l.strip])).collect();
        alike.first_slid(&slid)
    };
    (least, best.len(), best.iter().map(board).collect::<HashSet<_>>().len())
}

#[test]
fn slid_strips_in_the_order_given_agree_with_every_way_of_turning() {
    let all = |strips: usize| all_turned(&(0..strips).collect::<Vec<_>>(), &vec![[true; 4]; strips]);
    for (slides, faces, alike) in [
        (&[0, 6][..], FacesCounted::Upper, Alike::HalfRound),
        (&[0, 6, 0, 6], FacesCounted::Upper, Alike::HalfRound),
        (&[0, 6, -3, 2, 6], FacesCounted::Both, Alike::HalfRoundAndOver),
        (&[0, 10, 0, 10, 0, 10], FacesCounted::Upper, Alike::HalfRound),
    ] {
        let slides = by(slides);
        let edges = edges(&slides, faces);
        let (least, optima, boards) = brute(all(slides.len()), &edges, &slides, alike);
        let costs = Weights::RUNS_ON.costs(&edges).unwrap();
        let order: Vec<usize> = (0..slides.len()).collect();
        let allowed = vec![[true; 4]; slides.len()];
        let found = fixed(&order, &costs.joints(&order), &allowed, 3, alike.slid_unlike());
        assert_eq!((found.best[0].cost, found.optima), (least, optima as u128));
        let wanted = Wanted { alike: alike.slid_unlike(), ..Wanted::all(slides.len(), Order::AsGiven) };
        let tried = lay_ups(&costs, &wanted, &mut |_| true).unwrap();
        assert!(tried.proven);
        assert_eq!((tried.found[0].cost, tried.equally_good), (least, boards as u64));
    }
}

#[test]
fn slid_strips_in_any_order_agree_with_every_order_turned_every_way() {
    let slides = by(&[0, 7, 0, 7]);
    let all: Vec<Vec<Laid>> = orders(4, 4).into_iter().flat_map(|order| all_turned(&order, &[[true; 4]; 4])).collect();
    for (faces, alike) in [(FacesCounted::Upper, Alike::HalfRound), (FacesCounted::Both, Alike::HalfRoundAndOver)] {
        let edges = edges(&slides, faces);
        let (least, optima, boards) = brute(all.clone(), &edges, &slides, alike);
        let costs = Weights::RUNS_ON.costs(&edges).unwrap();
        let found = free(&costs, &[[true; 4]; 4], 4, alike.slid_unlike()).unwrap();
        assert_eq!((found.best.cost, found.optima, found.boards), (least, optima as u128, Some(boards as u128)));
        // Both faces: each board is there twice, turned over about its width; the upper one alone: once.
        assert_eq!(optima / boards, if faces == FacesCounted::Both { 2 } else { 1 });
        // The set with every sign changed gives the same boards, turned half round: no better, and as many as good.
        let other = Weights::RUNS_ON.costs(&self::edges(&turned(&slides), faces)).unwrap();
        let mirrored = free(&other, &[[true; 4]; 4], 4, alike.slid_unlike()).unwrap();
        assert_eq!((mirrored.best.cost, mirrored.optima), (found.best.cost, found.optima));
    }
}

/// Alternately slid in the order as cut, upper face: turned half round it has another strip slid back.
#[test]
fn boards_are_the_same_only_where_their_slides_agree() {
    let laid: Vec<Laid> = [Turn::AsCut, Turn::RolledOver, Turn::EndForEnd]
        .into_iter()
        .enumerate()
        .map(|(i, t)| Laid::new(i, t))
        .collect();
    let slid = |laid: &[Laid], slides: &[i64]| laid.iter().copied().zip(by(slides)).collect::<Vec<_>>();
    let round = Alike::HalfRound.same(&laid).remove(1);
    let first = |laid: &[Laid], slides: &[i64]| Alike::HalfRound.first_slid(&slid(laid, slides));
    let one = first(&laid, &[0, 5, 1]);
    assert_ne!(one, first(&round, &[1, 5, 0]));
    assert_eq!(one, first(&round, &[-1, -5, 0]));
    assert_eq!(one, first(&round, &[4, 0, 5]), "only what is slid beyond another counts");
    assert_eq!(first(&laid, &[3, 3, 3]), first(&round, &[0, 0, 0]));
    let over = Alike::HalfRoundAndOver.same(&laid);
    let both = |laid: &[Laid], slides: &[i64]| Alike::HalfRoundAndOver.first_slid(&slid(laid, slides));
    assert_eq!(both(&laid, &[0, 5, 1]), both(&over[2], &[0, -5, -1]));
    assert_eq!(both(&laid, &[0, 5, 1]), both(&over[3], &[1, 5, 0]));
    // What leaves every slide as it is.
    assert_eq!(Alike::HalfRound.slid_unlike().same(&laid), vec![laid.clone()]);
    assert_eq!(Alike::HalfRoundAndOver.slid_unlike().same(&laid), [laid.clone(), over[3].clone()]);
}
