//! What a board took, cost and weighs: money where the plan has rates, hands-on time, wood used and lost, what is worth
//! keeping.

use super::{Flow, Shop};
use crate::paper::text::Style;
use crate::words::Told;
use quarterturn_geometry::lumber::{LeftOver, off_cuts};
use quarterturn_geometry::measure::Unit;

/// More off-cuts than these aren't listed one by one.
const MOST_LISTED: usize = 12;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    if shop.shown("lumber.used").is_empty() {
        return;
    }
    let money = shop.job.rates.is_some();
    flow.sheet(if money { "cost-title" } else { "cost-title-no-money" });
    weight(shop, flow);
    if money {
        price(shop, flow);
    }
    time(shop, flow);
    wood(shop, flow);
    kept(shop, flow);
}

fn weight(shop: &Shop, flow: &mut Flow) {
    let figure = |key| Told::Figure(shop.shown(key));
    let told = [("mass", figure("solid.mass")), ("volume", figure("solid.volume")), ("area", figure("solid.area"))];
    let mut text = shop.words.with("weigh-says", &told);
    if !shop.shown("weight.driest").is_empty() {
        let told = [("dry", figure("weight.driest")), ("damp", figure("weight.dampest"))];
        text = format!("{text} {}", shop.words.with("weigh-seasons", &told));
    }
    flow.paragraph(&text, Style::body(), 0.0);
}

/// Names and figures of all numbers whose keys begin so; nothings are left out.
fn listed(shop: &Shop, start: &str, kind: &str) -> Vec<Vec<String>> {
    let of = |key: &str| Some(key.strip_prefix(start)?.to_owned());
    let numbers = shop.given.numbers.all().iter();
    let told = numbers
        .filter_map(|n| of(&n.key).filter(|_| n.value.abs() > 1e-9 && something(&n.shown)).map(|name| (name, n)));
    told.map(|(name, n)| vec![shop.words.name(kind, &name), shop.words.figure(&n.shown)]).collect()
}

/// Whether a figure shows more than noughts.
fn something(shown: &str) -> bool {
    shown.contains(|c: char| c.is_ascii_digit() && c != '0')
}

fn wood(shop: &Shop, flow: &mut Flow) {
    flow.heading("cost-wood");
    let told = [("used", Told::Figure(shop.shown("lumber.used"))), ("kept", Told::Figure(shop.shown("lumber.kept")))];
    flow.say("cost-wood-says", &told);
    beside(&["cost-went-in", "cost-how-much"], &listed(shop, "lumber.wood.", "wood"), shop, flow);
    let mut rows = vec![vec![shop.words.say("cost-in-board"), shop.figure("lumber.in the board")]];
    rows.extend(listed(shop, "lumber.lost.", "lost"));
    beside(&["cost-went-to", "cost-how-much"], &rows, shop, flow);
    if shop.job.rule.unit() == Unit::Millimetre {
        flow.small("cost-cubic", &[]);
    }
}

/// Short rows in two halves beside each other.
fn beside(head: &[&str; 2], rows: &[Vec<String>], shop: &Shop, flow: &mut Flow) {
    let head: Vec<String> = head.iter().chain(head).map(|key| shop.words.say(key)).collect();
    let half = rows.len().div_ceil(2);
    let both = |i: usize| {
        let right = rows.get(half + i).cloned().unwrap_or_else(|| vec![String::new(); 2]);
        [rows[i].clone(), right].concat()
    };
    let rows: Vec<Vec<String>> = (0..half).map(both).collect();
    flow.table(&head, &rows, Style::of(9.0));
}

/// Off-cuts worth keeping.
fn kept(shop: &Shop, flow: &mut Flow) {
    let all = off_cuts(shop.job, shop.outcome);
    for (i, off_cut) in (1..).zip(&all).take(MOST_LISTED) {
        let of = |name: &str| shop.shown(&format!("off-cut.{i}.{name}"));
        let what = left_of(shop, &off_cut.of);
        let told = [
            ("what", Told::Word(&what)),
            ("wide", Told::Figure(of("width"))),
            ("thick", Told::Figure(of("thickness"))),
            ("long", Told::Figure(of("length"))),
        ];
        flow.say("cost-off-cut", &told);
    }
    if all.len() > MOST_LISTED {
        flow.small("cost-more", &[("count", Told::Count(all.len() - MOST_LISTED))]);
    }
}

fn left_of(shop: &Shop, of: &LeftOver) -> String {
    let told = |key: &str, name: &str| shop.words.with(key, &[("name", Told::Word(name))]);
    match of {
        LeftOver::Strip(panel, number) => {
            let number = number.to_string();
            shop.words.with("left-strip", &[("name", Told::Word(panel)), ("number", Told::Word(&number))])
        }
        LeftOver::FarEnd(panel) => told("left-far-end", panel),
        LeftOver::Blank(letter) => told("left-blank", letter),
    }
}

fn time(shop: &Shop, flow: &mut Flow) {
    flow.heading("cost-time");
    let mut rows = listed(shop, "time.", "work");
    let all = shop.words.say("work-all");
    rows.retain(|row| row[0] != all);
    beside(&["cost-stage", "cost-takes"], &rows, shop, flow);
    flow.paragraph(&format!("{all}: {}", shop.figure("time.all")), Style::of(11.0), 0.0);
    flow.small("cost-time-says", &[]);
}

fn price(shop: &Shop, flow: &mut Flow) {
    flow.heading("cost-money");
    let row = |name: &str| (shop.words.say(&format!("money-{name}")), shop.figure(&format!("money.{name}")));
    let rows = ["wood", "glue", "finish", "abrasives", "work", "overhead", "cost", "profit"].map(row);
    let rows: Vec<Vec<String>> = rows.into_iter().filter(|(_, f)| something(f)).map(|(n, f)| vec![n, f]).collect();
    beside(&["cost-where", "cost-how-much"], &rows, shop, flow);
    flow.settings(&[(shop.words.say("money-price"), shop.set("money.price"))]);
    flow.small("cost-formula", &[]);
    let Some(rates) = &shop.job.rates else { return };
    let hour = format!("{} {:.2}", rates.currency, rates.hour);
    let [overhead, profit] =
        [rates.overhead, rates.profit].map(|share| format!("{} %", (share * 1000.0).round() / 10.0));
    let told = [("hour", Told::Word(&hour)), ("overhead", Told::Figure(&overhead)), ("profit", Told::Figure(&profit))];
    flow.small("cost-rates", &told);
}
