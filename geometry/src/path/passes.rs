//! How a depth is reached, pass by pass.

/// The depth after each pass, mm, the last being `depth`.
///
/// The last pass takes `last` where there is that much, the passes before it equal parts of the
/// rest, none more than `step`. Where the maker says how many, there are so many.
///
/// ```
/// use quarterturn_geometry::path::passes;
/// assert_eq!(passes(9.5, 3.2, 0.5, None), [3.0, 6.0, 9.0, 9.5]);
/// assert_eq!(passes(9.5, 3.2, 0.5, Some(2)), [9.0, 9.5]);
/// assert_eq!(passes(9.0, 3.2, 0.0, Some(3)), [3.0, 6.0, 9.0]);
/// assert_eq!(passes(0.4, 3.2, 0.5, None), [0.4]);
/// ```
#[must_use]
pub fn passes(depth: f64, step: f64, last: f64, asked: Option<u8>) -> Vec<f64> {
    if !(depth > 0.0 && step > 0.0) {
        return Vec::new();
    }
    let before = depth - last.clamp(0.0, depth);
    if before <= 0.0 || asked == Some(1) {
        return vec![depth];
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let needed = ((before / step - 1e-9).ceil() as usize).clamp(1, 1000);
    let light = usize::from(last > 0.0);
    let n = asked.map_or(needed, |n| usize::from(n).saturating_sub(light).max(1));
    let mut depths: Vec<f64> = (1..=n).map(|i| before * i as f64 / n as f64).collect();
    if last > 0.0 {
        depths.push(depth);
    }
    depths
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn passes_grow_to_the_depth_and_none_takes_more_than_a_step(depth in 0.1..40.0f64, step in 0.2..6.0f64, last in 0.0..2.0f64) {
            let depths = passes(depth, step, last, None);
            prop_assert_eq!(depths.last().copied(), Some(depth));
            let mut before = 0.0;
            for d in depths {
                prop_assert!(d > before && d - before <= step.max(last) + 1e-9);
                before = d;
            }
        }
    }
}
