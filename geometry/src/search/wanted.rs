//! What is asked of a lay-up, and whether it can be answered. Knows the table of costs only by its size.

use super::MOST_PROVEN;
use super::costs::Laid;
use super::distinct::Alike;
use thiserror::Error;

/// In which order the strips may lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Order {
    /// In the order of the table of costs, as a rule the one in which they were cut; some may be left out.
    #[default]
    AsGiven,
    /// The strips of each panel in the order of the table, the panels taking turns in any way
    /// ([`Wanted::panels`]); some may be left out.
    Interleaved,
    /// In any order.
    Free,
}

/// Whether a strip is laid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Used {
    /// It may be left out.
    #[default]
    May,
    /// It is laid.
    Must,
    /// It is gone: lost, spoilt, or wanted elsewhere.
    Gone,
}

/// What is asked of one strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StripWanted {
    /// Whether it is laid.
    pub used: Used,
    /// The turns it may lie in, in the order of [`crate::layup::Turn::ALL`].
    pub turns: [bool; 4],
}

impl Default for StripWanted {
    fn default() -> Self {
        Self { used: Used::May, turns: [true; 4] }
    }
}

/// How many strips are laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Count {
    /// No fewer.
    pub least: usize,
    /// No more.
    pub most: usize,
    /// Even counts only.
    pub even: bool,
}

impl Count {
    /// So many, no more and no fewer.
    #[must_use]
    pub const fn exactly(count: usize) -> Self {
        Self { least: count, most: count, even: false }
    }

    /// So many or fewer.
    #[must_use]
    pub const fn at_most(count: usize) -> Self {
        Self { least: 1, most: count, even: false }
    }

    /// The same, even counts only.
    #[must_use]
    pub const fn even(self) -> Self {
        Self { even: true, ..self }
    }

    pub(super) fn holds(&self, count: usize) -> bool {
        (self.least.max(1)..=self.most).contains(&count) && (!self.even || count.is_multiple_of(2))
    }
}

/// What is asked of a lay-up.
///
/// A lay-up costs the sum of its glue lines, and [`Wanted::left_out`] for each strip that could be laid and isn't.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// In which order the strips may lie.
    pub order: Order,
    /// Of which panel each strip is, for [`Order::Interleaved`] alone.
    pub panels: Vec<usize>,
    /// What is asked of each strip, in the order of the table of costs.
    pub strips: Vec<StripWanted>,
    /// How many are laid.
    pub count: Count,
    /// What each strip left out costs, as much as a glue line that costs the same. Where it is 0 and the count is
    /// open, the fewest strips that are allowed win, for each glue line costs something.
    pub left_out: u32,
    /// The turns repeat every so many places (1 to 4); none: they needn't.
    pub repeats_every: Option<usize>,
    /// This strip lies at the left end.
    pub first: Option<usize>,
    /// This strip lies at the right end.
    pub last: Option<usize>,
    /// Which lay-ups are the same board.
    pub alike: Alike,
    /// How many different boards are given back (1 to 1000).
    pub few: usize,
}

/// Why there is no lay-up.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum WantedError {
    /// Not one entry for each strip of the table.
    #[error("{asked} strips are spoken of, but there are {there}")]
    Strips {
        /// How many [`Wanted`] speaks of.
        asked: usize,
        /// How many there are.
        there: usize,
    },
    /// A strip is to lie at an end that isn't there, or that can't be laid.
    #[error("strip {} is to lie at an end, but can't be laid", .0 + 1)]
    NotThere(usize),
    /// A strip must be laid and may lie in no turn.
    #[error("strip {} must be laid, but may lie in no turn", .0 + 1)]
    NoTurn(usize),
    /// No count that is asked for can be laid of the strips that there are.
    #[error("no such number of strips can be laid: {most} at most, {must} must be")]
    Count {
        /// How many must be laid.
        must: usize,
        /// How many may be.
        most: usize,
    },
    /// A repeat that is not 1 to 4 places long.
    #[error("turns can repeat every 1 to 4 places, not every {0}")]
    Repeat(usize),
    /// Nothing fits all that is asked.
    #[error("no lay-up fits all that is asked")]
    None,
}

impl Wanted {
    /// All `strips` laid, in this order, each turned in any way, the best board alone.
    #[must_use]
    pub fn all(strips: usize, order: Order) -> Self {
        Self {
            order,
            panels: vec![0; strips],
            strips: vec![StripWanted::default(); strips],
            count: Count::exactly(strips),
            left_out: 0,
            repeats_every: None,
            first: None,
            last: None,
            alike: Alike::HalfRound,
            few: 1,
        }
    }

    /// Whether the best is proven, given time: always in the order as given; where panels take turns in any way, as long
    /// as the product of their strips is some hundred thousand at most; in any order up to [`MOST_PROVEN`] strips.
    #[must_use]
    pub fn can_be_proven(&self) -> bool {
        let may = self.strips.iter().filter(|s| s.used != Used::Gone && s.turns.contains(&true)).count();
        self.order != Order::Free || may <= MOST_PROVEN
    }

