//! Every number that reaches a terminal, paper or the report: born here, with its unit, the way it
//! is rounded and where it comes from, and turned into a fraction here and nowhere else.
//!
//! ```text
//! Job + Outcome ─► Numbers ─► terminal, cut list, drawing, report.json
//! ```
//! Computes nothing that the model doesn't hold; whoever prints a figure asks for it by its key, so
//! that each printed figure stands in the report as shown.

mod board;
mod colour;
mod cuts;
mod figure;
mod finish;
mod glue;
mod handhold;
mod lumber;
mod movement;
mod panel;
mod solid;
mod thickness;

use crate::glue::{Kilopascals, Minutes, Newtons};
use crate::job::{Job, Outcome};
use crate::lumber::board_feet;
use crate::measure::{Length, Rest, Rounding, Rule, Unit};
use crate::movement::{Celsius, Moisture};
use crate::solid::Neighbours;
use std::collections::HashMap;

/// What a value is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum In {
    /// mm.
    Length,
    /// mm³.
    Volume,
    /// mm².
    Area,
    /// kg.
    Mass,
    /// A whole number of things.
    Count,
    /// A share of one: a chance.
    Share,
    /// Turns a minute.
    Speed,
    /// mm a minute.
    Feed,
    /// Metres a second.
    RimSpeed,
    /// ΔE00 of CIEDE2000.
    ColourDifference,
    /// Per cent of the dry wood's mass.
    Moisture,
    /// Degrees Celsius.
    Temperature,
    /// Minutes.
    Time,
    /// N.
    Force,
    /// kPa.
    Pressure,
    /// The maker's currency.
    Money,
}

impl In {
    /// The unit that the value is in.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Volume => "mm3",
            Self::Area => "mm2",
            Self::Mass => "kg",
            Self::Count => "1",
            Self::Share => "share",
            Self::Speed => "1/min",
            Self::Feed => "mm/min",
            Self::RimSpeed => "m/s",
            Self::ColourDifference => "CIEDE2000",
            Self::Moisture => "%",
            Self::Temperature => "°C",
            Self::Time => "min",
            Self::Force => "N",
            Self::Pressure => "kPa",
            Self::Money => "money",
        }
    }
}

/// One number.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// Its key in the report: `board.length`.
    pub key: String,
    /// The value, in its unit.
    pub value: f64,
    /// The unit.
    pub unit: In,
    /// As the maker reads it.
    pub shown: String,
    /// What it is and where it comes from.
    pub about: &'static str,
}

/// All numbers of one board, in the order in which it is made.
#[derive(Clone, Debug)]
pub struct Numbers {
    rule: Rule,
    all: Vec<Number>,
    places: HashMap<String, usize>,
}

impl Numbers {
    /// Every number that follows from a job.
    #[must_use]
    pub fn of(job: &Job, outcome: &Outcome) -> Self {
        let mut numbers = Self { rule: job.rule, all: Vec::new(), places: HashMap::new() };
        panel::add(job, outcome, &mut numbers);
        board::add(outcome, &mut numbers);
        figure::add(outcome, &mut numbers);
        colour::add(job, outcome, &mut numbers);
        let mut exact = None;
        if let Ok(board) = &outcome.board {
            let near = Neighbours::of(&board.finished(), &job.handholds, &job.cuts);
            exact = solid::add(job, board, &near, &mut numbers);
            handhold::add(job, board, &near, &mut numbers);
        }
        cuts::add(job, outcome, &mut numbers);
        thickness::add(job, outcome, &mut numbers);
        glue::add(job, outcome, &mut numbers);
        movement::add(job, outcome, &mut numbers);
        let oil = finish::oil(job, outcome);
        finish::add(job, outcome, oil, &mut numbers);
        if let Some(exact) = exact {
            lumber::add(job, outcome, &exact, oil, &mut numbers);
        }
        finish::mended(job, outcome, &mut numbers);
        numbers
    }

    /// All of them, in order.
    #[must_use]
    pub fn all(&self) -> &[Number] {
        &self.all
    }

