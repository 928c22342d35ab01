//! Plain text on paper: titles, wrapped lines, aligned rows and tables, never wider than a sheet.
//!
//! Must not know what it says.

use super::COLUMNS;
use crate::wording::words;

/// Text as it grows.
#[derive(Default)]
pub(super) struct Paper {
    text: String,
}

impl Paper {
    pub(super) fn title(&mut self, text: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        let lines = wrapped(&text.to_uppercase(), COLUMNS);
        let longest = lines.iter().map(|l| l.chars().count()).max().unwrap_or(0);
        lines.iter().for_each(|line| self.line(line));
        self.line(&"-".repeat(longest));
    }

    /// Wrapped, indented.
    pub(super) fn say(&mut self, indent: usize, text: &str) {
        self.hanging(&" ".repeat(indent), text);
    }

    /// Wrapped behind a mark: `1.`, `-`.
    pub(super) fn item(&mut self, mark: &str, text: &str) {
        self.hanging(&format!("{mark} "), text);
    }

    /// A caution, told apart from what it belongs to.
    pub(super) fn caution(&mut self, text: &str) {
        self.hanging("   ! ", text);
    }

    fn hanging(&mut self, first: &str, text: &str) {
        let indent = first.chars().count();
        let rest = " ".repeat(indent);
        for (i, line) in wrapped(text, COLUMNS - indent).iter().enumerate() {
            self.line(&format!("{}{line}", if i == 0 { first } else { &rest }));
        }
    }

    /// Names and what belongs to them, in two columns.
    pub(super) fn rows(&mut self, rows: &[(&str, String)]) {
        let wide = rows.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
        for (name, what) in rows {
            self.hanging(&format!("   {name:<wide$}   "), what);
        }
    }

    /// A table: each column as wide as its widest cell, figures to the right as they come. Where it
    /// is too wide for the sheet, every row becomes lines of its own.
    pub(super) fn table(&mut self, head: &[&str], rows: &[Vec<String>]) {
        let wide = |column: usize| {
            let cells = rows.iter().filter_map(|r| r.get(column)).map(|c| c.chars().count());
            cells.chain([head[column].chars().count()]).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..head.len()).map(wide).collect();
        if widths.iter().map(|w| w + 2).sum::<usize>() + 1 > COLUMNS {
            for row in rows {
                let cells: Vec<String> = head.iter().zip(row).map(|(name, cell)| format!("{name} {cell}")).collect();
                self.item("   -", &cells.join(", "));
            }
            return;
        }
        let heads: Vec<String> = head.iter().map(|h| (*h).to_owned()).collect();
        for row in std::iter::once(&heads).chain(rows) {
            let cells: Vec<String> = row.iter().zip(&widths).map(|(cell, w)| format!("{cell:<w$}")).collect();
            self.line(format!("   {}", cells.join("  ")).trim_end());
        }
    }

    /// Short cells in as many columns as fit.
    pub(super) fn columns(&mut self, cells: &[String]) {
        let wide = cells.iter().map(|c| c.chars().count()).max().unwrap_or(0) + 3;
        let across = ((COLUMNS - 3) / wide).clamp(1, 6);
        let down = cells.len().div_ceil(across);
        for row in 0..down {
            let line: String = (0..across)
                .filter_map(|column| cells.get(column * down + row))
                .map(|cell| format!("{cell:<wide$}"))
                .collect();
            self.line(format!("   {line}").trim_end());
        }
    }

    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    pub(super) fn finish(self) -> String {
        self.text
    }
}

/// Broken between words, and within a word that is wider alone; control characters are spaces.
fn wrapped(text: &str, wide: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in words(text).iter().flat_map(|word| pieces(word, wide)) {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + piece.chars().count() <= wide => {
                line.push(' ');
                line.push_str(&piece);
            }
            _ => lines.push(piece),
        }
    }
    lines
}

fn pieces(word: &str, wide: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters.chunks(wide.max(1)).map(|chunk| chunk.iter().collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_wider_than_the_sheet() {
        let mut paper = Paper::default();
        let long = "x".repeat(300);
        paper.title(&long);
        paper.say(4, &format!("{long} {}", "word ".repeat(60)));
        paper.caution(&long);
        paper.rows(&[("name", long.clone())]);
        paper.table(&["a", "b"], &[vec![long.clone(), "1".into()]]);
        let text = paper.finish();
        assert!(text.lines().all(|l| l.chars().count() <= COLUMNS), "{text}");
        assert_eq!(text.matches('x').count() + text.matches('X').count(), 1500);
    }

    #[test]
    fn columns_read_downward() {
        let mut paper = Paper::default();
        paper.columns(&(1..=14).map(|i| format!("{i:>2}  {i}/8 in")).collect::<Vec<_>>());
        let text = paper.finish();
        let numbers = |line: &str| line.split_whitespace().step_by(3).map(str::to_owned).collect::<Vec<_>>();
        let rows: Vec<Vec<String>> = text.lines().map(numbers).collect();
        assert_eq!(
            rows,
            [
                ["1", "4", "7", "10", "13"].to_vec(),
                ["2", "5", "8", "11", "14"].to_vec(),
                ["3", "6", "9", "12"].to_vec()
            ]
        );
    }

    #[test]
    fn a_figure_is_not_torn() {
        let text = format!("{} 1 1/32 in full, so", "x".repeat(80));
        assert_eq!(wrapped(&text, COLUMNS)[1], "1 1/32 in full, so");
        assert_eq!(wrapped("come in 3 in a row", 9), ["come in", "3 in a", "row"]);
    }
}
