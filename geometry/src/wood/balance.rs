//! Colours from different photographs made comparable: by a card that lay beside the wood, or by a
//! stated assumption. Knows mean colours, nothing of pictures or of who took them.
//!
//! A photograph shows the wood in the light that fell on it. A white or grey card beside it lay in
//! the same light, and its true colour is known; what the photograph made of the card says what to
//! undo. Each channel of linear sRGB is multiplied by its own gain, so that the card comes out at
//! its stated grey: von Kries' rule (J. von Kries, 1902), taken in the primaries of sRGB. It takes
//! out the exposure and the tint of the light together.
//!
//! # What it assumes
//! - The card is grey, of the reflectance stated, matt, and lies flat beside the wood in its light.
//! - The numbers are linear light. A camera that bent its tones by the scene (most phones' "HDR")
//!   has broken that, and no card mends it: lock the exposure, photograph the ends in one light.
//!
//! # What it can't do
//! - **Uneven light**: one gain for the whole picture. A shadow over one end stays.
//! - **Metamerism**: two woods that look alike under one lamp may differ under another. A gain per
//!   channel can't know how the wood would have looked under daylight; a daylight bulb or a window
//!   does.
//! - A channel that ran over to full white is lost; the card is then refused, not guessed.
//!
//! [`compare`] then says how far apart two blanks are, and what that will do to the pattern.

use super::colour::Colour;
use super::lab::Lab;

/// How one photograph's colours are brought to a common light.
///
/// ```
/// use quarterturn_geometry::wood::{Balance, Card, Colour};
/// // A white card (88 % reflectance) in warm, dim light.
/// let card = Card { patch: Colour { r: 0.60, g: 0.44, b: 0.30 }, reflectance: 0.88 };
/// let balance = Balance::from_card(&card).unwrap();
/// let white = balance.apply(card.patch);
/// assert!((white.r - 0.88).abs() < 1e-6 && (white.b - 0.88).abs() < 1e-6);
/// // Without a card the colours stay as they are, and that is known.
/// assert!(Balance::Assumed.is_assumed());
/// assert_eq!(Balance::Assumed.apply(card.patch), card.patch);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Balance {
    /// By a card: red, green and blue are multiplied by these.
    Card(Gain),
    /// No card. The photograph is taken to be exposed and balanced as a screen expects; whatever is
    /// said of its colours must say that this was assumed.
    Assumed,
}

/// A white or grey card, as photographed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Card {
    /// Mean of the patch in linear light. Averaging sRGB bytes instead would come out too dark.
    pub patch: Colour,
    /// The share of light that the card gives back, as its maker states it: above 0, at most 1.
    /// Plain white paper is about 0.9, a photographer's grey card 0.18 (common practice, no source).
    pub reflectance: f64,
}

/// The factors of red, green and blue; only a card that can be trusted gives them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain([f64; 3]);

impl Gain {
    /// Red, green and blue.
    pub fn factors(self) -> [f64; 3] {
        self.0
    }
}

/// Why a card gives no balance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CardError {
    /// The stated reflectance is none.
    #[error("the card's reflectance must be above 0 and at most 1")]
    Reflectance,
    /// A channel is at the top of its range: nobody knows how much brighter the card was.
    #[error("the card is overexposed: photograph it again, a little darker")]
    Overexposed,
    /// A channel is so dark that its gain would be noise.
    #[error("the card is too dark to judge the light by")]
    TooDark,
}

/// From here on a channel counts as run over: sRGB byte 254 and 255.
const FULL: f32 = 0.991;
/// Below this a channel is a few sRGB bytes above black, and one byte more or less is a sixth of it.
const DARK: f32 = 0.002;

impl Balance {
    /// The gain that brings the card to its stated grey: reflectance ÷ patch, channel by channel.
    ///
    /// # Errors
    /// A reflectance that is none; a patch with a channel run over, or too dark (NaN counts as dark).
    pub fn from_card(card: &Card) -> Result<Balance, CardError> {
        if !(card.reflectance > 0.0 && card.reflectance <= 1.0) {
            return Err(CardError::Reflectance);
        }
        let patch = [card.patch.r, card.patch.g, card.patch.b];
        if patch.iter().any(|&part| part >= FULL) {
            return Err(CardError::Overexposed);
        }
        if !patch.iter().all(|&part| part >= DARK) {
            return Err(CardError::TooDark);
        }
        Ok(Balance::Card(Gain(patch.map(|part| card.reflectance / f64::from(part)))))
    }

