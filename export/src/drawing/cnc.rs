//! The set-up sheet beside a program for the CNC: how the stock lies, where X, Y and Z begin, what is cut, the bits in order,
//! passes, time and cautions.
//!
//! Seen along Z from above: X to the right, Y up the page. Every figure is a number of [`super::Sheet`]'s, shown as there.
//! Must not work anything out about the program.

use super::hatch::{arrow, circle, hatched};
use super::{Drawing, MARGIN, Sheet, TEXT, THICK, THIN, TINT, capital, caption, key, on_edge};
use crate::clamps;
use crate::ink::{self, Anchor};
use crate::lettering;
use crate::rs274::{CAUTIONS, cautions_of, lying};
use nalgebra::Point2;
use quarterturn_geometry::cut::{Cut, Easing, Path as Way, Rounded};
use quarterturn_geometry::job::{Clamp, FlatClamp, Milling};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::{Cutting, Move, Program, Up, bits, pins, waste};
use svg::node::element::{Group, Path, Rectangle};

/// How far beside the board a clamp is drawn on paper, mm.
const BESIDE: f64 = 8.0;
/// How wide a strip of waste is drawn, mm.
const STRIP: f64 = 14.0;
/// What the three rings beside the board are.
const PINS: &str = " Rings outside the board: stop pins, two that the near edge lies against and one for the left end, lower than \
     the cut is deep there. They stay where they are when the board is turned over about its length: so the datum is found again.";
/// How wide a pin is drawn, mm.
const PIN: f64 = 2.0;

/// How wide the sheet is inside its margins, mm.
const WIDE: f64 = 180.0;
/// How high the stock is drawn at most, mm.
const HIGH: f64 = 110.0;
/// More passes than these aren't listed one by one.
const MOST_LISTED: usize = 24;
/// A bar of the chart of passes, mm.
const BAR: f64 = 5.0;
const CHART: f64 = 24.0;
/// Where the bit goes deeper than all round.
const DEEPER: &str = "#a89878";

pub(super) fn sheet(sheet: &Sheet, parts: &[Program], file: &str) -> Option<Drawing> {
    let first = parts.first()?;
    let page = Page { sheet, parts, first };
    let mut blocks = vec![page.heading(file), page.stock()];
    blocks.extend(on_edge::view(sheet, first, WIDE));
    blocks.extend(page.bits());
    blocks.extend(parts.iter().map(|part| page.part(part)));
    blocks.push(page.cautions());
    let (mut y, mut group) = (MARGIN, ink::lettered());
    for (ink, high) in blocks {
        group = group.add(ink.set("transform", format!("translate({} {})", ink::mm(MARGIN), ink::mm(y))));
        y += high + 4.0;
    }
    let (width, height) = (ink::mm(WIDE + 2.0 * MARGIN), ink::mm(y + MARGIN - 4.0));
    let paper = Rectangle::new().set("width", width).set("height", height).set("fill", "white");
    Some(Drawing { svg: format!("{}\n", ink::page(width, height).add(paper).add(group)), width, height })
}

struct Page<'a> {
    sheet: &'a Sheet<'a>,
    parts: &'a [Program],
    first: &'a Program,
}

