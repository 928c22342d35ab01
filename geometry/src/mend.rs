//! What now: a strip chipped, a glue line open, a board that came out short or rocks; planned again from what was
//! measured, with what each way out costs.
//!
//! Knows jobs and what follows from them; chooses nothing.

use crate::board::Board;
use crate::job::{Job, Outcome};
use crate::measure::Length;

/// What went wrong, as the maker entered it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mishap {
    /// The strip in this place is chipped.
    Chipped(usize),
    /// The glue line to the right of this place is open.
    Open(usize),
    /// The board is shorter than the plan asks for.
    Short,
}

/// A way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WayOut {
    /// The strip is left out.
    LeaveOut,
    /// It and the other strip of its mirror pair are left out, so that every figure stays whole.
    LeavePairOut(usize),
    /// A strip that was left out takes the place: its panel and its number from 0.
    Spare(usize, i64),
    /// The panel still gives another strip.
    CutAnother(usize),
    /// The board is ripped along the line, both faces are trued, and it is glued again.
    Reglue,
    /// So many more strips of this panel would reach the length.
    MoreStrips(usize, i64),
}

/// One way out of one mishap, and what it costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mended {
    /// What went wrong.
    pub mishap: Mishap,
    /// The way out.
    pub way: WayOut,
    /// What it costs of the board's length, mm; below 0 it gains.
    pub costs: f64,
    /// The finished length then, mm.
    pub length: f64,
}

/// Every way out that a job has, of what was entered as gone wrong.
#[must_use]
pub fn ways_out(job: &Job, outcome: &Outcome) -> Vec<Mended> {
    let Ok(board) = &outcome.board else { return Vec::new() };
    let mut all = Vec::new();
    let last = board.strips().len().saturating_sub(1);
    for place in job.measured.chipped.iter().copied().filter(|p| *p <= last) {
        all.extend(chipped(job, outcome, board, place));
    }
    for place in job.measured.open.iter().copied().filter(|p| *p < last) {
        all.push(mended(board, Mishap::Open(place), WayOut::Reglue, reglue(job).mm()));
    }
    all.extend(short(job, outcome, board));
    all
}

fn mended(board: &Board, mishap: Mishap, way: WayOut, costs: f64) -> Mended {
    Mended { mishap, way, costs, length: board.finished().length - costs }
}

/// What ripping a glue line open and gluing it again takes off the length: the kerf, and one pass of the jointer off
/// each of the two faces.
#[must_use]
pub fn reglue(job: &Job) -> Length {
    job.saw.kerf + job.machines.jointer.pass * 2
}

fn thick(board: &Board, place: usize) -> f64 {
    board.strips().get(place).map_or(0.0, |s| s.slab.thickness)
}

fn chipped(job: &Job, outcome: &Outcome, board: &Board, place: usize) -> Vec<Mended> {
    let mishap = Mishap::Chipped(place);
    let mut ways = vec![mended(board, mishap, WayOut::LeaveOut, thick(board, place))];
    let other = place ^ 1;
    if job.layup.mirror_pairs && other < board.strips().len() {
        ways.push(mended(board, mishap, WayOut::LeavePairOut(other), thick(board, place) + thick(board, other)));
    }
    let Some(panel) = board.strips().get(place).map(|s| s.place.panel) else { return ways };
    ways.extend(spares(outcome, panel).map(|strip| mended(board, mishap, WayOut::Spare(panel, strip), 0.0)));
    if gives_another(outcome, panel) > 0 {
        ways.push(mended(board, mishap, WayOut::CutAnother(panel), 0.0));
    }
    ways
}

/// Strips of a panel that were cut and are not laid.
fn spares(outcome: &Outcome, panel: usize) -> impl Iterator<Item = i64> {
    let cut = outcome.panels.get(panel).map_or(0, |from| from.cut);
    (0..cut).filter(move |k| !outcome.places.iter().any(|p| p.panel == panel && p.strip == *k))
}

/// How many more strips of the width a panel still gives.
fn gives_another(outcome: &Outcome, panel: usize) -> i64 {
    outcome.panels.get(panel).map_or(0, |from| from.crosscut.count(outcome.width) - from.cut).max(0)
}

fn short(job: &Job, outcome: &Outcome, board: &Board) -> Vec<Mended> {
    let Some(least) = job.finishing.least_length else { return Vec::new() };
    let missing = least.mm() - board.finished().length;
    if missing <= 1e-6 {
        return Vec::new();
    }
    let ways = outcome.panels.iter().enumerate().filter_map(|(panel, from)| {
        let each = from.panel.thickness().mm();
        #[allow(clippy::cast_possible_truncation)]
        let strips = (missing / each - 1e-9).ceil() as i64;
        let there = i64::try_from(spares(outcome, panel).count()).unwrap_or(i64::MAX) + gives_another(outcome, panel);
        (strips <= there)
            .then(|| mended(board, Mishap::Short, WayOut::MoreStrips(panel, strips), -each * strips as f64))
    });
    ways.collect()
}

/// What must come off each face of a board that rocks.
///
/// With three corners on a flat table and a gap r under the fourth, the corners of a twisted face lie r/4 above and
/// below the plane that fits them best: flat is r/2 under the highest, on each face.
///
/// ```
/// use quarterturn_geometry::mend::flattens;
/// use quarterturn_geometry::measure::{Length, Unit};
/// let inch = |s| Length::parse(s, Unit::Inch).unwrap();
/// assert_eq!(flattens(inch("1/8")), inch("1/16"));
/// ```
#[must_use]
pub fn flattens(rock: Length) -> Length {
    rock.divided_by(2)
}

/// The thickness that a board which rocks comes out with, mm: no less off each face than as planned.
#[must_use]
pub fn thickness_with_rock(job: &Job, outcome: &Outcome, rock: Length) -> f64 {
    let off = |planned: Length| planned.max(flattens(rock));
    (outcome.width - off(job.finishing.upper) - off(job.finishing.lower)).mm()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The plane that fits four corners best, one of them r too high, misses each by r/4: found by trying others.
        #[test]
        fn no_plane_takes_less_than_half_the_rock(um in 100i64..10_000, a in -5.0..5.0f64, b in -5.0..5.0f64) {
            let rock = Length::from_micrometres(um);
            let (r, half) = (rock.mm(), flattens(rock).mm());
            // Off a plane a·x + b·y the corners (0,0), (1,0), (0,1), (1,1) lie 0, −a, −b, r − a − b; flat is from the
            // highest to the lowest of them.
            let off = [0.0, -a, -b, r - a - b];
            let high = off.into_iter().fold(f64::NEG_INFINITY, f64::max);
            let low = off.into_iter().fold(f64::INFINITY, f64::min);
            prop_assert!(high - low >= half - 1e-9);
            // And one does: that half-way up along both sides.
            let best = [0.0, -r / 2.0, -r / 2.0, r - r / 2.0 - r / 2.0];
            prop_assert!(best.iter().all(|x| *x <= 1e-12 && *x >= -half - 1e-6));
        }
    }
}
