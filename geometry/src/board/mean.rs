//! The mean colour of a piece, for what shows each piece in one colour.

use super::{Board, Piece};
use crate::wood::Colour;
use nalgebra::Vector3;

/// Sections of a piece that are looked at, and places along each side of a section.
const SECTIONS: usize = 3;
const PLACES: usize = 6;

impl Board {
    /// The mean colour of a piece, in linear light: the wood in the middle of 6 × 6 equal parts of each
    /// of three sections, every one averaged over its part; `None` for a piece of another board.
    #[must_use]
    pub fn mean_colour(&self, piece: &Piece) -> Option<Colour> {
        let size = piece.high - piece.low;
        let grain = size.x.max(size.y) / PLACES as f64;
        let within = |i: usize, n: usize| (i as f64 + 0.5) / n as f64;
        let (mut sum, mut count) = ([0.0_f32; 3], 0.0_f32);
        for i in 0..PLACES * PLACES * SECTIONS {
            let [x, y, z] = [i % PLACES, i / PLACES % PLACES, i / (PLACES * PLACES)];
            let share = [within(x, PLACES), within(y, PLACES), within(z, SECTIONS)];
            let at = piece.low + size.component_mul(&Vector3::from(share));
            let Colour { r, g, b } = self.colour_of(&self.spot_in(piece.place, &at)?, grain)?;
            sum = [sum[0] + r, sum[1] + g, sum[2] + b];
            count += 1.0;
        }
        let [r, g, b] = sum.map(|part| part / count);
        Some(Colour { r, g, b })
    }
}
