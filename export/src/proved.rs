//! What a program leaves, drawn: how deep it is everywhere, and how far that lies from the plan's cut.
//!
//! ```text
//!   title
//!  ┌───────────────────────────┐
//!  │ the side that is up, seen │  ○ where it is worst
//!  │ from outside, Y upward    │
//!  └───────────────────────────┘
//!  ▓▓▓▒▒▒░░░  what the shades mean
//!   caption
//! ```
//! Must not judge: the proof's figures come from [`Proof`].

use crate::ink::{self, Anchor};
use crate::{ExportError, lettering, png};
use quarterturn_geometry::measure::Unit;
use quarterturn_geometry::path::{Proof, TOLERANCE};
use quarterturn_geometry::picture::Picture;
use std::io::Write;
use svg::node::element::{Circle, Group};

/// How wide the picture is at most, mm and pixels.
const WIDE: f64 = 180.0;
const ACROSS: usize = 1440;
const MARGIN: f64 = 6.0;
const TITLE: f64 = 4.6;
const TEXT: f64 = 3.2;
const LEAD: f64 = 1.35;
/// The scale's steps, each as wide as that, mm.
const STEPS: usize = 5;
const STEP: f64 = 21.5;

/// A colour in sRGB.
type Colour = [u8; 3];
/// What is cut as planned.
const CUT: Colour = [206, 194, 172];

/// How deep the wood is left, from pale at the surface to dark at the deepest.
///
/// # Errors
/// [`ExportError`] where the writer refuses.
pub fn depths(proof: &Proof, what: &str, unit: Unit, out: impl Write) -> Result<(), ExportError> {
    let deepest = f64::from(proof.field.heights.iter().fold(0.0f32, |least, z| least.min(*z)));
    let shade = |z: f64| between([246, 240, 228], [58, 40, 28], if deepest < 0.0 { z / deepest } else { 0.0 });
    let steps = (0..STEPS).map(|k| {
        let z = deepest * k as f64 / (STEPS - 1) as f64;
        (shade(z), if k == 0 { "the surface".to_owned() } else { format!("{} deep", say(-z, unit)) })
    });
    let cells = Cells { proof, of: &|i| f64::from(proof.field.heights[i]), weight: &|z| -z };
    let title = format!("What the program leaves of the {what}");
    sheet(&cells, &shade, &steps.collect::<Vec<_>>(), [&title, &lies(proof)], &[], out)
}

/// How far what is left lies from the plan's cut, along the surface's normal: plain where it is within tolerance,
/// dark red where too much is gone, blue where wood is left; the worst of either is ringed.
///
/// # Errors
/// [`ExportError`] where the writer refuses.
pub fn differences(proof: &Proof, what: &str, unit: Unit, out: impl Write) -> Result<(), ExportError> {
    let least = TOLERANCE[0];
    let most = proof.greatest.max(-proof.least).max(TOLERANCE[1]);
    let shade = |off: f64| {
        if off.is_nan() {
            return CUT;
        }
        let share = ((off.abs() - least) / (most - least)).clamp(0.0, 1.0).sqrt();
        if off.abs() <= least {
            [238, 236, 230]
        } else if off < 0.0 {
            between([232, 164, 140], [110, 10, 10], share)
        } else {
            between([170, 200, 236], [10, 40, 130], share)
        }
    };
    let little = least * 1.5;
    let steps = [
        (-most, format!("gone, {}", say(most, unit))),
        (-little, "gone, a little".to_owned()),
        (0.0, "not cut".to_owned()),
        (f64::NAN, "cut as planned".to_owned()),
        (little, "left, a little".to_owned()),
        (most, format!("left, {}", say(most, unit))),
    ];
    let steps = steps.map(|(off, word)| (shade(off), word));
    // What was cut and is as planned shows as that, so that the cut is seen.
    let value = |i: usize| {
        let off = f64::from(proof.off[i]);
        if off.abs() <= least && proof.field.heights[i] < 0.0 { f64::NAN } else { off }
    };
    let weight = |off: f64| if off.is_nan() { -1.0 } else { off.abs() };
    let cells = Cells { proof, of: &value, weight: &weight };
    let title = format!("What the program leaves, against the plan's {what}");
    sheet(&cells, &shade, &steps, [&title, &lies(proof)], &worst(proof), out)
}

