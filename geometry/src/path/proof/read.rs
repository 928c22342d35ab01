//! An RS-274 program as steps of the bit: the common subset, with its modal state.
//!
//! Section numbers are those of NISTIR 6556 (*The NIST RS274NGC Interpreter, Version 3*, 2000). Read are G0 to G3,
//! G17 to G19, G20, G21, G40, G49, G54, G80, G90, G91, G94, M0 to M3, M5 to M9, M30, F, S, T, X, Y, Z, I, J, K, R, N and
//! comments; any other word is refused by name, never passed over. Must not know of boards.

use super::removal::chords;
use super::words::{Word, words};
use nalgebra::{Point3, Vector3};
use std::f64::consts::TAU;
use thiserror::Error;

/// Why a program can't be read.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("line {line}: {word}{}{what}", if .word.is_empty() { "" } else { ": " })]
pub struct Wrong {
    /// The line, from 1.
    pub line: usize,
    /// The word, as far as it is one.
    pub word: String,
    /// What is wrong with it.
    pub what: &'static str,
}

/// How the tip goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// Straight, as fast as the machine goes.
    Rapid,
    /// Straight at the feed.
    Straight,
    /// Round `centre` (its place along the axis is the start's) through `turn`, anticlockwise about `axis` where positive,
    /// and along the axis evenly.
    Arc {
        /// The middle.
        centre: Point3<f64>,
        /// The axis: 0 X, 1 Y, 2 Z.
        axis: usize,
        /// The angle.
        turn: f64,
    },
}

/// One step of the bit's tip, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The line that asks for it, from 1.
    pub line: usize,
    /// Whence; NaN along an axis that the program hasn't placed yet.
    pub from: Point3<f64>,
    /// Whither.
    pub to: Point3<f64>,
    /// How.
    pub way: Way,
    /// Millimetres a minute; 0 for a rapid.
    pub feed: f64,
    /// Turns a minute; 0 while the spindle stands.
    pub speed: f64,
    /// The bit's number in the last change; 0 before any.
    pub bit: u32,
    /// How often the program has stopped with the spindle standing (M0), so that a bit may have been changed by hand.
    pub stops: u32,
}

impl Step {
    /// The tip at a share of the way, 0 to 1.
    #[must_use]
    pub fn at(&self, share: f64) -> Point3<f64> {
        let Way::Arc { centre, axis, turn } = self.way else { return self.from + (self.to - self.from) * share };
        if share >= 1.0 {
            return self.to;
        }
        let [a, b] = [(axis + 1) % 3, (axis + 2) % 3];
        let (u, v) = (self.from[a] - centre[a], self.from[b] - centre[b]);
        let (sin, cos) = (turn * share).sin_cos();
        let mut at = self.from;
        at[a] = centre[a] + u * cos - v * sin;
        at[b] = centre[b] + u * sin + v * cos;
        at[axis] += (self.to[axis] - self.from[axis]) * share;
        at
    }
}

/// The most straight legs that a program may have, each chord of an arc one: what bounds memory and time.
const MOST_LEGS: usize = 1_000_000;
/// No machine goes farther, mm.
const FARTHEST: f64 = 100_000.0;

/// Reads a program.
///
/// The worked arc of NISTIR 6556, 3.5.3.2: from X7 Y7 to X10 Y16 about (10, 11), radius 5, clockwise.
/// ```
/// use quarterturn_geometry::path::{Way, read};
/// let steps = read("G21 G90\nG0 Z5\nG0 X7 Y7\nF600 S9000 M3\nG17 G2 X10 Y16 I3 J4 Z9\nM2").unwrap();
/// let Way::Arc { centre, turn, .. } = steps[2].way else { panic!("no arc") };
/// assert_eq!((centre.x, centre.y), (10.0, 11.0));
/// assert!(turn < 0.0 && (steps[2].at(0.5) - centre).xy().norm() - 5.0 < 1e-12);
/// let wrong = read("G21\nG0 Z5\nG7 X1").unwrap_err();
/// assert_eq!(wrong.to_string(), "line 3: G7: not in the subset that can be proved");
/// ```
///
/// # Errors
/// [`Wrong`], with line and word, for the first that can't be read.
pub fn read(text: &str) -> Result<Vec<Step>, Wrong> {
    let mut machine = Machine::default();
    let (mut steps, mut percent, mut legs) = (Vec::new(), 0, 0);
    for (i, line) in text.lines().enumerate() {
        if line.trim() == "%" {
            percent += 1;
            if percent == 2 {
                return Ok(steps);
            }
            continue;
        }
        let words = words(line, i + 1)?;
        if let Some(step) = machine.line(&words, i + 1)? {
            legs += chords(&step);
            if legs > MOST_LEGS {
                let what = "more than a million steps, each chord of an arc counted; prove the program in parts";
                return Err(Wrong { line: i + 1, word: String::new(), what });
            }
            steps.push(step);
        }
        if machine.ended {
            return Ok(steps);
        }
    }
    Err(Wrong { line: text.lines().count().max(1), word: String::new(), what: "the program isn't ended by M2 or M30" })
}

