//! Laws that hold for every sample: nothing of the wood is lost sight of, steps add up, what is printed is safe.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use quarterturn_geometry::glue::{GlueUp, at_once};
use quarterturn_geometry::job::{Job, Outcome};
use quarterturn_geometry::lumber::{Lumber, Waste};
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::mend::{Mishap, WayOut, ways_out};
use quarterturn_geometry::numbers::Numbers;
use quarterturn_geometry::thickness::Steps;
use std::path::PathBuf;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn job(text: &str) -> (Job, Outcome) {
    let job = quarterturn::plan::read(text, "plan.toml").unwrap_or_else(|p| panic!("{p}")).job;
    let outcome = job.work();
    (job, outcome)
}

fn text(plan: &str) -> String {
    std::fs::read_to_string(root().join(plan)).unwrap()
}

const SAMPLES: [&str; 6] = [
    "samples/walnut-diamonds.toml",
    "samples/ash-chevrons.toml",
    "samples/brick-bond.toml",
    "samples/maple-every-cut.toml",
    "samples/cherry-by-cnc.toml",
    "tests/plans/taper-fans-the-board.toml",
];

#[test]
fn what_goes_in_is_in_the_board_or_in_one_kind_of_waste() {
    for sample in SAMPLES {
        let (job, outcome) = job(&text(sample));
        let lumber = Lumber::of(&job, &outcome).unwrap_or_else(|| panic!("{sample}"));
        let found = lumber.board + lumber.wasted.iter().sum::<f64>();
        assert!((found - lumber.used()).abs() < 1e-9 * lumber.used(), "{sample}: {found} of {}", lumber.used());
        assert!(lumber.kept() > 0.2 && lumber.kept() < 1.0, "{sample}: {}", lumber.kept());
        for waste in Waste::ALL {
            assert!(
                lumber.lost(waste) > -1e-6 || outcome.panels.iter().any(|p| p.panel.measured.is_some()),
                "{sample}: {waste:?} {}",
                lumber.lost(waste)
            );
        }
    }
}

#[test]
fn steps_end_at_the_panel_s_and_the_board_s_thickness() {
    for sample in SAMPLES {
        let (job, outcome) = job(&text(sample));
        let steps = Steps::of(&job, &outcome);
        for (panel, from) in steps.panels.iter().zip(&outcome.panels) {
            let last = panel.steps.last().unwrap().leaves;
            assert_eq!(last, panel.measured.map_or(from.panel.thickness(), |_| last), "{sample}");
            for pair in panel.steps.windows(2) {
                assert_eq!(pair[0].leaves - pair[1].takes, pair[1].leaves, "{sample}");
            }
        }
        let finished = outcome.width - job.finishing.upper - job.finishing.lower;
        assert_eq!(steps.board.last().unwrap().leaves, finished, "{sample}");
        let length = outcome.board.as_ref().unwrap().finished().length;
        assert!((steps.length.mm() - length).abs() < 1e-6, "{sample}: {} for {length}", steps.length.mm());
    }
}

#[test]
fn every_go_fits_the_working_time_and_the_largest_joint_sets_the_force() {
    for sample in SAMPLES {
        let (job, outcome) = job(&text(sample));
        let glue_up = GlueUp::of_board(outcome.board.as_ref().unwrap(), &job.gluing);
        assert!(glue_up.stages.iter().all(|s| s.joints() <= at_once(&job.gluing) && s.takes <= job.gluing.working));
        let clamps = glue_up.clamps.unwrap();
        assert!((clamps.force.0 - glue_up.pressure.0 * 1e-3 * glue_up.largest()).abs() < 1e-6);
        assert!(clamps.count as f64 * job.gluing.clamp_force.0 >= clamps.force.0);
    }
}

#[test]
fn how_much_may_be_planed_keeps_the_length_and_a_mark_more_does_not() {
    let plan =
        text("tests/plans/board-shorter-than-asked.toml").replace("least_length = \"12\"", "least_length = \"10 5/8\"");
    let (job, outcome) = job(&plan);
    let steps = Steps::of(&job, &outcome);
    // 14 × (7/8 − 1/16 planed) − 1/2 = 10 7/8 in: 1/4 to spare, 1/56 in a strip.
    assert_eq!(steps.spare_length, Some(Length::from_inch_fraction(1, 4)));
    let spare = steps.panels[0].spare.unwrap();
    assert_eq!(spare, Length::from_inch_fraction(1, 4).divided_by(14));
    assert_eq!(Numbers::of(&job, &outcome).shown("panel.P.may be planed"), "1/64 in");
}

