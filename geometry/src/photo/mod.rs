//! Photographs of blank ends: from four corners in a photograph to the flat end.
//!
//! ```text
//! photograph, corners ─► Corners (sense, shape) ─► Projective ─► rectify ─► Rectified
//!        └─► find: the corners, on a plain background ─┘
//! ```
//! | file | what it is for |
//! |---|---|
//! | `end` | near and far end, and how their corners run |
//! | `corners` | four corners that can be those of an end, or why not |
//! | `photograph` | pixels as stored, and how they stand upright |
//! | `projective` | the map from the flat end into the photograph |
//! | `rectify`, `sample` | the flat end, resampled without aliasing |
//! | `rim` | the background taken out of a flat end's rim |
//! | `upright` | the eight ways in which a camera may have been held |
//! | `reduce` | a photograph made smaller |
//! | `card` | a card in the photograph, and colours in its light |
//! | `find` | the corners of an end on a plain background |
//!
//! # Frames
//! ```text
//! photograph, upright            the flat end
//! (0,0) ──────► x                 v
//!   │  ┌───┐                      │ ┌─────────┐
//!   ▼  └───┘                      │ └─────────┘
//!   y                             └──────────── u
//! ```
//! A place in a photograph is in pixels from the upper left corner of its upper left pixel: that pixel's middle
//! is at (½, ½). "Upright" is as a person sees it, after any turn that the camera noted. The flat end has u to
//! the right and v up, for both ends alike: the near end is then seen as in a mirror, and
//! [`Rectified::as_seen`] turns it back.
//!
//! Pictures are sRGB bytes. Knows no files, no formats, nothing of wood but how colours are kept and
//! balanced.

mod card;
mod corners;
mod end;
pub mod find;
mod photograph;
mod projective;
mod rectify;
mod reduce;
mod rim;
mod sample;
mod upright;

pub use card::{PatchError, balanced};
pub use corners::{Corners, CornersError};
pub use end::End;
pub use photograph::Photograph;
pub use projective::Projective;
pub use rectify::{MOST_PIXELS, Rectified, RectifyError, finest, rectify};
pub use reduce::reduced;
pub use rim::without_rim;
pub use upright::Upright;
