//! How the board will move with the seasons: the air that the plan names, the board, every piece on a drawing, and where
//! neighbours disagree. Only where a wood's coefficients are published.

use super::{Flow, Shop};
use crate::lettering;
use crate::paper::flow::{GAP, MARGIN};
use crate::paper::page::{Page, Side, Tone};
use crate::paper::text::{POINT, Style};
use crate::words::Told;
use quarterturn_geometry::movement::{Along, Mismatch, MovedPiece, Moving};

/// Glue lines that are told and drawn, at most.
const TOLD: usize = 5;
/// The distance between two lines of the hatching where pieces move most, mm on paper.
const CLOSE: f64 = 0.9;
/// Where they move least, no farther apart than this, mm on paper.
const FAR: f64 = 6.0;
/// However little is left beside what stands under it, the drawing is no lower, mm.
const LOW: f64 = 60.0;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    let Some(moving) = Moving::of(shop.board, &shop.job.seasons) else { return };
    if moving.pieces.iter().all(|piece| piece.grows.is_none()) {
        return;
    }
    flow.sheet("moves-title");
    flow.say("moves-about", &[]);
    seasons(shop, flow);
    whole(shop, &moving, flow);
    let told = told(shop, &moving);
    let under = |flow: &mut Flow| {
        flow.small("moves-drawn-says", &[]);
        flow.heading("moves-disagree");
        disagree(shop, &moving, told, flow);
        doubts(shop, &moving, flow);
        flow.small("moves-limits", &[]);
        flow.small("moves-sources", &[]);
    };
    flow.heading("moves-drawn");
    // All of it on one page where it can be.
    let high = (flow.left() - flow.high_of(under)).max(LOW);
    drawing(shop, &moving, told, high, flow);
    under(flow);
}

/// The air, season by season, and what wood comes to in it.
fn seasons(shop: &Shop, flow: &mut Flow) {
    let head = ["moves-season", "moves-temperature", "moves-humidity", "moves-moisture"];
    let head = head.map(|key| shop.words.say(key));
    let row = |(i, season): (usize, &quarterturn_geometry::movement::Season)| {
        let of = |name: &str| shop.figure(&format!("season.{i}.{name}"));
        vec![shop.words.name("season", &season.name), of("temperature"), of("humidity"), of("moisture")]
    };
    let rows: Vec<Vec<String>> = (1..).zip(&shop.job.seasons.all).map(row).collect();
    flow.table(&head, &rows, Style::of(10.5));
    if shop.job.seasons.assumed {
        flow.small("moves-assumed", &[]);
    }
}

/// The board's length and width, from when it is made to both ends of the year.
fn whole(shop: &Shop, moving: &Moving, flow: &mut Flow) {
    flow.say("moves-made", &[("made", Told::Figure(shop.shown("movement.made")))]);
    if moving.board.is_none() {
        return;
    }
    let [dry, damp] = [&moving.seasons[0], &moving.seasons[1]].map(|name| shop.words.name("season", name));
    let to = |season: &str| shop.words.with("moves-to", &[("season", Told::Word(season))]);
    let head = [String::new(), to(&dry), to(&damp), shop.words.say("moves-in-all")];
    let row = |part: &str| {
        let of = |name: &str| shop.figure(&format!("movement.{part} {name}"));
        vec![shop.words.say(&format!("moves-{part}")), of("to driest"), of("to dampest"), of("grows")]
    };
    flow.table(&head, &[row("length"), row("width")], Style::of(11.5));
}

/// How many of the glue lines that disagree most are told: those that a maker can measure anything of.
fn told(shop: &Shop, moving: &Moving) -> usize {
    let measurable = |i: &usize| {
        shop.shown(&format!("movement.mismatch.{i}.wants")).contains(|c: char| c.is_ascii_digit() && c != '0')
    };
    (1..=moving.mismatches.len().min(TOLD)).take_while(measurable).count()
}

