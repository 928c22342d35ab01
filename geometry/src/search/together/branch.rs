//! Blanks laid from both edges inward, the cheapest first: proven, or stopped with a bound.

use super::cells::{Cells, OfPanel};
use super::meet::{Meetings, Stretch, Table, best, least};
use super::{BlankLaid, Together, TogetherTried, TogetherWanted};
use crate::layup::Turn;

/// A cell of a panel's side: of which blank, turned how, and which of its cells.
#[derive(Clone, Copy)]
struct Spot {
    blank: usize,
    turn: u8,
    cell: usize,
}

/// A panel while blanks are laid in it.
#[derive(Clone, Default)]
struct Side {
    /// From x = 0 on, and from the other edge back.
    spots: [Vec<Spot>; 2],
    /// The blanks laid from either edge.
    laid: [Vec<BlankLaid>; 2],
}

/// Where the next blank is laid: in which panel, from which edge, and which place that is.
#[derive(Clone, Copy)]
struct Slot {
    panel: usize,
    edge: usize,
    place: usize,
}

/// What two sides have met so far: the left and the right strip's panel and edge, and how many cells are counted.
#[derive(Clone)]
struct Met {
    panels: [usize; 2],
    edges: [usize; 2],
    same: bool,
    most: usize,
    counted: usize,
}

/// Some blanks laid, and what the glue lines come to so far.
#[derive(Clone)]
struct State {
    sides: Vec<Side>,
    met: Vec<Met>,
    table: Table,
}

struct Branch<'a, 'k> {
    cells: &'a Cells,
    meetings: Meetings<'a>,
    slots: Vec<Slot>,
    few: usize,
    found: Vec<Together>,
    /// The least that what was left unseen may come to.
    unseen: u64,
    looked_at: u64,
    stopped: bool,
    keep_going: &'k mut dyn FnMut(u64, u64) -> bool,
}

/// The best few arrangements.
pub(super) fn search(
    cells: &Cells,
    wanted: &TogetherWanted,
    keep_going: &mut dyn FnMut(u64, u64) -> bool,
) -> TogetherTried {
    let mut branch = Branch {
        cells,
        meetings: Meetings::new(cells, wanted.weights),
        slots: slots(cells),
        few: wanted.few.max(1),
        found: Vec::new(),
        unseen: u64::MAX,
        looked_at: 0,
        stopped: false,
        keep_going,
    };
    let planned: Vec<Vec<BlankLaid>> = cells
        .panels
        .iter()
        .map(|of| of.blanks.iter().enumerate().map(|(blank, b)| BlankLaid { blank, turn: b.planned }).collect())
        .collect();
    let as_planned = branch.weighed(&planned);
    branch.changed(planned, as_planned);
    let start = State::new(cells);
    branch.on(&start, 0, 0);
    let best = branch.found.first().map_or(0, |found| found.cost);
    TogetherTried {
        bound: branch.unseen.min(best),
        found: branch.found,
        planned: as_planned,
        looked_at: branch.looked_at,
    }
}

/// Both edges of every panel by turns, inward.
fn slots(cells: &Cells) -> Vec<Slot> {
    let most = cells.panels.iter().map(|of| of.blanks.len()).max().unwrap_or(0);
    let mut slots = Vec::new();
    for round in 0..most.div_ceil(2) {
        for (panel, of) in cells.panels.iter().enumerate() {
            let last = of.blanks.len().wrapping_sub(1 + round);
            if 2 * round < of.blanks.len() {
                slots.push(Slot { panel, edge: 0, place: round });
            }
            if 2 * round + 1 < of.blanks.len() {
                slots.push(Slot { panel, edge: 1, place: last });
            }
        }
    }
    slots
}

impl Side {
    /// The blanks laid, each with its place, of so many.
    fn placed(&self, count: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        let front = self.laid[0].iter().enumerate().map(|(i, laid)| (laid.blank, i));
        front.chain(self.laid[1].iter().enumerate().map(move |(i, laid)| (laid.blank, count - 1 - i)))
    }
}

/// The same with copies of one letter in the order in which they are mentioned, every place turned as it was.
fn in_order(of: &OfPanel, mut laid: Vec<BlankLaid>) -> Vec<BlankLaid> {
    let mut used = vec![false; of.blanks.len()];
    for one in &mut laid {
        let first = of.blanks[one.blank].copy_of;
        let next = (0..used.len()).find(|i| !used[*i] && of.blanks[*i].copy_of == first).unwrap_or(one.blank);
        used[next] = true;
        one.blank = next;
    }
    laid
}

