//! What the maker takes to the bench: findings, saw, lay-up, router table; as text and as CSV.
//!
//! Every figure is a number of [`Numbers`], as shown there; one unit to a sheet. Cautions stand
//! beside the step that they belong to; they defer to the machine's manual and to people who teach,
//! and never read as permission. Must not work anything out.

mod csv;
mod faces;
mod glue;
mod paper;
mod router;
mod saw;

pub use csv::csv;

use paper::Paper;
use quarterturn_geometry::check::Finding;
use quarterturn_geometry::cut::Cut;
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::path::Cutting;

/// The widest line of the text, in characters.
pub const COLUMNS: usize = 88;

/// What is listed.
struct Sheet<'a> {
    job: &'a Job,
    outcome: &'a Outcome,
    numbers: &'a Numbers,
    programs: &'a [(Cutting, Option<String>)],
}

impl Sheet<'_> {
    fn shown(&self, key: &str) -> &str {
        self.numbers.shown(key)
    }

    /// Which program the CNC makes a cut by; of a cut that no program is for, nothing.
    fn on_the_cnc(&self, cut: Cut) -> Option<String> {
        let (_, program) = self.programs.iter().find(|(cutting, _)| cutting.cut == cut)?;
        self.job.cnc.as_ref()?;
        Some(match program {
            Some(name) => format!("On the CNC instead: {name}. Its first lines say datum, stock and bit."),
            None => "No program for the CNC: see the findings.".to_owned(),
        })
    }
}

/// The cut list as text. `programs`: each cut with the name of its program, as in the report.
#[must_use]
pub fn text(
    job: &Job,
    outcome: &Outcome,
    numbers: &Numbers,
    findings: &[Finding],
    programs: &[(Cutting, Option<String>)],
) -> String {
    let sheet = Sheet { job, outcome, numbers, programs };
    let mut paper = Paper::default();
    head(&sheet, &mut paper);
    found(&sheet, findings, &mut paper);
    for panel in 0..outcome.panels.len() {
        glue::panel(&sheet, &outcome.panels[panel], &mut paper);
        saw::panel(&sheet, panel, &mut paper);
    }
    layup(&sheet, &mut paper);
    finishing(&sheet, &mut paper);
    faces::cuts(&sheet, &mut paper);
    for i in 0..job.handholds.len() {
        router::handhold(&sheet, i, &mut paper);
    }
    faces::shaped(&sheet, &mut paper);
    paper.finish()
}

fn head(sheet: &Sheet, paper: &mut Paper) {
    let unit = match sheet.job.rule.unit() {
        Unit::Inch => "inches",
        Unit::Millimetre => "millimetres",
    };
    paper.title(&format!("Cut list: {}", sheet.job.name));
    paper.say(0, &format!("All lengths in {unit}; \"full\" is a hair over, \"bare\" a hair under."));
    paper.say(0, "Measure what comes off each machine and write it in the plan: what follows changes with it.");
    paper.say(
        0,
        "The manual of each machine, and the people who teach it, come first. A caution here reminds; \
         nothing here says that a cut is safe for you to make.",
    );
}

fn found(sheet: &Sheet, findings: &[Finding], paper: &mut Paper) {
    paper.title("Findings");
    if findings.is_empty() {
        paper.say(0, "None.");
    }
    for finding in findings {
        let subject = finding.subject.name(sheet.job);
        paper.item("-", &format!("{}: {subject}: {}", finding.kind.name(), finding.says));
        if !finding.mends.is_empty() {
            paper.say(2, &format!("What mends it: {}.", finding.mends.trim_end_matches('.')));
        }
    }
}

fn layup(sheet: &Sheet, paper: &mut Paper) {
    let Ok(board) = &sheet.outcome.board else { return };
    paper.title("Lay-up, from the left, seen from above");
    let staggered = sheet.outcome.places.iter().any(|p| p.stagger != Length::ZERO);
    let mut head = vec!["place", "panel", "strip", "turn"];
    if staggered {
        head.push("toward the back by");
    }
    let mut rows = Vec::new();
    for (i, place) in sheet.outcome.places.iter().enumerate() {
        let panel = board.panels().get(place.panel).map_or("", |p| p.name.as_str());
        let mut row =
            vec![(i + 1).to_string(), panel.to_owned(), (place.strip + 1).to_string(), place.turn.name().to_owned()];
        if staggered {
            row.push(sheet.shown(&format!("place.{}.stagger", i + 1)).to_owned());
        }
        rows.push(row);
    }
    paper.table(&head, &rows);
    steps(sheet, board.strips().len(), paper);
    for says in [
        "As cut: the cut face nearer the panel's far end is up, the panel's upper face looks right, its first blank \
         is at the back. From there: rolled over, about its long axis; end for end, standing, about the upright; end \
         over end, about the board's length.",
        "The number on its far cut face tells it too: as cut it is up, its foot to the left; end for end, up, its \
         foot to the right; rolled over and end over end it is underneath.",
        "Dry fit first and compare the slanted lines on the back and front edges with the marked picture: one line at \
         the back as cut and rolled over, two lines at the back end for end and end over end. Near the middle of a \
         slanted line a strip looks much the same as cut and rolled over: there only the number tells.",
    ] {
        paper.say(0, says);
    }
}

/// How far traced lines miss each other at the glue lines of the show face.
fn steps(sheet: &Sheet, places: usize, paper: &mut Paper) {
    let at = |place: usize| sheet.shown(&format!("place.{place}.upper step"));
    let cells: Vec<String> = (1..=places)
        .filter(|place| !at(*place).is_empty())
        .map(|place| format!("{place} | {}: {}", place + 1, at(place)))
        .collect();
    if cells.is_empty() {
        return;
    }
    let board = |name: &str| sheet.shown(&format!("board.upper largest step{name}"));
    paper.say(
        0,
        "Lines traced on the blanks, where they should meet at a glue line between two places, miss each other on the \
         upper face by up to:",
    );
    paper.columns(&cells);
    paper.say(
        0,
        &format!(
            "The largest, {}, is {} from the left and {} from the front: circled on the marked picture.",
            board(""),
            board(" from left"),
            board(" from front")
        ),
    );
}

fn finishing(sheet: &Sheet, paper: &mut Paper) {
    if sheet.outcome.board.is_err() {
        return;
    }
    let shown = |key: &str| sheet.shown(key);
    paper.title("Flatten and trim");
    let size =
        |length, width, thickness| format!("{} long, {} wide, {} thick", shown(length), shown(width), shown(thickness));
    paper.rows(&[
        ("as glued", size("board.glued length", "board.glued width", "board.glued thickness")),
        ("flatten off", format!("{} above, {} below", shown("finishing.upper"), shown("finishing.lower"))),
        ("trim off", format!("left {}, right {}", shown("finishing.left"), shown("finishing.right"))),
        ("", format!("front {}, back {}", shown("finishing.front"), shown("finishing.back"))),
        ("finished", size("board.length", "board.width", "board.thickness")),
    ]);
    let (longer, wider) = (shown("movement.length grows"), shown("movement.width grows"));
    if !longer.is_empty() {
        let says =
            format!("From the driest season to the dampest it grows by about {longer} in length and {wider} in width.");
        paper.say(0, &says);
    }
    paper.caution(
        "End grain never goes through a thickness planer: it can shatter and be thrown. Flatten with a drum sander \
         or a router sled, light passes, before the edges are trimmed; back up the trim where the blade leaves.",
    );
}
