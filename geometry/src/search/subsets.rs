//! The dynamic programme over sets of strips, behind the free order.
//!
//! State (set of strips laid, last strip, its turn): the least cost of laying exactly that set with that strip at the
//! right (M. Held and R. M. Karp, *A dynamic programming approach to sequencing problems*, Journal of the Society for
//! Industrial and Applied Mathematics 10, 1962, with turns, for paths that may leave strips out). The four turns of a
//! strip lie side by side, and so do the four of the next, so that what comes of one strip beside another is four sums
//! of four numbers.
//!
//! States that can lead to nothing as cheap as a given cost are dropped: [`Walks`] say what going on from each costs at
//! least. So a good guess beforehand leaves few sets to look at; where everything costs alike, all 2¹⁶ rows of 64 four-byte numbers are kept, 16 MiB, and the count of equally good lay-ups, 16 bytes each,
//! is 64 MiB more.

use super::MOST_PROVEN;
use super::costs::{Costs, Found, Laid};
use super::distinct::Few;
use super::ranked::{self, Before};
use super::walks::{Priced, Walks};
use super::wanted::Rules;
use super::watch::Watch;

/// Dearer than any lay-up, and safe to add a cost to.
const NEVER: i32 = 1 << 30;
/// Of each strip as the last one, the least cost for each of its turns.
type Row = [[i32; 4]; MOST_PROVEN];
/// What one strip costs beside another: by the turn of the right one, then of the left one.
pub(super) type Pair = [[i32; 4]; 4];

/// What each strip costs left of each: by the right one, then the left one.
#[allow(clippy::cast_possible_wrap)]
pub(super) fn pairs(costs: &Costs) -> Vec<Pair> {
    let pair = |right: usize, left: usize| {
        let cost = |a: usize, b: usize| costs.between(Laid::of(left, a), Laid::of(right, b)) as i32;
        std::array::from_fn(|b| std::array::from_fn(|a| cost(a, b)))
    };
    (0..costs.strips()).flat_map(|right| (0..costs.strips()).map(move |left| pair(right, left))).collect()
}

/// The least cost of every set of strips, with each of them last.
pub(super) struct Table<'a> {
    pairs: &'a [Pair],
    rules: &'a Rules,
    /// For each set the number of its row; 0: none is kept.
    of: Vec<u32>,
    rows: Vec<Row>,
}

/// The strips of a set, from the first.
fn members(set: usize) -> impl Iterator<Item = usize> {
    let rest = |set: &usize| Some(set & (set - 1)).filter(|rest| *rest != 0);
    std::iter::successors(Some(set).filter(|set| *set != 0), rest).map(|set| set.trailing_zeros() as usize)
}

impl<'a> Table<'a> {
    /// All that can lead to a lay-up of at most this cost, by the prices of each count; `None` where it was stopped.
    #[allow(clippy::cast_possible_truncation)]
    pub(super) fn new(
        pairs: &'a [Pair],
        rules: &'a Rules,
        priced: &[Priced],
        most: u64,
        watch: &mut Watch<'_>,
    ) -> Option<Self> {
        let strips = rules.turns.len();
        let counted = priced.iter().filter(|priced| rules.counts[priced.count]);
        let walks: Vec<Walks<'_>> = counted.map(|p| Walks::new(pairs, rules, p.count, &p.price)).collect();
        // The turns that strips may lie in, by place.
        let may = |last: usize, place: usize| std::array::from_fn(|turn| rules.may(last, place, turn));
        let places: Vec<Vec<[bool; 4]>> =
            (0..strips).map(|place| (0..strips).map(|last| may(last, place)).collect()).collect();
        let mut table = Self { pairs, rules, of: vec![0; 1 << strips], rows: Vec::with_capacity(1 << strips) };
        table.rows.push([[NEVER; 4]; MOST_PROVEN]);
        // Of each set, the strips that may be its last.
        let mut lasts = vec![0_u16; 1 << strips];
        // Sets that grow from one that is kept.
        let mut grown = vec![false; 1 << strips];
        (0..strips).for_each(|strip| grown[1 << strip] = true);
        for set in 1..table.of.len() {
            if !grown[set] {
                continue;
            }
            let size = set.count_ones() as usize;
            if !watch.go((16 * size * size) as u64) {
                return None;
            }
            let mut row = [[NEVER; 4]; MOST_PROVEN];
            for last in members(set) {
                let before = set ^ (1 << last);
                let here = if size > 1 {
                    cheapest(&table.rows[table.of[before] as usize], &pairs[last * strips..][..strips], lasts[before])
                } else {
                    [if rules.first.is_none_or(|first| first == last) { 0 } else { NEVER }; 4]
                };
                let may = places[size - 1][last];
                let room = room(&walks, set, last, most);
                row[last] = std::array::from_fn(|t| if may[t] && here[t] <= room[t] { here[t] } else { NEVER });
                lasts[set] |= u16::from(row[last] != [NEVER; 4]) << last;
            }
            if lasts[set] != 0 {
                table.of[set] = table.rows.len() as u32;
                table.rows.push(row);
                (0..strips).for_each(|strip| grown[set | 1 << strip] = true);
            }
        }
        Some(table)
    }

    fn pair(&self, left: usize, right: usize) -> &Pair {
        &self.pairs[right * self.rules.turns.len() + left]
    }

