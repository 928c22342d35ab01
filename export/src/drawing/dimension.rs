//! Dimensions: a figure with its fraction stacked, lines with slanted ticks, chains of them.
//!
//! Must not know what is dimensioned.

use super::{TEXT, THIN, TINT};
use crate::ink::{self, Anchor, HALF_CAPITAL};
use crate::lettering;
use svg::node::element::{Group, Title};

/// A length as shown, in parts: `11 3/8 in full` is 11, 3 over 8, full. The unit is left to the
/// title block.
#[derive(Debug, PartialEq)]
pub(super) struct Figure<'a> {
    whole: &'a str,
    fraction: Option<(&'a str, &'a str)>,
    after: Vec<&'a str>,
    shown: &'a str,
}

/// Between whole number, fraction and word, as a share of the size.
const SPACE: f64 = 0.28;
/// A stacked fraction's figures, as a share of the size.
const SMALL: f64 = 0.7;

impl<'a> Figure<'a> {
    pub(super) fn of(shown: &'a str) -> Self {
        let mut figure = Self { whole: "", fraction: None, after: Vec::new(), shown };
        for part in shown.split_whitespace() {
            match part.split_once('/') {
                Some((top, bottom)) => {
                    let positive = top.trim_start_matches('-');
                    if positive.len() < top.len() {
                        figure.whole = "-";
                    }
                    figure.fraction = Some((positive, bottom));
                }
                None if figure.whole.is_empty() && figure.fraction.is_none() => figure.whole = part,
                None if part == "in" || part == "mm" => {}
                None => figure.after.push(part),
            }
        }
        figure
    }

    fn parts(&self, size: f64) -> [f64; 3] {
        let small = |t: &str| lettering::width(t, size * SMALL);
        let fraction = self.fraction.map_or(0.0, |(top, bottom)| small(top).max(small(bottom)));
        [lettering::width(self.whole, size), fraction, lettering::width(&self.after.join(" "), size)]
    }

    pub(super) fn width(&self, size: f64) -> f64 {
        let parts = self.parts(size);
        let gaps = parts.iter().filter(|w| **w > 0.0).count().saturating_sub(1);
        parts.iter().sum::<f64>() + gaps as f64 * SPACE * size
    }

    /// Its height, a stacked fraction's where there is one.
    pub(super) const fn height(size: f64) -> f64 {
        size * 1.35
    }

    /// Drawn with its middle at a point.
    pub(super) fn draw(&self, [x, y]: [f64; 2], size: f64) -> Group {
        let mut group = Group::new().add(Title::new(self.shown));
        let [whole, fraction, after] = self.parts(size);
        let mut at = x - self.width(size) / 2.0;
        let base = y + size * HALF_CAPITAL;
        if whole > 0.0 {
            group = group.add(ink::word(self.whole, [at, base], size, Anchor::Start));
            at += whole + SPACE * size;
        }
        if let Some((top, bottom)) = self.fraction {
            let middle = at + fraction / 2.0;
            let small = size * SMALL;
            group = group
                .add(ink::word(top, [middle, y - 0.13 * size], small, Anchor::Middle))
                .add(ink::line([at, y], [at + fraction, y], THIN * 1.4))
                .add(ink::word(bottom, [middle, y + 0.13 * size + small * 2.0 * HALF_CAPITAL], small, Anchor::Middle));
            at += fraction + SPACE * size;
        }
        if after > 0.0 {
            group = group.add(ink::word(&self.after.join(" "), [at, base], size, Anchor::Start));
        }
        group
    }

    /// The same on a patch of the wood's tint, to be read over lines, with a word after it.
    pub(super) fn draw_on_wood(&self, [x, y]: [f64; 2], size: f64, word: &str) -> Group {
        let (mine, more) = (self.width(size), lettering::width(word, size) + SPACE * size);
        let (wide, high) = (mine + more + size * 0.5, Self::height(size) + size * 0.2);
        let patch =
            ink::rectangle([x - wide / 2.0, y - high / 2.0], [wide, high], 0.0).set("fill", TINT).set("stroke", "none");
        let start = x - (mine + more) / 2.0;
        let base = y + size * HALF_CAPITAL;
        Group::new().add(patch).add(self.draw([start + mine / 2.0, y], size)).add(ink::word(
            word,
            [start + mine + SPACE * size, base],
            size,
            Anchor::Start,
        ))
    }
}

/// One dimension of a chain: from, to, and the length as shown.
pub(super) type Span<'a> = (f64, f64, &'a str);

