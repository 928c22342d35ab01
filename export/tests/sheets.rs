//! The sheets: every word from the catalogue, in both languages and on both papers; every figure as the report shows it.
#![allow(clippy::unwrap_used)]

mod common;

use common::{Made, job};
use proptest::prelude::*;
use quarterturn_export::paper::{Given, Language, PaperSize, Pictures, Sheets, Template};
use quarterturn_export::png;
use quarterturn_geometry::cut::{Bit, Face, Surfacing};
use quarterturn_geometry::job::Spindle;
use quarterturn_geometry::measure::{Length, Rounding, Rule};
use quarterturn_geometry::path::{Cutting, Up};
use quarterturn_geometry::picture::Picture;
use quarterturn_geometry::stock::StripSide;
use quarterturn_geometry::wood::{EndRings, Figure, Rings, Wood};
use std::rc::Rc;

const END: EndRings = EndRings { pith: nalgebra::Point2::new(0.0, -60.0), heartwood_radius: 300.0 };

fn picture() -> Rc<[u8]> {
    let picture = Picture { width: 40, height: 30, bytes: vec![120; 3600] };
    let mut bytes = Vec::new();
    png::write(&picture, 0.25, &mut bytes).unwrap();
    bytes.into()
}

fn sheets(made: &Made, language: Language, paper: PaperSize) -> Sheets {
    sheets_with(made, &made.programs(), language, paper)
}

fn sheets_with(made: &Made, programs: &[(Cutting, Option<String>)], language: Language, paper: PaperSize) -> Sheets {
    let given =
        Given { job: &made.job, outcome: &made.outcome, numbers: &made.numbers, findings: &made.findings, programs };
    Sheets::of(&given, &Pictures { laid: picture(), solid: picture() }, language, paper)
}

#[test]
fn every_word_is_in_the_catalogue_of_every_language_and_nothing_leaves_the_page() {
    let made = Made::of(job());
    for language in Language::ALL {
        for paper in PaperSize::ALL {
            let sheets = sheets(&made, language, paper);
            assert!(sheets.pages.len() > 8, "{} pages", sheets.pages.len());
            for (i, page) in sheets.pages.iter().enumerate() {
                assert_eq!(page.size, paper.size());
                for said in page.words() {
                    assert!(
                        !said.contains(['⟨', '\u{e000}', '\u{e001}', '\u{e002}']),
                        "{language:?}, page {}: {said}",
                        i + 1
                    );
                }
                let [low, high] = page.extent();
                assert!(low[0] >= 5.0 && low[1] >= 5.0, "{language:?}, {paper:?}, page {}: {low:?}", i + 1);
                assert!(high[0] <= page.size[0] - 5.0 && high[1] <= page.size[1] - 5.0, "page {}: {high:?}", i + 1);
            }
        }
    }
}

fn said(made: &Made) -> String {
    let sheets = sheets(made, Language::English, PaperSize::Letter);
    sheets.pages.iter().flat_map(|page| page.words()).collect::<Vec<_>>().join(" ")
}

#[test]
fn money_is_spoken_of_only_where_the_plan_has_rates() {
    let plain = said(&Made::of(job()));
    assert!(plain.contains("What it took and weighs") && !plain.contains("Price"), "{plain}");
    let mut job = job();
    job.rates = Some(quarterturn_geometry::lumber::Rates {
        currency: "$".into(),
        wood: 8.0,
        woods: vec![],
        glue: 0.0,
        finish: 0.0,
        abrasives: 4.0,
        hour: 30.0,
        overhead: 0.1,
        profit: 0.0,
    });
    let made = Made::of(job);
    let priced = said(&made);
    let price = made.numbers.shown("money.price").split(' ').nth(1).unwrap();
    assert!(priced.contains("What it cost and weighs") && priced.contains(price), "{price}: {priced}");
    assert!(!priced.contains("profit 0.00"), "{priced}");
}

#[test]
fn movement_is_shown_where_a_wood_is_known_and_not_guessed_where_none_is() {
    let shown = |made: &Made, keys: &[&str]| {
        let words = said(made);
        for key in keys {
            let shown = made.numbers.shown(key).trim_end_matches(" in");
            assert!(words.contains(shown), "{key}: {shown}: {words}");
        }
        words
    };
    let board = ["movement.length grows", "movement.width to driest"];
    assert!(shown(&Made::of(job()), &board).contains("Neighbours move alike"));
    // The rings of every second blank upright instead of level.
    let mut slanted = job();
    for laid in slanted.panels[0].blanks.iter_mut().step_by(2) {
        let end = EndRings { pith: nalgebra::Point2::new(-300.0, 10.0), heartwood_radius: 500.0 };
        let rings = Rings { near: end, far: end, ring_width: 2.0, seed: 1 };
        laid.blank.figure = Figure::new(Wood::named("black walnut").unwrap(), rings, laid.blank.size.length.mm());
    }
    let words = shown(&Made::of(slanted), &["movement.mismatch.1.wants", "movement.mismatch.5.wants"]);
    assert!(words.contains("At glue line 1") && !words.contains("Neighbours move alike"), "{words}");
    let mut job = job();
    let plum = Wood::of_colours("plum", Wood::named("beech").unwrap().heartwood, Wood::named("beech").unwrap().sapwood);
    for laid in job.panels.iter_mut().flat_map(|panel| &mut panel.blanks) {
        let rings = Rings { near: END, far: END, ring_width: 2.0, seed: 1 };
        laid.blank.figure = Figure::new(plum.clone(), rings, laid.blank.size.length.mm());
    }
    let words = said(&Made::of(job));
    assert!(words.contains("plum") && !words.contains("How it will move"), "{words}");
}

