//! A board made by hand: walnut with sapwood corners and maple, 14 strips in inches, two handholds,
//! a CNC.
#![allow(dead_code, clippy::unwrap_used)]

use nalgebra::Point2;
use quarterturn_geometry::board::{Board, Face, FaceOptions, FigureDrawn};
use quarterturn_geometry::check::{Finding, findings};
use quarterturn_geometry::cut::{Bit, Cuts, Easing, Edge, Handhold, Reach};
use quarterturn_geometry::job::*;
use quarterturn_geometry::layup::{Asked, Beat, Turn};
use quarterturn_geometry::measure::{Length, Rule, Unit};
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::path::{Cutting, Program};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::stock::*;
use quarterturn_geometry::wood::{EndRings, Figure, Rings, Wood};

/// A job and everything that follows from it.
pub struct Made {
    pub job: Job,
    pub outcome: Outcome,
    pub numbers: Numbers,
    pub findings: Vec<Finding>,
}

impl Made {
    pub fn of(job: Job) -> Self {
        let outcome = job.work();
        let numbers = Numbers::of(&job, &outcome);
        let findings = findings(&job, &outcome);
        Self { job, outcome, numbers, findings }
    }

    pub fn board(&self) -> &Board {
        self.outcome.board.as_ref().unwrap()
    }

    /// Every cut; the first has a program, the others none.
    pub fn programs(&self) -> Vec<(Cutting, Option<String>)> {
        let Ok(board) = &self.outcome.board else { return Vec::new() };
        let all = Cutting::all(&self.job.handholds, &self.job.cuts, &board.finished());
        all.into_iter().enumerate().map(|(i, c)| (c, (i == 0).then(|| "handhold-left.ngc".to_owned()))).collect()
    }

    pub fn program(&self, i: usize) -> Program {
        let cutting = Cutting::handhold(i, &self.job.handholds[i], &self.board().finished());
        Program::of(&cutting, self.job.cnc.as_ref().unwrap(), None).unwrap()
    }

    pub fn picture(&self, face: Face, pixel: f64) -> Picture {
        self.board()
            .picture(face, &FaceOptions { pixel, glue_lines: false, workers: 2, figure: FigureDrawn::Whole })
            .unwrap()
    }
}

