//! Finds rectangles a place on pages: on shelves, the highest first.

/// Where a rectangle lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) page: usize,
    pub(super) x: usize,
    pub(super) y: usize,
}

struct Shelf {
    page: usize,
    y: usize,
    filled: usize,
}

/// Places for rectangles (width, height) and the size of each page: powers of two, because some
/// graphics libraries scale any other picture to one. No page is higher than `most`, a power of two
/// itself, and none wider than the widest rectangle needs.
///
/// Every rectangle must be at most `most` high.
pub(super) fn pack(sizes: &[[usize; 2]], most: usize) -> (Vec<Spot>, Vec<[usize; 2]>) {
    let wide = sizes.iter().map(|s| s[0]).max().unwrap_or(0).next_power_of_two();
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by_key(|i| (usize::MAX - sizes[*i][1], usize::MAX - sizes[*i][0], *i));
    let mut spots = vec![Spot { page: 0, x: 0, y: 0 }; sizes.len()];
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut pages: Vec<[usize; 2]> = Vec::new();
    for i in order {
        let [w, h] = sizes[i];
        let shelf = shelves.iter().position(|shelf| shelf.filled + w <= wide).unwrap_or_else(|| {
            let page = pages.iter().position(|page| page[1] + h <= most).unwrap_or_else(|| {
                pages.push([wide, 0]);
                pages.len() - 1
            });
            shelves.push(Shelf { page, y: pages[page][1], filled: 0 });
            pages[page][1] += h;
            shelves.len() - 1
        });
        let shelf = &mut shelves[shelf];
        spots[i] = Spot { page: shelf.page, x: shelf.filled, y: shelf.y };
        shelf.filled += w;
    }
    (spots, pages.into_iter().map(|[w, h]| [w, h.next_power_of_two()]).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_two_overlap_and_none_leaves_its_page(sizes in prop::collection::vec((1usize..60, 1usize..50), 1..60)) {
            let sizes: Vec<[usize; 2]> = sizes.into_iter().map(|(w, h)| [w, h]).collect();
            let (spots, pages) = pack(&sizes, 64);
            let mut taken: Vec<Vec<bool>> = pages.iter().map(|[w, h]| vec![false; w * h]).collect();
            for (spot, [w, h]) in spots.iter().zip(&sizes) {
                let [wide, high] = pages[spot.page];
                prop_assert!(spot.x + w <= wide && spot.y + h <= high && high <= 64);
                prop_assert!(wide.is_power_of_two() && high.is_power_of_two());
                for i in (0..w * h).map(|i| (spot.y + i / w) * wide + spot.x + i % w) {
                    prop_assert!(!taken[spot.page][i]);
                    taken[spot.page][i] = true;
                }
            }
        }
    }
}
