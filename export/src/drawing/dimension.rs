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
const SMALL: f64 = 0.75;

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

    fn fits(&self, span: f64) -> bool {
        self.width(TEXT) + 2.0 <= span
    }

    pub(super) fn width(&self, size: f64) -> f64 {
        let parts = self.parts(size);
        let gaps = parts.iter().filter(|w| **w > 0.0).count().saturating_sub(1);
        parts.iter().sum::<f64>() + gaps as f64 * SPACE * size
    }

    /// Its height, a stacked fraction's where there is one.
    pub(super) const fn height(size: f64) -> f64 {
        size * 1.4
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

/// A chain of dimensions side by side: where they meet, from where each place's extension line
/// comes, and the lengths as shown, one fewer than places.
pub(super) struct Chain<'a> {
    pub(super) at: Vec<f64>,
    pub(super) from: Vec<f64>,
    pub(super) shown: Vec<&'a str>,
}

impl<'a> Chain<'a> {
    /// One length, between two corners of an outline whose edge is at `from`.
    pub(super) fn one(end: f64, from: f64, shown: &'a str) -> Self {
        Self { at: vec![0.0, end], from: vec![from; 2], shown: vec![shown] }
    }

    fn spans(&self) -> impl Iterator<Item = (f64, f64, Figure<'a>)> {
        self.at.windows(2).zip(&self.shown).map(|(ends, shown)| (ends[0], ends[1], Figure::of(shown)))
    }

    /// How many rows the figures take where the chain lies across.
    pub(super) fn rows(&self) -> f64 {
        1.0 + self.spans().filter(|(from, to, figure)| !figure.fits(to - from)).count() as f64
    }

    /// How far the figures reach to the right of the line where the chain goes down.
    pub(super) fn reach(&self) -> f64 {
        ASIDE + self.spans().map(|(_, _, figure)| figure.width(TEXT)).fold(0.0, f64::max)
    }

    /// Drawn across on a line at `y` over its outline or under it. A figure too wide for its span is
    /// lifted by a row, each such one by a row more.
    pub(super) fn across(&self, y: f64) -> Group {
        let mut group = Group::new();
        for (x, edge) in self.at.iter().zip(&self.from) {
            let toward = (edge - y).signum();
            group = group.add(ink::line([*x, edge - OFF * toward], [*x, y - PAST * toward], THIN)).add(tick([*x, y]));
        }
        let mut lifted = 0.0;
        for (from, to, figure) in self.spans() {
            let middle = (from + to) / 2.0;
            let mut at = y - ROW / 2.0;
            if !figure.fits(to - from) {
                lifted += 1.0;
                at -= ROW * lifted;
                group = group.add(ink::line([middle, y], [middle, at + ROW / 2.0 - 0.6], THIN));
            }
            group = group.add(ink::line([from, y], [to, y], THIN)).add(figure.draw([middle, at], TEXT));
        }
        group
    }

    /// Drawn downward on a line at `x`, figures to its right; those that would touch are moved apart
    /// and led to their spans.
    pub(super) fn down(&self, x: f64) -> Group {
        let mut group = Group::new();
        for (y, edge) in self.at.iter().zip(&self.from) {
            let toward = (edge - x).signum();
            group = group.add(ink::line([edge - OFF * toward, *y], [x - PAST * toward, *y], THIN)).add(tick([x, *y]));
        }
        let middles: Vec<f64> = self.spans().map(|(from, to, _)| (from + to) / 2.0).collect();
        let places = spread(&middles, Figure::height(TEXT) + 0.6);
        for ((from, to, figure), (middle, place)) in self.spans().zip(middles.iter().zip(places)) {
            let start = x + ASIDE;
            group = group.add(ink::line([x, from], [x, to], THIN));
            if (place - middle).abs() > 0.5 {
                group = group.add(ink::line([x, *middle], [start - 0.5, place], THIN));
            }
            group = group.add(figure.draw([start + figure.width(TEXT) / 2.0, place], TEXT));
        }
        group
    }
}

/// A tick where a dimension ends.
pub(super) fn tick([x, y]: [f64; 2]) -> svg::node::element::Line {
    const HALF: f64 = 0.9;
    ink::line([x - HALF, y + HALF], [x + HALF, y - HALF], THIN * 2.0)
}

/// How far an extension line runs on past the dimension line, and how far it keeps off the outline.
const PAST: f64 = 1.5;
const OFF: f64 = 1.0;
/// From a line to the figures at its right.
const ASIDE: f64 = 2.6;
/// Figures above their line need this much room over it.
pub(super) const ROW: f64 = TEXT * 1.4 + 1.2;

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
