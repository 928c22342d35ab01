//! The desk: undo, the journal, saving, and a plan that is changed on disk meanwhile.

use super::desk::{Desk, NotDone};
use super::edits::{BlankTurn, Edit, Step, Turn};
use super::file::OnDisk;
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const PLAN: &str = include_str!("../plan/starter.toml");

fn with_plan() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("board.toml");
    fs::write(&path, PLAN).unwrap();
    (folder, path)
}

fn open(path: &Path) -> Desk {
    Desk::open(Some(path), Path::new(".")).unwrap()
}

fn text(desk: &Desk) -> String {
    desk.reading().text().to_owned()
}

fn make(desk: &mut Desk, edit: &Edit) -> Result<(), NotDone> {
    desk.edit(desk.revision(), edit)
}

fn turn(place: usize) -> Edit {
    Edit::TurnBy { places: vec![place], by: Turn::EndForEnd }
}

fn any_turn() -> impl Strategy<Value = Turn> {
    prop::sample::select(vec![Turn::AsCut, Turn::RolledOver, Turn::EndForEnd, Turn::EndOverEnd])
}

fn any_edit() -> impl Strategy<Value = Edit> {
    let places = || proptest::collection::vec(0_usize..14, 1..4);
    let length =
        || prop::sample::select(vec!["0", "1/2", "-1/4", "3 mm", "1 3/8", "1.375", "nonsense"]).prop_map(str::to_owned);
    let key = prop::sample::select(vec![
        "finishing.trim",
        "shop.saw.kerf",
        "strips.width",
        "shop.saw.lost_first",
        "measured.board_length",
        "no.such",
    ]);
    let key = key.prop_map(|path| path.split('.').map(|name| Step::Name(name.to_owned())).collect());
    let blank_turn = prop::sample::select(vec![BlankTurn::AsLaid, BlankTurn::RolledOver, BlankTurn::EndForEnd]);
    prop_oneof![
        4 => (places(), any_turn()).prop_map(|(places, to)| Edit::Turn { places, to }),
        4 => (places(), any_turn()).prop_map(|(places, by)| Edit::TurnBy { places, by }),
        4 => (places(), 0_usize..14).prop_map(|(places, to)| Edit::Move { places, to }),
        1 => (0_usize..14).prop_map(|place| Edit::LeaveOut { places: vec![place] }),
        3 => (0_usize..14, 0_usize..14).prop_map(|(strip, at)| Edit::PutBack { panel: 0, strip, at }),
        2 => (places(), length()).prop_map(|(places, by)| Edit::Stagger { places, by }),
        3 => (key, proptest::option::of(length())).prop_map(|(key, to)| Edit::Set { key, to }),
        2 => (0_usize..5, 0_usize..6).prop_map(|(from, to)| Edit::MoveBlank { panel: 0, from, to }),
        2 => (0_usize..5, blank_turn).prop_map(|(at, turn)| Edit::TurnBlank { panel: 0, at, turn }),
        1 => Just(Edit::Begin { with: "brick bond".to_owned() }),
        1 => Just(Edit::Begin { with: "walnut and maple, explained".to_owned() }),
    ]
}

#[test]
fn undo_of_a_thousand_random_edits_is_the_first_text() {
    let (_folder, path) = with_plan();
    let mut desk = open(&path);
    let mut runner = TestRunner::deterministic();
    let mut texts = vec![text(&desk)];
    let mut refused = 0;
    while texts.len() <= 1000 {
        let edit = any_edit().new_tree(&mut runner).unwrap().current();
        let (revision, before) = (desk.revision(), text(&desk));
        match make(&mut desk, &edit) {
            Ok(()) if desk.revision() > revision => texts.push(text(&desk)),
            Ok(()) => assert_eq!(text(&desk), before),
            Err(NotDone::Older) => panic!("it was the newest"),
            Err(NotDone::Told(told)) => {
                assert!(!told.is_empty() && !told[0].what.is_empty(), "{edit:?}");
                assert_eq!(
                    (text(&desk), desk.revision()),
                    (before, revision),
                    "{edit:?} was refused and changed something"
                );
                refused += 1;
            }
        }
    }
    assert!(refused > 10, "no edit was refused: the test asks nothing of that");
    for earlier in texts.iter().rev().skip(1) {
        make(&mut desk, &Edit::Undo).unwrap();
        assert_eq!(text(&desk), *earlier);
    }
    assert_eq!(text(&desk), PLAN);
    assert!(make(&mut desk, &Edit::Undo).is_err() && !desk.history().can_undo());
    for later in texts.iter().skip(1) {
        make(&mut desk, &Edit::Redo).unwrap();
        assert_eq!(text(&desk), *later);
    }
    assert!(make(&mut desk, &Edit::Redo).is_err());
}

