//! How a board looks, from a small picture of its face: mirrored or not, like another or not.
//!
//! Every difference is the mean of |Δ| over the three sRGB bytes of all spots, in millionths of the
//! range: 0 the same, a million black against white.

use crate::picture::Picture;

/// A way of looking at a picture: left and right changed or not, top and bottom changed or not.
pub(super) type View = [bool; 2];

/// As it is.
pub(super) const AS_IT_IS: View = [false, false];
/// Left and right changed.
pub(super) const LEFT_TO_RIGHT: View = [true, false];
/// Top and bottom changed.
pub(super) const FRONT_TO_BACK: View = [false, true];
/// Turned half round.
pub(super) const HALF_ROUND: View = [true, true];

/// The mean difference between one picture and another, seen so. Where one is longer, both are compared about their
/// middles.
pub(super) fn difference(one: &Picture, other: &Picture, view: View) -> u64 {
    let (wide, high) = (one.width.min(other.width), one.height.min(other.height));
    let (left, other_left) = ((one.width - wide) / 2, (other.width - wide) / 2);
    let mut sum = 0_u64;
    for row in 0..high {
        let other_row = if view[1] { high - 1 - row } else { row };
        let a = &one.bytes[(row * one.width + left) * 3..][..wide * 3];
        let b = &other.bytes[(other_row * other.width + other_left) * 3..][..wide * 3];
        let apart = |(a, b): (&u8, &u8)| u64::from(a.abs_diff(*b));
        sum += if view[0] {
            let turned = b.chunks_exact(3).rev();
            a.chunks_exact(3).zip(turned).map(|(a, b)| a.iter().zip(b).map(apart).sum::<u64>()).sum::<u64>()
        } else {
            a.iter().zip(b).map(apart).sum()
        };
    }
    sum * 1_000_000 / ((wide * high * 3).max(1) as u64 * 255)
}

/// The least difference, however the other is turned half round or mirrored.
pub(super) fn apart(one: &Picture, other: &Picture) -> u64 {
    let views = [AS_IT_IS, LEFT_TO_RIGHT, FRONT_TO_BACK, HALF_ROUND];
    views.into_iter().map(|view| difference(one, other, view)).min().unwrap_or(0)
}
