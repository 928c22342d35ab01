//! `try`: lay-ups of the plan's own strips, the best different ones on one sheet; one of them into a copy of the plan.

use super::bytes;
use super::read_plan;
use crate::args::{StripOrder, Try};
use crate::failure::Failure;
use crate::output::{Made, OutputError, sha256, write_files};
use crate::plan::{self, Plan};
use crate::{Status, terminal};
use quarterturn_export::lay_ups::LayUps;
use quarterturn_geometry::board::Face;
use quarterturn_geometry::candidates::{Arranged, Bench, BlanksWanted, NoBench, Sheet, Sliding, Tiles, Wishes};
use quarterturn_geometry::job::{Job, NoBoard};
use quarterturn_geometry::layup::{Place, Turn};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::search::{FacesCounted, Order, Weights};
use quarterturn_geometry::stock::{BlankTurn, HalfTurn};
use serde::Deserialize;
use std::fs::OpenOptions;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// A sheet and its files, not yet written.
#[derive(Debug)]
pub struct Tried {
    /// What was found.
    pub sheet: Sheet,
    /// The files: name and bytes.
    pub files: Vec<super::Named>,
}

pub(super) fn run(args: &Try) -> Result<Status, Failure> {
    let plan = read_plan(&args.plan)?;
    let folder = args.out.clone().unwrap_or_else(|| PathBuf::from(args.plan.file_stem().unwrap_or_default()));
    if let (Some(number), Some(to)) = (args.take, &args.to) {
        return take(&plan, &folder, number, to);
    }
    // The command line lets it pass where an option stands beside it that `--take` excludes.
    if args.to.is_some() {
        return Err(Failure::Misuse("--to names the copy that --take NUMBER writes; add --take NUMBER".to_owned()));
    }
    let start = Instant::now();
    let wishes = wishes(args, &plan.job)?;
    let stopped = Arc::new(AtomicBool::new(false));
    let by_key = Arc::clone(&stopped);
    // Where the key can't be listened to, it ends the program as it always did.
    let _ = ctrlc::set_handler(move || by_key.store(true, Ordering::Relaxed));
    let until = start + Duration::from_secs_f64(args.seconds);
    let mut said = terminal::Progress::new(start);
    let mut keep_going = |doing: &str| {
        said.say(doing);
        !stopped.load(Ordering::Relaxed) && Instant::now() < until
    };
    // What is left is for the strips.
    let half = start + Duration::from_secs_f64(args.seconds / 2.0);
    let blanks = blanks(args, &plan)?.map(|wanted| BlanksAsked { wanted, until: half });
    let tried = match try_lay_ups(&plan, &wishes, blanks.as_ref(), &mut keep_going) {
        Ok(tried) => tried,
        Err(Refused::CantBeMade(why)) => {
            terminal::no_lay_up(&plan.job, &why);
            return Ok(Status::CantBeMade);
        }
        Err(Refused::Failed(failure)) => return Err(failure),
    };
    write_files(&folder, &args.plan, &tried.files, args.replace, Made::LayUps)?;
    let names: Vec<&str> = tried.files.iter().map(|(name, _)| name.as_str()).collect();
    terminal::tried(&plan.job, &tried.sheet, &names, &folder, start.elapsed());
    Ok(Status::Made)
}

/// What is asked of the blanks, and until when they are searched for.
struct BlanksAsked {
    wanted: BlanksWanted,
    until: Instant,
}

/// Why there is no sheet.
#[derive(Debug)]
pub(crate) enum Refused {
    /// The plan gives no board, whatever the lay-up.
    CantBeMade(String),
    /// Something else.
    Failed(Failure),
}

impl From<Failure> for Refused {
    fn from(failure: Failure) -> Self {
        Self::Failed(failure)
    }
}

/// The sheet of lay-ups of a plan and its files, as `try` makes them, none of them written.
///
/// # Errors
/// Where the plan gives no strips, or a writer fails.
pub fn sheet_of(plan: &Plan, wishes: &Wishes) -> Result<Tried, Box<dyn std::error::Error>> {
    try_lay_ups(plan, wishes, None, &mut |_| true).map_err(|refused| match refused {
        Refused::CantBeMade(why) => why.into(),
        Refused::Failed(failure) => failure.into(),
    })
}

