//! What a plan means.

use super::{STARTER, plan, small, told};
use quarterturn_geometry::check::Kind;
use quarterturn_geometry::cut::{Cuts, Easing, Edge, Reach};
use quarterturn_geometry::job::Job;
use quarterturn_geometry::layup::{Asked, Turn};
use quarterturn_geometry::measure::{Length, Unit};
use quarterturn_geometry::stock::{Blank, HalfTurn, LastStrip, Seen, StripSide};
use quarterturn_geometry::wood::{Colour, Wood};

fn job(text: &str) -> Job {
    plan(text).unwrap_or_else(|problems| panic!("{problems}\n{text}")).job
}

fn mm(mm: i64) -> Length {
    Length::from_micrometres(mm * 1000)
}

fn inch(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

#[test]
fn the_starter_means_what_it_says() {
    let job = job(STARTER);
    assert_eq!(job.name, "Walnut and maple");
    assert_eq!((job.saw.kerf, job.saw.lost_first, job.saw.waste_block), (inch("1/8"), inch("1/4"), inch("4")));
    assert!(job.saw.hold_down);
    assert_eq!((job.saw.last, job.saw.side), (LastStrip::Freed, StripSide::StopSide));
    let cnc = job.cnc.as_ref().unwrap();
    assert_eq!((cnc.travel, cnc.speed, cnc.ramp), ([inch("24"), inch("24"), inch("4")], 16_000, 10));
    assert_eq!(job.limits.short_chance, 0.05);
    let letters: Vec<&str> = job.panels[0].blanks.iter().map(|laid| laid.blank.letter.as_str()).collect();
    assert_eq!(letters, ["A", "B", "A2", "B2", "A3"]);
    let first = &job.panels[0].blanks[0].blank;
    assert_eq!((first.size.width, first.size.thickness), (inch("2 3/8"), inch("1 1/16")));
    assert_eq!((first.moisture, first.seen), (Some(7.5), Seen::BothEnds));
    assert_eq!(job.handholds.iter().map(|h| h.edge).collect::<Vec<_>>(), [Edge::Left, Edge::Right]);
    assert_eq!(job.handholds[0].bit, job.bits[0]);
    let eased = Some(Easing::RoundOver(inch("1/16")));
    assert_eq!((job.cuts.upper_rim, job.cuts.lower_rim), (eased, eased));
    let outcome = job.work();
    let findings = quarterturn_geometry::check::findings(&job, &outcome);
    assert!(findings.iter().all(|finding| finding.kind == Kind::Note), "{findings:#?}");
    let board = outcome.board.unwrap();
    let finished = board.finished();
    for (got, want) in [(finished.length, 13.5), (finished.width, 10.5), (finished.thickness, 1.375)] {
        assert!((got - want * 25.4).abs() < 1e-9, "{finished:?}");
    }
}

#[test]
fn a_small_plan_has_the_defaults_of_its_unit() {
    let job_in = |units: &str| job(&small(&format!("units = \"{units}\""), ""));
    let (inches, metric) = (job_in("inch"), job_in("millimetre"));
    assert_eq!((inches.saw.kerf, metric.saw.kerf), (inch("1/8"), Length::from_micrometres(3200)));
    assert_eq!((inches.limits.lip_least, metric.limits.lip_least), (inch("1/4"), mm(6)));
    assert_eq!((inches.rule.mark(), metric.rule.mark()), (inch("1/64"), Length::from_micrometres(500)));
    assert_eq!((inches.rule.unit(), metric.rule.unit()), (Unit::Inch, Unit::Millimetre));
    assert_eq!(inches.chord_tolerance, 0.02);
    assert_eq!((inches.name.as_str(), inches.panels[0].name.as_str()), ("Board", "1"));
    assert!(inches.cnc.is_none() && inches.cuts == Cuts::default() && inches.handholds.is_empty());
    // Milled sizes are taken as they are.
    assert_eq!(inches.blanks[0].size.width, mm(50));
    assert_eq!(inches.panels[0].snipe, [None, None]);
    assert_eq!(inches.panels[0].squaring, None);
}

#[test]
fn each_mention_takes_the_next_blank_and_one_too_many_is_told() {
    let text = small("", "").replace("[\"A\", \"A\", \"A\"]", "[\"A\", \"A\"]");
    let letters: Vec<String> = job(&text).blanks.iter().map(|blank| blank.letter.clone()).collect();
    assert_eq!(letters, ["A", "A2", "A3"], "the blank that isn't laid is there too");
    let text = small("", "[[panels]]\norder = [\"A\", \"A\"]\n[layup]\nrepeat = [{ panel = 1 }, { panel = 2 }]");
    assert_eq!(told(&text).len(), 1, "told once, not for every mention: {:?}", told(&text));
    assert_eq!(told(&text)[0].0, "panels.order.blank");
    let two = small("", "").replace("[\"A\", \"A\", \"A\"]", "[\"A\", \"A2\", \"A\"]");
    assert!(told(&two)[0].1.contains("write A: each mention of A takes the next"), "{:?}", told(&two));
}

#[test]
fn those_alike_show_the_same_but_are_not_the_same() {
    let blanks = job(&small("", "")).blanks;
    let figure = |blank: &Blank| format!("{:?}", blank.figure);
    assert_ne!(figure(&blanks[0]), figure(&blanks[1]));
    let seedless = |blank: &Blank| {
        let figure = figure(blank);
        let from = figure.find("pith: ").unwrap();
        figure[from..from + figure[from..].find("seed: ").unwrap()].to_owned()
    };
    assert_eq!(seedless(&blanks[0]), seedless(&blanks[1]));
    assert_eq!(figure(&blanks[0]), figure(&job(&small("", "")).blanks[0]), "the guess is the same each time");
    let other =
        job(&small("", "").replace("letter = \"A\"", "letter = \"B\"").replace("[\"A\", \"A\", \"A\"]", "[\"B\"]"));
    assert_ne!(seedless(&blanks[0]), seedless(&other.blanks[0]), "another letter is another guess");
    assert_eq!(blanks[0].seen, Seen::Nothing);
}

/// The first blank of a plan with this in its `[blanks.shows]`, and this before it.
fn shown(shows: &str, blank: &str) -> Blank {
    let with = format!(
        "count = 3\n{blank}\n[blanks.shows]\nseed = 5\n{shows}\n[[panels]]\neach_side = [\"2 mm\", \"3 mm\"]\neach_face = \"1 mm\""
    );
    job(&small("", "").replace("count = 3\n[[panels]]", &with)).blanks.swap_remove(0)
}

fn figure(blank: &Blank) -> String {
    format!("{:?}", blank.figure)
}

#[test]
fn a_pith_given_before_milling_is_moved_by_what_is_taken_off() {
    let rough = shown("given = \"rough\"\nnear = { pith = [\"12 mm\", \"-9 mm\"] }", "");
    let milled = shown("near = { pith = [\"10 mm\", \"-10 mm\"] }", "");
    assert_eq!(figure(&rough), figure(&milled));
    assert_eq!(rough.size, milled.size);
    // A rough blank is described before milling unless the plan says otherwise.
    let rough = shown("near = { pith = [\"12 mm\", \"-9 mm\"] }", "sizes = \"rough\"");
    assert_eq!((rough.size.width, rough.size.thickness, rough.size.length), (mm(45), mm(23), mm(600)));
    assert_eq!(figure(&rough), figure(&milled));
    let said = shown("given = \"milled\"\nnear = { pith = [\"10 mm\", \"-10 mm\"] }", "sizes = \"rough\"");
    assert_eq!(figure(&said), figure(&milled));
}

#[test]
fn one_end_runs_straight_and_two_wander() {
    let one = shown("far = { pith = [\"10 mm\", \"-10 mm\"], heartwood = \"30 mm\" }", "");
    assert_eq!((one.seen, one.figure.wander().norm()), (Seen::OneEnd, 0.0));
    let two = shown(
        "near = { pith = [\"4 mm\", \"-10 mm\"] }\nfar = { pith = [\"10 mm\", \"-10 mm\"], heartwood = \"30 mm\" }",
        "",
    );
    assert_eq!(two.seen, Seen::BothEnds);
    assert!((two.figure.wander().x - 6.0 / 600.0).abs() < 1e-15);
    // A heartwood line that is given at one end is the other's too.
    let both = shown(
        "near = { pith = [\"4 mm\", \"-10 mm\"], heartwood = \"30 mm\" }\nfar = { pith = [\"10 mm\", \"-10 mm\"], heartwood = \"30 mm\" }",
        "",
    );
    assert_eq!(figure(&two), figure(&both));
    let none = shown("near = { pith = [\"4 mm\", \"-10 mm\"] }", "");
    assert!(none.figure.beyond_heartwood(&[50.0, 25.0, 0.0].into()) < -1000.0, "all heartwood where no line is given");
}

#[test]
fn a_maker_adds_woods_and_other_colours() {
    let woods = "[[woods]]\nname = \"Plum\"\nheartwood = \"#80463a\"\nsapwood = \"#d8c3a0\"\n\
                 [[woods]]\nname = \"Black Walnut\"\nheartwood = \"#010203\"\nsapwood = \"#D8C3A0\"";
    let walnut = job(&small("", woods)).blanks.swap_remove(0);
    let known = Wood::named("black walnut").unwrap();
    assert_eq!(walnut.figure.wood().heartwood, Colour::from_srgb8([1, 2, 3]));
    assert_eq!(walnut.figure.wood().vessels, known.vessels, "its pores stay");
    let plum = job(&small("", woods).replace("wood = \"black walnut\"", "wood = \"plum\"")).blanks.swap_remove(0);
    assert_eq!(plum.figure.wood().sapwood, Colour::from_srgb8([0xd8, 0xc3, 0xa0]));
}

#[test]
fn blanks_are_turned_and_set_back() {
    let order = "order = [\"A\", { blank = \"A\", turn = \"end over end\", start = \"5 mm\" }, { blank = \"A\", quarter_roll = true }]";
    let square = small("", "").replace("order = [\"A\", \"A\", \"A\"]", order).replace("\"25 mm\"", "\"50 mm\"");
    let laid = &job(&square).panels[0].blanks;
    assert_eq!((laid[1].turn.half, laid[1].start), (HalfTurn::EndOverEnd, mm(5)));
    assert!(laid[2].turn.quarter_roll && !laid[1].turn.quarter_roll);
    let flat = square.replace("thickness = \"50 mm\"", "thickness = \"25 mm\"");
    assert_eq!(told(&flat).iter().map(|(key, _)| key.as_str()).collect::<Vec<_>>(), ["panels.order.quarter_roll"]);
}

#[test]
fn strips_are_numbered_from_one_and_panels_named() {
    let layup = "[layup]\nrepeat = [\"as cut\", { turn = \"rolled over\", stagger = \"-5 mm\" }]\nleft_out = [3, { strip = 7, panel = 1 }]";
    let Asked::Repeat { beats, left_out } = job(&small("", layup)).layup.asked else { panic!() };
    assert_eq!(left_out, [(0, 2), (0, 6)]);
    assert_eq!((beats[1].turn, beats[1].stagger), (Turn::RolledOver, mm(-5)));
    let places = "[layup]\nplaces = [2, { strip = 1, turn = \"end for end\" }]";
    let Asked::Places(places) = job(&small("", places)).layup.asked else { panic!() };
    assert_eq!(places.iter().map(|p| (p.strip, p.turn)).collect::<Vec<_>>(), [(1, Turn::AsCut), (0, Turn::EndForEnd)]);
}

#[test]
fn with_several_panels_each_entry_names_its_own() {
    let panels = |layup: &str| {
        small("", &format!("[[panels]]\nname = \"Q\"\norder = [\"A\"]\n{layup}"))
            .replace("[\"A\", \"A\", \"A\"]", "[\"A\", \"A\"]")
    };
    let Asked::Repeat { beats, .. } = job(&panels("")).layup.asked else { panic!() };
    assert_eq!(beats.iter().map(|beat| beat.panel).collect::<Vec<_>>(), [0, 1]);
    let named = job(&panels("[layup]\nrepeat = [{ panel = \"Q\" }, { panel = 1 }]"));
    let Asked::Repeat { beats, .. } = named.layup.asked else { panic!() };
    assert_eq!(beats.iter().map(|beat| beat.panel).collect::<Vec<_>>(), [1, 0]);
    let unnamed = told(&panels("[layup]\nrepeat = [\"as cut\"]"));
    assert_eq!(unnamed[0].1, "there are several panels, and none is named; add panel = …, one of 1, Q");
    let wrong = told(&panels("[layup]\nrepeat = [{ panel = \"R\" }]"));
    assert_eq!(wrong[0].1, "there is no panel R; the panels are 1, Q");
}

#[test]
fn mirror_pairs_follow_from_the_repeat() {
    let pairs = |layup: &str| job(&small("", layup)).layup.mirror_pairs;
    assert!(!pairs(""));
    assert!(pairs("[layup]\nrepeat = [\"as cut\", \"rolled over\"]"));
    assert!(!pairs("[layup]\nrepeat = [\"as cut\", \"as cut\"]"));
    assert!(!pairs("[layup]\nrepeat = [\"as cut\", \"rolled over\", \"as cut\"]"));
    assert!(!pairs("[layup]\nrepeat = [\"as cut\", \"rolled over\"]\nmirror_pairs = false"));
    assert!(pairs("[layup]\nplaces = [1, 2]\nmirror_pairs = true"));
}

/// One bit, and a handhold that says this.
fn handhold(says: &str) -> String {
    small("", &format!("[[bits]]\nname = \"bowl\"\ndiameter = \"18 mm\"\n[[handholds]]\n{says}"))
}

/// Setbacks stand in the order of an edge's own ends: for the left edge, back then front.
#[test]
fn setbacks_go_to_the_ends_they_name() {
    let reach = |says: &str| job(&handhold(says)).handholds.iter().map(|h| h.reach).collect::<Vec<_>>();
    let left = reach("edge = \"left\"\nsetback_front = \"40 mm\"\nsetback_back = \"60 mm\"");
    assert_eq!(left, [Reach::Setbacks([mm(60), mm(40)])]);
    let both = reach("edge = [\"front\", \"back\"]\nsetback = \"40 mm\"\nsetback_left = \"60 mm\"");
    assert_eq!(both, [Reach::Setbacks([mm(60), mm(40)]), Reach::Setbacks([mm(40), mm(60)])]);
    let stops = reach("edge = \"right\"\nright_hand_stop = \"90 mm\"\nleft_hand_stop = \"80 mm\"");
    assert_eq!(stops, [Reach::Stops { right_hand: mm(90), left_hand: mm(80) }]);
    assert_eq!(reach("edge = \"front\""), [Reach::Setbacks([inch("2"); 2])]);
}

#[test]
fn a_bit_reaches_as_deep_as_it_is_wide_unless_said() {
    let job = job(&handhold("edge = \"front\"\npasses = 4\nabove_lower_face = \"9 mm\""));
    assert_eq!((job.bits[0].reach, job.bits[0].flutes, job.bits[0].most_speed), (mm(18), 2, None));
    assert_eq!((job.handholds[0].passes, job.handholds[0].above_lower_face), (Some(4), Some(mm(9))));
}

#[test]
fn what_was_measured_finds_its_panel() {
    let measured = "[measured]\nboard_thickness = \"30 mm\"\nboard_length = \"240 mm\"\n[[measured.panels]]\n\
                    thickness = [\"24 mm\", \"25 mm\", \"26 mm\", \"27 mm\"]\nstrips = 9";
    let measured = job(&small("", measured)).measured;
    let corners = measured.panels[0].unwrap();
    assert_eq!(
        [corners.near_first, corners.near_last, corners.far_first, corners.far_last],
        [mm(24), mm(25), mm(26), mm(27)]
    );
    assert_eq!(
        (measured.strips[0], measured.board_thickness, measured.board_length),
        (Some(9), Some(mm(30)), Some(mm(240)))
    );
    let nothing = job(&small("", "")).measured;
    assert_eq!((nothing.panels.len(), nothing.strips), (1, vec![None]));
}

#[test]
fn trims_hold_for_each_edge_that_has_none_of_its_own() {
    let finishing = job(&small("", "[finishing]\ntrim = \"5 mm\"\ntrim_back = 0")).finishing;
    assert_eq!([finishing.left, finishing.right, finishing.front, finishing.back], [mm(5), mm(5), mm(5), mm(0)]);
}

#[test]
fn a_plan_of_a_later_format_is_not_read() {
    let problems = told("quarterturn = 2\nsomething_new = true\n");
    assert_eq!(problems.len(), 1);
    assert!(problems[0].1.contains("format 2"), "{problems:?}");
}
