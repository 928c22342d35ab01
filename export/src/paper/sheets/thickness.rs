//! Thickness, step by step: what each pass takes and leaves, what that does to the board, and what may still be planed.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::measure::Rounding;
use quarterturn_geometry::thickness::{PanelSteps, Step, Steps};

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    let steps = Steps::of(shop.job, shop.outcome);
    flow.sheet("thickness-title");
    flow.say("thickness-about", &[]);
    for (panel, from) in steps.panels.iter().zip(&shop.outcome.panels) {
        of_panel(shop, panel, &from.panel.name, flow);
    }
    flow.heading("thickness-board");
    table(shop, &steps.board, "board.thickness", flow);
    let mut rows = vec![(shop.words.say("thickness-length"), shop.set("board.length"))];
    rows.push((shop.words.say("thickness-least"), shop.set("board.least length")));
    rows.push((shop.words.say("thickness-spare"), shop.set("board.length to spare")));
    flow.settings(&rows);
    flow.caution("end-grain-planer");
}

fn of_panel(shop: &Shop, panel: &PanelSteps, name: &str, flow: &mut Flow) {
    flow.heading_of(&shop.words.with("panel-named", &[("panel", Told::Word(name))]));
    let letter = shop.outcome.panels.iter().find(|from| from.panel.name == name);
    let letter = letter.and_then(|from| from.panel.blanks.get(panel.blank)).map_or("", |laid| &laid.blank.letter);
    flow.say("thickness-decides", &[("letter", Told::Word(letter))]);
    let key = |what: &str| format!("panel.{name}.{what}");
    table(shop, &panel.steps, &key("thickness"), flow);
    let strips = usize::try_from(panel.strips).unwrap_or(0);
    let a_pass = shop.shown(&key("length a pass")).to_owned();
    if strips > 0 && !a_pass.is_empty() {
        let (pass, rule) = (shop.job.machines.planer.pass, &shop.job.rule);
        let on_a_mark = (pass.mm() - rule.round(pass.mm(), Rounding::Nearest).mm()).abs() < 1e-3;
        let pass = if on_a_mark { shop.written(pass) } else { rule.hair(pass.mm()) };
        let told = [("count", Told::Count(strips)), ("pass", Told::Figure(&pass)), ("length", Told::Figure(&a_pass))];
        flow.say("thickness-a-pass", &told);
    }
    match panel.spare {
        Some(_) => {
            let label = shop.words.say("thickness-may-be-planed");
            flow.settings(&[(label, shop.set(&key("may be planed")))]);
        }
        None if strips > 0 => flow.say("thickness-no-least", &[]),
        None => {}
    }
}

fn table(shop: &Shop, steps: &[Step], start: &str, flow: &mut Flow) {
    let head = ["thickness-step", "thickness-takes", "thickness-leaves", "thickness-passes", "thickness-measured"];
    let head = head.map(|key| shop.words.say(key));
    let row = |(i, step): (usize, &Step)| {
        let of = |name: &str| shop.figure(&format!("{start}.step.{i}.{name}"));
        let mut name = shop.words.name("stage", step.stage.name());
        if step.fits == Some(false) {
            name = format!("{name} ({})", shop.words.say("thickness-not-through"));
        }
        let takes = if step.takes.is_positive() { of("takes") } else { String::new() };
        vec![name, takes, of("leaves"), of("passes"), "________".to_owned()]
    };
    let rows: Vec<Vec<String>> = (1..).zip(steps).map(row).collect();
    flow.table(&head, &rows, Style::of(11.5));
    if steps.iter().any(|step| step.takes.is_positive() && step.fits == Some(false)) {
        flow.small("thickness-other-way", &[]);
    }
}
