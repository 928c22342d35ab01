//! The search against brute force, planted answers and the laws of turning a board.

use super::*;
use crate::board::{Board, Face, Trims};
use crate::fixtures::{crosscut, mm};
use crate::layup::{Place, Turn};
use crate::measure::Length;
use crate::stock::{Blank, BlankTurn, Crosscut, LaidBlank, Panel, Seen, Size};
use crate::wood::ends::{EndLine, EndLines, Ends};
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::{Point2, Point3, Vector2};
use std::collections::HashSet;

/// A seeded sequence of numbers (SplitMix64, public domain, S. Vigna).
pub(super) struct Seeded(pub(super) u64);

impl Seeded {
    pub(super) fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % n
    }
}

/// Random costs 0 to `most`, alike under the ways of turning.
pub(super) fn costs(strips: usize, most: u64, alike: Alike, seed: u64) -> Costs {
    let mut seeded = Seeded(seed);
    let mut of = std::collections::HashMap::new();
    Costs::from_fn(strips, |left, right| {
        let same = alike.first(&[left, right]);
        *of.entry(same).or_insert_with(|| seeded.below(most + 1) as u32)
    })
    .unwrap()
}

pub(super) fn some_turns(strips: usize, seeded: &mut Seeded) -> Vec<[bool; 4]> {
    (0..strips).map(|_| std::array::from_fn(|_| seeded.below(4) > 0)).collect()
}

/// Every way of turning strips in this order.
pub(super) fn all_turned(order: &[usize], allowed: &Allowed) -> Vec<Vec<Laid>> {
    let turns = |pattern: usize, i: usize| Turn::ALL[pattern >> (2 * i) & 3];
    let laid = |pattern| order.iter().enumerate().map(|(i, s)| Laid::new(*s, turns(pattern, i))).collect::<Vec<_>>();
    let fits = |l: &Vec<Laid>| l.iter().all(|l| allowed[l.strip][l.turn() as usize]);
    (0..1 << (2 * order.len())).map(laid).filter(fits).collect()
}

pub(super) fn orders(strips: usize, laid: usize) -> Vec<Vec<usize>> {
    if laid == 0 {
        return vec![Vec::new()];
    }
    let longer = |order: Vec<usize>| {
        let rest: Vec<usize> = (0..strips).filter(|s| !order.contains(s)).collect();
        rest.into_iter().map(move |s| order.iter().copied().chain([s]).collect::<Vec<_>>())
    };
    orders(strips, laid - 1).into_iter().flat_map(longer).collect()
}

/// Least cost, lay-ups at it, and different boards among them.
fn brute(all: impl Iterator<Item = Vec<Laid>>, costs: &Costs, alike: Alike) -> Option<(u64, u128, u128)> {
    let (mut least, mut best) = (u64::MAX, Vec::new());
    for laid in all {
        let cost = costs.total(&laid);
        if cost < least {
            (least, best) = (cost, Vec::new());
        }
        if cost == least {
            best.push(laid);
        }
    }
    let boards: HashSet<_> = best.iter().map(|l| alike.first(l)).collect();
    (!best.is_empty()).then_some((least, best.len() as u128, boards.len() as u128))
}

#[test]
fn fixed_order_agrees_with_every_way_of_turning() {
    for alike in [Alike::HalfRound, Alike::HalfRoundAndOver] {
        for (strips, most, rounds) in [(1, 3, 4), (2, 3, 8), (3, 2, 8), (5, 2, 8), (6, 40, 4), (8, 3, 2)] {
            for round in 0..rounds {
                let mut seeded = Seeded(round * 31 + strips as u64);
                let costs = costs(strips, most, alike, round + 7);
                let order: Vec<usize> = (0..strips).collect();
                let allowed = if round % 2 == 0 { vec![[true; 4]; strips] } else { some_turns(strips, &mut seeded) };
                let all = all_turned(&order, &allowed);
                let found = fixed(&order, &costs.joints(&order), &allowed, 6, alike);
                let Some((least, optima, boards)) = brute(all.iter().cloned(), &costs, alike) else {
                    assert!(found.best.is_empty() && found.optima == 0);
                    continue;
                };
                assert_eq!((found.best[0].cost, found.optima, found.boards), (least, optima, Some(boards)));
                // The best few are the cheapest different boards, in order.
                let mut few: Vec<u64> =
                    all.iter().map(|l| alike.first(l)).collect::<HashSet<_>>().iter().map(|l| costs.total(l)).collect();
                few.sort_unstable();
                few.truncate(6);
                assert_eq!(found.best.iter().map(|f| f.cost).collect::<Vec<_>>(), few);
                assert!(found.best.iter().all(|f| costs.total(&f.laid) == f.cost));
            }
        }
    }
}

