//! Blanks and strips together, against every arrangement tried one by one in real panels.

use super::*;
use crate::board::Trims;
use crate::fixtures::{crosscut, mm};
use crate::measure::Length;
use crate::search::{Edges, Measure};
use crate::stock::{Blank, Crosscut, LaidBlank, Panel, Seen, Size};
use crate::wood::{EndRings, Figure, Rings, Wood};
use nalgebra::Point2;

/// Without the direction of rings, which an edge between two blanks cuts short.
const WEIGHTS: Weights = Weights([10, 4, 0, 0, 0]);

fn blank(letter: &str, width: i64, thickness: i64, pith: f64) -> LaidBlank {
    let size = Size { width: mm(width), thickness: mm(thickness), length: mm(500) };
    let end = |u| EndRings { pith: Point2::new(u, -20.0), heartwood_radius: 30.0 };
    let rings = Rings { near: end(pith), far: end(pith + 9.0), ring_width: 3.0, seed: 5 };
    let figure = Figure::new(Wood::named("black walnut").unwrap(), rings, 500.0);
    let blank =
        Blank { letter: letter.into(), size, rough: None, figure, seen: Seen::BothEnds, moisture: None, rip: None };
    LaidBlank { blank, turn: BlankTurn::default(), start: Length::ZERO }
}

fn panel(name: &str, blanks: Vec<LaidBlank>, trued: i64) -> (Panel, Crosscut) {
    let panel = Panel { name: name.into(), blanks, trued: [mm(trued); 2], planed: [mm(1); 2], measured: None };
    crosscut(panel, 100)
}

const TRIMS: Trims = Trims { left: 4.0, right: 5.0, front: 4.0, back: 4.0, upper: 1.0, lower: 1.0 };

fn wanted(few: usize) -> TogetherWanted {
    TogetherWanted {
        weights: WEIGHTS,
        faces: FacesCounted::Upper,
        cell: 4.0,
        stay: Vec::new(),
        copies: Vec::new(),
        few,
    }
}

fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let with = |order: Vec<usize>| (0..=order.len()).map(move |at| [&order[..at], &[count - 1], &order[at..]].concat());
    orders(count - 1).into_iter().flat_map(with).collect()
}

/// All ways to lay a panel's blanks.
fn arrangements(panel: &Panel) -> Vec<Panel> {
    let mut all = Vec::new();
    for order in orders(panel.blanks.len()) {
        let turns = |place: usize| {
            let size = panel.blanks[order[place]].blank.size;
            if size.width == size.thickness { 8 } else { 4 }
        };
        let many: usize = (0..order.len()).map(turns).product();
        for number in 0..many {
            let mut rest = number;
            let laid = |(place, blank): (usize, &usize)| {
                let turn = cells::turn(u8::try_from(rest % turns(place)).unwrap());
                rest /= turns(place);
                LaidBlank { turn, ..panel.blanks[*blank].clone() }
            };
            all.push(Panel { blanks: order.iter().enumerate().map(laid).collect(), ..panel.clone() });
        }
    }
    all
}

/// The least over all turns of the strips, from the edges of real panels: every turn tried.
fn cost(stock: &Stock<'_>) -> u64 {
    let edges = Edges::sample(stock, FacesCounted::Upper, 4.0).unwrap();
    let joint = |left: Laid, right: Laid| -> u64 {
        let same = left.turn().first_blank_in_front() == right.turn().first_blank_in_front();
        let a = edges.line(left.strip, left.turn(), true, 0, false).samples();
        let b = edges.line(right.strip, right.turn(), false, 0, false).samples();
        let weigh = |i: usize| {
            let other = if same { &b[i] } else { &b[b.len() - 1 - i] };
            let of = |(m, w): (Measure, u8)| u64::from(w) * m.in_millionths(&a[i], other);
            Measure::ALL.into_iter().zip(WEIGHTS.0).map(of).sum::<u64>()
        };
        (0..a.len()).map(weigh).sum()
    };
    let count = stock.strips.len();
    let laid = |n: usize| (0..count).map(|i| Laid::new(i, Turn::ALL[n >> (2 * i) & 3])).collect::<Vec<_>>();
    let sum = |n| laid(n).windows(2).map(|pair| joint(pair[0], pair[1])).sum::<u64>();
    (0..1 << (2 * count)).map(sum).min().unwrap()
}

