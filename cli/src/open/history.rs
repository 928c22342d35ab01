//! Undo and redo without end: of each change only what differs is kept. Knows texts, not plans.

/// What stood between two places of a text, and what stands there now.
#[derive(Debug)]
struct Change {
    at: usize,
    before: Box<str>,
    after: Box<str>,
}

impl Change {
    /// What makes one text another.
    fn between(before: &str, after: &str) -> Self {
        let same = |(a, b): &(u8, u8)| a == b;
        let mut at = before.bytes().zip(after.bytes()).take_while(same).count();
        while !before.is_char_boundary(at) || !after.is_char_boundary(at) {
            at -= 1;
        }
        let rest = before.len().min(after.len()) - at;
        let mut end = before.bytes().rev().zip(after.bytes().rev()).take(rest).take_while(same).count();
        while !before.is_char_boundary(before.len() - end) || !after.is_char_boundary(after.len() - end) {
            end -= 1;
        }
        Self { at, before: before[at..before.len() - end].into(), after: after[at..after.len() - end].into() }
    }

    fn undone(&self, text: &str) -> Option<String> {
        swapped(text, self.at, &self.after, &self.before)
    }

    fn done(&self, text: &str) -> Option<String> {
        swapped(text, self.at, &self.before, &self.after)
    }
}

/// The text with what stands at a place replaced; `None` where something else stands there.
fn swapped(text: &str, at: usize, old: &str, new: &str) -> Option<String> {
    let (start, rest) = text.split_at_checked(at)?;
    Some([start, new, rest.strip_prefix(old)?].concat())
}

/// All changes of a text.
#[derive(Debug, Default)]
pub(super) struct History {
    done: Vec<Change>,
    undone: Vec<Change>,
}

impl History {
    /// Notes a change; what was undone can't be done again.
    pub(super) fn note(&mut self, before: &str, after: &str) {
        self.done.push(Change::between(before, after));
        self.undone.clear();
    }

    /// The text before the last change.
    pub(super) fn before(&self, text: &str) -> Option<String> {
        self.done.last()?.undone(text)
    }

    /// The text after the change that was undone last.
    pub(super) fn after(&self, text: &str) -> Option<String> {
        self.undone.last()?.done(text)
    }

    /// The last change is undone.
    pub(super) fn step_back(&mut self) {
        self.undone.extend(self.done.pop());
    }

    /// It is done again.
    pub(super) fn step_on(&mut self) {
        self.done.extend(self.undone.pop());
    }

    /// Whether there is a change to undo.
    pub(super) const fn can_undo(&self) -> bool {
        !self.done.is_empty()
    }

    /// Whether there is one to do again.
    pub(super) const fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn every_text_comes_back_in_its_order(texts in proptest::collection::vec("[aé\u{1F332}\\n]{0,12}", 1..12)) {
            let mut history = History::default();
            for pair in texts.windows(2) {
                history.note(&pair[0], &pair[1]);
            }
            let mut text = texts.last().unwrap().clone();
            for earlier in texts.iter().rev().skip(1) {
                text = history.before(&text).unwrap();
                history.step_back();
                prop_assert_eq!(&text, earlier);
            }
            prop_assert!(!history.can_undo() && history.before(&text).is_none());
            for later in texts.iter().skip(1) {
                text = history.after(&text).unwrap();
                history.step_on();
                prop_assert_eq!(&text, later);
            }
            prop_assert!(!history.can_redo());
        }
    }

    #[test]
    fn a_small_change_of_a_long_text_is_kept_small() {
        let long = "a".repeat(10_000);
        let mut history = History::default();
        history.note(&format!("{long}x{long}"), &format!("{long}yz{long}"));
        assert_eq!((&*history.done[0].before, &*history.done[0].after), ("x", "yz"));
    }
}
