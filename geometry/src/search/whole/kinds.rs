//! Lay-ups that look alike put together, so that different ones are shown. Knows nothing of how they were ranked.

use super::view::View;

/// Below this difference ([`View::difference`]) two lay-ups are the same to the eye: about 1 is what a practised eye can just see between
/// two even patches that touch (common practice, no source).
pub const SAME: f64 = 1.0;

/// Below this difference two lay-ups are of one kind: the same figure with a strip or two turned otherwise (our own
/// choice).
pub const KIND: f64 = 2.0;

/// Lay-ups of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Their places in the list that was given, from 0; the first is the best and stands for all.
    pub members: Vec<usize>,
}

/// Puts lay-ups that look alike together. `views` are in order of rank, the best first; each joins the first kind
/// whose best it differs from by less than `tolerance` ([`View::difference`]), or begins a kind of its own. So the
/// kinds come in order of rank, and any two kinds' best differ by `tolerance` or more.
#[must_use]
pub fn kinds(views: &[View], tolerance: f64) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (i, view) in views.iter().enumerate() {
        let like = kinds.iter().position(|kind| views[kind.members[0]].compared(view, tolerance).is_some());
        match like {
            Some(kind) => kinds[kind].members.push(i),
            None => kinds.push(Kind { members: vec![i] }),
        }
    }
    kinds
}
