//! What no shop could do and no memory could hold: told before anything is worked out.

use super::panels::Panels;
use super::reader::Section;
use super::table::MOST_STRIPS;
use quarterturn_geometry::job::Job;
use quarterturn_geometry::measure::Length;

/// The most pieces in one board.
const MOST_PIECES: i64 = 20_000;
/// The longest and the widest board: its picture must fit into memory.
const LARGEST: Length = Length::from_micrometres(3_000_000);

/// Reports a plan whose board would have too many strips or pieces, or be larger than any shop.
pub(super) fn check(top: &Section<'_>, job: &Job, panels: &Panels<'_>) {
    let counts: Vec<i64> = (0..job.panels.len()).map(|i| strips_at_most(job, i)).collect();
    let pieces: i64 = counts.iter().zip(&job.panels).map(|(count, panel)| count * panel.blanks.len() as i64).sum();
    let length: Length =
        counts.iter().zip(&job.panels).map(|(count, panel)| thickness(panel.blanks.iter()) * *count).sum();
    let what = if counts.iter().sum::<i64>() > MOST_STRIPS as i64 {
        format!("more than {MOST_STRIPS} strips would come out")
    } else if pieces > MOST_PIECES {
        format!("the board would have more than {MOST_PIECES} pieces")
    } else if length > LARGEST {
        "the strips side by side would be longer than 3 m".to_owned()
    } else if let Some(section) = too_wide(job, panels) {
        let what = "the panel would be wider than 3 m".to_owned();
        return section.report("order", what, "lay fewer blanks".to_owned());
    } else {
        return;
    };
    let strips = top.table("strips");
    let name = ["width", "board_thickness", "count"].into_iter().find(|name| strips.has(name)).unwrap_or("count");
    strips.report(name, what, "cut fewer or wider strips".to_owned());
}

/// How many strips a panel gives, or a few more.
fn strips_at_most(job: &Job, i: usize) -> i64 {
    let counted = job.measured.strips.get(i).copied().flatten();
    let panel = &job.panels[i];
    if let Some(count) = counted.or(panel.count).or(job.strips.count) {
        return count;
    }
    let flattened = job.finishing.upper + job.finishing.lower;
    let width = job.strips.width.or_else(|| job.strips.board_thickness.map(|t| t + flattened));
    let reach = panel.blanks.iter().map(|laid| laid.start + laid.blank.size.length).min().unwrap_or_default();
    // Where only other panels have a count, their width is not known yet: the narrowest strip there is.
    reach.whole_parts(width.unwrap_or(Length::from_micrometres(1000)) + job.saw.kerf) + 1
}

fn thickness<'a>(laid: impl Iterator<Item = &'a quarterturn_geometry::stock::LaidBlank>) -> Length {
    laid.map(|laid| laid.lying().thickness).min().unwrap_or_default()
}

fn too_wide<'a, 'b>(job: &Job, panels: &'b Panels<'a>) -> Option<&'b Section<'a>> {
    let wide = |i: usize| job.panels[i].blanks.iter().map(|laid| laid.lying().width).sum::<Length>() > LARGEST;
    (0..job.panels.len()).find(|i| wide(*i)).and_then(|i| panels.sections.get(i))
}
