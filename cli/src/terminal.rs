//! What a person reads on the terminal. Numbers come as shown from [`quarterturn_geometry::numbers`].

use crate::failure::Failure;
use crate::plan::{Plan, place};
use quarterturn_export::lay_ups;
use quarterturn_geometry::candidates::{Candidate, Measured, Sheet};
use quarterturn_geometry::check::{Finding, Kind, can_be_made};
use quarterturn_geometry::job::Job;
use std::io::{self, IsTerminal as _, Write};
use std::path::Path;
use std::time::{Duration, Instant};

/// Columns of a line.
const WIDTH: usize = 88;

/// Prints to a stream; where it is closed (`quarterturn … | head`), nobody is left to tell.
fn say(mut to: impl Write, text: &str) {
    let _ = to.write_all(text.as_bytes()).and_then(|()| to.write_all(b"\n"));
}

pub(crate) fn failure(failure: &Failure) {
    match failure {
        Failure::Problems(problems) => {
            let coloured = io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
            say(io::stderr(), problems.draw(coloured, WIDTH).trim_end());
        }
        other => say(io::stderr(), &format!("quarterturn: {other}")),
    }
}

pub(crate) fn wrote_plan(path: &Path) {
    let path = path.display();
    say(io::stdout(), &format!("{path} written: change it to your wood, then\n  quarterturn make {path}"));
}

/// Where the page is, and who can reach it.
pub(crate) fn page_at(address: &str, loopback: bool) {
    say(io::stdout(), &format!("The page is at\n  {address}\nCtrl-C ends it."));
    if !loopback {
        let text = "Others in this network can reach it with that whole address, and what is sent can be read on the way: \
                    give it to nobody, and use it in a network that you trust.";
        say(io::stdout(), &wrap("", text));
    }
}

/// The page begins with what was left unsaved.
pub(crate) fn restored() {
    let text = "Changes that were left unsaved are taken up again; undo leads back to the plan's file.";
    say(io::stdout(), &wrap("", text));
}

/// The page ends with something unsaved.
pub(crate) fn ends_unsaved() {
    say(io::stdout(), "\nThere are unsaved changes: they are kept, and taken up again when the plan is opened.");
}

/// The browser doesn't open by itself.
pub(crate) fn no_browser() {
    say(io::stdout(), "The browser could not be opened: open that address yourself.");
}

pub(crate) fn findings(plan: &Plan, findings: &[Finding]) {
    for finding in findings {
        say(io::stdout(), &finding_lines(plan, finding));
    }
}

/// What is so, what mends it, and where in the plan.
fn finding_lines(plan: &Plan, finding: &Finding) -> String {
    let head = format!("  {:<14}", finding.kind.name());
    let says = format!("{}: {}.", finding.subject.name(&plan.job), finding.says);
    if finding.mends.is_empty() {
        return wrap(&head, &says);
    }
    let place = place(&plan.text, finding).map_or_else(String::new, |place| format!(" ({}:{place})", plan.file));
    wrap(&head, &format!("{says} What mends it: {}.{place}", finding.mends))
}

/// Wraps a text to 88 columns, each line but the first set in by the head's width.
fn wrap(head: &str, text: &str) -> String {
    let indent = " ".repeat(head.chars().count());
    let (mut lines, mut line) = (Vec::new(), head.to_owned());
    for word in text.split_whitespace() {
        if line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, indent.clone()));
        }
        line.push(' ');
        line.push_str(word);
    }
    lines.push(line);
    lines.join("\n")
}

pub(crate) fn verdict(findings: &[Finding]) {
    let of = |kind: Kind| findings.iter().filter(|f| f.kind == kind).count();
    let verdict = if can_be_made(findings) { "It can be made" } else { "It can't be made as planned" };
    let counts = format!("{} to take care of, {} to note", of(Kind::TakeCare), of(Kind::Note));
    say(io::stdout(), &format!("\n{verdict}; {counts}."));
}

pub(crate) fn cant_be_made(folder: &Path) {
    let older = if folder.exists() { " What an earlier plan made there is left as it was." } else { "" };
    say(io::stdout(), &format!("\nIt can't be made as planned: nothing was written to {}.{older}", folder.display()));
}

/// Why something can't be done that was rightly asked for.
pub(crate) fn cant(why: &str) {
    say(io::stderr(), &wrap("quarterturn:", why));
}