pub fn inch(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

pub fn mm(text: &str) -> Length {
    Length::parse(text, Unit::Millimetre).unwrap()
}

fn blank(letter: &str, wood: &str, width: Length, thickness: Length, length: Length, seed: u64) -> Blank {
    let size = Size { width, thickness, length };
    let pith = |x: f64| Point2::new(x, -40.0);
    let rings = Rings {
        near: EndRings { pith: pith(-20.0), heartwood_radius: 78.0 },
        far: EndRings { pith: pith(-26.0), heartwood_radius: 78.0 },
        ring_width: 2.6,
        seed,
    };
    let figure = Figure::new(Wood::named(wood).unwrap(), rings, length.mm());
    Blank { letter: letter.into(), size, rough: None, figure, seen: Seen::BothEnds, rip: None, moisture: Some(7.0) }
}

fn machine(name: &'static str, widest: Length, shortest: Length) -> Machine {
    Machine { name, widest, shortest, pass: inch("1/32") }
}

pub fn bowl_bit() -> Bit {
    Bit {
        name: "bowl".into(),
        diameter: inch("3/4"),
        corner_radius: inch("1/8"),
        reach: inch("5/8"),
        flutes: 2,
        cuts_at_centre: false,
        most_speed: Some(18_000),
        chip_load: None,
        stick_out: None,
        eases: None,
    }
}

pub fn handhold(edge: Edge, depth: &str, setbacks: [&str; 2]) -> Handhold {
    Handhold {
        edge,
        bit: bowl_bit(),
        depth: inch(depth),
        reach: Reach::Setbacks(setbacks.map(inch)),
        above_lower_face: None,
        passes: None,
        width: None,
        rim: None,
    }
}

pub fn beats(turns: &[Turn]) -> Asked {
    let beats = turns.iter().map(|turn| Beat { panel: 0, turn: *turn, stagger: Length::ZERO }).collect();
    Asked::Repeat { beats, left_out: vec![] }
}

pub fn panel(name: &str, woods: &[(&str, &str, &str)], thickness: &str, length: &str) -> PanelAsked {
    let blanks = woods.iter().enumerate().map(|(i, (letter, wood, width))| LaidBlank {
        blank: blank(letter, wood, inch(width), inch(thickness), inch(length), 40 + i as u64),
        turn: BlankTurn::default(),
        start: Length::ZERO,
    });
    PanelAsked {
        name: name.into(),
        blanks: blanks.collect(),
        trued: [inch("1/16"); 2],
        planed: [inch("1/32"); 2],
        snipe: [None; 2],
        squaring: None,
        far_loss: Length::ZERO,
        count: None,
    }
}

/// 14 strips of 13/16, as cut and rolled over by turns.
pub fn job() -> Job {
    let woods = [
        ("A", "black walnut", "1 1/2"),
        ("B", "hard maple", "1"),
        ("A2", "black walnut", "2"),
        ("C", "hard maple", "3/4"),
        ("A3", "black walnut", "2"),
        ("B2", "hard maple", "1"),
        ("A4", "black walnut", "1 1/2"),
    ];
    Job {
        rim_bits: [None, None],
        surfacing: None,
        cut_out: None,
        name: "Walnut diamonds".into(),
        rule: Rule::inches(32).unwrap(),
        saw: Saw {
            kerf: inch("3/32"),
            lost_first: inch("1/4"),
            last: LastStrip::Left,
            side: StripSide::StopSide,
            accuracy: Accuracy {
                set: inch("1/64"),
                repeat: inch("0.004"),
                kerf: inch("0.002"),
                squaring: inch("1/32"),
                length: inch("1/32"),
            },
            hold_down: false,
            least_piece: inch("6"),
            waste_block: Length::ZERO,
        },
        machines: Machines {
            jointer: machine("jointer", inch("6"), inch("12")),
            planer: machine("planer", inch("12"), inch("14")),
            drum_sander: machine("drum sander", inch("16"), Length::ZERO),
        },
        router_table: RouterTable {
            pass: inch("1/8"),
            last_pass: inch("1/32"),
            least_edge: inch("9"),
            least_height: inch("4"),
        },
        plunge_router: PlungeRouter { base: inch("6"), guide_bush: None },
        cnc: Some(Cnc {
            travel: [inch("24"), inch("24"), inch("4")],
            clear_height: inch("14"),
            clamps: vec![],
            flat_clamps: vec![],
            nut: None,
            spindle: None,
            safe_height: inch("1/2"),
            step_down: None,
            speed: 16_000,
            least_speed: None,
            chip_load: Some(inch("0.002")),
            most_feed: inch("100"),
            rapid: inch("200"),
            acceleration: inch("10"),
            most_rim_speed: 40.0,
            ramp: 10,
            plunge: true,
            wall_pass: inch("1/64"),
            last_pass: Milling::Climb,
            widening: Milling::Conventional,
            written: Written::plain(Unit::Inch),
        }),
        limits: Limits {
            lip_least: inch("1/4"),
            lip_care: inch("5/16"),
            behind_floor: inch("1/8"),
            floor: inch("1/4"),
            flat: inch("1/8"),
            between_recesses: inch("1/2"),
            sliver: inch("1/4"),
            thin: inch("1"),
            thick: inch("2"),
            short_chance: 0.05,
            colour: quarterturn_geometry::wood::Threshold::default(),
            movement: inch("1/64"),
        },
        blanks: vec![],
        panels: vec![panel("P", &woods, "7/8", "23 1/2")],
        strips: StripsAsked { count: Some(14), width: Some(inch("1 1/2")), board_thickness: None },
        layup: LayupAsked { asked: beats(&[Turn::AsCut, Turn::RolledOver]), mirror_pairs: true },
        finishing: Finishing {
            upper: inch("1/16"),
            lower: inch("1/16"),
            left: inch("1/8"),
            right: inch("1/8"),
            front: inch("1/16"),
            back: inch("1/16"),
            least_length: None,
        },
        bits: vec![bowl_bit()],
        handholds: vec![handhold(Edge::Left, "1/4", ["2", "2 1/2"]), handhold(Edge::Right, "1/4", ["2", "2"])],
        cuts: Cuts {
            upper_rim: Some(Easing::RoundOver(inch("1/16"))),
            lower_rim: Some(Easing::RoundOver(inch("1/16"))),
            ..Cuts::default()
        },
        chord_tolerance: 0.02,
        gluing: quarterturn_geometry::glue::Gluing::default(),
        finish: quarterturn_geometry::finish::Finish::default(),
        pace: quarterturn_geometry::lumber::Pace::default(),
        rates: None,
        seasons: quarterturn_geometry::movement::Seasons::default(),
        measured: Measured::default(),
    }
}
