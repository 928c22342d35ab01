//! Ripping a blank so that a line of its figure runs out exactly along an arris.

use crate::wood::Figure;
use nalgebra::Point3;

/// What is asked: the line, the side that is ripped off, the face on which the line runs along.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rip {
    /// The line's name: where heartwood ends, or another boundary traced on both ends.
    pub line: String,
    /// Whether the side at u = U is ripped off; else that at u = 0.
    pub opposite_side: bool,
    /// Whether the line runs along the face at v = V; else along that at v = 0.
    pub opposite_face: bool,
}

/// How it is ripped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ripped {
    /// How much is ripped off at the near and at the far end, mm, measured on that face from the
    /// side that is ripped.
    pub off: [f64; 2],
    /// How much more at the far end than at the near one, mm.
    pub taper: f64,
    /// The width that is left once the other side is ripped parallel to the cut, mm.
    pub left: f64,
    /// How far the line leaves the cut between the ends, mm, at most: toward the wood that stays
    /// where above 0.
    pub leaves: f64,
}

/// Why there is nothing to rip to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoRip {
    /// The blank was not traced, or no line has that name.
    #[error("no line of that name is traced")]
    NoLine,
    /// The line doesn't reach the face at that end.
    #[error("the line does not reach that face at the {0} end")]
    NotThere(&'static str),
    /// Nothing would be left.
    #[error("nothing would be left of the width")]
    NothingLeft,
}

/// Stations between the ends at which the line is held against the cut.
const BETWEEN: u32 = 15;
/// Distance of the places at which the line is sought on the face, mm.
const EVERY: f64 = 0.25;

impl Rip {
    /// How a blank of that size (mm: width, thickness, length) is ripped.
    ///
    /// The cut is straight from the one end's offset to the other's; the line may leave it between
    /// the ends, which is said. Ripped so, the line runs along the new arris, and what it wandered
    /// against the blank's edge is gone from the figure but for that.
    ///
    /// # Errors
    /// [`NoRip`].
    pub fn of(&self, figure: &Figure, [width, thickness, length]: [f64; 3]) -> Result<Ripped, NoRip> {
        let between = figure.between().ok_or(NoRip::NoLine)?;
        let v = if self.opposite_face { thickness } else { 0.0 };
        // From the side that is ripped off.
        let u = |from_side: f64| if self.opposite_side { width - from_side } else { from_side };
        let beyond = |from_side: f64, w: f64| between.beyond_boundary(&self.line, &Point3::new(u(from_side), v, w));
        beyond(0.0, 0.0).ok_or(NoRip::NoLine)?;
        let runs_out = |w: f64| -> Option<f64> {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let steps = (width / EVERY).ceil() as usize;
            let at = |n: usize| width * n as f64 / steps as f64;
            let side = |n: usize| beyond(at(n), w);
            let crossing =
                (1..=steps).find(|n| side(n - 1).zip(side(*n)).is_some_and(|(a, b)| (a < 0.0) != (b < 0.0)))?;
            let (a, b) = (side(crossing - 1)?, side(crossing)?);
            Some(at(crossing - 1) + (at(crossing) - at(crossing - 1)) * a / (a - b))
        };
        let near = runs_out(0.0).ok_or(NoRip::NotThere("near"))?;
        let far = runs_out(length).ok_or(NoRip::NotThere("far"))?;
        let taper = far - near;
        let left = (width - near.max(far)) * (length / length.hypot(taper));
        if left <= 0.0 {
            return Err(NoRip::NothingLeft);
        }
        let off_the_cut = |n: u32| {
            let t = f64::from(n) / f64::from(BETWEEN + 1);
            Some(runs_out(t * length)? - (near + taper * t))
        };
        let off: Vec<f64> = (1..=BETWEEN).filter_map(off_the_cut).collect();
        let leaves = off.into_iter().fold(0.0_f64, |most, x| if x.abs() > most.abs() { x } else { most });
        Ok(Ripped { off: [near, far], taper, left, leaves })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wood::Wood;
    use crate::wood::ends::{EndLine, EndLines, Ends, HEARTWOOD};
    use nalgebra::{Point2, Vector2};

    /// Level rings, and a heartwood line that slants across the section and moves toward +u.
    fn figure() -> Figure {
        let line = |n: i32| EndLine {
            points: vec![Point2::new(0.0, 3.0 * f64::from(n)), Point2::new(60.0, 3.0 * f64::from(n))],
            name: format!("ring {n}"),
        };
        let end = |u: f64| EndLines {
            rings: (0..9).map(line).collect(),
            pith: None,
            boundaries: vec![EndLine {
                name: HEARTWOOD.into(),
                points: (0..=24).map(|n| Point2::new(u + f64::from(n), f64::from(n))).collect(),
            }],
        };
        let ends =
            Ends { size: Vector2::new(60.0, 24.0), length: 400.0, near: end(10.0), far: end(14.0), ..Ends::default() };
        Figure::traced(Wood::named("black walnut").unwrap(), ends.join().unwrap(), false, 1)
    }

    #[test]
    fn the_line_runs_out_where_it_was_traced_and_the_cut_follows_it() {
        let size = [60.0, 24.0, 400.0];
        let rip = Rip { line: HEARTWOOD.into(), opposite_side: false, opposite_face: false };
        let ripped = rip.of(&figure(), size).unwrap();
        // Level rings: the line stands v above 0 at u = 10 + v, so v = 0 at u = 10 and at u = 14.
        assert!((ripped.off[0] - 10.0).abs() < 0.3 && (ripped.off[1] - 14.0).abs() < 0.3, "{ripped:?}");
        assert!((ripped.taper - 4.0).abs() < 0.3 && ripped.left < 46.3 && ripped.left > 45.5, "{ripped:?}");
        assert!(ripped.leaves.abs() < 0.3, "{ripped:?}");
        let other = Rip { opposite_side: true, ..rip.clone() }.of(&figure(), size).unwrap();
        assert!((other.off[0] - 50.0).abs() < 0.3 && (other.taper + 4.0).abs() < 0.3, "{other:?}");
        let none = Rip { line: "bark".into(), ..rip };
        assert_eq!(none.of(&figure(), size), Err(NoRip::NoLine));
    }
}
