//! What one program cuts, in the program's own frame.
//!
//! ```text
//! Handhold, Cuts ─► Cutting ─► Program (the moves)
//!                          └─► prove  (what moves leave, against it)
//! ```
//! X and Y lie in the side that is up, Z is outward, 0 at its surface. Knows cuts; nothing of machines.

use crate::cut::quadrature::integral_by_kind;
use crate::cut::region::{Loop, NEAR, Piece, Region};
use crate::cut::union::union_within;
use crate::cut::{Arch, Bit, Cut, Cuts, Edge, Face, Finished, Handhold, Path, Profile, Rounded, Sweep, Which};
use nalgebra::Point2;

/// Which side of the board is up.
///
/// With an edge up the frame is [`crate::cut::EdgeFrame`]. With the upper face up it is the board's. For the lower face
/// the board is turned over about its length: X stays, and Y begins at the back edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Up {
    /// On edge, in a vertical clamp.
    Edge(Edge),
    /// Lying flat.
    Face(Face),
}

/// One cut, or several alike with one bit.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Which cut of the board; of the four holes for feet the first.
    pub cut: Cut,
    /// What it is called: `finger recess under the front edge`.
    pub name: String,
    /// The same in as few words as tell it from other kinds and places: `finger recess front`.
    pub label: String,
    /// How the board lies.
    pub up: Up,
    /// Where the bit's centre goes; round an outline first the walls' ways, then as many [`Self::beside`] them.
    pub paths: Vec<Path>,
    /// How far outside of an outline's wall the passes before the last one go, mm; 0 where they don't.
    pub beside: f64,
    /// The bit.
    pub bit: Bit,
    /// Half the section that it leaves, before any rim is eased.
    pub profile: Profile,
    /// In how many passes; `None` leaves it to the step-down.
    pub passes: Option<u8>,
    /// How deep another cutting has cleared all of its way before it.
    pub cleared: f64,
    /// The stock along X and Y, and how high it stands.
    pub stock: [f64; 3],
}

impl Cutting {
    /// A handhold, by its place.
    #[must_use]
    pub fn handhold(i: usize, hold: &Handhold, board: &Finished) -> Self {
        Self {
            cut: Cut::Handhold(i),
            name: hold.name(),
            label: format!("handhold {}", hold.edge.name()),
            up: Up::Edge(hold.edge),
            paths: vec![hold.path(board)],
            beside: 0.0,
            bit: hold.bit.clone(),
            profile: hold.before_its_rim().profile(),
            passes: hold.passes,
            cleared: 0.0,
            stock: [hold.edge.length(board), board.thickness, hold.edge.stands(board)],
        }
    }

    /// All that a router bit cuts into a board: handholds, then the cuts on its faces.
    #[must_use]
    pub fn all(handholds: &[Handhold], cuts: &Cuts, board: &Finished) -> Vec<Self> {
        let mut all: Vec<Self> = handholds.iter().enumerate().map(|(i, h)| Self::handhold(i, h, board)).collect();
        for (which, sweep) in cuts.sweeps(board) {
            let Some(bit) = cuts.bit(which) else { continue };
            match which {
                Which::Foot(1..) => {
                    if let Some(feet) = all.last_mut() {
                        feet.paths.push(in_program(which, cuts, &sweep, board));
                    }
                }
                _ => all.push(Self::on_face(which, cuts, bit, &sweep, board)),
            }
        }
        all
    }

    fn on_face(which: Which, cuts: &Cuts, bit: &Bit, sweep: &Sweep, board: &Finished) -> Self {
        let name = if which == Which::Foot(0) { "four foot holes".to_owned() } else { which.name(cuts) };
        let edge = |edge: Option<Edge>| edge.map_or("", Edge::name);
        let label = match which {
            Which::Groove(_) => format!("groove {}", sweep.face.name()),
            Which::Spout(i) => format!("spout {}", edge(cuts.spouts.get(i).map(|s| s.edge))),
            Which::FingerRecess(i) => format!("finger recess {}", edge(cuts.finger_recesses.get(i).map(|f| f.edge))),
            Which::Foot(_) => "feet".to_owned(),
            Which::HangingHole => "hanging hole".to_owned(),
        };
        // Right through, the bit's own corner lies in the spoil board.
        let below = if sweep.through { BELOW + bit.corner_radius.mm() } else { 0.0 };
        let depth = sweep.profile.depth + below;
        Self {
            cut: Cut::Face(which),
            name,
            label,
            up: Up::Face(sweep.face),
            paths: vec![in_program(which, cuts, sweep, board)],
            beside: 0.0,
            bit: bit.clone(),
            profile: Profile::of(bit, depth),
            passes: None,
            cleared: 0.0,
            stock: [board.length, board.width, board.thickness],
        }
    }

