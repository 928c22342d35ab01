//! `make`: everything that the shop needs, from one plan.

use super::programs::{by_cut, failing, files as programs_of, text};
use super::{bytes, read_plan};
use crate::args::{Make, Paper, Tongue};
use crate::failure::Failure;
use crate::output::{self, write_files};
use crate::{Status, terminal};
use quarterturn_export::drawing::Drawing;
use quarterturn_export::paper::{Given, Language, PaperSize, Pictures, Sheets, Template};
use quarterturn_export::report::Report;
use quarterturn_export::{ExportError, cut_list, face, glb, marked, png, rs274, seen, stl, threemf};
use quarterturn_geometry::board::{Board, Face, FaceOptions, FigureDrawn};
use quarterturn_geometry::check::{Finding, Kind, Subject, can_be_made, findings};
use quarterturn_geometry::cut::{Cut, Cuts, Edge, Face as CutFace, Handhold, Sweep, Which};
use quarterturn_geometry::job::{Holds, Job, Outcome};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::path::{Cutting, RouterSetup, together};
use quarterturn_geometry::solid::NoBody;
use std::path::PathBuf;
use std::time::Instant;

/// A file's name and its bytes.
pub type Named = (String, Vec<u8>);

/// Everything made from a plan, not yet written.
#[derive(Debug)]
pub struct Made {
    /// Findings, the weightiest first.
    pub findings: Vec<Finding>,
    /// Every number.
    pub numbers: Numbers,
    /// The files: name and bytes.
    pub files: Vec<Named>,
}

pub(super) fn run(args: &Make) -> Result<Status, Failure> {
    let start = Instant::now();
    let plan = read_plan(&args.plan)?;
    let job = &plan.job;
    let folder = args.out.clone().unwrap_or_else(|| PathBuf::from(args.plan.file_stem().unwrap_or_default()));
    let outcome = job.work();
    let found = findings(job, &outcome);
    if !can_be_made(&found) {
        terminal::findings(&plan, &found);
        terminal::cant_be_made(&folder);
        return Ok(Status::CantBeMade);
    }
    let asked = Asked {
        dpi: args.dpi,
        glue_lines: args.glue_lines,
        vertex_colours: args.vertex_colours,
        paper: args.paper.map(|paper| match paper {
            Paper::A4 => PaperSize::A4,
            Paper::Letter => PaperSize::Letter,
        }),
        language: match args.language {
            Tongue::En => Language::English,
            Tongue::De => Language::German,
        },
    };
    let made = make(job, &outcome, found, &asked)?;
    if let Some(why) = failing(job, &outcome, &made.files) {
        terminal::cant(&why);
        terminal::cant_be_made(&folder);
        return Ok(Status::CantBeMade);
    }
    write_files(&folder, &args.plan, &made.files, args.replace, output::Made::Board)?;
    let names: Vec<&str> = made.files.iter().map(|(name, _)| name.as_str()).collect();
    terminal::made(&plan, &made.summary(job), &made.findings, &names, &folder, start.elapsed());
    Ok(Status::Made)
}

/// Makes the files of a job, as `make` does, and writes none of them.
///
/// # Errors
/// Where there is no board, or a writer fails.
pub fn make_files(job: &Job, dpi: Option<u32>, glue_lines: bool) -> Result<Made, Box<dyn std::error::Error>> {
    let outcome = job.work();
    let found = findings(job, &outcome);
    Ok(make(job, &outcome, found, &Asked { dpi, glue_lines, ..Asked::default() })?)
}

/// Everything that `make` writes of a job where nothing more is asked; or why it can't be made.
pub(crate) fn files_of(job: &Job) -> Result<Result<Vec<Named>, String>, Failure> {
    let outcome = job.work();
    let found = findings(job, &outcome);
    if let Some(finding) = found.iter().find(|finding| finding.kind == Kind::CantBeMade) {
        return Ok(Err(format!("{}: {}", finding.subject.name(job), finding.says)));
    }
    let made = make(job, &outcome, found, &Asked::default())?;
    Ok(failing(job, &outcome, &made.files).map_or(Ok(made.files), Err))
}

