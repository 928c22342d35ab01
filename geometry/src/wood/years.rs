//! The years' edges across the rings, in mm, and how strongly each year's latewood shows. Knows
//! nothing of where a point lies, of colours or species.
//!
//! Where single rings are not known every ring has the mean width m, unevenly: ring k reaches from
//! m (k + J_k) to m (k + 1 + J_{k+1}), J_k a seeded value within ±0.15 (J₀ = 0). Where they are
//! known (traced on the ends), their edges stand in a list, and beyond it rings go on so unevenly
//! with the mean width of the known ones.

use super::noise::{hash, one, ramp, split};

const JITTER: f64 = 0.15;
/// Rings added on each side of the known ones, at most.
const MOST_ADDED: i64 = 2000;

/// The rings of a blank, one after another.
#[derive(Debug, Clone)]
pub(super) struct Years {
    /// Mean width of a ring, mm.
    pub(super) width: f64,
    per_width: f64,
    /// A span (mm) no wider than this stays within the two rings at the nearest edge.
    pub(super) narrow: f64,
    pub(super) seed: u64,
    known: Option<Known>,
}

/// Edges that stand in a list.
#[derive(Debug, Clone)]
struct Known {
    /// Number of the first.
    first: i64,
    /// Where they lie, rising, mm.
    at: Vec<f64>,
    /// For each stretch of `1 / per_stretch` mm from the first edge on, the last edge at or below
    /// its start.
    table: Vec<u32>,
    per_stretch: f64,
}

/// The two growth rings that meet at the edge nearest to a point, in mm across the rings.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edges {
    /// Number of the ring that starts at the nearest edge.
    number: i64,
    /// The inner ring's start, the edge between, the outer ring's end.
    pub(super) at: [f64; 3],
    /// How strongly the latewood of the two shows; mean 1.
    pub(super) strength: [f32; 2],
    /// Which of the two holds the point: 0 the inner, 1 the outer.
    side: usize,
}

impl Edges {
    /// Number of the ring that holds the point.
    pub(super) fn number(&self) -> i64 {
        self.number - 1 + self.side as i64
    }

    /// Where that ring starts.
    #[inline(always)]
    pub(super) fn start(&self) -> f64 {
        self.at[self.side & 1]
    }

    /// How wide it is.
    #[inline(always)]
    pub(super) fn width(&self) -> f64 {
        self.at[(self.side & 1) + 1] - self.at[self.side & 1]
    }

    /// Ring number at `x`, which lies in one of the two: whole at an edge.
    pub(super) fn ring(&self, x: f64) -> f64 {
        self.number() as f64 + (x - self.start()) / self.width()
    }
}

impl Years {
    /// Rings of which nothing is known but their mean width.
    pub(super) fn new(width: f64, seed: u64) -> Years {
        Years { width, per_width: 1.0 / width, narrow: 0.7 * width, seed, known: None }
    }

    /// Rings whose edges are known: edge `first` and the next ones lie `at` these places, rising.
    /// They go on to both sides until they `reach` from the one to the other, mm.
    pub(super) fn known(first: i64, at: &[f64], width: f64, reach: [f64; 2], seed: u64) -> Years {
        let years = Years::new(width, seed);
        let ends = [at.first(), at.last()].map(|edge| edge.copied().unwrap_or_default());
        let added = |gap: f64| ((gap / width).ceil().max(0.0) as i64).min(MOST_ADDED) + 2;
        let last = first + at.len() as i64 - 1;
        let before = (1..=added(ends[0] - reach[0])).rev();
        let mut all: Vec<f64> =
            before.clone().map(|n| ends[0] - width * (n as f64 + years.jitter(first - n))).collect();
        all.extend(at);
        all.extend((1..=added(reach[1] - ends[1])).map(|n| ends[1] + width * (n as f64 + years.jitter(last + n))));
        let narrowest = all.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
        let known = Known::new(first - before.count() as i64, all, 0.25 * width);
        Years { narrow: narrowest.min(0.7 * width), known: Some(known), ..years }
    }

    /// J of an edge.
    #[inline(always)]
    fn jitter(&self, number: i64) -> f64 {
        f64::from(hash(self.seed ^ 0x55, number, 0, 0) as i16) * (JITTER / 32_768.0)
    }

    /// Where ring `number` starts, and how strongly its latewood shows (some years have hardly
    /// any).
    #[inline(always)]
    fn edge(&self, number: i64) -> (f64, f32) {
        let chance = hash(self.seed ^ 0x55, number, 0, 0);
        let at = match &self.known {
            None => {
                let jitter = if number == 0 { 0 } else { chance as i16 };
                self.width * (number as f64 + f64::from(jitter) * (JITTER / 32_768.0))
            }
            Some(known) => known.edge(number, self.width),
        };
        (at, 1.0 + 0.35 * one(chance, 16))
    }

