//! How a lay-up is laid, in words that a maker can follow at the bench.

use super::bench::Bench;
use super::slid::slid;
use super::slides::LaidUp;
use crate::layup::Turn;
use crate::measure::{Length, Rest, Rounding, Rule, Unit};
use crate::search::Laid;
use crate::search::whole::{Figures, Looks, Planing, Shape};

/// In which order the strips lie, how they are turned and how they are slid: `odd strips as cut, even strips rolled
/// over; even strips slid 1/4 in toward the back`.
#[must_use]
pub fn how_laid(bench: &Bench, lay: &LaidUp, rule: &Rule) -> String {
    let turned = turned(bench, &lay.laid);
    match slid(bench, lay, rule) {
        Some(slid) => format!("{turned}; {slid}"),
        None => turned,
    }
}

fn turned(bench: &Bench, laid: &[Laid]) -> String {
    let turns: Vec<Turn> = laid.iter().map(|l| l.turn()).collect();
    let rising = laid.windows(2).all(|pair| pair[0].strip < pair[1].strip);
    if !rising {
        return one_by_one(bench, laid);
    }
    let order = order(bench, laid);
    let whole = again(bench, laid, &turns)
        .or_else(|| runs(bench, laid))
        .or_else(|| groups(&turns))
        .or_else(|| halves(bench, laid));
    let turned = whole.unwrap_or_else(|| by_turn(bench, laid));
    if order.is_empty() { turned } else { format!("{order}: {turned}") }
}

/// What a maker should know of the panels themselves: strips to spare, and blanks that plane against each other.
pub(super) fn panels(bench: &Bench) -> Vec<String> {
    let mut said = Vec::new();
    for ((panel, _), spare) in bench.panels.iter().zip(&bench.spare) {
        let name = &panel.name;
        match spare {
            0 => {}
            1 => said.push(format!("Panel {name} gives one strip more than is laid: cut it too, as a spare.")),
            more => said.push(format!("Panel {name} gives {more} strips more than are laid: cut one too, as a spare.")),
        }
        let planing = Planing::of(panel);
        if planing.against > 0 {
            said.push(format!(
                "In panel {name} neighbouring blanks plane against each other, pairs of them: {} of {}. Grain rises in \
                 the one where it falls in the other, by up to 1 in {:.0}. Turn one of each pair, or take thin cuts.",
                planing.against,
                planing.pairs,
                1.0 / planing.steepest
            ));
        }
    }
    said
}

