//! Each edit does what it says to the plan's text, comments stay, and what can't be done is refused in words.

use super::super::reading::{Reader, Reading};
use super::super::samples;
use super::super::told::Told;
use super::{Edit, edited};
use quarterturn_geometry::layup::Turn;
use std::path::Path;

fn reader() -> Reader {
    Reader::new(Path::new("."), "the plan")
}

fn edit(json: &str) -> Edit {
    serde_json::from_str(json).unwrap_or_else(|e| panic!("{json}: {e}"))
}

/// The reading after edits, each of which must be made.
fn after(text: &str, edits: &[&str]) -> Reading {
    let reader = reader();
    let mut reading = reader.read(text).unwrap();
    for json in edits {
        let edited = edited(&reading, &edit(json)).unwrap_or_else(|told| panic!("{json}: {told:?}")).unwrap();
        reading = reader.read(&edited.text).unwrap_or_else(|told| panic!("{json}: {told:?}\n{}", edited.text));
        if let Some(laid) = edited.laid {
            assert_eq!(reading.outcome().places, laid, "{json}");
        }
        for comment in comments(text) {
            assert!(reading.text().contains(comment), "{json}: lost {comment:?}\n{}", reading.text());
        }
    }
    reading
}

fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| Some(line[line.find('#')?..].trim())).collect()
}

fn refused(text: &str, json: &str) -> Vec<Told> {
    let reader = reader();
    let reading = reader.read(text).unwrap();
    match edited(&reading, &edit(json)) {
        Err(told) => told,
        Ok(edited) => reader.read(&edited.unwrap().text).map(|r| panic!("{json} was made:\n{}", r.text())).unwrap_err(),
    }
}

fn strips(reading: &Reading) -> Vec<(i64, Turn)> {
    reading.outcome().places.iter().map(|p| (p.strip, p.turn)).collect()
}

const PLAN: &str = include_str!("../../plan/starter.toml");

