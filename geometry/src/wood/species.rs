//! What makes one wood look different from another. Knows colours, nothing of rings' places.

use super::colour::Colour;

/// How the vessels of a wood lie in its rings, in the trade's words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pores {
    /// None to be seen (softwoods).
    None,
    /// Alike all through the ring.
    Diffuse,
    /// Growing smaller from earlywood to latewood.
    SemiRing,
    /// Rows of large pores in the earlywood, small ones after it.
    Ring,
}

/// The vessels that show as pores.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessels {
    /// How they lie.
    pub pores: Pores,
    /// Width of the square that may hold one vessel, mm.
    pub cell: f64,
    /// Mean diameter in earlywood, mm.
    pub early: f64,
    /// Mean diameter in latewood, mm.
    pub late: f64,
    /// Chance that a cell in earlywood holds a vessel.
    pub early_chance: f64,
    /// The same in latewood.
    pub late_chance: f64,
    /// Width of the earlywood of a ring-porous wood, mm.
    pub band: f64,
    /// How much light a pore takes away, 0 to 1.
    pub darkening: f32,
}

/// Lines that run outward from the pith: rays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RayLines {
    /// Least distance between neighbours, mm (up to twice as much where they have spread).
    pub spacing: f64,
    /// Mean width, mm.
    pub width: f64,
    /// How far one runs before it fades, mm.
    pub length: f64,
    /// How far one persists along the grain, mm.
    pub height: f64,
    /// How much lighter than the wood around it; below 0 darker, 0 none.
    pub lightness: f32,
}

/// How a ring darkens from earlywood to latewood.
///
/// The three shares add up to 1 and weigh three shapes: see `profile`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Latewood {
    /// Share of a gradual darkening over the whole ring.
    pub body: f64,
    /// Share of a thin line at the ring's edge.
    pub line: f64,
    /// Share of a ring that is dense soon after its porous start.
    pub dense: f64,
    /// How much light the darkest latewood takes away in heartwood, 0 to 1; below 0 it is lighter.
    pub heartwood: f32,
    /// The same in sapwood.
    pub sapwood: f32,
}

/// A wood as it is drawn: oiled end grain, which is darker than the long grain of the same board.
///
/// All colours and sizes are our own choice, made by eye; they are no measurements. The two
/// colours are means over a patch, pores and rays included.
///
/// ```
/// use quarterturn_geometry::wood::{Colour, Wood};
/// let cherry = Wood::named("Black Cherry").unwrap();
/// assert_eq!(cherry.name, "black cherry");
/// let own = Wood::of_colours("plum", Colour::from_srgb8([128, 70, 58]), cherry.sapwood);
/// assert_eq!(own.sapwood, cherry.sapwood);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// In the trade's words, lower case.
    pub name: String,
    /// Mean colour of the heartwood.
    pub heartwood: Colour,
    /// Mean colour of the sapwood.
    pub sapwood: Colour,
    /// From earlywood to latewood.
    pub latewood: Latewood,
    /// Pores.
    pub vessels: Vessels,
    /// The rays that are seen at arm's length.
    pub rays: RayLines,
    /// The rays seen close up; in oak, the small ones and the pale streaks between the broad ones.
    pub fine_rays: RayLines,
    /// How much the heartwood's colour changes from one run of years to the next, 0 to 1.
    pub streaks: f32,
    /// How much the colour drifts over some centimetres, 0 to 1.
    pub drift: f32,
    /// Over how many mm heartwood passes into sapwood.
    pub border: f64,
}

impl Wood {
    /// The woods that are known by name.
    pub fn known() -> &'static [Wood] {
        super::known::woods()
    }

    /// Their names, in the order of [`Wood::known`].
    pub fn names() -> impl Iterator<Item = &'static str> {
        Wood::known().iter().map(|wood| wood.name.as_str())
    }

    /// The known wood of that name; capitals and outer blanks don't matter.
    pub fn named(name: &str) -> Option<Wood> {
        let name = name.trim();
        Wood::known().iter().find(|wood| wood.name.eq_ignore_ascii_case(name)).cloned()
    }

    /// A wood that a maker adds, of which only the colours are known: drawn with quiet rings and
    /// fine scattered pores.
    pub fn of_colours(name: &str, heartwood: Colour, sapwood: Colour) -> Wood {
        Wood { name: name.to_owned(), heartwood, sapwood, ..super::known::plain() }
    }

    /// The same wood with every number held to where it can be drawn; NaN becomes the low end.
    pub(super) fn held(&self) -> Wood {
        let mut wood = self.clone();
        for colour in [&mut wood.heartwood, &mut wood.sapwood] {
            *colour = Colour { r: part(colour.r, 0.0), g: part(colour.g, 0.0), b: part(colour.b, 0.0) };
        }
        let late = &mut wood.latewood;
        for share in [&mut late.body, &mut late.line, &mut late.dense] {
            *share = size(*share, 0.0, 1.0);
        }
        for shade in [&mut late.heartwood, &mut late.sapwood] {
            *shade = part(*shade, -1.0);
        }
        let vessels = &mut wood.vessels;
        vessels.cell = size(vessels.cell, 0.05, 10.0);
        for diameter in [&mut vessels.early, &mut vessels.late] {
            *diameter = size(*diameter, 0.0, 0.9 * vessels.cell);
        }
        for chance in [&mut vessels.early_chance, &mut vessels.late_chance] {
            *chance = size(*chance, 0.0, 1.0);
        }
        vessels.band = size(vessels.band, 0.01, 100.0);
        vessels.darkening = part(vessels.darkening, 0.0);
        for rays in [&mut wood.rays, &mut wood.fine_rays] {
            rays.spacing = size(rays.spacing, 0.1, 100.0);
            rays.width = size(rays.width, 0.0, 0.3 * rays.spacing);
            rays.length = size(rays.length, 0.1, 1.0e4);
            rays.height = size(rays.height, 0.1, 1.0e4);
            rays.lightness = part(rays.lightness, -1.0);
        }
        wood.streaks = part(wood.streaks, 0.0);
        wood.drift = part(wood.drift, 0.0);
        wood.border = size(wood.border, 0.05, 100.0);
        wood
    }
}

/// `x` held between `low` and 1.
fn part(x: f32, low: f32) -> f32 {
    if x.is_nan() { low } else { x.clamp(low, 1.0) }
}

/// `x` held between `low` and `high`.
fn size(x: f64, low: f64, high: f64) -> f64 {
    if x.is_nan() { low } else { x.clamp(low, high) }
}
