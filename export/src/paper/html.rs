//! Pages as one HTML file that prints the same as the PDF: one sheet of paper for each page, the font within.
//!
//! Must not know what is on a page.

use super::page::Page;
use super::svg;
use crate::ink::mm;
use crate::lettering;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

/// The file's text; `language` is its ISO 639-1 code.
#[must_use]
pub fn text(pages: &[Page], title: &str, language: &str) -> String {
    let [wide, high] = pages.first().map_or([0.0; 2], |page| page.size);
    let title = lettering::plain(title, 200).replace('&', "&amp;").replace('<', "&lt;");
    let font = STANDARD.encode(lettering::FONT);
    // A section is a hair lower than its sheet, so that rounding never spills it onto another.
    let mut html = format!(
        "<!doctype html>\n<html lang=\"{language}\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n\
         @font-face {{ font-family: \"DejaVu Sans\"; src: url(data:font/ttf;base64,{font}) }}\n\
         @page {{ size: {w}mm {h}mm; margin: 0 }}\n\
         body {{ margin: 0; background: #888 }}\n\
         section {{ width: {w}mm; height: {less}mm; overflow: hidden; margin: 4mm auto }}\n\
         svg {{ display: block }}\n\
         @media print {{ body {{ background: none }} section {{ margin: 0; break-after: page }} section:last-child {{ break-after: auto }} }}\n\
         </style>\n</head>\n<body>\n",
        w = mm(wide),
        h = mm(high),
        less = mm(high - 0.2),
    );
    for page in pages {
        html.push_str("<section>\n");
        html.push_str(&svg::page(page));
        html.push_str("</section>\n");
    }
    html.push_str("</body>\n</html>\n");
    html
}
