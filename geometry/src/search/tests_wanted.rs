//! All that can be asked of a lay-up, against brute force.

use super::tests::{Seeded, all_turned, costs, orders, some_turns};
use super::*;
use std::collections::HashSet;

/// Something asked at random of so many strips.
fn some_wanted(strips: usize, seeded: &mut Seeded) -> Wanted {
    let order = [Order::AsGiven, Order::Interleaved, Order::Free][seeded.below(3) as usize];
    let mut wanted = Wanted::all(strips, order);
    let panels = 1 + seeded.below(3);
    wanted.panels = (0..strips).map(|_| seeded.below(panels) as usize).collect();
    wanted.alike = if seeded.below(2) == 0 { Alike::HalfRound } else { Alike::HalfRoundAndOver };
    wanted.few = 1 + seeded.below(12) as usize;
    wanted.left_out = seeded.below(3) as u32 * 2;
    if seeded.below(3) > 0 {
        let least = seeded.below(strips as u64 + 1) as usize;
        let most = least + seeded.below(3) as usize;
        wanted.count = Count { least, most, even: seeded.below(3) == 0 };
    }
    if seeded.below(2) == 0 {
        some_turns(strips, seeded).into_iter().zip(&mut wanted.strips).for_each(|(turns, s)| s.turns = turns);
    }
    for strip in &mut wanted.strips {
        strip.used = [Used::May, Used::May, Used::May, Used::May, Used::Must, Used::Gone][seeded.below(6) as usize];
    }
    let mut end = |one_in| (seeded.below(one_in) == 0).then(|| seeded.below(strips as u64) as usize);
    (wanted.first, wanted.last) = (end(4), end(4));
    wanted.repeats_every = (seeded.below(4) == 0).then(|| 1 + seeded.below(3) as usize);
    wanted
}

/// Every lay-up that fits.
fn all_that_fit(strips: usize, wanted: &Wanted) -> Vec<Vec<Laid>> {
    let turns: Vec<[bool; 4]> = wanted.strips.iter().map(|s| s.turns).collect();
    let fits = |laid: &Vec<Laid>| {
        let has = |strip: usize| laid.iter().any(|l| l.strip == strip);
        let rising = |panel: usize| {
            let of = laid.iter().filter(|l| wanted.panels[l.strip] == panel || wanted.order == Order::AsGiven);
            of.is_sorted_by_key(|l| l.strip)
        };
        let order = wanted.order == Order::Free || (0..3).all(rising);
        let used = (0..strips).all(|s| match wanted.strips[s].used {
            Used::May => true,
            Used::Must => has(s),
            Used::Gone => !has(s),
        });
        let every = wanted.repeats_every.unwrap_or(laid.len());
        let repeats = (every..laid.len()).all(|i| laid[i].turn() == laid[i - every].turn());
        let first = wanted.first.is_none_or(|s| laid[0].strip == s);
        order && used && repeats && first && wanted.last.is_none_or(|s| laid[laid.len() - 1].strip == s)
    };
    let counts = (1..=strips).filter(|c| {
        let count = wanted.count;
        count.least <= *c && *c <= count.most && (!count.even || c % 2 == 0)
    });
    counts.flat_map(|c| orders(strips, c)).flat_map(|o| all_turned(&o, &turns)).filter(fits).collect()
}

#[test]
fn whatever_is_asked_agrees_with_every_lay_up_that_fits() {
    let mut answered = 0;
    for round in 0..600 {
        let mut seeded = Seeded(round);
        let strips = 1 + seeded.below(5) as usize;
        let wanted = some_wanted(strips, &mut seeded);
        let costs = costs(strips, [2, 5, 1000][seeded.below(3) as usize], wanted.alike, round);
        let may = (0..strips).filter(|s| wanted.strips[*s].used != Used::Gone);
        let may = may.filter(|s| wanted.strips[*s].turns.contains(&true)).count();
        let cost = |l: &[Laid]| costs.total(l) + (may - l.len()) as u64 * u64::from(wanted.left_out);
        let mut all: Vec<(u64, Vec<Laid>)> =
            all_that_fit(strips, &wanted).iter().map(|l| (cost(l), wanted.alike.first(l))).collect();
        all.sort();
        all.dedup();
        let tried = lay_ups(&costs, &wanted, &mut |_| true);
        if all.is_empty() {
            assert!(tried.is_err(), "{round}: {wanted:?}");
            continue;
        }
        answered += 1;
        let tried = tried.unwrap();
        let good = all.iter().filter(|(c, _)| *c == all[0].0).count() as u64;
        assert!(tried.proven && tried.gap() == 0, "{round}");
        assert_eq!((tried.bound, tried.equally_good), (all[0].0, good), "{round}: {wanted:?}");
        let few: Vec<u64> = all.iter().map(|(c, _)| *c).take(wanted.few).collect();
        assert_eq!(tried.found.iter().map(|f| f.cost).collect::<Vec<_>>(), few, "{round}: {wanted:?}");
        let fit: HashSet<Vec<Laid>> = all_that_fit(strips, &wanted).into_iter().collect();
        assert!(tried.found.iter().all(|f| fit.contains(&f.laid) && cost(&f.laid) == f.cost), "{round}");
        let boards: HashSet<Vec<Laid>> = tried.found.iter().map(|f| wanted.alike.first(&f.laid)).collect();
        assert_eq!(boards.len(), tried.found.len());
    }
    assert!(answered > 200, "{answered}");
}

