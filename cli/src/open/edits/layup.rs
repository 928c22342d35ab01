//! Edits of the lay-up: strips turned, moved, left out, put back, slid.
//!
//! They begin from how the strips lie by the plan, however it says that, and write all of it again: as a repeat where
//! it is one, else place by place.

use super::super::reading::Reading;
use super::super::told::Told;
use crate::plan;
use quarterturn_geometry::layup::{Place, Turn};
use quarterturn_geometry::measure::Length;
use toml_edit::DocumentMut;

type Laid = Result<Vec<Place>, Vec<Told>>;

/// Turns strips.
pub(super) fn turned(
    document: &mut DocumentMut,
    reading: &Reading,
    places: &[usize],
    turn: impl Fn(Turn) -> Turn,
) -> Laid {
    each(document, reading, places, |place| place.turn = turn(place.turn))
}

/// Slides strips.
pub(super) fn staggered(document: &mut DocumentMut, reading: &Reading, places: &[usize], by: &str) -> Laid {
    let unit = reading.job().rule.unit();
    let length = Length::parse(by, unit)
        .map_err(|why| Told::plainly(format!("{by:?}: {why}"), "write a length as \"1 3/8\", 1.375 or \"35 mm\""))?;
    each(document, reading, places, |place| place.stagger = length)
}

/// Takes strips out and puts them in again, the first of them at `to`.
pub(super) fn moved(document: &mut DocumentMut, reading: &Reading, places: &[usize], to: usize) -> Laid {
    let (moving, mut staying) = parted(reading, places)?;
    if to > staying.len() {
        return Err(no_place(to, staying.len() + 1));
    }
    staying.splice(to..to, moving);
    lay(document, reading, staying)
}

/// Leaves strips out.
pub(super) fn left_out(document: &mut DocumentMut, reading: &Reading, places: &[usize]) -> Laid {
    let (_, staying) = parted(reading, places)?;
    if staying.is_empty() {
        return Err(Told::plainly("no strip would be left in the board", "leave at least one strip in"));
    }
    lay(document, reading, staying)
}

/// Puts a strip in that was left out.
pub(super) fn put_back(document: &mut DocumentMut, reading: &Reading, panel: usize, strip: usize, at: usize) -> Laid {
    let mut laid = all(reading)?;
    let strip = i64::try_from(strip).unwrap_or(i64::MAX);
    let cut = reading.outcome().panels.get(panel).map_or(0, |p| p.cut);
    if strip >= cut {
        return Err(Told::plainly("there is no such strip", "choose one that is cut"));
    }
    if laid.iter().any(|place| (place.panel, place.strip) == (panel, strip)) {
        return Err(Told::plainly("this strip lies in the board already", "move it there"));
    }
    if at > laid.len() {
        return Err(no_place(at, laid.len() + 1));
    }
    laid.insert(at, Place { panel, strip, turn: Turn::AsCut, stagger: Length::ZERO });
    lay(document, reading, laid)
}

/// Changes strips where they lie.
fn each(document: &mut DocumentMut, reading: &Reading, places: &[usize], change: impl Fn(&mut Place)) -> Laid {
    let mut laid = all(reading)?;
    let count = laid.len();
    for at in places {
        change(laid.get_mut(*at).ok_or_else(|| no_place(*at, count))?);
    }
    lay(document, reading, laid)
}

/// Those in these places, in their order, and all others.
fn parted(reading: &Reading, places: &[usize]) -> Result<(Vec<Place>, Vec<Place>), Vec<Told>> {
    let laid = all(reading)?;
    if let Some(at) = places.iter().find(|at| **at >= laid.len()) {
        return Err(no_place(*at, laid.len()));
    }
    let (moving, staying): (Vec<_>, Vec<_>) = laid.iter().enumerate().partition(|(i, _)| places.contains(i));
    let bare = |all: Vec<(usize, &Place)>| all.into_iter().map(|(_, place)| *place).collect();
    Ok((bare(moving), bare(staying)))
}

fn all(reading: &Reading) -> Laid {
    let laid = reading.outcome().places.clone();
    if laid.is_empty() {
        let right = "first mend what keeps the strips from being laid";
        return Err(Told::plainly("no strip is laid", right));
    }
    Ok(laid)
}

fn no_place(at: usize, count: usize) -> Vec<Told> {
    Told::plainly(format!("there is no place {}", at.saturating_add(1)), format!("the places are 1 to {count}"))
}

fn lay(document: &mut DocumentMut, reading: &Reading, places: Vec<Place>) -> Laid {
    plan::lay(document, reading.job(), &places, None).map_err(|why| Told::plainly(why, "change the plan's text"))?;
    Ok(places)
}