/// Every template in both languages on both papers; the block for the saw's stop is as long as the mark below it.
#[test]
fn templates_are_at_one_to_one_and_spread_over_sheets_where_they_are_larger() {
    let mut job = job();
    job.cuts.corner_radius = Some(common::inch("1/2"));
    let made = Made::of(job);
    let programs = made.programs();
    let given = Given {
        job: &made.job,
        outcome: &made.outcome,
        numbers: &made.numbers,
        findings: &made.findings,
        programs: &programs,
    };
    let pictures = Pictures { laid: picture(), solid: picture() };
    for (language, paper) in Language::ALL.into_iter().zip(PaperSize::ALL) {
        let all = Template::all(&given, &pictures, language, paper);
        let names: Vec<&str> = all.iter().map(|template| template.name.as_str()).collect();
        let wanted = [
            "template-stop-p",
            "template-strips-p",
            "template-blocks-handhold-left",
            "template-table-handhold-left",
            "template-blocks-handhold-right",
            "template-table-handhold-right",
            "template-corner",
        ];
        assert_eq!(names, wanted);
        let stop = made.numbers.get("panel.P.stop").unwrap().value;
        let long = made.job.rule.round(stop, Rounding::Down).mm() - 0.25;
        let [from, to] = [14.125, 14.125 + long].map(|x| (x * 1e4).round() / 1e4);
        assert!(all[0].svg.contains(&format!("M{from} ")) && all[0].svg.contains(&format!("L{to} ")), "{from} to {to}");
        assert_eq!((all[0].pages.len(), all[6].pages.len()), (1, 1));
        assert!(all[1].pages.len() > 1 && all[3].pages.len() > 1);
        for template in &all {
            assert!(!template.svg.contains('⟨'), "{}", template.svg);
            for page in &template.pages {
                assert_eq!(page.size, paper.size());
                assert!(page.words().iter().all(|said| !said.contains('⟨')));
            }
        }
    }
}

#[test]
fn german_sheets_say_german_and_keep_the_units() {
    let made = Made::of(job());
    let german = sheets(&made, Language::German, PaperSize::A4);
    let words = german.pages.iter().flat_map(|page| page.words()).collect::<Vec<_>>().join(" ");
    for said in ["Legeblatt", "Zoll", "Leimfugen", "umgewälzt", "Schwarznuss"] {
        assert!(words.contains(said), "{said} is missing");
    }
    assert!(!words.contains("rolled over") && !words.contains("Glue-up"), "{words}");
}

#[test]
fn a_name_that_is_markup_does_no_harm() {
    let mut job = job();
    job.name = "<b>&\u{e000}\u{7} a board".repeat(20);
    let made = Made::of(job);
    let sheets = sheets(&made, Language::English, PaperSize::A4);
    let html = sheets.html();
    assert!(!html.contains("<b>"));
    let mut pdf = Vec::new();
    sheets.pdf(&mut pdf).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
}

#[test]
fn the_same_board_gives_the_same_bytes() {
    let made = Made::of(job());
    let pdf = || {
        let mut bytes = Vec::new();
        sheets(&made, Language::English, PaperSize::Letter).pdf(&mut bytes).unwrap();
        bytes
    };
    assert_eq!(pdf(), pdf());
}

proptest! {
    /// Strips cut exactly to the printed stop leave the wanted count, whatever the rule.
    #[test]
    fn strips_cut_to_the_printed_figure_leave_the_wanted_count(
        count in 2i64..40, width in 15_000i64..60_000, slack in 0i64..30_000, kerf in 1_000i64..4_000, power in 1u32..8,
    ) {
        let um = Length::from_micrometres;
        let (width, kerf) = (um(width), um(kerf));
        let length = width * count + kerf * (count - 1) + um(slack);
        let rule = Rule::inches(2_i64.pow(power)).unwrap();
        let printed = rule.round(width.mm(), Rounding::Down);
        prop_assert!(printed * count + kerf * (count - 1) <= length);
    }
}