/// How far the wander shows, and what faults of the panels do; what the maker couldn't see is left out.
pub(super) fn faults(looks: &Looks, rule: &Rule) -> String {
    let shown = |mm: f64| fine(rule, mm);
    let wander = looks.wander_shown.map(|mm| match shown(mm) {
        Some(far) => format!("wander shows by {far}"),
        None => "wander is hidden".to_owned(),
    });
    let faults = looks.faults;
    let fan = shown(faults.fan).map(|far| format!("one side {far} longer"));
    let arch = shown(faults.arch).map(|far| format!("one face {far} longer"));
    let teeth = shown(faults.teeth).map(|far| format!("teeth of {far}"));
    [wander, fan, arch, teeth].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// A small length in the maker's unit, to 0.05 mm or 1/128 in; none where that is nothing.
fn fine(rule: &Rule, mm: f64) -> Option<String> {
    let finest = match rule.unit() {
        Unit::Inch => Rule::inches(128),
        Unit::Millimetre => Rule::millimetres(Length::from_micrometres(50)),
    };
    let rule = finest.unwrap_or(*rule);
    let seen = rule.round(mm, Rounding::Nearest) != Length::ZERO;
    seen.then(|| rule.show(mm, Rounding::Nearest, Rest::Dropped))
}

/// Nothing where all lie as they were cut.
fn order(bench: &Bench, laid: &[Laid]) -> String {
    let left: Vec<String> =
        (0..bench.strips.len()).filter(|s| laid.iter().all(|l| l.strip != *s)).map(|s| bench.name(s)).collect();
    if left.is_empty() { String::new() } else { format!("without {}", listed(&left)) }
}

/// Turns that repeat every one to four places.
fn again(bench: &Bench, laid: &[Laid], turns: &[Turn]) -> Option<String> {
    let period = period(turns)?;
    let names: Vec<&str> = turns[..period].iter().map(|t| t.name()).collect();
    if period == 1 {
        return Some(format!("all {}", names[0]));
    }
    let numbered = bench.panels.len() == 1
        && laid.iter().enumerate().all(|(i, l)| usize::try_from(bench.strips[l.strip].1).is_ok_and(|n| n == i));
    Some(match (period, numbered) {
        (2, true) => format!("odd strips {}, even strips {}", names[0], names[1]),
        (2, false) => format!("by turns {} and {}", names[0], names[1]),
        _ if groups(turns).is_some() => groups(turns)?,
        _ => format!("{}, and so on", names.join(", ")),
    })
}

/// Two, three or four with one turn, as many with another, and so on.
fn groups(turns: &[Turn]) -> Option<String> {
    let fits = |size: &usize| {
        let pair = [turns.first(), turns.get(*size)];
        turns.len() > 2 * size && turns.iter().enumerate().all(|(i, t)| pair[i / size % 2] == Some(t))
    };
    let size = (2..=4).find(fits).filter(|size| turns[0] != turns[*size])?;
    let many = ["two", "three", "four"][size - 2];
    Some(format!("{many} {}, {many} {}, and so on", turns[0].name(), turns[size].name()))
}

/// A few runs of strips turned alike.
fn runs(bench: &Bench, laid: &[Laid]) -> Option<String> {
    let mut runs: Vec<(Turn, Vec<&Laid>)> = Vec::new();
    for l in laid {
        match runs.last_mut() {
            Some((turn, run)) if *turn == l.turn() => run.push(l),
            _ => runs.push((l.turn(), vec![l])),
        }
    }
    let said = |(turn, run): &(Turn, Vec<&Laid>)| {
        let first = bench.name(run[0].strip);
        let last = bench.name(run[run.len() - 1].strip);
        if run.len() == 1 { format!("{first} {}", turn.name()) } else { format!("{first} to {last} {}", turn.name()) }
    };
    (runs.len() <= 4).then(|| runs.iter().map(said).collect::<Vec<_>>().join(", "))
}

/// Two halves, each with its own repeat.
fn halves(bench: &Bench, laid: &[Laid]) -> Option<String> {
    let (left, right) = laid.split_at(laid.len().div_ceil(2));
    let half = |half: &[Laid]| {
        let turns: Vec<Turn> = half.iter().map(|l| l.turn()).collect();
        let period = period(&turns)?;
        let names: Vec<&str> = turns[..period].iter().map(|t| t.name()).collect();
        let (first, last) = (bench.name(half[0].strip), bench.name(half[half.len() - 1].strip));
        let turned = if period == 1 { names[0].to_owned() } else { format!("by turns {}", names.join(", ")) };
        Some(format!("{first} to {last} {turned}"))
    };
    Some(format!("{}; {}", half(left)?, half(right)?))
}

/// After how many places, one to four, the turns repeat at least once.
fn period(turns: &[Turn]) -> Option<usize> {
    let repeats =
        |period: &usize| turns.len() >= 2 * period && turns.iter().zip(&turns[*period..]).all(|(a, b)| a == b);
    (1..=4).find(repeats)
}

/// The commonest turn last, as that of all the others.
fn by_turn(bench: &Bench, laid: &[Laid]) -> String {
    let of =
        |turn: Turn| -> Vec<String> { laid.iter().filter(|l| l.turn() == turn).map(|l| bench.name(l.strip)).collect() };
    let Some(common) = Turn::ALL.into_iter().max_by_key(|turn| (of(*turn).len(), *turn == Turn::AsCut)) else {
        return String::new();
    };
    let others = Turn::ALL.into_iter().filter(|turn| *turn != common && !of(*turn).is_empty());
    let mut said: Vec<String> = others.map(|turn| format!("{} {}", listed(&of(turn)), turn.name())).collect();
    said.push(format!("the others {}", common.name()));
    said.join("; ")
}

/// Every strip from the left, those as cut without a word.
fn one_by_one(bench: &Bench, laid: &[Laid]) -> String {
    let said = |l: &Laid| match l.turn() {
        Turn::AsCut => bench.name(l.strip),
        turn => format!("{} {}", bench.name(l.strip), turn.name()),
    };
    let strips: Vec<String> = laid.iter().map(said).collect();
    let plain = laid.iter().any(|l| l.turn() == Turn::AsCut);
    let rest = if plain { " (those without a word as cut)" } else { "" };
    format!("from the left {}{rest}", strips.join(", "))
}

/// What has a name on a face, by computation: `21 light diamonds (6 more at the rim)`.
pub(super) fn figures(of: &Figures) -> String {
    let mut counts: Vec<(Shape, bool, usize)> = Vec::new();
    for figure in of.closed.iter().filter(|figure| figure.shape != Shape::Patch) {
        match counts.iter_mut().find(|(shape, light, _)| (*shape, *light) == (figure.shape, figure.light)) {
            Some((.., count)) => *count += figure.count,
            None => counts.push((figure.shape, figure.light, figure.count)),
        }
    }
    let said = |(shape, light, count): &(Shape, bool, usize)| {
        let tone = if *light { "light" } else { "dark" };
        format!("{count} {tone} {}", shape.name(*count > 1))
    };
    let mut said: Vec<String> = counts.iter().take(2).map(said).collect();
    if let Some(last) = said.last_mut().filter(|_| of.grazed > 0) {
        *last = format!("{last} ({} more at the rim)", of.grazed);
    }
    if of.chequer >= 0.8 {
        said.push("a chequer".to_owned());
    }
    if of.pairs > 0 && of.ring_chevrons * 5 >= of.pairs * 3 {
        said.push("chevrons in the rings".to_owned());
    }
    listed(&said)
}

/// `1, 2 and 5`.
pub(super) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [some @ .., last] => format!("{} and {last}", some.join(", ")),
    }
}
