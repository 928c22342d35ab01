//! Lines traced on a blank: on its ends, along its long faces, on a section part-way.

use super::reader::Section;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::wood::ends::{
    Between, Course, Disturbed, EndLine, EndLines, Ends, HEARTWOOD, SeenEnds, Unjoined, circles,
};

/// A line with the name that it has, if it has one.
#[derive(Debug)]
pub(super) struct Line<const N: usize> {
    name: String,
    points: Vec<[Length; N]>,
}

/// The lines of one end, or of a section part-way.
#[derive(Debug)]
pub(super) struct Lines {
    rings: Vec<Line<2>>,
    boundaries: Vec<Line<2>>,
}

/// What one end of a blank shows, as far as the lines want to know.
pub(super) enum EndSeen<'a> {
    /// Lines, and the pith where it is known.
    Lines(&'a Lines, Option<[Length; 2]>),
    /// Lines found in a photograph, already in the milled blank's own (u, v), and the pith where it is known.
    Found(&'a EndLines, Option<[Length; 2]>),
    /// The pith, and the heartwood's radius where it is known.
    Pith([Length; 2], Option<Length>),
    /// Nothing.
    Nothing,
}

/// What is traced between the ends.
#[derive(Debug)]
pub(super) struct PartWay {
    long: Vec<Line<3>>,
    sections: Vec<(Length, Lines)>,
    disturbed: Vec<([Length; 3], Length)>,
}

impl Lines {
    /// `None` where they are not written, or not well.
    pub(super) fn read(section: &Section<'_>) -> Option<Self> {
        let before = section.reading.count();
        let entries = |name: &str| section.list(name).unwrap_or_default();
        let rings = entries("rings").iter().filter_map(|entry| line(entry, 2)).collect();
        let mut boundaries: Vec<Line<2>> = entries("other").iter().filter_map(|entry| line(entry, 2)).collect();
        let heartwood = section.line("heartwood", 2);
        boundaries.extend(heartwood.map(|points| Line { name: HEARTWOOD.to_owned(), points }));
        let lines = Self { rings, boundaries };
        lines.check_names(section);
        (section.is_there() && section.reading.count() == before).then_some(lines)
    }

    fn check_names(&self, section: &Section<'_>) {
        let mut seen = std::collections::HashSet::new();
        let names = self.rings.iter().chain(&self.boundaries).map(|line| line.name.as_str());
        if let Some(twice) = names.filter(|name| !name.is_empty()).find(|name| !seen.insert(*name)) {
            let what = format!("two lines are named {twice}");
            let right = if twice == HEARTWOOD {
                format!("the name {HEARTWOOD} belongs to the key {HEARTWOOD}")
            } else {
                "give each line its own name, or none".to_owned()
            };
            section.reading.report(section.path, section.span.clone(), what, right);
        }
    }

    fn names(lines: &[Line<2>]) -> impl Iterator<Item = &str> {
        lines.iter().map(|line| line.name.as_str()).filter(|name| !name.is_empty())
    }

    fn end_lines(&self, pith: Option<[Length; 2]>, off: [Length; 2]) -> EndLines {
        let lines = |lines: &[Line<2>]| lines.iter().map(|line| line.on_end(off)).collect();
        let pith = pith.map(|[u, v]| [(u - off[0]).mm(), (v - off[1]).mm()].into());
        EndLines { rings: lines(&self.rings), boundaries: lines(&self.boundaries), pith }
    }
}

impl Line<2> {
    fn on_end(&self, off: [Length; 2]) -> EndLine {
        let points = self.points.iter().map(|[u, v]| [(*u - off[0]).mm(), (*v - off[1]).mm()].into());
        EndLine { name: self.name.clone(), points: points.collect() }
    }

    fn at(&self, w: Length, off: [Length; 2]) -> Course {
        let points = self.points.iter().map(|[u, v]| [(*u - off[0]).mm(), (*v - off[1]).mm(), w.mm()].into());
        Course { name: self.name.clone(), number: None, fresh: true, points: points.collect() }
    }
}

impl PartWay {
    pub(super) fn read(section: &Section<'_>) -> Self {
        let entries = |name: &str| section.list(name).unwrap_or_default();
        let cut = |entry: &Section<'_>| Some((entry.maybe_length("at")?, Lines::read(entry)?));
        let knot = |entry: &Section<'_>| Some((entry.lengths("at")?, entry.maybe_length("radius")?));
        Self {
            long: entries("long").iter().filter_map(|entry| line(entry, 2)).collect(),
            sections: entries("part_way").iter().filter_map(cut).collect(),
            disturbed: entries("disturbed").iter().filter_map(knot).collect(),
        }
    }

    pub(super) const fn is_empty(&self) -> bool {
        self.long.is_empty() && self.sections.is_empty() && self.disturbed.is_empty()
    }

    /// How many lines are followed between the ends.
    pub(super) fn lines(&self) -> usize {
        let across: usize = self.sections.iter().map(|(_, lines)| lines.rings.len() + lines.boundaries.len()).sum();
        self.long.len() + across
    }

    fn courses(&self, off: [Length; 2]) -> Vec<Course> {
        let moved = |[u, v, w]: &[Length; 3]| [(*u - off[0]).mm(), (*v - off[1]).mm(), w.mm()].into();
        let along = |line: &Line<3>| Course {
            name: line.name.clone(),
            number: None,
            fresh: false,
            points: line.points.iter().map(moved).collect(),
        };
        let across = |(w, lines): &(Length, Lines)| -> Vec<Course> {
            lines.rings.iter().chain(&lines.boundaries).map(|line| line.at(*w, off)).collect()
        };
        self.long.iter().map(along).chain(self.sections.iter().flat_map(across)).collect()
    }

    fn disturbed(&self, off: [Length; 2]) -> Vec<Disturbed> {
        let one = |([u, v, w], radius): &([Length; 3], Length)| Disturbed {
            middle: [(*u - off[0]).mm(), (*v - off[1]).mm(), w.mm()].into(),
            radius: radius.mm(),
        };
        self.disturbed.iter().map(one).collect()
    }
}

fn line<const N: usize>(entry: &Section<'_>, least: usize) -> Option<Line<N>> {
    let points = entry.line("points", least)?;
    Some(Line { name: entry.text("name").unwrap_or_default(), points })
}

/// Joins what the ends of a blank of that milled size (mm) show; `off` is what milling took at the
/// marked corner. `None` where an end is described by its pith and the traced one has none.
pub(super) fn joined(
    [near, far]: [&EndSeen<'_>; 2],
    part_way: &PartWay,
    size: [f64; 3],
    off: [Length; 2],
) -> Option<Result<Between, Unjoined>> {
    let of = |end: &EndSeen<'_>| match end {
        EndSeen::Lines(lines, pith) => Some(lines.end_lines(*pith, off)),
        EndSeen::Found(lines, pith) => {
            let pith = pith.map(|[u, v]| [(u - off[0]).mm(), (v - off[1]).mm()].into());
            Some(EndLines { pith, ..(*lines).clone() })
        }
        EndSeen::Pith(..) | EndSeen::Nothing => None,
    };
    let about = |end: &EndSeen<'_>, like: &EndLines| match end {
        EndSeen::Pith([u, v], heartwood) => {
            let pith = [(*u - off[0]).mm(), (*v - off[1]).mm()].into();
            circles(pith, heartwood.map(Length::mm), like).map(Some)
        }
        EndSeen::Lines(..) | EndSeen::Found(..) | EndSeen::Nothing => Some(None),
    };
    let mut ends = Ends { size: [size[0], size[1]].into(), length: size[2], ..Ends::default() };
    (ends.courses, ends.disturbed) = (part_way.courses(off), part_way.disturbed(off));
    let mut give = |near: EndLines, far: Option<EndLines>, seen: SeenEnds, shift: Option<i64>, turned: bool| {
        let other = far.unwrap_or_default();
        (ends.near, ends.far) = if turned { (other, near) } else { (near, other) };
        (ends.seen, ends.shift) = (seen, shift);
    };
    match (of(near), of(far)) {
        (Some(near), Some(far)) => give(near, Some(far), SeenEnds::Both, None, false),
        (Some(lines), None) => {
            let other = about(far, &lines)?;
            let seen = if other.is_some() { SeenEnds::Both } else { SeenEnds::Near };
            give(lines, other, seen, Some(0), false);
        }
        (None, Some(lines)) => {
            let other = about(near, &lines)?;
            let seen = if other.is_some() { SeenEnds::Both } else { SeenEnds::Far };
            give(lines, other, seen, Some(0), true);
        }
        (None, None) => return None,
    }
    Some(ends.join())
}

