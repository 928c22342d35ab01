//! What stands over, under and on each strip: its number, its turn, the letters of its blanks.
//!
//! Must not know of the page beside them.

use super::{GAP, LEAD, LEAST, Sheet, TEXT};
use crate::ink::{self, Anchor, HALF_CAPITAL};
use crate::{face, lettering};
use quarterturn_geometry::board::{Board, LaidStrip};
use quarterturn_geometry::layup::Turn;
use svg::node::element::Group;

/// The strip's number in its panel, after the panel's name where there are several.
pub(crate) fn number(board: &Board, place: usize) -> String {
    let strip = &board.strips()[place].place;
    match board.panels() {
        [_] => format!("{}", strip.strip + 1),
        panels => format!("{} {}", lettering::plain(&panels[strip.panel].name, 8), strip.strip + 1),
    }
}

/// One size for all numbers: the largest that fits every strip, within reason.
pub(super) fn numbers_fit(board: &Board) -> f64 {
    let strips = board.strips().iter().enumerate();
    let fits = strips.map(|(place, strip)| lettering::fitting(&number(board, place), thickness(strip) * 0.78, 6.0));
    fits.fold(6.0, f64::min)
}

const fn thickness(strip: &LaidStrip) -> f64 {
    strip.slab.thickness
}

/// How the turns are lettered: side by side in two short lines, or upright where strips are narrow.
pub(super) struct Turns {
    upright: bool,
    size: f64,
    /// The room that they take, mm.
    pub(super) high: f64,
}

impl Turns {
    pub(super) fn of(board: &Board) -> Self {
        let narrowest = board.strips().iter().map(thickness).fold(f64::INFINITY, f64::min);
        let longest = |words: Vec<&str>| words.iter().map(|w| lettering::width(w, 1.0)).fold(0.0, f64::max);
        let turns = || board.strips().iter().map(|s| s.place.turn);
        let size = (narrowest * 0.92 / longest(turns().flat_map(two_lines).collect())).min(TEXT);
        if size >= 2.2 {
            return Self { upright: false, size, high: 2.0 * size * LEAD };
        }
        let size = (narrowest * 0.7).min(TEXT);
        Self { upright: true, size, high: size * longest(turns().map(Turn::name).collect()) }
    }

    /// As cut is grey: what is black has to be turned.
    fn word(&self, turn: Turn, [x, top]: [f64; 2]) -> Group {
        let group = Group::new().set("fill", if turn == Turn::AsCut { "#707070" } else { "black" });
        if self.upright {
            let x = x + self.size * HALF_CAPITAL;
            let turned = format!("rotate(-90 {} {})", ink::mm(x), ink::mm(top));
            return group.add(ink::word(turn.name(), [x, top], self.size, Anchor::End).set("transform", turned));
        }
        let line = |i: usize| top + self.size * (0.8 + LEAD * i as f64);
        let lines = two_lines(turn).into_iter().filter(|text| !text.is_empty()).enumerate();
        lines.fold(group, |group, (i, text)| group.add(ink::word(text, [x, line(i)], self.size, Anchor::Middle)))
    }
}

/// A turn's name in two short lines.
pub(crate) const fn two_lines(turn: Turn) -> [&'static str; 2] {
    match turn {
        Turn::AsCut => ["as cut", ""],
        Turn::RolledOver => ["rolled", "over"],
        Turn::EndForEnd => ["end for", "end"],
        Turn::EndOverEnd => ["end over", "end"],
    }
}

impl Sheet<'_> {
    /// Number above and turn below every strip.
    pub(super) fn strips(&self) -> Group {
        let mut group = Group::new();
        for (place, strip) in self.board.strips().iter().enumerate() {
            let [from, to] = self.span(place);
            let middle = (from + to) / 2.0;
            let number = number(self.board, place);
            group = group.add(ink::word(&number, [middle, self.top() - GAP], self.number_size, Anchor::Middle));
            group = group.add(self.turns.word(strip.place.turn, [middle, self.bottom() + GAP]));
        }
        group
    }

    /// The blank's letter on each piece that is large enough.
    pub(super) fn letters(&self) -> Group {
        let mut group = Group::new();
        for piece in self.board.pieces() {
            let panel = &self.board.panels()[self.board.strips()[piece.place].place.panel];
            let letter = lettering::plain(&panel.blanks[piece.blank].blank.letter, 4);
            let [wide, high] = [piece.high.x - piece.low.x, piece.high.y - piece.low.y];
            let size = lettering::fitting(&letter, wide * 0.7, 6.0).min(high * 0.6);
            if size < LEAST || size < 6.0 * self.pixel {
                continue;
            }
            let x = self.left() + (piece.low.x + piece.high.x) / 2.0;
            let y = self.top() + face::down(self.side, (piece.low.y + piece.high.y) / 2.0, self.size.width);
            group = group.add(ink::word_on_wood(&letter, [x, y + size * HALF_CAPITAL], size));
        }
        group
    }
}