    /// Its paths without those beside an outline's walls.
    #[must_use]
    pub fn walls(&self) -> &[Path] {
        if self.beside > 0.0 { &self.paths[..self.paths.len() / 2] } else { &self.paths }
    }

    /// Closed lines round what each of its walls' ways opens in the side that is up, a point every millimetre of an arc; of a
    /// way round and round the outer line first, then the inner one, where wood stands within it.
    #[must_use]
    pub fn openings(&self) -> Vec<Vec<Vec<Point2<f64>>>> {
        let points = |piece: &Piece| {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let parts = if matches!(piece, Piece::Arc { .. }) { piece.length().ceil().max(8.0) as u32 } else { 1 };
            (0..parts).map(|k| piece.at(f64::from(k) / f64::from(parts))).collect::<Vec<_>>()
        };
        let lines = |path: &Path| {
            let Region(loops) = path.region(self.profile.at_surface());
            loops.iter().map(|Loop(pieces)| pieces.iter().flat_map(points).collect()).collect()
        };
        self.walls().iter().map(lines).collect()
    }

    /// The sides of the stock that a cut on a face opens at: at X 0, at the far X, at Y 0, at the far Y. Whichever way the bit
    /// runs there, on one side of the opening its edges leave the wood at the rim: only a strip of waste held tight against it
    /// keeps the fibres there.
    #[must_use]
    pub fn opens(&self) -> [bool; 4] {
        if !matches!(self.cut, Cut::Face(_)) {
            return [false; 4];
        }
        let ([low, high], [long, wide, _], out) = (self.extent(), self.stock, self.profile.at_surface());
        [low.x - out < -NEAR, high.x + out > long + NEAR, low.y - out < -NEAR, high.y + out > wide + NEAR]
    }

    /// The least and the greatest of where the bit's centre goes.
    #[must_use]
    pub fn extent(&self) -> [Point2<f64>; 2] {
        let boxes = self.paths.iter().map(Path::extent);
        boxes.reduce(|[a, b], [c, d]| [a.inf(&c), b.sup(&d)]).unwrap_or_default()
    }

    /// How far a point lies from where the bit's centre goes.
    #[must_use]
    pub fn distance(&self, p: &Point2<f64>) -> f64 {
        self.paths.iter().map(|path| path.distance(p)).fold(f64::INFINITY, f64::min)
    }

    /// What it takes of the stock, mm³: the integral of the exact slices' area over the depth.
    #[must_use]
    pub fn volume(&self) -> f64 {
        Self::volume_of(std::slice::from_ref(self))
    }

