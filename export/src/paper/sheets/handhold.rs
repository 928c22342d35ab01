//! One handhold: on the router table where it may be lowered there, else with a plunge router; and the CNC's program.

use super::{Flow, Shop, set_up};
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Edge, Handhold};
use quarterturn_geometry::path::RouterSetup;

pub(super) fn sheet(shop: &Shop, i: usize, flow: &mut Flow) {
    let hold = &shop.job.handholds[i];
    let setup = RouterSetup::of(hold, &shop.board.finished(), &shop.job.router_table);
    let bench = Bench { shop, i, hold, setup: &setup };
    let edge = shop.words.name("edge", hold.edge.name());
    flow.sheet_of(shop.words.with("handhold-title", &[("edge", Told::Word(&edge))]));
    bench.recess(flow);
    if setup.may_be_lowered {
        bench.router_table(flow);
    } else {
        bench.plunge_router(flow);
    }
    if let Some(rim) = hold.rim {
        let told =
            [("easing", Told::Word(&shop.words.name("easing", rim.name()))), ("size", Told::Set(bench.shown("rim")))];
        flow.step("handhold-rim", &told);
    }
    let Some(says) = shop.on_the_cnc(Cut::Handhold(i)) else { return };
    flow.together(|flow| {
        flow.heading("cnc-title");
        flow.step_of(&says);
    });
}

struct Bench<'a> {
    shop: &'a Shop<'a>,
    i: usize,
    hold: &'a Handhold,
    setup: &'a RouterSetup,
}

impl Bench<'_> {
    fn key(&self, name: &str) -> String {
        format!("handhold.{}.{name}", self.i + 1)
    }

    fn shown(&self, name: &str) -> &str {
        self.shop.shown(&self.key(name))
    }

    fn set(&self, name: &str) -> String {
        self.shop.set(&self.key(name))
    }

    fn at_end(&self, key: &str, end: &str) -> String {
        let end = self.shop.words.name("corner", end);
        self.shop.words.with(key, &[("end", Told::Word(&end))])
    }

    fn recess(&self, flow: &mut Flow) {
        let say = |key: &str| self.shop.words.say(key);
        flow.say(
            "handhold-bit",
            &[
                ("bit", Told::Word(&self.hold.bit.name)),
                ("across", Told::Figure(self.shown("bit diameter"))),
                ("corner", Told::Figure(self.shown("bit corner radius"))),
            ],
        );
        let figure = |name: &str| self.shop.figure(&self.key(name));
        let mut rows = vec![
            (say("handhold-edge-length"), figure("edge length")),
            (say("handhold-depth"), figure("depth")),
            (say("handhold-width"), figure("width")),
            (say("handhold-length"), figure("length")),
        ];
        if self.hold.rim.is_some() {
            rows.push((say("handhold-opening"), figure("opening")));
        }
        rows.extend([
            (say("handhold-lip-above"), figure("lip above")),
            (say("handhold-lip-below"), figure("lip below")),
        ]);
        for end in self.hold.edge.ends() {
            let name = end.name();
            rows.push((self.at_end("handhold-setback", name), figure(&format!("setback {name}"))));
        }
        flow.pairs(&rows);
    }

    /// The fence's distances and the bit's heights, in the order of the passes.
    fn fences_and_heights(&self, fence: &str, height: &str) -> Vec<(String, String)> {
        let mut rows = Vec::new();
        if self.setup.fences.len() > 1 {
            for pass in 1..=self.setup.fences.len() {
                rows.push((
                    self.shop.words.with(&format!("{fence}-pass"), &[("pass", Told::Count(pass))]),
                    self.set(&format!("fence {pass}")),
                ));
            }
        } else {
            rows.push((self.shop.words.say(fence), self.set("fence")));
        }
        for pass in 1..=self.setup.heights.len() {
            rows.push((
                self.shop.words.with(height, &[("pass", Told::Count(pass))]),
                self.set(&format!("height {pass}")),
            ));
        }
        rows
    }

    fn router_table(&self, flow: &mut Flow) {
        let say = |key: &str| self.shop.words.say(key);
        flow.heading("table-title");
        let planned = Told::Figure(self.shown("edge length"));
        let hangs = self.shop.words.with("measure-edge-hangs", &[("planned", planned)]);
        flow.measured(&say("measure-edge"), &hangs);
        flow.step("table-set", &[]);
        let mut rows = vec![
            (say("table-right-stop"), self.set("right-hand stop")),
            (say("table-right-stop-nearer"), self.set("right-hand stop from nearer edge")),
            (say("table-left-stop"), self.set("left-hand stop")),
            (say("table-left-stop-nearer"), self.set("left-hand stop from nearer edge")),
        ];
        rows.extend(self.fences_and_heights("table-fence", "table-height"));
        flow.settings(&rows);
        let figure = |name: &str| self.shop.figure(&self.key(name));
        if self.shop.job.finish.left_for_sanding.is_positive() {
            let sanding = self.shop.shown("sanding.left for it");
            flow.small("table-unsanded", &[("more", Told::Figure(sanding))]);
        }
        flow.together(|flow| {
            set_up::above(self.shop, self.hold, self.setup, &figure, flow);
            flow.small(if self.setup.fences.len() > 1 { "drawn-above-moved" } else { "drawn-above" }, &[]);
        });
        flow.together(|flow| set_up::across(self.shop, self.hold, self.setup, &figure, flow));
        flow.caution("starting-stop");
        let setbacks = self.hold.edge.ends().map(|end| (end, self.shown(&format!("setback {}", end.name()))));
        let [(first, one), (second, other)] = setbacks;
        let [first, second] = [first, second].map(|end| self.shop.words.name("corner", end.name()));
        let told = [
            ("left", Told::Word(&first)),
            ("first", Told::Figure(one)),
            ("right", Told::Word(&second)),
            ("second", Told::Figure(other)),
        ];
        flow.step("table-marks", &told);
        flow.step("table-scrap", &[]);
        let edge = self.shop.words.name("edge", self.hold.edge.name());
        let left = self.shop.words.name("end", self.setup.left_hand_end.name());
        let right = self.hold.edge.ends().into_iter().find(|end| *end != self.setup.left_hand_end);
        let right = self.shop.words.name("end", right.map_or("", Edge::name));
        let told = [("edge", Told::Word(&edge)), ("left", Told::Word(&left)), ("right", Told::Word(&right))];
        flow.step("table-lower", &told);
        flow.caution("plunge-onto-bit");
        if !self.hold.bit.cuts_at_centre {
            flow.caution("dead-centre");
        }
        flow.step("table-feed", &[]);
        flow.step("table-off", &[]);
        flow.step("table-next", &[]);
        if self.setup.fences.len() > 1 {
            flow.step("table-wider", &[("cusp", Told::Figure(self.shown("cusp")))]);
            flow.caution("climb-cut");
        }
        flow.small("table-over-cut", &[("over", Told::Figure(self.shown("over-cut")))]);
    }

    fn plunge_router(&self, flow: &mut Flow) {
        flow.heading("plunge-title");
        flow.step("plunge-set", &[]);
        let mut rows: Vec<(String, String)> = Vec::new();
        for end in self.hold.edge.ends() {
            rows.push((self.at_end("plunge-stop", end.name()), self.set(&format!("bit from {}", end.name()))));
        }
        rows.extend(self.fences_and_heights("plunge-across", "plunge-depth"));
        flow.settings(&rows);
        flow.caution("plunge-router");
        if !self.hold.bit.cuts_at_centre {
            flow.caution("dead-centre");
        }
    }
}
