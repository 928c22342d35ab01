//! How fast a bit turns and moves, and how deep it goes at once: from bit, wood and machine.
//!
//! Figures for a light machine in hardwood, not the heavier ones of industry. Each says its formula and where it is from.
//! Knows a bit, a wood's hardness and the machine; nothing of moves.

use super::{Cutting, NoProgram, Up, passes};
use crate::cut::{Bit, Cut};
use crate::job::{Cnc, PanelAsked};
use crate::measure::Length;

/// Side hardness of a wood (Janka), pounds-force, as the Wood Handbook prints it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Hardness(f64);

impl Hardness {
    /// From pounds-force.
    #[must_use]
    pub const fn pounds(pounds: f64) -> Self {
        Self(pounds)
    }

    /// The hardest wood that is laid, at 12 % moisture content; `None` where any wood's hardness isn't published here.
    #[must_use]
    pub fn hardest(panels: &[PanelAsked]) -> Option<Self> {
        let blanks = panels.iter().flat_map(|panel| &panel.blanks);
        let all = blanks.map(|laid| Some(laid.blank.figure.wood().data()?.hardness.dry?.value));
        all.collect::<Option<Vec<f64>>>()?.into_iter().reduce(f64::max).map(Self)
    }
}

/// What set the spindle's speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpeedBy {
    /// The machine's usual speed.
    Machine,
    /// The highest that is printed on the bit.
    Bit,
    /// The most that the rim may run at.
    Rim,
    /// The machine's greatest feed: slower, so that the chip stays as thick.
    Feed,
}

impl SpeedBy {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Machine => "the machine's usual speed",
            Self::Bit => "the most printed on the bit",
            Self::Rim => "the rim's greatest speed",
            Self::Feed => "the machine's greatest feed",
        }
    }
}

/// Speeds and feeds of one program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feeds {
    /// Spindle speed n, turns a minute: the least of the machine's usual one, what is printed on the bit, and
    /// v / (π D), down to the hundred.
    pub speed: u32,
    /// What set it.
    pub by: SpeedBy,
    /// How fast the rim runs, metres a second: π D n.
    pub rim_speed: f64,
    /// Chip load f: what each edge takes in one turn, mm: feed / (n × flutes).
    pub chip: f64,
    /// Feed along the cut, mm a minute: n × flutes × chip load, the machine's greatest at most.
    pub feed: f64,
    /// Feed while ramping or plunging down, mm a minute: half of it (common practice, no source).
    pub ramp_feed: f64,
}

impl Feeds {
    /// For one cut in this wood.
    ///
    /// Worked by hand: 18 000 turns a minute, two flutes, a chip load of 0.1 mm: 3 600 mm a minute. A rim of 50.8 mm at 40 m/s:
    /// 40 × 60 / (π × 0.0508) = 15 038, down to the hundred 15 000 turns a minute.
    ///
    /// # Errors
    /// [`NoProgram::Spindle`] where the machine can't turn as slowly as it must.
    pub fn of(cutting: &Cutting, cnc: &Cnc, wood: Option<Hardness>) -> Result<Self, NoProgram> {
        let bit = &cutting.bit;
        let (mut speed, mut by) = (cnc.speed, SpeedBy::Machine);
        for (most, because) in
            [(bit.most_speed, SpeedBy::Bit), (Some(at_the_rim(bit, cnc.most_rim_speed)), SpeedBy::Rim)]
        {
            if let Some(most) = most.filter(|most| *most < speed) {
                (speed, by) = (most, because);
            }
        }
        let least = cnc.least_speed.unwrap_or(1);
        if speed < least {
            return Err(NoProgram::Spindle { most: speed, least });
        }
        let edges = f64::from(bit.flutes.max(1));
        let wanted = bit.chip_load.or(cnc.chip_load).map_or_else(|| usual_chip(bit, wood), Length::mm)
            * deep(most_at_once(cutting, cnc) / bit.diameter.mm());
        let most_feed = cnc.most_feed.mm();
        if f64::from(speed) * edges * wanted > most_feed {
            speed = hundred(most_feed / (edges * wanted)).clamp(least.min(speed), speed);
            by = SpeedBy::Feed;
        }
        let feed = (f64::from(speed) * edges * wanted).min(most_feed);
        Ok(Self {
            speed,
            by,
            rim_speed: std::f64::consts::PI * bit.diameter.mm() / 1000.0 * f64::from(speed) / 60.0,
            chip: feed / (f64::from(speed) * edges),
            feed,
            ramp_feed: feed / 2.0,
        })
    }
}

