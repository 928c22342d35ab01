//! Sets of slides: which are tried, which boards are the same, and how they are said.

use super::bench::Bench;
use super::pool::{Costed, Pool};
use super::slides::{LaidUp, Slides, sets};
use super::tests::{bench, laid, rule, set};
use super::{Sliding, Wishes, how_laid, slid};
use crate::fixtures::mm;
use crate::layup::Turn::{self, AsCut, EndForEnd, RolledOver};
use crate::search::{Alike, Laid, Order};
use std::collections::HashSet;

const ORDER: [(usize, i64); 4] = [(0, 0), (0, 1), (0, 2), (0, 3)];

fn asked(slides: &[Sliding], order: Order) -> Wishes {
    Wishes { slides: slides.to_vec(), order, ..Wishes::default() }
}

#[test]
fn sets_are_those_asked_for_and_none_gives_the_boards_of_another() {
    let second = |n: i64| Sliding::EverySecond(mm(n));
    let of = |planned: &Slides, wishes: &Wishes, alike| sets(planned, &ORDER, wishes, alike);
    let many =
        |planned: &[i64], slides: &[Sliding], order, alike| of(&set(planned), &asked(slides, order), alike).len();
    let (given, half) = (Order::AsGiven, Alike::HalfRound);
    // As planned, and flush too where that is otherwise.
    assert_eq!(many(&[0; 4], &[], given, half), 1);
    assert_eq!(many(&[6; 4], &[], given, half), 1, "slid alike is not slid");
    let usual = of(&set(&[0, 5, 0, 7]), &Wishes::default(), half);
    assert_eq!(usual.iter().map(|s| s.asked).collect::<Vec<_>>(), [Sliding::AsPlanned, Sliding::FLUSH]);
    assert_eq!(usual[0].of, [0, 5, 0, 7].map(mm));
    // Asked for: only that, each once.
    assert_eq!(of(&set(&[0; 4]), &asked(&[second(3)], given), half)[0].of, [0, 3, 0, 3].map(mm));
    assert_eq!(many(&[0, 5, 0, 5], &[second(5), Sliding::AsPlanned, second(2), second(5)], given, half), 2);
    // Toward the front it is another board in the order given, and the same turned half round in any.
    assert_eq!(many(&[0; 4], &[second(5), second(-5)], given, half), 2);
    assert_eq!(many(&[0; 4], &[second(5), second(-5)], Order::Interleaved, half), 2);
    assert_eq!(many(&[0; 4], &[second(5), second(-5)], Order::Free, half), 1);
    assert_eq!(many(&[0; 4], &[second(5), second(-5)], given, Alike::HalfRoundAndOver), 1, "turned over");
    assert_eq!(many(&[0; 4], &[second(5), second(-6)], Order::Free, half), 2);
}

/// A bench with strips flush, and slid.
fn two_ways(slides: &[i64]) -> Bench {
    let mut bench = bench(&["P"], &ORDER);
    bench.slides.push(set(slides));
    bench
}

#[test]
fn boards_of_two_sets_are_told_apart_and_the_same_one_is_known() {
    let mut bench = two_ways(&[0, 5, 0, 5]);
    bench.slides.push(set(&[5, 0, 5, 0]));
    let board = |laid: &[Laid], set: usize| bench.board(&LaidUp { laid: laid.to_vec(), set });
    let all = laid(&[AsCut, RolledOver, EndForEnd, AsCut]);
    let round: Vec<Laid> = all.iter().rev().map(|l| l.then(EndForEnd)).collect();
    assert_ne!(board(&all, 0), board(&all, 1));
    assert_eq!(board(&all, 0), board(&round, 0));
    assert_ne!(board(&all, 1), board(&round, 1));
    assert_eq!(board(&all, 1), board(&round, 2), "turned half round it is slid the other way");
    // The first and the third are slid alike: by themselves they are flush.
    let two: Vec<Laid> = vec![all[0], all[2]];
    assert_eq!(board(&two, 1), board(&two, 0));
    let places = bench.places(&LaidUp { laid: round, set: 1 });
    assert_eq!(places.iter().map(|p| p.stagger).collect::<Vec<_>>(), [5, 0, 5, 0].map(mm));
    assert_eq!((bench.alike_in(0), bench.alike_in(1)), (Alike::HalfRound, Alike::Itself));
}

