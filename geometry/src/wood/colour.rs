//! Colours in linear light and the sRGB curve. Knows nothing of wood.

use std::sync::OnceLock;

/// A colour in linear light: sRGB primaries (IEC 61966-2-1), each part 0 to 1.
///
/// Linear light is what may be averaged: half a pixel of black and half a pixel of white.
///
/// ```
/// use quarterturn_geometry::wood::Colour;
/// let grey = Colour::from_srgb8([0; 3]).mix(Colour::from_srgb8([255; 3]), 0.5);
/// assert_eq!(grey.to_srgb8(), [188; 3]);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colour {
    /// Red.
    pub r: f32,
    /// Green.
    pub g: f32,
    /// Blue.
    pub b: f32,
}

impl Colour {
    /// From sRGB bytes.
    pub fn from_srgb8(bytes: [u8; 3]) -> Colour {
        let light = |byte: u8| tables().light[usize::from(byte)];
        Colour { r: light(bytes[0]), g: light(bytes[1]), b: light(bytes[2]) }
    }

    /// To the nearest sRGB bytes; parts outside 0 to 1 are cut off, NaN is black.
    #[inline]
    pub fn to_srgb8(self) -> [u8; 3] {
        let tables = tables();
        [tables.nearest_byte(self.r), tables.nearest_byte(self.g), tables.nearest_byte(self.b)]
    }

    /// The colour the fraction `t` of the way to `other`, in linear light.
    pub fn mix(self, other: Colour, t: f32) -> Colour {
        let part = |a: f32, b: f32| a + (b - a) * t;
        Colour { r: part(self.r, other.r), g: part(self.g, other.g), b: part(self.b, other.b) }
    }

    /// Relative luminance Y of the sRGB primaries: 0.2126 r + 0.7152 g + 0.0722 b.
    pub fn luminance(self) -> f32 {
        0.2126 * self.r + 0.7152 * self.g + 0.0722 * self.b
    }
}

/// sRGB value (0 to 1) to linear light, IEC 61966-2-1.
pub(super) fn decode(value: f64) -> f64 {
    if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
}

/// Linear light (0 to 1) to sRGB value, IEC 61966-2-1. The judge of the tables below.
#[cfg(test)]
pub(super) fn encode(light: f64) -> f64 {
    if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
}

/// The curve at the 256 bytes, the light at which one byte gives way to the next, and the byte at
/// which each of [`STEPS`] equal steps of light begins.
struct Tables {
    light: [f32; 256],
    between: [f32; 256],
    first: [u8; STEPS + 1],
}

/// The curve is steepest at its dark end: 12.92 · 255 = 3295 bytes from 0 to 1. So no step holds more
/// than one change of bytes.
const STEPS: usize = 4096;

fn tables() -> &'static Tables {
    static TABLES: OnceLock<Tables> = OnceLock::new();
    TABLES.get_or_init(|| {
        // Nothing comes after the last byte.
        let next = |i: usize| if i < 255 { decode((i as f64 + 0.5) / 255.0) as f32 } else { f32::INFINITY };
        let between: [f32; 256] = std::array::from_fn(next);
        let byte = |light: f32| between.partition_point(|edge| *edge <= light) as u8;
        Tables {
            light: std::array::from_fn(|i| decode(i as f64 / 255.0) as f32),
            first: std::array::from_fn(|i| byte(i as f32 / STEPS as f32)),
            between,
        }
    })
}

impl Tables {
    /// The byte whose stretch of the curve holds `light`: looked up, and the next one where its edge is
    /// passed, because a power for each part of each pixel is slow. The curve rises, so that this and
    /// the rounded power agree.
    #[inline(always)]
    fn nearest_byte(&self, light: f32) -> u8 {
        // A cast of NaN gives 0.
        let light = light.clamp(0.0, 1.0);
        let step = (light * STEPS as f32) as usize;
        let byte = self.first[step.min(STEPS)];
        byte + u8::from(self.between[usize::from(byte)] <= light)
    }
}
