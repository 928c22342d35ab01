//! What stands on the sheet: looked at, ranked, and put in words.

use super::bench::Bench;
use super::sheet::{Candidate, Centred, MEASURED, Proof, Rank, Tried};
use super::slides::LaidUp;
use super::ties::Drawn;
use super::view::Views;
use super::wishes::Measured;
use super::words::{self, how_laid};
use crate::check::{Finding, can_be_made, findings};
use crate::job::{Job, LayupAsked};
use crate::layup::{Asked, Place};
use crate::measure::{Rest, Rounding};
use crate::search::Laid;
use crate::search::whole::{CutFaces, Looks};

/// One that stands on the sheet.
pub(super) struct Shown<'a> {
    pub(super) tried: &'a Tried,
    length: f64,
    looks: Looks,
    figures: String,
}

impl<'a> Shown<'a> {
    /// How it looks, from the cut faces of its set; nothing where the trims leave none.
    ///
    /// # Errors
    /// What keeps it from being made.
    pub(super) fn of(
        job: &Job,
        bench: &Bench,
        tried: &'a Tried,
        faces: &CutFaces,
    ) -> Result<Option<Self>, Vec<Finding>> {
        let length = length(job, bench.places(&tried.lay))?;
        let laid = &tried.lay.laid;
        Ok(faces.lay(laid).map(|map| {
            let looks = faces.looks_of(laid, &map, &map.view());
            let figures = map.figures(0).map(|figures| words::figures(&figures)).unwrap_or_default();
            Self { tried, length, looks, figures }
        }))
    }

    fn value(&self, measure: Measured) -> Option<u64> {
        let [runs_on, _, _, contrast] = self.tried.values;
        value(measure, [runs_on, contrast], &self.looks)
    }
}

/// The finished board's length; what keeps it from being made.
fn length(job: &Job, places: Vec<Place>) -> Result<f64, Vec<Finding>> {
    let layup = LayupAsked { asked: Asked::Places(places), mirror_pairs: false };
    let job = Job { layup, ..job.clone() };
    let outcome = job.work();
    let found = findings(&job, &outcome);
    match outcome.board {
        Ok(board) if can_be_made(&found) => Ok(board.finished().length),
        _ => Err(found),
    }
}

/// A [`Rank::value`], from how the figure runs on and the contrast, each for each glue line, and the looks.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub(super) fn value(measure: Measured, [runs_on, contrast]: [u64; 2], looks: &Looks) -> Option<u64> {
    let millionths = |value: f64| (value * 1e6).round().max(0.0) as u64;
    let lacks = |share: f64| (share > 0.0).then(|| millionths(1.0 - share));
    match measure {
        Measured::RunsOn => Some(runs_on),
        Measured::LeftToRight => lacks(looks.left_right),
        Measured::FrontToBack => lacks(looks.front_back),
        Measured::Evenness => lacks(looks.evenness),
        Measured::Closes => looks.misses.map(millionths),
        Measured::Contrast => Some(contrast),
    }
}

pub(super) struct Described<'a> {
    job: &'a Job,
    bench: &'a Bench,
    views: &'a Views,
    proofs: &'a [Proof],
}

impl Described<'_> {
    /// All that stand on the sheet, in this order.
    pub(super) fn all(
        job: &Job,
        bench: &Bench,
        views: &Views,
        proofs: &[Proof],
        shown: &[Shown<'_>],
        drawn: &Drawn,
    ) -> Vec<Candidate> {
        let described = Described { job, bench, views, proofs };
        let ranks = described.ranked(shown, drawn);
        shown.iter().zip(ranks).map(|(one, ranks)| described.candidate(one, ranks)).collect()
    }

    fn candidate(&self, one: &Shown<'_>, ranks: [Rank; MEASURED]) -> Candidate {
        let lay = &one.tried.lay;
        let is_own = |own: &LaidUp| self.bench.board(own) == self.bench.board(lay);
        Candidate {
            places: self.bench.places(lay),
            laid: lay.clone(),
            kind: one.tried.kind().clone(),
            how: how_laid(self.bench, lay, &self.job.rule),
            ranks,
            looks: one.looks,
            figures: one.figures.clone(),
            faults: words::faults(&one.looks, &self.job.rule),
            planned: self.bench.planned.as_ref().is_some_and(is_own),
            length: one.length,
            length_shown: self.shown(one.length),
            centred: self.centred(lay, one.length),
        }
    }

    fn shown(&self, mm: f64) -> String {
        self.job.rule.show(mm, Rounding::Nearest, Rest::Told)
    }

    /// By the face's own mirror line. Strips of unlike thickness have no half strips to go by: then it isn't said.
    fn centred(&self, lay: &LaidUp, length: f64) -> Option<Centred> {
        let thick = |l: &Laid| self.bench.panels[self.bench.strips[l.strip].0].0.thickness();
        let first = lay.laid.first().map(thick)?;
        if lay.laid.iter().any(|l| thick(l) != first) {
            return None;
        }
        let away = self.views.of(lay).mirror_line() as f64 * first.mm() / 2.0;
        // From the middle of the glued board to that of what the trims leave.
        let trims = (self.bench.trims.left - self.bench.trims.right) / 2.0;
        let off = 2.0 * (away - trims).abs();
        (away != 0.0 && off < length / 2.0).then(|| Centred {
            length: length - off,
            length_shown: self.shown(length - off),
            off,
            off_shown: self.shown(off),
            off_left: away > trims,
        })
    }

    /// Where each stands by each measure.
    fn ranked(&self, shown: &[Shown<'_>], drawn: &Drawn) -> Vec<[Rank; MEASURED]> {
        let rank = |one| Measured::ALL.map(|measure| self.rank(one, shown, measure));
        let mut ranks: Vec<[Rank; MEASURED]> = shown.iter().map(rank).collect();
        for measure in 0..MEASURED {
            let leads = |of: &[Rank; MEASURED]| of[measure].place == 1 && of[measure].value.is_some();
            let Some(leader) = ranks.iter().position(leads) else { continue };
            for (i, (of, tied)) in ranks.iter_mut().zip(drawn.tied(measure, leader)).enumerate() {
                of[measure].tied = tied && i != leader && of[measure].value.is_some();
            }
        }
        ranks
    }

    fn rank(&self, one: &Shown<'_>, shown: &[Shown<'_>], measure: Measured) -> Rank {
        let value = one.value(measure);
        let count = one.tried.lay.laid.len();
        let lines = count.saturating_sub(1).max(1) as u64;
        let proof = self.proofs.iter().find(|p| p.measure == measure && p.is_proven());
        let better = |other: &&Shown<'_>| matches!((other.value(measure), value), (Some(a), Some(b)) if a < b);
        Rank {
            place: 1 + shown.iter().filter(better).count(),
            tied: false,
            sharing: shown.iter().filter(|other| other.value(measure) == value).count(),
            proven: proof.is_some_and(|p| count == self.bench.count && value == Some(p.best * 1000 / lines)),
            value,
        }
    }
}