#[test]
fn repeats_agree_with_every_way_of_repeating() {
    for period in 1..=3_usize {
        for strips in [1_usize, 2, 5, 6] {
            let costs = costs(strips, 3, Alike::HalfRound, strips as u64);
            let order: Vec<usize> = (0..strips).collect();
            let allowed = vec![[true; 4]; strips];
            let repeats = |l: &Vec<Laid>| (period..l.len()).all(|i| l[i].turn() == l[i - period].turn());
            let all = all_turned(&order, &allowed).into_iter().filter(repeats);
            let (least, optima, boards) = brute(all, &costs, Alike::HalfRound).unwrap();
            let found = repeating(&order, &costs.joints(&order), &allowed, period, 3, Alike::HalfRound);
            assert_eq!((found.best[0].cost, found.optima, found.boards), (least, optima, Some(boards)));
        }
    }
}

#[test]
fn free_order_agrees_with_every_order_turned_every_way() {
    for alike in [Alike::HalfRound, Alike::HalfRoundAndOver] {
        for (strips, most, rounds) in [(1, 3, 2), (2, 3, 4), (3, 2, 6), (4, 2, 6), (5, 5, 2)] {
            for round in 0..rounds {
                let mut seeded = Seeded(round * 17 + strips as u64);
                let costs = costs(strips, most, alike, round + 3);
                let allowed = if round % 2 == 0 { vec![[true; 4]; strips] } else { some_turns(strips, &mut seeded) };
                for laid in 1..=strips {
                    let all = orders(strips, laid).into_iter().flat_map(|o| all_turned(&o, &allowed));
                    let found = free(&costs, &allowed, laid, alike);
                    let Some((least, optima, boards)) = brute(all, &costs, alike) else {
                        assert_eq!(found, None);
                        continue;
                    };
                    let found = found.unwrap();
                    assert_eq!((found.best.cost, found.optima, found.boards), (least, optima, Some(boards)));
                    assert_eq!(costs.total(&found.best.laid), least);
                    assert_eq!(found.best.laid.iter().map(|l| l.strip).collect::<HashSet<_>>().len(), laid);
                }
            }
        }
    }
}

#[test]
fn six_strips_in_every_order_turned_every_way() {
    let costs = costs(6, 3, Alike::HalfRound, 5);
    let allowed = [[true; 4]; 6];
    let all = orders(6, 6).into_iter().flat_map(|o| all_turned(&o, &allowed));
    let (least, optima, boards) = brute(all, &costs, Alike::HalfRound).unwrap();
    let found = free(&costs, &allowed, 6, Alike::HalfRound).unwrap();
    assert_eq!((found.best.cost, found.optima, found.boards), (least, optima, Some(boards)));
}

/// A hidden lay-up whose glue lines cost nothing, all others at least 1.
fn planted(strips: usize, seed: u64) -> (Costs, Vec<Laid>) {
    let mut seeded = Seeded(seed);
    let mut order: Vec<usize> = (0..strips).collect();
    for i in (1..strips).rev() {
        order.swap(i, seeded.below(i as u64 + 1) as usize);
    }
    let laid: Vec<Laid> = order.iter().map(|s| Laid::new(*s, Turn::ALL[seeded.below(4) as usize])).collect();
    let free: HashSet<Vec<Laid>> = laid.windows(2).map(|pair| Alike::HalfRound.first(pair)).collect();
    let cost = |left, right| {
        if free.contains(&Alike::HalfRound.first(&[left, right])) { 0 } else { 1 + seeded.below(1_000_000) as u32 }
    };
    (Costs::from_fn(strips, cost).unwrap(), laid)
}

#[test]
fn a_planted_zero_is_found_and_is_the_only_one() {
    for strips in [2, 9, 14] {
        let (costs, laid) = planted(strips, strips as u64);
        let found = free(&costs, &vec![[true; 4]; strips], strips, Alike::HalfRound).unwrap();
        assert_eq!((found.best.cost, found.optima, found.boards), (0, 2, Some(1)));
        assert_eq!(found.best.laid, Alike::HalfRound.first(&laid));
    }
    let mut seeded = Seeded(1000);
    let hidden: Vec<usize> = (0..1000).map(|_| seeded.below(4) as usize).collect();
    let joints: Vec<Joint> = hidden
        .windows(2)
        .map(|w| {
            let dear = |a: usize, b: usize| 1 + seeded.below(999_999) as u32 * u32::from((a, b) != (w[0], w[1]));
            let mut joint: Joint = [[0; 4]; 4];
            let mut dear = dear;
            (0..16).for_each(|i| joint[i / 4][i % 4] = dear(i / 4, i % 4));
            joint[w[0]][w[1]] = 0;
            joint
        })
        .collect();
    let order: Vec<usize> = (0..1000).collect();
    let found = fixed(&order, &joints, &vec![[true; 4]; 1000], 2, Alike::HalfRound);
    assert_eq!((found.best[0].cost, found.optima), (0, 1));
    assert!(found.best[0].laid.iter().zip(&hidden).all(|(l, h)| l.turn() as usize == *h));
    assert!(found.best[1].cost > 0);
}

