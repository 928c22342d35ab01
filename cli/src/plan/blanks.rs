//! `[[woods]]` and `[[blanks]]`: what wood there is, before it is known which panel mills it.

use super::keys::quoted;
use super::reader::Section;
use super::shows::Shows;
use super::suggest::nearest;
use super::table::MOST_BLANKS;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::stock::{Blank, Rip, Size};
use quarterturn_geometry::wood::{Figure, Wood};

/// The most lines on long faces and sections part-way in one plan.
const MOST_LINES_PART_WAY: usize = 240;

/// What is taken off each side and each face of a rough blank: at the marked corner, opposite.
#[derive(Clone, Copy, Debug)]
pub(super) struct Milling {
    pub(super) side: [Length; 2],
    pub(super) face: [Length; 2],
}

/// One entry of `[[blanks]]`: a blank, or several alike.
pub(super) struct Alike<'a> {
    section: Section<'a>,
    pub(super) letter: String,
    count: usize,
    wood: Option<Wood>,
    size: Size,
    rough: bool,
    moisture: Option<f64>,
    shows: Shows<'a>,
    rip: Option<Rip>,
    /// How many of them are laid.
    laid: usize,
    /// Whether everything about it could be read.
    sound: bool,
}

/// All blanks.
pub(super) struct Stack<'a> {
    pub(super) alike: Vec<Alike<'a>>,
    /// Whether every letter could be read: else a letter that isn't there tells nothing.
    complete: bool,
}

/// Why a blank can't be taken from the stack.
pub(super) enum NotTaken {
    /// What is wrong is told already.
    Told,
    /// This is: what, and what would be right.
    Because(String, String),
}

impl<'a> Stack<'a> {
    pub(super) fn read(top: &Section<'a>) -> Self {
        let woods = Woods::read(top);
        let sections = top.tables("blanks");
        let mut stack = Self { alike: Vec::new(), complete: sections.is_some() };
        let sections = sections.unwrap_or_default();
        if sections.is_empty() && stack.complete {
            top.report("blanks", "there are no blanks".to_owned(), "add a section [[blanks]]".to_owned());
            stack.complete = false;
        }
        for section in sections {
            match Alike::read(section, &woods) {
                Some(alike) => stack.alike.push(alike),
                None => stack.complete = false,
            }
        }
        stack.check_letters();
        stack.check_count();
        stack.check_lines();
        stack
    }

    fn check_letters(&self) {
        let mut seen = std::collections::HashSet::new();
        for alike in &self.alike {
            let letters: Vec<String> = (0..alike.count).map(|i| alike.letter_of(i)).collect();
            if let Some(twice) = letters.iter().find(|letter| seen.contains(*letter)) {
                let what = format!("there are two blanks {twice}");
                alike.section.report("letter", what, "give each its own letter, or one entry a count".to_owned());
            }
            seen.extend(letters);
        }
    }

    fn check_count(&self) {
        let mut all = 0;
        for alike in &self.alike {
            all += alike.count;
            if all > MOST_BLANKS {
                let what = format!("with these there are more than {MOST_BLANKS} blanks");
                alike.section.report("count", what, format!("a plan has {MOST_BLANKS} at most"));
                return;
            }
        }
    }

