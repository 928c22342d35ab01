//! A program for a CNC as plain RS-274: straight moves and arcs about Z, nothing that a small controller lacks.
//!
//! Words: G0 G1 G2 G3 G17 G20 or G21 G90 G94 M3 M5 M2 F I J S X Y Z, and comments in parentheses; ASCII,
//! lines of 70 characters at most (NISTIR 6556 allows 256, small controllers hold about 80: common
//! practice, no source). Decimals: four in mm, five in inches (NISTIR 6556, 3.5.3.2, for arcs). Must not know of boards or wood: it is given moves.

use crate::ExportError;
use quarterturn_geometry::cut::Face;
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Cutting, Move, Program, Up};
use std::io::Write;

/// The longest line.
pub const LONGEST: usize = 70;

/// The file name of each cutting's program: `handhold-left.ngc`, `groove-upper.ngc`, and `handhold-left-2.ngc` for a
/// second one with that label.
#[must_use]
pub fn file_names(cuttings: &[Cutting]) -> Vec<String> {
    let stem = |i: usize| cuttings[i].label.replace(' ', "-");
    let name = |i: usize| match cuttings[..i].iter().filter(|before| before.label == cuttings[i].label).count() {
        0 => format!("{}.ngc", stem(i)),
        n => format!("{}-{}.ngc", stem(i), n + 1),
    };
    (0..cuttings.len()).map(name).collect()
}

