//! Sanding and finish: the grits that the plan names, and the oil that its faces drink.

use super::{Flow, Shop};
use crate::words::Told;
use quarterturn_geometry::cut::Cut;
use quarterturn_geometry::finish::Product;
use quarterturn_geometry::path::Cutting;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("finish-title");
    flow.heading("sand-title");
    sanding(shop, flow);
    flow.caution("dust");
    flow.heading("oil-title");
    finishing(shop, flow);
    flow.caution("food");
}

fn sanding(shop: &Shop, flow: &mut Flow) {
    let steps = shop.job.finish.sequence();
    let last = steps.len().saturating_sub(1);
    let on_the_finished = |cutting: &Cutting| matches!(cutting.cut, Cut::Handhold(_) | Cut::Face(_) | Cut::Rim(_));
    let programs = shop.given.programs.iter().any(|(cutting, file)| on_the_finished(cutting) && file.is_some());
    for (i, step) in steps.into_iter().enumerate() {
        if i == last && programs {
            flow.step("sand-cnc", &[]);
        }
        if step.raise_before {
            flow.step("sand-wet", &[]);
        }
        let key = match i {
            0 => "sand-first",
            _ if step.by_hand => "sand-by-hand",
            _ => "sand-next",
        };
        let grit = step.grit.to_string();
        let removes = shop.shown(&format!("sanding.{grit}.removes"));
        flow.step(key, &[("grit", Told::Figure(&grit)), ("removes", Told::Figure(removes))]);
        if i == 0 && (shop.job.cuts.upper_rim.is_some() || shop.job.cuts.lower_rim.is_some()) {
            flow.step("sand-rims", &[]);
        }
    }
    if !shop.job.handholds.is_empty() {
        flow.step("sand-handholds", &[]);
    }
    let told =
        [("all", Told::Figure(shop.shown("sanding.all"))), ("left", Told::Figure(shop.shown("sanding.left for it")))];
    flow.small("sand-all", &told);
}

fn finishing(shop: &Shop, flow: &mut Flow) {
    let finish = &shop.job.finish;
    let product = shop.words.name("product", finish.product.name());
    flow.say("oil-product", &[("product", Told::Word(&product))]);
    flow.settings(&[
        (shop.words.say("oil-least"), shop.set("finish.oil least")),
        (shop.words.say("oil-most"), shop.set("finish.oil most")),
    ]);
    flow.step("oil-choose", &[]);
    flow.step("oil-coats", &[("count", Told::Count(usize::try_from(finish.coats).unwrap_or(0)))]);
    if finish.product == Product::OilAndWax {
        flow.step("oil-wax", &[]);
    }
    if shop.job.cuts.feet.is_some() {
        flow.step("oil-feet", &[]);
    }
    if finish.product.hardens() {
        flow.step("oil-hardens", &[]);
        flow.caution("rags");
    } else {
        flow.step("oil-stays", &[]);
    }
}
