//! All that can be asked of a lay-up, against brute force.

use super::tests::{Seeded, all_turned, costs, orders, some_turns};
use super::*;
use std::collections::HashSet;

/// Something asked at random of so many strips.
fn some_wanted(strips: usize, seeded: &mut Seeded) -> Wanted {
    let mut wanted = Wanted::all(strips, if seeded.below(2) == 0 { Order::AsGiven } else { Order::Free });
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
        let order = wanted.order == Order::Free || laid.windows(2).all(|w| w[0].strip < w[1].strip);
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
