//! The cuts on the faces, the corners and the rims: `[corners]`, `[round_over]`, `[chamfer]`, `[[grooves]]`,
//! `[[finger_recesses]]`, `[feet]`, `[hanging_hole]`, `[surfacing]`, `[outline]`.

use super::cuts::{Bits, rim};
use super::reader::Section;
use quarterturn_geometry::cut::{
    Bit, CutOut, Cuts, Easing, Edge, Face, Feet, FingerRecess, Groove, HangingHole, Spout, Surfacing,
};
use quarterturn_geometry::measure::Length;

/// The cuts, and the bits that ease the upper and the lower rim on the CNC.
pub(super) fn cuts(top: &Section<'_>, bits: &Bits) -> (Cuts, [Option<Bit>; 2]) {
    let ([upper_rim, lower_rim], rim_bits) = rims(top, bits);
    let mut cuts = Cuts { corner_radius: corners(top), upper_rim, lower_rim, ..Cuts::default() };
    for section in top.tables("grooves").unwrap_or_default() {
        let Some(groove) = groove(&section, bits) else { continue };
        for entry in section.list("spouts").unwrap_or_default() {
            cuts.spouts.extend(spout(&entry, bits, &groove, cuts.grooves.len()));
        }
        cuts.grooves.push(groove);
    }
    for section in top.tables("finger_recesses").unwrap_or_default() {
        cuts.finger_recesses.extend(finger_recesses(&section, bits).unwrap_or_default());
    }
    cuts.feet = feet(top, bits);
    cuts.hanging_hole = hanging_hole(top, bits);
    (cuts, rim_bits)
}

fn corners(top: &Section<'_>) -> Option<Length> {
    let section = top.table("corners");
    section.is_there().then(|| section.length("radius"))
}

/// The bit that eases a rim on the CNC, where one is named.
fn rim_bit(section: &Section<'_>, bits: &Bits, rim: Easing) -> Option<Bit> {
    let bit = if section.has("bit") { bits.found(section)? } else { return None };
    let (fits, right) = match (rim, bit.eases) {
        (Easing::RoundOver(radius), hollow) => {
            (hollow == Some(Easing::RoundOver(radius)), "a bit whose round_over is this radius")
        }
        (Easing::Chamfer(size), Some(Easing::Chamfer(cone))) => {
            (size <= cone, "a bit whose chamfer is this size or more")
        }
        (Easing::Chamfer(_), _) => (false, "a bit whose chamfer is this size or more"),
    };
    if !fits {
        section.report("bit", format!("bit {} does not ease this rim", bit.name), right.to_owned());
    }
    fits.then_some(bit)
}

/// How the upper and the lower rim are eased, each once at most, and the bits that ease them on the CNC.
fn rims(top: &Section<'_>, bits: &Bits) -> ([Option<Easing>; 2], [Option<Bit>; 2]) {
    let (mut rims, mut of_rims) = ([None; 2], [None, None]);
    let of: [fn(Length) -> Easing; 2] = [Easing::RoundOver, Easing::Chamfer];
    for ((name, size), easing) in [("round_over", "radius"), ("chamfer", "size")].into_iter().zip(of) {
        let before = top.reading.count();
        let section = top.table(name);
        if !section.is_there() {
            continue;
        }
        let size = section.length(size);
        let bit = rim_bit(&section, bits, easing(size));
        let free: Vec<usize> = (0..2).filter(|rim| rims[*rim].is_none()).collect();
        let which =
            if section.has("rims") { section.choices("rims", &[0, 1]).unwrap_or_default() } else { free.clone() };
        if top.reading.count() == before && (which.is_empty() || which.iter().any(|rim| !free.contains(rim))) {
            let what = "that rim is rounded over already".to_owned();
            section.report("rims", what, "give each rim one of the two: say rims = \"upper rim\" in one section and rims = \"lower rim\" in the other".to_owned());
        }
        for rim in which {
            rims[rim] = Some(easing(size));
            of_rims[rim].clone_from(&bit);
        }
    }
    (rims, of_rims)
}

fn groove(section: &Section<'_>, bits: &Bits) -> Option<Groove> {
    let face = section.maybe_choice("face", &Face::ALL).unwrap_or(Face::Upper);
    let (depth, setback) = (section.length("depth"), section.length("setback"));
    let (corner_radius, rim) = (section.length("corner_radius"), rim(section));
    Some(Groove { face, bit: bits.named_by(section)?, depth, setback, corner_radius, rim })
}