/// The plan of the board, so high with its words at most: every piece with lines that run the way it moves, the closer the more; the worst glue lines.
fn drawing(shop: &Shop, moving: &Moving, told: usize, high: f64, flow: &mut Flow) {
    let size = shop.board.finished();
    let words = 5.0;
    let high = high - 2.0 * words - 2.0 * GAP;
    let scale = ((flow.room() - 2.0 * words) / size.length).min(high / size.width).min(1.0);
    let [wide, high] = [size.length * scale, size.width * scale];
    let top = flow.take(high + 2.0 * words) + words;
    let left = MARGIN + (flow.room() - wide) / 2.0;
    let most = moving.pieces.iter().filter_map(|piece| piece.coefficients).flatten().map(|c| c.0).fold(1e-9, f64::max);
    let [back, front, to_left, to_right] = ["back", "front", "left", "right"].map(|side| shop.words.name("side", side));
    let page = flow.page();
    // Y runs to the back, the page down.
    let at = |x: f64, y: f64| [left + x * scale, top + (size.width - y) * scale];
    for piece in &moving.pieces {
        hatched(page, piece, most, &at);
    }
    page.rectangle([left, top], [wide, high], 0.4);
    page.text(&back, [left + wide / 2.0, top - 1.5], 9.0 * POINT, Side::Middle);
    page.text(&front, [left + wide / 2.0, top + high + 3.8], 9.0 * POINT, Side::Middle);
    page.upward(&to_left, [left - 1.5, top + high / 2.0], 9.0 * POINT);
    page.upward(&to_right, [left + wide + 4.0, top + high / 2.0], 9.0 * POINT);
    for (i, mismatch) in moving.mismatches.iter().take(told).enumerate().rev() {
        marked(page, i + 1, mismatch, moving, &at);
    }
}

/// A piece's outline, and its lines: along X as close as it moves along X, along Y likewise.
fn hatched(page: &mut Page, piece: &MovedPiece, most: f64, at: &impl Fn(f64, f64) -> [f64; 2]) {
    let [low, high] = [at(piece.piece.low.x, piece.piece.high.y), at(piece.piece.high.x, piece.piece.low.y)];
    let size = [high[0] - low[0], high[1] - low[1]];
    if let Some([along_x, along_y]) = piece.coefficients {
        for y in spread(size[1], along_x.0 / most) {
            page.line([low[0], low[1] + y], [high[0], low[1] + y], 0.1, Tone::Grey);
        }
        for x in spread(size[0], along_y.0 / most) {
            page.line([low[0] + x, low[1]], [low[0] + x, high[1]], 0.1, Tone::Grey);
        }
    }
    page.rectangle(low, size, 0.18);
}

/// Places of lines over a stretch: their distance is the least one over the share.
fn spread(long: f64, share: f64) -> Vec<f64> {
    let apart = (CLOSE / share.max(1e-6)).min(FAR);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let count = (long / apart).round().clamp(0.0, 400.0) as usize;
    (0..count).map(|i| long * (i as f64 + 0.5) / count as f64).collect()
}

