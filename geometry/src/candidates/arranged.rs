//! The blanks of a job's panels laid otherwise, so that the figure suits the strips better: found together with the
//! strips' turns, before the sheet is made of the panels that follow.
//!
//! Knows jobs and the search; nothing of plans' text.

use super::bench::{Bench, NoBench};
use super::slides::Slides;
use super::wishes::{Aim, Measured, Wishes};
use crate::job::Job;
use crate::search::{
    Freely, MOST_BLANKS_PROVEN, Order, Stock, TogetherTried, TogetherWanted, Weights, together, together_freely,
};
use crate::stock::{BlankTurn, HalfTurn, LaidBlank};

/// What is asked of the blanks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BlanksWanted {
    /// Those that keep their place, by panel and place in it, from 0.
    pub stay: Vec<(usize, usize)>,
    /// By panel and place, the first place of a blank of the same letter.
    pub copies: Vec<Vec<usize>>,
}

/// A panel laid otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelArranged {
    /// The panel's name.
    pub name: String,
    /// From x = 0: the blank's place as planned, and how it lies.
    pub blanks: Vec<(usize, BlankTurn)>,
    /// The same in words.
    pub how: String,
}

/// Panels laid otherwise, and what is proven of them.
#[derive(Clone, Debug)]
pub struct Arranged {
    /// The job with the blanks laid so.
    pub job: Job,
    /// Its panels.
    pub panels: Vec<PanelArranged>,
    /// By which measure.
    pub measure: Measured,
    /// What was found.
    pub tried: TogetherTried,
    /// How many blanks there are in all panels.
    pub blanks: usize,
    /// The best found with the strips in any order, where that is asked for.
    pub freely: Option<Freely>,
    /// Whether strips are to be slid: the blanks are searched for as if none were.
    pub slid: bool,
}

/// About how wide a cell is, mm (our own choice).
const CELL: f64 = 3.0;
/// So many arrangements are tried with the strips in any order (our own choice: each takes some tenths of a second).
const FREELY: usize = 4;

impl Arranged {
    /// The best order and turns of the blanks in every panel, by the first aim's sum over glue lines, with the strips
    /// in the order in which they were cut: proven for up to [`MOST_BLANKS_PROVEN`] blanks unless it is stopped. Where
    /// strips may change places, of the best few of those the one that is best with the strips in any order, with a
    /// bound.
    ///
    /// # Errors
    /// [`NoBench`] where there are no strips, or a panel is glued already.
    pub fn of(
        job: &Job,
        wishes: &Wishes,
        wanted: &BlanksWanted,
        keep_going: &mut dyn FnMut(&str) -> bool,
    ) -> Result<Self, NoBench> {
        let outcome = job.work();
        let bench = Bench::new(job, &outcome, wishes)?;
        if let Some((panel, _)) = bench.panels.iter().find(|(panel, _)| panel.measured.is_some()) {
            let why = format!("panel {} is glued already: it was measured, and its blanks lie as they lie", panel.name);
            return Err(NoBench::NotCompared(why));
        }
        let (measure, weights) = match wishes.aims.first() {
            Some(Aim::Contrast) => (Measured::Contrast, Weights::CONTRAST),
            _ => (Measured::RunsOn, wishes.runs_on),
        };
        let strips = &bench.strips[..bench.count];
        let stock = Stock { panels: &bench.panels, strips, slides: &[], width: bench.width, trims: bench.trims };
        let freely = wishes.order == Order::Free;
        let asked = TogetherWanted {
            weights,
            faces: wishes.faces,
            cell: CELL,
            stay: wanted.stay.clone(),
            copies: wanted.copies.clone(),
            few: if freely { FREELY } else { 1 },
        };
        let mut going = |best: u64, looked_at: u64| {
            let best = if best == u64::MAX { 0 } else { best / 1_000_000 };
            keep_going(&format!("laying the blanks otherwise: best so far {best}, {} thousand tried", looked_at / 1000))
        };
        let found = match freely {
            true => together_freely(&stock, &asked, &mut going),
            false => together(&stock, &asked, &mut going).map(|tried| (tried, None)),
        };
        let (tried, freely) = found.map_err(|e| NoBench::NotCompared(e.to_string()))?;
        let best = freely.as_ref().map(|f| &f.panels).or_else(|| tried.found.first().map(|f| &f.panels));
        let best = best.ok_or_else(|| NoBench::NotCompared("no blanks were laid".to_owned()))?.clone();
        let mut arranged = job.clone();
        let mut panels = Vec::new();
        for (panel, laid) in arranged.panels.iter_mut().zip(&best) {
            let planned = std::mem::take(&mut panel.blanks);
            panel.blanks = laid.iter().map(|l| LaidBlank { turn: l.turn(), ..planned[l.blank].clone() }).collect();
            let blanks = laid.iter().map(|l| (l.blank, l.turn())).collect();
            let how: Vec<String> = panel.blanks.iter().map(in_words).collect();
            panels.push(PanelArranged { name: panel.name.clone(), blanks, how: how.join(", ") });
        }
        let blanks = panels.iter().map(|p| p.blanks.len()).sum();
        let slid = bench.slides.iter().any(Slides::are_unlike);
        Ok(Self { job: arranged, panels, measure, tried, blanks, freely, slid })
    }

