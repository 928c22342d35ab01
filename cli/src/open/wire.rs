//! What the page sends, and the types of everything that passes between them: a test holds `cli/page/wire.d.ts` to them.

use super::edits::Edit;
use super::told::Told;
use serde::{Deserialize, Serialize};

/// An edit that is asked for.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub(super) struct AskedEdit {
    /// Which text it is to be made in.
    pub(super) revision: u32,
    pub(super) edit: Edit,
}

/// Saving, as it is asked for.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub(super) struct AskedSave {
    /// Which text is to be saved.
    pub(super) revision: u32,
    /// The name of a new file; empty for the plan's own.
    pub(super) name: String,
}

/// Why something is not done.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub(super) struct Refusal {
    pub(super) told: Vec<Told>,
}

#[cfg(test)]
mod tests {
    use super::super::files::MadeShown;
    use super::super::shown::{Shown, after::After};
    use super::*;
    use std::collections::BTreeMap;
    use std::path::Path;
    use ts_rs::{Config, TS, TypeVisitor};

    /// Every type that a type is made of, by name.
    struct All<'c>(BTreeMap<String, String>, &'c Config);

    impl TypeVisitor for All<'_> {
        fn visit<T: TS + 'static + ?Sized>(&mut self) {
            if T::output_path().is_some() && !self.0.contains_key(&T::ident(self.1)) {
                self.0.insert(T::ident(self.1), T::decl(self.1));
                T::visit_dependencies(self);
            }
        }
    }

    /// `BLESS=1` writes the file anew.
    #[test]
    fn both_sides_have_the_same_types() {
        let config = Config::default();
        let mut all = All(BTreeMap::new(), &config);
        all.visit::<AskedEdit>();
        all.visit::<AskedSave>();
        all.visit::<Refusal>();
        all.visit::<Shown>();
        all.visit::<After>();
        all.visit::<MadeShown>();
        let head = "// What passes between the page and the program. Made from the types in cli/src/open by its test: BLESS=1.\n";
        let types: Vec<String> = all.0.values().map(|decl| format!("export {decl}\n")).collect();
        let made = [head, &types.join("\n")].join("\n");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("page/wire.d.ts");
        if std::env::var_os("BLESS").is_some() {
            std::fs::write(&path, &made).unwrap();
        }
        let there = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(there == made, "cli/page/wire.d.ts is not what the types say: run this test with BLESS=1");
    }
}