#[test]
fn a_search_that_is_stopped_gives_what_it_has() {
    for strips in [16, 24] {
        let costs = costs(strips, 1_000_000, Alike::HalfRound, 3);
        let mut wanted = Wanted::all(strips, Order::Free);
        wanted.few = 4;
        let mut asked = 0;
        let tried = lay_ups(&costs, &wanted, &mut |progress| {
            asked += 1;
            assert!(progress.best.is_some_and(|best| progress.bound <= best));
            asked < 3
        });
        let tried = tried.unwrap();
        assert!(!tried.proven && tried.bound <= tried.found[0].cost && asked == 3);
        assert!(tried.found.iter().all(|f| f.laid.len() == strips && costs.total(&f.laid) == f.cost));
        assert_eq!(wanted.can_be_proven(), strips == 16);
    }
}

#[test]
fn what_contradicts_itself_is_refused() {
    let costs = costs(4, 9, Alike::HalfRound, 1);
    let refused = |change: &dyn Fn(&mut Wanted)| {
        let mut wanted = Wanted::all(4, Order::Free);
        change(&mut wanted);
        lay_ups(&costs, &wanted, &mut |_| true).unwrap_err()
    };
    assert_eq!(refused(&|w| w.strips.truncate(3)), WantedError::Strips { asked: 3, there: 4 });
    assert_eq!(refused(&|w| w.strips[1].used = Used::Gone), WantedError::Count { must: 0, most: 3 });
    assert_eq!(refused(&|w| w.first = Some(4)), WantedError::NotThere(4));
    assert_eq!(refused(&|w| w.repeats_every = Some(5)), WantedError::Repeat(5));
    assert_eq!(refused(&|w| (w.first, w.last) = (Some(1), Some(1))), WantedError::None);
    let no_turn = |w: &mut Wanted| w.strips[2] = StripWanted { used: Used::Must, turns: [false; 4] };
    assert_eq!(refused(&no_turn), WantedError::NoTurn(2));
}

#[test]
fn mirror_pairs_agree_with_every_way_of_turning() {
    for alike in [Alike::HalfRound, Alike::HalfRoundAndOver] {
        for (strips, rounds) in [(1_usize, 3), (2, 6), (3, 6), (4, 6), (5, 6), (7, 3), (8, 2)] {
            for round in 0..rounds {
                let mut seeded = Seeded(round * 13 + strips as u64);
                // Two tables with the same symmetry: one for glue lines, one for mirror pairs.
                let (glue, mirror) = (costs(strips, 3, alike, round), costs(strips, 4, alike, round + 99));
                let order: Vec<usize> = (0..strips).collect();
                let allowed = if round % 2 == 0 { vec![[true; 4]; strips] } else { some_turns(strips, &mut seeded) };
                let of = |i: usize| mirror.joints(&[i, strips - 1 - i])[0];
                let pairs: Vec<Joint> = (0..strips / 2).map(of).collect();
                let cost = |l: &[Laid]| {
                    let pair = |i: usize| u64::from(mirror.between(l[i], l[strips - 1 - i]));
                    glue.total(l) + (0..strips / 2).map(pair).sum::<u64>()
                };
                let all = all_turned(&order, &allowed);
                let found = mirrored(&order, &glue.joints(&order), &pairs, &allowed, 5, alike);
                let Some(least) = all.iter().map(|l| cost(l)).min() else {
                    assert!(found.best.is_empty() && found.optima == 0);
                    continue;
                };
                let good: Vec<&Vec<Laid>> = all.iter().filter(|l| cost(l) == least).collect();
                let boards: HashSet<Vec<Laid>> = good.iter().map(|l| alike.first(l)).collect();
                assert_eq!((found.best[0].cost, found.optima), (least, good.len() as u128), "{strips} {round}");
                assert_eq!(found.boards, Some(boards.len() as u128), "{strips} {round}");
                let all: HashSet<Vec<Laid>> = all.iter().map(|l| alike.first(l)).collect();
                let mut few: Vec<u64> = all.iter().map(|l| cost(l)).collect();
                few.sort_unstable();
                few.truncate(5);
                assert_eq!(found.best.iter().map(|f| f.cost).collect::<Vec<_>>(), few, "{strips} {round}");
                assert!(found.best.iter().all(|f| cost(&f.laid) == f.cost));
            }
        }
    }
    assert!(mirrored(&[0, 1], &[[[0; 4]; 4]], &[], &[[true; 4]; 2], 1, Alike::HalfRound).best.is_empty());
}
