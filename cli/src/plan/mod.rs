//! The plan: from the text that a maker keeps for one board to a [`Job`], every default filled in.
//!
//! ```text
//! text ─► tree ─► reader ─► shop, blanks, panels, layup, cuts, measured ─► Job
//!                   ▲                        │
//!         table of keys ─► docs/plan.md      └─► Problems: what, where, what would be right
//! ```
//!
//! Lengths are exact as typed: they are read from the digits, never through a float. Every problem
//! is told at once, but what follows from another problem is not. Knows no files but the photographs
//! that the plan names, which [`read_with`] is given; prints nothing;
//! must not judge a board that can be worked out: findings are the geometry's.
//!
//! | file | what it is for |
//! |---|---|
//! | `keys`, `table` | the one table of keys: kinds, bounds, defaults, what they are |
//! | `page` | `docs/plan.md`, made from the table |
//! | `tree`, `reader`, `values` | TOML with places; sections; values of each kind |
//! | `shop`, `blanks`, `shows`, `traced`, `photographs`, `panels`, `layup`, `cuts`, `bench`, `seasons`, `measured` | one part of the plan each |
//! | `sane` | what no memory could hold |
//! | `copy`, `copy_blanks` | a lay-up, or the order of blanks, written into the text |
//! | `kept` | what the ends of blanks came to, from one reading to the next |
//! | `place` | where in the text a finding is to be mended |
//! | `problem`, `suggest` | what is told when something is wrong |
//!
//! ```
//! use quarterturn::plan;
//! let plan = plan::read(plan::STARTER, "board.toml").unwrap();
//! assert!(plan.job.work().board.is_ok());
//!
//! let problems = plan::read("quarterturn = 1\n[shop.saw]\nkerff = 0.1\n", "board.toml").unwrap_err();
//! assert!(problems.to_string().contains("board.toml:3: shop.saw.kerff: there is no key kerff in [shop.saw]; did you mean kerf?"));
//! ```

mod bench;
mod blanks;
mod copy;
mod copy_blanks;
mod cuts;
mod faces;
mod kept;
mod keys;
mod layup;
mod measured;
mod page;
mod panels;
mod photographs;
mod place;
mod problem;
mod reader;
mod sane;
mod seasons;
mod shop;
mod shows;
mod suggest;
mod table;
mod traced;
mod tree;
mod values;

#[cfg(test)]
mod tests;

pub(crate) use blanks::likely;
pub(crate) use copy::lay;
pub use copy::with_layup;
pub use copy_blanks::{Order, letters, with_blanks};
pub(crate) use copy_blanks::{entries as entries_of, entry as turned_entry, panels as panels_of};
pub(crate) use kept::Kept;
pub(crate) use keys::at as key_at;
pub use keys::{Bounds, Fill, Key, Kind, Least, keys};
pub use page::keys_page;
pub use photographs::Fetch;
pub use place::{Place, place};
pub use problem::{Problem, Problems};

use quarterturn_geometry::job::Job;
use quarterturn_geometry::measure::{Length, Rule, RuleError};
use reader::{Found, Reading, Section};
use std::path::Path;
use toml::de::DeValue;

/// A plan to begin with: commented, and good as it stands.
pub const STARTER: &str = include_str!("starter.toml");

/// A plan as read.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What it means, every default filled in.
    pub job: Job,
    /// The file's name as it was given.
    pub file: String,
    /// The text as it was read.
    pub text: String,
}

/// Reads a plan: text to [`Job`], every default filled in. `file` is its name in messages; the photographs that it
/// names are read from the folder of `file`.
///
/// # Errors
/// [`Problems`] where the text is no TOML, has keys that are not known, lacks one that is needed,
/// or says what can't be meant; where a photograph can't be read, or shows no end.
pub fn read(text: &str, file: &str) -> Result<Plan, Problems> {
    let folder = Path::new(file).parent().unwrap_or(Path::new(""));
    read_with(text, file, &|name| crate::photo::read_named(&folder.join(name)))
}

/// The same, photographs fetched in another way.
///
/// # Errors
/// [`Problems`], as [`read`].
pub fn read_with(text: &str, file: &str, fetch: &Fetch<'_>) -> Result<Plan, Problems> {
    read_in(Reading::new(text, file, Some(fetch)), text, file)
}

