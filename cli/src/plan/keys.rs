//! What a key of the plan is: where it stands, what may be written, what holds when it is not.
//!
//! The one table of keys is in `table`; the reader takes kinds, bounds and defaults from it and
//! the page in `docs/plan.md` is made from it, so that neither can say anything else.

use super::table::KEYS;
use quarterturn_geometry::measure::Unit;

/// One key of the plan.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Where it stands: `shop.saw.kerf`.
    pub path: &'static str,
    /// What may be written.
    pub kind: Kind,
    /// What holds where it is not written.
    pub fill: Fill,
    /// What it is, in one or two sentences.
    pub about: &'static str,
}

/// What may be written for a key.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A section `[path]`.
    Table,
    /// Any number of sections `[[path]]`, up to so many.
    Tables(usize),
    /// A table in braces, within a section.
    Inline,
    /// A list of entries, up to so many: each a table, or bare the value of the key named here.
    List {
        /// The key that a bare entry stands for.
        bare: &'static str,
        /// The most entries.
        most: usize,
    },
    /// A text of up to so many characters.
    Text(usize),
    /// A text, or a whole number that stands for it.
    Name,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// One of these words, or a list of them.
    Choices(&'static [&'static str]),
    /// `true` or `false`.
    Switch,
    /// A whole number, from and to.
    Whole(i64, i64),
    /// A number in per cent.
    Percent,
    /// A number from 0 to 1, or a text in per cent.
    Share,
    /// A colour as in `"#5a3a26"`.
    Colour,
    /// A length.
    Length(Bounds),
    /// One length for both of these, or a list of two.
    Pair(&'static str, &'static str, Bounds),
    /// A list of exactly these lengths.
    Lengths(&'static [&'static str], Bounds),
    /// A number, from and to.
    Number(f64, f64),
    /// A temperature of air that wood is kept in.
    Temperature,
    /// A list of exactly these numbers.
    Numbers(&'static [&'static str]),
    /// Four points in a picture, each `[x, y]`.
    Places,
    /// A line: a list of points, each a list of exactly these lengths.
    Line(&'static [&'static str], Bounds),
}

/// The lengths that a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// The low end.
    pub least: Least,
    /// The longest, in millimetres.
    pub most: i64,
}

/// The low end of what a length may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// As far below 0 as above it.
    Any,
    /// 0.
    Zero,
    /// More than 0.
    AboveZero,
    /// So many micrometres.
    At(i64),
}

/// Nothing in the shop is longer, mm.
const LONGEST: i64 = 10_000;
/// Nothing that a bit cuts is deeper or wider, mm.
const DEEPEST: i64 = 100;

impl Bounds {
    /// A place: on either side of 0.
    pub const PLACE: Self = Self { least: Least::Any, most: LONGEST };
    /// 0 or more.
    pub const ZERO_UP: Self = Self { least: Least::Zero, most: LONGEST };
    /// More than 0.
    pub const ABOVE_ZERO: Self = Self { least: Least::AboveZero, most: LONGEST };
    /// What a saw, a bit or a plane takes away, or 0.
    pub const TAKEN: Self = Self { least: Least::Zero, most: DEEPEST };
    /// A measure of a bit or a cut.
    pub const CUT: Self = Self { least: Least::At(100), most: DEEPEST };
    /// What one tooth takes.
    pub const CHIP: Self = Self { least: Least::At(1), most: 5 };
    /// A strip: narrow ones would be too many to count.
    pub const STRIP: Self = Self { least: Least::At(1000), most: 1000 };
    /// Across or through a blank.
    pub const SECTION: Self = Self { least: Least::At(1000), most: 1000 };
    /// A growth ring.
    pub const RING: Self = Self { least: Least::At(100), most: DEEPEST };
    /// How fine a mesh is.
    pub const CHORD: Self = Self { least: Least::At(1), most: 1 };
    /// A mark of a rule.
    pub const MARK: Self = Self { least: Least::AboveZero, most: DEEPEST };
}

/// What holds where a key is not written.
#[derive(Clone, Copy, Debug)]
pub enum Fill {
    /// It must be written.
    Required,
    /// Nothing does; the text says what that means.
    Nothing(&'static str),
    /// This, in any plan, as it would be written.
    Value(&'static str),
    /// These lengths: in a plan in inches, in a plan in millimetres.
    Lengths(&'static str, &'static str),
    /// What the reader works out; the text says how.
    Worked(&'static str),
}

impl Key {
    /// The section or entry that it stands in; empty at the top.
    #[must_use]
    pub fn parent(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(parent, _)| parent)
    }

    /// Its own name.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, name)| name)
    }
}

/// The one table of keys, in the order of a plan.
#[must_use]
pub fn keys() -> &'static [Key] {
    KEYS
}