/// Of two sets together: the least of every way of turning, slid in both ways, and as many different boards at it.
#[test]
fn what_is_proven_is_proven_of_all_sets_together() {
    let mut bench = two_ways(&[0, 5, 0, 9]);
    let wishes = Wishes::default();
    let costs = Costed::of(&bench, &wishes, 2.0, 1).unwrap();
    let proofs = |bench: &Bench| Pool::new(bench, &wishes).search(&costs, &mut |_| true);
    let turned = |pattern: usize| {
        (0..4).map(|strip| Laid::new(strip, Turn::ALL[pattern >> (2 * strip) & 3])).collect::<Vec<_>>()
    };
    let all = || (0..2).flat_map(|set| (0..256).map(move |pattern| LaidUp { laid: turned(pattern), set }));
    let found = proofs(&bench);
    assert_eq!(found.len(), 2);
    for (i, proof) in found.iter().enumerate() {
        let cost = |lay: &LaidUp| costs.of_set(lay.set)[i].total(&lay.laid);
        let least = all().map(|lay| cost(&lay)).min().unwrap();
        let boards: HashSet<_> = all().filter(|lay| cost(lay) == least).map(|lay| bench.board(&lay)).collect();
        assert_eq!((proof.best, proof.bound, proof.equally_good), (least, least, Some(boards.len() as u64)));
    }
    // Where two strips are left out, those laid may be slid alike: such boards aren't counted.
    bench.count = 2;
    assert!(proofs(&bench).iter().all(|proof| proof.is_proven() && proof.equally_good.is_none()));
    bench.slides.truncate(1);
    assert!(proofs(&bench).iter().all(|proof| proof.is_proven() && proof.equally_good.is_some()));
}

#[test]
fn how_strips_are_slid_is_said_for_the_bench() {
    let said = |bench: &Bench, laid: &[Laid]| how_laid(bench, &LaidUp { laid: laid.to_vec(), set: 1 }, &rule());
    let by_turns = laid(&[AsCut, RolledOver, AsCut, RolledOver]);
    let second = two_ways(&[0, 12, 0, 12]);
    let odd = "odd strips as cut, even strips rolled over; ";
    assert_eq!(said(&second, &by_turns), format!("{odd}even strips slid 12 mm toward the back"));
    assert_eq!(said(&two_ways(&[-3, 0, -3, 0]), &by_turns), format!("{odd}odd strips slid 3 mm toward the front"));
    // In any order a slide goes with its strip.
    let order = [(2, AsCut), (1, RolledOver), (3, AsCut), (0, EndForEnd)].map(|(s, t)| Laid::new(s, t));
    let free = "from the left 3, 2 rolled over, 4, 1 end for end (those without a word as cut); ";
    assert_eq!(said(&second, &order), format!("{free}even strips slid 12 mm toward the back"));
    let ones = two_ways(&[0, 4, -2, 4]);
    assert_eq!(said(&ones, &order), format!("{free}3 slid 2 mm toward the front; 2 and 4 slid 4 mm toward the back"));
    // What is laid of them is slid alike: nothing stands out.
    assert_eq!(said(&second, &[by_turns[0], by_turns[2]]), "without 2 and 4: all as cut");
    let mut eight = bench(&["P"], &(0..8).map(|n| (0, n)).collect::<Vec<_>>());
    eight.slides.push(set(&[0, 4, 0, -5, 0, 4, 0, -5]));
    assert_eq!(
        said(&eight, &laid(&[AsCut; 8])),
        "all as cut; from the left slid by turns: not, 4 mm toward the back, not, 5 mm toward the front, and so on"
    );
    let mut two = bench(&["P", "Q"], &[(0, 0), (1, 0), (0, 1), (1, 1)]);
    two.slides.push(set(&[0, 6, 0, 6]));
    let both: Vec<Laid> = laid(&[AsCut; 4] as &[Turn]);
    assert_eq!(said(&two, &both), "all as cut; those of Q slid 6 mm toward the back");
}

#[test]
fn the_ways_of_sliding_are_said_on_the_sheet() {
    let ways = |bench: &Bench| slid::ways(bench, &rule());
    let mut bench = bench(&["P"], &ORDER);
    assert_eq!(ways(&bench), None);
    bench.slid = true;
    assert!(ways(&bench).unwrap().starts_with("No strip is slid along its neighbours, though"));
    bench.slides.push(set(&[0, 3, 1, 0]));
    bench.slides.push(Slides { asked: Sliding::EverySecond(mm(-4)), ..set(&[0, -4, 0, -4]) });
    let several = ways(&bench).unwrap();
    let each = "not at all; as the plan slides them; every second one in that order 4 mm toward the front.";
    assert!(several.contains("in 3 ways") && several.ends_with(each), "{several}");
    bench.slides.drain(..2);
    let one = "Strips are slid along their neighbours: every second one in that order 4 mm toward the front.";
    assert_eq!(ways(&bench).unwrap(), one);
}