impl<'a> Page<'a> {
    /// A number of a part's program.
    fn shown(&self, part: &Program, name: &str) -> &'a str {
        self.sheet.shown(&format!("{}.program.{name}", key(&part.cutting)))
    }

    fn heading(&self, file: &str) -> (Group, f64) {
        let title = format!("{}: {file}", lettering::plain(&self.sheet.job.name, 60));
        let size = lettering::fitting(&title, WIDE, 6.0);
        let [lies, datum, zero] = lying(&self.first.cutting);
        let cuts: Vec<&str> = self.parts.iter().map(|part| part.cutting.name.as_str()).collect();
        let lines = [
            format!("Cuts: {}.", cuts.join(", then ")),
            format!(
                "It lies {lies}. Datum: {datum}; {zero}. Find it again after any move of the board: the same corner, the \
                     same face."
            ),
            format!("Rapid moves only at {} above the surface or more.", self.shown(self.first, "safe height")),
        ];
        let (mut ink, mut y) = (Group::new().add(ink::word(&title, [0.0, 6.0], size, Anchor::Start)), 8.0);
        for line in lines {
            let (words, high) = caption(&line, [0.0, y], WIDE);
            ink = ink.add(words);
            y += high;
        }
        (ink, y)
    }

    /// The side that is up, with the cuts, the clamps and the datum.
    fn stock(&self) -> (Group, f64) {
        let [long, wide, _] = self.first.cutting.stock;
        let on_edge = matches!(self.first.cutting.up, Up::Edge(_));
        let scale = ((WIDE - 40.0) / long).min(HIGH / wide).min(1.0);
        let (left, top) = (20.0, 10.0);
        let at = |x: f64, y: f64| [left + x * scale, top + (wide - y) * scale];
        let mut ink = Group::new();
        let corner = at(0.0, wide);
        ink = ink.add(ink::rectangle(corner, [long * scale, wide * scale], THICK).set("fill", TINT));
        // What ends below the edge that is up hides nothing of it.
        for (i, clamp) in self.clamps().filter(|(_, clamp)| !clamp.above.is_positive()) {
            ink = ink.add(clamped_over(i, clamp, wide, &at, scale));
        }
        for part in self.parts {
            for path in part.cutting.walls() {
                // A levelled face is all of it: the bit's way tells more.
                if part.cutting.cut.levels() {
                    continue;
                }
                let fill = if part.cutting.cleared > 0.0 { DEEPER } else { "white" };
                ink = ink.add(outline(path, part.cutting.profile.at_surface(), &at, scale, fill));
            }
            if part.cutting.cut.levels() {
                ink = ink.add(way(part, &at));
            }
            ink = ink.add(side(&part.cutting, &at, scale));
        }
        for (side, reach) in self.strips() {
            ink = ink.add(self.strip(side, reach, &at, scale));
        }
        if !on_edge {
            let (job, board) = (self.sheet.job, self.sheet.board);
            let all = Cutting::all(&job.handholds, &job.cuts, &board.finished());
            ink = ink.add(rings(pins(&all, self.first.cutting.stock), &at));
            for (i, clamp) in self.sheet.job.cnc.iter().flat_map(|cnc| &cnc.flat_clamps).enumerate() {
                ink = ink.add(flat_clamp(i, clamp, [long, wide], &at, scale));
            }
        }
        for (i, clamp) in self.clamps().filter(|(_, clamp)| clamp.above.is_positive()) {
            ink = ink.add(clamped_over(i, clamp, wide, &at, scale));
        }
        for (i, clamp) in self.clamps() {
            let middle = (clamp.from.mm() + clamp.to.mm()) / 2.0;
            let [x, y] = at(middle.clamp(-BESIDE / scale, long + BESIDE / scale), wide);
            ink = ink.add(ink::word(&format!("clamp {}", i + 1), [x, y - 5.5], TEXT, Anchor::Middle));
        }
        let [x, y] = at(0.0, 0.0);
        ink = ink.add(circle([x, y], 2.2).set("fill", "none")).add(ink::line([x - 3.4, y], [x + 3.4, y], THIN * 2.0));
        ink = ink.add(ink::line([x, y - 3.4], [x, y + 3.4], THIN * 2.0));
        ink = ink.add(arrow([x, y + 6.0], [x + 18.0, y + 6.0])).add(arrow([x - 13.0, y], [x - 13.0, y - 18.0]));
        ink = ink.add(ink::word("X", [x + 20.0, y + 6.0 + TEXT * 0.35], TEXT, Anchor::Start));
        // Beside its arrow: above it clamps are named.
        ink = ink.add(ink::word("Y", [x - 15.5, y - 18.0 + TEXT * 0.72], TEXT, Anchor::End));
        ink = ink.add(ink::word("datum", [x - 3.0, y + 6.0 + TEXT * 0.35], TEXT, Anchor::End));
        let bottom = top + wide * scale + 12.0;
        let clamped = if self.first.cutting.cut.levels() {
            "All of the face is cut. Flat on a level spoil board, held by clamps at its sides that end below what is cut. The line: the way of the \
             bit's centre, clockwise from the rim inward, so that its edges come into the wood from outside. It begins and \
             turns outside the wood: leave the bit's width free all round."
        } else if self.first.cutting.cut == Cut::Outline && !self.first.cutting.frame_can_be_clamped() {
            "Dark: cut right through; white between: the tabs, which hold the board until it is taken out. Flat on a level \
             spoil board that may be cut into, board and frame held from below (double-sided tape, vacuum): the frame outside the \
             cut is too narrow to screw or clamp. Datum again after turning the finished board over: its own corner, on two stop pins."
        } else if self.first.cutting.cut == Cut::Outline {
            "Dark: cut right through; white between: the tabs, which hold the board until it is taken out. Flat on a level \
             spoil board that may be cut into, the frame outside the cut screwed or clamped down. Datum again after turning the \
             finished board over: its own corner, on two stop pins."
        } else if matches!(self.first.cutting.cut, Cut::Rim(_)) {
            "White: what the bit passes over; the thin line in it: the board's side. The finished board lies flat, held from below (double-sided tape, \
             vacuum) or by stops under the rim, nothing on its face. The bit goes down beside the front edge: leave its width and a \
             little free all round. What breaks is the upright corner where the bit leaves: round the corners in plan first, or back them up."
        } else if on_edge {
            "White: what is cut. In a vertical clamp, its edge level with a square; hatched: the clamps \
             that the plan gives, drawn behind the cut where they end below the edge."
        } else {
            "White: what is cut. Flat on a level spoil board. Clamps outside the white lines by more than the bit, nut and spindle reach; none in \
             the way of a rapid."
        };
        let pins = if on_edge { "" } else { PINS };
        let text = format!("Seen from above. {clamped}{}{pins}{}", self.strips_say(), self.clamps_say());
        let (words, high) = caption(&text, [0.0, bottom], WIDE);
        (ink.add(words), bottom + high)
    }

    /// The clamps of a board on edge, each with its place in the plan.
    fn clamps(&self) -> impl Iterator<Item = (usize, &'a Clamp)> {
        let on_edge = matches!(self.first.cutting.up, Up::Edge(_));
        self.sheet.job.cnc.iter().flat_map(|cnc| &cnc.clamps).enumerate().filter(move |_| on_edge)
    }

    /// Where each clamp lies, from the datum, as the plan gives it.
    fn clamps_say(&self) -> String {
        let job = self.sheet.job;
        let says = |places| format!(" Clamps from the datum ({}; Z at their tops): {places}.", job.rule.unit_name());
        clamps::places(job, self.first.cutting.up).map_or_else(String::new, says)
    }

    /// The sides that any of the cuts opens at, with what of each a strip of waste lies along.
    fn strips(&self) -> Vec<(usize, [f64; 2])> {
        let cuttings: Vec<&Cutting> = self.parts.iter().map(|part| &part.cutting).collect();
        waste(&cuttings).into_iter().enumerate().filter_map(|(side, reach)| Some((side, reach?))).collect()
    }

    /// A strip of waste along the openings in one side.
    fn strip(&self, side: usize, reach: [f64; 2], at: &impl Fn(f64, f64) -> [f64; 2], scale: f64) -> Group {
        let stock = self.first.cutting.stock;
        let [from, to] = reach;
        let (corner, size) = match side {
            0 => (at(-STRIP, to), [STRIP, to - from]),
            1 => (at(stock[0], to), [STRIP, to - from]),
            2 => (at(from, 0.0), [to - from, STRIP]),
            _ => (at(from, stock[1] + STRIP), [to - from, STRIP]),
        };
        let size = size.map(|long| long * scale);
        let [x, y] = corner;
        // Beside a strip that is narrower than the word.
        let (at, anchor) = match side {
            0 => ([x - 1.5, y + size[1] / 2.0], Anchor::End),
            1 => ([x + size[0] + 1.5, y + size[1] / 2.0], Anchor::Start),
            _ => ([x + size[0] / 2.0, y + size[1] / 2.0], Anchor::Middle),
        };
        Group::new().add(hatched(corner, size)).add(on_white("waste", at, anchor))
    }

    fn strips_say(&self) -> &'static str {
        if self.strips().is_empty() {
            return "";
        }
        " Hatched: a strip of waste, as thick as the cut is deep or thicker and level with the face, clamped or taped tight \
         against the edge where the cut opens: whichever way the bit runs, on one side of the opening its edges leave the wood."
    }

    /// The bits in the order in which they are put in.
    fn bits(&self) -> Vec<(Group, f64)> {
        let cuttings: Vec<Cutting> = self.parts.iter().map(|part| part.cutting.clone()).collect();
        let line = |(i, bit): (usize, &&quarterturn_geometry::cut::Bit)| {
            let with: Vec<&Program> = self.parts.iter().filter(|part| part.cutting.bit == **bit).collect();
            let deepest = with.iter().max_by(|a, b| a.cutting.profile.depth.total_cmp(&b.cutting.profile.depth));
            let part = deepest.unwrap_or(&self.first);
            let stop = if i > 0 {
                " The program stops for it: spindle standing and unplugged, then Z0 at the same surface anew."
            } else {
                ""
            };
            let out = match self.shown(part, "stick-out set") {
                "" => format!("Let it stand out of the nut {} or more", self.shown(part, "stick-out")),
                set => format!("Let it stand {set} out of the nut, {} at least", self.shown(part, "stick-out")),
            };
            format!(
                "Bit {}: {}, {} across{}. {out}; its flutes cut {} deep.{stop}",
                i + 1,
                lettering::plain(&bit.name, 40),
                self.sheet.shown(&format!("{}.bit diameter", key(&part.cutting))),
                self.shape(part),
                self.shown(part, "flutes reach"),
            )
        };
        bits(&cuttings).iter().enumerate().map(line).map(|text| caption(&text, [0.0, 0.0], WIDE)).collect()
    }

    /// What a part's bit is by its shape.
    fn shape(&self, part: &Program) -> String {
        let n = |name: &str| self.shown(part, name);
        match (part.cutting.bit.eases, n("bit corner")) {
            (Some(Easing::RoundOver(_)), _) => {
                format!(", rounds over by {} without a bearing, its flat end {} wide", n("bit eases"), n("bit end"))
            }
            (Some(Easing::Chamfer(_)), _) => {
                format!(", a cone at 45 degrees, {} of it, its flat end {} wide", n("bit eases"), n("bit end"))
            }
            (None, "") => ", straight".to_owned(),
            (None, corner) => format!(", corner radius {corner}"),
        }
    }

    /// Speeds, time and passes of one part.
    fn part(&self, part: &Program) -> (Group, f64) {
        let n = |name: &str| self.shown(part, name);
        let text = format!(
            "{}: {}, rim {}; feed {}, going down {}; chip load {}; deepest pass {}; about {} at most.",
            capital(&part.cutting.name),
            n("speed"),
            n("rim speed"),
            n("feed"),
            n("ramp feed"),
            n("chip load"),
            n("step-down"),
            n("time")
        );
        let text = format!("{text}{}", self.walls(n("wall pass")));
        let (words, high) = caption(&text, [0.0, 0.0], WIDE);
        let deepest = part.depths.last().copied().unwrap_or(1.0);
        let top = high + 3.0;
        let wide = BAR.min(WIDE / 2.0 / part.depths.len().max(1) as f64);
        let mut ink = Group::new().add(words);
        for (k, depth) in part.depths.iter().enumerate() {
            let tall = depth / deepest * CHART;
            ink = ink.add(ink::rectangle([k as f64 * wide, top], [wide, tall], THIN).set("fill", "#d9c9a8"));
        }
        let across = wide * part.depths.len() as f64;
        ink = ink.add(ink::line([-2.0, top], [across + 4.0, top], THICK));
        let passes: Vec<&str> = (1..=part.depths.len()).map(|k| n(&format!("pass {k}"))).collect();
        // Of very many the first and the last are enough to check the machine by.
        let listed = match passes.as_slice() {
            [first, second, .., before, last] if passes.len() > MOST_LISTED => {
                format!("{first}, {second}, and so on evenly to {before}, {last}")
            }
            all => all.join(", "),
        };
        let says = format!("{} passes, each to this depth: {listed}.", n("passes"));
        let (list, tall) = caption(&says, [across + 6.0, top], WIDE - across - 6.0);
        (ink.add(list), top + CHART.max(tall) + 1.0)
    }

    /// How the last pass along the walls runs, where it is a light one.
    fn walls(&self, takes: &str) -> String {
        let Some(cnc) = self.sheet.job.cnc.as_ref().filter(|_| !takes.is_empty()) else { return String::new() };
        let way = |way: Milling| match way {
            Milling::Climb => "a climb cut",
            Milling::Conventional => "a conventional cut",
        };
        format!(
            " Along the walls {takes} is left for the last pass at each depth, {}; the passes before it run as {}.",
            way(cnc.last_pass),
            way(cnc.widening)
        )
    }

    fn cautions(&self) -> (Group, f64) {
        let all = cautions_of(&self.first.cutting).iter().chain(&CAUTIONS);
        let first: Vec<String> = all.map(|text| format!("{}. ", capital(text))).collect();
        let text = format!(
            "Before it runs: {}Check bit, datum and unit against this sheet; prove the program again if you change a line of it. \
             Stay beside the machine until the spindle stands. The machine's manual and people who teach it come first; this \
             sheet does not say that the cut is safe for you to make.",
            first.concat()
        );
        caption(&text, [0.0, 0.0], WIDE)
    }
}