/// What the command line asks of the files.
#[derive(Default)]
struct Asked {
    dpi: Option<u32>,
    glue_lines: bool,
    vertex_colours: bool,
    paper: Option<PaperSize>,
    language: Language,
}

fn make(job: &Job, outcome: &Outcome, findings: Vec<Finding>, asked: &Asked) -> Result<Made, Failure> {
    let board = outcome.board.as_ref().map_err(|e| Failure::Writer("the board", e.to_string()))?;
    let options = options(board, asked)?;
    let crashed = |_| Failure::Writer("a picture", "drawing it was cut off".to_owned());
    // The faces need no number, the solid no face.
    let (pictures, sheet, solid, mut numbers) = std::thread::scope(|scope| {
        let pictures = scope.spawn(|| pictures(job, board, &options));
        let numbers = Numbers::of(job, outcome);
        let sheet = Drawing::of(job, board, &numbers);
        let solid = solid(job, board, &numbers, &options, asked.vertex_colours);
        Ok::<_, Failure>((pictures.join().map_err(crashed)??, sheet, solid?, numbers))
    })?;
    let mut files = pictures;
    sheet.add_to(&mut numbers);
    files.push(("drawing.svg".to_owned(), sheet.svg.into_bytes()));
    let (solid, unlettered) = solid;
    files.extend(solid);
    files.extend(router_tables(job, board, &numbers));
    files.extend(frames(job, board, &numbers));
    let on_the_cnc = programs_of(job, board);
    for file in on_the_cnc.iter().filter(|file| !file.parts.is_empty()) {
        files.push((file.name.clone(), text(file, job)?));
        if let Some(sheet) = Drawing::cnc(job, board, &numbers, &file.parts, &file.name) {
            files.push((format!("{}-set-up.svg", file.name.trim_end_matches(".ngc")), sheet.svg.into_bytes()));
        }
    }
    let programs = by_cut(&on_the_cnc, job, board);
    let cut_list = cut_list::text(job, outcome, &numbers, &findings, &programs);
    files.push(("cut-list.txt".to_owned(), cut_list.into_bytes()));
    files.push(("cut-list.csv".to_owned(), cut_list::csv(job, outcome, &numbers).into_bytes()));
    let given = Given { job, outcome, numbers: &numbers, findings: &findings, programs: &programs };
    let sheets = sheets(&given, unlettered, asked)?;
    files.extend(sheets);
    let mut names: Vec<String> = files.iter().map(|(name, _)| name.clone()).collect();
    names.push("report.json".to_owned());
    let report = Report::of(job, outcome, &numbers, &findings, &programs, &names);
    files.push(("report.json".to_owned(), bytes("the report", |out| report.write(out))?));
    Ok(Made { findings, numbers, files })
}

/// The router table's set-up for each handhold that it can be used for, and a template of it.
fn router_tables(job: &Job, board: &Board, numbers: &Numbers) -> Vec<Named> {
    let holds: Vec<_> = Cutting::all(&job.handholds, &Cuts::default(), &board.finished());
    let names = rs274::file_names(&together(holds, Holds::EachCut), Holds::EachCut);
    let drawn = |(i, name): (usize, &String)| {
        let stem = name.trim_end_matches(".ngc");
        let sheet = Drawing::router_table(job, board, numbers, i)?;
        let template = Drawing::router_table_template(job, board, numbers, i)?;
        Some([
            (format!("router-table-{stem}.svg"), sheet.svg.into_bytes()),
            (format!("template-{stem}.svg"), template.svg.into_bytes()),
        ])
    };
    names.iter().enumerate().filter_map(drawn).flatten().collect()
}