/// The same; what photographs and traced lines come to is kept for the next reading.
pub(crate) fn read_keeping(text: &str, file: &str, fetch: &Fetch<'_>, kept: &Kept) -> Result<Plan, Problems> {
    kept.begin();
    read_in(Reading::new(text, file, Some(fetch)).keeping(kept), text, file)
}

/// The same; photographs are not looked at, and what they show is a guess.
fn read_unseen(text: &str, file: &str) -> Result<Plan, Problems> {
    read_in(Reading::new(text, file, None), text, file)
}

fn read_in(reading: Reading<'_>, text: &str, file: &str) -> Result<Plan, Problems> {
    let tree = match tree::tree(text) {
        Ok(tree) => tree,
        Err(broken) => {
            reading.report("", broken.span, broken.what, broken.right);
            return reading.finish(None);
        }
    };
    if let Some((span, what)) = later_format(tree.get_ref()) {
        reading.report("quarterturn", span, what, "take a later quarterturn".to_owned());
        return reading.finish(None);
    }
    let job = job(&Section::top(&reading, tree.get_ref()));
    reading.finish(job.map(|job| Plan { job, file: file.to_owned(), text: text.to_owned() }))
}

/// A plan of a later format is not read at all: what it says may not be what it means.
fn later_format(top: &toml::de::DeTable<'_>) -> Option<(std::ops::Range<usize>, String)> {
    let value = top.get("quarterturn")?;
    let DeValue::Integer(number) = value.get_ref() else { return None };
    let format = i64::from_str_radix(number.as_str(), number.radix()).ok().filter(|format| *format > 1)?;
    Some((value.span(), format!("the plan is of format {format}; this program reads format 1")))
}

/// `None` only where there is a problem.
fn job(top: &Section<'_>) -> Option<Job> {
    if let Found::Value(_) = top.find("quarterturn") {
        top.whole("quarterturn");
    }
    let metric = top.choice("units", &[false, true]);
    top.reading.set_metric(metric);
    let (name, rule) = (top.text("name"), rule(top, metric));
    let shop = top.table("shop");
    let (saw, machines) = (shop::saw(&shop), shop::machines(&shop));
    let (router_table, cnc, limits) = (shop::router_table(&shop), shop::cnc(&shop), shop::limits(top));
    let mut stack = blanks::Stack::read(top);
    let panels = panels::Panels::read(top, &mut stack);
    let bits = cuts::Bits::read(top);
    let (cuts, rim_bits) = faces::cuts(top, &bits);
    let job = Job {
        strips: layup::strips(top, &panels),
        layup: layup::layup(top, &panels),
        finishing: layup::finishing(top),
        handholds: cuts::handholds(top, &bits),
        rim_bits,
        cuts,
        surfacing: faces::surfacing(top, &bits),
        cut_out: faces::cut_out(top, &bits),
        gluing: bench::gluing(top),
        finish: bench::finish(top),
        pace: bench::pace(top),
        rates: bench::rates(top),
        seasons: seasons::seasons(top),
        measured: measured::measured(top, &panels),
        chord_tolerance: measured::chord_tolerance(top),
        name: name?,
        rule: rule?,
        saw,
        machines,
        router_table,
        plunge_router: shop::plunge_router(&shop),
        cnc,
        limits,
        blanks: panels.blanks.clone(),
        panels: panels.asked.clone(),
        bits: bits.all,
    };
    if top.reading.count() == 0 {
        sane::check(top, &job, &panels);
    }
    Some(job)
}

/// The rule whose finest mark this is.
pub(crate) fn rule_with(mark: Length, metric: bool) -> Result<Rule, RuleError> {
    let inch = Length::from_inch_fraction(1, 1);
    let parts = inch.whole_parts(mark);
    match metric {
        true => Rule::millimetres(mark),
        false => Rule::inches(if mark * parts == inch { parts } else { 0 }),
    }
}

/// The maker's rule: `finest` must be a mark that rules have.
fn rule(top: &Section<'_>, metric: bool) -> Option<Rule> {
    rule_with(top.maybe_length("finest")?, metric)
        .map_err(|error| {
            let written = top.reading.quote(top.span_of("finest"));
            top.report("finest", format!("{written} is no mark of a rule"), error.to_string());
        })
        .ok()
}
