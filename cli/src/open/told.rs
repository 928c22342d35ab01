//! Why an edit is not made: what is wrong, where, what would be right.

use crate::plan::Problems;
use serde::Serialize;

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) struct Told {
    /// The key of the plan; empty where it is none of them.
    pub(super) key: String,
    /// What is wrong.
    pub(super) what: String,
    /// What would be right; empty where there is nothing to say.
    pub(super) right: String,
    /// The line of the text as it would have been, from 1; 0 where it is about no line.
    pub(super) line: usize,
}

impl Told {
    /// Something wrong with what was asked, not with the text.
    pub(super) fn plainly(what: impl Into<String>, right: impl Into<String>) -> Vec<Self> {
        vec![Self { key: String::new(), what: what.into(), right: right.into(), line: 0 }]
    }

    /// The problems of a plan.
    pub(super) fn all(problems: &Problems) -> Vec<Self> {
        let one = |p: &crate::plan::Problem| Self {
            key: p.key.clone(),
            what: p.what.clone(),
            right: p.right.clone(),
            line: p.line,
        };
        problems.iter().map(one).collect()
    }
}