/// Reports names that are a ring on one end and no ring on the other.
pub(super) fn check_both(near: &Lines, far: &Lines, section: &Section<'_>) {
    for (one, other) in [(near, far), (far, near)] {
        let clash = Lines::names(&one.rings).find(|name| Lines::names(&other.boundaries).any(|n| n == *name));
        if let Some(name) = clash {
            let what = format!("{name} is a ring on one end and no ring on the other");
            section.reading.report(
                section.path,
                section.span.clone(),
                what,
                "the same name is the same line".to_owned(),
            );
        }
    }
}

/// Tells why ends can't be joined, where it is written.
pub(super) fn report_unjoined(shows: &Section<'_>, why: &Unjoined) {
    let traced = |end: &str| shows.table(end).table("traced");
    let either = |first: &str, second: &str| {
        let first = traced(first);
        if first.is_there() { first } else { traced(second) }
    };
    let settle = "give one ring the same name on both ends, or follow one ring from end to end in long";
    let (at, what, right) = match why {
        Unjoined::TooFewLines { end } => (
            either(end, if *end == "near" { "far" } else { "near" }),
            "two ring lines that lie side by side are needed".to_owned(),
            "trace two neighbouring rings or more, from the inside out, each on a stretch that the other has beside it"
                .to_owned(),
        ),
        Unjoined::TooFewRings { shared } => (
            either("far", "near"),
            format!(
                "only {shared} ring widths can be compared with the other end, too few to tell which ring is which"
            ),
            settle.to_owned(),
        ),
        Unjoined::TwoMatches { best, next, margin } => (
            either("far", "near"),
            format!(
                "the ring widths fit nearly as well in two places (the near end's first ring as number {best} or \
                 {next} here, counted from 0; {margin:.2} times worse)"
            ),
            settle.to_owned(),
        ),
        Unjoined::NamesDisagree { one, other } => (
            either("far", "near"),
            format!(
                "the names {one} and {other} can't both be right: as many rings must lie between them on both ends"
            ),
            "count the rings between the two, and give a name to the same ring on both ends".to_owned(),
        ),
        Unjoined::NoSuchLine { name } => {
            let long = || shows.list("long").unwrap_or_default().into_iter();
            let wrong = long().find(|entry| entry.text("name").is_some_and(|n| n == *name));
            let at = wrong.unwrap_or_else(|| shows.clone());
            (at, format!("no line on an end is named {name}"), "name it there too, or give it no name here".to_owned())
        }
        Unjoined::TooMany { most } => {
            (shows.clone(), format!("more than {most} lines"), format!("a blank has {most} at most"))
        }
        Unjoined::NotANumber => {
            (shows.clone(), "a traced point lies too far away".to_owned(), "trace within 10 m".to_owned())
        }
    };
    at.reading.report(at.path, at.span.clone(), what, right);
}
