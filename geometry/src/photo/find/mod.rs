//! The corners of a blank's end on a plain background.
//!
//! 1. `ground`: the background's colour is fitted along the photograph's border as a surface of the second degree, so
//!    that uneven light does no harm; what differs from it is not background.
//! 2. `patch`: the largest such patch, and the largest four-sided figure in its convex hull.
//! 3. `side`: along each of the four sides the step from wood to background is looked for in the full photograph, in
//!    many places, and a straight line laid through them that single wrong places don't move.
//!
//! Corners are where the lines meet, so that chipped or rounded corners do no harm either. Where there is no such
//! figure it is said; nothing is guessed. It can't know which corner bears the mark: [`Outline::corners`] takes it to
//! be where the frame has it, with a wide face down.
//!
//! A lens that bends straight lines is not allowed for; nor are several things in the photograph, save a card that is
//! pointed at.

mod ground;
mod patch;
mod side;

#[cfg(test)]
mod tests;

use super::{Corners, CornersError, End, Photograph};
use thiserror::Error;

/// The first look is at a photograph no longer than this, pixels.
const FIRST_LOOK: usize = 480;

/// Four corners as found, upright: lower right, lower left, upper left, upper right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    points: [[f64; 2]; 4],
    size: [usize; 2],
}

/// Why no corners were found.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NotFound {
    /// Nothing stands out from the background, or nothing of any size.
    #[error("nothing stands out from the background")]
    Nothing,
    /// What stands out reaches the border, so that it isn't seen whole.
    #[error("what stands out from the background runs out of the photograph")]
    RunsOut,
    /// It has not four straight sides.
    #[error("what stands out from the background has not four straight sides")]
    NotFourSided,
    /// Along a side no straight step from wood to background.
    #[error("along the {0} side of the end there is no straight step from wood to background")]
    NoStep(&'static str),
    /// The figure is no end.
    #[error(transparent)]
    Corners(#[from] CornersError),
}

impl Outline {
    /// The corners in the order of that end, the marked corner taken to be the lower right one on the near end and the
    /// lower left one on the far end.
    ///
    /// # Errors
    /// Where they are too close together to be those of an end.
    pub fn corners(&self, end: End) -> Result<Corners, CornersError> {
        let [lower_right, lower_left, upper_left, upper_right] = self.points;
        let points = match end {
            End::Near => [lower_right, lower_left, upper_left, upper_right],
            End::Far => [lower_left, lower_right, upper_right, upper_left],
        };
        Corners::new(points, self.size)
    }

    /// Whether it is seen clearly lying the other way than an end of `size` (width, thickness): wider than high
    /// instead of higher than wide, or the other way round.
    #[must_use]
    pub fn lies_otherwise(&self, size: [f64; 2]) -> bool {
        let p = &self.points;
        let length = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
        let seen = (length(p[0], p[1]) + length(p[2], p[3])) / (length(p[1], p[2]) + length(p[3], p[0]));
        let meant = size[0] / size[1];
        // Perspective alone makes a fifth of difference at most in a photograph that is good for anything.
        (seen > 1.2 && meant < 1.0 / 1.2) || (seen < 1.0 / 1.2 && meant > 1.2)
    }
}

/// Finds the end in a photograph. A patch that holds the middle of `card` (x, y, width, height, upright, pixels) is
/// not taken for it.
///
/// # Errors
/// [`NotFound`]: nothing stands out, it runs out of the photograph, or has not four straight sides.
pub fn find(photograph: &Photograph, card: Option<[f64; 4]>) -> Result<Outline, NotFound> {
    let (small, by) = photograph.small(FIRST_LOOK);
    let scale = by as f64;
    let card = card.map(|[x, y, width, height]| [(x + width / 2.0) / scale, (y + height / 2.0) / scale]);
    let stands_out = ground::stands_out(&small).ok_or(NotFound::Nothing)?;
    let rough = patch::four_sided(&stands_out, card)?.map(|point| point.map(|place| place * scale));
    let points = side::refined(photograph, &from_lower_right(rough), scale)?;
    let outline = Outline { points, size: photograph.size() };
    outline.corners(End::Near)?;
    Ok(outline)
}

/// Clockwise as seen, the lower right one first.
fn from_lower_right(mut points: [[f64; 2]; 4]) -> [[f64; 2]; 4] {
    let middle: [f64; 2] = std::array::from_fn(|axis| points.iter().map(|p| p[axis]).sum::<f64>() / 4.0);
    points.sort_by(|a, b| {
        let angle = |p: &[f64; 2]| (p[1] - middle[1]).atan2(p[0] - middle[0]);
        angle(a).total_cmp(&angle(b))
    });
    let out = |p: &[f64; 2]| p[0] - middle[0] + p[1] - middle[1];
    let first = (0..4).max_by(|a, b| out(&points[*a]).total_cmp(&out(&points[*b]))).unwrap_or(0);
    points.rotate_left(first);
    points
}
