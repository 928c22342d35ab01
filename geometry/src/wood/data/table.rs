//! The table. Numbers as printed; see [`super::Source`] for where.

use super::{
    Claim, Food, Found, Irritation, Movement, Openness, Published, Seasons, Shrinkage, Source, Traits, WoodData,
    shrinkage_of,
};

const NO_SHRINKAGE: Shrinkage = Shrinkage { radial: None, tangential: None, volumetric: None };
const NO_COEFFICIENTS: Movement = Movement { radial: None, tangential: None };

const fn read(value: f64, source: Source) -> Option<Published> {
    Some(Published { value, source, found: Found::Read })
}

/// Shrinkage worked back from a printed coefficient.
const fn back(coefficient: f64, source: Source) -> Option<Published> {
    Some(Published { value: shrinkage_of(coefficient), source, found: Found::Derived })
}

const fn seasons(printed: [f64; 2], source: Source) -> Seasons {
    Seasons { green: read(printed[0], source), dry: read(printed[1], source) }
}

const fn shrinkage(printed: [f64; 3], source: Source) -> Shrinkage {
    let [radial, tangential, volumetric] = printed;
    Shrinkage {
        radial: read(radial, source),
        tangential: read(tangential, source),
        volumetric: read(volumetric, source),
    }
}

const fn coefficients(printed: [f64; 2]) -> Movement {
    let source = Source::HandbookMovement;
    Movement { radial: read(printed[0], source), tangential: read(printed[1], source) }
}

const fn along_the_rings(coefficient: f64) -> Movement {
    Movement { radial: None, tangential: read(coefficient, Source::FlooringMovement) }
}

