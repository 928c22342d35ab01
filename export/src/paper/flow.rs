//! Blocks set one under another on pages: titles, steps with boxes to tick, cautions, settings, tables, pictures.
//!
//! A block that doesn't fit on what is left of a page begins the next one. Must not know what it says.

use super::page::{Item, Page, Side, Tone};
use super::text::{Block, POINT, Style};
use crate::lettering;
use crate::words::{Told, Words};
use std::rc::Rc;

/// Around what is printed: no usual printer needs more.
pub(crate) const MARGIN: f64 = 14.0;
/// What head and foot take within the margins.
const HEAD: f64 = 13.0;
const FOOT: f64 = 7.0;
/// Between two blocks.
pub(crate) const GAP: f64 = 2.2;
/// A page that is filled to less than this share holds but a few lines.
const FEW: f64 = 0.4;
/// Shares of the usual gap that are tried to keep them off it.
const CLOSER: [f64; 3] = [0.7, 0.4, 0.2];
/// How large words are that are read from two steps away, points; smaller where a sheet would not stay on one page.
const WALL: [f64; 4] = [12.5, 11.5, 10.5, 9.5];
/// Above a heading, and above a sheet that goes on below another.
const ABOVE_HEADING: f64 = 1.6;
const BETWEEN_SHEETS: f64 = 6.0;
/// A box to tick.
const BOX: f64 = 4.2;
const INDENT: f64 = 7.5;

/// Pages as they grow.
pub(crate) struct Flow<'a> {
    pub(crate) words: &'a Words,
    board: String,
    pub(crate) pages: Vec<Page>,
    size: [f64; 2],
    title: String,
    /// Where the next block begins.
    pub(crate) y: f64,
    /// Between two blocks.
    gap: f64,
    /// How large the words of what hangs on the wall are, points.
    wall: f64,
    /// Headings that wait for what stands under them, so that no page ends with one.
    waiting: Vec<Block>,
    /// The height of an empty page's inside.
    inside: f64,
    /// Whether a sheet goes on below the one before it instead of beginning a page.
    joined: bool,
}

impl<'a> Flow<'a> {
    pub(crate) const fn new(words: &'a Words, board: String, size: [f64; 2]) -> Self {
        let inside = size[1] - 2.0 * MARGIN - FOOT - HEAD;
        Self {
            words,
            board,
            pages: Vec::new(),
            size,
            title: String::new(),
            y: 0.0,
            gap: GAP,
            wall: WALL[0],
            waiting: Vec::new(),
            inside,
            joined: false,
        }
    }

    /// The width between the margins.
    pub(crate) fn room(&self) -> f64 {
        self.size[0] - 2.0 * MARGIN
    }

    fn bottom(&self) -> f64 {
        self.size[1] - MARGIN - FOOT
    }

    /// What is left of this page, once the headings that wait stand on it.
    pub(crate) fn left(&self) -> f64 {
        let waits: f64 = self.waiting.iter().map(|block| ABOVE_HEADING + block.height() + self.gap).sum();
        self.bottom() - self.y - waits
    }

    /// The height of an empty page's inside.
    pub(crate) const fn high(&self) -> f64 {
        self.inside
    }

