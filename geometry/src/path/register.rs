//! What lies against the stock's sides where it lies flat: strips of waste where a cut opens, and the stop pins by which the
//! stock is found again, clear of them. Knows cuttings; nothing of clamps or paper.

use super::{Cutting, Up};
use nalgebra::Point2;

/// How far a strip of waste goes on beside the opening, mm (common practice, no source).
const BESIDE: f64 = 12.0;
/// How far a pin stays away from a strip, mm.
const CLEAR: f64 = 6.0;

/// Where a strip of waste lies along a side of the stock, from and to: at X 0, at the far X, at Y 0, at the far Y; nothing
/// where no cut opens that side.
///
/// By hand: a spout whose bit, 12 mm wide, runs out at Y 0 at X 50: from 50 − 6 − 12 = 32 to 68.
#[must_use]
pub fn waste(cuttings: &[&Cutting]) -> [Option<[f64; 2]>; 4] {
    [0, 1, 2, 3].map(|side| {
        let axis = usize::from(side < 2);
        let along = |cutting: &Cutting| {
            let ([low, high], out) = (cutting.extent(), cutting.profile.at_surface() + BESIDE);
            [(low[axis] - out).max(0.0), (high[axis] + out).min(cutting.stock[axis])]
        };
        let opening = cuttings.iter().filter(|cutting| cutting.opens()[side]).map(|cutting| along(cutting));
        opening.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).filter(|[from, to]| from < to)
    })
}

/// Three stop pins, in the program's X and Y: two at the edge along X at Y 0, one at the end along Y at X 0. They are the
/// same for every cut into the two faces of one stock, so that it is found again after it was turned over: of several
/// places the first that is clear of every strip of waste; the first of all where none is.
#[must_use]
pub fn pins(cuttings: &[Cutting], [long, wide, _]: [f64; 3]) -> [Point2<f64>; 3] {
    let flat = |c: &&Cutting| matches!(c.up, Up::Face(_)) && c.stock[0] == long && c.stock[1] == wide;
    // Strip by strip: between two cuts far apart there is room.
    let strips: Vec<[Option<[f64; 2]>; 4]> = cuttings.iter().filter(flat).map(|c| waste(&[c])).collect();
    let clear = |side: usize, at: f64| {
        strips.iter().filter_map(|strip| strip[side]).all(|[from, to]| at < from - CLEAR || at > to + CLEAR)
    };
    let first = |side: usize, length: f64, shares: [f64; 5]| {
        let at = shares.map(|share| share * length);
        at.into_iter().find(|at| clear(side, *at)).unwrap_or(at[0])
    };
    let left = first(2, long, [0.15, 0.08, 0.22, 0.3, 0.4]);
    let right = first(2, long, [0.85, 0.92, 0.78, 0.7, 0.6]);
    let end = first(0, wide, [0.6, 0.8, 0.2, 0.9, 0.1]);
    [Point2::new(left, 0.0), Point2::new(right, 0.0), Point2::new(0.0, end)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Bit, Cuts, Edge, Face, Finished, Groove, Spout};
    use crate::fixtures::{handhold, mm};
    use approx::assert_relative_eq;

    const BOARD: Finished = Finished { length: 300.0, width: 200.0, thickness: 36.0 };

    fn spouts(all: &[(Edge, i64)]) -> Vec<Cutting> {
        let bit = Bit { diameter: mm(12), corner_radius: mm(0), ..handhold(["2", "2"]).bit };
        let spout = |(edge, along): &(Edge, i64)| Spout {
            groove: 0,
            edge: *edge,
            bit: bit.clone(),
            depth: mm(6),
            along: Some(mm(*along)),
        };
        let groove = Groove {
            face: Face::Upper,
            bit: bit.clone(),
            depth: mm(6),
            setback: mm(14),
            corner_radius: mm(25),
            rim: None,
        };
        let spouts = all.iter().map(spout).collect();
        let cuts = Cuts { grooves: vec![groove], spouts, ..Cuts::default() };
        Cutting::all(&[], &cuts, &BOARD)
    }

    #[test]
    fn the_worked_strip_and_pins_clear_of_it() {
        let all = spouts(&[(Edge::Front, 50), (Edge::Left, 120)]);
        let of: Vec<&Cutting> = all.iter().collect();
        let [left, right, front, back] = waste(&of);
        assert_eq!((right, back), (None, None));
        let [from, to] = front.unwrap();
        assert_relative_eq!(from, 32.0);
        assert_relative_eq!(to, 68.0);
        let [from, to] = left.unwrap();
        assert_relative_eq!(from, 102.0);
        assert_relative_eq!(to, 138.0);
        // 0.15 and 0.22 of 300 are behind the strip in front, 0.08 of it is clear; 0.6 of 200 at the left, so 0.8.
        let pins = pins(&all, [300.0, 200.0, 36.0]);
        for (pin, [x, y]) in pins.iter().zip([[24.0, 0.0], [255.0, 0.0], [0.0, 160.0]]) {
            assert_relative_eq!(*pin, Point2::new(x, y));
        }
    }

    #[test]
    fn nothing_opens_nothing_moves() {
        let pins = pins(&[], [300.0, 200.0, 36.0]);
        for (pin, [x, y]) in pins.iter().zip([[45.0, 0.0], [255.0, 0.0], [0.0, 120.0]]) {
            assert_relative_eq!(*pin, Point2::new(x, y));
        }
    }
}
