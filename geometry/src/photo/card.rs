//! A card in a photograph, and a picture's colours in the card's light. What a card can and can't do is said in
//! [`crate::wood::Balance`].

use super::Photograph;
use super::sample::Light;
use crate::picture::Picture;
use crate::wood::{Balance, Card, CardError, Colour};
use thiserror::Error;

/// Why a patch of a photograph is no card to go by.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PatchError {
    /// Not within the photograph.
    #[error("the card's patch reaches out of the photograph, which is {} × {} pixels", .0[0], .0[1])]
    Outside([usize; 2]),
    /// Too few pixels for a mean.
    #[error("the card's patch is smaller than {LEAST} × {LEAST} pixels")]
    TooSmall,
    /// The card gives no balance.
    #[error(transparent)]
    Card(#[from] CardError),
}

/// A smaller patch is mostly noise, pixels.
const LEAST: usize = 4;
/// Where more than this share of the patch is at the top of its range, its mean is too dark: nobody knows by how much.
const MOST_FULL: f64 = 0.02;

impl Photograph {
    /// How the photograph's colours are brought to a common light by a card that gives back the share `reflectance`, of
    /// which it shows a patch: x, y, width, height, upright, pixels.
    ///
    /// # Errors
    /// [`PatchError`]: a patch that isn't within the photograph, or is too small; a card that is too dark or too bright.
    pub fn balance(&self, patch: [f64; 4], reflectance: f64) -> Result<Balance, PatchError> {
        let [x, y, width, height] = patch;
        let size = self.size();
        let inside = |from: f64, long: f64, most: usize| from >= 0.0 && long >= 0.0 && from + long <= most as f64;
        if !(inside(x, width, size[0]) && inside(y, height, size[1])) {
            return Err(PatchError::Outside(size));
        }
        let [left, top] = [x, y].map(|place| place.ceil() as usize);
        let [right, bottom] = [x + width, y + height].map(|place| place.floor() as usize);
        if right < left + LEAST || bottom < top + LEAST {
            return Err(PatchError::TooSmall);
        }
        let places = (top..bottom).flat_map(|y| (left..right).map(move |x| [x, y]));
        let (mut sums, mut full, mut count) = ([0_u64; 3], 0_u64, 0_u64);
        for place in places {
            let pixel = self.pixel(place);
            for (sum, byte) in sums.iter_mut().zip(pixel) {
                *sum += u64::from(Light::get().of(byte));
            }
            full += u64::from(pixel.iter().any(|byte| *byte >= 254));
            count += 1;
        }
        if full as f64 > MOST_FULL * count as f64 {
            return Err(CardError::Overexposed.into());
        }
        let [r, g, b] = sums.map(|sum| (sum as f64 / count as f64 / f64::from(u16::MAX)) as f32);
        Ok(Balance::from_card(&Card { patch: Colour { r, g, b }, reflectance })?)
    }

    /// The pixel in that column and row of the upright photograph, which are within it.
    fn pixel(&self, [x, y]: [usize; 2]) -> [u8; 3] {
        let size = [self.stored.width, self.stored.height];
        let [x, y] = self.upright.stored([x as f64 + 0.5, y as f64 + 0.5], size);
        let at = 3 * (y as usize * self.stored.width + x as usize);
        [0, 1, 2].map(|i| self.stored.bytes.get(at + i).copied().unwrap_or(0))
    }
}

/// A picture's colours in the common light; what would be brighter than white is white.
///
/// ```
/// use quarterturn_geometry::photo::balanced;
/// use quarterturn_geometry::{picture::Picture, wood::Balance};
/// let picture = Picture { width: 1, height: 1, bytes: vec![120, 90, 60] };
/// assert_eq!(balanced(picture.clone(), &Balance::Assumed), picture);
/// ```
#[must_use]
pub fn balanced(mut picture: Picture, balance: &Balance) -> Picture {
    if balance.is_assumed() {
        return picture;
    }
    let table: Vec<[u8; 3]> = (0..=255).map(|byte| balance.apply(Colour::from_srgb8([byte; 3])).to_srgb8()).collect();
    for pixel in picture.bytes.chunks_exact_mut(3) {
        for (c, byte) in pixel.iter_mut().enumerate() {
            *byte = table[usize::from(*byte)][c];
        }
    }
    picture
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::Upright;

    fn photograph(card: [u8; 3]) -> Photograph {
        let pixel = |i: usize| if i % 60 < 20 && i / 60 < 15 { card } else { [90, 70, 40] };
        let bytes = (0..60 * 40).flat_map(pixel).collect();
        Photograph { stored: Picture { width: 60, height: 40, bytes }, upright: Upright::AsStored }
    }

    #[test]
    fn the_card_comes_out_at_its_grey_and_the_wood_with_it() {
        let taken = photograph([200, 180, 150]);
        let balance = taken.balance([2.0, 2.0, 16.0, 11.0], 0.9).unwrap();
        let seen = balanced(taken.stored.clone(), &balance);
        let white = Colour { r: 0.9, g: 0.9, b: 0.9 }.to_srgb8();
        assert_eq!(seen.bytes[..3], white);
        assert!(seen.bytes[3 * 59 + 2] > 40);
        // The same patch where the photograph is stored on its side.
        let stored = Upright::Anticlockwise.turned(taken.stored);
        let turned = Photograph { stored, upright: Upright::Clockwise };
        assert_eq!(turned.balance([2.0, 2.0, 16.0, 11.0], 0.9), Ok(balance));
    }

    #[test]
    fn a_patch_that_is_none_is_refused() {
        let taken = photograph([200, 180, 150]);
        for outside in [[-1.0, 2.0, 9.0, 9.0], [50.0, 2.0, 11.0, 9.0], [2.0, 2.0, f64::NAN, 9.0], [2.0, 2.0, 9.0, -9.0]]
        {
            assert_eq!(taken.balance(outside, 0.9), Err(PatchError::Outside([60, 40])), "{outside:?}");
        }
        assert_eq!(taken.balance([2.0, 2.0, 3.0, 9.0], 0.9), Err(PatchError::TooSmall));
        let bright = photograph([255, 180, 150]);
        assert_eq!(bright.balance([2.0, 2.0, 16.0, 11.0], 0.9), Err(PatchError::Card(CardError::Overexposed)));
        // Half of the patch run over, the mean not.
        assert!(bright.balance([10.0, 2.0, 20.0, 11.0], 0.9).is_err());
        assert_eq!(taken.balance([2.0, 2.0, 16.0, 11.0], 0.0), Err(PatchError::Card(CardError::Reflectance)));
    }
}
