//! Writing files so that nothing of the maker's is lost.
//!
//! Every file is written under a temporary name in its folder and renamed. What an earlier `make`
//! of the same plan wrote and nobody changed is replaced; anything else is left alone unless asked.

mod manifest;

use manifest::Manifest;
pub(crate) use manifest::{Made, digest as sha256};
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Why files could not be written.
#[derive(Debug, Error)]
pub(crate) enum OutputError {
    /// Files are in the way that this plan's earlier `make` did not write, or that were changed.
    #[error("{}", in_the_way(.0))]
    InTheWay(Vec<PathBuf>),
    /// A file stands where the folder should be.
    #[error("{} is a file; --out names a folder", .0.display())]
    NotAFolder(PathBuf),
    /// The system says no.
    #[error("can't write {path}: {why}", path = .path.display(), why = crate::failure::in_words(.source))]
    Io {
        /// What was to be written.
        path: PathBuf,
        /// Why not.
        source: io::Error,
    },
}

fn in_the_way(files: &[PathBuf]) -> String {
    let list: Vec<String> = files.iter().map(|f| format!("  {}", f.display())).collect();
    let (are, them) = if files.len() == 1 { ("file is", "it") } else { ("files are", "them") };
    format!(
        "nothing was written: {} {are} in the way that this plan did not make, or that changed since:\n{}\n\
         move {them}, choose another folder, or say --replace",
        files.len(),
        list.join("\n")
    )
}

fn io_at(path: &Path) -> impl FnOnce(io::Error) -> OutputError + '_ {
    move |source| OutputError::Io { path: path.to_owned(), source }
}

/// Writes one file under a temporary name and renames it.
pub(crate) fn write_one(path: &Path, bytes: &[u8]) -> Result<(), OutputError> {
    let mut file = beside(path).map_err(io_at(path))?;
    file.write_all(bytes).map_err(io_at(path))?;
    file.persist(path).map_err(|e| io_at(path)(e.error))?;
    Ok(())
}

/// The same where nothing is yet: a file that is there is never overwritten.
pub(crate) fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = beside(path)?;
    file.write_all(bytes)?;
    file.persist_noclobber(path).map_err(|e| e.error)?;
    Ok(())
}

/// A file of a temporary name in a file's folder.
fn beside(path: &Path) -> io::Result<tempfile::NamedTempFile> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".quarterturn-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        // As any new file has them: the user's mask takes away what it should.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder).map_err(|e| io::Error::from(e.kind()))
}

/// Writes the files of a plan into a folder, all or none as far as can be known beforehand.
///
/// # Errors
/// A file in the way, or what the system says.
pub fn write_all(
    folder: &Path,
    plan: &Path,
    files: &[(String, Vec<u8>)],
    replace: bool,
) -> Result<(), Box<dyn std::error::Error>> {
    Ok(write_files(folder, plan, files, replace, Made::Board)?)
}

pub(crate) fn write_files(
    folder: &Path,
    plan: &Path,
    files: &[(String, Vec<u8>)],
    replace: bool,
    made: Made,
) -> Result<(), OutputError> {
    if folder.exists() && !folder.is_dir() {
        return Err(OutputError::NotAFolder(folder.to_owned()));
    }
    fs::create_dir_all(folder).map_err(io_at(folder))?;
    let before = Manifest::read(folder, made);
    let now = Manifest::of(plan, files);
    let ours = |name: &str, path: &Path| before.as_ref().is_some_and(|b| b.same_plan(&now) && b.wrote(name, path));
    let in_the_way: Vec<PathBuf> = files
        .iter()
        .map(|(name, _)| (name, folder.join(name)))
        .filter(|(name, path)| path.symlink_metadata().is_ok() && !(replace && path.is_file()) && !ours(name, path))
        .map(|(_, path)| path)
        .collect();
    if !in_the_way.is_empty() {
        return Err(OutputError::InTheWay(in_the_way));
    }
    // Both the old and the new state are the program's own, wherever it is cut off between them.
    now.and(before.as_ref().filter(|b| b.same_plan(&now))).write(folder, made)?;
    for (name, bytes) in files {
        write_one(&folder.join(name), bytes)?;
    }
    for stale in
        before.iter().filter(|b| b.same_plan(&now)).flat_map(|b| b.names()).filter(|n| !now.names().any(|m| m == *n))
    {
        let path = folder.join(stale);
        if ours(stale, &path) {
            fs::remove_file(&path).map_err(io_at(&path))?;
        }
    }
    now.write(folder, made)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn write_files(folder: &Path, plan: &Path, files: &[(String, Vec<u8>)], replace: bool) -> Result<(), OutputError> {
        super::write_files(folder, plan, files, replace, Made::Board)
    }

    fn files(list: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
        list.iter().map(|(n, b)| ((*n).to_owned(), b.as_bytes().to_vec())).collect()
    }

    #[test]
    fn made_again_what_nobody_changed_is_replaced_and_the_rest_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let (plan, other, out) = (dir.path().join("a.toml"), dir.path().join("b.toml"), dir.path().join("out"));
        fs::write(&plan, "").unwrap();
        fs::write(&other, "").unwrap();
        let read = |name: &str| fs::read_to_string(out.join(name)).unwrap();
        write_files(&out, &plan, &files(&[("x", "1"), ("gone", "1")]), false).unwrap();
        write_files(&out, &plan, &files(&[("x", "2")]), false).unwrap();
        assert_eq!(read("x"), "2");
        assert!(!out.join("gone").exists(), "a file that the plan no longer makes is taken away");

        assert!(matches!(write_files(&out, &other, &files(&[("x", "3")]), false), Err(OutputError::InTheWay(_))));
        fs::write(out.join("x"), "mine").unwrap();
        assert!(matches!(write_files(&out, &plan, &files(&[("x", "3")]), false), Err(OutputError::InTheWay(_))));
        assert_eq!(read("x"), "mine");
        write_files(&out, &plan, &files(&[("x", "3")]), true).unwrap();
        assert_eq!(read("x"), "3");
    }

    #[test]
    fn a_stranger_in_the_folder_stops_all_of_it() {
        let dir = tempfile::tempdir().unwrap();
        let plan = dir.path().join("a.toml");
        fs::write(&plan, "").unwrap();
        fs::write(dir.path().join("b"), "mine").unwrap();
        fs::create_dir(dir.path().join("c")).unwrap();
        let error = write_files(dir.path(), &plan, &files(&[("a", "1"), ("b", "1"), ("c", "1")]), false).unwrap_err();
        assert!(error.to_string().contains("2 files are in the way"), "{error}");
        assert!(!dir.path().join("a").exists());
        assert!(matches!(write_files(dir.path(), &plan, &files(&[("c", "1")]), true), Err(OutputError::InTheWay(_))));
    }
}
