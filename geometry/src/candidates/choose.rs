//! The best of each kind, as different from one another as can be.

use super::kind::Kind;
use super::view::View;
use std::collections::HashSet;

/// Nearer than this two boards look alike, in thousandths of a byte (our own choice, by eye).
pub const EYE: u64 = 700;

/// What is chosen from.
pub(super) struct Choice<'a> {
    /// By aim: all lay-ups by their number, the best first.
    pub(super) by_aim: Vec<Vec<usize>>,
    /// The kind of each, and by which set its strips are slid: slid otherwise it is another kind.
    pub(super) kinds: Vec<(&'a Kind, usize)>,
    /// The plan's own, which stands on the sheet in any case.
    pub(super) own: Option<usize>,
    /// How each looks, worked out when it is asked for.
    pub(super) view: &'a dyn Fn(usize) -> View,
}

/// One that may stand on the sheet.
struct Asking {
    number: usize,
    view: View,
    /// From 1 (the best by some aim) down to 0.
    merit: f64,
    /// How far it looks from the nearest that stands.
    apart: u64,
}

impl Choice<'_> {
    /// Up to `show` lay-ups: the best by each aim, the plan's own and the best of each set of slides by the first aim, then
    /// those that look farthest from all taken. In the order of the first aim.
    pub(super) fn take(&self, show: usize) -> Vec<usize> {
        let mut asking = self.asking();
        let best = self.by_aim.iter().filter_map(|list| list.first().copied());
        let leaders: Vec<usize> = best.chain(self.own).chain(self.best_of_sets()).collect();
        let mut led = leaders.iter();
        let mut taken = Vec::new();
        while taken.len() < show {
            let leader = led.find(|leader| !taken.contains(*leader));
            let next = match leader.and_then(|leader| asking.iter().position(|a| a.number == *leader)) {
                Some(at) => at,
                None => {
                    let worth = |a: &Asking| a.apart as f64 * (0.5 + a.merit) * self.kinds[a.number].0.simple();
                    let far = asking.iter().enumerate().filter(|(_, a)| a.apart >= EYE);
                    let Some((at, _)) = far.max_by(|a, b| worth(a.1).total_cmp(&worth(b.1))) else { break };
                    at
                }
            };
            let one = asking.swap_remove(next);
            asking.iter_mut().for_each(|a| a.apart = a.view.apart(&one.view, a.apart));
            taken.push(one.number);
        }
        let place = |one: &usize| self.by_aim.first().and_then(|list| list.iter().position(|l| l == one));
        taken.sort_by_cached_key(place);
        taken
    }

    /// Of each set of slides the best by the first aim.
    fn best_of_sets(&self) -> Vec<usize> {
        let mut seen = HashSet::new();
        let first = self.by_aim.first().into_iter().flatten();
        first.filter(|number| seen.insert(self.kinds[**number].1)).copied().collect()
    }

    /// Of each kind the best by each aim.
    fn asking(&self) -> Vec<Asking> {
        let mut asking: Vec<Asking> = Vec::new();
        for list in &self.by_aim {
            let mut seen = HashSet::new();
            for (place, number) in list.iter().enumerate() {
                if !seen.insert(self.kinds[*number]) {
                    continue;
                }
                let merit = 1.0 - place as f64 / list.len() as f64;
                match asking.iter_mut().find(|a| a.number == *number) {
                    Some(a) => a.merit = a.merit.max(merit),
                    None => asking.push(Asking { number: *number, view: (self.view)(*number), merit, apart: u64::MAX }),
                }
            }
        }
        if let Some(own) = self.own.filter(|own| asking.iter().all(|a| a.number != *own)) {
            asking.push(Asking { number: own, view: (self.view)(own), merit: 0.0, apart: u64::MAX });
        }
        asking
    }
}
