//! Checks of the cuts on the faces, the corners and the eased rims.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::handhold::{blank_lines, in_rounded_corner, joints, no_program, rim_key, rim_too_large};
use super::{ALIKE, Finding, Kind, Look, Subject, found};
use crate::board::Board;
use crate::cut::{Cut, Cuts, Edge, Face, Feet, FingerRecess, Finished, Groove, Path, Sweep, Which};
use crate::measure::Length;
use crate::path::Cutting;
use crate::solid::NoBody;
use nalgebra::{Point2, Vector2};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    let Ok(board) = &look.outcome.board else { return };
    let (size, cuts) = (board.finished(), &look.job.cuts);
    all.extend(outline(look, &size));
    let sweeps = cuts.sweeps(&size);
    for (which, sweep) in &sweeps {
        let one = One { look, cuts, size: &size, which: *which, sweep };
        all.extend(one.reach());
        all.extend(one.room());
        all.extend(one.rim());
        all.extend(one.floor());
        all.extend(one.beside());
        all.extend(one.begins());
        all.extend(one.crossed(board));
    }
    for cutting in Cutting::all(&[], cuts, &size) {
        if let (Cut::Face(which), Some((check, says, mends))) = (cutting.cut, no_program(look, &cutting)) {
            all.push(found(check, TakeCare, Subject::Cut(which), says, mends));
        }
    }
    let of_the_board = |c: &Cutting| c.cut.is_of_the_whole() || matches!(c.cut, Cut::Rim(_));
    let whole: Vec<Cutting> = look.job.cuttings(board).into_iter().filter(of_the_board).collect();
    let mut outline_told = false;
    for cutting in whole {
        let of_outline = matches!(cutting.cut, Cut::Outline | Cut::BetweenTabs);
        // Both parts of an outline lack the same thing.
        if let Some((check, says, mends)) = no_program(look, &cutting).filter(|_| !(of_outline && outline_told)) {
            outline_told |= of_outline;
            all.push(found(check, TakeCare, Subject::Board, says, mends));
        }
    }
    all.extend(body(look, &size, all));
}

/// What mends cuts that are too close.
pub(super) const APART: &str = "move one of them, or a shallower or narrower cut";

/// What only the whole body tells: cuts that leave their face or run into each other.
fn body(look: &Look, size: &Finished, so_far: &[Finding]) -> Vec<Finding> {
    match look.job.body(*size) {
        // What meets what is told with how near all cuts come.
        Ok(_) | Err(NoBody::CutsMeet(_) | NoBody::Meet(..)) => Vec::new(),
        Err(NoBody::LeavesTheFace(which)) => vec![leaves(look, size, which)],
        // What else stops it has spoken for itself; if not, it does here.
        Err(_) if so_far.iter().any(|f| f.kind == CantBeMade) => Vec::new(),
        Err(why) => vec![found("cuts too close", CantBeMade, Subject::Board, why.to_string(), APART.to_owned())],
    }
}

/// By how much a cut runs out of the flat of its face, and over which edge; where it is only at a rounded corner, that.
fn leaves(look: &Look, size: &Finished, which: Which) -> Finding {
    let outline = look.job.cuts.outline(*size);
    let sweep = look.job.cuts.sweeps(size).into_iter().find(|(known, _)| *known == which);
    let over = sweep.and_then(|(_, sweep)| {
        let [low, high] = sweep.extent(size);
        let eased = outline.eased();
        let rim = if sweep.through { eased[0].max(eased[1]) } else { eased[usize::from(sweep.face == Face::Lower)] };
        let sides = [
            (rim - low.x, Edge::Left),
            (high.x - size.length + rim, Edge::Right),
            (rim - low.y, Edge::Front),
            (high.y - size.width + rim, Edge::Back),
        ];
        sides.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).map(|(over, edge)| (over, edge, rim))
    });
    // Over a side, or touching it; else at a corner.
    let Some((over, edge, rim)) = over.filter(|(over, ..)| *over >= -ALIKE) else {
        let says = format!("it runs out of its face at a corner of radius {}", look.say(outline.corner));
        let mends = "move it in, or a smaller corner radius".to_owned();
        return found("cut leaves its face", CantBeMade, Subject::Cut(which), says, mends);
    };
    let eased = if rim > 0.0 { format!(", where the rim is eased by {}", look.say(rim)) } else { String::new() };
    let off = if rim > 0.0 { ", or less off the rim" } else { "" };
    let (says, mends) = if over > ALIKE {
        let over = look.at_least(over);
        (
            format!("it runs {over} out of the flat of its face at the {} edge{eased}", edge.name()),
            format!("move it by more than {over} away from that edge, or a narrower cut{off}"),
        )
    } else {
        (
            format!("it just reaches the end of the flat of its face at the {} edge{eased}", edge.name()),
            format!("move it away from that edge, or a narrower cut{off}"),
        )
    };
    let finding = found("cut leaves its face", CantBeMade, Subject::Cut(which), says, mends);
    match setting(&look.job.cuts, which, edge) {
        Some(setting) => finding.turning_on(setting),
        None => finding,
    }
}

