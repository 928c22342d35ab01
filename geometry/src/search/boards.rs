//! Which boards a stock of blanks gives: which blanks are glued into one panel, and what is left over.
//!
//! Knows sizes and how light each blank's wood is; nothing of figure, files or words.
//!
//! # Formulas
//! Blanks with widths U, thicknesses V and lengths L make a panel W = ΣU − trued wide and T = min V − planed thick. It
//! gives n = ⌊(min L − ends + kerf)/(s + kerf)⌋ strips of width s, and these a board n·T long, W wide and s thick; of a
//! board that would be too long, strips are left out. A proposal divides the stock into boards and what is left over; it
//! is worth the volume of its boards, in whole mm³, so that equal is equal.
//!
//! # What is proven
//! Up to [`MOST_STOCK_PROVEN`] blanks every division is weighed (a dynamic programme over all sets, 3¹² steps). Beyond
//! that blanks change places while that helps, and Σ U·s·min(n·T, longest) over all blanks, each as if alone, is a bound:
//! no board makes more of a blank than that, since min L and min V are no blank's gain.

use std::cmp::Reverse;
use std::collections::HashSet;
use thiserror::Error;

/// Up to so many blanks the proposals are proven to be the best.
pub const MOST_STOCK_PROVEN: usize = 12;
/// The most blanks of a stock.
pub const MOST_STOCK: usize = 60;

/// One blank of the stock; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InStock {
    /// Across it.
    pub width: f64,
    /// Through it.
    pub thickness: f64,
    /// Along the grain.
    pub length: f64,
    /// L* of its wood, 0 to 100.
    pub lightness: f64,
}

/// What boards are wanted, and what the shop takes off; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardsWanted {
    /// The board's width, at least and at most.
    pub width: [f64; 2],
    /// The board's length, at least and at most.
    pub length: [f64; 2],
    /// s: the strips' width, which is the board's thickness.
    pub strip: f64,
    /// What the saw takes at each cut.
    pub kerf: f64,
    /// What both ends of a panel lose.
    pub ends: f64,
    /// What truing takes off the panel's width.
    pub trued: f64,
    /// What planing takes off its thickness.
    pub planed: f64,
    /// How many proposals are given back.
    pub few: usize,
}

/// One board that can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardMade {
    /// Which blanks are glued into its panel, from 0.
    pub blanks: Vec<usize>,
    /// How many strips.
    pub strips: usize,
    /// Its size: length, width, thickness, mm.
    pub size: [f64; 3],
    /// What is to be expected where neighbours meet, the blanks laid in any order: the mean difference of lightness
    /// over all pairs of them, in L*; 0 where all are of one wood.
    pub contrast: f64,
}

/// One way to divide the stock.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Its boards, the largest first.
    pub boards: Vec<BoardMade>,
    /// Blanks that are in none.
    pub left: Vec<usize>,
    /// The volume of its boards, mm³.
    pub volume: u64,
    /// The volume of the whole stock less that, mm³.
    pub leftover: u64,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Divided {
    /// The best proposals, the best first: the most volume in boards, then the fewest boards.
    pub proposals: Vec<Proposal>,
    /// No division makes more, mm³.
    pub bound: u64,
    /// Whether these are proven to be the best few.
    pub proven: bool,
}

/// Why a stock can't be divided.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum BoardsError {
    /// No blank, or too many.
    #[error("{0} blanks; a stock has 1 to {most}", most = MOST_STOCK)]
    Blanks(usize),
    /// A length is none.
    #[error("every size is to be more than 0 and at most 100 m, and what is taken off no less than 0")]
    Sizes,
}

