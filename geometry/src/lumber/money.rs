//! What a board costs, and a price by a stated formula. The currency is the maker's.

use super::{BOARD_FOOT, Lumber, Spent};
use crate::finish::Quantity;

/// What the maker pays and wants. All amounts are in the maker's currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    /// Its sign or name, shown before the amount.
    pub currency: String,
    /// Wood that has no price of its own, a board foot.
    pub wood: f64,
    /// Woods that have, by name, a board foot.
    pub woods: Vec<(String, f64)>,
    /// Glue, a kilogram.
    pub glue: f64,
    /// Oil or what else it is finished with, a litre.
    pub finish: f64,
    /// Abrasives for one board.
    pub abrasives: f64,
    /// The maker's hour.
    pub hour: f64,
    /// Rent, power, blades: a share of all of that.
    pub overhead: f64,
    /// The maker's profit: a share of all of that and the overhead.
    pub profit: f64,
}

/// What one board costs, each amount in whole hundredths, so that they add up as they are shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// All the wood that is bought, rough.
    pub wood: f64,
    /// Both glue-ups.
    pub glue: f64,
    /// Oil for both faces.
    pub finish: f64,
    /// As given.
    pub abrasives: f64,
    /// Hands-on hours × the hour.
    pub work: f64,
    /// (wood + glue + finish + abrasives + work) × overhead.
    pub overhead: f64,
    /// All of that × profit.
    pub profit: f64,
}

impl Cost {
    /// Of one board: `glue` in kg; the most oil that it may take.
    #[must_use]
    pub fn of(rates: &Rates, lumber: &Lumber, glue: f64, oil: Quantity, spent: &Spent) -> Self {
        let price = |wood: &str| rates.woods.iter().find(|(name, _)| name == wood).map_or(rates.wood, |(_, p)| *p);
        let wood: f64 = lumber.bought.iter().map(|(name, volume)| volume / BOARD_FOOT * price(name)).sum();
        let [wood, glue, finish] = [wood, glue * rates.glue, oil.most * rates.finish].map(paid);
        let (abrasives, work) = (paid(rates.abrasives), paid(spent.total().0 / 60.0 * rates.hour));
        let direct = wood + glue + finish + abrasives + work;
        let overhead = paid(direct * rates.overhead);
        let profit = paid((direct + overhead) * rates.profit);
        Self { wood, glue, finish, abrasives, work, overhead, profit }
    }

    /// Without profit.
    #[must_use]
    pub fn cost(&self) -> f64 {
        self.wood + self.glue + self.finish + self.abrasives + self.work + self.overhead
    }

    /// (wood + glue + finish + abrasives + work) × (1 + overhead) × (1 + profit).
    #[must_use]
    pub fn price(&self) -> f64 {
        self.cost() + self.profit
    }
}

/// To the nearest hundredth.
fn paid(amount: f64) -> f64 {
    (amount * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::glue::Minutes;
    use crate::lumber::Work;

    /// Four board feet of maple at 8 and two of walnut at 14; 0.1 kg of glue at 10, 0.2 L of oil at 20; 4 of
    /// abrasives; five hours at 30; a tenth overhead, a fifth profit: by hand 32 + 28 + 1 + 4 + 4 + 150 = 219, × 1.1
    /// = 240.9, × 1.2 = 289.08.
    #[test]
    fn a_price_by_hand() {
        let lumber = Lumber {
            woods: vec![],
            bought: vec![("hard maple".into(), 4.0 * BOARD_FOOT), ("black walnut".into(), 2.0 * BOARD_FOOT)],
            wasted: [0.0; 9],
            board: 0.0,
            off_cuts: vec![],
        };
        let rates = Rates {
            currency: "$".into(),
            wood: 8.0,
            woods: vec![("black walnut".into(), 14.0)],
            glue: 10.0,
            finish: 20.0,
            abrasives: 4.0,
            hour: 30.0,
            overhead: 0.1,
            profit: 0.2,
        };
        let spent = Spent { stages: vec![(Work::Sawing, Minutes(200.0)), (Work::Sanding, Minutes(100.0))] };
        let cost = Cost::of(&rates, &lumber, 0.1, Quantity { least: 0.1, most: 0.2 }, &spent);
        assert!((cost.cost() - 240.9).abs() < 1e-9 && (cost.price() - 289.08).abs() < 1e-9, "{cost:?}");
    }
}