    /// Whether there was no card.
    pub fn is_assumed(&self) -> bool {
        matches!(self, Balance::Assumed)
    }

    /// The colour in the common light. May pass 1 where something was brighter than white paper.
    pub fn apply(&self, colour: Colour) -> Colour {
        match self {
            Balance::Assumed => colour,
            Balance::Card(Gain(factors)) => {
                let part = |value: f32, i: usize| (f64::from(value) * factors[i]) as f32;
                Colour { r: part(colour.r, 0), g: part(colour.g, 1), b: part(colour.b, 2) }
            }
        }
    }
}

/// The mean colours of one blank as photographed, and the balance of that photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Photographed {
    /// Mean of the sapwood in linear light; none where the blank has none.
    pub sapwood: Option<Colour>,
    /// Mean of the heartwood in linear light; none where the blank has none.
    pub heartwood: Option<Colour>,
    /// How its photograph is balanced.
    pub balance: Balance,
}

/// The mean colours of one blank in the common light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tones {
    /// None where the blank has no sapwood.
    pub sapwood: Option<Colour>,
    /// None where the blank has no heartwood.
    pub heartwood: Option<Colour>,
    /// A photograph had no card: its light was taken to be right.
    pub assumed: bool,
}

impl Photographed {
    /// Its colours in the common light.
    pub fn tones(&self) -> Tones {
        let lit = |colour: Option<Colour>| colour.map(|colour| self.balance.apply(colour));
        Tones { sapwood: lit(self.sapwood), heartwood: lit(self.heartwood), assumed: self.balance.is_assumed() }
    }
}

/// From which ΔE00 on a difference is told as one that the pattern will show.
///
/// The default is 3, our own choice (no source): about three times what a practised eye can just
/// see between even patches that touch. Between two wood surfaces the rings, which differ by more
/// than that within one blank, hide a smaller one.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Threshold(f64);

impl Threshold {
    /// A maker's own, 0 or more; none for anything else.
    ///
    /// ```
    /// use quarterturn_geometry::wood::Threshold;
    /// assert_eq!(Threshold::default().value(), 3.0);
    /// assert!(Threshold::new(1.5).is_some() && Threshold::new(-1.0).is_none());
    /// ```
    pub fn new(value: f64) -> Option<Threshold> {
        (value >= 0.0 && value.is_finite()).then_some(Threshold(value))
    }

    /// The ΔE00.
    pub fn value(self) -> f64 {
        self.0
    }
}

impl Default for Threshold {
    fn default() -> Threshold {
        Threshold(3.0)
    }
}

/// What a colour difference will do to the pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Below the threshold.
    Alike,
    /// The first blank is seen to be the darker one.
    FirstDarker,
    /// The second blank is seen to be the darker one.
    SecondDarker,
    /// About as dark, but of another tint: redder, yellower, greyer.
    OtherTint,
}

impl Reading {
    /// For paper.
    pub fn sentence(self) -> &'static str {
        match self {
            Reading::Alike => "the pattern will not show which blank is which",
            Reading::FirstDarker => "the pattern will show one side darker: the first blank",
            Reading::SecondDarker => "the pattern will show one side darker: the second blank",
            Reading::OtherTint => "the pattern will show one side of another tint, about as dark",
        }
    }

    /// The same of two blanks by name: of the `part` (sapwood, heartwood) of `first` and `second`.
    pub fn sentence_of(self, part: &str, first: &str, second: &str) -> String {
        match self {
            Reading::Alike => format!("the pattern will not show the {part} of {first} from that of {second}"),
            Reading::FirstDarker => format!("the pattern will show one side darker: the {part} of {first}"),
            Reading::SecondDarker => format!("the pattern will show one side darker: the {part} of {second}"),
            Reading::OtherTint => {
                format!("the pattern will show the {part} of {first} and {second} in two tints, about as dark")
            }
        }
    }
}

