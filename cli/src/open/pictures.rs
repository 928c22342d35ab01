//! The strips' faces and the blanks' ends as PNG, each drawn once and named by all that it shows.
//!
//! A name says the wood, the section and nothing of how it lies: a strip that is turned or moved shows a picture that
//! is known already. Names are given out with what is shown; a picture is drawn when it is asked for.

use super::reading::Reading;
use crate::output::sha256;
use quarterturn_export::png;
use quarterturn_geometry::board::StripFace;
use std::collections::{HashMap, VecDeque};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

/// The pictures that are known by name, at most: those of some dozens of edits.
const MOST_KNOWN: usize = 8192;
/// The bytes of pictures that are kept, at most.
const MOST_BYTES: usize = 96 << 20;

/// The most pictures that are asked for at once.
const MOST_AT_ONCE: usize = 64;

/// Pixels a millimetre that a picture may be asked in.
pub(super) const SCALES: [u32; 8] = [1, 2, 3, 4, 6, 8, 12, 16];

/// A picture's bytes; none where it can't be drawn.
type Drawn = Option<Arc<[u8]>>;

/// All pictures.
#[derive(Default)]
pub(super) struct Pictures {
    known: Mutex<Known>,
    drawn: Mutex<Kept>,
}

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) enum Drawing {
    /// A section of a panel.
    Face(StripFace),
    /// An end of a blank, as it lies in its panel, as seen standing there.
    End {
        /// The panel, from 0.
        panel: usize,
        /// The blank's place in it, from 0.
        blank: usize,
        /// Whether it is the one at the panel's far end.
        far: bool,
    },
}

/// What is shown under a name.
#[derive(Clone)]
struct Section {
    reading: Arc<Reading>,
    drawing: Drawing,
}

#[derive(Default)]
struct Known {
    sections: HashMap<String, Section>,
    order: VecDeque<String>,
}

#[derive(Default)]
struct Kept {
    all: HashMap<(String, u32), Arc<OnceLock<Drawn>>>,
    order: VecDeque<((String, u32), usize)>,
    bytes: usize,
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Pictures {
    /// The name of a picture.
    pub(super) fn name(&self, reading: &Arc<Reading>, drawing: Drawing) -> String {
        // How a face lies in the board is no part of its picture.
        let of = match drawing {
            Drawing::Face(StripFace { panel, size, station, .. }) => {
                format!("face {panel} {:x?} {:x}", size.map(f64::to_bits), station.to_bits())
            }
            Drawing::End { panel, blank, far } => format!("end {panel} {blank} {far}"),
        };
        let of = format!("{} {of}", reading.wood());
        let name = sha256(of.as_bytes())[..32].to_owned();
        let mut known = lock(&self.known);
        if !known.sections.contains_key(&name) {
            known.sections.insert(name.clone(), Section { reading: Arc::clone(reading), drawing });
            known.order.push_back(name.clone());
            if known.order.len() > MOST_KNOWN {
                let Known { sections, order } = &mut *known;
                order.pop_front().map(|oldest| sections.remove(&oldest));
            }
        }
        name
    }

    /// The picture of this name, in so many pixels a millimetre.
    pub(super) fn png(&self, name: &str, scale: u32) -> Drawn {
        if !SCALES.contains(&scale) {
            return None;
        }
        let section = lock(&self.known).sections.get(name)?.clone();
        let key = (name.to_owned(), scale);
        let place = Arc::clone(lock(&self.drawn).all.entry(key.clone()).or_default());
        let mut first = false;
        // Asked for twice at once, it is drawn once.
        let drawn = place.get_or_init(|| {
            first = true;
            draw(&section, scale)
        });
        if first {
            self.keep(key, drawn.as_ref().map_or(0, |bytes| bytes.len()));
        }
        drawn.clone()
    }

    /// Several pictures at once, drawn on as many threads as there are cores: of each its length, 32 bits, the least
    /// byte first, then its PNG; a length of 0 where it can't be drawn. `None` where there are too many.
    pub(super) fn several(&self, names: &[&str], scale: u32) -> Option<Vec<u8>> {
        if names.len() > MOST_AT_ONCE {
            return None;
        }
        let next = AtomicUsize::new(0);
        let drawn: Vec<OnceLock<Drawn>> = names.iter().map(|_| OnceLock::new()).collect();
        let work = || {
            while let Some((name, place)) = {
                let i = next.fetch_add(1, Ordering::Relaxed);
                names.get(i).zip(drawn.get(i))
            } {
                place.get_or_init(|| self.png(name, scale));
            }
        };
        std::thread::scope(|scope| {
            let cores = std::thread::available_parallelism().map_or(1, usize::from).min(names.len());
            (1..cores).for_each(|_| drop(scope.spawn(work)));
            work();
        });
        let mut all = Vec::new();
        for place in &drawn {
            let bytes = place.get().and_then(Option::as_deref).unwrap_or_default();
            all.extend(u32::try_from(bytes.len()).ok()?.to_le_bytes());
            all.extend(bytes);
        }
        Some(all)
    }

    /// Counts a picture in; the oldest go where there are too many.
    fn keep(&self, key: (String, u32), bytes: usize) {
        let mut kept = lock(&self.drawn);
        kept.bytes += bytes;
        kept.order.push_back((key, bytes));
        while kept.bytes > MOST_BYTES {
            let Some((oldest, bytes)) = kept.order.pop_front() else { break };
            kept.all.remove(&oldest);
            kept.bytes -= bytes;
        }
    }
}

fn draw(section: &Section, scale: u32) -> Drawn {
    let panel = |i: usize| section.reading.outcome().panels.get(i).map(|from| &from.panel);
    let pixel = 1.0 / f64::from(scale);
    let picture = match &section.drawing {
        Drawing::Face(face) => face.picture(panel(face.panel)?, pixel)?,
        Drawing::End { panel: i, blank, far } => panel(*i)?.blanks.get(*blank)?.end_picture(*far, pixel)?,
    };
    let mut bytes = Vec::new();
    png::write(&picture, pixel, &mut bytes).ok()?;
    Some(bytes.into())
}
