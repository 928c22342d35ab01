//! Where the plan's clamps and stops lie, as drawings say it. Must not judge them.

use quarterturn_geometry::job::Job;
use quarterturn_geometry::measure::Length;
use quarterturn_geometry::path::Up;

/// Each clamp of the side that is up, by its number: along which axis from where to where, from the datum, and Z at its top.
/// Nothing where there is none; without words, so that it does in any language: `1: X 15 … 55, Z -15`.
pub(crate) fn places(job: &Job, up: Up) -> Option<String> {
    let cnc = job.cnc.as_ref()?;
    let span =
        |axis: &str, from: Length, to: Length| format!("{axis} {} … {}", job.rule.write(from), job.rule.write(to));
    let top = |above: Length| format!("Z {}", job.rule.write(above));
    let all: Vec<String> = match up {
        Up::Edge(_) => cnc.clamps.iter().map(|c| format!("{}, {}", span("X", c.from, c.to), top(c.above))).collect(),
        Up::Face(_) => {
            let place = |c: &quarterturn_geometry::job::FlatClamp| {
                format!("{}, {}, {}", span("X", c.from[0], c.to[0]), span("Y", c.from[1], c.to[1]), top(c.above))
            };
            cnc.flat_clamps.iter().map(place).collect()
        }
    };
    let numbered = all.iter().enumerate().map(|(i, place)| format!("{}: {place}", i + 1));
    (!all.is_empty()).then(|| numbered.collect::<Vec<_>>().join("; "))
}