    /// Each line part-way is held against all others, so that very many would take long.
    fn check_lines(&mut self) {
        let mut all = 0;
        let mut count = |alike: &Alike<'_>| {
            all += alike.shows.lines_part_way();
            all > MOST_LINES_PART_WAY
        };
        if let Some(alike) = self.alike.iter().find(|alike| count(alike)) {
            let what = format!("with these, more than {MOST_LINES_PART_WAY} lines are followed between the ends");
            alike.section.report("shows", what, format!("a plan has {MOST_LINES_PART_WAY} at most"));
            // None of them is joined.
            self.alike.iter_mut().for_each(|alike| alike.sound = false);
        }
    }

    /// The next blank of that letter: its place in the stack, and which of those alike it is.
    pub(super) fn take(&mut self, letter: &str) -> Result<(usize, usize), NotTaken> {
        let Some(at) = self.alike.iter().position(|alike| alike.letter == letter) else {
            return Err(self.no_such(letter));
        };
        let alike = &mut self.alike[at];
        alike.laid += 1;
        match alike.laid - 1 {
            which if which < alike.count => Ok((at, which)),
            which if which == alike.count && alike.sound => Err(NotTaken::Because(
                format!("{letter} is laid more often than there are blanks {letter}: {}", alike.count),
                format!("take one {letter} out, or set count = {} in its [[blanks]]", alike.count + 1),
            )),
            _ => Err(NotTaken::Told),
        }
    }

    fn no_such(&self, letter: &str) -> NotTaken {
        if !self.complete {
            return NotTaken::Told;
        }
        let what = format!("there is no blank {letter}");
        if let Some(alike) = self.alike.iter().find(|alike| (1..alike.count).any(|i| alike.letter_of(i) == letter)) {
            let one = &alike.letter;
            return NotTaken::Because(what, format!("write {one}: each mention of {one} takes the next of them"));
        }
        let letters: Vec<&str> = self.alike.iter().map(|alike| alike.letter.as_str()).take(20).collect();
        NotTaken::Because(what, format!("the blanks are {}", letters.join(", ")))
    }
}

impl<'a> Alike<'a> {
    /// `None` where not even its letter could be read.
    fn read(section: Section<'a>, woods: &Woods) -> Option<Self> {
        let before = section.reading.count();
        let letter = letter(&section);
        let wood = section.text("wood").and_then(|name| woods.find(&section, &name));
        let size = Size {
            width: section.length("width"),
            thickness: section.length("thickness"),
            length: section.length("length"),
        };
        let rough = section.choice("sizes", &[false, true]);
        let count = section.small("count").unwrap_or(1);
        let moisture = section.percent("moisture");
        let shows = Shows::read(section.table("shows"), rough);
        let rip = rip(&section.table("rip"));
        let sound = section.reading.count() == before;
        Some(Self { letter: letter?, count, wood, size, rough, moisture, shows, rip, laid: 0, sound, section })
    }

    fn letter_of(&self, which: usize) -> String {
        if which == 0 { self.letter.clone() } else { format!("{}{}", self.letter, which + 1) }
    }

    /// How many are laid, and how many there are.
    pub(super) const fn left(&self) -> std::ops::Range<usize> {
        self.laid..self.count
    }

    /// One of them, milled so; `None` where what is wrong with it is told.
    pub(super) fn milled(&self, which: usize, milling: &Milling) -> Option<Blank> {
        let size = self.milled_size(milling);
        let wood = self.wood.clone().filter(|_| self.sound)?;
        if !size.width.is_positive() || !size.thickness.is_positive() {
            self.report_nothing_left(size, which);
            return None;
        }
        let figure = self.shows.figure(wood, &self.letter, which, size, milling)?;
        if which == 0 {
            self.check_rip(&figure, size);
        }
        Some(Blank {
            letter: self.letter_of(which),
            size,
            rough: self.rough.then_some(self.size),
            figure,
            seen: self.shows.seen(),
            rip: self.rip.clone(),
            moisture: self.moisture,
        })
    }

    fn check_rip(&self, figure: &Figure, size: Size) {
        let size = [size.width.mm(), size.thickness.mm(), size.length.mm()];
        if let Some(Err(why)) = self.rip.as_ref().map(|rip| rip.of(figure, size)) {
            let right = "name a line that is traced on both ends and reaches that face at both".to_owned();
            self.section.report("rip", format!("it can't be ripped so: {why}"), right);
        }
    }

    fn milled_size(&self, milling: &Milling) -> Size {
        let taken = |off: [Length; 2]| if self.rough { off[0] + off[1] } else { Length::ZERO };
        Size {
            width: self.size.width - taken(milling.side),
            thickness: self.size.thickness - taken(milling.face),
            length: self.size.length,
        }
    }

