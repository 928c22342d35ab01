//! What is open: the plan's text, what it means, all changes, its file and its journal.
//!
//! ```text
//! Edit ─► text ─► Reading ─► kept as the newest ─► journal
//! ```
//! Every text that is kept here is a plan: an edit that would make it none is refused, and nothing changes. A revision
//! counts texts; news counts everything that there is to tell, saving and the file on disk too.

use super::edits::{BlankEnd, Edit, edited, letter, photographed};
use super::file::{OnDisk, PlanFile, write_photograph};
use super::history::History;
use super::journal::Journal;
use super::reading::{Reader, Reading};
use super::samples;
use super::told::Told;
use crate::failure::{Failure, in_words};
use crate::plan;
use std::io;
use std::path::Path;
use std::sync::Arc;

/// What the journal of a plan is called that has no file yet.
const NOT_YET_NAMED: &str = "new-board";

/// What is open.
#[derive(Debug)]
pub(super) struct Desk {
    reader: Reader,
    reading: Arc<Reading>,
    history: History,
    file: PlanFile,
    journal: Journal,
    revision: u64,
    news: u64,
    restored: bool,
    /// Why the last change is not in the journal.
    unkept: Option<String>,
}

/// Why something is not done.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum NotDone {
    /// It was asked of an older text.
    Older,
    /// This is wrong with it.
    Told(Vec<Told>),
}

impl From<Vec<Told>> for NotDone {
    fn from(told: Vec<Told>) -> Self {
        Self::Told(told)
    }
}

impl Desk {
    /// Opens a plan's file; or an empty bench in a folder.
    pub(super) fn open(plan: Option<&Path>, folder: &Path) -> Result<Self, Failure> {
        let (file, text) = match plan {
            Some(path) => PlanFile::read(path)?,
            None => (PlanFile::none(folder), samples::EMPTY.to_owned()),
        };
        let shown = plan.map_or_else(|| "the plan".to_owned(), |path| path.display().to_string());
        let reader = Reader::new(file.folder(), &shown);
        let reading = reader.read(&text).map_err(|_| broken(&text, &shown, &file))?;
        let name = file.name().unwrap_or(NOT_YET_NAMED);
        let journal = Journal::of(file.folder(), name).map_err(|e| not_ours(&e, name))?;
        let mut desk = Self {
            reader,
            reading: Arc::new(reading),
            history: History::default(),
            file,
            journal,
            revision: 1,
            news: 1,
            restored: false,
            unkept: None,
        };
        desk.restore()?;
        Ok(desk)
    }

    /// Takes up what was left unsaved: undo leads back to the file.
    fn restore(&mut self) -> Result<(), Failure> {
        let Some(left) = self.journal.left() else { return Ok(()) };
        if left.text == self.text() {
            self.journal.forget();
            return Ok(());
        }
        let reading = self.reader.read(&left.text).map_err(|told| {
            let why = told.first().map_or("", |told| told.what.as_str());
            Failure::Misuse(format!(
                "what was left unsaved can't be taken up again: {why}. It is in {}: move that file away, then open the plan",
                self.journal.path().display()
            ))
        })?;
        self.history.note(self.reading.text(), &left.text);
        self.reading = Arc::new(reading);
        if self.file.name().is_some() {
            self.file.began_from(left.from);
        }
        self.restored = true;
        Ok(())
    }

    /// The text and what it means.
    pub(super) const fn reading(&self) -> &Arc<Reading> {
        &self.reading
    }

    fn text(&self) -> &str {
        self.reading.text()
    }

    /// Which text it is.
    pub(super) const fn revision(&self) -> u64 {
        self.revision
    }

    /// How much there was to tell so far.
    pub(super) const fn news(&self) -> u64 {
        self.news
    }

    /// Its file.
    pub(super) const fn file(&self) -> &PlanFile {
        &self.file
    }

    /// All changes.
    pub(super) const fn history(&self) -> &History {
        &self.history
    }

    /// Whether it began with what was left unsaved.
    pub(super) const fn restored(&self) -> bool {
        self.restored
    }

    /// Why the last change is not in the journal.
    pub(super) fn unkept(&self) -> Option<&str> {
        self.unkept.as_deref()
    }

    /// Whether the file holds the text.
    pub(super) fn saved(&self) -> bool {
        self.file.on_disk == OnDisk::AsSeen && self.file.holds(self.text())
    }

    /// Makes an edit of the text of this revision.
    pub(super) fn edit(&mut self, revision: u64, edit: &Edit) -> Result<(), NotDone> {
        if revision != self.revision {
            return Err(NotDone::Older);
        }
        match edit {
            Edit::Undo => return self.step(false),
            Edit::Redo => return self.step(true),
            _ => {}
        }
        let (text, laid) = match edited(&self.reading, edit)? {
            Some(edited) => (edited.text, edited.laid),
            None => (self.elsewhere(edit)?, None),
        };
        let reading = self.reader.read(&text)?;
        if laid.is_some_and(|laid| reading.outcome().places != laid) {
            let what = "the plan's text can't be changed so that the strips lie so";
            return Err(Told::plainly(what, "change the text itself").into());
        }
        if matches!(edit, Edit::TakeFromDisk) {
            self.file.saw(&text);
            self.news += 1;
        }
        if text == self.text() {
            self.keep();
            return Ok(());
        }
        self.history.note(self.reading.text(), &text);
        self.now(reading);
        Ok(())
    }

