//! Checks of the handholds.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::{ALIKE, Finding, Kind, Look, Subject, found};
use crate::board::Board;
use crate::cut::{Cut, Cuts, Easing, Edge, Finished, Handhold, Profile, Reach};
use crate::measure::Length;
use crate::path::{Cutting, NoProgram, Program, RouterSetup, Up};
use crate::solid::Lip;

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let Ok(board) = &look.outcome.board else { return };
    let size = board.finished();
    for (i, hold) in look.job.handholds.iter().enumerate() {
        let one = One { look, board, size: &size, hold, subject: Subject::Handhold(i) };
        all.extend(one.reach());
        all.extend(one.stops());
        all.extend(one.narrower());
        all.extend(one.rim());
        all.extend(one.too_wide());
        all.extend(one.lip());
        all.extend(one.behind_floor());
        all.extend(one.crossed());
        all.extend(one.flat());
        all.extend(one.in_a_corner());
        all.extend(one.lowering());
        all.extend(one.program());
    }
}

/// One handhold under the eye.
struct One<'a> {
    look: &'a Look<'a>,
    board: &'a Board,
    size: &'a Finished,
    hold: &'a Handhold,
    subject: Subject,
}

impl One<'_> {
    fn found(&self, check: &'static str, kind: Kind, says: String, mends: String) -> Option<Finding> {
        Some(found(check, kind, self.subject, says, mends))
    }

    fn reach(&self) -> Option<Finding> {
        let (depth, bit) = (self.hold.depth, &self.hold.bit);
        if depth <= bit.reach {
            return None;
        }
        let says = format!(
            "the recess is {} deep and bit {} reaches {}",
            self.look.say(depth.mm()),
            bit.name,
            self.look.say(bit.reach.mm())
        );
        let mends = format!("{} deep at most, or a longer bit", self.look.at_most(bit.reach.mm()));
        self.found("bit does not reach", CantBeMade, says, mends)
    }

    fn stops(&self) -> Option<Finding> {
        let [a, c] = self.hold.setbacks(self.size);
        let travel = self.hold.travel(self.size);
        if travel >= 0.0 && a >= -ALIKE && c >= -ALIKE {
            return None;
        }
        let [first, second] = self.hold.edge.ends().map(Edge::name);
        let edge = self.look.say(self.hold.edge.length(self.size));
        let says = if travel < 0.0 {
            let wide = self.look.say(2.0 * self.hold.half_width());
            format!(
                "setbacks of {} and {} leave no room for a bit cutting {wide} wide on an edge of {edge}",
                self.look.say(a),
                self.look.say(c)
            )
        } else {
            let (over, end) = if a < c { (-a, first) } else { (-c, second) };
            format!("the recess runs {} past the {end} end of an edge of {edge}", self.look.at_least(over))
        };
        let room = self.hold.edge.length(self.size) - 2.0 * self.hold.half_width();
        let mends = if matches!(self.hold.reach, Reach::Stops { .. }) && travel < 0.0 {
            format!(
                "stops that add up to {} at least: the edge's length and the bit's way",
                self.look.at_least(self.hold.edge.length(self.size))
            )
        } else {
            format!("setbacks that add up to {} at most, neither under 0", self.look.at_most(room.max(0.0)))
        };
        self.found("stops cross or leave the edge", CantBeMade, says, mends)
    }

    fn narrower(&self) -> Option<Finding> {
        if self.hold.widening() >= -ALIKE {
            return None;
        }
        let (asked, wide) = (self.hold.width?, 2.0 * self.hold.half_width());
        let says = format!(
            "a recess {} wide, and bit {} cuts {}",
            self.look.limit(asked),
            self.hold.bit.name,
            self.look.say(wide)
        );
        let mends = format!("{} wide at least, or a narrower bit", self.look.at_least(wide));
        self.found("recess narrower than its bit", CantBeMade, says, mends)
    }

    fn rim(&self) -> Option<Finding> {
        let (says, mends) = rim_too_large(self.look, &self.hold.profile())?;
        self.found("rim larger than the wall", CantBeMade, says, mends)
    }

    fn too_wide(&self) -> Option<Finding> {
        let least = self.look.job.limits.lip_least;
        let (width, thickness) = (2.0 * self.hold.half_opening(), self.size.thickness);
        if width + 2.0 * least.mm() <= thickness + ALIKE {
            return None;
        }
        let rims = 2.0 * self.hold.profile().rim_size();
        let with_rim = if rims > 0.0 {
            format!(" and its rim, {} on each side,", self.look.say(rims / 2.0))
        } else {
            String::new()
        };
        let says = format!(
            "a recess {} wide{with_rim} in a board {} thick leaves less than {} on each side",
            self.look.say(width - rims),
            self.look.say(thickness),
            self.look.limit(least)
        );
        let room = thickness - 2.0 * least.mm() - rims;
        let narrower = match room {
            room if room >= 2.0 * self.hold.half_width() => {
                format!("a recess {} wide at most, ", self.look.at_most(room))
            }
            room if room > 0.0 => format!("a bit cutting {} wide at most, ", self.look.at_most(room)),
            _ => "a narrower bit, ".to_owned(),
        };
        let smaller = if rims > 0.0 { "a smaller rim, " } else { "" };
        let thick = self.look.at_least(width + 2.0 * least.mm());
        let mends = format!("{narrower}{smaller}or a board {thick} thick");
        let finding = self.found("recess wider than the board allows", CantBeMade, says, mends)?;
        Some(if self.hold.width.is_none() { finding.turning_on("bit") } else { finding })
    }

    fn lip(&self) -> Option<Finding> {
        let limits = &self.look.job.limits;
        let computed = Lip::computed(self.hold, self.size);
        // A recess that breaks out has no lip; else the solid is asked.
        let lip =
            if computed.thickness <= 0.0 { computed } else { Lip::measured(self.hold, self.size).unwrap_or(computed) };
        let (thickness, depth) = (lip.thickness, self.hold.depth);
        let (kind, why) = if thickness <= ALIKE {
            (CantBeMade, "the recess breaks out".to_owned())
        } else if thickness < limits.lip_least.mm() - ALIKE {
            (CantBeMade, format!("under {} it snaps off", self.look.limit(limits.lip_least)))
        } else if thickness < limits.lip_care.mm() - ALIKE {
            (TakeCare, format!("under {} it is weak: it is short grain", self.look.limit(limits.lip_care)))
        } else if thickness < depth.mm() - ALIKE {
            (
                TakeCare,
                format!("it is thinner than the recess is deep ({}): it is short grain", self.look.say(depth.mm())),
            )
        } else {
            return None;
        };
        let says = format!("the lip to the {} is {} thick; {why}", lip.face, self.look.at_most(thickness.max(0.0)));
        if self.hold.edge.ends().iter().any(|end| end.name() == lip.face) {
            let wanted = self.look.at_least(limits.lip_care.max(depth).mm() + self.hold.profile().rim_size());
            let mends = format!("a setback of {wanted} there");
            return Some(self.found("thin lip", kind, says, mends)?.turning_on(setback_key(lip.face)));
        }
        let [below, above] = self.hold.lips(self.size);
        let centre = if (below - above).abs() > ALIKE { "centre the recess, or " } else { "" };
        let rim = if self.hold.rim.is_some() { "a smaller rim, " } else { "" };
        // Measured up from the lower face it stays where it is in a thicker board.
        let thicker =
            if lip.face == "lower face" && self.hold.above_lower_face.is_some() { "" } else { ", a thicker board" };
        let mends = format!("{centre}{rim}a smaller bit, a shallower recess{thicker}");
        self.found("thin lip", kind, says, mends)
    }

    fn behind_floor(&self) -> Option<Finding> {
        let limit = self.look.job.limits.behind_floor;
        let line = first_parallel_line(self.board, self.hold)?;
        let behind = line - self.hold.depth.mm();
        if behind >= limit.mm() - ALIKE {
            return None;
        }
        let says = if behind < 0.0 {
            format!("the floor passes a glue line that lies {} in from the edge", self.look.say(line))
        } else {
            format!(
                "a glue line runs {} behind the floor; {} at least is wanted",
                self.look.at_most(behind),
                self.look.limit(limit)
            )
        };
        let sound = line - limit.mm();
        let mends = if sound > 0.0 {
            format!("{} deep at most, or trim less at this edge", self.look.at_most(sound))
        } else {
            "trim less at this edge, or a wider strip or blank there".to_owned()
        };
        self.found("glue line behind the floor", TakeCare, says, mends)
    }

    fn crossed(&self) -> Option<Finding> {
        let lines = lines_crossed(self.board, self.hold);
        if lines == 0 {
            return None;
        }
        let says = format!("the recess crosses {lines} glue line{} squarely: sound", if lines == 1 { "" } else { "s" });
        self.found("glue lines crossed", Note, says, String::new())
    }

    fn flat(&self) -> Option<Finding> {
        let (flat, easing) = flat_beside(self.hold, self.size, &self.look.job.cuts)?;
        let (limit, size, name) = (self.look.job.limits.flat, self.look.say(easing.size()), easing.name());
        let (kind, says) = if flat <= ALIKE {
            (CantBeMade, format!("a {name} of {size} cuts into the recess"))
        } else if flat < limit.mm() - ALIKE {
            let left = self.look.at_most(flat.max(0.0));
            (TakeCare, format!("only {left} of flat is left beside a {name} of {size}"))
        } else {
            return None;
        };
        let most = flat + easing.size() - limit.mm();
        let mends = if most > 0.0 {
            format!("a {name} of {} at most, or a narrower recess", self.look.at_most(most))
        } else {
            format!("no {name} here, or a narrower recess")
        };
        Some(self.found("round-over reaches the recess", kind, says, mends)?.turning_on(rim_key(easing)))
    }

    fn in_a_corner(&self) -> Option<Finding> {
        let radius = self.look.job.cuts.corner_radius?;
        let ([a, c], rim) = (self.hold.setbacks(self.size), self.hold.profile().rim_size());
        if a.min(c) - rim > radius.mm() + ALIKE {
            return None;
        }
        let (says, mends) = in_rounded_corner(self.look, a.min(c), rim, radius);
        let [first, second] = self.hold.edge.ends().map(|end| setback_key(end.name()));
        let setting = if a <= c { first } else { second };
        Some(self.found("recess runs into a rounded corner", CantBeMade, says, mends)?.turning_on(setting))
    }

    fn lowering(&self) -> Option<Finding> {
        let table = &self.look.job.router_table;
        let setup = RouterSetup::of(self.hold, self.size, table);
        if setup.may_be_lowered {
            return None;
        }
        let (edge, stands) = (self.hold.edge.length(self.size), self.hold.edge.stands(self.size));
        let says = if edge < table.least_edge.mm() - ALIKE {
            format!(
                "the edge is {} long, under the {} that may be lowered onto a turning bit",
                self.look.say(edge),
                self.look.limit(table.least_edge)
            )
        } else {
            format!(
                "the board stands {} high, under the {} that may be lowered onto a turning bit",
                self.look.say(stands),
                self.look.limit(table.least_height)
            )
        };
        let mends = "a plunge router between two squared boards".to_owned();
        self.found("not to be lowered onto the bit", TakeCare, says, mends)
    }

    fn program(&self) -> Option<Finding> {
        let place = if let Subject::Handhold(i) = self.subject { i } else { 0 };
        let (check, says, mends) = no_program(self.look, &Cutting::handhold(place, self.hold, self.size))?;
        self.found(check, TakeCare, says, mends)
    }
}