impl State {
    fn new(cells: &Cells) -> Self {
        let mut met: Vec<Met> = Vec::new();
        let (low, high) = (cells.across / 2, cells.across.div_ceil(2));
        for pair in cells.strips.windows(2) {
            let panels = [pair[0].0, pair[1].0];
            if met.iter().any(|met| met.panels == panels) {
                continue;
            }
            // The cell in the middle, where there is one, is counted from the edge at x = 0.
            for (edges, same, most) in
                [([0, 0], true, high), ([1, 1], true, low), ([0, 1], false, high), ([1, 0], false, low)]
            {
                met.push(Met { panels, edges, same, most, counted: cells.trimmed });
            }
        }
        let sides = vec![Side::default(); cells.panels.len()];
        Self { sides, met, table: vec![[0; 16]; cells.strips.len() - 1] }
    }

    /// The same with one blank more.
    fn with(&self, meetings: &mut Meetings<'_>, slot: Slot, laid: BlankLaid) -> Self {
        let mut state = self.clone();
        let cells = meetings.cells;
        let of = &cells.panels[slot.panel];
        let side = &mut state.sides[slot.panel];
        let count = of.blanks[laid.blank].cells;
        let trued = if side.laid[slot.edge].is_empty() { of.trued[slot.edge] } else { 0 };
        let spot = |cell| Spot { blank: laid.blank, turn: laid.turn, cell };
        if slot.edge == 0 {
            side.spots[0].extend((trued..count).map(spot));
        } else {
            side.spots[1].extend((0..count - trued).rev().map(spot));
        }
        side.laid[slot.edge].push(laid);
        if side.laid.iter().map(Vec::len).sum::<usize>() == of.blanks.len() {
            let mut all = side.spots[0].clone();
            all.extend(side.spots[1].iter().rev());
            all.truncate(cells.across);
            side.spots = [all.clone(), all.into_iter().rev().collect()];
        }
        state.meet(meetings, slot.panel);
        state
    }

    /// Counts what can be counted now that something was laid in this panel.
    fn meet(&mut self, meetings: &mut Meetings<'_>, panel: usize) {
        for met in self.met.iter_mut().filter(|met| met.panels.contains(&panel)) {
            let [left, right] = [0, 1].map(|i| &self.sides[met.panels[i]].spots[met.edges[i]]);
            let until = met.most.min(left.len()).min(right.len());
            while met.counted < until {
                let at = met.counted;
                let one = |spot: Spot, i: usize| Stretch {
                    panel: met.panels[i],
                    blank: spot.blank,
                    turn: spot.turn,
                    from: spot.cell,
                    back: met.edges[i] == 1,
                };
                let goes_on = |i: &usize| left[*i].blank == left[at].blank && right[*i].blank == right[at].blank;
                let count = (at..until).take_while(goes_on).count();
                let table = meetings.table(one(left[at], 0), one(right[at], 1), count, met.same);
                for (sum, more) in self.table.iter_mut().zip(table.iter()) {
                    sum.iter_mut().zip(more).for_each(|(sum, more)| *sum += more);
                }
                met.counted += count;
            }
        }
    }

    fn panels(&self) -> Vec<Vec<BlankLaid>> {
        self.sides.iter().map(|s| s.laid[0].iter().chain(s.laid[1].iter().rev()).copied().collect()).collect()
    }
}

impl Branch<'_, '_> {
    /// What an arrangement costs with the best turns; it is remembered if it is among the best few.
    fn weighed(&mut self, panels: &[Vec<BlankLaid>]) -> u64 {
        let mut state = State::new(self.cells);
        for slot in self.slots.clone() {
            state = state.with(&mut self.meetings, slot, panels[slot.panel][slot.place]);
        }
        self.take(&state)
    }

    fn take(&mut self, state: &State) -> u64 {
        let cost = least(&state.table);
        self.looked_at += 1;
        if cost < self.enough() {
            let (cost, turns) = best(&state.table);
            let found = self.first(Together { panels: state.panels(), turns, cost });
            if self.found.iter().all(|other| other.panels != found.panels) {
                let at = self.found.partition_point(|other| other.cost <= cost);
                self.found.insert(at, found);
                self.found.truncate(self.few);
            }
        }
        cost
    }

    /// What costs this or more isn't among the best few.
    fn enough(&self) -> u64 {
        if self.found.len() < self.few { u64::MAX } else { self.found.last().map_or(u64::MAX, |found| found.cost) }
    }