/// What is said on the sheets, page by page.
fn pages_of(made: &Made) -> Vec<String> {
    let sheets = sheets(made, Language::English, PaperSize::Letter);
    let one_space = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    sheets.pages.iter().map(|page| one_space(page.words().join(" "))).collect()
}

#[test]
fn each_go_has_clock_lines_of_its_own_before_the_steps() {
    let mut job = job();
    job.gluing.working = quarterturn_geometry::glue::Minutes(6.0);
    let made = Made::of(job);
    let goes: usize = made.numbers.shown("board.glue.goes").parse().unwrap();
    assert!(goes > 1);
    let pages = pages_of(&made);
    let page = pages.iter().find(|page| page.contains("Second glue-up")).unwrap();
    let step = page.find("Spread glue").unwrap();
    assert_eq!(page[..step].matches("Glue on at").count(), goes, "{page}");
    assert_eq!(page[..step].matches("Clamps off from").count(), goes, "{page}");
    assert!(page.contains("Working time") && page.contains("front end"), "{page}");
}

#[test]
fn a_panel_wider_than_the_planer_is_told_a_way_before_it_is_glued() {
    let told = |widest: &str| {
        let mut job = job();
        job.machines.planer.widest = common::inch(widest);
        pages_of(&Made::of(job)).into_iter().find(|page| page.contains(": first glue-up")).unwrap()
    };
    assert!(told("4").contains("two parts that both go through") && !told("20").contains("two parts"));
}

#[test]
fn what_the_wood_went_into_adds_up_as_shown() {
    for job in [job(), metric()] {
        let made = Made::of(job);
        let hundredths = |shown: &str| {
            let figure = shown.split(' ').next().unwrap();
            figure.replace('.', "").parse::<i64>().unwrap()
        };
        let sum = |start: &str| {
            let all = made.numbers.all().iter().filter(|n| n.key.starts_with(start));
            all.map(|n| hundredths(&n.shown)).sum::<i64>()
        };
        let used = hundredths(made.numbers.shown("lumber.used"));
        assert_eq!(sum("lumber.wood."), used);
        assert_eq!(sum("lumber.lost.") + sum("lumber.in the board"), used);
    }
}

/// English units and rests that German words haven't got; `in` is a word of both.
#[test]
fn no_english_unit_is_left_on_a_german_sheet() {
    const ENGLISH: [&str; 12] =
        ["in/min", "ft", "lb", "lbf", "oz", "in²", "in³", "lbf/in²", "full", "bare", "feet", "minute"];
    let made = Made::of(job());
    let programs: Vec<_> = made.programs().into_iter().map(|(c, _)| (c, Some("cut.ngc".to_owned()))).collect();
    let count = |language: Language| {
        let sheets = sheets_with(&made, &programs, language, PaperSize::A4);
        let words = sheets.pages.iter().flat_map(|page| page.words()).collect::<Vec<_>>().join(" ");
        let bare = |word: &str| word.trim_matches(|c: char| ",;:().".contains(c)).to_owned();
        words.split_whitespace().map(bare).filter(|word| ENGLISH.contains(&word.as_str())).collect::<Vec<_>>()
    };
    assert!(count(Language::English).iter().any(|word| word == "in/min"));
    assert!(count(Language::German).is_empty(), "{:?}", count(Language::German));
}

/// A board foot is 144 in³ by definition; wood that isn't given rough is bought an eighth wider and thicker.
#[test]
fn what_to_buy_is_on_the_stock_list_in_rough_board_feet() {
    let made = Made::of(job());
    let laid = made.outcome.panels.iter().flat_map(|from| &from.panel.blanks);
    let inches = |length: Length| length.mm() / 25.4;
    let rough = laid.map(|laid| {
        let size = laid.lying();
        (inches(size.width) + 0.125) * (inches(size.thickness) + 0.125) * inches(size.length) / 144.0
    });
    let (all, numbers) = (rough.sum::<f64>(), made.numbers.all());
    let bought: Vec<_> = numbers.iter().filter(|n| n.key.starts_with("lumber.bought.")).collect();
    let shown = |n: &quarterturn_geometry::numbers::Number| n.shown.split(' ').next().unwrap().parse::<f64>().unwrap();
    let said: f64 = bought.iter().map(|n| shown(n)).sum();
    assert!(said >= all - 1e-9 && said < all + 0.01 * bought.len() as f64, "{said} for {all}");
    let stock = pages_of(&made).into_iter().find(|page| page.contains("Stock and milling list")).unwrap();
    for n in bought {
        let figure = n.shown.split(' ').next().unwrap();
        assert!(stock.contains("buy, rough") && stock.contains(figure), "{} {}", n.key, n.shown);
    }
}