/// The setting of one end's setback.
fn setback_key(face: &str) -> &'static str {
    match face {
        "left" => "setback_left",
        "right" => "setback_right",
        "front" => "setback_front",
        _ => "setback_back",
    }
}

/// The setting of the board's eased rim.
pub(super) const fn rim_key(easing: Easing) -> &'static str {
    match easing {
        Easing::RoundOver(_) => "round_over.radius",
        Easing::Chamfer(_) => "chamfer.size",
    }
}

/// What is wrong with a recess whose eased rim ends no farther from the board's corner than that is rounded, and what
/// mends it.
pub(super) fn in_rounded_corner(look: &Look, setback: f64, rim: f64, radius: Length) -> (String, String) {
    let with = if rim > 0.0 { format!(", its rim {} before that", look.say(rim)) } else { String::new() };
    let says = format!(
        "the recess ends {} from the corner{with}, which is rounded by {}",
        look.say(setback),
        look.limit(radius)
    );
    (says, format!("setbacks over {}, or a smaller corner radius", look.at_least(radius.mm() + rim)))
}

/// Why the CNC can't make a cut, and what mends it.
pub(super) fn no_program(look: &Look, cutting: &Cutting) -> Option<(&'static str, String, String)> {
    let why = Program::of(cutting, look.job.cnc.as_ref()?, look.job.hardest()).err()?;
    let on_edge = matches!(cutting.up, Up::Edge(_));
    let by_hand = if on_edge { "the router table" } else { "a plunge router" };
    let (check, says, mends) = match why {
        NoProgram::TooHigh { stands, clears } => (
            if on_edge { "board stands too high for the CNC" } else { "CNC can't make this cut" },
            format!(
                "{}, with the safe height above it, the board needs {} under the bit and the CNC clears {}",
                if on_edge { "on edge" } else { "lying flat" },
                look.at_least(stands),
                look.say(clears)
            ),
            if on_edge { format!("a vertical clamp at the machine's front, or {by_hand}") } else { by_hand.to_owned() },
        ),
        NoProgram::Travel { axis, needed, has } => (
            "CNC can't make this cut",
            format!(
                "the cut travels {} along {} and the CNC has {}",
                look.at_least(needed),
                ["X", "Y", "Z"][axis.min(2)],
                look.say(has)
            ),
            by_hand.to_owned(),
        ),
        NoProgram::Clamp(i) => (
            "CNC can't make this cut",
            match cutting.cut {
                Cut::Handhold(_) | Cut::Face(_) => format!("clamp {} stands where the bit goes", i + 1),
                _ => format!("clamp {} stands where the bit goes for the {}", i + 1, cutting.name),
            },
            "move the clamp or set it lower".to_owned(),
        ),
        NoProgram::StickOut { needed, has } => (
            "CNC can't make this cut",
            format!(
                "bit {} stands {} out of its nut and must {}, or the nut comes down onto the wood",
                cutting.bit.name,
                look.say(has),
                look.at_least(needed)
            ),
            "a larger stick_out, or a longer bit".to_owned(),
        ),
        NoProgram::NutOnClamp(i) => (
            "CNC can't make this cut",
            format!("the nut comes down onto clamp {} at the {}", i + 1, cutting.name),
            "move the clamp, set it lower, or let the bit stand out farther".to_owned(),
        ),
        NoProgram::SpindleOnWood { needed, has } => (
            "CNC can't make this cut",
            format!(
                "bit {} stands {} out of its nut and must {} at the {}, or the spindle's body comes down onto the wood",
                cutting.bit.name,
                look.say(has),
                look.at_least(needed),
                cutting.name
            ),
            format!("bits.stick_out of {} or more, or a longer bit", look.at_least(needed)),
        ),
        NoProgram::SpindleOnClamp { clamp, needed, has } => (
            "CNC can't make this cut",
            format!(
                "the spindle's body comes down onto clamp {} at the {}: bit {} stands {} out of its nut",
                clamp + 1,
                cutting.name,
                cutting.bit.name,
                look.say(has)
            ),
            format!("bits.stick_out of {} or more, or move the clamp or set it lower", look.at_least(needed)),
        ),
        NoProgram::NoRamp => (
            "CNC can't make this cut",
            "there is no room to ramp down, and the bit does not cut at its centre".to_owned(),
            "a longer recess, or a bit that cuts at its centre".to_owned(),
        ),
        NoProgram::Spindle { most, least } => (
            "CNC can't make this cut",
            format!(
                "bit {} may turn {most} times a minute here and the spindle turns {least} at least",
                cutting.bit.name
            ),
            format!("a smaller bit, a slower spindle, or {by_hand}"),
        ),
        NoProgram::Reach { deep, reach } => (
            "CNC can't make this cut",
            format!(
                "the {} is {} deep and bit {} reaches {}",
                cutting.name,
                look.at_least(deep),
                cutting.bit.name,
                look.say(reach)
            ),
            "a longer bit".to_owned(),
        ),
        NoProgram::Frame { has, needed } => (
            "frame too narrow",
            format!(
                "beside the outline {} of the trim is left at the narrowest side, too narrow a frame to hold the board by its \
                 tabs",
                look.at_most(has)
            ),
            format!("trims wider by {} or more, or a narrower bit", look.at_least(needed - has)),
        ),
        NoProgram::NotStraight => (
            "CNC can't make this cut",
            format!("bit {} is not a straight one: it would leave a foot on the board's sides", cutting.bit.name),
            "a bit with corner_radius = 0".to_owned(),
        ),
        NoProgram::Nothing => return None,
    };
    Some((check, format!("{says}: the program is left out"), mends))
}