/// How far apart two colours of wood are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// ΔE00.
    pub delta: f64,
    /// Lightness of the second less that of the first, in units of L of CIELAB.
    pub lightness: f64,
    /// What it will do to the pattern.
    pub reading: Reading,
}

/// Two blanks compared: sapwood with sapwood, heartwood with heartwood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Comparison {
    /// None where one of the blanks has no sapwood.
    pub sapwood: Option<Difference>,
    /// None where one of the blanks has no heartwood.
    pub heartwood: Option<Difference>,
    /// At least one photograph had no card: the difference may be the light's. To be said with it.
    pub assumed: bool,
}

/// Compares two blanks in the common light.
///
/// ```
/// use quarterturn_geometry::wood::{Balance, Colour, Photographed, Reading, Threshold, compare};
/// let blank = |sapwood| Photographed {
///     sapwood: Some(Colour::from_srgb8(sapwood)),
///     heartwood: None,
///     balance: Balance::Assumed,
/// };
/// let (one, two) = (blank([214, 182, 136]).tones(), blank([190, 158, 114]).tones());
/// let seen = compare(&one, &two, Threshold::default());
/// assert_eq!(seen.sapwood.unwrap().reading, Reading::SecondDarker);
/// assert!(seen.assumed && seen.heartwood.is_none());
/// ```
pub fn compare(first: &Tones, second: &Tones, threshold: Threshold) -> Comparison {
    let pair = |one: Option<Colour>, two: Option<Colour>| {
        let (one, two) = (Lab::of(one?), Lab::of(two?));
        Some(difference(&one, &two, threshold))
    };
    Comparison {
        sapwood: pair(first.sapwood, second.sapwood),
        heartwood: pair(first.heartwood, second.heartwood),
        assumed: first.assumed || second.assumed,
    }
}