    /// Whether nothing is laid otherwise than this job has it.
    #[must_use]
    pub fn is_as_planned(&self, job: &Job) -> bool {
        let same = |(a, b): (&LaidBlank, &LaidBlank)| a.blank.letter == b.blank.letter && a.turn == b.turn;
        self.job.panels.iter().zip(&job.panels).all(|(a, b)| a.blanks.iter().zip(&b.blanks).all(same))
    }

    /// How the blanks are laid and what is proven, in words.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let tried = &self.tried;
        let mut notes: Vec<String> = self
            .panels
            .iter()
            .map(|p| format!("Before the first glue-up panel {} is laid: {}.", p.name, p.how))
            .collect();
        if self.slid {
            notes.push("The blanks were searched for as if no strip were slid.".to_owned());
        }
        let what = self.measure.name();
        if let Some(freely) = &self.freely {
            notes.push(format!(
                "Blanks not proven by \u{201c}{what}\u{201d} with the strips in any order: of the best arrangements this is the \
                 best found; better ones may be there, by {:.0} % at most.",
                100.0 * freely.gap()
            ));
            return notes;
        }
        let best = tried.found.first().map_or(tried.planned, |best| best.cost);
        let less = 100.0 * (tried.planned - best) as f64 / tried.planned.max(1) as f64;
        notes.push(if tried.is_proven() {
            format!(
                "Proven by \u{201c}{what}\u{201d}: with the strips in the order in which they were cut, no order and turns \
                 of the blanks that were asked for are better; {less:.1} % better than as planned."
            )
        } else {
            let more = match self.blanks > MOST_BLANKS_PROVEN {
                true => format!(" (up to {MOST_BLANKS_PROVEN} blanks it is proven)"),
                false => String::new(),
            };
            format!(
                "Blanks not proven by \u{201c}{what}\u{201d}{more}: better ones may be there, by {:.1} % at most, with \
                 the strips in the order in which they were cut; {less:.1} % better than as planned.",
                100.0 * tried.gap()
            )
        });
        notes
    }
}

fn in_words(laid: &LaidBlank) -> String {
    let letter = &laid.blank.letter;
    match (laid.turn.quarter_roll, laid.turn.half) {
        (false, HalfTurn::Rest) => letter.clone(),
        (false, half) => format!("{letter} {}", half.name()),
        (true, HalfTurn::Rest) => format!("{letter} a quarter roll"),
        (true, half) => format!("{letter} a quarter roll and {}", half.name()),
    }
}
