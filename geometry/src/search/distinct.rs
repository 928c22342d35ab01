//! Lay-ups that look the same when the whole board is turned. Knows nothing of costs.
//!
//! Half round on the bench (about the upright): the order reversed, every strip end for end after
//! its turn. Turned over about the length: the same order, every strip end over end. Both: the
//! order reversed, every strip rolled over. None of these leaves a lay-up as it was, so that with
//! nothing held fixed the lay-ups fall into groups of two, or of four where both faces count.
//!
//! The first two bring the front to the back: every slide changes its sign. So among lay-ups whose
//! strips are slid unlike, each slide going with its strip, only both together leaves a lay-up that
//! is slid so; but a board slid one way may be the same as another slid the other way
//! ([`Alike::first_slid`]).

use super::costs::{Costs, Found, Laid};
use super::wanted::Rules;
use crate::layup::Turn;
use crate::measure::Length;
use std::collections::HashSet;

/// Which ways of turning the board count as the same board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Alike {
    /// Half round on the bench: the upper face counts.
    #[default]
    HalfRound,
    /// Half round and turned over: both faces count alike, with equal amounts taken off both.
    HalfRoundAndOver,
    /// None: the upper face counts, and strips are slid unlike.
    Itself,
    /// Turned over about the width, so that left and right change and the front stays: both faces count alike, and strips
    /// are slid unlike.
    OverAboutWidth,
}

impl Alike {
    /// The half turns that every strip gets, and whether the order is reversed with it.
    const fn turnings(self) -> &'static [(Turn, bool)] {
        const ALL: [(Turn, bool); 4] =
            [(Turn::AsCut, false), (Turn::EndForEnd, true), (Turn::EndOverEnd, false), (Turn::RolledOver, true)];
        const FRONT_STAYS: [(Turn, bool); 2] = [ALL[0], ALL[3]];
        match self {
            Self::HalfRound => ALL.split_at(2).0,
            Self::HalfRoundAndOver => &ALL,
            Self::Itself => ALL.split_at(1).0,
            Self::OverAboutWidth => &FRONT_STAYS,
        }
    }

    /// Those of its ways of turning that leave every slide as it is: all that there are where strips are slid unlike.
    #[must_use]
    pub const fn slid_unlike(self) -> Self {
        match self {
            Self::HalfRound | Self::Itself => Self::Itself,
            Self::HalfRoundAndOver | Self::OverAboutWidth => Self::OverAboutWidth,
        }
    }

    /// The one that stands for all that are the same board, each strip with how far it is slid toward the back: the first
    /// in the order of strips, turns and slides. Slides are counted from the least, for the board is cut from what all
    /// strips cover.
    #[must_use]
    pub fn first_slid(self, laid: &[(Laid, Length)]) -> Vec<(Laid, Length)> {
        let turned = |(turn, reversed): &(Turn, bool)| {
            let slid = |slide: Length| if turn.first_blank_in_front() { -slide } else { slide };
            let least = laid.iter().map(|(_, slide)| slid(*slide)).min().unwrap_or_default();
            let one = |(l, slide): &(Laid, Length)| (l.then(*turn), slid(*slide) - least);
            let mut all: Vec<(Laid, Length)> = laid.iter().map(one).collect();
            if *reversed {
                all.reverse();
            }
            all
        };
        self.turnings().iter().map(turned).min().unwrap_or_default()
    }

    /// Every lay-up that is the same board as this one, itself first.
    #[must_use]
    pub fn same(self, laid: &[Laid]) -> Vec<Vec<Laid>> {
        let turned = |(turn, reversed): &(Turn, bool)| {
            let mut all: Vec<Laid> = laid.iter().map(|l| l.then(*turn)).collect();
            if *reversed {
                all.reverse();
            }
            all
        };
        self.turnings().iter().map(turned).collect()
    }

    /// The one of them that stands for all: the first in the order of strips and turns.
    #[must_use]
    pub fn first(self, laid: &[Laid]) -> Vec<Laid> {
        self.same(laid).into_iter().min().unwrap_or_default()
    }

    /// Every way of turning the board: the half turn that each strip gets, and whether the order is reversed.
    pub(super) fn ways(self) -> impl Iterator<Item = (usize, bool)> {
        self.turnings().iter().map(|(turn, reversed)| (*turn as usize, *reversed))
    }

    /// The half turns under which a lay-up keeps its order (or, where the order is free, any).
    pub(super) fn shifts(self, order_is_free: bool) -> Vec<usize> {
        self.turnings()
            .iter()
            .filter(|(_, reversed)| order_is_free || !reversed)
            .map(|(turn, _)| *turn as usize)
            .collect()
    }
}

/// Of lay-ups that are the same board, the first; the others are dropped.
#[must_use]
pub fn distinct(found: Vec<Found>, alike: Alike) -> Vec<Found> {
    let mut seen = HashSet::new();
    found.into_iter().filter(|f| seen.insert(alike.first(&f.laid))).collect()
}

