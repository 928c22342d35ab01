//! A cut in a face drawn beside its figures: the board as it lies, the cut, the bit's way, where it is measured from.
//!
//! Figures are numbers of the report, as shown; must not work anything out about the set-up.

use super::strokes::{WORDS, arrow, dashed, level, on_white, upright, upright_room};
use super::{Flow, Shop, side_up};
use crate::paper::flow::MARGIN;
use crate::paper::page::{Page, Side, Tone, arc};
use crate::paper::text::{Block, Style};
use quarterturn_geometry::cut::{Cut, Edge, Face, Path, Which};
use quarterturn_geometry::path::{Cutting, Up};

/// The most that the board takes across and up the page, mm.
const WIDE: f64 = 78.0;
const HIGH: f64 = 36.0;
/// Room round it for the edges' names, for a strip of waste, and for the distances to the right and below.
const ROUND: f64 = 5.0;
const RIGHT: f64 = 30.0;
const ROW: f64 = 4.8;

/// The cut on the left, what is said of it on its right.
pub(super) fn beside(shop: &Shop, cutting: &Cutting, says: &str, flow: &mut Flow) {
    let [long, wide, _] = cutting.stock;
    let s = (WIDE / long).min(HIGH / wide).min(1.0);
    let mut drawn = OnFace { shop, cutting, left: MARGIN + ROUND, top: 0.0, s };
    let [_, at_right] = drawn.rows();
    let at_right = at_right.iter().flat_map(|(_, figures)| figures).map(|figure| upright_room(figure));
    let across = ROUND + long * s + at_right.fold(RIGHT, f64::max);
    let block = Block::of(says, Style::body(), flow.room() - across - 4.0);
    // Of three figures the middle one may stand below the others.
    let below =
        drawn.rows()[0].as_ref().map_or(0.0, |(_, figures)| if figures.len() > 1 { 2.0 } else { 1.0 } * ROW + 4.0);
    let waste = if cutting.opens()[2] { ROUND } else { 0.0 };
    let high = 2.0 * ROUND + wide * s + below + waste - 2.0;
    let top = flow.take(high.max(block.height()));
    drawn.top = top + ROUND;
    let page = flow.page();
    drawn.board(page);
    drawn.way(page);
    drawn.distances(page);
    block.draw(page, [MARGIN + across + 4.0, top], Side::Start);
}

/// The one of two places that lies farther from a stretch, the first where neither does.
fn clear([low, high]: [f64; 2], [first, second]: [f64; 2]) -> f64 {
    let off = |place: f64| (low - place).max(place - high).max(0.0);
    if off(second) > off(first) { second } else { first }
}

struct OnFace<'a> {
    shop: &'a Shop<'a>,
    cutting: &'a Cutting,
    left: f64,
    top: f64,
    s: f64,
}

/// Distances one after another along one side: places in the program's frame, the figure between two of them.
type Row = (Vec<f64>, Vec<String>);

