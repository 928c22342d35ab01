//! The plan's file: read, and written only over what was last seen in it. Knows texts, not plans.

use super::told::Told;
use crate::commands::read_text;
use crate::failure::{Failure, in_words};
use crate::output::{sha256, write_new, write_one};
use serde::Serialize;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// How the file on disk is, seen from here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub(super) enum OnDisk {
    /// There is none yet.
    None,
    /// As it was last read or written.
    AsSeen,
    /// Something else changed it.
    Changed,
    /// It was taken away.
    Gone,
}

/// The longest name of a file that is written, characters.
const LONGEST_NAME: usize = 100;

/// The plan's file, or the folder that it will be in.
#[derive(Debug)]
pub(super) struct PlanFile {
    folder: PathBuf,
    name: Option<String>,
    /// The digest of what it held when it was last read or written.
    seen: Option<String>,
    stamp: Option<(u64, SystemTime)>,
    pub(super) on_disk: OnDisk,
}

impl PlanFile {
    /// No file yet, in this folder.
    pub(super) fn none(folder: &Path) -> Self {
        Self { folder: folder.to_owned(), name: None, seen: None, stamp: None, on_disk: OnDisk::None }
    }

    /// A file and what it holds. A link is followed, so that what it leads to is written and not the link.
    pub(super) fn read(path: &Path) -> Result<(Self, String), Failure> {
        let text = read_text(path)?;
        let whole = path.canonicalize().map_err(|source| Failure::Unreadable { path: path.to_owned(), source })?;
        let name = whole.file_name().map(|name| name.to_string_lossy().into_owned());
        let folder = whole.parent().unwrap_or(Path::new(".")).to_owned();
        let mut file = Self { folder, name, seen: Some(sha256(text.as_bytes())), stamp: None, on_disk: OnDisk::AsSeen };
        file.stamp = file.stamp_now();
        Ok((file, text))
    }

    /// The folder that it is in.
    pub(super) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Its name.
    pub(super) fn name(&self) -> Option<&str> {
        self.name.as_deref()
    }

    /// The digest of what it held when it was last read or written.
    pub(super) fn seen(&self) -> Option<&str> {
        self.seen.as_deref()
    }

    /// Edits began from a file that held this: what is there now may be something else.
    pub(super) fn began_from(&mut self, seen: Option<String>) {
        self.seen = seen;
        self.stamp = None;
        self.look();
    }

    /// Whether it holds this text, as far as was seen.
    pub(super) fn holds(&self, text: &str) -> bool {
        self.seen.as_deref() == Some(&*sha256(text.as_bytes()))
    }

    fn path(&self) -> Option<PathBuf> {
        self.name.as_ref().map(|name| self.folder.join(name))
    }

    fn stamp_now(&self) -> Option<(u64, SystemTime)> {
        let file = self.path()?.metadata().ok()?;
        Some((file.len(), file.modified().ok()?))
    }

    /// Looks whether it changed on disk; true where that is news.
    pub(super) fn look(&mut self) -> bool {
        let Some(path) = self.path() else { return false };
        let now = self.stamp_now();
        if now.is_some() && now == self.stamp {
            return false;
        }
        let before = self.on_disk;
        self.on_disk = match read_text(&path) {
            Ok(text) if self.holds(&text) => OnDisk::AsSeen,
            Ok(_) => OnDisk::Changed,
            Err(_) if path.symlink_metadata().is_ok() => OnDisk::Changed,
            Err(_) => OnDisk::Gone,
        };
        self.stamp = now;
        self.on_disk != before
    }

    /// What it holds now.
    pub(super) fn now_holds(&self) -> Result<String, Vec<Told>> {
        let path = self.path().ok_or_else(|| Told::plainly("there is no file yet", "save the plan first"))?;
        read_text(&path).map_err(|why| Told::plainly(why.to_string(), ""))
    }

    /// This is what it was last seen to hold.
    pub(super) fn saw(&mut self, text: &str) {
        self.seen = Some(sha256(text.as_bytes()));
        self.stamp = self.stamp_now();
        self.on_disk = OnDisk::AsSeen;
    }

    /// Writes the file, unless something else changed it.
    pub(super) fn save(&mut self, text: &str) -> Result<(), Vec<Told>> {
        let Some(path) = self.path() else {
            return Err(Told::plainly("the plan has no file yet", "give it a name"));
        };
        // However its date stands: what it holds is what counts.
        self.stamp = None;
        self.look();
        match self.on_disk {
            OnDisk::Changed => {
                let right = "keep yours under another name, or take the one on disk: undo brings yours back";
                return Err(Told::plainly(
                    "something else changed the plan's file; nothing was written over it",
                    right,
                ));
            }
            // Nothing is lost where nothing is.
            OnDisk::AsSeen | OnDisk::Gone | OnDisk::None => {}
        }
        write_one(&path, text.as_bytes()).map_err(|why| Told::plainly(why.to_string(), ""))?;
        self.saw(text);
        Ok(())
    }