/// What sets how far a cut stays from an edge, where that isn't the same for all edges.
fn setting(cuts: &Cuts, which: Which, edge: Edge) -> Option<&'static str> {
    match own_edge(cuts, which)? {
        own if !own.ends().contains(&edge) => Some("in_from_edge"),
        _ if which == Which::HangingHole => Some("along"),
        _ => Some("setback"),
    }
}

/// The edge that a cut is measured in from.
fn own_edge(cuts: &Cuts, which: Which) -> Option<Edge> {
    match which {
        Which::FingerRecess(i) => cuts.finger_recesses.get(i).map(|recess| recess.edge),
        Which::HangingHole => cuts.hanging_hole.as_ref().map(|hole| hole.edge),
        Which::Groove(_) | Which::Spout(_) | Which::Foot(_) => None,
    }
}

fn outline(look: &Look, size: &Finished) -> Option<Finding> {
    let outline = look.job.cuts.outline(*size);
    if outline.fits() {
        return None;
    }
    let told = |says: String, mends: String, setting: &'static str| {
        Some(found("corners or rims too large", CantBeMade, Subject::Board, says, mends).turning_on(setting))
    };
    let half = size.length.min(size.width) / 2.0;
    let board = format!("a board of {} × {}", look.say(size.length), look.say(size.width));
    if !outline.plan().is_one() {
        let says = format!("corners of {} don't fit on {board}", look.say(outline.corner));
        return told(says, format!("corners of {} at most", look.at_most(half)), "corners.radius");
    }
    let [upper, lower] = outline.eased();
    let (larger, easing) = if upper >= lower { (upper, outline.upper) } else { (lower, outline.lower) };
    let easing = easing?;
    let thick = look.say(size.thickness);
    let says = if upper > 0.0 && lower > 0.0 {
        format!(
            "{} off the upper rim and {} off the lower one don't fit on {board} × {thick}",
            look.say(upper),
            look.say(lower)
        )
    } else {
        format!("a {} of {} doesn't fit on {board} × {thick}", easing.name(), look.say(larger))
    };
    let mends = format!("rims that take less than {thick} together, and each less than {}", look.say(half));
    told(says, mends, rim_key(easing))
}

/// One cut under the eye.
struct One<'a> {
    look: &'a Look<'a>,
    cuts: &'a Cuts,
    size: &'a Finished,
    which: Which,
    sweep: &'a Sweep,
}

