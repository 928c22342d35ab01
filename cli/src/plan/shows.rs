//! `[blanks.shows]`: what the ends of a blank show, and the guess where nothing is said.

use super::blanks::Milling;
use super::reader::Section;
use super::traced::{self, EndSeen, Lines, PartWay};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::stock::{Seen, Size};
use quarterturn_geometry::wood::ends::Between;
use quarterturn_geometry::wood::{EndRings, Figure, Rings, Wood};
use std::cell::RefCell;

/// A heartwood line so far out that no blank reaches it, mm.
const ALL_HEARTWOOD: f64 = 20_000.0;

/// One end as described.
#[derive(Debug)]
struct End {
    pith: Option<[Length; 2]>,
    heartwood: Option<Length>,
    traced: Option<Lines>,
}

/// What a blank shows.
pub(super) struct Shows<'a> {
    section: Section<'a>,
    near: Option<End>,
    far: Option<End>,
    /// Whether u and v are measured before milling.
    rough: bool,
    ring_width: Length,
    seed: Option<u64>,
    /// Whether a traced blank is sapwood where it has no line.
    sapwood: bool,
    part_way: PartWay,
    /// What its lines were joined to, by what milling takes at the marked corner: several blanks
    /// alike are joined once.
    joined: RefCell<Option<([Length; 2], Option<Between>)>>,
}

impl<'a> Shows<'a> {
    pub(super) fn read(section: Section<'a>, rough: bool) -> Self {
        let shows = Self {
            near: end(&section.table("near")),
            far: end(&section.table("far")),
            rough: section.maybe_choice("given", &[false, true]).unwrap_or(rough),
            ring_width: section.length("ring_width"),
            seed: section.small("seed"),
            sapwood: section.choice("without_line", &[false, true]),
            part_way: PartWay::read(&section),
            joined: RefCell::new(None),
            section,
        };
        shows.check();
        shows
    }

    /// Reports what doesn't go together.
    fn check(&self) {
        let traced = |end: &Option<End>| end.as_ref().is_some_and(|end| end.traced.is_some());
        let ends = [("near", &self.near, &self.far), ("far", &self.far, &self.near)];
        for (name, end, other) in ends {
            let no_pith = end.as_ref().is_some_and(|end| end.traced.is_some() && end.pith.is_none());
            let by_pith = other.as_ref().is_some_and(|end| end.traced.is_none() && end.pith.is_some());
            if no_pith && by_pith {
                let what = "the other end is described by its pith, and this traced end has none".to_owned();
                let right = "add pith = [u, v] beside traced; it may lie outside the blank".to_owned();
                self.section.table(name).report("pith", what, right);
            }
        }
        if let (Some(near), Some(far)) = (lines_of(&self.near), lines_of(&self.far)) {
            traced::check_both(near, far, &self.section);
        }
        if !self.part_way.is_empty() && !traced(&self.near) && !traced(&self.far) && self.section.reading.count() == 0 {
            let what = "lines part-way can only be followed where an end is traced".to_owned();
            let name = ["part_way", "long", "disturbed"].into_iter().find(|name| self.section.has(name));
            self.section.report(name.unwrap_or("long"), what, "trace the rings of one end at least".to_owned());
        }
    }

    /// How many lines are followed between the ends.
    pub(super) fn lines_part_way(&self) -> usize {
        self.part_way.lines()
    }

    pub(super) const fn seen(&self) -> Seen {
        match (&self.near, &self.far) {
            (Some(_), Some(_)) => Seen::BothEnds,
            (None, None) => Seen::Nothing,
            _ => Seen::OneEnd,
        }
    }

    /// The figure of the blank of that letter, of several alike the one counted `which` from 0;
    /// `None` where what is wrong is told.
    ///
    /// Those alike show the same and differ in what is left to chance.
    pub(super) fn figure(
        &self,
        wood: Wood,
        letter: &str,
        which: usize,
        size: Size,
        milling: &Milling,
    ) -> Option<Figure> {
        let off = if self.rough { [milling.side[0], milling.face[0]] } else { [Length::ZERO; 2] };
        let own = seed_of(letter);
        let seed = self.seed.unwrap_or(own).wrapping_add(which as u64);
        if lines_of(&self.near).is_none() && lines_of(&self.far).is_none() {
            let rings = self.rings(own, seed, size, off);
            return Some(Figure::new(wood, rings, size.length.mm()));
        }
        let between = self.between(size, off)?;
        Some(Figure::traced(wood, between, self.sapwood, seed))
    }

