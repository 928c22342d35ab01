//! What to take from the rack and what to mill it to, for every blank.

use super::{Flow, Shop, flatten};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Which};
use quarterturn_geometry::job::FromPanel;
use quarterturn_geometry::lumber::MILLING;
use quarterturn_geometry::measure::{Rest, Rounding};
use quarterturn_geometry::path::{Cutting, RouterSetup};
use quarterturn_geometry::stock::Seen;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("stock-title");
    flow.say("stock-about", &[]);
    for from in &shop.outcome.panels {
        if shop.outcome.panels.len() > 1 {
            flow.heading_of(&shop.words.with("panel-named", &[("panel", Told::Word(&from.panel.name))]));
        }
        list(shop, from, flow);
    }
    bought(shop, flow);
    sapwood(shop, flow);
    moisture(shop, flow);
    flow.heading("stock-steps");
    flow.guarded("stock-choose", &[], "unknown-wood");
    rips(shop, flow);
    flow.caution("eyes-and-ears");
    flow.caution("dust");
    flow.guarded("stock-joint", &[], "jointer");
    flow.guarded("stock-plane", &[], "planer");
    limits(shop, flow);
    flow.guarded("stock-rip", &[], "kickback");
    flow.step("stock-dot", &[]);
    at_hand(shop, flow);
}

/// What else is needed before the work begins: bits, clamps, glue, abrasives, oil, scrap to try on.
fn at_hand(shop: &Shop, flow: &mut Flow) {
    flow.heading("stock-at-hand");
    let bits = bits(shop);
    if !bits.is_empty() {
        flow.together(|flow| {
            flow.say("stock-bits", &[]);
            flow.pairs(&bits);
        });
    }
    let panels = shop.outcome.panels.iter().map(|from| format!("panel.{}.glue", from.panel.name));
    let glue_ups: Vec<String> = panels.chain(["board.glue".to_owned()]).collect();
    let of = |name: &str| glue_ups.iter().map(|start| format!("{start}.{name}")).collect::<Vec<_>>();
    let clamps = of("clamps").iter().map(|key| shop.value(key)).fold(0.0, f64::max);
    let clamps = format!("{clamps:.0}");
    let widest = of("clamps open").into_iter().max_by(|a, b| shop.value(a).total_cmp(&shop.value(b)));
    let open = widest.as_ref().map_or("", |key| shop.shown(key));
    let told = [
        ("clamps", Told::Figure(clamps.as_str())),
        ("open", Told::Figure(open)),
        ("cauls", Told::Figure(shop.shown("board.glue.caul clamps"))),
        ("glue", Told::Figure(shop.shown("glue.all"))),
    ];
    flow.say("stock-clamps", &told);
    let grits: Vec<String> = shop.job.finish.sequence().iter().map(|step| step.grit.to_string()).collect();
    let grits = grits.join(", ");
    let product = shop.words.name("product", shop.job.finish.product.name());
    let told = [
        ("grits", Told::Word(&grits)),
        ("product", Told::Word(&product)),
        ("oil", Told::Figure(shop.shown("finish.oil most"))),
    ];
    flow.say("stock-grits", &told);
    let mut scraps = Vec::new();
    for (i, hold) in shop.job.handholds.iter().enumerate() {
        let setup = RouterSetup::of(hold, &shop.board.finished(), &shop.job.router_table);
        let of = |name: &str| shop.shown(&format!("handhold.{}.{name}", i + 1));
        let scrap = [of("edge length"), of("auxiliary fence")];
        if !setup.may_be_lowered || scraps.contains(&scrap) {
            continue;
        }
        scraps.push(scrap);
        let thick = shop.shown(&flatten::leaves(shop));
        let [long, high] = scrap;
        let told = [("thick", Told::Figure(thick)), ("long", Told::Figure(long)), ("high", Told::Figure(high))];
        flow.say("stock-scrap", &told);
    }
    if shop.job.cuts.feet.is_some() {
        let of = |name: &str| Told::Figure(shop.shown(&format!("{}.{name}", Which::Foot(0).key())));
        flow.say("stock-feet", &[("across", of("width")), ("depth", of("depth"))]);
    }
    flow.say("stock-besides", &[]);
}