/// The modal state (3.4, Table 4).
struct Machine {
    at: Point3<f64>,
    motion: Option<u8>,
    axis: usize,
    unit: Option<f64>,
    incremental: bool,
    feed: f64,
    speed: f64,
    turning: bool,
    chosen: u32,
    bit: u32,
    stops: u32,
    ended: bool,
}

impl Default for Machine {
    fn default() -> Self {
        Self {
            at: Point3::new(f64::NAN, f64::NAN, f64::NAN),
            motion: None,
            axis: 2,
            unit: None,
            incremental: false,
            feed: 0.0,
            speed: 0.0,
            turning: false,
            chosen: 0,
            bit: 0,
            stops: 0,
            ended: false,
        }
    }
}

/// A line's words that are used after the modal ones.
struct Asked<'a> {
    words: &'a [Word],
    line: usize,
}

impl Asked<'_> {
    fn get(&self, letter: u8) -> Option<f64> {
        self.words.iter().find(|w| w.letter == letter).map(|w| w.number)
    }

    fn wrong(&self, letter: u8, what: &'static str) -> Wrong {
        let word = self.words.iter().find(|w| w.letter == letter).map_or(String::new(), Word::shown);
        Wrong { line: self.line, word, what }
    }
}

impl Machine {
    /// Carries out a line, in the order of 3.8, Table 8: F, S, T, M6, spindle, plane, unit, distance, motion, stop.
    fn line(&mut self, words: &[Word], line: usize) -> Result<Option<Step>, Wrong> {
        let asked = Asked { words, line };
        groups(&asked)?;
        let codes = |letter| move |w: &&Word| w.letter == letter;
        for g in words.iter().filter(codes(b'G')) {
            self.preparatory(g, line)?;
        }
        self.values(&asked)?;
        let stops = |m: &f64| matches!(*m as u8, 2 | 30);
        let machine: Vec<f64> = words.iter().filter(codes(b'M')).map(|w| w.number).collect();
        for m in &machine {
            match *m as u8 {
                3 if self.speed > 0.0 => self.turning = true,
                3 => return Err(asked.wrong(b'M', "the spindle is started without a speed")),
                5 => self.turning = false,
                6 => (self.bit, self.turning) = (self.chosen, false),
                0 if !self.turning => self.stops += 1,
                _ => {}
            }
        }
        let step = self.step(&asked)?;
        self.ended = machine.iter().any(stops);
        Ok(step)
    }

    fn preparatory(&mut self, word: &Word, line: usize) -> Result<(), Wrong> {
        match (word.number * 10.0).round() as i64 {
            g @ (0 | 10 | 20 | 30) => self.motion = Some((g / 10) as u8),
            800 => self.motion = None,
            170 => self.axis = 2,
            180 => self.axis = 1,
            190 => self.axis = 0,
            200 | 210 => self.set_unit(if word.number < 20.5 { 25.4 } else { 1.0 }),
            900 => self.incremental = false,
            910 => self.incremental = true,
            400 | 490 | 540 | 940 | 911 => {}
            _ => return Err(Wrong { line, word: word.shown(), what: "not in the subset that can be proved" }),
        }
        Ok(())
    }

    fn set_unit(&mut self, unit: f64) {
        // A feed stays the number that it was.
        self.feed *= unit / self.unit.unwrap_or(unit);
        self.unit = Some(unit);
    }

