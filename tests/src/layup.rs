//! Lay-ups to be searched for: a kept list of seeded ones, planted ones, and those of the samples.

use quarterturn_geometry::search::{Alike, Costs, Edges, FacesCounted, Joint, Laid, Stock, Weights};
use std::error::Error;
use std::path::{Path, PathBuf};

/// A seeded sequence of costs, 0 to a million (SplitMix64, public domain, S. Vigna).
pub fn seeded(mut seed: u64) -> impl FnMut() -> u32 {
    move || {
        seed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (seed ^ (seed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % 1_000_001) as u32
    }
}

/// Random costs that turning the board half round does not change: nothing that a search could go by.
pub fn random_costs(strips: usize, seed: u64) -> Result<Costs, Box<dyn Error>> {
    let mut next = seeded(seed);
    let mut known = std::collections::HashMap::new();
    let cost = |left, right| *known.entry(Alike::HalfRound.first(&[left, right])).or_insert_with(&mut next);
    Ok(Costs::from_fn(strips, cost)?)
}

/// Costs as wood has them: the four lines at a strip's edges each have four features, a glue line costs how far they
/// are apart, and neighbours in the panel are nearly alike.
pub fn wooden_costs(strips: usize, seed: u64) -> Result<Costs, Box<dyn Error>> {
    let mut next = seeded(seed);
    let mut line = [[0_i64; 4]; 4].map(|features| features.map(|_| i64::from(next() / 2)));
    let lines: Vec<[[i64; 4]; 4]> = (0..strips)
        .map(|_| {
            line = line.map(|features| features.map(|f| f + i64::from(next() / 10) - 50_000));
            line
        })
        .collect();
    // Which line a turn shows at the right edge, and at the left; end for end and end over end read it from behind.
    let features = |laid: Laid, right: bool| {
        let turn = laid.turn();
        let which = 2 * usize::from(turn.upper_face_to_the_right() == right) + usize::from(turn.far_face_up());
        let mut features = lines[laid.strip][which];
        if turn.first_blank_in_front() {
            features.reverse();
        }
        features
    };
    let apart = |(a, b): (i64, i64)| a.abs_diff(b);
    let cost = |left, right| {
        let sum: u64 = features(left, true).into_iter().zip(features(right, false)).map(apart).sum();
        (sum / 4).min(1_000_000) as u32
    };
    Ok(Costs::from_fn(strips, cost)?)
}

/// The kept list: instance `number` of 20, every second one wooden.
pub fn kept(number: u64, strips: usize) -> Result<Costs, Box<dyn Error>> {
    if number.is_multiple_of(2) { random_costs(strips, number) } else { wooden_costs(strips, number) }
}

/// A hidden lay-up whose glue lines cost nothing, all others at least 1.
pub fn planted(strips: usize, seed: u64) -> Result<Costs, Box<dyn Error>> {
    let mut next = seeded(seed);
    let mut order: Vec<usize> = (0..strips).collect();
    for i in (1..strips).rev() {
        order.swap(i, next() as usize % (i + 1));
    }
    let turns = quarterturn_geometry::layup::Turn::ALL;
    let laid: Vec<Laid> = order.iter().map(|s| Laid::new(*s, turns[next() as usize % 4])).collect();
    let hidden: std::collections::HashSet<Vec<Laid>> =
        laid.windows(2).map(|pair| Alike::HalfRound.first(pair)).collect();
    let cost = |left, right| if hidden.contains(&Alike::HalfRound.first(&[left, right])) { 0 } else { 1 + next() / 2 };
    Ok(Costs::from_fn(strips, cost)?)
}

/// The same for glue lines in a fixed order.
#[must_use]
pub fn planted_joints(strips: usize, seed: u64) -> Vec<Joint> {
    let mut next = seeded(seed);
    let hidden: Vec<usize> = (0..strips).map(|_| next() as usize % 4).collect();
    let joint = |turns: &[usize]| {
        let mut cost = |a, b| if (a, b) == (turns[0], turns[1]) { 0 } else { 1 + next() / 2 };
        std::array::from_fn(|a| std::array::from_fn(|b| cost(a, b)))
    };
    hidden.windows(2).map(joint).collect()
}

/// The samples' plans.
pub fn samples() -> Result<Vec<PathBuf>, Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../samples");
    let mut plans: Vec<PathBuf> = std::fs::read_dir(folder)?.filter_map(|e| Some(e.ok()?.path())).collect();
    plans.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    plans.sort();
    Ok(plans)
}

/// What a sample's strips cost beside one another, up to `most` of them, in the order in which they are cut.
pub fn sample_costs(plan: &Path, most: usize) -> Result<Costs, Box<dyn Error>> {
    let text = std::fs::read_to_string(plan)?;
    let job = quarterturn::plan::read(&text, &plan.to_string_lossy()).map_err(|p| p.to_string())?.job;
    let outcome = job.work();
    let trims = *outcome.board.clone()?.trims();
    let panels: Vec<_> = outcome.panels.iter().map(|p| (p.panel.clone(), p.crosscut)).collect();
    let mut strips: Vec<(usize, i64)> =
        outcome.panels.iter().enumerate().flat_map(|(i, p)| (0..p.cut).map(move |k| (i, k))).collect();
    strips.truncate(most);
    let stock = Stock { panels: &panels, strips: &strips, slides: &[], width: outcome.width, trims };
    Ok(Weights::RUNS_ON.costs(&Edges::sample(&stock, FacesCounted::Upper, 2.0)?)?)
}
