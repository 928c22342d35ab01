//! Writes programs of random boards for the outside judge of removal.
//!
//! `program-cases DIR [COUNT]` writes `cases.json`, one entry a program: stock, safe height, cuts (path, bit, depth), clamps,
//! nut and our moves, in mm; and the programs themselves, in mm and in inches, with arcs and with lines, with and without line numbers,
//! for one cut, one bit or one side. Numbers are drawn from a fixed seed: every run writes the same.

use nalgebra::Point2;
use quarterturn_export::rs274;
use quarterturn_geometry::cut::{
    Bit, Cut, CutOut, Cuts, Easing, Edge, Face, Feet, FingerRecess, Finished, Groove, Handhold, HangingHole, Path,
    Reach, Spout, Surfacing, Untrimmed,
};
use quarterturn_geometry::job::{Clamp, Cnc, FlatClamp, Holds, Milling, Spindle, Written};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::path::{Cutting, Move, Program, Up, together};
use quarterturn_geometry::stock::{Blank, BlankTurn, LaidBlank, Panel, Seen, Size};
use quarterturn_geometry::wood::{EndRings, Figure, Rings, Wood};
use quarterturn_tests::machine::cnc;
use serde_json::{Value, json};
use std::error::Error;
use std::fs;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().ok_or("say the folder to write to")?;
    let count: usize = arguments.next().map_or(Ok(320), |n| n.parse())?;
    let folder = std::path::Path::new(&folder);
    fs::create_dir_all(folder)?;
    let (mut chance, mut written) = (Chance(0x5eed), Vec::new());
    while written.len() < count {
        for (cuttings, options) in board(&mut chance) {
            let free = machine(&mut chance, options);
            let held = clamped(&mut chance, &cuttings, &free);
            // What can't be made at random has no program: a cut too short to ramp, a hole by a bit that doesn't plunge. Where a
            // clamp stands in the way it is made without.
            let made = |machine: &Cnc| {
                cuttings.iter().map(|c| Program::of(c, machine, None).ok()).collect::<Option<Vec<Program>>>()
            };
            let Some((machine, parts)) = [held, free].into_iter().find_map(|m| made(&m).map(|parts| (m, parts))) else {
                continue;
            };
            let name = format!("{:03}.ngc", written.len());
            let mut text = Vec::new();
            rs274::write(&parts, &options, &format!("random board {}", written.len()), &mut text)?;
            fs::write(folder.join(&name), text)?;
            written.push(case(&name, &parts, &machine));
        }
    }
    written.truncate(count);
    fs::write(folder.join("cases.json"), serde_json::to_vec(&written)?)?;
    Ok(())
}

/// SplitMix64 (Steele, Lea and Flood 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn length(&mut self, low: f64, high: f64) -> Length {
        Length::nearest_to_mm(self.between(low, high))
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[(self.next() % all.len() as u64) as usize]
    }
}

/// A machine whose passes along walls run either way.
fn machine(chance: &mut Chance, options: Written) -> Cnc {
    let ways = [Milling::Climb, Milling::Conventional];
    let wall_pass = chance.one_of(&[0.0, 0.3, 0.8]);
    Cnc {
        nut: (chance.share() < 0.67).then(|| chance.length(17.0, 30.0)),
        spindle: (chance.share() < 0.5)
            .then(|| Spindle { diameter: chance.length(40.0, 80.0), above_nut: chance.length(4.0, 30.0) }),
        wall_pass: Length::nearest_to_mm(wall_pass),
        last_pass: chance.one_of(&ways),
        widening: chance.one_of(&ways),
        ..cnc(options)
    }
}

/// The same with clamps beside the stock and over its rim: of a board on edge two that leave its middle free, else one at
/// each of a few places round it; where a face is levelled, or a rim eased, below its surface or beside the board.
fn clamped(chance: &mut Chance, cuttings: &[Cutting], machine: &Cnc) -> Cnc {
    let mut held = machine.clone();
    let Some(first) = cuttings.first() else { return held };
    let [long, wide, _] = first.stock;
    if matches!(first.up, Up::Edge(_)) {
        let above = chance.length(-5.0, 40.0);
        held.clamps = vec![
            Clamp { from: Length::nearest_to_mm(-80.0), to: chance.length(5.0, 32.0), above },
            Clamp { from: chance.length(long - 32.0, long - 5.0), to: Length::nearest_to_mm(long + 80.0), above },
        ];
        return held;
    }
    let most = if first.cut.levels() || matches!(first.cut, Cut::Rim(_)) { -6.0 } else { 25.0 };
    for _ in 0..chance.one_of(&[0, 1, 2, 3]) {
        let (from, over) = (chance.between(0.0, 0.8), chance.between(0.0, 9.0));
        let along = |side: f64| [from * side, from * side + 30.0];
        let [x, y] = match chance.one_of(&[0, 1, 2, 3]) {
            0 => [[-40.0, over], along(wide)],
            1 => [[long - over, long + 40.0], along(wide)],
            2 => [along(long), [-40.0, over]],
            _ => [along(long), [wide - over, wide + 40.0]],
        };
        let at = |k: usize| [x[k], y[k]].map(Length::nearest_to_mm);
        held.flat_clamps.push(FlatClamp { from: at(0), to: at(1), above: chance.length(-12.0, most) });
    }
    held
}

