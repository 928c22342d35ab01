//! A program for a CNC as plain RS-274: straight moves and arcs about Z, nothing that a small controller lacks.
//!
//! Words: G0 G1 G2 G3 G17 G20 or G21 G90 G94 M0 M3 M5 M2 F I J N S X Y Z, and comments in parentheses; ASCII. How they are
//! written (unit, arcs or lines, line numbers, length of a line, what one program holds) is [`Written`]'s. Decimals: four
//! in mm, five in inches (NISTIR 6556, 3.5.3.2, for arcs). Must not know of boards or wood: it is given moves.

use crate::ExportError;
use nalgebra::{Point2, Point3};
use quarterturn_geometry::cut::{Cut, Face};
use quarterturn_geometry::job::{Holds, Written};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Move, Program, Up, bits};
use std::io::Write;

/// The longest line that is written where nothing is asked.
pub const LONGEST: usize = Written::plain(Unit::Inch).longest_line;

/// The file name of each program by the cuts that it holds: `handhold-left.ngc`, `groove-upper.ngc` for one cut each,
/// `upper-face-dish.ngc` for one bit, `upper-face.ngc` for one side; `handhold-left-2.ngc` for a second one so called.
#[must_use]
pub fn file_names(programs: &[Vec<Cutting>], holds: Holds) -> Vec<String> {
    let stems: Vec<String> = programs.iter().map(|cuttings| stem(cuttings, holds)).collect();
    let name = |i: usize| match stems[..i].iter().filter(|before| **before == stems[i]).count() {
        0 => format!("{}.ngc", stems[i]),
        n => format!("{}-{}.ngc", stems[i], n + 1),
    };
    (0..stems.len()).map(name).collect()
}

fn stem(cuttings: &[Cutting], holds: Holds) -> String {
    let Some(first) = cuttings.first() else { return "nothing".to_owned() };
    let side = match first.up {
        Up::Edge(edge) => format!("{} edge", edge.name()),
        Up::Face(face) => format!("{} face", face.name()),
    };
    let name = match holds {
        Holds::EachCut => first.label.clone(),
        Holds::EachBit => format!("{side} {}", first.bit.name),
        Holds::EachSide => side,
    };
    let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    name.trim().chars().map(plain).collect()
}

/// Writes the parts of a program, all from one side, one after another; `name` is the board's.
///
/// The first move goes straight up to the safe height, the next along it to where the cut begins;
/// down it goes by G1 only; M5 and M2 end it at the safe height. Between two parts with different bits the spindle is
/// stopped at the safe height and the program waits (M0).
///
/// # Errors
/// [`ExportError::NoNumber`] for a coordinate or a feed that is none; [`ExportError::Io`] where the
/// writer refuses.
pub fn write(parts: &[Program], written: &Written, name: &str, out: impl Write) -> Result<(), ExportError> {
    let mut paper = Paper { written, lines: header(parts, written, name)?, numbered: 0 };
    paper.code(unit_code(written.unit))?;
    paper.code("G17 G90 G94")?;
    moves(parts, &mut paper)?;
    paper.code("M5")?;
    paper.code("M2")?;
    paper.to(out)
}

const fn unit_code(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "G20",
        Unit::Millimetre => "G21",
    }
}

const fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "inches",
        Unit::Millimetre => "millimetres",
    }
}

fn length(mm: f64, unit: Unit) -> Result<String, ExportError> {
    match unit {
        Unit::Inch => decimal(mm / 25.4, 5),
        Unit::Millimetre => decimal(mm, 4),
    }
}

/// What is written so far.
struct Paper<'a> {
    written: &'a Written,
    lines: Vec<String>,
    numbered: u32,
}

/// The greatest line number (NISTIR 6556, 3.3.1).
const MOST_NUMBER: u32 = 99_999;

