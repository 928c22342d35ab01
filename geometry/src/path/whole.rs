//! The whole board before it is trimmed, as programs cut it: faces levelled, the outline down to its tabs and between them.

use super::program::LEAST_FRAME;
use super::{Cutting, Hardness, Program, Up};
use crate::cut::region::{Loop, Piece};
use crate::cut::{Arch, Bit, Cut, CutOut, Cuts, Face, Path, Profile, Rounded, Surfacing, Untrimmed};
use crate::job::Cnc;
use crate::measure::Length;
use crate::stock::Panel;
use nalgebra::{Point2, Vector2};

/// Less than this is not worth a pass of its own, mm (common practice, no source).
const LEAST_BESIDE: f64 = 0.05;
/// A levelled face reaches so far beyond the stock, mm: its own rim lies nowhere near wood.
const BEYOND: f64 = 1.0;

impl Cutting {
    /// Faces levelled, then the outline; each of the board as glued, whose left front corner (left back where the lower
    /// face is up) is the datum. What would take nothing is left out. `wall_pass` is left along the outline for its last pass,
    /// no more than a tenth of the bit's diameter, nor
    /// than the frame beside it has room for.
    #[must_use]
    pub fn of_whole(
        surfacing: Option<&Surfacing>,
        cut_out: Option<&CutOut>,
        cuts: &Cuts,
        board: &Untrimmed,
        wall_pass: f64,
    ) -> Vec<Self> {
        let mut all = surfacing.map(|s| levelled(s, board)).unwrap_or_default();
        all.extend(cut_out.map(|c| outline(c, cuts, board, wall_pass)).unwrap_or_default());
        all
    }

    /// Whether this machine can make the outline among these: all of its parts, or none may be cut; true where there is none.
    #[must_use]
    pub fn outline_can(all: &[Self], cnc: &Cnc, wood: Option<Hardness>) -> bool {
        all.iter().filter(|c| c.is_of_the_outline()).all(|c| Program::of(c, cnc, wood).is_ok())
    }

    /// What is left of the stock beside an outline at the narrowest side, mm; endless for other cuts.
    #[must_use]
    pub fn frame(&self) -> f64 {
        if !self.is_of_the_outline() {
            return f64::INFINITY;
        }
        let ([low, high], [long, wide, _]) = (self.extent(), self.stock);
        [low.x, low.y, long - high.x, wide - high.y].into_iter().fold(f64::INFINITY, f64::min) - self.profile.radius
    }

    /// Whether the frame beside an outline is wide enough to be screwed or clamped down: 3/4 in at least (common practice, no
    /// source). A narrower one holds the board by its tabs, and is itself held from below.
    #[must_use]
    pub fn frame_can_be_clamped(&self) -> bool {
        const LEAST: f64 = 0.75 * 25.4;
        self.frame() >= LEAST
    }

    /// Whether it is a part of the outline.
    #[must_use]
    pub const fn is_of_the_outline(&self) -> bool {
        matches!(self.cut, Cut::Outline | Cut::BetweenTabs)
    }
}

fn levelled(surfacing: &Surfacing, board: &Untrimmed) -> Vec<Cutting> {
    let mut stands = board.glued.thickness;
    let one = |face: &Face| {
        let depth = board.levelled[usize::from(*face == Face::Lower)];
        let name = format!("surfacing of the {} face", face.name());
        let stock = [board.glued.length, board.glued.width, stands];
        let label = format!("surfacing {}", face.name());
        let cutting = level(Cut::Level(*face), *face, [name, label], &surfacing.bit, depth, stock);
        stands -= depth;
        cutting
    };
    surfacing.faces.iter().map(one).filter(|c| c.profile.depth > 0.0).collect()
}

/// All of a face down to a depth.
fn level(cut: Cut, face: Face, [name, label]: [String; 2], bit: &Bit, depth: f64, stock: [f64; 3]) -> Cutting {
    let out = Vector2::repeat(BEYOND);
    Cutting {
        cut,
        name,
        label,
        up: Up::Face(face),
        paths: vec![Path::over(Point2::origin() - out, Point2::new(stock[0], stock[1]) + out)],
        beside: 0.0,
        bit: bit.clone(),
        profile: Profile::of(bit, depth),
        passes: None,
        cleared: 0.0,
        stock,
    }
}

