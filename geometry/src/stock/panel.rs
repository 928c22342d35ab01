//! The glued panel.

use super::LaidBlank;
use crate::measure::Length;
use nalgebra::Point3;

/// Thickness at the panel's four corners, as measured: the first blank's edge is x = 0, the last
/// blank's x = W.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Corners {
    /// Near end, first blank.
    pub near_first: Length,
    /// Near end, last blank.
    pub near_last: Length,
    /// Far end, first blank.
    pub far_first: Length,
    /// Far end, last blank.
    pub far_last: Length,
}

impl Corners {
    /// The mean of the four, to a tick.
    #[must_use]
    pub fn mean(&self) -> Length {
        (self.near_first + self.near_last + self.far_first + self.far_last).divided_by(4)
    }

    /// δ_x: how much thicker the panel is at the last blank's edge than at the first's, mm.
    #[must_use]
    pub fn taper_across(&self) -> f64 {
        ((self.near_last + self.far_last) - (self.near_first + self.far_first)).mm() / 2.0
    }

    /// δ_z: how much thicker the panel is at its far end than at its near end, mm.
    #[must_use]
    pub fn taper_along(&self) -> f64 {
        ((self.far_first + self.far_last) - (self.near_first + self.near_last)).mm() / 2.0
    }
}

/// A panel after the first glue-up, trued and planed: what goes on the saw.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Its name in the plan.
    pub name: String,
    /// Its blanks, from x = 0 to x = W.
    pub blanks: Vec<LaidBlank>,
    /// Taken off the first and the last blank's outer edge to true the panel.
    pub trued: [Length; 2],
    /// Planed off the lower and the upper face after the glue-up.
    pub planed: [Length; 2],
    /// Thickness at four corners, where it was measured.
    pub measured: Option<Corners>,
}

impl Panel {
    /// W: the width between the trued edges.
    #[must_use]
    pub fn width(&self) -> Length {
        self.blanks.iter().map(|b| b.lying().width).sum::<Length>() - self.trued[0] - self.trued[1]
    }

    /// T: the thickness after planing; the mean of the corners where they were measured.
    ///
    /// As planned it is the thinnest blank's, less what is planed off both faces.
    #[must_use]
    pub fn thickness(&self) -> Length {
        self.measured.map_or_else(|| self.planned_thickness(), |corners| corners.mean())
    }

    fn planned_thickness(&self) -> Length {
        let thinnest = self.blanks.iter().map(|b| b.lying().thickness).min().unwrap_or_default();
        thinnest - self.planed[0] - self.planed[1]
    }

    /// L: the sound length, from the raw near end (z = 0) to the end of the shortest-reaching blank.
    #[must_use]
    pub fn length(&self) -> Length {
        self.blanks.iter().map(|b| b.start + b.blank.size.length).min().unwrap_or_default()
    }

    /// The largest start of a blank: before it the panel has a gap.
    #[must_use]
    pub fn latest_start(&self) -> Length {
        self.blanks.iter().map(|b| b.start).max().unwrap_or_default()
    }

    /// The x of every glue line between two blanks, in order, mm.
    #[must_use]
    pub fn glue_lines(&self) -> Vec<f64> {
        self.edges().skip(1).take(self.blanks.len().saturating_sub(1)).map(Length::mm).collect()
    }

    /// x where each blank begins, the trued first edge being 0; one more for where the last ends.
    fn edges(&self) -> impl Iterator<Item = Length> {
        let mut x = -self.trued[0];
        std::iter::once(x).chain(self.blanks.iter().map(move |b| {
            x += b.lying().width;
            x
        }))
    }

    /// From x to x for each blank, within the trued panel, mm.
    #[must_use]
    pub fn spans(&self) -> Vec<[f64; 2]> {
        let edges: Vec<Length> = self.edges().map(|x| x.max(Length::ZERO).min(self.width())).collect();
        edges.windows(2).map(|w| [w[0].mm(), w[1].mm()]).collect()
    }

    /// The blank at panel x, and the wood at panel (x, y, z) in that blank's own (u, v, w).
    ///
    /// x = x_i + u and y = v less what was planed off the lower face, z = the blank's start + w, the
    /// blank turned first. A point outside is taken by the nearest blank.
    #[must_use]
    pub fn wood_at(&self, at: &Point3<f64>) -> Option<(usize, Point3<f64>)> {
        let mut x0 = -self.trued[0].mm();
        let last = self.blanks.len().checked_sub(1)?;
        for (i, laid) in self.blanks.iter().enumerate() {
            let wide = laid.lying().width.mm();
            if at.x <= x0 + wide || i == last {
                let lying = Point3::new(at.x - x0, at.y + self.planed[0].mm(), at.z - laid.start.mm());
                return Some((i, laid.turn.own(laid.blank.size, lying)));
            }
            x0 += wide;
        }
        None
    }
}
