//! Of which kind a lay-up is: by the half turns that lead from strip to strip.
//!
//! From one strip to the next leads one of the four half turns of the Klein group. A row in which
//! one of them leads everywhere is a frieze: shifted alone (as cut), mirrored at every glue line
//! (rolled over), turned half round at every glue line (end for end), or with front and back
//! changed at every glue line (end over end): glide reflection. Others repeat several of them.

use crate::layup::Turn;
use std::collections::HashSet;
use std::fmt;

/// The half turns from strip to strip, again and again, and what happens in the middle of the board.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Kind {
    /// The shortest repeat (up to four), the first of all that it may begin with and be read from; empty: no repeat.
    cycle: Vec<u8>,
    /// Which half turn takes the left half to the right one, in a lay-up that repeats only within its halves.
    about: Option<Turn>,
}

/// The longest repeat that makes a kind.
const LONGEST: usize = 4;

impl Kind {
    /// The kind of a lay-up with these turns, from the left.
    #[must_use]
    pub fn of(turns: &[Turn]) -> Self {
        let steps: Vec<u8> = turns.windows(2).map(|pair| pair[0].then(pair[1]) as u8).collect();
        if let Some(cycle) = cycle(&steps) {
            return Self { cycle, about: None };
        }
        let count = turns.len();
        let leads = |about: &Turn| (0..count / 2).all(|i| turns[count - 1 - i] == turns[i].then(*about));
        let about = [Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd].into_iter().find(leads);
        let half = about.map_or(&[][..], |_| &steps[..(count.div_ceil(2)).saturating_sub(1)]);
        Self { cycle: cycle(half).unwrap_or_default(), about }
    }

    /// How simple it is, from 1 (one half turn alone) down: what a maker can tell another in a word.
    pub(super) fn simple(&self) -> f64 {
        let steps: HashSet<u8> = self.cycle.iter().copied().filter(|step| *step != 0).collect();
        let cycle = match (self.cycle.len(), steps.len()) {
            (0, _) => 0.5,
            (_, 0 | 1) => 1.0,
            (1..=2, _) => 0.9,
            _ => 0.6,
        };
        // Groups of unequal size are harder to see.
        let uneven = repeat(&self.cycle).contains(" and ") && steps.len() < 2;
        cycle * if uneven { 0.8 } else { 1.0 } * if self.about.is_some() { 0.9 } else { 1.0 }
    }
}

/// The shortest repeat, where the steps go through one of up to four at least twice (or there is nothing but one step).
fn cycle(steps: &[u8]) -> Option<Vec<u8>> {
    let repeats = |period: &usize| {
        (steps.len() >= 2 * period || steps.len() == 1) && steps.iter().zip(&steps[*period..]).all(|(a, b)| a == b)
    };
    let period = (1..=LONGEST.min(steps.len())).find(repeats)?;
    let forth = &steps[..period];
    let back: Vec<u8> = forth.iter().rev().copied().collect();
    let turned = |cycle: &[u8], by: usize| [&cycle[by..], &cycle[..by]].concat();
    (0..period).flat_map(|by| [turned(forth, by), turned(&back, by)]).min()
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let alike = self.cycle == [0];
        let half = match self.about {
            Some(Turn::RolledOver) => "the right half mirrored",
            Some(Turn::EndForEnd) => "the right half turned half round",
            Some(Turn::EndOverEnd) => "the right half front to back",
            _ => "",
        };
        match (self.cycle.is_empty(), half.is_empty()) {
            (true, true) => f.write_str("no repeat"),
            (true, false) => f.write_str(half),
            (false, false) if alike => f.write_str(half),
            (false, true) => f.write_str(&repeat(&self.cycle)),
            (false, false) => write!(f, "{}; {half}", repeat(&self.cycle)),
        }
    }
}

fn repeat(cycle: &[u8]) -> String {
    let word = |step: u8| match Turn::ALL[usize::from(step & 3)] {
        Turn::AsCut => "alike",
        Turn::RolledOver => "mirrored",
        Turn::EndForEnd => "turned half round",
        Turn::EndOverEnd => "front to back",
    };
    // Begin after a step that changes something, so that groups of like strips stay together.
    let Some(last) = cycle.iter().rposition(|step| *step != 0) else { return "every strip alike".to_owned() };
    let turned = cycle[last + 1..].iter().chain(&cycle[..=last]);
    let (mut sizes, mut words, mut size) = (Vec::new(), Vec::new(), 1);
    for step in turned {
        if *step == 0 {
            size += 1;
        } else {
            sizes.push(size);
            words.push(word(*step));
            size = 1;
        }
    }
    let many = |size: usize| ["singles", "pairs", "threes", "fours"].get(size - 1).copied().unwrap_or("groups");
    let groups = match (sizes.iter().all(|s| *s == sizes[0]), sizes[0]) {
        (true, 1) => "every strip".to_owned(),
        (true, size) => many(size).to_owned(),
        (false, _) => {
            let mut sizes: Vec<usize> = sizes.clone();
            sizes.sort_unstable();
            sizes.dedup();
            sizes.iter().map(|s| many(*s)).collect::<Vec<_>>().join(" and ")
        }
    };
    words.dedup();
    let by_turns = if words.len() > 1 && words.iter().any(|w| *w != words[0]) { ", by turns" } else { "" };
    format!("{groups} {}{by_turns}", words.join(" and "))
}
