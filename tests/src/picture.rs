//! Rows of the area `picture` that need nothing but the library: colours compared, and the data of woods.

use crate::row;
use quarterturn_geometry::wood::{WoodData, sharma};
use serde_json::Value;

/// All of them.
#[must_use]
pub fn rows() -> Vec<Value> {
    vec![colour_difference(), woods(), coefficients()]
}

fn colour_difference() -> Value {
    let worst = sharma::PAIRS
        .iter()
        .flat_map(|(one, two, published)| [one.difference(two) - published, two.difference(one) - published])
        .fold(0.0_f64, |worst, off| worst.max(off.abs()));
    row(
        "picture",
        "CIEDE2000, worst error over the 34 published pairs, both orders",
        worst,
        "1",
        "<= 1e-4",
        worst <= 1e-4,
        "Sharma, Wu, Dalal, Color Res. Appl. 30(1), 21-30 (2005), table 1",
    )
}

fn woods() -> Value {
    let complete = WoodData::all().iter().filter(|wood| wood.is_complete()).count();
    row(
        "picture",
        "woods whose density, hardness and movement are published",
        complete as f64,
        "woods",
        ">= 24",
        complete >= 24,
        "Wood Handbook, FPL-GTR-190 and FPL-GTR-282; Tropical Timbers of the World; each number names its own",
    )
}

fn coefficients() -> Value {
    let gaps: Vec<f64> = WoodData::all().iter().flat_map(WoodData::coefficient_gaps).collect();
    let worst = gaps.iter().copied().fold(0.0, f64::max);
    row(
        "picture",
        "printed movement coefficient against printed shrinkage, worst gap",
        worst,
        "per point of moisture content",
        "<= 1e-5, over at least 24 pairs",
        worst <= 1e-5 && gaps.len() >= 24,
        "Wood Handbook, Tables 4-3 and 13-5, by equation 13-3 at 10 %",
    )
}