/// The best divisions of a stock into boards. `keep_going` is asked now and then; once it says no, what was found is
/// given back, unproven.
///
/// # Errors
/// [`BoardsError`] where there are too many blanks, or a size is none.
///
/// ```
/// use quarterturn_geometry::search::{BoardsWanted, InStock, divided};
/// let blank = |width, length| InStock { width, thickness: 25.0, length, lightness: 50.0 };
/// let wanted = BoardsWanted {
///     width: [90.0, 300.0], length: [100.0, 500.0], strip: 40.0, kerf: 3.0, ends: 20.0, trued: 0.0, planed: 0.0, few: 2,
/// };
/// // Two that are long go together; one that is short would cost strips.
/// let stock = [blank(50.0, 600.0), blank(50.0, 600.0), blank(40.0, 200.0)];
/// let divided = divided(&stock, &wanted, &mut || true)?;
/// assert_eq!(divided.proposals[0].boards[0].blanks, [0, 1]);
/// assert_eq!(divided.proposals[0].left, [2]);
/// # Ok::<(), quarterturn_geometry::search::BoardsError>(())
/// ```
pub fn divided(
    stock: &[InStock],
    wanted: &BoardsWanted,
    keep_going: &mut dyn FnMut() -> bool,
) -> Result<Divided, BoardsError> {
    if stock.is_empty() || stock.len() > MOST_STOCK {
        return Err(BoardsError::Blanks(stock.len()));
    }
    let sizes = stock.iter().flat_map(|b| [b.width, b.thickness, b.length]).chain([wanted.strip]);
    let off = [wanted.kerf, wanted.ends, wanted.trued, wanted.planed];
    let asked = wanted.width.into_iter().chain(wanted.length);
    let sound = |most: f64, least: f64, size: f64| size >= least && size <= most;
    if !(sizes.into_iter().all(|size| sound(1e5, 1e-3, size))
        && off.into_iter().chain(asked).all(|o| sound(1e5, 0.0, o)))
        || stock.iter().any(|b| !b.lightness.is_finite())
    {
        return Err(BoardsError::Sizes);
    }
    let wanted = BoardsWanted { few: wanted.few.clamp(1, 50), ..*wanted };
    let search = Search { stock, wanted: &wanted };
    let (found, proven) = match stock.len() {
        0..=MOST_STOCK_PROVEN => (search.all(keep_going), true),
        _ => (None, false),
    };
    let (found, proven) = found.map_or_else(|| (search.by_changes(keep_going), false), |found| (found, proven));
    let proposals: Vec<Proposal> = found.iter().map(|sets| search.proposal(sets)).collect();
    let best = proposals.first().map_or(0, |p| p.volume);
    let bound = if proven { best } else { search.bound().max(best) };
    Ok(Divided { proposals, bound, proven })
}

/// Sets of blanks, each a board.
type Sets = Vec<u64>;

struct Search<'a> {
    stock: &'a [InStock],
    wanted: &'a BoardsWanted,
}

fn members(set: u64) -> impl Iterator<Item = usize> {
    (0..64).filter(move |i| set >> i & 1 == 1)
}