impl One<'_> {
    fn found(&self, check: &'static str, kind: Kind, says: String, mends: String) -> Option<Finding> {
        Some(found(check, kind, Subject::Cut(self.which), says, mends))
    }

    /// Four holes are alike: the first speaks for all.
    fn speaks(&self) -> bool {
        !matches!(self.which, Which::Foot(1..))
    }

    fn reach(&self) -> Option<Finding> {
        let (depth, bit) = (self.sweep.profile.depth, self.cuts.bit(self.which)?);
        if depth <= bit.reach.mm() + ALIKE || !self.speaks() {
            return None;
        }
        let reach = self.look.say(bit.reach.mm());
        let says = format!("the cut is {} deep and bit {} reaches {reach}", self.look.say(depth), bit.name);
        let mends = if self.sweep.through {
            "a longer bit, or a thinner board".to_owned()
        } else {
            format!("{} deep at most, or a longer bit", self.look.at_most(bit.reach.mm()))
        };
        self.found("bit does not reach", CantBeMade, says, mends)
    }

    /// Whether its path leaves it any room.
    fn room(&self) -> Option<Finding> {
        match self.which {
            Which::Groove(i) => self.groove_has_room(self.cuts.grooves.get(i)?),
            Which::FingerRecess(i) => self.recess_has_room(self.cuts.finger_recesses.get(i)?),
            Which::Foot(0) => self.feet_keep_their_corners(self.cuts.feet.as_ref()?),
            Which::Spout(_) | Which::Foot(_) | Which::HangingHole => None,
        }
    }

    fn no_room(&self, setting: &'static str, says: String, mends: String) -> Option<Finding> {
        Some(self.found("cut has no room", CantBeMade, says, mends)?.turning_on(setting))
    }

    fn groove_has_room(&self, groove: &Groove) -> Option<Finding> {
        let [between, over] = groove.room(self.size);
        if between <= ALIKE {
            let says = "its two long runs meet in the middle of the board".to_owned();
            let widest = groove.widest_setback(self.size);
            let mends = if widest > 0.0 {
                format!("a setback under {}, or a narrower bit", self.look.say(widest))
            } else {
                "a narrower bit, or no groove on so small a board".to_owned()
            };
            return self.no_room("setback", says, mends);
        }
        let radius = groove.corner_radius.mm();
        (over > ALIKE).then_some(())?;
        let says = format!("its corner radius of {} is more than fits", self.look.say(radius));
        let mends =
            format!("a corner radius of {} at most, or a smaller setback", self.look.at_most(radius - over / 2.0));
        self.no_room("corner_radius", says, mends)
    }

    fn recess_has_room(&self, recess: &FingerRecess) -> Option<Finding> {
        let (travel, profile) = (recess.travel(self.size), self.sweep.profile);
        if travel < 0.0 {
            let wide = self.look.say(2.0 * recess.profile().bit_at_surface());
            let says = format!("its setbacks leave no room for a bit cutting {wide} wide");
            let most = recess.edge.length(self.size) - 2.0 * recess.profile().bit_at_surface();
            let mends =
                format!("setbacks that add up to {} at most, or a narrower bit", self.look.at_most(most.max(0.0)));
            return self.no_room("setback", says, mends);
        }
        if travel <= ALIKE && recess.rise.is_some_and(Length::is_positive) {
            let says = "its setbacks leave the bit no way to go, so that it can't rise".to_owned();
            return self.no_room("setback", says, "smaller setbacks, or no rise".to_owned());
        }
        let Path::Arch(arch) = &self.sweep.path else { return None };
        if arch.takes(profile.at_surface()) {
            return None;
        }
        let (arc, rise) = (self.look.say(arch.radius), self.look.say(arch.rise()));
        let says = if arch.turn > std::f64::consts::PI {
            format!("a rise of {rise} makes an arc of more than half a turn")
        } else {
            let wide = self.look.say(2.0 * profile.at_surface());
            format!("a rise of {rise} makes an arc of radius {arc}, too tight for a cut {wide} wide")
        };
        // A hair less, as what is just too much is refused.
        let most = most_rise(travel, profile.at_surface()) - self.look.job.rule.mark().mm() / 100.0;
        let most = if most >= self.look.job.rule.mark().mm() {
            format!("a rise of {} at most", self.look.at_most(most))
        } else {
            "no rise".to_owned()
        };
        self.no_room("rise", says, format!("{most}, smaller setbacks, or a narrower bit"))
    }

    fn feet_keep_their_corners(&self, feet: &Feet) -> Option<Finding> {
        let [x, y] = feet.from_edges.map(Length::mm);
        let sides = [(x, self.size.length / 2.0, "left and right"), (y, self.size.width / 2.0, "front and back")];
        let (at, half, sides) = sides.into_iter().find(|(at, half, _)| *at >= half - ALIKE)?;
        let (at, most) = (self.look.say(at), self.look.at_most(half));
        let says = format!("{at} from the {sides} edges is past the middle, {most}: the four change places");
        self.no_room("from_edges", says, "less from those edges: feet stand best near the corners".to_owned())
    }

    fn rim(&self) -> Option<Finding> {
        let (says, mends) = rim_too_large(self.look, &self.sweep.profile)?;
        self.found("rim larger than the wall", CantBeMade, says, mends)
    }

    fn floor(&self) -> Option<Finding> {
        let limit = self.look.job.limits.floor;
        let left = self.size.thickness - self.sweep.profile.depth;
        if self.sweep.through || left >= limit.mm() - ALIKE || !self.speaks() {
            return None;
        }
        let (kind, says) = if left <= ALIKE {
            (CantBeMade, format!("it goes through a board {} thick", self.look.say(self.size.thickness)))
        } else {
            let left = self.look.at_most(left);
            (TakeCare, format!("only {left} of wood is left under it; {} at least is wanted", self.look.limit(limit)))
        };
        let most = self.size.thickness - limit.mm();
        let mends = if most > 0.0 {
            format!("{} deep at most, or a thicker board", self.look.at_most(most))
        } else {
            "a thicker board".to_owned()
        };
        self.found("cut goes too deep", kind, says, mends)
    }

    /// The wood between a cut that stays within its face and the board's sides and rounded corners.
    fn beside(&self) -> Option<Finding> {
        if !self.speaks() {
            return None;
        }
        if let Some(opens) = self.opens() {
            return if opens { self.ends_in_a_corner().or_else(|| self.ridge()) } else { None };
        }
        let limit = self.look.job.limits.lip_least;
        let (left, at) = self.wood_left();
        let wall = left + self.sweep.profile.rim_size();
        if left <= ALIKE && !self.which.may_leave() {
            // It leaves its face, which is another finding.
            return None;
        }
        if left >= limit.mm() - ALIKE {
            return None;
        }
        let (edge, by_side) = self.nearest_edge(at);
        let by_corner = left < by_side - ALIKE;
        let place = if by_corner { "the rounded corner".to_owned() } else { format!("the {} edge", edge.name()) };
        let (kind, says) = if wall <= ALIKE {
            (CantBeMade, format!("it breaks out at {place}"))
        } else if left <= ALIKE {
            let wall = self.look.at_most(wall);
            (
                TakeCare,
                format!(
                    "its rim takes all of the face between it and {place}, and only {wall} of wood stands under that"
                ),
            )
        } else {
            let left = self.look.at_most(left);
            let limit = self.look.limit(limit);
            (TakeCare, format!("only {left} of wood is left between it and {place}; {limit} at least is wanted"))
        };
        let mends = if by_corner {
            "farther in from both edges, a narrower cut or rim, or a smaller corner radius".to_owned()
        } else {
            format!("move it in by {}, or a narrower cut or rim", self.look.at_least(limit.mm() - left))
        };
        let finding = self.found("thin wood at the edge", kind, says, mends)?;
        Some(match setting(self.cuts, self.which, edge) {
            Some(setting) if !by_corner => finding.turning_on(setting),
            _ => finding,
        })
    }

    /// Whether it opens at the edge that it is measured in from; `None` for a cut that stays on its face. A spout does.
    fn opens(&self) -> Option<bool> {
        match self.which {
            Which::Spout(_) => Some(false),
            Which::FingerRecess(i) => {
                let recess = self.cuts.finger_recesses.get(i)?;
                // Where only its rim reaches the edge, its wall still stands.
                (recess.in_from_edge.mm() <= self.sweep.profile.bit_at_surface() + ALIKE).then_some(true)
            }
            Which::Groove(_) | Which::Foot(_) | Which::HangingHole => None,
        }
    }

    /// A recess that is open at its edge ends where that is straight.
    fn ends_in_a_corner(&self) -> Option<Finding> {
        let Which::FingerRecess(i) = self.which else { return None };
        let recess = self.cuts.finger_recesses.get(i)?;
        let radius = self.cuts.corner_radius.unwrap_or_default();
        let ([a, c], rim) = (recess.setbacks.map(Length::mm), self.sweep.profile.rim_size());
        if a.min(c) - rim > radius.mm() + ALIKE {
            return None;
        }
        let (says, mends) = in_rounded_corner(self.look, a.min(c), rim, radius);
        let says = if radius.is_positive() { says } else { "the recess runs out at the board's corner".to_owned() };
        let mends = if radius.is_positive() { mends } else { format!("setbacks over {}", self.look.at_least(rim)) };
        Some(self.found("recess runs into a rounded corner", CantBeMade, says, mends)?.turning_on("setback"))
    }

    /// How much wood is left between it and the board's outline before that is eased, where it is least, and which point
    /// of the bit's way is nearest, mm.
    fn wood_left(&self) -> (f64, Point2<f64>) {
        let outline = self.cuts.outline(*self.size).plan();
        let way = way(&self.sweep.path);
        let nearest = way.into_iter().map(|p| (outline.inside(&p), p)).min_by(|a, b| a.0.total_cmp(&b.0));
        let (inside, at) = nearest.unwrap_or((f64::INFINITY, Point2::origin()));
        (inside - self.sweep.profile.at_surface(), at)
    }

    /// The edge nearest to a point of the bit's way, and how much wood there is to it, were no corner rounded.
    fn nearest_edge(&self, at: Point2<f64>) -> (Edge, f64) {
        let sides = [
            (Edge::Left, at.x),
            (Edge::Right, self.size.length - at.x),
            (Edge::Front, at.y),
            (Edge::Back, self.size.width - at.y),
        ];
        let nearest = sides.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
        nearest.map_or((Edge::Left, f64::INFINITY), |(edge, far)| (edge, far - self.sweep.profile.at_surface()))
    }

    /// A recess along an arc that opens at its edge with its ends and not with its middle: the ridge that is left runs
    /// out to nothing.
    fn ridge(&self) -> Option<Finding> {
        let (Which::FingerRecess(i), Path::Arch(arch)) = (self.which, &self.sweep.path) else { return None };
        let recess = self.cuts.finger_recesses.get(i)?;
        let (limit, profile) = (self.look.job.limits.lip_least.mm(), self.sweep.profile);
        let middle = recess.in_from_edge.mm() + arch.rise() - profile.bit_at_surface();
        if middle <= ALIKE {
            return None;
        }
        let thick = self.look.say(middle);
        let edge = recess.edge.name();
        let says = format!(
            "its ends open at the {edge} edge and its middle does not: the ridge between them, {thick} thick in the middle, \
             runs out to nothing"
        );
        let farther = self.look.at_least(profile.at_surface() + limit);
        let least_rise = (arch.rise() - middle).max(0.0);
        let open = if least_rise > ALIKE {
            format!(", or a rise of {} at most: then it is open all along", self.look.at_most(least_rise))
        } else {
            String::new()
        };
        let mends = format!("{farther} from the edge, so that enough wood is left{open}");
        Some(self.found("thin wood at the edge", TakeCare, says, mends)?.turning_on("in_from_edge"))
    }

    /// A spout begins on a straight run of its groove.
    fn begins(&self) -> Option<Finding> {
        let Which::Spout(i) = self.which else { return None };
        let spout = self.cuts.spouts.get(i)?;
        let groove = self.cuts.grooves.get(spout.groove)?;
        let clear = spout.clear_of_corners(groove, self.size);
        // A groove that has no room has its own finding.
        if clear >= -ALIKE || groove.room(self.size)[0] <= ALIKE || groove.room(self.size)[1] > ALIKE {
            return None;
        }
        let (at, long) = (spout.from_low_end(self.size), spout.edge.length(self.size));
        let says = if (0.0..=long).contains(&at) {
            format!("it begins {} within the groove's corner", self.look.at_least(-clear))
        } else {
            format!("it lies {} from the end of an edge {} long", self.look.say(at), self.look.say(long))
        };
        let [from, to] = spout.clear(groove, self.size);
        let mends = if from <= to {
            let (from, to) = (self.look.at_least(from), self.look.at_most(to));
            format!("along from {from} to {to}, which is clear of the groove's corners")
        } else {
            "a groove with smaller corners, or a narrower spout: here no place on this edge is clear".to_owned()
        };
        self.found("spout begins at a corner", CantBeMade, says, mends)
    }

    fn crossed(&self, board: &Board) -> Option<Finding> {
        let lines = lines(board, self.sweep);
        if lines.along == 0 {
            return None;
        }
        let says = format!("it runs along {}: the joint lies bare at its floor or wall", count(lines.along));
        let mends = "move it off the glue line".to_owned();
        self.found("cut runs along a glue line", Note, says, mends)
    }
}

