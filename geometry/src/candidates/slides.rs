//! How far the strips on the bench are slid: the sets of slides that are tried.
//!
//! A slide goes with its strip, wherever a lay-up has it and however it is turned. Only how far one strip is slid beyond
//! another is to be seen: the board is cut from what all of them cover.

use super::wishes::{Sliding, Wishes};
use crate::layup::Place;
use crate::measure::Length;
use crate::search::{Alike, Laid, Order};
use std::collections::HashSet;

/// How far each strip on the bench is slid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slides {
    /// What was asked for.
    pub asked: Sliding,
    /// For each strip on the bench, in their order, how far it is slid toward the back.
    pub of: Vec<Length>,
}

/// A lay-up of strips on the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaidUp {
    /// The strips from the left, by their number on the bench.
    pub laid: Vec<Laid>,
    /// By which set of slides they are slid ([`super::Bench::slides`]).
    pub set: usize,
}

impl Slides {
    /// Whether one strip is slid otherwise than another.
    #[must_use]
    pub fn are_unlike(&self) -> bool {
        self.of.iter().any(|slide| *slide != self.of[0])
    }

    /// How far the one that is slid farthest is slid beyond the one that is slid least.
    pub(super) fn spread(&self) -> Length {
        self.beyond_least().into_iter().max().unwrap_or_default()
    }

    /// Every strip as far as the plan's own lay-up slides it; one that it doesn't lay isn't slid.
    pub(super) fn planned(places: &[Place], strips: &[(usize, i64)]) -> Self {
        let slide = |strip: &(usize, i64)| {
            let place = places.iter().find(|place| (place.panel, place.strip) == *strip);
            place.map_or(Length::ZERO, |place| place.stagger)
        };
        Self { asked: Sliding::AsPlanned, of: strips.iter().map(slide).collect() }
    }

    fn every_second(by: Length, strips: usize) -> Self {
        let of = (0..strips).map(|i| if i % 2 == 1 { by } else { Length::ZERO }).collect();
        Self { asked: Sliding::EverySecond(by), of }
    }

    /// The same with front and back changed.
    fn turned(&self) -> Self {
        Self { asked: self.asked, of: self.of.iter().map(|slide| -*slide).collect() }
    }

    fn beyond_least(&self) -> Vec<Length> {
        beyond_least(self.of.iter().copied())
    }

    /// Whether strips laid so are slid as the other set slides them.
    pub(super) fn slide_alike(&self, other: &Self, laid: &[Laid]) -> bool {
        let of = |slides: &Self| beyond_least(laid.iter().map(|l| slides.of[l.strip]));
        of(self) == of(other)
    }
}

fn beyond_least(slides: impl Iterator<Item = Length> + Clone) -> Vec<Length> {
    let least = slides.clone().min().unwrap_or_default();
    slides.map(|slide| slide - least).collect()
}

/// The sets that are wished for, of strips that the plan slides so; none that gives the same boards as one before it.
pub(super) fn sets(planned: &Slides, strips: &[(usize, i64)], wishes: &Wishes, alike: Alike) -> Vec<Slides> {
    let set = |asked: &Sliding| match asked {
        Sliding::AsPlanned => planned.clone(),
        Sliding::EverySecond(by) => Slides::every_second(*by, strips.len()),
    };
    let usual = [Sliding::AsPlanned, Sliding::FLUSH];
    let asked = if wishes.slides.is_empty() { &usual[..] } else { wishes.slides.as_slice() };
    // Where a lay-up whose front is turned to the back is one that was asked for too, a set gives the same boards as the
    // one with every sign changed.
    let panels: HashSet<usize> = strips.iter().map(|(panel, _)| *panel).collect();
    let any_order = wishes.order == Order::Free || (wishes.order == Order::Interleaved && panels.len() == strips.len());
    let turned = any_order || alike == Alike::HalfRoundAndOver;
    let same = |a: &Slides, b: &Slides| {
        let of = b.beyond_least();
        a.beyond_least() == of || (turned && a.turned().beyond_least() == of)
    };
    let mut sets: Vec<Slides> = Vec::new();
    for set in asked.iter().map(set) {
        if !sets.iter().any(|before| same(before, &set)) {
            sets.push(set);
        }
    }
    sets
}