impl OnFace<'_> {
    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.s, self.top + (self.cutting.stock[1] - y) * self.s]
    }

    fn figure(&self, name: &str) -> String {
        self.shop.figure(&format!("{}.{name}", self.cutting.cut.key()))
    }

    /// The board with the cut, its strips of waste, and the names of its edges.
    fn board(&self, page: &mut Page) {
        let all = [self.cutting];
        let side = side_up::SideUp::at_scale(self.shop, &all, self.cutting, [self.left, self.top], self.s);
        side.stock(page);
        side.strips(false, page);
        let name = |edge: Edge| self.shop.words.name("side", edge.name());
        let lower = self.cutting.up == Up::Face(Face::Lower);
        let (near, beyond) = if lower { (Edge::Back, Edge::Front) } else { (Edge::Front, Edge::Back) };
        let [long, wide, _] = self.cutting.stock;
        // Clear of the middle, where cuts lie, and inside of a groove.
        let (inside, aside) = match self.cutting.cut {
            Cut::Face(Which::Groove(_)) => {
                (self.cutting.extent()[0].y + self.cutting.profile.at_surface() + 4.0 / self.s, 0.3)
            }
            _ => (8.0 / self.s, 0.18),
        };
        let mut write = |edge: Edge, x: f64, y: f64, side: Side| {
            let [x, y] = self.at(x, y);
            on_white(page, &name(edge), [x, y + WORDS * 0.36], side);
        };
        let [low, high] = self.cutting.extent();
        let along = long * clear([low.x / long, high.x / long], [aside, 1.0 - aside]);
        let up = wide * clear([low.y / wide, high.y / wide], [0.6, 0.45]);
        write(near, along, inside, Side::Middle);
        write(beyond, along, wide - inside, Side::Middle);
        write(Edge::Left, inside, up, Side::Start);
        write(Edge::Right, long - inside, up, Side::End);
    }

    /// Where the bit's centre goes, dashed, and which way it is fed.
    fn way(&self, page: &mut Page) {
        for path in &self.cutting.paths {
            let points: Vec<[f64; 2]> = match path {
                Path::Filled(corners) => corners.iter().map(|p| self.at(p.x, p.y)).collect(),
                Path::Arch(arch) => {
                    (0..=40).map(|k| arch.at(f64::from(k) / 40.0, 0.0)).map(|p| self.at(p.x, p.y)).collect()
                }
                Path::Round(round) => {
                    let (r, quarter) = (round.radius * self.s, std::f64::consts::FRAC_PI_2);
                    let ([x0, y1], [x1, y0]) = (self.at(round.low.x, round.low.y), self.at(round.high.x, round.high.y));
                    let corners = [[x1 - r, y0 + r], [x1 - r, y1 - r], [x0 + r, y1 - r], [x0 + r, y0 + r]];
                    let from = |k: usize| quarter * (k as f64 - 1.0);
                    let mut points: Vec<_> = corners
                        .iter()
                        .enumerate()
                        .flat_map(|(k, c)| arc(*c, r, [from(k), from(k) + quarter]))
                        .collect();
                    points.extend(points.first().copied());
                    points
                }
            };
            if points.len() > 1 {
                dashed(page, points, false);
            } else if let Some([x, y]) = points.first().copied() {
                page.line([x - 2.0, y], [x + 2.0, y], 0.15, Tone::Black);
                page.line([x, y - 2.0], [x, y + 2.0], 0.15, Tone::Black);
            }
        }
        self.feed(page);
    }

    /// An arrow along the way: of a groove as inside a frame; of a spout out to its edge; of an open recess with the board
    /// at the left of its way.
    fn feed(&self, page: &mut Page) {
        let [low, high] = self.cutting.extent();
        let middle = nalgebra::center(&low, &high);
        let off = (self.cutting.profile.at_surface() * self.s + 3.0) / self.s;
        let half = 8.0 / self.s;
        match self.cutting.cut {
            Cut::Face(Which::Groove(_)) => {
                let y = high.y - off;
                arrow(page, self.at(middle.x - half, y), self.at(middle.x + half, y));
            }
            Cut::Face(Which::Spout(_)) => {
                // Beside it, out to its edge, where its way reaches beyond the board.
                let [long, wide, _] = self.cutting.stock;
                let (begins, [x, y]) = (1.5 * half, [middle.x + off, middle.y - off]);
                let (from, to) = match self.edge() {
                    Some(Edge::Left) => ([begins, y], [0.0, y]),
                    Some(Edge::Right) => ([long - begins, y], [long, y]),
                    _ if middle.y > wide / 2.0 => ([x, wide - begins], [x, wide]),
                    _ => ([x, begins], [x, 0.0]),
                };
                arrow(page, self.at(from[0], from[1]), self.at(to[0], to[1]));
            }
            Cut::Face(Which::FingerRecess(_)) => {
                let [long, wide, _] = self.cutting.stock;
                let inward = match self.edge() {
                    Some(Edge::Left) => [1.0, 0.0],
                    Some(Edge::Right) => [-1.0, 0.0],
                    _ if middle.y > wide / 2.0 => [0.0, -1.0],
                    _ => [0.0, 1.0],
                };
                let [u, v] = inward;
                // Beyond the way, as seen from its edge.
                let reach = [0, 1].map(|axis| match inward[axis] {
                    toward if toward > 0.0 => high[axis],
                    toward if toward < 0.0 => low[axis],
                    _ => middle[axis],
                });
                let [x, y] = [(reach[0] + u * off).clamp(0.0, long), (reach[1] + v * off).clamp(0.0, wide)];
                let ahead = [v * half, -u * half];
                let open = self.cutting.opens().contains(&true);
                let (from, to) = (self.at(x - ahead[0], y - ahead[1]), self.at(x + ahead[0], y + ahead[1]));
                arrow(page, from, to);
                if !open {
                    arrow(page, to, from);
                }
            }
            _ => {}
        }
    }

    fn edge(&self) -> Option<Edge> {
        let cuts = &self.shop.job.cuts;
        match self.cutting.cut {
            Cut::Face(Which::Spout(i)) => cuts.spouts.get(i).map(|s| s.edge),
            Cut::Face(Which::FingerRecess(i)) => cuts.finger_recesses.get(i).map(|r| r.edge),
            Cut::Face(Which::HangingHole) => cuts.hanging_hole.as_ref().map(|h| h.edge),
            _ => None,
        }
    }

    /// Along X below the board, along Y at its right.
    fn distances(&self, page: &mut Page) {
        let [long, wide, _] = self.cutting.stock;
        let [along_x, along_y] = self.rows();
        if let Some((places, figures)) = along_x {
            let places: Vec<f64> = places.iter().map(|x| self.at(*x, 0.0)[0]).collect();
            let foot = self.at(0.0, 0.0)[1] + if self.cutting.opens()[2] { ROUND } else { 0.5 };
            level(page, &places, foot, &figures);
        }
        if let Some((places, figures)) = along_y {
            let mut spans: Vec<([f64; 2], &String)> = places
                .windows(2)
                .map(|pair| {
                    let mut ends = [pair[0], pair[1]].map(|y| self.at(0.0, y)[1]);
                    ends.sort_by(f64::total_cmp);
                    ends
                })
                .zip(&figures)
                .collect();
            spans.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
            let right = self.at(long, wide)[0] + if self.cutting.opens()[1] { ROUND } else { 0.5 };
            upright(page, &spans, right);
        }
    }

    /// What is measured along X, and along Y.
    fn rows(&self) -> [Option<Row>; 2] {
        let [long, wide, _] = self.cutting.stock;
        let [low, high] = self.cutting.extent();
        let figure = |name: &str| self.figure(name);
        let lower = self.cutting.up == Up::Face(Face::Lower);
        // The front edge and the back one in the program's Y.
        let (front, back) = if lower { (wide, 0.0) } else { (0.0, wide) };
        let Cut::Face(which) = self.cutting.cut else { return [None, None] };
        match which {
            Which::Groove(_) => [
                Some((vec![0.0, low.x, high.x, long], ["fence", "way long", "fence"].map(figure).to_vec())),
                Some((vec![0.0, low.y, high.y, wide], ["fence", "way wide", "fence"].map(figure).to_vec())),
            ],
            Which::Foot(_) => [
                Some((vec![0.0, low.x], vec![figure("from end")])),
                Some((
                    vec![if lower { wide } else { 0.0 }, if lower { high.y } else { low.y }],
                    vec![figure("from side")],
                )),
            ],
            Which::Spout(_) | Which::HangingHole | Which::FingerRecess(_) => {
                let edge = self.edge();
                let sideways = matches!(edge, Some(Edge::Left | Edge::Right));
                let ends = if sideways { ["front", "back"] } else { ["left", "right"] };
                let along = match which {
                    Which::FingerRecess(_) => {
                        let figures =
                            [format!("bit from {}", ends[0]), "travel".to_owned(), format!("bit from {}", ends[1])];
                        let figures = figures.iter().map(|name| figure(name)).collect();
                        let ends = if sideways { self.from(front, back) } else { vec![0.0, low.x, high.x, long] };
                        (ends, figures)
                    }
                    _ if sideways => (vec![front, low.y], vec![figure("along")]),
                    _ => (vec![0.0, low.x], vec![figure("along")]),
                };
                let edge_at = match edge {
                    Some(Edge::Left) => 0.0,
                    Some(Edge::Right) => long,
                    Some(Edge::Front) => front,
                    _ => back,
                };
                let name = if which == Which::HangingHole { "from edge" } else { "fence" };
                let begins = self.begins(edge_at, sideways);
                let across = Some((vec![edge_at, begins], vec![figure(name)])).filter(|(_, f)| !f[0].is_empty());
                if sideways { [across, Some(along)] } else { [Some(along), across] }
            }
        }
    }

    /// From the front edge by way of the bit's two ends to the back one.
    fn from(&self, front: f64, back: f64) -> Vec<f64> {
        let [low, high] = self.cutting.extent();
        if front < back { vec![front, low.y, high.y, back] } else { vec![front, high.y, low.y, back] }
    }

    /// Where the bit's way lies that the fence is told of: at its ends, nearest to its edge.
    fn begins(&self, edge: f64, sideways: bool) -> f64 {
        let [low, high] = self.cutting.extent();
        let [low, high] = if sideways { [low.x, high.x] } else { [low.y, high.y] };
        if (low - edge).abs() < (high - edge).abs() { low } else { high }
    }
}
