//! `[blanks.shows]`: what the ends of a blank show, and the guess where nothing is said.

use super::blanks::Milling;
use super::photographs::{Flat, Photo, Wrong};
use super::reader::Section;
use super::traced::{self, EndSeen, Lines, PartWay};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::photo::End as PhotoEnd;
use quarterturn_geometry::stock::{Seen, Size};
use quarterturn_geometry::wood::ends::{Between, Unjoined};
use quarterturn_geometry::wood::found::{self, Found};
use quarterturn_geometry::wood::{
    EndRings, Figure, NotFollowed, PhotographedEnd, Photographs, Pictured, Rings, RingsSeen, Wood,
};
use std::cell::RefCell;
use std::fmt::Write as _;
use std::sync::Arc;

/// A heartwood line so far out that no blank reaches it, mm.
const ALL_HEARTWOOD: f64 = 20_000.0;

/// One end as described.
#[derive(Debug)]
struct End {
    pith: Option<[Length; 2]>,
    heartwood: Option<Length>,
    traced: Option<Lines>,
    /// Whether a photograph is named, rightly or not.
    photographed: bool,
}

/// What the ends come to: how the rings run, and what colours they have.
#[derive(Clone)]
pub(super) struct Come {
    between: Option<Between>,
    photographs: Option<Arc<Photographs>>,
}

/// What a blank shows.
pub(super) struct Shows<'a> {
    section: Section<'a>,
    near: Option<End>,
    far: Option<End>,
    /// The photographs of the near and the far end.
    photos: [Option<Photo<'a>>; 2],
    /// Whether u and v are measured before milling.
    rough: bool,
    ring_width: Length,
    seed: Option<u64>,
    /// Whether a traced blank is sapwood where it has no line.
    sapwood: bool,
    part_way: PartWay,
    /// What its ends came to, by what milling takes at the marked corner: several blanks alike are
    /// joined once.
    come: RefCell<Option<([Length; 2], Option<Come>)>>,
}

impl<'a> Shows<'a> {
    pub(super) fn read(section: Section<'a>, rough: bool) -> Self {
        let [(near, near_photo), (far, far_photo)] = ["near", "far"].map(|name| end(&section.table(name)));
        let shows = Self {
            near,
            far,
            photos: [near_photo, far_photo],
            rough: section.maybe_choice("given", &[false, true]).unwrap_or(rough),
            ring_width: section.length("ring_width"),
            seed: section.small("seed"),
            sapwood: section.choice("without_line", &[false, true]),
            part_way: PartWay::read(&section),
            come: RefCell::new(None),
            section,
        };
        shows.check();
        shows
    }