/// What of a clamp lies over the board or beside it, as far as there is room on the page.
fn flat_clamp(i: usize, clamp: &FlatClamp, stock: [f64; 2], at: &impl Fn(f64, f64) -> [f64; 2], scale: f64) -> Group {
    let out = BESIDE / scale;
    let clip = |k: usize, long: Length| long.mm().clamp(-out, stock[k] + out);
    let ([x0, y0], [x1, y1]) = ([0, 1].map(|k| clip(k, clamp.from[k])), [0, 1].map(|k| clip(k, clamp.to[k])));
    let ([x, y], size) = (at(x0, y1), [(x1 - x0) * scale, (y1 - y0) * scale]);
    // Beside the stock there is room for its number alone.
    let beside = x1 <= 0.0 || x0 >= stock[0];
    let name = if beside { (i + 1).to_string() } else { format!("clamp {}", i + 1) };
    let words = on_white(&name, [x + size[0] / 2.0, y + size[1] / 2.0], Anchor::Middle);
    Group::new().add(hatched([x, y], size)).add(words)
}

/// A clamp across the edge that is up, or below it.
fn clamped_over(i: usize, clamp: &Clamp, wide: f64, at: &impl Fn(f64, f64) -> [f64; 2], scale: f64) -> Group {
    let [x, y] = at(clamp.from.mm(), wide);
    let size = [(clamp.to.mm() - clamp.from.mm()) * scale, wide * scale + 8.0];
    Group::new().set("id", format!("clamp-{}", i + 1)).add(hatched([x, y - 4.0], size))
}

