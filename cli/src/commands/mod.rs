//! One file a command.

mod boards;
mod check;
mod make;
mod new;
mod photo;
mod programs;
mod prove;
mod try_lay_ups;

pub(crate) use make::files_of;
pub use make::{Made, Named, make_files};
pub use try_lay_ups::{Tried, sheet_of};

use crate::Status;
use crate::args::Command;
use crate::failure::Failure;
use crate::open;
use crate::plan::{self, Plan};
use quarterturn_export::ExportError;
use std::fs::File;
use std::io::{self, Read as _};
use std::path::Path;

pub(crate) fn run(command: &Command) -> Result<Status, Failure> {
    match command {
        Command::Make(args) => make::run(args),
        Command::Check(args) => check::run(args),
        Command::Try(args) => try_lay_ups::run(args),
        Command::Boards(args) => boards::run(args),
        Command::New(args) => new::run(args),
        Command::Photo(args) => photo::run(args),
        Command::Prove(args) => prove::run(args),
        Command::Open(args) => open::run(args),
    }
}

/// What a writer writes.
fn bytes(what: &'static str, write: impl FnOnce(&mut Vec<u8>) -> Result<(), ExportError>) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    write(&mut bytes).map_err(|e| Failure::Writer(what, e.to_string()))?;
    Ok(bytes)
}

/// The longest plan that is read, bytes.
pub(crate) const MOST_TEXT: u64 = 1 << 20;

/// Reads a plan's file.
fn read_plan(path: &Path) -> Result<Plan, Failure> {
    let text = read_text(path)?;
    plan::read(&text, &path.display().to_string()).map_err(|problems| Failure::Problems(Box::new(problems)))
}

/// Reads a file of text; never more than a megabyte of it, whatever it is.
pub(crate) fn read_text(path: &Path) -> Result<String, Failure> {
    let unreadable = |source| Failure::Unreadable { path: path.to_owned(), source };
    if path.is_dir() {
        return Err(unreadable(io::Error::new(io::ErrorKind::InvalidInput, "it is a folder; name the plan in it")));
    }
    let mut bytes = Vec::new();
    File::open(path).map_err(unreadable)?.take(MOST_TEXT + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    let wrong = |what: &str| unreadable(io::Error::new(io::ErrorKind::InvalidData, what));
    if bytes.len() as u64 > MOST_TEXT {
        return Err(wrong("it is longer than 1 MB, which no plan is"));
    }
    String::from_utf8(bytes).map_err(|_| wrong("it is not text (UTF-8)"))
}
