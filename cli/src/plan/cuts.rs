//! `[[bits]]`, `[[handholds]]`.

use super::reader::Section;
use super::table::MOST_HANDHOLDS;
use quarterturn_geometry::cut::{Bit, Easing, Edge, Handhold, Reach};
use quarterturn_geometry::measure::Length;

/// The bits as read.
pub(super) struct Bits {
    pub(super) all: Vec<Bit>,
    /// Whether every bit could be read: else a name that isn't there tells nothing.
    complete: bool,
}

impl Bits {
    pub(super) fn read(top: &Section<'_>) -> Self {
        let sections = top.tables("bits");
        let mut bits = Self { all: Vec::new(), complete: sections.is_some() };
        for section in sections.unwrap_or_default() {
            let Some(bit) = bit(&section) else {
                bits.complete = false;
                continue;
            };
            if bits.all.iter().any(|other| other.name == bit.name) {
                section.report("name", format!("there are two bits {}", bit.name), "give each its own name".to_owned());
            }
            bits.all.push(bit);
        }
        bits
    }

    /// The bit that a cut names, or the only one: one with upright sides.
    pub(super) fn named_by(&self, cut: &Section<'_>) -> Option<Bit> {
        let bit = self.found(cut)?;
        if bit.eases.is_some() {
            let what = format!("bit {} only eases rims", bit.name);
            cut.report("bit", what, "a bit with upright sides".to_owned());
        }
        Some(bit)
    }

    /// The bit that a section names, or the only one.
    pub(super) fn found(&self, handhold: &Section<'_>) -> Option<Bit> {
        let names: Vec<&str> = self.all.iter().map(|bit| bit.name.as_str()).take(20).collect();
        let right = match names.as_slice() {
            [] => "add the bit in [[bits]]".to_owned(),
            names => format!("the bits are {}", names.join(", ")),
        };
        if !handhold.has("bit") {
            return match (self.all.as_slice(), self.complete) {
                ([only], true) => Some(only.clone()),
                (_, false) => None,
                _ => {
                    handhold.report("bit", "no bit is named".to_owned(), format!("add bit = …; {right}"));
                    None
                }
            };
        }
        let name = handhold.text("bit")?;
        let found = self.all.iter().find(|bit| bit.name == name);
        if found.is_none() && self.complete {
            handhold.report("bit", format!("there is no bit {name}"), right);
        }
        found.cloned()
    }
}

fn bit(section: &Section<'_>) -> Option<Bit> {
    let before = section.reading.count();
    let name = section.text("name");
    let diameter = section.length("diameter");
    let bit = Bit {
        name: name?,
        diameter,
        corner_radius: section.length("corner_radius"),
        reach: section.maybe_length("reach").unwrap_or(diameter),
        flutes: section.small("flutes").unwrap_or_default(),
        cuts_at_centre: section.switch("cuts_at_centre").unwrap_or_default(),
        most_speed: section.small("most_speed"),
        chip_load: section.maybe_length("chip_load"),
        stick_out: section.maybe_length("stick_out"),
        eases: rim(section),
    };
    if section.reading.count() == before && bit.eases.is_some() && bit.corner_radius.is_positive() {
        let what = "a bit that eases rims has no rounded corner below".to_owned();
        section.report("corner_radius", what, "leave it out".to_owned());
    }
    if section.reading.count() == before && bit.tip() < 0.0 {
        let key = if section.has("chamfer") { "chamfer" } else { "round_over" };
        let what = "it is more than half the diameter".to_owned();
        section.report(key, what, "what is left of the diameter is its flat end".to_owned());
    }
    if section.reading.count() == before && bit.corner_radius * 2 > bit.diameter {
        let what = "the corner radius is more than half the diameter".to_owned();
        section.report("corner_radius", what, "half the diameter is a ball nose".to_owned());
    }
    Some(bit)
}

pub(super) fn handholds(top: &Section<'_>, bits: &Bits) -> Vec<Handhold> {
    let mut all = Vec::new();
    for section in top.tables("handholds").unwrap_or_default() {
        all.extend(handhold(&section, bits).unwrap_or_default());
        if all.len() > MOST_HANDHOLDS {
            let what = format!("with these there are more than {MOST_HANDHOLDS} handholds");
            section.report("edge", what, format!("a plan has {MOST_HANDHOLDS} at most"));
            break;
        }
    }
    all
}

