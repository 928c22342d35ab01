//! The files that `make` writes, made of the text that is open, and kept until those of another text are made.
//!
//! Made one at a time, beside the desk. Writes no file: the browser does, where the maker says.

use super::http::Response;
use super::reading::Reading;
use crate::commands::{Named, files_of};
use quarterturn_export::zipped;
use serde::Serialize;
use std::sync::{Arc, Mutex, PoisonError};

/// What was made of a text.
pub(super) struct Made {
    revision: u64,
    files: Vec<Named>,
    /// Why nothing was; empty where something was.
    refused: String,
}

/// The same, as it is told.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) struct MadeShown {
    revision: u32,
    files: Vec<FileShown>,
    /// Why nothing was made; empty where something was.
    refused: String,
}

/// One file.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) struct FileShown {
    name: String,
    /// Its length, bytes.
    bytes: usize,
}

/// All that was made last.
#[derive(Default)]
pub(super) struct Files {
    made: Mutex<Option<Arc<Made>>>,
}

impl Files {
    /// Makes the files of a text, unless they are there.
    pub(super) fn make(&self, revision: u64, reading: &Reading) -> Arc<Made> {
        let mut made = self.made.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(made) = made.as_ref().filter(|made| made.revision == revision) {
            return Arc::clone(made);
        }
        // Two texts' files are more than need be in memory.
        *made = None;
        let (files, refused) = match files_of(reading.job()) {
            Ok(Ok(files)) => (files, String::new()),
            Ok(Err(why)) => (Vec::new(), why),
            Err(failure) => (Vec::new(), failure.to_string()),
        };
        let new = Arc::new(Made { revision, files, refused });
        *made = Some(Arc::clone(&new));
        new
    }

    /// What was made of the text of this revision, where that was made last.
    pub(super) fn made(&self, revision: u64) -> Option<Arc<Made>> {
        let made = self.made.lock().unwrap_or_else(PoisonError::into_inner);
        made.as_ref().filter(|made| made.revision == revision).map(Arc::clone)
    }
}

impl Made {
    /// As it is told.
    pub(super) fn shown(&self) -> MadeShown {
        let one = |(name, bytes): &Named| FileShown { name: name.clone(), bytes: bytes.len() };
        MadeShown {
            revision: u32::try_from(self.revision).unwrap_or(u32::MAX),
            files: self.files.iter().map(one).collect(),
            refused: self.refused.clone(),
        }
    }

    /// The file of this name.
    pub(super) fn file(&self, name: &str) -> Option<Response> {
        let (name, bytes) = self.files.iter().find(|(known, _)| known == name)?;
        Some(download(name, kind(name), bytes.clone()))
    }

    /// All of them as one zip.
    pub(super) fn zip(&self, name: &str) -> Option<Response> {
        if self.files.is_empty() {
            return None;
        }
        let mut bytes = Vec::new();
        zipped::write(&self.files, &mut bytes).ok()?;
        Some(download(&format!("{name}.zip"), "application/zip", bytes))
    }
}

/// A file to keep; sheets are shown, so that they can be printed.
fn download(name: &str, kind: &'static str, bytes: Vec<u8>) -> Response {
    let how = if kind == "application/pdf" { "inline" } else { "attachment" };
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '-' }).collect();
    Response::bytes(kind, bytes).with("content-disposition", format!("{how}; filename=\"{plain}\""))
}

/// What a file is, by its name.
fn kind(name: &str) -> &'static str {
    match name.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "pdf" => "application/pdf",
        "html" => "text/html; charset=utf-8",
        "json" => "application/json",
        "csv" => "text/csv; charset=utf-8",
        "txt" | "ngc" => "text/plain; charset=utf-8",
        "stl" => "model/stl",
        "3mf" => "model/3mf",
        "glb" => "model/gltf-binary",
        _ => "application/octet-stream",
    }
}