impl Cutting {
    /// Both faces of a panel as glued, the lower one first: what is planed off it, and off the upper one what then is still
    /// thicker than planned. It is as thick as its thickest blank, or `as_glued` where its thickest place was measured. X runs
    /// from the near end, Y from the first blank's edge, of the lower face from the last blank's.
    ///
    /// By hand: blanks of 26 and 27 mm, 0.8 mm planed off either face: 0.8 mm off 27 mm, then 1.8 mm off 26.2 mm, 24.4 mm
    /// are left, the thinnest less 1.6 mm. Measured 27.5 mm: 2.3 mm off 26.7 mm. Measured 25 mm: no more than 0.6 mm off
    /// the lower face, nothing off the upper one.
    #[must_use]
    pub fn of_panel(place: usize, panel: &Panel, as_glued: Option<Length>, surfacing: &Surfacing) -> Vec<Self> {
        let lying = || panel.blanks.iter().map(|blank| (blank.start, blank.lying()));
        let thick = |blank: Length| blank.mm();
        let thickest = lying().map(|(_, b)| thick(b.thickness)).fold(0.0, f64::max);
        let least = lying().map(|(_, b)| thick(b.thickness)).fold(thickest, f64::min);
        let long = panel.blanks.iter().map(|b| (b.start + b.blank.size.length).mm()).fold(0.0, f64::max);
        let wide: f64 = lying().map(|(_, b)| b.width.mm()).sum();
        let [lower, upper] = panel.planed.map(Length::mm);
        let most = as_glued.map_or(thickest, Length::mm);
        let spare = (most - (least - lower - upper)).max(0.0);
        let lower = lower.min(spare);
        let one = |(face, depth, stands): (Face, f64, f64)| {
            let name = format!("surfacing of panel {}'s {} face", panel.name, face.name());
            let label = format!("surfacing panel {} {}", panel.name, face.name());
            level(Cut::Panel(place, face), face, [name, label], &surfacing.bit, depth, [long, wide, stands])
        };
        let all = [(Face::Lower, lower, most), (Face::Upper, spare - lower, most - lower)];
        // Less than a tick is rounding.
        all.map(one).into_iter().filter(|c| c.profile.depth > 1e-6).collect()
    }
}

/// Down to the tabs all round, and from there right through between them: what both leave together is the outline with
/// its tabs, whose ends the bit rounds.
fn outline(cut_out: &CutOut, cuts: &Cuts, board: &Untrimmed, wall_pass: f64) -> Vec<Cutting> {
    let bit = &cut_out.bit;
    let radius = bit.diameter.mm() / 2.0;
    let corner = cuts.corner_radius.map_or(0.0, Length::mm);
    let far = board.corner + Vector2::new(board.finished.length, board.finished.width);
    let round = Rounded { low: board.corner, high: far, radius: corner }.inset(-radius);
    let [long, wide] = [board.glued.length, board.glued.width];
    let trims = [board.corner.x, board.corner.y, long - far.x, wide - far.y];
    let room = trims.into_iter().fold(f64::INFINITY, f64::min) - 2.0 * radius - LEAST_FRAME;
    let beside = Some(wall_pass.min(0.2 * radius).min(room)).filter(|beside| *beside >= LEAST_BESIDE).unwrap_or(0.0);
    let thick = board.level();
    let to_tabs = (thick - cut_out.tab_height.mm()).max(0.0);
    let of = |cut, name: &str, paths, depth, cleared| Cutting {
        cut,
        name: name.to_owned(),
        label: name.to_owned(),
        up: Up::Face(Face::Upper),
        paths,
        beside,
        bit: bit.clone(),
        profile: Profile::of(bit, depth),
        passes: None,
        cleared,
        stock: [board.glued.length, board.glued.width, thick],
    };
    let stretches = between_tabs(&round, cut_out, bit);
    let mut between: Vec<Path> = stretches.iter().map(path).collect();
    let mut all_round = vec![Path::Round(round)];
    if beside > 0.0 {
        between.extend(stretches.iter().map(|piece| path(&piece.beside(-beside))));
        all_round.push(Path::Round(round.inset(-beside)));
    }
    vec![
        of(Cut::Outline, "outline", all_round, to_tabs, 0.0),
        of(Cut::BetweenTabs, "outline between tabs", between, thick + cut_out.below.mm(), to_tabs),
    ]
}

