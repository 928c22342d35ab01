//! Why a command ended with status 2.

use crate::output::OutputError;
use crate::plan::Problems;
use std::io;
use std::path::PathBuf;
use thiserror::Error;

/// Why a command ended with status 2.
#[derive(Debug, Error)]
pub(crate) enum Failure {
    /// The plan's file can't be read.
    #[error("can't read {path}: {why}", path = .path.display(), why = in_words(.source))]
    Unreadable {
        /// The plan.
        path: PathBuf,
        /// Why not.
        source: io::Error,
    },
    /// What was typed can't be meant, or doesn't fit the plan.
    #[error("{0}")]
    Misuse(String),
    /// The plan has mistakes in it.
    #[error("the plan can't be read")]
    Problems(Box<Problems>),
    /// Files can't be written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// A writer failed on something that the model let through.
    #[error("can't make {0}: {1}")]
    Writer(&'static str, String),
    /// A file that is not ours stands where one is to be written.
    #[error("{path} is there already and {why}", path = .path.display())]
    Exists {
        /// The file.
        path: PathBuf,
        /// What it is, and what to do.
        why: &'static str,
    },
}

/// What the system says, in plain words where it is one of the common reasons.
pub(crate) fn in_words(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        io::ErrorKind::PermissionDenied => {
            "the system doesn't allow it; look at the file's and its folder's owner".to_owned()
        }
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "that disk can only be read".to_owned(),
        io::ErrorKind::IsADirectory => "it is a folder".to_owned(),
        io::ErrorKind::AddrInUse => "another program has that port; choose another one, or none".to_owned(),
        io::ErrorKind::AddrNotAvailable => "this machine has no such address".to_owned(),
        io::ErrorKind::NotADirectory => "a part of its path is a file, not a folder".to_owned(),
        _ => why.to_string(),
    }
}
