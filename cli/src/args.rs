//! The command line: what was typed, nothing more.

use crate::Status;
use clap::{Parser, Subcommand, ValueEnum};
use quarterturn_geometry::candidates::{Aim, Using, Wishes};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::photo::End;
use quarterturn_geometry::search::{Measure, Weights};
use std::ffi::OsString;
use std::net::IpAddr;
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
    /// Share out a list of blanks in stock among boards: which are glued together, what size that gives, what is left over
    Boards(Boards),
    /// Write a commented plan that runs as it stands
    New(New),
    /// Find the end of a blank in a photograph, make it flat, and show the outline that was found
    Photo(Photo),
    /// Move the bit through the wood as a program says, and compare what is left with the plan's cut
    Prove(Prove),
    /// Open the board on a page in the browser: see it, turn and move its strips, and save the plan
    Open(Open),
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
    /// Paper of the sheets [default: letter for a plan in inches, a4 for one in millimetres]
    #[arg(long, value_enum)]
    pub(crate) paper: Option<Paper>,
    /// Language of the sheets
    #[arg(long, value_enum, default_value_t = Tongue::En)]
    pub(crate) language: Tongue,
    /// Also replace files that were changed or that something else made
    #[arg(long)]
    pub(crate) replace: bool,
}

/// The paper in the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 in
    Letter,
}

/// A language of the sheets, by its ISO 639-1 code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Tongue {
    /// English
    En,
    /// German
    De,
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
    /// What "figure runs on" weighs at a glue line, each 0 to 12: colour, heartwood line, ring direction, single rings,
    /// contrast; what isn't named weighs nothing [default: "colour 10, heartwood line 4, ring direction 1, single rings 1"]
    #[arg(long, value_name = "WEIGHTS", value_parser = weights)]
    pub(crate) weigh: Option<Weights>,
    /// Whether strips may change places
    #[arg(long, value_enum, default_value_t = StripOrder::AsCut)]
    pub(crate) order: StripOrder,
    /// How many strips are laid: all, a number, or the largest even number
    #[arg(long = "use", value_name = "all|NUMBER|even", default_value = "all", value_parser = using)]
    pub(crate) using: Using,
    /// Strips that are lost, by number (with several panels "P 9"), with commas between
    #[arg(long, value_name = "STRIP", value_delimiter = ',')]
    pub(crate) gone: Vec<String>,
    /// Before the first glue-up: also lay the blanks of each panel in another order and otherwise turned, as suits the
    /// first aim best with the strips as cut; it takes half of --seconds at most
    #[arg(long)]
    pub(crate) blanks: bool,
    /// Blanks that keep their place in the panel, by letter, with commas between
    #[arg(long, value_name = "LETTER", value_delimiter = ',', requires = "blanks")]
    pub(crate) stay: Vec<String>,
    /// Turns repeat every so many places, 1 to 4
    #[arg(long, value_name = "PLACES", value_parser = whole(1, 4))]
    pub(crate) repeat: Option<usize>,
    /// Slide every second strip in the order as cut along its neighbours, so far toward the back (0: none; -1/4: toward
    /// the front), or as-planned; say it again to try several together, up to 8 [default: as planned, and 0 too]
    #[arg(long, value_name = "LENGTH|as-planned", allow_hyphen_values = true)]
    pub(crate) slide: Vec<String>,
    /// How many lay-ups are shown, 12 to 48
    #[arg(long, value_name = "NUMBER", default_value_t = Wishes::USUAL, value_parser = whole(Wishes::FEWEST, Wishes::MOST))]
    pub(crate) show: usize,
    /// Stop after so many seconds and show what was found; Ctrl-C does the same at once
    #[arg(long, default_value = "20", value_parser = seconds)]
    pub(crate) seconds: f64,
    /// Count both faces alike, not the upper one alone, and show both
    #[arg(long)]
    pub(crate) both_faces: bool,
    /// Also replace files that were changed or that something else made
    #[arg(long)]
    pub(crate) replace: bool,
    /// Write this lay-up of the sheet made before into a copy of the plan
    #[arg(long, value_name = "NUMBER", requires = "to", conflicts_with_all = ["aim", "weigh", "order", "using", "gone", "blanks", "stay", "repeat", "slide", "show", "seconds", "both_faces", "replace"])]
    pub(crate) take: Option<usize>,
    /// The copy; an existing file is never overwritten
    #[arg(long, value_name = "PLAN", requires = "take")]
    pub(crate) to: Option<PathBuf>,
}

/// Arguments of `boards`.
#[derive(Debug, clap::Args)]
pub(crate) struct Boards {
    /// The stock list
    pub(crate) stock: PathBuf,
    /// How many proposals are shown, 1 to 50
    #[arg(long, value_name = "NUMBER", default_value_t = 5, value_parser = whole(1, 50))]
    pub(crate) show: usize,
    /// Stop after so many seconds and show what was found
    #[arg(long, default_value = "20", value_parser = seconds)]
    pub(crate) seconds: f64,
}

