//! A handhold: a recess in an edge, given by what the maker sets in the shop.

use super::{Bit, Easing, Edge, EdgeFrame, Finished, Path, Profile, Recess};
use crate::measure::Length;
use nalgebra::{Point2, Point3};

/// Where the recess begins and ends along its edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// From the two corners of the finished board to the ends of the recess, in the order of
    /// [`Edge::ends`].
    Setbacks([Length; 2]),
    /// The two stop blocks' distances from the bit's centre on the router table: the right-hand one
    /// (the starting stop), then the left-hand one.
    Stops {
        /// The starting stop.
        right_hand: Length,
        /// The stop that ends the cut.
        left_hand: Length,
    },
}

/// A recess in an edge of the finished board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handhold {
    /// The edge.
    pub edge: Edge,
    /// The bit, by its place in the plan's list.
    pub bit: Bit,
    /// d: how deep, from the edge.
    pub depth: Length,
    /// Where it begins and ends.
    pub reach: Reach,
    /// The recess's middle above the board's lower face; `None` is centred on the thickness.
    pub above_lower_face: Option<Length>,
    /// How many passes; `None` leaves it to the step-down.
    pub passes: Option<u8>,
    /// How wide, across the thickness; `None` is one pass, as wide as the bit cuts.
    pub width: Option<Length>,
    /// How its rim is eased, afterwards: setbacks, stops and the width are the bit's.
    pub rim: Option<Easing>,
}

impl Handhold {
    /// Half its section, where the bit passes once.
    #[must_use]
    pub fn profile(&self) -> Profile {
        Profile::of(&self.bit, self.depth.mm()).eased(self.rim)
    }

    /// ρ(d): half the width that one pass of the bit leaves at the edge.
    #[must_use]
    pub fn half_width(&self) -> f64 {
        self.profile().bit_at_surface()
    }

    /// m: how much wider the recess is than one pass, mm; negative where the bit is wider than the recess may be.
    #[must_use]
    pub fn widening(&self) -> f64 {
        let more = self.width.map_or(0.0, |width| width.mm() - 2.0 * self.half_width());
        if more.abs() < 1e-6 { 0.0 } else { more }
    }

    /// The two setbacks, from each corner to the end of the recess, in the order of
    /// [`Edge::ends`], mm.
    ///
    /// From stops: a = ℓ − right-hand stop − ρ(d), c = ℓ − left-hand stop − ρ(d).
    #[must_use]
    pub fn setbacks(&self, board: &Finished) -> [f64; 2] {
        let (length, rho) = (self.edge.length(board), self.half_width());
        match self.reach {
            Reach::Setbacks(both) => both.map(Length::mm),
            Reach::Stops { right_hand, left_hand } => [right_hand, left_hand].map(|stop| length - stop.mm() - rho),
        }
    }

    /// t: how far the bit's centre travels; negative where the stops cross.
    ///
    /// A travel of less than a nanometre is none: it is what rounding leaves of equal stops.
    #[must_use]
    pub fn travel(&self, board: &Finished) -> f64 {
        let [a, c] = self.setbacks(board);
        let travel = self.edge.length(board) - a - c - 2.0 * self.half_width();
        if travel.abs() < 1e-6 { 0.0 } else { travel }
    }

    /// The recess; its travel is negative where the stops cross.
    #[must_use]
    pub fn recess(&self, board: &Finished) -> Recess {
        Recess { profile: self.profile(), travel: self.travel(board), widening: self.widening() }
    }

    /// What the bit leaves, before the rim is eased.
    #[must_use]
    pub fn before_its_rim(&self) -> Self {
        Self { rim: None, ..self.clone() }
    }

    /// The middle of the recess above the lower face, mm.
    #[must_use]
    pub fn middle(&self, board: &Finished) -> f64 {
        self.above_lower_face.map_or(board.thickness / 2.0, Length::mm)
    }

