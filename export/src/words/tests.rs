use super::*;
use std::collections::{BTreeMap, BTreeSet};

/// The keys of a catalogue, each with the names of what it is told.
fn keys(language: Language) -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut last = String::new();
    for line in language.catalogue().lines().filter(|line| !line.starts_with('#')) {
        if let Some((key, _)) = line.split_once(" =").filter(|_| line.starts_with(|c: char| c.is_ascii_lowercase())) {
            last = key.to_owned();
            assert!(all.insert(last.clone(), BTreeSet::new()).is_none(), "{language:?}: {last} stands twice");
        }
        for part in line.split('$').skip(1) {
            let name = part.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).next().unwrap_or_default();
            all.get_mut(&last).unwrap().insert(name.to_owned());
        }
    }
    all
}

#[test]
fn every_language_says_everything_that_english_says() {
    let english = keys(Language::English);
    for language in Language::ALL {
        let source = FluentResource::try_new(language.catalogue().to_owned());
        assert!(source.is_ok(), "{language:?}: {:?}", source.err().map(|(_, errors)| errors));
        let own = keys(language);
        let missing: Vec<_> = english.keys().filter(|key| !own.contains_key(*key)).collect();
        let unknown: Vec<_> = own.keys().filter(|key| !english.contains_key(*key)).collect();
        assert!(missing.is_empty() && unknown.is_empty(), "{language:?}: missing {missing:?}, unknown {unknown:?}");
        for (key, told) in &own {
            assert_eq!(told, &english[key], "{language:?}: {key} is told other things");
        }
    }
}

#[test]
fn a_count_chooses_its_plural_form() {
    let strips = |language, n| Words::of(language).with("count-strips", &[("count", Told::Count(n))]);
    assert_eq!(strips(Language::English, 1), "1 strip");
    assert_eq!(strips(Language::English, 14), "14 strips");
    assert_eq!(strips(Language::German, 1), "1 Streifen");
    let joints = |language, n| Words::of(language).with("count-glue-lines", &[("count", Told::Count(n))]);
    assert_eq!(joints(Language::German, 1), "1 Leimfuge");
    assert_eq!(joints(Language::German, 13), "13 Leimfugen");
}

#[test]
fn figures_are_marked_and_written_as_the_language_does() {
    let english = Words::of(Language::English);
    assert_eq!(english.figure("11 3/8 in full"), format!("{TOLD}11 3/8 in full{END}"));
    let german = Words::of(Language::German);
    assert_eq!(german.setting("11 3/8 in full"), format!("{SET}11 3/8 Zoll reichlich{END}"));
    assert_eq!(german.figure("206.5 mm bare"), format!("{TOLD}206,5 mm knapp{END}"));
    assert_eq!(german.figure("under 0.1 %"), format!("{TOLD}unter 0,1 %{END}"));
}

#[test]
fn a_name_can_not_pretend_to_be_a_figure() {
    let words = Words::of(Language::English);
    let said = words.with("head-board", &[("name", Told::Word("x\u{e000}1\u{7}"))]);
    assert!(!said.contains(['\u{e000}', '\u{7}']), "{said:?}");
    assert_eq!(words.say("no-such-key"), "⟨no-such-key⟩");
    assert_eq!(words.name("turn", "end for end"), "end for end");
    assert_eq!(words.name("wood", "my own oak"), "my own oak");
}

/// No finding is left in English on sheets of another language, and no sentence is there for a check that isn't.
#[test]
fn every_finding_is_said_in_every_language() {
    use quarterturn_geometry::check::CHECKS;
    for language in Language::ALL.into_iter().filter(|language| *language != Language::English) {
        let source = FluentResource::try_new(language.findings().to_owned());
        assert!(source.is_ok(), "{language:?}: {:?}", source.err().map(|(_, errors)| errors));
        let own: Vec<&str> =
            language.findings().lines().filter_map(|line| line.split_once(" =")).map(|(k, _)| k).collect();
        let wanted: Vec<String> = CHECKS.iter().map(|check| format!("finding-{}", tail(check.name))).collect();
        let missing: Vec<_> = wanted.iter().filter(|key| !own.contains(&key.as_str())).collect();
        let unknown: Vec<_> = own.iter().filter(|key| !wanted.iter().any(|w| w == *key)).collect();
        assert!(missing.is_empty() && unknown.is_empty(), "{language:?}: missing {missing:?}, unknown {unknown:?}");
        assert_eq!(own.len(), wanted.len(), "{language:?}: a sentence stands twice");
        let words = Words::of(language);
        for check in &CHECKS {
            let said = words.finding(check.name, "the English of it: 1/4 in");
            assert!(!said.contains("English") && !said.contains('⟨') && said.contains("1/4"), "{said}");
        }
    }
    assert_eq!(Words::of(Language::English).finding("thin board", "it is thin"), "it is thin");
}
