//! Checks of the cuts on the faces, the corners and the eased rims.

use super::Kind::{CantBeMade, Note, TakeCare};
use super::handhold::{blank_lines, joints, no_program, rim_too_large};
use super::{ALIKE, Finding, Kind, Look, Subject, found};
use crate::board::Board;
use crate::cut::{Cut, Cuts, Edge, Face, Finished, Path, Sweep, Which};
use crate::measure::Length;
use crate::path::Cutting;
use crate::solid::NoBody;
use nalgebra::Point2;

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
    let whole: Vec<Cutting> = look.job.cuttings(board).into_iter().filter(|c| c.cut.is_of_the_whole()).collect();
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
const APART: &str = "move one of them, or a shallower or narrower cut";

/// How close any two cuts come, where there is a body.
pub(super) fn close(look: &Look, all: &mut Vec<Finding>) {
    let Ok(board) = &look.outcome.board else { return };
    let Ok(body) = look.job.body(board.finished()) else { return };
    let Some((distance, a, b)) = body.least_between() else { return };
    let limit = look.job.limits.lip_least;
    let on_edges = matches!((a, b), (Cut::Handhold(_), Cut::Handhold(_)));
    if on_edges || distance >= limit.mm() - ALIKE {
        return;
    }
    let says = format!(
        "only {} of wood is left between them; {} at least is wanted",
        look.at_most(distance),
        look.limit(limit)
    );
    all.push(found("cuts too close", TakeCare, Subject::Cuts(a, b), says, APART.to_owned()));
}

