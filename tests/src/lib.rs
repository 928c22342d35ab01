//! What the measuring programs in `src/bin` share.

pub mod cube;
pub mod found;
pub mod layup;
pub mod log;
pub mod machine;
pub mod paper;
pub mod picture;

use serde_json::{Value, json};

/// One measured figure, as `tests/figures` prints it.
#[must_use]
pub fn row(area: &str, name: &str, value: f64, unit: &str, goal: &str, holds: bool, source: &str) -> Value {
    json!({ "area": area, "name": name, "value": value, "unit": unit, "peer": null, "goal": goal, "holds": holds, "source": source })
}
