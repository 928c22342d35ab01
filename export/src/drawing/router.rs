//! The router table set up for one handhold: from above, from the maker's side, and a section at full size; and a template
//! of it at 1:1.
//!
//! ```text
//!   from above          ═══════ fence ═══════         the maker stands at the bottom of the page,
//!                   ▌ board at the end | start ▐       the feed runs from right to left
//!   from your side      the board, pivoted and down
//!   across, 2:1         fence, board, bit pass by pass
//! ```
//! Every dimension is a number of [`super::Sheet`]'s, shown as there. Must not work anything out about the set-up.

use super::dimension::Chain;
use super::hatch::{arrow, circle, hatched, polygon};
use super::{Drawing, MARGIN, Sheet, TEXT, THICK, THIN, TINT, capital, caption, title};
use crate::ink::{self, Anchor};
use crate::lettering;
use crate::wording::place;
use quarterturn_geometry::cut::{Edge, Handhold};
use quarterturn_geometry::path::RouterSetup;
use svg::node::element::{Group, Rectangle, Text};

/// How wide the sheet is inside its margins, mm: it goes on A4 and on letter paper laid across.
const WIDE: f64 = 250.0;
/// How far blocks and fence run on beyond the board, mm of the bench.
const BEYOND: f64 = 45.0;
/// How deep blocks and fence are drawn, mm of the bench.
const DEEP: f64 = 25.0;
/// How high the board is drawn as it stands, mm.
const SIDE: f64 = 85.0;
/// How high a stop block is: low, since the raised board's upper corner swings into a high one. 3/4 in (common practice,
/// no source).
const BLOCK_HIGH: f64 = 19.05;

/// One set-up under the pen.
struct Bench<'a> {
    sheet: &'a Sheet<'a>,
    i: usize,
    hold: &'a Handhold,
    setup: RouterSetup,
    /// How large it is drawn.
    scale: f64,
}

/// The sheet for a handhold of a job, by its place; `None` where it may not be lowered onto the bit.
pub(super) fn sheet(sheet: &Sheet, i: usize) -> Option<Drawing> {
    let mut bench = Bench::of(sheet, i, 1.0)?;
    let across = bench.setup.right_hand_stop + bench.setup.left_hand_stop + 2.0 * BEYOND;
    bench.scale = (WIDE / across).min(1.0);
    let views = [bench.heading(), bench.above(), bench.your_side(), bench.section_and_steps()];
    Some(bench.page(&views, WIDE))
}

/// The template for it, at 1:1.
pub(super) fn template(sheet: &Sheet, i: usize) -> Option<Drawing> {
    let bench = Bench::of(sheet, i, 1.0)?;
    let across = (bench.setup.right_hand_stop + bench.setup.left_hand_stop + 2.0 * BEYOND).max(title::NARROWEST);
    let words = format!(
        "{}: template at 1:1, seen from above. Lay it on the table, router unplugged, with the cross under the bit's centre; \
         bring fence and blocks to its lines; then measure all three with a rule. The fence's line is for a sanded board.",
        bench.name()
    );
    let (says, high) = caption(&words, [0.0, 0.0], across);
    let lines = ["Seen from above; dashed: the board as the cut ends.".to_owned()];
    let foot = title::with(sheet, across, &lines);
    Some(bench.page(&[(says, high), bench.above(), (foot.ink, foot.height)], across))
}

impl<'a> Bench<'a> {
    fn of(sheet: &'a Sheet<'a>, i: usize, scale: f64) -> Option<Self> {
        let hold = sheet.job.handholds.get(i)?;
        let setup = RouterSetup::of(hold, &sheet.board.finished(), &sheet.job.router_table);
        setup.may_be_lowered.then_some(Self { sheet, i, hold, setup, scale })
    }