#[test]
fn an_edit_of_an_older_text_is_refused() {
    let (_folder, path) = with_plan();
    let mut desk = open(&path);
    let revision = desk.revision();
    desk.edit(revision, &turn(0)).unwrap();
    assert_eq!(desk.edit(revision, &turn(1)), Err(NotDone::Older));
    assert_eq!(desk.edit(revision + 5, &turn(1)), Err(NotDone::Older));
    assert_eq!(desk.save(revision, None), Err(NotDone::Older));
}

/// What a killed program leaves behind is what was there: the files, with nothing tidied up.
fn killed(desk: Desk) {
    std::mem::forget(desk);
}

#[test]
fn what_was_unsaved_is_taken_up_again_and_saved() {
    let (folder, path) = with_plan();
    // A copy of the folder at the moment of the kill: the lock of a program that runs no more is not there.
    let again = |n: usize| {
        let copy = folder.path().join(format!("copy{n}"));
        fs::create_dir(&copy).unwrap();
        for name in ["board.toml", ".board.toml.unsaved"] {
            let _ = fs::copy(folder.path().join(name), copy.join(name));
        }
        copy.join("board.toml")
    };
    let mut desk = open(&path);
    let mut runner = TestRunner::deterministic();
    for n in 0..40 {
        let _ = make(&mut desk, &any_edit().new_tree(&mut runner).unwrap().current());
        let copy = open(&again(n));
        assert_eq!(text(&copy), text(&desk), "after edit {n}");
        assert_eq!(copy.restored(), text(&desk) != PLAN);
    }
    let last = text(&desk);
    assert_ne!(last, PLAN);
    killed(desk);

    let path = again(1000);
    let mut desk = open(&path);
    assert!(desk.restored() && !desk.saved());
    desk.save(desk.revision(), None).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), last);
    assert!(desk.saved() && !desk.unsaved());
    make(&mut desk, &Edit::Undo).unwrap();
    assert_eq!(text(&desk), PLAN);
    make(&mut desk, &Edit::Redo).unwrap();
    drop(desk);
    let left: Vec<_> = fs::read_dir(path.parent().unwrap()).unwrap().map(|f| f.unwrap().file_name()).collect();
    assert_eq!(left, ["board.toml"], "nothing is left behind but the plan");
}

#[test]
fn a_plan_changed_on_disk_is_never_overwritten() {
    let (folder, path) = with_plan();
    let mut desk = open(&path);
    make(&mut desk, &turn(0)).unwrap();
    let mine = text(&desk);
    let theirs = PLAN.replace("Walnut and maple", "Theirs");
    fs::write(&path, &theirs).unwrap();
    assert!(desk.look_at_disk() && desk.file().on_disk == OnDisk::Changed);
    assert!(matches!(desk.save(desk.revision(), None), Err(NotDone::Told(_))));
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);

    // Mine under another name; or theirs, and mine by undo.
    desk.save(desk.revision(), Some("mine")).unwrap();
    assert_eq!(fs::read_to_string(folder.path().join("mine.toml")).unwrap(), mine);
    assert_eq!(desk.file().name(), Some("mine.toml"));
    fs::write(folder.path().join("mine.toml"), &theirs).unwrap();
    make(&mut desk, &Edit::TakeFromDisk).unwrap();
    assert!(text(&desk) == theirs && desk.saved());
    make(&mut desk, &Edit::Undo).unwrap();
    assert_eq!(text(&desk), mine);
    assert!(!desk.saved());
    desk.save(desk.revision(), None).unwrap();
    assert_eq!(fs::read_to_string(folder.path().join("mine.toml")).unwrap(), mine);
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
}

