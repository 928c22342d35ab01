//! Sanding and finishing: which grits and what each must remove, how much oil end grain drinks, and what is published
//! about finishes, food and rags.
//!
//! Knows sizes; knows nothing of plans or paper. The product's label governs over every figure here.

use crate::measure::Length;

/// How a board is sanded and what is put on it. Defaults are common practice, no source.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    /// The first grit.
    pub from_grit: u32,
    /// The last.
    pub to_grit: u32,
    /// Of what is flattened off each face, so much is left for sanding.
    pub left_for_sanding: Length,
    /// What is put on.
    pub product: Product,
    /// Coats.
    pub coats: u32,
    /// What one square metre of end-grain face takes in all, litres: from, to.
    pub takes: [f64; 2],
}

impl Default for Finish {
    fn default() -> Self {
        Self {
            from_grit: 80,
            to_grit: 320,
            left_for_sanding: Length::from_inch_fraction(1, 64),
            product: Product::MineralOil,
            coats: 3,
            takes: [0.4, 0.8],
        }
    }
}

/// What a board is finished with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Product {
    /// White mineral oil: it stays liquid and is renewed.
    #[default]
    MineralOil,
    /// Mineral oil, then beeswax in mineral oil.
    OilAndWax,
    /// An oil that hardens in air: tung, linseed, walnut.
    HardeningOil,
}

impl Product {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::MineralOil => "mineral oil",
            Self::OilAndWax => "mineral oil and wax",
            Self::HardeningOil => "hardening oil",
        }
    }

    /// Whether it hardens, and rags with it can take fire by themselves.
    #[must_use]
    pub const fn hardens(self) -> bool {
        matches!(self, Self::HardeningOil)
    }
}

/// The grits of a usual sequence with their grains' mean diameter, µm: FEPA P grades (ISO 6344), as tables of the trade
/// reprint them (80, 120 and 220 read there, the others from memory).
pub const GRITS: [(u32, f64); 7] =
    [(60, 269.0), (80, 201.0), (120, 125.0), (150, 100.0), (180, 82.0), (220, 68.0), (320, 46.2)];

/// The share of its grain's diameter to which a grit scratches (our own choice, no source).
const SCRATCH: f64 = 1.0 / 3.0;
/// The grain is raised before this grit: wet the face, let it dry, sand off what stands up (common practice, no source).
const RAISED_BEFORE: u32 = 220;
/// From this grit on, by hand (common practice, no source).
const BY_HAND: u32 = 320;

/// One grit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sanding {
    /// The P grade.
    pub grit: u32,
    /// What it must take off a face so that the scratches of the grit before are gone, mm; the first must take off
    /// what the machine left.
    pub removes: f64,
    /// Whether the face is wetted and left to dry before it.
    pub raise_before: bool,
    /// Whether it is done by hand.
    pub by_hand: bool,
}

/// From, to: litres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Finish {
    /// The grits in order.
    #[must_use]
    pub fn grits(&self) -> Vec<u32> {
        let within = |grit: &u32| (self.from_grit..=self.to_grit).contains(grit);
        GRITS.iter().map(|(grit, _)| *grit).filter(within).collect()
    }

    /// The sequence, each grit with what it must remove: as deep as the one before it scratches, a third of its
    /// grain's diameter (our own choice, no source).
    ///
    /// ```
    /// use quarterturn_geometry::finish::Finish;
    /// let steps = Finish::default().sequence();
    /// assert_eq!(steps.iter().map(|s| s.grit).collect::<Vec<_>>(), [80, 120, 150, 180, 220, 320]);
    /// // After 80, whose grains are 0.201 mm, 120 takes 0.067 mm.
    /// assert!((steps[1].removes - 0.067).abs() < 1e-9);
    /// assert!(steps[4].raise_before && steps[5].by_hand);
    /// ```
    #[must_use]
    pub fn sequence(&self) -> Vec<Sanding> {
        let grains: Vec<(u32, f64)> =
            GRITS.into_iter().filter(|(grit, _)| (self.from_grit..=self.to_grit).contains(grit)).collect();
        let first = grains.first().map_or(0.0, |(_, grain)| *grain);
        let before = std::iter::once(first).chain(grains.iter().map(|(_, grain)| *grain));
        grains
            .iter()
            .zip(before)
            .map(|((grit, _), before)| Sanding {
                grit: *grit,
                removes: before * SCRATCH / 1000.0,
                raise_before: *grit == RAISED_BEFORE,
                by_hand: *grit >= BY_HAND,
            })
            .collect()
    }

    /// What the sequence takes off a face in all, mm.
    #[must_use]
    pub fn sanded(&self) -> f64 {
        self.sequence().iter().map(|s| s.removes).sum()
    }

    /// Oil for so much end-grain face (mm², both faces), litres.
    ///
    /// ```
    /// use quarterturn_geometry::finish::Finish;
    /// // 18 × 12 in, both faces: 0.2787 m², 0.11 to 0.22 L.
    /// let oil = Finish::default().oil(2.0 * 18.0 * 12.0 * 25.4 * 25.4);
    /// assert!((oil.least - 0.1115).abs() < 1e-4 && (oil.most - 0.2230).abs() < 1e-4);
    /// ```
    #[must_use]
    pub fn oil(&self, face: f64) -> Quantity {
        let [least, most] = self.takes.map(|litres| litres * face * 1e-6);
        Quantity { least, most }
    }
}