fn bit(chance: &mut Chance) -> Bit {
    let diameter = chance.between(4.0, 20.0);
    let corner = chance.one_of(&[0.0, 0.2, 0.35, 0.5]) * diameter;
    Bit {
        name: format!("{diameter:.2} mm bit"),
        diameter: Length::nearest_to_mm(diameter),
        corner_radius: Length::nearest_to_mm(corner.min(Length::nearest_to_mm(diameter).mm() / 2.0 - 1e-3).max(0.0)),
        reach: Length::nearest_to_mm(40.0),
        flutes: chance.one_of(&[1, 2, 3]),
        cuts_at_centre: chance.share() < 0.7,
        most_speed: None,
        chip_load: None,
        stick_out: stick_out(chance),
        eases: None,
    }
}

/// Of two bits in three: far enough out for what it cuts here, and more.
fn stick_out(chance: &mut Chance) -> Option<Length> {
    (chance.share() < 0.67).then(|| chance.length(18.0, 60.0))
}

/// The programs of one random board, and how they are written.
fn board(chance: &mut Chance) -> Vec<(Vec<Cutting>, Written)> {
    let size = Finished {
        length: chance.between(160.0, 360.0),
        width: chance.between(140.0, 260.0),
        thickness: chance.between(30.0, 48.0),
    };
    let holds = handhold(chance, &size);
    let written = Written {
        arcs: chance.share() < 0.7,
        line_numbers: chance.share() < 0.4,
        longest_line: chance.one_of(&[70, 80, 256]),
        holds: chance.one_of(&[Holds::EachCut, Holds::EachCut, Holds::EachBit, Holds::EachSide]),
        ..Written::plain(chance.one_of(&[Unit::Inch, Unit::Millimetre]))
    };
    let cuts = cuts(chance, &size);
    let mut all = Cutting::all(&[holds], &cuts, &size);
    all.extend(rims(chance, &cuts, &size));
    all.extend(whole(chance, cuts, size));
    all.extend(panel(chance));
    together(all, written.holds).into_iter().map(|cuttings| (cuttings, written)).collect()
}

/// Both rims eased, of every third board: the upper one rounded over, the lower one chamfered.
fn rims(chance: &mut Chance, cuts: &Cuts, size: &Finished) -> Vec<Cutting> {
    if chance.share() < 0.67 {
        return Vec::new();
    }
    let round = Easing::RoundOver(chance.length(1.5, 6.0));
    let cone = Easing::Chamfer(chance.length(3.0, 6.0));
    let chamfer = Easing::Chamfer(Length::nearest_to_mm(cone.size() * chance.between(0.3, 1.0)));
    let easing = |chance: &mut Chance, eases: Easing| Bit {
        name: format!("{} of {:.2} mm", eases.name(), eases.size()),
        diameter: Length::nearest_to_mm(2.0 * eases.size() + chance.one_of(&[0.0, 1.5, 4.0]) + 1e-3),
        corner_radius: Length::ZERO,
        eases: Some(eases),
        ..bit(chance)
    };
    let bits = [Some(easing(chance, round)), Some(easing(chance, cone))];
    let corner_radius = chance.one_of(&[None, Some(Length::nearest_to_mm(12.0))]);
    let cuts = Cuts { corner_radius, upper_rim: Some(round), lower_rim: Some(chamfer), ..cuts.clone() };
    Cutting::rims(&cuts, &bits, size)
}

/// Both faces of a panel levelled, of every third board: its blanks as they came, thicker and thinner, longer and shorter;
/// of every other such panel its thickest place was measured.
fn panel(chance: &mut Chance) -> Vec<Cutting> {
    if chance.share() < 0.67 {
        return Vec::new();
    }
    let blanks: Vec<LaidBlank> = (0..chance.one_of(&[2, 3, 4, 5])).filter_map(|i| laid(chance, i)).collect();
    let planed = [0, 1].map(|_| chance.length(0.3, 1.6));
    let panel = Panel { name: "random".into(), blanks, trued: [Length::nearest_to_mm(1.5); 2], planed, measured: None };
    let thickest = panel.blanks.iter().map(|b| b.blank.size.thickness).max().unwrap_or_default();
    let glued = (chance.share() < 0.5).then(|| thickest + chance.length(0.0, 1.2));
    let bit = Bit { diameter: chance.length(16.0, 40.0), corner_radius: chance.length(0.0, 5.0), ..bit(chance) };
    Cutting::of_panel(0, &panel, glued, &Surfacing { bit, faces: vec![], panels: true })
}

