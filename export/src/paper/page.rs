//! One page of paper: what is drawn on it, in mm from its upper left corner, x right and y down.
//!
//! Writers turn it into PDF, SVG and HTML; all three draw the same. Must not know what it says.

use crate::lettering;
use std::rc::Rc;

/// The paper in the printer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PaperSize {
    /// ISO 216 A4: 210 by 297 mm.
    #[default]
    A4,
    /// US Letter: 8 1/2 by 11 in.
    Letter,
}

impl PaperSize {
    /// Both of them.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Width and height, mm.
    #[must_use]
    pub const fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }

    /// As it is asked for: `a4`, `letter`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }
}

/// Where a word stands beside its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Start,
    Middle,
    End,
}

/// How dark a line or a word is: paper is read in black and white.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tone {
    Black,
    Grey,
    Pale,
    White,
}

impl Tone {
    /// Its grey, 0 black to 255 white.
    pub(crate) const fn grey(self) -> u8 {
        match self {
            Self::Black => 0,
            Self::Grey => 0x50,
            Self::Pale => 0xb4,
            Self::White => 0xff,
        }
    }
}

/// A line of words.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    pub(crate) text: String,
    /// Its start, on the baseline.
    pub(crate) at: [f64; 2],
    pub(crate) size: f64,
    pub(crate) tone: Tone,
    /// Turned a quarter to the left about `at`: it reads upward.
    pub(crate) upward: bool,
    /// A white border around the letters, to be read on wood.
    pub(crate) on_wood: bool,
}

/// A stacked fraction.
#[derive(Clone, Debug)]
pub(crate) struct Fraction {
    pub(crate) top: String,
    pub(crate) bottom: String,
    /// Its left end, on the baseline of the words beside it.
    pub(crate) at: [f64; 2],
    /// The size of the whole number beside it; its own figures are [`Fraction::SMALL`] of that.
    pub(crate) size: f64,
    pub(crate) tone: Tone,
}

impl Fraction {
    /// Its figures' size, as a share of the whole number's.
    pub(crate) const SMALL: f64 = 0.7;
    /// From the baseline up to the bar, as a share of the whole number's size.
    pub(crate) const BAR: f64 = 0.365;
    /// From the bar to the figures over it and under it.
    pub(crate) const GAP: f64 = 0.12;
    /// How thick the bar is, as a share of the whole number's size.
    pub(crate) const THICK: f64 = 0.055;
    /// How high a figure is, as a share of its own size.
    const FIGURE: f64 = 0.73;

    /// How wide it is; a minus before it is as large as a whole number.
    pub(crate) fn width(top: &str, bottom: &str, size: f64) -> f64 {
        let (minus, top) = Self::minus(top, size);
        let wide = |text| lettering::width(text, size * Self::SMALL);
        minus + wide(top).max(wide(bottom))
    }

    /// How wide the minus before it is, and the upper figures without it.
    pub(crate) fn minus(top: &str, size: f64) -> (f64, &str) {
        top.strip_prefix('-').map_or((0.0, top), |figures| (lettering::width("-", size), figures))
    }

    /// From the baseline up to the upper figures' baseline, and down to the lower one's.
    pub(crate) fn baselines(size: f64) -> [f64; 2] {
        let figure = Self::FIGURE * Self::SMALL;
        [(Self::BAR + Self::GAP) * size, (Self::GAP + figure - Self::BAR) * size]
    }

    /// How far it reaches above the baseline and below it.
    pub(crate) fn reach(size: f64) -> [f64; 2] {
        let [up, down] = Self::baselines(size);
        [up + Self::FIGURE * Self::SMALL * size, down + 0.02 * size]
    }
}

/// A path: corners joined by straight lines.
#[derive(Clone, Debug)]
pub(crate) struct Path {
    pub(crate) points: Vec<[f64; 2]>,
    pub(crate) closed: bool,
    /// The stroke; `None` draws no line.
    pub(crate) stroke: Option<(f64, Tone)>,
    pub(crate) fill: Option<Tone>,
    pub(crate) dashed: bool,
}

/// One thing on a page.
#[derive(Clone, Debug)]
pub(crate) enum Item {
    Text(Text),
    Fraction(Fraction),
    Path(Path),
    /// A PNG in a rectangle.
    Picture {
        picture: Rc<[u8]>,
        at: [f64; 2],
        size: [f64; 2],
    },
}

impl Item {
    /// Points that its extent is told by.
    pub(crate) fn corners(&self) -> Vec<[f64; 2]> {
        match self {
            Self::Text(text) => {
                let long = lettering::width(&text.text, text.size);
                let [x, y] = text.at;
                if text.upward {
                    vec![[x - text.size * 0.8, y], [x, y - long]]
                } else {
                    vec![[x, y - text.size * 0.8], [x + long, y]]
                }
            }
            Self::Fraction(it) => {
                let wide = Fraction::width(&it.top, &it.bottom, it.size);
                let [up, down] = Fraction::reach(it.size);
                vec![[it.at[0], it.at[1] - up], [it.at[0] + wide, it.at[1] + down]]
            }
            Self::Path(path) => path.points.clone(),
            Self::Picture { at, size, .. } => vec![*at, [at[0] + size[0], at[1] + size[1]]],
        }
    }
}

