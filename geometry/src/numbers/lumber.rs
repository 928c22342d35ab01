//! Numbers of wood used and lost, weight, time and money.

use super::Numbers;
use crate::finish::Quantity;
use crate::glue::GlueUp;
use crate::job::{Job, Outcome};
use crate::lumber::{Cost, Lumber, Spent, Waste, density, mass};
use crate::movement::Moisture;
use crate::solid::Exact;

pub(super) fn add(job: &Job, outcome: &Outcome, exact: &Exact, oil: Quantity, n: &mut Numbers) {
    let Some(lumber) = Lumber::with(job, outcome, exact) else { return };
    used(&lumber, n);
    weight(job, outcome, &lumber, n);
    let Some(spent) = Spent::of(job, outcome) else { return };
    let stages: Vec<_> = spent.stages.iter().map(|(work, time)| (format!("time.{}", work.name()), *time)).collect();
    n.times(
        &stages,
        "time.all",
        ["hands-on time of this stage, by the plan's pace", "all hands-on time; glue and oil take theirs beside it"],
    );
    money(job, outcome, &lumber, oil, &spent, n);
}

fn used(lumber: &Lumber, n: &mut Numbers) {
    let woods: Vec<_> =
        lumber.woods.iter().map(|(wood, volume)| (format!("lumber.wood.{wood}"), *volume, "of this wood")).collect();
    n.lumber(
        Some("lumber.used".into()),
        &woods,
        "what goes into the panels at its true size, rough where the plan gives it rough; a board foot is 144 in³",
    );
    for (wood, volume) in &lumber.bought {
        let about =
            "of this wood to buy: rough as the plan gives it, else 1/8 in wider and thicker than it is milled to";
        n.lumber_to_buy(format!("lumber.bought.{wood}"), *volume, about);
    }
    let lost = "what this kind of waste takes; all kinds and the board make up what is used";
    let mut parts: Vec<_> = Waste::ALL
        .into_iter()
        .map(|waste| (format!("lumber.lost.{}", waste.name()), lumber.lost(waste), lost))
        .collect();
    parts.push(("lumber.in the board".into(), lumber.board, "the finished board, all cuts made"));
    n.lumber(None, &parts, "");
    n.share("lumber.kept", lumber.kept(), "the board's share of what is used");
    for (i, off_cut) in lumber.off_cuts.iter().enumerate() {
        let key = |name: &str| format!("off-cut.{}.{name}", i + 1);
        n.at_most(key("width"), off_cut.size.width.mm(), "a piece left over whole: its width");
        n.at_most(key("thickness"), off_cut.size.thickness.mm(), "its thickness");
        n.at_most(key("length"), off_cut.size.length.mm(), "its length along the grain");
    }
}

fn weight(job: &Job, outcome: &Outcome, lumber: &Lumber, n: &mut Numbers) {
    let Ok(board) = &outcome.board else { return };
    let mut at = |key: &str, moisture: Moisture, about| {
        if let Some(density) = density(board, Some(moisture)) {
            n.mass(key, mass(lumber.board, density), about);
        }
    };
    if let Some([dry, damp]) = job.seasons.extremes() {
        at(
            "weight.driest",
            dry.1,
            "what the board weighs in the driest season: volume × density at that moisture content (Simpson, FPL-GTR-76)",
        );
        at("weight.dampest", damp.1, "what it weighs in the dampest season");
    }
}

fn money(job: &Job, outcome: &Outcome, lumber: &Lumber, oil: Quantity, spent: &Spent, n: &mut Numbers) {
    let (Some(rates), Ok(board)) = (&job.rates, &outcome.board) else { return };
    let panels: f64 = outcome.panels.iter().map(|f| GlueUp::of_panel(&f.panel, &job.gluing).glue).sum();
    let cost = Cost::of(rates, lumber, panels + GlueUp::of_board(board, &job.gluing).glue, oil, spent);
    let all = [
        ("money.wood", cost.wood, "board feet of each wood to buy × its price"),
        ("money.glue", cost.glue, "glue spread × its price"),
        ("money.finish", cost.finish, "the most oil that both faces take × its price"),
        ("money.abrasives", cost.abrasives, "abrasives for one board"),
        ("money.work", cost.work, "hands-on hours × the hour"),
        ("money.overhead", cost.overhead, "(wood + glue + finish + abrasives + work) × overhead"),
        ("money.cost", cost.cost(), "all of that"),
        ("money.profit", cost.profit, "cost × profit"),
        ("money.price", cost.price(), "(wood + glue + finish + abrasives + work) × (1 + overhead) × (1 + profit)"),
    ];
    for (key, amount, about) in all {
        n.money(key, &rates.currency, amount, about);
    }
}