    /// The rings on both sides of edge `number`, for a point at `x`.
    #[inline(always)]
    pub(super) fn edges_at(&self, number: i64, x: f64) -> Edges {
        let ((inner, weak), (edge, strong), (outer, _)) =
            (self.edge(number - 1), self.edge(number), self.edge(number + 1));
        Edges { number, at: [inner, edge, outer], strength: [weak, strong], side: usize::from(x >= edge) }
    }

    /// The rings on both sides of the edge nearest to `x`. Jitter moves no edge by more than
    /// 0.15 m, so one of the two holds the point. No branch depends on where the point lies: at
    /// each ring's edge a wrong guess of the processor would cost more than the answer.
    #[inline(always)]
    pub(super) fn edges(&self, x: f64) -> Edges {
        *self.edges_near(x, &mut None)
    }

    /// The same, where the last answer is at hand: the next pixel mostly has the same edge.
    #[inline(always)]
    pub(super) fn edges_near<'a>(&self, x: f64, last: &'a mut Option<Edges>) -> &'a Edges {
        let number = match &self.known {
            None => split(x * self.per_width + 0.5).0,
            Some(known) => known.nearest(x, self.per_width),
        };
        if last.as_ref().is_none_or(|last| last.number != number) {
            *last = None;
        }
        let edges = match last {
            Some(edges) => edges,
            None => last.insert(self.edges_at(number, x)),
        };
        edges.side = usize::from(x >= edges.at[1]);
        edges
    }

    /// How far single rings are still seen through a pixel of `grain` mm: 1 up to a ring's width,
    /// 0 from two.
    #[inline(always)]
    pub(super) fn banded(&self, grain: f64) -> f32 {
        1.0 - ramp(grain, self.width, self.per_width)
    }
}

impl Known {
    fn new(first: i64, at: Vec<f64>, stretch: f64) -> Known {
        let span = at[at.len() - 1] - at[0];
        let stretches = ((span / stretch).ceil() as usize).clamp(1, 65_536);
        let per_stretch = stretches as f64 / span.max(f64::MIN_POSITIVE);
        let table = (0..stretches)
            .map(|n| at.partition_point(|edge| *edge <= at[0] + n as f64 / per_stretch).saturating_sub(1) as u32)
            .collect();
        Known { first, at, table, per_stretch }
    }

    #[inline(always)]
    fn edge(&self, number: i64, width: f64) -> f64 {
        let n = number - self.first;
        match usize::try_from(n).ok().and_then(|n| self.at.get(n)) {
            Some(at) => *at,
            None if n < 0 => self.at[0] + n as f64 * width,
            None => self.at[self.at.len() - 1] + (n - self.at.len() as i64 + 1) as f64 * width,
        }
    }

    #[inline(always)]
    fn nearest(&self, x: f64, per_width: f64) -> i64 {
        let (low, high) = (self.at[0], self.at[self.at.len() - 1]);
        if x <= low {
            return self.first + split((x - low) * per_width + 0.5).0;
        }
        if x >= high {
            return self.first + self.at.len() as i64 - 1 + split((x - high) * per_width + 0.5).0;
        }
        let stretch = ((x - low) * self.per_stretch) as usize;
        let mut n = self.table[stretch.min(self.table.len() - 1)] as usize;
        while self.at[n + 1] <= x {
            n += 1;
        }
        self.first + n as i64 + i64::from(self.at[n + 1] - x < x - self.at[n])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_edges_are_found_and_go_on() {
        let at = [0.0, 2.0, 2.3, 9.0, 11.0];
        let years = Years::known(-1, &at, 2.75, [-20.0, 40.0], 3);
        for (n, edge) in at.iter().enumerate() {
            assert_eq!(years.edges(*edge).ring(*edge), n as f64 - 1.0);
        }
        approx::assert_abs_diff_eq!(years.edges(5.65).ring(5.65), 1.5, epsilon = 1e-12);
        let mut last = f64::NEG_INFINITY;
        for step in -2000..2400 {
            let x = f64::from(step) * 0.05;
            let edges = years.edges(x);
            let ring = edges.ring(x);
            assert!(ring > last && edges.at.is_sorted(), "{x}: {ring} after {last}");
            assert!(edges.start() <= x + 1e-9 && x <= edges.start() + edges.width() + 1e-9, "{x}: {edges:?}");
            last = ring;
        }
    }
}