fn try_lay_ups(
    plan: &Plan,
    wishes: &Wishes,
    blanks: Option<&BlanksAsked>,
    keep_going: &mut dyn FnMut(&str) -> bool,
) -> Result<Tried, Refused> {
    let mut out_of_time = false;
    let arrange = |blanks: &BlanksAsked| {
        let mut going = |doing: &str| {
            out_of_time |= Instant::now() >= blanks.until;
            keep_going(doing) && !out_of_time
        };
        Arranged::of(&plan.job, wishes, &blanks.wanted, &mut going)
    };
    let arranged = blanks.map(arrange).transpose();
    let arranged = arranged.map_err(|error| refused(&plan.job, &error))?;
    let job = arranged.as_ref().map_or(&plan.job, |arranged| &arranged.job);
    let mut bench = Bench::new(job, &job.work(), wishes).map_err(|error| refused(job, &error))?;
    if arranged.as_ref().is_some_and(|arranged| !arranged.is_as_planned(&plan.job)) {
        // The plan's own turns are another board on panels that are laid otherwise.
        bench.planned = None;
    }
    let both = wishes.faces == FacesCounted::Both;
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let pixel = Tiles::pixel_for(&bench, LayUps::FACE_ACROSS, LayUps::FACE_DOWN);
    keep_going("drawing the strips");
    let none = || Failure::Writer("the sheet", "the strips are too many or too small to draw".to_owned());
    let tiles = Tiles::draw(&bench, pixel, both, workers).ok_or_else(none)?;
    let mut sheet =
        Sheet::of(job, &bench, wishes, &tiles, workers, keep_going).map_err(|error| refused(job, &error))?;
    sheet.blanks = arranged.as_ref().map(Arranged::notes).unwrap_or_default();
    if out_of_time && arranged.as_ref().is_some_and(|arranged| !arranged.tried.is_proven()) {
        sheet.blanks.push("The search for the blanks stopped when half of the time (--seconds) was over.".to_owned());
    }
    if sheet.candidates.is_empty() {
        return Err(Refused::CantBeMade(cant(&sheet)));
    }
    keep_going("drawing the sheet");
    let faces = if both { &[Face::Upper, Face::Lower][..] } else { &[Face::Upper] };
    let faces = |laid| faces.iter().map(|face| tiles.picture(laid, *face)).collect::<Option<Vec<Picture>>>();
    let faces: Option<Vec<_>> = sheet.candidates.iter().map(|c| faces(&c.laid)).collect();
    let faces = faces.ok_or_else(none)?;
    let page = LayUps {
        name: &job.name,
        sheet: &sheet,
        faces: &faces,
        arranged: arranged.as_ref().map_or(&[], |a| &a.panels),
    };
    let panels: Vec<String> = job.panels.iter().map(|p| p.name.clone()).collect();
    let svg = page.svg().map_err(|e| Failure::Writer("the sheet", e.to_string()))?;
    let files = vec![
        ("lay-ups.png".to_owned(), bytes("the sheet", |out| page.png(out))?),
        ("lay-ups.svg".to_owned(), svg.into_bytes()),
        ("lay-ups.pdf".to_owned(), bytes("the sheet", |out| page.pdf(out))?),
        (LIST.to_owned(), bytes("the list of lay-ups", |out| page.json(job.rule.unit(), &digest(plan), &panels, out))?),
    ];
    Ok(Tried { sheet, files })
}

/// What can't be made is no misuse.
fn refused(job: &Job, error: &NoBench) -> Refused {
    match error {
        NoBench::NoStrips(NoBoard::FewerStrips(panel)) => {
            let name = job.panels.get(*panel).map_or("", |p| p.name.as_str());
            Refused::CantBeMade(format!("panel {name} gives fewer strips than are wanted"))
        }
        NoBench::NoStrips(_) => Refused::CantBeMade(error.to_string()),
        other => Refused::Failed(Failure::Misuse(other.to_string())),
    }
}

fn cant(sheet: &Sheet) -> String {
    let finding = sheet.cant_be_made.iter().flatten().next();
    finding.map_or_else(|| "no lay-up was found".to_owned(), |f| format!("{}. What mends it: {}", f.says, f.mends))
}

