//! What `make` wrote into a folder, so that it can tell its own files from the maker's.

use super::{OutputError, write_one};
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// What made the files: each knows its own alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Made {
    /// `make`: the board.
    Board,
    /// `try`: the sheet of lay-ups.
    LayUps,
    /// `photo`: an end made flat.
    Photo,
}

impl Made {
    const fn name(self) -> &'static str {
        match self {
            Self::Board => ".quarterturn.json",
            Self::LayUps => ".quarterturn-lay-ups.json",
            Self::Photo => ".quarterturn-photo.json",
        }
    }
}

/// The plan and the digests of the files that it made; two where a write may have been cut off.
#[derive(Debug, Default, Deserialize, Serialize)]
pub(super) struct Manifest {
    plan: String,
    files: BTreeMap<String, Vec<String>>,
}

impl Manifest {
    /// What is known of a folder; `None` where nothing is, or it can't be read.
    pub(super) fn read(folder: &Path, made: Made) -> Option<Self> {
        serde_json::from_slice(&fs::read(folder.join(made.name())).ok()?).ok()
    }

    pub(super) fn of(plan: &Path, files: &[(String, Vec<u8>)]) -> Self {
        let place = fs::canonicalize(plan).unwrap_or_else(|_| plan.to_owned());
        let files = files.iter().map(|(name, bytes)| (name.clone(), vec![digest(bytes)])).collect();
        Self { plan: digest(place.as_os_str().as_encoded_bytes()), files }
    }

    pub(super) fn same_plan(&self, other: &Self) -> bool {
        self.plan == other.plan
    }

    /// Whether this file is as it was written.
    pub(super) fn wrote(&self, name: &str, path: &Path) -> bool {
        let is_file = path.symlink_metadata().is_ok_and(|m| m.is_file());
        is_file
            && self
                .files
                .get(name)
                .is_some_and(|known| fs::read(path).is_ok_and(|bytes| known.contains(&digest(&bytes))))
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// Both, for while files are being renamed.
    pub(super) fn and(&self, other: Option<&Self>) -> Self {
        let mut both = Self { plan: self.plan.clone(), files: self.files.clone() };
        for (name, digests) in other.iter().flat_map(|o| &o.files) {
            both.files.entry(name.clone()).or_default().extend(digests.iter().cloned());
        }
        both
    }

    pub(super) fn write(&self, folder: &Path, made: Made) -> Result<(), OutputError> {
        let text = serde_json::to_vec_pretty(self).unwrap_or_default();
        write_one(&folder.join(made.name()), &text)
    }
}

/// SHA-256, in hexadecimal.
pub(crate) fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|b| format!("{b:02x}")).collect()
}
