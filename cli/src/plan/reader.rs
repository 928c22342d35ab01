//! Walks the tree of a plan by the table of keys: finds values, reports keys that are not known,
//! missing or of the wrong kind. Knows nothing of what a key means.

use super::kept::Kept;
use super::keys::{self, Fill, Key, Kind};
use super::photographs::{Fetch, Shared};
use super::problem::{Problem, Problems, Source, quote};
use super::suggest::nearest;
use quarterturn_geometry::measure::Unit;
use std::cell::{Cell, RefCell};
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value with its place.
pub(super) type Value<'a> = &'a Spanned<DeValue<'a>>;

/// More problems than this are counted, not kept.
const MOST_KEPT: usize = 100;
/// With so many keys or fewer, a message names them all.
const FEW_KEYS: usize = 12;

/// One plan as it is being read.
pub(super) struct Reading<'a> {
    text: &'a str,
    source: Arc<Source>,
    metric: Cell<bool>,
    fetch: Option<&'a Fetch<'a>>,
    kept: Option<&'a Kept>,
    photographs: Cell<usize>,
    problems: RefCell<Vec<Problem>>,
    unkept: Cell<usize>,
}

impl<'a> Reading<'a> {
    pub(super) fn new(text: &'a str, file: &str, fetch: Option<&'a Fetch<'a>>) -> Self {
        Self {
            text,
            source: Source::new(file, text),
            metric: Cell::new(false),
            fetch,
            kept: None,
            photographs: Cell::new(0),
            problems: RefCell::default(),
            unkept: Cell::new(0),
        }
    }

    /// The same, with what was worked out before.
    pub(super) const fn keeping(mut self, kept: &'a Kept) -> Self {
        self.kept = Some(kept);
        self
    }

    /// What was worked out before, where that is kept.
    pub(super) const fn kept(&self) -> Option<&'a Kept> {
        self.kept
    }

    /// Whether bare numbers are millimetres.
    pub(super) const fn metric(&self) -> bool {
        self.metric.get()
    }

    pub(super) fn set_metric(&self, metric: bool) {
        self.metric.set(metric);
    }

    /// What fetches the photographs that the plan names, and how many it names, as far as it was read.
    /// None where they are not to be looked at.
    pub(super) fn photographs(&self) -> Option<Shared<'a>> {
        Some(Shared { fetch: self.fetch?, count: self.photographs.get().max(1) })
    }

    pub(super) fn one_more_photograph(&self) {
        self.photographs.set(self.photographs.get() + 1);
    }

    /// What stands in the text at a place, fit for a message.
    pub(super) fn quote(&self, span: Range<usize>) -> String {
        quote(self.text.get(span).unwrap_or_default())
    }

    pub(super) fn report(&self, key: &str, span: Range<usize>, what: String, right: String) {
        let mut problems = self.problems.borrow_mut();
        if problems.len() < MOST_KEPT {
            problems.push(Problem::new(&self.source, key, span, what, right));
        } else {
            self.unkept.set(self.unkept.get() + 1);
        }
    }

    /// How many problems there are so far: what follows from them is not told again.
    pub(super) fn count(&self) -> usize {
        self.problems.borrow().len() + self.unkept.get()
    }

    /// What was read, if there are no problems.
    pub(super) fn finish<T>(self, read: Option<T>) -> Result<T, Problems> {
        let problems = self.problems.into_inner();
        debug_assert!(read.is_some() || !problems.is_empty(), "nothing was read and nothing is wrong");
        match read {
            Some(read) if problems.is_empty() => Ok(read),
            _ => Err(Problems::new(problems, self.unkept.get())),
        }
    }
}

/// A section of the plan, or an entry of a list.
#[derive(Clone)]
pub(super) struct Section<'a> {
    pub(super) reading: &'a Reading<'a>,
    /// Its path in the table of keys; empty at the top.
    pub(super) path: &'static str,
    /// Where it begins.
    pub(super) span: Range<usize>,
    body: Body<'a>,
}

#[derive(Clone)]
enum Body<'a> {
    Written(&'a DeTable<'a>),
    /// A bare entry stands for the value of this key.
    Bare(&'static str, Value<'a>),
    Absent,
    /// What is wrong with it is told already.
    Broken,
}

/// What a section has for a key.
pub(super) enum Found<'a> {
    Value(Value<'a>),
    Absent,
    /// What is wrong with it is told already.
    Broken,
}

