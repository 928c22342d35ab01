//! Strokes that the drawings on the sheets share: hatching, arrows, distances.

use crate::paper::page::{Page, Path, Side, Tone};
use crate::paper::text::{Block, POINT, Style};

/// Words and figures on a drawing.
pub(super) const WORDS: f64 = 8.5 * POINT;

/// A rectangle with slanted lines.
pub(super) fn hatched(page: &mut Page, [x, y]: [f64; 2], [wide, high]: [f64; 2]) {
    page.filled([x, y], [wide, high], Tone::White);
    page.rectangle([x, y], [wide, high], 0.45);
    let mut at = -high + 3.0;
    while at < wide {
        let (from, to) = (at.max(0.0), (at + high).min(wide));
        page.line([x + from, y + high - (from - at)], [x + to, y + high - (to - at)], 0.12, Tone::Grey);
        at += 3.0;
    }
}

/// Words on a white ground.
pub(super) fn on_white(page: &mut Page, text: &str, at: [f64; 2], side: Side) {
    page.on_white(text, at, WORDS, side);
}

/// A dashed line.
pub(super) fn dashed(page: &mut Page, points: Vec<[f64; 2]>, closed: bool) {
    page.path(Path { dashed: true, closed, ..Path::open(points, 0.35, Tone::Black) });
}

/// An arrow.
pub(super) fn arrow(page: &mut Page, from: [f64; 2], to: [f64; 2]) {
    let long = (to[0] - from[0]).hypot(to[1] - from[1]).max(1e-9);
    let [u, v] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
    let neck = [to[0] - u * 2.6, to[1] - v * 2.6];
    page.line(from, neck, 0.5, Tone::Black);
    let head = vec![to, [neck[0] - v * 1.2, neck[1] + u * 1.2], [neck[0] + v * 1.2, neck[1] - u * 1.2]];
    page.path(Path { closed: true, fill: Some(Tone::Black), ..Path::open(head, 0.1, Tone::Black) });
}

/// Distances one after another: from each place a line down to the chain, between two of them the figure.
pub(super) fn chain(page: &mut Page, places: &[f64], from: f64, row: f64, figures: &[String]) {
    for x in places {
        page.line([*x, from + 0.8], [*x, row + 1.2], 0.12, Tone::Black);
    }
    for (pair, figure) in places.windows(2).zip(figures) {
        page.line([pair[0], row], [pair[1], row], 0.2, Tone::Black);
        for (at, other) in [(pair[0], pair[1]), (pair[1], pair[0])] {
            let along = (other - at).signum() * 2.0;
            if (other - at).abs() > 6.0 {
                let head = vec![[at, row], [at + along, row - 0.7], [at + along, row + 0.7]];
                page.path(Path { closed: true, fill: Some(Tone::Black), ..Path::open(head, 0.1, Tone::Black) });
            }
        }
        if figure.is_empty() {
            continue;
        }
        let block = Block::of(figure, Style::of(9.0), 1e3);
        let middle = (pair[0] + pair[1]) / 2.0;
        let [wide, high] = [block.width(), block.height()];
        if wide + 6.0 < pair[1] - pair[0] {
            page.filled([middle - wide / 2.0 - 1.0, row - high / 2.0], [wide + 2.0, high], Tone::White);
            block.draw(page, [middle, row - high / 2.0], Side::Middle);
        } else {
            block.draw(page, [pair[1] + 2.0, row - high / 2.0], Side::Start);
        }
    }
}

/// From the drawing to a line at its right, and from there to its figure, mm.
const TO_UPRIGHT: f64 = 4.0;
const BESIDE: f64 = 1.6;

/// How much room a figure takes at the right of a drawing, mm; a strip of waste may lie between.
pub(super) fn upright_room(figure: &str) -> f64 {
    const STRIP: f64 = 5.0;
    STRIP + TO_UPRIGHT + BESIDE + Block::of(figure, Style::of(9.0), 1e3).width()
}

/// Distances up the page beside a line, their figures at its right, none on another.
pub(super) fn upright(page: &mut Page, spans: &[([f64; 2], &String)], right: f64) {
    let x = right + TO_UPRIGHT;
    let mut free = f64::NEG_INFINITY;
    for ([from, to], figure) in spans {
        for y in [from, to] {
            page.line([right, *y], [x + 1.0, *y], 0.12, Tone::Black);
        }
        page.line([x, *from], [x, *to], 0.2, Tone::Black);
        let block = Block::of(figure, Style::of(9.0), 1e3);
        let y = (f64::midpoint(*from, *to) - block.height() / 2.0).max(free);
        block.draw(page, [x + BESIDE, y], Side::Start);
        free = y + block.height();
    }
}

/// Distances along a line below a small drawing, their figures under it, none on another.
pub(super) fn level(page: &mut Page, places: &[f64], from: f64, figures: &[String]) {
    let y = from + 3.0;
    for x in places {
        page.line([*x, from], [*x, y + 1.0], 0.12, Tone::Black);
    }
    let mut spans: Vec<([f64; 2], &String)> = places
        .windows(2)
        .map(|pair| [pair[0].min(pair[1]), pair[0].max(pair[1])])
        .zip(figures)
        .filter(|(_, figure)| !figure.is_empty())
        .collect();
    spans.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut free = [f64::NEG_INFINITY; 2];
    for ([begins, ends], figure) in spans {
        page.line([begins, y], [ends, y], 0.2, Tone::Black);
        let block = Block::of(figure, Style::of(9.0), 1e3);
        let (middle, half) = (f64::midpoint(begins, ends), block.width() / 2.0);
        let row = usize::from(middle - half < free[0]);
        let at = middle.max(free[row] + half);
        block.draw(page, [at, y + 1.2 + row as f64 * block.height()], Side::Middle);
        free[row] = at + half + 1.5;
    }
}