/// A rim that reaches down past the upright wall, where the bit's bearing would run: what is wrong, and what is right.
pub(super) fn rim_too_large(look: &Look, profile: &Profile) -> Option<(String, String)> {
    let rim = profile.rim.filter(|_| !profile.rim_fits())?;
    let (name, wall) = (rim.name(), profile.eased(None).upright());
    let says = format!(
        "its rim's {name} of {} is larger than the upright wall, {}, that the bearing runs along",
        look.say(rim.size()),
        look.say(wall)
    );
    let mends = if wall > 0.0 {
        format!("a {name} of {} at most, or a deeper cut", look.at_most(wall))
    } else {
        format!("no {name}, a deeper cut, or a bit with a smaller corner radius")
    };
    Some((says, mends))
}

/// How far in from the handhold's edge the first glue line parallel to it lies, mm: of all the
/// strips that the recess meets, the nearest; `None` where there is none.
pub(crate) fn first_parallel_line(board: &Board, hold: &Handhold) -> Option<f64> {
    let size = board.finished();
    let inside = |from: f64| (from > ALIKE).then_some(from);
    match hold.edge {
        Edge::Left => joints(board).into_iter().filter_map(inside).reduce(f64::min),
        Edge::Right => joints(board).into_iter().map(|x| size.length - x).filter_map(inside).reduce(f64::min),
        Edge::Front | Edge::Back => {
            let [low, high] = along(hold, &size);
            let met = (0..board.strips().len()).filter(|p| {
                let [from, to] = board.span(*p);
                to > from && from < high && to > low
            });
            met.flat_map(|p| blank_lines(board, p))
                .filter_map(|y| inside(if hold.edge == Edge::Front { y } else { size.width - y }))
                .reduce(f64::min)
        }
    }
}

