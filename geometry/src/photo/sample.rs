//! Rows of samples out of a photograph: bilinear between the four nearest pixels, in sRGB bytes.
//!
//! Between neighbours the curve of sRGB is nearly straight, so that bytes may be mixed; means over many pixels are
//! taken in linear light ([`Light`]). Beyond the outermost pixels' middles the outermost pixels hold.

use crate::picture::Picture;
use crate::wood::Colour;
use std::sync::OnceLock;

/// Where the samples of one row lie, in pixels from the middle of the upper left pixel: sample i is at
/// (x[0] i + x[1], y[0] i + y[1]), both over (divisor[0] i + divisor[1]).
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    pub(super) x: [f64; 2],
    pub(super) y: [f64; 2],
    pub(super) divisor: [f64; 2],
}

/// So many places are worked out at a time, in loops that a compiler can lay side by side.
const CHUNK: usize = 64;
/// Places are kept in 1/64 of a pixel, so that weights of two directions make 1/4096.
const BITS: u32 = 6;
const ONE: u64 = 1 << BITS;
/// A float to which a place in 64ths was added has that place, rounded, in its lowest bits: 1.5 · 2⁵².
const TO_WHOLE: f64 = 6_755_399_441_055_744.0;
/// Every other byte of a word: four bytes are mixed at once, each in 16 bits, of which 255 · 64 fills 14.
const EVERY_OTHER: u64 = 0x00ff_00ff_00ff_00ff;

/// The samples of a row as bytes. The picture is at least 2 × 2 and its bytes fill it.
pub(super) fn bilinear(picture: &Picture, row: &Row, out: &mut [u8]) {
    let stride = 3 * picture.width;
    let last = |side: usize| (side as f64 - 1.0) * ONE as f64 - 1.0;
    let most = [last(picture.width), last(picture.height)];
    for (k, part) in out.chunks_mut(3 * CHUNK).enumerate() {
        let [across, down] = places(row, (k * CHUNK) as f64, most);
        for ((pixel, x), y) in part.chunks_exact_mut(3).zip(across).zip(down) {
            let at = (y >> BITS) as usize * stride + 3 * (x >> BITS) as usize;
            let upper = eight(&picture.bytes, at);
            let lower = eight(&picture.bytes, at + stride);
            pixel.copy_from_slice(&mix(upper, lower, u64::from(x) & (ONE - 1), u64::from(y) & (ONE - 1)));
        }
    }
}

/// Places of one chunk in 64ths of a pixel, held within the outermost pixels' middles.
fn places(row: &Row, first: f64, most: [f64; 2]) -> [[u32; CHUNK]; 2] {
    let mut places = [[0; CHUNK]; 2];
    let [across, down] = &mut places;
    for (i, (to_x, to_y)) in across.iter_mut().zip(down).enumerate() {
        let i = first + i as f64;
        let scale = ONE as f64 / (row.divisor[0] * i + row.divisor[1]);
        let x = ((row.x[0] * i + row.x[1]) * scale).max(0.0).min(most[0]);
        let y = ((row.y[0] * i + row.y[1]) * scale).max(0.0).min(most[1]);
        *to_x = (x + TO_WHOLE).to_bits() as u32;
        *to_y = (y + TO_WHOLE).to_bits() as u32;
    }
    places
}

/// Two pixels side by side, the left one in the lowest three bytes.
fn eight(bytes: &[u8], at: usize) -> u64 {
    let whole = bytes.get(at..at + 8).and_then(|eight| <[u8; 8]>::try_from(eight).ok());
    whole.map_or_else(|| at_the_end(bytes, at), u64::from_le_bytes)
}

/// The same within the last bytes of the picture.
#[cold]
fn at_the_end(bytes: &[u8], at: usize) -> u64 {
    let mut eight = [0; 8];
    for (to, from) in eight.iter_mut().zip(bytes.iter().skip(at)) {
        *to = *from;
    }
    u64::from_le_bytes(eight)
}

/// Mixed first downward, red, blue and the right pixel's green in one word and the other three in another, then across.
fn mix(upper: u64, lower: u64, x: u64, y: u64) -> [u8; 3] {
    let down = |shift: u32| (upper >> shift & EVERY_OTHER) * (ONE - y) + (lower >> shift & EVERY_OTHER) * y;
    let (even, odd) = (down(0), down(8));
    let part = |word: u64, lane: u32| word >> (16 * lane) & 0xffff;
    let across = |left: u64, right: u64| ((left * (ONE - x) + right * x + ONE * ONE / 2) >> (2 * BITS)) as u8;
    [across(part(even, 0), part(odd, 1)), across(part(odd, 0), part(even, 2)), across(part(even, 1), part(odd, 2))]
}