/// A tick where a dimension ends.
fn tick([x, y]: [f64; 2]) -> svg::node::element::Line {
    const HALF: f64 = 0.9;
    ink::line([x - HALF, y + HALF], [x + HALF, y - HALF], THIN * 2.0)
}

/// How far an extension line runs on past the dimension line, and how far it keeps off the outline.
const PAST: f64 = 1.5;
const OFF: f64 = 1.0;

/// Figures above their line need this much room over it.
pub(super) const ROW: f64 = TEXT * 1.35 + 1.6;

/// A chain of horizontal dimensions on a line at `y`, for an outline whose edge is at `edge`. A
/// figure too wide for its span is lifted by a row, each such one by a row more.
pub(super) fn across(spans: &[Span], y: f64, edge: f64) -> Group {
    let mut group = Group::new();
    let toward = if edge > y { 1.0 } else { -1.0 };
    let mut lifted = 0.0;
    for (from, to, shown) in spans {
        let figure = Figure::of(shown);
        for x in [*from, *to] {
            group = group.add(ink::line([x, edge - OFF * toward], [x, y - PAST * toward], THIN)).add(tick([x, y]));
        }
        let middle = (from + to) / 2.0;
        let mut at = y - ROW / 2.0;
        if figure.width(TEXT) + 2.0 > to - from {
            lifted += 1.0;
            at -= ROW * lifted;
            group = group.add(ink::line([middle, y], [middle, at + ROW / 2.0 - 0.6], THIN));
        }
        group = group.add(ink::line([*from, y], [*to, y], THIN)).add(figure.draw([middle, at], TEXT));
    }
    group
}

/// How many rows the figures of such a chain take.
pub(super) fn rows(spans: &[Span]) -> f64 {
    1.0 + spans.iter().filter(|(from, to, shown)| Figure::of(shown).width(TEXT) + 2.0 > to - from).count() as f64
}

/// A chain of vertical dimensions on a line at `x`, figures to its right, for an outline whose edge
/// is at `edge`. Figures that would touch are moved apart and led to their spans.
pub(super) fn down(spans: &[Span], x: f64, edge: f64) -> Group {
    let mut group = Group::new();
    let toward = if edge > x { 1.0 } else { -1.0 };
    let middles: Vec<f64> = spans.iter().map(|(from, to, _)| (from + to) / 2.0).collect();
    let places = spread(&middles, Figure::height(TEXT) + 1.0);
    for ((from, to, shown), (middle, place)) in spans.iter().zip(middles.iter().zip(places)) {
        let figure = Figure::of(shown);
        for y in [*from, *to] {
            group = group.add(ink::line([edge - OFF * toward, y], [x - PAST * toward, y], THIN)).add(tick([x, y]));
        }
        let start = x + 2.6;
        group = group.add(ink::line([x, *from], [x, *to], THIN));
        if (place - middle).abs() > 0.5 {
            group = group.add(ink::line([x, *middle], [start - 0.4, place], THIN));
        }
        group = group.add(figure.draw([start + figure.width(TEXT) / 2.0, place], TEXT));
    }
    group
}

/// How far such a chain reaches to the right of its line.
pub(super) fn reach(spans: &[Span]) -> f64 {
    2.6 + spans.iter().map(|s| Figure::of(s.2).width(TEXT)).fold(0.0, f64::max)
}

/// Places at least `room` apart, in order, with the same middle as what they are for.
fn spread(at: &[f64], room: f64) -> Vec<f64> {
    let mut places = at.to_vec();
    for i in 1..places.len() {
        places[i] = places[i].max(places[i - 1] + room);
    }
    let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len().max(1) as f64;
    let over = mean(&places) - mean(at);
    places.iter_mut().for_each(|p| *p -= over);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_falls_into_its_parts() {
        let figure = Figure::of("11 3/8 in full");
        assert_eq!((figure.whole, figure.fraction, &figure.after[..]), ("11", Some(("3", "8")), &["full"][..]));
        let figure = Figure::of("-1/2 in");
        assert_eq!((figure.whole, figure.fraction), ("-", Some(("1", "2"))));
        let figure = Figure::of("206.5 mm bare");
        assert_eq!((figure.whole, figure.fraction, &figure.after[..]), ("206.5", None, &["bare"][..]));
        assert_eq!(Figure::of("").width(3.0), 0.0);
    }

    #[test]
    fn figures_keep_apart() {
        assert_eq!(spread(&[0.0, 1.0, 2.0], 3.0), [-2.0, 1.0, 4.0]);
        assert_eq!(spread(&[0.0, 10.0], 3.0), [0.0, 10.0]);
    }
}
