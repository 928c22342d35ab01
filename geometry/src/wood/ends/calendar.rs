//! How wide each year's ring is: turns ring numbers into distances across the rings and back.
//!
//! Rings are unevenly wide, so a ring number is a crooked function of the place, and the mean of
//! two ends' ring numbers smears a wide ring of one over a narrow ring of the other: the figure
//! would fade from one picture into the other. The *distance across the rings* s = G(ring) is
//! nearly straight; blended instead, a wide ring stays wide and only moves. G runs in straight
//! pieces through G(k + 1) = G(k) + width of ring k, the mean of the widths at both ends.

/// G and its inverse.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Calendar {
    /// Number of the first boundary.
    pub(super) first: i64,
    /// G at each boundary, rising, mm.
    pub(super) at: Vec<f64>,
    /// Mean ring width, mm, with which it goes on beyond.
    pub(super) mean: f64,
    /// Standard deviation of the ring widths over their mean.
    pub(super) scatter: f64,
}

impl Calendar {
    /// From widths of the rings after boundaries `first`, `first` + 1, …; an unknown one is given
    /// the mean. None where no width is known.
    pub(super) fn new(first: i64, widths: &[Option<f64>]) -> Option<Calendar> {
        let known: Vec<f64> = widths.iter().copied().flatten().filter(|w| *w > 0.0 && w.is_finite()).collect();
        let n = known.len() as f64;
        let mean = known.iter().sum::<f64>() / n;
        if known.is_empty() {
            return None;
        }
        let variance = known.iter().map(|w| (w - mean) * (w - mean)).sum::<f64>() / n;
        let mut at = vec![0.0];
        for width in widths {
            let step = width.filter(|w| *w > 0.0 && w.is_finite()).unwrap_or(mean);
            at.push(at[at.len() - 1] + step);
        }
        Some(Calendar { first, at, mean, scatter: variance.sqrt() / mean })
    }

    /// G: distance across the rings, mm.
    pub(super) fn distance(&self, ring: f64) -> f64 {
        let (x, last) = (ring - self.first as f64, self.at.len() - 1);
        let cell = (x.floor().max(0.0) as usize).min(last);
        if x <= 0.0 || cell == last {
            return self.at[cell] + (x - cell as f64) * self.mean;
        }
        self.at[cell] + (x - cell as f64) * (self.at[cell + 1] - self.at[cell])
    }

    /// The ring number at a distance.
    pub(super) fn ring(&self, distance: f64) -> f64 {
        let cell = self.at.partition_point(|g| *g <= distance);
        let start = cell.saturating_sub(1);
        let width = self.width_from(start, cell);
        (self.first + start as i64) as f64 + (distance - self.at[start]) / width
    }

    /// Width of the ring at a distance, mm.
    pub(super) fn width(&self, distance: f64) -> f64 {
        let cell = self.at.partition_point(|g| *g <= distance);
        self.width_from(cell.saturating_sub(1), cell)
    }

    /// How far a distance lies beyond the known rings, mm.
    pub(super) fn beyond(&self, distance: f64) -> f64 {
        (self.at[0] - distance).max(distance - self.at[self.at.len() - 1]).max(0.0)
    }

    fn width_from(&self, start: usize, cell: usize) -> f64 {
        if cell == 0 || cell >= self.at.len() { self.mean } else { self.at[start + 1] - self.at[start] }
    }
}