#[test]
fn a_strip_is_turned_and_turned_back() {
    let once = after(PLAN, &[r#"{"edit":"turn","places":[1],"to":"end for end"}"#]);
    assert_eq!(strips(&once)[..3], [(0, Turn::AsCut), (1, Turn::EndForEnd), (2, Turn::AsCut)]);
    let back = after(once.text(), &[r#"{"edit":"turn_by","places":[1],"by":"end over end"}"#]);
    assert_eq!(strips(&back)[1], (1, Turn::RolledOver));
    // As it was before: so it is written as a repeat again.
    assert!(back.text().contains("repeat = [\"as cut\", \"rolled over\"]"), "{}", back.text());
}

#[test]
fn strips_change_places_singly_and_in_groups() {
    let order = |edits: &[&str]| strips(&after(PLAN, edits)).iter().map(|s| s.0).take(6).collect::<Vec<_>>();
    assert_eq!(order(&[r#"{"edit":"move","places":[0],"to":2}"#]), [1, 2, 0, 3, 4, 5]);
    assert_eq!(order(&[r#"{"edit":"move","places":[3,4],"to":0}"#]), [3, 4, 0, 1, 2, 5]);
    assert_eq!(
        order(&[r#"{"edit":"move","places":[3],"to":0}"#, r#"{"edit":"move","places":[0],"to":3}"#]),
        [0, 1, 2, 3, 4, 5]
    );
}

#[test]
fn a_strip_is_left_out_and_put_back() {
    let out = after(PLAN, &[r#"{"edit":"leave_out","places":[2,3]}"#]);
    assert_eq!(strips(&out).iter().map(|s| s.0).take(4).collect::<Vec<_>>(), [0, 1, 4, 5]);
    let back = after(out.text(), &[r#"{"edit":"put_back","panel":0,"strip":3,"at":0}"#]);
    assert_eq!(strips(&back)[0], (3, Turn::AsCut));
    assert_eq!(
        refused(back.text(), r#"{"edit":"put_back","panel":0,"strip":3,"at":0}"#)[0].what,
        "this strip lies in the board already"
    );
    refused(PLAN, r#"{"edit":"put_back","panel":0,"strip":14,"at":0}"#);
    refused(out.text(), r#"{"edit":"put_back","panel":0,"strip":3,"at":13}"#);
}

#[test]
fn a_strip_is_slid_as_a_maker_writes_it() {
    let slid = after(
        PLAN,
        &[r#"{"edit":"stagger","places":[1,3],"by":"1/2"}"#, r#"{"edit":"turn","places":[0],"to":"end for end"}"#],
    );
    let staggers: Vec<f64> = slid.outcome().places.iter().map(|p| p.stagger.mm()).take(4).collect();
    assert_eq!(staggers, [0.0, 12.7, 0.0, 12.7]);
    assert!(slid.text().contains("stagger = \"1/2\""), "{}", slid.text());
    assert!(refused(PLAN, r#"{"edit":"stagger","places":[1],"by":"wide"}"#)[0].what.contains("not a length"));
}

#[test]
fn a_key_is_set_where_it_stands_and_where_it_doesnt() {
    let set = |key: &str, to: &str| format!(r#"{{"edit":"set","key":{key},"to":{to}}}"#);
    let cases = [
        (r#"["shop","saw","kerf"]"#, r#""3/32""#, "kerf = \"3/32\"               # what"),
        (r#"["strips","count"]"#, r#""12""#, "count = 12\n"),
        (r#"["panels",0,"trued"]"#, r#""1/16, 1/8""#, "trued = [\"1/16\", \"1/8\"]             # taken"),
        (r#"["blanks",1,"width"]"#, r#""2 3/16""#, "width = \"2 3/16\"\n"),
        (r#"["blanks",0,"length"]"#, r#""25.5""#, "length = 25.5\n"),
        (r#"["measured","board_thickness"]"#, r#""1 3/8""#, "[measured]\nboard_thickness = \"1 3/8\"\n"),
        (
            r#"["measured","panels",0,"thickness"]"#,
            r#""1, 1, 63/64, 1""#,
            "[[measured.panels]]\nthickness = [1, 1, \"63/64\", 1]\n",
        ),
        (r#"["handholds",0,"depth"]"#, r#""5/16""#, "depth = \"5/16\"\n"),
        (r#"["layup","mirror_pairs"]"#, "\"false\"", "mirror_pairs = false\n"),
        (r#"["limits","short_chance"]"#, "\"2 %\"", "short_chance = \"2 %\""),
    ];
    for (key, to, says) in cases {
        let reading = after(PLAN, &[&set(key, to)]);
        assert!(reading.text().contains(says), "{key}: no {says:?} in\n{}", reading.text());
    }
}

#[test]
fn a_key_is_left_to_its_default() {
    let reading = after(
        PLAN,
        &[
            r#"{"edit":"set","key":["shop","saw","kerf"],"to":null}"#,
            r#"{"edit":"set","key":["strips","width"],"to":null}"#,
        ],
    );
    assert!(!reading.text().contains("\nkerf ="));
    // And what isn't there is no matter.
    let same = after(PLAN, &[r#"{"edit":"set","key":["measured","board_length"],"to":null}"#]);
    assert_eq!(same.text(), PLAN);
}

#[test]
fn what_cant_be_set_is_refused_with_what_would_be_right() {
    let set = |key: &str, to: &str| refused(PLAN, &format!(r#"{{"edit":"set","key":{key},"to":{to}}}"#));
    assert!(set(r#"["shop","saw","kerff"]"#, "\"1\"")[0].what.contains("no key shop.saw.kerff"));
    assert!(set(r#"["strips","count"]"#, "\"many\"")[0].right.contains("whole number"));
    assert!(set(r#"["shop","saw","kerf"]"#, "\"wide\"")[0].key == "shop.saw.kerf");
    assert!(set(r#"["shop","saw","held"]"#, "\"by magic\"")[0].right.contains("hold-down"));
    set(r#"["layup"]"#, "\"x\"");
    set("[]", "\"x\"");
    set("[0]", "\"x\"");
    set(r#"["blanks","letter"]"#, "\"x\"");
    set(r#"["blanks",9,"letter"]"#, "\"x\"");
    set(r#"["blanks",0,"letter",0]"#, "\"x\"");
    set(r#"["quarterturn","x","x","x","x","x","x","x","x","x","x","x","x","x","x"]"#, "\"x\"");
}

#[test]
fn blanks_are_laid_taken_moved_and_turned() {
    let letters = |edits: &[&str]| {
        let reading = after(PLAN, edits);
        reading.job().panels[0].blanks.iter().map(|laid| laid.blank.letter.clone()).collect::<Vec<_>>().join(" ")
    };
    assert_eq!(letters(&[]), "A B A2 B2 A3");
    assert_eq!(letters(&[r#"{"edit":"take_blank","panel":0,"at":2}"#]), "A B B2 A2");
    assert_eq!(letters(&[r#"{"edit":"move_blank","panel":0,"from":0,"to":4}"#]), "B A B2 A2 A3");
    assert_eq!(
        letters(&[
            r#"{"edit":"take_blank","panel":0,"at":2}"#,
            r#"{"edit":"lay_blank","panel":0,"at":4,"letter":"A"}"#
        ]),
        "A B B2 A2 A3"
    );
    let turned = after(PLAN, &[r#"{"edit":"turn_blank","panel":0,"at":1,"turn":"rolled over"}"#]);
    assert_eq!(turned.job().panels[0].blanks[1].turn.half.name(), "rolled over");
    let back = after(turned.text(), &[r#"{"edit":"turn_blank","panel":0,"at":1,"turn":"as laid"}"#]);
    assert_eq!(back.text(), PLAN);
    let by = |by: &str| format!(r#"{{"edit":"turn_blank_by","panel":0,"at":1,"by":"{by}"}}"#);
    let twice = after(PLAN, &[&by("rolled over"), &by("end for end")]);
    assert_eq!(twice.job().panels[0].blanks[1].turn.half.name(), "end over end");
    assert_eq!(after(twice.text(), &[&by("end over end")]).text(), PLAN);
    assert!(refused(PLAN, r#"{"edit":"lay_blank","panel":0,"at":0,"letter":"A"}"#)[0].what.contains("laid more often"));
    refused(PLAN, r#"{"edit":"lay_blank","panel":1,"at":0,"letter":"A"}"#);
    refused(PLAN, r#"{"edit":"turn_blank","panel":0,"at":5,"turn":"rolled over"}"#);
    refused(samples::EMPTY, r#"{"edit":"take_blank","panel":0,"at":0}"#);
}

#[test]
fn stock_grows_and_shrinks() {
    let add = r#"{"edit":"add_blank","letter":"C","wood":"black cherry","width":"2","thickness":"1 1/4","length":"24","count":"2"}"#;
    let reading = after(PLAN, &[add, r#"{"edit":"lay_blank","panel":0,"at":5,"letter":"C"}"#]);
    assert_eq!(reading.job().panels[0].blanks[5].blank.letter, "C");
    let less = after(reading.text(), &[r#"{"edit":"remove_blank","entry":2}"#]);
    assert_eq!(less.job().panels[0].blanks.len(), 5);
    assert!(refused(PLAN, &add.replace("black cherry", "no such wood"))[0].what.contains("no wood"));
    refused(PLAN, &add.replace("\"C\"", "\"A\""));
    refused(PLAN, r#"{"edit":"remove_blank","entry":7}"#);
}

#[test]
fn places_that_arent_there_are_said() {
    for json in [
        r#"{"edit":"turn","places":[14],"to":"as cut"}"#,
        r#"{"edit":"turn","places":[18446744073709551615],"to":"as cut"}"#,
        r#"{"edit":"move","places":[0],"to":14}"#,
        r#"{"edit":"leave_out","places":[99]}"#,
    ] {
        assert!(refused(PLAN, json)[0].what.starts_with("there is no place"), "{json}");
    }
    assert!(
        refused(PLAN, r#"{"edit":"leave_out","places":[0,1,2,3,4,5,6,7,8,9,10,11,12,13]}"#)[0]
            .what
            .contains("no strip")
    );
}

#[test]
fn every_sample_takes_every_kind_of_edit() {
    for (_, text) in samples::ALL {
        let reading = after(
            text,
            &[
                r#"{"edit":"turn_by","places":[0],"by":"end for end"}"#,
                r#"{"edit":"move","places":[0],"to":1}"#,
                r#"{"edit":"leave_out","places":[1]}"#,
                r#"{"edit":"stagger","places":[0],"by":"1 mm"}"#,
                r#"{"edit":"turn_blank","panel":0,"at":0,"turn":"rolled over"}"#,
                r#"{"edit":"set","key":["finishing","trim"],"to":"3/8"}"#,
            ],
        );
        assert!(reading.outcome().board.is_ok());
    }
}