/// Every bit that a cut is made by, once, and the rims that are eased.
fn bits(shop: &Shop) -> Vec<(String, String)> {
    let cuts = &shop.job.cuts;
    let handholds = (1..).zip(&shop.job.handholds).map(|(i, hold)| (hold.bit.name.clone(), format!("handhold.{i}")));
    let faces = cuts.sweeps(&shop.board.finished());
    let faces = faces.iter().filter_map(|(which, _)| Some((cuts.bit(*which)?.name.clone(), which.key())));
    let named = |(name, key): (String, String)| (name, shop.figure(&format!("{key}.bit diameter")));
    let for_the_cnc = |cutting: &Cutting| cutting.cut.is_of_the_whole() || matches!(cutting.cut, Cut::Rim(_));
    let cnc = shop.given.programs.iter().filter(|(cutting, program)| for_the_cnc(cutting) && program.is_some());
    let cnc = cnc.map(|(cutting, _)| {
        let name = shop.words.with("stock-bit-cnc", &[("bit", Told::Word(&cutting.bit.name))]);
        (name, cutting.cut.key())
    });
    let rims = [("upper rim", cuts.upper_rim), ("lower rim", cuts.lower_rim)];
    let rims = rims.into_iter().filter_map(|(key, easing)| Some((shop.words.name("easing", easing?.name()), key)));
    let rims = rims.map(|(easing, key)| (easing, shop.figure(key)));
    let mut all: Vec<(String, String)> = Vec::new();
    for bit in handholds.chain(faces).chain(cnc).map(named).chain(rims) {
        if !all.contains(&bit) {
            all.push(bit);
        }
    }
    all
}

fn list(shop: &Shop, from: &FromPanel, flow: &mut Flow) {
    let rough = from.panel.blanks.iter().any(|laid| laid.blank.rough.is_some());
    let mut head = vec!["", "stock-letter", "stock-wood", "stock-wide", "stock-thick", "stock-long"];
    if rough {
        head.push("stock-rough");
    }
    let head: Vec<String> =
        head.iter().map(|key| if key.is_empty() { String::new() } else { shop.words.say(key) }).collect();
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut counts: Vec<usize> = Vec::new();
    for (i, laid) in (1..).zip(&from.panel.blanks) {
        let key = |name: &str| format!("panel.{}.blank.{i}.{name}", from.panel.name);
        let (of, set) = (|name: &str| shop.figure(&key(name)), |name: &str| shop.set(&key(name)));
        let wood = shop.words.name("wood", &laid.blank.figure.wood().name);
        let mut row =
            vec![crate::lettering::plain(&laid.blank.letter, 8), wood, set("width"), set("thickness"), set("length")];
        if rough {
            let (wide, thick) = (of("rough width"), of("rough thickness"));
            row.push(if wide.is_empty() { String::new() } else { format!("{wide} × {thick}") });
        }
        match rows.iter().position(|other| *other == row) {
            Some(same) => counts[same] += 1,
            None => {
                rows.push(row);
                counts.push(1);
            }
        }
    }
    for (row, count) in rows.iter_mut().zip(counts) {
        row.insert(0, format!("{count} ×"));
    }
    flow.table(&head, &rows, Style::of(12.5));
    flow.small("stock-table-says", &[]);
}

/// How much of each wood to buy.
fn bought(shop: &Shop, flow: &mut Flow) {
    const BOUGHT: &str = "lumber.bought.";
    let row = |wood: &str, shown: &str| {
        let wood = shop.words.name("wood", wood);
        (shop.words.with("stock-to-buy", &[("wood", Told::Word(&wood))]), shop.words.figure(shown))
    };
    let all = shop.given.numbers.all().iter();
    let rows: Vec<_> = all.filter_map(|n| Some(row(n.key.strip_prefix(BOUGHT)?, &n.shown))).collect();
    flow.pairs(&rows);
    let mut blanks = shop.outcome.panels.iter().flat_map(|from| &from.panel.blanks);
    if blanks.all(|laid| laid.blank.rough.is_some()) {
        flow.small("stock-buy-rough", &[]);
        return;
    }
    let more = shop.job.rule.show(MILLING.mm(), Rounding::Nearest, Rest::Dropped);
    flow.small("stock-buy", &[("more", Told::Figure(&more))]);
}