/// How many glue lines at right angles to its edge the recess crosses.
pub(crate) fn lines_crossed(board: &Board, hold: &Handhold) -> usize {
    let size = board.finished();
    let [low, high] = along(hold, &size);
    // A line that the recess's very end touches is not crossed.
    let within = |at: &f64| *at > low + ALIKE && *at < high - ALIKE;
    match hold.edge {
        Edge::Front | Edge::Back => joints(board).iter().filter(|x| within(x)).count(),
        Edge::Left | Edge::Right => {
            let depth = hold.depth.mm();
            let met = |p: usize| {
                let [from, to] = board.span(p);
                to > from && if hold.edge == Edge::Left { from < depth } else { to > size.length - depth }
            };
            let strips = (0..board.strips().len()).filter(|p| met(*p));
            strips.map(|p| blank_lines(board, p).iter().filter(|y| within(y)).count()).max().unwrap_or(0)
        }
    }
}

/// The flat left between the recess's rim and the start of an eased rim, where it is least, mm, and that easing;
/// `None` where neither rim is eased.
pub(crate) fn flat_beside(hold: &Handhold, size: &Finished, cuts: &Cuts) -> Option<(f64, Easing)> {
    let [lower, upper] = hold.lips(size);
    let flat = |lip: f64, easing: Option<Easing>| easing.map(|e| (lip - e.size(), e));
    [flat(lower, cuts.lower_rim), flat(upper, cuts.upper_rim)].into_iter().flatten().min_by(|a, b| a.0.total_cmp(&b.0))
}

