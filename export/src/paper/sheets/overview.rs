//! The first sheet: what it will be, from what, and what wants care.

use super::{Flow, Shop, faces};
use crate::paper::text::Style;
use crate::seen::Corner;
use crate::words::{Language, Told};
use quarterturn_geometry::check::{Finding, Kind, Subject};
use quarterturn_geometry::cut::{Cut, Edge};
use std::collections::BTreeMap;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet_of(shop.words.with("head-board", &[("name", Told::Word(&shop.job.name))]));
    flow.picture(&shop.pictures.solid, [flow.room(), flow.high() * 0.3]);
    let edges: Vec<Edge> = shop.job.handholds.iter().map(|hold| hold.edge).collect();
    let from = Corner::showing(&edges);
    let [broad, side] = [from.broad, from.side].map(|edge| shop.words.name("corner", edge.name()));
    flow.small("overview-seen", &[("broad", Told::Word(&broad)), ("side", Told::Word(&side))]);
    let size = |key: &str| shop.set(key);
    flow.settings(&[
        (shop.words.say("overview-length"), size("board.length")),
        (shop.words.say("overview-width"), size("board.width")),
        (shop.words.say("overview-thickness"), size("board.thickness")),
    ]);
    let strips = shop.board.strips().len();
    let told = [
        ("count", Told::Count(strips)),
        ("panels", Told::Count(shop.outcome.panels.len())),
        ("mass", Told::Figure(shop.shown("solid.mass"))),
    ];
    flow.say("overview-made-of", &told);
    woods(shop, flow);
    findings(shop, flow);
    flow.heading("overview-before");
    flow.say("overview-order", &[]);
    flow.say("overview-manual", &[]);
}

/// Which woods, and how many blanks of each.
fn woods(shop: &Shop, flow: &mut Flow) {
    let mut counted: BTreeMap<&str, usize> = BTreeMap::new();
    for laid in shop.outcome.panels.iter().flat_map(|from| &from.panel.blanks) {
        *counted.entry(laid.blank.figure.wood().name.as_str()).or_default() += 1;
    }
    for (wood, count) in counted {
        let name = shop.words.name("wood", wood);
        flow.say("overview-wood", &[("count", Told::Count(count)), ("wood", Told::Word(&name))]);
    }
}

/// What can't be left out: what can't be made and what wants care, then the notes in small print.
fn findings(shop: &Shop, flow: &mut Flow) {
    let (notes, cares): (Vec<&Finding>, Vec<&Finding>) =
        shop.given.findings.iter().partition(|finding| finding.kind == Kind::Note);
    flow.heading("findings-title");
    if cares.is_empty() {
        flow.say(if notes.is_empty() { "findings-none" } else { "findings-only-notes" }, &[]);
    }
    let in_english = shop.words.language() == Language::English;
    if !in_english && !shop.given.findings.is_empty() {
        flow.small("findings-in-english", &[]);
    }
    for care in cares {
        told(shop, care, "findings-one", Style::of(9.5), flow);
    }
    if !notes.is_empty() {
        flow.heading("notes-title");
    }
    for note in notes {
        told(shop, note, "notes-one", Style::small(), flow);
    }
}

fn told(shop: &Shop, finding: &Finding, key: &str, style: Style, flow: &mut Flow) {
    let kind = shop.words.name("kind", finding.kind.name());
    let subject = subject(shop, finding.subject);
    let mut told = vec![("subject", Told::Word(&subject))];
    if key == "findings-one" {
        told.push(("kind", Told::Word(&kind)));
    }
    // The figures in it keep their marks: it stands behind the sentence, not in it.
    let mut text = format!("{} {}", shop.words.with(key, &told), shop.words.finding(finding.check, &finding.says));
    if shop.words.language() == Language::English && !finding.mends.is_empty() {
        let mends = [("mends", Told::Word(finding.mends.trim_end_matches('.')))];
        let key = if finding.kind == Kind::Note { "findings-if-wanted" } else { "findings-mends" };
        text = format!("{}. {}", text.trim_end_matches('.'), shop.words.with(key, &mends));
    }
    flow.paragraph(&text, style, 4.0);
}

/// What a finding is about, in the sheet's language.
fn subject(shop: &Shop, subject: Subject) -> String {
    let words = shop.words;
    if words.language() == Language::English {
        return subject.name(shop.job);
    }
    let handhold = |i: usize| {
        let edge = shop.job.handholds.get(i).map_or("", |hold| hold.edge.name());
        words.with("handhold-title", &[("edge", Told::Word(&words.name("edge", edge)))])
    };
    let cut = |cut: Cut| match cut {
        Cut::Handhold(i) => handhold(i),
        Cut::Face(which) => faces::title(shop, which),
        Cut::Level(_) | Cut::Panel(..) | Cut::Outline | Cut::BetweenTabs | Cut::Rim(_) => words.say("subject-board"),
    };
    match subject {
        Subject::Board => words.say("subject-board"),
        Subject::Panel(i) => {
            let name = shop.job.panels.get(i).map_or("", |panel| panel.name.as_str());
            words.with("panel-named", &[("panel", Told::Word(name))])
        }
        Subject::Handhold(i) => handhold(i),
        Subject::Handholds(i, j) => format!("{} + {}", handhold(i), handhold(j)),
        Subject::Cut(which) => faces::title(shop, which),
        Subject::Cuts(a, b) => format!("{} + {}", cut(a), cut(b)),
    }
}