/// One page.
#[derive(Clone, Debug)]
pub struct Page {
    /// Width and height, mm.
    pub size: [f64; 2],
    pub(crate) items: Vec<Item>,
}

impl Page {
    pub(crate) const fn new(size: [f64; 2]) -> Self {
        Self { size, items: Vec::new() }
    }

    /// Everything that is written on it, in the order in which it was drawn.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let said = |item: &Item| match item {
            Item::Text(text) => Some(text.text.clone()),
            Item::Fraction(fraction) => Some(format!("{}/{}", fraction.top, fraction.bottom)),
            _ => None,
        };
        self.items.iter().filter_map(said).collect()
    }

    /// The lower and the upper corner of everything on it, mm; the page's middle where there is nothing.
    #[must_use]
    pub fn extent(&self) -> [[f64; 2]; 2] {
        let middle = self.size.map(|side| side / 2.0);
        self.items.iter().flat_map(Item::corners).fold([middle; 2], |[low, high], at| {
            [[low[0].min(at[0]), low[1].min(at[1])], [high[0].max(at[0]), high[1].max(at[1])]]
        })
    }

    pub(crate) fn text(&mut self, text: &str, [x, y]: [f64; 2], size: f64, side: Side) {
        let wide = lettering::width(text, size);
        let back = match side {
            Side::Start => 0.0,
            Side::Middle => wide / 2.0,
            Side::End => wide,
        };
        let at = [x - back, y];
        let item = Text { text: text.to_owned(), at, size, tone: Tone::Black, upward: false, on_wood: false };
        self.items.push(Item::Text(item));
    }

    /// The same in another tone.
    pub(crate) fn toned(&mut self, text: &str, at: [f64; 2], size: f64, side: Side, tone: Tone) {
        self.text(text, at, size, side);
        self.last_text(|text| text.tone = tone);
    }

    /// The same with a white border around the letters, to be read on lines.
    pub(crate) fn on_white(&mut self, text: &str, at: [f64; 2], size: f64, side: Side) {
        self.text(text, at, size, side);
        self.last_text(|text| text.on_wood = true);
    }

    /// Words that read upward, their middle at a point.
    pub(crate) fn upward(&mut self, text: &str, [x, y]: [f64; 2], size: f64) {
        let half = lettering::width(text, size) / 2.0;
        self.text(text, [x, y + half], size, Side::Start);
        self.last_text(|text| text.upward = true);
    }

    /// The same on wood: with a white border around the letters.
    pub(crate) fn upward_on_wood(&mut self, text: &str, at: [f64; 2], size: f64) {
        self.upward(text, at, size);
        self.last_text(|text| text.on_wood = true);
    }

    fn last_text(&mut self, change: impl FnOnce(&mut Text)) {
        if let Some(Item::Text(text)) = self.items.last_mut() {
            change(text);
        }
    }

    pub(crate) fn line(&mut self, from: [f64; 2], to: [f64; 2], thick: f64, tone: Tone) {
        self.path(Path::open(vec![from, to], thick, tone));
    }

    pub(crate) fn rectangle(&mut self, corner: [f64; 2], size: [f64; 2], thick: f64) {
        self.path(Path { stroke: Some((thick, Tone::Black)), ..Path::rectangle(corner, size) });
    }

    /// A rectangle without a line.
    pub(crate) fn filled(&mut self, corner: [f64; 2], size: [f64; 2], tone: Tone) {
        self.path(Path { fill: Some(tone), ..Path::rectangle(corner, size) });
    }

    /// A circle, as a polygon that leaves it by no more than a hundredth of a millimetre.
    pub(crate) fn circle(&mut self, middle: [f64; 2], radius: f64, thick: f64, fill: Option<Tone>) {
        let points = arc(middle, radius, [0.0, std::f64::consts::TAU]);
        self.path(Path { closed: true, fill, ..Path::open(points, thick, Tone::Black) });
    }

    pub(crate) fn path(&mut self, path: Path) {
        self.items.push(Item::Path(path));
    }
}

impl Path {
    /// A line from corner to corner.
    pub(crate) const fn open(points: Vec<[f64; 2]>, thick: f64, tone: Tone) -> Self {
        Self { points, closed: false, stroke: Some((thick, tone)), fill: None, dashed: false }
    }

    fn rectangle([x, y]: [f64; 2], [w, h]: [f64; 2]) -> Self {
        let points = vec![[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
        Self { points, closed: true, stroke: None, fill: None, dashed: false }
    }
}

/// Points of an arc, from one angle to another (radians, from x toward y), a hundredth of a millimetre true.
pub(crate) fn arc([x, y]: [f64; 2], radius: f64, [from, to]: [f64; 2]) -> Vec<[f64; 2]> {
    const SAG: f64 = 0.01;
    let step = 2.0 * (1.0 - SAG / radius.max(2.0 * SAG)).acos();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let steps = ((to - from).abs() / step).ceil().max(1.0) as usize;
    (0..=steps)
        .map(|i| from + (to - from) * i as f64 / steps as f64)
        .map(|angle| [x + radius * angle.cos(), y + radius * angle.sin()])
        .collect()
}