    /// Reports what doesn't go together.
    fn check(&self) {
        let photo = |i: usize| [&self.near, &self.far][i].as_ref().is_some_and(|end| end.photographed);
        let lines = |i: usize| lines_of([&self.near, &self.far][i]).is_some() || photo(i);
        let pith = |i: usize| [&self.near, &self.far][i].as_ref().is_some_and(|end| end.pith.is_some());
        for (i, name) in ["near", "far"].into_iter().enumerate() {
            if lines(i) && !pith(i) && !lines(1 - i) && pith(1 - i) {
                let what = "the other end is described by its pith, and this end has none".to_owned();
                let right = "add pith = [u, v] beside traced or photo; it may lie outside the blank".to_owned();
                self.section.table(name).report("pith", what, right);
            }
        }
        if let (Some(near), Some(far)) = (lines_of(&self.near), lines_of(&self.far)) {
            traced::check_both(near, far, &self.section);
        }
        if !self.part_way.is_empty() && !lines(0) && !lines(1) && self.section.reading.count() == 0 {
            let what = "lines part-way can only be followed where an end is traced or photographed".to_owned();
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
        let Come { between, photographs } = self.come(size, milling, off)?;
        let figure = match between {
            Some(between) => Figure::traced(wood, between, self.sapwood, seed),
            None => Figure::new(wood, self.rings(own, seed, size, off), size.length.mm()),
        };
        Some(match photographs {
            Some(photographs) => figure.photographed(photographs),
            None => figure,
        })
    }

    /// The ends joined; what is wrong with them is told once.
    fn come(&self, size: Size, milling: &Milling, off: [Length; 2]) -> Option<Come> {
        if let Some((_, come)) = self.come.borrow().as_ref().filter(|(known, _)| *known == off) {
            return come.clone();
        }
        let kept = self.section.reading.kept().zip(self.follows_from(size, milling, off));
        let known = kept.as_ref().and_then(|(kept, key)| kept.get(key));
        let come = known.or_else(|| {
            let come = self.flat_ends(size, milling, off).and_then(|flat| self.joined(&flat, size, off))?;
            if let Some((kept, key)) = kept {
                kept.keep(key, come.clone());
            }
            Some(come)
        });
        *self.come.borrow_mut() = Some((off, come.clone()));
        come
    }

    /// Everything that the ends joined follow from, photographs by the stamps of their files; `None` where there is
    /// nothing worth keeping, or a photograph has no stamp.
    fn follows_from(&self, size: Size, milling: &Milling, off: [Length; 2]) -> Option<String> {
        let photographed = self.photos.iter().any(Option::is_some);
        if !photographed && lines_of(&self.near).is_none() && lines_of(&self.far).is_none() {
            return None;
        }
        let kept = self.section.reading.kept()?;
        let shared = self.section.reading.photographs().map(|shared| shared.count);
        let mut key = format!("{:?}", (&self.near, &self.far, &self.part_way, size, milling, off));
        for photo in self.photos.iter().flatten() {
            let stamp = kept.stamp(photo.asked.file())?;
            let _ = write!(key, "{:?}", (&photo.asked, stamp, shared));
        }
        Some(key)
    }

    /// The photographed ends made flat; `None` where what is wrong with them is told.
    fn flat_ends(&self, size: Size, milling: &Milling, off: [Length; 2]) -> Option<[Option<Flat>; 2]> {
        let taken = if self.rough { [milling.side, milling.face] } else { [[Length::ZERO; 2]; 2] };
        let milled = [size.width, size.thickness];
        let whole = [0, 1].map(|axis| (milled[axis] + taken[axis][0] + taken[axis][1]).mm());
        let from = [0, 1].map(|axis| off[axis].mm() / whole[axis]);
        let to = [0, 1].map(|axis| (off[axis] + milled[axis]).mm() / whole[axis]);
        let traced = [&self.near, &self.far].map(|end| lines_of(end).is_some());
        let asked = [0, 1].map(|i| self.photos[i].as_ref().map(|photo| &photo.asked));
        let Some(shared) = self.section.reading.photographs() else { return Some([None, None]) };
        let flat = move |i: usize, end: PhotoEnd| {
            asked[i].map(|asked| asked.flat(&shared, end, whole, [from, to], !traced[i])).transpose()
        };
        let crashed = |_| Err(Wrong::crashed());
        let flats = std::thread::scope(|scope| {
            let near = scope.spawn(move || flat(0, PhotoEnd::Near));
            let far = flat(1, PhotoEnd::Far);
            [near.join().unwrap_or_else(crashed), far]
        });
        let mut good = true;
        let flats = [0, 1].into_iter().zip(flats).map(|(i, flat)| {
            flat.unwrap_or_else(|wrong| {
                good = false;
                if let Some(photo) = &self.photos[i] {
                    photo.report(wrong);
                }
                None
            })
        });
        let flats: Vec<Option<Flat>> = flats.collect();
        let flats: [Option<Flat>; 2] = flats.try_into().ok()?;
        good.then_some(flats)
    }

    /// What the ends come to, their photographs made flat; `None` where what is wrong is told.
    fn joined(&self, flats: &[Option<Flat>; 2], size: Size, off: [Length; 2]) -> Option<Come> {
        let found = |i: usize| flats[i].as_ref().and_then(|flat| flat.rings.as_ref().ok());
        let seen = |i: usize| match [&self.near, &self.far][i] {
            Some(End { traced: Some(lines), pith, .. }) => EndSeen::Lines(lines, *pith),
            Some(End { pith, heartwood, .. }) => match (found(i), pith) {
                (Some(found), pith) => EndSeen::Found(&found.lines, *pith),
                (None, Some(pith)) => EndSeen::Pith(*pith, *heartwood),
                (None, None) => EndSeen::Nothing,
            },
            None => EndSeen::Nothing,
        };
        let (ends, mm) = ([seen(0), seen(1)], [size.width.mm(), size.thickness.mm(), size.length.mm()]);
        let join = |ends: [&EndSeen<'_>; 2]| traced::joined(ends, &self.part_way, mm, off);
        let agreed = match (found(0), found(1), &ends) {
            (Some(near), Some(far), [EndSeen::Found(..), EndSeen::Found(..)]) => {
                found::agreeing(&near.lines, &far.lines)
            }
            _ => None,
        };
        let again = |why: Unjoined| {
            let Some([near, far]) = &agreed else { return Err(why) };
            let pith = |i: usize| [&self.near, &self.far][i].as_ref().and_then(|end| end.pith);
            let ends = [EndSeen::Found(near, pith(0)), EndSeen::Found(far, pith(1))];
            join([&ends[0], &ends[1]]).unwrap_or(Err(why))
        };
        let (between, unmatched) = match join([&ends[0], &ends[1]]).map(|joined| joined.or_else(again)) {
            None => (None, None),
            Some(Ok(between)) => (Some(between), None),
            Some(Err(why)) if (found(0).is_some() || found(1).is_some()) && !typed(&why) => {
                // The clearer end alone says which way the rings run there.
                let clear = |i: usize| found(i).map_or(1.0, |found| found.confidence);
                let alone = match clear(0) >= clear(1) {
                    true => [&ends[0], &EndSeen::Nothing],
                    false => [&EndSeen::Nothing, &ends[1]],
                };
                (join(alone).and_then(Result::ok), Some(why))
            }
            Some(Err(why)) => {
                traced::report_unjoined(&self.section, &why);
                return None;
            }
        };
        let not_followed = unmatched.map(NotFollowed::Unmatched).or_else(|| {
            let without = |i: usize| match flats[i].as_ref()?.rings.as_ref() {
                Err(why) if matches!(ends[i], EndSeen::Nothing) || between.is_none() => Some(why.clone()),
                _ => None,
            };
            let of = |i: usize, name| Some(NotFollowed::NoRings(name, without(i)?));
            of(0, "near").or_else(|| of(1, "far"))
        });
        let photographs = self.photographs(flats, between.as_ref(), not_followed, mm)?;
        Some(Come { between, photographs })
    }

    /// The colours of the ends, where they were photographed; `None` where that can't be.
    #[allow(clippy::option_option)]
    fn photographs(
        &self,
        flats: &[Option<Flat>; 2],
        between: Option<&Between>,
        not_followed: Option<NotFollowed>,
        size: [f64; 3],
    ) -> Option<Option<Arc<Photographs>>> {
        if flats.iter().all(Option::is_none) {
            return Some(None);
        }
        let picture = |i: usize| flats[i].as_ref().map(|flat| &flat.picture);
        let pictured = match between.filter(|_| not_followed.is_none()) {
            Some(between) => Pictured::new(between, picture(0), picture(1)),
            None => Pictured::straight([size[0], size[1]].into(), size[2], picture(0), picture(1)),
        };
        let end = |i: usize| {
            let flat = flats[i].as_ref()?;
            let rings = match (&flat.rings, lines_of([&self.near, &self.far][i])) {
                (_, Some(_)) => RingsSeen::Traced,
                (Ok(Found { lines, confidence, sense }), None) => {
                    RingsSeen::Found { rings: lines.rings.len(), confidence: *confidence, sense: *sense }
                }
                (Err(why), None) => RingsSeen::NotFound(why.clone()),
            };
            let (corners_found, light_assumed) = (flat.corners_found, flat.light_assumed);
            Some(PhotographedEnd { corners_found, light_assumed, rings })
        };
        match pictured {
            Ok(pictured) => Some(Some(Arc::new(Photographs::new(pictured, [end(0), end(1)], not_followed)))),
            Err(why) => {
                let right = "take another photograph".to_owned();
                self.section.reading.report(self.section.path, self.section.span.clone(), why.to_string(), right);
                None
            }
        }
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

/// Whether ends can't be joined by what was typed, whatever a photograph shows.
const fn typed(why: &Unjoined) -> bool {
    matches!(why, Unjoined::NoSuchLine { .. } | Unjoined::TooMany { .. } | Unjoined::NotANumber)
}

fn lines_of(end: &Option<End>) -> Option<&Lines> {
    end.as_ref()?.traced.as_ref()
}

/// What is said of an end, and its photograph.
fn end<'a>(section: &Section<'a>) -> (Option<End>, Option<Photo<'a>>) {
    if !section.is_there() || section.is_broken() {
        return (None, None);
    }
    let before = section.reading.count();
    let pith = section.lengths("pith");
    let heartwood = section.maybe_length("heartwood");
    let traced = Lines::read(&section.table("traced"));
    let photo = Photo::read(&section.table("photo"));
    if !section.has("traced") && !section.has("photo") && !section.has("pith") && section.reading.count() == before {
        let right = "add pith = [u, v], lines in traced, or a photo".to_owned();
        section.report("pith", "nothing is said of this end".to_owned(), right);
    }
    if section.has("traced") && section.has("heartwood") && section.reading.count() == before {
        let what = "a heartwood radius and traced lines don't go together".to_owned();
        section.report("heartwood", what, "give the heartwood line in traced".to_owned());
    }
    let photographed = section.has("photo");
    (Some(End { pith, heartwood, traced, photographed }), photo)
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