/// A glue line as a thick stroke with its rank on a white disc.
fn marked(page: &mut Page, rank: usize, mismatch: &Mismatch, moving: &Moving, at: &impl Fn(f64, f64) -> [f64; 2]) {
    let [a, b] = mismatch.pieces.map(|i| &moving.pieces[i].piece);
    let overlap = |low: [f64; 2], high: [f64; 2]| [low[0].max(low[1]), high[0].min(high[1])];
    let between = |a: [f64; 2], b: [f64; 2]| if (a[1] - b[0]).abs() < (b[1] - a[0]).abs() { a[1] } else { a[0] };
    let [from, to] = match mismatch.along {
        Along::Width => {
            let [y0, y1] = overlap([a.low.y, b.low.y], [a.high.y, b.high.y]);
            let x = between([a.low.x, a.high.x], [b.low.x, b.high.x]);
            [at(x, y0), at(x, y1)]
        }
        Along::Length => {
            let [x0, x1] = overlap([a.low.x, b.low.x], [a.high.x, b.high.x]);
            let y = between([a.low.y, a.high.y], [b.low.y, b.high.y]);
            [at(x0, y), at(x1, y)]
        }
    };
    page.line(from, to, 2.2, Tone::White);
    page.line(from, to, 1.4, Tone::Black);
    let middle = [(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0];
    page.circle(middle, 2.3, 0.4, Some(Tone::White));
    let size = 8.0 * POINT;
    page.text(&rank.to_string(), [middle[0], middle[1] + size * 0.365], size, Side::Middle);
}

/// The worst in a sentence, the next in a table.
fn disagree(shop: &Shop, moving: &Moving, told: usize, flow: &mut Flow) {
    let limit = shop.job.rule.hair(shop.job.limits.movement.mm());
    if told == 0 {
        let least = shop.job.rule.hair(match shop.job.rule.unit() {
            quarterturn_geometry::measure::Unit::Inch => 0.0254,
            quarterturn_geometry::measure::Unit::Millimetre => 0.01,
        });
        flow.say("moves-alike", &[("least", Told::Figure(&least))]);
        return;
    }
    let worst = &moving.mismatches[0];
    let [more, less] = worst.pieces.map(|i| &moving.pieces[i]);
    let [wood, other] = [more, less].map(|piece| shop.words.name("wood", &piece.wood));
    let [dry, damp] = [&moving.seasons[0], &moving.seasons[1]].map(|name| shop.words.name("season", name));
    let key = if wood == other { "moves-reading-alike" } else { "moves-reading" };
    let mut reading = vec![
        ("wood", Told::Word(&wood)),
        ("wants", Told::Figure(shop.shown("movement.mismatch.1.wants"))),
        ("dry", Told::Word(&dry)),
        ("damp", Told::Word(&damp)),
    ];
    if wood != other {
        reading.push(("other", Told::Word(&other)));
    }
    flow.say(key, &reading);
    let head = ["moves-rank", "moves-wants", "moves-over", "moves-piece", "moves-than"].map(|key| shop.words.say(key));
    let row = |(i, mismatch): (usize, &Mismatch)| {
        let of = |name: &str| shop.figure(&format!("movement.mismatch.{i}.{name}"));
        let [more, less] = mismatch.pieces.map(|p| named(shop, &moving.pieces[p]));
        vec![i.to_string(), of("wants"), of("shared"), more, less]
    };
    let rows: Vec<Vec<String>> = (1..=told).zip(&moving.mismatches).map(row).collect();
    flow.table(&head, &rows, Style::of(9.0));
    flow.small("moves-limit", &[("limit", Told::Figure(&limit))]);
}

/// A piece in words: its wood, its blank's letter and its strip's place from the left.
fn named(shop: &Shop, piece: &MovedPiece) -> String {
    let strip = shop.board.strips().get(piece.piece.place);
    let panel = strip.and_then(|strip| shop.board.panels().get(strip.place.panel));
    let letter = panel.and_then(|panel| panel.blanks.get(piece.piece.blank)).map_or("", |laid| &laid.blank.letter);
    let letter = lettering::plain(letter, 8);
    let wood = shop.words.name("wood", &piece.wood);
    let place = Told::Count(piece.piece.place + 1);
    shop.words.with("moves-named", &[("wood", Told::Word(&wood)), ("place", place), ("letter", Told::Word(&letter))])
}

/// Woods that nothing is known of, and pieces that nobody looked at.
fn doubts(shop: &Shop, moving: &Moving, flow: &mut Flow) {
    if !moving.unknown.is_empty() {
        let woods: Vec<String> = moving.unknown.iter().map(|wood| shop.words.name("wood", wood)).collect();
        flow.small("moves-unknown", &[("woods", Told::Word(&woods.join(", ")))]);
    }
    if moving.pieces.iter().any(|piece| piece.guessed) {
        flow.small("moves-guessed", &[]);
    }
}

#[cfg(test)]
mod tests {
    use crate::words::{Language, Words};
    use quarterturn_geometry::movement::LIMITS;

    #[test]
    fn the_limits_of_the_theory_are_said_as_the_model_states_them() {
        assert_eq!(Words::of(Language::English).say("moves-limits"), LIMITS);
    }
}