#[test]
fn a_plan_broken_on_disk_is_not_taken_and_not_overwritten() {
    let (_folder, path) = with_plan();
    let mut desk = open(&path);
    make(&mut desk, &turn(0)).unwrap();
    let mine = text(&desk);
    fs::write(&path, "not a plan").unwrap();
    assert!(matches!(make(&mut desk, &Edit::TakeFromDisk), Err(NotDone::Told(_))));
    assert_eq!(text(&desk), mine);
    assert!(desk.save(desk.revision(), None).is_err());
    assert_eq!(fs::read_to_string(&path).unwrap(), "not a plan");
}

#[test]
fn what_was_unsaved_doesnt_overwrite_what_was_changed_since() {
    let (folder, path) = with_plan();
    let mut desk = open(&path);
    make(&mut desk, &turn(0)).unwrap();
    killed(desk);
    fs::remove_file(folder.path().join(".board.toml.open")).unwrap();
    fs::write(&path, PLAN.replace("Walnut and maple", "Theirs")).unwrap();
    let mut desk = open(&path);
    assert!(desk.restored() && desk.file().on_disk == OnDisk::Changed);
    assert!(desk.save(desk.revision(), None).is_err());
}

#[test]
fn an_empty_bench_is_saved_under_a_name() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = Desk::open(None, folder.path()).unwrap();
    assert!(desk.reading().outcome().board.is_ok());
    assert!(desk.save(desk.revision(), None).is_err(), "it has no name yet");
    make(&mut desk, &Edit::Begin { with: "brick bond".to_owned() }).unwrap();
    assert!(folder.path().join(".new-board.unsaved").exists());
    desk.save(desk.revision(), Some("bricks")).unwrap();
    assert!(desk.saved() && !folder.path().join(".new-board.unsaved").exists());
    make(&mut desk, &turn(0)).unwrap();
    assert!(folder.path().join(".bricks.toml.unsaved").exists());
}

#[test]
fn a_plan_is_open_once() {
    let (_folder, path) = with_plan();
    let first = open(&path);
    let again = Desk::open(Some(&path), Path::new(".")).map(drop).unwrap_err().to_string();
    assert!(again.contains("open already"), "{again}");
    drop(first);
    open(&path);
}

#[test]
fn texts_that_go_deep_are_refused() {
    let (_folder, path) = with_plan();
    let mut desk = open(&path);
    let deep = 100_000;
    for text in [
        format!("a = {}{}", "[".repeat(deep), "]".repeat(deep)),
        format!("a = {}", "{ a = ".repeat(deep)),
        format!("{}a = 1", "a.".repeat(deep)),
        format!("[{}a]", "a.".repeat(deep)),
        format!("{PLAN}\n[x{}]\n", ".x".repeat(deep)),
    ] {
        assert!(matches!(make(&mut desk, &Edit::Replace { text }), Err(NotDone::Told(_))));
    }
    let key = vec![Step::Name("a".to_owned()); deep];
    assert!(make(&mut desk, &Edit::Set { key, to: Some("1".to_owned()) }).is_err());
    assert_eq!(text(&desk), PLAN);
}

#[test]
fn a_whole_text_that_is_no_plan_is_refused_with_its_problems() {
    let (_folder, path) = with_plan();
    let mut desk = open(&path);
    let wrong = PLAN.replace("kerf = \"1/8\"", "kerff = \"1/8\"");
    let Err(NotDone::Told(told)) = make(&mut desk, &Edit::Replace { text: wrong.clone() }) else {
        panic!("it was made")
    };
    assert_eq!(told[0].line, wrong.lines().position(|l| l.starts_with("kerff")).unwrap() + 1);
    assert!(told[0].right.contains("did you mean kerf?"));
    assert_eq!(text(&desk), PLAN);
    make(&mut desk, &Edit::Replace { text: PLAN.replace("count = 14", "count = 13") }).unwrap();
    make(&mut desk, &Edit::Undo).unwrap();
    assert_eq!(text(&desk), PLAN);
}
