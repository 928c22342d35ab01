//! Seeded values that belong to a place: integer hashes and smooth noise made from them. Knows
//! nothing of wood. Integers wrap and floats are only added and multiplied, so every machine
//! gives the same values.

/// Four independent values, each −1 to 1, from one place.
pub(super) type Four = [f32; 4];

const STEP: [u64; 3] = [0x9E37_79B9_7F4A_7C15, 0xC2B2_AE3D_27D4_EB4F, 0x1656_67B1_9E37_79F9];

/// 64 well-mixed bits (the finishing step of MurmurHash3, public domain).
#[inline]
pub(super) fn mix(mut h: u64) -> u64 {
    h ^= h >> 33;
    h = h.wrapping_mul(0xFF51_AFD7_ED55_8CCD);
    h ^= h >> 33;
    h = h.wrapping_mul(0xC4CE_B9FE_1A85_EC53);
    h ^ (h >> 33)
}

/// Bits that belong to the cell (a, b, c).
#[inline]
pub(super) fn hash(seed: u64, a: i64, b: i64, c: i64) -> u64 {
    mix(start(seed, a, b, c))
}

#[inline]
fn start(seed: u64, a: i64, b: i64, c: i64) -> u64 {
    seed.wrapping_add((a as u64).wrapping_mul(STEP[0]))
        .wrapping_add((b as u64).wrapping_mul(STEP[1]))
        .wrapping_add((c as u64).wrapping_mul(STEP[2]))
}

/// Four values −1 to 1 from one hash.
#[inline]
pub(super) fn four(h: u64) -> Four {
    const TO_ONE: f32 = 1.0 / 32_768.0;
    [h as i16, (h >> 16) as i16, (h >> 32) as i16, (h >> 48) as i16].map(|v| f32::from(v) * TO_ONE)
}

/// Four values 0 to 1 from one hash.
#[inline]
pub(super) fn four_positive(h: u64) -> Four {
    four(h).map(|v| 0.5 + 0.5 * v)
}

/// The whole number at or below `x`, and how far above it `x` lies (0 to 1).
#[inline]
pub(super) fn split(x: f64) -> (i64, f64) {
    let near = x as i64;
    let whole = near - i64::from((near as f64) > x);
    (whole, x - whole as f64)
}

/// 3t² − 2t³: from 0 to 1 with level ends.
#[inline]
pub(super) fn ease(t: f32) -> f32 {
    t * t * (3.0 - 2.0 * t)
}

/// 0 below `from`, 1 above `to`, straight between.
#[inline]
pub(super) fn ramp(x: f64, from: f64, to: f64) -> f32 {
    ((x - from) / (to - from)).clamp(0.0, 1.0) as f32
}

/// Smooth noise along a line, one lattice point per unit; slope at most 3.
#[inline]
pub(super) fn along(seed: u64, x: f64) -> Four {
    let (i, t) = split(x);
    let t = ease(t as f32);
    let (a, b) = (four(hash(seed, i, 0, 0)), four(hash(seed, i + 1, 0, 0)));
    std::array::from_fn(|n| a[n] + (b[n] - a[n]) * t)
}

/// Smooth noise in the plane: one value −1 to 1.
#[inline]
pub(super) fn plane(seed: u64, x: f64, y: f64) -> f32 {
    let ((i, s), (j, t)) = (split(x), split(y));
    let (s, t) = (ease(s as f32), ease(t as f32));
    let corner = |a, b| (hash(seed, a, b, 0) as i16 as f32) * (1.0 / 32_768.0);
    let low = corner(i, j) * (1.0 - s) + corner(i + 1, j) * s;
    let high = corner(i, j + 1) * (1.0 - s) + corner(i + 1, j + 1) * s;
    low * (1.0 - t) + high * t
}

/// Smooth noise in space, one lattice point per unit: four values at the price of one.
#[inline]
pub(super) fn space(seed: u64, x: f64, y: f64, z: f64) -> Four {
    let ((i, s), (j, t), (k, q)) = (split(x), split(y), split(z));
    let (s, t, q) = (ease(s as f32), ease(t as f32), ease(q as f32));
    let first = start(seed, i, j, k);
    let mut sum = [0.0; 4];
    for n in 0..8_u32 {
        let (a, b, c) = (n & 1, (n >> 1) & 1, n >> 2);
        let side = |bit: u32, f: f32| if bit == 1 { f } else { 1.0 - f };
        let share = side(a, s) * side(b, t) * side(c, q);
        let add = |bit: u32, axis: usize| u64::from(bit).wrapping_mul(STEP[axis]);
        let corner = four(mix(first.wrapping_add(add(a, 0)).wrapping_add(add(b, 1)).wrapping_add(add(c, 2))));
        for (total, value) in sum.iter_mut().zip(corner) {
            *total += share * value;
        }
    }
    sum
}