/// To be read over hatching.
fn on_white(text: &str, [x, y]: [f64; 2], anchor: Anchor) -> svg::node::element::Text {
    ink::word(text, [x, y + TEXT * 0.35], TEXT, anchor)
        .set("stroke", "white")
        .set("stroke-width", 1.4)
        .set("stroke-linejoin", "round")
        .set("paint-order", "stroke")
}

/// The board's side, where its rim is eased.
fn side(cutting: &Cutting, at: &impl Fn(f64, f64) -> [f64; 2], scale: f64) -> Group {
    let (Cut::Rim(_), Some(Way::Round(way))) = (cutting.cut, cutting.paths.first()) else { return Group::new() };
    let [long, wide, _] = cutting.stock;
    // The bit's centre goes as far outside of it as it begins below 0.
    let corner = (way.radius + way.low.x).max(0.0) * scale;
    let line = ink::rectangle(at(0.0, wide), [long * scale, wide * scale], THIN * 2.0).set("fill", "none");
    Group::new().add(line.set("rx", ink::mm(corner)))
}

/// Stop pins: two at the edge along X, one at the end along Y.
fn rings(pins: [Point2<f64>; 3], at: &impl Fn(f64, f64) -> [f64; 2]) -> Group {
    let ring = |[x, y]: [f64; 2]| circle([x, y], PIN).set("fill", "white").set("stroke-width", THIN * 2.0);
    let [left, right, end] = pins.map(|pin| at(pin.x, pin.y));
    let below = |[x, y]: [f64; 2]| [x, y + PIN];
    Group::new().add(ring(below(left))).add(ring(below(right))).add(ring([end[0] - PIN, end[1]]))
}