    pub(crate) fn page(&mut self) -> &mut Page {
        if self.pages.is_empty() {
            self.pages.push(Page::new(self.size));
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// A new sheet.
    pub(crate) fn sheet(&mut self, key: &str) {
        self.sheet_of(self.words.say(key));
    }

    /// The same with its title as it is.
    pub(crate) fn sheet_of(&mut self, title: String) {
        if self.joined {
            self.title_here(&title);
        } else {
            self.title = title;
            self.begin();
        }
    }

    /// A sheet's title below the sheet before it.
    fn title_here(&mut self, title: &str) {
        let block = Block::of(title, Style::of(15.0), self.room());
        self.skip(BETWEEN_SHEETS);
        let top = self.take(block.height());
        block.draw(self.page(), [MARGIN, top], Side::Start);
        let (room, y) = (self.room(), self.y - self.gap + 0.6);
        self.page().line([MARGIN, y], [MARGIN + room, y], 0.4, Tone::Black);
        self.y = y + 2.4;
    }

    /// A new page of the same sheet, which says so.
    fn turn(&mut self) {
        let title = self.title.clone();
        self.title = self.words.with("head-continued", &[("title", Told::Word(&title))]);
        self.begin();
        self.title = title;
    }

    /// A new page, its title and the board's name over it.
    fn begin(&mut self) {
        self.pages.push(Page::new(self.size));
        let (room, title, board) = (self.room(), self.title.clone(), self.board.clone());
        let page = self.page();
        // In one line, as large as there is room beside the board's name.
        let points = lettering::fitting(&title, room * 0.72, 17.0 * POINT) / POINT;
        let block = Block::of(&title, Style::of(points.max(9.0)), room * 0.74);
        block.draw(page, [MARGIN, MARGIN + 5.0 - block.height().min(7.0)], Side::Start);
        let name = Block::of(&board, Style::of(9.0).toned(Tone::Grey), room * 0.25);
        name.draw(page, [MARGIN + room, MARGIN], Side::End);
        let y = MARGIN + HEAD - 4.0;
        page.line([MARGIN, y], [MARGIN + room, y], 0.4, Tone::Black);
        self.y = MARGIN + HEAD;
    }

    /// Begins a new page where less than so much is left of this one.
    pub(crate) fn need(&mut self, high: f64) {
        if self.left() < high.min(self.high()) {
            self.turn();
        }
    }

    /// Draws a sheet. One that may join the sheet before it goes on below it where all of it fits there. Where the last
    /// page would hold but a few lines, everything is moved closer together, if that keeps them off it.
    pub(crate) fn fitted(&mut self, joins: bool, draw: &dyn Fn(&mut Self)) {
        if joins && !self.pages.is_empty() && self.goes_on(draw) {
            return;
        }
        let before = self.pages.len();
        draw(self);
        let pages = self.pages.len();
        let few = self.y - MARGIN - HEAD < FEW * self.high();
        if pages > before + 1 && few {
            for closer in CLOSER {
                self.pages.truncate(before);
                self.gap = GAP * closer;
                draw(self);
                if self.pages.len() < pages {
                    break;
                }
            }
            if self.pages.len() >= pages {
                self.pages.truncate(before);
                self.gap = GAP;
                draw(self);
            }
            self.gap = GAP;
        }
    }

    /// Draws a sheet that hangs on the wall: on one page, closer together and in smaller words if need be.
    pub(crate) fn on_one_page(&mut self, draw: &dyn Fn(&mut Self)) {
        let before = self.pages.len();
        'smaller: for wall in WALL {
            for closer in std::iter::once(1.0).chain(CLOSER) {
                self.pages.truncate(before);
                (self.wall, self.gap) = (wall, GAP * closer);
                draw(self);
                if self.pages.len() == before + 1 {
                    break 'smaller;
                }
            }
        }
        (self.wall, self.gap) = (WALL[0], GAP);
    }

    /// In which style words stand that are read from two steps away.
    pub(crate) const fn wall(&self) -> Style {
        Style::of(self.wall)
    }

    /// Draws a sheet below the one before it, closer together if need be; whether there was room for it.
    fn goes_on(&mut self, draw: &dyn Fn(&mut Self)) -> bool {
        let fits_with = |flow: &mut Self, share: f64| {
            flow.gap = GAP * share;
            flow.high_of(draw) - flow.gap <= flow.left()
        };
        // What doesn't fit at its closest fits in no other way.
        let closest = CLOSER.into_iter().fold(1.0, f64::min);
        let fits = fits_with(self, closest) && {
            let widest = std::iter::once(1.0).chain(CLOSER).find(|share| fits_with(self, *share));
            self.gap = GAP * widest.unwrap_or(closest);
            true
        };
        if fits {
            self.joined = true;
            draw(self);
            self.joined = false;
        }
        self.gap = GAP;
        fits
    }

    /// How much of a page that never ends some blocks would take.
    pub(crate) fn high_of(&self, draw: impl FnOnce(&mut Self)) -> f64 {
        let endless = [self.size[0], 1e5];
        let mut trial = Self::new(self.words, String::new(), endless);
        trial.gap = self.gap;
        trial.wall = self.wall;
        trial.inside = self.inside;
        trial.joined = true;
        trial.begin();
        let top = trial.y;
        draw(&mut trial);
        trial.y - top
    }

    /// Draws blocks that belong on one page, a picture and what is said of it: on a new one where they don't fit on this
    /// one.
    pub(crate) fn together(&mut self, draw: impl Fn(&mut Self)) {
        let high = self.high_of(&draw) - self.gap;
        self.need(high);
        draw(self);
    }

    /// Room on the page for a block so high: its top.
    pub(crate) fn take(&mut self, high: f64) -> f64 {
        self.need(high);
        self.place_headings();
        let top = self.y;
        self.y += high + self.gap;
        top
    }

    /// Draws the headings that wait.
    fn place_headings(&mut self) {
        for block in std::mem::take(&mut self.waiting) {
            self.skip(ABOVE_HEADING);
            let top = self.y;
            self.y += block.height() + self.gap;
            block.draw(self.page(), [MARGIN, top], Side::Start);
        }
    }

    pub(crate) fn skip(&mut self, high: f64) {
        self.y += high;
    }

    pub(crate) fn heading(&mut self, key: &str) {
        let text = self.words.say(key);
        self.heading_of(&text);
    }

    pub(crate) fn heading_of(&mut self, text: &str) {
        self.waiting.push(Block::of(text, Style::of(13.0), self.room()));
    }

    pub(crate) fn say(&mut self, key: &str, told: &[(&str, Told)]) {
        let text = self.words.with(key, told);
        self.paragraph(&text, Style::body(), 0.0);
    }

    pub(crate) fn small(&mut self, key: &str, told: &[(&str, Told)]) {
        let text = self.words.with(key, told);
        self.paragraph(&text, Style::small().toned(Tone::Grey), 0.0);
    }

    pub(crate) fn paragraph(&mut self, text: &str, style: Style, indent: f64) {
        let block = Block::of(text, style, self.room() - indent);
        let top = self.take(block.height());
        block.draw(self.page(), [MARGIN + indent, top], Side::Start);
    }

    /// A step: a box to tick, and what is to be done.
    pub(crate) fn step(&mut self, key: &str, told: &[(&str, Told)]) {
        let text = self.words.with(key, told);
        self.step_of(&text);
    }

    pub(crate) fn step_of(&mut self, text: &str) {
        self.step_in(text, Style::body());
    }

    /// The same in words of another size.
    pub(crate) fn step_in(&mut self, text: &str, style: Style) {
        let block = Block::of(text, style, self.room() - INDENT);
        let top = self.take(block.height().max(BOX + 0.6));
        let first = block.lines.first().map_or(0.0, |line| line.reach[0] + line.reach[1]);
        let drop = ((first - BOX) / 2.0).max(0.4);
        let page = self.page();
        page.rectangle([MARGIN, top + drop], [BOX, BOX], 0.35);
        block.draw(page, [MARGIN + INDENT, top], Side::Start);
    }

    /// What can hurt, beside its step, with its source or "common practice, no source".
    pub(crate) fn caution(&mut self, key: &str) {
        self.caution_told(key, &[]);
    }

    pub(crate) fn caution_told(&mut self, key: &str, told: &[(&str, Told)]) {
        let text = self.words.with(&format!("caution-{key}"), told);
        let source = format!("caution-{key}-source");
        let source = self.words.say(if self.words.has(&source) { &source } else { "no-source" });
        let (indent, room) = (INDENT + 8.0, self.room() - INDENT - 10.0);
        let says = Block::of(&text, Style::body(), room);
        let from = Block::of(&source, Style::of(7.5).toned(Tone::Grey), room);
        let high = says.height() + from.height() + 2.4;
        let top = self.take(high);
        let (x, wide) = (MARGIN + INDENT, self.room() - INDENT);
        let page = self.page();
        page.rectangle([x, top], [wide, high], 0.25);
        page.filled([x, top], [6.0, high], Tone::Black);
        page.toned("!", [x + 3.0, top + high / 2.0 + 1.7], 13.0 * POINT, Side::Middle, Tone::White);
        says.draw(page, [MARGIN + indent, top + 1.2], Side::Start);
        from.draw(page, [MARGIN + indent, top + 1.2 + says.height()], Side::Start);
    }

    /// Names with the figures that something is set by, large, on thin lines; two side by side where both are short.
    pub(crate) fn settings(&mut self, rows: &[(String, String)]) {
        const APART: f64 = 8.0;
        const BESIDE: f64 = 6.0;
        let room = self.room() - INDENT;
        let half = (room - APART) / 2.0;
        let there: Vec<&(String, String)> = rows.iter().filter(|(_, figure)| !figure.is_empty()).collect();
        // A name may take two lines beside a figure that is as high.
        let short = |(name, figure): &(String, String)| {
            let figure = Block::of(figure, Style::body(), 1e6).width();
            figure < half * 0.62 && Block::of(name, Style::of(11.0), half - BESIDE - figure).lines.len() <= 2
        };
        let mut rest = &there[..];
        while let Some(first) = rest.first() {
            let pair = rest.get(1).is_some_and(|second| short(first) && short(second));
            let (row, later) = rest.split_at(if pair { 2 } else { 1 });
            rest = later;
            let wide = if pair { half } else { room };
            let blocks: Vec<[Block; 2]> = row
                .iter()
                .map(|(name, figure)| {
                    let said = Block::of(figure, Style::body(), wide * if pair { 1.0 } else { 0.62 });
                    [Block::of(name, Style::of(11.0), wide - said.width() - BESIDE), said]
                })
                .collect();
            let inside = blocks.iter().flatten().map(Block::height).fold(0.0, f64::max);
            let top = self.take(inside + 1.0) + 0.5;
            let page = self.page();
            for (i, [name, said]) in blocks.iter().enumerate() {
                let x = MARGIN + INDENT + i as f64 * (half + APART);
                let base = top + inside + 0.2;
                name.draw(page, [x, top + (inside - name.height()) / 2.0], Side::Start);
                said.draw(page, [x + wide, top + (inside - said.height()) / 2.0], Side::End);
                page.line([x, base], [x + wide, base], 0.12, Tone::Pale);
            }
            self.y -= self.gap - 0.6;
        }
        if !there.is_empty() {
            self.y += self.gap - 0.6;
        }
    }

    /// Names with figures that are only to be known, two to a row.
    pub(crate) fn pairs(&mut self, rows: &[(String, String)]) {
        let there: Vec<_> = rows.iter().filter(|(_, figure)| !figure.is_empty()).collect();
        let half = (self.room() - INDENT) / 2.0 - 3.0;
        for row in there.chunks(2) {
            let blocks: Vec<[Block; 2]> = row
                .iter()
                .map(|(name, figure)| {
                    let figure = Block::of(figure, Style::of(11.0), half * 0.5);
                    [Block::of(name, Style::of(10.0), half - figure.width() - 3.0), figure]
                })
                .collect();
            let high = blocks.iter().flatten().map(Block::height).fold(0.0, f64::max) + 0.8;
            let top = self.take(high);
            self.y -= self.gap;
            let page = self.page();
            for (i, [name, figure]) in blocks.iter().enumerate() {
                let x = MARGIN + INDENT + i as f64 * (half + 6.0);
                name.draw(page, [x, top + (high - name.height()) / 2.0], Side::Start);
                figure.draw(page, [x + half, top + (high - figure.height()) / 2.0], Side::End);
                page.line([x, top + high], [x + half, top + high], 0.12, Tone::Pale);
            }
        }
        self.y += self.gap;
    }

    /// A table: columns as wide as they need, the widest giving way where the page is too narrow.
    pub(crate) fn table(&mut self, head: &[String], rows: &[Vec<String>], style: Style) {
        const BETWEEN: f64 = 3.5;
        let columns = head.len();
        let heads = Style::of(8.5).toned(Tone::Grey);
        let natural = |text: &str, style: Style| Block::of(text, style, 1e6).width();
        let mut wide: Vec<f64> = head.iter().map(|text| natural(text, heads)).collect();
        for row in rows {
            for (i, cell) in row.iter().enumerate().take(columns) {
                wide[i] = wide[i].max(natural(cell, style));
            }
        }
        let room = self.room() - BETWEEN * (columns.max(1) - 1) as f64;
        narrowed(&mut wide, room);
        let spare = ((room - wide.iter().sum::<f64>()) / columns.max(1) as f64).clamp(0.0, 8.0);
        wide.iter_mut().for_each(|w| *w += spare);
        let laid = |cells: &[String], style: Style| -> Vec<Block> {
            cells.iter().zip(&wide).map(|(cell, w)| Block::of(cell, style, *w + 1e-6)).collect()
        };
        let top_row = laid(head, heads);
        let rows: Vec<Vec<Block>> = rows.iter().map(|row| laid(row, style)).collect();
        let high = |row: &[Block]| row.iter().map(Block::height).fold(0.0, f64::max) + 1.2;
        let first = rows.first().map_or(0.0, |row| high(row));
        // A table of a few rows is not torn.
        let all = high(&top_row) + rows.iter().map(|row| high(row)).sum::<f64>();
        self.need(if all < self.high() * FEW { all } else { high(&top_row) + first + 4.0 });
        self.place_headings();
        self.row(&top_row, &wide, BETWEEN, high(&top_row));
        for row in &rows {
            let tall = high(row);
            if self.left() < tall {
                self.turn();
                self.row(&top_row, &wide, BETWEEN, high(&top_row));
            }
            self.row(row, &wide, BETWEEN, tall);
        }
        self.y += self.gap;
    }

    fn row(&mut self, cells: &[Block], wide: &[f64], between: f64, high: f64) {
        let top = self.y;
        self.y += high;
        let room = self.room();
        let page = self.page();
        let mut x = MARGIN;
        for (cell, w) in cells.iter().zip(wide) {
            cell.draw(page, [x, top + (high - cell.height()) / 2.0], Side::Start);
            x += w + between;
        }
        page.line([MARGIN, top + high], [MARGIN + room, top + high], 0.12, Tone::Pale);
    }

    /// Short cells in as many columns as fit, read downward, as many rows to a page as fit on it.
    pub(crate) fn columns(&mut self, cells: &[String], style: Style) {
        if cells.is_empty() {
            return;
        }
        let blocks: Vec<Block> = cells.iter().map(|cell| Block::of(cell, style, self.room())).collect();
        let wide = blocks.iter().map(Block::width).fold(0.0, f64::max) + 5.0;
        let high = blocks.iter().map(Block::height).fold(0.0, f64::max);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let across = ((self.room() + 5.0) / wide).floor().clamp(1.0, 8.0) as usize;
        let mut rest = &blocks[..];
        self.need(high * rest.len().div_ceil(across).min(3) as f64);
        self.place_headings();
        while !rest.is_empty() {
            if self.left() < high * 3.0 && self.left() < high * rest.len().div_ceil(across) as f64 {
                self.turn();
            }
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let fit = ((self.left() / high).floor() as usize).max(1);
            let down = rest.len().div_ceil(across).min(fit);
            let (now, later) = rest.split_at((down * across).min(rest.len()));
            let top = self.take(high * down as f64);
            let page = self.page();
            for (i, block) in now.iter().enumerate() {
                let at = [MARGIN + wide * (i / down) as f64, top + high * (i % down) as f64];
                block.draw(page, at, Side::Start);
            }
            rest = later;
        }
    }

    /// A box to write a measured figure into, with what it is, and what hangs on it.
    pub(crate) fn measured(&mut self, name: &str, hangs: &str) {
        const WIDE: f64 = 34.0;
        const HIGH: f64 = 11.0;
        let room = self.room() - INDENT - WIDE - 4.0;
        let name = Block::of(name, Style::of(11.0), room);
        let hangs = Block::of(hangs, Style::body(), room);
        let high = (name.height() + hangs.height()).max(HIGH);
        let top = self.take(high + 1.0);
        let page = self.page();
        page.rectangle([MARGIN + INDENT, top], [WIDE, HIGH], 0.5);
        let x = MARGIN + INDENT + WIDE + 4.0;
        name.draw(page, [x, top], Side::Start);
        hangs.draw(page, [x, top + name.height()], Side::Start);
    }

    /// Boxes side by side to write times into, in each what it is for.
    pub(crate) fn clocks(&mut self, labels: &[String]) {
        const APART: f64 = 3.0;
        const TO_WRITE: f64 = 8.0;
        const INSET: f64 = 1.2;
        let count = labels.len().max(1) as f64;
        let wide = (self.room() - INDENT - APART * (count - 1.0)) / count;
        let labels: Vec<Block> =
            labels.iter().map(|label| Block::of(label, Style::of(9.0), wide - 2.0 * INSET)).collect();
        let above = labels.iter().map(Block::height).fold(0.0, f64::max);
        let high = above + TO_WRITE;
        let top = self.take(high);
        let page = self.page();
        for (i, label) in labels.iter().enumerate() {
            let x = MARGIN + INDENT + i as f64 * (wide + APART);
            page.rectangle([x, top], [wide, high], 0.5);
            label.draw(page, [x + INSET, top + 0.4], Side::Start);
        }
    }

    /// A step and what can hurt at it, on one page.
    pub(crate) fn guarded(&mut self, key: &str, told: &[(&str, Told)], caution: &str) {
        self.together(|flow| {
            flow.step(key, told);
            flow.caution(caution);
        });
    }

    /// A line to write on, with what belongs there before it.
    pub(crate) fn blank(&mut self, name: &str) {
        let block = Block::of(name, Style::of(12.0), self.room() * 0.6);
        let top = self.take(block.height().max(9.0));
        let room = self.room();
        let page = self.page();
        block.draw(page, [MARGIN, top + 2.0], Side::Start);
        let x = MARGIN + block.width() + 3.0;
        page.line([x, top + 8.0], [MARGIN + room, top + 8.0], 0.25, Tone::Black);
    }

    /// A picture (a PNG) in the middle, as large as it may be; nothing where it is none.
    pub(crate) fn picture(&mut self, picture: &Rc<[u8]>, most: [f64; 2]) {
        let Some(natural) = pixels(picture) else { return };
        let scale = (most[0].min(self.room()) / natural[0]).min(most[1] / natural[1]);
        let size = natural.map(|n| n * scale);
        let top = self.take(size[1]);
        let at = [MARGIN + (self.room() - size[0]) / 2.0, top];
        self.page().items.push(Item::Picture { picture: picture.clone(), at, size });
    }

    /// Page numbers and what holds for every page, at the foot.
    pub(crate) fn numbered(mut self, foot: &str) -> Vec<Page> {
        let all = self.pages.len();
        let y = self.size[1] - MARGIN;
        for (i, page) in self.pages.iter_mut().enumerate() {
            let told = [("page", Told::Count(i + 1)), ("of", Told::Count(all))];
            let number = self.words.with("foot-page", &told);
            page.line([MARGIN, y - 4.6], [self.size[0] - MARGIN, y - 4.6], 0.12, Tone::Grey);
            page.text(&number, [self.size[0] - MARGIN, y], 8.5 * POINT, Side::End);
            page.toned(foot, [MARGIN, y], 8.0 * POINT, Side::Start, Tone::Grey);
        }
        self.pages
    }
}

/// Width and height of a PNG, from its first chunk.
fn pixels(png: &[u8]) -> Option<[f64; 2]> {
    let side = |from: usize| Some(f64::from(u32::from_be_bytes(png.get(from..from + 4)?.try_into().ok()?)));
    let size = [side(16)?, side(20)?];
    (size[0] > 0.0 && size[1] > 0.0).then_some(size)
}

/// Brings columns to the room that there is: only the widest give way.
fn narrowed(wide: &mut [f64], room: f64) {
    let total = |limit: f64, wide: &[f64]| wide.iter().map(|w| w.min(limit)).sum::<f64>();
    if wide.iter().sum::<f64>() <= room {
        return;
    }
    let (mut low, mut high) = (0.0, wide.iter().copied().fold(0.0, f64::max));
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if total(middle, wide) > room { high = middle } else { low = middle }
    }
    wide.iter_mut().for_each(|w| *w = w.min(low));
}

#[cfg(test)]
mod tests;
