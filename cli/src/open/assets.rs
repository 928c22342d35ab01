//! The files of the page, held in the program: no file is opened to serve them, so that no path leads anywhere else.

use super::http::Response;

const STYLE: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

/// Name, kind, bytes.
type Asset = (&'static str, &'static str, &'static [u8]);

/// Every file of the page. The first one is the page itself.
const ASSETS: &[Asset] = &[
    ("", "text/html; charset=utf-8", include_bytes!("../../page/index.html")),
    ("page.css", STYLE, include_bytes!("../../page/page.css")),
    ("board.css", STYLE, include_bytes!("../../page/board.css")),
    ("place.css", STYLE, include_bytes!("../../page/place.css")),
    ("narrow.css", STYLE, include_bytes!("../../page/narrow.css")),
    ("mark.svg", "image/svg+xml", include_bytes!("../../page/mark.svg")),
    ("bench.js", SCRIPT, include_bytes!("../../page/bench.js")),
    ("blanks.js", SCRIPT, include_bytes!("../../page/blanks.js")),
    ("dom.js", SCRIPT, include_bytes!("../../page/dom.js")),
    ("extras.js", SCRIPT, include_bytes!("../../page/extras.js")),
    ("file.js", SCRIPT, include_bytes!("../../page/file.js")),
    ("hand.js", SCRIPT, include_bytes!("../../page/hand.js")),
    ("hints.js", SCRIPT, include_bytes!("../../page/hints.js")),
    ("main.js", SCRIPT, include_bytes!("../../page/main.js")),
    ("photos.js", SCRIPT, include_bytes!("../../page/photos.js")),
    ("picture.js", SCRIPT, include_bytes!("../../page/picture.js")),
    ("place.js", SCRIPT, include_bytes!("../../page/place.js")),
    ("say.js", SCRIPT, include_bytes!("../../page/say.js")),
    ("strips.js", SCRIPT, include_bytes!("../../page/strips.js")),
    ("talk.js", SCRIPT, include_bytes!("../../page/talk.js")),
];

/// The file of this name.
pub(super) fn asset(name: &str) -> Option<Response> {
    ASSETS.iter().find(|(known, ..)| *known == name).map(|(_, kind, bytes)| Response::asset(kind, bytes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    /// Files that tools read and the page doesn't.
    const NOT_SERVED: [&str; 1] = ["wire.d.ts"];

    #[test]
    fn every_file_of_the_page_is_served() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("page");
        let there = std::fs::read_dir(folder).unwrap().map(|file| file.unwrap().file_name().into_string().unwrap());
        let there: BTreeSet<String> = there.filter(|name| !NOT_SERVED.contains(&name.as_str())).collect();
        let name = |name: &str| if name.is_empty() { "index.html".to_owned() } else { name.to_owned() };
        let served: BTreeSet<String> = ASSETS.iter().map(|asset| name(asset.0)).collect();
        assert_eq!(there, served);
    }

    #[test]
    fn the_page_has_nothing_inline_and_nothing_from_elsewhere() {
        for (name, _, bytes) in ASSETS {
            let text = std::str::from_utf8(bytes).unwrap();
            for never in ["http://", "https://", "//cdn", "javascript:", "eval(", "innerHTML"] {
                assert!(!text.replace("http://www.w3.org/2000/svg", "").contains(never), "{name} has {never}");
            }
        }
        let page = std::str::from_utf8(ASSETS[0].2).unwrap();
        for never in ["<style", " style=", " onclick=", " onload=", "<script>"] {
            assert!(!page.contains(never), "{never}");
        }
    }
}