/// Read as darker where lightness alone makes up at least half of the difference.
fn difference(one: &Lab, two: &Lab, threshold: Threshold) -> Difference {
    let (delta, lightness) = (one.difference(two), two.l - one.l);
    let by_lightness = one.difference(&Lab { l: two.l, ..*one });
    let reading = if delta < threshold.value() || delta == 0.0 {
        Reading::Alike
    } else if by_lightness < 0.5 * delta {
        Reading::OtherTint
    } else if lightness < 0.0 {
        Reading::SecondDarker
    } else {
        Reading::FirstDarker
    };
    Difference { delta, lightness, reading }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn colour([r, g, b]: [f32; 3]) -> Colour {
        Colour { r, g, b }
    }

    fn lit(wood: Colour, light: [f32; 3]) -> Colour {
        colour([wood.r * light[0], wood.g * light[1], wood.b * light[2]])
    }

    fn close(one: Colour, two: Colour) -> bool {
        [(one.r, two.r), (one.g, two.g), (one.b, two.b)].iter().all(|(a, b)| (a - b).abs() <= 1e-5 * b.abs().max(0.01))
    }

    proptest! {
        #[test]
        fn a_card_comes_out_at_its_stated_grey(
            patch in prop::array::uniform3(0.01_f32..0.99),
            reflectance in 0.05_f64..=1.0,
        ) {
            let card = Card { patch: colour(patch), reflectance };
            let balance = Balance::from_card(&card).unwrap();
            prop_assert!(!balance.is_assumed());
            prop_assert!(close(balance.apply(card.patch), colour([reflectance as f32; 3])));
        }

        #[test]
        fn neither_exposure_nor_the_light_s_tint_is_left_after_balancing(
            wood in prop::array::uniform3(0.02_f32..0.9),
            exposure in 0.1_f32..1.0,
            tint in prop::array::uniform3(0.3_f32..1.0),
        ) {
            let (wood, white) = (colour(wood), colour([0.9; 3]));
            let seen = |light: [f32; 3]| {
                let balance = Balance::from_card(&Card { patch: lit(white, light), reflectance: 0.9 }).unwrap();
                balance.apply(lit(wood, light))
            };
            let light = tint.map(|part| part * exposure);
            prop_assert!(close(seen([1.0; 3]), wood));
            prop_assert!(close(seen(tint), seen(light)), "{:?} and {:?}", seen(tint), seen(light));
        }

        #[test]
        fn turned_round_a_comparison_says_the_same(
            one in prop::array::uniform3(0.01_f32..1.0),
            two in prop::array::uniform3(0.01_f32..1.0),
        ) {
            let blank = |c| Photographed { sapwood: None, heartwood: Some(colour(c)), balance: Balance::Assumed };
            let there = compare(&blank(one).tones(), &blank(two).tones(), Threshold::default()).heartwood.unwrap();
            let back = compare(&blank(two).tones(), &blank(one).tones(), Threshold::default()).heartwood.unwrap();
            prop_assert!((there.delta - back.delta).abs() < 1e-9);
            prop_assert_eq!(there.lightness, -back.lightness);
            if there.reading == Reading::FirstDarker {
                prop_assert_ne!(back.reading, Reading::FirstDarker);
            }
        }
    }

    #[test]
    fn a_card_that_can_t_be_trusted_is_refused() {
        let card = |patch, reflectance| Balance::from_card(&Card { patch: colour(patch), reflectance }).unwrap_err();
        for none in [0.0, -0.5, 1.01, f64::NAN, f64::INFINITY] {
            assert_eq!(card([0.5; 3], none), CardError::Reflectance);
        }
        assert_eq!(card([0.9, 1.0, 0.8], 0.9), CardError::Overexposed);
        assert_eq!(card([f32::INFINITY; 3], 0.9), CardError::Overexposed);
        assert_eq!(card([0.5, 0.5, 0.0], 0.9), CardError::TooDark);
        assert_eq!(card([f32::NAN, 0.5, 0.5], 0.9), CardError::TooDark);
        let byte = Colour::from_srgb8([254; 3]);
        assert_eq!(card([byte.r; 3], 0.9), CardError::Overexposed);
    }

    #[test]
    fn the_same_wood_in_two_lights_is_alike_with_cards_and_not_without() {
        let (sapwood, white) = (Colour::from_srgb8([214, 182, 136]), colour([0.88; 3]));
        let photographed = |light: [f32; 3], carded: bool| Photographed {
            sapwood: Some(lit(sapwood, light)),
            heartwood: None,
            balance: if carded {
                Balance::from_card(&Card { patch: lit(white, light), reflectance: 0.88 }).unwrap()
            } else {
                Balance::Assumed
            },
        };
        let (window, lamp) = ([0.9, 0.95, 1.0], [0.7, 0.52, 0.33]);
        let seen = |carded| {
            compare(&photographed(window, carded).tones(), &photographed(lamp, carded).tones(), Threshold::default())
        };
        assert!(seen(true).sapwood.unwrap().delta < 1e-3 && !seen(true).assumed);
        assert_eq!(seen(true).sapwood.unwrap().reading, Reading::Alike);
        assert!(seen(false).sapwood.unwrap().delta > 10.0 && seen(false).assumed);
        let mixed =
            compare(&photographed(window, true).tones(), &photographed(lamp, false).tones(), Threshold::default());
        assert!(mixed.assumed);
    }

    #[test]
    fn darker_and_another_tint_are_told_apart_and_the_maker_s_threshold_counts() {
        let blank = |bytes| Photographed {
            sapwood: None,
            heartwood: Some(Colour::from_srgb8(bytes)),
            balance: Balance::Assumed,
        };
        let read = |one, two, threshold| {
            compare(&blank(one).tones(), &blank(two).tones(), Threshold::new(threshold).unwrap())
                .heartwood
                .unwrap()
                .reading
        };
        assert_eq!(read([78, 52, 38], [96, 66, 49], 3.0), Reading::FirstDarker);
        assert_eq!(read([96, 66, 49], [78, 52, 38], 3.0), Reading::SecondDarker);
        assert_eq!(read([96, 66, 49], [78, 52, 38], 30.0), Reading::Alike);
        assert_eq!(read([110, 60, 50], [80, 72, 40], 3.0), Reading::OtherTint);
        assert_eq!(read([80, 60, 50], [80, 60, 50], 0.0), Reading::Alike);
        for none in [-1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Threshold::new(none), None);
        }
    }
}
