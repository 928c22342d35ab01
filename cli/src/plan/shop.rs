//! `[shop]` and `[limits]`.

use super::reader::Section;
use quarterturn_geometry::job::{
    Clamp, Cnc, FlatClamp, Holds, Limits, Machine, Machines, Milling, PlungeRouter, RouterTable, Saw, Spindle, Written,
};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::stock::{Accuracy, LastStrip, StripSide};
use quarterturn_geometry::wood::Threshold;

pub(super) fn saw(shop: &Section<'_>) -> Saw {
    let saw = shop.table("saw");
    let hold_down = saw.choice("held", &[false, true]);
    Saw {
        kerf: saw.length("kerf"),
        lost_first: saw.length("lost_first"),
        last: saw.choice("last_strip", &[LastStrip::Left, LastStrip::Freed, LastStrip::FullCut]),
        side: saw.choice("strip_lies", &[StripSide::StopSide, StripSide::FarSide]),
        accuracy: Accuracy {
            set: saw.length("set_to"),
            repeat: saw.length("repeats_to"),
            kerf: saw.length("kerf_known_to"),
            squaring: saw.length("squaring_known_to"),
            length: saw.length("length_known_to"),
        },
        hold_down,
        least_piece: saw.maybe_length("least_piece").unwrap_or_else(|| least_piece(&saw, hold_down)),
        waste_block: saw.length("waste_block"),
    }
}

/// What may still be cut, by how it is held: in inches, in millimetres.
pub(super) const BY_HAND: [&str; 2] = ["6", "150 mm"];
/// The same under a hold-down.
pub(super) const UNDER_HOLD_DOWN: [&str; 2] = ["3", "75 mm"];

fn least_piece(saw: &Section<'_>, hold_down: bool) -> Length {
    let texts = if hold_down { UNDER_HOLD_DOWN } else { BY_HAND };
    saw.worked_length(texts[usize::from(saw.reading.metric())]).unwrap_or_default()
}

pub(super) fn machines(shop: &Section<'_>) -> Machines {
    let machine = |key, name| {
        let section = shop.table(key);
        Machine {
            name,
            widest: section.length("widest"),
            shortest: section.length("shortest"),
            pass: section.length("pass"),
        }
    };
    Machines {
        jointer: machine("jointer", "jointer"),
        planer: machine("planer", "planer"),
        drum_sander: machine("drum_sander", "drum sander"),
    }
}

pub(super) fn router_table(shop: &Section<'_>) -> RouterTable {
    let table = shop.table("router_table");
    RouterTable {
        pass: table.length("pass"),
        last_pass: table.length("last_pass"),
        least_edge: table.length("least_edge"),
        least_height: table.length("least_height"),
    }
}

pub(super) fn plunge_router(shop: &Section<'_>) -> PlungeRouter {
    let router = shop.table("plunge_router");
    PlungeRouter { base: router.length("base"), guide_bush: router.maybe_length("guide_bush") }
}

/// The CNC, where the plan has one.
pub(super) fn cnc(shop: &Section<'_>) -> Option<Cnc> {
    let cnc = shop.table("cnc");
    if !cnc.is_there() {
        return None;
    }
    Some(Cnc {
        travel: cnc.lengths("travel").unwrap_or_default(),
        clear_height: cnc.length("clear_height"),
        clamps: cnc.tables("clamps").unwrap_or_default().iter().map(clamp).collect(),
        flat_clamps: cnc.tables("flat_clamps").unwrap_or_default().iter().map(flat_clamp).collect(),
        nut: cnc.maybe_length("nut_diameter"),
        spindle: spindle(&cnc),
        safe_height: cnc.length("safe_height"),
        step_down: cnc.maybe_length("step_down"),
        speed: cnc.small("speed").unwrap_or_default(),
        least_speed: cnc.small("least_speed"),
        chip_load: cnc.maybe_length("chip_load"),
        most_feed: cnc.length("most_feed"),
        rapid: cnc.length("rapid"),
        acceleration: cnc.length("acceleration"),
        most_rim_speed: cnc.number("most_rim_speed").unwrap_or_default(),
        ramp: cnc.small("ramp").unwrap_or_default(),
        plunge: cnc.switch("plunge").unwrap_or_default(),
        wall_pass: cnc.length("wall_pass"),
        last_pass: cnc.choice("last_pass_runs", &MILLING),
        widening: cnc.choice("widening_runs", &MILLING),
        written: written(&cnc),
    })
}