/// A title and lines under it, each with its head.
pub(crate) fn lines(title: &str, lines: &[(&str, String)]) {
    say(io::stdout(), &format!("{title}\n"));
    for (head, text) in lines {
        say(io::stdout(), &wrap(&format!("  {head:<14}"), text));
    }
}

/// A line to be copied, unbroken.
pub(crate) fn paste(what: &str, line: &str) {
    say(io::stdout(), &format!("\n  {what}:\n{line}\n"));
}

/// Lines, each with what stands before it.
pub(crate) fn headed(lines: &[(String, String)]) {
    for (head, text) in lines {
        say(io::stdout(), &wrap(head, text));
    }
}

/// Which files were written.
pub(crate) fn wrote(folder: &Path, names: &[&str]) {
    let files = format!("in {}: {}", folder.display(), names.join(", "));
    say(io::stdout(), &wrap(&format!("  {:<14}", "files"), &files));
}

/// Says what is being done, to a person who waits.
pub(crate) fn working(what: &str) {
    if io::stderr().is_terminal() {
        say(io::stderr(), &format!("{what} …"));
    }
}

/// What is being done, said to a person who has waited for over a second, and no oftener than every second.
pub(crate) struct Progress {
    said: Instant,
    last: String,
}

impl Progress {
    pub(crate) const fn new(start: Instant) -> Self {
        Self { said: start, last: String::new() }
    }

    pub(crate) fn say(&mut self, doing: &str) {
        if self.said.elapsed() > Duration::from_secs(1) && self.last != doing {
            working(doing);
            doing.clone_into(&mut self.last);
            self.said = Instant::now();
        }
    }
}

pub(crate) fn no_lay_up(job: &Job, why: &str) {
    say(io::stdout(), &format!("{}\n", job.name));
    say(io::stdout(), &wrap(&format!("  {:<14}", Kind::CantBeMade.name()), &format!("{why}.")));
    say(io::stdout(), "\nIt can't be made as planned, whatever the lay-up: nothing was written.");
}

/// The lay-ups on the sheet, one below another, and what is proven of them.
pub(crate) fn tried(job: &Job, sheet: &Sheet, files: &[&str], folder: &Path, took: Duration) {
    say(io::stdout(), &format!("{}\n", job.name));
    for (i, candidate) in sheet.candidates.iter().enumerate() {
        say(io::stdout(), &lay_up(i + 1, candidate));
    }
    say(io::stdout(), "");
    for note in lay_ups::notes(sheet) {
        say(io::stdout(), &wrap(" ", &note));
    }
    let files = wrap(&format!("  {:<14}", "files"), &format!("in {}: {}", folder.display(), files.join(", ")));
    let take = "To take one: quarterturn try PLAN --take NUMBER --to COPY.toml";
    say(io::stdout(), &format!("\n{files}\n\n  {take}\n\nTried in {:.2} s.", took.as_secs_f64()));
}

pub(crate) fn took(number: usize, path: &Path) {
    let path = path.display();
    say(io::stdout(), &format!("{path} written, with lay-up {number} in it:\n  quarterturn make {path}"));
}

fn lay_up(number: usize, candidate: &Candidate) -> String {
    let ranks = Measured::ALL.iter().zip(&candidate.ranks);
    let ranks: Vec<String> = ranks.map(|(m, rank)| format!("{} {}", m.name(), lay_ups::place(rank))).collect();
    let head = format!("  {number:>4}");
    let first = wrap(&head, &candidate.how);
    let second = format!("{}; {}; {}", lay_ups::head(candidate), lay_ups::size(candidate), ranks.join(", "));
    format!("{first}\n{}", wrap("      ", &second))
}

/// What was made: a few lines of figures, the findings, the files.
pub(crate) fn made(
    plan: &Plan,
    lines: &[(String, String)],
    found: &[Finding],
    files: &[&str],
    folder: &Path,
    took: Duration,
) {
    say(io::stdout(), &format!("{}\n", plan.job.name));
    for (head, text) in lines {
        say(io::stdout(), &wrap(&format!("  {head:<14}"), text));
    }
    if !found.is_empty() {
        say(io::stdout(), "");
        findings(plan, found);
    }
    let files = format!("in {}: {}", folder.display(), files.join(", "));
    let files = wrap(&format!("  {:<14}", "files"), &files);
    say(io::stdout(), &format!("\n{files}\n\nMade in {:.2} s.", took.as_secs_f64()));
}