/// A statement with its source, for the sheet that tells about finishing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What is stated, and no more than the source says.
    pub says: &'static str,
    /// Where; "common practice, no source" where nowhere.
    pub source: &'static str,
}

const PRACTICE: &str = "common practice, no source";

/// What is published about wood and food, oils and rags. None of it approves a board: the product's label, and the rules
/// where the board is used, govern.
pub const FACTS: [Fact; 8] = [
    Fact {
        says: "Wood is not to be a surface that food touches, but for hard maple or an equally hard, close-grained wood in cutting boards and blocks. Written for kitchens open to the public.",
        source: "FDA Food Code, 4-101.17(B), as states adopt it",
    },
    Fact {
        says: "White mineral oil may be used in food under stated limits of purity and use.",
        source: "21 CFR 172.878",
    },
    Fact {
        says: "That oil, or technical white mineral oil, may be used in articles that touch food.",
        source: "21 CFR 178.3620(a) and (b)",
    },
    Fact {
        says: "The rule on adhesives behind a barrier or at seams is written for packing and transport. It approves no glue for a cutting surface: what the glue's own label says counts.",
        source: "21 CFR 175.105(a)(2) and (b)",
    },
    Fact {
        says: "Oils that dry (linseed, tung, walnut) give off heat as they harden: wadded rags can take fire within hours. Spread them flat outdoors to dry, or keep them in a metal can with water and a tight lid. Mineral oil does not dry.",
        source: "notes of universities and insurers; the NFPA tip sheet that they cite was not read",
    },
    Fact {
        says: "Kitchen oils go rancid; nut oils are named on the care card, for guests who must not have them.",
        source: PRACTICE,
    },
    Fact {
        says: "Two or three coats, until it takes no more, a night between; wiped off before wax.",
        source: PRACTICE,
    },
    Fact {
        says: "Dust of every wood is harmful: a mask and extraction at every grit.",
        source: "IARC Monographs, volume 100C (2012): wood dust, group 1",
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The default leaves enough on each face: 1/64 in is 0.397 mm.
    #[test]
    fn what_the_grits_take_by_hand() {
        // (201 + 201 + 125 + 100 + 82 + 68) / 3 = 259 µm.
        assert!((Finish::default().sanded() - 0.259).abs() < 1e-9);
        assert!(Finish::default().sanded() < Finish::default().left_for_sanding.mm());
        assert!(GRITS.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 > w[1].1));
    }

    #[test]
    fn only_what_hardens_heats_rags() {
        assert!(Product::HardeningOil.hardens() && !Product::MineralOil.hardens() && !Product::OilAndWax.hardens());
        assert!(FACTS.iter().all(|f| !f.source.is_empty() && f.says.ends_with('.')));
    }

    proptest! {
        #[test]
        fn oil_grows_with_the_face(face in 0.0..1e6f64) {
            let oil = Finish::default().oil(face);
            prop_assert!(oil.least <= oil.most && oil.most <= 0.8 * face * 1e-6 + 1e-15);
        }
    }
}