/// A wood grown in the United States: specific gravity and hardness (green, 12 %), shrinkage and
/// coefficients (radial, tangential), all read in the Handbook.
const fn domestic(
    names: [&'static str; 2],
    gravity: [f64; 2],
    hardness: [f64; 2],
    shrunk: [f64; 3],
    moved: [f64; 2],
    traits: Traits,
) -> WoodData {
    WoodData {
        name: names[0],
        botanical: names[1],
        gravity: seasons(gravity, Source::HandbookStrength),
        hardness: seasons(hardness, Source::HandbookStrength),
        shrinkage: shrinkage(shrunk, Source::HandbookShrinkage),
        coefficients: coefficients(moved),
        group: false,
        traits,
    }
}

/// An imported wood: green specific gravity and hardness as read in the Handbook.
const fn imported(names: [&'static str; 2], gravity: f64, hardness: [f64; 2], traits: Traits) -> WoodData {
    WoodData {
        name: names[0],
        botanical: names[1],
        gravity: Seasons { green: read(gravity, Source::HandbookImported), dry: None },
        hardness: seasons(hardness, Source::HandbookImported),
        shrinkage: NO_SHRINKAGE,
        coefficients: NO_COEFFICIENTS,
        group: false,
        traits,
    }
}

/// Common practice on all counts but the dust, which is on the first list or not.
const fn traits(pores: Openness, irritates: Irritation, food: Food) -> Traits {
    Traits {
        pores: Claim { says: pores, source: None },
        bleeds: Claim { says: false, source: None },
        oily: Claim { says: false, source: None },
        irritates: Claim { says: irritates, source: Some(Source::ArtHazards) },
        food: Claim { says: food, source: None },
    }
}

const fn oak(pores: Openness, food: Food) -> Traits {
    Traits { pores: Claim { says: pores, source: Some(Source::StudiesOfTrees) }, ..traits(pores, Sensitizer, food) }
}

use Food::{Debated, Named, Usual};
use Irritation::{Irritant, Nausea, NotListed, Sensitizer};
use Openness::{Fine, Open, Plugged};

pub(super) static WOODS: [WoodData; 27] = [
    domestic(
        ["black walnut", "Juglans nigra"],
        [0.51, 0.55],
        [900.0, 1010.0],
        [5.5, 7.8, 12.8],
        [0.00190, 0.00274],
        traits(Open, Sensitizer, Usual),
    ),
    domestic(
        ["hard maple", "Acer saccharum"],
        [0.56, 0.63],
        [970.0, 1450.0],
        [4.8, 9.9, 14.7],
        [0.00165, 0.00353],
        Traits { food: Claim { says: Named, source: Some(Source::FoodCode) }, ..traits(Fine, NotListed, Named) },
    ),
    // The shrinkage of red maple was not read: worked back from its coefficients, without a volume.
    WoodData {
        name: "soft maple",
        botanical: "Acer rubrum",
        gravity: seasons([0.49, 0.54], Source::HandbookStrength),
        hardness: seasons([700.0, 950.0], Source::HandbookStrength),
        shrinkage: Shrinkage {
            radial: back(0.00137, Source::HandbookMovement),
            tangential: back(0.00289, Source::HandbookMovement),
            volumetric: None,
        },
        coefficients: coefficients([0.00137, 0.00289]),
        group: false,
        traits: traits(Fine, NotListed, Usual),
    },
    domestic(
        ["black cherry", "Prunus serotina"],
        [0.47, 0.50],
        [660.0, 950.0],
        [3.7, 7.1, 11.5],
        [0.00126, 0.00248],
        traits(Fine, NotListed, Usual),
    ),
    // "White Oak, commercial".
    WoodData {
        group: true,
        ..domestic(
            ["white oak", "Quercus alba"],
            [0.60, 0.68],
            [1060.0, 1360.0],
            [5.6, 10.5, 16.3],
            [0.00180, 0.00365],
            oak(Plugged, Usual),
        )
    },
    // "Red Oak, commercial".
    WoodData {
        group: true,
        ..domestic(
            ["red oak", "Quercus rubra"],
            [0.56, 0.63],
            [1000.0, 1290.0],
            [4.0, 8.6, 13.7],
            [0.00158, 0.00369],
            oak(Open, Debated),
        )
    },
    domestic(
        ["white ash", "Fraxinus americana"],
        [0.55, 0.60],
        [960.0, 1320.0],
        [4.9, 7.8, 13.3],
        [0.00169, 0.00274],
        traits(Open, NotListed, Debated),
    ),
    domestic(
        ["yellow birch", "Betula alleghaniensis"],
        [0.55, 0.62],
        [780.0, 1260.0],
        [7.3, 9.5, 16.8],
        [0.00256, 0.00338],
        traits(Fine, Sensitizer, Usual),
    ),
    domestic(
        ["beech", "Fagus grandifolia"],
        [0.56, 0.64],
        [850.0, 1300.0],
        [5.5, 11.9, 17.2],
        [0.00190, 0.00431],
        traits(Fine, Sensitizer, Usual),
    ),
    // Shagbark, its shrinkage read in a trade copy of the table; the coefficients are those of
    // "Hickory, true".
    WoodData {
        group: true,
        ..domestic(
            ["hickory", "Carya ovata"],
            [0.64, 0.72],
            [1460.0, 1880.0],
            [7.0, 10.5, 16.7],
            [0.00259, 0.00411],
            traits(Open, NotListed, Usual),
        )
    },
    WoodData {
        shrinkage: Shrinkage {
            radial: read(3.2, Source::TropicalTimbers),
            tangential: back(0.00212, Source::FlooringMovement),
            volumetric: None,
        },
        coefficients: along_the_rings(0.00212),
        ..imported(
            ["purpleheart", "Peltogyne spp."],
            0.67,
            [1810.0, 1860.0],
            Traits { bleeds: Claim { says: true, source: None }, ..traits(Open, Nausea, Debated) },
        )
    },
    // Its sheet gives specific gravity as a range, 0.55 to 0.67, and no Janka hardness.
    WoodData {
        name: "padauk",
        botanical: "Pterocarpus soyauxii",
        gravity: Seasons { green: None, dry: None },
        hardness: Seasons { green: None, dry: None },
        shrinkage: shrinkage([3.3, 5.2, 7.6], Source::TropicalTimbers),
        coefficients: along_the_rings(0.00180),
        group: false,
        traits: Traits {
            bleeds: Claim { says: true, source: Some(Source::FlooringSpecies) },
            ..traits(Open, Sensitizer, Debated)
        },
    },
    WoodData {
        shrinkage: shrinkage([4.6, 7.4, 14.0], Source::TropicalTimbers),
        ..imported(["sapele", "Entandrophragma cylindricum"], 0.55, [1020.0, 1510.0], traits(Open, NotListed, Usual))
    },
    WoodData {
        coefficients: along_the_rings(0.00186),
        ..imported(
            ["teak", "Tectona grandis"],
            0.55,
            [930.0, 1000.0],
            Traits { oily: Claim { says: true, source: None }, ..traits(Open, Sensitizer, Usual) },
        )
    },
    domestic(
        ["pecan", "Carya illinoinensis"],
        [0.60, 0.66],
        [1310.0, 1820.0],
        [4.9, 8.9, 13.6],
        [0.00169, 0.00315],
        traits(Open, NotListed, Usual),
    ),
    domestic(
        ["elm", "Ulmus americana"],
        [0.46, 0.50],
        [620.0, 830.0],
        [4.2, 9.5, 14.6],
        [0.00144, 0.00338],
        traits(Open, Irritant, Debated),
    ),
    domestic(
        ["hackberry", "Celtis occidentalis"],
        [0.49, 0.53],
        [700.0, 880.0],
        [4.8, 8.9, 13.8],
        [0.00165, 0.00315],
        traits(Open, NotListed, Debated),
    ),
    domestic(
        ["sycamore", "Platanus occidentalis"],
        [0.46, 0.49],
        [610.0, 770.0],
        [5.0, 8.4, 14.1],
        [0.00172, 0.00296],
        traits(Fine, NotListed, Usual),
    ),
    domestic(
        ["sweetgum", "Liquidambar styraciflua"],
        [0.46, 0.52],
        [600.0, 850.0],
        [5.3, 10.2, 15.8],
        [0.00183, 0.00365],
        traits(Fine, NotListed, Usual),
    ),
    domestic(
        ["red alder", "Alnus rubra"],
        [0.37, 0.41],
        [440.0, 590.0],
        [4.4, 7.3, 12.6],
        [0.00151, 0.00256],
        traits(Fine, NotListed, Usual),
    ),
    domestic(
        ["butternut", "Juglans cinerea"],
        [0.36, 0.38],
        [390.0, 490.0],
        [3.4, 6.4, 10.6],
        [0.00116, 0.00223],
        traits(Open, NotListed, Usual),
    ),
    domestic(
        ["basswood", "Tilia americana"],
        [0.32, 0.37],
        [250.0, 410.0],
        [6.6, 9.3, 15.8],
        [0.00230, 0.00330],
        traits(Fine, NotListed, Usual),
    ),
    // Its row of Table 13-5 was not read: WoodData::movement derives the coefficients.
    WoodData {
        name: "yellow-poplar",
        botanical: "Liriodendron tulipifera",
        gravity: seasons([0.40, 0.42], Source::HandbookStrength),
        hardness: seasons([440.0, 540.0], Source::HandbookStrength),
        shrinkage: shrinkage([4.6, 8.2, 12.7], Source::HandbookShrinkage),
        coefficients: NO_COEFFICIENTS,
        group: false,
        traits: traits(Fine, NotListed, Usual),
    },
    WoodData {
        shrinkage: shrinkage([3.0, 4.1, 7.8], Source::HandbookImportedShrinkage),
        ..imported(["mahogany", "Swietenia macrophylla"], 0.45, [740.0, 800.0], traits(Open, Sensitizer, Debated))
    },
    WoodData {
        shrinkage: shrinkage([2.5, 4.5, 8.8], Source::HandbookImportedShrinkage),
        ..imported(
            ["african mahogany", "Khaya spp."],
            0.42,
            [640.0, 830.0],
            Traits {
                irritates: Claim { says: Sensitizer, source: Some(Source::WoodToxicity) },
                ..traits(Open, Sensitizer, Debated)
            },
        )
    },
    WoodData {
        shrinkage: Shrinkage { tangential: back(0.00300, Source::FlooringMovement), ..NO_SHRINKAGE },
        coefficients: along_the_rings(0.00300),
        ..imported(["jatoba", "Hymenaea courbaril"], 0.71, [1970.0, 2350.0], traits(Open, NotListed, Usual))
    },
    // Neither its shrinkage nor a coefficient was read. Now Milicia; the Handbook has Chlorophora.
    imported(["iroko", "Milicia spp."], 0.54, [1080.0, 1260.0], traits(Open, Sensitizer, Debated)),
];
