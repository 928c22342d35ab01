//! One panel's glue-up: which blank lies where and how, what is milled off, how it is marked.

use super::{Paper, Sheet};
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::stock::{HalfTurn, LaidBlank};

pub(super) fn panel(sheet: &Sheet, from: &FromPanel, paper: &mut Paper) {
    let panel = &from.panel;
    let shown = |name: &str| sheet.shown(&format!("panel.{}.{name}", panel.name));
    paper.title(&format!("Panel {}: first glue-up", panel.name));
    let rough = panel.blanks.iter().any(|laid| laid.blank.rough.is_some());
    let slipped = panel.blanks.iter().any(|laid| laid.start.is_positive());
    let mut head = vec!["blank", "how it lies", "wide", "thick", "long"];
    if rough {
        head.push("before milling");
    }
    if slipped {
        head.push("begins at");
    }
    let rows: Vec<Vec<String>> = (1..)
        .zip(&panel.blanks)
        .map(|(i, laid)| {
            let of = |name: &str| shown(&format!("blank.{i}.{name}")).to_owned();
            let mut row = vec![laid.blank.letter.clone(), how(laid), of("width"), of("thickness"), of("length")];
            if rough {
                let (wide, thick) = (of("rough width"), of("rough thickness"));
                row.push(if wide.is_empty() { String::new() } else { format!("{wide} × {thick}") });
            }
            if slipped {
                row.push(of("start"));
            }
            row
        })
        .collect();
    paper.table(&head, &rows);
    paper.say(
        0,
        "From the first blank to the last. Standing at the panel's near end, its upper face up, the first blank is at \
         your right hand. As laid: near end toward you, the blank's marked corner low on the right. From there: rolled \
         over, about its length; end for end, the same face up; end over end, the other face up.",
    );
    if panel.blanks.iter().any(|laid| laid.turn.quarter_roll) {
        paper
            .say(0, "A quarter roll comes first: about the blank's length, clockwise as you see it from the near end.");
    }
    figures(from, &shown, paper);
    paper.rows(&[
        ("glue", glue_up(&shown)),
        ("true off", format!("first blank's edge {}, last blank's {}", shown("trued first"), shown("trued last"))),
        ("plane off", format!("lower face {}, upper face {}", shown("planed lower"), shown("planed upper"))),
        ("panel then", format!("{} wide, {} thick, {} long", shown("width"), shown("thickness"), shown("length"))),
    ]);
    paper.say(
        0,
        "Draw a triangle across the upper face before gluing: it shows order and ends until the face is planed.",
    );
    paper.caution("Nothing shorter or narrower than the planer's manual allows goes through it.");
}

/// How much glue, how many clamps, in how many goes; nothing of a panel of one blank.
fn glue_up<'a>(shown: &impl Fn(&str) -> &'a str) -> String {
    match shown("glue.clamps") {
        "" => "nothing to glue".to_owned(),
        clamps => format!(
            "{} on one face of each joint, {clamps} clamps at most {} apart, in {} go(es); the label governs",
            shown("glue.spread"),
            shown("glue.clamp spacing"),
            shown("glue.goes")
        ),
    }
}

/// What is known of each traced blank's figure, and how it is ripped to a line.
fn figures<'a>(from: &FromPanel, shown: &impl Fn(&str) -> &'a str, paper: &mut Paper) {
    for (i, laid) in (1..).zip(&from.panel.blanks) {
        let of = |name: &str| shown(&format!("blank.{i}.{name}"));
        let letter = &laid.blank.letter;
        if laid.blank.figure.between().is_some() {
            let (whole, strip) = (of("lines move"), of("lines move in a strip"));
            let fresh = match of("fresh face moved") {
                "" => String::new(),
                moved => format!(" The fresh face moved its rings by {moved}, where most."),
            };
            paper.item(
                "   -",
                &format!("Blank {letter}: its traced lines move by up to {whole} from end to end, {strip} within a strip.{fresh}"),
            );
        }
        if let (Some(rip), false) = (&laid.blank.rip, of("rip near").is_empty()) {
            let side =
                if rip.opposite_side { "the side opposite the marked corner" } else { "the marked corner's side" };
            let face =
                if rip.opposite_face { "the face opposite the marked corner" } else { "the marked corner's face" };
            paper.item(
                "   -",
                &format!(
                    "Blank {letter}, before it is milled to width: to run its {} line out at the corner, rip {} off at \
                     the near end and {} at the far end, measured on {face} from {side}: a taper of {}. {} of the \
                     width is left once the other side is ripped parallel. Between the ends the line leaves the cut by {}.",
                    rip.line,
                    of("rip near"),
                    of("rip far"),
                    of("rip taper"),
                    of("rip leaves"),
                    of("rip off the line")
                ),
            );
        }
    }
}

fn how(laid: &LaidBlank) -> String {
    let half = laid.turn.half;
    match (laid.turn.quarter_roll, half) {
        (false, _) => half.name().to_owned(),
        (true, HalfTurn::Rest) => "quarter roll".to_owned(),
        (true, _) => format!("quarter roll, then {}", half.name()),
    }
}
