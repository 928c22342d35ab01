//! Sanding and finish, and what the board is then.

use super::{Flow, Shop};
use crate::words::Told;

pub(super) fn sheet(shop: &Shop, flow: &mut Flow) {
    flow.sheet("finish-title");
    flow.heading("sand-title");
    for key in ["sand-80", "sand-120", "sand-180", "sand-wet", "sand-220"] {
        flow.step(key, &[]);
    }
    flow.caution("dust");
    flow.heading("oil-title");
    for key in ["oil-choose", "oil-coats", "oil-wax"] {
        flow.step(key, &[]);
    }
    flow.caution("rags");
    flow.caution("food");
    flow.heading("weigh-title");
    flow.say(
        "weigh-says",
        &[
            ("mass", Told::Figure(shop.shown("solid.mass"))),
            ("volume", Told::Figure(shop.shown("solid.volume"))),
            ("area", Told::Figure(shop.shown("solid.area"))),
        ],
    );
}
