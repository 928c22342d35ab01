//! `[blanks.shows]`: what the ends of a blank show, and the guess where nothing is said.

use super::blanks::Milling;
use super::reader::Section;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::stock::{Seen, Size};
use quarterturn_geometry::wood::{EndRings, Rings};

/// A heartwood line so far out that no blank reaches it, mm.
const ALL_HEARTWOOD: f64 = 20_000.0;

/// One end as described.
#[derive(Clone, Copy, Debug)]
struct End {
    pith: [Length; 2],
    heartwood: Option<Length>,
}

/// What a blank shows.
#[derive(Debug)]
pub(super) struct Shows {
    near: Option<End>,
    far: Option<End>,
    /// Whether u and v are measured before milling.
    rough: bool,
    ring_width: Length,
    seed: Option<u64>,
}

impl Shows {
    pub(super) fn read(section: &Section<'_>, rough: bool) -> Self {
        Self {
            near: end(&section.table("near")),
            far: end(&section.table("far")),
            rough: section.maybe_choice("given", &[false, true]).unwrap_or(rough),
            ring_width: section.length("ring_width"),
            seed: section.small("seed"),
        }
    }

    pub(super) const fn seen(&self) -> Seen {
        match (&self.near, &self.far) {
            (Some(_), Some(_)) => Seen::BothEnds,
            (None, None) => Seen::Nothing,
            _ => Seen::OneEnd,
        }
    }

    /// The rings of the blank of that letter, of several alike the one counted `which` from 0.
    ///
    /// Those alike show the same and differ in what is left to chance.
    pub(super) fn rings(&self, letter: &str, which: usize, size: Size, milling: &Milling) -> Rings {
        let own = seed_of(letter);
        let seed = self.seed.unwrap_or(own).wrapping_add(which as u64);
        let ring_width = self.ring_width.mm();
        let one_end = self.near.or(self.far);
        let Some(either) = one_end else {
            let guess = EndRings { pith: guess(own, size).into(), heartwood_radius: ALL_HEARTWOOD };
            return Rings { near: guess, far: guess, ring_width, seed };
        };
        let heartwood = self.near.and_then(|end| end.heartwood).or(self.far.and_then(|end| end.heartwood));
        let off = if self.rough { [milling.side[0], milling.face[0]] } else { [Length::ZERO; 2] };
        let rings = |end: End| EndRings {
            pith: [(end.pith[0] - off[0]).mm(), (end.pith[1] - off[1]).mm()].into(),
            heartwood_radius: end.heartwood.or(heartwood).map_or(ALL_HEARTWOOD, Length::mm),
        };
        Rings { near: rings(self.near.unwrap_or(either)), far: rings(self.far.unwrap_or(either)), ring_width, seed }
    }
}

fn end(section: &Section<'_>) -> Option<End> {
    if !section.is_there() {
        return None;
    }
    let pith = section.lengths("pith");
    let heartwood = section.maybe_length("heartwood");
    Some(End { pith: pith?, heartwood })
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
