//! What the ends of blanks came to, kept from one reading of a plan to the next: photographs take a second each to be
//! made flat and their rings to be found, traced lines some milliseconds to be joined.
//!
//! Kept by everything that it follows from: what is written of the ends, the blank's size and milling, how many
//! photographs share the memory, and a stamp of each photograph's file. What two readings in a row didn't ask for is
//! let go.

use super::shows::Come;
use std::collections::{BTreeSet, HashMap};
use std::fmt;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What of a photograph's file changes when it does; `None` where that can't be told.
type Stamp = dyn Fn(&Path) -> Option<String> + Send + Sync;

/// What was worked out before.
pub(crate) struct Kept {
    stamp: Box<Stamp>,
    known: Mutex<Known>,
}

#[derive(Default)]
struct Known {
    reading: u64,
    /// The keys of what this reading asked for.
    asked: BTreeSet<String>,
    all: HashMap<String, (u64, Come)>,
}

impl fmt::Debug for Kept {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Kept").field("known", &self.lock().all.len()).finish_non_exhaustive()
    }
}

impl Kept {
    /// Nothing yet.
    pub(crate) fn new(stamp: impl Fn(&Path) -> Option<String> + Send + Sync + 'static) -> Self {
        Self { stamp: Box::new(stamp), known: Mutex::default() }
    }

    fn lock(&self) -> MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A text is about to be read.
    pub(super) fn begin(&self) {
        let mut known = self.lock();
        known.reading += 1;
        known.asked.clear();
        let now = known.reading;
        known.all.retain(|_, (used, _)| *used + 2 >= now);
    }

    pub(super) fn stamp(&self, file: &Path) -> Option<String> {
        (self.stamp)(file)
    }

    pub(super) fn get(&self, key: &str) -> Option<Come> {
        let mut known = self.lock();
        let now = known.reading;
        let (used, come) = known.all.get_mut(key)?;
        *used = now;
        let come = come.clone();
        known.asked.insert(key.to_owned());
        Some(come)
    }

    pub(super) fn keep(&self, key: String, come: Come) {
        let mut known = self.lock();
        let now = known.reading;
        known.asked.insert(key.clone());
        known.all.insert(key, (now, come));
    }

    /// What the last reading's photographs and traced lines follow from, files by their stamps: where that and a text
    /// are the same, so is what it shows.
    pub(crate) fn asked(&self) -> Vec<String> {
        self.lock().asked.iter().cloned().collect()
    }
}