    /// The lines joined; what is wrong with them is told once.
    fn between(&self, size: Size, off: [Length; 2]) -> Option<Between> {
        if let Some((_, between)) = self.joined.borrow().as_ref().filter(|(known, _)| *known == off) {
            return between.clone();
        }
        let ends = [&self.near, &self.far].map(|end| match end {
            Some(End { traced: Some(lines), pith, .. }) => EndSeen::Lines(lines, *pith),
            Some(End { pith: Some(pith), heartwood, .. }) => EndSeen::Pith(*pith, *heartwood),
            _ => EndSeen::Nothing,
        });
        let size = [size.width.mm(), size.thickness.mm(), size.length.mm()];
        let between = match traced::joined([&ends[0], &ends[1]], &self.part_way, size, off) {
            Some(Err(why)) => {
                traced::report_unjoined(&self.section, &why);
                None
            }
            Some(Ok(between)) => Some(between),
            None => None,
        };
        *self.joined.borrow_mut() = Some((off, between.clone()));
        between
    }

    fn rings(&self, own: u64, seed: u64, size: Size, off: [Length; 2]) -> Rings {
        let ring_width = self.ring_width.mm();
        let near = self.near.as_ref().and_then(|end| Some((end.pith?, end.heartwood)));
        let far = self.far.as_ref().and_then(|end| Some((end.pith?, end.heartwood)));
        let Some(either) = near.or(far) else {
            let guess = EndRings { pith: guess(own, size).into(), heartwood_radius: ALL_HEARTWOOD };
            return Rings { near: guess, far: guess, ring_width, seed };
        };
        let heartwood = near.and_then(|(_, radius)| radius).or(far.and_then(|(_, radius)| radius));
        let rings = |(pith, radius): ([Length; 2], Option<Length>)| EndRings {
            pith: [(pith[0] - off[0]).mm(), (pith[1] - off[1]).mm()].into(),
            heartwood_radius: radius.or(heartwood).map_or(ALL_HEARTWOOD, Length::mm),
        };
        Rings { near: rings(near.unwrap_or(either)), far: rings(far.unwrap_or(either)), ring_width, seed }
    }
}

fn lines_of(end: &Option<End>) -> Option<&Lines> {
    end.as_ref()?.traced.as_ref()
}

fn end(section: &Section<'_>) -> Option<End> {
    if !section.is_there() || section.is_broken() {
        return None;
    }
    let before = section.reading.count();
    let pith = section.lengths("pith");
    let heartwood = section.maybe_length("heartwood");
    let traced = Lines::read(&section.table("traced"));
    if !section.has("traced") && !section.has("pith") && section.reading.count() == before {
        let right = "add pith = [u, v], or lines in traced".to_owned();
        section.report("pith", "nothing is said of this end".to_owned(), right);
    }
    if section.has("traced") && section.has("heartwood") && section.reading.count() == before {
        let what = "a heartwood radius and traced lines don't go together".to_owned();
        section.report("heartwood", what, "give the heartwood line in traced".to_owned());
    }
    Some(End { pith, heartwood, traced })
}

/// Where the pith may be in a blank that nobody described: below its lower face, as in a
/// flat-sawn plank; half a thickness to two and a half away, within the middle half of the width.
fn guess(seed: u64, size: Size) -> [f64; 2] {
    let part = |bits: u64| (bits & 0xffff) as f64 / 65_535.0;
    let u = size.width.mm() * (0.25 + 0.5 * part(seed));
    let v = -size.thickness.mm() * (0.5 + 2.0 * part(seed >> 16));
    [u, v]
}

/// A number that follows from a letter: FNV-1a, 64 bits, then mixed so that near letters differ in
/// every bit (the finalizer of SplitMix64).
fn seed_of(letter: &str) -> u64 {
    let hash = letter.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x100_0000_01b3));
    let hash = (hash ^ (hash >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let hash = (hash ^ (hash >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    hash ^ (hash >> 31)
}
