//! What the tests of several modules start from.

use crate::cut::{Bit, Edge, Handhold, Reach};
use crate::job::{Cnc, Milling};
use crate::measure::{Length, Unit};
use crate::stock::{Crosscut, LastStrip, Panel, StripSide};

pub(crate) fn mm(n: i64) -> Length {
    Length::from_micrometres(n * 1000)
}

pub(crate) fn inch(s: &str) -> Length {
    Length::parse(s, Unit::Inch).unwrap()
}

/// A panel that is crosscut as it lies, no piece shorter than this, mm.
pub(crate) fn crosscut(panel: Panel, least_piece: i64) -> (Panel, Crosscut) {
    let cut = Crosscut {
        length: panel.length(),
        lost_first: mm(8),
        far_loss: Length::ZERO,
        kerf: mm(3),
        last: LastStrip::Left,
        side: StripSide::StopSide,
        least_piece: mm(least_piece),
        waste_block: Length::ZERO,
    };
    (panel, cut)
}

/// A handhold in the left edge by a bowl bit, in the middle of the thickness.
pub(crate) fn handhold(setbacks: [&str; 2]) -> Handhold {
    let bit = Bit {
        name: "bowl".into(),
        diameter: inch("3/4"),
        corner_radius: inch("1/8"),
        reach: inch("1"),
        flutes: 2,
        cuts_at_centre: false,
        most_speed: Some(16_000),
        chip_load: None,
        stick_out: None,
        eases: None,
    };
    let reach = Reach::Setbacks(setbacks.map(inch));
    Handhold {
        edge: Edge::Left,
        bit,
        depth: inch("3/8"),
        reach,
        above_lower_face: None,
        passes: None,
        width: None,
        rim: None,
    }
}

/// A machine that has room for it.
pub(crate) fn cnc(speed: u32) -> Cnc {
    Cnc {
        travel: [inch("24"), inch("24"), inch("4")],
        clear_height: inch("16"),
        clamps: vec![],
        flat_clamps: vec![],
        nut: None,
        spindle: None,
        safe_height: inch("1/2"),
        step_down: None,
        speed,
        least_speed: None,
        chip_load: Some(inch("0.002")),
        most_feed: inch("100"),
        rapid: inch("200"),
        acceleration: inch("10"),
        most_rim_speed: 40.0,
        ramp: 10,
        plunge: true,
        wall_pass: inch("1/64"),
        last_pass: Milling::Climb,
        widening: Milling::Conventional,
        written: crate::job::Written::plain(Unit::Millimetre),
    }
}