fn metric() -> quarterturn_geometry::job::Job {
    let mut job = job();
    job.rule = Rule::millimetres(Length::from_micrometres(500)).unwrap();
    job
}

#[test]
fn the_card_that_goes_with_the_board_says_the_finished_size_and_what_it_is_finished_with() {
    let made = Made::of(metric());
    let card = pages_of(&made).into_iter().find(|page| page.contains("Care card")).unwrap();
    assert!(card.contains("Finished with") && !card.contains(" bare") && !card.contains(" full"), "{card}");
    for size in ["length", "width", "thickness"] {
        let shown = made.numbers.shown(&format!("care.{size}"));
        let elsewhere = made.numbers.shown(&format!("board.{size}"));
        assert_eq!(shown, elsewhere.trim_end_matches(" full").trim_end_matches(" bare"));
        assert!(card.contains(shown.trim_end_matches(" mm")), "{shown}: {card}");
    }
}

/// What is said of the saw in metric, with the strip told on the side that is asked for.
fn at_the_saw(side: StripSide) -> String {
    let mut job = metric();
    job.saw.side = side;
    let all = pages_of(&Made::of(job)).join(" ");
    let from = all.find("Mark the panel").unwrap();
    all[from..].split("Lay-up").next().unwrap().to_owned()
}

#[test]
fn the_stop_is_told_to_both_teeth_whichever_the_plan_names() {
    let [between, beyond] = [StripSide::StopSide, StripSide::FarSide].map(at_the_saw);
    let stops = |page: &str| {
        let from = page.find("Stop, as planned, to the near tooth").unwrap();
        page[from..].split("Strips then, as planned").next().unwrap().to_owned()
    };
    assert_eq!(stops(&between), stops(&beyond));
    assert!(stops(&between).contains("to the far tooth"), "{between}");
}

#[test]
fn three_strips_are_measured_before_the_others_are_cut() {
    let page = at_the_saw(StripSide::StopSide);
    let at = |said: &str| page.find(said).unwrap();
    let order =
        ["at every cut", "Cut three strips", "Number each strip", "Measured: the first three", "Then cut the other"]
            .map(at);
    assert!(order.is_sorted(), "{page}");
    assert!(page.contains("Less than planned"), "{page}");
}

/// Where a face is levelled by hand its program and the sheet of that are named; a board on edge is seen from the side on its
/// own sheet, with what the plan knows of nut and spindle.
#[test]
fn levelling_names_its_programs_and_a_board_on_edge_is_seen_along_the_edge() {
    let mut job = job();
    let bit =
        Bit { corner_radius: Length::ZERO, stick_out: Some(common::inch("1 1/4")), ..job.handholds[0].bit.clone() };
    job.surfacing = Some(Surfacing { bit: bit.clone(), faces: vec![Face::Upper, Face::Lower], panels: true });
    job.handholds[0].bit.stick_out = bit.stick_out;
    let cnc = job.cnc.as_mut().unwrap();
    cnc.nut = Some(common::inch("7/8"));
    let made = |spindle: Option<Spindle>| {
        let mut job = job.clone();
        job.cnc.as_mut().unwrap().spindle = spindle;
        Made::of(job)
    };
    let said = |made: &Made, language: Language| {
        let name = |i: usize| format!("program-{i}.ngc");
        let all = made.job.cuttings(made.board()).into_iter().enumerate();
        let programs: Vec<_> = all.map(|(i, cutting)| (cutting, Some(name(i)))).collect();
        let sheets = sheets_with(made, &programs, language, PaperSize::A4);
        let words = sheets.pages.iter().flat_map(|page| page.words()).collect::<Vec<_>>().join(" ");
        for (i, (cutting, _)) in programs.iter().enumerate().filter(|(_, (cutting, _))| cutting.cut.levels()) {
            // Its step, and the sheet's title there and on the sheet.
            assert!(words.matches(&name(i)).count() >= 3, "{} {}", cutting.name, name(i));
        }
        let edges = programs.iter().filter(|(cutting, _)| matches!(cutting.up, Up::Edge(_))).count();
        (words, edges)
    };
    let known = made(Some(Spindle { diameter: common::inch("2 1/2"), above_nut: common::inch("1") }));
    let (words, edges) = said(&known, Language::English);
    assert!(edges > 0);
    assert_eq!(words.matches("Seen along the edge").count(), edges, "{words}");
    assert_eq!(words.matches("spindle's body").count(), edges, "{words}");
    assert!(words.contains("On the CNC instead, the upper face: program-"), "{words}");
    let (words, _) = said(&known, Language::German);
    assert!(words.contains("Spindelkörper") && words.contains("Stattdessen auf der CNC, Oberseite: "), "{words}");
    let (words, _) = said(&made(None), Language::English);
    assert!(words.contains("spindle: not given") && !words.contains("spindle's body"), "{words}");
}
