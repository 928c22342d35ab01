//! How long each stage takes the maker at the bench: hands-on time, without what glue and oil take by themselves.

use crate::glue::{GlueUp, Minutes};
use crate::job::{Job, Outcome};

/// How fast the maker works. The defaults are common practice, no source: one's own times are better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Choosing, reading and lettering one blank.
    pub choose: Minutes,
    /// Jointing, ripping and planing one blank.
    pub mill: Minutes,
    /// Setting up one glue-up: clamps, cauls, dry fit.
    pub glue_up: Minutes,
    /// Flattening and squaring one panel.
    pub panel: Minutes,
    /// Setting up the saw, with a trial strip.
    pub saw: Minutes,
    /// One crosscut.
    pub cut: Minutes,
    /// Turning, numbering and ordering one strip.
    pub strip: Minutes,
    /// One pass over a face of the board.
    pub flatten: Minutes,
    /// Trimming the board to size.
    pub trim: Minutes,
    /// One handhold, groove or other cut, with its set-up.
    pub recess: Minutes,
    /// One grit over the whole board.
    pub sand: Minutes,
    /// One coat.
    pub coat: Minutes,
}

impl Default for Pace {
    fn default() -> Self {
        let m = Minutes;
        Self {
            choose: m(3.0),
            mill: m(6.0),
            glue_up: m(15.0),
            panel: m(20.0),
            saw: m(20.0),
            cut: m(1.5),
            strip: m(1.0),
            flatten: m(1.5),
            trim: m(15.0),
            recess: m(20.0),
            sand: m(10.0),
            coat: m(10.0),
        }
    }
}

/// A stage of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Work {
    /// Choosing and lettering the blanks.
    Choosing,
    /// Milling them.
    Milling,
    /// The first glue-up, all panels.
    FirstGlueUp,
    /// Flattening and squaring the panels.
    Squaring,
    /// Crosscutting.
    Sawing,
    /// Turning and ordering the strips.
    LayingUp,
    /// The second glue-up.
    SecondGlueUp,
    /// Flattening the board.
    Flattening,
    /// Trimming it.
    Trimming,
    /// Handholds, grooves and other cuts.
    Cutting,
    /// Sanding.
    Sanding,
    /// Oil and wax.
    Finishing,
}

impl Work {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Choosing => "choose and letter",
            Self::Milling => "mill",
            Self::FirstGlueUp => "first glue-up",
            Self::Squaring => "flatten and square the panel",
            Self::Sawing => "crosscut",
            Self::LayingUp => "lay up",
            Self::SecondGlueUp => "second glue-up",
            Self::Flattening => "flatten",
            Self::Trimming => "trim",
            Self::Cutting => "handholds and cuts",
            Self::Sanding => "sand",
            Self::Finishing => "finish",
        }
    }
}

/// Hands-on time by stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Spent {
    /// Each stage and its time; a stage that the plan doesn't need is not there.
    pub stages: Vec<(Work, Minutes)>,
}

impl Spent {
    /// Of a job and its board; `None` where there is no board.
    #[must_use]
    pub fn of(job: &Job, outcome: &Outcome) -> Option<Self> {
        let board = outcome.board.as_ref().ok()?;
        let (pace, gluing) = (&job.pace, &job.gluing);
        let blanks = || outcome.panels.iter().flat_map(|from| &from.panel.blanks);
        let rough = blanks().filter(|b| b.blank.rough.is_some()).count();
        let gluing_time = |glue_up: &GlueUp| glue_up.stages.iter().map(|s| pace.glue_up.0 + s.takes.0).sum::<f64>();
        let panels: f64 = outcome.panels.iter().map(|f| gluing_time(&GlueUp::of_panel(&f.panel, gluing))).sum();
        let sawn: i64 = outcome.panels.iter().map(|f| f.crosscut.cuts_for(f.cut)).sum();
        let steps = crate::thickness::Steps::of(job, outcome);
        let passes: i64 = steps.board.iter().map(|s| s.passes).sum();
        let cuts = &job.cuts;
        let single = [cuts.feet.is_some(), cuts.hanging_hole.is_some()].into_iter().filter(|there| *there).count();
        let recesses = job.handholds.len() + cuts.grooves.len() + cuts.finger_recesses.len() + single;
        let each = |n: usize, minutes: Minutes| n as f64 * minutes.0;
        let all = [
            (Work::Choosing, each(blanks().count(), pace.choose)),
            (Work::Milling, each(rough, pace.mill)),
            (Work::FirstGlueUp, panels),
            (Work::Squaring, each(outcome.panels.len(), pace.panel)),
            (Work::Sawing, pace.saw.0 + sawn as f64 * pace.cut.0),
            (Work::LayingUp, each(board.strips().len(), pace.strip)),
            (Work::SecondGlueUp, gluing_time(&GlueUp::of_board(board, gluing))),
            (Work::Flattening, passes as f64 * pace.flatten.0),
            (Work::Trimming, pace.trim.0),
            (Work::Cutting, each(recesses, pace.recess)),
            (Work::Sanding, each(job.finish.grits().len(), pace.sand)),
            (Work::Finishing, f64::from(job.finish.coats) * pace.coat.0),
        ];
        Some(Self { stages: all.into_iter().filter(|(_, t)| *t > 0.0).map(|(w, t)| (w, Minutes(t))).collect() })
    }

    /// All of it.
    #[must_use]
    pub fn total(&self) -> Minutes {
        Minutes(self.stages.iter().map(|(_, t)| t.0).sum())
    }
}