/// The speed at which the rim runs so fast: n = v / (π D), down to the hundred.
fn at_the_rim(bit: &Bit, most: f64) -> u32 {
    hundred(most * 60.0 * 1000.0 / (std::f64::consts::PI * bit.diameter.mm()))
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn hundred(speed: f64) -> u32 {
    ((speed / 100.0).floor() * 100.0).clamp(100.0, 100_000.0) as u32
}

const QUARTER_INCH: f64 = 6.35;
const THOUSANDTH: f64 = 0.0254;

/// How much of a chip a bit stands beside one of 1/4 in: as much less as it is thinner; no more where it is thicker, since
/// the machine is light (common practice, no source).
fn share(bit: &Bit) -> f64 {
    (bit.diameter.mm() / QUARTER_INCH).min(1.0)
}

/// The usual chip load: with a 1/4 in bit 0.004 in at 500 lbf of hardness, 0.002 in at 2000 lbf and over, evenly between
/// them, and 0.002 in where the hardness isn't known. The range is common practice for a light machine in hardwood, no
/// source; that it follows the hardness evenly is our own choice.
#[must_use]
pub fn usual_chip(bit: &Bit, wood: Option<Hardness>) -> f64 {
    const SOFT: f64 = 500.0;
    const HARD: f64 = 2000.0;
    let hard = wood.map_or(1.0, |wood| ((wood.0 - SOFT) / (HARD - SOFT)).clamp(0.0, 1.0));
    (4.0 - 2.0 * hard) * THOUSANDTH * share(bit)
}

/// Below this an edge rubs and burns: half of the least usual chip load, 0.001 in with a 1/4 in bit (common practice, no
/// source).
#[must_use]
pub fn rubs_below(bit: &Bit) -> f64 {
    THOUSANDTH * share(bit)
}

/// Over this a bit on a light machine is overloaded: half as much again as the usual chip load (common practice, no source).
#[must_use]
pub fn overloads_above(bit: &Bit, wood: Option<Hardness>) -> f64 {
    1.5 * usual_chip(bit, wood)
}

/// What is left of the chip load in a pass of so many diameters: all to one, 3/4 at two, half at three and over (trade
/// tables cut 20 to 25 % at two and 40 to 50 % at three; common practice).
fn deep(diameters: f64) -> f64 {
    (1.0 - 0.25 * (diameters - 1.0)).clamp(0.5, 1.0)
}

/// How deep one pass goes where the plan doesn't say, and the deepest that a light machine takes: 1/4 and 1/2 of the
/// diameter of bits to 1/4 in, 1/16 and 3/32 in with larger ones; half of both in an end-grain face, which the upper and
/// the lower face are (common practice, no source).
#[must_use]
pub fn usual_steps(cutting: &Cutting) -> [f64; 2] {
    let diameter = cutting.bit.diameter.mm();
    let steps =
        if diameter <= QUARTER_INCH { [diameter / 4.0, diameter / 2.0] } else { [25.4 / 16.0, 25.4 * 3.0 / 32.0] };
    let end_grain = matches!(cutting.up, Up::Face(_)) && !matches!(cutting.cut, Cut::Panel(..));
    if end_grain { steps.map(|step| step / 2.0) } else { steps }
}

/// Left for the last pass, mm: 1/64 in (common practice, no source).
const LAST_PASS: f64 = 25.4 / 64.0;

/// What a pass takes of a face that is levelled, and what is left for the last, mm: end grain 0.5 mm deep on a light machine
/// (common practice, no source).
const LEVELLING: [f64; 2] = [0.5, 0.2];

/// What a pass takes of a panel's face, along its grain, at most, mm (common practice, no source).
const LEVELLING_PANEL: f64 = 1.0;

/// The depth after each pass of a cut.
pub(super) fn depths(cutting: &Cutting, cnc: &Cnc) -> Vec<f64> {
    let step = cnc.step_down.map_or(usual_steps(cutting)[0], Length::mm);
    let (step, last) = match cutting.cut {
        Cut::Level(_) => (step.min(LEVELLING[0]), LEVELLING[1]),
        Cut::Panel(..) => (step.min(LEVELLING_PANEL), LEVELLING[1]),
        _ => (step, LAST_PASS),
    };
    let left = passes(cutting.profile.depth - cutting.cleared, step, last, cutting.passes);
    left.into_iter().map(|depth| cutting.cleared + depth).collect()
}

/// The most that any pass of a cut takes, mm.
#[must_use]
pub fn most_at_once(cutting: &Cutting, cnc: &Cnc) -> f64 {
    let depths = depths(cutting, cnc);
    let before = std::iter::once(cutting.cleared).chain(depths.iter().copied());
    depths.iter().zip(before).map(|(depth, before)| depth - before).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::Finished;
    use crate::fixtures::{handhold, inch};
    use approx::assert_relative_eq;

    const BOARD: Finished = Finished { length: 288.925, width: 228.6, thickness: 34.925 };

    fn cutting(diameter: &str, most_speed: Option<u32>) -> Cutting {
        let whole = Cutting::handhold(0, &handhold(["2", "2"]), &BOARD);
        Cutting { bit: Bit { diameter: inch(diameter), most_speed, ..whole.bit.clone() }, ..whole }
    }

    fn cnc(speed: u32) -> Cnc {
        Cnc { chip_load: None, most_feed: inch("300"), ..crate::fixtures::cnc(speed) }
    }

    /// By hand: 18 000 × 2 × 0.005 in = 180 in a minute (trade pages' own example).
    #[test]
    fn the_feed_is_speed_times_flutes_times_chip_load() {
        let cnc = Cnc { chip_load: Some(inch("0.005")), ..cnc(18_000) };
        let feeds = Feeds::of(&cutting("1/4", None), &cnc, None).unwrap();
        assert_relative_eq!(feeds.feed, inch("180").mm(), epsilon = 1e-9);
        assert_eq!((feeds.speed, feeds.by), (18_000, SpeedBy::Machine));
        // 6.35 mm at 18 000: π × 0.00635 × 300 = 5.985 m/s.
        assert_relative_eq!(feeds.rim_speed, 5.9847, epsilon = 1e-4);
    }

    #[test]
    fn what_is_printed_on_the_bit_wins_and_the_rim_is_capped() {
        let of = |diameter, most| Feeds::of(&cutting(diameter, most), &cnc(24_000), None).unwrap();
        assert_eq!((of("3/4", Some(16_000)).speed, of("3/4", Some(16_000)).by), (16_000, SpeedBy::Bit));
        // 40 × 60 / (π × 0.0508) = 15 038.
        assert_eq!((of("2", None).speed, of("2", None).by), (15_000, SpeedBy::Rim));
        assert!(of("2", Some(18_000)).rim_speed <= 40.0);
        let own = Bit { chip_load: Some(inch("0.003")), ..cutting("3/4", None).bit };
        let feeds = Feeds::of(&Cutting { bit: own, ..cutting("3/4", None) }, &cnc(16_000), None).unwrap();
        assert_relative_eq!(feeds.chip, inch("0.003").mm(), epsilon = 1e-12);
    }

    #[test]
    fn a_spindle_that_cant_turn_so_slowly_is_said() {
        let fast = Cnc { least_speed: Some(10_000), ..cnc(24_000) };
        let why = Feeds::of(&cutting("3/4", Some(8_000)), &fast, None).unwrap_err();
        assert_eq!(why, NoProgram::Spindle { most: 8_000, least: 10_000 });
    }

    /// By hand: 1/4 in in a wood of 1250 lbf, half way: 0.003 in; 1/8 in half of it; 3/4 in no more.
    #[test]
    fn a_harder_wood_and_a_thinner_bit_take_a_thinner_chip() {
        let chip =
            |diameter, wood: Option<f64>| usual_chip(&cutting(diameter, None).bit, wood.map(Hardness)) / THOUSANDTH;
        for (found, hand) in [
            (chip("1/4", Some(1250.0)), 3.0),
            (chip("1/8", Some(1250.0)), 1.5),
            (chip("3/4", Some(1250.0)), 3.0),
            (chip("1/4", Some(400.0)), 4.0),
            (chip("1/4", Some(3000.0)), 2.0),
            (chip("1/4", None), 2.0),
        ] {
            assert_relative_eq!(found, hand, epsilon = 1e-12);
        }
    }

    /// A slow machine turns its bit slower, so that the chip stays: 600 mm a minute by two edges of 0.05 mm are 6 000
    /// turns; and where it can't, the chip gets thinner, which is said.
    #[test]
    fn the_greatest_feed_lowers_the_speed_before_the_chip() {
        let slow = Cnc {
            chip_load: Some(Length::from_micrometres(50)),
            most_feed: Length::from_micrometres(600_000),
            ..cnc(18_000)
        };
        let feeds = Feeds::of(&cutting("1/4", None), &slow, None).unwrap();
        assert_eq!((feeds.speed, feeds.by), (6_000, SpeedBy::Feed));
        assert_relative_eq!(feeds.chip, 0.05, epsilon = 1e-12);
        let stiff = Cnc { least_speed: Some(12_000), ..slow };
        let feeds = Feeds::of(&cutting("1/4", None), &stiff, None).unwrap();
        assert_eq!(feeds.speed, 12_000);
        assert_relative_eq!(feeds.chip, 0.025, epsilon = 1e-12);
        assert!(feeds.chip < rubs_below(&cutting("1/4", None).bit));
    }

    #[test]
    fn deep_passes_take_thinner_chips_and_end_grain_takes_half() {
        for (diameters, left) in [(0.5, 1.0), (1.0, 1.0), (2.0, 0.75), (3.0, 0.5), (5.0, 0.5)] {
            assert_relative_eq!(deep(diameters), left, epsilon = 1e-12);
        }
        let on_edge = cutting("3/4", None);
        assert_eq!(usual_steps(&on_edge), [25.4 / 16.0, 25.4 * 3.0 / 32.0]);
        let flat = Cutting { up: Up::Face(crate::cut::Face::Upper), ..cutting("1/4", None) };
        assert_eq!(usual_steps(&flat), [6.35 / 8.0, 6.35 / 4.0]);
    }
}
