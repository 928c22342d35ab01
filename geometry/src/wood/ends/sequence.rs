//! Which ring at one end is which at the other: found from the sequence of ring widths, as years
//! are dated in dendrochronology (a run of good and bad years is a signature), never from where
//! the lines lie.
//!
//! # Formula
//! With a_i and b_j the ring widths at the near and the far end, the far end put `shift` lines
//! later, e_i = ln a_i − ln b_(i + shift) for the n rings that both ends then show. The mean of e
//! is a difference in growth, or in the direction looked at, and says nothing; its scatter
//! m = √(Σ(e − ē)²/(n − 1) + ε²) is how badly the sequences agree, ε being what a traced width is
//! good to. The **margin** is m of the next-best shift over m of the best.
//!
//! It doesn't promise that the right match is among those tried: ends that share fewer than
//! [`LEAST_SHARED`] rings can't be told from chance.

use super::Unjoined;
use super::line::EndLines;

/// A sequence shorter than this agrees with some wrong place too often: with widths that scatter
/// by chance, ten rings at each end and seven shared, there are some six places to try.
pub const LEAST_SHARED: usize = 7;

/// The next-best match must fit this many times worse before the best is believed.
///
/// Drawn 4000 times each, ten rings at one end and eleven at the other, seven widths shared, rings
/// uneven by 10 to 30 %, one ring's width differing between the ends by 2 to 6 %: a wrong match
/// passes at most 3 times in 1000, the true one 75 % (even rings, badly alike) to 100 % of the
/// time. Ends that share no ring at all pass 12 % of the time: they must not come from one blank.
pub const LEAST_MARGIN: f64 = 1.5;

/// What a traced ring width is good to, as a share (1/20 mm in 2.5 mm).
const WIDTH_TRACED: f64 = 0.02;

/// How the ends were matched.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Match {
    /// The near end's first line is this line of the far end, counted from 0; below 0 where it
    /// lies inside the far end's first.
    pub shift: i64,
    /// How many ring widths both ends show.
    pub shared: usize,
    /// Scatter of the widths' logarithms, the share by which the sequences disagree.
    pub disagreement: f64,
    /// How many times worse the next-best shift fits; infinite where a named line or a long face
    /// settles it.
    pub margin: f64,
    /// The next-best shift, where there is one.
    pub next: Option<i64>,
}

/// Matches by ring widths alone; `None` stands for a width that could not be measured.
///
/// # Errors
/// [`Unjoined::TooFewRings`]; [`Unjoined::TwoMatches`] where the margin is below
/// [`LEAST_MARGIN`].
///
/// ```
/// use quarterturn_geometry::wood::ends::match_widths;
/// let near = [2.1, 3.0, 1.2, 2.6, 2.2, 1.1, 3.1, 2.4];
/// let far = [1.9, 2.2, 3.1, 1.2, 2.7, 2.3, 1.1, 3.3, 2.4];
/// let found = match_widths(&near.map(Some), &far.map(Some)).unwrap();
/// assert_eq!((found.shift, found.shared), (1, 8));
/// assert!(found.margin > 3.0);
/// ```
pub fn match_widths(near: &[Option<f64>], far: &[Option<f64>]) -> Result<Match, Unjoined> {
    let mut found: Vec<Match> = Vec::new();
    for shift in -(near.len() as i64)..=far.len() as i64 {
        let gaps = logarithms(near, far, shift);
        if gaps.len() >= LEAST_SHARED {
            let (shared, disagreement) = (gaps.len(), scatter(&gaps));
            found.push(Match { shift, shared, disagreement, margin: f64::INFINITY, next: None });
        }
    }
    found.sort_by(|a, b| a.disagreement.total_cmp(&b.disagreement));
    let Some(best) = found.first() else {
        return Err(Unjoined::TooFewRings { shared: near.len().min(far.len()) });
    };
    let Some(next) = found.get(1) else {
        // A single place to try is no comparison.
        return Err(Unjoined::TooFewRings { shared: best.shared });
    };
    let margin = next.disagreement / best.disagreement;
    if margin < LEAST_MARGIN {
        return Err(Unjoined::TwoMatches { best: best.shift, next: next.shift, margin });
    }
    Ok(Match { margin, next: Some(next.shift), ..*best })
}

/// The match that a line of the same name on both ends settles; none where no name is shared.
///
/// # Errors
/// [`Unjoined::NamesDisagree`] where two names ask for different matches.
pub(super) fn match_names(near: &EndLines, far: &EndLines) -> Result<Option<i64>, Unjoined> {
    let mut settled: Option<(i64, &str)> = None;
    for (i, line) in near.rings.iter().enumerate().filter(|(_, l)| !l.name.is_empty()) {
        for (j, _) in far.rings.iter().enumerate().filter(|(_, other)| other.name == line.name) {
            let shift = j as i64 - i as i64;
            match settled {
                Some((known, first)) if known != shift => {
                    return Err(Unjoined::NamesDisagree { one: first.to_owned(), other: line.name.clone() });
                }
                _ => settled = Some((shift, &line.name)),
            }
        }
    }
    Ok(settled.map(|(shift, _)| shift))
}

/// How the widths agree at a shift that is settled otherwise.
pub(super) fn settled(near: &[Option<f64>], far: &[Option<f64>], shift: i64) -> Match {
    let gaps = logarithms(near, far, shift);
    Match { shift, shared: gaps.len(), disagreement: scatter(&gaps), margin: f64::INFINITY, next: None }
}

fn logarithms(near: &[Option<f64>], far: &[Option<f64>], shift: i64) -> Vec<f64> {
    let pair = |(i, a): (usize, &Option<f64>)| {
        let b = far.get(usize::try_from(i as i64 + shift).ok()?).copied().flatten()?;
        Some(((*a)? / b).ln()).filter(|e| e.is_finite())
    };
    near.iter().enumerate().filter_map(pair).collect()
}

fn scatter(gaps: &[f64]) -> f64 {
    let n = gaps.len() as f64;
    let mean = gaps.iter().sum::<f64>() / n.max(1.0);
    let squares: f64 = gaps.iter().map(|e| (e - mean) * (e - mean)).sum();
    (squares / (n - 1.0).max(1.0) + WIDTH_TRACED * WIDTH_TRACED).sqrt()
}