fn going(_: u64, _: u64) -> bool {
    true
}

#[test]
fn every_arrangement_tried_one_by_one_gives_the_same_best() {
    let three = |widths: [i64; 3]| {
        vec![blank("A", widths[0], 24, -10.0), blank("B", widths[1], 24, 30.0), blank("C", widths[2], 24, 12.0)]
    };
    // Equal and unequal widths, a square one, an odd number of cells, truing.
    let cases = [
        (three([40, 40, 40]), 0),
        (three([40, 24, 52]), 0),
        (vec![blank("A", 24, 24, 3.0), blank("B", 44, 24, 30.0)], 4),
    ];
    for (blanks, trued) in cases {
        let (panel, cut) = panel("P", blanks, trued);
        let strips = [(0, 0), (0, 1), (0, 2)];
        let panels = [(panel.clone(), cut)];
        let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: mm(40), trims: TRIMS };
        let tried = together(&stock, &wanted(3), &mut going).unwrap();
        let mut all: Vec<u64> =
            arrangements(&panel).into_iter().map(|panel| cost(&Stock { panels: &[(panel, cut)], ..stock })).collect();
        all.sort_unstable();
        assert!(tried.is_proven());
        assert_eq!(tried.found[0].cost, all[0]);
        assert_eq!(tried.planned, cost(&stock));
        // What is said of it is so: laid as it says, it costs what it says.
        for found in &tried.found {
            let laid = |l: &BlankLaid| LaidBlank { turn: l.turn(), ..panel.blanks[l.blank].clone() };
            let again = Panel { blanks: found.panels[0].iter().map(laid).collect(), ..panel.clone() };
            assert_eq!(cost(&Stock { panels: &[(again, cut)], ..stock }), found.cost);
        }
    }
}

#[test]
fn two_panels_are_laid_together() {
    let p = panel("P", vec![blank("A", 40, 24, -10.0), blank("B", 40, 24, 30.0)], 0);
    let q = panel("Q", vec![blank("C", 24, 24, 3.0), blank("D", 56, 24, 12.0)], 0);
    let strips = [(0, 0), (1, 0), (0, 1)];
    let all_p = arrangements(&p.0);
    let all_q: Vec<Panel> = arrangements(&q.0).into_iter().step_by(3).collect();
    let (both, strips) = ([p.clone(), q.clone()], &strips);
    let stock = Stock { panels: &both, strips, slides: &[], width: mm(40), trims: TRIMS };
    let tried = together(&stock, &wanted(1), &mut going).unwrap();
    assert!(tried.is_proven());
    // No arrangement of a sample of them is better, and the best costs what it says.
    for a in all_p.iter().step_by(2) {
        for b in &all_q {
            let panels = [(a.clone(), p.1), (b.clone(), q.1)];
            assert!(cost(&Stock { panels: &panels, ..stock }) >= tried.found[0].cost);
        }
    }
    let lay = |panel: &Panel, laid: &[BlankLaid]| Panel {
        blanks: laid.iter().map(|l| LaidBlank { turn: l.turn(), ..panel.blanks[l.blank].clone() }).collect(),
        ..panel.clone()
    };
    let best = &tried.found[0].panels;
    let panels = [(lay(&p.0, &best[0]), p.1), (lay(&q.0, &best[1]), q.1)];
    assert_eq!(cost(&Stock { panels: &panels, ..stock }), tried.found[0].cost);
}

