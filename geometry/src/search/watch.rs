//! Asks the caller now and then whether to go on, and remembers the answer.

use super::tried::Progress;

/// So much work lies between two questions: some milliseconds.
const BETWEEN: u64 = 1 << 18;

/// A caller who may stop a search.
pub(super) struct Watch<'a> {
    keep_going: &'a mut dyn FnMut(&Progress) -> bool,
    /// How far it has come.
    pub(super) progress: Progress,
    asked: u64,
    stopped: bool,
}

impl<'a> Watch<'a> {
    pub(super) fn new(keep_going: &'a mut dyn FnMut(&Progress) -> bool) -> Self {
        Self { keep_going, progress: Progress::default(), asked: 0, stopped: false }
    }

    /// So many ways to lay one strip beside another were weighed: whether to go on.
    pub(super) fn go(&mut self, weighed: u64) -> bool {
        self.progress.looked_at += weighed;
        if !self.stopped && self.progress.looked_at >= self.asked + BETWEEN {
            self.asked = self.progress.looked_at;
            self.stopped = !(self.keep_going)(&self.progress);
        }
        !self.stopped
    }

    /// A lay-up was found.
    pub(super) fn found(&mut self, cost: u64) {
        self.progress.best = Some(self.progress.best.map_or(cost, |best| best.min(cost)));
    }

    /// No lay-up costs less.
    pub(super) fn bound(&mut self, bound: u64) {
        self.progress.bound = self.progress.bound.max(bound);
    }
}