fn laid(chance: &mut Chance, i: u64) -> Option<LaidBlank> {
    let size = Size {
        width: chance.length(20.0, 60.0),
        thickness: chance.length(24.0, 26.0),
        length: chance.length(240.0, 320.0),
    };
    let end = EndRings { pith: Point2::new(0.0, -60.0), heartwood_radius: 500.0 };
    let rings = Rings { near: end, far: end, ring_width: 3.0, seed: i };
    let figure = Figure::new(Wood::named("hard maple")?, rings, size.length.mm());
    let blank =
        Blank { letter: format!("R{i}"), size, rough: None, figure, seen: Seen::Nothing, rip: None, moisture: None };
    Some(LaidBlank { blank, turn: BlankTurn::default(), start: chance.length(0.0, 6.0) })
}

/// Faces levelled and the outline, of every other board.
fn whole(chance: &mut Chance, cuts: Cuts, finished: Finished) -> Vec<Cutting> {
    if chance.share() < 0.5 {
        return Vec::new();
    }
    let trims = [0; 4].map(|_| chance.between(9.0, 20.0));
    let levelled = [chance.between(0.4, 2.4), chance.between(0.4, 2.4)];
    let glued = Finished {
        length: finished.length + trims[0] + trims[1],
        width: finished.width + trims[2] + trims[3],
        thickness: finished.thickness + levelled[0] + levelled[1],
    };
    let board = Untrimmed { glued, corner: Point2::new(trims[0], trims[2]), finished, levelled };
    let wide = Bit { diameter: chance.length(16.0, 40.0), corner_radius: chance.length(0.0, 5.0), ..bit(chance) };
    let surfacing = Surfacing { bit: wide, faces: vec![Face::Lower, Face::Upper], panels: false };
    let straight = Bit {
        diameter: chance.length(3.0, 6.0),
        corner_radius: Length::ZERO,
        reach: Length::nearest_to_mm(60.0),
        ..bit(chance)
    };
    let cut_out = CutOut {
        bit: straight,
        tabs: chance.one_of(&[2, 4, 6]),
        tab_length: chance.length(6.0, 14.0),
        tab_height: chance.length(2.0, 5.0),
        below: chance.length(0.1, 0.5),
    };
    let corner = chance.one_of(&[None, Some(Length::nearest_to_mm(15.0))]);
    let cuts = Cuts { corner_radius: corner, ..cuts };
    Cutting::of_whole(Some(&surfacing), Some(&cut_out), &cuts, &board, chance.one_of(&[0.0, 0.4, 0.4]))
}

fn handhold(chance: &mut Chance, size: &Finished) -> Handhold {
    let bit = Bit { diameter: chance.length(8.0, 18.0), corner_radius: Length::ZERO, ..bit(chance) };
    let wider = chance.one_of(&[0.0, 0.0, 0.4]) * bit.diameter.mm();
    let width = (wider > 0.0).then(|| Length::nearest_to_mm(bit.diameter.mm() + wider));
    Handhold {
        edge: chance.one_of(&Edge::ALL),
        depth: chance.length(4.0, 12.0),
        reach: Reach::Setbacks([chance.length(30.0, 45.0), chance.length(30.0, 45.0)]),
        above_lower_face: Some(Length::nearest_to_mm(size.thickness * chance.between(0.45, 0.55))),
        passes: None,
        width,
        rim: None,
        bit,
    }
}