#[test]
fn all_alike_are_counted_without_running_over() {
    let costs = Costs::from_fn(12, |_, _| 1).unwrap();
    let found = free(&costs, &[[true; 4]; 12], 12, Alike::HalfRoundAndOver).unwrap();
    let all = (1..=12).product::<u128>() * 4_u128.pow(12);
    assert_eq!((found.optima, found.boards), (all, Some(all / 4)));
    let order: Vec<usize> = (0..100).collect();
    let many = fixed(&order, &vec![[[0; 4]; 4]; 99], &[[true; 4]; 100], 1, Alike::HalfRound);
    assert_eq!((many.optima, many.boards), (u128::MAX, None));
}

#[test]
fn the_bound_lies_below_what_is_proven_and_the_found_above() {
    for seed in 0..6 {
        let costs = costs(9, 1_000_000, Alike::HalfRound, seed);
        let mut wanted = Wanted::all(9, Order::Free);
        wanted.strips[3].turns = [false, true, false, false];
        for laid in [1, 2, 5, 9] {
            wanted.count = Count::exactly(laid);
            let allowed: Vec<[bool; 4]> = wanted.strips.iter().map(|s| s.turns).collect();
            let proven = free(&costs, &allowed, laid, Alike::HalfRound).unwrap().best.cost;
            let found = guessed(&costs, &wanted).unwrap();
            let best = &found.found[0];
            assert!(found.bound <= proven && proven <= best.cost, "{laid}: {proven} {found:?}");
            assert_eq!(costs.total(&best.laid), best.cost);
            assert_eq!(best.laid.iter().map(|l| l.strip).collect::<HashSet<_>>().len(), laid);
            assert!(best.laid.iter().all(|l| l.strip != 3 || l.turn() == Turn::RolledOver));
        }
    }
    let (costs, _) = planted(40, 4);
    let found = lay_ups(&costs, &Wanted::all(40, Order::Free), &mut |_| true).unwrap();
    assert_eq!((found.found[0].cost, found.gap()), (0, 0));
}

#[test]
fn what_does_not_fit_together_is_refused() {
    assert_eq!(Costs::from_fn(1001, |_, _| 0), Err(CostsError::TooMany(1001)));
    assert_eq!(Costs::from_fn(2, |_, _| u32::MAX), Err(CostsError::TooLarge(u32::MAX)));
    let costs = Costs::from_fn(17, |_, _| 1).unwrap();
    assert_eq!(free(&costs, &[[true; 4]; 17], 4, Alike::HalfRound), None);
    assert!(fixed(&[0, 1], &[], &[[true; 4]; 2], 1, Alike::HalfRound).best.is_empty());
    let panels = panels(15.0);
    let stock = |strips, slides, width, trims| Stock { panels: &panels, strips, slides, width: mm(width), trims };
    let sampled = |stock: &Stock<'_>, spacing| Edges::sample(stock, FacesCounted::Upper, spacing).err();
    let (one, two): (&[_], &[_]) = (&[(0, 0)], &[(0, 0), (0, 1)]);
    assert_eq!(sampled(&stock(&[(0, 0), (1, 0)], &[], 40, TRIMS), 2.0), Some(EdgesError::NoPanel(1)));
    assert_eq!(sampled(&stock(&[], &[], 40, TRIMS), 2.0), Some(EdgesError::Samples));
    for spacing in [f64::NAN, 0.0, -1.0, 1e-9] {
        assert_eq!(sampled(&stock(one, &[], 40, TRIMS), spacing), Some(EdgesError::Samples));
    }
    assert_eq!(sampled(&stock(one, &[], 2, TRIMS), 2.0), Some(EdgesError::Flattened));
    // 121 mm wide, 14 off: what two strips cover that are slid by 107 is nothing.
    let [all, most] = [107, -104].map(|by| [mm(0), mm(by)]);
    assert_eq!(sampled(&stock(two, &all, 40, TRIMS), 2.0), Some(EdgesError::NoCover));
    assert_eq!(sampled(&stock(two, &most, 40, TRIMS), 2.0), None);
    let one_slide = EdgesError::Slides { slides: 1, strips: 2 };
    assert_eq!(sampled(&stock(two, &most[..1], 40, TRIMS), 2.0), Some(one_slide));
}