/// The key at a path.
pub(crate) fn at(path: &str) -> Option<&'static Key> {
    KEYS.iter().find(|key| key.path == path)
}

/// The key of that name in a section or entry.
pub(super) fn within(parent: &str, name: &str) -> Option<&'static Key> {
    children(parent).find(|key| key.name() == name)
}

/// The keys of a section or entry.
pub(super) fn children(parent: &str) -> impl Iterator<Item = &'static Key> {
    KEYS.iter().filter(move |key| key.parent() == parent)
}

/// Where a key of a section or entry stands, for a message: `in [shop.saw]`, `in an entry of order`.
pub(super) fn place(path: &str) -> String {
    let name = path.rsplit_once('.').map_or(path, |(_, name)| name);
    match at(path).map(|key| key.kind) {
        Some(Kind::Table) => format!("in [{path}]"),
        Some(Kind::Tables(_)) => format!("in [[{path}]]"),
        Some(Kind::List { .. }) => format!("in an entry of {name}"),
        Some(_) => format!("in {name}"),
        None => "at the top of the plan, before the first section".to_owned(),
    }
}

impl Bounds {
    /// In words, empty where only what is absurd is refused.
    pub(super) fn words(self, unit: Unit) -> String {
        let most = said(self.most as f64, unit, f64::floor);
        match self.least {
            Least::Any if self.most == LONGEST => "may be below 0".to_owned(),
            Least::Any => format!("from -{most} to {most}"),
            Least::Zero if self.most == LONGEST => "0 or more".to_owned(),
            Least::Zero => format!("from 0 to {most}"),
            Least::AboveZero => "more than 0".to_owned(),
            Least::At(um) => format!("from {} to {most}", said(um as f64 / 1000.0, unit, f64::ceil)),
        }
    }

    /// What a length must be that lies outside.
    pub(super) fn range(self, unit: Unit) -> String {
        let most = said(self.most as f64, unit, f64::floor);
        match (self.least, self.most) {
            (Least::Any, LONGEST) => format!("from -{most} to {most}"),
            (Least::Zero, LONGEST) => format!("from 0 to {most}"),
            (Least::AboveZero, _) => format!("more than 0 and at most {most}"),
            _ => self.words(unit),
        }
    }
}

/// A bound in a unit: whole where it is, else to four figures, rounded to the inside.
fn said(mm: f64, unit: Unit, inside: fn(f64) -> f64) -> String {
    match unit {
        Unit::Millimetre if mm >= 10_000.0 => format!("{} m", mm / 1000.0),
        Unit::Millimetre => format!("{mm} mm"),
        Unit::Inch => {
            let inches = mm / 25.4;
            let scale = 10_f64.powf((3.0 - inches.log10().floor()).clamp(0.0, 6.0));
            format!("{} in", inside(inches * scale) / scale)
        }
    }
}

impl Kind {
    /// What it is called where something else was written.
    pub(crate) fn called(&self) -> String {
        match self {
            Self::Table => "a section".to_owned(),
            Self::Tables(_) => "a list of sections".to_owned(),
            Self::Inline => "a table in braces".to_owned(),
            Self::List { .. } | Self::Lengths(..) | Self::Numbers(_) => "a list".to_owned(),
            Self::Number(..) => "a number".to_owned(),
            Self::Temperature => "a temperature".to_owned(),
            Self::Places => "a list of four points".to_owned(),
            Self::Text(_) => "a text".to_owned(),
            Self::Name => "a name".to_owned(),
            Self::Choice(_) | Self::Choices(_) => "one of the words known here".to_owned(),
            Self::Switch => "true or false".to_owned(),
            Self::Whole(..) => "a whole number".to_owned(),
            Self::Percent => "a number in per cent".to_owned(),
            Self::Share => "a chance".to_owned(),
            Self::Colour => "a colour".to_owned(),
            Self::Length(_) => "a length".to_owned(),
            Self::Pair(..) => "a length or a list of two".to_owned(),
            Self::Line(..) => "a list of points".to_owned(),
        }
    }

