//! A router bit.

use crate::measure::Length;

/// A bit that turns a flat-bottomed profile with rounded corners.
///
/// ```text
///        │  axis
///   ┌────┴────┐ ─
///   │         │ │ reach: how deep it cuts
///   │         │ │
///   ╰─────────╯ ─  corner radius r: 0 is a straight bit, D/2 a core-box bit (ball nose),
///   ├─── D ───┤    between them a bowl bit
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bit {
    /// Its name in the plan.
    pub name: String,
    /// D.
    pub diameter: Length,
    /// r, from 0 to D/2.
    pub corner_radius: Length,
    /// The cutting length below collet or bearing: no recess is deeper.
    pub reach: Length,
    /// Cutting edges.
    pub flutes: u8,
    /// Whether it cuts at dead centre, so that it may be plunged.
    pub cuts_at_centre: bool,
    /// The maximum speed printed on it, in turns a minute.
    pub most_speed: Option<u32>,
    /// The chip load that its maker gives.
    pub chip_load: Option<Length>,
}
