//! Sentences with figures in them, broken into lines: whole number and stacked fraction well apart, a figure never torn.
//!
//! Must not know what is said or where it stands.

use super::page::{Fraction, Item, Page, Side, Text, Tone};
use crate::lettering;
use crate::words::{END, SET, TOLD};

/// How large words and figures are, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    /// Words.
    pub(crate) words: f64,
    /// Figures in a sentence: whole numbers.
    pub(crate) told: f64,
    /// Figures that something is set by: whole numbers.
    pub(crate) set: f64,
    pub(crate) tone: Tone,
}

/// A point of 1/72 in, mm.
pub(crate) const POINT: f64 = 25.4 / 72.0;

impl Style {
    /// A fraction's figures are 14 points where something is set by them, the whole number beside them 20.
    pub(crate) const SETTING: f64 = 20.0 * POINT;

    pub(crate) const fn body() -> Self {
        Self::of(10.5)
    }

    pub(crate) const fn small() -> Self {
        Self::of(8.0)
    }

    /// Words of so many points, figures in a sentence a little larger.
    pub(crate) const fn of(points: f64) -> Self {
        let words = points * POINT;
        Self { words, told: words * 1.12, set: Self::SETTING, tone: Tone::Black }
    }

    pub(crate) const fn toned(self, tone: Tone) -> Self {
        Self { tone, ..self }
    }
}

/// Between the parts of a figure, as a share of its size.
const APART: f64 = 0.38;

#[derive(Clone, Debug)]
enum Piece {
    Word(String, f64),
    Fraction(String, String, f64),
    Gap(f64),
}

impl Piece {
    fn width(&self) -> f64 {
        match self {
            Self::Word(text, size) => lettering::width(text, *size),
            Self::Fraction(top, bottom, size) => Fraction::width(top, bottom, *size),
            Self::Gap(wide) => *wide,
        }
    }

    fn reach(&self) -> [f64; 2] {
        match self {
            Self::Word(_, size) => [size * 0.78, size * 0.24],
            Self::Fraction(_, _, size) => Fraction::reach(*size),
            Self::Gap(_) => [0.0; 2],
        }
    }
}

/// Pieces between two spaces: never parted.
type Token = Vec<Piece>;

/// One line of a text, laid out.
#[derive(Clone, Debug, Default)]
pub(crate) struct Line {
    pieces: Vec<(f64, Piece)>,
    pub(crate) width: f64,
    /// Above the baseline and below it.
    pub(crate) reach: [f64; 2],
}

/// A text in lines.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    pub(crate) lines: Vec<Line>,
    style: Style,
}

impl Block {
    /// Breaks a sentence into lines no wider than `room`; a token wider alone stands in a line of its own.
    pub(crate) fn of(text: &str, style: Style, room: f64) -> Self {
        let space = lettering::width(" ", style.words);
        let mut lines: Vec<Line> = vec![Line::default()];
        for token in tokens(text, style).into_iter().flat_map(|token| parted(token, room)) {
            let wide: f64 = token.iter().map(Piece::width).sum();
            let full = lines.last().is_some_and(|line| line.width > 0.0 && line.width + space + wide > room);
            if full {
                lines.push(Line::default());
            }
            if let Some(line) = lines.last_mut() {
                if line.width > 0.0 {
                    line.width += space;
                    join_space(line);
                }
                for piece in token {
                    line.add(piece);
                }
            }
        }
        Self { lines, style }
    }

    pub(crate) fn width(&self) -> f64 {
        self.lines.iter().map(|line| line.width).fold(0.0, f64::max)
    }

    pub(crate) fn height(&self) -> f64 {
        self.lines.iter().map(|line| self.high(line)).sum()
    }

    fn high(&self, line: &Line) -> f64 {
        let plain = self.style.words * 1.36;
        let [up, down] = line.reach;
        (up + down + self.style.words * 0.3).max(plain)
    }

    /// Draws the lines from an upper left corner (or upper middle, or upper right).
    pub(crate) fn draw(&self, page: &mut Page, [x, top]: [f64; 2], side: Side) {
        let mut y = top;
        for line in &self.lines {
            let [up, down] = line.reach;
            let spare = self.high(line) - up - down;
            let base = y + spare / 2.0 + up;
            let back = match side {
                Side::Start => 0.0,
                Side::Middle => line.width / 2.0,
                Side::End => line.width,
            };
            line.draw(page, [x - back, base], self.style.tone);
            y += self.high(line);
        }
    }
}

/// A space belongs to the word before it, so that what is copied has its spaces.
fn join_space(line: &mut Line) {
    if let Some((_, Piece::Word(text, _))) = line.pieces.last_mut() {
        text.push(' ');
    }
}

impl Line {
    fn add(&mut self, piece: Piece) {
        let wide = piece.width();
        let reach = piece.reach();
        self.reach = [self.reach[0].max(reach[0]), self.reach[1].max(reach[1])];
        let at = self.width;
        self.width += wide;
        // Words of one size are one run.
        if let (Some((_, Piece::Word(before, size))), Piece::Word(text, own)) = (self.pieces.last_mut(), &piece)
            && (*size - own).abs() < 1e-9
        {
            before.push_str(text);
            return;
        }
        self.pieces.push((at, piece));
    }