/// What only the whole body tells: cuts that leave their face or run into each other.
fn body(look: &Look, size: &Finished, so_far: &[Finding]) -> Vec<Finding> {
    let mends = APART.to_owned();
    match look.job.body(*size) {
        Ok(_) => Vec::new(),
        Err(NoBody::CutsMeet(pairs)) => {
            // Four holes for feet are alike: of those that run into the same cut one speaks.
            let alike = |cut: Cut| if let Cut::Face(Which::Foot(_)) = cut { Cut::Face(Which::Foot(0)) } else { cut };
            let mut said: Vec<[Cut; 2]> = Vec::new();
            pairs.into_iter().for_each(|pair| {
                if !said.iter().any(|known| known.map(alike) == pair.map(alike)) {
                    said.push(pair);
                }
            });
            let meet = |[a, b]: [Cut; 2]| {
                let says = "they run into each other".to_owned();
                found("cuts too close", CantBeMade, Subject::Cuts(a, b), says, mends.clone())
            };
            said.into_iter().map(meet).collect()
        }
        // What else stops it has spoken for itself; if not, it does here.
        Err(_) if so_far.iter().any(|f| f.kind == CantBeMade) => Vec::new(),
        Err(NoBody::LeavesTheFace(which)) => vec![leaves(look, size, which)],
        Err(why) => vec![found("cuts too close", CantBeMade, Subject::Board, why.to_string(), mends)],
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
    let says = match over {
        Some((over, edge, rim)) if over > ALIKE => {
            let eased =
                if rim > 0.0 { format!(", where the rim is eased by {}", look.say(rim)) } else { String::new() };
            format!("it runs {} out of the flat of its face at the {} edge{eased}", look.at_least(over), edge.name())
        }
        _ => format!("it runs out of its face at a corner of radius {}", look.say(outline.corner)),
    };
    let mends = match over {
        Some((over, ..)) if over > ALIKE => {
            format!("move it in by {}, or a narrower cut, or less off the rim", look.at_least(over))
        }
        _ => "move it in, or a smaller corner radius".to_owned(),
    };
    found("cut leaves its face", CantBeMade, Subject::Cut(which), says, mends)
}

fn outline(look: &Look, size: &Finished) -> Option<Finding> {
    let outline = look.job.cuts.outline(*size);
    if outline.fits() {
        return None;
    }
    let [upper, lower] = outline.eased();
    let says = format!(
        "corners of {}, {} off the upper rim and {} off the lower one don't fit on a board of {} × {} × {}",
        look.say(outline.corner),
        look.say(upper),
        look.say(lower),
        look.say(size.length),
        look.say(size.width),
        look.say(size.thickness)
    );
    let half = look.at_most(size.length.min(size.width) / 2.0);
    let mends =
        format!("corners of {half} at most, and rims that take less than {} together", look.say(size.thickness));
    Some(found("corners or rims too large", CantBeMade, Subject::Board, says, mends))
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
        let says = match self.which {
            Which::Groove(i) => {
                let [between, over] = self.cuts.grooves.get(i)?.room(self.size);
                if between > ALIKE && over <= ALIKE {
                    return None;
                }
                if between <= ALIKE {
                    "its two long runs meet in the middle of the board".to_owned()
                } else {
                    format!("its corner radius is {} more than fits", self.look.at_least(over / 2.0))
                }
            }
            Which::FingerRecess(i) => {
                let recess = self.cuts.finger_recesses.get(i)?;
                let wide = 2.0 * recess.profile().bit_at_surface();
                match &self.sweep.path {
                    _ if recess.travel(self.size) < 0.0 => {
                        format!("its setbacks leave no room for a bit cutting {} wide", self.look.say(wide))
                    }
                    Path::Arch(arch) if !arch.takes(self.sweep.profile.at_surface()) => {
                        let (arc, rise) = (self.look.say(arch.radius), self.look.say(arch.rise()));
                        let wide = self.look.say(2.0 * self.sweep.profile.at_surface());
                        let most = self.look.at_most(recess.travel(self.size) / 2.0);
                        if arch.turn > std::f64::consts::PI {
                            format!("a rise of {rise} makes an arc of more than half a turn; {most} is the most here")
                        } else {
                            format!("a rise of {rise} makes an arc of radius {arc}, too tight for a cut {wide} wide")
                        }
                    }
                    _ => return None,
                }
            }
            Which::Foot(0) => {
                let [x, y] = self.cuts.feet.as_ref()?.from_edges.map(Length::mm);
                let (half_x, half_y) = (self.size.length / 2.0, self.size.width / 2.0);
                let past = |at: f64, half: f64, sides: &str| {
                    let (at, most) = (self.look.say(at), self.look.at_most(half));
                    format!("{at} from the {sides} edges is past the middle, {most}: the four change places")
                };
                if x >= half_x - ALIKE {
                    past(x, half_x, "left and right")
                } else if y >= half_y - ALIKE {
                    past(y, half_y, "front and back")
                } else {
                    return None;
                }
            }
            Which::Spout(_) | Which::Foot(_) | Which::HangingHole => return None,
        };
        let mends = match (&self.sweep.path, self.which) {
            (_, Which::Foot(_)) => "less from those edges: feet stand best near the corners",
            (Path::Arch(_), _) => "a smaller rise, smaller setbacks, or a narrower bit",
            (_, Which::Groove(_)) => "smaller setbacks, or a smaller corner radius",
            _ => "smaller setbacks, or a narrower bit",
        };
        self.found("cut has no room", CantBeMade, says, mends.to_owned())
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

    /// The wood between a cut that stays within its face and the board's sides.
    fn beside(&self) -> Option<Finding> {
        if !self.speaks() {
            return None;
        }
        let limit = self.look.job.limits.lip_least;
        let [low, high] = self.sweep.extent(self.size);
        let sides = [
            (low.x, Edge::Left),
            (self.size.length - high.x, Edge::Right),
            (low.y, Edge::Front),
            (self.size.width - high.y, Edge::Back),
        ];
        let (left, edge) = sides.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
        // One that opens at the side is meant to, or has its own finding.
        if left <= ALIKE || left >= limit.mm() - ALIKE {
            return None;
        }
        let says = format!(
            "only {} of wood is left between it and the {} edge; {} at least is wanted",
            self.look.at_most(left),
            edge.name(),
            self.look.limit(limit)
        );
        self.found("thin wood at the edge", TakeCare, says, "move it farther in, or a narrower cut or rim".to_owned())
    }

    /// A spout begins on a straight run of its groove.
    fn begins(&self) -> Option<Finding> {
        let Which::Spout(i) = self.which else { return None };
        let spout = self.cuts.spouts.get(i)?;
        let groove = self.cuts.grooves.get(spout.groove)?;
        let clear = spout.clear_of_corners(groove, self.size);
        if clear >= -ALIKE {
            return None;
        }
        let says = format!("it begins {} within the groove's corner", self.look.at_least(-clear));
        let mends = "move it along the edge, toward its middle".to_owned();
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
    let mut sum = Lines::default();
    let mut add = |axis: usize, at: f64, range: [f64; 2]| {
        // A hair to either side, so that rounding doesn't tell what lies in a wall.
        let beside = [-ALIKE, ALIKE].map(|hair| stretches(sweep, axis, at + hair, range));
        let along = beside.each_ref().map(|all| all.iter().filter(|long| **long > 2.0 * wide).count());
        sum.along += along[0].max(along[1]);
        sum.across += (beside[0].len() - along[0]).min(beside[1].len() - along[1]);
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
    sum
}

/// How long the parts of a line are that lie in a cut, within a range: the line at `at` on one axis, along the other.
fn stretches(sweep: &Sweep, axis: usize, at: f64, range: [f64; 2]) -> Vec<f64> {
    let on = |along: f64| if axis == 0 { Point2::new(at, along) } else { Point2::new(along, at) };
    let [from, to] = range;
    sweep.within(on(from), on(to)).into_iter().map(|[a, b]| (b - a) * (to - from)).filter(|l| *l > ALIKE).collect()
}