    /// Writes a new file of this name beside it; from then on that is the plan's file. One that is there is never
    /// overwritten.
    pub(super) fn save_as(&mut self, name: &str, text: &str) -> Result<(), Vec<Told>> {
        let name = sound_name(name)?;
        write_new(&self.folder.join(&name), text.as_bytes()).map_err(|why| match why.kind() {
            io::ErrorKind::AlreadyExists => {
                Told::plainly(format!("there is a file {name} already"), "choose another name")
            }
            _ => Told::plainly(format!("{name} can't be written: {}", in_words(&why)), ""),
        })?;
        self.name = Some(name);
        self.saw(text);
        Ok(())
    }
}

/// So many names are tried for a photograph.
const MOST_TRIED: usize = 100;

/// Writes a photograph beside a plan under the first name that is free: `A-near.jpg`, `A-near-2.jpg`, …
pub(super) fn write_photograph(folder: &Path, start: &str, ending: &str, bytes: &[u8]) -> Result<String, Vec<Told>> {
    for n in 1..=MOST_TRIED {
        let name = if n == 1 { format!("{start}.{ending}") } else { format!("{start}-{n}.{ending}") };
        match write_new(&folder.join(&name), bytes) {
            Ok(()) => return Ok(name),
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {}
            Err(why) => return Err(Told::plainly(format!("{name} can't be written: {}", in_words(&why)), "")),
        }
    }
    Err(Told::plainly(format!("there are {MOST_TRIED} photographs {start} already"), "take some of them away"))
}

/// A name for a file in the plan's own folder.
fn sound_name(name: &str) -> Result<String, Vec<Told>> {
    let name = name.trim();
    let name = if name.ends_with(".toml") { name.to_owned() } else { format!("{name}.toml") };
    let plain = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_' | '.' | ',' | '(' | ')' | '+');
    let sound = name.chars().all(plain) && !name.starts_with(['.', ' ']) && name.chars().count() <= LONGEST_NAME;
    if sound && name.len() > ".toml".len() {
        Ok(name)
    } else {
        let right = "write letters, digits, spaces and - _ . , ( ) + only, as in walnut board.toml";
        Err(Told::plainly("that is no name for the plan's file", right))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn it_is_written_over_only_what_was_seen() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.toml");
        fs::write(&path, "one").unwrap();
        let (mut file, text) = PlanFile::read(&path).unwrap();
        assert!(text == "one" && file.holds("one") && !file.look());
        file.save("two").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "two");
        assert!(!file.look());

        // Of the same length, so that only its date and what it holds tell.
        fs::write(&path, "elf").unwrap();
        assert!(file.save("three").is_err());
        assert_eq!((fs::read_to_string(&path).unwrap().as_str(), file.on_disk), ("elf", OnDisk::Changed));
        file.save_as("b", "three").unwrap();
        assert_eq!(fs::read_to_string(folder.path().join("b.toml")).unwrap(), "three");
        assert!(file.save_as("a.toml", "four").is_err() && file.save_as("b", "four").is_err());
        file.save("four").unwrap();
        assert_eq!(fs::read_to_string(folder.path().join("b.toml")).unwrap(), "four");
        assert_eq!(fs::read_to_string(&path).unwrap(), "elf");

        fs::remove_file(folder.path().join("b.toml")).unwrap();
        assert!(file.look() && file.on_disk == OnDisk::Gone);
        file.save("five").unwrap();
        assert_eq!(file.on_disk, OnDisk::AsSeen);
    }

    #[test]
    fn a_change_is_noticed_once_and_taken_when_asked() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.toml");
        fs::write(&path, "one").unwrap();
        let (mut file, _) = PlanFile::read(&path).unwrap();
        fs::write(&path, "another").unwrap();
        assert!(file.look() && !file.look());
        assert_eq!(file.now_holds().unwrap(), "another");
        assert!(!file.holds("another") && file.on_disk == OnDisk::Changed);
        file.saw("another");
        assert!(file.holds("another") && file.on_disk == OnDisk::AsSeen);
    }

    #[test]
    fn names_stay_in_the_folder() {
        assert_eq!(sound_name(" walnut board ").unwrap(), "walnut board.toml");
        assert_eq!(sound_name("Nussbaum (größer).toml").unwrap(), "Nussbaum (größer).toml");
        for name in ["", ".toml", "../a", "a/b", "a\\b", ".a", "a\0", "a\nb", "c:a", &"a".repeat(200)] {
            assert!(sound_name(name).is_err(), "{name:?}");
        }
    }
}
