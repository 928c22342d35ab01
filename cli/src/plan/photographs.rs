//! Photographs of a blank's ends: what the plan says of them, and the flat pictures that come of it.
//!
//! Reads no files itself: what fetches a photograph by its name is given to the reader of the plan.

use super::reader::Section;
use crate::photo::PhotoError;
use quarterturn_geometry::photo::{Corners, End, Photograph, balanced, find, finest, rectify, without_rim};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::wood::Balance;
use quarterturn_geometry::wood::found::{self, Found, NoRings};
use std::path::Path;

/// Fetches a photograph by the name that the plan gives it.
pub type Fetch<'f> = dyn Fn(&Path) -> Result<Photograph, PhotoError> + Sync + 'f;

/// Finer than this a flat end is not kept, mm to a pixel: 400 dots an inch.
const FINEST: f64 = 25.4 / 400.0;
/// All flat ends of a plan have so many pixels at most; in memory each takes some 11 bytes.
const MOST_PIXELS: f64 = 4.0e7;

/// How far background is blurred into the end, pixels of the photograph: our own choice.
const BLURRED: f64 = 3.0;

/// One end's photograph, as the plan names it.
pub(super) struct Photo<'a> {
    section: Section<'a>,
    /// What it asks for: may be worked out beside others.
    pub(super) asked: Asked,
}

/// What the plan says of one photograph.
#[derive(Debug)]
pub(super) struct Asked {
    file: String,
    corners: Option<[[f64; 2]; 4]>,
    card: Option<[f64; 4]>,
    reflectance: f64,
}

/// The flat end out of a photograph.
pub(super) struct Flat {
    /// u to the right, v up, in the common light where there was a card.
    pub(super) picture: Picture,
    pub(super) corners_found: bool,
    pub(super) light_assumed: bool,
    /// Lines found in it.
    pub(super) rings: Result<Found, NoRings>,
}

/// What all photographs of a plan share.
#[derive(Clone, Copy)]
pub(super) struct Shared<'f> {
    /// What fetches them.
    pub(super) fetch: &'f Fetch<'f>,
    /// How many there are.
    pub(super) count: usize,
}

/// What is wrong with a photograph: at which key, what, and what would be right.
pub(super) struct Wrong(&'static str, String, String);

impl Wrong {
    /// Working on it was cut off.
    pub(super) fn crashed() -> Self {
        Self("file", "reading it was cut off".to_owned(), "take another photograph, or report this one".to_owned())
    }
}

impl<'a> Photo<'a> {
    /// `None` where it is not written, or not well.
    pub(super) fn read(section: &Section<'a>) -> Option<Self> {
        if !section.is_there() || section.is_broken() {
            return None;
        }
        let before = section.reading.count();
        let asked = Asked {
            file: section.text("file").unwrap_or_default(),
            corners: section.places("corners"),
            card: section.numbers("card"),
            reflectance: section.share("reflectance").unwrap_or_default(),
        };
        if asked.card.is_none() && section.has("reflectance") && section.reading.count() == before {
            let right = "add card = [x, y, width, height], a patch of the card in the photograph".to_owned();
            section.report("reflectance", "there is no card that it could be of".to_owned(), right);
        }
        section.reading.one_more_photograph();
        (section.reading.count() == before).then(|| Self { section: section.clone(), asked })
    }

    /// Tells what is wrong with it.
    pub(super) fn report(&self, Wrong(key, what, right): Wrong) {
        self.section.report(key, what, right);
    }
}

impl Asked {
    /// The file's name, as it is written.
    pub(super) fn file(&self) -> &Path {
        Path::new(&self.file)
    }

    /// The end of `size` (mm) made flat, as far as it lies `from` to `to` (shares of its width and its thickness).
    pub(super) fn flat(
        &self,
        shared: &Shared<'_>,
        end: End,
        size: [f64; 2],
        [from, to]: [[f64; 2]; 2],
        look_for_rings: bool,
    ) -> Result<Flat, Wrong> {
        let photograph = (shared.fetch)(Path::new(&self.file)).map_err(|e| self.unreadable(&e))?;
        let balance = match self.card {
            None => Balance::Assumed,
            Some(patch) => photograph.balance(patch, self.reflectance).map_err(|e| {
                let right = "give a patch that lies on the card, as x, y, width and height in pixels from the upper \
                             left corner; quarterturn photo shows it"
                    .to_owned();
                Wrong("card", e.to_string(), right)
            })?,
        };
        let whole = self.corners_in(&photograph, end, size)?;
        let corners = whole.part(from, to);
        let size = [0, 1].map(|axis| size[axis] * (to[axis] - from[axis]));
        let share = MOST_PIXELS / shared.count as f64;
        let pixel = finest(&corners, size).max(FINEST).max((size[0] * size[1] / share).sqrt());
        let flat = rectify(&photograph, &corners, size, pixel).map_err(|e| self.too_small(&e.to_string()))?;
        drop(photograph);
        let picture = balanced(flat.picture, &balance);
        // Rings are looked for in the very picture that shows them.
        let pixel = size[0] / picture.width as f64;
        let rings = if look_for_rings { found::find(&picture, pixel) } else { Err(NoRings::NotAPicture) };
        // Where the picture ends at the end's own outline, and not within what milling takes off.
        let rim = |here: bool| if here { (BLURRED * finest(&corners, size) / pixel).ceil() as usize } else { 0 };
        let outline = [from[0] <= 0.0, to[0] >= 1.0, to[1] >= 1.0, from[1] <= 0.0];
        let picture = without_rim(picture, outline.map(rim));
        Ok(Flat { picture, corners_found: self.corners.is_none(), light_assumed: balance.is_assumed(), rings })
    }

    fn corners_in(&self, photograph: &Photograph, end: End, size: [f64; 2]) -> Result<Corners, Wrong> {
        if let Some(points) = self.corners {
            let corners = Corners::new(points, photograph.size()).and_then(|corners| corners.of(end));
            return corners.map_err(|e| {
                let right = format!(
                    "name the corners of (0, 0), (U, 0), (U, V) and (0, V), the marked one first, in pixels from the \
                     upper left corner; on the {} end they run {}",
                    end.name(),
                    end.sense()
                );
                Wrong("corners", e.to_string(), right)
            });
        }
        let right = "add corners = [[x, y], [x, y], [x, y], [x, y]], the marked corner first; quarterturn photo shows \
                     what is found";
        let found = find::find(photograph, self.card).and_then(|outline| {
            let corners = outline.corners(end)?;
            Ok((corners, outline.lies_otherwise(size)))
        });
        match found {
            Ok((corners, false)) => Ok(corners),
            Ok((_, true)) => Err(Wrong(
                "file",
                "the end that is found in it lies the other way than its width and thickness say".to_owned(),
                right.to_owned(),
            )),
            Err(why) => Err(Wrong("file", format!("no end is found in it: {why}"), right.to_owned())),
        }
    }

    fn unreadable(&self, error: &PhotoError) -> Wrong {
        let right = match error {
            PhotoError::Io(_) => "name a JPEG or PNG, from the folder that the plan is in",
            _ => "name a photograph of the end, JPEG or PNG",
        };
        Wrong("file", format!("{:?} can't be read as a photograph: {error}", self.file), right.to_owned())
    }

    fn too_small(&self, error: &str) -> Wrong {
        let key = if self.corners.is_some() { "corners" } else { "file" };
        Wrong(key, error.to_owned(), "photograph the end from nearer by".to_owned())
    }
}