/// A frame for each groove, and for each handhold that may not be lowered onto a bit.
fn frames(job: &Job, board: &Board, numbers: &Numbers) -> Vec<Named> {
    let all = together(Cutting::all(&job.handholds, &job.cuts, &board.finished()), Holds::EachCut);
    let names = rs274::file_names(&all, Holds::EachCut);
    let lowered = |cutting: &Cutting| match cutting.cut {
        Cut::Handhold(i) => job
            .handholds
            .get(i)
            .is_some_and(|hold| RouterSetup::of(hold, &board.finished(), &job.router_table).may_be_lowered),
        Cut::Face(_) | Cut::Level(_) | Cut::Panel(..) | Cut::Outline | Cut::BetweenTabs | Cut::Rim(_) => false,
    };
    let frame = |(cutting, name): (&Cutting, &String)| {
        let frame = Drawing::plunge_frame(job, board, numbers, cutting)?;
        Some((format!("frame-{}.svg", name.trim_end_matches(".ngc")), frame.svg.into_bytes()))
    };
    all.iter().flatten().zip(&names).filter(|(cutting, _)| !lowered(cutting)).filter_map(frame).collect()
}

/// The sheets for the shop, as PDF and as an HTML page that prints the same.
fn sheets(given: &Given, solid: Vec<u8>, asked: &Asked) -> Result<Vec<Named>, Failure> {
    let usual = match given.job.rule.unit() {
        Unit::Inch => PaperSize::Letter,
        Unit::Millimetre => PaperSize::A4,
    };
    let drawn = || Failure::Writer("the sheets", "the strips as they are laid are too many to draw".to_owned());
    let board = given.outcome.board.as_ref().map_err(|e| Failure::Writer("the sheets", e.to_string()))?;
    let pictures = Pictures::of(board, solid.into()).ok_or_else(drawn)?;
    let paper = asked.paper.unwrap_or(usual);
    let templates = templates(given, &pictures, asked.language, paper)?;
    let sheets = Sheets::of(given, &pictures, asked.language, paper);
    let numbers = Sheets::of_numbers(given, asked.language, paper);
    let mut files = vec![
        ("sheets.pdf".to_owned(), bytes("the sheets", |out| sheets.pdf(out))?),
        ("sheets.html".to_owned(), sheets.html().into_bytes()),
        ("numbers.pdf".to_owned(), bytes("the numbers", |out| numbers.pdf(out))?),
    ];
    files.extend(templates);
    Ok(files)
}

/// Each template as a drawing at its size, and on sheets of paper.
fn templates(given: &Given, pictures: &Pictures, language: Language, paper: PaperSize) -> Result<Vec<Named>, Failure> {
    let mut files = Vec::new();
    for template in Template::all(given, pictures, language, paper) {
        let pdf = bytes("a template", |out| template.pdf(language, out))?;
        files.push((format!("{}.svg", template.name), template.svg.into_bytes()));
        files.push((format!("{}.pdf", template.name), pdf));
    }
    Ok(files)
}

/// Dots an inch where nothing is asked: as many as a CSS pixel is wide.
const USUAL_DPI: f64 = 96.0;
/// The same for a face as far as it is promised: it has nothing finer.
const PROMISED_DPI: f64 = 60.0;
/// Finer than this, drawing may take over a second.
const LONG_DPI: f64 = 120.0;

/// How pictures are drawn: as finely as asked, each of two at once by half of the cores.
fn options(board: &Board, asked: &Asked) -> Result<FaceOptions, Failure> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let finest = FaceOptions::finest_pixel(board);
    let pixel = asked.dpi.map_or_else(|| finest.max(25.4 / USUAL_DPI), |dpi| 25.4 / f64::from(dpi));
    if pixel < finest {
        let most = (25.4 / finest).floor();
        return Err(Failure::Writer("the faces", format!("this board is drawn at {most} dots an inch at most")));
    }
    if pixel < 25.4 / LONG_DPI {
        terminal::working("drawing the faces");
    }
    Ok(FaceOptions { pixel, glue_lines: asked.glue_lines, workers: (cores / 2).max(1), figure: FigureDrawn::Whole })
}

