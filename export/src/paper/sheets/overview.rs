//! The first sheet: what it will be, from what, and what wants care.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::check::{Finding, Kind};
use std::collections::BTreeMap;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet_of(shop.words.with("head-board", &[("name", Told::Word(&shop.job.name))]));
    flow.picture(&shop.pictures.solid, [flow.room(), flow.high() * 0.33]);
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
        flow.say("findings-none", &[]);
    }
    let in_english = shop.words.language() == crate::words::Language::English;
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
    let subject = finding.subject.name(shop.job);
    let mut told = vec![("subject", Told::Word(&subject)), ("says", Told::Word(&finding.says))];
    if key == "findings-one" {
        told.push(("kind", Told::Word(&kind)));
    }
    let text = shop.words.with(key, &told);
    flow.paragraph(&text, style, 4.0);
}
