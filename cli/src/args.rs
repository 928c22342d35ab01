//! The command line: what was typed, nothing more.

use crate::Status;
use clap::{Parser, Subcommand, ValueEnum};
use quarterturn_geometry::candidates::{Aim, Using, Wishes};
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
    /// Try lay-ups of the plan's own strips, and show the best different ones on one sheet
    Try(Box<Try>),
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
    /// Colour board.glb at its vertices instead of with pictures
    #[arg(long)]
    pub(crate) vertex_colours: bool,
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

/// Arguments of `try`.
#[derive(Debug, clap::Args)]
pub(crate) struct Try {
    /// The plan
    pub(crate) plan: PathBuf,
    /// Folder to write to [default: the plan's name, beside where you are]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// What counts: "figure runs on", "mirrored both ways" or "as much contrast as possible"; say it again for a second
    /// one [default: all of them in turn]
    #[arg(long, value_name = "AIM", value_parser = aim)]
    pub(crate) aim: Vec<Aim>,
    /// Whether strips may change places
    #[arg(long, value_enum, default_value_t = StripOrder::AsCut)]
    pub(crate) order: StripOrder,
    /// How many strips are laid: all, a number, or the largest even number
    #[arg(long = "use", value_name = "all|NUMBER|even", default_value = "all", value_parser = using)]
    pub(crate) using: Using,
    /// Strips that are lost, by number (with several panels "P 9"), with commas between
    #[arg(long, value_name = "STRIP", value_delimiter = ',')]
    pub(crate) gone: Vec<String>,
    /// Turns repeat every so many places, 1 to 4
    #[arg(long, value_name = "PLACES", value_parser = whole(1, 4))]
    pub(crate) repeat: Option<usize>,
    /// How many lay-ups are shown, 12 to 48
    #[arg(long, value_name = "NUMBER", default_value_t = Wishes::USUAL, value_parser = whole(Wishes::FEWEST, Wishes::MOST))]
    pub(crate) show: usize,
    /// Stop after so many seconds and show what was found; Ctrl-C does the same at once
    #[arg(long, value_parser = seconds)]
    pub(crate) seconds: Option<f64>,
    /// Count both faces alike, not the upper one alone, and show both
    #[arg(long)]
    pub(crate) both_faces: bool,
    /// Also replace files that were changed or that something else made
    #[arg(long)]
    pub(crate) replace: bool,
    /// Write this lay-up of the sheet made before into a copy of the plan
    #[arg(long, value_name = "NUMBER", requires = "to", conflicts_with_all = ["aim", "order", "using", "gone", "repeat", "show", "seconds", "both_faces", "replace"])]
    pub(crate) take: Option<usize>,
    /// The copy; an existing file is never overwritten
    #[arg(long, value_name = "PLAN", requires = "take")]
    pub(crate) to: Option<PathBuf>,
}

/// Whether strips may change places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum StripOrder {
    /// In the order in which they were cut
    AsCut,
    /// In any order
    Free,
}

fn aim(text: &str) -> Result<Aim, String> {
    let names = || Aim::ALL.map(|aim| format!("\"{}\"", aim.name())).join(", ");
    Aim::ALL.into_iter().find(|aim| aim.name() == text).ok_or_else(|| format!("an aim is one of {}", names()))
}

fn using(text: &str) -> Result<Using, String> {
    match text {
        "all" => Ok(Using::All),
        "even" => Ok(Using::Even),
        number => match number.parse() {
            Ok(count) if count > 0 => Ok(Using::Exactly(count)),
            _ => Err("say all, even, or how many".to_owned()),
        },
    }
}

fn seconds(text: &str) -> Result<f64, String> {
    let wrong = || "say a number of seconds, more than 0 and at most a day".to_owned();
    text.parse().ok().filter(|s: &f64| *s > 0.0 && *s <= 86_400.0).ok_or_else(wrong)
}

/// A whole number from `least` to `most`.
fn whole(least: usize, most: usize) -> impl Fn(&str) -> Result<usize, String> + Clone + Send + Sync + 'static {
    move |text| {
        let wrong = || format!("say a whole number from {least} to {most}");
        text.parse().ok().filter(|n| (least..=most).contains(n)).ok_or_else(wrong)
    }
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