impl Search<'_> {
    /// How many strips a panel of such a length and thickness gives, no more than make the longest board.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn strips(&self, length: f64, thickness: f64) -> usize {
        let w = self.wanted;
        let there = ((length - w.ends + w.kerf) / (w.strip + w.kerf) + 1e-9).floor().max(0.0);
        let most = if thickness > 0.0 { (w.length[1] / thickness + 1e-9).floor() } else { 0.0 };
        there.min(most).min(1e6) as usize
    }

    /// Strips, length and width of the board that these give, if it is one that is wanted.
    fn board(&self, set: u64) -> Option<(usize, [f64; 2])> {
        let w = self.wanted;
        let of = |get: fn(&InStock) -> f64| members(set).map(move |i| get(&self.stock[i]));
        let width = of(|b| b.width).sum::<f64>() - w.trued;
        let thickness = of(|b| b.thickness).fold(f64::INFINITY, f64::min) - w.planed;
        let strips = self.strips(of(|b| b.length).fold(f64::INFINITY, f64::min), thickness);
        let length = strips as f64 * thickness;
        let within = |size: f64, [least, most]: [f64; 2]| size >= least - 1e-9 && size <= most + 1e-9;
        (set != 0 && strips > 0 && width > 0.0 && within(width, w.width) && within(length, w.length))
            .then_some((strips, [length, width]))
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn volume(&self, set: u64) -> u64 {
        self.board(set).map_or(0, |(_, [length, width])| (length * width * self.wanted.strip).round() as u64)
    }

    /// See the module.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn bound(&self) -> u64 {
        let w = self.wanted;
        let alone = |b: &InStock| {
            let strips = ((b.length - w.ends + w.kerf) / (w.strip + w.kerf) + 1e-9).floor().max(0.0);
            b.width * w.strip * (strips * (b.thickness - w.planed).max(0.0)).min(w.length[1] + 1e-9)
        };
        self.stock.iter().map(alone).sum::<f64>().ceil() as u64 + self.stock.len() as u64
    }

    /// What a board is made of, blanks that are alike not told apart: each as the first like it in the stock, in order,
    /// mixed as by SplitMix64 (Steele and others, 2014), so that sums of it differ too.
    fn kind(&self, set: u64) -> u64 {
        let first = |i: usize| self.stock.iter().position(|b| *b == self.stock[i]).unwrap_or(i);
        let mut kinds: Vec<usize> = members(set).map(first).collect();
        kinds.sort_unstable();
        kinds.iter().fold(0, |hash: u64, k| {
            let mut z = (hash ^ (*k as u64 + 1)).wrapping_add(0x9e37_79b9_7f4a_7c15);
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        })
    }

    /// The same of a division: the sum over its boards, whatever their order.
    fn kinds(&self, sets: &[u64]) -> u64 {
        sets.iter().fold(0, |sum, set| sum.wrapping_add(self.kind(*set)))
    }

    /// The best few of all divisions; `None` where it was stopped.
    ///
    /// Of divisions that differ by nothing but which of some blanks that are alike lies where, one is kept.
    fn all(&self, keep_going: &mut dyn FnMut() -> bool) -> Option<Vec<Sets>> {
        /// A division of a set: volume, boards, its first board (0: the first blank is left), which of the rest's, and
        /// what it is made of.
        type Way = (u64, Reverse<usize>, u64, usize, u64);
        let count = self.stock.len();
        let volumes: Vec<u64> = (0..1_u64 << count).map(|set| self.volume(set)).collect();
        let kinds: Vec<u64> = (0..1_u64 << count).map(|set| self.kind(set)).collect();
        let mut ways: Vec<Vec<Way>> = vec![vec![(0, Reverse(0), 0, 0, 0)]];
        for set in 1..1_u64 << count {
            if set.is_multiple_of(64) && !keep_going() {
                return None;
            }
            let first = set & set.wrapping_neg();
            let others = set ^ first;
            let at = |set: u64| usize::try_from(set).unwrap_or(0);
            let mut here: Vec<Way> = ways[at(others)].iter().enumerate().map(|(i, w)| (w.0, w.1, 0, i, w.4)).collect();
            let mut some = others;
            loop {
                let board = some | first;
                let volume = volumes[at(board)];
                if volume > 0 {
                    let kind = kinds[at(board)];
                    let with =
                        |(i, w): (usize, &Way)| (w.0 + volume, Reverse(w.1.0 + 1), board, i, w.4.wrapping_add(kind));
                    here.extend(ways[at(set ^ board)].iter().enumerate().map(with));
                }
                if some == 0 {
                    break;
                }
                some = (some - 1) & others;
            }
            here.sort_by_key(|way| Reverse(*way));
            let mut seen = HashSet::new();
            here.retain(|way| seen.len() < self.wanted.few && seen.insert(way.4));
            ways.push(here);
        }
        let whole = |mut way: Way| {
            let (mut set, mut sets) = ((1_u64 << count) - 1, Vec::new());
            while set != 0 {
                let (_, _, board, rest, _) = way;
                sets.extend((board != 0).then_some(board));
                set ^= if board == 0 { set & set.wrapping_neg() } else { board };
                way = ways[usize::try_from(set).unwrap_or(0)][rest];
            }
            sets
        };
        Some(ways.last()?.iter().map(|way| whole(*way)).collect())
    }

    /// The best few found by changing the place of one blank or two, from seeded beginnings.
    fn by_changes(&self, keep_going: &mut dyn FnMut() -> bool) -> Vec<Sets> {
        const BEGINNINGS: u64 = 60;
        let mut best: Vec<(u64, Reverse<usize>, Sets)> = Vec::new();
        for seed in 0..BEGINNINGS {
            let mut sets = self.begun(seed);
            let mut going = true;
            while going && self.changed(&mut sets) {
                going = keep_going();
            }
            let mut made: Sets = sets.into_iter().filter(|set| self.volume(*set) > 0).collect();
            made.sort_unstable();
            let volume = made.iter().map(|set| self.volume(*set)).sum();
            let one = (volume, Reverse(made.len()), made);
            if !best.iter().any(|(.., sets)| self.kinds(sets) == self.kinds(&one.2)) {
                best.push(one);
            }
            best.sort_by(|a, b| b.cmp(a));
            best.truncate(self.wanted.few);
            if !going || !keep_going() {
                break;
            }
        }
        best.into_iter().map(|(_, _, sets)| sets).collect()
    }

    /// The longest laid first, into the first board that has room; which of the longest is left to the seed.
    fn begun(&self, seed: u64) -> Sets {
        let mut order: Vec<usize> = (0..self.stock.len()).collect();
        let mut state = seed;
        let mut jitter = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 40) as f64 / (1_u64 << 24) as f64
        };
        let by = |b: &InStock| if seed.is_multiple_of(2) { b.length } else { b.thickness * 10.0 + b.length / 100.0 };
        let keys: Vec<f64> =
            self.stock.iter().map(|b| by(b) * if seed < 2 { 1.0 } else { 0.7 + 0.6 * jitter() }).collect();
        order.sort_by(|a, b| keys[*b].total_cmp(&keys[*a]));
        let mut sets: Sets = Vec::new();
        let most = self.wanted.width[1] + self.wanted.trued;
        for i in order {
            let fits =
                |set: &u64| members(*set).map(|k| self.stock[k].width).sum::<f64>() + self.stock[i].width <= most;
            match sets.iter_mut().find(|set| fits(set)) {
                Some(set) => *set |= 1 << i,
                None => sets.push(1 << i),
            }
        }
        sets
    }

    /// The best change of one blank to another set (or one of its own), or of two about; whether there was one.
    fn changed(&self, sets: &mut Sets) -> bool {
        sets.retain(|set| *set != 0);
        sets.push(0);
        let mut better: Option<(u64, [(usize, u64); 2])> = None;
        for a in 0..sets.len() {
            for b in (0..sets.len()).filter(|b| *b != a) {
                let before = self.volume(sets[a]) + self.volume(sets[b]);
                let mut weigh = |one: u64, other: u64| {
                    let gain = (self.volume(one) + self.volume(other)).saturating_sub(before);
                    if gain > better.map_or(0, |(gain, _)| gain) {
                        better = Some((gain, [(a, one), (b, other)]));
                    }
                };
                for i in members(sets[a]) {
                    weigh(sets[a] ^ 1 << i, sets[b] | 1 << i);
                    for k in members(sets[b]).filter(|_| a < b) {
                        let both = 1 << i | 1 << k;
                        weigh(sets[a] ^ both, sets[b] ^ both);
                    }
                }
            }
        }
        let Some((_, changes)) = better else { return false };
        for (at, set) in changes {
            sets[at] = set;
        }
        true
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn proposal(&self, sets: &Sets) -> Proposal {
        let mut boards: Vec<BoardMade> = sets.iter().filter_map(|set| self.made(*set)).collect();
        let size = |board: &BoardMade| board.size.iter().product::<f64>();
        boards.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let used = sets.iter().fold(0, |all, set| all | set);
        let volume = sets.iter().map(|set| self.volume(*set)).sum();
        let stock: f64 = self.stock.iter().map(|b| b.width * b.thickness * b.length).sum();
        let left = (0..self.stock.len()).filter(|i| used >> i & 1 == 0).collect();
        Proposal { boards, left, volume, leftover: (stock.round() as u64).saturating_sub(volume) }
    }

    fn made(&self, set: u64) -> Option<BoardMade> {
        let (strips, [length, width]) = self.board(set)?;
        let blanks: Vec<usize> = members(set).collect();
        let light: Vec<f64> = blanks.iter().map(|i| self.stock[*i].lightness).collect();
        let pairs = || (0..light.len()).flat_map(|i| (0..i).map(move |k| (i, k)));
        let sum: f64 = pairs().map(|(i, k)| (light[i] - light[k]).abs()).sum();
        let contrast = sum / pairs().count().max(1) as f64;
        Some(BoardMade { blanks, strips, size: [length, width, self.wanted.strip], contrast })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WANTED: BoardsWanted = BoardsWanted {
        width: [90.0, 190.0],
        length: [120.0, 400.0],
        strip: 38.0,
        kerf: 3.2,
        ends: 25.0,
        trued: 3.0,
        planed: 2.0,
        few: 6,
    };

    fn stock(count: usize, seed: u64) -> Vec<InStock> {
        let mut state = seed;
        let mut next = |low: f64, high: f64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (low + (high - low) * (state >> 40) as f64 / (1_u64 << 24) as f64).round()
        };
        let mut one = |_| InStock {
            width: next(30.0, 80.0),
            thickness: next(20.0, 30.0),
            length: next(250.0, 700.0),
            lightness: next(30.0, 80.0),
        };
        (0..count).map(&mut one).collect()
    }

    /// Every division, each blank in turn put into every set there is, a new one, or left.
    fn every(stock: &[InStock]) -> Vec<(u64, Reverse<usize>)> {
        let search = Search { stock, wanted: &WANTED };
        let mut divisions: Vec<Sets> = vec![Vec::new()];
        for i in 0..stock.len() {
            let with = |sets: Sets| {
                let mut all = vec![sets.clone()];
                for at in 0..=sets.len() {
                    let mut more = sets.clone();
                    if at == sets.len() {
                        more.push(1 << i)
                    } else {
                        more[at] |= 1 << i
                    }
                    all.push(more);
                }
                all
            };
            divisions = divisions.into_iter().flat_map(with).collect();
        }
        divisions.retain(|sets| sets.iter().all(|set| search.volume(*set) > 0));
        // Blanks that are alike are told apart by nothing but their place: each board as its sizes, sorted.
        let sizes = |set: &u64| {
            let of = |i: usize| {
                let b = &stock[i];
                [b.width, b.thickness, b.length, b.lightness].map(f64::to_bits)
            };
            let mut sizes: Vec<_> = members(*set).map(of).collect();
            sizes.sort_unstable();
            sizes
        };
        let mut seen = HashSet::new();
        divisions.retain(|sets| {
            let mut boards: Vec<_> = sets.iter().map(sizes).collect();
            boards.sort_unstable();
            seen.insert(boards)
        });
        let worth = |sets: &Sets| (sets.iter().map(|set| search.volume(*set)).sum::<u64>(), Reverse(sets.len()));
        let mut all: Vec<_> = divisions.iter().map(worth).collect();
        all.sort_by_key(|one| Reverse(*one));
        all
    }

    #[test]
    fn every_division_tried_gives_the_same_best_few() {
        for seed in 0..12 {
            let stock = stock(3 + seed % 6, seed as u64);
            let found = divided(&stock, &WANTED, &mut || true).unwrap();
            assert!(found.proven);
            let ours: Vec<_> = found.proposals.iter().map(|p| (p.volume, Reverse(p.boards.len()))).collect();
            let all = every(&stock);
            assert_eq!(ours, all[..all.len().min(WANTED.few)], "{seed}");
        }
    }

    #[test]
    fn blanks_that_are_alike_make_no_more_proposals() {
        for seed in 0..12 {
            let mut stock = stock(4, 100 + seed);
            for i in 0..3 {
                stock.insert(i, stock[(i + seed as usize) % stock.len()]);
            }
            let found = divided(&stock, &WANTED, &mut || true).unwrap();
            let ours: Vec<_> = found.proposals.iter().map(|p| (p.volume, Reverse(p.boards.len()))).collect();
            let all = every(&stock);
            assert_eq!(ours, all[..all.len().min(WANTED.few)], "{seed}");
        }
    }

    #[test]
    fn what_is_not_proven_stays_between_the_best_and_its_bound() {
        for seed in 0..6 {
            let twelve = stock(12, seed);
            let search = Search { stock: &twelve, wanted: &WANTED };
            let best = divided(&twelve, &WANTED, &mut || true).unwrap().proposals[0].volume;
            let sets = search.by_changes(&mut || true);
            let changed = sets[0].iter().map(|set| search.volume(*set)).sum::<u64>();
            assert!(changed <= best && best <= search.bound());
            assert!(changed as f64 >= 0.9 * best as f64, "{seed}: {changed} of {best}");
        }
        let many = divided(&stock(40, 1), &WANTED, &mut || true).unwrap();
        assert!(!many.proven && many.proposals[0].volume <= many.bound);
        assert_eq!(many, divided(&stock(40, 1), &WANTED, &mut || true).unwrap(), "the same again");
        for p in &many.proposals {
            let mut all: Vec<usize> = p.boards.iter().flat_map(|b| b.blanks.clone()).chain(p.left.clone()).collect();
            all.sort_unstable();
            assert_eq!(all, (0..40).collect::<Vec<_>>(), "every blank once");
        }
        let stopped = divided(&stock(12, 1), &WANTED, &mut || false).unwrap();
        assert!(!stopped.proven && !stopped.proposals.is_empty());
    }

    #[test]
    fn what_is_no_stock_is_refused() {
        let one = InStock { width: 50.0, thickness: 25.0, length: 500.0, lightness: 50.0 };
        assert_eq!(divided(&[], &WANTED, &mut || true), Err(BoardsError::Blanks(0)));
        assert_eq!(divided(&[one; 61], &WANTED, &mut || true), Err(BoardsError::Blanks(61)));
        for width in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let wrong = InStock { width, ..one };
            assert_eq!(divided(&[wrong], &WANTED, &mut || true), Err(BoardsError::Sizes));
        }
        let wrong = BoardsWanted { strip: 0.0, ..WANTED };
        assert_eq!(divided(&[one], &wrong, &mut || true), Err(BoardsError::Sizes));
        let none = divided(&[one], &WANTED, &mut || true).unwrap();
        assert_eq!((none.proposals.len(), none.proposals[0].volume, none.proposals[0].left.len()), (1, 0, 1));
    }
}