/// The way of the bit's centre in the last pass, with an arrow at the first turn.
fn way(part: &Program, at: &impl Fn(f64, f64) -> [f64; 2]) -> Group {
    let deepest = part.depths.last().copied().unwrap_or_default();
    let mut points = Vec::new();
    for step in &part.moves {
        if let Move::Feed(to, _) = step
            && to.z <= -deepest
        {
            points.push(at(to.x, to.y));
        }
    }
    let lines = points.windows(2).map(|ends| ink::line(ends[0], ends[1], THIN));
    let ink = lines.fold(Group::new(), Group::add);
    match points.as_slice() {
        [a, b, ..] => ink.add(arrow(*a, [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0])),
        _ => ink,
    }
}

/// Everything within ρ of where the bit's centre goes.
fn outline(way: &Way, rho: f64, at: &impl Fn(f64, f64) -> [f64; 2], scale: f64, fill: &str) -> Group {
    let rounded = |shape: &Rounded, radius: f64| {
        let corner = at(shape.low.x, shape.high.y);
        ink::rectangle(corner, [shape.length() * scale, shape.width() * scale], THICK * 0.7)
            .set("rx", ink::mm(radius * scale))
            .set("fill", fill)
    };
    let box_of = |by: f64, radius: f64| {
        let [low, high] = way.extent();
        rounded(&Rounded { low, high, radius: 0.0 }.inset(-by), radius)
    };
    match way {
        Way::Filled(_) => Group::new().add(box_of(rho, rho)),
        Way::Round(round) => {
            let ring = Group::new().add(box_of(rho, round.radius + rho));
            // In a hole the bit reaches the middle from all round.
            if round.length().min(round.width()) <= 2.0 * rho {
                return ring;
            }
            ring.add(box_of(-rho, (round.radius - rho).max(0.0)).set("fill", TINT))
        }
        Way::Arch(arch) => {
            let line = |off: f64| (0..=48).map(move |k| arch.at(f64::from(k) / 48.0, off));
            let there: Vec<_> = line(rho).chain(line(-rho).collect::<Vec<_>>().into_iter().rev()).collect();
            let mut data = svg::node::element::path::Data::new();
            for (k, p) in there.iter().enumerate() {
                let [x, y] = at(p.x, p.y);
                data = if k == 0 {
                    data.move_to((ink::mm(x), ink::mm(y)))
                } else {
                    data.line_to((ink::mm(x), ink::mm(y)))
                };
            }
            let shape = Path::new()
                .set("d", data.close())
                .set("fill", fill)
                .set("stroke", "black")
                .set("stroke-width", THICK * 0.7);
            let end = |share: f64| {
                let p = arch.at(share, 0.0);
                circle(at(p.x, p.y), rho * scale).set("stroke-width", THICK * 0.7).set("fill", fill)
            };
            Group::new().add(end(0.0)).add(end(1.0)).add(shape)
        }
    }
}
