//! What the turns do to a panel that is thicker on one side.

use super::Board;
use crate::layup::Turn;
use crate::stock::{Corners, Panel};

impl Board {
    /// How much longer the glued board is along its front than along its back, from the panels'
    /// measured taper across, mm.
    ///
    /// A strip laid Y = W − x (as cut, rolled over) has the panel's last edge in front, the other
    /// two have it at the back: (n − m)·δ_x. One of each kind cancels, in any order.
    #[must_use]
    pub fn fan(&self) -> f64 {
        self.sum(|_, corners, turn| {
            let grows = corners.taper_across();
            if turn.first_blank_in_front() { -grows } else { grows }
        })
    }

    /// How much longer the glued board is along its upper face than along its lower, from the
    /// panels' measured taper along the grain, mm.
    ///
    /// A panel that grows by δ_z over its length L grows by δ_z·s/L over a strip; as cut and end
    /// for end put the thick side up, the other two down.
    #[must_use]
    pub fn arch(&self) -> f64 {
        let strip = self.glued().thickness;
        self.sum(|panel, corners, turn| {
            let grows = corners.taper_along() * strip / panel.length().mm();
            if turn.far_face_up() { grows } else { -grows }
        })
    }

    /// Adds up over the strips whose panel was measured.
    fn sum(&self, of: impl Fn(&Panel, &Corners, Turn) -> f64) -> f64 {
        self.strips()
            .iter()
            .filter_map(|strip| {
                let panel = self.panels().get(strip.place.panel)?;
                Some(of(panel, panel.measured.as_ref()?, strip.place.turn))
            })
            .sum()
    }
}
