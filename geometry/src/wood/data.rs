//! What is published about a wood: how heavy, how hard, how far it shrinks and moves, and what to
//! mind about it. Knows names and numbers, nothing of how a wood is drawn.
//!
//! Every number says where it stands in print, and whether it was [read](Found::Read) there (in the
//! book or in a public copy of its table) or [derived](Found::Derived) from one that was. What was
//! only remembered is left out: a missing number is `None`, never a guess. Statements without a
//! published source say "common practice, no source".
//!
//! # Reading the numbers
//! - They are means over a species, of clear straight-grained pieces. One board may be a fifth off.
//! - The Wood Handbook prints ovendry mass over volume at the stated moisture content (specific
//!   gravity), side hardness in pounds-force, shrinkage in percent of the green size.
//! - An end-grain board moves by the radial or the tangential coefficient in **both** directions of
//!   its face, and hardly at all through its thickness.
//!
//! ```
//! use quarterturn_geometry::wood::{Wood, WoodData};
//! let maple = Wood::named("hard maple").unwrap().data().unwrap();
//! assert_eq!(maple.botanical, "Acer saccharum");
//! // A board of 18 × 12 × 1 1/2 in at 8 % moisture content: 3.6 kg.
//! let volume = 18.0 * 12.0 * 1.5 * 25.4_f64.powi(3) * 1e-9;
//! assert!((maple.density(8.0).unwrap() * volume - 3.603).abs() < 1e-3);
//! // 300 mm of it, flat-sawn, from 7 to 9 %: 2.1 mm wider.
//! let tangential = maple.movement().tangential.unwrap();
//! assert!((300.0 * tangential.value * 2.0 - 2.118).abs() < 1e-3);
//! assert!(tangential.source.text().contains("Table 13-5"));
//! assert!(WoodData::named("plastic").is_none());
//! ```

mod table;

use super::species::Wood;

/// Where a number or a statement is published.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Strength of woods grown in the United States, inch-pound printing.
    HandbookStrength,
    /// Strength of imported woods, inch-pound printing.
    HandbookImported,
    /// Shrinkage of domestic woods.
    HandbookShrinkage,
    /// Shrinkage of imported woods.
    HandbookImportedShrinkage,
    /// Dimensional change coefficients.
    HandbookMovement,
    /// Species sheets of tropical woods.
    TropicalTimbers,
    /// Coefficients as the flooring trade reprints them; a trade name may cover several species.
    FlooringMovement,
    /// Species notes of the flooring trade.
    FlooringSpecies,
    /// Structure of the oaks.
    StudiesOfTrees,
    /// Woods reported to irritate, first list.
    ArtHazards,
    /// Woods reported to irritate, second list.
    WoodToxicity,
    /// Model rules for kitchens open to the public.
    FoodCode,
}

impl Source {
    /// The citation.
    pub fn text(self) -> &'static str {
        match self {
            Source::HandbookStrength => {
                "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), Table 5-3b"
            }
            Source::HandbookImported => {
                "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), Table 5-5b"
            }
            Source::HandbookShrinkage => {
                "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-3"
            }
            Source::HandbookImportedShrinkage => {
                "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-4"
            }
            Source::HandbookMovement => {
                "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 13-5"
            }
            Source::TropicalTimbers => "M. Chudnoff, Tropical Timbers of the World, USDA AH-607 (1984)",
            Source::FlooringMovement => {
                "National Wood Flooring Association, dimensional change coefficients, after the Wood Handbook, AH-72 (1987)"
            }
            Source::FlooringSpecies => "National Wood Flooring Association, Wood Species Used in Wood Flooring",
            Source::StudiesOfTrees => "J. J. Levison, Studies of Trees (1914)",
            Source::ArtHazards => "R. Woodcock, Art Hazards News 13(5), as reprinted in June 1990",
            Source::WoodToxicity => "A. Wolfe, Wood Toxicity: Symptoms, Species, and Solutions, table 1",
            Source::FoodCode => "FDA Food Code, 4-101.17(B)",
        }
    }
}

/// How a number came here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// Read in the source, or in a public copy of its table.
    Read,
    /// Worked out from a number of that source that was read, by [`coefficient_of`] or its inverse.
    Derived,
}

/// A published number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Published {
    /// As printed, in the unit that its place in [`WoodData`] states.
    pub value: f64,
    /// Where.
    pub source: Source,
    /// Read or derived.
    pub found: Found,
}

/// A statement and its source; without one it is common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Claim<T> {
    /// What is stated.
    pub says: T,
    /// Where it is published.
    pub source: Option<Source>,
}

impl<T> Claim<T> {
    /// The citation, or "common practice, no source".
    pub fn source_text(&self) -> &'static str {
        self.source.map_or("common practice, no source", Source::text)
    }
}