#[test]
fn a_blank_that_stays_stays_and_one_that_is_stopped_says_how_far_it_came() {
    let blanks = vec![blank("A", 40, 24, -10.0), blank("B", 28, 24, 30.0), blank("C", 52, 24, 12.0)];
    let panels = [panel("P", blanks, 0)];
    let strips = [(0, 0), (0, 1), (0, 2), (0, 3)];
    let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: mm(40), trims: TRIMS };
    let free = together(&stock, &wanted(1), &mut going).unwrap();
    for stays in 0..3 {
        let held = together(&stock, &TogetherWanted { stay: vec![(0, stays)], ..wanted(4) }, &mut going).unwrap();
        assert!(held.is_proven() && held.found[0].cost >= free.found[0].cost);
        assert!(held.found.iter().all(|found| found.panels[0][stays].blank == stays));
    }
    // Copies of one letter lie in the order in which they are mentioned, and none of those is better.
    let copies = together(&stock, &TogetherWanted { copies: vec![vec![0, 1, 0]], ..wanted(9) }, &mut going).unwrap();
    let place = |found: &Together, blank| found.panels[0].iter().position(|l| l.blank == blank).unwrap();
    assert!(copies.found.iter().all(|found| place(found, 0) < place(found, 2)));
    let all = arrangements(&panels[0].0);
    let letters = |p: &Panel| p.blanks.iter().map(|b| b.blank.letter.clone()).collect::<String>();
    let kept = all.into_iter().filter(|p| letters(p).find('A') < letters(p).find('C'));
    let some: Vec<u64> = kept.map(|p| cost(&Stock { panels: &[(p, panels[0].1)], ..stock })).collect();
    assert_eq!(copies.found[0].cost, *some.iter().min().unwrap());
    for most in [0, 1, 5, 40, 100] {
        let mut asked = 0;
        let mut some = |_: u64, _: u64| {
            asked += 1;
            asked <= most
        };
        let stopped = together(&stock, &wanted(1), &mut some).unwrap();
        assert!(stopped.bound <= free.found[0].cost && free.found[0].cost <= stopped.found[0].cost);
        assert!(stopped.found[0].cost <= stopped.planned);
    }
    let one = Stock { strips: &strips[..1], ..stock };
    assert_eq!(together(&one, &wanted(1), &mut going), Err(TogetherError::NoGlueLine));
    for cell in [0.0, f64::NAN, 1e-9] {
        assert!(together(&stock, &TogetherWanted { cell, ..wanted(1) }, &mut going).is_err());
    }
}

/// Every arrangement, every order and every turn tried: nothing falls below the bound, what was found costs what it says.
#[test]
fn in_any_order_nothing_falls_below_the_bound() {
    let three = |widths: [i64; 3]| {
        vec![blank("A", widths[0], 24, -10.0), blank("B", widths[1], 24, 30.0), blank("C", widths[2], 24, 12.0)]
    };
    // Blank meets blank; cell meets cell; trued, with an odd blank that is its own neighbour.
    let cases = [(three([40, 40, 40]), 0), (three([40, 24, 52]), 0), (three([32, 32, 32]), 4)];
    let mut bounds = Vec::new();
    for (blanks, trued) in cases {
        let (panel, cut) = panel("P", blanks, trued);
        let strips = [(0, 0), (0, 2), (0, 5)];
        let panels = [(panel.clone(), cut)];
        let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: mm(40), trims: TRIMS };
        let (tried, freely) = together_freely(&stock, &wanted(6), &mut going).unwrap();
        let freely = freely.unwrap();
        let seen = Edges::sample(&stock, FacesCounted::Upper, 4.0).unwrap().samples() as u64;
        let lay = |order: &[usize]| order.iter().map(|i| strips[*i]).collect::<Vec<_>>();
        let all = arrangements(&panel).into_iter().flat_map(|panel| {
            let panels = [(panel, cut)];
            orders(3).into_iter().map(move |order| cost(&Stock { panels: &panels, strips: &lay(&order), ..stock }))
        });
        let least = all.min().unwrap();
        assert!(freely.bound * seen <= least, "{} * {seen} > {least}", freely.bound);
        assert!(freely.cost * seen >= least);
        // In the order given it is no better.
        assert!(freely.cost <= tried.found[0].cost.div_ceil(seen) + 2);
        let laid = |l: &BlankLaid| LaidBlank { turn: l.turn(), ..panel.blanks[l.blank].clone() };
        let again = [(Panel { blanks: freely.panels[0].iter().map(laid).collect(), ..panel.clone() }, cut)];
        let order: Vec<usize> = freely.laid.iter().map(|l| l.strip).collect();
        let exact = cost(&Stock { panels: &again, strips: &lay(&order), ..stock });
        assert!(exact <= freely.cost * seen && freely.cost * seen < exact + 2 * seen, "{exact}");
        bounds.push((freely.bound, freely.gap()));
    }
    assert!(bounds.iter().any(|(bound, gap)| *bound > 0 && *gap < 1.0), "{bounds:?}");
}
