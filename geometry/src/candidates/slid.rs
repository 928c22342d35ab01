//! How strips are slid along their neighbours, in words that a maker can follow at the bench.

use super::bench::Bench;
use super::slides::{LaidUp, Slides};
use super::wishes::Sliding;
use super::words::listed;
use crate::measure::{Length, Rest, Rounding, Rule};

/// Which strips of a lay-up are slid how far; none where all are slid alike, for then none stands out.
pub(super) fn slid(bench: &Bench, lay: &LaidUp, rule: &Rule) -> Option<String> {
    let slides: Vec<Length> = bench.slid(lay).into_iter().map(|(_, slide)| slide).collect();
    if slides.iter().all(|slide| *slide == slides[0]) {
        return None;
    }
    let said = by_panel(bench, lay, &slides, rule)
        .or_else(|| by_number(bench, lay, &slides, rule))
        .or_else(|| by_place(&slides, rule));
    Some(said.unwrap_or_else(|| one_by_one(bench, lay, &slides, rule)))
}

/// `1/4 in toward the back`.
fn far(slide: Length, rule: &Rule) -> String {
    let toward = if slide.is_negative() { "front" } else { "back" };
    format!("{} toward the {toward}", rule.show(slide.mm().abs(), Rounding::Nearest, Rest::Told))
}

/// Of several panels, the strips of each slid alike: `those of Q slid 1/4 in toward the back`.
fn by_panel(bench: &Bench, lay: &LaidUp, slides: &[Length], rule: &Rule) -> Option<String> {
    let mut of_panels: Vec<(usize, Length)> = Vec::new();
    for (l, slide) in lay.laid.iter().zip(slides) {
        let panel = bench.strips[l.strip].0;
        match of_panels.iter().find(|(of, _)| *of == panel) {
            Some((_, other)) if other != slide => return None,
            Some(_) => {}
            None => of_panels.push((panel, *slide)),
        }
    }
    let slid = of_panels.iter().filter(|(_, slide)| *slide != Length::ZERO);
    let said =
        slid.map(|(panel, slide)| format!("those of {} slid {}", bench.panels[*panel].0.name, far(*slide, rule)));
    Some(said.collect::<Vec<_>>().join(", "))
}

/// Of one panel, the strips with even numbers slid alike, and those with odd ones.
fn by_number(bench: &Bench, lay: &LaidUp, slides: &[Length], rule: &Rule) -> Option<String> {
    if bench.panels.len() > 1 {
        return None;
    }
    let is_even = |strip: usize| bench.strips[strip].1 % 2 == 1;
    let of = |even: bool| {
        let mut of = lay.laid.iter().zip(slides).filter(|(l, _)| is_even(l.strip) == even).map(|(_, slide)| *slide);
        let first = of.next()?;
        of.all(|slide| slide == first).then_some(first)
    };
    let both = [("odd", of(false)?), ("even", of(true)?)];
    let slid = both.iter().filter(|(_, slide)| *slide != Length::ZERO);
    let said = slid.map(|(which, slide)| format!("{which} strips slid {}", far(*slide, rule)));
    Some(said.collect::<Vec<_>>().join(", "))
}

/// Slides that repeat every two to four places.
fn by_place(slides: &[Length], rule: &Rule) -> Option<String> {
    let repeats =
        |every: &usize| slides.len() >= 2 * every && slides.iter().zip(&slides[*every..]).all(|(a, b)| a == b);
    let every = (2..=4).find(repeats)?;
    let word = |slide: &Length| if *slide == Length::ZERO { "not".to_owned() } else { far(*slide, rule) };
    let said: Vec<String> = slides[..every].iter().map(word).collect();
    Some(format!("from the left slid by turns: {}, and so on", said.join(", ")))
}

/// For each distance the strips that are slid so far.
fn one_by_one(bench: &Bench, lay: &LaidUp, slides: &[Length], rule: &Rule) -> String {
    let mut distances: Vec<Length> = slides.iter().copied().filter(|slide| *slide != Length::ZERO).collect();
    distances.sort_unstable();
    distances.dedup();
    let said = |distance: &Length| {
        let slid = lay.laid.iter().zip(slides).filter(|(_, slide)| *slide == distance);
        let mut strips: Vec<usize> = slid.map(|(l, _)| l.strip).collect();
        strips.sort_unstable();
        let names: Vec<String> = strips.into_iter().map(|strip| bench.name(strip)).collect();
        format!("{} slid {}", listed(&names), far(*distance, rule))
    };
    distances.iter().map(said).collect::<Vec<_>>().join("; ")
}

/// In which ways strips are slid on a sheet; none where none is, nor in the plan.
pub(super) fn ways(bench: &Bench, rule: &Rule) -> Option<String> {
    let way = |slides: &Slides| match slides.asked {
        _ if !slides.are_unlike() => "not at all".to_owned(),
        Sliding::AsPlanned => "as the plan slides them".to_owned(),
        Sliding::EverySecond(by) => format!("every second one in that order {}", far(by, rule)),
    };
    match bench.slides.as_slice() {
        [one] if one.are_unlike() => Some(format!("Strips are slid along their neighbours: {}.", way(one))),
        [_] => bench.slid.then(|| "No strip is slid along its neighbours, though the plan slides some.".to_owned()),
        several => Some(format!(
            "Strips are slid along their neighbours in {} ways, all ranked together, and what is proven is proven of all \
             of them: {}.",
            several.len(),
            several.iter().map(way).collect::<Vec<_>>().join("; ")
        )),
    }
}