    /// A text that comes from elsewhere than the one that is open.
    fn elsewhere(&self, edit: &Edit) -> Result<String, Vec<Told>> {
        match edit {
            Edit::Begin { with } => samples::text(with)
                .map(str::to_owned)
                .ok_or_else(|| Told::plainly("there is no such sample", "choose one that is listed")),
            Edit::TakeFromDisk => self.file.now_holds(),
            _ => Ok(self.text().to_owned()),
        }
    }

    fn step(&mut self, on: bool) -> Result<(), NotDone> {
        let text = if on { self.history.after(self.text()) } else { self.history.before(self.text()) };
        let Some(text) = text else {
            let what = if on { "there is nothing to do again" } else { "there is nothing to undo" };
            return Err(Told::plainly(what, "").into());
        };
        let reading = self.reader.read(&text)?;
        if on {
            self.history.step_on();
        } else {
            self.history.step_back();
        }
        self.now(reading);
        Ok(())
    }

    /// This is the text from now on.
    fn now(&mut self, reading: Reading) {
        self.reading = Arc::new(reading);
        self.revision += 1;
        self.news += 1;
        self.keep();
    }

    fn keep(&mut self) {
        if self.saved() {
            self.journal.forget();
            self.unkept = None;
            return;
        }
        let kept = self.journal.keep(self.reading.text(), self.file.seen());
        self.unkept = kept.err().map(|why| why.to_string());
    }

    /// Takes a photograph of an end of a blank: a file of its own beside the plan, named in the plan's text. Where no end
    /// is found in it, the file is taken away again.
    pub(super) fn photograph(
        &mut self,
        revision: u64,
        entry: usize,
        end: BlankEnd,
        bytes: &[u8],
    ) -> Result<(), NotDone> {
        if revision != self.revision {
            return Err(NotDone::Older);
        }
        let ending = match bytes {
            [0xff, 0xd8, 0xff, ..] => "jpg",
            [0x89, b'P', b'N', b'G', ..] => "png",
            _ => return Err(Told::plainly("that is no JPEG or PNG", "save the photograph as one of these").into()),
        };
        let letter = letter(&self.reading, entry)
            .ok_or_else(|| Told::plainly("there is no such blank", "choose one that is there"))?;
        let name = write_photograph(self.file.folder(), &format!("{letter}-{}", end.name()), ending, bytes)?;
        let read = photographed(&self.reading, entry, end, &name)
            .and_then(|text| self.reader.read(&text).map(|reading| (text, reading)));
        let (text, reading) = read.inspect_err(|_| {
            // It was written just now, and by nobody else.
            let _ = std::fs::remove_file(self.file.folder().join(&name));
        })?;
        self.history.note(self.reading.text(), &text);
        self.now(reading);
        Ok(())
    }

    /// Saves the text, under this name where one is given.
    pub(super) fn save(&mut self, revision: u64, name: Option<&str>) -> Result<(), NotDone> {
        if revision != self.revision {
            return Err(NotDone::Older);
        }
        let Some(name) = name else {
            self.news += 1;
            self.file.save(self.reading.text())?;
            self.keep();
            return Ok(());
        };
        self.file.save_as(name, self.reading.text())?;
        self.news += 1;
        let (folder, name) = (self.file.folder(), self.file.name().unwrap_or_default());
        if !self.journal.is_of(folder, name) {
            self.journal.forget();
            match Journal::of(folder, name) {
                Ok(journal) => self.journal = journal,
                Err(why) => self.unkept = Some(in_words(&why)),
            }
        }
        self.keep();
        Ok(())
    }

    /// Looks whether something else changed the file; true where that is news.
    pub(super) fn look_at_disk(&mut self) -> bool {
        let news = self.file.look();
        self.news += u64::from(news);
        news
    }

    /// Whether something is unsaved, and so in the journal.
    pub(super) const fn unsaved(&self) -> bool {
        self.journal.holds()
    }

    /// The program ends: what is unsaved stays in the journal, and another program may open the plan.
    pub(super) fn end(&mut self) {
        self.journal.release();
    }
}

fn broken(text: &str, shown: &str, file: &PlanFile) -> Failure {
    let fetch = |name: &Path| crate::photo::read_named(&file.folder().join(name));
    match plan::read_with(text, shown, &fetch) {
        Err(problems) => Failure::Problems(Box::new(problems)),
        // Readable from anywhere but not from a page.
        Ok(_) => {
            Failure::Misuse(format!("{shown} names photographs outside its folder: the page opens only those in it"))
        }
    }
}

fn not_ours(why: &io::Error, name: &str) -> Failure {
    match why.kind() {
        io::ErrorKind::ResourceBusy => {
            let what = if name == NOT_YET_NAMED { "a board without a name" } else { name };
            Failure::Misuse(format!(
                "{what} is open already in this folder, in another quarterturn: close that one first"
            ))
        }
        _ => Failure::Misuse(format!("the folder of {name} can't be written to: {}", in_words(why))),
    }
}