    /// What several of one side take of the stock together, mm³, where they cross only once.
    #[must_use]
    pub fn volume_of(cuttings: &[Self]) -> f64 {
        let Some([long, wide, _]) = cuttings.first().map(|c| c.stock) else { return 0.0 };
        let stock = Rounded { low: Point2::origin(), high: Point2::new(long, wide), radius: 0.0 }.region();
        let slice = |down: f64| {
            let regions: Vec<Region> = cuttings
                .iter()
                .filter(|c| c.profile.depth >= down)
                .flat_map(|c| c.regions(c.profile.half_width(c.profile.depth - down)))
                .collect();
            let union = union_within(&regions, &stock);
            (union.kind, [union.whole.area])
        };
        let ends = cuttings.iter().map(|c| c.profile).flat_map(|p| [p.depth - p.corner.min(p.depth), p.depth]);
        let mut breaks: Vec<f64> = ends.chain([0.0]).collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|a, b| *a - *b < 1e-9);
        let scale: f64 = cuttings.iter().flat_map(|c| c.paths.iter().map(|path| c.swept(path))).sum();
        integral_by_kind(&slice, &breaks, 1e-9 * scale)[0]
    }

    /// Everything within ρ of where the bit's centre goes: a region for each path, or, of an outline, for each of the walls'
    /// ways and what lies beside it.
    fn regions(&self, rho: f64) -> Vec<Region> {
        let off = self.beside;
        if off <= 0.0 {
            return self.paths.iter().map(|path| path.region(rho)).collect();
        }
        let others = &self.paths[self.walls().len()..];
        let both = |(wall, other): (&Path, &Path)| match (wall, other) {
            (Path::Round(wall), _) => {
                Region(vec![wall.inset(-off - rho).outline(), wall.inset(rho).outline().reversed()])
            }
            (Path::Filled(wall), Path::Filled(other)) => {
                let all: Vec<Point2<f64>> = other.iter().chain(wall.iter().rev()).copied().collect();
                Path::Filled(all).region(rho)
            }
            // Its ends, wider by half of what lies beside it, are within the stretches before and after it.
            (Path::Arch(wall), _) => {
                Path::Arch(Arch { radius: wall.radius + off / 2.0, ..*wall }).region(rho + off / 2.0)
            }
            (_, other) => other.region(rho),
        };
        self.walls().iter().zip(others).map(both).collect()
    }

    fn swept(&self, path: &Path) -> f64 {
        Sweep { path: path.clone(), profile: self.profile, face: Face::Upper, through: false }.volume()
    }
}

/// How far a hole right through goes on into the spoil board, mm (common practice, no source).
const BELOW: f64 = 0.2;

/// Where the bit's centre goes in the program's frame. A spout is begun outside the board; in a hole wider than its bit the
/// bit goes round.
fn in_program(which: Which, cuts: &Cuts, sweep: &Sweep, board: &Finished) -> Path {
    let path = match (&sweep.path, which) {
        (Path::Filled(run), Which::Spout(_)) => Path::Filled(run.iter().rev().copied().collect()),
        (Path::Filled(hole), Which::Foot(_) | Which::HangingHole) => match cuts.round_in(which) {
            radius if radius > 0.0 => Path::Round(Rounded::circle(hole.first().copied().unwrap_or_default(), radius)),
            _ => Path::Filled(hole.clone()),
        },
        (path, _) => path.clone(),
    };
    match sweep.face {
        Face::Upper => path,
        Face::Lower => path.turned_over(board.width),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Feet, FingerRecess, Groove};
    use crate::fixtures::{handhold, inch, mm};

    const BOARD: Finished = Finished { length: 300.0, width: 200.0, thickness: 36.0 };

    #[test]
    fn what_it_takes_is_the_closed_form_where_nothing_leaves_the_stock() {
        let bit = handhold(["2", "2"]).bit;
        let groove = Groove {
            face: Face::Lower,
            bit: bit.clone(),
            depth: mm(5),
            setback: mm(20),
            corner_radius: mm(15),
            rim: None,
        };
        let feet = Feet { bit: bit.clone(), diameter: None, depth: mm(7), from_edges: [mm(40), mm(30)] };
        let open = FingerRecess {
            edge: Edge::Front,
            bit,
            depth: mm(6),
            in_from_edge: crate::measure::Length::ZERO,
            setbacks: [mm(60), mm(80)],
            rise: None,
            rim: None,
        };
        let cuts = Cuts { grooves: vec![groove], finger_recesses: vec![open], feet: Some(feet), ..Cuts::default() };
        let all = Cutting::all(&[handhold(["3", "2"])], &cuts, &BOARD);
        assert_eq!(all.len(), 4);
        for cutting in &all {
            let whole: f64 = cutting.paths.iter().map(|path| cutting.swept(path)).sum();
            // Along the very edge, half of it.
            let share = if cutting.name.starts_with("finger") { 0.5 } else { 1.0 };
            assert!((cutting.volume() - whole * share).abs() < 1e-7 * whole, "{}", cutting.name);
        }
        assert_eq!(all[3].paths.len(), 4);
        // Turned over about X the front edge lies at the far side.
        assert!((all[2].extent()[0].y - BOARD.width).abs() < 1e-9);
        assert_eq!(inch("1").mm(), 25.4);
    }
}