impl Paper<'_> {
    fn length(&self, mm: f64) -> Result<String, ExportError> {
        length(mm, self.written.unit)
    }

    /// A feed, never rounded to none.
    fn feed(&self, mm: f64) -> Result<String, ExportError> {
        match self.written.unit {
            Unit::Inch => decimal((mm / 25.4).max(0.01), 2),
            Unit::Millimetre => decimal(mm.max(0.1), 1),
        }
    }

    /// A line that the controller carries out, with its number where lines have one: from 1, and again from 1 after the
    /// greatest that there is.
    fn code(&mut self, line: &str) -> Result<(), ExportError> {
        let line = if self.written.line_numbers {
            self.numbered = self.numbered % MOST_NUMBER + 1;
            format!("N{} {line}", self.numbered)
        } else {
            line.to_owned()
        };
        if line.len() > self.written.longest_line {
            return Err(ExportError::LongLine(line, self.written.longest_line));
        }
        self.lines.push(line);
        Ok(())
    }

    /// A cutting move with its feed, which goes before it where both don't fit into a line.
    fn cut(&mut self, line: &str, feed: f64) -> Result<(), ExportError> {
        const NUMBER: usize = "N99999 ".len();
        let feed = format!("F{}", self.feed(feed)?);
        let number = if self.written.line_numbers { NUMBER } else { 0 };
        if line.len() + 1 + feed.len() + number <= self.written.longest_line {
            return self.code(&format!("{line} {feed}"));
        }
        self.code(&feed)?;
        self.code(line)
    }

    fn to(self, mut out: impl Write) -> Result<(), ExportError> {
        for line in self.lines {
            writeln!(out, "{line}")?;
        }
        Ok(())
    }
}

/// No exponent, no negative zero.
fn decimal(value: f64, decimals: usize) -> Result<String, ExportError> {
    if !value.is_finite() || value.abs() > 1e6 {
        return Err(ExportError::NoNumber(value));
    }
    let text = format!("{value:.decimals$}");
    let zero = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
    Ok(if zero { text.trim_start_matches('-').to_owned() } else { text })
}

fn moves(parts: &[Program], paper: &mut Paper<'_>) -> Result<(), ExportError> {
    let mut before: Option<[String; 3]> = None;
    let mut from = Point3::origin();
    for (k, part) in parts.iter().enumerate() {
        let last = k.checked_sub(1).map(|k| &parts[k]);
        if parts.len() > 1 {
            paper.lines.push(comment(paper.written, "cut", &part.cutting.name));
        }
        let mut starts = last.is_none_or(|last| last.feeds.speed != part.feeds.speed);
        if last.is_some_and(|last| last.cutting.bit != part.cutting.bit) {
            change(part, paper)?;
            starts = true;
        }
        for step in &part.moves {
            let to = step.to();
            let [x, y, z] = [paper.length(to.x)?, paper.length(to.y)?, paper.length(to.z)?];
            match step {
                Move::Feed(_, feed) => paper.cut(&format!("G1 X{x} Y{y} Z{z}"), *feed)?,
                Move::Arc { centre, clockwise, feed, .. } => arc(paper, from, *to, *centre, *clockwise, *feed)?,
                Move::Rapid(_) => {
                    if before.as_ref().is_none_or(|b| b[2] != z) {
                        paper.code(&format!("G0 Z{z}"))?;
                    }
                    // The spindle starts at the safe height, with the way to the cut to come up to speed.
                    if starts {
                        paper.code(&format!("S{} M3", part.feeds.speed))?;
                        starts = false;
                    }
                    if before.as_ref().is_none_or(|b| b[0] != x || b[1] != y) {
                        paper.code(&format!("G0 X{x} Y{y}"))?;
                    }
                }
            }
            before = Some([x, y, z]);
            from = *to;
        }
    }
    Ok(())
}