    fn shown(&self, name: &str) -> &'a str {
        self.sheet.shown(&format!("handhold.{}.{name}", self.i + 1))
    }

    fn name(&self) -> String {
        let edge = self.hold.edge.name();
        format!("Router table, handhold in the {edge} edge")
    }

    fn fence_key(&self, pass: usize) -> String {
        let name = if self.setup.fences.len() == 1 { "fence".to_owned() } else { format!("fence {}", pass + 1) };
        format!("{name} unsanded")
    }

    /// Blocks one under another on a page.
    fn page(&self, blocks: &[(Group, f64)], across: f64) -> Drawing {
        let (mut y, mut group) = (MARGIN, ink::lettered());
        for (ink, high) in blocks {
            let moved = ink.clone().set("transform", format!("translate({} {})", ink::mm(MARGIN), ink::mm(y)));
            group = group.add(moved);
            y += high + 4.0;
        }
        let (width, height) = (ink::mm(across + 2.0 * MARGIN), ink::mm(y + MARGIN - 4.0));
        let paper = Rectangle::new().set("width", width).set("height", height).set("fill", "white");
        Drawing { svg: format!("{}\n", ink::page(width, height).add(paper).add(group)), width, height }
    }

    fn heading(&self) -> (Group, f64) {
        let title = format!("{}: {}", lettering::plain(&self.sheet.job.name, 60), self.name());
        let size = lettering::fitting(&title, WIDE, 6.0);
        let says = format!(
            "Bit {}: {} across. {} edge down, {} end at your left hand, lower face against the fence, show face toward you. \
             The manuals of table and router, and people who teach them, come first; this drawing does not say that the cut \
             is safe for you to make.",
            lettering::plain(&self.hold.bit.name, 40),
            self.shown("bit diameter"),
            capital(self.hold.edge.name()),
            self.setup.left_hand_end.name()
        );
        let (words, high) = caption(&says, [0.0, 8.0], WIDE);
        (Group::new().add(ink::word(&title, [0.0, 6.0], size, Anchor::Start)).add(words), 8.0 + high)
    }

    /// From above, the bit's centre at the origin; x to the right, y toward the maker.
    fn above(&self) -> (Group, f64) {
        let s = self.scale;
        let setup = &self.setup;
        let size = self.sheet.board.finished();
        let (long, thick) = (self.hold.edge.length(&size), size.thickness);
        let first = setup.fences.first().copied().unwrap_or_default();
        let last = setup.fences.last().copied().unwrap_or_default();
        let [left, right] = [-setup.left_hand_stop, setup.right_hand_stop];
        let x = |mm: f64| (mm - left + BEYOND) * s;
        let top = last * s + DEEP * s + 8.0;
        let y = |mm: f64| top + mm * s;
        let wide = right - left + 2.0 * BEYOND;
        let (near, rho) = (thick - first, setup.half_width);
        let mut ink = Group::new();
        // The fence at its first place, in full; where it is moved to, dashed.
        ink = ink.add(hatched([0.0, y(-first - DEEP)], [wide * s, DEEP * s]));
        ink = ink.add(word_at("tall auxiliary fence", [x(right - 30.0), y(-first - DEEP / 2.0)], Anchor::End));
        for fence in &setup.fences[1..] {
            ink = ink.add(dashed(ink::line([0.0, y(-fence)], [wide * s, y(-fence)], THICK)));
        }
        // The board where the cut ends, where it begins.
        let at_end = ink::rectangle([x(left), y(-first)], [long * s, thick * s], THIN * 1.5);
        ink = ink.add(at_end.set("stroke-dasharray", "2.2 1.2").set("fill", TINT));
        let at_start = ink::rectangle([x(right - long), y(-first)], [long * s, thick * s], THICK);
        ink = ink.add(at_start.set("fill", TINT).set("fill-opacity", 0.6));
        // Blocks, each with its face to the board.
        let block =
            |from: f64| ink::rectangle([x(from), y(-first)], [DEEP * s, thick * s], THICK).set("fill", "#d9d2c4");
        ink = ink.add(block(right).set("id", "starting-stop")).add(block(left - DEEP).set("id", "left-hand-block"));
        let under = y(near) + TEXT * 1.4;
        ink = ink.add(word("starting stop", [wide * s, under], Anchor::End));
        ink = ink.add(word("(right-hand block)", [wide * s, under + TEXT * 1.3], Anchor::End));
        ink = ink.add(word("left-hand block", [0.0, under], Anchor::Start));
        ink = ink.add(word("(the cut ends)", [0.0, under + TEXT * 1.3], Anchor::Start));
        // The bit under the board, and the marks on the table in line with its edges, in front of the board.
        ink = ink.add(circle([x(0.0), y(0.0)], rho * s).set("fill", "white").set("id", "bit"));
        ink = ink.add(ink::line([x(-rho - 4.0), y(0.0)], [x(rho + 4.0), y(0.0)], THIN));
        ink = ink.add(ink::line([x(0.0), y(-first)], [x(0.0), y(near) + 2.0], THIN));
        ink = ink.add(turning([x(0.0), y(0.0)], rho * s * 0.62));
        for edge in [-rho, rho] {
            ink = ink.add(ink::line([x(edge), y(near)], [x(edge), y(near) + 6.0], THICK));
        }
        ink = ink.add(word_at("marks on the table: the bit's edges", [x(-rho) - 1.5, y(near) + 4.0], Anchor::End));
        // Feather board before the bit, feed, hands.
        ink = ink.add(self.feather(x(rho + 12.0), y(near)));
        ink = ink.add(arrow([x(rho) - 2.0, y(near) + 15.0], [x(-rho) - 26.0 * s.max(0.4), y(near) + 15.0]));
        ink = ink.add(word("feed", [x(-rho) - 26.0 * s.max(0.4), y(near) + 15.0 - 2.4], Anchor::Start));
        for end in [right - 22.0, right - long + 22.0] {
            let at = [x(end), y(-first + thick / 2.0)];
            ink = ink.add(word_at("hand", at, Anchor::Middle));
        }
        ink = ink.add(word("you stand here", [x(0.0), y(near) + 27.0], Anchor::Middle));
        let row = y(near) + 30.0;
        // Below the words, so that no line runs through one.
        let below = under + TEXT * 1.8;
        let stops = Chain {
            at: vec![x(left), x(0.0), x(right)],
            from: vec![below, row - 2.0, below],
            shown: vec![self.shown("left-hand stop"), self.shown("right-hand stop")],
        };
        ink = ink.add(stops.across(row + 8.0));
        let nearer = Chain {
            at: vec![x(left), x(-rho), x(rho), x(right)],
            from: vec![row + 8.0; 4],
            shown: vec![
                self.shown("left-hand stop from nearer edge"),
                self.shown("bit at the table"),
                self.shown("right-hand stop from nearer edge"),
            ],
        };
        ink = ink.add(nearer.across(row + 20.0));
        let fences: Vec<String> = (0..setup.fences.len()).map(|k| self.shown(&self.fence_key(k)).to_owned()).collect();
        let moved = match fences.as_slice() {
            [only] => format!("Fence {only} from the bit's centre, the board not yet sanded."),
            all => {
                let named = all.iter().enumerate().map(|(k, fence)| format!("{} {fence}", place(k)));
                format!(
                    "Fence from the bit's centre, the board not yet sanded, in this order: {}. Full: at A; dashed: where it is \
                     moved to, always away from the bit.",
                    named.collect::<Vec<_>>().join(", then ")
                )
            }
        };
        let says = format!(
            "Seen from above. {moved} Upper chain: from the bit's centre to each \
             block's near face; lower: from the bit's nearer edges at the table, the bit at its last height, a cutting edge turned toward the block, and how \
             wide the bit is there. Full: the board as the cut begins; dashed: as it ends."
        );
        let (words, high) = caption(&says, [0.0, row + 22.0], (wide * s).max(150.0));
        (ink.add(words), row + 22.0 + high)
    }

    /// A comb that presses the board to the fence, before the bit.
    fn feather(&self, x: f64, y: f64) -> Group {
        let (wide, high) = (60.0 * self.scale, 9.0);
        let mut ink = Group::new().add(ink::rectangle([x, y + 3.5], [wide, high - 3.5], THICK).set("fill", "#eadfc8"));
        for k in 0..8 {
            let at = x + wide * (f64::from(k) + 0.5) / 8.0;
            ink = ink.add(ink::line([at, y + 3.5], [at - 1.2, y + 0.2], THIN * 2.0));
        }
        ink.add(word("feather board", [x + wide + 1.5, y + high - 2.0], Anchor::Start))
    }

    /// From the maker's side: table, blocks, the board down at the left end of its way, and as it is lowered.
    fn your_side(&self) -> (Group, f64) {
        let setup = &self.setup;
        let size = self.sheet.board.finished();
        let (long, stands) = (self.hold.edge.length(&size), self.hold.edge.stands(&size));
        let s = self.scale.min(SIDE / stands);
        let [left, right] = [-setup.left_hand_stop, setup.right_hand_stop];
        let tilt = 8.0f64.to_radians();
        let x = |mm: f64| (mm - left + BEYOND) * s;
        let top = (stands * tilt.cos() + long * tilt.sin()) * s + 3.0;
        let y = |mm: f64| top - mm * s;
        let wide = (right - left + 2.0 * BEYOND) * s;
        let mut ink = Group::new();
        let corner = |u: f64, v: f64| {
            let (sin, cos) = tilt.sin_cos();
            (x(right - u * cos + v * sin), y(u * sin + v * cos))
        };
        let raised = [(0.0, 0.0), (long, 0.0), (long, stands), (0.0, stands)].map(|(u, v)| corner(u, v));
        ink = ink.add(polygon(&raised).set("fill", "none").set("stroke-dasharray", "2.2 1.2"));
        let down = ink::rectangle([x(right - long), y(stands)], [long * s, stands * s], THICK);
        ink = ink.add(down.set("fill", TINT).set("fill-opacity", 0.7));
        let deepest = setup.heights.last().copied().unwrap_or_default();
        let bit =
            ink::rectangle([x(-setup.half_width), y(deepest)], [2.0 * setup.half_width * s, deepest * s], THIN * 2.0);
        ink = ink.add(bit.set("fill", "white"));
        for from in [right, left - DEEP] {
            ink = ink.add(
                ink::rectangle([x(from), y(BLOCK_HIGH)], [DEEP * s, BLOCK_HIGH * s], THICK).set("fill", "#d9d2c4"),
            );
        }
        ink = ink.add(ink::line([0.0, y(0.0)], [wide, y(0.0)], THICK * 1.5));
        // Where the recess begins and ends, marked on the show face.
        let [a, c] = self.hold.setbacks(&size);
        for mark in [right - long + a, right - c] {
            ink = ink.add(ink::line([x(mark), y(0.0)], [x(mark), y(deepest * 2.5)], THICK));
        }
        let [first, second] = self.hold.edge.ends().map(Edge::name);
        ink = ink.add(word(first, [x(right - long) + 1.5, y(stands) + TEXT * 1.3], Anchor::Start));
        ink = ink.add(word(second, [x(right) - 1.5, y(stands) + TEXT * 1.3], Anchor::End));
        ink = ink.add(word("show face", [x(right - long / 2.0), y(stands / 2.0)], Anchor::Middle));
        let setbacks = [first, second].map(|end| self.shown(&format!("setback {end}")));
        let marks = Chain {
            at: vec![x(right - long), x(right - long + a), x(right - c), x(right)],
            from: vec![y(0.0) + 0.5; 4],
            shown: vec![setbacks[0], self.shown("length"), setbacks[1]],
        };
        ink = ink.add(marks.across(y(0.0) + 11.0));
        let says = "From your side. Your right hand holds the board's right end against the starting stop, your left hand its left end, \
                    raised (dashed); lower it onto the turning bit, or better all of it level. The two marks on the show face, each \
                    so far from its corner, are where the recess begins and ends: between the blocks the bit cuts from mark to mark. \
                    Blocks are low, their lower edges chamfered for chips. Hands stay at the two ends.";
        let (words, high) = caption(says, [0.0, y(0.0) + 13.0], wide.max(150.0));
        (ink.add(words), y(0.0) + 13.0 + high)
    }

    /// Across the board at full size, the bit's heights pass by pass; what to do beside it.
    fn section_and_steps(&self) -> (Group, f64) {
        let setup = &self.setup;
        let thick = self.sheet.board.finished().thickness;
        let fence = setup.fences.first().copied().unwrap_or_default();
        let deepest = setup.heights.last().copied().unwrap_or_default();
        let rho = setup.half_width;
        let high = (deepest * 2.2).max(30.0);
        let x = |mm: f64| 12.0 + mm;
        let y = |mm: f64| 4.0 + high - mm;
        let mut ink = Group::new().add(hatched([x(-10.0), y(high)], [10.0, high]));
        ink = ink.add(ink::rectangle([x(0.0), y(high)], [thick, high], THICK).set("fill", TINT));
        ink = ink.add(self.profile(x(fence), &y));
        ink = ink.add(ink::line([x(-12.0), y(0.0)], [x(thick + 12.0), y(0.0)], THICK * 1.5));
        let chain =
            Chain { at: vec![x(0.0), x(fence)], from: vec![y(0.0); 2], shown: vec![self.shown(&self.fence_key(0))] };
        ink = ink.add(chain.across(y(0.0) + 13.0));
        let room = x(thick) + 12.0;
        for (k, height) in setup.heights.iter().enumerate() {
            let label = format!("pass {}: {}", k + 1, self.shown(&format!("height {}", k + 1)));
            let at = y(*height);
            let place = y(0.0) - (k as f64 + 0.2) * TEXT * 1.5;
            ink = ink.add(ink::line([x(fence + rho), at], [room - 5.0, at], THIN));
            ink = ink.add(ink::line([room - 5.0, at], [room - 1.0, place - TEXT * 0.35], THIN));
            ink = ink.add(word(&label, [room, place], Anchor::Start));
        }
        let at = if setup.fences.len() > 1 { ", at A" } else { "" };
        let (name, foot) = caption(
            &format!(
                "Across, at full size, seen from your left: fence, board, bit. The figure below: from the fence's face to the bit's \
             centre{at}. Heights: from the table to the bit's top."
            ),
            [0.0, y(0.0) + 15.0],
            room + 30.0,
        );
        let text_at = room + 46.0;
        let (mut steps, mut down) = (Group::new(), 0.0);
        for step in self.steps() {
            let (words, tall) = caption(&step, [text_at, down], WIDE - text_at);
            steps = steps.add(words);
            down += tall + 1.2;
        }
        (ink.add(name).add(steps), (y(0.0) + 15.0 + foot).max(down))
    }

    /// The bit's outline at each height, the deepest filled.
    fn profile(&self, middle: f64, y: &impl Fn(f64) -> f64) -> Group {
        let profile = self.hold.before_its_rim().profile();
        let mut ink = Group::new();
        for (k, height) in self.setup.heights.iter().enumerate().rev() {
            let sides = |side: f64| {
                (0..=24).map(move |n| {
                    let down = height * f64::from(n) / 24.0;
                    (middle + side * profile.half_width(down), y(height - down))
                })
            };
            let outline: Vec<(f64, f64)> =
                sides(-1.0).collect::<Vec<_>>().into_iter().rev().chain(sides(1.0)).collect();
            let fill = if k + 1 == self.setup.heights.len() { "white" } else { "none" };
            ink = ink.add(polygon(&outline).set("fill", fill).set("stroke-width", THIN * 1.6));
        }
        ink
    }

    /// What to do, in order.
    fn steps(&self) -> Vec<String> {
        let setup = &self.setup;
        let mut steps = vec![
            "1. Router unplugged: set fence, bit and both blocks. Clamp them; pull at them.".to_owned(),
            format!(
                "2. First on scrap as thick as the board is now, its edge as long, at least {} tall: never on a loose strip. All \
                 steps below; measure the recess in it, correct fence and blocks. Then unplug, and the bit back to its first \
                 height{}.",
                self.shown("auxiliary fence"),
                if setup.fences.len() > 1 { ", the fence back to A" } else { "" }
            ),
            "3. Ear and eye protection, dust collection. Hands at the two ends, never over the cut or behind it.".to_owned(),
            "4. Right end against the starting stop, left end raised. Hands on the upper edge. Router on. Lower the board; keep \
             it against the fence."
                .to_owned(),
        ];
        if !self.hold.bit.cuts_at_centre {
            steps.push("   This bit does not cut at its centre: bore a hole for it first, as the sheet says, or use a bit that does.".to_owned());
        }
        steps.push("5. Feed from right to left, never back, to the left-hand block.".to_owned());
        steps.push(
            "6. Hold still there, switch off by foot or knee, wait until the bit stands, lift. To stop at any time: hold still, \
             switch off, wait; never lift a board off a turning bit."
                .to_owned(),
        );
        steps.push(format!("7. Unplug, raise the bit, and again: {} passes.", setup.heights.len()));
        if setup.fences.len() > 1 {
            steps.push(format!(
                "8. All heights done at A: unplug, fence away from the bit to its next place, parallel; check both blocks; all heights \
                 again; {} places in all. Never the \
                 other order: that is a climb cut, which pulls the board out of your hands. Only the feather board presses the \
                 board to the fence now. {} stays standing where places meet: sand it off.",
                setup.fences.len(),
                self.shown("cusp")
            ));
        }
        steps.push(format!(
            "Lowered by pivoting, the recess begins up to {} early; lowered level, it doesn't.",
            self.shown("over-cut")
        ));
        steps
    }
}