fn say(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{:.3} in", mm / 25.4),
        Unit::Millimetre => format!("{mm:.2} mm"),
    }
}

fn lies(proof: &Proof) -> String {
    let cell = proof.field.cell;
    format!("Seen from outside, the program's X to the right and its Y up; one cell is {cell} mm.")
}

/// Where too much is gone and where most is left, if it is more than a wall may be off by: cell and word.
fn worst(proof: &Proof) -> Vec<(usize, &'static str)> {
    let most = |sign: f64| {
        let best =
            proof.off.iter().enumerate().max_by(|a, b| (sign * f64::from(*a.1)).total_cmp(&(sign * f64::from(*b.1))));
        best.filter(|(_, off)| sign * f64::from(**off) > TOLERANCE[1]).map(|(i, _)| i)
    };
    most(-1.0).map(|i| (i, "cut too far")).into_iter().chain(most(1.0).map(|i| (i, "wood left"))).collect()
}

fn between(a: Colour, b: Colour, share: f64) -> Colour {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    std::array::from_fn(|k| {
        (f64::from(a[k]) + (f64::from(b[k]) - f64::from(a[k])) * share.clamp(0.0, 1.0)).round() as u8
    })
}

/// A value for each cell of a proof.
struct Cells<'a> {
    proof: &'a Proof,
    of: &'a dyn Fn(usize) -> f64,
    /// Of several cells under one pixel the weightiest shows, so that no small fault is lost.
    weight: &'a dyn Fn(f64) -> f64,
}

impl Cells<'_> {
    /// So many cells are a pixel's side.
    fn block(&self) -> usize {
        self.proof.field.columns.div_ceil(ACROSS).max(1)
    }

    /// Pixels, Y up.
    fn picture(&self, shade: &dyn Fn(f64) -> Colour, repeat: usize) -> Picture {
        let (field, block) = (&self.proof.field, self.block());
        let (width, height) = (field.columns.div_ceil(block), field.rows.div_ceil(block));
        let mut bytes = Vec::with_capacity(width * height * repeat * repeat * 3);
        for row in (0..height).rev() {
            let mut line = Vec::with_capacity(width * repeat * 3);
            for column in 0..width {
                let rows = row * block..((row + 1) * block).min(field.rows);
                let columns = column * block..((column + 1) * block).min(field.columns);
                let cells = rows.flat_map(|r| columns.clone().map(move |c| r * field.columns + c));
                let value = cells.map(self.of).max_by(|a, b| (self.weight)(*a).total_cmp(&(self.weight)(*b)));
                line.extend(shade(value.unwrap_or(0.0)).repeat(repeat));
            }
            bytes.extend(line.repeat(repeat));
        }
        Picture { width: width * repeat, height: height * repeat, bytes }
    }
}