/// How large the light corners are on the ends of the wood that is taken: blanks that are alike in one row.
fn sapwood(shop: &Shop, flow: &mut Flow) {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for from in &shop.outcome.panels {
        for (i, laid) in (1..).zip(&from.panel.blanks) {
            let of = |name: &str| shop.figure(&format!("panel.{}.blank.{i}.sapwood {name}", from.panel.name));
            if of("near wide").is_empty() {
                continue;
            }
            let end = |end: &str| {
                let [wide, thick] = ["wide", "thick"].map(|side| of(&format!("{end} {side}")));
                shop.words.with("stock-sapwood-size", &[("wide", Told::Word(&wide)), ("thick", Told::Word(&thick))])
            };
            let letter = crate::lettering::plain(&laid.blank.letter, 8);
            let ends = ["near", "far"].map(end);
            match rows.iter_mut().find(|row| row[1..] == ends) {
                Some(row) if row[0].split(", ").any(|other| other == letter) => {}
                Some(row) => row[0] = format!("{}, {letter}", row[0]),
                None => rows.push([vec![letter], ends.to_vec()].concat()),
            }
        }
    }
    if rows.is_empty() {
        return;
    }
    let head = ["stock-sapwood", "panel-near-end", "panel-far-end"].map(|key| shop.words.say(key));
    flow.table(&head, &rows, Style::of(10.0));
    flow.small("stock-sapwood-says", &[]);
}

fn moisture(shop: &Shop, flow: &mut Flow) {
    let known = shop.outcome.panels.iter().flat_map(|from| &from.panel.blanks).filter_map(|laid| laid.blank.moisture);
    let none_known = known.clone().next().is_none();
    let (low, high) = known.fold((f64::INFINITY, 0.0_f64), |(low, high), m| (low.min(m), high.max(m)));
    if low.is_finite() {
        let [low, high] = [low, high].map(|m| format!("{m:.1} %"));
        let key = if low == high { "stock-moisture-alike" } else { "stock-moisture" };
        flow.say(key, &[("low", Told::Figure(&low)), ("high", Told::Figure(&high))]);
    }
    if none_known && !shop.shown("movement.made").is_empty() {
        flow.say("stock-moisture-unknown", &[("made", Told::Figure(shop.shown("movement.made")))]);
    }
    let guessed = |from: &FromPanel| from.panel.blanks.iter().any(|laid| laid.blank.seen == Seen::Nothing);
    if shop.outcome.panels.iter().any(guessed) {
        flow.say("stock-unseen", &[]);
    }
}

/// Blanks that are ripped to a traced line first.
fn rips(shop: &Shop, flow: &mut Flow) {
    for from in &shop.outcome.panels {
        for (i, laid) in (1..).zip(&from.panel.blanks) {
            let key = |name: &str| format!("panel.{}.blank.{i}.{name}", from.panel.name);
            let Some(rip) = laid.blank.rip.as_ref().filter(|_| !shop.shown(&key("rip near")).is_empty()) else {
                continue;
            };
            let side = shop.words.say(if rip.opposite_side { "rip-side-opposite" } else { "rip-side-marked" });
            let face = shop.words.say(if rip.opposite_face { "rip-face-opposite" } else { "rip-face-marked" });
            let told = [
                ("letter", Told::Word(&laid.blank.letter)),
                ("line", Told::Word(&rip.line)),
                ("near", Told::Figure(shop.shown(&key("rip near")))),
                ("far", Told::Figure(shop.shown(&key("rip far")))),
                ("left", Told::Figure(shop.shown(&key("rip leaves")))),
                ("side", Told::Word(&side)),
                ("face", Told::Word(&face)),
            ];
            flow.step("rip-to-line", &told);
        }
    }
}

/// What the maker's machines take.
fn limits(shop: &Shop, flow: &mut Flow) {
    let machines = &shop.job.machines;
    let unit = shop.job.rule.unit_name();
    for (name, machine) in [("jointer", &machines.jointer), ("planer", &machines.planer)] {
        let [wide, short] = [machine.widest, machine.shortest].map(|l| format!("{} {unit}", shop.job.rule.write(l)));
        let name = shop.words.say(&format!("machine-{name}"));
        let told =
            [("machine", Told::Word(&name)), ("widest", Told::Figure(&wide)), ("shortest", Told::Figure(&short))];
        flow.small("stock-limit", &told);
    }
}