    fn values(&mut self, asked: &Asked<'_>) -> Result<(), Wrong> {
        if let Some(feed) = asked.get(b'F') {
            let unit = self.unit.ok_or_else(|| asked.wrong(b'F', "neither G20 nor G21 was said before"))?;
            if feed <= 0.0 {
                return Err(asked.wrong(b'F', "a feed is more than nothing"));
            }
            self.feed = feed * unit;
        }
        if let Some(speed) = asked.get(b'S') {
            if speed < 0.0 {
                return Err(asked.wrong(b'S', "a speed is not below nothing"));
            }
            self.speed = speed;
        }
        if let Some(bit) = asked.get(b'T') {
            if bit.fract() != 0.0 || !(0.0..=99_999.0).contains(&bit) {
                return Err(asked.wrong(b'T', "a bit's number is whole"));
            }
            self.chosen = bit as u32;
        }
        Ok(())
    }

    fn step(&mut self, asked: &Asked<'_>) -> Result<Option<Step>, Wrong> {
        let moves = b"XYZ".iter().any(|l| asked.get(*l).is_some());
        let arc_words = b"IJKR".iter().find(|l| asked.get(**l).is_some()).copied();
        let named = asked.words.iter().any(|w| w.letter == b'G' && w.number >= 0.0 && w.number < 3.5);
        if !moves && arc_words.is_none() {
            return if named { Err(asked.wrong(b'G', "a motion without a place to go")) } else { Ok(None) };
        }
        let letter = b"XYZIJKR".iter().find(|l| asked.get(**l).is_some()).copied().unwrap_or(b'X');
        let motion = self.motion.ok_or_else(|| asked.wrong(letter, "no motion (G0 to G3) was said before"))?;
        let unit = self.unit.ok_or_else(|| asked.wrong(letter, "neither G20 nor G21 was said before"))?;
        if let (0 | 1, Some(letter)) = (motion, arc_words) {
            return Err(asked.wrong(letter, "it belongs to an arc, and this is none"));
        }
        let (from, to) = (self.at, self.target(asked, unit)?);
        if motion > 0 && from.iter().any(|c| c.is_nan()) {
            return Err(asked.wrong(letter, "it cuts before X, Y and Z are all placed by rapids"));
        }
        if motion > 0 && self.feed <= 0.0 {
            return Err(asked.wrong(letter, "it cuts without a feed"));
        }
        let way = match motion {
            0 => Way::Rapid,
            1 => Way::Straight,
            _ => self.arc(asked, to, unit, motion == 2)?,
        };
        self.at = to;
        let feed = if motion == 0 { 0.0 } else { self.feed };
        let speed = if self.turning { self.speed } else { 0.0 };
        Ok(Some(Step { line: asked.line, from, to, way, feed, speed, bit: self.bit, stops: self.stops }))
    }

    fn target(&self, asked: &Asked<'_>, unit: f64) -> Result<Point3<f64>, Wrong> {
        let mut to = self.at;
        for (axis, letter) in b"XYZ".iter().enumerate() {
            let Some(number) = asked.get(*letter) else { continue };
            to[axis] = if self.incremental { self.at[axis] + number * unit } else { number * unit };
            if to[axis].is_nan() {
                return Err(asked.wrong(*letter, "an increment before this axis was placed"));
            }
            if to[axis].abs() > FARTHEST {
                return Err(asked.wrong(*letter, "farther than any machine goes"));
            }
        }
        Ok(to)
    }

    /// The centre by offsets from the start, always incremental (3.5.17), or by a radius (3.5.3).
    fn arc(&self, asked: &Asked<'_>, to: Point3<f64>, unit: f64, clockwise: bool) -> Result<Way, Wrong> {
        let (axis, from) = (self.axis, self.at);
        let [a, b] = [(axis + 1) % 3, (axis + 2) % 3];
        let tolerance = if unit > 1.0 { 0.0002 * 25.4 } else { 0.002 };
        if let Some(letter) = asked.get(b"IJK"[axis]).map(|_| b"IJK"[axis]) {
            return Err(asked.wrong(letter, "it lies along this plane's axis"));
        }
        let offsets = [a, b].map(|i| asked.get(b"IJK"[i]).map(|o| o * unit));
        let centre = match (asked.get(b'R'), offsets) {
            (Some(_), [None, None]) => self.centre_by_radius(asked, to, unit, clockwise)?,
            (None, [None, None]) => return Err(asked.wrong(b'G', "an arc without a centre")),
            (Some(_), _) => return Err(asked.wrong(b'R', "a radius and a centre say the same thing twice")),
            (None, [u, v]) => {
                let mut centre = from;
                centre[a] += u.unwrap_or(0.0);
                centre[b] += v.unwrap_or(0.0);
                centre
            }
        };
        let arm = |p: Point3<f64>| [p[a] - centre[a], p[b] - centre[b]];
        let ([u0, v0], [u1, v1]) = (arm(from), arm(to));
        let (start, end) = (u0.hypot(v0), u1.hypot(v1));
        if start < tolerance || (start - end).abs() > tolerance || start > FARTHEST {
            return Err(asked.wrong(b'G', "the arc's two ends don't lie equally far from its centre"));
        }
        let angle = (u0 * v1 - v0 * u1).atan2(u0 * u1 + v0 * v1);
        let same = (to[a] - from[a]).hypot(to[b] - from[b]) == 0.0;
        let turn = match clockwise {
            false if angle <= 0.0 || same => angle + TAU,
            true if angle >= 0.0 || same => angle - TAU,
            _ => angle,
        };
        Ok(Way::Arc { centre, axis, turn })
    }