/// The bit is changed by hand while the program waits.
fn change(part: &Program, paper: &mut Paper<'_>) -> Result<(), ExportError> {
    paper.code("M5")?;
    for text in [
        "wait until the spindle stands, unplug it, change the bit",
        "set Z0 at the same surface anew, plug it in again",
    ] {
        paper.lines.push(comment(paper.written, "stop", text));
    }
    paper.lines.push(comment(paper.written, "bit", &part.cutting.bit.name));
    paper.code("M0")
}

/// An arc as one, or in straight lines that stay near it.
fn arc(
    paper: &mut Paper<'_>,
    from: Point3<f64>,
    to: Point3<f64>,
    centre: Point2<f64>,
    clockwise: bool,
    feed: f64,
) -> Result<(), ExportError> {
    let place = |paper: &Paper<'_>, p: Point3<f64>| {
        Ok::<_, ExportError>(format!("X{} Y{} Z{}", paper.length(p.x)?, paper.length(p.y)?, paper.length(p.z)?))
    };
    if !paper.written.arcs {
        for p in chords(from, to, centre, clockwise, paper.written.arc_tolerance.mm()) {
            let end = place(paper, p)?;
            paper.cut(&format!("G1 {end}"), feed)?;
        }
        return Ok(());
    }
    let arm = centre - from.xy();
    let [i, j, end] = [paper.length(arm.x)?, paper.length(arm.y)?, place(paper, to)?];
    let code = if clockwise { "G2" } else { "G3" };
    paper.cut(&format!("{code} {end} I{i} J{j}"), feed)
}

/// Ends of the lines that run beside an arc, none farther from it than `near`: half within it and half outside would be
/// nearer still, but its ends must stay. A chord of the angle φ lies R (1 − cos φ/2) from it.
fn chords(from: Point3<f64>, to: Point3<f64>, centre: Point2<f64>, clockwise: bool, near: f64) -> Vec<Point3<f64>> {
    use std::f64::consts::TAU;
    let (a, b) = (from.xy() - centre, to.xy() - centre);
    let radius = a.norm();
    let angle = a.perp(&b).atan2(a.dot(&b));
    let turn = match clockwise {
        false if angle <= 0.0 => angle + TAU,
        true if angle >= 0.0 => angle - TAU,
        _ => angle,
    };
    let each = 2.0 * (1.0 - (near / radius).min(0.5)).acos();
    let n = (turn.abs() / each).ceil().clamp(1.0, 100_000.0);
    let start = a.y.atan2(a.x);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let steps = 1..=n as u32;
    steps
        .map(|k| {
            let share = f64::from(k) / n;
            if share >= 1.0 {
                return to;
            }
            let (sin, cos) = (start + turn * share).sin_cos();
            Point3::new(centre.x + radius * cos, centre.y + radius * sin, from.z + (to.z - from.z) * share)
        })
        .collect()
}

fn header(parts: &[Program], written: &Written, name: &str) -> Result<Vec<String>, ExportError> {
    let note = |word: &str, text: &str| comment(written, word, text);
    let Some(first) = parts.first() else { return Ok(vec![note("board", name)]) };
    let length = |mm| length(mm, written.unit);
    let [long, wide, stands] = first.cutting.stock;
    let mut lines = vec![note("board", name)];
    for part in parts {
        lines.push(note("cut", &format!("{}, all lengths in {}", part.cutting.name, unit_name(written.unit))));
    }
    lines.extend(lies(written, &first.cutting));
    lines.extend([
        note("stock", &format!("{} along X, {} along Y", length(long)?, length(wide)?)),
        note("stock", &format!("it stands {} high", length(stands)?)),
    ]);
    let cuttings: Vec<Cutting> = parts.iter().map(|part| part.cutting.clone()).collect();
    for bit in bits(&cuttings) {
        lines.push(note("bit", &bit.name));
        let size = [length(bit.diameter.mm())?, length(bit.corner_radius.mm())?];
        lines.push(note("bit", &format!("diameter {}, corner radius {}", size[0], size[1])));
        if let Some(eases) = bit.eases {
            lines.push(note("bit", &format!("for rims, {} {}", eases.name(), length(eases.size())?)));
        }
    }
    for part in parts {
        let passes = part.depths.len();
        if parts.len() > 1 {
            lines.push(note("passes", &part.cutting.name));
        }
        for (i, depth) in part.depths.iter().enumerate() {
            lines.push(note("pass", &format!("{} of {passes} to depth {}", i + 1, length(*depth)?)));
        }
    }
    lines.push(note("rapids", &format!("at Z {} or above", length(first.safe_height)?)));
    let clamped = match first.cutting.up {
        Up::Edge(_) => "the board clamped upright and square, its edge level",
        Up::Face(_) => "the board held flat and square, its face level",
    };
    lines.extend(
        cautions_of(&first.cutting).iter().chain(&CAUTIONS).chain([&clamped]).map(|caution| note("check", caution)),
    );
    Ok(lines)
}