/// Its body: both how wide it is and how high above the nut, or neither.
fn spindle(cnc: &Section<'_>) -> Option<Spindle> {
    const KEYS: [&str; 2] = ["spindle_diameter", "nut_height"];
    let [diameter, above_nut] = KEYS.map(|key| cnc.maybe_length(key));
    if let [true, false] | [false, true] = KEYS.map(|key| cnc.has(key)) {
        let [given, missing] = if cnc.has(KEYS[0]) { KEYS } else { [KEYS[1], KEYS[0]] };
        let what = format!("without {missing} it doesn't say where the spindle's body is");
        cnc.report(given, what, format!("give {missing} too, or take this out"));
    }
    Some(Spindle { diameter: diameter?, above_nut: above_nut? })
}

const MILLING: [Milling; 2] = [Milling::Climb, Milling::Conventional];

fn written(cnc: &Section<'_>) -> Written {
    let unit = if cnc.reading.metric() { Unit::Millimetre } else { Unit::Inch };
    Written {
        unit: cnc.maybe_choice("numbers_in", &[Unit::Inch, Unit::Millimetre]).unwrap_or(unit),
        arcs: cnc.choice("arcs_as", &[true, false]),
        arc_tolerance: cnc.length("arc_tolerance"),
        line_numbers: cnc.switch("line_numbers").unwrap_or_default(),
        longest_line: cnc.small("longest_line").unwrap_or_default(),
        holds: cnc.choice("programs", &[Holds::EachCut, Holds::EachBit, Holds::EachSide]),
    }
}

fn clamp(section: &Section<'_>) -> Clamp {
    let before = section.reading.count();
    let clamp = Clamp { from: section.length("from"), to: section.length("to"), above: section.length("above") };
    if section.reading.count() == before && clamp.to <= clamp.from {
        section.report("to", "the clamp ends before it begins".to_owned(), "to must be more than from".to_owned());
    }
    clamp
}

fn flat_clamp(section: &Section<'_>) -> FlatClamp {
    let before = section.reading.count();
    let of = |x: &str, y: &str| [section.length(x), section.length(y)];
    let clamp = FlatClamp { from: of("from_x", "from_y"), to: of("to_x", "to_y"), above: section.length("above") };
    for (axis, key) in ["to_x", "to_y"].into_iter().enumerate() {
        if section.reading.count() == before && clamp.to[axis] <= clamp.from[axis] {
            let from = key.replace("to", "from");
            section.report(
                key,
                "the clamp ends before it begins".to_owned(),
                format!("{key} must be more than {from}"),
            );
        }
    }
    clamp
}

pub(super) fn limits(top: &Section<'_>) -> Limits {
    let limits = top.table("limits");
    Limits {
        lip_least: limits.length("lip_least"),
        lip_care: limits.length("lip_care"),
        behind_floor: limits.length("behind_floor"),
        floor: limits.length("floor"),
        flat: limits.length("flat"),
        between_recesses: limits.length("between_recesses"),
        sliver: limits.length("sliver"),
        thin: limits.length("thin"),
        thick: limits.length("thick"),
        short_chance: limits.share("short_chance").unwrap_or_default(),
        colour: limits.number("colour").and_then(Threshold::new).unwrap_or_default(),
        movement: limits.length("movement"),
    }
}