// The wood itself.

pub(super) const TRIMS: Trims = Trims { left: 0.0, right: 0.0, front: 7.0, back: 7.0, upper: 1.5, lower: 1.5 };

/// A panel of two blanks with a corner of sapwood; the pith wanders by `wander` mm over the length.
pub(super) fn panels(wander: f64) -> Vec<(Panel, Crosscut)> {
    let blank = |letter: &str, width: i64, seed| {
        let size = Size { width: mm(width), thickness: mm(40), length: mm(700) };
        let end = |u| EndRings { pith: Point2::new(u, -20.0), heartwood_radius: 62.0 };
        let rings = Rings { near: end(-10.0), far: end(-10.0 + wander), ring_width: 3.0, seed };
        let figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 700.0);
        let blank =
            Blank { letter: letter.into(), size, rough: None, figure, seen: Seen::BothEnds, rip: None, moisture: None };
        LaidBlank { blank, turn: BlankTurn::default(), start: Length::ZERO }
    };
    let blanks = vec![blank("A", 60, 5), blank("B", 64, 6)];
    let panel = Panel { name: "P".into(), blanks, trued: [mm(1), mm(2)], planed: [mm(1), mm(2)], measured: None };
    vec![crosscut(panel, 150)]
}

fn edges(wander: f64, strips: i64, faces: FacesCounted) -> Edges {
    let (panels, strips) = (panels(wander), (0..strips).map(|k| (0, k)).collect::<Vec<_>>());
    let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: mm(40), trims: TRIMS };
    Edges::sample(&stock, faces, 2.0).unwrap()
}

/// The board itself, asked at its own points just at the glue line, gives the same colour measure.
#[test]
fn a_glue_line_costs_what_the_board_shows_there() {
    for (faces, shown) in [(FacesCounted::Upper, &[Face::Upper][..]), (FacesCounted::Both, &[Face::Upper, Face::Lower])]
    {
        let edges = edges(15.0, 3, faces);
        for (a, b) in Turn::ALL.into_iter().flat_map(|a| Turn::ALL.map(|b| (a, b))) {
            let place = |strip, turn| Place { panel: 0, strip, turn, stagger: Length::ZERO };
            let board = Board::glue(panels(15.0), &[place(2, a), place(0, b)], mm(40), TRIMS, None).unwrap();
            let (size, line) = (board.finished(), board.span(0)[1]);
            let mut sum = 0_u32;
            for face in shown {
                let z = if *face == Face::Upper { size.thickness } else { 0.0 };
                for i in 0..edges.samples() {
                    let y = size.width / 2.0 + (i as f64 - (edges.samples() - 1) as f64 / 2.0) * 2.0;
                    let bytes = [0, 1].map(|place| {
                        let spot = board.spot_in(place, &Point3::new(line, y, z)).unwrap();
                        board.colour_of(&spot, 2.0).unwrap().to_srgb8()
                    });
                    sum += bytes[0].iter().zip(bytes[1]).map(|(a, b)| u32::from(a.abs_diff(b))).sum::<u32>();
                }
            }
            let mean = f64::from(sum) / (765 * edges.samples() * shown.len()) as f64;
            let measured = Measure::Colour.at(&edges, Laid::new(2, a), Laid::new(0, b));
            // A byte may round the other way where the two sums of the same length differ in their last digit.
            assert!((mean * 1e6 - f64::from(measured)).abs() < 60.0, "{a:?} {b:?}: {mean} {measured}");
        }
    }
}

