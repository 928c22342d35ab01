//! One way in for all who search: what is [`Wanted`] goes in, what was [`Tried`] comes out.

use super::costs::{Costs, Found};
use super::wanted::{Order, Wanted, WantedError};
use super::watch::Watch;
use super::{MOST_PROVEN, beyond, free, interleaved, picked};

/// What came of a search.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tried {
    /// The boards found, cheapest first, no two of them the same.
    pub found: Vec<Found>,
    /// Whether these are proven to be the best few, in this order. Where not, [`Tried::bound`] says what is proven.
    pub proven: bool,
    /// No lay-up that was asked for costs less.
    pub bound: u64,
    /// How many different boards cost as little as the first, itself included; `u64::MAX` stands for so many or more.
    /// Where they are not proven: how many were found.
    pub equally_good: u64,
    /// How many ways to lay one strip beside another were weighed.
    pub looked_at: u64,
}

impl Tried {
    /// Stopped before anything was found.
    pub(super) const fn nothing_yet(bound: u64, watch: &Watch<'_>) -> Self {
        let looked_at = watch.progress.looked_at;
        Self { found: Vec::new(), proven: false, bound, equally_good: 0, looked_at }
    }

    /// How far the first may be from the best there is; 0: it is proven.
    #[must_use]
    pub fn gap(&self) -> u64 {
        self.found.first().map_or(0, |best| best.cost.saturating_sub(self.bound))
    }
}

/// How far a search has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// The cheapest lay-up so far.
    pub best: Option<u64>,
    /// No lay-up that was asked for costs less.
    pub bound: u64,
    /// How many ways to lay one strip beside another were weighed.
    pub looked_at: u64,
}

/// The best few lay-ups of the strips of `costs` that fit `wanted`.
///
/// Proven in the order as given, and in any order of up to [`MOST_PROVEN`] strips; beyond that the best found, with a
/// bound. `keep_going` is asked every few milliseconds of work; once it says no, what was found and proven so far is
/// given back.
///
/// # Errors
/// [`WantedError`] where what is asked contradicts itself, or nothing fits it.
///
/// ```
/// use quarterturn_geometry::search::{Costs, Order, Wanted, lay_ups};
/// // Four strips; two that lie next to each other in number go well together.
/// let costs = Costs::from_fn(4, |a, b| 10 * a.strip.abs_diff(b.strip) as u32 - 10).unwrap();
/// let mut wanted = Wanted::all(4, Order::Free);
/// wanted.strips[1].used = quarterturn_geometry::search::Used::Gone;
/// wanted.count = quarterturn_geometry::search::Count::exactly(3);
/// let tried = lay_ups(&costs, &wanted, &mut |_| true).unwrap();
/// assert!(tried.proven);
/// assert_eq!(tried.found[0].laid.iter().map(|l| l.strip).collect::<Vec<_>>(), [0, 2, 3]);
/// assert_eq!((tried.found[0].cost, tried.equally_good), (10, 64));
/// ```
pub fn lay_ups(
    costs: &Costs,
    wanted: &Wanted,
    keep_going: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Tried, WantedError> {
    let (may, rules) = wanted.rules(costs.strips())?;
    let costs = costs.of_some(&may);
    let mut watch = Watch::new(keep_going);
    let tried = match wanted.order {
        Order::AsGiven => picked::search(&costs, &rules, wanted, &mut watch),
        Order::Interleaved => {
            let panels: Vec<usize> = may.iter().map(|strip| wanted.panels[*strip]).collect();
            interleaved::search(&costs, &rules, &panels, wanted, &mut watch)
        }
        Order::Free if may.len() <= MOST_PROVEN => free::search(&costs, &rules, wanted, &mut watch),
        Order::Free => beyond::search(&costs, &rules, wanted, &mut watch),
    };
    let mut tried = tried.ok_or(WantedError::None)?;
    for laid in tried.found.iter_mut().flat_map(|f| &mut f.laid) {
        laid.strip = may[laid.strip];
    }
    Ok(tried)
}

/// The best found without proof, in free order, by the search that is used beyond [`MOST_PROVEN`] strips, with its
/// bound: to see how good that is where the proof can be had too.
///
/// # Errors
/// As [`lay_ups`].
pub fn guessed(costs: &Costs, wanted: &Wanted) -> Result<Tried, WantedError> {
    let (may, rules) = wanted.rules(costs.strips())?;
    if may.len() != costs.strips() {
        return Err(WantedError::Strips { asked: may.len(), there: costs.strips() });
    }
    let mut always = |_: &_| true;
    beyond::search(costs, &rules, wanted, &mut Watch::new(&mut always)).ok_or(WantedError::None)
}