fn wishes(args: &Try, job: &Job) -> Result<Wishes, Failure> {
    let gone = args.gone.iter().map(|text| strip(text, job)).collect::<Result<_, _>>()?;
    if args.slide.len() > Wishes::MOST_SLIDES {
        return Err(Failure::Misuse(format!("--slide can be said {} times at most", Wishes::MOST_SLIDES)));
    }
    let slides = args.slide.iter().map(|text| slide(text, job.rule.unit())).collect::<Result<_, _>>()?;
    Ok(Wishes {
        aims: args.aim.clone(),
        runs_on: args.weigh.unwrap_or(Weights::RUNS_ON),
        order: match args.order {
            StripOrder::AsCut => Order::AsGiven,
            StripOrder::PanelsFree => Order::Interleaved,
            StripOrder::Free => Order::Free,
        },
        using: args.using,
        gone,
        repeat: args.repeat,
        slides,
        show: args.show,
        faces: if args.both_faces { FacesCounted::Both } else { FacesCounted::Upper },
    })
}

/// Which blanks may be laid otherwise, where that is asked for.
fn blanks(args: &Try, plan: &Plan) -> Result<Option<BlanksWanted>, Failure> {
    if !args.blanks {
        return Ok(None);
    }
    let letters = plan::letters(&plan.text).map_err(|why| Failure::Misuse(format!("--blanks: {why}")))?;
    let first = |all: &Vec<String>, letter: &String| all.iter().position(|l| l == letter).unwrap_or(0);
    let copies = letters.iter().map(|all| all.iter().map(|letter| first(all, letter)).collect()).collect();
    let place = |letter: &String| {
        let laid = plan.job.panels.iter().enumerate().find_map(|(i, panel)| {
            panel.blanks.iter().position(|laid| laid.blank.letter == letter.trim()).map(|place| (i, place))
        });
        laid.ok_or_else(|| Failure::Misuse(format!("--stay {letter:?} names no blank that a panel is laid with")))
    };
    let stay = args.stay.iter().map(place).collect::<Result<_, _>>()?;
    Ok(Some(BlanksWanted { stay, copies }))
}

/// `1/4`, `6 mm`, `0`, or `as-planned`.
fn slide(text: &str, unit: Unit) -> Result<Sliding, Failure> {
    if text.trim() == "as-planned" {
        return Ok(Sliding::AsPlanned);
    }
    let wrong = |why| {
        Failure::Misuse(format!("--slide {text:?}: {why}; write a length like \"1/4\" or \"6 mm\", 0, or as-planned"))
    };
    Length::parse(text, unit).map(Sliding::EverySecond).map_err(wrong)
}

/// `9`, or with several panels `P 9`.
fn strip(text: &str, job: &Job) -> Result<(usize, i64), Failure> {
    let wrong = || {
        let like = if job.panels.len() == 1 { "9".to_owned() } else { format!("{} 9", job.panels[0].name) };
        Failure::Misuse(format!("--gone {text:?} names no strip; write it like \"{like}\""))
    };
    let (panel, number) = match text.trim().rsplit_once(' ') {
        Some((panel, number)) => (job.panels.iter().position(|p| p.name == panel.trim()), number),
        None => ((job.panels.len() == 1).then_some(0), text.trim()),
    };
    let number = number.parse::<i64>().ok().filter(|n| *n > 0).ok_or_else(wrong)?;
    Ok((panel.ok_or_else(wrong)?, number - 1))
}

/// The list that `--take` chooses from.
const LIST: &str = "lay-ups.json";

fn digest(plan: &Plan) -> String {
    sha256(plan.text.as_bytes())
}

#[derive(Deserialize)]
struct List {
    plan_sha256: String,
    #[serde(default)]
    panels: Vec<ListedPanel>,
    lay_ups: Vec<Listed>,
}

#[derive(Deserialize)]
struct ListedPanel {
    blanks: Vec<ListedBlank>,
}

#[derive(Deserialize)]
struct ListedBlank {
    planned: usize,
    turn: String,
    quarter_roll: bool,
}

#[derive(Deserialize)]
struct Listed {
    number: usize,
    how: String,
    places: Vec<ListedPlace>,
}

#[derive(Deserialize)]
struct ListedPlace {
    panel: String,
    strip: i64,
    turn: String,
    stagger_mm: f64,
}