/// A number at two moisture contents.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seasons {
    /// Green.
    pub green: Option<Published>,
    /// At 12 % moisture content.
    pub dry: Option<Published>,
}

/// From green to ovendry, percent of the green size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shrinkage {
    /// Across the rings.
    pub radial: Option<Published>,
    /// Along the rings.
    pub tangential: Option<Published>,
    /// Of the volume.
    pub volumetric: Option<Published>,
}

/// Change of a dimension per point of moisture content, as a share of it; good from 6 to 14 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Movement {
    /// Across the rings.
    pub radial: Option<Published>,
    /// Along the rings.
    pub tangential: Option<Published>,
}

/// Whether a knife's juices find a way in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Openness {
    /// Too fine to be seen as holes.
    Fine,
    /// Open in the heartwood.
    Open,
    /// Plugged with tyloses in the heartwood; sapwood stays open.
    Plugged,
}

/// What its dust was reported to do. Dust of **every** wood is harmful (IARC 100C, group 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Irritation {
    /// Not on the lists cited; that does not make it harmless.
    NotListed,
    /// Irritates skin, eyes or airways.
    Irritant,
    /// May make a person allergic.
    Sensitizer,
    /// Reported to cause nausea.
    Nausea,
}

/// Whether it is used for boards that food is cut on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Food {
    /// Named by a food code: hard maple, or a wood as hard and close-grained.
    Named,
    /// Commonly used.
    Usual,
    /// Some makers won't: open pores, colour that comes off, or an irritant.
    Debated,
}

/// What to mind about a wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Traits {
    /// Pores.
    pub pores: Claim<Openness>,
    /// Its colour bleeds into a pale wood beside it when sanded or oiled.
    pub bleeds: Claim<bool>,
    /// Oily to the touch: wipe before gluing.
    pub oily: Claim<bool>,
    /// Dust.
    pub irritates: Claim<Irritation>,
    /// Food.
    pub food: Claim<Food>,
}

/// What is published about one wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodData {
    /// The name under which it is drawn, see [`Wood::named`].
    pub name: &'static str,
    /// Botanical name; "spp." for several species sold as one.
    pub botanical: &'static str,
    /// Specific gravity: ovendry mass over the volume at that moisture content, over water's 1000 kg/m³.
    pub gravity: Seasons,
    /// Side hardness (Janka), pounds-force, as printed; [`newtons`] converts.
    pub hardness: Seasons,
    /// Shrinkage.
    pub shrinkage: Shrinkage,
    /// Coefficients as printed.
    pub coefficients: Movement,
    /// The printed coefficients are means over a trade group, not of this species alone.
    pub group: bool,
    /// What to mind.
    pub traits: Traits,
}

impl WoodData {
    /// All woods with data, in the order in which they are drawn.
    pub fn all() -> &'static [WoodData] {
        &table::WOODS
    }

    /// The wood of that name; capitals and outer blanks don't matter.
    pub fn named(name: &str) -> Option<&'static WoodData> {
        let name = name.trim();
        WoodData::all().iter().find(|wood| wood.name.eq_ignore_ascii_case(name))
    }

    /// Density in kg/m³ at a moisture content in percent, see [`density_at`]; none where the green
    /// specific gravity isn't known.
    pub fn density(&self, moisture: f64) -> Option<f64> {
        density_at(self.gravity.green?.value, moisture)
    }

    /// The coefficients to reckon with: as printed, else derived from the shrinkage.
    pub fn movement(&self) -> Movement {
        let (shrinkage, printed) = (&self.shrinkage, &self.coefficients);
        let derived = |s: Option<Published>| {
            s.map(|s| Published { value: coefficient_of(s.value), source: s.source, found: Found::Derived })
        };
        Movement {
            radial: printed.radial.or_else(|| derived(shrinkage.radial)),
            tangential: printed.tangential.or_else(|| derived(shrinkage.tangential)),
        }
    }

    /// How far each printed coefficient is from the one worked out of the printed shrinkage: a check
    /// of both tables. None for a group's means, nor where one of the two was derived.
    pub fn coefficient_gaps(&self) -> impl Iterator<Item = f64> {
        let pairs = [
            (self.shrinkage.radial, self.coefficients.radial),
            (self.shrinkage.tangential, self.coefficients.tangential),
        ];
        let counts = |p: &Published| p.found == Found::Read;
        let group = self.group;
        pairs.into_iter().filter_map(move |(shrinkage, printed)| {
            let (shrinkage, printed) = (shrinkage.filter(counts)?, printed.filter(counts)?);
            (!group).then(|| (coefficient_of(shrinkage.value) - printed.value).abs())
        })
    }

    /// Whether density, hardness and one figure of its movement are all known.
    pub fn is_complete(&self) -> bool {
        let movement = self.movement();
        self.gravity.green.is_some()
            && self.hardness.dry.is_some()
            && (movement.radial.is_some() || movement.tangential.is_some())
    }
}