/// Stands in for a key that the table lacks; a test build stops there.
static NO_KEY: Key = Key { path: "", kind: Kind::Switch, fill: Fill::Nothing(""), about: "" };

impl<'a> Section<'a> {
    /// The top of the plan.
    pub(super) fn top(reading: &'a Reading<'a>, table: &'a DeTable<'a>) -> Self {
        Self::written(reading, "", 0..0, table)
    }

    fn written(reading: &'a Reading<'a>, path: &'static str, span: Range<usize>, table: &'a DeTable<'a>) -> Self {
        let section = Self { reading, path, span, body: Body::Written(table) };
        for key in table.keys() {
            if keys::within(path, key.get_ref()).is_none() {
                section.report_unknown(key);
            }
        }
        section
    }

    const fn with(&self, path: &'static str, span: Range<usize>, body: Body<'a>) -> Self {
        Self { reading: self.reading, path, span, body }
    }

    /// The key of that name here, from the table.
    pub(super) fn key(&self, name: &str) -> &'static Key {
        let key = keys::within(self.path, name);
        debug_assert!(key.is_some(), "the table of keys lacks {name} {}", keys::place(self.path));
        key.unwrap_or(&NO_KEY)
    }

    /// Whether the section stands in the plan.
    pub(super) const fn is_there(&self) -> bool {
        !matches!(self.body, Body::Absent)
    }

    /// Whether something else stands in its place; that is told already.
    pub(super) const fn is_broken(&self) -> bool {
        matches!(self.body, Body::Broken)
    }

    /// Whether the key is written here, rightly or not.
    pub(super) fn has(&self, name: &str) -> bool {
        self.key(name);
        match self.body {
            Body::Written(table) => table.contains_key(name),
            Body::Bare(bare, _) => bare == name,
            Body::Absent | Body::Broken => false,
        }
    }

    /// Where the key's value stands; where it doesn't, the section.
    pub(super) fn span_of(&self, name: &str) -> Range<usize> {
        match self.body {
            Body::Written(table) => table.get(name).map_or_else(|| self.span.clone(), Spanned::span),
            Body::Bare(bare, value) if bare == name => value.span(),
            _ => self.span.clone(),
        }
    }

    /// Reports something wrong with a key's value.
    pub(super) fn report(&self, name: &str, what: String, right: String) {
        self.reading.report(self.key(name).path, self.span_of(name), what, right);
    }

    /// What the section has for a key; a required key that is missing is reported.
    pub(super) fn find(&self, name: &str) -> Found<'a> {
        let key = self.key(name);
        let value = match self.body {
            Body::Written(table) => table.get(name),
            Body::Bare(bare, value) => (bare == name).then_some(value),
            Body::Absent => return Found::Absent,
            Body::Broken => return Found::Broken,
        };
        match (value, key.fill) {
            (Some(value), _) => Found::Value(value),
            (None, Fill::Required) => {
                self.reading.report(key.path, self.span.clone(), "missing".to_owned(), add(key, self.unit()));
                Found::Broken
            }
            (None, _) => Found::Absent,
        }
    }

    /// A value that is not of the key's kind.
    pub(super) fn report_kind(&self, name: &str, value: Value<'a>) {
        let kind = self.key(name).kind;
        let written = self.reading.quote(value.span());
        self.reading.report(
            self.key(name).path,
            value.span(),
            format!("{written} is not {}", kind.called()),
            kind.right(self.unit()),
        );
    }

    /// A section or a table in braces within this one.
    pub(super) fn table(&self, name: &str) -> Self {
        let path = self.key(name).path;
        match self.find(name) {
            Found::Absent => self.with(path, self.span.clone(), Body::Absent),
            Found::Broken => self.with(path, self.span.clone(), Body::Broken),
            Found::Value(value) => match value.get_ref() {
                DeValue::Table(table) => Self::written(self.reading, path, value.span(), table),
                _ => {
                    self.report_kind(name, value);
                    self.with(path, value.span(), Body::Broken)
                }
            },
        }
    }

    /// A section that stands nowhere: it has the defaults.
    pub(super) fn absent(&self, name: &str) -> Self {
        self.with(self.key(name).path, self.span.clone(), Body::Absent)
    }

    /// All sections `[[name]]`; `None` where they can't be read.
    pub(super) fn tables(&self, name: &str) -> Option<Vec<Self>> {
        let key = self.key(name);
        let Kind::Tables(most) = key.kind else { return Some(Vec::new()) };
        self.entries(name, "", most)
    }

    /// All entries of a list; `None` where they can't be read.
    pub(super) fn list(&self, name: &str) -> Option<Vec<Self>> {
        let Kind::List { bare, most } = self.key(name).kind else { return Some(Vec::new()) };
        self.entries(name, bare, most)
    }

    fn entries(&self, name: &str, bare: &'static str, most: usize) -> Option<Vec<Self>> {
        let value = match self.find(name) {
            Found::Absent => return Some(Vec::new()),
            Found::Broken => return None,
            Found::Value(value) => value,
        };
        let DeValue::Array(entries) = value.get_ref() else {
            self.report_not_a_list(name, value);
            return None;
        };
        if entries.len() > most {
            self.report(
                name,
                format!("{} entries are too many", entries.len()),
                format!("there may be {most} at most"),
            );
            return None;
        }
        Some(entries.iter().map(|entry| self.entry(name, bare, entry)).collect())
    }

    fn entry(&self, name: &str, bare: &'static str, entry: Value<'a>) -> Self {
        let path = self.key(name).path;
        match entry.get_ref() {
            DeValue::Table(table) => Self::written(self.reading, path, entry.span(), table),
            DeValue::Array(_) if keys::within(path, bare).is_some_and(|key| matches!(key.kind, Kind::Line(..))) => {
                self.with(path, entry.span(), Body::Bare(bare, entry))
            }
            DeValue::Array(_) | DeValue::Datetime(_) | DeValue::Boolean(_) => self.broken_entry(name, entry),
            _ if bare.is_empty() => self.broken_entry(name, entry),
            _ => self.with(path, entry.span(), Body::Bare(bare, entry)),
        }
    }

    fn broken_entry(&self, name: &str, entry: Value<'a>) -> Self {
        let path = self.key(name).path;
        let what = format!("{} is no entry of {name}", self.reading.quote(entry.span()));
        self.reading.report(path, entry.span(), what, self.key(name).kind.right(self.unit()));
        self.with(path, entry.span(), Body::Broken)
    }

    fn report_not_a_list(&self, name: &str, value: Value<'a>) {
        let path = self.key(name).path;
        match (self.key(name).kind, value.get_ref()) {
            (Kind::Tables(_), DeValue::Table(_)) => self.reading.report(
                path,
                value.span(),
                format!("there may be several {name}"),
                format!("write [[{path}]], in double brackets"),
            ),
            _ => self.report_kind(name, value),
        }
    }

    /// A key that is not known here: the nearest that is, or where it would belong.
    fn report_unknown(&self, key: &Spanned<std::borrow::Cow<'a, str>>) {
        let name = key.get_ref().as_ref();
        let path = if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) };
        let what = format!("there is no key {} {}", quote(name), keys::place(self.path));
        let right = if self.reading.count() < MOST_KEPT { self.meant(name) } else { String::new() };
        self.reading.report(&quote(&path), key.span(), what, right);
    }

    fn meant(&self, name: &str) -> String {
        let here: Vec<&str> = keys::children(self.path).map(Key::name).collect();
        if let Some(near) = nearest(name, here.iter().copied()) {
            return format!("did you mean {near}?");
        }
        if let Some(key) = keys::keys().iter().find(|key| key.name() == name) {
            return format!("{name} stands {}", keys::place(key.parent()));
        }
        if here.len() <= FEW_KEYS {
            return format!("known there: {}", here.join(", "));
        }
        match nearest(name, keys::keys().iter().map(Key::name)) {
            Some(near) => self.elsewhere(near),
            None => "docs/plan.md lists all keys".to_owned(),
        }
    }

    fn elsewhere(&self, near: &str) -> String {
        let place =
            keys::keys().iter().find(|key| key.name() == near).map_or_else(String::new, |k| keys::place(k.parent()));
        format!("did you mean {near}, {place}?")
    }
}

/// What to add where a key is missing.
fn add(key: &Key, unit: Unit) -> String {
    match key.kind {
        Kind::Tables(_) => format!("add a section [[{}]]", key.path),
        Kind::Whole(least, most) if least == most => format!("add {} = {least}", key.name()),
        kind => format!("add {} = …; {}", key.name(), kind.right(unit)),
    }
}