/// The way round in stretches, those that follow each other end to end in order: from behind the first tab
/// of the front anti-clockwise.
fn between_tabs(round: &Rounded, cut_out: &CutOut, bit: &Bit) -> Vec<Piece> {
    let gap = cut_out.tab_length.mm() + bit.diameter.mm();
    let each = u32::from(cut_out.tabs / 2);
    let Loop(pieces) = round.outline();
    let mut stretches: Vec<Piece> = Vec::new();
    let mut begins = None;
    for piece in &pieces {
        let level = matches!(piece, Piece::Line(a, b) if (a.y - b.y).abs() < 1e-9);
        let long = piece.length();
        // Evenly along the side; on a side that is too short for them none.
        let fits = f64::from(each + 1) * gap < long + gap;
        let mut from = 0.0;
        for k in 1..=each {
            if !level || !fits {
                break;
            }
            let middle = long * f64::from(k) / f64::from(each + 1);
            let [low, high] = [middle - gap / 2.0, middle + gap / 2.0];
            stretches.push(piece.part(from / long, low / long));
            begins.get_or_insert(stretches.len());
            from = high;
        }
        stretches.push(piece.part(from / long, 1.0));
    }
    stretches.rotate_left(begins.unwrap_or(0));
    stretches
}

fn path(piece: &Piece) -> Path {
    match *piece {
        Piece::Line(a, b) => Path::Filled(vec![a, b]),
        Piece::Arc { centre, radius, from, turn } => Path::Arch(Arch { centre, radius, from, turn }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::Finished;
    use crate::fixtures::{handhold, mm};

    /// By hand: 300 × 200 mm with corners of 20 mm, a bit of 6 mm: its centre runs 306 × 206 mm round corners of 23 mm,
    /// straight 260 mm in front, where two tabs of 10 mm, 16 mm between the bit's centres, stand at a third each: stretches of
    /// 86.67 − 8 = 78.67 mm at the ends and 86.67 − 16 = 70.67 mm in the middle.
    #[test]
    fn two_tabs_stand_in_front_and_two_in_the_back() {
        let bit = Bit { diameter: mm(6), corner_radius: mm(0), ..handhold(["2", "2"]).bit };
        let cut_out = CutOut { bit, tabs: 4, tab_length: mm(10), tab_height: mm(3), below: mm(1) };
        let glued = Finished { length: 340.0, width: 240.0, thickness: 40.0 };
        let finished = Finished { length: 300.0, width: 200.0, thickness: 36.0 };
        let board = Untrimmed { glued, corner: Point2::new(15.0, 10.0), finished, levelled: [1.0, 2.0] };
        let cuts = Cuts { corner_radius: Some(mm(20)), ..Cuts::default() };
        let [outline, between] = Cutting::of_whole(None, Some(&cut_out), &cuts, &board, 0.0).try_into().unwrap();
        assert_eq!((outline.profile.depth, between.profile.depth, between.cleared), (34.0, 38.0, 34.0));
        let [low, high] = outline.extent();
        assert_eq!([low.x, low.y, high.x, high.y], [12.0, 7.0, 318.0, 213.0]);
        let longs: Vec<f64> = between
            .paths
            .iter()
            .filter_map(|p| match p {
                Path::Filled(ends) => Some((ends[1] - ends[0]).norm()),
                _ => None,
            })
            .collect();
        let third = 260.0 / 3.0;
        let sides = [third - 16.0, third - 8.0, 160.0, third - 8.0, third - 16.0, third - 8.0, 160.0, third - 8.0];
        assert_eq!(longs.len(), sides.len());
        for (found, hand) in longs.iter().zip(sides) {
            assert!((found - hand).abs() < 1e-9, "{longs:?}");
        }
        assert_eq!(between.paths.len(), 12);
    }
}