    fn draw(&self, page: &mut Page, [x, base]: [f64; 2], tone: Tone) {
        for (at, piece) in &self.pieces {
            let at = [x + at, base];
            match piece {
                Piece::Word(text, size) => {
                    let text = Text { text: text.clone(), at, size: *size, tone, upward: false, on_wood: false };
                    page.items.push(Item::Text(text));
                }
                Piece::Fraction(top, bottom, size) => {
                    let fraction = Fraction { top: top.clone(), bottom: bottom.clone(), at, size: *size, tone };
                    page.items.push(Item::Fraction(fraction));
                }
                Piece::Gap(_) => {}
            }
        }
    }
}

/// A word that is wider than the room, in parts that aren't.
fn parted(token: Token, room: f64) -> Vec<Token> {
    if token.iter().map(Piece::width).sum::<f64>() <= room {
        return vec![token];
    }
    let mut parts: Vec<Token> = Vec::new();
    for piece in token {
        let Piece::Word(text, size) = piece else {
            parts.push(vec![piece]);
            continue;
        };
        let mut part = String::new();
        for c in text.chars() {
            if !part.is_empty() && lettering::width(&part, size) + lettering::width(&c.to_string(), size) > room {
                parts.push(vec![Piece::Word(std::mem::take(&mut part), size)]);
            }
            part.push(c);
        }
        parts.push(vec![Piece::Word(part, size)]);
    }
    parts
}

fn tokens(text: &str, style: Style) -> Vec<Token> {
    let mut all: Vec<Token> = Vec::new();
    let mut open: Token = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if c == SET || c == TOLD {
            let inner = &rest[c.len_utf8()..];
            let end = inner.find(END).unwrap_or(inner.len());
            let size = if c == SET { style.set } else { style.told };
            open.extend(figure(&inner[..end], size, style.words));
            rest = inner.get(end + END.len_utf8()..).unwrap_or_default();
        } else if c.is_whitespace() {
            if !open.is_empty() {
                all.push(std::mem::take(&mut open));
            }
            rest = &rest[c.len_utf8()..];
        } else {
            let end = rest.find(|c: char| c == SET || c == TOLD || c.is_whitespace()).unwrap_or(rest.len());
            open.push(Piece::Word(rest[..end].to_owned(), style.words));
            rest = &rest[end..];
        }
    }
    if !open.is_empty() {
        all.push(open);
    }
    all
}

/// `11 3/8 in full`: a whole number, a fraction, words, with room between them.
fn figure(shown: &str, size: f64, words: f64) -> Token {
    let mut pieces = Token::new();
    for part in shown.split_whitespace() {
        if !pieces.is_empty() {
            // The space is written where a word can carry it, and its room is kept everywhere.
            let wide = size * APART;
            match pieces.last_mut() {
                Some(Piece::Word(text, own)) => {
                    let space = lettering::width(" ", *own);
                    text.push(' ');
                    pieces.push(Piece::Gap((wide - space).max(0.0)));
                }
                _ => pieces.push(Piece::Gap(wide)),
            }
        }
        let numeric = part.trim_start_matches(['-', '−']).starts_with(|c: char| c.is_ascii_digit());
        let fraction = part.split_once('/').filter(|(top, bottom)| {
            let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
            digits(top.trim_start_matches('-')) && digits(bottom)
        });
        match fraction {
            Some((top, bottom)) => pieces.push(Piece::Fraction(top.to_owned(), bottom.to_owned(), size)),
            None => pieces.push(Piece::Word(part.to_owned(), if numeric { size } else { words.max(size * 0.55) })),
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marked(kind: char, shown: &str) -> String {
        format!("{kind}{shown}{END}")
    }

    #[test]
    fn a_fraction_is_stacked_and_stands_apart_from_its_whole_number() {
        let block = Block::of(&format!("Set {} from the blade.", marked(SET, "11 3/8 in full")), Style::body(), 500.0);
        let pieces = &block.lines[0].pieces;
        let whole = pieces.iter().find(|(_, p)| matches!(p, Piece::Word(t, _) if t == "11 ")).unwrap();
        let (at, fraction) = pieces.iter().find(|(_, p)| matches!(p, Piece::Fraction(..))).unwrap();
        let ends = whole.0 + lettering::width("11", Style::SETTING);
        assert!((at - ends) >= Style::SETTING * APART - 1e-9, "{at} after {ends}");
        assert!(
            matches!(fraction, Piece::Fraction(t, b, s) if t == "3" && b == "8" && *s * Fraction::SMALL >= 14.0 * POINT - 1e-9)
        );
    }

    #[test]
    fn a_figure_is_not_torn_and_no_line_is_too_wide() {
        let figure = marked(TOLD, "11 3/8 in full");
        for room in 45..90 {
            let room = f64::from(room);
            let block =
                Block::of(&format!("one two {figure}, three four {figure} {}", "x".repeat(80)), Style::body(), room);
            for line in &block.lines {
                assert!(line.width <= room + 1e-9 || line.pieces.len() > 2, "{} in {room}", line.width);
                let words = line.pieces.iter().filter(|(_, p)| matches!(p, Piece::Fraction(..))).count();
                let fulls =
                    line.pieces.iter().filter(|(_, p)| matches!(p, Piece::Word(t, _) if t.contains("full"))).count();
                assert_eq!(words, fulls);
            }
        }
    }

    #[test]
    fn lines_are_stacked_by_their_heights() {
        let block = Block::of("one two three", Style::body(), 12.0);
        assert!(block.lines.len() >= 2);
        let one = Block::of("one", Style::body(), 12.0);
        assert!((block.height() - one.height() * block.lines.len() as f64).abs() < 1e-9);
        assert!(block.width() <= 12.0);
    }
}