    /// A positive radius turns through less than half a turn, a negative one through more (3.5.3.1).
    fn centre_by_radius(
        &self,
        asked: &Asked<'_>,
        to: Point3<f64>,
        unit: f64,
        clockwise: bool,
    ) -> Result<Point3<f64>, Wrong> {
        let (axis, from) = (self.axis, self.at);
        let [a, b] = [(axis + 1) % 3, (axis + 2) % 3];
        let radius = asked.get(b'R').unwrap_or(0.0) * unit;
        let (u, v) = (to[a] - from[a], to[b] - from[b]);
        let chord = u.hypot(v);
        if chord == 0.0 {
            return Err(asked.wrong(b'R', "by a radius, an arc must end elsewhere than it begins"));
        }
        let off = radius * radius - chord * chord / 4.0;
        if radius.abs() < chord / 2.0 - 0.002 || !off.is_finite() {
            return Err(asked.wrong(b'R', "the radius is too small for that distance"));
        }
        let side = if clockwise == (radius > 0.0) { -1.0 } else { 1.0 } * off.max(0.0).sqrt() / chord;
        let mut off = Vector3::zeros();
        off[a] = u / 2.0 - v * side;
        off[b] = v / 2.0 + u * side;
        Ok(from + off)
    }
}

/// One word of a letter, one G of a modal group, known letters and whole codes only (3.3.5, 3.4).
fn groups(asked: &Asked<'_>) -> Result<(), Wrong> {
    let mut seen: Vec<(u8, u8)> = Vec::new();
    for word in asked.words {
        let wrong = |what| Wrong { line: asked.line, word: word.shown(), what };
        let group = match word.letter {
            b'G' => match (word.number * 10.0).round() as i64 {
                0..=30 | 800 => 1,
                170..=190 => 2,
                900 | 910 => 3,
                940 => 5,
                200 | 210 => 6,
                other => (other % 200) as u8,
            },
            b'M' if word.number.fract() != 0.0 => return Err(wrong("not in the subset that can be proved")),
            b'M' => match word.number as i64 {
                0 | 1 | 2 | 30 => 104,
                6 => 106,
                3 | 5 => 107,
                7..=9 => 108,
                4 => return Err(wrong("the bit would turn backward")),
                _ => return Err(wrong("not in the subset that can be proved")),
            },
            b'X' | b'Y' | b'Z' | b'I' | b'J' | b'K' | b'R' | b'F' | b'S' | b'T' => 0,
            _ => return Err(wrong("not in the subset that can be proved")),
        };
        if seen.contains(&(word.letter, group)) {
            return Err(wrong("a second word of its kind in this line"));
        }
        seen.push((word.letter, group));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HEAD: &str = "G21 G90 G17\nG0 Z5\nG0 X0 Y0\nS9000 M3\nF500\n";

    fn after_head(line: &str) -> Result<Step, Wrong> {
        read(&format!("{HEAD}{line}\nM2\n")).map(|steps| *steps.last().unwrap())
    }

    #[test]
    fn arcs_by_radius_turn_the_shorter_or_the_longer_way() {
        for (line, centre, turn) in [
            ("G2 X10 Y10 R10", (10.0, 0.0), -0.25),
            ("G3 X10 Y10 R10", (0.0, 10.0), 0.25),
            ("G2 X10 Y10 R-10", (0.0, 10.0), -0.75),
            ("G3 X10 Y10 R-10", (10.0, 0.0), 0.75),
            ("G3 I5 X0 Y0", (5.0, 0.0), 1.0),
            ("G2 I5 X0 Y0", (5.0, 0.0), -1.0),
        ] {
            let Way::Arc { centre: found, turn: angle, axis } = after_head(line).unwrap().way else { panic!("{line}") };
            assert!((found.x - centre.0).hypot(found.y - centre.1) < 1e-9, "{line}: {found}");
            assert!((angle - turn * TAU).abs() < 1e-9 && axis == 2, "{line}: {angle}");
        }
    }

    /// Seen from the positive end of Y (3.5.3), Z turns anticlockwise toward X: from below the centre to beside it at X
    /// plus is a quarter turn clockwise.
    #[test]
    fn arcs_in_the_other_planes() {
        let step = after_head("G18 G2 X10 Z15 K10").unwrap();
        let middle = step.at(0.5);
        assert!(
            (middle.x - 10.0 * 0.5f64.sqrt()).abs() < 1e-9 && (middle.z - (15.0 - 10.0 * 0.5f64.sqrt())).abs() < 1e-9,
            "{middle}"
        );
        let step = after_head("G19 G2 Y10 Z15 K10").unwrap();
        assert!((step.at(0.5) - step.at(0.0)).norm() > 1.0 && step.at(1.0) == Point3::new(0.0, 10.0, 15.0));
    }

    #[test]
    fn inches_and_increments() {
        let steps = read("G20 G90\nG0 Z1\nG0 X1 Y2\nG91 G1 X0.5 F10\nX.5\nM30").unwrap();
        assert!((steps[3].to.x - 50.8).abs() < 1e-9 && (steps[3].feed - 254.0).abs() < 1e-9);
        assert_eq!(read("n10g20g90\nN20 G 0 Z 1 ; up\n(x) M2 (y)").unwrap().len(), 1);
    }

    #[test]
    fn what_is_wrong_is_named_with_line_and_word() {
        for (line, word, what) in [
            ("G1 X1e3", "E3", "subset"),
            ("G1 X", "X", "no number"),
            ("G1 X1 X2", "X2", "second"),
            ("G0 G1 X2", "G1", "second"),
            ("G1 X1.2.3", "X1.2.3", "no number"),
            ("G41 X1", "G41", "subset"),
            ("G2 X5", "G2", "without a centre"),
            ("G2 X5 I9", "G2", "equally far"),
            ("G2 X5 R1", "R1", "too small"),
            ("G2 X5 I2.5 K1", "K1", "axis"),
            ("G1 X1 I2", "I2", "belongs to an arc"),
            ("M4", "M4", "backward"),
            ("(a (b)", "(", "comment"),
            ("G1 X1 N5", "N5", "first"),
            ("/G1 X1", "/", "skipped"),
            ("G1", "G1", "without a place"),
            ("G80\nX5", "X5", "no motion"),
            ("F0", "F0", "more than nothing"),
            ("G1 X9999999", "X9999999", "farther"),
            ("G55", "G55", "subset"),
            ("#1=5", "#", "letter"),
        ] {
            let wrong = after_head(line).unwrap_err();
            assert!(wrong.line >= 6 && wrong.word == word && wrong.what.contains(what), "{line}: {wrong}");
        }
        assert!(read("G0 Z5\nM2").unwrap_err().what.contains("G20"));
        assert!(read("G21\nG1 Z-5 F5\nM2").unwrap_err().what.contains("placed"));
        assert!(read("G21\nG0 Z5").unwrap_err().what.contains("M2"));
        assert!(read("").is_err());
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "[ -~\n]{0,200}") {
            let _ = read(&text);
        }

        #[test]
        fn no_damaged_program_makes_it_panic(line in "[GMXYZIJKRFSTN]-?[0-9]{1,3}\\.?[0-9]{0,3}( [GMXYZIJKR]-?[0-9]{1,6}){0,4}", cut in 0usize..60) {
            let text = format!("{HEAD}{line}\n{line}\nM2");
            if let Ok(steps) = read(&text) {
                prop_assert!(steps.iter().skip(2).all(|s| s.at(0.3).iter().all(|c| c.is_finite())));
            }
            let _ = read(&text[..cut.min(text.len())]);
        }
    }
}
