//! `[[seasons]]`.

use super::reader::Section;
use quarterturn_geometry::movement::{Air, Humidity, Season, Seasons};

/// The seasons as written; the usual two where there are none.
pub(super) fn seasons(top: &Section<'_>) -> Seasons {
    let written = top.tables("seasons").unwrap_or_default();
    if written.is_empty() {
        return Seasons::default();
    }
    Seasons { all: written.iter().filter_map(season).collect(), assumed: false }
}

fn season(section: &Section<'_>) -> Option<Season> {
    let (name, temperature, humidity) =
        (section.text("name"), section.temperature("temperature"), section.number("humidity"));
    let air = Air { temperature: temperature?, humidity: Humidity(humidity? / 100.0) };
    Some(Season { name: name?, air })
}
