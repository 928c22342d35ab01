//! What is larger than the paper, at 1:1 over several sheets, with register marks to join them by.
//!
//! Two sheets that meet both show a strip of the drawing; along its middle runs a dashed line with crosses, the same on
//! both. Must not know what is drawn.

use super::flow::MARGIN;
use super::page::{Item, Page, Path, Tone};

/// How wide the strip is that two sheets both show, mm.
const SHARED: f64 = 12.0;
/// Half of a cross.
const ARM: f64 = 3.0;

/// One sheet's part of a drawing.
#[derive(Clone, Debug)]
pub(crate) struct Tile {
    /// The upper left corner of what it shows, in the drawing.
    pub(crate) from: [f64; 2],
    /// The places of seams that it shows: across, and down.
    seams: [Vec<f64>; 2],
}

/// The parts of a drawing so large, each no larger than the window; row by row, from the left.
pub(crate) fn tiles(size: [f64; 2], window: [f64; 2]) -> Vec<Tile> {
    let [across, down] = [0, 1].map(|side| starts(size[side], window[side]));
    let seams = |starts: &[f64], i: usize| {
        let own = starts.get(i).filter(|_| i > 0).map(|from| from + SHARED / 2.0);
        own.into_iter().chain(starts.get(i + 1).map(|next| next + SHARED / 2.0)).collect::<Vec<_>>()
    };
    let tile =
        |(i, j): (usize, usize)| Tile { from: [across[i], down[j]], seams: [seams(&across, i), seams(&down, j)] };
    (0..down.len()).flat_map(|j| (0..across.len()).map(move |i| (i, j))).map(tile).collect()
}

/// Where the parts of a length begin.
fn starts(long: f64, window: f64) -> Vec<f64> {
    let step = (window - SHARED).max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let more = ((long - window) / step - 1e-9).ceil().clamp(0.0, 200.0) as usize;
    (0..=more).map(|i| step * i as f64).collect()
}

impl Tile {
    /// Draws its part of a drawing into a window of the page; what reaches beyond the window is covered.
    pub(crate) fn draw(&self, drawing: &Page, page: &mut Page, corner: [f64; 2], window: [f64; 2]) {
        let by = [corner[0] - self.from[0], corner[1] - self.from[1]];
        let end = [corner[0] + window[0], corner[1] + window[1]];
        let mut inside = Page::new(page.size);
        for item in &drawing.items {
            let moved = item.moved(by);
            let [low, high] = moved.box_of();
            if (0..2).all(|i| high[i] >= corner[i] && low[i] <= end[i]) {
                inside.items.push(moved);
            }
        }
        // Beyond the page's own edges too, so that nothing shines through there.
        let [wide, high] = page.size.map(|side| side + 2.0 * MARGIN);
        let covers = [
            ([-MARGIN, -MARGIN], [wide, corner[1] + MARGIN]),
            ([-MARGIN, end[1]], [wide, high - end[1]]),
            ([-MARGIN, corner[1]], [corner[0] + MARGIN, window[1]]),
            ([end[0], corner[1]], [wide - end[0], window[1]]),
        ];
        for (at, size) in covers {
            inside.filled(at, size, Tone::White);
        }
        for x in &self.seams[0] {
            seam(&mut inside, |along| [x + by[0], along], [corner[1], end[1]]);
        }
        for y in &self.seams[1] {
            seam(&mut inside, |along| [along, y + by[1]], [corner[0], end[0]]);
        }
        // What was on the page before stays on top.
        inside.items.append(&mut page.items);
        page.items = inside.items;
    }
}

/// A dashed line with a cross near each of its ends.
fn seam(page: &mut Page, at: impl Fn(f64) -> [f64; 2], [from, to]: [f64; 2]) {
    page.path(Path { dashed: true, ..Path::open(vec![at(from), at(to)], 0.15, Tone::Black) });
    for along in [from + 8.0, to - 8.0] {
        let [x, y] = at(along);
        page.line([x - ARM, y], [x + ARM, y], 0.2, Tone::Black);
        page.line([x, y - ARM], [x, y + ARM], 0.2, Tone::Black);
        page.circle([x, y], ARM * 0.6, 0.15, None);
    }
}

impl Item {
    /// Its corners' least and greatest.
    fn box_of(&self) -> [[f64; 2]; 2] {
        let far = f64::INFINITY;
        self.corners().into_iter().fold([[far; 2], [-far; 2]], |[low, high], at| {
            [[low[0].min(at[0]), low[1].min(at[1])], [high[0].max(at[0]), high[1].max(at[1])]]
        })
    }

    /// The same elsewhere.
    pub(crate) fn moved(&self, [dx, dy]: [f64; 2]) -> Self {
        let shift = |[x, y]: [f64; 2]| [x + dx, y + dy];
        let mut item = self.clone();
        match &mut item {
            Self::Text(text) => text.at = shift(text.at),
            Self::Fraction(fraction) => fraction.at = shift(fraction.at),
            Self::Path(path) => path.points.iter_mut().for_each(|at| *at = shift(*at)),
            Self::Picture { at, .. } => *at = shift(*at),
        }
        item
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Every point of the drawing is on some sheet, and every seam on exactly the two sheets that meet there.
        #[test]
        fn nothing_is_lost_between_two_sheets(size in [1.0..900.0f64, 1.0..900.0], window in [60.0..250.0f64, 60.0..250.0]) {
            let all = tiles(size, window);
            for side in 0..2 {
                let mut from: Vec<f64> = all.iter().map(|tile| tile.from[side]).collect();
                from.sort_by(f64::total_cmp);
                from.dedup();
                prop_assert!(from[0] == 0.0 && from[from.len() - 1] + window[side] >= size[side] - 1e-6);
                for pair in from.windows(2) {
                    prop_assert!((pair[0] + window[side] - pair[1] - SHARED).abs() < 1e-9);
                }
                for tile in &all {
                    for seam in &tile.seams[side] {
                        let shows = |t: &&Tile| t.from[1 - side] == tile.from[1 - side] && t.seams[side].contains(seam);
                        prop_assert_eq!(all.iter().filter(shows).count(), 2);
                        prop_assert!(*seam >= tile.from[side] && *seam <= tile.from[side] + window[side]);
                    }
                }
            }
        }
    }
}