fn spout(entry: &Section<'_>, bits: &Bits, groove: &Groove, place: usize) -> Option<Spout> {
    let edge = entry.maybe_choice("edge", &Edge::ALL);
    let bit = if entry.has("bit") { bits.named_by(entry) } else { Some(groove.bit.clone()) };
    let depth = entry.maybe_length("depth").unwrap_or(groove.depth);
    let along = entry.maybe_length("along");
    Some(Spout { groove: place, edge: edge?, bit: bit?, depth, along })
}

fn finger_recesses(section: &Section<'_>, bits: &Bits) -> Option<Vec<FingerRecess>> {
    let edges = section.choices("edge", &Edge::ALL);
    let bit = bits.named_by(section);
    let (depth, in_from_edge) = (section.length("depth"), section.length("in_from_edge"));
    let [near, far] = section.pair("setback");
    let (rise, rim) = (section.maybe_length("rise"), rim(section));
    let bit = bit?;
    let one = |edge: Edge| {
        // Written from the left or the front; an edge's own ends may run the other way.
        let setbacks = if runs_from_the_low_end(edge) { [near, far] } else { [far, near] };
        FingerRecess { edge, bit: bit.clone(), depth, in_from_edge, setbacks, rise, rim }
    };
    Some(edges?.into_iter().map(one).collect())
}

/// Whether the first of an edge's ends is its left or front one.
fn runs_from_the_low_end(edge: Edge) -> bool {
    matches!(edge.ends()[0], Edge::Left | Edge::Front)
}

fn feet(top: &Section<'_>, bits: &Bits) -> Option<Feet> {
    let section = top.table("feet");
    if !section.is_there() {
        return None;
    }
    let (depth, from_edges) = (section.length("depth"), section.pair("from_edges"));
    let bit = bits.named_by(&section)?;
    let diameter = hole(&section, &bit);
    Some(Feet { bit, diameter, depth, from_edges })
}

/// A hole's diameter, where it isn't its bit's: so much wider at least that the bit goes round, and no wider than once round clears.
fn hole(section: &Section<'_>, bit: &Bit) -> Option<Length> {
    let diameter = section.maybe_length("diameter")?;
    let [least, most] = bit.holes();
    if diameter == bit.diameter {
        return None;
    }
    if diameter < bit.diameter {
        let what = format!("the hole is narrower than bit {}", bit.name);
        section.report("diameter", what, "a narrower bit, or a hole as wide as it".to_owned());
    } else if diameter < least {
        let what = format!("the hole is so little wider than bit {} that the bit can't go round in it", bit.name);
        section.report("diameter", what, "a narrower bit, or a hole as wide as it".to_owned());
    } else if diameter > most {
        let what = format!("bit {}, going once round, would leave a core in this hole", bit.name);
        section.report(
            "diameter",
            what,
            "nine tenths of the bit's flat end more than its diameter, or a wider bit".to_owned(),
        );
    }
    Some(diameter)
}

fn hanging_hole(top: &Section<'_>, bits: &Bits) -> Option<HangingHole> {
    let section = top.table("hanging_hole");
    if !section.is_there() {
        return None;
    }
    let edge = section.maybe_choice("edge", &Edge::ALL);
    let (in_from_edge, along) = (section.length("in_from_edge"), section.maybe_length("along"));
    let bit = bits.named_by(&section)?;
    let diameter = hole(&section, &bit);
    Some(HangingHole { bit, diameter, edge: edge?, in_from_edge, along })
}

/// Faces that the CNC levels.
pub(super) fn surfacing(top: &Section<'_>, bits: &Bits) -> Option<Surfacing> {
    let section = top.table("surfacing");
    if !section.is_there() {
        return None;
    }
    let faces =
        if section.has("faces") { section.choices("faces", &Face::ALL)? } else { vec![Face::Lower, Face::Upper] };
    let panels = section.switch("panels").unwrap_or_default();
    Some(Surfacing { bit: bits.named_by(&section)?, faces, panels })
}

/// The board cut out by the CNC.
pub(super) fn cut_out(top: &Section<'_>, bits: &Bits) -> Option<CutOut> {
    let section = top.table("outline");
    if !section.is_there() {
        return None;
    }
    let tabs: u8 = section.small("tabs").unwrap_or_default();
    let (tab_length, tab_height) = (section.length("tab_length"), section.length("tab_height"));
    let below = section.length("below");
    let bit = bits.named_by(&section)?;
    if bit.corner_radius.is_positive() {
        let what = format!("bit {} is not a straight one: it would leave a foot on the board's sides", bit.name);
        section.report("bit", what, "a bit with corner_radius = 0".to_owned());
    }
    if !tabs.is_multiple_of(2) {
        section.report("tabs", format!("{tabs} tabs can't be shared by front and back"), "2, 4, 6 or 8".to_owned());
    }
    Some(CutOut { bit, tabs, tab_length, tab_height, below })
}
