//! `new`: a commented plan that runs as it stands.

use crate::args::New;
use crate::failure::Failure;
use crate::output::OutputError;
use crate::{Status, plan, terminal};
use std::fs::OpenOptions;
use std::io::{self, Write as _};

pub(super) fn run(args: &New) -> Result<Status, Failure> {
    // Created only where nothing is, in one step; a few lines, so that no half of it is ever seen.
    let mut file = OpenOptions::new().write(true).create_new(true).open(&args.plan).map_err(|source| {
        if source.kind() == io::ErrorKind::AlreadyExists {
            Failure::Exists { path: args.plan.clone(), why: "is never overwritten; choose another name" }
        } else {
            Failure::Output(OutputError::Io { path: args.plan.clone(), source })
        }
    })?;
    file.write_all(plan::STARTER.as_bytes()).map_err(|source| OutputError::Io { path: args.plan.clone(), source })?;
    terminal::wrote_plan(&args.plan);
    Ok(Status::Made)
}
