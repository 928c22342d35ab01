//! The journal: the whole text as it is, beside the plan, so that a program that was killed loses no more than the last
//! edit.
//!
//! One file, `.NAME.unsaved`, written under a temporary name and renamed; its first line says of which file it is and
//! what that file held, the plan follows as it is. Taken away when there is nothing unsaved. Knows texts, not plans.

use crate::commands::MOST_TEXT;
use crate::output::{OutputError, write_one};
use std::fs::{self, File, TryLockError};
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

/// What the first line begins with.
const HEAD: &str = "# Unsaved changes, kept by quarterturn open. Begun from ";
/// What stands there where there was no file.
const NOTHING: &str = "no file";

/// The journal of one plan. While it is there, no other program that asks has it.
#[derive(Debug)]
pub(super) struct Journal {
    path: PathBuf,
    written: bool,
    claim: Option<Claim>,
}

/// A file that is locked for as long as the program runs, and taken away when it ends.
#[derive(Debug)]
struct Claim {
    path: PathBuf,
    _locked: File,
}

impl Drop for Claim {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.path);
    }
}

/// What a journal held.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Left {
    /// The text.
    pub(super) text: String,
    /// The digest of the file that it began from, where there was one.
    pub(super) from: Option<String>,
}

impl Journal {
    /// The journal of the plan of this name in this folder; an error where another program has it, or the folder can't
    /// be written to.
    pub(super) fn of(folder: &Path, name: &str) -> io::Result<Self> {
        let path = folder.join(format!(".{name}.open"));
        let file = File::options().create(true).truncate(false).write(true).open(&path)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(io::ErrorKind::ResourceBusy.into()),
            // Not every disk has locks: then nobody is kept out.
            Err(TryLockError::Error(_)) => {}
        }
        let claim = Claim { path, _locked: file };
        Ok(Self { path: folder.join(format!(".{name}.unsaved")), written: false, claim: Some(claim) })
    }

    /// Where it is.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Whether it holds something.
    pub(super) const fn holds(&self) -> bool {
        self.written
    }

    /// The program ends: another one may have it.
    pub(super) fn release(&mut self) {
        self.claim = None;
    }

    /// Whether it is there already under this name.
    pub(super) fn is_of(&self, folder: &Path, name: &str) -> bool {
        self.path == folder.join(format!(".{name}.unsaved"))
    }

    /// What was left unsaved; `None` where nothing was, or it can't be read.
    pub(super) fn left(&mut self) -> Option<Left> {
        let mut bytes = Vec::new();
        File::open(&self.path).ok()?.take(2 * MOST_TEXT).read_to_end(&mut bytes).ok()?;
        let all = String::from_utf8(bytes).ok()?;
        let (head, text) = all.split_once('\n')?;
        let from = head.strip_prefix(HEAD)?;
        self.written = true;
        Some(Left { text: text.to_owned(), from: (from != NOTHING).then(|| from.to_owned()) })
    }

    /// Keeps a text, and the digest of the file that it began from.
    pub(super) fn keep(&mut self, text: &str, from: Option<&str>) -> Result<(), OutputError> {
        let all = [HEAD, from.unwrap_or(NOTHING), "\n", text].concat();
        write_one(&self.path, all.as_bytes())?;
        self.written = true;
        Ok(())
    }

    /// Nothing is unsaved.
    pub(super) fn forget(&mut self) {
        if std::mem::take(&mut self.written) {
            // Left where it can't be taken away: then it is offered again, and nothing is lost.
            let _ = fs::remove_file(&self.path);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_kept_is_there_again_until_it_is_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let journal = || Journal::of(folder.path(), "board.toml").unwrap();
        assert_eq!(journal().left(), None);
        for (text, from) in [("a\n\nb", Some("0ff1ce")), ("", None), ("# é", None)] {
            journal().keep(text, from).unwrap();
            let left = Left { text: text.to_owned(), from: from.map(str::to_owned) };
            assert_eq!(journal().left(), Some(left));
        }
        let mut last = journal();
        assert!(last.left().is_some());
        last.forget();
        assert!(last.left().is_none());
        drop(last);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_file_of_another_kind_is_no_journal_and_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(".board.toml.unsaved");
        for text in [&b"hello"[..], b"", b"# Unsaved\nx", b"\xff\xfe\n"] {
            fs::write(&path, text).unwrap();
            let mut journal = Journal::of(folder.path(), "board.toml").unwrap();
            assert_eq!(journal.left(), None);
            journal.forget();
            assert!(path.exists());
        }
    }

    #[test]
    fn one_program_has_it_at_a_time() {
        let folder = tempfile::tempdir().unwrap();
        let first = Journal::of(folder.path(), "board.toml").unwrap();
        let busy = Journal::of(folder.path(), "board.toml").map(drop).unwrap_err();
        assert_eq!(busy.kind(), io::ErrorKind::ResourceBusy);
        assert!(Journal::of(folder.path(), "other.toml").is_ok());
        drop(first);
        assert!(Journal::of(folder.path(), "board.toml").is_ok());
    }
}
