//! One handhold: on the router table where it may be lowered there, else with a plunge router; and the CNC's program.

use super::{Flow, Shop, flatten, set_up};
use crate::paper::text::Style;
use crate::wording::place;
use crate::words::Told;
use quarterturn_geometry::cut::{Cut, Edge, Handhold};
use quarterturn_geometry::path::RouterSetup;

/// The lowest upright wall that a bearing is run along, mm (common practice, no source).
pub(super) const LEAST_WALL: f64 = 3.0;

/// Less than this nobody measures, mm.
const TOLD_FROM: f64 = 0.02;

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
        let easing = shop.words.name("easing", rim.name());
        let told = [("easing", Told::Word(&easing)), ("size", Told::Set(bench.shown("rim")))];
        let bears = hold.profile().upright() >= LEAST_WALL;
        flow.step(if bears { "handhold-rim" } else { "handhold-rim-by-hand" }, &told);
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
        if self.hold.bit.cuts_at_centre {
            flow.say("handhold-bit-centre", &[]);
        }
        let figure = |name: &str| self.shop.figure(&self.key(name));
        let mut rows = vec![
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
        flow.pairs(&rows);
        flow.small("handhold-lips-say", &[]);
    }

    /// The name of a place's number, and the place where there is more than one.
    fn places(&self) -> Vec<(String, Option<String>)> {
        match self.setup.fences.len() {
            1 => vec![("fence".to_owned(), None)],
            many => (0..many).map(|k| (format!("fence {}", k + 1), Some(place(k)))).collect(),
        }
    }

    /// A row's name, with the fence's place where there is more than one.
    fn at_place(&self, key: &str, place: Option<&String>) -> String {
        match place {
            None => self.shop.words.say(key),
            Some(place) => self.shop.words.with(&format!("{key}-place"), &[("place", Told::Word(place))]),
        }
    }

    fn heights(&self, height: &str) -> Vec<(String, String)> {
        let row = |pass: usize| {
            let name = self.shop.words.with(height, &[("pass", Told::Count(pass))]);
            (name, self.set(&format!("height {pass}")))
        };
        (1..=self.setup.heights.len()).map(row).collect()
    }

    /// A bit that doesn't cut at its centre goes into a hole.
    fn bored(&self, flow: &mut Flow) {
        if self.hold.bit.cuts_at_centre {
            return;
        }
        flow.caution("dead-centre");
        let left = self.setup.left_hand_end.name();
        let corner = self.shop.words.name("corner", left);
        let first = self.places().first().map_or_else(String::new, |(name, _)| name.clone());
        let told = [
            ("across", Told::Figure(self.shown("starting hole"))),
            ("depth", Told::Figure(self.shown("starting hole depth"))),
            ("end", Told::Word(&corner)),
            ("along", Told::Figure(self.shown(&format!("bit from {left}")))),
            ("up", Told::Figure(self.shown(&format!("{first} unsanded")))),
        ];
        flow.step("handhold-bore", &told);
    }

    fn router_table(&self, flow: &mut Flow) {
        let say = |key: &str| self.shop.words.say(key);
        let several = self.setup.fences.len() > 1;
        flow.heading("table-title");
        let planned = Told::Figure(self.shown("edge length"));
        let hangs = self.shop.words.with("measure-edge-hangs", &[("planned", planned)]);
        flow.measured(&say("measure-edge"), &hangs);
        self.thickness(flow);
        if several {
            let last = place(self.setup.fences.len() - 1);
            flow.say("table-places", &[("last", Told::Word(&last))]);
            flow.caution("climb-cut");
        }
        flow.caution_told("starting-stop", &[("high", Told::Figure(self.shown("auxiliary fence")))]);
        flow.step("table-set", &[("long", Told::Figure(self.shown("block to block")))]);
        let both = |name: String, key: &str| vec![name, self.set(key), self.set(&format!("{key} from nearer edge"))];
        let mut rows =
            vec![both(say("table-right-stop"), "right-hand stop"), both(say("table-left-stop"), "left-hand stop")];
        for (name, place) in self.places() {
            rows.push(both(self.at_place("table-fence", place.as_ref()), &format!("{name} unsanded")));
        }
        let head = ["table-what", "table-from-centre", "table-from-nearer"].map(say);
        flow.table(&head, &rows, Style::of(11.0));
        flow.settings(&self.heights("table-height"));
        let figure = |name: &str| self.shop.figure(&self.key(name));
        flow.together(|flow| set_up::across(self.shop, self.hold, self.setup, &figure, flow));
        flow.together(|flow| {
            set_up::above(self.shop, self.hold, self.setup, &figure, flow);
            flow.small(if several { "drawn-above-moved" } else { "drawn-above" }, &[]);
        });
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
        flow.caution("foot-switch");
        self.bored(flow);
        let bored = if self.hold.bit.cuts_at_centre { String::new() } else { say("table-scrap-bored") };
        let mut told = vec![
            ("bored", Told::Word(&bored)),
            ("below", Told::Figure(self.shown("lip below unsanded"))),
            ("above", Told::Figure(self.shown("lip above unsanded"))),
            ("high", Told::Figure(self.shown("auxiliary fence"))),
            ("deep", Told::Figure(self.shown("depth"))),
            ("first", Told::Figure(one)),
            ("second", Told::Figure(other)),
        ];
        let last = place(self.setup.fences.len() - 1);
        told.push(("last", Told::Word(&last)));
        flow.step(if several { "table-scrap-places" } else { "table-scrap" }, &told);
        flow.step(if several { "table-reset-places" } else { "table-reset" }, &[]);
        let edge = self.shop.words.name("edge", self.hold.edge.name());
        let left = self.shop.words.name("end", self.setup.left_hand_end.name());
        let right = self.hold.edge.ends().into_iter().find(|end| *end != self.setup.left_hand_end);
        let right = self.shop.words.name("end", right.map_or("", Edge::name));
        let told = [("edge", Told::Word(&edge)), ("left", Told::Word(&left)), ("right", Told::Word(&right))];
        flow.step("table-lower", &told);
        flow.caution("plunge-onto-bit");
        flow.step("table-feed", &[]);
        flow.step("table-off", &[]);
        flow.step("table-next", &[]);
        if several {
            flow.step("table-wider", &[("cusp", Told::Figure(self.shown("cusp")))]);
            if !self.shown("ridge").is_empty() {
                flow.say("table-ridge", &[("ridge", Told::Figure(self.shown("ridge")))]);
            }
        }
        if self.setup.over_cut > TOLD_FROM {
            flow.small("table-over-cut", &[("over", Told::Figure(self.shown("over-cut")))]);
        }
    }

    /// What hangs on the board's thickness as it came out.
    fn thickness(&self, flow: &mut Flow) {
        let words = self.shop.words;
        let bored = if self.hold.bit.cuts_at_centre { String::new() } else { words.say("measure-thick-bored") };
        let told =
            [("planned", Told::Figure(self.shop.shown(&flatten::leaves(self.shop)))), ("bored", Told::Word(&bored))];
        let hangs = if self.setup.may_be_lowered { "measure-thick-fence" } else { "measure-thick-by-hand" };
        flow.measured(&words.say("measure-board"), &words.with(hangs, &told));
    }

    fn plunge_router(&self, flow: &mut Flow) {
        flow.heading("plunge-title");
        self.thickness(flow);
        if self.setup.fences.len() > 1 {
            let last = place(self.setup.fences.len() - 1);
            flow.say("plunge-places", &[("last", Told::Word(&last))]);
        }
        flow.step("plunge-set", &[]);
        let mut rows: Vec<(String, String)> = Vec::new();
        for end in self.hold.edge.ends() {
            rows.push((self.at_end("plunge-stop", end.name()), self.set(&format!("bit from {}", end.name()))));
        }
        for (name, place) in self.places() {
            rows.push((self.at_place("plunge-across", place.as_ref()), self.set(&format!("{name} unsanded"))));
        }
        rows.extend(self.heights("plunge-depth"));
        flow.settings(&rows);
        self.bored(flow);
        flow.caution("plunge-router");
        flow.caution("feed-by-hand");
    }
}
