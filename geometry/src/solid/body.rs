//! The finished board as one solid: outline, eased rims, and every cut.

use super::boolean::subtract;
use super::exact::Exact;
use super::flat;
use super::lip::apart;
use super::mesh::{Builder, Mesh};
use super::near::Neighbours;
use super::outer;
use super::tidy::tidy;
use super::tool::{Frame, Level, Tool};
use crate::cut::{Cut, Cuts, Edge, Face, Finished, Handhold, Outline, Recess, Sweep, Which};
use nalgebra::{Point2, Point3};
use thiserror::Error;

/// The whole board, exactly: after flattening and trimming, with its corners, its eased rims and all its cuts.
#[derive(Clone, Debug)]
pub struct Body {
    pub(super) outline: Outline,
    pub(super) recesses: Vec<(Edge, Recess, Tool)>,
    pub(super) sweeps: Vec<Swept>,
}

/// A cut on a face.
#[derive(Clone, Debug)]
pub(super) struct Swept {
    pub(super) which: Which,
    pub(super) sweep: Sweep,
    pub(super) tool: Tool,
    /// Whether it crosses another cut or the board's side: then the mesh comes from a boolean, and the exact figures
    /// from quadrature.
    pub(super) crosses: bool,
}

/// Why a board can't be described as a body.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoBody {
    /// A recess (by its place in the list) leaves its edge, has no length, or breaks through.
    #[error("recess {0} does not lie within its edge")]
    LeavesTheEdge(usize),
    /// Two recesses meet.
    #[error("recesses {0} and {1} meet")]
    Meet(usize, usize),
    /// Corners or eased rims are larger than the board.
    #[error("the corners or the eased rims are larger than the board")]
    Outline,
    /// A cut on a face leaves its face, breaks through, or is none.
    #[error("a cut ({0:?}) does not lie within its face")]
    LeavesTheFace(Which),
    /// Cuts meet that mustn't: every pair of them.
    #[error("cuts meet that mustn't: {0:?}")]
    CutsMeet(Vec<[Cut; 2]>),
    /// The triangulation refused a point, or the boolean failed.
    #[error("the board's size can't be meshed")]
    OutOfRange,
}

impl Body {
    /// The body of a plain box with these handholds.
    ///
    /// # Errors
    /// [`NoBody`] where a recess doesn't lie within its edge's face or two of them meet.
    pub fn of(board: Finished, handholds: &[Handhold]) -> Result<Self, NoBody> {
        Self::cut(board, handholds, &Cuts::default())
    }

    /// The body of a board with all its cuts.
    ///
    /// # Errors
    /// [`NoBody`] where a cut doesn't lie on its edge or face, or two meet that mustn't.
    pub fn cut(board: Finished, handholds: &[Handhold], cuts: &Cuts) -> Result<Self, NoBody> {
        let outline = cuts.outline(board);
        if !outline.fits() {
            return Err(NoBody::Outline);
        }
        let recesses = recesses(&outline, handholds)?;
        let mut sweeps = Vec::new();
        for (which, sweep) in cuts.sweeps(&board) {
            let leaves = leaves(which, &sweep, &outline).ok_or(NoBody::LeavesTheFace(which))?;
            let tool = tool(&sweep, &board);
            sweeps.push(Swept { which, sweep, tool, crosses: leaves });
        }
        let mut body = Self { outline, recesses, sweeps };
        body.check_meetings()?;
        Ok(body)
    }

    /// Refuses cuts that meet where they mustn't; marks those that meet where they may.
    fn check_meetings(&mut self) -> Result<(), NoBody> {
        const MEETS: f64 = Neighbours::MEETS;
        let size = self.outline.size;
        let mut meet = Vec::new();
        for i in 0..self.sweeps.len() {
            for j in 0..i {
                let (a, b) = (&self.sweeps[j], &self.sweeps[i]);
                if gap(&a.sweep.extent(&size), &b.sweep.extent(&size)) > MEETS {
                    continue;
                }
                let (with, meets) = (a.which.may_meet(b.which), !apart(&a.tool, &b.tool, MEETS));
                if meets && !with {
                    meet.push([Cut::Face(a.which), Cut::Face(b.which)]);
                }
                self.sweeps[i].crosses |= meets;
                self.sweeps[j].crosses |= meets;
            }
            for (j, (_, _, recess)) in self.recesses.iter().enumerate() {
                let swept = &self.sweeps[i];
                let near = gap(&room(recess), &swept.sweep.extent(&size)) <= MEETS;
                if near && !apart(recess, &swept.tool, MEETS) {
                    meet.push([Cut::Handhold(j), Cut::Face(swept.which)]);
                }
            }
        }
        if meet.is_empty() { Ok(()) } else { Err(NoBody::CutsMeet(meet)) }
    }

