//! The cut list: every figure on it stands in the numbers as shown, and what it says where.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::*;
use quarterturn_export::cut_list::{COLUMNS, csv, text};
use quarterturn_geometry::cut::Edge;
use quarterturn_geometry::layup::{Asked, Beat, Turn};
use quarterturn_geometry::measure::Rule;
use std::collections::HashSet;

fn listed(made: &Made) -> String {
    text(&made.job, &made.outcome, &made.numbers, &made.findings, &made.programs())
}

fn in_millimetres() -> Made {
    let mut job = job();
    job.rule = Rule::millimetres(mm("0.5")).unwrap();
    Made::of(job)
}

/// Lengths in a line: a whole number, a fraction or both, the unit, and full or bare.
fn lengths(line: &str) -> Vec<String> {
    let words: Vec<&str> = line.split_whitespace().map(|w| w.trim_end_matches([',', ';', '.', ':'])).collect();
    let figure = |w: &str| {
        w.ends_with(|c: char| c.is_ascii_digit()) && w.chars().all(|c| c.is_ascii_digit() || "-./".contains(c))
    };
    let mut found = Vec::new();
    for (i, word) in words.iter().enumerate() {
        if !(["in", "mm"].contains(word) && i > 0 && figure(words[i - 1])) {
            continue;
        }
        let whole = |w: &str| w.trim_start_matches('-').chars().all(|c| c.is_ascii_digit());
        let mixed = i > 1 && words[i - 1].contains('/') && !words[i - 1].starts_with('-') && whole(words[i - 2]);
        let from = if mixed { i - 2 } else { i - 1 };
        let told = words.get(i + 1).is_some_and(|w| ["full", "bare"].contains(w));
        found.push(words[from..=i + usize::from(told)].join(" "));
    }
    found
}

#[test]
fn every_length_stands_in_the_numbers_as_shown() {
    for made in [Made::of(job()), in_millimetres()] {
        let shown: HashSet<&str> = made.numbers.all().iter().map(|n| n.shown.as_str()).collect();
        let all = listed(&made);
        // Findings have figures of their own.
        let after = &all[all.find("PANEL P").unwrap()..];
        let mut seen = 0;
        for line in after.lines() {
            for length in lengths(line) {
                // In columns a strip's number stands before its length: the length is the tail.
                let known = shown.iter().any(|s| length == *s || length.ends_with(&format!(" {s}")));
                assert!(known, "{length:?} in {line:?}");
                seen += 1;
            }
        }
        assert!(seen > 60, "{seen} lengths");
    }
}

#[test]
fn nothing_is_wider_than_the_sheet_and_one_unit_is_used() {
    let made = Made::of(job());
    assert!(listed(&made).lines().all(|l| l.chars().count() <= COLUMNS && l == l.trim_end()));
    assert!(!listed(&made).contains(" mm"));
    assert!(!listed(&in_millimetres()).lines().any(|l| lengths(l).iter().any(|s| s.contains(" in"))));
}

#[test]
fn the_router_table_is_set_up_only_where_the_board_may_be_lowered() {
    let made = Made::of(job());
    let list = listed(&made);
    for says in [
        "starting stop",
        "its back end is then at your left hand",
        "from right to left",
        "7 1/8 in",
        "handhold-left.ngc",
        "No program",
    ] {
        assert!(list.replace('\n', " ").split_whitespace().collect::<Vec<_>>().join(" ").contains(says), "{says}");
    }
    let mut short = job();
    short.router_table.least_edge = inch("20");
    let list = listed(&Made::of(short));
    assert!(list.contains("Plunge router"));
    for silent in ["starting stop", "lower the board", "left-hand block", "fence  "] {
        assert!(!list.contains(silent), "{silent}");
    }
}

#[test]
fn staggers_are_listed_where_there_are_any() {
    assert!(!listed(&Made::of(job())).contains("toward the back by"));
    let mut staggered = job();
    let beat = |stagger| Beat { panel: 0, turn: Turn::AsCut, stagger: inch(stagger) };
    staggered.layup.asked = Asked::Repeat { beats: vec![beat("0"), beat("1/2")], left_out: vec![(0, 4)] };
    let made = Made::of(staggered);
    let list = listed(&made);
    assert!(list.contains("toward the back by") && list.contains("1/2 in"));
    let rows = csv(&made.job, &made.outcome, &made.numbers);
    assert!(rows.contains("strip,P,5,,left out,,from the squared end"), "{rows}");
}

#[test]
fn a_board_that_cannot_be_made_is_still_listed_as_far_as_it_goes() {
    let mut job = job();
    job.strips.count = Some(40);
    let made = Made::of(job);
    assert!(made.outcome.board.is_err());
    let list = listed(&made);
    assert!(list.contains("can't be made") && !list.contains("LAY-UP"));
}

#[test]
fn the_table_has_ten_columns_in_every_row() {
    let mut wild = job();
    wild.panels[0].name = "P, \"wild\"".into();
    wild.handholds = vec![handhold(Edge::Back, "1/4", ["2", "2"])];
    let made = Made::of(wild);
    let rows = csv(&made.job, &made.outcome, &made.numbers);
    assert!(rows.ends_with("\r\n"));
    for row in rows.trim_end().split("\r\n") {
        let mut inside = false;
        let commas = row.chars().filter(|c| {
            inside ^= *c == '"';
            *c == ',' && !inside
        });
        assert_eq!(commas.count(), 9, "{row}");
    }
    assert!(rows.contains("strip,\"P, \"\"wild\"\"\",2,2,rolled over,,from the squared end,1 19/32 in,40.48125,mm"));
    assert!(rows.contains("handhold,,,,,back,setback right,2 in,50.8,mm"));
}
