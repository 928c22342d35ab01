//! A CNC of our own invention with room for any board.

use quarterturn_geometry::job::{Cnc, Milling, Written};
use quarterturn_geometry::measure::Length;

/// The machine, its programs written so.
#[must_use]
pub fn cnc(written: Written) -> Cnc {
    let mm = Length::nearest_to_mm;
    Cnc {
        travel: [mm(2000.0), mm(2000.0), mm(400.0)],
        clear_height: mm(1000.0),
        clamps: vec![],
        flat_clamps: vec![],
        nut: None,
        spindle: None,
        safe_height: mm(12.0),
        step_down: Some(mm(2.5)),
        speed: 16_000,
        least_speed: None,
        chip_load: None,
        most_feed: mm(2500.0),
        rapid: mm(5000.0),
        acceleration: mm(250.0),
        most_rim_speed: 40.0,
        ramp: 10,
        plunge: true,
        wall_pass: mm(0.4),
        last_pass: Milling::Climb,
        widening: Milling::Conventional,
        written,
    }
}
