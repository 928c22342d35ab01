//! A plan's text and what it means: read once for each text.

use super::told::Told;
use crate::output::sha256;
use crate::photo::{self, PhotoError};
use crate::plan::{self, Kept, Plan};
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::photo::Photograph;
use std::fmt::Write as _;
use std::io;
use std::path::{Component, Path, PathBuf};
use std::time::UNIX_EPOCH;
use toml_edit::DocumentMut;

/// A text that is a plan.
#[derive(Debug)]
pub(super) struct Reading {
    plan: Plan,
    outcome: Outcome,
    wood: String,
}

impl Reading {
    /// The text as it was read.
    pub(super) fn text(&self) -> &str {
        &self.plan.text
    }

    /// A digest of all that the wood in its panels follows from.
    pub(super) fn wood(&self) -> &str {
        &self.wood
    }

    /// What it means.
    pub(super) const fn job(&self) -> &Job {
        &self.plan.job
    }

    /// What follows from it.
    pub(super) const fn outcome(&self) -> &Outcome {
        &self.outcome
    }
}

/// Reads texts; what photographs and traced lines come to is kept from one text to the next.
#[derive(Debug)]
pub(super) struct Reader {
    folder: PathBuf,
    file: String,
    kept: Kept,
}

impl Reader {
    /// A reader for the plan of this name in this folder.
    pub(super) fn new(folder: &Path, file: &str) -> Self {
        let stamps = folder.to_owned();
        let kept = Kept::new(move |name| stamp(&within(&stamps, name).ok()?));
        Self { folder: folder.to_owned(), file: file.to_owned(), kept }
    }

    /// Reads a text.
    pub(super) fn read(&self, text: &str) -> Result<Reading, Vec<Told>> {
        let fetch = |name: &Path| -> Result<Photograph, PhotoError> { photo::read_named(&within(&self.folder, name)?) };
        let plan = plan::read_keeping(text, &self.file, &fetch, &self.kept).map_err(|p| Told::all(&p))?;
        let outcome = plan.job.work();
        let wood = wood(text, &self.kept.asked());
        Ok(Reading { plan, outcome, wood })
    }
}

/// A digest of what the wood in the panels follows from: what is written of it, and the files of photographs.
fn wood(text: &str, asked: &[String]) -> String {
    let mut all = asked.join("\n");
    // A text that was read is TOML.
    if let Ok(document) = text.parse::<DocumentMut>() {
        for key in ["units", "woods", "blanks", "panels", "measured"] {
            let _ = writeln!(all, "{key} {}", document.get(key).map(ToString::to_string).unwrap_or_default());
        }
    }
    sha256(all.as_bytes())
}

/// A file of the plan's own folder: a page may name no other.
fn within(folder: &Path, name: &Path) -> io::Result<PathBuf> {
    let outside = || io::Error::new(io::ErrorKind::PermissionDenied, "it lies outside the plan's folder");
    if name.components().any(|part| !matches!(part, Component::Normal(_) | Component::CurDir)) {
        return Err(outside());
    }
    let (folder, path) = (folder.canonicalize()?, folder.join(name).canonicalize()?);
    if path.starts_with(folder) { Ok(path) } else { Err(outside()) }
}

/// What a file's change would change.
fn stamp(path: &Path) -> Option<String> {
    let file = path.metadata().ok()?;
    let changed = file.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    Some(format!("{} {}", file.len(), changed.as_nanos()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_leads_out_of_the_plans_folder() {
        let outer = tempfile::tempdir().unwrap();
        let folder = outer.path().join("plans");
        std::fs::create_dir_all(folder.join("pictures")).unwrap();
        std::fs::write(folder.join("pictures/a.jpg"), "").unwrap();
        std::fs::write(outer.path().join("b.jpg"), "").unwrap();
        let seen = |name: &str| within(&folder, Path::new(name)).is_ok();
        assert!(seen("pictures/a.jpg") && seen("./pictures/a.jpg"));
        let elsewhere = outer.path().join("b.jpg");
        for name in ["../b.jpg", "pictures/../../b.jpg", "/etc/hostname", elsewhere.to_str().unwrap(), "no.jpg"] {
            assert!(!seen(name), "{name}");
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(&elsewhere, folder.join("c.jpg")).unwrap();
            assert!(!seen("c.jpg"), "a link that leads out");
        }
    }
}