    /// Every state at which a lay-up may end: its set, last strip and turn, and what is left out costs.
    fn ends(&self) -> impl Iterator<Item = (State, u64)> {
        let rules = self.rules;
        let must = (0..rules.must.len()).filter(|i| rules.must[*i]).fold(0, |set, i| set | 1 << i);
        let sets = (1..self.of.len()).filter(move |set| self.of[*set] != 0 && set & must == must);
        let sets = sets.map(|set| (set, set.count_ones() as usize)).filter(|(_, size)| rules.counts[*size]);
        sets.flat_map(move |(set, size)| {
            let lasts = members(set).filter(|last| rules.last.is_none_or(|strip| strip == *last));
            lasts.flat_map(move |last| (0..4).map(move |turn| ((set, last, turn), rules.left(size))))
        })
        .filter(|(state, _)| self.at(*state) < NEVER)
    }

    fn at(&self, (set, last, turn): State) -> i32 {
        self.rows[self.of[set] as usize][last][turn]
    }

    pub(super) fn optimum(&self) -> Option<u64> {
        self.ends().map(|(state, left)| whole(self.at(state)) + left).min()
    }

    /// Every state that may stand before this one, with what the glue line between costs.
    fn before(&self, (set, last, turn): State) -> impl Iterator<Item = (i32, State)> {
        let set = set ^ (1 << last);
        let states = members(set).flat_map(move |left| (0..4).map(move |a| (left, a)));
        states
            .map(move |(left, a)| (self.pair(left, last)[turn][a], (set, left, a)))
            .filter(|(_, s)| self.at(*s) < NEVER)
    }

    /// Puts the cheapest lay-ups into `few`; whether it came to the end.
    pub(super) fn best(&self, few: &mut Few, watch: &mut Watch<'_>) -> bool {
        let ends = self.ends().map(|(state, left)| (left, whole(self.at(state)), state));
        let before = |state: State, ways: &mut Vec<Before<State>>| {
            ways.extend(self.before(state).map(|(more, state)| (whole(more), whole(self.at(state)), state)));
        };
        let mut ended = true;
        ranked::cheapest(ends, few.most(), before, |cost, states| {
            ended = watch.go(64 * states.len() as u64);
            let laid = states.iter().map(|(_, strip, turn)| Laid::of(*strip, *turn)).collect();
            ended && few.take(Found { laid, cost })
        });
        ended
    }

    /// How many lay-ups cost exactly `optimum`, where none costs less: from the full sets down, each
    /// state hands the number of ways to finish from it to every state that may stand before it. At most
    /// 16!·4¹⁶·e ≈ 2.5·10²³, which a `u128` holds.
    pub(super) fn optima(&self, optimum: u64) -> u128 {
        let mut ways = vec![[[0_u128; 4]; MOST_PROVEN]; self.rows.len()];
        for ((set, last, turn), left) in self.ends() {
            let fits = whole(self.at((set, last, turn))) + left == optimum;
            ways[self.of[set] as usize][last][turn] = u128::from(fits);
        }
        let mut total = 0;
        // The larger sets come later than their parts.
        for set in (1..self.of.len()).rev().filter(|set| self.of[*set] != 0) {
            let here = ways[self.of[set] as usize];
            for (last, turn) in members(set).flat_map(|last| (0..4).map(move |turn| (last, turn))) {
                let on = here[last][turn];
                if on == 0 {
                    continue;
                }
                if set.count_ones() == 1 {
                    total += on;
                    continue;
                }
                let cost = self.at((set, last, turn));
                for (more, (set, left, a)) in self.before((set, last, turn)) {
                    if self.at((set, left, a)) + more == cost {
                        ways[self.of[set] as usize][left][a] += on;
                    }
                }
            }
        }
        total
    }
}

/// A set of strips laid, the last of them and its turn.
type State = (usize, usize, usize);

/// What a set that ends so may cost, for each turn of its last strip, so that some lay-up of at most `most` follows.
#[allow(clippy::cast_possible_truncation)]
fn room(walks: &[Walks<'_>], set: usize, last: usize, most: u64) -> [i32; 4] {
    let mut least = [f64::INFINITY; 4];
    for to_come in walks.iter().map(|walks| walks.to_come(set as u128, last)) {
        (0..4).for_each(|turn| least[turn] = least[turn].min(to_come[turn]));
    }
    // Held within what a cost may be; nothing costs less than 0.
    least.map(|least| (most as f64 - least).clamp(-1.0, f64::from(NEVER - 1)) as i32)
}

#[allow(clippy::cast_sign_loss)]
const fn whole(cost: i32) -> u64 {
    cost as u64
}

/// For each turn of a strip, the least that laying it right of one of `lasts` comes to.
#[inline]
fn cheapest(row: &Row, pairs: &[Pair], lasts: u16) -> [i32; 4] {
    // For each turn of the right one, the least over each turn of the left one: the four of a strip stay side by side.
    let mut least = [[NEVER; 4]; 4];
    let mut rest = lasts;
    while rest != 0 {
        let left = rest.trailing_zeros() as usize;
        rest &= rest - 1;
        let costs = &row[left & (MOST_PROVEN - 1)];
        for (least, more) in least.iter_mut().zip(&pairs[left]) {
            for a in 0..4 {
                least[a] = least[a].min(costs[a] + more[a]);
            }
        }
    }
    least.map(|[a, b, c, d]| a.min(b).min(c.min(d)))
}
