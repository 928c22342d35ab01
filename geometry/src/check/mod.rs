//! Findings: what can't be made, what wants care, what is worth noting.
//!
//! One table, [`CHECKS`], holds every check: its name, formula, limit, source and what mends it.
//! Each file beside it looks at one thing and makes findings of checks in the table. Where one
//! cause would trip several, the nearest speaks: a check lists those that it gives way to.
//! Judges only; computes nothing that the model doesn't already hold.

mod apart;
mod board;
mod cuts;
mod feeds;
mod handhold;
mod movement;
mod photographs;
mod strips;
mod table;

pub(crate) use board::narrowest_outer;
pub(crate) use cuts::lines;
pub(crate) use handhold::{first_parallel_line, flat_beside, lines_crossed};
pub use table::{CHECKS, Check, check};

use crate::cut::{Cut, Handhold, Which, ordinal};
use crate::job::{Job, Outcome};
use crate::measure::{Length, Rest, Rounding};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// The plan can't be made as it stands.
    CantBeMade,
    /// It can be made, with care.
    TakeCare,
    /// Worth knowing.
    Note,
}

impl Kind {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::CantBeMade => "can't be made",
            Self::TakeCare => "take care",
            Self::Note => "note",
        }
    }
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Subject {
    /// A panel, by its place.
    Panel(usize),
    /// The lay-up or the board.
    Board,
    /// A handhold, by its place.
    Handhold(usize),
    /// Two handholds.
    Handholds(usize, usize),
    /// A cut on a face.
    Cut(Which),
    /// Two cuts, one of them on a face.
    Cuts(Cut, Cut),
}

impl Subject {
    fn overlaps(self, other: Self) -> bool {
        if let (Self::Cut(which), Self::Cuts(a, b)) | (Self::Cuts(a, b), Self::Cut(which)) = (self, other) {
            return [a, b].contains(&Cut::Face(which));
        }
        if let (Self::Handhold(i), Self::Cuts(a, b)) | (Self::Cuts(a, b), Self::Handhold(i)) = (self, other) {
            return [a, b].contains(&Cut::Handhold(i));
        }
        // What is wrong with the whole board is wrong wherever something is cut into it.
        if matches!(
            (self, other),
            (Self::Board, Self::Handhold(_) | Self::Handholds(..) | Self::Cut(_) | Self::Cuts(..))
        ) {
            return true;
        }
        self.handholds().is_some_and(|a| other.handholds().is_some_and(|b| a.iter().any(|h| b.contains(h))))
            || self == other
    }

    fn handholds(self) -> Option<[usize; 2]> {
        match self {
            Self::Handhold(i) => Some([i, i]),
            Self::Handholds(i, j) => Some([i, j]),
            Self::Panel(_) | Self::Board | Self::Cut(_) | Self::Cuts(..) => None,
        }
    }

    /// In words: `panel P`, `board`, `left handhold`, `left and back handholds`.
    #[must_use]
    pub fn name(self, job: &Job) -> String {
        let edge = |i: usize| {
            let Some(hold) = job.handholds.get(i) else { return String::new() };
            let alike = |h: &&Handhold| h.edge == hold.edge;
            let before = job.handholds.iter().take(i).filter(alike).count();
            let alone = job.handholds.iter().filter(alike).count() < 2;
            if alone { hold.edge.name().to_owned() } else { format!("{} {}", ordinal(before), hold.edge.name()) }
        };
        match self {
            Self::Panel(i) => format!("panel {}", job.panels.get(i).map_or("", |p| p.name.as_str())),
            Self::Board => "board".to_owned(),
            Self::Handhold(i) => format!("{} handhold", edge(i)),
            Self::Handholds(i, j) => format!("{} and {} handholds", edge(i), edge(j)),
            Self::Cut(which) => which.name(&job.cuts),
            Self::Cuts(a, b) => format!("{} and {}", cut_name(a, job), cut_name(b, job)),
        }
    }
}

fn cut_name(cut: Cut, job: &Job) -> String {
    match cut {
        Cut::Handhold(i) => Subject::Handhold(i).name(job),
        Cut::Face(which) => which.name(&job.cuts),
        Cut::Level(_) | Cut::Panel(..) | Cut::Outline | Cut::BetweenTabs | Cut::Rim(_) => Subject::Board.name(job),
    }
}

