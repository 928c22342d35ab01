//! The sheets that go into the shop: pages of paper, as PDF and as an HTML page that prints the same.
//!
//! ```text
//! Job + Outcome + Numbers + findings + pictures ─► sheets ─► Flow ─► Page ─► pdf, svg, html
//! ```
//! Each sheet has a file of its own in `sheets`; `flow` sets its blocks one under another, `text` breaks its sentences,
//! `tile` spreads over
//! several sheets what is larger than one; every word is a message of the catalogue (`words`), every figure a number of
//! [`Numbers`](quarterturn_geometry::numbers::Numbers) as shown there. Nothing here computes what the model doesn't
//! hold, and only what the plan needs is printed.

mod flow;
pub mod html;
mod page;
pub mod pdf;
mod sheets;
pub mod svg;
mod text;
mod tile;

pub use crate::words::Language;
pub(crate) use page::{Item, Side, Tone};
pub use page::{Page, PaperSize};
pub use sheets::{Given, Pictures};

use crate::ExportError;
use crate::words::Words;
use std::io::Write;

/// Pages with what a reader's program says of them.
#[derive(Clone, Debug)]
pub struct Sheets {
    /// The pages, in order.
    pub pages: Vec<Page>,
    title: String,
    language: Language,
}

impl Sheets {
    /// The sheets of a board; nothing where there is no board.
    ///
    /// ```
    /// use quarterturn_export::paper::{Language, PaperSize};
    /// assert_eq!(Language::German.code(), "de");
    /// assert_eq!(PaperSize::A4.size(), [210.0, 297.0]);
    /// ```
    #[must_use]
    pub fn of(given: &Given, pictures: &Pictures, language: Language, paper: PaperSize) -> Self {
        let words = Words::of(language);
        let title = words.with("document-title", &[("name", crate::words::Told::Word(&given.job.name))]);
        Self { pages: sheets::all(given, pictures, &words, paper.size()), title, language }
    }

    /// Every number of the report by its key, on pages of their own: for looking up, not for the shop.
    #[must_use]
    pub fn of_numbers(given: &Given, language: Language, paper: PaperSize) -> Self {
        let words = Words::of(language);
        let title = words.with("numbers-document-title", &[("name", crate::words::Told::Word(&given.job.name))]);
        Self { pages: sheets::figures(given, &words, paper.size()), title, language }
    }

    /// Writes them as one PDF.
    ///
    /// # Errors
    /// See [`pdf::write`].
    pub fn pdf(&self, out: impl Write) -> Result<(), ExportError> {
        pdf::write(&self.pages, &self.title, self.language.code(), out)
    }

    /// As one HTML page that prints the same.
    #[must_use]
    pub fn html(&self) -> String {
        html::text(&self.pages, &self.title, self.language.code())
    }
}

/// A template at 1:1: on one page as large as it is, and on sheets of paper.
#[derive(Clone, Debug)]
pub struct Template {
    /// What its files are called, without their ending: `template-stop-p`.
    pub name: String,
    /// The whole of it.
    pub svg: String,
    /// On paper, with register marks where one sheet is too small.
    pub pages: Vec<Page>,
}

impl Template {
    /// All that the plan needs: set-up blocks for the saw's stop and the router table's, the table from above, the
    /// strips' marks, corners and feet; none where there is no board.
    #[must_use]
    pub fn all(given: &Given, pictures: &Pictures, language: Language, paper: PaperSize) -> Vec<Self> {
        sheets::template_files(given, pictures, &Words::of(language), paper.size())
    }

    /// Writes its sheets as one PDF.
    ///
    /// # Errors
    /// See [`pdf::write`].
    pub fn pdf(&self, language: Language, out: impl Write) -> Result<(), ExportError> {
        pdf::write(&self.pages, &self.name, language.code(), out)
    }
}