    /// The number of this key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Number> {
        self.places.get(key).map(|i| &self.all[*i])
    }

    /// The number of this key, as shown; nothing where there is none.
    #[must_use]
    pub fn shown(&self, key: &str) -> &str {
        self.get(key).map_or("", |n| &n.shown)
    }

    /// Adds a length that is what it is: to the nearest mark, full or bare.
    pub fn length(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.show(mm, Rounding::Nearest, Rest::Told), about);
    }

    /// Adds a length that adds up with others on a finer rule: to the nearest 1/64 in or tenth of a millimetre where it
    /// lies on no mark.
    pub fn fine(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        const SAME: f64 = 2e-6;
        let finer = match self.rule.unit() {
            Unit::Inch => Rule::inches(64),
            Unit::Millimetre => Rule::millimetres(Length::from_micrometres(100)),
        };
        let on_a_mark = (self.rule.round(mm, Rounding::Nearest).mm() - mm).abs() <= SAME;
        let rule = match finer {
            Ok(finer) if !on_a_mark && finer.mark() < self.rule.mark() => finer,
            _ => self.rule,
        };
        self.add(key, mm, In::Length, rule.show(mm, Rounding::Nearest, Rest::Told), about);
    }

    /// Adds a length that something is set to, or that must not be said larger than it is: the mark
    /// below.
    pub fn at_most(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.show(mm, Rounding::Down, Rest::Dropped), about);
    }

    /// Adds a stop setting: the mark below, "full" where it is a hair more, so that set to the mark
    /// the strips never run out.
    pub fn setting(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.show(mm, Rounding::Down, Rest::Told), about);
    }

    /// Adds a length that must not be said smaller than it is: the mark above.
    pub fn at_least(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.show(mm, Rounding::Up, Rest::Dropped), about);
    }

    /// Adds how far apart things are at most, that are not set by a fine rule: down to half an inch or 5 mm, to the mark
    /// below where that would be nothing.
    pub fn apart(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        let coarse = match self.rule.unit() {
            Unit::Inch => Rule::inches(2),
            Unit::Millimetre => Rule::millimetres(Length::from_micrometres(1000)),
        };
        let step = if self.rule.unit() == Unit::Inch { 12.7 } else { 5.0 };
        match coarse {
            Ok(rule) if mm >= step => {
                let down = ((mm + 2e-6) / step).floor() * step;
                self.add(key, mm, In::Length, rule.show(down, Rounding::Nearest, Rest::Dropped), about);
            }
            _ => self.at_most(key, mm, about),
        }
    }

    /// Adds a length as it is told to somebody who sets nothing by it: the nearest mark, without "full" or "bare".
    pub fn about(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.show(mm, Rounding::Nearest, Rest::Dropped), about);
    }

    /// Adds a length that is looked for by eye: to the nearest 1/8 in or millimetre.
    pub fn roughly(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        let coarse = match self.rule.unit() {
            Unit::Inch => Rule::inches(8),
            Unit::Millimetre => Rule::millimetres(Length::from_micrometres(1000)),
        };
        let shown = coarse.unwrap_or(self.rule).show(mm, Rounding::Nearest, Rest::Dropped);
        self.add(key, mm, In::Length, shown, about);
    }

    /// Adds a length too small for a rule, in decimals: hundredths of a millimetre, thousandths of
    /// an inch.
    pub fn hair(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        self.add(key, mm, In::Length, self.rule.hair(mm), about);
    }

    /// Adds a volume.
    pub fn volume(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.2} in³", value / 25.4_f64.powi(3)),
            Unit::Millimetre => format!("{:.1} cm³", value / 1000.0),
        };
        self.add(key, value, In::Volume, shown, about);
    }

    /// Adds an area.
    pub fn area(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.2} in²", value / 25.4_f64.powi(2)),
            Unit::Millimetre => format!("{:.1} cm²", value / 100.0),
        };
        self.add(key, value, In::Area, shown, about);
    }

    /// Adds a mass.
    pub fn mass(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        /// 1 lb = 0.45359237 kg, by definition.
        const POUND: f64 = 0.453_592_37;
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.1} lb", value / POUND),
            Unit::Millimetre => format!("{value:.2} kg"),
        };
        self.add(key, value, In::Mass, shown, about);
    }

    /// Adds a count.
    pub fn count(&mut self, key: impl Into<String>, value: i64, about: &'static str) {
        self.add(key, value as f64, In::Count, value.to_string(), about);
    }

    /// Adds a chance.
    pub fn share(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        let percent = value * 100.0;
        let shown = match percent {
            p if p < 0.1 => "under 0.1 %".to_owned(),
            p if p > 99.9 => "over 99.9 %".to_owned(),
            p => format!("{p:.1} %"),
        };
        self.add(key, value, In::Share, shown, about);
    }

    /// Adds a spindle speed.
    pub fn speed(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        self.add(key, value, In::Speed, format!("{value:.0} turns a minute"), about);
    }

    /// Adds a feed.
    pub fn feed(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.0} in/min", value / 25.4),
            Unit::Millimetre => format!("{value:.0} mm/min"),
        };
        self.add(key, value, In::Feed, shown, about);
    }

    /// Adds the mass of something light, kg: never said smaller than it is.
    pub fn grams(&mut self, key: impl Into<String>, kg: f64, about: &'static str) {
        /// 1 oz = 28.349523125 g, by definition.
        const OUNCE: f64 = 0.028_349_523_125;
        let shown = match self.rule.unit() {
            // A kitchen scale shows so little in grams alone.
            Unit::Inch => format!("{:.1} oz ({:.0} g)", up(kg / OUNCE, 10.0), up(kg * 1000.0, 1.0)),
            Unit::Millimetre => format!("{:.0} g", up(kg * 1000.0, 1.0)),
        };
        self.add(key, kg, In::Mass, shown, about);
    }

    /// Adds wood in its own measure, mm³: board feet or litres, a thousand to the cubic metre. All of it is never said
    /// smaller than it is, and what is said of its parts adds up to what is said of all.
    pub fn lumber(&mut self, all: Option<String>, parts: &[(String, f64, &'static str)], about: &'static str) {
        let shown = |hundredths: i64| self.lumber_shown(hundredths);
        let values: Vec<f64> = parts.iter().map(|part| self.lumber_hundredths(part.1)).collect();
        let (whole, each) = adding_up(&values);
        let each: Vec<String> = each.into_iter().map(shown).collect();
        if let Some(key) = all {
            self.add(key, parts.iter().map(|part| part.1).sum(), In::Volume, shown(whole), about);
        }
        for ((key, volume, about), shown) in parts.iter().zip(each) {
            self.add(key.clone(), *volume, In::Volume, shown, about);
        }
    }

    /// Adds wood that is to be bought: never said smaller than it is.
    #[allow(clippy::cast_possible_truncation)]
    pub fn lumber_to_buy(&mut self, key: String, volume: f64, about: &'static str) {
        let shown = self.lumber_shown(up(self.lumber_hundredths(volume), 1.0) as i64);
        self.add(key, volume, In::Volume, shown, about);
    }

    fn lumber_hundredths(&self, volume: f64) -> f64 {
        match self.rule.unit() {
            Unit::Inch => board_feet(volume) * 100.0,
            Unit::Millimetre => volume * 1e-4,
        }
    }

    fn lumber_shown(&self, hundredths: i64) -> String {
        let unit = if self.rule.unit() == Unit::Inch { "board feet" } else { "dm³" };
        format!("{}.{:02} {unit}", hundredths / 100, hundredths % 100)
    }

    /// Adds a liquid, litres: never said smaller than it is.
    pub fn liquid(&mut self, key: impl Into<String>, litres: f64, about: &'static str) {
        /// 1 US fluid ounce = 231/128 in³, by definition.
        const FLUID_OUNCE: f64 = 231.0 / 128.0 * 25.4 * 25.4 * 25.4 * 1e-6;
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.1} fl oz", up(litres / FLUID_OUNCE, 10.0)),
            Unit::Millimetre => format!("{:.2} L", up(litres, 100.0)),
        };
        self.add(key, litres * 1e6, In::Volume, shown, about);
    }

    /// Adds a time.
    pub fn time(&mut self, key: impl Into<String>, time: Minutes, about: &'static str) {
        #[allow(clippy::cast_possible_truncation)]
        let minutes = up(time.0, 1.0) as i64;
        self.add(key, time.0, In::Time, hours(minutes), about);
    }

    /// Adds times of stages, then all of them: what is said of the stages adds up to that.
    pub fn times(&mut self, stages: &[(String, Minutes)], all: &str, [each, whole]: [&'static str; 2]) {
        let values: Vec<f64> = stages.iter().map(|(_, time)| time.0).collect();
        let (minutes, shares) = adding_up(&values);
        for ((key, time), share) in stages.iter().zip(shares) {
            self.add(key.clone(), time.0, In::Time, hours(share), each);
        }
        self.add(all, values.iter().sum(), In::Time, hours(minutes), whole);
    }

    /// Adds a force: never said smaller than it is.
    pub fn force(&mut self, key: impl Into<String>, force: Newtons, about: &'static str) {
        /// 1 lbf = 4.4482216152605 N, by definition.
        const POUND_FORCE: f64 = 4.448_221_615_260_5;
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.0} lbf", up(force.0 / POUND_FORCE, 0.1)),
            Unit::Millimetre => format!("{:.1} kN", up(force.0 / 1000.0, 10.0)),
        };
        self.add(key, force.0, In::Force, shown, about);
    }

    /// Adds a pressure.
    pub fn pressure(&mut self, key: impl Into<String>, pressure: Kilopascals, about: &'static str) {
        /// 1 lbf/in² = 6.894757293168 kPa.
        const PSI: f64 = 6.894_757_293_168;
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.0} lbf/in²", pressure.0 / PSI),
            Unit::Millimetre => format!("{:.0} kPa", pressure.0),
        };
        self.add(key, pressure.0, In::Pressure, shown, about);
    }

    /// Adds an amount of money in the maker's currency.
    pub fn money(&mut self, key: impl Into<String>, currency: &str, amount: f64, about: &'static str) {
        self.add(key, amount, In::Money, format!("{currency} {amount:.2}"), about);
    }

    /// Adds a moisture content.
    pub fn moisture(&mut self, key: impl Into<String>, value: Moisture, about: &'static str) {
        self.add(key, value.0, In::Moisture, format!("{:.1} %", value.0), about);
    }

    /// Adds a temperature.
    pub fn temperature(&mut self, key: impl Into<String>, value: Celsius, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.0} °F", value.fahrenheit()),
            Unit::Millimetre => format!("{:.0} °C", value.0),
        };
        self.add(key, value.0, In::Temperature, shown, about);
    }

    /// Adds how fast a rim runs.
    pub fn rim_speed(&mut self, key: impl Into<String>, value: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.0} ft a minute", value * 60.0 / 0.3048),
            Unit::Millimetre => format!("{value:.1} m a second"),
        };
        self.add(key, value, In::RimSpeed, shown, about);
    }

    /// Adds what an edge takes: ten-thousandths of an inch, thousandths of a millimetre.
    pub fn chip(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.4} in", mm / 25.4),
            Unit::Millimetre => format!("{mm:.3} mm"),
        };
        self.add(key, mm, In::Length, shown, about);
    }

    fn add(&mut self, key: impl Into<String>, value: f64, unit: In, shown: String, about: &'static str) {
        let key = key.into();
        self.places.insert(key.clone(), self.all.len());
        self.all.push(Number { key, value, unit, shown, about });
    }
}