impl Wood {
    /// What is published about it, found by its name: also for a known wood to which a maker gave
    /// other colours, never for one of the maker's own naming.
    pub fn data(&self) -> Option<&'static WoodData> {
        WoodData::named(&self.name)
    }
}

/// Density in kg/m³ of wood of the basic specific gravity G (ovendry mass, green volume) at M percent
/// moisture content: a = (30 − M)/30, G_M = G/(1 − 0.265 a G), density = 1000 G_M (1 + M/100).
///
/// W. T. Simpson, *Specific gravity, moisture content, and density relationship for wood*, FPL-GTR-76
/// (1993). None unless G is above 0 and at most 1.5 (solid cell wall), and M from 0 to 30.
///
/// ```
/// use quarterturn_geometry::wood::density_at;
/// assert!((density_at(0.51, 8.0).unwrap() - 611.4).abs() < 0.05); // black walnut
/// assert_eq!(density_at(0.51, 31.0), None);
/// ```
pub fn density_at(basic: f64, moisture: f64) -> Option<f64> {
    if !(basic > 0.0 && basic <= 1.5 && (0.0..=30.0).contains(&moisture)) {
        return None;
    }
    let dried = (30.0 - moisture) / 30.0;
    Some(1000.0 * basic / (1.0 - 0.265 * dried * basic) * (1.0 + moisture / 100.0))
}

/// The coefficient that belongs to a shrinkage S in percent: C = (S/30) / (1 − 20 S/30), S as a share.
///
/// A straight line from 30 % moisture content to ovendry, on the size at 10 %: Wood Handbook,
/// FPL-GTR-190 (2010), equation 13-3 at 10 %.
///
/// ```
/// use quarterturn_geometry::wood::coefficient_of;
/// assert!((coefficient_of(7.8) - 0.00274).abs() < 1e-5); // black walnut, along the rings
/// ```
pub fn coefficient_of(shrinkage: f64) -> f64 {
    let per_point = shrinkage / 100.0 / 30.0;
    per_point / (1.0 - 20.0 * per_point)
}

/// The inverse of [`coefficient_of`]: percent.
pub const fn shrinkage_of(coefficient: f64) -> f64 {
    3000.0 * coefficient / (1.0 + 20.0 * coefficient)
}