    /// The finished size.
    #[must_use]
    pub const fn size(&self) -> &Finished {
        &self.outline.size
    }

    /// The board before anything is cut into it.
    #[must_use]
    pub const fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The recesses, exactly.
    pub fn recesses(&self) -> impl Iterator<Item = &Recess> {
        self.recesses.iter().map(|(_, recess, _)| recess)
    }

    /// The cuts on faces, exactly.
    pub fn sweeps(&self) -> impl Iterator<Item = (Which, &Sweep)> {
        self.sweeps.iter().map(|s| (s.which, &s.sweep))
    }

    /// Volume, surface and centre of volume, exactly.
    #[must_use]
    pub fn exact(&self) -> Exact {
        Exact::of(self)
    }

    /// The exact volume: the outline's closed form less those of all cuts; where cuts cross, less what they take
    /// together, by quadrature over exact slices, mm³.
    ///
    /// ```
    /// use quarterturn_geometry::cut::Finished;
    /// use quarterturn_geometry::solid::Body;
    /// let body = Body::of(Finished { length: 300.0, width: 200.0, thickness: 40.0 }, &[]).unwrap();
    /// assert_eq!(body.volume(), 2_400_000.0);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.exact().volume
    }

    /// What all cuts take of the finished box, mm³.
    #[must_use]
    pub fn removed(&self) -> f64 {
        self.exact().removed
    }

    /// The bound of |V_mesh − V| at a chord tolerance, mm³: the sum of every surface's; of a cut that crosses
    /// another, as if it were whole.
    #[must_use]
    pub fn mesh_bound(&self, tolerance: f64) -> f64 {
        let recesses: f64 = self.recesses().map(|r| r.mesh_bound(tolerance)).sum();
        let sweeps: f64 = self.sweeps.iter().map(|s| s.sweep.mesh_bound(tolerance)).sum();
        self.outline.mesh_bound(tolerance) + recesses + sweeps
    }

    /// The whole board as one closed mesh.
    ///
    /// Built directly; cuts that cross another or run out of the side are then cut by a robust boolean.
    ///
    /// # Errors
    /// [`NoBody::OutOfRange`] for a size that can't be meshed.
    pub fn mesh(&self, tolerance: f64) -> Result<Mesh, NoBody> {
        let tolerance = self.fine_enough(tolerance);
        let direct = self.direct_at(tolerance).ok_or(NoBody::OutOfRange)?;
        let mut crossing = self.sweeps.iter().filter(|s| s.crosses).map(|s| s.tool.solid(tolerance)).peekable();
        if crossing.peek().is_none() {
            return Ok(direct);
        }
        let cut = crossing.try_fold(direct, |mesh, cutter| subtract(mesh, &cutter)).ok_or(NoBody::OutOfRange)?;
        Ok(tidy(&cut))
    }

    /// The same, every cut by the boolean: the second way, to check the first by.
    ///
    /// # Errors
    /// [`NoBody::OutOfRange`] for a size that can't be meshed.
    pub fn mesh_by_boolean(&self, tolerance: f64) -> Result<Mesh, NoBody> {
        let tolerance = self.fine_enough(tolerance);
        self.cutters(tolerance)
            .into_iter()
            .try_fold(self.uncut(tolerance)?, |mesh, cutter| subtract(mesh, &cutter))
            .ok_or(NoBody::OutOfRange)
    }

    /// The tolerance, or a finer one where two cuts, or a cut and a rounded corner, lie so close that their chords would
    /// meet: what the whole board and its pieces are both made with.
    pub(super) fn fine_enough(&self, tolerance: f64) -> f64 {
        let rooms: Vec<_> = self.tools().map(|(_, tool)| room(tool)).collect();
        let near = |i: usize| (0..i).any(|j| gap(&rooms[i], &rooms[j]) <= 2.0 * tolerance);
        if self.outline.corner <= 0.0 && !(0..rooms.len()).any(near) {
            return tolerance;
        }
        let finer = [1.0, 0.25, 0.0625, 0.015_625].map(|finer| finer * tolerance);
        finer.into_iter().find(|finer| self.direct_at(*finer).is_some()).unwrap_or(tolerance)
    }

    /// Outline, handholds, and every cut that crosses nothing.
    fn direct_at(&self, tolerance: f64) -> Option<Mesh> {
        let mut builder = Builder::default();
        let loops = outer::loops(&self.outline, tolerance);
        let rings: Vec<Vec<u32>> = loops.iter().map(|ring| ring.iter().map(|p| builder.vertex(*p)).collect()).collect();
        let sides = outer::bands(&self.outline, &loops, &rings, &mut builder);
        for (edge, boundary) in sides {
            let boundary = self.in_edge(edge, boundary, &loops);
            self.add_edge(edge, boundary, tolerance, &mut builder)?;
        }
        let ends = [(Face::Upper, loops.last()?, rings.last()?), (Face::Lower, loops.first()?, rings.first()?)];
        let mut openings: [Vec<flat::Boundary>; 2] = ends.map(|(_, points, ring)| {
            let mut boundary: flat::Boundary = points.iter().map(|p| p.xy()).zip(ring.iter().copied()).collect();
            boundary.dedup_by_key(|(_, vertex)| *vertex);
            if boundary.len() > 1 && boundary.first().map(|b| b.1) == boundary.last().map(|b| b.1) {
                boundary.pop();
            }
            vec![boundary]
        });
        for swept in self.sweeps.iter().filter(|s| !s.crosses) {
            let levels = swept.tool.levels(tolerance);
            swept.tool.add_inside(&levels, &mut builder);
            let at = usize::from(swept.sweep.face == Face::Lower);
            openings[at].extend(swept.tool.boundaries(levels.first()?, &mut builder));
            if swept.sweep.through {
                openings[1 - at].extend(swept.tool.boundaries(levels.last()?, &mut builder));
            }
        }
        flat::add(&openings[0], false, &mut builder)?;
        flat::add(&openings[1], true, &mut builder)?;
        Some(builder.finish())
    }

    /// The four corners of a side between the eased rims, in the edge's frame.
    fn in_edge(&self, edge: Edge, side: [(usize, usize, u32); 4], loops: &[Vec<Point3<f64>>]) -> flat::Boundary {
        let Finished { length, width, .. } = self.outline.size;
        let corner = |(level, i, vertex): (usize, usize, u32)| {
            let p = loops[level][i];
            let along = match edge {
                Edge::Front => p.x,
                Edge::Back => length - p.x,
                Edge::Left => width - p.y,
                Edge::Right => p.y,
            };
            (Point2::new(along, p.z), vertex)
        };
        side.map(corner).to_vec()
    }

    fn add_edge(&self, edge: Edge, side: flat::Boundary, tolerance: f64, builder: &mut Builder) -> Option<()> {
        let mut boundaries = vec![side];
        for (_, _, tool) in self.recesses.iter().filter(|(e, ..)| *e == edge) {
            let levels: Vec<Level> = tool.levels(tolerance);
            tool.add_inside(&levels, builder);
            boundaries.extend(tool.boundaries(levels.first()?, builder));
        }
        flat::add(&boundaries, false, builder)
    }

    /// Each recess as a closed solid, in the order of the handholds.
    #[must_use]
    pub fn recess_solids(&self, tolerance: f64) -> Vec<Mesh> {
        self.recesses.iter().map(|(.., tool)| tool.solid(tolerance)).collect()
    }

    /// Every cut as a closed solid, flush with its face or edge: recesses first, then the cuts on faces. What the
    /// whole board and its pieces are cut by; the outline isn't among them.
    #[must_use]
    pub fn cutters(&self, tolerance: f64) -> Vec<Mesh> {
        let sweeps = self.sweeps.iter().map(|s| s.tool.solid(tolerance));
        self.recess_solids(tolerance).into_iter().chain(sweeps).collect()
    }

    /// The board before any cut, as a closed solid: what pieces are cut to at the outline.
    ///
    /// # Errors
    /// [`NoBody::OutOfRange`] for a size that can't be meshed.
    pub fn uncut(&self, tolerance: f64) -> Result<Mesh, NoBody> {
        let bare = Self { outline: self.outline, recesses: Vec::new(), sweeps: Vec::new() };
        bare.direct_at(tolerance).ok_or(NoBody::OutOfRange)
    }

    /// Every cut with its tool.
    fn tools(&self) -> impl Iterator<Item = (Cut, &Tool)> {
        let recesses = self.recesses.iter().enumerate().map(|(i, (.., tool))| (Cut::Handhold(i), tool));
        recesses.chain(self.sweeps.iter().map(|s| (Cut::Face(s.which), &s.tool)))
    }
}

