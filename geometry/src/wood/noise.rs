//! Seeded values that belong to a place: integer hashes and smooth noise made from them. Knows
//! nothing of wood. Integers wrap and floats are only added and multiplied, so every machine
//! gives the same values.

/// Four independent values, each −1 to 1, from one place.
pub(super) type Four = [f32; 4];

const STEP: [u64; 3] = [0x9E37_79B9_7F4A_7C15, 0xC2B2_AE3D_27D4_EB4F, 0x1656_67B1_9E37_79F9];

/// 64 mixed bits. One fold, one multiplication and one fold are enough for what the eye sees,
/// because [`start`] has multiplied each coordinate already.
#[inline(always)]
pub(super) fn mix(h: u64) -> u64 {
    let h = (h ^ (h >> 32)).wrapping_mul(0xD6E8_FEB8_6659_FD93);
    h ^ (h >> 32)
}

/// Bits that belong to the cell (a, b, c).
#[inline(always)]
pub(super) fn hash(seed: u64, a: i64, b: i64, c: i64) -> u64 {
    mix(start(seed, a, b, c))
}

/// A different number for every cell, evenly spread but not yet mixed (a Weyl sequence).
#[inline(always)]
pub(super) fn start(seed: u64, a: i64, b: i64, c: i64) -> u64 {
    seed.wrapping_add((a as u64).wrapping_mul(STEP[0]))
        .wrapping_add((b as u64).wrapping_mul(STEP[1]))
        .wrapping_add((c as u64).wrapping_mul(STEP[2]))
}

/// Four values −1 to 1 from one hash: 32 bits and their lower 16, twice.
#[inline(always)]
pub(super) fn four(h: u64) -> Four {
    let (low, high) = (h as i32, (h >> 32) as i32);
    [low, high, low << 16, high << 16].map(|v| v as f32 * (1.0 / 2_147_483_648.0))
}

/// Value −1 to 1 from the 16 bits of a hash that start at bit `from`.
#[inline(always)]
pub(super) fn one(h: u64, from: u32) -> f32 {
    f32::from((h >> from) as i16) * TO_ONE
}

const TO_ONE: f32 = 1.0 / 32_768.0;

/// The whole number at or below `x`, and how far above it `x` lies (0 to 1); |x| below 2⁵⁰.
///
/// 1.5·2⁵² is so large that adding it rounds to a whole number, which then stands in the low bits.
/// Where `x` is whole itself the answer may be (x − 1, 1) for (x, 0): the same place.
#[inline(always)]
pub(super) fn split(x: f64) -> (i64, f64) {
    const LARGE: f64 = 6_755_399_441_055_744.0;
    let sum = (x - 0.5) + LARGE;
    let whole = sum.to_bits().wrapping_sub(LARGE.to_bits()) as i64;
    (whole, x - (sum - LARGE))
}

/// `x` held between `low` and `high`; NaN is `low`. Two instructions, where `clamp` has to keep NaN.
#[inline(always)]
pub(super) fn hold(x: f64, low: f64, high: f64) -> f64 {
    let x = if x > low { x } else { low };
    if x < high { x } else { high }
}

/// The same for `f32`.
#[inline(always)]
pub(super) fn hold32(x: f32, low: f32, high: f32) -> f32 {
    let x = if x > low { x } else { low };
    if x < high { x } else { high }
}

/// 3t² − 2t³: from 0 to 1 with level ends.
#[inline(always)]
pub(super) fn ease(t: f32) -> f32 {
    t * t * (3.0 - 2.0 * t)
}

/// 0 below `from`, then rising by `slope` to 1.
#[inline(always)]
pub(super) fn ramp(x: f64, from: f64, slope: f64) -> f32 {
    hold((x - from) * slope, 0.0, 1.0) as f32
}

/// Smooth noise along a line, one lattice point per unit; slope at most 3. It keeps the two points
/// between which it was last asked, because the next pixel of a picture mostly lies there too: ask it
/// with one seed alone.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Along {
    cell: Option<i64>,
    ends: [Four; 2],
}

impl Along {
    #[inline(always)]
    pub(super) fn at(&mut self, seed: u64, x: f64) -> Four {
        let (i, t) = split(x);
        if self.cell != Some(i) {
            self.turn_to(seed, i);
        }
        let t = ease(t as f32);
        let [a, b] = &self.ends;
        std::array::from_fn(|n| a[n] + (b[n] - a[n]) * t)
    }

    /// Seldom needed, so kept out of the pixels' loop.
    #[cold]
    #[inline(never)]
    fn turn_to(&mut self, seed: u64, i: i64) {
        let first = start(seed, i, 0, 0);
        *self = Along { cell: Some(i), ends: [four(mix(first)), four(mix(first.wrapping_add(STEP[0])))] };
    }
}

/// Smooth noise in the plane, one lattice point per unit: four values at the price of one; slope
/// at most 3 along each axis. It keeps the corners of the cell it was last asked for, as [`Along`] does.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Plane {
    cell: Option<(i64, i64)>,
    corners: [Four; 4],
}

impl Plane {
    #[inline(always)]
    pub(super) fn at(&mut self, seed: u64, x: f64, y: f64) -> Four {
        let ((i, s), (j, t)) = (split(x), split(y));
        if self.cell != Some((i, j)) {
            let first = start(seed, i, j, 0);
            let corner = |add: u64| four(mix(first.wrapping_add(add)));
            let upper = STEP[0].wrapping_add(STEP[1]);
            *self = Plane { cell: Some((i, j)), corners: [corner(0), corner(STEP[0]), corner(STEP[1]), corner(upper)] };
        }
        let (s, t) = (ease(s as f32), ease(t as f32));
        let [a, b, c, d] = &self.corners;
        std::array::from_fn(|n| {
            let low = a[n] + (b[n] - a[n]) * s;
            let high = c[n] + (d[n] - c[n]) * s;
            low + (high - low) * t
        })
    }
}