/// Whether strips may change places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum StripOrder {
    /// In the order in which they were cut
    AsCut,
    /// Each panel's strips in the order in which they were cut, from either panel next
    PanelsFree,
    /// In any order
    Free,
}

fn aim(text: &str) -> Result<Aim, String> {
    let names = || Aim::ALL.map(|aim| format!("\"{}\"", aim.name())).join(", ");
    Aim::ALL.into_iter().find(|aim| aim.name() == text).ok_or_else(|| format!("an aim is one of {}", names()))
}

/// `colour 10, ring direction 1`.
fn weights(text: &str) -> Result<Weights, String> {
    let names = || Measure::ALL.map(Measure::name).join(", ");
    let wrong =
        |part: &str| format!("{part:?} is not one of {}, and how much it weighs, 0 to {}", names(), Weights::MOST);
    let mut weights = [None; Measure::ALL.len()];
    for part in text.split(',').map(str::trim) {
        let (name, weight) = part.rsplit_once(' ').ok_or_else(|| wrong(part))?;
        let at = Measure::ALL.iter().position(|measure| measure.name() == name.trim()).ok_or_else(|| wrong(part))?;
        let weight = weight.parse().ok().filter(|weight| *weight <= Weights::MOST).ok_or_else(|| wrong(part))?;
        if weights[at].replace(weight).is_some() {
            return Err(format!("{name} is weighed twice"));
        }
    }
    let weights = weights.map(Option::unwrap_or_default);
    if weights == [0; Measure::ALL.len()] { Err("nothing weighs anything".to_owned()) } else { Ok(Weights(weights)) }
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

/// Arguments of `photo`.
#[derive(Debug, clap::Args)]
pub(crate) struct Photo {
    /// The photograph, JPEG or PNG
    pub(crate) picture: PathBuf,
    /// Width and thickness of the end: "2 3/8 x 1 1/2", "60 x 38 mm"; inches where no unit is named
    #[arg(long, value_parser = size)]
    pub(crate) size: Size,
    /// The four corners in pixels of the photograph as you see it, from its upper left, the marked corner first, then on
    /// across the width: clockwise on the near end, anticlockwise on the far end [default: they are looked for]
    #[arg(long, num_args = 4, value_name = "X,Y", value_parser = numbers::<2>, allow_hyphen_values = true)]
    pub(crate) corners: Option<Vec<[f64; 2]>>,
    /// Which end it is: near or far [default: by the corners' sense; near, where they are looked for]
    #[arg(long, value_parser = end)]
    pub(crate) end: Option<End>,
    /// Scale of the flat end, dots an inch, from 10 to 1200 [default: as fine as the photograph, 600 at most]
    #[arg(long, value_parser = clap::value_parser!(u32).range(10..=1200))]
    pub(crate) dpi: Option<u32>,
    /// A patch of a white or grey card beside the end, pixels: colours are made as they would be in even white light
    #[arg(long, value_name = "X,Y,WIDTH,HEIGHT", value_parser = numbers::<4>, allow_hyphen_values = true)]
    pub(crate) card: Option<[f64; 4]>,
    /// The share of light that the card gives back: plain white paper about 0.9, a photographer's grey card 0.18
    #[arg(long, requires = "card", default_value = "0.9", value_parser = share)]
    pub(crate) reflectance: f64,
    /// Folder to write to [default: the photograph's name, beside where you are]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Also replace files that were changed or that something else made
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Arguments of `prove`.
#[derive(Debug, clap::Args)]
pub(crate) struct Prove {
    /// The program, RS-274
    pub(crate) program: PathBuf,
    /// The plan
    pub(crate) plan: PathBuf,
    /// Which of the plan's cuts: groove-upper, say [default: the one whose program has this name, or the only one]
    #[arg(long, value_name = "NAME")]
    pub(crate) cut: Option<String>,
    /// Folder for two pictures, NAME-depths.png and NAME-differences.png [default: none are drawn]
    #[arg(long, value_name = "DIR")]
    pub(crate) pictures: Option<PathBuf>,
    /// Also replace pictures that are there
    #[arg(long, requires = "pictures")]
    pub(crate) replace: bool,
    /// The side of a cell, mm, from 0.02 to 5
    #[arg(long, value_name = "MM", default_value = "0.1", value_parser = cell)]
    pub(crate) grid: f64,
}

/// Arguments of `open`.
#[derive(Debug, clap::Args)]
pub(crate) struct Open {
    /// The plan [default: an empty bench, or a sample]
    pub(crate) plan: Option<PathBuf>,
    /// The port that the page is served on [default: any that is free]
    #[arg(long, default_value_t = 0, hide_default_value = true)]
    pub(crate) port: u16,
    /// The address of this machine that the page is served at; any but the default can be reached by others in the same
    /// network who know the page's whole address, and what is sent can be read on the way
    #[arg(long, value_name = "IP", default_value_t = IpAddr::from([127, 0, 0, 1]), value_parser = one_address)]
    pub(crate) address: IpAddr,
    /// Only print the page's address
    #[arg(long)]
    pub(crate) no_browser: bool,
}

/// An address of one machine: the page is asked for by it, and by no other.
fn one_address(written: &str) -> Result<IpAddr, String> {
    let wrong = || "write one IP address of this machine, as 192.168.1.20".to_owned();
    written.parse().ok().filter(|ip: &IpAddr| !ip.is_unspecified() && !ip.is_multicast()).ok_or_else(wrong)
}

fn cell(written: &str) -> Result<f64, String> {
    let wrong = || "write a number of millimetres from 0.02 to 5".to_owned();
    written.parse().ok().filter(|c| (0.02..=5.0).contains(c)).ok_or_else(wrong)
}

/// Width and thickness of an end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Size(pub(crate) [Length; 2]);

/// `2 3/8 x 1 1/2`; a unit that stands at the end alone is that of both.
fn size(written: &str) -> Result<Size, String> {
    let (width, thickness) = written.split_once(['x', '×', 'X']).ok_or("write width x thickness")?;
    let (width, thickness) = (width.trim(), thickness.trim());
    let has_unit = |text: &str| text.ends_with(|c: char| c.is_alphabetic() || c == '"' || c == '″');
    let unit: String = thickness.chars().skip_while(|c| !(c.is_alphabetic() || matches!(c, '"' | '″'))).collect();
    let width = if has_unit(width) { width.to_owned() } else { format!("{width} {unit}") };
    let side = |text: &str| {
        let length = Length::parse(text, Unit::Inch).map_err(|e| format!("{text}: {e}"))?;
        let sound = (1.0..=1000.0).contains(&length.mm());
        if sound { Ok(length) } else { Err(format!("{text}: an end measures from 1 mm to 1000 mm")) }
    };
    Ok(Size([side(&width)?, side(thickness)?]))
}

/// So many numbers with commas between them.
fn numbers<const N: usize>(written: &str) -> Result<[f64; N], String> {
    let all: Option<Vec<f64>> =
        written.split(',').map(|part| part.trim().parse().ok().filter(|n: &f64| n.is_finite())).collect();
    all.and_then(|all| all.try_into().ok()).ok_or_else(|| format!("write {N} numbers with commas between them"))
}

fn end(written: &str) -> Result<End, String> {
    [End::Near, End::Far].into_iter().find(|end| end.name() == written).ok_or_else(|| "write near or far".to_owned())
}

fn share(written: &str) -> Result<f64, String> {
    written
        .parse()
        .ok()
        .filter(|n| *n > 0.0 && *n <= 1.0)
        .ok_or_else(|| "write a number above 0 and up to 1".to_owned())
}

/// Reads the command line; `Err` where it was answered already (help, version, misuse).
pub(crate) fn parse(arguments: impl IntoIterator<Item = OsString>) -> Result<Command, Status> {
    Line::try_parse_from(arguments).map(|line| line.command).map_err(|error| {
        // Where even that can't be printed (a closed pipe), there is nobody left to tell.
        let _ = error.print();
        if error.use_stderr() { Status::Failed } else { Status::Made }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_as_a_maker_writes_them() {
        let inches = |a: (i64, i64), b: (i64, i64)| Ok(Size([a, b].map(|(n, d)| Length::from_inch_fraction(n, d))));
        for written in ["2 3/8 x 1 1/2", "2 3/8 × 1.5", "2.375x1 1/2 in", "2 3/8\" x 1 1/2\"", "60.325 mm x 1 1/2"] {
            assert_eq!(size(written), inches((19, 8), (3, 2)), "{written}");
        }
        assert_eq!(size("60 x 38 mm").map(|Size(all)| all.map(Length::mm)), Ok([60.0, 38.0]));
        for wrong in ["", "2", "x", "2 x", "x 2", "0 x 1", "2 x 1 x 3", "-1 x 2", "2 yards x 1", "900 x 2"] {
            assert!(size(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_page_is_served_at_one_address() {
        assert_eq!(one_address("192.168.1.20"), Ok(IpAddr::from([192, 168, 1, 20])));
        assert!(one_address("::1").is_ok());
        for wrong in ["", "localhost", "0.0.0.0", "::", "224.0.0.1", "1.2.3", "1.2.3.4:80"] {
            assert!(one_address(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn places_are_numbers_with_commas() {
        assert_eq!(numbers::<2>("12.5, -3"), Ok([12.5, -3.0]));
        for wrong in ["", "1", "1,2,3", "1;2", "nan,1", "inf,1", "1,"] {
            assert!(numbers::<2>(wrong).is_err(), "{wrong}");
        }
    }
}