/// From where to where a recess runs on the board, along X for front and back, along Y for the ends.
fn along(hold: &Handhold, size: &Finished) -> [f64; 2] {
    let rho = hold.profile().at_surface();
    let [from, to] = hold.centres(size);
    let frame = hold.frame(size);
    let pick = |a: f64| {
        let at = frame.on_board(&nalgebra::Point3::new(a, 0.0, 0.0));
        if matches!(hold.edge, Edge::Front | Edge::Back) { at.x } else { at.y }
    };
    let (a, b) = (pick(from.x - rho), pick(to.x + rho));
    [a.min(b), a.max(b)]
}

/// The x of every glue line between strips that is left in the finished board.
pub(crate) fn joints(board: &Board) -> Vec<f64> {
    let length = board.finished().length;
    (1..board.strips().len()).map(|p| board.span(p)[0]).filter(|x| *x > ALIKE && *x < length - ALIKE).collect()
}

/// The y of every glue line between blanks of one strip that is left in the finished board.
pub(crate) fn blank_lines(board: &Board, place: usize) -> Vec<f64> {
    let width = board.finished().width;
    let mut lines: Vec<f64> =
        board.blank_spans(place).into_iter().flatten().filter(|y| *y > ALIKE && *y < width - ALIKE).collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|a, b| (*a - *b).abs() < ALIKE);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{handhold, inch};

    /// Common practice, no source: with a lip of 5/16 in on both sides, 1/4 in of flat is left
    /// after a 1/16 round-over.
    #[test]
    fn a_quarter_inch_of_flat_is_left_after_a_sixteenth_round_over() {
        let hold = Handhold { depth: inch("1/4"), ..handhold(["2", "2"]) };
        let size = Finished { length: 276.225, width: 212.725, thickness: inch("1 3/8").mm() };
        let easing = Some(Easing::RoundOver(inch("1/16")));
        let cuts = Cuts { upper_rim: easing, lower_rim: easing, ..Cuts::default() };
        assert!((flat_beside(&hold, &size, &cuts).unwrap().0 - inch("1/4").mm()).abs() < 1e-9);
    }
}