fn word(text: &str, at: [f64; 2], anchor: Anchor) -> Text {
    ink::word(text, at, TEXT, anchor)
}

/// On a white patch, to be read over hatching.
fn word_at(text: &str, [x, y]: [f64; 2], anchor: Anchor) -> Text {
    ink::word(text, [x, y + TEXT * 0.35], TEXT, anchor)
        .set("stroke", "white")
        .set("stroke-width", 1.4)
        .set("stroke-linejoin", "round")
        .set("paint-order", "stroke")
}

fn dashed(line: svg::node::element::Line) -> svg::node::element::Line {
    line.set("stroke-dasharray", "3 1.6")
}

/// Which way the bit turns: counter-clockwise, seen from above.
fn turning([x, y]: [f64; 2], r: f64) -> Group {
    let at = |degrees: f64| (x + r * degrees.to_radians().cos(), y - r * degrees.to_radians().sin());
    let arc: Vec<(f64, f64)> = (0..=24).map(|k| at(-40.0 + 10.0 * f64::from(k))).collect();
    let mut ink = Group::new();
    for pair in arc.windows(2) {
        ink = ink.add(ink::line([pair[0].0, pair[0].1], [pair[1].0, pair[1].1], THICK));
    }
    let (ex, ey) = at(200.0);
    let (tx, ty) = (200.0f64.to_radians().sin(), 200.0f64.to_radians().cos());
    let tip = (ex - tx * 2.0, ey - ty * 2.0);
    ink.add(polygon(&[tip, (ex - ty * 1.0, ey + tx * 1.0), (ex + ty * 1.0, ey - tx * 1.0)]).set("fill", "black"))
}