/// The largest rise over a chord with which an arc is no more than half a turn and no tighter than a cut's half-width, mm:
/// h with (c²/4 + h²)/2h = max(ρ, c/2).
fn most_rise(chord: f64, reach: f64) -> f64 {
    let half = chord / 2.0;
    if reach <= half { half } else { reach - (reach * reach - half * half).sqrt() }
}

/// Points of a bit's way among which is the one nearest to a convex outline round it, to a thousandth of a millimetre:
/// corners of what is straight, and what is round in small steps.
fn way(path: &Path) -> Vec<Point2<f64>> {
    const STEPS: u32 = 256;
    let share = |i: u32| f64::from(i) / f64::from(STEPS);
    match path {
        Path::Filled(corners) => corners.clone(),
        Path::Arch(arch) => (0..=STEPS).map(|i| arch.at(share(i), 0.0)).collect(),
        Path::Round(way) => {
            let arc = |(centre, quarter): (Point2<f64>, u8)| {
                let angle = move |i: u32| (f64::from(quarter) + share(i)) * std::f64::consts::FRAC_PI_2;
                (0..=STEPS).map(move |i| centre + Vector2::new(angle(i).cos(), angle(i).sin()) * way.radius)
            };
            way.centres().into_iter().flat_map(arc).collect()
        }
    }
}

