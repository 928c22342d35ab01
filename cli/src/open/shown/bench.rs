//! The places along the bench, in the order of the wood, and what belongs to which.

use serde::Serialize;

/// A place along the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub(in crate::open) enum Bench {
    Stock,
    Panel,
    Strips,
    Board,
    Cuts,
    Paper,
}

impl Bench {
    /// All of them, in the order of the wood.
    pub(super) const ALL: [Self; 6] = [Self::Stock, Self::Panel, Self::Strips, Self::Board, Self::Cuts, Self::Paper];

    /// Where a key of the plan belongs.
    pub(super) fn of_key(key: &str) -> Self {
        match key.split('.').next().unwrap_or_default() {
            "woods" | "blanks" => Self::Stock,
            "panels" => Self::Panel,
            "strips" => Self::Strips,
            "shop" if key.starts_with("shop.saw") => Self::Strips,
            "shop" if key.starts_with("shop.planer") || key.starts_with("shop.jointer") => Self::Panel,
            "handholds" | "finger_recesses" | "grooves" | "feet" | "hanging_hole" | "corners" | "round_over"
            | "chamfer" | "bits" | "shop" | "surfacing" | "outline" => Self::Cuts,
            "money" | "pace" => Self::Paper,
            _ => Self::Board,
        }
    }

    /// The numbers that matter there: key, with `*` for each panel, cut or other name; and what it is called, the same
    /// with a name.
    pub(super) const fn numbers(self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Stock => {
                &[("lumber.bought.*", "*: to buy"), ("lumber.used", "used"), ("lumber.in the board", "in the board")]
            }
            Self::Panel => &[
                ("panel.*.width", "panel *: width"),
                ("panel.*.thickness", "panel *: thickness"),
                ("panel.*.length", "panel *: length"),
                ("panel.*.glue.clamps", "panel *: clamps"),
            ],
            Self::Strips => &[
                ("panel.*.strips that fit", "panel *: strips that fit"),
                ("panel.*.strips cut", "panel *: strips cut"),
                ("panel.*.stop", "panel *: stop"),
                ("panel.*.safe stop", "panel *: largest safe stop"),
                ("panel.*.remains", "panel *: remains"),
                ("panel.*.chance short", "panel *: chance of falling short"),
                ("panel.*.safe cuts", "panel *: safe cuts"),
                ("panel.*.waste block needed", "panel *: waste block needed"),
            ],
            Self::Board => &[
                ("board.length", "length"),
                ("board.width", "width"),
                ("board.thickness", "thickness"),
                ("solid.mass", "weight"),
                ("board.narrowest outer", "narrowest outer strip"),
                ("board.upper largest step", "largest step at a glue line"),
                ("board.glue.clamps", "clamps"),
                ("board.glue.goes", "goes at the glue-up"),
            ],
            Self::Cuts => &[
                ("handhold.*.depth", "handhold *: depth"),
                ("handhold.*.length", "handhold *: length"),
                ("handhold.*.least lip", "handhold *: least lip"),
                ("handhold.*.behind floor", "handhold *: wood behind the floor"),
                ("groove.*.depth", "groove *: depth"),
                ("finger recess.*.depth", "finger recess *: depth"),
                ("upper rim", "upper rim"),
                ("lower rim", "lower rim"),
            ],
            Self::Paper => {
                &[("glue.all", "glue"), ("finish.oil most", "oil, at most"), ("time.all", "time at the bench")]
            }
        }
    }
}

/// Whether a key is one of a pattern's, and what stands for its `*`.
pub(super) fn matched<'k>(pattern: &str, key: &'k str) -> Option<&'k str> {
    match pattern.split_once('*') {
        None => (pattern == key).then_some(""),
        Some((before, after)) => {
            let name = key.strip_prefix(before)?.strip_suffix(after)?;
            (!name.is_empty() && !name.contains('.')).then_some(name)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_star_stands_for_one_name() {
        assert_eq!(matched("panel.*.width", "panel.P 2.width"), Some("P 2"));
        assert_eq!(matched("panel.*.width", "panel.P.blank.1.width"), None);
        assert_eq!(matched("panel.*.width", "panel..width"), None);
        assert_eq!(matched("upper rim", "upper rim"), Some(""));
        assert_eq!(matched("upper rim", "lower rim"), None);
    }
}
