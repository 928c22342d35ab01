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
mod handhold;
mod movement;
mod panel;
mod solid;

use crate::job::{Job, Outcome};
use crate::measure::{Rest, Rounding, Rule, Unit};
use crate::movement::{Celsius, Moisture};
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
    /// ΔE00 of CIEDE2000.
    ColourDifference,
    /// Per cent of the dry wood's mass.
    Moisture,
    /// Degrees Celsius.
    Temperature,
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
            Self::ColourDifference => "CIEDE2000",
            Self::Moisture => "%",
            Self::Temperature => "°C",
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
        solid::add(job, outcome, &mut numbers);
        handhold::add(job, outcome, &mut numbers);
        cuts::add(job, outcome, &mut numbers);
        movement::add(job, outcome, &mut numbers);
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

    /// Adds a length too small for a rule, in decimals: hundredths of a millimetre, thousandths of
    /// an inch.
    pub fn hair(&mut self, key: impl Into<String>, mm: f64, about: &'static str) {
        let shown = match self.rule.unit() {
            Unit::Inch => format!("{:.3} in", mm / 25.4),
            Unit::Millimetre => format!("{mm:.2} mm"),
        };
        self.add(key, mm, In::Length, shown, about);
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
            Unit::Inch => format!("{:.0} in a minute", value / 25.4),
            Unit::Millimetre => format!("{value:.0} mm a minute"),
        };
        self.add(key, value, In::Feed, shown, about);
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

    fn add(&mut self, key: impl Into<String>, value: f64, unit: In, shown: String, about: &'static str) {
        let key = key.into();
        self.places.insert(key.clone(), self.all.len());
        self.all.push(Number { key, value, unit, shown, about });
    }
}