/// Both faces, each on a thread of its own: plain, as SVG, and marked.
fn pictures(job: &Job, board: &Board, options: &FaceOptions) -> Result<Vec<Named>, Failure> {
    std::thread::scope(|scope| {
        let upper = scope.spawn(|| face_files(job, board, Face::Upper, options));
        let mut files = face_files(job, board, Face::Lower, options)?;
        let crashed = |_| Failure::Writer("a face", "drawing it was cut off".to_owned());
        files.splice(0..0, upper.join().map_err(crashed)??);
        Ok(files)
    })
}

fn face_files(job: &Job, board: &Board, side: Face, options: &FaceOptions) -> Result<Vec<Named>, Failure> {
    let none = || Failure::Writer("a face", "at this scale it has no pixels, or too many".to_owned());
    let picture = board.picture(side, options).ok_or_else(none)?;
    let plain = bytes("a face", |out| png::write(&picture, options.pixel, out))?;
    let svg = face::svg(board, side, &plain, options.glue_lines);
    let marked =
        marked::marked(board, side, &picture, &job.name).map_err(|e| Failure::Writer("a face", e.to_string()))?;
    let marked = bytes("a face", |out| png::write(&marked, options.pixel, out))?;
    let name = side.name();
    let mut files = vec![
        (format!("face-{name}.png"), plain),
        (format!("face-{name}.svg"), svg.into_bytes()),
        (format!("marked-{name}.png"), marked),
    ];
    if job.blanks.iter().any(|blank| blank.figure.is_from_the_wood()) {
        let options =
            FaceOptions { figure: FigureDrawn::AsPromised, pixel: options.pixel.max(25.4 / PROMISED_DPI), ..*options };
        let picture = board.picture(side, &options).ok_or_else(none)?;
        let promised = bytes("a face", |out| png::write(&picture, options.pixel, out))?;
        files.push((format!("promised-{name}.png"), promised));
    }
    Ok(files)
}

/// Where the wood's colours are wanted at the vertices, they lie no farther apart than this, mm.
const VERTEX_SPACING: f64 = 2.5;

/// The whole board as one body, bare and with its wood; its pieces; both drawn. Beside the files, the whole board's
/// picture without a word on it.
fn solid(
    job: &Job,
    board: &Board,
    numbers: &Numbers,
    options: &FaceOptions,
    vertex_colours: bool,
) -> Result<(Vec<Named>, Vec<u8>), Failure> {
    let failed = |e: NoBody| Failure::Writer("the solid", e.to_string());
    let body = job.body(board.finished()).map_err(failed)?;
    let mesh = body.mesh(job.chord_tolerance).map_err(failed)?;
    let uncut = || Failure::Writer("the pieces", "a recess can't be cut into them".to_owned());
    let pieces = body.cut_pieces(&board.pieces(), job.chord_tolerance).ok_or_else(uncut)?;
    let parts = threemf::parts(board, &pieces);
    let workers = options.workers * 2;
    let wood = bytes("the solid with its wood", |out| match vertex_colours {
        true => glb::write_coloured(&job.name, board, &mesh, VERTEX_SPACING, out),
        false => glb::write_textured(&job.name, board, &mesh, options.pixel, workers, out),
    })?;
    let mut files = vec![
        ("board.stl".to_owned(), bytes("the solid", |out| stl::write(&mesh, out))?),
        ("board.3mf".to_owned(), bytes("the pieces", |out| threemf::write(&job.name, &parts, out))?),
        ("board.glb".to_owned(), wood),
    ];
    let edges: Vec<Edge> = job.handholds.iter().map(|hold| hold.edge).collect();
    let from = seen::Corner::showing(&edges);
    let [whole_text, pulled_text] = captions(board, numbers);
    let drawn = |e: ExportError| Failure::Writer("the solid's picture", e.to_string());
    let whole = seen::whole(board, &mesh, from, [&job.name, &whole_text], workers).map_err(drawn)?;
    let pulled = seen::pulled_apart(board, &pieces, from, [&job.name, &pulled_text], workers).map_err(drawn)?;
    let unlettered = bytes("the solid's picture", |out| png::write(&whole.unlettered, whole.pixel, out))?;
    let mut pages = vec![("solid", whole), ("pulled-apart", pulled)];
    let on_lower_face = |(_, sweep): &(Which, Sweep)| sweep.face == CutFace::Lower;
    if job.cuts.sweeps(&board.finished()).iter().any(on_lower_face) {
        let below = seen::whole(board, &mesh, from.from_below(), [&job.name, &whole_text], workers).map_err(drawn)?;
        pages.push(("solid-below", below));
    }
    for (name, page) in pages {
        let png = bytes("the solid's picture", |out| png::write(&page.picture, page.pixel, out))?;
        files.push((format!("{name}.png"), png));
        files.push((format!("{name}.svg"), page.svg.into_bytes()));
    }
    Ok((files, unlettered))
}