/// How the board lies, and where the program's zero is.
fn lies(written: &Written, cutting: &Cutting) -> [String; 3] {
    let [clamped, datum, zero] = lying(cutting);
    [comment(written, "clamped", &clamped), comment(written, "datum", &datum), comment(written, "datum", &zero)]
}

/// How the board lies, where X and Y begin, and where Z does.
pub(crate) fn lying(cutting: &Cutting) -> [String; 3] {
    let whole = cutting.cut.is_of_the_whole();
    let of = if whole { ", as glued, not trimmed" } else { "" };
    let highest = if cutting.cut.levels() { " at its highest place" } else { "" };
    match cutting.up {
        Up::Edge(edge) => {
            let [edge, end] = [edge.name(), edge.ends()[0].name()];
            [
                format!("on edge, the {edge} edge up, show face toward Y plus"),
                format!("X0 the {end} end of this edge, Y0 the lower face"),
                "Z0 the edge itself, Z plus up".to_owned(),
            ]
        }
        Up::Face(face) if matches!(cutting.cut, Cut::Panel(..)) => {
            let near = if face == Face::Upper { "first blank's" } else { "last blank's" };
            [
                format!("flat, the panel's {} face up, the {near} edge toward Y minus", face.name()),
                format!("X0 the near end, Y0 the {near} edge, as glued"),
                format!("Z0 the {} face{highest}, Z plus up", face.name()),
            ]
        }
        Up::Face(face) => {
            let near = if face == Face::Upper { "front" } else { "back" };
            [
                format!("flat, {} face up, {near} edge toward Y minus", face.name()),
                format!("X0 the left end, Y0 the {near} edge{of}"),
                format!("Z0 the {} face{highest}, Z plus up", face.name()),
            ]
        }
    }
}

/// What to mind with cuts of the board as glued, beside [`CAUTIONS`].
pub(crate) fn cautions_of(cutting: &Cutting) -> &'static [&'static str] {
    match cutting.cut {
        Cut::Level(_) | Cut::Panel(..) => &LEVEL,
        Cut::Rim(_) => &RIM,
        Cut::Outline if cutting.frame_can_be_clamped() => &OUTLINE,
        Cut::Outline => &NARROW_OUTLINE,
        _ => &[],
    }
}

const LEVEL: [&str; 2] =
    ["held by its sides, every clamp below what is cut", "the bit goes down and round outside the wood"];
const RIM: [&str; 3] = [
    "held from below or by stops under the rim, nothing on top",
    "corners break out: rounded in plan first, or backed up",
    "the bit goes down beside the board, its width free all round",
];
const OUTLINE: [&str; 3] = [
    "the frame of waste clamped down, never the board alone",
    "no clamp, screw or hand inside the frame while it runs",
    "tabs sawn or chiselled, spindle standing and unplugged",
];
const NARROW_OUTLINE: [&str; 3] = [
    "board and frame held from below, frame too narrow to clamp",
    "no screw or hand inside the frame while it runs",
    "tabs sawn or chiselled, spindle standing and unplugged",
];