/// A page: title, the picture, its shades, a caption.
fn sheet(
    cells: &Cells<'_>,
    shade: &dyn Fn(f64) -> Colour,
    steps: &[(Colour, String)],
    [title, caption]: [&str; 2],
    rings: &[(usize, &str)],
    out: impl Write,
) -> Result<(), ExportError> {
    let field = &cells.proof.field;
    let repeat = (ACROSS / 2 / field.columns.div_ceil(cells.block())).max(1);
    let picture = cells.picture(shade, repeat);
    // Millimetres of the page to a pixel, and to one of the stock's.
    let pixel = WIDE / picture.width as f64;
    let scale = pixel * repeat as f64 / (field.cell * cells.block() as f64);
    let (title, caption) = (lettering::lines(title, TITLE, WIDE), lettering::lines(caption, TEXT, WIDE));
    let top = MARGIN + title.len() as f64 * TITLE * LEAD + 2.0;
    let high = picture.height as f64 * pixel;
    let (below, wide) = (top + high + 4.0, WIDE.max(STEP * steps.len() as f64 * 1.4));
    let page = [wide + 2.0 * MARGIN, below + 5.0 + TEXT * LEAD * (2.0 + caption.len() as f64) + MARGIN];
    let mut ink = Group::new().set("font-family", lettering::FAMILY);
    for (i, line) in title.iter().enumerate() {
        ink = ink.add(ink::word(line, [MARGIN, MARGIN + TITLE * LEAD * (i as f64 + 0.8)], TITLE, Anchor::Start));
    }
    ink = ink.add(ink::rectangle([MARGIN, top], [WIDE, high], 0.2).set("fill", "none"));
    for (i, (colour, word)) in steps.iter().enumerate() {
        let at = [MARGIN + i as f64 * STEP * 1.4, below];
        let [r, g, b] = colour;
        ink = ink.add(ink::rectangle(at, [STEP * 0.35, 4.0], 0.15).set("fill", format!("#{r:02x}{g:02x}{b:02x}")));
        ink = ink.add(ink::word(word, [at[0], at[1] + 4.0 + TEXT * LEAD], TEXT * 0.85, Anchor::Start));
    }
    for (i, line) in caption.iter().enumerate() {
        let y = below + 5.0 + TEXT * LEAD * (i as f64 + 2.0);
        ink = ink.add(ink::word(line, [MARGIN, y], TEXT, Anchor::Start));
    }
    for (cell, word) in rings {
        let at = field.middle(cell % field.columns, cell / field.columns);
        let [x, y] = [MARGIN + at.x * scale, top + high - at.y * scale];
        ink = ink.add(
            Circle::new()
                .set("cx", x)
                .set("cy", y)
                .set("r", 3.0)
                .set("fill", "none")
                .set("stroke", "black")
                .set("stroke-width", 0.4),
        );
        ink = ink.add(ink::word_on_wood(word, [x.clamp(MARGIN + 10.0, WIDE - 4.0), (y - 4.0).max(top + TEXT)], TEXT));
    }
    let [width, height] = page.map(|mm| (mm / pixel).ceil() as usize);
    let mut blank = Picture { width, height, bytes: vec![255; width * height * 3] };
    picture.copy_into(&mut blank, [(MARGIN / pixel).round() as usize, (top / pixel).round() as usize]);
    let svg = ink::page(width as f64 * pixel, height as f64 * pixel).add(ink).to_string();
    png::write(&lettering::draw_over(blank, &svg)?, pixel, out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use quarterturn_geometry::cut::{Bit, Edge, Finished, Handhold, Reach};
    use quarterturn_geometry::measure::Length;
    use quarterturn_geometry::path::{Cutting, prove, read};

    fn pixels(png: &[u8]) -> Vec<[u8; 3]> {
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(png)).read_info().unwrap();
        let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut bytes).unwrap();
        bytes.chunks_exact(3).map(|p| [p[0], p[1], p[2]]).collect()
    }

    /// One plunge 0.5 mm beside the plan's, and the same in its place: red and blue show only for the first.
    #[test]
    fn what_is_off_shows_and_what_is_right_does_not() {
        let mm = Length::nearest_to_mm;
        let bit = Bit {
            name: "bit".into(),
            diameter: mm(10.0),
            corner_radius: mm(0.0),
            reach: mm(20.0),
            flutes: 2,
            cuts_at_centre: true,
            most_speed: None,
            chip_load: None,
            stick_out: None,
            eases: None,
        };
        let reach = Reach::Setbacks([mm(35.0), mm(55.0)]);
        let hold = Handhold {
            edge: Edge::Front,
            bit,
            depth: mm(5.0),
            reach,
            above_lower_face: None,
            passes: None,
            width: None,
            rim: None,
        };
        let cutting = Cutting::handhold(0, &hold, &Finished { length: 100.0, width: 80.0, thickness: 30.0 });
        let coloured = |x: f64| {
            let text = format!("G21 G90\nG0 Z5\nS9000 M3\nG0 X{x} Y15\nG1 Z-5 F100\nG0 Z5\nM5\nM2");
            let proof = prove(&read(&text).unwrap(), std::slice::from_ref(&cutting), None, 0.5, 1);
            let mut png = Vec::new();
            differences(&proof, &cutting.name, Unit::Millimetre, &mut png).unwrap();
            let all = pixels(&png);
            let count = |is: &dyn Fn(&[u8; 3]) -> bool| all.iter().filter(|p| is(p)).count();
            [count(&|[r, _, b]| r.abs_diff(*b) > 60 && r > b), count(&|[r, _, b]| r.abs_diff(*b) > 60 && b > r)]
        };
        // The swatches of the scale alone.
        let [red, blue] = coloured(40.0);
        let [more_red, more_blue] = coloured(40.5);
        assert!(more_red > red + 50 && more_blue > blue + 50, "{red} {blue}, {more_red} {more_blue}");
    }
}