    /// What the search is told, of the strips that can be laid alone.
    pub(super) fn rules(&self, strips: usize) -> Result<(Vec<usize>, Rules), WantedError> {
        for asked in [self.strips.len(), self.panels.len()] {
            if asked != strips {
                return Err(WantedError::Strips { asked, there: strips });
            }
        }
        let laid = |s: &StripWanted| s.used != Used::Gone && s.turns.contains(&true);
        let may: Vec<usize> = (0..strips).filter(|s| laid(&self.strips[*s])).collect();
        if let Some(strip) = (0..strips).find(|s| self.strips[*s].used == Used::Must && !laid(&self.strips[*s])) {
            return Err(WantedError::NoTurn(strip));
        }
        let end = |strip: Option<usize>| {
            strip.map(|s| may.iter().position(|m| *m == s).ok_or(WantedError::NotThere(s))).transpose()
        };
        if let Some(every) = self.repeats_every.filter(|every| !(1..=4).contains(every)) {
            return Err(WantedError::Repeat(every));
        }
        let (first, last) = (end(self.first)?, end(self.last)?);
        let held = |i: &usize| self.strips[may[*i]].used == Used::Must || first == Some(*i) || last == Some(*i);
        let must: Vec<bool> = (0..may.len()).map(|i| held(&i)).collect();
        let least = must.iter().filter(|m| **m).count();
        let counts: Vec<bool> = (0..=may.len()).map(|count| count >= least && self.count.holds(count)).collect();
        if !counts.contains(&true) {
            return Err(WantedError::Count { must: least, most: may.len() });
        }
        let turns = may.iter().map(|s| self.strips[*s].turns).collect();
        let left_out = u64::from(self.left_out);
        Ok((may, Rules { turns, must, first, last, counts, left_out, pattern: Vec::new() }))
    }
}

/// What a search is told of the strips that can be laid, by their place among these.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Rules {
    /// The turns that each may lie in.
    pub(super) turns: Vec<[bool; 4]>,
    /// Which must be laid.
    pub(super) must: Vec<bool>,
    /// The one at the left end.
    pub(super) first: Option<usize>,
    /// The one at the right end.
    pub(super) last: Option<usize>,
    /// Which counts are allowed, from none to all.
    pub(super) counts: Vec<bool>,
    /// What each left out costs.
    pub(super) left_out: u64,
    /// The turn at each place, again and again; empty: any.
    pub(super) pattern: Vec<usize>,
}

impl Rules {
    /// The least count allowed.
    pub(super) fn least(&self) -> usize {
        self.counts.iter().position(|c| *c).unwrap_or(0)
    }

    /// The counts allowed, of one strip or more.
    pub(super) fn counted(&self) -> impl Iterator<Item = usize> + '_ {
        (1..self.counts.len()).filter(|count| self.counts[*count])
    }

    /// The greatest count allowed.
    pub(super) fn most(&self) -> usize {
        self.counts.iter().rposition(|c| *c).unwrap_or(0)
    }

    /// Whether strip `i` may lie at this place, so turned.
    pub(super) fn may(&self, i: usize, place: usize, turn: usize) -> bool {
        self.turns[i][turn] && (self.pattern.is_empty() || self.pattern[place % self.pattern.len()] == turn)
    }

    /// What the strips that are left out cost where `count` are laid.
    pub(super) fn left(&self, count: usize) -> u64 {
        (self.turns.len() - count) as u64 * self.left_out
    }

    /// Whether a lay-up of as many strips as are allowed, all that must be among them, keeps the other rules.
    pub(super) fn allow(&self, laid: &[Laid]) -> bool {
        let end =
            |rule: Option<usize>, at: Option<&Laid>| rule.is_none_or(|strip| at.is_some_and(|l| l.strip == strip));
        let turned = |(place, l): (usize, &Laid)| self.may(l.strip, place, l.turn() as usize);
        end(self.first, laid.first()) && end(self.last, laid.last()) && laid.iter().enumerate().all(turned)
    }

    /// The rules for lay-ups that keep these after each of these ways of turning the board; `None` where nothing can.
    pub(super) fn meet(&self, ways: &[(usize, bool)]) -> Option<Self> {
        let turns = |turns: &[bool; 4]| std::array::from_fn(|t| ways.iter().all(|(way, _)| turns[t ^ way]));
        let ends = |kept: Option<usize>, reversed: Option<usize>| {
            let mut all = ways.iter().filter_map(|(_, r)| if *r { reversed } else { kept });
            let one = all.next();
            all.all(|strip| Some(strip) == one).then_some(one)
        };
        let (first, last) = (ends(self.first, self.last)?, ends(self.last, self.first)?);
        Some(Self { turns: self.turns.iter().map(turns).collect(), first, last, ..self.clone() })
    }

    /// The same rules taken apart, so that in each the turn at every place is settled and no lay-up fits two: one for
    /// each pattern of `every` turns, and of fewer for fewer strips. Where nothing repeats, the rules as they are.
    pub(super) fn apart(&self, every: Option<usize>) -> Vec<Self> {
        let Some(every) = every else { return vec![self.clone()] };
        let mut all = Vec::new();
        for long in 1..=every {
            let so_long = |count: usize| if long == every { count >= long } else { count == long };
            let counts: Vec<bool> = (0..self.counts.len()).map(|c| self.counts[c] && so_long(c)).collect();
            if !counts.contains(&true) {
                continue;
            }
            for number in 0_usize..1 << (2 * long) {
                let pattern = (0..long).map(|place| number >> (2 * place) & 3).collect();
                all.push(Self { pattern, counts: counts.clone(), ..self.clone() });
            }
        }
        all
    }
}
