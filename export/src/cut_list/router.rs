//! One handhold: on the router table where it may be lowered there, else with a plunge router; and
//! the CNC's program.

use super::{Paper, Sheet};
use quarterturn_geometry::cut::{Cut, Edge, Handhold};
use quarterturn_geometry::path::RouterSetup;
use quarterturn_geometry::solid::{LeastLip, Neighbours};

pub(super) fn handhold(sheet: &Sheet, i: usize, paper: &mut Paper) {
    let (Ok(board), Some(hold)) = (&sheet.outcome.board, sheet.job.handholds.get(i)) else { return };
    let setup = RouterSetup::of(hold, &board.finished(), &sheet.job.router_table);
    let bench = Bench { sheet, i, hold, setup: &setup };
    paper.title(&hold.name());
    bench.recess(paper);
    if setup.may_be_lowered {
        bench.router_table(paper)
    } else {
        bench.plunge_router(paper)
    }
    bench.rim(paper);
    if let Some(says) = sheet.on_the_cnc(Cut::Handhold(i)) {
        paper.say(0, &says);
    }
}

struct Bench<'a> {
    sheet: &'a Sheet<'a>,
    i: usize,
    hold: &'a Handhold,
    setup: &'a RouterSetup,
}

impl Bench<'_> {
    fn shown(&self, name: &str) -> &str {
        self.sheet.shown(&format!("handhold.{}.{name}", self.i + 1))
    }

    fn recess(&self, paper: &mut Paper) {
        let [first, second] = self.hold.edge.ends().map(Edge::name);
        let setback = |end: &str| format!("{} from the {end} corner", self.shown(&format!("setback {end}")));
        let corner = if self.hold.bit.corner_radius.is_positive() {
            format!("corner radius {}", self.shown("bit corner radius"))
        } else {
            "square end".to_owned()
        };
        let mut rows = vec![
            ("edge", format!("{} long, finished", self.shown("edge length"))),
            ("bit", format!("{}: {} across, {corner}", self.hold.bit.name, self.shown("bit diameter"))),
            (
                "recess",
                format!("{} deep, {} wide, {} long", self.shown("depth"), self.shown("width"), self.shown("length")),
            ),
            ("its ends", format!("{}, {}", setback(first), setback(second))),
            ("lips", format!("{} below, {} above", self.shown("lip below"), self.shown("lip above"))),
        ];
        if let (Ok(board), job) = (&self.sheet.outcome.board, self.sheet.job)
            && let size = board.finished()
            && let all = Neighbours::of(&size, &job.handholds, &job.cuts)
            && let Some(lip) = LeastLip::of(&all, &size, &job.handholds, &job.cuts, self.i)
        {
            rows.push(("least lip", format!("{}, to the {}", self.shown("least lip"), lip.to)));
        }
        if let Some(rim) = self.hold.rim {
            rows.push(("rim", format!("{} of {}, when the recess is done", rim.name(), self.shown("rim"))));
        }
        paper.rows(&rows);
    }

    /// The fence's distances, in the order of the passes.
    fn fences(&self) -> String {
        match self.setup.fences.len() {
            0 | 1 => self.shown("fence").to_owned(),
            n => {
                let all: Vec<&str> = (1..=n).map(|pass| self.shown(&format!("fence {pass}"))).collect();
                all.join(", then ")
            }
        }
    }

    fn is_wider(&self) -> bool {
        self.setup.fences.len() > 1
    }

    /// What a recess wider than its bit asks for beside one pass.
    fn widening(&self, paper: &mut Paper) {
        paper.say(
            3,
            "This recess is wider than the bit: all heights at the first fence, then router unplugged, the fence moved \
             away to the next distance, and all heights again.",
        );
        paper.caution(
            "Never the other order, and never toward the bit: fed from right to left that is a climb cut, which pulls \
             the board out of your hands. After the first pass nothing presses the board to the fence but a feather board.",
        );
        paper.say(
            3,
            &format!("Where two passes meet, {} is left standing at both ends: sand it off.", self.shown("cusp")),
        );
    }

    /// The rim, last of all.
    fn rim(&self, paper: &mut Paper) {
        let Some(rim) = self.hold.rim else { return };
        paper.say(
            0,
            &format!(
                "Rim, when the recess is done: a {} bit whose bearing runs along the recess's wall, {} in light passes, \
                 moved clockwise round the inside as you look onto the edge, the board clamped upright between two \
                 squared boards that carry the router; or by hand, with a file and paper.",
                rim.name(),
                self.shown("rim")
            ),
        );
    }

    fn heights(&self) -> String {
        let all: Vec<&str> = (1..=self.setup.heights.len()).map(|pass| self.shown(&format!("height {pass}"))).collect();
        all.join(", ")
    }

    fn router_table(&self, paper: &mut Paper) {
        let (edge, left) = (self.hold.edge.name(), self.setup.left_hand_end.name());
        let stop = |name: &str| {
            let nearer = self.shown(&format!("{name} from nearer edge"));
            format!("{} from the bit's centre, {nearer} from its nearer edge", self.shown(name))
        };
        paper.say(0, "On the router table:");
        paper.item(
            "1.",
            "Set fence and blocks, router unplugged. You stand in front, the fence lies beyond the bit. Nearer edge: at \
             the table's surface, the bit at full height, its cutting edge turned toward the block.",
        );
        paper.rows(&[
            ("fence", format!("{} from the bit's centre", self.fences())),
            ("right-hand block (starting stop)", stop("right-hand stop")),
            ("left-hand block", stop("left-hand stop")),
            ("bit's height, pass by pass", self.heights()),
        ]);
        paper.caution(
            "The starting stop is low, its lower edge chamfered for chips: the raised board's upper corner swings \
             into a high one. A tall auxiliary fence carries the board.",
        );
        paper.item(
            "2.",
            "Try it on scrap as thick as the finished board, its edge as long and not narrow: never on a loose strip.",
        );
        paper.item(
            "3.",
            &format!(
                "Board on its {edge} edge, lower face against the fence, show face toward you: its {left} end is then at \
                 your left hand. Right end against the starting stop, left end raised; router on; lower the board onto \
                 the bit, hands at the two ends.",
            ),
        );
        if !self.hold.bit.cuts_at_centre {
            paper.caution("This bit does not cut at its centre: start moving as the board comes down.");
        }
        paper.item("4.", "Feed from right to left, never back, to the left-hand block.");
        paper.caution("Hands stay at the two ends, never over the cut or behind it.");
        paper.item(
            "5.",
            "At the left-hand block hold still, switch off by foot or knee, wait until the bit stands, lift.",
        );
        paper.item("6.", "Unplug, raise the bit for the next pass, and begin again at the starting stop.");
        if self.is_wider() {
            self.widening(paper);
        }
        let over = self.shown("over-cut");
        paper.say(
            3,
            &format!(
                "Lowering by pivoting cuts the recess's start longer by {over} at most; lowered level, by nothing."
            ),
        );
    }

    fn plunge_router(&self, paper: &mut Paper) {
        paper.say(
            0,
            "Not on the router table: this edge is too short, or the board too low on it, to be lowered onto a turning \
             bit. Plunge router instead: the board clamped upright between two squared boards, their upper edges level \
             with its own, a stop for the router at each end.",
        );
        let [first, second] = self.hold.edge.ends().map(Edge::name);
        let centre = |end: &str| format!("{} from the {end} corner", self.shown(&format!("bit from {end}")));
        paper.rows(&[
            ("bit's centre stops", format!("{} and {}", centre(first), centre(second))),
            ("across the thickness", format!("{} from the lower face", self.fences())),
            ("depth, pass by pass", self.heights()),
        ]);
        paper.caution("Let the bit stop before the router is lifted; clamps clear of the router's base all along.");
        if !self.hold.bit.cuts_at_centre {
            paper.caution("This bit does not cut at its centre: move along as it goes down.");
        }
    }
}