#[test]
fn ways_out_of_what_went_wrong_and_what_they_cost() {
    let plan = text("tests/plans/odd-count.toml").replace("count = 13", "count = 14")
        + "\n[measured]\nchipped = [3]\nopen_joints = [7]\n";
    let (job, outcome) = job(&plan);
    let ways = ways_out(&job, &outcome);
    let of = |way: WayOut| ways.iter().find(|w| w.way == way).unwrap_or_else(|| panic!("{ways:?}"));
    let inch = 25.4;
    // Strips of 7/8 in less 1/16 planed; the third's mirror pair is the fourth.
    assert!((of(WayOut::LeaveOut).costs - 0.8125 * inch).abs() < 1e-9);
    assert!((of(WayOut::LeavePairOut(3)).costs - 1.625 * inch).abs() < 1e-9);
    // A kerf of 3/32 and a jointer's pass of 1/32 off each face: 5/32 in.
    assert!((of(WayOut::Reglue).costs - 5.0 / 32.0 * inch).abs() < 1e-9);
    assert_eq!(of(WayOut::Reglue).mishap, Mishap::Open(6));
    let length = outcome.board.as_ref().unwrap().finished().length;
    assert!(ways.iter().all(|w| (w.length - (length - w.costs)).abs() < 1e-9));
    let numbers = Numbers::of(&job, &outcome);
    assert_eq!(numbers.shown("mend.reglue costs"), "5/32 in");
}

#[test]
fn the_defaults_of_a_plan_are_those_that_the_model_states() {
    let (job, _) = job(&text("tests/plans/odd-count.toml"));
    assert_eq!(job.finish, quarterturn_geometry::finish::Finish::default());
    assert_eq!(job.pace, quarterturn_geometry::lumber::Pace::default());
    assert_eq!(job.seasons, quarterturn_geometry::movement::Seasons::default());
    let gluing = quarterturn_geometry::glue::Gluing { clamp_force: job.gluing.clamp_force, ..Default::default() };
    assert_eq!(job.gluing, gluing);
    assert_eq!(job.rates, None);
}

/// What is bought, mm³: an eighth of an inch wider and thicker than it is milled to.
fn rough_volume(outcome: &Outcome) -> f64 {
    let rough = |laid: &quarterturn_geometry::stock::LaidBlank| {
        let size = laid.lying();
        (size.width.mm() + 3.175) * (size.thickness.mm() + 3.175) * size.length.mm()
    };
    outcome.panels.iter().flat_map(|from| &from.panel.blanks).map(rough).sum()
}

#[test]
fn money_in_a_plan_of_either_unit_is_the_same_money() {
    let money = "\n[money]\ncurrency = \"$\"\nwood = 10\nhour = 30\nprofit = 0.2\n";
    let (inches, outcome) = job(&(text("tests/plans/odd-count.toml") + money));
    let cost = Numbers::of(&inches, &outcome);
    // Amounts are paid in whole hundredths.
    let paid = |amount: f64| (amount * 100.0).round() / 100.0;
    let bought = rough_volume(&outcome);
    assert!(bought > Lumber::of(&inches, &outcome).unwrap().used());
    let wood = paid(bought / 2_359_737.216 * 10.0);
    assert!((cost.get("money.wood").unwrap().value - wood).abs() < 1e-9);
    assert!(cost.shown("money.price").starts_with("$ "), "{}", cost.shown("money.price"));
    let mut metric = text("tests/plans/odd-count.toml").replace("units = \"inch\"", "units = \"millimetre\"");
    for length in ["3/32", "6", "11", "7/8", "26", "1/8", "5", "-2", "5 1/4", "1 1/2"] {
        metric = metric.replace(&format!("\"{length}\""), &format!("\"{length} in\""));
    }
    let price = 10.0 * 1e9 / 2_359_737.216;
    let (metric, outcome) = job(&(metric + &money.replace("wood = 10", &format!("wood = {price}"))));
    let same = Numbers::of(&metric, &outcome).get("money.wood").unwrap().value;
    let lumber = paid(rough_volume(&outcome) * price * 1e-9);
    assert!((same - lumber).abs() < 1e-9, "{same} for {lumber}");
}