/// Writes a lay-up of the sheet that was made before into a copy of the plan.
fn take(plan: &Plan, folder: &Path, number: usize, to: &Path) -> Result<Status, Failure> {
    let path = folder.join(LIST);
    let none = |why: &str| Failure::Misuse(format!("{}: {why}; make the sheet first: quarterturn try", path.display()));
    let text = std::fs::read(&path).map_err(|e| none(&e.to_string()))?;
    let list: List = serde_json::from_slice(&text).map_err(|e| none(&e.to_string()))?;
    if list.plan_sha256 != digest(plan) {
        return Err(none("the plan was changed since this sheet was made"));
    }
    let many = list.lay_ups.len();
    let one = list.lay_ups.iter().find(|l| l.number == number);
    let one = one.ok_or_else(|| Failure::Misuse(format!("there is no lay-up {number} on the sheet; it has {many}")))?;
    let places = one.places.iter().map(|p| place(p, &plan.job)).collect::<Option<Vec<_>>>();
    let places = places.ok_or_else(|| none("it names strips that the plan doesn't have"))?;
    let about = format!("lay-up {number} of the sheet: {}", one.how);
    let from = plan_folder(&plan.file, to);
    let not = |why| Failure::Writer("the copy", why);
    let mut text = plan.text.clone();
    let mut job = plan.job.clone();
    if !list.panels.is_empty() {
        let orders =
            list.panels.iter().map(|panel| panel.blanks.iter().map(blank).collect()).collect::<Option<Vec<_>>>();
        let orders = orders.ok_or_else(|| none("it names turns of blanks that there are not"))?;
        text = plan::with_blanks(&text, &job, &orders, &format!("as lay-up {number} of the sheet wants the blanks"))
            .map_err(not)?;
        job = plan::read(&text, &plan.file).map_err(|problems| not(problems.to_string()))?.job;
    }
    let copy = plan::with_layup(&text, &job, &places, &about, from.as_deref()).map_err(not)?;
    write_new(to, &copy)?;
    terminal::took(number, to);
    Ok(Status::Made)
}

/// The plan's folder, seen from that of its copy; none where it is the same one.
fn plan_folder(plan: &str, copy: &Path) -> Option<PathBuf> {
    let folder = |file: &Path| {
        let parent = file.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
        parent.canonicalize().ok()
    };
    let (from, to) = (folder(copy)?, folder(Path::new(plan))?);
    if from == to {
        return None;
    }
    let alike = from.components().zip(to.components()).take_while(|(a, b)| a == b).count();
    if alike <= 1 {
        return Some(to);
    }
    let up = from.components().skip(alike).map(|_| Path::new(".."));
    let down: PathBuf = to.components().skip(alike).collect();
    Some(up.collect::<PathBuf>().join(down))
}

fn blank(listed: &ListedBlank) -> Option<(usize, BlankTurn)> {
    let halves = [HalfTurn::Rest, HalfTurn::RolledOver, HalfTurn::EndForEnd, HalfTurn::EndOverEnd];
    let half = halves.into_iter().find(|half| half.name() == listed.turn)?;
    Some((listed.planned.checked_sub(1)?, BlankTurn { quarter_roll: listed.quarter_roll, half }))
}

fn place(listed: &ListedPlace, job: &Job) -> Option<Place> {
    let panel = job.panels.iter().position(|p| p.name == listed.panel)?;
    let turn = Turn::ALL.into_iter().find(|t| t.name() == listed.turn)?;
    let strip = listed.strip.checked_sub(1).filter(|s| *s >= 0)?;
    // Just the length that was written: a tick is far coarser than the last digit.
    let slid = (listed.stagger_mm.abs() <= Length::MOST.mm()).then(|| Length::nearest_to_mm(listed.stagger_mm))?;
    Some(Place { panel, strip, turn, stagger: slid })
}

/// Creates a file; one that is there is never overwritten.
fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path).map_err(|source| {
        if source.kind() == io::ErrorKind::AlreadyExists {
            Failure::Exists { path: path.to_owned(), why: "is never overwritten; choose another name" }
        } else {
            Failure::Output(OutputError::Io { path: path.to_owned(), source })
        }
    })?;
    file.write_all(text.as_bytes()).map_err(|source| OutputError::Io { path: path.to_owned(), source })?;
    Ok(())
}