    /// Where the bit's centre begins and ends on the recess's middle line, in the edge's frame at the surface.
    #[must_use]
    pub fn centres(&self, board: &Finished) -> [Point3<f64>; 2] {
        let from = self.setbacks(board)[0] + self.half_width();
        [from, from + self.travel(board)].map(|along| Point3::new(along, self.middle(board), 0.0))
    }

    /// Where the bit's centre goes, in the edge's frame: a run, or all over a rectangle.
    #[must_use]
    pub fn path(&self, board: &Finished) -> Path {
        let ([from, to], half) = (self.centres(board), self.widening() / 2.0);
        Path::over(Point2::new(from.x, from.y - half), Point2::new(to.x, to.y + half))
    }

    /// The edge's frame.
    #[must_use]
    pub fn frame(&self, board: &Finished) -> EdgeFrame {
        EdgeFrame::of(self.edge, board)
    }

    /// Half of how much of the edge it takes across the thickness, its eased rim included, mm.
    #[must_use]
    pub fn half_opening(&self) -> f64 {
        self.profile().at_surface() + self.widening() / 2.0
    }

    /// The wood left beside the recess to the lower and to the upper face, at the edge, mm: by the
    /// closed form, middle ∓ (ρ(d) + m/2), and its eased rim less.
    #[must_use]
    pub fn lips(&self, board: &Finished) -> [f64; 2] {
        let (middle, half) = (self.middle(board), self.half_opening());
        [middle - half, board.thickness - middle - half]
    }

    /// Its name in messages and file names: `left handhold`.
    #[must_use]
    pub fn name(&self) -> String {
        format!("{} handhold", self.edge.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;
    use approx::assert_relative_eq;

    fn inch(s: &str) -> Length {
        Length::parse(s, Unit::Inch).unwrap()
    }

    pub(crate) fn bowl_bit() -> Bit {
        Bit {
            name: "bowl".into(),
            diameter: inch("3/4"),
            corner_radius: inch("1/8"),
            reach: inch("5/8"),
            flutes: 2,
            cuts_at_centre: false,
            most_speed: None,
            chip_load: None,
            stick_out: None,
            eases: None,
        }
    }

    /// Common practice, no source: a 3/4 in bit with a flat bottom and rounded corners, 1/4 in
    /// deep, centred, 2 in from each corner, in a board 1 3/8 in thick leaves a lip of 5/16 in on
    /// both sides.
    #[test]
    fn five_sixteenths_on_both_sides() {
        let board = Finished { length: 288.925, width: 228.6, thickness: inch("1 3/8").mm() };
        let hold = Handhold {
            edge: Edge::Left,
            bit: bowl_bit(),
            depth: inch("1/4"),
            reach: Reach::Setbacks([inch("2"); 2]),
            above_lower_face: None,
            passes: None,
            width: None,
            rim: None,
        };
        for lip in hold.lips(&board) {
            assert_relative_eq!(lip, inch("5/16").mm(), epsilon = 1e-12);
        }
        assert_relative_eq!(hold.recess(&board).length(), 228.6 - inch("4").mm(), epsilon = 1e-9);
    }

    #[test]
    fn stops_and_setbacks_say_the_same() {
        let board = Finished { length: 300.0, width: 228.6, thickness: 35.0 };
        let mut hold = Handhold {
            edge: Edge::Front,
            bit: bowl_bit(),
            depth: inch("1/4"),
            reach: Reach::Stops { right_hand: inch("9"), left_hand: inch("8") },
            above_lower_face: None,
            passes: None,
            width: None,
            rim: None,
        };
        let [a, c] = hold.setbacks(&board);
        assert_relative_eq!(a, 300.0 - 228.6 - inch("3/8").mm(), epsilon = 1e-9);
        hold.reach = Reach::Setbacks([a, c].map(Length::nearest_to_mm));
        assert_relative_eq!(hold.travel(&board), 300.0 - a - c - inch("3/4").mm(), epsilon = 1e-6);
    }
}
