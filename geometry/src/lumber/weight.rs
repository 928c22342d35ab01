//! What a board weighs at a moisture content.

use crate::board::Board;
use crate::movement::{Moisture, USUAL};

/// The mean density of a board, kg/m³, each piece's by its share of the box, at one moisture content, or each
/// blank's own as measured (8 % where it wasn't); `None` where a wood's isn't published.
///
/// Density follows from the green specific gravity: [`crate::wood::density_at`]. A wood varies by a tenth and more.
#[must_use]
pub fn density(board: &Board, at: Option<Moisture>) -> Option<f64> {
    let (mut mass, mut volume) = (0.0, 0.0);
    for piece in board.pieces() {
        let side = piece.high - piece.low;
        let strip = board.strips().get(piece.place)?;
        let laid = board.panels().get(strip.place.panel)?.blanks.get(piece.blank)?;
        let wood = laid.blank.figure.wood().data()?;
        let one = side.x * side.y * side.z;
        let moisture = at.map_or(laid.blank.moisture.unwrap_or(USUAL.0), |m| m.0);
        mass += one * wood.density(moisture)?;
        volume += one;
    }
    (volume > 0.0).then(|| mass / volume)
}

/// The mass in kg of a volume in mm³ at a density in kg/m³.
///
/// A board of sugar maple 18 × 12 × 1 1/2 in, at 8 % moisture content, by hand: specific gravity 0.56 green;
/// a = 22/30; 0.56/(1 − 0.265·a·0.56) · 1.08 = 678.7 kg/m³; 324 in³ = 5309.4 cm³: 3.603 kg. One of black walnut,
/// 400 × 300 × 40 mm: 0.51/(1 − 0.265·a·0.51) · 1.08 = 611.4 kg/m³, 4.8 L: 2.935 kg.
///
/// ```
/// use quarterturn_geometry::lumber::mass;
/// use quarterturn_geometry::wood::WoodData;
/// let of = |wood: &str, volume: f64| mass(volume, WoodData::named(wood).unwrap().density(8.0).unwrap());
/// assert!((of("hard maple", 18.0 * 12.0 * 1.5 * 25.4_f64.powi(3)) - 3.603).abs() < 5e-4);
/// assert!((of("black walnut", 400.0 * 300.0 * 40.0) - 2.935).abs() < 5e-4);
/// ```
#[must_use]
pub fn mass(volume: f64, density: f64) -> f64 {
    volume * density * 1e-9
}
