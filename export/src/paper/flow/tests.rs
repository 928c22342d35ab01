//! What stays together on a page, and what joins a page.

use super::*;
use crate::words::Language;

const A4: [f64; 2] = [210.0, 297.0];

fn flowing(words: &Words) -> Flow<'_> {
    let mut flow = Flow::new(words, "board".into(), A4);
    flow.sheet_of("first".into());
    flow
}

#[test]
fn a_heading_stands_on_the_page_of_what_is_under_it() {
    let words = Words::of(Language::English);
    let mut flow = flowing(&words);
    flow.skip(flow.left() - 30.0);
    flow.heading_of("under");
    flow.take(40.0);
    assert_eq!(flow.pages.len(), 2);
    let on = |page: usize| flow.pages[page].words().concat();
    assert!(!on(0).contains("under") && on(1).contains("under"), "{} / {}", on(0), on(1));
}

#[test]
fn a_picture_stands_with_what_is_said_of_it() {
    let words = Words::of(Language::English);
    let mut flow = flowing(&words);
    flow.skip(flow.left() - 52.0);
    flow.together(|flow| {
        flow.take(50.0);
        flow.paragraph("said of it", Style::body(), 0.0);
    });
    assert_eq!(flow.pages.len(), 2);
    assert!(flow.y < 100.0 && flow.y > 50.0 + MARGIN, "{}", flow.y);
}

#[test]
fn a_short_sheet_goes_on_below_the_one_before_and_a_long_one_begins_a_page() {
    let words = Words::of(Language::English);
    let mut flow = flowing(&words);
    let sheet = |high: f64| {
        move |flow: &mut Flow| {
            flow.sheet_of("next".into());
            flow.take(high);
        }
    };
    flow.fitted(true, &sheet(60.0));
    assert_eq!(flow.pages.len(), 1);
    assert!(flow.pages[0].words().concat().contains("next"));
    flow.fitted(true, &sheet(220.0));
    flow.fitted(false, &sheet(1.0));
    assert_eq!(flow.pages.len(), 3);
}