    /// Of arrangements that are the same board the first: each panel the one way round.
    fn first(&self, found: Together) -> Together {
        let mut found = found;
        for (panel, of) in self.cells.panels.iter().enumerate().filter(|(_, of)| of.turns_over) {
            let over = found.panels[panel].iter().rev().map(|l| BlankLaid { turn: l.turn ^ 1, ..*l }).collect();
            let over = in_order(of, over);
            if over < found.panels[panel] {
                for (turn, strip) in found.turns.iter_mut().zip(&self.cells.strips) {
                    *turn = if strip.0 == panel { turn.then(Turn::RolledOver) } else { *turn };
                }
                found.panels[panel] = over;
            }
        }
        found
    }

    /// Two blanks of a panel changed about, or one turned, while that helps.
    fn changed(&mut self, mut panels: Vec<Vec<BlankLaid>>, mut cost: u64) {
        loop {
            let mut better = None;
            for trial in changes(self.cells, &panels) {
                if !self.go() {
                    return;
                }
                let now = self.weighed(&trial);
                if now < better.as_ref().map_or(cost, |(cost, _)| *cost) {
                    better = Some((now, trial));
                }
            }
            let Some((now, trial)) = better else { return };
            (cost, panels) = (now, trial);
        }
    }

    fn go(&mut self) -> bool {
        let best = self.found.first().map_or(u64::MAX, |found| found.cost);
        self.stopped |= !(self.keep_going)(best, self.looked_at);
        !self.stopped
    }

    /// Lays what may lie in slot `at` and after it; no arrangement from here costs less than `bound`.
    fn on(&mut self, state: &State, at: usize, bound: u64) {
        let Some(slot) = self.slots.get(at).copied() else { return };
        if self.stopped || !self.go() {
            self.unseen = self.unseen.min(bound);
            return;
        }
        let last = at + 1 == self.slots.len();
        let mut next = Vec::new();
        for laid in self.may_lie(state, slot) {
            let with = state.with(&mut self.meetings, slot, laid);
            if last {
                self.take(&with);
            } else {
                self.looked_at += 1;
                next.push((least(&with.table), with));
            }
        }
        next.sort_by_key(|(least, _)| *least);
        for (least, with) in next {
            if least < self.enough() {
                self.on(&with, at + 1, least);
            }
        }
    }

    /// The blanks that may lie in a slot, each in every turn.
    fn may_lie(&self, state: &State, slot: Slot) -> Vec<BlankLaid> {
        let of = &self.cells.panels[slot.panel];
        let side = &state.sides[slot.panel];
        let there = |blank: usize| side.laid.iter().flatten().any(|laid| laid.blank == blank);
        let held = of.blanks.get(slot.place).is_some_and(|blank| blank.stays);
        // A panel that may be turned over is laid the one way round.
        let after = if slot.edge == 1 && side.laid[1].is_empty() && of.turns_over {
            side.laid[0].first().map_or(0, |first| first.blank)
        } else {
            0
        };
        let may = |blank: &usize| {
            let b = &of.blanks[*blank];
            let copies = |(other, place): (usize, usize)| {
                of.blanks[other].copy_of != b.copy_of || (other < *blank) == (place < slot.place)
            };
            let in_order = side.placed(of.blanks.len()).all(copies);
            !there(*blank) && in_order && *blank >= after && if held { *blank == slot.place } else { !b.stays }
        };
        let turned = |blank: usize| of.blanks[blank].turns().map(move |turn| BlankLaid { blank, turn });
        (0..of.blanks.len()).filter(may).flat_map(turned).collect()
    }
}

/// Every change of two blanks of a panel, and every turn of one.
fn changes(cells: &Cells, panels: &[Vec<BlankLaid>]) -> Vec<Vec<Vec<BlankLaid>>> {
    let mut all = Vec::new();
    for (panel, of) in cells.panels.iter().enumerate() {
        let with = |change: &dyn Fn(&mut Vec<BlankLaid>)| {
            let mut trial = panels.to_vec();
            change(&mut trial[panel]);
            trial[panel] = in_order(of, std::mem::take(&mut trial[panel]));
            trial
        };
        let stays = |place: usize| of.blanks[panels[panel][place].blank].stays;
        for a in 0..of.blanks.len() {
            let laid = panels[panel][a];
            let turns = of.blanks[laid.blank].turns().filter(|turn| *turn != laid.turn);
            all.extend(turns.map(|turn| with(&|laid| laid[a].turn = turn)));
            let others = (a + 1..of.blanks.len()).filter(|b| !stays(a) && !stays(*b));
            all.extend(others.map(|b| with(&|laid| laid.swap(a, b))));
        }
    }
    let stay = |laid: &[BlankLaid], of: &OfPanel| (0..laid.len()).all(|i| !of.blanks[i].stays || laid[i].blank == i);
    all.retain(|trial| trial.iter().zip(&cells.panels).all(|(laid, of)| stay(laid, of)));
    all
}
