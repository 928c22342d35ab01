//! Checks of what the photographs of blanks' ends give.

use super::Kind::{Note, TakeCare};
use super::{Finding, Look, Subject, found};
use crate::stock::{Blank, alike};
use crate::wood::{Photographs, RingsSeen};

pub(super) fn find(look: &Look, all: &mut Vec<Finding>) {
    for (i, from) in look.outcome.panels.iter().enumerate() {
        let blanks: Vec<&Blank> = from.panel.blanks.iter().map(|laid| &laid.blank).collect();
        all.extend(not_followed(i, &blanks));
        all.extend(unsure(i, &blanks));
    }
    let blanks = look.outcome.panels.iter().flat_map(|from| &from.panel.blanks).map(|laid| &laid.blank);
    let blanks: Vec<&Blank> = blanks.collect();
    all.extend(light_assumed(&blanks));
    all.extend(differ(look, &blanks));
}

/// Letters of the photographed blanks of which that holds.
fn letters<'a>(blanks: &[&'a Blank], holds: impl Fn(&Photographs) -> bool) -> Vec<&'a str> {
    blanks.iter().filter(|b| b.figure.photographs().is_some_and(&holds)).map(|b| b.letter.as_str()).collect()
}

fn not_followed(i: usize, blanks: &[&Blank]) -> Option<Finding> {
    let why =
        |blank: &&Blank| Some(format!("{}: {}", blank.letter, blank.figure.photographs()?.not_followed.as_ref()?));
    let whys: Vec<String> = blanks.iter().filter_map(why).collect();
    if whys.is_empty() {
        return None;
    }
    let says = format!(
        "{}. Between its ends the picture of that wood is each end's photograph gone straight on, and nothing of it is \
         promised",
        whys.join("; ")
    );
    let mends = "trace the rings of those ends by hand, beside the photograph; the same name at both ends is the same \
                 ring"
        .to_owned();
    Some(found("photographs not followed", TakeCare, Subject::Panel(i), says, mends))
}

fn unsure(i: usize, blanks: &[&Blank]) -> Option<Finding> {
    let all = letters(blanks, |photographs| photographs.not_followed.is_none() && photographs.unsure());
    if all.is_empty() {
        return None;
    }
    let least = |of: fn(&RingsSeen) -> f64| {
        let ends = blanks.iter().filter(|b| all.contains(&b.letter.as_str())).filter_map(|b| b.figure.photographs());
        ends.flat_map(|p| p.ends.iter().flatten()).map(|end| of(&end.rings)).fold(1.0, f64::min)
    };
    let confidence = least(|rings| match rings {
        RingsSeen::Found { confidence, .. } => *confidence,
        _ => 1.0,
    });
    let sense = least(|rings| match rings {
        RingsSeen::Found { sense, .. } => *sense,
        _ => 1.0,
    });
    let says = format!(
        "the rings found in photographs of {} are not clear (confidence {confidence:.2}, inside from outside {sense:.2} \
         of 1): no single rings are promised of that wood",
        all.join(", ")
    );
    let mends = "plane or sand the ends and photograph them again in slanting light, or trace their rings".to_owned();
    Some(found("rings in photographs unsure", Note, Subject::Panel(i), says, mends))
}

fn light_assumed(blanks: &[&Blank]) -> Option<Finding> {
    let all = letters(blanks, |photographs| photographs.tones().assumed);
    if all.is_empty() {
        return None;
    }
    let says = format!(
        "photographs of {} show no card that was pointed at: their light and exposure are taken to be right, so that \
         a difference of colour may be the light's",
        all.join(", ")
    );
    let mends = "photograph a white card beside each end, and point at it with card = [x, y, width, height]".to_owned();
    Some(found("light is assumed", Note, Subject::Board, says, mends))
}

fn differ(look: &Look, blanks: &[&Blank]) -> Option<Finding> {
    let threshold = look.job.limits.colour;
    let pairs = alike::pairs(blanks, threshold);
    let far = |part| alike::farthest(&pairs, part).filter(|pair| pair.difference.delta > threshold.value());
    let say = |pair: alike::Pair| {
        let reads = pair.difference.reading.sentence_of(pair.part, pair.first, pair.second);
        let light = if pair.assumed { ", if the light was the same" } else { "" };
        format!("{:.1} in CIEDE2000 apart: {reads}{light}", pair.difference.delta)
    };
    let says: Vec<String> = ["sapwood", "heartwood"].into_iter().filter_map(far).map(say).collect();
    if says.is_empty() {
        return None;
    }
    let says = format!("{} ({:.1} is the limit)", says.join("; "), threshold.value());
    let mends = "lay blanks alike on both sides of the pattern's middle, or put up with it: limits.colour".to_owned();
    Some(found("blanks differ in colour", TakeCare, Subject::Board, says, mends))
}
