//! The first sheet: what it will be, from what, and what wants care.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use std::collections::BTreeMap;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet_of(shop.words.with("head-board", &[("name", Told::Word(&shop.job.name))]));
    flow.picture(&shop.pictures.solid, [flow.room(), flow.high() * 0.4]);
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

/// What can't be left out: every finding, by its kind, what it is about and what it says.
fn findings(shop: &Shop, flow: &mut Flow) {
    flow.heading("findings-title");
    if shop.given.findings.is_empty() {
        flow.say("findings-none", &[]);
        return;
    }
    if shop.words.has("findings-in-english") && shop.words.language() != crate::words::Language::English {
        flow.small("findings-in-english", &[]);
    }
    for finding in shop.given.findings {
        let kind = shop.words.name("kind", finding.kind.name());
        let subject = finding.subject.name(shop.job);
        let told =
            [("kind", Told::Word(&kind)), ("subject", Told::Word(&subject)), ("says", Told::Word(&finding.says))];
        let text = shop.words.with("findings-one", &told);
        flow.paragraph(&text, Style::of(9.5), 4.0);
    }
}