/// sRGB bytes to 65535ths of full light and back.
pub(super) struct Light {
    light: [u16; 256],
    byte: Vec<u8>,
}

impl Light {
    /// The one table of it.
    pub(super) fn get() -> &'static Self {
        static LIGHT: OnceLock<Light> = OnceLock::new();
        LIGHT.get_or_init(|| {
            let full = f32::from(u16::MAX);
            let light = |byte: u8| (Colour::from_srgb8([byte; 3]).r * full).round() as u16;
            let byte = |light: u16| {
                let part = f32::from(light) / full;
                Colour { r: part, g: part, b: part }.to_srgb8()[0]
            };
            Self { light: std::array::from_fn(|i| light(i as u8)), byte: (0..=u16::MAX).map(byte).collect() }
        })
    }

    /// The light of a byte.
    pub(super) fn of(&self, byte: u8) -> u16 {
        self.light[usize::from(byte)]
    }

    /// The nearest byte; more than full light is white.
    pub(super) fn byte(&self, light: u64) -> u8 {
        self.byte[light.min(u64::from(u16::MAX)) as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_byte_comes_back_from_light() {
        let light = Light::get();
        assert!((0..=255).all(|byte| light.byte(u64::from(light.of(byte))) == byte));
        assert_eq!((light.byte(0), light.byte(u64::MAX)), (0, 255));
    }

    /// The formula in floats, sample by sample.
    fn plain(picture: &Picture, [x, y]: [f64; 2]) -> [f64; 3] {
        let hold = |place: f64, side: usize| place.clamp(0.0, side as f64 - 1.0);
        let (x, y) = (hold(x, picture.width), hold(y, picture.height));
        let (left, top) = ((x as usize).min(picture.width - 2), (y as usize).min(picture.height - 2));
        let (fx, fy) = (x - left as f64, y - top as f64);
        std::array::from_fn(|c| {
            let at = |dx: usize, dy: usize| f64::from(picture.bytes[3 * ((top + dy) * picture.width + left + dx) + c]);
            (1.0 - fy) * ((1.0 - fx) * at(0, 0) + fx * at(1, 0)) + fy * ((1.0 - fx) * at(0, 1) + fx * at(1, 1))
        })
    }

    proptest! {
        #[test]
        fn fast_and_plain_agree(
            bytes in prop::collection::vec(any::<u8>(), 9 * 7 * 3),
            x in prop::array::uniform2(-3.0_f64..12.0),
            y in prop::array::uniform2(-3.0_f64..9.0),
            slope in -0.004_f64..0.004,
        ) {
            let picture = Picture { width: 9, height: 7, bytes };
            let row = Row { x: [x[0] / 70.0, x[1]], y: [y[0] / 70.0, y[1]], divisor: [slope, 1.0] };
            let mut out = vec![0; 3 * 150];
            bilinear(&picture, &row, &mut out);
            for (i, pixel) in out.chunks_exact(3).enumerate() {
                let i = i as f64;
                let divisor = row.divisor[0] * i + 1.0;
                let place = [(row.x[0] * i + row.x[1]) / divisor, (row.y[0] * i + row.y[1]) / divisor];
                // A place is off by 1/128 of a pixel at most (1/64 at the far edges), in both axes, and rounded once.
                for (seen, wanted) in pixel.iter().zip(plain(&picture, place)) {
                    prop_assert!((f64::from(*seen) - wanted).abs() <= 0.5 + 2.0 * 255.0 / 64.0, "{place:?}");
                }
            }
        }

        #[test]
        fn at_whole_64ths_it_is_the_formula_rounded(
            bytes in prop::collection::vec(any::<u8>(), 9 * 7 * 3),
            x in 0_u32..8 * 64,
            y in 0_u32..6 * 64,
        ) {
            let picture = Picture { width: 9, height: 7, bytes };
            let place = [f64::from(x) / 64.0, f64::from(y) / 64.0];
            let row = Row { x: [0.0, place[0]], y: [0.0, place[1]], divisor: [0.0, 1.0] };
            let mut out = [0; 3];
            bilinear(&picture, &row, &mut out);
            for (seen, wanted) in out.iter().zip(plain(&picture, place)) {
                prop_assert!((f64::from(*seen) - wanted).abs() <= 0.5);
            }
        }
    }
}