    fn report_nothing_left(&self, size: Size, which: usize) {
        if which > 0 {
            return;
        }
        let (name, key) = if size.width.is_positive() { ("thickness", "each_face") } else { ("width", "each_side") };
        let what = format!("nothing is left of its {name} once its panel's {key} is taken off both");
        self.section.report(
            name,
            what,
            format!("a rough blank must be larger; or sizes = {}", quoted(&["milled"], "")),
        );
    }
}

/// The line that a blank is to be ripped to.
fn rip(section: &Section<'_>) -> Option<Rip> {
    section.is_there().then(|| Rip {
        line: section.text("line").unwrap_or_default(),
        opposite_side: section.choice("side", &[false, true]),
        opposite_face: section.choice("face", &[false, true]),
    })
}

/// A letter: of letters and digits, so that it can be chalked on an end and told in a list.
fn letter(section: &Section<'_>) -> Option<String> {
    let letter = section.text("letter")?;
    if letter.chars().all(char::is_alphanumeric) {
        return Some(letter);
    }
    let written = section.reading.quote(section.span_of("letter"));
    section.report("letter", format!("{written} is no letter"), "write letters and digits only".to_owned());
    None
}

/// The woods that a plan may name.
struct Woods {
    own: Vec<Wood>,
    complete: bool,
}

impl Woods {
    fn read(top: &Section<'_>) -> Self {
        let sections = top.tables("woods");
        let mut woods = Self { own: Vec::new(), complete: sections.is_some() };
        for section in sections.unwrap_or_default() {
            let (name, heartwood, sapwood) =
                (section.text("name"), section.colour("heartwood"), section.colour("sapwood"));
            let (Some(name), Some(heartwood), Some(sapwood)) = (name, heartwood, sapwood) else {
                woods.complete = false;
                continue;
            };
            if woods.own.iter().any(|wood| wood.name.eq_ignore_ascii_case(&name)) {
                section.report("name", format!("there are two woods {name}"), "keep one of the two".to_owned());
            }
            woods.own.push(match Wood::named(&name) {
                Some(known) => Wood { heartwood, sapwood, ..known },
                None => Wood::of_colours(&name, heartwood, sapwood),
            });
        }
        woods
    }

    fn find(&self, blank: &Section<'_>, name: &str) -> Option<Wood> {
        let own = self.own.iter().find(|wood| wood.name.eq_ignore_ascii_case(name)).cloned();
        let found = own.or_else(|| Wood::named(name));
        if found.is_none() && self.complete {
            self.report_unknown(blank, name);
        }
        found
    }

    fn report_unknown(&self, blank: &Section<'_>, name: &str) {
        let names: Vec<&str> = self
            .own
            .iter()
            .map(|wood| wood.name.as_str())
            .chain(Wood::known().iter().map(|wood| wood.name.as_str()))
            .collect();
        let written = blank.reading.quote(blank.span_of("wood"));
        let right = match likely(name, &names) {
            likely if likely.is_empty() => {
                format!("the woods are {}; add any other in [[woods]]", names[..names.len().min(30)].join(", "))
            }
            likely => format!("write {}; or add it in [[woods]]", quoted(&likely, "or")),
        };
        blank.report("wood", format!("{written} is no wood that is known"), right);
    }
}

/// The names that may be meant: those that share a word, else the nearest.
pub(crate) fn likely<'a>(name: &str, names: &[&'a str]) -> Vec<&'a str> {
    let words: Vec<String> = name.to_lowercase().split_whitespace().take(8).map(str::to_owned).collect();
    let shares = |known: &&str| known.to_lowercase().split(' ').any(|word| words.iter().any(|w| w == word));
    let sharing: Vec<&str> = names.iter().copied().filter(shares).take(6).collect();
    if sharing.is_empty() { nearest(name, names.iter().copied()).into_iter().collect() } else { sharing }
}
