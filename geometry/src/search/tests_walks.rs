//! The bound by walks, against every lay-up there is.

use super::subsets::pairs;
use super::tests::{Seeded, all_turned, costs, orders, some_turns};
use super::walks::{Priced, Walks};
use super::wanted::Rules;
use super::watch::Watch;
use super::*;

fn some_rules(strips: usize, count: usize, seeded: &mut Seeded) -> Rules {
    let mut end = || (seeded.below(4) == 0).then(|| seeded.below(strips as u64) as usize);
    let (first, last) = (end(), end());
    let must = (0..strips).map(|s| Some(s) == first || Some(s) == last || seeded.below(4) == 0).collect();
    let counts = (0..=strips).map(|c| c == count).collect();
    Rules { turns: some_turns(strips, seeded), must, first, last, counts, left_out: 3, pattern: Vec::new() }
}

/// At whatever prices, no lay-up costs less than the bound, and no rest of one less than what is said to come.
#[test]
fn no_lay_up_and_no_rest_of_one_falls_below_the_bound() {
    let (mut seen, mut exact) = (0, 0);
    for round in 0..120 {
        let mut seeded = Seeded(round);
        let strips = 2 + seeded.below(4) as usize;
        let count = 1 + seeded.below(strips as u64) as usize;
        let rules = some_rules(strips, count, &mut seeded);
        let costs = costs(strips, 1000, Alike::HalfRound, round);
        let pairs = pairs(&costs);
        let all = orders(strips, count).into_iter().flat_map(|order| all_turned(&order, &rules.turns));
        let laid = |laid: &Vec<Laid>| (0..strips).all(|s| !rules.must[s] || laid.iter().any(|l| l.strip == s));
        let all: Vec<Vec<Laid>> = all.filter(|l| laid(l) && rules.allow(l)).collect();
        let cost = |laid: &[Laid]| (costs.total(laid) + rules.left(count)) as f64;
        let least = all.iter().map(|l| cost(l)).fold(f64::INFINITY, f64::min);
        let mut always = |_: &_| true;
        let target = if least.is_finite() { least as u64 } else { 1000 };
        let priced = Priced::new(&pairs, &rules, count, 40, target, &mut Watch::new(&mut always));
        assert!(priced.below <= least, "{round}: {} {least}", priced.below);
        seen += usize::from(least.is_finite());
        exact += usize::from(priced.below == least);
        let walks = Walks::new(&pairs, &rules, count, &priced.price);
        for laid in &all {
            let mut set = 0;
            for (place, l) in laid.iter().enumerate() {
                set |= 1 << l.strip;
                let rest = cost(&laid[place..]);
                assert!(walks.to_come(set, l.strip)[l.turn() as usize] <= rest, "{round}: {laid:?} {place}");
            }
        }
    }
    assert!(seen > 60 && exact > seen / 2, "{seen} {exact}");
}

/// Where every strip costs the same beside every other there is nothing that a walk could gain.
#[test]
fn the_bound_is_exact_where_all_costs_are_alike() {
    let costs = Costs::from_fn(30, |_, _| 7).unwrap();
    let tried = lay_ups(&costs, &Wanted::all(30, Order::Free), &mut |_| true).unwrap();
    assert_eq!((tried.found[0].cost, tried.gap()), (7 * 29, 0));
}
