//! `[glue]`, `[finish]`, `[pace]`, `[money]`: what the maker has, does and pays.

use super::reader::Section;
use quarterturn_geometry::finish::{Finish, Product};
use quarterturn_geometry::glue::{Gluing, Minutes, Newtons};
use quarterturn_geometry::lumber::{BOARD_FOOT, Pace, Rates};

/// 1 lbf = 4.4482216152605 N, by definition.
const POUND_FORCE: f64 = 4.448_221_615_260_5;
/// 1 lb = 0.45359237 kg, by definition.
const POUND: f64 = 0.453_592_37;
/// 1 US quart = 57.75 in³, by definition; litres.
const QUART: f64 = 57.75 * 25.4 * 25.4 * 25.4 * 1e-6;
/// What one clamp presses with, by the plan's unit: lbf, N.
pub(super) const CLAMP_FORCE: [f64; 2] = [1000.0, 4500.0];

fn minutes(section: &Section<'_>, name: &str) -> Minutes {
    Minutes(section.number(name).unwrap_or_default())
}

pub(super) fn gluing(top: &Section<'_>) -> Gluing {
    let glue = top.table("glue");
    let (metric, before) = (glue.reading.metric(), glue.reading.count());
    let force = glue.number("clamp_force").unwrap_or(CLAMP_FORCE[usize::from(metric)]);
    let gluing = Gluing {
        spread: glue.number("spread").unwrap_or_default(),
        working: minutes(&glue, "working_time"),
        joints_a_minute: glue.number("joints_a_minute").unwrap_or_default(),
        line_up: minutes(&glue, "line_up"),
        clamp_force: Newtons(if metric { force } else { force * POUND_FORCE }),
        clamp_spacing: glue.length("clamp_spacing"),
        clamped: [minutes(&glue, "clamped_first"), minutes(&glue, "clamped_second")],
        rest: Minutes(60.0 * glue.number("rest").unwrap_or_default()),
        slip: glue.length("slip"),
        proud: glue.length("proud"),
    };
    let written = glue.has("line_up") || glue.has("working_time");
    if written && glue.reading.count() == before && gluing.line_up >= gluing.working {
        let name = if glue.has("line_up") { "line_up" } else { "working_time" };
        let what = "lining up takes all of the working time".to_owned();
        glue.report(name, what, "it must be less than working_time".to_owned());
    }
    gluing
}

pub(super) fn finish(top: &Section<'_>) -> Finish {
    let section = top.table("finish");
    let before = section.reading.count();
    let finish = Finish {
        from_grit: section.choice("from_grit", &[80, 60, 120]),
        to_grit: section.choice("to_grit", &[320, 220]),
        left_for_sanding: section.length("left_for_sanding"),
        product: section.choice("product", &[Product::MineralOil, Product::OilAndWax, Product::HardeningOil]),
        coats: section.small("coats").unwrap_or_default(),
        takes: [section.number("takes_least").unwrap_or_default(), section.number("takes_most").unwrap_or_default()],
    };
    let written = section.has("takes_least") || section.has("takes_most");
    if written && section.reading.count() == before && finish.takes[0] > finish.takes[1] {
        let name = if section.has("takes_least") { "takes_least" } else { "takes_most" };
        section.report(
            name,
            "the least is more than the most".to_owned(),
            "takes_least must not be more than takes_most".to_owned(),
        );
    }
    finish
}

pub(super) fn pace(top: &Section<'_>) -> Pace {
    let section = top.table("pace");
    let of = |name| minutes(&section, name);
    Pace {
        choose: of("choose"),
        mill: of("mill"),
        glue_up: of("glue_up"),
        panel: of("panel"),
        saw: of("saw"),
        cut: of("cut"),
        strip: of("strip"),
        flatten: of("flatten"),
        trim: of("trim"),
        recess: of("recess"),
        sand: of("sand"),
        coat: of("coat"),
    }
}

/// What the maker pays and wants, where the plan says anything of it.
pub(super) fn rates(top: &Section<'_>) -> Option<Rates> {
    let money = top.table("money");
    if !money.is_there() {
        return None;
    }
    let metric = money.reading.metric();
    // From the plan's unit to one board foot, one kilogram, one litre.
    let wood = |price: f64| if metric { price * BOARD_FOOT * 1e-9 } else { price };
    let of = |name| money.number(name).unwrap_or_default();
    let woods = money.tables("woods").unwrap_or_default();
    let woods = woods.iter().filter_map(|entry| {
        let (name, price) = (entry.text("wood"), entry.number("price"));
        Some((name?.trim().to_lowercase(), wood(price?)))
    });
    Some(Rates {
        woods: woods.collect(),
        wood: wood(of("wood")),
        glue: of("glue") / if metric { 1.0 } else { POUND },
        finish: of("finish") / if metric { 1.0 } else { QUART },
        abrasives: of("abrasives"),
        hour: of("hour"),
        overhead: money.share("overhead").unwrap_or_default(),
        profit: money.share("profit").unwrap_or_default(),
        currency: money.text("currency")?,
    })
}
