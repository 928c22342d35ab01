//! The care card, to give with the board.

use super::{Flow, Shop};
use crate::words::Told;
use std::collections::BTreeSet;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("care-title");
    let woods: BTreeSet<String> = shop
        .outcome
        .panels
        .iter()
        .flat_map(|from| &from.panel.blanks)
        .map(|laid| shop.words.name("wood", &laid.blank.figure.wood().name))
        .collect();
    let woods = woods.into_iter().collect::<Vec<_>>().join(", ");
    flow.say("care-woods", &[("woods", Told::Word(&woods))]);
    flow.say(
        "care-size",
        &[
            ("length", Told::Figure(shop.shown("care.length"))),
            ("width", Told::Figure(shop.shown("care.width"))),
            ("thickness", Told::Figure(shop.shown("care.thickness"))),
            ("mass", Told::Figure(shop.shown("solid.mass"))),
        ],
    );
    let product = shop.words.name("product", shop.job.finish.product.name());
    flow.say("care-finish", &[("product", Told::Word(&product))]);
    for key in ["care-maker", "care-date"] {
        let text = shop.words.say(key);
        flow.blank(&text);
    }
    for key in ["care-wash", "care-dry", "care-both", "care-oil", "care-moves", "care-nuts"] {
        flow.say(key, &[]);
    }
}