/// Minutes as hours and minutes.
fn hours(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// All parts together, up to the next whole; and whole numbers for the parts that add up to it: each its part's floor,
/// and what is missing to the parts of which that leaves most.
#[allow(clippy::cast_possible_truncation)]
fn adding_up(parts: &[f64]) -> (i64, Vec<i64>) {
    let whole = up(parts.iter().sum(), 1.0) as i64;
    let floor = |part: f64| (part.max(0.0) + 1e-9).floor();
    let mut each: Vec<i64> = parts.iter().map(|part| floor(*part) as i64).collect();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    let rest = |i: usize| parts[i] - floor(parts[i]);
    order.sort_by(|a, b| rest(*b).total_cmp(&rest(*a)));
    let missing = usize::try_from(whole - each.iter().sum::<i64>()).unwrap_or(0);
    order.iter().take(missing).for_each(|i| each[*i] += 1);
    (whole, each)
}

/// Up to the next whole part of so many to one; what lies within a float's rounding of a part is on it.
fn up(value: f64, parts: f64) -> f64 {
    (value * parts - 1e-9).ceil().max(0.0) / parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn numbers(rule: Rule) -> Numbers {
        Numbers { rule, all: Vec::new(), places: HashMap::new() }
    }

    fn rules() -> [Rule; 2] {
        [Rule::inches(64).unwrap(), Rule::millimetres(Length::from_micrometres(500)).unwrap()]
    }

    /// The number that a text begins with.
    fn first(shown: &str) -> f64 {
        shown.split(' ').next().unwrap().parse().unwrap()
    }

    #[test]
    fn conversions_are_exact() {
        let [mut inch, mut metric] = rules().map(numbers);
        inch.liquid("l", 3.785_411_784, "a US gallon");
        inch.grams("g", 0.453_592_37, "a pound");
        inch.force("f", Newtons(4_448.221_615_260_5), "1000 lbf");
        inch.lumber(Some("b".into()), &[("w".into(), 2_359_737.216, "a board foot")], "");
        metric.time("t", Minutes(80.0), "");
        metric.time("h", Minutes(120.0), "");
        assert_eq!(
            ["l", "g", "f", "b"].map(|k| inch.shown(k)),
            ["128.0 fl oz", "16.0 oz (454 g)", "1000 lbf", "1.00 board feet"]
        );
        assert_eq!((metric.shown("t"), metric.shown("h")), ("1 h 20 min", "2 h"));
    }

    proptest! {
        /// What is said of the parts adds up to what is said of all, and none is a whole mark off.
        #[test]
        fn shares_add_up_as_shown(parts in proptest::collection::vec(0.0..500.0f64, 0..12)) {
            let (whole, each) = adding_up(&parts);
            prop_assert_eq!(each.iter().sum::<i64>(), whole);
            prop_assert!(whole as f64 >= parts.iter().sum::<f64>() - 1e-6);
            for (share, part) in each.iter().zip(&parts) {
                prop_assert!((*share as f64 - part).abs() < 1.0 + 1e-6 && (*part > 0.0 || *share == 0));
            }
        }

        /// Clamps never stand farther apart than reckoned, and where they are told to stand by a whole or a half.
        #[test]
        fn what_stands_apart_is_never_said_larger(mm in 0.1..400.0f64) {
            let [mut inch, mut metric] = rules().map(numbers);
            inch.apart("a", mm, "");
            metric.apart("a", mm, "");
            let shown = metric.shown("a").split(' ').next().unwrap().parse::<f64>().unwrap();
            prop_assert!(shown <= mm + 1e-5 && (shown > 0.0 || mm < 0.5));
            prop_assert!(mm < 12.7 || !inch.shown("a").contains('/') || inch.shown("a").contains("1/2 in"));
        }

        /// What must be bought, spread or pressed with is never said smaller than it is.
        #[test]
        fn quantities_never_err_to_the_unsafe_side(value in 0.0..50.0f64) {
            for (rule, [gram, litre, volume, newton]) in rules().into_iter().zip([
                [0.028_349_523_125, 231.0 / 128.0 * 0.016_387_064, 2_359_737.216, 4.448_221_615_260_5],
                [0.001, 1.0, 1e6, 1000.0],
            ]) {
                let mut n = numbers(rule);
                n.grams("g", value, "");
                n.liquid("l", value, "");
                n.lumber(Some("v".into()), &[("w".into(), value * 1e6, "")], "");
                n.force("f", Newtons(value * 100.0), "");
                prop_assert!(first(n.shown("g")) * gram >= value - 1e-8);
                prop_assert!(first(n.shown("l")) * litre >= value - 1e-8);
                prop_assert!(first(n.shown("v")) * volume >= value * 1e6 - 1e-2);
                prop_assert!(first(n.shown("f")) * newton >= value * 100.0 - 1e-6);
            }
        }
    }
}
