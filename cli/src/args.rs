//! The command line: what was typed, nothing more.

use crate::Status;
use clap::{Parser, Subcommand};
use std::ffi::OsString;
use std::path::PathBuf;

/// See an end-grain board, and every number for it, before the first cut.
///
/// A plan says what wood there is, what the saw takes and how the strips will lie; docs/plan.md
/// lists every key.
#[derive(Debug, Parser)]
#[command(name = "quarterturn", version, arg_required_else_help = true)]
struct Line {
    #[command(subcommand)]
    command: Command,
}

/// What is to be done.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make everything that the shop needs from a plan: pictures, drawing, solid, programs, cut list, report
    Make(Make),
    /// Say what can't be made and what wants care, and write nothing else
    Check(Check),
    /// Write a commented plan that runs as it stands
    New(New),
}

/// Arguments of `make`.
#[derive(Debug, clap::Args)]
pub(crate) struct Make {
    /// The plan
    pub(crate) plan: PathBuf,
    /// Folder to write to [default: the plan's name, beside where you are]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Scale of the pictures, dots an inch, from 10 to 1200 [default: 96, coarser for a large board]
    #[arg(long, value_parser = clap::value_parser!(u32).range(10..=1200))]
    pub(crate) dpi: Option<u32>,
    /// Draw glue lines as hairlines on the faces
    #[arg(long)]
    pub(crate) glue_lines: bool,
    /// Also replace files that were changed or that something else made
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(crate) struct Check {
    /// The plan
    pub(crate) plan: PathBuf,
    /// Also write the findings, with every number, to this file (JSON)
    #[arg(long, value_name = "FILE")]
    pub(crate) report: Option<PathBuf>,
    /// Replace that file even if it is not a report
    #[arg(long, requires = "report")]
    pub(crate) replace: bool,
}

/// Arguments of `new`.
#[derive(Debug, clap::Args)]
pub(crate) struct New {
    /// The plan to write; an existing file is never overwritten
    #[arg(default_value = "board.toml")]
    pub(crate) plan: PathBuf,
}

/// Reads the command line; `Err` where it was answered already (help, version, misuse).
pub(crate) fn parse(arguments: impl IntoIterator<Item = OsString>) -> Result<Command, Status> {
    Line::try_parse_from(arguments).map(|line| line.command).map_err(|error| {
        // Where even that can't be printed (a closed pipe), there is nobody left to tell.
        let _ = error.print();
        if error.use_stderr() { Status::Failed } else { Status::Made }
    })
}