fn recesses(outline: &Outline, handholds: &[Handhold]) -> Result<Vec<(Edge, Recess, Tool)>, NoBody> {
    let board = &outline.size;
    let recesses: Vec<(Edge, Recess, Tool)> =
        handholds.iter().map(|h| (h.edge, h.recess(board), placed(h, board))).collect();
    for (i, (edge, recess, tool)) in recesses.iter().enumerate() {
        let is_one = recess.travel >= 0.0 && recess.widening >= 0.0 && recess.profile.rim_fits();
        if !is_one || !lies_within(*edge, tool, outline) {
            return Err(NoBody::LeavesTheEdge(i));
        }
        let meets = |j: &usize| gap(&room(tool), &room(&recesses[*j].2)) <= 0.0 && !apart(&recesses[*j].2, tool, 0.0);
        if let Some(j) = (0..i).find(meets) {
            return Err(NoBody::Meet(j, i));
        }
    }
    Ok(recesses)
}

/// A handhold where it lies.
pub(super) fn placed(hold: &Handhold, board: &Finished) -> Tool {
    let frame = Frame::Edge(hold.frame(board));
    Tool { path: hold.path(board), profile: hold.profile(), frame, through: false }
}

/// A cut on a face where it lies.
pub(super) fn tool(sweep: &Sweep, board: &Finished) -> Tool {
    let frame = Frame::Face(sweep.face, board.thickness);
    Tool { path: sweep.path.clone(), profile: sweep.profile, frame, through: sweep.through }
}