/// What stands under the solid's two pictures.
fn captions(board: &Board, numbers: &Numbers) -> [String; 2] {
    let n = |key: &str| numbers.shown(key);
    let size =
        format!("Finished: {} long, {} wide, {} thick.", n("board.length"), n("board.width"), n("board.thickness"));
    let counted = match board.panels() {
        [_] => "Numbers: strips, counted from the panel's squared end.",
        _ => "Names and numbers: panel, and strip counted from its squared end.",
    };
    let pulled = format!("{counted} Words: how each strip is turned. In the board there are no gaps. {size}");
    [format!("{size} Not to scale."), pulled]
}

impl Made {
    /// A few lines for the terminal: what it is about, and what is to be known.
    fn summary(&self, job: &Job) -> Vec<(String, String)> {
        let n = |key: &str| self.numbers.shown(key);
        let mut lines = vec![(
            "board".to_owned(),
            format!(
                "{} × {} × {}, {} strips",
                n("board.length"),
                n("board.width"),
                n("board.thickness"),
                n("board.strips")
            ),
        )];
        for panel in &job.panels {
            let p = |name: &str| self.numbers.shown(&format!("panel.{}.{name}", panel.name));
            let safe =
                if p("safe stop").is_empty() { String::new() } else { format!(" (up to {} is safe)", p("safe stop")) };
            lines.push((
                format!("panel {}", panel.name),
                format!(
                    "{} × {} × {}; stop at {}{safe}; {} strips leave {}; chance of falling short {}",
                    p("length"),
                    p("width"),
                    p("thickness"),
                    p("stop"),
                    p("strips cut"),
                    p("remains"),
                    p("chance short")
                ),
            ));
        }
        for (i, hold) in job.handholds.iter().enumerate() {
            lines.push((hold.edge.name().to_owned(), self.handhold(i, hold)));
        }
        lines
    }

    /// The recess, and how the router is set for it.
    fn handhold(&self, i: usize, hold: &Handhold) -> String {
        let h = |name: &str| self.numbers.shown(&format!("handhold.{}.{name}", i + 1));
        let recess = format!("handhold {} × {}, {} deep, lip {}", h("length"), h("width"), h("depth"), h("least lip"));
        let not_lowered =
            |f: &Finding| f.check == "not to be lowered onto the bit" && f.subject == Subject::Handhold(i);
        if self.findings.iter().any(not_lowered) {
            let [first, second] = hold.edge.ends().map(|end| end.name());
            let centre = |end: &str| format!("{} from the {end} corner", h(&format!("bit from {end}")));
            return format!("{recess}; plunge router, the bit's centre from {} to {}", centre(first), centre(second));
        }
        let stops = format!("starting stop {} and left-hand stop {}", h("right-hand stop"), h("left-hand stop"));
        let first =
            if h("fence").is_empty() { format!("{}, then moved away", h("fence 1")) } else { h("fence").to_owned() };
        format!("{recess}; fence {first}, {stops} from the bit's centre")
    }
}
