//! What the wood looks like at a point of a blank: one solid model that every picture, mesh colour
//! and glue-line cost asks.
//!
//! Must not know of panels, strips, boards or cuts, nor of files: it is given growth
//! rings ([`Rings`]), or lines traced on the ends ([`ends`]), flat photographs of them where there are
//! any, and a [`Wood`], and answers with a [`Colour`] and a ring number.
//!
//! # Frame
//! ```text
//! blank (u, v, w), mm, right-handed, seen from the far end
//!  v                u across the width, v through the thickness,
//!  │ ┌───────┐      w along the grain: w = 0 at the near end, w = length at the far end.
//!  │ │ blank │      End grain is a section across w. The pith may lie outside the blank.
//!  │ └───────┘
//!  └────────── u    w toward you
//! ```
//!
//! # How it is made
//! | file | layer |
//! |---|---|
//! | `rings` | the pith line, ring radii, the heartwood line, where only the pith is known |
//! | `traced` | the same where lines were traced on a real blank |
//! | `years` | the rings' edges: known ones, and those left to chance |
//! | `profile` | earlywood passing into latewood within one ring |
//! | `pores`, `rays` | what is finer than a ring |
//! | `slow` | what a picture needs at a few places only |
//! | `species`, `known`, `known_too` | what makes one wood differ from another |
//! | `figure` | all of it put together at one point |
//! | `noise`, `colour` | seeded hashes; linear light and sRGB |
//! | `data` | what is published about a wood: density, hardness, movement, what to mind |
//! | `lab`, `sharma` | how different two colours look, and the pairs that judge it |
//! | `balance` | photographs brought to a common light by a card, two blanks compared |
//! | [`ends`] | ring numbers anywhere, from lines traced on both ends of a real blank |
//! | [`found`] | ring lines found in a photograph of an end |
//! | `pictured` | the colour anywhere, from photographs of the ends |
//! | `photographs` | what is known of those photographs |
//!
//! # What it promises
//! - Rings that were traced are drawn where they were traced, at every station between.
//! - Elsewhere the pith and the heartwood radius run straight from end to end, so from station to station
//!   the figure **moves**; it never fades from one picture into another.
//! - The same rings, wood and seed give the same colours. Nothing repeats and nothing is stored:
//!   detail comes from hashes of the place. Apart from the sRGB tables only `+ − × ÷ √` is used.
//! - Every layer is averaged over the pixel and fades into its mean when it gets too fine to see,
//!   so a section drawn small is the mean of the same section drawn large.
//! - No input panics or gives NaN.
//!
//! It does not promise that a given stick of that species looks like this: **the colours, pore
//! sizes and ring shapes are our own choice**, made by eye for oiled end grain.
//!
//! ```
//! use nalgebra::{Point2, Point3};
//! use quarterturn_geometry::wood::{EndRings, Figure, Rings, Wood};
//!
//! // 60 × 40 mm walnut, pith below the left corner, sapwood in the upper right corner.
//! let near = EndRings { pith: Point2::new(-20.0, -40.0), heartwood_radius: 92.0 };
//! let far = EndRings { pith: Point2::new(-14.0, -40.0), heartwood_radius: 92.0 };
//! let rings = Rings { near, far, ring_width: 2.8, seed: 7 };
//! let walnut = Wood::named("black walnut").unwrap();
//! let figure = Figure::new(walnut, rings, 400.0);
//!
//! let heart = figure.colour(&Point3::new(5.0, 5.0, 0.0), 1.0);
//! let sap = figure.colour(&Point3::new(58.0, 38.0, 0.0), 1.0);
//! assert!(sap.luminance() > 3.0 * heart.luminance());
//! // The figure wanders 6 mm over the length of the blank.
//! assert_eq!(figure.wander().x, 6.0 / 400.0);
//! ```

mod balance;
mod colour;
mod data;
pub mod ends;
mod figure;
pub mod found;
mod known;
mod known_too;
mod lab;
mod noise;
mod photographs;
mod pictured;
mod pores;
mod profile;
mod rays;
mod rings;
pub mod sharma;
mod slow;
mod species;
#[cfg(test)]
mod tests;
mod traced;
mod years;

pub use balance::{
    Balance, Card, CardError, Comparison, Difference, Gain, Photographed, Reading, Threshold, Tones, compare,
};
pub use colour::Colour;
pub use data::{
    Claim, Food, Found, Irritation, Movement, Openness, Published, Seasons, Shrinkage, Source, Traits, WoodData,
    coefficient_of, density_at, newtons, shrinkage_of,
};
pub use figure::{Figure, Lie, Shown};
pub use lab::Lab;
pub use photographs::{LEAST_CONFIDENCE, LEAST_SENSE, NotFollowed, PhotographedEnd, Photographs, RingsSeen};
pub use pictured::{Block, Pictured, Unpictured};
pub use rings::{EndRings, Rings};
pub use species::{Latewood, Pores, RayLines, Vessels, Wood};