/// One result of a check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The check, by its name in [`CHECKS`].
    pub check: &'static str,
    /// How much it weighs.
    pub kind: Kind,
    /// What it is about.
    pub subject: Subject,
    /// What is so, with the figures, in the maker's units.
    pub says: String,
    /// What mends it, with a figure where there is one; empty where nothing needs mending.
    pub mends: String,
    /// The setting that it turns on here, as the plan's section of its subject calls it, where the check alone doesn't
    /// tell: `along`, `setback`.
    pub turns_on: Option<&'static str>,
}

impl Finding {
    fn turning_on(self, setting: &'static str) -> Self {
        Self { turns_on: Some(setting), ..self }
    }
}

/// All findings of a job, the weightiest first.
#[must_use]
pub fn findings(job: &Job, outcome: &Outcome) -> Vec<Finding> {
    let look = Look { job, outcome };
    let mut all = Vec::new();
    strips::find(&look, &mut all);
    photographs::find(&look, &mut all);
    board::find(&look, &mut all);
    handhold::find(&look, &mut all);
    apart::find(&look, &mut all);
    cuts::find(&look, &mut all);
    feeds::find(&look, &mut all);
    movement::find(&look, &mut all);
    spoken(&all)
}

/// Without those that give way, the weightiest first.
fn spoken(all: &[Finding]) -> Vec<Finding> {
    let mut spoken: Vec<Finding> = all.iter().filter(|f| !gives_way(f, all)).cloned().collect();
    spoken.sort_by_key(|f| f.kind);
    spoken
}

/// Whether any finding stops the board from being made.
#[must_use]
pub fn can_be_made(findings: &[Finding]) -> bool {
    findings.iter().all(|f| f.kind != Kind::CantBeMade)
}

/// A finding gives way only to one that weighs at least as much.
fn gives_way(finding: &Finding, all: &[Finding]) -> bool {
    let to = check(finding.check).map_or(&[][..], |c| c.gives_way_to);
    let weighs = |other: &Finding| other.kind <= finding.kind;
    all.iter().any(|other| to.contains(&other.check) && weighs(other) && other.subject.overlaps(finding.subject))
}

/// What the checks look at, and how they speak of lengths.
struct Look<'a> {
    job: &'a Job,
    outcome: &'a Outcome,
}

impl Look<'_> {
    /// A length that is what it is: nearest, full or bare.
    fn say(&self, mm: f64) -> String {
        self.job.rule.show(mm, Rounding::Nearest, Rest::Told)
    }

    /// A length that must not be said larger than it is.
    fn at_most(&self, mm: f64) -> String {
        self.job.rule.show(mm, Rounding::Down, Rest::Dropped)
    }

    /// A length that must not be said smaller than it is.
    fn at_least(&self, mm: f64) -> String {
        self.job.rule.show(mm, Rounding::Up, Rest::Dropped)
    }

    /// A length too small for a rule.
    fn hair(&self, mm: f64) -> String {
        self.job.rule.hair(mm)
    }

    /// Whether the strips of a panel were counted.
    fn counted(&self, panel: usize) -> bool {
        self.job.measured.strips.get(panel).copied().flatten().is_some()
    }

    fn limit(&self, limit: Length) -> String {
        self.say(limit.mm())
    }
}

fn found(check: &'static str, kind: Kind, subject: Subject, says: String, mends: String) -> Finding {
    Finding { check, kind, subject, says, mends, turns_on: None }
}

/// Below this two lengths are alike, mm: far under any mark of a rule, far over a float's rounding.
const ALIKE: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_name_is_there_once_and_every_name_given_way_to_exists() {
        let names: HashSet<_> = CHECKS.iter().map(|c| c.name).collect();
        assert_eq!(names.len(), CHECKS.len());
        for c in &CHECKS {
            assert!(c.gives_way_to.iter().all(|n| names.contains(n)), "{}", c.name);
            assert!(!c.kinds.is_empty() && !c.formula.is_empty() && !c.mends.is_empty());
        }
    }
}
