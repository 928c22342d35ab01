//! The best of each kind: no two that look alike, every kind once before any stands twice.

use super::kind::Kind;
use super::looks::apart;
use crate::picture::Picture;
use std::collections::HashMap;

/// Under this mean difference of colour, in millionths of the range, two boards look alike (our own choice, by eye).
pub const EYE: u64 = 9_000;

/// What is chosen from.
pub(super) struct Choice<'a> {
    /// By aim: all lay-ups by their number, the best first.
    pub(super) by_aim: Vec<Vec<usize>>,
    /// The kind of each.
    pub(super) kinds: Vec<&'a Kind>,
    /// A small picture of each, drawn when it is asked for.
    pub(super) picture: &'a dyn Fn(usize) -> Option<Picture>,
}

impl Choice<'_> {
    /// Up to `show` lay-ups: from each aim in turn the best that looks like none taken, its kind having stood less often
    /// than others may.
    pub(super) fn take(&self, show: usize, keep_going: &mut dyn FnMut() -> bool) -> Vec<usize> {
        let mut taken: Vec<(usize, Picture)> = Vec::new();
        let mut stood: HashMap<&Kind, usize> = HashMap::new();
        let mut like = vec![false; self.kinds.len()];
        for times in 0..MOST_OF_A_KIND {
            let mut next = vec![0; self.by_aim.len()];
            loop {
                let before = taken.len();
                for (list, next) in self.by_aim.iter().zip(&mut next) {
                    while *next < list.len() && taken.len() < show && keep_going() {
                        let one = list[*next];
                        *next += 1;
                        let kind = self.kinds[one];
                        if like[one] || stood.get(kind).copied().unwrap_or(0) > times {
                            continue;
                        }
                        let Some(picture) = (self.picture)(one) else { continue };
                        like[one] = true;
                        if taken.iter().all(|(_, other)| apart(&picture, other) >= EYE) {
                            *stood.entry(kind).or_default() += 1;
                            taken.push((one, picture));
                            break;
                        }
                    }
                }
                if taken.len() == before {
                    break;
                }
            }
        }
        taken.into_iter().map(|(one, _)| one).collect()
    }
}

/// How often a kind may stand on a sheet at most.
const MOST_OF_A_KIND: usize = 8;
