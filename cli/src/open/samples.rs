//! What a board may be begun from where there is no plan yet. All wood in it is invented.

use crate::plan::STARTER;

/// The smallest plan that runs: one strip of one wood, to lay more beside it.
pub(super) const EMPTY: &str = include_str!("empty.toml");

/// Name and text of each.
pub(super) const ALL: [(&str, &str); 8] = [
    ("an empty bench", EMPTY),
    ("walnut and maple, explained", STARTER),
    ("walnut diamonds", include_str!("../../../samples/walnut-diamonds.toml")),
    ("ash chevrons", include_str!("../../../samples/ash-chevrons.toml")),
    ("brick bond", include_str!("../../../samples/brick-bond.toml")),
    ("cherry, by CNC", include_str!("../../../samples/cherry-by-cnc.toml")),
    ("maple with every cut", include_str!("../../../samples/maple-every-cut.toml")),
    ("traced walnut", include_str!("../../../samples/traced-walnut.toml")),
];

/// The text of this name.
pub(super) fn text(name: &str) -> Option<&'static str> {
    ALL.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
}

#[cfg(test)]
mod tests {
    use super::ALL;
    use crate::plan;
    use quarterturn_geometry::check::{can_be_made, findings};

    #[test]
    fn every_one_is_a_plan_that_can_be_made() {
        for (name, text) in ALL {
            let job = plan::read(text, name).unwrap().job;
            assert!(can_be_made(&findings(&job, &job.work())), "{name}");
            assert_eq!(super::text(name), Some(text));
        }
        assert_eq!(super::text("no such"), None);
    }
}