/// How many boards there are among the lay-ups that `count` counts for the turns allowed.
///
/// With A the lay-ups allowed and H the ways of turning, none of which leaves a lay-up as it was,
/// that is |∪ hA| / |H|; the union by inclusion and exclusion, each intersection being what the
/// turns allowed in all of them leave. `None` where a count is over what a number holds.
pub(super) fn boards(
    allowed: &[[bool; 4]],
    shifts: &[usize],
    mut count: impl FnMut(&[[bool; 4]]) -> u128,
) -> Option<u128> {
    let mut terms: Vec<(Vec<[bool; 4]>, i128)> = Vec::new();
    for some in 1_u32..1 << shifts.len() {
        let kept = shifts.iter().enumerate().filter(|(i, _)| some >> i & 1 == 1).map(|(_, s)| *s);
        let shifted: Vec<usize> = kept.collect();
        let meet: Vec<[bool; 4]> =
            allowed.iter().map(|turns| std::array::from_fn(|t| shifted.iter().all(|s| turns[t ^ s]))).collect();
        let sign = if some.count_ones() % 2 == 1 { 1 } else { -1 };
        match terms.iter_mut().find(|(turns, _)| *turns == meet) {
            Some((_, times)) => *times += sign,
            None => terms.push((meet, sign)),
        }
    }
    let mut union = 0_i128;
    for (turns, times) in terms.iter().filter(|(_, times)| *times != 0) {
        union = union.checked_add(i128::try_from(count(turns)).ok()?.checked_mul(*times)?)?;
    }
    u128::try_from(union).ok().map(|all| all / shifts.len() as u128)
}

/// The cheapest few boards that were come upon, no two the same, cheapest first.
pub(super) struct Few {
    few: usize,
    alike: Alike,
    seen: HashSet<Vec<Laid>>,
    kept: Vec<Found>,
}

impl Few {
    /// The most that are ever kept.
    const MOST: usize = 1000;

    pub(super) fn new(few: usize, alike: Alike) -> Self {
        Self { few: few.clamp(1, Self::MOST), alike, seen: HashSet::new(), kept: Vec::new() }
    }

    /// Of so many lay-ups, cheapest first, enough are different boards.
    pub(super) fn most(&self) -> usize {
        self.few * self.alike.turnings().len()
    }

    /// Takes a lay-up; whether one that costs as much or more may still be wanted.
    pub(super) fn take(&mut self, found: Found) -> bool {
        let dearest = self.kept.last().filter(|_| self.kept.len() == self.few).map(|f| f.cost);
        if dearest.is_some_and(|dearest| found.cost >= dearest) {
            return false;
        }
        if self.seen.insert(self.alike.first(&found.laid)) {
            let at = self.kept.partition_point(|f| f.cost <= found.cost);
            self.kept.insert(at, found);
            self.kept.truncate(self.few);
        }
        true
    }

    /// The cost of the cheapest.
    pub(super) fn cheapest(&self) -> Option<u64> {
        self.kept.first().map(|found| found.cost)
    }

    /// No lay-up that costs more is wanted.
    pub(super) fn dearest(&self) -> u64 {
        self.kept.last().filter(|_| self.kept.len() == self.few).map_or(u64::MAX, |dearest| dearest.cost)
    }

    pub(super) fn extend(&mut self, found: impl IntoIterator<Item = Found>) {
        for found in found {
            self.take(found);
        }
    }

    /// What is kept, as it was found.
    pub(super) fn kept(self) -> Vec<Found> {
        self.kept
    }

    /// What is kept, each as the first of its kind that the rules allow.
    pub(super) fn found(self, costs: &Costs, allows: impl Fn(&[Laid]) -> bool) -> Vec<Found> {
        let first = |found: Found| {
            let own = costs.total(&found.laid);
            let same = self.alike.same(&found.laid).into_iter().filter(|l| allows(l) && costs.total(l) == own);
            Found { laid: same.min().unwrap_or(found.laid), cost: found.cost }
        };
        self.kept.into_iter().map(first).collect()
    }
}

/// How many boards there are among the lay-ups that `count` counts under some rules: [`boards`] for rules that hold
/// strips at the ends too, over these ways of turning. `None` where it was stopped, or a count is over what a number
/// holds.
pub(super) fn boards_by(
    rules: &Rules,
    ways: &[(usize, bool)],
    count: &mut dyn FnMut(&Rules) -> Option<u128>,
) -> Option<u128> {
    let mut terms: Vec<(Rules, i128)> = Vec::new();
    for some in 1_u32..1 << ways.len() {
        let kept: Vec<(usize, bool)> = (0..ways.len()).filter(|i| some >> i & 1 == 1).map(|i| ways[i]).collect();
        let Some(meet) = rules.meet(&kept) else { continue };
        let sign = if some.count_ones() % 2 == 1 { 1 } else { -1 };
        match terms.iter_mut().find(|(rules, _)| *rules == meet) {
            Some((_, times)) => *times += sign,
            None => terms.push((meet, sign)),
        }
    }
    let mut union = 0_i128;
    for (rules, times) in terms.iter().filter(|(_, times)| *times != 0) {
        union = union.checked_add(i128::try_from(count(rules)?).ok()?.checked_mul(*times)?)?;
    }
    u128::try_from(union).ok().map(|all| all / ways.len() as u128)
}