/// Newtons of a hardness in pounds-force: 4.448 221 615 260 5 N each, exactly.
pub fn newtons(hardness: f64) -> f64 {
    hardness * 4.448_221_615_260_5
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(name: &str) -> &'static WoodData {
        WoodData::named(name).unwrap()
    }

    #[test]
    fn one_name_leads_to_the_drawn_wood_and_to_its_data() {
        assert!(WoodData::all().len() >= 24);
        let drawn: Vec<&str> = Wood::names().collect();
        let known: Vec<&str> = WoodData::all().iter().map(|wood| wood.name).collect();
        assert_eq!(drawn, known);
        for wood in Wood::known() {
            assert_eq!(wood.data().unwrap().name, wood.name);
        }
        assert_eq!(of(" Black WALNUT ").botanical, "Juglans nigra");
        let colour = Wood::known()[0].sapwood;
        assert!(Wood::of_colours("plum", colour, colour).data().is_none());
    }

    #[test]
    fn printed_coefficients_follow_from_printed_shrinkage() {
        let (mut pairs, mut woods) = (0, 0);
        for wood in WoodData::all() {
            let gaps: Vec<f64> = wood.coefficient_gaps().collect();
            assert!(gaps.iter().all(|gap| *gap <= 1e-5), "{}: {gaps:?}", wood.name);
            pairs += gaps.len();
            woods += usize::from(gaps.len() == 2);
        }
        assert!(woods >= 14 && pairs >= 29, "{woods} woods, {pairs} pairs");
    }

    /// The Handbook's rows "Red Oak, commercial", "White Oak, commercial" and "Hickory, true" are
    /// means over several species: they don't follow from one species' shrinkage.
    #[test]
    fn a_group_s_coefficients_do_not_follow_from_one_species() {
        let groups: Vec<&str> = WoodData::all().iter().filter(|w| w.group).map(|w| w.name).collect();
        assert_eq!(groups, ["white oak", "red oak", "hickory"]);
        for wood in groups.into_iter().map(of) {
            assert_eq!(wood.coefficient_gaps().count(), 0);
            let off =
                coefficient_of(wood.shrinkage.tangential.unwrap().value) - wood.coefficients.tangential.unwrap().value;
            assert!(off.abs() > 1e-4, "{}: {off}", wood.name);
        }
    }

    #[test]
    fn derived_numbers_are_those_of_the_printed_ones() {
        let soft_maple = of("soft maple").shrinkage;
        for (seen, percent) in [(soft_maple.radial, 4.0), (soft_maple.tangential, 8.2)] {
            assert_eq!(seen.unwrap().found, Found::Derived);
            approx::assert_abs_diff_eq!(seen.unwrap().value, percent, epsilon = 0.02);
        }
        for percent in [1.0, 4.4, 12.6] {
            approx::assert_abs_diff_eq!(shrinkage_of(coefficient_of(percent)), percent, epsilon = 1e-12);
        }
        let sapele = of("sapele");
        assert_eq!(sapele.coefficients.tangential, None);
        let movement = sapele.movement().tangential.unwrap();
        assert_eq!(movement.found, Found::Derived);
        approx::assert_abs_diff_eq!(movement.value, 0.00259, epsilon = 1e-5);
        assert!(of("iroko").movement().radial.is_none());
    }

    /// Worked by hand from the formula of FPL-GTR-76.
    #[test]
    fn density_is_that_of_the_formula() {
        for (name, eight, twelve) in [
            ("black walnut", 611.4, 621.6),
            ("hard maple", 678.7, 688.5),
            ("black cherry", 558.6, 568.9),
            ("purpleheart", 831.9, 839.9),
        ] {
            approx::assert_abs_diff_eq!(of(name).density(8.0).unwrap(), eight, epsilon = 0.05);
            approx::assert_abs_diff_eq!(of(name).density(12.0).unwrap(), twelve, epsilon = 0.05);
        }
        assert_eq!(of("padauk").density(8.0), None);
        for (basic, moisture) in [(0.5, -0.1), (0.5, 30.1), (0.5, f64::NAN), (0.0, 8.0), (-1.0, 8.0), (f64::NAN, 8.0)] {
            assert_eq!(density_at(basic, moisture), None);
        }
        approx::assert_abs_diff_eq!(density_at(0.5, 30.0).unwrap(), 650.0, epsilon = 1e-9);
    }

    /// Table 5-3a prints the same in newtons, rounded to hundreds: a mistyped digit would show.
    #[test]
    fn hardness_agrees_with_the_metric_printing() {
        for (name, green, dry) in [
            ("white ash", 4300.0, 5900.0),
            ("black cherry", 2900.0, 4200.0),
            ("hard maple", 4300.0, 6400.0),
            ("red oak", 4400.0, 5700.0),
            ("white oak", 4700.0, 6000.0),
            ("yellow-poplar", 2000.0, 2400.0),
        ] {
            let seen = of(name).hardness;
            approx::assert_abs_diff_eq!(newtons(seen.green.unwrap().value), green, epsilon = 60.0);
            approx::assert_abs_diff_eq!(newtons(seen.dry.unwrap().value), dry, epsilon = 60.0);
        }
    }

    #[test]
    fn numbers_are_in_the_order_that_wood_has() {
        for wood in WoodData::all() {
            let value = |p: Option<Published>| p.map(|p| p.value);
            let rises = |low: Option<Published>, high: Option<Published>, most: f64| {
                if let (Some(low), Some(high)) = (value(low), value(high)) {
                    assert!(low < high && high < most * low, "{}: {low} and {high}", wood.name);
                }
            };
            rises(wood.gravity.green, wood.gravity.dry, 1.2);
            rises(wood.hardness.green, wood.hardness.dry, 1.7);
            rises(wood.shrinkage.radial, wood.shrinkage.tangential, 2.5);
            rises(wood.coefficients.radial, wood.coefficients.tangential, 2.5);
            let Shrinkage { radial, tangential, volumetric } = wood.shrinkage;
            if let (Some(r), Some(t), Some(v)) = (value(radial), value(tangential), value(volumetric)) {
                assert!((r + t - v).abs() <= 2.0 + 1e-9, "{}: {r} + {t} and {v}", wood.name);
            }
        }
    }

    #[test]
    fn statements_name_their_source_or_say_that_there_is_none() {
        let traits = of("white oak").traits;
        assert_eq!((traits.pores.says, of("red oak").traits.pores.says), (Openness::Plugged, Openness::Open));
        assert!(traits.pores.source_text().contains("Studies of Trees"));
        assert_eq!(traits.bleeds.source_text(), "common practice, no source");
        assert!(of("padauk").traits.bleeds.says && of("teak").traits.oily.says);
        let named: Vec<&str> =
            WoodData::all().iter().filter(|w| w.traits.food.says == Food::Named).map(|w| w.name).collect();
        assert_eq!(named, ["hard maple"]);
    }
}