#[test]
fn turning_the_board_changes_no_measure() {
    let pairs = || (0..16).map(|i| [Laid::new(0, Turn::ALL[i / 4]), Laid::new(2, Turn::ALL[i % 4])]);
    for (faces, alike) in [(FacesCounted::Upper, Alike::HalfRound), (FacesCounted::Both, Alike::HalfRoundAndOver)] {
        let edges = edges(15.0, 3, faces);
        for (pair, measure) in pairs().flat_map(|pair| Measure::ALL.map(|m| (pair, m))) {
            let at = measure.at(&edges, pair[0], pair[1]);
            assert!(at <= Measure::RANGE);
            for same in alike.same(&pair) {
                assert_eq!(measure.at(&edges, same[0], same[1]), at, "{measure:?} {pair:?}");
            }
        }
        let costs = Weights::RUNS_ON.costs(&edges).unwrap();
        assert_eq!(Weights::RUNS_ON.costs_by(&edges, 3).unwrap(), costs);
        for (k, l) in [(0, 1), (1, 0), (2, 0), (1, 2)] {
            assert_eq!(Weights::RUNS_ON.joint(&edges, k, l), costs.joints(&[k, l])[0]);
        }
    }
    // On the upper face alone, turning over is another board.
    let edges = edges(15.0, 3, FacesCounted::Upper);
    let over = |l: Laid| l.then(Turn::EndOverEnd);
    assert!(pairs().any(|[a, b]| Measure::Colour.at(&edges, a, b) != Measure::Colour.at(&edges, over(a), over(b))));
}

/// Rings that nobody saw count neither for nor against any two strips; those traced at both ends count beside an end,
/// where a strip bookmatched with its neighbour meets it ring by ring.
#[test]
fn single_rings_count_only_where_they_are_known() {
    let invented = edges(15.0, 3, FacesCounted::Upper);
    for (a, b) in Turn::ALL.into_iter().flat_map(|a| Turn::ALL.map(|b| (a, b))) {
        assert_eq!(Measure::RingPhase.at(&invented, Laid::new(0, a), Laid::new(2, b)), Measure::RANGE / 2);
    }
    let level =
        |v: f64| EndLine { points: vec![Point2::new(0.0, v), Point2::new(60.0, v + 8.0)], ..EndLine::default() };
    let end =
        || EndLines { rings: (0..6).map(|i| level(-16.0 + 14.0 * f64::from(i))).collect(), ..EndLines::default() };
    let ends = Ends {
        size: Vector2::new(60.0, 40.0),
        length: 700.0,
        near: end(),
        far: end(),
        shift: Some(0),
        ..Ends::default()
    };
    let traced = Figure::traced(Wood::named("white ash").unwrap(), ends.join().unwrap(), false, 1);
    let mut panels = panels(0.0);
    let blanks = &mut panels[0].0.blanks;
    blanks.truncate(1);
    blanks[0].blank.figure = traced;
    let stock = Stock { panels: &panels, strips: &[(0, 0), (0, 1)], slides: &[], width: mm(40), trims: TRIMS };
    let edges = Edges::sample(&stock, FacesCounted::Upper, 0.5).unwrap();
    let phase = |turn| Measure::RingPhase.at(&edges, Laid::new(0, Turn::AsCut), Laid::new(1, turn));
    let (meets, not) = (phase(Turn::RolledOver), phase(Turn::EndForEnd));
    assert!(meets < Measure::RANGE / 10 && not > 3 * meets && not != Measure::RANGE / 2, "{meets} {not}");
}

/// Where the figure wanders, a line bookmatched across the kerf matches many times better than its neighbour; where
/// it runs straight, both match.
#[test]
fn a_bookmatched_line_and_its_neighbour_differ() {
    let [one, two] = [(0, Turn::AsCut), (1, Turn::RolledOver)].map(|(k, t)| Laid::new(k, t));
    let three = Laid::new(2, Turn::AsCut);
    let wandering = edges(30.0, 3, FacesCounted::Upper);
    let (near, far) = (Measure::Heartwood.at(&wandering, one, two), Measure::Heartwood.at(&wandering, two, three));
    // 2s + b − 2f = 80 mm apart against b + 2f = 6 mm.
    assert!(far > 8 * near && near > 0, "{near} {far}");
    let straight = edges(0.0, 3, FacesCounted::Upper);
    assert!(Measure::Heartwood.at(&straight, two, three) < far / 2);
}

/// Common practice, no source: alternate strips rolled over turn a corner of sapwood into diamonds. The search finds
/// it from the wood alone.
#[test]
fn from_a_corner_of_sapwood_the_search_rolls_over_every_second_strip() {
    let edges = edges(4.0, 8, FacesCounted::Upper);
    let costs = Weights::RUNS_ON.costs(&edges).unwrap();
    let order: Vec<usize> = (0..8).collect();
    let found = fixed(&order, &costs.joints(&order), &[[true; 4]; 8], 3, Alike::HalfRound);
    let turns: Vec<Turn> = found.best[0].laid.iter().map(|l| l.turn()).collect();
    let turned = turns[0].then(turns[1]);
    assert_eq!(turned, Turn::RolledOver, "{turns:?}");
    assert!(turns.windows(2).all(|w| w[0].then(w[1]) == turned), "{turns:?}");
}