pub(crate) const CAUTIONS: [&str; 4] = [
    "this file knows no machine, its manual comes first",
    "no clamp in the way of bit, nut or spindle, rapids included",
    "dust collection, eye and ear protection",
    "first run well above the work, a hand at the stop",
];

/// A comment in parentheses that no controller takes for a command: letters, figures and a few
/// signs, cut off at the line's length. It begins with a word of our own.
fn comment(written: &Written, word: &str, text: &str) -> String {
    let keep = |c: char| if c.is_ascii_alphanumeric() || " .,:-+='_/".contains(c) { c } else { '_' };
    let room = written.longest_line.saturating_sub(word.len() + "(: )".len());
    let text: String = text.chars().map(keep).take(room).collect();
    format!("({word}: {})", text.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: Written = Written::plain(Unit::Millimetre);

    #[test]
    fn numbers_have_no_noise() {
        assert_eq!(decimal(-0.000_01, 4).unwrap(), "0.0000");
        assert_eq!(decimal(-0.000_06, 4).unwrap(), "-0.0001");
        assert_eq!(decimal(100.0, 1).unwrap(), "100.0");
        assert!(decimal(f64::NAN, 4).is_err());
        assert!(decimal(1e9, 4).is_err());
    }

    #[test]
    fn a_name_stays_a_comment() {
        let wild = "a) M30 (msg, ☃ % ; $ ! ? ~ \n #1";
        let line = comment(&PLAIN, "board", wild);
        assert!(line.is_ascii() && line.len() <= LONGEST);
        assert_eq!(line.matches(['(', ')']).count(), 2);
        assert!(!line.contains(['%', ';', '$', '!', '?', '~', '#', '\n']));
        assert_eq!(comment(&PLAIN, "board", &"x".repeat(200)).len(), LONGEST);
    }

    #[test]
    fn no_caution_is_cut_off() {
        let whole = [&LEVEL[..], &RIM, &OUTLINE, &NARROW_OUTLINE].concat();
        for caution in whole.into_iter().chain(CAUTIONS) {
            assert_eq!(comment(&PLAIN, "check", caution), format!("(check: {caution})"));
        }
    }

    /// A line of its own for the feed where both are too long together; a number past the greatest begins again.
    #[test]
    fn long_lines_are_broken_and_numbers_begin_again() {
        let written = Written { line_numbers: true, ..PLAIN };
        let mut paper = Paper { written: &written, lines: Vec::new(), numbered: MOST_NUMBER - 1 };
        let long = "G3 X1285.7500 Y-1215.3333 Z-112.7000 I-15.8750 J-15.8750";
        paper.cut(long, 1625.6).unwrap();
        paper.cut("G1 X1.0000 Y2.0000 Z3.0000", 1625.6).unwrap();
        assert_eq!(paper.lines[..2], ["N99999 F1625.6".to_owned(), format!("N1 {long}")]);
        assert_eq!(paper.lines[2], "N2 G1 X1.0000 Y2.0000 Z3.0000 F1625.6");
        assert!(paper.code(&"x".repeat(69)).is_err());
    }

    /// By hand: a quarter of a circle of 10 mm within 0.005 mm: φ = 2 acos(1 − 0.0005) = 0.06325, 25 lines.
    #[test]
    fn lines_stay_near_their_arc() {
        let [from, to] = [Point3::new(10.0, 0.0, -1.0), Point3::new(0.0, 10.0, -2.0)];
        let line = chords(from, to, Point2::origin(), false, 0.005);
        assert_eq!((line.len(), *line.last().unwrap()), (25, to));
        let mut before = from;
        for p in line {
            let middle = nalgebra::center(&before, &p);
            assert!((p.xy().coords.norm() - 10.0).abs() < 1e-9 && 10.0 - middle.xy().coords.norm() <= 0.005 + 1e-12);
            before = p;
        }
        // The other way round is three quarters.
        assert_eq!(chords(from, to, Point2::origin(), true, 0.005).len(), 75);
    }
}
