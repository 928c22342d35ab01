//! In how many goes: each fits the working time of the glue.

use super::{Gluing, Minutes};

/// One go: runs of members that are glued to each other, side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// From which to which member each run goes, counted from 0, in order. A member by itself is a run of one.
    pub runs: Vec<[usize; 2]>,
    /// Spreading, lining up and clamping together.
    pub takes: Minutes,
}

impl Stage {
    /// Joints that are glued in this go.
    #[must_use]
    pub fn joints(&self) -> usize {
        self.runs.len().saturating_sub(1)
    }
}

/// The most joints that fit one go: ⌊(working time − lining up) × joints a minute⌋, one at least.
#[must_use]
pub fn at_once(gluing: &Gluing) -> usize {
    let fit = ((gluing.working.0 - gluing.line_up.0) * gluing.joints_a_minute + 1e-9).floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let whole = fit.clamp(1.0, 1e6) as usize;
    whole
}

/// The goes for so many members: one where all joints fit, else equal parts and then these to each other.
///
/// ```
/// use quarterturn_geometry::glue::{Gluing, stages};
/// // 8 minutes less 3, at 2.5 a minute: 12 joints in a go.
/// let goes = stages(14, &Gluing::default());
/// assert_eq!(goes.iter().map(|go| go.joints()).collect::<Vec<_>>(), [6, 6, 1]);
/// assert_eq!(goes[2].runs, [[0, 6], [7, 13]]);
/// ```
#[must_use]
pub fn stages(members: usize, gluing: &Gluing) -> Vec<Stage> {
    let most = at_once(gluing) + 1;
    let mut goes = Vec::new();
    let mut runs: Vec<[usize; 2]> = (0..members).map(|i| [i, i]).collect();
    while runs.len() > 1 {
        let parts = runs.len().div_ceil(most);
        let mut joined = Vec::new();
        for part in 0..parts {
            let members = &runs[part * runs.len() / parts..(part + 1) * runs.len() / parts];
            let (Some(first), Some(last)) = (members.first(), members.last()) else { continue };
            joined.push([first[0], last[1]]);
            if members.len() > 1 {
                let joints = (members.len() - 1) as f64;
                let takes = Minutes(gluing.line_up.0 + joints / gluing.joints_a_minute);
                goes.push(Stage { runs: members.to_vec(), takes });
            }
        }
        runs = joined;
    }
    goes
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn every_joint_is_glued_once_and_every_go_fits(members in 0usize..400, working in 4.0..30.0f64, rate in 0.5..4.0f64) {
            let gluing = Gluing { working: Minutes(working), joints_a_minute: rate, ..Gluing::default() };
            let goes = stages(members, &gluing);
            prop_assert_eq!(goes.iter().map(Stage::joints).sum::<usize>(), members.saturating_sub(1));
            for go in &goes {
                prop_assert!(go.joints() <= at_once(&gluing));
                prop_assert!(go.takes.0 <= working + 1e-6 || go.joints() == 1);
                prop_assert!(go.runs.windows(2).all(|w| w[0][1] + 1 == w[1][0]));
            }
            if let Some(last) = goes.last() {
                prop_assert_eq!((last.runs[0][0], last.runs[last.runs.len() - 1][1]), (0, members - 1));
            }
        }
    }
}