    /// How it is written, for the page.
    pub(super) fn written(&self) -> String {
        match self {
            Self::Inline => "table in braces, its keys below".to_owned(),
            Self::List { bare: "", most } => format!("list of tables in braces, at most {most}, their keys below"),
            Self::List { bare, most } => {
                format!("list, at most {most}: each a bare `{bare}`, or a table in braces with the keys below")
            }
            Self::Text(most) => format!("text in quotes, at most {most} characters"),
            Self::Name => "text in quotes, or a whole number".to_owned(),
            Self::Choice(words) => code(words),
            Self::Choices(words) => format!("{}, or a list of these", code(words)),
            Self::Switch => "`true` or `false`".to_owned(),
            Self::Whole(least, most) if least == most => format!("`{least}`"),
            Self::Whole(least, most) if *most == i64::MAX => format!("whole number, {least} or more"),
            Self::Whole(least, most) => format!("whole number from {least} to {most}"),
            Self::Percent => "number from 0 to 100".to_owned(),
            Self::Share => "number from 0 to 1, or as in `\"5 %\"`".to_owned(),
            Self::Colour => "red, green and blue, two hexadecimal digits each, as in `\"#5a3a26\"`".to_owned(),
            Self::Length(bounds) => format!("length, {}", bounds.words(Unit::Millimetre)),
            Self::Pair(one, two, bounds) => format!("length, {}, or a list of two: {one}, {two}", bounds.words(Unit::Millimetre)),
            Self::Number(least, most) => format!("number from {least} to {most}"),
            Self::Temperature => "temperature as in `\"70 F\"` or `\"21 C\"`, from 30 to 140 °F; a bare number is °F in a plan in inches, °C in one in millimetres".to_owned(),
            Self::Numbers(names) => format!("list of numbers: {}", names.join(", ")),
            Self::Places => "list of four points, each `[x, y]`".to_owned(),
            Self::Lengths(names, bounds) => format!("list of lengths, {}: {}", bounds.words(Unit::Millimetre), names.join(", ")),
            Self::Line(names, _) => format!("list of points, each `[{}]`", names.join(", ")),
            Self::Table | Self::Tables(_) => String::new(),
        }
    }

    /// What would be right, for a message.
    pub(crate) fn right(&self, unit: Unit) -> String {
        match self {
            Self::Table | Self::Inline => "give it keys and values".to_owned(),
            Self::Tables(_) => "give each its own header in double brackets".to_owned(),
            Self::List { bare: "", .. } => "write a list in square brackets, each entry a table in braces".to_owned(),
            Self::List { bare, .. } => {
                let article = if bare.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                format!("write a list in square brackets, each entry {article} {bare} or a table in braces")
            }
            Self::Text(most) => format!("write a text in quotes, of 1 to {most} characters"),
            Self::Name => "write a text in quotes".to_owned(),
            Self::Choice(words) => format!("write {}", quoted(words, "or")),
            Self::Choices(words) => format!("write {}, or a list of these", quoted(words, "or")),
            Self::Switch => "write true or false, without quotes".to_owned(),
            Self::Whole(least, most) if *most == i64::MAX => {
                format!("write a whole number, {least} or more, without quotes")
            }
            Self::Whole(least, most) => format!("write a whole number from {least} to {most}, without quotes"),
            Self::Percent => "write a number from 0 to 100, without quotes".to_owned(),
            Self::Share => "write a number from 0 to 1, or as in \"5 %\"".to_owned(),
            Self::Colour => "write red, green and blue as in \"#5a3a26\"".to_owned(),
            Self::Length(bounds) => format!("{LENGTH_FORMS}, {}", bounds.words(unit)),
            Self::Pair(one, two, bounds) => {
                format!(
                    "write a length as \"1/16\" or \"1.5 mm\", {}, or two of them: [{one}, {two}]",
                    bounds.words(unit)
                )
            }
            Self::Number(least, most) => format!("write a number from {least} to {most}, without quotes"),
            Self::Temperature => "write a temperature as \"70 F\" or \"21 C\", from 30 to 140 °F".to_owned(),
            Self::Numbers(names) => format!("write {} numbers: [{}]", names.len(), names.join(", ")),
            Self::Places => "write four points: [[x, y], [x, y], [x, y], [x, y]]".to_owned(),
            Self::Lengths(names, bounds) => {
                format!("write {} lengths, {}: [{}]", names.len(), bounds.words(unit), names.join(", "))
            }
            Self::Line(names, _) => {
                let point = names.join(", ");
                format!("write a list of points in square brackets, [[{point}], [{point}], …]")
            }
        }
    }
}

/// How a length may be written, for a message.
pub(super) const LENGTH_FORMS: &str = "write a length as \"1 3/8\", 1.375, \"35 mm\" or \"3.5 cm\"";

/// `"a", "b" or "c"`.
pub(super) fn quoted(words: &[&str], and: &str) -> String {
    let all: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match all.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} {and} {last}", before.join(", ")),
        None => String::new(),
    }
}

fn code(words: &[&str]) -> String {
    words.iter().map(|word| format!("`\"{word}\"`")).collect::<Vec<_>>().join(", ")
}