/// Writes a program in this unit; `name` is the board's.
///
/// The first move goes straight up to the safe height, the next along it to where the cut begins;
/// down it goes by G1 only; M5 and M2 end it at the safe height.
///
/// # Errors
/// [`ExportError::NoNumber`] for a coordinate or a feed that is none; [`ExportError::Io`] where the
/// writer refuses.
pub fn write(program: &Program, unit: Unit, name: &str, mut out: impl Write) -> Result<(), ExportError> {
    let paper = Paper { unit };
    let mut lines = header(program, &paper, name)?;
    lines.push(paper.unit_code().to_owned());
    lines.push("G17 G90 G94".to_owned());
    moves(program, &paper, &mut lines)?;
    lines.push("M5".to_owned());
    lines.push("M2".to_owned());
    for line in lines {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// How lengths are written.
struct Paper {
    unit: Unit,
}

impl Paper {
    const fn unit_code(&self) -> &'static str {
        match self.unit {
            Unit::Inch => "G20",
            Unit::Millimetre => "G21",
        }
    }

    const fn unit_name(&self) -> &'static str {
        match self.unit {
            Unit::Inch => "inches",
            Unit::Millimetre => "millimetres",
        }
    }

    fn length(&self, mm: f64) -> Result<String, ExportError> {
        match self.unit {
            Unit::Inch => decimal(mm / 25.4, 5),
            Unit::Millimetre => decimal(mm, 4),
        }
    }

    /// A feed, never rounded to none.
    fn feed(&self, mm: f64) -> Result<String, ExportError> {
        match self.unit {
            Unit::Inch => decimal((mm / 25.4).max(0.01), 2),
            Unit::Millimetre => decimal(mm.max(0.1), 1),
        }
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

fn moves(program: &Program, paper: &Paper, lines: &mut Vec<String>) -> Result<(), ExportError> {
    let mut before: Option<[String; 3]> = None;
    let mut from = nalgebra::Point3::origin();
    for step in &program.moves {
        let to = step.to();
        let [x, y, z] = [paper.length(to.x)?, paper.length(to.y)?, paper.length(to.z)?];
        match step {
            Move::Feed(_, feed) => lines.push(format!("G1 X{x} Y{y} Z{z} F{}", paper.feed(*feed)?)),
            Move::Arc { centre, clockwise, feed, .. } => {
                let arm = centre - from.xy();
                let [i, j, feed] = [paper.length(arm.x)?, paper.length(arm.y)?, paper.feed(*feed)?];
                let code = if *clockwise { "G2" } else { "G3" };
                lines.push(format!("{code} X{x} Y{y} Z{z} I{i} J{j} F{feed}"));
            }
            Move::Rapid(_) => {
                if before.as_ref().is_none_or(|b| b[2] != z) {
                    lines.push(format!("G0 Z{z}"));
                }
                // The spindle starts at the safe height, with the way to the cut to come up to speed.
                if before.is_none() {
                    lines.push(format!("S{} M3", program.speed));
                }
                if before.as_ref().is_none_or(|b| b[0] != x || b[1] != y) {
                    lines.push(format!("G0 X{x} Y{y}"));
                }
            }
        }
        before = Some([x, y, z]);
        from = *to;
    }
    Ok(())
}

fn header(program: &Program, paper: &Paper, name: &str) -> Result<Vec<String>, ExportError> {
    let cutting = &program.cutting;
    let [long, wide, stands] = cutting.stock;
    let length = |mm| paper.length(mm);
    let bit = &cutting.bit;
    let mut lines = vec![
        comment("board", name),
        comment("cut", &format!("{}, all lengths in {}", cutting.name, paper.unit_name())),
    ];
    lines.extend(lies(cutting.up));
    lines.extend([
        comment("stock", &format!("{} along X, {} along Y", length(long)?, length(wide)?)),
        comment("stock", &format!("it stands {} high", length(stands)?)),
        comment("bit", &bit.name),
        comment(
            "bit",
            &format!("diameter {}, corner radius {}", length(bit.diameter.mm())?, length(bit.corner_radius.mm())?),
        ),
    ]);
    let passes = program.depths.len();
    for (i, depth) in program.depths.iter().enumerate() {
        lines.push(comment("pass", &format!("{} of {passes} to depth {}", i + 1, length(*depth)?)));
    }
    lines.push(comment("rapids", &format!("at Z {} or above", length(program.safe_height)?)));
    let clamped = match cutting.up {
        Up::Edge(_) => "the board clamped upright and square, its edge level",
        Up::Face(_) => "the board clamped flat and square, its face level",
    };
    lines.extend(CAUTIONS.iter().chain([&clamped]).map(|caution| comment("check", caution)));
    Ok(lines)
}

/// How the board lies, and where the program's zero is.
fn lies(up: Up) -> [String; 3] {
    match up {
        Up::Edge(edge) => {
            let [edge, end] = [edge.name(), edge.ends()[0].name()];
            [
                comment("clamped", &format!("on edge, the {edge} edge up, show face toward Y plus")),
                comment("datum", &format!("X0 the {end} end of this edge, Y0 the lower face")),
                comment("datum", "Z0 the edge itself, Z plus up"),
            ]
        }
        Up::Face(Face::Upper) => [
            comment("clamped", "flat, upper face up, front edge toward Y minus"),
            comment("datum", "X0 the left end, Y0 the front edge"),
            comment("datum", "Z0 the upper face, Z plus up"),
        ],
        Up::Face(Face::Lower) => [
            comment("clamped", "flat, lower face up, back edge toward Y minus"),
            comment("datum", "X0 the left end, Y0 the back edge"),
            comment("datum", "Z0 the lower face, Z plus up"),
        ],
    }
}

const CAUTIONS: [&str; 4] = [
    "this file knows no machine, its manual comes first",
    "no clamp in the way of bit, collet or nut, rapids included",
    "dust collection, eye and ear protection",
    "first run well above the work, a hand at the stop",
];

/// A comment in parentheses that no controller takes for a command: letters, figures and a few
/// signs, cut off at the line's length. It begins with a word of our own.
fn comment(word: &str, text: &str) -> String {
    let keep = |c: char| if c.is_ascii_alphanumeric() || " .,:-+='_/".contains(c) { c } else { '_' };
    let room = LONGEST - word.len() - "(: )".len();
    let text: String = text.chars().map(keep).take(room).collect();
    format!("({word}: {})", text.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let line = comment("board", wild);
        assert!(line.is_ascii() && line.len() <= LONGEST);
        assert_eq!(line.matches(['(', ')']).count(), 2);
        assert!(!line.contains(['%', ';', '$', '!', '?', '~', '#', '\n']));
        assert_eq!(comment("board", &"x".repeat(200)).len(), LONGEST);
    }

    #[test]
    fn no_caution_is_cut_off() {
        for caution in CAUTIONS {
            assert_eq!(comment("check", caution), format!("(check: {caution})"));
        }
    }
}