fn lies_within(edge: Edge, tool: &Tool, outline: &Outline) -> bool {
    let ([from, to], rho) = (tool.path.extent(), tool.profile.at_surface());
    let [upper, lower] = outline.eased();
    tool.profile.depth > 0.0
        && tool.profile.depth < edge.stands(&outline.size)
        && from.x - rho > outline.corner
        && to.x + rho < edge.length(&outline.size) - outline.corner
        && from.y - rho > lower
        && to.y + rho < outline.size.thickness - upper
}

/// Whether a cut runs out of its face's flat; `None` where it mustn't, or is no cut.
fn leaves(which: Which, sweep: &Sweep, outline: &Outline) -> Option<bool> {
    let flats = outline.faces();
    let at = usize::from(sweep.face == Face::Lower);
    let depth_fits = sweep.through || sweep.profile.depth < outline.size.thickness;
    if !(sweep.is_one() && depth_fits) {
        return None;
    }
    let foot = sweep.footprint();
    let inside = flats[at].region().holds(&foot) && (!sweep.through || flats[1 - at].region().holds(&foot));
    if inside {
        return Some(false);
    }
    (which.may_leave() && flats[at].region().meets(&foot)).then_some(true)
}

/// The box that a recess lies in.
pub(super) fn room(tool: &Tool) -> [Point3<f64>; 2] {
    let ([from, to], rho) = (tool.path.extent(), tool.profile.at_surface());
    let a = tool.frame.on_board(&Point3::new(from.x - rho, from.y - rho, -tool.profile.depth));
    let b = tool.frame.on_board(&Point3::new(to.x + rho, to.y + rho, 0.0));
    [a.inf(&b), a.sup(&b)]
}

/// The least distance between two boxes, 0 where they meet: no more than between what lies in them.
pub(super) fn gap(a: &[Point3<f64>; 2], b: &[Point3<f64>; 2]) -> f64 {
    let apart = |axis: usize| (a[0][axis] - b[1][axis]).max(b[0][axis] - a[1][axis]).max(0.0);
    (0..3).map(apart).map(|d| d * d).sum::<f64>().sqrt()
}
