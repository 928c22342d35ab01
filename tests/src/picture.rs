//! Rows of the area `picture` that need nothing but the library: colours compared, and the data of woods.

use crate::{log, row};
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

/// The band against a real log; not measured, and so not holding, where the reference data aren't there.
///
/// # Errors
/// Where the log is there and can't be read.
pub fn log_rows() -> Result<Vec<Value>, String> {
    let source = "log-4m of QUARTERTURN_REFERENCE (Larsson and others 2022), all windows of 150, 300 and 450 mm of the \
                  half that the constants are not from";
    let Some(folder) = log::folder() else {
        let mut none = row("picture", "log", 0.0, "", "measured", false, "QUARTERTURN_REFERENCE has no log-4m");
        none["value"] = Value::Null;
        return Ok(vec![none]);
    };
    let of_log = |name: &str, value: f64, unit: &str, goal: &str, holds: bool| {
        row("picture", &format!("log, {name}"), value, unit, goal, holds, source)
    };
    let of = |held: &log::Held| {
        let (share, ratio) = (held.covered, held.half_width / held.ninetieth);
        [
            of_log(&format!("{}: mean error", held.of), held.error, "mm", "reported", true),
            of_log(
                &format!("{}: share within the band", held.of),
                share,
                "",
                "0.90 to 0.97",
                (0.90..=0.97).contains(&share),
            ),
            of_log(&format!("{}: band over 90th percentile of the error", held.of), ratio, "", "<= 1.5", ratio <= 1.5),
        ]
    };
    Ok(log::Log::read(&folder)?.lower_half()?.iter().flat_map(of).collect())
}