fn cuts(chance: &mut Chance, size: &Finished) -> Cuts {
    let groove = Groove {
        face: Face::Upper,
        bit: bit(chance),
        depth: chance.length(2.0, 7.0),
        setback: chance.length(10.0, 22.0),
        corner_radius: chance.one_of(&[Length::ZERO, Length::nearest_to_mm(6.0), Length::nearest_to_mm(24.0)]),
        rim: None,
    };
    let spout = Spout {
        groove: 0,
        edge: chance.one_of(&Edge::ALL),
        bit: bit(chance),
        depth: chance.length(2.0, 6.0),
        along: Some(chance.length(60.0, 80.0)),
    };
    let foot = Bit { cuts_at_centre: true, ..bit(chance) };
    let hanging = Bit { cuts_at_centre: true, reach: Length::nearest_to_mm(70.0), ..bit(chance) };
    let edges = [Edge::Front, Edge::Back];
    let finger = |chance: &mut Chance, edge: Edge| FingerRecess {
        edge,
        bit: bit(chance),
        depth: chance.length(4.0, 10.0),
        in_from_edge: if chance.share() < 0.5 { chance.length(0.0, 3.0) } else { chance.length(25.0, 30.0) },
        setbacks: [chance.length(35.0, 55.0), chance.length(35.0, 55.0)],
        rise: (chance.share() < 0.5).then(|| chance.length(5.0, 18.0)),
        rim: None,
    };
    let _ = size;
    Cuts {
        grooves: vec![groove],
        spouts: if chance.share() < 0.5 { vec![spout] } else { vec![] },
        finger_recesses: edges.map(|edge| finger(chance, edge)).into(),
        feet: (chance.share() < 0.4).then(|| Feet {
            diameter: hole(chance, &foot),
            bit: foot,
            depth: chance.length(3.0, 9.0),
            from_edges: [chance.length(58.0, 66.0); 2],
        }),
        hanging_hole: (chance.share() < 0.3).then(|| HangingHole {
            diameter: hole(chance, &hanging),
            bit: hanging,
            edge: chance.one_of(&[Edge::Left, Edge::Right]),
            in_from_edge: chance.length(40.0, 48.0),
            along: None,
        }),
        ..Cuts::default()
    }
}

/// As wide as its bit, or as wide as once round clears, or between.
fn hole(chance: &mut Chance, bit: &Bit) -> Option<Length> {
    let [least, most] = bit.holes().map(Length::mm);
    let share = chance.one_of(&[None, Some(0.3), Some(1.0)]).filter(|_| most > least);
    share.map(|share| Length::nearest_to_mm(least + share * (most - least)))
}

fn xy(p: &Point2<f64>) -> Value {
    json!([p.x, p.y])
}

fn path(path: &Path) -> Value {
    match path {
        Path::Filled(corners) => json!({ "kind": "filled", "corners": corners.iter().map(xy).collect::<Vec<_>>() }),
        Path::Arch(arch) => {
            json!({ "kind": "arch", "centre": xy(&arch.centre), "radius": arch.radius, "from": arch.from, "turn": arch.turn })
        }
        Path::Round(round) => {
            json!({ "kind": "round", "low": xy(&round.low), "high": xy(&round.high), "radius": round.radius })
        }
    }
}

/// A clamp as a box: from, to, how high.
fn zones(machine: &Cnc, up: Up) -> Vec<Value> {
    const FAR: f64 = 1e4;
    let mm = |at: [Length; 2]| at.map(Length::mm);
    match up {
        Up::Edge(_) => {
            machine.clamps.iter().map(|c| json!([[c.from.mm(), -FAR], [c.to.mm(), FAR], c.above.mm()])).collect()
        }
        Up::Face(_) => machine.flat_clamps.iter().map(|c| json!([mm(c.from), mm(c.to), c.above.mm()])).collect(),
    }
}

fn case(name: &str, parts: &[Program], machine: &Cnc) -> Value {
    let written = &machine.written;
    let cuts = parts.iter().enumerate().flat_map(|(part, program)| {
        let bit = &program.cutting.bit;
        let profile = if bit.eases.is_some() { bit.shape() } else { program.cutting.profile };
        let depth = program.cutting.profile.depth;
        let rim = bit.eases.map(|eases| json!([eases.name(), eases.size()]));
        program.cutting.paths.iter().map(move |p| {
            json!({ "part": part, "radius": profile.radius, "corner": profile.corner, "depth": depth, "path": path(p), "rim": rim.clone(),
                    "out": bit.stick_out.map(Length::mm) })
        })
    });
    let moves = parts.iter().enumerate().flat_map(|(part, program)| {
        program.moves.iter().map(move |m| {
            let to = m.to();
            let kind = match m {
                Move::Rapid(_) => "rapid",
                Move::Feed(..) => "line",
                Move::Arc { .. } => "arc",
            };
            json!([kind, to.x, to.y, to.z, part])
        })
    });
    json!({
        "program": name,
        "arcs": written.arcs,
        "inch": written.unit == Unit::Inch,
        "stock": parts[0].cutting.stock,
        "safe": parts[0].safe_height,
        "levels": parts[0].cutting.cut.levels(),
        "panel": matches!(parts[0].cutting.cut, Cut::Panel(..)),
        "clamps": zones(machine, parts[0].cutting.up),
        "nut": machine.nut.map(Length::mm),
        "spindle": machine.spindle.map(|spindle| [spindle.diameter.mm(), spindle.above_nut.mm()]),
        "bits": parts.iter().map(|p| p.cutting.bit.name.clone()).collect::<Vec<_>>(),
        "cuts": cuts.collect::<Vec<_>>(),
        "moves": moves.collect::<Vec<_>>(),
    })
}
