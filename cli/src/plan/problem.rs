//! What is wrong with a plan, where, and what would be right. Knows no keys.

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents, SourceCode,
    SourceSpan, SpanContents,
};
use std::fmt::{self, Display};
use std::ops::Range;
use std::sync::Arc;

/// The most problems that are told of one plan.
const MOST_TOLD: usize = 8;
/// The longest line that is drawn, in bytes.
const LONGEST_DRAWN: usize = 400;
/// The most of what was written that is repeated, in characters.
const LONGEST_QUOTED: usize = 48;

/// One thing that is wrong with a plan.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The key: `shop.saw.kerf`; empty where the text is no TOML.
    pub key: String,
    /// What is wrong, with what was written.
    pub what: String,
    /// What would be right; empty where there is nothing to say.
    pub right: String,
    /// Where, in bytes of the plan's text.
    pub span: Range<usize>,
    /// The line, counted from 1.
    pub line: usize,
    /// The column, counted from 1, in characters.
    pub column: usize,
    source: Arc<Source>,
}

/// Everything that is wrong with a plan: one problem or more, in the order of the text.
#[derive(Clone, Debug)]
pub struct Problems {
    told: Vec<Problem>,
    /// How many more there are.
    more: usize,
}

/// The plan's text, fit for drawing.
#[derive(Debug)]
pub(super) struct Source {
    file: String,
    text: String,
}

impl Source {
    /// Control characters are drawn as `?`, so that no plan can steer a terminal; every byte keeps its place.
    pub(super) fn new(file: &str, text: &str) -> Arc<Self> {
        let mut tame = String::with_capacity(text.len());
        for c in text.chars() {
            if c.is_control() && c != '\n' && c != '\t' {
                tame.extend(std::iter::repeat_n('?', c.len_utf8()));
            } else {
                tame.push(c);
            }
        }
        let file = file.chars().map(|c| if c.is_control() { '?' } else { c }).collect();
        Arc::new(Self { file, text: tame })
    }

    /// The line at a place, without its end.
    fn line_at(&self, at: usize) -> Range<usize> {
        let (before, after) = self.text.split_at(char_boundary(&self.text, at));
        before.rfind('\n').map_or(0, |i| i + 1)..before.len() + after.find('\n').unwrap_or(after.len())
    }
}

/// Drawn is the line that a place is on, all of it and nothing else.
impl SourceCode for Source {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        _before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let line = self.line_at(span.offset());
        if span.offset() + span.len() > line.end {
            return Err(MietteError::OutOfBounds);
        }
        let column = self.text[line.start..span.offset()].chars().count();
        let number = self.text[..line.start].matches('\n').count();
        let (name, shown) = (self.file.clone(), SourceSpan::from(line.clone()));
        Ok(Box::new(MietteSpanContents::new_named(name, self.text[line].as_bytes(), shown, number, column, 1)))
    }
}

impl Problem {
    pub(super) fn new(source: &Arc<Source>, key: &str, span: Range<usize>, what: String, right: String) -> Self {
        let text = source.text.as_str();
        let mut start = char_boundary(text, span.start);
        let end = char_boundary(text, span.end).max(start);
        let line_start = text[..start].rfind('\n').map_or(0, |i| i + 1);
        if start > line_start && text[start..].chars().next().is_none_or(|c| c == '\n') {
            // A mark behind a line's end would not be seen.
            start = char_boundary(text, start - 1);
        }
        Self {
            key: key.to_owned(),
            what,
            right,
            line: text[..line_start].matches('\n').count() + 1,
            column: text[line_start..start].chars().count() + 1,
            span: start..first_line_end(text, start, end),
            source: Arc::clone(source),
        }
    }

    /// What stands at the place that it points to.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.source.text[self.span.clone()]
    }

    /// The file's name as it was given.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.source.file
    }

    fn is_drawn(&self) -> bool {
        self.source.line_at(self.span.start).len() <= LONGEST_DRAWN
    }
}

/// The last place at or before `at` where a character begins.
fn char_boundary(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    (0..=at).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0)
}

/// A span over many lines points to the first of them only.
fn first_line_end(text: &str, start: usize, end: usize) -> usize {
    text[start..end].find(['\n', '\r']).map_or(end, |i| start + i)
}

/// What was written, fit for one line of a message.
pub(super) fn quote(written: &str) -> String {
    let tame = |c: char| if c.is_control() { ' ' } else { c };
    let mut quoted: String = written.chars().take(LONGEST_QUOTED).map(tame).collect();
    if written.chars().nth(LONGEST_QUOTED).is_some() {
        quoted.push('…');
    }
    quoted
}

impl Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.key.is_empty() { write!(f, "{}", self.what) } else { write!(f, "{}: {}", self.key, self.what) }
    }
}

impl std::error::Error for Problem {}

impl Diagnostic for Problem {
    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        let place =
            if self.is_drawn() { String::new() } else { format!(" (line {}, column {})", self.line, self.column) };
        let help = format!("{}{place}", self.right);
        if help.is_empty() { None } else { Some(Box::new(help)) }
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.is_drawn().then_some(&*self.source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = LabeledSpan::new_primary_with_span(None, self.span.clone());
        self.is_drawn().then_some(Box::new(std::iter::once(label)))
    }
}

impl Problems {
    /// At least one.
    pub(super) fn new(mut all: Vec<Problem>, untold: usize) -> Self {
        all.sort_by_key(|problem| (problem.span.start, problem.span.end));
        let more = untold + all.len().saturating_sub(MOST_TOLD);
        all.truncate(MOST_TOLD);
        Self { told: all, more }
    }

    /// Those that are told, in the order of the text.
    pub fn iter(&self) -> impl Iterator<Item = &Problem> {
        self.told.iter()
    }

    /// How many more there are that are not told.
    #[must_use]
    pub const fn more(&self) -> usize {
        self.more
    }

    /// Every problem with its line and a mark under the place.
    #[must_use]
    pub fn draw(&self, coloured: bool, columns: usize) -> String {
        let theme = if coloured { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let drawer = GraphicalReportHandler::new_themed(theme)
            .with_links(false)
            .with_context_lines(0)
            .with_width(columns.clamp(40, 200));
        let mut drawn = String::new();
        for problem in &self.told {
            // Writing to a String fails only where the source can't be read; the plain line then stands in.
            let mut one = String::new();
            match drawer.render_report(&mut one, problem) {
                Ok(()) => drawn += &one,
                Err(_) => drawn += &format!("{}\n", line(problem)),
            }
        }
        drawn + &self.rest()
    }

    fn rest(&self) -> String {
        match self.more {
            0 => String::new(),
            1 => "and 1 more problem\n".to_owned(),
            more => format!("and {more} more problems\n"),
        }
    }
}

/// `file:line: key: what is wrong; what would be right`.
fn line(problem: &Problem) -> String {
    let right = if problem.right.is_empty() { String::new() } else { format!("; {}", problem.right) };
    format!("{}:{}: {problem}{right}", problem.file(), problem.line)
}

impl Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lines: Vec<String> = self.told.iter().map(line).collect();
        write!(f, "{}", lines.join("\n"))?;
        if self.more > 0 { write!(f, "\n{}", self.rest().trim_end()) } else { Ok(()) }
    }
}

impl std::error::Error for Problems {}

impl Diagnostic for Problems {
    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.told.iter().map(|problem| problem as &dyn Diagnostic)))
    }
}