fn count(lines: usize) -> String {
    format!("{lines} glue line{}", if lines == 1 { "" } else { "s" })
}

/// Glue lines that a cut on a face meets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Lines {
    /// Crossed at right angles, or nearly.
    pub(crate) across: usize,
    /// Run along: the line lies within the cut for as long as the cut is wide, or longer.
    pub(crate) along: usize,
}

/// Which glue lines a cut meets in plan: those between strips (X is constant) and, strip by strip, those between
/// blanks (Y is constant). A line that lies in a cut for longer than twice the cut's width is run along; any other
/// stretch of it in the cut is a crossing. One that lies in the cut's very wall is run along, one that its end touches
/// isn't crossed.
pub(crate) fn lines(board: &Board, sweep: &Sweep) -> Lines {
    let size = board.finished();
    let wide = 2.0 * sweep.profile.at_surface();
    let mut across = 0;
    let mut along: Vec<(usize, f64)> = Vec::new();
    let mut add = |axis: usize, at: f64, range: [f64; 2]| {
        // A hair to either side, so that rounding doesn't tell what lies in a wall.
        let beside = [-ALIKE, ALIKE].map(|hair| stretches(sweep, axis, at + hair, range));
        let long = beside.each_ref().map(|all| all.iter().filter(|long| **long > 2.0 * wide).count());
        across += (beside[0].len() - long[0]).min(beside[1].len() - long[1]);
        // What goes on from strip to strip is one line.
        if long != [0; 2] && !along.iter().any(|(known, y)| *known == axis && (y - at).abs() < ALIKE) {
            along.push((axis, at));
        }
    };
    for x in joints(board) {
        add(0, x, [0.0, size.width]);
    }
    for place in 0..board.strips().len() {
        let [from, to] = board.span(place);
        for y in blank_lines(board, place) {
            add(1, y, [from.max(0.0), to.min(size.length)]);
        }
    }
    Lines { across, along: along.len() }
}

/// How long the parts of a line are that lie in a cut, within a range: the line at `at` on one axis, along the other.
fn stretches(sweep: &Sweep, axis: usize, at: f64, range: [f64; 2]) -> Vec<f64> {
    let on = |along: f64| if axis == 0 { Point2::new(at, along) } else { Point2::new(along, at) };
    let [from, to] = range;
    sweep.within(on(from), on(to)).into_iter().map(|[a, b]| (b - a) * (to - from)).filter(|l| *l > ALIKE).collect()
}