fn handhold(section: &Section<'_>, bits: &Bits) -> Option<Vec<Handhold>> {
    let before = section.reading.count();
    let edges = section.choices("edge", &Edge::ALL);
    let bit = bits.named_by(section);
    let depth = section.length("depth");
    let above_lower_face = section.maybe_length("above_lower_face");
    let passes = section.small("passes");
    let (width, rim) = (section.maybe_length("width"), rim(section));
    let (stops, setbacks) = (stops(section), Setbacks::read(section));
    let edges = edges?;
    if section.reading.count() == before {
        check_ends(section, &edges);
    }
    let bit = bit?;
    let reach = |edge: Edge| stops.unwrap_or_else(|| Reach::Setbacks(edge.ends().map(|end| setbacks.at(end))));
    let one =
        |edge| Handhold { edge, bit: bit.clone(), depth, reach: reach(edge), above_lower_face, passes, width, rim };
    Some(edges.into_iter().map(one).collect())
}

/// How a cut's own rim is eased: rounded over or chamfered, not both.
pub(super) fn rim(section: &Section<'_>) -> Option<Easing> {
    let (round, chamfer) = (section.maybe_length("round_over"), section.maybe_length("chamfer"));
    if round.is_some() && chamfer.is_some() {
        let what = "a rim is rounded over or chamfered, not both".to_owned();
        section.report("chamfer", what, "keep one of the two".to_owned());
    }
    round.map(Easing::RoundOver).or(chamfer.map(Easing::Chamfer))
}

/// The two stops, where they are written.
fn stops(section: &Section<'_>) -> Option<Reach> {
    let (right_hand, left_hand) = (section.maybe_length("right_hand_stop"), section.maybe_length("left_hand_stop"));
    Some(Reach::Stops { right_hand: right_hand?, left_hand: left_hand? })
}

/// The keys for one end alone, in the order of [`Edge::ALL`].
const ONE_END: [&str; 4] = ["setback_left", "setback_right", "setback_front", "setback_back"];

/// From each corner, in the order of [`Edge::ALL`].
struct Setbacks([Length; 4]);

impl Setbacks {
    fn read(section: &Section<'_>) -> Self {
        let both = section.length("setback");
        Self(ONE_END.map(|name| section.maybe_length(name).unwrap_or(both)))
    }

    const fn at(&self, end: Edge) -> Length {
        let [left, right, front, back] = self.0;
        match end {
            Edge::Left => left,
            Edge::Right => right,
            Edge::Front => front,
            Edge::Back => back,
        }
    }
}

/// Both ends are given by setbacks of the edge's own ends, or both by stops.
fn check_ends(section: &Section<'_>, edges: &[Edge]) {
    const STOPS: [&str; 2] = ["right_hand_stop", "left_hand_stop"];
    let stop = STOPS.into_iter().find(|name| section.has(name));
    let setback = std::iter::once("setback").chain(ONE_END).find(|name| section.has(name));
    match (stop, setback) {
        (Some(_), Some(setback)) => {
            let what = "a setback and a stop say the same thing twice".to_owned();
            section.report(setback, what, "keep the setbacks, or both stops".to_owned());
        }
        (Some(stop), None) => {
            if let Some(missing) = STOPS.into_iter().find(|name| !section.has(name)) {
                section.report(stop, format!("without {missing}"), format!("add {missing}, or use setbacks"));
            }
        }
        _ => check_setbacks(section, edges),
    }
}

/// An edge has two ends; a setback for another is a slip.
fn check_setbacks(section: &Section<'_>, edges: &[Edge]) {
    for (end, name) in Edge::ALL.into_iter().zip(ONE_END) {
        let without = edges.iter().find(|edge| !edge.ends().contains(&end));
        if let (true, Some(edge)) = (section.has(name), without) {
            let [one, two] = edge.ends().map(Edge::name);
            let what = format!("the {} edge has no {} end", edge.name(), end.name());
            section.report(name, what, format!("its ends are {one} and {two}: setback_{one}, setback_{two}"));
        }
    }
}
